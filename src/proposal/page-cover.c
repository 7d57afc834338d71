/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cover: what is there today, what it can be, for whom and by whom, and what follows. */
#include "proposal/book.h"

#include <math.h>

static void
caption (BlBook *book, BlRect box, const char *text)
{
  bl_press_set_plain (book->press, BL_TYPE_STYLE_CAPTION, box.x0, box.y1 + 3, box.x1 - box.x0,
                      BL_ALIGN_LEFT, 1, text);
}

/* Returns the height used. */
static double
set_party (BlBook *book, double x, double y, double width, const char *label, const char *text)
{
  g_autofree char *upper = g_utf8_strup (label, -1);
  double height;

  if (text == NULL || *text == '\0')
    return 0;
  height
      = bl_press_set_plain (book->press, BL_TYPE_STYLE_LABEL, x, y, width, BL_ALIGN_LEFT, 1, upper);
  return height + 12
         + bl_press_set_plain (book->press, BL_TYPE_STYLE_BODY, x, y + height + 1, width,
                               BL_ALIGN_LEFT, 3, text);
}

/* The designer's mark, at most @width by @height, its upper right corner at (x, y). */
static void
set_mark (BlBook *book, double x, double y, double width, double height)
{
  g_autoptr (BlImage) mark = NULL;
  cairo_surface_t *surface;
  cairo_t *cr = book->press->cr;
  double k;

  if (book->options->mark == NULL || bl_press_is_dry (book->press))
    return;
  mark = bl_image_decode (book->options->mark, NULL, NULL);
  if (mark == NULL)
    return;
  k = MIN (width / mark->width, height / mark->height);
  surface = cairo_image_surface_create_for_data (mark->levels[0].data, CAIRO_FORMAT_ARGB32,
                                                 mark->levels[0].width, mark->levels[0].height,
                                                 mark->levels[0].stride);
  cairo_save (cr);
  cairo_translate (cr, x - mark->width * k, y);
  cairo_scale (cr, k, k);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_paint (cr);
  cairo_restore (cr);
  cairo_surface_destroy (surface);
}

/* Titles with the pages they stand on, each a link. */
static void
set_contents (BlBook *book, double x, double y, double width)
{
  BlPress *press = book->press;
  const GArray *marks = book->contents;
  g_autofree char *upper = g_utf8_strup (BL_W (book, "In this proposal"), -1);

  if (marks == NULL || marks->len < 3)
    return;
  y += bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, x, y, width, BL_ALIGN_LEFT, 1, upper) + 2;
  for (guint i = 1; i < marks->len && y < press->height - 52; i++)
    {
      const BlPressMark *mark = &g_array_index (marks, BlPressMark, i);
      g_autofree char *page = g_strdup_printf ("%d", mark->page);

      bl_press_set_plain (press, BL_TYPE_STYLE_TABLE, x, y, width - 24, BL_ALIGN_LEFT, 1,
                          mark->title);
      bl_press_set_plain (press, BL_TYPE_STYLE_TABLE, x + width - 22, y, 22, BL_ALIGN_RIGHT, 1,
                          page);
      bl_press_rule (press, x, x + width, y + 12.4, 0.3);
      bl_press_link (press, (BlRect) { x, y, x + width, y + 12 }, mark->page);
      y += 14;
    }
}

/* Below the picture: today on the left, who and when beside it, the contents in the last column. */
static void
set_lower (BlBook *book, const BlBookPart *part, double y)
{
  BlPress *press = book->press;
  double width = press->right - press->left, left = width * 0.36, gap = 20;
  double x = press->left + left + gap, column = (press->right - x - gap) * 0.44;
  double height = MIN (bl_book_picture_height (book, left), press->height - 60 - y);
  BlRect before = { press->left, y, press->left + left, y + height };
  g_autofree char *date = bl_book_date (book, book->options->today);

  bl_book_picture (book, part, (BlMoment) { part->best_month, 0 }, TRUE, before);
  caption (book, before, BL_W (book, "Today"));
  set_contents (book, x + column + gap, y, press->right - x - column - gap);
  y += set_party (book, x, y, column, BL_W (book, "Prepared for"), book->model->client);
  y += set_party (book, x, y, column, BL_W (book, "Prepared by"), book->model->designer);
  set_party (book, x, y, column, BL_W (book, "Date"), date);
}

void
bl_page_cover (BlBook *book)
{
  BlPress *press;
  const BlBookPart *part = bl_book_part (book, 0);
  double x, width, y = 62, mark = book->options->mark != NULL ? 110 : 0;
  g_autofree char *moment = g_strdup_printf (
      BL_W (book, "As proposed, %s, year %g"),
      bl_month_name (book->language, (int) part->best_month, FALSE), BL_BOOK_YEARS);
  BlRect after;

  bl_press_bare_page (book->press, BL_W (book, "Planting proposal"));
  press = book->press;
  x = press->left;
  width = press->right - press->left;
  set_mark (book, press->right, 48, 96, 54);
  y += bl_press_set_plain (press, BL_TYPE_STYLE_SUBHEAD, x, y, width - mark, BL_ALIGN_LEFT, 1,
                           BL_W (book, "Planting proposal")) + 2;
  y += bl_press_set_plain (press, BL_TYPE_STYLE_TITLE, x, y, width - (y < 100 ? mark : 0),
                           BL_ALIGN_LEFT, 2, book->model->title)
       + 4;
  if (book->model->place != NULL && *book->model->place != '\0')
    y += bl_press_set_plain (press, BL_TYPE_STYLE_BODY, x, y, width, BL_ALIGN_LEFT, 2,
                             book->model->place) + 4;
  y += 10;
  /* The lower part needs about a quarter of the page. */
  after = (BlRect) { x, y, x + width,
                     y + MIN (bl_book_picture_height (book, width), press->height * 0.73 - y) };
  bl_book_picture (book, part, (BlMoment) { part->best_month, BL_BOOK_YEARS }, FALSE, after);
  caption (book, after, moment);
  set_lower (book, part, after.y1 + 30);
}
