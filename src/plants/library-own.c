/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's own plants: put, removed, hidden, and carried in and out as CSV. */
#include <string.h>

#include "base/csv.h"
#include "base/error.h"
#include "plants/library-private.h"

#define CANNOT_WRITE "Your own plants cannot be written"

static gboolean
run_with_slug (sqlite3 *db, const char *sql, const char *slug, GError **error)
{
  sqlite3_stmt *s = NULL;
  gboolean ok = sqlite3_prepare_v2 (db, sql, -1, &s, NULL) == SQLITE_OK;

  if (ok)
    {
      sqlite3_bind_text (s, 1, slug, -1, SQLITE_TRANSIENT);
      ok = sqlite3_step (s) == SQLITE_DONE;
    }
  if (!ok)
    bl_sqlite_error (db, CANNOT_WRITE, error);
  sqlite3_finalize (s);
  return ok;
}

static gboolean
delete_row (sqlite3 *db, const char *slug, GError **error)
{
  return run_with_slug (db,
                        "DELETE FROM names WHERE rowid = (SELECT id FROM plants WHERE slug = ?)",
                        slug, error)
         && run_with_slug (db, "DELETE FROM plants WHERE slug = ?", slug, error);
}

static gboolean
begin (BlLibrary *library, GError **error)
{
  return bl_library_need_own (library, error)
         && bl_sqlite_exec (library->own, "BEGIN IMMEDIATE", CANNOT_WRITE, error);
}

/* Commits when all went well, else takes everything back; then the memory follows the file. */
static gboolean
end (BlLibrary *library, gboolean ok, GError **error)
{
  if (ok)
    ok = bl_sqlite_exec (library->own, "COMMIT", CANNOT_WRITE, error);
  if (!ok)
    {
      sqlite3_exec (library->own, "ROLLBACK", NULL, NULL, NULL);
      return FALSE;
    }
  return bl_library_reload (library, error);
}

gboolean
bl_library_put_own (BlLibrary *library, const char *slug, const char *record, GError **error)
{
  g_autoptr (BlPlant) plant = bl_plant_parse (slug, record, error);

  if (plant == NULL || !begin (library, error))
    return FALSE;
  return end (library,
              delete_row (library->own, slug, error)
                && bl_library_insert (library->own, plant, error),
              error);
}

gboolean
bl_library_remove_own (BlLibrary *library, const char *slug, GError **error)
{
  if (!bl_library_is_own (library, slug))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                   "“%s” is not among your own plants; a plant of ours can be hidden instead",
                   slug);
      return FALSE;
    }
  return begin (library, error) && end (library, delete_row (library->own, slug, error), error);
}

gboolean
bl_library_set_hidden (BlLibrary *library, const char *slug, gboolean hidden, GError **error)
{
  const char *sql = hidden ? "INSERT OR IGNORE INTO hidden (slug) VALUES (?)"
                           : "DELETE FROM hidden WHERE slug = ?";

  if (!g_hash_table_contains (library->by_slug, slug))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND, "There is no plant “%s” in the library",
                   slug);
      return FALSE;
    }
  return begin (library, error)
         && end (library, run_with_slug (library->own, sql, slug, error), error);
}

gboolean
bl_library_is_hidden (BlLibrary *library, const char *slug)
{
  return g_hash_table_contains (library->hidden, slug);
}

gboolean
bl_library_is_own (BlLibrary *library, const char *slug)
{
  const BlFacts *facts = g_hash_table_lookup (library->by_slug, slug);

  return facts != NULL && facts->own;
}

