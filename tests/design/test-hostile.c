/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that are no designs, half designs, or designs made to do harm: one sentence, never more. */
#include <glib/gstdio.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include "yard.h"

typedef struct
{
  char *folder, *good, *bad;
} Fixture;

static void
set_up (Fixture      *fixture,
        gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;

  fixture->folder = yard_folder ();
  fixture->good = yard_path (fixture->folder, "good.bedline");
  fixture->bad = yard_path (fixture->folder, "bad.bedline");
  design = bl_design_create (fixture->good, &error);
  g_assert_no_error (error);
  yard_fill (design);
}

static void
tear_down (Fixture      *fixture,
           gconstpointer data)
{
  g_free (fixture->good);
  g_free (fixture->bad);
  yard_remove_folder (fixture->folder);
}

static void
assert_refused (const char *path,
                const char *part)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = bl_design_open (path, &error);
  g_autoptr(GPtrArray) verified = NULL;

  if (design != NULL)
    g_error ("not refused (%s)", part);
  if (strstr (error->message, part) == NULL)
    g_error ("“%s” does not say “%s”", error->message, part);
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
  g_clear_error (&error);
  verified = bl_design_verify (path, &error);
  g_assert_null (verified);
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
}

static void
test_no_design (Fixture      *fixture,
                gconstpointer data)
{
  g_autofree char *missing = yard_path (fixture->folder, "missing"),
                  *fifo = yard_path (fixture->folder, "fifo");
  g_autofree char *text = g_strnfill (50000, 'x');
  sqlite3 *db = NULL;

  assert_refused (missing, "cannot be opened");
  assert_refused (fixture->folder, "is not a file");
  g_assert_cmpint (mkfifo (fifo, 0600), ==, 0);
  assert_refused (fifo, "is not a file");
  g_assert_true (g_file_set_contents (fixture->bad, "", 0, NULL));
  assert_refused (fixture->bad, "is empty");
  g_assert_true (g_file_set_contents (fixture->bad, text, -1, NULL));
  assert_refused (fixture->bad, "is not a Bedline design");
  g_assert_true (g_file_set_contents (fixture->bad, "short", -1, NULL));
  assert_refused (fixture->bad, "not a Bedline design");
  g_unlink (fixture->bad);
  g_assert_cmpint (sqlite3_open (fixture->bad, &db), ==, SQLITE_OK);
  sqlite3_exec (db, "CREATE TABLE bed (id INTEGER PRIMARY KEY)", NULL, NULL, NULL);
  sqlite3_close (db);
  assert_refused (fixture->bad, "is a database, but not a Bedline design");
}

/* ---- truncated and altered bytes ---- */

static void
test_truncated (Fixture      *fixture,
                gconstpointer data)
{
  g_autofree char *bytes = NULL;
  gsize length = 0;
  BlRng rng = bl_rng (5);

  g_assert_true (g_file_get_contents (fixture->good, &bytes, &length, NULL));
  for (int i = 0; i < 150; i++)
    {
      gsize cut = i < 60 ? (gsize) i * length / 60 : bl_rng_int (&rng, (guint) length);
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = NULL;

      g_assert_true (g_file_set_contents (fixture->bad, bytes, (gssize) cut, NULL));
      design = bl_design_open (fixture->bad, &error);
      if (design != NULL)
        g_error ("a file cut at %" G_GSIZE_FORMAT " of %" G_GSIZE_FORMAT " bytes is not refused",
                 cut, length);
      g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
    }
}

/* A byte changed anywhere: opened, or refused with our own words, and never worse. */
static void
test_altered (Fixture      *fixture,
              gconstpointer data)
{
  g_autofree char *bytes = NULL;
  gsize length = 0;
  BlRng rng = bl_rng (6);
  guint refused = 0;

  g_assert_true (g_file_get_contents (fixture->good, &bytes, &length, NULL));
  for (int i = 0; i < 150; i++)
    {
      guint at = i % 3 == 0 ? bl_rng_int (&rng, 200) : bl_rng_int (&rng, (guint) length);
      char was = bytes[at];
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = NULL;

      bytes[at] = (char) bl_rng_int (&rng, 256);
      g_assert_true (g_file_set_contents (fixture->bad, bytes, (gssize) length, NULL));
      bytes[at] = was;
      design = bl_design_open (fixture->bad, &error);
      if (design == NULL)
        {
          g_assert_true (error->domain == BL_ERROR);
          refused++;
        }
      else
        {
          g_autoptr(GPtrArray) breaches = bl_design_check (design);

          for (int k = 0; k < 2; k++)
            if (!bl_design_undo (design, NULL))
              break;
        }
    }
  g_assert_cmpuint (refused, >, 10);
}

/* ---- schemas that would do something ---- */

