/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a fill takes, beside a floor: one plain pass over the grid points of the same bed. It fails
 * where a fill takes several times the passes it is known to take. */
#include "bench.h"

#include "base/rng.h"
#include "geometry/lattice.h"
#include "geometry/outline.h"

static BlRegion *
bed_of (double radius)
{
  BlRng rng = bl_rng (1);
  BlPoints *points = bl_points_new ();
  g_autoptr (BlOutline) outline = bl_outline_new_take (points, FALSE);
  g_autoptr (BlPoints) ring = NULL;

  for (int i = 0; i < 14; i++)
    {
      double t = 2 * G_PI * i / 14, r = radius * bl_rng_range (&rng, 0.75, 1.25);

      bl_points_add (points, BL_POINT (1.5 * r * cos (t), r * sin (t)));
    }
  ring = bl_outline_flatten (outline, 0.002);
  return bl_region_new (ring, NULL);
}

/* One lattice at one angle and offset, every point asked for its distance from the boundary. */
static guint
plain_pass (const BlRegion *region, double s)
{
  BlRect box = bl_region_extent (region);
  double gap = s * sqrt (0.75);
  guint count = 0;
  int row = 0;

  for (double y = box.y0; y <= box.y1; y += gap, row++)
    for (double x = box.x0 + (row & 1) * s / 2; x <= box.x1; x += s)
      count += bl_region_inside_distance (region, BL_POINT (x, y)) >= s / 2 ? 1 : 0;
  return count;
}

static gboolean
measure (const char *name, double radius, gboolean best, double most)
{
  g_autoptr (BlRegion) region = bed_of (radius);
  BlLatticeRule rule = { .spacing = 0.4, .edge = 0.2, .best = best };
  double fastest = INFINITY, floor_ms = INFINITY;
  guint n = 0, plain = 0;

  for (int round = 0; round < 5; round++)
    {
      double start = bench_now_ms ();
      g_autoptr (BlPoints) points = bl_lattice_fill (region, &rule, NULL);

      n = points->len;
      fastest = MIN (fastest, bench_now_ms () - start);
      start = bench_now_ms ();
      plain = plain_pass (region, rule.spacing);
      floor_ms = MIN (floor_ms, bench_now_ms () - start);
    }
  printf ("%-26s %6u plants %9.2f ms; one plain pass %6u plants %8.2f ms, %.2f passes (at most %g)\n", name, n,
          fastest, plain, floor_ms, fastest / floor_ms, most);
  return fastest <= most * floor_ms;
}

int
main (void)
{
  gboolean held = measure ("300 plants, while dragging", 2.75, FALSE, 1.5);

  held &= measure ("300 plants, best", 2.75, TRUE, 60);
  held &= measure ("1,000 plants, dragging", 4.95, FALSE, 0.6);
  held &= measure ("1,000 plants, best", 4.95, TRUE, 20);
  held &= measure ("10,000 plants, dragging", 15.5, FALSE, 0.15);
  held &= measure ("10,000 plants, best", 15.5, TRUE, 2.5);
  return held ? 0 : 1;
}
