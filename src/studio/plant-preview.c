/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant as it will be drawn: standing with a scale beside it, from above, and through the year. */

#include "config.h"

#include "studio/plant-preview.h"

#include "draw/figure.h"
#include "studio/form.h"
#include "studio/plant-field.h"
#include "studio/plant-view.h"

#include <glib/gi18n.h>
#include <math.h>

#define WIDE 250
#define STANDING 290
#define ABOVE 116
#define MARGIN 12.0

struct _BlPlantPreview
{
  GtkBox parent_instance;

  GtkWidget *name, *facts, *standing, *above, *ribbon, *month, *month_name;
  BlPlant *plant;
  BlUnits units;
  BlZone zone;
  gboolean stale;
};

G_DEFINE_FINAL_TYPE (BlPlantPreview, bl_plant_preview, GTK_TYPE_BOX)

static BlLook
look_of (BlPlantPreview *self)
{
  BlMoment moment = { gtk_range_get_value (GTK_RANGE (self->month)), MAX (self->plant->years * 2, 5) };

  return bl_plant_look (self->plant, NULL, self->zone, moment);
}

/* What is drawn is as high as a full grown one at most, so that a season does not change the scale. */
static double
scale_of (const BlPlant *plant, const BlRect *box, double width, double height)
{
  double tallest = MAX (plant->height, plant->cutout != NULL ? plant->cutout->height : 0);
  double widest = MAX (plant->spread, 0.8 * (box->x1 - box->x0));

  return MIN ((height - 2 * MARGIN) / MAX (tallest * 1.06, -box->y0),
              (width - 46 - MARGIN) / MAX (widest, 0.05));
}

/* Ticks by a step of 1, 2 or 5 units that leaves them apart. */
static double
step_of (double px_a_unit)
{
  static const double steps[] = { 0.1, 0.2, 0.5, 1, 2, 5, 10 };

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i] * px_a_unit >= 34)
      return steps[i];
  return 20;
}

static void
draw_scale (BlPlantPreview *self, cairo_t *cr, double k, double ground, const GdkRGBA *ink)
{
  gboolean feet = self->units == BL_UNITS_FEET;
  double unit = feet ? BL_METRES_PER_FOOT : 1, step = step_of (k * unit);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (self->standing, NULL);

  cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, 0.45);
  cairo_set_line_width (cr, 1);
  for (guint i = 0; ground - i * step * unit * k > MARGIN / 2; i++)
    {
      double at = i * step;
      double y = floor (ground - at * unit * k) + 0.5;
      g_autofree char *text = g_strdup_printf (feet ? _("%g ft") : _("%g m"), at);

      cairo_move_to (cr, 38, y);
      cairo_line_to (cr, 44, y);
      cairo_stroke (cr);
      pango_layout_set_text (layout, text, -1);
      cairo_move_to (cr, 0, y - 9);
      pango_cairo_show_layout (cr, layout);
    }
}

static void
draw_standing (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  BlPlantPreview *self = data;
  BlFigureLight light = { 0.35, 1, { 1, 1, 1, 1 } };
  double ground = height - MARGIN, k;
  GdkRGBA ink;
  BlLook look;
  BlRect box;

  if (self->plant == NULL)
    return;
  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (area)), &ink);
  look = look_of (self);
  box = bl_figure_box (self->plant, &look);
  k = scale_of (self->plant, &box, width, height);
  draw_scale (self, cr, k, ground, &ink);
  cairo_move_to (cr, 44, floor (ground) + 0.5);
  cairo_line_to (cr, width, floor (ground) + 0.5);
  cairo_stroke (cr);
  if (self->stale)
    cairo_push_group (cr);
  cairo_save (cr);
  cairo_translate (cr, 44 + (width - 44) / 2.0, ground);
  cairo_scale (cr, k, k);
  bl_figure_draw (cr, self->plant, &look, 11, &light, k);
  cairo_restore (cr);
  if (self->stale)
    {
      cairo_pop_group_to_source (cr);
      cairo_paint_with_alpha (cr, 0.35);
    }
}

