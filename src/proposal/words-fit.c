/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rules of fit and reported harm in the papers' language. */
#include <string.h>

#include "proposal/book.h"

static const struct
{
  const char *rule, *title, *why, *title_es, *why_es;
} rules[] = {
  { "zone", "Not hardy here", "Winters here are colder than these are grown in.",
    "No resiste el frío de aquí", "Los inviernos son más fríos que donde se cultivan." },
  { "zone-warm", "Too warm here", "Grown in colder places; they fail in the heat.",
    "Demasiado calor aquí", "Se cultivan en lugares más fríos; fallan con el calor." },
  { "heat", "More hot days than they bear",
    "This site has more days above 30 °C (86 °F) than they stand without shade and water.",
    "Más días de calor de los que soportan",
    "Aquí hay más días por encima de 30 °C de los que aguantan sin sombra ni riego." },
  { "heat-short", "Fewer hot days than they want",
    "They need more summer heat to ripen and flower.", "Menos días de calor de los que piden",
    "Necesitan más calor de verano para madurar y florecer." },
  { "wind", "Wind", "The site is windier than they bear, or they need staking in it.", "Viento",
    "El lugar es más ventoso de lo que soportan, o necesitan tutor." },
  { "light", "Other light wanted", "The bed has more or less sun than they want.", "Piden otra luz",
    "El arriate tiene más o menos sol del que piden." },
  { "moisture", "Other moisture wanted", "The ground is wetter or drier than they want.",
    "Piden otra humedad", "El suelo es más húmedo o más seco de lo que piden." },
  { "drought", "Little drought borne",
    "The ground is dry; they need watering even when established.", "Soportan poca sequía",
    "El suelo es seco; necesitan riego aun establecidas." },
  { "soil", "Not their soil", "They do not like the soil that is here.", "No es su suelo",
    "No les gusta el suelo que hay aquí." },
  { "ph", "Soil too alkaline or too acid", "The soil's pH lies outside their range; test it first.",
    "Suelo demasiado alcalino o ácido",
    "El pH del suelo queda fuera de su intervalo; analícelo antes." },
  { "too-close", "Planted close", "At maturity they need more room than they have.",
    "Plantadas muy juntas", "De adultas necesitan más sitio del que tienen." },
  { "neighbour", "Bad neighbours", "Trouble such as rust passes between the two kinds.",
    "Malas vecinas", "Problemas como la roya pasan de una a otra." },
  { "door", "Close to a door", "Clear ground stays where people come and go.",
    "Cerca de una puerta", "Por donde se entra y se sale queda suelo libre." },
  { "over-bed-line", "Over the bed line", "At maturity they lean over the bed line.",
    "Sobre el contorno", "De adultas sobrepasan el contorno del arriate." },
  { "hidden", "Hidden behind taller plants",
    "Seen from the front, taller plants stand before them.", "Ocultas tras plantas más altas",
    "Vistas de frente, las tapan plantas más altas." },
  { "no-support", "Climber without support", "No wall, fence, post or trellis stands near.",
    "Trepadora sin soporte", "No hay muro, valla, poste ni celosía cerca." },
  { "late-emerger", "Comes up late", "Leaves a gap in spring; bulbs beside it would fill it.",
    "Brota tarde", "Deja un hueco en primavera; bulbos al lado lo llenarían." },
  { "sight-triangle", "Tall for a sight triangle",
    "Drivers look over this ground; plants stay low here.",
    "Altas para un triángulo de visibilidad",
    "Los conductores miran por aquí; las plantas se quedan bajas." },
  { "hydrant", "Close to a hydrant", "Hydrants need a clear space all round.",
    "Cerca de un hidrante", "Los hidrantes necesitan espacio libre alrededor." },
  { "transformer", "Close to a transformer", "Its doors and sides stay clear.",
    "Cerca de un transformador", "Sus puertas y lados deben quedar libres." },
  { "utility-box", "Close to a utility box", "People must be able to reach it.",
    "Cerca de una caja de servicios", "Hay que poder llegar a ella." },
  { "buried-line", "Close to a buried line", "Roots, holes and repairs will meet.",
    "Cerca de una línea enterrada", "Raíces, hoyos y reparaciones se encontrarán." },
  { "wall", "Close to a wall", "At mature spread it presses against it.", "Cerca de un muro",
    "De adulta lo empuja." },
  { "roots", "Roots that lift pavement", "It stands close to paving.",
    "Raíces que levantan el pavimento", "Está cerca del pavimento." },
  { "overhang", "Over the walk", "At mature spread it reaches over where people pass.",
    "Sobre el paso", "De adulta invade por donde pasa la gente." },
  { "salt-soil", "Salt in the soil",
    "Close to the salted edge, and they bear little or an unknown amount of it.", "Sal en el suelo",
    "Cerca del borde salado, y soportan poca o no se sabe cuánta." },
  { "salt-spray", "Salt spray", "Buds and leaves are burnt by spray from the road.", "Rocío salino",
    "El rocío de la calzada quema yemas y hojas." },
  { "snow-pile", "Where snow is piled", "The weight of ploughed snow breaks stems.",
    "Donde se apila la nieve", "El peso de la nieve apilada rompe los tallos." },
  { "deer", "Browsed by deer", "Deer come here and often eat it; fence or repellent all year.",
    "La comen los ciervos", "Hay ciervos y suelen comerla; valla o repelente todo el año." },
  { "juglone", "Near a walnut", "Reported to suffer from what walnut roots give off.",
    "Cerca de un nogal", "Consta que sufre por lo que sueltan sus raíces." },
  { "poison-people", "Reported poisonous", "Children use this place.", "Consta como venenosa",
    "Aquí hay niños." },
  { "poison-pets", "Reported poisonous to pets", "Pets use this place.",
    "Consta como venenosa para mascotas", "Aquí hay mascotas." },
  { "thorns", "Thorns beside the walk", "At mature spread they end close to where people pass.",
    "Espinas junto al paso", "De adultas acaban cerca de donde pasa la gente." },
  { "regulated", "Reported as regulated",
    "Check the state's current list before buying or planting.", "Consta como regulada",
    "Consulte la lista vigente del estado antes de comprar o plantar." },
  { "invasive", "Reported to spread into wild land", "Check the state's current list.",
    "Consta que se asilvestra", "Consulte la lista vigente del estado." },
  { "fire-zone", "Close to a building in fire country",
    "Plants that burn are left out within 5 ft.", "Cerca de un edificio en zona de incendios",
    "A menos de 1,5 m se omiten plantas que arden." },
  { "no-flower", "A month without flowers", "Nothing flowers in part of the growing season.",
    "Un mes sin flores", "Nada florece en parte de la temporada." },
  { "no-leaf", "A month without leaves", "The ground is bare in part of the growing season.",
    "Un mes sin hojas", "El suelo queda desnudo en parte de la temporada." },
  { "bare-winter", "Bare in winter", "Few evergreens, branches or standing stems.",
    "Desnudo en invierno", "Pocas perennes, ramas o tallos en pie." },
  { "single", "One alone of a small kind", "It will read as a spot.",
    "Una sola de una especie pequeña", "Se verá como una mancha." },
  { "color-intent", "Other colour than intended",
    "Its flowers leave the colours stated for this alternative.", "Color distinto del previsto",
    "Sus flores se salen de los colores previstos." },
};

