/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What would follow if a known were moved or changed: solved on a copy, while it is dragged. */
#pragma once

#include "studio/board.h"

typedef struct
{
  BlKnown *known;
  GPtrArray *knowns;    /* BlKnown: the design's, with @known in place of the one of its id */
  BlSolution *solution; /* NULL when these knowns cannot be solved */
  char *problem;        /* then why, one sentence */
} BlTrial;

/* Tries @known in place of the design's known of the same id; NULL ends the trial. Parts are told by
 * BL_BOARD_TRIAL. */
void bl_board_try_known (BlBoard *board, const BlKnown *known);
const BlTrial *bl_board_get_trial (BlBoard *board); /* NULL: nothing is being tried */
/* The trial's solution, else the design's; NULL while the camera is not known. */
const BlSolution *bl_board_get_solution (BlBoard *board);
/* The standard deviation of a click in the photo, pixels: stated, else the usual one. */
double bl_board_click_px (BlBoard *board);
/* The bed whose area the measuring is for: the selected one, else the first of those traced on the
 * picture that is shown, else of the other; NULL = none traced on the photo or the base drawing. */
const BlBed *bl_board_measured_bed (BlBoard *board);
/* Its area by the present solution; FALSE when it cannot be measured. */
gboolean bl_board_measure_bed (BlBoard *board, const BlBed *bed, BlMeasured *area);
