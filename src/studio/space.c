/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between the spaces: what is seen, the plan, and the pixels of the photo and of the base drawing. */

#include "config.h"

#include "studio/hand.h"

gboolean
bl_board_to_plan (BlBoard *board, BlPoint document, BlPoint *plan)
{
  const BlCamera *camera;

  *plan = document;
  if (bl_board_get_view (board) == BL_VIEW_PLAN)
    return TRUE;
  camera = bl_model_camera (bl_board_get_model (board));
  return camera != NULL && bl_camera_to_ground (camera, document, plan);
}

gboolean
bl_board_from_plan (BlBoard *board, BlPoint plan, BlPoint *document)
{
  const BlCamera *camera;

  *document = plan;
  if (bl_board_get_view (board) == BL_VIEW_PLAN)
    return TRUE;
  camera = bl_model_camera (bl_board_get_model (board));
  return camera != NULL && bl_camera_project (camera, plan.x, plan.y, 0, document);
}

gboolean
bl_board_point_seen (BlBoard *board, BlPoint point, BlSource source, BlPoint *document)
{
  const BlCamera *camera = bl_model_camera_of (bl_board_get_model (board), source);
  BlPoint plan = point;

  *document = point;
  if (source == BL_FROM_PHOTO && bl_board_get_view (board) == BL_VIEW_PHOTO)
    return TRUE;
  if (source != BL_FROM_PLAN && (camera == NULL || !bl_camera_to_ground (camera, point, &plan)))
    return FALSE;
  return bl_board_from_plan (board, plan, document);
}

gboolean
bl_board_point_from_seen (BlBoard *board, BlPoint document, BlSource source, BlPoint *point)
{
  const BlCamera *camera = bl_model_camera_of (bl_board_get_model (board), source);
  BlPoint plan;

  *point = document;
  if (source == BL_FROM_PHOTO && bl_board_get_view (board) == BL_VIEW_PHOTO)
    return TRUE;
  if (!bl_board_to_plan (board, document, &plan))
    return FALSE;
  *point = plan;
  return source == BL_FROM_PLAN
         || (camera != NULL && bl_camera_project (camera, plan.x, plan.y, 0, point));
}

typedef gboolean (*Carry) (BlBoard *board, BlPoint from, BlSource source, BlPoint *to);

static BlOutline *
carry_outline (BlBoard *board, const BlOutline *outline, BlSource source, Carry carry)
{
  g_autoptr (BlOutline) out = NULL;

  if (outline == NULL)
    return NULL;
  out = bl_outline_copy (outline);
  for (guint i = 0; i < out->points->len; i++)
    if (!carry (board, bl_points_at (outline->points, i), source, &bl_points_at (out->points, i)))
      return NULL;
  return g_steal_pointer (&out);
}

BlOutline *
bl_board_outline_seen (BlBoard *board, const BlOutline *outline, BlSource source)
{
  return carry_outline (board, outline, source, bl_board_point_seen);
}

BlOutline *
bl_board_outline_from_seen (BlBoard *board, const BlOutline *seen, BlSource source)
{
  return carry_outline (board, seen, source, bl_board_point_from_seen);
}

BlSource
bl_board_source_at (BlBoard *board, const BlPoints *seen)
{
  const BlCamera *camera = bl_model_camera_of (bl_board_get_model (board), BL_FROM_DRAWING);

  if (bl_board_get_view (board) == BL_VIEW_PHOTO)
    return BL_FROM_PHOTO;
  if (camera == NULL || seen->len == 0)
    return BL_FROM_PLAN;
  for (guint i = 0; i < seen->len; i++)
    {
      BlPoint px;

      if (!bl_board_point_from_seen (board, bl_points_at (seen, i), BL_FROM_DRAWING, &px)
          || px.x < 0 || px.y < 0 || px.x > camera->width || px.y > camera->height)
        return BL_FROM_PLAN;
    }
  return BL_FROM_DRAWING;
}

BlPoints *
bl_board_ring_seen (BlBoard *board, BlPoint plan, double radius)
{
  BlPoints *ring = bl_points_new ();

  for (int i = 0; i < 40; i++)
    {
      double a = 2 * G_PI * i / 40;
      BlPoint p;

      if (!bl_board_from_plan (board, bl_add (plan, BL_POINT (radius * cos (a), radius * sin (a))),
                               &p))
        {
          g_array_unref (ring);
          return NULL;
        }
      bl_points_add (ring, p);
    }
  return ring;
}
