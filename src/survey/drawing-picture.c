/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture of a base drawing: PNG and JPEG as they are, an SVG drawn once. */
#include "config.h"

#include "survey/drawing.h"

#include "base/error.h"
#include "photo/image.h"
#include "survey/drawing-private.h"
#include "survey/svg-dashes.h"

#include <glib/gi18n-lib.h>
#include <librsvg/rsvg.h>
#include <string.h>

#define LEAST_SIDE 64 /* pixels of the shorter side that an SVG may be drawn to */
#define HEAD 4096     /* bytes within which an SVG's root element is looked for */

gboolean
bl_drawing_is_svg (GBytes *bytes)
{
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);

  if (length == 0 || memchr (text, '\0', MIN (length, HEAD)) != NULL)
    return FALSE;
  return g_strstr_len (text, (gssize) MIN (length, HEAD), "<svg") != NULL;
}

static gboolean
refuse (const char *sentence,
        GError    **error)
{
  g_set_error_literal (error, BL_ERROR, BL_ERROR_FILE, sentence);
  return FALSE;
}

static gboolean
size_of (RsvgHandle *handle,
         int        *width,
         int        *height,
         GError    **error)
{
  gboolean has_box;
  RsvgRectangle box;
  double w, h, scale;

  if (!rsvg_handle_get_intrinsic_size_in_pixels (handle, &w, &h))
    {
      rsvg_handle_get_intrinsic_dimensions (handle, NULL, NULL, NULL, NULL, &has_box, &box);
      w = has_box ? box.width : 0.0;
      h = has_box ? box.height : 0.0;
    }
  if (!(w > 0.0 && h > 0.0 && w < 1e9 && h < 1e9))
    return refuse (_("The SVG does not say how large it is: it needs a width and a height, or a viewBox."),
                   error);
  scale = BL_DRAWING_SIDE / MAX (w, h);
  *width = (int) round (w * scale);
  *height = (int) round (h * scale);
  return MIN (*width, *height) >= LEAST_SIDE
         || refuse (_("The SVG is more than 64 times as long as it is wide; cut it to the site first."), error);
}

static cairo_status_t
append_cb (void                *data,
           const unsigned char *bytes,
           unsigned int         length)
{
  g_byte_array_append (data, bytes, length);
  return CAIRO_STATUS_SUCCESS;
}

static GBytes *
draw (RsvgHandle   *handle,
      int           width,
      int           height,
      GCancellable *cancellable,
      GError      **error)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  RsvgRectangle all = { 0.0, 0.0, width, height };
  g_autoptr (GByteArray) png = g_byte_array_new ();
  g_autoptr (GError) problem = NULL;
  gboolean ok = rsvg_handle_render_document (handle, cr, &all, &problem);

  cairo_destroy (cr);
  if (!ok)
    {
      g_autofree char *why = g_utf8_make_valid (problem->message, -1);

      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("The SVG cannot be drawn: %s"), why);
    }
  else if (g_cancellable_is_cancelled (cancellable))
    {
      ok = FALSE;
      g_set_error_literal (error, BL_ERROR, BL_ERROR_CANCELLED, _("The drawing was not brought in."));
    }
  else if (cairo_surface_write_to_png_stream (surface, append_cb, png) != CAIRO_STATUS_SUCCESS)
    {
      ok = FALSE;
      g_set_error_literal (error, BL_ERROR, BL_ERROR_FAILED, _("There is not enough memory to draw the SVG."));
    }
  cairo_surface_destroy (surface);
  return ok ? g_byte_array_free_to_bytes (g_steal_pointer (&png)) : NULL;
}

/* Without a place to start from it finds no other file. */
static GBytes *
draw_svg (const char   *text,
          gsize         length,
          gboolean      solid,
          GCancellable *cancellable,
          GError      **error)
{
  g_autoptr (GError) problem = NULL;
  RsvgHandle *handle = rsvg_handle_new_from_data ((const guint8 *) text, length, &problem);
  GBytes *png = NULL;
  int width, height;

  if (handle == NULL)
    {
      g_autofree char *why = g_utf8_make_valid (problem->message, -1);

      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("The SVG cannot be read: %s"), why);
      return NULL;
    }
  if (solid)
    rsvg_handle_set_stylesheet (handle, (const guint8 *) BL_SVG_SOLID, strlen (BL_SVG_SOLID), NULL);
  if (size_of (handle, &width, &height, error))
    png = draw (handle, width, height, cancellable, error);
  g_object_unref (handle);
  return png;
}

GBytes *
bl_drawing_picture (GBytes       *bytes,
                    GCancellable *cancellable,
                    GError      **error)
{
  g_autoptr (BlPhotoMeta) meta = NULL;
  gboolean solid;
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);

  if (bl_drawing_is_svg (bytes))
    {
      if (length > BL_DRAWING_MAX_SVG)
        {
          refuse (_("The SVG is larger than 8 megabytes: cut it to the site first, or save it as a PNG."),
                  error);
          return NULL;
        }
      return bl_svg_screen (text, length, &solid, error)
               ? draw_svg (text, length, solid, cancellable, error) : NULL;
    }
  meta = bl_photo_meta_read (bytes, error);
  return meta != NULL ? g_bytes_ref (bytes) : NULL;
}
