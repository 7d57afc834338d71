/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of single facts: texts, site, photo, and the price book. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "design/check.h"
#include "design/rows.h"

/* ---- texts ---- */

/* A pair of names and values: a text of the design or a price rule. */
typedef struct
{
  gint64 id;
  char *name, *value;
} Pair;

static void
free_pair (Pair *pair)
{
  g_free (pair->name);
  g_free (pair->value);
  g_free (pair);
}

static gpointer
read_pair (BlRow *row)
{
  Pair *pair = g_new0 (Pair, 1);

  pair->id = bl_row_int (row, 0, 1, G_MAXINT64);
  pair->name = bl_row_text (row, 1, BL_MAX_NAME);
  pair->value = bl_row_text (row, 2, BL_MAX_TEXT);
  if (row->problem != NULL)
    g_clear_pointer (&pair, free_pair);
  return pair;
}

static void
set_text (char      **field,
          const char *value)
{
  g_free (*field);
  *field = g_strdup (value);
}

static void
take_text (BlModel    *model,
           const char *name,
           const char *value)
{
  if (strcmp (name, "title") == 0)
    set_text (&model->title, value);
  else if (strcmp (name, "client") == 0)
    set_text (&model->client, value);
  else if (strcmp (name, "place") == 0)
    set_text (&model->place, value);
  else if (strcmp (name, "designer") == 0)
    set_text (&model->designer, value);
  else if (strcmp (name, "notes") == 0)
    set_text (&model->notes, value);
  else if (strcmp (name, "currency") == 0)
    set_text (&model->currency, value);
  else if (strcmp (name, "language") == 0)
    set_text (&model->language, value);
  else if (strcmp (name, "id") == 0)
    set_text (&model->id, value);
  else if (strcmp (name, "units") == 0)
    bl_units_from_name (value, &model->units, NULL);
  else
    model->planting_day = value[0] != '\0' ? bl_day_parse (value, NULL) : 0;
}

gboolean
bl_texts_load (BlStore *store,
               BlModel *model,
               GError **error)
{
  g_autoptr(GPtrArray) pairs = g_ptr_array_new_with_free_func ((GDestroyNotify) free_pair);

  if (!bl_rows_load (store, BL_TABLE_TEXT, read_pair, pairs, error))
    return FALSE;
  for (guint i = 0; i < pairs->len; i++)
    {
      const Pair *pair = g_ptr_array_index (pairs, i);
      g_autoptr(GError) problem = NULL;

      if (bl_check_text (pair->name, pair->value, &problem))
        take_text (model, pair->name, pair->value);
      /* A newer version may know more texts. */
      else if (store->version <= BL_DESIGN_VERSION)
        return bl_rows_damaged (store, BL_TABLE_TEXT, pair->id, problem->message, error);
    }
  return TRUE;
}

static gboolean
write_pair (BlStore    *store,
            BlTable     table,
            const char *name,
            const char *value,
            GError    **error)
{
  g_autofree char *sql
      = g_strdup_printf ("INSERT INTO %s (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO "
                         "UPDATE SET value = ?2 WHERE value <> ?2",
                         bl_table_info (table)->name);
  g_auto(BlUse) use = bl_store_use (store, sql, error);

  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, name);
  bl_bind_text (&use, 2, value);
  return bl_store_step (store, use.stmt, error) == BL_STEP_DONE;
}

gboolean
bl_text_write (BlStore    *store,
               const char *name,
               const char *value,
               GError    **error)
{
  return bl_check_text (name, value, error)
         && write_pair (store, BL_TABLE_TEXT, name, value, error);
}

/* ---- site ---- */

static BlMonthDay
read_month_day (BlRow *row,
                int    column)
{
  const char *text = bl_row_peek (row, column, BL_MAX_NAME);
  BlMonthDay md = { 0, 0 };

  if (text != NULL && !bl_month_day_parse (text, &md, NULL))
    bl_row_wrong (row, _("a frost date is not a day of the year"));
  return md;
}

