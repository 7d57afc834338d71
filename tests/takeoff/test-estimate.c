/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From cost to total against published estimating arithmetic. */
#include <string.h>

#include "job.h"

/* A job whose only cost is one plant line of @cost minor units (and @hours of labour). */
static BlModel *
job_of (gint64 cost, double hours, gint64 labour_rate)
{
  BlModel *model = job_new (30, 10);
  BlPlant *plant = scene_plant (model, "ilex-verticillata", BL_TYPE_SHRUB, 1.2, 1.2);

  plant->sizes[0].price = cost;
  model->prices->rules.labour_rate = labour_rate;
  scene_planting (model, 1, "ilex-verticillata", BL_PLANTING_SPECIMEN, scene_point (1, 1));
  if (hours > 0)
    job_price (model, "set-out", BL_PRICE_LABOUR, "each", 0, hours * 60);
  return model;
}

/* Markup and margin: BALI (UK), 13 May 2025: £800 cost with 25 % markup is £1,000, a margin of
 * 20 %; Landscape Management: $60 sold at $100 is a margin of 40 %; and the usual pairs. */
static void
test_markup_and_margin (void)
{
  static const double pairs[][2] = { { 10, 9.09 },  { 15, 13.04 }, { 20, 16.67 }, { 25, 20 },
                                     { 40, 28.57 }, { 50, 33.33 }, { 75, 42.86 }, { 100, 50 },
                                     { 150, 60 },   { 200, 66.67 } };

  {
    g_autoptr (BlModel) model = job_of (80000, 0, 0);
    g_autoptr (BlEstimate) a = NULL, b = NULL, c = NULL;
    gint64 *price = &bl_model_plant (model, "ilex-verticillata")->sizes[0].price;

    model->prices->rules.profit = 0.25;
    a = job_estimate (model);
    g_assert_cmpint (a->total, ==, 100000);
    model->prices->rules.use_margin = TRUE;
    model->prices->rules.profit = 0.20;
    b = job_estimate (model);
    g_assert_cmpint (b->total, ==, 100000);
    *price = 6000;
    model->prices->rules.profit = 0.40;
    c = job_estimate (model);
    g_assert_cmpint (c->total, ==, 10000);
  }
  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      g_autoptr (BlModel) model = job_of (1000000, 0, 0);
      g_autoptr (BlEstimate) estimate = NULL;
      double margin;

      model->prices->rules.profit = pairs[i][0] / 100;
      estimate = job_estimate (model);
      margin = 100 * (1 - (double) estimate->cost / (double) estimate->price);
      g_assert_cmpfloat_with_epsilon (margin, pairs[i][1], 0.0051);
    }
}

/* What a price is times its cost at a margin, worked by hand; and a mistake of a trade forum, which
 * took "150 % over cost" of $100 for $150: over cost it is $250. */
