/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Growth and season: what must hold for every plant at every moment, and known years of a few. */
#include <math.h>

#include "sample.h"
#include "plants/season.h"

static const double step = 1.0 / 30;

static BlPlant *
plant_of (const char *slug, ...)
{
  g_autofree char *text = g_strdup (sample_record);
  g_autoptr (GError) error = NULL;
  BlPlant *plant = NULL;
  const char *key = NULL;
  va_list args;

  va_start (args, slug);
  while ((key = va_arg (args, const char *)) != NULL)
    {
      const char *value = va_arg (args, const char *);
      g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
      g_autofree char *start = g_strconcat (key, "=", NULL);
      GString *next = g_string_new (NULL);
      guint i = 0;

      for (i = 0; lines[i] != NULL; i++)
        if (lines[i][0] != '\0' && !g_str_has_prefix (lines[i], start))
          g_string_append_printf (next, "%s\n", lines[i]);
      g_string_append_printf (next, "%s=%s\n", key, value);
      g_free (text);
      text = g_string_free (next, FALSE);
    }
  va_end (args);
  plant = bl_plant_parse (slug, text, &error);
  g_assert_no_error (error);
  return plant;
}

static BlPlantState
state_in (const BlPlant *p, const char *zone, double month)
{
  return bl_plant_look (p, NULL, bl_zone_parse (zone, NULL), (BlMoment){ month, 4 }).state;
}

/* Purple coneflower in zone 6: shoots in April, flowers June to August, seed heads over the winter,
 * cut in March (common practice; plants.md groups H1). */
static void
test_coneflower (void)
{
  g_autoptr (BlPlant) p = plant_of ("echinacea-purpurea", NULL);
  BlLook look = bl_plant_look (p, NULL, 0, (BlMoment){ 7.5, 5 });

  g_assert_cmpint (state_in (p, "6a", 2.0), ==, BL_STATE_STANDING);
  g_assert_cmpint (state_in (p, "6a", 3.9), ==, BL_STATE_DORMANT);
  g_assert_cmpint (state_in (p, "6a", 4.4), ==, BL_STATE_EMERGING);
  g_assert_cmpint (state_in (p, "6a", 5.3), ==, BL_STATE_LEAF);
  g_assert_cmpint (state_in (p, "6a", 5.9), ==, BL_STATE_BUD);
  g_assert_cmpint (state_in (p, "6a", 7.5), ==, BL_STATE_BLOOM);
  g_assert_cmpint (state_in (p, "6a", 9.3), ==, BL_STATE_SEED);
  g_assert_cmpint (state_in (p, "6a", 10.4), ==, BL_STATE_AUTUMN);
  g_assert_cmpint (state_in (p, "6a", 12.5), ==, BL_STATE_STANDING);
  g_assert_cmpfloat (look.bloom, >, 0.9);
  g_assert_cmpfloat_with_epsilon (look.height, p->height, 0.1 * p->height);
  g_assert_cmpfloat_with_epsilon (look.foliage_height, p->foliage_height, 0.1 * p->height);
  look = bl_plant_look (p, NULL, 0, (BlMoment){ 1.5, 5 });
  g_assert_cmpfloat (look.seed, >, 0.5);
  g_assert_cmpfloat (look.height, >, 0.7 * p->height);
}

static void
test_shrub (void)
{
  g_autoptr (BlPlant) p = plant_of ("forsythia", "type", "shrub", "form", "arching-shrub", "care",
                                    "P1", "foliage_height", "90", "flower_months", "3 4", NULL);

  g_assert_cmpint (state_in (p, "6a", 1.5), ==, BL_STATE_BARE);
  g_assert_cmpint (state_in (p, "6a", 4.0), ==, BL_STATE_BLOOM);
  g_assert_cmpfloat (bl_plant_look (p, NULL, 0, (BlMoment){ 3.7, 5 }).leaf, ==, 0);
  g_assert_cmpint (state_in (p, "6a", 7.0), ==, BL_STATE_LEAF);
  g_assert_cmpint (state_in (p, "6a", 10.4), ==, BL_STATE_AUTUMN);
  g_assert_cmpint (state_in (p, "6a", 11.8), ==, BL_STATE_BARE);
  /* Wood does not shrink with the season. */
  g_assert_cmpfloat (bl_plant_look (p, NULL, 0, (BlMoment){ 1.5, 5 }).height, ==,
                     bl_plant_look (p, NULL, 0, (BlMoment){ 7.5, 5 }).height);
}

