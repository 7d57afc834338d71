/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's own plants: tables in and out (RFC 4180), faults key by key, pictures, hidden ones;
 * and the nursery's list. */
#include <glib/gstdio.h>

#include "base/csv.h"
#include "base/error.h"
#include "plants/season.h"
#include "sample.h"

typedef struct
{
  char *folder, *db, *own;
  BlLibrary *library;
} Place;

static void
set_up (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *file = NULL, *text = NULL;

  place->folder = g_dir_make_tmp ("bedline-own-XXXXXX", NULL);
  file = g_build_filename (place->folder, "a.plants", NULL);
  place->db = g_build_filename (place->folder, "plants.db", NULL);
  place->own = g_build_filename (place->folder, "own.db", NULL);
  text = g_strdup_printf ("[echinacea-purpurea]\n%s\n", sample_record);
  g_assert_true (g_file_set_contents (file, text, -1, NULL));
  g_assert_true (bl_library_compile ((const char *const[]) { file, NULL }, place->db, &error));
  g_assert_no_error (error);
  g_unlink (file);
  place->library = bl_library_open (place->db, place->own, &error);
  g_assert_no_error (error);
}

static void
tear_down (Place *place, gconstpointer data)
{
  bl_library_free (place->library);
  g_unlink (place->db);
  g_unlink (place->own);
  g_rmdir (place->folder);
  g_free (place->folder);
  g_free (place->db);
  g_free (place->own);
}

/* The sample as a table, with one cell changed. */
static char *
table_with (const char *key, const char *value)
{
  g_autoptr (BlPlant) plant = sample_plant ("mine", "basis", "seen");
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GPtrArray) heads = g_ptr_array_new (), cells = g_ptr_array_new_with_free_func (g_free);
  const char *const *keys = bl_plant_keys ();
  GString *csv = g_string_new (NULL);

  g_assert_true (g_key_file_load_from_data (file, plant->text, strlen (plant->text), 0, NULL));
  for (guint i = 0; keys[i] != NULL; i++)
    {
      char *cell = g_strcmp0 (keys[i], key) == 0 ? g_strdup (value)
                                                 : g_key_file_get_value (file, "mine", keys[i], NULL);

      g_ptr_array_add (heads, (gpointer) keys[i]);
      g_ptr_array_add (cells, cell != NULL ? cell : g_strdup (""));
    }
  g_ptr_array_add (heads, NULL);
  g_ptr_array_add (cells, NULL);
  bl_csv_append (csv, (const char *const *) heads->pdata);
  bl_csv_append (csv, (const char *const *) cells->pdata);
  return g_string_free (csv, FALSE);
}

static guint
column (const char *key)
{
  const char *const *keys = bl_plant_keys ();
  guint i = 0;

  while (g_strcmp0 (keys[i], key) != 0)
    i++;
  return i + 1;
}

