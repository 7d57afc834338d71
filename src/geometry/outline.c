/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smooth bed line: a closed curve through the traced points. */
#include "config.h"

#include "geometry/outline.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "geometry/polygon.h"

#define MAX_COORDINATE 1e6

BlOutline *
bl_outline_new (void)
{
  return bl_outline_new_take (bl_points_new (), FALSE);
}

BlOutline *
bl_outline_new_take (BlPoints *points, gboolean straight)
{
  BlOutline *outline = g_new0 (BlOutline, 1);

  outline->points = points;
  outline->straight = straight;
  return outline;
}

BlOutline *
bl_outline_copy (const BlOutline *outline)
{
  BlOutline *copy;

  if (outline == NULL)
    return NULL;
  copy = bl_outline_new_take (bl_points_copy (outline->points), outline->straight);
  copy->open = outline->open;
  if (outline->sharp != NULL)
    copy->sharp = g_memdup2 (outline->sharp, outline->points->len * sizeof (gboolean));
  return copy;
}

void
bl_outline_free (BlOutline *outline)
{
  if (outline == NULL)
    return;
  g_array_unref (outline->points);
  g_free (outline->sharp);
  g_free (outline);
}

gboolean
bl_outline_is_sharp (const BlOutline *outline, guint at)
{
  return outline->straight || (outline->sharp != NULL && outline->sharp[at]);
}

gboolean
bl_outline_equal (const BlOutline *a, const BlOutline *b)
{
  if (a == NULL || b == NULL)
    return a == b;
  if (a->straight != b->straight || a->open != b->open || !bl_points_equal (a->points, b->points))
    return FALSE;
  for (guint i = 0; i < a->points->len; i++)
    if (!bl_outline_is_sharp (a, i) != !bl_outline_is_sharp (b, i))
      return FALSE;
  return TRUE;
}

void
bl_outline_insert (BlOutline *outline, guint at, BlPoint p)
{
  guint n;

  g_return_if_fail (outline != NULL && at <= outline->points->len);
  n = outline->points->len;
  g_array_insert_val (outline->points, at, p);
  if (outline->sharp == NULL)
    return;
  outline->sharp = g_renew (gboolean, outline->sharp, n + 1);
  for (guint i = n; i > at; i--)
    outline->sharp[i] = outline->sharp[i - 1];
  outline->sharp[at] = FALSE;
}

void
bl_outline_remove (BlOutline *outline, guint at)
{
  g_return_if_fail (outline != NULL && at < outline->points->len);
  g_array_remove_index (outline->points, at);
  for (guint i = at; outline->sharp != NULL && i < outline->points->len; i++)
    outline->sharp[i] = outline->sharp[i + 1];
}

void
bl_outline_set_sharp (BlOutline *outline, guint at, gboolean sharp)
{
  guint n;

  g_return_if_fail (outline != NULL && at < outline->points->len);
  n = outline->points->len;
  if (outline->sharp == NULL)
    outline->sharp = g_new0 (gboolean, n);
  if (outline->straight && !sharp)
    {
      for (guint i = 0; i < n; i++)
        outline->sharp[i] = TRUE;
      outline->straight = FALSE;
    }
  outline->sharp[at] = sharp;
}

/* ---- the curve ---- */

static guint
piece_count (const BlOutline *outline)
{
  guint n = outline->points->len;

  if (n < 2)
    return 0;
  return outline->open ? n - 1 : n;
}

static gboolean
ends_here (const BlOutline *outline, guint at)
{
  return bl_outline_is_sharp (outline, at)
         || (outline->open && (at == 0 || at + 1 == outline->points->len));
}

/* The derivative at @b, per unit of the piece b-c's parameter, of the Catmull-Rom curve through a,
 * b, c with knots the square root of the distances apart. */
static BlPoint
tangent (BlPoint a, BlPoint b, BlPoint c, double scale)
{
  double h0 = sqrt (bl_dist (a, b)), h1 = sqrt (bl_dist (b, c));
  BlPoint m;

  if (h0 <= 0 || h1 <= 0)
    return bl_sub (c, b);
  m = bl_add (bl_sub (bl_mul (bl_sub (b, a), 1 / h0), bl_mul (bl_sub (c, a), 1 / (h0 + h1))),
              bl_mul (bl_sub (c, b), 1 / h1));
  return bl_mul (m, scale);
}

static void
piece_controls (const BlOutline *outline, guint i, BlPoint *c1, BlPoint *c2)
{
  guint n = outline->points->len, next = (i + 1) % n;
  BlPoint p1 = bl_points_at (outline->points, i), p2 = bl_points_at (outline->points, next);
  double h = sqrt (bl_dist (p1, p2));
  /* At a sharp point the curve starts along its chord. */
  BlPoint m1 = bl_sub (p2, p1), m2 = m1;

  if (!ends_here (outline, i))
    m1 = tangent (bl_points_at (outline->points, (i + n - 1) % n), p1, p2, h);
  if (!ends_here (outline, next))
    m2 = bl_mul (tangent (bl_points_at (outline->points, (next + 1) % n), p2, p1, h), -1);
  *c1 = bl_add (p1, bl_mul (m1, 1.0 / 3));
  *c2 = bl_sub (p2, bl_mul (m2, 1.0 / 3));
}

BlPoints *
bl_outline_controls (const BlOutline *outline)
{
  BlPoints *controls = bl_points_new ();

  g_return_val_if_fail (outline != NULL, controls);
  for (guint i = 0; i < piece_count (outline); i++)
    {
      BlPoint c1, c2;

      piece_controls (outline, i, &c1, &c2);
      bl_points_add (controls, c1);
      bl_points_add (controls, c2);
    }
  return controls;
}

