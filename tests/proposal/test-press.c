/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting pages: any text stays in its box, tables break between rows, files are whole or absent.
 */
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "../draw/small-disk.h"
#include "base/error.h"
#include "base/rng.h"
#include "proposal/press.h"

static char *
temporary (const char *name)
{
  g_autofree char *folder = g_dir_make_tmp ("bedline-press-XXXXXX", NULL);

  return g_build_filename (folder, name, NULL);
}

static GArray *boxes;

static BlPress *
start (const char *path)
{
  BlPressSetup setup = { .title = "A title",
                         .author = "A designer",
                         .subject = "Subject",
                         .boxes = boxes,
                         .day = bl_day (2026, 5, 12),
                         .running = "A title · Proposal",
                         .footer = "A designer" };
  g_autoptr (GError) error = NULL;
  BlPress *press = bl_press_new (path, &setup, &error);

  g_assert_no_error (error);
  return press;
}

/* A text of any content: long words, accents, other scripts, emoji, markup that isn't. */
static char *
any_text (BlRng *rng)
{
  static const char *const pieces[] = {
    "Echinacea", "purpurea", "×", "equinácea", "árbol", "Ñandú", "🌻", "𝔊", "日本語", "العربية",
    "a&b", "<b>", "</i", "'Herbstfreude'", "Hemerocallisfulvaverylongwordthatneverends", "—", "½",
    "x", "  ", "of", "the", "car park side", "\t", "12′ 6″",
  };
  GString *text = g_string_new (NULL);
  guint n = 1 + bl_rng_int (rng, 30);

  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "%s%s", i > 0 && bl_rng_int (rng, 4) > 0 ? " " : "",
                            pieces[bl_rng_int (rng, G_N_ELEMENTS (pieces))]);
  return g_string_free (text, FALSE);
}

/* Ink may pass its box by what an italic or a mark overhangs, never reach another column. */
static void
check_ink (const BlPress *press)
{
  for (guint i = 0; i < press->boxes->len; i++)
    {
      const BlPressBox *box = &g_array_index (press->boxes, BlPressBox, i);

      g_assert_cmpfloat (box->ink.x0, >=, box->box.x0 - 4);
      g_assert_cmpfloat (box->ink.x1, <=, box->box.x1 + 4);
      g_assert_cmpfloat (box->ink.y0, >=, 20);
      g_assert_cmpfloat (box->ink.y1, <=, press->height - 24);
    }
}

