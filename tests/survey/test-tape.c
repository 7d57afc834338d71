/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tape surveys against published examples. */
#include "survey/tape.h"

#include "base/error.h"
#include "geometry/polygon.h"
#include "survey/traverse.h"

#include <string.h>

#define ASSERT_NEAR(a, b, e) g_assert_cmpfloat_with_epsilon (a, b, e)

static const BlTapePoint *
point (const BlTape *tape,
       guint         i)
{
  return &g_array_index (tape->points, BlTapePoint, i);
}

static const BlTapeDistance *
distance (const BlTape *tape,
          guint         i)
{
  return &g_array_index (tape->distances, BlTapeDistance, i);
}

static void
adjust (BlTape *tape)
{
  g_autoptr (GError) error = NULL;

  bl_tape_adjust (tape, &error);
  g_assert_no_error (error);
}

/* The 13-14-15 triangle (school geometry): the third corner at (5, 12), area 84. */
static void
test_two_distances (void)
{
  g_autoptr (BlPoints) ring = bl_points_new ();
  BlPoint a = BL_POINT (0, 0), b = BL_POINT (14, 0), c;

  g_assert_true (bl_tape_intersect (a, 13, b, 15, TRUE, &c));
  ASSERT_NEAR (c.x, 5.0, 1e-12);
  ASSERT_NEAR (c.y, 12.0, 1e-12);
  bl_points_add (ring, a);
  bl_points_add (ring, b);
  bl_points_add (ring, c);
  ASSERT_NEAR (bl_polygon_area (ring), 84.0, 1e-12);
  g_assert_true (bl_tape_intersect (a, 13, b, 15, FALSE, &c));
  ASSERT_NEAR (c.y, -12.0, 1e-12);
  g_assert_false (bl_tape_intersect (a, 5, b, 6, TRUE, &c));
  g_assert_false (bl_tape_intersect (a, 30, b, 5, TRUE, &c));
}

/* Ghilani, Adjustment Computations, example 14.2 (inputs read in the author's worksheet, feet). The
 * adjusted figures were computed independently from the observation equations. */
static void
test_ghilani (void)
{
  g_autoptr (BlTape) tape = bl_tape_new ();
  static const double place[3][2] = { { 865.40, 4527.15 }, { 2432.55, 2047.25 }, { 2865.22, 27.15 } };
  static const double taped[3] = { 6049.00, 4736.83, 5446.49 };
  static const double residual[3] = { -0.037, 0.077, -0.047 };
  static const char *const names[] = { "A", "B", "C" };

  for (guint i = 0; i < 3; i++)
    {
      bl_tape_add_point (tape, names[i]);
      bl_tape_fix (tape, i, BL_POINT (place[i][0], place[i][1]));
    }
  bl_tape_add_point (tape, "U");
  /* All three weigh the same in the example. */
  for (guint i = 0; i < 3; i++)
    bl_tape_add_distance (tape, i, 3, taped[i], 0.1);
  adjust (tape);
  ASSERT_NEAR (point (tape, 3)->at.x, 6861.317, 2e-3);
  ASSERT_NEAR (point (tape, 3)->at.y, 3727.819, 2e-3);
  for (guint i = 0; i < 3; i++)
    ASSERT_NEAR (fabs (distance (tape, i)->residual), fabs (residual[i]), 1.5e-3);
  g_assert_cmpint (tape->dof, ==, 1);
  /* Ours are in units of the stated 0.1 ft. */
  ASSERT_NEAR (tape->s0 * 0.1, 0.098, 1e-3);
  ASSERT_NEAR (point (tape, 3)->sx * tape->s0, 0.078, 1e-3);
  ASSERT_NEAR (point (tape, 3)->sy * tape->s0, 0.154, 1e-3);
}

static BlTape *
quadrilateral (double slip)
{
  BlTape *tape = bl_tape_new ();
  static const BlPoint corner[4] = { { 0, 0 }, { 20, 0 }, { 20, 12 }, { 0, 12 } };
  static const char *const names[] = { "A", "B", "C", "D" };

  for (guint i = 0; i < 4; i++)
    bl_tape_add_point (tape, names[i]);
  for (guint i = 0; i < 4; i++)
    for (guint j = i + 1; j < 4; j++)
      bl_tape_add_distance (tape, i, j, bl_dist (corner[i], corner[j])
                                          + (i == 1 && j == 2 ? slip : 0.0), 0.0);
  return tape;
}

/* A braced quadrilateral 20 × 12 with its diagonals of 23.3238: consistent, no residuals. */
static void
test_braced (void)
{
  g_autoptr (BlTape) tape = quadrilateral (0.0);

  ASSERT_NEAR (distance (tape, 1)->distance, 23.3238, 1e-4);
  adjust (tape);
  ASSERT_NEAR (point (tape, 2)->at.x, 20.0, 1e-6);
  ASSERT_NEAR (point (tape, 2)->at.y, 12.0, 1e-6);
  ASSERT_NEAR (point (tape, 3)->at.x, 0.0, 1e-6);
  g_assert_cmpint (tape->dof, ==, 1);
  ASSERT_NEAR (tape->relative, 0.0, 1e-6);
  g_assert_cmpint (tape->worst, ==, -1);
  g_assert_true (tape->adjusted);
}

