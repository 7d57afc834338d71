/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a figure takes at 300 pixels and at ten times the area, and a frame of 1,000 and 10,000 plants on
 * a photo of twelve megapixels. The floor is the scaled photo alone, measured in the same run. Processor time. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "../draw/canvas.h"
#include "bench.h"
#include "draw/scene-private.h"

#define WINDOW_W 1440
#define WINDOW_H 900

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static double
median (double *v, guint n)
{
  qsort (v, n, sizeof *v, by_value);
  return v[n / 2];
}

/* The floor of a figure: its sheet filled once. */
static void
fill_sheet (gpointer data)
{
  cairo_t *cr = cairo_create (data);

  cairo_set_source_rgb (cr, 0.5, 0.6, 0.4);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_flush (data);
}

/* Of a plant in flower on a sheet @times as wide and high as 700 × 340: the median of nine, milliseconds. */
static double
figure (const BlPlant *plant, double times)
{
  static const BlFigureLight light = { -0.6, 1, { 1, 1, 1, 1 } };
  BlLook look = bl_plant_look (plant, NULL, 0,
                               (BlMoment) { plant->flower_from ? plant->flower_from + 0.6 : 6.5,
                                            MAX (3, plant->years) });
  double scale = times * MIN (300 / look.height, 600 / look.spread), runs[9];
  cairo_surface_t *s = canvas_new ((int) (700 * times), (int) (340 * times));

  for (guint k = 0; k < 9; k++)
    {
      cairo_t *cr = cairo_create (s);
      double start = bench_now_ms ();

      cairo_translate (cr, 350 * times, 320 * times);
      cairo_scale (cr, scale, scale);
      bl_figure_draw (cr, plant, &look, k, &light, scale);
      cairo_surface_flush (s);
      runs[k] = bench_now_ms () - start;
      cairo_destroy (cr);
    }
  cairo_surface_destroy (s);
  printf ("figure %-20s %6.2f ms  (%.0f px high)\n", bl_form_name (plant->form), median (runs, 9),
          look.height * scale);
  return median (runs, 9);
}

static void
bench_figures (void)
{
  cairo_surface_t *sheet = canvas_new (700, 340);
  g_autoptr (GPtrArray) plants = canvas_plants ();
  g_autofree double *all = g_new (double, plants->len), *grown = g_new (double, plants->len);

  for (guint i = 0; i < plants->len; i++)
    {
      all[i] = figure (plants->pdata[i], 1);
      grown[i] = figure (plants->pdata[i], sqrt (10));
    }
  bench_row ("standing figure, 300 px high", median (all, plants->len),
             bench_fastest_ms (fill_sheet, sheet, 9), median (grown, plants->len),
             "median of the forms; growth: ten times the pixels; floor: its sheet filled");
  cairo_surface_destroy (sheet);
}

/* A photo of twelve megapixels in levels, without a decoder. */
static BlImage *
big_photo (void)
{
  BlImage *image = g_new0 (BlImage, 1);

  g_atomic_ref_count_init (&image->refs);
  image->width = 4000, image->height = 3000, image->n_levels = 5;
  for (int l = 0; l < image->n_levels; l++)
    {
      BlPixels *p = &image->levels[l];

      p->width = 4000 >> l, p->height = 3000 >> l, p->stride = p->width * 4;
      p->data = g_malloc ((gsize) p->stride * p->height);
      for (gsize i = 0; i < (gsize) p->width * p->height; i++)
        ((guint32 *) (void *) p->data)[i] = 0xff000000u | (guint32) (0x506040
                                                                     + (i * 2654435761u >> 27)
                                                                       * 0x010101);
    }
  return image;
}

/* What beds are mostly made of: perennials, grasses, a shrub in every seven. */
static const char *const mix[] = { "echinacea-purpurea", "nepeta-x-faassenii",
                                   "salvia-nemorosa-ostfriesland",
                                     "calamagrostis-x-acutiflora-karl-foerster",
                                   "hylotelephium-herbstfreude", "pennisetum-alopecuroides-hameln",
                                     "hydrangea-arborescens-annabelle",
                                   "hemerocallis-stella-de-oro", "festuca-glauca",
                                     "phlox-paniculata-david", "armeria-maritima",
                                   "phlox-subulata", "matteuccia-struthiopteris",
                                     "ilex-verticillata" };

