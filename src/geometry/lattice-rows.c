/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where rows of a given direction may hold plants, and the shift along the rows that holds most.
 *
 * For each row the allowed stretches are the inside of the region less what lies within reach of an
 * edge (a capsule around it) or an avoided disc. Both are convex, so a row meets each in one
 * stretch and the answer is exact: no polygon is shrunk. A stretch of length L holds floor (L / s)
 * plants, and one more for a window of shifts of width L mod s; the shift that lies in most windows
 * is the best one. */
#include <stdlib.h>

#include "geometry/lattice-private.h"

#define EXACT_EDGES 32

static void
collect_edges (BlField *field, const BlRegion *region)
{
  g_autoptr (GPtrArray) rings = bl_region_rings (region);
  guint n = 0;

  for (guint r = 0; r < rings->len; r++)
    n += ((BlPoints *) rings->pdata[r])->len;
  field->from = g_new (BlPoint, n + 1);
  field->to = g_new (BlPoint, n + 1);
  for (guint r = 0; r < rings->len; r++)
    {
      const BlPoints *ring = rings->pdata[r];

      for (guint i = 0; i < ring->len; i++)
        {
          field->from[field->n_edges] = bl_points_at (ring, i);
          field->to[field->n_edges++] = bl_points_at (ring, (i + 1) % ring->len);
        }
    }
}

BlField *
bl_field_new (const BlRegion *region, const BlLatticeRule *rule, GError **error)
{
  g_autoptr (BlField) field = g_new0 (BlField, 1);

  if (rule->edge > 2 * BL_LATTICE_EDGE_SLACK)
    field->reach = rule->edge - BL_LATTICE_EDGE_SLACK;
  collect_edges (field, region);
  if (field->reach <= 0 && field->n_edges <= EXACT_EDGES)
    {
      /* Plants may stand on the line itself, which rounding must not push outside. It matters
       * where rows fit exactly between straight sides, not on curves of many short edges. */
      g_autoptr (BlRegion) grown = bl_region_offset (region, BL_LATTICE_EDGE_SLACK, error);

      if (grown == NULL)
        return NULL;
      g_free (field->from);
      g_free (field->to);
      field->n_edges = 0;
      collect_edges (field, grown);
    }
  field->n_discs = rule->n_avoid;
  field->centre = g_memdup2 (rule->avoid, rule->n_avoid * sizeof (BlPoint));
  field->radius = g_memdup2 (rule->avoid_radius, rule->n_avoid * sizeof (double));
  return g_steal_pointer (&field);
}

void
bl_field_free (BlField *field)
{
  if (field == NULL)
    return;
  g_free (field->from);
  g_free (field->to);
  g_free (field->centre);
  g_free (field->radius);
  g_free (field);
}

BlRows *
bl_rows_new (const BlField *field)
{
  BlRows *rows = g_new0 (BlRows, 1);

  rows->field = field;
  rows->from = g_new (BlPoint, field->n_edges + 1);
  rows->to = g_new (BlPoint, field->n_edges + 1);
  rows->centre = g_new (BlPoint, field->n_discs + 1);
  rows->crossings = g_array_new (FALSE, FALSE, sizeof (BlRowSpan));
  rows->blocks = g_array_new (FALSE, FALSE, sizeof (BlRowSpan));
  rows->allowed = g_array_new (FALSE, FALSE, sizeof (BlRowSpan));
  rows->sorted = g_array_new (FALSE, FALSE, sizeof (BlRowSpan));
  rows->events = g_array_new (FALSE, FALSE, sizeof (double));
  rows->starts = g_array_new (FALSE, FALSE, sizeof (guint));
  bl_rows_turn (rows, 0);
  return rows;
}

void
bl_rows_free (BlRows *rows)
{
  if (rows == NULL)
    return;
  g_free (rows->from);
  g_free (rows->to);
  g_free (rows->centre);
  g_array_unref (rows->crossings);
  g_array_unref (rows->blocks);
  g_array_unref (rows->allowed);
  g_array_unref (rows->sorted);
  g_array_unref (rows->events);
  g_array_unref (rows->starts);
  g_free (rows);
}

