/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The alternatives side by side: pictures at one moment, plans, months in flower, figures. */
#include "proposal/book.h"

#define GAP 10.0

static double
lane_width (const BlBook *book)
{
  return (book->press->right - book->press->left - GAP * (book->parts->len - 1)) / book->parts->len;
}

static double
lane_left (const BlBook *book, guint i)
{
  return book->press->left + i * (lane_width (book) + GAP);
}

static void
set_pictures (BlBook *book)
{
  BlPress *press = book->press;
  double month = bl_book_part (book, 0)->best_month, width = lane_width (book);
  double height = MIN (book->image != NULL ? width * 0.86 : bl_book_picture_height (book, width),
                       press->height * 0.24);

  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlBookPart *part = bl_book_part (book, i);
      double left = lane_left (book, i);
      g_autofree char *name
          = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
      BlRect box = { left, press->y + 22, left + width, press->y + 22 + height };

      bl_press_set_plain (press, BL_TYPE_STYLE_SUBHEAD, left, press->y, width, BL_ALIGN_LEFT, 1,
                          name);
      bl_press_link (press, (BlRect) { left, press->y, left + width, box.y1 },
                     bl_press_mark_page (book->contents, name));
      bl_book_picture_close (book, part, (BlMoment) { month, BL_BOOK_YEARS }, box);
    }
  press->y += height + 22 + 3;
  {
    g_autofree char *caption = g_strdup_printf (BL_W (book, "All in %s of year %g"),
                                                bl_month_name (book->language, (int) month, FALSE),
                                                BL_BOOK_YEARS);

    press->y += bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, press->left, press->y,
                                    press->right - press->left, BL_ALIGN_LEFT, 1, caption) + 8;
  }
}

/* The designer's words for each, as far as nine lines go. */
static void
set_ideas (BlBook *book)
{
  BlPress *press = book->press;
  double deepest = 0;

  for (guint i = 0; i < book->parts->len; i++)
    {
      const char *idea = bl_book_part (book, i)->alternative->idea;

      double height = idea != NULL && *idea != '\0'
                          ? bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, lane_left (book, i),
                                                press->y, lane_width (book), BL_ALIGN_LEFT, 9, idea)
                          : 0;

      deepest = MAX (deepest, height);
    }
  press->y += deepest + 10;
}

static void
set_plans (BlBook *book)
{
  BlPress *press = book->press;
  BlRect beds = bl_book_beds (book->model, 0.5);
  double width = lane_width (book), aspect = (beds.y1 - beds.y0) / MAX (beds.x1 - beds.x0, 0.1);
  double height = CLAMP (width * aspect, 40, press->height * 0.16);

  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlBookPart *part = bl_book_part (book, i);
      double left = lane_left (book, i);
      BlRect box = { left, press->y, left + width, press->y + height };

      bl_press_remember (press, box, box);
      bl_book_plan_sketch (book, part, (BlMoment) { part->best_month, BL_BOOK_YEARS }, box, FALSE);
      bl_book_year_strip (book, part, left, box.y1 + 8, width);
    }
  press->y += height + 30;
  press->y += bl_press_set_plain (
                  press, BL_TYPE_STYLE_CAPTION, press->left, press->y, press->right - press->left,
                  BL_ALIGN_LEFT, 1,
                  BL_W (book, "Plans not to scale; filled months have something in flower"))
              + 10;
}

/* A figure of the comparison: its text, and a number by which the best is known (NAN: none is). */
typedef struct
{
  char *text;
  double value;
} Figure;

typedef Figure (*FigureFunc) (const BlBook *book, const BlBookPart *part);

static Figure
figure_price (const BlBook *book, const BlBookPart *part)
{
  return (Figure) { bl_book_money (book, part->estimate->total), (double) part->estimate->total };
}

static Figure
figure_plants (const BlBook *book, const BlBookPart *part)
{
  return (Figure) { g_strdup_printf ("%u", part->takeoff->n_plants), NAN };
}

static Figure
figure_kinds (const BlBook *book, const BlBookPart *part)
{
  return (Figure) { g_strdup_printf ("%u", part->takeoff->n_kinds), NAN };
}

static Figure
figure_months (const BlBook *book, const BlBookPart *part)
{
  guint n = 0;

  for (int m = 1; m <= 12; m++)
    n += (part->bloom_months >> m) & 1u;
  return (Figure) { g_strdup_printf ("%u", n), -(double) n };
}

