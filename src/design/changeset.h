/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The recorded changes of an edit: read and checked before they are ever applied. */
#pragma once

#include "design/schema.h"
#include "design/store.h"

/* Which rows changed; sorted and unique are not promised. */
typedef struct
{
  BlTouched touched;
  GArray *rows; /* BlChangedRow */
} BlChanges;

typedef struct
{
  BlTable table;
  gint64 id;
} BlChangedRow;

BlChanges *bl_changes_new (void);
void bl_changes_free (BlChanges *changes);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlChanges, bl_changes_free)

/* Reads the whole of a changeset against our tables and adds its rows to @changes. FALSE when any
 * byte of it is not what SQLite's session extension writes for these tables: a file from elsewhere
 * may hold anything, and the library that applies changesets trusts their form. */
gboolean bl_changeset_read (gconstpointer data, gsize length, BlChanges *changes);

/* Applies @data, or its inverse, to the rows, within the caller's transaction. FALSE with
 * BL_ERROR_BUSY when the rows are no longer what it expects. */
gboolean bl_changeset_apply (BlStore *store, gconstpointer data, gsize length, gboolean inverse,
                             GError **error);
