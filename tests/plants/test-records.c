/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The records as authored: what must hold of each, of all together, and who stands out in a genus.
 */
#include <math.h>

#include "sample.h"
#include "plants/season.h"

typedef struct
{
  GPtrArray *plants; /* BlPlant */
  guint faults;
} Records;

static Records records;

G_GNUC_PRINTF (2, 3) static void fault (const BlPlant *p, const char *format, ...)
{
  va_list args;
  g_autofree char *text = NULL;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  g_printerr ("# fault: %s: %s\n", p->slug, text);
  records.faults++;
}

static const BlPlant *
at (guint i)
{
  return g_ptr_array_index (records.plants, i);
}

static void
check_each (void (*check) (const BlPlant *p))
{
  guint i = 0;

  records.faults = 0;
  for (i = 0; i < records.plants->len; i++)
    check (at (i));
  g_assert_cmpuint (records.faults, ==, 0);
}

static void
check_ranges (const BlPlant *p)
{
  guint i = 0;

  if (p->height_high > 4 * p->height_low)
    fault (
      p,
      "height runs from %.0f to %.0f cm, more than fourfold: state the form a designer would buy",
      p->height_low * 100, p->height_high * 100);
  if (p->spread_high > 4 * p->spread_low)
    fault (p, "spread runs from %.0f to %.0f cm, more than fourfold", p->spread_low * 100,
           p->spread_high * 100);
  if (p->spacing < 0.6 * p->spread - 0.006 || p->spacing > 1.1 * p->spread + 0.006)
    fault (p, "spacing %.0f cm is %.2f of the spread %.0f cm; 0.6 to 1.1 is allowed",
           p->spacing * 100, p->spacing / p->spread, p->spread * 100);
  if (p->zone_high - p->zone_low < 2 && p->type != BL_TYPE_ANNUAL)
    fault (p, "bears only %d half zones", p->zone_high - p->zone_low + 1);
  if (p->heat_low != 0 && p->heat_low > p->heat_high)
    fault (p, "heat zones %d %d", p->heat_low, p->heat_high);
  if (p->ph_low != 0 && p->ph_high - p->ph_low < 0.5)
    fault (p, "pH %.1f to %.1f is hardly a range", p->ph_low, p->ph_high);
  for (i = 0; i < p->n_sizes; i++)
    {
      if (p->sizes[i].height > p->height_high || p->sizes[i].spread > p->spread_high)
        fault (p, "%s is planted larger (%.0f by %.0f cm) than the plant grows", p->sizes[i].name,
               p->sizes[i].height * 100, p->sizes[i].spread * 100);
      if (p->sizes[i].price <= 0)
        fault (p, "%s has no price", p->sizes[i].name);
    }
}

/* Months from @from forward to @to. */
static int
months_ahead (int from, int to)
{
  return (to - from + 12) % 12;
}

static void
check_season (const BlPlant *p)
{
  gboolean dies = !bl_plant_is_woody (p) && p->leaves == BL_LEAVES_DECIDUOUS;
  int length = p->flower_from == 0 ? 0 : months_ahead (p->flower_from, p->flower_to) + 1;

  if (p->flower != BL_FLOWER_NONE && p->flower_from == 0 && p->type != BL_TYPE_CONIFER)
    fault (p, "has a flower but no months");
  if (length > 7 && p->type != BL_TYPE_ANNUAL)
    fault (p, "flowers for %d months", length);
  /* What dies down flowers after it has come up, except the autumn crocus kind. */
  if (dies && !p->spring_only && p->type != BL_TYPE_ANNUAL && p->flower_from != 0
      && p->flower_from < p->emerges)
    fault (p, "flowers in month %d before it comes up in month %d", p->flower_from, p->emerges);
  if (p->spring_only && bl_plant_is_woody (p))
    fault (p, "is woody and cannot die down by summer");
  if (p->spring_only && p->leaves == BL_LEAVES_EVERGREEN)
    fault (p, "is evergreen and cannot die down by summer");
  if (p->has_fruit && p->flower_from != 0 && months_ahead (p->flower_from, p->fruit_from) > 10)
    fault (p, "bears fruit in month %d, flowers in month %d", p->fruit_from, p->flower_from);
  if (p->flower_from != 0 && p->flower_color_name == NULL && p->type != BL_TYPE_GRASS
      && p->type != BL_TYPE_CONIFER && p->flower != BL_FLOWER_CATKIN)
    fault (p, "flowers without a colour name");
  if (p->type != BL_TYPE_BULB && (p->emerges < 1 || p->emerges > 6)
      && p->leaves == BL_LEAVES_DECIDUOUS)
    fault (p, "comes into leaf in month %d", p->emerges);
}

