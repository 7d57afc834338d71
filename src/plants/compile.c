/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From record files to the database that is searched: tables, index of names, marks. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "base/error.h"
#include "plants/library-private.h"

static const char schema[]
  = "CREATE TABLE plants ("
    " id INTEGER PRIMARY KEY,"
    " slug TEXT NOT NULL UNIQUE, name TEXT NOT NULL, common TEXT NOT NULL, color TEXT,"
    " type INTEGER NOT NULL, zone_low INTEGER NOT NULL, zone_high INTEGER NOT NULL,"
    " light INTEGER NOT NULL, moisture INTEGER NOT NULL, soil INTEGER NOT NULL,"
    " soil_salt INTEGER NOT NULL, spray_salt INTEGER NOT NULL, drought INTEGER NOT NULL,"
    " snow_load INTEGER NOT NULL, deer INTEGER NOT NULL,"
    " harm_people INTEGER NOT NULL, harm_dogs INTEGER NOT NULL,"
    " native INTEGER NOT NULL, evergreen INTEGER NOT NULL,"
    " height REAL NOT NULL, spread REAL NOT NULL,"
    " flower_from INTEGER NOT NULL, flower_to INTEGER NOT NULL,"
    " record TEXT NOT NULL) STRICT;"
    "CREATE TABLE hidden (slug TEXT PRIMARY KEY) STRICT;"
    /* remove_diacritics 2: "equinacea" finds "equinácea". */
    "CREATE VIRTUAL TABLE names USING fts5(name, common, common_es, slug,"
    " tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3');";

gboolean
bl_sqlite_error (sqlite3 *db, const char *doing, GError **error)
{
  int code = db != NULL ? sqlite3_errcode (db) : SQLITE_NOMEM;
  BlErrorCode to = code == SQLITE_BUSY || code == SQLITE_LOCKED  ? BL_ERROR_BUSY
                   : code == SQLITE_READONLY                     ? BL_ERROR_READ_ONLY
                   : code == SQLITE_FULL || code == SQLITE_NOMEM ? BL_ERROR_FAILED
                                                                 : BL_ERROR_FILE;

  g_set_error (error, BL_ERROR, to, "%s: %s", _(doing),
               db != NULL ? sqlite3_errmsg (db) : _("there is no memory for it"));
  return FALSE;
}

gboolean
bl_sqlite_exec (sqlite3 *db, const char *sql, const char *doing, GError **error)
{
  return sqlite3_exec (db, sql, NULL, NULL, NULL) == SQLITE_OK
         || bl_sqlite_error (db, doing, error);
}

gboolean
bl_library_create_tables (sqlite3 *db, GError **error)
{
  g_autofree char *marks = g_strdup_printf ("PRAGMA application_id = %d; PRAGMA user_version = %d;",
                                            BL_LIBRARY_APPLICATION_ID, BL_LIBRARY_VERSION);

  return bl_sqlite_exec (db, marks, "The plant library cannot be written", error)
         && bl_sqlite_exec (db, schema, "The plant library cannot be written", error);
}

gboolean
bl_library_create_own_tables (sqlite3 *db, GError **error)
{
  return bl_sqlite_exec (
    db,
    "CREATE TABLE IF NOT EXISTS picture (sha256 TEXT PRIMARY KEY, bytes BLOB NOT NULL) STRICT;"
    "CREATE TABLE IF NOT EXISTS nursery (id INTEGER PRIMARY KEY CHECK (id = 1), name TEXT NOT NULL,"
    " currency TEXT NOT NULL) STRICT;"
    "CREATE TABLE IF NOT EXISTS offer (slug TEXT NOT NULL, size TEXT NOT NULL, price INTEGER NOT"
    " NULL, stock INTEGER NOT NULL, day INTEGER NOT NULL, PRIMARY KEY (slug, size)) STRICT;",
    "Your own plants cannot be written", error);
}

