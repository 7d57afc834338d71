/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan from elsewhere: a drawing with one known length, and polygons in projected metres. */
#pragma once

#include "geometry/outline.h"

/* How a base drawing lies in the plan: plan = origin + turn · scale · (px, -py). */
typedef struct
{
  BlPoint origin;     /* plan place of the drawing's top left corner, metres */
  double scale;       /* metres a drawing unit (pixel) */
  double turn;        /* radians counter-clockwise */
  double scale_sd;    /* of the scale, relative */
} BlBasemap;

/* Scale from one known length @metres (standard deviation @sd, 0 = 10 mm + 1/1000) between two
 * points of the drawing, clicked to @click_px. @a comes to lie at @a_plan, and a → b points along
 * @direction, radians counter-clockwise from +x; NAN keeps the drawing upright. */
gboolean bl_basemap_scale (BlPoint a, BlPoint b, double metres, double sd, double click_px,
                           BlPoint a_plan, double direction, BlBasemap *map, GError **error);
BlPoint bl_basemap_to_plan (const BlBasemap *map, BlPoint px);
BlPoint bl_basemap_to_drawing (const BlBasemap *map, BlPoint plan);

typedef struct
{
  char *name;         /* property "name", or NULL */
  BlOutline *outline; /* straight; open for a line */
} BlBaseShape;

/**
 * bl_geojson_read:
 * @text: a FeatureCollection, Feature or geometry (RFC 7946) whose coordinates are metres of a
 *   projected system; coordinates that look like degrees are refused with a sentence
 * @origin: (inout): taken from every coordinate, so that plan coordinates stay small; NAN to have
 *   it chosen as the south-west corner of all shapes, rounded down to whole metres
 * Returns: (transfer full) (element-type BlBaseShape): outer rings and lines; holes are dropped
 */
GPtrArray *bl_geojson_read (const char *text, gssize length, BlPoint *origin, GError **error);
