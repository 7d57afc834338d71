/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wrong when knowns do not agree: the one that disagrees, swapped sides, the lens. */
#include "config.h"

#include "base/error.h"
#include "photo/model-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define SUSPECT 1e-3    /* a fit less probable than this is looked into */
#define AGREES 0.01     /* ... and one more probable than this explains it */
#define GROSS 10.0      /* standard deviations beyond which nothing is answered */
#define LOOSE 0.7       /* looseness of what cannot be judged */
#define MAX_TRIED 8     /* knowns left out in turn */

typedef struct
{
  const BlPhotoPrior *prior;
  const GPtrArray *knowns;
  BlLensModel *model;       /* as it stands */
  BlLensFit *fit;
} Case;

static gboolean
is_determined (const BlLensModel *model,
               const BlLensFit   *fit)
{
  int open;

  return bl_lens_fit_looseness (model, fit, &open) < LOOSE;
}

/* A trial with other switches; the caller sets them on the model. */
static BlLensFit *
fit_trial (BlLensModel  *trial,
           const double *from)
{
  g_autoptr (BlLensFit) fit = NULL;

  bl_lens_model_prepare (trial);
  fit = bl_lens_model_fit (trial, from);
  if (from != NULL && (fit == NULL || fit->p < AGREES))
    {
      g_autoptr (BlLensFit) wider = bl_lens_model_fit (trial, NULL);

      if (wider != NULL && (fit == NULL || wider->chi2 < fit->chi2))
        {
          bl_lens_fit_free (fit);
          fit = g_steal_pointer (&wider);
        }
    }
  if (fit != NULL && !is_determined (trial, fit))
    return NULL;
  return g_steal_pointer (&fit);
}

static BlLensModel *
trial_like (const Case *c,
            int         skip)
{
  BlLensModel *trial = bl_lens_model_new (c->prior, c->knowns, skip);

  trial->drop_roll = c->model->drop_roll;
  trial->free_lens = trial->free_lens || c->model->free_lens;
  return trial;
}

static gboolean
refuse (GError    **error,
        const char *sentence)
{
  g_set_error_literal (error, BL_ERROR, BL_ERROR_UNSOLVED, sentence);
  return FALSE;
}

/* How far the photo leans sideways by the knowns alone, in standard deviations of what holding a
 * camera level allows and of what the knowns can tell. */
static double
lean (const BlLensModel *model,
      const BlLensFit   *fit)
{
  double held = 3.0 * G_PI / 180.0, gradient[BL_PAR_N] = { 0 }, variance = held * held, at;
  double theta[BL_PAR_N];
  BlCamera camera;

  memcpy (theta, fit->theta, sizeof theta);
  bl_lens_model_camera (model, theta, &camera);
  at = bl_camera_upright (&camera).x;
  for (int p = BL_CAM_PITCH; p <= BL_CAM_ROLL; p++)
    {
      theta[p] += 1e-6;
      bl_lens_model_camera (model, theta, &camera);
      gradient[p] = (bl_camera_upright (&camera).x - at) / 1e-6;
      theta[p] = fit->theta[p];
    }
  for (int i = BL_CAM_PITCH; i <= BL_CAM_ROLL; i++)
    for (int k = BL_CAM_PITCH; k <= BL_CAM_ROLL; k++)
      variance += gradient[i] * gradient[k] * fit->cov[i * BL_PAR_N + k];
  return fabs (at) / sqrt (variance);
}

/* A photo taken tilted: the usual holding of a camera is given up where the knowns speak plainly
 * against it. */
void
bl_judge_roll (const BlPhotoPrior *prior,
               const GPtrArray    *knowns,
               BlLensModel       **model,
               BlLensFit         **fit)
{
  Case c = { prior, knowns, *model, *fit };
  g_autoptr (BlLensModel) trial = NULL;
  g_autoptr (BlLensFit) level = NULL;

  if (c.model->drop_roll || (c.fit->p > 0.05 && lean (c.model, c.fit) < 1.5))
    return;
  trial = trial_like (&c, -1);
  trial->drop_roll = TRUE;
  level = fit_trial (trial, NULL);
  if (level == NULL || lean (trial, level) < 3.0 || level->chi2 > c.fit->chi2)
    return;
  bl_lens_model_free (*model);
  bl_lens_fit_free (*fit);
  *model = g_steal_pointer (&trial);
  *fit = g_steal_pointer (&level);
}