/* A table of a person who knows nothing of slugs: the name gives it. */
static void
test_without_slug (Place *place, gconstpointer data)
{
  g_autofree char *csv = table_with ("cultivar", "Our Own");
  g_autoptr (GError) error = NULL;
  guint n = 0;

  g_assert_true (bl_library_import_own (place->library, csv, strlen (csv), &n, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (n, ==, 1);
  g_assert_true (bl_library_is_own (place->library, "echinacea-purpurea-our-own"));
  g_assert_false (bl_library_is_own (place->library, "echinacea-purpurea"));
}

static void
test_faults_in_tables (Place *place, gconstpointer data)
{
  static const struct
  {
    const char *key, *value, *words;
  } faults[] = {
    { "height", "90 60 70", "between low and high" },
    { "zones", "8b 3a", "the colder zone comes first" },
    { "flower_months", "6 13", "not a number from 0 to 12" },
    { "genus", "echinacea", "capital first letter" },
    { "light", "dark", "full, part or shade" },
    { "stem", "brown", "not a colour" },
    { "basis", "", "is missing" },
    { "common", "two\nlines", "stay on one line" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      g_autofree char *good = table_with ("cultivar", "Good One");
      g_autofree char *bad = table_with (faults[i].key, faults[i].value);
      g_autofree char *both = g_strconcat (good, strstr (bad, "\r\n") + 2, NULL);
      g_autofree char *where = g_strdup_printf ("Line 3, column %u (“%s”): ", column (faults[i].key),
                                                faults[i].key);
      g_autoptr (GError) error = NULL;
      guint n = 7;

      g_assert_false (bl_library_import_own (place->library, both, strlen (both), &n, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_test_message ("%s", error->message);
      g_assert_true (g_str_has_prefix (error->message, where));
      g_assert_nonnull (strstr (error->message, faults[i].words));
      /* Nothing of the good line came in. */
      g_assert_cmpuint (n, ==, 0);
      g_assert_cmpuint (bl_library_n_plants (place->library), ==, 1);
    }
}

/* Lines are those of the file, also after a cell of several lines and empty rows. */
static void
test_lines_and_headings (Place *place, gconstpointer data)
{
  g_autofree char *good = table_with ("cultivar", "Good One");
  g_autofree char *bad = table_with ("spacing", "wide");
  static const struct
  {
    const char *csv, *words;
  } cases[] = {
    { "", "Line 1: the table is empty" },
    { "slug,species\r\n", "Line 1: there is no heading “genus”" },
    { "genus,colour\r\n", "Line 1, column 2 (“colour”): there is no such heading" },
    { "genus,genus\r\n", "Line 1, column 2 (“genus”): this heading stands there twice" },
    { "genus,species\r\nAcer\r\n", "Line 2, column 2: 1 cells stand under 2 headings" },
    { "genus,species\r\n\"Acer\"x,y\r\n", "Line 2, column 1: there is text after" },
    { "genus,species\r\nAcer,rubrum\r\n", "Line 2, column 3: the table has no column “" },
  };
  g_autofree char *twice = NULL;
  g_autofree char *empty = g_strnfill (column ("basis") - 1, ',');
  g_autofree char *spread = g_strconcat (good, empty, "\r\n\r\n", strstr (bad, "\r\n") + 2, NULL);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_false (bl_library_import_own (place->library, cases[i].csv, strlen (cases[i].csv),
                                             NULL, &error));
      g_test_message ("%s", error->message);
      g_assert_true (g_str_has_prefix (error->message, cases[i].words));
      g_clear_error (&error);
    }
  g_assert_false (
    bl_library_import_own (place->library, spread, strlen (spread), NULL, &error));
  g_test_message ("%s", error->message);
  g_assert_true (g_str_has_prefix (error->message, "Line 5, column "));
  g_clear_error (&error);
  twice = g_strconcat (good, strstr (good, "\r\n") + 2, NULL);
  g_assert_false (bl_library_import_own (place->library, twice, strlen (twice), NULL, &error));
  g_assert_nonnull (strstr (error->message, "stands already in line 2"));
}

/* What a spreadsheet would run comes back as it was, and stands harmless in the table. */
static void
test_formulas (Place *place, gconstpointer data)
{
  g_autofree char *record = sample_with ("care_note", "=HYPERLINK(\"x\");=1;'-2");
  g_autofree char *csv = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPlant) plant = NULL;

  g_assert_true (bl_library_put_own (place->library, "mine", record, &error));
  csv = bl_library_export_own (place->library, &error);
  g_assert_nonnull (strstr (csv, ",\"'=HYPERLINK(\"\"x\"\");'=1;''-2\","));
  g_assert_true (bl_library_remove_own (place->library, "mine", &error));
  g_assert_true (bl_library_import_own (place->library, csv, strlen (csv), NULL, &error));
  plant = bl_library_get (place->library, "mine", &error);
  g_assert_no_error (error);
  g_assert_cmpstr (plant->care_note, ==, "=HYPERLINK(\"x\");=1;'-2");
}

static void
test_faults_of_a_form (void)
{
  g_autofree char *record = sample_with ("height", "90 60 70");
  g_autofree char *worse = g_strconcat (record, "stem=brown\ncommon=\n", NULL);
  g_autoptr (GHashTable) none = bl_plant_faults ("mine", sample_record);
  g_autoptr (GHashTable) some = bl_plant_faults ("mine", worse);
  g_autofree char *harm = sample_with ("harm", "toxic unknown unknown unknown");
  g_autoptr (GHashTable) between = bl_plant_faults ("mine", harm);

  g_assert_cmpuint (g_hash_table_size (none), ==, 0);
  g_assert_cmpuint (g_hash_table_size (some), ==, 3);
  g_assert_true (g_str_has_prefix (g_hash_table_lookup (some, "stem"), "“brown”"));
  g_assert_cmpstr (g_hash_table_lookup (some, "common"), ==, "is missing");
  g_assert_nonnull (g_hash_table_lookup (some, "height"));
  /* What holds between keys is told at the key to mend. */
  g_assert_cmpuint (g_hash_table_size (between), ==, 1);
  g_assert_nonnull (g_hash_table_lookup (between, "harm_note"));
}

static void
test_hidden (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) before = NULL, after = NULL;
  g_autofree char *slug = bl_library_free_slug (place->library, "echinacea-purpurea");
  g_autofree char *record = sample_with ("common", "ours");

  g_assert_cmpstr (slug, ==, "echinacea-purpurea-2");
  g_assert_true (bl_library_set_hidden (place->library, "echinacea-purpurea", TRUE, &error));
  before = bl_library_hidden_slugs (place->library);
  g_assert_cmpuint (g_strv_length (before), ==, 1);
  g_assert_true (bl_library_set_hidden (place->library, "echinacea-purpurea", FALSE, &error));
  after = bl_library_hidden_slugs (place->library);
  g_assert_cmpuint (g_strv_length (after), ==, 0);
  g_assert_false (bl_library_is_shadowing (place->library, "echinacea-purpurea"));
  g_assert_true (bl_library_put_own (place->library, "echinacea-purpurea", record, &error));
  g_assert_true (bl_library_is_shadowing (place->library, "echinacea-purpurea"));
}

/* A picture stays beside the plants, is lent to its plant and stands in its months, as much smaller
 * as the plant is younger. */
static void
test_picture (Place *place, gconstpointer data)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static ("not looked at here", 18);
  g_autoptr (GError) error = NULL;
  g_autofree char *sha256 = bl_library_keep_picture (place->library, bytes, &error);
  g_autofree char *value = g_strdup_printf ("%s 120 0.5 1 6 9", sha256);
  g_autofree char *record = sample_with ("picture", value);
  g_autoptr (BlPlant) plant = NULL;
  BlLook old, young, winter;

  g_assert_no_error (error);
  g_assert_true (bl_library_put_own (place->library, "mine", record, &error));
  g_clear_pointer (&place->library, bl_library_free);
  place->library = bl_library_open (place->db, place->own, &error);
  plant = bl_library_get (place->library, "mine", &error);
  g_assert_no_error (error);
  g_assert_nonnull (plant->cutout->bytes);
  g_assert_true (g_bytes_equal (plant->cutout->bytes, bytes));
  old = bl_plant_look (plant, NULL, 0, (BlMoment) { 7.5, 40 });
  young = bl_plant_look (plant, NULL, 0, (BlMoment) { 7.5, 0 });
  winter = bl_plant_look (plant, NULL, 0, (BlMoment) { 1.5, 40 });
  g_assert_cmpfloat_with_epsilon (old.cutout, 1.2, 0.012);
  g_assert_cmpfloat_with_epsilon (young.cutout, 1.2 * 0.10 / 0.90, 0.03); /* a plug of 10 cm */
  g_assert_cmpfloat (winter.cutout, ==, 0);
  /* One that nobody speaks of any more goes when the next comes. */
  g_assert_true (bl_library_remove_own (place->library, "mine", &error));
  {
    g_autoptr (GBytes) other = g_bytes_new_static ("another", 7), gone = NULL;
    g_autofree char *second = bl_library_keep_picture (place->library, other, &error);

    gone = bl_library_picture (place->library, sha256);
    g_assert_nonnull (second);
    g_assert_null (gone);
  }
}

/* The nursery's list. Container classes "#1" and "1 gal": ANSI Z60.1 gives the class; that nurseries
 * write the gallon for it is common practice. */
static const char list[]
  = "Botanical name,Size,Price,In stock,Available from,Nursery\r\n"
    "Echinacea purpurea,1 gal,12.50,48,2027-04-15,Invented Nursery\r\n"
    "ECHINACEA  PURPUREA,plug,3.25,0,,\r\n"
    "\"Aster, what is that\",#1,9.00,5,,\r\n"
    "\r\n"
    "Echinacea purpurea,#3,30,1,,\r\n";

static void
test_stock (Place *place, gconstpointer data)
{
  g_autoptr (GPtrArray) unmatched = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlStock) stock = bl_library_read_stock (place->library, list, strlen (list), "list.csv",
                                                     "USD", unmatched, &error);
  const BlOffer *offer;
  g_autoptr (GPtrArray) found = NULL, none = NULL;
  BlPlantQuery query = { .in_stock = TRUE };

  g_assert_no_error (error);
  g_assert_cmpstr (stock->nursery, ==, "Invented Nursery");
  g_assert_cmpuint (stock->offers->len, ==, 2);
  offer = bl_stock_find (stock, "echinacea-purpurea", "#1");
  g_assert_cmpint (offer->price, ==, 1250);
  g_assert_cmpint (offer->stock, ==, 48);
  g_assert_cmpuint (offer->from, ==, bl_day (2027, 4, 15));
  g_assert_cmpuint (unmatched->len, ==, 2);
  g_assert_true (g_str_has_prefix (unmatched->pdata[0], "Line 4: there is no Aster, what is that"));
  g_assert_true (g_str_has_prefix (unmatched->pdata[1], "Line 6: Echinacea purpurea is not kept"));
  none = bl_library_find (place->library, &query, &error);
  g_assert_cmpuint (none->len, ==, 0);
  g_assert_true (bl_library_put_stock (place->library, stock, &error));
  /* Kept for the next start. */
  g_clear_pointer (&place->library, bl_library_free);
  place->library = bl_library_open (place->db, place->own, &error);
  g_assert_cmpint (bl_stock_of (bl_library_get_stock (place->library), "echinacea-purpurea"), ==, 48);
  found = bl_library_find (place->library, &query, &error);
  g_assert_cmpuint (found->len, ==, 1);
  g_assert_true (bl_library_put_stock (place->library, NULL, &error));
  g_assert_null (bl_library_get_stock (place->library));
}

