/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making, opening and copying design files: every check of a strange file before it is used. */
#include "config.h"

#include "design/store.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "base/error.h"
#include "design/design.h"
#include "design/model.h"
#include "design/schema.h"

/* ---- new files ---- */

/* Claims @path by making it, empty, in the one way that cannot race: fails when it exists. Nothing
 * is connected to it yet, so closing the descriptor drops no lock. */
static gboolean
claim (const char *path,
       GError    **error)
{
  g_autofree char *shown = g_filename_display_name (path);
  int fd = g_open (path, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);

  if (fd >= 0)
    return g_close (fd, error);
  if (errno == EEXIST)
    g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                 _("“%s” exists already; choose another name, or move that file away first."), shown);
  else
    g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("“%s” cannot be made: %s."), shown,
                 g_strerror (errno));
  return FALSE;
}

static gboolean
fill_new (BlStore  *store,
          gboolean (*fill) (BlStore *store, GError **error),
          GError  **error)
{
  int rc = sqlite3_exec (store->db, "PRAGMA page_size = 16384", NULL, NULL, NULL);
  gboolean ok;

  if (rc != SQLITE_OK)
    return bl_store_fail (store, rc, error);
  if (!bl_store_begin (store, error))
    return FALSE;
  rc = bl_schema_create (store->db);
  ok = rc == SQLITE_OK || bl_store_fail (store, rc, error);
  store->version = BL_DESIGN_VERSION;
  ok = ok && fill (store, error) && bl_store_commit (store, error);
  if (!ok)
    bl_store_rollback (store);
  return ok;
}

BlStore *
bl_store_create (const char *path,
                 gboolean (*fill) (BlStore *store, GError **error),
                 GError    **error)
{
  g_autoptr(BlStore) store = NULL;
  gboolean ok;

  if (path != NULL && !claim (path, error))
    return NULL;
  store = bl_store_connect (path, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, error);
  ok = store != NULL && fill_new (store, fill, error);
  if (ok)
    return g_steal_pointer (&store);
  g_clear_pointer (&store, bl_store_free);
  if (path != NULL)
    g_unlink (path);
  return NULL;
}

/* Into memory, or into the empty file at @path, which is taken away again when it fails. */
static BlStore *
copy_into (BlStore    *store,
           const char *path,
           GError    **error)
{
  g_autoptr(BlStore) copy = NULL;
  sqlite3_backup *backup;
  int rc = SQLITE_OK;

  copy = bl_store_connect (path, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, error);
  backup = copy != NULL ? sqlite3_backup_init (copy->db, "main", store->db, "main") : NULL;
  if (backup != NULL)
    {
      sqlite3_backup_step (backup, -1);
      rc = sqlite3_backup_finish (backup);
    }
  if (backup != NULL && rc == SQLITE_OK)
    {
      copy->version = store->version;
      return g_steal_pointer (&copy);
    }
  if (copy != NULL)
    bl_store_fail (copy, backup != NULL ? rc : sqlite3_extended_errcode (copy->db), error);
  g_clear_pointer (&copy, bl_store_free);
  if (path != NULL)
    g_unlink (path);
  return NULL;
}

BlStore *
bl_store_copy_to (BlStore    *store,
                  const char *path,
                  GError    **error)
{
  if (path != NULL && !claim (path, error))
    return NULL;
  return copy_into (store, path, error);
}

/* ---- strange files ---- */

static gboolean
refuse (BlStore    *store,
        BlErrorCode code,
        GError    **error,
        const char *format,
        ...) G_GNUC_PRINTF (4, 5);

static gboolean
refuse (BlStore    *store,
        BlErrorCode code,
        GError    **error,
        const char *format,
        ...)
{
  g_autofree char *sentence = NULL, *what = NULL;
  va_list args;

  va_start (args, format);
  sentence = g_strdup_vprintf (format, args);
  va_end (args);
  /* What is quoted of the file may be no text, or cut within a letter. */
  what = g_utf8_make_valid (sentence, -1);
  g_set_error (error, BL_ERROR, code, "“%s” %s", store->shown, what);
  return FALSE;
}

