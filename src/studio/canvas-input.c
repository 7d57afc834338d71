/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas's input: pointer, wheel, pinch, pen and keys become what the hand understands. */

#include "config.h"

#include "studio/canvas-private.h"

#include <glib/gi18n.h>

#define DOUBLE_MS 400
#define DRAG_THRESHOLD 4
#define NUDGE_MS 350

static guint
mods_of (GdkModifierType state)
{
  return ((state & GDK_SHIFT_MASK) != 0 ? BL_MOD_SHIFT : 0)
         | ((state & GDK_CONTROL_MASK) != 0 ? BL_MOD_CTRL : 0)
         | ((state & GDK_ALT_MASK) != 0 ? BL_MOD_ALT : 0);
}

static BlHandEvent
event_at (BlCanvas *self, double x, double y, GtkEventController *controller)
{
  BlHandEvent event
      = { bl_canvas_to_document (self, x, y), bl_canvas_slack (self), 0, self->n_press };

  event.mods = mods_of (gtk_event_controller_get_current_event_state (controller));
  return event;
}

static void
acted (BlCanvas *self)
{
  bl_canvas_update_hint (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The primary button: the hand, or panning while Space is held. */

static void
primary_begin_cb (GtkGestureDrag *gesture, double x, double y, BlCanvas *self)
{
  guint32 now = gtk_event_controller_get_current_event_time (GTK_EVENT_CONTROLLER (gesture));

  gtk_widget_grab_focus (GTK_WIDGET (self));
  bl_canvas_commit_nudge (self);
  self->cross_shown = FALSE;
  self->n_press = now != 0 && now - self->press_time < DOUBLE_MS
                  && hypot (x - self->press_at.x, y - self->press_at.y) < 6 ? self->n_press + 1 : 1;
  self->press_time = now;
  self->press_at = BL_POINT (x, y);
  if (self->space || self->hand == NULL)
    {
      self->panning = TRUE;
      self->pan_from = BL_POINT (bl_canvas_viewport (self)->ox, bl_canvas_viewport (self)->oy);
      gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grabbing");
      return;
    }
  bl_hand_press (self->hand, event_at (self, x, y, GTK_EVENT_CONTROLLER (gesture)));
  acted (self);
}

static void
pan_to (BlCanvas *self, double dx, double dy)
{
  BlViewport *viewport = bl_canvas_viewport (self);
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));

  viewport->ox = round (self->pan_from.x + dx * sf);
  viewport->oy = round (self->pan_from.y + dy * sf);
  bl_canvas_looked (self, FALSE);
}

static void
primary_update_cb (GtkGestureDrag *gesture, double dx, double dy, BlCanvas *self)
{
  if (self->panning)
    {
      pan_to (self, dx, dy);
      return;
    }
  if (self->hand == NULL || (!self->hand->dragged && hypot (dx, dy) < DRAG_THRESHOLD))
    return;
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  bl_hand_drag (self->hand, event_at (self, self->press_at.x + dx, self->press_at.y + dy,
                                      GTK_EVENT_CONTROLLER (gesture)));
  acted (self);
}

static void
end_pan (BlCanvas *self)
{
  self->panning = FALSE;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), self->space ? "grab"
                                   : self->hand != NULL ? self->hand->klass->cursor : NULL);
}

static void
primary_end_cb (GtkGestureDrag *gesture, double dx, double dy, BlCanvas *self)
{
  if (self->panning)
    {
      end_pan (self);
      return;
    }
  if (self->hand != NULL)
    bl_hand_release (self->hand, event_at (self, self->press_at.x + dx, self->press_at.y + dy,
                                           GTK_EVENT_CONTROLLER (gesture)));
  acted (self);
}

static void
primary_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, BlCanvas *self)
{
  if (self->panning)
    end_pan (self);
  else if (self->hand != NULL && self->hand->pressed)
    bl_hand_cancel (self->hand);
  acted (self);
}

/* The middle button pans. */

static void
middle_begin_cb (GtkGestureDrag *gesture, double x, double y, BlCanvas *self)
{
  self->panning = TRUE;
  self->pan_from = BL_POINT (bl_canvas_viewport (self)->ox, bl_canvas_viewport (self)->oy);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grabbing");
}

static void
middle_update_cb (GtkGestureDrag *gesture, double dx, double dy, BlCanvas *self)
{
  pan_to (self, dx, dy);
}

static void
middle_end_cb (GtkGestureDrag *gesture, double dx, double dy, BlCanvas *self)
{
  end_pan (self);
}

