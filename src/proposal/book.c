/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The papers' common ground: alternatives computed, pictures and plans placed on the page. */
#include "proposal/book.h"

#include <cairo.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "draw/chart.h"
#include "draw/key.h"

#define PHOTO_SIDE 1000 /* pixels: the photo as it is stands small on the cover */
#define PRINT_DPI 200.0

static void
part_clear (gpointer data)
{
  BlBookPart *part = data;

  g_clear_pointer (&part->care, bl_care_free);
  g_clear_pointer (&part->fit, bl_fit_free);
  g_clear_pointer (&part->estimate, bl_estimate_unref);
  g_clear_pointer (&part->takeoff, bl_takeoff_unref);
  g_clear_pointer (&part->layout, bl_layout_unref);
}

/* The middle of the month in which most plants flower, large flowers counting more. */
static double
find_best_month (const BlLayout *layout)
{
  double worth[13] = { 0 };
  int best = 7;

  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlant *plant = g_array_index (layout->placed, BlPlaced, i).plant;
      double from, to;

      if (!bl_plant_bloom (plant, layout->model->site.zone, &from, &to))
        continue;
      for (int m = 1; m <= 12; m++)
        if (bl_months_include ((int) floor (from), (int) floor (to - 0.01), m))
          worth[m] += 0.05 + plant->spread * plant->spread;
    }
  for (int m = 1; m <= 12; m++)
    if (worth[m] > worth[best] * 1.001)
      best = m;
  return best + 0.5;
}

static double
evergreen_share (const BlLayout *layout)
{
  guint n = 0;

  for (guint i = 0; i < layout->placed->len; i++)
    n += g_array_index (layout->placed, BlPlaced, i).plant->leaves == BL_LEAVES_EVERGREEN;
  return layout->placed->len > 0 ? (double) n / layout->placed->len : 0;
}

static gboolean
add_part (BlBook *book, const BlAlternative *alternative, GError **error)
{
  BlBookPart part = { .alternative = alternative };

  part.layout = bl_layout_compute (book->model, alternative->id);
  part.takeoff = bl_takeoff_compute (part.layout);
  part.estimate = bl_estimate_compute (part.takeoff);
  part.care = bl_care_compute (part.layout, book->options->today);
  part.best_month = find_best_month (part.layout);
  part.bloom_months = bl_layout_bloom_months (part.layout);
  part.evergreen = evergreen_share (part.layout);
  part.fit = bl_fit_check (part.layout, book->options->library, error);
  g_array_append_val (book->parts, part);
  return part.fit != NULL;
}

static gboolean
add_parts (BlBook *book, GError **error)
{
  const BlProposalOptions *options = book->options;
  guint n = options->alternatives != NULL ? options->n_alternatives
                                          : MIN (3, book->model->alternatives->len);

  if (n == 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                   "this design has no alternative yet; compose one before writing papers.");
      return FALSE;
    }
  for (guint i = 0; i < n; i++)
    {
      const BlAlternative *alternative
          = options->alternatives != NULL
                ? bl_model_alternative (book->model, options->alternatives[i])
                : book->model->alternatives->pdata[i];

      if (alternative == NULL)
        {
          g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                       "an alternative chosen for the papers is not in the design any more.");
          return FALSE;
        }
      if (!add_part (book, alternative, error))
        return FALSE;
    }
  return TRUE;
}

BlBook *
bl_book_new (BlModel *model, GBytes *photo, const BlProposalOptions *options, GError **error)
{
  g_autoptr (BlBook) book = g_new0 (BlBook, 1);

  book->model = bl_model_ref (model);
  book->options = options;
  book->language = options->language != NULL ? options->language : model->language;
  book->cache = bl_figure_cache_new (96 * 1024 * 1024);
  book->parts = g_array_new (FALSE, TRUE, sizeof (BlBookPart));
  g_array_set_clear_func (book->parts, part_clear);
  if (photo != NULL && bl_model_camera (model) != NULL)
    {
      book->image = bl_image_decode (photo, options->cancellable, error);
      if (book->image == NULL)
        return NULL;
      book->jpeg = bl_image_to_jpeg (book->image, PHOTO_SIDE, 84, &book->jpeg_width,
                                     &book->jpeg_height, error);
      if (book->jpeg == NULL)
        return NULL;
    }
  return add_parts (book, error) ? g_steal_pointer (&book) : NULL;
}

void
bl_book_free (BlBook *book)
{
  g_clear_pointer (&book->press, bl_press_abandon);
  g_clear_pointer (&book->parts, g_array_unref);
  g_clear_pointer (&book->cache, bl_figure_cache_free);
  g_clear_pointer (&book->image, bl_image_unref);
  g_clear_pointer (&book->jpeg, g_bytes_unref);
  g_clear_pointer (&book->contents, g_array_unref);
  bl_model_unref (book->model);
  g_free (book);
}

gboolean
bl_book_open (BlBook *book, const char *path, const char *title, GError **error)
{
  BlModel *model = book->model;
  g_autofree char *day = bl_book_date (book, book->options->today);
  gboolean named = model->designer != NULL && *model->designer != '\0';
  g_autofree char *footer = g_strdup_printf ("%s%s%s", named ? model->designer : "",
                                             named ? " · " : "", day);
  g_autofree char *running = g_strdup_printf ("%s · %s", model->title, title);
  g_autofree char *keywords = g_strdup_printf ("%s, %s", BL_W (book, "Plant schedule"),
                                               BL_W (book, "Estimate"));
  BlPressSetup setup = { .title = running, .author = model->designer, .subject = title,
                         .keywords = keywords, .day = book->options->today,
                         .paper = book->options->paper, .running = running, .footer = footer,
                         .boxes = path != NULL ? book->options->boxes : NULL,
                         .n_pages = book->n_pages };

  book->press = bl_press_new (path, &setup, error);
  if (book->press == NULL)
    return FALSE;
  if (book->options->cancellable != NULL)
    book->press->cancellable = g_object_ref (book->options->cancellable);
  book->press->progress = path != NULL ? book->options->progress : NULL;
  book->press->progress_data = book->options->progress_data;
  return TRUE;
}