static BlLayout *
many (BlModel *model, guint n)
{
  BlLayout *layout = bl_layout_compute (model, 1);
  double side = sqrt (n);

  g_array_set_size (layout->placed, 0);
  for (guint i = 0; i < n; i++)
    {
      BlPlaced p = { .planting_id = i / 20 + 1, .bed_id = 1, .index = i, .seed = i * 77 + 5,
                     .form = BL_PLANTING_DRIFT };
      const char *slug = mix[(i / 20) % G_N_ELEMENTS (mix)];

      p.plant = bl_model_plant (model, slug);
      p.at = BL_POINT (1 + 0.45 * (i % (guint) side), 0.5 + 0.45 * (i / (guint) side));
      g_array_append_val (layout->placed, p);
    }
  return layout;
}

static double
frame (const BlScene *scene, BlFigureCache *cache, cairo_surface_t *s, double zoom,
       gboolean photo_only, gboolean quick)
{
  cairo_t *cr = cairo_create (s);
  BlPaintOptions options = { .cache = cache, .quick = quick };
  BlRect clip = { 300, 1000, 300 + WINDOW_W / zoom, 1000 + WINDOW_H / zoom };
  double start = bench_now_ms (), used;

  cairo_scale (cr, zoom, zoom);
  cairo_translate (cr, -clip.x0, -clip.y0);
  if (photo_only)
    {
      BlPainting p = { .scene = scene, .cr = cr, .clip = clip, .scale = zoom, .options = &options,
                       .cache = cache };

      bl_paint_photo (&p);
    }
  else
    bl_scene_paint (scene, cr, clip, zoom, &options, NULL, NULL);
  cairo_surface_flush (s);
  used = bench_now_ms () - start;
  cairo_destroy (cr);
  return used;
}

typedef struct
{
  double warm, floor; /* milliseconds a frame */
} Frame;

static Frame
bench_scene (BlImage *photo, guint n)
{
  Frame frames;
  BlModel *model = canvas_model ();
  g_autoptr (BlLayout) layout = NULL;
  g_autoptr (BlScene) scene = NULL, next = NULL;
  g_autoptr (BlFigureCache) cache = bl_figure_cache_new (160 << 20);
  cairo_surface_t *s = canvas_new (WINDOW_W, WINDOW_H);
  double floor_ms[7], warm[7], start, built, cold, step, full, zoom = 0.36;
  BlCamera *camera = &model->solution->camera;

  camera->width = 4000, camera->height = 3000, camera->cx = 2000, camera->cy = 1500,
    camera->focal = 2890;
  layout = many (model, n);
  start = bench_now_ms ();
  scene = bl_scene_new (BL_VIEW_PHOTO, layout, photo, (BlMoment) { 7.5, 3 }, 0);
  built = bench_now_ms () - start;
  cold = frame (scene, cache, s, zoom, FALSE, FALSE);
  for (guint i = 0; i < 7; i++)
    {
      floor_ms[i] = frame (scene, cache, s, zoom, TRUE, FALSE);
      warm[i] = frame (scene, cache, s, zoom, FALSE, FALSE);
    }
  start = bench_now_ms ();
  next = bl_scene_new (BL_VIEW_PHOTO, layout, photo, (BlMoment) { 8.5, 3 }, 0);
  step = bench_now_ms () - start + frame (next, cache, s, zoom, FALSE, TRUE);
  full = frame (next, cache, s, zoom, FALSE, FALSE);
  printf ("%5u plants: scene built %.1f ms, first frame %.0f ms, whole frame again %.1f ms = %.2f x the floor (%.1f ms); "
          "next month %.0f ms to its first complete frame, %.0f more to the last stamp; stamps %.1f MB\n", n, built, cold, median (warm, 7), median (warm, 7) / median (floor_ms, 7),
          median (floor_ms, 7), step, full, bl_figure_cache_bytes (cache) / 1048576.0);
  cairo_surface_destroy (s);
  bl_model_unref (model);
  frames = (Frame) { median (warm, 7), median (floor_ms, 7) };
  return frames;
}

int
main (int argc, char **argv)
{
  BlImage *photo;
  Frame one, ten;

  g_test_init (&argc, &argv, NULL);
  bench_figures ();
  photo = big_photo ();
  one = bench_scene (photo, 1000);
  ten = bench_scene (photo, 10000);
  bench_row ("scene, a frame of 1,000 plants", one.warm, one.floor, ten.warm,
             "1440 × 900 on the photo; floor: the scaled photo alone");
  for (int l = 0; l < photo->n_levels; l++)
    g_free (photo->levels[l].data);
  g_free (photo);
  return 0;
}
