/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The snapshot: derived ground, numbers in cells, lookups, price book and its table. */
#include "design/check.h"
#include "design/numbers.h"
#include "geometry/polygon.h"
#include "yard.h"

/* ---- numbers ---- */

static void
test_numbers (void)
{
  g_autoptr(BlPoints) points = bl_points_new ();
  BlRng rng = bl_rng (11);
  static const char *const refused[] = {
    "",       "[",         "1,2",     "[1]",     "[1,2",     "[1,2]x",
    "[1,,2]", "[1,2,]",    "[nan,1]", "[inf,1]", "[0x10,1]", "[1e999,0]",
    "[1 ,2]", "[\"1\",2]", "[1,2,3]", "[--1,2]", "[.,1]",
  };

  for (int i = 0; i < 500; i++)
    bl_points_add (points, BL_POINT (bl_rng_normal (&rng) * pow (10, bl_rng_range (&rng, -12, 12)),
                                     bl_rng_unit (&rng)));
  {
    g_autofree char *text = bl_points_to_text (points);
    g_autoptr(BlPoints) back = bl_points_from_text (text, 500, NULL);

    g_assert_true (bl_points_equal (points, back));
    g_assert_null (bl_points_from_text (text, 499, NULL));
  }
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autoptr(GError) error = NULL;

      if (bl_points_from_text (refused[i], 100, &error) != NULL)
        g_error ("“%s” is not refused", refused[i]);
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
    }
}

static void
test_names (void)
{
  const char *names[] = { "A", "the \"old\" oak", "back\\slash", "née", NULL };
  g_autofree char *text = bl_names_to_text (names);
  g_auto(GStrv) back = bl_names_from_text (text, 4, NULL);
  gboolean *flags = NULL;
  gboolean set[5] = { TRUE, FALSE, FALSE, TRUE, FALSE };
  g_autofree char *corners = bl_flags_to_text (set, 5);

  g_assert_cmpstrv (names, back);
  g_assert_null (bl_names_from_text (text, 3, NULL));
  g_assert_null (bl_names_from_text ("[\"a", 4, NULL));
  g_assert_null (bl_names_from_text ("[\"a\" \"b\"]", 4, NULL));
  g_assert_cmpstr (corners, ==, "[0,3]");
  g_assert_true (bl_flags_from_text (corners, 5, &flags, NULL));
  g_assert_cmpmem (flags, sizeof set, set, sizeof set);
  g_free (flags);
  g_assert_false (bl_flags_from_text ("[5]", 5, &flags, NULL));
  g_assert_false (bl_flags_from_text ("[1,1]", 5, &flags, NULL));
  g_assert_false (bl_flags_from_text ("[-1]", 5, &flags, NULL));
}

/* ---- derived ground ---- */

static BlBed *
add_bed (BlModel    *model,
         const char *name)
{
  BlBed *bed = bl_bed_new ();

  g_free (bed->name);
  bed->name = g_strdup (name);
  bed->id = model->beds->len + 1;
  g_ptr_array_add (model->beds, bed);
  return bed;
}

static void
test_plan_bed (void)
{
  g_autoptr(BlModel) model = bl_model_new ();
  BlBed *bed = add_bed (model, "Triangle");
  BlPoints *points = bl_points_new ();

  /* Clockwise, 3-4-5: area 6 m², perimeter 12 m, exactly. */
  bl_points_add (points, BL_POINT (0, 0));
  bl_points_add (points, BL_POINT (0, 4));
  bl_points_add (points, BL_POINT (3, 0));
  bed->outline = bl_outline_new_take (points, TRUE);
  bl_model_derive (model, NULL);
  g_assert_null (bed->problem);
  g_assert_cmpfloat (bed->area.value, ==, 6);
  g_assert_cmpfloat (bed->area.sd, ==, 0);
  g_assert_cmpfloat (bed->perimeter.value, ==, 12);
  g_assert_cmpfloat (bl_polygon_signed_area (bed->ring), ==, 6);
  g_assert_true (bl_model_bed_named (model, "Triangle") == bed);
  g_assert_true (bl_model_bed (model, 1) == bed);
  g_assert_null (bl_model_bed (model, 2));
  g_assert_cmpfloat (bl_model_extent (model).y1, ==, 4);
}