static void
draw_above (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  BlPlantPreview *self = data;
  double half = MIN (width, height) / 2.0 - 3;
  BlLook look;

  if (self->plant == NULL)
    return;
  look = look_of (self);
  if (self->stale)
    cairo_push_group (cr);
  cairo_translate (cr, width / 2.0, height / 2.0);
  bl_symbol_draw (cr, self->plant, &look, half, 4, 1, FALSE);
  if (self->stale)
    {
      cairo_pop_group_to_source (cr);
      cairo_paint_with_alpha (cr, 0.35);
    }
}

static void
month_moved_cb (BlPlantPreview *self)
{
  double month = gtk_range_get_value (GTK_RANGE (self->month));

  gtk_label_set_text (GTK_LABEL (self->month_name),
                      _(bl_field_month_titles ()[CLAMP ((int) month, 1, 12)]));
  if (self->plant != NULL)
    bl_ribbon_view_set (BL_RIBBON_VIEW (self->ribbon), self->plant, self->zone, month);
  gtk_widget_queue_draw (self->standing);
  gtk_widget_queue_draw (self->above);
}

void
bl_plant_preview_set (BlPlantPreview *self, BlPlant *plant)
{
  gboolean first = self->plant == NULL;
  double from, to;

  self->stale = plant == NULL;
  if (plant != NULL)
    {
      g_autofree char *markup = bl_plant_name_markup (plant);
      g_autofree char *facts = bl_plant_words (plant, self->zone, self->units == BL_UNITS_METRES);

      bl_plant_ref (plant);
      g_clear_pointer (&self->plant, bl_plant_unref);
      self->plant = plant;
      gtk_label_set_markup (GTK_LABEL (self->name), markup);
      gtk_label_set_text (GTK_LABEL (self->facts), facts);
      if (first && bl_plant_bloom (plant, self->zone, &from, &to))
        gtk_range_set_value (GTK_RANGE (self->month), fmod ((from + to) / 2 - 1, 12) + 1);
    }
  month_moved_cb (self);
}

static void
bl_plant_preview_dispose (GObject *object)
{
  BlPlantPreview *self = BL_PLANT_PREVIEW (object);

  g_clear_pointer (&self->plant, bl_plant_unref);
  G_OBJECT_CLASS (bl_plant_preview_parent_class)->dispose (object);
}

static void
bl_plant_preview_class_init (BlPlantPreviewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bl_plant_preview_dispose;
}

static GtkWidget *
area_of (BlPlantPreview *self, int height, GtkDrawingAreaDrawFunc draw)
{
  GtkWidget *area = gtk_drawing_area_new ();

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), WIDE);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), height);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw, self, NULL);
  gtk_widget_add_css_class (area, "facts");
  return area;
}

static void
bl_plant_preview_init (BlPlantPreview *self)
{
  GtkBox *box = GTK_BOX (self);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (box, 8);
  gtk_widget_set_margin_top (GTK_WIDGET (self), 8);
  self->name = bl_form_text ("", "botanical");
  self->facts = bl_form_text ("", "facts");
  self->standing = area_of (self, STANDING, draw_standing);
  self->above = area_of (self, ABOVE, draw_above);
  bl_form_call (self->standing, _("The plant as it stands"));
  bl_form_call (self->above, _("The plant on the plan"));
  self->ribbon = bl_ribbon_view_new ();
  self->month = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 1, 12.95, 0.25);
  gtk_range_set_value (GTK_RANGE (self->month), 7.5);
  bl_form_call (self->month, _("Month of the preview"));
  self->month_name = bl_form_text ("", "dim");
  g_signal_connect_swapped (self->month, "value-changed", G_CALLBACK (month_moved_cb), self);
  gtk_widget_set_margin_start (self->ribbon, 8);
  gtk_widget_set_margin_end (self->ribbon, 8);
  gtk_box_append (box, self->name);
  gtk_box_append (box, self->facts);
  gtk_box_append (box, self->standing);
  gtk_box_append (box, self->above);
  gtk_box_append (box, self->ribbon);
  gtk_box_append (box, self->month);
  gtk_box_append (box, self->month_name);
  month_moved_cb (self);
}

GtkWidget *
bl_plant_preview_new (BlUnits units, BlZone zone)
{
  BlPlantPreview *self = g_object_new (BL_TYPE_PLANT_PREVIEW, NULL);

  self->units = units;
  self->zone = zone;
  return GTK_WIDGET (self);
}
