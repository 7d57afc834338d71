/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows to structs and back: the common part. */
#include "config.h"

#include "design/rows.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/numbers.h"

/* ---- reading values ---- */

void
bl_row_wrong (BlRow      *row,
              const char *what)
{
  if (row->problem == NULL)
    row->problem = g_strdup (what);
}

static gboolean
is_of_type (BlRow *row,
            int    column,
            int    type)
{
  if (sqlite3_column_type (row->stmt, column) == type)
    return TRUE;
  if (row->problem == NULL)
    row->problem
        = g_strdup_printf (_("its %s is of the wrong type"), sqlite3_column_name (row->stmt, column));
  return FALSE;
}

gint64
bl_row_int (BlRow *row,
            int    column,
            gint64 low,
            gint64 high)
{
  gint64 value;

  if (!is_of_type (row, column, SQLITE_INTEGER))
    return low;
  value = sqlite3_column_int64 (row->stmt, column);
  if (value >= low && value <= high)
    return value;
  if (row->problem == NULL)
    row->problem
        = g_strdup_printf (_("its %s is out of range"), sqlite3_column_name (row->stmt, column));
  return low;
}

gboolean
bl_row_switch (BlRow *row,
               int    column)
{
  return bl_row_int (row, column, 0, 1) == 1;
}

double
bl_row_real (BlRow *row,
             int    column)
{
  double value;

  if (!is_of_type (row, column, SQLITE_FLOAT))
    return 0;
  value = sqlite3_column_double (row->stmt, column);
  if (isfinite (value))
    return value;
  bl_row_wrong (row, _("it holds something that is not a number"));
  return 0;
}

double
bl_row_real_or_nan (BlRow *row,
                    int    column)
{
  if (sqlite3_column_type (row->stmt, column) == SQLITE_NULL)
    return NAN;
  return bl_row_real (row, column);
}

const char *
bl_row_peek (BlRow *row,
             int    column,
             gsize  most)
{
  const char *text;
  gsize length;

  if (sqlite3_column_type (row->stmt, column) == SQLITE_NULL
      || !is_of_type (row, column, SQLITE_TEXT))
    return NULL;
  text = (const char *) sqlite3_column_text (row->stmt, column);
  length = (gsize) sqlite3_column_bytes (row->stmt, column);
  if (text == NULL || length > most)
    bl_row_wrong (row, _("it holds a text that is too long"));
  else if (strlen (text) != length || !g_utf8_validate (text, (gssize) length, NULL))
    bl_row_wrong (row, _("it holds a text that cannot be read"));
  else
    return text;
  return NULL;
}

char *
bl_row_text_or_null (BlRow *row,
                     int    column,
                     gsize  most)
{
  return g_strdup (bl_row_peek (row, column, most));
}

char *
bl_row_text (BlRow *row,
             int    column,
             gsize  most)
{
  const char *text = bl_row_peek (row, column, most);

  if (text == NULL)
    bl_row_wrong (row, _("a text is missing"));
  return g_strdup (text != NULL ? text : "");
}

BlPoints *
bl_row_points_or_null (BlRow *row,
                       int    column,
                       guint  most)
{
  const char *text = bl_row_peek (row, column, (gsize) 64 * most);
  g_autoptr(GError) error = NULL;
  BlPoints *points = text != NULL ? bl_points_from_text (text, most, &error) : NULL;

  if (error != NULL)
    bl_row_wrong (row, error->message);
  return points;
}

BlOutline *
bl_row_outline (BlRow *row,
                int    points,
                int    sharp,
                int    straight,
                int    open)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlOutline) outline = NULL;
  const char *text = bl_row_peek (row, points, 64 * BL_MAX_POINTS);
  BlPoints *list;

  if (text == NULL)
    return NULL;
  list = bl_points_from_text (text, BL_MAX_POINTS, &error);
  if (list == NULL)
    {
      bl_row_wrong (row, error->message);
      return NULL;
    }
  outline = bl_outline_new_take (list, bl_row_switch (row, straight));
  outline->open = open >= 0 && bl_row_switch (row, open);
  if (!bl_flags_from_text (bl_row_peek (row, sharp, 16 * BL_MAX_POINTS), list->len, &outline->sharp,
                           &error))
    bl_row_wrong (row, error->message);
  return g_steal_pointer (&outline);
}

/* ---- reading tables ---- */

