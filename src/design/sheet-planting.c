/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheet parts of what is planted: own plant records, alternatives, plantings, own figures. */
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/sheet-private.h"

/* ---- plants ---- */

static gboolean
put_plant (BlSheet       *sheet,
           const BlPlace *place,
           BlPlant       *plant)
{
  GError *problem = NULL;

  if (!bl_design_put_plant (sheet->design, plant, &problem))
    {
      bl_sheet_take (sheet, place, problem);
      return FALSE;
    }
  g_hash_table_replace (sheet->plants, g_strdup (plant->slug), bl_plant_ref (plant));
  return TRUE;
}

static char *
join_lines (BlSheet       *sheet,
            const BlPlace *place,
            JsonNode      *node)
{
  GString *text = g_string_new (NULL);
  JsonArray *lines = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (lines == NULL)
    bl_sheet_refuse (sheet, place, "must be the lines of a plant record, each a text in a list");
  for (guint i = 0; lines != NULL && i < json_array_get_length (lines) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (place, i);
      JsonNode *line = json_array_get_element (lines, i);

      if (!JSON_NODE_HOLDS_VALUE (line) || json_node_get_value_type (line) != G_TYPE_STRING)
        bl_sheet_refuse (sheet, &here, "must be a text");
      else
        g_string_append_printf (text, "%s\n", json_node_get_string (line));
      if (text->len > BL_MAX_RECORD)
        bl_sheet_refuse (sheet, place, "is too long for a plant record");
    }
  return g_string_free (text, FALSE);
}

/* A sheet is text: the picture of a plant lies beside it as SLUG.png or SLUG.svg, or is in the library.
 * Without it the figure is drawn. */
static void
lend_picture (BlSheet       *sheet,
              const BlPlace *place,
              BlPlant       *plant)
{
  static const char *const suffixes[] = { "png", "svg" };
  g_autoptr(GBytes) bytes = NULL;

  if (plant->cutout == NULL)
    return;
  if (sheet->library != NULL)
    bytes = bl_library_picture (sheet->library, plant->cutout->sha256);
  for (guint i = 0; bytes == NULL && sheet->folder != NULL && i < G_N_ELEMENTS (suffixes); i++)
    {
      g_autofree char *file = g_strdup_printf ("%s.%s", plant->slug, suffixes[i]);
      g_autofree char *path = g_build_filename (sheet->folder, file, NULL);

      if (g_file_test (path, G_FILE_TEST_IS_REGULAR))
        bytes = bl_sheet_picture (sheet, place, file);
    }
  bl_plant_lend_picture (plant, bytes);
}

void
bl_sheet_read_plants (BlSheet    *sheet,
                      JsonObject *root)
{
  JsonObject *object = bl_sheet_object (sheet, NULL, root, "plants");
  BlPlace list = BL_PLACE_KEY (NULL, "plants");
  g_autoptr(GList) slugs = object != NULL ? json_object_get_members (object) : NULL;

  for (GList *slug = slugs; slug != NULL && sheet->error == NULL; slug = slug->next)
    {
      BlPlace here = BL_PLACE_KEY (&list, slug->data);
      g_autofree char *record
          = join_lines (sheet, &here, json_object_get_member (object, slug->data));
      g_autoptr(BlPlant) plant = NULL;
      GError *problem = NULL;

      if (sheet->error != NULL)
        return;
      plant = bl_plant_parse (slug->data, record, &problem);
      if (plant != NULL)
        {
          lend_picture (sheet, &here, plant);
          put_plant (sheet, &here, plant);
        }
      bl_sheet_take (sheet, &here, problem);
    }
}

/* The record of @slug: one of the sheet's own, or the library's. */
static const BlPlant *
find_plant (BlSheet       *sheet,
            const BlPlace *place,
            const char    *slug)
{
  const BlPlant *known = g_hash_table_lookup (sheet->plants, slug);
  g_autoptr(BlPlant) plant = NULL;
  GError *problem = NULL;

  if (known != NULL || sheet->error != NULL)
    return known;
  if (sheet->library == NULL)
    {
      bl_sheet_refuse (sheet, place, "there is no plant library to find “%s” in", slug);
      return NULL;
    }
  plant = bl_library_get (sheet->library, slug, &problem);
  if (plant == NULL)
    {
      bl_sheet_take (sheet, place, problem);
      return NULL;
    }
  if (!put_plant (sheet, place, plant))
    return NULL;
  return g_hash_table_lookup (sheet->plants, plant->slug);
}

