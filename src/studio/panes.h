/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ledger's panes: planting list, quantities, cost, care, warnings, history. */
#pragma once

#include "studio/part.h"

GtkWidget *bl_pane_planting_new (void);
GtkWidget *bl_pane_quantities_new (void);
GtkWidget *bl_pane_cost_new (void);
GtkWidget *bl_pane_care_new (void);
GtkWidget *bl_pane_warnings_new (void);
GtkWidget *bl_pane_history_new (void);

/* One row: what on the left, how much on the right, how it came about below and as a tooltip. */
GtkWidget *bl_pane_row (const char *what, const char *how_much, const char *how);
/* "3.2 cu yd", "41 ft", "12" of a unit of the price book in the person's units. */
char *bl_pane_amount (double quantity, const char *unit, BlUnits units);
/* Fills with a box inside a scroller; returns the box. */
GtkWidget *bl_pane_scrolled (GtkWidget *pane);
