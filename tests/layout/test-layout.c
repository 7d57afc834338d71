/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rules of placing, one by one. */
#include <string.h>

#include "scene.h"

static guint
count_of (const BlLayout *layout, gint64 planting)
{
  const BlLayoutPart *part = bl_layout_part (layout, planting);

  return part != NULL ? part->count : 0;
}

static gboolean
says (const BlLayout *layout, const char *words)
{
  for (guint i = 0; i < layout->messages->len; i++)
    if (strstr (layout->messages->pdata[i], words) != NULL)
      return TRUE;
  return FALSE;
}

/* A rectangle filled by the fill rule holds what the counted lattice of that rectangle holds:
 * 10 × 10 ft at 12 in, plants half a spread (6 in) inside: 105 staggered, 100 square. */
static void
test_fill (void)
{
  double ft = BL_METRES_PER_FOOT;

  for (int square = 0; square < 2; square++)
    {
      g_autoptr (BlModel) model = scene_new ();
      g_autoptr (BlLayout) layout = NULL;
      BlPlanting *fill;

      scene_bed (model, "Front", scene_rectangle (0, 0, 10 * ft, 10 * ft), TRUE);
      scene_plant (model, "nepeta-racemosa", BL_TYPE_PERENNIAL, ft, ft);
      fill = scene_planting (model, 1, "nepeta-racemosa", BL_PLANTING_FILL, NULL);
      fill->square = square;
      layout = bl_layout_compute (model, 1);
      g_assert_cmpuint (layout->messages->len, ==, 0);
      g_assert_cmpuint (layout->placed->len, ==, square ? 100 : 105);
      g_assert_cmpuint (count_of (layout, 1), ==, layout->placed->len);
      g_assert_cmpfloat_with_epsilon (bl_layout_part (layout, 1)->area, 100 * ft * ft, 1e-9);
      g_assert_nonnull (strstr (bl_layout_part (layout, 1)->rule, "half a spread"));
    }
}

static void
test_drawn (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlLayout) layout = NULL;
  BlPoints *line = bl_points_new ();
  const BlPlaced *placed;

  scene_bed (model, "Front", scene_rectangle (0, 0, 8, 3), TRUE);
  scene_plant (model, "ilex-verticillata", BL_TYPE_SHRUB, 1.5, 1.4);
  scene_planting (model, 1, "ilex-verticillata", BL_PLANTING_SPECIMEN, scene_point (2, 1.5));
  bl_points_add (line, BL_POINT (1, 0.5));
  bl_points_add (line, BL_POINT (7, 0.5));
  scene_planting (model, 1, "ilex-verticillata", BL_PLANTING_ROW, line);
  layout = bl_layout_compute (model, 1);
  g_assert_cmpuint (layout->placed->len, ==, 1 + 5);
  placed = &g_array_index (layout->placed, BlPlaced, 0);
  g_assert_cmpfloat (placed->at.x, ==, 2);
  g_assert_cmpstr (placed->size, ==, "#1");
  placed = &g_array_index (layout->placed, BlPlaced, 5);
  g_assert_cmpfloat (placed->at.x, ==, 7);
  g_assert_cmpuint (placed->index, ==, 4);
  g_assert_cmpuint (placed->seed, !=, g_array_index (layout->placed, BlPlaced, 4).seed);
}

/* A drift keeps half its spacing inside its line, half a spread inside the bed line; the fill keeps
 * half of each spacing off the drift's plants and off the specimen. */
static void
test_clearances (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlLayout) layout = NULL;
  g_autoptr (BlPoints) drift = scene_rectangle (-1, 0, 3, 2);

  scene_bed (model, "Front", scene_rectangle (0, 0, 8, 3), TRUE);
  scene_plant (model, "salvia-nemorosa", BL_TYPE_PERENNIAL, 0.6, 0.4);
  scene_plant (model, "carex-flacca", BL_TYPE_GRASS, 0.3, 0.3);
  scene_plant (model, "cornus-sericea", BL_TYPE_SHRUB, 2, 2);
  scene_planting (model, 1, "carex-flacca", BL_PLANTING_FILL, NULL);
  scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_DRIFT, bl_points_copy (drift));
  scene_planting (model, 1, "cornus-sericea", BL_PLANTING_SPECIMEN, scene_point (6, 1.5));
  layout = bl_layout_compute (model, 1);
  g_assert_cmpuint (layout->messages->len, ==, 0);
  g_assert_cmpuint (count_of (layout, 1), >, 100);
  g_assert_cmpuint (count_of (layout, 2), >, 15);
  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *p = &g_array_index (layout->placed, BlPlaced, i);
      const BlBed *bed = bl_model_bed (model, 1);
      double in = bl_polygon_inside_distance (bed->ring, p->at);

      g_assert_cmpfloat (in, >=, p->plant->spread / 2 - 1e-5);
      if (p->planting_id == 2)
        g_assert_cmpfloat (bl_polygon_inside_distance (drift, p->at), >=, 0.2 - 1e-5);
      if (p->planting_id == 1)
        {
          for (guint k = 0; k < layout->placed->len; k++)
            {
              const BlPlaced *q = &g_array_index (layout->placed, BlPlaced, k);

              if (q->planting_id == 2)
                g_assert_cmpfloat (bl_dist (p->at, q->at), >=, (0.4 + 0.3) / 2 - 1e-9);
            }
          g_assert_cmpfloat (bl_dist (p->at, BL_POINT (6, 1.5)), >=, 1 + 0.15 - 1e-5);
        }
    }
}

