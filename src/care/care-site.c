/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tasks of the beds and of the place: weeds, mulch, edges, feeding, salt, deer, water. */
#include <math.h>
#include <string.h>

#include "care/care-private.h"

typedef struct
{
  BlCareContext *context;
  const BlCareSeason *season;
  const BlBed *bed;
  double area; /* m² */
} Turn;

static BlDay
weeks (BlDay day, double n)
{
  return (BlDay) ((double) day + lround (n * BL_WEEK));
}

static void
add_every (const Turn *t, const char *kind, BlDay from, BlDay to, int every, const char *rate,
           double units, const char *verb, const char *what)
{
  BlCareDraft draft
    = { .kind = kind, .bed_id = t->bed->id, .from = from, .to = to, .every_days = every,
        .rate = rate, .units = units, .verb = verb };
  const char *name = t->bed->name != NULL ? t->bed->name : bl_care_say (t->context, "the bed");

  bl_care_add_take (t->context, t->season, &draft, name, g_strdup (bl_care_say (t->context, what)));
}

static void
add (const Turn *t, const char *kind, BlDay from, BlDay to, const char *rate, double units,
     const char *verb, const char *what)
{
  add_every (t, kind, from, to, 0, rate, units, verb, what);
}

static void
weed (const Turn *t)
{
  const BlCareSeason *s = t->season;
  gboolean young = s->number <= 1;

  add_every (t, "weed", MAX (weeks (s->last_frost, -4), t->context->planting + 14), s->first_frost,
             young ? 18 : 30, young ? "care-weed" : "care-weed-dense", t->area, BL_SAID ("Weed"),
             young ? BL_SAID ("Every two to three weeks while the plants are small, before the weeds seed.")
                   : BL_SAID ("Monthly once the plants have closed."));
}

static void
mulch (const Turn *t)
{
  const BlCareSeason *s = t->season;
  g_autofree char *depth = bl_spacing_format (t->bed->mulch_depth, t->context->model->units);
  g_autofree char *top = g_strdup (t->context->model->units == BL_UNITS_FEET
                                      ? bl_care_say (t->context, "1 in") : "25 mm");
  g_autofree char *what
    = g_strdup_printf (bl_care_say (t->context, "About %s, to keep the depth at %s; off the crowns "
                                                "and stems."), top, depth);

  /* Bark rots away; gravel stays. */
  if (s->number >= 1 && t->bed->mulch_depth > 0 && t->bed->cover == BL_COVER_BARK)
    add (t, "mulch", weeks (s->last_frost, -2), weeks (s->last_frost, 3), "care-mulch", t->area,
         BL_SAID ("Top up mulch:"), what);
}

/* A spade-cut edge is cut again each spring; steel, brick and stone stay. */
static void
edge (const Turn *t)
{
  const BlBed *bed = t->bed;
  const BlCareSeason *s = t->season;

  if (s->number >= 1 && (bed->edging == NULL || strcmp (bed->edging, "edging-cut") == 0))
    add (t, "edge", weeks (s->last_frost, -4), s->last_frost, "care-edge",
         bed->perimeter.value * bed->edging_share,
         BL_SAID ("Cut the edge:"), BL_SAID ("Once in spring, along the bed line."));
}

static gboolean
has_salt (const BlModel *model)
{
  guint i = 0;

  for (i = 0; i < model->features->len; i++)
    if (((const BlFeature *) g_ptr_array_index (model->features, i))->kind
        == BL_FEATURE_SALTED_EDGE)
      return TRUE;
  return model->site.salt_edge;
}

