/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities and cost that follow a drag: worked out on another thread from the line as it is now. */
#pragma once

#include "studio/board.h"
#include "studio/marks.h"
#include "takeoff/estimate.h"

/* Shared and immutable. */
typedef struct
{
  gatomicrefcount refs;
  BlModel *model; /* the design as if the drag ended here */
  BlLayout *layout;
  BlTakeoff *takeoff;
  BlEstimate *estimate;
} BlFollowing;

BlFollowing *bl_following_compute (BlModel *model,
                                   gint64 alternative_id,
                                   const BlLayout *previous); /* any thread */
void bl_following_unref (BlFollowing *following);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlFollowing, bl_following_unref)

/* @line is now that of the bed or planting that @pick names; NULL @line: the drag is over. Figures
 * that come late are dropped; those of a drag that became an edit stay until the exact ones are
 * there. Parts are told by BL_BOARD_FOLLOW. Plantings lifted from the board follow by themselves. */
void bl_board_follow_line (BlBoard *board, const BlPick *pick, const BlOutline *line);
/* The latest figures of a drag; NULL while nothing is dragged. */
const BlFollowing *bl_board_get_following (BlBoard *board);
/* Marks the plants that come and those that go if the drag ended here; nothing while none is on. */
void bl_board_mark_following (BlBoard *board, BlMarks *marks);
