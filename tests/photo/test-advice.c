/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The advice on further measurements keeps what it promises. */
#include "photo/advice.h"
#include "yard-fixture.h"

#define FT 0.3048

typedef struct
{
  Yard yard;
  YardDraw draw;
  BlRng rng;
  BlSolution *solution;
  BlOutline *bed;
  BlAdviceList *list;
} Scene;

static void
begin (Scene   *scene,
       gboolean stakes)
{
  g_autoptr (GError) error = NULL;

  scene->rng = bl_rng (3);
  yard_init (&scene->yard, 4032, 3024);
  yard_draw_begin (&scene->draw, &scene->yard, &scene->rng, 1.0, FALSE);
  if (stakes)
    for (int i = 0; i < 4; i++)
      yard_add_position (&scene->draw, BL_POINT (i == 0 || i == 3 ? -4.2 : 1.2, i < 2 ? 3.0 : 6.2));
  else
    yard_add_rectangle (&scene->draw, BL_POINT (3 * FT, 11 * FT), 4 * FT, 10 * FT, 0.0);
  scene->bed = yard_click_bed (&scene->draw);
  scene->solution = bl_solve_camera (&scene->draw.prior, scene->draw.knowns, &error);
  g_assert_no_error (error);
  scene->list = bl_advise (&scene->solution->camera, scene->draw.knowns, scene->bed, 1.0, &error);
  g_assert_no_error (error);
}

static void
end (Scene *scene)
{
  bl_solution_free (scene->solution);
  bl_outline_free (scene->bed);
  bl_advice_list_free (scene->list);
  yard_draw_end (&scene->draw);
}

/* Doing what the first advice with a tape says brings the stated interval to what it promised. */
static void
test_promise (void)
{
  g_autoptr (BlSolution) after = NULL;
  g_autoptr (GError) error = NULL;
  BlMeasured area, perimeter;
  const BlAdvice *tape = NULL;
  BlKnown *known;
  BlPoint a, b;
  Scene scene;

  begin (&scene, FALSE);
  for (guint i = 0; i < scene.list->items->len; i++)
    {
      const BlAdvice *advice = &g_array_index (scene.list->items, BlAdvice, i);

      g_test_message ("%s", advice->sentence);
      g_assert_cmpfloat (advice->after, <, scene.list->before);
      if (tape == NULL && advice->kind <= BL_ADVICE_DIAGONAL)
        tape = advice;
      if (i > 0)
        g_assert_cmpfloat (advice->after, >=, (advice - 1)->after);
    }
  g_assert_nonnull (tape);
  g_assert_true (bl_camera_to_ground (&scene.draw.camera, tape->px[0], &a));
  g_assert_true (bl_camera_to_ground (&scene.draw.camera, tape->px[1], &b));
  known = bl_known_new (BL_KNOWN_LENGTH);
  bl_points_add (known->px, tape->px[0]);
  bl_points_add (known->px, tape->px[1]);
  known->size[0] = bl_dist (a, b);
  g_ptr_array_add (scene.draw.knowns, known);
  after = bl_solve_camera (&scene.draw.prior, scene.draw.knowns, &error);
  g_assert_no_error (error);
  bl_measure_outline (&after->camera, scene.bed, 1.0, &area, &perimeter, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (area.sd / area.value, tape->after, 0.1 * tape->after);
  end (&scene);
}

/* A walk beside the bed does not enclose it; stakes round it do. */
static void
test_enclosure (void)
{
  Scene scene;

  begin (&scene, FALSE);
  g_assert_cmpfloat (scene.list->outside, >, 0.9);
  g_assert_nonnull (scene.list->enclosure);
  g_test_message ("%s", scene.list->enclosure);
  end (&scene);
  begin (&scene, TRUE);
  g_assert_cmpfloat (scene.list->outside, <, 0.05);
  g_assert_null (scene.list->enclosure);
  end (&scene);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/advice/promise", test_promise);
  g_test_add_func ("/photo/advice/enclosure", test_enclosure);
  return g_test_run ();
}
