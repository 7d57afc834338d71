/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A hand: what a press, a drag and a key do on the canvas. */

#include "config.h"

#include "studio/hand.h"

static const BlHandClass *const classes[] = {
  &bl_hand_select, &bl_hand_reshape, &bl_hand_known, &bl_hand_scale, &bl_hand_trace, &bl_hand_feature,
  &bl_hand_specimen, &bl_hand_row, &bl_hand_drift, &bl_hand_fill
};

const char *const *
bl_hand_names (void)
{
  static const char *const names[] = { "select", "reshape", "known", "scale", "trace", "feature", "specimen",
                                       "row", "drift", "fill", NULL };

  return names;
}

BlHand *
bl_hand_new (const char *name, BlBoard *board)
{
  for (guint i = 0; i < G_N_ELEMENTS (classes); i++)
    if (g_str_equal (classes[i]->name, name))
      {
        BlHand *hand = g_malloc0 (classes[i]->size);

        hand->klass = classes[i];
        hand->board = board;
        return hand;
      }
  return NULL;
}

void
bl_hand_free (BlHand *hand)
{
  if (hand->klass->clear != NULL)
    hand->klass->clear (hand);
  g_free (hand);
}

/* Seen from afar a click is no surer than the screen's pixels; near by, the reach stays small enough
 * that neighbouring joints can be told apart. Alt, or Ctrl, takes the click as it is. */
static void
take_aim (BlHand *hand)
{
  BlImage *photo = bl_board_get_photo (hand->board);
  double reach = CLAMP (hand->slack * 0.6, 2, 8);
  BlSnap snap;

  hand->aim = (BlSnap){ .kind = BL_SNAP_NONE, .at = hand->at };
  if (!bl_hand_aims (hand) || photo == NULL || (hand->mods & (BL_MOD_ALT | BL_MOD_CTRL)) != 0)
    return;
  snap = bl_snap (&photo->levels[0], hand->at, reach);
  if (snap.kind != BL_SNAP_NONE && bl_dist (snap.at, hand->at) <= reach)
    hand->aim = snap;
}

static void
note (BlHand *hand, const BlHandEvent *event)
{
  hand->at = event->at;
  hand->slack = event->slack;
  hand->mods = event->mods;
  hand->inside = TRUE;
  take_aim (hand);
}

void
bl_hand_press (BlHand *hand, BlHandEvent event)
{
  note (hand, &event);
  hand->press_at = event.at;
  hand->pressed = TRUE;
  hand->dragged = FALSE;
  if (hand->klass->press != NULL)
    hand->klass->press (hand, &event);
}

void
bl_hand_drag (BlHand *hand, BlHandEvent event)
{
  if (!hand->pressed)
    return;
  note (hand, &event);
  hand->dragged = TRUE;
  if (hand->klass->drag != NULL)
    hand->klass->drag (hand, &event);
}

void
bl_hand_release (BlHand *hand, BlHandEvent event)
{
  if (!hand->pressed)
    return;
  note (hand, &event);
  hand->pressed = FALSE;
  if (hand->klass->release != NULL)
    hand->klass->release (hand, &event);
  hand->dragged = FALSE;
}

void
bl_hand_hover (BlHand *hand, BlHandEvent event)
{
  note (hand, &event);
  if (hand->klass->hover != NULL)
    hand->klass->hover (hand, &event);
}

void
bl_hand_leave (BlHand *hand)
{
  hand->inside = FALSE;
}

void
bl_hand_cancel (BlHand *hand)
{
  hand->pressed = FALSE;
  hand->dragged = FALSE;
  if (hand->klass->cancel != NULL)
    hand->klass->cancel (hand);
}

void
bl_hand_let_go (BlHand *hand)
{
  if (hand->klass->let_go == NULL)
    {
      bl_hand_cancel (hand);
      return;
    }
  hand->pressed = FALSE;
  hand->dragged = FALSE;
  hand->klass->let_go (hand);
}

gboolean
bl_hand_key (BlHand *hand, BlHandKey key)
{
  return hand->klass->key != NULL && hand->klass->key (hand, key);
}

gboolean
bl_hand_aims (BlHand *hand)
{
  return hand->klass->aims != NULL && bl_board_get_view (hand->board) == BL_VIEW_PHOTO
         && hand->klass->aims (hand);
}

gboolean
bl_hand_nudge (BlHand *hand, BlPoint by)
{
  return hand->klass->nudge != NULL && hand->klass->nudge (hand, by);
}

void
bl_hand_rest (BlHand *hand)
{
  if (hand->klass->rest != NULL)
    hand->klass->rest (hand);
}

void
bl_hand_marks (BlHand *hand, BlMarks *marks)
{
  if (hand->klass->marks != NULL)
    hand->klass->marks (hand, marks);
  if (hand->inside && !hand->pressed && hand->aim.kind != BL_SNAP_NONE && bl_hand_aims (hand))
    bl_marks_add_point (marks, hand->aim.kind == BL_SNAP_CORNER ? BL_MARK_CORNER : BL_MARK_DOT,
                        BL_INK_SELECTED, hand->aim.at);
}

char *
bl_hand_hint (BlHand *hand)
{
  return hand->klass->hint != NULL ? hand->klass->hint (hand) : NULL;
}
