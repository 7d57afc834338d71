/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The charts of the shown alternative. */
#pragma once

#include "studio/board.h"

#include <gtk/gtk.h>

/* A window of its own over @parent, which follows the board. */
GtkWidget *bl_charts_window_new (GtkWindow *parent, BlBoard *board);
