/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts in the same look: bloom through the year, heights from the viewing side, colour
 * balance. */
#pragma once

#include <cairo.h>

#include "layout/layout.h"

/* One plant's ribbon through twelve months: leaf and flower colours; @width x @height device
 * independent units at the current point (0, 0). @month 0 = no mark. */
void bl_chart_ribbon (cairo_t *cr, const BlPlant *plant, BlZone zone, double width, double height,
                      double month);
/* All plants of an alternative, one row each with its name, gaps in flower marked. Returns the
 * height used. */
double bl_chart_bloom (cairo_t *cr, const BlLayout *layout, double width, double row_height,
                       double month, const char *font);
/* Heights along the bed as seen from the viewing side, at an age. */
void bl_chart_heights (cairo_t *cr, const BlLayout *layout, BlMoment moment, double width,
                       double height, const char *font);
/* Share of each colour in the picture by month. */
void bl_chart_colors (cairo_t *cr, const BlLayout *layout, double width, double height);
/* Months (1..12) in which something flowers: bit set, bit 1 = January. */
guint bl_layout_bloom_months (const BlLayout *layout);
/* The kinds of plants of an alternative, each once, in order of first flower: (element-type
 * BlPlant),
 * borrowed. Returns: (transfer container). */
GPtrArray *bl_layout_kinds (const BlLayout *layout);
