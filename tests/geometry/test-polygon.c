/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Areas and places of polygons. */
#include "geometry/polygon.h"

#include "base/rng.h"
#include "base/units.h"

static BlPoints *
ring_of (const double (*xy)[2], guint n)
{
  BlPoints *ring = bl_points_new ();

  for (guint i = 0; i < n; i++)
    bl_points_add (ring, BL_POINT (xy[i][0], xy[i][1]));
  return ring;
}

/* Jerry Mahun, "COGO", chapter H (area by coordinates): the parcel A B C D E, cross sums 2,190,612
 * and 1,909,624, printed 140,494 sq ft; exactly 140,493.1 from the printed coordinates. And the
 * plain rectangle of 60,000 sq ft. */
static void
test_area_by_coordinates (void)
{
  static const double parcel[][2] = { { 942.04, 317.89 },  { 1282.54, 675.32 }, { 1259.97, 406.31 },
                                      { 1489.47, 235.12 }, { 1126.40, 65.81 } };
  static const double plain[][2] = { { 0, 0 }, { 0, 300 }, { 200, 300 }, { 200, 0 } };
  g_autoptr (BlPoints) a = ring_of (parcel, 5), b = ring_of (plain, 4);

  g_assert_cmpfloat_with_epsilon (bl_polygon_area (a), 140494, 1.0);
  g_assert_cmpfloat_with_epsilon (bl_polygon_area (a), 140493.1, 0.05);
  g_assert_cmpfloat (bl_polygon_area (b), ==, 60000);
  g_assert_cmpfloat_with_epsilon (bl_polygon_area (b) / 43560, 1.3774, 5e-5);
  g_assert_cmpfloat (bl_polygon_signed_area (b), <, 0);
  g_assert_cmpfloat (bl_polygon_perimeter (b), ==, 1000);
}

/* Far from the origin, as on a survey grid, no digit is lost. */
static void
test_far_away (void)
{
  static const double plain[][2] = { { 0, 0 }, { 4, 0 }, { 4, 3 }, { 0, 3 } };
  g_autoptr (BlPoints) ring = ring_of (plain, 4);
  BlPoint centre;

  for (guint i = 0; i < 4; i++)
    bl_points_at (ring, i) = bl_add (bl_points_at (ring, i), BL_POINT (450000, 5400000));
  centre = bl_polygon_centroid (ring);
  g_assert_cmpfloat (bl_polygon_area (ring), ==, 12);
  g_assert_cmpfloat (centre.x, ==, 450002);
  g_assert_cmpfloat (centre.y, ==, 5400001.5);
}

/* The 13-14-15 triangle has area 84 (Heron); its centroid is the mean of its corners. */
static void
test_triangle (void)
{
  static const double t[][2] = { { 0, 0 }, { 14, 0 }, { 5, 12 } };
  g_autoptr (BlPoints) ring = ring_of (t, 3);
  BlPoint c = bl_polygon_centroid (ring);
  guint segment = 9;
  BlPoint at = bl_polygon_nearest (ring, BL_POINT (7, -2), &segment);

  g_assert_cmpfloat (bl_polygon_area (ring), ==, 84);
  g_assert_cmpfloat (bl_polygon_perimeter (ring), ==, 42);
  g_assert_cmpfloat_with_epsilon (c.x, 19.0 / 3, 1e-12);
  g_assert_cmpfloat_with_epsilon (c.y, 4, 1e-12);
  g_assert_cmpuint (segment, ==, 0);
  g_assert_cmpfloat (at.x, ==, 7);
  /* The incircle's radius is area / half perimeter = 4; its centre is 4 from every side. */
  g_assert_cmpfloat_with_epsilon (bl_polygon_inside_distance (ring, BL_POINT (6, 4)), 4, 1e-12);
  g_assert_cmpfloat (bl_polygon_inside_distance (ring, BL_POINT (7, -2)), ==, -2);
}

static void
test_self_crossing (void)
{
  static const double bow[][2] = { { 0, 0 }, { 2, 2 }, { 2, 0 }, { 0, 2 } };
  static const double square[][2] = { { 0, 0 }, { 2, 0 }, { 2, 2 }, { 0, 2 } };
  static const double spike[][2] = { { 0, 0 }, { 4, 0 }, { 2, 0 }, { 2, 2 } };
  static const double twice[][2] = { { 0, 0 }, { 0, 0 }, { 2, 0 }, { 2, 2 }, { 2, 2 }, { 0, 2 } };
  static const double touch[][2] = { { 0, 0 }, { 4, 0 }, { 4, 4 }, { 2, 0 }, { 0, 4 } };
  g_autoptr (BlPoints) a = ring_of (bow, 4), b = ring_of (square, 4), c = ring_of (spike, 4);
  g_autoptr (BlPoints) d = ring_of (twice, 6), e = ring_of (touch, 5);
  guint i = 9, j = 9;

  g_assert_true (bl_polygon_self_crosses (a, &i, &j));
  g_assert_cmpuint (i, ==, 0);
  g_assert_cmpuint (j, ==, 2);
  g_assert_false (bl_polygon_self_crosses (b, NULL, NULL));
  g_assert_true (bl_polygon_self_crosses (c, NULL, NULL));
  g_assert_false (bl_polygon_self_crosses (d, NULL, NULL));
  g_assert_true (bl_polygon_self_crosses (e, &i, &j));
  g_assert_cmpuint (i, ==, 0);
}

