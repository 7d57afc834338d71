/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The owner's care sheet: one page in large type, the first summer's watering first. */
#include "proposal/book.h"

#include "base/error.h"

#define LAST 26.0 /* left at the foot for the last line */
#define WHEN 132.0
#define STEP 8.0  /* around a rule */

static double
what_width (const BlPress *press)
{
  return press->right - press->left - WHEN - 10;
}

/* At most four lines of what, two of how. */
static double
row_height (BlPress *press, BlTypeStyle style, const char *what, const char *how)
{
  double line = bl_press_measure (press, style, 0, "x");
  double height = MIN (bl_press_measure (press, style, what_width (press), what), 4 * line);

  if (how != NULL)
    height += MIN (bl_press_measure (press, BL_TYPE_STYLE_BODY, what_width (press), how), 27);
  return height + STEP;
}

/* When in bold on the left, what to its right; FALSE when there is no room for another. */
static gboolean
set_row (BlBook *book, BlTypeStyle style, const char *when, const char *what, const char *how)
{
  BlPress *press = book->press;
  double x = press->left + WHEN + 10, width = what_width (press);
  g_autofree char *escaped = bl_book_escape (when);
  g_autofree char *bold = g_strdup_printf ("<b>%s</b>", escaped);

  if (bl_press_room (press) - LAST < row_height (press, style, what, how))
    return FALSE;
  bl_press_set (press, style, press->left, press->y, WHEN, BL_ALIGN_LEFT, 1, bold);
  press->y += bl_press_set (press, style, x, press->y, width, BL_ALIGN_LEFT, 4, what);
  if (how != NULL)
    press->y += bl_press_set (press, BL_TYPE_STYLE_BODY, x, press->y, width, BL_ALIGN_LEFT, 2, how);
  press->y += STEP / 2;
  bl_press_rule (press, press->left, press->right, press->y, 0.3);
  press->y += STEP / 2;
  return TRUE;
}

/* "quart: 0.06–0.08 gal" for each size that is watered. */
static char *
amounts (const BlBook *book, const BlBookPart *part)
{
  GString *text = g_string_new (NULL);
  gboolean feet = book->model->units == BL_UNITS_FEET;
  double unit = feet ? BL_LITRES_PER_US_GALLON : 1;

  for (guint i = 0; i < part->takeoff->watering->len; i++)
    {
      const BlWatering *watering = &g_array_index (part->takeoff->watering, BlWatering, i);
      g_autofree char *line = NULL, *low = NULL, *high = NULL;

      if (!watering->known || watering->high_l <= 0)
        continue;
      low = bl_fixed_format (watering->low_l / unit, 2);
      high = bl_fixed_format (watering->high_l / unit, 2);
      line = g_strdup_printf ("%s%s: %s–%s %s", text->len > 0 ? "; " : "",
                              bl_say (book->language, watering->size), low, high,
                              feet ? "gal" : "L");
      g_string_append (text, line);
    }
  return g_string_free (text, FALSE);
}

/* Watering and weeding, with how to do them. */
static void
set_first_summer (BlBook *book, GPtrArray *rows)
{
  const BlBookPart *part = bl_book_part (book, 0);
  g_autofree char *each = amounts (book, part);

  bl_press_subhead (book->press, BL_W (book, "The first summer"));
  for (int pass = 0; pass < 2; pass++)
    for (guint i = 0; i < rows->len; i++)
      {
        const BlCareRow *row = rows->pdata[i];
        gboolean weed = g_strcmp0 (row->first->kind, "weed") == 0 && row->first->year == 0;
        g_autofree char *span = NULL;
        g_autofree char *what = NULL;
        g_autofree char *how = NULL;

        if (row->hours[0] <= 0 || (pass == 0 ? !row->water : !weed))
          continue;
        span = bl_book_care_span (book, row);
        what = bl_book_escape (row->verb);
        how = bl_book_escape (row->first->what);
        set_row (book, BL_TYPE_STYLE_BIG, span, what, how);
      }
  if (*each != '\0')
    {
      g_autofree char *escaped = bl_book_escape (each);

      set_row (book, BL_TYPE_STYLE_LARGE, BL_W (book, "Each plant and time"), escaped, NULL);
    }
}

/* The largest type in which the whole round has room. */
static BlTypeStyle
choose_style (BlBook *book, GPtrArray *rows)
{
  static const BlTypeStyle styles[] = { BL_TYPE_STYLE_BIG, BL_TYPE_STYLE_LARGE };
  double room = bl_press_room (book->press) - LAST - 34;

  for (guint s = 0; s < G_N_ELEMENTS (styles); s++)
    {
      double need = 0;

      for (guint i = 0; i < rows->len; i++)
        {
          g_autofree char *what = bl_book_care_markup (book, rows->pdata[i]);

          if (((const BlCareRow *) rows->pdata[i])->hours[4] > 0)
            need += row_height (book->press, styles[s], what, NULL);
        }
      if (need <= room)
        return styles[s];
    }
  return BL_TYPE_STYLE_BODY;
}

/* Work of the later years; returns how many had no room. */
static guint
set_round (BlBook *book, GPtrArray *rows)
{
  BlTypeStyle style = choose_style (book, rows);
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
  set_first_summer (book, rows);
  left_out = set_round (book, rows);
  last = left_out > 0
             ? g_strdup_printf (BL_W (book, "%u more tasks stand in the calendar of the proposal."),
                                left_out)
             : g_strdup (
                 BL_W (book, "Dates follow the usual frosts; go by the weather of the year."));
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
         && bl_book_print (book, path, bl_say (book->language, "Care of the new bed"), set_pages,
                           error);
}
