/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smooth bed line. */
#include "geometry/outline.h"

#include <string.h>

#include "base/error.h"
#include "base/rng.h"
#include "geometry/polygon.h"

static BlOutline *
circle_of (guint n, double radius)
{
  BlPoints *points = bl_points_new ();

  for (guint i = 0; i < n; i++)
    bl_points_add (points, BL_POINT (radius * cos (2 * G_PI * i / n),
                                     radius * sin (2 * G_PI * i / n)));
  return bl_outline_new_take (points, FALSE);
}

/* The curve goes through its points, and 24 points on a circle come back as the circle. */
static void
test_circle (void)
{
  g_autoptr (BlOutline) outline = circle_of (24, 3);
  g_autoptr (BlPoints) flat = bl_outline_flatten (outline, 0.001);

  g_assert_cmpfloat_with_epsilon (bl_polygon_area (flat), G_PI * 9, 0.003 * G_PI * 9);
  for (guint i = 0; i < flat->len; i++)
    g_assert_cmpfloat_with_epsilon (bl_norm (bl_points_at (flat, i)), 3, 0.005);
  for (guint i = 0; i < 24; i++)
    g_assert_cmpfloat (bl_dist (bl_polygon_nearest (flat, bl_points_at (outline->points, i), NULL),
                                bl_points_at (outline->points, i)),
                       <, 1e-12);
}

/* Barry and Goldman's pyramid for the same four points gives the same point as the Bézier form. */
static void
test_pyramid (void)
{
  BlRng rng = bl_rng (4);

  for (int round = 0; round < 500; round++)
    {
      BlPoints *points = bl_points_new ();
      g_autoptr (BlOutline) outline = bl_outline_new_take (points, FALSE);
      g_autoptr (BlPoints) sample = NULL;
      double t[4] = { 0 };
      BlPoint p[4];

      for (int i = 0; i < 4; i++)
        {
          p[i] = BL_POINT (bl_rng_range (&rng, 0, 9), bl_rng_range (&rng, 0, 9));
          bl_points_add (points, p[i]);
        }
      for (int i = 1; i < 4; i++)
        t[i] = t[i - 1] + sqrt (bl_dist (p[i - 1], p[i]));
      sample = bl_outline_sample (outline, 8);
      for (guint k = 0; k < 8; k++)
        {
          double u = t[1] + (t[2] - t[1]) * k / 8;
          BlPoint a[3], b[2], c;

          for (int i = 0; i < 3; i++)
            a[i] = bl_lerp (p[i], p[i + 1], (u - t[i]) / (t[i + 1] - t[i]));
          for (int i = 0; i < 2; i++)
            b[i] = bl_lerp (a[i], a[i + 1], (u - t[i]) / (t[i + 2] - t[i]));
          c = bl_lerp (b[0], b[1], (u - t[1]) / (t[2] - t[1]));
          g_assert_cmpfloat (bl_dist (c, bl_points_at (sample, 8 + k)), <, 1e-9);
        }
    }
}

static void
test_tolerance (void)
{
  g_autoptr (BlOutline) outline = circle_of (5, 2);
  g_autoptr (BlPoints) fine = bl_outline_sample (outline, 2000);
  static const double tolerances[] = { 0.1, 0.01, 0.001 };
  guint before = 0;

  for (guint i = 0; i < G_N_ELEMENTS (tolerances); i++)
    {
      g_autoptr (BlPoints) flat = bl_outline_flatten (outline, tolerances[i]);
      double worst = 0;

      for (guint k = 0; k < fine->len; k++)
        {
          BlPoint p = bl_points_at (fine, k);

          worst = MAX (worst, bl_dist (p, bl_polygon_nearest (flat, p, NULL)));
        }
      g_assert_cmpfloat (worst, <=, tolerances[i]);
      g_assert_cmpuint (flat->len, >, before);
      before = flat->len;
    }
}

