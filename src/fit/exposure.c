/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Salt, ploughed snow, wind, deer and walnut roots. */
#include <math.h>

#include "fit/fit-private.h"

/* Soil beside salted pavement takes the melt; beyond this much less of it (common practice). */
#define SOIL_SALT_REACH 3.0
/* Next to the pavement itself. */
#define SOIL_SALT_WORST 1.0
/* Spray does most harm within 60 ft of a salted road (Morton Arboretum's advice, as reprinted). */
#define SPRAY_REACH 18.3
/* Roots of a mature walnut: 50 to 60 ft on average, 80 ft at most (Funt and Martin, Ohio State). */
#define WALNUT_USUAL 18.3
#define WALNUT_FAR 24.4

static void
check_salt (BlFitContext *context, const BlFitSubject *s)
{
  static const char soil_source[] = BL_SAID ("University of Florida IFAS: beside pavement choose plants "
                                    "that bear salt in the soil; reach 10 ft is common practice");
  static const char spray_source[] = BL_SAID ("Hofstra, Hall and Lumis 1979; Morton Arboretum: spray is "
                                     "worst within 60 ft of a salted road");
  const BlPlant *p = s->plant;
  gboolean everywhere = context->model->site.salt_edge;
  double d = bl_fit_nearest (context, s, BL_FEATURE_SALTED_EDGE, NULL);
  g_autofree char *away = NULL;
  gboolean green_in_winter = bl_plant_is_woody (p) || p->leaves != BL_LEAVES_DECIDUOUS;

  if (everywhere)
    d = MIN (d, 0.5 * SOIL_SALT_REACH);
  if (!isfinite (d))
    return;
  away = everywhere && d >= 0.5 * SOIL_SALT_REACH ? g_strdup (bl_fit_say (context, "on a salted site")) : NULL;
  if (away == NULL)
    {
      g_autofree char *length = bl_fit_length (context, d);

      away = g_strdup_printf (bl_fit_say (context, "%s from the salted edge"), length);
    }
  if (d <= SOIL_SALT_REACH && p->type != BL_TYPE_ANNUAL)
    {
      if (p->soil_salt == BL_GRADE_LOW)
        bl_fit_add (context, s, "salt-soil", BL_SEVERITY_UNLIKELY, soil_source,
                    "Bears little salt in the soil and stands %s.", away);
      else if (p->soil_salt == BL_GRADE_UNKNOWN && d <= 0.5 * SOIL_SALT_REACH)
        bl_fit_add (context, s, "salt-soil", BL_SEVERITY_CAUTION, soil_source,
                    "Stands %s, and how it bears salt in the soil is not known.", away);
      else if (p->soil_salt == BL_GRADE_MEDIUM && d <= SOIL_SALT_WORST && !everywhere)
        bl_fit_add (context, s, "salt-soil", BL_SEVERITY_CAUTION, soil_source,
                    "Bears some salt in the soil but stands only %s: flush the bed in spring.",
                    away);
    }
  /* What dies down has nothing above ground that the winter's spray could burn. */
  if (d <= SPRAY_REACH && green_in_winter && p->spray_salt == BL_GRADE_LOW)
    bl_fit_add (context, s, "salt-spray", BL_SEVERITY_UNLIKELY, spray_source,
                "Buds and leaves are burnt by salt spray, and it stands %s.", away);
}

