/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The light of a photo: how bright, how warm, from which side. An estimate, so that figures sit in
 * the picture; it measures nothing. */
#include "draw/scene-private.h"

typedef struct
{
  double r, g, b, n;
  double x, y, xx, xy; /* luminance over the width, for the slope */
} Sums;

static void
sample (Sums *s, const BlPixels *px, int x, int y)
{
  const guchar *row = px->data + (gsize) y * px->stride;
  guint32 v = ((const guint32 *) (const void *) row)[x];
  double r = pow ((v >> 16 & 255) / 255.0, 2.2), g = pow ((v >> 8 & 255) / 255.0, 2.2),
    b = pow ((v & 255) / 255.0, 2.2);
  double lum = 0.2126 * r + 0.7152 * g + 0.0722 * b, u = 2.0 * x / px->width - 1;

  s->r += r, s->g += g, s->b += b, s->n += 1;
  s->x += u, s->y += lum, s->xx += u * u, s->xy += u * lum;
}

/* Pixels round the beds say what light falls there; without beds, the lower half does. */
static BlRect
region (const BlModel *model, const BlImage *photo)
{
  const BlCamera *camera = bl_model_camera (model);
  BlRect r = BL_RECT_EMPTY;

  for (guint i = 0; camera != NULL && i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);

      for (guint k = 0; bed->ring != NULL && k < bed->ring->len; k += 7)
        {
          BlPoint px, at = bl_points_at (bed->ring, k);

          if (bl_camera_project (camera, at.x, at.y, 0, &px))
            r = bl_rect_union (r, (BlRect) { px.x, px.y, px.x, px.y });
        }
    }
  if (bl_rect_is_empty (r) || r.x1 - r.x0 < 4)
    r = (BlRect) { 0, photo->height * 0.45, photo->width, photo->height };
  return bl_rect_grow (r, 0.12 * photo->width);
}

/* Where north is known the sun is taken to stand in the south (in the southern half of the earth in
 * the north), its mean place in the day; else the brighter side of the photo is the sunny one. */
static double
sun_side (const BlModel *model, double slope)
{
  const BlCamera *camera = bl_model_camera (model);
  const BlSite *site = &model->site;
  double noon, side;

  if (camera != NULL && isfinite (site->north))
    {
      noon = isfinite (site->latitude) && site->latitude < 0 ? 0 : G_PI;
      side = sin (noon + site->north * G_PI / 180 - camera->heading);
      return fabs (side) < 0.35 ? (side < 0 ? -0.35 : 0.35) : side * 0.8;
    }
  return slope > 0.04 ? 0.6 : -0.6;
}

BlLightEstimate *
bl_light_estimate (const BlModel *model, const BlImage *photo)
{
  BlLightEstimate *light = g_new0 (BlLightEstimate, 1);
  const BlPixels *px;
  double k, lum, slope, sum;
  Sums s = { 0 };
  BlRect r;

  light->figure = (BlFigureLight) { -0.6, 1, { 1, 1, 1, 1 } };
  light->haze = (BlColor) { 0.80, 0.83, 0.86, 1 };
  light->shade = 0.42;
  light->figure.sun_x = sun_side (model, 0);
  if (photo == NULL || photo->n_levels == 0)
    return light;
  px = &photo->levels[MAX (0, MIN (photo->n_levels - 1, 4))];
  k = (double) px->width / photo->width;
  r = region (model, photo);
  for (int y = MAX (0, (int) (r.y0 * k)); y < MIN (px->height, (int) (r.y1 * k)); y++)
    for (int x = MAX (0, (int) (r.x0 * k)); x < MIN (px->width, (int) (r.x1 * k)); x++)
      sample (&s, px, x, y);
  if (s.n < 16)
    return light;
  sum = s.r + s.g + s.b;
  lum = (0.2126 * s.r + 0.7152 * s.g + 0.0722 * s.b) / s.n;
  /* Ground in sun reflects about a fifth (the photographer's 18 % card). */
  light->figure.exposure = CLAMP (pow (lum / 0.20, 0.45), 0.62, 1.22);
  light->figure.tint = (BlColor) { CLAMP (pow (3 * s.r / sum, 0.30), 0.88, 1.10),
                                   CLAMP (pow (3 * s.g / sum, 0.30), 0.90, 1.08),
                                   CLAMP (pow (3 * s.b / sum, 0.30), 0.86, 1.10), 1 };
  slope = (s.xy - s.x * s.y / s.n) / MAX (1e-9, s.xx - s.x * s.x / s.n) / MAX (lum, 1e-6);
  light->figure.sun_x = sun_side (model, slope);
  light->shade = CLAMP (0.28 + 0.6 * lum, 0.28, 0.5);
  light->haze = (BlColor) { CLAMP (pow (s.r / s.n, 0.4545) * 0.5 + 0.42, 0, 1),
                            CLAMP (pow (s.g / s.n, 0.4545) * 0.5 + 0.43, 0, 1),
                            CLAMP (pow (s.b / s.n, 0.4545) * 0.5 + 0.45, 0, 1), 1 };
  return light;
}
