/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every layout promises, on random designs: spacing kept, bed line kept, the same twice, and a
 * fill as full as the best of many random lattices. */
#include "base/rng.h"
#include "scene.h"

static BlPoints *
blob (BlRng *rng, double x, double y, double rx, double ry, guint n)
{
  BlPoints *points = bl_points_new ();

  for (guint i = 0; i < n; i++)
    {
      double t = 2 * G_PI * i / n, r = bl_rng_range (rng, 0.8, 1.2);

      bl_points_add (points, BL_POINT (x + rx * r * cos (t), y + ry * r * sin (t)));
    }
  return points;
}

static BlModel *
random_design (BlRng *rng)
{
  static const char *const slugs[] = { "salvia-nemorosa", "carex-flacca", "cornus-sericea",
                                       "amelanchier-laevis" };
  static const BlPlantType types[] = { BL_TYPE_PERENNIAL, BL_TYPE_GRASS, BL_TYPE_SHRUB,
                                       BL_TYPE_TREE };
  BlModel *model = scene_new ();
  guint n = 2 + bl_rng_int (rng, 6);

  scene_bed (model, "Bed", blob (rng, 0, 0, 5, 2.5, 9), FALSE);
  for (guint i = 0; i < 4; i++)
    {
      double spacing = bl_rng_range (rng, 0.25, 0.8) * (i >= 2 ? 2 : 1);

      scene_plant (model, slugs[i], types[i], spacing * bl_rng_range (rng, 0.8, 1.3), spacing);
    }
  for (guint i = 0; i < n; i++)
    {
      BlPlantingForm form = (BlPlantingForm) bl_rng_int (rng, 4);
      double x = bl_rng_range (rng, -4, 4), y = bl_rng_range (rng, -2, 2);
      BlPoints *shape = NULL;
      BlPlanting *planting;

      if (form == BL_PLANTING_DRIFT)
        shape = blob (rng, x, y, bl_rng_range (rng, 0.5, 2), bl_rng_range (rng, 0.5, 1.5), 7);
      else if (form != BL_PLANTING_FILL)
        shape = scene_point (x, y);
      if (form == BL_PLANTING_ROW)
        bl_points_add (shape, BL_POINT (-x, y));
      planting = scene_planting (model, 1, slugs[bl_rng_int (rng, 4)], form, shape);
      planting->square = bl_rng_int (rng, 3) == 0;
    }
  return model;
}

static void
check_bed_line (const BlLayout *layout)
{
  const BlBed *bed = layout->model->beds->pdata[0];

  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *p = &g_array_index (layout->placed, BlPlaced, i);

      if (p->form == BL_PLANTING_DRIFT || p->form == BL_PLANTING_FILL)
        g_assert_cmpfloat (bl_polygon_inside_distance (bed->ring, p->at), >=,
                           p->plant->spread / 2 * 0.998 - 1e-5);
    }
}

/* Plants of areas keep half of each one's spacing from any other, their own whole spacing from
 * their own kind. */
static void
check_spacing (const BlLayout *layout)
{
  for (guint i = 0; i < layout->placed->len; i++)
    for (guint k = 0; k < i; k++)
      {
        const BlPlaced *p = &g_array_index (layout->placed, BlPlaced, i);
        const BlPlaced *q = &g_array_index (layout->placed, BlPlaced, k);
        double a = bl_layout_part (layout, p->planting_id)->spacing;
        double b = bl_layout_part (layout, q->planting_id)->spacing;
        double gap = bl_dist (p->at, q->at);
        gboolean drawn_p = p->form == BL_PLANTING_SPECIMEN || p->form == BL_PLANTING_ROW;
        gboolean drawn_q = q->form == BL_PLANTING_SPECIMEN || q->form == BL_PLANTING_ROW;

        if (p->planting_id == q->planting_id)
          g_assert_cmpfloat (gap, >=, a - 1e-6);
        else if (!drawn_p && !drawn_q)
          g_assert_cmpfloat (gap, >=, (a + b) / 2 - 1e-6);
        else if (drawn_p != drawn_q)
          {
            const BlPlant *plant = drawn_p ? p->plant : q->plant;
            double claim = plant->spread / 2;

            if (plant->type == BL_TYPE_TREE)
              claim = MIN (claim, 0.6);
            g_assert_cmpfloat (gap, >=, claim + (drawn_p ? b : a) / 2 - 1e-6);
          }
      }
}

