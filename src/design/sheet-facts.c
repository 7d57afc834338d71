/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheet parts of single facts: texts, site, prices, care. */
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/sheet-private.h"

/* The same sheet gives the same design: no chance where it names none. */
static void
give_id (BlSheet    *sheet,
         JsonObject *root)
{
  g_autofree char *id = bl_model_first_id (bl_sheet_text (sheet, NULL, root, "title", NULL),
                                           bl_sheet_text (sheet, NULL, root, "client", NULL),
                                           bl_sheet_text (sheet, NULL, root, "place", NULL));
  GError *problem = NULL;

  if (sheet->error == NULL && !bl_design_put_text (sheet->design, "id", id, &problem))
    bl_sheet_take (sheet, NULL, problem);
}

void
bl_sheet_read_texts (BlSheet    *sheet,
                     JsonObject *root)
{
  for (const char *const *name = bl_text_names (); *name != NULL; name++)
    {
      const char *value = bl_sheet_text (sheet, NULL, root, *name, NULL);
      BlPlace here = BL_PLACE_KEY (NULL, *name);
      GError *problem = NULL;

      if (value == NULL || sheet->error != NULL)
        continue;
      if (!bl_design_put_text (sheet->design, *name, value, &problem))
        bl_sheet_take (sheet, &here, problem);
      else if (strcmp (*name, "units") == 0)
        bl_units_from_name (value, &sheet->units, NULL);
      else if (strcmp (*name, "currency") == 0)
        {
          g_free (sheet->currency);
          sheet->currency = g_strdup (value);
        }
    }
  if (!bl_sheet_has (root, "id"))
    give_id (sheet, root);
}

/* ---- site ---- */

static BlMonthDay
read_month_day (BlSheet       *sheet,
                const BlPlace *place,
                JsonObject    *object,
                const char    *key)
{
  const char *text = bl_sheet_text (sheet, place, object, key, NULL);
  BlPlace here = BL_PLACE_KEY (place, key);
  BlMonthDay md = { 0, 0 };
  GError *problem = NULL;

  if (text != NULL && !bl_month_day_parse (text, &md, &problem))
    bl_sheet_take (sheet, &here, problem);
  return md;
}

static void
read_words (BlSheet       *sheet,
            const BlPlace *place,
            JsonObject    *object,
            BlSite        *site)
{
  const char *zone = bl_sheet_text (sheet, place, object, "zone", NULL);
  const char *soil = bl_sheet_text (sheet, place, object, "soil", "unknown");
  const char *moisture = bl_sheet_text (sheet, place, object, "moisture", "unknown");
  BlPlace at_zone = BL_PLACE_KEY (place, "zone"), at_soil = BL_PLACE_KEY (place, "soil");
  const char *wind = bl_sheet_text (sheet, place, object, "wind", "unknown");
  BlPlace at_moisture = BL_PLACE_KEY (place, "moisture"), at_wind = BL_PLACE_KEY (place, "wind");
  GError *problem = NULL;

  if (zone != NULL)
    {
      site->zone = bl_zone_parse (zone, &problem);
      bl_sheet_take (sheet, &at_zone, problem);
    }
  if (!bl_soil_from_name (soil, &site->soil))
    bl_sheet_refuse (sheet, &at_soil, "must be sand, loam, clay or unknown");
  if (!bl_moisture_from_name (moisture, &site->moisture))
    bl_sheet_refuse (sheet, &at_moisture, "must be dry, medium, wet or unknown");
  if (!bl_wind_from_name (wind, &site->wind))
    bl_sheet_refuse (sheet, &at_wind, "must be sheltered, open, windy or unknown");
  site->state = g_strdup (bl_sheet_text (sheet, place, object, "state", NULL));
}

