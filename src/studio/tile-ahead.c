/* SPDX-License-Identifier: GPL-3.0-or-later */
/* While the person looks, the neighbouring months are prepared: the stand-ins of their quick
 * pictures are drawn on another thread, so that the next step in time only has to be painted.
 * Whatever else there is to bake comes first. */

#include "config.h"

#include "studio/tiles-private.h"

#define PAUSE_MS 300

typedef struct
{
  BlTiles *tiles;
  BlScene *scene;
  BlStamps *stamps;
  BlRect clip;
  double zoom;
} Ahead;

static void
ahead_free (gpointer data)
{
  Ahead *ahead = data;

  bl_scene_unref (ahead->scene);
  bl_stamps_unref (ahead->stamps);
  bl_tiles_unref (ahead->tiles);
  g_free (ahead);
}

static void
look_ahead (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  /* A key goes to the middle of the next month; a drag passes what lies between. */
  static const double steps[] = { 1, -1, 0.5, -0.5, 1.5, -1.5, 2, -2 };
  const Ahead *ahead = data;
  double middle = floor (ahead->scene->moment.month) + 0.5;

  for (guint i = 0; i < G_N_ELEMENTS (steps) && !g_cancellable_is_cancelled (cancellable); i++)
    bl_scene_foresee (ahead->scene, ahead->clip, ahead->zoom, middle + steps[i],
                      ahead->stamps->cache, cancellable);
  g_task_return_boolean (task, TRUE);
}

static void
looked_ahead_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Ahead *ahead = g_task_get_task_data (G_TASK (result));
  BlTiles *self = ahead->tiles;

  if (self->ahead_job != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->ahead_job);
  self->ahead_done = TRUE;
}

static gboolean
paused_cb (gpointer data)
{
  BlTiles *self = data;
  g_autoptr (GTask) task = NULL;
  Ahead *ahead;

  self->ahead_wait = 0;
  if (self->scene == NULL || !self->fresh)
    return G_SOURCE_REMOVE;
  ahead = g_new0 (Ahead, 1);
  g_atomic_ref_count_inc (&self->refs);
  ahead->tiles = self;
  ahead->scene = bl_scene_ref (self->scene);
  ahead->stamps = bl_stamps_ref (self->stamps);
  ahead->clip = self->ahead_clip;
  ahead->zoom = self->front.zoom;
  self->ahead_job = g_cancellable_new ();
  task = g_task_new (NULL, self->ahead_job, looked_ahead_cb, NULL);
  g_task_set_source_tag (task, paused_cb);
  g_task_set_priority (task, G_PRIORITY_LOW);
  g_task_set_task_data (task, ahead, ahead_free);
  g_task_run_in_thread (task, look_ahead);
  return G_SOURCE_REMOVE;
}

void
bl_tiles_look_ahead (BlTiles *self, const BlViewport *viewport, int width, int height)
{
  if (self->photo_only || viewport->view != BL_VIEW_PHOTO || self->ahead_done
      || self->ahead_job != NULL)
    return;
  self->ahead_clip = bl_viewport_seen (viewport, width, height);
  g_clear_handle_id (&self->ahead_wait, g_source_remove);
  self->ahead_wait = g_timeout_add (PAUSE_MS, paused_cb, self);
}

void
bl_tiles_stop_ahead (BlTiles *self)
{
  g_clear_handle_id (&self->ahead_wait, g_source_remove);
  if (self->ahead_job != NULL)
    g_cancellable_cancel (self->ahead_job);
  g_clear_object (&self->ahead_job);
  self->ahead_done = FALSE;
}
