/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What always stands on the canvas (bed lines, knowns, features, the selection), drawn and in
 * words. */

#include "config.h"

#include "studio/canvas-private.h"

#include "base/say.h"
#include "studio/trial.h"
#include "studio/underlay.h"

#include <glib/gi18n.h>

static void
add_bed (BlBoard *board, BlMarks *marks, const BlBed *bed, double slack)
{
  gboolean selected = bl_board_is_selected (board, BL_PICK_BED, bed->id);
  g_autoptr (BlOutline) seen = bed->source == BL_FROM_TAPE || bed->outline == NULL
    ? bl_board_outline_seen (board, bed->ground, BL_FROM_PLAN)
    : bl_board_outline_seen (board, bed->outline, bed->source);
  BlStage stage = bl_board_get_stage (board);

  if (seen == NULL || (!selected && stage != BL_STAGE_KNOWN && stage != BL_STAGE_BED))
    return;
  bl_marks_add_outline (marks, selected ? BL_INK_SELECTED : BL_INK_QUIET, FALSE, seen,
                        slack * 0.05);
  if (stage == BL_STAGE_BED && bed->area.value > 0 && seen->points->len > 0)
    {
      g_autofree char *area = bl_area_format_interval (bed->area.value, bed->area.sd,
                                                       bl_board_get_model (board)->units, bl_say_window ());
      g_autoptr (GArray) ring = bl_outline_flatten (seen, slack);

      bl_marks_add_words (marks, BL_INK_QUIET, bl_polygon_centroid (ring),
                          g_strdup_printf ("%s · %s", bed->name, area));
    }
}

static void
add_feature (BlBoard *board, BlMarks *marks, const BlFeature *feature, double slack)
{
  gboolean selected = bl_board_is_selected (board, BL_PICK_FEATURE, feature->id);
  g_autoptr (BlOutline) seen = NULL;

  if (!selected && bl_board_get_stage (board) != BL_STAGE_BED
      && bl_board_get_stage (board) != BL_STAGE_SITE)
    return;
  if (feature->kind == BL_FEATURE_IN_FRONT && bl_board_get_view (board) == BL_VIEW_PLAN)
    return;
  seen = bl_board_outline_seen (board, feature->outline, feature->source);
  if (seen != NULL)
    bl_marks_add_outline (marks, selected ? BL_INK_SELECTED : BL_INK_QUIET, !selected, seen,
                          slack * 0.05);
}

static char *
known_words (const BlKnown *known, BlUnits units)
{
  g_autofree char *a = known->size[0] != 0 ? bl_length_format (known->size[0], units) : NULL;
  g_autofree char *b = known->size[1] != 0 ? bl_length_format (known->size[1], units) : NULL;

  if (known->kind == BL_KNOWN_RECTANGLE && a != NULL && b != NULL)
    return g_strdup_printf ("%s × %s", a, b);
  if (known->kind == BL_KNOWN_POSITION)
    return g_strdup (known->name);
  return g_strdup (a);
}

static void
add_known (BlBoard *board, BlMarks *marks, const BlKnown *known)
{
  gboolean selected = bl_board_is_selected (board, BL_PICK_KNOWN, known->id);
  BlInk ink = selected ? BL_INK_SELECTED : BL_INK_ACTIVE;
  const BlTrial *trial = bl_board_get_trial (board);

  /* The one being moved is drawn by its hand. */
  if (known->px == NULL || known->px->len == 0
      || (trial != NULL && trial->known->id == known->id))
    return;
  if (known->px->len > 1
      && (known->kind == BL_KNOWN_PARALLEL || known->kind == BL_KNOWN_EQUAL_LENGTHS))
    for (guint i = 0; i + 1 < known->px->len; i += 2)
      bl_marks_add_segment (marks, ink, FALSE, bl_points_at (known->px, i),
                            bl_points_at (known->px, i + 1));
  else if (known->px->len > 1)
    bl_marks_add (marks, known->kind == BL_KNOWN_RECTANGLE ? BL_MARK_RING : BL_MARK_LINE, ink,
                  FALSE, bl_points_copy (known->px));
  for (guint i = 0; i < known->px->len; i++)
    bl_marks_add_point (marks, BL_MARK_DOT, ink, bl_points_at (known->px, i));
  bl_marks_add_words (marks, ink, bl_points_at (known->px, 0),
                      known_words (known, bl_board_get_model (board)->units));
}

