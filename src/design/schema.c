/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables of a design file, how they grew, and the test that a file has these and nothing else. */
#include "base/say.h"
#include "design/schema.h"

#include <string.h>

/* Every table is STRICT, so that quick_check also looks at the type of every value. Names of beds
 * and alternatives are unique by a check at commit, not by an index: two names may be swapped
 * within one edit, and its inverse must apply row by row. There is no ON DELETE action: what goes
 * with a bed is deleted by its own statement and so stands in the changeset by itself. */
static const char *const first[] = {
  /* One row. Edits and view states are counted, so that another program's are noticed; "done" is
   * the last edit of the history that is not undone, 0 = none. */
  "CREATE TABLE meta (id INTEGER PRIMARY KEY CHECK (id = 1), revision INTEGER NOT NULL, states "
  "INTEGER NOT NULL, done INTEGER NOT NULL) STRICT",
  "CREATE TABLE state (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, value TEXT NOT NULL) "
  "STRICT",
  /* The changeset of each edit; those after meta.done are undone. */
  "CREATE TABLE history (seq INTEGER PRIMARY KEY, label TEXT NOT NULL, at TEXT NOT NULL, changeset "
  "BLOB NOT NULL) STRICT",
  /* Photos are kept once, never changed, and stay while the edit that brought them can be redone.
   */
  "CREATE TABLE picture (id INTEGER PRIMARY KEY, edit INTEGER NOT NULL, sha256 TEXT NOT NULL, "
  "bytes BLOB NOT NULL) STRICT",
  "CREATE TABLE text (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, value TEXT NOT NULL) "
  "STRICT",
  "CREATE TABLE site (id INTEGER PRIMARY KEY CHECK (id = 1), latitude REAL, longitude REAL, north "
  "REAL, zone INTEGER NOT NULL, last_frost TEXT, first_frost TEXT, soil TEXT NOT NULL, ph REAL NOT "
  "NULL, moisture TEXT NOT NULL, sun_hours REAL, salt_edge INTEGER NOT NULL, children INTEGER NOT "
  "NULL, pets INTEGER NOT NULL, deer INTEGER NOT NULL, state TEXT) STRICT",
  "CREATE TABLE photo (id INTEGER PRIMARY KEY CHECK (id = 1), picture INTEGER REFERENCES picture "
  "(id), name TEXT, width INTEGER NOT NULL, height INTEGER NOT NULL, focal_35mm REAL NOT NULL, "
  "click_px REAL NOT NULL, slope REAL NOT NULL, slope_direction REAL NOT NULL) STRICT",
  "CREATE TABLE known (id INTEGER PRIMARY KEY, kind TEXT NOT NULL, px TEXT NOT NULL, size_1 REAL "
  "NOT NULL, size_2 REAL NOT NULL, sd REAL NOT NULL, click_px REAL NOT NULL, name TEXT) STRICT",
  "CREATE TABLE tape_point (id INTEGER PRIMARY KEY, name TEXT NOT NULL, fixed INTEGER NOT NULL, x "
  "REAL NOT NULL, y REAL NOT NULL) STRICT",
  "CREATE TABLE tape_distance (id INTEGER PRIMARY KEY, start INTEGER NOT NULL REFERENCES "
  "tape_point (id), finish INTEGER NOT NULL REFERENCES tape_point (id), distance REAL NOT NULL, sd "
  "REAL NOT NULL) STRICT",
  "CREATE TABLE feature (id INTEGER PRIMARY KEY, kind TEXT NOT NULL, name TEXT, source TEXT NOT "
  "NULL, points TEXT NOT NULL, sharp TEXT, straight INTEGER NOT NULL, open INTEGER NOT NULL, "
  "height REAL NOT NULL, tolerance REAL NOT NULL) STRICT",
  "CREATE TABLE bed (id INTEGER PRIMARY KEY, name TEXT NOT NULL, source TEXT NOT NULL, points "
  "TEXT, sharp TEXT, straight INTEGER NOT NULL, tape_points TEXT, mulch_depth REAL NOT NULL, "
  "soil_depth REAL NOT NULL, edging TEXT, edging_share REAL NOT NULL) STRICT",
  "CREATE TABLE alternative (id INTEGER PRIMARY KEY, position INTEGER NOT NULL, name TEXT NOT "
  "NULL, idea TEXT NOT NULL, colors TEXT NOT NULL) STRICT",
  "CREATE TABLE plant (id INTEGER PRIMARY KEY, slug TEXT NOT NULL UNIQUE, record TEXT NOT NULL) "
  "STRICT",
  "CREATE TABLE planting (id INTEGER PRIMARY KEY, alternative INTEGER NOT NULL REFERENCES "
  "alternative (id), bed INTEGER NOT NULL REFERENCES bed (id), slug TEXT NOT NULL REFERENCES plant "
  "(slug), size TEXT, form TEXT NOT NULL, points TEXT, sharp TEXT, straight INTEGER NOT NULL, open "
  "INTEGER NOT NULL, spacing REAL NOT NULL, square INTEGER NOT NULL, locked INTEGER NOT NULL, "
  "cluster INTEGER NOT NULL, note TEXT) STRICT",
  "CREATE TABLE price_item (id INTEGER PRIMARY KEY, code TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, "
  "name TEXT NOT NULL, unit TEXT NOT NULL, price INTEGER NOT NULL, amount REAL NOT NULL, supplier "
  "TEXT, invented INTEGER NOT NULL) STRICT",
  "CREATE TABLE price_rule (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, value TEXT NOT "
  "NULL) STRICT",
  "CREATE TABLE override (id INTEGER PRIMARY KEY, alternative INTEGER NOT NULL REFERENCES "
  "alternative (id), line TEXT NOT NULL, field TEXT NOT NULL, value REAL NOT NULL, note TEXT) "
  "STRICT",
  "CREATE TABLE care_mark (id INTEGER PRIMARY KEY, uid TEXT NOT NULL, done INTEGER NOT NULL, moved "
  "INTEGER NOT NULL, dropped INTEGER NOT NULL) STRICT",
  "CREATE TABLE own_task (id INTEGER PRIMARY KEY, title TEXT NOT NULL, day INTEGER NOT NULL, "
  "yearly INTEGER NOT NULL, hours REAL NOT NULL) STRICT",
};

