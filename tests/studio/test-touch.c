/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fingers and pen on the canvas: a tap is a click, two fingers take back what one began, a long press is
 * the secondary click, a finger reaches farther than a pointer. No touch screen can be plugged into a
 * virtual display: the canvas is told what it is pointed at with, and the gestures say what they say
 * when they are made. Whether the toolkit makes them is left to the toolkit, except that one finger's
 * drag and two fingers' pinch are in one group and the drag listens to the first finger alone. */

#include "config.h"

#include "studio/canvas-private.h"

#include "window-house.h"

static void
begin_at (BlCanvas *canvas, BlPoint at)
{
  double x, y;

  bl_canvas_from_document (canvas, at, &x, &y);
  g_signal_emit_by_name (controller_of (GTK_WIDGET (canvas), GTK_TYPE_GESTURE_DRAG), "drag-begin", x,
                         y);
}

static void
drag_by (BlCanvas *canvas, const char *signal, double dx, double dy)
{
  g_signal_emit_by_name (controller_of (GTK_WIDGET (canvas), GTK_TYPE_GESTURE_DRAG), signal, dx, dy);
}

static void
pinch (BlCanvas *canvas, double scale)
{
  bl_canvas_begin_pinch (canvas, BL_POINT (200, 200));
  g_signal_emit_by_name (controller_of (GTK_WIDGET (canvas), GTK_TYPE_GESTURE_ZOOM), "scale-changed",
                         scale);
}

static void
put_bed (BlCanvas *canvas)
{
  static const BlPoint corners[] = { { 1, 1 }, { 9, 1 }, { 9, 6 }, { 1, 6 } };

  bl_canvas_set_hand (canvas, "trace");
  for (guint i = 0; i < G_N_ELEMENTS (corners); i++)
    drag_on (canvas, corners[i], corners[i]);
  press_key (canvas, GDK_KEY_Return, 0);
  bl_board_set_plant (bl_canvas_get_board (canvas), "echinacea-purpurea");
}

static guint
n_plantings (BlCanvas *canvas)
{
  return bl_board_get_model (bl_canvas_get_board (canvas))->plantings->len;
}

static void
test_tap_and_draw (void)
{
  static const GdkInputSource sources[] = { GDK_SOURCE_TOUCHSCREEN, GDK_SOURCE_PEN };

  for (guint i = 0; i < G_N_ELEMENTS (sources); i++)
    {
      BlWindow *window = open_blank ();
      BlCanvas *canvas = bl_window_get_canvas (window);

      bl_canvas_set_source (canvas, sources[i]);
      put_bed (canvas);
      g_assert_cmpuint (bl_board_get_model (bl_window_get_board (window))->beds->len, ==, 1);
      bl_canvas_set_hand (canvas, "specimen");
      drag_on (canvas, BL_POINT (3, 3), BL_POINT (3, 3));
      g_assert_cmpuint (n_plantings (canvas), ==, 1);
      bl_canvas_set_hand (canvas, "drift");
      drag_on (canvas, BL_POINT (5, 4), BL_POINT (7, 5));
      g_assert_cmpuint (n_plantings (canvas), ==, 2);
      close_window (window);
    }
}

static void
test_two_fingers_take_back (void)
{
  BlWindow *window = open_blank ();
  BlCanvas *canvas = bl_window_get_canvas (window);
  double zoom;

  bl_canvas_set_source (canvas, GDK_SOURCE_TOUCHSCREEN);
  put_bed (canvas);
  zoom = bl_canvas_get_zoom (canvas);
  /* The second finger comes before the first has moved, then while it draws. */
  bl_canvas_set_hand (canvas, "specimen");
  begin_at (canvas, BL_POINT (3, 3));
  pinch (canvas, 1.5);
  drag_by (canvas, "drag-update", 80, 0);
  drag_by (canvas, "drag-end", 80, 0);
  g_assert_cmpuint (n_plantings (canvas), ==, 0);
  g_assert_cmpfloat_with_epsilon (bl_canvas_get_zoom (canvas), 1.5 * zoom, 1e-9);
  bl_canvas_set_hand (canvas, "drift");
  begin_at (canvas, BL_POINT (3, 3));
  drag_by (canvas, "drag-update", 60, 10);
  pinch (canvas, 0.5);
  drag_by (canvas, "drag-update", 90, 10);
  drag_by (canvas, "drag-end", 90, 10);
  g_assert_cmpuint (n_plantings (canvas), ==, 0);
  close_window (window);
}

