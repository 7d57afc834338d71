/* SPDX-License-Identifier: GPL-3.0-or-later */
/* 10,000 random estimates: the total is the sum of what is shown, each amount its quantity times
 * its rate, and the range holds the total. */
#include <string.h>

#include "base/rng.h"
#include "job.h"

static void
random_rules (BlRng *rng, BlPriceRules *rules)
{
  rules->labour_rate = (gint64) bl_rng_int (rng, 20000);
  rules->overhead_method = (BlOverheadMethod) bl_rng_int (rng, 4);
  rules->overhead = rules->overhead_method == BL_OVERHEAD_PER_HOUR ? bl_rng_range (rng, 0, 5000)
                                                                  : bl_rng_range (rng, 0, 0.5);
  rules->use_margin = bl_rng_int (rng, 2) == 0;
  rules->profit = bl_rng_range (rng, 0, 0.6);
  rules->contingency = bl_rng_range (rng, 0, 0.2);
  rules->discount = bl_rng_range (rng, 0, 0.2);
  rules->warranty = bl_rng_range (rng, 0, 0.1);
  rules->minimum = bl_rng_int (rng, 3) == 0 ? (gint64) bl_rng_int (rng, 1000000) : 0;
  rules->tax_rate = bl_rng_range (rng, 0, 0.12);
  rules->tax_base = (BlTaxBase) bl_rng_int (rng, 4);
  rules->deposit = bl_rng_range (rng, 0, 0.5);
  rules->deposit_cap = bl_rng_int (rng, 2) == 0 ? 100000 : 0;
}

/* Quantities of any size straight into the take-off. */
static void
random_quantities (BlRng *rng, BlTakeoff *takeoff, BlModel *model)
{
  static const char *const units[] = { "m3", "m2", "m", "each", "bag" };
  BlPlant *plant = bl_model_plant (model, "ilex-verticillata");

  for (guint i = bl_rng_int (rng, 6); i > 0; i--)
    {
      g_autofree char *key = g_strdup_printf ("goods-%u", i);
      const char *unit = units[bl_rng_int (rng, G_N_ELEMENTS (units))];
      BlMaterial material = { .key = g_strdup (key), .name = g_strdup (key),
                              .unit = g_strdup (unit), .quantity = bl_rng_range (rng, 0, 80),
                              .sd = bl_rng_range (rng, 0, 2), .how = g_strdup ("") };

      job_price (model, key, BL_PRICE_MATERIAL, unit, (gint64) bl_rng_int (rng, 9000),
                 bl_rng_range (rng, 0, 2));
      material.order = bl_material_order (model->prices, key, unit, material.quantity);
      g_array_append_val (takeoff->materials, material);
    }
  for (guint i = bl_rng_int (rng, 5); i > 0; i--)
    {
      BlWork work = { .bed_id = 1, .key = g_strdup_printf ("work-%u", i), .name = g_strdup ("work"),
                      .units = 1, .unit = g_strdup (units[bl_rng_int (rng, 4)]),
                      .hours = bl_rng_range (rng, 0, 40), .how = g_strdup ("") };

      g_array_append_val (takeoff->work, work);
    }
  for (guint i = bl_rng_int (rng, 3); i > 0; i--)
    {
      BlPlantCount count = { .bed_id = 1, .plant = plant, .size = i == 1 ? "#1" : "plug",
                             .count = bl_rng_int (rng, 400), .rule = g_strdup ("") };

      count.order = count.count + (count.reserve = bl_rng_int (rng, 9));
      g_array_append_val (takeoff->counts, count);
    }
  takeoff->area = (BlMeasured) { bl_rng_range (rng, 5, 100), bl_rng_range (rng, 0, 2) };
}

static void
check (const BlEstimate *estimate)
{
  gint64 sum = 0, sections[BL_SECTION_N] = { 0 };
  BlSection section = BL_SECTION_PLANTS;

  for (guint i = 0; i < estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (estimate->lines, BlEstimateLine, i);

      sum += line->amount;
      sections[line->section] += line->amount;
      g_assert_cmpint (line->section, >=, section);
      section = line->section;
      if (line->section < BL_SECTION_ADJUST)
        {
          g_autofree char *shown = g_strdup_printf ("%.2f", line->quantity);

          g_assert_cmpint (line->amount, ==,
                           bl_money_scale (line->rate, g_ascii_strtod (shown, NULL)));
        }
    }
  g_assert_cmpint (estimate->total, ==, sum);
  g_assert_cmpint (estimate->total, ==, estimate->price + estimate->tax);
  for (int s = 0; s < BL_SECTION_N; s++)
    g_assert_cmpint (estimate->section_total[s], ==, sections[s]);
  g_assert_cmpint (estimate->cost, ==, sections[0] + sections[1] + sections[2] + sections[3]);
  g_assert_cmpint (estimate->total_low, <=, estimate->total);
  g_assert_cmpint (estimate->total_high, >=, estimate->total);
  g_assert_cmpint (estimate->deposit, <=, MAX (estimate->total, 0));
}

static void
test_random (void)
{
  BlRng rng = bl_rng (55);

  for (int round = 0; round < 10000; round++)
    {
      g_autoptr (BlModel) model = scene_new ();
      g_autoptr (BlTakeoff) takeoff = NULL;
      g_autoptr (BlEstimate) estimate = NULL;

      model->units = round % 2 == 0 ? BL_UNITS_FEET : BL_UNITS_METRES;
      if (round % 5 == 0)
        {
          g_free (model->currency);
          model->currency = g_strdup (round % 2 == 0 ? "JPY" : "KWD");
        }
      scene_plant (model, "ilex-verticillata", BL_TYPE_SHRUB, 1, 1);
      takeoff = job_takeoff (model);
      random_rules (&rng, &model->prices->rules);
      random_quantities (&rng, takeoff, model);
      if (round % 7 == 0)
        job_override (model, "material:goods-1", round % 2 == 0 ? "quantity" : "rate",
                      bl_rng_range (&rng, 0, 500));
      estimate = bl_estimate_compute (takeoff);
      check (estimate);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/estimate-random/sums", test_random);
  return g_test_run ();
}
