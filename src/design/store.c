/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A connection to a design file: statements that always reset, transactions, plain sentences. */
#include "config.h"

#include "design/store.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

/* Invariants:
 * 1. No statement is left stepped half way: a BlUse resets it on every path.
 * 2. Results are compared with OK, ROW and DONE only; anything else ends in bl_store_fail.
 * 3. The file is never opened by other means while connected: closing any other descriptor of it
 *    would drop SQLite's locks. */

#define BUSY_TIMEOUT_MS 2500

BlUse
bl_store_use (BlStore    *store,
              const char *sql,
              GError    **error)
{
  BlUse use = { g_hash_table_lookup (store->statements, sql) };
  int rc;

  if (use.stmt != NULL)
    return use;
  rc = sqlite3_prepare_v3 (store->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &use.stmt, NULL);
  if (rc != SQLITE_OK)
    {
      bl_store_fail (store, rc, error);
      return (BlUse) { NULL };
    }
  g_hash_table_insert (store->statements, g_strdup (sql), use.stmt);
  return use;
}

void
bl_use_clear (BlUse *use)
{
  if (use->stmt == NULL)
    return;
  sqlite3_reset (use->stmt);
  sqlite3_clear_bindings (use->stmt);
  use->stmt = NULL;
}

BlStep
bl_store_step (BlStore      *store,
               sqlite3_stmt *stmt,
               GError      **error)
{
  int rc = sqlite3_step (stmt);

  if (rc == SQLITE_ROW)
    return BL_STEP_ROW;
  if (rc == SQLITE_DONE)
    return BL_STEP_DONE;
  bl_store_fail (store, rc, error);
  return BL_STEP_FAILED;
}

gboolean
bl_store_exec (BlStore    *store,
               const char *sql,
               GError    **error)
{
  g_auto(BlUse) use = bl_store_use (store, sql, error);
  BlStep step = use.stmt != NULL ? BL_STEP_ROW : BL_STEP_FAILED;

  while (step == BL_STEP_ROW)
    step = bl_store_step (store, use.stmt, error);
  return step == BL_STEP_DONE;
}

gboolean
bl_store_number (BlStore    *store,
                 const char *sql,
                 gint64     *value,
                 GError    **error)
{
  g_auto(BlUse) use = bl_store_use (store, sql, error);
  BlStep step = use.stmt != NULL ? bl_store_step (store, use.stmt, error) : BL_STEP_FAILED;

  *value = step == BL_STEP_ROW ? sqlite3_column_int64 (use.stmt, 0) : 0;
  if (step == BL_STEP_DONE)
    g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                 _("“%s” is damaged: a row it must have is missing. Use an earlier copy of it."),
                 store->shown);
  return step == BL_STEP_ROW;
}

gboolean
bl_store_stays (BlStore *store,
                GError **error)
{
  int moved = 0;

  if (store->path == NULL
      || sqlite3_file_control (store->db, "main", SQLITE_FCNTL_HAS_MOVED, &moved) != SQLITE_OK)
    return TRUE;
  return !moved || bl_store_fail (store, SQLITE_READONLY_DBMOVED, error);
}

/* ---- sentences ---- */

static void
tell_read_only (BlStore *store,
                int      rc,
                GError **error)
{
  if (rc == SQLITE_READONLY_DBMOVED && g_file_test (store->path, G_FILE_TEST_EXISTS))
    g_set_error (error, BL_ERROR, BL_ERROR_READ_ONLY,
                 _("“%s” was replaced by another file while it was open; open it again to see that "
                   "one, or save a copy of what is shown here under a new name."),
                 store->shown);
  else if (rc == SQLITE_READONLY_DBMOVED)
    g_set_error (error, BL_ERROR, BL_ERROR_READ_ONLY,
                 _("“%s” was moved, renamed or deleted while it was open; save a copy of the design "
                 "under a new name."),
                 store->shown);
  else
    g_set_error (error, BL_ERROR, BL_ERROR_READ_ONLY,
                 _("“%s” cannot be written; save a copy of the design elsewhere to change it."),
                 store->shown);
}

/* The folder refuses the locks by which programs keep out of each other's way. */
static gboolean
cannot_take_turns (int rc)
{
  return rc == SQLITE_IOERR_LOCK || rc == SQLITE_IOERR_RDLOCK || rc == SQLITE_IOERR_UNLOCK
         || rc == SQLITE_IOERR_CHECKRESERVEDLOCK;
}

static void
tell_refused (BlStore *store,
              int      rc,
              GError **error)
{
  const char *name = store->shown;

  if ((rc & 0xff) == SQLITE_CONSTRAINT)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("This change does not fit the rest of “%s”: it names something that is not there, "
                 "or would leave something without what it belongs to."),
                 name);
  else if ((rc & 0xff) == SQLITE_TOOBIG)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("That is too large to be stored in “%s”."), name);
  else if ((rc & 0xff) == SQLITE_NOMEM)
    g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                 _("There is not enough memory to work on “%s”; nothing was changed."), name);
  else if (cannot_take_turns (rc))
    g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                 _("“%s” lies in a folder where programs cannot take turns, as some network folders "
                   "are: copy it to this machine to work on it, and back when you are done."),
                 name);
  else if ((rc & 0xff) == SQLITE_IOERR)
    g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                 _("The disk failed while reading or writing “%s” (code %d); what was saved before "
                 "is kept. Save a copy elsewhere."),
                 name, rc);
  else
    g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                 _("“%s” could not be read or changed: %s (code %d)."), name, sqlite3_errstr (rc), rc);
}

