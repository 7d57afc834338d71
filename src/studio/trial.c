/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What would follow if a known were moved or changed: solved on a copy, while it is dragged. */

#include "config.h"

#include "studio/trial.h"

static void
trial_free (gpointer data)
{
  BlTrial *trial = data;

  g_ptr_array_unref (trial->knowns);
  g_clear_pointer (&trial->solution, bl_solution_free);
  g_free (trial->problem);
  g_free (trial);
}

void
bl_board_try_known (BlBoard *board, const BlKnown *known)
{
  const BlModel *model = bl_board_get_model (board);
  const BlPhotoInfo *photo = &model->photo;
  BlPhotoPrior prior
      = { .width = photo->width,         .height = photo->height, .focal_35mm = photo->focal_35mm,
          .click_px = photo->click_px,   .slope = photo->slope,
          .slope_direction = photo->slope_direction, .units = model->units };
  g_autoptr (GError) error = NULL;
  BlTrial *trial;

  if (known == NULL)
    {
      if (bl_board_get_trial (board) == NULL)
        return;
      g_object_set_data (G_OBJECT (board), "trial", NULL);
      bl_board_emit (board, BL_BOARD_TRIAL);
      return;
    }
  trial = g_new0 (BlTrial, 1);
  trial->knowns = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_known_free);
  for (guint i = 0; i < model->knowns->len; i++)
    {
      const BlKnown *one = g_ptr_array_index (model->knowns, i);
      BlKnown *copy = bl_known_copy (one->id == known->id ? known : one);

      if (one->id == known->id)
        trial->known = copy;
      g_ptr_array_add (trial->knowns, copy);
    }
  if (trial->known == NULL)
    {
      trial->known = bl_known_copy (known);
      g_ptr_array_add (trial->knowns, trial->known);
    }
  trial->solution = bl_solve_camera (&prior, trial->knowns, &error);
  trial->problem = error != NULL ? g_strdup (error->message) : NULL;
  g_object_set_data_full (G_OBJECT (board), "trial", trial, trial_free);
  bl_board_emit (board, BL_BOARD_TRIAL);
}

const BlTrial *
bl_board_get_trial (BlBoard *board)
{
  return g_object_get_data (G_OBJECT (board), "trial");
}

const BlSolution *
bl_board_get_solution (BlBoard *board)
{
  const BlTrial *trial = bl_board_get_trial (board);

  return trial != NULL ? trial->solution : bl_board_get_model (board)->solution;
}

double
bl_board_click_px (BlBoard *board)
{
  return bl_model_click_px (bl_board_get_model (board), BL_FROM_PHOTO);
}

const BlBed *
bl_board_measured_bed (BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  BlSource shown = bl_board_get_view (board) == BL_VIEW_PHOTO ? BL_FROM_PHOTO : BL_FROM_DRAWING;
  const BlBed *first = NULL;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);

      if ((bed->source != BL_FROM_PHOTO && bed->source != BL_FROM_DRAWING) || bed->outline == NULL)
        continue;
      if (bl_board_is_selected (board, BL_PICK_BED, bed->id))
        return bed;
      if (first == NULL || (first->source != shown && bed->source == shown))
        first = bed;
    }
  return first;
}

gboolean
bl_board_measure_bed (BlBoard *board, const BlBed *bed, BlMeasured *area)
{
  const BlSolution *solution = bl_board_get_solution (board);
  BlMeasured perimeter;

  if (bed == NULL)
    return FALSE;
  if (bl_board_get_trial (board) == NULL || bed->source == BL_FROM_DRAWING)
    {
      *area = bed->area;
      return bed->ground != NULL;
    }
  if (solution == NULL || !solution->camera.scaled)
    return FALSE;
  return bl_measure_outline (&solution->camera, bed->outline, bl_board_click_px (board), area,
                             &perimeter, NULL);
}
