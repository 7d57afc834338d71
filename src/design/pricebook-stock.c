/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A nursery's prices in a price book: one item a plant and size. */
#include "design/pricebook-stock.h"

static char *
name_of (const BlOffer *offer, BlLibrary *library)
{
  g_autoptr (BlPlant) plant = library != NULL ? bl_library_get (library, offer->slug, NULL) : NULL;
  g_autofree char *name = plant != NULL ? bl_plant_name (plant) : g_strdup (offer->slug);

  return g_strdup_printf ("%s, %s", name, offer->size);
}

guint
bl_price_book_take_stock (BlPriceBook *book, const BlStock *stock, BlLibrary *library)
{
  guint n = 0;

  for (guint i = 0; i < stock->offers->len; i++)
    {
      const BlOffer *offer = stock->offers->pdata[i];
      BlPriceItem item = { .kind = BL_PRICE_PLANT, .unit = (char *) "each", .price = offer->price,
                           .supplier = stock->nursery };
      g_autofree char *key = g_strdup_printf ("%s|%s", offer->slug, offer->size);
      g_autofree char *name = name_of (offer, library);

      if (offer->price < 0)
        continue;
      item.key = key;
      item.name = name;
      bl_price_book_put_take (book, bl_price_item_copy (&item));
      n++;
    }
  return n;
}
