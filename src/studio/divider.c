/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The divider across the photo: left of it the spot as it is, right of it as proposed. */

#include "config.h"

#include "studio/divider.h"

#include <glib/gi18n.h>

#define STEP 0.02
#define FAR_STEP 0.1
#define GRIP 17.0f

struct _BlDivider
{
  GtkWidget parent_instance;

  double share, share_from;
  double x_from; /* in the parent, where the drag began */
  PangoLayout *before, *after;
};

G_DEFINE_FINAL_TYPE (BlDivider, bl_divider, GTK_TYPE_WIDGET)

static guint moved_signal;

double
bl_divider_get_share (BlDivider *self)
{
  return self->share;
}

void
bl_divider_set_share (BlDivider *self, double share)
{
  g_autofree char *words = NULL;

  share = CLAMP (share, 0, 1);
  words = g_strdup_printf (_ ("%.0f %% as it is, %.0f %% as proposed"), share * 100,
                           100 - round (share * 100));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_VALUE_NOW,
                                  share * 100, GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, words, -1);
  if (share == self->share)
    return;
  self->share = share;
  g_signal_emit (self, moved_signal, 0, share);
}

/* Words beside the line's head; @side -1 left of it, 1 right. */
static void
snapshot_words (GtkSnapshot *snapshot, PangoLayout *layout, float x, float side, float room)
{
  static const GdkRGBA paper = { 0.988f, 0.980f, 0.957f, 0.90f }, ink = { 0.17f, 0.16f, 0.15f, 1 };
  int width, height;
  graphene_rect_t rect;
  GskRoundedRect chip;

  pango_layout_get_pixel_size (layout, &width, &height);
  if ((float)width + 34 > room)
    return;
  rect = GRAPHENE_RECT_INIT (side < 0 ? x - 14 - (float)width - 16 : x + 14, 12,
                             (float)width + 16, (float)height + 8);
  gsk_rounded_rect_init_from_rect (&chip, &rect, 4);
  gtk_snapshot_push_rounded_clip (snapshot, &chip);
  gtk_snapshot_append_color (snapshot, &paper, &rect);
  gtk_snapshot_pop (snapshot);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT (rect.origin.x + 8, rect.origin.y + 4));
  gtk_snapshot_append_layout (snapshot, layout, &ink);
  gtk_snapshot_restore (snapshot);
}

static void
snapshot_grip (GtkSnapshot *snapshot, float x, float y, gboolean focused)
{
  static const GdkRGBA paper = { 0.988f, 0.980f, 0.957f, 1 }, ink = { 0.17f, 0.16f, 0.15f, 1 };
  static const GdkRGBA accent = { 0.12f, 0.40f, 0.34f, 1 };
  cairo_t *cr = gtk_snapshot_append_cairo (
      snapshot, &GRAPHENE_RECT_INIT (x - GRIP - 3, y - GRIP - 3, 2 * GRIP + 6, 2 * GRIP + 6));

  cairo_translate (cr, x, y);
  cairo_arc (cr, 0, 0, GRIP, 0, 2 * G_PI);
  gdk_cairo_set_source_rgba (cr, &paper);
  cairo_fill_preserve (cr);
  gdk_cairo_set_source_rgba (cr, focused ? &accent : &ink);
  cairo_set_line_width (cr, focused ? 3 : 1.2);
  cairo_stroke (cr);
  cairo_set_line_width (cr, 1.8);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  gdk_cairo_set_source_rgba (cr, &ink);
  for (int side = -1; side <= 1; side += 2)
    {
      cairo_move_to (cr, 4.5 * side, -5);
      cairo_line_to (cr, 9.5 * side, 0);
      cairo_line_to (cr, 4.5 * side, 5);
      cairo_stroke (cr);
    }
  cairo_destroy (cr);
}

