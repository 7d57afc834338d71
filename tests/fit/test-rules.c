/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each rule speaks where it should, with its numbers, and is silent where it should not. */
#include <json-glib/json-glib.h>

#include "base/error.h"
#include "scene.h"

/* Asserts that @rule is found with @severity and that its sentence has @words. */
static void
assert_found (const BlFit *fit, const char *rule, BlSeverity severity, const char *words)
{
  const BlFinding *f = scene_find (fit, rule, NULL);

  if (f == NULL)
    g_error ("%s was not found", rule);
  g_assert_cmpint (f->severity, ==, severity);
  if (strstr (f->sentence, words) == NULL)
    g_error ("%s: %s", rule, f->sentence);
  g_assert_cmpuint (strlen (f->source), >, 10);
}

static void
assert_silent (const BlFit *fit, const char *rule)
{
  const BlFinding *f = scene_find (fit, rule, NULL);

  if (f != NULL)
    g_error ("%s: %s", rule, f->sentence);
}

static BlFit *
judge (BlModel *model, BlPlant *plant, double x, double y)
{
  scene_put (model, plant, x, y, 1, 0);
  return scene_check (model);
}

static void
test_zone (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  model->site.zone = bl_zone_parse ("5b", NULL);
  scene_put (model, scene_plant ("warm", "zones", "7b 10a", NULL), 2, 2, 1, 0);
  scene_put (model, scene_plant ("cool", "zones", "2a 4b", NULL), 4, 2, 1, 0);
  scene_put (model, scene_plant ("right", "zones", "5b 8a", NULL), 6, 2, 1, 0);
  scene_put (model, scene_plant ("summer", "zones", "9a 11a", "type", "annual", "care", "A", NULL),
             8, 2, 1, 0);
  fit = scene_check (model);
  g_assert_cmpint (scene_find (fit, "zone", "warm")->severity, ==, BL_SEVERITY_UNLIKELY);
  /* 5b begins at -15 °F = -26.1 °C, 7b at 5 °F = -15 °C; two zones lie between them. */
  g_assert_nonnull (strstr (scene_find (fit, "zone", "warm")->sentence, "two zones too cold"));
  g_assert_nonnull (strstr (scene_find (fit, "zone", "warm")->sentence, "-26 °C"));
  g_assert_nonnull (strstr (scene_find (fit, "zone", "warm")->sentence, "-15 °C"));
  g_assert_nonnull (scene_find (fit, "zone-warm", "cool"));
  g_assert_null (scene_find (fit, "zone", "right"));
  g_assert_null (scene_find (fit, "zone", "summer"));
}

static void
test_light (void)
{
  static const double walls[] = { -1, 12, -1, -0.3, 11, -0.3, 11, 12 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlModel) walled = scene_new ();
  g_autoptr (BlFit) fit = NULL;
  g_autoptr (BlFit) stated = NULL;

  model->site.sun_hours = 4.5;
  stated = judge (model, scene_plant ("sun", "light", "full", NULL), 5, 2);
  assert_found (stated, "light", BL_SEVERITY_UNLIKELY, "4.5 hours");
  /* A court with walls 14 m high on three sides, open to the north, at latitude 42. */
  walled->site.latitude = 42;
  walled->site.longitude = -88;
  walled->site.north = 0;
  scene_feature (walled, BL_FEATURE_WALL, 4, walls, 14)->ground->open = TRUE;
  fit = judge (walled, scene_plant ("sun", "light", "full", NULL), 5, 3);
  assert_found (fit, "light", BL_SEVERITY_UNLIKELY, "shade");
}

static void
test_ground (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  model->site.moisture = BL_MOISTURE_DRY;
  model->site.soil = BL_SOIL_CLAY;
  model->site.ph = 7.8;
  fit = judge (model,
               scene_plant ("bog", "moisture", "wet", "soil", "sand loam", "ph", "4.5 6.0", NULL),
               5, 2);
  assert_found (fit, "moisture", BL_SEVERITY_UNLIKELY, "dry");
  assert_found (fit, "soil", BL_SEVERITY_CAUTION, "clay");
  assert_found (fit, "ph", BL_SEVERITY_UNLIKELY, "1.8 too alkaline");
}

