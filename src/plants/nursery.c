/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The nursery's list in memory and beside the person's own plants. */
#include "config.h"

#include "plants/nursery.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "plants/library-private.h"

#define CANNOT_WRITE N_("The nursery's list cannot be kept")

static void
offer_free (gpointer data)
{
  BlOffer *offer = data;

  g_free (offer->slug);
  g_free (offer->size);
  g_free (offer);
}

BlStock *
bl_stock_new (const char *nursery, const char *currency)
{
  BlStock *stock = g_new0 (BlStock, 1);

  stock->nursery = g_strdup (nursery);
  stock->currency = g_strdup (currency);
  stock->offers = g_ptr_array_new_with_free_func (offer_free);
  stock->by_key = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return stock;
}

void
bl_stock_free (BlStock *stock)
{
  if (stock == NULL)
    return;
  g_free (stock->nursery);
  g_free (stock->currency);
  g_hash_table_unref (stock->by_key);
  g_ptr_array_unref (stock->offers);
  g_free (stock);
}

void
bl_stock_put (BlStock *stock, const BlOffer *offer)
{
  char *key = g_strdup_printf ("%s|%s", offer->slug, offer->size);
  BlOffer *copy = g_memdup2 (offer, sizeof *offer);
  BlOffer *before = g_hash_table_lookup (stock->by_key, key);

  copy->slug = g_strdup (offer->slug);
  copy->size = g_strdup (offer->size);
  g_hash_table_replace (stock->by_key, key, copy);
  if (before != NULL)
    g_ptr_array_remove (stock->offers, before);
  g_ptr_array_add (stock->offers, copy);
}

const BlOffer *
bl_stock_find (const BlStock *stock, const char *slug, const char *size)
{
  g_autofree char *key = g_strdup_printf ("%s|%s", slug, size);

  return stock != NULL ? g_hash_table_lookup (stock->by_key, key) : NULL;
}

int
bl_stock_of (const BlStock *stock, const char *slug)
{
  int sum = -1;

  for (guint i = 0; stock != NULL && i < stock->offers->len; i++)
    {
      const BlOffer *offer = stock->offers->pdata[i];

      if (offer->stock >= 0 && g_str_equal (offer->slug, slug))
        sum = MAX (sum, 0) + offer->stock;
    }
  return sum;
}

/* In the file of own plants. */

static gboolean
insert_head (sqlite3 *db, const BlStock *stock, GError **error)
{
  sqlite3_stmt *s = NULL;
  gboolean ok = sqlite3_prepare_v2 (db, "INSERT INTO nursery (id, name, currency) VALUES (1, ?, ?)",
                                    -1, &s, NULL)
                == SQLITE_OK;

  if (ok)
    {
      sqlite3_bind_text (s, 1, stock->nursery, -1, SQLITE_TRANSIENT);
      sqlite3_bind_text (s, 2, stock->currency, -1, SQLITE_TRANSIENT);
      ok = sqlite3_step (s) == SQLITE_DONE;
    }
  if (!ok)
    bl_sqlite_error (db, CANNOT_WRITE, error);
  sqlite3_finalize (s);
  return ok;
}

static gboolean
insert_offers (sqlite3 *db, const BlStock *stock, GError **error)
{
  sqlite3_stmt *s = NULL;
  gboolean ok = sqlite3_prepare_v2 (
                  db, "INSERT INTO offer (slug, size, price, stock, day) VALUES (?,?,?,?,?)", -1, &s,
                  NULL)
                == SQLITE_OK;

  for (guint i = 0; ok && i < stock->offers->len; i++)
    {
      const BlOffer *offer = stock->offers->pdata[i];

      sqlite3_bind_text (s, 1, offer->slug, -1, SQLITE_TRANSIENT);
      sqlite3_bind_text (s, 2, offer->size, -1, SQLITE_TRANSIENT);
      sqlite3_bind_int64 (s, 3, offer->price);
      sqlite3_bind_int (s, 4, offer->stock);
      sqlite3_bind_int64 (s, 5, offer->from);
      ok = sqlite3_step (s) == SQLITE_DONE && sqlite3_reset (s) == SQLITE_OK;
    }
  if (!ok)
    bl_sqlite_error (db, CANNOT_WRITE, error);
  sqlite3_finalize (s);
  return ok;
}

gboolean
bl_library_put_stock (BlLibrary *library, const BlStock *stock, GError **error)
{
  gboolean ok;

  if (!bl_library_begin (library, error))
    return FALSE;
  ok = bl_sqlite_exec (library->own, "DELETE FROM offer; DELETE FROM nursery", CANNOT_WRITE, error)
       && (stock == NULL
           || (insert_head (library->own, stock, error)
               && insert_offers (library->own, stock, error)));
  return bl_library_end (library, ok, error);
}

const BlStock *
bl_library_get_stock (BlLibrary *library)
{
  return library->stock;
}

static BlStock *
load_head (sqlite3 *db)
{
  sqlite3_stmt *s = NULL;
  BlStock *stock = NULL;

  if (sqlite3_prepare_v2 (db, "SELECT name, currency FROM nursery", -1, &s, NULL) == SQLITE_OK
      && sqlite3_step (s) == SQLITE_ROW && sqlite3_column_text (s, 0) != NULL
      && sqlite3_column_text (s, 1) != NULL)
    stock = bl_stock_new ((const char *) sqlite3_column_text (s, 0),
                          (const char *) sqlite3_column_text (s, 1));
  sqlite3_finalize (s);
  return stock;
}

/* An older file of own plants has no such tables until it is written to: then there is no list. */
BlStock *
bl_library_load_stock (sqlite3 *db)
{
  BlStock *stock = load_head (db);
  sqlite3_stmt *s = NULL;

  if (stock == NULL)
    return NULL;
  if (sqlite3_prepare_v2 (db, "SELECT slug, size, price, stock, day FROM offer ORDER BY slug, size",
                          -1, &s, NULL)
      == SQLITE_OK)
    while (sqlite3_step (s) == SQLITE_ROW)
      {
        BlOffer offer = { (char *) sqlite3_column_text (s, 0), (char *) sqlite3_column_text (s, 1),
                          sqlite3_column_int64 (s, 2), sqlite3_column_int (s, 3),
                          (BlDay) sqlite3_column_int64 (s, 4) };

        if (offer.slug != NULL && offer.size != NULL)
          bl_stock_put (stock, &offer);
      }
  sqlite3_finalize (s);
  return stock;
}
