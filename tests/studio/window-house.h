/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A window of the studio for a test, on a home of its own, and hands for its canvas. */
#pragma once

#include "studio/board.h"
#include "studio/window.h"

#include "house.h"

static BlApp *app;

/* Returns: the home, for end_app(). */
static inline char *
start_app (int *argc, char ***argv)
{
  g_autoptr (GError) error = NULL;
  char *home = g_dir_make_tmp ("bedline-home-XXXXXX", NULL);

  set_home (home);
  gtk_test_init (argc, argv, NULL);
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, "gtk-cursor-blink",
                FALSE, NULL);
  app = bl_app_new ();
  g_application_register (G_APPLICATION (app), NULL, &error);
  g_assert_no_error (error);
  return home;
}

static inline void
end_app (const char *home)
{
  g_object_unref (app);
  remove_tree (home);
}

static inline gboolean
is_settled (gpointer board)
{
  return bl_board_is_settled (board);
}

static inline gboolean
is_fresh (gpointer canvas)
{
  return bl_canvas_is_fresh (canvas);
}

static inline gboolean
is_laid_out (gpointer widget)
{
  return gtk_widget_get_width (widget) > 200 && gtk_widget_get_height (widget) > 200;
}

static inline BlWindow *
open_window (void)
{
  GtkWidget *window = bl_window_new (app);

  gtk_window_present (GTK_WINDOW (window));
  rest (50);
  return BL_WINDOW (window);
}

static inline BlWindow *
open_blank (void)
{
  BlWindow *window = open_window ();

  g_action_group_activate_action (G_ACTION_GROUP (window), "new-blank", NULL);
  g_assert_nonnull (bl_window_get_board (window));
  g_assert_true (spin (is_settled, bl_window_get_board (window)));
  g_assert_true (spin (is_laid_out, bl_window_get_canvas (window)));
  return window;
}

static inline void
close_window (BlWindow *window)
{
  if (bl_window_get_board (window) != NULL)
    g_assert_true (spin (is_settled, bl_window_get_board (window)));
  gtk_window_destroy (GTK_WINDOW (window));
  rest (20);
}

static inline void
activate (BlWindow *window, const char *detailed)
{
  g_autofree char *name = NULL;
  g_autoptr (GVariant) target = NULL;

  g_assert_true (g_action_parse_detailed_name (detailed, &name, &target, NULL));
  gtk_widget_activate_action_variant (GTK_WIDGET (window), name, target);
}

static inline GtkEventController *
controller_of (GtkWidget *widget, GType type)
{
  g_autoptr (GListModel) list = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (list, i);

      if (G_TYPE_CHECK_INSTANCE_TYPE (controller, type)
          && (!GTK_IS_GESTURE_DRAG (controller)
              || gtk_gesture_single_get_button (GTK_GESTURE_SINGLE (controller))
                     == GDK_BUTTON_PRIMARY))
        return controller;
    }
  g_assert_not_reached ();
}

static inline void
drag_on (BlCanvas *canvas, BlPoint from, BlPoint to)
{
  GtkEventController *drag = controller_of (GTK_WIDGET (canvas), GTK_TYPE_GESTURE_DRAG);
  double x0, y0, x1, y1;

  bl_canvas_from_document (canvas, from, &x0, &y0);
  bl_canvas_from_document (canvas, to, &x1, &y1);
  g_signal_emit_by_name (drag, "drag-begin", x0, y0);
  if (bl_dist (from, to) > 0)
    {
      g_signal_emit_by_name (drag, "drag-update", (x1 - x0) / 2, (y1 - y0) / 2);
      g_signal_emit_by_name (drag, "drag-update", x1 - x0, y1 - y0);
    }
  g_signal_emit_by_name (drag, "drag-end", x1 - x0, y1 - y0);
}

static inline void
press_key (BlCanvas *canvas, guint key, GdkModifierType mods)
{
  gboolean handled = FALSE;

  g_signal_emit_by_name (controller_of (GTK_WIDGET (canvas), GTK_TYPE_EVENT_CONTROLLER_KEY),
                         "key-pressed", key, 0u, mods, &handled);
  (void) handled;
}
