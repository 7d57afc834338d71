/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A corner as fields of colour that meet, fitted to the pixels round it. */
#pragma once

#include "photo/snap-patch.h"

#define BL_CORNER_ARMS 4
#define BL_CORNER_REACH 9 /* pixels from the corner that are looked at */

/* Lines that leave a point, and the fields between them, each of one colour. Along an arm there may
 * lie a thin joint of a colour of its own. Two arms that go straight on are an edge. */
typedef struct
{
  BlPoint at;                       /* patch coordinates */
  guint n_arms;
  double angle[BL_CORNER_ARMS];     /* radians from +x towards +y, rising */
  gboolean joint[BL_CORNER_ARMS];
  double width;                     /* pixels, of the joints */
  int faced;                        /* the field that is seen below an upright face, or -1 */
  double face;                      /* pixels, the height of that face as the colours show it */
  double scale;                     /* of what is looked at: 1 for BL_CORNER_REACH */
  /* found by the fit: */
  double sd;                        /* pixels, of one coordinate; of an edge, across it */
  double gain[BL_CORNER_ARMS];      /* squared errors saved by each arm, in units of the texture's */
  double depth[BL_CORNER_ARMS];     /* of that, what its joint saves */
  double even[BL_CORNER_ARMS];      /* 0 to 1: least third of the arm to the whole; below 0: missing */
  double sure;                      /* 0 to 1: share of the variance near the arms that is explained */
  double along;                     /* 0 to 1: how alike each arm is all along, the least of them */
  double clear;                     /* 0 to 1: how the arms stand out from what is beside them */
} BlCorner;

typedef enum
{
  BL_FIT_FIND,   /* from afar */
  BL_FIT_AGAIN,  /* it is nearly there, without an arm it had before */
  BL_FIT_SETTLE  /* it is nearly there, and is to be placed as well as the photo allows */
} BlFitStage;

/* Least squares over the point, the arms' directions, the joints' width and the face, each field's
 * colour solved along and weighed by how even the field is (variable projection, Golub and Pereyra
 * 1973). FALSE when it runs away or two arms close up. */
gboolean bl_corner_fit (const BlPatch *patch, BlFitStage stage, BlCorner *corner);

/* How sure it is that a corner or edge is there, not chance in the texture. */
double bl_corner_evidence (const BlCorner *corner);

/* Places a corner that was found by longer arms as well; the mean by how sure each is. */
void bl_corner_settle (const BlPatch *patch, BlCorner *corner);
