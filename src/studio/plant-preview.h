/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant as it will be drawn: standing with a scale beside it, from above, and through the year. */
#pragma once

#include <gtk/gtk.h>

#include "base/units.h"
#include "plants/season.h"

#define BL_TYPE_PLANT_PREVIEW (bl_plant_preview_get_type ())
G_DECLARE_FINAL_TYPE (BlPlantPreview, bl_plant_preview, BL, PLANT_PREVIEW, GtkBox)

GtkWidget *bl_plant_preview_new (BlUnits units, BlZone zone);
/* NULL while there is nothing whole enough to be drawn: what was drawn last stays, paler. */
void bl_plant_preview_set (BlPlantPreview *preview, BlPlant *plant);
