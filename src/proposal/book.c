/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The papers' common ground: alternatives computed, pictures and plans placed on the page. */
#include "config.h"

#include "proposal/book.h"

#include <cairo.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "draw/chart.h"
#include "draw/key.h"


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

      if (!bl_season_bloom (&layout->model->site, plant, &from, &to))
        continue;
      for (int m = 1; m <= 12; m++)
        if (bl_months_include ((int) floor (from), (int) floor (to > 13 ? to - 12.01 : to - 0.01), m))
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
  part.takeoff = bl_takeoff_compute (part.layout, book->language);
  part.estimate = bl_estimate_compute (part.takeoff);
  part.care = bl_care_compute (part.layout, book->options->today, book->language);
  part.best_month = find_best_month (part.layout);
  part.bloom_months = bl_layout_bloom_months (part.layout);
  part.evergreen = evergreen_share (part.layout);
  part.fit = bl_fit_check (part.layout, book->options->library, book->language, error);
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
                   _("this design has no alternative yet; compose one before writing papers."));
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
                       _("an alternative chosen for the papers is not in the design any more."));
          return FALSE;
        }
      if (!add_part (book, alternative, error))
        return FALSE;
    }
  return TRUE;
}

static void
take_text (char **text, const char *from)
{
  g_free (*text);
  *text = g_strdup (from);
}

/* The papers may speak in other units than the design is drawn in. */
static BlModel *
model_in_units (BlModel *model, const char *name, GError **error)
{
  BlUnits units;
  BlModel *other;

  if (name == NULL)
    return bl_model_ref (model);
  if (!bl_units_from_name (name, &units, error))
    return NULL;
  if (units == model->units)
    return bl_model_ref (model);
  /* A variant is for figures; it leaves the texts behind. */
  other = bl_model_variant (model, NULL, NULL);
  other->units = units;
  take_text (&other->title, model->title);
  take_text (&other->client, model->client);
  take_text (&other->place, model->place);
  take_text (&other->designer, model->designer);
  take_text (&other->notes, model->notes);
  return other;
}

BlBook *
bl_book_new (BlModel *model, GBytes *photo, const BlProposalOptions *options, GError **error)
{
  g_autoptr (BlBook) book = g_new0 (BlBook, 1);

  book->model = model_in_units (model, options->units, error);
  if (book->model == NULL)
    return NULL;
  book->options = options;
  book->designer = model->designer != NULL && *model->designer != '\0' ? model->designer
                                                                      : options->designer;
  book->language = options->language != NULL ? options->language : model->language;
  book->cache = bl_figure_cache_new (96 * 1024 * 1024);
  book->parts = g_array_new (FALSE, TRUE, sizeof (BlBookPart));
  g_array_set_clear_func (book->parts, part_clear);
  if (options->mark != NULL)
    {
      book->mark = bl_mark_read (options->mark, error);
      if (book->mark == NULL)
        return NULL;
    }
  if (photo != NULL && bl_model_camera (model) != NULL)
    {
      book->image = bl_image_decode (photo, options->cancellable, error);
      if (book->image == NULL)
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
  g_clear_pointer (&book->contents, g_array_unref);
  g_clear_pointer (&book->mark, bl_mark_free);
  g_clear_pointer (&book->model, bl_model_unref);
  g_free (book);
}

gboolean
bl_book_open (BlBook *book, const char *path, const char *title, GError **error)
{
  BlModel *model = book->model;
  g_autofree char *day = bl_book_date (book, book->options->today);
  gboolean named = book->designer != NULL && *book->designer != '\0';
  g_autofree char *footer = g_strdup_printf ("%s%s%s", named ? book->designer : "",
                                             named ? " · " : "", day);
  g_autofree char *running = g_strdup_printf ("%s · %s", model->title, title);
  g_autofree char *keywords = g_strdup_printf ("%s, %s", BL_W (book, "Plant schedule"),
                                               BL_W (book, "Estimate"));
  BlPressSetup setup = { .title = running, .author = book->designer, .subject = title,
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
                   _("none of the chosen pages has anything to show; choose others."));
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
  BlRect beds = bl_book_beds (book->model, 0.5);

  if (book->image != NULL)
    return width * book->image->height / book->image->width;
  return width * CLAMP ((beds.y1 - beds.y0) / MAX (beds.x1 - beds.x0, 0.1), 0.28, 0.62);
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
  return bl_plant_common (plant, book->language);
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
