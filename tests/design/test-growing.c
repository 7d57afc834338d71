/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A design of version 1 as it grows: beside another program, beside other files, on a failing disk. */
#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>
#include <unistd.h>

#include "faults.h"
#include "yard.h"

typedef struct
{
  char *folder, *path;
} Fixture;

static void
put_old_file (const char *path)
{
  g_autofree char *frozen
      = g_test_build_filename (G_TEST_DIST, "design", "frozen", "version-1.bedline", NULL);

  yard_copy_file (frozen, path);
}

static void
set_up (Fixture      *fixture,
        gconstpointer data)
{
  fixture->folder = yard_folder ();
  fixture->path = yard_path (fixture->folder, "old.bedline");
  put_old_file (fixture->path);
}

static void
tear_down (Fixture      *fixture,
           gconstpointer data)
{
  g_free (fixture->path);
  yard_remove_folder (fixture->folder);
}

static guint
count_files (const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

/* What the next opening, between the look at the file and its growing, is met by: SQLite calls this for
 * each new connection, of which the one to the kept original is the second. */
static struct
{
  const char *path;
  void (*act) (const char *path);
  int connections;
} meanwhile;

static int
connected_cb (sqlite3                           *db,
              char                             **message,
              const struct sqlite3_api_routines *routines)
{
  if (meanwhile.act != NULL && ++meanwhile.connections == 2)
    {
      void (*act) (const char *path) = meanwhile.act;

      meanwhile.act = NULL;
      act (meanwhile.path);
    }
  return SQLITE_OK;
}

static void
arrange (const char *path,
         void (*act) (const char *path))
{
  meanwhile.path = path;
  meanwhile.act = act;
  meanwhile.connections = 0;
}

static void
grow_and_rename (const char *path)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) other = bl_design_open (path, &error);

  g_assert_no_error (error);
  yard_begin (other, "Rename");
  g_assert_true (bl_design_put_text (other, "title", "From the other", &error));
  yard_commit (other);
}

static void
test_grown_by_other (Fixture      *fixture,
                     gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;

  arrange (fixture->path, grow_and_rename);
  design = bl_design_open (fixture->path, &error);
  g_assert_no_error (error);
  g_assert_null (meanwhile.act);
  g_assert_null (bl_design_read_only_reason (design));
  g_assert_cmpstr (bl_design_get_model (design)->title, ==, "From the other");
  yard_begin (design, "Rename");
  g_assert_true (bl_design_put_text (design, "title", "Mine", &error));
  yard_commit (design);
  yard_assert_sound (design);
  g_clear_object (&design);
  g_assert_cmpuint (count_files (fixture->folder), ==, 1);
}

static void
grow_to_newer (const char *path)
{
  sqlite3 *db = NULL;

  grow_and_rename (path);
  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "PRAGMA user_version = 9", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
}

static void
test_grown_by_newer (Fixture      *fixture,
                     gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;

  arrange (fixture->path, grow_to_newer);
  design = bl_design_open (fixture->path, &error);
  g_assert_no_error (error);
  g_assert_nonnull (strstr (bl_design_read_only_reason (design), "newer Bedline"));
  g_assert_cmpstr (bl_design_get_model (design)->title, ==, "From the other");
  g_assert_cmpuint (count_files (fixture->folder), ==, 1);
}

static sqlite3 *holder;

static void
hold (const char *path)
{
  g_assert_cmpint (sqlite3_open (path, &holder), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (holder, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);
}

/* A program that holds the file for long: it is not opened, and nothing is left beside it. */
static void
test_held (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  arrange (fixture->path, hold);
  g_assert_null (bl_design_open (fixture->path, &error));
  yard_assert_error (&error, BL_ERROR_BUSY, "being written by another program");
  sqlite3_close (holder);
  g_assert_cmpuint (count_files (fixture->folder), ==, 1);
}

/* Files of the person's own, and a link to nowhere, where the original would be kept. */
static void
test_names_taken (Fixture      *fixture,
                  gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;
  g_autofree char *mine = g_strconcat (fixture->path, ".version-1", NULL);
  g_autofree char *link = g_strconcat (fixture->path, ".version-1-2", NULL);
  g_autofree char *nowhere = yard_path (fixture->folder, "nowhere");
  g_autofree char *text = NULL, *target = NULL;

  g_assert_true (g_file_set_contents (mine, "my own", -1, &error));
  g_assert_cmpint (symlink (nowhere, link), ==, 0);
  design = bl_design_open (fixture->path, &error);
  g_assert_no_error (error);
  g_clear_object (&design);
  g_assert_true (g_file_get_contents (mine, &text, NULL, &error));
  g_assert_cmpstr (text, ==, "my own");
  target = g_file_read_link (link, &error);
  g_assert_cmpstr (target, ==, nowhere);
  g_assert_cmpuint (count_files (fixture->folder), ==, 3);
}

/* Every call to the disk failing in turn, once or from then on: the design is whole afterwards, and the
 * kept original is taken away unless the file was left half written. */
static guint
try_failing_disk (const char *path,
                  FaultKind   kind,
                  gboolean    lasting)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *kept = g_strconcat (path, ".version-1", NULL);
  guint left = 0;

  for (guint nth = 1;; nth++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = NULL;
      g_autoptr(GPtrArray) breaches = NULL;
      guint calls;

      put_old_file (path);
      faults_arm (nth, kind, lasting);
      design = bl_design_open (path, &error);
      calls = faults_disarm ();
      g_assert_true ((design != NULL) == (error == NULL));
      if (design != NULL)
        g_assert_false (g_file_test (kept, G_FILE_TEST_EXISTS));
      g_clear_object (&design);
      g_clear_error (&error);
      if (g_file_test (kept, G_FILE_TEST_EXISTS))
        {
          left++;
          g_assert_cmpint (g_unlink (kept), ==, 0);
        }
      breaches = bl_design_verify (path, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (breaches->len, ==, 0);
      g_assert_cmpuint (count_files (folder), ==, 1);
      if (calls < nth)
        return left;
    }
}

static void
test_failing_disk (Fixture      *fixture,
                   gconstpointer data)
{
  g_assert_cmpuint (try_failing_disk (fixture->path, FAULT_FULL, FALSE), ==, 0);
  g_assert_cmpuint (try_failing_disk (fixture->path, FAULT_TORN, TRUE), >, 0);
}

int
main (int    argc,
      char **argv)
{
  int result;

  g_setenv ("BEDLINE_CHECK", "1", TRUE);
  g_test_init (&argc, &argv, NULL);
  faults_install ();
  sqlite3_auto_extension ((void (*) (void)) connected_cb);
#define ADD(name, function)                                                                        \
  g_test_add ("/growing/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("by-other", test_grown_by_other);
  ADD ("by-newer", test_grown_by_newer);
  ADD ("held", test_held);
  ADD ("names-taken", test_names_taken);
  ADD ("failing-disk", test_failing_disk);
  result = g_test_run ();
  yard_end ();
  return result;
}
