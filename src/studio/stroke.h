/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strokes of the pointer: their length, fewer points for the same shape, a painted band. */
#pragma once

#include "geometry/outline.h"
#include "geometry/polygon.h"

double bl_stroke_length (const BlPoints *stroke);
/* Ramer-Douglas-Peucker: no dropped point is further than @tolerance from the result. */
BlPoints *bl_stroke_simplify (const BlPoints *stroke, double tolerance);
/* The area that a round brush of @radius covers along the stroke, as the outline of its outer
 * ring, thinned to @tolerance; NULL when it covers nothing. */
BlOutline *bl_stroke_band (const BlPoints *stroke, double radius, double tolerance, GError **error);
