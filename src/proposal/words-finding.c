/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rules of fit found, with its numbers, in Spanish. */
#include <string.h>

#include "proposal/book.h"

/* A finding's sentence by the format it was written with; %1 … %9 stand for what was put in. An empty
 * one has nothing to say beyond the rule's own reason, or only words that exist in English. */
static const struct
{
  const char *format, *es;
} sentences[] = {
  { "Grows to %s at maturity and stands in %s, where plants stay under %s.",
    "De adulta llega a %1 y está en %2, donde las plantas no pasan de %3." },
  { "Can grow to %s and stands in %s, where plants stay under %s: it may need cutting.",
    "Puede llegar a %1 y está en %2, donde las plantas no pasan de %3: quizá haya que cortarla." },
  { "Grows to %s in %s; some codes stop at 24 in (60 cm).",
    "Llega a %1 en %2; algunas normas no pasan de 24 pulg (60 cm)." },
  { "At mature spread it ends %s from %s, which needs 36 in (91 cm) clear all round.",
    "De adulta acaba a %1 de %2, que necesita 36 pulg (91 cm) libres alrededor." },
  { "A tree %s from %s; many places ask for 10 to 15 ft.",
    "Un árbol a %1 de %2; en muchos lugares se piden de 10 a 15 pies (3 a 4.6 m)." },
  { "At mature spread it ends %s from %s%s; before its doors 10 to 12 ft stay clear, at its sides 2"
    " to 6 ft.",
    "De adulta acaba a %1 de %2%3; ante sus puertas quedan libres de 10 a 12 pies (3 a 3.7 m), a sus "
    "lados de 2 a 6 pies (0.6 a 1.8 m)." },
  { "At mature spread it ends %s from %s, which people must reach.",
    "De adulta acaba a %1 de %2, a donde hay que poder llegar." },
  { "A tree %s from %s: roots and repairs will meet.",
    "Un árbol a %1 de %2: raíces y reparaciones se encontrarán." },
  { "Its hole is %s from %s, within the zone that is dug by hand after the line has been marked;"
    " repairs will lift it.",
    "Su hoyo está a %1 de %2, en la zona que se cava a mano tras marcar la línea; una reparación la "
    "sacará." },
  { "Grows %s wide and stands %s from %s: it will press against it.",
    "Llega a %1 de ancho y está a %2 de %3: lo empujará." },
  { "At mature spread it ends %s from %s; %s stay clear where people come and go.",
    "De adulta acaba a %1 de %2; donde entra y sale gente quedan libres %3." },
  { "Its roots lift pavement, and it stands %s from %s.",
    "Sus raíces levantan el pavimento, y está a %1 de %2." },
  { "A tree whose roots may lift pavement, %s from %s.",
    "Un árbol cuyas raíces pueden levantar el pavimento, a %1 de %2." },
  { "At mature spread it reaches %s over %s.", "De adulta invade %1 de %2." },
  { "Hardy in zones %s to %s; this site is %s, %s too cold: winters here go down to about"
    " %s in an ordinary year, the plant bears about %s.",
    "Resiste en las zonas %1 a %2; este lugar es %3, %4 demasiado frío: en un año corriente el "
    "invierno baja aquí a unos %5, la planta soporta unos %6." },
  { "Grown in zones %s to %s; this site is %s, %s too warm: such plants fail in the heat or"
    " miss their winter.",
    "Se cultiva en las zonas %1 a %2; este lugar es %3, %4 demasiado cálido: tales plantas fallan "
    "con el calor o echan en falta su invierno." },
  { "Bears %s days a year above %s; this site has about %.0f: give it shade at noon"
    " and water, or another plant.",
    "Soporta %1 días al año por encima de %2; este lugar tiene unos %3: dele sombra a mediodía y "
    "agua, u otra planta." },
  { "Wants %s days a year above %s to ripen its wood and flower; this site has about"
    " %.0f.",
    "Pide %1 días al año por encima de %2 para madurar su madera y florecer; este lugar tiene unos "
    "%3." },
  { "Wants %s; this bed has about %.1f hours of direct sun a day in the growing season,"
    " which is %s: %.1f hours too %s.",
    "Pide %1; este arriate tiene unas %2 horas de sol directo al día en la temporada, que es %3: "
    "%4 horas de %5." },
  { "Wants %s ground; the ground here is %s%s.", "Pide suelo %1; el de aquí es %2%3." },
  { "Bears little drought even when established, and the ground here is dry.", "" },
  { "Does not like %s, which is the soil here.", "No le gusta el suelo %1, que es el de aquí." },
  { "Grows at pH %.1f to %.1f; the soil here is pH %.1f, %.1f too %s.",
    "Crece con pH de %1 a %2; el suelo de aquí tiene pH %3, %4 demasiado %5." },
  { "Planted %s apart; at maturity each is %s wide.",
    "Plantadas a %1; de adulta cada una tiene %2 de ancho." },
  { "Stands as near as %s to %s%s; at maturity the two need about %s from centre to centre.",
    "Llega a estar a %1 de %2%3; de adultas las dos piden unos %4 de centro a centro." },
  { "At maturity %s over the bed line, by up to %s.",
    "De adulta %1 el contorno del arriate, hasta %2." },
  { "%s tall, and as the photo or plan is looked at %s behind %s (%s).",
    "Mide %1, y según se mira la foto o el plano %2 detrás de %3 (%4)." },
  { "Climbs to %s, and no wall, fence, post or tree stands within %s (%u without): give it a"
    " trellis or another place.",
    "Trepa hasta %1, y no hay muro, valla, poste ni árbol a menos de %2 (%3 sin él): dele una "
    "celosía u otro sitio." },
  { "Comes up late (%s in zone 6) and leaves a gap in spring: %s no bulb or other early plant"
    " near by.",
    "Brota tarde (%1 en la zona 6) y deja un hueco en primavera: %2 bulbo ni otra planta temprana "
    "cerca." },
  { "Should not stand beside %s, which is planted %s away: trouble passes between the"
    " two.",
    "No debería estar junto a %1, que está plantada a %2: las dos se contagian." },
  { "Bears little salt in the soil and stands %s.", "Soporta poca sal en el suelo y está %1." },
  { "Stands %s, and how it bears salt in the soil is not known.",
    "Está %1, y no se sabe cómo soporta la sal en el suelo." },
  { "Bears some salt in the soil but stands only %s: flush the bed in spring.",
    "Soporta algo de sal en el suelo, pero está solo %1: lave el arriate en primavera." },
  { "Buds and leaves are burnt by salt spray, and it stands %s.",
    "El rocío salino quema sus yemas y hojas, y está %1." },
  { "Grows to %s in wood and stands where snow is piled (%s): ploughed snow breaks it.",
    "Su madera llega a %1 y está donde se apila la nieve (%2): la nieve apilada la rompe." },
  { "Breaks or lies down under snow and stands where it is piled (%s).",
    "Se rompe o se tumba bajo la nieve y está donde se apila (%1)." },
  { "Stands where snow is piled (%s); %s.", "Está donde se apila la nieve (%1); %2." },
  { "Grows to %s and bears little wind; this site is %s: %s.",
    "Llega a %1 y soporta poco viento; este lugar está %2: %3." },
  { "Grows to %s on a windy site, and how it bears wind is not known.",
    "Llega a %1 en un lugar ventoso, y no se sabe cómo soporta el viento." },
  { "Grows to %s on soft stems, and this site is windy: it needs staking.",
    "Llega a %1 con tallos blandos, y este lugar es ventoso: hay que entutorarla." },
  { "Deer come here and often browse it: it needs a fence or repellent all year.", "" },
  { "Reported to suffer from what walnut roots give off, and stands %s from the walnut.",
    "Consta que sufre por lo que sueltan las raíces del nogal, y está a %1 de él." },
  { "Reported as %s to people, and children use this place. %s",
    "Consta como %1 para las personas, y aquí hay niños." },
  { "Reported as %s to %s, and pets use this place. %s",
    "Consta como %1 para %2, y aquí hay mascotas." },
  { "Thorny, and at mature spread it ends %s from %s.",
    "Tiene espinas, y de adulta acaba a %1 de %2." },
  { "Reported as regulated in %s: %s (%s, as of %s). Check the current list before selling"
    " or planting it.",
    "Consta como regulada en %1 (%3, a fecha de %4). Consulte la lista vigente antes de venderla o "
    "plantarla." },
  { "Reported as regulated elsewhere: %s. Check your state's current list.", "" },
  { "Reported to spread: %s%s Check your state's list.", "" },
  { "At mature spread it ends %s from %s; within 5 ft of a building plants that burn are to be"
    " left out in fire country.",
    "De adulta acaba a %1 de %2; en zona de incendios se omiten las plantas que arden a menos de "
    "5 pies (1.5 m) de un edificio." },
  { "Nothing flowers in %s.", "Nada florece en %1." },
  { "“%s” has next to nothing in leaf in %s.", "«%1» no tiene casi hojas en %2." },
  { "“%s” is bare in winter: only %.0f %% of the planted ground shows leaves, branches or"
    " standing stems in the middle of it.",
    "«%1» queda desnudo en invierno: solo el %2 % del suelo plantado muestra hojas, ramas o tallos "
    "en pie a mitad de él." },
  { "One alone of its kind and only a small plant: it will read as a spot.", "" },
  { "Flowers %s; the intended colours are %s.", "" },
};

