/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A corner's fit while it is made, for the files that make it. */
#pragma once

#include "photo/snap-model.h"

#define BL_FIT_COLUMNS (2 * BL_CORNER_ARMS) /* fields and joints */
#define BL_FIT_PIXELS 900

typedef struct
{
  double x, y, v[3];
  double round, taper;              /* weight by distance from the corner, and from the arms too */
  double columns[2][BL_FIT_COLUMNS]; /* of the brightness, of the colours */
  int holds[BL_FIT_COLUMNS], n_holds; /* the columns that are not 0 */
  gboolean plain;                   /* too far from the arms to change with them */
  double weight[3];
  double miss[3];
} BlFitPixel;

typedef struct
{
  const BlPatch *patch;
  BlCorner *corner;
  BlFitPixel pixels[BL_FIT_PIXELS];
  gboolean settle;
  guint n_pixels, n_columns;
  int line[BL_CORNER_ARMS];         /* column of an arm's joint, or -1 */
  double colour[BL_FIT_COLUMNS][3];
  double spread[BL_CORNER_ARMS][3]; /* variance of each field */
  double soft[2];                   /* pixels an edge is soft, in brightness and in colours */
  double off;                       /* standard deviations a pixel may be off */
  double alike;                     /* so many neighbouring pixels err as one */
} BlFit;

/* The colours that suit the pixels best; @onto: the column that each column goes into, or -1. */
gboolean bl_fit_colours (const BlFit *fit, const int *onto, guint n,
                         double colour[BL_FIT_COLUMNS][3]);
/* How far the errors of neighbouring pixels are alike. */
void bl_fit_set_alike (BlFit *fit);
/* What each arm tells, and how sure the corner is. */
gboolean bl_fit_judge (const BlFit *fit);
