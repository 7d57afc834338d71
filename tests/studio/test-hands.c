/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hands, tried without a display: what presses, drags and keys make of a design. */

#include "config.h"

#include "studio/hand.h"
#include "studio/spot.h"
#include "studio/stroke.h"
#include "tests/studio/dies.h"

#include <locale.h>
#include <string.h>

typedef struct
{
  BlDesign *design;
  BlLibrary *library;
  BlBoard *board;
  BlHand *hand;
  char *said; /* the last sentence for the person */
} Fixture;

static void
said_cb (BlBoard *board, const char *sentence, Fixture *f)
{
  g_free (f->said);
  f->said = g_strdup (sentence);
}

static gboolean
start_design (BlDesign *design, gpointer data, GError **error)
{
  BlAlternative a = { 0, 0, (char *) "A", (char *) "", (char *) "" };

  return bl_model_alternative_named (bl_design_get_model (design), "A") != NULL
         || bl_design_put_alternative (design, &a, error);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = bl_library_default_path ();

  f->library = bl_library_open (path, NULL, &error);
  g_assert_no_error (error);
  f->design = bl_design_create (NULL, &error);
  g_assert_no_error (error);
  f->board = bl_board_new (f->design, f->library);
  g_signal_connect (f->board, "problem", G_CALLBACK (said_cb), f);
  g_assert_true (bl_board_edit (f->board, "Start", start_design, NULL));
  bl_board_set_view (f->board, BL_VIEW_PLAN);
}

static void
settle (Fixture *f)
{
  gint64 end = g_get_monotonic_time () + 20 * G_TIME_SPAN_SECOND;

  while (!bl_board_is_settled (f->board) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  g_assert_true (bl_board_is_settled (f->board));
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  settle (f);
  g_clear_pointer (&f->hand, bl_hand_free);
  assert_dies (f->board);
  g_object_unref (f->design);
  bl_library_free (f->library);
  g_free (f->said);
}

static void
take (Fixture *f, const char *name)
{
  g_clear_pointer (&f->hand, bl_hand_free);
  f->hand = bl_hand_new (name, f->board);
  g_assert_nonnull (f->hand);
}

static void
click (Fixture *f, double x, double y, guint mods, int n_press)
{
  BlHandEvent event = { BL_POINT (x, y), 0.05, mods, n_press };

  bl_hand_hover (f->hand, event);
  bl_hand_press (f->hand, event);
  bl_hand_release (f->hand, event);
}

static void
drag (Fixture *f, const double *xy, guint n)
{
  BlHandEvent event = { BL_POINT (xy[0], xy[1]), 0.05, 0, 1 };

  bl_hand_press (f->hand, event);
  for (guint i = 1; i < n; i++)
    {
      event.at = BL_POINT (xy[2 * i], xy[2 * i + 1]);
      bl_hand_drag (f->hand, event);
    }
  bl_hand_release (f->hand, event);
}

/* A bed of 6 m by 3 m, its corners sharp. */
static const BlBed *
trace_rectangle (Fixture *f)
{
  take (f, "trace");
  click (f, 0, 0, BL_MOD_SHIFT, 1);
  click (f, 6, 0, BL_MOD_SHIFT, 1);
  click (f, 6, 3, BL_MOD_SHIFT, 1);
  click (f, 0, 3, BL_MOD_SHIFT, 1);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_ENTER));
  settle (f);
  return g_ptr_array_index (bl_board_get_model (f->board)->beds, 0);
}

static guint
n_plantings (Fixture *f)
{
  return bl_board_get_model (f->board)->plantings->len;
}

static guint
n_placed (Fixture *f)
{
  settle (f);
  return bl_board_get_layout (f->board)->placed->len;
}

