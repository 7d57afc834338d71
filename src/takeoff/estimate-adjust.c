/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From cost to total: overhead, contingency, warranty, profit, discount, minimum, tax. */
#include <math.h>
#include <string.h>

#include "takeoff/estimate-private.h"
#include "takeoff/takeoff-private.h"

static char *
share_words (const BlSheet *sheet, double share, const char *of, gint64 base)
{
  g_autofree char *percent = bl_figure (100 * share);
  g_autofree char *amount = bl_money_format (base, sheet->estimate->currency);

  return g_strdup_printf ("%s %% of %s %s", percent, of, amount);
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

static void
add_overhead (BlSheet *sheet)
{
  const BlPriceRules *rules = &sheet->book->rules;
  gint64 labour = sheet->estimate->section_total[BL_SECTION_LABOUR], amount = 0;
  char *how = NULL;

  switch (rules->overhead_method)
    {
    case BL_OVERHEAD_ON_LABOUR:
      amount = bl_money_scale (labour, rules->overhead);
      how = share_words (sheet, rules->overhead, "labour", labour);
      break;
    case BL_OVERHEAD_ON_ALL:
      amount = bl_money_scale (sheet->estimate->cost, rules->overhead);
      how = share_words (sheet, rules->overhead, "cost", sheet->estimate->cost);
      break;
    case BL_OVERHEAD_PER_HOUR:
      {
        double hours = labour_hours (sheet);
        gint64 rate = llround (CLAMP (rules->overhead, 0, 1e12));
        g_autofree char *each = bl_money_format (rate, sheet->estimate->currency);
        g_autofree char *count = bl_figure (hours);

        amount = bl_money_scale (rate, hours);
        how = g_strdup_printf ("%s h × %s", count, each);
      }
      break;
    case BL_OVERHEAD_NONE:
    default:
      break;
    }
  bl_sheet_add_sum (sheet, "adjust:overhead", BL_SECTION_ADJUST, "Overhead", amount, how);
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
  gint64 base = sheet->estimate->total, amount;
  g_autofree char *percent = bl_figure (100 * rules->profit);
  g_autofree char *from = bl_money_format (base, sheet->estimate->currency);
  char *how;

  if (rules->use_margin)
    {
      double margin = CLAMP (rules->profit, 0, 0.99);

      amount = bl_money_scale (base, 1 / (1 - margin)) - base;
      how = g_strdup_printf ("margin: %s %% of the price; %s ÷ (1 − %.4g) − %s", percent, from,
                             margin, from);
    }
  else
    {
      amount = bl_money_scale (base, rules->profit);
      how = g_strdup_printf ("markup: %s %% on %s", percent, from);
    }
  bl_sheet_add_sum (sheet, "adjust:profit", BL_SECTION_ADJUST, "Profit", amount, how);
}

static void
add_end_of_price (BlSheet *sheet)
{
  const BlPriceRules *rules = &sheet->book->rules;
  gint64 price = sheet->estimate->total, missing;
  g_autofree char *minimum = bl_money_format (rules->minimum, sheet->estimate->currency);

  bl_sheet_add_sum (sheet, "adjust:discount", BL_SECTION_ADJUST, "Discount",
                    -bl_money_scale (price, rules->discount),
                    share_words (sheet, rules->discount, "the price", price));
  missing = rules->minimum > 0 ? MAX (rules->minimum - sheet->estimate->total, 0) : 0;
  bl_sheet_add_sum (sheet, "adjust:minimum", BL_SECTION_ADJUST, "To the minimum charge", missing,
                    g_strdup_printf ("smallest job %s", minimum));
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
      of = "plants and materials at cost";
      break;
    case BL_TAX_PLANTS:
      base = estimate->cost > 0 ? bl_money_scale (plants, (double) price / (double) estimate->cost)
                                : 0;
      of = "plants at selling price";
      break;
    case BL_TAX_EVERYTHING:
      base = price;
      of = "the whole price";
      break;
    case BL_TAX_NONE:
    default:
      break;
    }
  bl_sheet_add_sum (sheet, "tax:tax", BL_SECTION_TAX,
                    rules->tax_name != NULL && rules->tax_name[0] != '\0' ? rules->tax_name : "Tax",
                    bl_money_scale (base, rules->tax_rate),
                    share_words (sheet, rules->tax_rate, of, base));
}

void
bl_sheet_adjust (BlSheet *sheet)
{
  const BlPriceRules *rules = &sheet->book->rules;
  gint64 cost = sheet->estimate->cost, covered = warranted (sheet);

  add_overhead (sheet);
  bl_sheet_add_sum (sheet, "adjust:contingency", BL_SECTION_ADJUST, "Contingency",
                    bl_money_scale (cost, rules->contingency),
                    share_words (sheet, rules->contingency, "cost", cost));
  bl_sheet_add_sum (sheet, "adjust:warranty", BL_SECTION_ADJUST, "Warranty on plants",
                    bl_money_scale (covered, rules->warranty),
                    share_words (sheet, rules->warranty, "plants and planting", covered));
  add_profit (sheet);
  add_end_of_price (sheet);
  add_tax (sheet);
}