static double
chroma_gap (BlColor a, BlColor b)
{
  return bl_color_difference (bl_color_to_lab (a), bl_color_to_lab (b));
}

static void
check_leaves (const BlPlant *p)
{
  BlLab winter = bl_color_to_lab (p->leaf_winter);
  BlLab summer = bl_color_to_lab (p->leaf_summer);
  gboolean summer_green = summer.a < -8;

  if (p->type == BL_TYPE_CONIFER && p->leaf != BL_LEAF_NEEDLE && p->leaf != BL_LEAF_SCALE
      && p->leaf != BL_LEAF_LINEAR)
    fault (p, "is a conifer with %s leaves", bl_leaf_shape_name (p->leaf));
  if (p->type == BL_TYPE_EVERGREEN_SHRUB && p->leaves == BL_LEAVES_DECIDUOUS)
    fault (p, "is an evergreen shrub that drops its leaves");
  if (p->type == BL_TYPE_SHRUB && p->leaves == BL_LEAVES_EVERGREEN)
    fault (p, "is evergreen but stands among the deciduous shrubs");
  /* A leaf that stays is not straw in winter; a dead one is not green. */
  if (p->leaves == BL_LEAVES_EVERGREEN && summer_green && winter.a > 12 && winter.b > 22
      && winter.L > 55)
    fault (p, "is evergreen, yet its winter leaf is the colour of straw");
  if (p->leaves == BL_LEAVES_DECIDUOUS && winter.a < -14)
    fault (p, "drops its leaves or dies down, yet its winter colour is green");
  if (p->leaves == BL_LEAVES_EVERGREEN && summer_green
      && chroma_gap (p->leaf_winter, p->leaf_summer) > 45)
    fault (p, "is evergreen, yet summer and winter leaf have nothing in common");
  if (p->form == BL_FORM_FERN && p->leaf != BL_LEAF_FROND)
    fault (p, "is a fern without fronds");
  if (p->type == BL_TYPE_FERN && p->flower != BL_FLOWER_NONE)
    fault (p, "is a fern that flowers");
  if (p->form == BL_FORM_CLIMBER && p->support == NULL && p->type == BL_TYPE_VINE
      && p->care != BL_CARE_P6 && p->height > 1.0 && p->care_note == NULL)
    fault (p, "climbs without a support and no word of how it holds");
}

static void
check_care (const BlPlant *p)
{
  gboolean grass = p->care == BL_CARE_G1 || p->care == BL_CARE_G2;
  gboolean pruned = p->care <= BL_CARE_P5;

  if (grass && p->type != BL_TYPE_GRASS)
    fault (p, "is cared for as a grass (%s) but is a %s", bl_care_group_name (p->care),
           bl_plant_type_name (p->type));
  if (pruned && !bl_plant_is_woody (p))
    fault (p, "is pruned as a shrub (%s) but is a %s", bl_care_group_name (p->care),
           bl_plant_type_name (p->type));
  if ((p->care == BL_CARE_A) != (p->type == BL_TYPE_ANNUAL))
    fault (p, "care group A and the type annual go together");
  if ((p->care == BL_CARE_V1 || p->care == BL_CARE_V2) && p->type != BL_TYPE_VINE)
    fault (p, "is cared for as a vine but is a %s", bl_plant_type_name (p->type));
  if (p->care == BL_CARE_B1 && p->type != BL_TYPE_BULB && !p->spring_only)
    fault (p, "is cared for as a bulb but is a %s", bl_plant_type_name (p->type));
  /* Spring bloomers on old wood flower by early July, summer bloomers on new wood from May. */
  if (p->care == BL_CARE_P1 && p->flower_from >= 8 && p->flower_from <= 9)
    fault (p, "flowers from month %d yet is pruned as a spring bloomer", p->flower_from);
  if (p->care == BL_CARE_P2 && p->flower_from >= 1 && p->flower_from <= 3)
    fault (p, "flowers from month %d yet is pruned as a summer bloomer", p->flower_from);
}

