/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheet parts that are pictures: the photo and the base drawing. */
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "design/check.h"
#include "design/sheet-private.h"

/* ---- the photo ---- */

static gboolean
stays_inside (const char *file)
{
  g_auto(GStrv) parts = g_strsplit (file, "/", -1);

  if (g_path_is_absolute (file) || strchr (file, '\\') != NULL)
    return FALSE;
  for (guint i = 0; parts[i] != NULL; i++)
    if (parts[i][0] == '\0' || strcmp (parts[i], "..") == 0)
      return FALSE;
  return TRUE;
}

/* The real path of @file in the sheet's folder; NULL when it, or a link on the way, leads out. */
static char *
find_inside (const char *folder,
             const char *file)
{
  g_autofree char *path = g_build_filename (folder, file, NULL);
  char *real_folder = realpath (folder, NULL), *real_path = realpath (path, NULL);
  char *found = NULL;

  if (real_folder != NULL && real_path != NULL)
    {
      g_autofree char *within = g_str_has_suffix (real_folder, "/")
                                    ? g_strdup (real_folder)
                                    : g_strconcat (real_folder, "/", NULL);

      if (g_str_has_prefix (real_path, within))
        found = g_strdup (real_path);
    }
  free (real_folder);
  free (real_path);
  return found;
}

GBytes *
bl_sheet_picture (BlSheet       *sheet,
                  const BlPlace *place,
                  const char    *file)
{
  g_autofree char *path = NULL;
  g_autoptr(GError) problem = NULL;
  char *data = NULL;
  gsize length = 0;
  GStatBuf info;

  if (sheet->folder == NULL || !stays_inside (file))
    {
      bl_sheet_refuse (sheet, place, "must name a file in the sheet's own folder, not “%s”", file);
      return NULL;
    }
  path = find_inside (sheet->folder, file);
  if (path == NULL || g_stat (path, &info) != 0 || !S_ISREG (info.st_mode))
    bl_sheet_refuse (sheet, place, "there is no picture “%s” in the sheet's folder", file);
  else if (info.st_size > BL_MAX_PICTURE)
    bl_sheet_refuse (sheet, place, "“%s” is larger than %d MB", file,
                     BL_MAX_PICTURE / (1024 * 1024));
  else if (!g_file_get_contents (path, &data, &length, &problem))
    bl_sheet_refuse (sheet, place, "“%s” cannot be read: %s", file, problem->message);
  return data != NULL ? g_bytes_new_take (data, length) : NULL;
}

static void
put_picture (BlSheet       *sheet,
             const BlPlace *place,
             const char    *file,
             BlPhotoInfo   *info)
{
  g_autoptr(GBytes) bytes = bl_sheet_picture (sheet, place, file);
  GError *problem = NULL;
  BlPhotoInfo read = { 0 };

  if (bytes == NULL)
    return;
  if (!bl_design_put_photo (sheet->design, bytes, file, &problem)
      || !bl_photo_load (sheet->design->store, &read, &problem))
    {
      bl_sheet_take (sheet, place, problem);
      return;
    }
  if ((info->width != 0 && info->width != read.width)
      || (info->height != 0 && info->height != read.height))
    bl_sheet_refuse (sheet, place, "“%s” is %d × %d pixels, not as stated", file, read.width,
                     read.height);
  info->width = read.width;
  info->height = read.height;
  if (info->focal_35mm < 0)
    info->focal_35mm = read.focal_35mm;
  g_free (read.name);
}

void
bl_sheet_read_photo (BlSheet    *sheet,
                     JsonObject *root)
{
  JsonObject *object = bl_sheet_object (sheet, NULL, root, "photo");
  BlPlace here = BL_PLACE_KEY (NULL, "photo"), at_file = BL_PLACE_KEY (&here, "file");
  GError *problem = NULL;
  BlPhotoInfo info = { 0 };
  const char *file;

  if (object == NULL)
    return;
  bl_sheet_keys (sheet, &here, object,
                 "file width height focal_35mm click_px slope slope_direction");
  file = bl_sheet_text (sheet, &here, object, "file", NULL);
  info.name = (char *) file;
  info.width = (int) CLAMP (bl_sheet_whole (sheet, &here, object, "width", 0), -1, 1000000);
  info.height = (int) CLAMP (bl_sheet_whole (sheet, &here, object, "height", 0), -1, 1000000);
  /* Not stated: what the metadata says. */
  info.focal_35mm = bl_sheet_number (sheet, &here, object, "focal_35mm", -1);
  if (bl_sheet_has (object, "focal_35mm") && info.focal_35mm < 0)
    bl_sheet_refuse (sheet, &here, "the focal length cannot be negative");
  info.click_px = bl_sheet_number (sheet, &here, object, "click_px", 0);
  info.slope = bl_sheet_number (sheet, &here, object, "slope", 0);
  info.slope_direction = bl_sheet_angle (sheet, &here, object, "slope_direction", 0);
  if (file != NULL && sheet->error == NULL)
    put_picture (sheet, &at_file, file, &info);
  else if (info.width <= 0 || info.height <= 0)
    bl_sheet_refuse (sheet, &here,
                     "needs a file, or the width and height of the upright picture in pixels");
  info.focal_35mm = MAX (info.focal_35mm, 0);
  if (sheet->error == NULL && !bl_design_put_photo_info (sheet->design, &info, &problem))
    bl_sheet_take (sheet, &here, problem);
}

