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
  const char *low; /* " to 10 cm", where the plant is cut to a height */
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
           ? g_strdup_printf (bl_care_say (t->context, "%.0f in"), metres / BL_METRES_PER_INCH)
           : g_strdup_printf ("%.0f cm", 5.0 * round (metres * 20.0));
}

/* The plant's own rule is added where it is cut. */
static char *
with_note (const Turn *t, const char *kind, const char *what)
{
  static const char *const cutting[]
    = { "prune", "prune-vine", "cut-back", "shear", "tidy", "bulb-leaves", NULL };
  const char *note = t->kind->plant->care_note;

  if (note == NULL || !g_strv_contains (cutting, kind))
    return g_strdup (bl_care_say (t->context, what));
  return g_strdup_printf ("%s %s", bl_care_say (t->context, what), bl_care_say (t->context, note));
}

/* @what is a sentence in English, or already said. */
static void
add_draft (const Turn *t, BlCareDraft draft, const char *what)
{
  draft.about = t->kind;
  draft.low = t->low;
  if (draft.count == 0)
    draft.count = t->kind->count;
  draft.units = draft.count;
  bl_care_add_take (t->context, t->season, &draft, NULL, with_note (t, draft.kind, what));
}

static void
add (const Turn *t, const char *kind, BlDay from, BlDay to, const char *rate, const char *verb,
     const char *what)
{
  add_draft (t, (BlCareDraft) { .kind = kind, .from = from, .to = to, .rate = rate, .verb = verb },
             what);
}

/* Dead tops come off at the end of winter, but in autumn where the plough and the salt come. */
static void
cut_back (const Turn *t, double from_weeks, double to_weeks, const char *rate, const char *what)
{
  const BlCareSeason *s = t->season;
  guint exposed = t->kind->exposed, rest = t->kind->count - t->kind->exposed;
  BlCareDraft draft
    = { .kind = "cut-back", .rate = rate, .verb = BL_SAID ("Cut back"), .count = exposed };

  if (exposed > 0)
    {
      g_autofree char *because = g_strconcat (
        bl_care_say (t->context, what),
        bl_care_say (t->context, " Here in autumn instead of spring: salted snow is piled on it."),
        NULL);

      draft.detail = "edge";
      draft.from = s->first_frost;
      draft.to = weeks (s->first_frost, 5);
      draft.salt = TRUE;
      add_draft (t, draft, because);
    }
  draft.detail = NULL;
  draft.salt = FALSE;
  draft.count = rest;
  draft.from = weeks (s->last_frost, from_weeks);
  draft.to = weeks (s->last_frost, to_weeks);
  if (rest > 0 && s->number >= 1)
    add_draft (t, draft, what);
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
      after_bloom (t, "prune", 6, 2, "care-prune", BL_SAID ("Prune"),
                   BL_SAID ("Directly after flowering: it flowers on last year's wood, and later cutting "
                   "removes next year's buds."));
      break;
    case BL_CARE_P2:
      if (s->number >= 1)
        add (t, "prune", early, late, "care-prune", BL_SAID ("Prune"),
             BL_SAID ("Late winter, before the leaves: it flowers on new wood. Take out weak and crossing "
             "stems."));
      break;
    case BL_CARE_P3:
      if (s->number >= 3)
        add (t, "prune", early, late, "care-prune", BL_SAID ("Renew"),
             BL_SAID ("Late winter: remove about a third of the oldest stems at the ground."));
      break;
    case BL_CARE_P4:
      after_bloom (t, "prune", 6, 2, "care-prune", BL_SAID ("Prune lightly"),
                   BL_SAID ("Lightly, after flowering: some fruit is lost either way."));
      break;
    case BL_CARE_P5:
      if (s->number >= 2)
        add (t, "prune", weeks (s->last_frost, -6), s->last_frost, "care-prune", BL_SAID ("Shape"),
             BL_SAID ("Before the new growth, never into bare wood; no cutting in the last eight weeks "
             "before the first frost."));
      break;
    case BL_CARE_P6:
      if (s->number >= 1)
        add (t, "tidy", weeks (s->last_frost, -6), weeks (s->last_frost, -2), "care-tidy", BL_SAID ("Tidy"),
             BL_SAID ("Remove dead leaves and old flower stalks only; it is not cut back."));
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
  g_autofree char *to = g_strdup_printf (bl_care_say (t->context, " to %s"), low);
  Turn cut = { t->context, t->season, t->kind, to };

  if (t->kind->plant->leaves == BL_LEAVES_EVERGREEN)
    {
      if (t->season->number >= 1)
        add (t, "tidy", weeks (t->season->last_frost, -8), weeks (t->season->last_frost, -3),
             "care-tidy", BL_SAID ("Comb"),
             BL_SAID ("Evergreen: comb out the dead leaves with gloved fingers, cut only what is torn."));
      return;
    }
  if (warm)
    cut_back (&cut, -8, -3, "care-cut-grass", BL_SAID ("Bundle it first; before the new shoots."));
  else
    cut_back (&cut, -10, -6, "care-cut-grass",
              BL_SAID ("It wakes early: leave a third of the leaves and never cut into the crown."));
}

