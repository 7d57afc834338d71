/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demo strip's estimate worked by hand, line by line, at the starting prices.
 *
 * Stated: one bed of 221.06 sq ft with a line of 76.94 ft, 2 in of planting mix, 3 in of mulch,
 * steel edging all round; 129 plants. Everything below is worked on paper from these and from the
 * starting book: no amount comes from the functions that are tested. */
#include <string.h>

#include "job.h"

#define AREA (221.06 * BL_M2_PER_SQUARE_FOOT)
#define LINE (76.94 * BL_METRES_PER_FOOT)

typedef struct
{
  const char *slug, *size;
  guint count;
  gint64 price;
  BlPlantType type;
  BlPlantingForm form;
} Kind;

static const Kind kinds[] = {
  { "allium-cernuum", "bulb", 18, 225, BL_TYPE_BULB, BL_PLANTING_ROW },
  { "calamagrostis-acutiflora", "#1", 3, 1595, BL_TYPE_GRASS, BL_PLANTING_SPECIMEN },
  { "echinacea-purpurea", "quart", 19, 895, BL_TYPE_PERENNIAL, BL_PLANTING_ROW },
  { "festuca-glauca", "quart", 41, 895, BL_TYPE_GRASS, BL_PLANTING_ROW },
  { "hylotelephium-spectabile", "quart", 11, 895, BL_TYPE_PERENNIAL, BL_PLANTING_ROW },
  { "nepeta-faassenii", "quart", 12, 895, BL_TYPE_PERENNIAL, BL_PLANTING_ROW },
  { "perovskia-atriplicifolia", "#1", 4, 1595, BL_TYPE_PERENNIAL, BL_PLANTING_ROW },
  { "salvia-nemorosa", "quart", 8, 895, BL_TYPE_PERENNIAL, BL_PLANTING_ROW },
  { "schizachyrium-scoparium", "quart", 9, 950, BL_TYPE_GRASS, BL_PLANTING_ROW },
  { "sporobolus-heterolepis", "quart", 4, 1050, BL_TYPE_GRASS, BL_PLANTING_ROW },
};

/* A row of exactly @count plants, one spacing apart. */
static BlPoints *
row_of (guint count, double y)
{
  BlPoints *points = bl_points_new ();

  bl_points_add (points, BL_POINT (0.2, y));
  bl_points_add (points, BL_POINT (0.2 + 0.1 * (count - 1) + 1e-6, y));
  return points;
}

static void
add_kind (BlModel *model, const Kind *kind, guint at)
{
  BlPlant *plant = scene_plant (model, kind->slug, kind->type, 0.1, 0.1);
  double y = 0.2 + 0.15 * at;

  plant->n_sizes = 1;
  g_free (plant->sizes[0].name);
  plant->sizes[0] = (BlPlantSize) { g_strdup (kind->size), 0.1, 0.1, kind->price };
  g_free (plant->sizes[1].name);
  plant->sizes[1] = (BlPlantSize) { 0 };
  if (kind->form == BL_PLANTING_ROW)
    scene_planting (model, 1, kind->slug, BL_PLANTING_ROW, row_of (kind->count, y));
  else
    for (guint i = 0; i < kind->count; i++)
      scene_planting (model, 1, kind->slug, BL_PLANTING_SPECIMEN, scene_point (0.2 + i, y));
}

static BlModel *
strip (void)
{
  BlModel *model = scene_new ();
  BlBed *bed = scene_bed (model, "Walk strip",
                          scene_rectangle (0, 0, 10, AREA / 10), TRUE);

  bed->perimeter.value = LINE;
  bed->soil_depth = 2 * BL_METRES_PER_INCH;
  bed->mulch_depth = 3 * BL_METRES_PER_INCH;
  bed->edging = g_strdup ("edging-steel");
  bl_price_book_free (model->prices);
  model->prices = bl_price_book_defaults ();
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    add_kind (model, &kinds[i], i);
  return model;
}

typedef struct
{
  const char *key;
  double quantity;
  const char *unit;
  gint64 rate, amount;
} Line;

