/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Twelve columns: mean hours of direct sun over a bed in each month. */
#pragma once

#include <gtk/gtk.h>

#define BL_TYPE_SUN_YEAR (bl_sun_year_get_type ())
G_DECLARE_FINAL_TYPE (BlSunYear, bl_sun_year, BL, SUN_YEAR, GtkWidget)

GtkWidget *bl_sun_year_new (void);
/* @part and @full: hours where part sun and full sun begin, drawn as lines. */
void bl_sun_year_set (BlSunYear *year, const double months[12], double part, double full);
