/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Care tasks taken apart and said in the papers' language. */
#include <stdlib.h>
#include <string.h>

#include "proposal/book.h"

/* How a title of the calendar begins; what follows names plants or a bed. */
static const struct
{
  const char *title, *en, *es;
} verbs[] = {
  { "Cut back", "Cut back", "Cortar a ras" },
  { "Prune lightly", "Prune lightly", "Podar ligeramente" },
  { "Prune and tie", "Prune and tie", "Podar y atar" },
  { "Prune", "Prune", "Podar" },
  { "Renew", "Renew, oldest stems out", "Rejuvenecer, quitar los tallos viejos" },
  { "Shape", "Shape", "Dar forma" },
  { "Tidy", "Tidy", "Limpiar" },
  { "Comb", "Comb out", "Peinar las hojas secas" },
  { "Shear", "Shear after the first flush", "Recortar tras la primera flor" },
  { "Plant bulbs:", "Plant bulbs", "Plantar bulbos" },
  { "Remove yellow leaves of", "Remove yellow leaves", "Quitar hojas amarillas" },
  { "Plant", "Plant", "Plantar" },
  { "Deadhead", "Deadhead", "Quitar flores marchitas" },
  { "Remove", "Remove", "Retirar" },
  { "Divide", "Divide", "Dividir" },
  { "Cover", "Cover for winter", "Cubrir en invierno" },
  { "Guard", "Guard against rabbits", "Proteger de los conejos" },
  { "Stake", "Stake", "Entutorar" },
  { "Weed", "Weed", "Desherbar" },
  { "Top up mulch:", "Top up mulch", "Reponer el acolchado" },
  { "Cut the edge:", "Cut the edge", "Recortar el borde" },
  { "Spring clean-up:", "Spring clean-up", "Limpieza de primavera" },
  { "Flush salt:", "Flush salt", "Lavar la sal" },
  { "Feed:", "Feed", "Abonar" },
  { "Autumn round:", "Autumn round", "Repaso de otoño" },
  { "Spray deer repellent", "Spray deer repellent", "Aplicar repelente de ciervos" },
  { "Water new shrubs and trees daily", "Water new shrubs and trees daily",
    "Regar a diario arbustos y árboles nuevos" },
  { "Water new shrubs and trees every third day", "Water new shrubs and trees every third day",
    "Regar cada tres días arbustos y árboles nuevos" },
  { "Water new shrubs and trees weekly", "Water new shrubs and trees weekly",
    "Regar cada semana arbustos y árboles nuevos" },
  { "Water young shrubs and trees weekly", "Water young shrubs and trees weekly",
    "Regar cada semana arbustos y árboles jóvenes" },
  { "Water young trees weekly", "Water young trees weekly", "Regar cada semana árboles jóvenes" },
  { "Water new perennials every second day", "Water new perennials every second day",
    "Regar cada dos días las vivaces nuevas" },
  { "Water new perennials every third day (sand)", "Water new perennials every third day (sand)",
    "Regar cada tres días las vivaces nuevas (arena)" },
  { "Water new perennials weekly", "Water new perennials weekly",
    "Regar cada semana las vivaces nuevas" },
  { "Look at the perennials, water in dry weeks", "Look at the perennials, water in dry weeks",
    "Vigilar las vivaces, regar en semanas secas" },
  { "Water in drought only", "Water in drought only", "Regar solo en sequía" },
  { "Water the annuals weekly", "Water the annuals weekly", "Regar cada semana las anuales" },
};

