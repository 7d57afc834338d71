/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chunks left out of a PNG: framing and kinds by the PNG specification, third edition, sections 5.2,
 * 5.3 and 5.6. */
#include "base/png.h"

#include <string.h>

/* The bytes of one chunk; the check sum is told apart by @sum, as none is reckoned here. */
static void
add_chunk (GByteArray *png, const char *kind, guint length, guchar sum)
{
  guchar head[8] = { (guchar) (length >> 24), (guchar) (length >> 16), (guchar) (length >> 8),
                     (guchar) length };
  guchar tail[4] = { sum, 1, 2, 3 };

  memcpy (head + 4, kind, 4);
  g_byte_array_append (png, head, 8);
  for (guint i = 0; i < length; i++)
    g_byte_array_append (png, (const guchar *) "IEND" + i % 4, 1);
  g_byte_array_append (png, tail, 4);
}

/* A PNG of the kinds named in @kinds, in their order, as long as their places say. */
static GBytes *
make (const char *kinds)
{
  GByteArray *png = g_byte_array_new ();
  g_auto (GStrv) names = g_strsplit (kinds, " ", -1);

  g_byte_array_append (png, (const guchar *) "\x89PNG\r\n\x1a\n", 8);
  for (guint i = 0; names[i] != NULL; i++)
    add_chunk (png, names[i], strcmp (names[i], "IEND") == 0 ? 0 : 13, names[i][0] + names[i][2]);
  return g_byte_array_free_to_bytes (png);
}

static void
check (GBytes *from, GBytes *wanted)
{
  g_autoptr (GBytes) bare = bl_png_bare (from);

  g_assert_true (g_bytes_equal (bare, wanted));
}

static void
test_left_out (void)
{
  g_autoptr (GBytes) full = make ("IHDR iCCP gAMA sRGB cHRM tEXt PLTE tRNS eXIf pHYs zTXt IDAT iTXt IDAT "
                                  "zTXt caBX IEND");
  g_autoptr (GBytes) wanted = make ("IHDR gAMA sRGB cHRM PLTE tRNS IDAT IDAT IEND");
  g_autoptr (GBytes) after = make ("IHDR IDAT IEND zTXt IDAT IEND"), ended = make ("IHDR IDAT IEND");

  check (full, wanted);
  check (after, ended);
}

/* What needs nothing left out is the very same, not a copy. */
static void
test_same (void)
{
  g_autoptr (GBytes) png = make ("IHDR PLTE IDAT IEND"), none = g_bytes_new (NULL, 0);
  g_autoptr (GBytes) jpeg = g_bytes_new_static ("\xff\xd8\xff\xe0 zTXt zTXt zTXt", 20);
  g_autoptr (GBytes) a = bl_png_bare (png), b = bl_png_bare (none), c = bl_png_bare (jpeg);

  g_assert_true (a == png);
  g_assert_true (b == none);
  g_assert_true (c == jpeg);
}

/* Cut short anywhere it is read within its bounds, and what is kept is a beginning of what is kept
 * of the whole. */
static void
test_cut_short (void)
{
  g_autoptr (GBytes) full = make ("IHDR zTXt IDAT iTXt IDAT IEND"), whole = bl_png_bare (full);
  gsize size = g_bytes_get_size (full), most;
  const guchar *all = g_bytes_get_data (whole, &most);

  for (gsize n = 0; n < size; n++)
    {
      g_autofree guchar *own = g_memdup2 (g_bytes_get_data (full, NULL), n);
      g_autoptr (GBytes) cut = g_bytes_new_static (own, n), bare = bl_png_bare (cut);
      gsize kept;
      const guchar *data = g_bytes_get_data (bare, &kept);

      g_assert_cmpuint (kept, <=, most);
      g_assert_true (kept == 0 || memcmp (data, all, kept) == 0);
    }
}

/* A length beyond the end: the chunk is what there is of it. */
static void
test_false_length (void)
{
  g_autoptr (GBytes) png = make ("IHDR IDAT IEND"), bare = NULL, cut = NULL;
  gsize size;
  guchar *data = g_bytes_unref_to_data (g_steal_pointer (&png), &size);

  memset (data + 8 + 25, 0xff, 4);
  cut = g_bytes_new_take (data, size);
  bare = bl_png_bare (cut);
  g_assert_true (bare == cut);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/png/left-out", test_left_out);
  g_test_add_func ("/png/same", test_same);
  g_test_add_func ("/png/cut-short", test_cut_short);
  g_test_add_func ("/png/false-length", test_false_length);
  return g_test_run ();
}
