/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scenes: feet and heights through the demo's camera, order, clip, picking, stamps, export. */
#include "canvas.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>

#include "base/error.h"
#include "draw/flipbook.h"
#include "draw/key.h"
#include "draw/scene-private.h"
#include "small-disk.h"

static JsonObject *
truth (JsonParser *parser)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "..", "data", "demo",
                                                 "harbour-lane.truth.json", NULL);
  g_autoptr (GError) error = NULL;

  json_parser_load_from_file (parser, path, &error);
  g_assert_no_error (error);
  return json_node_get_object (json_parser_get_root (parser));
}

/* A pixel by the truth's own 3 × 4 matrix, which no code of ours made. */
static BlPoint
truth_pixel (JsonObject *root, double x, double y, double z)
{
  JsonArray *rows = json_object_get_array_member (json_object_get_object_member (root, "photo"),
                                                  "P_3x4_m");
  double v[3];

  for (guint i = 0; i < 3; i++)
    {
      JsonArray *r = json_array_get_array_element (rows, i);

      v[i] = json_array_get_double_element (r, 0) * x + json_array_get_double_element (r, 1) * y +
             json_array_get_double_element (r, 2) * z + json_array_get_double_element (r, 3);
    }
  return BL_POINT (v[0] / v[2], v[1] / v[2]);
}

static BlScene *
scene_of (BlModel *model, BlView view, double month, double years, guint options)
{
  g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);

  return bl_scene_new (view, layout, NULL, (BlMoment) { month, years }, options);
}

static const BlSceneItem *
first_plant (const BlScene *scene)
{
  for (guint i = 0; i < scene->items->len; i++)
    if (g_array_index (scene->items, BlSceneItem, i).kind == BL_ITEM_PLANT)
      return &g_array_index (scene->items, BlSceneItem, i);
  return NULL;
}

/* A figure 1.2 m high spans the pixels between foot and top that the truth says, near and far, to
 * 2 %. */
static void
test_height (void)
{
  static const double places[][2] = { { 1.6, 2.0 }, { 4.5, 2.2 }, { 9.6, 2.3 } };
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *root = truth (parser);

  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      BlModel *model = canvas_model ();
      BlPlant *plant = bl_model_plant (model, "buxus-hedge");
      BlPoint foot = truth_pixel (root, places[i][0], places[i][1], 0), top = truth_pixel (root,
          places[i][0], places[i][1], 1.2);
      double want = hypot (foot.x - top.x, foot.y - top.y), got;
      g_autoptr (BlScene) scene = NULL;
      const BlSceneItem *item;
      BlPaintOptions options = { 0 };
      cairo_surface_t *s;
      cairo_t *cr;
      BlRect view;
      BlPoint up;
      int x0, y0, x1, y1;

      canvas_planting (model, "buxus-hedge", BL_PLANTING_SPECIMEN, &places[i], 1);
      plant->years = 1, plant->height = 1.2, plant->spread = 0.8;
      scene = scene_of (model, BL_VIEW_PHOTO, 7.5, 60, 0);
      bl_model_unref (model);
      item = first_plant (scene);
      g_assert_nonnull (item);
      g_assert_cmpfloat_with_epsilon (scene->looks[0].height, 1.2, 0.012);
      g_assert_cmpfloat_with_epsilon (item->base.x, foot.x, 0.5);
      g_assert_cmpfloat_with_epsilon (item->base.y, foot.y, 0.5);
      /* Painted alone, four device pixels a photo pixel, so that a pixel is no hindrance. */
      view = bl_rect_grow (item->box, 10);
      s = canvas_new ((int) ((view.x1 - view.x0) * 4), (int) ((view.y1 - view.y0) * 4));
      cr = cairo_create (s);
      cairo_scale (cr, 4, 4);
      cairo_translate (cr, -view.x0, -view.y0);
      up = item->up; /* the item moves when the shadows before it go */
      for (guint k = 0; k < scene->items->len; k++)
        if (g_array_index (scene->items, BlSceneItem, k).kind == BL_ITEM_SHADOW)
          g_array_remove_index (scene->items, k--);
      bl_scene_paint_planting (scene, cr, 1, BL_POINT (0, 0), 4, &options);
      cairo_destroy (cr);
      g_assert_true (canvas_ink (s, 0xffffffffu, &x0, &y0, &x1, &y1));
      got = foot.y - (view.y0 + y0 / 4.0);
      g_test_message ("at %.1f m: %.1f px, the truth says %.1f", hypot (places[i][0] + 2.2,
                                                                        places[i][1] + 0.5), got,
                                                                          want);
      g_assert_cmpfloat_with_epsilon (got, want, 0.02 * want);
      g_assert_cmpfloat_with_epsilon (hypot (up.x, up.y) * scene->looks[0].height, want,
                                      0.02 * want);
      cairo_surface_destroy (s);
    }
}