static void
test_trace (Fixture *f, gconstpointer data)
{
  const BlBed *bed = trace_rectangle (f);

  /* Length times width. */
  g_assert_cmpfloat_with_epsilon (bed->area.value, 18.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (bed->perimeter.value, 18.0, 1e-6);
  g_assert_true (bl_board_is_selected (f->board, BL_PICK_BED, bed->id));
  g_assert_null (f->said);
}

static void
test_trace_refused (Fixture *f, gconstpointer data)
{
  take (f, "trace");
  click (f, 0, 0, BL_MOD_SHIFT, 1);
  click (f, 4, 4, BL_MOD_SHIFT, 1);
  click (f, 4, 0, BL_MOD_SHIFT, 1);
  click (f, 0, 4, BL_MOD_SHIFT, 1);
  bl_hand_key (f->hand, BL_KEY_ENTER);
  g_assert_cmpuint (bl_board_get_model (f->board)->beds->len, ==, 0);
  g_assert_nonnull (f->said);
  g_assert_nonnull (strstr (f->said, "crosses itself"));
  /* Nothing is lost: the last points can be taken back and the line goes on. */
  bl_hand_key (f->hand, BL_KEY_BACKSPACE);
  bl_hand_key (f->hand, BL_KEY_ENTER);
  g_assert_cmpuint (bl_board_get_model (f->board)->beds->len, ==, 1);
}

static void
test_trace_stroke (Fixture *f, gconstpointer data)
{
  double xy[2 * 181];

  /* A circle of radius 2 m drawn in one stroke: its area is pi r². */
  for (int i = 0; i <= 180; i++)
    {
      xy[2 * i] = 2 * cos (i * G_PI / 90);
      xy[2 * i + 1] = 2 * sin (i * G_PI / 90);
    }
  take (f, "trace");
  drag (f, xy, 181);
  g_assert_cmpuint (bl_board_get_model (f->board)->beds->len, ==, 1);
  g_assert_cmpfloat_with_epsilon (
      ((BlBed *)g_ptr_array_index (bl_board_get_model (f->board)->beds, 0))->area.value, 4 * G_PI,
      0.25);
}

static void
test_reshape (Fixture *f, gconstpointer data)
{
  const double move[] = { 6, 3, 6.5, 3.2, 7, 3 };
  const double insert[] = { 3, 0, 3, -0.5, 3, -1 };
  const BlBed *bed = trace_rectangle (f);
  gint64 id = bed->id;

  take (f, "reshape");
  drag (f, move, 3);
  bed = bl_model_bed (bl_board_get_model (f->board), id);
  /* The shoelace formula for (0,0) (6,0) (7,3) (0,3). */
  g_assert_cmpfloat_with_epsilon (bed->area.value, 19.5, 1e-6);
  drag (f, insert, 3);
  bed = bl_model_bed (bl_board_get_model (f->board), id);
  g_assert_cmpuint (bed->outline->points->len, ==, 5);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_DELETE));
  bed = bl_model_bed (bl_board_get_model (f->board), id);
  g_assert_cmpuint (bed->outline->points->len, ==, 4);
  g_assert_true (bl_board_undo (f->board));
  g_assert_true (bl_board_undo (f->board));
  g_assert_true (bl_board_undo (f->board));
  bed = bl_model_bed (bl_board_get_model (f->board), id);
  g_assert_cmpfloat_with_epsilon (bed->area.value, 18.0, 1e-6);
}

static void
test_four_forms (Fixture *f, gconstpointer data)
{
  const double row[] = { 0.5, 0.5, 3, 0.5, 5.5, 0.5 };
  const double drift[] = { 1, 2, 2, 2.2, 3, 2 };
  guint before;

  trace_rectangle (f);
  take (f, "specimen");
  click (f, 3, 1.5, BL_MOD_CTRL, 1);
  g_assert_cmpstr (f->said, ==, "No plant in hand: pick one on the shelf first");
  bl_board_set_plant (f->board, "nepeta-x-faassenii");
  click (f, 3, 1.5, BL_MOD_CTRL, 1);
  g_assert_cmpuint (n_placed (f), ==, 1);
  take (f, "row");
  bl_board_set_spacing (f->board, 0.5, FALSE);
  drag (f, row, 3);
  /* A line of 5 m at 0.5 m with both ends kept: 5 / 0.5 + 1. */
  g_assert_cmpuint (n_placed (f), ==, 12);
  before = n_placed (f);
  take (f, "drift");
  drag (f, drift, 3);
  g_assert_cmpuint (n_plantings (f), ==, 3);
  g_assert_cmpuint (n_placed (f), >, before);
  before = n_placed (f);
  take (f, "fill");
  click (f, 10, 10, 0, 1);
  g_assert_cmpstr (f->said, ==, "Click inside a bed to fill what is left of it");
  click (f, 5, 2, 0, 1);
  g_assert_cmpuint (n_plantings (f), ==, 4);
  g_assert_cmpuint (n_placed (f), >, before);
}

