/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calendar dates: reading, writing and days of every year. */
#include "base/date.h"

#include "base/error.h"

static void
test_days (void)
{
  int y, m, d;

  g_assert_cmpuint (bl_day (1, 1, 1), ==, 1);
  g_assert_cmpuint (bl_day (2023, 2, 29), ==, 0);
  g_assert_cmpuint (bl_day (1900, 2, 29), ==, 0);
  g_assert_cmpuint (bl_day (2000, 2, 29), !=, 0);
  g_assert_cmpuint (bl_day (2026, 13, 1), ==, 0);
  g_assert_cmpuint (bl_day (2026, 0, 1), ==, 0);
  g_assert_cmpuint (bl_day (2026, 4, 31), ==, 0);
  /* The Unix epoch is day 719163 of the common era (a fact of the calendar). */
  g_assert_cmpuint (bl_day (1970, 1, 1), ==, 719163);
  for (BlDay day = bl_day (1999, 12, 1); day < bl_day (2005, 1, 1); day++)
    {
      g_autofree char *iso = bl_day_format_iso (day);

      bl_day_split (day, &y, &m, &d);
      g_assert_cmpuint (bl_day (y, m, d), ==, day);
      g_assert_cmpuint (bl_day_parse (iso, NULL), ==, day);
    }
}

static void
test_bad (void)
{
  static const char *const bad[] = { NULL, "", "2026-5-12", "2026-05-32", "12/05/2026",
                                     "2026-02-29", "2026-05-12 ", "20260512", "abcd-ef-gh",
                                     "0000-01-01" };
  BlMonthDay md;

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_cmpuint (bl_day_parse (bad[i], &error), ==, 0);
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
    }
  g_assert_false (bl_month_day_parse ("02-30", &md, NULL));
  g_assert_false (bl_month_day_parse ("5-5", &md, NULL));
  g_assert_false (bl_month_day_parse ("00-10", &md, NULL));
  g_assert_false (bl_month_day_parse (NULL, &md, NULL));
}

static void
test_every_year (void)
{
  BlMonthDay md;
  g_autofree char *text = NULL;

  g_assert_true (bl_month_day_parse ("02-29", &md, NULL));
  text = bl_month_day_format (md);
  g_assert_cmpstr (text, ==, "02-29");
  g_assert_cmpuint (bl_month_day_in (md, 2024), ==, bl_day (2024, 2, 29));
  g_assert_cmpuint (bl_month_day_in (md, 2025), ==, bl_day (2025, 2, 28));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/date/days", test_days);
  g_test_add_func ("/date/bad", test_bad);
  g_test_add_func ("/date/every-year", test_every_year);
  return g_test_run ();
}
