/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The site: where it is, how cold, when it freezes, what the ground is like. */
#pragma once

#include "base/date.h"

typedef enum { BL_SOIL_UNKNOWN, BL_SOIL_SAND, BL_SOIL_LOAM, BL_SOIL_CLAY } BlSoil;
typedef enum { BL_MOISTURE_UNKNOWN, BL_MOISTURE_DRY, BL_MOISTURE_MEDIUM, BL_MOISTURE_WET } BlMoisture;
/* How much wind reaches the site: behind buildings, trees or a hedge; like most gardens; on a
 * ridge, a shore, a roof or a gap between tall buildings. */
typedef enum { BL_WIND_UNKNOWN, BL_WIND_SHELTERED, BL_WIND_OPEN, BL_WIND_WINDY } BlWind;
typedef enum { BL_LIGHT_UNKNOWN, BL_LIGHT_SHADE, BL_LIGHT_PART, BL_LIGHT_FULL } BlLight;

/* A USDA half zone as 2 × number + (b ? 1 : 0): "5b" = 11; 0 = not known. */
typedef int BlZone;

BlZone bl_zone_parse (const char *text, GError **error); /* "5b"; "5" is taken as 5a */
char *bl_zone_format (BlZone zone);                       /* "5b" */
/* Average annual extreme minimum, °C, colder bound (inclusive) and warmer bound. */
void bl_zone_range (BlZone zone, double *low_c, double *high_c);
BlZone bl_zone_for_temperature (double celsius);

typedef struct
{
  double latitude, longitude; /* degrees, NAN = not known */
  double north;               /* direction of true north, degrees clockwise from plan +y; NAN = not known */
  BlZone zone;
  BlMonthDay last_frost, first_frost; /* median dates; month 0 = not known */
  BlSoil soil;
  double ph;                  /* 0 = not known */
  BlMoisture moisture;
  double sun_hours;           /* stated hours of direct sun, growing season; NAN = not stated */
  gboolean salt_edge;         /* a feature marks the salted edge too; this says the whole site */
  gboolean children, pets;    /* cautions on toxic plants speak up */
  gboolean deer;
  BlWind wind;
  double hot_days;            /* mean days a year above 30 °C (86 °F); NAN = not known */
  gboolean fire_zone;         /* the fire authority's zone reaches here: rules near walls speak up */
  double full_from, part_from; /* hours of direct sun where full sun and part sun begin; NAN = usual */
  char *state;                /* two letter state or province, for regulated lists; may be NULL */
} BlSite;

void bl_site_init (BlSite *site);
void bl_site_copy (BlSite *to, const BlSite *from);
void bl_site_clear (BlSite *site);
const char *bl_soil_name (BlSoil soil);
/* The words in a sentence, in English: "dry", "moderately moist"; "windy", "open to it". */
const char *bl_moisture_words (BlMoisture moisture);
const char *bl_wind_words (BlWind wind);
const char *bl_moisture_name (BlMoisture moisture);
const char *bl_light_name (BlLight light);
const char *bl_wind_name (BlWind wind); /* "sheltered", "open", "windy" */
gboolean bl_soil_from_name (const char *name, BlSoil *soil);
gboolean bl_moisture_from_name (const char *name, BlMoisture *moisture);
gboolean bl_light_from_name (const char *name, BlLight *light);
gboolean bl_wind_from_name (const char *name, BlWind *wind);
/* Full sun 6 h or more, part 3-6, shade under 3 (common practice; the sources disagree). */
BlLight bl_light_from_hours (double hours);
/* Where the classes begin, and who says so: settings, because no standard exists. */
typedef struct
{
  const char *name;
  double full_from, part_from; /* hours of direct sun a day in the growing season */
  const char *source;
} BlLightRule;

/* The rules known; the first is the one bl_light_from_hours() uses. */
const BlLightRule *bl_light_rules (guint *n);
BlLight bl_light_from_hours_by (double hours, const BlLightRule *rule);
/* The rule in force on @site: the known one whose hours are the site's, the usual one where the
 * site says nothing, else the site's own hours with the source "stated for this design". */
BlLightRule bl_site_light_rule (const BlSite *site);

/* Bands of the mean number of days a year above 30 °C (86 °F), 1 (none) to 12 (more than 210); the
 * plants' heat limits are kept in them. 0 = not known. */
int bl_heat_zone_for_days (double days_above_30c);
/* The days of a band; @high is INFINITY for the last. */
void bl_heat_zone_days (int zone, double *low, double *high);