static void
test_select_and_move (Fixture *f, gconstpointer data)
{
  const double move[] = { 3, 1.5, 3.2, 1.7, 4, 2 };
  const double band[] = { 3.5, 1.5, 4, 2, 4.5, 2.5 };
  const BlPlanting *planting;
  gint64 id;

  trace_rectangle (f);
  bl_board_set_plant (f->board, "echinacea-purpurea");
  take (f, "specimen");
  click (f, 3, 1.5, BL_MOD_CTRL, 1);
  settle (f);
  planting = g_ptr_array_index (bl_board_get_model (f->board)->plantings, 0);
  id = planting->id;
  bl_board_clear_selection (f->board);
  take (f, "select");
  click (f, 3, 1.5, 0, 1);
  g_assert_true (bl_board_is_selected (f->board, BL_PICK_PLANTING, id));
  drag (f, move, 3);
  planting = bl_model_planting (bl_board_get_model (f->board), id);
  g_assert_cmpfloat_with_epsilon (bl_points_at (planting->shape->points, 0).x, 4, 0.06);
  g_assert_cmpfloat_with_epsilon (bl_points_at (planting->shape->points, 0).y, 2, 0.06);
  g_assert_cmpint (bl_board_get_lift (f->board, NULL), ==, 0);
  settle (f);
  bl_board_clear_selection (f->board);
  drag (f, band, 3);
  g_assert_true (bl_board_is_selected (f->board, BL_PICK_PLANTING, id));
  g_assert_true (bl_board_duplicate_selection (f->board));
  g_assert_cmpuint (n_plantings (f), ==, 2);
  bl_board_select_all (f->board);
  g_assert_true (bl_board_set_locked (f->board, TRUE));
  bl_hand_key (f->hand, BL_KEY_DELETE);
  g_assert_cmpuint (n_plantings (f), ==, 2);
  g_assert_true (g_str_has_prefix (f->said, "What is locked"));
  g_assert_true (bl_board_undo (f->board));
  bl_board_select_all (f->board);
  bl_hand_key (f->hand, BL_KEY_DELETE);
  g_assert_cmpuint (n_plantings (f), ==, 0);
  g_assert_true (bl_board_undo (f->board));
  g_assert_cmpuint (n_plantings (f), ==, 2);
}

static void
test_line_up (Fixture *f, gconstpointer data)
{
  const double at[][2] = { { 1, 1.1 }, { 2, 0.9 }, { 4, 1.1 }, { 5, 0.9 } };
  double last = -INFINITY, gap = NAN;
  g_autoptr (GArray) xs = g_array_new (FALSE, FALSE, sizeof (double));

  trace_rectangle (f);
  bl_board_set_plant (f->board, "echinacea-purpurea");
  take (f, "specimen");
  for (guint i = 0; i < 4; i++)
    click (f, at[i][0], at[i][1], BL_MOD_CTRL, 1);
  bl_board_select_all (f->board);
  g_assert_true (bl_board_align_selection (f->board, TRUE));
  for (guint i = 0; i < 4; i++)
    {
      const BlPlanting *p = g_ptr_array_index (bl_board_get_model (f->board)->plantings, i);

      g_array_append_val (xs, bl_points_at (p->shape->points, 0).x);
    }
  for (guint i = 0; i < 4; i++)
    {
      double x = g_array_index (xs, double, i);

      if (i > 1)
        g_assert_cmpfloat_with_epsilon (x - last, gap, 1e-9);
      gap = i > 0 ? x - last : NAN;
      last = x;
    }
  g_assert_cmpfloat_with_epsilon (gap, 4.0 / 3, 0.02);
}

static void
test_swap_and_copy_over (Fixture *f, gconstpointer data)
{
  const BlModel *model;
  gint64 first;

  trace_rectangle (f);
  bl_board_set_plant (f->board, "echinacea-purpurea");
  take (f, "specimen");
  click (f, 2, 1.5, BL_MOD_CTRL, 1);
  click (f, 4, 1.5, BL_MOD_CTRL, 1);
  first = bl_board_get_alternative (f->board);
  g_assert_true (bl_board_add_alternative (f->board, TRUE));
  g_assert_cmpint (bl_board_get_alternative (f->board), !=, first);
  g_assert_true (bl_board_swap_plant (f->board, "echinacea-purpurea", "nepeta-x-faassenii"));
  model = bl_board_get_model (f->board);
  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *p = g_ptr_array_index (model->plantings, i);

      g_assert_cmpstr (p->slug, ==,
                       p->alternative_id == first ? "echinacea-purpurea" : "nepeta-x-faassenii");
    }
  g_assert_true (bl_board_remove_alternative (f->board));
  g_assert_cmpint (bl_board_get_alternative (f->board), ==, first);
  g_assert_false (bl_board_remove_alternative (f->board));
  g_assert_true (g_str_has_prefix (f->said, "The last alternative stays"));
}

