/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cut-out pictures: what is taken and what is not, their true size through the demo's camera, their
 * months, and paper. */
#include "canvas.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "draw/cutout.h"

static cairo_status_t
append (void *data, const guchar *bytes, guint length)
{
  g_byte_array_append (data, bytes, length);
  return CAIRO_STATUS_SUCCESS;
}

/* A red ellipse of @w × @h on a stem, within a margin on all sides; @ground 1 fills the rest. */
static GBytes *
picture (int w, int h, int margin, double ground)
{
  cairo_surface_t *s
    = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, w + 2 * margin, h + 2 * margin);
  cairo_t *cr = cairo_create (s);
  GByteArray *png = g_byte_array_new ();

  cairo_set_source_rgba (cr, 1, 1, 1, ground);
  cairo_paint (cr);
  cairo_translate (cr, margin, margin);
  cairo_save (cr);
  cairo_scale (cr, w / 2.0, h * 0.4);
  cairo_arc (cr, 1, 1, 1, 0, 2 * G_PI);
  cairo_restore (cr);
  cairo_set_source_rgb (cr, 0.8, 0.1, 0.1);
  cairo_fill (cr);
  /* The stem stands at a quarter of the width. */
  cairo_rectangle (cr, w * 0.25 - w * 0.02, h * 0.6, w * 0.04, h * 0.4);
  cairo_set_source_rgb (cr, 0.2, 0.4, 0.1);
  cairo_fill (cr);
  cairo_destroy (cr);
  g_assert_cmpint (cairo_surface_write_to_png_stream (s, append, png), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (s);
  return g_byte_array_free_to_bytes (png);
}

static const char svg[]
  = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 200\" width=\"100\" height=\"200\">"
    "<path d=\"M 20 40 L 80 40 L 80 160 L 20 160 Z\" fill=\"#c02020\"/></svg>";

static BlPlant *
plant_with (GBytes *bytes, const char *rest)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();
  BlPlant *plain = canvas_plant (plants, "buxus-hedge"), *plant;
  g_autofree char *sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  g_autofree char *record = g_strdup_printf ("%spicture=%s %s\n", plain->text, sha256, rest);
  g_autoptr (GError) error = NULL;

  plant = bl_plant_parse ("buxus-hedge", record, &error);
  g_assert_no_error (error);
  bl_plant_lend_picture (plant, bytes);
  g_assert_nonnull (plant->cutout->bytes);
  return plant;
}

