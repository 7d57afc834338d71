/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A firm's price book as CSV: read, or refused; what is read is written and read as the same. */
#include "fuzz.h"

#include "base/csv.h"
#include "design/pricebook.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  static const char *const currencies[] = { "USD", "JPY", "KWD", NULL };
  const char *currency = currencies[size % 3];
  g_autoptr (GError) error = NULL, second = NULL;
  g_autoptr (GPtrArray) records = bl_csv_parse ((const char *) data, size, &error);
  g_autoptr (BlPriceBook) book = NULL;

  if (records == NULL)
    fuzz_check_error (error);
  else
    {
      g_autoptr (GString) out = g_string_new (NULL);

      for (guint i = 0; i < records->len; i++)
        bl_csv_append (out, g_ptr_array_index (records, i));
    }
  book = bl_price_book_from_csv_in (size > 0 ? (const char *) data : "", (gssize) size, currency, &second);
  if (book != NULL)
    {
      g_autofree char *csv = bl_price_book_to_csv_in (book, currency);
      g_autoptr (GError) third = NULL;
      g_autoptr (BlPriceBook) again = bl_price_book_from_csv_in (csv, -1, currency, &third);

      g_assert_no_error (third);
      g_assert_true (bl_price_book_equal (book, again));
    }
  else
    fuzz_check_error (second);
  return 0;
}
