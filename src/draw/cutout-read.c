/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decoding cut-out pictures, within bounds: a PNG to levels of half the size each, an SVG to its
 * outline. */
#include "draw/cutout-private.h"

#include <math.h>
#include <string.h>

#include "base/png.h"
#include "draw/symbol.h"
#include "survey/svg-dashes.h"

#define MAX_SVG (256 * 1024) /* bytes */
#define MAX_SIDE 8000        /* pixels of a PNG */
#define MAX_AREA 40000000
#define PROBE 512.0          /* pixels to which an SVG is drawn to see its outline */
#define SEEN 20              /* alpha, of 255, from which a pixel is not empty */

void
bl_cutout_art_free (gpointer data)
{
  BlCutoutArt *art = data;

  if (art == NULL)
    return;
  for (guint i = 0; i < art->n_levels; i++)
    g_free (art->levels[i].data);
  g_free (art);
}

cairo_surface_t *
bl_cutout_surface (const BlCutoutLevel *level)
{
  return cairo_image_surface_create_for_data ((guchar *) level->data, CAIRO_FORMAT_ARGB32,
                                              level->width, level->height, level->width * 4);
}

/* Reading. */

gboolean
bl_cutout_is_png (GBytes *bytes)
{
  gsize n;
  const guchar *data = g_bytes_get_data (bytes, &n);

  return n > 33 && memcmp (data, "\x89PNG\r\n\x1a\n", 8) == 0;
}

static guint32
big_endian (const guchar *at)
{
  return (guint32) at[0] << 24 | (guint32) at[1] << 16 | (guint32) at[2] << 8 | at[3];
}

static gboolean
has_sane_size (GBytes *bytes)
{
  const guchar *data = g_bytes_get_data (bytes, NULL);
  guint32 w = big_endian (data + 16), h = big_endian (data + 20);

  return w > 0 && h > 0 && w <= MAX_SIDE && h <= MAX_SIDE && (guint64) w * h <= MAX_AREA;
}

typedef struct
{
  const guchar *at, *end;
} Stream;

static cairo_status_t
read_stream (void *data, guchar *to, guint length)
{
  Stream *stream = data;

  if ((gsize) (stream->end - stream->at) < length)
    return CAIRO_STATUS_READ_ERROR;
  memcpy (to, stream->at, length);
  stream->at += length;
  return CAIRO_STATUS_SUCCESS;
}

/* NULL when the file is damaged or not what it seems. */
cairo_surface_t *
bl_cutout_decode_png (GBytes *bytes)
{
  g_autoptr (GBytes) bare = NULL;
  gsize n;
  Stream stream;
  cairo_surface_t *surface;

  if (!bl_cutout_is_png (bytes) || !has_sane_size (bytes))
    return NULL;
  bare = bl_png_bare (bytes);
  stream.at = g_bytes_get_data (bare, &n);
  stream.end = stream.at + n;
  surface = cairo_image_surface_create_from_png_stream (read_stream, &stream);
  if (cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS)
    return surface;
  cairo_surface_destroy (surface);
  return NULL;
}

/* Packed, so that levels need no stride. */
static BlCutoutLevel
level_of (cairo_surface_t *surface)
{
  BlCutoutLevel level = { .width = cairo_image_surface_get_width (surface),
                  .height = cairo_image_surface_get_height (surface) };
  cairo_surface_t *packed;
  cairo_t *cr;

  level.data = g_new0 (guint32, (gsize) level.width * (gsize) level.height);
  packed = bl_cutout_surface (&level);
  cr = cairo_create (packed);
  cairo_set_operator (cr, CAIRO_OPERATOR_SOURCE);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_finish (packed);
  cairo_surface_destroy (packed);
  return level;
}

static guint
alpha_at (const BlCutoutLevel *level, int x, int y)
{
  return level->data[(gsize) y * (gsize) level->width + (gsize) x] >> 24;
}

/* The rectangle of what is not empty; FALSE when all is. */
static gboolean
find_ink (const BlCutoutLevel *level, BlCutoutArt *art)
{
  int x0 = level->width, y0 = level->height, x1 = 0, y1 = 0;

  for (int y = 0; y < level->height; y++)
    for (int x = 0; x < level->width; x++)
      if (alpha_at (level, x, y) >= SEEN)
        {
          x0 = MIN (x0, x), x1 = MAX (x1, x + 1);
          y0 = MIN (y0, y), y1 = y + 1;
        }
  art->x0 = x0, art->y0 = y0, art->x1 = x1, art->y1 = y1;
  return x1 > x0 && y1 > y0;
}

static guint32
mean_of (const BlCutoutLevel *from, int x, int y)
{
  guint sum[4] = { 0 };
  guint32 mean = 0;

  for (int k = 0; k < 4; k++)
    {
      int at_x = MIN (x + (k & 1), from->width - 1), at_y = MIN (y + k / 2, from->height - 1);
      guint32 pixel = from->data[(gsize) at_y * (gsize) from->width + (gsize) at_x];

      for (int c = 0; c < 4; c++)
        sum[c] += pixel >> (8 * c) & 0xff;
    }
  for (int c = 0; c < 4; c++)
    mean |= (sum[c] + 2) / 4 << (8 * c);
  return mean;
}

