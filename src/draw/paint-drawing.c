/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The base drawing under the plan, quiet enough that what is designed stands out. */
#include "draw/scene-private.h"

#define QUIET 0.85 /* of its ink */

/* From pixels of the drawing to the plan as it is painted, y down. */
static void
lay_down (const BlCamera *camera, cairo_matrix_t *m)
{
  BlPoint at[4], across, down;

  bl_drawing_corners (camera, at);
  across = bl_mul (bl_sub (at[1], at[0]), 1.0 / camera->width);
  down = bl_mul (bl_sub (at[3], at[0]), 1.0 / camera->height);
  cairo_matrix_init (m, across.x, -across.y, down.x, -down.y, at[0].x, -at[0].y);
}

void
bl_paint_drawing (BlPainting *p)
{
  const BlCamera *camera = bl_model_camera_of (p->scene->model, BL_FROM_DRAWING);
  const BlImage *image = p->scene->drawing;
  const BlPixels *px;
  cairo_surface_t *surface;
  cairo_matrix_t m;
  double zoom, k;

  if (image == NULL || camera == NULL)
    return;
  zoom = p->scale * camera->eye / camera->focal;
  px = bl_image_level_for (image, zoom, &k);
  surface = cairo_image_surface_create_for_data (px->data, CAIRO_FORMAT_ARGB32, px->width, px->height,
                                                 px->stride);
  lay_down (camera, &m);
  cairo_save (p->cr);
  cairo_rectangle (p->cr, p->clip.x0, -p->clip.y1, p->clip.x1 - p->clip.x0, p->clip.y1 - p->clip.y0);
  cairo_clip (p->cr);
  cairo_transform (p->cr, &m);
  cairo_rectangle (p->cr, 0, 0, image->width, image->height);
  cairo_clip (p->cr);
  cairo_scale (p->cr, (double) image->width / px->width, (double) image->height / px->height);
  cairo_set_source_surface (p->cr, surface, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (p->cr), CAIRO_FILTER_BILINEAR);
  cairo_pattern_set_extend (cairo_get_source (p->cr), CAIRO_EXTEND_PAD);
  cairo_paint_with_alpha (p->cr, QUIET);
  cairo_restore (p->cr);
  cairo_surface_destroy (surface);
}
