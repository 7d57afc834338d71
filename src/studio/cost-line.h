/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An opened line of the estimate: the person's own quantity and rate, and whether the client may
 * choose it. */
#pragma once

#include "studio/part.h"
#include "takeoff/estimate.h"

/* A form for @line; @form, when not NULL, is one of this kind to be brought up to date. */
GtkWidget *bl_cost_line_form (GtkWidget *form, BlBoard *board, const BlEstimateLine *line,
                              const char *currency);
/* A form for lines that are the client's choice: the way back into the price. */
GtkWidget *bl_cost_option_form (GtkWidget *form, BlBoard *board, const BlEstimateOption *option);
/* States @value for a line of the shown alternative, in price book units; NAN takes it back. One step
 * of undo. */
gboolean bl_board_put_override (BlBoard *board, const char *line, const char *field, double value);
/* "1234.50": money as plain text, to be typed over or pasted into a table. */
char *bl_money_plain (gint64 minor, const char *currency);
