/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What follows at once from a design's decisions: camera, tape points, beds on the ground. */
#include "config.h"

#include "design/model.h"

#include <glib/gi18n-lib.h>

#include "geometry/polygon.h"

#define RING_TOLERANCE 0.002 /* metres */
#define TAPE_STEP 0.001      /* metres, of the numeric derivative */
#define TAPE_SAMPLES 8       /* points a piece of the curve, of the derivative */

/* ---- the camera ---- */

static BlPhotoPrior
prior_of (const BlModel *model)
{
  const BlPhotoInfo *photo = &model->photo;

  return (BlPhotoPrior) {
    .width = photo->width, .height = photo->height, .focal_35mm = photo->focal_35mm,
    .click_px = photo->click_px, .slope = photo->slope, .slope_direction = photo->slope_direction,
    .units = model->units,
  };
}

static gboolean
same_prior (const BlModel *a,
            const BlModel *b)
{
  const BlPhotoInfo *p = &a->photo, *q = &b->photo;

  return p->width == q->width && p->height == q->height && p->focal_35mm == q->focal_35mm
         && p->click_px == q->click_px && p->slope == q->slope
         && p->slope_direction == q->slope_direction && a->units == b->units;
}

static gboolean
same_knowns (const GPtrArray *a,
             const GPtrArray *b)
{
  if (a == b)
    return TRUE;
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    {
      const BlKnown *p = g_ptr_array_index (a, i), *q = g_ptr_array_index (b, i);

      /* Names and ids stand in the solution's residuals and sentences. */
      if (p->id != q->id || p->kind != q->kind || p->size[0] != q->size[0]
          || p->size[1] != q->size[1] || p->sd != q->sd || p->click_px != q->click_px
          || g_strcmp0 (p->name, q->name) != 0 || !bl_points_equal (p->px, q->px))
        return FALSE;
    }
  return TRUE;
}

static BlSolution *
copy_solution (const BlSolution *solution)
{
  BlSolution *copy;

  if (solution == NULL)
    return NULL;
  copy = g_memdup2 (solution, sizeof *solution);
  copy->residuals = solution->residuals != NULL ? g_array_copy (solution->residuals) : NULL;
  copy->message = g_strdup (solution->message);
  return copy;
}

static void
derive_camera (BlModel       *model,
               const BlModel *previous)
{
  g_autoptr(GError) error = NULL;
  BlPhotoPrior prior;

  g_clear_pointer (&model->solution, bl_solution_free);
  g_clear_pointer (&model->camera_problem, g_free);
  if (model->photo.width <= 0 || model->photo.height <= 0)
    return;
  if (previous != NULL && same_prior (model, previous)
      && same_knowns (model->knowns, previous->knowns))
    {
      model->solution = copy_solution (previous->solution);
      model->camera_problem = g_strdup (previous->camera_problem);
      return;
    }
  prior = prior_of (model);
  model->solution = bl_solve_camera (&prior, model->knowns, &error);
  if (model->solution == NULL)
    model->camera_problem
        = g_strdup (error != NULL ? error->message : _("The camera cannot be worked out."));
}

static void
derive_drawing (BlModel *model)
{
  model->drawing_camera = (BlCamera) { .solved = FALSE };
  if (model->drawing.width > 0 && !bl_drawing_camera (&model->drawing, &model->drawing_camera, NULL))
    model->drawing_camera.solved = FALSE;
}

/* ---- the tape ---- */

static void
derive_tape (BlTape *tape,
             BlUnits units)
{
  g_autoptr(GError) error = NULL;

  if (tape == NULL || (tape->adjusted && tape->units == units))
    return;
  tape->units = units;
  if (bl_tape_adjust (tape, &error))
    return;
  tape->adjusted = FALSE;
  if (tape->message == NULL)
    tape->message = g_strdup (error->message);
}

/* ---- beds ---- */

static void
forget_ground (BlBed *bed)
{
  g_clear_pointer (&bed->ground, bl_outline_free);
  g_clear_pointer (&bed->ring, g_array_unref);
  g_clear_pointer (&bed->problem, g_free);
  bed->area = (BlMeasured) { 0, 0 };
  bed->perimeter = (BlMeasured) { 0, 0 };
}