static gboolean
try_lens (Case  *c,
          char **message)
{
  g_autoptr (BlLensModel) trial = NULL;
  g_autoptr (BlLensFit) fit = NULL;
  double sd;

  if (c->model->free_lens || c->prior->no_lens)
    return FALSE;
  trial = trial_like (c, -1);
  trial->free_lens = TRUE;
  fit = fit_trial (trial, c->fit->theta);
  if (fit == NULL || fit->p < AGREES)
    return FALSE;
  sd = sqrt (fit->cov[BL_CAM_K1 * BL_PAR_N + BL_CAM_K1]);
  if (fabs (fit->theta[BL_CAM_K1]) < 3.0 * sd || fabs (fit->theta[BL_CAM_K1]) > 0.6)
    return FALSE;
  *message = g_strdup_printf (_("The knowns agree only if the lens bends straight lines (radial term "
                              "%.3f ± %.3f); mark a line that is straight in the world to settle it."),
                              fit->theta[BL_CAM_K1], 1.96 * sd);
  bl_lens_model_free (c->model);
  bl_lens_fit_free (c->fit);
  c->model = g_steal_pointer (&trial);
  c->fit = g_steal_pointer (&fit);
  return TRUE;
}

/* Rectangles stated with width and depth exchanged. */
static gboolean
find_swapped (Case  *c,
              int   *culprit,
              char **sentence)
{
  for (guint b = 0; b < c->model->blocks->len; b++)
    {
      const BlBlock *block = &g_array_index (c->model->blocks, BlBlock, b);
      g_autoptr (BlLensModel) trial = NULL;
      g_autoptr (BlLensFit) fit = NULL;
      g_autofree char *who = NULL, *w = NULL, *d = NULL;
      BlBlock *swapped;
      double t;

      if (block->known->kind != BL_KNOWN_RECTANGLE
          || fabs (log (block->size[0] / block->size[1])) < 0.02)
        continue;
      trial = trial_like (c, -1);
      swapped = &g_array_index (trial->blocks, BlBlock, b);
      t = swapped->size[0];
      swapped->size[0] = swapped->size[1];
      swapped->size[1] = t;
      t = swapped->sd[0];
      swapped->sd[0] = swapped->sd[1];
      swapped->sd[1] = t;
      fit = fit_trial (trial, NULL);
      if (fit == NULL || fit->p < AGREES || fit->chi2 > 0.5 * c->fit->chi2)
        continue;
      who = bl_known_describe (block->known);
      w = bl_say_length (block->size[0], c->prior->units);
      d = bl_say_length (block->size[1], c->prior->units);
      *sentence = g_strdup_printf (_("The two sides of %s look swapped: %s is stated from its first "
                                   "corner to its second and %s from there to its third, but the "
                                   "photo fits the other way round; swap width and depth."),
                                   who, w, d);
      *culprit = (int) block->index;
      return TRUE;
    }
  return FALSE;
}

static const char *
ratio_hint (double ratio)
{
  static const struct { double ratio; const char *hint; } hints[] = {
    { 10.0, N_(" That is ten times: a decimal point may be out of place.") },
    { 1.0 / 0.3048, N_(" That is the ratio of feet to metres: check the unit.") },
    { 12.0, N_(" That is the ratio of inches to feet: check the unit.") },
    { 2.54, N_(" That is the ratio of inches to centimetres: check the unit.") },
    { 2.0, N_(" That is twice: half of it may have been clicked.") },
  };

  for (guint i = 0; i < G_N_ELEMENTS (hints); i++)
    if (fabs (fabs (log (ratio)) - log (hints[i].ratio)) < 0.03)
      return _(hints[i].hint);
  return "";
}

/* The sentence on a known that the rest do without. */
static char *
disagreement (const Case        *c,
              const BlLensModel *without,
              const BlLensFit   *fit,
              const BlKnown     *known)
{
  g_autofree char *who = bl_known_describe (known), *is = NULL, *says = NULL;
  double predicted, stated;
  BlCamera camera;

  who[0] = g_ascii_toupper (who[0]);
  bl_lens_model_camera (without, fit->theta, &camera);
  bl_known_predict (&camera, known, &predicted, &stated);
  if (!isfinite (predicted))
    return g_strdup_printf (_("%s does not agree with the rest, by which it would lie above the "
                            "horizon; check its points."), who);
  switch (known->kind)
    {
    case BL_KNOWN_RECTANGLE:
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_HEIGHT:
    case BL_KNOWN_EYE:
      is = bl_say_length (stated, c->prior->units);
      says = bl_say_length (predicted, c->prior->units);
      return g_strdup_printf (_("%s does not agree with the rest: %s is stated%s, the rest make it %s; "
                              "check the size and its points.%s"), who, is,
                              known->kind == BL_KNOWN_RECTANGLE ? _(" for its longer side") : "", says,
                              ratio_hint (stated / predicted));
    case BL_KNOWN_POSITION:
      is = bl_say_length (predicted, c->prior->units);
      return g_strdup_printf (_("%s does not agree with the rest: by them it lies %s from its stated "
                              "coordinates; check these and its point."), who, is);
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
      return g_strdup_printf (_("%s does not agree with the rest: they make the angle %.1f° where "
                              "%.0f° is stated; check its points."), who, predicted, stated);
    case BL_KNOWN_EQUAL_LENGTHS:
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      return g_strdup_printf (_("%s does not agree with the rest; check its points."), who);
    }
}

