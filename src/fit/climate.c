/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cold, heat, light, water and soil against what the plant bears. */
#include <math.h>

#include "fit/fit-private.h"

static const char *const half_zone_words[]
  = { "",
      BL_SAID ("half a zone"),
      BL_SAID ("a zone"),
      BL_SAID ("one and a half zones"),
      BL_SAID ("two zones"),
      BL_SAID ("two and a half zones"),
      BL_SAID ("three zones") };

static char *
zones_between (const BlFitContext *context, int halves)
{
  if (halves < (int) G_N_ELEMENTS (half_zone_words))
    return g_strdup (bl_fit_say (context, half_zone_words[halves]));
  return g_strdup_printf (bl_fit_say (context, "%.1f zones"), halves / 2.0);
}

static void
check_zone (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[]
    = BL_SAID ("USDA Plant Hardiness Zone Map, half zones of 5 °F; the plant's range from its record");
  BlZone zone = context->model->site.zone;
  int colder = s->plant->zone_low - zone, warmer = zone - s->plant->zone_high;
  g_autofree char *here = bl_zone_format (zone);
  g_autofree char *low = bl_zone_format (s->plant->zone_low);
  g_autofree char *high = bl_zone_format (s->plant->zone_high);
  g_autofree char *apart = zones_between (context, MAX (colder, MAX (warmer, 0)));
  g_autofree char *here_low = NULL;
  g_autofree char *bears = NULL;
  double site_c = 0, plant_c = 0;

  /* Annuals are planted for one summer: winter does not try them. */
  if (zone == 0 || s->plant->type == BL_TYPE_ANNUAL)
    return;
  bl_zone_range (zone, &site_c, NULL);
  bl_zone_range (s->plant->zone_low, &plant_c, NULL);
  here_low = bl_fit_temperature (context, site_c);
  bears = bl_fit_temperature (context, plant_c);
  if (colder > 0)
    bl_fit_add (
      context, s, "zone", BL_SEVERITY_UNLIKELY, source,
      "Hardy in zones %s to %s; this site is %s, %s too cold: winters here go down to about"
      " %s in an ordinary year, the plant bears about %s.",
      low, high, here, apart, here_low, bears);
  else if (warmer > 0)
    bl_fit_add (
      context, s, "zone-warm", warmer > 1 ? BL_SEVERITY_UNLIKELY : BL_SEVERITY_CAUTION, source,
      "Grown in zones %s to %s; this site is %s, %s too warm: such plants fail in the heat or"
      " miss their winter.",
      low, high, here, apart);
}

/* "up to 45", "91 or more": the days of a band of summer heat, for a sentence. */
static char *
band_days (const BlFitContext *context, int zone, gboolean most)
{
  double low = 0, high = 0;

  bl_heat_zone_days (zone, &low, &high);
  if (most)
    return g_strdup_printf (bl_fit_say (context, "up to %.0f"), high);
  return g_strdup_printf (bl_fit_say (context, "%.0f or more"), low);
}

static void
check_heat (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("Published bands of the mean number of days a year above 30 °C "
                               "(86 °F), twelve of them, 1997; the plant's limits from its record");
  double days = context->model->site.hot_days;
  int here = bl_heat_zone_for_days (days);
  const BlPlant *p = s->plant;
  g_autofree char *wants = NULL;

  if (here == 0)
    return;
  if (p->heat_high > 0 && here > p->heat_high)
    {
      wants = band_days (context, p->heat_high, TRUE);
      bl_fit_add (context, s, "heat",
                  here - p->heat_high > 1 ? BL_SEVERITY_UNLIKELY : BL_SEVERITY_CAUTION, source,
                  "Bears %s days a year above %s; this site has about %.0f: give it shade at noon"
                  " and water, or another plant.",
                  wants, context->model->units == BL_UNITS_FEET ? "86 °F" : "30 °C", days);
    }
  else if (p->heat_low > 1 && here < p->heat_low)
    {
      wants = band_days (context, p->heat_low, FALSE);
      bl_fit_add (context, s, "heat-short", BL_SEVERITY_CAUTION, source,
                  "Wants %s days a year above %s to ripen its wood and flower; this site has about"
                  " %.0f.",
                  wants, context->model->units == BL_UNITS_FEET ? "86 °F" : "30 °C", days);
    }
}

static const char *
light_word (BlLight light)
{
  return light == BL_LIGHT_FULL   ? BL_SAID ("full sun")
         : light == BL_LIGHT_PART ? BL_SAID ("part sun")
                                  : BL_SAID ("shade");
}

static char *
light_words (const BlFitContext *context, guint bits)
{
  GString *text = g_string_new (NULL);
  guint l = 0;

  for (l = BL_LIGHT_FULL; l >= BL_LIGHT_SHADE; l--)
    if (bits & BL_LIGHT_BIT (l))
      g_string_append_printf (text, "%s%s", text->len > 0 ? bl_fit_say (context, " or ") : "",
                              bl_fit_say (context, light_word ((BlLight) l)));
  return g_string_free (text, FALSE);
}