static BlCutoutLevel
halved (const BlCutoutLevel *from)
{
  BlCutoutLevel level = { .width = (from->width + 1) / 2, .height = (from->height + 1) / 2 };

  level.data = g_new (guint32, (gsize) level.width * (gsize) level.height);
  for (int y = 0; y < level.height; y++)
    for (int x = 0; x < level.width; x++)
      level.data[(gsize) y * (gsize) level.width + (gsize) x] = mean_of (from, 2 * x, 2 * y);
  return level;
}

/* Half the size, until a level is too small to be of use. */
static void
add_levels (BlCutoutArt *art)
{
  while (art->n_levels < BL_CUTOUT_LEVELS && art->levels[art->n_levels - 1].height > 48)
    {
      art->levels[art->n_levels] = halved (&art->levels[art->n_levels - 1]);
      art->n_levels++;
    }
}

static gboolean
read_png (BlCutoutArt *art, GBytes *bytes)
{
  cairo_surface_t *surface = bl_cutout_decode_png (bytes);

  if (surface == NULL)
    return FALSE;
  art->levels[0] = level_of (surface);
  art->n_levels = 1;
  cairo_surface_destroy (surface);
  art->width = art->levels[0].width;
  art->height = art->levels[0].height;
  add_levels (art);
  return find_ink (&art->levels[0], art);
}

/* The size that a drawing has by itself: its width and height or, without them, its view box. */
static gboolean
svg_size (RsvgHandle *handle, double *width, double *height)
{
  gboolean has_width, has_height, has_box;
  RsvgLength w, h;
  RsvgRectangle box;

  if (rsvg_handle_get_intrinsic_size_in_pixels (handle, width, height))
    return *width > 0 && *height > 0 && *width < 1e5 && *height < 1e5;
  rsvg_handle_get_intrinsic_dimensions (handle, &has_width, &w, &has_height, &h, &has_box, &box);
  *width = box.width, *height = box.height;
  return has_box && *width > 0 && *height > 0 && *width < 1e5 && *height < 1e5;
}

RsvgHandle *
bl_cutout_open_svg (GBytes *bytes)
{
  gsize n;
  const guint8 *data = g_bytes_get_data (bytes, &n);
  RsvgHandle *handle;

  /* Without a place to start from it finds no other file. */
  if (n == 0 || n > MAX_SVG || !bl_drawing_is_plain ((const char *) data, n, NULL))
    return NULL;
  handle = rsvg_handle_new_from_data (data, n, NULL);
  /* A plant has no dashes, and their number would have no bound. */
  if (handle != NULL)
    rsvg_handle_set_stylesheet (handle, (const guint8 *) BL_SVG_SOLID, strlen (BL_SVG_SOLID), NULL);
  return handle;
}

gboolean
bl_cutout_render_svg (RsvgHandle *handle, cairo_t *cr, double width, double height)
{
  RsvgRectangle all = { 0, 0, width, height };

  return rsvg_handle_render_document (handle, cr, &all, NULL);
}

static gboolean
probe_svg (BlCutoutArt *art, RsvgHandle *handle)
{
  double k;
  BlCutoutLevel probe = { 0 };
  cairo_surface_t *surface;
  cairo_t *cr;
  gboolean ok;

  if (!svg_size (handle, &art->width, &art->height))
    return FALSE;
  k = PROBE / MAX (art->width, art->height);
  probe.width = MAX (1, (int) ceil (art->width * k));
  probe.height = MAX (1, (int) ceil (art->height * k));
  probe.data = g_new0 (guint32, (gsize) probe.width * (gsize) probe.height);
  surface = bl_cutout_surface (&probe);
  cr = cairo_create (surface);
  cairo_scale (cr, k, k);
  ok = bl_cutout_render_svg (handle, cr, art->width, art->height);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  ok = ok && find_ink (&probe, art);
  art->x0 /= k, art->y0 /= k, art->x1 /= k, art->y1 /= k;
  g_free (probe.data);
  return ok;
}

static gboolean
read_svg (BlCutoutArt *art, GBytes *bytes)
{
  RsvgHandle *handle = bl_cutout_open_svg (bytes);
  gboolean ok = handle != NULL && probe_svg (art, handle);

  art->svg = TRUE;
  g_clear_object (&handle);
  return ok;
}

BlCutoutArt *
bl_cutout_art_new (GBytes *bytes)
{
  BlCutoutArt *art = g_new0 (BlCutoutArt, 1);

  if (bl_cutout_is_png (bytes) ? read_png (art, bytes) : read_svg (art, bytes))
    return art;
  bl_cutout_art_free (art);
  return NULL;
}