/* The same garden south of the equator: its January is the north's July. */
static void
test_south (void)
{
  static const double at[][2] = { { 4.5, 2.2 } };

  for (double month = 1.5; month < 13; month += 1)
    {
      BlScene *scenes[2];

      for (int south = 0; south < 2; south++)
        {
          BlModel *model = canvas_model ();

          model->site.latitude = south ? -42.1 : 42.1;
          canvas_planting (model, "amelanchier-x-grandiflora", BL_PLANTING_SPECIMEN, at, 1);
          scenes[south] = scene_of (model, BL_VIEW_PHOTO, !south ? month : month < 7 ? month + 6
                                    : month - 6, 5, 0);
          bl_model_unref (model);
        }
      g_assert_cmpint (scenes[0]->looks[0].state, ==, scenes[1]->looks[0].state);
      g_assert_cmpfloat (scenes[0]->looks[0].leaf, ==, scenes[1]->looks[0].leaf);
      if (month == 1.5)
        g_assert_cmpint (scenes[1]->looks[0].state, ==, BL_STATE_BARE);
      bl_scene_unref (scenes[0]);
      bl_scene_unref (scenes[1]);
    }
}

static BlModel *
planted (void)
{
  static const double shrub[][2] = { { 8.6, 2.4 } }, tree[][2] = { { 10.2, 2.3 } },
    grass[][2] = { { 6.4, 2.5 } };
  static const double front[][2] = { { 1.2, 1.4 }, { 4.6, 1.3 }, { 4.6, 2.1 }, { 1.2, 2.2 } };
  static const double middle[][2] = { { 4.8, 1.4 }, { 7.4, 1.3 }, { 7.4, 2.1 }, { 4.8, 2.2 } };
  BlModel *model = canvas_model ();

  canvas_planting (model, "hydrangea-arborescens-annabelle", BL_PLANTING_SPECIMEN, shrub, 1);
  canvas_planting (model, "amelanchier-x-grandiflora", BL_PLANTING_SPECIMEN, tree, 1);
  canvas_planting (model, "calamagrostis-x-acutiflora-karl-foerster", BL_PLANTING_SPECIMEN, grass,
                   1);
  canvas_planting (model, "echinacea-purpurea", BL_PLANTING_DRIFT, front, 4);
  canvas_planting (model, "salvia-nemorosa-ostfriesland", BL_PLANTING_DRIFT, middle, 4);
  canvas_planting (model, "nepeta-x-faassenii", BL_PLANTING_FILL, NULL, 0);
  return model;
}

/* Ground, then shadows, then plants from far to near. */
static void
test_order (void)
{
  BlModel *model = planted ();
  g_autoptr (BlScene) scene = scene_of (model, BL_VIEW_PHOTO, 7.5, 3, 0);
  const BlCamera *camera = bl_model_camera (model);
  BlItemKind last = BL_ITEM_GROUND;
  double depth = INFINITY;
  guint plants = 0;

  for (guint i = 0; i < scene->items->len; i++)
    {
      const BlSceneItem *item = &g_array_index (scene->items, BlSceneItem, i);

      g_assert_cmpint (item->kind, >=, last);
      last = item->kind;
      if (item->kind == BL_ITEM_PLANT)
        {
          BlPoint at = g_array_index (scene->layout->placed, BlPlaced, item->placed).at;
          /* Distance along the line of sight, worked out afresh. */
          double d = (at.x - camera->x) * sin (camera->heading) + (at.y - camera->y)
            * cos (camera->heading);

          g_assert_cmpfloat (d, <=, depth + 1e-9);
          depth = d, plants++;
          g_assert_true (bl_rect_meets (item->box, scene->extent));
        }
    }
  g_assert_cmpuint (plants, >, 20);
  bl_model_unref (model);
}

