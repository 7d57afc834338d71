/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The take-off as a whole: areas, notes, water, and its life. */
#include "takeoff/takeoff.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "takeoff/takeoff-private.h"
#include "takeoff/water.h"

#define SEASON_WEEKS 24.0 /* planting to frost when the dates are not known */
#define EVERY_DAYS 2.5    /* the source says every 2 to 3 days in weeks 3 to 12 */

static void
count_clear (gpointer data)
{
  g_free (((BlPlantCount *) data)->rule);
}

static void
material_clear (gpointer data)
{
  BlMaterial *material = data;

  g_free (material->key);
  g_free (material->name);
  g_free (material->unit);
  g_free (material->how);
}

static void
work_clear (gpointer data)
{
  BlWork *work = data;

  g_free (work->key);
  g_free (work->name);
  g_free (work->unit);
  g_free (work->how);
}

BlTakeoff *
bl_takeoff_ref (BlTakeoff *takeoff)
{
  g_return_val_if_fail (takeoff != NULL, NULL);
  g_atomic_ref_count_inc (&takeoff->refs);
  return takeoff;
}

void
bl_takeoff_unref (BlTakeoff *takeoff)
{
  if (takeoff == NULL || !g_atomic_ref_count_dec (&takeoff->refs))
    return;
  bl_layout_unref (takeoff->layout);
  g_array_unref (takeoff->counts);
  g_array_unref (takeoff->materials);
  g_array_unref (takeoff->work);
  g_ptr_array_unref (takeoff->notes);
  g_free (takeoff);
}

void
bl_takeoff_note (BlTakeoff *takeoff, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (takeoff->notes, g_strdup_vprintf (format, args));
  va_end (args);
}

void
bl_takeoff_add_material (BlTakeoff *takeoff, BlMaterial material)
{
  g_array_append_val (takeoff->materials, material);
  takeoff->mass += material.mass;
}

const BlPriceBook *
bl_takeoff_book (const BlTakeoff *takeoff)
{
  return takeoff->layout->model->prices;
}

guint
bl_takeoff_stems (const BlTakeoff *takeoff, gint64 bed_id)
{
  const GArray *placed = takeoff->layout->placed;
  guint n = 0;

  for (guint i = 0; i < placed->len; i++)
    {
      const BlPlaced *plant = &g_array_index (placed, BlPlaced, i);

      n += plant->bed_id == bed_id
           && !(plant->plant->type == BL_TYPE_BULB && plant->plant->spring_only);
    }
  return n;
}

char *
bl_figure (double value)
{
  char text[48];
  char *end;

  g_ascii_formatd (text, sizeof text, "%.2f", fabs (value) < 0.005 ? 0 : value);
  end = text + strlen (text) - 1;
  while (*end == '0')
    *end-- = '\0';
  if (*end == '.')
    *end = '\0';
  return g_strdup (text);
}

/* The beds of one photo err together, so their deviations are added, not their squares. */
static void
add_areas (BlTakeoff *takeoff)
{
  const GPtrArray *beds = takeoff->layout->model->beds;

  for (guint i = 0; i < beds->len; i++)
    {
      const BlBed *bed = beds->pdata[i];

      if (bed->ring == NULL)
        {
          bl_takeoff_note (takeoff, "Bed “%s” is not measured: %s",
                           bed->name != NULL ? bed->name : "?",
                           bed->problem != NULL ? bed->problem : "its outline is not known yet.");
          continue;
        }
      takeoff->area.value += bed->area.value;
      takeoff->area.sd += bed->area.sd;
    }
}

static double
season_weeks (const BlModel *model)
{
  BlDay frost;
  int year;

  if (model->planting_day == 0 || model->site.first_frost.month == 0)
    return SEASON_WEEKS;
  bl_day_split (model->planting_day, &year, NULL, NULL);
  frost = bl_month_day_in (model->site.first_frost, year);
  if (frost <= model->planting_day)
    return SEASON_WEEKS;
  return (frost - model->planting_day) / 7.0;
}

static void
add_water (BlTakeoff *takeoff)
{
  const GArray *placed = takeoff->layout->placed;
  double weeks = season_weeks (takeoff->layout->model);
  double times = bl_water_count (weeks, EVERY_DAYS);
  guint unknown = 0;

  for (guint i = 0; i < placed->len; i++)
    {
      double low, high;

      if (bl_water_each (g_array_index (placed, BlPlaced, i).size, &low, &high))
        takeoff->water_first_season += (low + high) / 2 * times;
      else
        unknown++;
    }
  if (placed->len > unknown)
    bl_takeoff_note (takeoff, "Water of the first season: %.0f waterings in %.0f weeks (daily for "
                     "2 weeks, every 2 to 3 days to week 12, then weekly; University of Minnesota "
                     "Extension's rule for trees and shrubs, taken for all plants), less what rain "
                     "brings.", times, weeks);
  if (unknown > 0)
    bl_takeoff_note (takeoff, "%u plants are of a size whose water need is not known; they are not "
                     "in the water figure.", unknown);
}

BlTakeoff *
bl_takeoff_compute (BlLayout *layout)
{
  BlTakeoff *takeoff;

  g_return_val_if_fail (layout != NULL, NULL);
  takeoff = g_new0 (BlTakeoff, 1);
  g_atomic_ref_count_init (&takeoff->refs);
  takeoff->layout = bl_layout_ref (layout);
  takeoff->counts = g_array_new (FALSE, FALSE, sizeof (BlPlantCount));
  g_array_set_clear_func (takeoff->counts, count_clear);
  takeoff->materials = g_array_new (FALSE, FALSE, sizeof (BlMaterial));
  g_array_set_clear_func (takeoff->materials, material_clear);
  takeoff->work = g_array_new (FALSE, FALSE, sizeof (BlWork));
  g_array_set_clear_func (takeoff->work, work_clear);
  takeoff->notes = g_ptr_array_new_with_free_func (g_free);
  add_areas (takeoff);
  bl_takeoff_count_plants (takeoff);
  bl_takeoff_measure_materials (takeoff);
  bl_takeoff_reckon_work (takeoff);
  add_water (takeoff);
  return takeoff;
}
