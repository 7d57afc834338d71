/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting out: each plant and each corner of a bed line or drift by its distances from two points
 * that can be seen on site, or by offsets from a baseline between two of them. */
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
  guint placed;       /* index in the layout; meaningless for a corner */
  gint64 bed_id;
  gint64 planting_id; /* the drift whose corner it is; 0 = a plant, or a corner of the bed line */
  guint corner;       /* 1 ... along that outline; 0 = a plant */
  guint turn;         /* of a plant: its turn in the planting order */
  BlPoint at;         /* where it belongs, plan, metres */
  guint a, b;         /* indices of fixed points */
  double from_a, from_b; /* metres, rounded to the tape's unit */
  gboolean left;      /* it lies left of the line from a to b */
  double crossing;    /* angle at which the tapes cross, radians */
  double miss;        /* where the rounded tapes meet, metres from the true place */
} BlSetoutRow;

/* The same by a tape laid from a to b: how far along it, and how far square off it. */
typedef struct
{
  guint row;          /* index in the plants' rows, or in the corners' */
  gboolean corner;    /* which of the two */
  guint a, b;
  double along, off;  /* metres, rounded to the tape's unit; along may be before a: negative */
  gboolean left;
} BlOffsetRow;

typedef struct
{
  GArray *fixed;    /* BlFixedPoint */
  GArray *rows;     /* BlSetoutRow, one a placed plant: bed by bed, pair by pair, planting order */
  GArray *corners;  /* BlSetoutRow: bed by bed, pair by pair, along each outline */
  GArray *offsets;  /* BlOffsetRow: corners and plants, bed by bed, one baseline a bed */
  double unit;      /* the tape's unit, metres: 1/4 in or 1 cm */
} BlSetout;

/* Tapes cross best at a right angle; under 30° they are not used when another pair does better
 * (common practice). */
#define BL_SETOUT_MIN_CROSSING (30.0 * G_PI / 180.0)
/* Corners of a freely traced outline nearer than this to the last one are left to the eye, metres. */
#define BL_SETOUT_CORNER_STEP 0.3

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
