/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long care takes, by the production rates of the price book. */
#include "care/care-private.h"

double
bl_care_hours (const BlModel *model, const char *key, double units, gboolean *invented)
{
  const BlPriceItem *own = model->prices != NULL ? bl_price_book_find (model->prices, key) : NULL;

  if (own != NULL && own->kind == BL_PRICE_LABOUR && own->amount > 0)
    {
      *invented = own->invented;
      return own->amount * units / 60.0;
    }
  *invented = TRUE;
  return bl_price_starting_minutes (key) * units / 60.0;
}
