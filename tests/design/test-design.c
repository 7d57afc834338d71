/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The contract of the design file: edits, undo, snapshots, the photo, copies, state. */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <sqlite3.h>

#include "fixture.h"

static void
test_create (Fixture      *fixture,
             gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *magic = NULL;
  gsize length;

  g_assert_null (bl_design_create (fixture->path, &error));
  yard_assert_error (&error, BL_ERROR_FILE, "exists already");
  g_assert_null (bl_design_create ("/nowhere/at/all.bedline", &error));
  yard_assert_error (&error, BL_ERROR_FILE, "cannot be made");
  g_assert_cmpstr (bl_design_get_path (fixture->design), ==, fixture->path);
  g_assert_null (bl_design_read_only_reason (fixture->design));
  g_clear_object (&fixture->design);
  /* SQLite file format, "The Database Header": page size at 16, user version at 60, application id
   * at 68, all big-endian (sqlite.org/fileformat2.html). */
  g_assert_true (g_file_get_contents (fixture->path, &magic, &length, NULL));
  g_assert_cmpmem (magic, 16, "SQLite format 3", 16);
  g_assert_cmpint ((guint8) magic[16] << 8 | (guint8) magic[17], ==, 16384);
  g_assert_cmpint (magic[63], ==, BL_DESIGN_VERSION);
  g_assert_cmpmem (magic + 60, 3, "\0\0\0", 3);
  g_assert_cmpmem (magic + 68, 4, "BDLN", 4);
}

static void
test_reopen (Fixture      *fixture,
             gconstpointer data)
{
  g_autofree char *before = yard_dump (fixture->design), *after = NULL;
  g_autoptr(GDir) dir = NULL;
  guint files = 0;

  reopen (fixture);
  after = yard_dump (fixture->design);
  g_assert_cmpstr (before, ==, after);
  yard_assert_sound (fixture->design);
  dir = g_dir_open (fixture->folder, 0, NULL);
  while (g_dir_read_name (dir) != NULL)
    files++;
  g_assert_cmpuint (files, ==, 1); /* no companions beside the file */
}

static void
test_undo (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) fresh = bl_design_create (NULL, &error);
  g_autofree char *empty = yard_dump (fresh), *full = yard_dump (fixture->design);
  g_autofree char *start = NULL, *again = NULL;

  g_assert_cmpstr (bl_design_undo_label (fixture->design), ==, "Say what it costs");
  g_assert_null (bl_design_redo_label (fixture->design));
  g_assert_true (bl_design_undo (fixture->design, &error));
  g_assert_true (fixture->damage.touched & BL_TOUCHED_PRICES);
  g_assert_true (fixture->damage.touched & BL_TOUCHED_CARE);
  g_assert_true (bl_rect_is_empty (fixture->damage.plan));
  reopen (fixture);
  g_assert_cmpstr (bl_design_undo_label (fixture->design), ==, "Plant A");
  g_assert_cmpstr (bl_design_redo_label (fixture->design), ==, "Say what it costs");
  g_assert_true (bl_design_undo (fixture->design, &error));
  g_assert_true (bl_design_undo (fixture->design, &error));
  g_assert_no_error (error);
  start = yard_dump (fixture->design);
  g_assert_cmpstr (start, ==, empty);
  g_assert_null (bl_design_undo_label (fixture->design));
  g_assert_false (bl_design_undo (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_NOT_FOUND, "nothing to undo");
  reopen (fixture);
  for (int i = 0; i < 3; i++)
    g_assert_true (bl_design_redo (fixture->design, &error));
  again = yard_dump (fixture->design);
  g_assert_cmpstr (again, ==, full);
  g_assert_false (bl_design_redo (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_NOT_FOUND, "nothing to redo");
}

static void
test_new_edit_drops_undone (Fixture      *fixture,
                            gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) history = NULL;
  const BlHistoryEntry *last;

  g_assert_true (bl_design_undo (fixture->design, &error));
  /* An edit that changes nothing is no step and drops nothing. */
  yard_begin (fixture->design, "Nothing");
  g_assert_true (bl_design_put_text (fixture->design, "title", "Walk strip", &error));
  yard_commit (fixture->design);
  g_assert_cmpstr (bl_design_redo_label (fixture->design), ==, "Say what it costs");
  yard_begin (fixture->design, "Rename");
  g_assert_true (bl_design_put_text (fixture->design, "title", "Other", &error));
  yard_commit (fixture->design);
  g_assert_null (bl_design_redo_label (fixture->design));
  history = bl_design_history (fixture->design, &error);
  g_assert_cmpuint (history->len, ==, 3);
  last = g_ptr_array_index (history, 2);
  g_assert_cmpstr (last->label, ==, "Rename");
  g_assert_false (last->undone);
  g_assert_cmpuint (strlen (last->when), ==, strlen ("2026-05-12T10:40:00Z"));
  yard_assert_sound (fixture->design);
}

