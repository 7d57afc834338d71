/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Snapping to corners and edges, on drawn shapes, the rendered yard and real photographs. */
#include "base/rng.h"
#include "photo/snap.h"
#include "shared-fixture.h"

#include <stdlib.h>

#define SIDE 96

/* A drawn picture: each pixel the mean of 8 × 8 samples of @inside. */
static BlPixels
draw (gboolean (*inside) (double x, double y, gconstpointer data),
      gconstpointer data,
      double        noise,
      BlRng        *rng)
{
  BlPixels pixels = { SIDE, SIDE, SIDE * 4, g_malloc (SIDE * SIDE * 4) };

  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      {
        int hits = 0, grey;

        for (int k = 0; k < 64; k++)
          hits += inside (x + (k % 8 + 0.5) / 8.0, y + (k / 8 + 0.5) / 8.0, data);
        grey = (int) CLAMP (60.0 + hits * 2.0 + noise * bl_rng_normal (rng), 0.0, 255.0);
        ((guint32 *) (void *) pixels.data)[y * SIDE + x] = 0xff000000u | (guint32) grey * 0x010101u;
      }
  return pixels;
}

typedef struct
{
  BlPoint at;
  double first, second; /* directions of the two arms */
} Corner;

static gboolean
in_corner (double        x,
           double        y,
           gconstpointer data)
{
  const Corner *c = data;
  BlPoint p = BL_POINT (x - c->at.x, y - c->at.y);

  return bl_cross (BL_POINT (cos (c->first), sin (c->first)), p) > 0.0
         && bl_cross (BL_POINT (cos (c->second), sin (c->second)), p) < 0.0;
}

static gboolean
in_nothing (double        x,
            double        y,
            gconstpointer data)
{
  return FALSE;
}

static gboolean
in_half (double        x,
         double        y,
         gconstpointer data)
{
  const Corner *c = data;

  return bl_cross (BL_POINT (cos (c->first), sin (c->first)), BL_POINT (x - c->at.x, y - c->at.y)) > 0;
}

static int
compare_double (const void *a,
                const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static double
middle (double *values,
        guint   n)
{
  qsort (values, n, sizeof *values, compare_double);
  return values[n / 2];
}

static BlPoint
away (BlPoint p,
      double  most,
      BlRng  *rng)
{
  double angle = bl_rng_range (rng, 0.0, 2.0 * G_PI), r = most * sqrt (bl_rng_unit (rng));

  return BL_POINT (p.x + r * cos (angle), p.y + r * sin (angle));
}

static void
test_drawn_corner (void)
{
  BlRng rng = bl_rng (1);
  double errors[100];

  for (guint i = 0; i < G_N_ELEMENTS (errors); i++)
    {
      Corner corner = { { bl_rng_range (&rng, 44, 52), bl_rng_range (&rng, 44, 52) }, 0.0, 0.0 };
      BlPixels pixels;
      BlSnap snap;

      corner.first = bl_rng_range (&rng, 0.0, 2.0 * G_PI);
      corner.second = corner.first + bl_rng_range (&rng, 1.0, 2.2);
      pixels = draw (in_corner, &corner, 2.0, &rng);
      snap = bl_snap (&pixels, away (corner.at, 6.0, &rng), 8.0);
      g_free (pixels.data);
      g_assert_cmpint (snap.kind, ==, BL_SNAP_CORNER);
      g_assert_cmpfloat (snap.sd, >, 0.0);
      errors[i] = bl_dist (snap.at, corner.at);
    }
  g_test_message ("drawn corners: median %.3f px", middle (errors, G_N_ELEMENTS (errors)));
  g_assert_cmpfloat (middle (errors, G_N_ELEMENTS (errors)), <, 0.3);
}

/* An edge draws the click across itself, and not along. */
static void
test_drawn_edge (void)
{
  BlRng rng = bl_rng (2);

  for (guint i = 0; i < 100; i++)
    {
      Corner edge = { { 48.0 + bl_rng_unit (&rng), 48.0 + bl_rng_unit (&rng) }, 0.0, 0.0 };
      BlPoint start, u;
      BlPixels pixels;
      BlSnap snap;

      edge.first = bl_rng_range (&rng, 0.0, G_PI);
      u = BL_POINT (cos (edge.first), sin (edge.first));
      start = away (edge.at, 5.0, &rng);
      pixels = draw (in_half, &edge, 2.0, &rng);
      snap = bl_snap (&pixels, start, 8.0);
      g_free (pixels.data);
      g_assert_cmpint (snap.kind, ==, BL_SNAP_EDGE);
      g_assert_cmpfloat (fabs (bl_cross (u, bl_sub (snap.at, edge.at))), <, 0.5);
      g_assert_cmpfloat (fabs (bl_dot (u, bl_sub (snap.at, start))), <, 1.0);
      g_assert_cmpfloat (fabs (sin (snap.direction - edge.first)), <, 0.15);
    }
}

/* Plain paper with the noise of a sensor. */
static void
test_nothing (void)
{
  BlRng rng = bl_rng (3);
  guint moved = 0;

  for (guint i = 0; i < 50; i++)
    {
      BlPixels pixels = draw (in_nothing, NULL, 2.0, &rng);
      BlPoint start = BL_POINT (bl_rng_range (&rng, 1, 95), bl_rng_range (&rng, 1, 95));
      BlSnap snap = bl_snap (&pixels, start, 8.0);

      moved += snap.kind != BL_SNAP_NONE;
      if (snap.kind == BL_SNAP_NONE)
        g_assert_true (snap.at.x == start.x && snap.at.y == start.y);
      g_free (pixels.data);
    }
  g_assert_cmpuint (moved, ==, 0);
}

static BlImage *
load (const char *name)
{
  g_autofree char *path = shared_path (name), *data = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GError) error = NULL;
  BlImage *image;
  gsize size;

  if (path == NULL)
    return NULL;
  g_file_get_contents (path, &data, &size, &error);
  g_assert_no_error (error);
  bytes = g_bytes_new (data, size);
  image = bl_image_decode (bytes, NULL, &error);
  g_assert_no_error (error);
  return image;
}

