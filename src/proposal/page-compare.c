/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The alternatives side by side: pictures at one moment, and their figures below. */
#include "proposal/book.h"

static void
set_pictures (BlBook *book, double x, double width, double gap)
{
  BlPress *press = book->press;
  double month = bl_book_part (book, 0)->best_month;
  double height = bl_book_picture_height (book, width);

  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlBookPart *part = bl_book_part (book, i);
      double left = x + i * (width + gap);
      g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"),
                                               part->alternative->name);

      bl_press_set_plain (press, BL_TYPE_STYLE_SUBHEAD, left, press->y, width, BL_ALIGN_LEFT, 1,
                          name);
      bl_book_picture (book, part, (BlMoment) { month, BL_BOOK_YEARS }, FALSE,
                       (BlRect) { left, press->y + 21, left + width, press->y + 21 + height });
    }
  press->y += height + 34;
}

typedef char *(*FigureFunc) (const BlBook *book, const BlBookPart *part);

static char *
figure_price (const BlBook *book, const BlBookPart *part)
{
  return bl_book_money (book, part->estimate->total);
}

static char *
figure_plants (const BlBook *book, const BlBookPart *part)
{
  return g_strdup_printf ("%u", part->takeoff->n_plants);
}

static char *
figure_kinds (const BlBook *book, const BlBookPart *part)
{
  return g_strdup_printf ("%u", part->takeoff->n_kinds);
}

static char *
figure_months (const BlBook *book, const BlBookPart *part)
{
  guint n = 0;
  int first = 0, last = 0;

  for (int m = 1; m <= 12; m++)
    if (part->bloom_months & (1u << m))
      {
        first = first == 0 ? m : first;
        last = m;
        n++;
      }
  if (n == 0)
    return g_strdup ("0");
  return g_strdup_printf ("%u (%s–%s)", n, bl_month_name (book->language, first, TRUE),
                          bl_month_name (book->language, last, TRUE));
}

static char *
figure_evergreen (const BlBook *book, const BlBookPart *part)
{
  return g_strdup_printf ("%.0f %%", part->evergreen * 100);
}

static char *
figure_water (const BlBook *book, const BlBookPart *part)
{
  double litres = part->takeoff->water_first_season;

  if (book->model->units == BL_UNITS_FEET)
    return g_strdup_printf ("%.0f gal", litres / BL_LITRES_PER_US_GALLON);
  return g_strdup_printf ("%.0f L", litres);
}

static char *
figure_first (const BlBook *book, const BlBookPart *part)
{
  return g_strdup_printf (BL_W (book, "%.0f hours"), part->care->hours_first_year);
}

static char *
figure_later (const BlBook *book, const BlBookPart *part)
{
  return g_strdup_printf (BL_W (book, "%.0f hours"), part->care->hours_later);
}

static char *
figure_points (const BlBook *book, const BlBookPart *part)
{
  return g_strdup_printf ("%u", part->fit->findings->len);
}

void
bl_page_compare (BlBook *book)
{
  static const struct { const char *name; FigureFunc figure; } rows[] = {
    { "Price", figure_price }, { "Plants", figure_plants }, { "Kinds", figure_kinds },
    { "Months in flower", figure_months }, { "Evergreen share", figure_evergreen },
    { "Water, first season", figure_water }, { "Care, first year", figure_first },
    { "Care, later years", figure_later }, { "Points to check", figure_points },
  };
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree BlPressColumn *columns = g_new0 (BlPressColumn, book->parts->len + 1);
  double gap = 9, width;

  bl_press_page (press, BL_W (book, "Side by side"), BL_W (book, "Side by side"));
  width = (press->right - press->left - gap * (book->parts->len - 1)) / book->parts->len;
  set_pictures (book, press->left, width, gap);
  columns[0] = (BlPressColumn) { "", 1, BL_ALIGN_LEFT };
  for (guint i = 0; i < book->parts->len; i++)
    columns[i + 1] = (BlPressColumn) { bl_book_part (book, i)->alternative->name, 1, BL_ALIGN_RIGHT };
  for (guint r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      BlPressRow row = { BL_ROW_PLAIN, g_new0 (char *, book->parts->len + 2) };

      row.cells[0] = bl_book_escape (BL_W (book, rows[r].name));
      for (guint i = 0; i < book->parts->len; i++)
        {
          g_autofree char *figure = rows[r].figure (book, bl_book_part (book, i));

          row.cells[i + 1] = bl_book_escape (figure);
        }
      g_array_append_val (table->rows, row);
    }
  bl_press_table_set (press, table, columns, book->parts->len + 1, press->left,
                      press->right - press->left);
}
