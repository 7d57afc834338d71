/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hands that plant: one specimen, a row along a line, a drift, a fill. */

#include "config.h"

#include "base/say.h"
#include "studio/spot.h"
#include "studio/stroke.h"

#include <glib/gi18n.h>

typedef struct
{
  BlHand hand;
  BlPoints *points;  /* clicked, on the plan */
  BlPoints *stroke;  /* painted, on the plan */
  double brush;      /* metres, radius; 0 = from the plant's spacing */
} PlantHand;

static BlPlant *
plant_in_hand (BlHand *hand)
{
  return bl_board_dup_plant (hand->board, bl_board_get_pen (hand->board)->slug);
}

static double
spacing_in_hand (BlHand *hand, const BlPlant *plant)
{
  double own = bl_board_get_pen (hand->board)->spacing;

  return own > 0 ? own : plant->spacing > 0 ? plant->spacing : plant->spread;
}

static gboolean
on_ground (BlHand *hand, BlPoint *plan)
{
  if (bl_board_to_plan (hand->board, hand->at, plan))
    return TRUE;
  return FALSE;
}

static void
say_no_ground (BlHand *hand)
{
  if (bl_model_camera (bl_board_get_model (hand->board)) == NULL)
    bl_board_say (hand->board,
                  _ ("Nothing is known of the photo yet: state a rectangle or a length, or "
                     "work on the plan"));
  else
    bl_board_say (hand->board, _("That point is above the horizon: plants stand on the ground"));
}

static void
clear (BlHand *hand)
{
  PlantHand *self = (PlantHand *) hand;

  g_clear_pointer (&self->points, g_array_unref);
  g_clear_pointer (&self->stroke, g_array_unref);
}

static void
let_go (BlHand *hand)
{
  g_clear_pointer (&((PlantHand *) hand)->stroke, g_array_unref);
}

static void
plant_points (BlHand *hand, BlPlantingForm form, BlPoints *points, gboolean open)
{
  BlOutline *shape = bl_outline_new_take (points, FALSE);
  BlPoint middle = bl_points_at (points, points->len / 2);

  shape->open = open;
  if (form == BL_PLANTING_DRIFT)
    {
      g_autoptr (GArray) ring = bl_outline_flatten (shape, 0.01);

      middle = bl_polygon_centroid (ring);
    }
  bl_board_plant (hand->board, form, shape, bl_board_bed_at (hand->board, middle));
}

/* Specimen. */

static BlPoint
specimen_place (BlHand *hand, const BlPlant *plant, BlPoint plan)
{
  if ((hand->mods & BL_MOD_CTRL) != 0)
    return plan;
  return bl_spot_snap (hand->board, plant, plan,
                        bl_spot_slack (hand->board, hand->at, plan, hand->slack), 0);
}

static void
release_specimen (BlHand *hand, const BlHandEvent *event)
{
  g_autoptr (BlPlant) plant = plant_in_hand (hand);
  BlPoints *points;
  BlPoint plan;

  if (!on_ground (hand, &plan))
    {
      say_no_ground (hand);
      return;
    }
  points = bl_points_new ();
  bl_points_add (points, plant != NULL ? specimen_place (hand, plant, plan) : plan);
  plant_points (hand, BL_PLANTING_SPECIMEN, points, TRUE);
}

static void
mark_specimen (BlHand *hand, BlMarks *marks)
{
  g_autoptr (BlPlant) plant = plant_in_hand (hand);
  BlPoint plan;

  if (plant != NULL && hand->inside && on_ground (hand, &plan))
    bl_spot_marks (hand->board, marks, plant, specimen_place (hand, plant, plan), 0, TRUE);
}

static char *
hint_plant (BlHand *hand, const char *what)
{
  g_autoptr (BlPlant) plant = plant_in_hand (hand);

  if (plant == NULL)
    return g_strdup (_("Pick a plant on the shelf first"));
  return g_strdup_printf ("%s: %s", bl_plant_common (plant, bl_say_window ()), what);
}

static char *
hint_specimen (BlHand *hand)
{
  return hint_plant (
      hand, _ ("click where it stands; Ctrl lets it go where you point, without snapping"));
}

