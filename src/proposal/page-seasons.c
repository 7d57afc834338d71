/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The months and the years: four months at three ages. */
#include "proposal/book.h"

static void
set_grid (BlBook *book, const BlBookPart *part)
{
  static const double months[] = { 4.7, 6.5, 8.5, 11.0 };
  static const double years[] = { 1, 3, 5 };
  BlPress *press = book->press;
  double gap = 8;
  double width = (press->right - press->left - 2 * gap) / 3;
  double room = (bl_press_room (press) - 30) / 4;
  double height = MIN (book->image != NULL ? width * 0.95 : bl_book_picture_height (book, width),
                       room - 18);

  for (guint k = 0; k < G_N_ELEMENTS (years); k++)
    {
      g_autofree char *text = g_strdup_printf (BL_W (book, "Year %g"), years[k]);
      g_autofree char *upper = g_utf8_strup (text, -1);

      bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, press->left + k * (width + gap), press->y,
                          width, BL_ALIGN_LEFT, 1, upper);
    }
  press->y += 14;
  for (guint i = 0; i < G_N_ELEMENTS (months); i++)
    {
      for (guint k = 0; k < G_N_ELEMENTS (years); k++)
        {
          double x = press->left + k * (width + gap);
          BlRect box = { x, press->y, x + width, press->y + height };

          bl_book_picture_close (book, part, (BlMoment) { months[i], years[k] }, box);
        }
      bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, press->left, press->y + height + 2, width,
                          BL_ALIGN_LEFT, 1,
                          bl_month_name (book->language, (int) months[i], FALSE));
      press->y += height + 18;
    }
}

void
bl_page_seasons (BlBook *book)
{
  const BlBookPart *part = bl_book_part (book, 0);
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);

  bl_press_page (book->press, BL_W (book, "The months and the years"),
                 BL_W (book, "The months and the years"));
  bl_press_set_plain (book->press, BL_TYPE_STYLE_SUBHEAD, book->press->left, book->press->y - 4,
                      300, BL_ALIGN_LEFT, 1, name);
  book->press->y += 20;
  set_grid (book, part);
}
