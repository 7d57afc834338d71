/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Residuals of each known, with its clicked points eliminated by variable projection. */
#include "photo/model-private.h"

#include <string.h>

/* Every click is an observation of where a ground point is seen, and every known a relation
 * between such points: the sum of squares over camera and points together is what is least. The
 * points of one known matter to that known only, so for a given camera each known's are found by
 * itself (Gauss-Newton with a few parameters), and the camera's derivative is taken at their best
 * (variable projection: Golub and Pereyra 1973, in Kaufman's form of 1975). The result is that of
 * the full adjustment; the matrices have ten columns instead of a hundred.
 *
 * Points are in eye heights, in the camera's own frame, so that what is seen depends on neither
 * scale nor position; only stated sizes and coordinates do. */

typedef struct
{
  BlCamera lens;        /* eye 1, at (0, 0), heading 0 */
  double ground[3][3];  /* seen = ground · (x, y, 1) */
  BlRay upright;
  double eye, eye2, x, y, sin_heading, cos_heading;
} View;

static void
view_init (View          *view,
           const BlLensModel *model,
           const double  *theta)
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
see_ground (const View *view,
            BlPoint     g)
{
  const double (*m)[3] = view->ground;

  return (BlRay) { m[0][0] * g.x + m[0][1] * g.y + m[0][2], m[1][0] * g.x + m[1][1] * g.y + m[1][2],
                   m[2][0] * g.x + m[2][1] * g.y + m[2][2] };
}