static void
make_bad (Fixture    *fixture,
          const char *sql)
{
  g_autofree char *bytes = NULL;
  gsize length = 0;
  sqlite3 *db = NULL;
  char *message = NULL;

  g_assert_true (g_file_get_contents (fixture->good, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (fixture->bad, bytes, (gssize) length, NULL));
  g_assert_cmpint (sqlite3_open (fixture->bad, &db), ==, SQLITE_OK);
  sqlite3_exec (db, "PRAGMA writable_schema = ON", NULL, NULL, NULL);
  if (sqlite3_exec (db, sql, NULL, NULL, &message) != SQLITE_OK)
    g_error ("%s: %s", sql, message);
  sqlite3_close (db);
}

static const struct
{
  const char *sql, *said;
} schemas[] = {
  { "CREATE TRIGGER t AFTER UPDATE ON bed BEGIN DELETE FROM planting; END",
    "it holds the trigger “t”" },
  { "CREATE VIEW v AS SELECT * FROM bed", "it holds the view “v”" },
  { "CREATE TABLE extra (id INTEGER PRIMARY KEY)", "it holds the table “extra”" },
  { "CREATE INDEX i ON bed (name)", "it holds the index “i”" },
  { "CREATE VIRTUAL TABLE f USING fts5(x)", "which no Bedline design has" },
  { "ALTER TABLE bed ADD COLUMN g TEXT GENERATED ALWAYS AS (name) VIRTUAL",
    "it holds the table “bed”" },
  { "ALTER TABLE bed ADD COLUMN more TEXT", "it holds the table “bed”" },
  { "DROP TABLE override", "it lacks the table “override”" },
  { "ALTER TABLE known RENAME TO knowns", "it holds the table “knowns”" },
  { "UPDATE sqlite_schema SET sql = replace(sql, ' STRICT', '') WHERE name = 'bed'",
    "it holds the table “bed”" },
  { "UPDATE sqlite_schema SET sql = replace(sql, 'edging_share REAL NOT NULL', 'edging_share REAL "
    "NOT NULL DEFAULT (randomblob(1000000000))') WHERE name = 'bed'",
    "" },
  { "UPDATE sqlite_schema SET sql = 'CREATE TABLE bed AS SELECT 1' WHERE name = 'bed'", "" },
  { "UPDATE sqlite_schema SET rootpage = 1 WHERE name = 'planting'", "" },
  { "UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = 'known') "
    "WHERE name = 'bed'",
    "" },
  { "UPDATE sqlite_schema SET rootpage = 999999 WHERE name = 'bed'", "" },
  { "PRAGMA application_id = 1", "is a database, but not a Bedline design" },
  { "PRAGMA user_version = 0", "is a database, but not a Bedline design" },
  { "PRAGMA user_version = -5", "is a database, but not a Bedline design" },
  { "PRAGMA user_version = 9; CREATE TRIGGER t AFTER UPDATE ON bed BEGIN DELETE FROM planting; END",
    "it holds the trigger" },
  { "PRAGMA user_version = 9; CREATE VIEW v AS SELECT 1", "it holds the view" },
  { "PRAGMA user_version = 9; CREATE VIRTUAL TABLE f USING fts5(x)", "it holds the table “f”" },
  { "PRAGMA user_version = 9; CREATE TABLE g (a INTEGER, b INTEGER GENERATED ALWAYS AS (a + 1))",
    "it holds the table “g”" },
  { "PRAGMA user_version = 9; CREATE TABLE g (a INTEGER, b INTEGER AS\t(a + 1))",
    "it holds the table “g”" },
  { "PRAGMA user_version = 9; CREATE TABLE g (a INTEGER, b INTEGER AS\n(a + 1) STORED)",
    "it holds the table “g”" },
  { "PRAGMA user_version = 9; ALTER TABLE bed ADD COLUMN g TEXT AS/**/(name)",
    "it holds the table “bed”" },
  { "PRAGMA user_version = 9; CREATE INDEX i ON bed (name || name)", "it holds the index “i”" },
  { "PRAGMA user_version = 9; CREATE INDEX i ON bed (name)\tWHERE\tid > 1", "it holds the index “i”" },
  { "PRAGMA user_version = 9; DROP TABLE override", "it lacks the table" },
};

static void
test_schemas (Fixture      *fixture,
              gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (schemas); i++)
    {
      make_bad (fixture, schemas[i].sql);
      assert_refused (fixture->bad, schemas[i].said);
    }
}

/* The conditions of a newer file are never asked: neither one that does not hold nor those that no
 * design's connection could compute, being of texts too large for it. */
