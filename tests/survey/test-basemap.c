/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Base drawings scaled by one length, and polygons read in projected metres. */
#include "survey/basemap.h"

#include "base/error.h"
#include "geometry/polygon.h"

#include <string.h>

#define ASSERT_NEAR(a, b, e) g_assert_cmpfloat_with_epsilon (a, b, e)

static void
test_scale (void)
{
  g_autoptr (GError) error = NULL;
  BlBasemap map;
  BlPoint p;

  /* 200 px are 10 m; the first end lies at (3, 4), the line runs along +y. */
  g_assert_true (bl_basemap_scale (BL_POINT (100, 500), BL_POINT (300, 500), 10.0, 0.02, 1.0,
                                   BL_POINT (3, 4), G_PI_2, &map, &error));
  ASSERT_NEAR (map.scale, 0.05, 1e-12);
  ASSERT_NEAR (map.scale_sd, hypot (0.002, G_SQRT2 / 200.0), 1e-12);
  p = bl_basemap_to_plan (&map, BL_POINT (300, 500));
  ASSERT_NEAR (p.x, 3.0, 1e-9);
  ASSERT_NEAR (p.y, 14.0, 1e-9);
  /* Up in the drawing is to the left of the line. */
  p = bl_basemap_to_plan (&map, BL_POINT (100, 480));
  ASSERT_NEAR (p.x, 2.0, 1e-9);
  ASSERT_NEAR (p.y, 4.0, 1e-9);
  p = bl_basemap_to_drawing (&map, p);
  ASSERT_NEAR (p.x, 100.0, 1e-9);
  ASSERT_NEAR (p.y, 480.0, 1e-9);
  g_assert_false (bl_basemap_scale (BL_POINT (1, 1), BL_POINT (1, 1), 10.0, 0.0, 1.0, p, NAN, &map,
                                    &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
}

static void
test_geojson (void)
{
  static const char text[] =
    "{\"type\":\"FeatureCollection\",\"features\":["
    "{\"type\":\"Feature\",\"properties\":{\"name\":\"Walk strip\"},\"geometry\":{\"type\":\"Polygon\","
    "\"coordinates\":[[[393500.5,4661000.25],[393512.5,4661000.25],[393512.5,4661003.25],"
    "[393500.5,4661003.25],[393500.5,4661000.25]]]}},"
    "{\"type\":\"Feature\",\"properties\":null,\"geometry\":{\"type\":\"LineString\","
    "\"coordinates\":[[393500,4661010],[393520,4661010]]}},"
    "{\"type\":\"Feature\",\"properties\":{},\"geometry\":null}]}";
  BlPoint origin = BL_POINT (NAN, NAN);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) shapes = bl_geojson_read (text, -1, &origin, &error);
  const BlBaseShape *bed, *line;

  g_assert_no_error (error);
  g_assert_cmpuint (shapes->len, ==, 2);
  bed = g_ptr_array_index (shapes, 0);
  line = g_ptr_array_index (shapes, 1);
  g_assert_cmpstr (bed->name, ==, "Walk strip");
  g_assert_cmpuint (bed->outline->points->len, ==, 4);
  g_assert_false (bed->outline->open);
  ASSERT_NEAR (bl_polygon_area (bed->outline->points), 36.0, 1e-9);
  g_assert_cmpfloat (origin.x, ==, 393500.0);
  g_assert_cmpfloat (origin.y, ==, 4661000.0);
  g_assert_true (line->outline->open);
  g_assert_null (line->name);
}

static void
test_refused (void)
{
  static const struct { const char *text, *says; } bad[] = {
    { "{", "not GeoJSON" },
    { "[]", "no object" },
    { "{\"type\":\"FeatureCollection\",\"features\":[]}", "no polygon" },
    { "{\"type\":\"FeatureCollection\",\"features\":[3]}", "not an object" },
    { "{\"type\":\"Polygon\",\"coordinates\":[[[-88.30,42.10],[-88.29,42.10],[-88.29,42.11]]]}",
      "look like degrees" },
    { "{\"type\":\"Polygon\",\"coordinates\":[[[\"a\",1],[2,3],[4,5]]]}", "pair of numbers" },
    { "{\"type\":\"Polygon\",\"coordinates\":[[[1000,1],[2000,3]]]}", "too few points" },
    { "{\"type\":\"Polygon\",\"coordinates\":7}", "no ring" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      BlPoint origin = BL_POINT (NAN, NAN);
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) shapes = bl_geojson_read (bad[i].text, -1, &origin, &error);

      g_assert_null (shapes);
      g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
      if (strstr (error->message, bad[i].says) == NULL)
        g_error ("%s: %s", bad[i].text, error->message);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/survey/basemap/scale", test_scale);
  g_test_add_func ("/survey/basemap/geojson", test_geojson);
  g_test_add_func ("/survey/basemap/refused", test_refused);
  return g_test_run ();
}