static void
test_factors (void)
{
  static const double rows[][2] = { { 20, 1.25 },   { 25, 1.3333 }, { 30, 1.4286 }, { 35, 1.5385 },
                                    { 40, 1.6667 }, { 45, 1.8182 }, { 50, 2 },      { 60, 2.5 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (BlModel) model = job_of (1000000, 0, 0);
      g_autoptr (BlEstimate) estimate = NULL;

      model->prices->rules.use_margin = TRUE;
      model->prices->rules.profit = rows[i][0] / 100;
      estimate = job_estimate (model);
      g_assert_cmpfloat_with_epsilon ((double) estimate->total / 1000000, rows[i][1], 5.1e-5);
    }
  {
    g_autoptr (BlModel) model = job_of (10000, 0, 0);
    g_autoptr (BlEstimate) estimate = NULL;

    model->prices->rules.profit = 1.5;
    estimate = job_estimate (model);
    g_assert_cmpint (estimate->total, ==, 25000);
  }
}

/* A school curriculum: 20 % of material and labour of $432.23 and $1,567.89; a trade blog: $120,000
 * over 6,000 hours is $20.00 an hour. A forum's $1,000 over 172 h × .78, printed as 7.47, is 7.45. */
static void
test_more_overheads (void)
{
  static const gint64 rows[][2] = { { 43223, 8645 }, { 156789, 31358 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (BlModel) model = job_of (rows[i][0], 0, 0);
      g_autoptr (BlEstimate) estimate = NULL;

      model->prices->rules.overhead_method = BL_OVERHEAD_ON_ALL;
      model->prices->rules.overhead = 0.20;
      estimate = job_estimate (model);
      g_assert_cmpint (job_line (estimate, "adjust:overhead")->amount, ==, rows[i][1]);
    }
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (BlModel) model = job_of (0, 10, 0);
      g_autoptr (BlEstimate) estimate = NULL;

      model->prices->rules.overhead_method = BL_OVERHEAD_PER_HOUR;
      model->prices->rules.overhead = i == 0 ? 12000000 / 6000.0 : 100000 / (172 * .78);
      estimate = job_estimate (model);
      g_assert_cmpint (job_line (estimate, "adjust:overhead")->amount, ==, i == 0 ? 20000 : 7450);
    }
}

/* Landscape & Irrigation, Nov/Dec 2012, page 8: $238,544.16 over 30 weeks, 5 days, 12 men × 9 hours
 * is $14.72 an hour; with $18.00 of wage $32.72. */
static void
test_overhead_per_hour (void)
{
  double an_hour = 23854416 / 30.0 / 5 / (12 * 9);
  g_autoptr (BlModel) model = job_of (0, 1, 1800);
  g_autoptr (BlEstimate) estimate = NULL;

  g_assert_cmpfloat_with_epsilon (an_hour, 1472, 0.5);
  model->prices->rules.overhead_method = BL_OVERHEAD_PER_HOUR;
  model->prices->rules.overhead = an_hour;
  estimate = job_estimate (model);
  g_assert_cmpint (estimate->section_total[BL_SECTION_LABOUR], ==, 1800);
  g_assert_cmpint (estimate->total, ==, 3272);
}

/* A worked bid of a trade forum: 1460.91 + 528.00 + 200.00 = 2188.91; 20 % of all is 437.78; total
 * 2626.69. */
static void
test_overhead_on_all (void)
{
  g_autoptr (BlModel) model = job_of (146091, 12, 4400);
  g_autoptr (BlEstimate) estimate = NULL;

  job_price (model, "delivery-plants", BL_PRICE_DELIVERY, "load", 20000, 0);
  model->prices->rules.overhead_method = BL_OVERHEAD_ON_ALL;
  model->prices->rules.overhead = 0.20;
  estimate = job_estimate (model);
  g_assert_cmpint (estimate->cost, ==, 218891);
  g_assert_cmpint (job_line (estimate, "adjust:overhead")->amount, ==, 43778);
  g_assert_cmpint (estimate->total, ==, 262669);
}

static void
test_overhead_on_labour (void)
{
  g_autoptr (BlModel) model = job_of (100000, 16, 4000);
  g_autoptr (BlEstimate) estimate = NULL;

  model->prices->rules.overhead_method = BL_OVERHEAD_ON_LABOUR;
  model->prices->rules.overhead = 0.25;
  estimate = job_estimate (model);
  g_assert_cmpint (job_line (estimate, "adjust:overhead")->amount, ==, 16000);
}

/* California, Business and Professions Code 7159.5 (CSLB, 15 August 2012): no more than $1,000 or
 * 10 %: $50,000 → $1,000; $15,000 → $1,000; $8,000 → $800. */
static void
test_deposit (void)
{
  static const gint64 rows[][2] = { { 5000000, 100000 }, { 1500000, 100000 }, { 800000, 80000 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (BlModel) model = job_of (rows[i][0], 0, 0);
      g_autoptr (BlEstimate) estimate = NULL;

      model->prices->rules.deposit = 0.10;
      model->prices->rules.deposit_cap = 100000;
      estimate = job_estimate (model);
      g_assert_cmpint (estimate->deposit, ==, rows[i][1]);
    }
}

/* What is taxed differs by state: nothing, goods at cost, plants at selling price, everything. */
static void
test_tax (void)
{
  static const gint64 expected[] = { 0, 7250, 10875, 21750 };

  for (int base = BL_TAX_NONE; base <= BL_TAX_EVERYTHING; base++)
    {
      g_autoptr (BlModel) model = job_of (100000, 10, 10000);
      g_autoptr (BlEstimate) estimate = NULL;

      model->prices->rules.profit = 0.5;
      model->prices->rules.tax_rate = 0.0725;
      model->prices->rules.tax_base = (BlTaxBase) base;
      estimate = job_estimate (model);
      g_assert_cmpint (estimate->price, ==, 300000);
      g_assert_cmpint (estimate->tax, ==, expected[base]);
      g_assert_cmpint (estimate->total, ==, 300000 + expected[base]);
    }
}

static void
test_allowances (void)
{
  g_autoptr (BlModel) model = job_of (100000, 10, 10000);
  g_autoptr (BlEstimate) a = NULL, b = NULL;

  model->prices->rules.contingency = 0.05;
  model->prices->rules.warranty = 0.05;
  model->prices->rules.discount = 0.10;
  a = job_estimate (model);
  g_assert_cmpint (job_line (a, "adjust:contingency")->amount, ==, 10000);
  /* Setting out is not planting: the warranty covers the plant alone here. */
  g_assert_cmpint (job_line (a, "adjust:warranty")->amount, ==, 5000);
  g_assert_cmpint (job_line (a, "adjust:discount")->amount, ==, -21500);
  g_assert_cmpint (a->total, ==, 193500);
  model->prices->rules.minimum = 250000;
  b = job_estimate (model);
  g_assert_cmpint (job_line (b, "adjust:minimum")->amount, ==, 56500);
  g_assert_cmpint (b->total, ==, 250000);
  g_assert_null (job_line (a, "adjust:minimum"));
}

/* Edging arithmetic: 1850 ft at $4.50 is $8,325 (jaredryanchase.com). */
static void
test_edging_amount (void)
{
  g_autoptr (BlModel) model = job_new (500, 425);
  g_autoptr (BlEstimate) estimate = NULL;
  BlBed *bed = model->beds->pdata[0];
  const BlEstimateLine *line;

  bed->edging = g_strdup ("edging-steel");
  job_price (model, "edging-steel", BL_PRICE_MATERIAL, "m", 1476, 0); /* 4.4988 a foot: $4.50 */
  estimate = job_estimate (model);
  line = job_line (estimate, "material:edging-steel");
  g_assert_cmpstr (line->unit, ==, "ft");
  g_assert_cmpfloat (line->quantity, ==, 1850);
  g_assert_cmpint (line->rate, ==, 450);
  g_assert_cmpint (line->amount, ==, 832500);
}

/* The person's own figures: in price book units, marked, shown beside what they replace. */
static void
test_overrides (void)
{
  for (int units = BL_UNITS_FEET; units <= BL_UNITS_METRES; units++)
    {
      g_autoptr (BlModel) model = job_new (50, 20);
      g_autoptr (BlEstimate) estimate = NULL;
      const BlEstimateLine *line;

      model->units = (BlUnits) units;
      ((BlBed *) model->beds->pdata[0])->mulch_depth = 2 * BL_METRES_PER_INCH;
      job_price (model, "mulch-bulk", BL_PRICE_MATERIAL, "m3", 5000, 0);
      job_price (model, "equipment-day", BL_PRICE_EQUIPMENT, "day", 28500, 1);
      job_override (model, "material:mulch-bulk", "quantity", 7 * BL_M3_PER_CUBIC_YARD);
      job_override (model, "material:mulch-bulk", "rate", 4000 / BL_M3_PER_CUBIC_YARD);
      job_override (model, "equipment:equipment-day", "quantity", 0.5);
      job_override (model, "adjust:discount", "rate", -5000);
      estimate = job_estimate (model);
      line = job_line (estimate, "material:mulch-bulk");
      g_assert_true (line->overridden);
      g_assert_nonnull (strstr (line->how, "quantity set by hand"));
      g_assert_nonnull (strstr (line->how, "(agreed)"));
      if (units == BL_UNITS_FEET)
        {
          g_assert_cmpfloat (line->quantity, ==, 7);
          g_assert_cmpint (line->rate, ==, 4000);
          g_assert_cmpint (line->amount, ==, 28000);
        }
      else
        g_assert_cmpfloat_with_epsilon (line->amount, 28000, 30);
      line = job_line (estimate, "equipment:equipment-day");
      g_assert_cmpint (line->amount, ==, 14250);
      g_assert_cmpint (estimate->section_total[BL_SECTION_DELIVERY], ==, 14250);
      g_assert_cmpint (job_line (estimate, "adjust:discount")->amount, ==, -5000);
    }
}

static void
make_optional (BlModel *model, const char *line, const char *name)
{
  BlOverride *mark = NULL;

  job_override (model, line, "optional", 1);
  mark = model->overrides->pdata[model->overrides->len - 1];
  g_free (mark->note);
  mark->note = g_strdup (name);
}

/* Fabric (100 m² at $0.95) and laying it (3 h at $52.00) are one option: $251.00 of cost, a markup
 * of 20 % and 10 % tax on everything: $331.32 more when it is ticked. The shrub ($80.00) is part of
 * the offer all along: 80 × 1.2 × 1.1 = $105.60. */
static void
test_options (void)
{
  g_autoptr (BlModel) model = job_of (8000, 0, 5200);
  g_autoptr (BlEstimate) estimate = NULL, without = NULL;
  const BlEstimateOption *option;

  model->units = BL_UNITS_METRES;
  model->prices->rules.profit = 0.20;
  model->prices->rules.tax_rate = 0.10;
  model->prices->rules.tax_base = BL_TAX_EVERYTHING;
  without = job_estimate (model);
  job_price (model, "fabric", BL_PRICE_MATERIAL, "m2", 95, 0);
  job_price (model, "lay-fabric", BL_PRICE_LABOUR, "m2", 0, 2);
  job_override (model, "material:fabric", "quantity", 100);
  job_override (model, "labour:lay-fabric", "quantity", 3);
  make_optional (model, "material:fabric", "Landscape fabric, laid");
  make_optional (model, "labour:lay-fabric", "Landscape fabric, laid");
  estimate = job_estimate (model);
  g_assert_cmpint (without->total, ==, 10560);
  g_assert_cmpint (estimate->total, ==, 10560);
  g_assert_null (job_line (estimate, "material:fabric"));
  g_assert_cmpuint (estimate->options->len, ==, 1);
  option = &g_array_index (estimate->options, BlEstimateOption, 0);
  g_assert_cmpstr (option->name, ==, "Landscape fabric, laid");
  g_assert_cmpuint (option->lines->len, ==, 2);
  g_assert_cmpint (option->price, ==, 33132);
  g_assert_cmpuint (without->options->len, ==, 0);
}

/* A job without any measured error has no range; with one, the range is its 95 % interval. */
static void
test_range (void)
{
  g_autoptr (BlModel) model = job_new (50, 20);
  g_autoptr (BlEstimate) sure = NULL, vague = NULL;
  BlBed *bed = model->beds->pdata[0];
  double relative = 0.03;

  bed->mulch_depth = 3 * BL_METRES_PER_INCH;
  job_price (model, "mulch-bulk", BL_PRICE_MATERIAL, "m3", 5000, 0);
  sure = job_estimate (model);
  g_assert_cmpint (sure->total_low, ==, sure->total);
  g_assert_cmpint (sure->total_high, ==, sure->total);
  bed->area.sd = bed->area.value * relative;
  vague = job_estimate (model);
  g_assert_cmpint (vague->total, ==, sure->total);
  g_assert_cmpfloat_with_epsilon ((double) vague->total_high / (double) vague->total,
                                  1 + 1.96 * relative, 0.001);
  g_assert_cmpfloat_with_epsilon ((double) vague->total_low / (double) vague->total,
                                  1 - 1.96 * relative, 0.001);
}

static void
test_json (void)
{
  g_autoptr (BlModel) model = job_of (146091, 12, 4400);
  g_autoptr (BlTakeoff) takeoff = job_takeoff (model);
  g_autoptr (BlEstimate) estimate = bl_estimate_compute (takeoff);
  g_autofree char *text = bl_estimate_to_json (takeoff, estimate);
  g_autofree char *total = g_strdup_printf ("\"total\" : %" G_GINT64_FORMAT, estimate->total);

  g_assert_nonnull (strstr (text, total));
  g_assert_nonnull (strstr (text, "\"slug\" : \"ilex-verticillata\""));
  g_assert_nonnull (strstr (text, "\"formula_count\" : null"));
  g_assert_nonnull (strstr (text, "\"options\" : []"));
  g_assert_nonnull (strstr (text, "\"soil_out\" : null"));
  /* One #1 container, 25 to 30 % of 152 to 251 in³: 0.908 L a watering, seven a week at first. */
  g_assert_nonnull (strstr (text, "\"a_watering_l\" : 0.908"));
  g_assert_nonnull (strstr (text, "6.356"));
  g_assert_true (estimate->any_invented);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/estimate/markup-and-margin", test_markup_and_margin);
  g_test_add_func ("/estimate/factors", test_factors);
  g_test_add_func ("/estimate/more-overheads", test_more_overheads);
  g_test_add_func ("/estimate/overhead-per-hour", test_overhead_per_hour);
  g_test_add_func ("/estimate/overhead-on-all", test_overhead_on_all);
  g_test_add_func ("/estimate/overhead-on-labour", test_overhead_on_labour);
  g_test_add_func ("/estimate/deposit", test_deposit);
  g_test_add_func ("/estimate/tax", test_tax);
  g_test_add_func ("/estimate/allowances", test_allowances);
  g_test_add_func ("/estimate/edging-amount", test_edging_amount);
  g_test_add_func ("/estimate/overrides", test_overrides);
  g_test_add_func ("/estimate/options", test_options);
  g_test_add_func ("/estimate/range", test_range);
  g_test_add_func ("/estimate/json", test_json);
  return g_test_run ();
}
