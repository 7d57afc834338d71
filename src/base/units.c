/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's units at the edge: writing lengths, areas and volumes, and reading lengths. */
#include "config.h"

#include "base/units.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "base/say.h"

#define MAX_LENGTH 100000.0 /* metres */

const char *
bl_units_name (BlUnits units)
{
  return units == BL_UNITS_FEET ? "ft" : "m";
}

gboolean
bl_units_from_name (const char *name, BlUnits *units, GError **error)
{
  g_return_val_if_fail (units != NULL, FALSE);
  if (g_strcmp0 (name, "ft") == 0)
    *units = BL_UNITS_FEET;
  else if (g_strcmp0 (name, "m") == 0)
    *units = BL_UNITS_METRES;
  else
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("“%s” is not a unit here: write ft or m."),
                   name != NULL ? name : "");
      return FALSE;
    }
  return TRUE;
}

/* ---- reading ---- */

/* A unit as a fraction of a metre, so that "380 cm" is 380 / 100 and "42 in" 42 × 254 / 10000,
 * each rounded once. */
typedef struct
{
  const char *name;
  int numerator, denominator;
  gboolean imperial;
} Unit;

static const Unit unit_table[] = {
  { "'", 3048, 10000, TRUE },    { "ft", 3048, 10000, TRUE },   { "feet", 3048, 10000, TRUE },
  { "foot", 3048, 10000, TRUE }, { "\"", 254, 10000, TRUE },    { "in", 254, 10000, TRUE },
  { "inch", 254, 10000, TRUE },  { "inches", 254, 10000, TRUE }, { "yd", 9144, 10000, TRUE },
  { "yds", 9144, 10000, TRUE },  { "yard", 9144, 10000, TRUE }, { "yards", 9144, 10000, TRUE },
  { "m", 1, 1, FALSE },          { "metre", 1, 1, FALSE },      { "metres", 1, 1, FALSE },
  { "meter", 1, 1, FALSE },      { "meters", 1, 1, FALSE },     { "dm", 1, 10, FALSE },
  { "cm", 1, 100, FALSE },       { "mm", 1, 1000, FALSE },      { "km", 1000, 1, FALSE },
};

static const Unit *const feet_unit = &unit_table[1];
static const Unit *const inch_unit = &unit_table[5];
static const Unit *const metre_unit = &unit_table[12];

static long double
in_metres (long double value, const Unit *unit)
{
  return value * unit->numerator / unit->denominator;
}

/* Typographic marks as the plain ones: primes, curly quotes, minus, spaces, vulgar fractions. */
static char *
plain_text (const char *text)
{
  static const struct
  {
    gunichar from;
    const char *to;
  } map[] = {
    { 0x2032, "'" },  { 0x2019, "'" },  { 0x2018, "'" },  { 0xB4, "'" },    { 0x60, "'" },
    { 0x2033, "\"" }, { 0x201C, "\"" }, { 0x201D, "\"" }, { 0x201E, "\"" }, { 0x2212, "-" },
    { 0x2010, "-" },  { 0x2011, "-" },  { 0x2012, "-" },  { 0x2013, "-" },  { 0x2044, "/" },
    { 0xBD, " 1/2" }, { 0xBC, " 1/4" }, { 0xBE, " 3/4" }, { 0x215B, " 1/8" }, { 0x215C, " 3/8" },
    { 0x215D, " 5/8" }, { 0x215E, " 7/8" }, { 0x2153, " 1/3" }, { 0x2154, " 2/3" },
  };
  GString *plain = g_string_new (NULL);

  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      const char *to = NULL;

      for (guint i = 0; i < G_N_ELEMENTS (map); i++)
        if (map[i].from == c)
          to = map[i].to;
      if (to != NULL)
        g_string_append (plain, to);
      else if (g_unichar_isspace (c) || c == 0x2009 || c == 0x202F)
        g_string_append_c (plain, ' ');
      else
        g_string_append_unichar (plain, g_unichar_tolower (c));
    }
  /* Two single marks are a double one. */
  for (char *at; (at = strstr (plain->str, "''")) != NULL;)
    {
      at[0] = '"';
      g_string_erase (plain, at - plain->str + 1, 1);
    }
  g_strstrip (plain->str);
  return g_string_free (plain, FALSE);
}

static const char *
skip_spaces (const char *p)
{
  while (*p == ' ')
    p++;
  return p;
}

