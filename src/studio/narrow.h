/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shelf's finer sieve: any combination of a plant's facts. */
#pragma once

#include "studio/board.h"

#include <gtk/gtk.h>

/* @changed is called with @data after each change. */
GtkWidget *bl_narrow_new (void (*changed) (gpointer data), gpointer data);
/* Adds what is chosen to @query; words stay valid as long as @narrow. */
void bl_narrow_apply (GtkWidget *narrow, BlBoard *board, BlPlantQuery *query);
/* The bed that plants are found for: the selected one, the one last worked in, or the first. */
const BlBed *bl_narrow_bed (BlBoard *board);
/* Light in that bed as far as it is stated or was reckoned; unknown else. */
BlLight bl_narrow_light (BlBoard *board);
