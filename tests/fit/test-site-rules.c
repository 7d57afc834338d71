/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat, wind, fire, doors and neighbours, and what the site states of its light. */
#include "base/error.h"
#include "scene.h"

static const BlFinding *
found (const BlFit *fit, const char *rule, const char *slug)
{
  const BlFinding *f = scene_find (fit, rule, slug);

  if (f == NULL)
    g_error ("%s does not speak on %s", rule, slug);
  g_assert_cmpuint (strlen (f->source), >, 10);
  return f;
}

static void
assert_says (const BlFinding *f, BlSeverity severity, const char *words)
{
  g_assert_cmpint (f->severity, ==, severity);
  if (strstr (f->sentence, words) == NULL)
    g_error ("“%s” is not in “%s”", words, f->sentence);
}

/* The published bands of days above 30 °C: band 3 ends at 14 days, 4 at 30, 5 at 45; band 6 begins
 * above 45. */
static void
test_heat (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  model->site.hot_days = 40;
  scene_put (model, scene_plant ("alpine", "heat", "1 3", NULL), 1, 2, 1, 0);
  scene_put (model, scene_plant ("cool", "heat", "1 4", NULL), 3, 2, 1, 0);
  scene_put (model, scene_plant ("fitting", "heat", "1 5", NULL), 5, 2, 1, 0);
  scene_put (model, scene_plant ("southern", "heat", "6 12", NULL), 7, 2, 1, 0);
  scene_put (model, scene_plant ("unknown", NULL), 9, 2, 1, 0);
  fit = scene_check (model);
  assert_says (found (fit, "heat", "alpine"), BL_SEVERITY_UNLIKELY, "up to 14 days");
  assert_says (found (fit, "heat", "cool"), BL_SEVERITY_CAUTION, "up to 30 days a year above 30 °C");
  assert_says (found (fit, "heat", "cool"), BL_SEVERITY_CAUTION, "about 40");
  g_assert_null (scene_find (fit, "heat", "fitting"));
  assert_says (found (fit, "heat-short", "southern"), BL_SEVERITY_CAUTION, "45 or more days");
  g_assert_null (scene_find (fit, "heat", "unknown"));
  g_assert_null (scene_find (fit, "heat-short", "unknown"));
}

static void
put_in_wind (BlModel *model)
{
  scene_put (model, scene_plant ("soft", "wind", "low", NULL), 1, 2, 1, 0);
  scene_put (model,
             scene_plant ("tall", "wind", "medium", "height", "150 200 180", "foliage_height",
                          "150", NULL),
             3, 2, 1, 0);
  scene_put (model, scene_plant ("staked", "support", "stake", NULL), 5, 2, 1, 0);
  scene_put (model, scene_plant ("unknown", "wind", "unknown", NULL), 7, 2, 1, 0);
  scene_put (model, scene_plant ("firm", NULL), 9, 2, 1, 0);
}

static void
test_wind (void)
{
  g_autoptr (BlModel) windy = scene_new ();
  g_autoptr (BlModel) open = scene_new ();
  g_autoptr (BlModel) sheltered = scene_new ();
  g_autoptr (BlFit) in_wind = NULL;
  g_autoptr (BlFit) in_open = NULL;
  g_autoptr (BlFit) in_shelter = NULL;

  windy->site.wind = BL_WIND_WINDY;
  open->site.wind = BL_WIND_OPEN;
  sheltered->site.wind = BL_WIND_SHELTERED;
  put_in_wind (windy);
  put_in_wind (open);
  put_in_wind (sheltered);
  in_wind = scene_check (windy);
  assert_says (found (in_wind, "wind", "soft"), BL_SEVERITY_UNLIKELY, "0.90 m");
  assert_says (found (in_wind, "wind", "tall"), BL_SEVERITY_CAUTION, "1.80 m");
  assert_says (found (in_wind, "wind", "staked"), BL_SEVERITY_CAUTION, "needs staking");
  assert_says (found (in_wind, "wind", "unknown"), BL_SEVERITY_CAUTION, "not known");
  g_assert_null (scene_find (in_wind, "wind", "firm"));
  in_open = scene_check (open);
  assert_says (found (in_open, "wind", "soft"), BL_SEVERITY_CAUTION, "open to it");
  g_assert_null (scene_find (in_open, "wind", "tall"));
  in_shelter = scene_check (sheltered);
  g_assert_null (scene_find (in_shelter, "wind", NULL));
}

/* Public Resources Code 4291 and AB 3074 of California: the first 5 ft (1.52 m) from a building. */
static void
test_fire (void)
{
  static const double building[] = { -5, 4.2, 15, 4.2 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlModel) elsewhere = scene_new ();
  g_autoptr (BlFit) fit = NULL;
  g_autoptr (BlFit) silent = NULL;

  model->site.fire_zone = TRUE;
  scene_feature (model, BL_FEATURE_WALL, 2, building, 5);
  scene_feature (elsewhere, BL_FEATURE_WALL, 2, building, 5);
  scene_put (model, scene_plant ("near", NULL), 2, 3, 1, 0);
  scene_put (model, scene_plant ("far", NULL), 6, 1, 1, 0);
  scene_put (elsewhere, scene_plant ("near", NULL), 2, 3, 1, 0);
  fit = scene_check (model);
  /* 1.20 m from the wall less a radius of 0.25 m. */
  assert_says (found (fit, "fire-zone", "near"), BL_SEVERITY_CAUTION, "0.95 m");
  g_assert_null (scene_find (fit, "fire-zone", "far"));
  silent = scene_check (elsewhere);
  g_assert_null (scene_find (silent, "fire-zone", NULL));
}

