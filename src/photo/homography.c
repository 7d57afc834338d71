/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Closed forms from which the camera's solution starts: homography, pose, vanishing points. */
#include "photo/homography.h"

#include <gsl/gsl_linalg.h>

/* Centroid and the scale that makes the mean distance from it √2. */
static gboolean
normalising (const BlPoint *p,
             guint          n,
             BlPoint       *centre,
             double        *scale)
{
  double mean = 0.0;

  *centre = BL_POINT (0.0, 0.0);
  for (guint i = 0; i < n; i++)
    *centre = bl_add (*centre, bl_mul (p[i], 1.0 / n));
  for (guint i = 0; i < n; i++)
    mean += bl_dist (p[i], *centre) / n;
  *scale = G_SQRT2 / mean;
  return mean > 0.0 && isfinite (*scale);
}

/* The smallest right singular vector of the 2n equations; FALSE when the next one is as small. */
static gboolean
smallest_vector (gsl_matrix *a,
                 double     *out)
{
  gsl_matrix *v = gsl_matrix_alloc (9, 9);
  gsl_vector *s = gsl_vector_alloc (9);
  gboolean fixed;

  gsl_linalg_SV_decomp_jacobi (a, v, s);
  for (int i = 0; i < 9; i++)
    out[i] = gsl_matrix_get (v, i, 8);
  fixed = gsl_vector_get (s, 7) > 1e-9 * gsl_vector_get (s, 0);
  gsl_matrix_free (v);
  gsl_vector_free (s);
  return fixed;
}

gboolean
bl_homography_from_points (const BlPoint *from,
                           const BlPoint *to,
                           guint          n,
                           double        *h)
{
  BlPoint cf, ct;
  double sf, st, g[9], m[9], norm = 0.0;
  gsl_matrix *a;
  gboolean fixed;

  g_return_val_if_fail (n >= 4, FALSE);
  if (!normalising (from, n, &cf, &sf) || !normalising (to, n, &ct, &st))
    return FALSE;
  a = gsl_matrix_calloc (MAX (2 * n, 9), 9);
  for (guint i = 0; i < n; i++)
    {
      double x = (from[i].x - cf.x) * sf, y = (from[i].y - cf.y) * sf;
      double u = (to[i].x - ct.x) * st, v = (to[i].y - ct.y) * st;
      double rows[2][9] = { { x, y, 1, 0, 0, 0, -u * x, -u * y, -u },
                            { 0, 0, 0, x, y, 1, -v * x, -v * y, -v } };

      for (int k = 0; k < 2; k++)
        for (int j = 0; j < 9; j++)
          gsl_matrix_set (a, 2 * i + k, j, rows[k][j]);
    }
  fixed = smallest_vector (a, g);
  gsl_matrix_free (a);
  if (!fixed)
    return FALSE;
  /* Undo the normalisation: T'^-1 G T. */
  for (int r = 0; r < 3; r++)
    {
      m[3 * r] = g[3 * r] * sf;
      m[3 * r + 1] = g[3 * r + 1] * sf;
      m[3 * r + 2] = g[3 * r + 2] - sf * (g[3 * r] * cf.x + g[3 * r + 1] * cf.y);
    }
  for (int j = 0; j < 3; j++)
    {
      h[j] = m[j] / st + ct.x * m[6 + j];
      h[3 + j] = m[3 + j] / st + ct.y * m[6 + j];
      h[6 + j] = m[6 + j];
    }
  for (int j = 0; j < 9; j++)
    norm = MAX (norm, fabs (h[j]));
  if (fabs (h[8]) > 1e-12 * norm)
    norm = h[8];
  for (int j = 0; j < 9; j++)
    h[j] /= norm;
  return isfinite (h[0]) && isfinite (h[8]);
}

BlPoint
bl_homography_apply (const double *h,
                     BlPoint       p)
{
  double w = h[6] * p.x + h[7] * p.y + h[8];

  return BL_POINT ((h[0] * p.x + h[1] * p.y + h[2]) / w, (h[3] * p.x + h[4] * p.y + h[5]) / w);
}

