/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas's marks: lines, handles, words and ghosts drawn over the baked picture, in widget
 * pixels, so that they never scale. */

#include "config.h"

#include "draw/figure.h"
#include "studio/canvas-private.h"

static const GdkRGBA inks[] = {
  [BL_INK_QUIET] = { 0.17f, 0.16f, 0.14f, 0.75f },
  [BL_INK_ACTIVE] = { 0.12f, 0.40f, 0.34f, 1 },
  [BL_INK_SELECTED] = { 0.38f, 0.27f, 0.56f, 1 },
  [BL_INK_HELD] = { 0.38f, 0.27f, 0.56f, 1 },
  [BL_INK_HOVER] = { 0.12f, 0.40f, 0.34f, 0.7f },
  [BL_INK_WRONG] = { 0.70f, 0.25f, 0.16f, 1 },
};

static const GdkRGBA casing = { 0.99f, 0.98f, 0.95f, 0.85f };

static BlPoint
widget_point (BlCanvas *self, BlPoint document)
{
  double x, y;

  bl_canvas_from_document (self, document, &x, &y);
  return BL_POINT (x, y);
}

/* @box cut to what is seen; FALSE when nothing of it is. */
static gboolean
visible (BlCanvas *self, BlRect box, graphene_rect_t *bounds)
{
  graphene_rect_t all = GRAPHENE_RECT_INIT (0, 0, gtk_widget_get_width (GTK_WIDGET (self)),
                                            gtk_widget_get_height (GTK_WIDGET (self)));
  graphene_rect_t own = GRAPHENE_RECT_INIT ((float)box.x0, (float)box.y0, (float)(box.x1 - box.x0),
                                            (float)(box.y1 - box.y0));

  return isfinite (box.x0) && isfinite (box.x1) && isfinite (box.y0) && isfinite (box.y1)
         && graphene_rect_intersection (&own, &all, bounds);
}

/* Quiet lines end at the photo's edge; FALSE when nothing is left of them. */
static gboolean
on_sheet (BlCanvas *self, graphene_rect_t *bounds)
{
  BlRect e;
  BlPoint a, b;
  graphene_rect_t sheet;

  if (self->scene == NULL || self->scene->view != BL_VIEW_PHOTO)
    return TRUE;
  e = self->scene->extent;
  a = widget_point (self, BL_POINT (e.x0, e.y0));
  b = widget_point (self, BL_POINT (e.x1, e.y1));
  sheet = GRAPHENE_RECT_INIT ((float) a.x, (float) a.y, (float) (b.x - a.x), (float) (b.y - a.y));
  return graphene_rect_intersection (bounds, &sheet, bounds);
}

static void
set_ink (cairo_t *cr, const GdkRGBA *color, double alpha)
{
  cairo_set_source_rgba (cr, color->red, color->green, color->blue, color->alpha * alpha);
}

static GArray *
widget_points (BlCanvas *self, const BlMark *mark)
{
  GArray *points = bl_points_new ();

  for (guint i = 0; i < mark->points->len; i++)
    bl_points_add (points, widget_point (self, bl_points_at (mark->points, i)));
  return points;
}

