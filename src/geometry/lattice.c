/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lattice that holds most plants: directions and row positions tried in a fixed order. */
#include "config.h"

#include "geometry/lattice.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "geometry/lattice-private.h"

#define MOST_PLANTS 200000
#define STRAIGHT_TURN 0.02 /* radians: edges that turn less are one straight run */
#define KEPT 5             /* placements refined further */
#define SQUARE_TRIED 4     /* spacings: in wider beds staggered rows win */

typedef struct
{
  BlRows *rows;
  BlLatticeKind kind;
  double spacing, edge;
  double fold; /* directions repeat after this */
  guint fan, steps; /* directions, and row positions in one row gap */
  BlPlacement kept[KEPT];
  guint n_kept;
} Search;

double
bl_lattice_formula_count (double area, double spacing, BlLatticeKind kind)
{
  g_return_val_if_fail (spacing > 0, 0);
  return area / (spacing * bl_row_gap (kind, spacing));
}

/* ---- directions ---- */

typedef struct
{
  double angle, length;
} Run;

static int
compare_runs (const void *a, const void *b)
{
  const Run *p = a, *q = b;

  return (p->length < q->length) - (p->length > q->length);
}

/* The straight runs of all rings, longest first. */
static GArray *
straight_runs (const BlRegion *region)
{
  g_autoptr (GPtrArray) rings = bl_region_rings (region);
  GArray *runs = g_array_new (FALSE, FALSE, sizeof (Run));

  for (guint r = 0; r < rings->len; r++)
    {
      const BlPoints *ring = rings->pdata[r];
      BlPoint start = bl_points_at (ring, 0);
      double first = NAN;

      for (guint i = 0; i < ring->len; i++)
        {
          BlPoint a = bl_points_at (ring, i), b = bl_points_at (ring, (i + 1) % ring->len);
          double angle = atan2 (b.y - a.y, b.x - a.x);
          Run run;

          if (isnan (first) || fabs (remainder (angle - first, 2 * G_PI)) > STRAIGHT_TURN)
            {
              first = angle;
              start = a;
            }
          else
            g_array_set_size (runs, runs->len - 1);
          run = (Run) { atan2 (b.y - start.y, b.x - start.x), bl_dist (start, b) };
          g_array_append_val (runs, run);
        }
    }
  g_array_sort (runs, compare_runs);
  return runs;
}

/* The direction of the longest side, or of the whole shape where no side stands out. */
static double
main_direction (const BlRegion *region, const GArray *runs)
{
  BlRect extent = bl_region_extent (region);
  double size = hypot (extent.x1 - extent.x0, extent.y1 - extent.y0);

  if (runs->len > 0 && g_array_index (runs, Run, 0).length > 0.45 * size)
    return g_array_index (runs, Run, 0).angle;
  return bl_region_axis (region);
}

/* ---- search ---- */

static void
keep (Search *search, const BlPlacement *placement)
{
  guint at = search->n_kept;

  for (guint i = 0; i < search->n_kept; i++)
    if (fabs (search->kept[i].angle - placement->angle) < 1e-9)
      {
        if (search->kept[i].count >= placement->count)
          return;
        for (guint j = i; j + 1 < search->n_kept; j++)
          search->kept[j] = search->kept[j + 1];
        at = --search->n_kept;
        break;
      }
  while (at > 0 && search->kept[at - 1].count < placement->count)
    at--;
  if (at == KEPT)
    return;
  search->n_kept = MIN (search->n_kept + 1, KEPT);
  for (guint j = search->n_kept - 1; j > at; j--)
    search->kept[j] = search->kept[j - 1];
  search->kept[at] = *placement;
}

static void
try_at (Search *search, double y)
{
  BlPlacement placement = { search->kind, search->spacing, search->rows->angle, 0, 0, 0 };
  double gap = bl_row_gap (search->kind, search->spacing);

  placement.y = y - gap * floor (y / gap);
  bl_rows_count (search->rows, &placement);
  keep (search, &placement);
}

/* Row positions for one direction: the first row as near the lower edge as the rule allows, rows
 * against edges that run along, and even steps between. */
static void
try_direction (Search *search, double angle)
{
  BlRows *rows = search->rows;
  double gap = bl_row_gap (search->kind, search->spacing);
  guint along = 0;

  bl_rows_turn (rows, angle);
  try_at (search, search->edge);
  for (guint i = 0; i < rows->field->n_edges && along < 6; i++)
    {
      BlPoint d = bl_sub (rows->to[i], rows->from[i]);

      if (fabs (d.y) > 1e-9 + 1e-6 * fabs (d.x) || fabs (d.x) < search->spacing)
        continue;
      try_at (search, rows->from[i].y - rows->y0 + search->edge);
      try_at (search, rows->from[i].y - rows->y0 - search->edge);
      along++;
    }
  for (guint k = 1; k < search->steps; k++)
    try_at (search, search->edge + gap * k / search->steps);
}

static gboolean
step_to (Search *search, BlPlacement *at, double angle, double y)
{
  BlPlacement next = { search->kind, search->spacing, angle, y, 0, 0 };
  double gap = bl_row_gap (search->kind, search->spacing);

  next.y -= gap * floor (next.y / gap);
  bl_rows_turn (search->rows, angle);
  bl_rows_count (search->rows, &next);
  if (next.count <= at->count)
    return FALSE;
  *at = next;
  return TRUE;
}

