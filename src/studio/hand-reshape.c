/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand that reshapes a line: move, insert, remove and sharpen points of a bed line, a feature,
 * a row or a drift. */

#include "config.h"

#include "studio/follow.h"
#include "studio/hand.h"

#include <glib/gi18n.h>

typedef struct
{
  BlHand hand;
  BlPick pick;      /* whose line it is */
  BlSource source;  /* the space its points are in */
  BlOutline *line;  /* while a point is dragged: the changed line; else NULL */
  int active;       /* point under the hand, -1 = none */
  gboolean taken;   /* a press was on it: keys may nudge it */
} ReshapeHand;

/* The selected thing that has a line, its line and the line's space. */
static const BlOutline *
target (BlHand *hand, BlPick *pick, BlSource *source)
{
  const BlModel *model = bl_board_get_model (hand->board);
  const GArray *selection = bl_board_get_selection (hand->board);

  for (guint i = 0; i < selection->len; i++)
    {
      const BlBed *bed;
      const BlFeature *feature;
      const BlPlanting *planting;

      *pick = g_array_index (selection, BlPick, i);
      *source = BL_FROM_PLAN;
      if (pick->kind == BL_PICK_BED && (bed = bl_model_bed (model, pick->id)) != NULL
          && bed->source != BL_FROM_TAPE)
        {
          *source = bed->source;
          return bed->outline;
        }
      if (pick->kind == BL_PICK_FEATURE && (feature = bl_model_feature (model, pick->id)) != NULL)
        {
          *source = feature->source;
          return feature->outline;
        }
      if (pick->kind == BL_PICK_PLANTING && (planting = bl_model_planting (model, pick->id)) != NULL
          && planting->shape != NULL)
        return planting->shape;
    }
  return NULL;
}

static BlOutline *
seen_line (ReshapeHand *self)
{
  BlPick pick;
  BlSource source;
  const BlOutline *line = target (&self->hand, &pick, &source);

  if (self->line != NULL)
    return bl_board_outline_seen (self->hand.board, self->line, self->source);
  return line != NULL ? bl_board_outline_seen (self->hand.board, line, source) : NULL;
}

static int
point_at (const BlOutline *seen, BlPoint at, double slack)
{
  double best = slack * 1.4;
  int found = -1;

  for (guint i = 0; i < seen->points->len; i++)
    {
      double d = bl_dist (bl_points_at (seen->points, i), at);

      if (d < best)
        {
          best = d;
          found = (int) i;
        }
    }
  return found;
}

/* The piece of the curve under @at; -1 when the line is not there. */
static int
piece_at (const BlOutline *seen, BlPoint at, double slack)
{
  g_autoptr (GArray) samples = NULL;
  guint per = 12, n = seen->points->len;
  double best = slack;
  int found = -1;

  if (n < 2)
    return -1;
  samples = bl_outline_sample (seen, per);
  for (guint i = 0; i + (seen->open ? 1 : 0) < samples->len; i++)
    {
      double d = bl_segment_distance (at, bl_points_at (samples, i),
                                      bl_points_at (samples, (i + 1) % samples->len), NULL);

      if (d < best)
        {
          best = d;
          found = (int) MIN (i / per, n - 1);
        }
    }
  return found;
}

static gboolean
put_line (ReshapeHand *self, const char *label)
{
  BlBoard *board = self->hand.board;
  const BlModel *model = bl_board_get_model (board);
  BlOutline *line = g_steal_pointer (&self->line);
  gboolean done = FALSE;

  if (self->pick.kind == BL_PICK_BED && bl_model_bed (model, self->pick.id) != NULL)
    {
      g_autoptr (BlBed) bed = bl_bed_copy (bl_model_bed (model, self->pick.id));

      g_clear_pointer (&bed->outline, bl_outline_free);
      bed->outline = line;
      done = bl_board_put_bed (board, label, bed);
    }
  else if (self->pick.kind == BL_PICK_FEATURE && bl_model_feature (model, self->pick.id) != NULL)
    {
      g_autoptr (BlFeature) feature = bl_feature_copy (bl_model_feature (model, self->pick.id));

      g_clear_pointer (&feature->outline, bl_outline_free);
      feature->outline = line;
      done = bl_board_put_feature (board, label, feature);
    }
  else if (bl_model_planting (model, self->pick.id) != NULL)
    {
      g_autoptr (BlPlanting) planting = bl_planting_copy (bl_model_planting (model, self->pick.id));

      g_clear_pointer (&planting->shape, bl_outline_free);
      planting->shape = line;
      done = bl_board_put_planting (board, label, planting);
    }
  else
    bl_outline_free (line);
  bl_board_follow_line (board, NULL, NULL);
  return done;
}

