/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The loupe: the photo around the pointer, pixel by pixel, with what it snaps to. */

#include "config.h"

#include "studio/canvas-private.h"

#define RADIUS 76      /* widget pixels */
#define AWAY 22        /* ... between its rim and the pointer */
#define MAGNIFIED 7.0  /* widget pixels a photo pixel */

/* Left below the pointer, as the words of a hand are right above it; flipped where the canvas ends. */
static BlPoint
middle_of (BlCanvas *self)
{
  BlPoint p = BL_POINT (0, 0);
  double w = gtk_widget_get_width (GTK_WIDGET (self));
  double h = gtk_widget_get_height (GTK_WIDGET (self));
  double away = (RADIUS + AWAY) * M_SQRT1_2 + 6;

  bl_canvas_from_document (self, self->hand->at, &p.x, &p.y);
  return BL_POINT (p.x - away - RADIUS > 0 || p.x + away + RADIUS > w ? p.x - away : p.x + away,
                   p.y + away + RADIUS < h || p.y - away - RADIUS < 0 ? p.y + away : p.y - away);
}

/* A copy of the few pixels around @at; @x0, @y0 is its corner in the photo. */
static cairo_surface_t *
cut_out (const BlPixels *pixels, BlPoint at, int reach, int *x0, int *y0)
{
  int side = 2 * reach + 1;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, side, side);
  guchar *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);

  *x0 = (int) floor (at.x) - reach;
  *y0 = (int) floor (at.y) - reach;
  for (int row = 0; row < side; row++)
    for (int column = 0; column < side; column++)
      {
        int x = *x0 + column, y = *y0 + row;

        if (x >= 0 && y >= 0 && x < pixels->width && y < pixels->height)
          memcpy (data + row * stride + column * 4,
                  pixels->data + (gsize) y * (gsize) pixels->stride + (gsize) x * 4, 4);
      }
  cairo_surface_mark_dirty (surface);
  return surface;
}

static void
paint_pixels (cairo_t *cr, const BlPixels *pixels, BlPoint at)
{
  int x0, y0;
  cairo_surface_t *surface = cut_out (pixels, at, (int) ceil (RADIUS / MAGNIFIED) + 1, &x0, &y0);

  cairo_save (cr);
  cairo_scale (cr, MAGNIFIED, MAGNIFIED);
  cairo_set_source_surface (cr, surface, x0 - at.x, y0 - at.y);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_NEAREST);
  cairo_paint (cr);
  cairo_restore (cr);
  cairo_surface_destroy (surface);
}

/* A line that is seen on light and on dark. */
static void
stroke_cased (cairo_t *cr, double width, double r, double g, double b)
{
  cairo_set_source_rgba (cr, 1, 0.99, 0.96, 0.85);
  cairo_set_line_width (cr, width + 2);
  cairo_stroke_preserve (cr);
  cairo_set_source_rgb (cr, r, g, b);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

static void
paint_cross (cairo_t *cr)
{
  for (int i = 0; i < 4; i++)
    {
      double c = cos (i * G_PI_2), s = sin (i * G_PI_2);

      cairo_move_to (cr, 5 * c, 5 * s);
      cairo_line_to (cr, 18 * c, 18 * s);
    }
  stroke_cased (cr, 1, 0.17, 0.16, 0.14);
}

static void
paint_snap (cairo_t *cr, const BlSnap *snap, BlPoint at)
{
  BlPoint p = bl_mul (bl_sub (snap->at, at), MAGNIFIED);

  if (snap->kind == BL_SNAP_NONE)
    return;
  cairo_new_sub_path (cr);
  cairo_arc (cr, p.x, p.y, snap->kind == BL_SNAP_CORNER ? 5 : 3.5, 0, 2 * G_PI);
  if (snap->kind == BL_SNAP_EDGE)
    {
      double c = cos (snap->direction), s = sin (snap->direction);

      cairo_move_to (cr, p.x - 16 * c, p.y - 16 * s);
      cairo_line_to (cr, p.x - 6 * c, p.y - 6 * s);
      cairo_move_to (cr, p.x + 6 * c, p.y + 6 * s);
      cairo_line_to (cr, p.x + 16 * c, p.y + 16 * s);
    }
  stroke_cased (cr, 1.8, 0.38, 0.27, 0.56);
}

void
bl_canvas_snapshot_loupe (BlCanvas *self, GtkSnapshot *snapshot)
{
  BlImage *photo = self->board != NULL ? bl_board_get_photo (self->board) : NULL;
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  graphene_rect_t bounds;
  BlPoint middle;
  cairo_t *cr;

  if (self->no_loupe || photo == NULL || self->hand == NULL || !self->hand->inside
      || self->panning || !bl_hand_aims (self->hand)
      || bl_canvas_viewport (self)->zoom / sf > MAGNIFIED / 2)
    return;
  middle = middle_of (self);
  bounds = GRAPHENE_RECT_INIT ((float) floor (middle.x) - RADIUS - 4,
                               (float) floor (middle.y) - RADIUS - 4, 2 * RADIUS + 8,
                               2 * RADIUS + 8);
  cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  cairo_translate (cr, floor (middle.x), floor (middle.y));
  cairo_arc (cr, 0, 0, RADIUS, 0, 2 * G_PI);
  cairo_set_source_rgb (cr, 0.89, 0.87, 0.82);
  cairo_fill_preserve (cr);
  cairo_save (cr);
  cairo_clip (cr);
  paint_pixels (cr, &photo->levels[0], self->hand->at);
  paint_cross (cr);
  paint_snap (cr, &self->hand->aim, self->hand->at);
  cairo_restore (cr);
  cairo_new_path (cr);
  cairo_arc (cr, 0, 0, RADIUS, 0, 2 * G_PI);
  stroke_cased (cr, 1.5, 0.12, 0.40, 0.34);
  cairo_destroy (cr);
}

void
bl_canvas_set_loupe (BlCanvas *self, gboolean shown)
{
  self->no_loupe = !shown;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
