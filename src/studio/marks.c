/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is drawn over the baked picture: lines, dots, words, ghosts, as plain structures. */

#include "config.h"

#include "studio/marks.h"

static void
clear_mark (gpointer data)
{
  BlMark *mark = data;

  g_clear_pointer (&mark->points, g_array_unref);
  g_clear_pointer (&mark->plant, bl_plant_unref);
  g_clear_pointer (&mark->text, g_free);
}

BlMarks *
bl_marks_new (void)
{
  BlMarks *marks = g_new0 (BlMarks, 1);

  marks->items = g_array_new (FALSE, TRUE, sizeof (BlMark));
  g_array_set_clear_func (marks->items, clear_mark);
  return marks;
}

void
bl_marks_free (BlMarks *marks)
{
  g_array_unref (marks->items);
  g_free (marks);
}

void
bl_marks_add (BlMarks *marks, BlMarkKind kind, BlInk ink, gboolean dashed, BlPoints *points)
{
  BlMark mark = { .kind = kind, .ink = ink, .dashed = dashed, .points = points };

  if (points == NULL)
    return;
  if (points->len == 0)
    g_array_unref (points);
  else
    g_array_append_val (marks->items, mark);
}

void
bl_marks_add_filled (BlMarks *marks, BlInk ink, BlPoints *points)
{
  guint before = marks->items->len;

  bl_marks_add (marks, BL_MARK_RING, ink, FALSE, points);
  if (marks->items->len > before)
    g_array_index (marks->items, BlMark, before).filled = TRUE;
}

void
bl_marks_add_point (BlMarks *marks, BlMarkKind kind, BlInk ink, BlPoint at)
{
  BlPoints *points = bl_points_new ();

  bl_points_add (points, at);
  bl_marks_add (marks, kind, ink, FALSE, points);
}

void
bl_marks_add_segment (BlMarks *marks, BlInk ink, gboolean dashed, BlPoint a, BlPoint b)
{
  BlPoints *points = bl_points_new ();

  bl_points_add (points, a);
  bl_points_add (points, b);
  bl_marks_add (marks, BL_MARK_LINE, ink, dashed, points);
}

void
bl_marks_add_words (BlMarks *marks, BlInk ink, BlPoint at, char *text)
{
  if (text == NULL)
    return;
  bl_marks_add_point (marks, BL_MARK_WORDS, ink, at);
  g_array_index (marks->items, BlMark, marks->items->len - 1).text = text;
}

void
bl_marks_add_ghost (BlMarks *marks, BlPlant *plant, BlPoint document, BlPoint plan)
{
  BlMark *mark;

  bl_marks_add_point (marks, BL_MARK_GHOST, BL_INK_ACTIVE, document);
  mark = &g_array_index (marks->items, BlMark, marks->items->len - 1);
  mark->plant = bl_plant_ref (plant);
  mark->plan = plan;
}

void
bl_marks_add_outline (BlMarks *marks, BlInk ink, gboolean dashed, const BlOutline *outline,
                      double tolerance)
{
  if (outline == NULL || outline->points->len == 0)
    return;
  if (outline->points->len < 2)
    {
      bl_marks_add_point (marks, BL_MARK_DOT, ink, bl_points_at (outline->points, 0));
      return;
    }
  bl_marks_add (marks, outline->open || outline->points->len < 3 ? BL_MARK_LINE : BL_MARK_RING, ink,
                dashed, outline->points->len < 3 ? bl_points_copy (outline->points)
                                                 : bl_outline_flatten (outline, tolerance));
}
