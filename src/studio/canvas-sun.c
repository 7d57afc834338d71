/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hours of sun over the canvas, and their key with the hours under the pointer. */

#include "config.h"

#include "draw/sun-layer.h"
#include "studio/canvas-private.h"
#include "studio/days.h"
#include "studio/sunshine.h"

#include <glib/gi18n.h>

#define KEY_WIDTH 300
#define KEY_HEIGHT 74
#define KEY_MARGIN 14
#define BAR_X 14
#define BAR_Y 30
#define BAR_HEIGHT 12

void
bl_canvas_drop_sun (BlCanvas *self)
{
  g_clear_pointer (&self->sun_node, gsk_render_node_unref);
}

static GskRenderNode *
paint (BlCanvas *self, const BlSunlight *sunlight)
{
  const BlViewport *viewport = bl_canvas_viewport (self);
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  gboolean plan = viewport->view == BL_VIEW_PLAN;
  const BlCamera *camera = plan ? NULL : bl_model_camera (bl_board_get_model (self->board));
  GtkSnapshot *own = gtk_snapshot_new ();
  graphene_rect_t all = GRAPHENE_RECT_INIT (0, 0, gtk_widget_get_width (GTK_WIDGET (self)),
                                            gtk_widget_get_height (GTK_WIDGET (self)));

  if (plan || camera != NULL)
    {
      cairo_t *cr = gtk_snapshot_append_cairo (own, &all);

      cairo_translate (cr, viewport->ox / sf, viewport->oy / sf);
      cairo_scale (cr, viewport->zoom / sf, viewport->zoom / sf);
      bl_sun_layer_paint (sunlight, cr, camera, viewport->zoom / sf, plan ? 0.80 : 0.66);
      cairo_destroy (cr);
    }
  return gtk_snapshot_free_to_node (own);
}

/* Hours under the pointer; NAN where it is over no bed. */
static double
hours_here (BlCanvas *self, const BlSunlight *sunlight)
{
  BlPoint document = bl_canvas_to_document (self, self->pointer.x, self->pointer.y), ground;
  const BlCamera *camera = bl_model_camera (bl_board_get_model (self->board));

  if (bl_canvas_viewport (self)->view == BL_VIEW_PLAN)
    return bl_sunlight_at (sunlight, document);
  if (camera == NULL || !bl_camera_to_ground (camera, document, &ground))
    return NAN;
  return bl_sunlight_at (sunlight, ground);
}

static void
put_text (BlCanvas *self, GtkSnapshot *snapshot, double x, double y, double align,
          const char *markup, const GdkRGBA *ink)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), NULL);
  int width, height;

  pango_layout_set_markup (layout, markup, -1);
  pango_layout_get_pixel_size (layout, &width, &height);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT ((float) round (x - align * width), (float) y));
  gtk_snapshot_append_layout (snapshot, layout, ink);
  gtk_snapshot_restore (snapshot);
}

static double
bar_x (double hours)
{
  return BAR_X + CLAMP (hours, 0, BL_SUN_MOST) / BL_SUN_MOST * (KEY_WIDTH - 2 * BAR_X);
}

/* The ramp with the lines between the classes and, where the pointer is over a bed, its hours. */
static void
draw_bar (GtkSnapshot *snapshot, const BlSunlight *sunlight, double here, const GdkRGBA *ink)
{
  double marks[] = { sunlight->rule.part_from, sunlight->rule.full_from };
  cairo_t *cr
      = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, KEY_WIDTH, KEY_HEIGHT));
  cairo_pattern_t *ramp = cairo_pattern_create_linear (bar_x (0), 0, bar_x (BL_SUN_MOST), 0);

  for (int i = 0; i <= 24; i++)
    {
      BlColor c = bl_sun_color (i * BL_SUN_MOST / 24);

      cairo_pattern_add_color_stop_rgb (ramp, i / 24.0, c.r, c.g, c.b);
    }
  cairo_rectangle (cr, BAR_X, BAR_Y, KEY_WIDTH - 2 * BAR_X, BAR_HEIGHT);
  cairo_set_source (cr, ramp);
  cairo_fill (cr);
  cairo_pattern_destroy (ramp);
  gdk_cairo_set_source_rgba (cr, ink);
  for (guint i = 0; i < G_N_ELEMENTS (marks); i++)
    {
      cairo_rectangle (cr, round (bar_x (marks[i])) - 0.5, BAR_Y - 3, 1.2, BAR_HEIGHT + 6);
      cairo_fill (cr);
    }
  if (isfinite (here))
    {
      cairo_move_to (cr, bar_x (here), BAR_Y + 1);
      cairo_rel_line_to (cr, -5, -7);
      cairo_rel_line_to (cr, 10, 0);
      cairo_close_path (cr);
      cairo_fill (cr);
    }
  cairo_destroy (cr);
}

