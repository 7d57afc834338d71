/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's own plants as a table (RFC 4180): all of it comes in, or nothing does. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/csv.h"
#include "base/error.h"
#include "plants/library-private.h"

/* Writing. */

static void
append_headings (GString *csv)
{
  const char *const *keys = bl_plant_keys ();
  g_autoptr (GPtrArray) row = g_ptr_array_new ();

  g_ptr_array_add (row, (gpointer) "slug");
  for (guint k = 0; keys[k] != NULL; k++)
    g_ptr_array_add (row, (gpointer) keys[k]);
  g_ptr_array_add (row, NULL);
  bl_csv_append (csv, (const char *const *) row->pdata);
}

static gboolean
append_plant (GString *csv, const BlPlant *plant, GError **error)
{
  const char *const *keys = bl_plant_keys ();
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GPtrArray) row = g_ptr_array_new_with_free_func (g_free);

  if (!g_key_file_load_from_data (file, plant->text, strlen (plant->text), 0, error))
    return FALSE;
  g_ptr_array_add (row, g_strdup (plant->slug));
  for (guint k = 0; keys[k] != NULL; k++)
    {
      char *value = g_key_file_get_value (file, plant->slug, keys[k], NULL);

      g_ptr_array_add (row, value != NULL ? value : g_strdup (""));
    }
  g_ptr_array_add (row, NULL);
  bl_csv_append (csv, (const char *const *) row->pdata);
  return TRUE;
}

char *
bl_library_export_own (BlLibrary *library, GError **error)
{
  g_auto (GStrv) slugs = bl_library_own_slugs (library);
  g_autoptr (GString) csv = g_string_new (NULL);

  append_headings (csv);
  for (guint i = 0; slugs[i] != NULL; i++)
    {
      g_autoptr (BlPlant) plant = bl_library_get (library, slugs[i], error);

      if (plant == NULL || !append_plant (csv, plant, error))
        return NULL;
    }
  return g_string_free (g_steal_pointer (&csv), FALSE);
}

/* Reading. */

typedef struct
{
  GPtrArray *rows; /* GStrv */
  GArray *lines;   /* guint: where each begins */
  GStrv heads;     /* borrowed */
  int slug;        /* its column; -1 = none */
  GHashTable *seen; /* slug → GUINT_TO_POINTER (line) */
} Table;

static void
table_clear (Table *table)
{
  g_clear_pointer (&table->rows, g_ptr_array_unref);
  g_clear_pointer (&table->lines, g_array_unref);
  g_clear_pointer (&table->seen, g_hash_table_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Table, table_clear)

static gboolean
refuse (GError **error, guint line, int column, const char *heading, const char *sentence)
{
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "Line %u, column %d (“%s”): %s", line, column + 1,
               heading, sentence);
  return FALSE;
}

static int
column_of (char **heads, const char *name)
{
  for (int i = 0; heads[i] != NULL; i++)
    if (g_ascii_strcasecmp (heads[i], name) == 0)
      return i;
  return -1;
}

static gboolean
check_headings (Table *table, GError **error)
{
  const char *const *keys = bl_plant_keys ();

  for (int i = 0; table->heads[i] != NULL; i++)
    {
      g_autofree char *lower = g_ascii_strdown (g_strstrip (table->heads[i]), -1);

      if (column_of (table->heads, lower) != i)
        return refuse (error, 1, i, lower, _("this heading stands there twice"));
      if (strcmp (lower, "slug") != 0 && !g_strv_contains (keys, lower))
        return refuse (error, 1, i, lower,
                       _("there is no such heading; write your plants first to see them all"));
      g_free (table->heads[i]);
      table->heads[i] = g_steal_pointer (&lower);
    }
  table->slug = column_of (table->heads, "slug");
  if (column_of (table->heads, "genus") < 0)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("Line 1: there is no heading “genus”; the first line must name the "
                           "columns, as in the table that writing your plants gives"));
      return FALSE;
    }
  return TRUE;
}

static gboolean
read_table (Table *table, const char *csv, gsize length, GError **error)
{
  table->lines = g_array_new (FALSE, FALSE, sizeof (guint));
  table->seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  table->rows = bl_csv_parse_lines (csv, length, table->lines, error);
  if (table->rows == NULL)
    return FALSE;
  if (table->rows->len == 0)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT, _("Line 1: the table is empty"));
      return FALSE;
    }
  table->heads = table->rows->pdata[0];
  return check_headings (table, error);
}

