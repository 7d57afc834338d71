/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long care takes: invented rates, replaced by the firm's own from its price book. */
#include <string.h>

#include "care/care-private.h"

/* Minutes a unit. Invented, of the size that is common practice for a trained crew of one. */
static const struct
{
  const char *key;
  double minutes;
} rates[] = {
  { "care-weed", 1.6 },         /* m² */
  { "care-weed-dense", 0.7 },   /* m², once the plants have closed */
  { "care-mulch", 2.5 },        /* m² */
  { "care-edge", 1.5 },         /* m */
  { "care-fertilise", 0.4 },    /* m² */
  { "care-clean", 1.5 },        /* m² */
  { "care-autumn", 1.2 },       /* m² */
  { "care-flush", 0.8 },        /* m² */
  { "care-water", 0.5 },        /* m² of planting */
  { "care-water-woody", 2.0 },  /* plant */
  { "care-cut-back", 1.2 },     /* plant */
  { "care-cut-grass", 2.5 },    /* plant */
  { "care-shear", 1.0 },        /* plant */
  { "care-prune", 8.0 },        /* shrub */
  { "care-tidy", 0.8 },         /* plant */
  { "care-vine", 15.0 },        /* vine */
  { "care-bulb", 0.2 },         /* bulb */
  { "care-plant-annual", 2.0 }, /* plant */
  { "care-lift-annual", 0.7 },  /* plant */
  { "care-deadhead", 0.5 },     /* plant */
  { "care-divide", 12.0 },      /* plant */
  { "care-stake", 3.0 },        /* plant */
  { "care-protect", 2.0 },      /* plant */
};

double
bl_care_hours (const BlModel *model, const char *key, double units)
{
  const BlPriceItem *own = model->prices != NULL ? bl_price_book_find (model->prices, key) : NULL;
  guint i = 0;

  if (own != NULL && own->kind == BL_PRICE_LABOUR && own->amount > 0)
    return own->amount * units / 60.0;
  for (i = 0; i < G_N_ELEMENTS (rates); i++)
    if (strcmp (rates[i].key, key) == 0)
      return rates[i].minutes * units / 60.0;
  g_return_val_if_reached (0.0);
}
