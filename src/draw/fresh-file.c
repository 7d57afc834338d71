/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture's or paper's file that takes the old one's place only when it is whole. */
#include "draw/fresh-file.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <unistd.h>

struct _BlFreshFile
{
  char *path, *beside;
  FILE *stream; /* NULL once closed */
  gboolean failed;
};

BlFreshFile *
bl_fresh_file_new (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  /* Not made of the target's name, which may be as long as names can be. */
  g_autofree char *beside = g_build_filename (folder, ".bedline-XXXXXX", NULL);
  int fd = g_mkstemp_full (beside, O_WRONLY | O_CLOEXEC, 0666);
  FILE *stream = fd >= 0 ? fdopen (fd, "wb") : NULL;
  BlFreshFile *self;

  if (stream == NULL)
    {
      if (fd >= 0)
        {
          close (fd);
          g_unlink (beside);
        }
      return NULL;
    }
  self = g_new0 (BlFreshFile, 1);
  self->path = g_strdup (path);
  self->beside = g_steal_pointer (&beside);
  self->stream = stream;
  return self;
}

cairo_status_t
bl_fresh_file_write (void *fresh_file, const unsigned char *data, unsigned int length)
{
  BlFreshFile *self = fresh_file;

  if (!self->failed && fwrite (data, 1, length, self->stream) != length)
    self->failed = TRUE;
  return self->failed ? CAIRO_STATUS_WRITE_ERROR : CAIRO_STATUS_SUCCESS;
}

cairo_status_t
bl_fresh_file_close (BlFreshFile *self)
{
  if (self->stream != NULL && fclose (self->stream) != 0)
    self->failed = TRUE;
  self->stream = NULL;
  return self->failed ? CAIRO_STATUS_WRITE_ERROR : CAIRO_STATUS_SUCCESS;
}

static void
fresh_file_free (BlFreshFile *self)
{
  g_free (self->path);
  g_free (self->beside);
  g_free (self);
}

gboolean
bl_fresh_file_keep (BlFreshFile *self)
{
  g_return_val_if_fail (self->stream == NULL && !self->failed, FALSE);
  if (g_rename (self->beside, self->path) != 0)
    {
      bl_fresh_file_drop (self);
      return FALSE;
    }
  fresh_file_free (self);
  return TRUE;
}

void
bl_fresh_file_drop (BlFreshFile *self)
{
  if (self == NULL)
    return;
  bl_fresh_file_close (self);
  g_unlink (self->beside);
  fresh_file_free (self);
}
