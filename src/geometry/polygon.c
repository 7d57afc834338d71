/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Closed polygons: area, perimeter, inside, nearest point and self-crossing. */
#include "geometry/polygon.h"

#include <stdlib.h>

static BlPoint
ring_next (const BlPoints *ring, guint i)
{
  return bl_points_at (ring, i + 1 < ring->len ? i + 1 : 0);
}

/* Relative to the first point, so that a small bed far from the origin loses no digits. */
double
bl_polygon_signed_area (const BlPoints *ring)
{
  double twice = 0;
  BlPoint o;

  g_return_val_if_fail (ring != NULL, 0);
  if (ring->len < 3)
    return 0;
  o = bl_points_at (ring, 0);
  for (guint i = 1; i + 1 < ring->len; i++)
    twice += bl_cross (bl_sub (bl_points_at (ring, i), o), bl_sub (bl_points_at (ring, i + 1), o));
  return twice / 2;
}

double
bl_polygon_area (const BlPoints *ring)
{
  return fabs (bl_polygon_signed_area (ring));
}

double
bl_polygon_perimeter (const BlPoints *ring)
{
  double sum = 0;

  g_return_val_if_fail (ring != NULL, 0);
  for (guint i = 0; i < ring->len; i++)
    sum += bl_dist (bl_points_at (ring, i), ring_next (ring, i));
  return sum;
}

/* The centre of area; of a ring without area, the mean of its points. */
BlPoint
bl_polygon_centroid (const BlPoints *ring)
{
  BlPoint sum = { 0, 0 }, mean = { 0, 0 }, o;
  double twice = 0;

  g_return_val_if_fail (ring != NULL && ring->len > 0, mean);
  o = bl_points_at (ring, 0);
  for (guint i = 0; i < ring->len; i++)
    {
      BlPoint a = bl_sub (bl_points_at (ring, i), o), b = bl_sub (ring_next (ring, i), o);
      double cross = bl_cross (a, b);

      twice += cross;
      sum = bl_add (sum, bl_mul (bl_add (a, b), cross));
      mean = bl_add (mean, bl_mul (a, 1.0 / ring->len));
    }
  if (fabs (twice) < 1e-12)
    return bl_add (o, mean);
  return bl_add (o, bl_mul (sum, 1 / (3 * twice)));
}