static void
test_random (void)
{
  BlRng rng = bl_rng (21);

  for (int round = 0; round < 60; round++)
    {
      g_autoptr (BlModel) model = random_design (&rng);
      g_autoptr (BlLayout) a = bl_layout_compute (model, 1), b = bl_layout_compute (model, 1);
      g_autoptr (BlLayout) c = bl_layout_compute_after (model, 1, a);
      g_autoptr (BlLayout) d = bl_layout_follow (model, 1, a);

      check_bed_line (a);
      check_spacing (a);
      check_spacing (d);
      g_assert_cmpuint (a->placed->len, ==, b->placed->len);
      g_assert_cmpuint (a->placed->len, ==, c->placed->len);
      g_assert_cmpuint (d->placed->len, >=, a->placed->len);
      for (guint i = 0; i < a->placed->len; i++)
        {
          const BlPlaced *p = &g_array_index (a->placed, BlPlaced, i);

          g_assert_cmpfloat (bl_dist (p->at, g_array_index (b->placed, BlPlaced, i).at), ==, 0);
          g_assert_cmpfloat (bl_dist (p->at, g_array_index (c->placed, BlPlaced, i).at), ==, 0);
          g_assert_cmpuint (p->seed, ==, g_array_index (b->placed, BlPlaced, i).seed);
          if (i > 0)
            g_assert_cmpint (p->planting_id, >=,
                             g_array_index (a->placed, BlPlaced, i - 1).planting_id);
        }
    }
}

/* A whole bed as one fill holds at least 97 % of the best of 10,000 random staggered lattices. */
static void
test_full (void)
{
  BlRng rng = bl_rng (33);

  for (int round = 0; round < 3; round++)
    {
      g_autoptr (BlModel) model = scene_new ();
      g_autoptr (BlLayout) layout = NULL;
      g_autoptr (BlRegion) bed = NULL, inner = NULL;
      double s = bl_rng_range (&rng, 0.35, 0.6), gap = s * sqrt (0.75);
      guint most = 0;

      scene_bed (model, "Bed", blob (&rng, 0, 0, 4, 1.5 + round, 9), FALSE);
      scene_plant (model, "salvia-nemorosa", BL_TYPE_PERENNIAL, s, s);
      scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_FILL, NULL);
      layout = bl_layout_compute (model, 1);
      bed = bl_region_new (((BlBed *) model->beds->pdata[0])->ring, NULL);
      inner = bl_region_offset (bed, -s / 2, NULL);
      for (int i = 0; i < 10000; i++)
        {
          double t = bl_rng_range (&rng, 0, G_PI / 3), c = cos (t), d = sin (t);
          double x0 = bl_rng_range (&rng, 0, s), y0 = bl_rng_range (&rng, 0, 2 * gap);
          int n = (int) (7 / gap);
          guint count = 0;

          for (int row = -n; row <= n; row++)
            for (int k = -n; k <= n; k++)
              {
                double x = x0 + (k + (row & 1) / 2.0) * s, y = y0 + row * gap;
                BlPoint p = BL_POINT (x * c - y * d, x * d + y * c);

                if (fabs (p.x) < 5 && fabs (p.y) < 4.5)
                  count += bl_region_contains (inner, p) ? 1 : 0;
              }
          most = MAX (most, count);
        }
      g_test_message ("%u plants, best random lattice %u", layout->placed->len, most);
      g_assert_cmpfloat (layout->placed->len, >=, 0.97 * most);
    }
}

/* No plant of the fill finds room any more: no point of a fine grid within the bed keeps the rule's
 * distances from every plant. */
static void
test_no_pocket_left (void)
{
  BlRng rng = bl_rng (77);

  for (int round = 0; round < 20; round++)
    {
      g_autoptr (BlModel) model = scene_new ();
      g_autoptr (BlLayout) layout = NULL;
      const BlBed *bed;
      double s = bl_rng_range (&rng, 0.25, 0.5);

      bed = scene_bed (model, "Bed", blob (&rng, 0, 0, 3, 1.6, 9), FALSE);
      scene_plant (model, "salvia-nemorosa", BL_TYPE_PERENNIAL, 0.5, 0.45);
      scene_plant (model, "carex-flacca", BL_TYPE_GRASS, s, s);
      for (int i = 0; i < 3; i++)
        scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_DRIFT,
                        blob (&rng, i * 1.7 - 1.7, 0, 0.8, 1.1, 7));
      scene_planting (model, 1, "carex-flacca", BL_PLANTING_FILL, NULL);
      layout = bl_layout_compute (model, 1);
      check_spacing (layout);
      check_bed_line (layout);
      for (double x = -4; x < 4; x += 0.07)
        for (double y = -2.2; y < 2.2; y += 0.07)
          {
            gboolean room = bl_polygon_inside_distance (bed->ring, BL_POINT (x, y)) >= s / 2;

            /* A tenth of the spacing is the grid's own coarseness. */
            for (guint i = 0; room && i < layout->placed->len; i++)
              {
                const BlPlaced *p = &g_array_index (layout->placed, BlPlaced, i);
                double other = bl_layout_part (layout, p->planting_id)->spacing;

                room = bl_dist (p->at, BL_POINT (x, y)) >= (s + other) / 2 + 0.1 * s;
              }
            g_assert_false (room);
          }
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/layout-promises/random", test_random);
  g_test_add_func ("/layout-promises/full", test_full);
  g_test_add_func ("/layout-promises/no-pocket-left", test_no_pocket_left);
  return g_test_run ();
}
