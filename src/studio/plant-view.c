/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small pictures of a plant: its standing figure, its ribbon through the year. */

#include "config.h"

#include "base/units.h"
#include "draw/chart.h"
#include "draw/figure.h"
#include "studio/plant-view.h"

#include <glib/gi18n.h>

struct _BlFigureView
{
  GtkWidget parent_instance;

  int width, height;
  BlPlant *plant;
  BlZone zone;
  double month;
  GdkTexture *texture;
};

G_DEFINE_FINAL_TYPE (BlFigureView, bl_figure_view, GTK_TYPE_WIDGET)

static double
best_month (const BlPlant *plant, BlZone zone)
{
  double from, to, middle;

  if (!bl_plant_bloom (plant, zone, &from, &to))
    return 7;
  if (to < from)
    to += 12;
  middle = (from + to) / 2;
  return middle >= 13 ? middle - 12 : middle;
}

/* The figure is drawn once into a texture: list rows then cost nothing to scroll. */
static GdkTexture *
draw_figure (BlFigureView *self, int sf)
{
  BlMoment moment = { self->month > 0 ? self->month : best_month (self->plant, self->zone),
                      MAX (self->plant->years, 5) };
  BlLook look = bl_plant_look (self->plant, NULL, self->zone, moment);
  BlFigureLight light = { 0.35, 1, { 1, 1, 1, 1 } };
  BlRect box = bl_figure_box (self->plant, &look);
  /* Months are compared with one another: all to the scale of the grown plant. */
  double least = self->month > 0 ? 1 : 0;
  double w = MAX (box.x1 - box.x0, MAX (0.05, least * self->plant->spread));
  double h = MAX (box.y1 - box.y0, MAX (0.05, least * self->plant->height));
  double k = MIN ((self->width - 4) / w, (self->height - 4) / h) * sf;
  cairo_surface_t *surface
    = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, self->width * sf, self->height * sf);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (GBytes) bytes = NULL;
  int stride = cairo_image_surface_get_stride (surface);

  cairo_translate (cr, self->width * sf / 2.0 - (box.x0 + box.x1) / 2 * k,
                   self->height * sf - 2 * sf - box.y1 * k);
  cairo_scale (cr, k, k);
  bl_figure_draw (cr, self->plant, &look, 11, &light, k);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface),
                                      (gsize) stride * (gsize) (self->height * sf),
                                      (GDestroyNotify) cairo_surface_destroy, surface);
  return gdk_memory_texture_new (self->width * sf, self->height * sf, GDK_MEMORY_DEFAULT, bytes,
                                 (gsize) stride);
}

void
bl_figure_view_set (BlFigureView *self, BlPlant *plant, BlZone zone, double month)
{
  if (self->plant == plant && self->zone == zone && self->month == month)
    return;
  g_clear_pointer (&self->plant, bl_plant_unref);
  self->plant = plant != NULL ? bl_plant_ref (plant) : NULL;
  self->zone = zone;
  self->month = month;
  g_clear_object (&self->texture);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
bl_figure_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BlFigureView *self = BL_FIGURE_VIEW (widget);
  int w = gtk_widget_get_width (widget), h = gtk_widget_get_height (widget);
  int left = (w - self->width) / 2;

  if (self->plant == NULL)
    return;
  if (self->texture == NULL)
    self->texture = draw_figure (self, gtk_widget_get_scale_factor (widget));
  gtk_snapshot_append_texture (snapshot, self->texture,
    &GRAPHENE_RECT_INIT ((float) left, (float) (h - self->height),
                         (float) self->width, (float) self->height));
}

static void
bl_figure_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                        int *natural, int *minimum_baseline, int *natural_baseline)
{
  BlFigureView *self = BL_FIGURE_VIEW (widget);

  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? self->width : self->height;
}

static void
bl_figure_view_dispose (GObject *object)
{
  BlFigureView *self = BL_FIGURE_VIEW (object);

  g_clear_pointer (&self->plant, bl_plant_unref);
  g_clear_object (&self->texture);
  G_OBJECT_CLASS (bl_figure_view_parent_class)->dispose (object);
}