static void
care_bed (const Turn *t)
{
  const BlCareSeason *s = t->season;

  if (s->number >= 1)
    add (t, "clean-up", weeks (s->last_frost, -6), weeks (s->last_frost, -2), "care-clean", t->area,
         BL_SAID ("Spring clean-up:"),
         BL_SAID ("When the soil no longer squelches: take off what has blown in and what lies flat."));
  if (s->number >= 1 && has_salt (t->context->model))
    add (
      t, "flush", weeks (s->last_frost, -4), weeks (s->last_frost, -1), "care-flush", t->area,
      BL_SAID ("Flush salt:"),
      BL_SAID ("A slow soaking with an inch or two of water once the ground is open, before growth "
               "starts."));
  if (s->number >= 1)
    add (t, "fertilise", weeks (s->last_frost, -3), weeks (s->last_frost, 1), "care-fertilise",
         t->area, BL_SAID ("Feed:"),
         s->number == 1
           ? BL_SAID ("By soil test, compost or slow release, as growth starts; new shrubs and "
                      "trees get none yet.")
           : BL_SAID ("At most once a year, by soil test, compost or slow release; none in late summer."));
  edge (t);
  mulch (t);
  weed (t);
  add (t, "autumn", weeks (s->first_frost, 1), weeks (s->first_frost, 5), "care-autumn", t->area,
       BL_SAID ("Autumn round:"), BL_SAID ("Leaves off crowns and evergreens, stakes and labels checked."));
}

static void
repel_deer (BlCareContext *context, const BlCareSeason *season)
{
  BlCareDraft draft
    = { .kind = "deer", .every_days = 30, .verb = BL_SAID ("Spray deer repellent") };
  g_autofree char *object = NULL;
  guint count = 0, i = 0;

  for (i = 0; context->model->site.deer && i < context->kinds->len; i++)
    {
      const BlCareKind *kind = &g_array_index (context->kinds, BlCareKind, i);

      if (kind->plant->deer == BL_BROWSE_OFTEN)
        count += kind->count;
    }
  if (count == 0)
    return;
  draft.from = weeks (season->last_frost, -3);
  draft.to = weeks (season->first_frost, 4);
  draft.rate = "care-tidy";
  draft.units = count;
  draft.count = count;
  object = g_strdup_printf (bl_say_n (context->language, "(%u plant)", "(%u plants)", count), count);
  bl_care_add_take (context, season, &draft, object,
                    g_strdup (bl_care_say (
                      context, "On what deer often browse, monthly and after heavy rain.")));
}

void
bl_care_beds (BlCareContext *context, const BlCareSeason *season)
{
  guint i = 0, k = 0;

  for (i = 0; i < context->model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (context->model->beds, i);
      Turn t = { context, season, bed, bed->area.value };
      gboolean planted = FALSE;

      for (k = 0; k < context->layout->placed->len && !planted; k++)
        planted = g_array_index (context->layout->placed, BlPlaced, k).bed_id == bed->id;
      if (planted && t.area > 0)
        care_bed (&t);
    }
  repel_deer (context, season);
}

/* How much there is to water. */
typedef struct
{
  guint woody, trees, annuals;
  double soft; /* m² of perennials, grasses and the like */
} Thirst;

static Thirst
thirst_of (const BlCareContext *context)
{
  Thirst thirst = { 0 };
  guint i = 0;

  for (i = 0; i < context->kinds->len; i++)
    {
      const BlCareKind *kind = &g_array_index (context->kinds, BlCareKind, i);
      double ground = kind->plant->spacing * kind->plant->spacing * kind->count;

      if (kind->plant->type == BL_TYPE_BULB && kind->plant->spring_only)
        continue;
      if (bl_plant_is_woody (kind->plant))
        thirst.woody += kind->count;
      else
        thirst.soft += ground;
      thirst.trees += kind->plant->type == BL_TYPE_TREE ? kind->count : 0;
      thirst.annuals += kind->plant->type == BL_TYPE_ANNUAL ? kind->count : 0;
    }
  return thirst;
}

static void
water (BlCareContext *context, const BlCareSeason *season, const char *detail, BlDay from, BlDay to,
       int every, const char *rate, double units, const char *verb, const char *what)
{
  BlCareDraft draft = { .kind = "water", .detail = detail, .from = from, .to = to,
                        .every_days = every, .rate = rate, .units = units, .verb = verb };

  bl_care_add_take (context, season, &draft, NULL, g_strdup (bl_care_say (context, what)));
}

