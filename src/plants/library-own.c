/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's own plants: put, removed, hidden; and their pictures. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "plants/library-private.h"

#define CANNOT_WRITE N_("Your own plants cannot be written")

static gboolean
run_with_slug (sqlite3 *db, const char *sql, const char *slug, GError **error)
{
  sqlite3_stmt *s = NULL;
  gboolean ok = sqlite3_prepare_v2 (db, sql, -1, &s, NULL) == SQLITE_OK;

  if (ok)
    {
      sqlite3_bind_text (s, 1, slug, -1, SQLITE_TRANSIENT);
      ok = sqlite3_step (s) == SQLITE_DONE;
    }
  if (!ok)
    bl_sqlite_error (db, CANNOT_WRITE, error);
  sqlite3_finalize (s);
  return ok;
}

static gboolean
delete_row (sqlite3 *db, const char *slug, GError **error)
{
  return run_with_slug (db,
                        "DELETE FROM names WHERE rowid = (SELECT id FROM plants WHERE slug = ?)",
                        slug, error)
         && run_with_slug (db, "DELETE FROM plants WHERE slug = ?", slug, error);
}

gboolean
bl_library_begin (BlLibrary *library, GError **error)
{
  return bl_library_need_own (library, error)
         && bl_sqlite_exec (library->own, "BEGIN IMMEDIATE", CANNOT_WRITE, error);
}

gboolean
bl_library_end (BlLibrary *library, gboolean ok, GError **error)
{
  if (ok)
    ok = bl_sqlite_exec (library->own, "COMMIT", CANNOT_WRITE, error);
  if (!ok)
    {
      sqlite3_exec (library->own, "ROLLBACK", NULL, NULL, NULL);
      return FALSE;
    }
  return bl_library_reload (library, error);
}

gboolean
bl_library_replace (sqlite3 *db, const BlPlant *plant, GError **error)
{
  return delete_row (db, plant->slug, error) && bl_library_insert (db, plant, error);
}

gboolean
bl_library_put_own (BlLibrary *library, const char *slug, const char *record, GError **error)
{
  g_autoptr (BlPlant) plant = bl_plant_parse (slug, record, error);

  if (plant == NULL || !bl_library_begin (library, error))
    return FALSE;
  return bl_library_end (library, bl_library_replace (library->own, plant, error), error);
}

gboolean
bl_library_remove_own (BlLibrary *library, const char *slug, GError **error)
{
  if (!bl_library_is_own (library, slug))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                   _("“%s” is not among your own plants; a plant of ours can be hidden instead"),
                   slug);
      return FALSE;
    }
  return bl_library_begin (library, error) && bl_library_end (library, delete_row (library->own, slug, error), error);
}

gboolean
bl_library_set_hidden (BlLibrary *library, const char *slug, gboolean hidden, GError **error)
{
  const char *sql = hidden ? "INSERT OR IGNORE INTO hidden (slug) VALUES (?)"
                           : "DELETE FROM hidden WHERE slug = ?";

  if (!g_hash_table_contains (library->by_slug, slug))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND, _("There is no plant “%s” in the library"),
                   slug);
      return FALSE;
    }
  return bl_library_begin (library, error)
         && bl_library_end (library, run_with_slug (library->own, sql, slug, error), error);
}

gboolean
bl_library_is_hidden (BlLibrary *library, const char *slug)
{
  return g_hash_table_contains (library->hidden, slug);
}

gboolean
bl_library_is_own (BlLibrary *library, const char *slug)
{
  const BlFacts *facts = g_hash_table_lookup (library->by_slug, slug);

  return facts != NULL && facts->own;
}

gboolean
bl_library_is_shadowing (BlLibrary *library, const char *slug)
{
  return bl_library_is_own (library, slug) && g_hash_table_contains (library->shipped_slugs, slug);
}

char *
bl_library_free_slug (BlLibrary *library, const char *wanted)
{
  char *slug = g_strdup (wanted);

  for (guint n = 2; g_hash_table_contains (library->by_slug, slug); n++)
    {
      g_free (slug);
      slug = g_strdup_printf ("%s-%u", wanted, n);
    }
  return slug;
}

