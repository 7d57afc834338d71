/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An object that work under way still holds must die when that work is done, and does. */
#pragma once

#include <glib-object.h>

static inline void
assert_dies (gpointer object)
{
  gint64 end = g_get_monotonic_time () + 20 * G_TIME_SPAN_SECOND;
  gpointer seen = object;

  g_object_add_weak_pointer (object, &seen);
  g_object_unref (object);
  while (g_atomic_pointer_get (&seen) != NULL && g_get_monotonic_time () < end)
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (500);
    }
  g_assert_null (seen);
}
