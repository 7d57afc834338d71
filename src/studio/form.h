/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small pieces of forms: headings, labelled fields, buttons for hands. */
#pragma once

#include <gtk/gtk.h>

typedef void (*BlCommitFunc) (GtkWidget *widget, gpointer data);

GtkWidget *bl_form_heading (const char *text);
/* Running text, wrapped; @classes may be NULL or one CSS class. */
GtkWidget *bl_form_text (const char *text, const char *css_class);
/* A field under its label; the label names it for assistive technology. */
GtkWidget *bl_form_field (const char *label, GtkWidget *field);
/* Fields side by side, of equal width. */
GtkWidget *bl_form_pair (GtkWidget *a, GtkWidget *b);
GtkWidget *bl_form_entry (const char *placeholder);
GtkWidget *bl_form_choice (const char *const *words);
GtkWidget *bl_form_switch (const char *label, GtkWidget **the_switch);
GtkWidget *bl_form_button (const char *label, const char *icon, const char *action);
/* An icon alone: @name says what it does, as tooltip and accessible name. */
GtkWidget *bl_form_icon_button (const char *icon, const char *name, const char *action);
/* A hand: icon and word; @target of the action "win.hand" or another stateful one. */
GtkWidget *
bl_form_hand (const char *icon, const char *label, const char *action, const char *target);
/* Widgets side by side, for words that wrap. GTK's box asks each for its width at the height of the line,
 * and a label seeks that by setting its words some ten times; a grid asks for the height at a width only.
 * Within a scroller: at no width a grid wants the height its words have in the least one. */
GtkWidget *bl_form_line (guint spacing);
void bl_form_line_add (GtkWidget *line, GtkWidget *child);
/* Rows of equal buttons, two or more a row. */
GtkWidget *bl_form_grid (int columns);
void bl_form_grid_add (GtkWidget *grid, GtkWidget *child);

/* @commit is called when the entry's text was changed by the person and is done with: Enter, or
 * the focus leaving it. */
void bl_form_on_commit (GtkWidget *entry, BlCommitFunc commit, gpointer data);
/* Sets the text without that counting as a change; leaves alone what is being typed. */
void bl_form_set_text (GtkWidget *entry, const char *text);
const char *bl_form_get_text (GtkWidget *entry);
/* Marks a field as wrong, or right again. */
void bl_form_set_wrong (GtkWidget *entry, gboolean wrong);
void bl_form_clear (GtkWidget *box);
void bl_form_call (GtkWidget *widget, const char *name);
