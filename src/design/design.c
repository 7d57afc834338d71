/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The design file as an object: opening, the present model, other programs' edits, view state. */
#include "config.h"

#include "design/design.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/design-private.h"

/* Invariants, looked at by bl_design_check (check-rows.c):
 *  1. SQLite finds every page, type and key in order, and the schema is ours word for word.
 *  2. @model says what the rows say: reading them again gives the same dump.
 *  3. Every row passes the same check as what is typed (design/check.h), outlines included.
 *  4. Names of beds are unique, and names of alternatives; none is empty.
 *  5. Every planting's bed, alternative and plant are there, and every own figure's alternative.
 *  6. Each named text stands once; site, photo and meta are one row. A price rule that is not there
 *     is nought.
 *  7. meta.done is 0 or the number of an edit in the history; every changeset reads.
 *  8. The photo's bytes are there when the photo names them, and the base drawing's.
 *  9. Undoing every edit gives the design as it was made; redoing them gives the present one
 *     (looked at by bl_design_verify, verify.c).
 *
 * States: idle --begin--> editing --commit or rollback or a failed put--> idle. Undo, redo and
 * go-to begin and end a transaction of their own from idle. @model changes only on the way back to
 * idle after a successful COMMIT, or when the file is found to have moved on. */

enum { SIGNAL_CHANGED, N_SIGNALS };

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BlDesign, bl_design, G_TYPE_OBJECT)

static void
bl_design_finalize (GObject *object)
{
  BlDesign *self = BL_DESIGN (object);

  if (self->editing)
    bl_store_rollback (self->store);
  bl_design_end_edit (self);
  g_clear_pointer (&self->store, bl_store_free);
  g_clear_pointer (&self->model, bl_model_unref);
  g_clear_pointer (&self->loose_state, g_hash_table_unref);
  g_free (self->undo_label);
  g_free (self->redo_label);
  G_OBJECT_CLASS (bl_design_parent_class)->finalize (object);
}

static void
bl_design_class_init (BlDesignClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bl_design_finalize;
  signals[SIGNAL_CHANGED] = g_signal_new ("changed", BL_TYPE_DESIGN, G_SIGNAL_RUN_LAST, 0, NULL,
                                          NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);
}

static void
bl_design_init (BlDesign *self)
{
  self->loose_state = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
#ifndef NDEBUG
  self->checking = g_getenv ("BEDLINE_CHECK") != NULL;
#endif
}

/* ---- reading ---- */

static gboolean
read_counters (BlDesign *self,
               GError  **error)
{
  return bl_store_number (self->store, "PRAGMA data_version", &self->data_version, error)
         && bl_store_number (self->store, "SELECT revision FROM meta", &self->revision, error)
         && bl_store_number (self->store, "SELECT states FROM meta", &self->states, error);
}

static gboolean
read_label (BlDesign   *self,
            const char *sql,
            char      **label,
            GError    **error)
{
  g_auto(BlUse) use = bl_store_use (self->store, sql, error);
  BlStep step = use.stmt != NULL ? bl_store_step (self->store, use.stmt, error) : BL_STEP_FAILED;

  g_clear_pointer (label, g_free);
  if (step == BL_STEP_ROW)
    {
      BlRow row = { use.stmt, NULL };

      *label = bl_row_text (&row, 0, BL_MAX_NAME);
      g_free (row.problem);
    }
  return step != BL_STEP_FAILED;
}

gboolean
bl_design_read_labels (BlDesign *self,
                       GError  **error)
{
  return read_label (self, "SELECT label FROM history WHERE seq = (SELECT done FROM meta)",
                     &self->undo_label, error)
         && read_label (
             self,
             "SELECT label FROM history WHERE seq > (SELECT done FROM meta) ORDER BY seq LIMIT 1",
             &self->redo_label, error);
}

static void
share (GPtrArray **to,
       GPtrArray  *from)
{
  g_ptr_array_unref (*to);
  *to = g_ptr_array_ref (from);
}

static char *
replace_text (char       *old,
              const char *text)
{
  g_free (old);
  return g_strdup (text);
}

