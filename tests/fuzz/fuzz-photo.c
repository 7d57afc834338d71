/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photo: its metadata, its pixels upright, and the picture for paper that tells nothing of either. */
#include "fuzz.h"

#include <math.h>
#include <string.h>

#include "photo/image.h"

#define MOST_PIXELS 250000 /* larger ones are left: the speed of decoding is not what is sought */

static void
check_meta (const BlPhotoMeta *meta)
{
  g_assert_true (meta->width > 0 && meta->height > 0);
  g_assert_true (meta->orientation >= 1 && meta->orientation <= 8);
  g_assert_true (isnan (meta->latitude) || fabs (meta->latitude) <= 90.0);
  g_assert_true (isnan (meta->longitude) || fabs (meta->longitude) <= 180.0);
  g_assert_true (meta->taken == NULL || g_utf8_validate (meta->taken, -1, NULL));
}

static void
check_paper (const BlImage *image)
{
  int width, height;
  g_autoptr (GBytes) paper = bl_image_to_jpeg (image, 64, 70, &width, &height, NULL);
  gsize size;
  const char *bytes = g_bytes_get_data (paper, &size);

  g_assert_true (width <= 64 && height <= 64);
  g_assert_null (memmem (bytes, size, "Exif", 4));
  g_assert_null (memmem (bytes, size, "http", 4));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (GError) error = NULL, second = NULL;
  g_autoptr (BlPhotoMeta) meta = bl_photo_meta_read (bytes, &error);
  g_autoptr (BlImage) image = NULL;

  if (meta == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  check_meta (meta);
  if ((double) meta->width * meta->height > MOST_PIXELS)
    return 0;
  image = bl_image_decode (bytes, NULL, &second);
  if (image == NULL)
    {
      fuzz_check_error (second);
      return 0;
    }
  g_assert_cmpint (image->width, ==, meta->width);
  g_assert_cmpint (image->height, ==, meta->height);
  check_paper (image);
  return 0;
}
