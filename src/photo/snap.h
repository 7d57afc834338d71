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

/* Förstner and Gülch 1987: corners where the smaller eigenvalue of the structure tensor peaks well
 * above what the surroundings do; then the point that all gradients' lines pass nearest to. The
 * error is what these lines' scatter supports, at least 0.05 px. */
BlSnap bl_snap (const BlPixels *pixels, BlPoint start, double radius);