static void
test_any_text_stays_in_its_box (void)
{
  BlRng rng = bl_rng (42);
  g_autofree char *path = temporary ("any.pdf");
  g_autoptr (GError) error = NULL;
  BlPress *press = start (path);
  BlPressColumn columns[] = { { "Key", 0.1, BL_ALIGN_LEFT },
                              { "Name", 0.4, BL_ALIGN_LEFT },
                              { "Quantity", 0.2, BL_ALIGN_RIGHT },
                              { "Remarks", 0.3, BL_ALIGN_LEFT } };
  g_autoptr (BlPressTable) table = bl_press_table_new ();

  bl_press_page (press, "First", "A heading that is rather long and may run over the line's end");
  for (int i = 0; i < 60; i++)
    {
      g_autofree char *text = any_text (&rng);
      char *cells[4];

      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left,
                           text);
      for (guint k = 0; k < 4; k++)
        {
          g_autofree char *cell = any_text (&rng);

          cells[k] = g_markup_escape_text (cell, -1);
        }
      bl_press_table_add (table,
                          i % 9 == 0    ? BL_ROW_SECTION
                          : i % 10 == 9 ? BL_ROW_TOTAL
                                        : BL_ROW_PLAIN,
                          cells[0], cells[1], cells[2], cells[3], NULL);
    }
  bl_press_table_set (press, table, columns, 4, press->left, press->right - press->left);
  g_assert_cmpint (press->page, >, 2);
  check_ink (press);
  g_assert_true (bl_press_finish (press, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
}

static void
test_cancel_leaves_nothing (void)
{
  g_autofree char *path = temporary ("cancelled.pdf");
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;
  BlPress *press = start (path);

  press->cancellable = g_cancellable_new ();
  bl_press_page (press, "First", "Heading");
  g_cancellable_cancel (press->cancellable);
  g_assert_false (bl_press_go_on (press, 0.5, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_CANCELLED);
  bl_press_abandon (press);
  g_assert_cmpint (g_rmdir (folder), ==, 0);
}

/* A page of any length at @path, on a disk where no file is larger than @most. */
static gboolean
print_page (const char *path, rlim_t most, gboolean cancelled, GError **error)
{
  BlPress *press = start (path);
  struct rlimit usual;
  gboolean ok = !cancelled;

  bl_press_page (press, "Page", "Heading");
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, 300, "Some words.");
  usual = small_disk (most);
  if (cancelled)
    bl_press_abandon (press);
  else
    ok = bl_press_finish (press, error);
  usual_disk (usual);
  return ok;
}

/* Files whose names are made of the target's are the person's own, or were put there to be followed. */
static void
test_what_stood_there (void)
{
  static const char *const names[] = { "old.pdf", "old.svg" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = temporary (names[i]);
      g_autofree char *part = g_strconcat (path, ".part", NULL);
      g_autofree char *precious = g_strconcat (path, ".precious", NULL), *bytes = NULL;
      g_autoptr (GError) error = NULL;
      gsize length = 0;

      g_assert_true (g_file_set_contents (precious, "mine", -1, NULL));
      g_assert_cmpint (symlink (precious, part), ==, 0);
      g_assert_true (print_page (path, RLIM_INFINITY, FALSE, &error));
      g_assert_no_error (error);
      g_assert_true (g_file_test (part, G_FILE_TEST_IS_SYMLINK));
      assert_stands (precious, "mine", 4, 3);
      g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
      g_assert_false (print_page (path, RLIM_INFINITY, TRUE, NULL));
      assert_stands (path, bytes, length, 3);
      g_assert_false (print_page (path, length / 2, FALSE, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_FAILED);
      assert_stands (path, bytes, length, 3);
      assert_stands (precious, "mine", 4, 3);
    }
}

static void
test_no_such_folder (void)
{
  g_autoptr (GError) error = NULL;
  BlPressSetup setup = { .title = "A title" };

  g_assert_null (bl_press_new ("/no/such/folder/x.pdf", &setup, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_FAILED);
}

/* The same pages twice are the same bytes: dates come from the setup, not from the clock. */
static void
test_same_bytes_twice (void)
{
  char *bytes[2] = { NULL, NULL };
  gsize length[2];

  for (int i = 0; i < 2; i++)
    {
      g_autofree char *path = temporary ("same.pdf");
      BlPress *press = start (path);

      bl_press_page (press, "Page", "Heading");
      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, 300, "Some words.");
      g_assert_true (bl_press_finish (press, NULL));
      g_assert_true (g_file_get_contents (path, &bytes[i], &length[i], NULL));
    }
  g_assert_cmpmem (bytes[0], length[0], bytes[1], length[1]);
  g_free (bytes[0]);
  g_free (bytes[1]);
}

static void
test_papers (void)
{
  BlPaperSize size;

  g_assert_true (bl_paper_from_name ("a4", &size));
  g_assert_cmpint (size, ==, BL_PAPER_A4);
  g_assert_false (bl_paper_from_name ("quarto", &size));
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  boxes = g_array_new (FALSE, FALSE, sizeof (BlPressBox));
  g_test_add_func ("/proposal/press/any-text", test_any_text_stays_in_its_box);
  g_test_add_func ("/proposal/press/cancel", test_cancel_leaves_nothing);
  g_test_add_func ("/proposal/press/what-stood-there", test_what_stood_there);
  g_test_add_func ("/proposal/press/no-folder", test_no_such_folder);
  g_test_add_func ("/proposal/press/same-bytes", test_same_bytes_twice);
  g_test_add_func ("/proposal/press/papers", test_papers);
  status = g_test_run ();
  g_array_unref (boxes);
  return status;
}
