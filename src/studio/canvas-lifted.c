/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The planting that is dragged, over the baked picture. A few plants are drawn in every frame; many
 * are drawn into a picture on another thread, which moves and stretches with the drag and is drawn
 * again as soon as perspective would show. */

#include "config.h"

#include "studio/canvas-private.h"
#include "studio/work.h"

#define FEW 6             /* plants drawn in every frame */
#define MOST 4000000      /* pixels of a picture */
#define STALE_SHARE 0.008 /* of size */
#define STALE_WAY 0.25    /* metres */

typedef struct
{
  gatomicrefcount refs;
  BlScene *scene;
  BlStamps *stamps;
  gint64 id;
  double zoom;
  BlPoint anchor; /* plan: the middle of its plants */
  BlPoint by;
  BlRect box;          /* device pixels from the anchor's place */
  GdkTexture *texture; /* written by the worker, read when it has ended */
} Picture;

struct _BlLifted
{
  Picture *shown, *coming;
  gint64 id;
  BlScene *scene;
  double zoom;
  BlPoint anchor;
  guint n;
};

static Picture *
picture_ref (Picture *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

static void
picture_unref (gpointer data)
{
  Picture *self = data;

  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  bl_scene_unref (self->scene);
  bl_stamps_unref (self->stamps);
  g_clear_object (&self->texture);
  g_free (self);
}

void
bl_canvas_drop_lifted (BlCanvas *self)
{
  struct _BlLifted *lifted = g_steal_pointer (&self->lifted);

  if (lifted == NULL)
    return;
  g_clear_pointer (&lifted->shown, picture_unref);
  g_clear_pointer (&lifted->coming, picture_unref);
  bl_scene_unref (lifted->scene);
  g_free (lifted);
}

/* Document units a metre at a point of the plan; 0 = not in sight. */
static double
scale_at (const BlScene *scene, BlPoint plan)
{
  double metres;

  if (scene->view == BL_VIEW_PLAN)
    return 1;
  metres = bl_camera_metres_per_pixel (bl_model_camera (scene->model), plan);
  return metres > 0 && isfinite (metres) ? 1 / metres : 0;
}

/* Document box of the planting moved @by, with room for what leans out. */
static BlRect
moved_box (const BlScene *scene, gint64 id, BlPoint by)
{
  BlRect box = BL_RECT_EMPTY;

  for (guint i = 0; i < scene->items->len; i++)
    {
      const BlSceneItem *item = &g_array_index (scene->items, BlSceneItem, i);
      const BlPlaced *placed;
      BlPoint seen;
      double grow = 1.3;

      if (item->kind != BL_ITEM_PLANT || item->id != id)
        continue;
      placed = &g_array_index (scene->layout->placed, BlPlaced, item->placed);
      if (!bl_scene_from_plan (scene, bl_add (placed->at, by), &seen))
        continue;
      if (scene->view == BL_VIEW_PHOTO && item->scale > 0)
        grow *= scale_at (scene, bl_add (placed->at, by)) / item->scale;
      box = bl_rect_union (box, (BlRect){ seen.x + (item->box.x0 - item->base.x) * grow,
                                          seen.y + (item->box.y0 - item->base.y) * grow,
                                          seen.x + (item->box.x1 - item->base.x) * grow,
                                          seen.y + (item->box.y1 - item->base.y) * grow });
    }
  return box;
}

/* The same in device pixels from the document's origin. */
static BlRect
device_box (const BlScene *scene, BlRect box, double zoom)
{
  double sign = scene->view == BL_VIEW_PLAN ? -1 : 1, a = sign * box.y0 * zoom,
         b = sign * box.y1 * zoom;

  return (BlRect){ floor (box.x0 * zoom) - 8, floor (MIN (a, b)) - 8, ceil (box.x1 * zoom) + 8,
                   ceil (MAX (a, b)) + 8 };
}

static BlPoint
device_point (const BlScene *scene, BlPoint document, double zoom)
{
  return BL_POINT (document.x * zoom, (scene->view == BL_VIEW_PLAN ? -1 : 1) * document.y * zoom);
}

static void
draw_picture (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Picture *self = data;
  BlPaintOptions options = { .cache = self->stamps->cache };
  BlRect box = moved_box (self->scene, self->id, self->by), device;
  g_autoptr (GBytes) bytes = NULL;
  cairo_surface_t *surface;
  BlPoint at, seen;
  int width, height, stride;
  cairo_t *cr;

  device = device_box (self->scene, box, self->zoom);
  if (bl_rect_is_empty (box) || (device.x1 - device.x0) * (device.y1 - device.y0) > MOST
      || !bl_scene_from_plan (self->scene, bl_add (self->anchor, self->by), &seen))
    {
      g_task_return_boolean (task, FALSE);
      return;
    }
  width = (int)(device.x1 - device.x0), height = (int)(device.y1 - device.y0);
  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cr = cairo_create (surface);
  cairo_translate (cr, -device.x0, -device.y0);
  cairo_scale (cr, self->zoom, self->zoom);
  bl_scene_paint_planting (self->scene, cr, self->id, self->by, self->zoom, &options);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  stride = cairo_image_surface_get_stride (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface),
                                      (gsize)stride * (gsize)height,
                                      (GDestroyNotify)cairo_surface_destroy, surface);
  at = device_point (self->scene, seen, self->zoom);
  self->box = (BlRect){ device.x0 - at.x, device.y0 - at.y, device.x1 - at.x, device.y1 - at.y };
  self->texture = gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, (gsize)stride);
  g_task_return_boolean (task, TRUE);
}

