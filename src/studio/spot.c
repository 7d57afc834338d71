/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Help for setting plants: snapping to spacing and bed line, and the distances in words. */

#include "config.h"

#include "base/say.h"
#include "studio/spot.h"

#include <glib/gi18n.h>

double
bl_spot_slack (BlBoard *board, BlPoint document, BlPoint plan, double slack)
{
  BlPoint aside;

  if (bl_board_get_view (board) == BL_VIEW_PLAN)
    return slack;
  if (!bl_board_to_plan (board, BL_POINT (document.x + slack, document.y), &aside))
    return 0;
  return bl_dist (plan, aside);
}

static const BlPlaced *
nearest (BlBoard *board, BlPoint plan, gint64 ignore, const char *slug, double *distance)
{
  BlLayout *layout = bl_board_get_layout (board);
  const BlPlaced *best = NULL;

  *distance = INFINITY;
  for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);
      double d = bl_dist (placed->at, plan);

      if (placed->planting_id == ignore || d >= *distance
          || (slug != NULL && !g_str_equal (placed->plant->slug, slug)))
        continue;
      *distance = d;
      best = placed;
    }
  return best;
}

static const BlBed *
bed_at (BlBoard *board, BlPoint plan)
{
  return bl_model_bed (bl_board_get_model (board), bl_board_bed_at (board, plan));
}

BlPoint
bl_spot_snap (BlBoard *board, const BlPlant *plant, BlPoint plan, double slack, gint64 ignore)
{
  const BlBed *bed = bed_at (board, plan);
  double distance;
  const BlPlaced *neighbour = nearest (board, plan, ignore, plant->slug, &distance);

  if (neighbour != NULL && distance > 1e-6 && fabs (distance - plant->spacing) < slack)
    return bl_add (neighbour->at, bl_mul (bl_sub (plan, neighbour->at), plant->spacing / distance));
  if (bed != NULL && bed->ring != NULL)
    {
      double inside = bl_polygon_inside_distance (bed->ring, plan);
      BlPoint edge = bl_polygon_nearest (bed->ring, plan, NULL);
      double d = bl_dist (edge, plan), half = plant->spread / 2;

      if (d > 1e-6 && fabs (inside - half) < slack)
        return bl_add (edge, bl_mul (bl_sub (plan, edge), (inside > 0 ? half : -half) / d));
    }
  return plan;
}

char *
bl_spot_words (BlBoard *board, BlPoint plan, gint64 ignore)
{
  const BlModel *model = bl_board_get_model (board);
  const BlBed *bed = bed_at (board, plan);
  g_autofree char *edge = NULL, *gap = NULL;
  GString *words = g_string_new (NULL);
  double distance;
  const BlPlaced *neighbour = nearest (board, plan, ignore, NULL, &distance);

  if (bed != NULL && bed->ring != NULL)
    {
      double inside = bl_polygon_inside_distance (bed->ring, plan);

      edge = bl_length_format (fabs (inside), model->units);
      if (inside < 0)
        g_string_append_printf (words, _("%s outside the bed line"), edge);
      else
        g_string_append_printf (words, _("%s from the bed line"), edge);
    }
  if (neighbour != NULL && distance < 3)
    {
      gap = bl_length_format (distance, model->units);
      if (words->len > 0)
        g_string_append (words, " · ");
      g_string_append_printf (words, _("%s from %s"), gap,
                              bl_plant_common (neighbour->plant, bl_say_window ()));
    }
  return g_string_free (words, FALSE);
}

gboolean
bl_spot_overlaps (BlBoard *board, const BlPlant *plant, BlPoint plan, gint64 ignore)
{
  BlLayout *layout = bl_board_get_layout (board);

  for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);
      double reach = MAX (plant->spread, placed->plant->spread) / 2;

      if (placed->planting_id != ignore && bl_dist (placed->at, plan) < reach * 0.8)
        return TRUE;
    }
  return FALSE;
}

void
bl_spot_marks (BlBoard *board, BlMarks *marks, const BlPlant *plant, BlPoint plan, gint64 ignore,
                gboolean ghost)
{
  BlPoint document;
  gboolean tight = bl_spot_overlaps (board, plant, plan, ignore);
  g_autofree char *where = NULL;

  if (!bl_board_from_plan (board, plan, &document))
    return;
  if (ghost)
    bl_marks_add_ghost (marks, (BlPlant *) plant, document, plan);
  bl_marks_add (marks, BL_MARK_RING, tight ? BL_INK_WRONG : BL_INK_ACTIVE, tight,
                bl_board_ring_seen (board, plan, plant->spread / 2));
  where = bl_spot_words (board, plan, ignore);
  if (tight)
    bl_marks_add_words (marks, BL_INK_WRONG, document,
                        g_strdup_printf (_("Close at mature spread · %s"), where));
  else if (where[0] != '\0')
    bl_marks_add_words (marks, BL_INK_ACTIVE, document, g_steal_pointer (&where));
}