/* Lines of clicked or dragged points, shared by row and drift. */

static void
press_line (BlHand *hand, const BlHandEvent *event)
{
  PlantHand *self = (PlantHand *) hand;
  BlPoint plan;

  g_clear_pointer (&self->stroke, g_array_unref);
  if (!on_ground (hand, &plan))
    {
      say_no_ground (hand);
      return;
    }
  self->stroke = bl_points_new ();
  bl_points_add (self->stroke, plan);
}

static void
drag_line (BlHand *hand, const BlHandEvent *event)
{
  PlantHand *self = (PlantHand *) hand;
  BlPoint plan;

  if (self->stroke != NULL && on_ground (hand, &plan))
    bl_points_add (self->stroke, plan);
}

static gboolean
add_click (PlantHand *self)
{
  BlPoint plan;

  if (!on_ground (&self->hand, &plan))
    return FALSE;
  if (self->points == NULL)
    self->points = bl_points_new ();
  if (self->points->len > 0
      && bl_dist (bl_points_at (self->points, self->points->len - 1), plan) < 0.02)
    return FALSE;
  bl_points_add (self->points, plan);
  return TRUE;
}

static void
release_row (BlHand *hand, const BlHandEvent *event)
{
  PlantHand *self = (PlantHand *) hand;

  if (self->stroke != NULL && hand->dragged && bl_stroke_length (self->stroke) > 0.1)
    {
      BlPoints *line = bl_points_new ();

      if (self->points == NULL)
        {
          bl_points_add (line, bl_points_at (self->stroke, 0));
          bl_points_add (line, bl_points_at (self->stroke, self->stroke->len - 1));
          plant_points (hand, BL_PLANTING_ROW, line, TRUE);
          clear (hand);
          return;
        }
      g_array_unref (line);
    }
  g_clear_pointer (&self->stroke, g_array_unref);
  add_click (self);
  if (event->n_press >= 2 && self->points != NULL && self->points->len >= 2)
    plant_points (hand, BL_PLANTING_ROW, g_steal_pointer (&self->points), TRUE);
}

static BlPoints *
row_shown (PlantHand *self)
{
  BlPoints *line = self->points != NULL ? bl_points_copy (self->points) : bl_points_new ();
  BlPoint plan;

  if (self->points == NULL && self->stroke != NULL && self->hand.dragged)
    bl_points_add (line, bl_points_at (self->stroke, 0));
  if (self->hand.inside && line->len > 0 && on_ground (&self->hand, &plan)
      && bl_dist (bl_points_at (line, line->len - 1), plan) > 0.02)
    bl_points_add (line, plan);
  return line;
}

static void
mark_row (BlHand *hand, BlMarks *marks)
{
  PlantHand *self = (PlantHand *) hand;
  g_autoptr (BlPlant) plant = plant_in_hand (hand);
  g_autoptr (GArray) line = row_shown (self);
  g_autoptr (BlOutline) shape = NULL;
  g_autoptr (GArray) flat = NULL;
  g_autoptr (GArray) places = NULL;

  if (plant == NULL)
    return;
  if (line->len < 2)
    {
      if (line->len == 0)
        mark_specimen (hand, marks);
      return;
    }
  shape = bl_outline_new_take (bl_points_copy (line), FALSE);
  shape->open = TRUE;
  flat = bl_outline_flatten (shape, 0.01);
  places = bl_lattice_along (flat, spacing_in_hand (hand, plant));
  for (guint i = 0; i < places->len && i < 200; i++)
    bl_marks_add (marks, BL_MARK_RING, BL_INK_ACTIVE, FALSE,
                  bl_board_ring_seen (hand->board, bl_points_at (places, i), plant->spread / 2));
  bl_marks_add_words (
      marks, BL_INK_ACTIVE, hand->at,
      g_strdup_printf (ngettext ("%u plant", "%u plants", places->len), places->len));
}

