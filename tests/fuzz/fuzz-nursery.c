/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A nursery's list: every offer is of a plant and size of the library, and is kept as it was read. */
#include "fuzz.h"

#include <glib/gstdio.h>
#include <string.h>

#include "design/pricebook-stock.h"

/* Each offer can be looked up, and says nothing that the plant's record does not know. */
static void
check_offers (const BlStock *stock)
{
  for (guint i = 0; i < stock->offers->len; i++)
    {
      const BlOffer *offer = stock->offers->pdata[i];
      g_autoptr (BlPlant) plant = bl_library_get (fuzz_library (), offer->slug, NULL);
      guint known = 0;

      g_assert_nonnull (plant);
      for (guint k = 0; k < plant->n_sizes; k++)
        known += g_str_equal (plant->sizes[k].name, offer->size);
      g_assert_cmpuint (known, ==, 1);
      g_assert_true (bl_stock_find (stock, offer->slug, offer->size) == offer);
      g_assert_true (offer->price >= -1 && offer->stock >= -1);
      g_assert_cmpint (bl_stock_of (stock, offer->slug), >=, offer->stock);
    }
}

static void
check_prices (const BlStock *stock)
{
  g_autoptr (BlPriceBook) book = bl_price_book_defaults ();
  guint priced = 0;

  for (guint i = 0; i < stock->offers->len; i++)
    priced += ((const BlOffer *) stock->offers->pdata[i])->price >= 0;
  g_assert_cmpuint (bl_price_book_take_stock (book, stock, fuzz_library ()), ==, priced);
}

/* Beside the person's own plants it is, after opening, what it was. */
static void
check_kept (const BlStock *stock)
{
  g_autofree char *own = g_build_filename (fuzz_folder (), "own.db", NULL);
  g_autofree char *path = bl_library_default_path ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BlLibrary) library = bl_library_open (path, own, &error);
  const BlStock *kept;

  g_assert_no_error (error);
  bl_library_put_stock (library, stock, &error);
  g_assert_no_error (error);
  bl_library_free (library);
  library = bl_library_open (path, own, &error);
  g_assert_no_error (error);
  kept = bl_library_get_stock (library);
  g_assert_nonnull (kept);
  g_assert_cmpstr (kept->nursery, ==, stock->nursery);
  g_assert_cmpstr (kept->currency, ==, stock->currency);
  g_assert_cmpuint (kept->offers->len, ==, stock->offers->len);
  for (guint i = 0; i < stock->offers->len; i++)
    {
      const BlOffer *offer = stock->offers->pdata[i];
      const BlOffer *same = bl_stock_find (kept, offer->slug, offer->size);

      g_assert_nonnull (same);
      g_assert_true (same->price == offer->price && same->stock == offer->stock
                     && same->from == offer->from);
    }
  g_unlink (own);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autoptr (GPtrArray) unmatched = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlStock) stock = bl_library_read_stock (fuzz_library (), (const char *) data, size,
                                                     "A nursery", "USD", unmatched, &error);

  for (guint i = 0; i < unmatched->len; i++)
    g_assert_true (g_utf8_validate (unmatched->pdata[i], -1, NULL));
  if (stock == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  check_offers (stock);
  check_prices (stock);
  /* Opening a library takes longer than all the rest. */
  if (stock->offers->len > 0 && size % 16 == 0)
    check_kept (stock);
  return 0;
}
