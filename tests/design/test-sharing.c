/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One file and others: a second program, a program that knows nothing of us, no right to write. */
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include "fixture.h"

static void
test_two_connections (Fixture      *fixture,
                      gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) other = bl_design_open (fixture->path, &error);
  Fixture seen = { 0 };

  g_assert_no_error (error);
  g_signal_connect (other, "changed", G_CALLBACK (design_changed_cb), &seen);
  g_assert_false (bl_design_refresh (other, &error));
  yard_begin (fixture->design, "Rename");
  g_assert_true (bl_design_put_text (fixture->design, "title", "From the first", &error));
  yard_commit (fixture->design);
  g_assert_true (bl_design_refresh (other, &error));
  g_assert_cmpuint (seen.changes, ==, 1);
  g_assert_cmpstr (bl_design_get_model (other)->title, ==, "From the first");
  g_assert_cmpstr (bl_design_undo_label (other), ==, "Rename");
  g_assert_false (bl_design_refresh (other, &error));
  /* An edit made on what is no longer there is refused, once, and shows what is. */
  yard_begin (fixture->design, "Rename again");
  g_assert_true (bl_design_put_text (fixture->design, "title", "Second", &error));
  yard_commit (fixture->design);
  g_assert_false (bl_design_begin (other, "Stale", &error));
  yard_assert_error (&error, BL_ERROR_BUSY, "read again");
  g_assert_cmpstr (bl_design_get_model (other)->title, ==, "Second");
  yard_begin (other, "Now");
  g_assert_true (bl_design_put_text (other, "client", "from the other", &error));
  yard_commit (other);
  /* So is an undo. */
  g_assert_false (bl_design_undo (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_BUSY, "read again");
  g_assert_cmpstr (bl_design_get_model (fixture->design)->client, ==, "from the other");
  g_assert_true (bl_design_undo (fixture->design, &error));
  g_assert_cmpstr (bl_design_get_model (fixture->design)->client, ==, "");
  /* How another window stands is not an edit. */
  g_assert_true (bl_design_refresh (other, &error));
  seen.changes = 0;
  bl_design_set_state (fixture->design, "view", "plan");
  g_assert_false (bl_design_refresh (other, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (seen.changes, ==, 0);
  yard_assert_sound (other);
}

static void
test_busy (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (fixture->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "BEGIN EXCLUSIVE", NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_false (bl_design_begin (fixture->design, "Wait", &error));
  yard_assert_error (&error, BL_ERROR_BUSY, "being written by another program");
  g_assert_null (bl_design_open (fixture->path, &error));
  yard_assert_error (&error, BL_ERROR_BUSY, "being written by another program");
  sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
  /* A program that reads keeps the commit waiting, then fails it whole. */
  g_assert_cmpint (sqlite3_exec (db, "BEGIN; SELECT count(*) FROM bed", NULL, NULL, NULL), ==,
                   SQLITE_OK);
  yard_begin (fixture->design, "Wait");
  g_assert_true (bl_design_put_text (fixture->design, "title", "Late", &error));
  g_assert_false (bl_design_commit (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_BUSY, "try again");
  g_assert_cmpstr (bl_design_get_model (fixture->design)->title, ==, "Walk strip");
  sqlite3_close (db);
  yard_begin (fixture->design, "Now");
  g_assert_true (bl_design_put_text (fixture->design, "title", "Late", &error));
  yard_commit (fixture->design);
  yard_assert_sound (fixture->design);
}

/* A program that knows nothing of our history changes a row: undo of that row conflicts. */
static void
test_foreign_change (Fixture      *fixture,
                     gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  sqlite3 *db = NULL;

  yard_begin (fixture->design, "Rename");
  g_assert_true (bl_design_put_text (fixture->design, "title", "Mine", &error));
  yard_commit (fixture->design);
  g_assert_cmpint (sqlite3_open (fixture->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (
      sqlite3_exec (db, "UPDATE text SET value = 'Theirs' WHERE name = 'title'", NULL, NULL, NULL),
      ==, SQLITE_OK);
  sqlite3_close (db);
  g_assert_true (bl_design_refresh (fixture->design, &error));
  g_assert_cmpstr (bl_design_get_model (fixture->design)->title, ==, "Theirs");
  g_assert_false (bl_design_undo (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_BUSY, "nothing was changed");
  g_assert_cmpstr (bl_design_get_model (fixture->design)->title, ==, "Theirs");
  yard_assert_sound (fixture->design);
}

static void
test_moved_away (Fixture      *fixture,
                 gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *elsewhere = yard_path (fixture->folder, "elsewhere.bedline");
  gboolean ok;

  g_assert_cmpint (g_rename (fixture->path, elsewhere), ==, 0);
  ok = bl_design_begin (fixture->design, "Lost", &error)
       && bl_design_put_text (fixture->design, "title", "Lost", &error)
       && bl_design_commit (fixture->design, &error);
  g_assert_false (ok);
  yard_assert_error (&error, BL_ERROR_READ_ONLY, "moved, renamed or deleted");
  g_assert_false (bl_design_refresh (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_READ_ONLY, "moved, renamed or deleted");
  g_assert_cmpint (g_rename (elsewhere, fixture->path), ==, 0);
}

/* As a program does that keeps two folders alike: a newer file is renamed over the open one. */
static void
test_replaced (Fixture      *fixture,
               gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *newer = yard_path (fixture->folder, "newer.bedline");
  g_autofree char *kept = yard_path (fixture->folder, "kept.bedline");

  g_assert_true (bl_design_save_copy (fixture->design, newer, &error));
  g_assert_no_error (error);
  g_assert_false (bl_design_refresh (fixture->design, &error));
  g_assert_no_error (error);
  g_assert_cmpint (g_rename (newer, fixture->path), ==, 0);
  g_assert_false (bl_design_refresh (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_READ_ONLY, "replaced by another file");
  g_assert_false (bl_design_begin (fixture->design, "Lost", &error)
                  && bl_design_put_text (fixture->design, "title", "Lost", &error)
                  && bl_design_commit (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_READ_ONLY, "replaced by another file");
  /* What is shown can still be saved. */
  g_assert_true (bl_design_save_copy (fixture->design, kept, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_test (kept, G_FILE_TEST_EXISTS));
}

/* ---- read-only ---- */

static void
check_read_only (const char *path,
                 const char *part)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = bl_design_open (path, &error);
  g_autofree char *state = NULL;

  g_assert_no_error (error);
  g_assert_nonnull (bl_design_read_only_reason (design));
  g_assert_nonnull (strstr (bl_design_read_only_reason (design), part));
  g_assert_cmpstr (bl_design_get_model (design)->title, ==, "Walk strip");
  g_assert_false (bl_design_begin (design, "No", &error));
  yard_assert_error (&error, BL_ERROR_READ_ONLY, part);
  g_assert_false (bl_design_undo (design, &error));
  yard_assert_error (&error, BL_ERROR_READ_ONLY, part);
  bl_design_set_state (design, "view", "plan");
  state = bl_design_get_state (design, "view");
  g_assert_cmpstr (state, ==, "plan");
  yard_assert_sound (design);
}

static void
test_read_only (Fixture      *fixture,
                gconstpointer data)
{
  g_clear_object (&fixture->design);
  g_assert_cmpint (g_chmod (fixture->folder, 0755), ==, 0);
  g_assert_cmpint (g_chmod (fixture->path, 0444), ==, 0);
  yard_without_rights (check_read_only, fixture->path, "cannot be written");
  g_assert_cmpint (g_chmod (fixture->path, 0666), ==, 0);
  g_assert_cmpint (g_chmod (fixture->folder, 0555), ==, 0);
  yard_without_rights (check_read_only, fixture->path, "folder that cannot be written");
  g_assert_cmpint (g_chmod (fixture->folder, 0755), ==, 0);
}

static void
test_newer_version (Fixture      *fixture,
                    gconstpointer data)
{
  sqlite3 *db = NULL;

  g_clear_object (&fixture->design);
  g_assert_cmpint (sqlite3_open (fixture->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db,
                                 "PRAGMA user_version = 7; ALTER TABLE bed ADD COLUMN slope REAL;"
                                 "CREATE TABLE lamp (id INTEGER PRIMARY KEY, watts REAL) STRICT;"
                                 "INSERT INTO text (name, value) VALUES ('motto', 'new')",
                                 NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
  check_read_only (fixture->path, "newer Bedline");
}

/* A file that some tool has set to a write-ahead log comes back to one file without companions. */
static void
test_write_ahead (Fixture      *fixture,
                  gconstpointer data)
{
  g_autofree char *log = g_strconcat (fixture->path, "-wal", NULL);
  sqlite3 *db = NULL;

  g_clear_object (&fixture->design);
  g_assert_cmpint (sqlite3_open (fixture->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "PRAGMA journal_mode = WAL; UPDATE state SET value = value",
                                 NULL, NULL, NULL),
                   ==, SQLITE_OK);
  sqlite3_close (db);
  reopen (fixture);
  yard_begin (fixture->design, "Rename");
  bl_design_put_text (fixture->design, "title", "One file", NULL);
  yard_commit (fixture->design);
  g_assert_false (g_file_test (log, G_FILE_TEST_EXISTS));
  yard_assert_sound (fixture->design);
}

int
main (int    argc,
      char **argv)
{
  int result;

  g_setenv ("BEDLINE_CHECK", "1", TRUE);
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
  g_test_add ("/sharing/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("two-connections", test_two_connections);
  ADD ("busy", test_busy);
  ADD ("foreign-change", test_foreign_change);
  ADD ("moved-away", test_moved_away);
  ADD ("replaced", test_replaced);
  ADD ("read-only", test_read_only);
  ADD ("newer-version", test_newer_version);
  ADD ("write-ahead", test_write_ahead);
  result = g_test_run ();
  yard_end ();
  return result;
}
