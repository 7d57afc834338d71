/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words in a stated language, looked up in the catalogues that are compiled in. */
#include "config.h"

#include "base/say.h"

#include <libintl.h>
#include <stdlib.h>
#include <string.h>

typedef struct
{
  const char *english, *words, *many;
} Entry;

typedef struct
{
  const char *language;
  const Entry *entries; /* by @english, bytewise */
  gsize n;
} Catalogue;

#include "say-table.h"

static int
by_english (gconstpointer key,
            gconstpointer entry)
{
  return strcmp (key, ((const Entry *) entry)->english);
}

static const Catalogue *
catalogue_of (const char *language)
{
  gsize length = language != NULL ? strcspn (language, "_-.@") : 0;

  for (gsize i = 0; i < G_N_ELEMENTS (catalogues); i++)
    if (length > 0 && strlen (catalogues[i].language) == length
        && strncmp (catalogues[i].language, language, length) == 0)
      return &catalogues[i];
  return NULL;
}

static const Entry *
find (const char *language,
      const char *english)
{
  const Catalogue *catalogue = catalogue_of (language);

  if (catalogue == NULL)
    return NULL;
  return bsearch (english, catalogue->entries, catalogue->n, sizeof (Entry), by_english);
}

static gboolean
is_by_gettext (const char *language)
{
  return g_strcmp0 (language, BL_SAY_BY_GETTEXT) == 0;
}

const char *
bl_say_window (void)
{
  /* The words for nothing are the head of the catalogue in use. */
  const char *head = dgettext (GETTEXT_PACKAGE, "");
  const char *name = strstr (head, "\nLanguage: ");
  const Catalogue *catalogue = NULL;

  if (head[0] == '\0')
    return "en";
  if (name != NULL)
    {
      g_autofree char *language = NULL;

      name += strlen ("\nLanguage: ");
      language = g_strndup (name, strcspn (name, "\n"));
      catalogue = catalogue_of (language);
    }
  return catalogue != NULL ? catalogue->language : BL_SAY_BY_GETTEXT;
}

const char *
bl_say (const char *language,
        const char *english)
{
  const Entry *entry;

  /* Nothing is the head of a catalogue. */
  if (english == NULL || english[0] == '\0')
    return english;
  if (is_by_gettext (language))
    return dgettext (GETTEXT_PACKAGE, english);
  entry = find (language, english);
  return entry != NULL ? entry->words : english;
}

const char *
bl_say_n (const char *language,
          const char *one,
          const char *many,
          guint64     n)
{
  const Entry *entry = find (language, one);

  if (is_by_gettext (language))
    return dngettext (GETTEXT_PACKAGE, one, many, (gulong) n);
  if (entry == NULL || entry->many == NULL)
    return n == 1 ? one : many;
  return n == 1 ? entry->words : entry->many;
}

char *
bl_say_join (const char *language,
             char       *text)
{
  const Catalogue *catalogue = catalogue_of (language);
  GString *joined;

  if (catalogue == NULL || strcmp (catalogue->language, "es") != 0)
    return text;
  joined = g_string_new (text);
  g_free (text);
  g_string_replace (joined, " de el ", " del ", 0);
  g_string_replace (joined, " a el ", " al ", 0);
  return g_string_free (joined, FALSE);
}