static void
draw_line (cairo_t *cr, const BlMark *mark, const GArray *points)
{
  static const double dashes[] = { 5, 4 };
  gboolean thin
      = mark->ink == BL_INK_QUIET || mark->ink == BL_INK_HOVER || mark->ink == BL_INK_HELD;

  for (guint i = 0; i < points->len; i++)
    cairo_line_to (cr, bl_points_at (points, i).x, bl_points_at (points, i).y);
  if (mark->kind == BL_MARK_RING)
    cairo_close_path (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  if (mark->filled)
    {
      set_ink (cr, &inks[mark->ink], 0.13);
      cairo_fill_preserve (cr);
    }
  set_ink (cr, &casing, thin ? 0.7 : 1);
  cairo_set_line_width (cr, thin ? 2.6 : 3.8);
  cairo_stroke_preserve (cr);
  set_ink (cr, &inks[mark->ink], 1);
  cairo_set_line_width (cr, thin ? 1.1 : mark->ink == BL_INK_SELECTED ? 2 : 1.7);
  if (mark->dashed)
    cairo_set_dash (cr, dashes, 2, 0);
  cairo_stroke (cr);
}

static void
snapshot_line (BlCanvas *self, GtkSnapshot *snapshot, const BlMark *mark)
{
  g_autoptr (GArray) points = widget_points (self, mark);
  graphene_rect_t bounds;
  cairo_t *cr;

  if (!visible (self, bl_rect_grow (bl_rect_of (points), 4), &bounds)
      || (mark->ink == BL_INK_QUIET && !on_sheet (self, &bounds)))
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  draw_line (cr, mark, points);
  cairo_destroy (cr);
}

void
bl_canvas_draw_lines (BlCanvas *self, cairo_t *cr, const BlMarks *marks)
{
  for (guint i = 0; i < marks->items->len; i++)
    {
      const BlMark *mark = &g_array_index (marks->items, BlMark, i);
      g_autoptr (GArray) points = NULL;
      graphene_rect_t bounds;
      BlRect box;

      if (mark->kind != BL_MARK_LINE && mark->kind != BL_MARK_RING)
        continue;
      points = widget_points (self, mark);
      box = bl_rect_grow (bl_rect_of (points), 4);
      bounds = GRAPHENE_RECT_INIT ((float)box.x0, (float)box.y0, (float)(box.x1 - box.x0),
                                   (float)(box.y1 - box.y0));
      if (mark->ink == BL_INK_QUIET && !on_sheet (self, &bounds))
        continue;
      cairo_save (cr);
      cairo_rectangle (cr, floorf (bounds.origin.x), floorf (bounds.origin.y),
                       ceilf (bounds.size.width) + 1, ceilf (bounds.size.height) + 1);
      cairo_clip (cr);
      draw_line (cr, mark, points);
      cairo_restore (cr);
    }
}

static void
snapshot_handle (BlCanvas *self, GtkSnapshot *snapshot, const BlMark *mark)
{
  BlPoint p = widget_point (self, bl_points_at (mark->points, 0));
  float r = mark->kind == BL_MARK_CORNER ? 4.5f : 5, corner = mark->kind == BL_MARK_CORNER ? 1 : 5;
  graphene_rect_t rect = GRAPHENE_RECT_INIT ((float) p.x - r, (float) p.y - r, 2 * r, 2 * r);
  graphene_rect_t bounds;
  GskRoundedRect outline;
  GdkRGBA color = inks[mark->ink];
  GdkRGBA fill = mark->ink == BL_INK_SELECTED ? color : casing;

  if (!visible (self, (BlRect) { p.x - r, p.y - r, p.x + r, p.y + r }, &bounds))
    return;
  fill.alpha = 1;
  gsk_rounded_rect_init_from_rect (&outline, &rect, corner);
  gtk_snapshot_push_rounded_clip (snapshot, &outline);
  gtk_snapshot_append_color (snapshot, &fill, &rect);
  gtk_snapshot_pop (snapshot);
  gtk_snapshot_append_border (snapshot, &outline, (float[4]) { 2, 2, 2, 2 },
                              (GdkRGBA[4]) { color, color, color, color });
}

static void
snapshot_words (BlCanvas *self, GtkSnapshot *snapshot, const BlMark *mark)
{
  BlPoint p = widget_point (self, bl_points_at (mark->points, 0));
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), mark->text);
  GdkRGBA paper = casing, ink = inks[mark->ink];
  graphene_rect_t rect;
  GskRoundedRect outline;
  int w, h;
  double x, y;

  pango_layout_get_pixel_size (layout, &w, &h);
  x = p.x + 12;
  y = p.y - h - 12;
  x = CLAMP (x, 6, MAX (6, gtk_widget_get_width (GTK_WIDGET (self)) - w - 14));
  y = CLAMP (y, 4, MAX (4, gtk_widget_get_height (GTK_WIDGET (self)) - h - 6));
  rect = GRAPHENE_RECT_INIT ((float) x - 6, (float) y - 2, (float) w + 12, (float) h + 4);
  paper.alpha = 0.95f;
  ink.alpha = 1;
  gsk_rounded_rect_init_from_rect (&outline, &rect, 4);
  gtk_snapshot_push_rounded_clip (snapshot, &outline);
  gtk_snapshot_append_color (snapshot, &paper, &rect);
  gtk_snapshot_pop (snapshot);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) round (x), (float) round (y)));
  gtk_snapshot_append_layout (snapshot, layout, &ink);
  gtk_snapshot_restore (snapshot);
}

