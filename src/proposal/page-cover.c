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
  double w;

  if (book->mark == NULL)
    return;
  w = MIN (width, height * bl_mark_aspect (book->mark));
  bl_press_remember (book->press, (BlRect) { x - width, y, x, y + height },
                     (BlRect) { x - w, y, x, y + w / bl_mark_aspect (book->mark) });
  if (!bl_press_is_dry (book->press))
    bl_mark_draw (book->mark, book->press->cr, x - w, y, w);
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

/* The last quarter: today on the left, who and when beside it, the contents in the last column. */
static void
set_lower (BlBook *book, const BlBookPart *part, double y)
{
  BlPress *press = book->press;
  double width = press->right - press->left, left = width * 0.36, gap = 20;
  double x = press->left + left + gap, column = (press->right - x - gap) * 0.44;
  double height = MIN (bl_book_picture_height (book, left), press->height - 54 - y);
  BlRect before = { press->left, y, press->left + left, y + height };
  g_autofree char *date = bl_book_date (book, book->options->today);

  bl_book_picture_before (book, part, before);
  caption (book, before, BL_W (book, "Today"));
  set_contents (book, x + column + gap, y, press->right - x - column - gap);
  y += set_party (book, x, y, column, BL_W (book, "Prepared for"), book->model->client);
  y += set_party (book, x, y, column, BL_W (book, "Prepared by"), book->designer);
  set_party (book, x, y, column, BL_W (book, "Date"), date);
}

/* The picture as it is proposed, from edge to edge of the sheet. */
static double
set_hero (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autofree char *moment = g_strdup_printf (
      BL_W (book, "As proposed, %s, year %g"),
      bl_month_name (book->language, (int) part->best_month, FALSE), BL_BOOK_YEARS);
  BlRect hero = { 0, 0, press->width,
                  MIN (bl_book_picture_height (book, press->width), press->height * 0.53) };

  bl_book_picture (book, part, (BlMoment) { part->best_month, BL_BOOK_YEARS }, hero);
  bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, press->left, hero.y1 + 4,
                      press->right - press->left, BL_ALIGN_RIGHT, 1, moment);
  return hero.y1;
}

void
bl_page_cover (BlBook *book)
{
  BlPress *press;
  const BlBookPart *part = bl_book_part (book, 0);
  double x, width, y, mark = book->mark != NULL ? 112 : 0;

  bl_press_bare_page (book->press, BL_W (book, "Planting proposal"));
  press = book->press;
  x = press->left;
  width = press->right - press->left;
  y = set_hero (book, part) + 24;
  set_mark (book, press->right, y + 6, 96, 54);
  y += bl_press_set_plain (press, BL_TYPE_STYLE_SUBHEAD, x, y, width - mark, BL_ALIGN_LEFT, 1,
                           BL_W (book, "Planting proposal")) + 1;
  y += bl_press_set_plain (press, BL_TYPE_STYLE_TITLE, x, y, width - mark, BL_ALIGN_LEFT, 2,
                           book->model->title)
       + 3;
  if (book->model->place != NULL && *book->model->place != '\0')
    y += bl_press_set_plain (press, BL_TYPE_STYLE_BODY, x, y, width - mark, BL_ALIGN_LEFT, 1,
                             book->model->place) + 4;
  set_lower (book, part, MAX (y + 12, MIN (press->height - 54 - 148, y + 150)));
}