/* A slip is pointed at: with six tapes and one check any one may be blamed, with more the right one. */
static void
test_gross_error (void)
{
  g_autoptr (BlTape) tape = quadrilateral (0.5);
  BlPoint e = BL_POINT (10, -8);
  static const BlPoint corner[4] = { { 0, 0 }, { 20, 0 }, { 20, 12 }, { 0, 12 } };
  guint extra = bl_tape_add_point (tape, "E");

  for (guint i = 0; i < 4; i++)
    bl_tape_add_distance (tape, i, extra, bl_dist (corner[i], e), 0.0);
  adjust (tape);
  g_assert_cmpint (tape->worst, >=, 0);
  g_assert_cmpuint (distance (tape, tape->worst)->from, ==, 1);
  g_assert_cmpuint (distance (tape, tape->worst)->to, ==, 2);
  g_assert_nonnull (strstr (tape->message, "The tape from B to C disagrees"));
  g_test_message ("%s", tape->message);
}

/* Tapes that cross at a small angle are called weak. */
static void
test_weak (void)
{
  g_autoptr (BlTape) tape = bl_tape_new ();
  BlPoint p = BL_POINT (10.0, 1.0);

  bl_tape_add_point (tape, "A");
  bl_tape_add_point (tape, "B");
  bl_tape_add_point (tape, "P");
  bl_tape_fix (tape, 0, BL_POINT (0, 0));
  bl_tape_fix (tape, 1, BL_POINT (4, 0));
  bl_tape_add_distance (tape, 0, 2, bl_norm (p), 0.0);
  bl_tape_add_distance (tape, 1, 2, bl_dist (p, BL_POINT (4, 0)), 0.0);
  adjust (tape);
  ASSERT_NEAR (point (tape, 2)->at.y, 1.0, 1e-6);
  g_assert_cmpfloat (tape->weakest_angle, <, 30.0 * G_PI / 180.0);
  g_assert_nonnull (strstr (tape->message, "is weak"));
  /* A weak place has a large standard deviation across the tapes. */
  g_assert_cmpfloat (point (tape, 2)->sy, >, 3.0 * point (tape, 2)->sx);
}

