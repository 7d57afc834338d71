/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The owner's care sheet: one page in large type, the first summer's watering first. */
#include "proposal/book.h"

#include "base/error.h"

/* What is left at the foot for the last line. */
#define LAST 26.0

static double
set_line (BlBook *book, BlTypeStyle style, double x, double width, int most_lines, const char *markup)
{
  BlPress *press = book->press;
  double height = bl_press_set (press, style, x, press->y, width, BL_ALIGN_LEFT, most_lines, markup);

  press->y += height;
  return height;
}

/* When in bold on the left, what to its right; FALSE when there is no room for another. */
static gboolean
set_row (BlBook *book, BlTypeStyle style, const char *when, const char *what, const char *how)
{
  BlPress *press = book->press;
  double when_width = 128, x = press->left + when_width + 10, width = press->right - x;
  double need = bl_press_measure (press, style, width, what)
                + (how != NULL ? bl_press_measure (press, BL_TYPE_STYLE_BODY, width, how) : 0);
  g_autofree char *escaped = bl_book_escape (when);
  g_autofree char *bold = g_strdup_printf ("<b>%s</b>", escaped);

  need = MIN (need, style == BL_TYPE_STYLE_BIG ? 72 : 44);
  if (bl_press_room (press) - LAST < need)
    return FALSE;
  bl_press_set (press, style, press->left, press->y, when_width, BL_ALIGN_LEFT, 1, bold);
  set_line (book, style, x, width, 2, what);
  if (how != NULL)
    set_line (book, BL_TYPE_STYLE_BODY, x, width, 2, how);
  press->y += 4;
  bl_press_rule (press, press->left, press->right, press->y, 0.3);
  press->y += 4;
  return TRUE;
}

static void
set_watering (BlBook *book, GPtrArray *rows)
{
  bl_press_subhead (book->press, BL_W (book, "Water in the first summer"));
  for (guint i = 0; i < rows->len; i++)
    {
      const BlCareRow *row = rows->pdata[i];
      g_autofree char *span = NULL;
      g_autofree char *verb = NULL;
      g_autofree char *how = NULL;

      if (!row->water || row->hours[0] <= 0)
        continue;
      span = bl_book_care_span (book, row);
      verb = bl_book_escape (row->verb);
      how = bl_book_escape (bl_book_how (book, row->first->what));
      set_row (book, BL_TYPE_STYLE_BIG, span, verb, how);
    }
}

/* Work of the later years, month by month; in the planting year only what is done every year too. */
static guint
set_round (BlBook *book, GPtrArray *rows)
{
  BlTypeStyle style = rows->len > 16 ? BL_TYPE_STYLE_BODY : BL_TYPE_STYLE_BIG;
  guint left_out = 0;

  bl_press_subhead (book->press, BL_W (book, "The yearly round"));
  for (guint i = 0; i < rows->len; i++)
    {
      const BlCareRow *row = rows->pdata[i];
      g_autofree char *span = NULL;
      g_autofree char *what = NULL;

      if (row->hours[4] <= 0)
        continue;
      span = bl_book_care_span (book, row);
      what = bl_book_care_markup (book, row);
      if (left_out > 0 || !set_row (book, style, span, what, NULL))
        left_out++;
    }
  return left_out;
}

static gboolean
set_pages (BlBook *book, GError **error)
{
  BlPress *press = book->press;
  g_autoptr (GPtrArray) rows = bl_book_care_rows (book, bl_book_part (book, 0));
  g_autofree char *sub = NULL;
  g_autofree char *last = NULL;
  guint left_out;

  bl_press_page (press, BL_W (book, "Care of the new bed"), BL_W (book, "Care of the new bed"));
  sub = g_strdup_printf ("%s · %s", book->model->title, bl_book_part (book, 0)->alternative->name);
  press->y -= 4;
  press->y += bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, press->left, press->y,
                                  press->right - press->left, BL_ALIGN_LEFT, 1, sub);
  set_watering (book, rows);
  left_out = set_round (book, rows);
  last = left_out > 0
             ? g_strdup_printf (BL_W (book, "%u more tasks stand in the calendar of the proposal."), left_out)
             : g_strdup (BL_W (book, "Dates follow the usual frosts; go by the weather of the year."));
  bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, press->left, press->bottom - 12,
                      press->right - press->left, BL_ALIGN_LEFT, 1, last);
  return TRUE;
}

gboolean
bl_care_sheet_write (BlModel *model, const char *path, const BlProposalOptions *options,
                     GError **error)
{
  g_autoptr (BlBook) book = bl_book_new (model, NULL, options, error);

  return book != NULL
         && bl_book_print (book, path, bl_word (book->language, "Care of the new bed"), set_pages, error);
}
