/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The firm's own price book: a small database in the person's data directory. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <sqlite3.h>

#include "base/error.h"
#include "design/check.h"

#define APPLICATION_ID 0x42445042 /* "BDPB" */
#define CREATE \
  "PRAGMA application_id = 1111773250;" \
  "CREATE TABLE IF NOT EXISTS about (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;" \
  "CREATE TABLE IF NOT EXISTS price_rule (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;" \
  "CREATE TABLE IF NOT EXISTS price_item (key TEXT PRIMARY KEY, kind TEXT NOT NULL," \
  " name TEXT NOT NULL, unit TEXT NOT NULL, price INTEGER NOT NULL, amount REAL NOT NULL," \
  " supplier TEXT, invented INTEGER NOT NULL) STRICT;"
G_STATIC_ASSERT (APPLICATION_ID == 1111773250);

typedef sqlite3_stmt Statement;

static void
statement_end (Statement *statement)
{
  sqlite3_finalize (statement);
}

static void
database_close (sqlite3 *db)
{
  sqlite3_close_v2 (db);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Statement, statement_end)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (sqlite3, database_close)

static void
say (sqlite3 *db, gboolean reading, const char *path, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);

  if (error != NULL && *error == NULL)
    g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                 reading ? _("The firm's price book “%s” cannot be read (%s).")
                         : _("The firm's price book “%s” cannot be written (%s)."),
                 shown, db != NULL ? sqlite3_errmsg (db) : _("out of memory"));
}

char *
bl_price_book_firm_path (void)
{
  return g_build_filename (g_get_user_data_dir (), "bedline", "prices.db", NULL);
}

/* ---- reading ---- */

static const char *
text_of (Statement *statement, int column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return text != NULL && g_utf8_validate (text, -1, NULL) ? text : "";
}

static gboolean
read_item (BlPriceBook *book, Statement *row, GError **error)
{
  const char *supplier = text_of (row, 6);
  BlPriceItem item = {
    .key = (char *) text_of (row, 0), .name = (char *) text_of (row, 2),
    .unit = (char *) text_of (row, 3), .price = sqlite3_column_int64 (row, 4),
    .amount = sqlite3_column_double (row, 5),
    .supplier = supplier[0] != '\0' ? (char *) supplier : NULL,
    .invented = sqlite3_column_int (row, 7) != 0,
  };

  if (!bl_price_kind_from_name (text_of (row, 1), &item.kind))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("the price “%s” is of no kind that is known"),
                   item.key);
      return FALSE;
    }
  if (!bl_check_price_item (&item, error))
    return FALSE;
  bl_price_book_put_take (book, bl_price_item_copy (&item));
  return TRUE;
}

static gboolean
read_rule (BlPriceBook *book, Statement *row, GError **error)
{
  return bl_price_rule_set (&book->rules, text_of (row, 0), text_of (row, 1), error);
}

typedef gboolean (*ReadFunc) (BlPriceBook *book, Statement *row, GError **error);

static gboolean
read_rows (sqlite3 *db, const char *sql, ReadFunc read, BlPriceBook *book, const char *path,
           GError **error)
{
  g_autoptr (Statement) statement = NULL;
  int code = sqlite3_prepare_v2 (db, sql, -1, &statement, NULL);

  if (code == SQLITE_OK)
    while ((code = sqlite3_step (statement)) == SQLITE_ROW)
      if (!read (book, statement, error))
        {
          g_prefix_error (error, _("The firm's price book “%s” is damaged: "), path);
          return FALSE;
        }
  if (code != SQLITE_DONE)
    say (db, TRUE, path, error);
  return code == SQLITE_DONE;
}

static char *
read_currency (sqlite3 *db)
{
  g_autoptr (Statement) statement = NULL;

  if (sqlite3_prepare_v2 (db, "SELECT value FROM about WHERE name = 'currency'", -1, &statement,
                          NULL) == SQLITE_OK
      && sqlite3_step (statement) == SQLITE_ROW)
    return g_strdup (text_of (statement, 0));
  return g_strdup ("USD");
}

