/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layout, take-off, fit and the sun over a bed: of 1,000 plants and of 10,000, each beside a floor. */
#include "bench.h"

#include "../layout/scene.h"
#include "fit/fit.h"
#include "plants/library.h"
#include "site/shade.h"
#include "takeoff/estimate.h"

#define ROUNDS 5
#define PATCH 3.0 /* metres: each square of a bed holds a drift, a shrub in every third, and fill */

static const char *const drifts[] = { "salvia-nemorosa-ostfriesland", "echinacea-purpurea" };
#define SHRUB "hydrangea-arborescens-annabelle"
#define FILL "carex-pensylvanica"

typedef struct
{
  BlModel *model;
  BlLayout *layout;
  BlTakeoff *takeoff;
  BlLibrary *library;
  BlRegion *field; /* the bed */
} Job;

static BlPoints *
blob (double x, double y)
{
  BlPoints *points = bl_points_new ();

  for (int i = 0; i < 7; i++)
    bl_points_add (points, BL_POINT (x + (1.1 + 0.2 * (i % 2)) * cos (2 * G_PI * i / 7),
                                     y + (0.9 + 0.2 * (i % 3)) * sin (2 * G_PI * i / 7)));
  return points;
}

static void
add_plant (Job *job, const char *slug)
{
  BlPlant *plant = bl_library_get (job->library, slug, NULL);

  g_assert_nonnull (plant);
  g_hash_table_insert (job->model->plants, g_strdup (slug), plant);
}

/* One bed of @columns × @rows patches. */
static void
job_init (Job *job, BlLibrary *library, guint columns, guint rows)
{
  *job = (Job) { .model = scene_new (), .library = library };
  job->field = bl_region_new (
    scene_bed (job->model, "Field", scene_rectangle (0, 0, columns * PATCH, rows * PATCH), TRUE)->ring, NULL);
  g_assert_nonnull (job->field);
  add_plant (job, drifts[0]);
  add_plant (job, drifts[1]);
  add_plant (job, SHRUB);
  add_plant (job, FILL);
  for (guint i = 0; i < columns * rows; i++)
    {
      double x = (i % columns + 0.5) * PATCH, y = ((guint) (i / columns) + 0.5) * PATCH;

      scene_planting (job->model, 1, drifts[i % 2], BL_PLANTING_DRIFT, blob (x, y));
      if (i % 3 == 0)
        scene_planting (job->model, 1, SHRUB, BL_PLANTING_SPECIMEN, scene_point (x + 1.2, y + 1.2));
    }
  scene_planting (job->model, 1, FILL, BL_PLANTING_FILL, NULL);
  bl_price_book_free (job->model->prices);
  job->model->prices = bl_price_book_defaults ();
  job->model->site.zone = bl_zone_parse ("6b", NULL);
  job->layout = bl_layout_compute (job->model, 1);
  job->takeoff = bl_takeoff_compute (job->layout, NULL);
}

static void
job_clear (Job *job)
{
  bl_region_free (job->field);
  bl_takeoff_unref (job->takeoff);
  bl_layout_unref (job->layout);
  bl_model_unref (job->model);
}

static void
lay_out (gpointer data)
{
  Job *job = data;

  bl_layout_unref (bl_layout_compute (job->model, 1));
}

/* The floor of a layout: one triangular lattice over the bed, of a gap that gives as many places as plants
 * stand in it; each place asked for its distance from the bed line. */
static void
lattice_alone (gpointer data)
{
  Job *job = data;
  BlRect box = bl_region_extent (job->field);
  const double gap = sqrt (bl_region_area (job->field) / (job->layout->placed->len * sqrt (0.75)));
  volatile guint inside = 0;
  int row = 0;

  for (double y = box.y0; y <= box.y1; y += gap * sqrt (0.75), row++)
    for (double x = box.x0 + (row & 1) * gap / 2; x <= box.x1; x += gap)
      inside += bl_region_inside_distance (job->field, BL_POINT (x, y)) >= gap / 2;
}

static void
take_off (gpointer data)
{
  Job *job = data;
  g_autoptr (BlTakeoff) takeoff = bl_takeoff_compute (job->layout, NULL);
  g_autoptr (BlEstimate) estimate = bl_estimate_compute (takeoff);
}

static void
fit (gpointer data)
{
  Job *job = data;

  bl_fit_free (bl_fit_check (job->layout, job->library, NULL, NULL));
}

