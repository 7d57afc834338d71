/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun's place, rise, set and day length against published cases. */
#include <math.h>

#include "site/sun.h"

#define DEG (M_PI / 180.0)
#define ABOUT(value, expected, tolerance)                                                          \
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance)

/* NREL/TP-560-34302 (Reda and Andreas), table A5.1: 2003-10-17 12:30:30, UTC-7. */
static void
test_nrel (void)
{
  double jd = bl_julian_date (bl_day (2003, 10, 17), 19 + 30 / 60.0 + 30 / 3600.0);
  BlSun sun = bl_sun_at (jd, 39.742476, -105.1786);
  BlSunPlace place = bl_sun_place (jd);

  ABOUT (jd, 2452930.312847, 1e-6);
  ABOUT (sun.altitude / DEG, 39.872046, 0.02);
  ABOUT (sun.apparent / DEG, 39.888378, 0.02);
  ABOUT (sun.azimuth / DEG, 194.340241, 0.05);
  ABOUT (sun.declination / DEG, -9.31434, 0.005);
  ABOUT (sun.distance, 0.996542, 1e-4);
  ABOUT (sun.equation_of_time, 14.641503, 0.05);
  ABOUT (place.obliquity / DEG, 23.440465, 0.001);
  ABOUT (fmod (place.right_ascension / DEG + 360, 360), 202.22741, 0.01);
}

/* The same report's sunrise 06:12:43 and transit 11:46:04. Its printed sunset 17:20:19 is that of
 * the evening before in local time; an independent implementation's test gives 17:18:51. */
static void
test_nrel_events (void)
{
  double rise = 0, noon = 0, set = 0;

  g_assert_cmpint (bl_sun_rise_set (bl_day (2003, 10, 17), 39.742476, -105.1786, &rise, &noon,
                                    &set),
                   ==, BL_SUN_RISES);
  ABOUT ((rise - 7) * 3600, 6 * 3600 + 12 * 60 + 43, 20);
  ABOUT ((noon - 7) * 3600, 11 * 3600 + 46 * 60 + 4, 5);
  ABOUT ((set - 7) * 3600, 17 * 3600 + 18 * 60 + 51, 20);
  g_assert_cmpint (bl_sun_rise_set (bl_day (2003, 10, 16), 39.742476, -105.1786, NULL, NULL, &set),
                   ==, BL_SUN_RISES);
  ABOUT ((set - 7) * 3600, 17 * 3600 + 20 * 60 + 19, 20);
}

/* Meeus, Astronomical Algorithms, 2nd ed., example 25.a: 1992-10-13 at 0 h TD. The book rounds
 * between steps: two units of the last place. */
static void
test_meeus (void)
{
  BlSunPlace s = bl_sun_place (2448908.5);

  ABOUT (s.mean_longitude / DEG, 201.80720, 2e-5);
  ABOUT (s.mean_anomaly / DEG, 278.99397, 2e-5);
  ABOUT (s.eccentricity, 0.016711668, 1e-8);
  ABOUT (s.centre / DEG, -1.89732, 2e-5);
  ABOUT (s.longitude / DEG, 199.90988, 2e-5);
  ABOUT (s.distance, 0.99766, 1e-5);
  ABOUT (s.apparent_longitude / DEG, 199.90895, 2e-5);
  ABOUT (s.obliquity / DEG, 23.43999, 1e-5);
  ABOUT (s.right_ascension / DEG + 360, 198.38083, 2e-5);
  ABOUT (s.declination / DEG, -7.78507, 2e-5);
}

/* NOAA's solar calculation day sheet: 40° N 105° W, 2010-06-21 00:06, UTC-7. */
static void
test_noaa_sheet (void)
{
  double jd = bl_julian_date (bl_day (2010, 6, 21), 7.1);
  BlSun sun = bl_sun_at (jd, 40, -105);
  BlSunPlace place = bl_sun_place (jd);

  ABOUT (jd, 2455368.79583333, 1e-7);
  ABOUT (place.right_ascension / DEG, 89.80948008, 1e-4);
  ABOUT (sun.declination / DEG, 23.43837062, 1e-4);
  ABOUT (sun.equation_of_time, -1.71536758, 1e-4);
  ABOUT (sun.altitude / DEG, -26.55376212, 1e-4);
  ABOUT (sun.apparent / DEG - sun.altitude / DEG, 0.01154569, 1e-4);
  ABOUT (sun.azimuth / DEG, 1.09867118, 1e-3);
}

/* Solstice noon altitudes at latitude 40: 73.45° and 26.55° (public test data). */
static void
test_noon (void)
{
  static const struct
  {
    int month;
    double altitude;
  } noons[] = { { 6, 73.45 }, { 12, 26.55 } };
  guint i = 0;

  for (i = 0; i < 2; i++)
    {
      double noon = 0;
      BlSun sun;

      bl_sun_rise_set (bl_day (2025, noons[i].month, 21), 40, 0, NULL, &noon, NULL);
      sun = bl_sun_at (bl_julian_date (bl_day (2025, noons[i].month, 21), noon), 40, 0);
      ABOUT (sun.altitude / DEG, noons[i].altitude, 0.02);
      ABOUT (sun.azimuth / DEG, 180.0, 0.1);
    }
}