static int
compare_texts (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

typedef gboolean (*Wanted) (const BlFacts *facts);

static gboolean is_shown (const BlFacts *facts) { return !facts->hidden; }
static gboolean is_hidden (const BlFacts *facts) { return facts->hidden; }
static gboolean is_own (const BlFacts *facts) { return facts->own; }

static GStrv
slugs_of (BlLibrary *library, Wanted wanted)
{
  GPtrArray *slugs = g_ptr_array_new ();

  for (guint i = 0; i < library->facts->len; i++)
    {
      const BlFacts *facts = g_ptr_array_index (library->facts, i);

      if (wanted (facts))
        g_ptr_array_add (slugs, g_strdup (facts->slug));
    }
  g_ptr_array_sort (slugs, compare_texts);
  g_ptr_array_add (slugs, NULL);
  return (GStrv) g_ptr_array_free (slugs, FALSE);
}

GStrv
bl_library_slugs (BlLibrary *library)
{
  return slugs_of (library, is_shown);
}

GStrv
bl_library_hidden_slugs (BlLibrary *library)
{
  return slugs_of (library, is_hidden);
}

GStrv
bl_library_own_slugs (BlLibrary *library)
{
  return slugs_of (library, is_own);
}

/* Pictures. */

/* Those that no record speaks of any more; one just taken out may still be put back, so this waits
 * until the next picture comes. */
static gboolean
forget_pictures (sqlite3 *db, GError **error)
{
  return bl_sqlite_exec (db,
                         "DELETE FROM picture WHERE NOT EXISTS (SELECT 1 FROM plants"
                         " WHERE instr (record, sha256) > 0)",
                         CANNOT_WRITE, error);
}

static gboolean
insert_picture (sqlite3 *db, const char *sha256, GBytes *bytes, GError **error)
{
  sqlite3_stmt *s = NULL;
  gsize length = 0;
  gconstpointer data = g_bytes_get_data (bytes, &length);
  gboolean ok = sqlite3_prepare_v2 (db,
                                    "INSERT OR IGNORE INTO picture (sha256, bytes) VALUES (?, ?)",
                                    -1, &s, NULL)
                == SQLITE_OK;

  if (ok)
    {
      sqlite3_bind_text (s, 1, sha256, -1, SQLITE_TRANSIENT);
      sqlite3_bind_blob64 (s, 2, data, length, SQLITE_TRANSIENT);
      ok = sqlite3_step (s) == SQLITE_DONE;
    }
  if (!ok)
    bl_sqlite_error (db, CANNOT_WRITE, error);
  sqlite3_finalize (s);
  return ok;
}

char *
bl_library_keep_picture (BlLibrary *library, GBytes *bytes, GError **error)
{
  g_autofree char *sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);

  if (g_bytes_get_size (bytes) > BL_MAX_PLANT_PICTURE)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("The picture has %.1f MB; at most %d MB are kept with a plant"),
                   (double) g_bytes_get_size (bytes) / 1e6, BL_MAX_PLANT_PICTURE / 1000000);
      return NULL;
    }
  if (!bl_library_begin (library, error)
      || !bl_library_end (library,
                          forget_pictures (library->own, error)
                            && insert_picture (library->own, sha256, bytes, error),
                          error))
    return NULL;
  return g_steal_pointer (&sha256);
}

GBytes *
bl_library_picture (BlLibrary *library, const char *sha256)
{
  sqlite3_stmt *s = NULL;
  GBytes *bytes = NULL;

  /* An older file of own plants has no such table until it is written to: then there is none. */
  if (library->own != NULL
      && sqlite3_prepare_v2 (library->own, "SELECT bytes FROM picture WHERE sha256 = ?", -1, &s,
                             NULL)
           == SQLITE_OK)
    {
      sqlite3_bind_text (s, 1, sha256, -1, SQLITE_TRANSIENT);
      if (sqlite3_step (s) == SQLITE_ROW && sqlite3_column_bytes (s, 0) > 0
          && sqlite3_column_bytes (s, 0) <= BL_MAX_PLANT_PICTURE)
        bytes = g_bytes_new (sqlite3_column_blob (s, 0), (gsize) sqlite3_column_bytes (s, 0));
    }
  sqlite3_finalize (s);
  return bytes;
}
