/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Take-off and estimate as JSON. Quantities of the take-off are SI, money is in minor units. */
#include <json-glib/json-glib.h>
#include <math.h>

#include "takeoff/estimate.h"

static void
add_string (JsonBuilder *b, const char *name, const char *value)
{
  json_builder_set_member_name (b, name);
  if (value != NULL)
    json_builder_add_string_value (b, value);
  else
    json_builder_add_null_value (b);
}

static void
add_double (JsonBuilder *b, const char *name, double value)
{
  json_builder_set_member_name (b, name);
  if (isfinite (value))
    json_builder_add_double_value (b, value);
  else
    json_builder_add_null_value (b);
}

static void
add_int (JsonBuilder *b, const char *name, gint64 value)
{
  json_builder_set_member_name (b, name);
  json_builder_add_int_value (b, value);
}

static void
add_boolean (JsonBuilder *b, const char *name, gboolean value)
{
  json_builder_set_member_name (b, name);
  json_builder_add_boolean_value (b, value);
}

static void
begin_list (JsonBuilder *b, const char *name)
{
  json_builder_set_member_name (b, name);
  json_builder_begin_array (b);
}

static void
begin_group (JsonBuilder *b, const char *name)
{
  json_builder_set_member_name (b, name);
  json_builder_begin_object (b);
}

static void
add_words (JsonBuilder *b, const char *name, const GPtrArray *words)
{
  begin_list (b, name);
  for (guint i = 0; i < words->len; i++)
    json_builder_add_string_value (b, words->pdata[i]);
  json_builder_end_array (b);
}

static const char *
bed_name (const BlTakeoff *takeoff, gint64 id)
{
  const BlBed *bed = id != 0 ? bl_model_bed (takeoff->layout->model, id) : NULL;

  return bed != NULL ? bed->name : NULL;
}

static void
add_counts (JsonBuilder *b, const BlTakeoff *takeoff)
{
  begin_list (b, "plants");
  for (guint i = 0; i < takeoff->counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (takeoff->counts, BlPlantCount, i);
      g_autofree char *name = bl_plant_name (count->plant);

      json_builder_begin_object (b);
      add_string (b, "bed", bed_name (takeoff, count->bed_id));
      add_string (b, "slug", count->plant->slug);
      add_string (b, "botanical", name);
      add_string (b, "common", count->plant->common);
      add_string (b, "size", count->size);
      add_int (b, "count", count->count);
      add_double (b, "formula_count", count->formula_count);
      add_int (b, "reserve", count->reserve);
      add_int (b, "order", count->order);
      add_double (b, "spacing_m", count->spacing);
      add_string (b, "rule", count->rule);
      json_builder_end_object (b);
    }
  json_builder_end_array (b);
}

static void
add_material (JsonBuilder *b, const BlTakeoff *takeoff, const BlMaterial *material)
{
  json_builder_begin_object (b);
  add_string (b, "bed", bed_name (takeoff, material->bed_id));
  add_string (b, "key", material->key);
  add_string (b, "name", material->name);
  add_string (b, "unit", material->unit);
  add_double (b, "quantity", material->quantity);
  add_double (b, "sd", material->sd);
  add_double (b, "order", material->order);
  add_double (b, "mass_kg", material->mass);
  add_string (b, "how", material->how);
  json_builder_end_object (b);
}

static void
add_materials (JsonBuilder *b, const BlTakeoff *takeoff)
{
  begin_list (b, "materials");
  for (guint i = 0; i < takeoff->materials->len; i++)
    add_material (b, takeoff, &g_array_index (takeoff->materials, BlMaterial, i));
  json_builder_end_array (b);
  json_builder_set_member_name (b, "soil_out");
  if (takeoff->soil_out.key != NULL)
    add_material (b, takeoff, &takeoff->soil_out);
  else
    json_builder_add_null_value (b);
}

/* Litres a watering, and a week while the phase lasts, over all plants of a size. */
static void
add_watering (JsonBuilder *b, const BlTakeoff *takeoff)
{
  begin_group (b, "watering");
  begin_list (b, "phases");
  for (guint i = 0; i < BL_WATER_PHASES; i++)
    {
      json_builder_begin_object (b);
      add_double (b, "weeks", takeoff->phases[i].weeks);
      add_double (b, "every_days", takeoff->phases[i].every_days);
      json_builder_end_object (b);
    }
  json_builder_end_array (b);
  begin_list (b, "sizes");
  for (guint i = 0; i < takeoff->watering->len; i++)
    {
      const BlWatering *row = &g_array_index (takeoff->watering, BlWatering, i);
      double each = (row->low_l + row->high_l) / 2 * row->count;

      json_builder_begin_object (b);
      add_string (b, "size", row->size);
      add_int (b, "count", row->count);
      add_double (b, "each_low_l", row->known ? row->low_l : NAN);
      add_double (b, "each_high_l", row->known ? row->high_l : NAN);
      add_double (b, "a_watering_l", row->known ? each : NAN);
      begin_list (b, "a_week_l");
      for (guint k = 0; k < BL_WATER_PHASES; k++)
        json_builder_add_double_value (b, each * 7 / takeoff->phases[k].every_days);
      json_builder_end_array (b);
      json_builder_end_object (b);
    }
  json_builder_end_array (b);
  add_double (b, "first_season_l", takeoff->water_first_season);
  json_builder_end_object (b);
}

