/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the ledger needs to follow a dragged bed line in a design of some 300 plants: the design
 * as if the line were so, its layout, quantities and cost. The floor is the plainest of it, the
 * bed's area net of what lies in it, measured in the same run. More than MOST times that fails: some 200 is
 * usual, and one frame of 60 a second was then three times as long. */
#include <stdio.h>
#include <time.h>

#include "../layout/scene.h"
#include "base/rng.h"
#include "takeoff/estimate.h"

#define ROUNDS 41
#define MOST 1000

static BlPoints *
blob (BlRng *rng, double x, double y, double rx, double ry, guint n)
{
  BlPoints *points = bl_points_new ();

  for (guint i = 0; i < n; i++)
    {
      double t = 2 * G_PI * i / n, r = bl_rng_range (rng, 0.85, 1.15);

      bl_points_add (points, BL_POINT (x + rx * r * cos (t), y + ry * r * sin (t)));
    }
  return points;
}

static BlModel *
design (void)
{
  BlRng rng = bl_rng (3);
  BlModel *model = scene_new ();

  scene_bed (model, "Strip", blob (&rng, 0, 0, 7, 2.6, 12), FALSE);
  scene_plant (model, "salvia-nemorosa", BL_TYPE_PERENNIAL, 0.45, 0.4);
  scene_plant (model, "carex-flacca", BL_TYPE_GRASS, 0.35, 0.3);
  scene_plant (model, "cornus-sericea", BL_TYPE_SHRUB, 1.6, 1.5);
  for (int i = 0; i < 12; i++)
    scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_DRIFT,
                    blob (&rng, -5.5 + i, i % 2 == 0 ? 0.9 : -0.9, 0.9, 0.7, 7));
  for (int i = 0; i < 3; i++)
    scene_planting (model, 1, "cornus-sericea", BL_PLANTING_SPECIMEN, scene_point (-4 + 4 * i, 0));
  scene_planting (model, 1, "carex-flacca", BL_PLANTING_FILL, NULL);
  bl_price_book_free (model->prices);
  model->prices = bl_price_book_defaults ();
  return model;
}

static int
compare (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

/* Microseconds of this thread's own work: other programs on the machine do not count. */
static gint64
now (void)
{
  struct timespec t;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &t);
  return (gint64) t.tv_sec * 1000000 + t.tv_nsec / 1000;
}

static double
since (gint64 start)
{
  return (double)(now () - start) / 1000;
}

int
main (void)
{
  g_autoptr (BlModel) model = design ();
  g_autoptr (BlLayout) still = bl_layout_compute (model, 1);
  double whole[ROUNDS], floor_ms[ROUNDS], release[ROUNDS], part[3] = { 0 };
  guint n = 0;

  for (int i = 0; i < ROUNDS; i++)
    {
      g_autoptr (BlBed) bed = bl_bed_copy (bl_model_bed (model, 1));
      g_autoptr (BlModel) moved = NULL;
      g_autoptr (BlLayout) layout = NULL, exact = NULL;
      g_autoptr (BlTakeoff) takeoff = NULL;
      g_autoptr (BlEstimate) estimate = NULL;
      gint64 start = now (), then;

      if (bl_bed_free_area (model, bed) <= 0)
        return 1;
      floor_ms[i] = since (start);
      bl_points_at (bed->outline->points, 0).x += 0.01 * (i + 1);
      start = then = now ();
      moved = bl_model_variant (model, bed, NULL);
      part[0] += since (then) / ROUNDS;
      then = now ();
      layout = bl_layout_follow (moved, 1, still);
      part[1] += since (then) / ROUNDS;
      then = now ();
      takeoff = bl_takeoff_compute (layout, NULL);
      estimate = bl_estimate_compute (takeoff);
      part[2] += since (then) / ROUNDS;
      whole[i] = since (start);
      start = now ();
      exact = bl_layout_compute_after (moved, 1, still);
      release[i] = since (start);
      n = layout->placed->len;
      if (estimate->total <= 0)
        return 1;
    }
  qsort (whole, ROUNDS, sizeof (double), (GCompareFunc)compare);
  qsort (floor_ms, ROUNDS, sizeof (double), (GCompareFunc)compare);
  qsort (release, ROUNDS, sizeof (double), (GCompareFunc)compare);
  printf ("%u plants follow a bed line in %.2f ms (design %.2f, layout %.2f, figures %.2f; the slowest "
          "%.2f) = %.0f x the floor (%.3f ms; at most %d); exact on release %.1f ms\n",
          n, whole[ROUNDS / 2], part[0], part[1], part[2], whole[ROUNDS - 1],
          whole[ROUNDS / 2] / floor_ms[ROUNDS / 2], floor_ms[ROUNDS / 2], MOST, release[ROUNDS / 2]);
  return whole[ROUNDS / 2] <= MOST * floor_ms[ROUNDS / 2] ? 0 : 1;
}
