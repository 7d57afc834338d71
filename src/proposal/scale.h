/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing scales as the trade states them, and the one that fits a sheet. */
#pragma once

#include "base/units.h"

typedef struct
{
  double ratio;      /* 48 for 1/4" = 1'-0" */
  const char *text;  /* "1/4\" = 1'-0\"" or "1:50" */
} BlScale;

/* The largest usual scale at which @width × @height metres fit into @points_w × @points_h PDF
 * points. Architect's and engineer's scales for feet, ISO 5455 ratios for metres. */
BlScale bl_scale_choose (double width, double height, double points_w, double points_h,
                         BlUnits units);
/* PDF points per metre on the ground. */
double bl_scale_points_per_metre (BlScale scale);