static void
add_work (JsonBuilder *b, const BlTakeoff *takeoff)
{
  begin_list (b, "work");
  for (guint i = 0; i < takeoff->work->len; i++)
    {
      const BlWork *work = &g_array_index (takeoff->work, BlWork, i);

      json_builder_begin_object (b);
      add_string (b, "bed", bed_name (takeoff, work->bed_id));
      add_string (b, "key", work->key);
      add_string (b, "name", work->name);
      add_double (b, "units", work->units);
      add_string (b, "unit", work->unit);
      add_double (b, "hours", work->hours);
      add_string (b, "how", work->how);
      json_builder_end_object (b);
    }
  json_builder_end_array (b);
}

static void
add_lines (JsonBuilder *b, const GArray *lines)
{
  begin_list (b, "lines");
  for (guint i = 0; i < lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (lines, BlEstimateLine, i);

      json_builder_begin_object (b);
      add_string (b, "key", line->key);
      add_string (b, "section", bl_section_name (line->section, NULL));
      add_string (b, "name", line->name);
      add_double (b, "quantity", line->quantity);
      add_string (b, "unit", line->unit);
      add_int (b, "rate", line->rate);
      add_int (b, "amount", line->amount);
      add_string (b, "how", line->how);
      add_boolean (b, "overridden", line->overridden);
      add_boolean (b, "invented", line->invented);
      json_builder_end_object (b);
    }
  json_builder_end_array (b);
}

static void
add_options (JsonBuilder *b, const BlEstimate *estimate)
{
  begin_list (b, "options");
  for (guint i = 0; i < estimate->options->len; i++)
    {
      const BlEstimateOption *option = &g_array_index (estimate->options, BlEstimateOption, i);

      json_builder_begin_object (b);
      add_string (b, "name", option->name);
      add_int (b, "price", option->price);
      add_lines (b, option->lines);
      json_builder_end_object (b);
    }
  json_builder_end_array (b);
}

static void
add_estimate (JsonBuilder *b, const BlEstimate *estimate)
{
  begin_group (b, "estimate");
  add_string (b, "currency", estimate->currency);
  add_int (b, "decimals", bl_money_digits (estimate->currency));
  add_lines (b, estimate->lines);
  begin_group (b, "sections");
  for (int s = 0; s < BL_SECTION_N; s++)
    add_int (b, bl_section_name ((BlSection) s, NULL), estimate->section_total[s]);
  json_builder_end_object (b);
  add_int (b, "cost", estimate->cost);
  add_int (b, "price", estimate->price);
  add_int (b, "tax", estimate->tax);
  add_int (b, "total", estimate->total);
  add_int (b, "total_low", estimate->total_low);
  add_int (b, "total_high", estimate->total_high);
  add_int (b, "deposit", estimate->deposit);
  add_options (b, estimate);
  add_boolean (b, "any_invented", estimate->any_invented);
  json_builder_end_object (b);
}

char *
bl_estimate_to_json (const BlTakeoff *takeoff, const BlEstimate *estimate)
{
  g_autoptr (JsonBuilder) b = json_builder_new ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = NULL;
  const BlModel *model;
  const BlAlternative *alternative;

  g_return_val_if_fail (takeoff != NULL && estimate != NULL, NULL);
  model = takeoff->layout->model;
  alternative = bl_model_alternative (model, takeoff->layout->alternative_id);
  json_builder_begin_object (b);
  add_string (b, "design", model->title);
  add_string (b, "alternative", alternative != NULL ? alternative->name : NULL);
  add_double (b, "area_m2", takeoff->area.value);
  add_double (b, "area_sd_m2", takeoff->area.sd);
  add_int (b, "plant_count", takeoff->n_plants);
  add_int (b, "kinds", takeoff->n_kinds);
  add_double (b, "hours", takeoff->hours);
  add_double (b, "mass_kg", takeoff->mass);
  add_double (b, "water_first_season_l", takeoff->water_first_season);
  add_counts (b, takeoff);
  add_materials (b, takeoff);
  add_work (b, takeoff);
  add_watering (b, takeoff);
  add_estimate (b, estimate);
  add_words (b, "notes", takeoff->notes);
  add_words (b, "messages", takeoff->layout->messages);
  json_builder_end_object (b);
  root = json_builder_get_root (b);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  return json_generator_to_data (generator, NULL);
}
