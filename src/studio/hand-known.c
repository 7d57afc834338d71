/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand that states what is known: clicks on the photo, then its sizes are asked for. A kept
 * known's points can be dragged: what follows is seen at once. */

#include "config.h"

#include "studio/hold.h"
#include "studio/known-words.h"
#include "studio/trial.h"

#include <glib/gi18n.h>

typedef struct
{
  BlHand hand;
  BlPoints *points;
  GArray *sds;       /* double, one a point: of its click, pixels; 0 = as the screen allows */
  BlKnownKind kind;
  guint n_at_press;  /* points there were with the one that the press put */
  BlPoint first;     /* the point that the press put */
  double first_sd;
  BlHold hold;       /* a kept known's point under the hand */
} KnownHand;

static void
drop_points (KnownHand *self)
{
  g_clear_pointer (&self->points, g_array_unref);
  g_clear_pointer (&self->sds, g_array_unref);
}

static BlPoints *
points_of (KnownHand *self)
{
  BlKnownKind kind = bl_board_get_pen (self->hand.board)->known;

  if (self->kind != kind)
    drop_points (self);
  self->kind = kind;
  if (self->points == NULL)
    {
      self->points = bl_points_new ();
      self->sds = g_array_new (FALSE, TRUE, sizeof (double));
    }
  return self->points;
}

static gboolean
has_size (BlKnownKind kind)
{
  return kind == BL_KNOWN_RECTANGLE || kind == BL_KNOWN_LENGTH || kind == BL_KNOWN_HEIGHT
         || kind == BL_KNOWN_POSITION || kind == BL_KNOWN_EYE;
}

/* What its clicks are good for: the least sure of them counts; 0 = the photo's usual. */
static double
click_error (KnownHand *self)
{
  double usual = bl_board_click_px (self->hand.board), worst = 0;

  for (guint i = 0; i < self->sds->len; i++)
    {
      double sd = g_array_index (self->sds, double, i);

      worst = MAX (worst, sd > 0 ? sd : bl_hand_screen_sd (&self->hand));
    }
  return worst == usual ? 0 : worst;
}

static void
set_point (KnownHand *self, guint at, BlPoint place, double sd)
{
  g_array_set_size (self->points, at + 1);
  g_array_set_size (self->sds, at + 1);
  bl_points_at (self->points, at) = place;
  g_array_index (self->sds, double, at) = sd;
}

static void
finish (KnownHand *self)
{
  g_autoptr (BlKnown) known = bl_known_new (self->kind);

  known->click_px = click_error (self);
  g_clear_pointer (&known->px, g_array_unref);
  known->px = g_steal_pointer (&self->points);
  drop_points (self);
  if (has_size (known->kind))
    bl_board_set_pending (self->hand.board, g_steal_pointer (&known));
  else if (bl_board_put_known (self->hand.board, _("State what is known"), known))
    bl_board_select (self->hand.board, BL_PICK_KNOWN, known->id, FALSE);
}

static void
rest (BlHand *hand)
{
  if (!hand->pressed)
    bl_hold_keep (&((KnownHand *) hand)->hold, hand);
}

static gboolean
nudge (BlHand *hand, BlPoint by)
{
  KnownHand *self = (KnownHand *) hand;
  guint n = self->points != NULL ? self->points->len : 0;

  if (n == 0)
    return bl_hold_nudge (&self->hold, hand, by);
  set_point (self, n - 1, bl_add (bl_points_at (self->points, n - 1), by), 0);
  return TRUE;
}

static void
put_first (KnownHand *self, BlPoint at, double sd)
{
  BlPoints *points = points_of (self);

  if (points->len == 0 && bl_board_get_pending (self->hand.board) != NULL)
    bl_board_set_pending (self->hand.board, NULL);
  self->first = at;
  self->first_sd = sd;
  set_point (self, points->len, at, sd);
  self->n_at_press = self->points->len;
}

static void
press (BlHand *hand, const BlHandEvent *event)
{
  KnownHand *self = (KnownHand *) hand;
  BlPoints *points = points_of (self);

  if (bl_board_get_view (hand->board) != BL_VIEW_PHOTO)
    {
      bl_board_say (hand->board, _("What is known is stated on the photo: switch to it first"));
      return;
    }
  bl_hold_keep (&self->hold, hand);
  self->n_at_press = 0;
  /* A line may be drawn from another known's end: only a selected one's is then moved. */
  if ((points->len == 0 && bl_hold_find (&self->hold, hand, bl_known_n_px (self->kind) == 2))
      || bl_known_n_px (self->kind) == 0)
    return;
  self->hold.id = 0;
  put_first (self, hand->aim.at, bl_hand_aim_sd (hand));
}

