/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits of what is selected: delete, move, copy, lock, group, line up, mirror, swap. */

#include "config.h"

#include "studio/edits.h"

#include <glib/gi18n.h>

/* Copies of the rows to write, and the picks to remove: one edit. */
typedef struct
{
  GPtrArray *plantings; /* BlPlanting */
  GPtrArray *beds;      /* BlBed */
  GPtrArray *features;  /* BlFeature */
  GPtrArray *plants;    /* BlPlant records to copy in first */
  GArray *removed;      /* BlPick */
} Batch;

static void
batch_init (Batch *batch)
{
  batch->plantings = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_planting_free);
  batch->beds = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_bed_free);
  batch->features = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_feature_free);
  batch->plants = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_unref);
  batch->removed = g_array_new (FALSE, FALSE, sizeof (BlPick));
}

static void
batch_clear (Batch *batch)
{
  g_ptr_array_unref (batch->plantings);
  g_ptr_array_unref (batch->beds);
  g_ptr_array_unref (batch->features);
  g_ptr_array_unref (batch->plants);
  g_array_unref (batch->removed);
}

static const char *
kind_name (BlPickKind kind)
{
  static const char *const names[] = { "planting", "bed", "feature", "known" };

  return names[kind];
}

static gboolean
write_batch (BlDesign *design, gpointer data, GError **error)
{
  Batch *batch = data;

  for (guint i = 0; i < batch->plants->len; i++)
    if (!bl_design_put_plant (design, g_ptr_array_index (batch->plants, i), error))
      return FALSE;
  for (guint i = 0; i < batch->beds->len; i++)
    if (!bl_design_put_bed (design, g_ptr_array_index (batch->beds, i), error))
      return FALSE;
  for (guint i = 0; i < batch->features->len; i++)
    if (!bl_design_put_feature (design, g_ptr_array_index (batch->features, i), error))
      return FALSE;
  for (guint i = 0; i < batch->plantings->len; i++)
    if (!bl_design_put_planting (design, g_ptr_array_index (batch->plantings, i), error))
      return FALSE;
  for (guint i = 0; i < batch->removed->len; i++)
    {
      BlPick pick = g_array_index (batch->removed, BlPick, i);

      if (!bl_design_remove (design, kind_name (pick.kind), pick.id, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
commit_batch (BlBoard *board, Batch *batch, const char *label)
{
  gboolean done = FALSE;

  if (batch->plantings->len + batch->beds->len + batch->features->len + batch->removed->len > 0)
    done = bl_board_edit (board, label, write_batch, batch);
  batch_clear (batch);
  return done;
}

/* Selected plantings with everything of their groups; locked ones are left out. */
static GPtrArray *
take_plantings (BlBoard *board, gboolean with_groups, gboolean *met_lock)
{
  const BlModel *model = bl_board_get_model (board);
  const GArray *selection = bl_board_get_selection (board);
  GPtrArray *taken = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_planting_free);

  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);
      gboolean wanted = bl_board_is_selected (board, BL_PICK_PLANTING, planting->id);

      if (planting->alternative_id != bl_board_get_alternative (board))
        continue;
      for (guint k = 0; with_groups && !wanted && planting->group != 0 && k < selection->len; k++)
        {
          BlPick pick = g_array_index (selection, BlPick, k);
          const BlPlanting *other = pick.kind == BL_PICK_PLANTING
                                      ? bl_model_planting (model, pick.id) : NULL;

          wanted = other != NULL && other->group == planting->group;
        }
      if (!wanted)
        continue;
      if (planting->locked && met_lock != NULL)
        *met_lock = TRUE;
      else
        g_ptr_array_add (taken, bl_planting_copy (planting));
    }
  return taken;
}

gboolean
bl_board_delete_selection (BlBoard *board)
{
  const GArray *selection = bl_board_get_selection (board);
  g_autofree char *label = NULL;
  gboolean met_lock = FALSE;
  Batch batch;

  batch_init (&batch);
  for (guint i = 0; i < selection->len; i++)
    {
      BlPick pick = g_array_index (selection, BlPick, i);
      const BlPlanting *planting = pick.kind == BL_PICK_PLANTING
        ? bl_model_planting (bl_board_get_model (board), pick.id) : NULL;

      if (planting != NULL && planting->locked)
        met_lock = TRUE;
      else
        g_array_append_val (batch.removed, pick);
    }
  if (met_lock)
    bl_board_say (board, _("What is locked was left in place: unlock it first"));
  label = batch.removed->len == 1
            ? g_strdup (_("Delete"))
            : g_strdup_printf (ngettext ("Delete %u thing", "Delete %u things", batch.removed->len),
                               batch.removed->len);
  return commit_batch (board, &batch, label);
}

static void
shift_outline (BlOutline *outline, BlPoint by)
{
  for (guint i = 0; outline != NULL && i < outline->points->len; i++)
    bl_points_at (outline->points, i) = bl_add (bl_points_at (outline->points, i), by);
}

/* A bed or feature that was traced on the photo is moved on the ground and lies there from now. */
static gboolean
move_bed (const BlBed *bed, BlPoint by, Batch *batch)
{
  BlBed *copy;

  if (bed->ground == NULL || bed->source == BL_FROM_TAPE)
    return FALSE;
  copy = bl_bed_copy (bed);
  g_clear_pointer (&copy->outline, bl_outline_free);
  copy->outline = bl_outline_copy (bed->ground);
  copy->source = BL_FROM_PLAN;
  shift_outline (copy->outline, by);
  g_ptr_array_add (batch->beds, copy);
  return TRUE;
}

static gboolean
move_feature (const BlFeature *feature, BlPoint by, Batch *batch)
{
  BlFeature *copy;

  if (feature->ground == NULL || feature->kind == BL_FEATURE_IN_FRONT)
    return FALSE;
  copy = bl_feature_copy (feature);
  g_clear_pointer (&copy->outline, bl_outline_free);
  copy->outline = bl_outline_copy (feature->ground);
  copy->source = BL_FROM_PLAN;
  shift_outline (copy->outline, by);
  g_ptr_array_add (batch->features, copy);
  return TRUE;
}

gboolean
bl_board_move_selection (BlBoard *board, BlPoint by)
{
  const BlModel *model = bl_board_get_model (board);
  const GArray *selection = bl_board_get_selection (board);
  g_autofree char *label = NULL;
  gboolean met_lock = FALSE;
  guint n;
  Batch batch;

  batch_init (&batch);
  g_ptr_array_unref (batch.plantings);
  batch.plantings = take_plantings (board, TRUE, &met_lock);
  for (guint i = batch.plantings->len; i > 0; i--)
    {
      BlPlanting *planting = g_ptr_array_index (batch.plantings, i - 1);

      shift_outline (planting->shape, by);
      if (planting->shape == NULL)
        g_ptr_array_remove_index (batch.plantings, i - 1);
    }
  for (guint i = 0; i < selection->len; i++)
    {
      BlPick pick = g_array_index (selection, BlPick, i);

      if (pick.kind == BL_PICK_BED && bl_model_bed (model, pick.id) != NULL)
        move_bed (bl_model_bed (model, pick.id), by, &batch);
      else if (pick.kind == BL_PICK_FEATURE && bl_model_feature (model, pick.id) != NULL)
        move_feature (bl_model_feature (model, pick.id), by, &batch);
    }
  if (met_lock)
    bl_board_say (board, _("What is locked was left in place: unlock it first"));
  n = batch.plantings->len + batch.beds->len + batch.features->len;
  label = n == 1 ? g_strdup (_("Move"))
                 : g_strdup_printf (ngettext ("Move %u thing", "Move %u things", n), n);
  return commit_batch (board, &batch, label);
}

static void
select_written (BlBoard *board, GPtrArray *ids)
{
  g_autoptr (GArray) picks = g_array_new (FALSE, FALSE, sizeof (BlPick));

  for (guint i = 0; i < ids->len; i++)
    {
      BlPick pick = { BL_PICK_PLANTING, *(gint64 *) g_ptr_array_index (ids, i) };

      g_array_append_val (picks, pick);
    }
  bl_board_set_selection (board, picks);
}

GPtrArray *
bl_board_copied (BlBoard *board)
{
  return take_plantings (board, TRUE, NULL);
}

/* Writes copies of @plantings into @alternative, @by metres away. */
static gboolean
write_copies (BlBoard *board, GPtrArray *plantings, gint64 alternative, BlPoint by,
              const char *label, gboolean select)
{
  const BlModel *model = bl_board_get_model (board);
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) written = NULL;
  Batch batch;
  gboolean done;

  batch_init (&batch);
  for (guint i = 0; i < plantings->len; i++)
    {
      BlPlanting *copy = bl_planting_copy (g_ptr_array_index (plantings, i));

      copy->id = 0;
      copy->alternative_id = alternative;
      copy->locked = FALSE;
      shift_outline (copy->shape, by);
      if (bl_model_bed (model, copy->bed_id) == NULL || bl_model_plant (model, copy->slug) == NULL)
        bl_planting_free (copy);
      else
        g_ptr_array_add (batch.plantings, copy);
    }
  written = g_ptr_array_ref (batch.plantings);
  done = commit_batch (board, &batch, label);
  for (guint i = 0; done && i < written->len; i++)
    g_ptr_array_add (ids, g_memdup2 (&((BlPlanting *) g_ptr_array_index (written, i))->id,
                                     sizeof (gint64)));
  if (done && select)
    select_written (board, ids);
  return done;
}

