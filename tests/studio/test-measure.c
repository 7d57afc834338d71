/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measuring in the studio, tried without a display: points snap to a slab's true corners, are nudged
 * and dragged, and what follows is said in words. */

#include "config.h"

#include "studio/hand.h"
#include "studio/known-words.h"
#include "studio/trial.h"
#include "tests/studio/measure-fixture.h"

#include <locale.h>
#include <stdio.h>
#include <string.h>

/* Clicks up to 4 px beside each corner. */
static void
test_snap (Fixture *f, gconstpointer data)
{
  static const double off[4][2] = { { 2, 1.5 }, { -2, 3 }, { -1, -3.5 }, { 3, -2 } };
  const BlKnown *known;

  bl_board_set_known_kind (f->board, BL_KNOWN_RECTANGLE);
  take (f, "known");
  for (int i = 0; i < 4; i++)
    {
      click (f, slab[i][0] + off[i][0], slab[i][1] + off[i][1], 0);
      g_assert_cmpint (f->hand->aim.kind, ==, BL_SNAP_CORNER);
    }
  known = bl_board_get_pending (f->board);
  g_assert_nonnull (known);
  /* The requirement on snapping: 0.3 px from starts up to 6 px away. */
  for (guint i = 0; i < 4; i++)
    g_assert_cmpfloat (bl_dist (bl_points_at (known->px, i), BL_POINT (slab[i][0], slab[i][1])), <,
                       0.3);
  /* Four corners found in the photo are surer than the usual click where that is coarser. */
  g_assert_cmpfloat (known->click_px, >=, 0.3);
}

/* On an edge a point moves across it; on nothing it stays. */
static void
test_edge (Fixture *f, gconstpointer data)
{
  BlPoint a = BL_POINT (slab[3][0], slab[3][1]), b = BL_POINT (slab[2][0], slab[2][1]);
  BlPoint on = bl_lerp (a, b, 0.5);

  bl_board_set_known_kind (f->board, BL_KNOWN_LENGTH);
  take (f, "known");
  bl_hand_hover (f->hand, event_at (on.x, on.y + 3, 0));
  g_assert_cmpint (f->hand->aim.kind, ==, BL_SNAP_EDGE);
  g_assert_cmpfloat (bl_segment_distance (f->hand->aim.at, a, b, NULL), <, 0.3);
  bl_hand_hover (f->hand, event_at (700, 100, 0));
  g_assert_cmpint (f->hand->aim.kind, ==, BL_SNAP_NONE);
  g_assert_cmpfloat (f->hand->aim.at.x, ==, 700);
}

static void
test_alt_keeps_off (Fixture *f, gconstpointer data)
{
  const BlKnown *pending;

  bl_board_set_known_kind (f->board, BL_KNOWN_LENGTH);
  take (f, "known");
  click (f, corners[0][0] + 2, corners[0][1] + 1.5, BL_MOD_ALT);
  click (f, corners[1][0] - 2, corners[1][1] + 1.5, BL_MOD_ALT);
  pending = bl_board_get_pending (f->board);
  g_assert_nonnull (pending);
  g_assert_cmpfloat (bl_points_at (pending->px, 0).x, ==, corners[0][0] + 2);
  g_assert_cmpfloat (bl_points_at (pending->px, 1).y, ==, corners[1][1] + 1.5);
  g_assert_true (pending->click_px == 0 || pending->click_px >= bl_board_click_px (f->board));
}

static void
test_nudge (Fixture *f, gconstpointer data)
{
  const BlKnown *pending;
  g_autoptr (BlMarks) marks = bl_marks_new ();

  bl_board_set_known_kind (f->board, BL_KNOWN_LENGTH);
  take (f, "known");
  g_assert_false (bl_hand_nudge (f->hand, BL_POINT (0.1, 0)));
  click (f, 600, 700, BL_MOD_ALT);
  g_assert_true (bl_hand_nudge (f->hand, BL_POINT (0.1, 0)));
  g_assert_true (bl_hand_nudge (f->hand, BL_POINT (0, -1)));
  bl_hand_marks (f->hand, marks);
  click (f, 700, 720, BL_MOD_ALT);
  pending = bl_board_get_pending (f->board);
  g_assert_cmpfloat_with_epsilon (bl_points_at (pending->px, 0).x, 600.1, 1e-9);
  g_assert_cmpfloat_with_epsilon (bl_points_at (pending->px, 0).y, 699, 1e-9);
}