/* Plants behind the lens, under it and far outside are left out or clipped, without fault. */
static void
test_behind (void)
{
  static const double places[][2] = { { -30, -20 }, { -2.2, -0.5 }, { -2.1, -0.4 }, { 400, 300 },
                                      { 3, 12 }, { 2, -9 } };
  BlModel *model = canvas_model ();
  g_autoptr (BlScene) scene = NULL;
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "behind.png", NULL);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    canvas_planting (model, "malus-sargentii", BL_PLANTING_SPECIMEN, &places[i], 1);
  scene = scene_of (model, BL_VIEW_PHOTO, 7.5, 10, 0);
  bl_model_unref (model);
  for (guint i = 0; i < scene->items->len; i++)
    g_assert_true (isfinite (g_array_index (scene->items, BlSceneItem, i).box.x0));
  g_assert_true (bl_scene_export (scene, path, 400, NULL, &error));
  g_assert_no_error (error);
  g_remove (path);
}

static void
test_pick (void)
{
  BlModel *model = planted ();
  g_autoptr (BlScene) plan = scene_of (model, BL_VIEW_PLAN, 7.5, 3, 0);
  g_autoptr (BlScene) photo = scene_of (model, BL_VIEW_PHOTO, 7.5, 3, 0);
  const BlSceneItem *item = bl_scene_pick (plan, BL_POINT (8.6, 2.4), 0.02);
  BlPoint px, back;

  g_assert_nonnull (item);
  g_assert_cmpint (item->kind, ==, BL_ITEM_PLANT);
  g_assert_cmpint (item->id, ==, 1);
  g_assert_null (bl_scene_pick (plan, BL_POINT (-40, -40), 0.02));
  g_assert_true (bl_scene_from_plan (photo, BL_POINT (8.6, 2.4), &px));
  g_assert_true (bl_scene_to_plan (photo, px, &back));
  g_assert_cmpfloat (bl_dist (back, BL_POINT (8.6, 2.4)), <, 1e-6);
  item = bl_scene_pick (photo, BL_POINT (px.x, px.y - 60), 2);
  g_assert_nonnull (item);
  g_assert_cmpint (item->kind, ==, BL_ITEM_PLANT);
  bl_model_unref (model);
}

static cairo_surface_t *
paint (const BlScene *scene, BlRect clip, double scale, BlFigureCache *cache, gint64 skip)
{
  cairo_surface_t *s = canvas_new ((int) ((clip.x1 - clip.x0) * scale),
                                   (int) ((clip.y1 - clip.y0) * scale));
  cairo_t *cr = cairo_create (s);
  BlPaintOptions options = { .cache = cache, .skip_planting = skip };
  g_autoptr (GError) error = NULL;

  cairo_scale (cr, scale, scale);
  cairo_translate (cr, -clip.x0, scene->view == BL_VIEW_PLAN ? clip.y1 : -clip.y0);
  g_assert_true (bl_scene_paint (scene, cr, clip, scale, &options, NULL, &error));
  g_assert_no_error (error);
  cairo_destroy (cr);
  cairo_surface_flush (s);
  return s;
}

static guint
differing (cairo_surface_t *a, int ax, int ay, cairo_surface_t *b, int w, int h, int reach)
{
  guint n = 0;

  for (int y = 0; y < h; y++)
    for (int x = 0; x < w * 4; x++)
      {
        gsize from = (gsize) (y + ay) * cairo_image_surface_get_stride (a) + x + ax * 4;
        gsize to = (gsize) y * cairo_image_surface_get_stride (b) + x;

        n += ABS (cairo_image_surface_get_data (a)[from]
                  - cairo_image_surface_get_data (b)[to]) > reach;
      }
  return n;
}