static void
test_corners (void)
{
  static const double square[][2] = { { 0, 0 }, { 4, 0 }, { 4, 3 }, { 0, 3 } };
  BlPoints *points = bl_points_new ();
  g_autoptr (BlOutline) outline = bl_outline_new_take (points, FALSE);
  g_autoptr (BlPoints) straight = NULL, half = NULL;

  for (guint i = 0; i < 4; i++)
    bl_points_add (points, BL_POINT (square[i][0], square[i][1]));
  outline->straight = TRUE;
  straight = bl_outline_flatten (outline, 0.001);
  g_assert_true (bl_points_equal (straight, points));
  bl_outline_set_sharp (outline, 2, FALSE);
  g_assert_false (outline->straight);
  g_assert_true (bl_outline_is_sharp (outline, 0));
  half = bl_outline_flatten (outline, 0.001);
  /* Only the two pieces at the smooth point bulge. */
  g_assert_cmpfloat (bl_polygon_area (half), >, 12);
  g_assert_cmpfloat (bl_points_at (half, 1).x, ==, 4);
  g_assert_cmpfloat (bl_points_at (half, 1).y, ==, 0);
}

static void
test_edits (void)
{
  g_autoptr (BlOutline) outline = circle_of (4, 1), copy = NULL;

  bl_outline_set_sharp (outline, 3, TRUE);
  copy = bl_outline_copy (outline);
  g_assert_true (bl_outline_equal (copy, outline));
  bl_outline_insert (outline, 1, BL_POINT (9, 9));
  g_assert_false (bl_outline_equal (copy, outline));
  g_assert_true (bl_outline_is_sharp (outline, 4));
  g_assert_false (bl_outline_is_sharp (outline, 1));
  bl_outline_remove (outline, 1);
  g_assert_true (bl_outline_equal (copy, outline));
  bl_outline_insert (outline, 4, BL_POINT (2, 2));
  bl_outline_remove (outline, 4);
  g_assert_true (bl_outline_equal (copy, outline));
}

static void
refuse (BlOutline *outline, const char *says)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (bl_outline_check (outline, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
  if (strstr (error->message, says) == NULL)
    g_error ("“%s” does not say “%s”", error->message, says);
}

static void
test_check (void)
{
  g_autoptr (BlOutline) good = circle_of (9, 2), two = circle_of (2, 1), crossed = circle_of (6, 2);
  g_autoptr (BlOutline) twice = circle_of (5, 1), nan = circle_of (5, 1);
  BlPoint swap = bl_points_at (crossed->points, 1);

  g_assert_true (bl_outline_check (good, NULL));
  refuse (two, "needs at least 3");
  two->open = TRUE;
  g_assert_true (bl_outline_check (two, NULL));
  bl_points_at (crossed->points, 1) = bl_points_at (crossed->points, 2);
  bl_points_at (crossed->points, 2) = swap;
  refuse (crossed, "crosses itself between points");
  crossed->straight = TRUE;
  refuse (crossed, "between points 1 and 2 crosses itself between points 3 and 4");
  bl_points_at (twice->points, 4) = bl_points_at (twice->points, 0);
  refuse (twice, "Points 5 and 1");
  bl_points_at (nan->points, 2).x = NAN;
  refuse (nan, "Point 3");
}

/* Coincident points must not bring not-a-number into a drawing that is being edited. */
static void
test_degenerate (void)
{
  for (guint n = 0; n < 5; n++)
    for (int open = 0; open < 2; open++)
      {
        BlPoints *points = bl_points_new ();
        g_autoptr (BlOutline) outline = bl_outline_new_take (points, FALSE);
        g_autoptr (BlPoints) flat = NULL, sample = NULL, controls = NULL;

        outline->open = open;
        for (guint i = 0; i < n; i++)
          bl_points_add (points, BL_POINT (i / 2, 1));
        flat = bl_outline_flatten (outline, 0.01);
        sample = bl_outline_sample (outline, 3);
        controls = bl_outline_controls (outline);
        for (guint i = 0; i < flat->len; i++)
          g_assert_true (isfinite (bl_points_at (flat, i).x));
        for (guint i = 0; i < sample->len; i++)
          g_assert_true (isfinite (bl_points_at (sample, i).x));
        g_assert_cmpuint (controls->len, ==, n < 2 ? 0 : 2 * (open ? n - 1 : n));
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/outline/circle", test_circle);
  g_test_add_func ("/outline/barry-goldman", test_pyramid);
  g_test_add_func ("/outline/tolerance", test_tolerance);
  g_test_add_func ("/outline/corners", test_corners);
  g_test_add_func ("/outline/edits", test_edits);
  g_test_add_func ("/outline/check", test_check);
  g_test_add_func ("/outline/degenerate", test_degenerate);
  return g_test_run ();
}