static void
test_go_to (Fixture      *fixture,
            gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) history = bl_design_history (fixture->design, &error);
  g_autofree char *full = yard_dump (fixture->design), *again = NULL;

  g_assert_true (bl_design_go_to (fixture->design,
                                  ((BlHistoryEntry *) g_ptr_array_index (history, 0))->seq, &error));
  g_assert_cmpuint (fixture->changes, ==, 1);
  g_assert_cmpstr (bl_design_undo_label (fixture->design), ==, "Name the design");
  g_assert_true (bl_design_go_to (fixture->design, 0, &error));
  g_assert_null (bl_design_undo_label (fixture->design));
  g_assert_false (bl_design_go_to (fixture->design, 99, &error));
  yard_assert_error (&error, BL_ERROR_NOT_FOUND, "not in the history");
  g_assert_true (bl_design_go_to (fixture->design,
                                  ((BlHistoryEntry *) g_ptr_array_index (history, 2))->seq, &error));
  again = yard_dump (fixture->design);
  g_assert_cmpstr (again, ==, full);
}

static void
test_snapshots (Fixture      *fixture,
                gconstpointer data)
{
  g_autoptr(BlModel) before = bl_model_ref (bl_design_get_model (fixture->design));
  g_autofree char *was = yard_dump (fixture->design), *is = NULL;
  const BlBed *bed = g_ptr_array_index (before->beds, 0);
  const BlPlanting *first = g_ptr_array_index (before->plantings, 0);
  BlModel *after;
  gint64 id;

  yard_begin (fixture->design, "Add a plant");
  id = yard_put_specimen (fixture->design, first->alternative_id, bed->id, yard_slugs[0], 3, 3);
  g_assert_true (bl_design_get_model (fixture->design) == before);
  yard_commit (fixture->design);
  after = bl_design_get_model (fixture->design);
  is = bl_model_dump (before, TRUE);
  g_assert_cmpstr (was, ==, is);
  g_assert_cmpuint (after->revision, !=, before->revision);
  g_assert_nonnull (bl_model_planting (after, id));
  /* What was not touched is shared, not read again. */
  g_assert_true (after->beds == before->beds);
  g_assert_true (bl_model_planting (after, first->id) == first);
  g_assert_cmpuint (fixture->changes, ==, 1);
  g_assert_cmpuint (fixture->damage.touched, ==, BL_TOUCHED_PLANTINGS);
  g_assert_cmpfloat (fixture->damage.plan.x0, <, 3);
  g_assert_cmpfloat (fixture->damage.plan.x0, >, 1.5);
  g_assert_cmpfloat (fixture->damage.plan.y1, >, 3);
}