/* ---- the base drawing ---- */

static gboolean
put_drawing (BlSheet       *sheet,
             const BlPlace *place,
             const char    *file,
             BlDrawing     *drawing)
{
  g_autoptr(GBytes) bytes = bl_sheet_picture (sheet, place, file);
  GError *problem = NULL;
  BlDrawing read = { .name = NULL };

  if (bytes == NULL)
    return FALSE;
  if (!bl_design_put_drawing (sheet->design, bytes, file, &problem)
      || !bl_drawing_load (sheet->design->store, &read, &problem))
    {
      bl_sheet_take (sheet, place, problem);
      return FALSE;
    }
  if ((drawing->width != 0 && drawing->width != read.width)
      || (drawing->height != 0 && drawing->height != read.height))
    bl_sheet_refuse (sheet, place, "“%s” is %d × %d pixels, not as stated", file, read.width,
                     read.height);
  drawing->width = read.width;
  drawing->height = read.height;
  g_free (read.name);
  return TRUE;
}

static void
read_known_length (BlSheet       *sheet,
                   const BlPlace *here,
                   JsonObject    *object,
                   BlDrawing     *drawing)
{
  JsonArray *px = bl_sheet_array (sheet, here, object, "px");
  BlPlace at_px = BL_PLACE_KEY (here, "px");
  g_autoptr(BlPoints) ends = px != NULL ? bl_sheet_points (sheet, &at_px, px, TRUE) : NULL;

  if ((px != NULL) != bl_sheet_has (object, "length"))
    bl_sheet_refuse (sheet, here, "needs px, the two ends of the known length, and length together");
  else if (ends != NULL && ends->len != 2 && sheet->error == NULL)
    bl_sheet_refuse (sheet, &at_px, "must be the two ends of the known length");
  for (guint i = 0; ends != NULL && i < 2 && i < ends->len; i++)
    drawing->ends[i] = bl_points_at (ends, i);
  drawing->length = bl_sheet_length (sheet, here, object, "length", 0);
  drawing->sd = bl_sheet_length (sheet, here, object, "sd", 0);
}

void
bl_sheet_read_drawing (BlSheet    *sheet,
                       JsonObject *root)
{
  JsonObject *object = bl_sheet_object (sheet, NULL, root, "drawing");
  BlPlace here = BL_PLACE_KEY (NULL, "drawing"), at_file = BL_PLACE_KEY (&here, "file");
  BlPlace at_place = BL_PLACE_KEY (&here, "at");
  BlDrawing drawing = { .place = { NAN, NAN } };
  GError *problem = NULL;
  gboolean ok;
  const char *file;

  if (object == NULL)
    return;
  bl_sheet_keys (sheet, &here, object, "file width height px length sd click_px at turn");
  file = bl_sheet_text (sheet, &here, object, "file", NULL);
  drawing.name = (char *) file;
  drawing.width = (int) CLAMP (bl_sheet_whole (sheet, &here, object, "width", 0), -1, 1000000);
  drawing.height = (int) CLAMP (bl_sheet_whole (sheet, &here, object, "height", 0), -1, 1000000);
  read_known_length (sheet, &here, object, &drawing);
  drawing.click_px = bl_sheet_number (sheet, &here, object, "click_px", 0);
  if (bl_sheet_has (object, "at"))
    drawing.place = bl_sheet_point_of (sheet, &at_place, json_object_get_member (object, "at"), FALSE);
  drawing.turn = bl_sheet_angle (sheet, &here, object, "turn", 0);
  if (file == NULL && (drawing.width <= 0 || drawing.height <= 0))
    bl_sheet_refuse (sheet, &here, "needs a file, or the width and height of the drawing in pixels");
  if (sheet->error != NULL || (file != NULL && !put_drawing (sheet, &at_file, file, &drawing))
      || sheet->error != NULL)
    return;
  ok = file != NULL ? bl_design_put_drawing_info (sheet->design, &drawing, &problem)
                    : bl_drawing_write (sheet->design->store, &drawing, 0, &problem);
  if (!ok)
    bl_sheet_take (sheet, &here, problem);
}
