/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How full a fill is: 200 irregular beds, concave and with stones in them, against the best of many
 * lattices thrown at random (as many as the first argument says; 10,000 as a benchmark); and narrow
 * beds against square grids. */
#include <stdio.h>
#include <stdlib.h>

#include "base/rng.h"
#include "scene.h"

#define BEDS 200

static guint tries = 40;

/* A star of a few arms or a wavy blob, sometimes stretched thin. */
static BlPoints *
odd_shape (BlRng *rng)
{
  BlPoints *points = bl_points_new ();
  guint n = 5 + bl_rng_int (rng, 9);
  double rx = bl_rng_range (rng, 0.9, 3), ry = bl_rng_range (rng, 0.7, 1.8);
  double wobble = bl_rng_range (rng, 0.05, 0.45);

  for (guint i = 0; i < n; i++)
    {
      double t = 2 * G_PI * i / n, r = 1 + bl_rng_range (rng, -wobble, wobble);

      bl_points_add (points, BL_POINT (rx * r * cos (t), ry * r * sin (t)));
    }
  return points;
}

static void
add_stone (BlRng *rng, BlModel *model)
{
  BlFeature *stone = bl_feature_new ();
  BlPoints *points = bl_points_new ();
  double x = bl_rng_range (rng, -1.5, 1.5), y = bl_rng_range (rng, -0.8, 0.8);
  double r = bl_rng_range (rng, 0.1, 0.35);

  for (int i = 0; i < 8; i++)
    bl_points_add (points, BL_POINT (x + r * cos (G_PI * i / 4), y + r * sin (G_PI * i / 4)));
  stone->id = model->features->len + 1;
  stone->kind = BL_FEATURE_STONE;
  stone->ground = bl_outline_new_take (points, TRUE);
  stone->outline = bl_outline_copy (stone->ground);
  g_ptr_array_add (model->features, stone);
}

/* The ground where a plant's centre may be: inside the line, off the stones, half a spread in. */
static BlRegion *
inner_of (const BlModel *model, double inset)
{
  const BlBed *bed = model->beds->pdata[0];
  BlRegion *free = bl_region_new (bed->ring, NULL), *inner;

  for (guint i = 0; free != NULL && i < model->features->len; i++)
    {
      const BlFeature *stone = model->features->pdata[i];
      g_autoptr (BlPoints) ring = bl_outline_flatten (stone->ground, 0.005);
      g_autoptr (BlRegion) solid = bl_region_new (ring, NULL);
      BlRegion *rest = bl_region_difference (free, solid, NULL);

      bl_region_free (free);
      free = rest;
    }
  inner = free != NULL ? bl_region_offset (free, -inset, NULL) : NULL;
  bl_region_free (free);
  return inner;
}

static int
compare_doubles (const void *a, const void *b)
{
  double p = *(const double *) a, q = *(const double *) b;

  return (p > q) - (p < q);
}

/* Points of the lattice turned by @angle that lie in the rings, by where each row enters and
 * leaves them. */
static guint
count_lattice (const GPtrArray *rings, double angle, double x0, double y0, double s, double gap,
               gboolean square)
{
  double c = cos (angle), d = sin (angle), low = INFINITY, high = -INFINITY;
  g_autoptr (GArray) at = g_array_new (FALSE, FALSE, sizeof (double));
  guint count = 0;

  for (guint r = 0; r < rings->len; r++)
    for (guint i = 0; i < ((BlPoints *) rings->pdata[r])->len; i++)
      {
        BlPoint p = bl_points_at ((BlPoints *) rings->pdata[r], i);

        low = MIN (low, p.y * c - p.x * d);
        high = MAX (high, p.y * c - p.x * d);
      }
  for (int row = (int) floor ((low - y0) / gap); y0 + row * gap <= high; row++)
    {
      double y = y0 + row * gap, shift = x0 + (square ? 0 : (row & 1) * s / 2);

      g_array_set_size (at, 0);
      for (guint r = 0; r < rings->len; r++)
        {
          const BlPoints *ring = rings->pdata[r];
          BlPoint b = bl_points_at (ring, ring->len - 1);
          double bx = b.x * c + b.y * d, by = b.y * c - b.x * d;

          for (guint i = 0; i < ring->len; i++)
            {
              BlPoint p = bl_points_at (ring, i);
              double ax = bx, ay = by, x;

              bx = p.x * c + p.y * d;
              by = p.y * c - p.x * d;
              if ((ay > y) == (by > y))
                continue;
              x = ax + (bx - ax) * (y - ay) / (by - ay);
              g_array_append_val (at, x);
            }
        }
      if (at->len > 1)
        qsort (at->data, at->len, sizeof (double), compare_doubles);
      for (guint i = 0; i + 1 < at->len; i += 2)
        {
          double first = ceil ((g_array_index (at, double, i) - shift) / s);
          double last = floor ((g_array_index (at, double, i + 1) - shift) / s);

          count += last >= first ? (guint) (last - first) + 1 : 0;
        }
    }
  return count;
}

