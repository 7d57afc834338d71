/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The look of a plant at a moment.
 *
 * Each plant has its own year, counted in months from the day its new growth shows. On that year
 * lie a few turning points, and every quantity is a smooth ramp between them:
 *
 *   start   full          bloom            turn   drop            cut      12
 *     |------|-----bud--|=======|--seed-----|~~~~~~|---standing----|-dormant-|
 *
 * Records hold months for zone 6; spring events come earlier in warmer zones, autumn events later.
 * The turning points themselves are common practice, from ../../data/plants/README's care groups.
 */
#include "plants/season.h"

#include <math.h>

#define ZONE_6 12.5 /* between 6a (12) and 6b (13) */
#define MONTHS_A_ZONE 0.25
#define YEAR 12.0

/* Zone 6 anchors, as moments of the year. */
#define LEAVES_TURN 9.7
#define LEAVES_DROP 10.9
#define HARD_FROST 10.7
#define PLANT_ANNUALS 5.4

typedef struct
{
  const BlPlant *plant;
  double start;         /* moment of the year when new growth shows */
  double u;             /* months since start, 0 .. 12 */
  double full;          /* leaves are out; this and the rest are months after start */
  double flower, faded; /* first and last flower; faded = flower when there is none */
  double turn, drop;    /* autumn colour begins; leaves are dead or down */
  double cut;           /* cut back; 12 when it is not */
} Year;

static double
ramp (double x, double from, double to)
{
  double t = to > from ? (x - from) / (to - from) : (x >= from ? 1.0 : 0.0);

  t = CLAMP (t, 0.0, 1.0);
  return t * t * (3.0 - 2.0 * t);
}

/* Months from @from forward to @to, 0 .. 12. */
static double
ahead (double from, double to)
{
  double d = fmod (to - from, YEAR);

  return d < 0 ? d + YEAR : d;
}

/* Rises during @rise after @from, falls during @fall before @to; the year is a circle. */
static double
window (double u, double from, double to, double rise, double fall)
{
  double most = 0;
  int turn = 0;

  for (turn = -1; turn <= 1; turn++)
    {
      double x = u + turn * YEAR;
      double value = MIN (ramp (x, from, from + rise), 1.0 - ramp (x, to - fall, to));

      most = MAX (most, value);
    }
  return most;
}

double
bl_season_shift (BlZone zone)
{
  double zones = zone == 0 ? 0.0 : (zone - ZONE_6) / 2.0;

  return CLAMP (-MONTHS_A_ZONE * zones, -0.95, 0.95);
}

/* Summer and autumn flowers depend less on when the spring came: the whole shift until mid June,
 * none from October to December. */
static double
share_of_shift (double month)
{
  double m = 1.0 + ahead (1.0, month);

  if (m <= 6.5)
    return 1.0;
  if (m < 10.0)
    return (10.0 - m) / 3.5;
  return m < 12.0 ? 0.0 : m - 12.0;
}

double
bl_season_month (BlZone zone, double month)
{
  return month + bl_season_shift (zone) * share_of_shift (month);
}

BlZone
bl_season_zone (const BlSite *site)
{
  BlDay last = 0, usual = bl_day (2001, 4, 28);
  double by_frost = 0, zone = site->zone != 0 ? site->zone : ZONE_6;

  if (site->last_frost.month == 0)
    return site->zone;
  last = bl_month_day_in (site->last_frost, 2001);
  if (site->latitude < 0)
    last = last > usual + 60 ? last - 182 : last + 183;
  by_frost = ZONE_6 - 2.0 * ((double) last - (double) usual) / 15.0;
  return (BlZone) CLAMP (lround ((zone + by_frost) / 2.0), 2, 27);
}

double
bl_season_northern_month (const BlSite *site, double month)
{
  if (!(site->latitude < 0))
    return month;
  return month >= 7.0 ? month - 6.0 : month + 6.0;
}

gboolean
bl_plant_bloom (const BlPlant *plant, BlZone zone, double *from, double *to)
{
  double first = plant->flower_from;
  double last = plant->flower_to + 1.0;

  if (plant->flower_from == 0 || plant->flower == BL_FLOWER_NONE)
    return FALSE;
  if (last <= first)
    last += YEAR;
  *from = bl_season_month (zone, first);
  *to = bl_season_month (zone, last);
  return TRUE;
}

/* A few days of its own for each kind, so that not all turn on one day: -0.2 .. 0.2 months. */
static double
own_days (const BlPlant *plant)
{
  return (g_str_hash (plant->slug) % 1009) / 1008.0 * 0.4 - 0.2;
}

