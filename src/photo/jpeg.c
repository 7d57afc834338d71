/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JPEG reading and writing by libjpeg, with damage reported. */
#include "config.h"

#include "photo/jpeg-private.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <jerror.h>
#include <jpeglib.h>

#define MAX_SCANS 40 /* a camera writes one, or about ten; at the largest size each takes 0.1 s */

#if G_BYTE_ORDER == G_LITTLE_ENDIAN
#define NATIVE_ARGB JCS_EXT_BGRA
#else
#define NATIVE_ARGB JCS_EXT_ARGB
#endif

typedef struct
{
  struct jpeg_error_mgr base;
  struct jpeg_progress_mgr watch;
  jmp_buf escape;
  gboolean truncated, damaged;
  char message[JMSG_LENGTH_MAX];
} Errors;

static void
error_exit_cb (j_common_ptr info)
{
  Errors *errors = (Errors *) info->err;

  info->err->format_message (info, errors->message);
  longjmp (errors->escape, 1);
}

/* What libjpeg would mend without a word: the missing rest of a file, broken codes. */
static void
emit_message_cb (j_common_ptr info,
                 int          level)
{
  Errors *errors = (Errors *) info->err;

  if (level >= 0)
    return;
  switch (info->err->msg_code)
    {
    case JWRN_JPEG_EOF:
    case JWRN_HIT_MARKER:
      errors->truncated = TRUE;
      break;
    case JWRN_HUFF_BAD_CODE:
    case JWRN_MUST_RESYNC:
    case JWRN_NOT_SEQUENTIAL:
      errors->damaged = TRUE;
      break;
    default:
      break;
    }
}

static void
output_message_cb (j_common_ptr info)
{
}

/* Each scan goes over the whole picture again, however few bytes it has in the file. */
static void
scan_begun_cb (j_common_ptr info)
{
  Errors *errors = (Errors *) info->err;

  if (((j_decompress_ptr) info)->input_scan_number <= MAX_SCANS)
    return;
  g_snprintf (errors->message, sizeof errors->message, _("more than %d scans"), MAX_SCANS);
  longjmp (errors->escape, 1);
}

static void
errors_init (Errors *errors)
{
  jpeg_std_error (&errors->base);
  errors->base.error_exit = error_exit_cb;
  errors->base.emit_message = emit_message_cb;
  errors->base.output_message = output_message_cb;
  errors->watch.progress_monitor = scan_begun_cb;
  errors->truncated = errors->damaged = FALSE;
  errors->message[0] = '\0';
}

static gboolean
refuse_damaged (const Errors *errors,
                GError      **error)
{
  if (errors->message[0] != '\0' && !errors->truncated)
    g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("The picture is damaged and cannot be read (%s); copy "
                 "it from the camera again."), errors->message);
  else
    g_set_error_literal (error, BL_ERROR, BL_ERROR_FILE,
                         errors->damaged && !errors->truncated
                           ? _("The picture is damaged in its middle; copy it from the camera again.")
                           : _("The picture is cut short: its end is missing; copy it from the camera "
                             "again."));
  return FALSE;
}

static gboolean
read_header (struct jpeg_decompress_struct *info,
             Errors                        *errors,
             const guchar                  *data,
             gsize                          size)
{
  if (setjmp (errors->escape))
    return FALSE;
  jpeg_create_decompress (info);
  jpeg_mem_src (info, data, size);
  jpeg_read_header (info, TRUE);
  return TRUE;
}

gboolean
bl_jpeg_size (GBytes  *bytes,
              int     *width,
              int     *height,
              GError **error)
{
  struct jpeg_decompress_struct info = { 0 };
  Errors errors;
  gsize size;
  const guchar *data = g_bytes_get_data (bytes, &size);

  gboolean done;

  errors_init (&errors);
  info.err = &errors.base;
  done = read_header (&info, &errors, data, size);
  *width = (int) info.image_width;
  *height = (int) info.image_height;
  jpeg_destroy_decompress (&info);
  return done || refuse_damaged (&errors, error);
}

/* Printing inks, stored inverted as is the habit of such files. */
static void
cmyk_to_argb (guchar *row,
              int     width)
{
  for (int x = 0; x < width; x++)
    {
      guchar *p = row + 4 * (gsize) x;
      guint32 r = p[0] * p[3] / 255, g = p[1] * p[3] / 255, b = p[2] * p[3] / 255;

      *(guint32 *) (void *) p = 0xff000000u | r << 16 | g << 8 | b;
    }
}

