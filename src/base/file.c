/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a file that a person chose, whole and no more than is reasonable. */

#include "config.h"

#include "base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"

static gboolean
refuse (const char *path, int why, GError **error)
{
  g_autofree char *shown = g_filename_display_basename (path);

  g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("“%s” cannot be read: %s."), shown, g_strerror (why));
  return FALSE;
}

static gboolean
is_acceptable (int fd, const char *path, gsize most, gsize *size, GError **error)
{
  g_autofree char *shown = g_filename_display_basename (path);
  struct stat info;

  if (fstat (fd, &info) != 0)
    return refuse (path, errno, error);
  *size = (gsize) info.st_size;
  if (S_ISREG (info.st_mode) && *size <= most)
    return TRUE;
  if (!S_ISREG (info.st_mode))
    g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                 _("“%s” is not a file that can be read; choose another."), shown);
  else
    g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                 _("“%s” is larger than %u MB, the most that is taken; use a smaller one."), shown,
                 (guint) (most / BL_MEGABYTE));
  return FALSE;
}

/* Up to @size bytes; what is added to the file meanwhile is left out. 0 or an errno. */
static int
read_all (int fd, char *text, gsize size, gsize *length)
{
  *length = 0;
  while (*length < size)
    {
      gssize n = read (fd, text + *length, size - *length);

      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        return errno;
      if (n == 0)
        break;
      *length += (gsize) n;
    }
  text[*length] = '\0';
  return 0;
}

gboolean
bl_file_read (const char *path, gsize most, char **text, gsize *length, GError **error)
{
  int fd = open (path, O_RDONLY | O_NONBLOCK | O_CLOEXEC), why;
  g_autofree char *bytes = NULL;
  gsize size = 0, n = 0;

  if (fd < 0)
    return refuse (path, errno, error);
  if (!is_acceptable (fd, path, most, &size, error))
    {
      close (fd);
      return FALSE;
    }
  bytes = g_try_malloc (size + 1);
  why = bytes != NULL ? read_all (fd, bytes, size, &n) : ENOMEM;
  close (fd);
  if (why != 0)
    return refuse (path, why, error);
  *text = g_steal_pointer (&bytes);
  if (length != NULL)
    *length = n;
  return TRUE;
}
