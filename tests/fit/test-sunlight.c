/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun over a bed beside a wall, at a place where it can be worked out by hand. */
#include <math.h>

#include "base/error.h"
#include "fit/sunlight.h"
#include "scene.h"

#define ABOUT(value, expected, within) g_assert_cmpfloat (fabs ((value) - (expected)), <=, (within))

/* On the equator at the equinox the sun goes from due east over the zenith to due west, 15 degrees
 * an hour. A wall h high and d to the west hides it once it stands under atan (h / d): that many
 * degrees through 15 are the hours lost. */
static BlModel *
beside_wall (void)
{
  static const double wall[] = { -3, -5000, -3, 5000 };
  BlModel *model = scene_new ();

  model->site.latitude = 0;
  model->site.longitude = 0;
  model->site.north = 0;
  scene_feature (model, BL_FEATURE_WALL, 2, wall, 3);
  return model;
}

static double
hours_lost (double d, double h)
{
  return atan2 (h, d) * 180.0 / G_PI / 15.0;
}

static void
test_wall (void)
{
  g_autoptr (BlModel) model = beside_wall ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BlSunlight) sun
    = bl_sunlight_compute (model, bl_day (2025, 3, 20), NULL, NULL, &error);
  const double places[] = { 0.5, 2, 5, 9.5 };
  guint i = 0;

  g_assert_no_error (error);
  g_assert_cmpuint (sun->beds->len, ==, 1);
  /* Twelve hours, and the seven minutes that refraction and the sun's breadth add. */
  ABOUT (sun->open_hours, 12.11, 0.05);
  for (i = 0; i < G_N_ELEMENTS (places); i++)
    ABOUT (sun->open_hours - bl_sunlight_at (sun, BL_POINT (places[i], 2)),
           hours_lost (places[i] + 3, 3), 0.12);
  g_assert_true (isnan (bl_sunlight_at (sun, BL_POINT (-1, 2))));
  g_assert_true (isnan (bl_sunlight_at (sun, BL_POINT (5, 9))));
}

/* The season's mean is what the rule on light goes by; a stated value goes before it. */
static void
test_months (void)
{
  g_autoptr (BlModel) model = beside_wall ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BlSunlight) sun = NULL;
  g_autoptr (BlSunlight) winter = NULL;
  const BlBedSun *bed = NULL, *again = NULL;
  double sum = 0;
  guint i = 0;

  model->site.sun_hours = 7;
  sun = bl_sunlight_compute (model, bl_day (2025, 6, 21), NULL, NULL, &error);
  bed = &g_array_index (sun->beds, BlBedSun, 0);
  for (i = 3; i < 9; i++)
    sum += bed->months[i];
  ABOUT (bed->season, sum / 6, 1e-9);
  ABOUT (bed->stated, 7, 0);
  /* March: the mean over a bed that begins 3 m from the wall and ends 13 m from it. */
  ABOUT (12.11 - bed->months[2], hours_lost (8, 3), 0.35);
  winter = bl_sunlight_compute (model, bl_day (2025, 12, 21), sun, NULL, &error);
  again = &g_array_index (winter->beds, BlBedSun, 0);
  g_assert_cmpmem (again->months, sizeof again->months, bed->months, sizeof bed->months);
}

/* A tree that is one point: 6 m high, its crown 2 m about the stem and open under 1.5 m. */
static void
test_tree (void)
{
  static const double stem[] = { 5, 2 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlSunlight) sun = NULL;

  model->site.latitude = 0;
  model->site.longitude = 0;
  model->site.north = 0;
  scene_feature (model, BL_FEATURE_TREE, 1, stem, 6);
  sun = bl_sunlight_compute (model, bl_day (2025, 3, 20), NULL, NULL, NULL);
  /* Under its middle the crown hides what stands over atan (1.5 / 2) on either side. */
  ABOUT (bl_sunlight_at (sun, BL_POINT (5, 2)), 2 * hours_lost (2, 1.5), 0.3);
}

static void
assert_refused (BlModel *model, const char *words)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (bl_sunlight_compute (model, bl_day (2025, 6, 21), NULL, NULL, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
  g_assert_nonnull (strstr (error->message, words));
}

static void
test_unknown (void)
{
  g_autoptr (BlModel) model = beside_wall ();
  g_autoptr (GCancellable) cancel = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancel);
  g_assert_null (bl_sunlight_compute (model, bl_day (2025, 6, 21), NULL, cancel, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_CANCELLED);
  model->site.north = NAN;
  assert_refused (model, "north");
  model->site.latitude = NAN;
  assert_refused (model, "latitude");
  model->site.latitude = model->site.north = 0;
  g_ptr_array_set_size (model->beds, 0);
  assert_refused (model, "bed line");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/sunlight/wall", test_wall);
  g_test_add_func ("/fit/sunlight/months", test_months);
  g_test_add_func ("/fit/sunlight/tree", test_tree);
  g_test_add_func ("/fit/sunlight/unknown", test_unknown);
  return g_test_run ();
}