static void
drag (BlHand *hand, const BlHandEvent *event)
{
  KnownHand *self = (KnownHand *) hand;
  gboolean line = bl_known_n_px (self->kind) == 2 && self->n_at_press == 1
                  && bl_dist (hand->press_at, event->at) > 3 * event->slack;

  if (self->hold.id != 0)
    {
      bl_hold_drag (&self->hold, hand, bl_hand_aim_sd (hand));
      return;
    }
  if (self->n_at_press == 0 || self->points == NULL)
    return;
  /* Drawn in one go, a line has its first end where the press was. */
  if (line)
    set_point (self, 0, self->first, self->first_sd);
  set_point (self, line ? 1 : self->n_at_press - 1, hand->aim.at, bl_hand_aim_sd (hand));
}

static void
release (BlHand *hand, const BlHandEvent *event)
{
  KnownHand *self = (KnownHand *) hand;
  guint enough = bl_known_n_px (self->kind);

  if (self->hold.id != 0 && (hand->dragged || enough == 0))
    {
      bl_hold_keep (&self->hold, hand);
      return;
    }
  if (self->hold.id != 0)
    {
      /* Only clicked: the new known shares the point. */
      const BlKnown *known = bl_model_known (bl_board_get_model (hand->board), self->hold.id);

      self->hold.id = 0;
      if (known != NULL)
        put_first (self, bl_points_at (known->px, self->hold.at), known->click_px);
    }
  if (self->points == NULL || self->points->len == 0 || self->n_at_press == 0)
    return;
  if (self->kind == BL_KNOWN_STRAIGHT)
    {
      guint n = self->points->len;

      if (n > 1
          && bl_dist (bl_points_at (self->points, n - 1), bl_points_at (self->points, n - 2))
               < hand->slack * 0.5)
        set_point (self, n - 2, bl_points_at (self->points, n - 2),
                   g_array_index (self->sds, double, n - 2));
      if (event->n_press < 2)
        return;
    }
  if (self->points->len >= enough && enough > 0)
    finish (self);
}

static void
cancel (BlHand *hand)
{
  KnownHand *self = (KnownHand *) hand;

  drop_points (self);
  bl_hold_drop (&self->hold, hand);
  bl_board_set_pending (hand->board, NULL);
}

static void
let_go (BlHand *hand)
{
  KnownHand *self = (KnownHand *) hand;

  bl_hold_drop (&self->hold, hand);
  if (self->points == NULL || self->n_at_press == 0)
    return;
  g_array_set_size (self->points, self->n_at_press - 1);
  g_array_set_size (self->sds, self->n_at_press - 1);
  self->n_at_press = 0;
}

static void
clear (BlHand *hand)
{
  KnownHand *self = (KnownHand *) hand;

  drop_points (self);
  g_clear_pointer (&self->hold.moved, bl_known_free);
}

static gboolean
aims (BlHand *hand)
{
  KnownHand *self = (KnownHand *) hand;

  return self->hold.id != 0 || bl_known_n_px (bl_board_get_pen (hand->board)->known) > 0;
}

static gboolean
key (BlHand *hand, BlHandKey which)
{
  KnownHand *self = (KnownHand *) hand;

  switch (which)
    {
    case BL_KEY_ESCAPE:
      cancel (hand);
      return TRUE;
    case BL_KEY_BACKSPACE:
    case BL_KEY_DELETE:
      if (self->points == NULL || self->points->len == 0)
        return bl_board_delete_selection (hand->board);
      g_array_set_size (self->points, self->points->len - 1);
      g_array_set_size (self->sds, self->points->len);
      return TRUE;
    case BL_KEY_ENTER:
      if (self->points == NULL || self->points->len < bl_known_n_px (self->kind))
        return FALSE;
      finish (self);
      return TRUE;
    case BL_KEY_SMALLER:
    case BL_KEY_LARGER:
    case BL_KEY_SHARP:
    default:
      return FALSE;
    }
}

/* What a line or a height would measure, while it is drawn. */
static void
mark_seen (KnownHand *self, BlMarks *marks, const BlPoints *points)
{
  BlHand *hand = &self->hand;
  BlBoard *board = hand->board;
  const BlModel *model = bl_board_get_model (board);
  BlPoint end = points->len > 1 ? bl_points_at (points, 1) : hand->aim.at;
  double sd = click_error (self);

  if (points->len > 2
      || (self->kind != BL_KNOWN_CHECK && self->kind != BL_KNOWN_LENGTH
          && self->kind != BL_KNOWN_HEIGHT))
    return;
  bl_marks_add_words (marks, BL_INK_ACTIVE, end,
                      bl_known_seen (bl_model_camera (model), self->kind, bl_points_at (points, 0),
                                     end, sd > 0 ? sd : bl_board_click_px (board), model->units));
}

