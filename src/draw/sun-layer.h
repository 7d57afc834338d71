/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours of sun laid over the ground in colours, on the plan or in the photo. */
#pragma once

#include <cairo.h>

#include "fit/sunlight.h"
#include "photo/camera.h"

/* The last of the ramp's colours; more hours look the same. */
#define BL_SUN_MOST 14.0

/* From shade to full light: darker is always less, so that it reads without colour too. */
BlColor bl_sun_color (double hours);

/**
 * bl_sun_layer_paint:
 * @camera: the photo's; NULL = the plan
 * @scale: device pixels in a unit of @cr, for lines of even width
 * @alpha: of the colours; lines are drawn full
 *
 * In document units: metres with y down on the plan, the photo's pixels else. Draws the lines where
 * part sun and full sun begin with their hours beside them.
 */
void bl_sun_layer_paint (const BlSunlight *sunlight,
                         cairo_t *cr,
                         const BlCamera *camera,
                         double scale,
                         double alpha);
