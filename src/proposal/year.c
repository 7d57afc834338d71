/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bloom through the year: a ribbon a kind, its name beside it, months without flowers shaded. */
#include "draw/chart.h"
#include "proposal/book.h"

#define HEAD 14.0
#define FOOT 13.0

/* The months between the first and the last flowers of the growing season that have none. */
static gboolean
is_gap (guint months, int m)
{
  int first = 0, last = 0;

  for (int i = 1; i <= 12; i++)
    if (months & (1u << i))
      {
        first = first != 0 ? first : i;
        last = i;
      }
  return first > 0 && m >= MIN (first, 4) && m <= MAX (last, 9) && !(months & (1u << m));
}

static gboolean
has_gap (guint months)
{
  for (int m = 1; m <= 12; m++)
    if (is_gap (months, m))
      return TRUE;
  return FALSE;
}

double
bl_book_year_height (const BlBookPart *part, double row)
{
  return HEAD + row * part->takeoff->n_kinds + (has_gap (part->bloom_months) ? FOOT : 4);
}

static void
set_months (BlBook *book, const BlBookPart *part, double x, double y, double width, double bottom)
{
  BlPress *press = book->press;

  for (int m = 1; m <= 12; m++)
    {
      double left = x + (m - 1) * width / 12;
      const char *name = bl_month_name (book->language, m, TRUE);
      g_autofree char *initial = g_utf8_substring (name, 0, 1);
      g_autofree char *upper = g_utf8_strup (initial, -1);

      if (is_gap (part->bloom_months, m))
        {
          cairo_rectangle (press->cr, left, y + HEAD - 2, width / 12, bottom - y - HEAD + 2);
          cairo_set_source_rgba (press->cr, 0.88, 0.62, 0.25, 0.22);
          cairo_fill (press->cr);
        }
      bl_press_color (press, bl_press_hair ());
      cairo_set_line_width (press->cr, 0.35);
      cairo_move_to (press->cr, left, y + HEAD - 2);
      cairo_line_to (press->cr, left, bottom);
      cairo_stroke (press->cr);
      bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, left, y + 1, width / 12, BL_ALIGN_CENTRE, 1,
                          upper);
    }
}

/* Rows @from up to @to, with the months above them. */
static void
set_rows (BlBook *book, const BlBookPart *part, const GPtrArray *kinds, guint from, guint to,
          double row)
{
  BlPress *press = book->press;
  double names = (press->right - press->left) * 0.34, x = press->left + names + 8;
  double width = press->right - x, y = press->y + HEAD, bottom = y + row * (to - from);
  double best = x + (part->best_month - 1) / 12 * width;

  if (!bl_press_is_dry (press))
    set_months (book, part, x, press->y, width, bottom);
  for (guint i = from; i < to; i++)
    {
      g_autofree char *name = bl_plant_name_markup (kinds->pdata[i]);
      double top = y + (i - from) * row;

      bl_press_set (press, BL_TYPE_STYLE_TIGHT, press->left, top + (row - 9) / 2, names,
                    BL_ALIGN_LEFT, 1, name);
      bl_press_remember (press, (BlRect) { x, top, press->right, top + row },
                         (BlRect) { x, top + row * 0.14, press->right, top + row * 0.86 });
      if (bl_press_is_dry (press))
        continue;
      cairo_save (press->cr);
      cairo_translate (press->cr, x, top + 0.14 * row);
      bl_chart_ribbon (press->cr, kinds->pdata[i], &book->model->site, width, row * 0.72, 0);
      cairo_restore (press->cr);
    }
  bl_press_color (press, bl_press_ink ());
  cairo_set_line_width (press->cr, 0.8);
  cairo_move_to (press->cr, best, y - 2);
  cairo_line_to (press->cr, best, bottom + 1);
  cairo_stroke (press->cr);
  press->y = bottom;
}

void
bl_book_year (BlBook *book, const BlBookPart *part, double row)
{
  BlPress *press = book->press;
  g_autoptr (GPtrArray) kinds = bl_layout_kinds (part->layout);
  gboolean note = has_gap (part->bloom_months);
  double x = press->left + (press->right - press->left) * 0.34 + 8;

  for (guint from = 0; from < kinds->len;)
    {
      double room = bl_press_room (press) - HEAD - (note ? FOOT : 4);
      guint n = MAX ((guint) MAX (room / row + 1e-6, 1), 1), to = MIN (from + n, kinds->len);

      set_rows (book, part, kinds, from, to, row);
      from = to;
      if (from < kinds->len)
        bl_press_page (press, NULL, NULL);
    }
  if (note)
    bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, x, press->y + 2, press->right - x,
                        BL_ALIGN_LEFT, 1,
                        BL_W (book, "Shaded: a month of the growing season without flowers."));
  press->y += note ? FOOT : 4;
}

void
bl_book_year_strip (BlBook *book, const BlBookPart *part, double x, double y, double width)
{
  BlPress *press = book->press;
  double cell = width / 12;

  for (int m = 1; m <= 12; m++)
    {
      const char *name = bl_month_name (book->language, m, TRUE);
      g_autofree char *initial = g_utf8_substring (name, 0, 1);
      g_autofree char *upper = g_utf8_strup (initial, -1);

      cairo_rectangle (press->cr, x + (m - 1) * cell + 0.7, y, cell - 1.4, 7);
      bl_press_color (press,
                      part->bloom_months & (1u << m) ? bl_press_accent () : bl_press_hair ());
      cairo_set_line_width (press->cr, 0.5);
      if (part->bloom_months & (1u << m))
        cairo_fill_preserve (press->cr);
      cairo_stroke (press->cr);
      bl_press_set_plain (press, BL_TYPE_STYLE_TIGHT, x + (m - 1) * cell, y + 8, cell,
                          BL_ALIGN_CENTRE, 1, upper);
    }
}
