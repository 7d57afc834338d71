/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of what is shown, painted on another thread: to the clipboard, and small ones for the
 * start page. */

#include "config.h"

#include "studio/start.h"
#include "studio/tile-bake.h"
#include "studio/window-private.h"
#include "studio/work.h"

#include <glib/gi18n.h>

#define CLIPBOARD_WIDTH 1600
#define THUMBNAIL_WIDTH 360

typedef struct
{
  BlScene *scene;
  BlStamps *stamps;
  char *path; /* where to keep it; NULL = nowhere */
  int width;
  GWeakRef window;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  bl_scene_unref (job->scene);
  bl_stamps_unref (job->stamps);
  g_weak_ref_clear (&job->window);
  g_free (job->path);
  g_free (job);
}

static void
paint (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  BlRect e = job->scene->extent;
  double zoom = job->width / (e.x1 - e.x0);
  BlTilePiece piece = { .zoom = zoom,
                        .ox = e.x0 * zoom,
                        .oy = (job->scene->view == BL_VIEW_PLAN ? -e.y1 : e.y0) * zoom,
                        .width = job->width,
                        .height = CLAMP ((int)round ((e.y1 - e.y0) * zoom), 1, 8000) };
  g_autoptr (GdkTexture) picture = bl_tile_bake (job->scene, job->stamps, &piece);

  if (picture == NULL)
    {
      g_task_return_new_error (task, BL_ERROR, BL_ERROR_FAILED,
                               _ ("There is not enough memory for the picture"));
      return;
    }
  if (job->path != NULL)
    {
      g_autofree char *folder = g_path_get_dirname (job->path);

      g_mkdir_with_parents (folder, 0700);
      if (!gdk_texture_save_to_png (picture, job->path))
        {
          g_task_return_new_error (task, BL_ERROR, BL_ERROR_FILE,
                                   "The small picture %s could not be kept", job->path);
          return;
        }
    }
  g_task_return_pointer (task, g_steal_pointer (&picture), g_object_unref);
}

/* FALSE when nothing is shown yet. */
static gboolean
ask_for_picture (BlWindow *self, int width, const char *path, GAsyncReadyCallback done)
{
  BlScene *scene = self->board != NULL ? bl_board_get_scene (self->board) : NULL;
  g_autoptr (GTask) task = NULL;
  Job *job;

  if (scene == NULL || !(scene->extent.x1 > scene->extent.x0)
      || !(scene->extent.y1 > scene->extent.y0))
    return FALSE;
  job = g_new0 (Job, 1);
  job->scene = bl_scene_ref (scene);
  job->stamps = bl_stamps_ref (bl_board_get_stamps (self->board));
  job->path = g_strdup (path);
  job->width = width;
  g_weak_ref_init (&job->window, self);
  /* Held while it goes on, so that closing does not cut it short. */
  g_application_hold (G_APPLICATION (self->app));
  task = bl_work_new (self->app, NULL, done, NULL);
  g_task_set_source_tag (task, ask_for_picture);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, paint);
  return TRUE;
}

static void
painted_for_clipboard_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (BlWindow) self = g_weak_ref_get (&job->window);
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkTexture) picture = g_task_propagate_pointer (G_TASK (result), &error);

  g_application_release (G_APPLICATION (source));
  if (self == NULL)
    return;
  if (picture == NULL)
    {
      bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  gdk_clipboard_set_texture (gtk_widget_get_clipboard (GTK_WIDGET (self)), picture);
  bl_window_say (self, _ ("The picture is on the clipboard"), FALSE, NULL, NULL);
}

void
bl_window_copy_picture (BlWindow *self)
{
  if (!ask_for_picture (self, CLIPBOARD_WIDTH, NULL, painted_for_clipboard_cb))
    bl_window_say (self, _ ("The drawing is not ready yet: try again in a moment"), TRUE, NULL,
                   NULL);
}

static void
thumbnail_kept_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (BlWindow) self = g_weak_ref_get (&job->window);
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkTexture) picture = g_task_propagate_pointer (G_TASK (result), &error);

  g_application_release (G_APPLICATION (source));
  if (picture == NULL)
    g_message ("%s", error->message);
  else if (self != NULL && self->board == NULL && self->start != NULL)
    bl_start_refresh (self->start);
}

void
bl_window_keep_thumbnail (BlWindow *self)
{
  const char *path = bl_window_get_path (self);
  g_autofree char *to = path != NULL ? bl_settings_thumbnail_path (path) : NULL;

  if (to != NULL)
    ask_for_picture (self, THUMBNAIL_WIDTH, to, thumbnail_kept_cb);
}
