/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The menus of the shelf: of one card, and of all the person's own plants. */
#pragma once

#include "studio/board.h"

#include <gtk/gtk.h>

/* A button with the menu of a card; the menu is made when it is asked for. */
GtkWidget *bl_card_menu_new (void);
void bl_card_menu_set (GtkWidget *menu, BlBoard *board, const BlPlant *plant);
/* "Your plants": add, bring in, write, hidden ones, the nursery. */
GtkWidget *bl_own_menu_new (void);
/* "Your own · 48 in stock"; NULL when there is nothing of the kind to say. (transfer full) */
char *bl_card_own_words (BlBoard *board, const BlPlant *plant);