static gboolean
key_line (BlHand *hand, BlHandKey which, BlPlantingForm form, guint least)
{
  PlantHand *self = (PlantHand *) hand;
  guint n = self->points != NULL ? self->points->len : 0;

  switch (which)
    {
    case BL_KEY_ENTER:
      if (n < least)
        return FALSE;
      plant_points (hand, form, g_steal_pointer (&self->points), form == BL_PLANTING_ROW);
      return TRUE;
    case BL_KEY_ESCAPE:
      clear (hand);
      return TRUE;
    case BL_KEY_BACKSPACE:
    case BL_KEY_DELETE:
      if (n > 0)
        g_array_set_size (self->points, n - 1);
      return n > 0;
    case BL_KEY_SMALLER:
    case BL_KEY_LARGER:
    case BL_KEY_SHARP:
    default:
      return FALSE;
    }
}

static gboolean
key_row (BlHand *hand, BlHandKey which)
{
  return key_line (hand, which, BL_PLANTING_ROW, 2);
}

static char *
hint_row (BlHand *hand)
{
  return hint_plant (
      hand, _ ("drag a straight row, or click along it and end with Enter or a double click"));
}

/* Drift. */

static double
brush_of (PlantHand *self, const BlPlant *plant)
{
  return self->brush > 0 ? self->brush : MAX (0.15, spacing_in_hand (&self->hand, plant) * 1.2);
}

static void
release_drift (BlHand *hand, const BlHandEvent *event)
{
  PlantHand *self = (PlantHand *) hand;
  g_autoptr (BlPlant) plant = plant_in_hand (hand);
  g_autoptr (GError) error = NULL;

  if (self->stroke != NULL && hand->dragged && self->points == NULL && plant != NULL)
    {
      double brush = brush_of (self, plant);
      BlOutline *band = bl_stroke_band (self->stroke, brush, brush * 0.12, &error);
      g_autoptr (GArray) stroke = g_steal_pointer (&self->stroke);

      bl_board_report (hand->board, error);
      if (band != NULL)
        bl_board_plant (hand->board, BL_PLANTING_DRIFT, band,
                        bl_board_bed_at (hand->board, bl_points_at (stroke, stroke->len / 2)));
      return;
    }
  g_clear_pointer (&self->stroke, g_array_unref);
  add_click (self);
  if (event->n_press >= 2 && self->points != NULL && self->points->len >= 3)
    plant_points (hand, BL_PLANTING_DRIFT, g_steal_pointer (&self->points), FALSE);
}

static void
mark_outline_drift (PlantHand *self, BlMarks *marks, const BlPlant *plant)
{
  g_autoptr (BlOutline) line = bl_outline_new_take (row_shown (self), FALSE);
  g_autoptr (BlOutline) seen = NULL;
  g_autoptr (GArray) ring = NULL;
  double spacing = spacing_in_hand (&self->hand, plant), area;
  guint about;

  line->open = line->points->len < 3;
  seen = bl_board_outline_seen (self->hand.board, line, BL_FROM_PLAN);
  if (seen == NULL)
    return;
  seen->open = line->open;
  bl_marks_add_outline (marks, BL_INK_ACTIVE, FALSE, seen, self->hand.slack * 0.05);
  for (guint i = 0; i < self->points->len; i++)
    bl_marks_add_point (marks, BL_MARK_DOT, BL_INK_ACTIVE, bl_points_at (seen->points, i));
  if (line->points->len < 3)
    return;
  ring = bl_outline_flatten (line, 0.01);
  area = bl_polygon_area (ring);
  about = (guint) round (bl_lattice_formula_count (area, spacing,
                           bl_board_get_pen (self->hand.board)->square ? BL_LATTICE_SQUARE
                                                                       : BL_LATTICE_STAGGERED));
  bl_marks_add_words (
      marks, BL_INK_ACTIVE, self->hand.at,
      g_strdup_printf (ngettext ("about %u plant", "about %u plants", about), about));
}

