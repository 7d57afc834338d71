/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The price book as a CSV table (RFC 4180): one row an item, then one row a rule. */
#include "config.h"

#include "design/pricebook.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/csv.h"
#include "base/error.h"
#include "base/units.h"
#include "design/check.h"

enum
{
  COL_KIND,
  COL_KEY,
  COL_NAME,
  COL_UNIT,
  COL_PRICE,
  COL_AMOUNT,
  COL_SUPPLIER,
  COL_INVENTED,
  COL_N
};

static const char *const columns[COL_N + 1] = {
  "kind", "key", "name", "unit", "price", "amount", "supplier", "invented", NULL,
};

static char *
format_price (gint64 minor,
              int    digits)
{
  gint64 scale = 1;

  for (int i = 0; i < digits; i++)
    scale *= 10;
  if (digits == 0)
    return g_strdup_printf ("%" G_GINT64_FORMAT, minor);
  return g_strdup_printf ("%s%" G_GINT64_FORMAT ".%0*" G_GINT64_FORMAT, minor < 0 ? "-" : "",
                          ABS (minor) / scale, digits, ABS (minor) % scale);
}

char *
bl_price_book_to_csv_in (const BlPriceBook *book,
                         const char        *currency)
{
  GString *out = g_string_new (NULL);
  int digits = bl_money_digits (currency);

  bl_csv_append (out, columns);
  for (guint i = 0; i < book->items->len; i++)
    {
      const BlPriceItem *item = g_ptr_array_index (book->items, i);
      g_autofree char *price = format_price (item->price, digits);
      g_autofree char *amount = bl_double_format (item->amount);
      const char *fields[COL_N + 1] = {
        bl_price_kind_name (item->kind), item->key, item->name, item->unit, price, amount,
        item->supplier != NULL ? item->supplier : "", item->invented ? "yes" : "no", NULL,
      };

      bl_csv_append (out, fields);
    }
  for (const char *const *name = bl_price_rule_names (); *name != NULL; name++)
    {
      g_autofree char *value = bl_price_rule_get (&book->rules, *name);
      const char *fields[COL_N + 1] = { "rule", *name, "", "", "", value, "", "", NULL };

      bl_csv_append (out, fields);
    }
  return g_string_free (out, FALSE);
}

char *
bl_price_book_to_csv (const BlPriceBook *book)
{
  return bl_price_book_to_csv_in (book, "USD");
}

static gboolean
refuse (GError    **error,
        guint       line,
        int         column,
        const char *message)
{
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "record %u, column “%s”: %s", line, columns[column],
               message);
  return FALSE;
}

static gboolean
read_rule (BlPriceBook *book,
           char       **record,
           guint        line,
           GError     **error)
{
  g_autoptr(GError) problem = NULL;

  if (bl_price_rule_set (&book->rules, record[COL_KEY], record[COL_AMOUNT], &problem))
    return TRUE;
  return refuse (error, line, COL_AMOUNT, problem->message);
}

static gboolean
read_numbers (BlPriceItem *item,
              char       **record,
              const char  *currency,
              guint        line,
              GError     **error)
{
  g_autoptr(GError) problem = NULL;
  const char *amount = record[COL_AMOUNT];
  const char *invented = record[COL_INVENTED];
  char *end = NULL;

  if (!bl_money_parse (record[COL_PRICE], currency, &item->price, &problem))
    return refuse (error, line, COL_PRICE, problem->message);
  item->amount = g_ascii_strtod (amount, &end);
  if (end == amount || *end != '\0' || !isfinite (item->amount))
    return refuse (error, line, COL_AMOUNT, _("is not a number"));
  if (strcmp (invented, "yes") != 0 && strcmp (invented, "no") != 0)
    return refuse (error, line, COL_INVENTED, _("must be yes or no"));
  item->invented = strcmp (invented, "yes") == 0;
  return TRUE;
}

static gboolean
read_item (BlPriceBook *book,
           char       **record,
           const char  *currency,
           guint        line,
           GError     **error)
{
  g_autoptr(GError) problem = NULL;
  BlPriceItem item = {
    .key = record[COL_KEY], .name = record[COL_NAME],
    .unit = record[COL_UNIT], .supplier = record[COL_SUPPLIER],
  };

  if (item.supplier[0] == '\0')
    item.supplier = NULL;
  if (!bl_price_kind_from_name (record[COL_KIND], &item.kind))
    return refuse (error, line, COL_KIND,
                   _("must be plant, material, labour, equipment, delivery, disposal or rule"));
  if (!read_numbers (&item, record, currency, line, error))
    return FALSE;
  if (!bl_check_price_item (&item, &problem))
    return refuse (error, line, COL_KEY, problem->message);
  if (bl_price_book_find (book, item.key) != NULL)
    return refuse (error, line, COL_KEY, _("stands in the table twice"));
  bl_price_book_put_take (book, bl_price_item_copy (&item));
  return TRUE;
}

static gboolean
check_header (GPtrArray *records,
              GError   **error)
{
  char **header = records->len > 0 ? g_ptr_array_index (records, 0) : NULL;

  if (header != NULL && g_strv_equal ((const char *const *) header, columns))
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
               _("the first record of a price book must be: "
               "kind,key,name,unit,price,amount,supplier,invented"));
  return FALSE;
}

BlPriceBook *
bl_price_book_from_csv_in (const char *text,
                           gssize      length,
                           const char *currency,
                           GError    **error)
{
  g_autoptr(BlPriceBook) book = bl_price_book_new ();
  g_autoptr(GPtrArray) records = NULL;

  records = bl_csv_parse (text, length < 0 ? strlen (text) : (gsize) length, error);
  if (records == NULL || !check_header (records, error))
    return NULL;
  for (guint i = 1; i < records->len; i++)
    {
      char **record = g_ptr_array_index (records, i);
      gboolean ok;

      if (g_strv_length (record) == 1 && record[0][0] == '\0')
        continue;
      if (g_strv_length (record) != COL_N)
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       _("record %u has %u fields where the table has %d"), i + 1,
                       g_strv_length (record), COL_N);
          return NULL;
        }
      ok = strcmp (record[COL_KIND], "rule") == 0
               ? read_rule (book, record, i + 1, error)
               : read_item (book, record, currency, i + 1, error);
      if (!ok)
        return NULL;
    }
  if (!bl_price_rules_check (&book->rules, error))
    return NULL;
  return g_steal_pointer (&book);
}

BlPriceBook *
bl_price_book_from_csv (const char *text,
                        gssize      length,
                        GError    **error)
{
  return bl_price_book_from_csv_in (text, length, "USD", error);
}
