/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a plant may do to people, animals and the country round. */
#include <math.h>
#include <string.h>

#include "fit/fit-private.h"

/* Thorny branches belong further from a walk than this, metres (common practice: 2 ft). */
#define THORN_CLEARANCE 0.6
/* California's ember zone reaches 5 ft from a building (PRC 4291; rules still being made). */
#define EMBER_ZONE 1.52

static const char *
harm_word (BlHarm harm)
{
  return harm == BL_HARM_SEVERE  ? BL_SAID ("severely poisonous")
         : harm == BL_HARM_TOXIC ? BL_SAID ("poisonous")
                                 : BL_SAID ("mildly harmful");
}

static void
check_poison (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("The plant's record, after the public poison lists; a plant missing "
                               "from a list is not shown to be safe");
  const BlPlant *p = s->plant;
  const char *note = p->harm_note != NULL ? bl_fit_say (context, p->harm_note) : "";
  BlHarm pets = MAX (p->harm_dogs, p->harm_cats);

  if (context->model->site.children && p->harm_people >= BL_HARM_TOXIC)
    bl_fit_add (context, s, "poison-people",
                p->harm_people == BL_HARM_SEVERE ? BL_SEVERITY_DO_NOT : BL_SEVERITY_CAUTION, source,
                "Reported as %s to people, and children use this place. %s",
                bl_fit_say (context, harm_word (p->harm_people)), note);
  if (context->model->site.pets && pets >= BL_HARM_TOXIC)
    bl_fit_add (context, s, "poison-pets",
                pets == BL_HARM_SEVERE ? BL_SEVERITY_DO_NOT : BL_SEVERITY_CAUTION, source,
                "Reported as %s to %s, and pets use this place. %s",
                bl_fit_say (context, harm_word (pets)),
                p->harm_dogs == p->harm_cats  ? bl_fit_say (context, "dogs and cats")
                : p->harm_dogs > p->harm_cats ? bl_fit_say (context, "dogs")
                                              : bl_fit_say (context, "cats"),
                note);
}

static void
check_thorns (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("Common practice: keep thorns two feet from where people pass");
  static const BlFeatureKind passed[] = { BL_FEATURE_WALK, BL_FEATURE_DRIVE, BL_FEATURE_DOOR };
  guint i = 0;

  for (i = 0; s->plant->thorns && i < G_N_ELEMENTS (passed); i++)
    {
      const BlFitFeature *walk = NULL;
      double d = bl_fit_nearest (context, s, passed[i], &walk) - 0.5 * s->plant->spread;
      g_autofree char *gap = bl_fit_length (context, MAX (d, 0.0));

      if (d < THORN_CLEARANCE)
        bl_fit_add (context, s, "thorns", BL_SEVERITY_CAUTION, source,
                    "Thorny, and at mature spread it ends %s from %s.", gap,
                    bl_fit_feature_name (context, walk));
    }
}

static gboolean
is_here (const char *where, const char *state)
{
  g_auto (GStrv) names = state != NULL ? g_strsplit_set (where, " ,/", -1) : NULL;
  guint i = 0;

  for (i = 0; names != NULL && names[i] != NULL; i++)
    if (g_ascii_strcasecmp (names[i], state) == 0)
      return TRUE;
  return FALSE;
}

static void
check_regulated (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("The plant's record; lists change: the state's current list decides");
  const char *state = context->model->site.state;
  const BlPlant *p = s->plant;
  g_autoptr (GString) elsewhere = g_string_new (NULL);
  guint i = 0;

  for (i = 0; i < p->n_regulations; i++)
    {
      const BlRegulation *r = &p->regulations[i];

      if (is_here (r->where, state))
        {
          bl_fit_add (
            context, s, "regulated", BL_SEVERITY_DO_NOT, source,
            "Reported as regulated in %s: %s (%s, as of %s). Check the current list before selling"
            " or planting it.",
            r->where, bl_fit_say (context, r->what), r->by, r->when);
          return;
        }
      g_string_append_printf (elsewhere, "%s%s (%s, %s)", elsewhere->len > 0 ? "; " : "", r->where,
                              bl_fit_say (context, r->what), r->when);
    }
  if (elsewhere->len > 0)
    bl_fit_add (context, s, "regulated", BL_SEVERITY_CAUTION, source,
                "Reported as regulated elsewhere: %s. Check your state's current list.",
                elsewhere->str);
  else if (p->invasive != NULL)
    bl_fit_add (context, s, "invasive", BL_SEVERITY_CAUTION, source,
                "Reported to spread: %s%s Check your state's list.",
                bl_fit_say (context, p->invasive), g_str_has_suffix (p->invasive, ".") ? "" : ".");
}

static void
check_fire (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("California PRC 4291 and AB 3074: ember-resistant zone of 5 ft, "
                               "rules still in the making; ask the fire authority");
  const BlFitFeature *wall = NULL;
  double d = 0;
  g_autofree char *away = NULL;

  if (!context->model->site.fire_zone && g_strcmp0 (context->model->site.state, "CA") != 0)
    return;
  d = bl_fit_nearest (context, s, BL_FEATURE_WALL, &wall) - 0.5 * s->plant->spread;
  /* Lower walls are not buildings. */
  if (d >= EMBER_ZONE || wall->feature->height < 2.2)
    return;
  away = bl_fit_length (context, MAX (d, 0.0));
  bl_fit_add (
    context, s, "fire-zone", BL_SEVERITY_CAUTION, source,
    "At mature spread it ends %s from %s; within 5 ft of a building plants that burn are to be"
    " left out in fire country.",
    away, bl_fit_feature_name (context, wall));
}

void
bl_fit_harm (BlFitContext *context, const BlFitSubject *subject)
{
  context->speaking = 0;
  check_poison (context, subject);
  check_thorns (context, subject);
  context->speaking = 0;
  check_regulated (context, subject);
  check_fire (context, subject);
}
