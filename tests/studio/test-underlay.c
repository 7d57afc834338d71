/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan from elsewhere under the plan, tried without a display: its length pointed out, a bed traced
 * on it, the length changed, all of it undone. */

#include "config.h"

#include "studio/drawing-form.h"
#include "studio/hand.h"
#include "studio/trial.h"
#include "studio/underlay.h"
#include "tests/studio/dies.h"

#include <locale.h>
#include <string.h>

/* A sheet of 60 by 30 feet with a bed of 20 by 8 feet and a scale of 50 feet drawn on it. */
static const char plan[]
  = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 60 30' stroke='#000' stroke-width='.05' "
    "fill='none'><path d='M10 6h20v8h-20z'/><path d='M5 27h50'/></svg>";

#define PIXELS (BL_DRAWING_SIDE / 60.0) /* a foot of the sheet */
#define FOOT 0.3048

typedef struct
{
  BlDesign *design;
  BlBoard *board;
  BlHand *hand;
  char *said;
} Fixture;

static void
said_cb (BlBoard *board, const char *sentence, Fixture *f)
{
  g_free (f->said);
  f->said = g_strdup (sentence);
}

static void
settle (Fixture *f)
{
  gint64 end = g_get_monotonic_time () + 30 * G_TIME_SPAN_SECOND;

  while (!bl_board_is_settled (f->board) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  g_assert_true (bl_board_is_settled (f->board));
}

static const BlModel *
model_of (Fixture *f)
{
  return bl_board_get_model (f->board);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) svg = g_bytes_new_static (plan, sizeof plan - 1);
  g_autoptr (GBytes) picture = bl_drawing_picture (svg, NULL, &error);

  g_assert_no_error (error);
  f->design = bl_design_create (NULL, &error);
  g_assert_no_error (error);
  f->board = bl_board_new (f->design, NULL);
  g_signal_connect (f->board, "problem", G_CALLBACK (said_cb), f);
  bl_board_put_text (f->board, "units", "ft");
  g_assert_true (bl_board_take_drawing (f->board, picture, "survey.svg"));
  settle (f);
  g_assert_nonnull (bl_board_get_drawing (f->board));
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  settle (f);
  g_clear_pointer (&f->hand, bl_hand_free);
  assert_dies (f->board);
  g_object_unref (f->design);
  g_free (f->said);
}

static void
take (Fixture *f, const char *name)
{
  g_clear_pointer (&f->hand, bl_hand_free);
  f->hand = bl_hand_new (name, f->board);
  g_assert_nonnull (f->hand);
}

/* Where a point of the sheet is seen on the plan. */
static BlPoint
seen (Fixture *f, double x, double y)
{
  BlPoint at;

  g_assert_true (bl_board_point_seen (f->board, BL_POINT (x * PIXELS, y * PIXELS), BL_FROM_DRAWING, &at));
  return at;
}

static void
click (Fixture *f, double x, double y)
{
  BlHandEvent event = { .at = seen (f, x, y), .slack = 0.004, .n_press = 1 };

  bl_hand_hover (f->hand, event);
  bl_hand_press (f->hand, event);
  bl_hand_release (f->hand, event);
}

static void
state_length (Fixture *f, double feet)
{
  BlDrawing drawing;

  take (f, "scale");
  click (f, 5, 27);
  g_assert_null (bl_board_get_proposed_drawing (f->board));
  click (f, 55, 27);
  g_assert_nonnull (bl_board_get_proposed_drawing (f->board));
  drawing = *bl_board_get_proposed_drawing (f->board);
  g_assert_cmpfloat_with_epsilon (bl_dist (drawing.ends[0], drawing.ends[1]), 50 * PIXELS, 1e-6);
  drawing.length = feet * FOOT;
  g_assert_true (bl_board_put_drawing (f->board, "State the length", &drawing));
  bl_board_propose_drawing (f->board, NULL);
}

