/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Alternatives side by side: the same moment, moving together, a table below. */
#pragma once

#include "studio/part.h"

#define BL_TYPE_COMPARE (bl_compare_get_type ())
G_DECLARE_FINAL_TYPE (BlCompare, bl_compare, BL, COMPARE, BlPart)

/* @sheet: the compare sheet, which says which alternatives. */
GtkWidget *bl_compare_new (GtkWidget *sheet);
gboolean bl_compare_is_fresh (BlCompare *compare);
/* In a narrow window pictures and cells take less. */
void bl_compare_suit (BlCompare *compare, gboolean narrow);
void bl_compare_fit (BlCompare *compare);
void bl_compare_zoom_by (BlCompare *compare, double factor);
