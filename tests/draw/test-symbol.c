/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plan symbols: one for every form, told apart without colour, recoloured by the season. */
#include "canvas.h"

#include <glib/gstdio.h>
#include <string.h>

#include "draw/symbol.h"

#define CELL 110

static void
draw (cairo_surface_t *s, double x, double y, double scale, const BlPlant *plant,
      const BlLook *look, double radius, guint64 seed,
      gboolean mono)
{
  cairo_t *cr = cairo_create (s);

  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  bl_symbol_draw (cr, plant, look, radius, seed, scale, mono);
  cairo_destroy (cr);
}

static void
test_names (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();
  guint n = 0;

  bl_draw_ensure_resources ();
  for (guint i = 0; bl_symbol_names ()[i] != NULL; i++)
    n++;
  g_assert_cmpuint (n, >=, 14);
  for (guint i = 0; i < plants->len; i++)
    g_assert_true (g_strv_contains (bl_symbol_names (), bl_symbol_name (plants->pdata[i])));
}

/* As large as told: a symbol of half a metre at 100 pixels a metre reaches 50 pixels, no
 * further. */
static void
test_size (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();

  for (guint i = 0; i < plants->len; i++)
    {
      BlLook look = bl_plant_look (plants->pdata[i], NULL, 0, (BlMoment) { 7.5, 5 });
      cairo_surface_t *s = canvas_new (140, 140);
      int x0, y0, x1, y1;

      draw (s, 70, 70, 100, plants->pdata[i], &look, 0.5, 5, FALSE);
      g_assert_true (canvas_ink (s, 0xffffffffu, &x0, &y0, &x1, &y1));
      g_assert_cmpint (x1 - x0 + 1, >, 66);
      g_assert_cmpint (x1 - x0 + 1, <=, 106);
      cairo_surface_destroy (s);
    }
}

/* Mean absolute difference of two pictures' grey values after a small blur, 0..255. */
static double
difference (cairo_surface_t *a, cairo_surface_t *b)
{
  int w = cairo_image_surface_get_width (a), h = cairo_image_surface_get_height (a);
  double sum = 0;

  for (int y = 0; y + 4 <= h; y += 4)
    for (int x = 0; x + 4 <= w; x += 4)
      {
        int d = 0;

        for (int k = 0; k < 16; k++)
          {
            gsize at = (gsize) (y + k / 4) * cairo_image_surface_get_stride (a) + (x + k % 4) * 4
              + 1;

            d += cairo_image_surface_get_data (a)[at] - cairo_image_surface_get_data (b)[at];
          }
        sum += ABS (d) / 16.0;
      }
  return sum / (w / 4 * (h / 4));
}

/* In black and white every two drawings differ: texture alone tells them apart. */
static void
test_monochrome (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();
  g_autoptr (GPtrArray) drawn =
      g_ptr_array_new_with_free_func ((GDestroyNotify) cairo_surface_destroy);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < plants->len; i++)
    {
      BlLook look = bl_plant_look (plants->pdata[i], NULL, 0, (BlMoment) { 7.5, 5 });
      const char *name = bl_symbol_name (plants->pdata[i]);
      cairo_surface_t *s;

      if (g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
        continue;
      s = canvas_new (80, 80);
      draw (s, 40, 40, 76, plants->pdata[i], &look, 0.5, 5, TRUE);
      cairo_surface_flush (s);
      for (guint k = 0; k < drawn->len; k++)
        {
          double d = difference (s, drawn->pdata[k]);

          if (d < 8)
            g_test_message ("%s and %s differ by %.1f only", name, (char *) names->pdata[k], d);
          g_assert_cmpfloat (d, >=, 8);
        }
      g_ptr_array_add (drawn, s);
      g_ptr_array_add (names, (gpointer) name);
    }
}

