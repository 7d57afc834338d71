/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting out: rounded tapes put every plant and corner back, found by an intersection of the test's own. */
#include <math.h>

#include "base/rng.h"
#include "base/say.h"
#include "geometry/polygon.h"
#include "proposal/months.h"
#include "proposal/scale.h"
#include "proposal/setout.h"

/* Newton's method on the two distances: independent of the closed form that the library uses. */
static BlPoint
meet (BlPoint a, double ra, BlPoint b, double rb, BlPoint near)
{
  BlPoint p = near;

  for (int i = 0; i < 40; i++)
    {
      double da = bl_dist (a, p), db = bl_dist (b, p);
      double ax = (p.x - a.x) / da, ay = (p.y - a.y) / da;
      double bx = (p.x - b.x) / db, by = (p.y - b.y) / db;
      double det = ax * by - ay * bx;

      p.x -= ((da - ra) * by - (db - rb) * ay) / det;
      p.y -= ((db - rb) * ax - (da - ra) * bx) / det;
    }
  return p;
}

static BlPlant *
fake_plant (const char *slug, double height)
{
  BlPlant *plant = g_new0 (BlPlant, 1);

  plant->slug = (char *) slug;
  plant->height = height;
  return plant;
}

/* A drift that hangs over the bed line on one side. */
static void
add_drift (BlRng *rng, BlModel *model, BlPoint middle, double length, double width, double turn)
{
  BlPlanting *drift = bl_planting_new ();
  double across = bl_rng_range (rng, -0.2, 0.2) * length;

  drift->id = 1;
  drift->alternative_id = 1;
  drift->bed_id = 1;
  drift->slug = g_strdup ("tall");
  drift->form = BL_PLANTING_DRIFT;
  drift->shape = bl_outline_new ();
  for (int i = 0; i < 7; i++)
    {
      double t = i * 2 * G_PI / 7, r = bl_rng_range (rng, 0.7, 1.0);
      double x = across + cos (t) * r * length * 0.25, y = width * 0.3 + sin (t) * r * width * 0.45;

      bl_points_add (drift->shape->points,
                     BL_POINT (middle.x + x * cos (turn) - y * sin (turn),
                               middle.y + x * sin (turn) + y * cos (turn)));
    }
  g_ptr_array_add (model->plantings, drift);
}

static BlLayout *
random_layout (BlRng *rng, BlModel *model, BlPlant **plants, gboolean posts)
{
  BlLayout *layout = g_new0 (BlLayout, 1);
  BlBed *bed = bl_bed_new ();
  double length = bl_rng_range (rng, 3, 14), width = bl_rng_range (rng, 1, 4);
  BlPoint corner = { bl_rng_range (rng, -5, 5), bl_rng_range (rng, 2, 12) };
  double turn = bl_rng_range (rng, 0, G_PI);

  bed->id = 1;
  bed->ring = bl_points_new ();
  for (int i = 0; i < 64; i++)
    {
      double t = i * 2 * G_PI / 64, x = cos (t) * length / 2, y = sin (t) * width / 2;

      bl_points_add (bed->ring, BL_POINT (corner.x + x * cos (turn) - y * sin (turn),
                                          corner.y + x * sin (turn) + y * cos (turn)));
    }
  g_ptr_array_add (model->beds, bed);
  for (int i = 0; posts && i < 2; i++)
    {
      BlFeature *feature = bl_feature_new ();

      feature->kind = BL_FEATURE_POST;
      feature->name = g_strdup_printf ("post %d", i + 1);
      feature->ground = bl_outline_new ();
      bl_points_add (feature->ground->points,
                     BL_POINT (corner.x + (i * 2 - 1) * bl_rng_range (rng, 2, 9),
                               corner.y - bl_rng_range (rng, 2, 6)));
      g_ptr_array_add (model->features, feature);
    }
  bed->ground = bl_outline_new ();
  for (guint i = 0; i < bed->ring->len; i += 4)
    bl_points_add (bed->ground->points, bl_points_at (bed->ring, i));
  add_drift (rng, model, corner, length, width, turn);
  layout->model = model;
  layout->alternative_id = 1;
  layout->placed = g_array_new (FALSE, TRUE, sizeof (BlPlaced));
  for (guint i = 0; i < 30; i++)
    {
      double t = bl_rng_range (rng, 0, 2 * G_PI), r = sqrt (bl_rng_unit (rng)) * 0.95;
      double x = cos (t) * r * length / 2, y = sin (t) * r * width / 2;
      BlPlaced placed
          = { .planting_id = 1 + i % 3, .bed_id = 1, .plant = plants[i % 3], .index = i };

      placed.at = BL_POINT (corner.x + x * cos (turn) - y * sin (turn),
                            corner.y + x * sin (turn) + y * cos (turn));
      g_array_append_val (layout->placed, placed);
    }
  return layout;
}

