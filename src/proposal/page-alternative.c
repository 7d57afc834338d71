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
  BlLook look = bl_plant_look (plant, NULL, book->model->site.zone, moment);
  BlFigureLight light = { -0.5, 1, { 1, 1, 1, 1 } };
  BlRect extent = bl_figure_box (plant, &look);
  double w = MAX (extent.x1 - extent.x0, 0.02), h = MAX (extent.y1 - extent.y0, 0.02);
  double k = MIN ((box.x1 - box.x0) / w, (box.y1 - box.y0) / h);
  cairo_t *cr = book->press->cr;

  cairo_save (cr);
  cairo_translate (cr, (box.x0 + box.x1) / 2 - (extent.x0 + extent.x1) / 2 * k,
                   box.y1 - extent.y1 * k);
  cairo_scale (cr, k, k);
  bl_figure_draw (cr, plant, &look, 7, &light, k * 200 / 72);
  cairo_restore (cr);
}

/* The month in which a plant looks like itself: mid bloom, or high summer. */
static BlMoment
showing_moment (const BlBook *book, const BlPlant *plant)
{
  double from, to;
  BlMoment moment = { 7.5, MAX (plant->years, 3) };

  if (bl_plant_bloom (plant, book->model->site.zone, &from, &to))
    {
      moment.month = (from + (to < from ? to + 12 : to)) / 2;
      if (moment.month >= 13)
        moment.month -= 12;
    }
  return moment;
}

static void
set_palette (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autoptr (GPtrArray) kinds = kinds_of (part);
  const guint per_row = 5;
  double gap = 11, width = (press->right - press->left - gap * (per_row - 1)) / per_row;
  double height = 90, text = 50;

  if (kinds->len == 0)
    return;
  bl_press_subhead (press, BL_W (book, "Palette"));
  for (guint i = 0; i < kinds->len; i++)
    {
      const BlPlant *plant = kinds->pdata[i];
      double x = press->left + (i % per_row) * (width + gap);
      g_autofree char *name = bl_plant_name_markup (plant);
      g_autofree char *key = bl_book_key (part, plant->slug);
      g_autofree char *line = NULL;
      double name_height;
      BlRect box;

      if (i % per_row == 0 && i > 0)
        press->y += height + text + 8;
      if (i % per_row == 0)
        bl_press_need (press, height + text + 8);
      box = (BlRect) { x + 4, press->y + 4, x + width - 4, press->y + height - 3 };
      set_figure (book, plant, showing_moment (book, plant), box);
      bl_press_rule (press, x, x + width, press->y + height, 0.5);
      name_height = bl_press_set (press, BL_TYPE_STYLE_SMALL, x, press->y + height + 3, width,
                                  BL_ALIGN_LEFT, 2, name);
      line = g_strdup_printf ("%s  ×%u  %s", key, count_of (part, plant), plant->common);
      bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, x, press->y + height + 4 + name_height, width,
                          BL_ALIGN_LEFT, 2, line);
    }
  press->y += height + text + 8;
}

static void
set_price_line (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autofree char *total = bl_book_money (book, part->estimate->total);
  g_autofree char *low = bl_book_money (book, part->estimate->total_low);
  g_autofree char *high = bl_book_money (book, part->estimate->total_high);
  g_autofree char *range = g_strdup_printf (BL_W (book, "%s to %s, by the measured area"), low, high);
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
  bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, x, press->y + 16, press->right - x,
                      BL_ALIGN_LEFT, 2, range);
  press->y += 40;
}

static double
year_height (const BlBookPart *part)
{
  return 54 + 11.5 * part->takeoff->n_kinds;
}

/* Bloom through the year. */
static void
set_year (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  double row = 11.5;

  bl_press_need (press, year_height (part));
  bl_press_subhead (press, BL_W (book, "Through the year"));
  cairo_save (press->cr);
  cairo_translate (press->cr, press->left, press->y);
  press->y += bl_chart_bloom (press->cr, part->layout, press->right - press->left, row,
                              part->best_month, "Lato");
  cairo_restore (press->cr);
}

void
bl_page_alternative (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  double width = press->right - press->left;
  double height = MIN (bl_book_picture_height (book, width), press->height * 0.372);
  g_autofree char *heading = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  g_autofree char *best = g_strdup_printf (
      BL_W (book, "As proposed, %s, year %g"),
      bl_month_name (book->language, (int) part->best_month, FALSE), BL_BOOK_YEARS);
  BlMoment moment = { part->best_month, BL_BOOK_YEARS };
  gboolean year_fits;
  BlRect box;

  bl_press_page (press, heading, heading);
  box = (BlRect) { press->left, press->y, press->right, press->y + height };
  bl_book_picture (book, part, moment, FALSE, box);
  press->y = box.y1 + 3;
  press->y += bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, press->left, press->y, width,
                                  BL_ALIGN_LEFT, 1, best) + 4;
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
  year_fits = bl_press_room (press) >= year_height (part);
  if (year_fits)
    set_year (book, part);
  bl_press_page (press, NULL, NULL);
  bl_press_subhead (press, BL_W (book, "Plan"));
  box = (BlRect) { press->left, press->y, press->right, press->y + press->height * 0.32 };
  bl_book_plan (book, part, moment, box, BL_SCENE_LABELS);
  press->y = box.y1 + 6;
  set_palette (book, part);
  if (!year_fits)
    set_year (book, part);
}