/* A tile is the same part of the whole, and the same whether its stamps were ready or not. */
static void
test_tiles (void)
{
  BlModel *model = planted ();

  for (int view = 0; view < 2; view++)
    {
      g_autoptr (BlScene) scene = scene_of (model, (BlView) view, 7.5, 3, 0);
      g_autoptr (BlFigureCache) cache = bl_figure_cache_new (32 << 20);
      double scale = view == BL_VIEW_PHOTO ? 0.5 : 80;
      BlRect e = scene->extent, tile;
      cairo_surface_t *whole, *part, *again;

      e = (BlRect) { floor (e.x0), floor (e.y0), ceil (e.x1), ceil (e.y1) };
      g_assert_cmpfloat ((e.y1 - e.y0) * scale, >=, 276);
      tile = (BlRect) { e.x0 + 200 / scale, e.y1 - 276 / scale, e.x0 + 456 / scale,
                        e.y1 - 20 / scale };
      if (view == BL_VIEW_PHOTO)
        tile = (BlRect) { 400, 640, 912, 1152 };
      g_assert_true (tile.x0 >= e.x0 && tile.y0 >= e.y0 && tile.x1 <= e.x1 && tile.y1 <= e.y1);
      whole = paint (scene, e, scale, NULL, 0);
      part = paint (scene, tile, scale, cache, 0);
      again = paint (scene, tile, scale, cache, 0);
      g_assert_cmpuint (differing (part, 0, 0, again, 256, 256, 0), ==, 0);
      g_assert_cmpuint (differing (whole, (int) lround ((tile.x0 - e.x0) * scale),
                                   (int) lround (view == BL_VIEW_PHOTO ? (tile.y0 - e.y0) * scale
                                                 : (e.y1 - tile.y1) * scale), part,
                                   256, 256, 12), <, 256 * 256 * 4 / 100);
      cairo_surface_destroy (whole);
      cairo_surface_destroy (part);
      cairo_surface_destroy (again);
    }
  bl_model_unref (model);
}

/* What is lifted is left out of the painting. */
static void
test_skip (void)
{
  BlModel *model = planted ();
  g_autoptr (BlScene) scene = scene_of (model, BL_VIEW_PHOTO, 7.5, 3, 0), bare = scene_of (model,
      BL_VIEW_PHOTO, 7.5, 3, BL_SCENE_BARE);
  cairo_surface_t *all = paint (scene, scene->extent, 0.25, NULL, 0), *less = paint (scene,
      scene->extent, 0.25, NULL, 2);
  cairo_surface_t *none = paint (bare, scene->extent, 0.25, NULL, 0);

  g_assert_cmpuint (differing (all, 0, 0, less, 504, 378, 20), >, 100);
  g_assert_cmpuint (differing (all, 0, 0, none, 504, 378, 20), >, differing (all, 0, 0, less, 504,
      378, 20));
  cairo_surface_destroy (all);
  cairo_surface_destroy (less);
  cairo_surface_destroy (none);
  bl_model_unref (model);
}

static void
test_cache_bound (void)
{
  BlModel *model = planted ();
  g_autoptr (BlFigureCache) cache = bl_figure_cache_new (300000);

  for (double month = 1.5; month < 13; month += 3)
    {
      g_autoptr (BlScene) scene = scene_of (model, BL_VIEW_PHOTO, month, 3, 0);

      cairo_surface_destroy (paint (scene, scene->extent, 0.25, cache, 0));
      g_assert_cmpuint (bl_figure_cache_bytes (cache), <, 300000 + 400000);
    }
  bl_model_unref (model);
}

static gpointer
paint_in_thread (gpointer data)
{
  gpointer *both = data;

  for (int i = 0; i < 4; i++)
    cairo_surface_destroy (paint (both[0], ((BlScene *) both[0])->extent, 0.2, both[1], 0));
  return NULL;
}

static void
test_threads (void)
{
  BlModel *model = planted ();
  g_autoptr (BlScene) scene = scene_of (model, BL_VIEW_PHOTO, 7.5, 3, 0);
  g_autoptr (BlFigureCache) cache = bl_figure_cache_new (600000);
  gpointer both[2] = { scene, cache };
  GThread *threads[3];

  for (int i = 0; i < 3; i++)
    threads[i] = g_thread_new ("paint", paint_in_thread, both);
  for (int i = 0; i < 3; i++)
    g_thread_join (threads[i]);
  bl_model_unref (model);
}

static void
test_keys (void)
{
  BlModel *model = planted ();
  g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);
  g_autofree char *echinacea = bl_layout_key (layout, "echinacea-purpurea"),
    *salvia = bl_layout_key (layout, "salvia-nemorosa-ostfriesland");
  g_autofree char *missing = bl_layout_key (layout, "no-such-plant");

  g_assert_cmpstr (echinacea, ==, "EP");
  g_assert_cmpstr (salvia, ==, "SN");
  g_assert_cmpstr (missing, ==, "?");
  bl_model_unref (model);
}

