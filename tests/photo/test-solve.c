/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The camera from many mixes of knowns, and its intervals. */
#include "photo/solve.h"
#include "shared-fixture.h"
#include "yard-fixture.h"

#include "base/error.h"
#include "geometry/polygon.h"
#include "photo/measure-private.h"

#include <stdlib.h>

#define FT 0.3048

/* Stated intervals hold the truth as often as they say, for every mix of knowns. A hundred and
 * twenty draws scatter by 2 %; the long run is in the slow suite. */
static void
test_intervals (void)
{
  for (guint m = 0; m < yard_n_mixes; m++)
    {
      YardResult r = yard_monte_carlo (&yard_mixes[m], 120, 1.0, TRUE, 100 + m);

      g_test_message ("%s: rms %.2f %%, stated %.2f %%, inside %.1f %%", yard_mixes[m].name,
                      100 * r.rms, 100 * r.sd, 100 * r.covered);
      g_assert_cmpuint (r.failed, ==, 0);
      g_assert_cmpfloat (r.covered, >=, 0.89);
    }
}

typedef struct
{
  BlPoint plan[128], px[128]; /* the bed; pixels at 4032 × 3024 */
  guint n;
  double area;
  BlCamera camera;
} Rendered;

/* The rendered yard with its exact truth. */
static gboolean
load_rendered (Rendered *yard)
{
  g_autoptr (JsonParser) parser = NULL;
  JsonObject *root = shared_json ("yard/yard_a.truth.json", &parser);
  JsonArray *points;

  if (root == NULL)
    return FALSE;
  points = json_object_get_array_member (root, "points");
  yard->n = 0;
  for (guint i = 0; i < json_array_get_length (points); i++)
    {
      JsonObject *p = json_array_get_object_element (points, i);

      if (g_strcmp0 (json_object_get_string_member (p, "kind"), "bed") != 0)
        continue;
      yard->plan[yard->n] = shared_pair (p, "metres");
      yard->px[yard->n++] = bl_mul (shared_pair (p, "px_1600x1200"), 4032.0 / 1600.0);
    }
  yard->area = json_object_get_double_member (json_object_get_object_member (root, "bed"), "area_m2");
  bl_camera_init (&yard->camera, 4032, 3024);
  yard->camera.eye = 1.5;
  yard->camera.pitch = 10.0 * G_PI / 180.0;
  yard->camera.heading = 37.0 * G_PI / 180.0;
  yard->camera.x = -4.7244;
  yard->camera.y = 0.67056;
  return TRUE;
}

/* Our camera is the renderer's: every truth point to 0.01 px. */
static void
test_rendered_camera (void)
{
  g_autofree Rendered *yard = g_new0 (Rendered, 1);
  BlPoint px;

  if (!load_rendered (yard))
    return;
  for (guint i = 0; i < yard->n; i++)
    {
      g_assert_true (bl_camera_project (&yard->camera, yard->plan[i].x, yard->plan[i].y, 0.0, &px));
      g_assert_cmpfloat (bl_dist (px, yard->px[i]), <, 0.01);
    }
}

static BlPoint
shake (BlPoint p,
       BlRng  *rng)
{
  p.x += bl_rng_normal (rng);
  p.y += bl_rng_normal (rng);
  return p;
}

static BlKnown *
exact_known (const Rendered *yard,
             BlKnownKind     kind,
             const BlPoint  *at,
             guint           n,
             BlRng          *rng)
{
  BlKnown *known = bl_known_new (kind);

  for (guint i = 0; i < n; i++)
    {
      BlPoint px;

      g_assert_true (bl_camera_project (&yard->camera, at[i].x, at[i].y, 0.0, &px));
      bl_points_add (known->px, shake (px, rng));
    }
  return known;
}

