/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One weighted least-squares fit of the camera, with covariance and leverage. */
#include "photo/model-private.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <string.h>

/* A step that puts a click above the horizon is refused: every row becomes this. */
#define REFUSED 1e6

typedef struct
{
  BlLensModel *model;
  double theta[BL_PAR_N]; /* inactive parameters keep their values */
} Problem;

static void
take (Problem          *problem,
      const gsl_vector *x)
{
  for (int a = 0; a < problem->model->n_active; a++)
    problem->theta[problem->model->active[a]] = gsl_vector_get (x, a);
}

static int
rows_cb (const gsl_vector *x,
         void             *data,
         gsl_vector       *f)
{
  Problem *problem = data;

  take (problem, x);
  if (!bl_lens_model_rows (problem->model, problem->theta, f->data))
    gsl_vector_set_all (f, REFUSED);
  for (gsize i = 0; i < f->size; i++)
    if (!isfinite (f->data[i]))
      f->data[i] = REFUSED;
  return GSL_SUCCESS;
}

static int
jacobian_cb (const gsl_vector *x,
             void             *data,
             gsl_matrix       *j)
{
  Problem *problem = data;
  g_autofree double *rows = g_new (double, problem->model->n_rows);

  take (problem, x);
  if (!bl_lens_model_rows (problem->model, problem->theta, rows))
    gsl_matrix_set_zero (j);
  else
    bl_lens_model_jacobian (problem->model, problem->theta, j->data, NULL);
  return GSL_SUCCESS;
}

/* Minimises from @theta, leaving the best there. Returns the sum of squares. */
static double
minimise (BlLensModel *model,
          double      *theta,
          int          max_iterations)
{
  gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters ();
  Problem problem = { .model = model };
  gsl_multifit_nlinear_fdf fdf = { .f = rows_cb, .df = jacobian_cb, .n = model->n_rows,
                                   .p = (gsize) model->n_active, .params = &problem };
  gsl_multifit_nlinear_workspace *work;
  gsl_vector *x = gsl_vector_alloc (fdf.p);
  double chi2;
  int info;

  memcpy (problem.theta, theta, sizeof problem.theta);
  for (guint b = 0; b < model->blocks->len; b++)
    g_array_index (model->blocks, BlBlock, b).warm = FALSE;
  for (int a = 0; a < model->n_active; a++)
    gsl_vector_set (x, a, theta[model->active[a]]);
  parameters.scale = gsl_multifit_nlinear_scale_more;
  parameters.solver = gsl_multifit_nlinear_solver_qr;
  work = gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &parameters, fdf.n, fdf.p);
  gsl_multifit_nlinear_init (x, &fdf, work);
  gsl_multifit_nlinear_driver (max_iterations, 1e-9, 1e-10, 1e-12, NULL, NULL, &info, work);
  take (&problem, gsl_multifit_nlinear_position (work));
  memcpy (theta, problem.theta, sizeof problem.theta);
  gsl_blas_ddot (gsl_multifit_nlinear_residual (work), gsl_multifit_nlinear_residual (work), &chi2);
  gsl_multifit_nlinear_free (work);
  gsl_vector_free (x);
  return chi2;
}

/* (J'J)^-1 by the singular values of J with its columns scaled; directions that nothing speaks of
 * get a very large variance rather than an infinite one. */
static void
invert (const BlLensModel *model,
        const double      *jacobian,
        double            *cov)
{
  gsize n = model->n_rows, p = (gsize) model->n_active;
  gsl_matrix *u = gsl_matrix_alloc (n, p), *v = gsl_matrix_alloc (p, p);
  gsl_vector *s = gsl_vector_alloc (p);
  double scale[BL_PAR_N], least;

  for (gsize k = 0; k < p; k++)
    {
      scale[k] = 0.0;
      for (gsize i = 0; i < n; i++)
        scale[k] += jacobian[i * p + k] * jacobian[i * p + k];
      scale[k] = scale[k] > 0.0 ? sqrt (scale[k]) : 1.0;
      for (gsize i = 0; i < n; i++)
        gsl_matrix_set (u, i, k, jacobian[i * p + k] / scale[k]);
    }
  gsl_linalg_SV_decomp_jacobi (u, v, s);
  least = 1e-9 * gsl_vector_get (s, 0);
  memset (cov, 0, sizeof (double) * BL_PAR_N * BL_PAR_N);
  for (gsize a = 0; a < p; a++)
    for (gsize b = 0; b < p; b++)
      {
        double sum = 0.0;

        for (gsize k = 0; k < p; k++)
          {
            double sk = MAX (gsl_vector_get (s, k), least);

            sum += gsl_matrix_get (v, a, k) * gsl_matrix_get (v, b, k) / (sk * sk);
          }
        cov[model->active[a] * BL_PAR_N + model->active[b]] = sum / (scale[a] * scale[b]);
      }
  gsl_matrix_free (u);
  gsl_matrix_free (v);
  gsl_vector_free (s);
}

