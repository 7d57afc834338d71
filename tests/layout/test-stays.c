/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plants stay where they stand when a bed line moves a little: on random beds, moved by random steps
 * one after another, as a hand would. */
#include "base/rng.h"
#include "scene.h"

#define MOVES 6

static BlPoints *
blob (BlRng *rng, double x, double y, double rx, double ry, guint n)
{
  BlPoints *points = bl_points_new ();

  for (guint i = 0; i < n; i++)
    {
      double t = 2 * G_PI * i / n, r = bl_rng_range (rng, 0.8, 1.2);

      bl_points_add (points, BL_POINT (x + rx * r * cos (t), y + ry * r * sin (t)));
    }
  return points;
}

static BlModel *
random_design (BlRng *rng, BlPoints *line)
{
  BlModel *model = scene_new ();
  guint fills = 1 + bl_rng_int (rng, 2);

  scene_bed (model, "Bed", bl_points_copy (line), FALSE);
  scene_plant (model, "salvia-nemorosa", BL_TYPE_PERENNIAL, 0.45, bl_rng_range (rng, 0.35, 0.5));
  scene_plant (model, "carex-flacca", BL_TYPE_GRASS, 0.3, bl_rng_range (rng, 0.25, 0.4));
  scene_plant (model, "nepeta-faassenii", BL_TYPE_PERENNIAL, 0.3, 0.3);
  scene_plant (model, "cornus-sericea", BL_TYPE_SHRUB, 1.2, 1.2);
  scene_planting (model, 1, "salvia-nemorosa", BL_PLANTING_DRIFT, blob (rng, -2, 0.3, 1.2, 0.9, 7));
  scene_planting (model, 1, "cornus-sericea", BL_PLANTING_SPECIMEN, scene_point (1.8, 0.2));
  scene_planting (model, 1, "carex-flacca", BL_PLANTING_FILL, NULL);
  if (fills == 2)
    scene_planting (model, 1, "nepeta-faassenii", BL_PLANTING_FILL, NULL);
  return model;
}

/* The same design as it is stored when the bed line has moved from where @before was laid out. */
static BlModel *
moved_to (const BlLayout *before, BlPoints *line, gboolean keep)
{
  g_autoptr (GPtrArray) standing = bl_layout_standing (before, 1);
  g_autoptr (BlBed) bed = bl_bed_copy (bl_model_bed (before->model, 1));

  g_clear_pointer (&bed->outline, bl_outline_free);
  bed->outline = bl_outline_new_take (bl_points_copy (line), FALSE);
  if (!keep)
    for (guint i = 0; i < standing->len; i++)
      g_clear_pointer (&((BlPlanting *) standing->pdata[i])->stood, g_array_unref);
  return bl_model_variant (before->model, bed, standing);
}

static gboolean
is_there (const BlLayout *layout, const BlPlaced *plant)
{
  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *other = &g_array_index (layout->placed, BlPlaced, i);

      if (other->planting_id == plant->planting_id && bl_dist (other->at, plant->at) < 1e-9)
        return TRUE;
    }
  return FALSE;
}

static double
claim_of (const BlLayout *layout, const BlPlaced *plant)
{
  if (plant->form == BL_PLANTING_SPECIMEN)
    return plant->plant->spread / 2;
  return bl_layout_part (layout, plant->planting_id)->spacing / 2;
}

static void
check_rule (const BlLayout *layout)
{
  const BlBed *bed = bl_model_bed (layout->model, 1);

  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *p = &g_array_index (layout->placed, BlPlaced, i);

      if (p->form == BL_PLANTING_SPECIMEN)
        continue;
      g_assert_cmpfloat (bl_polygon_inside_distance (bed->ring, p->at), >=,
                         p->plant->spread / 2 - 1e-5);
      for (guint k = 0; k < layout->placed->len; k++)
        if (k != i)
          {
            const BlPlaced *q = &g_array_index (layout->placed, BlPlaced, k);

            g_assert_cmpfloat (bl_dist (p->at, q->at), >=,
                               claim_of (layout, p) + claim_of (layout, q) - 1e-6);
          }
    }
}

/* How many of @before have room in the new bed, by their own distance from its line. */
static guint
with_room (const BlLayout *before, const BlLayout *after, guint *gone)
{
  const BlBed *bed = bl_model_bed (after->model, 1);
  guint n = 0;

  for (guint i = 0; i < before->placed->len; i++)
    {
      const BlPlaced *p = &g_array_index (before->placed, BlPlaced, i);

      if (p->form == BL_PLANTING_SPECIMEN
          || bl_polygon_inside_distance (bed->ring, p->at) < p->plant->spread / 2 + 0.006)
        continue;
      n++;
      *gone += !is_there (after, p);
    }
  return n;
}

typedef struct
{
  guint moves, afresh, roomy, gone, placed, best, followed, jumped;
} Tally;