/* Separate from what is freed on the way out, as longjmp forgets local values. */
static gboolean
read_rows (struct jpeg_decompress_struct *info,
           Errors                        *errors,
           GCancellable                  *cancellable,
           const BlPixels                *pixels,
           volatile gboolean             *cancelled)
{
  gboolean cmyk = info->jpeg_color_space == JCS_CMYK || info->jpeg_color_space == JCS_YCCK;

  if (setjmp (errors->escape))
    return FALSE;
  info->progress = &errors->watch;
  info->out_color_space = cmyk ? JCS_CMYK : NATIVE_ARGB;
  jpeg_start_decompress (info);
  while (info->output_scanline < info->output_height)
    {
      guchar *row = pixels->data + (gsize) info->output_scanline * pixels->stride;

      if (info->output_scanline % 16 == 0 && g_cancellable_is_cancelled (cancellable))
        {
          *cancelled = TRUE;
          return FALSE;
        }
      jpeg_read_scanlines (info, &row, 1);
      if (cmyk)
        cmyk_to_argb (row, pixels->width);
    }
  jpeg_finish_decompress (info);
  return TRUE;
}

gboolean
bl_jpeg_decode (GBytes       *bytes,
                GCancellable *cancellable,
                BlPixels     *pixels,
                GError      **error)
{
  struct jpeg_decompress_struct info = { 0 };
  Errors errors;
  gsize size;
  const guchar *data = g_bytes_get_data (bytes, &size);
  volatile gboolean cancelled = FALSE;
  gboolean done = FALSE;

  errors_init (&errors);
  info.err = &errors.base;
  if (!read_header (&info, &errors, data, size))
    {
      jpeg_destroy_decompress (&info);
      return refuse_damaged (&errors, error);
    }
  if (bl_picture_check_size (info.image_width, info.image_height, error)
      && bl_pixels_alloc (pixels, (int) info.image_width, (int) info.image_height, error))
    {
      done = read_rows (&info, &errors, cancellable, pixels, &cancelled);
      if (cancelled)
        g_set_error_literal (error, BL_ERROR, BL_ERROR_CANCELLED, _("Loading the picture was cancelled."));
      else if (!done || errors.truncated || errors.damaged)
        done = refuse_damaged (&errors, error);
      if (!done)
        g_clear_pointer (&pixels->data, g_free);
    }
  jpeg_destroy_decompress (&info);
  return done;
}

static gboolean
write_rows (struct jpeg_compress_struct *info,
            Errors                      *errors,
            const guchar                *rgb,
            int                          stride,
            int                          quality,
            unsigned char              **out,
            unsigned long               *size)
{
  if (setjmp (errors->escape))
    return FALSE;
  jpeg_mem_dest (info, out, size);
  jpeg_set_defaults (info);
  jpeg_set_quality (info, CLAMP (quality, 1, 100), TRUE);
  info->optimize_coding = TRUE;
  jpeg_start_compress (info, TRUE);
  while (info->next_scanline < info->image_height)
    {
      JSAMPROW row = (JSAMPROW) (rgb + (gsize) info->next_scanline * stride);

      jpeg_write_scanlines (info, &row, 1);
    }
  jpeg_finish_compress (info);
  return TRUE;
}

GBytes *
bl_jpeg_encode (const guchar *rgb,
                int           width,
                int           height,
                int           stride,
                int           quality,
                GError      **error)
{
  struct jpeg_compress_struct info = { 0 };
  Errors errors;
  unsigned char *out = NULL;
  unsigned long size = 0;
  GBytes *bytes = NULL;

  errors_init (&errors);
  info.err = &errors.base;
  jpeg_create_compress (&info);
  info.image_width = (JDIMENSION) width;
  info.image_height = (JDIMENSION) height;
  info.input_components = 3;
  info.in_color_space = JCS_RGB;
  if (write_rows (&info, &errors, rgb, stride, quality, &out, &size))
    bytes = g_bytes_new (out, size);
  else
    g_set_error (error, BL_ERROR, BL_ERROR_FAILED, _("The picture could not be written as JPEG (%s)."),
                 errors.message);
  jpeg_destroy_compress (&info);
  free (out);
  return bytes;
}
