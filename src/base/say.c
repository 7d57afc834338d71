/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words in a stated language, looked up in the catalogues that are compiled in. */
#include "base/say.h"

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

static const Entry *
find (const char *language,
      const char *english)
{
  gsize length = language != NULL ? strcspn (language, "_-.@") : 0;

  for (gsize i = 0; i < G_N_ELEMENTS (catalogues); i++)
    if (length > 0 && strlen (catalogues[i].language) == length
        && strncmp (catalogues[i].language, language, length) == 0)
      return bsearch (english, catalogues[i].entries, catalogues[i].n, sizeof (Entry), by_english);
  return NULL;
}

const char *
bl_say (const char *language,
        const char *english)
{
  const Entry *entry = find (language, english);

  return entry != NULL ? entry->words : english;
}

const char *
bl_say_n (const char *language,
          const char *one,
          const char *many,
          guint64     n)
{
  const Entry *entry = find (language, one);

  if (entry == NULL || entry->many == NULL)
    return n == 1 ? one : many;
  return n == 1 ? entry->words : entry->many;
}
