/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The divider across the photo: left of it the spot as it is, right of it as proposed. */
#pragma once

#include <gtk/gtk.h>

#define BL_DIVIDER_WIDTH 44 /* widget pixels; the line runs in its middle */

/* Lies over a canvas, whose child it is. Signal "moved" (double share of the canvas's width). */
#define BL_TYPE_DIVIDER (bl_divider_get_type ())
G_DECLARE_FINAL_TYPE (BlDivider, bl_divider, BL, DIVIDER, GtkWidget)

GtkWidget *bl_divider_new (void);
/* 0 = all as proposed, 1 = all as it is. */
double bl_divider_get_share (BlDivider *divider);
void bl_divider_set_share (BlDivider *divider, double share);
