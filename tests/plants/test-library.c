/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library: compiled, opened, searched, and the person's own plants over it. */
#include <glib/gstdio.h>

#include "base/error.h"
#include "base/rng.h"
#include "sample.h"

typedef struct
{
  char *folder, *file, *db, *own;
} Place;

static void
add_record (GString *text, const char *slug, const char *const *changes)
{
  g_autofree char *record = g_strdup (sample_record);
  guint i = 0;

  for (i = 0; changes[i] != NULL; i += 2)
    {
      g_autofree char *start = g_strconcat ("\n", changes[i], "=", NULL);
      g_autofree char *line = g_strconcat (changes[i], "=", changes[i + 1], NULL);
      char *at = strstr (record, start);
      char *next = NULL;

      if (at == NULL && g_str_has_prefix (record, start + 1))
        next = g_strconcat (line, strchr (record, '\n'), NULL);
      else if (at != NULL)
        next = g_strdup_printf ("%.*s\n%s%s", (int) (at - record), record, line,
                                strchr (at + 1, '\n'));
      else
        next = g_strconcat (record, line, "\n", NULL);
      g_free (record);
      record = next;
    }
  g_string_append_printf (text, "[%s]\n%s\n", slug, record);
}

#define ADD(text, slug, ...) add_record (text, slug, (const char *const[]){ __VA_ARGS__, NULL })

static void
set_up (Place *place, gconstpointer data)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  const char *files[2] = { NULL };

  place->folder = g_dir_make_tmp ("bedline-XXXXXX", NULL);
  place->file = g_build_filename (place->folder, "a.plants", NULL);
  place->db = g_build_filename (place->folder, "plants #1?.db", NULL);
  place->own = g_build_filename (place->folder, "own", "own.db", NULL);
  ADD (text, "echinacea-purpurea", "wildlife", "bees");
  ADD (text, "rudbeckia-fulgida", "genus", "Rudbeckia", "species", "fulgida", "common",
       "orange coneflower", "common_es", "rudbeckia", "flower_color_name", "golden yellow", "zones",
       "3a 9b", "soil_salt", "high");
  ADD (text, "taxus-x-media", "genus", "Taxus", "species", "x media", "common", "yew", "common_es",
       "tejo", "type", "evergreen-shrub", "leaves", "evergreen", "harm",
       "severe severe severe severe", "harm_note", "All parts but the red flesh are deadly.",
       "height", "100 300 150", "native", "no", "light", "full part shade", "flower_months",
       "12 2");
  g_assert_true (g_file_set_contents (place->file, text->str, -1, NULL));
  files[0] = place->file;
  g_assert_true (bl_library_compile (files, place->db, &error));
  g_assert_no_error (error);
}

static void
tear_down (Place *place, gconstpointer data)
{
  g_autofree char *own = g_path_get_dirname (place->own);

  g_unlink (place->own);
  g_rmdir (own);
  g_unlink (place->db);
  g_unlink (place->file);
  g_assert_cmpint (g_rmdir (place->folder), ==, 0);
  g_free (place->folder);
  g_free (place->file);
  g_free (place->db);
  g_free (place->own);
}

static BlLibrary *
open_library (const Place *place)
{
  g_autoptr (GError) error = NULL;
  BlLibrary *library = bl_library_open (place->db, place->own, &error);

  g_assert_no_error (error);
  return library;
}

/* The slugs found, joined: "taxus-x-media rudbeckia-fulgida". */
static char *
found (BlLibrary *library, BlPlantQuery query)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) plants = bl_library_find (library, &query, &error);
  GString *text = g_string_new (NULL);
  guint i = 0;

  g_assert_no_error (error);
  for (i = 0; i < plants->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "",
                            ((BlPlant *) g_ptr_array_index (plants, i))->slug);
  return g_string_free (text, FALSE);
}

static void
assert_found (BlLibrary *library, BlPlantQuery query, const char *slugs)
{
  g_autofree char *got = found (library, query);

  g_assert_cmpstr (got, ==, slugs);
}