/* 2010 ADA Standards, 404.2.4: 60 in (152 cm) on the pull side of a door approached from the front. */
static void
test_doors (void)
{
  static const double sill[] = { 4, 4, 5, 4 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  scene_feature (model, BL_FEATURE_DOOR, 2, sill, 0);
  scene_put (model, scene_plant ("before", NULL), 4.5, 3, 1, 0);
  scene_put (model, scene_plant ("aside", NULL), 8, 3, 1, 0);
  scene_put (model,
             scene_plant ("thorny", "type", "shrub", "form", "globe-shrub", "care", "P2", "thorns",
                          "yes", NULL),
             3.4, 3.6, 1, 0);
  fit = scene_check (model);
  assert_says (found (fit, "door", "before"), BL_SEVERITY_CAUTION, "75 cm");
  assert_says (found (fit, "door", "before"), BL_SEVERITY_CAUTION, "1.52 m");
  g_assert_null (scene_find (fit, "door", "aside"));
  assert_says (found (fit, "thorns", "thorny"), BL_SEVERITY_CAUTION, "the door");
}

/* Cedar-apple rust needs a juniper and an apple or its kin. */
static void
test_neighbours (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  scene_put (model,
             scene_plant ("malus-x", "genus", "Malus", "species", "sargentii", "avoid", "Juniperus",
                          NULL),
             2, 2, 1, 0);
  scene_put (model,
             scene_plant ("juniperus-x", "genus", "Juniperus", "species", "virginiana", "avoid",
                          "Malus, Crataegus", NULL),
             7, 2, 1, 0);
  scene_put (model, scene_plant ("other", "avoid", "rosa-rugosa", NULL), 4.5, 2, 1, 0);
  fit = scene_check (model);
  /* Told once, from the first of the two. */
  assert_says (found (fit, "neighbour", "malus-x"), BL_SEVERITY_CAUTION, "Juniperus virginiana");
  assert_says (found (fit, "neighbour", "malus-x"), BL_SEVERITY_CAUTION, "5.00 m");
  g_assert_null (scene_find (fit, "neighbour", "juniperus-x"));
  g_assert_null (scene_find (fit, "neighbour", "other"));
}

/* Hours stated for the bed go before the site's, and the site's own classes before the usual. */
static void
test_stated_light (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlModel) mild = scene_new ();
  g_autoptr (BlFit) fit = NULL;
  g_autoptr (BlFit) silent = NULL;

  model->site.sun_hours = 9;
  ((BlBed *) g_ptr_array_index (model->beds, 0))->sun_hours = 4.5;
  scene_put (model, scene_plant ("sun", "light", "full", NULL), 5, 2, 1, 0);
  fit = scene_check (model);
  assert_says (found (fit, "light", "sun"), BL_SEVERITY_UNLIKELY, "4.5 hours");
  g_assert_nonnull (strstr (found (fit, "light", "sun")->source, "6 hours"));
  mild->site.sun_hours = 4.5;
  mild->site.full_from = 4;
  scene_put (mild, scene_plant ("sun", "light", "full", NULL), 5, 2, 1, 0);
  silent = scene_check (mild);
  g_assert_null (scene_find (silent, "light", NULL));
}

static void
test_small_rules (void)
{
  static const double walk[] = { -5, -0.1, 15, -0.1 };
  static const double box[] = { 9, 3 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  model->site.moisture = BL_MOISTURE_DRY;
  scene_feature (model, BL_FEATURE_WALK, 2, walk, 0);
  scene_feature (model, BL_FEATURE_UTILITY_BOX, 1, box, 0);
  scene_put (model, scene_plant ("thirsty", "drought", "low", NULL), 2, 2, 1, 0);
  scene_put (model,
             scene_plant ("spreader", "invasive", "reported as spreading in Ohio", NULL), 4, 2, 1,
             0);
  scene_put (model,
             scene_plant ("leaning", "type", "shrub", "form", "globe-shrub", "care", "P2", "spread",
                          "120 180 150", "spacing", "120", NULL),
             6, 0.35, 1, 0);
  scene_put (model, scene_plant ("at-box", NULL), 8.4, 3, 1, 0);
  fit = scene_check (model);
  assert_says (found (fit, "drought", "thirsty"), BL_SEVERITY_CAUTION, "dry");
  assert_says (found (fit, "invasive", "spreader"), BL_SEVERITY_CAUTION, "Ohio");
  /* 75 cm of radius less 45 cm to the walk. */
  assert_says (found (fit, "overhang", "leaning"), BL_SEVERITY_CAUTION, "30 cm over the walk");
  assert_says (found (fit, "utility-box", "at-box"), BL_SEVERITY_CAUTION, "35 cm");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/heat", test_heat);
  g_test_add_func ("/fit/wind", test_wind);
  g_test_add_func ("/fit/fire", test_fire);
  g_test_add_func ("/fit/doors", test_doors);
  g_test_add_func ("/fit/neighbours", test_neighbours);
  g_test_add_func ("/fit/stated-light", test_stated_light);
  g_test_add_func ("/fit/small-rules", test_small_rules);
  return g_test_run ();
}
