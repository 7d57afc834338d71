/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A design file that SQLite finds sound, with cells that Bedline never wrote. */
#include "fuzz.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#include "design-base.h"

typedef struct
{
  char *table, *column;
} Place;

/* Every column of every table. */
static GArray *
places_of (sqlite3 *db)
{
  static GArray *places = NULL;
  sqlite3_stmt *row = NULL;

  if (places != NULL)
    return places;
  places = g_array_new (FALSE, FALSE, sizeof (Place));
  g_assert_cmpint (sqlite3_prepare_v2 (db, "SELECT m.name, t.name FROM sqlite_schema m,"
                                       " pragma_table_info (m.name) t WHERE m.type = 'table'"
                                       " ORDER BY 1, 2", -1, &row, NULL), ==, SQLITE_OK);
  while (sqlite3_step (row) == SQLITE_ROW)
    {
      Place place = { g_strdup ((const char *) sqlite3_column_text (row, 0)),
                      g_strdup ((const char *) sqlite3_column_text (row, 1)) };

      g_array_append_val (places, place);
    }
  sqlite3_finalize (row);
  return places;
}

/* A changed copy of the cell that stands there: bytes overwritten at a place. */
static void
bind_spliced (sqlite3_stmt *update,
              sqlite3      *db,
              const Place  *place,
              guint         offset,
              FuzzReader   *reader)
{
  g_autofree char *sql = g_strdup_printf ("SELECT %s FROM %s LIMIT 1 OFFSET %u", place->column,
                                          place->table, offset);
  sqlite3_stmt *row = NULL;
  guint at = fuzz_pair (reader), count = 1 + fuzz_byte (reader) % 8;

  if (sqlite3_prepare_v2 (db, sql, -1, &row, NULL) == SQLITE_OK && sqlite3_step (row) == SQLITE_ROW
      && sqlite3_column_bytes (row, 0) > 0)
    {
      gboolean blob = sqlite3_column_type (row, 0) == SQLITE_BLOB;
      guint size = (guint) sqlite3_column_bytes (row, 0);
      g_autofree guint8 *bytes = g_memdup2 (sqlite3_column_blob (row, 0), size);

      for (guint i = 0; i < count; i++)
        bytes[(at + i) % size] = (guint8) fuzz_byte (reader);
      if (blob)
        sqlite3_bind_blob (update, 1, bytes, (int) size, SQLITE_TRANSIENT);
      else
        sqlite3_bind_text (update, 1, (const char *) bytes, (int) size, SQLITE_TRANSIENT);
    }
  sqlite3_finalize (row);
}

static void
bind_new (sqlite3_stmt *update,
          guint         type,
          FuzzReader   *reader)
{
  gsize wanted = type >= 3 ? fuzz_byte (reader) : 0, count = MIN (wanted, reader->left);
  gint64 whole = (gint8) (type == 1 ? fuzz_byte (reader) : 0);

  if (type == 1 && (whole & 1) != 0)
    for (int i = 0; i < 7; i++)
      whole = (gint64) ((guint64) whole << 8 | fuzz_byte (reader));
  if (type == 1)
    sqlite3_bind_int64 (update, 1, whole);
  else if (type == 2)
    sqlite3_bind_double (update, 1, fuzz_number (reader));
  else if (type == 3)
    sqlite3_bind_text (update, 1, (const char *) reader->data, (int) count, SQLITE_TRANSIENT);
  else if (type == 4)
    sqlite3_bind_blob (update, 1, reader->data, (int) count, SQLITE_TRANSIENT);
  reader->data += count;
  reader->left -= count;
}

static void
change_cell (sqlite3    *db,
             FuzzReader *reader)
{
  GArray *places = places_of (db);
  const Place *place = &g_array_index (places, Place, fuzz_byte (reader) % places->len);
  guint offset = fuzz_byte (reader) % 4, type = fuzz_byte (reader) % 6;
  g_autofree char *sql = g_strdup_printf ("UPDATE OR IGNORE %s SET %s = ?1 WHERE rowid ="
                                          " (SELECT rowid FROM %s LIMIT 1 OFFSET %u)", place->table,
                                          place->column, place->table, offset);
  sqlite3_stmt *update = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &update, NULL), ==, SQLITE_OK);
  if (type == 5)
    bind_spliced (update, db, place, offset, reader);
  else
    bind_new (update, type, reader);
  sqlite3_step (update);
  sqlite3_finalize (update);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autofree char *path = g_build_filename (fuzz_folder (), "strange.bedline", NULL);
  gsize length;
  const char *good = g_bytes_get_data (design_base (), &length);
  FuzzReader reader = { data, size };
  sqlite3 *db = NULL;

  g_assert_true (g_file_set_contents_full (path, good, (gssize) length, G_FILE_SET_CONTENTS_NONE,
                                           0600, NULL));
  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  sqlite3_exec (db, "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF;"
                "PRAGMA ignore_check_constraints = ON", NULL, NULL, NULL);
  for (int i = 0; i < 6 && reader.left > 2; i++)
    change_cell (db, &reader);
  sqlite3_close (db);
  design_base_use (path);
  g_unlink (path);
  return 0;
}