/* When it is cut back, in zone 6. */
static double
cut_month (BlCareGroup care, double shift)
{
  switch (care)
    {
    case BL_CARE_G2:
      return 3.0 + shift;
    case BL_CARE_G1:
      return 3.4 + shift;
    case BL_CARE_H3:
      return 4.0 + shift;
    case BL_CARE_H2:
      return 11.4 - shift;
    case BL_CARE_P1:
    case BL_CARE_P2:
    case BL_CARE_P3:
    case BL_CARE_P4:
    case BL_CARE_P5:
    case BL_CARE_P6:
    case BL_CARE_H1:
    case BL_CARE_H4:
    case BL_CARE_B1:
    case BL_CARE_V1:
    case BL_CARE_V2:
    case BL_CARE_A:
    case BL_CARE_N:
      break;
    }
  return 3.6 + shift;
}

static double
start_of (const BlPlant *plant, double shift)
{
  if (plant->type != BL_TYPE_ANNUAL)
    return plant->emerges + 0.15 + shift;
  /* Cool-season annuals go in before their flowers, the others after the frost. */
  if (plant->flower_from > 0 && plant->flower_from <= 4)
    return plant->flower_from - 0.3 + shift;
  return PLANT_ANNUALS + shift;
}

static void
set_autumn (Year *year, BlZone zone)
{
  const BlPlant *plant = year->plant;
  double shift = bl_season_shift (zone);
  double late = own_days (plant) - shift;

  year->turn = ahead (year->start, LEAVES_TURN + late);
  year->drop = year->turn + LEAVES_DROP - LEAVES_TURN;
  if (plant->type == BL_TYPE_ANNUAL)
    {
      year->drop = ahead (year->start, HARD_FROST - shift);
      year->turn = year->drop - 0.25;
      year->cut = year->drop + 0.15;
      /* What flowers until October in zone 6 flowers until the frost anywhere. */
      year->faded = plant->flower_to >= 10 ? year->drop : MIN (year->faded, year->drop);
      return;
    }
  if (plant->spring_only)
    {
      /* Leaves are left until they yellow, four to six weeks after the flowers. */
      gboolean soon = year->faded > year->flower && year->faded < 5.0;

      year->turn = soon ? year->faded + 0.5 : 2.5;
      year->drop = year->turn + 0.9;
      year->cut = year->drop + 0.3;
      return;
    }
  if (plant->care == BL_CARE_P6)
    {
      /* Low leaves that need no cutting have rotted away before the snow. */
      year->cut = year->drop + 0.5;
      return;
    }
  year->cut = ahead (year->start, cut_month (plant->care, shift));
  if (year->cut < year->drop + 0.1)
    year->cut = plant->care == BL_CARE_H2 ? year->drop + 0.2 : YEAR - 0.25;
}

static Year
year_of (const BlPlant *plant, BlZone zone, double month)
{
  Year year = { .plant = plant };
  double from = 0, to = 0;

  year.start = start_of (plant, bl_season_shift (zone));
  year.u = ahead (year.start, month);
  year.full = bl_plant_is_woody (plant) ? 1.0 : 1.6;
  if (bl_plant_bloom (plant, zone, &from, &to))
    {
      year.flower = ahead (year.start, from);
      /* A flower a few days before the first leaf belongs to this spring, not to the last winter's
       * end. */
      if (year.flower > 11.0 && !bl_plant_is_woody (plant))
        year.flower -= YEAR;
      year.faded = year.flower + (to - from);
      if (!bl_plant_is_woody (plant) && year.flower < 9.0)
        year.full = CLAMP (0.75 * year.flower, 1.0, 2.6);
    }
  else
    year.flower = year.faded = -1.0;
  if (plant->type == BL_TYPE_ANNUAL && year.faded > 0)
    {
      if (year.flower > 8.0) /* sold in flower before it is planted out */
        year.flower -= YEAR, year.faded -= YEAR;
      year.flower = MAX (year.flower, 0.2);
    }
  set_autumn (&year, zone);
  return year;
}

static gboolean
has_flower (const Year *year)
{
  return year->faded > year->flower;
}

static double
bloom_now (const Year *year)
{
  double length = year->faded - year->flower;
  double edge = MIN (0.4, length / 4.0);
  double open = 0;

  if (!has_flower (year))
    return 0.0;
  /* The first flowers open a few days before the month that is given. */
  open = window (year->u, year->flower - 0.15, year->faded, edge, edge);
  /* Repeat bloomers rest between the first flush and the second. */
  if (year->plant->care == BL_CARE_H4 && length >= 3.0)
    open *= 1.0
            - 0.55
                * window (year->u, year->flower + 0.38 * length, year->flower + 0.72 * length,
                          0.12 * length, 0.12 * length);
  return open;
}