/* Inside, for random stars, against the winding angle. */
static void
test_contains (void)
{
  BlRng rng = bl_rng (2);

  for (int round = 0; round < 200; round++)
    {
      g_autoptr (BlPoints) ring = bl_points_new ();
      guint n = 3 + bl_rng_int (&rng, 20);

      for (guint i = 0; i < n; i++)
        {
          double r = bl_rng_range (&rng, 1, 5), a = 2 * G_PI * i / n;

          bl_points_add (ring, BL_POINT (r * cos (a), r * sin (a)));
        }
      for (int k = 0; k < 50; k++)
        {
          BlPoint p = BL_POINT (bl_rng_range (&rng, -5, 5), bl_rng_range (&rng, -5, 5));
          double turn = 0;

          for (guint i = 0; i < n; i++)
            {
              BlPoint a = bl_sub (bl_points_at (ring, i), p);
              BlPoint b = bl_sub (bl_points_at (ring, (i + 1) % n), p);

              turn += atan2 (bl_cross (a, b), bl_dot (a, b));
            }
          g_assert_cmpint (bl_polygon_contains (ring, p), ==, fabs (turn) > G_PI);
        }
    }
}

static int
turn (BlPoint a, BlPoint b, BlPoint c)
{
  double cross = bl_cross (bl_sub (b, a), bl_sub (c, a));

  return (cross > 0) - (cross < 0);
}

static gboolean
lies_on (BlPoint a, BlPoint b, BlPoint p)
{
  return turn (a, b, p) == 0 && bl_dot (bl_sub (p, a), bl_sub (p, b)) <= 0;
}

/* Do edges @i < @j of a ring with whole coordinates meet: the definition, word for word. */
static gboolean
meet_by_definition (const BlPoints *ring, guint i, guint j)
{
  guint n = ring->len;
  BlPoint a = bl_points_at (ring, i), b = bl_points_at (ring, (i + 1) % n);
  BlPoint c = bl_points_at (ring, j), d = bl_points_at (ring, (j + 1) % n);

  if (j == i + 1)
    return turn (a, b, d) == 0 && bl_dot (bl_sub (b, a), bl_sub (d, b)) < 0;
  if (i == 0 && j == n - 1)
    return turn (c, d, b) == 0 && bl_dot (bl_sub (d, c), bl_sub (b, d)) < 0;
  return (turn (c, d, a) * turn (c, d, b) < 0 && turn (a, b, c) * turn (a, b, d) < 0)
         || lies_on (c, d, a) || lies_on (c, d, b) || lies_on (a, b, c) || lies_on (a, b, d);
}

/* Whole numbers, so that the definition is exact; no two neighbours are the same. */
static BlPoints *
grid_ring (BlRng *rng)
{
  BlPoints *ring = bl_points_new ();
  guint n = 3 + bl_rng_int (rng, 7);

  while (ring->len < n)
    {
      BlPoint p = BL_POINT (bl_rng_int (rng, 7), bl_rng_int (rng, 7));

      if ((ring->len == 0 || bl_dist (p, bl_points_at (ring, ring->len - 1)) > 0)
          && (ring->len + 1 < n || bl_dist (p, bl_points_at (ring, 0)) > 0))
        bl_points_add (ring, p);
    }
  return ring;
}

/* Every pair of edges of thousands of rings on a small grid, where touching is common. */
static void
test_every_pair (void)
{
  BlRng rng = bl_rng (4);

  for (int trial = 0; trial < 20000; trial++)
    {
      g_autoptr (BlPoints) ring = grid_ring (&rng);
      guint i = 0, j = 0, first = G_MAXUINT, second = G_MAXUINT;
      gboolean crosses = bl_polygon_self_crosses (ring, &i, &j);

      for (guint a = 0; a < ring->len && first == G_MAXUINT; a++)
        for (guint b = a + 1; b < ring->len && first == G_MAXUINT; b++)
          if (meet_by_definition (ring, a, b))
            {
              first = a;
              second = b;
            }
      g_assert_true (crosses == (first != G_MAXUINT));
      if (crosses)
        {
          g_assert_cmpuint (i, ==, first);
          g_assert_cmpuint (j, ==, second);
        }
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/polygon/area-by-coordinates", test_area_by_coordinates);
  g_test_add_func ("/polygon/far-away", test_far_away);
  g_test_add_func ("/polygon/triangle", test_triangle);
  g_test_add_func ("/polygon/self-crossing", test_self_crossing);
  g_test_add_func ("/polygon/every-pair", test_every_pair);
  g_test_add_func ("/polygon/contains", test_contains);
  return g_test_run ();
}
