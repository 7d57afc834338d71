/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lies on the ground besides the photo's knowns: outlines from a map, features, the tape. */

#include "config.h"

#include "studio/outlines.h"
#include "tests/studio/measure-fixture.h"

#include <locale.h>

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

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/studio/ground/features", Fixture, NULL, set_up, test_features, tear_down);
  g_test_add ("/studio/ground/tape", Fixture, slab, set_up, test_tape, tear_down);
  g_test_add ("/studio/ground/outlines", Fixture, slab, set_up, test_outlines, tear_down);
  return g_test_run ();
}
