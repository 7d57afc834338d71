/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas's keys: they nudge, walk through the plantings, move a pointer of their own, zoom. */

#include "config.h"

#include "studio/canvas-private.h"

#define NUDGE_MS 350

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
  BlHandEvent event = { self->cross, bl_canvas_slack (self), bl_canvas_mods (state), 1 };

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
    bl_canvas_acted (self);
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
    bl_canvas_end_pan (self);
}

void
bl_canvas_add_keys (BlCanvas *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  g_signal_connect (keys, "key-released", G_CALLBACK (key_released_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