/* Words that the rules put in. */
static const struct
{
  const char *en, *es;
} words[] = {
  { "the wall", "el muro" }, { "the fence", "la valla" }, { "the post", "el poste" },
  { "the tree", "el árbol" }, { "the kerb", "el bordillo" }, { "the walk", "el paso" },
  { "the drive", "la entrada" }, { "the utility box", "la caja de servicios" },
  { "the transformer", "el transformador" }, { "the hydrant", "el hidrante" },
  { "the buried line", "la línea enterrada" }, { "the snow pile", "el montón de nieve" },
  { "the salted edge", "el borde salado" },
  { "the sight triangle", "el triángulo de visibilidad" }, { "the walnut", "el nogal" },
  { "the outline in front", "el contorno delantero" }, { "the stone", "la piedra" },
  { "the fixed point", "el punto fijo" }, { "the door", "la puerta" },
  { "half a zone", "media zona" }, { "a zone", "una zona" },
  { "one and a half zones", "zona y media" }, { "two zones", "dos zonas" },
  { "two and a half zones", "dos zonas y media" }, { "three zones", "tres zonas" },
  { "full sun", "pleno sol" }, { "part sun", "media sombra" }, { "shade", "sombra" },
  { "few", "menos" }, { "many", "más" }, { "alkaline", "alcalino" }, { "acid", "ácido" },
  { "dry", "seco" }, { "medium", "medio" }, { "wet", "húmedo" }, { "sand", "arenoso" },
  { "loam", "franco" }, { "clay", "arcilloso" }, { "windy", "muy expuesto al viento" },
  { "open to it", "abierto a él" },
  { "leaves scorch and twigs die back", "las hojas se queman y las ramillas se secan" },
  { "stems lodge and leaves tear", "los tallos se tumban y las hojas se rasgan" },
  { "severely poisonous", "muy venenosa" }, { "poisonous", "venenosa" },
  { "mildly harmful", "algo dañina" }, { "dogs and cats", "perros y gatos" }, { "dogs", "perros" },
  { "cats", "gatos" }, { "on a salted site", "en un lugar salado" },
  { " and is thorny", " y tiene espinas" }, { " and climbs", " y trepa" },
  { " (in several places)", " (en varios sitios)" },
  { ": plan on watering after the first years too",
    ": cuente con regar también tras los primeros años" },
  { "how it bears the load is not known", "no se sabe cómo soporta el peso" },
  { "expect broken stems in some winters", "algunos inviernos romperán tallos" },
  { "it reaches", "sobrepasa" }, { "it stands", "está" }, { "it has", "no tiene" },
  { "The bed", "El arriate" },
};

