/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows to structs and back: every value read is checked before it becomes part of a model. */
#pragma once

#include "design/changeset.h"
#include "design/model.h"
#include "design/schema.h"
#include "design/store.h"

/* A row being read. The first thing wrong with it stays in @problem; readers go on with harmless
 * values, and the row is refused at its end. */
typedef struct
{
  sqlite3_stmt *stmt;
  char *problem;
} BlRow;

gint64 bl_row_int (BlRow *row, int column, gint64 low, gint64 high);
gboolean bl_row_switch (BlRow *row, int column);
double bl_row_real (BlRow *row, int column);
double bl_row_real_or_nan (BlRow *row, int column);           /* NULL gives NAN */
const char *bl_row_peek (BlRow *row, int column, gsize most); /* NULL gives NULL; borrowed */
char *bl_row_text (BlRow *row, int column, gsize most);       /* never NULL */
char *bl_row_text_or_null (BlRow *row, int column, gsize most);
void bl_row_wrong (BlRow *row, const char *what);
/* Columns points, sharp, straight and (when not negative) open; NULL points give NULL. */
BlPoints *bl_row_points_or_null (BlRow *row, int column, guint most);
BlOutline *bl_row_outline (BlRow *row, int points, int sharp, int straight, int open);

/* Reads all rows of @table in the order of their ids; @read gives a struct or NULL with a problem,
 * @free_item frees it. Errors are BL_ERROR_FILE and name the row. */
gboolean
bl_rows_load (
    BlStore *store, BlTable table, gpointer (*read) (BlRow *row), GPtrArray *into, GError **error);
/* One row; *@item is NULL when there is none of that id. */
gboolean bl_rows_load_one (BlStore *store, BlTable table, gint64 id, gpointer (*read) (BlRow *row),
                           gpointer *item, GError **error);
/* Takes the problem of @row as error; always FALSE. */
gboolean
bl_rows_damaged (BlStore *store, BlTable table, gint64 id, const char *problem, GError **error);

/* Writing a row: a statement with the id bound to ?1, for the caller to bind ?2 and on. id 0 makes
 * a new row. */
BlUse bl_rows_put (BlStore *store, BlTable table, gint64 id, GError **error);
/* Runs it; sets a new row's id. BL_ERROR_NOT_FOUND when the row to replace is gone. */
gboolean bl_rows_finish (BlStore *store, BlTable table, BlUse *use, gint64 *id, GError **error);
gboolean
bl_rows_delete (BlStore *store, BlTable table, const char *column, gint64 id, GError **error);
void bl_bind_int (BlUse *use, int at, gint64 value);
void bl_bind_real (BlUse *use, int at, double value); /* NAN as NULL */
void bl_bind_text (BlUse *use, int at, const char *value);
void
bl_bind_outline (
    BlUse *use, const BlOutline *outline, int points, int sharp, int straight, int open);

/* Fills the parts of @model that @touched names from the rows; @previous lends plant records. Of
 * plantings only those in @changes are read again when it is given and @model holds the others. */
gboolean
bl_rows_load_model (
    BlStore *store, BlModel *model, const BlModel *previous, BlTouched touched, GError **error);

/* Readers and writers by table. */
gpointer bl_known_read (BlRow *row);
gpointer bl_feature_read (BlRow *row);
gpointer bl_bed_read (BlRow *row);
gpointer bl_alternative_read (BlRow *row);
gpointer bl_planting_read (BlRow *row);
gboolean bl_tape_load (BlStore *store, BlTape **tape, GError **error);
gboolean bl_plants_load (BlStore *store, GHashTable *into, const BlModel *previous, GError **error);
gboolean bl_prices_load (BlStore *store, BlPriceBook *book, GError **error);
gboolean bl_texts_load (BlStore *store, BlModel *model, GError **error);
gboolean bl_site_load (BlStore *store, BlSite *site, GError **error);
gboolean bl_photo_load (BlStore *store, BlPhotoInfo *photo, GError **error);
/* @drawing has a width of 0 when there is none. */
gboolean bl_drawing_load (BlStore *store, BlDrawing *drawing, GError **error);
gpointer bl_override_read (BlRow *row);
gpointer bl_care_mark_read (BlRow *row);
gpointer bl_own_task_read (BlRow *row);

gboolean bl_known_write (BlStore *store, BlKnown *known, GError **error);
gboolean bl_feature_write (BlStore *store, BlFeature *feature, GError **error);
gboolean bl_bed_write (BlStore *store, BlBed *bed, GError **error);
gboolean bl_alternative_write (BlStore *store, BlAlternative *alternative, GError **error);
gboolean bl_planting_write (BlStore *store, BlPlanting *planting, GError **error);
gboolean bl_override_write (BlStore *store, BlOverride *override, GError **error);
gboolean bl_care_mark_write (BlStore *store, BlCareMark *mark, GError **error);
gboolean bl_own_task_write (BlStore *store, BlOwnTask *task, GError **error);
gboolean bl_tape_write (BlStore *store, const BlTape *tape, GError **error);
gboolean bl_plant_write (BlStore *store, const BlPlant *plant, GError **error);
gboolean bl_price_item_write (BlStore *store, const BlPriceItem *item, GError **error);
gboolean bl_prices_write (BlStore *store, const BlPriceBook *book, GError **error);
gboolean bl_text_write (BlStore *store, const char *name, const char *value, GError **error);
gboolean bl_site_write (BlStore *store, const BlSite *site, GError **error);
/* Takes a picture into the file: the photo with what its data say; the base drawing, unscaled. */
gboolean bl_photo_take (BlStore *store, GBytes *bytes, const char *name, GError **error);
gboolean bl_drawing_take (BlStore *store, GBytes *bytes, const char *name, GError **error);
/* Keeps bytes once, however often they are put, while the edit that brought them can be redone; their
 * row in @id. Reading: NULL without an error when there are none of that SHA-256. */
gboolean bl_picture_keep (BlStore *store, GBytes *bytes, gint64 *id, GError **error);
gboolean bl_picture_load (BlStore *store, const char *sha256, GBytes **bytes, GError **error);
/* @picture: row of the photo's bytes; 0 = none, -1 = as it is. */
gboolean bl_photo_write (BlStore *store, const BlPhotoInfo *photo, gint64 picture, GError **error);
/* Likewise. */
gboolean bl_drawing_write (BlStore *store, const BlDrawing *drawing, gint64 picture, GError **error);
