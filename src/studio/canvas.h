/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas: the photo or the plan with everything on it, seen and worked on. */
#pragma once

#include <gtk/gtk.h>

#include "studio/hand.h"
#include "studio/viewport.h"

#define BL_TYPE_CANVAS (bl_canvas_get_type ())
G_DECLARE_FINAL_TYPE (BlCanvas, bl_canvas, BL, CANVAS, GtkWidget)

/* Signals: "looked" when the viewport changed by the person; "hint" when the hint did;
 * "menu" (double x, double y) when a context menu is asked for; "dropped-plant" none: it is
 * planted at once. */
GtkWidget *bl_canvas_new (void);
/* With a board the canvas works on it; NULL lets go. */
void bl_canvas_set_board (BlCanvas *canvas, BlBoard *board);
BlBoard *bl_canvas_get_board (BlCanvas *canvas);
/* Without a board: a picture to look at only. */
void bl_canvas_show_scene (BlCanvas *canvas, BlScene *scene, BlStamps *stamps);
/* A divider across the photo: left of it the spot as it is, right of it as proposed. */
void bl_canvas_set_divided (BlCanvas *canvas, gboolean divided);
gboolean bl_canvas_get_divided (BlCanvas *canvas);
/* The divider itself; NULL when there is none. */
GtkWidget *bl_canvas_get_divider (BlCanvas *canvas);
void bl_canvas_set_loupe (BlCanvas *canvas, gboolean shown);
void bl_canvas_set_hand (BlCanvas *canvas, const char *name);
BlHand *bl_canvas_get_hand (BlCanvas *canvas);
const char *bl_canvas_get_hint (BlCanvas *canvas);

void bl_canvas_fit (BlCanvas *canvas);
void bl_canvas_zoom_by (BlCanvas *canvas, double factor);
/* 1 photo pixel = 1 device pixel; 1:50 at 96 dots an inch on the plan. */
void bl_canvas_zoom_full (BlCanvas *canvas);
double bl_canvas_get_zoom (BlCanvas *canvas);
const BlViewport *bl_canvas_get_viewport (BlCanvas *canvas);
void bl_canvas_set_viewport (BlCanvas *canvas, const BlViewport *viewport);
/* Everything in sight is painted and up to date. */
gboolean bl_canvas_is_fresh (BlCanvas *canvas);
/* The same, but a quick first picture of another moment is enough. */
gboolean bl_canvas_is_complete (BlCanvas *canvas);
/* Widget coordinates to document units and back. */
BlPoint bl_canvas_to_document (BlCanvas *canvas, double x, double y);
void bl_canvas_from_document (BlCanvas *canvas, BlPoint document, double *x, double *y);
/* Gives the half done thing up; TRUE if there was one. */
void bl_canvas_cancel (BlCanvas *canvas);
