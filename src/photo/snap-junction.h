/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where two straight edges or joints meet. */
#pragma once

#include "photo/snap-gather.h"
#include "photo/snap-line.h"

typedef struct
{
  BlPoint at;        /* patch coordinates */
  double sd;         /* pixels, by the scatter along both lines */
  gboolean shallow;  /* a thin line that meets an edge at a small angle: weak along the edge */
  double explained;  /* 0 to 1: variance of the colours that the fields between the lines explain */
  BlSnapLine lines[2];
  double score;      /* of any size; the larger the likelier meant */
} BlJunction;

/* The best junction within @radius of the middle of @patch, which should reach BL_JUNCTION_REACH
 * further. The @gathered edges (steps in colour) and joints (thin dark or light lines), BlLine, are
 * fitted by least squares near where two of them cross, and crossed; at last once more in
 * @light, the same square as light. FALSE when no two straight lines meet here. */
#define BL_JUNCTION_REACH 24
gboolean bl_junction_find (const BlPatch *patch, const BlPatch *light, const GArray *gathered,
                           double radius, BlJunction *junction);