static gboolean
keeps_seed_heads (const BlPlant *plant)
{
  switch (plant->flower)
    {
    case BL_FLOWER_PANICLE:
    case BL_FLOWER_UMBEL:
    case BL_FLOWER_GLOBE:
    case BL_FLOWER_PLUME:
    case BL_FLOWER_SPIKE:
    case BL_FLOWER_DAISY:
      return TRUE;
    case BL_FLOWER_NONE:
    case BL_FLOWER_TRUMPET:
    case BL_FLOWER_BELL:
    case BL_FLOWER_CUP:
    case BL_FLOWER_STAR:
    case BL_FLOWER_CATKIN:
    case BL_FLOWER_N:
      break;
    }
  return FALSE;
}

/* Seed heads ripen in the second half of the flowers and stand until they are cut. */
static double
seed_now (const Year *year)
{
  const BlPlant *plant = year->plant;
  double ripe = year->flower + 0.6 * (year->faded - year->flower);
  double rise = MAX (year->faded + 0.4 - ripe, 0.3);
  double end = 0, most = keeps_seed_heads (plant) ? 1.0 : 0.5;

  if (!has_flower (year) || plant->type == BL_TYPE_ANNUAL)
    return 0.0;
  if (bl_plant_is_woody (plant))
    {
      /* Dried heads of the summer bloomers stay on until they are pruned in late winter. */
      if (plant->care != BL_CARE_P2 || !keeps_seed_heads (plant))
        return 0.0;
      end = MAX (year->cut, year->faded + 1.0);
    }
  else if (plant->spring_only)
    end = year->faded + 1.6;
  else if (plant->leaves != BL_LEAVES_DECIDUOUS || plant->care == BL_CARE_H4)
    {
      end = MIN (year->faded + 2.0, MAX (year->cut, year->faded + 1.0));
      most *= 0.7;
    }
  else
    end = MAX (year->cut, year->faded + 0.5);
  end = MIN (end, year->flower + YEAR - 0.5);
  if (end <= ripe + rise)
    rise = MAX ((end - ripe) / 2.0, 0.05);
  return most * window (year->u, ripe, end + 0.1, rise, 0.25);
}

static double
fruit_now (const BlPlant *plant, BlZone zone, double month)
{
  double from = plant->fruit_from, to = plant->fruit_to + 1.0;

  if (!plant->has_fruit)
    return 0.0;
  if (to <= from)
    to += YEAR;
  from = bl_season_month (zone, from);
  to = bl_season_month (zone, to);
  return window (ahead (from, month), 0, to - from, MIN (0.6, (to - from) / 3),
                 MIN (0.7, (to - from) / 3));
}

/* Leaves of a plant that is bare or gone in winter. */
static double
seasonal_leaf (const Year *year)
{
  const BlPlant *plant = year->plant;
  double out = ramp (year->u, 0.0, year->full);
  double kept = 0; /* dry leaves on standing stems */

  if (bl_plant_is_woody (plant))
    return out * (1.0 - ramp (year->u, year->drop - 0.5, year->drop + 0.35));
  if (!plant->spring_only && plant->type != BL_TYPE_ANNUAL)
    kept = plant->type == BL_TYPE_GRASS ? 0.8 : plant->type == BL_TYPE_FERN ? 0.25 : 0.4;
  out *= 1.0 - (1.0 - kept) * ramp (year->u, year->turn + 0.3, year->drop + 0.4);
  if (kept > 0)
    out *= 1.0 - 0.35 * ramp (year->u, year->drop + 0.4, year->cut);
  return out * (1.0 - ramp (year->u, year->cut, year->cut + 0.2));
}

static double
leaf_now (const Year *year)
{
  const BlPlant *plant = year->plant;
  double winter
    = plant->leaves == BL_LEAVES_EVERGREEN ? (bl_plant_is_woody (plant) ? 1.0 : 0.85) : 0.45;
  double cold = 0;

  if (plant->leaves == BL_LEAVES_DECIDUOUS || plant->type == BL_TYPE_ANNUAL || plant->spring_only)
    return seasonal_leaf (year);
  cold = MIN (ramp (year->u, year->drop - 0.3, year->drop + 1.0), 1.0);
  cold = MAX (cold, 1.0 - ramp (year->u, 0.0, 1.2));
  return 1.0 - (1.0 - winter) * cold;
}

typedef struct
{
  double u;
  BlColor color;
} Stop;

