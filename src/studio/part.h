/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A part of the window that shows something of the board and keeps up with it. */
#pragma once

#include <gtk/gtk.h>

#include "studio/edits.h"

#define BL_TYPE_PART (bl_part_get_type ())
G_DECLARE_DERIVABLE_TYPE (BlPart, bl_part, BL, PART, GtkBox)

/* @update is called at most once a frame, only while the part is on show, with every
 * BlBoardChange that came together since the last time; BL_BOARD_ALL for a new board. The board
 * is never NULL in it. */
struct _BlPartClass
{
  GtkBoxClass parent_class;

  void (*update) (BlPart *part, guint what);
};

BlBoard *bl_part_get_board (BlPart *part);
void bl_part_set_board (BlPart *part, BlBoard *board);
/* Asks for an update as if @what had changed. */
void bl_part_touch (BlPart *part, guint what);
/* Brings it up to date at once. */
void bl_part_flush (BlPart *part);