static BlPoint
turned (const BlRows *rows, BlPoint p)
{
  return BL_POINT (p.x * rows->cos + p.y * rows->sin, p.y * rows->cos - p.x * rows->sin);
}

void
bl_rows_turn (BlRows *rows, double angle)
{
  const BlField *field = rows->field;

  rows->angle = angle;
  rows->cos = cos (angle);
  rows->sin = sin (angle);
  rows->y0 = INFINITY;
  rows->y1 = -INFINITY;
  for (guint i = 0; i < field->n_edges; i++)
    {
      rows->from[i] = turned (rows, field->from[i]);
      rows->to[i] = turned (rows, field->to[i]);
      rows->y0 = MIN (rows->y0, rows->from[i].y);
      rows->y1 = MAX (rows->y1, rows->from[i].y);
    }
  for (guint i = 0; i < field->n_discs; i++)
    rows->centre[i] = turned (rows, field->centre[i]);
}

double
bl_row_gap (BlLatticeKind kind, double spacing)
{
  return kind == BL_LATTICE_STAGGERED ? spacing * sqrt (3) / 2 : spacing;
}

static void
add_span (GArray *spans, guint row, double lo, double hi)
{
  BlRowSpan span = { row, lo, hi };

  g_array_append_val (spans, span);
}

/* The rows numbered from 0 at @base, @gap apart, of which there are @n. */
typedef struct
{
  double base, gap;
  guint n;
} Ladder;

static guint
first_row (const Ladder *ladder, double y)
{
  double r = ceil ((y - ladder->base) / ladder->gap);

  return r <= 0 ? 0 : r >= ladder->n ? ladder->n : (guint) r;
}

static void
cross_edge (BlRows *rows, const Ladder *ladder, BlPoint a, BlPoint b)
{
  double slope;

  if (a.y > b.y)
    {
      BlPoint swap = a;

      a = b;
      b = swap;
    }
  if (a.y == b.y)
    return;
  slope = (b.x - a.x) / (b.y - a.y);
  for (guint r = first_row (ladder, a.y); r < ladder->n; r++)
    {
      double y = ladder->base + r * ladder->gap;

      if (y >= b.y)
        break;
      if (y >= a.y)
        add_span (rows->crossings, r, a.x + slope * (y - a.y), 0);
    }
}

static void
block_disc (BlRows *rows, const Ladder *ladder, BlPoint c, double radius)
{
  for (guint r = first_row (ladder, c.y - radius); r < ladder->n; r++)
    {
      double dy = ladder->base + r * ladder->gap - c.y;
      double half2 = radius * radius - dy * dy, half;

      if (dy >= radius)
        break;
      if (half2 <= 0)
        continue;
      half = sqrt (half2);
      add_span (rows->blocks, r, c.x - half, c.x + half);
    }
}

static void
widen_by_disc (BlPoint c, double radius, double y, double *lo, double *hi)
{
  double half2 = radius * radius - (y - c.y) * (y - c.y), half;

  if (half2 <= 0)
    return;
  half = sqrt (half2);
  *lo = MIN (*lo, c.x - half);
  *hi = MAX (*hi, c.x + half);
}

/* The capsule of radius @e around a-b: two discs and the band between them. */
static void
block_edge (BlRows *rows, const Ladder *ladder, BlPoint a, BlPoint b, double e)
{
  double length = bl_dist (a, b), top = MAX (a.y, b.y) + e;
  BlPoint u = length > 0 ? bl_mul (bl_sub (b, a), 1 / length) : BL_POINT (1, 0);

  for (guint r = first_row (ladder, MIN (a.y, b.y) - e); r < ladder->n; r++)
    {
      double y = ladder->base + r * ladder->gap, lo = INFINITY, hi = -INFINITY;

      if (y >= top)
        break;
      widen_by_disc (a, e, y, &lo, &hi);
      widen_by_disc (b, e, y, &lo, &hi);
      for (int side = -1; side <= 1 && fabs (u.y) > 1e-12; side += 2)
        {
          double t = (y - a.y - side * e * u.x) / u.y, x;

          if (t < 0 || t > length)
            continue;
          x = a.x - side * e * u.y + t * u.x;
          lo = MIN (lo, x);
          hi = MAX (hi, x);
        }
      if (lo < hi)
        add_span (rows->blocks, r, lo, hi);
    }
}

