/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plants that stay: those that stood somewhere before and still fit, and their rows carried on.
 *
 * Where plants of a bed stood is known while a drag is followed (from the layout before) and after
 * a bed line was moved (stored with the planting). Rows are told from the places themselves: a
 * direction and a plant from which most of the others lie whole steps away. */
#include "layout/layout-private.h"

#define SNUG 2e-6 /* metres: a plant on the edge counts as in it (lattices allow 1e-6) */
#define TRIED 24  /* pairs of neighbours looked at for rows */
#define MOST_STEPS 4e6

/* How far a planting was moved as a whole since @previous; (0, 0) when it was reshaped. */
static BlPoint
shift_since (const BlPlacing *placing, const BlPlanting *planting)
{
  const BlPlanting *old = bl_model_planting (placing->previous->model, planting->id);
  const BlPoints *a = planting->shape != NULL ? planting->shape->points : NULL, *b;
  BlPoint shift = { 0, 0 };

  if (a == NULL || a->len == 0 || old == NULL || old->shape == NULL
      || old->shape->points->len != a->len)
    return shift;
  b = old->shape->points;
  shift = bl_sub (bl_points_at (a, 0), bl_points_at (b, 0));
  for (guint i = 1; i < a->len; i++)
    if (bl_dist (bl_add (bl_points_at (b, i), shift), bl_points_at (a, i)) > 1e-6)
      return BL_POINT (0, 0);
  return shift;
}

BlPoints *
bl_place_stood (const BlPlacing *placing, const BlPlanting *planting)
{
  const GArray *placed = placing->previous != NULL ? placing->previous->placed : NULL;
  BlPoints *stood;
  BlPoint shift;

  if (!placing->follow)
    return planting->stood != NULL ? bl_points_copy (planting->stood) : bl_points_new ();
  stood = bl_points_new ();
  shift = placed != NULL ? shift_since (placing, planting) : BL_POINT (0, 0);
  for (guint i = 0; placed != NULL && i < placed->len; i++)
    {
      const BlPlaced *old = &g_array_index (placed, BlPlaced, i);

      if (old->planting_id == planting->id)
        bl_points_add (stood, bl_add (old->at, shift));
    }
  return stood;
}

static gboolean
is_near (BlPoint a, BlPoint b, double distance)
{
  BlPoint d = bl_sub (a, b);

  return distance > 0 && bl_dot (d, d) < distance * distance;
}

static gboolean
fits (BlPoint p, const BlRegion *region, const BlLatticeRule *rule, const BlPoints *kept)
{
  for (guint i = 0; i < rule->n_avoid; i++)
    if (is_near (p, rule->avoid[i], rule->avoid_radius[i] - 1e-9))
      return FALSE;
  for (guint i = 0; i < kept->len; i++)
    if (is_near (p, bl_points_at (kept, i), rule->spacing - 1e-9))
      return FALSE;
  return bl_region_inside_distance (region, p) >= -SNUG;
}

/* Rows: steps along @a and @b from @origin. */
typedef struct
{
  BlPoint origin, a, b;
} Rows;

static BlPoint
steps_to (const Rows *rows, BlPoint p)
{
  BlPoint d = bl_sub (p, rows->origin);
  double det = rows->a.x * rows->b.y - rows->a.y * rows->b.x;

  return BL_POINT ((d.x * rows->b.y - d.y * rows->b.x) / det,
                   (rows->a.x * d.y - rows->a.y * d.x) / det);
}

static guint
members (const Rows *rows, const BlPoints *points)
{
  guint n = 0;

  for (guint i = 0; i < points->len; i++)
    {
      BlPoint steps = steps_to (rows, bl_points_at (points, i));

      n += fabs (steps.x - round (steps.x)) < 1e-3 && fabs (steps.y - round (steps.y)) < 1e-3;
    }
  return n;
}

static Rows
rows_through (BlPoint p, BlPoint q, BlLatticeKind kind)
{
  BlPoint a = bl_sub (q, p);
  double turn = kind == BL_LATTICE_STAGGERED ? G_PI / 3 : G_PI / 2;

  return (Rows) { p, a, BL_POINT (a.x * cos (turn) - a.y * sin (turn),
                                  a.x * sin (turn) + a.y * cos (turn)) };
}

/* The rows in which most of @points stand; FALSE when fewer than three do. */
static gboolean
find_rows (const BlPoints *points, double spacing, Rows *best)
{
  guint tried = 0, most = 2;

  for (guint i = 0; i < points->len && tried < TRIED; i++)
    for (guint k = i + 1; k < points->len && tried < TRIED; k++)
      {
        BlPoint p = bl_points_at (points, i), q = bl_points_at (points, k);

        if (fabs (bl_dist (p, q) - spacing) > 1e-6)
          continue;
        tried++;
        for (int kind = BL_LATTICE_STAGGERED; kind <= BL_LATTICE_SQUARE; kind++)
          {
            Rows rows = rows_through (p, q, (BlLatticeKind) kind);
            guint n = members (&rows, points);

            if (n > most)
              {
                most = n;
                *best = rows;
              }
          }
        break; /* another plant may stand in other rows */
      }
  return most > 2;
}

static void
carry_on (const Rows *rows, const BlRegion *region, const BlLatticeRule *rule, BlPoints *kept)
{
  BlRect box = bl_region_extent (region);
  const BlPoint corners[] = { { box.x0, box.y0 }, { box.x1, box.y0 }, { box.x0, box.y1 },
                              { box.x1, box.y1 } };
  BlRect steps = { INFINITY, INFINITY, -INFINITY, -INFINITY };

  for (guint i = 0; i < G_N_ELEMENTS (corners); i++)
    {
      BlPoint s = steps_to (rows, corners[i]);

      steps = (BlRect) { MIN (steps.x0, floor (s.x)), MIN (steps.y0, floor (s.y)),
                         MAX (steps.x1, ceil (s.x)), MAX (steps.y1, ceil (s.y)) };
    }
  if (!((steps.x1 - steps.x0 + 1) * (steps.y1 - steps.y0 + 1) < MOST_STEPS))
    return;
  for (guint i = 0; i <= steps.x1 - steps.x0; i++)
    for (guint k = 0; k <= steps.y1 - steps.y0; k++)
      {
        BlPoint p = bl_add (rows->origin, bl_add (bl_mul (rows->a, steps.x0 + i),
                                                  bl_mul (rows->b, steps.y0 + k)));

        if (p.x >= box.x0 - SNUG && p.x <= box.x1 + SNUG && p.y >= box.y0 - SNUG
            && p.y <= box.y1 + SNUG && fits (p, region, rule, kept))
          bl_points_add (kept, p);
      }
}

BlPoints *
bl_place_keep (const BlPlacing *placing, GPtrArray *plantings, const BlRegion *region,
               const BlRegion *keep, const BlLatticeRule *rule)
{
  BlPoints *kept = bl_points_new ();
  Rows rows;

  for (guint i = 0; i < plantings->len; i++)
    {
      g_autoptr (BlPoints) stood = bl_place_stood (placing, plantings->pdata[i]);

      for (guint k = 0; k < stood->len; k++)
        if (fits (bl_points_at (stood, k), keep, rule, kept))
          bl_points_add (kept, bl_points_at (stood, k));
    }
  if (find_rows (kept, rule->spacing, &rows))
    carry_on (&rows, region, rule, kept);
  g_array_sort (kept, bl_compare_back_to_front);
  return kept;
}
