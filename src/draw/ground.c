/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The surface of a bed on the photo: a ground texture seen through the camera, inside the bed
 * line. */
#include "draw/scene-private.h"

#include <string.h>

#define BLOCK 16
#define MAX_SIDE 3200
#define NEAR_CUT 0.35

BlSurfaceKind
bl_bed_surface (const BlBed *bed)
{
  if (!(bed->mulch_depth > 0))
    return BL_SURFACE_SOIL;
  return bed->cover == BL_COVER_GRAVEL ? BL_SURFACE_GRAVEL : BL_SURFACE_MULCH;
}

gboolean
bl_ground_path (const BlScene *scene, cairo_t *cr, const BlPoints *ring)
{
  const BlCamera *camera = bl_model_camera (scene->model);
  g_autoptr (GArray) clipped = NULL;
  guint n = 0;

  if (scene->view == BL_VIEW_PLAN)
    {
      for (guint i = 0; i < ring->len; i++)
        cairo_line_to (cr, bl_points_at (ring, i).x, -bl_points_at (ring, i).y);
      cairo_close_path (cr);
      return ring->len > 2;
    }
  if (camera == NULL)
    return FALSE;
  clipped = bl_camera_clip_ground (camera, ring, NEAR_CUT);
  for (guint i = 0; i < clipped->len; i++)
    {
      BlPoint px, at = bl_points_at (clipped, i);

      if (bl_camera_project (camera, at.x, at.y, 0, &px))
        (n++ ? cairo_line_to : cairo_move_to) (cr, CLAMP (px.x, -20000, 40000), CLAMP (px.y, -20000,
            40000));
    }
  if (n > 0)
    cairo_close_path (cr);
  return n > 2;
}

/* Stones and paving inside the bed stay as the photo shows them. */
static void
stone_paths (const BlScene *scene, cairo_t *cr)
{
  for (guint i = 0; i < scene->model->features->len; i++)
    {
      const BlFeature *feature = g_ptr_array_index (scene->model->features, i);

      if (feature->kind == BL_FEATURE_STONE && feature->ground != NULL && !feature->ground->open &&
          feature->ground->points->len > 2)
        {
          g_autoptr (GArray) ring = bl_outline_flatten (feature->ground, 0.005);

          cairo_new_sub_path (cr);
          bl_ground_path (scene, cr, ring);
        }
    }
}

typedef struct
{
  const BlTexture *texture;
  int r, g, b; /* light, 256 = as painted */
} Look;

static inline guint32
texel (const BlTexture *t, int level, double gx, double gy)
{
  int n = BL_TEXTURE_SIDE >> level;
  double u = gx * n / BL_TEXTURE_METRES, v = gy * n / BL_TEXTURE_METRES;
  double fu = floor (u), fv = floor (v);
  int x0 = (int) fu & (n - 1), y0 = (int) fv & (n - 1), x1 = (x0 + 1) & (n - 1),
    y1 = (y0 + 1) & (n - 1);
  guint a = (guint) ((u - fu) * 256), b = (guint) ((v - fv) * 256);
  const guint32 *l = t->level[level];
  guint32 p00 = l[y0 * n + x0], p10 = l[y0 * n + x1], p01 = l[y1 * n + x0], p11 = l[y1 * n + x1],
    out = 0;

  for (int c = 0; c < 24; c += 8)
    {
      guint top = (p00 >> c & 255) * (256 - a) + (p10 >> c & 255) * a;
      guint low = (p01 >> c & 255) * (256 - a) + (p11 >> c & 255) * a;

      out |= ((top * (256 - b) + low * b) >> 16) << c;
    }
  return out;
}

/* Slow unevenness, 256 = none: hides that the square repeats. */
static double
unevenness (BlPoint p)
{
  return 256 + 14 * sin (p.x * 1.9 + 1.3 * sin (p.y * 0.8)) + 10 * sin (p.y * 2.7 + p.x * 0.6);
}

static void
fill_block (guint32 *data, int stride, int w, int h, const BlPoint g[4], const Look *k)
{
  double size = MAX (bl_dist (g[0], g[1]), bl_dist (g[0], g[2])) / BLOCK,
    texels = size * BL_TEXTURE_SIDE / BL_TEXTURE_METRES;
  int level = (int) CLAMP (floor (log2 (MAX (texels, 1)) + 0.35), 0, BL_TEXTURE_LEVELS - 2);

  double shades[4] = { unevenness (g[0]), unevenness (g[1]), unevenness (g[2]), unevenness (g[3]) };

  for (int y = 0; y < h; y++)
    {
      double v = (y + 0.5) / BLOCK, left = shades[0] + (shades[2] - shades[0]) * v,
        right = shades[1] + (shades[3] - shades[1]) * v;
      BlPoint a = bl_lerp (g[0], g[2], v), b = bl_lerp (g[1], g[3], v);

      for (int x = 0; x < w; x++)
        {
          BlPoint p = bl_lerp (a, b, (x + 0.5) / BLOCK);
          int shade = (int) (left + (right - left) * (x + 0.5) / BLOCK);
          guint32 t = texel (k->texture, level, p.x, p.y);
          guint red = (guint) ((t >> 16 & 255) * k->r * shade) >> 16,
            green = (guint) ((t >> 8 & 255) * k->g * shade) >> 16;
          guint blue = (guint) ((t & 255) * k->b * shade) >> 16;

          data[(gsize) y * stride + x] = 0xff000000u | MIN (red, 255) << 16 | MIN (green,
              255) << 8 | MIN (blue, 255);
        }
    }
}

