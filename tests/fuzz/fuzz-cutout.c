/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A cut-out picture of a plant: what is taken of a file, and how it stands and is drawn.
 *
 * An input that begins with "P" is a picture of its own making, sides and alphas, written as PNG
 * here: chance seldom finds the sums that a PNG carries. All others are files as they come. */
#include "fuzz.h"

#include <cairo.h>
#include <math.h>

#include "draw/cutout.h"

#define MOST_PIXELS 16384 /* larger ones are left: the speed of decoding is not what is sought */
#define SLUG "echinacea-purpurea"

static cairo_status_t
append (void         *bytes,
        const guchar *data,
        guint         length)
{
  g_byte_array_append (bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static GBytes *
make_png (FuzzReader *reader)
{
  int width = 1 + (int) fuzz_pair (reader) % 120, height = 1 + (int) fuzz_pair (reader) % 120;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  int stride = cairo_image_surface_get_stride (surface);
  guchar *rows = cairo_image_surface_get_data (surface);
  GByteArray *png = g_byte_array_new ();

  cairo_surface_flush (surface);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width && reader->left > 0; x++)
      ((guint32 *) (void *) (rows + y * stride))[x] = fuzz_byte (reader) * 0x01010101u;
  cairo_surface_mark_dirty (surface);
  g_assert_cmpint (cairo_surface_write_to_png_stream (surface, append, png), ==,
                   CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  return g_byte_array_free_to_bytes (png);
}

static gboolean
is_large (GBytes *bytes)
{
  gsize n;
  const guchar *data = g_bytes_get_data (bytes, &n);

  return n > 24 && data[0] == 0x89
         && ((double) (data[16] << 8 | data[17]) > 0 || (double) (data[20] << 8 | data[21]) > 0
             || (double) (data[18] << 8 | data[19]) * (data[22] << 8 | data[23]) > MOST_PIXELS);
}

static BlPlant *
plant_with (GBytes              *bytes,
            const BlCutoutShape *shape,
            guint                height)
{
  g_autoptr (BlPlant) plain = bl_library_get (fuzz_library (), SLUG, NULL);
  g_autofree char *sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  g_autofree char *record = g_strdup_printf ("%s\npicture=%s %u %.3f %.3f 0 0\n", plain->text, sha256,
                                             1 + height % 6000, shape->foot_x, shape->foot_y);
  g_autoptr (GError) error = NULL;
  BlPlant *plant = bl_plant_parse (SLUG, record, &error);

  g_assert_no_error (error);
  bl_plant_lend_picture (plant, bytes);
  g_assert_nonnull (plant->cutout->bytes);
  return plant;
}

static void
check_drawn (GBytes              *bytes,
             const BlCutoutShape *shape,
             guint64              seed)
{
  g_autoptr (BlPlant) plant = plant_with (bytes, shape, (guint) seed);
  BlLook look = bl_plant_look (plant, NULL, 0, (BlMoment) { 7.5, 5.0 });
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 48, 48);
  cairo_t *cr = cairo_create (surface);
  BlRect box;

  g_assert_true (bl_cutout_box (plant, &look, &box));
  g_assert_true (isfinite (box.x0) && isfinite (box.y0) && isfinite (box.x1) && isfinite (box.y1));
  g_assert_true (box.x0 <= box.x1 && box.y0 <= box.y1);
  cairo_translate (cr, 24, 44);
  cairo_scale (cr, 40, 40);
  g_assert_true (bl_cutout_draw (cr, plant, &look, seed, 40));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
check_shape (const BlCutoutShape *shape)
{
  g_assert_true (isfinite (shape->aspect) && shape->aspect > 0);
  g_assert_true (shape->foot_x >= 0 && shape->foot_x <= 1);
  g_assert_true (shape->foot_y >= 0 && shape->foot_y <= 1);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  FuzzReader reader = { data, size };
  gboolean own = size > 5 && fuzz_byte (&reader) == 'P';
  g_autoptr (GBytes) bytes = own ? make_png (&reader) : g_bytes_new (data, size);
  g_autoptr (GBytes) kept = NULL;
  g_autoptr (GError) error = NULL;
  BlCutoutShape shape, again;

  if (is_large (bytes))
    return 0;
  kept = bl_cutout_take (bytes, &shape, &error);
  if (kept == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  check_shape (&shape);
  /* What is kept can be read again, and is what was taken. */
  g_assert_true (bl_cutout_measure (kept, &again));
  check_shape (&again);
  check_drawn (kept, &shape, size);
  return 0;
}
