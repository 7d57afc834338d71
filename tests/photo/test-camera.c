/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The camera's formulae against published and independent values. */
#include "photo/camera.h"
#include "photo/homography.h"
#include "photo/solve.h"

#define ASSERT_NEAR(a, b, e) g_assert_cmpfloat_with_epsilon (a, b, e)

/* Published numbers of a four-point map (a vision library's documentation example, public test
 * data), computed by the normalised DLT of Hartley and Zisserman, algorithm 4.2. */
static void
test_four_points (void)
{
  static const BlPoint from[4] = { { 56, 65 }, { 368, 52 }, { 28, 387 }, { 389, 390 } };
  static const BlPoint to[4] = { { 0, 0 }, { 300, 0 }, { 0, 300 }, { 300, 300 } };
  static const double expected[9] = { 1.0558737612964193, 0.09181510967794954, -65.0969127616662,
                                      0.046901004937543685, 1.1256241185010436, -75.79202397907027,
                                      0.00018325144816951967, 0.0005133370013304123, 1.0 };
  static const double slope[4] = { 0.892578, 0.011270, 0.015619, 0.907247 };
  double h[9], jacobian[4];
  BlPoint p;

  g_assert_true (bl_homography_from_points (from, to, 4, h));
  for (int i = 0; i < 9; i++)
    ASSERT_NEAR (h[i], expected[i], 1e-10);
  p = bl_homography_apply (h, BL_POINT (210, 220));
  ASSERT_NEAR (p.x, 153.581117682, 1e-8);
  ASSERT_NEAR (p.y, 157.800781038, 1e-8);
  bl_homography_jacobian (h, BL_POINT (210, 220), jacobian);
  for (int i = 0; i < 4; i++)
    ASSERT_NEAR (jacobian[i], slope[i], 1e-6);
}

static void
test_degenerate_points (void)
{
  static const BlPoint line[4] = { { 0, 0 }, { 1, 1 }, { 2, 2 }, { 3, 3 } };
  static const BlPoint to[4] = { { 0, 0 }, { 1, 0 }, { 1, 1 }, { 0, 1 } };
  double h[9];

  g_assert_false (bl_homography_from_points (line, to, 4, h));
}

/* A camera of 3000 px, 1.5 m up, 20° down: ground table computed independently from the pinhole
 * equations (error propagation as in Criminisi, Reid and Zisserman, A Plane Measuring Device, BMVC
 * 1997). */
static void
ground_camera (BlCamera *camera)
{
  bl_camera_init (camera, 4032, 3024);
  camera->focal = 3000.0;
  camera->pitch = 20.0 * G_PI / 180.0;
  camera->eye = 1.5;
  camera->solved = camera->scaled = TRUE;
}

static void
test_ground_table (void)
{
  static const struct { double x, y, px, py, mm_x, mm_y; } rows[] = {
    { 0, 3, 2016, 1857.26, 1.11, 2.47 },      { 0, 4.5, 2016, 1430.03, 1.58, 5.00 },
    { 0, 6, 2016, 1198.61, 2.05, 8.41 },      { 0, 8, 2016, 1016.41, 2.68, 14.33 },
    { 2, 10, 2621.45, 903.32, 5.30, 21.82 },
  };
  BlCamera camera;
  BlPoint px, g;

  ground_camera (&camera);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      BlPoint right, left, up, down;

      g_assert_true (bl_camera_project (&camera, rows[i].x, rows[i].y, 0.0, &px));
      ASSERT_NEAR (px.x, rows[i].px, 0.006);
      ASSERT_NEAR (px.y, rows[i].py, 0.006);
      g_assert_true (bl_camera_to_ground (&camera, px, &g));
      ASSERT_NEAR (g.x, rows[i].x, 1e-9);
      ASSERT_NEAR (g.y, rows[i].y, 1e-9);
      /* The error of a place by one pixel either way, from first differences. */
      bl_camera_to_ground (&camera, BL_POINT (px.x + 0.5, px.y), &right);
      bl_camera_to_ground (&camera, BL_POINT (px.x - 0.5, px.y), &left);
      bl_camera_to_ground (&camera, BL_POINT (px.x, px.y + 0.5), &down);
      bl_camera_to_ground (&camera, BL_POINT (px.x, px.y - 0.5), &up);
      ASSERT_NEAR (1e3 * hypot (right.x - left.x, up.x - down.x), rows[i].mm_x, 0.006);
      ASSERT_NEAR (1e3 * hypot (right.y - left.y, up.y - down.y), rows[i].mm_y, 0.02);
    }
}

