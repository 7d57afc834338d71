/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's own plants: kept, hidden, taken out and back, in and out as tables; their nursery. */
#pragma once

#include "studio/edits.h"

/* How some plants stood before something was done to them, for a way back. */
typedef struct _BlOwnStep BlOwnStep;
void bl_own_step_free (BlOwnStep *step);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlOwnStep, bl_own_step_free)

/* Each tells what goes wrong through the board and returns FALSE, or does it, says so to the parts
 * (BL_BOARD_LIBRARY) and gives the way back in @step (transfer full). */
/* @picture (may be NULL) is what bl_cutout_take() gave, if the record speaks of a new one. A design
 * that has the plant takes the record over, as an edit. */
gboolean bl_board_keep_plant (BlBoard *board, const char *slug, const char *record, GBytes *picture,
                              BlOwnStep **step);
gboolean bl_board_hide_plant (BlBoard *board, const char *slug, gboolean hidden, BlOwnStep **step);
/* Takes an own record out; ours shows again where there is one. Designs keep what they have. */
gboolean bl_board_drop_plant (BlBoard *board, const char *slug, BlOwnStep **step);
/* All of the table or nothing; @n plants came. */
gboolean bl_board_take_plants (BlBoard *board, const char *path, guint *n, BlOwnStep **step);
gboolean bl_board_step_back (BlBoard *board, const BlOwnStep *step);

gboolean bl_board_write_plants (BlBoard *board, const char *path);

/* Takes the list of a nursery, its prices in the design's currency; lines left out go to @unmatched
 * (element-type utf8). */
gboolean bl_board_take_nursery (BlBoard *board, const char *path, GPtrArray *unmatched);
/* The nursery's prices into the design (an edit) or the firm's book; @n prices. */
gboolean bl_board_take_nursery_prices (BlBoard *board, guint *n);
gboolean bl_board_keep_nursery_prices (BlBoard *board, guint *n);
/* "48 in stock", "from 15 April"; NULL when the list says nothing of it. (transfer full) */
char *bl_board_stock_words (BlBoard *board, const BlPlant *plant);