static void
test_evergreen (void)
{
  g_autoptr (BlPlant) p
    = plant_of ("buxus", "type", "evergreen-shrub", "form", "globe-shrub", "care", "P5", "leaves",
                "evergreen", "flower", "none", "flower_months", "0 0", NULL);
  double month = 0, from = 0, to = 0;

  for (month = 1; month < 13; month += step)
    {
      BlLook look = bl_plant_look (p, NULL, 0, (BlMoment){ month, 3 });

      g_assert_cmpint (look.state, ==, BL_STATE_LEAF);
      g_assert_cmpfloat (look.leaf, ==, 1.0);
      g_assert_cmpfloat (look.bloom, ==, 0.0);
    }
  g_assert_false (bl_plant_bloom (p, 0, &from, &to));
}

/* Daffodil leaves stand four to six weeks after the flowers and are gone by July. */
static void
test_bulb (void)
{
  g_autoptr (BlPlant) p
    = plant_of ("narcissus", "type", "bulb", "form", "bulb", "care", "B1", "emerges", "3",
                "spring_only", "yes", "flower_months", "4 4", NULL);

  g_assert_cmpint (state_in (p, "6a", 4.5), ==, BL_STATE_BLOOM);
  g_assert_cmpfloat (bl_plant_look (p, NULL, 0, (BlMoment){ 5.4, 5 }).leaf, >, 0.5);
  g_assert_cmpint (state_in (p, "6a", 7.0), ==, BL_STATE_DORMANT);
  g_assert_cmpfloat (bl_plant_look (p, NULL, 0, (BlMoment){ 8.0, 5 }).height, <, 0.01);
  g_assert_cmpint (state_in (p, "6a", 1.5), ==, BL_STATE_DORMANT);
}

/* Planted after the last frost, in flower until the first one, then gone. */
static void
test_annual (void)
{
  g_autoptr (BlPlant) p = plant_of ("zinnia", "type", "annual", "care", "A", "emerges", "5",
                                    "flower_months", "6 10", NULL);

  g_assert_cmpint (state_in (p, "6a", 5.2), ==, BL_STATE_DORMANT);
  g_assert_cmpint (state_in (p, "6a", 8.0), ==, BL_STATE_BLOOM);
  g_assert_cmpint (state_in (p, "6a", 10.2), ==, BL_STATE_BLOOM);
  g_assert_cmpint (state_in (p, "6a", 11.2), ==, BL_STATE_DORMANT);
  /* Three zones warmer the frost comes later. */
  g_assert_cmpint (state_in (p, "9a", 11.1), ==, BL_STATE_BLOOM);
}

/* Hibiscus moscheutos shows only in late May or June (plants.md: common practice). */
static void
test_late (void)
{
  g_autoptr (BlPlant) p = plant_of ("hibiscus", "emerges", "6", "flower_months", "7 9", NULL);

  g_assert_cmpint (state_in (p, "5b", 5.9), ==, BL_STATE_DORMANT);
  g_assert_cmpint (state_in (p, "5b", 8.5), ==, BL_STATE_BLOOM);
}

/* Two to three weeks for one to two zones in spring (plants.md section 2, common practice); the
 * asters of October do not hurry. */
static void
test_zone_shift (void)
{
  g_autoptr (BlPlant) spring = plant_of ("a", "flower_months", "4 5", NULL);
  g_autoptr (BlPlant) autumn = plant_of ("b", "flower_months", "10 11", NULL);
  double six = 0, eight = 0, four = 0, end = 0;

  bl_plant_bloom (spring, 0, &six, &end);
  g_assert_cmpfloat (six, ==, 4.0);
  g_assert_cmpfloat (end, ==, 6.0);
  bl_plant_bloom (spring, bl_zone_parse ("8b", NULL), &eight, &end);
  bl_plant_bloom (spring, bl_zone_parse ("4a", NULL), &four, &end);
  g_assert_cmpfloat_with_epsilon (six - eight, 0.5625, 1e-9);
  g_assert_cmpfloat_with_epsilon (four - six, 0.5625, 1e-9);
  bl_plant_bloom (autumn, bl_zone_parse ("8b", NULL), &eight, &end);
  g_assert_cmpfloat (eight, ==, 10.0);
}

