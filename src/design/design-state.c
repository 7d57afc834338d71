/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a design keeps beside its edits: its pictures' bytes, and how the window stood. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/design-private.h"

static GBytes *
picture_bytes (BlStore *store,
               gboolean drawing,
               GError **error)
{
  g_auto(BlUse) use = { NULL };
  BlStep step;

  use = bl_store_use (store,
                      drawing
                          ? "SELECT bytes FROM picture WHERE id = (SELECT picture FROM drawing)"
                          : "SELECT bytes FROM picture WHERE id = (SELECT picture FROM photo)",
                      error);
  step = use.stmt != NULL ? bl_store_step (store, use.stmt, error) : BL_STEP_FAILED;
  if (step != BL_STEP_ROW)
    return NULL;
  if (sqlite3_column_bytes (use.stmt, 0) > BL_MAX_PICTURE
      || sqlite3_column_blob (use.stmt, 0) == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _("The %s in “%s” is empty or too large to be shown."),
                   drawing ? _("base drawing") : _("photo"), store->shown);
      return NULL;
    }
  return g_bytes_new (sqlite3_column_blob (use.stmt, 0),
                      (gsize) sqlite3_column_bytes (use.stmt, 0));
}

GBytes *
bl_design_photo_bytes (BlDesign *self,
                       GError  **error)
{
  g_return_val_if_fail (BL_IS_DESIGN (self), NULL);
  return picture_bytes (self->store, FALSE, error);
}

GBytes *
bl_design_drawing_bytes (BlDesign *self,
                         GError  **error)
{
  g_return_val_if_fail (BL_IS_DESIGN (self), NULL);
  return picture_bytes (self->store, TRUE, error);
}

GBytes *
bl_design_read_picture (const char *path,
                        gboolean    drawing,
                        GError    **error)
{
  g_autoptr(BlStore) store = bl_store_connect (path, SQLITE_OPEN_READONLY, error);

  return store != NULL ? picture_bytes (store, drawing, error) : NULL;
}

char *
bl_design_get_state (BlDesign   *self,
                     const char *key)
{
  g_auto(BlUse) use = { NULL };
  const char *loose;

  g_return_val_if_fail (BL_IS_DESIGN (self) && key != NULL, NULL);
  loose = g_hash_table_lookup (self->loose_state, key);
  if (loose != NULL)
    return g_strdup (loose);
  use = bl_store_use (self->store, "SELECT value FROM state WHERE name = ?1", NULL);
  if (use.stmt == NULL)
    return NULL;
  bl_bind_text (&use, 1, key);
  if (bl_store_step (self->store, use.stmt, NULL) == BL_STEP_ROW)
    {
      BlRow row = { use.stmt, NULL };
      g_autofree char *value = bl_row_text_or_null (&row, 0, BL_MAX_TEXT);
      g_autofree char *problem = row.problem;

      return problem == NULL ? g_steal_pointer (&value) : NULL;
    }
  return NULL;
}

static gboolean
write_state (BlDesign   *self,
             const char *key,
             const char *value)
{
  g_auto (BlUse) use = bl_store_use (
      self->store,
      "INSERT INTO state (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = ?2",
      NULL);

  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, key);
  bl_bind_text (&use, 2, value);
  return bl_store_step (self->store, use.stmt, NULL) == BL_STEP_DONE
         && bl_store_exec (self->store, "UPDATE meta SET states = states + 1", NULL);
}

void
bl_design_set_state (BlDesign   *self,
                     const char *key,
                     const char *value)
{
  g_autofree char *present = NULL;
  gboolean ok;

  g_return_if_fail (BL_IS_DESIGN (self) && key != NULL && value != NULL);
  present = bl_design_get_state (self, key);
  if (g_strcmp0 (present, value) == 0 || strlen (value) > BL_MAX_TEXT)
    return;
  /* How the window stood is no edit: where it cannot be kept, it holds while the program runs. */
  ok = self->store->read_only == NULL && !self->editing && bl_store_begin (self->store, NULL);
  if (ok && !(write_state (self, key, value) && bl_store_commit (self->store, NULL)))
    {
      bl_store_rollback (self->store);
      ok = FALSE;
    }
  if (ok)
    {
      self->states++;
      g_hash_table_remove (self->loose_state, key);
    }
  else
    g_hash_table_insert (self->loose_state, g_strdup (key), g_strdup (value));
}