static void
test_check_line (Fixture *f, gconstpointer data)
{
  const BlKnown *check;
  g_autofree char *words = NULL;
  BlMeasured length;

  state_rectangle (f);
  bl_board_set_known_kind (f->board, BL_KNOWN_CHECK);
  take (f, "known");
  /* Drawn in one go, from end to end. */
  drag (f, kerb[0][0], kerb[0][1], kerb[1][0], kerb[1][1]);
  g_assert_cmpuint (model_of (f)->knowns->len, ==, 2);
  check = last_known (f);
  g_assert_cmpint (check->kind, ==, BL_KNOWN_CHECK);
  g_assert_true (bl_measure_length (bl_model_camera (model_of (f)), bl_points_at (check->px, 0),
                                    bl_points_at (check->px, 1), bl_board_click_px (f->board),
                                    &length, NULL));
  /* The kerb's joints are 3.048 m apart: inside three of its standard deviations. */
  g_assert_cmpfloat (fabs (length.value - 3.048), <, 3 * length.sd);
  words = bl_known_agreement (check, model_of (f)->solution, bl_board_click_px (f->board),
                              BL_UNITS_METRES);
  g_assert_true (g_str_has_suffix (words, " m seen"));
  g_assert_nonnull (strstr (words, " ± "));
}

static void
test_residual_words (Fixture *f, gconstpointer data)
{
  g_autofree char *words = NULL, *focal = NULL, *sizes = NULL;
  const BlKnown *known;
  double stated, seen, sd;

  state_rectangle (f);
  known = last_known (f);
  sizes = bl_known_sizes (known, BL_UNITS_METRES);
  g_assert_cmpstr (sizes, ==, "3.05 m × 1.22 m");
  words = bl_known_agreement (known, model_of (f)->solution, 1, BL_UNITS_METRES);
  g_assert_cmpint (sscanf (words, "long side %lf m stated, %lf m seen, %lf sd", &stated, &seen, &sd),
                   ==, 3);
  g_assert_cmpfloat (stated, ==, 3.048);
  g_assert_cmpfloat_with_epsilon (seen, 3.048, 0.05);
  g_assert_cmpfloat (sd, <, 3);
  focal = bl_focal_agreement (model_of (f)->solution, model_of (f)->photo.focal_35mm);
  g_assert_true ((focal != NULL) == (model_of (f)->photo.focal_35mm > 0));
  g_assert_cmpint (bl_known_worst (model_of (f)->solution), ==, -1);
}

static void
test_drag_resolves (Fixture *f, gconstpointer data)
{
  const BlKnown *known;
  const BlTrial *trial;
  double eye, before;
  BlPoint at;

  state_rectangle (f);
  known = last_known (f);
  at = bl_points_at (known->px, 1);
  eye = model_of (f)->solution->camera.eye;
  take (f, "known");
  bl_hand_press (f->hand, event_at (at.x, at.y, BL_MOD_ALT));
  bl_hand_drag (f->hand, event_at (at.x + 30, at.y, BL_MOD_ALT));
  trial = bl_board_get_trial (f->board);
  g_assert_nonnull (trial);
  g_assert_cmpint (trial->known->id, ==, known->id);
  /* Solved at once, on a copy: the design is as it was. */
  g_assert_true (bl_board_get_solution (f->board) == trial->solution);
  if (trial->solution != NULL)
    g_assert_cmpfloat (fabs (trial->solution->camera.eye - eye), >, 1e-4);
  else
    g_assert_nonnull (trial->problem);
  before = bl_points_at (last_known (f)->px, 1).x;
  g_assert_cmpfloat (before, ==, at.x);
  bl_hand_release (f->hand, event_at (at.x + 30, at.y, BL_MOD_ALT));
  g_assert_null (bl_board_get_trial (f->board));
  g_assert_cmpfloat_with_epsilon (bl_points_at (last_known (f)->px, 1).x, at.x + 30, 1e-9);
  g_assert_cmpuint (model_of (f)->knowns->len, ==, 1);
  g_assert_true (bl_hand_nudge (f->hand, BL_POINT (-0.1, 0)));
  g_assert_nonnull (bl_board_get_trial (f->board));
  bl_hand_rest (f->hand);
  g_assert_null (bl_board_get_trial (f->board));
  g_assert_cmpfloat_with_epsilon (bl_points_at (last_known (f)->px, 1).x, at.x + 29.9, 1e-9);
  g_assert_true (bl_board_undo (f->board));
  g_assert_true (bl_board_undo (f->board));
  g_assert_cmpfloat (bl_points_at (last_known (f)->px, 1).x, ==, at.x);
  /* Given up, nothing is left behind. */
  bl_hand_press (f->hand, event_at (at.x, at.y, BL_MOD_ALT));
  bl_hand_drag (f->hand, event_at (at.x, at.y + 40, BL_MOD_ALT));
  bl_hand_cancel (f->hand);
  g_assert_null (bl_board_get_trial (f->board));
  g_assert_cmpfloat (bl_points_at (last_known (f)->px, 1).y, ==, at.y);
}