static void
secondary_pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, BlCanvas *self)
{
  BlScene *scene = self->board != NULL ? bl_board_get_scene (self->board) : NULL;
  const BlSceneItem *item = scene != NULL
    ? bl_scene_pick (scene, bl_canvas_to_document (self, x, y), bl_canvas_slack (self)) : NULL;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (item != NULL && (item->kind == BL_ITEM_PLANT || item->kind == BL_ITEM_SHADOW)
      && !bl_board_is_selected (self->board, BL_PICK_PLANTING, item->id))
    bl_board_select (self->board, BL_PICK_PLANTING, item->id, FALSE);
  g_signal_emit_by_name (self, "menu", x, y);
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, BlCanvas *self)
{
  self->pointer = BL_POINT (x, y);
  if (self->hand == NULL || self->hand->pressed || self->panning)
    return;
  bl_hand_hover (self->hand, event_at (self, x, y, GTK_EVENT_CONTROLLER (controller)));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
leave_cb (GtkEventControllerMotion *controller, BlCanvas *self)
{
  if (self->hand != NULL && !self->cross_shown)
    bl_hand_leave (self->hand);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
scroll_cb (GtkEventControllerScroll *controller, double dx, double dy, BlCanvas *self)
{
  BlViewport *viewport = bl_canvas_viewport (self);
  GdkModifierType state
    = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));

  if (gtk_event_controller_scroll_get_unit (controller) == GDK_SCROLL_UNIT_SURFACE
      && (state & GDK_CONTROL_MASK) == 0)
    {
      bl_viewport_pan (viewport, -dx * sf, -dy * sf);
      bl_canvas_looked (self, FALSE);
      return TRUE;
    }
  if ((state & GDK_SHIFT_MASK) != 0)
    {
      bl_viewport_pan (viewport, -(dx + dy) * 60 * sf, 0);
      bl_canvas_looked (self, FALSE);
      return TRUE;
    }
  bl_viewport_zoom_at (viewport, BL_POINT (self->pointer.x * sf, self->pointer.y * sf),
                       viewport->zoom * pow (1.2, -dy));
  bl_canvas_looked (self, TRUE);
  return TRUE;
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, BlCanvas *self)
{
  self->pinch_zoom = bl_canvas_viewport (self)->zoom;
  if (self->hand != NULL && self->hand->pressed)
    bl_hand_cancel (self->hand);
  gtk_gesture_set_state (gesture, GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
pinch_cb (GtkGestureZoom *gesture, double scale, BlCanvas *self)
{
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double x = self->pointer.x, y = self->pointer.y;

  gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y);
  bl_viewport_zoom_at (bl_canvas_viewport (self), BL_POINT (x * sf, y * sf),
                       self->pinch_zoom * scale);
  bl_canvas_looked (self, TRUE);
}

/* Keys. */

void
bl_canvas_commit_nudge (BlCanvas *self)
{
  BlPoint by = self->nudge;

  g_clear_handle_id (&self->nudge_timer, g_source_remove);
  self->nudge = BL_POINT (0, 0);
  if (self->hand != NULL)
    bl_hand_rest (self->hand);
  if (self->board == NULL || (by.x == 0 && by.y == 0))
    return;
  bl_board_move_selection (self->board, by);
  bl_board_lift (self->board, 0, BL_POINT (0, 0));
}

static gboolean
nudge_rested_cb (gpointer data)
{
  BlCanvas *self = data;

  self->nudge_timer = 0;
  bl_canvas_commit_nudge (self);
  return G_SOURCE_REMOVE;
}

static void
nudge (BlCanvas *self, double x, double y)
{
  const GArray *selection = bl_board_get_selection (self->board);

  self->nudge = bl_add (self->nudge, BL_POINT (x, y));
  if (selection->len == 1 && g_array_index (selection, BlPick, 0).kind == BL_PICK_PLANTING)
    bl_board_lift (self->board, g_array_index (selection, BlPick, 0).id, self->nudge);
  g_clear_handle_id (&self->nudge_timer, g_source_remove);
  self->nudge_timer = g_timeout_add (NUDGE_MS, nudge_rested_cb, self);
}

static void
move_cross (BlCanvas *self, double dx, double dy)
{
  double step = bl_canvas_slack (self), w = gtk_widget_get_width (GTK_WIDGET (self)), x, y;
  double h = gtk_widget_get_height (GTK_WIDGET (self));
  BlHandEvent event;

  if (!self->cross_shown)
    {
      self->cross = bl_canvas_to_document (self, w / 2, h / 2);
      self->cross_shown = TRUE;
    }
  else
    self->cross = bl_add (self->cross, BL_POINT (dx * step, dy * step));
  bl_canvas_from_document (self, self->cross, &x, &y);
  self->cross = bl_canvas_to_document (self, CLAMP (x, 0, w), CLAMP (y, 0, h));
  event = (BlHandEvent) { self->cross, step, BL_MOD_CTRL, 1 };
  bl_hand_hover (self->hand, event);
}

/* The last point of a hand, by a tenth of a photo's pixel or a centimetre of the plan; ten times
 * that with Shift. The keyboard's own pointer needs Ctrl for it, as its arrows move the cross. */
static gboolean
nudge_point (BlCanvas *self, int dx, int dy, GdkModifierType state)
{
  gboolean plan = bl_board_get_view (self->board) == BL_VIEW_PLAN;
  double step = (plan ? 0.01 : 0.1) * ((state & GDK_SHIFT_MASK) != 0 ? 10 : 1);

  if (self->hand == NULL || (self->cross_shown && (state & GDK_CONTROL_MASK) == 0)
      || !bl_hand_nudge (self->hand, BL_POINT (dx * step, (plan ? -dy : dy) * step)))
    return FALSE;
  g_clear_handle_id (&self->nudge_timer, g_source_remove);
  self->nudge_timer = g_timeout_add (2 * NUDGE_MS, nudge_rested_cb, self);
  return TRUE;
}

/* Arrows move what is selected, the keyboard pointer of a drawing hand (by two pixels of the screen,
 * as fine as a mouse, or by two dozen), or the view. */
static void
arrow (BlCanvas *self, int dx, int dy, GdkModifierType state)
{
  gboolean far = (state & GDK_SHIFT_MASK) != 0;
  gboolean selecting = self->hand != NULL && g_str_equal (self->hand->klass->name, "select");
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));

  if (self->hand != NULL && !selecting)
    move_cross (self, dx * (far ? 3 : 0.25),
                (bl_board_get_view (self->board) == BL_VIEW_PLAN ? -dy : dy) * (far ? 3 : 0.25));
  else if (selecting && bl_board_get_selection (self->board)->len > 0)
    nudge (self, dx * (far ? 0.5 : 0.05), -dy * (far ? 0.5 : 0.05));
  else
    {
      bl_viewport_pan (bl_canvas_viewport (self), -dx * 60 * sf, -dy * 60 * sf);
      bl_canvas_looked (self, FALSE);
    }
}

