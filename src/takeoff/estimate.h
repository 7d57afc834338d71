/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The estimate: lines, sections, total; each amount traceable to the drawing and price book. */
#pragma once

#include "takeoff/takeoff.h"

typedef enum
{
  BL_SECTION_PLANTS,
  BL_SECTION_MATERIALS,
  BL_SECTION_LABOUR,
  BL_SECTION_DELIVERY,   /* delivery, equipment, disposal */
  BL_SECTION_ADJUST,     /* overhead, profit, contingency, warranty, discount, minimum */
  BL_SECTION_TAX,
  BL_SECTION_N
} BlSection;

typedef struct
{
  char *key;             /* stable: "plant:echinacea-purpurea|#1", "material:mulch-bulk",
                            "labour:plant-#1", "delivery:delivery-load", "disposal:disposal",
                            "equipment:equipment-day", "adjust:overhead", "tax:tax" */
  BlSection section;
  char *name;
  char *unit;            /* as the person sees it: "cu yd" in a design in feet */
  double si;             /* price book units (m3, m2, m, each, h) in one of @unit */
  double quantity;       /* in @unit, to two decimals: quantity × rate is the amount */
  gint64 rate;           /* minor units a @unit; 0 for adjustments */
  gint64 amount;         /* minor units, rounded by the one rule */
  char *how;             /* "area 11.84 m² ± 0.20 × 75 mm = 0.89 m³, up to 1.0 m³ ..." */
  gboolean overridden;   /* the person's own figure */
  gboolean invented;     /* priced by a shipped, invented figure */
} BlEstimateLine;

/* What the client may tick: lines left out of the total, and what the total grows by when they
 * come in (with their share of overhead, profit and tax), each option for itself. */
typedef struct
{
  char *name;            /* the note of the lines' mark, else the line's name */
  GArray *lines;         /* BlEstimateLine */
  gint64 price;          /* minor units */
} BlEstimateOption;

typedef struct
{
  gatomicrefcount refs;
  GArray *lines;         /* BlEstimateLine, in order of sections */
  gint64 section_total[BL_SECTION_N];
  gint64 cost;           /* plants + materials + labour + delivery */
  gint64 price;          /* before tax */
  gint64 tax;
  gint64 total;          /* = sum of all lines */
  gint64 total_low, total_high; /* 95 % range from the measured area */
  gint64 deposit;
  GArray *options;       /* BlEstimateOption, in order of their first lines */
  gboolean any_invented;
  char *currency;
} BlEstimate;

/* The rules, in their order. Cost is plants, materials, labour and delivery. Overhead is a share of
 * labour or of cost, or a sum an hour; contingency a share of cost; warranty a share of plants and
 * of planting them. Profit is a markup on all of these, or the margin that leaves its share of the
 * price. Then the discount, then what is missing to the minimum charge. Tax is on nothing, on
 * plants and materials at cost, on plants at selling price (what they would be offered for alone,
 * so without overhead on labour or by the hour), or on the price.
 *
 * An override's "quantity" is in price book units (quantity typed × line.si) and its "rate" in
 * minor units of money a price book unit (rate typed / line.si), so that it keeps its meaning when
 * the design changes from feet to metres; an adjustment's "rate" is its amount. An override of a
 * price book item that the take-off does not need ("material:fabric", "equipment:equipment-day")
 * adds it.
 *
 * A line whose "optional" override is not 0 is left out of lines and sums and told in options;
 * lines whose marks share a note are one option ("Landscape fabric, laid").
 *
 * Uses the price book and overrides of the takeoff's model. Never fails. */
BlEstimate *bl_estimate_compute (const BlTakeoff *takeoff);
BlEstimate *bl_estimate_ref (BlEstimate *estimate);
void bl_estimate_unref (BlEstimate *estimate);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlEstimate, bl_estimate_unref)
/* "Plants" in @language; NULL = English. */
const char *bl_section_name (BlSection section, const char *language);
/* Take-off and estimate as JSON text for the command line. */
char *bl_estimate_to_json (const BlTakeoff *takeoff, const BlEstimate *estimate);
