/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant as an item of a list. */
#pragma once

#include <gio/gio.h>

#include "plants/plant.h"

#define BL_TYPE_PLANT_ITEM (bl_plant_item_get_type ())
G_DECLARE_FINAL_TYPE (BlPlantItem, bl_plant_item, BL, PLANT_ITEM, GObject)

BlPlantItem *bl_plant_item_new (BlPlant *plant);
BlPlant *bl_plant_item_get_plant (BlPlantItem *item);