/* Under a tree the fill comes nearer than half its spread; stones are neither planted nor near. */
static void
test_tree_and_stone (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlLayout) layout = NULL;
  BlFeature *stone = bl_feature_new ();
  double nearest = INFINITY;

  scene_bed (model, "Front", scene_rectangle (0, 0, 8, 4), TRUE);
  scene_plant (model, "amelanchier-laevis", BL_TYPE_TREE, 5, 5);
  scene_plant (model, "carex-flacca", BL_TYPE_GRASS, 0.3, 0.3);
  scene_planting (model, 1, "amelanchier-laevis", BL_PLANTING_SPECIMEN, scene_point (2, 2));
  scene_planting (model, 1, "carex-flacca", BL_PLANTING_FILL, NULL);
  stone->id = 1;
  stone->kind = BL_FEATURE_STONE;
  stone->outline = bl_outline_new_take (scene_rectangle (5, 1, 6, 2), TRUE);
  stone->ground = bl_outline_copy (stone->outline);
  g_ptr_array_add (model->features, stone);
  layout = bl_layout_compute (model, 1);
  for (guint i = 1; i < layout->placed->len; i++)
    {
      BlPoint at = g_array_index (layout->placed, BlPlaced, i).at;

      nearest = MIN (nearest, bl_dist (at, BL_POINT (2, 2)));
      g_assert_cmpfloat (bl_polygon_inside_distance (stone->ground->points, at), <=, -0.15 + 1e-4);
    }
  g_assert_cmpfloat (nearest, >=, 0.75 - 1e-6);
  g_assert_cmpfloat (nearest, <, 1.2);
  g_assert_cmpfloat_with_epsilon (bl_bed_free_area (model, bl_model_bed (model, 1)), 31, 1e-9);
}

static void
test_shared_fill (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlLayout) layout = NULL;
  guint a, b, c;

  scene_bed (model, "Front", scene_rectangle (0, 0, 6, 4), TRUE);
  scene_plant (model, "sporobolus-heterolepis", BL_TYPE_GRASS, 0.6, 0.5);
  scene_plant (model, "echinacea-purpurea", BL_TYPE_PERENNIAL, 0.5, 0.45);
  scene_plant (model, "allium-cernuum", BL_TYPE_PERENNIAL, 0.3, 0.3);
  scene_planting (model, 1, "sporobolus-heterolepis", BL_PLANTING_FILL, NULL);
  scene_planting (model, 1, "echinacea-purpurea", BL_PLANTING_FILL, NULL);
  scene_planting (model, 1, "allium-cernuum", BL_PLANTING_FILL, NULL);
  layout = bl_layout_compute (model, 1);
  a = count_of (layout, 1);
  b = count_of (layout, 2);
  c = count_of (layout, 3);
  g_assert_cmpuint (a, >, 25);
  g_assert_cmpuint (MAX (MAX (a, b), c) - MIN (MIN (a, b), c), <=, 1);
  g_assert_nonnull (strstr (bl_layout_part (layout, 2)->rule, "mixed with 2 others"));
}

/* Bulbs that are gone by summer lie between the others. */
static void
test_bulbs (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlLayout) with = NULL, without = NULL;
  BlPlant *bulb;

  scene_bed (model, "Front", scene_rectangle (0, 0, 6, 3), TRUE);
  scene_plant (model, "geranium-macrorrhizum", BL_TYPE_PERENNIAL, 0.5, 0.4);
  bulb = scene_plant (model, "narcissus-poeticus", BL_TYPE_BULB, 0.15, 0.15);
  bulb->spring_only = TRUE;
  scene_planting (model, 1, "geranium-macrorrhizum", BL_PLANTING_FILL, NULL);
  without = bl_layout_compute (model, 1);
  scene_planting (model, 1, "narcissus-poeticus", BL_PLANTING_DRIFT, scene_rectangle (1, 1, 3, 2));
  with = bl_layout_compute (model, 1);
  g_assert_cmpuint (count_of (with, 1), ==, count_of (without, 1));
  g_assert_cmpuint (count_of (with, 2), >, 60);
}

