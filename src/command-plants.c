/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command `plants`: searches the plant library. */
#include "command.h"

#include <json-glib/json-glib.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "plants/library.h"

typedef struct
{
  char *zone, *sun, *moisture, *soil, *color, *type, *months;
  gboolean salt, spray, drought, snow, deer, native, evergreen, no_dog_report, in_stock, own, json;
  double max_height, min_height;
  int limit;
} Options;

static void
options_clear (Options *o)
{
  g_free (o->zone);
  g_free (o->sun);
  g_free (o->moisture);
  g_free (o->soil);
  g_free (o->color);
  g_free (o->type);
  g_free (o->months);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* "6-8"; no number of more than two digits is a month. */
static gboolean
read_months (const char   *text,
             BlPlantQuery *query)
{
  const char *dash = strchr (text, '-');
  g_autofree char *first = dash != NULL ? g_strndup (text, (gsize) (dash - text)) : NULL;
  guint64 from = 0, to = 0;

  if (dash == NULL || !g_ascii_string_to_unsigned (g_strstrip (first), 10, 1, 12, &from, NULL)
      || !g_ascii_string_to_unsigned (dash + 1, 10, 1, 12, &to, NULL))
    return FALSE;
  query->month_from = (int) from;
  query->month_to = (int) to;
  return TRUE;
}

static gboolean
read_type (const char *text, BlPlantQuery *query, GError **error)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (int i = 0; i < BL_TYPE_N; i++)
    {
      if (strcmp (text, bl_plant_type_name ((BlPlantType) i)) == 0)
        {
          query->type = i + 1;
          return TRUE;
        }
      g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", bl_plant_type_name ((BlPlantType) i));
    }
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "“%s” is not a plant type; the types are %s.", text,
               names->str);
  return FALSE;
}

static gboolean
read_word (const char *what, const char *text, gboolean known, const char *words, GError **error)
{
  if (known)
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "“%s” is not a kind of %s; write %s.", text, what,
               words);
  return FALSE;
}

static gboolean
read_query (const Options *o, BlPlantQuery *query, GError **error)
{
  query->min_soil_salt = o->salt ? BL_GRADE_MEDIUM : BL_GRADE_UNKNOWN;
  query->min_spray_salt = o->spray ? BL_GRADE_MEDIUM : BL_GRADE_UNKNOWN;
  query->min_drought = o->drought ? BL_GRADE_MEDIUM : BL_GRADE_UNKNOWN;
  query->min_snow_load = o->snow ? BL_GRADE_MEDIUM : BL_GRADE_UNKNOWN;
  query->deer_rarely = o->deer;
  query->native = o->native;
  query->evergreen = o->evergreen;
  query->no_dog_report = o->no_dog_report;
  query->in_stock = o->in_stock;
  query->own = o->own;
  query->height_low = o->min_height;
  query->height_high = o->max_height;
  query->color = o->color;
  query->limit = o->limit > 0 ? (guint) o->limit : 0;
  if (o->zone != NULL && (query->zone = bl_zone_parse (o->zone, error)) == 0)
    return FALSE;
  if (o->months != NULL && !read_months (o->months, query))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "“%s” is not a span of months; write it as 6-8.", o->months);
      return FALSE;
    }
  if (o->type != NULL && !read_type (o->type, query, error))
    return FALSE;
  return (o->sun == NULL
          || read_word ("light", o->sun, bl_light_from_name (o->sun, &query->light),
                        "full, part or shade", error))
         && (o->moisture == NULL
             || read_word ("moisture", o->moisture,
                           bl_moisture_from_name (o->moisture, &query->moisture),
                           "dry, medium or wet", error))
         && (o->soil == NULL
             || read_word ("soil", o->soil, bl_soil_from_name (o->soil, &query->soil),
                           "sand, loam or clay", error));
}

static void
add_plant (JsonBuilder *builder, const BlPlant *plant)
{
  g_autofree char *name = bl_plant_name (plant);
  g_autofree char *low = bl_zone_format (plant->zone_low);
  g_autofree char *high = bl_zone_format (plant->zone_high);
  struct { const char *key; double value; } numbers[] = {
    { "height_m", plant->height }, { "spread_m", plant->spread }, { "spacing_m", plant->spacing },
  };
  struct { const char *key; const char *value; } texts[] = {
    { "slug", plant->slug }, { "name", name }, { "common", plant->common },
    { "type", bl_plant_type_name (plant->type) }, { "form", bl_form_name (plant->form) },
    { "zone_low", low }, { "zone_high", high }, { "flower_color", plant->flower_color_name },
    { "soil_salt", bl_grade_name (plant->soil_salt) },
    { "spray_salt", bl_grade_name (plant->spray_salt) },
    { "drought", bl_grade_name (plant->drought) }, { "deer", bl_browse_name (plant->deer) },
    { "harm_people", bl_harm_name (plant->harm_people) },
    { "harm_dogs", bl_harm_name (plant->harm_dogs) }, { "harm_note", plant->harm_note },
    { "basis", plant->basis },
  };

  json_builder_begin_object (builder);
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    if (texts[i].value != NULL)
      {
        json_builder_set_member_name (builder, texts[i].key);
        json_builder_add_string_value (builder, texts[i].value);
      }
  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      json_builder_set_member_name (builder, numbers[i].key);
      json_builder_add_double_value (builder, numbers[i].value);
    }
  json_builder_set_member_name (builder, "flower_months");
  json_builder_begin_array (builder);
  json_builder_add_int_value (builder, plant->flower_from);
  json_builder_add_int_value (builder, plant->flower_to);
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "native");
  json_builder_add_boolean_value (builder, plant->native);
  json_builder_end_object (builder);
}

