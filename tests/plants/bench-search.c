/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Searches over 5,000 records: the slowest of each kind must answer within 10 ms. */
#include <glib/gstdio.h>
#include <stdlib.h>

#include "sample.h"

#define RECORDS 5000
#define FLOOR_MS 10.0

/* Copies of the sample with names, zones, sizes and months of their own. */
static void
write_records (const char *path)
{
  static const char *const genera[] = { "Aster", "Rudbeckia", "Echinacea", "Carex",  "Salvia",
                                        "Phlox", "Iris",      "Sedum",     "Nepeta", "Allium" };
  g_autoptr (GString) text = g_string_new (NULL);
  guint i = 0;

  for (i = 0; i < RECORDS; i++)
    {
      g_autofree char *rest = g_strdup (strstr (sample_record, "common_es="));

      g_string_append_printf (text,
                              "[plant-%u]\ngenus=%s\nspecies=purpurea\ncultivar=Number %u\n"
                              "common=%s number %u\n%s\n",
                              i, genera[i % 10], i, i % 3 == 0 ? "purple coneflower" : "blue star",
                              i, rest);
    }
  g_assert_true (g_file_set_contents (path, text->str, -1, NULL));
}

static double
slowest (BlLibrary *library, const BlPlantQuery *query, guint times)
{
  double worst = 0;
  guint i = 0;

  for (i = 0; i < times; i++)
    {
      gint64 start = g_get_monotonic_time ();
      g_autoptr (GPtrArray) found = bl_library_find (library, query, NULL);
      double ms = (double) (g_get_monotonic_time () - start) / 1000.0;

      g_assert_nonnull (found);
      worst = MAX (worst, ms);
    }
  return worst;
}

int
main (void)
{
  static const struct
  {
    const char *name;
    BlPlantQuery query;
  } kinds[] = {
    { "one word, 60 shown", { .text = "echin", .limit = 60 } },
    { "one letter, 60 shown", { .text = "p", .limit = 60 } },
    { "three words", { .text = "purple cone 12", .limit = 60 } },
    { "facts alone, 60 shown",
      { .zone = 11, .light = BL_LIGHT_FULL, .month_from = 7, .limit = 60 } },
    { "words and facts",
      { .text = "salvia", .zone = 11, .min_soil_salt = BL_GRADE_MEDIUM, .limit = 60 } },
    { "everything, 60 shown", { .limit = 60 } },
  };
  g_autofree char *folder = g_dir_make_tmp ("bedline-XXXXXX", NULL);
  g_autofree char *file = g_build_filename (folder, "a.plants", NULL);
  g_autofree char *db = g_build_filename (folder, "a.db", NULL);
  const char *const files[] = { file, NULL };
  g_autoptr (BlLibrary) library = NULL;
  gboolean slow = FALSE;
  gint64 start = 0;
  guint i = 0;

  write_records (file);
  g_assert_true (bl_library_compile (files, db, NULL));
  start = g_get_monotonic_time ();
  library = bl_library_open (db, NULL, NULL);
  g_print ("opening %u records: %.1f ms\n", bl_library_n_plants (library),
           (double) (g_get_monotonic_time () - start) / 1000.0);
  for (i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      double first = slowest (library, &kinds[i].query, 1);
      double worst = slowest (library, &kinds[i].query, 50);

      g_print ("%-24s first %5.2f ms, slowest of 50 more %5.2f ms\n", kinds[i].name, first, worst);
      slow = slow || first > FLOOR_MS || worst > FLOOR_MS;
    }
  g_unlink (db);
  g_unlink (file);
  g_rmdir (folder);
  return slow ? EXIT_FAILURE : EXIT_SUCCESS;
}