static void
test_names (Place *place, gconstpointer data)
{
  g_autoptr (BlLibrary) library = open_library (place);

  g_assert_cmpuint (bl_library_n_plants (library), ==, 3);
  assert_found (library, (BlPlantQuery){ .text = "echi" }, "echinacea-purpurea");
  assert_found (library, (BlPlantQuery){ .text = "EQUINACEA pur" }, "echinacea-purpurea");
  assert_found (library, (BlPlantQuery){ .text = "tejo" }, "taxus-x-media");
  assert_found (library, (BlPlantQuery){ .text = "coneflower" },
                "rudbeckia-fulgida echinacea-purpurea");
  assert_found (library, (BlPlantQuery){ .text = "oran cone" }, "rudbeckia-fulgida");
  assert_found (library, (BlPlantQuery){ .text = "oak" }, "");
  /* Marks of the query language are words like any other. */
  assert_found (library, (BlPlantQuery){ .text = "\"tax* OR (" }, "");
  assert_found (library, (BlPlantQuery){ .text = "\"taxus* (" }, "taxus-x-media");
  assert_found (library, (BlPlantQuery){ .text = "  *\"  " },
                "echinacea-purpurea rudbeckia-fulgida taxus-x-media");
  assert_found (library, (BlPlantQuery){ .text = "\xff\xfe" },
                "echinacea-purpurea rudbeckia-fulgida taxus-x-media");
}

static void
test_facts (Place *place, gconstpointer data)
{
  g_autoptr (BlLibrary) library = open_library (place);

  assert_found (library, (BlPlantQuery){ .zone = 19 }, "rudbeckia-fulgida");
  assert_found (library, (BlPlantQuery){ .light = BL_LIGHT_SHADE }, "taxus-x-media");
  assert_found (library, (BlPlantQuery){ .min_soil_salt = BL_GRADE_HIGH }, "rudbeckia-fulgida");
  assert_found (library, (BlPlantQuery){ .min_spray_salt = BL_GRADE_LOW }, "");
  assert_found (library, (BlPlantQuery){ .evergreen = TRUE }, "taxus-x-media");
  assert_found (library, (BlPlantQuery){ .native = TRUE, .color = "yellow" }, "rudbeckia-fulgida");
  assert_found (library, (BlPlantQuery){ .no_dog_report = TRUE, .text = "t" }, "");
  assert_found (library, (BlPlantQuery){ .height_low = 1.2 }, "taxus-x-media");
  assert_found (library, (BlPlantQuery){ .height_high = 0.9, .limit = 1 }, "echinacea-purpurea");
  assert_found (library, (BlPlantQuery){ .month_from = 1, .month_to = 2 }, "taxus-x-media");
  assert_found (library, (BlPlantQuery){ .month_from = 11, .month_to = 12 }, "taxus-x-media");
  assert_found (library, (BlPlantQuery){ .month_from = 8 }, "echinacea-purpurea rudbeckia-fulgida");
  assert_found (library, (BlPlantQuery){ .type = BL_TYPE_EVERGREEN_SHRUB + 1 }, "taxus-x-media");
  assert_found (library, (BlPlantQuery){ .deer_rarely = TRUE }, "");
}

static void
test_get (Place *place, gconstpointer data)
{
  g_autoptr (BlLibrary) library = open_library (place);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPlant) plant = bl_library_get (library, "taxus-x-media", &error);

  g_assert_no_error (error);
  g_assert_cmpint (plant->harm_people, ==, BL_HARM_SEVERE);
  g_assert_null (bl_library_get (library, "rudbeckia-fulgids", &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, "nearest are rudbeckia-fulgida"));
}

