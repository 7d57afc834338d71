/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits: begin, puts and removes, commit; each is one durable, recorded transaction. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/design-private.h"

void
bl_design_end_edit (BlDesign *design)
{
  if (design->session != NULL)
    sqlite3session_delete (design->session);
  design->session = NULL;
  g_clear_pointer (&design->label, g_free);
  design->editing = FALSE;
}

/* ---- begin, commit, rollback ---- */

/* What was undone cannot be redone once something else is done instead. */
static gboolean
drop_undone (BlStore *store,
             GError **error)
{
  return bl_store_exec (store, "DELETE FROM history WHERE seq > (SELECT done FROM meta)", error)
         && bl_store_exec (store, "DELETE FROM picture WHERE edit > (SELECT done FROM meta)",
                           error);
}

static gboolean
start_recording (BlDesign *design,
                 GError  **error)
{
  int rc = sqlite3session_create (design->store->db, "main", &design->session);

  for (int i = 0; i < BL_TABLE_N && rc == SQLITE_OK; i++)
    rc = sqlite3session_attach (design->session, bl_table_info ((BlTable) i)->name);
  return rc == SQLITE_OK || bl_store_fail (design->store, rc, error);
}

gboolean
bl_design_begin (BlDesign   *design,
                 const char *label,
                 GError    **error)
{
  g_return_val_if_fail (BL_IS_DESIGN (design) && label != NULL && !design->editing, FALSE);
  if (!bl_design_begin_writing (design, error))
    return FALSE;
  design->editing = TRUE;
  design->label = g_utf8_make_valid (label, (gssize) MIN (strlen (label), 200));
  if (drop_undone (design->store, error) && start_recording (design, error))
    return TRUE;
  bl_design_rollback (design);
  return FALSE;
}

void
bl_design_rollback (BlDesign *design)
{
  g_return_if_fail (BL_IS_DESIGN (design));
  if (!design->editing)
    return;
  bl_design_end_edit (design);
  bl_store_rollback (design->store);
  bl_design_recover (design);
}

static gboolean
insert_history (BlDesign     *design,
                gconstpointer changeset,
                int           length,
                GError      **error)
{
  g_auto(BlUse) use = { NULL };
  g_autoptr(GDateTime) now = g_date_time_new_now_utc ();
  g_autofree char *at = g_date_time_format (now, "%Y-%m-%dT%H:%M:%SZ");

  use = bl_store_use (design->store,
                      "INSERT INTO history (label, at, changeset) VALUES (?1, ?2, ?3)", error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, design->label);
  bl_bind_text (&use, 2, at);
  sqlite3_bind_blob (use.stmt, 3, changeset, length, SQLITE_TRANSIENT);
  return bl_store_step (design->store, use.stmt, error) == BL_STEP_DONE
         && bl_store_exec (design->store, "UPDATE meta SET done = (SELECT max(seq) FROM history)",
                           error);
}

/* Takes the changeset of the edit: *@length 0 when nothing was really changed. */
static gboolean
record (BlDesign  *design,
        BlChanges *changes,
        int       *length,
        GError   **error)
{
  void *changeset = NULL;
  gboolean ok = TRUE;
  int rc;

  rc = sqlite3session_changeset (design->session, length, &changeset);
  if (rc != SQLITE_OK)
    return bl_store_fail (design->store, rc, error);
  if (*length > 0)
    {
      ok = bl_changeset_read (changeset, (gsize) *length, changes);
      if (!ok)
        g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                     _("This edit of “%s” could not be recorded; nothing was changed."),
                     design->store->shown);
      ok = ok && insert_history (design, changeset, *length, error);
    }
  sqlite3_free (changeset);
  return ok;
}

gboolean
bl_design_commit (BlDesign *design,
                  GError  **error)
{
  g_autoptr(BlChanges) changes = bl_changes_new ();
  int length = 0;

  g_return_val_if_fail (BL_IS_DESIGN (design) && design->editing, FALSE);
  if (!record (design, changes, &length, error))
    {
      bl_design_rollback (design);
      return FALSE;
    }
  if (length == 0)
    {
      /* No step for an edit that changes nothing; and what was undone stays to be redone. */
      bl_design_rollback (design);
      return TRUE;
    }
  bl_design_end_edit (design);
  return bl_design_finish_writing (design, changes, error);
}

/* A failed put ends the edit. */
static gboolean
settle (BlDesign *design,
        gboolean  ok)
{
  if (!ok)
    bl_design_rollback (design);
  return ok;
}

#define ASSERT_EDITING(design) \
  g_return_val_if_fail (BL_IS_DESIGN (design) && (design)->editing, FALSE)

/* ---- puts ---- */