static void
check_size (BlSheet       *sheet,
            const BlPlace *place,
            const BlPlant *plant,
            const char    *size)
{
  g_autoptr(GString) list = g_string_new (NULL);

  if (size == NULL || plant == NULL)
    return;
  for (guint i = 0; i < plant->n_sizes; i++)
    {
      if (strcmp (plant->sizes[i].name, size) == 0)
        return;
      g_string_append_printf (list, "%s%s", i > 0 ? ", " : "", plant->sizes[i].name);
    }
  bl_sheet_refuse (sheet, place, "“%s” is not a size in which %s is sold; these are: %s", size,
                   plant->slug, list->str);
}

/* ---- plantings ---- */

static const char *
planting_keys (BlPlantingForm form)
{
  switch (form)
    {
    case BL_PLANTING_SPECIMEN:
      return "plant size form bed at spacing square locked group note";
    case BL_PLANTING_ROW:
      return "plant size form bed line corners straight spacing square locked group note";
    case BL_PLANTING_DRIFT:
      return "plant size form bed outline corners straight spacing square locked group note stood";
    case BL_PLANTING_FILL:
    default:
      return "plant size form bed spacing square locked group note stood";
    }
}

static gint64
find_bed (BlSheet       *sheet,
          const BlPlace *place,
          JsonObject    *object)
{
  /* With a single bed there is no question which is meant. */
  const char *fallback = sheet->bed_names->len == 1 ? g_ptr_array_index (sheet->bed_names, 0) : "";
  const char *name = bl_sheet_text (sheet, place, object, "bed", fallback);
  const gint64 *id = g_hash_table_lookup (sheet->beds, name);
  BlPlace here = BL_PLACE_KEY (place, "bed");

  if (id == NULL && name[0] == '\0')
    bl_sheet_refuse (sheet, &here, "is missing");
  else if (id == NULL)
    bl_sheet_refuse (sheet, &here, "there is no bed “%s”", name);
  return id != NULL ? *id : 0;
}

static void
read_shape (BlSheet       *sheet,
            const BlPlace *place,
            JsonObject    *object,
            BlPlanting    *planting)
{
  BlPlace at = BL_PLACE_KEY (place, "at");

  if (planting->form == BL_PLANTING_ROW)
    planting->shape = bl_sheet_outline (sheet, place, object, "line", FALSE, TRUE);
  else if (planting->form == BL_PLANTING_DRIFT)
    planting->shape = bl_sheet_outline (sheet, place, object, "outline", FALSE, FALSE);
  else if (planting->form == BL_PLANTING_SPECIMEN)
    {
      planting->shape = bl_outline_new ();
      bl_points_add (planting->shape->points,
                     bl_sheet_point_of (sheet, &at, json_object_get_member (object, "at"), FALSE));
    }
}

static void
read_planting (BlSheet       *sheet,
               const BlPlace *here,
               JsonObject    *object,
               gint64         alternative)
{
  g_autoptr(BlPlanting) planting = bl_planting_new ();
  const char *form = bl_sheet_name (sheet, here, object, "form");
  const char *slug = bl_sheet_name (sheet, here, object, "plant");
  BlPlace at_form = BL_PLACE_KEY (here, "form"), at_plant = BL_PLACE_KEY (here, "plant");
  BlPlace at_size = BL_PLACE_KEY (here, "size"), at_stood = BL_PLACE_KEY (here, "stood");
  JsonArray *stood;
  const BlPlant *plant;
  GError *problem = NULL;

  if (!bl_planting_form_from_name (form, &planting->form))
    bl_sheet_refuse (sheet, &at_form, "must be specimen, row, drift or fill");
  bl_sheet_keys (sheet, here, object, planting_keys (planting->form));
  planting->alternative_id = alternative;
  planting->bed_id = find_bed (sheet, here, object);
  plant = find_plant (sheet, &at_plant, slug);
  planting->slug = g_strdup (slug);
  planting->size = g_strdup (bl_sheet_text (sheet, here, object, "size", NULL));
  check_size (sheet, &at_size, plant, planting->size);
  read_shape (sheet, here, object, planting);
  planting->spacing = bl_sheet_length (sheet, here, object, "spacing", 0);
  planting->square = bl_sheet_switch (sheet, here, object, "square", FALSE);
  planting->locked = bl_sheet_switch (sheet, here, object, "locked", FALSE);
  planting->group = bl_sheet_whole (sheet, here, object, "group", 0);
  planting->note = g_strdup (bl_sheet_text (sheet, here, object, "note", NULL));
  stood = bl_sheet_array (sheet, here, object, "stood");
  if (stood != NULL)
    planting->stood = bl_sheet_points (sheet, &at_stood, stood, FALSE);
  if (sheet->error == NULL && !bl_design_put_planting (sheet->design, planting, &problem))
    bl_sheet_take (sheet, here, problem);
}

