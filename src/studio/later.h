/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Work that waits until the first frame is on the screen. */
#pragma once

#include <gtk/gtk.h>

/* Calls @work with @widget once, @ms after the first frame of @widget's window was painted and when
 * nothing else is to be done. A tick of the clock would not do: it may come a while before the frame,
 * and the work would then keep the person waiting for it. */
void bl_later (GtkWidget *widget, guint ms, void (*work) (GtkWidget *widget));
