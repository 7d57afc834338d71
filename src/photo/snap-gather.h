/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Straight edges and thin joints near a click. */
#pragma once

#include "photo/snap-patch.h"

#define BL_LINE_FAR 24 /* pixels along a line, either way, that are looked at */

typedef struct
{
  BlPoint on, along;     /* the line's point nearest the click, its unit direction */
  gboolean joint;
  double votes;
  /* Sums along the line of what changes across it, from -BL_LINE_FAR: colour, and its square. */
  double sum[2 * BL_LINE_FAR + 2][3], square[2 * BL_LINE_FAR + 2];
} BlLine;

/* The lines that pass within @radius of @middle, strongest edges first, then joints: BlLine. */
GArray *bl_lines_find (const BlPatch *patch, BlPoint middle, double radius);

/* How a line shows from @from on, pixels along it, towards @sense (1 or -1): levels, times how alike
 * it is all along, 0 to 1. */
double bl_line_shows (const BlLine *line, double from, int sense);