static void
test_export (void)
{
  static const char *const names[] = { "a.png", "a.svg", "a.pdf" };
  static const char *const magic[] = { "\x89PNG", "<?xm", "%PDF" };
  BlModel *model = planted ();
  g_autofree char *folder = g_dir_make_tmp ("bl-draw-XXXXXX", NULL);
  g_autoptr (GCancellable) cancelled = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancelled);
  for (int view = 0; view < 2; view++)
    {
      g_autoptr (BlScene) scene = scene_of (model, (BlView) view, 7.5, 3,
                                            BL_SCENE_LABELS | BL_SCENE_GRID | BL_SCENE_MATURE_SPREAD);

      for (guint i = 0; i < 3; i++)
        {
          g_autofree char *path = g_build_filename (folder, names[i], NULL), *text = NULL;
          struct rlimit usual;
          gsize length;

          g_assert_true (bl_scene_export (scene, path, 480, NULL, &error));
          g_assert_no_error (error);
          g_assert_true (g_file_get_contents (path, &text, &length, NULL));
          g_assert_cmpmem (text, 4, magic[i], 4);
          g_assert_cmpuint (length, >, 4000);
          g_assert_false (bl_scene_export (scene, path, 480, cancelled, &error));
          g_assert_error (error, BL_ERROR, BL_ERROR_CANCELLED);
          g_clear_error (&error);
          assert_stands (path, text, length, 1);
          usual = small_disk (length / 2);
          g_assert_false (bl_scene_export (scene, path, 480, NULL, &error));
          usual_disk (usual);
          g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
          g_clear_error (&error);
          assert_stands (path, text, length, 1);
          g_remove (path);
        }
      g_assert_false (bl_scene_export (scene, "picture.bmp", 480, NULL, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_clear_error (&error);
      g_assert_false (bl_scene_export (scene, "/no/such/folder/picture.png", 480, NULL, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
      g_clear_error (&error);
      g_assert_false (bl_scene_export (scene, "picture.png", 3, NULL, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_clear_error (&error);
    }
  g_rmdir (folder);
  bl_model_unref (model);
}

static void
count_cb (guint done, guint total, gpointer data)
{
  *(guint *) data = done;
  g_assert_cmpuint (total, ==, 12);
}

static void
test_flipbook (void)
{
  BlModel *model = planted ();
  g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);
  g_autofree char *folder = g_dir_make_tmp ("bl-flip-XXXXXX", NULL);
  guint done = 0, files = 0;
  BlFlipOptions options = { .view = BL_VIEW_PHOTO, .series = BL_FLIP_MONTHS, .fixed = { 7.5, 3 },
                            .width = 120, .progress = count_cb,
                            .data = &done };
  g_autoptr (GError) error = NULL;
  GDir *dir;
  const char *name;

  g_assert_true (bl_flipbook_write (layout, NULL, folder, &options, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (done, ==, 12);
  dir = g_dir_open (folder, 0, NULL);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      files++;
      g_remove (path);
    }
  g_dir_close (dir);
  g_assert_cmpuint (files, ==, 12);
  g_rmdir (folder);
  bl_model_unref (model);
}

static void
test_golden (void)
{
  BlModel *model = planted ();
  g_autoptr (BlScene) photo = scene_of (model, BL_VIEW_PHOTO, 7.5, 3, 0);
  g_autoptr (BlScene) plan = scene_of (model, BL_VIEW_PLAN, 7.5, 3,
                                       BL_SCENE_MATURE_SPREAD | BL_SCENE_GRID);
  cairo_surface_t *s = paint (photo, photo->extent, 0.4, NULL, 0);

  canvas_assert_golden (s, "scene-photo");
  cairo_surface_destroy (s);
  s = paint (plan, (BlRect) { 0, 0, 12, 5 }, 70, NULL, 0);
  canvas_assert_golden (s, "scene-plan");
  cairo_surface_destroy (s);
  bl_model_unref (model);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/scene/height", test_height);
  g_test_add_func ("/scene/south", test_south);
  g_test_add_func ("/scene/order", test_order);
  g_test_add_func ("/scene/behind", test_behind);
  g_test_add_func ("/scene/pick", test_pick);
  g_test_add_func ("/scene/tiles", test_tiles);
  g_test_add_func ("/scene/skip", test_skip);
  g_test_add_func ("/scene/cache-bound", test_cache_bound);
  g_test_add_func ("/scene/threads", test_threads);
  g_test_add_func ("/scene/keys", test_keys);
  g_test_add_func ("/scene/export", test_export);
  g_test_add_func ("/scene/flipbook", test_flipbook);
  g_test_add_func ("/scene/golden", test_golden);
  return g_test_run ();
}
