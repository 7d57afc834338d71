/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures on the page: the photo as it is, and with the plants on it. */
#include <math.h>
#include <string.h>

#include "proposal/book.h"

#define PRINT_DPI 200.0
#define PHOTO_SIDE 1000 /* pixels: the photo as it is stands small on the cover */
#define HEADROOM 1.2 /* metres of plants over the beds that a close picture keeps room for */

/* A JPEG goes into the file unchanged, once for all pages that show the same one. */
static void
place_jpeg (BlBook *book, GBytes *jpeg, int width, int height, BlRect box)
{
  cairo_t *cr = book->press->cr;
  double w = box.x1 - box.x0, h = box.y1 - box.y0;
  double k = MAX (w / width, h / height);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  char *id = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, jpeg);

  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, g_bytes_get_data (jpeg, NULL),
                               g_bytes_get_size (jpeg), (cairo_destroy_func_t) g_bytes_unref,
                               g_bytes_ref (jpeg));
  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_UNIQUE_ID, (guchar *) id, strlen (id),
                               g_free, id);
  cairo_save (cr);
  cairo_rectangle (cr, box.x0, box.y0, w, h);
  cairo_clip (cr);
  cairo_translate (cr, box.x0 + (w - width * k) / 2, box.y0 + (h - height * k) / 2);
  cairo_scale (cr, k, k);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_paint (cr);
  cairo_restore (cr);
  cairo_surface_destroy (surface);
}

/* All of @extent that a box of @aspect (width over height) can hold, cut about the middle. */
static BlRect
whole_of (BlRect extent, double aspect)
{
  double w = extent.x1 - extent.x0, h = extent.y1 - extent.y0;
  double cut_w = MIN (w, h * aspect), cut_h = MIN (h, w / aspect);
  double x = (extent.x0 + extent.x1) / 2, y = (extent.y0 + extent.y1) / 2;

  return (BlRect) { x - cut_w / 2, y - cut_h / 2, x + cut_w / 2, y + cut_h / 2 };
}

/* The smallest piece of @extent of that shape with @subject in it. */
static BlRect
close_up (BlRect extent, BlRect subject, double aspect)
{
  BlRect whole = whole_of (extent, aspect);
  double w = MAX (subject.x1 - subject.x0, (subject.y1 - subject.y0) * aspect);
  double x = (subject.x0 + subject.x1) / 2, y = (subject.y0 + subject.y1) / 2, h;

  if (w <= 0 || w >= whole.x1 - whole.x0)
    return whole;
  h = w / aspect;
  x = CLAMP (x, extent.x0 + w / 2, extent.x1 - w / 2);
  y = CLAMP (y, extent.y0 + h / 2, extent.y1 - h / 2);
  return (BlRect) { x - w / 2, y - h / 2, x + w / 2, y + h / 2 };
}

/* Where the beds and what stands on them lie on the photo, pixels. */
static BlRect
subject_of (const BlBook *book)
{
  const BlCamera *camera = bl_model_camera (book->model);
  BlRect rect = BL_RECT_EMPTY;

  for (guint i = 0; i < book->model->beds->len; i++)
    {
      const BlPoints *ring = ((const BlBed *) book->model->beds->pdata[i])->ring;

      for (guint k = 0; ring != NULL && k < ring->len; k++)
        for (int up = 0; up < 2; up++)
          {
            BlPoint p = bl_points_at (ring, k), px;

            if (bl_camera_project (camera, p.x, p.y, up * HEADROOM, &px))
              rect = bl_rect_union (rect, (BlRect) { px.x, px.y, px.x, px.y });
          }
    }
  if (bl_rect_is_empty (rect))
    return rect;
  return bl_rect_grow (rect, (rect.x1 - rect.x0) * 0.04);
}

void
bl_book_place_pixels (BlBook *book, cairo_surface_t *surface, BlRect box)
{
  BlImage picture = { .n_levels = 1 };
  g_autoptr (GBytes) jpeg = NULL;
  int width, height;

  cairo_surface_flush (surface);
  picture.width = cairo_image_surface_get_width (surface);
  picture.height = cairo_image_surface_get_height (surface);
  picture.levels[0] = (BlPixels) { picture.width, picture.height,
                                   cairo_image_surface_get_stride (surface),
                                   cairo_image_surface_get_data (surface) };
  jpeg = bl_image_to_jpeg (&picture, MAX (picture.width, picture.height), 88, &width, &height, NULL);
  if (jpeg != NULL)
    place_jpeg (book, jpeg, width, height, box);
}

/* What is @seen of the scene as pixels at print resolution. Thousands of leaves as outlines would make a
 * file that no mail carries; the plants as a picture of their own with a mask over the photo look the
 * same and take half as much again (the demo: 758 kB beside 500 kB for both in one). */
static void
place_scene (BlBook *book, const BlScene *scene, BlRect seen, BlRect box)
{
  double w = box.x1 - box.x0, h = box.y1 - box.y0;
  double dots = PRINT_DPI / 72 * book->press->zoom;
  double k = w / (seen.x1 - seen.x0) * dots;
  cairo_surface_t *surface = cairo_image_surface_create (
      CAIRO_FORMAT_RGB24, MAX ((int) ceil (w * dots), 1), MAX ((int) ceil (h * dots), 1));
  cairo_t *cr = cairo_create (surface);
  BlPaintOptions paint = { .cache = book->cache };

  cairo_scale (cr, k, k);
  cairo_translate (cr, -seen.x0, -seen.y0);
  bl_scene_paint (scene, cr, seen, k, &paint, book->options->cancellable, NULL);
  cairo_destroy (cr);
  bl_book_place_pixels (book, surface, box);
  cairo_surface_destroy (surface);
}

static void
draw_picture (BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box, gboolean close)
{
  double aspect = (box.x1 - box.x0) / (box.y1 - box.y0);
  g_autoptr (BlScene) scene = NULL;
  BlRect seen;

  bl_press_remember (book->press, box, box);
  if (bl_press_is_dry (book->press))
    return;
  if (book->image == NULL)
    {
      bl_book_plan_sketch (book, part, moment, box, FALSE);
      return;
    }
  scene = bl_scene_new (BL_VIEW_PHOTO, part->layout, book->image, moment, 0);
  seen = close ? close_up (scene->extent, subject_of (book), aspect) : whole_of (scene->extent, aspect);
  place_scene (book, scene, seen, box);
}

void
bl_book_picture (BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box)
{
  draw_picture (book, part, moment, box, FALSE);
}

void
bl_book_picture_close (BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box)
{
  draw_picture (book, part, moment, box, TRUE);
}

void
bl_book_picture_before (BlBook *book, const BlBookPart *part, BlRect box)
{
  g_autoptr (GBytes) jpeg = NULL;
  int width, height;

  bl_press_remember (book->press, box, box);
  if (bl_press_is_dry (book->press))
    return;
  if (book->image == NULL)
    {
      bl_book_plan_sketch (book, part, (BlMoment) { part->best_month, 0 }, box, TRUE);
      return;
    }
  jpeg = bl_image_to_jpeg (book->image, PHOTO_SIDE, 84, &width, &height, NULL);
  if (jpeg != NULL)
    place_jpeg (book, jpeg, width, height, box);
}
