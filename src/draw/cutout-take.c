/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Taking a person's picture of a plant: is it a cut-out, and what of it is kept. */
#include "config.h"

#include "draw/cutout.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "draw/cutout-private.h"
#include "draw/symbol.h"

#define MAX_FILE (24 * 1000 * 1000) /* bytes of a person's file */
#define MAX_KEPT 4000000            /* bytes of what is kept, as the library has it */
#define KEPT_SIDE 1600.0            /* pixels: 400 mm of paper at 100 to the inch */
#define LEAST_EMPTY 0.02            /* share of a cut-out picture that shows nothing */
#define FOOT 0.04                   /* share of the height from whose pixels the foot is taken */

static gboolean
refuse (GError **error, const char *sentence)
{
  g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT, sentence);
  return FALSE;
}

/* Alpha of 0..1 summed over rows, and its mean column. */
static double
sum_rows (const BlCutoutLevel *level, const BlCutoutArt *art, double from, double *middle)
{
  double sum = 0, moment = 0;

  for (int y = (int) from; y < (int) art->y1; y++)
    for (int x = (int) art->x0; x < (int) art->x1; x++)
      {
        double a = (level->data[(gsize) y * (gsize) level->width + (gsize) x] >> 24) / 255.0;

        sum += a, moment += a * (x + 0.5);
      }
  *middle = sum > 0 ? moment / sum : (art->x0 + art->x1) / 2;
  return sum;
}

static void
measure (const BlCutoutArt *art, BlCutoutShape *shape)
{
  double w = art->x1 - art->x0, h = art->y1 - art->y0, middle = (art->x0 + art->x1) / 2;

  if (art->n_levels > 0)
    sum_rows (&art->levels[0], art, art->y1 - MAX (1, FOOT * h), &middle);
  *shape = (BlCutoutShape) { w / h, CLAMP ((middle - art->x0) / w, 0, 1), 1 };
}

static cairo_status_t
append (void *data, const guchar *bytes, guint length)
{
  g_byte_array_append (data, bytes, length);
  return CAIRO_STATUS_SUCCESS;
}

/* What is not empty, @k times as large, as a PNG that says nothing else. */
static GBytes *
written (const BlCutoutArt *art, double k)
{
  int w = MAX (1, (int) ceil ((art->x1 - art->x0) * k));
  int h = MAX (1, (int) ceil ((art->y1 - art->y0) * k));
  cairo_surface_t *to = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, w, h);
  cairo_surface_t *from = bl_cutout_surface (&art->levels[0]);
  cairo_t *cr = cairo_create (to);
  GByteArray *png = g_byte_array_new ();
  gboolean ok;

  cairo_scale (cr, k, k);
  cairo_set_source_surface (cr, from, -art->x0, -art->y0);
  cairo_pattern_set_filter (cairo_get_source (cr), k < 1 ? CAIRO_FILTER_GOOD : CAIRO_FILTER_NEAREST);
  cairo_paint (cr);
  cairo_destroy (cr);
  ok = cairo_surface_write_to_png_stream (to, append, png) == CAIRO_STATUS_SUCCESS;
  cairo_surface_destroy (from);
  cairo_surface_destroy (to);
  if (ok)
    return g_byte_array_free_to_bytes (png);
  g_byte_array_unref (png);
  return NULL;
}

/* Something of the whole picture must be empty; a hedge may well fill its own rectangle. */
static gboolean
is_cut_out (const BlCutoutArt *art)
{
  BlCutoutArt whole = { .x1 = art->width, .y1 = art->height };
  double middle;

  return sum_rows (&art->levels[0], &whole, 0, &middle)
         < (1 - LEAST_EMPTY) * art->width * art->height;
}

static GBytes *
take_png (const BlCutoutArt *art, GError **error)
{
  double k = MIN (1, KEPT_SIDE / MAX (art->x1 - art->x0, art->y1 - art->y0));
  GBytes *kept = NULL;

  if (!is_cut_out (art))
    {
      refuse (error, _("The picture has no transparent ground: cut the plant out of its background and "
                     "save it as PNG with transparency"));
      return NULL;
    }
  for (guint i = 0; i < 6; i++)
    {
      g_clear_pointer (&kept, g_bytes_unref);
      kept = written (art, k);
      if (kept != NULL && g_bytes_get_size (kept) <= MAX_KEPT)
        return kept;
      k *= 0.75;
    }
  g_clear_pointer (&kept, g_bytes_unref);
  refuse (error, _("The picture cannot be made small enough to be kept with a plant"));
  return NULL;
}

/* Why a file gave no picture. */
static void
say_why (GBytes *bytes, GError **error)
{
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);
  g_autofree char *what = NULL;

  if (bl_cutout_is_png (bytes))
    refuse (error, _("The picture is damaged, empty, or larger than 8000 pixels on a side"));
  else if (length == 0 || !g_utf8_validate (text, (gssize) length, NULL)
           || g_strstr_len (text, (gssize) MIN (length, 4096), "<svg") == NULL)
    refuse (error, _("This is neither a PNG nor an SVG picture: save the cut-out plant as one of them"));
  else if (!bl_drawing_is_plain (text, length, &what) && what != NULL)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("The drawing holds “%s”: only shapes and gradients can be taken, so turn clips, "
                 "copies and pictures in it into shapes, or save it as PNG"), what);
  else
    refuse (error, _("The drawing is damaged, empty, without a size, or larger than 256 kB"));
}

GBytes *
bl_cutout_take (GBytes *bytes, BlCutoutShape *shape, GError **error)
{
  BlCutoutArt *art = NULL;
  GBytes *kept = NULL;

  if (g_bytes_get_size (bytes) > MAX_FILE)
    {
      refuse (error, _("The picture is larger than 24 MB: save a smaller one"));
      return NULL;
    }
  art = bl_cutout_art_new (bytes);
  if (art == NULL)
    {
      say_why (bytes, error);
      return NULL;
    }
  kept = art->svg ? g_bytes_ref (bytes) : take_png (art, error);
  if (shape != NULL)
    measure (art, shape);
  bl_cutout_art_free (art);
  return kept;
}

gboolean
bl_cutout_measure (GBytes *bytes, BlCutoutShape *shape)
{
  BlCutoutArt *art = bl_cutout_art_new (bytes);

  if (art != NULL)
    measure (art, shape);
  bl_cutout_art_free (art);
  return art != NULL;
}
