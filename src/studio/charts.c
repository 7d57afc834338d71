/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The charts of the shown alternative in a window of their own: flowers through the year, heights
 * from the viewing side, the balance of colours. */

#include "config.h"

#include "draw/chart.h"
#include "studio/charts.h"
#include "studio/form.h"

#include <glib/gi18n.h>

#define WIDTH 760
#define ROW 24

typedef enum { CHART_BLOOM, CHART_HEIGHTS, CHART_COLORS } Chart;

typedef struct
{
  BlBoard *board; /* borrowed: the window goes when its parent does */
  GtkWidget *areas[3];
} Charts;

static void
paint (Chart chart, cairo_t *cr, const BlLayout *layout, BlMoment moment, double width,
       double height)
{
  const char *names[] = { _ ("January"), _ ("February"), _ ("March"), _ ("April"), _ ("May"),
                          _ ("June"), _ ("July"), _ ("August"), _ ("September"), _ ("October"),
                          _ ("November"), _ ("December") };
  char *initials[12];
  BlChartWords words = { .gap = _ ("Shaded: a month without flowers.") };

  for (int i = 0; i < 12; i++)
    initials[i] = g_utf8_substring (names[i], 0, 1);
  words.initials = (const char *const *) initials;
  if (chart == CHART_BLOOM)
    bl_chart_bloom (cr, layout, width, ROW, moment.month, &words);
  else if (chart == CHART_HEIGHTS)
    bl_chart_heights (cr, layout, moment, width, height, &words);
  else
    bl_chart_colors (cr, layout, width, height, &words);
  for (int i = 0; i < 12; i++)
    g_free (initials[i]);
}

static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Charts *self = g_object_get_data (G_OBJECT (area), "charts");
  BlLayout *layout = bl_board_get_layout (self->board);

  /* On paper also in a dark window: the colours are those of the plants. */
  cairo_set_source_rgb (cr, 0.992, 0.988, 0.976);
  cairo_paint (cr);
  if (layout == NULL)
    return;
  cairo_translate (cr, 12, 10);
  paint ((Chart) GPOINTER_TO_INT (data), cr, layout, bl_board_get_moment (self->board), width - 24,
         height - 20);
}

static void
refresh (Charts *self)
{
  BlLayout *layout = bl_board_get_layout (self->board);

  gtk_drawing_area_set_content_height (
      GTK_DRAWING_AREA (self->areas[CHART_BLOOM]),
      20 + (layout != NULL ? (int) bl_chart_bloom_height (layout, ROW) : 60));
  for (int i = 0; i < 3; i++)
    gtk_widget_queue_draw (self->areas[i]);
}

static void
changed_cb (BlBoard *board, guint what, GtkWidget *window)
{
  refresh (g_object_get_data (G_OBJECT (window), "charts"));
}

static void
add_chart (Charts *self, GtkWidget *box, Chart chart, const char *title, int height)
{
  GtkWidget *area = gtk_drawing_area_new ();

  self->areas[chart] = area;
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), WIDTH);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), height);
  g_object_set_data (G_OBJECT (area), "charts", self);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_cb, GINT_TO_POINTER (chart), NULL);
  bl_form_call (area, title);
  gtk_box_append (GTK_BOX (box), bl_form_text (title, "heading"));
  gtk_box_append (GTK_BOX (box), area);
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  gtk_window_close (GTK_WINDOW (widget));
  return TRUE;
}

GtkWidget *
bl_charts_window_new (GtkWindow *parent, BlBoard *board)
{
  GtkWidget *window = gtk_window_new (), *scroller = gtk_scrolled_window_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkEventController *keys = gtk_shortcut_controller_new ();
  Charts *self = g_new0 (Charts, 1);

  self->board = board;
  g_object_set_data_full (G_OBJECT (window), "charts", self, g_free);
  gtk_window_set_title (GTK_WINDOW (window), _ ("Charts"));
  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_window_set_default_size (GTK_WINDOW (window), WIDTH + 60, 760);
  gtk_widget_add_css_class (window, "studio");
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                        gtk_callback_action_new (escape_cb, NULL, NULL)));
  gtk_widget_add_controller (window, keys);
  gtk_widget_set_margin_start (box, 16);
  gtk_widget_set_margin_end (box, 16);
  gtk_widget_set_margin_top (box, 12);
  gtk_widget_set_margin_bottom (box, 16);
  add_chart (self, box, CHART_BLOOM, _ ("In flower through the year"), 200);
  add_chart (self, box, CHART_HEIGHTS, _ ("Heights from the viewing side"), 260);
  add_chart (self, box, CHART_COLORS, _ ("Colours by month"), 190);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), box);
  gtk_window_set_child (GTK_WINDOW (window), scroller);
  g_signal_connect_object (board, "changed", G_CALLBACK (changed_cb), window, 0);
  refresh (self);
  return window;
}
