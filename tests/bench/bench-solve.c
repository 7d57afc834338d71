/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A camera of twenty knowns and of two hundred, and the area of an outline with its interval, beside
 * floors measured in the same run. */
#include "bench.h"
#include "photo/yard-fixture.h"

#define POINTS 10000 /* a solve of twenty knowns carries some 6,000 clicks to the ground, by callgrind's count */

/* The floor: projecting a ground point, about as often as a solve carries one click to the ground. */
static void
project (gpointer data)
{
  const BlCamera *camera = data;
  volatile double sum = 0.0;
  BlPoint px;

  for (int i = 0; i < POINTS; i++)
    if (bl_camera_project (camera, -4.0 + i * 1e-4, 5.0 + i * 1e-4, 0.0, &px))
      sum += px.x;
}

static void
draw_knowns (YardDraw *draw, const Yard *yard, BlRng *rng, guint n)
{
  yard_draw_begin (draw, yard, rng, 1.0, TRUE);
  yard_mixes[yard_n_mixes - 1].build (draw);
  for (guint k = draw->knowns->len; k < n; k++)
    yard_add_length (draw, yard->bed[k % YARD_BED_POINTS],
                     yard->bed[(k + 11 + k / YARD_BED_POINTS) % YARD_BED_POINTS]);
  g_assert_cmpuint (draw->knowns->len, ==, n);
}

/* Mean and worst of some draws, milliseconds. */
static double
solve (const Yard *yard, guint n, guint draws, double *worst)
{
  BlRng rng = bl_rng (1);
  double mean = 0.0;

  for (guint i = 0; i < draws; i++)
    {
      YardDraw draw;
      double start, ms;

      draw_knowns (&draw, yard, &rng, n);
      start = bench_now_ms ();
      bl_solution_free (bl_solve_camera (&draw.prior, draw.knowns, NULL));
      ms = bench_now_ms () - start;
      *worst = MAX (*worst, ms);
      mean += ms / draws;
      yard_draw_end (&draw);
    }
  return mean;
}

typedef struct
{
  const BlCamera *camera;
  BlOutline *outline;
} Area;

static void
measure (gpointer data)
{
  Area *area = data;
  BlMeasured value, around;

  g_assert_true (bl_measure_outline (area->camera, area->outline, 1.5, &value, &around, NULL));
}

static void
carry (gpointer data)
{
  Area *area = data;

  bl_outline_free (bl_outline_to_ground (area->camera, area->outline, NULL));
}

/* A traced ring of @n points on the ground before the camera. */
static BlOutline *
ring (const Yard *yard, guint n)
{
  BlOutline *outline = bl_outline_new ();

  for (guint i = 0; i < n; i++)
    {
      double t = 2 * G_PI * i / n;
      BlPoint px;

      g_assert_true (bl_camera_project (&yard->camera, yard->bed[0].x + cos (t),
                                        yard->bed[0].y + 0.8 * sin (t), 0, &px));
      bl_outline_insert (outline, i, px);
    }
  return outline;
}

static void
of_area (const Yard *yard, const BlCamera *camera)
{
  Area one = { camera, ring (yard, 28) }, ten = { camera, ring (yard, 280) };

  bench_row ("area with its interval", bench_fastest_ms (measure, &one, 9),
             bench_fastest_ms (carry, &one, 9), bench_fastest_ms (measure, &ten, 3),
             "28 and 280 points; floor: the outline carried to the ground");
  bl_outline_free (one.outline);
  bl_outline_free (ten.outline);
}

int
main (void)
{
  double worst = 0.0, slowest = 0.0, mean, grown;
  BlSolution *solution;
  BlRng rng = bl_rng (1);
  YardDraw draw;
  Yard yard;

  yard_init (&yard, 4032, 3024);
  mean = solve (&yard, 20, 100, &worst);
  grown = solve (&yard, 200, 5, &slowest);
  bench_row ("camera of 20 knowns", mean, bench_fastest_ms (project, &yard.camera, 9), grown,
             "mean of 100; floor: 10,000 points projected, for some 6,000 clicks that a solve carries to the ground");
  draw_knowns (&draw, &yard, &rng, 20);
  solution = bl_solve_camera (&draw.prior, draw.knowns, NULL);
  of_area (&yard, &solution->camera);
  bl_solution_free (solution);
  yard_draw_end (&draw);
  printf ("worst of 100: %.2f ms\n", worst);
  return 0;
}
