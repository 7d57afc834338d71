/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours of sun among walls and crowns, against cases that can be worked out by hand. */
#include <math.h>

#include "base/error.h"
#include "site/shade.h"
#include "site/sun.h"

#define DEG (M_PI / 180.0)
#define ABOUT(value, expected, tolerance)                                                          \
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance)

static BlSite
site_at (double latitude, double north)
{
  BlSite site;

  bl_site_init (&site);
  site.latitude = latitude;
  site.longitude = 0;
  site.north = north;
  return site;
}

static BlPoints *
points (guint n, const double *xy)
{
  BlPoints *list = bl_points_new ();
  guint i = 0;

  for (i = 0; i < n; i++)
    bl_points_add (list, BL_POINT (xy[2 * i], xy[2 * i + 1]));
  return list;
}

/* An open test of shadow length (SunshineKit): the NREL sun over a thing 10 m high. */
static void
test_length (void)
{
  ABOUT (bl_shadow_length (10, 39.888378 * DEG, 0), 11.9647968, 1e-6);
  /* L / h by altitude: exact tangents. */
  ABOUT (bl_shadow_length (1, 45 * DEG, 0), 1.0, 1e-12);
  ABOUT (bl_shadow_length (1, 30 * DEG, 0), 1.7320508, 1e-7);
  /* Ground falling 1 in 4 away from the sun: 1 / (1 - 0.25); rising: 1 / 1.25. */
  ABOUT (bl_shadow_length (1, 45 * DEG, 0.25), 4 / 3.0, 1e-12);
  ABOUT (bl_shadow_length (1, 45 * DEG, -0.25), 0.8, 1e-12);
  g_assert_true (isinf (bl_shadow_length (1, 10 * DEG, 0.5)));
}

/* At the equinox the sun runs through a plane that leans by the latitude, so that a long wall to
 * the south, seen at latitude 40 under less than 50°, never shades, and under more than 50° shades
 * all day (refraction lifts the lowest sun a little, hence the margin):
 *
 *        sun
 *          \ 50°       |  wall, h
 *           `----------|----- p  d
 */
static void
test_south_wall (void)
{
  static const double wall[] = { -5000, 0, 5000, 0 };
  g_autoptr (BlPoints) line = points (2, wall);
  BlSite site = site_at (40, 0);
  g_autoptr (BlSunTrack) track = bl_sun_track_new (&site, bl_day (2025, 3, 20), 5, NULL);
  BlObstacle o = { line, FALSE, 0, 1.0 };
  double critical = 1.0 / tan (50 * DEG);

  ABOUT (bl_sun_track_open_hours (track), 12.15, 0.02);
  ABOUT (bl_sun_hours (track, &o, 1, BL_POINT (0, critical * 1.25), NULL), 12.15, 0.45);
  ABOUT (bl_sun_hours (track, &o, 1, BL_POINT (0, critical * 0.8), NULL), 0.0, 0.45);
  /* South of the wall there is sun all day. */
  ABOUT (bl_sun_hours (track, &o, 1, BL_POINT (0, -0.1), NULL), 12.15, 0.2);
  /* Light under a fence on posts: the sun at 50° passes below 1 m at 0.5 m distance only under
   * 0.6 m; lifted above that it shades nothing there. */
  o.bottom = 0.65;
  ABOUT (bl_sun_hours (track, &o, 1, BL_POINT (0, 0.5), NULL), 12.15, 0.6);
}

/* On the equator at the equinox the sun climbs 15° an hour in the east-west plane. A wall on the
 * west side, as high as it is far away, hides it from 45° down: the last three hours. */
static void
test_west_wall (void)
{
  static const double wall[] = { -2, -5000, -2, 5000 };
  g_autoptr (BlPoints) line = points (2, wall);
  BlSite site = site_at (0, 0);
  g_autoptr (BlSunTrack) track = bl_sun_track_new (&site, bl_day (2025, 3, 20), 1, NULL);
  BlObstacle o = { line, FALSE, 0, 2.0 };
  double morning = 0, hours = bl_sun_hours (track, &o, 1, BL_POINT (0, 0), &morning);

  ABOUT (bl_sun_track_open_hours (track) - hours, 3.055,
         0.06); /* 3 h and the 0.83° below the horizon */
  ABOUT (morning, 6.055, 0.06);
}

/* The same wall with the plan turned: true north lies 90° clockwise from plan up, so that west is
 * up in the plan. */
