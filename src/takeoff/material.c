/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Materials but layers: spoil, edging and supports, from measured areas and lengths. */
#include "takeoff/material.h"

#include <math.h>
#include <string.h>

#include "takeoff/takeoff-private.h"

#define SHARED_GAP 0.02  /* metres: bed lines this near are one line */
#define SHARED_STEP 0.05
#define CORNER 0.5 /* radians of turn at one point of the bed line */

double
bl_whole_steps (double quantity, double step)
{
  if (!(step > 0) || !(quantity > 0))
    return MAX (quantity, 0);
  return ceil (quantity / step - 1e-9) * step;
}

double
bl_material_order (const BlPriceBook *book, const char *key, const char *unit, double quantity)
{
  const BlPriceItem *item = bl_price_book_find (book, key);

  if (strcmp (unit, "bag") == 0 || strcmp (unit, "each") == 0)
    return bl_whole_steps (quantity, 1);
  return item != NULL ? bl_whole_steps (quantity, item->amount) : quantity;
}

/* ---- soil out ---- */

/* What is stripped swells when it is dug: it is carted by its loose volume. */
static void
add_soil_out (BlTakeoff *takeoff)
{
  const BlModel *model = takeoff->layout->model;
  const BlPriceRules *rules = &model->prices->rules;
  const BlPriceItem *item = bl_price_book_find (model->prices, "disposal");
  g_autofree char *deep = bl_spacing_format (rules->strip_depth, model->units);
  g_autofree char *swell = bl_figure (100 * rules->bulking);
  g_autofree char *area = NULL, *loose = NULL, *up = NULL;
  BlMaterial *out = &takeoff->soil_out;
  double free_area = 0, sd = 0, k = rules->strip_depth * (1 + rules->bulking);

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];

      if (bed->ring == NULL)
        continue;
      free_area += bl_bed_free_area (model, bed);
      sd += bed->area.sd;
    }
  if (!(rules->strip_depth > 0) || !(free_area > 0))
    return;
  area = bl_area_format_interval (free_area, sd, model->units, takeoff->language);
  loose = bl_volume_format (free_area * k, model->units, takeoff->language);
  if (item == NULL)
    {
      bl_takeoff_note (takeoff, "The price book has no “disposal”: %s of soil to take away is "
                       "counted nowhere.", loose);
      return;
    }
  *out = (BlMaterial) { .key = g_strdup (item->key),
                        .name = g_strdup (bl_takeoff_say (takeoff, item->name)),
                        .unit = g_strdup (item->unit), .quantity = free_area * k, .sd = sd * k };
  out->order = bl_whole_steps (out->quantity, item->amount);
  up = bl_volume_format (out->order, model->units, takeoff->language);
  out->how = g_strdup_printf (
    bl_takeoff_say (takeoff, "all beds %s stripped %s deep, swelling by %s %% = %s, up to %s"), area,
    deep, swell, loose, up);
}

/* ---- edging ---- */

/* Sharp corners of the bed line: edging is cut or bent there. */
static guint
corners_of (const BlBed *bed)
{
  guint n = 0, len = bed->ring->len;

  for (guint i = 0; i < len; i++)
    {
      BlPoint a = bl_points_at (bed->ring, (i + len - 1) % len), b = bl_points_at (bed->ring, i);
      BlPoint c = bl_points_at (bed->ring, (i + 1) % len);
      double before = atan2 (b.y - a.y, b.x - a.x), after = atan2 (c.y - b.y, c.x - b.x);

      n += fabs (remainder (after - before, 2 * G_PI)) > CORNER;
    }
  return n;
}

/* Of @from to @to, what lies along the other bed's line. */
static double
along (BlPoint from, BlPoint to, const BlPoints *ring, BlRect box)
{
  guint n = (guint) ceil (bl_dist (from, to) / SHARED_STEP);
  guint hits = 0;

  for (guint k = 0; k < n; k++)
    {
      double t = (k + 0.5) / n;
      BlPoint p = BL_POINT (from.x + t * (to.x - from.x), from.y + t * (to.y - from.y));

      hits += p.x >= box.x0 && p.x <= box.x1 && p.y >= box.y0 && p.y <= box.y1
              && fabs (bl_polygon_inside_distance (ring, p)) <= SHARED_GAP;
    }
  return n > 0 ? bl_dist (from, to) * hits / n : 0;
}

static BlRect
box_of (const BlPoints *ring)
{
  BlRect box = { INFINITY, INFINITY, -INFINITY, -INFINITY };

  for (guint i = 0; i < ring->len; i++)
    {
      BlPoint p = bl_points_at (ring, i);

      box = (BlRect) { MIN (box.x0, p.x), MIN (box.y0, p.y), MAX (box.x1, p.x), MAX (box.y1, p.y) };
    }
  return bl_rect_grow (box, SHARED_GAP);
}

