/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A quantity's unit as the person sees it: cubic yards for cubic metres, and so on. */
#include "takeoff/shown.h"

#include "base/say.h"

#include <string.h>

const char *
bl_unit_shown (const char *unit, BlUnits units, double *si)
{
  static const struct
  {
    const char *unit, *feet, *metres;
    double si;
  } rows[] = {
    { "m3", BL_SAID ("cu yd"), "m³", BL_M3_PER_CUBIC_YARD },
    { "m2", BL_SAID ("sq ft"), "m²", BL_M2_PER_SQUARE_FOOT },
    { "m", BL_SAID ("ft"), "m", BL_METRES_PER_FOOT },
    { "kg", BL_SAID ("lb"), "kg", BL_KG_PER_POUND },
  };

  *si = 1;
  if (unit == NULL)
    return "";
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (strcmp (rows[i].unit, unit) == 0)
      {
        if (units == BL_UNITS_METRES)
          return rows[i].metres;
        *si = rows[i].si;
        return rows[i].feet;
      }
  return unit;
}
