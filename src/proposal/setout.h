/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting out with two tapes: each plant by its distances from two points that can be seen on site.
 */
#pragma once

#include "layout/layout.h"

typedef struct
{
  char *name;      /* "library front", or its kind; NULL for a peg */
  guint corner;    /* number of its point, 0 when it has only one; a peg's number */
  BlPoint at;      /* plan, metres */
  gboolean peg;    /* no such thing on site: a peg to be driven on the bed line */
} BlFixedPoint;

typedef struct
{
  guint placed;     /* index in the layout */
  guint a, b;       /* indices of fixed points */
  double from_a, from_b; /* metres, rounded to the tape's unit */
  gboolean left;    /* the plant lies left of the line from a to b */
  double crossing;  /* angle at which the tapes cross, radians */
  double miss;      /* where the rounded tapes meet, metres from the true place */
} BlSetoutRow;

typedef struct
{
  GArray *fixed;    /* BlFixedPoint */
  GArray *rows;     /* BlSetoutRow, one a placed plant: bed by bed, pair by pair, planting order */
  double unit;      /* the tape's unit, metres: 1/4 in or 1 cm */
} BlSetout;

/* Tapes cross best at a right angle; under 30° they are not used when another pair does better
 * (common practice). */
#define BL_SETOUT_MIN_CROSSING (30.0 * G_PI / 180.0)

/**
 * bl_setout_compute:
 *
 * A few pairs of fixed points a bed, near ones that cross well before far ones; a further pair only
 * where it is worth moving the hooks, or where the tapes would cross too flat. Without fixed points
 * within reach pegs on the bed line are proposed. Fails when nothing is placed.
 */
BlSetout *bl_setout_compute (const BlLayout *layout, BlUnits units, GError **error);
/* The closing check: what a tape between two fixed points must read, in the tape's unit, metres. */
double bl_setout_base (const BlSetout *setout, guint a, guint b);
void bl_setout_free (BlSetout *setout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlSetout, bl_setout_free)
/* The crew's order: tall to low, then back to front, then left to right. */
GArray *bl_setout_order (const BlLayout *layout); /* (element-type guint) (transfer full) */
