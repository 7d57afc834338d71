/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A landscape's water of a year, planted and grown, by the Californian ordinance's method. */
#pragma once

#include "takeoff/takeoff.h"

/* Water need of a plant: typical single factors of the classes in WUCOLS (low 0.1-0.3, moderate
 * 0.4-0.6, high 0.7-1.0). A record does not state a WUCOLS class; it is taken from how well the
 * plant bears drought (common practice), and where that is not known, nothing is assumed. */
typedef struct
{
  const char *name;     /* "low" */
  double factor;
  double area;          /* m² of the beds, shared out by mature spread */
  guint count;
} BlWaterZone;

#define BL_WATER_ZONES 4 /* low, moderate, high, not known (no factor: taken as high) */

typedef struct
{
  double eto[12];        /* mm of each month, as given */
  double eto_year;       /* mm */
  double factor;         /* of the allowance: 0.55 homes, 0.45 other (2015) */
  double efficiency;     /* 0.81 drip, 0.75 overhead */
  double area;           /* m² */
  BlWaterZone zones[BL_WATER_ZONES];
  double allowance, use; /* litres a year: MAWA and ETWU */
  double use_month[12];  /* litres */
} BlYearWater;

/* @eto: twelve monthly sums, mm; never fails. */
void bl_year_water (const BlTakeoff *takeoff, const double *eto, double factor, double efficiency,
                    BlYearWater *water);
/* Monthly sums, mm, from mean daily lowest and highest temperatures (FAO-56 eq. 52 on each month's
 * middle day). */
void bl_year_eto (double latitude, const double *tmin_c, const double *tmax_c, double *eto);
char *bl_year_water_to_json (const BlYearWater *water);
