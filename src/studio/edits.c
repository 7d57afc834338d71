/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits of the design as the person thinks of them: each is one step of undo with a name. */

#include "config.h"

#include "studio/edits.h"

#include "geometry/polygon.h"

#include <glib/gi18n.h>

gboolean
bl_board_edit (BlBoard *board, const char *label, BlEditFunc edit, gpointer data)
{
  BlDesign *design = bl_board_get_design (board);
  const char *reason = bl_design_read_only_reason (design);
  g_autoptr (GError) error = NULL;

  if (reason != NULL)
    {
      bl_board_say (board, reason);
      return FALSE;
    }
  if (!bl_design_begin (design, label, &error))
    {
      bl_board_report (board, error);
      return FALSE;
    }
  if (!edit (design, data, &error))
    {
      bl_design_rollback (design);
      bl_board_report (board, error);
      return FALSE;
    }
  if (!bl_design_commit (design, &error))
    {
      bl_board_report (board, error);
      return FALSE;
    }
  return TRUE;
}

static gboolean
put_known (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_known (design, data, error);
}

gboolean
bl_board_put_known (BlBoard *board, const char *label, BlKnown *known)
{
  return bl_board_edit (board, label, put_known, known);
}

typedef struct
{
  BlBed *bed;
  GPtrArray *standing; /* BlPlanting: its drifts and fills, with the places of their plants */
} BedEdit;

static gboolean
put_bed (BlDesign *design, gpointer data, GError **error)
{
  BedEdit *edit = data;

  for (guint i = 0; edit->standing != NULL && i < edit->standing->len; i++)
    if (!bl_design_put_planting (design, edit->standing->pdata[i], error))
      return FALSE;
  return bl_design_put_bed (design, edit->bed, error);
}

static gboolean
is_same_line (const BlOutline *a, const BlOutline *b)
{
  return a != NULL && b != NULL && a->points->len == b->points->len && a->straight == b->straight
         && memcmp (a->points->data, b->points->data, a->points->len * sizeof (BlPoint)) == 0;
}

/* Plants stay where they stand when the bed line moves: their places go into the same edit. While a
 * new layout is still on its way, those stored by the edit before are good. */
static GPtrArray *
standing_in (BlBoard *board, const BlBed *bed)
{
  const BlBed *old = bl_model_bed (bl_board_get_model (board), bed->id);
  const BlLayout *layout = bl_board_get_layout (board);

  if (old == NULL || is_same_line (old->outline, bed->outline) || layout == NULL
      || layout->model != bl_board_get_model (board))
    return NULL;
  return bl_layout_standing (layout, bed->id);
}

gboolean
bl_board_put_bed (BlBoard *board, const char *label, BlBed *bed)
{
  g_autoptr (GPtrArray) standing = standing_in (board, bed);
  BedEdit edit = { bed, standing };

  return bl_board_edit (board, label, put_bed, &edit);
}

static gboolean
put_feature (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_feature (design, data, error);
}

gboolean
bl_board_put_feature (BlBoard *board, const char *label, BlFeature *feature)
{
  return bl_board_edit (board, label, put_feature, feature);
}

static gboolean
put_site (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_site (design, data, error);
}

gboolean
bl_board_put_site (BlBoard *board, const BlSite *site)
{
  return bl_board_edit (board, _("Change the site"), put_site, (gpointer) site);
}

typedef struct
{
  const char *name, *value;
} TextEdit;

static gboolean
put_text (BlDesign *design, gpointer data, GError **error)
{
  TextEdit *edit = data;

  return bl_design_put_text (design, edit->name, edit->value, error);
}

gboolean
bl_board_put_text (BlBoard *board, const char *name, const char *value)
{
  TextEdit edit = { name, value };
  g_autofree char *label = NULL;

  if (g_str_equal (name, "title"))
    label = g_strdup (_("Change the title"));
  else if (g_str_equal (name, "units"))
    label = g_strdup (_("Change the units"));
  else
    label = g_strdup (_("Change the job's texts"));
  return bl_board_edit (board, label, put_text, &edit);
}

static gboolean
put_alternative (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_alternative (design, data, error);
}

gboolean
bl_board_put_alternative (BlBoard *board, const char *label, BlAlternative *alternative)
{
  return bl_board_edit (board, label, put_alternative, alternative);
}

typedef struct
{
  BlPlant *plant;
  BlPlanting *planting;
} PlantingEdit;

static gboolean
put_planting (BlDesign *design, gpointer data, GError **error)
{
  PlantingEdit *edit = data;

  return (edit->plant == NULL || bl_design_put_plant (design, edit->plant, error))
         && bl_design_put_planting (design, edit->planting, error);
}

/* The record to copy into the design: NULL when it has it. FALSE when nobody knows the plant. */
static gboolean
record_to_copy (BlBoard *board, const char *slug, BlPlant **plant)
{
  g_autoptr (GError) error = NULL;

  *plant = NULL;
  if (bl_model_plant (bl_board_get_model (board), slug) != NULL)
    return TRUE;
  if (bl_board_get_library (board) == NULL)
    {
      bl_board_say (board, _("The plant library could not be opened, so no new plant can be taken "
                             "from it"));
      return FALSE;
    }
  *plant = bl_library_get (bl_board_get_library (board), slug, &error);
  bl_board_report (board, error);
  return *plant != NULL;
}

gboolean
bl_board_put_planting (BlBoard *board, const char *label, BlPlanting *planting)
{
  g_autoptr (BlPlant) plant = NULL;
  PlantingEdit edit = { NULL, planting };

  if (!record_to_copy (board, planting->slug, &plant))
    return FALSE;
  edit.plant = plant;
  return bl_board_edit (board, label, put_planting, &edit);
}

