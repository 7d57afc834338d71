/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pane of warnings. */

#include "config.h"

#include "studio/form.h"
#include "studio/icon.h"
#include "studio/panes.h"
#include "studio/reckon.h"

#include <glib/gi18n.h>

/* Warnings. */

#define BL_TYPE_PANE_WARNINGS (bl_pane_warnings_get_type ())
G_DECLARE_FINAL_TYPE (BlPaneWarnings, bl_pane_warnings, BL, PANE_WARNINGS, BlPart)

struct _BlPaneWarnings
{
  BlPart parent_instance;

  GtkWidget *head, *box;
};

G_DEFINE_FINAL_TYPE (BlPaneWarnings, bl_pane_warnings, BL_TYPE_PART)

static void
show_cb (GtkButton *button, BlPaneWarnings *self)
{
  gint64 *id = g_object_get_data (G_OBJECT (button), "planting");

  bl_board_select (bl_part_get_board (BL_PART (self)), BL_PICK_PLANTING, *id, FALSE);
}

static void
swap_cb (GtkButton *button, BlPaneWarnings *self)
{
  bl_board_swap_plant (bl_part_get_board (BL_PART (self)),
                       g_object_get_data (G_OBJECT (button), "from"),
                       g_object_get_data (G_OBJECT (button), "to"));
}

static void
add_substitutes (BlPaneWarnings *self, GtkWidget *card, const BlFinding *finding)
{
  for (guint i = 0; finding->substitutes != NULL && i < finding->substitutes->len && i < 3; i++)
    {
      const BlSubstitute *substitute = &g_array_index (finding->substitutes, BlSubstitute, i);
      g_autofree char *spoken = g_strdup_printf (_("Use %s instead"), substitute->name);
      GtkWidget *button = bl_form_button (substitute->name, NULL, NULL);

      if (i == 0)
        gtk_box_append (GTK_BOX (card), bl_form_text (_("Would do instead:"), "field-label"));
      bl_form_call (button, spoken);
      gtk_widget_set_tooltip_text (button, substitute->change);
      gtk_widget_add_css_class (button, "substitute");
      gtk_label_set_ellipsize (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))),
                               PANGO_ELLIPSIZE_END);
      gtk_label_set_xalign (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))), 0);
      g_object_set_data_full (G_OBJECT (button), "from", g_strdup (finding->slug), g_free);
      g_object_set_data_full (G_OBJECT (button), "to", g_strdup (substitute->slug), g_free);
      g_signal_connect (button, "clicked", G_CALLBACK (swap_cb), self);
      gtk_box_append (GTK_BOX (card), button);
    }
}

/* "Unlikely to do well: purple coneflower" */
static char *
finding_title (BlPaneWarnings *self, const BlFinding *finding)
{
  static const char *const words[] = { N_("Caution"), N_("Unlikely to do well"), N_("Do not") };
  const BlModel *model = bl_board_get_model (bl_part_get_board (BL_PART (self)));
  const BlPlant *plant = finding->slug != NULL ? bl_model_plant (model, finding->slug) : NULL;
  const BlBed *bed = bl_model_bed (model, finding->bed_id);
  const char *about = plant != NULL ? bl_plant_common (plant, bl_say_window ()) : bed != NULL ? bed->name : NULL;

  return about != NULL ? g_strdup_printf ("%s: %s", _(words[finding->severity]), about)
                       : g_strdup (_(words[finding->severity]));
}

static GtkWidget *
finding_card (BlPaneWarnings *self, const BlFinding *finding)
{
  static const char *const icons[]
      = { "bl-note-symbolic", "bl-warning-symbolic", "bl-warning-symbolic" };
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4),
            *head = bl_form_line (8);
  g_autofree char *title = finding_title (self, finding);
  GtkWidget *severity = bl_form_text (title, "severity");

  gtk_widget_add_css_class (card, "card");
  if (finding->severity != BL_SEVERITY_CAUTION)
    gtk_widget_add_css_class (severity, "wrong");
  gtk_widget_set_hexpand (severity, TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (severity), 18);
  bl_form_line_add (head, bl_icon_image (icons[finding->severity]));
  bl_form_line_add (head, severity);
  if (finding->planting_id != 0)
    {
      GtkWidget *button = bl_form_button (_("Show"), NULL, NULL);

      g_object_set_data_full (G_OBJECT (button), "planting",
                              g_memdup2 (&finding->planting_id, sizeof finding->planting_id),
                              g_free);
      g_signal_connect (button, "clicked", G_CALLBACK (show_cb), self);
      gtk_widget_add_css_class (button, "flat");
      bl_form_line_add (head, button);
    }
  gtk_box_append (GTK_BOX (card), head);
  gtk_box_append (GTK_BOX (card), bl_form_text (finding->sentence, NULL));
  if (finding->source != NULL)
    gtk_box_append (GTK_BOX (card), bl_form_text (finding->source, "facts"));
  add_substitutes (self, card, finding);
  return card;
}

static void
update_warnings (BlPart *part, guint what)
{
  BlPaneWarnings *self = BL_PANE_WARNINGS (part);
  BlReckoning *reckoning;
  g_autofree char *head = NULL;
  guint n;

  if ((what & BL_BOARD_RECKON) == 0
      || (reckoning = bl_board_get_reckoning (bl_part_get_board (part))) == NULL)
    return;
  bl_form_clear (self->box);
  if (reckoning->fit == NULL)
    {
      gtk_label_set_text (GTK_LABEL (self->head), reckoning->fit_problem);
      return;
    }
  n = reckoning->fit->findings->len;
  head
      = n == 0
            ? g_strdup (_ ("No rule of ours speaks against this planting. Local codes and your own "
                           "judgement still do the last check."))
            : g_strdup_printf (ngettext ("%u warning", "%u warnings", n), n);
  gtk_label_set_text (GTK_LABEL (self->head), head);
  for (guint i = 0; i < n; i++)
    gtk_box_append (GTK_BOX (self->box),
                    finding_card (self, &g_array_index (reckoning->fit->findings, BlFinding, i)));
}

static void
bl_pane_warnings_class_init (BlPaneWarningsClass *klass)
{
  BL_PART_CLASS (klass)->update = update_warnings;
}

static void
bl_pane_warnings_init (BlPaneWarnings *self)
{
  self->head = bl_form_text (_("Working it out…"), "figure");
  gtk_box_append (GTK_BOX (self), self->head);
  self->box = bl_pane_scrolled (GTK_WIDGET (self));
  gtk_box_set_spacing (GTK_BOX (self->box), 10);
}

GtkWidget *
bl_pane_warnings_new (void)
{
  return g_object_new (BL_TYPE_PANE_WARNINGS, NULL);
}