static gboolean
take_line (ReshapeHand *self)
{
  const BlOutline *line = target (&self->hand, &self->pick, &self->source);

  g_clear_pointer (&self->line, bl_outline_free);
  if (line == NULL)
    return FALSE;
  self->line = bl_outline_copy (line);
  return TRUE;
}

static void
pick_line (BlHand *hand)
{
  BlScene *scene = bl_board_get_scene (hand->board);
  const BlModel *model = bl_board_get_model (hand->board);
  const BlSceneItem *item = scene != NULL ? bl_scene_pick (scene, hand->at, hand->slack) : NULL;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);
      g_autoptr (BlOutline) seen = bl_board_outline_seen (hand->board, bed->outline, bed->source);

      if (seen != NULL && piece_at (seen, hand->at, hand->slack) >= 0)
        {
          bl_board_select (hand->board, BL_PICK_BED, bed->id, FALSE);
          return;
        }
    }
  if (item == NULL)
    return;
  if (item->kind == BL_ITEM_GROUND)
    bl_board_select (hand->board, BL_PICK_BED, item->id, FALSE);
  else if (item->kind == BL_ITEM_FEATURE || item->kind == BL_ITEM_FRONT)
    bl_board_select (hand->board, BL_PICK_FEATURE, item->id, FALSE);
  else
    bl_board_select (hand->board, BL_PICK_PLANTING, item->id, FALSE);
}

static void
press (BlHand *hand, const BlHandEvent *event)
{
  ReshapeHand *self = (ReshapeHand *) hand;
  g_autoptr (BlOutline) seen = seen_line (self);
  int piece;

  self->active = seen != NULL ? point_at (seen, event->at, event->slack) : -1;
  self->taken = self->active >= 0;
  if (self->active >= 0)
    {
      if (event->n_press >= 2 && take_line (self))
        {
          bl_outline_set_sharp (self->line, (guint) self->active,
                                !bl_outline_is_sharp (self->line, (guint) self->active));
          put_line (self, _("Corner or curve"));
        }
      else
        take_line (self);
      return;
    }
  piece = seen != NULL ? piece_at (seen, event->at, event->slack) : -1;
  if (piece >= 0 && take_line (self))
    {
      BlPoint at;

      if (bl_board_point_from_seen (hand->board, event->at, self->source, &at))
        {
          bl_outline_insert (self->line, (guint) piece + 1, at);
          self->active = piece + 1;
          self->taken = TRUE;
        }
      return;
    }
  pick_line (hand);
}

static void
drag (BlHand *hand, const BlHandEvent *event)
{
  ReshapeHand *self = (ReshapeHand *) hand;
  BlPoint at;

  if (self->line != NULL && self->active >= 0 && (guint) self->active < self->line->points->len
      && bl_board_point_from_seen (hand->board, hand->aim.at, self->source, &at))
    {
      bl_points_at (self->line->points, (guint) self->active) = at;
      bl_board_follow_line (hand->board, &self->pick, self->line);
    }
}

static void
release (BlHand *hand, const BlHandEvent *event)
{
  ReshapeHand *self = (ReshapeHand *) hand;
  BlPick pick;
  BlSource source;
  const BlOutline *old = target (hand, &pick, &source);

  if (self->line == NULL)
    return;
  if (old != NULL && self->line->points->len > old->points->len)
    put_line (self, _("Insert a point"));
  else if (hand->dragged)
    put_line (self, _("Move a point"));
  else
    g_clear_pointer (&self->line, bl_outline_free);
}

/* Only what stands in the photo snaps to it: plants do not. */
static gboolean
aims (BlHand *hand)
{
  ReshapeHand *self = (ReshapeHand *) hand;

  return hand->pressed && self->line != NULL && self->pick.kind != BL_PICK_PLANTING;
}

