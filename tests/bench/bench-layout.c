/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a design of some 300 plants takes: laid out afresh, after an edit, while dragging, and
 * with its take-off and estimate. */
#include <stdio.h>

#include "../layout/scene.h"
#include "base/rng.h"
#include "takeoff/estimate.h"

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

/* A bed 14 m long with twelve drifts, a few shrubs and a fill; the bed line @pushed outwards. */
static BlModel *
design (double pushed)
{
  BlRng rng = bl_rng (3);
  BlModel *model = scene_new ();
  BlPoints *line = blob (&rng, 0, 0, 7, 2.6, 12);

  bl_points_at (line, 0).x += pushed;
  scene_bed (model, "Strip", line, FALSE);
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

static double
since (gint64 start)
{
  return (double) (g_get_monotonic_time () - start) / 1000;
}

int
main (void)
{
  g_autoptr (BlModel) model = design (0), moved = design (0.05);
  double fresh = INFINITY, after = INFINITY, drag = INFINITY, money = INFINITY;
  guint n = 0;

  for (int round = 0; round < 10; round++)
    {
      gint64 start = g_get_monotonic_time ();
      g_autoptr (BlLayout) a = bl_layout_compute (model, 1);
      g_autoptr (BlLayout) b = NULL, c = NULL;
      g_autoptr (BlTakeoff) takeoff = NULL;
      g_autoptr (BlEstimate) estimate = NULL;

      fresh = MIN (fresh, since (start));
      start = g_get_monotonic_time ();
      b = bl_layout_compute_after (model, 1, a);
      after = MIN (after, since (start));
      start = g_get_monotonic_time ();
      c = bl_layout_follow (moved, 1, a);
      drag = MIN (drag, since (start));
      start = g_get_monotonic_time ();
      takeoff = bl_takeoff_compute (a, NULL);
      estimate = bl_estimate_compute (takeoff);
      money = MIN (money, since (start));
      n = a->placed->len;
    }
  printf ("%u plants: afresh %.2f ms, after an edit elsewhere %.2f ms, while dragging %.2f ms, "
          "take-off and estimate %.2f ms\n",
          n, fresh, after, drag, money);
  return 0;
}