gboolean
bl_book_rule_words (const BlBook *book, const char *rule, BlRuleWords *words)
{
  gboolean spanish = g_strcmp0 (book->language, "es") == 0;

  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    if (g_strcmp0 (rules[i].rule, rule) == 0)
      {
        *words = (BlRuleWords) { spanish ? rules[i].title_es : rules[i].title,
                                 spanish ? rules[i].why_es : rules[i].why };
        return TRUE;
      }
  return FALSE;
}

/* Publications keep their names; only what the program itself says is translated. */
char *
bl_book_source (const BlBook *book, const char *source)
{
  static const struct
  {
    const char *prefix, *es;
  } known[] = {
    { "Common practice", "práctica común" },
    { "The plant's record", "ficha de la planta" },
    { "Mature spread", "ficha de la planta" },
    { "The colours stated", "colores previstos de la alternativa" },
    { "Local codes", "normas locales; pregunte a la autoridad vial" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (known) && g_strcmp0 (book->language, "es") == 0; i++)
    if (source != NULL && g_str_has_prefix (source, known[i].prefix))
      return g_strdup (known[i].es);
  return g_strdup (source != NULL ? source : "");
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

      add_victim (book, who, plant->harm_people, levels[i].level, "people");
      add_victim (book, who, plant->harm_dogs, levels[i].level, "dogs");
      add_victim (book, who, plant->harm_cats, levels[i].level, "cats");
      add_victim (book, who, plant->harm_livestock, levels[i].level, "livestock");
      if (who->len > 0)
        g_string_append_printf (text, "%s%s: %s", text->len > 0 ? "; " : "",
                                BL_W (book, levels[i].word), who->str);
    }
  return g_string_free (text, FALSE);
}
