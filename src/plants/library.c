/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opening the library, its facts in memory, and single records. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "plants/library-private.h"

#define CANNOT_READ N_("The plant library cannot be read")

static void
facts_free (gpointer data)
{
  BlFacts *facts = data;

  g_free (facts->slug);
  g_free (facts->name);
  g_free (facts->common);
  g_free (facts->color);
  g_free (facts->folded);
  g_free (facts->folded_common);
  g_free (facts->folded_es);
  g_clear_pointer (&facts->plant, bl_plant_unref);
  g_free (facts);
}

/* Foreign files must not run code or surprise the reader. */
static gboolean
harden (sqlite3 *db, GError **error)
{
  int set = 0;

  if (sqlite3_db_config (db, SQLITE_DBCONFIG_DEFENSIVE, 1, &set) != SQLITE_OK
      || sqlite3_db_config (db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, &set) != SQLITE_OK)
    return bl_sqlite_error (db, CANNOT_READ, error);
  sqlite3_busy_timeout (db, 2000);
  return bl_sqlite_exec (db, "PRAGMA cell_size_check = ON", CANNOT_READ, error);
}

static gboolean
read_pragma (sqlite3 *db, const char *sql, int *value, GError **error)
{
  sqlite3_stmt *s = NULL;
  gboolean ok
    = sqlite3_prepare_v2 (db, sql, -1, &s, NULL) == SQLITE_OK && sqlite3_step (s) == SQLITE_ROW;

  if (ok)
    *value = sqlite3_column_int (s, 0);
  else
    bl_sqlite_error (db, CANNOT_READ, error);
  sqlite3_finalize (s);
  return ok;
}

static gboolean
check_marks (sqlite3 *db, const char *path, GError **error)
{
  int id = 0, version = 0;

  if (!read_pragma (db, "PRAGMA application_id", &id, error)
      || !read_pragma (db, "PRAGMA user_version", &version, error))
    return FALSE;
  if (id != BL_LIBRARY_APPLICATION_ID)
    g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("“%s” is not a plant library"), path);
  else if (version > BL_LIBRARY_VERSION)
    g_set_error (error, BL_ERROR, BL_ERROR_VERSION,
                 _("“%s” was written by a newer Bedline: update this one to read it"), path);
  else
    return TRUE;
  return FALSE;
}

/* The shipped database never changes while it is open: no locks, no journal beside it. */
static sqlite3 *
open_shipped (const char *path, GError **error)
{
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  g_autofree char *uri = g_filename_to_uri (absolute, NULL, error);
  g_autofree char *full = uri != NULL ? g_strconcat (uri, "?immutable=1", NULL) : NULL;
  sqlite3 *db = NULL;

  if (full == NULL)
    return NULL;
  if (sqlite3_open_v2 (full, &db, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, NULL) != SQLITE_OK)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("The plant library “%s” cannot be opened: %s"),
                   path, db != NULL ? sqlite3_errmsg (db) : "no memory");
      sqlite3_close (db);
      return NULL;
    }
  if (harden (db, error) && check_marks (db, path, error))
    return db;
  sqlite3_close (db);
  return NULL;
}

static sqlite3 *
open_own (const char *path, GError **error)
{
  sqlite3 *db = NULL;

  if (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK && harden (db, error)
      && check_marks (db, path, error))
    return db;
  if (error != NULL && *error == NULL)
    bl_sqlite_error (db, "Your own plants cannot be opened", error);
  sqlite3_close (db);
  return NULL;
}

static gboolean
prepare (sqlite3 *db, sqlite3_stmt **record, sqlite3_stmt **match, GError **error)
{
  /* Weights: the Latin and the common name count alike, the slug hardly at all. */
  return (sqlite3_prepare_v3 (db, "SELECT record FROM plants WHERE id = ?", -1,
                              SQLITE_PREPARE_PERSISTENT, record, NULL)
            == SQLITE_OK
          && sqlite3_prepare_v3 (db,
                                 "SELECT rowid, bm25(names, 10, 10, 8, 1) FROM names"
                                 " WHERE names MATCH ?",
                                 -1, SQLITE_PREPARE_PERSISTENT, match, NULL)
               == SQLITE_OK)
         || bl_sqlite_error (db, CANNOT_READ, error);
}