static void
turn_counter_clockwise (BlPoints *ring)
{
  if (bl_polygon_signed_area (ring) >= 0)
    return;
  for (guint i = 0, j = ring->len - 1; i < j; i++, j--)
    {
      BlPoint p = bl_points_at (ring, i);

      bl_points_at (ring, i) = bl_points_at (ring, j);
      bl_points_at (ring, j) = p;
    }
}

static void
measure_ring (BlBed *bed)
{
  bed->ring = bl_outline_flatten (bed->ground, RING_TOLERANCE);
  turn_counter_clockwise (bed->ring);
  bed->area.value = bl_polygon_area (bed->ring);
  bed->perimeter.value = bl_polygon_perimeter (bed->ring);
}

/* A smooth line's flattened ring falls a little short of it; a straight one is exact as it is. */
static void
ground_from_plan (BlBed *bed)
{
  bed->ground = bl_outline_copy (bed->outline);
  measure_ring (bed);
}

static const char *
without_camera (const BlModel *model,
                BlSource       source)
{
  if (source == BL_FROM_DRAWING)
    return _("There is no base drawing to measure this bed on: bring it in again, or trace the bed anew.");
  return model->camera_problem != NULL
           ? model->camera_problem
           : _("There is no photo to measure this bed in: add one, or trace the bed on the plan.");
}

static void
ground_from_picture (BlBed         *bed,
                     const BlModel *model)
{
  const BlCamera *camera = bl_model_camera_of (model, bed->source);
  g_autoptr(GError) error = NULL;

  if (camera == NULL)
    {
      bed->problem = g_strdup (without_camera (model, bed->source));
      return;
    }
  if (!camera->scaled)
    {
      bed->problem = g_strdup (
          bed->source == BL_FROM_DRAWING
              ? _("No length is known on the base drawing yet: state one, and this bed has a size.")
              : _("No length is known in the photo yet: mark one, and this bed has a size."));
      return;
    }
  bed->ground = bl_outline_to_ground (camera, bed->outline, &error);
  if (bed->ground == NULL)
    {
      bed->problem = g_strdup (error->message);
      return;
    }
  measure_ring (bed);
  if (!bl_measure_outline (camera, bed->outline, bl_model_click_px (model, bed->source), &bed->area,
                           &bed->perimeter, &error))
    {
      forget_ground (bed);
      bed->problem = g_strdup (error->message);
    }
}

static BlOutline *
outline_of_tape (const BlBed  *bed,
                 const BlTape *tape,
                 char        **problem)
{
  g_autoptr(BlOutline) outline = bl_outline_new ();

  for (guint i = 0; bed->tape_points != NULL && bed->tape_points[i] != NULL; i++)
    {
      int at = bl_tape_find (tape, bed->tape_points[i]);

      if (at < 0)
        {
          *problem = g_strdup_printf (
              _("There is no tape point “%s”: measure it, or leave it out of the bed."),
              bed->tape_points[i]);
          return NULL;
        }
      bl_points_add (outline->points, g_array_index (tape->points, BlTapePoint, at).at);
    }
  if (bed->tape_sharp != NULL && outline->points->len > 0)
    {
      outline->straight = TRUE;
      outline->sharp = g_memdup2 (bed->tape_sharp, outline->points->len * sizeof (gboolean));
      for (guint i = 0; i < outline->points->len; i++)
        outline->straight = outline->straight && outline->sharp[i];
    }
  return g_steal_pointer (&outline);
}

static void
sampled_size (const BlOutline *outline,
              double          *area,
              double          *perimeter)
{
  g_autoptr(BlPoints) ring = bl_outline_sample (outline, TAPE_SAMPLES);

  *area = bl_polygon_area (ring);
  *perimeter = bl_polygon_perimeter (ring);
}

/* The adjustment gives each point's own standard deviations; how the points vary together is not
 * carried here, so this interval is an approximation. */