double
bl_takeoff_edged (const BlTakeoff *takeoff, const BlBed *bed, double *shared)
{
  const GPtrArray *beds = takeoff->layout->model->beds;
  double length = bed->perimeter.value * bed->edging_share;

  *shared = 0;
  for (guint i = 0; i < beds->len && beds->pdata[i] != bed; i++)
    {
      const BlBed *other = beds->pdata[i];
      BlRect box;

      if (other->ring == NULL || other->edging == NULL || !(other->edging_share > 0))
        continue;
      box = box_of (other->ring);
      if (!bl_rect_meets (box, box_of (bed->ring)))
        continue;
      for (guint k = 0; k < bed->ring->len; k++)
        *shared += along (bl_points_at (bed->ring, k),
                          bl_points_at (bed->ring, (k + 1) % bed->ring->len), other->ring, box);
    }
  *shared = MIN (*shared * bed->edging_share, length);
  return length - *shared;
}

static void
add_edging (BlTakeoff *takeoff, const BlBed *bed)
{
  const BlModel *model = takeoff->layout->model;
  const BlPriceItem *item = bl_price_book_find (model->prices, bed->edging);
  double waste = item != NULL && item->amount > 0 ? model->prices->rules.edging_waste : 0;
  double shared, length = bl_takeoff_edged (takeoff, bed, &shared), k = 1 + waste;
  double order = item != NULL ? bl_whole_steps (length * k, item->amount) : length;
  g_autofree char *round = bl_length_format_decimal (bed->perimeter.value, model->units, 1);
  g_autofree char *net = bl_length_format_decimal (length, model->units, 1);
  g_autofree char *bought = bl_length_format_decimal (order, model->units, 1);
  g_autofree char *waste_percent = bl_figure (100 * waste);
  guint corners = corners_of (bed);
  GString *how;

  if (item == NULL)
    {
      bl_takeoff_note (takeoff, "The price book has no “%s”: %s of edging round “%s” is counted "
                       "nowhere.", bed->edging, net, bed->name != NULL ? bed->name : "?");
      return;
    }
  how = g_string_new (NULL);
  g_string_append_printf (how, bl_takeoff_say (takeoff, "%s: bed line %s"),
                          bed->name != NULL ? bed->name : bl_takeoff_say (takeoff, "bed"), round);
  if (bed->edging_share < 1)
    g_string_append_printf (how, bl_takeoff_say (takeoff, " × %.0f %% that is edged"), 100 * bed->edging_share);
  if (shared > 0.005)
    {
      g_autofree char *done = bl_length_format_decimal (shared, model->units, 1);

      g_string_append_printf (how, bl_takeoff_say (takeoff, " − %s along a bed before it"), done);
    }
  if (bed->edging_share < 1 || shared > 0.005)
    g_string_append_printf (how, " = %s", net);
  if (corners > 0)
    g_string_append_printf (how, bl_say_n (takeoff->language, ", %u corner", ", %u corners", corners),
                            corners);
  if (waste > 0)
    g_string_append_printf (how, bl_takeoff_say (takeoff, " + %s %% for cutting"), waste_percent);
  if (item->amount > 0)
    g_string_append_printf (how, bl_takeoff_say (takeoff, ", up to %.0f whole pieces = %s"), order / item->amount, bought);
  bl_takeoff_add_material (takeoff, (BlMaterial) {
    .bed_id = bed->id, .key = g_strdup (item->key),
    .name = g_strdup (bl_takeoff_say (takeoff, item->name)), .unit = g_strdup (item->unit), .quantity = length * k, .sd = bed->perimeter.sd
    * bed->edging_share * k, .order = order, .how = g_string_free (how, FALSE) });
}

/* ---- supports ---- */

static void
add_supports (BlTakeoff *takeoff, const char *support, const char *key)
{
  const GArray *counts = takeoff->counts;
  const BlPriceItem *item = bl_price_book_find (bl_takeoff_book (takeoff), key);
  g_autoptr (GString) how = g_string_new (NULL);
  guint n = 0;

  for (guint i = 0; i < counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (counts, BlPlantCount, i);
      g_autofree char *name = NULL;

      if (g_strcmp0 (count->plant->support, support) != 0)
        continue;
      name = bl_plant_name (count->plant);
      n += count->count;
      g_string_append_printf (how, "%s%u %s", how->len > 0 ? " + " : "", count->count, name);
    }
  if (n == 0)
    return;
  if (item == NULL)
    {
      bl_takeoff_note (takeoff, "The price book has no “%s”: %u are needed and counted nowhere.",
                       key, n);
      return;
    }
  g_string_append (how, bl_takeoff_say (takeoff, ", one each"));
  bl_takeoff_add_material (takeoff, (BlMaterial) {
    .key = g_strdup (key), .name = g_strdup (bl_takeoff_say (takeoff, item->name)), .unit = g_strdup (item->unit),
    .quantity = n, .order = n, .how = g_strdup (how->str) });
}

void
bl_takeoff_measure_materials (BlTakeoff *takeoff)
{
  const BlModel *model = takeoff->layout->model;

  add_soil_out (takeoff);
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];

      if (bed->ring != NULL && bed->edging != NULL && bed->edging_share > 0)
        add_edging (takeoff, bed);
    }
  bl_takeoff_spread (takeoff);
  add_supports (takeoff, "stake", "stake-set");
  add_supports (takeoff, "trellis", "trellis");
}