gboolean
bl_board_paste (BlBoard *board, GPtrArray *plantings)
{
  g_autofree char *label = NULL;

  if (plantings == NULL || plantings->len == 0)
    return FALSE;
  label = g_strdup_printf (ngettext ("Paste %u planting", "Paste %u plantings", plantings->len),
                           plantings->len);
  return write_copies (board, plantings, bl_board_get_alternative (board), BL_POINT (0.3, -0.3),
                       label, TRUE);
}

gboolean
bl_board_duplicate_selection (BlBoard *board)
{
  g_autoptr (GPtrArray) taken = take_plantings (board, FALSE, NULL);
  g_autofree char *label = NULL;

  if (taken->len == 0)
    return FALSE;
  label = g_strdup_printf (ngettext ("Copy %u planting", "Copy %u plantings", taken->len),
                           taken->len);
  return write_copies (board, taken, bl_board_get_alternative (board), BL_POINT (0.3, -0.3), label,
                       TRUE);
}

gboolean
bl_board_copy_selection_to (BlBoard *board, gint64 alternative)
{
  g_autoptr (GPtrArray) taken = take_plantings (board, FALSE, NULL);
  const BlAlternative *to = bl_model_alternative (bl_board_get_model (board), alternative);
  g_autofree char *label = NULL;

  if (taken->len == 0 || to == NULL)
    return FALSE;
  label = g_strdup_printf (_("Copy to alternative %s"), to->name);
  return write_copies (board, taken, alternative, BL_POINT (0, 0), label, FALSE);
}

