/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant at a moment: its size at an age and its look in a month. */
#pragma once

#include "plants/plant.h"

typedef struct
{
  double month; /* 1.0 = start of January ... 12.99; the middle of May is 5.5 */
  double years; /* since planting */
} BlMoment;

typedef enum
{
  BL_STATE_DORMANT,  /* nothing above ground, or a bare rosette */
  BL_STATE_EMERGING,
  BL_STATE_LEAF,
  BL_STATE_BUD,
  BL_STATE_BLOOM,
  BL_STATE_SEED,     /* seed heads over green leaves */
  BL_STATE_AUTUMN,
  BL_STATE_STANDING, /* dry stems and seed heads in winter */
  BL_STATE_BARE      /* bare branches */
} BlPlantState;

typedef struct
{
  BlPlantState state;
  double height, spread;   /* metres, now (flowers included when out) */
  double cutout;           /* metres: how high its cut-out picture stands; 0 = the figure is drawn */
  double foliage_height;   /* metres, now */
  double fullness;         /* 0..1: how densely it is filled at this age */
  double leaf;             /* 0 none .. 1 full leaf */
  double bloom;            /* 0..1: share of flowers open */
  double bud;              /* 0..1 */
  double seed;             /* 0..1: seed heads showing */
  double fruit;            /* 0..1 */
  double snow;             /* 0..1: how much snow lies on it; 0 unless the scene asks for it */
  BlColor leaf_color, flower_color, stem_color, seed_color, fruit_color;
} BlLook;

/* Months shift by zone: about -0.25 month a whole zone warmer than 6, +0.25 a zone colder
 * (common practice: two to three weeks for one to two zones); @zone 0 = 6. Size follows a logistic
 * curve from the planted size (the size named, or the first) to the mature one. */
BlLook bl_plant_look (const BlPlant *plant, const char *size_name, BlZone zone, BlMoment moment);
/* Woody and other lasting size at an age, before the season: metres. */
void bl_plant_size_at (const BlPlant *plant, const char *size_name, double years, double *height,
                       double *spread);
/* When it flowers here, as moments of the year shifted by zone: from the beginning of its first
 * month to the end of its last, so that 6 to 8 gives 6.0 and 9.0 in zone 6. @to is always after
 * @from and passes 13 where the flowers last over the year's end. FALSE when none. */
gboolean bl_plant_bloom (const BlPlant *plant, BlZone zone, double *from, double *to);
const char *bl_plant_state_name (BlPlantState state);

/* Months by which spring comes later than in zone 6 (negative: earlier); @zone 0 = 6. */
double bl_season_shift (BlZone zone);
/* @month of a record (zone 6) as it falls here: wholly shifted in spring, not at all from October. */
double bl_season_month (BlZone zone, double month);
/* The zone to pass for @site: its hardiness zone, drawn half way to the zone that its last frost is
 * usual for when that date is known (28 April is taken for zone 6, 15 days a zone: common practice). */
BlZone bl_season_zone (const BlSite *site);
/* The month in northern seasons: half a year on where the site lies south of the equator. */
double bl_season_northern_month (const BlSite *site, double month);
/* As bl_plant_look() and bl_plant_bloom(), by the zone and the calendar of @site. */
BlLook bl_season_look (const BlSite *site, const BlPlant *plant, const char *size_name,
                       BlMoment moment);
gboolean bl_season_bloom (const BlSite *site, const BlPlant *plant, double *from, double *to);
/* A plant of wood that stands through the winter, as against one that dies down. */
gboolean bl_plant_is_woody (const BlPlant *plant);
