/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strips around the canvas: the path above, the alternatives at its head, time under it. */
#pragma once

#include "studio/part.h"

GType bl_path_strip_get_type (void);
GType bl_tabs_get_type (void);
GType bl_time_strip_get_type (void);
GtkWidget *bl_path_strip_new (void);
GtkWidget *bl_tabs_new (void);
GtkWidget *bl_time_strip_new (void);
/* Asks for a new name in place. */
void bl_tabs_rename (GtkWidget *tabs);

extern const char *const bl_stage_names[]; /* the action's targets, NULL-terminated */
const char *bl_stage_title (BlStage stage); /* translated */

/* The twelve months with what flowers in them; a slider for assistive technology. */
#define BL_TYPE_MONTHS (bl_months_get_type ())
G_DECLARE_FINAL_TYPE (BlMonths, bl_months, BL, MONTHS, GtkWidget)
/* Signal "moved" (double month). */
GtkWidget *bl_months_new (void);
void bl_months_set_month (BlMonths *months, double month);
void bl_months_set_layout (BlMonths *months, BlLayout *layout);