static guint
count_observations (const BlLensModel *model)
{
  guint n = 5 - (model->prior->no_lens ? 1 : 0) - (model->drop_roll ? 1 : 0)
            + (model->two_planes ? 1 : 0);

  for (guint b = 0; b < model->blocks->len; b++)
    n += g_array_index (model->blocks, BlBlock, b).n_rows;
  return n;
}

/* Covariance, leverages and the test of the fit at @theta. */
static BlLensFit *
finish (BlLensModel  *model,
        const double *theta)
{
  BlLensFit *fit = g_new0 (BlLensFit, 1);
  gsize n = model->n_rows, p = (gsize) model->n_active;
  g_autofree double *jacobian = g_new0 (double, n * p);
  int own = 0;

  memcpy (fit->theta, theta, sizeof fit->theta);
  fit->rows = g_new0 (double, n);
  fit->hat = g_new0 (double, n);
  if (!bl_lens_model_rows (model, theta, fit->rows))
    {
      bl_lens_fit_free (fit);
      return NULL;
    }
  bl_lens_model_jacobian (model, theta, jacobian, fit->hat);
  invert (model, jacobian, fit->cov);
  for (gsize i = 0; i < n; i++)
    {
      fit->chi2 += fit->rows[i] * fit->rows[i];
      for (gsize a = 0; a < p; a++)
        for (gsize b = 0; b < p; b++)
          fit->hat[i] += jacobian[i * p + a] * jacobian[i * p + b]
                         * fit->cov[model->active[a] * BL_PAR_N + model->active[b]];
    }
  for (guint b = 0; b < model->blocks->len; b++)
    own += g_array_index (model->blocks, BlBlock, b).n_own;
  fit->dof = (int) count_observations (model) - model->n_active - own;
  fit->p = fit->dof > 0 ? gsl_cdf_chisq_Q (fit->chi2, fit->dof) : 1.0;
  return fit;
}

static void
tidy (double *theta)
{
  /* Looking up past straight down, or with the picture turned right round, is the same view told
   * another way. */
  double pitch = remainder (theta[BL_CAM_PITCH], 2.0 * G_PI);

  if (fabs (pitch) > G_PI_2)
    {
      pitch = copysign (G_PI, pitch) - pitch;
      theta[BL_CAM_ROLL] += G_PI;
      theta[BL_CAM_HEADING] += G_PI;
    }
  theta[BL_CAM_PITCH] = pitch;
  theta[BL_CAM_ROLL] = remainder (theta[BL_CAM_ROLL], 2.0 * G_PI);
  theta[BL_CAM_HEADING] = remainder (theta[BL_CAM_HEADING], 2.0 * G_PI);
}

BlLensFit *
bl_lens_model_fit (BlLensModel  *model,
                   const double *from)
{
  double best[BL_PAR_N] = { 0 }, best_chi2 = INFINITY;
  g_autoptr (GArray) starts = NULL;
  int dof_guess = (int) model->n_rows;

  if (from != NULL)
    {
      memcpy (best, from, sizeof best);
      best_chi2 = minimise (model, best, 60);
    }
  else
    {
      starts = bl_lens_model_starts (model);
      for (guint i = 0; i < starts->len && i < 6; i++)
        {
          const double *start = (const double *) (const void *) starts->data + (gsize) i * BL_PAR_N;
          double theta[BL_PAR_N], chi2;

          memcpy (theta, start, sizeof theta);
          chi2 = minimise (model, theta, 80);
          if (chi2 < best_chi2 * (1.0 - 1e-6))
            {
              best_chi2 = chi2;
              memcpy (best, theta, sizeof best);
            }
          /* A fit about as good as the knowns allow needs no rival. */
          if (best_chi2 < 0.5 * dof_guess || (i >= 1 && best_chi2 < 2.0 * dof_guess))
            break;
        }
    }
  if (!(best_chi2 < REFUSED * REFUSED))
    return NULL;
  if (!model->turned)
    {
      double heading = best[BL_CAM_HEADING];

      tidy (best);
      best[BL_CAM_HEADING] = heading;
    }
  else
    tidy (best);
  return finish (model, best);
}