static void
lend_facts (BlModel       *model,
            const BlModel *old,
            BlTouched      touched)
{
  if (!(touched & BL_TOUCHED_TEXTS))
    {
      model->title = replace_text (model->title, old->title);
      model->client = replace_text (model->client, old->client);
      model->place = replace_text (model->place, old->place);
      model->designer = replace_text (model->designer, old->designer);
      model->id = replace_text (model->id, old->id);
      model->notes = replace_text (model->notes, old->notes);
      model->currency = replace_text (model->currency, old->currency);
      model->language = replace_text (model->language, old->language);
      model->units = old->units;
      model->planting_day = old->planting_day;
    }
  if (!(touched & BL_TOUCHED_SITE))
    bl_site_copy (&model->site, &old->site);
  if (!(touched & BL_TOUCHED_PHOTO))
    {
      model->photo = old->photo;
      model->photo.name = g_strdup (old->photo.name);
    }
  if (!(touched & BL_TOUCHED_DRAWING))
    {
      model->drawing = old->drawing;
      model->drawing.name = g_strdup (old->drawing.name);
    }
  if (!(touched & BL_TOUCHED_KNOWNS) && old->tape != NULL)
    model->tape = bl_tape_copy (old->tape);
  if (!(touched & BL_TOUCHED_PRICES))
    {
      bl_price_book_free (model->prices);
      model->prices = bl_price_book_copy (old->prices);
    }
}

/* What an edit did not touch is shared with the snapshot before. */
static void
lend_untouched (BlModel       *model,
                const BlModel *old,
                BlTouched      touched)
{
  lend_facts (model, old, touched);
  if (!(touched & BL_TOUCHED_KNOWNS))
    share (&model->knowns, old->knowns);
  if (!(touched & BL_TOUCHED_FEATURES))
    share (&model->features, old->features);
  if (!(touched & BL_TOUCHED_BEDS))
    share (&model->beds, old->beds);
  if (!(touched & BL_TOUCHED_ALTERNATIVES))
    share (&model->alternatives, old->alternatives);
  if (!(touched & BL_TOUCHED_PLANTINGS))
    share (&model->plantings, old->plantings);
  if (!(touched & BL_TOUCHED_PRICES))
    share (&model->overrides, old->overrides);
  if (!(touched & BL_TOUCHED_CARE))
    {
      share (&model->care_marks, old->care_marks);
      share (&model->own_tasks, old->own_tasks);
    }
  if (!(touched & BL_TOUCHED_PLANTS))
    {
      g_hash_table_unref (model->plants);
      model->plants = g_hash_table_ref (old->plants);
    }
}

static guint
place_for (const GPtrArray *plantings,
           gint64           id)
{
  guint low = 0, high = plantings->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (((const BlPlanting *) g_ptr_array_index (plantings, middle))->id < id)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

/* Reads again only those plantings that @changes name: a design may hold thousands of them. */
static gboolean
read_changed_plantings (BlDesign        *self,
                        BlModel         *model,
                        const BlChanges *changes,
                        GError         **error)
{
  const GPtrArray *old = self->model->plantings;

  for (guint i = 0; i < old->len; i++)
    g_ptr_array_add (model->plantings, bl_planting_ref (g_ptr_array_index (old, i)));
  for (guint i = 0; i < changes->rows->len; i++)
    {
      const BlChangedRow *row = &g_array_index (changes->rows, BlChangedRow, i);
      gpointer planting = NULL;
      guint at;

      if (row->table != BL_TABLE_PLANTING)
        continue;
      if (!bl_rows_load_one (self->store, BL_TABLE_PLANTING, row->id, bl_planting_read, &planting,
                             error))
        return FALSE;
      at = place_for (model->plantings, row->id);
      if (at < model->plantings->len
          && ((BlPlanting *) g_ptr_array_index (model->plantings, at))->id == row->id)
        g_ptr_array_remove_index (model->plantings, at);
      if (planting != NULL)
        g_ptr_array_insert (model->plantings, (int) at, planting);
    }
  return TRUE;
}

BlModel *
bl_design_read_model (BlDesign        *self,
                      const BlChanges *changes,
                      GError         **error)
{
  g_autoptr(BlModel) model = bl_model_new ();
  BlTouched touched = changes != NULL ? changes->touched : BL_TOUCHED_ALL;
  BlTouched reread;
  const BlChanges *few = NULL; /* when it is quicker to read again what they name alone */

  /* What lies in the photo or on the drawing or hangs on the tape moves with them. */
  if (touched & (BL_TOUCHED_PHOTO | BL_TOUCHED_KNOWNS | BL_TOUCHED_DRAWING))
    touched |= BL_TOUCHED_BEDS | BL_TOUCHED_FEATURES;
  if (changes != NULL && (touched & BL_TOUCHED_PLANTINGS)
      && changes->rows->len < 64 + self->model->plantings->len / 8)
    few = changes;
  reread = few != NULL ? touched & ~(BlTouched) BL_TOUCHED_PLANTINGS : touched;
  if (changes != NULL)
    lend_untouched (model, self->model, touched);
  if (!bl_rows_load_model (self->store, model, self->model, reread, error)
      || (few != NULL && !read_changed_plantings (self, model, few, error)))
    return NULL;
  bl_model_derive (model, self->model);
  return g_steal_pointer (&model);
}

/* ---- damage ---- */

static BlRect
row_extent (const BlModel      *model,
            const BlChangedRow *row)
{
  if (row->table == BL_TABLE_PLANTING)
    {
      const BlPlanting *planting = bl_model_planting (model, row->id);

      return planting != NULL ? bl_planting_extent (model, planting) : BL_RECT_EMPTY;
    }
  if (row->table == BL_TABLE_BED)
    {
      const BlBed *bed = bl_model_bed (model, row->id);

      return bed != NULL && bed->ring != NULL ? bl_rect_grow (bl_rect_of (bed->ring), 0.1)
                                              : BL_RECT_EMPTY;
    }
  if (row->table == BL_TABLE_FEATURE)
    {
      const BlFeature *feature = bl_model_feature (model, row->id);

      return feature != NULL && feature->ground != NULL
               ? bl_rect_grow (bl_rect_of (feature->ground->points), 0.1 + feature->tolerance)
               : BL_RECT_EMPTY;
    }
  return BL_RECT_EMPTY;
}

static BlDamage
damage_between (const BlModel   *old,
                const BlModel   *new,
                const BlChanges *changes)
{
  const BlTouched everywhere
      = BL_TOUCHED_PHOTO | BL_TOUCHED_KNOWNS | BL_TOUCHED_PLANTS | BL_TOUCHED_SITE
        | BL_TOUCHED_DRAWING;
  BlDamage damage = { changes != NULL ? changes->touched : BL_TOUCHED_ALL, BL_RECT_EMPTY };

  if (changes == NULL || damage.touched & everywhere)
    {
      damage.plan = bl_rect_union (bl_model_extent (old), bl_model_extent (new));
      damage.plan = bl_rect_grow (damage.plan, 5);
      return damage;
    }
  for (guint i = 0; i < changes->rows->len; i++)
    {
      const BlChangedRow *row = &g_array_index (changes->rows, BlChangedRow, i);

      damage.plan = bl_rect_union (damage.plan, row_extent (old, row));
      damage.plan = bl_rect_union (damage.plan, row_extent (new, row));
    }
  return damage;
}

static void
show_model (BlDesign        *self,
            BlModel         *model,
            const BlChanges *changes)
{
  g_autoptr(BlModel) old = self->model;
  BlDamage damage = damage_between (old, model, changes);

  self->model = model;
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0, &damage);
}

