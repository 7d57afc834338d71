/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant of the person's own travels with the design: record and picture, through undo, reopening,
 * copies; and a nursery's prices come into a book. */
#include "fixture.h"

#include "design/pricebook-stock.h"

static const char bytes_of_picture[] = "the design does not look into it";

static BlPlant *
own_plant (GBytes *bytes)
{
  g_autofree char *sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  g_autofree char *record = NULL;
  BlPlant *plant = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(BlPlant) plain = bl_library_get (yard_library (), yard_slugs[0], &error);

  record = g_strdup_printf ("%spicture=%s 60 0.5 1 0 0\n", strchr (plain->text, '\n') + 1, sha256);
  plant = bl_plant_parse ("mine", record, &error);
  g_assert_no_error (error);
  bl_plant_lend_picture (plant, bytes);
  return plant;
}

static void
put (Fixture *fixture, BlPlant *plant)
{
  g_autoptr(GError) error = NULL;

  bl_design_begin (fixture->design, "Plant my own", &error);
  bl_design_put_plant (fixture->design, plant, &error);
  bl_design_commit (fixture->design, &error);
  g_assert_no_error (error);
}

static gboolean
has_picture (BlDesign *design)
{
  const BlPlant *plant = bl_model_plant (bl_design_get_model (design), "mine");

  return plant != NULL && plant->cutout != NULL && plant->cutout->bytes != NULL
         && g_bytes_get_size (plant->cutout->bytes) == strlen (bytes_of_picture);
}

static void
test_travels (Fixture      *fixture,
              gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (bytes_of_picture, strlen (bytes_of_picture));
  g_autoptr(BlPlant) plant = own_plant (bytes);
  g_autofree char *copy = yard_path (fixture->folder, "copy.bedline");
  g_autoptr(BlDesign) elsewhere = NULL;
  g_autoptr(GError) error = NULL;

  put (fixture, plant);
  g_assert_true (has_picture (fixture->design));
  g_assert_true (bl_design_undo (fixture->design, &error));
  g_assert_null (bl_model_plant (bl_design_get_model (fixture->design), "mine"));
  g_assert_true (bl_design_redo (fixture->design, &error));
  g_assert_true (has_picture (fixture->design));
  reopen (fixture);
  g_assert_true (has_picture (fixture->design));
  yard_assert_sound (fixture->design);
  /* No library is asked: another machine needs nothing but the file. */
  g_assert_true (bl_design_save_copy (fixture->design, copy, &error));
  elsewhere = bl_design_open (copy, &error);
  g_assert_no_error (error);
  g_assert_true (has_picture (elsewhere));
}

static void
test_prices (void)
{
  g_autoptr(BlPriceBook) book = bl_price_book_defaults ();
  g_autoptr(BlStock) stock = bl_stock_new ("Invented Nursery", "USD");
  guint before = book->items->len;
  const BlPriceItem *item;

  bl_stock_put (stock, &(BlOffer) { "mine", "#1", 1250, 40, 0 });
  bl_stock_put (stock, &(BlOffer) { "mine", "#3", -1, 2, 0 });
  g_assert_cmpuint (bl_price_book_take_stock (book, stock, NULL), ==, 1);
  g_assert_cmpuint (book->items->len, ==, before + 1); /* what has no price is left alone */
  item = bl_price_book_find (book, "mine|#1");
  g_assert_cmpint (item->price, ==, 1250);
  g_assert_cmpint (item->kind, ==, BL_PRICE_PLANT);
  g_assert_cmpstr (item->supplier, ==, "Invented Nursery");
  g_assert_false (item->invented);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/design/own-plants/travels", Fixture, NULL, set_up, test_travels, tear_down);
  g_test_add_func ("/design/own-plants/prices", test_prices);
  return g_test_run ();
}
