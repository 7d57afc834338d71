/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that a plant's record says, with its figure through the year. */
#pragma once

#include "studio/board.h"

#include <gtk/gtk.h>

/* A small button that opens the window; bl_plant_facts_set() says of which plant. */
GtkWidget *bl_plant_facts_button_new (void);
void bl_plant_facts_set (GtkWidget *button, BlBoard *board, BlPlant *plant);
/* The window of all facts, over the one that @near is in. */
GtkWidget *bl_plant_facts_show (GtkWidget *near, BlBoard *board, BlPlant *plant);