static const BlBed *
trace_bed (Fixture *f)
{
  take (f, "trace");
  for (int i = 0; i < 4; i++)
    {
      click (f, i == 0 || i == 3 ? 10 : 30, i < 2 ? 6 : 14);
      g_assert_true (bl_hand_key (f->hand, BL_KEY_SHARP));
    }
  g_assert_true (bl_hand_key (f->hand, BL_KEY_ENTER));
  return g_ptr_array_index (model_of (f)->beds, 0);
}

/* The path says that a length is missing, then that a bed is. */
static void
test_path (Fixture *f, gconstpointer data)
{
  BlStage stage;
  g_autofree char *first = bl_board_missing (f->board, &stage), *second = NULL;

  g_assert_cmpint (bl_board_get_view (f->board), ==, BL_VIEW_PLAN);
  g_assert_nonnull (strstr (first, "No length known on the base drawing"));
  g_assert_cmpint (stage, ==, BL_STAGE_KNOWN);
  g_assert_cmpint (bl_board_stage_state (f->board, BL_STAGE_PHOTO), ==, 2);
  g_assert_cmpint (bl_board_stage_state (f->board, BL_STAGE_KNOWN), ==, 1);
  state_length (f, 50);
  second = bl_board_missing (f->board, &stage);
  g_assert_cmpint (bl_board_stage_state (f->board, BL_STAGE_KNOWN), ==, 2);
  g_assert_cmpint (stage, ==, BL_STAGE_BED);
}

static void
test_traced (Fixture *f, gconstpointer data)
{
  const BlBed *bed;
  BlMeasured area;
  g_autofree char *advice = NULL;

  state_length (f, 50);
  settle (f);
  bed = trace_bed (f);
  g_assert_cmpint (bed->source, ==, BL_FROM_DRAWING);
  g_assert_cmpfloat_with_epsilon (bl_points_at (bed->outline->points, 2).x, 30 * PIXELS, 1e-6);
  g_assert_cmpfloat_with_epsilon (bed->area.value, 160 * FOOT * FOOT, 1e-6);
  g_assert_cmpfloat_with_epsilon (bed->perimeter.value, 56 * FOOT, 1e-6);
  /* 25 mm in 15.24 m and a pixel and a half in 3413 are under 0.5 % of area. */
  g_assert_cmpfloat (bed->area.sd, >, 0);
  g_assert_cmpfloat (bed->area.sd / bed->area.value, <, 0.005);
  g_assert_true (bl_board_measured_bed (f->board) == bed);
  g_assert_true (bl_board_measure_bed (f->board, bed, &area));
  g_assert_cmpfloat (area.sd, ==, bed->area.sd);
  /* With so long a length little more is to be had. */
  advice = bl_drawing_advice (model_of (f), &area);
  if (advice != NULL)
    g_assert_nonnull (strstr (advice, "becomes"));
}

/* The bed keeps to its place on the sheet; what it measures follows, and undo takes it back. */
static void
test_changed (Fixture *f, gconstpointer data)
{
  const BlBed *bed;

  state_length (f, 50);
  trace_bed (f);
  state_length (f, 25);
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  g_assert_cmpfloat_with_epsilon (bed->area.value, 40 * FOOT * FOOT, 1e-6);
  g_assert_true (bl_board_undo (f->board));
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  g_assert_cmpfloat_with_epsilon (bed->area.value, 160 * FOOT * FOOT, 1e-6);
  while (model_of (f)->drawing.width > 0)
    g_assert_true (bl_board_undo (f->board));
  settle (f);
  g_assert_null (bl_board_get_drawing (f->board));
  while (model_of (f)->beds->len == 0)
    g_assert_true (bl_board_redo (f->board));
  settle (f);
  g_assert_nonnull (bl_board_get_drawing (f->board));
}

