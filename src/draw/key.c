/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Key letters of the plants on a plan, by a stated rule. */
#include "draw/key.h"

#include <string.h>

static gunichar
initial (const char *word)
{
  /* A hybrid sign is no letter. */
  while (word != NULL && *word != '\0')
    {
      gunichar c = g_utf8_get_char (word);

      if (g_unichar_isalpha (c) && !(c == 'x' && word[1] == ' '))
        return g_unichar_toupper (c);
      word = g_utf8_next_char (word);
    }
  return 0;
}

static char *
letters (const BlPlant *plant)
{
  GString *s = g_string_new (NULL);
  gunichar a = initial (plant->genus), b = initial (plant->species != NULL &&
                                                    *plant->species ? plant->species
                                                      : plant->cultivar);

  g_string_append_unichar (s, a ? a : 'X');
  if (b)
    g_string_append_unichar (s, b);
  return g_string_free (s, FALSE);
}

char *
bl_layout_key (const BlLayout *layout, const char *slug)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  const BlPlant *plant = bl_model_plant (layout->model, slug);
  g_autofree char *own = NULL;
  guint same = 0, before = 0;

  if (plant == NULL)
    return g_strdup ("?");
  own = letters (plant);
  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlant *other = g_array_index (layout->placed, BlPlaced, i).plant;
      g_autofree char *theirs = NULL;

      if (!g_hash_table_add (seen, other->slug))
        continue;
      theirs = letters (other);
      if (strcmp (own, theirs) == 0 && strcmp (other->slug, slug) != 0)
        {
          same++;
          before += strcmp (other->slug, slug) < 0;
        }
    }
  return same ? g_strdup_printf ("%s%u", own, before + 1) : g_steal_pointer (&own);
}
