/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colour gradients round a click by a narrow Gaussian. */
#include "photo/snap-patch.h"

#include <math.h>
#include <string.h>

#define CHROMA 2.0
#define SMOOTH 0.7 /* pixels; wider would run a joint and the edge beside it together */

void
bl_patch_clear (BlPatch *patch)
{
  for (int c = 0; c < 3; c++)
    {
      g_free (patch->gx[c]);
      g_free (patch->gy[c]);
      g_free (patch->level[c]);
      g_free (patch->light[c]);
      g_free (patch->kept[c]);
    }
  g_free (patch->sum_x);
  g_free (patch->sum_y);
  g_free (patch->strength);
}

static double
level_at (const BlPixels *pixels,
          const double    levels[256],
          int             channel,
          int             x,
          int             y)
{
  guint32 p;

  x = CLAMP (x, 0, pixels->width - 1);
  y = CLAMP (y, 0, pixels->height - 1);
  memcpy (&p, pixels->data + (gsize) y * pixels->stride + 4 * (gsize) x, 4);
  return levels[(p >> (16 - 8 * channel)) & 255];
}

/* Gradients of one channel by a narrow Gaussian and its derivative. Brick against soil is an
 * edge in colour that grey levels all but lose. */
static void
fill_gradients (BlPatch        *patch,
                const BlPixels *pixels,
                const double    levels[256],
                int             channel)
{
  enum { R = 3 };
  int gw = patch->w + 2 * R, gh = patch->h + 2 * R;
  g_autofree double *grey = g_new (double, (gsize) gw * gh);
  g_autofree double *smooth = g_new (double, (gsize) gw * gh);
  g_autofree double *slope = g_new (double, (gsize) gw * gh);
  double g[2 * R + 1], d[2 * R + 1], sum = 0.0, rise = 0.0;

  for (int k = -R; k <= R; k++)
    sum += g[k + R] = exp (-0.5 * k * k / (SMOOTH * SMOOTH));
  for (int k = -R; k <= R; k++)
    {
      d[k + R] = k * g[k + R];
      g[k + R] /= sum;
      rise += k * d[k + R];
    }
  for (int k = 0; k <= 2 * R; k++)
    d[k] /= rise;
  for (int y = 0; y < gh; y++)
    for (int x = 0; x < gw; x++)
      grey[y * gw + x] = level_at (pixels, levels, channel, patch->x0 + x - R, patch->y0 + y - R);
  for (int y = 0; y < gh; y++)
    for (int x = R; x < gw - R; x++)
      {
        smooth[y * gw + x] = slope[y * gw + x] = 0.0;
        for (int k = -R; k <= R; k++)
          {
            smooth[y * gw + x] += g[k + R] * grey[y * gw + x + k];
            slope[y * gw + x] += d[k + R] * grey[y * gw + x + k];
          }
      }
  for (int y = 0; y < patch->h; y++)
    for (int x = 0; x < patch->w; x++)
      {
        int i = y * patch->w + x;

        patch->level[channel][i] = grey[(y + R) * gw + x + R];
        for (int k = -R; k <= R; k++)
          {
            patch->gx[channel][i] += g[k + R] * slope[(y + R + k) * gw + x + R];
            patch->gy[channel][i] += d[k + R] * smooth[(y + R + k) * gw + x + R];
          }
      }
}

/* Brightness and two colour differences, as light: texture has much of the first and little of the
 * others. */
static void
fill_light (BlPatch        *patch,
            const BlPixels *pixels)
{
  gsize n = (gsize) patch->w * patch->h;
  double levels[256];

  for (int i = 0; i < 256; i++)
    levels[i] = 255.0 * pow (i / 255.0, BL_PATCH_LIGHT);
  for (int c = 0; c < 3; c++)
    patch->light[c] = g_new (double, n);
  for (int y = 0; y < patch->h; y++)
    for (int x = 0; x < patch->w; x++)
      {
        gsize i = (gsize) y * patch->w + x;
        double v[3];

        for (int c = 0; c < 3; c++)
          v[c] = level_at (pixels, levels, c, patch->x0 + x, patch->y0 + y);
        patch->light[0][i] = (v[0] + v[1] + v[2]) / sqrt (3.0);
        patch->light[1][i] = (v[0] - v[2]) / sqrt (2.0);
        patch->light[2][i] = (2.0 * v[1] - v[0] - v[2]) / sqrt (6.0);
      }
}