/* What later versions added. A column goes to the end of its table and can be left out, so that the
 * changesets of an older history still apply to it. A whole table has no @table and its statement
 * for @added. Nothing here is ever changed or taken out once a version has been used. */
static const struct
{
  int since;
  const char *table, *added;
} growth[] = {
  { 2, NULL,
    "CREATE TABLE drawing (id INTEGER PRIMARY KEY CHECK (id = 1), picture INTEGER REFERENCES picture "
    "(id), name TEXT, width INTEGER NOT NULL, height INTEGER NOT NULL, x1 REAL NOT NULL, y1 "
    "REAL NOT NULL, x2 REAL NOT NULL, y2 REAL NOT NULL, length REAL NOT NULL, sd REAL NOT NULL, "
    "click_px REAL NOT NULL, place_x REAL, place_y REAL, turn REAL NOT NULL) STRICT" },
  { 2, "site", "wind TEXT NOT NULL DEFAULT 'unknown'" },
  { 2, "site", "hot_days REAL" },
  { 2, "site", "fire_zone INTEGER NOT NULL DEFAULT 0" },
  { 2, "site", "full_from REAL" },
  { 2, "site", "part_from REAL" },
  { 2, "bed", "sun_hours REAL" },
  { 2, "bed", "cover TEXT NOT NULL DEFAULT 'bark'" },
  { 2, "planting", "stood TEXT" },
};

static const BlTableInfo tables[BL_TABLE_N] = {
  { "text", "name,value", 3, BL_TOUCHED_TEXTS, BL_SAID ("texts") },
  { "site",
    "latitude,longitude,north,zone,last_frost,first_frost,soil,ph,moisture,sun_hours,salt_edge,"
    "children,pets,deer,state,wind,hot_days,fire_zone,full_from,part_from",
    21, BL_TOUCHED_SITE, BL_SAID ("site") },
  { "photo", "picture,name,width,height,focal_35mm,click_px,slope,slope_direction", 9,
    BL_TOUCHED_PHOTO, BL_SAID ("photo") },
  { "drawing", "picture,name,width,height,x1,y1,x2,y2,length,sd,click_px,place_x,place_y,turn", 15,
    BL_TOUCHED_DRAWING, BL_SAID ("base drawing") },
  { "known", "kind,px,size_1,size_2,sd,click_px,name", 8, BL_TOUCHED_KNOWNS, BL_SAID ("knowns") },
  { "tape_point", "name,fixed,x,y", 5, BL_TOUCHED_KNOWNS, BL_SAID ("tape points") },
  { "tape_distance", "start,finish,distance,sd", 5, BL_TOUCHED_KNOWNS, BL_SAID ("taped distances") },
  { "feature", "kind,name,source,points,sharp,straight,open,height,tolerance", 10,
    BL_TOUCHED_FEATURES, BL_SAID ("features") },
  { "bed",
    "name,source,points,sharp,straight,tape_points,mulch_depth,soil_depth,edging,edging_share,"
    "sun_hours,cover",
    13, BL_TOUCHED_BEDS, BL_SAID ("beds") },
  { "alternative", "position,name,idea,colors", 5, BL_TOUCHED_ALTERNATIVES, BL_SAID ("alternatives") },
  { "plant", "slug,record", 3, BL_TOUCHED_PLANTS, BL_SAID ("plants") },
  { "planting",
    "alternative,bed,slug,size,form,points,sharp,straight,open,spacing,square,locked,cluster,note,"
    "stood",
    16, BL_TOUCHED_PLANTINGS, BL_SAID ("plantings") },
  { "price_item", "code,kind,name,unit,price,amount,supplier,invented", 9, BL_TOUCHED_PRICES,
    BL_SAID ("prices") },
  { "price_rule", "name,value", 3, BL_TOUCHED_PRICES, BL_SAID ("price rules") },
  { "override", "alternative,line,field,value,note", 6, BL_TOUCHED_PRICES, BL_SAID ("own figures") },
  { "care_mark", "uid,done,moved,dropped", 5, BL_TOUCHED_CARE, BL_SAID ("care marks") },
  { "own_task", "title,day,yearly,hours", 5, BL_TOUCHED_CARE, BL_SAID ("own tasks") },
};

