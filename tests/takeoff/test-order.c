/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order list and the nursery request, read back as RFC 4180. */
#include <string.h>

#include "base/csv.h"
#include "takeoff/short.h"
#include "job.h"

static BlModel *
two_beds (void)
{
  BlModel *model = job_new (30, 10);
  BlPriceItem item = { (char *) "ilex-verticillata|#1", BL_PRICE_PLANT, (char *) "x",
                       (char *) "each", 2999, 1, (char *) "=Grower, Inc.", FALSE };
  BlPlanting *planting;

  scene_bed (model, "Back", scene_rectangle (0, 10, 5, 12), TRUE);
  scene_plant (model, "ilex-verticillata", BL_TYPE_SHRUB, 1.2, 1.2);
  scene_plant (model, "acer-rubrum", BL_TYPE_TREE, 5, 5);
  bl_price_book_put_take (model->prices, bl_price_item_copy (&item));
  planting = scene_planting (model, 1, "ilex-verticillata", BL_PLANTING_SPECIMEN,
                             scene_point (1, 1));
  planting->note = g_strdup ("well branched, \"full\"; No substitutes");
  scene_planting (model, 2, "ilex-verticillata", BL_PLANTING_SPECIMEN, scene_point (2, 11));
  scene_planting (model, 1, "acer-rubrum", BL_PLANTING_SPECIMEN, scene_point (7, 1.5));
  model->planting_day = bl_day (2026, 9, 15);
  return model;
}

static void
test_order (void)
{
  g_autoptr (BlModel) model = two_beds ();
  g_autoptr (BlTakeoff) takeoff = job_takeoff (model);
  g_autofree char *text = bl_takeoff_order_csv (takeoff);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) rows = bl_csv_parse (text, strlen (text), &error);
  char **head, **holly, **maple;

  g_assert_no_error (error);
  g_assert_cmpuint (rows->len, ==, 3);
  head = rows->pdata[0];
  holly = rows->pdata[1];
  maple = rows->pdata[2];
  g_assert_cmpstr (head[6], ==, "Order");
  /* A name that a spreadsheet would run as a formula is disarmed. */
  g_assert_nonnull (strstr (text, "\r\n\"'=Grower, Inc.\","));
  g_assert_cmpstr (holly[0], ==, "=Grower, Inc.");
  g_assert_cmpstr (holly[1], ==, "Ilex verticillata");
  g_assert_cmpstr (holly[4], ==, "2");
  g_assert_cmpstr (holly[7], ==, "29.99");
  g_assert_cmpstr (holly[8], ==, "59.98");
  g_assert_cmpstr (holly[10], ==, "Front: 1; Back: 1");
  g_assert_cmpstr (holly[11], ==, "well branched, \"full\"; No substitutes");
  g_assert_cmpstr (head[12], ==, "Substitute allowed");
  g_assert_cmpstr (holly[12], ==, "no");
  g_assert_cmpstr (maple[12], ==, "ask first");
  g_assert_cmpstr (maple[0], ==, "");
  g_assert_cmpstr (maple[7], ==, "14.50");
}

static void
test_request (void)
{
  g_autoptr (BlModel) model = two_beds ();
  g_autoptr (BlTakeoff) takeoff = job_takeoff (model);
  g_autofree char *text = bl_takeoff_request_csv (takeoff);
  g_autoptr (GPtrArray) rows = bl_csv_parse (text, strlen (text), NULL);
  char **holly = rows->pdata[1];

  g_assert_cmpuint (rows->len, ==, 3);
  g_assert_cmpuint (g_strv_length (holly), ==, g_strv_length (rows->pdata[0]));
  g_assert_cmpstr (holly[3], ==, "2");
  g_assert_cmpstr (holly[4], ==, "2026-09-15");
  g_assert_cmpstr (holly[5], ==, "");
  g_assert_cmpstr (holly[6], ==, "no");
  g_assert_cmpstr (holly[7], ==, "");
  g_assert_null (strstr (text, "29.99"));
}

/* What a nursery has beside what is ordered: too few, too late, enough, not listed. */
static void
test_short (void)
{
  g_autoptr (BlModel) model = two_beds ();
  g_autoptr (BlTakeoff) takeoff = job_takeoff (model);
  g_autoptr (BlStock) stock = bl_stock_new ("Invented Nursery", "USD");
  g_autofree char *plain = bl_takeoff_order_csv (takeoff), *text = NULL, *words = NULL;
  g_autoptr (GPtrArray) rows = NULL;
  g_autoptr (GArray) none = bl_takeoff_shortages (takeoff, NULL), some = NULL, late = NULL;
  const BlPlantCount *holly = NULL;
  char **row;

  for (guint i = 0; i < takeoff->counts->len && holly == NULL; i++)
    if (strcmp (g_array_index (takeoff->counts, BlPlantCount, i).plant->slug, "ilex-verticillata") == 0)
      holly = &g_array_index (takeoff->counts, BlPlantCount, i);
  g_assert_nonnull (holly);
  g_assert_cmpuint (none->len, ==, 0);
  g_assert_null (strstr (plain, "Short by"));
  /* One bed each takes one, and the nursery has one in all. */
  bl_stock_put (stock, &(BlOffer) { "ilex-verticillata", (char *) holly->size, -1, 1, 0 });
  some = bl_takeoff_shortages (takeoff, stock);
  g_assert_cmpuint (some->len, ==, 1);
  g_assert_cmpuint (g_array_index (some, BlShortage, 0).order, ==, 2);
  g_assert_cmpuint (g_array_index (some, BlShortage, 0).missing, ==, 1);
  words = bl_shortage_words (&g_array_index (some, BlShortage, 0), NULL);
  g_assert_nonnull (strstr (words, ": 2 ordered, 1 in stock"));
  text = bl_takeoff_order_csv_with (takeoff, stock);
  rows = bl_csv_parse (text, strlen (text), NULL);
  row = rows->pdata[0];
  g_assert_cmpuint (g_strv_length (row), ==, 16);
  g_assert_cmpstr (row[15], ==, "Short by");
  row = rows->pdata[1];
  g_assert_cmpstr (row[13], ==, "1");
  g_assert_cmpstr (row[15], ==, "1");
  row = rows->pdata[2];
  g_assert_cmpstr (row[13], ==, "");
  /* Enough, but the day after the planting day. */
  bl_stock_put (stock, &(BlOffer) { "ilex-verticillata", (char *) holly->size, -1, 50,
                                    model->planting_day + 1 });
  late = bl_takeoff_shortages (takeoff, stock);
  g_assert_cmpuint (late->len, ==, 1);
  g_assert_true (g_array_index (late, BlShortage, 0).late);
  bl_stock_put (stock, &(BlOffer) { "ilex-verticillata", (char *) holly->size, -1, 50,
                                    model->planting_day });
  g_array_unref (late);
  late = bl_takeoff_shortages (takeoff, stock);
  g_assert_cmpuint (late->len, ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/order/list", test_order);
  g_test_add_func ("/order/request", test_request);
  g_test_add_func ("/order/short", test_short);
  return g_test_run ();
}
