/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The start page: four ways to begin, the recent designs, a border in flower. */
#pragma once

#include <gtk/gtk.h>

#include "studio/app.h"

GtkWidget *bl_start_new (BlApp *app);
void bl_start_refresh (GtkWidget *start);
/* In a narrow window its column takes less room, and what is said has all of it. */
void bl_start_suit (GtkWidget *start, gboolean narrow);