static void
test_newer_conditions (Fixture      *fixture,
                       gconstpointer data)
{
  static const char *const conditions[] = {
    "a > 5",
    "length (zeroblob (3000000000)) > a",
    "a = 1 OR\tlength (hex (zeroblob (900000000))) > a",
  };

  for (guint i = 0; i < G_N_ELEMENTS (conditions); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = NULL;
      g_autoptr(GPtrArray) breaches = NULL;
      g_autofree char *sql
          = g_strdup_printf ("PRAGMA user_version = 9; PRAGMA ignore_check_constraints = ON;"
                             "CREATE TABLE generated (a INTEGER CHECK (%s));"
                             "INSERT INTO generated VALUES (2), (2); CREATE INDEX i ON generated (a)",
                             conditions[i]);

      make_bad (fixture, sql);
      design = bl_design_open (fixture->bad, &error);
      g_assert_no_error (error);
      g_assert_nonnull (strstr (bl_design_read_only_reason (design), "newer Bedline"));
      breaches = bl_design_check (design);
      g_assert_cmpuint (breaches->len, ==, 0);
      g_clear_pointer (&breaches, g_ptr_array_unref);
      breaches = bl_design_verify (fixture->bad, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (breaches->len, ==, 0);
    }
}

/* ---- rows that are none ---- */

static const char *const rows[] = {
  "UPDATE bed SET points = '[1,2,3]'",
  "UPDATE bed SET points = '[nan,1,2,3,4,5]'",
  "UPDATE bed SET points = '[1e999,1,2,3,4,5]'",
  "UPDATE bed SET points = '[0,0,1,1]'",
  "UPDATE bed SET points = NULL",
  "UPDATE bed SET points = cast(x'5b31ff2c315d' AS TEXT)",
  "UPDATE bed SET points = cast(x'5b00' AS TEXT)",
  "UPDATE bed SET sharp = '[9]', straight = 0",
  "UPDATE bed SET name = ''",
  "UPDATE bed SET name = cast(x'ff41' AS TEXT)",
  "UPDATE bed SET name = replace(hex(zeroblob(4000)), '00', 'abc')",
  "UPDATE bed SET source = 'moon'",
  "UPDATE bed SET source = 'tape'",
  "UPDATE bed SET mulch_depth = 9e999",
  "UPDATE bed SET mulch_depth = -1.0",
  "UPDATE bed SET edging_share = 2.0",
  "UPDATE bed SET straight = 7",
  "UPDATE bed SET id = -4; UPDATE planting SET bed = -4",
  "INSERT INTO bed (id, name, source, points, sharp, straight, tape_points, mulch_depth, "
  "soil_depth, edging, edging_share) SELECT 99, name, source, points, sharp, straight, tape_points, "
  "mulch_depth, soil_depth, edging, edging_share FROM bed",
  "UPDATE site SET wind = 'stormy'",
  "UPDATE site SET hot_days = -1.0",
  "UPDATE site SET part_from = 9.0",
  "UPDATE bed SET sun_hours = 25.0",
  "UPDATE planting SET form = 'heap'",
  "UPDATE planting SET points = NULL",
  "UPDATE planting SET spacing = 1e9",
  "UPDATE planting SET cluster = -1",
  "PRAGMA foreign_keys = OFF; UPDATE planting SET bed = 99",
  "PRAGMA foreign_keys = OFF; UPDATE planting SET slug = 'gone'",
  "UPDATE alternative SET name = 'A'",
  "UPDATE alternative SET position = -3",
  "UPDATE plant SET record = 'nonsense'",
  "UPDATE plant SET record = ''",
  "UPDATE text SET value = 'furlong' WHERE name = 'units'",
  "UPDATE text SET value = 'us$' WHERE name = 'currency'",
  "UPDATE text SET name = 'motto' WHERE name = 'notes'",
  "UPDATE site SET latitude = 1e300",
  "UPDATE site SET soil = 'mud'",
  "UPDATE site SET zone = 98",
  "UPDATE site SET last_frost = '13-99'",
  "DELETE FROM site",
  "DELETE FROM photo",
  "DELETE FROM meta",
  "UPDATE photo SET width = -5",
  "UPDATE photo SET width = 9000000000",
  "UPDATE price_item SET price = -1 WHERE id = 1",
  "UPDATE price_item SET kind = 'gift' WHERE id = 1",
  "UPDATE price_rule SET value = 'lots' WHERE name = 'tax_rate'",
  "UPDATE override SET field = 'mood'",
  "UPDATE override SET value = 9e999",
  "UPDATE care_mark SET done = 5000000000",
  "UPDATE own_task SET hours = -1.0",
  "INSERT INTO known VALUES (1, 'length', '[1,2]', 1.0, 0.0, 0.0, 0.0, NULL)",
  "INSERT INTO known VALUES (1, 'rectangle', '[1,2,3,4,5,6,7,8]', -1.0, 0.0, 0.0, 0.0, NULL)",
  "INSERT INTO known VALUES (1, 'wish', '[1,2,3,4]', 1.0, 0.0, 0.0, 0.0, NULL)",
  "INSERT INTO tape_point VALUES (1, 'A', 0, 0.0, 0.0), (2, 'A', 0, 0.0, 0.0)",
  "INSERT INTO tape_point VALUES (1, 'A', 0, 0.0, 0.0); INSERT INTO tape_distance VALUES (1, 1, 1, "
  "5.0, 0.0)",
  "INSERT INTO tape_point VALUES (1, 'A', 0, 0.0, 0.0), (2, 'B', 0, 0.0, 0.0); INSERT INTO "
  "tape_distance VALUES (1, 1, 2, -5.0, 0.0)",
};

static void
test_rows (Fixture      *fixture,
           gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = NULL;

      make_bad (fixture, rows[i]);
      design = bl_design_open (fixture->bad, &error);
      if (design != NULL)
        g_error ("not refused: %s", rows[i]);
      g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
    }
}

