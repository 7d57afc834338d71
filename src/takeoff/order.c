/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order list and the nursery request: one row a plant and size over all beds. */
#include <string.h>

#include "base/csv.h"
#include "takeoff/short.h"
#include "takeoff/takeoff-private.h"

typedef struct
{
  const BlPlantCount *first;
  char *name;            /* botanical */
  const char *supplier;
  gint64 price;
  guint count, reserve, order;
  GString *beds, *notes;
} Row;

static void
row_free (gpointer data)
{
  Row *row = data;

  g_free (row->name);
  g_string_free (row->beds, TRUE);
  g_string_free (row->notes, TRUE);
  g_free (row);
}

static Row *
row_new (const BlTakeoff *takeoff, const BlPlantCount *count)
{
  Row *row = g_new0 (Row, 1);
  g_autofree char *key = g_strdup_printf ("%s|%s", count->plant->slug, count->size);
  const BlPriceItem *item = bl_price_book_find (bl_takeoff_book (takeoff), key);

  row->first = count;
  row->name = bl_plant_name (count->plant);
  row->beds = g_string_new (NULL);
  row->notes = g_string_new (NULL);
  row->supplier = item != NULL && item->supplier != NULL ? item->supplier : "";
  if (item != NULL)
    row->price = item->price;
  for (guint i = 0; item == NULL && i < count->plant->n_sizes; i++)
    if (strcmp (count->plant->sizes[i].name, count->size) == 0)
      row->price = count->plant->sizes[i].price;
  return row;
}

static void
collect_notes (const BlTakeoff *takeoff, Row *row)
{
  const BlLayout *layout = takeoff->layout;

  for (guint i = 0; i < layout->parts->len; i++)
    {
      gint64 id = g_array_index (layout->parts, BlLayoutPart, i).planting_id;
      const BlPlanting *planting = bl_model_planting (layout->model, id);

      if (planting->note != NULL && planting->note[0] != '\0'
          && bl_model_plant (layout->model, planting->slug) == row->first->plant
          && strstr (row->notes->str, planting->note) == NULL)
        g_string_append_printf (row->notes, "%s%s", row->notes->len > 0 ? "; " : "",
                                planting->note);
    }
}

/* The specification's usual word is "no substitutes without approval"; a remark of the planting
 * that says so sets it. */
static const char *
substitute_words (const Row *row)
{
  g_autofree char *remarks = g_utf8_casefold (row->notes->str, -1);

  if (strstr (remarks, "no substitut") != NULL)
    return "no";
  return strstr (remarks, "substitute allowed") != NULL
             || strstr (remarks, "substitutes allowed") != NULL
           ? "yes" : "ask first";
}

static int
compare_rows (const void *a, const void *b)
{
  const Row *p = *(Row *const *) a, *q = *(Row *const *) b;
  int order = strcmp (p->supplier, q->supplier);

  /* Plants without a supplier come last. */
  if (order != 0 && (p->supplier[0] == '\0' || q->supplier[0] == '\0'))
    return p->supplier[0] == '\0' ? 1 : -1;
  if (order == 0)
    order = strcmp (p->name, q->name);
  return order != 0 ? order : strcmp (p->first->size, q->first->size);
}

static GPtrArray *
rows_of (const BlTakeoff *takeoff)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func (row_free);

  for (guint i = 0; i < takeoff->counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (takeoff->counts, BlPlantCount, i);
      const BlBed *bed = bl_model_bed (takeoff->layout->model, count->bed_id);
      Row *row = NULL;

      for (guint k = 0; k < rows->len && row == NULL; k++)
        {
          Row *other = rows->pdata[k];

          if (other->first->plant == count->plant && strcmp (other->first->size, count->size) == 0)
            row = other;
        }
      if (row == NULL)
        {
          row = row_new (takeoff, count);
          collect_notes (takeoff, row);
          g_ptr_array_add (rows, row);
        }
      row->count += count->count;
      row->reserve += count->reserve;
      row->order += count->order;
      g_string_append_printf (row->beds, "%s%s: %u", row->beds->len > 0 ? "; " : "",
                              bed != NULL && bed->name != NULL ? bed->name : "?", count->count);
    }
  g_ptr_array_sort (rows, compare_rows);
  return rows;
}

