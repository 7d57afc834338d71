/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas: the photo or the plan with everything on it, seen and worked on. */

#include "config.h"

#include "studio/canvas-private.h"

#include <glib/gi18n.h>

#define SETTLE_MS 120

G_DEFINE_FINAL_TYPE (BlCanvas, bl_canvas, GTK_TYPE_WIDGET)

enum
{
  LOOKED,
  HINT,
  MENU,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static BlView
shown_view (BlCanvas *self)
{
  if (self->board != NULL)
    return bl_board_get_view (self->board);
  return self->scene != NULL ? self->scene->view : BL_VIEW_PHOTO;
}

BlViewport *
bl_canvas_viewport (BlCanvas *self)
{
  return &self->viewports[shown_view (self)];
}

double
bl_canvas_slack (BlCanvas *self)
{
  /* Half of what is hit without looking closely: a pointer's tip, a pen's, a finger's. */
  double reach = self->source == GDK_SOURCE_TOUCHSCREEN ? 22 : self->source == GDK_SOURCE_PEN ? 12 : 8;

  return reach * gtk_widget_get_scale_factor (GTK_WIDGET (self)) / bl_canvas_viewport (self)->zoom;
}

BlPoint
bl_canvas_to_document (BlCanvas *self, double x, double y)
{
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));

  return bl_viewport_to_document (bl_canvas_viewport (self), BL_POINT (x * sf, y * sf));
}

void
bl_canvas_from_document (BlCanvas *self, BlPoint document, double *x, double *y)
{
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  BlPoint p = bl_viewport_to_device (bl_canvas_viewport (self), document);

  *x = p.x / sf;
  *y = p.y / sf;
}

static gboolean
settled_cb (gpointer data)
{
  BlCanvas *self = data;

  self->settle = 0;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

void
bl_canvas_looked (BlCanvas *self, gboolean zoomed)
{
  self->whole[shown_view (self)] = FALSE;
  if (zoomed)
    {
      g_clear_handle_id (&self->settle, g_source_remove);
      self->settle = g_timeout_add (SETTLE_MS, settled_cb, self);
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[LOOKED], 0);
}

void
bl_canvas_update_hint (BlCanvas *self)
{
  g_autofree char *hint = self->hand != NULL ? bl_hand_hint (self->hand) : NULL;

  if (g_strcmp0 (hint, self->hint) == 0)
    return;
  g_free (self->hint);
  self->hint = g_steal_pointer (&hint);
  g_signal_emit (self, signals[HINT], 0);
}

static void
tiles_ready (gpointer data, gpointer unused)
{
  gtk_widget_queue_draw (data);
}

static void
ensure_tiles (BlCanvas *self, BlStamps *stamps)
{
  if (self->tiles == NULL)
    self->tiles = bl_tiles_new (stamps, tiles_ready, self);
}

/* A base drawing that arrives is shown whole; one that is scaled anew stays where it is seen. */
static void
follow_drawing (BlCanvas *self, const BlScene *before, const BlScene *after)
{
  BlViewport *viewport = &self->viewports[BL_VIEW_PLAN];
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));

  /* On the photo nothing is known of it; the plan keeps what the person last saw. */
  if (before == NULL || before->view != BL_VIEW_PLAN || after == NULL || after->drawing == NULL)
    return;
  if (before->drawing != after->drawing)
    {
      self->fitted[BL_VIEW_PLAN] = FALSE;
      self->whole[BL_VIEW_PLAN] = TRUE;
    }
  else if (!bl_camera_equal (&before->model->drawing_camera, &after->model->drawing_camera))
    bl_viewport_keep_drawing (viewport, &before->model->drawing_camera, &after->model->drawing_camera,
                              gtk_widget_get_width (GTK_WIDGET (self)) * sf,
                              gtk_widget_get_height (GTK_WIDGET (self)) * sf);
}

