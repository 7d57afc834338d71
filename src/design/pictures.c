/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures in the design file: the photo, the base drawing and those of plants, each kept once. */
#include "design/check.h"
#include "design/design-private.h"
#include "photo/image.h"

static gboolean
find_picture (BlStore    *store,
              const char *sha256,
              gint64     *id,
              GError    **error)
{
  g_auto(BlUse) use = bl_store_use (store, "SELECT id FROM picture WHERE sha256 = ?1", error);
  BlStep step;

  *id = 0;
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, sha256);
  step = bl_store_step (store, use.stmt, error);
  if (step == BL_STEP_ROW)
    *id = sqlite3_column_int64 (use.stmt, 0);
  return step != BL_STEP_FAILED;
}

gboolean
bl_picture_keep (BlStore *store,
                 GBytes  *bytes,
                 gint64  *id,
                 GError **error)
{
  g_autofree char *sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  g_auto(BlUse) use = { NULL };
  gsize length;
  gconstpointer data = g_bytes_get_data (bytes, &length);

  if (!find_picture (store, sha256, id, error))
    return FALSE;
  if (*id != 0)
    return TRUE;
  use = bl_store_use (
      store,
      "INSERT INTO picture (edit, sha256, bytes) VALUES ((SELECT done + 1 FROM meta), ?1, ?2)",
      error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, sha256);
  sqlite3_bind_blob64 (use.stmt, 2, data, length, SQLITE_STATIC);
  if (bl_store_step (store, use.stmt, error) != BL_STEP_DONE)
    return FALSE;
  *id = sqlite3_last_insert_rowid (store->db);
  return TRUE;
}

gboolean
bl_picture_load (BlStore    *store,
                 const char *sha256,
                 GBytes    **bytes,
                 GError    **error)
{
  g_auto(BlUse) use = bl_store_use (store, "SELECT bytes FROM picture WHERE sha256 = ?1", error);
  BlStep step;

  *bytes = NULL;
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 1, sha256);
  step = bl_store_step (store, use.stmt, error);
  if (step == BL_STEP_ROW && sqlite3_column_bytes (use.stmt, 0) > 0
      && sqlite3_column_bytes (use.stmt, 0) <= BL_MAX_PICTURE)
    *bytes = g_bytes_new (sqlite3_column_blob (use.stmt, 0),
                          (gsize) sqlite3_column_bytes (use.stmt, 0));
  return step != BL_STEP_FAILED;
}

gboolean
bl_photo_take (BlStore    *store,
               GBytes     *bytes,
               const char *name,
               GError    **error)
{
  g_autoptr(BlPhotoMeta) meta = bl_photo_meta_read (bytes, error);
  /* A picture cut in half has a sound head: only decoding it all tells. */
  g_autoptr(BlImage) whole = meta != NULL ? bl_image_decode (bytes, NULL, error) : NULL;
  BlPhotoInfo present = { 0 }, info;
  BlSite site;
  gint64 picture = 0;
  gboolean ok;

  if (whole == NULL || !bl_picture_keep (store, bytes, &picture, error)
      || !bl_photo_load (store, &present, error))
    return FALSE;
  info = present;
  info.name = (char *) name;
  info.width = meta->width;
  info.height = meta->height;
  /* A cropped picture no longer has the angle of view its metadata tells of. */
  info.focal_35mm = meta->looks_cropped ? 0 : meta->focal_35mm;
  if (!(info.focal_35mm >= 0 && info.focal_35mm <= 10000))
    info.focal_35mm = 0;
  ok = bl_photo_write (store, &info, picture, error);
  g_free (present.name);
  bl_site_init (&site);
  ok = ok && bl_site_load (store, &site, error);
  if (ok && isnan (site.latitude) && isfinite (meta->latitude) && isfinite (meta->longitude)
      && fabs (meta->latitude) <= 90 && fabs (meta->longitude) <= 180)
    {
      site.latitude = meta->latitude;
      site.longitude = meta->longitude;
      ok = bl_site_write (store, &site, error);
    }
  bl_site_clear (&site);
  return ok;
}