void
bl_sheet_read_site (BlSheet    *sheet,
                    JsonObject *root)
{
  JsonObject *object = bl_sheet_object (sheet, NULL, root, "site");
  BlPlace here = BL_PLACE_KEY (NULL, "site");
  GError *problem = NULL;
  BlSite site;

  if (object == NULL)
    return;
  bl_sheet_keys (sheet, &here, object,
                 "latitude longitude north zone last_frost first_frost soil ph moisture sun_hours "
                 "salt_edge children pets deer state wind hot_days fire_zone full_from part_from");
  bl_site_init (&site);
  site.latitude = bl_sheet_number (sheet, &here, object, "latitude", NAN);
  site.longitude = bl_sheet_number (sheet, &here, object, "longitude", NAN);
  site.north = bl_sheet_number (sheet, &here, object, "north", NAN);
  site.last_frost = read_month_day (sheet, &here, object, "last_frost");
  site.first_frost = read_month_day (sheet, &here, object, "first_frost");
  site.ph = bl_sheet_number (sheet, &here, object, "ph", 0);
  site.sun_hours = bl_sheet_number (sheet, &here, object, "sun_hours", NAN);
  site.salt_edge = bl_sheet_switch (sheet, &here, object, "salt_edge", FALSE);
  site.children = bl_sheet_switch (sheet, &here, object, "children", FALSE);
  site.pets = bl_sheet_switch (sheet, &here, object, "pets", FALSE);
  site.deer = bl_sheet_switch (sheet, &here, object, "deer", FALSE);
  site.hot_days = bl_sheet_number (sheet, &here, object, "hot_days", NAN);
  site.fire_zone = bl_sheet_switch (sheet, &here, object, "fire_zone", FALSE);
  site.full_from = bl_sheet_number (sheet, &here, object, "full_from", NAN);
  site.part_from = bl_sheet_number (sheet, &here, object, "part_from", NAN);
  read_words (sheet, &here, object, &site);
  if (sheet->error == NULL && !bl_design_put_site (sheet->design, &site, &problem))
    bl_sheet_take (sheet, &here, problem);
  bl_site_clear (&site);
}

/* ---- prices ---- */

static gint64
read_price (BlSheet       *sheet,
            const BlPlace *place,
            JsonObject    *object)
{
  double value = bl_sheet_number (sheet, place, object, "price", 0);
  BlPlace here = BL_PLACE_KEY (place, "price");
  double minor = value * pow (10, bl_money_digits (sheet->currency));

  if (fabs (minor - round (minor)) > 1e-6 * MAX (1, fabs (minor))
      || fabs (minor) > (double) BL_MAX_MINOR)
    bl_sheet_refuse (sheet, &here, "must be an amount of money with at most %d decimals",
                     bl_money_digits (sheet->currency));
  return sheet->error == NULL ? (gint64) round (minor) : 0;
}

static void
read_price_item (BlSheet       *sheet,
                 const BlPlace *here,
                 JsonObject    *object)
{
  const char *key = bl_sheet_name (sheet, here, object, "key");
  const BlPriceItem *present = bl_price_book_find (sheet->prices, key);
  const char *kind = bl_sheet_text (sheet, here, object, "kind",
                                    present != NULL ? bl_price_kind_name (present->kind) : "");
  BlPlace at_kind = BL_PLACE_KEY (here, "kind");
  BlPriceItem item = { 0 };
  GError *problem = NULL;

  bl_sheet_keys (sheet, here, object, "key kind name unit price amount supplier invented");
  /* What is not said of an item that is in the book already stays as it is. */
  if (present != NULL)
    item = *present;
  item.key = (char *) key;
  item.name
      = (char *) bl_sheet_text (sheet, here, object, "name", item.name != NULL ? item.name : key);
  item.unit
      = (char *) bl_sheet_text (sheet, here, object, "unit",
                                item.unit != NULL ? item.unit : "each");
  if (bl_sheet_has (object, "price"))
    item.price = read_price (sheet, here, object);
  item.amount = bl_sheet_number (sheet, here, object, "amount", item.amount);
  item.supplier = (char *) bl_sheet_text (sheet, here, object, "supplier", item.supplier);
  item.invented = bl_sheet_switch (sheet, here, object, "invented", FALSE);
  if (!bl_price_kind_from_name (kind, &item.kind))
    bl_sheet_refuse (sheet, &at_kind,
                     "must be plant, material, labour, equipment, delivery or disposal");
  if (sheet->error != NULL)
    return;
  if (!bl_check_price_item (&item, &problem))
    bl_sheet_take (sheet, here, problem);
  else
    bl_price_book_put_take (sheet->prices, bl_price_item_copy (&item));
}