/* Leaves out one known after the other: whose absence lets the rest agree? */
static gboolean
find_culprit (Case   *c,
              int    *culprit,
              double *size,
              double *p,
              char  **sentence)
{
  g_autofree guint *order = g_new (guint, c->model->blocks->len + 1);
  guint n = c->model->blocks->len, cures = 0, second = G_MAXUINT;
  double best = 0.0;

  for (guint b = 0; b < n; b++)
    order[b] = b;
  for (guint i = 1; i < n; i++)
    for (guint j = i; j > 0
         && bl_lens_fit_block_worst (c->model, c->fit, order[j])
            > bl_lens_fit_block_worst (c->model, c->fit, order[j - 1]); j--)
      {
        guint t = order[j];

        order[j] = order[j - 1];
        order[j - 1] = t;
      }
  for (guint i = 0; i < MIN (n, MAX_TRIED); i++)
    {
      const BlBlock *block = &g_array_index (c->model->blocks, BlBlock, order[i]);
      g_autoptr (BlLensModel) trial = trial_like (c, (int) block->index);
      g_autoptr (BlLensFit) fit = fit_trial (trial, c->fit->theta);

      if (fit == NULL || fit->p < AGREES)
        continue;
      cures++;
      if (fit->p <= best)
        {
          second = block->index;
          continue;
        }
      if (best > 0.0)
        second = (guint) *culprit;
      best = fit->p;
      *culprit = (int) block->index;
      *size = sqrt (MAX (c->fit->chi2 - fit->chi2, 0.0));
      g_free (*sentence);
      *sentence = disagreement (c, trial, fit, block->known);
    }
  *p = best;
  if (cures == 2 && second != G_MAXUINT)
    {
      g_autofree char *a = bl_known_describe (g_ptr_array_index (c->knowns, *culprit));
      g_autofree char *b = bl_known_describe (g_ptr_array_index (c->knowns, second));
      g_autofree char *first = *sentence;

      *sentence = g_strdup_printf (_("%s Or it is %s that is wrong: either without the other agrees "
                                   "with the rest."), first, b);
    }
  return cures > 0;
}

/* The focal length the metadata states, against all the rest. */
static gboolean
find_wrong_focal (Case   *c,
                  double *size,
                  double *p,
                  char  **sentence)
{
  g_autoptr (BlLensModel) trial = NULL;
  g_autoptr (BlLensFit) fit = NULL;
  double ratio;

  if (c->model->focal_prior <= 0.0)
    return FALSE;
  trial = trial_like (c, -1);
  trial->drop_focal = TRUE;
  fit = fit_trial (trial, NULL);
  if (fit == NULL || fit->p < AGREES)
    return FALSE;
  *p = fit->p;
  ratio = exp (fit->theta[BL_CAM_FOCAL]) / c->model->focal_prior;
  *size = sqrt (MAX (c->fit->chi2 - fit->chi2, 0.0));
  *sentence = g_strdup_printf (_("The focal length from the photo's metadata does not agree with the "
                               "knowns: %.0f mm is recorded (35 mm equivalent), the knowns make it "
                               "%.0f mm; the photo may have been cropped or zoomed, so leave the "
                               "recorded focal length out."), c->prior->focal_35mm,
                               c->prior->focal_35mm * ratio);
  return TRUE;
}

static BlPoint
block_middle (const BlBlock *block)
{
  guint n = bl_known_ground_clicks (block->known);
  BlPoint middle = BL_POINT (0.0, 0.0);

  for (guint i = 0; i < n; i++)
    middle = bl_add (middle, bl_mul (bl_points_at (block->known->px, i), 1.0 / n));
  return middle;
}