/* A line may start at another known's corner without moving it; the selecting hand moves it. */
static void
test_shared_corner (Fixture *f, gconstpointer data)
{
  BlPoint at = BL_POINT (corners[0][0], corners[0][1]);

  state_rectangle (f);
  bl_board_clear_selection (f->board);
  bl_board_set_known_kind (f->board, BL_KNOWN_CHECK);
  take (f, "known");
  bl_hand_press (f->hand, event_at (at.x, at.y, BL_MOD_ALT));
  bl_hand_drag (f->hand, event_at (corners[1][0], corners[1][1], BL_MOD_ALT));
  bl_hand_release (f->hand, event_at (corners[1][0], corners[1][1], BL_MOD_ALT));
  g_assert_cmpuint (model_of (f)->knowns->len, ==, 2);
  g_assert_cmpint (last_known (f)->kind, ==, BL_KNOWN_CHECK);
  g_assert_cmpfloat (bl_points_at (((const BlKnown *) g_ptr_array_index (model_of (f)->knowns, 0))->px,
                                   0).x, ==, at.x);
  bl_board_set_stage (f->board, BL_STAGE_KNOWN);
  bl_board_delete_selection (f->board);
  take (f, "select");
  bl_hand_press (f->hand, event_at (at.x, at.y, BL_MOD_ALT));
  g_assert_true (bl_board_is_selected (f->board, BL_PICK_KNOWN, last_known (f)->id));
  bl_hand_drag (f->hand, event_at (at.x - 5, at.y + 5, BL_MOD_ALT));
  g_assert_nonnull (bl_board_get_trial (f->board));
  bl_hand_release (f->hand, event_at (at.x - 5, at.y + 5, BL_MOD_ALT));
  g_assert_cmpfloat (bl_points_at (last_known (f)->px, 0).x, ==, at.x - 5);
}

static void
test_trace_snaps (Fixture *f, gconstpointer data)
{
  const BlBed *bed;
  double x;

  take (f, "trace");
  for (int i = 0; i < 4; i++)
    click (f, slab[i][0] + 2, slab[i][1] + 1, BL_MOD_SHIFT);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_ENTER));
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  for (guint i = 0; i < 4; i++)
    g_assert_cmpfloat (bl_dist (bl_points_at (bed->outline->points, i),
                                BL_POINT (slab[i][0], slab[i][1])), <, 0.3);
  /* Dragged away and let go near the edge, a point finds it; keys then move it by tenths. */
  take (f, "reshape");
  drag (f, slab[0][0], slab[0][1], slab[1][0] - 2, slab[1][1] + 12);
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  x = bl_points_at (bed->outline->points, 0).x;
  g_assert_true (bl_hand_nudge (f->hand, BL_POINT (0.1, 0)));
  bl_hand_rest (f->hand);
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  g_assert_cmpfloat_with_epsilon (bl_points_at (bed->outline->points, 0).x, x + 0.1, 1e-9);
}

static void
test_straight_and_parallel (Fixture *f, gconstpointer data)
{
  bl_board_set_known_kind (f->board, BL_KNOWN_PARALLEL);
  take (f, "known");
  for (int i = 0; i < 4; i++)
    click (f, corners[i][0], corners[i][1], 0);
  /* Nothing is asked of what has no size. */
  g_assert_null (bl_board_get_pending (f->board));
  g_assert_cmpint (last_known (f)->kind, ==, BL_KNOWN_PARALLEL);
  bl_board_set_known_kind (f->board, BL_KNOWN_STRAIGHT);
  for (int i = 0; i < 3; i++)
    click (f, 300 + 100 * i, 500 + 10 * i, BL_MOD_ALT);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_ENTER));
  g_assert_cmpint (last_known (f)->kind, ==, BL_KNOWN_STRAIGHT);
  g_assert_cmpuint (last_known (f)->px->len, ==, 3);
  /* Shape only: the sentence says what is missing. */
  g_assert_nonnull (model_of (f)->camera_problem);
}

static void
test_fall (void)
{
  static const struct
  {
    const char *text;
    double fall;
  } good[] = { { "", 0 },       { "2 %", 0.02 },    { "2", 0.02 },   { "1 in 50", 0.02 },
               { "1:40", 0.025 }, { "1,5%", 0.015 }, { "0", 0 } };
  static const char *const bad[] = { "steep", "1 in 0", "-2 %", "2 m", "1 in", "200 %", "nan" };
  double fall;

  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_assert_true (bl_fall_parse (good[i].text, &fall));
      g_assert_cmpfloat_with_epsilon (fall, good[i].fall, 1e-12);
    }
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_false (bl_fall_parse (bad[i], &fall));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
#define ADD(path, func) g_test_add ("/studio/measure/" path, Fixture, NULL, set_up, func, tear_down)
#define ADD_SLAB(path, func)                                                                       \
  g_test_add ("/studio/measure/" path, Fixture, slab, set_up, func, tear_down)
  ADD_SLAB ("snap", test_snap);
  ADD_SLAB ("edge", test_edge);
  ADD_SLAB ("trace-snaps", test_trace_snaps);
  ADD ("alt-keeps-off", test_alt_keeps_off);
  ADD ("nudge", test_nudge);
  ADD ("check-line", test_check_line);
  ADD ("residual-words", test_residual_words);
  ADD ("drag-resolves", test_drag_resolves);
  ADD ("shared-corner", test_shared_corner);
  ADD ("straight-and-parallel", test_straight_and_parallel);
  g_test_add_func ("/studio/measure/fall", test_fall);
  return g_test_run ();
}
