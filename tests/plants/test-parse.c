/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading records: every value in its place, every mistake named with slug and key. */
#include <glib/gstdio.h>

#include "base/error.h"
#include "sample.h"

#define ABOUT(value, expected) g_assert_cmpfloat_with_epsilon (value, expected, 1e-9)

static void
test_whole (void)
{
  g_autoptr (BlPlant) p = sample_plant ("echinacea-purpurea", "wildlife", "bees, goldfinches");
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPlant) again = bl_plant_parse (p->slug, p->text, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (again->text, ==, p->text);
  g_assert_cmpstr (p->genus, ==, "Echinacea");
  g_assert_cmpstr (p->common_es, ==, "equinácea púrpura");
  g_assert_null (p->cultivar);
  g_assert_cmpint (p->form, ==, BL_FORM_DAISY_CLUMP);
  g_assert_cmpint (p->leaf, ==, BL_LEAF_LANCE);
  ABOUT (p->leaf_size, 0.12);
  ABOUT (p->height_low, 0.6);
  ABOUT (p->height_high, 1.2);
  ABOUT (p->height, 0.9);
  ABOUT (p->spread, 0.5);
  ABOUT (p->foliage_height, 0.6);
  g_assert_cmpint (p->growth, ==, BL_GRADE_MEDIUM);
  g_assert_cmpuint (p->n_sizes, ==, 2);
  g_assert_cmpstr (p->sizes[1].name, ==, "#1");
  ABOUT (p->sizes[1].height, 0.35);
  g_assert_cmpint (p->sizes[1].price, ==, 1450);
  g_assert_cmpint (p->zone_low, ==, 6);
  g_assert_cmpint (p->zone_high, ==, 17);
  g_assert_cmpint (p->heat_high, ==, 9);
  g_assert_cmpuint (p->light, ==, BL_LIGHT_BIT (BL_LIGHT_FULL) | BL_LIGHT_BIT (BL_LIGHT_PART));
  g_assert_cmpuint (p->moisture, ==,
                    BL_MOISTURE_BIT (BL_MOISTURE_DRY) | BL_MOISTURE_BIT (BL_MOISTURE_MEDIUM));
  ABOUT (p->ph_high, 7.5);
  g_assert_cmpint (p->spray_salt, ==, BL_GRADE_UNKNOWN);
  g_assert_cmpint (p->rabbit, ==, BL_BROWSE_OFTEN);
  g_assert_true (p->seeds && !p->runs && p->native && !p->thorns);
  g_assert_cmpint (p->harm_cats, ==, BL_HARM_NO_REPORT);
  g_assert_cmpuint (p->n_flower_colors, ==, 2);
  g_assert_cmpint (p->flower_from, ==, 6);
  g_assert_cmpint (p->care, ==, BL_CARE_H1);
  g_assert_cmpint (p->divide_high, ==, 6);
  g_assert_cmpstr (p->companions[0], ==, "schizachyrium-scoparium");
  ABOUT (p->spacing, 0.45);
}

static void
test_hybrid (void)
{
  g_autoptr (BlPlant) p = sample_plant ("nepeta-x-faassenii", "species", "x faassenii");
  g_autofree char *name = bl_plant_name (p);

  g_assert_true (p->hybrid_species);
  g_assert_cmpstr (name, ==, "Echinacea \303\227faassenii");
}

static void
test_regulated (void)
{
  g_autoptr (BlPlant) p = sample_plant (
    "berberis-thunbergii", "regulated",
    "PA|noxious weed, class B|PA Department of Agriculture|2021-10; NY|prohibited|NYS DEC|2014-09");

  g_assert_cmpuint (p->n_regulations, ==, 2);
  g_assert_cmpstr (p->regulations[0].what, ==, "noxious weed, class B");
  g_assert_cmpstr (p->regulations[1].when, ==, "2014-09");
}

