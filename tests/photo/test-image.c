/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decoding: orientation, metadata, and pictures that must be refused. */
#include "photo/image.h"
#include "shared-fixture.h"

#include "base/error.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <string.h>

/* A picture 48 × 32 whose corners are red, green, blue and white in reading order. */
static GBytes *
make_picture (const char *type)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 48, 32);
  static const guint32 color[4] = { 0xff0000ff, 0x00ff00ff, 0x0000ffff, 0xffffffff };
  g_autoptr (GError) error = NULL;
  char *data;
  gsize size;

  for (int i = 0; i < 4; i++)
    {
      g_autoptr (GdkPixbuf) part = gdk_pixbuf_new_subpixbuf (pixbuf, i % 2 * 24, i / 2 * 16, 24, 16);

      gdk_pixbuf_fill (part, color[i]);
    }
  gdk_pixbuf_save_to_buffer (pixbuf, &data, &size, type, &error, NULL);
  g_assert_no_error (error);
  return g_bytes_new_take (data, size);
}

/* The same with an EXIF head that states an orientation (Exif 2.32, tag 0x0112). */
static GBytes *
make_turned (int orientation)
{
  g_autoptr (GBytes) plain = make_picture ("jpeg");
  guchar head[] = { 0xff, 0xe1, 0, 34, 'E', 'x', 'i', 'f', 0, 0, 'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1,
                    0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0 };
  GByteArray *out = g_byte_array_new ();
  gsize size;
  const guchar *data = g_bytes_get_data (plain, &size);

  head[29] = (guchar) orientation;
  g_byte_array_append (out, data, 2);
  g_byte_array_append (out, head, sizeof head);
  g_byte_array_append (out, data + 2, (guint) size - 2);
  return g_byte_array_free_to_bytes (out);
}

static char
color_at (const BlImage *image,
          int            x,
          int            y)
{
  const BlPixels *pixels = &image->levels[0];
  guint32 p = ((guint32 *) (void *) (pixels->data + (gsize) y * pixels->stride))[x];
  gboolean r = ((p >> 16) & 255) > 128, g = ((p >> 8) & 255) > 128, b = (p & 255) > 128;

  return r && g && b ? 'w' : r ? 'r' : g ? 'g' : b ? 'b' : '?';
}

/* Corners in reading order of the upright picture, by the table of the Exif standard. */
static void
test_orientation (void)
{
  static const char *const expected[] = { "rgbw", "grwb", "wbgr", "bwrg", "rbgw", "brwg", "wgbr",
                                          "gwrb" };

  for (int o = 1; o <= 8; o++)
    {
      g_autoptr (GBytes) bytes = make_turned (o);
      g_autoptr (BlImage) image = NULL;
      g_autoptr (BlPhotoMeta) meta = NULL;
      g_autoptr (GError) error = NULL;
      char seen[5] = { 0 };

      meta = bl_photo_meta_read (bytes, &error);
      g_assert_no_error (error);
      g_assert_cmpint (meta->orientation, ==, o);
      g_assert_cmpint (meta->width, ==, o >= 5 ? 32 : 48);
      image = bl_image_decode (bytes, NULL, &error);
      g_assert_no_error (error);
      g_assert_cmpint (image->width, ==, meta->width);
      g_assert_cmpint (image->height, ==, meta->height);
      for (int i = 0; i < 4; i++)
        seen[i] = color_at (image, i % 2 == 0 ? 5 : image->width - 6, i < 2 ? 5 : image->height - 6);
      g_assert_cmpstr (seen, ==, expected[o - 1]);
    }
}

static void
refuse (GBytes     *bytes,
        const char *says)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BlImage) image = bl_image_decode (bytes, NULL, &error);

  g_assert_null (image);
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
  g_assert_nonnull (strstr (error->message, says));
}

static void
test_refusals (void)
{
  static const char *const types[] = { "jpeg", "png" };
  g_autoptr (GBytes) empty = g_bytes_new (NULL, 0);
  g_autoptr (GBytes) text = g_bytes_new_static ("GIF89a no photo at all", 22);

  refuse (empty, "0 bytes");
  refuse (text, "not a picture");
  for (int t = 0; t < 2; t++)
    {
      g_autoptr (GBytes) whole = make_picture (types[t]);
      gsize size = g_bytes_get_size (whole);

      /* Cut anywhere it is refused, and never half shown. */
      for (gsize cut = 1; cut < size; cut++)
        {
          g_autoptr (GBytes) part = g_bytes_new_from_bytes (whole, 0, cut);
          g_autoptr (GError) error = NULL;
          g_autoptr (BlImage) image = bl_image_decode (part, NULL, &error);

          if (image != NULL)
            g_error ("a %s of %zu bytes cut at %zu was taken", types[t], size, cut);
          g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
        }
    }
}