static guint
digits_at (const char *p)
{
  guint n = 0;

  while (g_ascii_isdigit (p[n]))
    n++;
  return n;
}

/* The decimal text in @digits (digits, one point, an exponent) as precisely as a long double
 * allows, so that feet read back to the same metres. */
static long double
decimal_value (const char *digits)
{
  guint64 mantissa = 0;
  int exponent = 0, power = 0;
  gboolean point = FALSE;
  const char *p = digits;

  for (; g_ascii_isdigit (*p) || *p == '.'; p++)
    {
      if (*p == '.')
        point = TRUE;
      else if (mantissa < G_GUINT64_CONSTANT (1000000000000000000))
        {
          mantissa = mantissa * 10 + (guint64) (*p - '0');
          exponent -= point;
        }
      else
        exponent += !point;
    }
  if (*p == 'e')
    power = (int) CLAMP (g_ascii_strtoll (p + 1, NULL, 10), -400, 400);
  exponent += power;
  return exponent < 0 ? mantissa / powl (10, -exponent) : mantissa * powl (10, exponent);
}

typedef enum
{
  NUMBER_OK,
  NUMBER_NONE,
  NUMBER_AMBIGUOUS
} NumberState;

/* Digits with a point or a comma. "1,250" is refused because it is 1.25 to some and 1250 to
 * others; "0,125" and "1,250.5" are clear. */
static NumberState
scan_decimal (const char **at, GString *digits)
{
  const char *p = *at;
  guint whole = digits_at (p);

  g_string_append_len (digits, p, whole);
  p += whole;
  if (*p == ',' && digits_at (p + 1) == 3 && p[4] == '.' && whole >= 1 && whole <= 3)
    {
      g_string_append_len (digits, p + 1, 3);
      p += 4;
    }
  if ((*p == '.' || *p == ',') && (digits_at (p + 1) > 0 || whole > 0))
    {
      guint fraction = digits_at (p + 1);

      if (*p == ',' && fraction == 3 && whole >= 1 && whole <= 3 && **at != '0')
        return NUMBER_AMBIGUOUS;
      g_string_append_c (digits, '.');
      g_string_append_len (digits, p + 1, fraction);
      p += 1 + fraction;
      whole += fraction;
    }
  if (whole == 0)
    return NUMBER_NONE;
  if (*p == 'e' && digits_at (p + 1 + (p[1] == '-' || p[1] == '+')) > 0)
    {
      guint n = 1 + (p[1] == '-' || p[1] == '+');

      n += digits_at (p + n);
      g_string_append_len (digits, p, n);
      p += n;
    }
  *at = p;
  return NUMBER_OK;
}

static gboolean
scan_fraction (const char **at, long double *value)
{
  const char *p = *at;
  guint top = digits_at (p), bottom;
  long double denominator;

  if (top == 0 || top > 6)
    return FALSE;
  bottom = p[top] == '/' ? digits_at (p + top + 1) : 0;
  if (bottom == 0 || bottom > 6)
    return FALSE;
  denominator = decimal_value (p + top + 1);
  if (denominator == 0)
    return FALSE;
  *value = decimal_value (p) / denominator;
  *at = p + top + 1 + bottom;
  return TRUE;
}

/* "6", "6.5", "1/2", "6 1/2" or "6-1/2". */
static NumberState
scan_number (const char **at, long double *value, double *exact)
{
  g_autoptr (GString) digits = g_string_new (NULL);
  const char *p = *at;
  long double fraction;
  NumberState state;

  *exact = NAN;
  if (scan_fraction (at, value))
    return NUMBER_OK;
  state = scan_decimal (&p, digits);
  if (state != NUMBER_OK)
    return state;
  *value = decimal_value (digits->str);
  *exact = g_ascii_strtod (digits->str, NULL);
  *at = p;
  if (strpbrk (digits->str, ".e") == NULL && (*p == ' ' || *p == '-'))
    {
      p = skip_spaces (p);
      if (*p == '-')
        p = skip_spaces (p + 1);
      if (scan_fraction (&p, &fraction) && fraction < 1)
        {
          *value += fraction;
          *exact = NAN;
          *at = p;
        }
    }
  return NUMBER_OK;
}

