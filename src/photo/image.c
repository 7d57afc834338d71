/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decoding a photo upright, with scaled levels, within bounds. */
#include "config.h"

#include "photo/image.h"

#include "base/error.h"
#include "base/png.h"
#include "photo/jpeg-private.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define CHUNK 65536
#define LEAST_SIDE 64

static gboolean
refuse (GError    **error,
        const char *sentence)
{
  g_set_error_literal (error, BL_ERROR, BL_ERROR_FILE, sentence);
  return FALSE;
}

gboolean
bl_pixels_alloc (BlPixels *pixels,
                 int       width,
                 int       height,
                 GError  **error)
{
  pixels->width = width;
  pixels->height = height;
  pixels->stride = 4 * width;
  pixels->data = g_try_malloc ((gsize) pixels->stride * height);
  if (pixels->data == NULL)
    g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                 _("There is not enough memory for a picture of %d × %d pixels."), width, height);
  return pixels->data != NULL;
}

gboolean
bl_picture_check_size (double   width,
                       double   height,
                       GError **error)
{
  if (width >= 1.0 && height >= 1.0 && width * height <= BL_IMAGE_MAX_PIXELS)
    return TRUE;
  if (width < 1.0 || height < 1.0)
    return refuse (error, _("The picture has no pixels; choose another."));
  g_set_error (error, BL_ERROR, BL_ERROR_FILE,
               _("The picture is too large, %.0f × %.0f pixels; up to %d million are taken, so save a "
               "smaller copy and use that."), width, height, BL_IMAGE_MAX_PIXELS / 1000000);
  return FALSE;
}

gboolean
bl_picture_check_bytes (GBytes  *bytes,
                        GError **error)
{
  gsize size = g_bytes_get_size (bytes);

  if (size == 0)
    return refuse (error, _("The picture is empty (0 bytes); copy it from the camera again."));
  if (size > BL_IMAGE_MAX_BYTES)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _("The picture is too large a file, %.0f MB; up to %d MB are taken, so save a smaller "
                   "copy and use that."), size / 1048576.0, BL_IMAGE_MAX_BYTES / 1048576);
      return FALSE;
    }
  if (!bl_picture_is_jpeg (bytes) && !bl_picture_is_png (bytes))
    return refuse (error, _("This is not a picture that can be read; use a JPEG or a PNG."));
  return TRUE;
}

gboolean
bl_picture_is_jpeg (GBytes *bytes)
{
  gsize size;
  const guchar *data = g_bytes_get_data (bytes, &size);

  return size >= 3 && data[0] == 0xff && data[1] == 0xd8 && data[2] == 0xff;
}

gboolean
bl_picture_is_png (GBytes *bytes)
{
  gsize size;
  const guchar *data = g_bytes_get_data (bytes, &size);

  return size >= 8 && memcmp (data, "\x89PNG\r\n\x1a\n", 8) == 0;
}

static guint32
big_endian (const guchar *p)
{
  return (guint32) p[0] << 24 | (guint32) p[1] << 16 | (guint32) p[2] << 8 | p[3];
}

/* Chunks: length, type, data, check sum (PNG specification, third edition, section 5.3). */
gboolean
bl_png_size (GBytes  *bytes,
             gboolean whole,
             int     *width,
             int     *height,
             GError **error)
{
  gsize size, at = 8;
  const guchar *data = g_bytes_get_data (bytes, &size);

  if (size < 33 || memcmp (data + 12, "IHDR", 4) != 0)
    return refuse (error, _("The picture is cut short: its head is missing; copy it again."));
  if (!bl_picture_check_size (big_endian (data + 16), big_endian (data + 20), error))
    return FALSE;
  *width = (int) big_endian (data + 16);
  *height = (int) big_endian (data + 20);
  while (whole)
    {
      guint32 length;

      if (at + 12 > size)
        return refuse (error, _("The picture is cut short: its end is missing; copy it from the camera "
                       "again."));
      length = big_endian (data + at);
      if (memcmp (data + at + 4, "IEND", 4) == 0)
        break;
      at += 12 + (gsize) length;
    }
  return TRUE;
}

static void
size_prepared_cb (GdkPixbufLoader *loader,
                  int              width,
                  int              height,
                  gpointer         data)
{
  gboolean *too_large = data;

  if ((double) width * height > BL_IMAGE_MAX_PIXELS)
    {
      *too_large = TRUE;
      gdk_pixbuf_loader_set_size (loader, 1, 1);
    }
}

static void
rows_come_cb (GdkPixbufLoader *loader,
              int              x,
              int              y,
              int              width,
              int              height,
              gpointer         data)
{
  int *n_rows = data;

  *n_rows = MAX (*n_rows, y + height);
}

