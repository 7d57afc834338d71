/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting the adjustment up: which rows and parameters a set of knowns makes. */
#include "photo/model-private.h"

#include <string.h>

guint
bl_known_ground_clicks (const BlKnown *known)
{
  switch (known->kind)
    {
    case BL_KNOWN_RECTANGLE:
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
    case BL_KNOWN_EQUAL_LENGTHS:
    case BL_KNOWN_POSITION:
    case BL_KNOWN_CHECK:
      return known->px->len;
    case BL_KNOWN_HEIGHT:
      return 1;
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_EYE:
    case BL_KNOWN_N:
    default:
      return 0;
    }
}

/* How often the very same pixel was used: two knowns that share a click share its error, so each
 * counts it with a part of its weight. */
static guint
times_used (const GPtrArray *knowns,
            BlPoint          px,
            int              skip)
{
  guint n = 0;

  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);

      if (known->kind == BL_KNOWN_CHECK || (int) k == skip)
        continue;
      for (guint i = 0; i < known->px->len; i++)
        if (bl_dist (bl_points_at (known->px, i), px) < 1e-6)
          n++;
    }
  return MAX (n, 1);
}

static void
count_rows (BlBlock *block)
{
  guint n = block->known->px->len;

  switch (block->known->kind)
    {
    case BL_KNOWN_RECTANGLE:
      block->n_rows = 10;
      block->n_own = 5;
      break;
    case BL_KNOWN_HEIGHT:
      block->n_rows = 5;
      block->n_own = 3;
      break;
    case BL_KNOWN_POSITION:
      block->n_rows = 4;
      block->n_own = 2;
      break;
    case BL_KNOWN_HORIZON:
      block->n_rows = 2;
      block->n_own = 0;
      break;
    case BL_KNOWN_STRAIGHT:
      block->n_rows = n;
      block->n_own = 2;
      break;
    case BL_KNOWN_EYE:
      block->n_rows = 1;
      block->n_own = 0;
      break;
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
    case BL_KNOWN_EQUAL_LENGTHS:
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      block->n_rows = 2 * n + 1;
      block->n_own = 2 * (int) n;
      break;
    }
}

static BlBlock
block_of (const BlLensModel *model,
          const GPtrArray   *knowns,
          guint              index,
          int                skip)
{
  const BlKnown *known = g_ptr_array_index (knowns, index);
  BlBlock block = { .known = known, .index = index };

  block.click = g_new (double, MAX (known->px->len, 1));
  for (guint i = 0; i < known->px->len; i++)
    block.click[i] = (known->click_px > 0.0 ? known->click_px : model->click_px)
                     * sqrt (times_used (knowns, bl_points_at (known->px, i), skip));
  for (int i = 0; i < 2; i++)
    {
      block.size[i] = known->size[i];
      block.sd[i] = bl_known_sd (known, i);
    }
  if (known->kind == BL_KNOWN_RECTANGLE)
    {
      BlPoint p0 = bl_points_at (known->px, 0), p1 = bl_points_at (known->px, 1);

      /* Pixels run down: clockwise in numbers is counter-clockwise to the eye. */
      block.hand = bl_cross (bl_sub (p1, p0), bl_sub (bl_points_at (known->px, 2), p1)) < 0.0
                   ? 1.0 : -1.0;
    }
  count_rows (&block);
  return block;
}

static void
clear_block (gpointer data)
{
  g_free (((BlBlock *) data)->click);
}

BlLensModel *
bl_lens_model_new (const BlPhotoPrior *prior,
                   const GPtrArray    *knowns,
                   int                 skip)
{
  BlLensModel *model = g_new0 (BlLensModel, 1);

  model->prior = prior;
  model->blocks = g_array_new (FALSE, TRUE, sizeof (BlBlock));
  g_array_set_clear_func (model->blocks, clear_block);
  model->click_px = prior->click_px > 0.0 ? prior->click_px
                    : 1.5 * MAX (prior->width, prior->height) / 4032.0;
  if (prior->focal_35mm > 0.0)
    model->focal_prior = bl_focal_from_35mm (prior->focal_35mm, prior->width, prior->height);
  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);

      if ((int) k == skip || known->kind == BL_KNOWN_CHECK)
        continue;
      g_array_append_vals (model->blocks, &(BlBlock[]) { block_of (model, knowns, k, skip) }, 1);
      /* A line known to be straight is what the lens term can be told from. */
      if (known->kind == BL_KNOWN_STRAIGHT)
        model->free_lens = TRUE;
    }
  bl_lens_model_prepare (model);
  return model;
}

void
bl_lens_model_prepare (BlLensModel *model)
{
  guint n_positions = 0;

  model->n_rows = 5 - (model->prior->no_lens ? 1 : 0) - (model->drop_roll ? 1 : 0)
                  + (model->two_planes ? 1 : 0);
  for (guint b = 0; b < model->blocks->len; b++)
    {
      BlBlock *block = &g_array_index (model->blocks, BlBlock, b);

      model->n_rows += block->n_rows;
      block->warm = FALSE;
      if (block->known->kind == BL_KNOWN_POSITION)
        n_positions++;
    }
  model->placed = n_positions >= 1;
  model->turned = n_positions >= 2;
  model->n_active = 0;
  for (int p = 0; p < BL_PAR_N; p++)
    {
      if (p == BL_CAM_K1 && model->prior->no_lens)
        continue;
      if ((p == BL_CAM_X || p == BL_CAM_Y) && !model->placed)
        continue;
      if (p == BL_CAM_HEADING && !model->turned)
        continue;
      if (p == BL_PAR_STEP && !model->two_planes)
        continue;
      model->active[model->n_active++] = p;
    }
  /* The minimiser wants at least as many rows as parameters; empty ones add nothing. */
  model->n_rows = MAX (model->n_rows, (guint) model->n_active);
}

void
bl_lens_model_free (BlLensModel *model)
{
  if (model == NULL)
    return;
  g_array_unref (model->blocks);
  g_free (model);
}

void
bl_lens_model_camera (const BlLensModel *model,
                      const double      *theta,
                      BlCamera          *camera)
{
  memset (camera, 0, sizeof *camera);
  camera->width = model->prior->width;
  camera->height = model->prior->height;
  camera->slope = model->prior->slope;
  camera->slope_direction = model->prior->slope_direction;
  bl_camera_set_params (camera, theta);
}

guint
bl_lens_model_first_row (const BlLensModel *model,
                         guint              b)
{
  guint at = 0;

  for (guint i = 0; i < b; i++)
    at += g_array_index (model->blocks, BlBlock, i).n_rows;
  return at;
}

void
bl_lens_fit_free (BlLensFit *fit)
{
  if (fit == NULL)
    return;
  g_free (fit->rows);
  g_free (fit->hat);
  g_free (fit);
}
