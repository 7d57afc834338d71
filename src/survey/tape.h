/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tape measurements between named points, adjusted to coordinates by least squares. */
#pragma once

#include "base/units.h"
#include "geometry/point.h"

typedef struct
{
  char *name;
  gboolean fixed;
  BlPoint at;      /* where fixed; else the result */
  double sx, sy;   /* standard deviations of the result, metres; 0 where fixed */
} BlTapePoint;

typedef struct
{
  guint from, to;    /* indices of points */
  double distance;   /* metres */
  double sd;         /* metres; 0 = 0.01 m + 1/1000 of the distance, common practice for a fibre tape */
  double residual;   /* adjusted - taped, metres (result) */
  double normalised; /* residual over its own sd (result) */
} BlTapeDistance;

typedef struct
{
  GArray *points;     /* BlTapePoint */
  GArray *distances;  /* BlTapeDistance */
  BlUnits units;      /* of the lengths in @message */
  /* Results: */
  gboolean adjusted;
  int dof;
  double s0;             /* standard deviation of unit weight; NAN when dof = 0 */
  double relative;       /* rms residual over mean distance, 0.001 = 1:1000 */
  double weakest_angle;  /* smallest crossing angle at a point, radians */
  int worst;             /* index of the distance that disagrees most (beyond 3 sd), -1 = none */
  char *message;         /* NULL or a sentence: weak geometry, gross error */
} BlTape;

BlTape *bl_tape_new (void);
BlTape *bl_tape_copy (const BlTape *tape);
void bl_tape_free (BlTape *tape);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlTape, bl_tape_free)
guint bl_tape_add_point (BlTape *tape, const char *name);
int bl_tape_find (const BlTape *tape, const char *name); /* -1 = no such point */
void bl_tape_fix (BlTape *tape, guint point, BlPoint at);
void bl_tape_add_distance (BlTape *tape, guint from, guint to, double metres, double sd);

/* Adjusts all free points. Without fixed points the first lies at (0, 0) and the second on +x of
 * it. Where a point could lie on either side of a line, the side that keeps the order of the
 * points counter-clockwise is taken, and @message says so. */
gboolean bl_tape_adjust (BlTape *tape, GError **error);
/* Point at two distances from two known ones; FALSE when the circles do not meet. @left picks the
 * side left of a → b. */
gboolean bl_tape_intersect (BlPoint a, double ra, BlPoint b, double rb, gboolean left, BlPoint *p);
