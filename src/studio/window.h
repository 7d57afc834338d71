/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window: the start page, or one design with its sheets, canvas and ledger. */
#pragma once

#include "studio/app.h"
#include "studio/board.h"
#include "studio/canvas.h"

#define BL_TYPE_WINDOW (bl_window_get_type ())
G_DECLARE_FINAL_TYPE (BlWindow, bl_window, BL, WINDOW, GtkApplicationWindow)

GtkWidget *bl_window_new (BlApp *app);
/* Opens a design, or a photo as a new design, on another thread; trouble is said in the window. */
void bl_window_open (BlWindow *window, const char *path);
void bl_window_new_from_photo (BlWindow *window, const char *path);
BlBoard *bl_window_get_board (BlWindow *window); /* NULL on the start page */
BlCanvas *bl_window_get_canvas (BlWindow *window);
gboolean bl_window_is_opening (BlWindow *window);
const char *bl_window_get_path (BlWindow *window);
/* One sentence for the person, with an optional action ("win.undo") and its label. */
void bl_window_say (BlWindow *window, const char *sentence, gboolean wrong, const char *label,
                    const char *action);