/* University of Minnesota Extension, watering newly planted trees and shrubs: weeks 1 and 2 daily,
 * 3 to 12 every two to three days, then weekly until established. */
static void
water_woody (BlCareContext *context, const BlCareSeason *season, const Thirst *thirst)
{
  static const char how[] = BL_SAID ("Shrubs a quarter to a third of the container's volume, trees 1 to "
                                     "1.5 gallons an inch of trunk, less when it has rained.");
  static const char rate[] = "care-water-woody";
  BlDay p = context->planting, frozen = weeks (season->first_frost, 8);

  if (season->number == 0)
    {
      water (context, season, "woody-1", p, MIN (p + 13, frozen), 1, rate, thirst->woody,
             BL_SAID ("Water new shrubs and trees daily"), how);
      water (context, season, "woody-2", p + 14, MIN (p + 83, frozen), 3, rate, thirst->woody,
             BL_SAID ("Water new shrubs and trees every third day"), how);
      water (context, season, "woody-3", p + 84, frozen, 7, rate, thirst->woody,
             BL_SAID ("Water new shrubs and trees weekly"), how);
    }
  else if (season->number == 1 || (season->number == 2 && thirst->trees > 0))
    water (context, season, "woody-3", weeks (season->last_frost, 2), season->first_frost, 7,
           rate, season->number == 1 ? thirst->woody : thirst->trees,
           season->number == 1 ? BL_SAID ("Water young shrubs and trees weekly") : BL_SAID ("Water young trees weekly"),
           how);
}

/* NC State Extension, perennials: about an inch a week, rain included, in the first season and in
 * drought; clay once a week, sand several times. */
static void
water_soft (BlCareContext *context, const BlCareSeason *season, const Thirst *thirst)
{
  static const char how[]
    = BL_SAID ("About an inch (25 mm) a week, rain included; in the morning, at the ground.");
  static const char rate[] = "care-water";
  gboolean sand = context->model->site.soil == BL_SOIL_SAND;
  BlDay p = context->planting;

  if (season->number == 0)
    {
      water (context, season, "soft-1", p, MIN (p + 13, season->first_frost), 2, rate, thirst->soft,
             BL_SAID ("Water new perennials every second day"), how);
      water (context, season, "soft-2", p + 14, season->first_frost, sand ? 3 : 7, rate, thirst->soft,
             sand ? BL_SAID ("Water new perennials every third day (sand)") : BL_SAID ("Water new perennials weekly"),
             how);
    }
  else if (season->number == 1)
    water (context, season, "soft-2", weeks (season->last_frost, 4),
           weeks (season->first_frost, -2), 14, rate, thirst->soft, BL_SAID ("Look at the perennials, water in dry weeks"),
           BL_SAID ("In the second year only where they flag; from the third year mostly leave them."));
  else if (thirst->annuals == 0)
    water (context, season, "drought", bl_care_moment (season, 7.0), bl_care_moment (season, 9.0),
           0, rate, thirst->soft, BL_SAID ("Water in drought only"), BL_SAID ("After three weeks without rain, one slow soaking."));
}

void
bl_care_water (BlCareContext *context, const BlCareSeason *season)
{
  Thirst thirst = thirst_of (context);

  if (thirst.woody > 0)
    water_woody (context, season, &thirst);
  if (thirst.soft > 0)
    water_soft (context, season, &thirst);
  if (thirst.annuals > 0 && season->number >= 1)
    water (context, season, "annuals", weeks (season->last_frost, 2), season->first_frost, 7,
           "care-water", 0.1 * thirst.annuals,
           BL_SAID ("Water the annuals weekly"),
           BL_SAID ("They are planted anew each spring and root only shallowly."));
}