static gint64
next_planting (BlCanvas *self, int step)
{
  const BlModel *model = bl_board_get_model (self->board);
  const GArray *selection = bl_board_get_selection (self->board);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  int at = step > 0 ? -1 : 0;

  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);

      if (planting->alternative_id == bl_board_get_alternative (self->board))
        g_array_append_val (ids, planting->id);
    }
  if (step < 0)
    at = (int) ids->len;
  for (guint i = 0; selection->len > 0 && i < ids->len; i++)
    if (bl_board_is_selected (self->board, BL_PICK_PLANTING, g_array_index (ids, gint64, i)))
      at = (int) i;
  at += step;
  return at >= 0 && at < (int) ids->len ? g_array_index (ids, gint64, (guint) at) : 0;
}

/* Tab walks through the plantings and leaves the canvas after the last one. */
static gboolean
walk (BlCanvas *self, int step)
{
  gint64 id;

  if (self->board == NULL || self->hand == NULL || !g_str_equal (self->hand->klass->name, "select"))
    return FALSE;
  bl_canvas_commit_nudge (self);
  id = next_planting (self, step);
  if (id == 0)
    return FALSE;
  bl_board_select (self->board, BL_PICK_PLANTING, id, FALSE);
  return TRUE;
}

static gboolean
press_at_cross (BlCanvas *self, GdkModifierType state)
{
  BlHandEvent event = { self->cross, bl_canvas_slack (self), mods_of (state), 1 };

  if (self->hand == NULL || !self->cross_shown)
    return FALSE;
  bl_hand_press (self->hand, event);
  bl_hand_release (self->hand, event);
  bl_hand_hover (self->hand, event);
  return TRUE;
}

static gboolean
hand_key (BlCanvas *self, guint keyval, GdkModifierType state)
{
  BlHandKey key;

  switch (keyval)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      /* With the keyboard's pointer Enter sets points, Ctrl+Enter ends the line. */
      if (self->cross_shown && (state & GDK_CONTROL_MASK) == 0)
        return press_at_cross (self, state);
      key = BL_KEY_ENTER;
      break;
    case GDK_KEY_Escape:
      key = BL_KEY_ESCAPE;
      self->cross_shown = FALSE;
      break;
    case GDK_KEY_BackSpace:
      key = BL_KEY_BACKSPACE;
      break;
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
      key = BL_KEY_DELETE;
      break;
    case GDK_KEY_bracketleft:
      key = BL_KEY_SMALLER;
      break;
    case GDK_KEY_bracketright:
      key = BL_KEY_LARGER;
      break;
    case GDK_KEY_s:
      key = BL_KEY_SHARP;
      break;
    default:
      return FALSE;
    }
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 && key != BL_KEY_ENTER)
    return FALSE;
  return self->hand != NULL && bl_hand_key (self->hand, key);
}

