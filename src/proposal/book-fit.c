/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rules of fit and reported harm in the papers' language. */
#include <string.h>

#include "proposal/book.h"

static const struct
{
  const char *rule, *title, *why;
} rules[] = {
  { "zone", BL_SAID ("Not hardy here"),
    BL_SAID ("Winters here are colder than these are grown in.") },
  { "zone-warm", BL_SAID ("Too warm here"),
    BL_SAID ("Grown in colder places; they fail in the heat.") },
  { "heat", BL_SAID ("More hot days than they bear"),
    BL_SAID ("This site has more days above 30 °C (86 °F) than they stand without shade and water.") },
  { "heat-short", BL_SAID ("Fewer hot days than they want"),
    BL_SAID ("They need more summer heat to ripen and flower.") },
  { "wind", BL_SAID ("Wind"),
    BL_SAID ("The site is windier than they bear, or they need staking in it.") },
  { "light", BL_SAID ("Other light wanted"),
    BL_SAID ("The bed has more or less sun than they want.") },
  { "moisture", BL_SAID ("Other moisture wanted"),
    BL_SAID ("The ground is wetter or drier than they want.") },
  { "drought", BL_SAID ("Little drought borne"),
    BL_SAID ("The ground is dry; they need watering even when established.") },
  { "soil", BL_SAID ("Not their soil"), BL_SAID ("They do not like the soil that is here.") },
  { "ph", BL_SAID ("Soil too alkaline or too acid"),
    BL_SAID ("The soil's pH lies outside their range; test it first.") },
  { "too-close", BL_SAID ("Planted close"),
    BL_SAID ("At maturity they need more room than they have.") },
  { "neighbour", BL_SAID ("Bad neighbours"),
    BL_SAID ("Trouble such as rust passes between the two kinds.") },
  { BL_SAID ("door"), BL_SAID ("Close to a door"), BL_SAID ("Clear ground stays where people come and go.") },
  { "over-bed-line", BL_SAID ("Over the bed line"),
    BL_SAID ("At maturity they lean over the bed line.") },
  { "hidden", BL_SAID ("Hidden behind taller plants"),
    BL_SAID ("Seen from the front, taller plants stand before them.") },
  { "no-support", BL_SAID ("Climber without support"),
    BL_SAID ("No wall, fence, post or trellis stands near.") },
  { "late-emerger", BL_SAID ("Comes up late"),
    BL_SAID ("Leaves a gap in spring; bulbs beside it would fill it.") },
  { "sight-triangle", BL_SAID ("Tall for a sight triangle"),
    BL_SAID ("Drivers look over this ground; plants stay low here.") },
  { BL_SAID ("hydrant"), BL_SAID ("Close to a hydrant"), BL_SAID ("Hydrants need a clear space all round.") },
  { BL_SAID ("transformer"), BL_SAID ("Close to a transformer"),
    BL_SAID ("Its doors and sides stay clear.") },
  { "utility-box", BL_SAID ("Close to a utility box"),
    BL_SAID ("People must be able to reach it.") },
  { "buried-line", BL_SAID ("Close to a buried line"),
    BL_SAID ("Roots, holes and repairs will meet.") },
  { BL_SAID ("wall"), BL_SAID ("Close to a wall"), BL_SAID ("At mature spread it presses against it.") },
  { "roots", BL_SAID ("Roots that lift pavement"), BL_SAID ("It stands close to paving.") },
  { "overhang", BL_SAID ("Over the walk"),
    BL_SAID ("At mature spread it reaches over where people pass.") },
  { "salt-soil", BL_SAID ("Salt in the soil"),
    BL_SAID ("Close to the salted edge, and they bear little or an unknown amount of it.") },
  { "salt-spray", BL_SAID ("Salt spray"),
    BL_SAID ("Buds and leaves are burnt by spray from the road.") },
  { "snow-pile", BL_SAID ("Where snow is piled"),
    BL_SAID ("The weight of ploughed snow breaks stems.") },
  { "deer", BL_SAID ("Browsed by deer"),
    BL_SAID ("Deer come here and often eat it; fence or repellent all year.") },
  { "juglone", BL_SAID ("Near a walnut"),
    BL_SAID ("Reported to suffer from what walnut roots give off.") },
  { "poison-people", BL_SAID ("Reported poisonous"), BL_SAID ("Children use this place.") },
  { "poison-pets", BL_SAID ("Reported poisonous to pets"), BL_SAID ("Pets use this place.") },
  { "thorns", BL_SAID ("Thorns beside the walk"),
    BL_SAID ("At mature spread they end close to where people pass.") },
  { "regulated", BL_SAID ("Reported as regulated"),
    BL_SAID ("Check the state's current list before buying or planting.") },
  { "invasive", BL_SAID ("Reported to spread into wild land"),
    BL_SAID ("Check the state's current list.") },
  { "fire-zone", BL_SAID ("Close to a building in fire country"),
    BL_SAID ("Plants that burn are left out within 5 ft.") },
  { "no-flower", BL_SAID ("A month without flowers"),
    BL_SAID ("Nothing flowers in part of the growing season.") },
  { "no-leaf", BL_SAID ("A month without leaves"),
    BL_SAID ("The ground is bare in part of the growing season.") },
  { "bare-winter", BL_SAID ("Bare in winter"),
    BL_SAID ("Few evergreens, branches or standing stems.") },
  { "single", BL_SAID ("One alone of a small kind"), BL_SAID ("It will read as a spot.") },
  { "color-intent", BL_SAID ("Other colour than intended"),
    BL_SAID ("Its flowers leave the colours stated for this alternative.") },
};

