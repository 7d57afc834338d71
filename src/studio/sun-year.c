/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Twelve columns: mean hours of direct sun over a bed in each month. */

#include "config.h"

#include "studio/sun-year.h"

#include "draw/sun-layer.h"

#include <glib/gi18n.h>
#include <math.h>

#define LETTERS_HEIGHT 15
#define FIGURES_HEIGHT 13

struct _BlSunYear
{
  GtkWidget parent_instance;

  double months[12], part, full;
};

G_DEFINE_FINAL_TYPE (BlSunYear, bl_sun_year, GTK_TYPE_WIDGET)

static char *
month_name (int month)
{
  g_autoptr (GDateTime) date = g_date_time_new_utc (2025, month + 1, 15, 12, 0, 0);

  return g_date_time_format (date, "%B");
}

void
bl_sun_year_set (BlSunYear *self, const double months[12], double part, double full)
{
  g_autoptr (GString) words = g_string_new (NULL);

  memcpy (self->months, months, sizeof self->months);
  self->part = part;
  self->full = full;
  for (int i = 0; i < 12; i++)
    {
      g_autofree char *name = month_name (i);

      /* Translators: a month and its hours of direct sun a day. */
      g_string_append_printf (words, _("%s %.1f h"), name, months[i]);
      g_string_append (words, i < 11 ? "\n" : "");
    }
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), words->str);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Hours of direct sun by month"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words->str, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
put_small (GtkWidget *widget, GtkSnapshot *snapshot, double x, double y, const char *text,
           const GdkRGBA *ink)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, NULL);
  g_autofree char *markup = g_markup_printf_escaped ("<span size=\"x-small\">%s</span>", text);
  int width, height;

  pango_layout_set_markup (layout, markup, -1);
  pango_layout_get_pixel_size (layout, &width, &height);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT ((float) round (x - width / 2.0), (float) y));
  gtk_snapshot_append_layout (snapshot, layout, ink);
  gtk_snapshot_restore (snapshot);
}

static void
draw_columns (BlSunYear *self, cairo_t *cr, double width, double top, double bottom,
              const GdkRGBA *ink)
{
  double lines[] = { self->part, self->full };
  double cell = width / 12, unit = (bottom - top) / BL_SUN_MOST;

  for (int i = 0; i < 12; i++)
    {
      BlColor c = bl_sun_color (self->months[i]);
      double height = MIN (self->months[i], BL_SUN_MOST) * unit;

      cairo_rectangle (cr, round (i * cell) + 2, bottom - height, round (cell) - 4, height);
      cairo_set_source_rgb (cr, c.r, c.g, c.b);
      cairo_fill_preserve (cr);
      cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, 0.35);
      cairo_set_line_width (cr, 0.8);
      cairo_stroke (cr);
    }
  cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, 0.55);
  cairo_set_line_width (cr, 1);
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      double y = floor (bottom - MIN (lines[i], BL_SUN_MOST) * unit) + 0.5;

      cairo_set_dash (cr, (double[]){ 2, 3 }, 2, 0);
      cairo_move_to (cr, 0, y);
      cairo_line_to (cr, width, y);
      cairo_stroke (cr);
    }
}

static void
bl_sun_year_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BlSunYear *self = BL_SUN_YEAR (widget);
  double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  double bottom = height - LETTERS_HEIGHT, top = FIGURES_HEIGHT + 1, cell = width / 12;
  GdkRGBA ink;
  cairo_t *cr;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  cr = gtk_snapshot_append_cairo (
      snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  draw_columns (self, cr, width, top, bottom, &ink);
  cairo_destroy (cr);
  for (int i = 0; i < 12; i++)
    {
      g_autofree char *name = month_name (i);
      g_autofree char *letter = g_utf8_substring (name, 0, 1);
      g_autofree char *hours = g_strdup_printf ("%.0f", self->months[i]);
      double y = bottom - MIN (self->months[i], BL_SUN_MOST) / BL_SUN_MOST * (bottom - top);

      put_small (widget, snapshot, (i + 0.5) * cell, bottom + 1, letter, &ink);
      put_small (widget, snapshot, (i + 0.5) * cell, y - FIGURES_HEIGHT - 1, hours, &ink);
    }
}

static void
bl_sun_year_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                     int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 168 : 92;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 260 : 92;
}

static void
bl_sun_year_class_init (BlSunYearClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = bl_sun_year_snapshot;
  widget_class->measure = bl_sun_year_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
bl_sun_year_init (BlSunYear *self)
{
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
}

GtkWidget *
bl_sun_year_new (void)
{
  return g_object_new (BL_TYPE_SUN_YEAR, NULL);
}