/* A table that is not STRICT in an otherwise true file could hold a text where a number should be;
 * an outline of more points than can be stored is refused before it is made. */
static void
test_huge_outline (Fixture      *fixture,
                   gconstpointer data)
{
  g_autoptr(GString) sql = g_string_new ("UPDATE bed SET points = '[0,0");

  for (int i = 1; i < 12000; i++)
    g_string_append_printf (sql, ",%d,%d", i, i % 7);
  g_string_append (sql, "]'");
  make_bad (fixture, sql->str);
  assert_refused (fixture->bad, "is damaged");
}

/* ---- histories made to do harm ---- */

static const char *const histories[] = {
  "x''",
  "x'54'",
  "x'540b'",
  "x'ffffffffffffffff'",
  "x'5403010000626564001200'",
  "zeroblob(100000)",
  /* A table that is not ours to change: history, and sqlite_schema. */
  "x'5404010000006869' || x'73746f727900' || x'0900010000000000000001030161030162040163'",
  "x'54050000000000' || cast('sqlite_schema' AS BLOB) || x'00'",
  /* A text that is said to be two gigabytes long. */
  "x'5403010000' || cast('text' AS BLOB) || x'001200' || x'010000000000000063' || "
  "x'0387ffffff7f41'",
  /* The right form with rows that are not there. */
  "x'5403010000' || cast('text' AS BLOB) || x'001200' || x'010000000000000063' || x'030161' || "
  "x'030162'",
};

static void
test_histories (Fixture      *fixture,
                gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (histories); i++)
    {
      g_autofree char *sql
          = g_strdup_printf ("UPDATE history SET changeset = cast(%s AS BLOB)", histories[i]);
      g_autofree char *before = NULL, *after = NULL;
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = NULL;
      g_autoptr(GPtrArray) verified = NULL;

      make_bad (fixture, sql);
      design = bl_design_open (fixture->bad, &error);
      g_assert_no_error (error);
      before = yard_dump (design);
      g_assert_false (bl_design_undo (design, &error));
      g_assert_true (error->domain == BL_ERROR);
      g_clear_error (&error);
      after = yard_dump (design);
      g_assert_cmpstr (before, ==, after);
      verified = bl_design_verify (fixture->bad, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (verified->len, >, 0);
    }
}

/* A byte of a changeset changed: undone, or refused, and the rows stay sound either way. */
static void
test_altered_history (Fixture      *fixture,
                      gconstpointer data)
{
  BlRng rng = bl_rng (8);

  for (int i = 0; i < 120; i++)
    {
      g_autofree char *sql = g_strdup_printf (
          "UPDATE history SET changeset = cast(substr(changeset, 1, %u %% length(changeset)) || "
          "x'%02x' ||"
          " substr(changeset, %u %% length(changeset) + 2) AS BLOB) WHERE seq = 2",
          i * 7u, bl_rng_int (&rng, 256), i * 7u);
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = NULL;

      make_bad (fixture, sql);
      design = bl_design_open (fixture->bad, &error);
      g_assert_no_error (error);
      g_assert_true (bl_design_undo (design, &error));
      bl_design_undo (design, NULL);
      {
        g_autoptr(BlDesign) again = bl_design_open (fixture->bad, &error);

        g_assert_no_error (error);
        g_assert_nonnull (again);
      }
    }
}

int
main (int    argc,
      char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
  g_test_add ("/hostile/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("no-design", test_no_design);
  ADD ("truncated", test_truncated);
  ADD ("altered", test_altered);
  ADD ("schemas", test_schemas);
  ADD ("newer-conditions", test_newer_conditions);
  ADD ("rows", test_rows);
  ADD ("huge-outline", test_huge_outline);
  ADD ("histories", test_histories);
  ADD ("altered-history", test_altered_history);
  result = g_test_run ();
  yard_end ();
  return result;
}
