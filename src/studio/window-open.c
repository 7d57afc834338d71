/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opening a design: read and checked on another thread. What is open stays until the new one is
 * there, and stays when that fails or is stopped. */

#include "config.h"

#include "studio/window-private.h"
#include "studio/work.h"

#include <glib/gi18n.h>

typedef struct
{
  char *path;
  void (*then) (BlWindow *window);
} Opening;

static void
opening_free (gpointer data)
{
  Opening *opening = data;

  g_free (opening->path);
  g_free (opening);
}

static void
open_design (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Opening *opening = data;
  g_autoptr (GError) error = NULL;
  /* Its connection is handed over whole: nobody else uses it here. */
  BlDesign *design = bl_design_open (opening->path, &error);

  if (design != NULL)
    g_task_return_pointer (task, design, g_object_unref);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlWindow *self = BL_WINDOW (source);
  const Opening *opening = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  g_autoptr (BlDesign) design = g_task_propagate_pointer (G_TASK (result), &error);

  g_clear_pointer (&self->opening, g_free);
  /* The window was closed meanwhile. */
  if (self->parts == NULL)
    return;
  bl_window_end_job (self);
  if (design != NULL)
    {
      bl_window_show_design (self, design, FALSE, BL_STAGE_PHOTO);
      if (opening->then != NULL)
        opening->then (self);
      return;
    }
  bl_window_show_page (self);
  if (!bl_window_is_stopped (error))
    bl_window_say (self, error->message, TRUE, NULL, NULL);
}

void
bl_window_open_then (BlWindow *self, const char *path, void (*then) (BlWindow *window))
{
  g_autoptr (GTask) task = NULL;
  Opening *opening;

  if (!bl_window_begin_job (self, _("Opening the design…")))
    return;
  opening = g_new0 (Opening, 1);
  opening->path = g_strdup (path);
  opening->then = then;
  self->opening = g_strdup (path);
  bl_window_show_page (self);
  task = bl_work_new (self, self->job, opened_cb, NULL);
  g_task_set_source_tag (task, bl_window_open_then);
  g_task_set_task_data (task, opening, opening_free);
  g_task_set_return_on_cancel (task, TRUE);
  g_task_run_in_thread (task, open_design);
  bl_window_need_design_page (self);
}

gboolean
bl_window_is_opening (BlWindow *self)
{
  return self->opening != NULL;
}

void
bl_window_open (BlWindow *self, const char *path)
{
  g_autofree char *type = g_content_type_guess (path, NULL, 0, NULL);

  if (g_content_type_is_a (type, "image/svg+xml"))
    bl_window_take_drawing (self, path, FALSE);
  else if (g_content_type_is_a (type, "image/jpeg") || g_content_type_is_a (type, "image/png"))
    bl_window_take_photo (self, path, TRUE);
  else
    bl_window_open_then (self, path, NULL);
}
