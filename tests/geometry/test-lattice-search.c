/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lattice search against 10,000 random lattices, and its promises on random beds. */
#include "base/rng.h"
#include "geometry/lattice.h"
#include "geometry/outline.h"

typedef struct
{
  const char *name;
  double half[2]; /* of the shape, metres */
  double wobble;
  double spacing;
} Bed;

static BlRegion *
bed_of (BlRng *rng, const Bed *bed)
{
  BlPoints *points = bl_points_new ();
  g_autoptr (BlOutline) outline = bl_outline_new_take (points, FALSE);
  g_autoptr (BlPoints) ring = NULL;
  guint n = 9;

  for (guint i = 0; i < n; i++)
    {
      double t = 2 * G_PI * i / n, r = 1 + bl_rng_range (rng, -bed->wobble, bed->wobble);

      bl_points_add (points, BL_POINT (bed->half[0] * r * cos (t), bed->half[1] * r * sin (t)));
    }
  ring = bl_outline_flatten (outline, 0.005);
  return bl_region_new (ring, NULL);
}

static void
check_promises (const BlRegion *region, const BlLatticeRule *rule, const BlPoints *points)
{
  for (guint i = 0; i < points->len; i++)
    {
      BlPoint p = bl_points_at (points, i);

      g_assert_cmpfloat (bl_region_inside_distance (region, p), >=, rule->edge - 1.01e-6);
      for (guint j = 0; j < i; j++)
        g_assert_cmpfloat (bl_dist (p, bl_points_at (points, j)), >=, rule->spacing - 1e-9);
      for (guint k = 0; k < rule->n_avoid; k++)
        g_assert_cmpfloat (bl_dist (p, rule->avoid[k]), >=, rule->avoid_radius[k] - 2e-9);
      if (i > 0)
        g_assert_true (p.y <= bl_points_at (points, i - 1).y);
    }
}

/* The plain way: every point of a staggered lattice thrown at random, tested one by one. */
static guint
random_lattice (BlRng *rng, const BlRegion *inner, BlRect box, double s)
{
  double a = bl_rng_range (rng, 0, G_PI / 3), c = cos (a), d = sin (a);
  double gap = s * sqrt (0.75), x0 = bl_rng_range (rng, 0, s), y0 = bl_rng_range (rng, 0, 2 * gap);
  double reach = hypot (box.x1 - box.x0, box.y1 - box.y0);
  int n = (int) (reach / gap) + 1;
  guint count = 0;

  for (int row = -n; row <= n; row++)
    for (int k = -n; k <= n; k++)
      {
        double x = x0 + (k + (row & 1) / 2.0) * s, y = y0 + row * gap;
        BlPoint p = BL_POINT (x * c - y * d, x * d + y * c);

        if (p.x < box.x0 || p.x > box.x1 || p.y < box.y0 || p.y > box.y1)
          continue;
        count += bl_region_contains (inner, p) ? 1 : 0;
      }
  return count;
}

static void
test_against_random (void)
{
  static const Bed beds[] = {
    { "round, few", { 1.6, 1.4 }, 0.15, 0.6 },   { "round", { 3, 2.5 }, 0.2, 0.5 },
    { "long", { 6, 1.2 }, 0.15, 0.6 },           { "narrow", { 6, 0.7 }, 0.1, 0.5 },
    { "large", { 6, 4 }, 0.2, 0.45 },
  };
  BlRng rng = bl_rng (42);

  for (guint b = 0; b < G_N_ELEMENTS (beds); b++)
    {
      g_autoptr (BlRegion) region = bed_of (&rng, &beds[b]);
      double s = beds[b].spacing;
      BlLatticeRule rule = { .spacing = s, .edge = s / 2, .best = TRUE };
      g_autoptr (BlRegion) inner = bl_region_offset (region, -rule.edge, NULL);
      g_autoptr (BlPoints) points = bl_lattice_fill (region, &rule, NULL);
      BlRect box = bl_region_extent (inner);
      guint most = 0;

      check_promises (region, &rule, points);
      for (int i = 0; i < 10000; i++)
        {
          guint n = random_lattice (&rng, inner, box, rule.spacing);

          most = MAX (most, n);
        }
      g_test_message ("%s: %u, best of 10,000 random lattices %u, formula %.1f", beds[b].name,
                      points->len, most,
                      bl_lattice_formula_count (bl_region_area (region), rule.spacing, rule.kind));
      g_assert_cmpfloat (points->len, >=, 0.97 * most);
    }
}

/* Random beds, spacings, edges and plants already there: the promises hold, best is not fewer than
 * plain, and the same input gives the same points. */