static void
test_feature (Fixture *f, gconstpointer data)
{
  const BlFeature *feature;

  bl_board_set_feature_kind (f->board, BL_FEATURE_SALTED_EDGE, 0);
  take (f, "feature");
  click (f, 0, -1, 0, 1);
  click (f, 6, -1, 0, 1);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_ENTER));
  bl_board_set_feature_kind (f->board, BL_FEATURE_POST, 1.2);
  click (f, 7, 1, 0, 1);
  g_assert_cmpuint (bl_board_get_model (f->board)->features->len, ==, 2);
  feature = g_ptr_array_index (bl_board_get_model (f->board)->features, 1);
  g_assert_cmpint (feature->kind, ==, BL_FEATURE_POST);
  g_assert_cmpfloat (feature->height, ==, 1.2);
  bl_board_set_feature_kind (f->board, BL_FEATURE_IN_FRONT, 0);
  click (f, 0, 0, 0, 1);
  click (f, 1, 0, 0, 1);
  click (f, 1, 1, 0, 1);
  bl_hand_key (f->hand, BL_KEY_ENTER);
  g_assert_true (g_str_has_prefix (f->said, "What stands in front is outlined on the photo"));
}

/* Delete and Escape with the button still down: what was held is gone, and the rest of the drag neither
 * brings it back nor moves anything else. */
static void
test_key_while_held (Fixture *f, gconstpointer data)
{
  BlHandEvent at = { BL_POINT (3, 1.5), 0.05, 0, 1 };
  const BlFeature *feature;
  BlPoint last;

  trace_rectangle (f);
  bl_board_set_plant (f->board, "echinacea-purpurea");
  take (f, "specimen");
  click (f, 3, 1.5, BL_MOD_CTRL, 1);
  settle (f);
  take (f, "select");
  for (guint i = 0; i < 2; i++)
    {
      at.at = BL_POINT (3, 1.5);
      bl_hand_press (f->hand, at);
      at.at = BL_POINT (3.5, 1.5);
      bl_hand_drag (f->hand, at);
      g_assert_true (bl_hand_key (f->hand, i == 0 ? BL_KEY_ESCAPE : BL_KEY_DELETE));
      at.at = BL_POINT (4, 2);
      bl_hand_drag (f->hand, at);
      bl_hand_release (f->hand, at);
      settle (f);
      g_assert_cmpuint (n_plantings (f), ==, 1 - i);
      g_assert_cmpint (bl_board_get_lift (f->board, NULL), ==, 0);
    }
  g_assert_cmpuint (bl_board_get_selection (f->board)->len, ==, 0);
  g_assert_true (bl_board_undo (f->board));
  last = bl_points_at (((BlPlanting *) g_ptr_array_index (bl_board_get_model (f->board)->plantings, 0))
                           ->shape->points, 0);
  g_assert_cmpfloat (bl_dist (last, BL_POINT (3, 1.5)), <, 1e-6);

  bl_board_set_feature_kind (f->board, BL_FEATURE_SALTED_EDGE, 0);
  take (f, "feature");
  click (f, 0, -1, 0, 1);
  click (f, 6, -1, 0, 1);
  at.at = BL_POINT (8, -1);
  bl_hand_press (f->hand, at);
  bl_hand_drag (f->hand, at);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_DELETE));
  at.at = BL_POINT (9, -3);
  bl_hand_drag (f->hand, at);
  bl_hand_release (f->hand, at);
  bl_hand_press (f->hand, at);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_BACKSPACE));
  bl_hand_let_go (f->hand);
  g_assert_true (bl_hand_key (f->hand, BL_KEY_ENTER));
  g_assert_cmpuint (bl_board_get_model (f->board)->features->len, ==, 1);
  feature = g_ptr_array_index (bl_board_get_model (f->board)->features, 0);
  g_assert_cmpuint (feature->outline->points->len, ==, 2);
  last = bl_points_at (feature->outline->points, 1);
  g_assert_cmpfloat (bl_dist (last, BL_POINT (6, -1)), <, 1e-6);
}

