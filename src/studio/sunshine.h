/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun over the beds on a chosen day, worked out on another thread while it is on show. */
#pragma once

#include "fit/sunlight.h"
#include "studio/board.h"

/* Lays the hours of sun over the ground; BL_BOARD_SUN tells parts of it and of new hours. */
void bl_board_set_sun (BlBoard *board, gboolean shown);
gboolean bl_board_get_sun (BlBoard *board);
/* A day of the year, 1 to 365; 172 is the 21st of June. */
void bl_board_set_sun_day (BlBoard *board, int day_of_year);
int bl_board_get_sun_day (BlBoard *board);
/* The latest hours, which may lag behind for a moment; NULL while there are none, with the sentence
 * that says why in @problem (may be NULL, borrowed) when they cannot be told. */
const BlSunlight *bl_board_get_sunlight (BlBoard *board, const char **problem);
/* FALSE while hours are being worked out. */
gboolean bl_board_is_sun_settled (BlBoard *board);
