/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours: sRGB, CIELAB and the colour difference CIEDE2000. */
#pragma once

#include <glib.h>

/* sRGB components 0..1, not premultiplied. */
typedef struct
{
  double r, g, b, a;
} BlColor;

typedef struct
{
  double L, a, b; /* CIELAB under D65 */
} BlLab;

gboolean bl_color_parse (const char *hex, BlColor *color); /* "#rrggbb" or "#rgb" */
char *bl_color_format (BlColor color);                     /* "#rrggbb" */
BlColor bl_color_mix (BlColor a, BlColor b, double t); /* t = 0 gives a, 1 b; in linear light */
BlColor bl_color_lighten (BlColor c, double amount); /* -1 black .. 0 same .. 1 white, in Lab */
BlColor bl_color_saturate (BlColor c, double factor);      /* chroma multiplied, in Lab */
BlLab bl_color_to_lab (BlColor color);
BlColor bl_color_from_lab (BlLab lab);                     /* clipped to sRGB */
/* Sharma, Wu and Dalal 2005, kL = kC = kH = 1. */
double bl_color_difference (BlLab a, BlLab b);
/* WCAG 2 contrast ratio, 1..21. */
double bl_color_contrast (BlColor a, BlColor b);