static void
expect (const BlEstimate *estimate, const Line *lines, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      const BlEstimateLine *line = job_line (estimate, lines[i].key);

      g_test_message ("%s", lines[i].key);
      g_assert_nonnull (line);
      g_assert_cmpfloat_with_epsilon (line->quantity, lines[i].quantity, 1e-9);
      g_assert_cmpstr (line->unit, ==, lines[i].unit);
      g_assert_cmpint (line->rate, ==, lines[i].rate);
      g_assert_cmpint (line->amount, ==, lines[i].amount);
    }
}

/* Plants: 3 % reserve, up to whole plants, of all but the three that stand singly. */
static const Line plants[] = {
  { "plant:allium-cernuum|bulb", 19, "each", 225, 4275 },              /* 18 + .54 → 1 */
  { "plant:calamagrostis-acutiflora|#1", 3, "each", 1595, 4785 },
  { "plant:echinacea-purpurea|quart", 20, "each", 895, 17900 },        /* 19 + .57 → 1 */
  { "plant:festuca-glauca|quart", 43, "each", 895, 38485 },            /* 41 + 1.23 → 2 */
  { "plant:hylotelephium-spectabile|quart", 12, "each", 895, 10740 },  /* 11 + .33 → 1 */
  { "plant:nepeta-faassenii|quart", 13, "each", 895, 11635 },          /* 12 + .36 → 1 */
  { "plant:perovskia-atriplicifolia|#1", 5, "each", 1595, 7975 },      /* 4 + .12 → 1 */
  { "plant:salvia-nemorosa|quart", 9, "each", 895, 8055 },             /* 8 + .24 → 1 */
  { "plant:schizachyrium-scoparium|quart", 10, "each", 950, 9500 },    /* 9 + .27 → 1 */
  { "plant:sporobolus-heterolepis|quart", 5, "each", 1050, 5250 },     /* 4 + .12 → 1 */
};                                                                     /* 118,600 together */

/* Mix: 221.06 sq ft × 2 in ÷ 324 = 1.3646 cu yd, + 10 % settling = 1.5010 → 2.0 by half yards. A
 * cubic metre at $52.00 is a yard at × 0.764555 = $39.76; of mix at $64.00, $48.93: $97.86. Loose
 * with its load $182.86; 1.5010 × 13.5 = 20.26 → 21 bags of 2 cu ft at $8.90, $186.90: loose.
 * Mulch: 129 crowns bare to 5 cm, 129 × π × 0.05² = 1.0132 m² = 10.906 sq ft; (221.06 − 10.906) ×
 * 3 ÷ 324 = 1.94587 cu yd, + 5 % = 2.04316, × 13.5 = 27.58 → 28 bags at $5.25 = $147.00. Loose:
 * 2.5 yd × $39.76 = $99.39 and a load, $85.00: $184.39: bags.
 * Edging: 76.94 ft + 5 % = 80.79 → 9 pieces of 10 ft. A metre at $14.80 is a foot at $4.51. */
static const Line materials[] = {
  { "material:planting-mix-bulk", 2, "cu yd", 4893, 9786 },
  { "material:mulch-bag", 28, "bag", 525, 14700 },
  { "material:edging-steel", 90, "ft", 451, 40590 },
};                                                   /* 65,076 together */

/* Hours at $52.00. 221.06 sq ft = 20.5371 m²; 1.3646 cu yd = 1.04329 m³; 1.94587 cu yd = 1.48773
 * m³; 76.94 ft = 23.4513 m. */