/* Two rows: the click minus where the point is seen. */
static gboolean
click_rows (const View    *view,
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
rectangle_rows (const View    *view,
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
relation_row (const View    *view,
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
free_point_rows (const View    *view,
                 const BlBlock *block,
                 const double  *own,
                 double        *rows)
{
  guint n = block->known->px->len;
  BlPoint g[4];

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
height_rows (const View    *view,
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
position_rows (const View    *view,
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
horizon_rows (const View    *view,
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
straight_rows (const View    *view,
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

static gboolean
block_rows (const View    *view,
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
straight_own (const View    *view,
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
static gboolean
first_own (const View    *view,
           const BlBlock *block,
           double        *own)
{
  const BlPoints *px = block->known->px;
  guint n = bl_known_ground_clicks (block->known);
  BlPoint g[4];

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

static double
sum_of_squares (const double *rows,
                guint         n)
{
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    sum += rows[i] * rows[i];
  return sum;
}

/* Central differences by the block's own parameters: column major m × n_own. */
static gboolean
own_jacobian (const View    *view,
              const BlBlock *block,
              const double  *own,
              double        *j)
{
  guint m = block->n_rows;
  g_autofree double *lo = g_new (double, m);
  double q[BL_OWN_MAX];

  memcpy (q, own, sizeof q);
  for (int k = 0; k < block->n_own; k++)
    {
      double step = 1e-6 * (1.0 + fabs (own[k]));
      double *hi = j + (gsize) k * m;

      q[k] = own[k] + step;
      if (!block_rows (view, block, q, hi))
        return FALSE;
      q[k] = own[k] - step;
      if (!block_rows (view, block, q, lo))
        return FALSE;
      q[k] = own[k];
      for (guint i = 0; i < m; i++)
        hi[i] = (hi[i] - lo[i]) / (2.0 * step);
    }
  return TRUE;
}

/* Orthonormal columns of @j in place (modified Gram-Schmidt, twice); dependent ones become 0.
 * Column 0..n-1 of length m; returns the triangle in @r. */
static void
orthonormalise (double *j,
                guint   m,
                int     n,
                double *r)
{
  memset (r, 0, sizeof (double) * BL_OWN_MAX * BL_OWN_MAX);
  for (int k = 0; k < n; k++)
    {
      double *c = j + (gsize) k * m, before = sqrt (sum_of_squares (c, m)), norm;

      for (int pass = 0; pass < 2; pass++)
        for (int l = 0; l < k; l++)
          {
            const double *d = j + (gsize) l * m;
            double dot = 0.0;

            for (guint i = 0; i < m; i++)
              dot += c[i] * d[i];
            for (guint i = 0; i < m; i++)
              c[i] -= dot * d[i];
            r[l * BL_OWN_MAX + k] += dot;
          }
      norm = sqrt (sum_of_squares (c, m));
      if (!(norm > 1e-10 * before))
        norm = 0.0;
      r[k * BL_OWN_MAX + k] = norm;
      for (guint i = 0; i < m; i++)
        c[i] = norm > 0.0 ? c[i] / norm : 0.0;
    }
}

/* The Gauss-Newton step R s = -Q'rows. */
static void
solve_step (const double *q,
            const double *r,
            const double *rows,
            guint         m,
            int           n,
            double       *step)
{
  for (int k = n - 1; k >= 0; k--)
    {
      double v = 0.0;

      for (guint i = 0; i < m; i++)
        v -= q[(gsize) k * m + i] * rows[i];
      for (int l = k + 1; l < n; l++)
        v -= r[k * BL_OWN_MAX + l] * step[l];
      step[k] = r[k * BL_OWN_MAX + k] > 0.0 ? v / r[k * BL_OWN_MAX + k] : 0.0;
    }
}

/* Finds the block's own parameters for a given camera, and leaves its rows. */
static gboolean
settle (const View *view,
        BlBlock    *block,
        double     *rows)
{
  guint m = block->n_rows;
  g_autofree double *j = g_new (double, (gsize) m * MAX (block->n_own, 1) + m);
  double *trial = j + (gsize) m * block->n_own;
  double r[BL_OWN_MAX * BL_OWN_MAX], step[BL_OWN_MAX], next[BL_OWN_MAX], cost;

  if (!(block->warm && block_rows (view, block, block->own, rows)))
    {
      memset (next, 0, sizeof next);
      /* Where a click is above this camera's horizon, what fitted a camera before may still do. */
      if (first_own (view, block, next))
        memcpy (block->own, next, sizeof next);
      else if (!block->settled)
        return FALSE;
      if (!block_rows (view, block, block->own, rows))
        return FALSE;
    }
  cost = sum_of_squares (rows, m);
  for (int i = 0; i < 40 && block->n_own > 0; i++)
    {
      double gain = 1.0, size = 0.0, c;

      if (!own_jacobian (view, block, block->own, j))
        break;
      orthonormalise (j, m, block->n_own, r);
      solve_step (j, r, rows, m, block->n_own, step);
      for (;; gain *= 0.5)
        {
          for (int k = 0; k < block->n_own; k++)
            next[k] = block->own[k] + gain * step[k];
          if (block_rows (view, block, next, trial) && (c = sum_of_squares (trial, m)) <= cost)
            break;
          if (gain < 1e-4)
            {
              block->warm = block->settled = TRUE;
              return TRUE;
            }
        }
      for (int k = 0; k < block->n_own; k++)
        size = MAX (size, fabs (next[k] - block->own[k]) / (1.0 + fabs (next[k])));
      memcpy (block->own, next, sizeof (double) * block->n_own);
      memcpy (rows, trial, sizeof (double) * m);
      if (size < 1e-11 || (size < 1e-6 && cost - c < 1e-12 * (1.0 + c)))
        break;
      cost = c;
    }
  block->warm = block->settled = TRUE;
  return isfinite (cost);
}

/* What is believed before anything is known: one row each. */
static guint
prior_rows (const BlLensModel *model,
            const double  *theta,
            double        *rows)
{
  const BlPhotoPrior *prior = model->prior;
  double side = MAX (prior->width, prior->height);
  double centre_sd = prior->centre_sd > 0.0 ? prior->centre_sd
                     : model->focal_prior > 0.0 ? 0.005 : 0.1;
  guint n = 0;

  if (model->focal_prior > 0.0 && !model->drop_focal)
    rows[n++] = (theta[BL_CAM_FOCAL] - log (model->focal_prior))
                / (prior->focal_rel_sd > 0.0 ? prior->focal_rel_sd : 0.02);
  else
    /* Nothing said: between a wide lens and a short telephoto. */
    rows[n++] = (theta[BL_CAM_FOCAL] - log (bl_focal_from_35mm (30.0, prior->width, prior->height)))
                / 0.6;
  rows[n++] = (theta[BL_CAM_CX] - prior->width / 2.0) / (centre_sd * side);
  rows[n++] = (theta[BL_CAM_CY] - prior->height / 2.0) / (centre_sd * side);
  if (!prior->no_lens)
    rows[n++] = theta[BL_CAM_K1] / (model->free_lens ? 0.5
                                    : prior->k1_sd > 0.0 ? prior->k1_sd : 0.01);
  /* A phone is held with its long axis level to about 3°; looking straight down that says nothing. */
  if (!model->drop_roll)
    {
      BlCamera camera;

      bl_lens_model_camera (model, theta, &camera);
      rows[n++] = bl_camera_upright (&camera).x / sin (3.0 * G_PI / 180.0);
    }
  if (model->two_planes)
    rows[n++] = theta[BL_PAR_STEP] / 1.0;
  return n;
}

gboolean
bl_lens_model_rows (BlLensModel      *model,
               const double *theta,
               double       *rows)
{
  View view;
  guint at = 0;

  view_init (&view, model, theta);
  for (guint b = 0; b < model->blocks->len; b++)
    {
      BlBlock *block = &g_array_index (model->blocks, BlBlock, b);

      if (!settle (&view, block, rows + at))
        {
          block->warm = FALSE;
          return FALSE;
        }
      at += block->n_rows;
    }
  at += prior_rows (model, theta, rows + at);
  while (at < model->n_rows)
    rows[at++] = 0.0;
  return TRUE;
}

static double
step_of (int    parameter,
         double value)
{
  switch (parameter)
    {
    case BL_CAM_CX:
    case BL_CAM_CY:
      return 0.01;
    case BL_CAM_X:
    case BL_CAM_Y:
      return 1e-5 * (1.0 + fabs (value));
    default:
      return 1e-6;
    }
}

/* Takes from each camera column what the block's own parameters could do. */
static void
project_out (const View    *view,
             const BlBlock *block,
             double        *jacobian,
             int            n_active,
             double        *own_hat)
{
  guint m = block->n_rows;
  g_autofree double *q = g_new (double, (gsize) m * MAX (block->n_own, 1));
  double r[BL_OWN_MAX * BL_OWN_MAX];

  if (block->n_own == 0 || !own_jacobian (view, block, block->own, q))
    return;
  orthonormalise (q, m, block->n_own, r);
  for (int k = 0; k < block->n_own; k++)
    {
      const double *d = q + (gsize) k * m;

      for (int a = 0; a < n_active; a++)
        {
          double dot = 0.0;

          for (guint i = 0; i < m; i++)
            dot += d[i] * jacobian[i * n_active + a];
          for (guint i = 0; i < m; i++)
            jacobian[i * n_active + a] -= dot * d[i];
        }
      for (guint i = 0; own_hat != NULL && i < m; i++)
        own_hat[i] += d[i] * d[i];
    }
}

void
bl_lens_model_jacobian (BlLensModel      *model,
                   const double *theta,
                   double       *jacobian,
                   double       *own_hat)
{
  g_autofree double *hi = g_new0 (double, model->n_rows);
  g_autofree double *lo = g_new0 (double, model->n_rows);
  double t[BL_PAR_N];
  View view;
  guint at = 0;

  memcpy (t, theta, sizeof t);
  for (int a = 0; a < model->n_active; a++)
    {
      int p = model->active[a];
      double step = step_of (p, theta[p]);

      for (int side = 0; side < 2; side++)
        {
          double *rows = side == 0 ? hi : lo;

          t[p] = theta[p] + (side == 0 ? step : -step);
          view_init (&view, model, t);
          at = 0;
          for (guint b = 0; b < model->blocks->len; b++)
            {
              BlBlock *block = &g_array_index (model->blocks, BlBlock, b);

              if (!block_rows (&view, block, block->own, rows + at))
                memset (rows + at, 0, sizeof (double) * block->n_rows);
              at += block->n_rows;
            }
          prior_rows (model, t, rows + at);
        }
      t[p] = theta[p];
      for (guint i = 0; i < model->n_rows; i++)
        jacobian[i * model->n_active + a] = (hi[i] - lo[i]) / (2.0 * step);
    }
  view_init (&view, model, theta);
  at = 0;
  if (own_hat != NULL)
    memset (own_hat, 0, sizeof (double) * model->n_rows);
  for (guint b = 0; b < model->blocks->len; b++)
    {
      const BlBlock *block = &g_array_index (model->blocks, BlBlock, b);

      project_out (&view, block, jacobian + (gsize) at * model->n_active, model->n_active,
                   own_hat != NULL ? own_hat + at : NULL);
      at += block->n_rows;
    }
}
