/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hardiness half zones and heat zones: reading, writing, and their temperatures. */
#include "config.h"

#include "site/site.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

#define FIRST_ZONE 2 /* 1a */
#define LAST_ZONE 27 /* 13b */

static double
celsius_of (double fahrenheit)
{
  return (fahrenheit - 32.0) * 5.0 / 9.0;
}

BlZone
bl_zone_parse (const char *text, GError **error)
{
  g_autofree char *trimmed = g_strstrip (g_strdup (text != NULL ? text : ""));
  char *end = NULL;
  guint64 number = g_ascii_strtoull (trimmed, &end, 10);
  char half = g_ascii_tolower (*end);
  BlZone zone = 0;

  if (!g_ascii_isdigit (trimmed[0]) || number < 1 || number > 13)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("“%s” is not a hardiness zone: write 1a to 13b, such as 5b"), trimmed);
      return 0;
    }
  zone = (BlZone) (2 * number + (half == 'b' ? 1 : 0));
  if (half != '\0' && ((half != 'a' && half != 'b') || end[1] != '\0'))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("“%s” is not a hardiness zone: after the number only a or b may follow"),
                   trimmed);
      return 0;
    }
  return zone;
}

char *
bl_zone_format (BlZone zone)
{
  if (zone < FIRST_ZONE || zone > LAST_ZONE)
    return g_strdup ("");
  return g_strdup_printf ("%d%c", zone / 2, zone % 2 == 0 ? 'a' : 'b');
}

/* Zones are 10 °F and half zones 5 °F wide, 1a beginning at -60 °F (USDA Plant Hardiness Zone Map,
 * 2012 and 2023 editions). */
void
bl_zone_range (BlZone zone, double *low_c, double *high_c)
{
  double low_f = -60.0 + 5.0 * (zone - FIRST_ZONE);

  if (low_c != NULL)
    *low_c = celsius_of (low_f);
  if (high_c != NULL)
    *high_c = celsius_of (low_f + 5.0);
}

BlZone
bl_zone_for_temperature (double celsius)
{
  /* The published table does not say to which side a value on a boundary belongs; here the lower
   * bound is inside. The small term keeps -10 °F, written in Celsius, in 6a. */
  double steps = (celsius * 9.0 / 5.0 + 32.0 + 60.0) / 5.0;

  if (isnan (celsius))
    return 0;
  return (BlZone) CLAMP (FIRST_ZONE + floor (steps + 1e-9), FIRST_ZONE, LAST_ZONE);
}

/* The published bands of the national map of summer heat of 1997: mean days a year above 86 °F, up
 * to and with each of these; the first band has none, the last all above. */
static const double heat_upper[] = { 1, 7, 14, 30, 45, 60, 90, 120, 150, 180, 210, INFINITY };

int
bl_heat_zone_for_days (double days_above_30c)
{
  guint i = 1;

  if (isnan (days_above_30c) || days_above_30c < 0)
    return 0;
  if (days_above_30c < 1)
    return 1;
  while (days_above_30c > heat_upper[i])
    i++;
  return (int) i + 1;
}

void
bl_heat_zone_days (int zone, double *low, double *high)
{
  int i = CLAMP (zone, 1, (int) G_N_ELEMENTS (heat_upper)) - 1;

  *low = i > 0 ? heat_upper[i - 1] : 0.0;
  *high = heat_upper[i];
}