/* ---- other programs ---- */

/* Reads everything again, in one read transaction so that it is of one moment. */
static gboolean
reload (BlDesign *self,
        GError  **error)
{
  g_autoptr(BlModel) model = NULL;
  gboolean own = sqlite3_get_autocommit (self->store->db) != 0;
  gint64 data_version = self->data_version, revision = self->revision, states = self->states;

  if (own && !bl_store_exec (self->store, "BEGIN", error))
    return FALSE;
  if (read_counters (self, error) && bl_design_read_labels (self, error))
    model = bl_design_read_model (self, NULL, error);
  if (own)
    bl_store_rollback (self->store);
  /* What is shown is still what it was: the next edit must not be taken for one made on what the file
   * holds. */
  if (model == NULL)
    {
      self->data_version = data_version;
      self->revision = revision;
      self->states = states;
      return FALSE;
    }
  show_model (self, g_steal_pointer (&model), NULL);
  return TRUE;
}

gboolean
bl_design_refresh (BlDesign *self,
                   GError  **error)
{
  gint64 version = 0, revision = 0, states = 0;

  g_return_val_if_fail (BL_IS_DESIGN (self) && !self->editing, FALSE);
  if (!bl_store_stays (self->store, error)
      || !bl_store_number (self->store, "PRAGMA data_version", &version, error)
      || version == self->data_version)
    return FALSE;
  if (!bl_store_number (self->store, "SELECT revision FROM meta", &revision, error)
      || !bl_store_number (self->store, "SELECT states FROM meta", &states, error))
    return FALSE;
  if (revision != self->revision || states == self->states)
    return reload (self, error);
  self->states = states;
  self->data_version = version;
  return FALSE;
}

