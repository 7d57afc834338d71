/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window in which a plant of the person's own is written: added, or one of the shelf changed. */
#pragma once

#include "studio/own-plants.h"
#include "studio/part.h"

/* A plant was kept: its name, and the way back (taken). */
typedef void (*BlPlantKept) (const char *name, BlOwnStep *step, gpointer data);

/* @slug: the plant to change; or with @copy one to start from (NULL: from nothing). @kept may be
 * called once, before the window goes; @data must outlive it. */
GtkWidget *bl_plant_form_window_new (GtkWindow *parent, BlBoard *board, const char *slug,
                                     gboolean copy, BlPlantKept kept, gpointer data);
