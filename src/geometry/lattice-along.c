/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Points along a line, the same distance apart as the crow flies. */
#include "geometry/lattice.h"

typedef struct
{
  guint segment;
  double t; /* within it */
} Place;

static BlPoint
point_of (const BlPoints *line, Place at)
{
  return bl_lerp (bl_points_at (line, at.segment), bl_points_at (line, at.segment + 1), at.t);
}

/* The first place after @at whose distance from it reaches @chord; FALSE past the end. */
static gboolean
advance (const BlPoints *line, Place *at, double chord)
{
  BlPoint from = point_of (line, *at);

  for (guint i = at->segment; i + 1 < line->len; i++)
    {
      BlPoint a = bl_points_at (line, i), b = bl_points_at (line, i + 1);
      BlPoint d = bl_sub (b, a), f = bl_sub (a, from);
      double qa = bl_dot (d, d), qb = bl_dot (f, d), qc = bl_dot (f, f) - chord * chord;
      double root = qb * qb - qa * qc, t;

      if (qa == 0 || root < 0)
        continue;
      t = (-qb + sqrt (root)) / qa; /* where the segment leaves the circle */
      if (t > 1 || t < (i == at->segment ? at->t : 0))
        continue;
      *at = (Place) { i, t };
      return TRUE;
    }
  return FALSE;
}

/* Walks @n chords; fills @out (when given) and returns how far short of the end it stops, along
 * the line; less than 0 when the line is too short. */
static double
walk (const BlPoints *line, double chord, guint n, BlPoints *out)
{
  Place at = { 0, 0 };
  double left = 0;

  if (out != NULL)
    bl_points_add (out, bl_points_at (line, 0));
  for (guint k = 0; k < n; k++)
    {
      if (!advance (line, &at, chord))
        return -1;
      if (out != NULL)
        bl_points_add (out, point_of (line, at));
    }
  left = bl_dist (point_of (line, at), bl_points_at (line, at.segment + 1));
  for (guint i = at.segment + 1; i + 1 < line->len; i++)
    left += bl_dist (bl_points_at (line, i), bl_points_at (line, i + 1));
  return left;
}

static double
length_of (const BlPoints *line)
{
  double sum = 0;

  for (guint i = 0; i + 1 < line->len; i++)
    sum += bl_dist (bl_points_at (line, i), bl_points_at (line, i + 1));
  return sum;
}

static BlPoint
middle_of (const BlPoints *line, double length)
{
  double left = length / 2;

  for (guint i = 0; i + 1 < line->len; i++)
    {
      BlPoint a = bl_points_at (line, i), b = bl_points_at (line, i + 1);
      double d = bl_dist (a, b);

      if (d >= left && d > 0)
        return bl_lerp (a, b, left / d);
      left -= d;
    }
  return bl_points_at (line, line->len - 1);
}

/* A line that comes back near itself could bring plants together that are not neighbours on it. */
static void
drop_crowded (BlPoints *points, double spacing)
{
  for (guint i = 1; i < points->len;)
    {
      gboolean crowded = FALSE;

      for (guint j = 0; j < i && !crowded; j++)
        crowded = bl_dist (bl_points_at (points, i), bl_points_at (points, j)) < spacing - 1e-9;
      if (crowded)
        g_array_remove_index (points, i);
      else
        i++;
    }
}

BlPoints *
bl_lattice_along (const BlPoints *line, double spacing)
{
  BlPoints *out = bl_points_new ();
  double length, low, high;
  guint n = 0;

  g_return_val_if_fail (line != NULL && spacing > 0, out);
  if (line->len == 0)
    return out;
  length = length_of (line);
  if (line->len > 1 && length / spacing < 200000)
    n = (guint) floor (length / spacing + 1e-9);
  low = spacing * (1 - 1e-12);
  while (n > 0 && walk (line, low, n, NULL) < 0)
    n--;
  if (n == 0)
    {
      bl_points_add (out, line->len > 1 ? middle_of (line, length) : bl_points_at (line, 0));
      return out;
    }
  /* The longest chord of which n fit: then the last plant stands at the end. */
  high = MAX (length / n * (1 + 1e-9), low);
  for (int i = 0; i < 60 && high - low > 1e-13 * high; i++)
    {
      double mid = (low + high) / 2;

      if (walk (line, mid, n, NULL) >= 0)
        low = mid;
      else
        high = mid;
    }
  walk (line, low, n, out);
  if (bl_dist (bl_points_at (out, n), bl_points_at (line, line->len - 1)) < 1e-6)
    bl_points_at (out, n) = bl_points_at (line, line->len - 1);
  drop_crowded (out, spacing);
  return out;
}