static void
add_drawing_length (BlBoard *board, BlMarks *marks, const BlModel *model)
{
  BlPoint a, b;

  if (!model->drawing_camera.scaled || bl_board_get_proposed_drawing (board) != NULL
      || !bl_board_point_seen (board, model->drawing.ends[0], BL_FROM_DRAWING, &a)
      || !bl_board_point_seen (board, model->drawing.ends[1], BL_FROM_DRAWING, &b))
    return;
  bl_marks_add_segment (marks, BL_INK_ACTIVE, FALSE, a, b);
  bl_marks_add_point (marks, BL_MARK_DOT, BL_INK_ACTIVE, a);
  bl_marks_add_point (marks, BL_MARK_DOT, BL_INK_ACTIVE, b);
  bl_marks_add_words (marks, BL_INK_ACTIVE, bl_lerp (a, b, 0.5),
                      bl_length_format (model->drawing.length, model->units));
}

/* Many plants get small thin rings: a net of full ones would hide them. */
#define MANY 12

static guint
count_selected (BlBoard *board, const BlLayout *layout, gint64 lifted)
{
  gint64 last = 0;
  gboolean marked = FALSE;
  guint n = 0;

  for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
    {
      gint64 id = g_array_index (layout->placed, BlPlaced, i).planting_id;

      if (id != last)
        marked = id != lifted && bl_board_is_selected (board, BL_PICK_PLANTING, id);
      last = id;
      n += marked;
    }
  return n;
}

static void
add_selected_plants (BlBoard *board, BlMarks *marks)
{
  BlLayout *layout = bl_board_get_layout (board);
  gint64 lifted = bl_board_get_lift (board, NULL), last = 0;
  gboolean marked = FALSE, many = count_selected (board, layout, lifted) > MANY;

  for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);

      if (placed->planting_id != last)
        {
          last = placed->planting_id;
          marked = last != lifted && bl_board_is_selected (board, BL_PICK_PLANTING, last);
        }
      if (marked)
        bl_marks_add (
            marks, BL_MARK_RING, many ? BL_INK_HELD : BL_INK_SELECTED, FALSE,
            bl_board_ring_seen (board, placed->at, placed->plant->spread * (many ? 0.16 : 0.5)));
    }
}

BlMarks *
bl_board_standing_marks (BlBoard *board, double slack)
{
  BlMarks *marks = bl_marks_new ();
  const BlModel *model = bl_board_get_model (board);

  for (guint i = 0; i < model->beds->len; i++)
    add_bed (board, marks, g_ptr_array_index (model->beds, i), slack);
  for (guint i = 0; i < model->features->len; i++)
    add_feature (board, marks, g_ptr_array_index (model->features, i), slack);
  if (bl_board_get_stage (board) == BL_STAGE_KNOWN && bl_board_get_view (board) == BL_VIEW_PHOTO)
    for (guint i = 0; i < model->knowns->len; i++)
      add_known (board, marks, g_ptr_array_index (model->knowns, i));
  if (bl_board_get_stage (board) == BL_STAGE_KNOWN && bl_board_get_view (board) == BL_VIEW_PLAN)
    add_drawing_length (board, marks, model);
  if (bl_board_get_stage (board) == BL_STAGE_KNOWN && bl_board_get_view (board) == BL_VIEW_PLAN
      && model->tape != NULL)
    for (guint i = 0; i < model->tape->points->len; i++)
      {
        const BlTapePoint *point = &g_array_index (model->tape->points, BlTapePoint, i);

        bl_marks_add_point (marks, BL_MARK_DOT, BL_INK_ACTIVE, point->at);
        bl_marks_add_words (marks, BL_INK_ACTIVE, point->at, g_strdup (point->name));
      }
  add_selected_plants (board, marks);
  return marks;
}

