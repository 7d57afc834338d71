/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A home of its own for a test with windows, and waiting for what the main loop brings. */
#pragma once

#include <gio/gio.h>
#include <glib/gstdio.h>

/* The sanitizers make everything many times slower. */
#ifdef __SANITIZE_ADDRESS__
#define PATIENCE 120
#else
#define PATIENCE 15
#endif

/* Runs the main loop until @done or PATIENCE seconds have passed. */
static inline gboolean
spin (gboolean (*done) (gpointer), gpointer data)
{
  gint64 end = g_get_monotonic_time () + PATIENCE * G_TIME_SPAN_SECOND;

  while (!done (data) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  return done (data);
}

static inline void
rest (guint ms)
{
  gint64 end = g_get_monotonic_time () + ms * 1000;

  while (g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
}

static inline void
set_home (const char *home)
{
  static const char *const names[]
      = { "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME" };

  g_setenv ("HOME", home, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (home, names[i], NULL);

      g_setenv (names[i], path, TRUE);
    }
}

static inline void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      remove_tree (child);
    }
  g_remove (path);
}