/* Equation of time: its published extremes of 2025. */
static void
test_equation_of_time (void)
{
  static const struct
  {
    int month, day;
    double minutes;
  } extremes[] = { { 2, 11, -14.228 }, { 5, 13, 3.643 }, { 7, 25, -6.561 }, { 11, 3, 16.492 } };
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (extremes); i++)
    ABOUT (bl_sun_place (bl_julian_date (bl_day (2025, extremes[i].month, extremes[i].day), 12))
             .equation_of_time,
           extremes[i].minutes, 0.03);
}

/* 70° N at the solstices (U.S. Naval Observatory): never sets, never rises. Sydney, 22 September
 * 2025, rise 19:44 and set 07:51 of the UTC day. */
static void
test_edges (void)
{
  double rise = 0, set = 0;

  g_assert_cmpint (bl_sun_rise_set (bl_day (2025, 6, 21), 70, 0, NULL, NULL, NULL), ==,
                   BL_SUN_STAYS_UP);
  g_assert_cmpint (bl_sun_rise_set (bl_day (2025, 12, 21), 70, 0, NULL, NULL, NULL), ==,
                   BL_SUN_STAYS_DOWN);
  g_assert_cmpfloat (bl_day_length (bl_day (2025, 6, 21), 70), ==, 24.0);
  g_assert_cmpfloat (bl_day_length (bl_day (2025, 12, 21), 70), ==, 0.0);
  g_assert_cmpint (bl_sun_rise_set (bl_day (2025, 9, 22), -33.8688, 151.2093, &rise, NULL, &set),
                   ==, BL_SUN_RISES);
  ABOUT (set, 7 + 51 / 60.0, 1.5 / 60);
  g_assert_cmpint (bl_sun_rise_set (bl_day (2025, 9, 23), -33.8688, 151.2093, &rise, NULL, &set),
                   ==, BL_SUN_RISES);
  ABOUT (rise + 24, 19 + 44 / 60.0, 1.5 / 60);
  /* The poles divide by nothing. */
  g_assert_cmpint (bl_sun_rise_set (bl_day (2025, 6, 21), 90, 0, NULL, NULL, NULL), ==,
                   BL_SUN_STAYS_UP);
  g_assert_true (isfinite (bl_sun_at (2460000.5, 90, 0).azimuth));
}

/* Hours with the sun's centre over -0.833°, computed from the published formulae by hand. */
static void
test_day_length (void)
{
  static const double table[][5]
    = { { 0, 12.11, 12.12, 12.11, 12.13 },  { 20, 12.12, 13.34, 12.12, 10.92 },
        { 30, 12.13, 14.08, 12.13, 10.21 }, { 35, 12.14, 14.51, 12.14, 9.80 },
        { 40, 12.15, 15.02, 12.15, 9.33 },  { 45, 12.16, 15.62, 12.17, 8.77 },
        { 50, 12.18, 16.37, 12.19, 8.07 },  { 60, 12.23, 18.87, 12.24, 5.87 } };
  static const int days[4][2] = { { 3, 20 }, { 6, 21 }, { 9, 22 }, { 12, 21 } };
  guint i = 0, k = 0;

  for (i = 0; i < G_N_ELEMENTS (table); i++)
    for (k = 0; k < 4; k++)
      ABOUT (bl_day_length (bl_day (2025, days[k][0], days[k][1]), table[i][0]), table[i][k + 1],
             0.0151);
}

/* FAO Irrigation and Drainage Paper 56, worked example: 3 September (day 246), 20° S: 11.7 h, and
 * 11.66559 to more places. The rest is its equation 34 by hand. */
static void
test_day_length_fao (void)
{
  static const double table[][5] = { { 0, 12, 12, 12, 12 },
                                     { 20, 11.97, 13.21, 11.97, 10.79 },
                                     { 35, 11.93, 14.36, 11.93, 9.64 },
                                     { 40, 11.92, 14.84, 11.92, 9.16 },
                                     { 50, 11.89, 16.15, 11.89, 7.85 },
                                     { 60, 11.84, 18.49, 11.84, 5.51 } };
  static const int days[4] = { 79, 172, 265, 355 };
  guint i = 0, k = 0;

  ABOUT (bl_day_length_fao (246, -20), 11.66559, 1e-4);
  for (i = 0; i < G_N_ELEMENTS (table); i++)
    for (k = 0; k < 4; k++)
      ABOUT (bl_day_length_fao (days[k], table[i][0]), table[i][k + 1], 0.0051);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/site/sun/nrel", test_nrel);
  g_test_add_func ("/site/sun/nrel-events", test_nrel_events);
  g_test_add_func ("/site/sun/meeus", test_meeus);
  g_test_add_func ("/site/sun/noaa-sheet", test_noaa_sheet);
  g_test_add_func ("/site/sun/noon", test_noon);
  g_test_add_func ("/site/sun/equation-of-time", test_equation_of_time);
  g_test_add_func ("/site/sun/edges", test_edges);
  g_test_add_func ("/site/sun/day-length", test_day_length);
  g_test_add_func ("/site/sun/day-length-fao", test_day_length_fao);
  return g_test_run ();
}
