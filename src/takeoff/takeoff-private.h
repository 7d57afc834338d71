/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the take-off: its three parts, and what they share. */
#pragma once

#include "takeoff/takeoff.h"

void bl_takeoff_count_plants (BlTakeoff *takeoff);
void bl_takeoff_measure_materials (BlTakeoff *takeoff);
void bl_takeoff_reckon_work (BlTakeoff *takeoff);
void bl_takeoff_note (BlTakeoff *takeoff, const char *format, ...) G_GNUC_PRINTF (2, 3);
void bl_takeoff_add_material (BlTakeoff *takeoff, BlMaterial material);
const BlPriceBook *bl_takeoff_book (const BlTakeoff *takeoff);
/* Plants of a bed that hold a collar free of mulch: all but summer-dormant bulbs. */
guint bl_takeoff_stems (const BlTakeoff *takeoff, gint64 bed_id);
/* "%.2f" without trailing zeros, with a point in any locale. */
/* Length of bed line to edge, metres, and (out) how much of it an edged bed before it has done:
 * where beds touch there is one edging. */
double bl_takeoff_edged (const BlTakeoff *takeoff, const BlBed *bed, double *shared);
char *bl_figure (double value);
void bl_takeoff_plan_watering (BlTakeoff *takeoff);