static gpointer
read_site (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlSite *site = g_new0 (BlSite, 1);

  bl_site_init (site);
  site->latitude = bl_row_real_or_nan (row, 1);
  site->longitude = bl_row_real_or_nan (row, 2);
  site->north = bl_row_real_or_nan (row, 3);
  site->zone = (BlZone) bl_row_int (row, 4, 0, 99);
  site->last_frost = read_month_day (row, 5);
  site->first_frost = read_month_day (row, 6);
  if (!bl_soil_from_name (bl_row_peek (row, 7, BL_MAX_NAME), &site->soil)
      || !bl_moisture_from_name (bl_row_peek (row, 9, BL_MAX_NAME), &site->moisture))
    bl_row_wrong (row, _("its soil or moisture is of an unknown kind"));
  site->ph = bl_row_real (row, 8);
  site->sun_hours = bl_row_real_or_nan (row, 10);
  site->salt_edge = bl_row_switch (row, 11);
  site->children = bl_row_switch (row, 12);
  site->pets = bl_row_switch (row, 13);
  site->deer = bl_row_switch (row, 14);
  site->state = bl_row_text_or_null (row, 15, BL_MAX_NAME);
  if (!bl_wind_from_name (bl_row_peek (row, 16, BL_MAX_NAME), &site->wind))
    bl_row_wrong (row, _("its wind is of an unknown kind"));
  site->hot_days = bl_row_real_or_nan (row, 17);
  site->fire_zone = bl_row_switch (row, 18);
  site->full_from = bl_row_real_or_nan (row, 19);
  site->part_from = bl_row_real_or_nan (row, 20);
  if (row->problem == NULL && !bl_check_site (site, &error))
    bl_row_wrong (row, error->message);
  if (row->problem == NULL)
    return site;
  bl_site_clear (site);
  g_free (site);
  return NULL;
}

gboolean
bl_site_load (BlStore *store,
              BlSite  *site,
              GError **error)
{
  gpointer read = NULL;

  if (!bl_rows_load_one (store, BL_TABLE_SITE, 1, read_site, &read, error))
    return FALSE;
  if (read == NULL)
    return bl_rows_damaged (store, BL_TABLE_SITE, 1, _("it is missing"), error);
  bl_site_clear (site);
  *site = *(BlSite *) read;
  g_free (read);
  return TRUE;
}

/* Single rows are there from the start; INSERT only makes them in a new file. */
static BlUse
put_single (BlStore *store,
            BlTable  table,
            gint64  *id,
            GError **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT count(*) FROM %s", bl_table_info (table)->name);
  gint64 count = 0;
  BlUse use = { NULL };

  if (!bl_store_number (store, sql, &count, error))
    return use;
  *id = count > 0 ? 1 : 0;
  return bl_rows_put (store, table, *id, error);
}

