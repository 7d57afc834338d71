/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the sun stands, when it rises and sets, and how long the day is. */
#pragma once

#include "base/date.h"

/* Angles in radians. */
typedef struct
{
  double altitude;         /* of the sun's centre above the level horizon, without refraction */
  double apparent;         /* with the air's refraction */
  double azimuth;          /* clockwise from true north, 0 .. 2π */
  double declination;
  double equation_of_time; /* minutes: sundial minus clock */
  double distance;         /* astronomical units */
} BlSun;

/* The geocentric sun, for checks against almanacs. Angles in radians. */
typedef struct
{
  double mean_longitude, mean_anomaly, centre, longitude, apparent_longitude;
  double obliquity;       /* corrected for nutation */
  double right_ascension, declination;
  double eccentricity, distance, equation_of_time;
} BlSunPlace;

/* Julian date of a Gregorian day and hours of universal time. */
double bl_julian_date (BlDay day, double ut_hours);
BlSunPlace bl_sun_place (double julian_date);

/**
 * bl_sun_at:
 * @latitude: degrees, north positive
 * @longitude: degrees, east positive
 *
 * Meeus, Astronomical Algorithms, chapter 25 (low accuracy), with the equation of time and the
 * refraction used by the NOAA solar calculator. Within 0.01° for 1900 to 2100.
 */
BlSun bl_sun_at (double julian_date, double latitude, double longitude);

typedef enum
{
  BL_SUN_RISES,
  BL_SUN_STAYS_UP,
  BL_SUN_STAYS_DOWN
} BlSunDay;

/* Hours of universal time on the solar day whose noon lies in @day at this longitude; @rise may be
 * negative and @set over 24. The centre stands at -0.833°: 34' refraction, 16' radius. */
BlSunDay bl_sun_rise_set (BlDay day,
                          double latitude,
                          double longitude,
                          double *rise,
                          double *noon,
                          double *set);
/* Hours between rise and set, 0 .. 24. */
double bl_day_length (BlDay day, double latitude);
/* FAO Irrigation and Drainage Paper 56, equations 24, 25 and 34: level horizon, no refraction;
 * @day_of_year 1-366. 0.1 to 0.4 h shorter than bl_day_length(). */
double bl_day_length_fao (int day_of_year, double latitude);
