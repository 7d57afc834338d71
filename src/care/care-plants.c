/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tasks that follow from each plant's care group.
 *
 * The groups and their timing: New York Botanical Garden, Iowa State, Kansas State and NC State
 * extension, Nebraska Extension, Chicago Botanic Garden, University of Minnesota; where these are
 * silent, common practice. Every date hangs on the last spring frost, the first autumn frost or the
 * plant's own flowers, none on a month. */
#include <math.h>
#include <string.h>

#include "care/care-private.h"

typedef struct
{
  BlCareContext *context;
  const BlCareSeason *season;
  const BlCareKind *kind;
  char *name;
} Turn;

static BlDay
weeks (BlDay day, double n)
{
  return (BlDay) ((double) day + lround (n * BL_WEEK));
}

static char *
short_length (const Turn *t, double metres)
{
  return t->context->model->units == BL_UNITS_FEET
           ? g_strdup_printf ("%.0f in", metres / BL_METRES_PER_INCH)
           : g_strdup_printf ("%.0f cm", 5.0 * round (metres * 20.0));
}

/* What its owner calls it, with the cultivar where there may be several. */
static char *
name_of (const BlPlant *plant)
{
  if (plant->cultivar == NULL || strstr (plant->common, plant->cultivar) != NULL)
    return g_strdup (plant->common);
  return g_strdup_printf ("%s \342\200\230%s\342\200\231", plant->common, plant->cultivar);
}

/* The plant's own rule is added where it is cut. */
static char *
with_note (const BlPlant *plant, const char *kind, const char *what)
{
  static const char *const cutting[]
    = { "prune", "prune-vine", "cut-back", "shear", "tidy", "bulb-leaves", NULL };

  if (plant->care_note == NULL || !g_strv_contains (cutting, kind))
    return g_strdup (what);
  return g_strdup_printf ("%s %s", what, plant->care_note);
}

static void
add_some (const Turn *t, const char *kind, const char *detail, guint count, BlDay from, BlDay to,
          const char *rate, const char *verb, const char *tail, const char *what)
{
  BlCareDraft draft = { .kind = kind, .about = t->kind, .detail = detail, .from = from, .to = to };

  draft.rate = rate;
  draft.units = count;
  bl_care_add_take (t->context, t->season, &draft,
                    g_strdup_printf ("%s %s (%u)%s", verb, t->name, count, tail),
                    with_note (t->kind->plant, kind, what));
}

static void
add (const Turn *t, const char *kind, BlDay from, BlDay to, const char *rate, const char *verb,
     const char *what)
{
  add_some (t, kind, NULL, t->kind->count, from, to, rate, verb, "", what);
}

/* Dead tops come off at the end of winter, but in autumn where the plough and the salt come. */
static void
cut_back (const Turn *t, double from_weeks, double to_weeks, const char *rate, const char *what)
{
  const BlCareSeason *s = t->season;
  guint exposed = t->kind->exposed, rest = t->kind->count - t->kind->exposed;

  if (exposed > 0)
    {
      g_autofree char *because
        = g_strconcat (what, " Here in autumn instead of spring: salted snow is piled on it.",
                       NULL);

      add_some (t, "cut-back", "edge", exposed, s->first_frost, weeks (s->first_frost, 5), rate,
                "Cut back", ", salt and snow side", because);
    }
  if (rest > 0 && s->number >= 1)
    add_some (t, "cut-back", NULL, rest, weeks (s->last_frost, from_weeks),
              weeks (s->last_frost, to_weeks), rate, "Cut back", "", what);
}

static void
after_bloom (const Turn *t, const char *kind, double last_weeks, int from_year, const char *rate,
             const char *verb, const char *what)
{
  BlDay first = 0, last = 0, end = 0;

  if (t->season->number < from_year
      || !bl_care_bloom (t->context, t->season, t->kind->plant, &first, &last))
    return;
  /* Early July is the end: after it the buds of next year are cut away. */
  end = MIN (weeks (last, last_weeks), bl_care_moment (t->season, 7.2));
  if (strcmp (kind, "prune") != 0)
    end = weeks (last, last_weeks);
  end = MAX (end, weeks (last, 2));
  add (t, kind, last + 1, end, rate, verb, what);
}