static const Unit *
scan_unit (const char **at)
{
  const char *p = skip_spaces (*at);
  guint n = 0;

  if (*p == '\'' || *p == '"')
    n = 1;
  else
    while (g_ascii_isalpha (p[n]))
      n++;
  for (guint i = 0; n > 0 && i < G_N_ELEMENTS (unit_table); i++)
    if (strlen (unit_table[i].name) == n && strncmp (unit_table[i].name, p, n) == 0)
      {
        *at = p + n;
        if (**at == '.' && g_ascii_isalpha (p[0]))
          (*at)++; /* "in." */
        return &unit_table[i];
      }
  return NULL;
}

static gboolean
refuse (const char *text, const char *why, GError **error)
{
  g_autofree char *shown = g_utf8_make_valid (text != NULL ? text : "", -1);

  g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
               _("“%s” %s: write a length like 12' 6\", 42 in, 3.8 m or 380 cm."), shown, why);
  return FALSE;
}

/* One quantity after another, each in a smaller unit than the one before ("1 yd 2 ft 3 in"). */
static gboolean
scan_quantities (const char *p, BlUnits bare, long double *metres, const char **why)
{
  const Unit *before = NULL;

  *metres = 0;
  do
    {
      long double value;
      double exact;
      const Unit *unit;
      NumberState state = scan_number (&p, &value, &exact);

      *why = state == NUMBER_AMBIGUOUS ? _("could be read two ways because of its comma")
                                       : _("is not a length");
      if (state != NUMBER_OK)
        return FALSE;
      unit = scan_unit (&p);
      if (unit == NULL && before == NULL)
        unit = bare == BL_UNITS_FEET ? feet_unit : metre_unit;
      else if (unit == NULL && before->numerator == 3048)
        unit = inch_unit;
      if (unit == NULL)
        return FALSE;
      if (before != NULL
          && (unit->imperial != before->imperial
              || in_metres (value, unit) >= in_metres (1, before) * (1 - 1e-12L)))
        {
          *why = _("has a second part that is more than one of the first");
          return FALSE;
        }
      if (before == NULL && unit->numerator == 1 && unit->denominator == 1 && !isnan (exact))
        value = exact; /* metres exactly as strtod reads them */
      *metres += in_metres (value, unit);
      before = unit;
      p = skip_spaces (p);
      if (*p == '\0')
        return TRUE;
      if (*p == '-' || *p == ',')
        p = skip_spaces (p + 1);
    }
  while (TRUE);
}

gboolean
bl_length_parse (const char *text, BlUnits bare, double *metres, GError **error)
{
  g_autofree char *plain = NULL;
  const char *p, *why = _("is not a length");
  long double sum;
  gboolean negative;

  g_return_val_if_fail (metres != NULL, FALSE);
  if (text == NULL || !g_utf8_validate (text, -1, NULL) || strlen (text) > 200)
    return refuse (text == NULL || strlen (text) > 200 ? "" : text, why, error);
  plain = plain_text (text);
  p = plain;
  negative = *p == '-';
  if (*p == '-' || *p == '+')
    p = skip_spaces (p + 1);
  if (!scan_quantities (p, bare, &sum, &why))
    return refuse (text, why, error);
  if (!isfinite ((double) sum) || sum > MAX_LENGTH)
    return refuse (text, _("is longer than 100 km"), error);
  *metres = negative ? -(double) sum : (double) sum;
  return TRUE;
}

/* ---- writing ---- */

/* Fixed decimals, never "-0.00". */
char *
bl_fixed_format (double value, int digits)
{
  char format[8], text[64];
  double unit = pow (10, -digits);

  if (!isfinite (value))
    return g_strdup ("–");
  if (fabs (value) < unit / 2)
    value = 0;
  g_snprintf (format, sizeof format, "%%.%df", CLAMP (digits, 0, 9));
  return g_strdup (g_ascii_formatd (text, sizeof text, format, value));
}

/* At most one decimal, and none where it is zero. */
static char *
trimmed (double value)
{
  char *text = bl_fixed_format (value, 1);

  if (g_str_has_suffix (text, ".0"))
    text[strlen (text) - 2] = '\0';
  return text;
}