gboolean
bl_rows_damaged (BlStore    *store,
                 BlTable     table,
                 gint64      id,
                 const char *problem,
                 GError    **error)
{
  g_set_error (error, BL_ERROR, BL_ERROR_FILE,
               _("“%s” is damaged: in its %s, row %lld, %s. Use an earlier copy of it."),
               store->shown, _(bl_table_info (table)->rows), (long long) id, problem);
  return FALSE;
}

/* The struct of the row @use stands on. */
static gpointer
read_row (BlStore *store,
          BlTable  table,
          BlUse   *use,
          gpointer (*read) (BlRow *row),
          GError **error)
{
  BlRow row = { use->stmt, NULL };
  gint64 id = bl_row_int (&row, 0, 1, G_MAXINT64);
  gpointer item = row.problem == NULL ? read (&row) : NULL;
  g_autofree char *problem = row.problem;

  if (item == NULL)
    bl_rows_damaged (store, table, id, problem != NULL ? problem : _("something is wrong"), error);
  return item;
}

gboolean
bl_rows_load (BlStore   *store,
              BlTable    table,
              gpointer (*read) (BlRow *row),
              GPtrArray *into,
              GError   **error)
{
  const BlTableInfo *info = bl_table_info (table);
  g_autofree char *sql
      = g_strdup_printf ("SELECT id,%s FROM %s ORDER BY id", info->columns, info->name);
  g_auto(BlUse) use = bl_store_use (store, sql, error);
  BlStep step = BL_STEP_FAILED;

  while (use.stmt != NULL && (step = bl_store_step (store, use.stmt, error)) == BL_STEP_ROW)
    {
      gpointer item = read_row (store, table, &use, read, error);

      if (item == NULL)
        return FALSE;
      g_ptr_array_add (into, item);
      if (into->len > BL_MAX_ROWS)
        return bl_rows_damaged (store, table, BL_MAX_ROWS, _("there are too many of them"), error);
    }
  return step == BL_STEP_DONE;
}

gboolean
bl_rows_load_one (BlStore  *store,
                  BlTable   table,
                  gint64    id,
                  gpointer (*read) (BlRow *row),
                  gpointer *item,
                  GError  **error)
{
  const BlTableInfo *info = bl_table_info (table);
  g_autofree char *sql
      = g_strdup_printf ("SELECT id,%s FROM %s WHERE id = ?1", info->columns, info->name);
  g_auto(BlUse) use = bl_store_use (store, sql, error);
  BlStep step;

  *item = NULL;
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_int (&use, 1, id);
  step = bl_store_step (store, use.stmt, error);
  if (step == BL_STEP_ROW)
    {
      *item = read_row (store, table, &use, read, error);
      return *item != NULL;
    }
  return step == BL_STEP_DONE;
}

static int
compare_position (gconstpointer a,
                  gconstpointer b)
{
  const BlAlternative *p = *(BlAlternative *const *) a, *q = *(BlAlternative *const *) b;

  if (p->position != q->position)
    return p->position < q->position ? -1 : 1;
  return p->id < q->id ? -1 : p->id > q->id;
}

gboolean
bl_rows_load_model (BlStore       *store,
                    BlModel       *model,
                    const BlModel *previous,
                    BlTouched      touched,
                    GError       **error)
{
  if (((touched & BL_TOUCHED_TEXTS) && !bl_texts_load (store, model, error))
      || ((touched & BL_TOUCHED_SITE) && !bl_site_load (store, &model->site, error))
      || ((touched & BL_TOUCHED_PHOTO) && !bl_photo_load (store, &model->photo, error))
      || ((touched & BL_TOUCHED_DRAWING) && !bl_drawing_load (store, &model->drawing, error))
      || ((touched & BL_TOUCHED_KNOWNS)
          && (!bl_rows_load (store, BL_TABLE_KNOWN, bl_known_read, model->knowns, error)
              || !bl_tape_load (store, &model->tape, error)))
      || ((touched & BL_TOUCHED_FEATURES)
          && !bl_rows_load (store, BL_TABLE_FEATURE, bl_feature_read, model->features, error))
      || ((touched & BL_TOUCHED_BEDS)
          && !bl_rows_load (store, BL_TABLE_BED, bl_bed_read, model->beds, error))
      || ((touched & BL_TOUCHED_ALTERNATIVES)
          && !bl_rows_load (store, BL_TABLE_ALTERNATIVE, bl_alternative_read, model->alternatives,
                            error))
      || ((touched & BL_TOUCHED_PLANTS) && !bl_plants_load (store, model->plants, previous, error))
      || ((touched & BL_TOUCHED_PLANTINGS)
          && !bl_rows_load (store, BL_TABLE_PLANTING, bl_planting_read, model->plantings, error)))
    return FALSE;
  if (((touched & BL_TOUCHED_PRICES)
       && (!bl_prices_load (store, model->prices, error)
           || !bl_rows_load (store, BL_TABLE_OVERRIDE, bl_override_read, model->overrides, error)))
      || ((touched & BL_TOUCHED_CARE)
          && (!bl_rows_load (store, BL_TABLE_CARE_MARK, bl_care_mark_read, model->care_marks, error)
              || !bl_rows_load (store, BL_TABLE_OWN_TASK, bl_own_task_read, model->own_tasks,
                                error))))
    return FALSE;
  if (touched & BL_TOUCHED_ALTERNATIVES)
    g_ptr_array_sort (model->alternatives, compare_position);
  return TRUE;
}

