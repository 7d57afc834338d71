/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside setting out: what is taped from, and what is taped. */
#pragma once

#include "proposal/setout.h"

#define BL_SETOUT_REACH 30.0 /* metres: the length of a common fibre tape */

/* Fills @fixed (element-type BlFixedPoint): named points first, pegs on the bed line last. */
void bl_setout_collect (const BlModel *model, GArray *fixed);
/* The corners of the bed lines and of the drifts of @layout, without their tapes: (element-type
 * BlSetoutRow) (transfer full). */
GArray *bl_setout_corners (const BlLayout *layout);
/* Fills @setout's offsets, bed by bed. */
void bl_setout_measure_offsets (BlSetout *setout);