static gboolean
feed (GdkPixbufLoader *loader,
      GBytes          *bytes,
      GCancellable    *cancellable,
      GError         **error)
{
  g_autoptr (GError) local = NULL;
  gsize size, at = 0;
  const guchar *data = g_bytes_get_data (bytes, &size);
  gboolean done = TRUE;

  while (done && at < size)
    {
      gsize n = MIN (CHUNK, size - at);

      if (g_cancellable_is_cancelled (cancellable))
        {
          gdk_pixbuf_loader_close (loader, NULL);
          g_set_error_literal (error, BL_ERROR, BL_ERROR_CANCELLED,
                               _("Loading the picture was cancelled."));
          return FALSE;
        }
      done = gdk_pixbuf_loader_write (loader, data + at, n, &local);
      at += n;
    }
  if (!gdk_pixbuf_loader_close (loader, done ? &local : NULL) || !done)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _("The picture is damaged and cannot be read (%s); copy it from the camera again."),
                   local != NULL ? local->message : "unknown reason");
      return FALSE;
    }
  return TRUE;
}

static void
pixbuf_row (const guchar *in,
            int           channels,
            guint32      *out,
            int           width)
{
  for (int x = 0; x < width; x++, in += channels)
    {
      guint32 a = channels == 4 ? in[3] : 255;
      guint32 r = (in[0] * a + 127) / 255, g = (in[1] * a + 127) / 255, b = (in[2] * a + 127) / 255;

      out[x] = a << 24 | r << 16 | g << 8 | b;
    }
}

static gboolean
decode_png (GBytes       *bytes,
            GCancellable *cancellable,
            BlPixels     *pixels,
            GError      **error)
{
  g_autoptr (GdkPixbufLoader) loader = NULL;
  g_autoptr (GBytes) bare = NULL;
  GdkPixbuf *pixbuf;
  gboolean too_large = FALSE;
  int width, height, n_rows = 0;

  if (!bl_png_size (bytes, TRUE, &width, &height, error))
    return FALSE;
  loader = gdk_pixbuf_loader_new_with_type ("png", error);
  if (loader == NULL)
    return FALSE;
  g_signal_connect (loader, "size-prepared", G_CALLBACK (size_prepared_cb), &too_large);
  g_signal_connect (loader, "area-updated", G_CALLBACK (rows_come_cb), &n_rows);
  /* The loader would unpack all text and keep it. */
  bare = bl_png_bare (bytes);
  if (!feed (loader, bare, cancellable, error))
    return FALSE;
  if (too_large)
    return bl_picture_check_size (width, height, error);
  pixbuf = gdk_pixbuf_loader_get_pixbuf (loader);
  if (pixbuf == NULL)
    return refuse (error, _("The picture is damaged and cannot be read; copy it from the camera again."));
  /* The loader does not mind when rows are missing. */
  if (n_rows < gdk_pixbuf_get_height (pixbuf))
    return refuse (error, _("The picture is cut short: its last rows are missing; copy it from the camera "
                   "again."));
  if (!bl_pixels_alloc (pixels, gdk_pixbuf_get_width (pixbuf), gdk_pixbuf_get_height (pixbuf), error))
    return FALSE;
  for (int y = 0; y < pixels->height; y++)
    pixbuf_row (gdk_pixbuf_read_pixels (pixbuf) + (gsize) y * gdk_pixbuf_get_rowstride (pixbuf),
                gdk_pixbuf_get_n_channels (pixbuf),
                (guint32 *) (void *) (pixels->data + (gsize) y * pixels->stride), pixels->width);
  return TRUE;
}

/* Turns by the EXIF orientation (Exif 2.32, tag 0x0112): 5 to 8 exchange the axes. */
static gboolean
turn_upright (BlPixels *pixels,
              int       orientation,
              GError  **error)
{
  gboolean swap = orientation >= 5;
  BlPixels out;

  if (orientation <= 1 || orientation > 8)
    return TRUE;
  if (!bl_pixels_alloc (&out, swap ? pixels->height : pixels->width,
                        swap ? pixels->width : pixels->height, error))
    return FALSE;
  for (int y = 0; y < out.height; y++)
    {
      guint32 *row = (guint32 *) (void *) (out.data + (gsize) y * out.stride);

      for (int x = 0; x < out.width; x++)
        {
          int u = swap ? y : x, v = swap ? x : y;

          if (orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8)
            u = pixels->width - 1 - u;
          if (orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7)
            v = pixels->height - 1 - v;
          row[x] = ((guint32 *) (void *) (pixels->data + (gsize) v * pixels->stride))[u];
        }
    }
  g_free (pixels->data);
  *pixels = out;
  return TRUE;
}

/* The mean of four, channel by channel (two channels at a time). */
static guint32
mean4 (guint32 a,
       guint32 b,
       guint32 c,
       guint32 d)
{
  const guint32 m = 0x00ff00ff, half = 0x00020002;
  guint32 lo = (a & m) + (b & m) + (c & m) + (d & m) + half;
  guint32 hi = ((a >> 8) & m) + ((b >> 8) & m) + ((c >> 8) & m) + ((d >> 8) & m) + half;

  return ((lo >> 2) & m) | (((hi >> 2) & m) << 8);
}