double
bl_lens_fit_block_worst (const BlLensModel *model,
                         const BlLensFit   *fit,
                         guint              b)
{
  guint at = bl_lens_model_first_row (model, b);
  guint n = g_array_index (model->blocks, BlBlock, b).n_rows;
  double worst = 0.0;

  for (guint i = at; i < at + n; i++)
    if (1.0 - fit->hat[i] > 1e-6)
      worst = MAX (worst, fabs (fit->rows[i]) / sqrt (1.0 - fit->hat[i]));
  return worst;
}

/* Log of the ground area that one pixel covers. */
static gboolean
log_element (const BlLensModel *model,
             const double      *theta,
             BlPoint            px,
             double            *value)
{
  BlPoint g, gx, gy;
  BlCamera camera;

  bl_lens_model_camera (model, theta, &camera);
  if (!bl_camera_to_ground (&camera, px, &g)
      || !bl_camera_to_ground (&camera, BL_POINT (px.x + 0.5, px.y), &gx)
      || !bl_camera_to_ground (&camera, BL_POINT (px.x, px.y + 0.5), &gy))
    return FALSE;
  *value = log (fabs (bl_cross (bl_sub (gx, g), bl_sub (gy, g))));
  return isfinite (*value);
}

static double
looseness_at (const BlLensModel *model,
              const BlLensFit   *fit,
              BlPoint            px,
              double            *explained)
{
  double gradient[BL_PAR_N] = { 0 }, theta[BL_PAR_N], variance = 0.0;

  memset (explained, 0, sizeof (double) * BL_PAR_N);
  memcpy (theta, fit->theta, sizeof theta);
  for (int a = 0; a < model->n_active; a++)
    {
      int p = model->active[a];
      double step = p == BL_CAM_CX || p == BL_CAM_CY ? 0.01 : 1e-5, hi, lo;

      theta[p] = fit->theta[p] + step;
      if (!log_element (model, theta, px, &hi))
        return 0.0;
      theta[p] = fit->theta[p] - step;
      if (!log_element (model, theta, px, &lo))
        return 0.0;
      theta[p] = fit->theta[p];
      gradient[p] = (hi - lo) / (2.0 * step);
    }
  for (int i = 0; i < BL_PAR_N; i++)
    {
      double with = 0.0;

      for (int k = 0; k < BL_PAR_N; k++)
        with += gradient[k] * fit->cov[i * BL_PAR_N + k];
      variance += gradient[i] * with;
      if (fit->cov[i * BL_PAR_N + i] > 0.0)
        explained[i] = with * with / fit->cov[i * BL_PAR_N + i];
    }
  for (int i = 0; i < BL_PAR_N && variance > 0.0; i++)
    explained[i] /= variance;
  return sqrt (MAX (variance, 0.0));
}

double
bl_lens_fit_looseness (const BlLensModel *model,
                       const BlLensFit   *fit,
                       int               *open)
{
  double worst = 0.0, share[BL_PAR_N], explained[BL_PAR_N] = { 0 };
  guint clicks = 0;

  for (guint b = 0; b < model->blocks->len; b++)
    {
      const BlKnown *known = g_array_index (model->blocks, BlBlock, b).known;

      for (guint i = 0; i < bl_known_ground_clicks (known); i++, clicks++)
        {
          double loose = looseness_at (model, fit, bl_points_at (known->px, i), share);

          if (loose > worst)
            {
              worst = loose;
              memcpy (explained, share, sizeof explained);
            }
        }
    }
  if (clicks == 0)
    {
      BlPoint low = BL_POINT (model->prior->width / 2.0, model->prior->height * 0.95);

      worst = looseness_at (model, fit, low, explained);
    }
  *open = BL_CAM_PITCH;
  if (explained[BL_CAM_FOCAL] > 0.9 && model->focal_prior <= 0.0)
    *open = BL_CAM_FOCAL;
  else if (explained[BL_CAM_ROLL] > 0.9 && explained[BL_CAM_PITCH] < 0.5)
    *open = BL_CAM_ROLL;
  return worst;
}