char *
bl_length_format (double metres, BlUnits units)
{
  gint64 half, feet, rest;
  const char *sign, *fraction;

  if (!isfinite (metres) || fabs (metres) > 1e9)
    return g_strdup ("–");
  if (units == BL_UNITS_METRES)
    return bl_length_format_decimal (metres, units, 2);
  half = llround (fabs (metres) / (BL_METRES_PER_INCH / 2));
  sign = metres < 0 && half > 0 ? "-" : "";
  feet = half / 24;
  rest = half % 24;
  fraction = rest % 2 ? "½" : "";
  if (feet == 0 && rest == 1)
    return g_strdup_printf ("%s½\"", sign);
  if (feet == 0)
    return g_strdup_printf ("%s%" G_GINT64_FORMAT "%s\"", sign, rest / 2, fraction);
  return g_strdup_printf ("%s%" G_GINT64_FORMAT "' %" G_GINT64_FORMAT "%s\"", sign, feet,
                          rest / 2, fraction);
}

char *
bl_length_format_decimal (double metres, BlUnits units, int digits)
{
  g_autofree char *number
      = bl_fixed_format (units == BL_UNITS_FEET ? metres / BL_METRES_PER_FOOT : metres, digits);

  return g_strdup_printf ("%s %s", number, bl_units_name (units));
}

char *
bl_spacing_format (double metres, BlUnits units)
{
  g_autofree char *number
      = trimmed (units == BL_UNITS_FEET ? metres / BL_METRES_PER_INCH : metres * 100);

  return g_strdup_printf ("%s %s", number, units == BL_UNITS_FEET ? "in" : "cm");
}

static char *
area_number (double m2, BlUnits units)
{
  return units == BL_UNITS_FEET ? bl_fixed_format (m2 / BL_M2_PER_SQUARE_FOOT, 1) : bl_fixed_format (m2, 2);
}

char *
bl_area_format (double m2, BlUnits units, const char *language)
{
  g_autofree char *number = area_number (m2, units);

  return units == BL_UNITS_FEET ? g_strdup_printf (bl_say (language, BL_SAID ("%s sq ft")), number)
                                : g_strdup_printf ("%s m²", number);
}

char *
bl_area_format_interval (double m2, double sd_m2, BlUnits units, const char *language)
{
  g_autofree char *number = area_number (m2, units);
  g_autofree char *half = area_number (1.96 * sd_m2, units);

  if (!(sd_m2 > 0))
    return bl_area_format (m2, units, language);
  return units == BL_UNITS_FEET
    ? g_strdup_printf (bl_say (language, BL_SAID ("%s ± %s sq ft")), number, half)
    : g_strdup_printf ("%s ± %s m²", number, half);
}

char *
bl_volume_format (double m3, BlUnits units, const char *language)
{
  g_autofree char *number
      = bl_fixed_format (units == BL_UNITS_FEET ? m3 / BL_M3_PER_CUBIC_YARD : m3, 2);

  return units == BL_UNITS_FEET ? g_strdup_printf (bl_say (language, BL_SAID ("%s cu yd")), number)
                                : g_strdup_printf ("%s m³", number);
}

char *
bl_double_format (double value)
{
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };
  char text[64] = "";

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_ascii_formatd (text, sizeof text, formats[i], value);
      if (g_ascii_strtod (text, NULL) == value)
        break;
    }
  return g_strdup (text);
}

/* "%.*Lg" with a point whatever the locale says. */
static char *
long_double_text (long double value, int digits)
{
  GString *out = g_string_new (NULL);
  char text[64];

  g_snprintf (text, sizeof text, "%.*Lg", digits, value);
  for (const char *p = text; *p != '\0'; p++)
    {
      if (g_ascii_isdigit (*p) || strchr ("e+-", *p) != NULL)
        g_string_append_c (out, *p);
      else if (out->len == 0 || out->str[out->len - 1] != '.')
        g_string_append_c (out, '.');
    }
  return g_string_free (out, FALSE);
}

char *
bl_number_format (double metres, BlUnits units)
{
  long double feet;

  if (units == BL_UNITS_METRES || !isfinite (metres))
    return bl_double_format (metres);
  feet = (long double) metres * 10000 / 3048;
  for (int digits = 12; digits <= 19; digits++)
    {
      g_autofree char *text = long_double_text (feet, digits);
      const char *magnitude = text[0] == '-' ? text + 1 : text;
      double back = (double) in_metres (decimal_value (magnitude), feet_unit);

      if (back == fabs (metres))
        return g_steal_pointer (&text);
    }
  return long_double_text (feet, 21);
}
