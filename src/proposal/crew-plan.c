/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The crew's plans: every plant with its number, and the outlines to mark before. */
#include <math.h>

#include "proposal/crew.h"

static double
nearest_neighbour (const BlLayout *layout, guint i)
{
  BlPoint p = g_array_index (layout->placed, BlPlaced, i).at;
  double nearest = INFINITY;

  for (guint k = 0; k < layout->placed->len; k++)
    if (k != i)
      nearest = MIN (nearest, bl_dist (p, g_array_index (layout->placed, BlPlaced, k).at));
  return nearest;
}

/* "EP 7" for each plant, on two lines where they stand close; NULL where they stand too close. */
static GHashTable *
numbers_on_plan (const BlBookPart *part, const BlSetout *setout, double k)
{
  g_autoptr (GHashTable) numbers = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  g_autoptr (GPtrArray) names = bl_crew_names (part, setout);

  if (setout->rows->len > 1500)
    return NULL;
  for (guint i = 0; i < setout->rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);
      double room = nearest_neighbour (part->layout, row->placed) * k;
      char *text = g_strdup (names->pdata[i]);

      if (room < 8.5)
        {
          g_free (text);
          return NULL;
        }
      g_strdelimit (text, " ", room < 20 ? '\n' : ' ');
      g_hash_table_insert (numbers, GUINT_TO_POINTER (row->placed + 1), text);
    }
  return g_steal_pointer (&numbers);
}

/* The beds, and the points to tape from where they do not cost a step of the scale. */
static BlRect
plan_window (BlBook *book, const GArray *marks, BlRect box, BlPlanSetup bare)
{
  BlRect near = bl_book_beds (book->model, 0.35), wide = near;
  double scale;

  for (guint i = 0; i < marks->len; i++)
    {
      BlPoint p = g_array_index (marks, BlPlanMark, i).at;

      wide = bl_rect_union (wide, (BlRect) { p.x - 0.2, p.y - 0.2, p.x + 0.2, p.y + 0.5 });
    }
  bare.window = near;
  scale = bl_book_plan_scale (book, box, &bare).ratio;
  bare.window = wide;
  return bl_book_plan_scale (book, box, &bare).ratio > scale ? near : wide;
}

static void
set_plants (BlBook *book, const BlBookPart *part, const BlSetout *setout, const GArray *marks)
{
  BlPress *press = book->press;
  g_autoptr (GPtrArray) kinds = bl_plan_kinds (part);
  g_autoptr (GHashTable) numbers = NULL;
  BlPlanSetup setup = { .scene = BL_SCENE_MONOCHROME | BL_SCENE_MATURE_SPREAD, .moment = { 7.5, 3 },
                        .marks = marks, .dimensions = TRUE, .plain = TRUE };
  double k;
  BlRect box;

  bl_plan_page (book, part, BL_W (book, "Planting plan"));
  box = (BlRect) { press->left, press->y, press->right,
                   press->bottom - bl_plan_key (book, part, kinds, FALSE) };
  setup.window = plan_window (book, marks, box, setup);
  k = bl_scale_points_per_metre (bl_book_plan_scale (book, box, &setup)) / press->zoom;
  numbers = numbers_on_plan (part, setout, k);
  setup.numbers = numbers;
  if (numbers == NULL)
    setup.scene |= BL_SCENE_LABELS;
  bl_book_plan (book, part, box, &setup);
  bl_plan_key (book, part, kinds, TRUE);
  press->y = press->bottom;
}

/* Each corner as a spot on the plan. */
static GArray *
corner_spots (const BlBookPart *part, const BlSetout *setout)
{
  GArray *spots = g_array_new (FALSE, TRUE, sizeof (BlPlanMark));
  g_autoptr (GPtrArray) names = bl_crew_corner_names (part, setout);

  for (guint i = 0; i < setout->corners->len; i++)
    {
      BlPlanMark spot = { .at = g_array_index (setout->corners, BlSetoutRow, i).at };

      g_strlcpy (spot.text, names->pdata[i], sizeof spot.text);
      g_array_append_val (spots, spot);
    }
  return spots;
}

static GPtrArray *
drift_lines (const BlLayout *layout)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);

  for (guint i = 0; i < layout->model->plantings->len; i++)
    {
      const BlPlanting *planting = layout->model->plantings->pdata[i];

      if (planting->alternative_id == layout->alternative_id
          && planting->form == BL_PLANTING_DRIFT && planting->shape != NULL)
        g_ptr_array_add (lines, bl_outline_flatten (planting->shape, 0.01));
    }
  return lines;
}

static void
set_outlines (BlBook *book, const BlBookPart *part, const BlSetout *setout, const GArray *marks)
{
  BlPress *press = book->press;
  g_autoptr (GArray) spots = corner_spots (part, setout);
  g_autoptr (GPtrArray) lines = drift_lines (part->layout);
  BlPlanSetup setup = { .scene = BL_SCENE_MONOCHROME | BL_SCENE_BARE, .moment = { 7.5, 0 },
                        .marks = marks, .spots = spots, .lines = lines, .dimensions = TRUE,
                        .plain = TRUE };
  BlRect box;

  if (spots->len == 0)
    return;
  bl_plan_page (book, part, BL_W (book, "Outlines to mark"));
  press->y -= 4;
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left,
                       BL_W (book, "Numbers are corners of the bed line, letters those of the drifts "
                                   "(dashed); the set-out table says where each lies."));
  press->y += 4;
  box = (BlRect) { press->left, press->y, press->right, press->bottom };
  setup.window = plan_window (book, marks, box, setup);
  bl_book_plan (book, part, box, &setup);
  press->y = press->bottom;
}

void
bl_crew_plans (BlBook *book, const BlBookPart *part, const BlSetout *setout, BlSetoutWays ways)
{
  g_autoptr (GArray) marks = bl_crew_marks (setout, ways);

  set_plants (book, part, setout, marks);
  set_outlines (book, part, setout, marks);
}