static void
check_snow (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[]
    = BL_SAID ("Common practice: where the plough piles snow only low plants that die down or bend belong");
  const BlFitFeature *pile = NULL;
  double d = bl_fit_nearest (context, s, BL_FEATURE_SNOW_PILE, &pile);
  const BlPlant *p = s->plant;
  gboolean woody = bl_plant_is_woody (p);
  g_autofree char *height = bl_fit_length (context, p->height);

  if (d > 0 || p->type == BL_TYPE_ANNUAL)
    return;
  if (woody && p->height > 1.2)
    bl_fit_add (context, s, "snow-pile", BL_SEVERITY_UNLIKELY, source,
                "Grows to %s in wood and stands where snow is piled (%s): ploughed snow breaks it.",
                height, bl_fit_feature_name (context, pile));
  else if (p->snow_load == BL_GRADE_LOW)
    bl_fit_add (context, s, "snow-pile", BL_SEVERITY_UNLIKELY, source,
                "Breaks or lies down under snow and stands where it is piled (%s).",
                bl_fit_feature_name (context, pile));
  else if (p->snow_load == BL_GRADE_UNKNOWN || (woody && p->snow_load == BL_GRADE_MEDIUM))
    bl_fit_add (context, s, "snow-pile", BL_SEVERITY_CAUTION, source,
                "Stands where snow is piled (%s); %s.", bl_fit_feature_name (context, pile),
                p->snow_load == BL_GRADE_UNKNOWN
                  ? bl_fit_say (context, "how it bears the load is not known")
                  : bl_fit_say (context, "expect broken stems in some winters"));
}

/* Herbs from this height are thrown by wind unless they are staked (common practice: 4 ft). */
#define WIND_THROW 1.2

static void
check_wind (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("The plant's record: tolerance of wind; common practice: stake tall "
                               "herbs in wind, keep large leaves and thin bark out of it");
  BlWind here = context->model->site.wind;
  const BlPlant *p = s->plant;
  const char *how = bl_plant_is_woody (p)
                      ? bl_fit_say (context, "leaves scorch and twigs die back")
                      : bl_fit_say (context, "stems lodge and leaves tear");
  g_autofree char *height = bl_fit_length (context, p->height);

  context->speaking = 0;
  if (here != BL_WIND_WINDY && here != BL_WIND_OPEN)
    return;
  if (p->wind == BL_GRADE_LOW)
    bl_fit_add (context, s, "wind",
                here == BL_WIND_WINDY ? BL_SEVERITY_UNLIKELY : BL_SEVERITY_CAUTION, source,
                "Grows to %s and bears little wind; this site is %s: %s.", height,
                bl_fit_say (context, bl_wind_words (here)),
                how);
  else if (here == BL_WIND_WINDY && p->wind == BL_GRADE_UNKNOWN)
    bl_fit_add (context, s, "wind", BL_SEVERITY_CAUTION, source,
                "Grows to %s on a windy site, and how it bears wind is not known.", height);
  else if (here == BL_WIND_WINDY && (g_strcmp0 (p->support, "stake") == 0
                                     || (p->wind == BL_GRADE_MEDIUM && p->height >= WIND_THROW
                                         && !bl_plant_is_woody (p))))
    bl_fit_add (context, s, "wind", BL_SEVERITY_CAUTION, source,
                "Grows to %s on soft stems, and this site is windy: it needs staking.", height);
}

static void
check_deer (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("The plant's record, in the steps of Rutgers NJAES, Landscape "
                               "plants rated by deer resistance; no plant is deer proof");

  context->speaking = 0;
  if (context->model->site.deer && s->plant->deer == BL_BROWSE_OFTEN)
    bl_fit_add (context, s, "deer", BL_SEVERITY_UNLIKELY, source,
                "Deer come here and often browse it: it needs a fence or repellent all year.");
}

static void
check_walnut (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("Funt and Martin, Ohio State University: roots reach 50 to 80 ft; "
                               "the lists rest on observation, not on trials");
  double d = bl_fit_nearest (context, s, BL_FEATURE_WALNUT, NULL);
  g_autofree char *away = NULL;

  if (s->plant->juglone != BL_GRADE_LOW || d > WALNUT_FAR)
    return;
  away = bl_fit_length (context, d);
  bl_fit_add (context, s, "juglone", d <= WALNUT_USUAL ? BL_SEVERITY_UNLIKELY : BL_SEVERITY_CAUTION,
              source,
              "Reported to suffer from what walnut roots give off, and stands %s from the walnut.",
              away);
}

void
bl_fit_exposure (BlFitContext *context, const BlFitSubject *subject)
{
  check_salt (context, subject);
  check_snow (context, subject);
  check_wind (context, subject);
  check_deer (context, subject);
  check_walnut (context, subject);
}