static void
check_tapes (const BlSetout *setout, const GArray *rows)
{
  for (guint i = 0; i < rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (rows, BlSetoutRow, i);
      BlPoint a = g_array_index (setout->fixed, BlFixedPoint, row->a).at;
      BlPoint b = g_array_index (setout->fixed, BlFixedPoint, row->b).at;
      double steps = row->from_a / setout->unit;

      g_assert_cmpfloat (fabs (steps - round (steps)), <, 1e-6);
      g_assert_cmpfloat (bl_dist (meet (a, row->from_a, b, row->from_b, row->at), row->at), <, 0.02);
      g_assert_true ((bl_cross (bl_sub (b, a), bl_sub (row->at, a)) > 0) == row->left);
    }
}

/* Each plant once at its place; each traced corner in the bed, and no corner without an outline. */
static void
check_places (const BlSetout *setout, const BlLayout *layout)
{
  const BlBed *bed = layout->model->beds->pdata[0];
  const BlPlanting *drift = layout->model->plantings->pdata[0];
  g_autoptr (BlPoints) ring = bl_outline_flatten (drift->shape, 0.0005);
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  guint n_drift = 0, n_bed = 0;

  g_assert_cmpuint (setout->rows->len, ==, layout->placed->len);
  for (guint i = 0; i < setout->rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);

      g_assert_true (g_hash_table_add (seen, GUINT_TO_POINTER (row->placed + 1)));
      g_assert_cmpfloat (
          bl_dist (row->at, g_array_index (layout->placed, BlPlaced, row->placed).at), <, 1e-12);
    }
  for (guint i = 0; i < setout->corners->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->corners, BlSetoutRow, i);
      const BlPoints *line = row->planting_id == 1 ? ring : bed->ring;

      n_drift += row->planting_id == 1;
      n_bed += row->planting_id == 0;
      g_assert_cmpfloat (bl_dist (bl_polygon_nearest (line, row->at, NULL), row->at), <, 0.012);
      g_assert_cmpfloat (bl_polygon_inside_distance (bed->ring, row->at), >, -1e-6);
    }
  g_assert_cmpuint (n_bed, >=, 8);
  g_assert_cmpuint (n_drift, >=, 4);
}

/* Along the baseline, then square off it: Euclid's own construction puts everything back. */
static void
check_offsets (const BlSetout *setout)
{
  g_assert_cmpuint (setout->offsets->len, ==, setout->rows->len + setout->corners->len);
  for (guint i = 0; i < setout->offsets->len; i++)
    {
      const BlOffsetRow *offset = &g_array_index (setout->offsets, BlOffsetRow, i);
      const GArray *rows = offset->corner ? setout->corners : setout->rows;
      BlPoint at = g_array_index (rows, BlSetoutRow, offset->row).at;
      BlPoint a = g_array_index (setout->fixed, BlFixedPoint, offset->a).at;
      BlPoint b = g_array_index (setout->fixed, BlFixedPoint, offset->b).at;
      double turn = atan2 (b.y - a.y, b.x - a.x), side = offset->left ? 1 : -1;
      BlPoint back = { a.x + offset->along * cos (turn) - side * offset->off * sin (turn),
                       a.y + offset->along * sin (turn) + side * offset->off * cos (turn) };

      g_assert_cmpfloat (offset->off, >=, 0);
      g_assert_cmpfloat (bl_dist (back, at), <, 0.02);
    }
}

static void
test_puts_everything_back (void)
{
  BlPlant *plants[] = { fake_plant ("tall", 2), fake_plant ("middle", 1), fake_plant ("low", 0.3) };
  BlRng rng = bl_rng (20260512);

  for (int trial = 0; trial < 50; trial++)
    {
      g_autoptr (BlModel) model = bl_model_new ();
      BlLayout *layout = random_layout (&rng, model, plants, trial % 2 == 0);
      g_autoptr (GError) error = NULL;
      g_autoptr (BlSetout) setout
          = bl_setout_compute (layout, trial % 3 == 0 ? BL_UNITS_METRES : BL_UNITS_FEET, &error);

      g_assert_no_error (error);
      check_tapes (setout, setout->rows);
      check_tapes (setout, setout->corners);
      check_places (setout, layout);
      check_offsets (setout);
      g_array_unref (layout->placed);
      g_free (layout);
    }
  for (guint i = 0; i < G_N_ELEMENTS (plants); i++)
    g_free (plants[i]);
}

