/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand that traces a bed line: clicks or one free stroke, closed by Enter, a double click or a
 * click on the first point. */

#include "config.h"

#include "base/say.h"
#include "studio/hand.h"
#include "studio/stroke.h"

#include <glib/gi18n.h>

typedef struct
{
  BlHand hand;
  BlOutline *line;
  BlPoints *stroke; /* one free stroke, while the button is down */
} TraceHand;

static BlOutline *
line_of (TraceHand *self)
{
  if (self->line == NULL)
    self->line = bl_outline_new ();
  return self->line;
}

static void
cancel (BlHand *hand)
{
  TraceHand *self = (TraceHand *) hand;

  g_clear_pointer (&self->line, bl_outline_free);
  g_clear_pointer (&self->stroke, g_array_unref);
}

static void
let_go (BlHand *hand)
{
  g_clear_pointer (&((TraceHand *) hand)->stroke, g_array_unref);
}

static char *
name_for_bed (const BlModel *model)
{
  for (guint i = model->beds->len + 1;; i++)
    {
      g_autofree char *name = g_strdup_printf (_("Bed %u"), i);

      if (bl_model_bed_named (model, name) == NULL)
        return g_steal_pointer (&name);
    }
}

static gboolean
finish (TraceHand *self)
{
  BlBoard *board = self->hand.board;
  g_autoptr (BlBed) bed = NULL;
  g_autoptr (GError) error = NULL;

  if (self->line == NULL || self->line->points->len < 3)
    {
      bl_board_say (board, _("A bed line needs at least three points"));
      return FALSE;
    }
  if (!bl_outline_check (self->line, &error))
    {
      bl_board_report (board, error);
      return FALSE;
    }
  bed = bl_bed_new ();
  g_free (bed->name);
  bed->name = name_for_bed (bl_board_get_model (board));
  bed->source = bl_board_source_at (board, self->line->points);
  bed->outline = bl_board_outline_from_seen (board, self->line, bed->source);
  if (bed->mulch_depth == 0)
    bed->mulch_depth = 0.075; /* 3 in, common practice for shredded bark */
  if (!bl_board_put_bed (board, _("Trace a bed line"), bed))
    return FALSE;
  cancel (&self->hand);
  bl_board_select (board, BL_PICK_BED, bed->id, FALSE);
  return TRUE;
}

static void
press (BlHand *hand, const BlHandEvent *event)
{
  TraceHand *self = (TraceHand *) hand;

  g_clear_pointer (&self->stroke, g_array_unref);
  self->stroke = bl_points_new ();
  bl_points_add (self->stroke, event->at);
}

static void
drag (BlHand *hand, const BlHandEvent *event)
{
  TraceHand *self = (TraceHand *) hand;

  if (self->stroke != NULL)
    bl_points_add (self->stroke, event->at);
}

static void
release (BlHand *hand, const BlHandEvent *event)
{
  TraceHand *self = (TraceHand *) hand;
  BlOutline *line = line_of (self);
  guint n = line->points->len;
  g_autoptr (GArray) stroke = g_steal_pointer (&self->stroke);

  if (hand->dragged && stroke != NULL && bl_stroke_length (stroke) > 6 * hand->slack)
    {
      g_autoptr (GArray) thin = bl_stroke_simplify (stroke, hand->slack * 0.4);

      for (guint i = 0; i < thin->len; i++)
        bl_outline_insert (line, line->points->len, bl_points_at (thin, i));
      if (n == 0 && bl_dist (bl_points_at (thin, 0), event->at) < 5 * hand->slack)
        {
          if (line->points->len > 3)
            bl_outline_remove (line, line->points->len - 1);
          finish (self);
        }
      return;
    }
  if (n >= 3 && bl_dist (bl_points_at (line->points, 0), event->at) < hand->slack)
    {
      finish (self);
      return;
    }
  if (event->n_press >= 2 && n >= 3)
    {
      finish (self);
      return;
    }
  if (n > 0 && bl_dist (bl_points_at (line->points, n - 1), hand->aim.at) < hand->slack * 0.25)
    return;
  bl_outline_insert (line, n, hand->aim.at);
  if ((event->mods & BL_MOD_SHIFT) != 0)
    bl_outline_set_sharp (line, n, TRUE);
}

static gboolean
aims (BlHand *hand)
{
  return !hand->dragged;
}

