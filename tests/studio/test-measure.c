/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measuring in the studio, tried without a display: points snap to a slab's true corners, are nudged
 * and dragged, and what follows is said in words. */

#include "config.h"

#include "studio/hand.h"
#include "studio/known-words.h"
#include "studio/outlines.h"
#include "studio/trial.h"
#include "tests/studio/dies.h"

#include <cairo.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

/* The slab joints and the sizes of data/demo/harbour-lane.knowns.json: the renderer's own geometry,
 * given to a tenth of a pixel. */
static const double corners[4][2]
    = { { 400.7, 934.8 }, { 842.2, 791.8 }, { 672.7, 776.9 }, { 194.5, 898.6 } };
#define LONG_SIDE 3.048
#define SHORT_SIDE 1.2192
static const double kerb[2][2] = { { 1520.4, 949.7 }, { 1600.6, 796.4 } }; /* 3.048 m */

/* A light slab on dark ground, painted by cairo: its corners are where they are said to be. */
static const double slab[4][2]
    = { { 200.3, 400.6 }, { 520.7, 380.2 }, { 600.4, 560.9 }, { 150.2, 590.5 } };

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

static gboolean
start_design (BlDesign *design, gpointer data, GError **error)
{
  BlAlternative a = { 0, 0, (char *) "A", (char *) "", (char *) "" };

  return bl_design_put_alternative (design, &a, error)
         && bl_design_put_text (design, "units", "m", error)
         && bl_design_put_photo (design, data, "strip.jpg", error);
}

static void
settle (Fixture *f)
{
  gint64 end = g_get_monotonic_time () + 30 * G_TIME_SPAN_SECOND;

  while ((!bl_board_is_settled (f->board) || bl_board_get_photo (f->board) == NULL)
         && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  g_assert_nonnull (bl_board_get_photo (f->board));
}

static cairo_status_t
append (void *data, const unsigned char *bytes, unsigned int length)
{
  g_byte_array_append (data, bytes, length);
  return CAIRO_STATUS_SUCCESS;
}

static GBytes *
painted_slab (void)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 800, 700);
  cairo_t *cr = cairo_create (surface);
  GByteArray *png = g_byte_array_new ();

  cairo_set_source_rgb (cr, 0.25, 0.3, 0.2);
  cairo_paint (cr);
  for (int i = 0; i < 4; i++)
    cairo_line_to (cr, slab[i][0], slab[i][1]);
  cairo_set_source_rgb (cr, 0.8, 0.78, 0.72);
  cairo_fill (cr);
  cairo_destroy (cr);
  g_assert_cmpint (cairo_surface_write_to_png_stream (surface, append, png), ==,
                   CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  return g_byte_array_free_to_bytes (png);
}