static void
spread_of_tape (BlBed        *bed,
                const BlTape *tape)
{
  double area_var = 0, perimeter_var = 0;

  for (guint i = 0; i < bed->ground->points->len; i++)
    {
      int at = bl_tape_find (tape, bed->tape_points[i]);
      const BlTapePoint *point = &g_array_index (tape->points, BlTapePoint, at);
      BlPoint here = bl_points_at (bed->ground->points, i);
      const double sd[2] = { point->sx, point->sy };

      for (int axis = 0; axis < 2; axis++)
        {
          BlPoint step = axis == 0 ? BL_POINT (TAPE_STEP, 0) : BL_POINT (0, TAPE_STEP);
          double a[2], p[2], da, dp;

          bl_points_at (bed->ground->points, i) = bl_sub (here, step);
          sampled_size (bed->ground, &a[0], &p[0]);
          bl_points_at (bed->ground->points, i) = bl_add (here, step);
          sampled_size (bed->ground, &a[1], &p[1]);
          bl_points_at (bed->ground->points, i) = here;
          da = (a[1] - a[0]) / (2 * TAPE_STEP) * sd[axis];
          dp = (p[1] - p[0]) / (2 * TAPE_STEP) * sd[axis];
          area_var += da * da;
          perimeter_var += dp * dp;
        }
    }
  bed->area.sd = sqrt (area_var);
  bed->perimeter.sd = sqrt (perimeter_var);
}

static void
ground_from_tape (BlBed         *bed,
                  const BlModel *model)
{
  g_autoptr(GError) error = NULL;

  if (model->tape == NULL || !model->tape->adjusted)
    {
      bed->problem = g_strdup (model->tape != NULL && model->tape->message != NULL
                                 ? model->tape->message
                                 : _("The tape points of this bed are not measured yet."));
      return;
    }
  bed->ground = outline_of_tape (bed, model->tape, &bed->problem);
  if (bed->ground == NULL)
    return;
  if (!bl_outline_check (bed->ground, &error))
    {
      forget_ground (bed);
      bed->problem = g_strdup (error->message);
      return;
    }
  measure_ring (bed);
  spread_of_tape (bed, model->tape);
}

/* What a bed in a picture was worked out to be still holds when neither it nor the camera moved. */
static gboolean
reuse_ground (BlBed         *bed,
              const BlModel *model,
              const BlModel *previous)
{
  const BlCamera *now = bl_model_camera_of (model, bed->source), *before;
  const BlBed *old;

  if (previous == NULL || now == NULL)
    return FALSE;
  old = bl_model_bed (previous, bed->id);
  before = bl_model_camera_of (previous, bed->source);
  if (old == NULL || old == bed || old->source != bed->source || old->ground == NULL
      || before == NULL
      || bl_model_click_px (model, bed->source) != bl_model_click_px (previous, bed->source)
      || !bl_camera_equal (now, before) || !bl_outline_equal (bed->outline, old->outline))
    return FALSE;
  bed->ground = bl_outline_copy (old->ground);
  bed->ring = bl_points_copy (old->ring);
  bed->area = old->area;
  bed->perimeter = old->perimeter;
  return TRUE;
}

static void
derive_bed (BlBed         *bed,
            const BlModel *model,
            const BlModel *previous)
{
  forget_ground (bed);
  if (reuse_ground (bed, model, previous))
    return;
  if (bed->source == BL_FROM_TAPE)
    ground_from_tape (bed, model);
  else if (bed->outline == NULL || bed->outline->points->len < 3)
    bed->problem = g_strdup (_("This bed has no outline yet: trace it."));
  else if (bed->source != BL_FROM_PLAN)
    ground_from_picture (bed, model);
  else
    ground_from_plan (bed);
}

static void
derive_feature (BlFeature     *feature,
                const BlModel *model)
{
  const BlCamera *camera = bl_model_camera_of (model, feature->source);

  g_clear_pointer (&feature->ground, bl_outline_free);
  if (feature->outline == NULL)
    return;
  if (feature->source == BL_FROM_PLAN)
    feature->ground = bl_outline_copy (feature->outline);
  else if (camera != NULL && camera->scaled)
    feature->ground = bl_outline_to_ground (camera, feature->outline, NULL);
}

void
bl_model_derive (BlModel       *model,
                 const BlModel *previous)
{
  g_return_if_fail (model != NULL && model != previous);
  derive_tape (model->tape, model->units);
  derive_camera (model, previous);
  derive_drawing (model);
  /* Arrays shared with the previous snapshot carry their derived fields already. */
  for (guint i = 0;
       i < model->features->len && (previous == NULL || model->features != previous->features); i++)
    derive_feature (g_ptr_array_index (model->features, i), model);
  for (guint i = 0; i < model->beds->len && (previous == NULL || model->beds != previous->beds);
       i++)
    derive_bed (g_ptr_array_index (model->beds, i), model, previous);
}
