/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Painting one piece of a scene into a texture, on any thread. */

#include "config.h"

#include "studio/tile-bake.h"

static gboolean
is_opaque (const guchar *data, int width, int height, int stride)
{
  for (int y = 0; y < height; y++)
    {
      const guint32 *row = (const guint32 *)(const void *)(data + (gsize)y * stride);
      guint32 all = 0xff000000u;

      for (int x = 0; x < width; x++)
        all &= row[x];
      if (all >> 24 != 0xff)
        return FALSE;
    }
  return TRUE;
}

/* Without transparency premultiplied and plain colours are the same bytes, and GTK's cairo renderer,
 * which converts a texture whenever it draws it, is several times faster with plain ones. */
static GdkMemoryFormat
format_for (const guchar *data, int width, int height, int stride)
{
  if (!is_opaque (data, width, height, stride))
    return GDK_MEMORY_DEFAULT;
  return G_BYTE_ORDER == G_LITTLE_ENDIAN ? GDK_MEMORY_B8G8R8A8 : GDK_MEMORY_A8R8G8B8;
}

static GdkTexture *
take_texture (cairo_surface_t *surface)
{
  int stride = cairo_image_surface_get_stride (surface);
  int width = cairo_image_surface_get_width (surface);
  int height = cairo_image_surface_get_height (surface);
  GdkMemoryFormat format;
  g_autoptr (GBytes) bytes = NULL;

  cairo_surface_flush (surface);
  format = format_for (cairo_image_surface_get_data (surface), width, height, stride);
  bytes
      = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), (gsize)stride * height,
                                    (GDestroyNotify)cairo_surface_destroy, surface);
  return gdk_memory_texture_new (width, height, format, bytes, stride);
}

/* The photo as it is, from the level next above the zoom. */
static void
paint_photo_alone (cairo_t *cr, const BlImage *photo, double zoom)
{
  double k;
  const BlPixels *level = bl_image_level_for (photo, zoom, &k);
  cairo_surface_t *surface = cairo_image_surface_create_for_data (
      level->data, CAIRO_FORMAT_ARGB32, level->width, level->height, level->stride);

  cairo_scale (cr, (double)photo->width / level->width, (double)photo->height / level->height);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
  cairo_pattern_set_extend (cairo_get_source (cr), CAIRO_EXTEND_PAD);
  cairo_paint (cr);
  cairo_surface_destroy (surface);
}

GdkTexture *
bl_tile_bake (const BlScene *scene, BlStamps *stamps, const BlTilePiece *piece)
{
  gboolean plan = scene->view == BL_VIEW_PLAN;
  double x0, y0, w = piece->width / piece->zoom, h = piece->height / piece->zoom;
  BlPaintOptions options
      = { .skip_planting = piece->lifted, .quick = piece->quick, .cache = stamps->cache };
  cairo_surface_t *surface;
  cairo_t *cr;
  BlRect clip;

  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, piece->width, piece->height);
  cr = cairo_create (surface);
  cairo_translate (cr, -piece->ox, -piece->oy);
  cairo_scale (cr, piece->zoom, piece->zoom);
  x0 = piece->ox / piece->zoom;
  y0 = piece->oy / piece->zoom;
  clip = plan ? (BlRect) { x0, -y0 - h, x0 + w, -y0 } : (BlRect) { x0, y0, x0 + w, y0 + h };
  if (piece->photo_only && scene->photo != NULL)
    paint_photo_alone (cr, scene->photo, piece->zoom);
  else
    bl_scene_paint (scene, cr, clip, piece->zoom, &options, NULL, NULL);
  cairo_destroy (cr);
  if (cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS)
    return take_texture (surface);
  cairo_surface_destroy (surface);
  return NULL;
}
