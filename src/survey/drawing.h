/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A base drawing: the picture of a plan from elsewhere, laid under the plan by one known length. */
#pragma once

#include <gio/gio.h>

#include "photo/camera.h"
#include "survey/basemap.h"

#define BL_DRAWING_MAX_SVG (8 * 1024 * 1024) /* bytes of an SVG */
#define BL_DRAWING_SIDE 4096                 /* pixels of the longer side that an SVG is drawn to */
#define BL_DRAWING_LOOSE 20.0                /* metres of the longer side while no length is known */

typedef struct
{
  char *name;        /* file name it came with */
  int width, height; /* pixels of the picture as it is kept; 0 = no drawing */
  gint64 picture;    /* under which number its bytes are kept; 0 = nowhere */
  BlPoint ends[2];   /* of the known length, pixels */
  double length;     /* metres between them; 0 = none known yet */
  double sd;         /* of the length, metres; 0 = that of a taped length (bl_known_sd) */
  double click_px;   /* standard deviation of a click; 0 = bl_drawing_click()'s */
  BlPoint place;     /* where the first end lies in the plan, metres; NAN = the drawing's lower left
                        corner lies at the plan's origin */
  double turn;       /* radians counter-clockwise that the drawing is turned in the plan */
} BlDrawing;

/* The stated error of a click on the drawing, else 1.5 pixels of 4032, but not less than one: a
 * line of a drawing is rarely finer. */
double bl_drawing_click (const BlDrawing *drawing);
/* Finite, inside bounds, and a stated length has two ends apart. */
gboolean bl_drawing_check (const BlDrawing *drawing, GError **error);

/**
 * bl_drawing_camera:
 * @camera: (out): sees the plan straight from above, so that pixels of the drawing and the ground
 *   are carried and measured as those of a photo are; its one uncertain parameter is the scale.
 *   While no length is known it is solved but not scaled, with the longer side at
 *   %BL_DRAWING_LOOSE, so that the drawing can be seen and the length be pointed out.
 * Returns: FALSE with @error when there is no drawing or it is not in order.
 */
gboolean bl_drawing_camera (const BlDrawing *drawing, BlCamera *camera, GError **error);
/* The drawing's corners in the plan, metres, from the upper left one clockwise as drawn. */
void bl_drawing_corners (const BlCamera *camera, BlPoint corners[4]);

/**
 * bl_drawing_picture:
 * @bytes: a PNG, a JPEG or an SVG
 * Returns: (transfer full): the picture to keep: PNG and JPEG as they are, an SVG drawn to a PNG of
 *   %BL_DRAWING_SIDE on its longer side. An SVG that refers to anything outside itself, holds
 *   scripts, effects or pictures, or would be too much to draw is refused with one sentence.
 */
GBytes *bl_drawing_picture (GBytes *bytes, GCancellable *cancellable, GError **error);
/* TRUE for what begins as an SVG does. */
gboolean bl_drawing_is_svg (GBytes *bytes);