void
bl_homography_jacobian (const double *h,
                        BlPoint       p,
                        double       *jacobian)
{
  double w = h[6] * p.x + h[7] * p.y + h[8];
  BlPoint q = bl_homography_apply (h, p);

  jacobian[0] = (h[0] - q.x * h[6]) / w;
  jacobian[1] = (h[1] - q.x * h[7]) / w;
  jacobian[2] = (h[3] - q.y * h[6]) / w;
  jacobian[3] = (h[4] - q.y * h[7]) / w;
}

gboolean
bl_focal_from_vanishing_points (BlPoint a,
                                BlPoint b,
                                BlPoint centre,
                                double *focal)
{
  double squared = -bl_dot (bl_sub (a, centre), bl_sub (b, centre));

  *focal = sqrt (squared);
  return squared > 0.0 && isfinite (squared);
}

gboolean
bl_focal_from_homography (const double *h,
                          BlPoint       centre,
                          double       *focal)
{
  /* Columns moved to the principal point: (x / f, y / f, w) must be at right angles and equally
   * long: two equations in 1 / f², each weighted by how much it says. */
  double x0 = h[0] - centre.x * h[6], y0 = h[3] - centre.y * h[6], w0 = h[6];
  double x1 = h[1] - centre.x * h[7], y1 = h[4] - centre.y * h[7], w1 = h[7];
  double a[2] = { x0 * x1 + y0 * y1, x0 * x0 + y0 * y0 - x1 * x1 - y1 * y1 };
  double b[2] = { w0 * w1, w0 * w0 - w1 * w1 };
  double squared = -(a[0] * a[0] + a[1] * a[1]) / (a[0] * b[0] + a[1] * b[1]);

  *focal = sqrt (squared);
  return squared > 0.0 && isfinite (squared);
}

gboolean
bl_pose_from_homography (const double *h,
                         BlPoint       inside,
                         BlCamera     *camera)
{
  double f = camera->focal, cx = camera->cx, cy = camera->cy, c[3][3], scale, sign, eye;
  BlRay n;

  for (int j = 0; j < 3; j++)
    {
      c[j][0] = (h[j] - cx * h[6 + j]) / f;
      c[j][1] = (h[3 + j] - cy * h[6 + j]) / f;
      c[j][2] = h[6 + j];
    }
  sign = h[6] * inside.x + h[7] * inside.y + h[8] < 0.0 ? -1.0 : 1.0;
  scale = 0.0;
  for (int j = 0; j < 2; j++)
    scale += 0.5 * sqrt (c[j][0] * c[j][0] + c[j][1] * c[j][1] + c[j][2] * c[j][2]);
  n.x = c[0][1] * c[1][2] - c[0][2] * c[1][1];
  n.y = c[0][2] * c[1][0] - c[0][0] * c[1][2];
  n.z = c[0][0] * c[1][1] - c[0][1] * c[1][0];
  eye = -sign * (n.x * c[2][0] + n.y * c[2][1] + n.z * c[2][2])
        / (scale * sqrt (n.x * n.x + n.y * n.y + n.z * n.z));
  if (!isfinite (eye) || eye == 0.0 || !(scale > 0.0))
    return FALSE;
  /* The lens is above the plane, whichever way round its axes were given. */
  if (eye < 0.0)
    n = (BlRay) { -n.x, -n.y, -n.z };
  bl_camera_set_normal (camera, n);
  camera->eye = fabs (eye);
  return TRUE;
}

gboolean
bl_lines_meet (BlPoint  a1,
               BlPoint  a2,
               BlPoint  b1,
               BlPoint  b2,
               BlPoint *at)
{
  BlPoint a = bl_sub (a2, a1), b = bl_sub (b2, b1);
  double cross = bl_cross (a, b);

  if (!(fabs (cross) > 1e-9 * bl_norm (a) * bl_norm (b)))
    return FALSE;
  *at = bl_add (a1, bl_mul (a, bl_cross (bl_sub (b1, a1), b) / cross));
  return TRUE;
}