static void
take_scene (BlCanvas *self, BlScene *scene)
{
  if (scene == self->scene)
    return;
  follow_drawing (self, self->scene, scene);
  g_clear_pointer (&self->scene, bl_scene_unref);
  self->scene = scene != NULL ? bl_scene_ref (scene) : NULL;
  if (self->tiles != NULL)
    bl_tiles_set_scene (self->tiles, scene);
  bl_canvas_divider_take_scene (self);
  bl_canvas_drop_standing (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
describe (BlCanvas *self)
{
  g_autofree char *words = self->board != NULL ? bl_board_describe (self->board) : NULL;

  if (words != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                    words, -1);
}

static void
board_changed_cb (BlBoard *board, guint what, BlCanvas *self)
{
  if ((what & BL_BOARD_SCENE) != 0)
    take_scene (self, bl_board_get_scene (board));
  if ((what & BL_BOARD_LIFT) != 0 && self->tiles != NULL)
    bl_tiles_lift (self->tiles, bl_board_get_lift (board, NULL));
  if ((what & (BL_BOARD_VIEW | BL_BOARD_PEN | BL_BOARD_ALTERNATIVE)) != 0 && self->hand != NULL
      && (what & BL_BOARD_PEN) == 0)
    bl_hand_cancel (self->hand);
  if (what != BL_BOARD_LIFT)
    bl_canvas_drop_standing (self);
  if ((what & (BL_BOARD_SUN | BL_BOARD_MODEL)) != 0)
    bl_canvas_drop_sun (self);
  if ((what & (BL_BOARD_SCENE | BL_BOARD_SELECTION | BL_BOARD_MODEL)) != 0)
    describe (self);
  bl_canvas_update_hint (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
bl_canvas_set_board (BlCanvas *self, BlBoard *board)
{
  if (self->board == board)
    return;
  bl_canvas_commit_nudge (self);
  g_clear_pointer (&self->hand, bl_hand_free);
  if (self->board != NULL)
    g_clear_signal_handler (&self->board_changed, self->board);
  take_scene (self, NULL);
  g_clear_pointer (&self->tiles, bl_tiles_free);
  bl_canvas_set_divided (self, FALSE);
  g_clear_object (&self->board);
  self->fitted[0] = self->fitted[1] = FALSE;
  self->whole[0] = self->whole[1] = TRUE;
  if (board == NULL)
    return;
  self->board = g_object_ref (board);
  self->board_changed = g_signal_connect (board, "changed", G_CALLBACK (board_changed_cb), self);
  self->stamps = bl_board_get_stamps (board);
  ensure_tiles (self, self->stamps);
  take_scene (self, bl_board_get_scene (board));
  bl_canvas_set_hand (self, "select");
  describe (self);
}

BlBoard *
bl_canvas_get_board (BlCanvas *self)
{
  return self->board;
}

void
bl_canvas_show_scene (BlCanvas *self, BlScene *scene, BlStamps *stamps)
{
  g_return_if_fail (self->board == NULL);
  ensure_tiles (self, stamps);
  take_scene (self, scene);
}

void
bl_canvas_set_hand (BlCanvas *self, const char *name)
{
  if (self->board == NULL || (self->hand != NULL && g_str_equal (self->hand->klass->name, name)))
    return;
  bl_canvas_commit_nudge (self);
  if (self->hand != NULL)
    bl_hand_cancel (self->hand);
  g_clear_pointer (&self->hand, bl_hand_free);
  self->hand = bl_hand_new (name, self->board);
  self->cross_shown = FALSE;
  if (self->hand != NULL)
    {
      gtk_widget_set_cursor_from_name (GTK_WIDGET (self), self->hand->klass->cursor);
      self->hand->slack = bl_canvas_slack (self);
    }
  bl_canvas_drop_standing (self);
  bl_canvas_update_hint (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

BlHand *
bl_canvas_get_hand (BlCanvas *self)
{
  return self->hand;
}

const char *
bl_canvas_get_hint (BlCanvas *self)
{
  return self->hint;
}

void
bl_canvas_cancel (BlCanvas *self)
{
  if (self->hand != NULL)
    bl_hand_cancel (self->hand);
  self->cross_shown = FALSE;
  bl_canvas_update_hint (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The beds with some of what is around them. */
static BlRect
beds_extent (const BlScene *scene)
{
  BlRect beds = BL_RECT_EMPTY, e = scene->extent;
  double margin;

  for (guint i = 0; i < scene->items->len; i++)
    {
      const BlSceneItem *item = &g_array_index (scene->items, BlSceneItem, i);

      if (item->kind == BL_ITEM_GROUND)
        beds = bl_rect_union (beds, item->box);
    }
  if (bl_rect_is_empty (beds))
    return e;
  margin = (beds.x1 - beds.x0) * (scene->view == BL_VIEW_PHOTO ? 0.08 : 0.05);
  beds = bl_rect_grow (beds, margin);
  if (scene->view == BL_VIEW_PHOTO)
    {
      /* What stands behind the bed is the taller part of the picture. */
      beds.y0 -= (beds.y1 - beds.y0) * 0.5;
      beds = (BlRect){ MAX (beds.x0, e.x0), MAX (beds.y0, e.y0), MIN (beds.x1, e.x1),
                       MIN (beds.y1, e.y1) };
    }
  return bl_rect_is_empty (beds) ? e : beds;
}

static BlRect
extent_of (BlCanvas *self)
{
  const BlModel *model;

  /* Where one only looks, the beds matter, not everything around them. */
  if (self->board == NULL && self->scene != NULL)
    return beds_extent (self->scene);
  if (self->scene != NULL && self->scene->view == shown_view (self)
      && !bl_rect_is_empty (self->scene->extent))
    return self->scene->extent;
  if (self->board == NULL)
    return (BlRect) { 0, 0, 10, 10 };
  model = bl_board_get_model (self->board);
  if (shown_view (self) == BL_VIEW_PHOTO && model->photo.width > 0)
    return (BlRect) { 0, 0, model->photo.width, model->photo.height };
  return bl_model_extent (model);
}

void
bl_canvas_fit (BlCanvas *self)
{
  BlViewport *viewport = bl_canvas_viewport (self);
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  int height = gtk_widget_get_height (GTK_WIDGET (self));

  viewport->view = shown_view (self);
  if (width <= 0 || height <= 0)
    return;
  bl_viewport_fit (viewport, extent_of (self), width * sf, height * sf,
                   (self->board != NULL ? 18 : 2) * sf);
  self->fitted[viewport->view] = self->scene != NULL && self->scene->view == viewport->view;
  bl_canvas_looked (self, FALSE);
  self->whole[viewport->view] = TRUE;
}

void
bl_canvas_zoom_by (BlCanvas *self, double factor)
{
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  BlPoint middle = BL_POINT (gtk_widget_get_width (GTK_WIDGET (self)) * sf / 2.0,
                             gtk_widget_get_height (GTK_WIDGET (self)) * sf / 2.0);

  bl_viewport_zoom_at (bl_canvas_viewport (self), middle, bl_canvas_viewport (self)->zoom * factor);
  bl_canvas_looked (self, TRUE);
}

void
bl_canvas_zoom_full (BlCanvas *self)
{
  double wanted = shown_view (self) == BL_VIEW_PLAN
                    ? 96 / 0.0254 / 50 * gtk_widget_get_scale_factor (GTK_WIDGET (self)) : 1;

  bl_canvas_zoom_by (self, wanted / bl_canvas_viewport (self)->zoom);
}

double
bl_canvas_get_zoom (BlCanvas *self)
{
  return bl_canvas_viewport (self)->zoom;
}

const BlViewport *
bl_canvas_get_viewport (BlCanvas *self)
{
  return bl_canvas_viewport (self);
}

void
bl_canvas_set_viewport (BlCanvas *self, const BlViewport *viewport)
{
  BlViewport *own = &self->viewports[viewport->view];
  gboolean zoomed = own->zoom != viewport->zoom;

  *own = *viewport;
  self->fitted[viewport->view] = TRUE;
  self->whole[viewport->view] = FALSE;
  if (zoomed)
    {
      g_clear_handle_id (&self->settle, g_source_remove);
      self->settle = g_timeout_add (SETTLE_MS, settled_cb, self);
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
bl_canvas_is_fresh (BlCanvas *self)
{
  return self->tiles != NULL && self->settle == 0 && bl_tiles_are_fresh (self->tiles)
         && (self->board == NULL || bl_board_is_settled (self->board));
}

gboolean
bl_canvas_is_complete (BlCanvas *self)
{
  return self->tiles != NULL && self->settle == 0 && bl_tiles_are_complete (self->tiles)
         && (self->board == NULL || bl_board_is_settled (self->board));
}

static void
snapshot_sheet (BlCanvas *self, GtkSnapshot *snapshot, double sf)
{
  static const GdkRGBA paper = { 0.988f, 0.980f, 0.957f, 1 };
  const BlViewport *viewport = bl_canvas_viewport (self);
  BlRect e;
  BlPoint a, b;
  graphene_rect_t rect;

  if (viewport->view == BL_VIEW_PLAN)
    return;
  e = self->board == NULL && self->scene != NULL ? self->scene->extent : extent_of (self);
  a = bl_viewport_to_device (viewport, BL_POINT (e.x0, e.y0));
  b = bl_viewport_to_device (viewport, BL_POINT (e.x1, e.y1));
  rect = GRAPHENE_RECT_INIT ((float) (a.x / sf), (float) (a.y / sf), (float) ((b.x - a.x) / sf),
                             (float) ((b.y - a.y) / sf));
  /* A soft edge of lines: a blurred shadow would be blurred again in every frame. */
  for (int i = 1; i <= 5; i++)
    {
      GskRoundedRect ring
          = GSK_ROUNDED_RECT_INIT (rect.origin.x - (float)i, rect.origin.y - (float)i + 1,
                                   rect.size.width + 2 * (float)i, rect.size.height + 2 * (float)i);
      GdkRGBA shade = { 0, 0, 0, 0.12f / (float)i };

      gtk_snapshot_append_border (snapshot, &ring, (float[4]){ 1, 1, 1, 1 },
                                  (GdkRGBA[4]){ shade, shade, shade, shade });
    }
  if (self->tiles == NULL || !bl_tiles_are_covering (self->tiles))
    gtk_snapshot_append_color (snapshot, &paper, &rect);
}

/* What the hand shows, and the keyboard's pointer. */
static void
snapshot_hand (BlCanvas *self, GtkSnapshot *snapshot)
{
  g_autoptr (BlMarks) marks = bl_marks_new ();
  BlPoint at = self->cross;
  double r;

  self->hand->slack = bl_canvas_slack (self);
  r = 2 * self->hand->slack;
  bl_hand_marks (self->hand, marks);
  if (self->cross_shown)
    {
      bl_marks_add_segment (marks, BL_INK_SELECTED, FALSE, BL_POINT (at.x - r, at.y),
                            BL_POINT (at.x + r, at.y));
      bl_marks_add_segment (marks, BL_INK_SELECTED, FALSE, BL_POINT (at.x, at.y - r),
                            BL_POINT (at.x, at.y + r));
    }
  if (bl_canvas_is_divided (self))
    bl_canvas_push_after (self, snapshot);
  bl_canvas_snapshot_marks (self, snapshot, marks);
  if (bl_canvas_is_divided (self))
    gtk_snapshot_pop (snapshot);
  bl_canvas_snapshot_loupe (self, snapshot);
}

static void
bl_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BlCanvas *self = BL_CANVAS (widget);
  GdkRGBA desk = { 0.890f, 0.871f, 0.824f, 1 };
  static const GdkRGBA plan_paper = { 0.980f, 0.972f, 0.949f, 1 }; /* as the plan is painted */
  int sf = gtk_widget_get_scale_factor (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  BlViewport *viewport = bl_canvas_viewport (self);
  graphene_rect_t all = GRAPHENE_RECT_INIT (0, 0, width, height);

  viewport->view = shown_view (self);
  gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), "bl_desk", &desk);
  if (!self->fitted[viewport->view])
    {
      bl_viewport_fit (viewport, extent_of (self), width * sf, height * sf,
                       (self->board != NULL ? 18 : 2) * sf);
      self->fitted[viewport->view] = self->scene != NULL && self->scene->view == viewport->view;
    }
  gtk_snapshot_push_clip (snapshot, &all);
  gtk_snapshot_append_color (snapshot, viewport->view == BL_VIEW_PLAN ? &plan_paper : &desk, &all);
  snapshot_sheet (self, snapshot, sf);
  if (self->tiles != NULL)
    bl_tiles_snapshot (self->tiles, snapshot, viewport, width * sf, height * sf, sf,
                       self->settle == 0);
  if (bl_canvas_is_divided (self))
    bl_canvas_snapshot_before (self, snapshot);
  else
    {
      bl_canvas_snapshot_sun (self, snapshot);
      bl_canvas_snapshot_standing (self, snapshot);
    }
  if (self->board != NULL && bl_board_get_lift (self->board, NULL) != 0)
    bl_canvas_snapshot_lifted (self, snapshot);
  else
    bl_canvas_drop_lifted (self);
  if (self->hand != NULL)
    snapshot_hand (self, snapshot);
  if (bl_canvas_is_divided (self))
    gtk_widget_snapshot_child (widget, self->divider, snapshot);
  else
    bl_canvas_snapshot_sun_key (self, snapshot);
  gtk_snapshot_pop (snapshot);
}

static void
bl_canvas_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 120 : 90;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 640 : 480;
}

static void
bl_canvas_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  BlCanvas *self = BL_CANVAS (widget);

  bl_canvas_allocate_divider (self, width, height);
  /* Who sees the whole goes on seeing the whole. */
  for (int view = 0; view < 2; view++)
    if (self->whole[view])
      self->fitted[view] = FALSE;
}

static void
bl_canvas_dispose (GObject *object)
{
  BlCanvas *self = BL_CANVAS (object);

  g_clear_handle_id (&self->settle, g_source_remove);
  g_clear_handle_id (&self->nudge_timer, g_source_remove);
  bl_canvas_set_board (self, NULL);
  bl_canvas_set_divided (self, FALSE);
  take_scene (self, NULL);
  g_clear_pointer (&self->tiles, bl_tiles_free);
  bl_canvas_drop_standing (self);
  bl_canvas_drop_lifted (self);
  bl_canvas_drop_sun (self);
  g_clear_pointer (&self->hint, g_free);
  G_OBJECT_CLASS (bl_canvas_parent_class)->dispose (object);
}

static void
bl_canvas_class_init (BlCanvasClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = bl_canvas_dispose;
  widget_class->snapshot = bl_canvas_snapshot;
  widget_class->measure = bl_canvas_measure;
  widget_class->size_allocate = bl_canvas_size_allocate;
  signals[LOOKED] = g_signal_new ("looked", BL_TYPE_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 0);
  signals[HINT] = g_signal_new ("hint", BL_TYPE_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 0);
  signals[MENU] = g_signal_new ("menu", BL_TYPE_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  gtk_widget_class_set_css_name (widget_class, "canvas");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
bl_canvas_init (BlCanvas *self)
{
  self->viewports[0] = (BlViewport) { BL_VIEW_PHOTO, 0.25, 0, 0 };
  self->viewports[1] = (BlViewport) { BL_VIEW_PLAN, 60, 0, 0 };
  self->whole[0] = self->whole[1] = TRUE;
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Drawing"), -1);
  bl_canvas_add_controllers (self);
}

GtkWidget *
bl_canvas_new (void)
{
  return g_object_new (BL_TYPE_CANVAS, NULL);
}
