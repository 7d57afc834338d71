/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing scales. */
#include "proposal/scale.h"

static const BlScale feet[] = {
  { 12, "1\" = 1'-0\"" }, { 24, "1/2\" = 1'-0\"" }, { 32, "3/8\" = 1'-0\"" },
  { 48, "1/4\" = 1'-0\"" }, { 64, "3/16\" = 1'-0\"" }, { 96, "1/8\" = 1'-0\"" },
  { 120, "1\" = 10'" }, { 192, "1/16\" = 1'-0\"" }, { 240, "1\" = 20'" }, { 360, "1\" = 30'" },
  { 480, "1\" = 40'" }, { 600, "1\" = 50'" }, { 1200, "1\" = 100'" },
};
static const BlScale metres[] = {
  { 10, "1:10" }, { 20, "1:20" }, { 50, "1:50" }, { 100, "1:100" }, { 200, "1:200" },
  { 500, "1:500" }, { 1000, "1:1000" },
};

double
bl_scale_points_per_metre (BlScale scale)
{
  return 72.0 / 0.0254 / scale.ratio;
}

BlScale
bl_scale_choose (double width, double height, double points_w, double points_h, BlUnits units)
{
  const BlScale *list = units == BL_UNITS_FEET ? feet : metres;
  guint n = units == BL_UNITS_FEET ? G_N_ELEMENTS (feet) : G_N_ELEMENTS (metres);

  for (guint i = 0; i < n; i++)
    {
      double k = bl_scale_points_per_metre (list[i]);

      if (width * k <= points_w && height * k <= points_h)
        return list[i];
    }
  return list[n - 1];
}
