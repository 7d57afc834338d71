/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's commands of a person's own plan symbol: taking one in, and ours again. */

#include "config.h"

#include "studio/symbols.h"
#include "studio/window-private.h"
#include "studio/window-symbol.h"

#include <glib/gi18n.h>

typedef struct
{
  BlWindow *window;
  GtkFileChooserNative *native;
} Choice;

static const BlPlant *
in_hand (BlWindow *self)
{
  const BlPlant *plant = bl_board_plant_in_hand (self->board);

  if (plant == NULL)
    bl_window_say (self, _ ("Select a planting first: its plant gets the symbol"), FALSE, NULL,
                   NULL);
  return plant;
}

static void
take (BlWindow *self, const BlPlant *plant, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = bl_plant_name (plant), *sentence = NULL;

  if (!bl_board_take_symbol (self->board, plant, path, &error))
    {
      bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  sentence = g_strdup_printf (_ ("Plans draw %s by your symbol"), name);
  bl_window_say (self, sentence, FALSE, _ ("Take back"), "win.forget-symbol");
}

static void
responded_cb (GtkNativeDialog *native, int response, Choice *choice)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT
                             ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native)) : NULL;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  const BlPlant *plant = choice->window->board != NULL && path != NULL ? in_hand (choice->window)
                                                                       : NULL;

  if (plant != NULL)
    take (choice->window, plant, path);
  else if (file != NULL && path == NULL)
    bl_window_say (choice->window,
                   _ ("Only files on this machine can be used: copy it here first"), TRUE, NULL,
                   NULL);
  g_object_unref (choice->native);
  g_object_unref (choice->window);
  g_free (choice);
}

void
bl_window_choose_symbol (BlWindow *self)
{
  g_autoptr (GtkFileFilter) filter = NULL;
  Choice *choice;

  if (in_hand (self) == NULL)
    return;
  filter = g_object_ref_sink (gtk_file_filter_new ());
  choice = g_new0 (Choice, 1);
  choice->window = g_object_ref (self);
  choice->native = gtk_file_chooser_native_new (_ ("Take a plan symbol"), GTK_WINDOW (self),
                                                GTK_FILE_CHOOSER_ACTION_OPEN, _ ("Take it"), NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (choice->native), TRUE);
  gtk_file_filter_add_suffix (filter, "svg");
  gtk_file_filter_set_name (filter, _ ("Drawings (SVG)"));
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (choice->native), filter);
  g_signal_connect (choice->native, "response", G_CALLBACK (responded_cb), choice);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (choice->native));
}

void
bl_window_forget_symbol (BlWindow *self)
{
  const BlPlant *plant = in_hand (self);
  g_autofree char *name = plant != NULL ? bl_plant_name (plant) : NULL, *sentence = NULL;

  if (plant == NULL)
    return;
  sentence = g_strdup_printf (bl_board_forget_symbol (self->board, plant)
                                ? _ ("Plans draw %s by the symbol of its kind again")
                                : _ ("%s has no symbol of your own"), name);
  bl_window_say (self, sentence, FALSE, NULL, NULL);
}