static void
mark_drift (BlHand *hand, BlMarks *marks)
{
  PlantHand *self = (PlantHand *) hand;
  g_autoptr (BlPlant) plant = plant_in_hand (hand);
  BlPoint plan;

  if (plant == NULL)
    return;
  if (self->points != NULL && self->points->len > 0)
    {
      mark_outline_drift (self, marks, plant);
      return;
    }
  for (guint i = 0; self->stroke != NULL && hand->dragged && i < self->stroke->len;
       i += 1 + self->stroke->len / 60)
    bl_marks_add_filled (marks, BL_INK_ACTIVE,
                         bl_board_ring_seen (hand->board, bl_points_at (self->stroke, i),
                                             brush_of (self, plant)));
  if (hand->inside && on_ground (hand, &plan))
    bl_marks_add (marks, BL_MARK_RING, BL_INK_ACTIVE, TRUE,
                  bl_board_ring_seen (hand->board, plan, brush_of (self, plant)));
}

static gboolean
key_drift (BlHand *hand, BlHandKey which)
{
  PlantHand *self = (PlantHand *) hand;
  g_autoptr (BlPlant) plant = plant_in_hand (hand);

  if (plant != NULL && (which == BL_KEY_SMALLER || which == BL_KEY_LARGER))
    {
      self->brush
          = CLAMP (brush_of (self, plant) * (which == BL_KEY_LARGER ? 1.2 : 1 / 1.2), 0.1, 5);
      return TRUE;
    }
  return key_line (hand, which, BL_PLANTING_DRIFT, 3);
}

static char *
hint_drift (BlHand *hand)
{
  return hint_plant (hand, _("paint the drift by dragging ([ and ] change the brush), or click its "
                             "outline and end with Enter"));
}

/* Fill. */

static const BlBed *
bed_under (BlHand *hand)
{
  const BlModel *model = bl_board_get_model (hand->board);
  BlPoint plan;
  const BlBed *bed;

  if (!hand->inside || !on_ground (hand, &plan))
    return NULL;
  bed = bl_model_bed (model, bl_board_bed_at (hand->board, plan));
  return bed != NULL && bed->ring != NULL && bl_polygon_contains (bed->ring, plan) ? bed : NULL;
}

static void
release_fill (BlHand *hand, const BlHandEvent *event)
{
  const BlBed *bed = bed_under (hand);

  if (bed == NULL)
    bl_board_say (hand->board, _("Click inside a bed to fill what is left of it"));
  else
    bl_board_plant (hand->board, BL_PLANTING_FILL, NULL, bed->id);
}

static void
mark_fill (BlHand *hand, BlMarks *marks)
{
  const BlBed *bed = bed_under (hand);
  g_autoptr (BlOutline) seen = NULL;

  if (bed == NULL)
    return;
  seen = bl_board_outline_seen (hand->board, bed->ground, BL_FROM_PLAN);
  if (seen != NULL)
    bl_marks_add_filled (marks, BL_INK_ACTIVE, bl_outline_flatten (seen, hand->slack * 0.05));
}

static char *
hint_fill (BlHand *hand)
{
  return hint_plant (hand, _("click inside a bed to fill what is left of it"));
}

const BlHandClass bl_hand_specimen = {
  .name = "specimen", .cursor = "crosshair", .size = sizeof (PlantHand), .clear = clear,
  .release = release_specimen, .cancel = clear, .marks = mark_specimen, .hint = hint_specimen
};

const BlHandClass bl_hand_row = {
  .name = "row", .cursor = "crosshair", .size = sizeof (PlantHand), .clear = clear,
  .press = press_line, .drag = drag_line, .release = release_row, .cancel = clear, .let_go = let_go,
  .key = key_row, .marks = mark_row, .hint = hint_row
};

const BlHandClass bl_hand_drift = { .name = "drift",
                                    .cursor = "crosshair",
                                    .size = sizeof (PlantHand),
                                    .clear = clear,
                                    .press = press_line,
                                    .drag = drag_line,
                                    .release = release_drift,
                                    .cancel = clear,
                                    .let_go = let_go,
                                    .key = key_drift,
                                    .marks = mark_drift,
                                    .hint = hint_drift };

const BlHandClass bl_hand_fill = {
  .name = "fill", .cursor = "cell", .size = sizeof (PlantHand), .clear = clear,
  .release = release_fill, .cancel = clear, .marks = mark_fill, .hint = hint_fill
};