static void
bl_divider_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  static const GdkRGBA white = { 1, 1, 1, 1 }, shade = { 0, 0, 0, 0.35f };
  BlDivider *self = BL_DIVIDER (widget);
  float middle = BL_DIVIDER_WIDTH / 2.0f, height = (float)gtk_widget_get_height (widget);
  float all = (float)gtk_widget_get_width (gtk_widget_get_parent (widget));
  float left = all * (float)self->share;

  gtk_snapshot_append_color (snapshot, &shade, &GRAPHENE_RECT_INIT (middle - 2, 0, 4, height));
  gtk_snapshot_append_color (snapshot, &white, &GRAPHENE_RECT_INIT (middle - 1, 0, 2, height));
  snapshot_words (snapshot, self->before, middle, -1, left);
  snapshot_words (snapshot, self->after, middle, 1, all - left);
  snapshot_grip (snapshot, middle, roundf (height / 2), gtk_widget_has_focus (widget));
}

static void
bl_divider_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                    int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? BL_DIVIDER_WIDTH : 40;
}

/* The widget moves under the pointer: the drag is followed in its parent. */
static gboolean
in_parent (BlDivider *self, double x, double *out)
{
  double y;

  return gtk_widget_translate_coordinates (GTK_WIDGET (self),
                                           gtk_widget_get_parent (GTK_WIDGET (self)), x, 0, out,
                                           &y);
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, BlDivider *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  self->share_from = self->share;
  in_parent (self, x, &self->x_from);
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, BlDivider *self)
{
  int width = gtk_widget_get_width (gtk_widget_get_parent (GTK_WIDGET (self)));
  double x, y, now;

  if (width <= 0 || !gtk_gesture_get_point (GTK_GESTURE (gesture), NULL, &x, &y)
      || !in_parent (self, x, &now))
    return;
  bl_divider_set_share (self, self->share_from + (now - self->x_from) / width);
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint code, GdkModifierType state,
                BlDivider *self)
{
  double step = (state & GDK_SHIFT_MASK) != 0 ? FAR_STEP : STEP;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return FALSE;
  switch (keyval)
    {
    case GDK_KEY_Left:
    case GDK_KEY_Down:
      bl_divider_set_share (self, self->share - step);
      return TRUE;
    case GDK_KEY_Right:
    case GDK_KEY_Up:
      bl_divider_set_share (self, self->share + step);
      return TRUE;
    case GDK_KEY_Page_Down:
      bl_divider_set_share (self, self->share - FAR_STEP);
      return TRUE;
    case GDK_KEY_Page_Up:
      bl_divider_set_share (self, self->share + FAR_STEP);
      return TRUE;
    case GDK_KEY_Home:
      bl_divider_set_share (self, 0);
      return TRUE;
    case GDK_KEY_End:
      bl_divider_set_share (self, 1);
      return TRUE;
    default:
      return FALSE;
    }
}

static void
bl_divider_dispose (GObject *object)
{
  BlDivider *self = BL_DIVIDER (object);

  g_clear_object (&self->before);
  g_clear_object (&self->after);
  G_OBJECT_CLASS (bl_divider_parent_class)->dispose (object);
}

static void
bl_divider_class_init (BlDividerClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bl_divider_dispose;
  widget_class->snapshot = bl_divider_snapshot;
  widget_class->measure = bl_divider_measure;
  gtk_widget_class_set_css_name (widget_class, "divider");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_SLIDER);
  moved_signal = g_signal_new ("moved", BL_TYPE_DIVIDER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 1, G_TYPE_DOUBLE);
}

static void
bl_divider_init (BlDivider *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "col-resize");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), _ ("Drag, or use the arrow keys"));
  self->before = gtk_widget_create_pango_layout (GTK_WIDGET (self), _ ("As it is"));
  self->after = gtk_widget_create_pango_layout (GTK_WIDGET (self), _ ("As proposed"));
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Divider between the photo as it is and as proposed"),
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_MIN, 0.0,
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_MAX, 100.0, -1);
  bl_divider_set_share (self, 0.5);
}

GtkWidget *
bl_divider_new (void)
{
  return g_object_new (BL_TYPE_DIVIDER, NULL);
}