static int
compare_spans (const void *a, const void *b)
{
  const BlRowSpan *p = a, *q = b;

  return (p->lo > q->lo) - (p->lo < q->lo);
}

static void
sort_spans (BlRowSpan *spans, guint n)
{
  if (n > 24)
    {
      qsort (spans, n, sizeof *spans, compare_spans);
      return;
    }
  for (guint i = 1; i < n; i++)
    {
      BlRowSpan span = spans[i];
      guint j = i;

      for (; j > 0 && spans[j - 1].lo > span.lo; j--)
        spans[j] = spans[j - 1];
      spans[j] = span;
    }
}

/* Groups @spans by row into @sorted, each row by its lower end; starts[r] .. starts[r + 1]. */
static void
group_by_row (GArray *spans, guint n_rows, GArray *sorted, guint *starts)
{
  const BlRowSpan *from = (const BlRowSpan *) (gpointer) spans->data;
  BlRowSpan *to;

  g_array_set_size (sorted, spans->len);
  to = (BlRowSpan *) (gpointer) sorted->data;
  for (guint r = 0; r <= n_rows; r++)
    starts[r] = 0;
  for (guint i = 0; i < spans->len; i++)
    starts[from[i].row]++;
  for (guint r = 0, sum = 0; r <= n_rows; r++)
    {
      sum += starts[r];
      starts[r] = sum;
    }
  for (guint i = spans->len; i > 0; i--)
    to[--starts[from[i - 1].row]] = from[i - 1];
  for (guint r = 0; r < n_rows; r++)
    sort_spans (to + starts[r], starts[r + 1] - starts[r]);
}

static void
allow (BlRows *rows, guint row, double lo, double hi)
{
  if (hi - lo >= -BL_LATTICE_SPACING_SLACK)
    add_span (rows->allowed, row, lo - BL_LATTICE_SPACING_SLACK / 2,
              hi + BL_LATTICE_SPACING_SLACK / 2);
}

static void
allow_between (BlRows *rows, guint row, double lo, double hi, const BlRowSpan *blocks, guint n)
{
  for (guint i = 0; i < n && blocks[i].lo < hi; i++)
    {
      if (blocks[i].hi <= lo)
        continue;
      if (blocks[i].lo >= lo)
        allow (rows, row, lo, blocks[i].lo);
      lo = blocks[i].hi;
    }
  allow (rows, row, lo, hi);
}

/* Fills rows->allowed for the rows of @ladder. */
static void
find_allowed (BlRows *rows, const Ladder *ladder)
{
  const BlField *field = rows->field;
  g_autoptr (GArray) inside = NULL;
  guint *starts, *block_starts;
  const BlRowSpan *cross, *block;

  g_array_set_size (rows->crossings, 0);
  g_array_set_size (rows->blocks, 0);
  g_array_set_size (rows->allowed, 0);
  for (guint i = 0; i < field->n_edges; i++)
    {
      cross_edge (rows, ladder, rows->from[i], rows->to[i]);
      if (field->reach > 0)
        block_edge (rows, ladder, rows->from[i], rows->to[i], field->reach);
    }
  for (guint i = 0; i < field->n_discs; i++)
    block_disc (rows, ladder, rows->centre[i], field->radius[i]);
  g_array_set_size (rows->starts, 2 * (ladder->n + 1));
  starts = (guint *) (gpointer) rows->starts->data;
  block_starts = starts + ladder->n + 1;
  group_by_row (rows->crossings, ladder->n, rows->sorted, starts);
  inside = g_steal_pointer (&rows->sorted);
  rows->sorted = rows->crossings;
  rows->crossings = g_steal_pointer (&inside);
  group_by_row (rows->blocks, ladder->n, rows->sorted, block_starts);
  cross = (const BlRowSpan *) (gpointer) rows->crossings->data;
  block = (const BlRowSpan *) (gpointer) rows->sorted->data;
  for (guint r = 0; r < ladder->n; r++)
    for (guint i = starts[r]; i + 1 < starts[r + 1]; i += 2)
      allow_between (rows, r, cross[i].lo, cross[i + 1].lo, block + block_starts[r],
                     block_starts[r + 1] - block_starts[r]);
}

