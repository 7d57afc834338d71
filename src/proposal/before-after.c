/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One picture of today and of the proposal, for a message or a wall. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "draw/fresh-file.h"
#include "proposal/book.h"

#define LEAST 320
#define MOST 12000

static void
caption (BlPress *press, double x, double width, double y, double k, const char *text)
{
  cairo_save (press->cr);
  cairo_translate (press->cr, x, y);
  cairo_scale (press->cr, k, k);
  bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, 0, 0, width / k, BL_ALIGN_LEFT, 1, text);
  cairo_restore (press->cr);
}

static void
paint (BlBook *book, cairo_t *cr, double width, double height, double gap)
{
  const BlBookPart *part = bl_book_part (book, 0);
  double each = (width - gap) / 2, k = width / 640;
  BlMoment moment = { part->best_month, BL_BOOK_YEARS };
  g_autofree char *after = g_strdup_printf (
      BL_W (book, "As proposed, %s, year %g"),
      bl_month_name (book->language, (int) part->best_month, FALSE), BL_BOOK_YEARS);
  g_autoptr (BlScene) scene = bl_scene_new (BL_VIEW_PHOTO, part->layout, book->image, moment, 0);
  BlPaintOptions options = { .cache = book->cache };
  g_autoptr (BlPress) press = bl_press_borrow (cr, width, height);
  double level_scale, zoom = each / book->image->width;
  const BlPixels *pixels = bl_image_level_for (book->image, zoom, &level_scale);
  cairo_surface_t *photo = cairo_image_surface_create_for_data (
      pixels->data, CAIRO_FORMAT_ARGB32, pixels->width, pixels->height, pixels->stride);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_save (cr);
  cairo_scale (cr, each / pixels->width, each / pixels->width);
  cairo_set_source_surface (cr, photo, 0, 0);
  cairo_rectangle (cr, 0, 0, pixels->width, pixels->height);
  cairo_fill (cr);
  cairo_restore (cr);
  cairo_surface_destroy (photo);
  cairo_save (cr);
  cairo_translate (cr, each + gap, 0);
  cairo_scale (cr, zoom, zoom);
  cairo_rectangle (cr, 0, 0, book->image->width, book->image->height);
  cairo_clip (cr);
  bl_scene_paint (scene, cr, scene->extent, zoom, &options, book->options->cancellable, NULL);
  cairo_restore (cr);
  caption (press, 0, each, height - 15 * k, k, BL_W (book, "Today"));
  caption (press, each + gap, each, height - 15 * k, k, after);
}

static gboolean
write_png (cairo_surface_t *surface, const char *path, GError **error)
{
  g_autoptr (BlFreshFile) file = bl_fresh_file_new (path);
  cairo_status_t status = CAIRO_STATUS_WRITE_ERROR;

  if (file != NULL)
    status = cairo_surface_write_to_png_stream (surface, bl_fresh_file_write, file);
  if (status == CAIRO_STATUS_SUCCESS)
    status = bl_fresh_file_close (file);
  if (status == CAIRO_STATUS_SUCCESS && !bl_fresh_file_keep (g_steal_pointer (&file)))
    status = CAIRO_STATUS_WRITE_ERROR;
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
               _("“%s” can't be written (%s); check the folder and the space left."), path,
               cairo_status_to_string (status));
  return FALSE;
}

static gboolean
write_picture (cairo_surface_t *surface, const char *path, GError **error)
{
  BlImage picture = { .width = cairo_image_surface_get_width (surface),
                      .height = cairo_image_surface_get_height (surface), .n_levels = 1 };
  g_autofree char *low = g_ascii_strdown (path, -1);
  g_autoptr (GBytes) jpeg = NULL;

  if (g_str_has_suffix (low, ".png"))
    return write_png (surface, path, error);
  picture.levels[0]
      = (BlPixels){ picture.width, picture.height, cairo_image_surface_get_stride (surface),
                    cairo_image_surface_get_data (surface) };
  jpeg = bl_image_to_jpeg (&picture, MAX (picture.width, picture.height), 90, NULL, NULL, error);
  return jpeg != NULL
         && g_file_set_contents (path, g_bytes_get_data (jpeg, NULL),
                                 (gssize)g_bytes_get_size (jpeg), error);
}

static gboolean
check_wishes (const BlModel *model, GBytes *photo, const char *path, int width, GError **error)
{
  g_autofree char *low = g_ascii_strdown (path, -1);

  if (!g_str_has_suffix (low, ".png") && !g_str_has_suffix (low, ".jpg")
      && !g_str_has_suffix (low, ".jpeg"))
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("“%s” has no ending that says what to write; end the name in .png or .jpg."), path);
  else if (width < LEAST || width > MOST)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("a picture %d pixels wide can't be written; choose a width from %d to %d."), width,
                 LEAST, MOST);
  else if (photo == NULL)
    g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                 _("this design has no photo to show as it is today; add one first."));
  else if (bl_model_camera (model) == NULL)
    g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED, _("plants can't be drawn on the photo: %s"),
                 model->camera_problem != NULL ? model->camera_problem
                                               : _("its camera is not known yet."));
  else
    return TRUE;
  return FALSE;
}

gboolean
bl_before_after_write (BlModel *model, GBytes *photo, const char *path, int width,
                       const BlProposalOptions *options, GError **error)
{
  g_autoptr (BlBook) book = NULL;
  cairo_surface_t *surface;
  cairo_t *cr;
  double gap = round (width * 0.008), height;
  gboolean done;

  if (!check_wishes (model, photo, path, width, error))
    return FALSE;
  book = bl_book_new (model, photo, options, error);
  if (book == NULL)
    return FALSE;
  height = ceil ((width - gap) / 2 * book->image->height / book->image->width + 18.0 * width / 640);
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, (int) height);
  cr = cairo_create (surface);
  paint (book, cr, width, height, gap);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  done = !g_cancellable_set_error_if_cancelled (options->cancellable, error)
         && write_picture (surface, path, error);
  cairo_surface_destroy (surface);
  return done;
}
