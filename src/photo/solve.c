/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The camera from whatever is known: the solution with its residuals, tests and words. */
#include "config.h"

#include "base/error.h"
#include "photo/model-private.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_errno.h>
#include <string.h>

/* Relative looseness of the ground's area beyond which a set is called open: ±70 %. */
#define LOOSE 0.7

void
bl_solution_free (BlSolution *solution)
{
  if (solution == NULL)
    return;
  g_clear_pointer (&solution->residuals, g_array_unref);
  g_free (solution->message);
  g_free (solution);
}

static double
angle_between (BlPoint a,
               BlPoint b)
{
  return atan2 (fabs (bl_cross (a, b)), bl_dot (a, b)) * 180.0 / G_PI;
}

/* Greatest distance, pixels, of undistorted clicks from the line through the outer two. */
static double
bend (const BlCamera *camera,
      const BlPoints *px)
{
  BlRay first, last, ray;
  double most = 0.0, length;

  if (!bl_camera_ray (camera, bl_points_at (px, 0), &first)
      || !bl_camera_ray (camera, bl_points_at (px, px->len - 1), &last))
    return NAN;
  length = hypot (last.x - first.x, last.y - first.y);
  for (guint i = 1; i + 1 < px->len; i++)
    {
      double off;

      if (!bl_camera_ray (camera, bl_points_at (px, i), &ray))
        return NAN;
      off = (last.x - first.x) * (ray.y - first.y) - (last.y - first.y) * (ray.x - first.x);
      most = MAX (most, fabs (off) / length * camera->focal);
    }
  return most;
}

static double
horizon_offset (const BlCamera *camera,
                const BlPoints *px)
{
  BlRay n = bl_camera_upright (camera), ray;
  double most = 0.0;

  for (guint i = 0; i < px->len; i++)
    {
      if (!bl_camera_ray (camera, bl_points_at (px, i), &ray))
        return NAN;
      most = MAX (most, fabs (n.x * ray.x + n.y * ray.y + n.z) / hypot (n.x, n.y) * camera->focal);
    }
  return most;
}

static void
predict_ground (const BlKnown *known,
                const BlPoint *g,
                double        *predicted,
                double        *stated)
{
  *stated = known->size[0];
  switch (known->kind)
    {
    case BL_KNOWN_RECTANGLE:
      {
        double w = 0.5 * (bl_dist (g[0], g[1]) + bl_dist (g[2], g[3]));
        double d = 0.5 * (bl_dist (g[1], g[2]) + bl_dist (g[3], g[0]));

        *predicted = known->size[0] >= known->size[1] ? w : d;
        *stated = MAX (known->size[0], known->size[1]);
        break;
      }
    case BL_KNOWN_RIGHT_ANGLE:
      *predicted = angle_between (bl_sub (g[0], g[1]), bl_sub (g[2], g[1]));
      *stated = 90.0;
      break;
    case BL_KNOWN_PARALLEL:
      *predicted = angle_between (bl_sub (g[1], g[0]), bl_sub (g[3], g[2]));
      *predicted = MIN (*predicted, 180.0 - *predicted);
      *stated = 0.0;
      break;
    case BL_KNOWN_EQUAL_LENGTHS:
      *predicted = bl_dist (g[0], g[1]);
      *stated = bl_dist (g[2], g[3]);
      break;
    case BL_KNOWN_POSITION:
      *predicted = bl_dist (g[0], BL_POINT (known->size[0], known->size[1]));
      *stated = 0.0;
      break;
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_CHECK:
      *predicted = bl_dist (g[0], g[1]);
      break;
    case BL_KNOWN_HEIGHT:
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_EYE:
    case BL_KNOWN_N:
    default:
      g_assert_not_reached ();
    }
}

