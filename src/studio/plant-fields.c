/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keys of a record as a designer meets them: grouped, named, with words for what a record codes. */

#include "config.h"

#include "studio/plant-field.h"

#include <glib/gi18n.h>
#include <string.h>

static const BlFieldWord types[] = {
  { "perennial", N_("Perennial") }, { "grass", N_("Grass or sedge") },
  { "shrub", N_("Deciduous shrub") }, { "evergreen-shrub", N_("Evergreen shrub") },
  { "conifer", N_("Conifer") }, { "tree", N_("Tree") }, { "ground-cover", N_("Ground cover") },
  { "bulb", N_("Bulb") }, { "vine", N_("Vine") }, { "annual", N_("Annual") }, { "fern", N_("Fern") },
  { NULL }
};

static const BlFieldWord forms[] = {
  { "upright-clump", N_("Upright leafy clump") }, { "mound", N_("Rounded mound") },
  { "mat", N_("Flat mat") }, { "cushion", N_("Tight low cushion") },
  { "fountain-grass", N_("Arching grass") }, { "upright-grass", N_("Upright grass") },
  { "tussock", N_("Low tussock") }, { "vase-shrub", N_("Vase-shaped shrub") },
  { "globe-shrub", N_("Globe-shaped shrub") }, { "arching-shrub", N_("Arching shrub") },
  { "column", N_("Narrow column") }, { "cone-conifer", N_("Cone, conifer") },
  { "spreading-conifer", N_("Spreading conifer") }, { "mound-conifer", N_("Mounded conifer") },
  { "multistem-tree", N_("Tree with several stems") }, { "round-tree", N_("Tree with a round head") },
  { "spire-clump", N_("Spires over leaves") }, { "strap-clump", N_("Strap leaves") },
  { "rosette-wands", N_("Rosette with bare wands") }, { "daisy-clump", N_("Clump of daisies") },
  { "umbel-clump", N_("Clump of flat heads") }, { "bulb", N_("Bulb") }, { "fern", N_("Fern") },
  { "climber", N_("Climber on its support") }, { "hedge", N_("Clipped hedge") }, { NULL }
};

static const BlFieldWord leaf_shapes[] = {
  { "oval", N_("Oval") }, { "lance", N_("Lance") }, { "linear", N_("Linear") },
  { "strap", N_("Strap") }, { "round", N_("Round") }, { "lobed", N_("Lobed") },
  { "pinnate", N_("Pinnate") }, { "needle", N_("Needle") }, { "scale", N_("Scale") },
  { "frond", N_("Frond") }, { "heart", N_("Heart") }, { NULL }
};

static const BlFieldWord flower_shapes[] = {
  { "none", N_("None of note") }, { "daisy", N_("Daisy") }, { "spike", N_("Spike") },
  { "plume", N_("Plume") }, { "globe", N_("Globe") }, { "trumpet", N_("Trumpet") },
  { "umbel", N_("Umbel") }, { "panicle", N_("Panicle") }, { "bell", N_("Bell") },
  { "cup", N_("Cup") }, { "star", N_("Star") }, { "catkin", N_("Catkin") }, { NULL }
};

static const BlFieldWord grades[] = { { "unknown", N_("Not known") },
                                      { "low", N_("Low") },
                                      { "medium", N_("Medium") },
                                      { "high", N_("High") },
                                      { NULL } };
static const BlFieldWord growths[] = {
  { "slow", N_("Slow") }, { "medium", N_("Medium") }, { "fast", N_("Fast") }, { NULL }
};
static const BlFieldWord risks[] = {
  { "low", N_("Low") }, { "medium", N_("Medium") }, { "high", N_("High") }, { NULL }
};
static const BlFieldWord browsing[] = { { "unknown", N_("Not known") },
                                        { "rarely", N_("Rarely browsed") },
                                        { "sometimes", N_("Sometimes browsed") },
                                        { "often", N_("Often browsed") },
                                        { NULL } };
static const BlFieldWord leaf_habits[] = { { "deciduous", N_("Drops its leaves or dies down") },
                                           { "semi-evergreen", N_("Half evergreen") },
                                           { "evergreen", N_("Evergreen") },
                                           { NULL } };
