/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of what is known, each with how well it agrees; edited and taken away here. */
#pragma once

#include "studio/part.h"

GtkWidget *bl_known_list_new (void);
/* @rebuild: the design changed; else only the words follow what is being tried. */
void bl_known_list_update (GtkWidget *list, BlBoard *board, gboolean rebuild);

/* How the ground falls. */
GtkWidget *bl_slope_form_new (void);
void bl_slope_form_update (GtkWidget *form, BlBoard *board);