static void
test_known_wants_photo (Fixture *f, gconstpointer data)
{
  take (f, "known");
  click (f, 1, 1, 0, 1);
  g_assert_true (g_str_has_prefix (f->said, "What is known is stated on the photo"));
  g_assert_null (bl_board_get_pending (f->board));
}

static void
test_every_hand (Fixture *f, gconstpointer data)
{
  const char *const *names = bl_hand_names ();

  trace_rectangle (f);
  for (guint i = 0; names[i] != NULL; i++)
    for (int view = 0; view < 2; view++)
      {
        g_autoptr (BlMarks) marks = bl_marks_new ();
        g_autofree char *hint = NULL;

        bl_board_set_view (f->board, view == 0 ? BL_VIEW_PLAN : BL_VIEW_PHOTO);
        take (f, names[i]);
        hint = bl_hand_hint (f->hand);
        g_assert_nonnull (hint);
        bl_hand_hover (f->hand, (BlHandEvent) { BL_POINT (1, 1), 0.05, 0, 1 });
        bl_hand_marks (f->hand, marks);
        bl_hand_press (f->hand, (BlHandEvent) { BL_POINT (1, 1), 0.05, 0, 1 });
        bl_hand_cancel (f->hand);
        bl_hand_key (f->hand, BL_KEY_ESCAPE);
        bl_hand_leave (f->hand);
      }
  g_assert_null (bl_hand_new ("no such hand", f->board));
}

static void
test_missing (Fixture *f, gconstpointer data)
{
  BlStage stage;
  g_autofree char *first = bl_board_missing (f->board, &stage);
  g_autofree char *second = NULL, *third = NULL;

  g_assert_cmpint (stage, ==, BL_STAGE_BED);
  g_assert_cmpint (bl_board_stage_state (f->board, BL_STAGE_BED), ==, 0);
  trace_rectangle (f);
  second = bl_board_missing (f->board, &stage);
  g_assert_cmpint (stage, ==, BL_STAGE_SITE);
  g_assert_cmpint (bl_board_stage_state (f->board, BL_STAGE_BED), ==, 2);
  {
    BlSite site;

    bl_site_init (&site);
    site.zone = bl_zone_parse ("5b", NULL);
    g_assert_true (bl_board_put_site (f->board, &site));
    bl_site_clear (&site);
  }
  third = bl_board_missing (f->board, &stage);
  g_assert_cmpint (stage, ==, BL_STAGE_PLANTS);
}

static void
test_stroke (void)
{
  g_autoptr (GArray) line = bl_points_new ();
  g_autoptr (GArray) thin = NULL;
  g_autoptr (BlOutline) band = NULL;
  g_autoptr (GArray) ring = NULL;

  for (int i = 0; i <= 100; i++)
    bl_points_add (line, BL_POINT (i * 0.03, 0));
  g_assert_cmpfloat_with_epsilon (bl_stroke_length (line), 3, 1e-9);
  thin = bl_stroke_simplify (line, 0.01);
  g_assert_cmpuint (thin->len, ==, 2);
  band = bl_stroke_band (line, 0.5, 0.01, NULL);
  ring = bl_outline_flatten (band, 0.005);
  /* A rectangle of 3 m by 1 m and two half discs of radius 0.5 m. */
  g_assert_cmpfloat_with_epsilon (bl_polygon_area (ring), 3 + G_PI / 4, 0.12);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
#define ADD(path, func) g_test_add ("/studio/hands/" path, Fixture, NULL, set_up, func, tear_down)
  ADD ("trace", test_trace);
  ADD ("trace-refused", test_trace_refused);
  ADD ("trace-stroke", test_trace_stroke);
  ADD ("reshape", test_reshape);
  ADD ("four-forms", test_four_forms);
  ADD ("select-and-move", test_select_and_move);
  ADD ("line-up", test_line_up);
  ADD ("swap-and-copy-over", test_swap_and_copy_over);
  ADD ("feature", test_feature);
  ADD ("key-while-held", test_key_while_held);
  ADD ("known-wants-photo", test_known_wants_photo);
  ADD ("every-hand", test_every_hand);
  ADD ("missing", test_missing);
  g_test_add_func ("/studio/hands/stroke", test_stroke);
  return g_test_run ();
}