/* What a spreadsheet leaves at the end of a table. */
static gboolean
is_empty_row (char **cells)
{
  for (guint i = 0; cells[i] != NULL; i++)
    if (cells[i][0] != '\0')
      return FALSE;
  return TRUE;
}

static gboolean
check_cells (const Table *table, char **cells, guint line, GError **error)
{
  guint n = g_strv_length (cells), wanted = g_strv_length (table->heads);

  if (n != wanted)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("Line %u, column %u: %u cells stand under %u headings"), line, MIN (n, wanted) + 1,
                   n, wanted);
      return FALSE;
    }
  for (int i = 0; cells[i] != NULL; i++)
    if (strpbrk (cells[i], "\r\n") != NULL)
      return refuse (error, line, i, table->heads[i], _("a cell must stay on one line"));
  return TRUE;
}

/* The slug that stands there or, where none does, the one that the name calls for. */
static char *
slug_of_row (const Table *table, char **cells, const char *record)
{
  const char *stated = table->slug >= 0 ? cells[table->slug] : "";
  g_autoptr (BlPlant) plant = NULL;

  if (stated[0] != '\0')
    return g_strdup (stated);
  plant = bl_plant_parse ("new", record, NULL);
  return plant != NULL ? bl_plant_name_slug (plant) : g_strdup ("new");
}

/* The mistake that stands furthest to the left. */
static gboolean
name_fault (const Table *table, const char *slug, const char *record, guint line, GError **error)
{
  g_autoptr (GHashTable) faults = bl_plant_faults (slug, record);
  const char *const *keys = bl_plant_keys ();
  const char *sentence = NULL;

  for (int i = 0; table->heads[i] != NULL; i++)
    {
      sentence = g_hash_table_lookup (faults, table->heads[i]);
      if (sentence != NULL)
        return refuse (error, line, i, table->heads[i], sentence);
    }
  for (guint k = 0; keys[k] != NULL; k++)
    if (g_hash_table_contains (faults, keys[k]))
      {
        g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                     _("Line %u, column %u: the table has no column “%s”, which every plant needs"),
                     line, g_strv_length (table->heads) + 1, keys[k]);
        return FALSE;
      }
  return TRUE;
}

static BlPlant *
plant_of_row (Table *table, guint at, GError **error)
{
  char **cells = table->rows->pdata[at];
  guint line = g_array_index (table->lines, guint, at);
  g_autoptr (GString) record = g_string_new (NULL);
  g_autofree char *slug = NULL;
  gpointer before;

  if (!check_cells (table, cells, line, error))
    return NULL;
  for (int i = 0; cells[i] != NULL; i++)
    if (i != table->slug)
      g_string_append_printf (record, "%s=%s\n", table->heads[i], cells[i]);
  slug = slug_of_row (table, cells, record->str);
  if (!name_fault (table, slug, record->str, line, error))
    return NULL;
  before = g_hash_table_lookup (table->seen, slug);
  if (before != NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("Line %u, column %d: “%s” stands already in line %u"), line,
                   MAX (table->slug, 0) + 1, slug, GPOINTER_TO_UINT (before));
      return NULL;
    }
  g_hash_table_insert (table->seen, g_strdup (slug), GUINT_TO_POINTER (line));
  return bl_plant_parse (slug, record->str, error);
}

GPtrArray *
bl_plants_read_csv (const char *csv, gsize length, GError **error)
{
  g_auto (Table) table = { 0 };
  g_autoptr (GPtrArray) plants = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_unref);

  if (!read_table (&table, csv, length, error))
    return NULL;
  for (guint i = 1; i < table.rows->len; i++)
    {
      BlPlant *plant = NULL;

      if (is_empty_row (table.rows->pdata[i]))
        continue;
      plant = plant_of_row (&table, i, error);
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
  g_autoptr (GPtrArray) plants = bl_plants_read_csv (csv, length, error);
  gboolean ok = TRUE;

  if (n_read != NULL)
    *n_read = 0;
  if (plants == NULL || !bl_library_begin (library, error))
    return FALSE;
  for (guint i = 0; ok && i < plants->len; i++)
    ok = bl_library_replace (library->own, plants->pdata[i], error);
  ok = bl_library_end (library, ok, error);
  if (ok && n_read != NULL)
    *n_read = plants->len;
  return ok;
}
