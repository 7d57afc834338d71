/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A page in the middle of what scrolls, whose width belongs to no height. */
#pragma once

#include <gtk/gtk.h>

/* Around @child within a scroller that scrolls both ways, in its middle and no wider than it wants to
 * be. The scroller, and an alignment too, asks which width would do for a height, and GTK seeks it by
 * setting every word of the page some forty times. The answer for any height does as well, since what is
 * too high scrolls. */
GtkWidget *bl_steady_new (GtkWidget *child);
