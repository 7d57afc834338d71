/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun's colours: darker is less everywhere, and a place is painted in its hours' colour. */
#include <math.h>

#include "draw/sun-layer.h"
#include "geometry/polygon.h"

/* CIE lightness of an sRGB colour. */
static double
lightness (BlColor c)
{
  return bl_color_to_lab (c).L;
}

static void
test_ramp (void)
{
  double before = lightness (bl_sun_color (0));

  /* Each half hour is visibly lighter than the one before: 1 is about what the eye tells apart. */
  for (double h = 0.5; h <= BL_SUN_MOST; h += 0.5)
    {
      g_assert_cmpfloat (lightness (bl_sun_color (h)) - before, >, 1.0);
      before = lightness (bl_sun_color (h));
    }
  g_assert_cmpfloat (lightness (bl_sun_color (20)), ==, before);
  g_assert_cmpfloat (lightness (bl_sun_color (-1)), ==, lightness (bl_sun_color (0)));
}

/* A bed 10 m by 4 m, its western half in 2 hours and its eastern in 9. */
static BlSunlight *
halves (void)
{
  BlSunlight *sun = g_new0 (BlSunlight, 1);
  BlBedSun bed = { .bed_id = 1 };
  const double corners[] = { 0, 0, 10, 0, 10, 4, 0, 4 };

  g_atomic_ref_count_init (&sun->refs);
  sun->beds = g_array_new (FALSE, FALSE, sizeof (BlBedSun));
  sun->rule = (BlLightRule){ "", 6, 3, "" };
  bed.ring = bl_points_new ();
  for (guint i = 0; i < 4; i++)
    bl_points_add (bed.ring, BL_POINT (corners[2 * i], corners[2 * i + 1]));
  bed.map = g_new0 (BlSunMap, 1);
  *bed.map = (BlSunMap){ 0, 0, 0.5, 20, 8, g_new (float, 160), 5.5, 2, 9 };
  for (guint i = 0; i < 160; i++)
    bed.map->hours[i] = i % 20 < 10 ? 2 : 9;
  g_array_append_val (sun->beds, bed);
  return sun;
}

static void
halves_free (BlSunlight *sun)
{
  BlBedSun *bed = &g_array_index (sun->beds, BlBedSun, 0);

  g_array_unref (bed->ring);
  bl_sun_map_free (bed->map);
  g_array_unref (sun->beds);
  g_free (sun);
}

static void
assert_color (cairo_surface_t *picture, int x, int y, BlColor c)
{
  const guint32 pixel
      = ((const guint32 *)(void *)(cairo_image_surface_get_data (picture)
                                   + y * cairo_image_surface_get_stride (picture)))[x];

  g_assert_cmpint (abs ((int)(pixel >> 16 & 255) - (int)lround (c.r * 255)), <=, 2);
  g_assert_cmpint (abs ((int)(pixel >> 8 & 255) - (int)lround (c.g * 255)), <=, 2);
  g_assert_cmpint (abs ((int)(pixel & 255) - (int)lround (c.b * 255)), <=, 2);
}

static void
test_plan (void)
{
  BlSunlight *sun = halves ();
  cairo_surface_t *picture = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 480, 240);
  cairo_t *cr = cairo_create (picture);

  /* Metres from (-1, 5) at the top left, 40 pixels each. */
  cairo_scale (cr, 40, 40);
  cairo_translate (cr, 1, 5);
  bl_sun_layer_paint (sun, cr, NULL, 40, 1);
  cairo_surface_flush (picture);
  assert_color (picture, 40 + 2 * 40, 200 - 2 * 40, bl_sun_color (2));
  assert_color (picture, 40 + 8 * 40, 200 - 2 * 40, bl_sun_color (9));
  /* Nothing outside the bed. */
  g_assert_cmpuint (cairo_image_surface_get_data (picture)[3], ==, 0);
  /* The lines at three and six hours lie where two meets nine: dark in the middle. */
  {
    double darkest = 100;

    for (int x = 40 + 180; x < 40 + 220; x++)
      {
        guint32 p = ((guint32 *)(void *)(cairo_image_surface_get_data (picture)
                                         + 60 * cairo_image_surface_get_stride (picture)))[x];
        BlColor c = { (p >> 16 & 255) / 255.0, (p >> 8 & 255) / 255.0, (p & 255) / 255.0, 1 };

        darkest = MIN (darkest, lightness (c));
      }
    g_assert_cmpfloat (darkest, <, lightness (bl_sun_color (2)) - 5);
  }
  cairo_destroy (cr);
  cairo_surface_destroy (picture);
  halves_free (sun);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/sun-layer/ramp", test_ramp);
  g_test_add_func ("/draw/sun-layer/plan", test_plan);
  return g_test_run ();
}