#define DEFINE_PUT(name, Pointer) \
  gboolean bl_design_put_##name (BlDesign *design, Pointer value, GError **error) \
  { \
    ASSERT_EDITING (design); \
    g_return_val_if_fail (value != NULL, FALSE); \
    return settle (design, bl_##name##_write (design->store, value, error)); \
  }

DEFINE_PUT (bed, BlBed *)
DEFINE_PUT (feature, BlFeature *)
DEFINE_PUT (known, BlKnown *)
DEFINE_PUT (alternative, BlAlternative *)
DEFINE_PUT (override, BlOverride *)
DEFINE_PUT (care_mark, BlCareMark *)
DEFINE_PUT (own_task, BlOwnTask *)
DEFINE_PUT (plant, BlPlant *)
DEFINE_PUT (price_item, const BlPriceItem *)
DEFINE_PUT (site, const BlSite *)

static gboolean
is_same (const BlPoints *a,
         const BlPoints *b)
{
  return a != NULL && b != NULL && a->len == b->len
         && memcmp (a->data, b->data, a->len * sizeof (BlPoint)) == 0;
}

/* Where the plants of a drift stood says nothing any more once the drift itself has moved. */
static void
forget_places (const BlPlanting *old,
               BlPlanting       *planting)
{
  if (old == NULL || !is_same (old->stood, planting->stood))
    return;
  if (old->bed_id != planting->bed_id || old->form != planting->form
      || old->spacing != planting->spacing || !old->square != !planting->square
      || g_strcmp0 (old->slug, planting->slug) != 0
      || (planting->shape != NULL && old->shape != NULL
          && !is_same (old->shape->points, planting->shape->points)))
    g_clear_pointer (&planting->stood, g_array_unref);
}

gboolean
bl_design_put_planting (BlDesign   *design,
                        BlPlanting *planting,
                        GError    **error)
{
  ASSERT_EDITING (design);
  g_return_val_if_fail (planting != NULL, FALSE);
  if (planting->id != 0)
    forget_places (bl_model_planting (design->model, planting->id), planting);
  return settle (design, bl_planting_write (design->store, planting, error));
}

gboolean
bl_design_put_tape (BlDesign     *design,
                    const BlTape *tape,
                    GError      **error)
{
  ASSERT_EDITING (design);
  return settle (design, bl_tape_write (design->store, tape, error));
}

gboolean
bl_design_put_price_book (BlDesign          *design,
                          const BlPriceBook *book,
                          GError           **error)
{
  ASSERT_EDITING (design);
  g_return_val_if_fail (book != NULL, FALSE);
  return settle (design, bl_prices_write (design->store, book, error));
}

gboolean
bl_design_put_text (BlDesign   *design,
                    const char *name,
                    const char *value,
                    GError    **error)
{
  ASSERT_EDITING (design);
  g_return_val_if_fail (name != NULL && value != NULL, FALSE);
  return settle (design, bl_text_write (design->store, name, value, error));
}

gboolean
bl_design_put_photo_info (BlDesign          *design,
                          const BlPhotoInfo *info,
                          GError           **error)
{
  ASSERT_EDITING (design);
  g_return_val_if_fail (info != NULL, FALSE);
  return settle (design, bl_photo_write (design->store, info, -1, error));
}

/* ---- pictures ---- */

gboolean
bl_design_put_photo (BlDesign   *design,
                     GBytes     *bytes,
                     const char *name,
                     GError    **error)
{
  ASSERT_EDITING (design);
  g_return_val_if_fail (bytes != NULL, FALSE);
  return settle (design, bl_photo_take (design->store, bytes, name, error));
}

gboolean
bl_design_put_drawing (BlDesign   *design,
                       GBytes     *bytes,
                       const char *name,
                       GError    **error)
{
  ASSERT_EDITING (design);
  g_return_val_if_fail (bytes != NULL, FALSE);
  return settle (design, bl_drawing_take (design->store, bytes, name, error));
}

gboolean
bl_design_put_drawing_info (BlDesign        *design,
                            const BlDrawing *drawing,
                            GError         **error)
{
  ASSERT_EDITING (design);
  g_return_val_if_fail (drawing != NULL, FALSE);
  return settle (design, bl_drawing_write (design->store, drawing, -1, error));
}

gboolean
bl_design_remove_drawing (BlDesign *design,
                          GError  **error)
{
  ASSERT_EDITING (design);
  return settle (design, bl_store_exec (design->store, "DELETE FROM drawing", error));
}

/* ---- removing ---- */

static const struct
{
  const char *kind;
  BlTable table;
  const char *of; /* the column by which plantings hang on it */
} kinds[] = {
  { "bed", BL_TABLE_BED, "bed" },
  { "feature", BL_TABLE_FEATURE, NULL },
  { "known", BL_TABLE_KNOWN, NULL },
  { "alternative", BL_TABLE_ALTERNATIVE, "alternative" },
  { "planting", BL_TABLE_PLANTING, NULL },
  { "override", BL_TABLE_OVERRIDE, NULL },
  { "care_mark", BL_TABLE_CARE_MARK, NULL },
  { "own_task", BL_TABLE_OWN_TASK, NULL },
};

static gboolean
remove_row (BlStore    *store,
            BlTable     table,
            const char *of,
            gint64      id,
            GError    **error)
{
  if (of != NULL && !bl_rows_delete (store, BL_TABLE_PLANTING, of, id, error))
    return FALSE;
  if (table == BL_TABLE_ALTERNATIVE && !bl_rows_delete (store, BL_TABLE_OVERRIDE, of, id, error))
    return FALSE;
  if (!bl_rows_delete (store, table, "id", id, error))
    return FALSE;
  if (sqlite3_changes (store->db) == 1)
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
               _("What was to be removed is no longer among the %s of “%s”."),
               _(bl_table_info (table)->rows), store->shown);
  return FALSE;
}

