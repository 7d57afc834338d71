/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The surroundings of a click: colour gradients and what they say at each pixel. */
#pragma once

#include "photo/image.h"
#include "geometry/point.h"

/* Coordinates inside are of pixel centres: (0, 0) is the middle of the patch's first pixel. */
typedef struct
{
  int x0, y0, w, h;      /* in the picture */
  double *gx[3], *gy[3]; /* gradients, levels a pixel, of red, green and blue */
  double *sum_x, *sum_y; /* of the three gradients */
  double *level[3];      /* 0 to 255 */
  double *light[3];      /* brightness, red less blue, green less both; as light, whatever @power */
  double *kept[3];       /* brightness as light, two colour differences, apart as a photo keeps them */
  double *strength;      /* of the steepest change over all colours, levels a pixel */
} BlPatch;

#define BL_PATCH_LIGHT 2.2 /* the power that takes a photo's levels to light, nearly sRGB's */

/* A square of @half pixels each way round @start; beyond the picture its border is repeated.
 * @power: 1 for the levels as they look, BL_PATCH_LIGHT for the light. A pixel that an edge parts
 * holds the mean light of both sides, so an edge's place is true in light only; as levels look it
 * lies up to a quarter of a pixel into the dark. */
void bl_patch_init (BlPatch *patch, const BlPixels *pixels, BlPoint start, int half, double power);
void bl_patch_clear (BlPatch *patch);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BlPatch, bl_patch_clear)

/* Strength between the pixels; 0 outside. */
double bl_patch_strength (const BlPatch *patch, double x, double y);
/* The direction in which the colours at pixel @i change most, a unit vector. */
BlPoint bl_patch_direction (const BlPatch *patch, int i);