static gboolean
halve (const BlPixels *in,
       BlPixels       *out,
       GError        **error)
{
  if (!bl_pixels_alloc (out, (in->width + 1) / 2, (in->height + 1) / 2, error))
    return FALSE;
  for (int y = 0; y < out->height; y++)
    {
      const guchar *a = in->data + (gsize) (2 * y) * in->stride;
      const guchar *b = in->data + (gsize) MIN (2 * y + 1, in->height - 1) * in->stride;
      guint32 *row = (guint32 *) (void *) (out->data + (gsize) y * out->stride);

      for (int x = 0; x < out->width; x++)
        {
          int x0 = 2 * x, x1 = MIN (2 * x + 1, in->width - 1);
          const guint32 *pa = (const guint32 *) (const void *) a;
          const guint32 *pb = (const guint32 *) (const void *) b;

          row[x] = mean4 (pa[x0], pa[x1], pb[x0], pb[x1]);
        }
    }
  return TRUE;
}

BlImage *
bl_image_decode (GBytes       *bytes,
                 GCancellable *cancellable,
                 GError      **error)
{
  g_autoptr (BlPhotoMeta) meta = bl_photo_meta_read (bytes, error);
  g_autoptr (BlImage) image = NULL;
  gboolean done;

  if (meta == NULL)
    return NULL;
  image = g_new0 (BlImage, 1);
  g_atomic_ref_count_init (&image->refs);
  image->n_levels = 1;
  done = bl_picture_is_jpeg (bytes)
         ? bl_jpeg_decode (bytes, cancellable, &image->levels[0], error)
         : decode_png (bytes, cancellable, &image->levels[0], error);
  if (!done || !turn_upright (&image->levels[0], meta->orientation, error))
    return NULL;
  image->width = image->levels[0].width;
  image->height = image->levels[0].height;
  while (image->n_levels < BL_IMAGE_LEVELS
         && MAX (image->levels[image->n_levels - 1].width, image->levels[image->n_levels - 1].height)
            > LEAST_SIDE)
    {
      if (g_cancellable_is_cancelled (cancellable))
        {
          g_set_error_literal (error, BL_ERROR, BL_ERROR_CANCELLED,
                               _("Loading the picture was cancelled."));
          return NULL;
        }
      if (!halve (&image->levels[image->n_levels - 1], &image->levels[image->n_levels], error))
        return NULL;
      image->n_levels++;
    }
  return g_steal_pointer (&image);
}

BlImage *
bl_image_ref (BlImage *image)
{
  g_atomic_ref_count_inc (&image->refs);
  return image;
}

void
bl_image_unref (BlImage *image)
{
  if (!g_atomic_ref_count_dec (&image->refs))
    return;
  for (int i = 0; i < BL_IMAGE_LEVELS; i++)
    g_free (image->levels[i].data);
  g_free (image);
}

const BlPixels *
bl_image_level_for (const BlImage *image,
                    double         zoom,
                    double        *level_scale)
{
  int level = 0;
  double scale = 1.0;

  while (level + 1 < image->n_levels && scale / 2.0 >= zoom)
    {
      level++;
      scale /= 2.0;
    }
  if (level_scale != NULL)
    *level_scale = scale;
  return &image->levels[level];
}

/* Packed RGB on white. */
static GdkPixbuf *
flatten (const BlPixels *pixels)
{
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, pixels->width, pixels->height);
  int stride;
  guchar *out;

  if (pixbuf == NULL)
    return NULL;
  stride = gdk_pixbuf_get_rowstride (pixbuf);
  out = gdk_pixbuf_get_pixels (pixbuf);
  for (int y = 0; y < pixels->height; y++)
    {
      const guint32 *row = (const guint32 *) (const void *) (pixels->data + (gsize) y * pixels->stride);

      for (int x = 0; x < pixels->width; x++)
        {
          guint32 under = 255 - (row[x] >> 24);

          for (int k = 0; k < 3; k++)
            out[(gsize) y * stride + 3 * x + k] = (guchar) (((row[x] >> (16 - 8 * k)) & 255) + under);
        }
    }
  return pixbuf;
}

GBytes *
bl_image_to_jpeg (const BlImage *image,
                  int            max_side,
                  int            quality,
                  int           *width,
                  int           *height,
                  GError       **error)
{
  double scale = MIN (1.0, max_side / (double) MAX (image->width, image->height));
  g_autoptr (GdkPixbuf) flat = NULL, scaled = NULL;
  int w = MAX (1, (int) lround (image->width * scale));
  int h = MAX (1, (int) lround (image->height * scale));

  g_return_val_if_fail (max_side > 0, NULL);
  flat = flatten (bl_image_level_for (image, scale, NULL));
  if (flat != NULL)
    scaled = gdk_pixbuf_get_width (flat) == w && gdk_pixbuf_get_height (flat) == h
             ? g_object_ref (flat)
             : gdk_pixbuf_scale_simple (flat, w, h, GDK_INTERP_BILINEAR);
  if (scaled == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                   _("There is not enough memory for a picture of %d × %d pixels."), w, h);
      return NULL;
    }
  if (width != NULL)
    *width = w;
  if (height != NULL)
    *height = h;
  return bl_jpeg_encode (gdk_pixbuf_read_pixels (scaled), w, h, gdk_pixbuf_get_rowstride (scaled),
                         quality, error);
}