gboolean
bl_design_begin_writing (BlDesign *self,
                         GError  **error)
{
  gint64 revision = 0;

  if (self->store->read_only != NULL)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_READ_ONLY, self->store->read_only);
      return FALSE;
    }
  if (!bl_store_begin (self->store, error))
    return FALSE;
  if (!bl_store_number (self->store, "SELECT revision FROM meta", &revision, error))
    {
      bl_store_rollback (self->store);
      return FALSE;
    }
  if (revision == self->revision)
    return TRUE;
  bl_store_rollback (self->store);
  if (reload (self, error))
    g_set_error (
        error, BL_ERROR, BL_ERROR_BUSY,
        _("Another program has just changed “%s”, so it was read again; look, and do this once more."),
        self->store->shown);
  return FALSE;
}

void
bl_design_recover (BlDesign *self)
{
  gint64 revision = 0;

  if (bl_store_number (self->store, "SELECT revision FROM meta", &revision, NULL)
      && revision != self->revision)
    reload (self, NULL);
}

gboolean
bl_design_finish_writing (BlDesign        *self,
                          const BlChanges *changes,
                          GError         **error)
{
  g_autoptr(BlModel) model = NULL;
  gboolean ok = bl_store_exec (self->store, "UPDATE meta SET revision = revision + 1", error);

  if (ok)
    model = bl_design_read_model (self, changes, error);
  ok = model != NULL && bl_check_whole (model, error) && bl_design_read_labels (self, error)
       && bl_store_commit (self->store, error);
  if (!ok)
    {
      bl_store_rollback (self->store);
      bl_design_read_labels (self, NULL);
      bl_design_recover (self);
      return FALSE;
    }
  self->revision++;
  show_model (self, g_steal_pointer (&model), changes);
  if (self->checking)
    {
      g_autoptr(GPtrArray) breaches = bl_design_check (self);

      if (breaches->len > 0)
        g_error ("after an edit: %s", (const char *) g_ptr_array_index (breaches, 0));
    }
  return TRUE;
}

/* ---- making and opening ---- */

static gboolean
fill_first (BlStore *store,
            GError **error)
{
  static const char *const texts[][2] = {
    { "title", "" }, { "client", "" }, { "place", "" }, { "designer", "" }, { "notes", "" },
    { "units", "ft" }, { "currency", "USD" }, { "language", "en" }, { "planting_day", "" },
  };
  g_autoptr(BlPriceBook) book = bl_price_book_defaults ();
  BlPhotoInfo photo = { 0 };
  BlSite site;

  /* Chance from SQLite: two designs begun with the same words are two designs. */
  if (!bl_store_exec (store, "INSERT INTO text (name, value) VALUES ('id', lower (hex (randomblob "
                             "(8))))", error))
    return FALSE;
  bl_site_init (&site);
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    if (!bl_text_write (store, texts[i][0], texts[i][1], error))
      return FALSE;
  return bl_site_write (store, &site, error) && bl_photo_write (store, &photo, 0, error)
         && bl_prices_write (store, book, error);
}

static BlDesign *
design_take (BlStore *store,
             GError **error)
{
  g_autoptr(BlDesign) self = NULL;

  if (store == NULL)
    return NULL;
  self = g_object_new (BL_TYPE_DESIGN, NULL);
  self->store = store;
  self->model = bl_model_new ();
  if (!reload (self, error))
    return NULL;
  if (!bl_check_whole (self->model, error))
    {
      g_prefix_error (error, "“%s” is damaged: ", store->shown);
      if (error != NULL && *error != NULL)
        (*error)->code = BL_ERROR_FILE;
      return NULL;
    }
  return g_steal_pointer (&self);
}

BlDesign *
bl_design_create (const char *path,
                  GError    **error)
{
  BlStore *store = bl_store_create (path, fill_first, error);
  BlDesign *self = design_take (store, error);

  /* One that was made but cannot be read is not left in the way of the next try. */
  if (store != NULL && self == NULL && path != NULL)
    g_unlink (path);
  return self;
}

BlDesign *
bl_design_open (const char *path,
                GError    **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  return design_take (bl_store_open (path, error), error);
}

const char *
bl_design_get_path (BlDesign *self)
{
  g_return_val_if_fail (BL_IS_DESIGN (self), NULL);
  return self->store->path;
}

const char *
bl_design_read_only_reason (BlDesign *self)
{
  g_return_val_if_fail (BL_IS_DESIGN (self), NULL);
  return self->store->read_only;
}

BlModel *
bl_design_get_model (BlDesign *self)
{
  g_return_val_if_fail (BL_IS_DESIGN (self), NULL);
  return self->model;
}

gboolean
bl_design_save_copy (BlDesign   *self,
                     const char *path,
                     GError    **error)
{
  g_autoptr(BlStore) copy = NULL;

  g_return_val_if_fail (BL_IS_DESIGN (self) && path != NULL && !self->editing, FALSE);
  copy = bl_store_copy_to (self->store, path, error);
  return copy != NULL;
}
