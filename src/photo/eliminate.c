/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each known's clicked points eliminated by variable projection, and what is believed beforehand. */
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
own_jacobian (const BlView  *view,
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
      if (!bl_block_rows (view, block, q, hi))
        return FALSE;
      q[k] = own[k] - step;
      if (!bl_block_rows (view, block, q, lo))
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
settle (const BlView *view,
        BlBlock      *block,
        double       *rows)
{
  guint m = block->n_rows;
  g_autofree double *j = g_new (double, (gsize) m * MAX (block->n_own, 1) + m);
  double *trial = j + (gsize) m * block->n_own;
  double r[BL_OWN_MAX * BL_OWN_MAX], step[BL_OWN_MAX], next[BL_OWN_MAX], cost;

  if (!(block->warm && bl_block_rows (view, block, block->own, rows)))
    {
      memset (next, 0, sizeof next);
      /* Where a click is above this camera's horizon, what fitted a camera before may still do. */
      if (bl_block_first_own (view, block, next))
        memcpy (block->own, next, sizeof next);
      else if (!block->settled)
        return FALSE;
      if (!bl_block_rows (view, block, block->own, rows))
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
      for (;;)
        {
          for (int k = 0; k < block->n_own; k++)
            next[k] = block->own[k] + gain * step[k];
          if (bl_block_rows (view, block, next, trial) && (c = sum_of_squares (trial, m)) <= cost)
            break;
          if (gain < 1e-4)
            {
              block->warm = block->settled = TRUE;
              return TRUE;
            }
          gain *= 0.5;
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
            const double      *theta,
            double            *rows)
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
bl_lens_model_rows (BlLensModel  *model,
                    const double *theta,
                    double       *rows)
{
  BlView view;
  guint at = 0;

  bl_view_init (&view, model, theta);
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
project_out (const BlView  *view,
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
bl_lens_model_jacobian (BlLensModel  *model,
                        const double *theta,
                        double       *jacobian,
                        double       *own_hat)
{
  g_autofree double *hi = g_new0 (double, model->n_rows);
  g_autofree double *lo = g_new0 (double, model->n_rows);
  double t[BL_PAR_N];
  BlView view;
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
          bl_view_init (&view, model, t);
          at = 0;
          for (guint b = 0; b < model->blocks->len; b++)
            {
              BlBlock *block = &g_array_index (model->blocks, BlBlock, b);

              if (!bl_block_rows (&view, block, block->own, rows + at))
                memset (rows + at, 0, sizeof (double) * block->n_rows);
              at += block->n_rows;
            }
          prior_rows (model, t, rows + at);
        }
      t[p] = theta[p];
      for (guint i = 0; i < model->n_rows; i++)
        jacobian[i * model->n_active + a] = (hi[i] - lo[i]) / (2.0 * step);
    }
  bl_view_init (&view, model, theta);
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