gboolean
bl_drawing_take (BlStore    *store,
                 GBytes     *bytes,
                 const char *name,
                 GError    **error)
{
  g_autoptr(GBytes) kept = bl_drawing_picture (bytes, NULL, error);
  g_autoptr(BlImage) whole = kept != NULL ? bl_image_decode (kept, NULL, error) : NULL;
  BlDrawing drawing = { .name = (char *) name, .place = { NAN, NAN } };
  gint64 picture = 0;

  if (whole == NULL || !bl_picture_keep (store, kept, &picture, error))
    return FALSE;
  drawing.width = whole->width;
  drawing.height = whole->height;
  return bl_drawing_write (store, &drawing, picture, error);
}

/* ---- rows of the base drawing ---- */

static gpointer
read_drawing (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlDrawing *drawing = g_new0 (BlDrawing, 1);

  if (sqlite3_column_type (row->stmt, 1) != SQLITE_NULL)
    drawing->picture = bl_row_int (row, 1, 1, G_MAXINT64);
  drawing->name = bl_row_text_or_null (row, 2, BL_MAX_NAME);
  drawing->width = (int) bl_row_int (row, 3, 1, 100000);
  drawing->height = (int) bl_row_int (row, 4, 1, 100000);
  for (int i = 0; i < 2; i++)
    drawing->ends[i] = BL_POINT (bl_row_real (row, 5 + 2 * i), bl_row_real (row, 6 + 2 * i));
  drawing->length = bl_row_real (row, 9);
  drawing->sd = bl_row_real (row, 10);
  drawing->click_px = bl_row_real (row, 11);
  drawing->place = BL_POINT (bl_row_real_or_nan (row, 12), bl_row_real_or_nan (row, 13));
  drawing->turn = bl_row_real (row, 14);
  if (row->problem == NULL && !bl_check_drawing (drawing, &error))
    bl_row_wrong (row, error->message);
  if (row->problem == NULL)
    return drawing;
  g_free (drawing->name);
  g_free (drawing);
  return NULL;
}

gboolean
bl_drawing_load (BlStore   *store,
                 BlDrawing *drawing,
                 GError   **error)
{
  gpointer read = NULL;

  if (!bl_rows_load_one (store, BL_TABLE_DRAWING, 1, read_drawing, &read, error))
    return FALSE;
  g_free (drawing->name);
  *drawing = (BlDrawing) { .name = NULL };
  if (read != NULL)
    *drawing = *(BlDrawing *) read;
  g_free (read);
  return TRUE;
}

gboolean
bl_drawing_write (BlStore         *store,
                  const BlDrawing *drawing,
                  gint64           picture,
                  GError         **error)
{
  g_auto(BlUse) use = { NULL };
  gint64 id = 0, present = 0;

  if (!bl_check_drawing (drawing, error)
      || !bl_store_number (store, "SELECT count(*) FROM drawing", &id, error)
      || !bl_store_number (store, "SELECT coalesce(max(picture), 0) FROM drawing", &present, error))
    return FALSE;
  if (picture < 0)
    picture = present;
  use = bl_rows_put (store, BL_TABLE_DRAWING, id, error);
  if (use.stmt == NULL)
    return FALSE;
  if (picture > 0)
    bl_bind_int (&use, 2, picture);
  bl_bind_text (&use, 3, drawing->name);
  bl_bind_int (&use, 4, drawing->width);
  bl_bind_int (&use, 5, drawing->height);
  for (int i = 0; i < 2; i++)
    {
      bl_bind_real (&use, 6 + 2 * i, drawing->ends[i].x);
      bl_bind_real (&use, 7 + 2 * i, drawing->ends[i].y);
    }
  bl_bind_real (&use, 10, drawing->length);
  bl_bind_real (&use, 11, drawing->sd);
  bl_bind_real (&use, 12, drawing->click_px);
  bl_bind_real (&use, 13, drawing->place.x);
  bl_bind_real (&use, 14, drawing->place.y);
  bl_bind_real (&use, 15, drawing->turn);
  return bl_rows_finish (store, BL_TABLE_DRAWING, &use, &id, error);
}
