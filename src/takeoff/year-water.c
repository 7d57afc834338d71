/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A landscape's water of a year, planted and grown, by the Californian ordinance's method. */
#include "takeoff/year-water.h"

#include <json-glib/json-glib.h>

#include "takeoff/water.h"

static const int month_days[12] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };

/* A plant of which the need is not known is reckoned as thirsty: the figure is not too small. */
static const BlWaterZone zone_kinds[BL_WATER_ZONES] = {
  { "low", 0.2, 0, 0 }, { "moderate", 0.5, 0, 0 }, { "high", 0.8, 0, 0 },
  { "not known, taken as high", 0.8, 0, 0 },
};

static guint
zone_of (const BlPlant *plant)
{
  switch (plant->drought)
    {
    case BL_GRADE_HIGH:
      return 0;
    case BL_GRADE_MEDIUM:
      return 1;
    case BL_GRADE_LOW:
      return 2;
    case BL_GRADE_UNKNOWN:
    default:
      return 3;
    }
}

/* The beds' ground is shared out by the squares of the mature spreads. */
static void
share_out (const BlTakeoff *takeoff, BlYearWater *water)
{
  const GArray *placed = takeoff->layout->placed;
  double sum = 0;

  for (guint i = 0; i < placed->len; i++)
    {
      const BlPlant *plant = g_array_index (placed, BlPlaced, i).plant;
      BlWaterZone *zone = &water->zones[zone_of (plant)];

      zone->count++;
      zone->area += plant->spread * plant->spread;
      sum += plant->spread * plant->spread;
    }
  for (guint i = 0; sum > 0 && i < BL_WATER_ZONES; i++)
    water->zones[i].area *= water->area / sum;
}

void
bl_year_eto (double latitude, const double *tmin_c, const double *tmax_c, double *eto)
{
  int day = 0;

  for (int m = 0; m < 12; m++)
    {
      int middle = day + (month_days[m] + 1) / 2;

      eto[m] = month_days[m] * bl_water_hargreaves (latitude, middle, tmin_c[m], tmax_c[m]);
      day += month_days[m];
    }
}

void
bl_year_water (const BlTakeoff *takeoff, const double *eto, double factor, double efficiency,
               BlYearWater *water)
{
  const GPtrArray *beds = takeoff->layout->model->beds;
  BlHydrozone zones[BL_WATER_ZONES];
  double inches;

  g_return_if_fail (efficiency > 0);
  *water = (BlYearWater) { .factor = factor, .efficiency = efficiency };
  for (guint i = 0; i < BL_WATER_ZONES; i++)
    water->zones[i] = zone_kinds[i];
  for (guint i = 0; i < beds->len; i++)
    if (((const BlBed *) beds->pdata[i])->ring != NULL)
      water->area += bl_bed_free_area (takeoff->layout->model, beds->pdata[i]);
  share_out (takeoff, water);
  for (guint m = 0; m < 12; m++)
    {
      water->eto[m] = eto[m];
      water->eto_year += eto[m];
    }
  for (guint i = 0; i < BL_WATER_ZONES; i++)
    zones[i] = (BlHydrozone) { water->zones[i].factor, efficiency,
                               water->zones[i].area / BL_M2_PER_SQUARE_FOOT };
  inches = water->eto_year / 1000 / BL_METRES_PER_INCH;
  water->allowance = BL_LITRES_PER_US_GALLON
                     * bl_water_allowance (inches, factor, water->area / BL_M2_PER_SQUARE_FOOT, 0);
  water->use = BL_LITRES_PER_US_GALLON * bl_water_use (inches, zones, BL_WATER_ZONES, 0);
  for (guint m = 0; m < 12; m++)
    water->use_month[m] = water->eto_year > 0 ? water->use * eto[m] / water->eto_year : 0;
}

static void
add_number (JsonBuilder *b, const char *name, double value)
{
  json_builder_set_member_name (b, name);
  json_builder_add_double_value (b, value);
}

static void
add_months (JsonBuilder *b, const char *name, const double *values)
{
  json_builder_set_member_name (b, name);
  json_builder_begin_array (b);
  for (guint m = 0; m < 12; m++)
    json_builder_add_double_value (b, values[m]);
  json_builder_end_array (b);
}

char *
bl_year_water_to_json (const BlYearWater *water)
{
  g_autoptr (JsonBuilder) b = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *text = NULL;

  json_builder_begin_object (b);
  add_months (b, "eto_mm", water->eto);
  add_number (b, "eto_year_mm", water->eto_year);
  add_number (b, "area_m2", water->area);
  add_number (b, "allowance_factor", water->factor);
  add_number (b, "efficiency", water->efficiency);
  json_builder_set_member_name (b, "zones");
  json_builder_begin_array (b);
  for (guint i = 0; i < BL_WATER_ZONES; i++)
    {
      json_builder_begin_object (b);
      json_builder_set_member_name (b, "need");
      json_builder_add_string_value (b, water->zones[i].name);
      add_number (b, "plant_factor", water->zones[i].factor);
      add_number (b, "area_m2", water->zones[i].area);
      add_number (b, "plants", water->zones[i].count);
      json_builder_end_object (b);
    }
  json_builder_end_array (b);
  add_number (b, "allowance_l", water->allowance);
  add_number (b, "use_l", water->use);
  add_months (b, "use_month_l", water->use_month);
  json_builder_end_object (b);
  root = json_builder_get_root (b);
  text = json_to_string (root, TRUE);
  return g_strconcat (text, "\n", NULL);
}
