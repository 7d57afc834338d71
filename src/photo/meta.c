/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a photo's metadata says, read without decoding its pixels. */
#include "base/error.h"
#include "photo/image.h"
#include "photo/jpeg-private.h"

#include <gexiv2/gexiv2.h>
#include <math.h>

void
bl_photo_meta_free (BlPhotoMeta *meta)
{
  if (meta == NULL)
    return;
  g_free (meta->mime);
  g_free (meta->taken);
  g_free (meta);
}

/* A tag's first rational or whole number; NAN when it is absent or not one. */
static double
number_of (GExiv2Metadata *exif,
           const char     *tag)
{
  gint over, under;

  if (!gexiv2_metadata_try_has_tag (exif, tag, NULL))
    return NAN;
  if (gexiv2_metadata_try_get_exif_tag_rational (exif, tag, &over, &under, NULL) && under != 0)
    return over / (double) under;
  return NAN;
}

static double
whole_of (GExiv2Metadata *exif,
          const char     *tag)
{
  g_autofree char *text = NULL;
  gint64 value;

  if (!gexiv2_metadata_try_has_tag (exif, tag, NULL))
    return NAN;
  text = gexiv2_metadata_try_get_tag_string (exif, tag, NULL);
  if (text == NULL || !g_ascii_string_to_signed (text, 10, 0, G_MAXINT32, &value, NULL))
    return NAN;
  return (double) value;
}

/* "2026:05:12 10:40:00" as the standard writes it, in the usual form. */
static char *
date_of (GExiv2Metadata *exif)
{
  static const char form[] = "0000:00:00 00:00:00";
  g_autofree char *text = gexiv2_metadata_try_get_tag_string (exif, "Exif.Photo.DateTimeOriginal",
                                                              NULL);

  if (text == NULL || strlen (text) < 19)
    return NULL;
  for (int i = 0; i < 19; i++)
    if (form[i] == '0' ? !g_ascii_isdigit (text[i]) : text[i] != form[i])
      return NULL;
  text[4] = text[7] = '-';
  text[19] = '\0';
  return g_steal_pointer (&text);
}

/* Degrees, minutes and seconds as one number, from gexiv2's own reading. */
static void
read_place (GExiv2Metadata *exif,
            BlPhotoMeta    *meta)
{
  g_autofree char *reference = NULL;
  double longitude, latitude, direction;

  if (gexiv2_metadata_try_has_tag (exif, "Exif.GPSInfo.GPSLatitude", NULL)
      && gexiv2_metadata_try_has_tag (exif, "Exif.GPSInfo.GPSLongitude", NULL)
      && gexiv2_metadata_try_get_gps_latitude (exif, &latitude, NULL)
      && gexiv2_metadata_try_get_gps_longitude (exif, &longitude, NULL)
      && fabs (latitude) <= 90.0 && fabs (longitude) <= 180.0
      && (latitude != 0.0 || longitude != 0.0))
    {
      meta->latitude = latitude;
      meta->longitude = longitude;
    }
  direction = number_of (exif, "Exif.GPSInfo.GPSImgDirection");
  if (!(direction >= 0.0 && direction <= 360.0))
    return;
  /* A magnetic bearing is not one from true north. */
  reference = gexiv2_metadata_try_get_tag_string (exif, "Exif.GPSInfo.GPSImgDirectionRef", NULL);
  if (g_strcmp0 (reference, "M") != 0)
    meta->direction = fmod (direction, 360.0);
}

static gboolean
same_shape (double a,
            double b)
{
  return fabs (log (a / b)) < 0.015;
}

static gboolean
is_cropped (GExiv2Metadata *exif,
            int             width,
            int             height)
{
  static const double shapes[] = { 4.0 / 3.0, 3.0 / 2.0, 16.0 / 9.0 };
  double shape = MAX (width, height) / (double) MIN (width, height);
  double w = exif != NULL ? whole_of (exif, "Exif.Photo.PixelXDimension") : NAN;
  double h = exif != NULL ? whole_of (exif, "Exif.Photo.PixelYDimension") : NAN;

  if (w > 0.0 && h > 0.0 && !same_shape (MAX (w, h) / MIN (w, h), shape))
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (shapes); i++)
    if (same_shape (shape, shapes[i]))
      return FALSE;
  return TRUE;
}

static gpointer
start_gexiv2 (gpointer data)
{
  gexiv2_initialize ();
  /* Odd maker's notes are not worth a line on the terminal. */
  gexiv2_log_set_level (GEXIV2_LOG_LEVEL_MUTE);
  return NULL;
}

static void
read_exif (GExiv2Metadata *exif,
           BlPhotoMeta    *meta)
{
  double orientation = whole_of (exif, "Exif.Image.Orientation");
  double focal = whole_of (exif, "Exif.Photo.FocalLengthIn35mmFilm");
  double zoom = number_of (exif, "Exif.Photo.DigitalZoomRatio");

  if (orientation >= 1.0 && orientation <= 8.0)
    meta->orientation = (int) orientation;
  if (focal >= 4.0 && focal <= 5000.0)
    meta->focal_35mm = focal;
  if (zoom > 0.0 && zoom < 1000.0)
    meta->digital_zoom = zoom;
  meta->taken = date_of (exif);
  read_place (exif, meta);
}

BlPhotoMeta *
bl_photo_meta_read (GBytes  *bytes,
                    GError **error)
{
  static GOnce once = G_ONCE_INIT;
  g_autoptr (BlPhotoMeta) meta = NULL;
  g_autoptr (GExiv2Metadata) exif = NULL;
  gboolean jpeg, has_exif, sized;
  gsize size;
  const guint8 *data;
  int width, height;

  g_return_val_if_fail (bytes != NULL, NULL);
  if (!bl_picture_check_bytes (bytes, error))
    return NULL;
  jpeg = bl_picture_is_jpeg (bytes);
  sized = jpeg ? bl_jpeg_size (bytes, &width, &height, error)
               : bl_png_size (bytes, FALSE, &width, &height, error);
  if (!sized || !bl_picture_check_size (width, height, error))
    return NULL;
  g_once (&once, start_gexiv2, NULL);
  meta = g_new0 (BlPhotoMeta, 1);
  meta->mime = g_strdup (jpeg ? "image/jpeg" : "image/png");
  meta->orientation = 1;
  meta->latitude = meta->longitude = meta->direction = NAN;
  data = g_bytes_get_data (bytes, &size);
  exif = gexiv2_metadata_new ();
  /* A picture whose metadata cannot be read is a picture without. */
  has_exif = gexiv2_metadata_open_buf (exif, data, (glong) size, NULL);
  if (has_exif)
    read_exif (exif, meta);
  meta->looks_cropped = is_cropped (has_exif ? exif : NULL, width, height);
  meta->width = meta->orientation >= 5 ? height : width;
  meta->height = meta->orientation >= 5 ? width : height;
  return g_steal_pointer (&meta);
}