gboolean
bl_design_remove (BlDesign   *design,
                  const char *kind,
                  gint64      id,
                  GError    **error)
{
  ASSERT_EDITING (design);
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_strcmp0 (kinds[i].kind, kind) == 0)
      return settle (design, remove_row (design->store, kinds[i].table, kinds[i].of, id, error));
  g_return_val_if_reached (FALSE);
}

/* ---- copies of alternatives ---- */

static gboolean
name_taken (const GPtrArray *alternatives,
            const char      *name)
{
  for (guint i = 0; i < alternatives->len; i++)
    if (strcmp (((BlAlternative *) g_ptr_array_index (alternatives, i))->name, name) == 0)
      return TRUE;
  return FALSE;
}

static char *
free_letter (const GPtrArray *alternatives)
{
  for (guint round = 0;; round++)
    for (int letter = 'A'; letter <= 'Z'; letter++)
      {
        g_autofree char *name = round == 0 ? g_strdup_printf ("%c", letter)
                                           : g_strdup_printf ("%c%u", letter, round + 1);

        if (!name_taken (alternatives, name))
          return g_steal_pointer (&name);
      }
}

static gboolean
copy_parts (BlStore *store,
            gint64   from,
            gint64   to,
            GError **error)
{
  g_autoptr (GPtrArray) plantings
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_planting_free);
  g_autoptr (GPtrArray) overrides
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_override_free);

  if (!bl_rows_load (store, BL_TABLE_PLANTING, bl_planting_read, plantings, error)
      || !bl_rows_load (store, BL_TABLE_OVERRIDE, bl_override_read, overrides, error))
    return FALSE;
  for (guint i = 0; i < plantings->len; i++)
    {
      BlPlanting *planting = g_ptr_array_index (plantings, i);

      if (planting->alternative_id != from)
        continue;
      planting->id = 0;
      planting->alternative_id = to;
      if (!bl_planting_write (store, planting, error))
        return FALSE;
    }
  for (guint i = 0; i < overrides->len; i++)
    {
      BlOverride *override = g_ptr_array_index (overrides, i);

      if (override->alternative_id != from)
        continue;
      override->id = 0;
      override->alternative_id = to;
      if (!bl_override_write (store, override, error))
        return FALSE;
    }
  return TRUE;
}

gint64
bl_design_copy_alternative (BlDesign   *design,
                            gint64      id,
                            const char *name,
                            GError    **error)
{
  g_autoptr (GPtrArray) alternatives
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_alternative_free);
  g_autoptr(BlAlternative) copy = NULL;

  ASSERT_EDITING (design);
  if (!settle (design, bl_rows_load (design->store, BL_TABLE_ALTERNATIVE, bl_alternative_read,
                                     alternatives, error)))
    return 0;
  for (guint i = 0; i < alternatives->len; i++)
    if (((BlAlternative *) g_ptr_array_index (alternatives, i))->id == id)
      copy = bl_alternative_copy (g_ptr_array_index (alternatives, i));
  if (copy == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                   _("The alternative to copy is no longer in “%s”."), design->store->shown);
      settle (design, FALSE);
      return 0;
    }
  g_free (copy->name);
  copy->name = name != NULL ? g_strdup (name) : free_letter (alternatives);
  copy->id = 0;
  copy->position = -1;
  if (!settle (design, bl_alternative_write (design->store, copy, error)
                         && copy_parts (design->store, id, copy->id, error)))
    return 0;
  return copy->id;
}