static int
compare_texts (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

GStrv
bl_library_slugs (BlLibrary *library)
{
  GPtrArray *slugs = g_ptr_array_new ();
  guint i = 0;

  for (i = 0; i < library->facts->len; i++)
    {
      const BlFacts *facts = g_ptr_array_index (library->facts, i);

      if (!facts->hidden)
        g_ptr_array_add (slugs, g_strdup (facts->slug));
    }
  g_ptr_array_sort (slugs, compare_texts);
  g_ptr_array_add (slugs, NULL);
  return (GStrv) g_ptr_array_free (slugs, FALSE);
}

char *
bl_library_export_own (BlLibrary *library, GError **error)
{
  g_auto (GStrv) slugs = bl_library_slugs (library);
  const char *const *keys = bl_plant_keys ();
  GPtrArray *row = g_ptr_array_new_with_free_func (g_free);
  GString *csv = g_string_new (NULL);
  guint i = 0, k = 0;

  g_ptr_array_add (row, g_strdup ("slug"));
  for (k = 0; keys[k] != NULL; k++)
    g_ptr_array_add (row, g_strdup (keys[k]));
  g_ptr_array_add (row, NULL);
  bl_csv_append (csv, (const char *const *) row->pdata);
  for (i = 0; slugs[i] != NULL; i++)
    {
      g_autoptr (GKeyFile) file = g_key_file_new ();
      g_autoptr (BlPlant) plant = NULL;

      if (!bl_library_is_own (library, slugs[i]))
        continue;
      plant = bl_library_get (library, slugs[i], error);
      if (plant == NULL
          || !g_key_file_load_from_data (file, plant->text, strlen (plant->text), 0, error))
        {
          g_ptr_array_unref (row);
          g_string_free (csv, TRUE);
          return NULL;
        }
      g_ptr_array_set_size (row, 0);
      g_ptr_array_add (row, g_strdup (slugs[i]));
      for (k = 0; keys[k] != NULL; k++)
        {
          char *value = g_key_file_get_value (file, slugs[i], keys[k], NULL);

          g_ptr_array_add (row, value != NULL ? value : g_strdup (""));
        }
      g_ptr_array_add (row, NULL);
      bl_csv_append (csv, (const char *const *) row->pdata);
    }
  g_ptr_array_unref (row);
  return g_string_free (csv, FALSE);
}

/* Spreadsheets keep the apostrophe that was put before a cell they would have run. */
static const char *
plain (const char *cell)
{
  return cell[0] == '\'' && strchr ("=+-@", cell[1]) != NULL ? cell + 1 : cell;
}

static BlPlant *
plant_of_row (const GStrv heads, const GStrv cells, guint line, GError **error)
{
  g_autoptr (GString) record = g_string_new (NULL);
  BlPlant *plant = NULL;
  guint i = 0;

  if (g_strv_length (cells) != g_strv_length (heads))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "Line %u: %u cells stand under %u headings",
                   line, g_strv_length (cells), g_strv_length (heads));
      return NULL;
    }
  for (i = 1; heads[i] != NULL; i++)
    {
      if (strpbrk (cells[i], "\r\n") != NULL)
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       "Line %u, column “%s”: a cell must stay on one line", line, heads[i]);
          return NULL;
        }
      g_string_append_printf (record, "%s=%s\n", heads[i], plain (cells[i]));
    }
  plant = bl_plant_parse (cells[0], record->str, error);
  if (plant == NULL)
    g_prefix_error (error, "Line %u: ", line);
  return plant;
}

static GPtrArray *
plants_of_csv (const char *csv, gsize length, GError **error)
{
  g_autoptr (GPtrArray) rows = bl_csv_parse (csv, length, error);
  g_autoptr (GPtrArray) plants = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_unref);
  guint i = 0;

  if (rows == NULL)
    return NULL;
  if (rows->len == 0 || g_strcmp0 (((GStrv) g_ptr_array_index (rows, 0))[0], "slug") != 0)
    {
      g_set_error_literal (
        error, BL_ERROR, BL_ERROR_INPUT,
        "Line 1: the first heading must be “slug”, the others the keys of a record");
      return NULL;
    }
  for (i = 1; i < rows->len; i++)
    {
      BlPlant *plant
        = plant_of_row (g_ptr_array_index (rows, 0), g_ptr_array_index (rows, i), i + 1, error);

      if (plant == NULL)
        return NULL;
      g_ptr_array_add (plants, plant);
    }
  return g_steal_pointer (&plants);
}

gboolean
bl_library_import_own (BlLibrary *library, const char *csv, gsize length, guint *n_read,
                       GError **error)
{
  g_autoptr (GPtrArray) plants = plants_of_csv (csv, length, error);
  gboolean ok = TRUE;
  guint i = 0;

  if (plants == NULL || !begin (library, error))
    return FALSE;
  for (i = 0; ok && i < plants->len; i++)
    {
      const BlPlant *plant = g_ptr_array_index (plants, i);

      ok = delete_row (library->own, plant->slug, error)
           && bl_library_insert (library->own, plant, error);
    }
  if (n_read != NULL)
    *n_read = ok ? plants->len : 0;
  return end (library, ok, error);
}
