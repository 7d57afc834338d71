/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The corners that the crew marks first: of the bed lines, and of each drift within them. */
#include "geometry/polygon.h"
#include "proposal/setout-private.h"

/* Corners as they are found along one outline. */
typedef struct
{
  GArray *rows;
  gint64 bed_id, planting_id;
  guint number;
  BlPoint first, last;
} Trail;

static void
add_corner (Trail *trail, BlPoint at, gboolean always)
{
  gboolean crowds = trail->number > 0
                    && (bl_dist (at, trail->last) < BL_SETOUT_CORNER_STEP
                        || bl_dist (at, trail->first) < BL_SETOUT_CORNER_STEP);
  BlSetoutRow row = { .bed_id = trail->bed_id, .planting_id = trail->planting_id,
                      .corner = trail->number + 1, .at = at };

  if (crowds && !always)
    return;
  trail->first = trail->number == 0 ? at : trail->first;
  trail->last = at;
  trail->number++;
  g_array_append_val (trail->rows, row);
}

/* The traced points of a bed line, without those that crowd. */
static void
add_bed (GArray *rows, const BlBed *bed)
{
  Trail trail = { .rows = rows, .bed_id = bed->id };

  for (guint i = 0; i < bed->ground->points->len; i++)
    add_corner (&trail, bl_points_at (bed->ground->points, i),
                bl_outline_is_sharp (bed->ground, i));
}

/* Where the way from @p to @q passes the bed line. */
static BlPoint
passes (const BlPoints *bed, BlPoint p, BlPoint q)
{
  gboolean starts_inside = bl_polygon_contains (bed, p);

  for (int i = 0; i < 40; i++)
    {
      BlPoint middle = bl_lerp (p, q, 0.5);

      if (bl_polygon_contains (bed, middle) == starts_inside)
        p = middle;
      else
        q = middle;
    }
  return bl_lerp (p, q, 0.5);
}

/* What lies in the bed of a drift's outline: its traced points, and where it passes the bed line. */
static void
add_drift (GArray *rows, const BlBed *bed, const BlPlanting *planting)
{
  Trail trail = { .rows = rows, .bed_id = bed->id, .planting_id = planting->id };
  g_autoptr (BlPoints) ring = bl_outline_flatten (planting->shape, 0.01);
  guint node = 0;

  for (guint i = 0; i < ring->len; i++)
    {
      BlPoint p = bl_points_at (ring, i), q = bl_points_at (ring, (i + 1) % ring->len);
      gboolean inside = bl_polygon_contains (bed->ring, p);

      if (node < planting->shape->points->len
          && bl_dist (p, bl_points_at (planting->shape->points, node)) < 1e-6)
        {
          if (inside)
            add_corner (&trail, p, bl_outline_is_sharp (planting->shape, node));
          node++;
        }
      if (inside != bl_polygon_contains (bed->ring, q))
        add_corner (&trail, passes (bed->ring, p, q), TRUE);
    }
}

static gboolean
has_plants (const BlLayout *layout, gint64 bed_id)
{
  for (guint i = 0; i < layout->placed->len; i++)
    if (g_array_index (layout->placed, BlPlaced, i).bed_id == bed_id)
      return TRUE;
  return FALSE;
}

GArray *
bl_setout_corners (const BlLayout *layout)
{
  const BlModel *model = layout->model;
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (BlSetoutRow));

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];

      if (bed->ground == NULL || bed->ring == NULL || !has_plants (layout, bed->id))
        continue;
      add_bed (rows, bed);
      for (guint k = 0; k < model->plantings->len; k++)
        {
          const BlPlanting *planting = model->plantings->pdata[k];

          if (planting->alternative_id == layout->alternative_id && planting->bed_id == bed->id
              && planting->form == BL_PLANTING_DRIFT && planting->shape != NULL)
            add_drift (rows, bed, planting);
        }
    }
  return rows;
}
