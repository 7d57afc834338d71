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

/* A corner is where two straight edges, or an edge and a thin joint, meet: both must be seen for
 * about nine pixels and stand out from what is beside them, so that grass, soil and leaves hold
 * none. A joint is met in its middle while it is at most about four pixels wide; beyond that its
 * two sides are edges. Crossings of four fields are taken by their symmetry (Förstner and Gülch
 * 1987). Else the nearest edge. The error is what the scatter along both lines supports, at least
 * 0.05 px; which of two neighbouring corners was meant is not in it. */
BlSnap bl_snap (const BlPixels *pixels, BlPoint start, double radius);