/* One more move of the line: of @points one goes up to 15 cm off. */
static void
nudge (BlRng *rng, BlPoints *points)
{
  BlPoint *p = &bl_points_at (points, bl_rng_int (rng, points->len));

  *p = bl_add (*p, BL_POINT (bl_rng_range (rng, -0.15, 0.15), bl_rng_range (rng, -0.15, 0.15)));
}

static BlLayout *
move_once (BlLayout *before, BlPoints *line, Tally *tally)
{
  g_autoptr (BlModel) stored = moved_to (before, line, TRUE), plain = moved_to (before, line, FALSE);
  BlLayout *after = bl_layout_compute_after (stored, 1, before);
  g_autoptr (BlLayout) again = bl_layout_compute (stored, 1);
  g_autoptr (BlLayout) fresh = bl_layout_compute (plain, 1);
  g_autoptr (BlLayout) live = bl_layout_follow (plain, 1, before);
  guint gone = 0, roomy = with_room (before, after, &gone);

  check_rule (after);
  check_rule (live);
  tally->moves++;
  tally->placed += after->placed->len;
  tally->best += fresh->placed->len;
  tally->roomy += roomy;
  tally->gone += gone;
  tally->afresh += gone * 4 > roomy;
  tally->followed += live->placed->len;
  for (guint i = 0; i < live->placed->len; i++)
    tally->jumped += !is_there (after, &g_array_index (live->placed, BlPlaced, i));
  /* The file alone gives what was seen: what was there before is only quicker. */
  g_assert_cmpuint (after->placed->len, ==, again->placed->len);
  for (guint i = 0; i < again->placed->len; i++)
    g_assert_true (is_there (after, &g_array_index (again->placed, BlPlaced, i)));
  return after;
}

static void
test_small_moves (void)
{
  BlRng rng = bl_rng (41);
  Tally t = { 0 };

  for (int round = 0; round < 24; round++)
    {
      g_autoptr (BlPoints) line = blob (&rng, 0, 0, 4.2, 2.2, 9);
      g_autoptr (BlModel) model = random_design (&rng, line);
      BlLayout *layout = bl_layout_compute (model, 1);

      for (int move = 0; move < MOVES; move++)
        {
          BlLayout *next;

          nudge (&rng, line);
          next = move_once (layout, line, &t);
          bl_layout_unref (layout);
          layout = next;
        }
      bl_layout_unref (layout);
    }
  g_test_message ("%u moves, %u laid out afresh; of %u plants with room %u moved; %u plants where "
                  "afresh there were %u; of %u shown while dragging %u jumped on release", t.moves,
                  t.afresh, t.roomy, t.gone, t.placed, t.best, t.followed, t.jumped);
  g_assert_cmpuint (t.gone * 100, <=, t.roomy * 5);
  g_assert_cmpuint (t.afresh * 20, <=, t.moves);
  g_assert_cmpuint (t.placed * 100, >=, t.best * 97);
  g_assert_cmpuint (t.jumped * 100, <=, t.followed * 5);
}

/* A bed that only grows loses no plant, however often it is moved. */
static void
test_growing (void)
{
  BlRng rng = bl_rng (42);

  for (int round = 0; round < 10; round++)
    {
      g_autoptr (BlPoints) line = blob (&rng, 0, 0, 4.2, 2.2, 9);
      g_autoptr (BlModel) model = random_design (&rng, line);
      BlLayout *layout = bl_layout_compute (model, 1);

      for (int move = 0; move < MOVES; move++)
        {
          g_autoptr (BlModel) stored = NULL;
          BlLayout *next;

          for (guint i = 0; i < line->len; i++)
            bl_points_at (line, i) = bl_mul (bl_points_at (line, i), 1.01);
          stored = moved_to (layout, line, TRUE);
          next = bl_layout_compute (stored, 1);
          g_assert_cmpuint (next->placed->len, >=, layout->placed->len);
          bl_layout_unref (layout);
          layout = next;
        }
      bl_layout_unref (layout);
    }
}

/* A line dragged far off is no small move: the bed is laid out anew and holds what it can. */
static void
test_far (void)
{
  BlRng rng = bl_rng (43);
  g_autoptr (BlPoints) line = blob (&rng, 0, 0, 4, 2, 9), far = blob (&rng, 3, 1, 6, 4, 9);
  g_autoptr (BlModel) model = random_design (&rng, line);
  g_autoptr (BlLayout) before = bl_layout_compute (model, 1);
  g_autoptr (BlModel) stored = moved_to (before, far, TRUE), plain = moved_to (before, far, FALSE);
  g_autoptr (BlLayout) after = bl_layout_compute (stored, 1), fresh = bl_layout_compute (plain, 1);

  check_rule (after);
  g_assert_cmpfloat (after->placed->len, >=, 0.97 * fresh->placed->len);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/stays/small-moves", test_small_moves);
  g_test_add_func ("/stays/growing", test_growing);
  g_test_add_func ("/stays/far", test_far);
  return g_test_run ();
}
