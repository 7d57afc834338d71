/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's units at the edge: reading and writing lengths, areas, volumes and money. */
#pragma once

#include <glib.h>

#define BL_METRES_PER_FOOT 0.3048 /* international foot, exact since 1959 */
#define BL_METRES_PER_INCH 0.0254
#define BL_METRES_PER_YARD 0.9144
#define BL_M3_PER_CUBIC_YARD (0.9144 * 0.9144 * 0.9144)
#define BL_M3_PER_CUBIC_FOOT (0.3048 * 0.3048 * 0.3048)
#define BL_M2_PER_SQUARE_FOOT (0.3048 * 0.3048)
#define BL_LITRES_PER_US_GALLON 3.785411784
#define BL_KG_PER_POUND 0.45359237 /* exact since 1959 */

typedef enum
{
  BL_UNITS_FEET,
  BL_UNITS_METRES
} BlUnits;

/* "ft" or "m". */
const char *bl_units_name (BlUnits units);
gboolean bl_units_from_name (const char *name, BlUnits *units, GError **error);

/**
 * bl_length_parse:
 * @text: such as "12' 6\"", "12 ft 6 in", "3.8 m", "42 in", "380 cm", "6-1/2", "1/2 in", "4 yd"
 * @bare: the unit of a number without one
 * @metres: (out): the length in metres; may be negative where the text is
 *
 * A decimal comma is taken as a point ("3,8 m"); typographic marks and the signs ′ and ″ too.
 * Not-a-number, infinities and lengths over 100 km are refused.
 */
gboolean bl_length_parse (const char *text, BlUnits bare, double *metres, GError **error);

/* A length as a person would write it: "12' 6\"" to the nearest 1/2 inch, or "3.81 m". */
char *bl_length_format (double metres, BlUnits units);
/* As a number in feet or metres with @digits decimals and the unit ("12.50 ft"). */
char *bl_length_format_decimal (double metres, BlUnits units, int digits);
/* A small length: "18 in" or "45 cm". */
char *bl_spacing_format (double metres, BlUnits units);
/* "127.4 sq ft" or "11.84 m²"; the words of @language ("es": "127.4 pies²"), as bl_say. */
char *bl_area_format (double m2, BlUnits units, const char *language);
/* An area with its 95 % half width: "127.4 ± 2.1 sq ft". */
char *bl_area_format_interval (double m2, double sd_m2, BlUnits units, const char *language);
/* "1.25 cu yd" or "0.96 m³". */
char *bl_volume_format (double m3, BlUnits units, const char *language);

/* @value with @digits decimals after a point, whatever the locale; never "-0.00"; "–" for what is no number. */
char *bl_fixed_format (double value, int digits);
/* The shortest decimal text of @metres in @units that reads back to the very same double. */
char *bl_number_format (double metres, BlUnits units);
/* The shortest decimal text that strtod gives back as @value. */
char *bl_double_format (double value);

/* Money is in minor units (cents); @currency an ISO 4217 code. "$1,234.50", "€1,234.50",
 * "CHF 1,234.50"; no minor units for currencies that have none. */
char *bl_money_format (gint64 minor, const char *currency);
/* Number of decimals of a currency (ISO 4217): 2 unless known to be 0 or 3. */
int bl_money_digits (const char *currency);
gboolean bl_money_parse (const char *text, const char *currency, gint64 *minor, GError **error);
/* @amount × @factor rounded half away from zero to whole minor units: the one rounding rule. */
gint64 bl_money_scale (gint64 amount, double factor);