/* The first run only counts: the contents and "3 / 14" need to know the pages before they are set.
 */
gboolean
bl_book_print (BlBook *book, const char *path, const char *title, BlBookSet set, GError **error)
{
  if (!bl_book_open (book, NULL, title, error) || !set (book, error))
    return FALSE;
  g_clear_pointer (&book->contents, g_array_unref);
  book->contents = g_array_ref (book->press->marks);
  book->n_pages = book->press->page;
  if (book->n_pages == 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "none of the chosen pages has anything to show; choose others.");
      return FALSE;
    }
  if (!bl_press_finish (g_steal_pointer (&book->press), error))
    return FALSE;
  return bl_book_open (book, path, title, error) && set (book, error)
         && bl_press_finish (g_steal_pointer (&book->press), error);
}

double
bl_book_picture_height (const BlBook *book, double width)
{
  if (book->image != NULL)
    return width * book->image->height / book->image->width;
  return width * 0.62;
}

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

/* The scene as pixels at print resolution: thousands of leaves as outlines would make a file that
 * no mail carries. What overhangs the box is not painted. */
static GBytes *
render_scene (BlBook *book, const BlScene *scene, BlRect box, int *width, int *height)
{
  double w = box.x1 - box.x0, h = box.y1 - box.y0;
  double dw = scene->extent.x1 - scene->extent.x0, dh = scene->extent.y1 - scene->extent.y0;
  double fit = MAX (w / dw, h / dh);
  double dots = PRINT_DPI / 72;
  double k = fit * dots;
  cairo_surface_t *surface;
  cairo_t *cr;
  BlRect seen
      = { scene->extent.x0 + (dw - w / fit) / 2, scene->extent.y0 + (dh - h / fit) / 2, 0, 0 };
  BlPaintOptions paint = { .cache = book->cache };
  BlImage picture = { .n_levels = 1 };
  GBytes *jpeg;

  seen.x1 = seen.x0 + w / fit;
  seen.y1 = seen.y0 + h / fit;
  *width = MAX ((int) ceil (w * dots), 1);
  *height = MAX ((int) ceil (h * dots), 1);
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, *width, *height);
  cr = cairo_create (surface);
  cairo_scale (cr, k, k);
  cairo_translate (cr, -seen.x0, -seen.y0);
  bl_scene_paint (scene, cr, seen, k, &paint, book->options->cancellable, NULL);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  picture.width = *width;
  picture.height = *height;
  picture.levels[0] = (BlPixels) { *width, *height, cairo_image_surface_get_stride (surface),
                                   cairo_image_surface_get_data (surface) };
  jpeg = bl_image_to_jpeg (&picture, MAX (*width, *height), 88, width, height, NULL);
  cairo_surface_destroy (surface);
  return jpeg;
}

static void
paint_in_box (BlBook *book, const BlScene *scene, BlRect box)
{
  int width, height;
  g_autoptr (GBytes) jpeg = render_scene (book, scene, box, &width, &height);

  if (jpeg != NULL)
    place_jpeg (book, jpeg, width, height, box);
}

void
bl_book_picture (BlBook *book, const BlBookPart *part, BlMoment moment, gboolean before, BlRect box)
{
  g_autoptr (BlScene) scene = NULL;

  bl_press_remember (book->press, box, box);
  if (bl_press_is_dry (book->press))
    return;
  if (book->image == NULL)
    {
      bl_book_plan_sketch (book, part, moment, box, before);
      return;
    }
  if (before)
    {
      place_jpeg (book, book->jpeg, book->jpeg_width, book->jpeg_height, box);
      return;
    }
  scene = bl_scene_new (BL_VIEW_PHOTO, part->layout, book->image, moment, 0);
  paint_in_box (book, scene, box);
}

/* A negative sum has a minus of its own width, not a hyphen. */
char *
bl_book_money (const BlBook *book, gint64 minor)
{
  g_autofree char *text = bl_money_format (minor, book->model->currency);
  const char *hyphen = minor < 0 ? strchr (text, '-') : NULL;

  if (hyphen == NULL)
    return g_steal_pointer (&text);
  return g_strdup_printf ("%.*s−%s", (int) (hyphen - text), text, hyphen + 1);
}

char *
bl_book_date (const BlBook *book, BlDay when)
{
  int year, month, day;

  bl_day_split (when, &year, &month, &day);
  return g_strdup_printf (g_strcmp0 (book->language, "es") == 0 ? "%d de %s de %d" : "%d %s %d",
                          day, bl_month_name (book->language, month, FALSE), year);
}

const char *
bl_book_common (const BlBook *book, const BlPlant *plant)
{
  if (g_strcmp0 (book->language, "es") == 0 && plant->common_es != NULL
      && *plant->common_es != '\0')
    return plant->common_es;
  return plant->common;
}

char *
bl_book_key (const BlBookPart *part, const char *slug)
{
  return bl_layout_key (part->layout, slug);
}

char *
bl_book_escape (const char *text)
{
  return g_markup_escape_text (text != NULL ? text : "", -1);
}
