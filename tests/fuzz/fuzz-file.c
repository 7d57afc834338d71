/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A design file of raw bytes, or a good one with bytes overwritten and its end cut off. */
#include "fuzz.h"

#include <glib/gstdio.h>
#include <string.h>

#include "design-base.h"

/* Page, offset in it, count, bytes; a count of 0 cuts the file there. */
static gsize
damage (FuzzReader *reader,
        guint8     *bytes,
        gsize       size)
{
  while (reader->left > 3)
    {
      gsize at = (gsize) fuzz_byte (reader) * 16384 + fuzz_pair (reader) % 16384;
      guint count = fuzz_byte (reader) % 33;

      if (at >= size)
        continue;
      if (count == 0)
        size = at;
      for (guint i = 0; i < count && at + i < size && reader->left > 0; i++)
        bytes[at + i] = (guint8) fuzz_byte (reader);
    }
  return size;
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autofree char *path = g_build_filename (fuzz_folder (), "damaged.bedline", NULL);
  GBytes *base = design_base ();

  if (size > 0 && data[0] == 'S')
    g_assert_true (g_file_set_contents_full (path, (const char *) data, (gssize) size,
                                             G_FILE_SET_CONTENTS_NONE, 0600, NULL));
  else
    {
      FuzzReader reader = { data, size };
      gsize length;
      const guint8 *good = g_bytes_get_data (base, &length);
      g_autofree guint8 *bytes = g_memdup2 (good, length);

      length = damage (&reader, bytes, length);
      g_assert_true (g_file_set_contents_full (path, (const char *) bytes, (gssize) length,
                                               G_FILE_SET_CONTENTS_NONE, 0600, NULL));
    }
  design_base_use (path);
  g_unlink (path);
  return 0;
}