static const char *
month_name (double month)
{
  static const char *const names[]
      = { N_ ("January"),   N_ ("February"), N_ ("March"),    N_ ("April"),
          N_ ("May"),       N_ ("June"),     N_ ("July"),     N_ ("August"),
          N_ ("September"), N_ ("October"),  N_ ("November"), N_ ("December") };

  return _(names[((int) month + 11) % 12]);
}

static const char *
form_words (BlPlantingForm form)
{
  switch (form)
    {
    case BL_PLANTING_ROW:
      return _("row");
    case BL_PLANTING_DRIFT:
      return _("drift");
    case BL_PLANTING_FILL:
      return _("fill");
    case BL_PLANTING_SPECIMEN:
    default:
      return _("specimen");
    }
}

char *
bl_board_describe_planting (BlBoard *board, gint64 id)
{
  const BlModel *model = bl_board_get_model (board);
  const BlPlanting *planting = bl_model_planting (model, id);
  BlPlant *plant = planting != NULL ? bl_model_plant (model, planting->slug) : NULL;
  BlLayout *layout = bl_board_get_layout (board);
  g_autofree char *name = NULL;
  GString *words;
  const BlBed *bed;
  guint n = 0;
  double from, to;

  if (plant == NULL)
    return g_strdup ("");
  name = bl_plant_name (plant);
  words = g_string_new (name);
  g_string_append_printf (words, ", %s", form_words (planting->form));
  for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
    n += g_array_index (layout->placed, BlPlaced, i).planting_id == id;
  if (planting->form != BL_PLANTING_SPECIMEN)
    g_string_append_printf (words, ngettext (", %u plant", ", %u plants", n), n);
  bed = bl_model_bed (model, planting->bed_id);
  if (planting->form == BL_PLANTING_SPECIMEN && planting->shape != NULL && bed != NULL
      && bed->ring != NULL)
    {
      double inside
          = bl_polygon_inside_distance (bed->ring, bl_points_at (planting->shape->points, 0));
      g_autofree char *edge = bl_length_format (fabs (inside), model->units);

      g_string_append_printf (words, inside < 0 ? _(", %s outside the bed line")
                                                : _(", %s from the bed line"), edge);
    }
  if (bl_season_bloom (&model->site, plant, &from, &to))
    g_string_append_printf (words, _(", flowers %s to %s"), month_name (from), month_name (to - 0.02));
  if (planting->locked)
    g_string_append (words, _(", locked"));
  return g_string_free (words, FALSE);
}

char *
bl_board_describe (BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  const BlAlternative *alternative = bl_model_alternative (model, bl_board_get_alternative (board));
  const GArray *selection = bl_board_get_selection (board);
  BlLayout *layout = bl_board_get_layout (board);
  BlMoment moment = bl_board_get_moment (board);
  GString *words
      = g_string_new (bl_board_get_view (board) == BL_VIEW_PLAN ? _ ("Plan") : _ ("Photo"));
  guint n = layout != NULL ? layout->placed->len : 0;

  if (alternative != NULL)
    g_string_append_printf (words, _(", alternative %s"), alternative->name);
  g_string_append_printf (words, _(", %s, year %.0f"), month_name (moment.month), moment.years);
  g_string_append_printf (words, ngettext (": %u plant", ": %u plants", n), n);
  if (selection->len == 1 && g_array_index (selection, BlPick, 0).kind == BL_PICK_PLANTING)
    {
      g_autofree char *one
          = bl_board_describe_planting (board, g_array_index (selection, BlPick, 0).id);

      g_string_append_printf (words, _("; selected: %s"), one);
    }
  else if (selection->len > 0)
    g_string_append_printf (words, _("; selected: %u"), selection->len);
  return g_string_free (words, FALSE);
}