BlPriceBook *
bl_price_book_load_firm (const char *path, char **currency, GError **error)
{
  g_autoptr (BlPriceBook) book = bl_price_book_new ();
  g_autoptr (sqlite3) db = NULL;

  g_return_val_if_fail (path != NULL && currency != NULL, NULL);
  *currency = NULL;
  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return NULL;
  if (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL) != SQLITE_OK)
    {
      say (db, TRUE, path, error);
      return NULL;
    }
  sqlite3_busy_timeout (db, 2000);
  if (!read_rows (db, "SELECT key, kind, name, unit, price, amount, supplier, invented"
                      " FROM price_item", read_item, book, path, error)
      || !read_rows (db, "SELECT name, value FROM price_rule", read_rule, book, path, error)
      || !bl_price_rules_check (&book->rules, error))
    return NULL;
  *currency = read_currency (db);
  return g_steal_pointer (&book);
}

/* ---- writing ---- */

static gboolean
run (sqlite3 *db, const char *sql, const char *path, GError **error)
{
  if (sqlite3_exec (db, sql, NULL, NULL, NULL) == SQLITE_OK)
    return TRUE;
  say (db, FALSE, path, error);
  return FALSE;
}

static gboolean
put_pair (sqlite3 *db, const char *sql, const char *name, const char *value)
{
  g_autoptr (Statement) statement = NULL;

  if (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL) != SQLITE_OK)
    return FALSE;
  sqlite3_bind_text (statement, 1, name, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 2, value, -1, SQLITE_STATIC);
  return sqlite3_step (statement) == SQLITE_DONE;
}

static gboolean
put_item (Statement *statement, const BlPriceItem *item)
{
  sqlite3_reset (statement);
  sqlite3_bind_text (statement, 1, item->key, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 2, bl_price_kind_name (item->kind), -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 3, item->name, -1, SQLITE_STATIC);
  sqlite3_bind_text (statement, 4, item->unit, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (statement, 5, item->price);
  sqlite3_bind_double (statement, 6, item->amount);
  sqlite3_bind_text (statement, 7, item->supplier, -1, SQLITE_STATIC);
  sqlite3_bind_int (statement, 8, item->invented);
  return sqlite3_step (statement) == SQLITE_DONE;
}

static gboolean
put_book (sqlite3 *db, const BlPriceBook *book, const char *currency)
{
  g_autoptr (Statement) statement = NULL;
  gboolean ok = put_pair (db, "INSERT INTO about VALUES (?, ?)", "currency", currency);

  for (const char *const *name = bl_price_rule_names (); ok && *name != NULL; name++)
    {
      g_autofree char *value = bl_price_rule_get (&book->rules, *name);

      ok = put_pair (db, "INSERT INTO price_rule VALUES (?, ?)", *name, value);
    }
  ok = ok && sqlite3_prepare_v2 (db, "INSERT INTO price_item VALUES (?, ?, ?, ?, ?, ?, ?, ?)", -1,
                                 &statement, NULL) == SQLITE_OK;
  for (guint i = 0; ok && i < book->items->len; i++)
    ok = put_item (statement, book->items->pdata[i]);
  return ok;
}

gboolean
bl_price_book_save_firm (const BlPriceBook *book, const char *currency, const char *path,
                         GError **error)
{
  g_autoptr (sqlite3) db = NULL;
  g_autofree char *folder = NULL;

  g_return_val_if_fail (book != NULL && currency != NULL && path != NULL, FALSE);
  folder = g_path_get_dirname (path);
  g_mkdir_with_parents (folder, 0700);
  if (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL) != SQLITE_OK)
    {
      say (db, FALSE, path, error);
      return FALSE;
    }
  sqlite3_busy_timeout (db, 2000);
  if (!run (db, "BEGIN IMMEDIATE;" CREATE "DELETE FROM about; DELETE FROM price_rule;"
                "DELETE FROM price_item;", path, error))
    return FALSE;
  if (!put_book (db, book, currency))
    {
      say (db, FALSE, path, error);
      sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
      return FALSE;
    }
  return run (db, "COMMIT", path, error);
}