static char *
title_of (const BlSunlight *sunlight, double here)
{
  g_autofree char *day = NULL;
  int month = 0, mday = 0;

  bl_day_split (sunlight->day, NULL, &month, &mday);
  day = bl_day_words (month, mday);
  if (isfinite (here))
    /* Translators: 21 June, and the hours of sun under the pointer. */
    return g_markup_printf_escaped (_("<b>%s</b> · %.1f h of direct sun here"), day, here);
  /* Translators: 21 June, and the hours of sun where nothing throws shade. */
  return g_markup_printf_escaped (_("<b>%s</b> · %.1f h of direct sun in the open"), day,
                                  sunlight->open_hours);
}

static void
snapshot_key (BlCanvas *self, GtkSnapshot *snapshot, const BlSunlight *sunlight)
{
  GdkRGBA paper = { 0.984f, 0.972f, 0.941f, 0.96f }, ink = { 0.17f, 0.16f, 0.15f, 1 };
  GdkRGBA line = { 0, 0, 0, 0.18f };
  double here = hours_here (self, sunlight);
  g_autofree char *title = title_of (sunlight, here);
  double full = sunlight->rule.full_from, part = sunlight->rule.part_from;
  struct { double from, to; const char *word; } classes[]
      = { { 0, part, _ ("shade") }, { part, full, _ ("part sun") },
          { full, BL_SUN_MOST, _ ("full sun") } };
  GskRoundedRect card;

  gsk_rounded_rect_init_from_rect (&card, &GRAPHENE_RECT_INIT (0, 0, KEY_WIDTH, KEY_HEIGHT), 6);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (
      snapshot,
      &GRAPHENE_POINT_INIT (KEY_MARGIN,
                            (float)(gtk_widget_get_height (GTK_WIDGET (self)) - KEY_HEIGHT
                                    - KEY_MARGIN)));
  gtk_snapshot_push_rounded_clip (snapshot, &card);
  gtk_snapshot_append_color (snapshot, &paper, &card.bounds);
  gtk_snapshot_pop (snapshot);
  gtk_snapshot_append_border (snapshot, &card, (float[4]){ 1, 1, 1, 1 },
                              (GdkRGBA[4]){ line, line, line, line });
  put_text (self, snapshot, BAR_X, 5, 0, title, &ink);
  draw_bar (snapshot, sunlight, here, &ink);
  for (guint i = 0; i < G_N_ELEMENTS (classes); i++)
    {
      g_autofree char *markup
          = g_markup_printf_escaped ("<span size=\"small\">%s</span>", classes[i].word);

      if (classes[i].to - classes[i].from >= 1.5)
        put_text (self, snapshot, (bar_x (classes[i].from) + bar_x (classes[i].to)) / 2,
                  BAR_Y + BAR_HEIGHT + 6, 0.5, markup, &ink);
      if (i > 0)
        {
          g_autofree char *hours
              = g_markup_printf_escaped ("<span size=\"small\"><b>%g</b></span>", classes[i].from);

          put_text (self, snapshot, bar_x (classes[i].from), BAR_Y + BAR_HEIGHT + 6, 0.5, hours,
                    &ink);
        }
    }
  gtk_snapshot_restore (snapshot);
}

void
bl_canvas_snapshot_sun (BlCanvas *self, GtkSnapshot *snapshot)
{
  const BlViewport *viewport = bl_canvas_viewport (self);
  const BlSunlight *sunlight;

  if (self->board == NULL || !bl_board_get_sun (self->board))
    return;
  sunlight = bl_board_get_sunlight (self->board, NULL);
  if (sunlight == NULL)
    return;
  if (self->sun_node == NULL || !bl_viewport_equal (&self->sun_viewport, viewport))
    {
      bl_canvas_drop_sun (self);
      self->sun_node = paint (self, sunlight);
      self->sun_viewport = *viewport;
    }
  if (self->sun_node != NULL)
    gtk_snapshot_append_node (snapshot, self->sun_node);
}

void
bl_canvas_snapshot_sun_key (BlCanvas *self, GtkSnapshot *snapshot)
{
  const BlSunlight *sunlight;

  if (self->board == NULL || !bl_board_get_sun (self->board))
    return;
  sunlight = bl_board_get_sunlight (self->board, NULL);
  if (sunlight != NULL)
    snapshot_key (self, snapshot, sunlight);
}
