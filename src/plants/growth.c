/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Size at an age: a logistic curve from the size planted to the mature one. */
#include <math.h>
#include <string.h>

#include "plants/season.h"

/* Share of the mature size that counts as mature, reached after the record's years. */
#define MATURE 0.95

static const BlPlantSize *
size_named (const BlPlant *plant, const char *name)
{
  guint i = 0;

  for (i = 0; name != NULL && i < plant->n_sizes; i++)
    if (strcmp (plant->sizes[i].name, name) == 0)
      return &plant->sizes[i];
  return plant->n_sizes > 0 ? &plant->sizes[0] : NULL;
}

/* Logistic: s(t) = M / (1 + (M / s0 - 1) e^-kt), with k such that s(years) = 0.95 M. A plant bought
 * at nearly its mature size grows the rest in the same shape, from there. */
static double
grown (double planted, double mature, double years_to_mature, double years)
{
  double s0 = CLAMP (planted, 0.02 * mature, mature);
  double ratio = mature / s0 - 1.0;
  double k = log (MAX (ratio, 0.25) * MATURE / (1.0 - MATURE)) / years_to_mature;

  return mature / (1.0 + ratio * exp (-k * MAX (years, 0.0)));
}

void
bl_plant_size_at (const BlPlant *plant, const char *size_name, double years, double *height,
                  double *spread)
{
  const BlPlantSize *size = size_named (plant, size_name);
  /* Annuals are planted anew each spring and reach their size within the summer. */
  gboolean whole = plant->type == BL_TYPE_ANNUAL || size == NULL;

  if (height != NULL)
    *height = whole ? plant->height : grown (size->height, plant->height, plant->years, years);
  if (spread != NULL)
    *spread = whole ? plant->spread : grown (size->spread, plant->spread, plant->years, years);
}

gboolean
bl_plant_is_woody (const BlPlant *plant)
{
  switch (plant->type)
    {
    case BL_TYPE_SHRUB:
    case BL_TYPE_EVERGREEN_SHRUB:
    case BL_TYPE_CONIFER:
    case BL_TYPE_TREE:
    case BL_TYPE_VINE:
      return TRUE;
    case BL_TYPE_GROUND_COVER:
      /* Low shrubs sold as ground cover are pruned as shrubs are, or keep a shrub's form. */
      return plant->care <= BL_CARE_P5 || plant->form == BL_FORM_SPREADING_CONIFER
             || (plant->form >= BL_FORM_VASE_SHRUB && plant->form <= BL_FORM_ARCHING_SHRUB);
    case BL_TYPE_PERENNIAL:
    case BL_TYPE_GRASS:
    case BL_TYPE_BULB:
    case BL_TYPE_ANNUAL:
    case BL_TYPE_FERN:
    case BL_TYPE_N:
      break;
    }
  return FALSE;
}