/* Only what the file system says; the file itself is opened by SQLite alone. */
static gboolean
check_is_file (const char *path,
               GError    **error)
{
  g_autofree char *shown = g_filename_display_name (path);
  GStatBuf info;

  if (g_stat (path, &info) != 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("“%s” cannot be opened: %s."), shown,
                   g_strerror (errno));
      return FALSE;
    }
  if (!S_ISREG (info.st_mode))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("“%s” is not a file."), shown);
      return FALSE;
    }
  if (info.st_size == 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("“%s” is empty: there is no design in it."),
                   shown);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_stamp (BlStore *store,
             GError **error)
{
  gint64 application = 0, version = 0;

  if (!bl_store_number (store, "PRAGMA application_id", &application, error)
      || !bl_store_number (store, "PRAGMA user_version", &version, error))
    return FALSE;
  if (application != BL_DESIGN_APPLICATION_ID || version < 1 || version > 100000)
    return refuse (store, BL_ERROR_FILE, error, _("is a database, but not a Bedline design."));
  store->version = (int) version;
  /* The conditions of a newer file's tables are code too, which every look at its content would run.
   * It is never written, so nothing here needs them. */
  return store->version <= BL_DESIGN_VERSION
         || bl_store_exec (store, "PRAGMA ignore_check_constraints = ON", error);
}

static gboolean
check_schema (BlStore *store,
              GError **error)
{
  g_autofree char *difference = NULL;
  int rc = SQLITE_OK;

  if (bl_schema_matches (store->db, store->version, &difference, &rc))
    return TRUE;
  if (difference == NULL)
    return bl_store_fail (store, rc, error);
  return refuse (store, BL_ERROR_FILE, error, _("is not opened: %s."), difference);
}

/* SQLite takes a torn last page for a whole one with nothing in it, which an empty table's may be. */
static gboolean
check_last_page (BlStore *store,
                 GError **error)
{
  gint64 page = 0;
  GStatBuf info;

  if (!bl_store_number (store, "PRAGMA page_size", &page, error))
    return FALSE;
  if (page > 0 && g_stat (store->path, &info) == 0 && info.st_size % page != 0)
    return refuse (store, BL_ERROR_FILE, error,
                   _("is damaged: its end is missing. Use an earlier copy of it."));
  return TRUE;
}

/* SQLite's own look at every page, cell, type and link between tables. */
static gboolean
check_content (BlStore *store,
               GError **error)
{
  g_auto(BlUse) quick = bl_store_use (store, "PRAGMA quick_check(1)", error);
  g_auto(BlUse) keys = { NULL };
  BlStep step = quick.stmt != NULL ? bl_store_step (store, quick.stmt, error) : BL_STEP_FAILED;

  if (step == BL_STEP_FAILED)
    return FALSE;
  if (step != BL_STEP_ROW
      || g_strcmp0 ((const char *) sqlite3_column_text (quick.stmt, 0), "ok") != 0)
    return refuse (store, BL_ERROR_FILE, error, _("is damaged; use an earlier copy of it."));
  bl_use_clear (&quick);
  keys = bl_store_use (store, "PRAGMA foreign_key_check", error);
  step = keys.stmt != NULL ? bl_store_step (store, keys.stmt, error) : BL_STEP_FAILED;
  if (step == BL_STEP_ROW)
    return refuse (store, BL_ERROR_FILE, error,
                   _("is damaged: a part of it belongs to something that is missing. Use an earlier "
                   "copy of it."));
  return step == BL_STEP_DONE;
}