/* Bytes changed at will give a picture or a sentence, nothing else. */
static void
test_damage (void)
{
  static const char *const types[] = { "jpeg", "png" };
  guint32 state = 12345;

  for (int t = 0; t < 2; t++)
    for (int i = 0; i < 400; i++)
      {
        g_autoptr (GBytes) whole = make_picture (types[t]);
        g_autoptr (GError) error = NULL;
        g_autoptr (BlImage) image = NULL;
        g_autoptr (GBytes) broken = NULL;
        gsize size;
        guchar *copy = g_memdup2 (g_bytes_get_data (whole, &size), g_bytes_get_size (whole));

        for (int k = 0; k < 4; k++)
          {
            state = state * 1664525u + 1013904223u;
            copy[(state >> 8) % size] = (guchar) (state >> 24);
          }
        broken = g_bytes_new_take (copy, size);
        image = bl_image_decode (broken, NULL, &error);
        g_assert_true ((image == NULL) == (error != NULL));
      }
}

/* A head that promises 40,000 × 40,000 pixels is refused before anything is decoded. */
static void
test_bomb (void)
{
  g_autoptr (GBytes) png = make_picture ("png"), jpeg = make_picture ("jpeg");
  gsize size, at;
  guchar *copy = g_memdup2 (g_bytes_get_data (png, &size), g_bytes_get_size (png));
  g_autoptr (GBytes) large_png = NULL, large_jpeg = NULL;

  copy[18] = copy[22] = 0x9c;
  large_png = g_bytes_new_take (copy, size);
  refuse (large_png, "too large");
  copy = g_memdup2 (g_bytes_get_data (jpeg, &size), g_bytes_get_size (jpeg));
  for (at = 2; !(copy[at] == 0xff && copy[at + 1] == 0xc0);)
    at += 2 + (copy[at + 2] << 8 | copy[at + 3]);
  copy[at + 5] = copy[at + 7] = 0x9c;
  large_jpeg = g_bytes_new_take (copy, size);
  refuse (large_jpeg, "too large");
}

static void
test_cancel (void)
{
  g_autoptr (GBytes) bytes = make_picture ("jpeg");
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_null (bl_image_decode (bytes, cancellable, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_CANCELLED);
}

/* Levels halve, and the level for a zoom is the smallest that is fine enough. */
static void
test_levels (void)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 1001, 601);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (BlImage) image = NULL;
  g_autoptr (GError) error = NULL;
  const BlPixels *level;
  double scale;
  char *data;
  gsize size;

  gdk_pixbuf_fill (pixbuf, 0x804020ff);
  gdk_pixbuf_save_to_buffer (pixbuf, &data, &size, "png", &error, NULL);
  bytes = g_bytes_new_take (data, size);
  image = bl_image_decode (bytes, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (image->n_levels, ==, 5);
  g_assert_cmpint (image->levels[1].width, ==, 501);
  g_assert_cmpint (image->levels[1].height, ==, 301);
  for (int i = 0; i < image->n_levels; i++)
    g_assert_cmphex (((guint32 *) (void *) image->levels[i].data)[0], ==, 0xff804020);
  level = bl_image_level_for (image, 0.3, &scale);
  g_assert_cmpfloat (scale, ==, 0.5);
  g_assert_true (level == &image->levels[1]);
  bl_image_level_for (image, 2.0, &scale);
  g_assert_cmpfloat (scale, ==, 1.0);
}