static void
test_open (void)
{
  g_autoptr (BlTape) tape = bl_tape_new ();
  g_autoptr (GError) error = NULL;

  bl_tape_add_point (tape, "A");
  bl_tape_add_point (tape, "B");
  bl_tape_add_point (tape, "C");
  bl_tape_add_distance (tape, 0, 1, 5.0, 0.0);
  bl_tape_add_distance (tape, 1, 2, 5.0, 0.0);
  g_assert_false (bl_tape_adjust (tape, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_UNSOLVED);
  g_assert_nonnull (strstr (error->message, "Point C"));
  g_clear_error (&error);
  bl_tape_add_distance (tape, 0, 2, -1.0, 0.0);
  g_assert_false (bl_tape_adjust (tape, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
}

static void
test_copy (void)
{
  g_autoptr (BlTape) tape = quadrilateral (0.01);
  g_autoptr (BlTape) copy = bl_tape_copy (tape);

  adjust (tape);
  adjust (copy);
  g_assert_cmpint (bl_tape_find (copy, "C"), ==, 2);
  g_assert_cmpint (bl_tape_find (copy, "Z"), ==, -1);
  g_assert_true (memcmp (&point (tape, 2)->at, &point (copy, 2)->at, sizeof (BlPoint)) == 0);
}

/* Along a baseline and to its left. */
static void
test_offsets (void)
{
  BlPoint at;

  g_assert_true (bl_offset_point (BL_POINT (1, 1), BL_POINT (1, 11), 4.0, 2.0, &at));
  ASSERT_NEAR (at.x, -1.0, 1e-12);
  ASSERT_NEAR (at.y, 5.0, 1e-12);
  g_assert_false (bl_offset_point (BL_POINT (1, 1), BL_POINT (1, 1), 4.0, 2.0, &at));
}

/* Area by coordinates, Mahun, COGO chapter H: (N, E) C D E A B, 140,494 sq ft from cross sums
 * rounded on the way; 140,493.1 exactly. */
static void
test_area (void)
{
  static const double ne[5][2] = { { 406.31, 1259.97 }, { 235.12, 1489.47 }, { 65.81, 1126.40 },
                                   { 317.89, 942.04 }, { 675.32, 1282.54 } };
  g_autoptr (BlPoints) ring = bl_points_new ();

  for (guint i = 0; i < 5; i++)
    bl_points_add (ring, BL_POINT (ne[i][1], ne[i][0]));
  ASSERT_NEAR (bl_polygon_area (ring), 140493.1, 0.1);
}

static GArray *
legs_of (const BlPoint *at,
         guint          n)
{
  GArray *legs = g_array_new (FALSE, TRUE, sizeof (BlTraverseLeg));

  for (guint i = 0; i < n; i++)
    {
      BlPoint d = bl_sub (at[(i + 1) % n], at[i]);
      BlTraverseLeg leg = { .bearing = atan2 (d.x, d.y), .distance = bl_norm (d) };

      g_array_append_val (legs, leg);
    }
  return legs;
}

/* A loop of the lengths and misclosure of Mahun's compass-rule example: 472.68 216.13 276.52 382.24 ft
 * (1347.57), latitudes off by +0.083, departures by +0.075: 0.112 ft, 1 in 12,046. */
static void
test_compass_rule (void)
{
  static const double length[4] = { 472.68, 216.13, 276.52, 382.24 };
  g_autoptr (GArray) legs = g_array_new (FALSE, TRUE, sizeof (BlTraverseLeg));
  g_autoptr (BlTraverse) traverse = NULL;
  g_autoptr (GError) error = NULL;
  BlPoint end = BL_POINT (0, 0);

  for (guint i = 0; i < 4; i++)
    {
      BlTraverseLeg leg = { .bearing = 0.3 + i * 1.6, .distance = length[i] };

      g_array_append_val (legs, leg);
      end = bl_add (end, bl_mul (BL_POINT (sin (leg.bearing), cos (leg.bearing)), length[i]));
    }
  end = bl_sub (end, BL_POINT (0.075, 0.083));
  traverse = bl_traverse_adjust (legs, BL_POINT (0, 0), end, BL_TRAVERSE_COMPASS, &error);
  g_assert_no_error (error);
  ASSERT_NEAR (traverse->length, 1347.57, 1e-9);
  ASSERT_NEAR (traverse->closing_error, 0.112, 5e-4);
  ASSERT_NEAR (1.0 / traverse->relative, 12046.0, 10.0);
  /* The correction of a leg is its share of the length. */
  ASSERT_NEAR (bl_points_at (traverse->points, 1).x - 472.68 * sin (0.3), -0.075 * 472.68 / 1347.57,
               1e-9);
  ASSERT_NEAR (bl_points_at (traverse->points, 4).x, end.x, 1e-9);
  ASSERT_NEAR (bl_points_at (traverse->points, 4).y, end.y, 1e-9);
  g_assert_null (traverse->message);
}

/* Both rules close exactly and leave a consistent loop as it is. */
static void
test_traverse_rules (void)
{
  static const BlPoint at[4] = { { 0, 0 }, { 30, 2 }, { 28, 22 }, { -1, 18 } };

  for (int rule = 0; rule <= 1; rule++)
    {
      g_autoptr (GArray) legs = legs_of (at, 4);
      g_autoptr (BlTraverse) traverse = NULL, slipped = NULL;
      g_autoptr (GError) error = NULL;

      traverse = bl_traverse_adjust (legs, at[0], at[0], rule, &error);
      g_assert_no_error (error);
      for (guint i = 0; i < 4; i++)
        g_assert_cmpfloat (bl_dist (bl_points_at (traverse->points, i), at[i]), <, 1e-9);
      g_assert_cmpfloat (traverse->area, >, 500.0);
      g_array_index (legs, BlTraverseLeg, 1).distance += 1.0;
      slipped = bl_traverse_adjust (legs, at[0], at[0], rule, &error);
      g_assert_no_error (error);
      ASSERT_NEAR (slipped->closing_error, 1.0, 1e-9);
      ASSERT_NEAR (bl_dist (bl_points_at (slipped->points, 4), at[0]), 0.0, 1e-9);
      g_assert_nonnull (slipped->message);
    }
}

/* Angles of a square, turned to the right, bring the bearings round. */
static void
test_bearings (void)
{
  static const double right[3] = { G_PI_2, G_PI_2, G_PI_2 };
  double bearings[3];

  /* North, then at each corner the angle to the right from the leg back: 270° - 90° = west ... */
  bl_traverse_bearings (0.0, right, 3, bearings);
  ASSERT_NEAR (bearings[0], 1.5 * G_PI, 1e-12);
  ASSERT_NEAR (bearings[1], G_PI, 1e-12);
  ASSERT_NEAR (bearings[2], G_PI_2, 1e-12);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/survey/tape/two-distances", test_two_distances);
  g_test_add_func ("/survey/tape/ghilani", test_ghilani);
  g_test_add_func ("/survey/tape/braced-quadrilateral", test_braced);
  g_test_add_func ("/survey/tape/gross-error", test_gross_error);
  g_test_add_func ("/survey/tape/weak-crossing", test_weak);
  g_test_add_func ("/survey/tape/open-figure", test_open);
  g_test_add_func ("/survey/tape/copy", test_copy);
  g_test_add_func ("/survey/tape/offsets", test_offsets);
  g_test_add_func ("/survey/traverse/area-by-coordinates", test_area);
  g_test_add_func ("/survey/traverse/compass-rule", test_compass_rule);
  g_test_add_func ("/survey/traverse/both-rules", test_traverse_rules);
  g_test_add_func ("/survey/traverse/bearings", test_bearings);
  return g_test_run ();
}
