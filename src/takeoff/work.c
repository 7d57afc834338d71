/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours: quantities times the firm's production rates. */
#include <math.h>
#include <string.h>

#include "takeoff/container.h"
#include "takeoff/shown.h"
#include "takeoff/takeoff-private.h"

static void
add_work_at (BlTakeoff *takeoff, gint64 bed_id, const char *key, const char *name, const char *unit,
             double units, double minutes)
{
  double si;
  const char *shown
    = bl_takeoff_say (takeoff, bl_unit_shown (unit, takeoff->layout->model->units, &si));
  g_autofree char *amount = bl_figure (units / si);
  g_autofree char *each = bl_figure (minutes * si);
  g_autofree char *total = bl_figure (units * minutes / 60);
  BlWork work = {
    .bed_id = bed_id, .key = g_strdup (key), .name = g_strdup (bl_takeoff_say (takeoff, name)), .units = units,
    .unit = g_strdup (unit), .hours = units * minutes / 60,
    .how = g_strdup_printf (bl_takeoff_say (takeoff, "%s %s × %s min = %s h"), amount, shown, each, total),
  };

  g_array_append_val (takeoff->work, work);
  takeoff->hours += work.hours;
}

/* Nothing is added for a rate that the book does not have: what is not rated is told once. */
static void
add_work (BlTakeoff *takeoff, gint64 bed_id, const char *key, double units, GHashTable *missing)
{
  const BlPriceItem *item = bl_price_book_find (bl_takeoff_book (takeoff), key);

  if (!(units > 0))
    return;
  if (item == NULL || item->kind != BL_PRICE_LABOUR)
    g_hash_table_add (missing, g_strdup (key));
  else
    add_work_at (takeoff, bed_id, key, item->name, item->unit, units, item->amount);
}

static void
add_planting (BlTakeoff *takeoff, const BlPlantCount *count, GHashTable *missing)
{
  const BlPriceBook *book = bl_takeoff_book (takeoff);
  g_autofree char *key = NULL, *name = NULL;
  const BlPriceItem *item;
  double minutes;

  if (!bl_planting_minutes (book, count->size, &minutes, &key))
    {
      g_hash_table_add (missing, g_strdup_printf ("plant-%s", count->size));
      return;
    }
  item = bl_price_book_find (book, key);
  name = item != NULL ? g_strdup (item->name)
                      : g_strdup_printf (
                        bl_takeoff_say (takeoff, "Plant a %s (between its neighbours' rates)"),
                        bl_takeoff_say (takeoff, count->size));
  /* One row a bed and rate. */
  for (guint i = 0; i < takeoff->work->len; i++)
    {
      BlWork *work = &g_array_index (takeoff->work, BlWork, i);
      g_autofree char *units = NULL, *each = bl_figure (minutes), *total = NULL;

      if (work->bed_id != count->bed_id || strcmp (work->key, key) != 0)
        continue;
      work->units += count->count;
      work->hours += count->count * minutes / 60;
      takeoff->hours += count->count * minutes / 60;
      units = bl_figure (work->units);
      total = bl_figure (work->hours);
      g_free (work->how);
      work->how = g_strdup_printf (bl_takeoff_say (takeoff, "%s each × %s min = %s h"), units, each,
                                   total);
      return;
    }
  add_work_at (takeoff, count->bed_id, key, name, "each", count->count, minutes);
}

static void
work_the_ground (BlTakeoff *takeoff, const BlBed *bed, GHashTable *missing)
{
  const BlModel *model = takeoff->layout->model;
  const BlPriceRules *rules = &model->prices->rules;
  double area = bl_bed_free_area (model, bed);
  double shared, bare = bl_takeoff_stems (takeoff, bed->id) * G_PI * rules->collar * rules->collar;
  const BlPriceItem *edging = bed->edging != NULL ? bl_price_book_find (model->prices, bed->edging)
                                                  : NULL;

  add_work (takeoff, bed->id, "prepare-bed", area, missing);
  add_work (takeoff, bed->id, "spread-soil", area * bed->soil_depth, missing);
  add_work (takeoff, bed->id, "spread-mulch", (area - MIN (bare, area / 2)) * bed->mulch_depth,
            missing);
  if (edging != NULL && bed->edging_share > 0)
    add_work (takeoff, bed->id, strcmp (bed->edging, "edging-cut") == 0 ? "cut-edge" : "lay-edging",
              bl_takeoff_edged (takeoff, bed, &shared), missing);
  if (rules->lay_fabric)
    add_work (takeoff, bed->id, "lay-fabric", area, missing);
  if (rules->fertiliser_dose > 0)
    add_work (takeoff, bed->id, "fertilise", area, missing);
  add_work (takeoff, bed->id, "clean-up", area, missing);
}

static void
work_on_plants (BlTakeoff *takeoff, gint64 bed_id, GHashTable *missing)
{
  guint n = 0, stakes = 0, trellises = 0;

  for (guint i = 0; i < takeoff->counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (takeoff->counts, BlPlantCount, i);

      if (count->bed_id != bed_id)
        continue;
      n += count->count;
      if (g_strcmp0 (count->plant->support, "stake") == 0)
        stakes += count->count;
      if (g_strcmp0 (count->plant->support, "trellis") == 0)
        trellises += count->count;
      add_planting (takeoff, count, missing);
    }
  add_work (takeoff, bed_id, "set-out", n, missing);
  add_work (takeoff, bed_id, "water-in", n, missing);
  add_work (takeoff, bed_id, "stake-plant", stakes, missing);
  add_work (takeoff, bed_id, "hang-trellis", trellises, missing);
}

void
bl_takeoff_reckon_work (BlTakeoff *takeoff)
{
  const BlModel *model = takeoff->layout->model;
  g_autoptr (GHashTable) missing = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GList) keys = NULL;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];

      if (bed->ring != NULL)
        work_the_ground (takeoff, bed, missing);
      work_on_plants (takeoff, bed->id, missing);
    }
  keys = g_list_sort (g_hash_table_get_keys (missing), (GCompareFunc) strcmp);
  for (GList *l = keys; l != NULL; l = l->next)
    bl_takeoff_note (takeoff, "The price book has no production rate “%s”: its hours are not "
                     "counted; add your own.", (const char *) l->data);
}