/* Words around a figure. */
static const struct
{
  const char *pattern, *es;
} phrases[] = {
  { "^(.+) from the salted edge$", "a \\1 del borde salado" },
  { "^([0-9.]+) in$", "\\1 pulg" },
  { "^up to ([0-9]+)$", "hasta \\1" },
  { "^([0-9]+) or more$", "\\1 o más" },
  { "^([0-9.]+) zones$", "\\1 zonas" },
  { "^([0-9]+) of ([0-9]+) reach$", "\\1 de \\2 sobrepasan" },
  { "^([0-9]+) of ([0-9]+) stand$", "\\1 de \\2 están" },
  { "^([0-9]+) of ([0-9]+) have$", "\\1 de \\2 no tienen" },
};

static char *
word_in_spanish (const char *english)
{
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strcmp (words[i].en, english) == 0)
      return g_strdup (words[i].es);
  for (int m = 1; m <= 12; m++)
    if (strcmp (bl_month_name ("en", m, FALSE), english) == 0)
      return g_strdup (bl_month_name ("es", m, FALSE));
  for (guint i = 0; i < G_N_ELEMENTS (phrases); i++)
    if (g_regex_match_simple (phrases[i].pattern, english, 0, 0))
      {
        g_autoptr (GRegex) regex = g_regex_new (phrases[i].pattern, 0, 0, NULL);

        return g_regex_replace (regex, english, -1, 0, phrases[i].es, 0, NULL);
      }
  return NULL;
}