static void
test_sheet (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();
  cairo_surface_t *s = canvas_new (8 * CELL, 7 * CELL);

  for (guint i = 0; i < plants->len; i++)
    {
      const BlPlant *plant = plants->pdata[i];
      BlLook bloom = bl_plant_look (plant, NULL, 0,
                                    (BlMoment) { plant->flower_from ? plant->flower_from + 0.6
                                                 : 6.5, 5 });

      draw (s, (i % 8 + 0.5) * CELL, (i / 8 + 0.5) * CELL, CELL * 0.88, plant, &bloom, 0.5, i,
            FALSE);
      if (i < 24)
        draw (s, (i % 8 + 0.5) * CELL, (i / 8 + 4.5) * CELL, CELL * 0.88, plant, &bloom, 0.5, i,
              TRUE);
    }
  canvas_assert_golden (s, "symbols");
  cairo_surface_destroy (s);
}

/* Every answer to a drawing that a person brings: kept and drawn, or refused with a reason. */
static void
test_own (void)
{
  static const struct
  {
    const char *file, *text, *word;
  } refused[] = { { "picture.svg", "<svg xmlns='http://www.w3.org/2000/svg'><image/></svg>", "image" },
                  { "note.svg", "not a drawing", "not an SVG" },
                  { "page.svg", "<html><p>x</p></html>", "not an SVG" } };
  static const char square[]
    = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='-50 -50 100 100'>"
      "<rect x='-50' y='-50' width='100' height='100' fill='#ff0000'/></svg>";
  g_autoptr (GPtrArray) plants = canvas_plants ();
  const BlPlant *plant = canvas_plant (plants, "echinacea-purpurea");
  BlLook look = bl_plant_look (plant, NULL, 0, (BlMoment) { 6.5, 5 });
  g_autofree char *dir = g_dir_make_tmp ("bl-symbol-XXXXXX", NULL),
    *path = g_build_filename (dir, "square.svg", NULL), *large = g_malloc (BL_MAX_SYMBOL + 2);
  g_autoptr (GError) error = NULL;
  guint64 before = bl_symbol_own_mark (plant);
  cairo_surface_t *s = canvas_new (80, 80);

  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autofree char *bad = g_build_filename (dir, refused[i].file, NULL);

      g_assert_true (g_file_set_contents (bad, refused[i].text, -1, NULL));
      g_assert_false (bl_symbol_keep_own (plant, bad, &error));
      g_assert_nonnull (strstr (error->message, refused[i].word));
      g_clear_error (&error);
      g_remove (bad);
    }
  memset (large, ' ', BL_MAX_SYMBOL + 1);
  g_assert_true (g_file_set_contents (path, large, BL_MAX_SYMBOL + 1, NULL));
  g_assert_false (bl_symbol_keep_own (plant, path, &error));
  g_assert_nonnull (strstr (error->message, "256 kilobytes"));
  g_clear_error (&error);
  g_assert_cmpuint (bl_symbol_own_mark (plant), ==, before);
  g_assert_true (g_file_set_contents (path, square, -1, NULL));
  g_assert_true (bl_symbol_keep_own (plant, path, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (bl_symbol_own_mark (plant), !=, before);
  draw (s, 40, 40, 20, plant, &look, 1, 5, FALSE);
  cairo_surface_flush (s);
  g_assert_cmphex (((guint32 *) (void *) cairo_image_surface_get_data (s))[40 * 80 + 40], ==,
                   0xffff0000u);
  g_assert_true (bl_symbol_forget_own (plant));
  g_assert_false (bl_symbol_forget_own (plant));
  g_assert_cmpuint (bl_symbol_own_mark (plant), ==, before);
  cairo_surface_destroy (s);
  g_remove (path);
  g_rmdir (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/symbol/names", test_names);
  g_test_add_func ("/symbol/size", test_size);
  g_test_add_func ("/symbol/monochrome", test_monochrome);
  g_test_add_func ("/symbol/sheet", test_sheet);
  g_test_add_func ("/symbol/own", test_own);
  return g_test_run ();
}
