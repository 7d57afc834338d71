/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is decoded of a cut-out picture. */
#pragma once

#include <cairo.h>
#include <glib.h>
#include <librsvg/rsvg.h>

#define BL_CUTOUT_LEVELS 7

typedef struct
{
  guint32 *data; /* premultiplied ARGB, no padding */
  int width, height;
} BlCutoutLevel;

typedef struct
{
  BlCutoutLevel levels[BL_CUTOUT_LEVELS];
  guint n_levels;          /* 0 for an SVG */
  gboolean svg;
  double width, height;    /* of the whole, pixels or SVG units */
  double x0, y0, x1, y1;   /* what is not empty in it */
} BlCutoutArt;

/* NULL when it is damaged, too large, no plain drawing, or empty. */
BlCutoutArt *bl_cutout_art_new (GBytes *bytes);
void bl_cutout_art_free (gpointer art);
gboolean bl_cutout_is_png (GBytes *bytes);
/* NULL when the file is damaged or its sides are beyond reason. */
cairo_surface_t *bl_cutout_decode_png (GBytes *bytes);
/* A surface over the level's own pixels. */
cairo_surface_t *bl_cutout_surface (const BlCutoutLevel *level);
/* A drawing without references; NULL when it is none. */
RsvgHandle *bl_cutout_open_svg (GBytes *bytes);
gboolean bl_cutout_render_svg (RsvgHandle *handle, cairo_t *cr, double width, double height);
