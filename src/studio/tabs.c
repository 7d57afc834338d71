/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The head of the canvas: the alternatives as paper tabs, photo or plan, nearer and farther. */

#include "config.h"

#include "studio/form.h"
#include "studio/icon.h"
#include "studio/strips.h"

#include <glib/gi18n.h>

#define BL_TYPE_TABS (bl_tabs_get_type ())
G_DECLARE_FINAL_TYPE (BlTabs, bl_tabs, BL, TABS, BlPart)

struct _BlTabs
{
  BlPart parent_instance;

  GtkWidget *tabs, *popover, *name, *views;
  gboolean terse;
  int wordy; /* the width that all of it wants */
  guint suit; /* source */
};

G_DEFINE_FINAL_TYPE (BlTabs, bl_tabs, BL_TYPE_PART)

static void
update (BlPart *part, guint what)
{
  BlTabs *self = BL_TABS (part);
  const BlModel *model = bl_board_get_model (bl_part_get_board (part));

  if ((what & (BL_BOARD_MODEL | BL_BOARD_ALTERNATIVE)) == 0)
    return;
  bl_form_clear (self->tabs);
  for (guint i = 0; i < model->alternatives->len; i++)
    {
      const BlAlternative *alternative = g_ptr_array_index (model->alternatives, i);
      g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, alternative->id);
      g_autofree char *name = g_strdup_printf (_("Alternative %s"), alternative->name);
      GtkWidget *tab = gtk_toggle_button_new_with_label (alternative->name);
      GtkWidget *label = gtk_button_get_child (GTK_BUTTON (tab));

      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_max_width_chars (GTK_LABEL (label), 18);
      gtk_label_set_width_chars (GTK_LABEL (label),
                                 MIN (6, (int)g_utf8_strlen (alternative->name, -1)));
      gtk_widget_add_css_class (tab, "paper-tab");
      gtk_widget_set_tooltip_text (tab, alternative->idea != NULL && alternative->idea[0] != '\0'
                                          ? alternative->idea : name);
      bl_form_call (tab, name);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (tab), "win.alternative");
      gtk_actionable_set_action_target (GTK_ACTIONABLE (tab), "s", id);
      gtk_box_append (GTK_BOX (self->tabs), tab);
    }
}

static void
name_given_cb (BlTabs *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  g_autofree char *name = g_strstrip (g_strdup (bl_form_get_text (self->name)));

  if (name[0] == '\0')
    {
      bl_form_set_wrong (self->name, TRUE);
      return;
    }
  gtk_popover_popdown (GTK_POPOVER (self->popover));
  if (board != NULL)
    bl_board_rename_alternative (board, bl_board_get_alternative (board), name);
}

void
bl_tabs_rename (GtkWidget *tabs)
{
  BlTabs *self = BL_TABS (tabs);
  BlBoard *board = bl_part_get_board (BL_PART (self));
  const BlAlternative *alternative = board != NULL
    ? bl_model_alternative (bl_board_get_model (board), bl_board_get_alternative (board)) : NULL;

  if (alternative == NULL)
    return;
  bl_form_set_text (self->name, alternative->name);
  gtk_popover_popup (GTK_POPOVER (self->popover));
  gtk_widget_grab_focus (self->name);
}

/* Where there is no room for all, photo and plan are pictures without words and all stand closer. */
static void
suit_width (BlTabs *self, gboolean terse)
{
  self->terse = terse;
  for (GtkWidget *view = gtk_widget_get_first_child (self->views); view != NULL;
       view = gtk_widget_get_next_sibling (view))
    gtk_widget_set_visible (gtk_widget_get_last_child (gtk_button_get_child (GTK_BUTTON (view))),
                            !terse);
  if (terse)
    gtk_widget_add_css_class (GTK_WIDGET (self), "terse");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "terse");
}

static gboolean
suit_width_cb (gpointer data)
{
  BlTabs *self = data;

  self->suit = 0;
  suit_width (self, !self->terse);
  return G_SOURCE_REMOVE;
}

/* With words the head wants so much; remembered for when it is without. */
static gboolean
is_ill_suited (BlTabs *self, int width)
{
  int wanted;

  gtk_widget_measure (GTK_WIDGET (self), GTK_ORIENTATION_HORIZONTAL, -1, NULL, &wanted, NULL, NULL);
  if (!self->terse)
    self->wordy = wanted;
  return self->terse != (width < self->wordy);
}

static void
room_changed_cb (GtkDrawingArea *room, int width, int height, BlTabs *self)
{
  if (self->suit == 0 && is_ill_suited (self, gtk_widget_get_width (GTK_WIDGET (self))))
    self->suit = g_idle_add (suit_width_cb, self);
  gtk_popover_present (GTK_POPOVER (self->popover));
}

/* The empty room in the middle; it tells when it changes, which a box does not. */
static GtkWidget *
make_room (BlTabs *self)
{
  GtkWidget *room = gtk_drawing_area_new ();

  gtk_widget_set_hexpand (room, TRUE);
  gtk_widget_set_can_target (room, FALSE);
  g_signal_connect (room, "resize", G_CALLBACK (room_changed_cb), self);
  return room;
}