static void
test_refused_put (Fixture      *fixture,
                  gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *before = yard_dump (fixture->design), *after = NULL;
  g_autoptr(BlBed) bed = bl_bed_new ();
  g_autoptr(BlPlanting) planting = bl_planting_new ();

  /* A failed put rolls the whole edit back. */
  yard_begin (fixture->design, "Half");
  g_assert_true (bl_design_put_text (fixture->design, "title", "Half done", &error));
  g_assert_false (bl_design_put_bed (fixture->design, bed, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "name is empty");
  yard_begin (fixture->design, "Units");
  g_assert_false (bl_design_put_text (fixture->design, "units", "furlong", &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
  g_clear_error (&error);
  yard_begin (fixture->design, "No such bed");
  planting->alternative_id = 1;
  planting->bed_id = 77;
  planting->slug = g_strdup (yard_slugs[0]);
  planting->form = BL_PLANTING_FILL;
  g_assert_false (bl_design_put_planting (fixture->design, planting, &error)
                  && bl_design_commit (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "not there");
  yard_begin (fixture->design, "Gone");
  bed->name[0] = '\0';
  g_assert_false (bl_design_remove (fixture->design, "bed", 77, &error));
  yard_assert_error (&error, BL_ERROR_NOT_FOUND, "no longer");
  yard_begin (fixture->design, "Same name");
  yard_put_bed (fixture->design, "Strip", 9, 9, 1);
  g_assert_false (bl_design_commit (fixture->design, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "two beds are called");
  after = yard_dump (fixture->design);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (fixture->changes, ==, 0);
  yard_assert_sound (fixture->design);
}

/* Two beds may swap their names within one edit, and back by undo. */
static void
test_swap_names (Fixture      *fixture,
                 gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlBed) first = NULL, second = NULL;
  gint64 id;

  yard_begin (fixture->design, "Second bed");
  id = yard_put_bed (fixture->design, "Corner", 8, 0, 2);
  yard_commit (fixture->design);
  first = bl_bed_copy (bl_model_bed_named (bl_design_get_model (fixture->design), "Strip"));
  second = bl_bed_copy (bl_model_bed (bl_design_get_model (fixture->design), id));
  yard_begin (fixture->design, "Swap");
  g_free (first->name);
  first->name = g_strdup ("Corner");
  g_free (second->name);
  second->name = g_strdup ("Strip");
  g_assert_true (bl_design_put_bed (fixture->design, first, &error));
  g_assert_true (bl_design_put_bed (fixture->design, second, &error));
  yard_commit (fixture->design);
  g_assert_cmpint (bl_model_bed_named (bl_design_get_model (fixture->design), "Strip")->id, ==, id);
  g_assert_true (bl_design_undo (fixture->design, &error));
  g_assert_cmpint (bl_model_bed_named (bl_design_get_model (fixture->design), "Corner")->id, ==,
                   id);
  g_assert_true (bl_design_redo (fixture->design, &error));
  g_assert_no_error (error);
  yard_assert_sound (fixture->design);
}

static void
test_remove (Fixture      *fixture,
             gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *before = yard_dump (fixture->design), *after = NULL;
  const BlModel *model = bl_design_get_model (fixture->design);
  gint64 bed = bl_model_bed_named (model, "Strip")->id;

  yard_begin (fixture->design, "Remove the bed");
  g_assert_true (bl_design_remove (fixture->design, "bed", bed, &error));
  yard_commit (fixture->design);
  model = bl_design_get_model (fixture->design);
  g_assert_cmpuint (model->beds->len, ==, 0);
  g_assert_cmpuint (model->plantings->len, ==, 0);
  g_assert_true (bl_design_undo (fixture->design, &error));
  after = yard_dump (fixture->design);
  g_assert_cmpstr (before, ==, after);
  g_assert_true (bl_design_redo (fixture->design, &error));
  g_assert_true (bl_design_undo (fixture->design, &error));
  yard_begin (fixture->design, "Remove A");
  g_assert_true (bl_design_remove (
      fixture->design, "alternative",
      bl_model_alternative_named (bl_design_get_model (fixture->design), "A")->id, &error));
  yard_commit (fixture->design);
  g_assert_cmpuint (bl_design_get_model (fixture->design)->overrides->len, ==, 0);
  yard_assert_sound (fixture->design);
}

static void
test_copy_alternative (Fixture      *fixture,
                       gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  const BlModel *model = bl_design_get_model (fixture->design);
  gint64 a = bl_model_alternative_named (model, "A")->id, copy;
  guint n = model->plantings->len;

  yard_begin (fixture->design, "Copy A");
  copy = bl_design_copy_alternative (fixture->design, a, NULL, &error);
  g_assert_no_error (error);
  yard_commit (fixture->design);
  model = bl_design_get_model (fixture->design);
  g_assert_cmpstr (bl_model_alternative (model, copy)->name, ==, "C");
  g_assert_cmpuint (model->plantings->len, ==, 2 * n);
  g_assert_cmpuint (model->overrides->len, ==, 2);
  g_assert_true (g_ptr_array_index (model->alternatives, 2) == bl_model_alternative (model, copy));
  yard_begin (fixture->design, "Copy nothing");
  g_assert_cmpint (bl_design_copy_alternative (fixture->design, 55, "X", &error), ==, 0);
  yard_assert_error (&error, BL_ERROR_NOT_FOUND, "no longer");
}

static GBytes *
make_picture (int     width,
              guint32 color)
{
  g_autoptr(GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, 48);
  g_autoptr(GError) error = NULL;
  char *data = NULL;
  gsize length = 0;

  gdk_pixbuf_fill (pixbuf, color);
  gdk_pixbuf_save_to_buffer (pixbuf, &data, &length, "jpeg", &error, NULL);
  g_assert_no_error (error);
  return g_bytes_new_take (data, length);
}

static gint64
count_pictures (const char *path)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *stmt = NULL;
  gint64 count;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "SELECT count(*) FROM picture", -1, &stmt, NULL), ==,
                   SQLITE_OK);
  g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
  count = sqlite3_column_int64 (stmt, 0);
  sqlite3_finalize (stmt);
  sqlite3_close (db);
  return count;
}

static void
test_photo (Fixture      *fixture,
            gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) red = make_picture (64, 0xc02020ff), blue = make_picture (80, 0x2020c0ff);
  g_autoptr (GBytes) none = bl_design_photo_bytes (fixture->design, &error), back = NULL,
                     again = NULL;
  g_autoptr(GBytes) text = g_bytes_new_static ("not a picture", 13);

  g_assert_null (none);
  g_assert_no_error (error);
  yard_begin (fixture->design, "Put a photo");
  g_assert_true (bl_design_put_photo (fixture->design, red, "red.jpg", &error));
  yard_commit (fixture->design);
  g_assert_cmpint (bl_design_get_model (fixture->design)->photo.width, ==, 64);
  g_assert_nonnull (bl_design_get_model (fixture->design)->camera_problem);
  yard_begin (fixture->design, "Another photo");
  g_assert_true (bl_design_put_photo (fixture->design, blue, "blue.jpg", &error));
  yard_commit (fixture->design);
  g_assert_true (bl_design_undo (fixture->design, &error));
  back = bl_design_photo_bytes (fixture->design, &error);
  g_assert_true (g_bytes_equal (back, red));
  g_assert_true (bl_design_redo (fixture->design, &error));
  again = bl_design_photo_bytes (fixture->design, &error);
  g_assert_true (g_bytes_equal (again, blue));
  g_assert_true (bl_design_undo (fixture->design, &error));
  yard_begin (fixture->design, "Not a photo");
  g_assert_false (bl_design_put_photo (fixture->design, text, "text.jpg", &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  yard_assert_sound (fixture->design);
  g_clear_object (&fixture->design);
  g_assert_cmpint (count_pictures (fixture->path), ==, 2);
  /* Once the second photo cannot be redone any more its bytes go; the same photo is kept once. */
  reopen (fixture);
  yard_begin (fixture->design, "Something else");
  g_assert_true (bl_design_put_text (fixture->design, "client", "the library", &error));
  g_assert_true (bl_design_put_photo (fixture->design, red, "red again.jpg", &error));
  yard_commit (fixture->design);
  yard_assert_sound (fixture->design);
  g_clear_object (&fixture->design);
  g_assert_cmpint (count_pictures (fixture->path), ==, 1);
}

static void
test_state (Fixture      *fixture,
            gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *none = bl_design_get_state (fixture->design, "moment");
  g_autofree char *one = NULL, *two = NULL;

  g_assert_null (none);
  bl_design_set_state (fixture->design, "moment", "6.5 3");
  one = bl_design_get_state (fixture->design, "moment");
  g_assert_cmpstr (one, ==, "6.5 3");
  g_assert_cmpuint (fixture->changes, ==, 0);
  g_assert_cmpstr (bl_design_undo_label (fixture->design), ==, "Say what it costs");
  reopen (fixture);
  two = bl_design_get_state (fixture->design, "moment");
  g_assert_cmpstr (two, ==, "6.5 3");
  yard_assert_sound (fixture->design);
}

static void
test_save_copy (Fixture      *fixture,
                gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *path = yard_path (fixture->folder, "copy.bedline");
  g_autofree char *before = yard_dump (fixture->design), *after = NULL;
  g_autoptr(BlDesign) copy = NULL;

  g_assert_true (bl_design_save_copy (fixture->design, path, &error));
  g_assert_no_error (error);
  g_assert_false (bl_design_save_copy (fixture->design, path, &error));
  yard_assert_error (&error, BL_ERROR_FILE, "exists already");
  copy = bl_design_open (path, &error);
  g_assert_no_error (error);
  after = yard_dump (copy);
  g_assert_cmpstr (before, ==, after);
  g_assert_true (bl_design_undo (copy, &error));
  yard_assert_sound (copy);
}

static void
test_verify (Fixture      *fixture,
             gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) sound = NULL, damaged = NULL;
  sqlite3 *db = NULL;

  g_assert_true (bl_design_undo (fixture->design, &error));
  g_clear_object (&fixture->design);
  sound = bl_design_verify (fixture->path, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (sound->len, ==, 0);
  /* A row changed behind our back: the history no longer walks. */
  g_assert_cmpint (sqlite3_open (fixture->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "UPDATE planting SET spacing = 0.33", NULL, NULL, NULL), ==,
                   SQLITE_OK);
  sqlite3_close (db);
  damaged = bl_design_verify (fixture->path, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (damaged->len, ==, 1);
}

int
main (int    argc,
      char **argv)
{
  int result;

  g_setenv ("BEDLINE_CHECK", "1", TRUE);
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function) g_test_add ("/design/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("create", test_create);
  ADD ("reopen", test_reopen);
  ADD ("undo", test_undo);
  ADD ("new-edit-drops-undone", test_new_edit_drops_undone);
  ADD ("go-to", test_go_to);
  ADD ("snapshots", test_snapshots);
  ADD ("refused-put", test_refused_put);
  ADD ("swap-names", test_swap_names);
  ADD ("remove", test_remove);
  ADD ("copy-alternative", test_copy_alternative);
  ADD ("photo", test_photo);
  ADD ("state", test_state);
  ADD ("save-copy", test_save_copy);
  ADD ("verify", test_verify);
  result = g_test_run ();
  yard_end ();
  return result;
}