static void
test_no_camera (void)
{
  g_autoptr(BlModel) model = bl_model_new ();
  BlBed *bed = add_bed (model, "In the photo");
  BlPoints *points = bl_points_new ();
  BlRect empty = bl_model_extent (model);

  g_assert_cmpfloat (empty.x1 - empty.x0, ==, 10);
  bl_points_add (points, BL_POINT (0, 0));
  bl_points_add (points, BL_POINT (100, 0));
  bl_points_add (points, BL_POINT (100, 90));
  bed->outline = bl_outline_new_take (points, TRUE);
  bed->source = BL_FROM_PHOTO;
  bl_model_derive (model, NULL);
  g_assert_null (bed->ground);
  g_assert_nonnull (bed->problem);
  g_assert_null (model->camera_problem);
  model->photo.width = 400;
  model->photo.height = 300;
  bl_model_derive (model, NULL);
  g_assert_nonnull (model->camera_problem);
  g_assert_cmpstr (bed->problem, ==, model->camera_problem);
}

/* A rectangle of tape points 6 m by 4 m, each measured from two fixed ones: the spread of the area
 * is that of the product's first differences, S = ½ Σ (x_i (y_i+1 - y_i-1)), worked here from the
 * points' own spreads by hand. */
static void
test_tape_bed (void)
{
  g_autoptr(BlModel) model = bl_model_new ();
  BlBed *bed = add_bed (model, "Taped");
  const char *names[] = { "A", "B", "C", "D", NULL };
  const BlPoint at[] = { { 0, 0 }, { 6, 0 }, { 6, 4 }, { 0, 4 } };
  double variance = 0;

  model->tape = bl_tape_new ();
  for (int i = 0; i < 4; i++)
    bl_tape_add_point (model->tape, names[i]);
  bl_tape_fix (model->tape, 0, at[0]);
  bl_tape_fix (model->tape, 1, at[1]);
  for (guint i = 0; i < 2; i++)
    for (guint j = 2; j < 4; j++)
      bl_tape_add_distance (model->tape, i, j, bl_dist (at[i], at[j]), 0.02);
  bl_tape_add_distance (model->tape, 2, 3, 6, 0.02);
  bed->source = BL_FROM_TAPE;
  bed->tape_points = g_strdupv ((char **) names);
  bed->tape_sharp = g_new (gboolean, 4);
  for (int i = 0; i < 4; i++)
    bed->tape_sharp[i] = TRUE;
  bl_model_derive (model, NULL);
  g_assert_null (bed->problem);
  g_assert_true (bed->ground->straight);
  g_assert_cmpfloat_with_epsilon (bed->area.value, 24, 1e-6);
  g_assert_cmpfloat_with_epsilon (bed->perimeter.value, 20, 1e-6);
  for (int i = 0; i < 4; i++)
    {
      const BlTapePoint *point = &g_array_index (model->tape->points, BlTapePoint, i);
      BlPoint before = at[(i + 3) % 4], after = at[(i + 1) % 4];

      variance += pow (0.5 * (after.y - before.y) * point->sx, 2)
                  + pow (0.5 * (before.x - after.x) * point->sy, 2);
    }
  g_assert_cmpfloat (variance, >, 0);
  g_assert_cmpfloat_with_epsilon (bed->area.sd, sqrt (variance), 1e-6);
  g_free (bed->tape_points[3]);
  bed->tape_points[3] = g_strdup ("E");
  bl_model_derive (model, NULL);
  g_assert_nonnull (strstr (bed->problem, "“E”"));
  g_assert_null (bed->ground);
}