/* The inner corners of the real boards against an independent detector. */
static void
test_board (void)
{
  g_autofree double *errors = g_new (double, 7 * 54);
  BlRng rng = bl_rng (4);
  guint n = 0, missed = 0;

  for (int number = 1; number <= 7; number++)
    {
      g_autofree char *jpeg = g_strdup_printf ("planar/left%02d.jpg", number);
      g_autofree char *json = g_strdup_printf ("planar/left%02d.json", number);
      g_autoptr (BlImage) image = load (jpeg);
      g_autoptr (JsonParser) parser = NULL;
      JsonArray *points;

      if (image == NULL)
        return;
      points = json_object_get_array_member (shared_json (json, &parser), "points");
      for (guint i = 0; i < json_array_get_length (points); i += 2)
        {
          BlPoint truth = bl_add (shared_pair (json_array_get_object_element (points, i), "px"),
                                  BL_POINT (0.5, 0.5));
          BlSnap snap = bl_snap (&image->levels[0], away (truth, 6.0, &rng), 8.0);

          if (snap.kind == BL_SNAP_CORNER)
            errors[n++] = bl_dist (snap.at, truth);
          else
            missed++;
        }
    }
  g_test_message ("boards: %u corners, %u missed, median %.3f px, 95th percentile %.3f px", n, missed,
                  middle (errors, n), errors[(guint) (0.95 * n)]);
  g_assert_cmpuint (missed, <, 8);
  g_assert_cmpfloat (middle (errors, n), <, 0.3);
}

/* Joints of the rendered walk, and sky where there is nothing. */
static void
test_yard (void)
{
  g_autoptr (BlImage) image = load ("yard/yard_a.jpg");
  g_autoptr (JsonParser) parser = NULL;
  g_autofree double *errors = g_new (double, 6 * 60);
  BlRng rng = bl_rng (5);
  JsonArray *points;
  guint n = 0;

  if (image == NULL)
    return;
  points = json_object_get_array_member (shared_json ("yard/yard_a.truth.json", &parser), "points");
  for (guint i = 0; i < json_array_get_length (points); i++)
    {
      JsonObject *point = json_array_get_object_element (points, i);

      if (!g_str_has_prefix (json_object_get_string_member (point, "name"), "joint_"))
        continue;
      for (int k = 0; k < 60; k++)
        {
          BlPoint truth = shared_pair (point, "px_1600x1200");
          BlSnap snap = bl_snap (&image->levels[0], away (truth, 6.0, &rng), 8.0);

          if (snap.kind == BL_SNAP_CORNER)
            errors[n++] = bl_dist (snap.at, truth);
        }
    }
  g_test_message ("walk joints: %u of 360 snaps, median %.3f px", n, middle (errors, n));
  g_assert_cmpuint (n, >, 300);
  g_assert_cmpfloat (middle (errors, n), <=, 0.3);
  for (int k = 0; k < 100; k++)
    {
      BlPoint sky = BL_POINT (bl_rng_range (&rng, 1100, 1500), bl_rng_range (&rng, 20, 70));

      g_assert_cmpint (bl_snap (&image->levels[0], sky, 8.0).kind, ==, BL_SNAP_NONE);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/snap/drawn-corner", test_drawn_corner);
  g_test_add_func ("/photo/snap/drawn-edge", test_drawn_edge);
  g_test_add_func ("/photo/snap/nothing", test_nothing);
  g_test_add_func ("/photo/snap/board", test_board);
  g_test_add_func ("/photo/snap/yard", test_yard);
  return g_test_run ();
}
