/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A decoded photo: upright pixels and scaled levels, bounded against decompression bombs. */
#pragma once

#include <gio/gio.h>

#define BL_IMAGE_MAX_PIXELS (100 * 1000 * 1000) /* a larger picture is refused before decoding */
#define BL_IMAGE_MAX_BYTES (64 * 1024 * 1024)
#define BL_IMAGE_LEVELS 6

/* One level of pixels, cairo's ARGB32 layout (premultiplied, native endian). */
typedef struct
{
  int width, height, stride;
  guchar *data;
} BlPixels;

/* Immutable once made; shared between threads by reference count. */
typedef struct
{
  gatomicrefcount refs;
  int width, height;                /* of the upright photo */
  int n_levels;
  BlPixels levels[BL_IMAGE_LEVELS]; /* level i is half of level i - 1 (box filter) */
} BlImage;

/* What the metadata says; 0 or NAN where it says nothing. */
typedef struct
{
  int width, height;          /* upright */
  int orientation;            /* EXIF 1..8; 1 when absent */
  char *mime;                 /* "image/jpeg" or "image/png" */
  double focal_35mm;          /* mm equivalent, 0 = unknown */
  double digital_zoom;        /* 0 or 1 = none */
  double latitude, longitude; /* degrees, east and north positive, NAN = unknown */
  double direction;           /* degrees clockwise from true north the lens looked, NAN = unknown */
  gboolean looks_cropped;     /* the pixel size does not agree with the recorded original size or 4:3, 3:2, 16:9 */
  char *taken;                /* "2026-05-12 10:40:00", or NULL */
} BlPhotoMeta;

void bl_photo_meta_free (BlPhotoMeta *meta);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPhotoMeta, bl_photo_meta_free)

/* Reads metadata and size without decoding the pixels. Refuses what is not a JPEG or PNG, empty,
 * truncated in its head, or larger than the limits, with one sentence. */
BlPhotoMeta *bl_photo_meta_read (GBytes *bytes, GError **error);

/* Decodes and turns upright. A truncated picture is refused, not half shown. */
BlImage *bl_image_decode (GBytes *bytes, GCancellable *cancellable, GError **error);
BlImage *bl_image_ref (BlImage *image);
void bl_image_unref (BlImage *image);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlImage, bl_image_unref)
/* The smallest level whose scale (1, 1/2, 1/4 ...) is still at least @zoom. */
const BlPixels *bl_image_level_for (const BlImage *image, double zoom, double *level_scale);

/* A JPEG of at most @max_side pixels, upright, without metadata, for paper. */
GBytes *bl_image_to_jpeg (const BlImage *image, int max_side, int quality, int *width, int *height,
                          GError **error);