static void
bl_figure_view_class_init (BlFigureViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bl_figure_view_dispose;
  widget_class->snapshot = bl_figure_view_snapshot;
  widget_class->measure = bl_figure_view_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
bl_figure_view_init (BlFigureView *self)
{
}

GtkWidget *
bl_figure_view_new (int width, int height)
{
  BlFigureView *self = g_object_new (BL_TYPE_FIGURE_VIEW, NULL);

  self->width = width;
  self->height = height;
  return GTK_WIDGET (self);
}

/* The ribbon. */

struct _BlRibbonView
{
  GtkWidget parent_instance;

  BlPlant *plant;
  BlZone zone;
  double month;
};

G_DEFINE_FINAL_TYPE (BlRibbonView, bl_ribbon_view, GTK_TYPE_WIDGET)

void
bl_ribbon_view_set (BlRibbonView *self, BlPlant *plant, BlZone zone, double month)
{
  if (self->plant == plant && self->zone == zone && self->month == month)
    return;
  g_clear_pointer (&self->plant, bl_plant_unref);
  self->plant = plant != NULL ? bl_plant_ref (plant) : NULL;
  self->zone = zone;
  self->month = month;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
bl_ribbon_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BlRibbonView *self = BL_RIBBON_VIEW (widget);
  int w = gtk_widget_get_width (widget), h = gtk_widget_get_height (widget);
  BlSite record;
  cairo_t *cr;

  if (self->plant == NULL || w <= 0)
    return;
  /* The record's own months: no site, no hemisphere. */
  bl_site_init (&record);
  record.zone = self->zone;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) w, (float) h));
  bl_chart_ribbon (cr, self->plant, &record, w, h, self->month);
  cairo_destroy (cr);
}

static void
bl_ribbon_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                        int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 60 : 9;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 160 : 9;
}

static void
bl_ribbon_view_dispose (GObject *object)
{
  g_clear_pointer (&BL_RIBBON_VIEW (object)->plant, bl_plant_unref);
  G_OBJECT_CLASS (bl_ribbon_view_parent_class)->dispose (object);
}

static void
bl_ribbon_view_class_init (BlRibbonViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bl_ribbon_view_dispose;
  widget_class->snapshot = bl_ribbon_view_snapshot;
  widget_class->measure = bl_ribbon_view_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
bl_ribbon_view_init (BlRibbonView *self)
{
}

GtkWidget *
bl_ribbon_view_new (void)
{
  return g_object_new (BL_TYPE_RIBBON_VIEW, NULL);
}

/* Whole inches or centimetres for low things, feet or metres for tall ones. */
static char *
size_words (double metres, gboolean metric)
{
  if (metric)
    return metres < 1 ? g_strdup_printf (_ ("%.0f cm"), metres * 100)
                      : g_strdup_printf (_ ("%.1f m"), metres);
  return metres < 3 * BL_METRES_PER_FOOT
             ? g_strdup_printf (C_("on a card", "%.0f in"), metres / BL_METRES_PER_INCH)
             : g_strdup_printf (_ ("%.1f ft"), metres / BL_METRES_PER_FOOT);
}

char *
bl_plant_words (const BlPlant *plant, BlZone zone, gboolean metres)
{
  static const char *const months[]
      = { N_ ("Jan"), N_ ("Feb"), N_ ("Mar"), N_ ("Apr"), N_ ("May"), N_ ("Jun"),
          N_ ("Jul"), N_ ("Aug"), N_ ("Sep"), N_ ("Oct"), N_ ("Nov"), N_ ("Dec") };
  g_autofree char *tall = size_words (plant->height, metres);
  g_autofree char *wide = size_words (plant->spread, metres);
  GString *words = g_string_new (NULL);
  double from, to;

  g_string_append_printf (words, _("%s × %s"), tall, wide);
  if (bl_plant_bloom (plant, zone, &from, &to))
    g_string_append_printf (words, " · %s–%s", _(months[CLAMP ((int) from - 1, 0, 11)]),
                            _(months[CLAMP ((int) ceil (to) - 2, 0, 11)]));
  return g_string_free (words, FALSE);
}
