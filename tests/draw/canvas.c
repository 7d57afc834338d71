/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures for the tests of drawing. */
#include "canvas.h"

#include <stdlib.h>
#include <string.h>

GPtrArray *
canvas_plants (void)
{
  GPtrArray *plants = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_unref);
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "draw", "forms.plants", NULL);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) groups = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, &error));
  g_assert_true (g_key_file_load_from_data (file, text, -1, G_KEY_FILE_NONE, &error));
  groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    {
      BlPlant *plant = bl_plant_parse (groups[i], text, &error);

      g_assert_no_error (error);
      g_ptr_array_add (plants, plant);
    }
  return plants;
}

BlPlant *
canvas_plant (GPtrArray *plants, const char *slug)
{
  for (guint i = 0; i < plants->len; i++)
    if (strcmp (((BlPlant *) plants->pdata[i])->slug, slug) == 0)
      return plants->pdata[i];
  g_error ("forms.plants has no %s", slug);
}

cairo_surface_t *
canvas_new (int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_destroy (cr);
  return surface;
}

static guint32
pixel (cairo_surface_t *s, int x, int y)
{
  const guchar *row = cairo_image_surface_get_data (s) + (gsize) y
    * cairo_image_surface_get_stride (s);

  return ((const guint32 *) (const void *) row)[x];
}

static int
farthest (guint32 a, guint32 b)
{
  int most = 0;

  for (int c = 0; c < 24; c += 8)
    most = MAX (most, abs ((int) (a >> c & 255) - (int) (b >> c & 255)));
  return most;
}

static void
write_difference (cairo_surface_t *a, cairo_surface_t *b, const char *name)
{
  int w = cairo_image_surface_get_width (a), h = cairo_image_surface_get_height (a);
  cairo_surface_t *d = cairo_image_surface_create (CAIRO_FORMAT_RGB24, w, h);
  g_autofree char *got = g_strconcat (name, ".got.png", NULL), *diff = g_strconcat (name,
      ".difference.png", NULL);

  cairo_surface_flush (d);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      {
        guchar *row = cairo_image_surface_get_data (d) + (gsize) y
          * cairo_image_surface_get_stride (d);
        guint v = (guint) MIN (255, farthest (pixel (a, x, y), pixel (b, x, y)) * 4);

        ((guint32 *) (void *) row)[x] = v << 16 | v << 8 | v;
      }
  cairo_surface_mark_dirty (d);
  cairo_surface_write_to_png (a, got);
  cairo_surface_write_to_png (d, diff);
  cairo_surface_destroy (d);
  g_test_message ("see %s and %s", got, diff);
}

void
canvas_assert_golden (cairo_surface_t *surface, const char *name)
{
  g_autofree char *file = g_strconcat (name, ".png", NULL);
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "draw", "golden", file, NULL);
  cairo_surface_t *golden;
  int w = cairo_image_surface_get_width (surface), h = cairo_image_surface_get_height (surface);
  double sum = 0, many = 0;

  if (g_getenv ("BL_UPDATE_GOLDEN") != NULL)
    {
      g_assert_cmpint (cairo_surface_write_to_png (surface, path), ==, CAIRO_STATUS_SUCCESS);
      return;
    }
  golden = cairo_image_surface_create_from_png (path);
  g_assert_cmpint (cairo_surface_status (golden), ==, CAIRO_STATUS_SUCCESS);
  g_assert_cmpint (cairo_image_surface_get_width (golden), ==, w);
  g_assert_cmpint (cairo_image_surface_get_height (golden), ==, h);
  cairo_surface_flush (surface);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      {
        int d = farthest (pixel (surface, x, y), pixel (golden, x, y));

        sum += d;
        many += d > 48;
      }
  sum /= (double) w * h, many /= (double) w * h;
  if (sum > 1.5 || many > 0.006)
    {
      write_difference (surface, golden, name);
      g_test_message ("mean difference %.2f of 255, %.2f %% of pixels differ", sum, many * 100);
      g_test_fail ();
    }
  cairo_surface_destroy (golden);
}

