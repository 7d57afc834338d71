/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the take-off: its three parts, and what they share. */
#pragma once

#include "takeoff/takeoff.h"

/* A layer that may be bought loose or in bags. */
typedef struct
{
  guint at;              /* of the one that is taken, in the take-off's materials */
  gboolean bags;         /* which that is */
  BlMaterial other;      /* the one that is not */
  gint64 loose_cost, bagged_cost; /* minor units; loose goods with their delivery */
  double n_bags;
} BlGoodsChoice;

void bl_takeoff_count_plants (BlTakeoff *takeoff);
void bl_takeoff_measure_materials (BlTakeoff *takeoff);
/* @choices: (element-type BlGoodsChoice): filled by the first; decided by the second once all else
 * is measured. */
void bl_takeoff_measure_layers (BlTakeoff *takeoff, GArray *choices);
void bl_takeoff_spread (BlTakeoff *takeoff);
void bl_takeoff_choose_goods (BlTakeoff *takeoff, GArray *choices);
void bl_takeoff_reckon_work (BlTakeoff *takeoff);
/* The words in the take-off's language. */
#define bl_takeoff_say(takeoff, english) bl_say ((takeoff)->language, (english))
/* @format is said in the take-off's language. */
void bl_takeoff_note (BlTakeoff *takeoff, const char *format, ...) G_GNUC_PRINTF (2, 3);
void bl_takeoff_add_material (BlTakeoff *takeoff, BlMaterial material);
const BlPriceBook *bl_takeoff_book (const BlTakeoff *takeoff);
/* Plants of a bed that hold a collar free of mulch: all but summer-dormant bulbs. */
guint bl_takeoff_stems (const BlTakeoff *takeoff, gint64 bed_id);
/* Length of bed line to edge, metres, and (out) how much of it an edged bed before it has done:
 * where beds touch there is one edging. */
double bl_takeoff_edged (const BlTakeoff *takeoff, const BlBed *bed, double *shared);
/* "%.2f" without trailing zeros, with a point in any locale. */
char *bl_figure (double value);
void bl_takeoff_plan_watering (BlTakeoff *takeoff);