static void
read_override (BlSheet       *sheet,
               const BlPlace *here,
               JsonObject    *object,
               gint64         alternative)
{
  BlOverride override = { .alternative_id = alternative };
  GError *problem = NULL;

  bl_sheet_keys (sheet, here, object, "line field value note");
  override.line = (char *) bl_sheet_name (sheet, here, object, "line");
  override.field = (char *) bl_sheet_name (sheet, here, object, "field");
  /* A mark needs no number: it is there or not. */
  override.value = bl_sheet_number (sheet, here, object, "value",
                                    g_strcmp0 (override.field, "optional") == 0);
  override.note = (char *) bl_sheet_text (sheet, here, object, "note", NULL);
  if (sheet->error == NULL && !bl_design_put_override (sheet->design, &override, &problem))
    bl_sheet_take (sheet, here, problem);
}

static void
read_each (BlSheet       *sheet,
           const BlPlace *place,
           JsonObject    *object,
           const char    *key,
           gint64         alternative,
           void         (*read) (BlSheet *, const BlPlace *, JsonObject *, gint64))
{
  JsonArray *array = bl_sheet_array (sheet, place, object, key);
  BlPlace list = BL_PLACE_KEY (place, key);

  for (guint i = 0; array != NULL && i < json_array_get_length (array) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&list, i);
      JsonObject *element = bl_sheet_element (sheet, &here, array, i);

      if (element != NULL)
        read (sheet, &here, element, alternative);
    }
}

static void
read_alternative (BlSheet       *sheet,
                  const BlPlace *here,
                  JsonObject    *object,
                  GHashTable    *names)
{
  BlAlternative alternative = { .position = -1 };
  BlPlace at_name = BL_PLACE_KEY (here, "name");
  GError *problem = NULL;

  bl_sheet_keys (sheet, here, object, "name idea colors plantings overrides");
  alternative.name = (char *) bl_sheet_name (sheet, here, object, "name");
  alternative.idea = (char *) bl_sheet_text (sheet, here, object, "idea", "");
  alternative.colors = (char *) bl_sheet_text (sheet, here, object, "colors", "");
  if (!g_hash_table_add (names, g_strdup (alternative.name)))
    bl_sheet_refuse (sheet, &at_name,
                     "another alternative is called “%s” too; give one another name",
                     alternative.name);
  if (sheet->error != NULL)
    return;
  if (!bl_design_put_alternative (sheet->design, &alternative, &problem))
    {
      bl_sheet_take (sheet, here, problem);
      return;
    }
  read_each (sheet, here, object, "plantings", alternative.id, read_planting);
  read_each (sheet, here, object, "overrides", alternative.id, read_override);
}

void
bl_sheet_read_alternatives (BlSheet    *sheet,
                            JsonObject *root)
{
  g_autoptr(GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  JsonArray *array = bl_sheet_array (sheet, NULL, root, "alternatives");
  BlPlace list = BL_PLACE_KEY (NULL, "alternatives");

  for (guint i = 0; array != NULL && i < json_array_get_length (array) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&list, i);
      JsonObject *object = bl_sheet_element (sheet, &here, array, i);

      if (object != NULL)
        read_alternative (sheet, &here, object, names);
    }
}