gboolean
bl_site_write (BlStore      *store,
               const BlSite *site,
               GError      **error)
{
  g_auto(BlUse) use = { NULL };
  g_autofree char *last
      = site->last_frost.month > 0 ? bl_month_day_format (site->last_frost) : NULL;
  g_autofree char *first
      = site->first_frost.month > 0 ? bl_month_day_format (site->first_frost) : NULL;
  gint64 id = 0;

  if (!bl_check_site (site, error))
    return FALSE;
  use = put_single (store, BL_TABLE_SITE, &id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_real (&use, 2, site->latitude);
  bl_bind_real (&use, 3, site->longitude);
  bl_bind_real (&use, 4, site->north);
  bl_bind_int (&use, 5, site->zone);
  bl_bind_text (&use, 6, last);
  bl_bind_text (&use, 7, first);
  bl_bind_text (&use, 8, bl_soil_name (site->soil));
  bl_bind_real (&use, 9, site->ph);
  bl_bind_text (&use, 10, bl_moisture_name (site->moisture));
  bl_bind_real (&use, 11, site->sun_hours);
  bl_bind_int (&use, 12, site->salt_edge != 0);
  bl_bind_int (&use, 13, site->children != 0);
  bl_bind_int (&use, 14, site->pets != 0);
  bl_bind_int (&use, 15, site->deer != 0);
  bl_bind_text (&use, 16, site->state);
  bl_bind_text (&use, 17, bl_wind_name (site->wind));
  bl_bind_real (&use, 18, site->hot_days);
  bl_bind_int (&use, 19, site->fire_zone != 0);
  bl_bind_real (&use, 20, site->full_from);
  bl_bind_real (&use, 21, site->part_from);
  return bl_rows_finish (store, BL_TABLE_SITE, &use, &id, error);
}

/* ---- photo ---- */

static gpointer
read_photo (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlPhotoInfo *photo = g_new0 (BlPhotoInfo, 1);

  photo->name = bl_row_text_or_null (row, 2, BL_MAX_NAME);
  photo->width = (int) bl_row_int (row, 3, 0, 100000);
  photo->height = (int) bl_row_int (row, 4, 0, 100000);
  photo->focal_35mm = bl_row_real (row, 5);
  photo->click_px = bl_row_real (row, 6);
  photo->slope = bl_row_real (row, 7);
  photo->slope_direction = bl_row_real (row, 8);
  if (row->problem == NULL && !bl_check_photo (photo, &error))
    bl_row_wrong (row, error->message);
  if (row->problem == NULL)
    return photo;
  g_free (photo->name);
  g_free (photo);
  return NULL;
}

gboolean
bl_photo_load (BlStore     *store,
               BlPhotoInfo *photo,
               GError     **error)
{
  gpointer read = NULL;

  if (!bl_rows_load_one (store, BL_TABLE_PHOTO, 1, read_photo, &read, error))
    return FALSE;
  if (read == NULL)
    return bl_rows_damaged (store, BL_TABLE_PHOTO, 1, _("it is missing"), error);
  g_free (photo->name);
  *photo = *(BlPhotoInfo *) read;
  g_free (read);
  return TRUE;
}

gboolean
bl_photo_write (BlStore           *store,
                const BlPhotoInfo *photo,
                gint64             picture,
                GError           **error)
{
  g_auto(BlUse) use = { NULL };
  gint64 id = 0, present = 0;

  if (!bl_check_photo (photo, error)
      || !bl_store_number (store, "SELECT coalesce(max(picture), 0) FROM photo", &present, error))
    return FALSE;
  if (picture < 0)
    picture = present;
  use = put_single (store, BL_TABLE_PHOTO, &id, error);
  if (use.stmt == NULL)
    return FALSE;
  if (picture > 0)
    bl_bind_int (&use, 2, picture);
  bl_bind_text (&use, 3, photo->name);
  bl_bind_int (&use, 4, photo->width);
  bl_bind_int (&use, 5, photo->height);
  bl_bind_real (&use, 6, photo->focal_35mm);
  bl_bind_real (&use, 7, photo->click_px);
  bl_bind_real (&use, 8, photo->slope);
  bl_bind_real (&use, 9, photo->slope_direction);
  return bl_rows_finish (store, BL_TABLE_PHOTO, &use, &id, error);
}

/* ---- prices ---- */

static gpointer
read_price_item (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlPriceItem *item = g_new0 (BlPriceItem, 1);

  item->key = bl_row_text (row, 1, BL_MAX_NAME);
  if (!bl_price_kind_from_name (bl_row_peek (row, 2, BL_MAX_NAME), &item->kind))
    bl_row_wrong (row, _("its kind is unknown"));
  item->name = bl_row_text (row, 3, BL_MAX_NAME);
  item->unit = bl_row_text (row, 4, BL_MAX_NAME);
  item->price = bl_row_int (row, 5, 0, BL_MAX_MINOR);
  item->amount = bl_row_real (row, 6);
  item->supplier = bl_row_text_or_null (row, 7, BL_MAX_NAME);
  item->invented = bl_row_switch (row, 8);
  if (row->problem == NULL && !bl_check_price_item (item, &error))
    bl_row_wrong (row, error->message);
  if (row->problem != NULL)
    g_clear_pointer (&item, bl_price_item_free);
  return item;
}

static gboolean
load_rules (BlStore      *store,
            BlPriceRules *rules,
            GError      **error)
{
  g_autoptr(GPtrArray) pairs = g_ptr_array_new_with_free_func ((GDestroyNotify) free_pair);

  if (!bl_rows_load (store, BL_TABLE_PRICE_RULE, read_pair, pairs, error))
    return FALSE;
  for (guint i = 0; i < pairs->len; i++)
    {
      const Pair *pair = g_ptr_array_index (pairs, i);
      g_autoptr(GError) problem = NULL;

      if (!bl_price_rule_set (rules, pair->name, pair->value, &problem)
          && store->version <= BL_DESIGN_VERSION)
        return bl_rows_damaged (store, BL_TABLE_PRICE_RULE, pair->id, problem->message, error);
    }
  return TRUE;
}

gboolean
bl_prices_load (BlStore     *store,
                BlPriceBook *book,
                GError     **error)
{
  g_autoptr(GPtrArray) items = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_price_item_free);

  if (!bl_rows_load (store, BL_TABLE_PRICE_ITEM, read_price_item, items, error))
    return FALSE;
  while (items->len > 0)
    bl_price_book_put_take (book, g_ptr_array_steal_index_fast (items, items->len - 1));
  return load_rules (store, &book->rules, error);
}

