/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Undo and redo from the recorded changesets, across closing, crashing and other programs. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/design-private.h"

void
bl_history_entry_free (BlHistoryEntry *entry)
{
  if (entry == NULL)
    return;
  g_free (entry->label);
  g_free (entry->when);
  g_free (entry);
}

static gboolean
apply_entry (BlStore      *store,
             sqlite3_stmt *row,
             gboolean      undo,
             BlChanges    *changes,
             GError      **error)
{
  gconstpointer data = sqlite3_column_blob (row, 1);
  gsize length = (gsize) sqlite3_column_bytes (row, 1);
  g_autoptr(GBytes) copy = g_bytes_new (data, length);

  if (!bl_changeset_read (g_bytes_get_data (copy, NULL), length, changes))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _("The history of “%s” is damaged at this step, so it cannot be undone or redone; "
                   "the design itself is whole."),
                   store->shown);
      return FALSE;
    }
  return bl_changeset_apply (store, g_bytes_get_data (copy, NULL), length, undo, error);
}

gboolean
bl_history_step (BlStore   *store,
                 gboolean   undo,
                 BlChanges *changes,
                 gboolean  *moved,
                 GError   **error)
{
  static const char last_done[]
      = "SELECT seq, changeset FROM history WHERE seq = (SELECT done FROM meta)";
  static const char first_undone[] =
    "SELECT seq, changeset FROM history WHERE seq > (SELECT done FROM meta) ORDER BY seq LIMIT 1";
  static const char step_back[] =
    "UPDATE meta SET done = (SELECT coalesce(max(seq), 0) FROM history WHERE seq < done)";
  static const char step_on[] =
    "UPDATE meta SET done = (SELECT min(seq) FROM history WHERE seq > done)";
  g_auto(BlUse) use = bl_store_use (store, undo ? last_done : first_undone, error);
  BlStep step = use.stmt != NULL ? bl_store_step (store, use.stmt, error) : BL_STEP_FAILED;

  *moved = FALSE;
  if (step == BL_STEP_DONE)
    return TRUE;
  if (step == BL_STEP_FAILED || !apply_entry (store, use.stmt, undo, changes, error))
    return FALSE;
  bl_use_clear (&use);
  *moved = TRUE;
  return bl_store_exec (store, undo ? step_back : step_on, error);
}

static gboolean
give_up (BlDesign *design)
{
  bl_store_rollback (design->store);
  bl_design_recover (design);
  return FALSE;
}

static gboolean
move_one (BlDesign   *design,
          gboolean    undo,
          GError    **error)
{
  g_autoptr(BlChanges) changes = bl_changes_new ();
  gboolean moved = FALSE;

  g_return_val_if_fail (BL_IS_DESIGN (design) && !design->editing, FALSE);
  if (!bl_design_begin_writing (design, error))
    return FALSE;
  if (!bl_history_step (design->store, undo, changes, &moved, error))
    return give_up (design);
  if (moved)
    return bl_design_finish_writing (design, changes, error);
  g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND, "%s",
               undo ? _("There is nothing to undo.") : _("There is nothing to redo."));
  return give_up (design);
}

gboolean
bl_design_undo (BlDesign *design,
                GError  **error)
{
  return move_one (design, TRUE, error);
}

gboolean
bl_design_redo (BlDesign *design,
                GError  **error)
{
  return move_one (design, FALSE, error);
}

const char *
bl_design_undo_label (BlDesign *design)
{
  g_return_val_if_fail (BL_IS_DESIGN (design), NULL);
  return design->undo_label;
}

const char *
bl_design_redo_label (BlDesign *design)
{
  g_return_val_if_fail (BL_IS_DESIGN (design), NULL);
  return design->redo_label;
}

GPtrArray *
bl_design_history (BlDesign *design,
                   GError  **error)
{
  g_autoptr (GPtrArray) entries
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_history_entry_free);
  g_auto(BlUse) use = { NULL };
  BlStep step = BL_STEP_FAILED;

  g_return_val_if_fail (BL_IS_DESIGN (design), NULL);
  use = bl_store_use (
      design->store,
      "SELECT seq, label, at, seq > (SELECT done FROM meta) FROM history ORDER BY seq", error);
  while (use.stmt != NULL && (step = bl_store_step (design->store, use.stmt, error)) == BL_STEP_ROW)
    {
      BlRow row = { use.stmt, NULL };
      BlHistoryEntry *entry = g_new0 (BlHistoryEntry, 1);

      entry->seq = bl_row_int (&row, 0, 1, G_MAXINT64);
      entry->label = bl_row_text (&row, 1, BL_MAX_NAME);
      entry->when = bl_row_text (&row, 2, BL_MAX_NAME);
      entry->undone = bl_row_switch (&row, 3);
      g_free (row.problem);
      g_ptr_array_add (entries, entry);
    }
  return step == BL_STEP_DONE ? g_steal_pointer (&entries) : NULL;
}

/* All steps to @seq within the transaction that is open. */
static gboolean
walk_to (BlDesign  *design,
         gint64     seq,
         BlChanges *changes,
         gboolean  *moved,
         GError   **error)
{
  gint64 done = 0;
  gboolean stepped = TRUE;

  while (stepped)
    {
      if (!bl_store_number (design->store, "SELECT done FROM meta", &done, error))
        return FALSE;
      if (done == seq)
        return TRUE;
      if (!bl_history_step (design->store, done > seq, changes, &stepped, error))
        return FALSE;
      *moved = *moved || stepped;
    }
  g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND, _("That step is not in the history of “%s”."),
               design->store->shown);
  return FALSE;
}

static gboolean
is_step (BlDesign *design,
         gint64    seq,
         GError  **error)
{
  g_autofree char *sql
      = g_strdup_printf ("SELECT count(*) FROM history WHERE seq = %" G_GINT64_FORMAT, seq);
  gint64 count = 0;

  if (seq == 0)
    return TRUE;
  if (!bl_store_number (design->store, sql, &count, error))
    return FALSE;
  if (count == 0)
    g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND, _("That step is not in the history of “%s”."),
                 design->store->shown);
  return count > 0;
}

gboolean
bl_design_go_to (BlDesign *design,
                 gint64    seq,
                 GError  **error)
{
  g_autoptr(BlChanges) changes = bl_changes_new ();
  gboolean moved = FALSE;

  g_return_val_if_fail (BL_IS_DESIGN (design) && !design->editing && seq >= 0, FALSE);
  if (!bl_design_begin_writing (design, error))
    return FALSE;
  if (!is_step (design, seq, error) || !walk_to (design, seq, changes, &moved, error))
    return give_up (design);
  if (moved)
    return bl_design_finish_writing (design, changes, error);
  bl_store_rollback (design->store);
  return TRUE;
}
