/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting out with two tapes: each plant by its distances from two points that can be seen on site. */
#pragma once

#include "layout/layout.h"

typedef struct
{
  char *name;      /* "corner 1 of library", "P1" */
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
  GArray *rows;     /* BlSetoutRow, one a placed plant, in planting order */
  double unit;      /* the tape's unit, metres: 1/4 in or 1 cm */
  double base;      /* measured distance between the pair used most: the closing check, metres */
  guint base_a, base_b;
} BlSetout;

/* Tapes cross best at a right angle; under 30° they are not used when another pair does better
 * (common practice). */
#define BL_SETOUT_MIN_CROSSING (30.0 * G_PI / 180.0)

/**
 * bl_setout_compute:
 *
 * The pair of fixed points is chosen for each bed so that its worst plant is fixed best; a plant
 * whose tapes would still cross under 30° gets a pair of its own. Without two fixed points within
 * reach pegs on the bed line are proposed. Fails when nothing is placed.
 */
BlSetout *bl_setout_compute (const BlLayout *layout, BlUnits units, GError **error);
void bl_setout_free (BlSetout *setout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlSetout, bl_setout_free)
/* The crew's order: tall to low, then back to front, then left to right. */
GArray *bl_setout_order (const BlLayout *layout); /* (element-type guint) (transfer full) */
