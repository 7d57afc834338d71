/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Work on another thread for something that only the main thread may let go of. */
#pragma once

#include <gio/gio.h>

/* As g_task_new(), but the task does not own @source: it is kept here until @done was called with it, and then let
 * go by the thread that calls @done. A thread that works for a task may drop the task last, and with it the task's
 * source object; a window or a board that was closed meanwhile would then end on that thread. Give the task a
 * function that returns once; the source object of the task itself is NULL. Its task data may still be freed on
 * either thread and so must hold nothing of the interface. */
GTask *bl_work_new (gpointer source, GCancellable *cancellable, GAsyncReadyCallback done, gpointer data);
