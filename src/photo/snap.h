/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finding the corner or edge near a click, to a part of a pixel. */
#pragma once

#include "photo/image.h"
#include "geometry/point.h"

typedef enum
{
  BL_SNAP_NONE,   /* nothing stands out: the click stays where it is */
  BL_SNAP_EDGE,   /* moved across an edge only */
  BL_SNAP_CORNER
} BlSnapKind;

typedef struct
{
  BlSnapKind kind;
  BlPoint at;       /* pixels of @pixels, (0,0) the outer corner of the top left one */
  double sd;        /* pixels; across the edge for an edge; 0 when there is none */
  double direction; /* of an edge, radians from +x */
} BlSnap;

/* A corner is where edges (steps of colour) and thin joints meet. Each must be seen over about nine
 * pixels, stay alike over sixteen and stand out from the texture on its sides, so that grass, soil
 * and leaves hold none. Crossings of four fields are taken by their symmetry (Förstner and Gülch
 * 1987); others are fitted as fields of colour that lines part; joints too faint for that as crossings
 * of fitted lines. A joint is met in its middle, as it is seen: of an open joint the sun may light one
 * wall. Fields must tell the place to 0.35 px, and clicks on both sides of a corner must lead to it
 * too; else the nearest edge that shows as well is taken. The error is what the picture supports, at least
 * 0.05 px; which of two neighbouring corners was meant is not in it. */
BlSnap bl_snap (const BlPixels *pixels, BlPoint start, double radius);