static void
test_stock_faults (Place *place, gconstpointer data)
{
  static const struct
  {
    const char *csv, *words;
  } cases[] = {
    { "name,price\r\n", "Line 1: there is no heading “size”" },
    { "name,size\r\n", "Line 1: there is no heading “price”" },
    { "name,size,price\r\nEchinacea purpurea,#1,cheap\r\n", "Line 2, column 3 (“price”): " },
    { "size,in stock,name\r\n#1,-4,Echinacea purpurea\r\n", "Line 2, column 2 (“in stock”): " },
    { "name,size,price,ready\r\nEchinacea purpurea,#1,1,soon\r\n",
      "Line 2, column 4 (“available from”): " },
    { "name,size,price\r\n,#1,1\r\n", "Line 2, column 1 (“botanical name”): " },
    { "name,size,price\r\nEchinacea purpurea,#1,1\r\nEchinacea purpurea,1 gal,2\r\n",
      "Line 3, column 1 (“botanical name”): this plant stands above" },
    { "name,size,price\r\nEchinacea purpurea\r\n", "Line 2, column 2: " },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (bl_library_read_stock (place->library, cases[i].csv, strlen (cases[i].csv), "x",
                                            "USD", NULL, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_test_message ("%s", error->message);
      g_assert_true (g_str_has_prefix (error->message, cases[i].words));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/plants/own/without-slug", Place, NULL, set_up, test_without_slug, tear_down);
  g_test_add ("/plants/own/faults-in-tables", Place, NULL, set_up, test_faults_in_tables, tear_down);
  g_test_add ("/plants/own/lines", Place, NULL, set_up, test_lines_and_headings, tear_down);
  g_test_add ("/plants/own/formulas", Place, NULL, set_up, test_formulas, tear_down);
  g_test_add_func ("/plants/own/faults-of-a-form", test_faults_of_a_form);
  g_test_add ("/plants/own/hidden", Place, NULL, set_up, test_hidden, tear_down);
  g_test_add ("/plants/own/picture", Place, NULL, set_up, test_picture, tear_down);
  g_test_add ("/plants/own/stock", Place, NULL, set_up, test_stock, tear_down);
  g_test_add ("/plants/own/stock-faults", Place, NULL, set_up, test_stock_faults, tear_down);
  return g_test_run ();
}