static void
check_names (const BlPlant *p)
{
  g_autofree char *slug = bl_plant_name_slug (p);
  g_autoptr (GError) error = NULL;

  if (!bl_plant_name_check (p, &error))
    fault (p, "%s", error->message);
  if (strcmp (slug, p->slug) != 0)
    fault (p, "the name asks for the slug “%s”", slug);
  if (g_unichar_isupper (g_utf8_get_char (p->common)) && strchr (p->common, '\'') == NULL
      && g_ascii_isupper (p->common[0]) && g_ascii_isupper (p->common[1]))
    fault (p, "the common name “%s” is in capitals", p->common);
  if (strpbrk (p->common, "\303\227\"") != NULL && strstr (p->common, "\303\227") != NULL)
    fault (p, "the common name carries a hybrid sign");
}

/* Genera with reported harm to people or animals. site.md 6.5: ASPCA's heart-affecting and kidney
 * lists, and the California Poison Control System's "Common plants and their toxicity"; the others
 * from memory of the same lists and of UC Davis, "Safe and poisonous garden plants" (Filmer 2012).
 */
static const char *const harmful_genera[] = { "Aconitum",
                                              "Actaea",
                                              "Aesculus",
                                              "Ageratina",
                                              "Allium",
                                              "Anemone",
                                              "Aristolochia",
                                              "Arisaema",
                                              "Arum",
                                              "Asclepias",
                                              "Baptisia",
                                              "Begonia",
                                              "Brugmansia",
                                              "Buxus",
                                              "Caladium",
                                              "Caltha",
                                              "Campsis",
                                              "Catharanthus",
                                              "Celastrus",
                                              "Clematis",
                                              "Colchicum",
                                              "Convallaria",
                                              "Daphne",
                                              "Datura",
                                              "Delphinium",
                                              "Dicentra",
                                              "Digitalis",
                                              "Eranthis",
                                              "Euonymus",
                                              "Euphorbia",
                                              "Galanthus",
                                              "Gelsemium",
                                              "Gymnocladus",
                                              "Hedera",
                                              "Helleborus",
                                              "Hosta",
                                              "Hyacinthoides",
                                              "Hyacinthus",
                                              "Hydrangea",
                                              "Ilex",
                                              "Ipomoea",
                                              "Iris",
                                              "Juglans",
                                              "Kalanchoe",
                                              "Kalmia",
                                              "Laburnum",
                                              "Lamprocapnos",
                                              "Lantana",
                                              "Leucojum",
                                              "Leucothoe",
                                              "Ligustrum",
                                              "Lilium",
                                              "Lobelia",
                                              "Lonicera",
                                              "Lupinus",
                                              "Lycoris",
                                              "Menispermum",
                                              "Muscari",
                                              "Nandina",
                                              "Narcissus",
                                              "Nerium",
                                              "Nicotiana",
                                              "Ornithogalum",
                                              "Paeonia",
                                              "Parthenocissus",
                                              "Pelargonium",
                                              "Phytolacca",
                                              "Pieris",
                                              "Podophyllum",
                                              "Prunus",
                                              "Pulsatilla",
                                              "Ranunculus",
                                              "Rheum",
                                              "Rhododendron",
                                              "Ricinus",
                                              "Robinia",
                                              "Sambucus",
                                              "Sanguinaria",
                                              "Scilla",
                                              "Senecio",
                                              "Symphoricarpos",
                                              "Tanacetum",
                                              "Taxus",
                                              "Thermopsis",
                                              "Toxicodendron",
                                              "Trollius",
                                              "Tulipa",
                                              "Wisteria",
                                              "Yucca",
                                              "Zantedeschia",
                                              NULL };

static void
check_harm (const BlPlant *p)
{
  const BlHarm harm[] = { p->harm_people, p->harm_dogs, p->harm_cats, p->harm_livestock };
  BlHarm most = BL_HARM_UNKNOWN;
  guint i = 0;

  for (i = 0; i < 4; i++)
    most = MAX (most, harm[i]);
  if (g_strv_contains (harmful_genera, p->genus) && most < BL_HARM_MILD)
    fault (p, "the genus is reported harmful and nothing is said");
  /* True lilies and daylilies: kidney failure in cats (ASPCA). */
  if ((strcmp (p->genus, "Lilium") == 0 || strcmp (p->genus, "Hemerocallis") == 0)
      && p->harm_cats < BL_HARM_TOXIC)
    fault (p, "is reported toxic to cats and that is not said");
}

