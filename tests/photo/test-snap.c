/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Snapping to corners and edges, on drawn shapes, the rendered yard and real photographs. */
#include "base/rng.h"
#include "photo/snap.h"
#include "shared-fixture.h"

#include <stdlib.h>

#define SIDE 96

/* A drawn picture: each pixel the mean light of 8 × 8 samples of @inside, as a camera takes it. */
static BlPixels
draw (gboolean (*inside) (double x, double y, gconstpointer data),
      gconstpointer data,
      double        noise,
      BlRng        *rng)
{
  BlPixels pixels = { SIDE, SIDE, SIDE * 4, g_malloc (SIDE * SIDE * 4) };
  double dark = pow (60.0 / 255.0, 2.2), bright = pow (188.0 / 255.0, 2.2);

  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      {
        int hits = 0, grey;

        for (int k = 0; k < 64; k++)
          hits += inside (x + (k % 8 + 0.5) / 8.0, y + (k / 8 + 0.5) / 8.0, data);
        grey = (int) CLAMP (255.0 * pow (dark + (bright - dark) * hits / 64.0, 1.0 / 2.2)
                                + noise * bl_rng_normal (rng), 0.0, 255.0);
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
  g_assert_cmpfloat (middle (errors, G_N_ELEMENTS (errors)), <, 0.1);
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
decode (const char *path)
{
  g_autofree char *data = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GError) error = NULL;
  BlImage *image;
  gsize size;

  g_file_get_contents (path, &data, &size, &error);
  g_assert_no_error (error);
  bytes = g_bytes_new (data, size);
  image = bl_image_decode (bytes, NULL, &error);
  g_assert_no_error (error);
  return image;
}

static BlImage *
load (const char *name)
{
  g_autofree char *path = shared_path (name);

  return path == NULL ? NULL : decode (path);
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

/* Errors of the snaps to corners from @times starts up to 6 px away from each point; the nearest
 * of the @n_truths points counts, of which the first is started from. */
static void
snap_around (const BlImage *image,
             const BlPoint *truths,
             guint          n_truths,
             guint          times,
             BlRng         *rng,
             GArray        *errors)
{
  for (guint k = 0; k < times; k++)
    {
      BlSnap snap = bl_snap (&image->levels[0], away (truths[0], 6.0, rng), 8.0);
      double error = INFINITY;

      for (guint i = 0; i < n_truths; i++)
        error = MIN (error, bl_dist (snap.at, truths[i]));
      if (snap.kind == BL_SNAP_CORNER)
        g_array_append_val (errors, error);
    }
}

/* Of 100 starts in the rectangle, those that find a corner. */
static guint
snaps_in (const BlImage *image,
          const BlRect  *where,
          BlRng         *rng)
{
  guint n = 0;

  for (int k = 0; k < 100; k++)
    {
      BlPoint start = BL_POINT (bl_rng_range (rng, where->x0, where->x1),
                                bl_rng_range (rng, where->y0, where->y1));

      n += bl_snap (&image->levels[0], start, 8.0).kind == BL_SNAP_CORNER;
    }
  return n;
}

static double
middle_of (GArray *errors)
{
  return middle ((double *) (void *) errors->data, errors->len);
}

/* Joints of the rendered walk. Three of the six meet the walk's edge where the picture shows it;
 * at the others grass or a joint fainter than the concrete's grain leave nothing to find. */
static void
test_yard (void)
{
  g_autoptr (BlImage) image = load ("yard/yard_a.jpg");
  g_autoptr (JsonParser) parser = NULL;
  g_autoptr (GArray) errors = g_array_new (FALSE, FALSE, sizeof (double));
  BlRect sky = { 1100, 20, 1500, 70 }, lawn = { 60, 980, 1560, 1180 };
  BlRng rng = bl_rng (5);
  JsonArray *points;

  if (image == NULL)
    return;
  points = json_object_get_array_member (shared_json ("yard/yard_a.truth.json", &parser), "points");
  for (guint i = 0; i < json_array_get_length (points); i++)
    {
      JsonObject *point = json_array_get_object_element (points, i);
      BlPoint truth;

      if (!g_str_has_prefix (json_object_get_string_member (point, "name"), "joint_"))
        continue;
      truth = shared_pair (point, "px_1600x1200");
      snap_around (image, &truth, 1, 20, &rng, errors);
    }
  g_test_message ("walk joints: %u of 120 snaps, median %.3f px", errors->len, middle_of (errors));
  g_assert_cmpuint (errors->len, >=, 55);
  g_assert_cmpfloat (middle_of (errors), <=, 0.3);
  g_assert_cmpuint (snaps_in (image, &sky, &rng), ==, 0);
  g_assert_cmpuint (snaps_in (image, &lawn, &rng), <=, 4);
}

static char *
demo_path (const char *name)
{
  return g_test_build_filename (G_TEST_DIST, "..", "data", "demo", name, NULL);
}

/* The demo's photo, whose truth comes from the scene's own definition. Where two bricks meet, the
 * middle of their joint and the corners of both are a few pixels apart; either may be meant. */
static void
test_demo (void)
{
  g_autofree char *jpeg = demo_path ("harbour-lane.jpg");
  g_autofree char *json = demo_path ("harbour-lane.truth.json");
  g_autoptr (BlImage) image = decode (jpeg);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GHashTable) at = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GArray) joints = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) bricks = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GError) error = NULL;
  BlRng rng = bl_rng (6);
  JsonObject *root;
  JsonArray *points;
  guint n_bricks = 0;

  json_parser_load_from_file (parser, json, &error);
  g_assert_no_error (error);
  root = json_node_get_object (json_parser_get_root (parser));
  points = json_object_get_array_member (root, "points");
  for (guint i = 0; i < json_array_get_length (points); i++)
    {
      JsonObject *point = json_array_get_object_element (points, i);
      const char *name = json_object_get_string_member (point, "name");
      BlPoint truth = shared_pair (point, "px_2016x1512");

      if (json_object_get_boolean_member (point, "seen"))
        g_hash_table_insert (at, g_strdup (name), g_memdup2 (&truth, sizeof truth));
      if (g_str_has_prefix (name, "walk_joint_"))
        snap_around (image, &truth, 1, 10, &rng, joints);
    }
  for (guint i = 1; i < 227; i++)
    {
      g_autofree char *bed = g_strdup_printf ("bed_%03u", i);
      g_autofree char *end = g_strdup_printf ("brick_%03u_end", i - 1);
      g_autofree char *start = g_strdup_printf ("brick_%03u_start", i);
      g_autofree char *next = g_strdup_printf ("brick_%03u_end", i);
      const BlPoint *seen[4] = { g_hash_table_lookup (at, bed), g_hash_table_lookup (at, end),
                                 g_hash_table_lookup (at, start), g_hash_table_lookup (at, next) };

      if (!seen[0] || !seen[1] || !seen[2] || !seen[3] || bl_dist (*seen[2], *seen[3]) < 16.0)
        continue;
      n_bricks++;
      snap_around (image, (BlPoint[3]) { *seen[0], *seen[1], *seen[2] }, 3, 2, &rng, bricks);
    }
  g_test_message ("walk joints: %u of 160 snaps, median %.3f px", joints->len, middle_of (joints));
  g_test_message ("bricks: %u of %u snaps, median %.3f px", bricks->len, 2 * n_bricks,
                  middle_of (bricks));
  g_assert_cmpuint (joints->len, >, 90);
  g_assert_cmpfloat (middle_of (joints), <, 1.6);
  g_assert_cmpuint (bricks->len, >, 3 * n_bricks / 4);
  g_assert_cmpfloat (middle_of (bricks), <, 1.6);
}

/* Where there is nothing in the demo's photo: sky, lawn, the bed's soil, asphalt. */
static void
test_demo_nothing (void)
{
  static const struct
  {
    const char *name;
    BlRect where;
    guint most; /* of 100 */
  } PLACES[] = { { "sky", { 1150, 20, 1600, 120 }, 0 },
                 { "lawn", { 60, 1310, 1130, 1490 }, 4 },
                 { "soil", { 500, 950, 1000, 1150 }, 7 },
                 { "asphalt", { 1520, 1180, 1980, 1260 }, 1 } };
  g_autofree char *jpeg = demo_path ("harbour-lane.jpg");
  g_autoptr (BlImage) image = decode (jpeg);
  BlRng rng = bl_rng (7);

  for (guint i = 0; i < G_N_ELEMENTS (PLACES); i++)
    {
      guint n = snaps_in (image, &PLACES[i].where, &rng);

      g_test_message ("%s: %u of 100 starts find a corner", PLACES[i].name, n);
      g_assert_cmpuint (n, <=, PLACES[i].most);
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
  g_test_add_func ("/photo/snap/demo", test_demo);
  g_test_add_func ("/photo/snap/demo-nothing", test_demo_nothing);
  return g_test_run ();
}
