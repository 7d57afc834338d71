/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One alternative: the picture at its best month, the idea, the palette, the plan, the year. */
#include "proposal/book.h"

#include <string.h>

#include "draw/chart.h"
#include "draw/figure.h"

/* The kinds of a part in the order of its plant counts, each once. */
static GPtrArray *
kinds_of (const BlBookPart *part)
{
  GPtrArray *kinds = g_ptr_array_new ();

  for (guint i = 0; i < part->takeoff->counts->len; i++)
    {
      BlPlant *plant = g_array_index (part->takeoff->counts, BlPlantCount, i).plant;

      if (!g_ptr_array_find (kinds, plant, NULL))
        g_ptr_array_add (kinds, plant);
    }
  return kinds;
}

static guint
count_of (const BlBookPart *part, const BlPlant *plant)
{
  guint n = 0;

  for (guint i = 0; i < part->takeoff->counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (part->takeoff->counts, BlPlantCount, i);

      if (count->plant == plant)
        n += count->count;
    }
  return n;
}

/* A figure standing on the lower edge of a box, as tall as fits. */
static void
set_figure (BlBook *book, const BlPlant *plant, BlMoment moment, BlRect box)
{
  BlLook look = bl_season_look (&book->model->site, plant, NULL, moment);
  BlFigureLight light = { -0.5, 1, { 1, 1, 1, 1 } };
  BlRect extent = bl_figure_box (plant, &look);
  double w = MAX (extent.x1 - extent.x0, 0.02), h = MAX (extent.y1 - extent.y0, 0.02);
  double k = MIN ((box.x1 - box.x0) / w, (box.y1 - box.y0) / h);
  cairo_t *cr = book->press->cr;

  cairo_save (cr);
  cairo_translate (cr, (box.x0 + box.x1) / 2 - (extent.x0 + extent.x1) / 2 * k,
                   box.y1 - extent.y1 * k);
  cairo_scale (cr, k, k);
  bl_figure_draw (cr, plant, &look, 7, &light, k * 150 / 72);
  cairo_restore (cr);
}

/* The month in which a plant looks like itself: mid bloom, or high summer. */
static BlMoment
showing_moment (const BlBook *book, const BlPlant *plant)
{
  double from, to;
  BlMoment moment = { 7.5, MAX (plant->years, 3) };

  if (bl_season_bloom (&book->model->site, plant, &from, &to))
    {
      moment.month = (from + (to < from ? to + 12 : to)) / 2;
      if (moment.month >= 13)
        moment.month -= 12;
    }
  return moment;
}

/* How the palette stands on a page: columns, and the height of a figure. */
typedef struct
{
  guint per_row, rows;
  double figure;
} Palette;

#define NAMES 50.0 /* points below a figure */
#define GUTTER 8.0

static double
palette_height (Palette palette)
{
  return 32 + palette.rows * (palette.figure + NAMES + GUTTER);
}

/* Figures as high as the room lets them be, within what still looks well. */
static Palette
fit_palette (guint n, double room)
{
  Palette palette = { n <= 15 ? 5 : n <= 24 ? 6 : 7, 0, 0 };

  palette.rows = (MAX (n, 1) + palette.per_row - 1) / palette.per_row;
  palette.figure = CLAMP ((room - 32) / palette.rows - NAMES - GUTTER, 56, 108);
  return palette;
}

static void
set_kind (BlBook *book, const BlBookPart *part, const BlPlant *plant, double x, double width,
          double figure)
{
  BlPress *press = book->press;
  g_autofree char *name = bl_plant_name_markup (plant);
  g_autofree char *key = bl_book_key (part, plant->slug);
  g_autofree char *line = g_strdup_printf ("%s × %u", key, count_of (part, plant));
  double y = press->y + figure + 3;
  BlRect room = { x + 4, press->y + 4, x + width - 4, press->y + figure - 2 };

  bl_press_remember (press, room, room);
  if (!bl_press_is_dry (press))
    set_figure (book, plant, showing_moment (book, plant), room);
  bl_press_rule (press, x, x + width, press->y + figure, 0.5);
  bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, x, y, width, BL_ALIGN_LEFT, 1, line);
  y += 10;
  y += bl_press_set (press, BL_TYPE_STYLE_SMALL, x, y, width, BL_ALIGN_LEFT, 2, name);
  bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, x, y, width, BL_ALIGN_LEFT,
                      y - press->y - figure < 28 ? 2 : 1, bl_book_common (book, plant));
}

static void
set_palette (BlBook *book, const BlBookPart *part, Palette palette)
{
  BlPress *press = book->press;
  g_autoptr (GPtrArray) kinds = kinds_of (part);
  double gap = 11, width;

  if (kinds->len == 0)
    return;
  width = (press->right - press->left - gap * (palette.per_row - 1)) / palette.per_row;
  bl_press_subhead (press, BL_W (book, "Palette"));
  for (guint i = 0; i < kinds->len; i++)
    {
      double step = palette.figure + NAMES + GUTTER;

      if (i % palette.per_row == 0 && i > 0)
        press->y += step;
      if (i % palette.per_row == 0)
        bl_press_need (press, step - GUTTER);
      set_kind (book, part, kinds->pdata[i], press->left + (i % palette.per_row) * (width + gap),
                width, palette.figure);
    }
  press->y += palette.figure + NAMES + GUTTER;
}

static double
year_height (const BlBookPart *part, double row)
{
  return 38 + bl_book_year_height (part, row);
}

