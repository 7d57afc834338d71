/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of what is planted: alternatives, plant records, plantings, own figures, care. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "design/check.h"
#include "design/numbers.h"
#include "design/rows.h"

#define SETTLE(row, item, error, free_item) \
  G_STMT_START { \
    if ((error) != NULL) \
      bl_row_wrong ((row), (error)->message); \
    if ((row)->problem != NULL) \
      g_clear_pointer (&(item), free_item); \
  } G_STMT_END

gpointer
bl_alternative_read (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlAlternative *alternative = g_new0 (BlAlternative, 1);

  alternative->id = bl_row_int (row, 0, 1, G_MAXINT64);
  alternative->position = (int) bl_row_int (row, 1, 0, BL_MAX_ROWS);
  alternative->name = bl_row_text (row, 2, BL_MAX_NAME);
  alternative->idea = bl_row_text (row, 3, BL_MAX_TEXT);
  alternative->colors = bl_row_text (row, 4, BL_MAX_TEXT);
  if (row->problem == NULL)
    bl_check_alternative (alternative, &error);
  SETTLE (row, alternative, error, bl_alternative_free);
  return alternative;
}

/* A new alternative comes after the others unless a free place is named for it. */
static gboolean
find_position (BlStore       *store,
               BlAlternative *alternative,
               GError       **error)
{
  gint64 taken = 0, next = 0;
  g_autofree char *sql = g_strdup_printf ("SELECT count(*) FROM alternative WHERE position = %d",
                                          alternative->position);

  if (!bl_store_number (store, sql, &taken, error)
      || !bl_store_number (store, "SELECT coalesce(max(position) + 1, 0) FROM alternative", &next,
                           error))
    return FALSE;
  if (taken > 0 || alternative->position < 0)
    alternative->position = (int) next;
  return TRUE;
}

