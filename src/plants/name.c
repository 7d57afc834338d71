/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plant names written as the International Code of Nomenclature (Shenzhen Code, 2018) and the
 * International Code of Nomenclature for Cultivated Plants (9th ed., 2016) ask. */
#include "config.h"

#include "plants/plant.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

#define HYBRID "\303\227"          /* × U+00D7 */
#define OPEN_QUOTE "\342\200\230"  /* ‘ */
#define CLOSE_QUOTE "\342\200\231" /* ’ */

/* Cultivar names keep their straight apostrophe in records; in print it is the typographic one. */
static char *
cultivar_in_print (const char *cultivar)
{
  g_auto (GStrv) parts = g_strsplit (cultivar, "'", -1);

  return g_strjoinv (CLOSE_QUOTE, parts);
}

static char *
format (const BlPlant *plant, gboolean markup)
{
  const char *on = markup ? "<i>" : "";
  const char *off = markup ? "</i>" : "";
  GString *name = g_string_new (NULL);

  /* The hybrid sign and the rank are never in italics (ICN H.3, ICNCP; RHS style). */
  g_string_append_printf (name, "%s%s%s%s", plant->hybrid_genus ? HYBRID : "", on, plant->genus,
                          off);
  if (plant->species != NULL)
    g_string_append_printf (name, " %s%s%s%s", plant->hybrid_species ? HYBRID : "", on,
                            plant->species, off);
  if (plant->infra != NULL)
    g_string_append_printf (name, " %s %s%s%s", plant->rank, on, plant->infra, off);
  if (plant->cultivar != NULL)
    {
      g_autofree char *printed = cultivar_in_print (plant->cultivar);
      g_autofree char *escaped = markup ? g_markup_escape_text (printed, -1) : g_strdup (printed);

      g_string_append_printf (name, " " OPEN_QUOTE "%s" CLOSE_QUOTE, escaped);
    }
  return g_string_free (name, FALSE);
}

char *
bl_plant_name (const BlPlant *plant)
{
  return format (plant, FALSE);
}

char *
bl_plant_name_markup (const BlPlant *plant)
{
  return format (plant, TRUE);
}

static void
append_slug (GString *slug, const char *part)
{
  g_autofree char *ascii = part != NULL ? g_str_to_ascii (part, "C") : NULL;
  const char *c = NULL;

  if (ascii == NULL)
    return;
  if (slug->len > 0)
    g_string_append_c (slug, '-');
  for (c = ascii; *c != '\0'; c++)
    if (g_ascii_isalnum (*c))
      g_string_append_c (slug, g_ascii_tolower (*c));
    else if (*c != '\'' && *c != '.' && slug->str[slug->len - 1] != '-')
      g_string_append_c (slug, '-');
}

char *
bl_plant_name_slug (const BlPlant *plant)
{
  GString *slug = g_string_new (NULL);

  append_slug (slug, plant->hybrid_genus ? "x" : NULL);
  append_slug (slug, plant->genus);
  append_slug (slug, plant->hybrid_species ? "x" : NULL);
  append_slug (slug, plant->species);
  append_slug (slug, plant->infra != NULL ? plant->rank : NULL);
  append_slug (slug, plant->infra);
  append_slug (slug, plant->cultivar);
  return g_string_free (slug, FALSE);
}

/* A Latin word: letters of one case after the first, hyphens between letters. */
static gboolean
is_latin_word (const char *word, gboolean capital)
{
  const char *c = word;

  if (capital ? !g_ascii_isupper (word[0]) : !g_ascii_islower (word[0]))
    return FALSE;
  for (c = word + 1; *c != '\0'; c++)
    if (!g_ascii_islower (*c) && !(*c == '-' && g_ascii_islower (c[-1]) && g_ascii_islower (c[1])))
      return FALSE;
  return c - word >= 2;
}

static gboolean
is_minor_word (const char *word)
{
  static const char *const minor[]
    = { "of",  "the", "and", "a",   "an",  "in",  "to",   "for", "with", "on",
        "von", "van", "der", "den", "am",  "de",  "du",   "des", "la",   "le",
        "les", "d'",  "et",  "und", "aan", "het", "from", NULL };

  return g_strv_contains (minor, word);
}

static const char *
cultivar_fault (const char *cultivar)
{
  g_auto (GStrv) words = g_strsplit (cultivar, " ", -1);
  guint i = 0;

  if (strpbrk (cultivar, "\"`") != NULL || strstr (cultivar, OPEN_QUOTE) != NULL
      || cultivar[0] == '\'')
    return _("is written without quotes in a record");
  if (g_str_has_prefix (cultivar, "cv."))
    return _("takes no “cv.”");
  for (i = 0; words[i] != NULL; i++)
    {
      gunichar first = g_utf8_get_char_validated (words[i], -1);

      if (words[i][0] == '\0')
        return _("has a space too many");
      if (g_unichar_isupper (first) || g_unichar_isdigit (first)
          || (i > 0 && is_minor_word (words[i])))
        continue;
      return _("needs a capital at each main word");
    }
  return NULL;
}

gboolean
bl_plant_name_check (const BlPlant *plant, GError **error)
{
  static const char *const ranks[] = { "subsp.", "var.", "f.", NULL };
  const char *fault = plant->cultivar != NULL ? cultivar_fault (plant->cultivar) : NULL;

  if (plant->genus == NULL || !is_latin_word (plant->genus, TRUE))
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("key “genus”: “%s” is not a genus: one word with a capital first letter"),
                 plant->genus != NULL ? plant->genus : "");
  else if (plant->species != NULL && !is_latin_word (plant->species, FALSE))
    g_set_error (
      error, BL_ERROR, BL_ERROR_INPUT,
      _("key “species”: “%s” is not an epithet: one word in lower case, “x ” before a hybrid"),
      plant->species);
  else if (plant->species == NULL && plant->cultivar == NULL)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("key “species”: needed where there is no cultivar"));
  else if (plant->infra != NULL
           && (!is_latin_word (plant->infra, FALSE) || !g_strv_contains (ranks, plant->rank)))
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("key “infra”: “%s %s” is not subsp., var. or f. and an epithet in lower case"),
                 plant->rank, plant->infra);
  else if (fault != NULL)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "key “cultivar”: “%s” %s", plant->cultivar,
                 fault);
  else
    return TRUE;
  return FALSE;
}

const char *
bl_plant_common (const BlPlant *plant, const char *language)
{
  if (language != NULL && g_str_has_prefix (language, "es") && plant->common_es != NULL
      && plant->common_es[0] != '\0')
    return plant->common_es;
  return plant->common;
}
