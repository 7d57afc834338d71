/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water: establishment, reference evapotranspiration, and the water budget of an ordinance. */
#pragma once

#include <glib.h>

/* Waterings in the first @weeks after planting: daily in weeks 1 and 2, every @every days in weeks
 * 3 to 12, then weekly (University of Minnesota Extension, "Watering newly planted trees and
 * shrubs"; it says every 2 to 3 days). */
double bl_water_count (double weeks, double every);

/* Litres a plant and watering, low and high, for a size name: 25 to 30 % of the container's volume,
 * 1 to 1½ US gallons an inch of trunk for balled trees (the same source). FALSE for sizes of which
 * nothing is known; bulbs need none. */
gboolean bl_water_each (const char *size, double *low_l, double *high_l);

/* FAO Irrigation and Drainage Paper 56 (Allen and others 1998): extraterrestrial radiation, MJ a m²
 * and day (eq. 21), hours of daylight (eq. 34), reference evapotranspiration by temperature alone,
 * mm a day (Hargreaves, eq. 52). @latitude in degrees, south negative; @day of the year 1-366. */
double bl_water_radiation (double latitude, int day);
double bl_water_daylight (double latitude, int day);
double bl_water_hargreaves (double latitude, int day, double tmin_c, double tmax_c);

/* Model Water Efficient Landscape Ordinance (23 CCR 490-495), in its own units: inches a year,
 * square feet, US gallons a year. @landscape includes @special. */
double bl_water_allowance (double eto_in, double etaf, double landscape_sqft, double special_sqft);

typedef struct
{
  double plant_factor, efficiency, area_sqft;
} BlHydrozone;

double bl_water_use (double eto_in, const BlHydrozone *zones, guint n, double special_sqft);