static void
test_take (void)
{
  g_autoptr (GBytes) given = picture (200, 400, 50, 0), huge = picture (3000, 2500, 10, 0);
  g_autoptr (GError) error = NULL;
  BlCutoutShape shape;
  g_autoptr (GBytes) kept = bl_cutout_take (given, &shape, &error);
  g_autoptr (GBytes) small = bl_cutout_take (huge, NULL, &error), again = NULL, drawing = NULL;
  g_autoptr (GBytes) own = g_bytes_new_static (svg, strlen (svg));
  const guchar *head = g_bytes_get_data (kept, NULL);

  g_assert_no_error (error);
  /* Cut to what shows: width and height stand in bytes 16 to 23 of a PNG (ISO/IEC 15948, IHDR). */
  g_assert_cmpint (head[16] << 24 | head[17] << 16 | head[18] << 8 | head[19], ==, 200);
  g_assert_cmpint (head[20] << 24 | head[21] << 16 | head[22] << 8 | head[23], ==, 400);
  g_assert_cmpfloat_with_epsilon (shape.aspect, 0.5, 0.01);
  g_assert_cmpfloat_with_epsilon (shape.foot_x, 0.25, 0.02);
  g_assert_cmpfloat (shape.foot_y, ==, 1);
  head = g_bytes_get_data (small, NULL);
  g_assert_cmpint (head[18] << 8 | head[19], <=, 1601);
  /* What was taken once is taken again as it is in size. */
  again = bl_cutout_take (kept, &shape, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (shape.foot_x, 0.25, 0.02);
  drawing = bl_cutout_take (own, &shape, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (drawing, own));
  g_assert_cmpfloat_with_epsilon (shape.aspect, 0.5, 0.01); /* 60 × 120 of 100 × 200 */
}

static void
test_refused (void)
{
  g_autoptr (GBytes) opaque = picture (100, 100, 5, 1), whole = picture (100, 200, 5, 0);
  const struct
  {
    const char *text, *words;
  } cases[] = {
    { "plain words", "neither a PNG nor an SVG" },
    { "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><image href='x.png'/></svg>",
      "holds “image”" },
    { "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><use href='#a'/></svg>",
      "holds “use”" },
    { "<!DOCTYPE svg [<!ENTITY a SYSTEM 'file:///etc/passwd'>]><svg width='9' height='9'>&a;</svg>",
      "holds “ENTITY”" },
    { "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>", "damaged, empty" },
    { "<svg xmlns='http://www.w3.org/2000/svg'><path d='M", "damaged, empty" },
  };
  g_autoptr (GError) error = NULL;

  g_assert_null (bl_cutout_take (opaque, NULL, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
  g_assert_nonnull (strstr (error->message, "no transparent ground"));
  g_clear_error (&error);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GBytes) bytes = g_bytes_new_static (cases[i].text, strlen (cases[i].text));

      g_assert_null (bl_cutout_take (bytes, NULL, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, cases[i].words));
      g_clear_error (&error);
    }
  /* Cut off anywhere it is refused, or what is there is taken; it never falls. */
  for (gsize n = 0; n < g_bytes_get_size (whole); n += 17)
    {
      g_autoptr (GBytes) part = g_bytes_new_from_bytes (whole, 0, n), kept = NULL;

      kept = bl_cutout_take (part, NULL, NULL);
      g_assert_true (kept == NULL || g_bytes_get_size (kept) > 0);
    }
}

/* A pixel by the demo photo's own 3 × 4 matrix, which no code of ours made. */
static BlPoint
truth_pixel (JsonObject *root, double x, double y, double z)
{
  JsonArray *rows = json_object_get_array_member (json_object_get_object_member (root, "photo"),
                                                  "P_3x4_m");
  double v[3];

  for (guint i = 0; i < 3; i++)
    {
      JsonArray *r = json_array_get_array_element (rows, i);

      v[i] = json_array_get_double_element (r, 0) * x + json_array_get_double_element (r, 1) * y
             + json_array_get_double_element (r, 2) * z + json_array_get_double_element (r, 3);
    }
  return BL_POINT (v[0] / v[2], v[1] / v[2]);
}

static BlModel *
model_with (BlPlant *plant, const double (*at)[2])
{
  BlModel *model = canvas_model ();

  canvas_planting (model, "buxus-hedge", BL_PLANTING_SPECIMEN, at, 1);
  g_hash_table_replace (model->plants, g_strdup ("buxus-hedge"), bl_plant_ref (plant));
  return model;
}

/* The scene's only plant painted alone, four device pixels a photo pixel. */
static cairo_surface_t *
painted (BlScene *scene, BlRect *view)
{
  const BlSceneItem *item = NULL;
  cairo_surface_t *s;
  cairo_t *cr;

  for (guint i = 0; i < scene->items->len; i++)
    if (g_array_index (scene->items, BlSceneItem, i).kind == BL_ITEM_SHADOW)
      g_array_remove_index (scene->items, i--);
    else if (g_array_index (scene->items, BlSceneItem, i).kind == BL_ITEM_PLANT)
      item = &g_array_index (scene->items, BlSceneItem, i);
  g_assert_nonnull (item);
  *view = bl_rect_grow (item->box, 10);
  s = canvas_new ((int) ((view->x1 - view->x0) * 4), (int) ((view->y1 - view->y0) * 4));
  cr = cairo_create (s);
  cairo_scale (cr, 4, 4);
  cairo_translate (cr, -view->x0, -view->y0);
  bl_scene_paint_planting (scene, cr, 1, BL_POINT (0, 0), 4, &(BlPaintOptions) { 0 });
  cairo_destroy (cr);
  return s;
}

/* A picture stated to be 1.5 m high spans the pixels that the truth says, near and far, to 2 %; it is
 * as wide as it is in proportion. */
static void
test_true_size (gconstpointer data)
{
  static const double places[][2] = { { 1.6, 2.0 }, { 4.5, 2.2 }, { 9.6, 2.3 } };
  g_autoptr (GBytes) given = GPOINTER_TO_INT (data) ? g_bytes_new_static (svg, strlen (svg))
                                                    : picture (300, 600, 40, 0);
  g_autoptr (GBytes) bytes = bl_cutout_take (given, NULL, NULL);
  g_autoptr (BlPlant) plant = plant_with (bytes, "150 0.5 1 0 0");
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "..", "data", "demo",
                                                 "harbour-lane.truth.json", NULL);
  JsonObject *root;

  g_assert_true (json_parser_load_from_file (parser, path, NULL));
  root = json_node_get_object (json_parser_get_root (parser));
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      BlPoint foot = truth_pixel (root, places[i][0], places[i][1], 0);
      BlPoint top = truth_pixel (root, places[i][0], places[i][1], 1.5);
      double want = hypot (foot.x - top.x, foot.y - top.y);
      g_autoptr (BlModel) model = model_with (plant, &places[i]);
      g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);
      g_autoptr (BlScene) scene
        = bl_scene_new (BL_VIEW_PHOTO, layout, NULL, (BlMoment) { 7.5, 60 }, 0);
      int x0, y0, x1, y1;
      BlRect view;
      cairo_surface_t *s = painted (scene, &view);

      g_assert_true (canvas_ink (s, 0xffffffffu, &x0, &y0, &x1, &y1));
      g_test_message ("%.1f × %.1f px, the truth says %.1f high", (x1 - x0 + 1) / 4.0,
                      (y1 - y0 + 1) / 4.0, want);
      g_assert_cmpfloat_with_epsilon (foot.y - (view.y0 + y0 / 4.0), want, 0.02 * want);
      g_assert_cmpfloat_with_epsilon (view.y0 + y1 / 4.0, foot.y, 0.01 * want + 0.5);
      g_assert_cmpfloat_with_epsilon ((x1 - x0 + 1) / 4.0, 0.5 * want, 0.03 * want);
      cairo_surface_destroy (s);
    }
}

