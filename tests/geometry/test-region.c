/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Regions: set operations and offsets against closed formulas. */
#include "base/error.h"
#include "base/rng.h"
#include "geometry/polygon.h"

static BlRegion *
box (double x0, double y0, double x1, double y1)
{
  g_autoptr (BlPoints) ring = bl_points_new ();
  g_autoptr (GError) error = NULL;
  BlRegion *region;

  bl_points_add (ring, BL_POINT (x0, y0));
  bl_points_add (ring, BL_POINT (x1, y0));
  bl_points_add (ring, BL_POINT (x1, y1));
  bl_points_add (ring, BL_POINT (x0, y1));
  region = bl_region_new (ring, &error);
  g_assert_no_error (error);
  return region;
}

static void
test_operations (void)
{
  g_autoptr (BlRegion) a = box (0, 0, 4, 3), b = box (3, 2, 6, 6), hole = box (1, 1, 2, 2);
  g_autoptr (BlRegion) both = bl_region_union (a, b, NULL);
  g_autoptr (BlRegion) common = bl_region_intersection (a, b, NULL);
  g_autoptr (BlRegion) rest = bl_region_difference (a, hole, NULL);
  g_autoptr (BlRegion) two = NULL, none = NULL;
  g_autoptr (GPtrArray) rings = bl_region_rings (rest);

  g_assert_cmpfloat_with_epsilon (bl_region_area (both), 23, 1e-12);
  g_assert_cmpfloat_with_epsilon (bl_region_area (common), 1, 1e-12);
  g_assert_cmpfloat_with_epsilon (bl_region_area (rest), 11, 1e-12);
  g_assert_cmpfloat_with_epsilon (bl_region_perimeter (rest), 18, 1e-12);
  g_assert_cmpuint (rings->len, ==, 2);
  g_assert_cmpfloat (bl_polygon_signed_area (rings->pdata[0]), >, 0);
  g_assert_cmpfloat (bl_polygon_signed_area (rings->pdata[1]), <, 0);
  g_assert_false (bl_region_contains (rest, BL_POINT (1.5, 1.5)));
  g_assert_true (bl_region_contains (rest, BL_POINT (0.5, 1.5)));
  g_assert_cmpfloat_with_epsilon (bl_region_inside_distance (rest, BL_POINT (0.7, 1.5)), 0.3,
                                  1e-12);
  g_assert_cmpfloat_with_epsilon (bl_region_inside_distance (rest, BL_POINT (1.4, 1.5)), -0.4,
                                  1e-12);
  {
    g_autoptr (BlRegion) strip = box (-1, 1.4, 5, 1.6);

    two = bl_region_difference (a, strip, NULL);
  }
  g_assert_cmpfloat_with_epsilon (bl_region_area (two), 11.2, 1e-12);
  none = bl_region_difference (hole, a, NULL);
  g_assert_true (bl_region_is_empty (none));
  g_assert_true (bl_rect_is_empty (bl_region_extent (none)));
}

/* Steiner: growing a convex shape by r adds perimeter × r + π r²; shrinking takes r a side. */
static void
test_offset (void)
{
  g_autoptr (BlRegion) a = box (0, 0, 4, 3);
  g_autoptr (BlRegion) grown = bl_region_offset (a, 0.5, NULL);
  g_autoptr (BlRegion) shrunk = bl_region_offset (a, -0.5, NULL);
  g_autoptr (BlRegion) gone = bl_region_offset (a, -1.6, NULL);

  g_assert_cmpfloat_with_epsilon (bl_region_area (grown), 12 + 14 * 0.5 + G_PI * 0.25, 3e-3);
  g_assert_cmpfloat_with_epsilon (bl_region_area (shrunk), 6, 1e-9);
  g_assert_true (bl_region_is_empty (gone));
}

static void
test_disc (void)
{
  g_autoptr (BlRegion) disc = bl_region_disc (BL_POINT (3, 4), 2, NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpfloat_with_epsilon (bl_region_area (disc), 4 * G_PI, 1e-12);
  g_assert_null (bl_region_disc (BL_POINT (0, 0), 0, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
}

static void
test_axis (void)
{
  for (int degrees = -80; degrees <= 80; degrees += 20)
    {
      g_autoptr (BlPoints) ring = bl_points_new ();
      g_autoptr (BlRegion) region = NULL;
      double a = degrees * G_PI / 180, got;
      BlPoint u = BL_POINT (7 * cos (a), 7 * sin (a)), v = BL_POINT (-2 * sin (a), 2 * cos (a));

      bl_points_add (ring, BL_POINT (0, 0));
      bl_points_add (ring, u);
      bl_points_add (ring, bl_add (u, v));
      bl_points_add (ring, v);
      region = bl_region_new (ring, NULL);
      got = bl_region_axis (region);
      g_assert_cmpfloat_with_epsilon (remainder (got - a, G_PI), 0, 1e-9);
    }
}

static void
test_refuse (void)
{
  static const double bow[][2] = { { 0, 0 }, { 2, 2 }, { 2, 0 }, { 0, 2 } };
  static const double flat[][2] = { { 0, 0 }, { 1, 0 }, { 2, 0 } };
  g_autoptr (BlPoints) a = bl_points_new (), b = bl_points_new (), c = bl_points_new ();
  BlPoints *rings[] = { a, b, c };

  for (guint i = 0; i < 4; i++)
    bl_points_add (a, BL_POINT (bow[i][0], bow[i][1]));
  for (guint i = 0; i < 3; i++)
    bl_points_add (b, BL_POINT (flat[i][0], flat[i][1]));
  bl_points_add (c, BL_POINT (0, 0));
  for (guint i = 0; i < G_N_ELEMENTS (rings); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (bl_region_new (rings[i], &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
    }
}

/* |A ∪ B| + |A ∩ B| = |A| + |B| and |A \ B| = |A| − |A ∩ B| for random stars. */
static void
test_inclusion (void)
{
  BlRng rng = bl_rng (6);

  for (int round = 0; round < 300; round++)
    {
      BlRegion *shape[2] = { NULL, NULL };
      g_autoptr (BlRegion) a = NULL, b = NULL, u = NULL, n = NULL, d = NULL;

      for (int k = 0; k < 2; k++)
        {
          g_autoptr (BlPoints) ring = bl_points_new ();
          guint corners = 5 + bl_rng_int (&rng, 20);

          for (guint i = 0; i < corners; i++)
            {
              double r = bl_rng_range (&rng, 1, 5), t = 2 * G_PI * i / corners;

              bl_points_add (ring, BL_POINT (k + r * cos (t), r * sin (t)));
            }
          shape[k] = bl_region_new (ring, NULL);
        }
      a = shape[0];
      b = shape[1];
      u = bl_region_union (a, b, NULL);
      n = bl_region_intersection (a, b, NULL);
      d = bl_region_difference (a, b, NULL);
      g_assert_cmpfloat_with_epsilon (bl_region_area (u) + bl_region_area (n),
                                      bl_region_area (a) + bl_region_area (b), 1e-9);
      g_assert_cmpfloat_with_epsilon (bl_region_area (d),
                                      bl_region_area (a) - bl_region_area (n), 1e-9);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/region/operations", test_operations);
  g_test_add_func ("/region/offset", test_offset);
  g_test_add_func ("/region/disc", test_disc);
  g_test_add_func ("/region/axis", test_axis);
  g_test_add_func ("/region/refuse", test_refuse);
  g_test_add_func ("/region/inclusion", test_inclusion);
  return g_test_run ();
}