static void
set_price_line (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autofree char *total = bl_book_money (book, part->estimate->total);
  g_autofree char *low = bl_book_money (book, part->estimate->total_low);
  g_autofree char *high = bl_book_money (book, part->estimate->total_high);
  g_autofree char *range
      = g_strdup_printf (BL_W (book, "%s to %s, by the measured area"), low, high);
  g_autofree char *plants = g_strdup_printf ("%u", part->takeoff->n_plants);
  g_autofree char *kinds = g_strdup_printf ("%u", part->takeoff->n_kinds);
  struct { const char *label; const char *value; double share; } cells[] = {
    { BL_W (book, "Plants"), plants, 0.16 }, { BL_W (book, "Kinds"), kinds, 0.16 },
    { BL_W (book, "Price"), total, 0.28 } };
  double x = press->left, width = press->right - press->left;

  bl_press_need (press, 56);
  press->y += 6;
  bl_press_rule (press, press->left, press->right, press->y, 0.8);
  press->y += 7;
  for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      g_autofree char *upper = g_utf8_strup (cells[i].label, -1);

      bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, x, press->y, width * cells[i].share,
                          BL_ALIGN_LEFT, 1, upper);
      bl_press_set_plain (press, BL_TYPE_STYLE_FIGURE, x, press->y + 9, width * cells[i].share,
                          BL_ALIGN_LEFT, 1, cells[i].value);
      x += width * cells[i].share;
    }
  bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, x, press->y + 16, press->right - x,
                      BL_ALIGN_LEFT, 2, range);
  press->y += 40;
}

#define MANY 18        /* kinds: more have the year on a page of their own */
#define LEAST_ROW 9.0  /* points */

/* Bloom through the year with rows as high as @room lets them be. */
static void
set_year (BlBook *book, const BlBookPart *part, double room)
{
  BlPress *press = book->press;
  gboolean many = part->takeoff->n_kinds > MANY;
  double row;

  if (many || bl_press_need (press, year_height (part, LEAST_ROW)))
    {
      if (many)
        bl_press_page (press, NULL, NULL);
      room = bl_press_room (press);
    }
  row = (room - year_height (part, 0) - 4) / MAX (part->takeoff->n_kinds, 1);
  bl_press_subhead (press, BL_W (book, "Through the year"));
  bl_book_year (book, part, CLAMP (row, many ? 12 : LEAST_ROW, many ? 15 : 14));
}

static double
idea_height (BlBook *book, const BlBookPart *part, double width)
{
  g_autofree char *markup = bl_book_escape (part->alternative->idea);

  if (*markup == '\0')
    return 0;
  return 32 + bl_press_measure (book->press, BL_TYPE_STYLE_BODY, width, markup);
}

static void
set_picture (BlBook *book, const BlBookPart *part, double height)
{
  BlPress *press = book->press;
  BlRect box = { press->left, press->y, press->right, press->y + height };
  g_autofree char *best = g_strdup_printf (
      BL_W (book, "As proposed, %s, year %g"),
      bl_month_name (book->language, (int) part->best_month, FALSE), BL_BOOK_YEARS);

  bl_book_picture (book, part, (BlMoment) { part->best_month, BL_BOOK_YEARS }, box);
  press->y = box.y1 + 3;
  press->y += bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, press->left, press->y,
                                  press->right - press->left, BL_ALIGN_LEFT, 1, best) + 2;
}

static void
set_second_page (BlBook *book, const BlBookPart *part, gboolean with_year)
{
  BlPress *press = book->press;
  BlPlanSetup setup = { .scene = BL_SCENE_LABELS, .moment = { part->best_month, BL_BOOK_YEARS },
                        .bleed = TRUE };
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  g_autofree char *title = g_strdup_printf ("%s · %s", name, BL_W (book, "Plan"));
  double room, plan, year = with_year && part->takeoff->n_kinds <= MANY ? year_height (part, LEAST_ROW) : 0;
  Palette palette;
  BlRect box;

  bl_press_page (press, NULL, NULL);
  press->y -= 12;
  bl_press_subhead (press, title);
  room = bl_press_room (press);
  palette = fit_palette (part->takeoff->n_kinds, room - year - room * 0.36);
  /* What the palette leaves belongs to the plan. */
  plan = CLAMP (room - palette_height (palette) - year - 8, room * 0.34, room * 0.5);
  box = (BlRect) { press->left, press->y, press->right, press->y + plan };
  bl_book_plan (book, part, box, &setup);
  press->y = box.y1;
  set_palette (book, part, palette);
  if (with_year)
    set_year (book, part, bl_press_room (press));
}

void
bl_page_alternative (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  double width = press->right - press->left, least = press->height * 0.26, rest, height;
  g_autofree char *heading
      = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  gboolean year_fits;

  bl_press_page (press, heading, heading);
  rest = bl_press_room (press) - 20 - idea_height (book, part, width) - 56;
  height = MIN (bl_book_picture_height (book, width), press->height * 0.40);
  year_fits = part->takeoff->n_kinds <= MANY
              && rest - year_height (part, LEAST_ROW) >= MIN (least, height);
  if (year_fits)
    height = MIN (height, rest - year_height (part, 11.5) > least
                              ? rest - year_height (part, 11.5)
                              : rest - year_height (part, LEAST_ROW));
  set_picture (book, part, height);
  if (part->alternative->idea != NULL && *part->alternative->idea != '\0')
    {
      bl_press_subhead (press, BL_W (book, "The idea"));
      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, part->alternative->idea);
    }
  if (part->layout->placed->len == 0)
    {
      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width,
                           BL_W (book, "Nothing is planted in this alternative yet."));
      return;
    }
  set_price_line (book, part);
  if (year_fits)
    set_year (book, part, bl_press_room (press));
  set_second_page (book, part, !year_fits);
}
