/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of a plant's form for its own cut-out picture. */
#pragma once

#include <gtk/gtk.h>

#include "base/units.h"
#include "plants/plant.h"

#define BL_TYPE_PLANT_PICTURE (bl_plant_picture_get_type ())
G_DECLARE_FINAL_TYPE (BlPlantPicture, bl_plant_picture, BL, PLANT_PICTURE, GtkBox)

/* Signal "changed". */
GtkWidget *bl_plant_picture_new (BlUnits units);
/* What @plant has, or nothing. */
void bl_plant_picture_set (BlPlantPicture *picture, const BlPlant *plant);
/* Reads a file on another thread; trouble is told on the page. */
void bl_plant_picture_take (BlPlantPicture *picture, const char *path);
gboolean bl_plant_picture_is_busy (BlPlantPicture *picture);
/* The value of the record's key "picture", where the height is not stated @usual metres; NULL when
 * there is none. (transfer full) */
char *bl_plant_picture_value (BlPlantPicture *picture, double usual);
GBytes *bl_plant_picture_bytes (BlPlantPicture *picture); /* borrowed; NULL = none */
