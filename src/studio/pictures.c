/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pixels of a board's photo and base drawing, read and decoded on another thread. */

#include "config.h"

#include "studio/board-private.h"
#include "studio/work.h"

typedef struct
{
  char *path;    /* of the design; NULL = @bytes were read before */
  GBytes *bytes; /* or NULL */
  BlPictures which;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  g_clear_pointer (&job->bytes, g_bytes_unref);
  g_free (job->path);
  g_free (job);
}

static void
decode (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  g_autoptr (GError) error = NULL;
  BlImage *image = NULL;

  if (job->bytes == NULL)
    job->bytes = bl_design_read_picture (job->path, job->which == BL_PICTURES_DRAWING, &error);
  if (job->bytes != NULL)
    image = bl_image_decode (job->bytes, cancellable, &error);
  if (error == NULL && image == NULL)
    g_task_return_pointer (task, NULL, NULL);
  else if (image == NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_pointer (task, image, (GDestroyNotify) bl_image_unref);
}

static void
stop (BlBoard *self, BlPictures which)
{
  if (self->picture_jobs[which] != NULL)
    g_cancellable_cancel (self->picture_jobs[which]);
  g_clear_object (&self->picture_jobs[which]);
}

static void decoded_cb (GObject *source, GAsyncResult *result, gpointer data);

static void
start (BlBoard *self, Job *job)
{
  g_autoptr (GTask) task = NULL;

  self->picture_jobs[job->which] = g_cancellable_new ();
  task = bl_work_new (self, self->picture_jobs[job->which], decoded_cb, NULL);
  g_task_set_source_tag (task, start);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, decode);
}

static void
read_here (BlBoard *self, BlPictures which)
{
  g_autoptr (GError) error = NULL;
  GBytes *bytes = which == BL_PICTURES_PHOTO ? bl_design_photo_bytes (self->design, &error)
                                             : bl_design_drawing_bytes (self->design, &error);
  Job *job;

  bl_board_report (self, error);
  if (bytes == NULL)
    return;
  job = g_new0 (Job, 1);
  job->bytes = bytes;
  job->which = which;
  start (self, job);
}

static void
decoded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlBoard *self = BL_BOARD (source);
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  g_autoptr (BlImage) image = g_task_propagate_pointer (G_TASK (result), &error);

  if (self->picture_jobs[job->which] != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->picture_jobs[job->which]);
  /* A file that was moved away is still open here. */
  if (error != NULL && job->bytes == NULL && job->path != NULL)
    {
      read_here (self, job->which);
      return;
    }
  bl_board_report (self, error);
  if (image == NULL)
    return;
  g_clear_pointer (&self->pictures[job->which], bl_image_unref);
  self->pictures[job->which] = g_steal_pointer (&image);
  bl_board_ask_for_scene (self);
  bl_board_emit (self, BL_BOARD_PHOTO);
}

void
bl_board_ask_for_picture (BlBoard *self, BlPictures which)
{
  const BlModel *model = bl_design_get_model (self->design);
  const char *path = bl_design_get_path (self->design);
  Job *job;

  stop (self, which);
  if (which == BL_PICTURES_DRAWING)
    self->drawing_shown = model->drawing.picture;
  if (which == BL_PICTURES_PHOTO ? model->photo.width == 0 : model->drawing.picture == 0)
    g_clear_pointer (&self->pictures[which], bl_image_unref);
  else if (path == NULL)
    read_here (self, which);
  else
    {
      job = g_new0 (Job, 1);
      job->path = g_strdup (path);
      job->which = which;
      start (self, job);
    }
}

void
bl_board_drop_pictures (BlBoard *self)
{
  for (int i = 0; i < BL_PICTURES_N; i++)
    {
      stop (self, (BlPictures) i);
      g_clear_pointer (&self->pictures[i], bl_image_unref);
    }
}

BlImage *
bl_board_get_photo (BlBoard *self)
{
  return self->pictures[BL_PICTURES_PHOTO];
}

BlImage *
bl_board_get_drawing (BlBoard *self)
{
  return self->pictures[BL_PICTURES_DRAWING];
}
