/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The recorded changes of an edit: read and checked before they are ever applied. */
#include "config.h"

#include "design/changeset.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

/* An older version's history has fewer columns in a table that has grown since: SQLite's
 * sqlite3changeset_apply takes such a changeset and leaves the columns it does not name.
 *
 * The form, as documented at the head of SQLite's sqlite3session.c (3.40.1):
 *   a table: 'T', number of columns (varint), a byte a column (is it of the key), name, zero byte;
 *   then its changes: operation, indirect flag, and one record (insert, delete) or two (update: old
 *   values, new values), each with a value a column: type byte, then 8 bytes for an integer or
 *   a real, length (varint) and bytes for a text or blob, nothing for NULL or "not changed". */

typedef struct
{
  const guint8 *at, *end;
} Reader;

static gboolean
read_byte (Reader *reader,
           guint8 *byte)
{
  if (reader->at >= reader->end)
    return FALSE;
  *byte = *reader->at++;
  return TRUE;
}

/* SQLite's variable-length integer; ours never need more than 5 bytes of it. */
static gboolean
read_varint (Reader  *reader,
             guint64 *value)
{
  guint8 byte = 0x80;

  *value = 0;
  for (int i = 0; i < 5 && (byte & 0x80); i++)
    {
      if (!read_byte (reader, &byte))
        return FALSE;
      *value = (*value << 7) | (byte & 0x7f);
    }
  return (byte & 0x80) == 0;
}

static gboolean
skip (Reader *reader,
      guint64 count)
{
  if (count > (guint64) (reader->end - reader->at))
    return FALSE;
  reader->at += count;
  return TRUE;
}

static gboolean
read_table (Reader  *reader,
            BlTable *table,
            guint64 *n_columns)
{
  const guint8 *zero;
  guint8 key = 0;

  if (!read_varint (reader, n_columns) || *n_columns < 1 || *n_columns > 200)
    return FALSE;
  for (guint64 i = 0; i < *n_columns; i++)
    if (!read_byte (reader, &key) || key != (i == 0 ? 1 : 0))
      return FALSE;
  zero = memchr (reader->at, 0, (gsize) (reader->end - reader->at));
  if (zero == NULL)
    return FALSE;
  *table = bl_table_named ((const char *) reader->at);
  reader->at = zero + 1;
  return *table != BL_TABLE_N && *n_columns <= bl_table_info (*table)->n_columns
         && *n_columns >= bl_table_first_columns (*table);
}

/* One value; where it is the first of a record that states the key, it goes to @id. */
static gboolean
read_value (Reader *reader,
            gint64 *id)
{
  guint64 length;
  guint8 type;

  if (!read_byte (reader, &type))
    return FALSE;
  switch (type)
    {
    case SQLITE_INTEGER:
    case SQLITE_FLOAT:
      if (id != NULL && (type != SQLITE_INTEGER || reader->end - reader->at < 8))
        return FALSE;
      if (id != NULL)
        {
          guint64 big;

          memcpy (&big, reader->at, sizeof big);
          *id = (gint64) GUINT64_FROM_BE (big);
        }
      return skip (reader, 8);
    case SQLITE_TEXT:
    case SQLITE_BLOB:
      return id == NULL && read_varint (reader, &length) && skip (reader, length);
    case SQLITE_NULL:
    case 0:
      return id == NULL;
    default:
      return FALSE;
    }
}

static gboolean
read_record (Reader *reader,
             guint64 n_columns,
             gint64 *id)
{
  for (guint64 i = 0; i < n_columns; i++)
    if (!read_value (reader, i == 0 ? id : NULL))
      return FALSE;
  return TRUE;
}

static gboolean
read_change (Reader    *reader,
             guint8     operation,
             BlTable    table,
             guint64    n_columns,
             BlChanges *changes)
{
  BlChangedRow row = { table, 0 };
  guint8 indirect;

  if (!read_byte (reader, &indirect) || indirect > 1 || !read_record (reader, n_columns, &row.id))
    return FALSE;
  if (operation == SQLITE_UPDATE && !read_record (reader, n_columns, NULL))
    return FALSE;
  g_array_append_val (changes->rows, row);
  changes->touched |= bl_table_info (table)->touched;
  return TRUE;
}

gboolean
bl_changeset_read (gconstpointer data,
                   gsize         length,
                   BlChanges    *changes)
{
  Reader reader = { data, NULL };
  BlTable table = BL_TABLE_N;
  guint64 n_columns = 0;
  guint8 byte;

  if (length == 0)
    return FALSE;
  reader.end = reader.at + length;
  while (read_byte (&reader, &byte))
    {
      gboolean ok;

      if (byte == 'T')
        ok = read_table (&reader, &table, &n_columns);
      else
        ok = table != BL_TABLE_N
             && (byte == SQLITE_INSERT || byte == SQLITE_DELETE || byte == SQLITE_UPDATE)
             && read_change (&reader, byte, table, n_columns, changes);
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

BlChanges *
bl_changes_new (void)
{
  BlChanges *changes = g_new0 (BlChanges, 1);

  changes->rows = g_array_new (FALSE, FALSE, sizeof (BlChangedRow));
  return changes;
}

void
bl_changes_free (BlChanges *changes)
{
  if (changes == NULL)
    return;
  g_array_unref (changes->rows);
  g_free (changes);
}

/* ---- applying ---- */

static int
abort_on_conflict (void                     *data,
                   int                       kind,
                   sqlite3_changeset_iter   *iter)
{
  return SQLITE_CHANGESET_ABORT;
}

gboolean
bl_changeset_apply (BlStore      *store,
                    gconstpointer data,
                    gsize         length,
                    gboolean      inverse,
                    GError      **error)
{
  void *turned = NULL;
  int n = (int) length, rc = SQLITE_OK;

  if (inverse)
    rc = sqlite3changeset_invert ((int) length, data, &n, &turned);
  if (rc == SQLITE_OK)
    rc = sqlite3changeset_apply (store->db, n, inverse ? turned : (void *) data, NULL,
                                 abort_on_conflict, NULL);
  sqlite3_free (turned);
  if (rc == SQLITE_OK)
    return TRUE;
  if ((rc & 0xff) != SQLITE_ABORT && (rc & 0xff) != SQLITE_CONSTRAINT
      && (rc & 0xff) != SQLITE_SCHEMA)
    return bl_store_fail (store, rc, error);
  g_set_error (error, BL_ERROR, BL_ERROR_BUSY,
               _("“%s” was changed by another program in the same places, so this step cannot be "
               "undone or redone; nothing was changed."),
               store->shown);
  return FALSE;
}
