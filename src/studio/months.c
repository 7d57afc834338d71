/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The twelve months with what flowers in them; a slider for assistive technology. */

#include "config.h"

#include "studio/strips.h"

#include <glib/gi18n.h>

#define LETTERS_HEIGHT 20

typedef struct
{
  double from, to;
  BlColor color;
  guint count;
} Ribbon;

struct _BlMonths
{
  GtkWidget parent_instance;

  double month;
  GArray *ribbons;      /* Ribbon, most plants first */
  PangoLayout *letters[12];
};

G_DEFINE_FINAL_TYPE (BlMonths, bl_months, GTK_TYPE_WIDGET)

static guint moved_signal;

static const char *
name_of (int month)
{
  static const char *const names[]
      = { N_ ("January"),   N_ ("February"), N_ ("March"),    N_ ("April"),
          N_ ("May"),       N_ ("June"),     N_ ("July"),     N_ ("August"),
          N_ ("September"), N_ ("October"),  N_ ("November"), N_ ("December") };

  return _(names[CLAMP (month, 0, 11)]);
}

static void
tell (BlMonths *self)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
    GTK_ACCESSIBLE_PROPERTY_VALUE_NOW, floor (self->month),
    GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, name_of ((int) self->month - 1), -1);
}

void
bl_months_set_month (BlMonths *self, double month)
{
  if (self->month == month)
    return;
  self->month = month;
  tell (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static int
compare_ribbons (gconstpointer a, gconstpointer b)
{
  return (int) ((const Ribbon *) b)->count - (int) ((const Ribbon *) a)->count;
}

void
bl_months_set_layout (BlMonths *self, BlLayout *layout)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  g_array_set_size (self->ribbons, 0);
  for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);
      gpointer at;
      Ribbon ribbon = { 0 };

      if (g_hash_table_lookup_extended (seen, placed->plant->slug, NULL, &at))
        {
          if (GPOINTER_TO_INT (at) >= 0)
            g_array_index (self->ribbons, Ribbon, GPOINTER_TO_INT (at)).count++;
          continue;
        }
      if (!bl_season_bloom (&layout->model->site, placed->plant, &ribbon.from, &ribbon.to)
          || placed->plant->n_flower_colors == 0)
        {
          g_hash_table_insert (seen, placed->plant->slug, GINT_TO_POINTER (-1));
          continue;
        }
      ribbon.color = placed->plant->flower_colors[0];
      ribbon.count = 1;
      g_hash_table_insert (seen, placed->plant->slug, GINT_TO_POINTER ((int) self->ribbons->len));
      g_array_append_val (self->ribbons, ribbon);
    }
  g_array_sort (self->ribbons, compare_ribbons);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
draw_span (cairo_t *cr, const Ribbon *ribbon, double x0, double x1, double y, double h, double w)
{
  double r = MIN (h / 2, 3), a = (x0 - 1) / 12 * w, b = (x1 - 1) / 12 * w;

  if (b - a < 2 * r)
    return;
  cairo_new_sub_path (cr);
  cairo_arc (cr, b - r, y + r, r, -G_PI / 2, 0);
  cairo_arc (cr, b - r, y + h - r, r, 0, G_PI / 2);
  cairo_arc (cr, a + r, y + h - r, r, G_PI / 2, G_PI);
  cairo_arc (cr, a + r, y + r, r, G_PI, 1.5 * G_PI);
  cairo_close_path (cr);
  cairo_set_source_rgb (cr, ribbon->color.r, ribbon->color.g, ribbon->color.b);
  cairo_fill_preserve (cr);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.22);
  cairo_set_line_width (cr, 0.7);
  cairo_stroke (cr);
}

static void
draw_ribbons (BlMonths *self, cairo_t *cr, double w, double h)
{
  guint n = MIN (self->ribbons->len, 7);
  double step = n > 0 ? MIN ((h - 4) / n, 8) : 0;

  for (guint i = 0; i < n; i++)
    {
      const Ribbon *ribbon = &g_array_index (self->ribbons, Ribbon, i);
      double y = 2 + step * i;

      if (ribbon->from <= ribbon->to)
        draw_span (cr, ribbon, ribbon->from, MIN (ribbon->to, 13), y, step - 1.5, w);
      else
        {
          draw_span (cr, ribbon, ribbon->from, 13, y, step - 1.5, w);
          draw_span (cr, ribbon, 1, ribbon->to, y, step - 1.5, w);
        }
    }
}

