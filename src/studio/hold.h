/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A kept known's point under a hand: dragged or nudged, the camera is solved anew at once, and what
 * was moved is kept when it comes to rest. */
#pragma once

#include "studio/hand.h"

typedef struct
{
  gint64 id;      /* the known; 0 = none is held */
  guint at;       /* which of its points */
  BlKnown *moved; /* it with that point moved, not kept yet */
} BlHold;

/* Takes hold of the nearest point within reach of the hand; @selected: only of a selected known. */
gboolean bl_hold_find (BlHold *hold, BlHand *hand, gboolean selected);
/* To where the hand aims; @sd is of such a click, pixels, 0 = the photo's usual. */
void bl_hold_drag (BlHold *hold, BlHand *hand, double sd);
gboolean bl_hold_nudge (BlHold *hold, BlHand *hand, BlPoint by);
/* One step of undo; selects the known. */
void bl_hold_keep (BlHold *hold, BlHand *hand);
/* Gives up what was moved and lets go. */
void bl_hold_drop (BlHold *hold, BlHand *hand);
void bl_hold_marks (const BlHold *hold, BlHand *hand, BlMarks *marks);

/* Of a click at where the hand aims, pixels; 0 = the screen's or the photo's, whichever is coarser. */
double bl_hand_aim_sd (const BlHand *hand);
/* Of a click that snapped to nothing. */
double bl_hand_screen_sd (const BlHand *hand);