static BlFacts *
facts_of_row (sqlite3_stmt *s, gboolean own)
{
  BlFacts *f = g_new0 (BlFacts, 1);
  const char *spanish = (const char *) sqlite3_column_text (s, 24);

  f->own = own;
  f->id = sqlite3_column_int64 (s, 0);
  f->slug = g_strdup ((const char *) sqlite3_column_text (s, 1));
  f->name = g_strdup ((const char *) sqlite3_column_text (s, 2));
  f->common = g_strdup ((const char *) sqlite3_column_text (s, 3));
  f->color = g_strdup ((const char *) sqlite3_column_text (s, 4));
  f->folded = bl_library_fold (f->name);
  f->folded_common = bl_library_fold (f->common);
  f->folded_es = bl_library_fold (spanish != NULL ? spanish : "");
  f->type = (BlPlantType) sqlite3_column_int (s, 5);
  f->zone_low = sqlite3_column_int (s, 6);
  f->zone_high = sqlite3_column_int (s, 7);
  f->light = (guint) sqlite3_column_int (s, 8);
  f->moisture = (guint) sqlite3_column_int (s, 9);
  f->soil = (guint) sqlite3_column_int (s, 10);
  f->soil_salt = (BlGrade) sqlite3_column_int (s, 11);
  f->spray_salt = (BlGrade) sqlite3_column_int (s, 12);
  f->drought = (BlGrade) sqlite3_column_int (s, 13);
  f->snow_load = (BlGrade) sqlite3_column_int (s, 14);
  f->deer = (BlBrowse) sqlite3_column_int (s, 15);
  f->harm_people = (BlHarm) sqlite3_column_int (s, 16);
  f->harm_dogs = (BlHarm) sqlite3_column_int (s, 17);
  f->native = sqlite3_column_int (s, 18);
  f->evergreen = sqlite3_column_int (s, 19);
  f->height = sqlite3_column_double (s, 20);
  f->spread = sqlite3_column_double (s, 21);
  f->flower_from = sqlite3_column_int (s, 22);
  f->flower_to = sqlite3_column_int (s, 23);
  return f;
}

static void
add_facts (BlLibrary *library, BlFacts *facts)
{
  BlFacts *before = g_hash_table_lookup (library->by_slug, facts->slug);

  if (before != NULL)
    {
      g_hash_table_remove (library->by_slug, before->slug);
      g_hash_table_remove (library->by_id[before->own], &before->id);
      g_ptr_array_remove_fast (library->facts, before);
    }
  facts->hidden = g_hash_table_contains (library->hidden, facts->slug);
  if (!facts->own)
    g_hash_table_add (library->shipped_slugs, g_strdup (facts->slug));
  g_ptr_array_add (library->facts, facts);
  g_hash_table_insert (library->by_slug, facts->slug, facts);
  g_hash_table_insert (library->by_id[facts->own], &facts->id, facts);
}

/* The schema promises these; a damaged file does not keep to it. */
static gboolean
has_words (sqlite3_stmt *s)
{
  return sqlite3_column_text (s, 1) != NULL && sqlite3_column_text (s, 2) != NULL
         && sqlite3_column_text (s, 3) != NULL;
}

static gboolean
load (BlLibrary *library, sqlite3 *db, gboolean own, GError **error)
{
  static const char sql[]
    = "SELECT id, p.slug, p.name, p.common, color, type, zone_low, zone_high, light, moisture,"
      " soil, soil_salt, spray_salt, drought, snow_load, deer, harm_people, harm_dogs, native,"
      " evergreen, height, spread, flower_from, flower_to, n.common_es"
      " FROM plants AS p LEFT JOIN names AS n ON n.rowid = p.id ORDER BY id";
  sqlite3_stmt *s = NULL;
  int code = sqlite3_prepare_v2 (db, sql, -1, &s, NULL);

  if (code == SQLITE_OK)
    while ((code = sqlite3_step (s)) == SQLITE_ROW && has_words (s))
      add_facts (library, facts_of_row (s, own));
  if (code == SQLITE_ROW)
    g_set_error_literal (error, BL_ERROR, BL_ERROR_FILE,
                         _("The plant library cannot be read: it is damaged; install Bedline again, or "
                           "restore your own plants from a copy"));
  else if (code != SQLITE_DONE)
    bl_sqlite_error (db, CANNOT_READ, error);
  sqlite3_finalize (s);
  return code == SQLITE_DONE;
}

static gboolean
load_hidden (BlLibrary *library, GError **error)
{
  sqlite3_stmt *s = NULL;
  int code = sqlite3_prepare_v2 (library->own, "SELECT slug FROM hidden", -1, &s, NULL);

  if (code == SQLITE_OK)
    while ((code = sqlite3_step (s)) == SQLITE_ROW)
      if (sqlite3_column_text (s, 0) != NULL)
        g_hash_table_add (library->hidden, g_strdup ((const char *) sqlite3_column_text (s, 0)));
  if (code != SQLITE_DONE)
    bl_sqlite_error (library->own, CANNOT_READ, error);
  sqlite3_finalize (s);
  return code == SQLITE_DONE;
}

