/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pinhole camera: ground to pixel and back, the horizon, heights and clipping. */
#include "photo/camera.h"

#include <string.h>

/* Axes. On the ground right is R = (1, 0, 0) and forward (0, 1, 0) once position and heading are
 * taken out. The optical axis is F = (0, cos p, -sin p), the picture's down before roll
 * D = (0, -sin p, -cos p). Roll turns (R, D) so that R is seen along (cos r, sin r): clockwise, as
 * y runs down in the picture. */

/* The least sine of the angle below the vanishing line at which a pixel still counts as ground:
 * with the lens 1.5 m up that is 150 km away. */
#define LEAST_FALL 1e-5

double
bl_focal_from_35mm (double f35,
                    int    width,
                    int    height)
{
  return f35 * hypot (width, height) / hypot (36.0, 24.0);
}

void
bl_camera_init (BlCamera *camera,
                int       width,
                int       height)
{
  memset (camera, 0, sizeof *camera);
  camera->width = width;
  camera->height = height;
  camera->focal = bl_focal_from_35mm (26.0, width, height);
  camera->pitch = 10.0 * G_PI / 180.0;
  camera->eye = 1.5;
  camera->cx = width / 2.0;
  camera->cy = height / 2.0;
}

void
bl_camera_get_params (const BlCamera *camera,
                      double         *params)
{
  params[BL_CAM_FOCAL] = log (camera->focal);
  params[BL_CAM_PITCH] = camera->pitch;
  params[BL_CAM_ROLL] = camera->roll;
  params[BL_CAM_HEIGHT] = log (camera->eye);
  params[BL_CAM_K1] = camera->k1;
  params[BL_CAM_X] = camera->x;
  params[BL_CAM_Y] = camera->y;
  params[BL_CAM_HEADING] = camera->heading;
  params[BL_CAM_CX] = camera->cx;
  params[BL_CAM_CY] = camera->cy;
}

void
bl_camera_set_params (BlCamera     *camera,
                      const double *params)
{
  camera->focal = exp (params[BL_CAM_FOCAL]);
  camera->pitch = params[BL_CAM_PITCH];
  camera->roll = params[BL_CAM_ROLL];
  camera->eye = exp (params[BL_CAM_HEIGHT]);
  camera->k1 = params[BL_CAM_K1];
  camera->x = params[BL_CAM_X];
  camera->y = params[BL_CAM_Y];
  camera->heading = params[BL_CAM_HEADING];
  camera->cx = params[BL_CAM_CX];
  camera->cy = params[BL_CAM_CY];
}

/* A vector of the ground's frame (right, forward, up), seen from the lens. */
static BlRay
turn_to_lens (const BlCamera *camera,
              double          right,
              double          forward,
              double          up)
{
  double sp = sin (camera->pitch), cp = cos (camera->pitch);
  double sr = sin (camera->roll), cr = cos (camera->roll);
  double down = -sp * forward - cp * up;
  double along = cp * forward - sp * up;

  return (BlRay) { cr * right - sr * down, sr * right + cr * down, along };
}

/* The true upright in the ground's frame: the surface falls along d = (sin a, cos a), so going
 * along d is going down and the upright leans to -d. */
static void
upright_in_ground (const BlCamera *camera,
                   double         *right,
                   double         *forward,
                   double         *up)
{
  double tilt = atan (camera->slope);
  double azimuth = camera->slope_direction - camera->heading;

  *right = -sin (tilt) * sin (azimuth);
  *forward = -sin (tilt) * cos (azimuth);
  *up = cos (tilt);
}

BlRay
bl_camera_normal (const BlCamera *camera)
{
  return turn_to_lens (camera, 0.0, 0.0, 1.0);
}

BlRay
bl_camera_upright (const BlCamera *camera)
{
  double right, forward, up;

  if (camera->slope == 0.0)
    return bl_camera_normal (camera);
  upright_in_ground (camera, &right, &forward, &up);
  return turn_to_lens (camera, right, forward, up);
}

void
bl_camera_set_normal (BlCamera *camera,
                      BlRay     n)
{
  double length = sqrt (n.x * n.x + n.y * n.y + n.z * n.z);

  camera->pitch = asin (CLAMP (-n.z / length, -1.0, 1.0));
  camera->roll = hypot (n.x, n.y) > 1e-12 * length ? atan2 (n.x, -n.y) : 0.0;
}

BlRay
bl_camera_view (const BlCamera *camera,
                double          x,
                double          y,
                double          z)
{
  double sh = sin (camera->heading), ch = cos (camera->heading);
  double dx = x - camera->x, dy = y - camera->y;
  double right = dx * ch - dy * sh, forward = dx * sh + dy * ch, up = z;

  if (camera->slope != 0.0 && z != 0.0)
    {
      double ur, uf, uu;

      upright_in_ground (camera, &ur, &uf, &uu);
      right += z * ur;
      forward += z * uf;
      up = z * uu;
    }
  return turn_to_lens (camera, right, forward, up - camera->eye);
}