/* Counted by rows as the plain way counts, point by point. */
static void
test_the_count_itself (void)
{
  BlRng rng = bl_rng (3);

  for (int round = 0; round < 40; round++)
    {
      g_autoptr (BlPoints) ring = bl_points_new ();
      g_autoptr (BlRegion) region = NULL;
      g_autoptr (GPtrArray) rings = NULL;
      double s = 0.4, gap = s * sqrt (0.75), angle = bl_rng_range (&rng, 0, G_PI);
      double x0 = bl_rng_range (&rng, 0, s), y0 = bl_rng_range (&rng, 0, 2 * gap);
      guint plain = 0;

      for (int i = 0; i < 9; i++)
        bl_points_add (ring, BL_POINT (2 * bl_rng_range (&rng, 0.6, 1.4) * cos (2 * G_PI * i / 9),
                                       bl_rng_range (&rng, 0.6, 1.4) * sin (2 * G_PI * i / 9)));
      region = bl_region_new (ring, NULL);
      rings = bl_region_rings (region);
      for (int row = -20; row <= 20; row++)
        for (int k = -20; k <= 20; k++)
          {
            double x = x0 + (k + (row & 1) / 2.0) * s, y = y0 + row * gap;

            plain += bl_region_contains (region, BL_POINT (x * cos (angle) - y * sin (angle),
                                                           x * sin (angle) + y * cos (angle)));
          }
      g_assert_cmpuint (count_lattice (rings, angle, x0, y0, s, gap, FALSE), ==, plain);
    }
}

static void
check_rule (const BlLayout *layout, const BlRegion *inner, double s)
{
  for (guint i = 0; i < layout->placed->len; i++)
    {
      BlPoint p = g_array_index (layout->placed, BlPlaced, i).at;

      g_assert_cmpfloat (bl_region_inside_distance (inner, p), >=, -1e-5);
      for (guint k = 0; k < i; k++)
        g_assert_cmpfloat (bl_dist (p, g_array_index (layout->placed, BlPlaced, k).at), >=,
                           s - 1e-9);
    }
}

static void
test_odd_beds (void)
{
  BlRng rng = bl_rng (200);
  double worst = INFINITY, sum = 0;
  guint beds = 0, fewer = 0;

  while (beds < BEDS)
    {
      g_autoptr (BlModel) model = scene_new ();
      g_autoptr (BlLayout) layout = NULL;
      g_autoptr (BlRegion) inner = NULL;
      g_autoptr (GPtrArray) rings = NULL;
      BlPoints *shape = odd_shape (&rng);
      double s = bl_rng_range (&rng, 0.22, 0.5), gap = s * sqrt (0.75), share;
      guint most = 0;

      scene_bed (model, "Bed", shape, FALSE);
      for (guint stones = bl_rng_int (&rng, 4); stones > 0; stones--)
        add_stone (&rng, model);
      inner = inner_of (model, s / 2);
      if (inner == NULL || bl_region_area (inner) < 4 * s * s)
        continue;
      beds++;
      rings = bl_region_rings (inner);
      scene_plant (model, "salvia-nemorosa", BL_TYPE_PERENNIAL, s, s);
      scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_FILL, NULL);
      layout = bl_layout_compute (model, 1);
      check_rule (layout, inner, s);
      for (guint i = 0; i < tries; i++)
        most = MAX (most, count_lattice (rings, bl_rng_range (&rng, 0, G_PI / 3),
                                         bl_rng_range (&rng, 0, s),
                                         bl_rng_range (&rng, 0, 2 * gap), s, gap, FALSE));
      share = most > 0 ? (double) layout->placed->len / most : 1;
      worst = MIN (worst, share);
      sum += share;
      fewer += layout->placed->len < most;
      g_assert_cmpfloat (share, >=, 0.97);
    }
  g_test_message ("%u beds, best of %u random lattices each: %.3f of it at worst, %.3f on average, "
                  "%u beds below it", beds, tries, worst, sum / beds, fewer);
}

/* Beds one to three spacings wide, bent and uneven, in any direction: never fewer than a square
 * grid along the bed. */
static void
test_narrow_beds (void)
{
  BlRng rng = bl_rng (201);

  for (int round = 0; round < 60; round++)
    {
      g_autoptr (BlModel) model = scene_new ();
      g_autoptr (BlLayout) layout = NULL;
      g_autoptr (BlRegion) inner = NULL;
      g_autoptr (GPtrArray) rings = NULL;
      BlPoints *shape = bl_points_new ();
      double s = 0.4, turn = bl_rng_range (&rng, 0, G_PI), width = bl_rng_range (&rng, 0.5, 1.3);
      double bend = bl_rng_range (&rng, -0.15, 0.15);
      guint most = 0;

      for (int i = 0; i <= 12; i++)
        {
          int k = i <= 6 ? i : 12 - i;
          double x = k - 3, y = bend * x * x + (i <= 6 ? -1 : 1) * width
                                                 * bl_rng_range (&rng, 0.45, 0.55);

          bl_points_add (shape, BL_POINT (x * cos (turn) - y * sin (turn),
                                          x * sin (turn) + y * cos (turn)));
        }
      scene_bed (model, "Bed", shape, TRUE);
      inner = inner_of (model, s / 2);
      if (inner == NULL || bl_region_is_empty (inner))
        continue;
      rings = bl_region_rings (inner);
      scene_plant (model, "salvia-nemorosa", BL_TYPE_PERENNIAL, s, s);
      scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_FILL, NULL);
      layout = bl_layout_compute (model, 1);
      check_rule (layout, inner, s);
      for (guint i = 0; i < MAX (tries, 400); i++)
        most = MAX (most, count_lattice (rings, turn, bl_rng_range (&rng, 0, s),
                                         bl_rng_range (&rng, 0, s), s, s, TRUE));
      g_assert_cmpuint (layout->placed->len, >=, most);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  if (argc > 1)
    tries = (guint) CLAMP (atoi (argv[1]), 1, 1000000);
  g_test_add_func ("/packing/count", test_the_count_itself);
  g_test_add_func ("/packing/odd-beds", test_odd_beds);
  g_test_add_func ("/packing/narrow-beds", test_narrow_beds);
  return g_test_run ();
}
