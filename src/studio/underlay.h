/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The base drawing under the plan: its known length stated and changed, each an edit. */
#pragma once

#include "studio/edits.h"

/* The drawing as it would be with the ends just pointed out, while their length is asked for; NULL
 * when none is. Parts are told by BL_BOARD_PENDING. */
const BlDrawing *bl_board_get_proposed_drawing (BlBoard *board);
void bl_board_propose_drawing (BlBoard *board, const BlDrawing *drawing);

gboolean bl_board_put_drawing (BlBoard *board, const char *label, const BlDrawing *drawing);
/* Puts @bytes, already a picture, as the base drawing and shows the plan. */
gboolean bl_board_take_drawing (BlBoard *board, GBytes *bytes, const char *name);
gboolean bl_board_remove_drawing (BlBoard *board);
