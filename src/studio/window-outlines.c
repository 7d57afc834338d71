/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Choosing a map whose outlines are brought in, and what they are. */

#include "config.h"

#include "studio/window-private.h"

#include "base/file.h"
#include "studio/outlines.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

#define MOST_BYTES (16 * 1024 * 1024)

typedef struct
{
  BlWindow *window;
  GtkFileChooserNative *native;
} Choice;

static void
tell (BlWindow *self, const BlBroughtIn *brought)
{
  g_autofree char *beds
      = g_strdup_printf (ngettext ("%u bed", "%u beds", brought->beds), brought->beds);
  g_autofree char *features = g_strdup_printf (
      ngettext ("%u feature", "%u features", brought->features), brought->features);
  g_autofree char *words = g_strdup_printf (_("Brought in: %s, %s"), beds, features);

  bl_window_say (self, words, FALSE, NULL, NULL);
}

static void
bring_in (BlWindow *self, const char *path, BlFeatureKind kind)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  gsize length = 0;
  BlBroughtIn brought;

  if (!bl_file_read (path, MOST_BYTES, &text, &length, &error)
      || !bl_board_bring_in_outlines (self->board, text, (gssize) length, kind, &brought, &error))
    {
      if (error != NULL)
        bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  tell (self, &brought);
  bl_canvas_fit (BL_CANVAS (self->canvas));
}

static void
responded_cb (GtkNativeDialog *native, int response, Choice *choice)
{
  GtkFileChooser *chooser = GTK_FILE_CHOOSER (native);
  g_autoptr (GFile) file
      = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (chooser) : NULL;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  const char *option = gtk_file_chooser_get_choice (chooser, "kind");
  BlFeatureKind kind = BL_FEATURE_N;

  if (option == NULL || !bl_feature_kind_from_name (option, &kind))
    kind = BL_FEATURE_N;
  if (path != NULL && choice->window->board != NULL)
    bring_in (choice->window, path, kind);
  else if (file != NULL)
    bl_window_say (choice->window,
                   _ ("Only files on this machine can be used: copy it here first"), TRUE, NULL,
                   NULL);
  g_object_unref (choice->native);
  g_object_unref (choice->window);
  g_free (choice);
}

void
bl_window_choose_outlines (BlWindow *self)
{
  Choice *choice = g_new0 (Choice, 1);
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  const char *ids[BL_FEATURE_N + 2] = { "bed" }, *words[BL_FEATURE_N + 2] = { _("Beds") };
  guint n = 1;

  for (int kind = 0; kind < BL_FEATURE_N; kind++)
    if (kind != BL_FEATURE_IN_FRONT)
      {
        ids[n] = bl_feature_kind_name ((BlFeatureKind) kind);
        words[n++] = bl_feature_title ((BlFeatureKind) kind);
      }
  choice->window = g_object_ref (self);
  choice->native
      = gtk_file_chooser_native_new (_("Bring in outlines"), GTK_WINDOW (self),
                                     GTK_FILE_CHOOSER_ACTION_OPEN, _("Bring in"), NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (choice->native), TRUE);
  gtk_file_filter_add_suffix (filter, "geojson");
  gtk_file_filter_add_suffix (filter, "json");
  gtk_file_filter_set_name (filter, _("Maps in projected metres (GeoJSON)"));
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (choice->native), filter);
  gtk_file_chooser_add_choice (GTK_FILE_CHOOSER (choice->native), "kind", _("The polygons are"),
                               ids, words);
  gtk_file_chooser_set_choice (GTK_FILE_CHOOSER (choice->native), "kind", "bed");
  g_signal_connect (choice->native, "response", G_CALLBACK (responded_cb), choice);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (choice->native));
}