static void
test_salt (void)
{
  static const double kerb[] = { -5, 0, 15, 0 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  scene_feature (model, BL_FEATURE_SALTED_EDGE, 2, kerb, 0);
  scene_put (model, scene_plant ("near", "soil_salt", "low", NULL), 2, 0.6, 1, 0);
  scene_put (model, scene_plant ("far", "soil_salt", "low", NULL), 4, 3.6, 1, 0);
  scene_put (model, scene_plant ("unknown", "soil_salt", "unknown", NULL), 6, 0.6, 1, 0);
  scene_put (model, scene_plant ("bears", "soil_salt", "high", NULL), 8, 0.6, 1, 0);
  scene_put (model,
             scene_plant ("burnt", "type", "conifer", "form", "mound-conifer", "leaf", "needle 3",
                          "care", "P5", "leaves", "evergreen", "spray_salt", "low", NULL),
             9, 3.4, 1, 0);
  /* What dies down has nothing for the spray to burn. */
  scene_put (model, scene_plant ("dies-down", "spray_salt", "low", NULL), 3, 3.4, 1, 0);
  fit = scene_check (model);
  g_assert_cmpint (scene_find (fit, "salt-soil", "near")->severity, ==, BL_SEVERITY_UNLIKELY);
  g_assert_nonnull (strstr (scene_find (fit, "salt-soil", "near")->sentence, "60 cm"));
  g_assert_null (scene_find (fit, "salt-soil", "far"));
  g_assert_cmpint (scene_find (fit, "salt-soil", "unknown")->severity, ==, BL_SEVERITY_CAUTION);
  g_assert_null (scene_find (fit, "salt-soil", "bears"));
  g_assert_nonnull (scene_find (fit, "salt-spray", "burnt"));
  g_assert_null (scene_find (fit, "salt-spray", "dies-down"));
}

static void
test_snow_deer_walnut (void)
{
  static const double pile[] = { 0, 0, 3, 0, 3, 4, 0, 4 };
  static const double walnut[] = { 15, 2 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  model->site.deer = TRUE;
  scene_feature (model, BL_FEATURE_SNOW_PILE, 4, pile, 0);
  scene_feature (model, BL_FEATURE_WALNUT, 1, walnut, 12);
  scene_put (model, scene_plant ("brittle", "snow_load", "low", NULL), 1, 2, 1, 0);
  scene_put (model,
             scene_plant ("tall", "type", "shrub", "form", "vase-shrub", "care", "P2", "height",
                          "150 250 200", "foliage_height", "200", NULL),
             2.4, 2, 1, 0);
  scene_put (model,
             scene_plant ("beside", "snow_load", "low", "deer", "often", "juglone", "low", NULL), 6,
             2, 1, 0);
  fit = scene_check (model);
  g_assert_nonnull (scene_find (fit, "snow-pile", "brittle"));
  g_assert_nonnull (scene_find (fit, "snow-pile", "tall"));
  g_assert_null (scene_find (fit, "snow-pile", "beside"));
  g_assert_nonnull (scene_find (fit, "deer", "beside"));
  g_assert_null (scene_find (fit, "deer", "brittle"));
  g_assert_nonnull (strstr (scene_find (fit, "juglone", "beside")->sentence, "9.00 m"));
}

static void
test_harm (void)
{
  static const double walk[] = { -5, -0.3, 15, -0.3 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  model->site.children = model->site.pets = TRUE;
  model->site.state = g_strdup ("PA");
  scene_feature (model, BL_FEATURE_WALK, 2, walk, 0);
  scene_put (model,
             scene_plant ("deadly", "harm", "severe toxic severe toxic", "harm_note",
                          "All parts are deadly.", NULL),
             1, 3, 1, 0);
  scene_put (
    model,
    scene_plant (
      "thorny", "type", "shrub", "form", "globe-shrub", "care", "P2", "thorns", "yes", "regulated",
      "PA|noxious weed, class B|PA Department of Agriculture|2021-10; NY|prohibited|DEC|2014-09",
      NULL),
    4, 0.4, 1, 0);
  scene_put (model, scene_plant ("elsewhere", "regulated", "NY|prohibited|DEC|2014-09", NULL), 7, 3,
             1, 0);
  fit = scene_check (model);
  g_assert_cmpint (scene_find (fit, "poison-people", "deadly")->severity, ==, BL_SEVERITY_DO_NOT);
  g_assert_nonnull (
    strstr (scene_find (fit, "poison-people", "deadly")->sentence, "All parts are deadly."));
  g_assert_cmpint (scene_find (fit, "poison-pets", "deadly")->severity, ==, BL_SEVERITY_DO_NOT);
  g_assert_nonnull (scene_find (fit, "thorns", "thorny"));
  g_assert_cmpint (scene_find (fit, "regulated", "thorny")->severity, ==, BL_SEVERITY_DO_NOT);
  g_assert_nonnull (strstr (scene_find (fit, "regulated", "thorny")->sentence, "as of 2021-10"));
  g_assert_cmpint (scene_find (fit, "regulated", "elsewhere")->severity, ==, BL_SEVERITY_CAUTION);
}

/* Sight triangles: 30 in is the usual limit of the codes; a hydrant wants 36 in. */
static void
test_clearance (void)
{
  static const double triangle[] = { 0, 0, 3, 0, 0, 3 };
  static const double hydrant[] = { 9, 3 };
  static const double box[] = { 6, 4.4 };
  static const double gas[] = { 5, -1, 5, 5 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  scene_feature (model, BL_FEATURE_SIGHT_TRIANGLE, 3, triangle, 0);
  scene_feature (model, BL_FEATURE_HYDRANT, 1, hydrant, 0);
  scene_feature (model, BL_FEATURE_TRANSFORMER, 1, box, 0);
  scene_feature (model, BL_FEATURE_BURIED_LINE, 2, gas, 0);
  scene_put (model,
             scene_plant ("tall", "type", "shrub", "form", "vase-shrub", "care", "P2", "height",
                          "150 250 200", "spread", "120 180 150", "foliage_height", "200",
                          "spacing", "150", NULL),
             1, 1, 1, 0);
  scene_put (model, scene_plant ("low", "height", "30 50 40", "foliage_height", "40", NULL), 0.4,
             0.4, 1, 0);
  scene_put (model, scene_plant ("at-hydrant", NULL), 8.2, 3, 1, 0);
  scene_put (model,
             scene_plant ("on-line", "type", "tree", "form", "round-tree", "care", "P1", "height",
                          "400 800 600", "foliage_height", "600", NULL),
             6, 1, 1, 0);
  fit = scene_check (model);
  g_assert_cmpint (scene_find (fit, "sight-triangle", "tall")->severity, ==, BL_SEVERITY_DO_NOT);
  g_assert_nonnull (strstr (scene_find (fit, "sight-triangle", "tall")->sentence, "2.00 m"));
  g_assert_nonnull (strstr (scene_find (fit, "sight-triangle", "tall")->sentence, "76 cm"));
  g_assert_null (scene_find (fit, "sight-triangle", "low"));
  g_assert_null (scene_find (fit, "sight-triangle", "at-hydrant"));
  /* 80 cm from stem to hydrant less 25 cm of spread. */
  g_assert_cmpint (scene_find (fit, "hydrant", "at-hydrant")->severity, ==, BL_SEVERITY_DO_NOT);
  g_assert_nonnull (strstr (scene_find (fit, "hydrant", "at-hydrant")->sentence, "55 cm"));
  g_assert_cmpint (scene_find (fit, "buried-line", "on-line")->severity, ==, BL_SEVERITY_DO_NOT);
  g_assert_nonnull (scene_find (fit, "transformer", "on-line"));
}

static void
test_walls (void)
{
  static const double wall[] = { -5, 4.2, 15, 4.2 };
  static const double kerb[] = { -5, -0.2, 15, -0.2 };
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  scene_feature (model, BL_FEATURE_WALL, 2, wall, 3);
  scene_feature (model, BL_FEATURE_KERB, 2, kerb, 0);
  scene_put (model,
             scene_plant ("shrub", "type", "shrub", "form", "globe-shrub", "care", "P2", "spread",
                          "120 180 150", "spacing", "150", NULL),
             5, 3.4, 1, 0);
  scene_put (model,
             scene_plant ("lifter", "root_risk", "high", "type", "tree", "form", "round-tree",
                          "care", "P1", "height", "400 900 600", "foliage_height", "600", NULL),
             2, 0.5, 1, 0);
  scene_put (model,
             scene_plant ("vine", "type", "vine", "form", "climber", "care", "V2", "support",
                          "trellis", NULL),
             8, 3.9, 1, 0);
  scene_put (model,
             scene_plant ("loose-vine", "type", "vine", "form", "climber", "care", "V2", "support",
                          "trellis", NULL),
             8, 2, 1, 0);
  fit = scene_check (model);
  g_assert_nonnull (strstr (scene_find (fit, "wall", "shrub")->sentence, "80 cm"));
  g_assert_null (scene_find (fit, "wall", "vine"));
  g_assert_cmpint (scene_find (fit, "roots", "lifter")->severity, ==, BL_SEVERITY_DO_NOT);
  g_assert_null (scene_find (fit, "no-support", "vine"));
  g_assert_nonnull (scene_find (fit, "no-support", "loose-vine"));
}

static void
test_room (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  scene_put (model, scene_plant ("a", "spread", "90 110 100", "spacing", "80", NULL), 2, 2, 1, 0);
  scene_put (model, scene_plant ("b", "spread", "55 65 60", "spacing", "50", NULL), 2.4, 2, 1, 0);
  scene_put (model,
             scene_plant ("bulb", "type", "bulb", "form", "bulb", "care", "B1", "spring_only",
                          "yes", NULL),
             2.1, 2.1, 1, 0);
  scene_put (model, scene_plant ("edge", "spread", "90 110 100", "spacing", "80", NULL), 6, 0.1, 1,
             0);
  fit = scene_check (model);
  /* (100 + 60) / 2 = 80 cm wanted, 40 cm there. */
  g_assert_nonnull (strstr (scene_find (fit, "too-close", "a")->sentence, "40 cm"));
  g_assert_nonnull (strstr (scene_find (fit, "too-close", "a")->sentence, "80 cm"));
  g_assert_null (scene_find (fit, "too-close", "bulb"));
  g_assert_nonnull (strstr (scene_find (fit, "over-bed-line", "edge")->sentence, "40 cm"));
  g_assert_null (scene_find (fit, "over-bed-line", "a"));
}

static void
test_hidden (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;

  scene_put (model,
             scene_plant ("tall", "height", "150 200 180", "foliage_height", "150", "spread",
                          "90 110 100", "spacing", "80", NULL),
             5, 1, 1, 0);
  scene_put (model, scene_plant ("behind", "height", "30 50 40", "foliage_height", "30", NULL), 5,
             2, 1, 0);
  scene_put (model, scene_plant ("before", "height", "30 50 40", "foliage_height", "30", NULL), 5,
             0.3, 1, 0);
  fit = scene_check (model);
  g_assert_nonnull (scene_find (fit, "hidden", "behind"));
  g_assert_null (scene_find (fit, "hidden", "before"));
}

static void
test_year (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;
  BlAlternative *alternative = g_ptr_array_index (model->alternatives, 0);

  alternative->colors = g_strdup ("blue, silver");
  scene_put (model,
             scene_plant ("late", "emerges", "6", "flower_months", "8 9", "care", "H2", NULL), 2, 2,
             3, 0.6);
  fit = scene_check (model);
  assert_found (fit, "no-flower", BL_SEVERITY_CAUTION, "April, May, June, July, October");
  assert_found (fit, "bare-winter", BL_SEVERITY_CAUTION, "Strip");
  assert_found (fit, "no-leaf", BL_SEVERITY_CAUTION, "April, May");
  assert_found (fit, "late-emerger", BL_SEVERITY_CAUTION, "(June in zone 6)");
  assert_found (fit, "color-intent", BL_SEVERITY_CAUTION, "purple pink");
  assert_silent (fit, "single");
}

static void
test_single (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = judge (model, scene_plant ("one", NULL), 5, 2);

  g_assert_nonnull (scene_find (fit, "single", "one"));
}

static void
test_order_and_json (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = NULL;
  g_autofree char *text = NULL;
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  JsonArray *findings = NULL;
  guint i = 0;

  model->site.zone = bl_zone_parse ("5b", NULL);
  model->site.children = TRUE;
  fit = judge (model,
               scene_plant ("x", "zones", "7a 9b", "harm", "severe mild mild mild", "harm_note",
                            "Deadly.", NULL),
               5, 2);
  for (i = 1; i < fit->findings->len; i++)
    g_assert_cmpint (g_array_index (fit->findings, BlFinding, i - 1).severity, >=,
                     g_array_index (fit->findings, BlFinding, i).severity);
  text = bl_fit_to_json (fit);
  g_assert_true (json_parser_load_from_data (parser, text, -1, &error));
  findings = json_object_get_array_member (json_node_get_object (json_parser_get_root (parser)),
                                           "findings");
  g_assert_cmpuint (json_array_get_length (findings), ==, fit->findings->len);
  g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (findings, 0),
                                                  "severity"),
                   ==, "do not");
}

static void
test_before_placing (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlPlant) warm = scene_plant ("warm", "zones", "8a 10a", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlFit) fit = NULL;

  model->site.zone = bl_zone_parse ("5b", NULL);
  fit = bl_fit_plant (model, warm, 1, NULL, &error);
  g_assert_no_error (error);
  g_assert_nonnull (scene_find (fit, "zone", "warm"));
  g_assert_null (bl_fit_plant (model, warm, 99, NULL, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_NOT_FOUND);
}

/* Where nothing is known of the site, the rules about it are silent. */
static void
test_unknown (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit
    = judge (model, scene_plant ("x", "soil_salt", "low", "zones", "9a 9b", "light", "shade", NULL),
             5, 2);

  assert_silent (fit, "zone");
  assert_silent (fit, "light");
  assert_silent (fit, "moisture");
  assert_silent (fit, "salt-soil");
  assert_silent (fit, "snow-pile");
}

static void
test_empty (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlFit) fit = scene_check (model);

  g_assert_cmpuint (fit->findings->len, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/zone", test_zone);
  g_test_add_func ("/fit/light", test_light);
  g_test_add_func ("/fit/ground", test_ground);
  g_test_add_func ("/fit/salt", test_salt);
  g_test_add_func ("/fit/snow-deer-walnut", test_snow_deer_walnut);
  g_test_add_func ("/fit/harm", test_harm);
  g_test_add_func ("/fit/clearance", test_clearance);
  g_test_add_func ("/fit/walls", test_walls);
  g_test_add_func ("/fit/room", test_room);
  g_test_add_func ("/fit/hidden", test_hidden);
  g_test_add_func ("/fit/year", test_year);
  g_test_add_func ("/fit/single", test_single);
  g_test_add_func ("/fit/order-and-json", test_order_and_json);
  g_test_add_func ("/fit/before-placing", test_before_placing);
  g_test_add_func ("/fit/unknown", test_unknown);
  g_test_add_func ("/fit/empty", test_empty);
  return g_test_run ();
}
