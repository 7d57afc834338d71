/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun on the ground: on show or not, the day, and each bed's hours through the year. */
#pragma once

#include "studio/part.h"

GtkWidget *bl_sun_form_new (void);
void bl_sun_form_update (GtkWidget *form, BlBoard *board, guint what);
