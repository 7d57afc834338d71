/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is spread over whole beds: fabric under the mulch, fertiliser worked in. */
#include <math.h>

#include "takeoff/material.h"
#include "takeoff/shown.h"
#include "takeoff/takeoff-private.h"

/* @each of the item's unit a square metre of free ground; @rule says so. Returns whether it was
 * taken off. */
static gboolean
add_spread (BlTakeoff *takeoff, const char *key, double each, const char *rule)
{
  const BlModel *model = takeoff->layout->model;
  const BlPriceItem *item = bl_price_book_find (model->prices, key);
  double area = 0, sd = 0, order, si;
  g_autofree char *ground = NULL, *net = NULL, *bought = NULL;
  const char *unit;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];

      area += bed->ring != NULL ? bl_bed_free_area (model, bed) : 0;
      sd += bed->ring != NULL ? bed->area.sd : 0;
    }
  if (!(area > 0))
    return FALSE;
  ground = bl_area_format_interval (area, sd, model->units, takeoff->language);
  if (item == NULL)
    {
      bl_takeoff_note (takeoff, "The price book has no “%s”: what %s need is counted nowhere.", key,
                       ground);
      return FALSE;
    }
  unit = bl_takeoff_say (takeoff, bl_unit_shown (item->unit, model->units, &si));
  order = bl_whole_steps (area * each, item->amount);
  net = bl_figure (area * each / si);
  bought = bl_figure (order / si);
  bl_takeoff_add_material (takeoff, (BlMaterial) {
    .key = g_strdup (key), .name = g_strdup (bl_takeoff_say (takeoff, item->name)), .unit = g_strdup (item->unit),
    .quantity = area * each, .sd = sd * each, .order = order,
    .how = g_strdup_printf (bl_takeoff_say (takeoff, "all beds %s %s = %s %s, up to whole packs %s %s"), ground, rule, net,
                            unit, bought, unit) });
  return TRUE;
}

void
bl_takeoff_spread (BlTakeoff *takeoff)
{
  const BlModel *model = takeoff->layout->model;
  const BlPriceRules *rules = &model->prices->rules;

  if (rules->lay_fabric)
    {
      g_autofree char *percent = bl_figure (100 * rules->fabric_overlap);
      g_autofree char *rule = g_strdup_printf (bl_takeoff_say (takeoff, "+ %s %% that lies double"), percent);

      add_spread (takeoff, "fabric", 1 + rules->fabric_overlap, rule);
    }
  if (rules->fertiliser_dose > 0)
    {
      gboolean feet = model->units == BL_UNITS_FEET;
      g_autofree char *dose
        = bl_figure (feet ? rules->fertiliser_dose * 1000 * BL_M2_PER_SQUARE_FOOT / BL_KG_PER_POUND
                          : rules->fertiliser_dose * 1000);
      g_autofree char *rule
        = g_strdup_printf (feet ? bl_takeoff_say (takeoff, "at %s lb a 1000 sq ft")
                                : bl_takeoff_say (takeoff, "at %s g/m²"), dose);

      add_spread (takeoff, "fertiliser", rules->fertiliser_dose, rule);
    }
}