/* For paper: upright, scaled, nothing of the metadata kept. */
static void
test_for_paper (void)
{
  g_autoptr (GBytes) bytes = make_turned (6), paper = NULL;
  g_autoptr (BlImage) image = NULL, again = NULL;
  g_autoptr (BlPhotoMeta) meta = NULL;
  g_autoptr (GError) error = NULL;
  int width, height;

  image = bl_image_decode (bytes, NULL, &error);
  g_assert_no_error (error);
  paper = bl_image_to_jpeg (image, 24, 90, &width, &height, &error);
  g_assert_no_error (error);
  g_assert_cmpint (width, ==, 16);
  g_assert_cmpint (height, ==, 24);
  meta = bl_photo_meta_read (paper, &error);
  g_assert_no_error (error);
  g_assert_cmpint (meta->orientation, ==, 1);
  g_assert_null (memmem (g_bytes_get_data (paper, NULL), g_bytes_get_size (paper), "Exif", 4));
  again = bl_image_decode (paper, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (color_at (again, 3, 3), ==, 'b');
}

/* Contributed photographs: the flag turns each the same way up, place and lens are read. */
static void
test_photographs (void)
{
  static const int flags[] = { 1, 3, 6, 8 };

  for (guint i = 0; i < G_N_ELEMENTS (flags); i++)
    {
      g_autofree char *name = g_strdup_printf ("exif/landscape_%d.jpg", flags[i]);
      g_autofree char *path = shared_path (name), *data = NULL;
      g_autoptr (GBytes) bytes = NULL;
      g_autoptr (BlPhotoMeta) meta = NULL;
      g_autoptr (GError) error = NULL;
      gsize size;

      if (path == NULL)
        return;
      g_file_get_contents (path, &data, &size, &error);
      g_assert_no_error (error);
      bytes = g_bytes_new (data, size);
      meta = bl_photo_meta_read (bytes, &error);
      g_assert_no_error (error);
      g_assert_cmpint (meta->orientation, ==, flags[i]);
      g_assert_cmpint (meta->width, >, meta->height);
    }
}

static void
test_place (void)
{
  g_autofree char *path = shared_path ("exif/DSCN0010.jpg"), *data = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (BlPhotoMeta) meta = NULL;
  g_autoptr (GError) error = NULL;
  gsize size;

  if (path == NULL)
    return;
  g_file_get_contents (path, &data, &size, &error);
  bytes = g_bytes_new (data, size);
  meta = bl_photo_meta_read (bytes, &error);
  g_assert_no_error (error);
  g_test_message ("f35 %.0f, lat %.5f, lon %.5f, taken %s, zoom %.1f, cropped %d", meta->focal_35mm,
                  meta->latitude, meta->longitude, meta->taken, meta->digital_zoom,
                  meta->looks_cropped);
  g_assert_cmpfloat (meta->focal_35mm, >, 0.0);
  g_assert_true (isfinite (meta->latitude) && isfinite (meta->longitude));
  g_assert_nonnull (meta->taken);
}

/* @png with @n chunks of @kind before its last: a keyword, the method of compression, and no stream
 * that unpacks (ISO/IEC 15948, 11.3.4.3); who leaves them out does not mind. */
static GBytes *
with_text (GBytes *png, const char *kind, guint n)
{
  gsize size;
  const guchar *data = g_bytes_get_data (png, &size);
  GByteArray *out = g_byte_array_new ();
  guchar chunk[16] = { 0, 0, 0, 4, 0, 0, 0, 0, 'k', 0, 0, 'x' };

  memcpy (chunk + 4, kind, 4);
  g_byte_array_append (out, data, (guint) size - 12);
  for (guint i = 0; i < n; i++)
    g_byte_array_append (out, chunk, sizeof chunk);
  g_byte_array_append (out, data + size - 12, 12);
  return g_byte_array_free_to_bytes (out);
}

static void
test_text_in_png (void)
{
  static const char *const kinds[] = { "zTXt", "iTXt", "tEXt", "iCCP" };
  g_autoptr (GBytes) plain = make_picture ("png");
  g_autoptr (GError) error = NULL;
  g_autoptr (BlImage) image = bl_image_decode (plain, NULL, &error);
  const BlPixels *a = &image->levels[0];

  g_assert_no_error (error);
  for (guint k = 0; k < G_N_ELEMENTS (kinds); k++)
    {
      g_autoptr (GBytes) full = with_text (plain, kinds[k], 500);
      g_autoptr (BlImage) same = bl_image_decode (full, NULL, &error);
      const BlPixels *b = &same->levels[0];

      g_assert_no_error (error);
      g_assert_cmpint (b->width, ==, 48);
      g_assert_cmpmem (a->data, (gsize) a->stride * a->height, b->data, (gsize) b->stride * b->height);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/image/orientation", test_orientation);
  g_test_add_func ("/photo/image/refusals", test_refusals);
  g_test_add_func ("/photo/image/damage", test_damage);
  g_test_add_func ("/photo/image/bomb", test_bomb);
  g_test_add_func ("/photo/image/text-in-png", test_text_in_png);
  g_test_add_func ("/photo/image/cancel", test_cancel);
  g_test_add_func ("/photo/image/levels", test_levels);
  g_test_add_func ("/photo/image/for-paper", test_for_paper);
  g_test_add_func ("/photo/image/photographs", test_photographs);
  g_test_add_func ("/photo/image/place", test_place);
  return g_test_run ();
}
