/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small pieces of forms: headings, labelled fields, buttons for hands. */

#include "config.h"

#include "studio/form.h"

#include "studio/icon.h"

void
bl_form_call (GtkWidget *widget, const char *name)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

GtkWidget *
bl_form_heading (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, "heading");
  return label;
}

GtkWidget *
bl_form_text (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 30);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

GtkWidget *
bl_form_field (const char *text, GtkWidget *field)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_tooltip_text (label, text);
  gtk_widget_add_css_class (label, "field-label");
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), field);
  gtk_widget_set_hexpand (field, TRUE);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), field);
  return box;
}

GtkWidget *
bl_form_pair (GtkWidget *a, GtkWidget *b)
{
  GtkWidget *box = bl_form_line (10);

  gtk_grid_set_column_homogeneous (GTK_GRID (box), TRUE);
  gtk_widget_set_hexpand (a, TRUE);
  bl_form_line_add (box, a);
  bl_form_line_add (box, b);
  return box;
}

GtkWidget *
bl_form_entry (const char *placeholder)
{
  GtkWidget *entry = gtk_entry_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 6);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), placeholder);
  return entry;
}

GtkWidget *
bl_form_choice (const char *const *words)
{
  return gtk_drop_down_new_from_strings (words);
}

GtkWidget *
bl_form_switch (const char *text, GtkWidget **the_switch)
{
  GtkWidget *box = bl_form_line (10);
  GtkWidget *label = gtk_label_new (text);

  *the_switch = gtk_switch_new ();
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_set_valign (*the_switch, GTK_ALIGN_CENTER);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), *the_switch);
  bl_form_line_add (box, label);
  bl_form_line_add (box, *the_switch);
  return box;
}

static GtkWidget *
icon_and_word (const char *icon, const char *text)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 5);
  GtkWidget *label = gtk_label_new (text);

  gtk_box_append (GTK_BOX (box), bl_icon_image (icon));
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (label), (int) MIN (g_utf8_strlen (text, -1), 5));
  gtk_box_append (GTK_BOX (box), label);
  return box;
}

GtkWidget *
bl_form_button (const char *label, const char *icon, const char *action)
{
  GtkWidget *button = icon != NULL ? gtk_button_new () : gtk_button_new_with_label (label);

  if (icon != NULL)
    gtk_button_set_child (GTK_BUTTON (button), icon_and_word (icon, label));
  bl_form_call (button, label);
  if (action != NULL)
    gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

GtkWidget *
bl_form_icon_button (const char *icon, const char *name, const char *action)
{
  GtkWidget *button = gtk_button_new ();

  bl_icon_put (button, icon);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, name);
  bl_form_call (button, name);
  if (action != NULL)
    gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

GtkWidget *
bl_form_hand (const char *icon, const char *label, const char *action, const char *target)
{
  GtkWidget *button = gtk_toggle_button_new ();

  gtk_button_set_child (GTK_BUTTON (button), icon_and_word (icon, label));
  gtk_widget_add_css_class (button, "hand");
  bl_form_call (button, label);
  gtk_widget_set_tooltip_text (button, label);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", target);
  return button;
}

GtkWidget *
bl_form_line (guint spacing)
{
  GtkWidget *line = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (line), spacing);
  return line;
}

void
bl_form_line_add (GtkWidget *line, GtkWidget *child)
{
  gtk_grid_attach_next_to (GTK_GRID (line), child, NULL, GTK_POS_RIGHT, 1, 1);
}

GtkWidget *
bl_form_grid (int columns)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), columns > 2 ? 4 : 6);
  g_object_set_data (G_OBJECT (grid), "columns", GINT_TO_POINTER (columns));
  return grid;
}

void
bl_form_grid_add (GtkWidget *grid, GtkWidget *child)
{
  int columns = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (grid), "columns"));
  int n = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (grid), "children"));

  gtk_widget_set_hexpand (child, TRUE);
  gtk_grid_attach (GTK_GRID (grid), child, n % columns, n / columns, 1, 1);
  g_object_set_data (G_OBJECT (grid), "children", GINT_TO_POINTER (n + 1));
}

typedef struct
{
  BlCommitFunc commit;
  gpointer data;
  char *last;
} Commit;

static void
commit_free (gpointer data)
{
  Commit *commit = data;

  g_free (commit->last);
  g_free (commit);
}

static void
commit_now (GtkWidget *entry)
{
  Commit *commit = g_object_get_data (G_OBJECT (entry), "bl-commit");
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));

  if (commit == NULL || g_strcmp0 (commit->last, text) == 0)
    return;
  g_free (commit->last);
  commit->last = g_strdup (text);
  g_object_ref (entry);
  commit->commit (entry, commit->data);
  g_object_unref (entry);
}

static void
focus_left_cb (GtkEventController *controller)
{
  commit_now (gtk_event_controller_get_widget (controller));
}

void
bl_form_on_commit (GtkWidget *entry, BlCommitFunc func, gpointer data)
{
  Commit *commit = g_new0 (Commit, 1);
  GtkEventController *focus = gtk_event_controller_focus_new ();

  commit->commit = func;
  commit->data = data;
  commit->last = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));
  g_object_set_data_full (G_OBJECT (entry), "bl-commit", commit, commit_free);
  g_signal_connect (entry, "activate", G_CALLBACK (commit_now), NULL);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_left_cb), NULL);
  gtk_widget_add_controller (entry, focus);
}

void
bl_form_set_text (GtkWidget *entry, const char *text)
{
  Commit *commit = g_object_get_data (G_OBJECT (entry), "bl-commit");
  const char *now = gtk_editable_get_text (GTK_EDITABLE (entry));

  if (text == NULL)
    text = "";
  if (commit != NULL && g_strcmp0 (commit->last, now) != 0
      && (gtk_widget_get_state_flags (entry) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    return;
  if (!g_str_equal (now, text))
    gtk_editable_set_text (GTK_EDITABLE (entry), text);
  if (commit != NULL && g_strcmp0 (commit->last, text) != 0)
    {
      g_free (commit->last);
      commit->last = g_strdup (text);
    }
  bl_form_set_wrong (entry, FALSE);
}

const char *
bl_form_get_text (GtkWidget *entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry));
}

void
bl_form_set_wrong (GtkWidget *entry, gboolean wrong)
{
  if (wrong)
    gtk_widget_add_css_class (entry, "error");
  else
    gtk_widget_remove_css_class (entry, "error");
  if (wrong)
    gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                                 GTK_ACCESSIBLE_INVALID_TRUE, -1);
  else
    gtk_accessible_reset_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID);
}

void
bl_form_clear (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)) != NULL)
    {
      if (GTK_IS_GRID (box))
        gtk_grid_remove (GTK_GRID (box), child);
      else
        gtk_box_remove (GTK_BOX (box), child);
    }
}
