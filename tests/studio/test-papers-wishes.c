/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the person wishes of the papers outlives the window; a mark is kept as a copy, a bad one refused. */
#include <glib/gstdio.h>

#include "base/error.h"
#include "studio/papers-form.h"

static const char svg[] = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20\" height=\"10\">"
                          "<rect width=\"20\" height=\"10\" fill=\"#333\"/></svg>";

static char *
file_of (const char *name, const char *bytes, gssize length)
{
  g_autofree char *folder = g_dir_make_tmp ("bedline-wishes-XXXXXX", NULL);
  char *path = g_build_filename (folder, name, NULL);

  g_assert_true (g_file_set_contents (path, bytes, length, NULL));
  return path;
}

static BlSettings *
settings_at (const char *name)
{
  g_autofree char *path = g_build_filename (g_get_user_config_dir (), name, NULL);

  return bl_settings_new (path);
}

static void
test_starts_as_the_design (void)
{
  g_autoptr (BlSettings) settings = settings_at ("fresh.ini");
  g_autoptr (BlPapersWishes) wishes = bl_papers_wishes_new (settings, NULL);

  g_assert_cmpint (wishes->paper, ==, BL_PAPER_LETTER);
  g_assert_null (wishes->language);
  g_assert_null (wishes->units);
  g_assert_null (wishes->designer);
  g_assert_null (wishes->mark);
  g_assert_cmpint ((int) wishes->pages, ==, BL_PAGE_ALL);
  g_assert_cmpint ((int) wishes->setout, ==, BL_SETOUT_TAPES);
}

static void
test_outlives_the_window (void)
{
  g_autoptr (BlPapersWishes) wishes = NULL;
  g_autoptr (BlSettings) settings = settings_at ("kept.ini"), again = NULL;

  bl_settings_set (settings, "paper", "A3");
  bl_settings_set (settings, "paper-language", "es");
  bl_settings_set (settings, "paper-units", "m");
  bl_settings_set (settings, "paper-setout", "3");
  bl_settings_set (settings, "designer", "Somebody");
  bl_settings_set_int (settings, "paper-pages", BL_PAGE_COVER | BL_PAGE_CARE);
  bl_settings_set_int (settings, "paper-detailed", 0);
  again = settings_at ("kept.ini");
  wishes = bl_papers_wishes_new (again, NULL);
  g_assert_cmpint (wishes->paper, ==, BL_PAPER_A3);
  g_assert_cmpstr (wishes->language, ==, "es");
  g_assert_cmpstr (wishes->units, ==, "m");
  g_assert_cmpint ((int) wishes->setout, ==, BL_SETOUT_TAPES | BL_SETOUT_OFFSETS);
  g_assert_cmpstr (wishes->designer, ==, "Somebody");
  g_assert_cmpint ((int) wishes->pages, ==, BL_PAGE_COVER | BL_PAGE_CARE);
  g_assert_false (wishes->detailed);
}

static void
test_keeps_a_mark (void)
{
  g_autoptr (BlSettings) settings = settings_at ("mark.ini");
  g_autoptr (BlPapersWishes) wishes = NULL, later = NULL, none = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *good = file_of ("mark.svg", svg, -1);
  g_autofree char *bad = file_of ("mark.png", "this is no picture", -1);

  g_assert_true (bl_papers_keep_mark (settings, good, &error));
  g_assert_no_error (error);
  /* A copy: the picture may be moved away. */
  g_unlink (good);
  wishes = bl_papers_wishes_new (settings, &error);
  g_assert_no_error (error);
  g_assert_cmpmem (g_bytes_get_data (wishes->mark, NULL), g_bytes_get_size (wishes->mark), svg,
                   sizeof svg - 1);
  /* What is refused leaves the old one. */
  g_assert_false (bl_papers_keep_mark (settings, bad, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  later = bl_papers_wishes_new (settings, &error);
  g_assert_true (g_bytes_equal (later->mark, wishes->mark));
  g_assert_true (bl_papers_keep_mark (settings, NULL, &error));
  none = bl_papers_wishes_new (settings, &error);
  g_assert_null (none->mark);
}

static void
test_refuses_what_is_too_much (void)
{
  g_autoptr (BlSettings) settings = settings_at ("much.ini");
  g_autoptr (GError) error = NULL;
  g_autofree char *zeros = g_malloc0 (2 * 1024 * 1024 + 1);
  g_autofree char *large = file_of ("large.png", zeros, 2 * 1024 * 1024 + 1);
  g_autofree char *outside = file_of (
      "outside.svg",
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\">"
      "<image href=\"file:///etc/hostname\" width=\"9\" height=\"9\"/></svg>", -1);

  g_assert_false (bl_papers_keep_mark (settings, large, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
  g_clear_error (&error);
  g_assert_false (bl_papers_keep_mark (settings, outside, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  g_assert_false (bl_papers_keep_mark (settings, "/no/such/mark.svg", &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_NOT_FOUND);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/studio/papers/as-the-design", test_starts_as_the_design);
  g_test_add_func ("/studio/papers/outlives", test_outlives_the_window);
  g_test_add_func ("/studio/papers/mark", test_keeps_a_mark);
  g_test_add_func ("/studio/papers/too-much", test_refuses_what_is_too_much);
  return g_test_run ();
}