static GBytes *
rendered_strip (void)
{
  g_autofree char *path
      = g_test_build_filename (G_TEST_DIST, "..", "data", "demo", "harbour-lane.jpg", NULL);
  g_autoptr (GError) error = NULL;
  char *contents = NULL;
  gsize length = 0;

  g_file_get_contents (path, &contents, &length, &error);
  g_assert_no_error (error);
  return g_bytes_new_take (contents, length);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = data != NULL ? painted_slab () : rendered_strip ();

  f->design = bl_design_create (NULL, &error);
  g_assert_no_error (error);
  f->board = bl_board_new (f->design, NULL);
  g_signal_connect (f->board, "problem", G_CALLBACK (said_cb), f);
  g_assert_true (bl_board_edit (f->board, "Start", start_design, bytes));
  bl_board_set_view (f->board, BL_VIEW_PHOTO);
  settle (f);
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

static BlHandEvent
event_at (double x, double y, guint mods)
{
  /* The canvas at one photo pixel a screen pixel. */
  return (BlHandEvent) { BL_POINT (x, y), 8, mods, 1 };
}

static void
click (Fixture *f, double x, double y, guint mods)
{
  bl_hand_hover (f->hand, event_at (x, y, mods));
  bl_hand_press (f->hand, event_at (x, y, mods));
  bl_hand_release (f->hand, event_at (x, y, mods));
}

static void
drag (Fixture *f, double x0, double y0, double x1, double y1)
{
  bl_hand_press (f->hand, event_at (x0, y0, 0));
  bl_hand_drag (f->hand, event_at ((x0 + x1) / 2, (y0 + y1) / 2, 0));
  bl_hand_drag (f->hand, event_at (x1, y1, 0));
  bl_hand_release (f->hand, event_at (x1, y1, 0));
}

static const BlModel *
model_of (Fixture *f)
{
  return bl_board_get_model (f->board);
}

static const BlKnown *
last_known (Fixture *f)
{
  const BlModel *model = model_of (f);

  g_assert_cmpuint (model->knowns->len, >, 0);
  return g_ptr_array_index (model->knowns, model->knowns->len - 1);
}

/* Four clicks on the joints, then the sizes that the sheet would ask for. */
static void
state_rectangle (Fixture *f)
{
  g_autoptr (BlKnown) known = NULL;

  bl_board_set_known_kind (f->board, BL_KNOWN_RECTANGLE);
  take (f, "known");
  for (int i = 0; i < 4; i++)
    click (f, corners[i][0], corners[i][1], BL_MOD_ALT);
  g_assert_nonnull (bl_board_get_pending (f->board));
  known = bl_known_copy (bl_board_get_pending (f->board));
  known->size[0] = LONG_SIDE;
  known->size[1] = SHORT_SIDE;
  known->name = g_strdup ("panel");
  g_assert_true (bl_board_put_known (f->board, "State", known));
  bl_board_set_pending (f->board, NULL);
  g_assert_nonnull (bl_model_camera (model_of (f)));
}

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

/* Metres of a projected system; each ring's area is its width times its depth. */
static const char map[]
    = "{\"type\":\"FeatureCollection\",\"features\":["
      "{\"type\":\"Feature\",\"properties\":{\"name\":\"Strip\"},\"geometry\":{\"type\":"
      "\"Polygon\",\"coordinates\":[[[400100,4600200],[400112,4600200],[400112,4600203],"
      "[400100,4600203],[400100,4600200]]]}},"
      "{\"type\":\"Feature\",\"properties\":{\"name\":\"Strip\"},\"geometry\":{\"type\":"
      "\"Polygon\",\"coordinates\":[[[400120,4600200],[400125,4600200],[400125,4600204],"
      "[400120,4600204],[400120,4600200]]]}},"
      "{\"type\":\"Feature\",\"properties\":{},\"geometry\":{\"type\":\"LineString\","
      "\"coordinates\":[[400100,4600199],[400130,4600199]]}}]}";

static void
test_outlines (Fixture *f, gconstpointer data)
{
  static const char degrees[] = "{\"type\":\"Polygon\",\"coordinates\":[[[-88.31,42.1],[-88.3,42.1],"
                                "[-88.3,42.11],[-88.31,42.1]]]}";
  g_autoptr (GError) error = NULL;
  BlBroughtIn brought = { 0, 0 };
  const BlBed *bed;

  g_assert_false (bl_board_bring_in_outlines (f->board, degrees, -1, BL_FEATURE_N, &brought, &error));
  g_assert_nonnull (error);
  g_assert_cmpuint (model_of (f)->beds->len, ==, 0);
  g_clear_error (&error);
  g_assert_true (bl_board_bring_in_outlines (f->board, map, -1, BL_FEATURE_N, &brought, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (brought.beds, ==, 2);
  g_assert_cmpuint (brought.features, ==, 1);
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  g_assert_cmpstr (bed->name, ==, "Strip");
  g_assert_cmpfloat_with_epsilon (bed->area.value, 36, 1e-6);
  bed = g_ptr_array_index (model_of (f)->beds, 1);
  g_assert_cmpstr (bed->name, ==, "Strip 2");
  g_assert_cmpfloat_with_epsilon (bed->area.value, 20, 1e-6);
  g_assert_cmpint (((const BlFeature *) g_ptr_array_index (model_of (f)->features, 0))->kind, ==,
                   BL_FEATURE_KERB);
  /* A second map of the same survey lies where the first did. */
  g_assert_true (bl_board_bring_in_outlines (f->board, map, -1, BL_FEATURE_WALK, &brought, &error));
  g_assert_cmpuint (brought.features, ==, 3);
  bed = g_ptr_array_index (model_of (f)->beds, 0);
  g_assert_cmpfloat (
      bl_dist (bl_points_at (
                   ((const BlFeature *) g_ptr_array_index (model_of (f)->features, 1))->outline->points,
                   0),
               bl_points_at (bed->outline->points, 0)), <, 1e-6);
  g_assert_true (bl_board_undo (f->board));
  g_assert_true (bl_board_undo (f->board));
  g_assert_cmpuint (model_of (f)->beds->len, ==, 0);
  g_assert_cmpuint (model_of (f)->features->len, ==, 0);
}

/* Every kind of feature, with a height, on the photo and on the plan. */
static void
test_features (Fixture *f, gconstpointer data)
{
  state_rectangle (f);
  for (int view = 0; view < 2; view++)
    for (int kind = 0; kind < BL_FEATURE_N; kind++)
      {
        guint before = model_of (f)->features->len;
        const BlFeature *feature;

        if (kind == BL_FEATURE_IN_FRONT && view == 1)
          continue;
        bl_board_set_view (f->board, view == 0 ? BL_VIEW_PHOTO : BL_VIEW_PLAN);
        bl_board_set_feature_kind (f->board, (BlFeatureKind) kind, 0.9);
        take (f, "feature");
        for (int i = 0; i < 3 && model_of (f)->features->len == before; i++)
          {
            BlHandEvent event
                = { view == 0 ? BL_POINT (700 + 200 * (i == 1), 1000 + 150 * (i == 2))
                              : BL_POINT (i == 1 ? 2 : 0, i == 2 ? 5 : 3),
                    view == 0 ? 8 : 0.05, BL_MOD_ALT, 1 };

            bl_hand_hover (f->hand, event);
            bl_hand_press (f->hand, event);
            bl_hand_release (f->hand, event);
          }
        bl_hand_key (f->hand, BL_KEY_ENTER);
        g_assert_cmpuint (model_of (f)->features->len, ==, before + 1);
        feature = g_ptr_array_index (model_of (f)->features, before);
        g_assert_cmpint (feature->kind, ==, kind);
        g_assert_cmpfloat (feature->height, ==, 0.9);
        g_assert_true (feature->ground != NULL || kind == BL_FEATURE_IN_FRONT);
        /* 18 in each side: Common Ground Alliance, Best Practices, "or more by state". */
        if (kind == BL_FEATURE_BURIED_LINE)
          g_assert_cmpfloat_with_epsilon (feature->tolerance, 18 * 0.0254, 1e-9);
      }
}

static gboolean
put_tape (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_tape (design, data, error);
}

/* A braced quadrilateral of 3-4-5 triangles, one distance added after the other as the form does;
 * Pythagoras gives the sixth. */
static void
test_tape (Fixture *f, gconstpointer data)
{
  static const struct
  {
    const char *from, *to;
    double metres;
  } taped[] = { { "A", "B", 4 }, { "B", "C", 3 }, { "A", "C", 5 }, { "A", "D", 3 }, { "B", "D", 5 },
                { "C", "D", 4.01 } };
  const BlTape *adjusted;

  for (guint i = 0; i < G_N_ELEMENTS (taped); i++)
    {
      g_autoptr (BlTape) tape = model_of (f)->tape != NULL ? bl_tape_copy (model_of (f)->tape)
                                                           : bl_tape_new ();
      int ends[2] = { bl_tape_find (tape, taped[i].from), bl_tape_find (tape, taped[i].to) };

      for (int k = 0; k < 2; k++)
        if (ends[k] < 0)
          ends[k] = (int) bl_tape_add_point (tape, k == 0 ? taped[i].from : taped[i].to);
      bl_tape_add_distance (tape, (guint) ends[0], (guint) ends[1], taped[i].metres, 0);
      g_clear_pointer (&f->said, g_free);
      bl_board_edit (f->board, "Tape", put_tape, tape);
      g_assert_null (f->said);
    }
  adjusted = model_of (f)->tape;
  g_assert_cmpuint (adjusted->distances->len, ==, 6);
  g_assert_true (adjusted->adjusted);
  g_assert_cmpint (adjusted->dof, ==, 1);
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
  ADD ("features", test_features);
  ADD_SLAB ("tape", test_tape);
  ADD_SLAB ("outlines", test_outlines);
  g_test_add_func ("/studio/measure/fall", test_fall);
  return g_test_run ();
}