gboolean
bl_price_item_write (BlStore           *store,
                     const BlPriceItem *item,
                     GError           **error)
{
  static const char sql[]
      = "INSERT INTO price_item (code, kind, name, unit, price, amount, supplier, invented)"
        " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) ON CONFLICT (code) DO UPDATE SET kind = ?2, name "
        "= ?3,"
        " unit = ?4, price = ?5, amount = ?6, supplier = ?7, invented = ?8";
  g_auto(BlUse) use = { NULL };

  if (!bl_check_price_item (item, error))
    return FALSE;
  use = bl_store_use (store, sql, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, item->key);
  bl_bind_text (&use, 2, bl_price_kind_name (item->kind));
  bl_bind_text (&use, 3, item->name);
  bl_bind_text (&use, 4, item->unit);
  bl_bind_int (&use, 5, item->price);
  bl_bind_real (&use, 6, item->amount);
  bl_bind_text (&use, 7, item->supplier);
  bl_bind_int (&use, 8, item->invented != 0);
  return bl_store_step (store, use.stmt, error) == BL_STEP_DONE;
}

static gboolean
delete_price (BlStore    *store,
              const char *key,
              GError    **error)
{
  g_auto(BlUse) use = bl_store_use (store, "DELETE FROM price_item WHERE code = ?1", error);

  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, key);
  return bl_store_step (store, use.stmt, error) == BL_STEP_DONE;
}

gboolean
bl_prices_write (BlStore           *store,
                 const BlPriceBook *book,
                 GError           **error)
{
  g_autoptr(BlPriceBook) present = bl_price_book_new ();

  if (!bl_price_rules_check (&book->rules, error) || !bl_prices_load (store, present, error))
    return FALSE;
  for (guint i = 0; i < present->items->len; i++)
    {
      const BlPriceItem *item = g_ptr_array_index (present->items, i);

      if (bl_price_book_find (book, item->key) == NULL && !delete_price (store, item->key, error))
        return FALSE;
    }
  for (guint i = 0; i < book->items->len; i++)
    {
      const BlPriceItem *item = g_ptr_array_index (book->items, i);
      const BlPriceItem *old = bl_price_book_find (present, item->key);

      if ((old == NULL || !bl_price_item_equal (item, old))
          && !bl_price_item_write (store, item, error))
        return FALSE;
    }
  for (const char *const *name = bl_price_rule_names (); *name != NULL; name++)
    {
      g_autofree char *value = bl_price_rule_get (&book->rules, *name);

      if (!write_pair (store, BL_TABLE_PRICE_RULE, *name, value, error))
        return FALSE;
    }
  return TRUE;
}
