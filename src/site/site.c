/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The site's facts as a value, and the words for soil, moisture and light. */
#include "site/site.h"

#include "base/say.h"

#include <math.h>
#include <string.h>

static const char *const soil_names[] = { "unknown", BL_SAID ("sand"), BL_SAID ("loam"), BL_SAID ("clay") };
static const char *const moisture_names[] = { "unknown", BL_SAID ("dry"), BL_SAID ("medium"), BL_SAID ("wet") };
static const char *const wind_names[] = { "unknown", BL_SAID ("sheltered"), "open", "windy" };
static const char *const light_names[] = { "unknown", "shade", "part", "full" };

/* No standard exists and the sources disagree; only the six hours of full sun are common to them.
 */
static const BlLightRule light_rules[] = {
  { "common practice", 6.0, 3.0, BL_SAID ("common practice: full sun 6 h or more, part 3 to 6 h") },
  { "NC State", 6.0, 2.0, BL_SAID ("North Carolina State Extension, Plant Toolbox: part 2 to 6 h") },
  { "K-State", 6.0, 3.0,
    BL_SAID ("Kansas State Research and Extension, Johnson County: light shade 3 to 5 h") },
  { "Colorado State", 6.0, 2.0, BL_SAID ("Colorado State Extension: part shade at least 2 h") },
  { "strict trade norm", 6.0, 4.0, BL_SAID ("common practice in the trade: part 4 to 6 h") },
};

void
bl_site_init (BlSite *site)
{
  memset (site, 0, sizeof *site);
  site->latitude = NAN;
  site->longitude = NAN;
  site->north = NAN;
  site->sun_hours = NAN;
  site->hot_days = NAN;
  site->full_from = NAN;
  site->part_from = NAN;
}

void
bl_site_copy (BlSite *to, const BlSite *from)
{
  *to = *from;
  to->state = g_strdup (from->state);
}

void
bl_site_clear (BlSite *site)
{
  g_free (site->state);
  bl_site_init (site);
}

static int
index_of (const char *const *names, guint n, const char *name)
{
  guint i = 0;

  for (i = 0; name != NULL && i < n; i++)
    if (g_ascii_strcasecmp (names[i], name) == 0)
      return (int) i;
  return -1;
}

const char *
bl_soil_name (BlSoil soil)
{
  return soil_names[soil];
}

const char *
bl_moisture_name (BlMoisture moisture)
{
  return moisture_names[moisture];
}

/* In the middle the ground is neither: "medium" alone would say nothing. */
const char *
bl_moisture_words (BlMoisture moisture)
{
  return moisture == BL_MOISTURE_MEDIUM ? BL_SAID ("moderately moist") : moisture_names[moisture];
}

const char *
bl_wind_words (BlWind wind)
{
  return wind == BL_WIND_OPEN    ? BL_SAID ("open to it")
         : wind == BL_WIND_WINDY ? BL_SAID ("windy")
                                 : wind_names[wind];
}

const char *
bl_light_name (BlLight light)
{
  return light_names[light];
}

const char *
bl_wind_name (BlWind wind)
{
  return wind_names[wind];
}

gboolean
bl_soil_from_name (const char *name, BlSoil *soil)
{
  int i = index_of (soil_names, G_N_ELEMENTS (soil_names), name);

  if (i >= 0)
    *soil = (BlSoil) i;
  return i >= 0;
}

gboolean
bl_moisture_from_name (const char *name, BlMoisture *moisture)
{
  int i = index_of (moisture_names, G_N_ELEMENTS (moisture_names), name);

  if (i >= 0)
    *moisture = (BlMoisture) i;
  return i >= 0;
}

gboolean
bl_light_from_name (const char *name, BlLight *light)
{
  int i = index_of (light_names, G_N_ELEMENTS (light_names), name);

  if (i >= 0)
    *light = (BlLight) i;
  return i >= 0;
}

gboolean
bl_wind_from_name (const char *name, BlWind *wind)
{
  int i = index_of (wind_names, G_N_ELEMENTS (wind_names), name);

  if (i >= 0)
    *wind = (BlWind) i;
  return i >= 0;
}

const BlLightRule *
bl_light_rules (guint *n)
{
  *n = G_N_ELEMENTS (light_rules);
  return light_rules;
}

BlLight
bl_light_from_hours_by (double hours, const BlLightRule *rule)
{
  if (isnan (hours) || hours < 0)
    return BL_LIGHT_UNKNOWN;
  if (hours >= rule->full_from)
    return BL_LIGHT_FULL;
  return hours >= rule->part_from ? BL_LIGHT_PART : BL_LIGHT_SHADE;
}

BlLight
bl_light_from_hours (double hours)
{
  return bl_light_from_hours_by (hours, &light_rules[0]);
}

BlLightRule
bl_site_light_rule (const BlSite *site)
{
  const BlLightRule *usual = &light_rules[0];
  BlLightRule own = { "own", usual->full_from, usual->part_from, BL_SAID ("hours stated for this design") };
  guint i = 0;

  if (!isnan (site->full_from))
    own.full_from = site->full_from;
  if (!isnan (site->part_from))
    own.part_from = site->part_from;
  for (i = 0; i < G_N_ELEMENTS (light_rules); i++)
    if (fabs (own.full_from - light_rules[i].full_from) < 0.005
        && fabs (own.part_from - light_rules[i].part_from) < 0.005)
      return light_rules[i];
  return own;
}