static void
test_own (Place *place, gconstpointer data)
{
  g_autoptr (BlLibrary) library = open_library (place);
  g_autofree char *record = sample_with ("common", "our coneflower");
  g_autofree char *bad = sample_with ("zones", "8a 3a");
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPlant) plant = NULL;

  g_assert_false (bl_library_put_own (library, "echinacea-purpurea", bad, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
  g_clear_error (&error);
  g_assert_false (g_file_test (place->own, G_FILE_TEST_EXISTS));
  g_assert_true (bl_library_put_own (library, "echinacea-purpurea", record, &error));
  g_assert_true (bl_library_put_own (library, "echinacea-ours", record, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (bl_library_n_plants (library), ==, 4);
  assert_found (library, (BlPlantQuery){ .text = "our" }, "echinacea-ours echinacea-purpurea");
  g_clear_pointer (&library, bl_library_free);
  /* It is still there for the next program. */
  library = open_library (place);
  plant = bl_library_get (library, "echinacea-purpurea", &error);
  g_assert_cmpstr (plant->common, ==, "our coneflower");
  g_assert_true (bl_library_is_own (library, "echinacea-purpurea"));
  g_assert_true (bl_library_remove_own (library, "echinacea-purpurea", &error));
  assert_found (library, (BlPlantQuery){ .text = "purple" }, "echinacea-purpurea");
  g_assert_false (bl_library_remove_own (library, "taxus-x-media", &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_true (bl_library_set_hidden (library, "taxus-x-media", TRUE, &error));
  assert_found (library, (BlPlantQuery){ .text = "yew" }, "");
  g_assert_true (bl_library_set_hidden (library, "taxus-x-media", FALSE, &error));
  assert_found (library, (BlPlantQuery){ .text = "yew" }, "taxus-x-media");
}

static void
test_csv (Place *place, gconstpointer data)
{
  g_autoptr (BlLibrary) library = open_library (place);
  g_autofree char *record = sample_with ("common", "coneflower, \"ours\"");
  g_autofree char *csv = NULL;
  g_autofree char *again = NULL;
  g_autofree char *broken = NULL;
  g_autoptr (GError) error = NULL;
  guint n = 9;

  g_assert_true (bl_library_put_own (library, "echinacea-ours", record, &error));
  csv = bl_library_export_own (library, &error);
  g_assert_no_error (error);
  g_assert_nonnull (strstr (csv, "\"coneflower, \"\"ours\"\"\""));
  g_assert_true (bl_library_remove_own (library, "echinacea-ours", &error));
  g_assert_true (bl_library_import_own (library, csv, strlen (csv), &n, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (n, ==, 1);
  again = bl_library_export_own (library, &error);
  g_assert_cmpstr (again, ==, csv);
  /* One bad line and nothing of the table comes in. */
  g_assert_true (bl_library_remove_own (library, "echinacea-ours", &error));
  broken = g_strconcat (csv, "echinacea-other,x\r\n", NULL);
  g_assert_false (bl_library_import_own (library, broken, strlen (broken), &n, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
  g_assert_nonnull (strstr (error->message, "Line 3"));
  g_assert_cmpuint (bl_library_n_plants (library), ==, 3);
}

static void
test_foreign (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (bl_library_open ("/nowhere/plants.db", NULL, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
  g_clear_error (&error);
  g_assert_null (bl_library_open (place->file, NULL, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
}

/* Bytes overwritten and tails cut off: an error or an answer, never a fall. */
static void
test_damaged (Place *place, gconstpointer data)
{
  g_autofree char *whole = NULL;
  gsize length = 0;
  BlRng rng = bl_rng (20);
  guint i = 0, k = 0, refused = 0;

  g_assert_true (g_file_get_contents (place->db, &whole, &length, NULL));
  for (i = 0; i < 400; i++)
    {
      g_autofree char *hurt = g_memdup2 (whole, length);
      g_autoptr (GError) error = NULL;
      g_autoptr (BlLibrary) library = NULL;
      gsize keep = i % 4 == 0 ? bl_rng_int (&rng, (guint) length) : length;

      for (k = 0; k < 20 && keep == length; k++)
        hurt[bl_rng_int (&rng, (guint) length)] = (char) bl_rng_int (&rng, 256);
      g_assert_true (g_file_set_contents (place->db, hurt, (gssize) keep, NULL));
      library = bl_library_open (place->db, NULL, &error);
      if (library != NULL)
        {
          g_autoptr (GPtrArray) all = bl_library_find (library, &(BlPlantQuery){ 0 }, &error);
          g_autoptr (GPtrArray) some = NULL;

          if (all != NULL)
            some = bl_library_find (library, &(BlPlantQuery){ .text = "con" }, &error);
        }
      refused += error != NULL;
    }
  g_assert_cmpuint (refused, >, 50);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/plants/library/names", Place, NULL, set_up, test_names, tear_down);
  g_test_add ("/plants/library/facts", Place, NULL, set_up, test_facts, tear_down);
  g_test_add ("/plants/library/get", Place, NULL, set_up, test_get, tear_down);
  g_test_add ("/plants/library/own", Place, NULL, set_up, test_own, tear_down);
  g_test_add ("/plants/library/csv", Place, NULL, set_up, test_csv, tear_down);
  g_test_add ("/plants/library/foreign", Place, NULL, set_up, test_foreign, tear_down);
  g_test_add ("/plants/library/damaged", Place, NULL, set_up, test_damaged, tear_down);
  return g_test_run ();
}