gboolean
bl_store_fail (BlStore *store,
               int      rc,
               GError **error)
{
  const char *name = store->shown;

  switch (rc & 0xff)
    {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      g_set_error (error, BL_ERROR, BL_ERROR_BUSY,
                   _("“%s” is being written by another program; try again in a moment."), name);
      break;
    case SQLITE_READONLY:
      tell_read_only (store, rc, error);
      break;
    case SQLITE_FULL:
      g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                   _("The disk is full: this change to “%s” was not saved. Make room and try again."),
                   name);
      break;
    case SQLITE_NOTADB:
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("“%s” is not a Bedline design."), name);
      break;
    case SQLITE_CORRUPT:
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("“%s” is damaged; use an earlier copy of it."),
                   name);
      break;
    case SQLITE_CANTOPEN:
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _("“%s” cannot be opened, or nothing can be written beside it; look at the "
                   "folder's permissions."),
                   name);
      break;
    default:
      tell_refused (store, rc, error);
    }
  return FALSE;
}

/* ---- transactions ---- */

gboolean
bl_store_begin (BlStore *store,
                GError **error)
{
  return bl_store_exec (store, "BEGIN IMMEDIATE", error);
}

gboolean
bl_store_commit (BlStore *store,
                 GError **error)
{
  return bl_store_exec (store, "COMMIT", error);
}

void
bl_store_rollback (BlStore *store)
{
  /* A failed COMMIT may have rolled back by itself; and a failing rollback leaves the journal, from
   * which the next reader restores the file. There is nothing more to be done here either way. */
  if (!sqlite3_get_autocommit (store->db))
    bl_store_exec (store, "ROLLBACK", NULL);
}

/* ---- life ---- */

static gboolean
set_safeguards (BlStore *store,
                GError **error)
{
  static const struct { int option, value; } options[] = {
    { SQLITE_DBCONFIG_DEFENSIVE, 1 },
    { SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0 },
    { SQLITE_DBCONFIG_ENABLE_TRIGGER, 0 },
    { SQLITE_DBCONFIG_ENABLE_VIEW, 0 },
    { SQLITE_DBCONFIG_ENABLE_FKEY, 1 },
    { SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0 },
    { SQLITE_DBCONFIG_DQS_DDL, 0 },
    { SQLITE_DBCONFIG_DQS_DML, 0 },
  };
  static const char *const pragmas[] = {
    "PRAGMA cell_size_check = ON", "PRAGMA mmap_size = 0", "PRAGMA temp_store = MEMORY",
    /* Also syncs the folder after the journal is gone, so that a reported edit stays. */
    "PRAGMA synchronous = EXTRA",
  };
  int rc = SQLITE_OK;

  sqlite3_extended_result_codes (store->db, 1);
  sqlite3_busy_timeout (store->db, BUSY_TIMEOUT_MS);
  for (guint i = 0; i < G_N_ELEMENTS (options) && rc == SQLITE_OK; i++)
    rc = sqlite3_db_config (store->db, options[i].option, options[i].value, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (pragmas) && rc == SQLITE_OK; i++)
    rc = sqlite3_exec (store->db, pragmas[i], NULL, NULL, NULL);
  if (rc != SQLITE_OK)
    return bl_store_fail (store, rc, error);
  sqlite3_limit (store->db, SQLITE_LIMIT_LENGTH, 256 * 1024 * 1024);
  sqlite3_limit (store->db, SQLITE_LIMIT_ATTACHED, 0);
  sqlite3_limit (store->db, SQLITE_LIMIT_SQL_LENGTH, 100000);
  sqlite3_limit (store->db, SQLITE_LIMIT_COLUMN, 200);
  sqlite3_limit (store->db, SQLITE_LIMIT_EXPR_DEPTH, 50);
  return TRUE;
}

static void
finalize_statement (gpointer stmt)
{
  /* What it returns is the result of its last step, which was told then. */
  sqlite3_finalize (stmt);
}

BlStore *
bl_store_connect (const char *path,
                  int         flags,
                  GError    **error)
{
  g_autoptr(BlStore) store = g_new0 (BlStore, 1);
  int rc;

  store->path = path != NULL ? g_canonicalize_filename (path, NULL) : NULL;
  store->shown = path != NULL ? g_filename_display_basename (path) : g_strdup ("new design");
  store->statements = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, finalize_statement);
  /* An absolute path is never taken for a "file:" address. */
  rc = sqlite3_open_v2 (store->path != NULL ? store->path : ":memory:", &store->db,
                        flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_PRIVATECACHE, NULL);
  if (rc != SQLITE_OK)
    {
      bl_store_fail (store, store->db != NULL ? sqlite3_extended_errcode (store->db) : rc, error);
      return NULL;
    }
  if (!set_safeguards (store, error))
    return NULL;
  return g_steal_pointer (&store);
}

void
bl_store_free (BlStore *store)
{
  if (store == NULL)
    return;
  g_hash_table_unref (store->statements);
  sqlite3_close_v2 (store->db);
  g_free (store->path);
  g_free (store->shown);
  g_free (store->read_only);
  g_free (store);
}
