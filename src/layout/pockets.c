/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Single plants in the pockets that even rows leave: between drifts, round specimens, in corners.
 *
 * The ground is looked at on a fine grid. A grid point is free when no plant claims it; the free
 * points are taken back to front, left to right, each taking its own spacing, and then each plant
 * taken is moved to where it has most room. */
#include <stdlib.h>

#include "layout/layout-private.h"

#define FINE 10       /* grid steps in a spacing */
#define COARSE 6      /* the same while a drag is followed */
#define MOST_CELLS 4e6
#define SETTLINGS 2

typedef struct
{
  BlPoint at;
  double radius; /* nearest that a plant may stand */
} Claim;

typedef struct
{
  const BlRegion *region;
  GArray *claims;     /* Claim */
  guint16 *taken;     /* how many claims cover each grid point */
  int columns, rows;
  double step;
  BlPoint origin;     /* of the last row: rows run back to front */
} Ground;

static BlPoint
cell_at (const Ground *ground, int column, int row)
{
  return BL_POINT (ground->origin.x + column * ground->step,
                   ground->origin.y - row * ground->step);
}

/* Adds @change to every grid point nearer than the claim's radius. */
static void
stamp (Ground *ground, const Claim *claim, int change)
{
  double r = claim->radius - 1e-9, x = claim->at.x - ground->origin.x;
  double y = ground->origin.y - claim->at.y;
  int first = (int) MAX (ceil ((y - r) / ground->step), 0);
  int last = (int) MIN (floor ((y + r) / ground->step), ground->rows - 1);

  for (int row = first; row <= last; row++)
    {
      double dy = row * ground->step - y, half = sqrt (MAX (r * r - dy * dy, 0));
      int left = (int) MAX (ceil ((x - half) / ground->step), 0);
      int right = (int) MIN (floor ((x + half) / ground->step), ground->columns - 1);
      guint16 *cells = ground->taken + (gsize) row * (gsize) ground->columns;

      for (int column = left; column <= right; column++)
        cells[column] = (guint16) (cells[column] + change);
    }
}

static void
add_claim (Ground *ground, BlPoint at, double radius)
{
  Claim claim = { at, radius };

  g_array_append_val (ground->claims, claim);
  stamp (ground, &claim, 1);
}

static gboolean
is_free (const Ground *ground, int column, int row)
{
  return ground->taken[(gsize) row * (gsize) ground->columns + (gsize) column] == 0
         && bl_region_contains (ground->region, cell_at (ground, column, row));
}

static int
compare_doubles (const void *a, const void *b)
{
  double p = *(const double *) a, q = *(const double *) b;

  return (p > q) - (p < q);
}

/* Where the row at @y crosses the rings, from left to right. */
static void
crossings (const GPtrArray *rings, double y, GArray *at)
{
  g_array_set_size (at, 0);
  for (guint r = 0; r < rings->len; r++)
    {
      const BlPoints *ring = rings->pdata[r];
      BlPoint a = bl_points_at (ring, ring->len - 1);

      for (guint i = 0; i < ring->len; i++)
        {
          BlPoint b = bl_points_at (ring, i);

          if ((a.y > y) != (b.y > y))
            {
              double x = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);

              g_array_append_val (at, x);
            }
          a = b;
        }
    }
  if (at->len > 1)
    qsort (at->data, at->len, sizeof (double), compare_doubles);
}

/* Marks what lies outside the region, a step's width of doubt left to bl_region_contains(): asking
 * it for every grid point would take most of the time. */
static void
mark_outside (Ground *ground)
{
  g_autoptr (GPtrArray) rings = bl_region_rings (ground->region);
  g_autoptr (GArray) at = g_array_new (FALSE, FALSE, sizeof (double));

  for (int row = 0; row < ground->rows; row++)
    {
      guint16 *cells = ground->taken + (gsize) row * (gsize) ground->columns;
      int column = 0;

      crossings (rings, ground->origin.y - row * ground->step, at);
      for (guint i = 0; i <= at->len; i += 2)
        {
          double in = i < at->len ? g_array_index (at, double, i) : INFINITY;
          double last = (in - ground->origin.x) / ground->step;

          for (; column < ground->columns && column < last; column++)
            cells[column] = 1;
          if (i + 1 < at->len)
            column = (int) MAX (
              floor ((g_array_index (at, double, i + 1) - ground->origin.x) / ground->step) + 1,
              column);
        }
    }
}

