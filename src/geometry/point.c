/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Points, rectangles and small vector arithmetic in the plane. */
#include "geometry/point.h"

#include <string.h>

BlPoints *
bl_points_copy (const BlPoints *points)
{
  BlPoints *copy;

  if (points == NULL)
    return NULL;
  copy = g_array_sized_new (FALSE, FALSE, sizeof (BlPoint), points->len);
  if (points->len > 0)
    g_array_append_vals (copy, points->data, points->len);
  return copy;
}

gboolean
bl_points_equal (const BlPoints *a, const BlPoints *b)
{
  if (a == NULL || b == NULL)
    return a == b;
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (bl_points_at (a, i).x != bl_points_at (b, i).x
        || bl_points_at (a, i).y != bl_points_at (b, i).y)
      return FALSE;
  return TRUE;
}

BlRect
bl_rect_of (const BlPoints *points)
{
  BlRect r = BL_RECT_EMPTY;

  for (guint i = 0; points != NULL && i < points->len; i++)
    {
      BlPoint p = bl_points_at (points, i);

      r = (BlRect) { MIN (r.x0, p.x), MIN (r.y0, p.y), MAX (r.x1, p.x), MAX (r.y1, p.y) };
    }
  return r;
}

BlRect
bl_rect_union (BlRect a, BlRect b)
{
  if (bl_rect_is_empty (a))
    return b;
  if (bl_rect_is_empty (b))
    return a;
  return (BlRect) { MIN (a.x0, b.x0), MIN (a.y0, b.y0), MAX (a.x1, b.x1), MAX (a.y1, b.y1) };
}

BlRect
bl_rect_grow (BlRect r, double by)
{
  if (bl_rect_is_empty (r))
    return r;
  return (BlRect) { r.x0 - by, r.y0 - by, r.x1 + by, r.y1 + by };
}

gboolean
bl_rect_is_empty (BlRect r)
{
  return !(r.x1 >= r.x0 && r.y1 >= r.y0);
}

gboolean
bl_rect_meets (BlRect a, BlRect b)
{
  return !bl_rect_is_empty (a) && !bl_rect_is_empty (b) && a.x0 <= b.x1 && b.x0 <= a.x1
         && a.y0 <= b.y1 && b.y0 <= a.y1;
}

double
bl_segment_distance (BlPoint p, BlPoint a, BlPoint b, BlPoint *nearest)
{
  BlPoint d = bl_sub (b, a), at;
  double length2 = bl_dot (d, d);
  double t = length2 > 0 ? bl_dot (bl_sub (p, a), d) / length2 : 0;

  at = bl_lerp (a, b, CLAMP (t, 0, 1));
  if (nearest != NULL)
    *nearest = at;
  return bl_dist (p, at);
}