gint64
bl_board_bed_at (BlBoard *board, BlPoint plan)
{
  const BlModel *model = bl_board_get_model (board);
  double best = -INFINITY;
  gint64 id = 0;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);
      double inside;

      if (bed->ring == NULL)
        continue;
      inside = bl_polygon_inside_distance (bed->ring, plan);
      if (inside > best)
        {
          best = inside;
          id = bed->id;
        }
    }
  return id;
}

static const char *
label_of_form (BlPlantingForm form)
{
  switch (form)
    {
    case BL_PLANTING_ROW:
      return _("Plant a row of %s");
    case BL_PLANTING_DRIFT:
      return _("Plant a drift of %s");
    case BL_PLANTING_FILL:
      return _("Fill with %s");
    case BL_PLANTING_SPECIMEN:
    default:
      return _("Plant one %s");
    }
}

gboolean
bl_board_plant (BlBoard *board, BlPlantingForm form, BlOutline *shape, gint64 bed_id)
{
  const BlPen *pen = bl_board_get_pen (board);
  g_autoptr (BlPlanting) planting = bl_planting_new ();
  g_autoptr (BlPlant) plant = NULL;
  g_autofree char *name = NULL;
  g_auto (GStrv) parts = NULL;
  g_autofree char *label = NULL;

  planting->shape = shape;
  if (pen->slug == NULL || (plant = bl_board_dup_plant (board, pen->slug)) == NULL)
    {
      bl_board_say (board, _("No plant in hand: pick one on the shelf first"));
      return FALSE;
    }
  if (bed_id == 0)
    {
      bl_board_say (board, _("There is no bed on the ground yet: trace one first"));
      return FALSE;
    }
  planting->alternative_id = bl_board_get_alternative (board);
  planting->bed_id = bed_id;
  planting->slug = g_strdup (pen->slug);
  planting->form = form;
  planting->spacing = form == BL_PLANTING_SPECIMEN ? 0 : pen->spacing;
  planting->square = pen->square;
  name = bl_plant_name (plant);
  parts = g_strsplit (label_of_form (form), "%s", 2);
  label = g_strconcat (parts[0], name, parts[1], NULL);
  if (!bl_board_put_planting (board, label, planting))
    return FALSE;
  bl_board_select (board, BL_PICK_PLANTING, planting->id, FALSE);
  return TRUE;
}

gboolean
bl_board_undo (BlBoard *board)
{
  g_autoptr (GError) error = NULL;

  if (bl_design_undo_label (bl_board_get_design (board)) == NULL)
    return FALSE;
  if (bl_design_undo (bl_board_get_design (board), &error))
    return TRUE;
  bl_board_report (board, error);
  return FALSE;
}

gboolean
bl_board_redo (BlBoard *board)
{
  g_autoptr (GError) error = NULL;

  if (bl_design_redo_label (bl_board_get_design (board)) == NULL)
    return FALSE;
  if (bl_design_redo (bl_board_get_design (board), &error))
    return TRUE;
  bl_board_report (board, error);
  return FALSE;
}

/* Alternatives. */

typedef struct
{
  gint64 id;
  BlAlternative *fresh;
  gboolean copy;
} AlternativeEdit;

static gboolean
add_alternative (BlDesign *design, gpointer data, GError **error)
{
  AlternativeEdit *edit = data;

  if (edit->copy)
    {
      edit->id = bl_design_copy_alternative (design, edit->id, NULL, error);
      return edit->id != 0;
    }
  if (!bl_design_put_alternative (design, edit->fresh, error))
    return FALSE;
  edit->id = edit->fresh->id;
  return TRUE;
}

static char *
next_letter (const BlModel *model)
{
  for (int letter = 'A'; letter <= 'Z'; letter++)
    {
      char name[2] = { (char) letter, '\0' };

      if (bl_model_alternative_named (model, name) == NULL)
        return g_strdup (name);
    }
  return g_strdup_printf ("%u", model->alternatives->len + 1);
}

gboolean
bl_board_add_alternative (BlBoard *board, gboolean copy)
{
  const BlModel *model = bl_board_get_model (board);
  g_autofree char *name = next_letter (model);
  BlAlternative fresh = { 0, (int) model->alternatives->len, name, (char *) "", (char *) "" };
  AlternativeEdit edit = { bl_board_get_alternative (board), &fresh, copy };

  if (!bl_board_edit (board, copy ? _("Copy the alternative") : _("Add an alternative"),
                      add_alternative, &edit))
    return FALSE;
  bl_board_set_alternative (board, edit.id);
  return TRUE;
}

static gboolean
remove_alternative (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_remove (design, "alternative", *(gint64 *) data, error);
}

gboolean
bl_board_remove_alternative (BlBoard *board)
{
  gint64 id = bl_board_get_alternative (board);
  const BlAlternative *alternative = bl_model_alternative (bl_board_get_model (board), id);
  g_autofree char *label = NULL;

  if (alternative == NULL)
    return FALSE;
  if (bl_board_get_model (board)->alternatives->len < 2)
    {
      bl_board_say (board, _("The last alternative stays: a design has at least one"));
      return FALSE;
    }
  label = g_strdup_printf (_("Delete alternative %s"), alternative->name);
  return bl_board_edit (board, label, remove_alternative, &id);
}

gboolean
bl_board_rename_alternative (BlBoard *board, gint64 id, const char *name)
{
  const BlAlternative *old = bl_model_alternative (bl_board_get_model (board), id);
  BlAlternative *copy;
  gboolean done;

  if (old == NULL || g_str_equal (old->name, name))
    return FALSE;
  copy = bl_alternative_copy (old);
  g_free (copy->name);
  copy->name = g_strdup (name);
  done = bl_board_put_alternative (board, _("Rename the alternative"), copy);
  bl_alternative_free (copy);
  return done;
}
