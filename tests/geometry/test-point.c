/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Points and rectangles. */
#include "geometry/point.h"

static void
test_rectangles (void)
{
  g_autoptr (BlPoints) points = bl_points_new ();
  BlRect r;

  g_assert_true (bl_rect_is_empty (bl_rect_of (points)));
  g_assert_true (bl_rect_is_empty (bl_rect_of (NULL)));
  bl_points_add (points, BL_POINT (1, 2));
  g_assert_false (bl_rect_is_empty (bl_rect_of (points)));
  bl_points_add (points, BL_POINT (-3, 5));
  r = bl_rect_of (points);
  g_assert_true (r.x0 == -3 && r.y0 == 2 && r.x1 == 1 && r.y1 == 5);
  r = bl_rect_union (r, BL_RECT_EMPTY);
  g_assert_true (r.x0 == -3 && r.y1 == 5);
  g_assert_true (bl_rect_meets (r, (BlRect) { 1, 5, 2, 6 }));
  g_assert_false (bl_rect_meets (r, (BlRect) { 1.1, 5, 2, 6 }));
  g_assert_false (bl_rect_meets (r, BL_RECT_EMPTY));
  g_assert_true (bl_rect_is_empty (bl_rect_grow (r, -3)));
}

static void
test_segment (void)
{
  BlPoint at;

  g_assert_cmpfloat (bl_segment_distance (BL_POINT (1, 1), BL_POINT (0, 0), BL_POINT (2, 0), &at),
                     ==, 1);
  g_assert_cmpfloat (at.x, ==, 1);
  g_assert_cmpfloat (bl_segment_distance (BL_POINT (5, 4), BL_POINT (0, 0), BL_POINT (2, 0), NULL),
                     ==, 5);
  g_assert_cmpfloat (bl_segment_distance (BL_POINT (3, 4), BL_POINT (0, 0), BL_POINT (0, 0), NULL),
                     ==, 5);
}

static void
test_lists (void)
{
  g_autoptr (BlPoints) a = bl_points_new (), b = NULL;

  bl_points_add (a, BL_POINT (1, 2));
  b = bl_points_copy (a);
  g_assert_true (bl_points_equal (a, b));
  bl_points_at (b, 0).y = 3;
  g_assert_false (bl_points_equal (a, b));
  g_assert_null (bl_points_copy (NULL));
  g_assert_true (bl_points_equal (NULL, NULL));
  g_assert_false (bl_points_equal (a, NULL));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/point/rectangles", test_rectangles);
  g_test_add_func ("/point/segment", test_segment);
  g_test_add_func ("/point/lists", test_lists);
  return g_test_run ();
}