static void
find_read_only (BlStore *store)
{
  g_autofree char *folder = g_path_get_dirname (store->path);

  if (store->version > BL_DESIGN_VERSION)
    store->read_only
        = g_strdup_printf (_("“%s” was written by a newer Bedline (version %d of the file; this one "
                           "writes %d). It can be looked at, not changed."),
                           store->shown, store->version, BL_DESIGN_VERSION);
  else if (g_access (store->path, W_OK) != 0)
    store->read_only = g_strdup_printf (
        _("“%s” cannot be written: it is read-only. Save a copy to change it."), store->shown);
  else if (g_access (folder, W_OK | X_OK) != 0)
    store->read_only = g_strdup_printf (
        _("“%s” lies in a folder that cannot be written. Save a copy elsewhere to change it."),
        store->shown);
  else if (sqlite3_db_readonly (store->db, "main") == 1)
    store->read_only
        = g_strdup_printf (_("“%s” cannot be written now. Save a copy to change it."), store->shown);
  if (store->read_only != NULL)
    sqlite3_exec (store->db, "PRAGMA query_only = ON", NULL, NULL, NULL);
}

/* Another program may have set the file to a write-ahead log, whose companions would lie beside it:
 * back to the rollback journal. */
static gboolean
keep_one_file (BlStore *store,
               GError **error)
{
  g_auto(BlUse) use = { NULL };
  BlStep step;

  if (store->read_only != NULL)
    return TRUE;
  use = bl_store_use (store, "PRAGMA journal_mode = DELETE", error);
  step = use.stmt != NULL ? bl_store_step (store, use.stmt, error) : BL_STEP_FAILED;
  if (step != BL_STEP_ROW)
    return FALSE;
  if (g_strcmp0 ((const char *) sqlite3_column_text (use.stmt, 0), "delete") == 0)
    return TRUE;
  return bl_store_fail (store, SQLITE_BUSY, error);
}

/* ---- older files ---- */

/* Designs of version 1 had no id. It is no edit: nothing undoes it. */
static gboolean
give_id (BlStore *store,
         GError **error)
{
  g_auto(BlUse) use = bl_store_use (
      store,
      "SELECT (SELECT value FROM text WHERE name = 'title'), (SELECT value FROM text WHERE name = "
      "'client'), (SELECT value FROM text WHERE name = 'place')",
      error);
  g_autofree char *id = NULL, *sql = NULL;

  if (use.stmt == NULL || bl_store_step (store, use.stmt, error) != BL_STEP_ROW)
    return FALSE;
  id = bl_model_first_id ((const char *) sqlite3_column_text (use.stmt, 0),
                          (const char *) sqlite3_column_text (use.stmt, 1),
                          (const char *) sqlite3_column_text (use.stmt, 2));
  sql = g_strdup_printf ("INSERT OR IGNORE INTO text (name, value) VALUES ('id', '%s')", id);
  return bl_store_exec (store, sql, error);
}

static gboolean
grow_locked (BlStore *store,
             GError **error)
{
  int rc = bl_schema_grow (store->db, store->version);

  if ((rc != SQLITE_OK && !bl_store_fail (store, rc, error))
      || (store->version == 1 && !give_id (store, error)) || !bl_store_commit (store, error))
    return FALSE;
  store->version = BL_DESIGN_VERSION;
  return TRUE;
}

typedef enum
{
  GROWTH_DONE,
  GROWTH_BY_OTHER, /* another program grew the file after its version was read */
  GROWTH_NOT_BEGUN,
  GROWTH_FAILED
} Growth;

static Growth
grow_within (BlStore *store,
             GError **error)
{
  gint64 version = 0;
  Growth growth = GROWTH_NOT_BEGUN;

  if (!bl_store_begin (store, error))
    return GROWTH_NOT_BEGUN;
  /* Only from here on does nobody else write. */
  if (bl_store_number (store, "PRAGMA user_version", &version, error))
    growth = version != store->version     ? GROWTH_BY_OTHER
             : grow_locked (store, error) ? GROWTH_DONE
                                          : GROWTH_FAILED;
  if (growth != GROWTH_DONE)
    bl_store_rollback (store);
  return growth;
}

