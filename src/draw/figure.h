/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The standing figure of a plant (seen from the side) and its plan symbol (seen from above). */
#pragma once

#include <cairo.h>

#include "geometry/point.h"
#include "plants/season.h"

typedef struct
{
  double sun_x;        /* where the light comes from: -1 left .. 1 right */
  double exposure;     /* multiplies light, 1 = as painted */
  BlColor tint;        /* white balance of the surroundings, white = none */
} BlFigureLight;

/* Draws with the foot at (0, 0), x right, y up negative (cairo's y down), in metres: the caller
 * scales. The same plant, look and seed give the same paths. @detail: device pixels a metre, to
 * leave out what nobody can see. */
void bl_figure_draw (cairo_t *cr, const BlPlant *plant, const BlLook *look, guint64 seed,
                     const BlFigureLight *light, double detail);
/* What it may cover, metres, foot at (0, 0), y down. */
BlRect bl_figure_box (const BlPlant *plant, const BlLook *look);

/* Plan symbol centred on (0, 0), @radius in metres (mature or present half spread); y down. */
void bl_symbol_draw (cairo_t *cr, const BlPlant *plant, const BlLook *look, double radius,
                     guint64 seed, double detail, gboolean monochrome);
