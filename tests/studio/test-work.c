/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Work on another thread: who drops the task last must not end the window it was for. */
#include "studio/work.h"

#include "house.h"

typedef struct
{
  GTask *held;     /* the worker's own reference, which a busy machine lets go of late */
  GThread *ended;  /* the thread that ended the source */
  gboolean called;
} Scene;

static void
work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Scene *scene = data;

  g_assert_null (source);
  scene->held = g_object_ref (task);
  g_task_return_int (task, 42);
}

static void
done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Scene *scene = data;

  g_assert_true (G_IS_SIMPLE_ACTION (source));
  g_assert_cmpint (g_task_propagate_int (G_TASK (result), NULL), ==, 42);
  scene->called = TRUE;
}

static void
ended_cb (gpointer data, GObject *was)
{
  ((Scene *) data)->ended = g_thread_self ();
}

static gboolean
is_called (gpointer data)
{
  return ((Scene *) data)->called;
}

static gpointer
let_go (gpointer task)
{
  g_object_unref (task);
  return NULL;
}

/* The source's owner is gone before the work is done, and the worker lets go after everybody else. */
static void
test_ends_where_it_was_asked (void)
{
  Scene scene = { NULL };
  GObject *source = G_OBJECT (g_simple_action_new ("work", NULL));
  GTask *task = bl_work_new (source, NULL, done_cb, &scene);

  g_object_weak_ref (source, ended_cb, &scene);
  g_object_unref (source);
  g_task_set_task_data (task, &scene, NULL);
  g_task_run_in_thread (task, work);
  g_object_unref (task);
  g_assert_true (spin (is_called, &scene));
  rest (20);
  g_thread_join (g_thread_new ("worker", let_go, scene.held));
  g_assert_true (scene.ended == g_thread_self ());
}

static void
test_told_at_once_when_stopped (void)
{
  g_autoptr (GCancellable) stop = g_cancellable_new ();
  Scene scene = { NULL };
  GObject *source = G_OBJECT (g_simple_action_new ("work", NULL));
  GTask *task = bl_work_new (source, stop, NULL, NULL);

  g_object_weak_ref (source, ended_cb, &scene);
  g_object_unref (source);
  g_cancellable_cancel (stop);
  g_assert_true (g_task_return_error_if_cancelled (task));
  g_object_unref (task);
  rest (20);
  g_assert_true (scene.ended == g_thread_self ());
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/studio/work/ends-where-it-was-asked", test_ends_where_it_was_asked);
  g_test_add_func ("/studio/work/told-at-once-when-stopped", test_told_at_once_when_stopped);
  return g_test_run ();
}