gboolean
bl_board_set_locked (BlBoard *board, gboolean locked)
{
  Batch batch;

  batch_init (&batch);
  g_ptr_array_unref (batch.plantings);
  batch.plantings = take_plantings (board, FALSE, NULL);
  for (guint i = 0; i < batch.plantings->len; i++)
    ((BlPlanting *) g_ptr_array_index (batch.plantings, i))->locked = locked;
  return commit_batch (board, &batch, locked ? _("Lock in place") : _("Unlock"));
}

gboolean
bl_board_group_selection (BlBoard *board, gboolean together)
{
  gint64 group = 0;
  Batch batch;

  batch_init (&batch);
  g_ptr_array_unref (batch.plantings);
  batch.plantings = take_plantings (board, !together, NULL);
  for (guint i = 0; i < batch.plantings->len; i++)
    {
      BlPlanting *planting = g_ptr_array_index (batch.plantings, i);

      if (group == 0)
        group = planting->id;
      planting->group = together ? group : 0;
    }
  return commit_batch (board, &batch, together ? _("Keep together") : _("Let go of one another"));
}

/* The middle and direction of the line nearest to the points in the sense of least squares. */
static void
fit_line (const BlPoints *points, BlPoint *middle, BlPoint *along)
{
  double sxx = 0, sxy = 0, syy = 0, angle;

  *middle = BL_POINT (0, 0);
  for (guint i = 0; i < points->len; i++)
    *middle = bl_add (*middle, bl_mul (bl_points_at (points, i), 1.0 / points->len));
  for (guint i = 0; i < points->len; i++)
    {
      BlPoint d = bl_sub (bl_points_at (points, i), *middle);

      sxx += d.x * d.x;
      sxy += d.x * d.y;
      syy += d.y * d.y;
    }
  angle = 0.5 * atan2 (2 * sxy, sxx - syy);
  *along = BL_POINT (cos (angle), sin (angle));
}