const BlTableInfo *
bl_table_info (BlTable table)
{
  g_return_val_if_fail ((guint) table < BL_TABLE_N, NULL);
  return &tables[table];
}

guint
bl_table_first_columns (BlTable table)
{
  guint n = tables[table].n_columns;

  for (guint i = 0; i < G_N_ELEMENTS (growth); i++)
    if (g_strcmp0 (growth[i].table, tables[table].name) == 0)
      n--;
  return n;
}

BlTable
bl_table_named (const char *name)
{
  for (int i = 0; i < BL_TABLE_N; i++)
    if (strcmp (tables[i].name, name) == 0)
      return (BlTable) i;
  return BL_TABLE_N;
}

static int
stamp (sqlite3 *db)
{
  g_autofree char *sql = g_strdup_printf ("PRAGMA application_id = %d; PRAGMA user_version = %d",
                                          BL_DESIGN_APPLICATION_ID, BL_DESIGN_VERSION);

  return sqlite3_exec (db, sql, NULL, NULL, NULL);
}

int
bl_schema_grow (sqlite3 *db,
                int      version)
{
  int rc = SQLITE_OK;

  for (guint i = 0; i < G_N_ELEMENTS (growth) && rc == SQLITE_OK; i++)
    if (growth[i].since > version && growth[i].table == NULL)
      rc = sqlite3_exec (db, growth[i].added, NULL, NULL, NULL);
    else if (growth[i].since > version)
      {
        g_autofree char *sql
            = g_strdup_printf ("ALTER TABLE %s ADD COLUMN %s", growth[i].table, growth[i].added);

        rc = sqlite3_exec (db, sql, NULL, NULL, NULL);
      }
  return rc == SQLITE_OK ? stamp (db) : rc;
}

int
bl_schema_create (sqlite3 *db)
{
  int rc = SQLITE_OK;

  for (guint i = 0; i < G_N_ELEMENTS (first) && rc == SQLITE_OK; i++)
    rc = sqlite3_exec (db, first[i], NULL, NULL, NULL);
  if (rc == SQLITE_OK)
    rc = sqlite3_exec (db, "INSERT INTO meta (id, revision, states, done) VALUES (1, 1, 0, 0)",
                       NULL, NULL, NULL);
  return rc == SQLITE_OK ? bl_schema_grow (db, 1) : rc;
}

/* ---- is a schema ours ---- */

static const char *
column_text (sqlite3_stmt *stmt,
             int           column)
{
  const unsigned char *text = sqlite3_column_text (stmt, column);

  return text != NULL ? (const char *) text : "";
}

/* @sql of a table with the columns that it had gained by @version, as SQLite itself writes it. */
static char *
grown (const char *sql,
       const char *name,
       int         version)
{
  static const char end[] = ") STRICT";
  GString *text = g_string_new_len (sql, (gssize) (strlen (sql) - strlen (end)));

  for (guint i = 0; i < G_N_ELEMENTS (growth); i++)
    if (growth[i].since <= version && g_strcmp0 (growth[i].table, name) == 0)
      g_string_append_printf (text, ", %s", growth[i].added);
  g_string_append (text, end);
  return g_string_free (text, FALSE);
}

static char *
name_in (const char *sql)
{
  const char *start = sql + strlen ("CREATE TABLE ");

  return g_strndup (start, strcspn (start, " "));
}

