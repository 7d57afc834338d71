/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's own cut-out picture of a plant: taken in, and drawn where a figure would stand. */
#pragma once

#include <cairo.h>

#include "geometry/point.h"
#include "plants/season.h"

typedef struct
{
  double aspect;         /* width over height of what is not empty in it */
  double foot_x, foot_y; /* where it seems to meet the ground, as BlCutout has it */
} BlCutoutShape;

/* Makes of a person's file what is kept with a plant: a PNG is cut to what is not empty, made no
 * larger than any sheet needs and stripped of what else it says; an SVG stays, if it holds nothing
 * but shapes and gradients. BL_ERROR_INPUT says why a picture is no cut-out. @shape may be NULL. */
GBytes *bl_cutout_take (GBytes *bytes, BlCutoutShape *shape, GError **error);

/* The shape of what was taken; FALSE when it cannot be read. */
gboolean bl_cutout_measure (GBytes *bytes, BlCutoutShape *shape);

/* As bl_figure_box() and bl_figure_draw(); FALSE when the plant has no picture now, or one that
 * cannot be read. One picture in four stands mirrored. */
gboolean bl_cutout_box (const BlPlant *plant, const BlLook *look, BlRect *box);
gboolean bl_cutout_draw (cairo_t *cr, const BlPlant *plant, const BlLook *look, guint64 seed,
                         double detail);