static void
bind_facts (sqlite3_stmt *s, const BlPlant *p)
{
  g_autofree char *name = bl_plant_name (p);
  const int whole[] = { (int) p->type,      p->zone_low,         p->zone_high,
                        (int) p->light,     (int) p->moisture,   (int) p->soil,
                        (int) p->soil_salt, (int) p->spray_salt, (int) p->drought,
                        (int) p->snow_load, (int) p->deer,       (int) p->harm_people,
                        (int) p->harm_dogs, p->native,           p->leaves == BL_LEAVES_EVERGREEN };
  int i = 0;

  sqlite3_bind_text (s, 1, p->slug, -1, SQLITE_TRANSIENT);
  sqlite3_bind_text (s, 2, name, -1, SQLITE_TRANSIENT);
  sqlite3_bind_text (s, 3, p->common, -1, SQLITE_TRANSIENT);
  sqlite3_bind_text (s, 4, p->flower_color_name, -1, SQLITE_TRANSIENT);
  for (i = 0; i < (int) G_N_ELEMENTS (whole); i++)
    sqlite3_bind_int (s, 5 + i, whole[i]);
  sqlite3_bind_double (s, 20, p->height);
  sqlite3_bind_double (s, 21, p->spread);
  sqlite3_bind_int (s, 22, p->flower_from);
  sqlite3_bind_int (s, 23, p->flower_to);
  sqlite3_bind_text (s, 24, p->text, -1, SQLITE_TRANSIENT);
}

static void
bind_names (sqlite3_stmt *s, sqlite3_int64 id, const BlPlant *p)
{
  g_autofree char *name = bl_plant_name (p);

  sqlite3_bind_int64 (s, 1, id);
  sqlite3_bind_text (s, 2, name, -1, SQLITE_TRANSIENT);
  sqlite3_bind_text (s, 3, p->common, -1, SQLITE_TRANSIENT);
  sqlite3_bind_text (s, 4, p->common_es, -1, SQLITE_TRANSIENT);
  sqlite3_bind_text (s, 5, p->slug, -1, SQLITE_TRANSIENT);
}

gboolean
bl_library_insert (sqlite3 *db, const BlPlant *plant, GError **error)
{
  static const char insert[]
    = "INSERT INTO plants (slug, name, common, color, type, zone_low,"
      " zone_high, light, moisture, soil, soil_salt, spray_salt, drought,"
      " snow_load, deer, harm_people, harm_dogs, native, evergreen, height,"
      " spread, flower_from, flower_to, record) VALUES (?,?,?,?,?,?,?,?,?,?,"
      "?,?,?,?,?,?,?,?,?,?,?,?,?,?)";
  static const char index[]
    = "INSERT INTO names (rowid, name, common, common_es, slug) VALUES (?,?,?,?,?)";
  sqlite3_stmt *facts = NULL, *names = NULL;
  gboolean ok = sqlite3_prepare_v2 (db, insert, -1, &facts, NULL) == SQLITE_OK
                && sqlite3_prepare_v2 (db, index, -1, &names, NULL) == SQLITE_OK;

  if (ok)
    {
      bind_facts (facts, plant);
      ok = sqlite3_step (facts) == SQLITE_DONE;
    }
  if (ok)
    {
      bind_names (names, sqlite3_last_insert_rowid (db), plant);
      ok = sqlite3_step (names) == SQLITE_DONE;
    }
  if (!ok)
    {
      g_autofree char *doing = g_strdup_printf ("The plant “%s” cannot be stored", plant->slug);

      bl_sqlite_error (db, doing, error);
    }
  sqlite3_finalize (facts);
  sqlite3_finalize (names);
  return ok;
}

/* One record as it stands in the file, found without a key file so that the line is known and a
 * name or key given twice is seen. */
typedef struct
{
  char *slug;
  GString *text;
  guint line;
} Record;

static void
record_free (gpointer data)
{
  Record *record = data;

  g_free (record->slug);
  g_string_free (record->text, TRUE);
  g_free (record);
}

static gboolean
refuse_at (GError **error, const char *path, guint line, const char *message)
{
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "%s, line %u: %s", path, line, message);
  return FALSE;
}

static gboolean
add_line (GPtrArray *records, GHashTable *keys, char *line, const char *path, guint number,
          GError **error)
{
  Record *record = records->len > 0 ? g_ptr_array_index (records, records->len - 1) : NULL;
  char *equals = NULL;
  g_autofree char *key = NULL;

  g_strstrip (line);
  if (line[0] == '\0' || line[0] == '#')
    return TRUE;
  if (line[0] == '[')
    {
      gsize n = strlen (line);

      if (line[n - 1] != ']' || n < 3)
        return refuse_at (error, path, number, "a record begins with its slug in square brackets");
      record = g_new0 (Record, 1);
      record->slug = g_strndup (line + 1, n - 2);
      record->text = g_string_new (NULL);
      record->line = number;
      g_ptr_array_add (records, record);
      g_hash_table_remove_all (keys);
      g_string_append_printf (record->text, "%s\n", line);
      return TRUE;
    }
  equals = strchr (line, '=');
  if (record == NULL || equals == NULL)
    return refuse_at (error, path, number,
                      record == NULL ? "a key stands before the first record"
                                     : "no “=” in this line");
  key = g_strndup (line, (gsize) (equals - line));
  g_strchomp (key);
  if (g_hash_table_contains (keys, key))
    return refuse_at (error, path, number, "this key is given twice in the record");
  g_hash_table_add (keys, g_steal_pointer (&key));
  g_string_append_printf (record->text, "%s\n", line);
  return TRUE;
}