static void
test_messages (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlLayout) layout = NULL, none = NULL;
  BlPoints *bow = scene_rectangle (1, 1, 3, 2);
  BlPoint swap = bl_points_at (bow, 2);
  BlBed *unknown;

  bl_points_at (bow, 2) = bl_points_at (bow, 3);
  bl_points_at (bow, 3) = swap;
  scene_bed (model, "Front", scene_rectangle (0, 0, 6, 3), TRUE);
  scene_plant (model, "salvia-nemorosa", BL_TYPE_PERENNIAL, 0.6, 0.4);
  scene_plant (model, "quercus-alba", BL_TYPE_TREE, 20, 12);
  unknown = bl_bed_new ();
  unknown->id = 2;
  g_free (unknown->name);
  unknown->name = g_strdup ("Back");
  unknown->problem = g_strdup ("the camera is not solved yet.");
  g_ptr_array_add (model->beds, unknown);
  scene_planting (model, 1, "missing-plant", BL_PLANTING_FILL, NULL);
  scene_planting (model, 9, "salvia-nemorosa", BL_PLANTING_FILL, NULL);
  scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_DRIFT, bow);
  scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_DRIFT, NULL);
  scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_SPECIMEN, NULL);
  scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_SPECIMEN, scene_point (50, 50));
  scene_planting (model, 1, "quercus-alba", BL_PLANTING_FILL, NULL);
  scene_planting (model, 2, "salvia-nemorosa", BL_PLANTING_FILL, NULL);
  scene_planting (model, 2, "quercus-alba", BL_PLANTING_FILL, NULL);
  layout = bl_layout_compute (model, 1);
  g_assert_true (says (layout, "plant record is missing"));
  g_assert_true (says (layout, "the bed is gone"));
  g_assert_true (says (layout, "crosses itself"));
  g_assert_true (says (layout, "has no outline"));
  g_assert_true (says (layout, "has no place"));
  g_assert_true (says (layout, "outside the bed"));
  g_assert_true (says (layout, "finds no room"));
  /* Two plantings wait for the same bed: it is said once. */
  g_assert_true (says (layout, "so 2 plantings in it wait. the camera is not solved yet."));
  g_assert_cmpuint (layout->messages->len, ==, 8);
  g_assert_cmpuint (layout->placed->len, ==, 1);
  none = bl_layout_compute (model, 77);
  g_assert_true (says (none, "no such alternative"));
  g_assert_cmpuint (none->placed->len, ==, 0);
}

/* While a drift is dragged its plants go with it; when the bed line moves, those that fit stay. */
static void
test_follow (void)
{
  g_autoptr (BlModel) model = scene_new (), moved = scene_new (), wider = scene_new ();
  BlModel *models[] = { model, moved, wider };
  g_autoptr (BlLayout) before = NULL, dragged = NULL, grown = NULL, after = NULL, fresh = NULL;
  guint stayed = 0;

  for (int i = 0; i < 3; i++)
    {
      double dx = i == 1 ? 0.37 : 0, x1 = i == 2 ? 6.2 : 6;

      scene_bed (models[i], "Front", scene_rectangle (0, 0, x1, 3), TRUE);
      scene_plant (models[i], "salvia-nemorosa", BL_TYPE_PERENNIAL, 0.4, 0.4);
      scene_plant (models[i], "carex-flacca", BL_TYPE_GRASS, 0.3, 0.3);
      scene_planting (models[i], 1, "salvia-nemorosa", BL_PLANTING_DRIFT,
                      scene_rectangle (1 + dx, 0.5, 3 + dx, 2.5));
      scene_planting (models[i], 1, "carex-flacca", BL_PLANTING_FILL, NULL);
    }
  before = bl_layout_compute (model, 1);
  dragged = bl_layout_follow (moved, 1, before);
  g_assert_cmpuint (count_of (dragged, 1), ==, count_of (before, 1));
  for (guint i = 0; i < count_of (before, 1); i++)
    {
      BlPoint a = g_array_index (before->placed, BlPlaced, i).at;
      BlPoint b = g_array_index (dragged->placed, BlPlaced, i).at;

      g_assert_cmpfloat_with_epsilon (b.x - a.x, 0.37, 1e-9);
      g_assert_cmpfloat_with_epsilon (b.y, a.y, 1e-9);
    }
  grown = bl_layout_follow (wider, 1, before);
  for (guint i = 0; i < before->placed->len; i++)
    for (guint k = 0; k < grown->placed->len; k++)
      stayed += bl_dist (g_array_index (before->placed, BlPlaced, i).at,
                         g_array_index (grown->placed, BlPlaced, k).at) < 1e-9;
  g_assert_cmpuint (stayed, ==, before->placed->len);
  /* When the drag ends, the result is the plain one. */
  after = bl_layout_compute_after (wider, 1, grown);
  fresh = bl_layout_compute (wider, 1);
  g_assert_cmpuint (after->placed->len, ==, fresh->placed->len);
  for (guint i = 0; i < after->placed->len; i++)
    g_assert_cmpfloat (bl_dist (g_array_index (after->placed, BlPlaced, i).at,
                                g_array_index (fresh->placed, BlPlaced, i).at),
                       ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/layout/fill", test_fill);
  g_test_add_func ("/layout/drawn", test_drawn);
  g_test_add_func ("/layout/clearances", test_clearances);
  g_test_add_func ("/layout/tree-and-stone", test_tree_and_stone);
  g_test_add_func ("/layout/shared-fill", test_shared_fill);
  g_test_add_func ("/layout/bulbs", test_bulbs);
  g_test_add_func ("/layout/messages", test_messages);
  g_test_add_func ("/layout/follow", test_follow);
  return g_test_run ();
}
