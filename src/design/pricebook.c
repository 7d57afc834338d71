/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The price book as plain data: items sorted by key, and copies of them. */
#include "design/pricebook.h"

#include <string.h>

/* Invariants:
 * 1. @items is sorted by key (strcmp) and no key stands twice.
 * 2. @rules.tax_name is never NULL. */

static const char *const kind_names[BL_PRICE_N] = {
  "plant", "material", "labour", "equipment", "delivery", "disposal",
};

const char *
bl_price_kind_name (BlPriceKind kind)
{
  g_return_val_if_fail ((guint) kind < BL_PRICE_N, "material");
  return kind_names[kind];
}

gboolean
bl_price_kind_from_name (const char  *name,
                         BlPriceKind *kind)
{
  for (guint i = 0; i < BL_PRICE_N; i++)
    if (g_strcmp0 (name, kind_names[i]) == 0)
      {
        *kind = (BlPriceKind) i;
        return TRUE;
      }
  return FALSE;
}

BlPriceItem *
bl_price_item_copy (const BlPriceItem *item)
{
  BlPriceItem *copy = g_memdup2 (item, sizeof *item);

  copy->key = g_strdup (item->key);
  copy->name = g_strdup (item->name);
  copy->unit = g_strdup (item->unit);
  copy->supplier = g_strdup (item->supplier);
  return copy;
}

void
bl_price_item_free (BlPriceItem *item)
{
  if (item == NULL)
    return;
  g_free (item->key);
  g_free (item->name);
  g_free (item->unit);
  g_free (item->supplier);
  g_free (item);
}

gboolean
bl_price_item_equal (const BlPriceItem *a,
                     const BlPriceItem *b)
{
  return g_strcmp0 (a->key, b->key) == 0 && a->kind == b->kind && g_strcmp0 (a->name, b->name) == 0
         && g_strcmp0 (a->unit, b->unit) == 0 && a->price == b->price && a->amount == b->amount
         && g_strcmp0 (a->supplier, b->supplier) == 0 && !a->invented == !b->invented;
}

BlPriceBook *
bl_price_book_new (void)
{
  BlPriceBook *book = g_new0 (BlPriceBook, 1);

  book->items = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_price_item_free);
  book->rules.tax_name = g_strdup ("");
  return book;
}

BlPriceBook *
bl_price_book_copy (const BlPriceBook *book)
{
  BlPriceBook *copy = bl_price_book_new ();

  bl_price_rules_clear (&copy->rules);
  copy->rules = book->rules;
  copy->rules.tax_name = g_strdup (book->rules.tax_name);
  for (guint i = 0; i < book->items->len; i++)
    g_ptr_array_add (copy->items, bl_price_item_copy (g_ptr_array_index (book->items, i)));
  return copy;
}

void
bl_price_book_free (BlPriceBook *book)
{
  if (book == NULL)
    return;
  g_ptr_array_unref (book->items);
  bl_price_rules_clear (&book->rules);
  g_free (book);
}

/* The place of @key: its index, or where it would be inserted. */
static guint
search (const BlPriceBook *book,
        const char        *key,
        gboolean          *found)
{
  guint low = 0, high = book->items->len;

  *found = FALSE;
  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      const BlPriceItem *item = g_ptr_array_index (book->items, middle);
      int order = strcmp (item->key, key);

      if (order == 0)
        {
          *found = TRUE;
          return middle;
        }
      if (order < 0)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

const BlPriceItem *
bl_price_book_find (const BlPriceBook *book,
                    const char        *key)
{
  gboolean found;
  guint at;

  g_return_val_if_fail (book != NULL && key != NULL, NULL);
  at = search (book, key, &found);
  return found ? g_ptr_array_index (book->items, at) : NULL;
}

void
bl_price_book_put_take (BlPriceBook *book,
                        BlPriceItem *item)
{
  gboolean found;
  guint at;

  g_return_if_fail (book != NULL && item != NULL && item->key != NULL);
  at = search (book, item->key, &found);
  if (found)
    {
      bl_price_item_free (g_ptr_array_index (book->items, at));
      g_ptr_array_index (book->items, at) = item;
    }
  else
    g_ptr_array_insert (book->items, (int) at, item);
}

gboolean
bl_price_book_remove (BlPriceBook *book,
                      const char  *key)
{
  gboolean found;
  guint at = search (book, key, &found);

  if (found)
    g_ptr_array_remove_index (book->items, at);
  return found;
}

gboolean
bl_price_book_equal (const BlPriceBook *a,
                     const BlPriceBook *b)
{
  if (a->items->len != b->items->len)
    return FALSE;
  for (guint i = 0; i < a->items->len; i++)
    if (!bl_price_item_equal (g_ptr_array_index (a->items, i), g_ptr_array_index (b->items, i)))
      return FALSE;
  for (const char *const *name = bl_price_rule_names (); *name != NULL; name++)
    {
      g_autofree char *left = bl_price_rule_get (&a->rules, *name);
      g_autofree char *right = bl_price_rule_get (&b->rules, *name);

      if (strcmp (left, right) != 0)
        return FALSE;
    }
  return TRUE;
}
