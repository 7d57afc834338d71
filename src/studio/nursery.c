/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's nursery: its list taken in, its prices put into books, its stock in words. */

#include "config.h"

#include "studio/own-plants.h"

#include "base/csv.h"
#include "base/file.h"
#include "design/pricebook-stock.h"
#include "studio/price-book.h"

#include <glib/gi18n.h>

static const BlStock *
stock_of (BlBoard *board)
{
  BlLibrary *library = bl_board_get_library (board);

  return library != NULL ? bl_library_get_stock (library) : NULL;
}

gboolean
bl_board_take_nursery (BlBoard *board, const char *path, GPtrArray *unmatched)
{
  BlLibrary *library = bl_board_get_library (board);
  g_autofree char *text = NULL, *name = g_path_get_basename (path);
  g_autoptr (BlStock) stock = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  if (library == NULL)
    return FALSE;
  if (bl_file_read (path, BL_CSV_MOST, &text, &length, &error))
    stock = bl_library_read_stock (library, text, length, name, bl_board_get_model (board)->currency,
                                   unmatched, &error);
  if (stock != NULL)
    bl_library_put_stock (library, stock, &error);
  bl_board_report (board, error);
  if (error != NULL)
    return FALSE;
  bl_board_emit (board, BL_BOARD_LIBRARY);
  return TRUE;
}

/* The list, if its prices are in @currency. */
static const BlStock *
stock_in (BlBoard *board, const char *currency)
{
  const BlStock *stock = stock_of (board);
  g_autofree char *sentence = NULL;

  if (stock == NULL)
    bl_board_say (board, _("There is no nursery's list yet: bring one in first"));
  else if (g_strcmp0 (stock->currency, currency) != 0)
    {
      sentence = g_strdup_printf (_("The nursery's list is in %s and this book in %s: its prices "
                                    "cannot be taken as they are"),
                                  stock->currency, currency);
      bl_board_say (board, sentence);
      return NULL;
    }
  return stock;
}

gboolean
bl_board_take_nursery_prices (BlBoard *board, guint *n)
{
  const BlModel *model = bl_board_get_model (board);
  const BlStock *stock = stock_in (board, model->currency);
  g_autoptr (BlPriceBook) book = NULL;

  if (stock == NULL)
    return FALSE;
  book = bl_price_book_copy (model->prices);
  *n = bl_price_book_take_stock (book, stock, bl_board_get_library (board));
  return bl_board_put_prices (board, _("Take the nursery's prices"), book);
}

gboolean
bl_board_keep_nursery_prices (BlBoard *board, guint *n)
{
  const BlModel *model = bl_board_get_model (board);
  g_autofree char *path = bl_price_book_firm_path (), *currency = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPriceBook) book = bl_price_book_load_firm (path, &currency, &error);
  const BlStock *stock;

  /* A firm without a book begins with this design's. */
  if (error == NULL && book == NULL)
    {
      book = bl_price_book_copy (model->prices);
      currency = g_strdup (model->currency);
    }
  stock = error == NULL ? stock_in (board, currency) : NULL;
  if (stock != NULL)
    {
      *n = bl_price_book_take_stock (book, stock, bl_board_get_library (board));
      bl_price_book_save_firm (book, currency, path, &error);
    }
  bl_board_report (board, error);
  return stock != NULL && error == NULL;
}

static BlDay
first_day (const BlStock *stock, const BlPlant *plant)
{
  BlDay first = 0;

  for (guint i = 0; i < plant->n_sizes; i++)
    {
      const BlOffer *offer = bl_stock_find (stock, plant->slug, plant->sizes[i].name);

      if (offer != NULL && offer->from != 0 && (first == 0 || offer->from < first))
        first = offer->from;
    }
  return first;
}

char *
bl_board_stock_words (BlBoard *board, const BlPlant *plant)
{
  const BlStock *stock = stock_of (board);
  int n = bl_stock_of (stock, plant->slug);
  BlDay from = stock != NULL ? first_day (stock, plant) : 0;
  g_autofree char *count = NULL, *day = NULL;

  if (n < 0)
    return NULL;
  if (n == 0)
    return g_strdup (_("none in stock"));
  count = g_strdup_printf (ngettext ("%d in stock", "%d in stock", (gulong) n), n);
  if (from <= bl_day_today ())
    return g_steal_pointer (&count);
  day = bl_day_format_iso (from);
  return g_strdup_printf (_("%s from %s"), count, day);
}