static void
test_ranges (void)
{
  check_each (check_ranges);
}

static void
test_season (void)
{
  check_each (check_season);
}

static void
test_leaves (void)
{
  check_each (check_leaves);
}

static void
test_care (void)
{
  check_each (check_care);
}

static void
test_names (void)
{
  check_each (check_names);
}

static void
test_harm (void)
{
  check_each (check_harm);
}

/* A record's facts without what names it. */
static char *
facts_of (const BlPlant *p)
{
  g_auto (GStrv) lines = g_strsplit (p->text, "\n", -1);
  GString *text = g_string_new (NULL);
  guint i = 0;

  for (i = 0; lines[i] != NULL; i++)
    if (lines[i][0] != '[' && !g_str_has_prefix (lines[i], "species=")
        && !g_str_has_prefix (lines[i], "cultivar=") && !g_str_has_prefix (lines[i], "common")
        && !g_str_has_prefix (lines[i], "infra=") && !g_str_has_prefix (lines[i], "basis=")
        && !g_str_has_prefix (lines[i], "companions="))
      g_string_append_printf (text, "%s\n", lines[i]);
  return g_string_free (text, FALSE);
}

static void
test_alike (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  guint i = 0;

  records.faults = 0;
  for (i = 0; i < records.plants->len; i++)
    {
      char *keys[]
        = { facts_of (at (i)), bl_plant_name (at (i)), g_strconcat ("slug ", at (i)->slug, NULL) };
      guint k = 0;

      for (k = 0; k < G_N_ELEMENTS (keys); k++)
        {
          const BlPlant *other = g_hash_table_lookup (seen, keys[k]);

          if (other != NULL)
            fault (at (i), "is the same as %s", other->slug);
          g_hash_table_insert (seen, keys[k], (gpointer) at (i));
        }
    }
  g_assert_cmpuint (records.faults, ==, 0);
}

/* Companions and plants to avoid that are slugs must exist. */
static void
test_companions (void)
{
  g_autoptr (GHashTable) slugs = g_hash_table_new (g_str_hash, g_str_equal);
  guint i = 0, k = 0;

  records.faults = 0;
  for (i = 0; i < records.plants->len; i++)
    g_hash_table_add (slugs, at (i)->slug);
  for (i = 0; i < records.plants->len; i++)
    for (k = 0; at (i)->companions != NULL && at (i)->companions[k] != NULL; k++)
      {
        if (!g_hash_table_contains (slugs, at (i)->companions[k]))
          fault (at (i), "the companion “%s” is not in the library", at (i)->companions[k]);
        if (strcmp (at (i)->companions[k], at (i)->slug) == 0)
          fault (at (i), "is its own companion");
      }
  g_assert_cmpuint (records.faults, ==, 0);
}

static void
test_counts (void)
{
  static const guint wanted[BL_TYPE_N]
    = { [BL_TYPE_PERENNIAL] = 150,      [BL_TYPE_GRASS] = 35,   [BL_TYPE_SHRUB] = 70,
        [BL_TYPE_EVERGREEN_SHRUB] = 10, [BL_TYPE_CONIFER] = 10, [BL_TYPE_TREE] = 30,
        [BL_TYPE_GROUND_COVER] = 25,    [BL_TYPE_BULB] = 20,    [BL_TYPE_VINE] = 15,
        [BL_TYPE_ANNUAL] = 15,          [BL_TYPE_FERN] = 10 };
  guint count[BL_TYPE_N] = { 0 };
  guint native = 0, evergreen = 0, i = 0;
  gboolean short_of = FALSE;

  for (i = 0; i < records.plants->len; i++)
    {
      count[at (i)->type]++;
      native += at (i)->native;
    }
  for (i = 0; i < BL_TYPE_N; i++)
    {
      g_print ("# %-16s %4u (at least %u)\n", bl_plant_type_name ((BlPlantType) i), count[i],
               wanted[i]);
      short_of = short_of || count[i] < wanted[i];
    }
  evergreen = count[BL_TYPE_EVERGREEN_SHRUB] + count[BL_TYPE_CONIFER];
  g_print ("# %-16s %4u\n# %-16s %4u\n", "all", records.plants->len, "native", native);
  g_assert_cmpuint (evergreen, >=, 40);
  g_assert_cmpuint (records.plants->len, >, 500);
  g_assert_cmpuint (native * 2, >=, records.plants->len);
  g_assert_false (short_of);
}