void
bl_known_predict (const BlCamera *camera,
                  const BlKnown  *known,
                  double         *predicted,
                  double         *stated)
{
  guint n = bl_known_ground_clicks (known);
  BlPoint g[4] = { 0 };

  *predicted = NAN;
  *stated = known->size[0];
  for (guint i = 0; i < n; i++)
    if (!bl_camera_to_ground (camera, bl_points_at (known->px, i), &g[i]))
      return;
  if (known->kind == BL_KNOWN_HEIGHT)
    *predicted = bl_camera_height_at (camera, g[0], bl_points_at (known->px, 1));
  else if (known->kind == BL_KNOWN_EYE)
    *predicted = camera->eye / cos (atan (camera->slope));
  else if (known->kind == BL_KNOWN_STRAIGHT)
    {
      *stated = 0.0;
      *predicted = bend (camera, known->px);
    }
  else if (known->kind == BL_KNOWN_HORIZON)
    {
      *stated = 0.0;
      *predicted = horizon_offset (camera, known->px);
    }
  else
    predict_ground (known, g, predicted, stated);
}

/* Row of the focal prior: the first after the blocks'. */
static double
prior_normalised (const BlLensModel *model,
                  const BlLensFit   *fit)
{
  guint at = bl_lens_model_first_row (model, model->blocks->len);

  if (1.0 - fit->hat[at] <= 1e-6)
    return 0.0;
  return fabs (fit->rows[at]) / sqrt (1.0 - fit->hat[at]);
}

static void
add_residuals (BlSolution        *solution,
               const BlLensModel *model,
               const BlLensFit   *fit)
{
  double worst = 3.0, sum = 0.0;
  guint n = 0;

  for (guint b = 0; b < model->blocks->len; b++)
    {
      const BlBlock *block = &g_array_index (model->blocks, BlBlock, b);
      BlKnownResidual r = { .known_id = block->known->id, .known_index = block->index };
      guint at = bl_lens_model_first_row (model, b);

      bl_known_predict (&solution->camera, block->known, &r.predicted, &r.stated);
      r.normalised = bl_lens_fit_block_worst (model, fit, b);
      if (r.normalised > worst)
        {
          worst = r.normalised;
          solution->worst = (int) solution->residuals->len;
        }
      g_array_append_val (solution->residuals, r);
      for (guint i = 0; i < MIN (2 * block->known->px->len, block->n_rows); i++, n++)
        sum += pow (fit->rows[at + i] * block->click[i / 2 % block->known->px->len], 2.0);
    }
  solution->rms_px = n > 0 ? sqrt (sum / n) : 0.0;
  if (model->focal_prior > 0.0)
    {
      BlKnownResidual r = { .known_index = G_MAXUINT, .stated = model->focal_prior,
                            .predicted = solution->camera.focal };

      r.normalised = prior_normalised (model, fit);
      if (r.normalised > worst)
        solution->worst = (int) solution->residuals->len;
      g_array_append_val (solution->residuals, r);
    }
}

static void
add_words (BlSolution         *solution,
           const BlPhotoPrior *prior,
           const GPtrArray    *knowns)
{
  double eye = solution->camera.eye;

  if (solution->message == NULL && solution->worst >= 0 && solution->chi2_p < 0.05)
    {
      const BlKnownResidual *r = &g_array_index (solution->residuals, BlKnownResidual,
                                                 solution->worst);

      if (r->known_index == G_MAXUINT)
        solution->message = g_strdup (_("The focal length from the metadata disagrees with the knowns; "
                                      "the photo may have been cropped."));
      else
        {
          g_autofree char *who = bl_known_describe (g_ptr_array_index (knowns, r->known_index));

          who[0] = g_ascii_toupper (who[0]);
          solution->message = g_strdup_printf (_("%s disagrees most with the rest, by %.1f times its "
                                               "standard deviation; check its points and its size."),
                                               who, r->normalised);
        }
    }
  if (solution->message == NULL && (eye < 0.3 || eye > 8.0))
    {
      g_autofree char *height = bl_say_length (eye, prior->units);

      solution->message = g_strdup_printf (_("By these knowns the lens was %s above the ground; if that "
                                           "cannot be, check the sizes and their units."), height);
    }
}

