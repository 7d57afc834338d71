/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a known says of where its points are seen: the residual rows of each kind. */
#include "photo/model-private.h"

#include <string.h>

void
bl_view_init (BlView            *view,
              const BlLensModel *model,
              const double      *theta)
{
  BlCamera *lens = &view->lens;
  BlRay o, ex, ey;

  bl_lens_model_camera (model, theta, lens);
  view->eye = lens->eye;
  view->eye2 = lens->eye * exp (theta[BL_PAR_STEP]);
  view->x = lens->x;
  view->y = lens->y;
  view->sin_heading = sin (lens->heading);
  view->cos_heading = cos (lens->heading);
  lens->slope_direction -= lens->heading;
  lens->eye = 1.0;
  lens->x = lens->y = lens->heading = 0.0;
  o = bl_camera_view (lens, 0.0, 0.0, 0.0);
  ex = bl_camera_view (lens, 1.0, 0.0, 0.0);
  ey = bl_camera_view (lens, 0.0, 1.0, 0.0);
  memcpy (view->ground, (double[3][3]) { { ex.x - o.x, ey.x - o.x, o.x },
                                         { ex.y - o.y, ey.y - o.y, o.y },
                                         { ex.z - o.z, ey.z - o.z, o.z } }, sizeof view->ground);
  view->upright = bl_camera_upright (lens);
}

static inline BlRay
see_ground (const BlView *view,
            BlPoint       g)
{
  const double (*m)[3] = view->ground;

  return (BlRay) { m[0][0] * g.x + m[0][1] * g.y + m[0][2], m[1][0] * g.x + m[1][1] * g.y + m[1][2],
                   m[2][0] * g.x + m[2][1] * g.y + m[2][2] };
}

/* Two rows: the click minus where the point is seen. */
static gboolean
click_rows (const BlView  *view,
            const BlBlock *block,
            guint          click,
            BlRay          seen,
            double        *rows)
{
  BlPoint px, at = bl_points_at (block->known->px, click);

  if (!bl_camera_see (&view->lens, seen, &px))
    return FALSE;
  rows[0] = (px.x - at.x) / block->click[click];
  rows[1] = (px.y - at.y) / block->click[click];
  return TRUE;
}

static gboolean
rectangle_rows (const BlView  *view,
                const BlBlock *block,
                const double  *own,
                double        *rows)
{
  double w = exp (own[3]), d = exp (own[4]) * block->hand;
  BlPoint along = BL_POINT (cos (own[2]), sin (own[2])), away = BL_POINT (-along.y, along.x);
  BlPoint corner[4] = { BL_POINT (own[0], own[1]) };
  double eye = block->second ? view->eye2 : view->eye;

  corner[1] = bl_add (corner[0], bl_mul (along, w));
  corner[2] = bl_add (corner[1], bl_mul (away, d));
  corner[3] = bl_add (corner[0], bl_mul (away, d));
  for (guint i = 0; i < 4; i++)
    if (!click_rows (view, block, i, see_ground (view, corner[i]), rows + 2 * i))
      return FALSE;
  rows[8] = (eye * w - block->size[0]) / block->sd[0];
  rows[9] = (eye * fabs (d) - block->size[1]) / block->sd[1];
  return TRUE;
}

/* Relations between free ground points: one row after the clicks'. */
static double
relation_row (const BlView  *view,
              const BlBlock *block,
              const BlPoint *g)
{
  double eye = block->second ? view->eye2 : view->eye;
  BlPoint a, b;

  switch (block->known->kind)
    {
    case BL_KNOWN_LENGTH:
      return (eye * bl_dist (g[0], g[1]) - block->size[0]) / block->sd[0];
    case BL_KNOWN_RIGHT_ANGLE:
      a = bl_sub (g[0], g[1]);
      b = bl_sub (g[2], g[1]);
      return (fabs (atan2 (bl_cross (a, b), bl_dot (a, b))) - G_PI_2) / block->sd[0];
    case BL_KNOWN_PARALLEL:
      a = bl_sub (g[1], g[0]);
      b = bl_sub (g[3], g[2]);
      /* Either end may have been clicked first. */
      if (bl_dot (a, b) < 0.0)
        b = bl_mul (b, -1.0);
      return atan2 (bl_cross (a, b), bl_dot (a, b)) / block->sd[0];
    case BL_KNOWN_EQUAL_LENGTHS:
      return log (bl_dist (g[0], g[1]) / bl_dist (g[2], g[3])) / block->sd[0];
    case BL_KNOWN_RECTANGLE:
    case BL_KNOWN_HEIGHT:
    case BL_KNOWN_POSITION:
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_EYE:
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      g_assert_not_reached ();
    }
}

static gboolean
free_point_rows (const BlView  *view,
                 const BlBlock *block,
                 const double  *own,
                 double        *rows)
{
  guint n = block->known->px->len;
  BlPoint g[4] = { 0 };

  for (guint i = 0; i < n; i++)
    {
      g[i] = BL_POINT (own[2 * i], own[2 * i + 1]);
      if (!click_rows (view, block, i, see_ground (view, g[i]), rows + 2 * i))
        return FALSE;
    }
  rows[2 * n] = relation_row (view, block, g);
  return isfinite (rows[2 * n]);
}

static gboolean
height_rows (const BlView  *view,
             const BlBlock *block,
             const double  *own,
             double        *rows)
{
  double eye = block->second ? view->eye2 : view->eye;
  BlRay foot = see_ground (view, BL_POINT (own[0], own[1]));
  BlRay top = { foot.x + own[2] * view->upright.x, foot.y + own[2] * view->upright.y,
                foot.z + own[2] * view->upright.z };

  rows[4] = (eye * own[2] - block->size[0]) / block->sd[0];
  return click_rows (view, block, 0, foot, rows) && click_rows (view, block, 1, top, rows + 2);
}

