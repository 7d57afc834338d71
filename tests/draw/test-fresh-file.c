/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that replace an old one: whole, or not at all, and nothing else is touched. */
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "draw/fresh-file.h"
#include "small-disk.h"

#define OLD "the old one"

typedef struct
{
  char *folder, *path;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->folder = g_dir_make_tmp ("bedline-fresh-XXXXXX", NULL);
  fixture->path = g_build_filename (fixture->folder, "x.pdf", NULL);
  g_assert_true (g_file_set_contents (fixture->path, OLD, -1, NULL));
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_unlink (fixture->path);
  g_assert_cmpint (g_rmdir (fixture->folder), ==, 0);
  g_free (fixture->folder);
  g_free (fixture->path);
}

static BlFreshFile *
begin (const char *path, guint bytes)
{
  BlFreshFile *file = bl_fresh_file_new (path);
  g_autofree guchar *data = g_malloc (bytes);

  g_assert_nonnull (file);
  memset (data, 'n', bytes);
  g_assert_cmpint (bl_fresh_file_write (file, data, bytes), ==, CAIRO_STATUS_SUCCESS);
  return file;
}

static void
test_kept (Fixture *fixture, gconstpointer data)
{
  BlFreshFile *file = begin (fixture->path, 3);
  mode_t mask = umask (027);
  GStatBuf info;

  g_assert_cmpint (bl_fresh_file_close (file), ==, CAIRO_STATUS_SUCCESS);
  assert_stands (fixture->path, OLD, strlen (OLD), 2);
  g_assert_true (bl_fresh_file_keep (file));
  assert_stands (fixture->path, "nnn", 3, 1);
  /* Others may do with it what they may do with any new file. */
  file = begin (fixture->path, 4);
  umask (mask);
  g_assert_cmpint (bl_fresh_file_close (file), ==, CAIRO_STATUS_SUCCESS);
  g_assert_true (bl_fresh_file_keep (file));
  g_assert_cmpint (g_stat (fixture->path, &info), ==, 0);
  g_assert_cmpint (info.st_mode & 0777, ==, 0640);
}

static void
test_dropped (Fixture *fixture, gconstpointer data)
{
  bl_fresh_file_drop (begin (fixture->path, 100000));
  assert_stands (fixture->path, OLD, strlen (OLD), 1);
  g_assert_null (bl_fresh_file_new ("/no/such/folder/x.pdf"));
}

/* What fits into the stream's memory fails only as it is closed. */
static void
test_full_disk (Fixture *fixture, gconstpointer data)
{
  static const guchar more[100000] = { 0 };
  struct rlimit usual = small_disk (1000);
  BlFreshFile *small = begin (fixture->path, 1001), *large = begin (fixture->path, 1000);

  g_assert_cmpint (bl_fresh_file_close (small), ==, CAIRO_STATUS_WRITE_ERROR);
  g_assert_cmpint (bl_fresh_file_write (large, more, sizeof more), ==, CAIRO_STATUS_WRITE_ERROR);
  usual_disk (usual);
  /* Room that is made meanwhile does not mend it. */
  g_assert_cmpint (bl_fresh_file_write (large, more, 1), ==, CAIRO_STATUS_WRITE_ERROR);
  g_assert_cmpint (bl_fresh_file_close (large), ==, CAIRO_STATUS_WRITE_ERROR);
  bl_fresh_file_drop (small);
  bl_fresh_file_drop (large);
  assert_stands (fixture->path, OLD, strlen (OLD), 1);
}

static void
test_not_replaced (Fixture *fixture, gconstpointer data)
{
  BlFreshFile *file = begin (fixture->folder, 3);

  g_assert_cmpint (bl_fresh_file_close (file), ==, CAIRO_STATUS_SUCCESS);
  g_assert_false (bl_fresh_file_keep (file));
  assert_stands (fixture->path, OLD, strlen (OLD), 1);
}

/* A name as long as names can be. */
static void
test_long_name (Fixture *fixture, gconstpointer data)
{
  g_autofree char *name = g_strnfill (255, 'x');
  g_autofree char *path = g_build_filename (fixture->folder, name, NULL);
  BlFreshFile *file = begin (path, 3);

  g_assert_cmpint (bl_fresh_file_close (file), ==, CAIRO_STATUS_SUCCESS);
  g_assert_true (bl_fresh_file_keep (file));
  assert_stands (path, "nnn", 3, 2);
  g_unlink (path);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
  g_test_add ("/fresh-file/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("kept", test_kept);
  ADD ("dropped", test_dropped);
  ADD ("full-disk", test_full_disk);
  ADD ("not-replaced", test_not_replaced);
  ADD ("long-name", test_long_name);
  return g_test_run ();
}
