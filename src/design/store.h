/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A connection to a design file: statements that always reset, transactions, plain sentences. */
#pragma once

#include <gio/gio.h>
#include <sqlite3.h>

typedef struct _BlStore BlStore;
struct _BlStore
{
  sqlite3 *db;
  char *path;             /* absolute; NULL in memory */
  char *shown;            /* the file's name in a sentence */
  char *read_only;        /* why it cannot be written; NULL when it can */
  int version;            /* of the file */
  GHashTable *statements; /* SQL text -> prepared statement */
};

/* A new file with our tables and the rows that @fill puts into them, in one transaction; NULL
 * @path: in memory. Never an existing file. */
BlStore *bl_store_create (const char *path, gboolean (*fill) (BlStore *store, GError **error),
                          GError **error);
/* An existing file, after every check of it has passed. */
BlStore *bl_store_open (const char *path, GError **error);
void bl_store_free (BlStore *store);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlStore, bl_store_free)
/* A copy to a new file at @path, or into memory when NULL, by the backup interface. */
BlStore *bl_store_copy_to (BlStore *store, const char *path, GError **error);

/* A borrowed statement; it resets and forgets its values when it goes out of scope. */
typedef struct
{
  sqlite3_stmt *stmt; /* NULL when it could not be prepared */
} BlUse;
BlUse bl_store_use (BlStore *store, const char *sql, GError **error);
void bl_use_clear (BlUse *use);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BlUse, bl_use_clear)

typedef enum { BL_STEP_FAILED, BL_STEP_ROW, BL_STEP_DONE } BlStep;
BlStep bl_store_step (BlStore *store, sqlite3_stmt *stmt, GError **error);
/* A statement without rows, or whose rows do not matter. */
gboolean bl_store_exec (BlStore *store, const char *sql, GError **error);
/* The first column of the first row. */
gboolean bl_store_number (BlStore *store, const char *sql, gint64 *value, GError **error);
/* FALSE with @error when the file that is open is no longer the one under its name: it was moved or
 * deleted, or another was put in its place, as programs do that keep folders alike. */
gboolean bl_store_stays (BlStore *store, GError **error);
/* Sets @error from SQLite's last result @rc; always FALSE. */
gboolean bl_store_fail (BlStore *store, int rc, GError **error);

/* A write transaction: BEGIN IMMEDIATE, COMMIT, ROLLBACK. */
gboolean bl_store_begin (BlStore *store, GError **error);
gboolean bl_store_commit (BlStore *store, GError **error);
void bl_store_rollback (BlStore *store);

/* For store-open.c: opens @path (or ":memory:") with every safeguard set. */
BlStore *bl_store_connect (const char *path, int flags, GError **error);