static int
compare_double (const void *a,
                const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* Area errors, relative, and post height errors of many draws with clicks of 1 px. */
static void
measure_rendered (const Rendered *yard,
                  gboolean        two_more,
                  double         *rms,
                  double         *p95,
                  double         *post)
{
  static const BlPoint panel[4] = { { 0.9144, 3.3528 }, { 2.1336, 3.3528 }, { 2.1336, 6.4008 },
                                    { 0.9144, 6.4008 } };
  BlRng rng = bl_rng (42);
  double errors[200];

  *rms = *post = 0.0;
  for (guint i = 0; i < G_N_ELEMENTS (errors); i++)
    {
      g_autoptr (GPtrArray) knowns = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_known_free);
      g_autoptr (BlOutline) bed = bl_outline_new ();
      g_autoptr (BlSolution) solution = NULL;
      g_autoptr (GError) error = NULL;
      BlPhotoPrior prior = { .width = 4032, .height = 3024, .focal_35mm = 26.0, .click_px = 1.0 };
      BlKnown *walk = exact_known (yard, BL_KNOWN_RECTANGLE, panel, 4, &rng);
      BlMeasured area, perimeter, height;
      BlPoint base, top;

      walk->size[0] = 4 * FT;
      walk->size[1] = 10 * FT;
      g_ptr_array_add (knowns, walk);
      for (int k = 0; k < 2 && two_more; k++)
        {
          BlPoint ends[2] = { yard->plan[k == 0 ? 0 : 30], yard->plan[k == 0 ? 49 : 69] };
          BlKnown *length = exact_known (yard, BL_KNOWN_LENGTH, ends, 2, &rng);

          length->size[0] = bl_dist (ends[0], ends[1]);
          g_ptr_array_add (knowns, length);
        }
      solution = bl_solve_camera (&prior, knowns, &error);
      g_assert_no_error (error);
      for (guint k = 0; k < yard->n; k++)
        bl_outline_insert (bed, k, shake (yard->px[k], &rng));
      bed->straight = TRUE;
      bl_measure_outline (&solution->camera, bed, 1.0, &area, &perimeter, &error);
      g_assert_no_error (error);
      errors[i] = fabs (area.value / yard->area - 1.0);
      *rms += errors[i] * errors[i] / G_N_ELEMENTS (errors);
      bl_camera_project (&yard->camera, 2.62128, 5.6388, 0.0, &base);
      bl_camera_project (&yard->camera, 2.62128, 5.6388, 7 * FT, &top);
      bl_measure_height (&solution->camera, shake (base, &rng), shake (top, &rng), 1.0, &height, &error);
      g_assert_no_error (error);
      *post = MAX (*post, fabs (height.value - 7 * FT));
    }
  *rms = sqrt (*rms);
  qsort (errors, G_N_ELEMENTS (errors), sizeof *errors, compare_double);
  *p95 = errors[(guint) (0.95 * G_N_ELEMENTS (errors))];
}

static void
test_rendered_walk (void)
{
  g_autofree Rendered *yard = g_new0 (Rendered, 1);
  double rms, p95, post;

  if (!load_rendered (yard))
    return;
  measure_rendered (yard, FALSE, &rms, &p95, &post);
  g_test_message ("one piece of walk: rms %.2f %%, 95th percentile %.2f %%, post within %.3f m",
                  100 * rms, 100 * p95, post);
  g_assert_cmpfloat (rms, <=, 0.010);
  g_assert_cmpfloat (p95, <=, 0.020);
  g_assert_cmpfloat (post, <=, 0.05);
  measure_rendered (yard, TRUE, &rms, &p95, &post);
  g_test_message ("and two more: rms %.2f %%, 95th percentile %.2f %%, post within %.3f m", 100 * rms,
                  100 * p95, post);
  g_assert_cmpfloat (rms, <=, 0.006);
  g_assert_cmpfloat (post, <=, 0.05);
}