static double
row_shift (BlLatticeKind kind, double spacing, guint row)
{
  return kind == BL_LATTICE_STAGGERED && row % 2 == 1 ? spacing / 2 : 0;
}

static double
modulo (double x, double m)
{
  double r = x - m * floor (x / m);

  return r >= m || r < 0 ? 0 : r;
}

/* Shell's sort with Ciura's gaps: the lists are short and sorted a thousand times a search. */
static void
sort_doubles (double *x, guint n)
{
  static const guint gaps[] = { 301, 132, 57, 23, 10, 4, 1 };

  for (guint g = 0; g < G_N_ELEMENTS (gaps); g++)
    for (guint i = gaps[g]; i < n; i++)
      {
        double moved = x[i];
        guint j = i;

        for (; j >= gaps[g] && x[j - gaps[g]] > moved; j -= gaps[g])
          x[j] = x[j - gaps[g]];
        x[j] = moved;
      }
}

/* The shift in [0, s) that lies in most of the windows [open[i], close[i]] taken modulo s; the
 * middle of the first such stretch. @cover is how many windows contain 0. */
static guint
deepest (double *open, double *close, guint n, guint cover, double s, double *x)
{
  guint i = 0, j = 0, most;
  int depth = (int) cover, best = depth;
  double from = 0, to = -1;

  sort_doubles (open, n);
  sort_doubles (close, n);
  while (i < n || j < n)
    {
      if (i < n && (j == n || open[i] <= close[j]))
        {
          depth++;
          if (depth > best)
            {
              best = depth;
              from = open[i];
              to = -1;
            }
          i++;
        }
      else
        {
          if (depth == best && to < 0)
            to = close[j];
          depth--;
          j++;
        }
    }
  most = (guint) best;
  *x = (from + (to < 0 ? s : to)) / 2;
  return most;
}

void
bl_rows_count (BlRows *rows, BlPlacement *placement)
{
  double s = placement->spacing;
  Ladder ladder = { rows->y0 + placement->y, bl_row_gap (placement->kind, s), 0 };
  const BlRowSpan *allowed;
  double *open, *close;
  guint n, cover = 0;

  placement->count = 0;
  placement->x = 0;
  if (!(rows->y1 >= ladder.base))
    return;
  ladder.n = (guint) floor ((rows->y1 - ladder.base) / ladder.gap) + 1;
  find_allowed (rows, &ladder);
  n = rows->allowed->len;
  if (n == 0)
    return;
  allowed = (const BlRowSpan *) (gpointer) rows->allowed->data;
  g_array_set_size (rows->events, 2 * n);
  open = (double *) (gpointer) rows->events->data;
  close = open + n;
  for (guint i = 0; i < n; i++)
    {
      double length = allowed[i].hi - allowed[i].lo, whole = floor (length / s);

      placement->count += (guint) whole;
      open[i] = modulo (allowed[i].lo - row_shift (placement->kind, s, allowed[i].row), s);
      close[i] = open[i] + length - whole * s;
      if (close[i] >= s)
        {
          close[i] -= s;
          cover++;
        }
    }
  placement->count += deepest (open, close, n, cover, s, &placement->x);
}

void
bl_rows_emit (BlRows *rows, const BlPlacement *placement, BlPoints *out)
{
  double s = placement->spacing;
  BlPlacement again = *placement;
  double base, gap = bl_row_gap (placement->kind, s);

  bl_rows_turn (rows, placement->angle);
  bl_rows_count (rows, &again);
  base = rows->y0 + placement->y;
  for (guint i = 0; i < rows->allowed->len; i++)
    {
      BlRowSpan span = g_array_index (rows->allowed, BlRowSpan, i);
      double origin = again.x + row_shift (placement->kind, s, span.row);
      double y = base + span.row * gap;
      gint64 k = (gint64) ceil ((span.lo - origin) / s - 1e-12);

      for (; origin + (double) k * s <= span.hi + 1e-12; k++)
        {
          double x = origin + (double) k * s;

          bl_points_add (out, BL_POINT (x * rows->cos - y * rows->sin,
                                        y * rows->cos + x * rows->sin));
        }
    }
}
