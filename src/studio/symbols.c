/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person's own plan symbols, as the studio takes them in. */

#include "config.h"

#include "draw/symbol.h"
#include "studio/board-private.h"
#include "studio/symbols.h"

const BlPlant *
bl_board_plant_in_hand (BlBoard *self)
{
  const BlModel *model = bl_board_get_model (self);
  const GArray *selection = bl_board_get_selection (self);
  const char *slug = bl_board_get_pen (self)->slug;

  for (guint i = 0; model != NULL && i < selection->len; i++)
    {
      const BlPick *pick = &g_array_index (selection, BlPick, i);
      const BlPlanting *planting
          = pick->kind == BL_PICK_PLANTING ? bl_model_planting (model, pick->id) : NULL;

      if (planting != NULL)
        slug = planting->slug;
    }
  return model != NULL && slug != NULL ? bl_model_plant (model, slug) : NULL;
}

gboolean
bl_board_take_symbol (BlBoard *self, const BlPlant *plant, const char *path, GError **error)
{
  if (!bl_symbol_keep_own (plant, path, error))
    return FALSE;
  bl_board_ask_for_scene (self);
  return TRUE;
}

gboolean
bl_board_forget_symbol (BlBoard *self, const BlPlant *plant)
{
  if (!bl_symbol_forget_own (plant))
    return FALSE;
  bl_board_ask_for_scene (self);
  return TRUE;
}
