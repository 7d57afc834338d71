/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The helpers of the fuzz targets. */
#include "fuzz.h"

#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/error.h"

int
LLVMFuzzerInitialize (int    *argc,
                      char ***argv)
{
  g_log_set_always_fatal (G_LOG_FATAL_MASK | G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
  return 0;
}

char *
fuzz_text (const uint8_t *data,
           size_t         size)
{
  return size > 0 ? g_strndup ((const char *) data, size) : g_strdup ("");
}

void
fuzz_check_error (const GError *error)
{
  g_assert_nonnull (error);
  g_assert_true (error->domain == BL_ERROR);
  g_assert_true (error->message[0] != '\0');
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
}

BlLibrary *
fuzz_library (void)
{
  static BlLibrary *library = NULL;

  if (library == NULL)
    {
      g_autofree char *path = bl_library_default_path ();
      g_autoptr (GError) error = NULL;

      library = bl_library_open (path, NULL, &error);
      g_assert_no_error (error);
    }
  return library;
}

static char *folder;

static void
remove_folder (void)
{
  GDir *dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_unlink (path);
    }
  g_clear_pointer (&dir, g_dir_close);
  g_rmdir (folder);
}

const char *
fuzz_folder (void)
{
  if (folder == NULL)
    {
      folder = g_dir_make_tmp ("bedline-fuzz-XXXXXX", NULL);
      g_assert_nonnull (folder);
      atexit (remove_folder);
    }
  return folder;
}

guint
fuzz_byte (FuzzReader *reader)
{
  if (reader->left == 0)
    return 0;
  reader->left--;
  return *reader->data++;
}

guint
fuzz_pair (FuzzReader *reader)
{
  guint high = fuzz_byte (reader);

  return high << 8 | fuzz_byte (reader);
}

double
fuzz_number (FuzzReader *reader)
{
  gint16 small = (gint16) fuzz_pair (reader);
  double any = 0.0;

  /* A whole number of 256ths of a metre, except for those that end in 0xff. */
  if ((small & 0xff) != 0xff || reader->left < sizeof any)
    return small / 256.0;
  memcpy (&any, reader->data, sizeof any);
  reader->data += sizeof any;
  reader->left -= sizeof any;
  return any;
}
