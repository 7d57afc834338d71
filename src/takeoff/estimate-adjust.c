/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From cost to total: overhead, contingency, warranty, profit, discount, minimum, tax. */
#include <math.h>
#include <string.h>

#include "takeoff/estimate-private.h"
#include "takeoff/takeoff-private.h"

static char *
share_words (const BlSheet *sheet, double share, const char *of, gint64 base)
{
  /* Translators: "10 % of labour $300.00". */
  g_autofree char *percent = bl_figure (100 * share);
  g_autofree char *amount = bl_money_format (base, sheet->estimate->currency);

  return bl_say_join (sheet->takeoff->language,
                      g_strdup_printf (bl_sheet_say (sheet, "%s %% of %s %s"), percent,
                                       bl_sheet_say (sheet, of), amount));
}

static double
labour_hours (const BlSheet *sheet)
{
  double hours = 0;

  for (guint i = 0; i < sheet->estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (sheet->estimate->lines, BlEstimateLine, i);

      if (line->section == BL_SECTION_LABOUR)
        hours += line->quantity;
    }
  return hours;
}

/* What the adjustments are reckoned from. */
typedef struct
{
  gint64 cost, labour, covered; /* minor units; @covered by the warranty */
  double hours;
} Basis;

static gint64
overhead_of (const BlPriceRules *rules, const Basis *basis)
{
  switch (rules->overhead_method)
    {
    case BL_OVERHEAD_ON_LABOUR:
      return bl_money_scale (basis->labour, rules->overhead);
    case BL_OVERHEAD_ON_ALL:
      return bl_money_scale (basis->cost, rules->overhead);
    case BL_OVERHEAD_PER_HOUR:
      return bl_money_scale (llround (CLAMP (rules->overhead, 0, 1e12)), basis->hours);
    case BL_OVERHEAD_NONE:
    default:
      return 0;
    }
}

/* Markup on @base, or what makes the margin its share of the price. */
static gint64
profit_of (const BlPriceRules *rules, gint64 base)
{
  if (rules->use_margin)
    return bl_money_scale (base, 1 / (1 - CLAMP (rules->profit, 0, 0.99))) - base;
  return bl_money_scale (base, rules->profit);
}

/* What a job of @basis would be offered for, before minimum and tax. */
static gint64
price_of (const BlPriceRules *rules, const Basis *basis)
{
  gint64 price = basis->cost + overhead_of (rules, basis)
                 + bl_money_scale (basis->cost, rules->contingency)
                 + bl_money_scale (basis->covered, rules->warranty);

  price += profit_of (rules, price);
  return price - bl_money_scale (price, rules->discount);
}

static void
add_overhead (BlSheet *sheet, const Basis *basis)
{
  const BlPriceRules *rules = &sheet->book->rules;
  char *how = NULL;

  if (rules->overhead_method == BL_OVERHEAD_ON_LABOUR)
    how = share_words (sheet, rules->overhead, BL_SAID ("labour"), basis->labour);
  else if (rules->overhead_method == BL_OVERHEAD_ON_ALL)
    how = share_words (sheet, rules->overhead, BL_SAID ("cost"), basis->cost);
  else if (rules->overhead_method == BL_OVERHEAD_PER_HOUR)
    {
      g_autofree char *each = bl_money_format (llround (CLAMP (rules->overhead, 0, 1e12)),
                                               sheet->estimate->currency);
      g_autofree char *count = bl_figure (basis->hours);

      how = g_strdup_printf (bl_sheet_say (sheet, "%s h × %s"), count, each);
    }
  bl_sheet_add_sum (sheet, "adjust:overhead", BL_SECTION_ADJUST, BL_SAID ("Overhead"),
                    overhead_of (rules, basis), how);
}

/* Plants and the hours of putting them in the ground. */
static gint64
warranted (const BlSheet *sheet)
{
  gint64 sum = sheet->estimate->section_total[BL_SECTION_PLANTS];

  for (guint i = 0; i < sheet->estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (sheet->estimate->lines, BlEstimateLine, i);

      if (g_str_has_prefix (line->key, "labour:plant-"))
        sum += line->amount;
    }
  return sum;
}

static void
add_profit (BlSheet *sheet)
{
  const BlPriceRules *rules = &sheet->book->rules;
  gint64 base = sheet->estimate->total;
  g_autofree char *percent = bl_figure (100 * rules->profit);
  g_autofree char *from = bl_money_format (base, sheet->estimate->currency);
  char *how;

  if (rules->use_margin)
    {
      double margin = CLAMP (rules->profit, 0, 0.99);

      how = g_strdup_printf (
        bl_sheet_say (sheet, "margin: %s %% of the price; %s ÷ (1 − %.4g) − %s"), percent, from, margin,
        from);
    }
  else
    how = g_strdup_printf (bl_sheet_say (sheet, "markup: %s %% on %s"), percent, from);
  bl_sheet_add_sum (sheet, "adjust:profit", BL_SECTION_ADJUST, BL_SAID ("Profit"), profit_of (rules, base),
                    how);
}