static GPtrArray *
split_file (const char *path, GError **error)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) why = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (record_free);
  g_autoptr (GHashTable) keys = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_auto (GStrv) lines = NULL;
  gsize length = 0;
  guint i = 0;

  if (!g_file_get_contents (path, &text, &length, &why))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, "%s cannot be read: %s", path, why->message);
      return NULL;
    }
  if (!g_utf8_validate (text, (gssize) length, NULL))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, "%s is not UTF-8 text", path);
      return NULL;
    }
  lines = g_strsplit (text, "\n", -1);
  for (i = 0; lines[i] != NULL; i++)
    if (!add_line (records, keys, lines[i], path, i + 1, error))
      return NULL;
  return g_steal_pointer (&records);
}

static gboolean
is_slug (const char *slug)
{
  const char *c = slug;

  for (c = slug; *c != '\0'; c++)
    if (!g_ascii_islower (*c) && !g_ascii_isdigit (*c) && *c != '-')
      return FALSE;
  return c > slug && slug[0] != '-';
}

GPtrArray *
bl_plants_read_file (const char *path, GError **error)
{
  g_autoptr (GPtrArray) records = split_file (path, error);
  g_autoptr (GPtrArray) plants = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_unref);
  guint i = 0;

  for (i = 0; records != NULL && i < records->len; i++)
    {
      const Record *record = g_ptr_array_index (records, i);
      BlPlant *plant = bl_plant_parse (record->slug, record->text->str, error);

      if (plant == NULL)
        {
          g_prefix_error (error, "%s, line %u: ", path, record->line);
          return NULL;
        }
      g_ptr_array_add (plants, plant);
      if (!is_slug (record->slug))
        {
          refuse_at (error, path, record->line,
                     "a slug has lower-case letters a to z, digits and hyphens only");
          return NULL;
        }
    }
  return records != NULL ? g_steal_pointer (&plants) : NULL;
}

static gboolean
insert_file (sqlite3 *db, GHashTable *seen, const char *path, GError **error)
{
  g_autoptr (GPtrArray) plants = bl_plants_read_file (path, error);
  guint i = 0;

  for (i = 0; plants != NULL && i < plants->len; i++)
    {
      BlPlant *plant = g_ptr_array_index (plants, i);
      const char *before = g_hash_table_lookup (seen, plant->slug);

      if (before != NULL)
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "%s: the plant “%s” is also in %s", path,
                       plant->slug, before);
          return FALSE;
        }
      g_hash_table_insert (seen, g_strdup (plant->slug), g_strdup (path));
      if (!bl_library_insert (db, plant, error))
        return FALSE;
    }
  return plants != NULL;
}

static gboolean
fill (sqlite3 *db, const char *const *files, GError **error)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  guint i = 0;

  if (!bl_sqlite_exec (db, "PRAGMA journal_mode = OFF; BEGIN",
                       "The plant library cannot be written", error)
      || !bl_library_create_tables (db, error))
    return FALSE;
  for (i = 0; files[i] != NULL; i++)
    if (!insert_file (db, seen, files[i], error))
      return FALSE;
  return bl_sqlite_exec (db, "INSERT INTO names (names) VALUES ('optimize'); COMMIT; VACUUM",
                         "The plant library cannot be written", error);
}

gboolean
bl_library_compile (const char *const *files, const char *database, GError **error)
{
  g_autofree char *fresh = g_strconcat (database, ".new", NULL);
  sqlite3 *db = NULL;
  gboolean ok = FALSE;

  g_unlink (fresh);
  ok = (sqlite3_open_v2 (fresh, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL) == SQLITE_OK
        || bl_sqlite_error (db, "The plant library cannot be written", error))
       && fill (db, files, error);
  sqlite3_close (db);
  if (ok && g_rename (fresh, database) != 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FAILED, "%s cannot be put in its place", database);
      ok = FALSE;
    }
  if (!ok)
    g_unlink (fresh);
  return ok;
}