static void
prune_shrub (const Turn *t)
{
  const BlCareSeason *s = t->season;
  BlDay early = weeks (s->last_frost, -8), late = weeks (s->last_frost, -2);

  switch (t->kind->plant->care)
    {
    case BL_CARE_P1:
      after_bloom (t, "prune", 6, 2, "care-prune", "Prune",
                   "Directly after flowering: it flowers on last year's wood, and later cutting "
                   "removes next year's buds.");
      break;
    case BL_CARE_P2:
      if (s->number >= 1)
        add (t, "prune", early, late, "care-prune", "Prune",
             "Late winter, before the leaves: it flowers on new wood. Take out weak and crossing "
             "stems.");
      break;
    case BL_CARE_P3:
      if (s->number >= 3)
        add (t, "prune", early, late, "care-prune", "Renew",
             "Late winter: remove about a third of the oldest stems at the ground.");
      break;
    case BL_CARE_P4:
      after_bloom (t, "prune", 6, 2, "care-prune", "Prune lightly",
                   "Lightly, after flowering: some fruit is lost either way.");
      break;
    case BL_CARE_P5:
      if (s->number >= 2)
        add (t, "prune", weeks (s->last_frost, -6), s->last_frost, "care-prune", "Shape",
             "Before the new growth, never into bare wood; no cutting in the last eight weeks "
             "before the first frost.");
      break;
    case BL_CARE_P6:
      if (s->number >= 1)
        add (t, "tidy", weeks (s->last_frost, -6), weeks (s->last_frost, -2), "care-tidy", "Tidy",
             "Remove dead leaves and old flower stalks only; it is not cut back.");
      break;
    case BL_CARE_G1:
    case BL_CARE_G2:
    case BL_CARE_H1:
    case BL_CARE_H2:
    case BL_CARE_H3:
    case BL_CARE_H4:
    case BL_CARE_B1:
    case BL_CARE_V1:
    case BL_CARE_V2:
    case BL_CARE_A:
    case BL_CARE_N:
      break;
    }
}

static void
cut_grass (const Turn *t)
{
  gboolean warm = t->kind->plant->care == BL_CARE_G1;
  g_autofree char *low
    = short_length (t, warm ? 0.10 : MAX (0.3 * t->kind->plant->foliage_height, 0.05));
  g_autofree char *to = g_strdup_printf ("%s to %s", t->name, low);
  Turn cut = { t->context, t->season, t->kind, to };

  if (t->kind->plant->leaves == BL_LEAVES_EVERGREEN)
    {
      if (t->season->number >= 1)
        add (t, "tidy", weeks (t->season->last_frost, -8), weeks (t->season->last_frost, -3),
             "care-tidy", "Comb",
             "Evergreen: comb out the dead leaves with gloved fingers, cut only what is torn.");
      return;
    }
  if (warm)
    cut_back (&cut, -8, -3, "care-cut-grass", "Bundle it first; before the new shoots.");
  else
    cut_back (&cut, -10, -6, "care-cut-grass",
              "It wakes early: leave a third of the leaves and never cut into the crown.");
}

static void
care_perennial (const Turn *t)
{
  const BlPlant *plant = t->kind->plant;
  const BlCareSeason *s = t->season;
  gboolean green = plant->leaves == BL_LEAVES_EVERGREEN;
  BlDay first = 0, last = 0;

  if (plant->care == BL_CARE_H2)
    add (t, "cut-back", s->first_frost, weeks (s->first_frost, 5), "care-cut-back", "Cut back",
         "After a killing frost, and take the leaves away: disease winters on them.");
  else if (plant->care == BL_CARE_H3 && s->number >= 1)
    add (t, "cut-back", weeks (s->last_frost, -5), s->last_frost, "care-cut-back", "Cut back",
         "At the end of winter to a few inches, when buds show; never in autumn.");
  else if (plant->care == BL_CARE_H1 || (plant->care == BL_CARE_H4 && !green))
    cut_back (t, -6, -2, "care-cut-back", "Left standing over winter for seed and shape.");
  if (plant->care == BL_CARE_H4 && bl_care_bloom (t->context, s, plant, &first, &last)
      && (s->number >= 1 || first > t->context->planting))
    add (t, "shear", weeks (first, 5), weeks (first, 6.5), "care-shear", "Shear",
         "By a third to a half after the first flush: it flowers again.");
}

static void
care_bulb (const Turn *t)
{
  const BlCareSeason *s = t->season;
  BlDay first = 0, last = 0;
  gboolean planted_early = t->context->planting < weeks (s->first_frost, -5);

  if (s->number == 0 && t->kind->plant->spring_only && planted_early
      && t->kind->plant->type == BL_TYPE_BULB)
    {
      add (t, "plant", weeks (s->first_frost, -3), weeks (s->first_frost, 4), "care-bulb",
           "Plant bulbs:",
           "Spring bulbs go in in autumn, three times as deep as the bulb is high.");
      return;
    }
  if (s->number >= 1 && bl_care_bloom (t->context, s, t->kind->plant, &first, &last))
    add (t, "bulb-leaves", weeks (last, 4), weeks (last, 6), "care-bulb", "Remove yellow leaves of",
         "Leave the leaves until they yellow: they feed next year's flowers.");
}