static int
compare_across (gconstpointer a,
                gconstpointer b)
{
  double d = ((const BlPoint *) a)->x - ((const BlPoint *) b)->x;

  return d < 0.0 ? -1 : d > 0.0;
}

/* Two levels of ground: a split of the knowns by a line across or along the photo, the lens
 * higher above one part than above the other. */
static gboolean
find_two_planes (Case  *c,
                 char **sentence)
{
  g_autoptr (BlPoints) middles = bl_points_new ();
  double best = SUSPECT;

  for (guint b = 0; b < c->model->blocks->len; b++)
    if (bl_known_ground_clicks (g_array_index (c->model->blocks, BlBlock, b).known) > 0)
      bl_points_add (middles, block_middle (&g_array_index (c->model->blocks, BlBlock, b)));
  if (middles->len < 4)
    return FALSE;
  for (int axis = 0; axis < 2; axis++)
    {
      g_autoptr (BlPoints) sorted = bl_points_copy (middles);

      for (guint i = 0; axis == 1 && i < sorted->len; i++)
        bl_points_at (sorted, i).x = bl_points_at (sorted, i).y;
      g_array_sort (sorted, compare_across);
      for (guint i = 1; i + 1 < sorted->len - 1 && i < 9; i++)
        {
          double cut = 0.5 * (bl_points_at (sorted, i).x + bl_points_at (sorted, i + 1).x);
          g_autoptr (BlLensModel) trial = trial_like (c, -1);
          g_autoptr (BlLensFit) fit = NULL;
          g_autofree char *says = NULL;
          double step, eye;

          for (guint b = 0; b < trial->blocks->len; b++)
            {
              BlBlock *block = &g_array_index (trial->blocks, BlBlock, b);
              BlPoint m = block_middle (block);

              block->second = bl_known_ground_clicks (block->known) > 0
                              && (axis == 0 ? m.x > cut : m.y < cut);
            }
          trial->two_planes = TRUE;
          fit = fit_trial (trial, NULL);
          if (fit == NULL || fit->p <= MAX (best, AGREES))
            continue;
          best = fit->p;
          eye = exp (fit->theta[BL_CAM_HEIGHT]);
          step = eye * (1.0 - exp (fit->theta[BL_PAR_STEP]));
          g_free (*sentence);
          says = bl_say_length (fabs (step), c->prior->units);
          *sentence = g_strdup_printf (_("The knowns look as if they lay on two levels of ground: %s "
                                       "seems about %s %s than the rest; use only the knowns of "
                                       "the level the bed is on."),
                                       axis == 0 ? _("the right part") : _("the far part"), says,
                                       step > 0.0 ? _("higher") : _("lower"));
        }
    }
  return best > SUSPECT;
}

gboolean
bl_judge (const BlPhotoPrior *prior,
          const GPtrArray    *knowns,
          BlLensModel       **model,
          BlLensFit         **fit,
          char              **message,
          int                *culprit,
          GError            **error)
{
  Case c = { prior, knowns, *model, *fit };
  g_autofree char *sentence = NULL, *other = NULL;
  double size = 0.0, focal_size = 0.0, p = 0.0, focal_p = 0.0;
  gboolean answered = TRUE;

  *culprit = -1;
  if (c.fit->dof <= 0 || c.fit->p >= SUSPECT)
    return TRUE;
  if (find_swapped (&c, culprit, &sentence))
    return refuse (error, sentence);
  find_culprit (&c, culprit, &size, &p, &sentence);
  find_wrong_focal (&c, &focal_size, &focal_p, &other);
  /* Giving up the recorded focal length gives up less than a known does. */
  if (focal_p > 0.5 * p && (focal_p > 0.05 || p <= 0.0))
    {
      *culprit = -1;
      size = focal_size;
      p = focal_p;
      g_free (sentence);
      sentence = g_steal_pointer (&other);
    }
  if (p > 0.0 && size > GROSS)
    answered = refuse (error, sentence);
  else if (p > 0.0)
    *message = g_steal_pointer (&sentence);
  else if (try_lens (&c, message) || find_two_planes (&c, message))
    ;
  else if (c.fit->chi2 > GROSS * GROSS * MAX (c.fit->dof, 1))
    answered = refuse (error, _("These knowns contradict one another so much that no camera fits them; "
                       "keep the one or two you are surest of and add the others one by one."));
  else
    *message = g_strdup (_("These knowns do not quite agree with one another, and no single one is to "
                         "blame; the intervals are widened accordingly."));
  *model = c.model;
  *fit = c.fit;
  return answered;
}
