/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A base drawing: the camera that sees it straight from above, scaled by its one known length. */
#include "config.h"

#include "survey/drawing.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "photo/known.h"

#define MOST_PIXELS 100000.0
#define MOST_METRES 100000.0

double
bl_drawing_click (const BlDrawing *drawing)
{
  if (drawing->click_px > 0.0)
    return drawing->click_px;
  return MAX (1.0, 1.5 * MAX (drawing->width, drawing->height) / 4032.0);
}

static gboolean
refuse (const char *sentence,
        GError    **error)
{
  g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT, sentence);
  return FALSE;
}

static gboolean
within (double value,
        double most)
{
  return fabs (value) <= most;
}

gboolean
bl_drawing_check (const BlDrawing *drawing,
                  GError         **error)
{
  if (drawing->width < 0 || drawing->height < 0 || drawing->width > MOST_PIXELS
      || drawing->height > MOST_PIXELS || (drawing->width == 0) != (drawing->height == 0))
    return refuse (_("The base drawing needs a width and a height of 1 to 100,000 pixels."), error);
  for (int i = 0; i < 2; i++)
    if (!within (drawing->ends[i].x, MOST_PIXELS) || !within (drawing->ends[i].y, MOST_PIXELS))
      return refuse (_("An end of the base drawing's known length lies far outside the drawing."), error);
  if (!(drawing->length == 0.0 || (drawing->length >= 0.001 && drawing->length <= MOST_METRES)))
    return refuse (_("The known length of the drawing must lie between 1 mm and 100 km."), error);
  if (drawing->length > 0.0 && bl_dist (drawing->ends[0], drawing->ends[1]) <= 1.0)
    return refuse (_("The two ends of the known length lie on the same spot of the drawing; move one "
                   "of them."), error);
  if (!(drawing->sd >= 0.0 && drawing->sd <= MOST_METRES))
    return refuse (_("How sure the drawing's known length is must be a length."), error);
  if (!(drawing->click_px >= 0.0 && drawing->click_px <= 1000.0))
    return refuse (_("The error of a click on the drawing must lie between 0 and 1000 pixels."), error);
  if (isnan (drawing->place.x) != isnan (drawing->place.y)
      || (!isnan (drawing->place.x)
          && !(within (drawing->place.x, MOST_METRES) && within (drawing->place.y, MOST_METRES))))
    return refuse (_("The place of the base drawing must lie within 100 km of the plan's origin."), error);
  if (!within (drawing->turn, 7.0))
    return refuse (_("The base drawing can be turned by at most a whole turn."), error);
  return TRUE;
}

/* The picture's middle is where it is seen from, whatever the height. */
static void
see_from_above (const BlDrawing *drawing,
                const BlBasemap *map,
                BlCamera        *camera)
{
  BlPoint middle = bl_basemap_to_plan (map, BL_POINT (drawing->width / 2.0, drawing->height / 2.0));

  bl_camera_init (camera, drawing->width, drawing->height);
  camera->pitch = G_PI_2;
  camera->roll = 0.0;
  camera->heading = -map->turn;
  camera->focal = MAX (drawing->width, drawing->height);
  camera->eye = map->scale * camera->focal;
  camera->x = middle.x;
  camera->y = middle.y;
  camera->solved = TRUE;
}

static void
put_corner_at_origin (const BlDrawing *drawing,
                      BlBasemap       *map)
{
  BlPoint corner = bl_basemap_to_plan (map, BL_POINT (0.0, drawing->height));

  map->origin = bl_sub (map->origin, corner);
}

static double
length_sd (const BlDrawing *drawing)
{
  BlKnown length = { .kind = BL_KNOWN_LENGTH, .size = { drawing->length, 0.0 }, .sd = drawing->sd };

  return bl_known_sd (&length, 0);
}

gboolean
bl_drawing_camera (const BlDrawing *drawing,
                   BlCamera        *camera,
                   GError         **error)
{
  BlBasemap map = { .turn = drawing->turn };
  BlPoint along = bl_sub (drawing->ends[1], drawing->ends[0]);
  gboolean placed = !isnan (drawing->place.x);

  if (drawing->width <= 0)
    return refuse (_("There is no base drawing."), error);
  if (!bl_drawing_check (drawing, error))
    return FALSE;
  if (drawing->length <= 0.0)
    {
      map.scale = BL_DRAWING_LOOSE / MAX (drawing->width, drawing->height);
      put_corner_at_origin (drawing, &map);
      see_from_above (drawing, &map, camera);
      return TRUE;
    }
  if (!bl_basemap_scale (drawing->ends[0], drawing->ends[1], drawing->length, length_sd (drawing),
                         bl_drawing_click (drawing), placed ? drawing->place : BL_POINT (0.0, 0.0),
                         drawing->turn + atan2 (-along.y, along.x), &map, error))
    return FALSE;
  if (!placed)
    put_corner_at_origin (drawing, &map);
  see_from_above (drawing, &map, camera);
  camera->scaled = TRUE;
  /* The height's parameter is its logarithm, so that a relative error stands as it is. */
  camera->cov[BL_CAM_HEIGHT * BL_CAM_N + BL_CAM_HEIGHT] = map.scale_sd * map.scale_sd;
  return TRUE;
}

void
bl_drawing_corners (const BlCamera *camera,
                    BlPoint         corners[4])
{
  const BlPoint px[4] = { { 0.0, 0.0 }, { camera->width, 0.0 }, { camera->width, camera->height },
                          { 0.0, camera->height } };

  for (int i = 0; i < 4; i++)
    bl_camera_to_ground (camera, px[i], &corners[i]);
}