static void
test_frost_zone (void)
{
  BlSite site;

  bl_site_init (&site);
  site.zone = bl_zone_parse ("6a", NULL);
  g_assert_cmpint (bl_season_zone (&site), ==, site.zone);
  site.last_frost = (BlMonthDay){ 5, 28 }; /* a month later than usual: a zone colder */
  g_assert_cmpint (bl_season_zone (&site), ==, bl_zone_parse ("5a", NULL));
  site.last_frost = (BlMonthDay){ 3, 29 };
  g_assert_cmpint (bl_season_zone (&site), >, site.zone);
  site.latitude = -40;
  site.last_frost = (BlMonthDay){ 10, 28 };
  g_assert_cmpint (bl_season_zone (&site), ==, site.zone);
  g_assert_cmpfloat (bl_season_northern_month (&site, 12.5), ==, 6.5);
  g_assert_cmpfloat (bl_season_northern_month (&site, 1.0), ==, 7.0);
}

/* South of the equator a plant does in January what it does in July in the north. */
static void
test_south (void)
{
  g_autoptr (BlPlant) p = plant_of ("echinacea", "type", "perennial", "form", "daisy-clump", "care",
                                    "H1", "flower_months", "6 8", NULL);
  BlSite north, south;
  double from, to, first, last;

  bl_site_init (&north);
  bl_site_init (&south);
  north.zone = south.zone = bl_zone_parse ("6a", NULL);
  north.latitude = 42.1, south.latitude = -42.1;
  for (double month = 1.25; month < 13; month += 0.5)
    {
      double other = month < 7 ? month + 6 : month - 6;
      BlLook here = bl_season_look (&south, p, NULL, (BlMoment){ month, 3 });
      BlLook there = bl_season_look (&north, p, NULL, (BlMoment){ other, 3 });

      g_assert_cmpint (here.state, ==, there.state);
      g_assert_cmpfloat (here.bloom, ==, there.bloom);
      g_assert_cmpfloat (here.height, ==, there.height);
    }
  g_assert_true (bl_season_bloom (&north, p, &from, &to));
  g_assert_true (bl_season_bloom (&south, p, &first, &last));
  g_assert_cmpfloat_with_epsilon (first, from + 6, 1e-9);
  g_assert_cmpfloat_with_epsilon (last - first, to - from, 1e-9);
}

static void
test_wrap (void)
{
  g_autoptr (BlPlant) p = plant_of ("hamamelis", "type", "shrub", "form", "vase-shrub", "care",
                                    "P1", "flower_months", "12 2", NULL);
  double from = 0, to = 0;

  g_assert_true (bl_plant_bloom (p, 0, &from, &to));
  g_assert_cmpfloat (from, ==, 12.0);
  g_assert_cmpfloat (to, ==, 15.0);
  g_assert_cmpint (state_in (p, "6a", 1.5), ==, BL_STATE_BLOOM);
  g_assert_cmpint (state_in (p, "6a", 12.6), ==, BL_STATE_BLOOM);
}

static void
check_growth (const BlPlant *p, const char *size)
{
  double age = 0, last_height = 0, last_spread = 0;

  for (age = 0; age <= 40; age += 0.125)
    {
      double height = 0, spread = 0;

      bl_plant_size_at (p, size, age, &height, &spread);
      g_assert_cmpfloat (height, >=, last_height - 1e-12);
      g_assert_cmpfloat (spread, >=, last_spread - 1e-12);
      g_assert_cmpfloat (height, <=, p->height + 1e-12);
      g_assert_cmpfloat (spread, <=, p->spread + 1e-12);
      last_height = height;
      last_spread = spread;
    }
  bl_plant_size_at (p, size, p->years, &last_height, &last_spread);
  g_assert_cmpfloat (last_height, >=, 0.949 * p->height);
  g_assert_cmpfloat (last_spread, >=, 0.949 * p->spread);
}

static void
test_growth (void)
{
  g_autoptr (BlPlant) p = plant_of ("x", NULL);
  double height = 0, spread = 0;

  check_growth (p, "plug");
  check_growth (p, "#1");
  bl_plant_size_at (p, "#1", 0, &height, &spread);
  g_assert_cmpfloat_with_epsilon (height, 0.35, 1e-9);
  g_assert_cmpfloat_with_epsilon (spread, 0.25, 1e-9);
  /* Logistic: half way between in log odds at half the time. */
  bl_plant_size_at (p, "plug", p->years / 2, &height, NULL);
  g_assert_cmpfloat_with_epsilon (log (height / (p->height - height)),
                                  (log (0.10 / 0.80) + log (0.95 / 0.05)) / 2, 1e-9);
}

