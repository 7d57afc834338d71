/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hardiness zones, heat zones and light classes against their published tables. */
#include <math.h>

#include "base/error.h"
#include "site/site.h"

/* USDA Plant Hardiness Zone Map: all 26 half zones, lower bounds in °F and the table's rounded °C.
 */
static const struct
{
  const char *name;
  double low_f, high_f, low_c, high_c;
} table[] = {
  { "1a", -60, -55, -51.1, -48.3 }, { "1b", -55, -50, -48.3, -45.6 },
  { "2a", -50, -45, -45.6, -42.8 }, { "2b", -45, -40, -42.8, -40.0 },
  { "3a", -40, -35, -40.0, -37.2 }, { "3b", -35, -30, -37.2, -34.4 },
  { "4a", -30, -25, -34.4, -31.7 }, { "4b", -25, -20, -31.7, -28.9 },
  { "5a", -20, -15, -28.9, -26.1 }, { "5b", -15, -10, -26.1, -23.3 },
  { "6a", -10, -5, -23.3, -20.6 },  { "6b", -5, 0, -20.6, -17.8 },
  { "7a", 0, 5, -17.8, -15.0 },     { "7b", 5, 10, -15.0, -12.2 },
  { "8a", 10, 15, -12.2, -9.4 },    { "8b", 15, 20, -9.4, -6.7 },
  { "9a", 20, 25, -6.7, -3.9 },     { "9b", 25, 30, -3.9, -1.1 },
  { "10a", 30, 35, -1.1, 1.7 },     { "10b", 35, 40, 1.7, 4.4 },
  { "11a", 40, 45, 4.4, 7.2 },      { "11b", 45, 50, 7.2, 10.0 },
  { "12a", 50, 55, 10.0, 12.8 },    { "12b", 55, 60, 12.8, 15.6 },
  { "13a", 60, 65, 15.6, 18.3 },    { "13b", 65, 70, 18.3, 21.1 },
};

static double
celsius (double f)
{
  return (f - 32.0) / 1.8;
}

static void
test_table (void)
{
  guint i = 0;

  g_assert_cmpuint (G_N_ELEMENTS (table), ==, 26);
  for (i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_autoptr (GError) error = NULL;
      BlZone zone = bl_zone_parse (table[i].name, &error);
      g_autofree char *back = bl_zone_format (zone);
      double low = 0, high = 0;

      g_assert_no_error (error);
      g_assert_cmpstr (back, ==, table[i].name);
      bl_zone_range (zone, &low, &high);
      /* The table is rounded to a tenth of a degree. */
      g_assert_cmpfloat_with_epsilon (low, table[i].low_c, 0.05001);
      g_assert_cmpfloat_with_epsilon (high, table[i].high_c, 0.05001);
      /* The lower bound is inside, the upper bound belongs to the next zone. */
      g_assert_cmpint (bl_zone_for_temperature (celsius (table[i].low_f)), ==, zone);
      g_assert_cmpint (bl_zone_for_temperature (celsius (table[i].low_f + 0.01)), ==, zone);
      g_assert_cmpint (bl_zone_for_temperature (celsius (table[i].high_f - 0.01)), ==, zone);
      if (i + 1 < G_N_ELEMENTS (table))
        g_assert_cmpint (bl_zone_for_temperature (celsius (table[i].high_f)), ==, zone + 1);
    }
  g_assert_cmpint (bl_zone_for_temperature (-80), ==, bl_zone_parse ("1a", NULL));
  g_assert_cmpint (bl_zone_for_temperature (40), ==, bl_zone_parse ("13b", NULL));
  g_assert_cmpint (bl_zone_for_temperature (NAN), ==, 0);
}

static void
test_words (void)
{
  static const char *const bad[] = { "", "zone 5", "0a", "14a", "5c", "5bb", "-5", "b5" };
  guint i = 0;

  g_assert_cmpint (bl_zone_parse ("5", NULL), ==, bl_zone_parse ("5a", NULL));
  g_assert_cmpint (bl_zone_parse (" 5B ", NULL), ==, 11);
  for (i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_cmpint (bl_zone_parse (bad[i], &error), ==, 0);
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_assert_nonnull (strstr (error->message, "hardiness zone"));
    }
}