typedef struct
{
  double at;
  BlPlanting *planting;
} AlongLine;

static int
compare_along (gconstpointer a, gconstpointer b)
{
  double da = ((const AlongLine *) a)->at, db = ((const AlongLine *) b)->at;

  return (da > db) - (da < db);
}

gboolean
bl_board_align_selection (BlBoard *board, gboolean spread)
{
  g_autoptr (GArray) points = bl_points_new ();
  g_autoptr (GArray) order = g_array_new (FALSE, FALSE, sizeof (AlongLine));
  BlPoint middle, along;
  Batch batch;

  batch_init (&batch);
  g_ptr_array_unref (batch.plantings);
  batch.plantings = take_plantings (board, FALSE, &(gboolean) { FALSE });
  for (guint i = batch.plantings->len; i > 0; i--)
    if (((BlPlanting *) g_ptr_array_index (batch.plantings, i - 1))->form != BL_PLANTING_SPECIMEN)
      g_ptr_array_remove_index (batch.plantings, i - 1);
  if (batch.plantings->len < (spread ? 3 : 2))
    {
      batch_clear (&batch);
      bl_board_say (board, spread ? _("Select three or more specimens to spread them evenly")
                                  : _("Select two or more specimens to line them up"));
      return FALSE;
    }
  for (guint i = 0; i < batch.plantings->len; i++)
    bl_points_add (points, bl_points_at (((BlPlanting *) g_ptr_array_index (batch.plantings, i))
                                           ->shape->points, 0));
  fit_line (points, &middle, &along);
  for (guint i = 0; i < points->len; i++)
    {
      AlongLine item = { bl_dot (bl_sub (bl_points_at (points, i), middle), along),
                         g_ptr_array_index (batch.plantings, i) };

      g_array_append_val (order, item);
    }
  g_array_sort (order, compare_along);
  for (guint i = 0; i < order->len; i++)
    {
      AlongLine item = g_array_index (order, AlongLine, i);
      double first = g_array_index (order, AlongLine, 0).at;
      double last = g_array_index (order, AlongLine, order->len - 1).at;
      double at = spread ? first + (last - first) * i / (order->len - 1) : item.at;

      bl_points_at (item.planting->shape->points, 0) = bl_add (middle, bl_mul (along, at));
    }
  return commit_batch (board, &batch, spread ? _("Spread evenly") : _("Line up"));
}

gboolean
bl_board_mirror_selection (BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  Batch batch;

  batch_init (&batch);
  g_ptr_array_unref (batch.plantings);
  batch.plantings = take_plantings (board, TRUE, &(gboolean) { FALSE });
  for (guint i = 0; i < batch.plantings->len; i++)
    {
      BlPlanting *planting = g_ptr_array_index (batch.plantings, i);
      const BlBed *bed = bl_model_bed (model, planting->bed_id);
      BlRect extent;

      if (bed == NULL || bed->ring == NULL || planting->shape == NULL)
        continue;
      extent = bl_rect_of (bed->ring);
      for (guint k = 0; k < planting->shape->points->len; k++)
        bl_points_at (planting->shape->points, k).x
          = extent.x0 + extent.x1 - bl_points_at (planting->shape->points, k).x;
    }
  return commit_batch (board, &batch, _("Mirror left to right"));
}

gboolean
bl_board_swap_plant (BlBoard *board, const char *from, const char *to)
{
  const BlModel *model = bl_board_get_model (board);
  g_autoptr (BlPlant) plant = bl_board_dup_plant (board, to);
  g_autofree char *name = NULL;
  g_autofree char *label = NULL;
  Batch batch;

  if (plant == NULL || g_str_equal (from, to))
    return FALSE;
  batch_init (&batch);
  if (bl_model_plant (model, to) == NULL)
    g_ptr_array_add (batch.plants, bl_plant_ref (plant));
  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);
      BlPlanting *copy;

      if (planting->alternative_id != bl_board_get_alternative (board)
          || !g_str_equal (planting->slug, from))
        continue;
      copy = bl_planting_copy (planting);
      g_free (copy->slug);
      copy->slug = g_strdup (to);
      g_clear_pointer (&copy->size, g_free);
      copy->spacing = 0;
      g_ptr_array_add (batch.plantings, copy);
    }
  name = bl_plant_name (plant);
  label = g_strdup_printf (_("Swap for %s"), name);
  return commit_batch (board, &batch, label);
}
