/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Solar position by Meeus, Astronomical Algorithms, 2nd ed. 1998, chapters 25 and 28, in the form
 * of the NOAA Global Monitoring Laboratory's solar calculator. */
#include "site/sun.h"

#include <math.h>

#define DEG (M_PI / 180.0)
#define RISE_ALTITUDE (-0.833 * DEG)

static double
turn (double degrees)
{
  double r = fmod (degrees, 360.0);

  return r < 0 ? r + 360.0 : r;
}

double
bl_julian_date (BlDay day, double ut_hours)
{
  /* GDate day 1 is 1 January 0001, Julian date 1721425.5 at its beginning. */
  return (double) day + 1721424.5 + ut_hours / 24.0;
}

static double
equation_of_time (double obliquity, double longitude, double eccentricity, double anomaly)
{
  double y = tan (obliquity / 2.0) * tan (obliquity / 2.0);
  double e = eccentricity;
  double radians = y * sin (2 * longitude) - 2 * e * sin (anomaly)
                   + 4 * e * y * sin (anomaly) * cos (2 * longitude)
                   - 0.5 * y * y * sin (4 * longitude) - 1.25 * e * e * sin (2 * anomaly);

  return 4.0 * radians / DEG;
}

BlSunPlace
bl_sun_place (double julian_date)
{
  BlSunPlace s = { 0 };
  double T = (julian_date - 2451545.0) / 36525.0;
  double M = 0, omega = 0, seconds = 0;

  s.mean_longitude = turn (280.46646 + T * (36000.76983 + 0.0003032 * T)) * DEG;
  M = s.mean_anomaly = turn (357.52911 + T * (35999.05029 - 0.0001537 * T)) * DEG;
  s.eccentricity = 0.016708634 - T * (0.000042037 + 1.267e-7 * T);
  s.centre = (sin (M) * (1.914602 - T * (0.004817 + 1.4e-5 * T))
              + sin (2 * M) * (0.019993 - 1.01e-4 * T) + 0.000289 * sin (3 * M))
             * DEG;
  s.longitude = s.mean_longitude + s.centre;
  s.distance = 1.000001018 * (1 - s.eccentricity * s.eccentricity)
               / (1 + s.eccentricity * cos (M + s.centre));
  omega = (125.04 - 1934.136 * T) * DEG;
  s.apparent_longitude = s.longitude + (-0.00569 - 0.00478 * sin (omega)) * DEG;
  seconds = 21.448 - T * (46.815 + T * (0.00059 - T * 0.001813));
  s.obliquity = (23.0 + (26.0 + seconds / 60.0) / 60.0 + 0.00256 * cos (omega)) * DEG;
  s.right_ascension
    = atan2 (cos (s.obliquity) * sin (s.apparent_longitude), cos (s.apparent_longitude));
  s.declination = asin (sin (s.obliquity) * sin (s.apparent_longitude));
  s.equation_of_time = equation_of_time (s.obliquity, s.mean_longitude, s.eccentricity, M);
  return s;
}

/* The NOAA calculator's fit in three bands, in degrees for a true altitude in degrees. */
static double
refraction (double altitude)
{
  double t = tan (altitude * DEG);
  double seconds = 0;

  if (altitude > 85.0)
    return 0.0;
  if (altitude > 5.0)
    seconds = 58.1 / t - 0.07 / pow (t, 3) + 0.000086 / pow (t, 5);
  else if (altitude > -0.575)
    seconds
      = 1735.0 + altitude * (-518.2 + altitude * (103.4 + altitude * (-12.79 + altitude * 0.711)));
  else
    seconds = -20.774 / t;
  return seconds / 3600.0;
}

BlSun
bl_sun_at (double julian_date, double latitude, double longitude)
{
  BlSunPlace place = bl_sun_place (julian_date);
  double phi = latitude * DEG;
  double d = place.declination;
  double minutes = fmod (julian_date + 0.5, 1.0) * 1440.0;
  double H = ((minutes + place.equation_of_time + 4.0 * longitude) / 4.0 - 180.0) * DEG;
  double sine = sin (phi) * sin (d) + cos (phi) * cos (d) * cos (H);
  BlSun sun = { 0 };

  sun.altitude = asin (CLAMP (sine, -1.0, 1.0));
  sun.apparent = sun.altitude + refraction (sun.altitude / DEG) * DEG;
  /* cos d is taken into both arguments, so that the poles do not divide by zero. */
  sun.azimuth
    = turn ((M_PI + atan2 (sin (H) * cos (d), cos (H) * sin (phi) * cos (d) - sin (d) * cos (phi)))
            / DEG)
      * DEG;
  sun.declination = d;
  sun.equation_of_time = place.equation_of_time;
  sun.distance = place.distance;
  return sun;
}

/* Cosine of the hour angle at which a sun of @declination stands on the rise altitude. */
static double
rise_cosine (double phi, double declination)
{
  double cc = cos (phi) * cos (declination);

  if (cc < 1e-9)
    return sin (phi) * sin (declination) > sin (RISE_ALTITUDE) ? -2.0 : 2.0;
  return (sin (RISE_ALTITUDE) - sin (phi) * sin (declination)) / cc;
}

/* Refines rise (@sign -1) or set (+1) with the sun of that very moment. */
static double
event (BlDay day, double latitude, double longitude, double guess, int sign)
{
  double hours = guess;
  int i = 0;

  for (i = 0; i < 4; i++)
    {
      BlSunPlace place = bl_sun_place (bl_julian_date (day, hours));
      double c = CLAMP (rise_cosine (latitude * DEG, place.declination), -1.0, 1.0);

      hours
        = 12.0 - place.equation_of_time / 60.0 - longitude / 15.0 + sign * acos (c) / DEG / 15.0;
    }
  return hours;
}

BlSunDay
bl_sun_rise_set (BlDay day, double latitude, double longitude, double *rise, double *noon,
                 double *set)
{
  double guess = 12.0 - longitude / 15.0;
  BlSunPlace place = bl_sun_place (bl_julian_date (day, guess));
  double c = rise_cosine (latitude * DEG, place.declination);
  double transit = guess - place.equation_of_time / 60.0;

  if (noon != NULL)
    *noon = transit;
  if (c > 1.0 || c < -1.0)
    return c > 1.0 ? BL_SUN_STAYS_DOWN : BL_SUN_STAYS_UP;
  if (rise != NULL)
    *rise = event (day, latitude, longitude, transit - acos (c) / DEG / 15.0, -1);
  if (set != NULL)
    *set = event (day, latitude, longitude, transit + acos (c) / DEG / 15.0, 1);
  return BL_SUN_RISES;
}

double
bl_day_length (BlDay day, double latitude)
{
  double rise = 0, set = 0;

  switch (bl_sun_rise_set (day, latitude, 0.0, &rise, NULL, &set))
    {
    case BL_SUN_STAYS_UP:
      return 24.0;
    case BL_SUN_STAYS_DOWN:
      return 0.0;
    case BL_SUN_RISES:
      break;
    }
  return set - rise;
}

double
bl_day_length_fao (int day_of_year, double latitude)
{
  double declination = 0.409 * sin (2.0 * M_PI * day_of_year / 365.0 - 1.39);
  double c = -tan (latitude * DEG) * tan (declination);

  return 24.0 / M_PI * acos (CLAMP (c, -1.0, 1.0));
}
