/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant in hand, or the one planting selected: spacing, size, lattice, note. */
#pragma once

#include "studio/part.h"

GtkWidget *bl_pen_form_new (void);
void bl_pen_form_update (GtkWidget *form, BlBoard *board, guint what);