gboolean
bl_camera_see (const BlCamera *camera,
               BlRay           ray,
               BlPoint        *px)
{
  double mx = camera->width / 2.0, my = camera->height / 2.0, u, v, r2, stretch;

  if (!(ray.z > 1e-9))
    return FALSE;
  u = ray.x / ray.z + (camera->cx - mx) / camera->focal;
  v = ray.y / ray.z + (camera->cy - my) / camera->focal;
  r2 = u * u + v * v;
  /* Beyond 1 + 3 k1 r² = 0 the model folds the picture back on itself. */
  if (!(1.0 + 3.0 * camera->k1 * r2 > 0.0))
    return FALSE;
  stretch = camera->focal * (1.0 + camera->k1 * r2);
  px->x = mx + u * stretch;
  px->y = my + v * stretch;
  return isfinite (px->x) && isfinite (px->y);
}

gboolean
bl_camera_project (const BlCamera *camera,
                   double          x,
                   double          y,
                   double          z,
                   BlPoint        *px)
{
  return bl_camera_see (camera, bl_camera_view (camera, x, y, z), px);
}

/* The radius r with r (1 + k1 r²) = seen. The left side rises up to the fold, and is concave
 * there for k1 < 0, convex for k1 > 0: Newton from the side on which it cannot overshoot. */
static gboolean
undistort_radius (double  k1,
                  double  seen,
                  double *radius)
{
  double r;

  if (k1 == 0.0 || seen == 0.0)
    {
      *radius = seen;
      return TRUE;
    }
  if (k1 < 0.0)
    {
      double fold = 1.0 / sqrt (-3.0 * k1);

      if (seen >= fold * (2.0 / 3.0) * (1.0 - 1e-9))
        return FALSE;
      r = seen;
    }
  else
    r = seen;
  for (int i = 0; i < 60; i++)
    {
      double step = (r * (1.0 + k1 * r * r) - seen) / (1.0 + 3.0 * k1 * r * r);

      r -= step;
      if (fabs (step) < 1e-15 * (1.0 + r))
        break;
    }
  *radius = r;
  return isfinite (r);
}

gboolean
bl_camera_ray (const BlCamera *camera,
               BlPoint         px,
               BlRay          *ray)
{
  double mx = camera->width / 2.0, my = camera->height / 2.0;
  double u = (px.x - mx) / camera->focal;
  double v = (px.y - my) / camera->focal;
  double seen = hypot (u, v), r;

  if (!isfinite (seen) || !undistort_radius (camera->k1, seen, &r))
    return FALSE;
  if (seen > 0.0)
    {
      u *= r / seen;
      v *= r / seen;
    }
  *ray = (BlRay) { u + (mx - camera->cx) / camera->focal, v + (my - camera->cy) / camera->focal,
                   1.0 };
  return TRUE;
}

gboolean
bl_camera_to_ground (const BlCamera *camera,
                     BlPoint         px,
                     BlPoint        *ground)
{
  double sp = sin (camera->pitch), cp = cos (camera->pitch);
  double sr = sin (camera->roll), cr = cos (camera->roll);
  double sh = sin (camera->heading), ch = cos (camera->heading);
  double right, down, fall, t, x, y;
  BlRay ray;

  if (!bl_camera_ray (camera, px, &ray))
    return FALSE;
  right = cr * ray.x + sr * ray.y;
  down = -sr * ray.x + cr * ray.y;
  fall = sp + down * cp;
  if (!(fall > LEAST_FALL * sqrt (1.0 + ray.x * ray.x + ray.y * ray.y)))
    return FALSE;
  t = camera->eye / fall;
  x = t * right;
  y = t * (cp - down * sp);
  ground->x = camera->x + x * ch + y * sh;
  ground->y = camera->y - x * sh + y * ch;
  return TRUE;
}

double
bl_camera_metres_per_pixel (const BlCamera *camera,
                            BlPoint         ground)
{
  return bl_camera_view (camera, ground.x, ground.y, 0.0).z / camera->focal;
}

void
bl_camera_horizon (const BlCamera *camera,
                   BlPoint        *left,
                   BlPoint        *right)
{
  BlRay n = bl_camera_upright (camera);
  /* Directions d on the horizon: n · d = 0, with d = ((x - cx) / f, (y - cy) / f, 1). */
  double at[2] = { 0.0, camera->width };
  BlPoint *out[2] = { left, right };

  for (int i = 0; i < 2; i++)
    {
      double u = (at[i] - camera->cx) / camera->focal;

      /* A horizon that stands upright in the picture is met at its top and bottom instead. */
      if (fabs (n.y) > 1e-6)
        *out[i] = BL_POINT (at[i], camera->cy - camera->focal * (n.x * u + n.z) / n.y);
      else
        *out[i] = BL_POINT (camera->cx - camera->focal * n.z / n.x, i == 0 ? 0.0 : camera->height);
    }
}