static const BlFieldWord lights[] = {
  { "full", N_("Full sun") }, { "part", N_("Part sun") }, { "shade", N_("Shade") }, { NULL }
};
static const BlFieldWord moistures[] = {
  { "dry", N_("Dry") }, { "medium", N_("Medium") }, { "wet", N_("Wet") }, { NULL }
};
static const BlFieldWord soils[] = {
  { "sand", N_("Sand") }, { "loam", N_("Loam") }, { "clay", N_("Clay") }, { NULL }
};
static const BlFieldWord spreading[] = { { "", N_("Stays where it is") },
                                         { "runner", N_("By runners") },
                                         { "seed", N_("By seed") },
                                         { "both", N_("By runners and seed") },
                                         { NULL } };
static const BlFieldWord supports[] = {
  { "", N_("None") }, { "stake", N_("Stake") }, { "trellis", N_("Trellis") }, { NULL }
};
static const BlFieldWord harms[] = { { "unknown", N_("Not known") },
                                     { "no-report", N_("No report of harm") },
                                     { "mild", N_("Mildly harmful") },
                                     { "toxic", N_("Toxic") },
                                     { "severe", N_("Severely toxic") },
                                     { NULL } };
static const BlFieldWord care_groups[] = {
  { "P1", N_("Shrub in flower in spring: prune after it") },
  { "P2", N_("Shrub in flower in summer: prune in late winter") },
  { "P3", N_("Shrub for its stems: renew") },
  { "P4", N_("Berry shrub on old wood: thin") },
  { "P5", N_("Evergreen: trim lightly") },
  { "P6", N_("Tree or shrub without cutting back") },
  { "G1", N_("Warm-season grass: cut in early spring") },
  { "G2", N_("Cool-season grass: comb or cut lightly") },
  { "H1", N_("Leave standing, cut in spring") },
  { "H2", N_("Cut in autumn") },
  { "H3", N_("Woody base: shorten in spring") },
  { "H4", N_("Shear after the first flush") },
  { "B1", N_("Spring bulb: let it die down") },
  { "V1", N_("Vine: prune after flowering") },
  { "V2", N_("Vine: prune in late winter") },
  { "A", N_("Annual: clear after frost") },
  { NULL }
};

#define NAME BL_GROUP_NAME
#define SIZE BL_GROUP_SIZE
#define PLACE BL_GROUP_PLACE
#define YEAR BL_GROUP_YEAR
#define CARE BL_GROUP_CARE
#define CAUTION BL_GROUP_CAUTION
#define TRADE BL_GROUP_TRADE