/* Without clicks' error the very camera comes back. */
static void
test_exact (void)
{
  g_autoptr (BlSolution) solution = NULL;
  g_autoptr (GError) error = NULL;
  BlRng rng = bl_rng (1);
  YardDraw draw;
  Yard yard;

  yard_init (&yard, 4032, 3024);
  yard_draw_begin (&draw, &yard, &rng, 0.0, FALSE);
  draw.prior.click_px = 1.0;
  for (int i = 0; i < 5; i++)
    {
      BlPoint at = yard.bed[5 * i];

      yard_add_position (&draw, at);
      ((BlKnown *) g_ptr_array_index (draw.knowns, i))->size[0] = at.x;
      ((BlKnown *) g_ptr_array_index (draw.knowns, i))->size[1] = at.y;
    }
  solution = bl_solve_camera (&draw.prior, draw.knowns, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (solution->camera.eye, 1.5, 1e-5);
  g_assert_cmpfloat_with_epsilon (solution->camera.pitch, yard.camera.pitch, 1e-6);
  g_assert_cmpfloat_with_epsilon (solution->camera.heading, yard.camera.heading, 1e-6);
  g_assert_cmpfloat_with_epsilon (solution->camera.x, yard.camera.x, 1e-5);
  g_assert_cmpfloat_with_epsilon (solution->camera.y, yard.camera.y, 1e-5);
  g_assert_cmpfloat (solution->chi2, <, 1e-6);
  g_assert_cmpint (solution->worst, ==, -1);
  g_assert_null (solution->message);
  yard_draw_end (&draw);
}

/* Ground that falls: lengths are along the surface and heights upright. */
static void
test_slope (void)
{
  BlRng rng = bl_rng (5);
  BlMeasured length, height;
  g_autoptr (BlSolution) solution = NULL;
  g_autoptr (GError) error = NULL;
  BlPoint a, b, foot, top;
  YardDraw draw;
  Yard yard;

  yard_init (&yard, 4032, 3024);
  yard.camera.slope = 0.1;
  yard.camera.slope_direction = 0.5;
  yard_draw_begin (&draw, &yard, &rng, 0.0, FALSE);
  draw.prior.click_px = 1.0;
  draw.prior.slope = 0.1;
  draw.prior.slope_direction = 0.5 - yard.camera.heading;
  yard_add_rectangle (&draw, BL_POINT (0.9144, 3.3528), 1.2192, 3.048, 0.0);
  ((BlKnown *) g_ptr_array_index (draw.knowns, 0))->size[0] = 1.2192;
  ((BlKnown *) g_ptr_array_index (draw.knowns, 0))->size[1] = 3.048;
  solution = bl_solve_camera (&draw.prior, draw.knowns, &error);
  g_assert_no_error (error);
  bl_camera_project (&draw.camera, -1.0, 4.0, 0.0, &a);
  bl_camera_project (&draw.camera, -1.0, 7.0, 0.0, &b);
  g_assert_true (bl_measure_length (&solution->camera, a, b, 1.0, &length, &error));
  g_assert_cmpfloat_with_epsilon (length.value, 3.0, 0.03);
  bl_camera_project (&draw.camera, 2.6, 5.6, 0.0, &foot);
  bl_camera_project (&draw.camera, 2.6, 5.6, 2.0, &top);
  g_assert_true (bl_measure_height (&solution->camera, foot, top, 1.0, &height, &error));
  g_assert_cmpfloat_with_epsilon (height.value, 2.0, 0.03);
  yard_draw_end (&draw);
}

static void
add_walk (YardDraw *draw)
{
  yard_add_rectangle (draw, BL_POINT (3 * FT, 11 * FT), 4 * FT, 10 * FT, 0.0);
}

/* A tilted photo is not forced level. */
static void
test_tilted (void)
{
  g_autoptr (BlSolution) solution = NULL;
  g_autoptr (GError) error = NULL;
  BlRng rng = bl_rng (4);
  YardDraw draw;
  Yard yard;

  yard_init (&yard, 4032, 3024);
  yard.camera.roll = 25.0 * G_PI / 180.0;
  yard_draw_begin (&draw, &yard, &rng, 1.0, FALSE);
  add_walk (&draw);
  yard_add_length (&draw, BL_POINT (-3, 4), BL_POINT (1, 4));
  solution = bl_solve_camera (&draw.prior, draw.knowns, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (solution->camera.roll, yard.camera.roll, 0.03);
  g_assert_null (solution->message);
  yard_draw_end (&draw);
}

/* The same knowns give the same bytes. */
static void
test_repeatable (void)
{
  g_autoptr (BlSolution) a = NULL, b = NULL;
  BlRng rng = bl_rng (2);
  YardDraw draw;
  Yard yard;

  yard_init (&yard, 4032, 3024);
  yard_draw_begin (&draw, &yard, &rng, 1.0, TRUE);
  yard_mixes[yard_n_mixes - 1].build (&draw);
  a = bl_solve_camera (&draw.prior, draw.knowns, NULL);
  b = bl_solve_camera (&draw.prior, draw.knowns, NULL);
  g_assert_true (bl_camera_equal (&a->camera, &b->camera));
  yard_draw_end (&draw);
}

/* Knowns at random: an answer with finite figures or a sentence, never a crash or a loop. */
static void
test_random (void)
{
  BlRng rng = bl_rng (77);
  guint answered = 0;

  for (int i = 0; i < 400; i++)
    {
      g_autoptr (GPtrArray) knowns = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_known_free);
      g_autoptr (BlSolution) solution = NULL;
      g_autoptr (GError) error = NULL;
      BlPhotoPrior prior = { .width = 4032, .height = 3024 };
      guint n = 1 + bl_rng_int (&rng, 5);

      prior.focal_35mm = bl_rng_int (&rng, 2) == 0 ? 0.0 : bl_rng_range (&rng, 15.0, 80.0);
      for (guint k = 0; k < n; k++)
        {
          BlKnown *known = bl_known_new (bl_rng_int (&rng, BL_KNOWN_N));

          for (guint c = 0; c < bl_known_n_px (known->kind); c++)
            bl_points_add (known->px, BL_POINT (bl_rng_range (&rng, 0, 4032),
                                                bl_rng_range (&rng, 0, 3024)));
          known->size[0] = bl_rng_range (&rng, 0.1, 20.0);
          known->size[1] = bl_rng_range (&rng, 0.1, 20.0);
          g_ptr_array_add (knowns, known);
        }
      solution = bl_solve_camera (&prior, knowns, &error);
      g_assert_true ((solution == NULL) == (error != NULL));
      if (solution == NULL)
        {
          g_assert_true (g_str_has_suffix (error->message, "."));
          continue;
        }
      answered++;
      g_assert_true (isfinite (solution->camera.eye) && isfinite (solution->camera.focal));
      g_assert_true (isfinite (solution->camera.cov[0]) && isfinite (solution->rms_px));
    }
  /* Knowns at random mostly contradict each other; some 30 sets do not. */
  g_assert_cmpuint (answered, >=, 20);
  g_test_message ("%u of 400 answered", answered);
}

/* An outline that reaches the horizon is refused by the number of its point. */
static void
test_outline_horizon (void)
{
  g_autoptr (BlOutline) outline = bl_outline_new ();
  g_autoptr (GError) error = NULL;
  BlMeasured area, perimeter;
  Yard yard;

  yard_init (&yard, 4032, 3024);
  bl_outline_insert (outline, 0, BL_POINT (1000, 2000));
  bl_outline_insert (outline, 1, BL_POINT (3000, 2000));
  bl_outline_insert (outline, 2, BL_POINT (2000, 100));
  g_assert_false (bl_measure_outline (&yard.camera, outline, 1.0, &area, &perimeter, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_UNSOLVED);
  g_assert_nonnull (strstr (error->message, "Point 3"));
}

/* The derivatives that are taken piece by piece are those of the whole line: by moving each click of it
 * and measuring all of it, either way round, open and closed, smooth, cornered and straight. */
static void
test_area_derivatives (void)
{
  Yard yard;
  double pieces[2 * YARD_BED_POINTS], whole[2 * YARD_BED_POINTS];

  yard_init (&yard, 4032, 3024);
  for (guint kind = 0; kind < 16; kind++)
    {
      g_autoptr (BlOutline) line = bl_outline_new ();
      guint n = kind & 8 ? YARD_BED_POINTS : 8;

      for (guint i = 0; i < n; i++)
        {
          BlPoint at = yard.bed[kind & 1 ? n - 1 - i : i], px;

          g_assert_true (bl_camera_project (&yard.camera, at.x, at.y, 0, &px));
          bl_outline_insert (line, i, px);
        }
      line->open = (kind & 2) != 0;
      line->straight = (kind & 4) != 0;
      if (!line->straight)
        bl_outline_set_sharp (line, 3, TRUE);
      g_assert_true (bl_gradient_area (&yard.camera, line, pieces));
      g_assert_true (bl_gradient_clicks (&yard.camera, bl_area_quantity, line->points, line, whole));
      for (guint i = 0; i < 2 * n; i++)
        g_assert_cmpfloat_with_epsilon (pieces[i], whole[i], 1e-8);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/solve/exact", test_exact);
  g_test_add_func ("/photo/solve/intervals", test_intervals);
  g_test_add_func ("/photo/solve/rendered-camera", test_rendered_camera);
  g_test_add_func ("/photo/solve/rendered-walk", test_rendered_walk);
  g_test_add_func ("/photo/solve/slope", test_slope);
  g_test_add_func ("/photo/solve/tilted", test_tilted);
  g_test_add_func ("/photo/solve/repeatable", test_repeatable);
  g_test_add_func ("/photo/solve/random", test_random);
  g_test_add_func ("/photo/solve/area-derivatives", test_area_derivatives);
  g_test_add_func ("/photo/solve/outline-at-the-horizon", test_outline_horizon);
  return g_test_run ();
}