static double
color_gap (BlColor a, BlColor b)
{
  return fabs (a.r - b.r) + fabs (a.g - b.g) + fabs (a.b - b.b);
}

/* What holds of every look: shares within 0..1, sizes within the plant's own, and no jumps from one
 * day to the next, save where a plant is cut, planted or comes up. */
static void
check_year (const BlPlant *p, BlZone zone)
{
  BlLook before = bl_plant_look (p, NULL, zone, (BlMoment){ 1.0, 3 });
  double month = 0, most_bloom = 0, most_leaf = 0;

  for (month = 1.0; month < 13.0; month += step)
    {
      BlLook now = bl_plant_look (p, NULL, zone, (BlMoment){ month, 3 });
      const double shares[] = { now.fullness, now.leaf, now.bloom, now.bud, now.seed, now.fruit };
      guint i = 0;

      for (i = 0; i < G_N_ELEMENTS (shares); i++)
        if (!(shares[i] >= 0 && shares[i] <= 1))
          g_error ("%s, month %.2f: share %u is %g", p->slug, month, i, shares[i]);
      if (!(now.height >= 0 && now.height <= p->height * 1.0001
            && now.foliage_height <= now.height + 1e-9 && now.spread >= 0
            && now.spread <= p->spread * 1.0001))
        g_error ("%s, month %.2f: height %g of %g, foliage %g, spread %g of %g", p->slug, month,
                 now.height, p->height, now.foliage_height, now.spread, p->spread);
      if (fabs (now.height - before.height) > 0.36 * p->height
          || fabs (now.leaf - before.leaf) > 0.35 || fabs (now.bloom - before.bloom) > 0.35)
        g_error ("%s, month %.2f: jumps in a day: height %g to %g, leaf %g to %g, bloom %g to %g",
                 p->slug, month, before.height, now.height, before.leaf, now.leaf, before.bloom,
                 now.bloom);
      if (now.leaf > 0.2 && before.leaf > 0.2
          && color_gap (now.leaf_color, before.leaf_color) > 0.3)
        g_error ("%s, month %.2f: the leaves change colour in a day", p->slug, month);
      if (now.state == BL_STATE_BLOOM)
        g_assert_cmpfloat (now.bloom, >=, 0.15);
      if (p->leaves == BL_LEAVES_EVERGREEN && p->type != BL_TYPE_ANNUAL && !p->spring_only)
        g_assert_cmpfloat (now.leaf, >, 0.5);
      most_bloom = MAX (most_bloom, now.bloom);
      most_leaf = MAX (most_leaf, now.leaf);
      before = now;
    }
  if (p->flower != BL_FLOWER_NONE && p->flower_from != 0 && most_bloom < 0.8)
    g_error ("%s never flowers fully: %g", p->slug, most_bloom);
  if (most_leaf < 0.9)
    g_error ("%s is never in full leaf: %g", p->slug, most_leaf);
}

static void
test_all_records (void)
{
  static const char *const zones[] = { "3a", "6a", "9b" };
  g_auto (GStrv) files = record_files ();
  guint i = 0, k = 0, z = 0;

  for (i = 0; files[i] != NULL; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) plants = bl_plants_read_file (files[i], &error);

      g_assert_no_error (error);
      for (k = 0; k < plants->len; k++)
        for (z = 0; z < G_N_ELEMENTS (zones); z++)
          {
            const BlPlant *p = g_ptr_array_index (plants, k);

            check_year (p, bl_zone_parse (zones[z], NULL));
            if (z == 0)
              check_growth (p, NULL);
          }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plants/season/coneflower", test_coneflower);
  g_test_add_func ("/plants/season/shrub", test_shrub);
  g_test_add_func ("/plants/season/evergreen", test_evergreen);
  g_test_add_func ("/plants/season/bulb", test_bulb);
  g_test_add_func ("/plants/season/annual", test_annual);
  g_test_add_func ("/plants/season/late", test_late);
  g_test_add_func ("/plants/season/zone-shift", test_zone_shift);
  g_test_add_func ("/plants/season/frost-zone", test_frost_zone);
  g_test_add_func ("/plants/season/south", test_south);
  g_test_add_func ("/plants/season/wrap", test_wrap);
  g_test_add_func ("/plants/season/growth", test_growth);
  g_test_add_func ("/plants/season/all-records", test_all_records);
  return g_test_run ();
}
