/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A traverse of bearings and distances, adjusted by the compass rule or by least squares. */
#pragma once

#include "geometry/point.h"

typedef struct
{
  double bearing;     /* radians clockwise from +y (north) */
  double distance;    /* metres */
  double sd_bearing;  /* radians, 0 = 0.5° (a hand compass, common practice) */
  double sd_distance; /* metres, 0 = 10 mm + 1/1000 */
} BlTraverseLeg;

typedef struct
{
  BlPoints *points;     /* the start and the end of every leg, adjusted */
  BlPoint misclosure;   /* where the legs end minus where they should: departure x, latitude y */
  double closing_error; /* length of it, metres */
  double relative;      /* closing error over the length of all legs; 1/12000 = 8.3e-5 */
  double length;
  double area;          /* m², of a closed traverse; 0 else */
  char *message;        /* NULL, or a sentence when it closes worse than 1:300 */
} BlTraverse;

void bl_traverse_free (BlTraverse *traverse);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlTraverse, bl_traverse_free)

typedef enum
{
  BL_TRAVERSE_COMPASS,      /* misclosure shared by length of leg (Bowditch) */
  BL_TRAVERSE_LEAST_SQUARES /* bearings and distances by their standard deviations */
} BlTraverseRule;

/* @legs: (element-type BlTraverseLeg). From @start to @end, which is the start again where the
 * traverse is closed. NULL with BL_ERROR_INPUT on impossible legs. */
BlTraverse *bl_traverse_adjust (const GArray *legs, BlPoint start, BlPoint end, BlTraverseRule rule,
                                GError **error);

/* Interior angles turned to bearings: the first leg's, then at each station the angle from the leg
 * back to the leg ahead, clockwise (to the right). @n angles give @n more bearings. */
void bl_traverse_bearings (double first, const double *angles_right, guint n, double *bearings);

/* A point by distance along a baseline and offset to its left (negative: right). FALSE when the
 * baseline has no length. */
gboolean bl_offset_point (BlPoint from, BlPoint to, double along, double offset, BlPoint *at);
