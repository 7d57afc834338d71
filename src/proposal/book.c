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
  bl_model_unref (book->model);
  g_free (book);
}

gboolean
bl_book_open (BlBook *book, const char *path, const char *title, GError **error)
{
  BlModel *model = book->model;
  g_autofree char *day = bl_day_format_iso (book->options->today);
  g_autofree char *footer = g_strdup_printf ("%s%s%s", model->designer != NULL ? model->designer : "",
                                             model->designer != NULL && *model->designer ? " · " : "",
                                             day);
  g_autofree char *running = g_strdup_printf ("%s · %s", model->title, title);
  g_autofree char *keywords = g_strdup_printf ("%s, %s", BL_W (book, "Plant schedule"),
                                               BL_W (book, "Estimate"));
  BlPressSetup setup = { .title = running, .author = model->designer, .subject = title,
                         .keywords = keywords, .day = book->options->today,
                         .paper = book->options->paper, .running = running, .footer = footer };

  book->press = bl_press_new (path, &setup, error);
  if (book->press == NULL)
    return FALSE;
  if (book->options->cancellable != NULL)
    book->press->cancellable = g_object_ref (book->options->cancellable);
  book->press->progress = book->options->progress;
  book->press->progress_data = book->options->progress_data;
  return TRUE;
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
  double dots = MIN (PRINT_DPI, PRINT_DPI * 2000 / MAX (w, 1)) / 72;
  double k = fit * dots;
  cairo_surface_t *surface;
  cairo_t *cr;
  BlRect seen = { scene->extent.x0 + (dw - w / fit) / 2, scene->extent.y0 + (dh - h / fit) / 2, 0, 0 };
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

  if (book->image == NULL)
    {
      bl_book_plan (book, part, moment, box, before ? BL_SCENE_BARE : 0);
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

/* A bar of round lengths, black and white by turns. */
static void
draw_scale_bar (BlBook *book, double x, double y, double points_per_metre)
{
  gboolean feet = book->model->units == BL_UNITS_FEET;
  double unit = feet ? BL_METRES_PER_FOOT : 1;
  double steps[] = { 1, 2, 5, 10, 20, 50 };
  double step = steps[5];
  cairo_t *cr = book->press->cr;

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i] * unit * points_per_metre >= 26)
      {
        step = steps[i];
        break;
      }
  for (int i = 0; i < 4; i++)
    {
      double w = step * unit * points_per_metre;
      g_autofree char *label = g_strdup_printf (i == 3 ? (feet ? "%g ft" : "%g m") : "%g",
                                                step * (i + 1));

      cairo_rectangle (cr, x + i * w, y, w, 3.2);
      bl_press_color (book->press, bl_press_ink ());
      cairo_set_line_width (cr, 0.5);
      if (i % 2 == 0)
        cairo_fill_preserve (cr);
      cairo_stroke (cr);
      bl_press_set_plain (book->press, BL_TYPE_STYLE_SMALL, x + (i + 1) * w - 20, y + 5, 44,
                          BL_ALIGN_CENTRE, 1, label);
    }
}

static void
draw_north (BlBook *book, double x, double y)
{
  cairo_t *cr = book->press->cr;

  if (isnan (book->model->site.north))
    return;
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_rotate (cr, book->model->site.north * G_PI / 180);
  bl_press_color (book->press, bl_press_ink ());
  cairo_set_line_width (cr, 0.7);
  cairo_arc (cr, 0, 0, 9, 0, 2 * G_PI);
  cairo_stroke (cr);
  cairo_move_to (cr, 0, -13);
  cairo_line_to (cr, 4, 5);
  cairo_line_to (cr, 0, 2);
  cairo_close_path (cr);
  cairo_fill (cr);
  cairo_move_to (cr, 0, -13);
  cairo_line_to (cr, -4, 5);
  cairo_line_to (cr, 0, 2);
  cairo_close_path (cr);
  cairo_stroke (cr);
  cairo_restore (cr);
  bl_press_set_plain (book->press, BL_TYPE_STYLE_SMALL, x - 10, y + 12, 20, BL_ALIGN_CENTRE, 1,
                      "N");
}

/* What must be on the sheet: the beds with a margin for the plants that lean over. */
static BlRect
plan_window (const BlModel *model)
{
  BlRect rect = BL_RECT_EMPTY;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];

      if (bed->ring != NULL)
        rect = bl_rect_union (rect, bl_rect_of (bed->ring));
    }
  return bl_rect_is_empty (rect) ? bl_model_extent (model) : bl_rect_grow (rect, 0.9);
}

BlScale
bl_book_plan (BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box, guint scene_options)
{
  BlRect window = plan_window (book->model);
  double foot = 30;
  double w = box.x1 - box.x0, h = box.y1 - box.y0 - foot;
  BlScale scale = bl_scale_choose (window.x1 - window.x0, window.y1 - window.y0, w, h,
                                   book->model->units);
  double k = bl_scale_points_per_metre (scale);
  g_autoptr (BlScene) scene = bl_scene_new (BL_VIEW_PLAN, part->layout, NULL, moment,
                                            scene_options);
  BlPaintOptions paint = { .vector = TRUE };
  cairo_t *cr = book->press->cr;
  BlPoint middle = { (window.x0 + window.x1) / 2, (window.y0 + window.y1) / 2 };
  BlRect seen = { middle.x - w / 2 / k, middle.y - h / 2 / k, middle.x + w / 2 / k,
                  middle.y + h / 2 / k };
  g_autofree char *text = NULL;

  cairo_save (cr);
  cairo_rectangle (cr, box.x0, box.y0, w, h);
  cairo_clip (cr);
  cairo_translate (cr, box.x0 + w / 2, box.y0 + h / 2);
  cairo_scale (cr, k, k);
  cairo_translate (cr, -middle.x, middle.y);
  bl_scene_paint (scene, cr, seen, k * 300.0 / 72.0, &paint, NULL, NULL);
  cairo_restore (cr);
  draw_north (book, box.x1 - 18, box.y0 + 22);
  text = g_strdup_printf (BL_W (book, "Scale %s. Print at 100 %%."), scale.text);
  draw_scale_bar (book, box.x0, box.y1 - 20, k);
  bl_press_set_plain (book->press, BL_TYPE_STYLE_CAPTION, box.x1 - 220, box.y1 - 20, 220,
                      BL_ALIGN_RIGHT, 1, text);
  return scale;
}

char *
bl_book_money (const BlBook *book, gint64 minor)
{
  return bl_money_format (minor, book->model->currency);
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