/* key, value (NULL: left out), words that the message must have besides slug and key */
static const struct
{
  const char *key, *value, *words;
} mistakes[] = {
  { "genus", NULL, "missing" },
  { "genus", "echinacea", "capital" },
  { "type", "herb", "perennial, grass" },
  { "form", "blob", "upright-clump" },
  { "leaf", "lance", "centimetres" },
  { "leaf", "lance -3", "centimetres" },
  { "height", "60 120", "low, high and design" },
  { "height", "60 120 150", "between" },
  { "height", "60 x 90", "not a number" },
  { "height", "nan nan nan", "not a number" },
  { "spread", "60 45 50", "between" },
  { "foliage_height", "95", "over the design height" },
  { "years", "0", "0.25" },
  { "growth", "quick", "slow, medium or fast" },
  { "growth", "unknown", "slow, medium or fast" },
  { "sizes", "#1:35:25", "height:spread:price" },
  { "sizes", "#1:tall:25:100", "length in centimetres" },
  { "sizes", "a:1:1:1;b:1:1:1;c:1:1:1;d:1:1:1;e:1:1:1;f:1:1:1;g:1:1:1", "7 sizes" },
  { "zones", "8b 3a", "colder zone" },
  { "zones", "3a", "two half zones" },
  { "zones", "3a 15b", "hardiness zone" },
  { "heat", "9 1", "coolest" },
  { "light", "sun", "full, part or shade" },
  { "light", "unknown", "full, part or shade" },
  { "moisture", "", "missing" },
  { "ph", "7.5 6", "lower pH" },
  { "drought", "good", "low, medium or high" },
  { "deer", "never", "rarely" },
  { "spreads", "everywhere", "runner" },
  { "thorns", "maybe", "yes nor no" },
  { "harm", "toxic toxic", "four words" },
  { "harm", "toxic no-report no-report deadly", "no-report" },
  { "regulated", "PA|noxious", "where|what" },
  { "leaves", "green", "deciduous" },
  { "emerges", "13", "1 to 12" },
  { "leaf_colors", "#000000 #000000", "four colours" },
  { "leaf_colors", "#7fa650 #4f7d3a #8a8a4a brown", "colour" },
  { "stem", "brown", "colour" },
  { "flower", "rose 9", "daisy" },
  { "flower_colors", "#000 #111 #222 #333 #444", "at most 4" },
  { "flower_colors", NULL, "needed" },
  { "flower_months", "6", "first and last" },
  { "flower_months", "0 8", "first and last" },
  { "flower_months", "6 13", "12" },
  { "fruit", "#a02020 9", "two months" },
  { "spacing", "-4", "number" },
  { "support", "wall", "stake nor trellis" },
  { "care", "H9", "P1, P2" },
  { "divide", "6 4", "fewest" },
  { "basis", NULL, "missing" },
  { "flavour", "sweet", "no key" },
};

static void
test_mistakes (void)
{
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (mistakes); i++)
    {
      g_autofree char *text = sample_with (mistakes[i].key, mistakes[i].value);
      g_autoptr (GError) error = NULL;
      g_autoptr (BlPlant) plant = NULL;

      plant = bl_plant_parse ("echinacea-purpurea", text, &error);
      g_assert_null (plant);
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_assert_true (g_str_has_prefix (error->message, "echinacea-purpurea: "));
      if (strstr (error->message, mistakes[i].key) == NULL
          || strstr (error->message, mistakes[i].words) == NULL)
        g_error ("%s=%s: %s", mistakes[i].key, mistakes[i].value, error->message);
    }
}

static void
test_harm_needs_note (void)
{
  g_autofree char *text = sample_with ("harm", "mild no-report no-report no-report");
  g_autoptr (GError) error = NULL;

  g_assert_null (bl_plant_parse ("x", text, &error));
  g_assert_nonnull (strstr (error->message, "harm_note"));
}

/* A file's mistakes name the file and the line. */
static void
test_file (void)
{
  static const struct
  {
    const char *text, *words;
  } files[] = {
    { "genus=A\n", "line 1: a key stands before" },
    { "# note\n\n[a\n", "line 3: a record begins" },
    { "[a-b]\ngenus=A\ngenus=B\n", "line 3: this key is given twice" },
    { "[a-b]\ngenus A\n", "line 2: no “=”" },
    { "\n[a-b]\ngenus=Aa\n", "line 2: a-b: key “common”" },
  };
  g_autofree char *folder = g_dir_make_tmp ("bedline-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "a.plants", NULL);
  g_autofree char *two = g_strdup_printf ("[a-b]\n%s[a-b]\n%s", sample_record, sample_record);
  g_autofree char *db = g_build_filename (folder, "a.db", NULL);
  const char *const paths[] = { path, NULL };
  g_autoptr (GError) error = NULL;
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_assert_true (g_file_set_contents (path, files[i].text, -1, NULL));
      g_assert_null (bl_plants_read_file (path, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      if (strstr (error->message, files[i].words) == NULL)
        g_error ("%s", error->message);
      g_clear_error (&error);
    }
  g_assert_true (g_file_set_contents (path, two, -1, NULL));
  g_assert_false (bl_library_compile (paths, db, &error));
  g_assert_nonnull (strstr (error->message, "“a-b” is also in"));
  g_assert_false (g_file_test (db, G_FILE_TEST_EXISTS));
  g_unlink (path);
  g_rmdir (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plants/parse/whole", test_whole);
  g_test_add_func ("/plants/parse/hybrid", test_hybrid);
  g_test_add_func ("/plants/parse/regulated", test_regulated);
  g_test_add_func ("/plants/parse/mistakes", test_mistakes);
  g_test_add_func ("/plants/parse/harm-needs-note", test_harm_needs_note);
  g_test_add_func ("/plants/parse/file", test_file);
  return g_test_run ();
}
