/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is selected on the board: only ever rows that the model has. */

#include "config.h"

#include "studio/board-private.h"

static gboolean
exists (const BlModel *model, BlPick pick, gint64 alternative)
{
  const BlPlanting *planting;

  switch (pick.kind)
    {
    case BL_PICK_PLANTING:
      planting = bl_model_planting (model, pick.id);
      return planting != NULL && planting->alternative_id == alternative;
    case BL_PICK_BED:
      return bl_model_bed (model, pick.id) != NULL;
    case BL_PICK_FEATURE:
      return bl_model_feature (model, pick.id) != NULL;
    case BL_PICK_KNOWN:
      return bl_model_known (model, pick.id) != NULL;
    default:
      return FALSE;
    }
}

gboolean
bl_board_prune_selection (BlBoard *self)
{
  const BlModel *model = bl_design_get_model (self->design);
  guint before = self->selection->len;

  for (guint i = self->selection->len; i > 0; i--)
    if (!exists (model, g_array_index (self->selection, BlPick, i - 1), self->alternative))
      g_array_remove_index (self->selection, i - 1);
  return self->selection->len != before;
}

const GArray *
bl_board_get_selection (BlBoard *self)
{
  return self->selection;
}

gboolean
bl_board_is_selected (BlBoard *self, BlPickKind kind, gint64 id)
{
  for (guint i = 0; i < self->selection->len; i++)
    {
      BlPick pick = g_array_index (self->selection, BlPick, i);

      if (pick.kind == kind && pick.id == id)
        return TRUE;
    }
  return FALSE;
}

void
bl_board_select (BlBoard *self, BlPickKind kind, gint64 id, gboolean add)
{
  BlPick pick = { kind, id };

  if (bl_board_is_selected (self, kind, id) && (add || self->selection->len == 1))
    return;
  if (!add)
    g_array_set_size (self->selection, 0);
  if (exists (bl_board_get_model (self), pick, self->alternative))
    g_array_append_val (self->selection, pick);
  bl_board_emit (self, BL_BOARD_SELECTION);
}

void
bl_board_toggle (BlBoard *self, BlPickKind kind, gint64 id)
{
  for (guint i = 0; i < self->selection->len; i++)
    {
      BlPick pick = g_array_index (self->selection, BlPick, i);

      if (pick.kind != kind || pick.id != id)
        continue;
      g_array_remove_index (self->selection, i);
      bl_board_emit (self, BL_BOARD_SELECTION);
      return;
    }
  bl_board_select (self, kind, id, TRUE);
}

void
bl_board_select_all (BlBoard *self)
{
  const BlModel *model = bl_board_get_model (self);

  g_array_set_size (self->selection, 0);
  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);
      BlPick pick = { BL_PICK_PLANTING, planting->id };

      if (planting->alternative_id == self->alternative)
        g_array_append_val (self->selection, pick);
    }
  bl_board_emit (self, BL_BOARD_SELECTION);
}

void
bl_board_clear_selection (BlBoard *self)
{
  if (self->selection->len == 0)
    return;
  g_array_set_size (self->selection, 0);
  bl_board_emit (self, BL_BOARD_SELECTION);
}

void
bl_board_set_selection (BlBoard *self, const GArray *picks)
{
  gboolean same = picks->len == self->selection->len;

  for (guint i = 0; same && i < picks->len; i++)
    {
      BlPick pick = g_array_index (picks, BlPick, i);

      same = bl_board_is_selected (self, pick.kind, pick.id);
    }
  if (same)
    return;
  g_array_set_size (self->selection, 0);
  g_array_append_vals (self->selection, picks->data, picks->len);
  bl_board_prune_selection (self);
  bl_board_emit (self, BL_BOARD_SELECTION);
}