static void
bl_tabs_dispose (GObject *object)
{
  BlTabs *self = BL_TABS (object);

  g_clear_handle_id (&self->suit, g_source_remove);
  g_clear_pointer (&self->popover, gtk_widget_unparent);
  G_OBJECT_CLASS (bl_tabs_parent_class)->dispose (object);
}

static void
bl_tabs_class_init (BlTabsClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->dispose = bl_tabs_dispose;
}

static GtkWidget *
make_menu (void)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  g_autoptr (GMenu) more = g_menu_new ();
  GtkWidget *button = gtk_menu_button_new ();

  g_menu_append (menu, _("Copy of this alternative"), "win.copy-alternative");
  g_menu_append (menu, _("New, empty alternative"), "win.add-alternative");
  g_menu_append (more, _("Rename…"), "win.rename-alternative");
  g_menu_append (more, _("Delete this alternative"), "win.delete-alternative");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (more));
  bl_icon_put (button, "bl-add-symbolic");
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  gtk_widget_set_tooltip_text (button, _("Alternatives: add, copy, rename, delete"));
  bl_form_call (button, _("Alternatives: add, copy, rename, delete"));
  gtk_widget_add_css_class (button, "flat");
  return button;
}

static GtkWidget *
make_plan_menu (void)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  GtkWidget *button = gtk_menu_button_new ();

  g_menu_append (menu, _("Rings at mature spread"), "win.mature-spread");
  g_menu_append (menu, _("Key letters"), "win.labels");
  g_menu_append (menu, _("Grid"), "win.grid");
  g_menu_append (menu, _("Without colours"), "win.monochrome");
  g_menu_append (menu, _ ("Snow in winter"), "win.snow");
  g_menu_append (menu, _ ("Your own plan symbol…"), "win.take-symbol");
  g_menu_append (menu, _ ("Charts"), "win.charts");
  g_menu_append (menu, _("Loupe while measuring"), "win.loupe");
  bl_icon_put (button, "bl-settings-symbolic");
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  gtk_widget_set_tooltip_text (button, _("How the plan is drawn"));
  bl_form_call (button, _("How the plan is drawn"));
  gtk_widget_add_css_class (button, "flat");
  return button;
}

static GtkWidget *
make_divided_button (void)
{
  GtkWidget *button = gtk_toggle_button_new ();

  bl_icon_put (button, "bl-halves-symbolic");
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, _ ("Before and after, with a divider across the photo"));
  bl_form_call (button, _ ("Before and after"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.before-after");
  return button;
}

/* Many alternatives, or long names, scroll and leave the rest of the head its room. */
static GtkWidget *
scrolled (GtkWidget *tabs)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_EXTERNAL,
                                  GTK_POLICY_NEVER);
  gtk_scrolled_window_set_propagate_natural_width (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), tabs);
  return scroller;
}

static void
bl_tabs_init (BlTabs *self)
{
  GtkWidget *views = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_HORIZONTAL);
  gtk_widget_add_css_class (GTK_WIDGET (self), "head");
  self->tabs = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  gtk_widget_set_valign (self->tabs, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (self), scrolled (self->tabs));
  gtk_box_append (GTK_BOX (self), make_menu ());
  gtk_box_append (GTK_BOX (self), make_room (self));
  self->views = views;
  gtk_widget_add_css_class (views, "linked");
  gtk_widget_set_valign (views, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (views),
                  bl_form_hand ("bl-photo-symbolic", _ ("Photo"), "win.view", "photo"));
  gtk_box_append (GTK_BOX (views),
                  bl_form_hand ("bl-plan-symbolic", _ ("Plan"), "win.view", "plan"));
  gtk_box_append (GTK_BOX (self), views);
  gtk_box_append (GTK_BOX (self), make_divided_button ());
  gtk_box_append (GTK_BOX (self), make_plan_menu ());
  gtk_box_append (GTK_BOX (self),
                  bl_form_icon_button ("bl-zoom-out-symbolic", _ ("Farther"), "win.zoom-out"));
  gtk_box_append (GTK_BOX (self),
                  bl_form_icon_button ("bl-fit-symbolic", _ ("See the whole"), "win.fit"));
  gtk_box_append (GTK_BOX (self),
                  bl_form_icon_button ("bl-zoom-in-symbolic", _ ("Nearer"), "win.zoom-in"));

  self->popover = gtk_popover_new ();
  gtk_widget_set_parent (self->popover, GTK_WIDGET (self));
  gtk_popover_set_position (GTK_POPOVER (self->popover), GTK_POS_BOTTOM);
  self->name = bl_form_entry (NULL);
  gtk_popover_set_child (GTK_POPOVER (self->popover),
                         bl_form_field (_ ("Name of the alternative"), self->name));
  g_signal_connect_swapped (self->name, "activate", G_CALLBACK (name_given_cb), self);
}

GtkWidget *
bl_tabs_new (void)
{
  return g_object_new (BL_TYPE_TABS, NULL);
}
