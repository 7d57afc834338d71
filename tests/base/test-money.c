/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Money: writing, reading and the one rounding rule. */
#include <math.h>

#include "base/error.h"
#include "base/rng.h"
#include "base/units.h"

static void
test_format (void)
{
  static const struct
  {
    gint64 minor;
    const char *currency, *text;
  } rows[] = {
    { 123450, "USD", "$1,234.50" },    { 123450, "EUR", "€1,234.50" },
    { 123450, "CHF", "CHF 1,234.50" }, { -5, "USD", "-$0.05" },
    { 0, "GBP", "£0.00" },             { 123450, "JPY", "¥123,450" },
    { 1234567, "KWD", "KWD 1,234.567" }, { 100000000, "USD", "$1,000,000.00" },
    { G_MININT64, "USD", "-$92,233,720,368,547,758.08" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = bl_money_format (rows[i].minor, rows[i].currency);

      g_assert_cmpstr (text, ==, rows[i].text);
    }
}

static void
test_parse (void)
{
  static const struct
  {
    const char *text, *currency;
    gint64 minor;
  } rows[] = {
    { "$1,234.50", "USD", 123450 }, { "1234.5", "USD", 123450 }, { "1 234,50", "EUR", 123450 },
    { "1.234,50 €", "EUR", 123450 }, { "1,234", "USD", 123400 }, { "12,5", "EUR", 1250 },
    { "-3", "USD", -300 }, { "−3.05", "USD", -305 }, { "chf 7", "CHF", 700 },
    { "¥1,200", "JPY", 1200 }, { "1.234", "KWD", 1234 }, { ".75", "USD", 75 },
    { "1'234.50", "CHF", 123450 }, { "1,234,567.89", "USD", 123456789 },
  };
  static const char *const bad[] = { NULL, "", "$", "abc", "1.2.3.4", "1.234", "12,34,56", "1e5",
                                     "nan", "inf", "--3", "5 EUR", "99999999999999999999",
                                     "1,2345", "3.001" };
  gint64 minor;

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_true (bl_money_parse (rows[i].text, rows[i].currency, &minor, &error));
      g_assert_cmpint (minor, ==, rows[i].minor);
    }
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;

      if (bl_money_parse (bad[i], "USD", &minor, &error))
        g_error ("“%s” was read as %" G_GINT64_FORMAT, bad[i], minor);
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
    }
}

static void
test_round_trip (void)
{
  static const char *const currencies[] = { "USD", "EUR", "JPY", "KWD", "CHF" };
  BlRng rng = bl_rng (3);

  for (int i = 0; i < 20000; i++)
    {
      const char *currency = currencies[i % G_N_ELEMENTS (currencies)];
      gint64 amount = (gint64) bl_rng_range (&rng, -1e11, 1e11), back;
      g_autofree char *text = bl_money_format (amount, currency);

      g_assert_true (bl_money_parse (text, currency, &back, NULL));
      g_assert_cmpint (back, ==, amount);
    }
}

/* Halves go away from zero, also where the factor is a hair under its decimal as a double. */
static void
test_scale (void)
{
  static const struct
  {
    gint64 amount;
    double factor;
    gint64 result;
  } rows[] = {
    { 150, 0.35, 53 },  { -150, 0.35, -53 }, { 5, 0.5, 3 },     { -5, 0.5, -3 }, { 100, 0.0725, 7 },
    { 1000, 0.0725, 73 }, { 10, 1.045, 10 }, { 100, 1.045, 105 }, { 0, 3.3, 0 },
    { 33, 1.0 / 3, 11 }, { 43778, 0.2, 8756 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpint (bl_money_scale (rows[i].amount, rows[i].factor), ==, rows[i].result);
  g_assert_cmpint (bl_money_scale (G_MAXINT64, 10), ==, G_MAXINT64);
  g_assert_cmpint (bl_money_scale (5, NAN), ==, 0);
  /* Every decimal percentage of every small amount, against whole-number arithmetic. */
  for (gint64 amount = 0; amount < 400; amount++)
    for (gint64 percent = 0; percent <= 200; percent++)
      g_assert_cmpint (bl_money_scale (amount, (double) percent / 100), ==,
                       (amount * percent + 50) / 100);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/money/format", test_format);
  g_test_add_func ("/money/parse", test_parse);
  g_test_add_func ("/money/round-trip", test_round_trip);
  g_test_add_func ("/money/scale", test_scale);
  return g_test_run ();
}
