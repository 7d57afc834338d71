/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A task of the calendar opened: another day for it, out with it; and a task of the person's own. */
#pragma once

#include "care/care.h"
#include "studio/board.h"

#include <gtk/gtk.h>

/* The mark of @uid in the design, or an empty one of it; borrows @uid. */
BlCareMark bl_care_mark_of (BlBoard *board, const char *uid);
gboolean bl_board_put_care_mark (BlBoard *board, const char *label, BlCareMark *mark);
/* How and why, and what may be done with it. (transfer floating) */
GtkWidget *bl_care_line_form (BlBoard *board, const BlTask *task);
/* A form that adds an own task. (transfer floating) */
GtkWidget *bl_care_own_form (BlBoard *board);
