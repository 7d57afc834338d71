/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits of the design as the person thinks of them: each is one step of undo with a name. */
#pragma once

#include "studio/board.h"

typedef gboolean (*BlEditFunc) (BlDesign *design, gpointer data, GError **error);

/* One edit: begins, runs @edit, commits; reports and rolls back on failure. */
gboolean bl_board_edit (BlBoard *board, const char *label, BlEditFunc edit, gpointer data);

gboolean bl_board_put_known (BlBoard *board, const char *label, BlKnown *known);
gboolean bl_board_put_bed (BlBoard *board, const char *label, BlBed *bed);
gboolean bl_board_put_feature (BlBoard *board, const char *label, BlFeature *feature);
gboolean bl_board_put_site (BlBoard *board, const BlSite *site);
gboolean bl_board_put_text (BlBoard *board, const char *name, const char *value);
gboolean bl_board_put_alternative (BlBoard *board, const char *label, BlAlternative *alternative);
/* Puts a planting; copies its plant record into the design where it is not there yet. */
gboolean bl_board_put_planting (BlBoard *board, const char *label, BlPlanting *planting);

/* A new planting of the pen's plant; @shape is taken. Selects it. */
gboolean bl_board_plant (BlBoard *board, BlPlantingForm form, BlOutline *shape, gint64 bed_id);
/* The bed that holds a plan point, else the nearest one; 0 = there is no bed on the ground. */
gint64 bl_board_bed_at (BlBoard *board, BlPoint plan);

gboolean bl_board_delete_selection (BlBoard *board);
gboolean bl_board_move_selection (BlBoard *board, BlPoint by);
gboolean bl_board_duplicate_selection (BlBoard *board);
gboolean bl_board_set_locked (BlBoard *board, gboolean locked);
gboolean bl_board_group_selection (BlBoard *board, gboolean together);
/* Lines up the selected specimens on their least-squares line, or spreads them evenly along it. */
gboolean bl_board_align_selection (BlBoard *board, gboolean spread);
/* Mirrors the selected plantings about the vertical line through the middle of their bed. */
gboolean bl_board_mirror_selection (BlBoard *board);
/* Every planting of @from in the shown alternative becomes one of @to. */
gboolean bl_board_swap_plant (BlBoard *board, const char *from, const char *to);
/* Copies of the selected plantings in another alternative. */
gboolean bl_board_copy_selection_to (BlBoard *board, gint64 alternative);
/* Plantings kept aside for pasting: (element-type BlPlanting). */
GPtrArray *bl_board_copied (BlBoard *board);
gboolean bl_board_paste (BlBoard *board, GPtrArray *plantings);

gboolean bl_board_add_alternative (BlBoard *board, gboolean copy);
gboolean bl_board_remove_alternative (BlBoard *board);
gboolean bl_board_rename_alternative (BlBoard *board, gint64 id, const char *name);
gboolean bl_board_undo (BlBoard *board);
gboolean bl_board_redo (BlBoard *board);