/* Height from one view: Criminisi, Reid and Zisserman 2000, αZ = -|b × t| / ((l·b)|v × t|). */
static void
test_height (void)
{
  BlPoint left, right, base, reference;
  BlCamera camera;

  ground_camera (&camera);
  bl_camera_horizon (&camera, &left, &right);
  ASSERT_NEAR (left.y, 420.0893, 1e-3);
  ASSERT_NEAR (right.y, 420.0893, 1e-3);
  g_assert_true (bl_camera_to_ground (&camera, BL_POINT (2367.1400, 1541.1154), &reference));
  ASSERT_NEAR (bl_camera_height_at (&camera, reference, BL_POINT (2397.7007, 826.2867)), 1.0, 1e-4);
  g_assert_true (bl_camera_to_ground (&camera, BL_POINT (1613.0445, 1338.9814), &base));
  ASSERT_NEAR (bl_camera_height_at (&camera, base, BL_POINT (1559.0667, 211.6929)), 1.8, 1e-4);
  ASSERT_NEAR (bl_camera_height_at (&camera, base, BL_POINT (1559.0667, 212.6929)), 1.79858, 1e-4);
}

/* Focal length from two vanishing points of directions at right angles: f² = -(a-c)·(b-c). */
static void
test_vanishing_points (void)
{
  BlPoint centre = BL_POINT (2016, 1512);
  double f;

  g_assert_true (bl_focal_from_vanishing_points (BL_POINT (2016, 420.0893), BL_POINT (2016, 9754.4323),
                                                 centre, &f));
  ASSERT_NEAR (f, 3000.0, 1e-3);
  g_assert_false (bl_focal_from_vanishing_points (BL_POINT (2016, 2000), BL_POINT (2016, 9754), centre,
                                                  &f));
}

/* 26 mm on 4032 × 3024: 3028.7 px by the diagonal. */
static void
test_focal_35mm (void)
{
  ASSERT_NEAR (bl_focal_from_35mm (26.0, 4032, 3024), 3028.7, 0.1);
}

/* Ground to pixel and back with everything turned on. */
static void
test_round_trip (void)
{
  static const double k1[] = { 0.0, -0.25, -0.05, 0.05, 0.3 };

  for (guint i = 0; i < G_N_ELEMENTS (k1); i++)
    for (double roll = -2.0; roll <= 2.0; roll += 0.5)
      for (double pitch = 0.05; pitch < 1.5; pitch += 0.2)
        {
          BlCamera camera, turned;
          BlRay normal;

          ground_camera (&camera);
          camera.k1 = k1[i];
          camera.roll = roll;
          camera.pitch = pitch;
          camera.heading = 0.7;
          camera.x = 3.0;
          camera.y = -2.0;
          camera.cx += 20.0;
          for (double v = 100; v < 3024; v += 290)
            for (double u = 100; u < 4032; u += 390)
              {
                BlPoint g, px;

                if (!bl_camera_to_ground (&camera, BL_POINT (u, v), &g))
                  continue;
                g_assert_true (bl_camera_project (&camera, g.x, g.y, 0.0, &px));
                ASSERT_NEAR (px.x, u, 1e-5);
                ASSERT_NEAR (px.y, v, 1e-5);
              }
          turned = camera;
          normal = bl_camera_normal (&camera);
          turned.pitch = turned.roll = 0.0;
          bl_camera_set_normal (&turned, normal);
          ASSERT_NEAR (turned.pitch, camera.pitch, 1e-9);
          ASSERT_NEAR (turned.roll, camera.roll, 1e-9);
        }
}

