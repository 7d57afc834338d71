/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A camera of twenty knowns against a floor measured in the same run. */
#include "photo/yard-fixture.h"

#include <stdio.h>

/* The floor: projecting a ground point, a million times. */
static double
floor_ns (const BlCamera *camera)
{
  gint64 start = g_get_monotonic_time ();
  double sum = 0.0;
  BlPoint px;

  for (int i = 0; i < 1000000; i++)
    if (bl_camera_project (camera, -4.0 + i * 1e-6, 5.0 + i * 1e-6, 0.0, &px))
      sum += px.x;
  /* Used, so that the loop stays. */
  if (sum == 1.0)
    printf ("#\n");
  return (double) (g_get_monotonic_time () - start) / 1000.0;
}

int
main (void)
{
  const double most_ms = 50.0;
  double worst = 0.0, mean = 0.0, floor;
  BlRng rng = bl_rng (1);
  Yard yard;

  yard_init (&yard, 4032, 3024);
  floor = floor_ns (&yard.camera);
  for (int i = 0; i < 100; i++)
    {
      YardDraw draw;
      gint64 start;
      double ms;

      yard_draw_begin (&draw, &yard, &rng, 1.0, TRUE);
      yard_mixes[yard_n_mixes - 1].build (&draw);
      for (guint k = draw.knowns->len; k < 20; k++)
        yard_add_length (&draw, yard.bed[k], yard.bed[(k + 11) % YARD_BED_POINTS]);
      g_assert_cmpuint (draw.knowns->len, ==, 20);
      start = g_get_monotonic_time ();
      bl_solution_free (bl_solve_camera (&draw.prior, draw.knowns, NULL));
      ms = (double) (g_get_monotonic_time () - start) / 1000.0;
      worst = MAX (worst, ms);
      mean += ms / 100.0;
      yard_draw_end (&draw);
    }
  printf ("solve of 20 knowns: mean %.2f ms, worst %.2f ms (bound %.0f ms); one projection %.1f ns, "
          "so %.0f projections a solve\n", mean, worst, most_ms, floor, mean * 1e6 / floor);
  return mean < most_ms ? 0 : 1;
}
