/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The invariants of a design (design.c) looked at on its stored rows. */
#include <string.h>

#include "design/check.h"
#include "design/design-private.h"
#include "design/dump.h"

static void G_GNUC_PRINTF (2, 3)
breach (GPtrArray  *breaches,
        const char *format,
        ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (breaches, g_strdup_vprintf (format, args));
  va_end (args);
}

static void
take_error (GPtrArray *breaches,
            GError   **error)
{
  if (*error != NULL)
    breach (breaches, "%s", (*error)->message);
  g_clear_error (error);
}

/* Invariant 1. */
static void
check_pages (BlDesign  *design,
             GPtrArray *breaches)
{
  static const char *const pragmas[] = { "PRAGMA quick_check(3)", "PRAGMA foreign_key_check" };
  g_autoptr(GError) error = NULL;
  g_autofree char *difference = NULL;
  int rc = SQLITE_OK;

  for (guint i = 0; i < G_N_ELEMENTS (pragmas); i++)
    {
      g_auto(BlUse) use = bl_store_use (design->store, pragmas[i], &error);

      while (use.stmt != NULL && bl_store_step (design->store, use.stmt, &error) == BL_STEP_ROW)
        {
          const char *said = (const char *) sqlite3_column_text (use.stmt, 0);

          if (g_strcmp0 (said, "ok") != 0)
            breach (breaches, "The file is damaged (%s).", said != NULL ? said : "no reason given");
        }
      take_error (breaches, &error);
    }
  if (!bl_schema_matches (design->store->db, design->store->version, &difference, &rc))
    breach (breaches, "The file's tables are not ours: %s.",
            difference != NULL ? difference : sqlite3_errstr (rc));
}

/* Invariant 3, the part that opening leaves out. */
static void
check_outlines (const BlModel *model,
                GPtrArray     *breaches)
{
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);
      g_autoptr(GError) error = NULL;

      if (!bl_check_bed (bed, TRUE, &error))
        breach (breaches, "Bed “%s”: %s", bed->name, error->message);
    }
  for (guint i = 0; i < model->features->len; i++)
    {
      const BlFeature *feature = g_ptr_array_index (model->features, i);
      g_autoptr(GError) error = NULL;

      if (!bl_check_feature (feature, TRUE, &error))
        breach (breaches, "Feature “%s”: %s", bl_shown (feature->name), error->message);
    }
  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);
      g_autoptr(GError) error = NULL;

      if (!bl_check_planting (planting, TRUE, &error))
        breach (breaches, "Planting of “%s”: %s", planting->slug, error->message);
    }
}

/* Invariants 2 to 5. */
static void
check_model (BlDesign  *design,
             GPtrArray *breaches)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlModel) fresh = bl_model_new ();
  g_autofree char *shown = NULL, *stored = NULL;

  if (!bl_rows_load_model (design->store, fresh, design->model, BL_TOUCHED_ALL, &error)
      || !bl_check_whole (fresh, &error))
    {
      take_error (breaches, &error);
      return;
    }
  check_outlines (fresh, breaches);
  shown = bl_model_dump (design->model, TRUE);
  stored = bl_model_dump (fresh, TRUE);
  if (strcmp (shown, stored) != 0)
    breach (breaches, "What is shown is not what the file holds.");
}

static void
expect_number (BlDesign   *design,
               GPtrArray  *breaches,
               const char *sql,
               gint64      expected,
               const char *sentence)
{
  g_autoptr(GError) error = NULL;
  gint64 value = 0;

  if (!bl_store_number (design->store, sql, &value, &error))
    take_error (breaches, &error);
  else if (value != expected)
    breach (breaches, "%s", sentence);
}

/* Invariants 6, 7 (the pointer) and 8. */
static void
check_counts (BlDesign  *design,
              GPtrArray *breaches)
{
  expect_number (design, breaches, "SELECT count(*) FROM text",
                 g_strv_length ((char **) bl_text_names ()),
                 "One of the design's texts is missing or there twice.");
  expect_number (design, breaches,
                 "SELECT (SELECT count(*) FROM site) + (SELECT count(*) FROM photo) + (SELECT "
                 "count(*) FROM meta)",
                 3, "The site or photo is missing.");
  expect_number (design, breaches,
                 "SELECT done = 0 OR EXISTS (SELECT 1 FROM history WHERE seq = done) FROM meta", 1,
                 "The history's mark points at no step.");
  expect_number (design, breaches,
                 "SELECT count(*) FROM photo WHERE picture IS NOT NULL AND NOT EXISTS"
                 " (SELECT 1 FROM picture WHERE picture.id = photo.picture AND length(bytes) > 0)",
                 0, "The photo's bytes are missing.");
  expect_number (design, breaches,
                 "SELECT count(*) FROM drawing WHERE picture IS NOT NULL AND NOT EXISTS"
                 " (SELECT 1 FROM picture WHERE picture.id = drawing.picture AND length(bytes) > 0)",
                 0, "The base drawing's bytes are missing.");
}

/* Invariant 7, the changesets. */
static void
check_history (BlDesign  *design,
               GPtrArray *breaches)
{
  g_autoptr(GError) error = NULL;
  g_auto(BlUse) use = bl_store_use (design->store, "SELECT seq, changeset FROM history", &error);

  while (use.stmt != NULL && bl_store_step (design->store, use.stmt, &error) == BL_STEP_ROW)
    {
      g_autoptr(BlChanges) changes = bl_changes_new ();

      if (!bl_changeset_read (sqlite3_column_blob (use.stmt, 1),
                              (gsize) sqlite3_column_bytes (use.stmt, 1), changes))
        breach (breaches, "Step %" G_GINT64_FORMAT " of the history cannot be read.",
                (gint64) sqlite3_column_int64 (use.stmt, 0));
    }
  take_error (breaches, &error);
}

GPtrArray *
bl_design_check (BlDesign *design)
{
  GPtrArray *breaches = g_ptr_array_new_with_free_func (g_free);

  g_return_val_if_fail (BL_IS_DESIGN (design), breaches);
  check_pages (design, breaches);
  check_model (design, breaches);
  if (design->store->version <= BL_DESIGN_VERSION)
    {
      check_counts (design, breaches);
      check_history (design, breaches);
    }
  return breaches;
}
