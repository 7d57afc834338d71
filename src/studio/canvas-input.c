/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas's input: pointer, wheel, fingers and pen become what the hand understands. */

#include "config.h"

#include "studio/canvas-private.h"

#include <glib/gi18n.h>

#define DOUBLE_MS 400
#define DRAG_THRESHOLD 4   /* pixels that a press may wander and still be a click */
#define TOUCH_THRESHOLD 12 /* the same under a finger or a pen, as they roll and tremble */

guint
bl_canvas_mods (GdkModifierType state)
{
  return ((state & GDK_SHIFT_MASK) != 0 ? BL_MOD_SHIFT : 0)
         | ((state & GDK_CONTROL_MASK) != 0 ? BL_MOD_CTRL : 0)
         | ((state & GDK_ALT_MASK) != 0 ? BL_MOD_ALT : 0);
}

/* A finger or a pen may still become a pinch or a long press when it is put down. */
static gboolean
is_touch (BlCanvas *self)
{
  return self->source == GDK_SOURCE_TOUCHSCREEN || self->source == GDK_SOURCE_PEN;
}

void
bl_canvas_set_source (BlCanvas *self, GdkInputSource source)
{
  if (self->source == source)
    return;
  self->source = source;
  bl_canvas_drop_standing (self);
}

static void
note_source (BlCanvas *self, GtkEventController *controller)
{
  GdkDevice *device = gtk_event_controller_get_current_event_device (controller);
  GdkEvent *event = gtk_event_controller_get_current_event (controller);
  GdkDeviceTool *tool = event != NULL ? gdk_event_get_device_tool (event) : NULL;

  if (tool != NULL && gdk_device_tool_get_tool_type (tool) != GDK_DEVICE_TOOL_TYPE_MOUSE)
    bl_canvas_set_source (self, GDK_SOURCE_PEN);
  else if (device != NULL)
    bl_canvas_set_source (self, gdk_device_get_source (device));
}

static BlHandEvent
event_at (BlCanvas *self, double x, double y, GtkEventController *controller)
{
  BlHandEvent event
      = { bl_canvas_to_document (self, x, y), bl_canvas_slack (self), 0, self->n_press };

  event.mods = bl_canvas_mods (gtk_event_controller_get_current_event_state (controller));
  return event;
}

void
bl_canvas_acted (BlCanvas *self)
{
  bl_canvas_update_hint (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The primary button: the hand, or panning while Space is held. */

static void
primary_begin_cb (GtkGestureDrag *gesture, double x, double y, BlCanvas *self)
{
  guint32 now = gtk_event_controller_get_current_event_time (GTK_EVENT_CONTROLLER (gesture));

  note_source (self, GTK_EVENT_CONTROLLER (gesture));
  gtk_widget_grab_focus (GTK_WIDGET (self));
  bl_canvas_commit_nudge (self);
  self->cross_shown = FALSE;
  self->n_press = now != 0 && now - self->press_time < DOUBLE_MS
                  && hypot (x - self->press_at.x, y - self->press_at.y) < (is_touch (self) ? 24 : 6) ? self->n_press + 1 : 1;
  self->press_time = now;
  self->press_at = BL_POINT (x, y);
  if (self->space || self->hand == NULL)
    {
      self->panning = TRUE;
      self->pan_from = BL_POINT (bl_canvas_viewport (self)->ox, bl_canvas_viewport (self)->oy);
      gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grabbing");
      return;
    }
  self->press_waits = is_touch (self);
  if (self->press_waits)
    bl_hand_hover (self->hand, event_at (self, x, y, GTK_EVENT_CONTROLLER (gesture)));
  else
    bl_hand_press (self->hand, event_at (self, x, y, GTK_EVENT_CONTROLLER (gesture)));
  bl_canvas_acted (self);
}

/* It is a drag or a tap after all: the hand learns where it began. */
static void
press_now (BlCanvas *self, GtkGestureDrag *gesture)
{
  if (!self->press_waits)
    return;
  self->press_waits = FALSE;
  bl_hand_press (self->hand, event_at (self, self->press_at.x, self->press_at.y,
                                       GTK_EVENT_CONTROLLER (gesture)));
}

/* What was pressed is to be nothing: two fingers look closer, a long press asks for the menu. */
static void
let_go (BlCanvas *self)
{
  self->press_waits = FALSE;
  if (self->panning)
    bl_canvas_end_pan (self);
  else if (self->hand != NULL && self->hand->pressed)
    bl_hand_let_go (self->hand);
  bl_canvas_acted (self);
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
  if (self->hand == NULL
      || (!self->hand->dragged
          && hypot (dx, dy) < (is_touch (self) ? TOUCH_THRESHOLD : DRAG_THRESHOLD)))
    return;
  press_now (self, gesture);
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  bl_hand_drag (self->hand, event_at (self, self->press_at.x + dx, self->press_at.y + dy,
                                      GTK_EVENT_CONTROLLER (gesture)));
  bl_canvas_acted (self);
}

void
bl_canvas_end_pan (BlCanvas *self)
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
      bl_canvas_end_pan (self);
      return;
    }
  if (self->hand == NULL)
    return;
  press_now (self, gesture);
  bl_hand_release (self->hand, event_at (self, self->press_at.x + dx, self->press_at.y + dy,
                                         GTK_EVENT_CONTROLLER (gesture)));
  /* A finger that is lifted points at nothing any more. */
  if (self->source == GDK_SOURCE_TOUCHSCREEN)
    bl_hand_leave (self->hand);
  bl_canvas_acted (self);
}

