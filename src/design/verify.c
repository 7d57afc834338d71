/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The long look at a design file: its pages, its rows, its photo, and its whole history walked. */
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/design-private.h"
#include "design/dump.h"

static void
tell (GPtrArray  *breaches,
      const char *sentence)
{
  g_ptr_array_add (breaches, g_strdup (sentence));
}

static void
check_integrity (BlDesign  *design,
                 GPtrArray *breaches)
{
  g_autoptr(GError) error = NULL;
  g_auto(BlUse) use = bl_store_use (design->store, "PRAGMA integrity_check(3)", &error);

  while (use.stmt != NULL && bl_store_step (design->store, use.stmt, &error) == BL_STEP_ROW)
    {
      const char *said = (const char *) sqlite3_column_text (use.stmt, 0);

      if (g_strcmp0 (said, "ok") != 0)
        g_ptr_array_add (breaches,
                         g_strdup_printf ("The file is damaged (%s).", said != NULL ? said : ""));
    }
  if (error != NULL)
    tell (breaches, error->message);
}

static void
check_pictures (BlDesign  *design,
                GPtrArray *breaches)
{
  g_autoptr(GError) error = NULL;
  g_auto(BlUse) use = bl_store_use (design->store, "SELECT sha256, bytes FROM picture", &error);

  while (use.stmt != NULL && bl_store_step (design->store, use.stmt, &error) == BL_STEP_ROW)
    {
      g_autofree char *sum
          = g_compute_checksum_for_data (G_CHECKSUM_SHA256, sqlite3_column_blob (use.stmt, 1),
                                         (gsize) sqlite3_column_bytes (use.stmt, 1));

      if (g_strcmp0 (sum, (const char *) sqlite3_column_text (use.stmt, 0)) != 0)
        tell (breaches, "A photo in the file is not as it was when it was put there.");
    }
  if (error != NULL)
    tell (breaches, error->message);
}

static char *
dump_rows (BlStore *store,
           GError **error)
{
  g_autoptr(BlModel) model = bl_model_new ();

  if (!bl_rows_load_model (store, model, NULL, BL_TOUCHED_ALL, error))
    return NULL;
  return bl_model_dump (model, TRUE);
}

static gboolean
walk (BlStore *store,
      gboolean undo,
      guint   *steps,
      GError **error)
{
  gboolean moved = TRUE;

  for (*steps = 0; moved; *steps += moved)
    {
      g_autoptr(BlChanges) changes = bl_changes_new ();

      if (!bl_history_step (store, undo, changes, &moved, error))
        return FALSE;
    }
  return TRUE;
}

/* Invariant 9, on a copy in memory: back to the beginning, on to the end, back to the present. */
static gboolean
check_walk (BlDesign  *design,
            GPtrArray *breaches,
            GError   **error)
{
  g_autoptr(BlStore) copy = bl_store_copy_to (design->store, NULL, error);
  g_autofree char *before = NULL, *after = NULL;
  guint back = 0, on = 0;

  if (copy == NULL)
    return FALSE;
  before = dump_rows (copy, error);
  /* One transaction holds the walk; it is thrown away with the copy. */
  if (before == NULL || !bl_store_begin (copy, error) || !walk (copy, TRUE, &back, error)
      || !walk (copy, FALSE, &on, error))
    return FALSE;
  for (; on > back; on--)
    {
      g_autoptr(BlChanges) changes = bl_changes_new ();
      gboolean moved = FALSE;

      if (!bl_history_step (copy, TRUE, changes, &moved, error))
        return FALSE;
    }
  after = dump_rows (copy, error);
  if (after == NULL)
    return FALSE;
  if (strcmp (before, after) != 0)
    tell (breaches, "Undoing every step and doing them again does not give the same design.");
  bl_store_rollback (copy);
  return TRUE;
}

GPtrArray *
bl_design_verify (const char *path,
                  GError    **error)
{
  g_autoptr(BlDesign) design = bl_design_open (path, error);
  g_autoptr(GPtrArray) breaches = NULL;
  g_autoptr(GError) problem = NULL;

  if (design == NULL)
    return NULL;
  breaches = bl_design_check (design);
  check_integrity (design, breaches);
  if (design->store->version > BL_DESIGN_VERSION)
    return g_steal_pointer (&breaches);
  check_pictures (design, breaches);
  if (!check_walk (design, breaches, &problem))
    tell (breaches, problem->message);
  return g_steal_pointer (&breaches);
}