static void
add_end_of_price (BlSheet *sheet)
{
  const BlPriceRules *rules = &sheet->book->rules;
  gint64 price = sheet->estimate->total, missing;
  g_autofree char *minimum = bl_money_format (rules->minimum, sheet->estimate->currency);

  bl_sheet_add_sum (sheet, "adjust:discount", BL_SECTION_ADJUST, BL_SAID ("Discount"),
                    -bl_money_scale (price, rules->discount),
                    share_words (sheet, rules->discount, BL_SAID ("the price"), price));
  missing = rules->minimum > 0 ? MAX (rules->minimum - sheet->estimate->total, 0) : 0;
  bl_sheet_add_sum (sheet, "adjust:minimum", BL_SECTION_ADJUST, BL_SAID ("To the minimum charge"), missing,
                    g_strdup_printf (bl_sheet_say (sheet, "smallest job %s"), minimum));
}

/* The price by the rules, or as the person's own sums make it, before the minimum. */
static gboolean
is_set_by_hand (const BlEstimate *estimate, gint64 *price)
{
  gboolean set = FALSE;

  *price = estimate->cost;
  for (guint i = 0; i < estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (estimate->lines, BlEstimateLine, i);

      if (line->section != BL_SECTION_ADJUST || strcmp (line->key, "adjust:minimum") == 0)
        continue;
      *price += line->amount;
      set |= line->overridden;
    }
  return set;
}

/* What the client pays for the plants: what they would be offered for alone, so that nothing else
 * in the job changes it. Where a sum was set by hand there is no rule to follow: then plants bear
 * their share by cost. The lift to a minimum charge is no price of plants. */
static gint64
plants_at_selling_price (const BlSheet *sheet)
{
  const BlEstimate *estimate = sheet->estimate;
  gint64 plants = estimate->section_total[BL_SECTION_PLANTS], price;

  if (!is_set_by_hand (estimate, &price))
    return price_of (&sheet->book->rules, &(Basis) { .cost = plants, .covered = plants });
  return estimate->cost > 0 ? bl_money_scale (plants, (double) price / (double) estimate->cost) : 0;
}

static void
add_tax (BlSheet *sheet)
{
  const BlPriceRules *rules = &sheet->book->rules;
  const BlEstimate *estimate = sheet->estimate;
  gint64 price = estimate->total, plants = estimate->section_total[BL_SECTION_PLANTS], base = 0;
  const char *of = "";

  switch (rules->tax_base)
    {
    case BL_TAX_MATERIALS:
      base = plants + estimate->section_total[BL_SECTION_MATERIALS];
      of = BL_SAID ("plants and materials at cost");
      break;
    case BL_TAX_PLANTS:
      base = plants_at_selling_price (sheet);
      of = BL_SAID ("plants at selling price (with their overhead, allowances and profit)");
      break;
    case BL_TAX_EVERYTHING:
      base = price;
      of = BL_SAID ("the whole price");
      break;
    case BL_TAX_NONE:
    default:
      break;
    }
  bl_sheet_add_sum (sheet, "tax:tax", BL_SECTION_TAX,
                    rules->tax_name != NULL && rules->tax_name[0] != '\0' ? rules->tax_name
                                                                     : BL_SAID ("Tax"),
                    bl_money_scale (base, rules->tax_rate),
                    share_words (sheet, rules->tax_rate, of, base));
}

void
bl_sheet_adjust (BlSheet *sheet)
{
  const BlPriceRules *rules = &sheet->book->rules;
  gint64 cost = sheet->estimate->cost, covered = warranted (sheet);
  Basis basis = { cost, sheet->estimate->section_total[BL_SECTION_LABOUR], covered,
                  labour_hours (sheet) };

  add_overhead (sheet, &basis);
  bl_sheet_add_sum (sheet, "adjust:contingency", BL_SECTION_ADJUST, BL_SAID ("Contingency"),
                    bl_money_scale (cost, rules->contingency),
                    share_words (sheet, rules->contingency, BL_SAID ("cost"), cost));
  bl_sheet_add_sum (sheet, "adjust:warranty", BL_SECTION_ADJUST, BL_SAID ("Warranty on plants"),
                    bl_money_scale (covered, rules->warranty),
                    share_words (sheet, rules->warranty, BL_SAID ("plants and planting"), covered));
  add_profit (sheet);
  add_end_of_price (sheet);
  add_tax (sheet);
}