/* Lists are told word by word; what is in no list is a name or a figure and stays. */
static char *
argument_in_spanish (const char *english)
{
  static const char *const joints[] = { ", ", " or " }, *const es[] = { ", ", " o " };
  char *whole = word_in_spanish (english);

  for (guint j = 0; whole == NULL && j < G_N_ELEMENTS (joints); j++)
    {
      g_auto (GStrv) parts = g_strsplit (english, joints[j], -1);
      gboolean all = parts[0] != NULL && parts[1] != NULL;

      for (guint i = 0; all && parts[i] != NULL; i++)
        {
          char *told = word_in_spanish (parts[i]);

          all = told != NULL;
          if (!all)
            break;
          g_free (parts[i]);
          parts[i] = told;
        }
      if (all)
        whole = g_strjoinv (es[j], parts);
    }
  return whole != NULL ? whole : g_strdup (english);
}

static const char *
template_of (const char *format)
{
  for (guint i = 0; i < G_N_ELEMENTS (sentences); i++)
    if (strcmp (sentences[i].format, format) == 0)
      return sentences[i].es;
  return NULL;
}

const char *
bl_finding_template (const char *format)
{
  return template_of (format);
}

/* NULL where the rule's reason says as much. */
static char *
tell_in_spanish (const BlFinding *finding)
{
  const char *es = template_of (finding->format);
  guint n = g_strv_length (finding->arguments);
  GString *text;

  if (es == NULL || *es == '\0')
    return NULL;
  text = g_string_new (NULL);
  for (const char *p = es; *p != '\0'; p++)
    if (*p == '%' && g_ascii_isdigit (p[1]) && (guint) (p[1] - '0') <= n)
      {
        g_autofree char *told = argument_in_spanish (finding->arguments[*++p - '1']);

        g_string_append (text, told);
      }
    else
      g_string_append_c (text, *p);
  g_string_replace (text, " de el ", " del ", 0);
  g_string_replace (text, " a el ", " al ", 0);
  return g_string_free (text, FALSE);
}

char *
bl_book_finding (const BlBook *book, const BlFinding *finding)
{
  BlRuleWords rule;
  char *told;

  if (g_strcmp0 (book->language, "es") != 0)
    return g_strdup (finding->sentence);
  told = tell_in_spanish (finding);
  if (told == NULL && bl_book_rule_words (book, finding->rule, &rule))
    told = g_strdup (rule.why);
  return told != NULL ? told : g_strdup (finding->sentence);
}
