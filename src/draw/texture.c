/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ground textures: seamless squares of mulch, soil and gravel, made once from a fixed seed. */
#include "base/rng.h"
#include "draw/scene-private.h"

#include <string.h>

typedef struct
{
  cairo_t *cr;
  BlRng rng;
} Draw;

static void
tone (Draw *d, const double base[3], double v)
{
  double warm = bl_rng_range (&d->rng, -0.03, 0.03);

  cairo_set_source_rgb (d->cr, CLAMP (base[0] * v + warm, 0, 1), CLAMP (base[1] * v, 0, 1),
                        CLAMP (base[2] * v - warm, 0, 1));
}

/* Fills the current shape at its place and across the edges, so that the square repeats. */
static void
wrapped (Draw *d, double x, double y, double reach, void (*shape) (cairo_t *, double), double arg,
         double angle)
{
  for (int i = -1; i <= 1; i++)
    for (int k = -1; k <= 1; k++)
      {
        double px = x + i * BL_TEXTURE_SIDE, py = y + k * BL_TEXTURE_SIDE;

        if (px < -reach || py < -reach || px > BL_TEXTURE_SIDE + reach ||
            py > BL_TEXTURE_SIDE + reach)
          continue;
        cairo_save (d->cr);
        cairo_translate (d->cr, px, py);
        cairo_rotate (d->cr, angle);
        shape (d->cr, arg);
        cairo_restore (d->cr);
        cairo_fill (d->cr);
      }
}

static void
chip (cairo_t *cr, double l)
{
  cairo_move_to (cr, -l / 2, -l * 0.10);
  cairo_line_to (cr, l * 0.2, -l * 0.17);
  cairo_line_to (cr, l / 2, -l * 0.03);
  cairo_line_to (cr, l * 0.36, l * 0.12);
  cairo_line_to (cr, -l * 0.4, l * 0.13);
  cairo_close_path (cr);
}

static void
pebble (cairo_t *cr, double r)
{
  cairo_scale (cr, 1, 0.76);
  cairo_arc (cr, 0, 0, r, 0, 2 * G_PI);
}

static void
mulch (Draw *d)
{
  static const double base[3] = { 0.47, 0.335, 0.24 };

  tone (d, base, 0.55);
  cairo_paint (d->cr);
  for (int i = 0; i < 5200; i++)
    {
      double v = 0.50 + 0.75 * pow (bl_rng_unit (&d->rng), 1.6) * (0.5 + i / 5200.0),
        l = bl_rng_range (&d->rng, 7, 21);
      double x = bl_rng_range (&d->rng, 0, BL_TEXTURE_SIDE), y = bl_rng_range (&d->rng, 0,
          BL_TEXTURE_SIDE);
      double a = bl_rng_range (&d->rng, 0, 6.28);

      cairo_set_source_rgba (d->cr, 0.08, 0.05, 0.035, 0.35);
      wrapped (d, x + 1.4, y + 1.8, 24, chip, l, a);
      tone (d, base, v);
      wrapped (d, x, y, 24, chip, l, a);
    }
}

static void
soil (Draw *d)
{
  static const double base[3] = { 0.34, 0.265, 0.20 };

  tone (d, base, 0.85);
  cairo_paint (d->cr);
  for (int i = 0; i < 5200; i++)
    {
      double r = pow (bl_rng_unit (&d->rng), 3) * 7 + 1.2, x = bl_rng_range (&d->rng, 0,
          BL_TEXTURE_SIDE);
      double y = bl_rng_range (&d->rng, 0, BL_TEXTURE_SIDE), a = bl_rng_range (&d->rng, 0, 6.28);

      tone (d, base, 0.55);
      wrapped (d, x + r * 0.3, y + r * 0.4, 12, pebble, r, a);
      tone (d, base, bl_rng_range (&d->rng, 0.8, 1.2));
      wrapped (d, x, y, 12, pebble, r * 0.9, a);
    }
}

static void
gravel (Draw *d)
{
  static const double base[3] = { 0.74, 0.71, 0.66 };

  tone (d, base, 0.55);
  cairo_paint (d->cr);
  for (int i = 0; i < 6500; i++)
    {
      double r = bl_rng_range (&d->rng, 2.0, 4.6), x = bl_rng_range (&d->rng, 0, BL_TEXTURE_SIDE);
      double y = bl_rng_range (&d->rng, 0, BL_TEXTURE_SIDE), a = bl_rng_range (&d->rng, 0, 6.28),
        v = bl_rng_range (&d->rng, 0.72, 1.25);

      cairo_set_source_rgba (d->cr, 0.2, 0.19, 0.17, 0.5);
      wrapped (d, x + 0.8, y + 1.2, 12, pebble, r, a);
      tone (d, base, v);
      wrapped (d, x, y, 12, pebble, r * 0.94, a);
      tone (d, base, v * 1.14);
      wrapped (d, x - r * 0.25, y - r * 0.3, 12, pebble, r * 0.4, a);
    }
}

BlTexture *
bl_texture_new (BlSurfaceKind kind)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, BL_TEXTURE_SIDE,
                                                         BL_TEXTURE_SIDE);
  Draw d = { cairo_create (surface), bl_rng (20 + kind) };
  BlTexture *t = g_new0 (BlTexture, 1);
  int stride;

  (kind == BL_SURFACE_MULCH ? mulch : kind == BL_SURFACE_GRAVEL ? gravel : soil) (&d);
  cairo_destroy (d.cr);
  cairo_surface_flush (surface);
  stride = cairo_image_surface_get_stride (surface);
  t->level[0] = g_new (guint32, BL_TEXTURE_SIDE * BL_TEXTURE_SIDE);
  for (int y = 0; y < BL_TEXTURE_SIDE; y++)
    memcpy (t->level[0] + y * BL_TEXTURE_SIDE,
            cairo_image_surface_get_data (surface) + (gsize) y * stride, BL_TEXTURE_SIDE * 4);
  cairo_surface_destroy (surface);
  for (int l = 1; l < BL_TEXTURE_LEVELS; l++)
    {
      int n = BL_TEXTURE_SIDE >> l;
      const guint32 *from = t->level[l - 1];

      t->level[l] = g_new (guint32, (gsize) n * n);
      for (int y = 0; y < n; y++)
        for (int x = 0; x < n; x++)
          {
            const guint32 *p = from + (gsize) (2 * y) * 2 * n + 2 * x;
            guint32 v = 0;

            for (int c = 0; c < 24; c += 8)
              v |= (((p[0] >> c & 255) + (p[1] >> c & 255) + (p[2 * n] >> c & 255)
                     + (p[2 * n + 1] >> c & 255) + 2) / 4) << c;
            t->level[l][(gsize) y * n + x] = v;
          }
    }
  return t;
}

void
bl_texture_free (BlTexture *texture)
{
  if (texture == NULL)
    return;
  for (int l = 0; l < BL_TEXTURE_LEVELS; l++)
    g_free (texture->level[l]);
  g_free (texture);
}