gboolean
bl_alternative_write (BlStore       *store,
                      BlAlternative *alternative,
                      GError       **error)
{
  g_auto(BlUse) use = { NULL };

  if (alternative->id == 0 && !find_position (store, alternative, error))
    return FALSE;
  if (!bl_check_alternative (alternative, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_ALTERNATIVE, alternative->id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_int (&use, 2, alternative->position);
  bl_bind_text (&use, 3, alternative->name);
  bl_bind_text (&use, 4, alternative->idea != NULL ? alternative->idea : "");
  bl_bind_text (&use, 5, alternative->colors != NULL ? alternative->colors : "");
  return bl_rows_finish (store, BL_TABLE_ALTERNATIVE, &use, &alternative->id, error);
}

/* ---- plantings ---- */

gpointer
bl_planting_read (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlPlanting *planting = bl_planting_new ();

  planting->id = bl_row_int (row, 0, 1, G_MAXINT64);
  planting->alternative_id = bl_row_int (row, 1, 1, G_MAXINT64);
  planting->bed_id = bl_row_int (row, 2, 1, G_MAXINT64);
  planting->slug = bl_row_text (row, 3, BL_MAX_NAME);
  planting->size = bl_row_text_or_null (row, 4, BL_MAX_NAME);
  if (!bl_planting_form_from_name (bl_row_peek (row, 5, BL_MAX_NAME), &planting->form))
    bl_row_wrong (row, _("its form is unknown"));
  planting->shape = bl_row_outline (row, 6, 7, 8, 9);
  planting->spacing = bl_row_real (row, 10);
  planting->square = bl_row_switch (row, 11);
  planting->locked = bl_row_switch (row, 12);
  planting->group = bl_row_int (row, 13, 0, G_MAXINT64);
  planting->note = bl_row_text_or_null (row, 14, BL_MAX_TEXT);
  planting->stood = bl_row_points_or_null (row, 15, BL_MAX_STOOD);
  if (row->problem == NULL)
    bl_check_planting (planting, FALSE, &error);
  SETTLE (row, planting, error, bl_planting_free);
  return planting;
}

gboolean
bl_planting_write (BlStore    *store,
                   BlPlanting *planting,
                   GError    **error)
{
  g_auto(BlUse) use = { NULL };
  g_autofree char *stood = NULL;

  if (!bl_check_planting (planting, TRUE, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_PLANTING, planting->id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_int (&use, 2, planting->alternative_id);
  bl_bind_int (&use, 3, planting->bed_id);
  bl_bind_text (&use, 4, planting->slug);
  bl_bind_text (&use, 5, planting->size);
  bl_bind_text (&use, 6, bl_planting_form_name (planting->form));
  bl_bind_outline (&use, planting->shape, 7, 8, 9, 10);
  bl_bind_real (&use, 11, planting->spacing);
  bl_bind_int (&use, 12, planting->square != 0);
  bl_bind_int (&use, 13, planting->locked != 0);
  bl_bind_int (&use, 14, planting->group);
  bl_bind_text (&use, 15, planting->note);
  stood = planting->stood != NULL ? bl_points_to_text (planting->stood) : NULL;
  bl_bind_text (&use, 16, stood);
  return bl_rows_finish (store, BL_TABLE_PLANTING, &use, &planting->id, error);
}

/* ---- plant records ---- */

typedef struct
{
  char *slug, *record;
} PlantRow;

static void
free_plant_row (PlantRow *row)
{
  g_free (row->slug);
  g_free (row->record);
  g_free (row);
}

static gpointer
read_plant_row (BlRow *row)
{
  PlantRow *plant = g_new0 (PlantRow, 1);

  plant->slug = bl_row_text (row, 1, BL_MAX_NAME);
  plant->record = bl_row_text (row, 2, BL_MAX_RECORD);
  if (row->problem != NULL)
    g_clear_pointer (&plant, free_plant_row);
  return plant;
}

/* The record with its own cut-out picture, where it speaks of one that the file holds. */
static BlPlant *
parse_plant (BlStore        *store,
             const PlantRow *row,
             GError        **error)
{
  g_autoptr(BlPlant) plant = bl_plant_parse (row->slug, row->record, error);
  g_autoptr(GBytes) bytes = NULL;

  if (plant == NULL || plant->cutout == NULL)
    return g_steal_pointer (&plant);
  if (!bl_picture_load (store, plant->cutout->sha256, &bytes, error))
    return NULL;
  bl_plant_lend_picture (plant, bytes);
  return g_steal_pointer (&plant);
}

gboolean
bl_plants_load (BlStore       *store,
                GHashTable    *into,
                const BlModel *previous,
                GError       **error)
{
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify) free_plant_row);

  if (!bl_rows_load (store, BL_TABLE_PLANT, read_plant_row, rows, error))
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      const PlantRow *row = g_ptr_array_index (rows, i);
      BlPlant *plant = previous != NULL ? bl_model_plant (previous, row->slug) : NULL;
      g_autoptr(GError) problem = NULL;

      if (plant != NULL && g_strcmp0 (plant->text, row->record) == 0)
        plant = bl_plant_ref (plant);
      else
        plant = parse_plant (store, row, &problem);
      if (plant == NULL)
        return bl_rows_damaged (store, BL_TABLE_PLANT, (gint64) i + 1, problem->message, error);
      g_hash_table_replace (into, g_strdup (row->slug), plant);
    }
  return TRUE;
}

static gboolean
find_by_name (BlStore    *store,
              const char *sql,
              const char *name,
              gint64     *id,
              GError    **error)
{
  g_auto(BlUse) use = bl_store_use (store, sql, error);
  BlStep step;

  *id = 0;
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, name);
  step = bl_store_step (store, use.stmt, error);
  if (step == BL_STEP_ROW)
    *id = sqlite3_column_int64 (use.stmt, 0);
  return step != BL_STEP_FAILED;
}

