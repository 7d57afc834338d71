/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of knowns that are too few, degenerate or contradict one another. */
#include "photo/solve.h"
#include "yard-fixture.h"

#include "base/error.h"

#include <string.h>

#define FT 0.3048

/* Sets that cannot be answered, or should not be; each has its sentence. */
typedef struct
{
  const char *name;
  void (*build) (YardDraw *draw);
  const char *says;     /* part of the sentence */
  gboolean warns;       /* a message with an answer, instead of none */
} Bad;

static BlKnown *
last (YardDraw *draw)
{
  return g_ptr_array_index (draw->knowns, draw->knowns->len - 1);
}

static void
add_walk (YardDraw *draw)
{
  yard_add_rectangle (draw, BL_POINT (3 * FT, 11 * FT), 4 * FT, 10 * FT, 0.0);
}

static void
build_nothing (YardDraw *draw)
{
}

static void
build_no_scale (YardDraw *draw)
{
  yard_add_horizon (draw);
  yard_add_right_angle (draw, BL_POINT (1, 6), BL_POINT (1, 4), BL_POINT (-2, 4));
}

static void
build_one_length (YardDraw *draw)
{
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (1, 4));
}

static void
build_collinear_corners (YardDraw *draw)
{
  add_walk (draw);
  for (int i = 0; i < 4; i++)
    bl_points_at (last (draw)->px, i) = BL_POINT (1000 + 300 * i, 2000 + 50 * i);
}

static void
build_collinear_positions (YardDraw *draw)
{
  for (int i = 0; i < 4; i++)
    yard_add_position (draw, BL_POINT (-3 + i, 4));
}

static void
build_crossed (YardDraw *draw)
{
  BlPoint t;

  add_walk (draw);
  t = bl_points_at (last (draw)->px, 2);
  bl_points_at (last (draw)->px, 2) = bl_points_at (last (draw)->px, 3);
  bl_points_at (last (draw)->px, 3) = t;
}

static void
build_low_horizon (YardDraw *draw)
{
  add_walk (draw);
  yard_add_horizon (draw);
  bl_points_at (last (draw)->px, 0).y = bl_points_at (last (draw)->px, 1).y = 2200;
}

static void
swap_sides (BlKnown *known)
{
  double t = known->size[0];

  known->size[0] = known->size[1];
  known->size[1] = t;
}

static void
build_swapped (YardDraw *draw)
{
  add_walk (draw);
  swap_sides (last (draw));
}

static void
build_swapped_no_focal (YardDraw *draw)
{
  draw->prior.focal_35mm = 0.0;
  build_swapped (draw);
}

static void
build_swapped_among (YardDraw *draw)
{
  build_swapped (draw);
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (1, 4));
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (-2, 6));
}

static void
build_ten_times (YardDraw *draw)
{
  add_walk (draw);
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (1, 4));
  last (draw)->size[0] *= 10.0;
}

static void
build_ten_times_among (YardDraw *draw)
{
  build_ten_times (draw);
  last (draw)->name = g_strdup ("kerb");
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (-2, 6));
  yard_add_height (draw, BL_POINT (2.6, 5.6), 2.1);
}

static void
build_feet_for_metres (YardDraw *draw)
{
  add_walk (draw);
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (1, 4));
  last (draw)->size[0] /= FT;
}

static void
build_wrong_focal (YardDraw *draw)
{
  draw->prior.focal_35mm = 52.0;
  add_walk (draw);
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (1, 4));
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (-2, 6));
  yard_add_length (draw, BL_POINT (-3, 6), BL_POINT (1, 6));
}

static void
build_same_spot (YardDraw *draw)
{
  add_walk (draw);
  yard_add_length (draw, BL_POINT (-3, 4), BL_POINT (1, 4));
  bl_points_at (last (draw)->px, 1) = bl_points_at (last (draw)->px, 0);
}

static void
build_nan (YardDraw *draw)
{
  add_walk (draw);
  last (draw)->size[0] = NAN;
}

static void
build_outside (YardDraw *draw)
{
  add_walk (draw);
  bl_points_at (last (draw)->px, 1) = BL_POINT (50000, 100);
}

static void
build_two_planes (YardDraw *draw)
{
  /* The far part lies 0.25 m lower: what is seen there is nearer the lens by that part. */
  for (int i = 0; i < 3; i++)
    {
      yard_add_rectangle (draw, BL_POINT (-3.5 + 1.5 * i, 3.2), 1.0, 1.0, 0.0);
      draw->camera.eye += 0.25;
      yard_add_rectangle (draw, BL_POINT (-4.0 + 3.0 * i, 7.5), 1.5, 1.5, 0.0);
      draw->camera.eye -= 0.25;
    }
}

