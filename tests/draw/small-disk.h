/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing that fails as on a full disk, and what is found in a folder after it. */
#pragma once

#include <glib.h>
#include <signal.h>
#include <sys/resource.h>

/* Until it is given back, no file of this process grows over @bytes: to write more fails. */
static inline struct rlimit
small_disk (rlim_t bytes)
{
  struct rlimit usual, small;

  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &usual), ==, 0);
  small = (struct rlimit) { bytes, usual.rlim_max };
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &small), ==, 0);
  return usual;
}

static inline void
usual_disk (struct rlimit usual)
{
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &usual), ==, 0);
}

/* The file holds @bytes as before, and @n files are all that is in its folder. */
static inline void
assert_stands (const char *path, const char *bytes, gsize length, guint n)
{
  g_autofree char *folder = g_path_get_dirname (path), *now = NULL;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  gsize n_now = 0;
  guint files = 0;

  g_assert_true (g_file_get_contents (path, &now, &n_now, NULL));
  g_assert_cmpmem (now, n_now, bytes, length);
  while (g_dir_read_name (dir) != NULL)
    files++;
  g_assert_cmpuint (files, ==, n);
}
