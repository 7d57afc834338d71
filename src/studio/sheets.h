/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheets beside the canvas, one a stage of the path. */
#pragma once

#include "studio/part.h"
#include "studio/settings.h"

GtkWidget *bl_sheet_photo_new (void);
GtkWidget *bl_sheet_known_new (void);
GtkWidget *bl_sheet_bed_new (void);
GtkWidget *bl_sheet_site_new (void);
GtkWidget *bl_shelf_new (BlSettings *settings);
GtkWidget *bl_sheet_compare_new (void);
GtkWidget *bl_sheet_give_new (BlSettings *settings);
/* Puts the cursor in the shelf's search. */
void bl_shelf_focus (GtkWidget *shelf);
/* Alternatives chosen in the compare sheet; (transfer full) (element-type gint64). */
GArray *bl_sheet_compare_chosen (GtkWidget *sheet);

/* Reads a length in the design's units from an entry; marks the entry and says so when it is none.
 * An empty entry gives @empty. */
gboolean bl_sheet_read_length (BlBoard *board, GtkWidget *entry, double empty, double *metres);
/* Reads a plain number, decimal comma or point. */
gboolean bl_sheet_read_number (BlBoard *board, GtkWidget *entry, double empty, double *value);
/* Named kinds for the person, translated. */
const char *bl_known_title (BlKnownKind kind);
const char *bl_feature_title (BlFeatureKind kind);
const char *bl_form_title (BlPlantingForm form);
