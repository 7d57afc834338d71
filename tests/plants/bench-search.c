/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Searches over 5,000 records: how long the slowest of each kind takes, and one beside a floor. */
#include <glib/gstdio.h>

#include "../bench/bench.h"
#include "sample.h"

#define RECORDS 5000

/* Copies of the sample with names, zones, sizes and months of their own. */
static void
write_records (const char *path, guint records)
{
  static const char *const genera[] = { "Aster", "Rudbeckia", "Echinacea", "Carex",  "Salvia",
                                        "Phlox", "Iris",      "Sedum",     "Nepeta", "Allium" };
  g_autoptr (GString) text = g_string_new (NULL);
  guint i = 0;

  for (i = 0; i < records; i++)
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
      double start = bench_now_ms ();
      g_autoptr (GPtrArray) found = bl_library_find (library, query, NULL);
      double ms = bench_now_ms () - start;

      g_assert_nonnull (found);
      worst = MAX (worst, ms);
    }
  return worst;
}

static BlLibrary *
library_of (const char *folder, guint records)
{
  g_autofree char *file = g_build_filename (folder, "a.plants", NULL);
  g_autofree char *db = g_build_filename (folder, "a.db", NULL);
  const char *const files[] = { file, NULL };
  BlLibrary *library;

  write_records (file, records);
  g_assert_true (bl_library_compile (files, db, NULL));
  library = bl_library_open (db, NULL, NULL);
  g_assert_nonnull (library);
  g_unlink (db);
  g_unlink (file);
  return library;
}

typedef struct
{
  BlLibrary *library;
  GStrv names; /* as many as the library has */
} Search;

static void
look_up (gpointer data)
{
  Search *search = data;
  g_autoptr (GPtrArray) found
    = bl_library_find (search->library, &(BlPlantQuery) { .text = "purple cone 12", .limit = 60 }, NULL);

  g_assert_cmpuint (found->len, >, 0);
}

/* The floor: a word sought in every name. */
static void
look_through (gpointer data)
{
  Search *search = data;
  volatile guint n = 0;

  for (guint i = 0; search->names[i] != NULL; i++)
    n += strstr (search->names[i], "cone") != NULL;
}

static void
tell (BlLibrary *library, const char *folder)
{
  g_autoptr (BlLibrary) tenth = library_of (folder, RECORDS / 10);
  Search many = { library, bl_library_slugs (library) }, few = { tenth, bl_library_slugs (tenth) };

  bench_row ("search for three words", bench_fastest_ms (look_up, &few, 9),
             bench_fastest_ms (look_through, &few, 9), bench_fastest_ms (look_up, &many, 9),
             "500 and 5,000 records; floor: one word sought in each name");
  g_strfreev (many.names);
  g_strfreev (few.names);
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
  g_autoptr (BlLibrary) library = library_of (folder, RECORDS);
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      double first = slowest (library, &kinds[i].query, 1);
      double worst = slowest (library, &kinds[i].query, 50);

      g_print ("%-24s first %5.2f ms, slowest of 50 more %5.2f ms\n", kinds[i].name, first, worst);
    }
  tell (library, folder);
  g_rmdir (folder);
  return 0;
}
