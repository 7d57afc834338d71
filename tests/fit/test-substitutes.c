/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Substitutes from the shipped library: they pass the rules that the plant fails, and are like it.
 */
#include <math.h>

#include "scene.h"

static BlLibrary *
open_library (void)
{
  g_autofree char *path = bl_library_default_path ();
  g_autoptr (GError) error = NULL;
  BlLibrary *library = bl_library_open (path, NULL, &error);

  g_assert_no_error (error);
  return library;
}

/* The demo's kind of spot: zone 5b, salt and ploughed snow. A shrub for zone 7 wants another. */
static void
test_warm (void)
{
  static const double edge[] = { -5, 0, 15, 0 };
  g_autoptr (BlLibrary) library = open_library ();
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlLayout) layout = NULL;
  g_autoptr (BlFit) fit = NULL;
  g_autoptr (GError) error = NULL;
  const BlFinding *finding = NULL;
  guint i = 0;

  model->site.zone = bl_zone_parse ("5b", NULL);
  model->site.sun_hours = 8;
  scene_feature (model, BL_FEATURE_SALTED_EDGE, 2, edge, 0);
  scene_put (model,
             scene_plant ("warm-sage", "zones", "8a 10a", "form", "spire-clump", "flower_months",
                          "7 9", NULL),
             5, 1, 1, 0);
  layout = bl_layout_compute (model, 1);
  fit = bl_fit_check (layout, library, NULL, &error);
  g_assert_no_error (error);
  finding = scene_find (fit, "zone", "warm-sage");
  g_assert_nonnull (finding->substitutes);
  g_assert_cmpuint (finding->substitutes->len, >=, 2);
  for (i = 0; i < finding->substitutes->len; i++)
    {
      const BlSubstitute *s = &g_array_index (finding->substitutes, BlSubstitute, i);
      g_autoptr (BlPlant) plant = bl_library_get (library, s->slug, &error);
      g_autoptr (BlModel) again = scene_new ();
      g_autoptr (BlFit) judged = NULL;

      g_assert_no_error (error);
      g_test_message ("%s: %s", s->name, s->change);
      g_assert_cmpuint (strlen (s->change), >, 5);
      g_assert_cmpint (plant->zone_low, <=, model->site.zone);
      g_assert_cmpint (plant->soil_salt, !=, BL_GRADE_LOW);
      g_assert_true (plant->light & BL_LIGHT_BIT (BL_LIGHT_FULL));
      g_assert_false (bl_plant_is_woody (plant));
      g_assert_cmpfloat (fabs (log2 (plant->height / 0.9)), <, 1.0);
      /* In its place nothing worse than a caution is left. */
      again->site.zone = model->site.zone;
      again->site.sun_hours = 8;
      scene_feature (again, BL_FEATURE_SALTED_EDGE, 2, edge, 0);
      scene_put (again, bl_plant_ref (plant), 5, 1, 1, 0);
      judged = scene_check (again);
      g_assert_true (judged->findings->len == 0
                     || g_array_index (judged->findings, BlFinding, 0).severity
                          == BL_SEVERITY_CAUTION);
    }
}

/* Findings about placing are answered by moving, not by another plant. */
static void
test_placing (void)
{
  g_autoptr (BlLibrary) library = open_library ();
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlLayout) layout = NULL;
  g_autoptr (BlFit) fit = NULL;

  scene_put (model, scene_plant ("a", NULL), 5, 2, 2, 0.15);
  layout = bl_layout_compute (model, 1);
  fit = bl_fit_check (layout, library, NULL, NULL);
  g_assert_nonnull (scene_find (fit, "too-close", "a"));
  g_assert_null (scene_find (fit, "too-close", "a")->substitutes);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/substitutes/warm", test_warm);
  g_test_add_func ("/fit/substitutes/placing", test_placing);
  return g_test_run ();
}