static void
mark_stock (BlLibrary *library)
{
  for (guint i = 0; library->stock != NULL && i < library->stock->offers->len; i++)
    {
      const BlOffer *offer = library->stock->offers->pdata[i];
      BlFacts *facts = g_hash_table_lookup (library->by_slug, offer->slug);

      if (facts != NULL && offer->stock > 0)
        facts->in_stock = TRUE;
    }
}

gboolean
bl_library_reload (BlLibrary *library, GError **error)
{
  g_hash_table_remove_all (library->by_slug);
  g_hash_table_remove_all (library->by_id[0]);
  g_hash_table_remove_all (library->by_id[1]);
  g_hash_table_remove_all (library->hidden);
  g_hash_table_remove_all (library->shipped_slugs);
  g_clear_pointer (&library->undressed, g_hash_table_unref);
  g_ptr_array_set_size (library->facts, 0);
  g_clear_pointer (&library->stock, bl_stock_free);
  library->stock = library->own != NULL ? bl_library_load_stock (library->own) : NULL;
  if (library->own != NULL && !load_hidden (library, error))
    return FALSE;
  if (!load (library, library->shipped, FALSE, error)
      || (library->own != NULL && !load (library, library->own, TRUE, error)))
    return FALSE;
  mark_stock (library);
  return TRUE;
}

gboolean
bl_library_need_own (BlLibrary *library, GError **error)
{
  g_autofree char *folder = NULL;
  sqlite3 *db = NULL;

  if (library->own != NULL)
    return bl_library_create_own_tables (library->own, error);
  if (library->own_path == NULL)
    {
      g_set_error_literal (
        error, BL_ERROR, BL_ERROR_READ_ONLY,
        _("There is no place for your own plants: this library was opened to read only"));
      return FALSE;
    }
  folder = g_path_get_dirname (library->own_path);
  g_mkdir_with_parents (folder, 0700);
  if (sqlite3_open_v2 (library->own_path, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL)
        != SQLITE_OK
      || !bl_sqlite_exec (db, "BEGIN IMMEDIATE", "Your own plants cannot be written", error)
      || !bl_library_create_tables (db, error) || !bl_library_create_own_tables (db, error)
      || !bl_sqlite_exec (db, "COMMIT", "Your own plants cannot be written", error)
      || !harden (db, error) || !prepare (db, &library->record[1], &library->match[1], error))
    {
      if (error != NULL && *error == NULL)
        bl_sqlite_error (db, "Your own plants cannot be written", error);
      sqlite3_close_v2 (db);
      return FALSE;
    }
  library->own = db;
  return TRUE;
}

BlLibrary *
bl_library_open (const char *path, const char *own_path, GError **error)
{
  g_autoptr (BlLibrary) library = g_new0 (BlLibrary, 1);
  g_autoptr (GError) why = NULL;
  guint i = 0;

  library->facts = g_ptr_array_new_with_free_func (facts_free);
  library->by_slug = g_hash_table_new (g_str_hash, g_str_equal);
  for (i = 0; i < 2; i++)
    library->by_id[i] = g_hash_table_new (g_int64_hash, g_int64_equal);
  library->hidden = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  library->shipped_slugs = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  library->own_path = g_strdup (own_path);
  library->shipped = open_shipped (path, &why);
  if (library->shipped != NULL
      && prepare (library->shipped, &library->record[0], &library->match[0], &why)
      && own_path != NULL && g_file_test (own_path, G_FILE_TEST_EXISTS))
    {
      library->own = open_own (own_path, &why);
      if (library->own != NULL)
        prepare (library->own, &library->record[1], &library->match[1], &why);
    }
  if (why == NULL)
    bl_library_reload (library, &why);
  if (why == NULL)
    return g_steal_pointer (&library);
  g_propagate_error (error, g_steal_pointer (&why));
  return NULL;
}

void
bl_library_free (BlLibrary *library)
{
  guint i = 0;

  if (library == NULL)
    return;
  for (i = 0; i < 2; i++)
    {
      sqlite3_finalize (library->record[i]);
      sqlite3_finalize (library->match[i]);
      g_hash_table_unref (library->by_id[i]);
    }
  g_hash_table_unref (library->by_slug);
  g_hash_table_unref (library->hidden);
  g_hash_table_unref (library->shipped_slugs);
  g_clear_pointer (&library->undressed, g_hash_table_unref);
  bl_stock_free (library->stock);
  g_ptr_array_unref (library->facts);
  sqlite3_close (library->shipped);
  sqlite3_close (library->own);
  g_free (library->own_path);
  g_free (library);
}