static gboolean
nudge (BlHand *hand, BlPoint by)
{
  TraceHand *self = (TraceHand *) hand;
  guint n = self->line != NULL ? self->line->points->len : 0;

  if (n == 0)
    return FALSE;
  bl_points_at (self->line->points, n - 1)
      = bl_add (bl_points_at (self->line->points, n - 1), by);
  return TRUE;
}

static gboolean
key (BlHand *hand, BlHandKey which)
{
  TraceHand *self = (TraceHand *) hand;
  guint n = self->line != NULL ? self->line->points->len : 0;

  switch (which)
    {
    case BL_KEY_ENTER:
      if (n < 3)
        return FALSE; /* the key press then sets a point */
      finish (self);
      return TRUE;
    case BL_KEY_ESCAPE:
      cancel (hand);
      return TRUE;
    case BL_KEY_BACKSPACE:
    case BL_KEY_DELETE:
      if (n > 0)
        bl_outline_remove (self->line, n - 1);
      return TRUE;
    case BL_KEY_SHARP:
      if (n > 0)
        bl_outline_set_sharp (self->line, n - 1, !bl_outline_is_sharp (self->line, n - 1));
      return TRUE;
    case BL_KEY_SMALLER:
    case BL_KEY_LARGER:
    default:
      return FALSE;
    }
}

static char *
area_words (BlBoard *board, const BlOutline *line)
{
  const BlModel *model = bl_board_get_model (board);
  BlSource source = bl_board_source_at (board, line->points);
  const BlCamera *camera = bl_model_camera_of (model, source);
  g_autoptr (BlOutline) traced = NULL;
  BlMeasured area, perimeter;

  if (source == BL_FROM_PLAN)
    {
      g_autoptr (GArray) ring = bl_outline_flatten (line, 0.01);

      return bl_area_format (bl_polygon_area (ring), model->units, bl_say_window ());
    }
  traced = bl_board_outline_from_seen (board, line, source);
  if (camera == NULL || !camera->scaled || line->points->len < 3 || traced == NULL
      || !bl_measure_outline (camera, traced, bl_model_click_px (model, source), &area, &perimeter,
                              NULL))
    return NULL;
  return bl_area_format_interval (area.value, area.sd, model->units, bl_say_window ());
}

static void
mark (BlHand *hand, BlMarks *marks)
{
  TraceHand *self = (TraceHand *) hand;
  g_autoptr (BlOutline) shown = NULL;
  guint n = self->line != NULL ? self->line->points->len : 0;

  if (self->stroke != NULL && self->stroke->len > 2 && hand->dragged)
    bl_marks_add (marks, BL_MARK_LINE, BL_INK_ACTIVE, FALSE, bl_points_copy (self->stroke));
  if (n == 0)
    return;
  shown = bl_outline_copy (self->line);
  if (hand->inside && !hand->dragged
      && bl_dist (bl_points_at (shown->points, n - 1), hand->at) > hand->slack * 0.5
      && bl_dist (bl_points_at (shown->points, 0), hand->at) > hand->slack)
    bl_outline_insert (shown, n, hand->aim.at);
  bl_marks_add_outline (marks, BL_INK_ACTIVE, FALSE, shown, hand->slack * 0.05);
  for (guint i = 0; i < n; i++)
    bl_marks_add_point (marks, bl_outline_is_sharp (self->line, i) ? BL_MARK_CORNER : BL_MARK_DOT,
                        BL_INK_ACTIVE, bl_points_at (self->line->points, i));
  if (shown->points->len >= 3)
    bl_marks_add_words (marks, BL_INK_ACTIVE, hand->at, area_words (hand->board, shown));
}

static char *
hint (BlHand *hand)
{
  TraceHand *self = (TraceHand *) hand;
  guint n = self->line != NULL ? self->line->points->len : 0;

  if (n == 0)
    return g_strdup (
        _ ("Click along the bed's edge, or draw it in one stroke; Shift sets a sharp corner, Alt keeps "
           "off the snap"));
  if (n < 3)
    return g_strdup (_ ("Go on around the bed; arrow keys nudge the last point, Backspace takes it back"));
  return g_strdup (
      _ ("Close the bed line with Enter, a double click, or a click on its first point"));
}

const BlHandClass bl_hand_trace = { .name = "trace",
                                    .cursor = "crosshair",
                                    .size = sizeof (TraceHand),
                                    .clear = cancel,
                                    .press = press,
                                    .drag = drag,
                                    .release = release,
                                    .cancel = cancel,
                                    .let_go = let_go,
                                    .key = key,
                                    .marks = mark,
                                    .hint = hint,
                                    .aims = aims,
                                    .nudge = nudge };