static BlColor
color_on (const Stop *stops, guint n, double u)
{
  guint i = 0;

  for (i = 1; i < n; i++)
    if (u <= stops[i].u)
      return bl_color_mix (stops[i - 1].color, stops[i].color,
                           ramp (u, stops[i - 1].u, stops[i].u));
  return stops[n - 1].color;
}

static BlColor
leaf_color_now (const Year *year)
{
  const BlPlant *p = year->plant;
  gboolean winter_green
    = p->leaves != BL_LEAVES_DECIDUOUS && !p->spring_only && p->type != BL_TYPE_ANNUAL;
  double settled = MIN (year->full + 0.8, year->turn - 0.2);
  double ended = year->drop + 0.7;
  const Stop stops[] = { { 0.0, winter_green ? p->leaf_winter : p->leaf_spring },
                         { winter_green ? 0.7 : 0.25, p->leaf_spring },
                         { MAX (settled, 1.0), p->leaf_summer },
                         { MAX (year->turn, 1.1), p->leaf_summer },
                         { MAX (year->turn, 1.1) + 0.75, p->leaf_autumn },
                         { MAX (year->drop, year->turn + 0.8), p->leaf_autumn },
                         { MAX (ended, year->turn + 1.0), p->leaf_winter } };

  return color_on (stops, G_N_ELEMENTS (stops), year->u);
}

static BlPlantState
dying_state (const Year *year, const BlLook *look, double risen)
{
  if (year->u > year->cut + 0.1)
    return BL_STATE_DORMANT;
  if (year->u > year->drop + 0.1)
    return year->plant->spring_only || year->plant->type == BL_TYPE_ANNUAL ? BL_STATE_DORMANT
                                                                           : BL_STATE_STANDING;
  if (year->u > year->turn + 0.25)
    return BL_STATE_AUTUMN;
  if (look->bud > 0.3)
    return BL_STATE_BUD;
  if (look->seed > 0.3)
    return BL_STATE_SEED;
  return risen < 0.35 ? BL_STATE_EMERGING : BL_STATE_LEAF;
}

static BlPlantState
lasting_state (const Year *year, const BlLook *look)
{
  gboolean deciduous = year->plant->leaves == BL_LEAVES_DECIDUOUS;

  if (look->bud > 0.3)
    return BL_STATE_BUD;
  if (deciduous && look->leaf < 0.12)
    return BL_STATE_BARE;
  if (deciduous && year->u > year->turn + 0.25)
    return BL_STATE_AUTUMN;
  if (look->seed > 0.3)
    return BL_STATE_SEED;
  return deciduous && year->u < 0.5 * year->full ? BL_STATE_EMERGING : BL_STATE_LEAF;
}

/* A plant that dies down rises from the ground each spring and is cut to a stub. */
static void
set_dying_size (const Year *year, BlLook *look, double height, double spread)
{
  const BlPlant *plant = year->plant;
  double share = plant->foliage_height / plant->height;
  double risen = 0.05 + 0.95 * ramp (year->u, 0.0, year->full);
  double scape = has_flower (year) ? window (year->u, year->flower - 0.9,
                                             MAX (year->cut, year->faded + 0.2), 0.9, 0.2)
                                   : 0.0;
  /* Stalks stand through the winter; the fronds of ferns lie down in the frost. */
  double sunk = plant->type == BL_TYPE_FERN
    ? 1.0 - 0.6 * ramp (year->u, year->drop - 0.5, year->drop + 0.2) : 1.0 - 0.15 * ramp (year->u, year->drop, year->cut);
  double gone = ramp (year->u, year->cut, year->cut + 0.2);
  gboolean is_grass = plant->type == BL_TYPE_GRASS;
  double stub = is_grass ? MIN (0.12, 0.12 * height) : 0.0;
  double foliage = share * height * risen * sunk * (1.0 - gone);
  double flowers = (1.0 - share) * height * scape * sunk * (1.0 - gone);

  if (plant->spring_only || plant->type == BL_TYPE_ANNUAL)
    foliage *= 1.0 - 0.7 * ramp (year->u, year->turn, year->cut);
  if (plant->spring_only && has_flower (year) && year->flower > year->cut)
    {
      /* Flowers that come bare out of the ground after the leaves have gone. */
      flowers = height * scape;
    }
  look->foliage_height = MAX (foliage, stub * gone);
  look->height = MAX (MAX (foliage + flowers, flowers), look->foliage_height);
  look->spread
    = spread * (0.35 + 0.65 * risen) * (1.0 - 0.12 * ramp (year->u, year->drop, year->cut));
  if (gone > 0)
    look->spread *= 1.0 - (is_grass ? 0.45 : 0.65) * gone;
  look->state = look->bloom >= 0.15 ? BL_STATE_BLOOM : dying_state (year, look, risen);
}

