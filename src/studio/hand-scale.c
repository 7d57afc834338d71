/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand that points out the known length of the base drawing: two clicks, or one stroke. */

#include "config.h"

#include "studio/hand.h"
#include "studio/underlay.h"

#include <glib/gi18n.h>

typedef struct
{
  BlHand hand;
  BlPoint ends[2]; /* pixels of the drawing */
  double sd;       /* of the least sure click, pixels of the drawing */
  guint n, n_at_press;
} ScaleHand;

static void
cancel (BlHand *hand)
{
  ((ScaleHand *) hand)->n = 0;
  bl_board_propose_drawing (hand->board, NULL);
}

/* A click from afar is no surer than the screen's pixels. */
static double
click_sd (BlHand *hand)
{
  const BlModel *model = bl_board_get_model (hand->board);
  const BlCamera *camera = bl_model_camera_of (model, BL_FROM_DRAWING);

  return hand->slack / 8 * camera->focal / camera->eye;
}

static gboolean
can_point (BlHand *hand)
{
  const BlModel *model = bl_board_get_model (hand->board);

  if (bl_model_camera_of (model, BL_FROM_DRAWING) == NULL)
    bl_board_say (hand->board, _("There is no base drawing yet: choose one first"));
  else if (bl_board_get_view (hand->board) != BL_VIEW_PLAN)
    bl_board_say (hand->board, _("The base drawing lies under the plan: switch to it first"));
  else
    return TRUE;
  return FALSE;
}

static gboolean
put_end (ScaleHand *self, guint at)
{
  BlHand *hand = &self->hand;

  if (!bl_board_point_from_seen (hand->board, hand->aim.at, BL_FROM_DRAWING, &self->ends[at]))
    return FALSE;
  self->sd = at == 0 ? click_sd (hand) : MAX (self->sd, click_sd (hand));
  self->n = at + 1;
  return TRUE;
}

static void
finish (ScaleHand *self)
{
  BlDrawing drawing = bl_board_get_model (self->hand.board)->drawing;

  self->n = 0;
  drawing.ends[0] = self->ends[0];
  drawing.ends[1] = self->ends[1];
  drawing.click_px = 0;
  if (bl_dist (drawing.ends[0], drawing.ends[1]) <= 1)
    {
      bl_board_say (self->hand.board, _("Both ends lie on the same spot: click the other end"));
      return;
    }
  if (self->sd > bl_drawing_click (&drawing))
    drawing.click_px = self->sd;
  bl_board_propose_drawing (self->hand.board, &drawing);
}

static void
press (BlHand *hand, const BlHandEvent *event)
{
  ScaleHand *self = (ScaleHand *) hand;

  self->n_at_press = self->n;
  if (!can_point (hand))
    return;
  bl_board_propose_drawing (hand->board, NULL);
  put_end (self, self->n == 0 ? 0 : 1);
}

static void
drag (BlHand *hand, const BlHandEvent *event)
{
  ScaleHand *self = (ScaleHand *) hand;

  if (self->n > 0 && bl_dist (hand->press_at, event->at) > 3 * event->slack)
    put_end (self, 1);
}

static void
let_go (BlHand *hand)
{
  ScaleHand *self = (ScaleHand *) hand;

  self->n = self->n_at_press;
}

static void
release (BlHand *hand, const BlHandEvent *event)
{
  ScaleHand *self = (ScaleHand *) hand;

  if (self->n == 2)
    finish (self);
}

static gboolean
key (BlHand *hand, BlHandKey which)
{
  ScaleHand *self = (ScaleHand *) hand;

  if (which == BL_KEY_ESCAPE)
    {
      cancel (hand);
      return TRUE;
    }
  if ((which == BL_KEY_BACKSPACE || which == BL_KEY_DELETE) && self->n > 0)
    {
      self->n = 0;
      return TRUE;
    }
  return FALSE;
}

static void
mark_length (BlHand *hand, BlMarks *marks, const BlDrawing *drawing, BlInk ink)
{
  BlPoint a, b;

  if (!bl_board_point_seen (hand->board, drawing->ends[0], BL_FROM_DRAWING, &a)
      || !bl_board_point_seen (hand->board, drawing->ends[1], BL_FROM_DRAWING, &b))
    return;
  bl_marks_add_segment (marks, ink, FALSE, a, b);
  bl_marks_add_point (marks, BL_MARK_DOT, ink, a);
  bl_marks_add_point (marks, BL_MARK_DOT, ink, b);
}

static void
mark (BlHand *hand, BlMarks *marks)
{
  ScaleHand *self = (ScaleHand *) hand;
  const BlDrawing *proposed = bl_board_get_proposed_drawing (hand->board);
  BlPoint first, second = hand->aim.at;

  if (bl_board_get_view (hand->board) != BL_VIEW_PLAN)
    return;
  if (proposed != NULL)
    mark_length (hand, marks, proposed, BL_INK_SELECTED);
  if (self->n == 0 || !bl_board_point_seen (hand->board, self->ends[0], BL_FROM_DRAWING, &first))
    return;
  if (self->n == 2)
    bl_board_point_seen (hand->board, self->ends[1], BL_FROM_DRAWING, &second);
  if (hand->inside)
    bl_marks_add_segment (marks, BL_INK_ACTIVE, self->n < 2, first, second);
  bl_marks_add_point (marks, BL_MARK_DOT, BL_INK_ACTIVE, first);
}

static char *
hint (BlHand *hand)
{
  ScaleHand *self = (ScaleHand *) hand;

  if (bl_board_get_proposed_drawing (hand->board) != NULL)
    return g_strdup (_("Type how long it is in the sheet on the left and keep it"));
  return g_strdup_printf (_("End %u of 2: click both ends of a length that you know on the drawing, the "
                            "longer the better"),
                          self->n == 0 ? 1u : 2u);
}

const BlHandClass bl_hand_scale = { .name = "scale",
                                    .cursor = "crosshair",
                                    .size = sizeof (ScaleHand),
                                    .press = press,
                                    .drag = drag,
                                    .release = release,
                                    .cancel = cancel,
                                    .let_go = let_go,
                                    .key = key,
                                    .marks = mark,
                                    .hint = hint };
