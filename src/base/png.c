/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chunks of a PNG that make its picture, without those that only tell of it. */
#include "config.h"

#include "base/png.h"

#include <string.h>

#define SIGNATURE 8 /* bytes */
#define FRAME 12    /* bytes of a chunk around its data: length, type, check sum */

/* The whole chunk that begins at @at, in bytes, or what there is of it. */
static gsize
chunk_size (const guchar *data, gsize size, gsize at)
{
  guint32 length;

  if (size - at < FRAME)
    return size - at;
  length = (guint32) data[at] << 24 | (guint32) data[at + 1] << 16 | (guint32) data[at + 2] << 8
           | data[at + 3];
  return MIN (size - at, (gsize) FRAME + length);
}

static gboolean
makes_the_picture (const guchar *chunk, gsize size)
{
  static const char kinds[][5] = { "IHDR", "PLTE", "tRNS", "gAMA", "sRGB", "cHRM", "IDAT", "IEND" };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (size >= 8 && memcmp (chunk + 4, kinds[i], 4) == 0)
      return TRUE;
  return FALSE;
}

/* Bytes that are kept, copied to @to unless it is NULL. */
static gsize
keep (const guchar *data, gsize size, guchar *to)
{
  gsize kept = SIGNATURE, n;

  if (to != NULL)
    memcpy (to, data, SIGNATURE);
  for (gsize at = SIGNATURE; at < size; at += n)
    {
      n = chunk_size (data, size, at);
      if (!makes_the_picture (data + at, n))
        continue;
      if (to != NULL)
        memcpy (to + kept, data + at, n);
      kept += n;
      if (memcmp (data + at + 4, "IEND", 4) == 0)
        break;
    }
  return kept;
}

GBytes *
bl_png_bare (GBytes *png)
{
  gsize size, kept;
  const guchar *data = g_bytes_get_data (png, &size);
  guchar *bare;

  if (size < SIGNATURE || memcmp (data, "\x89PNG\r\n\x1a\n", SIGNATURE) != 0)
    return g_bytes_ref (png);
  kept = keep (data, size, NULL);
  if (kept == size)
    return g_bytes_ref (png);
  bare = g_malloc (kept);
  keep (data, size, bare);
  return g_bytes_new_take (bare, kept);
}