/* Pixels of the texture over @r (document units) at @scale; the corners of blocks go through the
 * camera, what is between them is interpolated. */
static cairo_surface_t *
render (const BlScene *scene, const BlTexture *texture, BlRect r, double scale)
{
  const BlCamera *camera = bl_model_camera (scene->model);
  const BlFigureLight *light = &scene->light->figure;
  int w = (int) CLAMP (ceil ((r.x1 - r.x0) * scale), 1, MAX_SIDE),
    h = (int) CLAMP (ceil ((r.y1 - r.y0) * scale), 1, MAX_SIDE);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, w, h);
  int stride = cairo_image_surface_get_stride (surface) / 4, nx = (w + BLOCK - 1) / BLOCK + 1,
    ny = (h + BLOCK - 1) / BLOCK + 1;
  guint32 *data = (guint32 *) (void *) cairo_image_surface_get_data (surface);
  g_autofree BlPoint *grid = g_new (BlPoint, nx * ny);
  g_autofree gboolean *ok = g_new (gboolean, nx * ny);
  Look look = { texture, (int) (256 * sqrt (light->exposure) * light->tint.r),
                (int) (256 * sqrt (light->exposure) * light->tint.g),
                (int) (256 * sqrt (light->exposure) * light->tint.b) };

  for (int y = 0; y < ny; y++)
    for (int x = 0; x < nx; x++)
      ok[y * nx + x] = bl_camera_to_ground (camera, BL_POINT (r.x0 + x * BLOCK / scale,
                                                              r.y0 + y * BLOCK / scale),
                                                                &grid[y * nx + x]);
  cairo_surface_flush (surface);
  for (int y = 0; y + 1 < ny; y++)
    for (int x = 0; x + 1 < nx; x++)
      {
        int i = y * nx + x;
        BlPoint corner[4] = { grid[i], grid[i + 1], grid[i + nx], grid[i + nx + 1] };

        if (ok[i] && ok[i + 1] && ok[i + nx] && ok[i + nx + 1])
          fill_block (data + (gsize) y * BLOCK * stride + x * BLOCK, stride,
                      MIN (BLOCK, w - x * BLOCK), MIN (BLOCK, h - y * BLOCK),
                      corner, &look);
      }
  cairo_surface_mark_dirty (surface);
  return surface;
}

void
bl_ground_paint (BlPainting *p, const BlBed *bed)
{
  const BlTexture *texture = bl_figure_cache_texture (p->cache, bl_bed_surface (bed));
  cairo_t *cr = p->cr;
  double x0, y0, x1, y1, scale;
  cairo_surface_t *surface;
  BlRect r;

  cairo_save (cr);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_new_path (cr);
  if (bed->ring == NULL || !bl_ground_path (p->scene, cr, bed->ring))
    {
      cairo_restore (cr);
      return;
    }
  cairo_path_extents (cr, &x0, &y0, &x1, &y1);
  stone_paths (p->scene, cr);
  cairo_clip (cr);
  /* Blocks lie on one lattice for all tiles, so that neighbours agree. */
  r = (BlRect) { MAX (x0, p->clip.x0) - 2 / p->scale, MAX (y0, p->clip.y0) - 2 / p->scale,
                 MIN (x1, p->clip.x1) + 2 / p->scale,
                 MIN (y1, p->clip.y1) + 2 / p->scale };
  scale = MIN (p->scale, (p->options->vector ? 1500 : MAX_SIDE) / MAX (1,
                                                                       MAX (r.x1 - r.x0,
                                                                           r.y1 - r.y0)));
  r.x0 = floor (r.x0 * scale / BLOCK) * BLOCK / scale,
    r.y0 = floor (r.y0 * scale / BLOCK) * BLOCK / scale;
  if (r.x1 > r.x0 && r.y1 > r.y0)
    {
      surface = render (p->scene, texture, r, scale);
      cairo_save (cr);
      cairo_translate (cr, r.x0, r.y0);
      cairo_scale (cr, 1 / scale, 1 / scale);
      cairo_set_source_surface (cr, surface, 0, 0);
      cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
      cairo_paint (cr);
      cairo_restore (cr);
      cairo_surface_destroy (surface);
    }
  if (bl_scene_has_snow (p->scene))
    {
      /* Thin enough that the ground shows through a little. */
      cairo_set_source_rgba (cr, 0.95, 0.96, 0.98, 0.95);
      cairo_paint (cr);
    }
  /* The bed lies a little lower than its edge: a soft dark line inside. */
  cairo_new_path (cr);
  if (bl_ground_path (p->scene, cr, bed->ring))
    for (int i = 0; i < 3; i++)
      {
        cairo_set_source_rgba (cr, 0.06, 0.045, 0.035, 0.13);
        cairo_set_line_width (cr, (i + 1) * MAX (0.006 * (x1 - x0), 2));
        cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
        cairo_stroke_preserve (cr);
      }
  cairo_new_path (cr);
  cairo_restore (cr);
}
