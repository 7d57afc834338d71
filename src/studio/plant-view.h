/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small pictures of a plant: its standing figure, its ribbon through the year. */
#pragma once

#include <gtk/gtk.h>

#include "plants/season.h"

#define BL_TYPE_FIGURE_VIEW (bl_figure_view_get_type ())
G_DECLARE_FINAL_TYPE (BlFigureView, bl_figure_view, BL, FIGURE_VIEW, GtkWidget)
GtkWidget *bl_figure_view_new (int width, int height);
/* @month 0: the month in which it is at its best. */
void bl_figure_view_set (BlFigureView *view, BlPlant *plant, BlZone zone, double month);

#define BL_TYPE_RIBBON_VIEW (bl_ribbon_view_get_type ())
G_DECLARE_FINAL_TYPE (BlRibbonView, bl_ribbon_view, BL, RIBBON_VIEW, GtkWidget)
GtkWidget *bl_ribbon_view_new (void);
void bl_ribbon_view_set (BlRibbonView *view, BlPlant *plant, BlZone zone, double month);

/* "18 in × 24 in · Jun–Aug": height, spread, flower; (transfer full). */
char *bl_plant_words (const BlPlant *plant, BlZone zone, gboolean metres);
