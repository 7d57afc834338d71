/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water: establishment, reference evapotranspiration, and the water budget of an ordinance. */
#include "takeoff/water.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "takeoff/container.h"

#define SOLAR_CONSTANT 0.0820 /* MJ a m² and minute */
#define MM_PER_MJ 0.408       /* evaporation that 1 MJ a m² can do */
#define GALLONS 0.62          /* a square foot and inch, as the ordinance rounds it */

double
bl_water_count (double weeks, double every)
{
  double daily = CLAMP (weeks, 0, 2), often = CLAMP (weeks - 2, 0, 10);
  double weekly = MAX (weeks - 12, 0);

  g_return_val_if_fail (every > 0, 0);
  return daily * 7 + often * 7 / every + weekly;
}

/* "B&B 1.5 in" states a trunk; above 6 in it is a height. */
static double
trunk_inches (const char *size)
{
  double inches = g_ascii_strtod (size + 3, NULL);

  return g_str_has_suffix (size, "in") && inches > 0 && inches <= 6 ? inches : 1;
}

gboolean
bl_water_each (const char *size, double *low_l, double *high_l)
{
  double low, high;

  *low_l = *high_l = 0;
  if (size == NULL)
    return FALSE;
  if (strcmp (size, "bulb") == 0 || strcmp (size, "corm") == 0)
    return TRUE;
  if (g_str_has_prefix (size, "B&B"))
    {
      *low_l = trunk_inches (size) * BL_LITRES_PER_US_GALLON;
      *high_l = 1.5 * *low_l;
      return TRUE;
    }
  if (!bl_container_volume (size, &low, &high))
    return FALSE;
  *low_l = 0.25 * (low + high) / 2 * 1000;
  *high_l = 0.30 * (low + high) / 2 * 1000;
  return TRUE;
}

/* ---- FAO-56 ---- */

static double
declination (int day)
{
  return 0.409 * sin (2 * G_PI * day / 365 - 1.39); /* eq. 24 */
}

static double
sunset_angle (double phi, double delta)
{
  return acos (CLAMP (-tan (phi) * tan (delta), -1, 1)); /* eq. 25; held for polar day and night */
}

double
bl_water_radiation (double latitude, int day)
{
  double phi = latitude * G_PI / 180, delta = declination (day);
  double omega = sunset_angle (phi, delta);
  double dr = 1 + 0.033 * cos (2 * G_PI * day / 365);

  return 24 * 60 / G_PI * SOLAR_CONSTANT * dr
         * (omega * sin (phi) * sin (delta) + cos (phi) * cos (delta) * sin (omega));
}

double
bl_water_daylight (double latitude, int day)
{
  return 24 / G_PI * sunset_angle (latitude * G_PI / 180, declination (day));
}

double
bl_water_hargreaves (double latitude, int day, double tmin_c, double tmax_c)
{
  double mean = (tmin_c + tmax_c) / 2, range = MAX (tmax_c - tmin_c, 0);
  double eto = 0.0023 * (mean + 17.8) * sqrt (range) * MM_PER_MJ
               * bl_water_radiation (latitude, day);

  return MAX (eto, 0);
}

/* ---- the ordinance ---- */

double
bl_water_allowance (double eto_in, double etaf, double landscape_sqft, double special_sqft)
{
  return eto_in * GALLONS * (etaf * landscape_sqft + (1 - etaf) * special_sqft);
}

double
bl_water_use (double eto_in, const BlHydrozone *zones, guint n, double special_sqft)
{
  double sum = special_sqft;

  for (guint i = 0; i < n; i++)
    sum += zones[i].plant_factor / zones[i].efficiency * zones[i].area_sqft;
  return eto_in * GALLONS * sum;
}