/* ---- words ---- */

static void
test_words (void)
{
  for (int i = 0; i < BL_FEATURE_N; i++)
    {
      BlFeatureKind kind = BL_FEATURE_N;

      g_assert_true (bl_feature_kind_from_name (bl_feature_kind_name ((BlFeatureKind) i), &kind));
      g_assert_cmpint (kind, ==, i);
    }
  for (int i = 0; i <= BL_PLANTING_FILL; i++)
    {
      BlPlantingForm form = BL_PLANTING_FILL;

      g_assert_true (bl_planting_form_from_name (bl_planting_form_name ((BlPlantingForm)i), &form));
      g_assert_cmpint (form, ==, i);
    }
  for (int i = 0; i < BL_PRICE_N; i++)
    {
      BlPriceKind kind = BL_PRICE_N;

      g_assert_true (bl_price_kind_from_name (bl_price_kind_name ((BlPriceKind) i), &kind));
      g_assert_cmpint (kind, ==, i);
    }
}

/* ---- the price book ---- */

static void
test_price_book (void)
{
  g_autoptr(BlPriceBook) book = bl_price_book_defaults ();
  g_autoptr(BlPriceBook) copy = bl_price_book_copy (book);
  g_autoptr(GError) error = NULL;
  static const char *const needed[] = {
    "mulch-bulk",   "mulch-bag",    "compost-bulk",  "planting-mix-bulk", "edging-steel",
    "edging-brick", "edging-stone", "fabric",        "stake-set",         "trellis",
    "fertiliser",   "prepare-bed",  "plant-plug",    "plant-quart",       "plant-#1",
    "plant-#2",     "plant-#3",     "plant-#5",      "plant-#7",          "plant-#15",
    "plant-bulb",   "plant-B&B",    "spread-mulch",  "lay-edging",        "water-in",
    "clean-up",     "set-out",      "delivery-load", "disposal",          "equipment-day",
  };

  for (guint i = 0; i < G_N_ELEMENTS (needed); i++)
    {
      const BlPriceItem *item = bl_price_book_find (book, needed[i]);

      g_assert_nonnull (item);
      g_assert_true (item->invented);
      g_assert_true (bl_check_price_item (item, &error));
      /* Labour is a rate in minutes, everything else has a price. */
      g_assert_true (item->kind == BL_PRICE_LABOUR ? item->price == 0 && item->amount > 0
                                                   : item->price > 0);
    }
  for (guint i = 1; i < book->items->len; i++)
    g_assert_cmpstr (((BlPriceItem *) g_ptr_array_index (book->items, i - 1))->key, <,
                     ((BlPriceItem *) g_ptr_array_index (book->items, i))->key);
  g_assert_true (bl_price_rules_check (&book->rules, &error));
  g_assert_true (bl_price_book_equal (book, copy));
  g_assert_true (bl_price_book_remove (copy, "fabric"));
  g_assert_false (bl_price_book_remove (copy, "fabric"));
  g_assert_false (bl_price_book_equal (book, copy));
}

static void
test_price_table (void)
{
  static const char *const currencies[] = { "USD", "JPY", "KWD" };
  g_autoptr(BlPriceBook) book = bl_price_book_defaults ();
  BlPriceItem item = { (char *) "own",
                       BL_PRICE_MATERIAL,
                       (char *) "=SUM(A1), \"quoted\"\nsecond",
                       (char *) "each",
                       1234567,
                       0.1,
                       (char *) "@yard",
                       FALSE };

  item.name = (char *) "=SUM(A1), \"quoted\"";
  bl_price_book_put_take (book, bl_price_item_copy (&item));
  g_assert_true (bl_price_rule_set (&book->rules, "tax_name", "IVA", NULL));
  g_assert_true (bl_price_rule_set (&book->rules, "profit", "0.1234567890123", NULL));
  for (guint i = 0; i < G_N_ELEMENTS (currencies); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autofree char *table = bl_price_book_to_csv_in (book, currencies[i]);
      g_autoptr(BlPriceBook) back = bl_price_book_from_csv_in (table, -1, currencies[i], &error);

      g_assert_no_error (error);
      g_assert_true (bl_price_book_equal (book, back));
      /* No cell of it would run in a spreadsheet. */
      g_assert_null (strstr (table, ",=SUM"));
      g_assert_null (strstr (table, "\"=SUM"));
      g_assert_null (strstr (table, ",@yard"));
    }
}