/* On a slope an upright leans against the surface: seen base and top give the height back, and
 * the level horizon is not the slope's vanishing line. */
static void
test_slope (void)
{
  BlCamera camera;
  BlPoint base_px, top_px, left, right;

  ground_camera (&camera);
  camera.slope = 0.2;
  camera.slope_direction = 0.0; /* falls away from the camera */
  g_assert_true (bl_camera_project (&camera, 0.5, 6.0, 0.0, &base_px));
  g_assert_true (bl_camera_project (&camera, 0.5, 6.0, 2.0, &top_px));
  ASSERT_NEAR (bl_camera_height_at (&camera, BL_POINT (0.5, 6.0), top_px), 2.0, 1e-9);
  bl_camera_horizon (&camera, &left, &right);
  /* The surface itself points atan 0.2 below level, and the axis 20° below the surface. */
  ASSERT_NEAR (left.y, 1512.0 - 3000.0 * tan (20.0 * G_PI / 180.0 + atan (0.2)), 1e-6);
}

/* Clipping before the camera leaves only what can be projected. */
static void
test_clip (void)
{
  static const double k1[] = { 0.0, -0.3 };

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (BlPoints) ring = bl_points_new ();
      g_autoptr (BlPoints) cut = NULL, none = NULL;
      BlPoint px;
      BlCamera camera;

      ground_camera (&camera);
      camera.k1 = k1[i];
      bl_points_add (ring, BL_POINT (-30, -10));
      bl_points_add (ring, BL_POINT (30, -10));
      bl_points_add (ring, BL_POINT (30, 40));
      bl_points_add (ring, BL_POINT (-30, 40));
      cut = bl_camera_clip_ground (&camera, ring, 0.5);
      g_assert_cmpuint (cut->len, >=, 4);
      for (guint k = 0; k < cut->len; k++)
        g_assert_true (bl_camera_project (&camera, bl_points_at (cut, k).x, bl_points_at (cut, k).y, 0.0,
                                          &px));
      for (guint k = 0; k < ring->len; k++)
        bl_points_at (ring, k).y -= 60.0;
      none = bl_camera_clip_ground (&camera, ring, 0.5);
      g_assert_cmpuint (none->len, ==, 0);
    }
}

/* At and above the horizon there is no ground; behind the camera no pixel. */
static void
test_refusals (void)
{
  BlCamera camera;
  BlPoint p;

  ground_camera (&camera);
  g_assert_false (bl_camera_to_ground (&camera, BL_POINT (2016, 420.0), &p));
  g_assert_false (bl_camera_to_ground (&camera, BL_POINT (2016, -5000.0), &p));
  g_assert_false (bl_camera_project (&camera, 0.0, -3.0, 0.0, &p));
  camera.k1 = -0.3;
  g_assert_false (bl_camera_project (&camera, 40.0, 5.0, 0.0, &p));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/camera/four-points", test_four_points);
  g_test_add_func ("/photo/camera/degenerate-points", test_degenerate_points);
  g_test_add_func ("/photo/camera/ground-table", test_ground_table);
  g_test_add_func ("/photo/camera/height", test_height);
  g_test_add_func ("/photo/camera/vanishing-points", test_vanishing_points);
  g_test_add_func ("/photo/camera/focal-35mm", test_focal_35mm);
  g_test_add_func ("/photo/camera/round-trip", test_round_trip);
  g_test_add_func ("/photo/camera/slope", test_slope);
  g_test_add_func ("/photo/camera/clip", test_clip);
  g_test_add_func ("/photo/camera/refusals", test_refusals);
  return g_test_run ();
}