static Figure
figure_evergreen (const BlBook *book, const BlBookPart *part)
{
  double share = part->evergreen * 100;

  return (Figure) { g_strdup_printf ("%.0f %%", share), -round (share) };
}

static Figure
figure_water (const BlBook *book, const BlBookPart *part)
{
  double litres = part->takeoff->water_first_season;

  if (book->model->units == BL_UNITS_FEET)
    return (Figure) { g_strdup_printf ("%.0f gal", litres / BL_LITRES_PER_US_GALLON),
                      round (litres / BL_LITRES_PER_US_GALLON) };
  return (Figure) { g_strdup_printf ("%.0f L", litres), round (litres) };
}

static Figure
figure_first (const BlBook *book, const BlBookPart *part)
{
  return (Figure) { g_strdup_printf (BL_W (book, "%.0f hours"), part->care->hours_first_year),
                    round (part->care->hours_first_year) };
}

static Figure
figure_later (const BlBook *book, const BlBookPart *part)
{
  return (Figure) { g_strdup_printf (BL_W (book, "%.0f hours"), part->care->hours_later),
                    round (part->care->hours_later) };
}

static guint
count_findings (const BlBookPart *part, BlSeverity severity)
{
  guint n = 0;

  for (guint i = 0; i < part->fit->findings->len; i++)
    n += g_array_index (part->fit->findings, BlFinding, i).severity == severity;
  return n;
}

static Figure
figure_grave (const BlBook *book, const BlBookPart *part)
{
  guint n = count_findings (part, BL_SEVERITY_DO_NOT) + count_findings (part, BL_SEVERITY_UNLIKELY);

  return (Figure) { g_strdup_printf ("%u", n), n };
}

static Figure
figure_cautions (const BlBook *book, const BlBookPart *part)
{
  guint n = count_findings (part, BL_SEVERITY_CAUTION);

  return (Figure) { g_strdup_printf ("%u", n), n };
}

/* The best of a row is bold behind a dot, so that it shows without colour; nothing is marked where
 * all are alike. */
static char **
cells_of (const BlBook *book, const char *name, FigureFunc figure)
{
  guint n = book->parts->len;
  g_autofree Figure *figures = g_new (Figure, n);
  char **cells = g_new0 (char *, n + 2);
  double best = INFINITY, worst = -INFINITY;

  cells[0] = bl_book_escape (BL_W (book, name));
  for (guint i = 0; i < n; i++)
    {
      figures[i] = figure (book, bl_book_part (book, i));
      best = fmin (best, figures[i].value);
      worst = fmax (worst, figures[i].value);
    }
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *text = bl_book_escape (figures[i].text);

      cells[i + 1] = best < worst && figures[i].value <= best
                         ? g_strdup_printf ("<b>● %s</b>", text)
                         : g_strdup (text);
      g_free (figures[i].text);
    }
  return cells;
}

void
bl_page_compare (BlBook *book)
{
  static const struct { const char *name; FigureFunc figure;
  } rows[] = {
    { "Price", figure_price },
    { "Plants", figure_plants },
    { "Kinds", figure_kinds },
    { "Months in flower", figure_months },
    { BL_SAID ("Evergreen share of the plants"), figure_evergreen },
    { "Water, first season", figure_water },
    { BL_SAID ("Care, first year"), figure_first },
    { BL_SAID ("Care, later years"), figure_later },
    { BL_SAID ("Plants and places that will not do well"), figure_grave },
    { BL_SAID ("Points to check"), figure_cautions },
  };
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree BlPressColumn *columns = g_new0 (BlPressColumn, book->parts->len + 1);

  bl_press_page (press, BL_W (book, "Side by side"), BL_W (book, "Side by side"));
  set_pictures (book);
  set_ideas (book);
  set_plans (book);
  columns[0] = (BlPressColumn) { "", 1.5, BL_ALIGN_LEFT };
  for (guint i = 0; i < book->parts->len; i++)
    columns[i + 1]
        = (BlPressColumn){ bl_book_part (book, i)->alternative->name, 1, BL_ALIGN_RIGHT };
  for (guint r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      BlPressRow row = { BL_ROW_PLAIN, cells_of (book, rows[r].name, rows[r].figure) };

      g_array_append_val (table->rows, row);
    }
  bl_press_table_set (press, table, columns, book->parts->len + 1, press->left,
                      press->right - press->left);
  bl_press_flow_plain (
      press, BL_TYPE_STYLE_SMALL, press->left, press->right - press->left,
      BL_W (book, "● marks the best figure of a row. Which row counts most, you decide."));
}