static void
test_north (void)
{
  static const double wall[] = { -5000, 2, 5000, 2 };
  g_autoptr (BlPoints) line = points (2, wall);
  BlSite site = site_at (0, 90);
  g_autoptr (BlSunTrack) track = bl_sun_track_new (&site, bl_day (2025, 3, 20), 1, NULL);
  BlObstacle o = { line, FALSE, 0, 2.0 };
  double morning = 0, hours = bl_sun_hours (track, &o, 1, BL_POINT (0, 0), &morning);

  ABOUT (bl_sun_track_open_hours (track) - hours, 3.055, 0.06);
  ABOUT (morning, 6.055, 0.06);
}

/* A crown from 2 m to 6 m over a square 4 m wide, equator at the equinox, the point under its
 * middle: the crown hides the sun while it is higher than atan (2 / 2) = 45° on either side: 6 h.
 */
static void
test_crown (void)
{
  static const double square[] = { -2, -2000, 2, -2000, 2, 2000, -2, 2000 };
  g_autoptr (BlPoints) ring = points (4, square);
  BlSite site = site_at (0, 0);
  g_autoptr (BlSunTrack) track = bl_sun_track_new (&site, bl_day (2025, 3, 20), 1, NULL);
  BlObstacle o = { ring, TRUE, 2, 6 };
  double open = bl_sun_track_open_hours (track);

  ABOUT (open - bl_sun_hours (track, &o, 1, BL_POINT (0, 0), NULL), 6.0, 0.06);
  /* 10 m to the east: hidden while the ray meets the crown, which spans 8 m to 12 m away and 2 m
   * to 6 m up: from atan (6 / 8) down to atan (2 / 12), in the afternoon. */
  ABOUT (open - bl_sun_hours (track, &o, 1, BL_POINT (10, 0), NULL),
         (atan2 (6, 8) - atan2 (2, 12)) / DEG / 15.0, 0.06);
}

static void
test_map (void)
{
  static const double wall[] = { -5000, 0, 5000, 0 };
  static const double corners[] = { 0, 0.1, 4, 0.1, 4, 3.1, 0, 3.1 };
  static const double sliver[] = { 0, 5, 4, 5, 4, 5.01, 0, 5.01 };
  g_autoptr (BlPoints) line = points (2, wall);
  g_autoptr (BlPoints) bed = points (4, corners);
  g_autoptr (BlPoints) narrow = points (4, sliver);
  g_autoptr (GCancellable) cancel = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  BlSite site = site_at (40, 0);
  g_autoptr (BlSunTrack) track = bl_sun_track_new (&site, bl_day (2025, 6, 21), 10, NULL);
  BlObstacle o = { line, FALSE, 0, 3.0 };
  g_autoptr (BlSunMap) map = bl_sun_map_new (bed, 0.25, track, &o, 1, NULL, &error);
  g_autoptr (BlSunMap) small = bl_sun_map_new (narrow, 0.25, track, &o, 1, NULL, &error);
  double hours[12], season = 0;

  g_assert_no_error (error);
  g_assert_cmpuint (map->columns, ==, 16);
  g_assert_cmpuint (map->rows, ==, 12);
  /* Further from the wall there is never less sun. */
  g_assert_cmpfloat (map->hours[11 * 16 + 8], >=, map->hours[0 * 16 + 8]);
  g_assert_cmpfloat (map->low, <=, map->mean);
  g_assert_cmpfloat (map->mean, <=, map->high);
  g_assert_cmpfloat (small->mean, >, 0);
  g_assert_true (bl_sun_months (&site, 2025, bed, 0.5, &o, 1, hours, &season, NULL, &error));
  g_assert_cmpfloat (hours[5], >, hours[11]);
  g_assert_cmpfloat (season, >, hours[11]);
  g_cancellable_cancel (cancel);
  g_assert_null (bl_sun_map_new (bed, 0.25, track, &o, 1, cancel, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_CANCELLED);
}

static void
test_refusals (void)
{
  BlSite site = site_at (NAN, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPoints) none = bl_points_new ();
  g_autoptr (BlSunTrack) track = NULL;

  g_assert_null (bl_sun_track_new (&site, bl_day (2025, 6, 21), 5, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
  g_clear_error (&error);
  site.latitude = 80;
  track = bl_sun_track_new (&site, bl_day (2025, 12, 21), 5, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat (bl_sun_track_open_hours (track), ==, 0);
  g_assert_null (bl_sun_map_new (none, 0.1, track, NULL, 0, NULL, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/site/shade/length", test_length);
  g_test_add_func ("/site/shade/south-wall", test_south_wall);
  g_test_add_func ("/site/shade/west-wall", test_west_wall);
  g_test_add_func ("/site/shade/north", test_north);
  g_test_add_func ("/site/shade/crown", test_crown);
  g_test_add_func ("/site/shade/map", test_map);
  g_test_add_func ("/site/shade/refusals", test_refusals);
  return g_test_run ();
}
