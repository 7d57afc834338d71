/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Our own icons, drawn from their outlines in the colour of the words beside them. */
#pragma once

#include <gtk/gtk.h>

#define BL_TYPE_ICON (bl_icon_get_type ())
G_DECLARE_FINAL_TYPE (BlIcon, bl_icon, BL, ICON, GObject)

/* @name: one of icons/, without its ending. GTK's icon theme would parse each SVG eight times before it
 * shows it; ours are one outline of straight lines on 16 by 16, read once and filled at any size. */
GdkPaintable *bl_icon_new (const char *name);
GtkWidget *bl_icon_image (const char *name);
/* Puts it on @button, a button or a menu button. */
void bl_icon_put (GtkWidget *button, const char *name);