gboolean
canvas_ink (cairo_surface_t *s, guint32 paper, int *x0, int *y0, int *x1, int *y1)
{
  int w = cairo_image_surface_get_width (s), h = cairo_image_surface_get_height (s);

  *x0 = w, *y0 = h, *x1 = -1, *y1 = -1;
  cairo_surface_flush (s);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      if (farthest (pixel (s, x, y), paper) > 14)
        *x0 = MIN (*x0, x), *x1 = MAX (*x1, x), *y0 = MIN (*y0, y), *y1 = MAX (*y1, y);
  return *x1 >= 0;
}

void
canvas_camera (BlCamera *camera)
{
  /* data/demo/harbour-lane.truth.json: f_px, K, camera_position_m, yaw, pitch and roll. */
  memset (camera, 0, sizeof *camera);
  camera->width = 2016, camera->height = 1512, camera->focal = 1456;
  camera->cx = 1008, camera->cy = 756;
  camera->x = -2.2, camera->y = -0.5, camera->eye = 1.55;
  camera->heading = 63 * G_PI / 180, camera->pitch = 9.5 * G_PI / 180,
    camera->roll = -0.8 * G_PI / 180;
  camera->solved = camera->scaled = TRUE;
}

static BlAlternative *
alternative_new (gint64 id, const char *name)
{
  BlAlternative *a = g_new0 (BlAlternative, 1);

  a->id = id;
  a->name = g_strdup (name), a->idea = g_strdup (""), a->colors = g_strdup ("");
  return a;
}

BlModel *
canvas_model (void)
{
  /* About the strip of the demo: 10 m along the walk, 2 m wide. */
  static const double ring[][2] = { { 1.0, 1.1 }, { 3.0, 0.9 }, { 5.5, 1.2 }, { 8.0, 1.0 },
                                    { 10.5, 1.5 }, { 11.0, 2.4 },
                                    { 10.0, 3.2 }, { 7.0, 3.0 }, { 4.0, 3.4 }, { 1.6, 3.3 },
                                      { 0.6, 2.2 } };
  BlModel *model = bl_model_new ();
  g_autoptr (GPtrArray) plants = canvas_plants ();
  BlPoints *points = bl_points_new ();
  BlBed *bed = bl_bed_new ();

  for (guint i = 0; i < plants->len; i++)
    g_hash_table_insert (model->plants, g_strdup (((BlPlant *) plants->pdata[i])->slug),
                         bl_plant_ref (plants->pdata[i]));
  for (guint i = 0; i < G_N_ELEMENTS (ring); i++)
    bl_points_add (points, BL_POINT (ring[i][0], ring[i][1]));
  g_free (bed->name);
  bed->id = 1, bed->name = g_strdup ("Strip"), bed->mulch_depth = 0.075,
    bed->edging = g_strdup ("edging-brick");
  bed->edging_share = 1;
  bed->ground = bl_outline_new_take (points, FALSE);
  bed->ring = bl_outline_flatten (bed->ground, 0.002);
  g_ptr_array_add (model->beds, bed);
  g_ptr_array_add (model->alternatives, alternative_new (1, "A"));
  model->site.zone = 11, model->site.north = 30, model->site.latitude = 42.1;
  model->solution = g_new0 (BlSolution, 1);
  canvas_camera (&model->solution->camera);
  model->photo.width = model->solution->camera.width;
  model->photo.height = model->solution->camera.height;
  return model;
}

void
canvas_planting (BlModel *model, const char *slug, BlPlantingForm form, const double (*at)[2],
                 guint n)
{
  BlPlanting *planting = bl_planting_new ();

  planting->id = (gint64) model->plantings->len + 1, planting->alternative_id = 1,
    planting->bed_id = 1;
  planting->slug = g_strdup (slug), planting->form = form;
  if (n > 0)
    {
      BlPoints *points = bl_points_new ();

      for (guint i = 0; i < n; i++)
        bl_points_add (points, BL_POINT (at[i][0], at[i][1]));
      planting->shape = bl_outline_new_take (points, FALSE);
      planting->shape->open = form == BL_PLANTING_ROW;
    }
  g_ptr_array_add (model->plantings, planting);
}