static const Bad bad[] = {
  { "nothing", build_nothing, "Nothing is known", FALSE },
  { "no scale", build_no_scale, "leave the camera's height open", FALSE },
  { "one length", build_one_length, "leave the camera's tilt open", FALSE },
  { "collinear corners", build_collinear_corners, "on one line", FALSE },
  { "collinear positions", build_collinear_positions, "on one line", FALSE },
  { "corners out of order", build_crossed, "out of order", FALSE },
  { "horizon below", build_low_horizon, "at or above the horizon", FALSE },
  { "swapped sides", build_swapped, "look swapped", FALSE },
  { "swapped sides, no focal length", build_swapped_no_focal, "look swapped", FALSE },
  { "swapped sides among others", build_swapped_among, "look swapped", FALSE },
  { "ten times too long", build_ten_times, "ten times", FALSE },
  { "ten times among others", build_ten_times_among, "\"kerb\" does not agree", FALSE },
  { "feet for metres", build_feet_for_metres, "feet to metres", FALSE },
  { "wrong focal length", build_wrong_focal, "focal length from the photo's metadata", FALSE },
  { "same spot", build_same_spot, "on the same spot", FALSE },
  { "not a number", build_nan, "greater than nothing", FALSE },
  { "outside", build_outside, "outside the photo", FALSE },
  { "two levels of ground", build_two_planes, "two levels", TRUE },
};

/* Lengths are in the person's unit and no other. */
static void
assert_units (const char *said,
              BlUnits     units)
{
  g_assert_false (g_regex_match_simple (units == BL_UNITS_METRES ? "[0-9] ft\\b" : "[0-9] m\\b", said, 0,
                                        0));
}

static void
test_bad (void)
{
  Yard yard;

  yard_init (&yard, 4032, 3024);
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    for (guint seed = 0; seed < 3; seed++)
      {
        g_autoptr (BlSolution) solution = NULL;
        g_autoptr (GError) error = NULL;
        BlRng rng = bl_rng (seed);
        const char *said;
        YardDraw draw;

        yard_draw_begin (&draw, &yard, &rng, 1.0, FALSE);
        draw.prior.units = seed == 1 ? BL_UNITS_METRES : BL_UNITS_FEET;
        bad[i].build (&draw);
        solution = bl_solve_camera (&draw.prior, draw.knowns, &error);
        said = error != NULL ? error->message : solution->message;
        if (seed == 0)
          g_test_message ("%s: %s", bad[i].name, said);
        g_assert_true ((solution != NULL) == bad[i].warns);
        g_assert_nonnull (said);
        if (strstr (said, bad[i].says) == NULL)
          g_error ("%s (%u): %s", bad[i].name, seed, said);
        g_assert_true (g_str_has_suffix (said, "."));
        assert_units (said, draw.prior.units);
        yard_draw_end (&draw);
      }
}

/* A small disagreement is answered, and pointed at. */
static void
test_pointing (void)
{
  g_autoptr (BlSolution) solution = NULL;
  g_autoptr (GError) error = NULL;
  BlRng rng = bl_rng (9);
  YardDraw draw;
  Yard yard;

  yard_init (&yard, 4032, 3024);
  yard_draw_begin (&draw, &yard, &rng, 1.0, FALSE);
  add_walk (&draw);
  yard_add_length (&draw, BL_POINT (-3, 4), BL_POINT (1, 4));
  last (&draw)->size[0] += 0.12;
  last (&draw)->id = 77;
  yard_add_length (&draw, BL_POINT (-3, 4), BL_POINT (-2, 6));
  yard_add_length (&draw, BL_POINT (-3, 6), BL_POINT (0, 6));
  yard_add_height (&draw, BL_POINT (2.6, 5.6), 2.1);
  solution = bl_solve_camera (&draw.prior, draw.knowns, &error);
  g_assert_no_error (error);
  g_assert_cmpint (solution->worst, >=, 0);
  g_assert_cmpint (g_array_index (solution->residuals, BlKnownResidual, solution->worst).known_id, ==,
                   77);
  g_assert_nonnull (solution->message);
  g_test_message ("%s", solution->message);
  yard_draw_end (&draw);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/judge/bad-sets", test_bad);
  g_test_add_func ("/photo/judge/pointing", test_pointing);
  return g_test_run ();
}