static void
care_annual (const Turn *t)
{
  const BlCareSeason *s = t->season;
  BlCareDraft draft = { .kind = "deadhead", .about = t->kind, .every_days = 14 };

  if (s->number >= 1)
    add (t, "plant", weeks (s->last_frost, 1), weeks (s->last_frost, 3), "care-plant-annual",
         "Plant", "After the last frost, lovers of warmth at the end of this time.");
  draft.from = MAX (weeks (s->last_frost, 8), t->context->planting + 28);
  draft.to = weeks (s->first_frost, -1);
  draft.rate = "care-deadhead";
  draft.units = t->kind->count;
  bl_care_add_take (t->context, s, &draft,
                    g_strdup_printf ("Deadhead %s (%u)", t->name, t->kind->count),
                    g_strdup ("Faded flowers off, so that more follow."));
  add (t, "remove", s->first_frost, weeks (s->first_frost, 2), "care-lift-annual", "Remove",
       "After the first frost.");
}

static void
care_vine (const Turn *t)
{
  if (t->kind->plant->care == BL_CARE_V1)
    after_bloom (t, "prune-vine", 4, 2, "care-vine", "Prune and tie",
                 "After flowering: it flowers on last year's growth. Tie in what is left.");
  else if (t->season->number >= 1)
    add (t, "prune-vine", weeks (t->season->last_frost, -8), weeks (t->season->last_frost, -3),
         "care-vine", "Prune and tie",
         "Late winter: it flowers on new growth. Tie in what is left.");
}

static void
divide (const Turn *t)
{
  const BlPlant *plant = t->kind->plant;
  const BlCareSeason *s = t->season;
  BlDay first = 0, last = 0;
  gboolean early = FALSE;
  int shift = 0;
  BlCareDraft draft = { .kind = "divide", .about = t->kind, .once = TRUE };

  if (plant->divide_low == 0 || MIN (plant->divide_low, 4) != s->number)
    return;
  early = bl_care_bloom (t->context, s, plant, &first, &last) && last < bl_care_moment (s, 8.0)
          && plant->care != BL_CARE_G1;
  shift = plant->divide_low > 4 ? (int) lround (365.25 * (plant->divide_low - 4)) : 0;
  draft.from
    = weeks (early ? weeks (s->first_frost, -5) : weeks (s->last_frost, -3), 0) + (BlDay) shift;
  draft.to = weeks (draft.from, early ? 3 : 4);
  draft.rate = "care-divide";
  draft.units = t->kind->count;
  bl_care_add_take (
    t->context, s, &draft, g_strdup_printf ("Divide %s (%u)", t->name, t->kind->count),
    g_strdup_printf (
      "Only where the middle has thinned or it flowers less; again after %d to %d years.",
      plant->divide_low, plant->divide_high));
}

static void
protect (const Turn *t)
{
  const BlPlant *plant = t->kind->plant;
  const BlCareSeason *s = t->season;
  gboolean woody = bl_plant_is_woody (plant);

  if (s->number == 0 && !woody && plant->type != BL_TYPE_ANNUAL && plant->type != BL_TYPE_BULB
      && t->context->planting > weeks (s->first_frost, -10))
    add (t, "protect", weeks (s->first_frost, 8), weeks (s->first_frost, 11), "care-protect",
         "Cover",
         "First winter after late planting: loose mulch after the ground has frozen, off again in "
         "spring.");
  if (s->number <= 1 && woody
      && (plant->rabbit == BL_BROWSE_OFTEN || plant->rabbit == BL_BROWSE_SOMETIMES))
    add (t, "guard", weeks (s->first_frost, 2), weeks (s->first_frost, 5), "care-protect", "Guard",
         "Wire guard against rabbits until the bark has toughened.");
  if (g_strcmp0 (plant->support, "stake") == 0)
    {
      BlDay first = 0, last = 0;

      if (bl_care_bloom (t->context, s, plant, &first, &last))
        add (t, "stake", weeks (first, -6), weeks (first, -4), "care-stake", "Stake",
             "Before the stems lean.");
    }
}

void
bl_care_plants (BlCareContext *context, const BlCareSeason *season)
{
  guint i = 0;

  for (i = 0; i < context->kinds->len; i++)
    {
      const BlCareKind *kind = &g_array_index (context->kinds, BlCareKind, i);
      Turn t = { context, season, kind, name_of (kind->plant) };
      BlCareGroup care = kind->plant->care;

      if (care <= BL_CARE_P6)
        prune_shrub (&t);
      else if (care == BL_CARE_G1 || care == BL_CARE_G2)
        cut_grass (&t);
      else if (care == BL_CARE_B1)
        care_bulb (&t);
      else if (care == BL_CARE_A)
        care_annual (&t);
      else if (care == BL_CARE_V1 || care == BL_CARE_V2)
        care_vine (&t);
      else
        care_perennial (&t);
      divide (&t);
      protect (&t);
      g_free (t.name);
    }
}