static gboolean
print_json (const GPtrArray *plants, GError **error)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autofree char *text = NULL;

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "plants");
  json_builder_begin_array (builder);
  for (guint i = 0; i < plants->len; i++)
    add_plant (builder, plants->pdata[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  text = bl_command_json (json_builder_get_root (builder));
  return bl_command_write (NULL, text, -1, error);
}

static void
print_words (const GPtrArray *plants)
{
  for (guint i = 0; i < plants->len; i++)
    {
      const BlPlant *plant = plants->pdata[i];
      g_autofree char *name = bl_plant_name (plant);
      g_autofree char *low = bl_zone_format (plant->zone_low);
      g_autofree char *high = bl_zone_format (plant->zone_high);

      printf ("%-44s %s, %s; zones %s-%s, %.0f cm high, %.0f cm wide\n", plant->slug, name,
              plant->common, low, high, plant->height * 100, plant->spread * 100);
    }
  if (plants->len == 0)
    printf ("No plant of the library fits all of that; ask for less.\n");
}

int
bl_command_plants (int argc, char **argv, GError **error)
{
  g_auto (Options) o = { 0 };
  g_autofree char *text = NULL;
  g_autoptr (BlLibrary) library = NULL;
  g_autoptr (GPtrArray) plants = NULL;
  BlPlantQuery query = { 0 };
  GOptionEntry entries[] = {
    { "zone", 0, 0, G_OPTION_ARG_STRING, &o.zone, "Hardy in this half zone", "5b" },
    { "sun", 0, 0, G_OPTION_ARG_STRING, &o.sun, "full, part or shade", "LIGHT" },
    { "moisture", 0, 0, G_OPTION_ARG_STRING, &o.moisture, "dry, medium or wet", "MOISTURE" },
    { "soil", 0, 0, G_OPTION_ARG_STRING, &o.soil, "sand, loam or clay", "SOIL" },
    { "type", 0, 0, G_OPTION_ARG_STRING, &o.type, "perennial, grass, shrub ...", "TYPE" },
    { "color", 0, 0, G_OPTION_ARG_STRING, &o.color, "A word of the flower's colour", "COLOR" },
    { "months", 0, 0, G_OPTION_ARG_STRING, &o.months, "In flower within, as 6-8", "SPAN" },
    { "min-height", 0, 0, G_OPTION_ARG_DOUBLE, &o.min_height, "Metres", "H" },
    { "max-height", 0, 0, G_OPTION_ARG_DOUBLE, &o.max_height, "Metres", "H" },
    { "salt", 0, 0, G_OPTION_ARG_NONE, &o.salt, "Bears salt in the soil", NULL },
    { "spray", 0, 0, G_OPTION_ARG_NONE, &o.spray, "Bears salt spray", NULL },
    { "drought", 0, 0, G_OPTION_ARG_NONE, &o.drought, "Bears drought once established", NULL },
    { "snow", 0, 0, G_OPTION_ARG_NONE, &o.snow, "Bears ploughed snow", NULL },
    { "deer", 0, 0, G_OPTION_ARG_NONE, &o.deer, "Rarely browsed by deer", NULL },
    { "native", 0, 0, G_OPTION_ARG_NONE, &o.native, "Native to eastern or central North America", NULL },
    { "evergreen", 0, 0, G_OPTION_ARG_NONE, &o.evergreen, "Keeps its leaves", NULL },
    { "no-dog-report", 0, 0, G_OPTION_ARG_NONE, &o.no_dog_report,
      "Only taxa without a known report of harm to dogs", NULL },
    { "in-stock", 0, 0, G_OPTION_ARG_NONE, &o.in_stock, "In stock at your nursery", NULL },
    { "own", 0, 0, G_OPTION_ARG_NONE, &o.own, "Your own plants only", NULL },
    { "limit", 0, 0, G_OPTION_ARG_INT, &o.limit, "At most so many", "N" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &o.json, "Machine-readable", NULL },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("plants"), entries, -1, error)
      || !read_query (&o, &query, error))
    return BL_EXIT_INPUT;
  if (argc > 1)
    text = g_strjoinv (" ", argv + 1);
  query.text = text;
  library = bl_command_library (error);
  if (library == NULL)
    return BL_EXIT_INPUT;
  plants = bl_library_find (library, &query, error);
  if (plants == NULL || (o.json && !print_json (plants, error)))
    return BL_EXIT_INPUT;
  if (!o.json)
    print_words (plants);
  return BL_EXIT_DONE;
}