/* One that cannot be written grows in memory only. */
static Growth
grow_copy (BlStore *store,
           GError **error)
{
  g_autoptr(BlStore) copy = bl_store_copy_to (store, NULL, error);
  sqlite3 *db = store->db;
  GHashTable *statements = store->statements;
  Growth growth = copy != NULL ? grow_within (copy, error) : GROWTH_NOT_BEGUN;

  if (growth != GROWTH_DONE)
    return growth;
  store->db = copy->db;
  store->statements = copy->statements;
  store->version = copy->version;
  copy->db = db;
  copy->statements = statements;
  sqlite3_exec (store->db, "PRAGMA query_only = ON", NULL, NULL, NULL);
  return GROWTH_DONE;
}

/* Copies the file as it is beside itself, under a name that nothing has; gives the name. */
static char *
keep_original (BlStore *store,
               GError **error)
{
  g_autofree char *stem = g_strdup_printf ("%s.version-%d", store->path, store->version);
  g_autofree char *beside = g_strdup (stem);
  g_autoptr(BlStore) original = NULL;
  int fd;

  for (guint n = 2; (fd = g_open (beside, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666)) < 0; n++)
    {
      if (errno != EEXIST)
        {
          bl_store_fail (store, errno == ENOSPC ? SQLITE_FULL : SQLITE_CANTOPEN, error);
          return NULL;
        }
      g_free (beside);
      beside = g_strdup_printf ("%s-%u", stem, n);
    }
  close (fd);
  original = copy_into (store, beside, error);
  return original != NULL ? g_steal_pointer (&beside) : NULL;
}

/* Whether the file reads as the older one that it was. */
static gboolean
is_untouched (BlStore *store)
{
  gint64 version = 0;

  return sqlite3_get_autocommit (store->db) != 0
         && bl_store_number (store, "PRAGMA user_version", &version, NULL) && version == store->version;
}

/* The file as it was lies beside it until the new one is safely written, and stays there when the
 * writing failed half way. */
static Growth
grow (BlStore *store,
      GError **error)
{
  g_autofree char *beside = NULL;
  Growth growth;

  if (store->read_only != NULL)
    return grow_copy (store, error);
  beside = keep_original (store, error);
  if (beside == NULL)
    return GROWTH_NOT_BEGUN;
  growth = grow_within (store, error);
  if (growth != GROWTH_FAILED || is_untouched (store))
    g_unlink (beside);
  return growth;
}

/* A file that cannot be written is opened as such from the start. */
static BlStore *
connect_existing (const char *path,
                  GError    **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  gboolean writable = g_access (path, W_OK) == 0 && g_access (folder, W_OK) == 0;

  return bl_store_connect (path, writable ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY, error);
}

/* The version and the tables are read as of one moment: another program may be growing the file. */
static gboolean
check_kind (BlStore *store,
            GError **error)
{
  return bl_store_exec (store, "BEGIN", error) && check_stamp (store, error)
         && check_schema (store, error) && bl_store_commit (store, error);
}

static gboolean
look_over (BlStore *store,
           GError **error)
{
  if (!check_kind (store, error) || !check_last_page (store, error) || !check_content (store, error))
    return FALSE;
  g_clear_pointer (&store->read_only, g_free);
  find_read_only (store);
  return keep_one_file (store, error);
}

BlStore *
bl_store_open (const char *path,
               GError    **error)
{
  g_autoptr(BlStore) store = NULL;
  gboolean ok;

  if (!check_is_file (path, error))
    return NULL;
  store = connect_existing (path, error);
  ok = store != NULL && look_over (store, error);
  while (ok && store->version < BL_DESIGN_VERSION)
    {
      Growth growth = grow (store, error);

      ok = growth == GROWTH_DONE || (growth == GROWTH_BY_OTHER && look_over (store, error));
    }
  return ok ? g_steal_pointer (&store) : NULL;
}