static void
test_orders_tall_to_low (void)
{
  BlPlant *plants[] = { fake_plant ("low", 0.3), fake_plant ("tall", 2), fake_plant ("middle", 1) };
  BlRng rng = bl_rng (7);
  g_autoptr (BlModel) model = bl_model_new ();
  BlLayout *layout = random_layout (&rng, model, plants, TRUE);
  g_autoptr (GArray) order = bl_setout_order (layout);

  for (guint i = 1; i < order->len; i++)
    {
      const BlPlaced *p
          = &g_array_index (layout->placed, BlPlaced, g_array_index (order, guint, i - 1));
      const BlPlaced *q
          = &g_array_index (layout->placed, BlPlaced, g_array_index (order, guint, i));

      g_assert_cmpfloat (p->plant->height, >=, q->plant->height);
      if (p->planting_id == q->planting_id)
        g_assert_cmpfloat (p->at.y, >=, q->at.y);
    }
  g_array_unref (layout->placed);
  g_free (layout);
  for (guint i = 0; i < G_N_ELEMENTS (plants); i++)
    g_free (plants[i]);
}

static void
test_nothing_to_set_out (void)
{
  g_autoptr (BlModel) model = bl_model_new ();
  BlLayout layout = { .model = model };
  g_autoptr (GError) error = NULL;

  layout.placed = g_array_new (FALSE, TRUE, sizeof (BlPlaced));
  g_assert_null (bl_setout_compute (&layout, BL_UNITS_FEET, &error));
  g_assert_nonnull (error);
  g_array_unref (layout.placed);
}

/* Points per unit at each scale: ISO 5455 ratios and the architect's and engineer's scales, as
 * computed in the table of check values for PDF scales (72 points an inch by PDF 32000-1). */
static void
test_scales (void)
{
  struct { double metres; BlUnits units; double points; double ratio; double per_unit; } cases[] = {
    { 6, BL_UNITS_FEET, 400, 48, 18.0 / 0.3048 },   /* 1/4" = 1'-0": 18 points a foot */
    { 12, BL_UNITS_FEET, 400, 96, 9.0 / 0.3048 },   /* 1/8" = 1'-0": 9 points a foot */
    { 16, BL_UNITS_FEET, 400, 120, 7.2 / 0.3048 },  /* 1" = 10': 7.2 points a foot */
    { 32, BL_UNITS_FEET, 400, 240, 3.6 / 0.3048 },  /* 1" = 20': 3.6 points a foot */
    { 7, BL_UNITS_METRES, 400, 50, 56.693 },        /* 1:50, 20 mm a metre */
    { 14, BL_UNITS_METRES, 400, 100, 28.346 },
    { 28, BL_UNITS_METRES, 400, 200, 14.173 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      BlScale scale = bl_scale_choose (cases[i].metres, 1, cases[i].points, 400, cases[i].units);

      g_assert_cmpfloat_with_epsilon (scale.ratio, cases[i].ratio, 1e-9);
      g_assert_cmpfloat_with_epsilon (bl_scale_points_per_metre (scale), cases[i].per_unit, 1e-3);
    }
}

static void
test_words (void)
{
  g_assert_cmpstr (bl_say ("es", "Estimate"), ==, "Presupuesto");
  g_assert_cmpstr (bl_say ("en", "Estimate"), ==, "Estimate");
  g_assert_cmpstr (bl_month_name ("es", 8, FALSE), ==, "agosto");
  g_assert_cmpstr (bl_month_name ("es", 5, TRUE), ==, "may");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/proposal/setout/puts-everything-back", test_puts_everything_back);
  g_test_add_func ("/proposal/setout/orders-tall-to-low", test_orders_tall_to_low);
  g_test_add_func ("/proposal/setout/nothing", test_nothing_to_set_out);
  g_test_add_func ("/proposal/scales", test_scales);
  g_test_add_func ("/proposal/words", test_words);
  return g_test_run ();
}