/* Table name -> the statement that makes it, for all tables of @version. */
static GHashTable *
statements_of (int version)
{
  GHashTable *statements = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  for (guint i = 0; i < G_N_ELEMENTS (first) + G_N_ELEMENTS (growth); i++)
    {
      guint later = i - G_N_ELEMENTS (first);
      const char *sql = i < G_N_ELEMENTS (first) ? first[i] : growth[later].added;
      char *name;

      if (i >= G_N_ELEMENTS (first)
          && (sql == NULL || growth[later].table != NULL || growth[later].since > version))
        continue;
      name = name_in (sql);
      g_hash_table_insert (statements, name, grown (sql, name, version));
    }
  return statements;
}

static char *
differs (sqlite3_stmt *row)
{
  return g_strdup_printf ("it holds the %.20s “%.60s”, which no Bedline design has",
                          column_text (row, 0), column_text (row, 1));
}

/* One row of sqlite_schema of a file of a version we know: one of our tables word for word, or the
 * index that SQLite makes for a UNIQUE column by itself. */
static gboolean
is_ours (sqlite3_stmt *row,
         GHashTable   *statements)
{
  const char *type = column_text (row, 0), *name = column_text (row, 1);

  if (strcmp (type, "index") == 0)
    return g_str_has_prefix (name, "sqlite_autoindex_")
           && sqlite3_column_type (row, 2) == SQLITE_NULL;
  return strcmp (type, "table") == 0
         && g_strcmp0 (g_hash_table_lookup (statements, name), column_text (row, 2)) == 0;
}

/* A newer version may have more tables and columns, but nothing that runs when it is read. */
static gboolean
is_harmless (sqlite3_stmt *row)
{
  const char *type = column_text (row, 0);

  return strcmp (type, "index") == 0
         || (strcmp (type, "table") == 0
             && g_ascii_strncasecmp (column_text (row, 2), "CREATE TABLE ", 13) == 0);
}

/* What computes within tables and indexes that are harmless by their kind: generated columns, indexes
 * on expressions or of some rows only. SQLite itself is asked, for words can be written in many ways. */
static gboolean
computes_nothing (sqlite3 *db,
                  char   **difference,
                  int     *rc)
{
  static const char sql[]
      = "SELECT s.type, s.name FROM sqlite_schema s, pragma_table_xinfo (s.name) c WHERE s.type = "
        "'table' AND c.hidden IN (2, 3) UNION ALL "
        "SELECT s.type, s.name FROM sqlite_schema s, pragma_index_xinfo (s.name) c WHERE s.type = "
        "'index' AND c.cid = -2 UNION ALL "
        "SELECT 'index', i.name FROM sqlite_schema s, pragma_index_list (s.name) i WHERE s.type = "
        "'table' AND i.partial";
  sqlite3_stmt *found = NULL;

  *rc = sqlite3_prepare_v2 (db, sql, -1, &found, NULL);
  if (*rc == SQLITE_OK)
    *rc = sqlite3_step (found);
  if (*rc == SQLITE_ROW)
    *difference = differs (found);
  sqlite3_finalize (found);
  return *rc == SQLITE_DONE;
}

static gboolean
all_there (GHashTable *statements,
           GHashTable *seen,
           char      **difference)
{
  GHashTableIter iter;
  gpointer name = NULL;

  g_hash_table_iter_init (&iter, statements);
  while (g_hash_table_iter_next (&iter, &name, NULL))
    if (!g_hash_table_contains (seen, name))
      {
        *difference = g_strdup_printf ("it lacks the table “%s”", (const char *) name);
        return FALSE;
      }
  return TRUE;
}

gboolean
bl_schema_matches (sqlite3 *db,
                   int      version,
                   char   **difference,
                   int     *rc)
{
  g_autoptr(GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr(GHashTable) statements = statements_of (MIN (version, BL_DESIGN_VERSION));
  sqlite3_stmt *row = NULL;
  gboolean ok = TRUE;

  *difference = NULL;
  *rc = sqlite3_prepare_v2 (db, "SELECT type, name, sql FROM sqlite_schema", -1, &row, NULL);
  if (*rc != SQLITE_OK)
    return FALSE;
  while (ok && (*rc = sqlite3_step (row)) == SQLITE_ROW)
    {
      ok = version > BL_DESIGN_VERSION ? is_harmless (row) : is_ours (row, statements);
      if (!ok)
        *difference = differs (row);
      g_hash_table_add (seen, g_strdup (column_text (row, 1)));
    }
  sqlite3_finalize (row);
  if (!ok || *rc != SQLITE_DONE
      || (version > BL_DESIGN_VERSION && !computes_nothing (db, difference, rc)))
    return FALSE;
  *rc = SQLITE_OK;
  return all_there (statements, seen, difference);
}