static gboolean
refuse_open (int      open,
             GError **error)
{
  const char *what;

  if (open == BL_CAM_N)
    what = _("The points of these knowns lie on one line, which leaves the camera's tilt open: give a "
           "point or a length well off that line.");
  else if (open == BL_CAM_FOCAL)
    what = _("These knowns leave the focal length open, and the metadata does not say it: give a "
           "rectangle with its two sides, or another length in another direction.");
  else
    what = _("These knowns leave the camera's tilt open: give a rectangle, the horizon, or a second "
           "length across the first.");
  g_set_error_literal (error, BL_ERROR, BL_ERROR_UNSOLVED, what);
  return FALSE;
}

/* Something that tells the tilt without a point off the line. */
static gboolean
has_view_beside_line (const GPtrArray *knowns)
{
  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);

      if (known->kind == BL_KNOWN_HORIZON || known->kind == BL_KNOWN_HEIGHT
          || known->kind == BL_KNOWN_EYE)
        return TRUE;
    }
  return FALSE;
}

static void
fill_camera (BlSolution        *solution,
             const BlLensModel *model,
             const BlLensFit   *fit)
{
  BlCamera *camera = &solution->camera;

  bl_lens_model_camera (model, fit->theta, camera);
  camera->solved = camera->scaled = TRUE;
  solution->chi2 = fit->chi2;
  solution->dof = fit->dof;
  solution->chi2_p = fit->p;
  /* Knowns that disagree more than chance allows are worse than stated, all alike as far as one
   * can tell (the usual a posteriori variance factor). */
  solution->widened = fit->dof > 0 && fit->p < 0.001 ? sqrt (fit->chi2 / fit->dof) : 1.0;
  for (int i = 0; i < BL_CAM_N; i++)
    for (int k = 0; k < BL_CAM_N; k++)
      camera->cov[i * BL_CAM_N + k] = fit->cov[i * BL_PAR_N + k]
                                      * solution->widened * solution->widened;
}

BlSolution *
bl_solve_camera (const BlPhotoPrior *prior,
                 const GPtrArray    *knowns,
                 GError            **error)
{
  g_autoptr (BlSolution) solution = NULL;
  g_autoptr (BlLensModel) model = NULL;
  g_autoptr (BlLensFit) fit = NULL;
  gsl_error_handler_t *handler;
  gboolean answered;
  int open, culprit;

  g_return_val_if_fail (prior != NULL && knowns != NULL, NULL);
  if (!bl_knowns_check (prior, knowns, error))
    return NULL;
  /* GSL's own way with a failed step is to end the program. */
  handler = gsl_set_error_handler_off ();
  solution = g_new0 (BlSolution, 1);
  solution->residuals = g_array_new (FALSE, TRUE, sizeof (BlKnownResidual));
  solution->worst = -1;
  model = bl_lens_model_new (prior, knowns, -1);
  fit = bl_lens_model_fit (model, NULL);
  if (fit != NULL)
    bl_judge_roll (prior, knowns, &model, &fit);
  if (fit == NULL)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_UNSOLVED,
                           _("No camera sees all these points on level ground; check that every point "
                           "lies on the ground and below the horizon."));
      answered = FALSE;
    }
  else if (bl_knowns_in_line (knowns) && !has_view_beside_line (knowns))
    answered = refuse_open (BL_CAM_N, error);
  else if (fit->p > 1e-3 && bl_lens_fit_looseness (model, fit, &open) > LOOSE)
    answered = refuse_open (open, error);
  else
    answered = bl_judge (prior, knowns, &model, &fit, &solution->message, &culprit, error)
               && (bl_lens_fit_looseness (model, fit, &open) <= LOOSE
                   || refuse_open (open, error));
  if (answered)
    {
      fill_camera (solution, model, fit);
      add_residuals (solution, model, fit);
      for (guint i = 0; culprit >= 0 && i < solution->residuals->len; i++)
        if (g_array_index (solution->residuals, BlKnownResidual, i).known_index == (guint) culprit)
          solution->worst = (int) i;
      add_words (solution, prior, knowns);
    }
  gsl_set_error_handler (handler);
  return answered ? g_steal_pointer (&solution) : NULL;
}