static void
care_perennial (const Turn *t)
{
  const BlPlant *plant = t->kind->plant;
  const BlCareSeason *s = t->season;
  gboolean green = plant->leaves == BL_LEAVES_EVERGREEN;
  BlDay first = 0, last = 0;

  if (plant->care == BL_CARE_H2)
    add (t, "cut-back", s->first_frost, weeks (s->first_frost, 5), "care-cut-back", BL_SAID ("Cut back"),
         BL_SAID ("After a killing frost, and take the leaves away: disease winters on them."));
  else if (plant->care == BL_CARE_H3 && s->number >= 1)
    add (t, "cut-back", weeks (s->last_frost, -5), s->last_frost, "care-cut-back", BL_SAID ("Cut back"),
         BL_SAID ("At the end of winter to a few inches, when buds show; never in autumn."));
  else if (plant->care == BL_CARE_H1 || (plant->care == BL_CARE_H4 && !green))
    cut_back (t, -6, -2, "care-cut-back", BL_SAID ("Left standing over winter for seed and shape."));
  if (plant->care == BL_CARE_H4 && bl_care_bloom (t->context, s, plant, &first, &last)
      && (s->number >= 1 || first > t->context->planting))
    add (t, "shear", weeks (first, 5), weeks (first, 6.5), "care-shear", BL_SAID ("Shear"),
         BL_SAID ("By a third to a half after the first flush: it flowers again."));
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
           BL_SAID ("Plant bulbs:"),
           BL_SAID ("Spring bulbs go in in autumn, three times as deep as the bulb is high."));
      return;
    }
  if (s->number >= 1 && bl_care_bloom (t->context, s, t->kind->plant, &first, &last))
    add (t, "bulb-leaves", weeks (last, 4), weeks (last, 6), "care-bulb", BL_SAID ("Remove yellow leaves of"),
         BL_SAID ("Leave the leaves until they yellow: they feed next year's flowers."));
}

static void
care_annual (const Turn *t)
{
  const BlCareSeason *s = t->season;
  BlCareDraft draft = { .kind = "deadhead", .every_days = 14, .rate = "care-deadhead",
                        .verb = BL_SAID ("Deadhead") };

  if (s->number >= 1)
    add (t, "plant", weeks (s->last_frost, 1), weeks (s->last_frost, 3), "care-plant-annual",
         BL_SAID ("Plant out"), BL_SAID ("After the last frost, lovers of warmth at the end of this time."));
  draft.from = MAX (weeks (s->last_frost, 8), t->context->planting + 28);
  draft.to = weeks (s->first_frost, -1);
  add_draft (t, draft, BL_SAID ("Faded flowers off, so that more follow."));
  add (t, "remove", s->first_frost, weeks (s->first_frost, 2), "care-lift-annual", BL_SAID ("Remove"),
       BL_SAID ("After the first frost."));
}

static void
care_vine (const Turn *t)
{
  if (t->kind->plant->care == BL_CARE_V1)
    after_bloom (t, "prune-vine", 4, 2, "care-vine", BL_SAID ("Prune and tie"),
                 BL_SAID ("After flowering: it flowers on last year's growth. Tie in what is left."));
  else if (t->season->number >= 1)
    add (t, "prune-vine", weeks (t->season->last_frost, -8), weeks (t->season->last_frost, -3),
         "care-vine", BL_SAID ("Prune and tie"),
         BL_SAID ("Late winter: it flowers on new growth. Tie in what is left."));
}

static void
divide (const Turn *t)
{
  const BlPlant *plant = t->kind->plant;
  const BlCareSeason *s = t->season;
  BlDay first = 0, last = 0;
  gboolean early = FALSE;
  int shift = 0;
  BlCareDraft draft
    = { .kind = "divide", .once = TRUE, .rate = "care-divide", .verb = BL_SAID ("Divide") };
  g_autofree char *what = NULL;

  if (plant->divide_low == 0 || MIN (plant->divide_low, 4) != s->number)
    return;
  early = bl_care_bloom (t->context, s, plant, &first, &last) && last < bl_care_moment (s, 8.0)
          && plant->care != BL_CARE_G1;
  shift = plant->divide_low > 4 ? (int) lround (365.25 * (plant->divide_low - 4)) : 0;
  draft.from
    = weeks (early ? weeks (s->first_frost, -5) : weeks (s->last_frost, -3), 0) + (BlDay) shift;
  draft.to = weeks (draft.from, early ? 3 : 4);
  what = g_strdup_printf (
    bl_care_say (t->context,
                 "Only where the middle has thinned or it flowers less; again after %d to %d years."),
    plant->divide_low, plant->divide_high);
  add_draft (t, draft, what);
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
         BL_SAID ("Cover"),
         BL_SAID ("First winter after late planting: loose mulch after the ground has frozen, off again in "
         "spring."));
  if (s->number <= 1 && woody
      && (plant->rabbit == BL_BROWSE_OFTEN || plant->rabbit == BL_BROWSE_SOMETIMES))
    add (t, "guard", weeks (s->first_frost, 2), weeks (s->first_frost, 5), "care-protect", BL_SAID ("Guard"),
         BL_SAID ("Wire guard against rabbits until the bark has toughened."));
  if (g_strcmp0 (plant->support, "stake") == 0)
    {
      BlDay first = 0, last = 0;

      if (bl_care_bloom (t->context, s, plant, &first, &last))
        add (t, "stake", weeks (first, -6), weeks (first, -4), "care-stake", BL_SAID ("Stake up"),
             BL_SAID ("Before the stems lean."));
    }
}

void
bl_care_plants (BlCareContext *context, const BlCareSeason *season)
{
  guint i = 0;

  for (i = 0; i < context->kinds->len; i++)
    {
      const BlCareKind *kind = &g_array_index (context->kinds, BlCareKind, i);
      Turn t = { context, season, kind, NULL };
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
    }
}