static const Line labour[] = {
  { "labour:prepare-bed", 2.40, "h", 5200, 12480 },  /* 20.5371 × 7 ÷ 60 = 2.3960 */
  { "labour:spread-soil", 1.22, "h", 5200, 6344 },   /* 1.04329 × 70 ÷ 60 = 1.2172 */
  { "labour:spread-mulch", 1.86, "h", 5200, 9672 },  /* 1.48773 × 75 ÷ 60 = 1.8597 */
  { "labour:lay-edging", 3.52, "h", 5200, 18304 },   /* 23.4513 × 9 ÷ 60 = 3.5177 */
  { "labour:clean-up", 0.51, "h", 5200, 2652 },      /* 20.5371 × 1.5 ÷ 60 = 0.5134 */
  { "labour:plant-bulb", 0.24, "h", 5200, 1248 },    /* 18 × 0.8 ÷ 60 */
  { "labour:plant-#1", 0.58, "h", 5200, 3016 },      /* (3 + 4) × 5 ÷ 60 = 0.5833 */
  { "labour:plant-quart", 5.20, "h", 5200, 27040 },  /* (19+41+11+12+8+9+4 = 104) × 3 ÷ 60 */
  { "labour:set-out", 1.51, "h", 5200, 7852 },       /* 129 × 0.7 ÷ 60 = 1.505 */
  { "labour:water-in", 1.29, "h", 5200, 6708 },      /* 129 × 0.6 ÷ 60 */
};                                                   /* 95,316 together */

/* Spoil: 20.5371 m² × 0.05 × 1.25 = 1.28357 m³ = 1.6789 cu yd → 2.0; a yard of $48.00 a m³ is
 * $36.70. */
static const Line delivery[] = {
  { "delivery:delivery-load", 1, "load", 8500, 8500 },
  { "delivery:delivery-plants", 1, "load", 9500, 9500 },
  { "disposal:disposal", 2, "cu yd", 3670, 7340 },
};                                                   /* 25,340 together */

#define PLANTS 118600
#define MATERIALS 65076
#define LABOUR 95316
#define DELIVERY 25340
#define COST 304332 /* the four together */

static void
expect_costs (const BlEstimate *estimate)
{
  expect (estimate, plants, G_N_ELEMENTS (plants));
  expect (estimate, materials, G_N_ELEMENTS (materials));
  expect (estimate, labour, G_N_ELEMENTS (labour));
  expect (estimate, delivery, G_N_ELEMENTS (delivery));
  g_assert_cmpint (estimate->section_total[BL_SECTION_PLANTS], ==, PLANTS);
  g_assert_cmpint (estimate->section_total[BL_SECTION_MATERIALS], ==, MATERIALS);
  g_assert_cmpint (estimate->section_total[BL_SECTION_LABOUR], ==, LABOUR);
  g_assert_cmpint (estimate->section_total[BL_SECTION_DELIVERY], ==, DELIVERY);
  g_assert_cmpint (estimate->cost, ==, COST);
}

static gint64
amount_of (const BlEstimate *estimate, const char *key)
{
  const BlEstimateLine *line = job_line (estimate, key);

  return line != NULL ? line->amount : 0;
}

/* The starting rules: overhead 15 % of cost, contingency 5 %, warranty 5 % of plants and planting,
 * 20 % markup, no tax, 30 % deposit. */
static void
test_starting_rules (void)
{
  g_autoptr (BlModel) model = strip ();
  g_autoptr (BlEstimate) estimate = job_estimate (model);

  expect_costs (estimate);
  g_assert_cmpint (estimate->lines->len, ==, 10 + 3 + 10 + 3 + 4);
  /* 3043.32 × .15 = 456.498, × .05 = 152.166. */
  g_assert_cmpint (amount_of (estimate, "adjust:overhead"), ==, 45650);
  g_assert_cmpint (amount_of (estimate, "adjust:contingency"), ==, 15217);
  /* Plants $1,186.00 and planting $12.48 + $30.16 + $270.40 = $1,499.04; 5 % = 74.952. */
  g_assert_cmpint (amount_of (estimate, "adjust:warranty"), ==, 7495);
  /* 3043.32 + 456.50 + 152.17 + 74.95 = 3726.94; 20 % = 745.388. */
  g_assert_cmpint (amount_of (estimate, "adjust:profit"), ==, 74539);
  g_assert_cmpint (estimate->price, ==, 447233);
  g_assert_cmpint (estimate->tax, ==, 0);
  g_assert_cmpint (estimate->total, ==, 447233);
  g_assert_cmpint (estimate->deposit, ==, 134170); /* 4472.33 × .3 = 1341.699 */
  g_assert_true (estimate->any_invented);
}