static gboolean
nudge (BlHand *hand, BlPoint by)
{
  ReshapeHand *self = (ReshapeHand *) hand;
  g_autoptr (BlOutline) seen = NULL;
  BlPoint at;

  if (!self->taken || self->active < 0 || hand->pressed || (self->line == NULL && !take_line (self)))
    return FALSE;
  seen = seen_line (self);
  if (seen == NULL || (guint) self->active >= seen->points->len
      || !bl_board_point_from_seen (hand->board,
                                    bl_add (bl_points_at (seen->points, (guint) self->active), by),
                                    self->source, &at))
    {
      g_clear_pointer (&self->line, bl_outline_free);
      return FALSE;
    }
  bl_points_at (self->line->points, (guint) self->active) = at;
  return TRUE;
}

static void
rest (BlHand *hand)
{
  ReshapeHand *self = (ReshapeHand *) hand;

  if (self->line != NULL && !hand->pressed)
    put_line (self, _("Move a point"));
}

static void
hover (BlHand *hand, const BlHandEvent *event)
{
  ReshapeHand *self = (ReshapeHand *) hand;
  g_autoptr (BlOutline) seen = NULL;
  int at;

  if (hand->pressed || self->line != NULL)
    return;
  seen = seen_line (self);
  at = seen != NULL ? point_at (seen, event->at, event->slack) : -1;
  if (at >= 0 && at != self->active)
    {
      self->active = at;
      self->taken = FALSE;
    }
}

static void
cancel (BlHand *hand)
{
  ReshapeHand *self = (ReshapeHand *) hand;

  if (self->line != NULL)
    bl_board_follow_line (hand->board, NULL, NULL);
  g_clear_pointer (&self->line, bl_outline_free);
  self->active = -1;
}

static gboolean
key (BlHand *hand, BlHandKey which)
{
  ReshapeHand *self = (ReshapeHand *) hand;
  BlPick pick;
  BlSource source;
  const BlOutline *line = target (hand, &pick, &source);
  guint at = (guint) self->active;

  if (which == BL_KEY_ESCAPE)
    {
      if (self->line == NULL)
        bl_board_clear_selection (hand->board);
      cancel (hand);
      return TRUE;
    }
  if (line == NULL || self->active < 0 || at >= line->points->len)
    return FALSE;
  if (which == BL_KEY_SHARP && take_line (self))
    {
      bl_outline_set_sharp (self->line, at, !bl_outline_is_sharp (self->line, at));
      return put_line (self, _("Corner or curve"));
    }
  if (which == BL_KEY_DELETE || which == BL_KEY_BACKSPACE)
    {
      if (line->points->len <= (line->open ? 2u : 3u))
        {
          bl_board_say (hand->board, _("The line has too few points to lose one"));
          return TRUE;
        }
      if (take_line (self))
        {
          bl_outline_remove (self->line, at);
          self->active = -1;
          return put_line (self, _("Remove a point"));
        }
    }
  return FALSE;
}

static void
mark (BlHand *hand, BlMarks *marks)
{
  ReshapeHand *self = (ReshapeHand *) hand;
  g_autoptr (BlOutline) seen = seen_line (self);

  if (seen == NULL)
    return;
  if (self->line != NULL)
    bl_board_mark_following (hand->board, marks);
  bl_marks_add_outline (marks, BL_INK_ACTIVE, FALSE, seen, hand->slack * 0.05);
  for (guint i = 0; i < seen->points->len; i++)
    bl_marks_add_point (marks, bl_outline_is_sharp (seen, i) ? BL_MARK_CORNER : BL_MARK_DOT,
                        (int) i == self->active ? BL_INK_SELECTED : BL_INK_ACTIVE,
                        bl_points_at (seen->points, i));
}

static char *
hint (BlHand *hand)
{
  BlPick pick;
  BlSource source;

  if (target (hand, &pick, &source) == NULL)
    return g_strdup (_("Click a bed line, a feature, a row or a drift to reshape it"));
  return g_strdup (
      _ ("Drag a point or nudge it by arrow keys; drag the line to insert one; S makes a corner; "
         "Delete removes"));
}

const BlHandClass bl_hand_reshape = {
  .name = "reshape", .cursor = "default", .size = sizeof (ReshapeHand), .clear = cancel,
  .press = press, .drag = drag, .release = release, .hover = hover, .cancel = cancel, .key = key,
  .marks = mark, .hint = hint, .aims = aims, .nudge = nudge, .rest = rest
};