static void
mark (BlHand *hand, BlMarks *marks)
{
  KnownHand *self = (KnownHand *) hand;
  const BlKnown *pending = bl_board_get_pending (hand->board);
  gboolean placing = self->points != NULL && self->points->len > 0;
  const BlPoints *points = placing ? self->points : pending != NULL ? pending->px : NULL;
  BlKnownKind kind = placing || pending == NULL ? self->kind : pending->kind;

  if (bl_board_get_view (hand->board) != BL_VIEW_PHOTO)
    return;
  if (self->hold.moved != NULL)
    {
      bl_hold_marks (&self->hold, hand, marks);
      return;
    }
  if (points == NULL || points->len == 0)
    return;
  bl_marks_add (marks, kind == BL_KNOWN_RECTANGLE && points->len == 4 ? BL_MARK_RING : BL_MARK_LINE,
                BL_INK_ACTIVE, FALSE, points->len > 1 ? bl_points_copy (points) : NULL);
  if (placing && hand->inside && !hand->pressed && points->len < MAX (bl_known_n_px (kind), 2))
    bl_marks_add_segment (marks, BL_INK_ACTIVE, TRUE, bl_points_at (points, points->len - 1),
                          hand->aim.at);
  for (guint i = 0; i < points->len; i++)
    {
      bl_marks_add_point (marks, BL_MARK_DOT, BL_INK_ACTIVE, bl_points_at (points, i));
      if (kind == BL_KNOWN_RECTANGLE || kind == BL_KNOWN_PARALLEL || kind == BL_KNOWN_EQUAL_LENGTHS)
        bl_marks_add_words (marks, BL_INK_ACTIVE, bl_points_at (points, i),
                            g_strdup_printf ("%u", i + 1));
    }
  if (placing && hand->inside)
    mark_seen (self, marks, points);
}

static char *
hint (BlHand *hand)
{
  KnownHand *self = (KnownHand *) hand;
  guint n = points_of (self)->len;

  if (self->hold.id != 0)
    return g_strdup (_("Drag the point; arrow keys move it by a tenth of a pixel, Shift by one"));
  if (bl_board_get_pending (hand->board) != NULL && n == 0)
    return g_strdup (_("Type its sizes in the sheet on the left and keep it"));
  switch (self->kind)
    {
    case BL_KNOWN_RECTANGLE:
      return g_strdup_printf (
          _ ("Corner %u of 4: click the corners of a rectangle on the ground, in order"), n + 1);
    case BL_KNOWN_LENGTH:
      return g_strdup_printf (_("End %u of 2: click both ends of a length on the ground"), n + 1);
    case BL_KNOWN_CHECK:
      return g_strdup (_("Draw a line on the ground to read its length"));
    case BL_KNOWN_HEIGHT:
      return g_strdup (n == 0 ? _("Click where something upright meets the ground")
                              : _("Now click its top"));
    case BL_KNOWN_RIGHT_ANGLE:
      return g_strdup_printf (_("Point %u of 3: the right angle is at the second"), n + 1);
    case BL_KNOWN_PARALLEL:
      return g_strdup_printf (_ ("Point %u of 4: two on one line, two on a line parallel to it"),
                              n + 1);
    case BL_KNOWN_EQUAL_LENGTHS:
      return g_strdup_printf (_("Point %u of 4: the ends of two equal lengths"), n + 1);
    case BL_KNOWN_POSITION:
      return g_strdup (_("Click a point whose place on the plan you know"));
    case BL_KNOWN_HORIZON:
      return g_strdup_printf (_("Point %u of 2 on the horizon"), n + 1);
    case BL_KNOWN_STRAIGHT:
      return g_strdup (
          _ ("Click three or more points along something straight: a kerb, a wall's foot; Enter ends it"));
    case BL_KNOWN_EYE:
    case BL_KNOWN_N:
    default:
      return g_strdup (_("Type the height of the lens above the ground in the sheet on the left"));
    }
}

const BlHandClass bl_hand_known = {
  .name = "known", .cursor = "crosshair", .size = sizeof (KnownHand), .clear = clear,
  .press = press, .drag = drag, .release = release, .cancel = cancel, .let_go = let_go,
  .key = key, .marks = mark, .hint = hint, .aims = aims, .nudge = nudge, .rest = rest
};
