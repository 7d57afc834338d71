/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts in the same look: bloom through the year, heights from the viewing side, colour
 * balance. */
#pragma once

#include <cairo.h>

#include "layout/layout.h"

/* Words in the reader's language; NULL for English in the text face. */
typedef struct
{
  const char *font;            /* NULL = Lato */
  const char *const *initials; /* of the twelve months, NULL = English */
  const char *gap;             /* "Shaded: a month without flowers." */
} BlChartWords;

/* One plant's ribbon through the twelve months of a site: leaf and flower colours; @width x @height device
 * independent units at the current point (0, 0). @month 0 = no mark. */
void bl_chart_ribbon (cairo_t *cr, const BlPlant *plant, const BlSite *site, double width,
                      double height, double month);
/* All plants of an alternative, one row each with its name, gaps in flower marked. Returns the
 * height used. */
double bl_chart_bloom (cairo_t *cr, const BlLayout *layout, double width, double row_height,
                       double month, const BlChartWords *words);
/* The same height without drawing. */
double bl_chart_bloom_height (const BlLayout *layout, double row_height);
/* Heights along the bed as seen from the viewing side, at an age. */
void bl_chart_heights (cairo_t *cr, const BlLayout *layout, BlMoment moment, double width,
                       double height, const BlChartWords *words);
/* Share of each colour in the picture by month. */
void bl_chart_colors (cairo_t *cr, const BlLayout *layout, double width, double height,
                      const BlChartWords *words);
/* Text with its middle at @y; @align 0 left, 0.5 middle, 1 right; cut with an ellipsis at @width
 * when that is not 0. */
void bl_chart_text (cairo_t *cr, double x, double y, double width, double align, double size,
                    const BlChartWords *words, const char *text, gboolean markup);
const char *bl_chart_initial (const BlChartWords *words, int month); /* 0 .. 11 */
/* Months (1..12) in which something flowers: bit set, bit 1 = January. */
guint bl_layout_bloom_months (const BlLayout *layout);
/* The kinds of plants of an alternative, each once, in order of first flower: (element-type
 * BlPlant),
 * borrowed. Returns: (transfer container). */
GPtrArray *bl_layout_kinds (const BlLayout *layout);