/* An amount as a plain number with the currency's decimals, for a spreadsheet. */
static char *
plain_money (gint64 minor, const char *currency)
{
  int digits = bl_money_digits (currency);
  gint64 scale = digits == 0 ? 1 : digits == 3 ? 1000 : 100;

  if (digits == 0)
    return g_strdup_printf ("%" G_GINT64_FORMAT, minor);
  return g_strdup_printf ("%" G_GINT64_FORMAT ".%0*" G_GINT64_FORMAT, minor / scale, digits,
                          ABS (minor) % scale);
}

/* The nursery's columns of a row: its stock, the day, what is missing; empty where it does not say. */
static void
say_stock (const BlOffer *offer, guint order, char *cells[3])
{
  cells[0] = offer != NULL && offer->stock >= 0 ? g_strdup_printf ("%d", offer->stock)
                                                : g_strdup ("");
  cells[1] = offer != NULL ? bl_day_format_iso (offer->from) : g_strdup ("");
  cells[2] = offer != NULL && offer->stock >= 0 && order > (guint) offer->stock
               ? g_strdup_printf ("%u", order - (guint) offer->stock)
               : g_strdup ("");
}

char *
bl_takeoff_order_csv (const BlTakeoff *takeoff)
{
  return bl_takeoff_order_csv_with (takeoff, NULL);
}

char *
bl_takeoff_order_csv_with (const BlTakeoff *takeoff, const BlStock *stock)
{
  GString *out = g_string_new (NULL);
  g_autoptr (GPtrArray) rows = NULL;
  const char *currency;

  g_return_val_if_fail (takeoff != NULL, NULL);
  currency = takeoff->layout->model->currency;
  rows = rows_of (takeoff);
  bl_csv_append_list (out, "Supplier", "Botanical name", "Common name", "Size", "Drawn", "Reserve",
                      "Order", "Price each", "Amount", "Currency", "Beds", "Remarks",
                      "Substitute allowed", stock != NULL ? "In stock" : NULL, "Available from",
                      "Short by", NULL);
  for (guint i = 0; i < rows->len; i++)
    {
      const Row *row = rows->pdata[i];
      g_autofree char *count = g_strdup_printf ("%u", row->count);
      g_autofree char *reserve = g_strdup_printf ("%u", row->reserve);
      g_autofree char *order = g_strdup_printf ("%u", row->order);
      g_autofree char *price = plain_money (row->price, currency);
      g_autofree char *amount = plain_money (row->price * row->order, currency);
      char *says[3];

      say_stock (bl_stock_find (stock, row->first->plant->slug, row->first->size), row->order, says);
      bl_csv_append_list (out, row->supplier, row->name, row->first->plant->common,
                          row->first->size, count, reserve, order, price, amount, currency,
                          row->beds->str, row->notes->str, substitute_words (row),
                          stock != NULL ? says[0] : NULL, says[1], says[2], NULL);
      for (guint k = 0; k < G_N_ELEMENTS (says); k++)
        g_free (says[k]);
    }
  return g_string_free (out, FALSE);
}

char *
bl_takeoff_request_csv (const BlTakeoff *takeoff)
{
  GString *out = g_string_new (NULL);
  g_autoptr (GPtrArray) rows = NULL;
  g_autofree char *needed = NULL;

  g_return_val_if_fail (takeoff != NULL, NULL);
  rows = rows_of (takeoff);
  needed = bl_day_format_iso (takeoff->layout->model->planting_day);
  bl_csv_append_list (out, "Botanical name", "Common name", "Size", "Quantity", "Needed by",
                      "Available", "Substitute allowed", "Substitute offered", "Remarks", NULL);
  for (guint i = 0; i < rows->len; i++)
    {
      const Row *row = rows->pdata[i];
      g_autofree char *order = g_strdup_printf ("%u", row->order);

      bl_csv_append_list (out, row->name, row->first->plant->common, row->first->size, order,
                          needed, "", substitute_words (row), "", row->notes->str, NULL);
    }
  return g_string_free (out, FALSE);
}
