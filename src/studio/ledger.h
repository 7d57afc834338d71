/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of a ledger's pane: what and how much; each opens to show its arithmetic and copies as
 * text. */
#pragma once

#include "studio/part.h"

typedef struct
{
  const char *key;   /* the same line from one showing to the next */
  const char *what, *under, *much;
  const char *how;   /* the arithmetic, on opening */
  const char *cells; /* the line as text, by bl_csv_tabbed() */
} BlLedgerRow;

typedef struct _BlLedger BlLedger;

/* What an opened row shows below its arithmetic; (transfer floating), NULL for nothing. @form is the
 * one from before, to be brought up to date; NULL at first. */
typedef GtkWidget *(*BlLedgerForm) (GtkWidget *form, const char *key, gpointer data);

/* Fills @box, which must be empty and stay its alone. @form may be NULL. */
BlLedger *bl_ledger_new (GtkWidget *box, BlLedgerForm form, gpointer data);
void bl_ledger_free (BlLedger *ledger);
/* A showing: begin, headings, rows and texts in order, end. What is the same as before keeps its
 * widgets, its focus and whether it is open. */
void bl_ledger_begin (BlLedger *ledger);
void bl_ledger_heading (BlLedger *ledger, const char *text, const char *much);
void bl_ledger_row (BlLedger *ledger, const BlLedgerRow *row);
void bl_ledger_text (BlLedger *ledger, const char *text, const char *css_class);
void bl_ledger_end (BlLedger *ledger);
/* The whole as lines of cells parted by tabs. */
char *bl_ledger_to_text (BlLedger *ledger, guint *n_rows);
/* A button that puts the whole on the clipboard, under @head (cells, may be NULL). */
GtkWidget *bl_ledger_copy_button (BlLedger *ledger, const char *head);
void bl_ledger_open (BlLedger *ledger, const char *key);