static int
by_genus (gconstpointer a, gconstpointer b)
{
  const BlPlant *const *pa = a, *const *pb = b;
  int order = strcmp ((*pa)->genus, (*pb)->genus);

  return order != 0 ? order : strcmp ((*pa)->slug, (*pb)->slug);
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static double
median (guint first, guint n, double (*value) (const BlPlant *))
{
  g_autofree double *v = g_new (double, n);
  guint i = 0;

  for (i = 0; i < n; i++)
    v[i] = value (at (first + i));
  qsort (v, n, sizeof *v, compare_doubles);
  return n % 2 == 1 ? v[n / 2] : 0.5 * (v[n / 2 - 1] + v[n / 2]);
}

static double
value_zone_low (const BlPlant *p)
{
  return p->zone_low;
}
static double
value_zone_high (const BlPlant *p)
{
  return p->zone_high;
}
static double
value_height (const BlPlant *p)
{
  return log2 (p->height);
}
static double
value_flower (const BlPlant *p)
{
  return p->flower_from;
}
static double
value_harm (const BlPlant *p)
{
  return p->harm_people;
}
static double
value_emerges (const BlPlant *p)
{
  return p->emerges;
}

/* Printed for the eye of the authors, not judged: a genus may well have odd members. */
static void
test_outliers (void)
{
  static const struct
  {
    const char *name;
    double (*value) (const BlPlant *);
    double far;
  } facts[] = { { "zones low", value_zone_low, 4 },     { "zones high", value_zone_high, 4 },
                { "height (log2)", value_height, 1.5 }, { "flower from", value_flower, 3 },
                { "harm to people", value_harm, 1 },    { "emerges", value_emerges, 2 } };
  guint first = 0, n = 0, i = 0, f = 0;

  g_ptr_array_sort (records.plants, by_genus);
  for (first = 0; first < records.plants->len; first += n)
    {
      for (n = 1; first + n < records.plants->len
                  && strcmp (at (first)->genus, at (first + n)->genus) == 0;
           n++)
        ;
      for (f = 0; n >= 3 && f < G_N_ELEMENTS (facts); f++)
        {
          double middle = median (first, n, facts[f].value);

          for (i = first; i < first + n; i++)
            if (fabs (facts[f].value (at (i)) - middle) >= facts[f].far)
              g_print ("# outlier: %-44s %-14s %6.1f, genus %6.1f\n", at (i)->slug, facts[f].name,
                       facts[f].value (at (i)), middle);
        }
    }
  g_assert_cmpuint (first, ==, records.plants->len);
}

static void
read_all (void)
{
  g_auto (GStrv) files = record_files ();
  guint i = 0, k = 0;

  records.plants = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_unref);
  for (i = 0; files[i] != NULL; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) plants = bl_plants_read_file (files[i], &error);

      if (plants == NULL)
        g_error ("%s", error->message);
      for (k = 0; k < plants->len; k++)
        g_ptr_array_add (records.plants, bl_plant_ref (g_ptr_array_index (plants, k)));
    }
}

int
main (int argc, char **argv)
{
  int status = 0;

  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  read_all ();
  g_test_add_func ("/plants/records/ranges", test_ranges);
  g_test_add_func ("/plants/records/season", test_season);
  g_test_add_func ("/plants/records/leaves", test_leaves);
  g_test_add_func ("/plants/records/care", test_care);
  g_test_add_func ("/plants/records/names", test_names);
  g_test_add_func ("/plants/records/harm", test_harm);
  g_test_add_func ("/plants/records/alike", test_alike);
  g_test_add_func ("/plants/records/companions", test_companions);
  g_test_add_func ("/plants/records/counts", test_counts);
  g_test_add_func ("/plants/records/outliers", test_outliers);
  status = g_test_run ();
  g_ptr_array_unref (records.plants);
  return status;
}
