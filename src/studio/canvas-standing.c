/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas's standing marks (bed lines, knowns, the selection) kept between frames: a few lines as
 * they are, many (the rings of a large drift) in one picture that moves with what is seen. */

#include "config.h"

#include "studio/canvas-private.h"

#define FEW 24     /* lines drawn one by one */
#define AROUND 256 /* widget pixels beyond the canvas that the picture holds */

void
bl_canvas_drop_standing (BlCanvas *self)
{
  g_clear_pointer (&self->standing, bl_marks_free);
  g_clear_pointer (&self->standing_node, gsk_render_node_unref);
  g_clear_object (&self->standing_texture);
}

static guint
count_lines (const BlMarks *marks)
{
  guint n = 0;

  for (guint i = 0; i < marks->items->len; i++)
    {
      const BlMark *mark = &g_array_index (marks->items, BlMark, i);

      n += mark->kind == BL_MARK_LINE || mark->kind == BL_MARK_RING;
    }
  return n;
}

/* Where the lines lie, cut to what is near the canvas; FALSE when nothing is. */
static gboolean
lines_bounds (BlCanvas *self, graphene_rect_t *bounds)
{
  graphene_rect_t near
      = GRAPHENE_RECT_INIT (-AROUND, -AROUND,
                            (float)gtk_widget_get_width (GTK_WIDGET (self)) + 2 * AROUND,
                            (float)gtk_widget_get_height (GTK_WIDGET (self)) + 2 * AROUND);
  BlRect box = BL_RECT_EMPTY;

  for (guint i = 0; i < self->standing->items->len; i++)
    {
      const BlMark *mark = &g_array_index (self->standing->items, BlMark, i);
      BlRect own;
      double x, y;

      if (mark->kind != BL_MARK_LINE && mark->kind != BL_MARK_RING)
        continue;
      own = bl_rect_of (mark->points);
      for (int k = 0; k < 2; k++)
        {
          bl_canvas_from_document (self, k ? BL_POINT (own.x1, own.y1) : BL_POINT (own.x0, own.y0),
                                   &x, &y);
          if (isfinite (x) && isfinite (y))
            box = bl_rect_union (box, (BlRect){ x, y, x, y });
        }
    }
  if (bl_rect_is_empty (box))
    return FALSE;
  box = bl_rect_grow (box, 4);
  *bounds = GRAPHENE_RECT_INIT ((float)floor (box.x0), (float)floor (box.y0),
                                (float)(ceil (box.x1) - floor (box.x0)),
                                (float)(ceil (box.y1) - floor (box.y0)));
  return graphene_rect_intersection (bounds, &near, bounds);
}

static void
draw_picture (BlCanvas *self)
{
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self)), width, height, stride;
  cairo_surface_t *surface;
  g_autoptr (GBytes) bytes = NULL;
  cairo_t *cr;

  g_clear_object (&self->standing_texture);
  self->standing_viewport = *bl_canvas_viewport (self);
  if (!lines_bounds (self, &self->standing_bounds))
    return;
  width = (int)self->standing_bounds.size.width * sf;
  height = (int)self->standing_bounds.size.height * sf;
  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cr = cairo_create (surface);
  cairo_scale (cr, sf, sf);
  cairo_translate (cr, -self->standing_bounds.origin.x, -self->standing_bounds.origin.y);
  bl_canvas_draw_lines (self, cr, self->standing);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  stride = cairo_image_surface_get_stride (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface),
                                      (gsize)stride * (gsize)height,
                                      (GDestroyNotify)cairo_surface_destroy, surface);
  self->standing_texture
      = gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, (gsize)stride);
}

/* The picture, moved and, while the zoom still changes, stretched with what it stands on. */
static void
snapshot_picture (BlCanvas *self, GtkSnapshot *snapshot)
{
  const BlViewport *now = bl_canvas_viewport (self), *then = &self->standing_viewport;
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double f = now->zoom / then->zoom;
  graphene_rect_t r = self->standing_bounds;

  if (self->standing_texture == NULL || fabs (now->ox - then->ox) > AROUND * sf
      || fabs (now->oy - then->oy) > AROUND * sf)
    if (f == 1 || self->standing_texture == NULL)
      {
        draw_picture (self);
        r = self->standing_bounds;
        f = 1;
      }
  if (self->standing_texture == NULL)
    return;
  r = GRAPHENE_RECT_INIT ((float)((r.origin.x - then->ox / sf) * f + now->ox / sf),
                          (float)((r.origin.y - then->oy / sf) * f + now->oy / sf),
                          (float)(r.size.width * f), (float)(r.size.height * f));
  gtk_snapshot_append_texture (snapshot, self->standing_texture, &r);
}

static void
snapshot_node (BlCanvas *self, GtkSnapshot *snapshot)
{
  const BlViewport *viewport = bl_canvas_viewport (self);

  if (self->standing_node == NULL
      || !bl_viewport_equal (&self->standing_viewport, viewport))
    {
      GtkSnapshot *own = gtk_snapshot_new ();

      g_clear_pointer (&self->standing_node, gsk_render_node_unref);
      bl_canvas_snapshot_lines (self, own, self->standing);
      self->standing_node = gtk_snapshot_free_to_node (own);
      self->standing_viewport = *viewport;
    }
  if (self->standing_node != NULL)
    gtk_snapshot_append_node (snapshot, self->standing_node);
}

void
bl_canvas_snapshot_standing (BlCanvas *self, GtkSnapshot *snapshot)
{
  const BlViewport *viewport = bl_canvas_viewport (self);
  gboolean stretched = self->settle != 0 && self->standing_texture != NULL
                       && self->standing_viewport.view == viewport->view;

  if (self->board == NULL)
    return;
  if (self->standing == NULL || (self->standing_viewport.zoom != viewport->zoom && !stretched))
    {
      bl_canvas_drop_standing (self);
      self->standing = bl_board_standing_marks (self->board, bl_canvas_slack (self));
    }
  if (count_lines (self->standing) > FEW)
    snapshot_picture (self, snapshot);
  else
    snapshot_node (self, snapshot);
  bl_canvas_snapshot_handles (self, snapshot, self->standing);
}