static gboolean
position_rows (const BlView  *view,
               const BlBlock *block,
               const double  *own,
               double        *rows)
{
  double eye = block->second ? view->eye2 : view->eye;
  double right = eye * own[0], forward = eye * own[1];

  rows[2] = (view->x + right * view->cos_heading + forward * view->sin_heading - block->size[0])
            / block->sd[0];
  rows[3] = (view->y - right * view->sin_heading + forward * view->cos_heading - block->size[1])
            / block->sd[0];
  return click_rows (view, block, 0, see_ground (view, BL_POINT (own[0], own[1])), rows);
}

/* Undistorted clicks against the level horizon: n · (u, v, 1) = 0. */
static gboolean
horizon_rows (const BlView  *view,
              const BlBlock *block,
              double        *rows)
{
  BlRay n = view->upright, ray;
  double across = hypot (n.x, n.y);

  for (guint i = 0; i < 2; i++)
    {
      if (!bl_camera_ray (&view->lens, bl_points_at (block->known->px, i), &ray) || across < 1e-9)
        return FALSE;
      rows[i] = view->lens.focal * (n.x * ray.x + n.y * ray.y + n.z) / across / block->click[i];
    }
  return TRUE;
}

static gboolean
straight_rows (const BlView  *view,
               const BlBlock *block,
               const double  *own,
               double        *rows)
{
  BlRay ray;

  for (guint i = 0; i < block->known->px->len; i++)
    {
      if (!bl_camera_ray (&view->lens, bl_points_at (block->known->px, i), &ray))
        return FALSE;
      rows[i] = view->lens.focal * (ray.y * cos (own[0]) - ray.x * sin (own[0]) - own[1])
                / block->click[i];
    }
  return TRUE;
}

gboolean
bl_block_rows (const BlView  *view,
               const BlBlock *block,
               const double  *own,
               double        *rows)
{
  switch (block->known->kind)
    {
    case BL_KNOWN_RECTANGLE:
      return rectangle_rows (view, block, own, rows);
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
    case BL_KNOWN_EQUAL_LENGTHS:
      return free_point_rows (view, block, own, rows);
    case BL_KNOWN_HEIGHT:
      return height_rows (view, block, own, rows);
    case BL_KNOWN_POSITION:
      return position_rows (view, block, own, rows);
    case BL_KNOWN_HORIZON:
      return horizon_rows (view, block, rows);
    case BL_KNOWN_STRAIGHT:
      return straight_rows (view, block, own, rows);
    case BL_KNOWN_EYE:
      /* Stated upright; the parameter is at right angles to the ground. */
      rows[0] = (view->eye / cos (atan (view->lens.slope)) - block->size[0]) / block->sd[0];
      return TRUE;
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      return FALSE;
    }
}

/* The best line through undistorted clicks, in closed form. */
static gboolean
straight_own (const BlView  *view,
              const BlBlock *block,
              double        *own)
{
  BlPoint mean = BL_POINT (0.0, 0.0);
  guint n = block->known->px->len;
  double xx = 0.0, xy = 0.0, yy = 0.0;
  g_autofree BlRay *ray = g_new (BlRay, n);

  for (guint i = 0; i < n; i++)
    {
      if (!bl_camera_ray (&view->lens, bl_points_at (block->known->px, i), &ray[i]))
        return FALSE;
      mean = bl_add (mean, BL_POINT (ray[i].x / n, ray[i].y / n));
    }
  for (guint i = 0; i < n; i++)
    {
      double dx = ray[i].x - mean.x, dy = ray[i].y - mean.y;

      xx += dx * dx;
      xy += dx * dy;
      yy += dy * dy;
    }
  own[0] = 0.5 * atan2 (2.0 * xy, xx - yy);
  own[1] = mean.y * cos (own[0]) - mean.x * sin (own[0]);
  return TRUE;
}

/* Points where the clicks meet the ground. */
gboolean
bl_block_first_own (const BlView  *view,
                    const BlBlock *block,
                    double        *own)
{
  const BlPoints *px = block->known->px;
  guint n = bl_known_ground_clicks (block->known);
  BlPoint g[4] = { 0 };

  if (block->known->kind == BL_KNOWN_STRAIGHT)
    return straight_own (view, block, own);
  for (guint i = 0; i < n; i++)
    if (!bl_camera_to_ground (&view->lens, bl_points_at (px, i), &g[i]))
      return FALSE;
  if (block->known->kind == BL_KNOWN_RECTANGLE)
    {
      BlPoint along = bl_add (bl_sub (g[1], g[0]), bl_sub (g[2], g[3]));
      BlPoint away = bl_add (bl_sub (g[3], g[0]), bl_sub (g[2], g[1]));

      own[0] = g[0].x;
      own[1] = g[0].y;
      own[2] = atan2 (along.y, along.x);
      own[3] = log (bl_norm (along) / 2.0);
      own[4] = log (bl_norm (away) / 2.0);
      return isfinite (own[3]) && isfinite (own[4]);
    }
  for (guint i = 0; i < n; i++)
    {
      own[2 * i] = g[i].x;
      own[2 * i + 1] = g[i].y;
    }
  if (block->known->kind == BL_KNOWN_HEIGHT)
    {
      own[2] = bl_camera_height_at (&view->lens, g[0], bl_points_at (px, 1));
      return isfinite (own[2]);
    }
  return TRUE;
}
