/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person's own plan symbols, as the studio takes them in. */
#pragma once

#include "studio/board.h"

/* The plant of the selected planting, else the one in hand; NULL when there is none. */
const BlPlant *bl_board_plant_in_hand (BlBoard *board);
/* Keeps the drawing at @path as that plant's symbol and draws anew. */
gboolean bl_board_take_symbol (BlBoard *board, const BlPlant *plant, const char *path,
                               GError **error);
/* Ours again; FALSE when there was no own one. */
gboolean bl_board_forget_symbol (BlBoard *board, const BlPlant *plant);