static const BlFieldInfo infos[] = {
  { "genus", NAME, BL_FIELD_TEXT, N_("Genus"), NULL, NULL, N_("Echinacea; “x ” before a hybrid genus") },
  { "species", NAME, BL_FIELD_TEXT, N_("Species"), NULL, NULL, N_("purpurea; “x ” before a hybrid") },
  { "infra", NAME, BL_FIELD_TEXT, N_("Below the species"), NULL, NULL, N_("subsp., var. or f. and its name") },
  { "cultivar", NAME, BL_FIELD_TEXT, N_("Cultivar"), NULL, NULL, N_("without quotation marks") },
  { "common", NAME, BL_FIELD_TEXT, N_("Common name, English"), NULL, NULL, NULL },
  { "common_es", NAME, BL_FIELD_TEXT, N_("Common name, Spanish"), NULL, NULL, N_("if one is in use") },
  { "origin", NAME, BL_FIELD_TEXT, N_("Where it is from"), NULL, NULL, NULL },
  { "native", NAME, BL_FIELD_FLAG, N_("Native to eastern or central North America"), NULL, "no", NULL },
  { "basis", NAME, BL_FIELD_TEXT, N_("On what these facts rest"), NULL, NULL, N_("your own eyes, a book, a grower") },

  { "type", SIZE, BL_FIELD_WORD, N_("Kind of plant"), types, NULL, NULL },
  { "form", SIZE, BL_FIELD_WORD, N_("Habit, as it is drawn"), forms, NULL, NULL },
  { "height", SIZE, BL_FIELD_RANGE, N_("Height when grown, in flower"), NULL, NULL, NULL },
  { "spread", SIZE, BL_FIELD_RANGE, N_("Spread when grown"), NULL, NULL, NULL },
  { "foliage_height", SIZE, BL_FIELD_LENGTH, N_("Leaves stand as high as"), NULL, NULL, N_("if flowers stand above them") },
  { "spacing", SIZE, BL_FIELD_LENGTH, N_("Spacing on centre"), NULL, NULL, NULL },
  { "leaf", SIZE, BL_FIELD_SHAPE, N_("Leaf, and its length"), leaf_shapes, NULL, NULL },
  { "years", SIZE, BL_FIELD_NUMBER, N_("Years until grown"), NULL, NULL, NULL },
  { "growth", SIZE, BL_FIELD_WORD, N_("Growth"), growths, NULL, NULL },

  { "zones", PLACE, BL_FIELD_ZONES, N_("Hardiness zones, coldest and warmest"), NULL, NULL, N_("4a") },
  { "heat", PLACE, BL_FIELD_PAIR, N_("Heat zones, if known"), NULL, NULL, NULL },
  { "light", PLACE, BL_FIELD_SET, N_("Light"), lights, NULL, NULL },
  { "moisture", PLACE, BL_FIELD_SET, N_("Moisture"), moistures, NULL, NULL },
  { "soil", PLACE, BL_FIELD_SET, N_("Soil"), soils, NULL, NULL },
  { "ph", PLACE, BL_FIELD_PAIR, N_("pH, if known"), NULL, "unknown", NULL },
  { "drought", PLACE, BL_FIELD_WORD, N_("Bears drought, once established"), grades, NULL, NULL },
  { "soil_salt", PLACE, BL_FIELD_WORD, N_("Bears salt in the soil"), grades, NULL, NULL },
  { "spray_salt", PLACE, BL_FIELD_WORD, N_("Bears salt spray"), grades, NULL, NULL },
  { "snow_load", PLACE, BL_FIELD_WORD, N_("Bears piled snow"), grades, NULL, NULL },
  { "wind", PLACE, BL_FIELD_WORD, N_("Bears wind"), grades, NULL, NULL },
  { "juglone", PLACE, BL_FIELD_WORD, N_("Bears a walnut near it"), grades, NULL, NULL },

  { "leaves", YEAR, BL_FIELD_WORD, N_("Leaves"), leaf_habits, NULL, NULL },
  { "emerges", YEAR, BL_FIELD_MONTH, N_("New growth shows in"), NULL, NULL, NULL },
  { "leaf_colors", YEAR, BL_FIELD_SEASONS, N_("Leaf colours"), NULL, NULL, NULL },
  { "stem", YEAR, BL_FIELD_COLOR, N_("Bark or winter stem"), NULL, NULL, NULL },
  { "flower", YEAR, BL_FIELD_SHAPE, N_("Flower, and the size of one head"), flower_shapes, NULL, NULL },
  { "flower_months", YEAR, BL_FIELD_MONTHS, N_("In flower from and to, in zone 6"), NULL, "0 0", NULL },
  { "flower_colors", YEAR, BL_FIELD_COLORS, N_("Flower colours, petals first"), NULL, NULL, NULL },
  { "flower_color_name", YEAR, BL_FIELD_TEXT, N_("Flower colour in words"), NULL, NULL, N_("purple pink") },
  { "seed_color", YEAR, BL_FIELD_COLOR, N_("Seed heads"), NULL, NULL, NULL },
  { "fruit", YEAR, BL_FIELD_FRUIT, N_("Fruit: colour, from and to"), NULL, NULL, NULL },
  { "spring_only", YEAR, BL_FIELD_FLAG, N_("Dies down by summer"), NULL, "no", NULL },
  { "winter_interest", YEAR, BL_FIELD_TEXT, N_("In winter"), NULL, NULL, N_("dark seed heads") },
  { "wildlife", YEAR, BL_FIELD_TEXT, N_("For wildlife"), NULL, NULL, N_("bees, butterflies") },

  { "care", CARE, BL_FIELD_WORD, N_("Care group"), care_groups, NULL, NULL },
  { "care_note", CARE, BL_FIELD_TEXT, N_("A rule of its own, in one sentence"), NULL, NULL, NULL },
  { "divide", CARE, BL_FIELD_PAIR, N_("Divide every so many years"), NULL, "0 0", NULL },
  { "support", CARE, BL_FIELD_WORD, N_("Support"), supports, NULL, NULL },
  { "companions", CARE, BL_FIELD_TEXT, N_("Companions, by their keys"), NULL, NULL, N_("nepeta-x-faassenii, …") },
  { "avoid", CARE, BL_FIELD_TEXT, N_("Not beside, by keys or genera"), NULL, NULL, NULL },

  { "harm", CAUTION, BL_FIELD_HARM, N_("Reported harm when eaten or touched"), harms, NULL, NULL },
  { "harm_note", CAUTION, BL_FIELD_TEXT, N_("The caution, in one sentence"), NULL, NULL, N_("needed where harm is reported") },
  { "allergen", CAUTION, BL_FIELD_TEXT, N_("Allergen"), NULL, NULL, N_("pollen, sap on skin") },
  { "thorns", CAUTION, BL_FIELD_FLAG, N_("Thorns or spines"), NULL, "no", NULL },
  { "root_risk", CAUTION, BL_FIELD_WORD, N_("Roots lift pavement"), risks, NULL, NULL },
  { "spreads", CAUTION, BL_FIELD_WORD, N_("Spreads"), spreading, NULL, NULL },
  { "deer", CAUTION, BL_FIELD_WORD, N_("Deer"), browsing, NULL, NULL },
  { "rabbit", CAUTION, BL_FIELD_WORD, N_("Rabbits"), browsing, NULL, NULL },
  { "invasive", CAUTION, BL_FIELD_TEXT, N_("Reports of spreading into the wild"), NULL, NULL, N_("as reported, where, by whom") },
  { "regulated", CAUTION, BL_FIELD_TEXT, N_("Regulated: where|what|by whom|as of"), NULL, NULL, N_("check your state's list") },

  { "sizes", TRADE, BL_FIELD_CONTAINERS, N_("Sizes sold: first the usual one"), NULL, NULL, NULL },
};