/* The program's own folder, so that a build tree and a prefix that was moved find their plants. */
static char *
program_folder (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);

  return program != NULL ? g_path_get_dirname (program) : g_strdup (".");
}

char *
bl_library_default_path (void)
{
  g_autofree char *here = program_folder ();
  g_autofree char *built = g_build_filename (here, "..", "data", "plants", NULL);
  g_autofree char *moved = g_build_filename (here, "..", "share", "bedline", NULL);
  const char *const places[] = { g_getenv ("BEDLINE_DATA"), built, moved, BL_DATADIR };
  /* BEDLINE_DATA may name the plants' folder or the one it is in. */
  const char *const names[] = { "plants.db", "plants/plants.db" };
  guint i = 0, k = 0;

  for (i = 0; i < G_N_ELEMENTS (places); i++)
    for (k = 0; places[i] != NULL && k < G_N_ELEMENTS (names); k++)
      {
        g_autofree char *path = g_build_filename (places[i], names[k], NULL);

        if (g_file_test (path, G_FILE_TEST_IS_REGULAR))
          return g_steal_pointer (&path);
      }
  return g_build_filename (BL_DATADIR, "plants.db", NULL);
}

char *
bl_library_own_path (void)
{
  return g_build_filename (g_get_user_data_dir (), "bedline", "own-plants.db", NULL);
}

guint
bl_library_n_plants (BlLibrary *library)
{
  return library->facts->len;
}

BlPlant *
bl_library_plant_of (BlLibrary *library, BlFacts *facts, GError **error)
{
  sqlite3 *db = facts->own ? library->own : library->shipped;
  BL_STATEMENT_IN_USE *s = library->record[facts->own];

  if (facts->plant != NULL)
    return facts->plant;
  sqlite3_bind_int64 (s, 1, facts->id);
  if (sqlite3_step (s) != SQLITE_ROW || sqlite3_column_text (s, 0) == NULL)
    {
      bl_sqlite_error (db, CANNOT_READ, error);
      return NULL;
    }
  facts->plant = bl_plant_parse (facts->slug, (const char *) sqlite3_column_text (s, 0), error);
  if (facts->plant != NULL && facts->plant->cutout != NULL)
    {
      g_autoptr (GBytes) bytes = bl_library_picture (library, facts->plant->cutout->sha256);

      bl_plant_lend_picture (facts->plant, bytes);
    }
  return facts->plant;
}

/* Levenshtein distance, with two rows. */
static guint
edits (const char *a, const char *b)
{
  gsize n = strlen (b), i = 0, j = 0;
  g_autofree guint *row = g_new (guint, n + 1);

  for (j = 0; j <= n; j++)
    row[j] = (guint) j;
  for (i = 0; a[i] != '\0'; i++)
    {
      guint corner = row[0];

      row[0] = (guint) i + 1;
      for (j = 0; j < n; j++)
        {
          guint swap = corner + (a[i] != b[j]);

          corner = row[j + 1];
          row[j + 1] = MIN (MIN (row[j] + 1, row[j + 1] + 1), swap);
        }
    }
  return row[n];
}

static char *
nearest_slugs (BlLibrary *library, const char *slug)
{
  const char *best[3] = { NULL };
  guint away[3] = { G_MAXUINT, G_MAXUINT, G_MAXUINT };
  guint i = 0, k = 0;

  for (i = 0; i < library->facts->len; i++)
    {
      const BlFacts *f = g_ptr_array_index (library->facts, i);
      guint d = edits (slug, f->slug);

      for (k = 3; k > 0 && d < away[k - 1]; k--)
        if (k < 3)
          {
            away[k] = away[k - 1];
            best[k] = best[k - 1];
          }
      if (k < 3)
        {
          away[k] = d;
          best[k] = f->slug;
        }
    }
  return g_strjoin (", ", best[0], best[1], best[2], NULL);
}

BlPlant *
bl_library_get (BlLibrary *library, const char *slug, GError **error)
{
  BlFacts *facts = g_hash_table_lookup (library->by_slug, slug);
  g_autofree char *near = NULL;
  BlPlant *plant = NULL;

  if (facts != NULL)
    {
      plant = bl_library_plant_of (library, facts, error);
      return plant != NULL ? bl_plant_ref (plant) : NULL;
    }
  near = nearest_slugs (library, slug);
  g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
               _("There is no plant “%s” in the library; the nearest are %s"), slug,
               near != NULL && near[0] != '\0' ? near : _("none, the library is empty"));
  return NULL;
}
