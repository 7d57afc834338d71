/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The titles of tasks, and how papers head the work. */
#include <string.h>

#include "care/care-private.h"

/* Where a heading says more than how a title begins. */
static const struct
{
  const char *verb, *work;
} works[] = {
  { "Renew", BL_SAID ("Renew, oldest stems out") },
  { "Comb", BL_SAID ("Comb out") },
  { "Shear", BL_SAID ("Shear after the first flush") },
  { "Plant bulbs:", BL_SAID ("Plant bulbs") },
  { "Remove yellow leaves of", BL_SAID ("Remove yellow leaves") },
  { "Cover", BL_SAID ("Cover for winter") },
  { "Guard", BL_SAID ("Guard against rabbits") },
  { "Top up mulch:", BL_SAID ("Top up mulch") },
  { "Cut the edge:", BL_SAID ("Cut the edge") },
  { "Spring clean-up:", BL_SAID ("Spring clean-up") },
  { "Flush salt:", BL_SAID ("Flush salt") },
  { "Feed:", BL_SAID ("Feed") },
  { "Autumn round:", BL_SAID ("Autumn round") },
};

const char *
bl_care_work (const char *verb)
{
  for (guint i = 0; i < G_N_ELEMENTS (works); i++)
    if (strcmp (works[i].verb, verb) == 0)
      return works[i].work;
  return verb;
}

/* What its owner calls it, with the cultivar where there may be several. */
static char *
name_of (const BlPlant *plant, const char *language)
{
  const char *common = bl_plant_common (plant, language);

  if (plant->cultivar == NULL || strstr (common, plant->cultivar) != NULL)
    return g_strdup (common);
  return g_strdup_printf ("%s ‘%s’", common, plant->cultivar);
}

char *
bl_care_title (const BlCareContext *context, const BlCareDraft *draft, const char *object)
{
  const char *verb = bl_care_say (context, draft->verb);
  g_autofree char *title = NULL;
  g_autoptr (GString) about = g_string_new (object);

  if (object == NULL && draft->about == NULL)
    return g_strdup (verb);
  if (object == NULL)
    {
      g_autofree char *name = name_of (draft->about->plant, context->language);

      g_string_append_printf (about, "%s%s (%u)", name, draft->low != NULL ? draft->low : "",
                              draft->count);
    }
  /* Translators: what is done, to what: "Cut back catmint (11)". */
  title = g_strdup_printf (bl_care_say (context, "%s %s"), verb, about->str);
  return g_strconcat (title, draft->salt ? bl_care_say (context, ", salt and snow side") : "", NULL);
}