static void
bl_months_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BlMonths *self = BL_MONTHS (widget);
  double w = gtk_widget_get_width (widget), h = gtk_widget_get_height (widget);
  double x = (self->month - 1) / 12 * w, cell = w / 12;
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  GdkRGBA ink, line, accent;
  cairo_t *cr;

  gtk_style_context_get_color (style, &ink);
  line = ink;
  line.alpha = 0.14f;
  if (!gtk_style_context_lookup_color (style, "bl_accent", &accent))
    accent = ink;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) w, (float) h));
  for (int i = 0; i <= 12; i++)
    {
      gdk_cairo_set_source_rgba (cr, &line);
      cairo_rectangle (cr, round (i * cell) - (i == 12), 0, 1, h - LETTERS_HEIGHT);
      cairo_fill (cr);
    }
  draw_ribbons (self, cr, w, h - LETTERS_HEIGHT);
  gdk_cairo_set_source_rgba (cr, &accent);
  cairo_rectangle (cr, round (x) - 1, 0, 2, h - LETTERS_HEIGHT + 2);
  cairo_fill (cr);
  cairo_arc (cr, round (x), h - LETTERS_HEIGHT + 1, 5, 0, 2 * G_PI);
  cairo_fill (cr);
  cairo_destroy (cr);
  for (int i = 0; i < 12; i++)
    {
      gboolean now = (int) self->month - 1 == i;
      int width, height;

      if (self->letters[i] == NULL)
        self->letters[i] = gtk_widget_create_pango_layout (widget, NULL);
      {
        g_autofree char *text = g_utf8_substring (name_of (i), 0, cell > 34 ? 3 : 1);
        g_autofree char *markup = g_markup_printf_escaped (now ? "<small><b>%s</b></small>"
                                                               : "<small>%s</small>", text);

        pango_layout_set_markup (self->letters[i], markup, -1);
      }
      pango_layout_get_pixel_size (self->letters[i], &width, &height);
      gtk_snapshot_save (snapshot);
      gtk_snapshot_translate (
          snapshot,
          &GRAPHENE_POINT_INIT ((float)round (i * cell + (cell - width) / 2), (float)(h - height)));
      gtk_snapshot_append_layout (snapshot, self->letters[i], now ? &accent : &ink);
      gtk_snapshot_restore (snapshot);
    }
}

static void
bl_months_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 144 : 58;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 480 : 62;
}

static void
move_to (BlMonths *self, double month)
{
  month = CLAMP (month, 1, 12.99);
  bl_months_set_month (self, month);
  g_signal_emit (self, moved_signal, 0, month);
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, BlMonths *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  move_to (self, 1 + x / gtk_widget_get_width (GTK_WIDGET (self)) * 12);
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, BlMonths *self)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  move_to (self, 1 + (x + dx) / gtk_widget_get_width (GTK_WIDGET (self)) * 12);
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint code, GdkModifierType state,
                BlMonths *self)
{
  double middle = floor (self->month) + 0.5;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return FALSE;
  switch (keyval)
    {
    case GDK_KEY_Right:
    case GDK_KEY_Up:
      move_to (self, middle + 1 >= 13 ? 1.5 : middle + 1);
      return TRUE;
    case GDK_KEY_Left:
    case GDK_KEY_Down:
      move_to (self, middle - 1 < 1 ? 12.5 : middle - 1);
      return TRUE;
    case GDK_KEY_Home:
      move_to (self, 1.5);
      return TRUE;
    case GDK_KEY_End:
      move_to (self, 12.5);
      return TRUE;
    default:
      return FALSE;
    }
}

static void
bl_months_dispose (GObject *object)
{
  BlMonths *self = BL_MONTHS (object);

  for (int i = 0; i < 12; i++)
    g_clear_object (&self->letters[i]);
  g_clear_pointer (&self->ribbons, g_array_unref);
  G_OBJECT_CLASS (bl_months_parent_class)->dispose (object);
}

static void
bl_months_class_init (BlMonthsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bl_months_dispose;
  widget_class->snapshot = bl_months_snapshot;
  widget_class->measure = bl_months_measure;
  gtk_widget_class_set_css_name (widget_class, "months");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_SLIDER);
  moved_signal = g_signal_new ("moved", BL_TYPE_MONTHS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 1, G_TYPE_DOUBLE);
}

static void
bl_months_init (BlMonths *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->month = 7;
  self->ribbons = g_array_new (FALSE, FALSE, sizeof (Ribbon));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Month"),
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_MIN, 1.0,
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_MAX, 12.0, -1);
  tell (self);
}

GtkWidget *
bl_months_new (void)
{
  return g_object_new (BL_TYPE_MONTHS, NULL);
}