static void
drawn_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlCanvas *self = BL_CANVAS (source);
  Picture *picture = g_task_get_task_data (G_TASK (result));

  if (self->lifted == NULL || self->lifted->coming != picture)
    return;
  if (picture->texture != NULL)
    {
      g_clear_pointer (&self->lifted->shown, picture_unref);
      self->lifted->shown = picture_ref (picture);
    }
  g_clear_pointer (&self->lifted->coming, picture_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
ask (BlCanvas *self, BlPoint by)
{
  struct _BlLifted *lifted = self->lifted;
  Picture *picture = g_new0 (Picture, 1);
  g_autoptr (GTask) task = bl_work_new (self, NULL, drawn_cb, NULL);

  g_atomic_ref_count_init (&picture->refs);
  picture->scene = bl_scene_ref (lifted->scene);
  picture->stamps = bl_stamps_ref (self->stamps);
  picture->id = lifted->id;
  picture->zoom = lifted->zoom;
  picture->anchor = lifted->anchor;
  picture->by = by;
  lifted->coming = picture;
  g_task_set_source_tag (task, ask);
  g_task_set_task_data (task, picture_ref (picture), picture_unref);
  g_task_run_in_thread (task, draw_picture);
}

/* The state kept of a drag, made anew when it is another one or the zoom changed. */
static struct _BlLifted *
need (BlCanvas *self, gint64 id)
{
  struct _BlLifted *lifted = self->lifted;
  double zoom = bl_canvas_viewport (self)->zoom;

  if (lifted != NULL && lifted->id == id && lifted->scene == self->scene && lifted->zoom == zoom)
    return lifted;
  bl_canvas_drop_lifted (self);
  self->lifted = lifted = g_new0 (struct _BlLifted, 1);
  lifted->id = id;
  lifted->scene = bl_scene_ref (self->scene);
  lifted->zoom = zoom;
  for (guint i = 0; i < self->scene->layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (self->scene->layout->placed, BlPlaced, i);

      if (placed->planting_id != id)
        continue;
      lifted->anchor = bl_add (lifted->anchor, placed->at);
      lifted->n++;
    }
  lifted->anchor = bl_mul (lifted->anchor, 1.0 / MAX (1, lifted->n));
  return lifted;
}

/* The picture where it is now; FALSE when there is none. Asks for another when it is too old. */
static gboolean
snapshot_picture (BlCanvas *self, GtkSnapshot *snapshot, BlPoint by)
{
  struct _BlLifted *lifted = self->lifted;
  const BlViewport *viewport = bl_canvas_viewport (self);
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  Picture *shown = lifted->shown;
  double now = scale_at (lifted->scene, bl_add (lifted->anchor, by)), k;
  BlPoint at, seen;

  if (now <= 0 || !bl_scene_from_plan (lifted->scene, bl_add (lifted->anchor, by), &seen))
    return FALSE;
  k = shown != NULL ? now / scale_at (lifted->scene, bl_add (lifted->anchor, shown->by)) : 0;
  if (lifted->coming == NULL
      && (shown == NULL || fabs (k - 1) > STALE_SHARE || bl_dist (shown->by, by) > STALE_WAY))
    ask (self, by);
  if (shown == NULL)
    return FALSE;
  at = bl_viewport_to_device (viewport, seen);
  gtk_snapshot_append_texture (
      snapshot, shown->texture,
      &GRAPHENE_RECT_INIT ((float)(round (at.x + shown->box.x0 * k) / sf),
                           (float)(round (at.y + shown->box.y0 * k) / sf),
                           (float)(round ((shown->box.x1 - shown->box.x0) * k) / sf),
                           (float)(round ((shown->box.y1 - shown->box.y0) * k) / sf)));
  return TRUE;
}

static void
snapshot_plants (BlCanvas *self, GtkSnapshot *snapshot, gint64 id, BlPoint by)
{
  const BlViewport *viewport = bl_canvas_viewport (self);
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  BlPaintOptions options = { .cache = self->stamps->cache };
  BlRect box = moved_box (self->scene, id, by), device;
  graphene_rect_t bounds, all
      = GRAPHENE_RECT_INIT (0, 0, (float)gtk_widget_get_width (GTK_WIDGET (self)),
                            (float)gtk_widget_get_height (GTK_WIDGET (self)));
  cairo_t *cr;

  if (bl_rect_is_empty (box))
    return;
  device = device_box (self->scene, box, viewport->zoom);
  bounds = GRAPHENE_RECT_INIT ((float)((device.x0 + viewport->ox) / sf),
                               (float)((device.y0 + viewport->oy) / sf),
                               (float)((device.x1 - device.x0) / sf),
                               (float)((device.y1 - device.y0) / sf));
  if (!graphene_rect_intersection (&bounds, &all, &bounds))
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  cairo_translate (cr, viewport->ox / sf, viewport->oy / sf);
  cairo_scale (cr, viewport->zoom / sf, viewport->zoom / sf);
  bl_scene_paint_planting (self->scene, cr, id, by, viewport->zoom, &options);
  cairo_destroy (cr);
}

void
bl_canvas_snapshot_lifted (BlCanvas *self, GtkSnapshot *snapshot)
{
  BlPoint by;
  gint64 id = bl_board_get_lift (self->board, &by);

  if (self->scene == NULL || self->scene->view != bl_canvas_viewport (self)->view)
    return;
  if (need (self, id)->n <= FEW || !snapshot_picture (self, snapshot, by))
    snapshot_plants (self, snapshot, id, by);
}
