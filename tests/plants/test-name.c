/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names in print against the codes' own examples. */
#include "plants/plant.h"

#include "base/error.h"

#define X "\303\227"
#define OQ "\342\200\230"
#define CQ "\342\200\231"

typedef struct
{
  BlPlant plant;
  const char *text, *markup, *slug;
} Case;

/* Styles: RHS, Recommended style for printing plant names, 2004 (Primula, Sarcococca, Pimelea,
 * Viola); ICNCP examples (Cryptomeria 'Elegans', 'Cloth of Gold'). The hybrid sign stands before
 * the name, in roman: ICN article H.3. */
static const Case cases[] = {
  { { .genus = (char *) "Primula",
      .species = (char *) "vulgaris",
      .rank = (char *) "subsp.",
      .infra = (char *) "sibthorpii" },
    "Primula vulgaris subsp. sibthorpii",
    "<i>Primula</i> <i>vulgaris</i> subsp. <i>sibthorpii</i>",
    "primula-vulgaris-subsp-sibthorpii" },
  { { .genus = (char *) "Sarcococca",
      .species = (char *) "hookeriana",
      .rank = (char *) "var.",
      .infra = (char *) "digyna" },
    "Sarcococca hookeriana var. digyna",
    "<i>Sarcococca</i> <i>hookeriana</i> var. <i>digyna</i>",
    "sarcococca-hookeriana-var-digyna" },
  { { .genus = (char *) "Pimelea",
      .species = (char *) "prostrata",
      .rank = (char *) "f.",
      .infra = (char *) "parvifolia" },
    "Pimelea prostrata f. parvifolia",
    "<i>Pimelea</i> <i>prostrata</i> f. <i>parvifolia</i>",
    "pimelea-prostrata-f-parvifolia" },
  { { .genus = (char *) "Viola", .species = (char *) "wittrockiana", .hybrid_species = TRUE },
    "Viola " X "wittrockiana",
    "<i>Viola</i> " X "<i>wittrockiana</i>",
    "viola-x-wittrockiana" },
  { { .genus = (char *) "Cryptomeria",
      .species = (char *) "japonica",
      .cultivar = (char *) "Elegans" },
    "Cryptomeria japonica " OQ "Elegans" CQ,
    "<i>Cryptomeria</i> <i>japonica</i> " OQ "Elegans" CQ,
    "cryptomeria-japonica-elegans" },
  { { .genus = (char *) "Heucherella",
      .hybrid_genus = TRUE,
      .cultivar = (char *) "Bridget's Bloom" },
    X "Heucherella " OQ "Bridget" CQ "s Bloom" CQ,
    X "<i>Heucherella</i> " OQ "Bridget" CQ "s Bloom" CQ,
    "x-heucherella-bridgets-bloom" },
  { { .genus = (char *) "Crocus",
      .species = (char *) "angustifolius",
      .cultivar = (char *) "Cloth of Gold" },
    "Crocus angustifolius " OQ "Cloth of Gold" CQ,
    "<i>Crocus</i> <i>angustifolius</i> " OQ "Cloth of Gold" CQ,
    "crocus-angustifolius-cloth-of-gold" },
};

static void
test_format (void)
{
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = bl_plant_name (&cases[i].plant);
      g_autofree char *markup = bl_plant_name_markup (&cases[i].plant);
      g_autofree char *slug = bl_plant_name_slug (&cases[i].plant);
      g_autoptr (GError) error = NULL;

      g_assert_cmpstr (text, ==, cases[i].text);
      g_assert_cmpstr (markup, ==, cases[i].markup);
      g_assert_cmpstr (slug, ==, cases[i].slug);
      g_assert_true (bl_plant_name_check (&cases[i].plant, &error));
      g_assert_no_error (error);
    }
}

/* The codes' wrong forms: double quotes, "cv.", lower case, "ssp.". */
static void
test_refuse (void)
{
  static const struct
  {
    BlPlant plant;
    const char *key;
  } bad[] = {
    { { .genus = (char *) "cryptomeria", .species = (char *) "japonica" }, "genus" },
    { { .genus = (char *) "Cryptomeria", .species = (char *) "Japonica" }, "species" },
    { { .genus = (char *) "Cryptomeria", .species = (char *) "x japonica" }, "species" },
    { { .genus = (char *) "Cryptomeria" }, "species" },
    { { .genus = (char *) "Primula",
        .species = (char *) "vulgaris",
        .rank = (char *) "ssp.",
        .infra = (char *) "sibthorpii" },
      "infra" },
    { { .genus = (char *) "Cryptomeria", .cultivar = (char *) "\"Elegans\"" }, "cultivar" },
    { { .genus = (char *) "Cryptomeria", .cultivar = (char *) "'Elegans'" }, "cultivar" },
    { { .genus = (char *) "Berberis", .cultivar = (char *) "cv. Crimson Pygmy" }, "cultivar" },
    { { .genus = (char *) "Berberis", .cultivar = (char *) "Crimson pygmy" }, "cultivar" },
    { { .genus = (char *) "Berberis", .cultivar = (char *) "crimson Pygmy" }, "cultivar" },
  };
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (bl_plant_name_check (&bad[i].plant, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_assert_nonnull (strstr (error->message, bad[i].key));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plants/name/format", test_format);
  g_test_add_func ("/plants/name/refuse", test_refuse);
  return g_test_run ();
}
