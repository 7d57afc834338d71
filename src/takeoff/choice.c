/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loose or bagged: the choice by what the whole job comes to.
 *
 * Why by the whole: more ground must never cost less. With the choices held fixed the total never
 * falls when the ground grows, for every quantity only grows and each step from there to the total
 * only grows with what goes into it:
 *
 *     amount    = round (rate × quantity)                    grows with the quantity
 *     overhead, contingency, warranty, profit = round (share × base), shares not below 0
 *     discount  : price − round (d × price), d ≤ 1           one unit more is never two units less
 *     minimum   = max (price, minimum)
 *     tax       = round (rate × base), the base growing with each thing that is in it
 *
 * (a base of plants at selling price holds plants only, see bl_sheet_adjust(); were it
 * plants × price / cost, it would fall when other goods are added.) The total of the job is then
 * the least of up to four totals, one a set of choices, and the least of growing things grows. A
 * choice by the bare cost of the layer has no such bond: where goods are taxed and their delivery
 * is not, or the minimum charge swallows the price but not the tax, the moment it changes from bags
 * to loose goods the tax falls and the total with it.
 *
 * That holds for the same plants and rules, without figures set by hand. */
#include <string.h>

#include "takeoff/estimate-private.h"
#include "takeoff/takeoff-private.h"

static void
swap (BlTakeoff *takeoff, BlGoodsChoice *choice)
{
  BlMaterial *material = &g_array_index (takeoff->materials, BlMaterial, choice->at);
  BlMaterial now = *material;

  *material = choice->other;
  choice->other = now;
  choice->bags = !choice->bags;
  takeoff->mass += material->mass - now.mass;
}

/* Brings the choices to @set: bit i stands for "not as at first" of choice i. */
static void
take (BlTakeoff *takeoff, GArray *choices, guint *now, guint set)
{
  for (guint i = 0; i < choices->len; i++)
    if (((*now ^ set) >> i & 1) != 0)
      swap (takeoff, &g_array_index (choices, BlGoodsChoice, i));
  *now = set;
}

/* Names both and says why this one: asked for, cheaper by itself, or cheaper in the total. */
static void
tell (BlTakeoff *takeoff, const BlGoodsChoice *choice)
{
  const BlModel *model = takeoff->layout->model;
  BlMaterial *material = &g_array_index (takeoff->materials, BlMaterial, choice->at);
  g_autofree char *a = bl_money_format (choice->loose_cost, model->currency);
  g_autofree char *b = bl_money_format (choice->bagged_cost, model->currency);
  gboolean cheaper = choice->bags == (choice->bagged_cost < choice->loose_cost);
  /* What was decided, and why. */
  const char *verdict
    = choice->bags
        ? (cheaper ? bl_takeoff_say (takeoff, "bags cost less")
           : model->prices->rules.prefer_bags ? bl_takeoff_say (takeoff, "bags are asked for")
                                              : bl_takeoff_say (takeoff, "bags cost less with tax"))
        : (cheaper ? bl_takeoff_say (takeoff, "loose cost less")
                   : bl_takeoff_say (takeoff, "loose cost less with tax"));
  char *how = g_strdup_printf (
    bl_takeoff_say (takeoff, "%s; loose with its delivery %s, %.0f bags %s: %s"), material->how, a,
    choice->n_bags, b, verdict);

  g_free (material->how);
  material->how = how;
}

void
bl_takeoff_choose_goods (BlTakeoff *takeoff, GArray *choices)
{
  guint now = 0, best = 0;
  gint64 least = 0;

  if (choices->len > 0 && !takeoff->layout->model->prices->rules.prefer_bags)
    {
      least = bl_estimate_total (takeoff);
      for (guint set = 1; set < 1u << choices->len; set++)
        {
          gint64 total;

          take (takeoff, choices, &now, set);
          total = bl_estimate_total (takeoff);
          if (total < least)
            {
              least = total;
              best = set;
            }
        }
      take (takeoff, choices, &now, best);
    }
  for (guint i = 0; i < choices->len; i++)
    tell (takeoff, &g_array_index (choices, BlGoodsChoice, i));
}