static void
set_lasting_size (const Year *year, BlLook *look, double height, double spread)
{
  const BlPlant *plant = year->plant;
  double share = plant->foliage_height / plant->height;
  double scape = 0, rest = 1.0;

  look->state = look->bloom >= 0.15 ? BL_STATE_BLOOM : lasting_state (year, look);
  look->height = height;
  look->foliage_height = height * share;
  look->spread = spread;
  if (bl_plant_is_woody (plant))
    return;
  /* Evergreen perennials sink a little in winter and lift their flowers in season. */
  rest = 0.8 + 0.2 * (look->leaf - 0.45) / 0.55;
  scape = MAX (look->seed, look->bloom);
  if (has_flower (year))
    scape = MAX (scape, window (year->u, year->flower - 0.8, year->faded + 0.2, 0.8, 0.3));
  look->foliage_height *= rest;
  look->height = look->foliage_height + (1.0 - share) * height * scape;
}

/* The picture shows the plant full grown: a younger one is as much smaller as its own size is. In its
 * months it stands whatever the season's look is, for it shows that look. */
static void
set_cutout (BlLook *look, const BlPlant *plant, BlZone zone, double month, double height,
            double spread)
{
  const BlCutout *cutout = plant->cutout;
  double from, to;

  if (cutout == NULL || cutout->bytes == NULL)
    return;
  from = bl_season_month (zone, cutout->from);
  to = bl_season_month (zone, cutout->to + 1.0);
  if (cutout->from != 0 && (from <= to ? month < from || month >= to : month < from && month >= to))
    return;
  look->cutout = cutout->height * height / plant->height;
  look->height = look->cutout;
  look->spread = MAX (look->spread, spread);
}

BlLook
bl_plant_look (const BlPlant *plant, const char *size_name, BlZone zone, BlMoment moment)
{
  Year year = year_of (plant, zone, moment.month);
  BlLook look = { 0 };
  double height = 0, spread = 0, grown = 0;
  gboolean woody = bl_plant_is_woody (plant);
  gboolean dies = !woody
                  && (plant->leaves == BL_LEAVES_DECIDUOUS || plant->spring_only
                      || plant->type == BL_TYPE_ANNUAL);

  bl_plant_size_at (plant, size_name, moment.years, &height, &spread);
  grown = MIN (1.0, spread / plant->spread);
  look.fullness = 0.35 + 0.65 * grown;
  look.leaf = leaf_now (&year);
  look.bloom = bloom_now (&year);
  look.bud
    = has_flower (&year) ? window (year.u, year.flower - 0.8, year.flower + 0.3, 0.6, 0.3) : 0.0;
  look.seed = seed_now (&year);
  look.fruit = fruit_now (plant, zone, moment.month);
  look.leaf_color = leaf_color_now (&year);
  look.flower_color = plant->n_flower_colors > 0 ? plant->flower_colors[0] : plant->leaf_summer;
  look.seed_color = plant->seed_color;
  look.fruit_color = plant->has_fruit ? plant->fruit_color : plant->seed_color;
  /* Green stems in season; the record's stem colour is that of bark or of winter. */
  look.stem_color = woody ? plant->stem
                          : bl_color_mix (look.leaf_color, plant->stem,
                                          0.25 + 0.75 * ramp (year.u, year.turn, year.drop + 0.5));
  if (dies)
    set_dying_size (&year, &look, height, spread);
  else
    set_lasting_size (&year, &look, height, spread);
  set_cutout (&look, plant, zone, moment.month, height, spread);
  return look;
}

BlLook
bl_season_look (const BlSite *site, const BlPlant *plant, const char *size_name, BlMoment moment)
{
  moment.month = bl_season_northern_month (site, moment.month);
  return bl_plant_look (plant, size_name, site->zone, moment);
}

gboolean
bl_season_bloom (const BlSite *site, const BlPlant *plant, double *from, double *to)
{
  double length = 0;

  if (!bl_plant_bloom (plant, site->zone, from, to))
    return FALSE;
  length = *to - *from;
  /* Half a year on is half a year back. */
  *from = bl_season_northern_month (site, *from);
  *to = *from + length;
  return TRUE;
}

const char *
bl_plant_state_name (BlPlantState state)
{
  static const char *const names[] = { "dormant", "emerging",      "leaf",     "bud", "bloom",
                                       "seed",    "autumn colour", "standing", "bare" };

  g_return_val_if_fail (state < G_N_ELEMENTS (names), "");
  return names[state];
}