/* Who looks closer in the middle of a bed line goes on with it. */
static void
test_pinch_keeps_a_trace (void)
{
  BlWindow *window = open_blank ();
  BlBoard *board = bl_window_get_board (window);
  BlCanvas *canvas = bl_window_get_canvas (window);

  bl_canvas_set_source (canvas, GDK_SOURCE_TOUCHSCREEN);
  bl_canvas_set_hand (canvas, "trace");
  drag_on (canvas, BL_POINT (2, 2), BL_POINT (2, 2));
  drag_on (canvas, BL_POINT (6, 2), BL_POINT (6, 2));
  begin_at (canvas, BL_POINT (6, 4));
  drag_by (canvas, "drag-update", 40, 0);
  pinch (canvas, 1.2);
  drag_by (canvas, "drag-end", 40, 0);
  drag_on (canvas, BL_POINT (6, 5), BL_POINT (6, 5));
  drag_on (canvas, BL_POINT (2, 5), BL_POINT (2, 5));
  press_key (canvas, GDK_KEY_Return, 0);
  g_assert_cmpuint (bl_board_get_model (board)->beds->len, ==, 1);
  g_assert_cmpuint (
      ((BlBed *) g_ptr_array_index (bl_board_get_model (board)->beds, 0))->outline->points->len, ==, 4);
  close_window (window);
}

static void
menu_cb (BlCanvas *canvas, double x, double y, BlPoint *at)
{
  *at = BL_POINT (x, y);
}

static void
test_long_press (void)
{
  BlWindow *window = open_blank ();
  BlCanvas *canvas = bl_window_get_canvas (window);
  GtkEventController *hold = controller_of (GTK_WIDGET (canvas), GTK_TYPE_GESTURE_LONG_PRESS);
  BlPoint asked = { 0, 0 };

  put_bed (canvas);
  bl_canvas_set_hand (canvas, "specimen");
  g_signal_connect (canvas, "menu", G_CALLBACK (menu_cb), &asked);
  bl_canvas_set_source (canvas, GDK_SOURCE_TOUCHSCREEN);
  begin_at (canvas, BL_POINT (3, 3));
  g_signal_emit_by_name (hold, "pressed", 120.0, 130.0);
  g_assert_cmpfloat (asked.x, ==, 120);
  g_assert_cmpfloat (asked.y, ==, 130);
  drag_by (canvas, "drag-end", 0, 0);
  g_assert_cmpuint (n_plantings (canvas), ==, 0);
  /* A mouse has a button for it: holding it still is still a click. */
  asked = BL_POINT (0, 0);
  bl_canvas_set_source (canvas, GDK_SOURCE_MOUSE);
  begin_at (canvas, BL_POINT (3, 3));
  g_signal_emit_by_name (hold, "pressed", 120.0, 130.0);
  drag_by (canvas, "drag-end", 0, 0);
  g_assert_cmpfloat (asked.x, ==, 0);
  g_assert_cmpuint (n_plantings (canvas), ==, 1);
  close_window (window);
}

static void
test_reach (void)
{
  BlWindow *window = open_blank ();
  BlCanvas *canvas = bl_window_get_canvas (window);
  GtkGesture *drag = GTK_GESTURE (controller_of (GTK_WIDGET (canvas), GTK_TYPE_GESTURE_DRAG));
  double mouse = bl_canvas_slack (canvas), pen, finger;

  bl_canvas_set_source (canvas, GDK_SOURCE_PEN);
  pen = bl_canvas_slack (canvas);
  bl_canvas_set_source (canvas, GDK_SOURCE_TOUCHSCREEN);
  finger = bl_canvas_slack (canvas);
  g_assert_cmpfloat (mouse, <, pen);
  g_assert_cmpfloat (pen, <, finger);
  /* 44 pixels across is the least that WCAG 2.1, success criterion 2.5.5, wants of a target. */
  g_assert_cmpfloat_with_epsilon (2 * finger * bl_canvas_get_zoom (canvas), 44, 1e-9);
  g_assert_true (gtk_gesture_is_grouped_with (
      drag, GTK_GESTURE (controller_of (GTK_WIDGET (canvas), GTK_TYPE_GESTURE_ZOOM))));
  g_assert_true (gtk_gesture_single_get_exclusive (GTK_GESTURE_SINGLE (drag)));
  close_window (window);
}

int
main (int argc, char **argv)
{
  g_autofree char *home = start_app (&argc, &argv);
  int status;

  g_test_add_func ("/studio/touch/tap-and-draw", test_tap_and_draw);
  g_test_add_func ("/studio/touch/two-fingers-take-back", test_two_fingers_take_back);
  g_test_add_func ("/studio/touch/pinch-keeps-a-trace", test_pinch_keeps_a_trace);
  g_test_add_func ("/studio/touch/long-press", test_long_press);
  g_test_add_func ("/studio/touch/reach", test_reach);
  status = g_test_run ();
  end_app (home);
  return status;
}