/* What reaches beyond the sheet is the plan's own. */
static void
test_beyond (Fixture *f, gconstpointer data)
{
  const BlBed *bed;

  state_length (f, 50);
  take (f, "trace");
  click (f, 50, 20);
  click (f, 70, 20);
  click (f, 60, 28);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_ENTER));
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  g_assert_cmpint (bed->source, ==, BL_FROM_PLAN);
  g_assert_nonnull (bed->ground);
}

/* A point dragged in the plan is kept in the drawing's pixels. */
static void
test_reshaped (Fixture *f, gconstpointer data)
{
  const BlBed *bed;

  state_length (f, 50);
  bed = trace_bed (f);
  take (f, "reshape");
  bl_board_select (f->board, BL_PICK_BED, bed->id, FALSE);
  bl_hand_press (f->hand, (BlHandEvent){ .at = seen (f, 30, 14), .slack = 0.05, .n_press = 1 });
  bl_hand_drag (f->hand, (BlHandEvent){ .at = seen (f, 40, 14), .slack = 0.05, .n_press = 1 });
  bl_hand_release (f->hand, (BlHandEvent){ .at = seen (f, 40, 14), .slack = 0.05, .n_press = 1 });
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  g_assert_cmpint (bed->source, ==, BL_FROM_DRAWING);
  g_assert_cmpfloat_with_epsilon (bl_points_at (bed->outline->points, 2).x, 40 * PIXELS, 1e-6);
  g_assert_cmpfloat_with_epsilon (bed->area.value, 200 * FOOT * FOOT, 1e-6);
}

static void
test_feature (Fixture *f, gconstpointer data)
{
  const BlFeature *feature;

  state_length (f, 50);
  bl_board_set_feature_kind (f->board, BL_FEATURE_KERB, 0.15);
  take (f, "feature");
  click (f, 5, 27);
  click (f, 55, 27);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_ENTER));
  feature = g_ptr_array_index (model_of (f)->features, 0);
  g_assert_cmpint (feature->source, ==, BL_FROM_DRAWING);
  g_assert_cmpfloat_with_epsilon (bl_dist (bl_points_at (feature->ground->points, 0),
                                           bl_points_at (feature->ground->points, 1)),
                                  50 * FOOT, 1e-9);
}

/* Clicks from afar are as coarse as the screen; the interval knows. */
static void
test_from_afar (Fixture *f, gconstpointer data)
{
  const BlDrawing *drawing;

  take (f, "scale");
  for (int i = 0; i < 2; i++)
    {
      BlHandEvent event = { .at = seen (f, i == 0 ? 5 : 55, 27), .slack = 1.6, .n_press = 1 };

      bl_hand_press (f->hand, event);
      bl_hand_release (f->hand, event);
    }
  drawing = bl_board_get_proposed_drawing (f->board);
  /* A screen pixel is 0.2 m of the 20 m that the sheet is shown at. */
  g_assert_cmpfloat_with_epsilon (drawing->click_px, 0.2 * BL_DRAWING_SIDE / 20, 1e-6);
}

static void
test_missing (Fixture *f, gconstpointer data)
{
  g_assert_true (bl_board_remove_drawing (f->board));
  take (f, "scale");
  bl_hand_press (f->hand, (BlHandEvent){ .at = { 1, 1 }, .slack = 0.1, .n_press = 1 });
  g_assert_nonnull (strstr (f->said, "no base drawing yet"));
}

int
main (int argc, char *argv[])
{
  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);
#define ADD(path, func) g_test_add ("/studio/underlay/" path, Fixture, NULL, set_up, func, tear_down)
  ADD ("path", test_path);
  ADD ("traced", test_traced);
  ADD ("changed", test_changed);
  ADD ("beyond", test_beyond);
  ADD ("reshaped", test_reshaped);
  ADD ("feature", test_feature);
  ADD ("from-afar", test_from_afar);
  ADD ("missing", test_missing);
  return g_test_run ();
}