gboolean
bl_polygon_contains (const BlPoints *ring, BlPoint p)
{
  gboolean inside = FALSE;

  g_return_val_if_fail (ring != NULL, FALSE);
  for (guint i = 0; i < ring->len; i++)
    {
      BlPoint a = bl_points_at (ring, i), b = ring_next (ring, i);

      if ((a.y > p.y) != (b.y > p.y)
          && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
        inside = !inside;
    }
  return inside;
}

/* Compared by squares: this is asked for every plant and every edge. */
BlPoint
bl_polygon_nearest (const BlPoints *ring, BlPoint p, guint *segment)
{
  BlPoint best = { NAN, NAN };
  double least = INFINITY;

  g_return_val_if_fail (ring != NULL, best);
  for (guint i = 0; i < ring->len; i++)
    {
      BlPoint a = bl_points_at (ring, i), d = bl_sub (ring_next (ring, i), a);
      BlPoint f = bl_sub (p, a), at;
      double length2 = bl_dot (d, d);
      double t = length2 > 0 ? CLAMP (bl_dot (f, d) / length2, 0, 1) : 0;
      double away2;

      at = BL_POINT (t * d.x - f.x, t * d.y - f.y);
      away2 = bl_dot (at, at);
      if (away2 < least)
        {
          least = away2;
          best = t < 1 ? BL_POINT (a.x + t * d.x, a.y + t * d.y) : ring_next (ring, i);
          if (segment != NULL)
            *segment = i;
        }
    }
  return best;
}

double
bl_polygon_inside_distance (const BlPoints *ring, BlPoint p)
{
  double d;

  g_return_val_if_fail (ring != NULL, -INFINITY);
  if (ring->len == 0)
    return -INFINITY;
  d = bl_dist (p, bl_polygon_nearest (ring, p, NULL));
  return bl_polygon_contains (ring, p) ? d : -d;
}

/* ---- self-crossing ---- */

static int
side_of (BlPoint a, BlPoint b, BlPoint p)
{
  long double cross = ((long double) b.x - a.x) * ((long double) p.y - a.y)
                      - ((long double) b.y - a.y) * ((long double) p.x - a.x);

  return (cross > 0) - (cross < 0);
}

static gboolean
within (BlPoint a, BlPoint b, BlPoint p)
{
  return p.x >= MIN (a.x, b.x) && p.x <= MAX (a.x, b.x) && p.y >= MIN (a.y, b.y)
         && p.y <= MAX (a.y, b.y);
}

static gboolean
segments_meet (BlPoint a, BlPoint b, BlPoint c, BlPoint d)
{
  int sa, sb, sc, sd;

  if (MAX (a.x, b.x) < MIN (c.x, d.x) || MAX (c.x, d.x) < MIN (a.x, b.x)
      || MAX (a.y, b.y) < MIN (c.y, d.y) || MAX (c.y, d.y) < MIN (a.y, b.y))
    return FALSE;
  sa = side_of (c, d, a);
  sb = side_of (c, d, b);
  sc = side_of (a, b, c);
  sd = side_of (a, b, d);
  if (sa * sb < 0 && sc * sd < 0)
    return TRUE;
  return (sa == 0 && within (c, d, a)) || (sb == 0 && within (c, d, b))
         || (sc == 0 && within (a, b, c)) || (sd == 0 && within (a, b, d));
}

/* Two edges that share the point @b meet elsewhere only when one folds back over the other. */
static gboolean
folds_back (BlPoint a, BlPoint b, BlPoint c)
{
  return side_of (a, b, c) == 0 && bl_dot (bl_sub (b, a), bl_sub (c, b)) < 0;
}

static gboolean
edges_meet (const BlPoint *p, guint n, guint i, guint j)
{
  BlPoint a = p[i], b = p[(i + 1) % n], c = p[j], d = p[(j + 1) % n];

  if (j == i + 1)
    return folds_back (a, b, d);
  if (i == 0 && j == n - 1)
    return folds_back (c, d, b);
  return segments_meet (a, b, c, d);
}

typedef struct
{
  double low, high; /* its reach in x */
  guint edge;
} EdgeReach;

static int
compare_reach (gconstpointer x, gconstpointer y)
{
  const EdgeReach *a = x, *b = y;

  return a->low < b->low ? -1 : a->low > b->low;
}

/* The first pair of edges that meet, by the first edge's index, then the second's. Only edges that
 * overlap in x are compared: a line of n points costs about n log n, not n². */
static gboolean
first_meeting (const BlPoint *p, guint n, guint *i, guint *j)
{
  g_autofree EdgeReach *order = g_new (EdgeReach, n), *near = g_new (EdgeReach, n);
  guint n_near = 0;
  gboolean found = FALSE;

  for (guint k = 0; k < n; k++)
    order[k] = (EdgeReach) { MIN (p[k].x, p[(k + 1) % n].x), MAX (p[k].x, p[(k + 1) % n].x), k };
  qsort (order, n, sizeof *order, compare_reach);
  for (guint k = 0; k < n; k++)
    {
      guint kept = 0;

      for (guint m = 0; m < n_near; m++)
        {
          guint a = MIN (near[m].edge, order[k].edge), b = MAX (near[m].edge, order[k].edge);

          if (near[m].high < order[k].low)
            continue;
          near[kept++] = near[m];
          if ((!found || a < *i || (a == *i && b < *j)) && edges_meet (p, n, a, b))
            {
              *i = a;
              *j = b;
              found = TRUE;
            }
        }
      near[kept] = order[k];
      n_near = kept + 1;
    }
  return found;
}

gboolean
bl_polygon_self_crosses (const BlPoints *ring, guint *i, guint *j)
{
  g_autofree BlPoint *p = NULL;
  g_autofree guint *index = NULL;
  guint n = 0, a = 0, b = 0;

  g_return_val_if_fail (ring != NULL, FALSE);
  p = g_new (BlPoint, ring->len + 1);
  index = g_new (guint, ring->len + 1);
  /* Edges without length are left out. */
  for (guint k = 0; k < ring->len; k++)
    if (bl_dist (bl_points_at (ring, k), ring_next (ring, k)) > 0)
      {
        p[n] = bl_points_at (ring, k);
        index[n++] = k;
      }
  if (n <= 2 || !first_meeting (p, n, &a, &b))
    return FALSE;
  if (i != NULL)
    *i = index[a];
  if (j != NULL)
    *j = index[b];
  return TRUE;
}
