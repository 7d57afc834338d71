/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The five-minute tour: a slip under the design that goes along the path step by step. */
#pragma once

#include <gtk/gtk.h>

/* For a window that shows the tour's design; it takes itself away at the end. */
GtkWidget *bl_tour_new (void);
/* Where the demo lies that the tour is made on; (nullable), a folder. */
char *bl_tour_folder (void);
#define BL_TOUR_SHEET "harbour-lane.sheet.json"
