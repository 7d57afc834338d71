/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bringing in a base drawing: chosen or dropped, read and drawn on another thread. */

#include "config.h"

#include "studio/window-private.h"

#include "base/file.h"
#include "studio/underlay.h"
#include "studio/work.h"

#include <glib/gi18n.h>

typedef struct
{
  char *path;
  GBytes *picture;
  gboolean new_design;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  g_clear_pointer (&job->picture, g_bytes_unref);
  g_free (job->path);
  g_free (job);
}

/* Decoded too before anything is stored, so that what is no picture changes nothing. */
static void
read_drawing (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (BlImage) image = NULL;
  char *contents = NULL;
  gsize length = 0;

  if (bl_file_read (job->path, BL_IMAGE_MAX_BYTES, &contents, &length, &error))
    {
      bytes = g_bytes_new_take (contents, length);
      job->picture = bl_drawing_picture (bytes, cancellable, &error);
    }
  if (job->picture != NULL)
    image = bl_image_decode (job->picture, cancellable, &error);
  if (image == NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_boolean (task, TRUE);
}

static void
drawing_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlWindow *self = BL_WINDOW (source);
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean good = g_task_propagate_boolean (G_TASK (result), &error);
  g_autofree char *name = g_path_get_basename (job->path);

  bl_window_end_job (self);
  if (!good)
    {
      if (!bl_window_is_stopped (error))
        bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  if (self->board == NULL || job->new_design)
    bl_window_new_design (self, BL_STAGE_KNOWN);
  if (self->board == NULL || !bl_board_take_drawing (self->board, job->picture, name))
    return;
  bl_board_set_stage (self->board, BL_STAGE_KNOWN);
  bl_canvas_fit (BL_CANVAS (self->canvas));
  gtk_widget_activate_action (GTK_WIDGET (self), "win.hand", "s", "scale");
}

void
bl_window_take_drawing (BlWindow *self, const char *path, gboolean new_design)
{
  g_autoptr (GTask) task = NULL;
  Job *job;

  if (!bl_window_begin_job (self, _("Reading the drawing…")))
    return;
  job = g_new0 (Job, 1);
  job->path = g_strdup (path);
  job->new_design = new_design;
  task = bl_work_new (self, self->job, drawing_read_cb, NULL);
  g_task_set_source_tag (task, bl_window_take_drawing);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, read_drawing);
}

static void
drawing_chosen (BlWindow *self, const char *path, int new_design)
{
  bl_window_take_drawing (self, path, new_design);
}

void
bl_window_choose_drawing (BlWindow *self, gboolean new_design)
{
  static const char *const patterns[] = { "*.png", "*.jpg", "*.jpeg", "*.svg", NULL };

  bl_window_choose (self, _("Choose a base drawing"), NULL, _("Drawings: PNG, JPEG, SVG"), patterns,
                    new_design, drawing_chosen);
}

void
bl_window_remove_drawing (BlWindow *self)
{
  bl_board_remove_drawing (self->board);
}
