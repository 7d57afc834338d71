/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of a design, shared by the files that implement it. */
#pragma once

#include "design/changeset.h"
#include "design/design.h"
#include "design/rows.h"
#include "design/store.h"

struct _BlDesign
{
  GObject parent_instance;
  BlStore *store;
  BlModel *model;             /* what the rows say, as of @revision */
  gint64 revision, states;    /* meta's counters, as last seen */
  gint64 data_version;        /* SQLite's mark of other connections' commits */
  gboolean editing;           /* between begin and commit */
  char *label;                /* of the edit */
  sqlite3_session *session;   /* records the edit */
  GHashTable *loose_state;    /* view state that could not be written */
  char *undo_label, *redo_label;
  gboolean checking;          /* look at every invariant after every edit */
};

/* Begins a write transaction on the state that is shown. When another program changed the file
 * since, reads it again, says so with BL_ERROR_BUSY, and begins nothing. */
gboolean bl_design_begin_writing (BlDesign *design, GError **error);
/* Counts the edit, reads what @changes touched, checks the whole, commits, and shows the new model.
 * On failure everything is rolled back. */
gboolean bl_design_finish_writing (BlDesign *design, const BlChanges *changes, GError **error);
/* After a rollback: should the file have moved on all the same, reads it again. */
void bl_design_recover (BlDesign *design);
/* The model of the present rows; NULL @changes: all of it. */
BlModel *bl_design_read_model (BlDesign *design, const BlChanges *changes, GError **error);
/* Reads the labels of the next undo and redo. */
gboolean bl_design_read_labels (BlDesign *design, GError **error);
void bl_design_end_edit (BlDesign *design);
/* Undoes or redoes one step of @store within the caller's transaction; adds its rows to @changes.
 * *@moved is FALSE when there is none. */
gboolean
bl_history_step (
    BlStore *store, gboolean undo, BlChanges *changes, gboolean *moved, GError **error);