/* The floor of what goes over all plants: counting them by kind. */
static void
count (gpointer data)
{
  Job *job = data;
  g_autoptr (GHashTable) kinds = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < job->layout->placed->len; i++)
    {
      char *slug = g_array_index (job->layout->placed, BlPlaced, i).plant->slug;

      g_hash_table_insert (kinds, slug,
                           GUINT_TO_POINTER (GPOINTER_TO_UINT (g_hash_table_lookup (kinds, slug)) + 1));
    }
}

static void
of_plants (BlLibrary *library)
{
  Job one, ten;
  g_autofree char *note = NULL;

  job_init (&one, library, 11, 1);
  job_init (&ten, library, 11, 10);
  note = g_strdup_printf ("%u and %u plants; floor: one lattice, each place's distance from the bed line", one.layout->placed->len,
                          ten.layout->placed->len);
  bench_row ("layout, 1,000 plants", bench_fastest_ms (lay_out, &one, ROUNDS),
             bench_fastest_ms (lattice_alone, &one, ROUNDS), bench_fastest_ms (lay_out, &ten, ROUNDS), note);
  bench_row ("take-off and estimate", bench_fastest_ms (take_off, &one, ROUNDS),
             bench_fastest_ms (count, &one, ROUNDS), bench_fastest_ms (take_off, &ten, ROUNDS),
             "the same; floor: the plants counted by kind");
  bench_row ("fit, with substitutes", bench_fastest_ms (fit, &one, ROUNDS),
             bench_fastest_ms (count, &one, ROUNDS), bench_fastest_ms (fit, &ten, ROUNDS), "likewise");
  job_clear (&one);
  job_clear (&ten);
}

/* ---- the sun ---- */

#define STEP_MINUTES 5.0
#define STEPS (15 * 60 / 5) /* of the longest day there */

typedef struct
{
  BlPoints *bed, *wall;
  BlSunTrack *track;
  guint n_cells;
  double tangents[STEPS]; /* of the floor's own sun, which climbs and sinks once */
} Sun;

static void
sun_init (Sun *sun, double side)
{
  BlSite site = { .latitude = 40, .longitude = -75, .north = 0 };

  sun->bed = scene_rectangle (0, 0, side, side);
  sun->wall = scene_rectangle (-1, -1, -0.8, side);
  sun->track = bl_sun_track_new (&site, bl_day (2027, 6, 21), STEP_MINUTES, NULL);
  g_assert_nonnull (sun->track);
  sun->n_cells = (guint) (side * side * 100);
  for (guint k = 0; k < STEPS; k++)
    sun->tangents[k] = tan (1.2 * sin (G_PI * (k + 0.5) / STEPS));
}

static void
sun_clear (Sun *sun)
{
  g_array_unref (sun->bed);
  g_array_unref (sun->wall);
  bl_sun_track_free (sun->track);
}

static void
map_sun (gpointer data)
{
  Sun *sun = data;
  BlObstacle wall = { .outline = sun->wall, .closed = TRUE, .top = 4 };
  g_autoptr (BlSunMap) map = bl_sun_map_new (sun->bed, 0.1, sun->track, &wall, 1, NULL, NULL);

  g_assert_nonnull (map);
}

/* The floor: for each cell and step of a day of fifteen hours, the height of the ray at the wall compared with
 * the wall's. */
static void
compare_heights (gpointer data)
{
  Sun *sun = data;
  volatile guint lit = 0;

  for (guint i = 0; i < sun->n_cells; i++)
    {
      double away = 1 + 0.1 * (i % 200);
      guint here = 0;

      for (guint k = 0; k < STEPS; k++)
        here += away * sun->tangents[k] > 4;
      lit += here;
    }
}

static void
of_the_sun (void)
{
  Sun one, ten;

  sun_init (&one, 20);
  sun_init (&ten, 20 * sqrt (10));
  bench_row ("sun map, 20 m at 10 cm", bench_fastest_ms (map_sun, &one, 3),
             bench_fastest_ms (compare_heights, &one, 3), bench_fastest_ms (map_sun, &ten, 1),
             "cells widen beyond 250,000; floor: a height compared for each cell and step");
  sun_clear (&one);
  sun_clear (&ten);
}

int
main (void)
{
  g_autofree char *path = bl_library_default_path ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BlLibrary) library = bl_library_open (path, NULL, &error);

  g_assert_no_error (error);
  of_plants (library);
  of_the_sun ();
  return 0;
}
