/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Printing: the paper is written as a PDF to a place of its own and handed to the printer as it is,
 * so that it prints exactly as it is given, at its true scale. */

#include "config.h"

#include "studio/papers-form.h"
#include "studio/sheets.h"
#include "studio/window-private.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <gtk/gtkunixprint.h>
#include <string.h>

#define MEDIA_BOX "/MediaBox [ 0 0 "

typedef struct
{
  BlWindow *window;
  BlGiveKind kind;
  BlPaperSize paper;
  char *folder, *path;
} Print;

static void
print_free (Print *print)
{
  g_unlink (print->path);
  g_rmdir (print->folder);
  g_clear_object (&print->window);
  g_free (print->folder);
  g_free (print->path);
  g_free (print);
}

static void
printed_cb (GtkPrintJob *job, gpointer data, const GError *error)
{
  Print *print = data;
  g_autofree char *words = NULL;

  if (error != NULL)
    words = g_strdup_printf (_ ("Not printed: %s"), error->message);
  else
    words = g_strdup_printf (_ ("Sent to the printer: %s"), bl_give_title (print->kind));
  bl_window_say (print->window, words, error != NULL, NULL, NULL);
}

static void
send (Print *print, GtkPrintUnixDialog *dialog)
{
  g_autoptr (GtkPrintSettings) settings = gtk_print_unix_dialog_get_settings (dialog);
  g_autoptr (GtkPrintJob) job
      = gtk_print_job_new (bl_give_title (print->kind),
                           gtk_print_unix_dialog_get_selected_printer (dialog),
                           settings,
                           gtk_print_unix_dialog_get_page_setup (dialog));
  g_autoptr (GError) error = NULL;

  if (gtk_print_job_set_source_file (job, print->path, &error))
    gtk_print_job_send (job, printed_cb, print, (GDestroyNotify) print_free);
  else
    {
      printed_cb (job, print, error);
      print_free (print);
    }
}

static void
answered_cb (GtkDialog *dialog, int response, Print *print)
{
  if (response == GTK_RESPONSE_OK)
    send (print, GTK_PRINT_UNIX_DIALOG (dialog));
  else
    print_free (print);
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* How large and which way up the paper was written. cairo writes a page's box in plain text. */
static gboolean
page_size (const char *path, double *width, double *height)
{
  g_autoptr (GMappedFile) file = g_mapped_file_new (path, FALSE, NULL);
  const char *bytes = file != NULL ? g_mapped_file_get_contents (file) : NULL, *box;
  g_autofree char *line = NULL;
  g_auto (GStrv) words = NULL;

  if (bytes == NULL)
    return FALSE;
  box = memmem (bytes, g_mapped_file_get_length (file), MEDIA_BOX, strlen (MEDIA_BOX));
  if (box == NULL)
    return FALSE;
  box += strlen (MEDIA_BOX);
  line = g_strndup (box, MIN (64, g_mapped_file_get_length (file) - (gsize) (box - bytes)));
  words = g_strsplit (g_strchug (line), " ", 3);
  if (g_strv_length (words) < 2)
    return FALSE;
  *width = g_ascii_strtod (words[0], NULL);
  *height = g_ascii_strtod (words[1], NULL);
  return *width > 0 && *height > 0;
}

/* The printer is to be told of the paper that was written, not of its own usual one. */
static void
state_paper (GtkPrintUnixDialog *dialog, Print *print)
{
  static const char *const names[BL_PAPER_N]
      = { [BL_PAPER_LETTER] = GTK_PAPER_NAME_LETTER, [BL_PAPER_TABLOID] = "na_ledger",
          [BL_PAPER_A4] = GTK_PAPER_NAME_A4, [BL_PAPER_A3] = GTK_PAPER_NAME_A3 };
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  GtkPaperSize *paper = gtk_paper_size_new (names[print->paper]);
  double width, height;

  if (page_size (print->path, &width, &height))
    gtk_page_setup_set_orientation (setup, width > height ? GTK_PAGE_ORIENTATION_LANDSCAPE
                                                          : GTK_PAGE_ORIENTATION_PORTRAIT);
  gtk_page_setup_set_paper_size_and_default_margins (setup, paper);
  gtk_print_unix_dialog_set_page_setup (dialog, setup);
  gtk_paper_size_free (paper);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Print *print = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = bl_give_finish (result, &error);
  GtkWidget *dialog;

  bl_window_end_job (print->window);
  if (path == NULL)
    {
      if (!bl_window_is_stopped (error))
        bl_window_say (print->window, error->message, TRUE, NULL, NULL);
      print_free (print);
      return;
    }
  dialog = gtk_print_unix_dialog_new (bl_give_title (print->kind), GTK_WINDOW (print->window));
  gtk_window_set_modal (GTK_WINDOW (dialog), TRUE);
  gtk_print_unix_dialog_set_manual_capabilities (
      GTK_PRINT_UNIX_DIALOG (dialog),
      /* As a file it can be a PDF and nothing else: that is how it was written. */
      GTK_PRINT_CAPABILITY_COPIES | GTK_PRINT_CAPABILITY_COLLATE | GTK_PRINT_CAPABILITY_GENERATE_PDF);
  state_paper (GTK_PRINT_UNIX_DIALOG (dialog), print);
  g_signal_connect (dialog, "response", G_CALLBACK (answered_cb), print);
  gtk_window_present (GTK_WINDOW (dialog));
}

void
bl_window_print (BlWindow *self, BlGiveKind kind)
{
  g_autoptr (GArray) ids = bl_sheet_compare_chosen (self->compare_sheet);
  g_autoptr (GError) error = NULL;
  g_autofree char *words = g_strdup_printf (_ ("Preparing to print: %s"), bl_give_title (kind));
  g_autoptr (BlPapersWishes) wishes
      = bl_papers_wishes_new (bl_app_get_settings (self->app), &error);
  g_autofree char *folder
      = wishes != NULL ? g_dir_make_tmp ("bedline-print-XXXXXX", &error) : NULL;
  Print *print;

  if (folder == NULL)
    {
      bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  if (!bl_window_begin_job (self, words))
    {
      g_rmdir (folder);
      return;
    }
  print = g_new0 (Print, 1);
  print->window = g_object_ref (self);
  print->kind = kind;
  print->paper = wishes->paper;
  print->path = g_build_filename (folder, "paper.pdf", NULL);
  print->folder = g_steal_pointer (&folder);
  bl_give_async (self->board, kind, print->path, ids, g_steal_pointer (&wishes), self->job,
                 &self->job_progress, written_cb, print);
}
