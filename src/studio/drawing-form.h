/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The base drawing's known length and place: a small form for the sheet of what is known. */
#pragma once

#include "studio/part.h"

GtkWidget *bl_drawing_form_new (void);
/* @pending: a length was pointed out or given up; else only what is shown follows the design. */
void bl_drawing_form_update (GtkWidget *form, BlBoard *board, gboolean pending);
/* What would make a bed traced on the drawing surer, one sentence; NULL when nothing would help much. */
char *bl_drawing_advice (const BlModel *model, const BlMeasured *area);
