/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand that traces a feature of the site: a post, a wall, a salted edge, what stands in front. */

#include "config.h"

#include "studio/hand.h"

#include <glib/gi18n.h>

/* Each side of a buried line: what common practice keeps to where the locator says nothing else
 * (Common Ground Alliance, Best Practices: 18 in or more by state). */
#define BURIED_ZONE 0.4572

typedef struct
{
  BlHand hand;
  BlPoints *points;
  BlFeatureKind kind;
  gboolean holds; /* the last point is the one that was pressed and not let go of yet */
} FeatureHand;

typedef enum
{
  SHAPE_POINT,
  SHAPE_LINE,
  SHAPE_AREA
} Shape;

static Shape
shape_of (BlFeatureKind kind)
{
  switch (kind)
    {
    case BL_FEATURE_POST:
    case BL_FEATURE_TREE:
    case BL_FEATURE_HYDRANT:
    case BL_FEATURE_WALNUT:
    case BL_FEATURE_FIXED_POINT:
      return SHAPE_POINT;
    case BL_FEATURE_WALL:
    case BL_FEATURE_FENCE:
    case BL_FEATURE_KERB:
    case BL_FEATURE_BURIED_LINE:
    case BL_FEATURE_SALTED_EDGE:
    case BL_FEATURE_DOOR:
      return SHAPE_LINE;
    case BL_FEATURE_WALK:
    case BL_FEATURE_DRIVE:
    case BL_FEATURE_UTILITY_BOX:
    case BL_FEATURE_TRANSFORMER:
    case BL_FEATURE_SNOW_PILE:
    case BL_FEATURE_SIGHT_TRIANGLE:
    case BL_FEATURE_IN_FRONT:
    case BL_FEATURE_STONE:
    case BL_FEATURE_N:
    default:
      return SHAPE_AREA;
    }
}

static BlPoints *
points_of (FeatureHand *self)
{
  BlFeatureKind kind = bl_board_get_pen (self->hand.board)->feature;

  if (self->points == NULL)
    self->points = bl_points_new ();
  if (kind != self->kind)
    {
      g_array_set_size (self->points, 0);
      self->kind = kind;
      self->holds = FALSE;
    }
  return self->points;
}

static void
cancel (BlHand *hand)
{
  g_clear_pointer (&((FeatureHand *) hand)->points, g_array_unref);
  ((FeatureHand *) hand)->holds = FALSE;
}

static gboolean
finish (FeatureHand *self)
{
  BlBoard *board = self->hand.board;
  Shape shape = shape_of (self->kind);
  guint least = shape == SHAPE_POINT ? 1 : shape == SHAPE_LINE ? 2 : 3;
  g_autoptr (BlOutline) seen = NULL;
  BlFeature *feature;
  gboolean done;

  if (self->points == NULL || self->points->len < least)
    {
      bl_board_say (board, shape == SHAPE_LINE ? _("A line needs at least two points")
                                               : _("An outline needs at least three points"));
      return FALSE;
    }
  if (self->kind == BL_FEATURE_IN_FRONT && bl_board_get_view (board) != BL_VIEW_PHOTO)
    {
      bl_board_say (board, _("What stands in front is outlined on the photo: switch to it first"));
      return FALSE;
    }
  feature = bl_feature_new ();
  feature->kind = self->kind;
  feature->source = bl_board_source_at (board, self->points);
  g_clear_pointer (&feature->outline, bl_outline_free);
  seen = bl_outline_new_take (bl_points_copy (self->points), TRUE);
  feature->outline = bl_board_outline_from_seen (board, seen, feature->source);
  feature->outline->open = shape != SHAPE_AREA;
  feature->height = bl_board_get_pen (board)->feature_height;
  if (self->kind == BL_FEATURE_BURIED_LINE)
    feature->tolerance = BURIED_ZONE;
  done = bl_board_put_feature (board, _("Trace a feature"), feature);
  if (done)
    {
      cancel (&self->hand);
      bl_board_select (board, BL_PICK_FEATURE, feature->id, FALSE);
    }
  bl_feature_free (feature);
  return done;
}

