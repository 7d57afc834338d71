/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Designs for the tests of the papers, and readers of the finished PDF: poppler's and qpdf's tools.
 */
#include "papers.h"

#include <json-glib/json-glib.h>
#include <stdio.h>
#include <string.h>

BlLibrary *
papers_library (void)
{
  static BlLibrary *library;
  g_autofree char *path = bl_library_default_path ();
  g_autoptr (GError) error = NULL;

  if (library == NULL)
    library = bl_library_open (path, NULL, &error);
  g_assert_no_error (error);
  return library;
}

BlDesign *
papers_demo (const char *source_root)
{
  g_autofree char *folder = g_build_filename (source_root, "data", "demo", NULL);
  g_autofree char *path = g_build_filename (folder, "harbour-lane.sheet.json", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  BlDesign *design;

  g_assert_true (g_file_get_contents (path, &text, NULL, &error));
  design = bl_sheet_draft (text, -1, folder, papers_library (), NULL, &error);
  g_assert_no_error (error);
  return design;
}

static void
put (JsonBuilder *json, const char *key, const char *value)
{
  if (value == NULL || *value == '\0')
    return;
  json_builder_set_member_name (json, key);
  json_builder_add_string_value (json, value);
}

static void
put_point (JsonBuilder *json, double x, double y)
{
  json_builder_begin_array (json);
  json_builder_add_double_value (json, x);
  json_builder_add_double_value (json, y);
  json_builder_end_array (json);
}

static void
put_rectangle (JsonBuilder *json, const char *key, double x0, double y0, double x1, double y1)
{
  json_builder_set_member_name (json, key);
  json_builder_begin_array (json);
  put_point (json, x0, y0);
  put_point (json, x1, y0);
  put_point (json, x1, y1);
  put_point (json, x0, y1);
  json_builder_end_array (json);
  json_builder_set_member_name (json, "straight");
  json_builder_add_boolean_value (json, TRUE);
}

/* Perennials and low shrubs of the library, spread over the list so that names differ. */
static const char *
slug_at (guint i)
{
  static GPtrArray *plants;
  g_autoptr (GError) error = NULL;

  if (plants == NULL)
    plants = bl_library_find (papers_library (), &(BlPlantQuery) { 0 }, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (plants->len, >, 60);
  return ((BlPlant *) plants->pdata[(i * 37 + 11) % plants->len])->slug;
}

static void
put_plantings (JsonBuilder *json, const PapersWish *wish, guint alternative, double unit)
{
  json_builder_set_member_name (json, "plantings");
  json_builder_begin_array (json);
  for (guint i = 0; i < wish->n_kinds; i++)
    {
      double x = wish->length * (i + 0.5) / wish->n_kinds;

      json_builder_begin_object (json);
      put (json, "plant", slug_at (i + alternative * 5));
      put (json, "form", "specimen");
      put (json, "bed", "Bed");
      put (json, "note", i % 5 == 0 ? wish->idea : NULL);
      json_builder_set_member_name (json, "at");
      put_point (json, x / unit, wish->depth / 2 / unit);
      json_builder_end_object (json);
    }
  if (wish->fill != NULL)
    {
      json_builder_begin_object (json);
      put (json, "plant", wish->fill);
      put (json, "form", "fill");
      put (json, "bed", "Bed");
      put (json, "spacing", wish->units == BL_UNITS_FEET ? "12 in" : "30 cm");
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

static void
put_alternatives (JsonBuilder *json, const PapersWish *wish, double unit)
{
  json_builder_set_member_name (json, "alternatives");
  json_builder_begin_array (json);
  for (guint i = 0; i < wish->n_alternatives; i++)
    {
      g_autofree char *name = g_strdup_printf ("%s%c", wish->alternative_prefix, (char) ('A' + i));

      json_builder_begin_object (json);
      put (json, "name", name);
      put (json, "idea", wish->idea);
      put_plantings (json, wish, i, unit);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

static void
put_features (JsonBuilder *json, const PapersWish *wish, double unit)
{
  json_builder_set_member_name (json, "features");
  json_builder_begin_array (json);
  for (int i = 0; i < 3 && wish->features; i++)
    {
      double x = wish->length * i / 2 / unit;

      json_builder_begin_object (json);
      put (json, "kind", i == 1 ? "walk" : "fixed_point");
      put (json, "name", wish->place);
      if (i == 1)
        put_rectangle (json, "outline", -1 / unit, (wish->depth + 0.4) / unit,
                       (wish->length + 1) / unit, (wish->depth + 1.6) / unit);
      else
        {
          json_builder_set_member_name (json, "outline");
          json_builder_begin_array (json);
          put_point (json, x, -0.8 / unit);
          json_builder_end_array (json);
        }
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

static char *
sheet_text (const PapersWish *wish)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();
  g_autoptr (JsonNode) node = NULL;
  double unit = wish->units == BL_UNITS_FEET ? BL_METRES_PER_FOOT : 1;

  json_builder_begin_object (json);
  json_builder_set_member_name (json, "design_sheet");
  json_builder_add_int_value (json, 1);
  put (json, "title", wish->title);
  put (json, "client", wish->client);
  put (json, "place", wish->place);
  put (json, "designer", wish->designer);
  put (json, "notes", wish->notes);
  put (json, "units", bl_units_name (wish->units));
  put (json, "currency", "USD");
  put_features (json, wish, unit);
  json_builder_set_member_name (json, "beds");
  json_builder_begin_array (json);
  json_builder_begin_object (json);
  put (json, "name", "Bed");
  put_rectangle (json, "outline", 0, 0, wish->length / unit, wish->depth / unit);
  json_builder_end_object (json);
  json_builder_end_array (json);
  put_alternatives (json, wish, unit);
  json_builder_end_object (json);
  node = json_builder_get_root (json);
  return json_to_string (node, TRUE);
}

static void
make_plants_free (BlModel *model)
{
  GHashTableIter iter;
  gpointer value;

  g_hash_table_iter_init (&iter, model->plants);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    for (guint i = 0; i < ((BlPlant *) value)->n_sizes; i++)
      ((BlPlant *) value)->sizes[i].price = 0;
}

BlDesign *
papers_design (const PapersWish *wish)
{
  g_autofree char *text = sheet_text (wish);
  g_autoptr (GError) error = NULL;
  BlDesign *design = bl_sheet_draft (text, -1, NULL, papers_library (), NULL, &error);

  g_assert_no_error (error);
  if (wish->free_of_charge)
    {
      BlPriceBook *book = bl_design_get_model (design)->prices;

      for (guint i = 0; i < book->items->len; i++)
        ((BlPriceItem *) book->items->pdata[i])->price = 0;
      book->rules.labour_rate = 0;
      book->rules.minimum = 0;
      make_plants_free (bl_design_get_model (design));
    }
  return design;
}

char *
papers_file (const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("bedline-papers-XXXXXX", &error);

  g_assert_no_error (error);
  return g_build_filename (folder, name, NULL);
}

BlProposalOptions
papers_options (void)
{
  return (BlProposalOptions) { .today = bl_day (2026, 5, 12), .library = papers_library () };
}

char *
papers_run (const char *const *argv, int *status)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *out = NULL;
  g_autofree char *err = NULL;

  g_assert_true (g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out,
                               &err, status, &error));
  g_assert_no_error (error);
  return g_strconcat (out, err, NULL);
}

char *
papers_text (const char *path, int first, int last)
{
  g_autofree char *from = g_strdup_printf ("%d", MAX (first, 1));
  g_autofree char *to = g_strdup_printf ("%d", last > 0 ? last : 9999);
  const char *argv[] = { "pdftotext", "-layout", "-f", from, "-l", to, path, "-", NULL };
  int status;
  char *text = papers_run (argv, &status);

  g_assert_cmpint (status, ==, 0);
  return text;
}

char *
papers_info (const char *path, const char *key)
{
  const char *argv[] = { "pdfinfo", path, NULL };
  int status;
  g_autofree char *text = papers_run (argv, &status);
  g_autofree char *start = g_strdup_printf ("\n%s:", key);
  g_autofree char *all = g_strconcat ("\n", text, NULL);
  const char *at = strstr (all, start);

  g_assert_cmpint (status, ==, 0);
  if (at == NULL)
    return g_strdup ("");
  at += strlen (start);
  return g_strstrip (g_strndup (at, strcspn (at, "\n")));
}

PapersRaster
papers_raster (const char *path, int page, int dpi)
{
  g_autofree char *root = papers_file ("page");
  g_autofree char *file = g_strconcat (root, ".pgm", NULL);
  g_autofree char *number = g_strdup_printf ("%d", page);
  g_autofree char *resolution = g_strdup_printf ("%d", dpi);
  const char *argv[] = { "pdftoppm", "-gray", "-singlefile", "-r", resolution, "-f",
                         number,     "-l",    number,        path, root,       NULL };
  PapersRaster raster = { 0 };
  g_autofree char *bytes = NULL;
  gsize length;
  int status, top = 0, used = 0;
  g_autofree char *said = papers_run (argv, &status);

  g_assert_cmpint (status, ==, 0);
  g_assert_true (g_file_get_contents (file, &bytes, &length, NULL));
  g_assert_cmpint (sscanf (bytes, "P5 %d %d %d%n", &raster.width, &raster.height, &top, &used), ==,
                   3);
  raster.data = g_memdup2 (bytes + used + 1, (gsize) raster.width * (gsize) raster.height);
  g_assert_cmpuint (length, >=, (gsize) used + 1 + (gsize) raster.width * (gsize) raster.height);
  return raster;
}
