/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Work on another thread for something that only the main thread may let go of. */

#include "config.h"

#include "studio/work.h"

typedef struct
{
  GObject *source;
  GAsyncReadyCallback done;
  gpointer data;
} Work;

static void
done_cb (GObject *nothing, GAsyncResult *result, gpointer data)
{
  Work *work = data;

  if (work->done != NULL)
    work->done (work->source, result, work->data);
  g_clear_object (&work->source);
  g_free (work);
}

GTask *
bl_work_new (gpointer source, GCancellable *cancellable, GAsyncReadyCallback done, gpointer data)
{
  Work *work = g_new0 (Work, 1);

  g_set_object (&work->source, source);
  work->done = done;
  work->data = data;
  return g_task_new (NULL, cancellable, done_cb, work);
}