static void
press (BlHand *hand, const BlHandEvent *event)
{
  FeatureHand *self = (FeatureHand *) hand;

  bl_points_add (points_of (self), hand->aim.at);
  self->holds = TRUE;
}

static void
drag (BlHand *hand, const BlHandEvent *event)
{
  FeatureHand *self = (FeatureHand *) hand;

  if (self->holds)
    bl_points_at (self->points, self->points->len - 1) = hand->aim.at;
}

static void
release (BlHand *hand, const BlHandEvent *event)
{
  FeatureHand *self = (FeatureHand *) hand;
  guint n = self->points != NULL ? self->points->len : 0;

  /* What was held may have been taken away meanwhile, by a key or another kind. */
  if (!self->holds)
    return;
  self->holds = FALSE;
  if (shape_of (self->kind) == SHAPE_POINT)
    {
      finish (self);
      return;
    }
  if (n > 1
      && bl_dist (bl_points_at (self->points, n - 2), bl_points_at (self->points, n - 1))
           < hand->slack * 0.25)
    g_array_set_size (self->points, n - 1);
  else if (n > 3 && bl_dist (bl_points_at (self->points, 0), event->at) < hand->slack)
    {
      g_array_set_size (self->points, n - 1);
      finish (self);
      return;
    }
  if (event->n_press >= 2)
    finish (self);
}

static void
let_go (BlHand *hand)
{
  FeatureHand *self = (FeatureHand *) hand;

  if (self->holds)
    g_array_set_size (self->points, self->points->len - 1);
  self->holds = FALSE;
}

static gboolean
aims (BlHand *hand)
{
  return TRUE;
}

static gboolean
nudge (BlHand *hand, BlPoint by)
{
  FeatureHand *self = (FeatureHand *) hand;
  guint n = self->points != NULL ? self->points->len : 0;

  if (n == 0)
    return FALSE;
  bl_points_at (self->points, n - 1) = bl_add (bl_points_at (self->points, n - 1), by);
  return TRUE;
}

static gboolean
key (BlHand *hand, BlHandKey which)
{
  FeatureHand *self = (FeatureHand *) hand;
  guint n = self->points != NULL ? self->points->len : 0;

  switch (which)
    {
    case BL_KEY_ENTER:
      if (n < (shape_of (self->kind) == SHAPE_LINE ? 2u : 3u))
        return FALSE;
      finish (self);
      return TRUE;
    case BL_KEY_ESCAPE:
      cancel (hand);
      return TRUE;
    case BL_KEY_BACKSPACE:
    case BL_KEY_DELETE:
      if (n > 0)
        g_array_set_size (self->points, n - 1);
      self->holds = FALSE;
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
  FeatureHand *self = (FeatureHand *) hand;
  BlPoints *line;

  if (self->points == NULL || self->points->len == 0)
    return;
  line = bl_points_copy (self->points);
  if (hand->inside && !hand->pressed)
    bl_points_add (line, hand->aim.at);
  bl_marks_add (marks,
                shape_of (self->kind) == SHAPE_AREA && line->len > 2 ? BL_MARK_RING : BL_MARK_LINE,
                BL_INK_ACTIVE, FALSE, line);
  for (guint i = 0; i < self->points->len; i++)
    bl_marks_add_point (marks, BL_MARK_CORNER, BL_INK_ACTIVE, bl_points_at (self->points, i));
}

static char *
hint (BlHand *hand)
{
  FeatureHand *self = (FeatureHand *) hand;

  points_of (self);
  switch (shape_of (self->kind))
    {
    case SHAPE_POINT:
      return g_strdup (_("Click where it meets the ground"));
    case SHAPE_LINE:
      return g_strdup (_("Click along the line; Enter or a double click ends it"));
    case SHAPE_AREA:
    default:
      return g_strdup (_("Click around its outline; Enter or a double click closes it"));
    }
}

const BlHandClass bl_hand_feature = {
  .name = "feature", .cursor = "crosshair", .size = sizeof (FeatureHand), .clear = cancel,
  .press = press, .drag = drag, .release = release, .cancel = cancel, .let_go = let_go,
  .key = key, .marks = mark, .hint = hint, .aims = aims, .nudge = nudge
};