gboolean
bl_book_rule_words (const BlBook *book, const char *rule, BlRuleWords *words)
{
  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    if (g_strcmp0 (rules[i].rule, rule) == 0)
      {
        *words = (BlRuleWords) { bl_say (book->language, rules[i].title),
                                 bl_say (book->language, rules[i].why) };
        return TRUE;
      }
  return FALSE;
}

static void
add_victim (const BlBook *book, GString *text, BlHarm harm, BlHarm level, const char *who)
{
  if (harm != level)
    return;
  g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", BL_W (book, who));
}

const char *
bl_book_harm_word (const BlBook *book, const BlPlant *plant)
{
  BlHarm worst = MAX (MAX (plant->harm_people, plant->harm_dogs),
                      MAX (plant->harm_cats, plant->harm_livestock));

  return worst == BL_HARM_SEVERE  ? BL_W (book, "severely poisonous")
         : worst == BL_HARM_TOXIC ? BL_W (book, "poisonous")
         : worst == BL_HARM_MILD  ? BL_W (book, "mild harm")
                                  : NULL;
}

/* "severely poisonous: people; poisonous: dogs, cats" */
char *
bl_book_harm (const BlBook *book, const BlPlant *plant)
{
  static const struct
  {
    BlHarm level;
    const char *word;
  } levels[] = { { BL_HARM_SEVERE, "severely poisonous" }, { BL_HARM_TOXIC, "poisonous" },
                 { BL_HARM_MILD, "mild harm" } };
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (levels); i++)
    {
      g_autoptr (GString) who = g_string_new (NULL);

      add_victim (book, who, plant->harm_people, levels[i].level, BL_SAID ("people"));
      add_victim (book, who, plant->harm_dogs, levels[i].level, "dogs");
      add_victim (book, who, plant->harm_cats, levels[i].level, "cats");
      add_victim (book, who, plant->harm_livestock, levels[i].level, BL_SAID ("livestock"));
      if (who->len > 0)
        g_string_append_printf (text, "%s%s: %s", text->len > 0 ? "; " : "",
                                BL_W (book, levels[i].word), who->str);
    }
  return g_string_free (text, FALSE);
}