/* How much and how: the sentences of watering, which the owner's sheet repeats. */
static const struct
{
  const char *en, *es;
} hows[] = {
  { "About an inch (25 mm) a week, rain included; in the morning, at the ground.",
    "Unos 25 mm (1 pulgada) por semana, lluvia incluida; por la mañana, a ras de suelo." },
  { "Shrubs a quarter to a third of the container's volume, trees 1 to 1.5 gallons an inch of "
    "trunk, less when it has rained.",
    "Arbustos: de un cuarto a un tercio del volumen del contenedor; árboles: de 1 a 1,5 galones "
    "por "
    "pulgada de tronco; menos si ha llovido." },
  { "In the second year only where they flag; from the third year mostly leave them.",
    "El segundo año solo donde decaigan; desde el tercero, dejarlas casi siempre." },
  { "After three weeks without rain, one slow soaking.",
    "Tras tres semanas sin lluvia, un riego lento y profundo." },
  { "Every two to three weeks while the plants are small, before the weeds seed.",
    "Cada dos o tres semanas mientras las plantas son pequeñas, antes de que la hierba grane." },
  { "They are planted anew each spring and root only shallowly.",
    "Se plantan cada primavera y enraízan a poca profundidad." },
};

const char *
bl_book_how (const BlBook *book, const char *english)
{
  for (guint i = 0; i < G_N_ELEMENTS (hows); i++)
    if (g_strcmp0 (book->language, "es") == 0 && g_strcmp0 (hows[i].en, english) == 0)
      return hows[i].es;
  return english;
}

/* The longest beginning in the table that @title has, and the rest of it. */
static int
find_verb (const char *title, const char **rest)
{
  int best = -1;
  gsize longest = 0;

  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      gsize n = strlen (verbs[i].title);

      if (n > longest && g_str_has_prefix (title, verbs[i].title)
          && (title[n] == '\0' || title[n] == ' '))
        {
          longest = n;
          best = (int) i;
        }
    }
  *rest = title + longest;
  while (**rest == ' ')
    (*rest)++;
  return best;
}

/* " to 3.9 in", as the calendar says how low. */
static char *
low_of (const BlBook *book, const char *rest)
{
  const char *to = strstr (rest, " to ");
  char *end;
  g_autofree char *text = NULL;

  if (to == NULL || !g_ascii_isdigit (to[4]))
    return g_strdup ("");
  end = strstr (to, " (");
  text = end != NULL ? g_strndup (to + 4, (gsize) (end - to - 4)) : g_strdup (to + 4);
  return g_strdup_printf (g_strcmp0 (book->language, "es") == 0 ? " a %s" : " to %s", text);
}

static guint
count_of (const char *rest)
{
  const char *open = strchr (rest, '(');

  while (open != NULL && !g_ascii_isdigit (open[1]))
    open = strchr (open + 1, '(');
  return open != NULL ? (guint) strtoul (open + 1, NULL, 10) : 0;
}

/* "nodding onion (18)", with its cultivar where the name has one. */
static char *
object_of (const BlBook *book, const BlTask *task, const char *rest)
{
  const BlPlant *plant = task->slug != NULL ? bl_model_plant (book->model, task->slug) : NULL;
  const BlBed *bed = task->bed_id != 0 ? bl_model_bed (book->model, task->bed_id) : NULL;
  guint count = count_of (rest);
  const char *common;
  g_autofree char *low = low_of (book, rest);
  GString *text;

  if (plant == NULL)
    return book->model->beds->len > 1 && bed != NULL ? g_strdup (bed->name) : g_strdup ("");
  common = bl_book_common (book, plant);
  text = g_string_new (common);
  if (plant->cultivar != NULL && strstr (common, plant->cultivar) == NULL)
    g_string_append_printf (text, " ‘%s’", plant->cultivar);
  g_string_append (text, low);
  if (count > 0)
    g_string_append_printf (text, " (%u)", count);
  return g_string_free (text, FALSE);
}

void
bl_book_task_words (
    const BlBook *book, const BlTask *task, char **verb, char **object, gboolean *salt)
{
  const char *rest;
  int found = find_verb (task->title, &rest);

  *salt = strstr (task->title, "salt and snow") != NULL;
  if (found < 0)
    {
      *verb = g_strdup (task->title);
      *object = g_strdup ("");
      return;
    }
  *verb = g_strdup (g_strcmp0 (book->language, "es") == 0 ? verbs[found].es : verbs[found].en);
  *object = object_of (book, task, rest);
}