static const struct
{
  const char *table, *said;
} bad_tables[] = {
  { "", "first record" },
  { "key,price\r\n", "first record" },
#define HEAD "kind,key,name,unit,price,amount,supplier,invented\r\n"
  { HEAD "material,a,A,m3,1.00,1\r\n", "record 2 has 6 fields" },
  { HEAD "gift,a,A,m3,1.00,1,,no\r\n", "record 2, column “kind”" },
  { HEAD "material,a,A,m3,one,1,,no\r\n", "record 2, column “price”" },
  { HEAD "material,a,A,m3,-1.00,1,,no\r\n", "record 2, column" },
  { HEAD "material,a,A,m3,1.00,nan,,no\r\n", "record 2, column “amount”" },
  { HEAD "material,a,A,m3,1.00,1x,,no\r\n", "record 2, column “amount”" },
  { HEAD "material,a,A,m3,1.00,1,,maybe\r\n", "record 2, column “invented”" },
  { HEAD "material,,A,m3,1.00,1,,no\r\n", "record 2, column “key”" },
  { HEAD "material,a,A,m3,1.00,1,,no\r\nmaterial,a,A,m3,1.00,1,,no\r\n",
    "record 3, column “key”: stands in the table twice" },
  { HEAD "rule,tip,,,,1,,\r\n", "record 2, column “amount”: there is no price rule" },
  { HEAD "rule,tax_rate,,,,7,,\r\n", "tax_rate cannot be “7”" },
  { HEAD "rule,use_margin,,,,yes,,\r\nrule,profit,,,,1.5,,\r\n", "profit" },
  { HEAD "material,a,\"A,m3,1.00,1,,no\r\n", "" },
};

static void
test_bad_tables (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (bad_tables); i++)
    {
      g_autoptr(GError) error = NULL;

      if (bl_price_book_from_csv (bad_tables[i].table, -1, &error) != NULL)
        g_error ("not refused: %s", bad_tables[i].table);
      yard_assert_error (&error, BL_ERROR_INPUT, bad_tables[i].said);
    }
}

static void
test_rules (void)
{
  BlPriceRules rules = { 0 };

  for (const char *const *name = bl_price_rule_names (); *name != NULL; name++)
    {
      g_autofree char *value = NULL;

      g_assert_false (bl_price_rule_set (
          &rules, *name, strcmp (*name, "tax_name") == 0 ? "\xff" : "no such value", NULL));
      value = bl_price_rule_get (&rules, *name);
      if (value != NULL)
        g_assert_true (bl_price_rule_set (&rules, *name, value, NULL));
    }
  bl_price_rules_clear (&rules);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/model/numbers", test_numbers);
  g_test_add_func ("/model/names", test_names);
  g_test_add_func ("/model/plan-bed", test_plan_bed);
  g_test_add_func ("/model/no-camera", test_no_camera);
  g_test_add_func ("/model/tape-bed", test_tape_bed);
  g_test_add_func ("/model/words", test_words);
  g_test_add_func ("/model/price-book", test_price_book);
  g_test_add_func ("/model/price-table", test_price_table);
  g_test_add_func ("/model/bad-tables", test_bad_tables);
  g_test_add_func ("/model/rules", test_rules);
  return g_test_run ();
}
