/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant as an item of a list. */

#include "config.h"

#include "studio/plant-item.h"

struct _BlPlantItem
{
  GObject parent_instance;

  BlPlant *plant;
};

G_DEFINE_FINAL_TYPE (BlPlantItem, bl_plant_item, G_TYPE_OBJECT)

static void
bl_plant_item_finalize (GObject *object)
{
  bl_plant_unref (BL_PLANT_ITEM (object)->plant);
  G_OBJECT_CLASS (bl_plant_item_parent_class)->finalize (object);
}

static void
bl_plant_item_class_init (BlPlantItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bl_plant_item_finalize;
}

static void
bl_plant_item_init (BlPlantItem *self)
{
}

BlPlantItem *
bl_plant_item_new (BlPlant *plant)
{
  BlPlantItem *self = g_object_new (BL_TYPE_PLANT_ITEM, NULL);

  self->plant = bl_plant_ref (plant);
  return self;
}

BlPlant *
bl_plant_item_get_plant (BlPlantItem *self)
{
  return self->plant;
}
