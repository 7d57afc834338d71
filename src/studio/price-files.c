/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Price books in and out: CSV files and the firm's own book. */

#include "config.h"

#include "studio/price-book.h"

#include "base/csv.h"
#include "base/file.h"

#include <glib/gi18n.h>

static gboolean
put_book (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_price_book (design, data, error);
}

gboolean
bl_board_put_prices (BlBoard *board, const char *label, const BlPriceBook *book)
{
  return bl_board_edit (board, label, put_book, (gpointer)book);
}

gboolean
bl_board_read_prices (BlBoard *board, const char *path)
{
  const char *currency = bl_board_get_model (board)->currency;
  g_autoptr (BlPriceBook) book = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  gsize length;

  if (bl_file_read (path, BL_CSV_MOST, &text, &length, &error))
    book = bl_price_book_from_csv_in (text, (gssize)length, currency, &error);
  bl_board_report (board, error);
  return book != NULL && bl_board_put_prices (board, _("Take in a price book"), book);
}

gboolean
bl_board_write_prices (BlBoard *board, const char *path)
{
  const BlModel *model = bl_board_get_model (board);
  g_autofree char *text = bl_price_book_to_csv_in (model->prices, model->currency);
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, text, -1, &error);
  bl_board_report (board, error);
  return error == NULL;
}

gboolean
bl_board_keep_firm_prices (BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  g_autofree char *path = bl_price_book_firm_path ();
  g_autoptr (GError) error = NULL;

  bl_price_book_save_firm (model->prices, model->currency, path, &error);
  bl_board_report (board, error);
  return error == NULL;
}

gboolean
bl_board_take_firm_prices (BlBoard *board)
{
  const char *own = bl_board_get_model (board)->currency;
  g_autofree char *path = bl_price_book_firm_path ();
  g_autofree char *currency = NULL, *sentence = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPriceBook) book = bl_price_book_load_firm (path, &currency, &error);

  bl_board_report (board, error);
  if (error != NULL)
    return FALSE;
  if (book == NULL)
    {
      bl_board_say (board, _("There is no firm's book yet: put your prices into a design and make its "
                             "book the firm's"));
      return FALSE;
    }
  if (g_strcmp0 (currency, own) != 0)
    {
      sentence = g_strdup_printf (_("The firm's book is in %s and this design in %s: its prices "
                                    "cannot be taken as they are"),
                                  currency, own);
      bl_board_say (board, sentence);
      return FALSE;
    }
  return bl_board_put_prices (board, _("Take the firm's book"), book);
}

gboolean
bl_design_begin_with_firm_prices (BlDesign *design, char **trouble, GError **error)
{
  g_autofree char *path = bl_price_book_firm_path ();
  g_autofree char *currency = NULL;
  g_autoptr (GError) unread = NULL;
  g_autoptr (BlPriceBook) book = bl_price_book_load_firm (path, &currency, &unread);

  *trouble = unread != NULL ? g_strdup (unread->message) : NULL;
  return book == NULL || g_strcmp0 (currency, bl_design_get_model (design)->currency) != 0
         || bl_design_put_price_book (design, book, error);
}