/* A bound on the distance of a cubic from its chord, times 4 and squared (Fischer 2000: the
 * second differences of the control polygon). */
static double
flatness (const BlPoint c[4])
{
  BlPoint u = bl_sub (bl_sub (bl_mul (c[1], 3), bl_mul (c[0], 2)), c[3]);
  BlPoint v = bl_sub (bl_sub (bl_mul (c[2], 3), bl_mul (c[3], 2)), c[0]);

  return MAX (u.x * u.x, v.x * v.x) + MAX (u.y * u.y, v.y * v.y);
}

static void
subdivide (BlPoints *out, const BlPoint c[4], double limit, int depth)
{
  BlPoint l[4], r[4], middle;

  if (depth == 0 || flatness (c) <= limit)
    {
      bl_points_add (out, c[3]);
      return;
    }
  middle = bl_lerp (c[1], c[2], 0.5);
  l[0] = c[0];
  l[1] = bl_lerp (c[0], c[1], 0.5);
  l[2] = bl_lerp (l[1], middle, 0.5);
  r[3] = c[3];
  r[2] = bl_lerp (c[2], c[3], 0.5);
  r[1] = bl_lerp (middle, r[2], 0.5);
  l[3] = r[0] = bl_lerp (l[2], r[1], 0.5);
  subdivide (out, l, limit, depth - 1);
  subdivide (out, r, limit, depth - 1);
}

static void
piece_cubic (const BlOutline *outline, guint i, BlPoint c[4])
{
  c[0] = bl_points_at (outline->points, i);
  c[3] = bl_points_at (outline->points, (i + 1) % outline->points->len);
  piece_controls (outline, i, &c[1], &c[2]);
}

BlPoints *
bl_outline_flatten (const BlOutline *outline, double tolerance)
{
  BlPoints *out = bl_points_new ();
  double limit = 16 * MAX (tolerance, 1e-9) * MAX (tolerance, 1e-9);

  g_return_val_if_fail (outline != NULL, out);
  if (outline->points->len > 0)
    bl_points_add (out, bl_points_at (outline->points, 0));
  for (guint i = 0; i < piece_count (outline); i++)
    {
      BlPoint c[4];

      piece_cubic (outline, i, c);
      subdivide (out, c, limit, 12);
    }
  if (!outline->open && out->len > 1)
    g_array_set_size (out, out->len - 1); /* the first point again */
  return out;
}

static BlPoint
cubic_at (const BlPoint c[4], double t)
{
  double s = 1 - t;

  return bl_add (bl_add (bl_mul (c[0], s * s * s), bl_mul (c[1], 3 * s * s * t)),
                 bl_add (bl_mul (c[2], 3 * s * t * t), bl_mul (c[3], t * t * t)));
}

BlPoints *
bl_outline_sample (const BlOutline *outline, guint per_segment)
{
  BlPoints *out = bl_points_new ();

  g_return_val_if_fail (outline != NULL && per_segment > 0, out);
  for (guint i = 0; i < piece_count (outline); i++)
    {
      BlPoint c[4];

      piece_cubic (outline, i, c);
      for (guint k = 0; k < per_segment; k++)
        bl_points_add (out, cubic_at (c, (double) k / per_segment));
    }
  if (outline->points->len > 0 && (outline->open || outline->points->len == 1))
    bl_points_add (out, bl_points_at (outline->points, outline->points->len - 1));
  return out;
}

/* ---- check ---- */

static gboolean
check_points (const BlOutline *outline, GError **error)
{
  const BlPoints *points = outline->points;
  guint least = outline->open ? 2 : 3;

  if (points->len < least)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("The line has %u points and needs at least %u: add more."), points->len, least);
      return FALSE;
    }
  for (guint i = 0; i < points->len; i++)
    {
      BlPoint p = bl_points_at (points, i);

      if (!isfinite (p.x) || !isfinite (p.y) || fabs (p.x) > MAX_COORDINATE
          || fabs (p.y) > MAX_COORDINATE)
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       _("Point %u is not a place on the plan: move it or take it out."), i + 1);
          return FALSE;
        }
    }
  for (guint i = 0; i < piece_count (outline); i++)
    {
      guint next = (i + 1) % points->len;

      if (bl_dist (bl_points_at (points, i), bl_points_at (points, next)) < 1e-6)
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       _("Points %u and %u are at the same place: take one of them out."), i + 1,
                       next + 1);
          return FALSE;
        }
    }
  return TRUE;
}

gboolean
bl_outline_check (const BlOutline *outline, GError **error)
{
  const guint steps = 16;
  g_autoptr (BlPoints) ring = NULL;
  guint n, i, j;

  g_return_val_if_fail (outline != NULL, FALSE);
  if (!check_points (outline, error))
    return FALSE;
  if (outline->open)
    return TRUE;
  ring = outline->straight ? bl_points_copy (outline->points) : bl_outline_sample (outline, steps);
  if (!bl_polygon_self_crosses (ring, &i, &j))
    return TRUE;
  n = outline->points->len;
  i /= outline->straight ? 1 : steps;
  j /= outline->straight ? 1 : steps;
  if (i == j)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("The line crosses itself between points %u and %u: move one of them."), i + 1,
                 (i + 1) % n + 1);
  else
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("The line between points %u and %u crosses itself between points %u and %u: move "
                 "one of them."),
                 i + 1, (i + 1) % n + 1, j + 1, (j + 1) % n + 1);
  return FALSE;
}