static guint
red_pixels (cairo_surface_t *s)
{
  guint n = 0;

  cairo_surface_flush (s);
  for (int y = 0; y < cairo_image_surface_get_height (s); y++)
    for (int x = 0; x < cairo_image_surface_get_width (s); x++)
      {
        const guchar *p = cairo_image_surface_get_data (s)
                          + (gsize) y * cairo_image_surface_get_stride (s) + (gsize) x * 4;

        n += p[2] > 160 && p[1] < 80 && p[0] < 80;
      }
  return n;
}

/* In its months the picture, in others the drawn figure. */
static void
test_months (void)
{
  static const double at[][2] = { { 1.6, 2.0 } };
  g_autoptr (GBytes) given = picture (300, 600, 40, 0), bytes = bl_cutout_take (given, NULL, NULL);
  g_autoptr (BlPlant) plant = plant_with (bytes, "150 0.5 1 6 8");
  g_autoptr (BlModel) model = model_with (plant, at);
  g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);

  for (int month = 1; month <= 12; month++)
    {
      g_autoptr (BlScene) scene
        = bl_scene_new (BL_VIEW_PHOTO, layout, NULL, (BlMoment) { month + 0.5, 60 }, 0);
      BlRect view;
      cairo_surface_t *s = painted (scene, &view);

      if (month >= 6 && month <= 8)
        g_assert_cmpuint (red_pixels (s), >, 2000);
      else
        g_assert_cmpuint (red_pixels (s), ==, 0);
      cairo_surface_destroy (s);
    }
}