/* Turns the rows about the middle of the field by ever smaller steps while the count grows. */
static void
refine (Search *search, BlPlacement *at)
{
  static const double turn[8] = { 1, -1, 0, 0, 1, 1, -1, -1 };
  static const double shift[8] = { 0, 0, 1, -1, 1, -1, 1, -1 };
  double dt = search->fold / search->fan / 2;
  double dy = bl_row_gap (search->kind, search->spacing) / search->steps / 2;

  for (int level = 0; level < 4; level++)
    {
      for (int k = 0, moves = 0; k < 8 && moves < 12; k++)
        if (step_to (search, at, at->angle + turn[k] * dt, at->y + shift[k] * dy))
          {
            k = -1;
            moves++;
          }
      dt /= 2;
      dy /= 2;
    }
}

static BlPlacement
best_placement (Search *search, double direction, const GArray *runs)
{
  BlPlacement best;

  search->fold = search->kind == BL_LATTICE_STAGGERED ? G_PI / 3 : G_PI / 2;
  search->n_kept = 0;
  try_direction (search, direction);
  for (guint i = 0; i < MIN (runs->len, 10) && search->fan > 0; i++)
    {
      const Run *run = &g_array_index (runs, Run, i);

      if (run->length >= search->spacing)
        try_direction (search, run->angle);
    }
  for (guint k = 1; k < search->fan; k++)
    try_direction (search, direction + search->fold * k / search->fan);
  best = search->kept[0];
  for (guint i = 0; i < search->n_kept && search->fan > 0; i++)
    {
      BlPlacement refined = search->kept[i];

      refine (search, &refined);
      if (refined.count > best.count)
        best = refined;
    }
  return best;
}

/* Small beds get a finer search: there one plant is a large part of the count, and each trial is
 * cheap. */
static void
set_effort (Search *search, double expected, gboolean best)
{
  if (!best)
    {
      search->fan = 0;
      search->steps = 8;
    }
  else
    {
      search->fan = expected < 400 ? 30 : expected < 2500 ? 24 : 16;
      search->steps = expected < 2500 ? 12 : 8;
    }
}

/* ---- the fill ---- */

static gboolean
check_rule (const BlRegion *region, const BlLatticeRule *rule, double *expected, GError **error)
{
  if (!(rule->spacing > 0) || !isfinite (rule->spacing) || !(rule->edge >= 0)
      || !isfinite (rule->edge))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("The spacing must be more than nothing and the distance from the edge "
                           "not less than nothing: set them again."));
      return FALSE;
    }
  *expected = bl_lattice_formula_count (bl_region_area (region), rule->spacing, rule->kind);
  if (*expected > MOST_PLANTS)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("A spacing of %.3f m would put about %.0f plants here, over the limit of %d: "
                   "check the spacing."),
                   rule->spacing, *expected, MOST_PLANTS);
      return FALSE;
    }
  return TRUE;
}

static int
compare_back_to_front (const void *a, const void *b)
{
  const BlPoint *p = a, *q = b;

  if (p->y != q->y)
    return p->y < q->y ? 1 : -1;
  return (p->x > q->x) - (p->x < q->x);
}

static BlPoints *
fill_by_rows (const BlRegion *region, const BlLatticeRule *rule, double expected, GError **error)
{
  BlPoints *points = bl_points_new ();
  g_autoptr (BlField) field = bl_field_new (region, rule, error);
  g_autoptr (BlRows) rows = NULL;
  g_autoptr (GArray) runs = NULL;
  Search search = { 0 };
  BlPlacement best;
  double direction, width = 2 * bl_region_area (region) / bl_region_perimeter (region);

  if (field == NULL)
    {
      g_array_unref (points);
      return NULL;
    }
  rows = bl_rows_new (field);
  runs = straight_runs (region);
  direction = main_direction (region, runs);
  search.rows = rows;
  search.kind = rule->kind;
  search.spacing = rule->spacing;
  search.edge = MAX (rule->edge, BL_LATTICE_EDGE_SLACK); /* clear of the field's own boundary */
  set_effort (&search, expected, rule->best);
  best = best_placement (&search, direction, runs);
  /* Staggered rows lose more at the edges: in a narrow bed the square lattice can hold more. */
  if (rule->best && rule->kind == BL_LATTICE_STAGGERED && width < SQUARE_TRIED * rule->spacing)
    {
      BlPlacement square;

      search.kind = BL_LATTICE_SQUARE;
      square = best_placement (&search, direction, runs);
      if (square.count > best.count)
        best = square;
    }
  bl_rows_emit (rows, &best, points);
  return points;
}

BlPoints *
bl_lattice_fill (const BlRegion *region, const BlLatticeRule *rule, GError **error)
{
  g_autoptr (BlPoints) points = NULL;
  double expected, width;

  g_return_val_if_fail (region != NULL && rule != NULL, NULL);
  g_return_val_if_fail (rule->n_avoid == 0 || (rule->avoid && rule->avoid_radius), NULL);
  if (!check_rule (region, rule, &expected, error))
    return NULL;
  if (bl_region_is_empty (region))
    return bl_points_new ();
  points = fill_by_rows (region, rule, expected, error);
  if (points == NULL)
    return NULL;
  width = 2 * bl_region_area (region) / bl_region_perimeter (region);
  if (rule->best && width < 2 * rule->spacing + 2 * rule->edge)
    {
      BlPoints *strip = bl_strip_fill (region, rule);

      if (strip->len > points->len)
        {
          g_array_unref (points);
          points = strip;
        }
      else
        g_array_unref (strip);
    }
  g_array_sort (points, compare_back_to_front);
  return g_steal_pointer (&points);
}
