/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Watering in the first season: how much a plant of each size, how often by weeks and soil. */
#include "takeoff/takeoff-private.h"
#include "takeoff/water.h"

#define SEASON_WEEKS 24.0 /* planting to frost when the dates do not tell */
#define SHORTEST 4.0      /* weeks: planted later than this, most of the season is next year's */
#define LONGEST 40.0

static double
season_weeks (const BlModel *model)
{
  BlDay frost;
  double weeks;
  int year;

  if (model->planting_day == 0 || model->site.first_frost.month == 0)
    return SEASON_WEEKS;
  bl_day_split (model->planting_day, &year, NULL, NULL);
  frost = bl_month_day_in (model->site.first_frost, year);
  if (frost <= model->planting_day)
    frost = bl_month_day_in (model->site.first_frost, year + 1);
  weeks = (frost - model->planting_day) / 7.0;
  return weeks < SHORTEST || weeks > LONGEST ? SEASON_WEEKS : weeks;
}

/* The source says every two to three days in weeks 3 to 12: sand dries soonest, clay last (common
 * practice). */
static double
every_days (BlSoil soil)
{
  switch (soil)
    {
    case BL_SOIL_SAND:
      return 2;
    case BL_SOIL_CLAY:
      return 3;
    case BL_SOIL_LOAM:
    case BL_SOIL_UNKNOWN:
    default:
      return 2.5;
    }
}

static BlWatering *
watering_of (BlTakeoff *takeoff, const char *size)
{
  BlWatering row = { .size = size };

  for (guint i = 0; i < takeoff->watering->len; i++)
    if (g_strcmp0 (g_array_index (takeoff->watering, BlWatering, i).size, size) == 0)
      return &g_array_index (takeoff->watering, BlWatering, i);
  row.known = bl_water_each (size, &row.low_l, &row.high_l);
  g_array_append_val (takeoff->watering, row);
  return &g_array_index (takeoff->watering, BlWatering, takeoff->watering->len - 1);
}

static void
tell (BlTakeoff *takeoff, double weeks, double times, double often, guint unknown)
{
  g_autofree char *days = bl_figure (often);

  if (takeoff->layout->placed->len > unknown)
    bl_takeoff_note (takeoff, "Water of the first season: %.0f waterings in %.0f weeks (daily for "
                     "2 weeks, every %s days to week 12, then weekly; University of Minnesota "
                     "Extension's rule for trees and shrubs, taken for all plants), less what rain "
                     "brings.", times, weeks, days);
  if (unknown > 0)
    bl_takeoff_note (takeoff, "%u plants are of a size whose water need is not known; they are not "
                     "in the water figure.", unknown);
}

void
bl_takeoff_plan_watering (BlTakeoff *takeoff)
{
  const BlModel *model = takeoff->layout->model;
  const GArray *placed = takeoff->layout->placed;
  double weeks = season_weeks (model), often = every_days (model->site.soil);
  double times = bl_water_count (weeks, often);
  guint unknown = 0;

  takeoff->phases[0] = (BlWaterPhase) { 1, CLAMP (weeks, 0, 2) };
  takeoff->phases[1] = (BlWaterPhase) { often, CLAMP (weeks - 2, 0, 10) };
  takeoff->phases[2] = (BlWaterPhase) { 7, MAX (weeks - 12, 0) };
  for (guint i = 0; i < placed->len; i++)
    {
      BlWatering *row = watering_of (takeoff, g_array_index (placed, BlPlaced, i).size);

      row->count++;
      takeoff->water_first_season += (row->low_l + row->high_l) / 2 * times;
      unknown += !row->known;
    }
  tell (takeoff, weeks, times, often, unknown);
}