/* Overhead by each method. */
static void
test_overheads (void)
{
  static const struct
  {
    BlOverheadMethod method;
    double overhead;
    gint64 amount;
  } rows[] = {
    { BL_OVERHEAD_NONE, 0.25, 0 },
    { BL_OVERHEAD_ON_LABOUR, 0.25, 23829 },  /* 953.16 × .25 */
    { BL_OVERHEAD_ON_ALL, 0.10, 30433 },     /* 3043.32 × .1 = 304.332 */
    { BL_OVERHEAD_PER_HOUR, 1472, 26982 },   /* 2.40+1.22+1.86+3.52+.51+.24+.58+5.20+1.51+1.29 =
                                                18.33 h × $14.72 = 269.8176 */
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (BlModel) model = strip ();
      g_autoptr (BlEstimate) estimate = NULL;

      model->prices->rules.overhead_method = rows[i].method;
      model->prices->rules.overhead = rows[i].overhead;
      estimate = job_estimate (model);
      expect_costs (estimate);
      g_assert_cmpint (amount_of (estimate, "adjust:overhead"), ==, rows[i].amount);
    }
}

/* A margin of 20 % is no markup of 20 %: 3726.94 ÷ 0.8 = 4658.675, rounded half up to 4658.68. */
static void
test_margin (void)
{
  g_autoptr (BlModel) model = strip ();
  g_autoptr (BlEstimate) estimate = NULL;

  model->prices->rules.use_margin = TRUE;
  estimate = job_estimate (model);
  g_assert_cmpint (amount_of (estimate, "adjust:profit"), ==, 93174);
  g_assert_cmpint (estimate->price, ==, 465868);
}

/* Discount 10 % of $4,472.33 = 447.233; what is left, $4,025.10, is below a minimum of $4,500.00 by
 * $474.90. */
static void
test_discount_and_minimum (void)
{
  g_autoptr (BlModel) model = strip ();
  g_autoptr (BlEstimate) estimate = NULL;

  model->prices->rules.discount = 0.10;
  model->prices->rules.minimum = 450000;
  estimate = job_estimate (model);
  g_assert_cmpint (amount_of (estimate, "adjust:discount"), ==, -44723);
  g_assert_cmpint (amount_of (estimate, "adjust:minimum"), ==, 47490);
  g_assert_cmpint (estimate->total, ==, 450000);
}

/* Tax at 7.25 %, rounded to the cent, on: nothing; plants and materials at cost ($1,186.00 +
 * $650.76 = $1,836.76 → 133.165); plants at selling price, which is what they would be offered for
 * alone ($1,186.00 + 15 % overhead $177.90 + 5 % contingency $59.30 + 5 % warranty $59.30 =
 * $1,482.50, + 20 % = $1,779.00 → 128.978): a share of the whole price by cost would make the tax on
 * the plants fall as the bed grows round them; the whole price ($4,472.33 → 324.244). The deposit is
 * 30 %, at most $1,000.00. */
static void
test_taxes_and_deposit (void)
{
  static const gint64 taxes[] = { 0, 13317, 12898, 32424 };

  for (int base = BL_TAX_NONE; base <= BL_TAX_EVERYTHING; base++)
    {
      g_autoptr (BlModel) model = strip ();
      g_autoptr (BlEstimate) estimate = NULL;

      model->prices->rules.tax_rate = 0.0725;
      model->prices->rules.tax_base = (BlTaxBase) base;
      model->prices->rules.deposit_cap = 100000;
      estimate = job_estimate (model);
      g_assert_cmpint (estimate->tax, ==, taxes[base]);
      g_assert_cmpint (estimate->total, ==, 447233 + taxes[base]);
      g_assert_cmpint (estimate->deposit, ==, 100000);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/harbour-lane/starting-rules", test_starting_rules);
  g_test_add_func ("/harbour-lane/overheads", test_overheads);
  g_test_add_func ("/harbour-lane/margin", test_margin);
  g_test_add_func ("/harbour-lane/discount-and-minimum", test_discount_and_minimum);
  g_test_add_func ("/harbour-lane/taxes-and-deposit", test_taxes_and_deposit);
  return g_test_run ();
}