gboolean
bl_plant_write (BlStore       *store,
                const BlPlant *plant,
                GError       **error)
{
  g_auto(BlUse) use = { NULL };
  gint64 id = 0, picture = 0;

  /* A plant of the person's own travels with its picture. */
  if (!bl_check_plant (plant, error)
      || (plant->cutout != NULL && plant->cutout->bytes != NULL
          && !bl_picture_keep (store, plant->cutout->bytes, &picture, error))
      || !find_by_name (store, "SELECT id FROM plant WHERE slug = ?1", plant->slug, &id, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_PLANT, id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 2, plant->slug);
  bl_bind_text (&use, 3, plant->text);
  return bl_rows_finish (store, BL_TABLE_PLANT, &use, &id, error);
}

/* ---- own figures and care ---- */

gpointer
bl_override_read (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlOverride *override = g_new0 (BlOverride, 1);

  override->id = bl_row_int (row, 0, 1, G_MAXINT64);
  override->alternative_id = bl_row_int (row, 1, 1, G_MAXINT64);
  override->line = bl_row_text (row, 2, BL_MAX_NAME);
  override->field = bl_row_text (row, 3, BL_MAX_NAME);
  override->value = bl_row_real (row, 4);
  override->note = bl_row_text_or_null (row, 5, BL_MAX_TEXT);
  if (row->problem == NULL)
    bl_check_override (override, &error);
  SETTLE (row, override, error, bl_override_free);
  return override;
}

gboolean
bl_override_write (BlStore    *store,
                   BlOverride *override,
                   GError    **error)
{
  g_auto(BlUse) use = { NULL };

  if (!bl_check_override (override, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_OVERRIDE, override->id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_int (&use, 2, override->alternative_id);
  bl_bind_text (&use, 3, override->line);
  bl_bind_text (&use, 4, override->field);
  bl_bind_real (&use, 5, override->value);
  bl_bind_text (&use, 6, override->note);
  return bl_rows_finish (store, BL_TABLE_OVERRIDE, &use, &override->id, error);
}

gpointer
bl_care_mark_read (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlCareMark *mark = g_new0 (BlCareMark, 1);

  mark->id = bl_row_int (row, 0, 1, G_MAXINT64);
  mark->uid = bl_row_text (row, 1, BL_MAX_NAME);
  mark->done = (BlDay) bl_row_int (row, 2, 0, G_MAXUINT32);
  mark->moved = (BlDay) bl_row_int (row, 3, 0, G_MAXUINT32);
  mark->dropped = bl_row_switch (row, 4);
  if (row->problem == NULL)
    bl_check_care_mark (mark, &error);
  SETTLE (row, mark, error, bl_care_mark_free);
  return mark;
}

gboolean
bl_care_mark_write (BlStore    *store,
                    BlCareMark *mark,
                    GError    **error)
{
  g_auto(BlUse) use = { NULL };

  if (!bl_check_care_mark (mark, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_CARE_MARK, mark->id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 2, mark->uid);
  bl_bind_int (&use, 3, mark->done);
  bl_bind_int (&use, 4, mark->moved);
  bl_bind_int (&use, 5, mark->dropped != 0);
  return bl_rows_finish (store, BL_TABLE_CARE_MARK, &use, &mark->id, error);
}

gpointer
bl_own_task_read (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlOwnTask *task = g_new0 (BlOwnTask, 1);

  task->id = bl_row_int (row, 0, 1, G_MAXINT64);
  task->title = bl_row_text (row, 1, BL_MAX_NAME);
  task->day = (BlDay) bl_row_int (row, 2, 0, G_MAXUINT32);
  task->yearly = bl_row_switch (row, 3);
  task->hours = bl_row_real (row, 4);
  if (row->problem == NULL)
    bl_check_own_task (task, &error);
  SETTLE (row, task, error, bl_own_task_free);
  return task;
}

gboolean
bl_own_task_write (BlStore   *store,
                   BlOwnTask *task,
                   GError   **error)
{
  g_auto(BlUse) use = { NULL };

  if (!bl_check_own_task (task, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_OWN_TASK, task->id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 2, task->title);
  bl_bind_int (&use, 3, task->day);
  bl_bind_int (&use, 4, task->yearly != 0);
  bl_bind_real (&use, 5, task->hours);
  return bl_rows_finish (store, BL_TABLE_OWN_TASK, &use, &task->id, error);
}
