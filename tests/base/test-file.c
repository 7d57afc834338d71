/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a chosen file: whole, regular files only, never more than is allowed, never waiting. */
#include "base/file.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "base/error.h"

typedef struct
{
  char *folder, *path;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->folder = g_dir_make_tmp ("bedline-file-XXXXXX", NULL);
  g_assert_nonnull (fixture->folder);
  fixture->path = g_build_filename (fixture->folder, "chosen.csv", NULL);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_remove (fixture->path);
  g_assert_cmpint (g_rmdir (fixture->folder), ==, 0);
  g_free (fixture->path);
  g_free (fixture->folder);
}

static void
put (Fixture *fixture, const char *text, gssize length)
{
  g_autoptr (GError) error = NULL;

  g_file_set_contents (fixture->path, text, length, &error);
  g_assert_no_error (error);
}

static void
assert_refused (const char *path, gsize most, const char *part)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  g_assert_false (bl_file_read (path, most, &text, NULL, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
  g_assert_null (text);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, part));
}

static void
test_whole (Fixture *fixture, gconstpointer data)
{
  static const char bytes[] = "a\0b\n";
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL, *none = NULL;
  gsize length = 0;

  put (fixture, bytes, sizeof bytes - 1);
  g_assert_true (bl_file_read (fixture->path, sizeof bytes - 1, &text, &length, &error));
  g_assert_no_error (error);
  g_assert_cmpmem (text, length + 1, bytes, sizeof bytes);
  put (fixture, "", 0);
  g_assert_true (bl_file_read (fixture->path, 0, &none, &length, &error));
  g_assert_cmpuint (length, ==, 0);
  g_assert_cmpstr (none, ==, "");
}

static void
test_refused (Fixture *fixture, gconstpointer data)
{
  g_autofree char *large = g_strnfill (2 * BL_MEGABYTE + 1, 'x');

  assert_refused (fixture->path, 10, "chosen.csv");
  put (fixture, large, -1);
  assert_refused (fixture->path, 2 * BL_MEGABYTE, "larger than 2 MB");
  assert_refused (fixture->folder, 10, "is not a file");
  assert_refused ("/dev/zero", 10, "is not a file");
}

/* Nobody writes to the pipe: who opens it in the plain way waits for ever. */
static void
test_pipe (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpint (mkfifo (fixture->path, 0600), ==, 0);
  assert_refused (fixture->path, 10, "is not a file");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function) \
  g_test_add ("/file/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("whole", test_whole);
  ADD ("refused", test_refused);
  ADD ("pipe", test_pipe);
  return g_test_run ();
}
