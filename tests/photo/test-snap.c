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

/* What is not snapped is what the noise would place badly. */
static void
test_drawn_corner (void)
{
  BlRng rng = bl_rng (1);
  double errors[100], median;
  guint n = 0;

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
      if (snap.kind != BL_SNAP_CORNER)
        continue;
      g_assert_cmpfloat (snap.sd, >, 0.0);
      errors[n++] = bl_dist (snap.at, corner.at);
    }
  median = middle (errors, n);
  g_test_message ("drawn corners: %u of 100, median %.3f px, at most %.3f px", n, median,
                  errors[n - 1]);
  g_assert_cmpuint (n, >=, 95);
  g_assert_cmpfloat (median, <, 0.1);
  g_assert_cmpfloat (errors[n - 1], <, 0.6);
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

/* What the starts of one kind came to. */
typedef struct
{
  guint starts;
  GArray *errors;  /* of the snaps to corners, pixels */
  double squares;  /* Σ of those of a meant corner, in units of the stated error */
  guint meant;
} Tally;

static void
tally_clear (Tally *tally)
{
  g_clear_pointer (&tally->errors, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Tally, tally_clear)

#define TALLY { 0, g_array_new (FALSE, FALSE, sizeof (double)), 0.0, 0 }
#define MEANT 1.5 /* pixels; further off another corner or a clod was found */

/* Snaps from @times starts up to 6 px away from @truth; the nearest of @others counts if there are
 * any. */
static void
snap_around (const BlImage  *image,
             BlPoint         truth,
             const BlPoints *others,
             guint           times,
             BlRng          *rng,
             Tally          *tally)
{
  for (guint k = 0; k < times; k++)
    {
      BlSnap snap = bl_snap (&image->levels[0], away (truth, 6.0, rng), 8.0);
      double error = bl_dist (snap.at, truth);

      for (guint i = 0; others != NULL && i < others->len; i++)
        error = MIN (error, bl_dist (snap.at, bl_points_at (others, i)));
      tally->starts++;
      if (snap.kind != BL_SNAP_CORNER)
        continue;
      g_array_append_val (tally->errors, error);
      if (error >= MEANT)
        continue;
      tally->meant++;
      tally->squares += 0.5 * error * error / (snap.sd * snap.sd);
    }
}

/* Points whose name begins with @prefix and that are seen, in their order. */
static BlPoints *
points_named (JsonArray  *points,
              const char *prefix,
              const char *px)
{
  BlPoints *found = bl_points_new ();

  for (guint i = 0; i < json_array_get_length (points); i++)
    {
      JsonObject *point = json_array_get_object_element (points, i);

      if (g_str_has_prefix (json_object_get_string_member (point, "name"), prefix)
          && json_object_get_boolean_member (point, "seen"))
        bl_points_add (found, shared_pair (point, px));
    }
  return found;
}

/* Where two bricks of the edge meet on its inner side: the truth is the middle of their joint. Only
 * bricks that are seen 16 px long. */
static void
snap_bricks (const BlImage *image,
             JsonArray     *points,
             const char    *px,
             guint          times,
             BlRng         *rng,
             Tally         *tally)
{
  g_autoptr (BlPoints) bed = points_named (points, "bed_", px);

  for (guint i = 0; i < bed->len; i++)
    {
      BlPoint at = bl_points_at (bed, i), before = bl_points_at (bed, (i + bed->len - 1) % bed->len);
      BlPoint after = bl_points_at (bed, (i + 1) % bed->len);

      if (MIN (bl_dist (at, before), bl_dist (at, after)) >= 16.0)
        snap_around (image, at, bed, times, rng, tally);
    }
}

static double
report (const char *name,
        Tally      *tally)
{
  double median = middle ((double *) (void *) tally->errors->data, tally->errors->len);

  g_test_message ("%s: %u of %u starts snap, median %.3f px, %u within %.1f px, "
                  "error to what is stated %.2f", name, tally->errors->len, tally->starts, median,
                  tally->meant, MEANT, sqrt (tally->squares / MAX (tally->meant, 1)));
  return median;
}

/* Of 100 starts in each place, those that find a corner or an edge where there is nothing. */
typedef struct
{
  const char *name;
  BlRect where;
  guint corners, edges; /* at most */
} Nothing;

static void
check_nothing (const BlImage *image,
               const Nothing *places,
               guint          n,
               BlRng         *rng)
{
  for (guint i = 0; i < n; i++)
    {
      guint found[BL_SNAP_CORNER + 1] = { 0 };

      for (int k = 0; k < 100; k++)
        {
          BlPoint start = BL_POINT (bl_rng_range (rng, places[i].where.x0, places[i].where.x1),
                                    bl_rng_range (rng, places[i].where.y0, places[i].where.y1));

          found[bl_snap (&image->levels[0], start, 8.0).kind]++;
        }
      g_test_message ("%s: of 100 starts %u find a corner, %u an edge", places[i].name,
                      found[BL_SNAP_CORNER], found[BL_SNAP_EDGE]);
      g_assert_cmpuint (found[BL_SNAP_CORNER], <=, places[i].corners);
      g_assert_cmpuint (found[BL_SNAP_EDGE], <=, places[i].edges);
    }
}

/* The rendered yard of the shared data, whose truth comes from its scene. Three of the walk's six
 * joints meet its edge where the picture shows it; at the others grass or a joint fainter than the
 * concrete's grain leave nothing to find. Of the bricks on the far side their inner faces are seen
 * too, and the photo keeps colour only at half its size, so that few of them are sure enough. */
static void
test_yard (void)
{
  static const Nothing NOTHING[] = { { "sky", { 1100, 20, 1500, 70 }, 0, 0 },
                                     { "lawn", { 60, 980, 1560, 1180 }, 3, 14 },
                                     { "soil", { 480, 780, 900, 900 }, 4, 5 } };
  g_autoptr (BlImage) image = load ("yard/yard_a.jpg");
  g_autoptr (JsonParser) parser = NULL;
  g_autoptr (BlPoints) ends = NULL;
  g_auto (Tally) joints = TALLY, bricks = TALLY;
  BlRng rng = bl_rng (5);
  JsonArray *points;

  if (image == NULL)
    return;
  points = json_object_get_array_member (shared_json ("yard/yard_a.truth.json", &parser), "points");
  ends = points_named (points, "joint_", "px_1600x1200");
  for (guint i = 0; i < ends->len; i++)
    snap_around (image, bl_points_at (ends, i), NULL, 20, &rng, &joints);
  g_assert_cmpfloat (report ("walk joints", &joints), <=, 0.3);
  g_assert_cmpuint (joints.errors->len, >=, 36);
  g_assert_cmpuint (joints.meant, ==, joints.errors->len);
  snap_bricks (image, points, "px_1600x1200", 20, &rng, &bricks);
  g_assert_cmpfloat (report ("bricks", &bricks), <=, 0.3);
  g_assert_cmpuint (bricks.errors->len, >, 15 * bricks.starts / 100);
  g_assert_cmpuint (bricks.meant, >, 90 * bricks.errors->len / 100);
  g_assert_cmpfloat (sqrt (bricks.squares / bricks.meant), <, 1.3);
  g_assert_cmpfloat (sqrt (bricks.squares / bricks.meant), >, 0.5);
  check_nothing (image, NOTHING, G_N_ELEMENTS (NOTHING), &rng);
}

static char *
demo_path (const char *name)
{
  return g_test_build_filename (G_TEST_DIST, "..", "data", "demo", name, NULL);
}

/* The demo's photo, whose truth comes from the scene's own definition. Of its sixteen walk joints the
 * near five are seen; brick and soil are of nearly one colour. */
static void
test_demo (void)
{
  static const Nothing NOTHING[] = { { "sky", { 1150, 20, 1600, 120 }, 0, 0 },
                                     { "lawn", { 60, 1310, 1130, 1490 }, 3, 16 },
                                     { "soil", { 500, 950, 1000, 1150 }, 4, 5 },
                                     { "asphalt", { 1520, 1180, 1980, 1260 }, 1, 3 } };
  g_autofree char *jpeg = demo_path ("harbour-lane.jpg");
  g_autofree char *json = demo_path ("harbour-lane.truth.json");
  g_autoptr (BlImage) image = decode (jpeg);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_auto (Tally) joints = TALLY, bricks = TALLY;
  g_autoptr (GError) error = NULL;
  BlRng rng = bl_rng (6);
  JsonArray *points;

  json_parser_load_from_file (parser, json, &error);
  g_assert_no_error (error);
  points = json_object_get_array_member (json_node_get_object (json_parser_get_root (parser)),
                                         "points");
  for (int k = 1; k <= 3; k++)
    for (int side = 0; side < 2; side++)
      {
        g_autofree char *name = g_strdup_printf ("walk_joint_%02d_%s_side", k,
                                                 side == 0 ? "bed" : "library");
        g_autoptr (BlPoints) end = points_named (points, name, "px_2016x1512");

        snap_around (image, bl_points_at (end, 0), NULL, 10, &rng, &joints);
      }
  g_assert_cmpfloat (report ("near walk joints", &joints), <, 0.3);
  g_assert_cmpuint (joints.errors->len, >, joints.starts / 8);
  snap_bricks (image, points, "px_2016x1512", 3, &rng, &bricks);
  g_assert_cmpfloat (report ("bricks", &bricks), <, 0.7);
  g_assert_cmpuint (bricks.errors->len, >, bricks.starts / 100);
  check_nothing (image, NOTHING, G_N_ELEMENTS (NOTHING), &rng);
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
  return g_test_run ();
}
