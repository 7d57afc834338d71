/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The banner: one sentence, perhaps an action, never a box in the way. */

#include "config.h"

#include "studio/form.h"
#include "studio/icon.h"
#include "studio/window-private.h"

#include <glib/gi18n.h>

#define NEWS_SECONDS 10

void
bl_window_hush (BlWindow *self)
{
  g_clear_handle_id (&self->banner_timeout, g_source_remove);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->banner), FALSE);
}

static gboolean
banner_timeout_cb (gpointer data)
{
  BlWindow *self = data;

  self->banner_timeout = 0;
  bl_window_hush (self);
  return G_SOURCE_REMOVE;
}

void
bl_window_say (
    BlWindow *self, const char *sentence, gboolean wrong, const char *label, const char *action)
{
  GtkWidget *box = gtk_revealer_get_child (GTK_REVEALER (self->banner));

  gtk_label_set_text (GTK_LABEL (self->banner_text), sentence);
  if (wrong)
    gtk_widget_add_css_class (box, "wrong-banner");
  else
    gtk_widget_remove_css_class (box, "wrong-banner");
  gtk_widget_set_visible (self->banner_action, label != NULL);
  if (label != NULL)
    {
      gtk_button_set_label (GTK_BUTTON (self->banner_action), label);
      gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (self->banner_action), action);
    }
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->banner), TRUE);
  g_clear_handle_id (&self->banner_timeout, g_source_remove);
  self->banner_timeout
      = g_timeout_add_seconds (NEWS_SECONDS * (wrong ? 2 : 1), banner_timeout_cb, self);
}

GtkWidget *
bl_window_make_banner (BlWindow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *close = bl_form_icon_button ("bl-remove-symbolic", _("Close this message"), NULL);

  self->banner = gtk_revealer_new ();
  self->banner_text = bl_form_text ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->banner_text), -1);
  gtk_widget_set_hexpand (self->banner_text, TRUE);
  self->banner_action = gtk_button_new_with_label ("");
  gtk_widget_add_css_class (box, "banner");
  gtk_box_append (GTK_BOX (box), bl_icon_image ("bl-note-symbolic"));
  gtk_box_append (GTK_BOX (box), self->banner_text);
  gtk_box_append (GTK_BOX (box), self->banner_action);
  gtk_box_append (GTK_BOX (box), close);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (bl_window_hush), self);
  gtk_revealer_set_child (GTK_REVEALER (self->banner), box);
  return self->banner;
}