static gboolean
view_key (BlCanvas *self, guint keyval)
{
  switch (keyval)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      bl_canvas_zoom_by (self, 1.25);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      bl_canvas_zoom_by (self, 1 / 1.25);
      return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      bl_canvas_fit (self);
      return TRUE;
    case GDK_KEY_1:
      bl_canvas_zoom_full (self);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint code, GdkModifierType state,
                BlCanvas *self)
{
  gboolean plain = (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) == 0;
  gboolean taken = TRUE;
  int x, y;

  switch (keyval)
    {
    case GDK_KEY_space:
      self->space = TRUE;
      gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grab");
      return TRUE;
    case GDK_KEY_Tab:
      return plain && walk (self, (state & GDK_SHIFT_MASK) != 0 ? -1 : 1);
    case GDK_KEY_ISO_Left_Tab:
      return plain && walk (self, -1);
    case GDK_KEY_Left:
    case GDK_KEY_Right:
    case GDK_KEY_Up:
    case GDK_KEY_Down:
      if (self->board == NULL || (state & GDK_ALT_MASK) != 0)
        return FALSE;
      x = keyval == GDK_KEY_Left ? -1 : keyval == GDK_KEY_Right ? 1 : 0;
      y = keyval == GDK_KEY_Up ? -1 : keyval == GDK_KEY_Down ? 1 : 0;
      taken = nudge_point (self, x, y, state);
      if (!taken && !plain)
        return FALSE;
      if (!taken)
        arrow (self, x, y, state);
      taken = TRUE;
      break;
    default:
      taken = hand_key (self, keyval, state) || (plain && view_key (self, keyval));
      break;
    }
  if (taken)
    acted (self);
  return taken;
}

static void
key_released_cb (GtkEventControllerKey *controller, guint keyval, guint code, GdkModifierType state,
                 BlCanvas *self)
{
  if (keyval != GDK_KEY_space)
    return;
  self->space = FALSE;
  if (!self->panning)
    end_pan (self);
}

/* A plant dragged from the shelf stands where it is let go. */
static gboolean
dropped_cb (GtkDropTarget *target, const GValue *value, double x, double y, BlCanvas *self)
{
  const char *text = g_value_get_string (value);
  BlPoint plan;
  BlPoints *points;
  BlOutline *shape;

  if (self->board == NULL || text == NULL || !g_str_has_prefix (text, "bedline-plant:"))
    return FALSE;
  if (!bl_board_to_plan (self->board, bl_canvas_to_document (self, x, y), &plan))
    {
      bl_board_say (self->board,
                    _ ("Plants stand on the ground: drop it below the horizon of a photo of "
                       "which something is known, or on the plan"));
      return FALSE;
    }
  bl_board_set_plant (self->board, text + strlen ("bedline-plant:"));
  points = bl_points_new ();
  bl_points_add (points, plan);
  shape = bl_outline_new_take (points, FALSE);
  shape->open = TRUE;
  return bl_board_plant (self->board, BL_PLANTING_SPECIMEN, shape,
                         bl_board_bed_at (self->board, plan));
}

static void
add_drag (BlCanvas *self, guint button, GCallback begin, GCallback update, GCallback end)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), button);
  g_signal_connect (drag, "drag-begin", begin, self);
  g_signal_connect (drag, "drag-update", update, self);
  g_signal_connect (drag, "drag-end", end, self);
  if (button == GDK_BUTTON_PRIMARY)
    g_signal_connect (drag, "cancel", G_CALLBACK (primary_cancel_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
}

void
bl_canvas_add_controllers (BlCanvas *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (
      GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES | GTK_EVENT_CONTROLLER_SCROLL_KINETIC);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *pinch = gtk_gesture_zoom_new ();
  GtkGesture *secondary = gtk_gesture_click_new ();
  GtkDropTarget *drop = gtk_drop_target_new (G_TYPE_STRING, GDK_ACTION_COPY);

  add_drag (self, GDK_BUTTON_PRIMARY, G_CALLBACK (primary_begin_cb), G_CALLBACK (primary_update_cb),
            G_CALLBACK (primary_end_cb));
  add_drag (self, GDK_BUTTON_MIDDLE, G_CALLBACK (middle_begin_cb), G_CALLBACK (middle_update_cb),
            G_CALLBACK (middle_end_cb));
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (secondary), GDK_BUTTON_SECONDARY);
  g_signal_connect (secondary, "pressed", G_CALLBACK (secondary_pressed_cb), self);
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (leave_cb), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  g_signal_connect (keys, "key-released", G_CALLBACK (key_released_cb), self);
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinch_cb), self);
  g_signal_connect (drop, "drop", G_CALLBACK (dropped_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (secondary));
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pinch));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
}
