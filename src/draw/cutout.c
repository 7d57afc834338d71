/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cut-out pictures where figures would stand, at their true size.
 *
 * The light of the place is left out of them: a photograph brings its own. What is decoded of a
 * picture stays with its plant and is shared by all threads. */
#include "draw/cutout.h"

#include <string.h>

#include "draw/cutout-private.h"

/* Made once for a plant; NULL when there is nothing to draw. */
static const BlCutoutArt *
art_of (const BlPlant *plant, const BlLook *look)
{
  BlCutout *cutout = plant->cutout;
  const BlCutoutArt *art = NULL;

  if (cutout == NULL || cutout->bytes == NULL || !(look->cutout > 0))
    return NULL;
  g_mutex_lock (&cutout->lock);
  /* One that cannot be read is not tried again for every figure. */
  if (cutout->art_free == NULL)
    {
      cutout->art = bl_cutout_art_new (cutout->bytes);
      cutout->art_free = bl_cutout_art_free;
    }
  art = cutout->art;
  g_mutex_unlock (&cutout->lock);
  return art;
}

/* Metres a unit of the picture: from the foot to the top it is as high as the look says. */
static double
scale_of (const BlCutoutArt *art, const BlCutout *cutout, const BlLook *look)
{
  return look->cutout / (MAX (cutout->foot_y, 0.2) * (art->y1 - art->y0));
}

/* Drawing. */

gboolean
bl_cutout_box (const BlPlant *plant, const BlLook *look, BlRect *box)
{
  const BlCutoutArt *art = art_of (plant, look);
  double k, half, foot;

  if (art == NULL)
    return FALSE;
  k = scale_of (art, plant->cutout, look);
  foot = MAX (plant->cutout->foot_y, 0.2);
  half = k * (art->x1 - art->x0) * MAX (plant->cutout->foot_x, 1 - plant->cutout->foot_x);
  *box = (BlRect) { -half, -look->cutout, half, k * (art->y1 - art->y0) * (1 - foot) + 0.002 };
  return TRUE;
}

static const cairo_user_data_key_t plant_key;

static void
paint_level (cairo_t *cr, const BlCutoutArt *art, const BlPlant *plant, double px_a_unit)
{
  guint i = 0;
  cairo_surface_t *surface;
  char *id;

  while (i + 1 < art->n_levels && px_a_unit * (1 << (i + 1)) <= 1.0)
    i++;
  surface = bl_cutout_surface (&art->levels[i]);
  /* The pixels are the plant's: a recording keeps the surface. A document holds each picture once. */
  cairo_surface_set_user_data (surface, &plant_key, bl_plant_ref ((BlPlant *) plant),
                               (cairo_destroy_func_t) bl_plant_unref);
  id = g_strdup_printf ("%s-%u", plant->cutout->sha256, i);
  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_UNIQUE_ID, (guchar *) id, strlen (id), g_free,
                               id);
  cairo_scale (cr, art->width / art->levels[i].width, art->height / art->levels[i].height);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
  cairo_paint (cr);
  cairo_surface_destroy (surface);
}

static void
paint_svg (cairo_t *cr, const BlCutoutArt *art, const BlPlant *plant)
{
  RsvgHandle *handle = bl_cutout_open_svg (plant->cutout->bytes);

  if (handle != NULL)
    bl_cutout_render_svg (handle, cr, art->width, art->height);
  g_clear_object (&handle);
}

gboolean
bl_cutout_draw (cairo_t *cr, const BlPlant *plant, const BlLook *look, guint64 seed, double detail)
{
  const BlCutoutArt *art = art_of (plant, look);
  double k, foot;

  if (art == NULL)
    return FALSE;
  k = scale_of (art, plant->cutout, look);
  foot = MAX (plant->cutout->foot_y, 0.2);
  cairo_save (cr);
  cairo_scale (cr, seed % 4 == 1 ? -k : k, k);
  cairo_translate (cr, -(art->x0 + plant->cutout->foot_x * (art->x1 - art->x0)),
                   -(art->y0 + foot * (art->y1 - art->y0)));
  if (art->svg)
    paint_svg (cr, art, plant);
  else
    paint_level (cr, art, plant, k * detail);
  cairo_restore (cr);
  return TRUE;
}