static void
test_promises (void)
{
  BlRng rng = bl_rng (8);

  for (int round = 0; round < 120; round++)
    {
      Bed bed = { "", { bl_rng_range (&rng, 0.5, 5), bl_rng_range (&rng, 0.3, 4) },
                  bl_rng_range (&rng, 0, 0.3), bl_rng_range (&rng, 0.25, 0.9) };
      g_autoptr (BlRegion) region = bed_of (&rng, &bed);
      BlPoint avoid[6];
      double radius[6];
      BlLatticeRule rule = { .kind = round % 3 == 0 ? BL_LATTICE_SQUARE : BL_LATTICE_STAGGERED,
                             .spacing = bed.spacing,
                             .edge = round % 4 == 0 ? 0 : bl_rng_range (&rng, 0, 0.5),
                             .avoid = avoid,
                             .avoid_radius = radius,
                             .n_avoid = bl_rng_int (&rng, 7) };
      g_autoptr (BlPoints) plain = NULL, best = NULL, again = NULL;

      if (region == NULL)
        continue;
      for (guint i = 0; i < rule.n_avoid; i++)
        {
          avoid[i] = BL_POINT (bl_rng_range (&rng, -3, 3), bl_rng_range (&rng, -3, 3));
          radius[i] = bl_rng_range (&rng, 0, 1);
        }
      plain = bl_lattice_fill (region, &rule, NULL);
      rule.best = TRUE;
      best = bl_lattice_fill (region, &rule, NULL);
      again = bl_lattice_fill (region, &rule, NULL);
      check_promises (region, &rule, plain);
      check_promises (region, &rule, best);
      g_assert_cmpuint (best->len, >=, plain->len);
      g_assert_true (bl_points_equal (best, again));
    }
}

/* Never fewer than the square grid in narrow beds, whatever the direction of the bed. */
static void
test_narrow (void)
{
  BlRng rng = bl_rng (9);

  for (int round = 0; round < 60; round++)
    {
      double s = 0.5, a = bl_rng_range (&rng, 0, G_PI), length = bl_rng_range (&rng, 3, 9);
      double width = bl_rng_range (&rng, 0.5, 2.2);
      g_autoptr (BlPoints) ring = bl_points_new ();
      g_autoptr (BlRegion) region = NULL;
      BlPoint u = BL_POINT (length * cos (a), length * sin (a));
      BlPoint v = BL_POINT (-width * sin (a), width * cos (a));
      BlLatticeRule rule = { .spacing = s, .edge = s / 2, .best = TRUE };
      guint across = (guint) floor ((width - s) / s + 1e-9) + 1;
      guint along = (guint) floor ((length - s) / s + 1e-9) + 1;
      g_autoptr (BlPoints) points = NULL;

      bl_points_add (ring, BL_POINT (0, 0));
      bl_points_add (ring, u);
      bl_points_add (ring, bl_add (u, v));
      bl_points_add (ring, v);
      region = bl_region_new (ring, NULL);
      points = bl_lattice_fill (region, &rule, NULL);
      check_promises (region, &rule, points);
      g_assert_cmpuint (points->len, >=, across * along);
    }
}

/* A strip round a corner and a crescent: rows follow the bed. */
static void
test_curved_strip (void)
{
  g_autoptr (BlPoints) ring = bl_points_new ();
  g_autoptr (BlRegion) region = NULL;
  g_autoptr (BlPoints) points = NULL;
  double s = 0.5, middle = 4 * G_PI;
  BlLatticeRule rule = { .spacing = s, .edge = s / 2, .best = TRUE };

  for (int i = 0; i <= 60; i++)
    bl_points_add (ring, BL_POINT (4.3 * cos (G_PI * i / 60), 4.3 * sin (G_PI * i / 60)));
  for (int i = 60; i >= 0; i--)
    bl_points_add (ring, BL_POINT (3.7 * cos (G_PI * i / 60), 3.7 * sin (G_PI * i / 60)));
  region = bl_region_new (ring, NULL);
  points = bl_lattice_fill (region, &rule, NULL);
  check_promises (region, &rule, points);
  /* One plant for each spacing along the middle, less the half spacing kept at both ends. */
  g_test_message ("%u plants in a crescent %.2f m long", points->len, middle);
  g_assert_cmpuint (points->len, >=, (guint) ((middle - s) / s));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/lattice-search/random", test_against_random);
  g_test_add_func ("/lattice-search/promises", test_promises);
  g_test_add_func ("/lattice-search/narrow", test_narrow);
  g_test_add_func ("/lattice-search/curved-strip", test_curved_strip);
  return g_test_run ();
}
