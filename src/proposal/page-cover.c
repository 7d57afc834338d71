/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cover: what is there today, what it can be, for whom and by whom. */
#include "proposal/book.h"

#include <math.h>

static void
caption (BlBook *book, BlRect box, const char *text)
{
  bl_press_set_plain (book->press, BL_TYPE_STYLE_CAPTION, box.x0, box.y1 + 3, box.x1 - box.x0,
                      BL_ALIGN_LEFT, 1, text);
}

static void
set_party (BlBook *book, double x, double y, double width, const char *label, const char *text)
{
  g_autofree char *upper = g_utf8_strup (label, -1);

  if (text == NULL || *text == '\0')
    return;
  y += bl_press_set_plain (book->press, BL_TYPE_STYLE_LABEL, x, y, width, BL_ALIGN_LEFT, 1, upper);
  bl_press_set_plain (book->press, BL_TYPE_STYLE_BODY, x, y + 1, width, BL_ALIGN_LEFT, 2, text);
}

static char *
long_date (const BlBook *book)
{
  int year, month, day;

  bl_day_split (book->options->today, &year, &month, &day);
  if (g_strcmp0 (book->language, "es") == 0)
    return g_strdup_printf ("%d de %s de %d", day, bl_month_name ("es", month, FALSE), year);
  return g_strdup_printf ("%d %s %d", day, bl_month_name ("en", month, FALSE), year);
}

void
bl_page_cover (BlBook *book)
{
  BlPress *press = book->press;
  const BlBookPart *part = bl_book_part (book, 0);
  double x = press->left, width = press->right - press->left, y = 62;
  double title_height, third = width / 3;
  double after_height = MIN (bl_book_picture_height (book, width), press->height * 0.46);
  double before_height = MIN (bl_book_picture_height (book, width * 0.36), press->height * 0.18);
  g_autofree char *date = long_date (book);
  g_autofree char *moment = NULL;
  BlRect after, before;

  bl_press_bare_page (press, BL_W (book, "Planting proposal"));
  y += bl_press_set_plain (press, BL_TYPE_STYLE_SUBHEAD, x, y, width, BL_ALIGN_LEFT, 1,
                           BL_W (book, "Planting proposal")) + 2;
  title_height = bl_press_set_plain (press, BL_TYPE_STYLE_TITLE, x, y, width, BL_ALIGN_LEFT, 2,
                                     book->model->title);
  y += title_height + 4;
  if (book->model->place != NULL && *book->model->place != '\0')
    y += bl_press_set_plain (press, BL_TYPE_STYLE_BODY, x, y, width, BL_ALIGN_LEFT, 2,
                             book->model->place) + 4;
  y += 10;
  after = (BlRect) { x, y, x + width, y + after_height };
  bl_book_picture (book, part, (BlMoment) { part->best_month, BL_BOOK_YEARS }, FALSE, after);
  moment = g_strdup_printf (BL_W (book, "As proposed, %s, year %g"),
                            bl_month_name (book->language, (int) part->best_month, FALSE),
                            BL_BOOK_YEARS);
  caption (book, after, moment);
  y = after.y1 + 26;
  before = (BlRect) { x, y, x + width * 0.36, y + before_height };
  bl_book_picture (book, part, (BlMoment) { part->best_month, 0 }, TRUE, before);
  caption (book, before, BL_W (book, "Today"));
  x += width * 0.36 + 22;
  third = (press->right - x - 16) / 2;
  set_party (book, x, y, third, BL_W (book, "Prepared for"), book->model->client);
  set_party (book, x + third + 16, y, third, BL_W (book, "Prepared by"), book->model->designer);
  set_party (book, x, y + 52, third, BL_W (book, "Date"), date);
}