static void
read_rules (BlSheet       *sheet,
            const BlPlace *place,
            JsonObject    *rules)
{
  g_autoptr(GList) names = json_object_get_members (rules);

  for (GList *name = names; name != NULL && sheet->error == NULL; name = name->next)
    {
      BlPlace here = BL_PLACE_KEY (place, name->data);
      JsonNode *node = json_object_get_member (rules, name->data);
      GType type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;
      g_autofree char *value = NULL;
      GError *problem = NULL;

      if (type == G_TYPE_STRING)
        value = g_strdup (json_node_get_string (node));
      else if (type == G_TYPE_BOOLEAN)
        value = g_strdup (json_node_get_boolean (node) ? "yes" : "no");
      else if (type == G_TYPE_INT64 || type == G_TYPE_DOUBLE)
        value = bl_double_format (json_node_get_double (node));
      if (value == NULL)
        bl_sheet_refuse (sheet, &here, "must be a number, a word, true or false");
      else if (!bl_price_rule_set (&sheet->prices->rules, name->data, value, &problem))
        bl_sheet_take (sheet, &here, problem);
    }
}

void
bl_sheet_read_prices (BlSheet    *sheet,
                      JsonObject *root)
{
  JsonObject *object = bl_sheet_object (sheet, NULL, root, "prices");
  BlPlace here = BL_PLACE_KEY (NULL, "prices"), list = BL_PLACE_KEY (&here, "items");
  BlPlace at_rules = BL_PLACE_KEY (&here, "rules");
  JsonArray *items;
  JsonObject *rules;
  GError *problem = NULL;

  if (object == NULL)
    return;
  bl_sheet_keys (sheet, &here, object, "whole items rules");
  if (bl_sheet_switch (sheet, &here, object, "whole", FALSE))
    {
      bl_price_book_free (sheet->prices);
      sheet->prices = bl_price_book_new ();
    }
  items = bl_sheet_array (sheet, &here, object, "items");
  for (guint i = 0; items != NULL && i < json_array_get_length (items) && sheet->error == NULL; i++)
    {
      BlPlace at = BL_PLACE_INDEX (&list, i);
      JsonObject *item = bl_sheet_element (sheet, &at, items, i);

      if (item != NULL)
        read_price_item (sheet, &at, item);
    }
  rules = bl_sheet_object (sheet, &here, object, "rules");
  if (rules != NULL)
    read_rules (sheet, &at_rules, rules);
  if (sheet->error == NULL && !bl_design_put_price_book (sheet->design, sheet->prices, &problem))
    bl_sheet_take (sheet, &here, problem);
}

/* ---- care ---- */

static void
read_mark (BlSheet       *sheet,
           const BlPlace *here,
           JsonObject    *object)
{
  BlCareMark mark = { 0 };
  GError *problem = NULL;

  bl_sheet_keys (sheet, here, object, "task done moved dropped");
  mark.uid = (char *) bl_sheet_name (sheet, here, object, "task");
  mark.done = bl_sheet_day (sheet, here, object, "done");
  mark.moved = bl_sheet_day (sheet, here, object, "moved");
  mark.dropped = bl_sheet_switch (sheet, here, object, "dropped", FALSE);
  if (sheet->error == NULL && !bl_design_put_care_mark (sheet->design, &mark, &problem))
    bl_sheet_take (sheet, here, problem);
}

static void
read_task (BlSheet       *sheet,
           const BlPlace *here,
           JsonObject    *object)
{
  BlOwnTask task = { 0 };
  GError *problem = NULL;

  bl_sheet_keys (sheet, here, object, "title day yearly hours");
  task.title = (char *) bl_sheet_name (sheet, here, object, "title");
  task.day = bl_sheet_day (sheet, here, object, "day");
  task.yearly = bl_sheet_switch (sheet, here, object, "yearly", FALSE);
  task.hours = bl_sheet_number (sheet, here, object, "hours", 0);
  if (sheet->error == NULL && !bl_design_put_own_task (sheet->design, &task, &problem))
    bl_sheet_take (sheet, here, problem);
}

void
bl_sheet_read_care (BlSheet    *sheet,
                    JsonObject *root)
{
  BlPlace at_marks = BL_PLACE_KEY (NULL, "care_marks"), at_tasks = BL_PLACE_KEY (NULL, "own_tasks");
  JsonArray *marks = bl_sheet_array (sheet, NULL, root, "care_marks");
  JsonArray *tasks = bl_sheet_array (sheet, NULL, root, "own_tasks");

  for (guint i = 0; marks != NULL && i < json_array_get_length (marks) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&at_marks, i);
      JsonObject *object = bl_sheet_element (sheet, &here, marks, i);

      if (object != NULL)
        read_mark (sheet, &here, object);
    }
  for (guint i = 0; tasks != NULL && i < json_array_get_length (tasks) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&at_tasks, i);
      JsonObject *object = bl_sheet_element (sheet, &here, tasks, i);

      if (object != NULL)
        read_task (sheet, &here, object);
    }
}
