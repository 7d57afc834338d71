/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The designer's mark: read within bounds, drawn once. */
#include "config.h"

#include "proposal/mark.h"

#include <glib/gi18n-lib.h>
#include <librsvg/rsvg.h>

#include "base/error.h"
#include "photo/image.h"
#include "survey/drawing.h"
#include "survey/drawing-private.h"
#include "survey/svg-dashes.h"

struct _BlMark
{
  double width, height;
  BlImage *image;     /* or */
  RsvgHandle *handle;
};

static gboolean
read_svg (BlMark *mark, GBytes *bytes, GError **error)
{
  gsize length;
  const guint8 *data = g_bytes_get_data (bytes, &length);
  g_autoptr (GError) problem = NULL;
  RsvgRectangle box;
  gboolean has_box, solid;

  if (!bl_svg_screen ((const char *) data, length, &solid, error))
    return FALSE;
  mark->handle = rsvg_handle_new_from_data (data, length, &problem);
  if (mark->handle == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("the mark can't be read as an SVG: %s"),
                   problem->message);
      return FALSE;
    }
  if (solid)
    rsvg_handle_set_stylesheet (mark->handle, (const guint8 *) BL_SVG_SOLID, strlen (BL_SVG_SOLID), NULL);
  if (!rsvg_handle_get_intrinsic_size_in_pixels (mark->handle, &mark->width, &mark->height))
    {
      rsvg_handle_get_intrinsic_dimensions (mark->handle, NULL, NULL, NULL, NULL, &has_box, &box);
      mark->width = has_box ? box.width : 0;
      mark->height = has_box ? box.height : 0;
    }
  if (mark->width > 0 && mark->height > 0 && mark->width < 1e6 && mark->height < 1e6)
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_FILE,
               _("the mark does not say how large it is; give the SVG a width and a height."));
  return FALSE;
}

static gboolean
read_pixels (BlMark *mark, GBytes *bytes, GError **error)
{
  g_autoptr (BlPhotoMeta) meta = bl_photo_meta_read (bytes, error);

  if (meta == NULL)
    return FALSE;
  if (MAX (meta->width, meta->height) > BL_MARK_MAX_SIDE)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _("the mark is %d × %d pixels; make it at most %d on its longer side."), meta->width,
                   meta->height, BL_MARK_MAX_SIDE);
      return FALSE;
    }
  mark->image = bl_image_decode (bytes, NULL, error);
  if (mark->image == NULL)
    return FALSE;
  mark->width = mark->image->width;
  mark->height = mark->image->height;
  return TRUE;
}

BlMark *
bl_mark_read (GBytes *bytes, GError **error)
{
  g_autoptr (BlMark) mark = g_new0 (BlMark, 1);

  if (g_bytes_get_size (bytes) > BL_MARK_MAX_BYTES)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _("the mark is larger than 2 MB; save it smaller first."));
      return NULL;
    }
  if (bl_drawing_is_svg (bytes) ? read_svg (mark, bytes, error) : read_pixels (mark, bytes, error))
    return g_steal_pointer (&mark);
  return NULL;
}

void
bl_mark_free (BlMark *mark)
{
  g_clear_pointer (&mark->image, bl_image_unref);
  g_clear_object (&mark->handle);
  g_free (mark);
}

double
bl_mark_aspect (const BlMark *mark)
{
  return mark->width / mark->height;
}

void
bl_mark_draw (const BlMark *mark, cairo_t *cr, double x, double y, double width)
{
  RsvgRectangle box = { x, y, width, width / bl_mark_aspect (mark) };
  cairo_surface_t *surface;
  const BlPixels *pixels;

  cairo_save (cr);
  if (mark->handle != NULL)
    {
      rsvg_handle_render_document (mark->handle, cr, &box, NULL);
      cairo_restore (cr);
      return;
    }
  pixels = &mark->image->levels[0];
  surface = cairo_image_surface_create_for_data (pixels->data, CAIRO_FORMAT_ARGB32, pixels->width,
                                                 pixels->height, pixels->stride);
  cairo_translate (cr, x, y);
  cairo_scale (cr, width / pixels->width, width / pixels->width);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_paint (cr);
  cairo_restore (cr);
  cairo_surface_destroy (surface);
}
