/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the person knows about the photo: plain values, as stored and as written in a sheet. */
#pragma once

#include "geometry/point.h"

typedef enum
{
  BL_KNOWN_RECTANGLE,     /* 4 px in order; size[0] along 1-2 ("width"), size[1] along 2-3 ("depth") */
  BL_KNOWN_LENGTH,        /* 2 px on the ground; size[0] */
  BL_KNOWN_HEIGHT,        /* px base on the ground, px top; size[0] */
  BL_KNOWN_RIGHT_ANGLE,   /* 3 px, the angle at the second */
  BL_KNOWN_PARALLEL,      /* 4 px: line 1-2 parallel to 3-4 on the ground */
  BL_KNOWN_EQUAL_LENGTHS, /* 4 px: length 1-2 equals 3-4 on the ground */
  BL_KNOWN_POSITION,      /* 1 px; size[0..1] plan x, y */
  BL_KNOWN_HORIZON,       /* 2 px on the horizon */
  BL_KNOWN_STRAIGHT,      /* 3 or more px on a line that is straight in the world */
  BL_KNOWN_EYE,           /* no px: height of the lens above the ground, size[0] */
  BL_KNOWN_CHECK,         /* 2 px on the ground: a length to predict, not to fit */
  BL_KNOWN_N
} BlKnownKind;

typedef struct
{
  gint64 id;      /* row in the design file; 0 = not stored */
  BlKnownKind kind;
  BlPoints *px;   /* pixels of the upright photo */
  double size[2]; /* metres; unused ones 0 */
  double sd;      /* metres; radians for angles, relative for equal lengths; 0 = bl_known_sd()'s default */
  double click_px; /* standard deviation of its clicks; 0 = the photo's */
  char *name;     /* may be NULL */
} BlKnown;

BlKnown *bl_known_new (BlKnownKind kind);
BlKnown *bl_known_copy (const BlKnown *known);
void bl_known_free (BlKnown *known);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlKnown, bl_known_free)
const char *bl_known_kind_name (BlKnownKind kind);           /* the sheet's word, "right_angle" */
gboolean bl_known_kind_from_name (const char *name, BlKnownKind *kind);
guint bl_known_n_px (BlKnownKind kind);                       /* least number of clicks */
/* Finite pixels, enough of them, sizes positive. */
gboolean bl_known_check (const BlKnown *known, GError **error);
/* The standard deviation of size[which]: the stated one, else the kind's default. Common practice
 * with a fibre tape: 10 mm + 1/1000, but never worse than 1/200 of the length; 20 mm for a surveyed
 * point, 50 mm for the lens; 0.1° for right angles and parallels; 1/500 for equal lengths. */
double bl_known_sd (const BlKnown *known, int which);
/* 'the rectangle "walk"', for sentences. The caller frees it. */
char *bl_known_describe (const BlKnown *known);