const BlFieldInfo *
bl_field_infos (guint *n)
{
  *n = G_N_ELEMENTS (infos);
  return infos;
}

const char *
bl_field_group_title (BlFieldGroup group)
{
  static const char *const titles[BL_GROUP_N] = {
    N_("Name"), N_("Size and habit"), N_("Where it grows"), N_("Through the year"), N_("Care"),
    N_("Cautions"), N_("Sizes and prices"), N_("Picture")
  };

  return _(titles[group]);
}

const char *const *
bl_field_month_titles (void)
{
  static const char *const months[]
      = { "–", N_("January"), N_("February"), N_("March"), N_("April"), N_("May"), N_("June"),
          N_("July"), N_("August"), N_("September"), N_("October"), N_("November"), N_("December"),
          NULL };

  return months;
}

/* In the form's own terms, where a record's are others: its lengths are centimetres, its sets words. */
const char *
bl_field_sentence (const BlFieldInfo *info, const char *fault)
{
  if (g_str_equal (fault, "is missing"))
    return info->kind == BL_FIELD_SET ? _("Choose at least one") : _("Fill this in");
  switch (info->kind)
    {
    case BL_FIELD_RANGE:
      return strstr (fault, "design value") != NULL
                 ? _("The usual must lie between the lowest and the highest")
                 : _("Write three lengths, such as 18 in or 45 cm: lowest, highest and usual");
    case BL_FIELD_LENGTH: case BL_FIELD_SHAPE:
      return strstr (fault, "design height") != NULL ? _("Leaves cannot stand over the usual height")
                                                     : _("Write a length, such as 18 in or 45 cm");
    case BL_FIELD_ZONES:
      return _("Write two half zones, the colder first, such as 4a and 8b");
    case BL_FIELD_NUMBER:
      return _("Write a number of years, such as 3");
    case BL_FIELD_CONTAINERS:
      return _("Each size needs its height and spread when planted and its price");
    case BL_FIELD_TEXT: case BL_FIELD_WORD: case BL_FIELD_SET: case BL_FIELD_FLAG:
    case BL_FIELD_PAIR: case BL_FIELD_MONTH: case BL_FIELD_MONTHS: case BL_FIELD_COLOR:
    case BL_FIELD_COLORS: case BL_FIELD_SEASONS: case BL_FIELD_FRUIT: case BL_FIELD_HARM:
    case BL_FIELD_N:
    default:
      return fault;
    }
}