/* Brightness as light, and two colour differences as a photo keeps them (JFIF): texture has much of the
 * first and little of the others, but they are kept at half the resolution. */
static void
fill_kept (BlPatch        *patch,
           const BlPixels *pixels)
{
  gsize n = (gsize) patch->w * patch->h;
  double as_is[256];

  for (int i = 0; i < 256; i++)
    as_is[i] = i;
  for (int c = 0; c < 3; c++)
    patch->kept[c] = g_new (double, n);
  for (int y = 0; y < patch->h; y++)
    for (int x = 0; x < patch->w; x++)
      {
        gsize i = (gsize) y * patch->w + x;
        double v[3], luma;

        for (int c = 0; c < 3; c++)
          v[c] = level_at (pixels, as_is, c, patch->x0 + x, patch->y0 + y);
        luma = 0.299 * v[0] + 0.587 * v[1] + 0.114 * v[2];
        patch->kept[0][i] = sqrt (3.0) * 255.0 * pow (luma / 255.0, BL_PATCH_LIGHT);
        patch->kept[1][i] = CHROMA * 0.713 * (v[0] - luma);
        patch->kept[2][i] = CHROMA * 0.564 * (v[2] - luma);
      }
}

static void
pixel_tensor (const BlPatch *patch,
              int            i,
              double        *xx,
              double        *xy,
              double        *yy)
{
  *xx = *xy = *yy = 0.0;
  for (int c = 0; c < 3; c++)
    {
      *xx += patch->gx[c][i] * patch->gx[c][i];
      *xy += patch->gx[c][i] * patch->gy[c][i];
      *yy += patch->gy[c][i] * patch->gy[c][i];
    }
}

void
bl_patch_init (BlPatch        *patch,
               const BlPixels *pixels,
               BlPoint         start,
               int             half,
               double          power)
{
  double levels[256];
  gsize n;

  for (int i = 0; i < 256; i++)
    levels[i] = 255.0 * pow (i / 255.0, power);

  patch->x0 = (int) floor (start.x) - half;
  patch->y0 = (int) floor (start.y) - half;
  patch->w = patch->h = 2 * half + 1;
  n = (gsize) patch->w * patch->h;
  for (int c = 0; c < 3; c++)
    {
      patch->gx[c] = g_new0 (double, n);
      patch->gy[c] = g_new0 (double, n);
      patch->level[c] = g_new (double, n);
      fill_gradients (patch, pixels, levels, c);
    }
  fill_light (patch, pixels);
  fill_kept (patch, pixels);
  patch->sum_x = g_new (double, n);
  patch->sum_y = g_new (double, n);
  patch->strength = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    {
      double xx, xy, yy;

      patch->sum_x[i] = patch->gx[0][i] + patch->gx[1][i] + patch->gx[2][i];
      patch->sum_y[i] = patch->gy[0][i] + patch->gy[1][i] + patch->gy[2][i];
      pixel_tensor (patch, i, &xx, &xy, &yy);
      patch->strength[i] = sqrt (0.5 * (xx + yy) + hypot (0.5 * (xx - yy), xy));
    }
}

double
bl_patch_strength (const BlPatch *patch,
                   double         x,
                   double         y)
{
  int ix = (int) floor (x), iy = (int) floor (y);
  double fx = x - ix, fy = y - iy;
  const double *s;

  if (ix < 0 || iy < 0 || ix + 1 >= patch->w || iy + 1 >= patch->h)
    return 0.0;
  s = patch->strength + (gsize) iy * patch->w + ix;
  return (1.0 - fy) * ((1.0 - fx) * s[0] + fx * s[1])
         + fy * ((1.0 - fx) * s[patch->w] + fx * s[patch->w + 1]);
}

BlPoint
bl_patch_direction (const BlPatch *patch,
                    int            i)
{
  double xx, xy, yy, angle;

  pixel_tensor (patch, i, &xx, &xy, &yy);
  angle = 0.5 * atan2 (2.0 * xy, xx - yy);
  return BL_POINT (cos (angle), sin (angle));
}
