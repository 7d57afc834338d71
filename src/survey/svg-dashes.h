/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many dashes an SVG would be drawn with: every one costs time and memory, also those out of sight. */
#pragma once

#include <glib.h>

/* The style sheet for a drawing of too many: its lines are drawn without gaps. */
#define BL_SVG_SOLID "*{stroke-dasharray:none !important}"

/* What was found in a drawing, whoever uses it. All zero to begin with; INFINITY for what cannot be told. */
typedef struct
{
  double density; /* dashes and gaps per user unit of line, of the finest pattern */
  double font;    /* user units, the largest */
  double unknown; /* INFINITY when lengths cannot be told from the attributes, else 0 */
} BlSvgDashes;

/* Takes in the patterns and sizes of an element's attributes (NULL-terminated, as from GMarkup).
 * @element: its name without a prefix. Returns: at least the length of its outline in user units, without
 * that of letters (SVG 1.1, chapters 8 and 9); INFINITY when its attributes alone do not tell. */
double bl_svg_dashes_take (BlSvgDashes *self, const char *element, const char **names,
                           const char **values);
/* Takes in a style sheet. */
void bl_svg_dashes_take_sheet (BlSvgDashes *self, const char *css);
/* Dashes and gaps of outlines of @length user units and of @letters letters. */
double bl_svg_dashes_count (const BlSvgDashes *self, double length, double letters);
