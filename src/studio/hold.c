/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A kept known's point under a hand: dragged or nudged, the camera is solved anew at once, and what
 * was moved is kept when it comes to rest. */

#include "config.h"

#include "studio/hold.h"

#include "base/say.h"
#include "studio/trial.h"

#include <glib/gi18n.h>

/* Corners are found to a third of a pixel, whatever their gradients' scatter says; and a worn joint
 * or a rounded edge is not quite what was measured, or from afar not the one that was meant: half of
 * what a click is good for, at best. */
#define CORNER_SD 0.3
#define CORNER_PART 0.5

double
bl_hand_screen_sd (const BlHand *hand)
{
  return MAX (bl_board_click_px (hand->board), hand->slack / 8);
}

double
bl_hand_aim_sd (const BlHand *hand)
{
  double least = MAX (CORNER_SD, CORNER_PART * bl_hand_screen_sd (hand));

  return hand->aim.kind == BL_SNAP_CORNER ? MAX (hand->aim.sd, least) : 0;
}

gboolean
bl_hold_find (BlHold *hold, BlHand *hand, gboolean selected)
{
  const BlModel *model = bl_board_get_model (hand->board);
  double best = hand->slack * 0.8;

  hold->id = 0;
  for (guint i = 0; i < model->knowns->len; i++)
    {
      const BlKnown *known = g_ptr_array_index (model->knowns, i);

      if (selected && !bl_board_is_selected (hand->board, BL_PICK_KNOWN, known->id))
        continue;
      for (guint k = 0; k < known->px->len; k++)
        if (bl_dist (bl_points_at (known->px, k), hand->at) < best)
          {
            best = bl_dist (bl_points_at (known->px, k), hand->at);
            hold->id = known->id;
            hold->at = k;
          }
    }
  return hold->id != 0;
}

static BlPoint *
held_point (BlHold *hold, BlHand *hand)
{
  const BlKnown *known = bl_model_known (bl_board_get_model (hand->board), hold->id);

  if (hold->moved == NULL && known != NULL && hold->at < known->px->len)
    hold->moved = bl_known_copy (known);
  return hold->moved != NULL ? &bl_points_at (hold->moved->px, hold->at) : NULL;
}

void
bl_hold_drag (BlHold *hold, BlHand *hand, double sd)
{
  BlPoint *point = held_point (hold, hand);

  if (point == NULL)
    return;
  *point = hand->aim.at;
  /* It was surer than this click. */
  if (sd == 0 && hold->moved->click_px > 0)
    hold->moved->click_px = MAX (hold->moved->click_px, bl_hand_screen_sd (hand));
  bl_board_try_known (hand->board, hold->moved);
}

gboolean
bl_hold_nudge (BlHold *hold, BlHand *hand, BlPoint by)
{
  BlPoint *point = hold->id != 0 ? held_point (hold, hand) : NULL;

  if (point == NULL)
    return FALSE;
  *point = bl_add (*point, by);
  bl_board_try_known (hand->board, hold->moved);
  return TRUE;
}

void
bl_hold_keep (BlHold *hold, BlHand *hand)
{
  g_autoptr (BlKnown) moved = g_steal_pointer (&hold->moved);

  if (moved == NULL)
    return;
  bl_board_try_known (hand->board, NULL);
  if (bl_board_put_known (hand->board, _("Move a point of a known"), moved))
    bl_board_select (hand->board, BL_PICK_KNOWN, moved->id, FALSE);
}

void
bl_hold_drop (BlHold *hold, BlHand *hand)
{
  hold->id = 0;
  g_clear_pointer (&hold->moved, bl_known_free);
  bl_board_try_known (hand->board, NULL);
}

void
bl_hold_marks (const BlHold *hold, BlHand *hand, BlMarks *marks)
{
  BlBoard *board = hand->board;
  const BlTrial *trial = bl_board_get_trial (board);
  const BlKnown *known = hold->moved;
  BlMeasured area;
  BlPoint at;

  if (known == NULL)
    return;
  at = bl_points_at (known->px, hold->at);
  if (known->px->len > 1)
    bl_marks_add (marks, known->kind == BL_KNOWN_RECTANGLE ? BL_MARK_RING : BL_MARK_LINE,
                  BL_INK_SELECTED, FALSE, bl_points_copy (known->px));
  for (guint i = 0; i < known->px->len; i++)
    bl_marks_add_point (marks, BL_MARK_DOT, i == hold->at ? BL_INK_SELECTED : BL_INK_ACTIVE,
                        bl_points_at (known->px, i));
  if (trial != NULL && trial->problem != NULL)
    bl_marks_add_words (marks, BL_INK_WRONG, at, g_strdup (_("These knowns do not fit together")));
  else if (bl_board_measure_bed (board, bl_board_measured_bed (board), &area))
    bl_marks_add_words (
        marks, BL_INK_SELECTED, at,
        bl_area_format_interval (area.value, area.sd, bl_board_get_model (board)->units, bl_say_window ()));
}
