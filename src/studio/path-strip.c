/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The path: the stages from photo to proposal, how far each has come, and what is missing. */

#include "config.h"

#include "studio/form.h"
#include "studio/icon.h"
#include "studio/strips.h"

#include <glib/gi18n.h>

#define BL_TYPE_PATH_STRIP (bl_path_strip_get_type ())
G_DECLARE_FINAL_TYPE (BlPathStrip, bl_path_strip, BL, PATH_STRIP, BlPart)

struct _BlPathStrip
{
  BlPart parent_instance;

  GtkWidget *stones[BL_STAGE_N], *buttons[BL_STAGE_N];
  GtkWidget *missing;
};

G_DEFINE_FINAL_TYPE (BlPathStrip, bl_path_strip, BL_TYPE_PART)

const char *const bl_stage_names[]
    = { "photo", "known", "bed", "site", "plants", "compare", "give", NULL };

const char *
bl_stage_title (BlStage stage)
{
  static const char *const titles[] = { N_ ("Photo"),  N_ ("Known"),   N_ ("Bed"), N_ ("Site"),
                                        N_ ("Plants"), N_ ("Compare"), N_ ("Give") };

  return _(titles[stage]);
}

static void
update (BlPart *part, guint what)
{
  BlPathStrip *self = BL_PATH_STRIP (part);
  BlBoard *board = bl_part_get_board (part);
  static const char *const icons[] = { "bl-stone-open-symbolic", "bl-stone-part-symbolic",
                                       "bl-stone-done-symbolic" };
  g_autofree char *missing = NULL;
  BlStage stage;

  if ((what & (BL_BOARD_MODEL | BL_BOARD_STAGE | BL_BOARD_ALTERNATIVE)) == 0)
    return;
  for (int i = 0; i < BL_STAGE_N; i++)
    {
      int state = bl_board_stage_state (board, (BlStage) i);
      g_autofree char *name = NULL;
      g_autoptr (GdkPaintable) icon = NULL;

      icon = bl_icon_new (icons[state]);
      gtk_image_set_from_paintable (GTK_IMAGE (self->stones[i]), icon);
      name = g_strdup_printf ("%s: %s", bl_stage_title ((BlStage) i),
                              state == 2 ? _("done") : state == 1 ? _("begun") : _("open"));
      bl_form_call (self->buttons[i], name);
      gtk_widget_set_tooltip_text (self->buttons[i], name);
    }
  missing = bl_board_missing (board, &stage);
  gtk_button_set_label (GTK_BUTTON (self->missing), missing);
  gtk_widget_set_tooltip_text (self->missing, missing);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->missing), "s", bl_stage_names[stage]);
  gtk_label_set_ellipsize (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (self->missing))),
                           PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (self->missing))), 1);
}

static void
bl_path_strip_class_init (BlPathStripClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
}

static void
bl_path_strip_init (BlPathStrip *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_HORIZONTAL);
  gtk_widget_add_css_class (GTK_WIDGET (self), "path");
  for (int i = 0; i < BL_STAGE_N; i++)
    {
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      GtkWidget *button = gtk_toggle_button_new ();
      GtkWidget *title = gtk_label_new (bl_stage_title ((BlStage) i));

      gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
      gtk_widget_set_tooltip_text (button, bl_stage_title ((BlStage) i));
      self->stones[i] = bl_icon_image ("bl-stone-open-symbolic");
      gtk_box_append (GTK_BOX (box), self->stones[i]);
      gtk_box_append (GTK_BOX (box), title);
      gtk_button_set_child (GTK_BUTTON (button), box);
      gtk_widget_add_css_class (button, "flat");
      gtk_widget_add_css_class (button, "stone");
      gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.stage");
      gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", bl_stage_names[i]);
      gtk_box_append (GTK_BOX (self), button);
      self->buttons[i] = button;
    }
  self->missing = gtk_button_new_with_label ("");
  gtk_widget_add_css_class (self->missing, "flat");
  gtk_widget_add_css_class (self->missing, "missing");
  gtk_widget_set_hexpand (self->missing, TRUE);
  gtk_widget_set_halign (self->missing, GTK_ALIGN_END);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->missing), "win.stage");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->missing), "s", "photo");
  gtk_box_append (GTK_BOX (self), self->missing);
}

GtkWidget *
bl_path_strip_new (void)
{
  return g_object_new (BL_TYPE_PATH_STRIP, NULL);
}
