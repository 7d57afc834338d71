/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the nursery does not have of what is ordered. */
#include "takeoff/short.h"

#include <string.h>

static BlShortage *
row_of (GArray *rows, const BlPlantCount *count)
{
  for (guint i = 0; i < rows->len; i++)
    {
      BlShortage *row = &g_array_index (rows, BlShortage, i);

      if (row->plant == count->plant && strcmp (row->size, count->size) == 0)
        return row;
    }
  g_array_append_val (rows, ((BlShortage) { .plant = count->plant, .size = count->size }));
  return &g_array_index (rows, BlShortage, rows->len - 1);
}

GArray *
bl_takeoff_shortages (const BlTakeoff *takeoff, const BlStock *stock)
{
  GArray *rows = g_array_new (FALSE, TRUE, sizeof (BlShortage));
  BlDay planting;

  g_return_val_if_fail (takeoff != NULL, rows);
  planting = takeoff->layout->model->planting_day;
  for (guint i = 0; stock != NULL && i < takeoff->counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (takeoff->counts, BlPlantCount, i);

      row_of (rows, count)->order += count->order;
    }
  for (guint i = 0; i < rows->len; i++)
    {
      BlShortage *row = &g_array_index (rows, BlShortage, i);
      const BlOffer *offer = bl_stock_find (stock, row->plant->slug, row->size);

      row->stock = offer != NULL ? offer->stock : -1;
      row->from = offer != NULL ? offer->from : 0;
      row->missing = row->stock >= 0 && row->order > (guint) row->stock
                       ? row->order - (guint) row->stock
                       : 0;
      row->late = planting != 0 && row->from > planting;
      if (row->missing == 0 && !row->late)
        g_array_remove_index (rows, i--);
    }
  return rows;
}

char *
bl_shortage_words (const BlShortage *shortage, const char *language)
{
  g_autofree char *name = bl_plant_name (shortage->plant);
  g_autofree char *day = bl_day_format_iso (shortage->from);
  GString *words = g_string_new (NULL);

  g_string_append_printf (words, bl_say (language, "%s, %s: %u ordered"), name,
                          bl_say (language, shortage->size), shortage->order);
  if (shortage->missing > 0)
    g_string_append_printf (words, bl_say (language, ", %d in stock"), shortage->stock);
  if (shortage->late)
    g_string_append_printf (words, bl_say (language, ", to be had from %s, after the planting day"), day);
  return g_string_free (words, FALSE);
}