/* ---- writing ---- */

/* "INSERT INTO bed (id,name,...) VALUES (?1,?2,...)" or "UPDATE bed SET name=?2,... WHERE id=?1".
 */
static char *
statement_for (const BlTableInfo *info,
               gboolean           new_row)
{
  GString *sql = g_string_new (NULL);
  g_auto(GStrv) columns = g_strsplit (info->columns, ",", -1);

  if (new_row)
    {
      g_string_append_printf (sql, "INSERT INTO %s (id,%s) VALUES (?1", info->name, info->columns);
      for (guint i = 2; i <= info->n_columns; i++)
        g_string_append_printf (sql, ",?%u", i);
      g_string_append_c (sql, ')');
    }
  else
    {
      g_string_append_printf (sql, "UPDATE %s SET ", info->name);
      for (guint i = 2; i <= info->n_columns; i++)
        g_string_append_printf (sql, "%s%s=?%u", i > 2 ? "," : "", columns[i - 2], i);
      g_string_append (sql, " WHERE id=?1");
    }
  return g_string_free (sql, FALSE);
}

BlUse
bl_rows_put (BlStore *store,
             BlTable  table,
             gint64   id,
             GError **error)
{
  g_autofree char *sql = statement_for (bl_table_info (table), id == 0);
  BlUse use = bl_store_use (store, sql, error);

  if (use.stmt != NULL && id != 0)
    bl_bind_int (&use, 1, id);
  return use;
}

gboolean
bl_rows_finish (BlStore *store,
                BlTable  table,
                BlUse   *use,
                gint64  *id,
                GError **error)
{
  if (bl_store_step (store, use->stmt, error) != BL_STEP_DONE)
    return FALSE;
  if (*id == 0)
    *id = sqlite3_last_insert_rowid (store->db);
  else if (sqlite3_changes (store->db) != 1)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                   _("What was to be changed is no longer among the %s of “%s”."),
                   _(bl_table_info (table)->rows), store->shown);
      return FALSE;
    }
  return TRUE;
}

gboolean
bl_rows_delete (BlStore    *store,
                BlTable     table,
                const char *column,
                gint64      id,
                GError    **error)
{
  g_autofree char *sql
      = g_strdup_printf ("DELETE FROM %s WHERE %s = ?1", bl_table_info (table)->name, column);
  g_auto(BlUse) use = bl_store_use (store, sql, error);

  if (use.stmt == NULL)
    return FALSE;
  bl_bind_int (&use, 1, id);
  return bl_store_step (store, use.stmt, error) == BL_STEP_DONE;
}

/* The only results of binding are OK, no memory and too big; the last two leave NULL, which the
 * NOT NULL columns refuse. */
void
bl_bind_int (BlUse *use,
             int    at,
             gint64 value)
{
  sqlite3_bind_int64 (use->stmt, at, value);
}

void
bl_bind_real (BlUse *use,
              int    at,
              double value)
{
  sqlite3_bind_double (use->stmt, at, value);
}

void
bl_bind_text (BlUse      *use,
              int         at,
              const char *value)
{
  sqlite3_bind_text (use->stmt, at, value, -1, SQLITE_TRANSIENT);
}

void
bl_bind_outline (BlUse           *use,
                 const BlOutline *outline,
                 int              points,
                 int              sharp,
                 int              straight,
                 int              open)
{
  g_autofree char *list = outline != NULL ? bl_points_to_text (outline->points) : NULL;
  g_autofree char *corners = NULL;

  if (outline != NULL && !outline->straight)
    corners = bl_flags_to_text (outline->sharp, outline->points->len);
  bl_bind_text (use, points, list);
  bl_bind_text (use, sharp, corners);
  bl_bind_int (use, straight, outline != NULL && outline->straight);
  if (open >= 0)
    bl_bind_int (use, open, outline != NULL && outline->open);
}
