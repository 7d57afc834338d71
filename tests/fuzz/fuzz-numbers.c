/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person types: lengths, money, dates, zones, colours, and the short lists of a cell. */
#include "fuzz.h"

#include <math.h>

#include "base/color.h"
#include "base/date.h"
#include "base/units.h"
#include "design/numbers.h"
#include "site/site.h"

/* A length that is read is one that can be written, and the written one is read as the same. */
static void
try_length (const char *text)
{
  for (int units = BL_UNITS_FEET; units <= BL_UNITS_METRES; units++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *shown = NULL, *exact = NULL, *decimal = NULL;
      double metres = NAN, again = NAN;

      if (!bl_length_parse (text, (BlUnits) units, &metres, &error))
        {
          fuzz_check_error (error);
          continue;
        }
      g_assert_true (fabs (metres) <= 1e5);
      shown = bl_length_format (metres, (BlUnits) units);
      decimal = bl_length_format_decimal (metres, (BlUnits) units, 3);
      exact = bl_number_format (metres, (BlUnits) units);
      g_assert_true (bl_length_parse (exact, (BlUnits) units, &again, NULL));
      g_assert_cmpfloat (again, ==, metres);
    }
}

/* Plain digits with a point and an exponent mean what the C library says, in feet too. */
static void
try_plain_number (const char *text)
{
  char *end = NULL;
  double value = g_ascii_strtod (text, &end), metres = NAN;

  for (const char *p = text; *p != '\0'; p++)
    if (!g_ascii_isdigit (*p) && *p != '.' && *p != 'e' && *p != '-')
      return;
  if (end == text || *end != '\0' || !bl_length_parse (text, BL_UNITS_FEET, &metres, NULL))
    return;
  g_assert_true (isfinite (value));
  value *= BL_METRES_PER_FOOT;
  g_assert_cmpfloat (fabs (metres - value), <=, 1e-12 * fabs (value) + 1e-300);
}

static void
try_money (const char *text)
{
  static const char *const currencies[] = { "USD", "JPY", "KWD" };

  for (guint i = 0; i < G_N_ELEMENTS (currencies); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *shown = NULL;
      gint64 minor = 0;

      if (!bl_money_parse (text, currencies[i], &minor, &error))
        fuzz_check_error (error);
      shown = bl_money_format (minor, currencies[i]);
    }
}

static void
try_dates (const char *text)
{
  g_autoptr (GError) error = NULL, other = NULL;
  BlDay day = bl_day_parse (text, &error);
  BlMonthDay md = { 0 };

  if (day != 0)
    {
      g_autofree char *iso = bl_day_format_iso (day);

      g_assert_cmpstr (iso, ==, text);
    }
  else
    fuzz_check_error (error);
  if (bl_month_day_parse (text, &md, &other))
    {
      g_autofree char *again = bl_month_day_format (md);

      g_assert_cmpstr (again, ==, text);
      g_assert_cmpuint (bl_month_day_in (md, 2027), !=, 0);
    }
  else
    fuzz_check_error (other);
}

static void
try_lists (const char *text)
{
  g_autoptr (GError) error = NULL, second = NULL, third = NULL;
  g_autoptr (BlPoints) points = bl_points_from_text (text, 500, &error);
  g_auto (GStrv) names = bl_names_from_text (text, 50, &second);
  g_autofree gboolean *flags = NULL;

  if (points != NULL)
    {
      g_autofree char *written = bl_points_to_text (points);
      g_autoptr (BlPoints) again = bl_points_from_text (written, 500, NULL);

      g_assert_nonnull (again);
      g_assert_cmpuint (again->len, ==, points->len);
    }
  else
    fuzz_check_error (error);
  if (names != NULL)
    {
      g_autofree char *written = bl_names_to_text ((const char *const *) names);
      g_auto (GStrv) again = bl_names_from_text (written, 50, NULL);

      g_assert_true (again != NULL && g_strv_equal ((const char *const *) names, (const char *const *) again));
    }
  else
    fuzz_check_error (second);
  if (!bl_flags_from_text (text, 40, &flags, &third))
    fuzz_check_error (third);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autofree char *text = fuzz_text (data, size);
  g_autoptr (GError) error = NULL;
  BlColor color;

  /* The edge hands over text that is UTF-8: an entry, a cell of a checked table or file, a sheet. */
  if (!g_utf8_validate (text, -1, NULL))
    return 0;
  try_lists (text);
  try_length (text);
  try_plain_number (text);
  try_money (text);
  try_dates (text);
  if (bl_zone_parse (text, &error) == 0)
    fuzz_check_error (error);
  if (bl_color_parse (text, &color))
    g_free (bl_color_format (color));
  return 0;
}