/* Widget pixels a metre at a point of the ground. */
static double
pixels_per_metre (BlCanvas *self, BlPoint plan)
{
  double zoom = bl_canvas_get_zoom (self) / gtk_widget_get_scale_factor (GTK_WIDGET (self));
  const BlCamera *camera;
  double metres;

  if (bl_board_get_view (self->board) == BL_VIEW_PLAN)
    return zoom;
  camera = bl_model_camera (bl_board_get_model (self->board));
  metres = camera != NULL ? bl_camera_metres_per_pixel (camera, plan) : 0;
  return metres > 0 ? zoom / metres : 0;
}

static void
snapshot_ghost (BlCanvas *self, GtkSnapshot *snapshot, const BlMark *mark)
{
  BlPoint p = widget_point (self, bl_points_at (mark->points, 0));
  BlMoment moment = bl_board_get_moment (self->board);
  BlLook look
      = bl_season_look (&bl_board_get_model (self->board)->site, mark->plant, NULL, moment);
  BlFigureLight light = { 0.3, 1, { 1, 1, 1, 1 } };
  double k = pixels_per_metre (self, mark->plan);
  gboolean plan = bl_board_get_view (self->board) == BL_VIEW_PLAN;
  double r = mark->plant->spread / 2;
  BlRect box = plan ? (BlRect) { -r, -r, r, r } : bl_figure_box (mark->plant, &look);
  graphene_rect_t bounds;
  cairo_t *cr;

  box = (BlRect) { p.x + box.x0 * k, p.y + box.y0 * k, p.x + box.x1 * k, p.y + box.y1 * k };
  if (k <= 0 || !visible (self, bl_rect_grow (box, 2), &bounds))
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  cairo_push_group (cr);
  cairo_translate (cr, p.x, p.y);
  cairo_scale (cr, k, k);
  if (plan)
    bl_symbol_draw (cr, mark->plant, &look, r, 7, k, FALSE);
  else
    bl_figure_draw (cr, mark->plant, &look, 7, &light, k);
  cairo_pop_group_to_source (cr);
  cairo_paint_with_alpha (cr, 0.8);
  cairo_destroy (cr);
}

void
bl_canvas_snapshot_lines (BlCanvas *self, GtkSnapshot *snapshot, const BlMarks *marks)
{
  for (guint i = 0; i < marks->items->len; i++)
    {
      const BlMark *mark = &g_array_index (marks->items, BlMark, i);

      if (mark->kind == BL_MARK_GHOST)
        snapshot_ghost (self, snapshot, mark);
      else if (mark->kind == BL_MARK_LINE || mark->kind == BL_MARK_RING)
        snapshot_line (self, snapshot, mark);
    }
}

void
bl_canvas_snapshot_handles (BlCanvas *self, GtkSnapshot *snapshot, const BlMarks *marks)
{
  for (int words = 0; words < 2; words++)
    for (guint i = 0; i < marks->items->len; i++)
      {
        const BlMark *mark = &g_array_index (marks->items, BlMark, i);

        if (words && mark->kind == BL_MARK_WORDS)
          snapshot_words (self, snapshot, mark);
        else if (!words && (mark->kind == BL_MARK_DOT || mark->kind == BL_MARK_CORNER))
          snapshot_handle (self, snapshot, mark);
      }
}

void
bl_canvas_snapshot_marks (BlCanvas *self, GtkSnapshot *snapshot, const BlMarks *marks)
{
  bl_canvas_snapshot_lines (self, snapshot, marks);
  bl_canvas_snapshot_handles (self, snapshot, marks);
}