/* A record may come without its picture: then the figure is drawn as ever. */
static void
test_not_at_hand (void)
{
  static const double at[][2] = { { 1.6, 2.0 } };
  g_autoptr (GBytes) given = picture (300, 600, 40, 0);
  g_autoptr (BlPlant) plant = plant_with (given, "150 0.5 1 0 0"), bare = NULL;
  g_autoptr (BlModel) model = NULL;
  g_autoptr (BlLayout) layout = NULL;
  g_autoptr (BlScene) scene = NULL;
  cairo_surface_t *s;
  int x0, y0, x1, y1;
  BlRect view;

  bare = bl_plant_parse (plant->slug, plant->text, NULL);
  model = model_with (bare, at);
  layout = bl_layout_compute (model, 1);
  scene = bl_scene_new (BL_VIEW_PHOTO, layout, NULL, (BlMoment) { 7.5, 60 }, 0);
  s = painted (scene, &view);
  g_assert_true (canvas_ink (s, 0xffffffffu, &x0, &y0, &x1, &y1));
  g_assert_cmpuint (red_pixels (s), ==, 0);
  cairo_surface_destroy (s);
}

/* On paper too; several of a kind share one picture, so the file hardly grows. */
static void
test_paper (void)
{
  static const double row[][2] = { { 1.6, 2.0 }, { 7.5, 2.1 } };
  g_autoptr (GBytes) given = picture (900, 1500, 40, 0), bytes = bl_cutout_take (given, NULL, NULL);
  g_autoptr (BlPlant) plant = plant_with (bytes, "150 0.5 1 0 0");
  g_autofree char *folder = g_dir_make_tmp ("bedline-cutout-XXXXXX", NULL);
  gsize length[2];

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (BlModel) model = canvas_model ();
      g_autofree char *path = g_build_filename (folder, "a.pdf", NULL), *text = NULL;
      g_autoptr (BlLayout) layout = NULL;
      g_autoptr (BlScene) scene = NULL;
      g_autoptr (GError) error = NULL;

      canvas_planting (model, "buxus-hedge", i ? BL_PLANTING_ROW : BL_PLANTING_SPECIMEN, row,
                       i ? 2 : 1);
      g_hash_table_replace (model->plants, g_strdup ("buxus-hedge"), bl_plant_ref (plant));
      layout = bl_layout_compute (model, 1);
      g_test_message ("%u plants", layout->placed->len);
      scene = bl_scene_new (BL_VIEW_PHOTO, layout, NULL, (BlMoment) { 7.5, 60 }, 0);
      g_assert_true (bl_scene_export (scene, path, 800, NULL, &error));
      g_assert_no_error (error);
      g_assert_true (g_file_get_contents (path, &text, &length[i], NULL));
      g_assert_nonnull (memmem (text, length[i], "/Width 900", 10));
      g_test_message ("%zu bytes", length[i]);
      g_unlink (path);
    }
  g_rmdir (folder);
  g_assert_cmpuint (length[1], <, 5 * length[0]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/cutout/take", test_take);
  g_test_add_func ("/draw/cutout/refused", test_refused);
  g_test_add_data_func ("/draw/cutout/true-size-png", GINT_TO_POINTER (0), test_true_size);
  g_test_add_data_func ("/draw/cutout/true-size-svg", GINT_TO_POINTER (1), test_true_size);
  g_test_add_func ("/draw/cutout/months", test_months);
  g_test_add_func ("/draw/cutout/not-at-hand", test_not_at_hand);
  g_test_add_func ("/draw/cutout/paper", test_paper);
  return g_test_run ();
}