/* The nearest light that the plant takes to the light there is. */
static void
check_light (BlFitContext *context, const BlFitSubject *s)
{
  double hours = bl_fit_sun_hours (context, s->bed);
  BlLightRule rule = bl_site_light_rule (&context->model->site);
  BlLight here = bl_light_from_hours_by (hours, &rule);
  guint bits = s->plant->light;
  gboolean wants_more = FALSE;
  double missing = 0;
  g_autofree char *wanted = NULL;
  g_autofree char *source = NULL;
  BlSeverity severity = BL_SEVERITY_UNLIKELY;

  if (here == BL_LIGHT_UNKNOWN || (bits & BL_LIGHT_BIT (here)))
    return;
  wants_more = bits >= BL_LIGHT_BIT (here + 1);
  if (wants_more)
    missing = (bits & BL_LIGHT_BIT (BL_LIGHT_PART) ? rule.part_from : rule.full_from) - hours;
  else
    missing = hours - (bits & BL_LIGHT_BIT (BL_LIGHT_PART) ? rule.full_from : rule.part_from);
  if (missing <= 1.0)
    severity = BL_SEVERITY_CAUTION;
  wanted = light_words (context, bits);
  source = g_strdup_printf (
    bl_fit_say (context, "Full sun from %g hours, part sun from %g: %s; the sources disagree"),
    rule.full_from, rule.part_from, bl_fit_say (context, rule.source));
  bl_fit_add (context, s, "light", severity, source,
              "Wants %s; this bed has about %.1f hours of direct sun a day in the growing season,"
              " which is %s: %.1f hours too %s.",
              wanted, hours, bl_fit_say (context, light_word (here)), MAX (missing, 0.1),
              wants_more ? bl_fit_say (context, "few") : bl_fit_say (context, "many"));
}

static char *
moisture_words (const BlFitContext *context, guint bits)
{
  GString *text = g_string_new (NULL);
  guint m = 0;

  for (m = BL_MOISTURE_DRY; m <= BL_MOISTURE_WET; m++)
    if (bits & BL_MOISTURE_BIT (m))
      g_string_append_printf (text, "%s%s", text->len > 0 ? bl_fit_say (context, " or ") : "",
                              bl_fit_say (context, bl_moisture_words ((BlMoisture) m)));
  return g_string_free (text, FALSE);
}

static void
check_moisture (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[]
    = BL_SAID ("The plant's record: moisture range and drought tolerance once established; common practice");
  BlMoisture here = context->model->site.moisture;
  g_autofree char *wanted = moisture_words (context, s->plant->moisture);
  gboolean next_door = FALSE;

  if (here == BL_MOISTURE_UNKNOWN)
    return;
  next_door = (s->plant->moisture & BL_MOISTURE_BIT (here - 1))
              || (s->plant->moisture & BL_MOISTURE_BIT (here + 1));
  if (!(s->plant->moisture & BL_MOISTURE_BIT (here)))
    bl_fit_add (context, s, "moisture",
                next_door && here != BL_MOISTURE_WET ? BL_SEVERITY_CAUTION : BL_SEVERITY_UNLIKELY,
                source, "Wants %s ground; the ground here is %s%s.", wanted,
                bl_fit_say (context, bl_moisture_words (here)),
                here == BL_MOISTURE_DRY
                  ? bl_fit_say (context, ": plan on watering after the first years too")
                  : "");
  else if (here == BL_MOISTURE_DRY && s->plant->drought == BL_GRADE_LOW)
    bl_fit_add (context, s, "drought", BL_SEVERITY_CAUTION, source,
                "Bears little drought even when established, and the ground here is dry.");
}

/* The soil as a soil, where the catalogue's "clay" alone may be a material. */
static const char *const soil_words[]
  = { "", BL_SAID ("sandy soil"), BL_SAID ("loamy soil"), BL_SAID ("clay soil") };

static void
check_soil (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("The plant's record: soils and pH; test the soil before deciding");
  const BlSite *site = &context->model->site;
  double away = 0;

  if (site->soil != BL_SOIL_UNKNOWN && !(s->plant->soil & BL_SOIL_BIT (site->soil)))
    bl_fit_add (context, s, "soil", BL_SEVERITY_CAUTION, source,
                "Does not like %s, which is the soil here.",
                bl_fit_say (context, soil_words[site->soil]));
  if (site->ph <= 0 || s->plant->ph_low <= 0)
    return;
  away = MAX (s->plant->ph_low - site->ph, site->ph - s->plant->ph_high);
  if (away > 0.05)
    bl_fit_add (context, s, "ph", away > 0.5 ? BL_SEVERITY_UNLIKELY : BL_SEVERITY_CAUTION, source,
                "Grows at pH %.1f to %.1f; the soil here is pH %.1f, %.1f too %s.",
                s->plant->ph_low, s->plant->ph_high, site->ph, away,
                site->ph > s->plant->ph_high ? bl_fit_say (context, "alkaline")
                                             : bl_fit_say (context, "acid"));
}

void
bl_fit_climate (BlFitContext *context, const BlFitSubject *subject)
{
  context->speaking = 0;
  check_zone (context, subject);
  check_heat (context, subject);
  check_light (context, subject);
  check_moisture (context, subject);
  check_soil (context, subject);
}