/* FALSE when there is no ground to look at. */
static gboolean
ground_init (Ground *ground, const BlRegion *region, double spacing, int fineness)
{
  BlRect box = bl_region_extent (region);
  double wide = box.x1 - box.x0, deep = box.y1 - box.y0;

  if (bl_region_is_empty (region) || !(wide >= 0) || !(deep >= 0))
    return FALSE;
  ground->region = region;
  ground->step = MAX (spacing / fineness, sqrt (wide * deep / MOST_CELLS));
  if (wide / ground->step > MOST_CELLS || deep / ground->step > MOST_CELLS)
    return FALSE;
  ground->columns = (int) floor (wide / ground->step) + 1;
  ground->rows = (int) floor (deep / ground->step) + 1;
  ground->origin = BL_POINT (box.x0, box.y1);
  ground->taken = g_new0 (guint16, (gsize) ground->columns * (gsize) ground->rows);
  ground->claims = g_array_new (FALSE, FALSE, sizeof (Claim));
  mark_outside (ground);
  return TRUE;
}

/* The least room that a plant at @p would have beyond what it needs; claim @own is its own. */
static double
room_at (const Ground *ground, BlPoint p, guint own, double spacing)
{
  double room = bl_region_inside_distance (ground->region, p);

  for (guint i = 0; i < ground->claims->len; i++)
    {
      const Claim *claim = &g_array_index (ground->claims, Claim, i);

      if (i == own || fabs (claim->at.x - p.x) > claim->radius + spacing)
        continue;
      room = MIN (room, bl_dist (claim->at, p) - claim->radius);
    }
  return room;
}

/* Moves the plant of claim @own within half a spacing to the grid point of most room. */
static void
settle (Ground *ground, guint own, double spacing)
{
  Claim *claim = &g_array_index (ground->claims, Claim, own);
  int column = (int) lround ((claim->at.x - ground->origin.x) / ground->step);
  int row = (int) lround ((ground->origin.y - claim->at.y) / ground->step);
  int reach = (int) (spacing / 2 / ground->step);
  double most = room_at (ground, claim->at, own, spacing);
  BlPoint best = claim->at;

  stamp (ground, claim, -1);
  for (int r = MAX (row - reach, 0); r <= MIN (row + reach, ground->rows - 1); r++)
    for (int c = MAX (column - reach, 0); c <= MIN (column + reach, ground->columns - 1); c++)
      {
        double room;

        if (!is_free (ground, c, r))
          continue;
        room = room_at (ground, cell_at (ground, c, r), own, spacing);
        if (room <= most + 1e-6)
          continue;
        most = room;
        best = cell_at (ground, c, r);
      }
  claim->at = best;
  stamp (ground, claim, 1);
}

void
bl_place_pockets (const BlPlacing *placing, const BlPlot *plot, const BlRegion *region,
                  double spacing, gboolean bulbs, BlPoints *points)
{
  Ground ground = { 0 };
  guint first;

  if (!ground_init (&ground, region, spacing, placing->follow ? COARSE : FINE))
    return;
  for (guint i = 0; i < plot->taken->len; i++)
    {
      BlTaken taken = g_array_index (plot->taken, BlTaken, i);

      if (taken.bulbs == bulbs)
        add_claim (&ground, taken.at, taken.claim + spacing / 2);
    }
  for (guint i = 0; i < points->len; i++)
    add_claim (&ground, bl_points_at (points, i), spacing);
  first = ground.claims->len;
  for (int row = 0; row < ground.rows; row++)
    for (int column = 0; column < ground.columns; column++)
      if (is_free (&ground, column, row))
        add_claim (&ground, cell_at (&ground, column, row), spacing);
  for (int round = 0; round < (placing->follow ? 0 : SETTLINGS); round++)
    for (guint i = first; i < ground.claims->len; i++)
      settle (&ground, i, spacing);
  for (guint i = first; i < ground.claims->len; i++)
    bl_points_add (points, g_array_index (ground.claims, Claim, i).at);
  if (ground.claims->len > first)
    g_array_sort (points, bl_compare_back_to_front);
  g_array_unref (ground.claims);
  g_free (ground.taken);
}