/* American Horticultural Society Plant Heat Zone Map, 1997: days above 86 °F. */
static void
test_heat (void)
{
  static const struct
  {
    double days;
    int zone;
  } heat[] = { { 0, 1 },    { 0.9, 1 },  { 1, 2 },    { 7, 2 },    { 7.5, 3 }, { 14, 3 },
               { 15, 4 },   { 30, 4 },   { 31, 5 },   { 45, 5 },   { 46, 6 },  { 60, 6 },
               { 61, 7 },   { 90, 7 },   { 91, 8 },   { 120, 8 },  { 121, 9 }, { 150, 9 },
               { 151, 10 }, { 180, 10 }, { 181, 11 }, { 210, 11 }, { 211, 12 } };
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (heat); i++)
    g_assert_cmpint (bl_heat_zone_for_days (heat[i].days), ==, heat[i].zone);
  g_assert_cmpint (bl_heat_zone_for_days (NAN), ==, 0);
  /* The bands' own days lie in them, and each begins where the one before ends. */
  for (i = 2; i <= 12; i++)
    {
      double low = 0, high = 0, before = 0, end = 0;

      bl_heat_zone_days ((int) i, &low, &high);
      bl_heat_zone_days ((int) i - 1, &before, &end);
      g_assert_cmpfloat (low, ==, end);
      g_assert_cmpint (bl_heat_zone_for_days (0.5 * (low + MIN (high, 366))), ==, (int) i);
    }
}

/* What the site states rules; a pair of hours that is published brings its source with it. */
static void
test_light_rule (void)
{
  BlSite site;
  BlLightRule rule;

  bl_site_init (&site);
  rule = bl_site_light_rule (&site);
  g_assert_cmpfloat (rule.full_from, ==, 6.0);
  g_assert_cmpfloat (rule.part_from, ==, 3.0);
  site.part_from = 2.0;
  rule = bl_site_light_rule (&site);
  /* North Carolina State Extension, Plant Toolbox: partial shade is 2 to 6 hours of direct sun. */
  g_assert_nonnull (strstr (rule.source, "North Carolina State"));
  g_assert_cmpint (bl_light_from_hours_by (2.5, &rule), ==, BL_LIGHT_PART);
  site.full_from = 7.5;
  rule = bl_site_light_rule (&site);
  g_assert_nonnull (strstr (rule.source, "this design"));
  g_assert_cmpint (bl_light_from_hours_by (7.0, &rule), ==, BL_LIGHT_PART);
  bl_site_clear (&site);
}

static void
test_light (void)
{
  guint n = 0, i = 0;
  const BlLightRule *rules = bl_light_rules (&n);

  /* Six hours of full sun is the one line that all the published classes share. */
  for (i = 0; i < n; i++)
    {
      g_assert_cmpint (bl_light_from_hours_by (6.0, &rules[i]), ==, BL_LIGHT_FULL);
      g_assert_cmpint (bl_light_from_hours_by (5.99, &rules[i]), ==, BL_LIGHT_PART);
      g_assert_cmpint (bl_light_from_hours_by (1.0, &rules[i]), ==, BL_LIGHT_SHADE);
      g_assert_nonnull (rules[i].source);
    }
  g_assert_cmpint (bl_light_from_hours (3.0), ==, BL_LIGHT_PART);
  g_assert_cmpint (bl_light_from_hours (2.99), ==, BL_LIGHT_SHADE);
  g_assert_cmpint (bl_light_from_hours (NAN), ==, BL_LIGHT_UNKNOWN);
}

static void
test_site (void)
{
  BlSite a, b;
  BlSoil soil = BL_SOIL_UNKNOWN;

  bl_site_init (&a);
  g_assert_true (isnan (a.latitude) && isnan (a.north) && isnan (a.sun_hours));
  a.state = g_strdup ("PA");
  bl_site_copy (&b, &a);
  bl_site_clear (&a);
  g_assert_null (a.state);
  g_assert_cmpstr (b.state, ==, "PA");
  bl_site_clear (&b);
  g_assert_true (bl_soil_from_name ("clay", &soil));
  g_assert_cmpint (soil, ==, BL_SOIL_CLAY);
  g_assert_false (bl_soil_from_name ("mud", &soil));
  g_assert_cmpint (soil, ==, BL_SOIL_CLAY);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/site/zone/table", test_table);
  g_test_add_func ("/site/zone/words", test_words);
  g_test_add_func ("/site/heat", test_heat);
  g_test_add_func ("/site/light", test_light);
  g_test_add_func ("/site/light-rule", test_light_rule);
  g_test_add_func ("/site/value", test_site);
  return g_test_run ();
}