double
bl_camera_height_at (const BlCamera *camera,
                     BlPoint         base,
                     BlPoint         top_px)
{
  BlRay foot = bl_camera_view (camera, base.x, base.y, 0.0);
  BlRay up = bl_camera_upright (camera);
  BlRay ray;
  double a, b, c, d, e, det, z, t;

  if (!bl_camera_ray (camera, top_px, &ray))
    return NAN;
  /* The nearest approach of the line of sight t·ray and the upright foot + z·up, measured across
   * the sight line; written as the least-squares solution of t ray - z up = foot. */
  a = ray.x * ray.x + ray.y * ray.y + ray.z * ray.z;
  b = ray.x * up.x + ray.y * up.y + ray.z * up.z;
  c = up.x * up.x + up.y * up.y + up.z * up.z;
  d = ray.x * foot.x + ray.y * foot.y + ray.z * foot.z;
  e = up.x * foot.x + up.y * foot.y + up.z * foot.z;
  det = a * c - b * b;
  if (!(det > 1e-12 * a * c))
    return NAN;
  t = (c * d - b * e) / det;
  z = (b * d - a * e) / det;
  if (!(t > 0.0))
    return NAN;
  return z;
}

/* Keeps the part of the ring where a x + b y + c >= 0. */
static BlPoints *
clip_half_plane (BlPoints *ring,
                 double    a,
                 double    b,
                 double    c)
{
  BlPoints *out = bl_points_new ();

  for (guint i = 0; i < ring->len; i++)
    {
      BlPoint p = bl_points_at (ring, i), q = bl_points_at (ring, (i + 1) % ring->len);
      double sp = a * p.x + b * p.y + c, sq = a * q.x + b * q.y + c;

      if (sp >= 0.0)
        bl_points_add (out, p);
      if ((sp >= 0.0) != (sq >= 0.0))
        bl_points_add (out, bl_lerp (p, q, sp / (sp - sq)));
    }
  g_array_unref (ring);
  return out;
}

BlPoints *
bl_camera_clip_ground (const BlCamera *camera,
                       const BlPoints *ring,
                       double          near_metres)
{
  /* Seen coordinates are linear in the plan: view (x, y) = o + x ex + y ey. */
  BlRay o = bl_camera_view (camera, 0.0, 0.0, 0.0);
  BlRay ex = bl_camera_view (camera, 1.0, 0.0, 0.0);
  BlRay ey = bl_camera_view (camera, 0.0, 1.0, 0.0);
  BlPoints *out = bl_points_new ();

  g_array_append_vals (out, ring->data, ring->len);
  ex = (BlRay) { ex.x - o.x, ex.y - o.y, ex.z - o.z };
  ey = (BlRay) { ey.x - o.x, ey.y - o.y, ey.z - o.z };
  out = clip_half_plane (out, ex.z, ey.z, o.z - MAX (near_metres, 1e-6));
  if (camera->k1 < 0.0)
    {
      /* Inside the square that fits the circle at which the lens model folds. */
      double m = 0.95 / sqrt (-3.0 * camera->k1) / G_SQRT2;
      double ox = (camera->cx - camera->width / 2.0) / camera->focal;
      double oy = (camera->cy - camera->height / 2.0) / camera->focal;
      double right = m - ox, left = m + ox, below = m - oy, above = m + oy;

      out = clip_half_plane (out, right * ex.z - ex.x, right * ey.z - ey.x, right * o.z - o.x);
      out = clip_half_plane (out, left * ex.z + ex.x, left * ey.z + ey.x, left * o.z + o.x);
      out = clip_half_plane (out, below * ex.z - ex.y, below * ey.z - ey.y, below * o.z - o.y);
      out = clip_half_plane (out, above * ex.z + ex.y, above * ey.z + ey.y, above * o.z + o.y);
    }
  if (out->len < 3)
    g_array_set_size (out, 0);
  return out;
}

gboolean
bl_camera_equal (const BlCamera *a,
                 const BlCamera *b)
{
  double pa[BL_CAM_N], pb[BL_CAM_N];

  bl_camera_get_params (a, pa);
  bl_camera_get_params (b, pb);
  return a->width == b->width && a->height == b->height && a->solved == b->solved
         && a->scaled == b->scaled && a->slope == b->slope
         && a->slope_direction == b->slope_direction && memcmp (pa, pb, sizeof pa) == 0
         && memcmp (a->cov, b->cov, sizeof a->cov) == 0;
}
