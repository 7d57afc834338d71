/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand that states what is known: clicks on the photo, then its sizes are asked for. */

#include "config.h"

#include "photo/snap.h"
#include "studio/hand.h"

#include <glib/gi18n.h>

typedef struct
{
  BlHand hand;
  BlPoints *points;
  BlKnownKind kind;
} KnownHand;

static BlPoints *
points_of (KnownHand *self)
{
  BlKnownKind kind = bl_board_get_pen (self->hand.board)->known;

  if (self->points == NULL)
    self->points = bl_points_new ();
  if (self->kind != kind)
    {
      g_array_set_size (self->points, 0);
      self->kind = kind;
    }
  return self->points;
}

/* A click on the screen is no surer than the screen's pixels: seen from afar, the photo's are
 * smaller. */
static double
click_error (const BlHand *hand)
{
  const BlPhotoInfo *photo = &bl_board_get_model (hand->board)->photo;
  double usual
      = photo->click_px > 0 ? photo->click_px : 1.5 * MAX (photo->width, photo->height) / 4032;

  return MAX (usual, hand->slack / 8);
}

/* The corner of a joint or a slab near the click, where there is one; Ctrl takes the click as it
 * is. */
static BlPoint
snapped (const BlHand *hand, BlPoint at)
{
  BlImage *photo = bl_board_get_photo (hand->board);
  BlSnap snap;

  if (photo == NULL || (hand->mods & BL_MOD_CTRL) != 0)
    return at;
  snap = bl_snap (&photo->levels[0], at, MIN (hand->slack * 0.5, 12));
  return snap.kind == BL_SNAP_CORNER && bl_dist (snap.at, at) < hand->slack * 0.5 ? snap.at : at;
}

static void
finish (KnownHand *self)
{
  BlKnown *known = bl_known_new (self->kind);

  if (click_error (&self->hand) > bl_board_get_model (self->hand.board)->photo.click_px)
    known->click_px = click_error (&self->hand);
  g_clear_pointer (&known->px, g_array_unref);
  known->px = g_steal_pointer (&self->points);
  bl_board_set_pending (self->hand.board, known);
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
  if (bl_known_n_px (self->kind) == 0)
    return;
  if (points->len == 0 && bl_board_get_pending (hand->board) != NULL)
    bl_board_set_pending (hand->board, NULL);
  bl_points_add (points, event->at);
}

static void
drag (BlHand *hand, const BlHandEvent *event)
{
  KnownHand *self = (KnownHand *) hand;

  if (self->points != NULL && self->points->len > 0)
    bl_points_at (self->points, self->points->len - 1) = event->at;
}

static void
release (BlHand *hand, const BlHandEvent *event)
{
  KnownHand *self = (KnownHand *) hand;
  guint enough = bl_known_n_px (self->kind);

  if (self->points == NULL || self->points->len == 0)
    return;
  bl_points_at (self->points, self->points->len - 1) = snapped (hand, event->at);
  if (self->points->len < enough || enough == 0)
    return;
  if (self->kind == BL_KNOWN_STRAIGHT && event->n_press < 2)
    return;
  finish (self);
}

static void
cancel (BlHand *hand)
{
  KnownHand *self = (KnownHand *) hand;

  g_clear_pointer (&self->points, g_array_unref);
  bl_board_set_pending (hand->board, NULL);
}

static void
clear (BlHand *hand)
{
  g_clear_pointer (&((KnownHand *) hand)->points, g_array_unref);
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
      if (self->points != NULL && self->points->len > 0)
        g_array_set_size (self->points, self->points->len - 1);
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

static void
mark (BlHand *hand, BlMarks *marks)
{
  KnownHand *self = (KnownHand *) hand;
  const BlKnown *pending = bl_board_get_pending (hand->board);
  const BlPoints *points = self->points != NULL && self->points->len > 0
                             ? self->points : pending != NULL ? pending->px : NULL;
  BlKnownKind kind = points == self->points ? self->kind
                     : pending != NULL      ? pending->kind
                                            : self->kind;

  if (bl_board_get_view (hand->board) != BL_VIEW_PHOTO || points == NULL)
    return;
  bl_marks_add (marks, kind == BL_KNOWN_RECTANGLE && points->len == 4 ? BL_MARK_RING : BL_MARK_LINE,
                BL_INK_ACTIVE, FALSE, points->len > 1 ? bl_points_copy (points) : NULL);
  if (points == self->points && hand->inside && points->len < MAX (bl_known_n_px (kind), 2))
    bl_marks_add_segment (marks, BL_INK_ACTIVE, TRUE, bl_points_at (points, points->len - 1),
                          hand->at);
  for (guint i = 0; i < points->len; i++)
    {
      bl_marks_add_point (marks, BL_MARK_DOT, BL_INK_ACTIVE, bl_points_at (points, i));
      bl_marks_add_words (marks, BL_INK_ACTIVE, bl_points_at (points, i),
                          g_strdup_printf ("%u", i + 1));
    }
}

static char *
hint (BlHand *hand)
{
  KnownHand *self = (KnownHand *) hand;
  guint n = points_of (self)->len;

  if (bl_board_get_pending (hand->board) != NULL && n == 0)
    return g_strdup (_("Type its sizes in the sheet on the left and keep it"));
  switch (self->kind)
    {
    case BL_KNOWN_RECTANGLE:
      return g_strdup_printf (
          _ ("Corner %u of 4: click the corners of a rectangle on the ground, in order"), n + 1);
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_CHECK:
      return g_strdup_printf (_("End %u of 2: click both ends of a length on the ground"), n + 1);
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
          _ ("Click three or more points of a straight line; Enter or a double click ends it"));
    case BL_KNOWN_EYE:
    case BL_KNOWN_N:
    default:
      return g_strdup (_("Type the height of the lens above the ground in the sheet on the left"));
    }
}

const BlHandClass bl_hand_known = { .name = "known",
                                    .cursor = "crosshair",
                                    .size = sizeof (KnownHand),
                                    .clear = clear,
                                    .press = press,
                                    .drag = drag,
                                    .release = release,
                                    .cancel = cancel,
                                    .key = key,
                                    .marks = mark,
                                    .hint = hint };
