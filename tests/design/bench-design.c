/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long opening, editing, undoing and writing a design take, beside what SQLite alone needs. */
#include <sqlite3.h>
#include <stdio.h>

#include "../bench/bench.h"
#include "yard.h"

#define ROUNDS 7

typedef struct
{
  char *folder, *path, *copy;
  BlDesign *design;
  sqlite3 *plain; /* a bare connection to a copy of the same file */
  gint64 planting;
  guint n, turn;
} Bench;

typedef void (*Work) (Bench *bench);

static void
bench_begin (Bench *bench,
             guint  n)
{
  g_autoptr(GError) error = NULL;
  BlRng rng = bl_rng (3);
  gint64 bed, a;

  memset (bench, 0, sizeof *bench);
  bench->n = n;
  bench->folder = yard_folder ();
  bench->path = yard_path (bench->folder, "bench.bedline");
  bench->copy = yard_path (bench->folder, "plain.bedline");
  bench->design = bl_design_create (bench->path, &error);
  g_assert_no_error (error);
  yard_begin (bench->design, "Fill");
  yard_put_plants (bench->design);
  bed = yard_put_bed (bench->design, "Strip", 0, 0, 60);
  a = yard_put_alternative (bench->design, "A");
  for (guint i = 0; i < n; i++)
    bench->planting = yard_put_specimen (bench->design, a, bed, yard_slugs[i % YARD_PLANTS],
                                         bl_rng_range (&rng, 0, 60), bl_rng_range (&rng, 0, 60));
  yard_commit (bench->design);
  g_assert_true (bl_design_save_copy (bench->design, bench->copy, &error));
  g_assert_cmpint (sqlite3_open (bench->copy, &bench->plain), ==, SQLITE_OK);
  sqlite3_exec (bench->plain, "PRAGMA synchronous = EXTRA", NULL, NULL, NULL);
}

static void
bench_end (Bench *bench)
{
  sqlite3_close (bench->plain);
  g_clear_object (&bench->design);
  g_free (bench->path);
  g_free (bench->copy);
  yard_remove_folder (bench->folder);
}

static double
fastest_ms (Bench *bench,
            Work   work)
{
  double fastest = INFINITY;

  for (int i = 0; i < ROUNDS; i++)
    {
      gint64 start = g_get_monotonic_time ();

      bench->turn++;
      work (bench);
      fastest = MIN (fastest, (double) (g_get_monotonic_time () - start) / 1000);
    }
  return fastest;
}

/* ---- ours ---- */

static void
open_ours (Bench *bench)
{
  g_autoptr(BlDesign) design = bl_design_open (bench->path, NULL);

  g_assert_nonnull (design);
}

static void
move_ours (Bench *bench)
{
  g_autoptr (BlPlanting) planting
      = bl_planting_copy (bl_model_planting (bl_design_get_model (bench->design), bench->planting));

  bl_points_at (planting->shape->points, 0).x = bench->turn * 0.01;
  yard_begin (bench->design, "Move");
  g_assert_true (bl_design_put_planting (bench->design, planting, NULL));
  yard_commit (bench->design);
}

static void
undo_ours (Bench *bench)
{
  g_assert_true (bl_design_undo (bench->design, NULL));
}

static void
redo_ours (Bench *bench)
{
  g_assert_true (bl_design_redo (bench->design, NULL));
}

static void
sheet_ours (Bench *bench)
{
  g_autofree char *sheet = bl_sheet_write_with (bench->design, yard_library (), NULL);

  g_assert_nonnull (sheet);
}

static void
copy_ours (Bench *bench)
{
  g_autofree char *path = yard_path (bench->folder, "copy.bedline");

  g_assert_true (bl_design_save_copy (bench->design, path, NULL));
  g_unlink (path);
}

/* ---- floors ---- */

static void
open_plain (Bench *bench)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *stmt = NULL;

  g_assert_cmpint (sqlite3_open (bench->copy, &db), ==, SQLITE_OK);
  sqlite3_exec (db, "PRAGMA quick_check(1)", NULL, NULL, NULL);
  sqlite3_prepare_v2 (db, "SELECT * FROM planting ORDER BY id", -1, &stmt, NULL);
  while (sqlite3_step (stmt) == SQLITE_ROW)
    sqlite3_column_text (stmt, 6);
  sqlite3_finalize (stmt);
  sqlite3_close (db);
}

/* One row of plantings and one of a log, in one durable transaction. */
static void
edit_plain (Bench *bench)
{
  g_autofree char *sql = g_strdup_printf (
    "BEGIN IMMEDIATE; UPDATE planting SET points = '[%u.25,1]' WHERE id = %u;"
    "INSERT INTO history (label, at, changeset) VALUES ('Move', '2026', zeroblob(200)); COMMIT",
    bench->turn, bench->n);

  g_assert_cmpint (sqlite3_exec (bench->plain, sql, NULL, NULL, NULL), ==, SQLITE_OK);
}

static void
dump_plain (Bench *bench)
{
  g_autofree char *dump = yard_dump (bench->design);
}

static void
copy_plain (Bench *bench)
{
  g_autofree char *bytes = NULL, *path = yard_path (bench->folder, "bytes");
  gsize length = 0;

  g_assert_true (g_file_get_contents (bench->copy, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents_full (path, bytes, (gssize) length, G_FILE_SET_CONTENTS_DURABLE,
                                           0600, NULL));
  g_unlink (path);
}

typedef struct
{
  double figure, floor; /* milliseconds */
} Told;

static Told
tell (Bench      *bench,
      const char *name,
      Work        ours,
      Work        plain,
      const char *note)
{
  double figure = fastest_ms (bench, ours), lowest = fastest_ms (bench, plain);

  printf ("%-18s %6u plantings %9.2f ms  floor %9.2f ms  ratio %5.1f  %s\n", name, bench->n, figure,
          lowest, figure / lowest, note);
  return (Told) { figure, lowest };
}

static void
put_row (const char *name, const Told *told, const char *note)
{
  bench_row (name, told[1].figure, told[1].floor, told[2].figure, note);
}

int
main (int    argc,
      char **argv)
{
  static const guint sizes[] = { 100, 1000, 10000 };

  Told opened[3], moved[3], undone[3], copied[3];

  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      Bench bench;

      bench_begin (&bench, sizes[i]);
      opened[i] = tell (&bench, "open", open_ours, open_plain, "SQLite: quick_check and all rows");
      moved[i] = tell (&bench, "move one plant", move_ours, edit_plain,
            "SQLite: the same rows, one durable transaction");
      undone[i] = tell (&bench, "undo", undo_ours, edit_plain, "likewise");
      tell (&bench, "redo", redo_ours, edit_plain, "likewise");
      copied[i] = tell (&bench, "save a copy", copy_ours, copy_plain, "the bytes read and written durably");
      tell (&bench, "write the sheet", sheet_ours, dump_plain, "a dump of the model without units");
      bench_end (&bench);
    }
  put_row ("open a design", opened, "1,000 and 10,000 plantings; floor: quick_check and all rows by SQLite");
  put_row ("save an edit durably", moved, "one plant moved; floor: the same rows in one transaction");
  put_row ("undo", undone, "likewise");
  put_row ("save a copy", copied, "floor: the bytes read and written durably");
  yard_end ();
  return 0;
}