static void
primary_cancel_cb (GtkGesture *gesture, GdkEventSequence *sequence, BlCanvas *self)
{
  let_go (self);
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
  bl_canvas_end_pan (self);
}

static void
ask_for_menu (BlCanvas *self, double x, double y)
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
secondary_pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, BlCanvas *self)
{
  note_source (self, GTK_EVENT_CONTROLLER (gesture));
  ask_for_menu (self, x, y);
}

/* What the secondary button asks for, a finger or a pen asks for by staying where it is. */
static void
long_pressed_cb (GtkGestureLongPress *gesture, double x, double y, BlCanvas *self)
{
  if (!is_touch (self) || !self->press_waits)
    return;
  let_go (self);
  ask_for_menu (self, x, y);
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, BlCanvas *self)
{
  self->pointer = BL_POINT (x, y);
  note_source (self, GTK_EVENT_CONTROLLER (controller));
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

/* Two fingers look closer and move the view at once; what the first had begun is let go of. */

void
bl_canvas_begin_pinch (BlCanvas *self, BlPoint at)
{
  self->pinch_zoom = bl_canvas_viewport (self)->zoom;
  self->pinch_at = at;
  let_go (self);
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, BlCanvas *self)
{
  BlPoint at = self->pointer;

  gtk_gesture_get_bounding_box_center (gesture, &at.x, &at.y);
  bl_canvas_begin_pinch (self, at);
  gtk_gesture_set_state (gesture, GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
pinch_cb (GtkGestureZoom *gesture, double scale, BlCanvas *self)
{
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  BlViewport *viewport = bl_canvas_viewport (self);
  BlPoint at = self->pinch_at;

  if (gtk_gesture_is_recognized (GTK_GESTURE (gesture)))
    gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &at.x, &at.y);
  bl_viewport_pan (viewport, (at.x - self->pinch_at.x) * sf, (at.y - self->pinch_at.y) * sf);
  self->pinch_at = at;
  bl_viewport_zoom_at (viewport, BL_POINT (at.x * sf, at.y * sf), self->pinch_zoom * scale);
  bl_canvas_looked (self, TRUE);
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

static GtkGesture *
add_drag (BlCanvas *self, guint button, GCallback begin, GCallback update, GCallback end)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), button);
  /* Without this a second finger would end the drag, and the hand would take that for a click. */
  gtk_gesture_single_set_exclusive (GTK_GESTURE_SINGLE (drag), TRUE);
  g_signal_connect (drag, "drag-begin", begin, self);
  g_signal_connect (drag, "drag-update", update, self);
  g_signal_connect (drag, "drag-end", end, self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  return drag;
}

/* In one group with the drag: a finger that drags already may still be joined by a second. */
static void
add_touch (BlCanvas *self, GtkGesture *drag)
{
  GtkGesture *pinch = gtk_gesture_zoom_new (), *hold = gtk_gesture_long_press_new ();

  gtk_gesture_single_set_exclusive (GTK_GESTURE_SINGLE (hold), TRUE);
  g_signal_connect (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (pinch_cb), self);
  g_signal_connect (hold, "pressed", G_CALLBACK (long_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pinch));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (hold));
  gtk_gesture_group (pinch, drag);
  gtk_gesture_group (hold, drag);
}

void
bl_canvas_add_controllers (BlCanvas *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (
      GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES | GTK_EVENT_CONTROLLER_SCROLL_KINETIC);
  GtkGesture *secondary = gtk_gesture_click_new (), *drag;
  GtkDropTarget *drop = gtk_drop_target_new (G_TYPE_STRING, GDK_ACTION_COPY);

  drag = add_drag (self, GDK_BUTTON_PRIMARY, G_CALLBACK (primary_begin_cb),
                   G_CALLBACK (primary_update_cb), G_CALLBACK (primary_end_cb));
  g_signal_connect (drag, "cancel", G_CALLBACK (primary_cancel_cb), self);
  add_touch (self, drag);
  add_drag (self, GDK_BUTTON_MIDDLE, G_CALLBACK (middle_begin_cb), G_CALLBACK (middle_update_cb),
            G_CALLBACK (middle_end_cb));
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (secondary), GDK_BUTTON_SECONDARY);
  g_signal_connect (secondary, "pressed", G_CALLBACK (secondary_pressed_cb), self);
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (leave_cb), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  g_signal_connect (drop, "drop", G_CALLBACK (dropped_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (secondary));
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
  bl_canvas_add_keys (self);
}
