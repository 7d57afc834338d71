/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Printing to a file, by the print dialog itself: the pages that come out are those that were given, on
 * paper of the size that was wished for. What is counted and measured here is what poppler's pdfinfo says
 * of the file, not what we say of it. */

#include "config.h"

#include "design/sheet.h"
#include "studio/settings.h"
#include "studio/window-private.h"

#include <gtk/gtkunixprint.h>
#include <math.h>
#include <string.h>

#include "window-house.h"

static char *home;

static GtkPrintUnixDialog *
print_dialog (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l != NULL; l = l->next)
    if (GTK_IS_PRINT_UNIX_DIALOG (l->data))
      return l->data;
  return NULL;
}

static gboolean
is_asked (gpointer data)
{
  return print_dialog () != NULL;
}

static gboolean
has_printer (gpointer data)
{
  return gtk_print_unix_dialog_get_selected_printer (data) != NULL;
}

static gboolean
is_written (gpointer path)
{
  g_autofree char *out = NULL;
  gsize n = 0;

  return g_file_get_contents (path, &out, &n, NULL) && n > 6 && strstr (out + n - 6, "%%EOF") != NULL;
}

/* A line of pdfinfo: "Pages:           9". */
static char *
fact (const char *path, const char *name)
{
  const char *argv[] = { "pdfinfo", path, NULL };
  g_autofree char *out = NULL;
  g_auto (GStrv) lines = NULL;
  int status = 1;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL,
                               &status, NULL));
  g_assert_cmpint (status, ==, 0);
  lines = g_strsplit (out, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    if (g_str_has_prefix (lines[i], name))
      return g_strdup (g_strstrip (lines[i] + strlen (name)));
  g_assert_not_reached ();
}

static BlWindow *
open_demo (void)
{
  const char *demo = g_getenv ("BEDLINE_DEMO");
  g_autofree char *sheet = g_build_filename (demo, "harbour-lane.sheet.json", NULL);
  g_autofree char *path = g_build_filename (home, "strip.bedline", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlDesign) design = NULL;
  BlWindow *window = open_window ();

  g_unlink (path);
  g_assert_true (g_file_get_contents (sheet, &text, NULL, &error));
  design = bl_sheet_draft (text, -1, demo, bl_app_get_library (app, NULL), path, &error);
  g_assert_no_error (error);
  g_clear_object (&design);
  bl_window_open (window, path);
  for (guint i = 0; i < 100 && bl_window_get_board (window) == NULL; i++)
    rest (50);
  g_assert_nonnull (bl_window_get_board (window));
  g_assert_true (spin (is_settled, bl_window_get_board (window)));
  return window;
}

static char *
print_to_file (BlWindow *window, BlGiveKind kind, GtkPageSetup **setup)
{
  char *path = g_build_filename (home, "printed.pdf", NULL);
  g_autofree char *uri = g_filename_to_uri (path, NULL, NULL);
  g_autoptr (GtkPrintSettings) settings = gtk_print_settings_new ();
  GtkPrintUnixDialog *dialog;

  g_unlink (path);
  bl_window_print (window, kind);
  for (guint i = 0; i < 8 && !spin (is_asked, NULL); i++)
    ;
  dialog = print_dialog ();
  g_assert_nonnull (dialog);
  gtk_print_settings_set_printer (settings, "Print to File");
  gtk_print_settings_set (settings, GTK_PRINT_SETTINGS_OUTPUT_URI, uri);
  gtk_print_unix_dialog_set_settings (dialog, settings);
  g_assert_true (spin (has_printer, dialog));
  g_assert_true (gtk_printer_is_virtual (gtk_print_unix_dialog_get_selected_printer (dialog)));
  *setup = gtk_page_setup_copy (gtk_print_unix_dialog_get_page_setup (dialog));
  gtk_dialog_response (GTK_DIALOG (dialog), GTK_RESPONSE_OK);
  g_assert_true (spin (is_written, path));
  return path;
}

/* Letter: ANSI/ASME Y14.1, 8.5 x 11 in; A4: ISO 216, 210 x 297 mm. */
static void
test_papers_come_out (void)
{
  static const struct
  {
    const char *paper;
    BlGiveKind kind;
    double width, height; /* mm */
  } cases[] = { { "Letter", BL_GIVE_PROPOSAL, 215.9, 279.4 },
                { "A4", BL_GIVE_CREW, 210, 297 },
                { "A4", BL_GIVE_CARE_SHEET, 210, 297 } };
  BlWindow *window = open_demo ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = NULL, *pages = NULL, *size = NULL;
      g_autoptr (GtkPageSetup) setup = NULL;
      double w, h;

      bl_settings_set (bl_app_get_settings (app), "paper", cases[i].paper);
      path = print_to_file (window, cases[i].kind, &setup);
      pages = fact (path, "Pages:");
      size = fact (path, "Page size:");
      g_test_message ("%s: %s pages of %s", cases[i].paper, pages, size);
      g_assert_cmpint (sscanf (size, "%lf x %lf", &w, &h), ==, 2);
      w *= 25.4 / 72, h *= 25.4 / 72;
      g_assert_cmpfloat_with_epsilon (MIN (w, h), cases[i].width, 0.1);
      g_assert_cmpfloat_with_epsilon (MAX (w, h), cases[i].height, 0.1);
      g_assert_cmpint (atoi (pages), >=, cases[i].kind == BL_GIVE_PROPOSAL ? 5 : 1);
      /* The printer is told of the same paper, the same way up. */
      g_assert_cmpfloat_with_epsilon (gtk_page_setup_get_paper_width (setup, GTK_UNIT_MM), w, 0.5);
      g_assert_cmpfloat_with_epsilon (gtk_page_setup_get_paper_height (setup, GTK_UNIT_MM), h, 0.5);
    }
  close_window (window);
}

/* The picture lies within the paper, with a margin that printers leave, and fills it one way. */
static void
test_picture_fits (void)
{
  BlWindow *window = open_demo ();
  g_autofree char *path = NULL, *size = NULL;
  g_autoptr (GtkPageSetup) setup = NULL;
  double w, h;

  bl_settings_set (bl_app_get_settings (app), "paper", "A4");
  path = print_to_file (window, BL_GIVE_PICTURE, &setup);
  size = fact (path, "Page size:");
  g_test_message ("picture: %s", size);
  g_assert_cmpint (sscanf (size, "%lf x %lf", &w, &h), ==, 2);
  w *= 25.4 / 72, h *= 25.4 / 72;
  /* The demo's photo is wider than high: across on A4, 297 x 210 mm. */
  g_assert_cmpfloat (w, <=, 278);
  g_assert_cmpfloat (h, <=, 191);
  g_assert_true (w > 270 || h > 185);
  g_assert_cmpint (gtk_page_setup_get_orientation (setup), ==, GTK_PAGE_ORIENTATION_LANDSCAPE);
  close_window (window);
}

int
main (int argc, char **argv)
{
  int status;

  home = start_app (&argc, &argv);
  g_test_add_func ("/studio/print/papers-come-out", test_papers_come_out);
  g_test_add_func ("/studio/print/picture-fits", test_picture_fits);
  status = g_test_run ();
  end_app (home);
  g_free (home);
  return status;
}
