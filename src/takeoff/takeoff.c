/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The take-off as a whole: areas, notes, and its life. */
#include "takeoff/takeoff.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "takeoff/takeoff-private.h"

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
choice_clear (gpointer data)
{
  material_clear (&((BlGoodsChoice *) data)->other);
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
  g_array_unref (takeoff->watering);
  material_clear (&takeoff->soil_out);
  g_ptr_array_unref (takeoff->notes);
  g_free (takeoff);
}

void
bl_takeoff_note (BlTakeoff *takeoff, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (takeoff->notes, bl_say_join (takeoff->language, g_strdup_vprintf (
                                      bl_takeoff_say (takeoff, format), args)));
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

  /* Rounded as a line's quantity is, so that both show the same. */
  g_ascii_formatd (text, sizeof text, "%.2f", fabs (value) < 0.005 ? 0 : round (value * 100) / 100);
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
  const BlModel *model = takeoff->layout->model;
  const GPtrArray *beds = model->beds;

  for (guint i = 0; i < beds->len; i++)
    {
      const BlBed *bed = beds->pdata[i];

      if (bed->ring == NULL)
        {
          bl_takeoff_note (takeoff, "Bed “%s” is not measured: %s",
                           bed->name != NULL ? bed->name : "?",
                           bed->problem != NULL ? bed->problem
                                                : bl_takeoff_say (takeoff, "its outline is not known yet."));
          continue;
        }
      takeoff->area.value += MAX (bed->area.value - bl_bed_shared_area (model, bed), 0);
      takeoff->area.sd += bed->area.sd;
    }
}

BlTakeoff *
bl_takeoff_compute (BlLayout *layout, const char *language)
{
  BlTakeoff *takeoff;
  g_autoptr (GArray) choices = g_array_new (FALSE, FALSE, sizeof (BlGoodsChoice));

  g_return_val_if_fail (layout != NULL, NULL);
  g_array_set_clear_func (choices, choice_clear);
  takeoff = g_new0 (BlTakeoff, 1);
  g_atomic_ref_count_init (&takeoff->refs);
  takeoff->layout = bl_layout_ref (layout);
  takeoff->language = g_intern_string (language);
  takeoff->counts = g_array_new (FALSE, FALSE, sizeof (BlPlantCount));
  g_array_set_clear_func (takeoff->counts, count_clear);
  takeoff->materials = g_array_new (FALSE, FALSE, sizeof (BlMaterial));
  g_array_set_clear_func (takeoff->materials, material_clear);
  takeoff->work = g_array_new (FALSE, FALSE, sizeof (BlWork));
  g_array_set_clear_func (takeoff->work, work_clear);
  takeoff->watering = g_array_new (FALSE, FALSE, sizeof (BlWatering));
  takeoff->notes = g_ptr_array_new_with_free_func (g_free);
  add_areas (takeoff);
  bl_takeoff_count_plants (takeoff);
  bl_takeoff_measure_layers (takeoff, choices);
  bl_takeoff_measure_materials (takeoff);
  bl_takeoff_reckon_work (takeoff);
  bl_takeoff_plan_watering (takeoff);
  bl_takeoff_choose_goods (takeoff, choices);
  return takeoff;
}
