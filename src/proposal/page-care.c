/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Care through the first three years and the yearly round after, as one calendar. */
#include "proposal/book.h"

static char *
hours_text (double hours)
{
  return hours > 0 ? bl_fixed_format (hours, hours < 0.095 ? 2 : 1) : g_strdup ("");
}

/* A heading wherever a season begins. */
static const char *
season_of (int day, int *season)
{
  static const char *const names[] = { "Spring", "Summer", BL_SAID ("Autumn and winter") };
  int now = day < 59 ? 2 : day < 151 ? 0 : day < 258 ? 1 : 2;

  if (now == *season)
    return NULL;
  *season = now;
  return names[now];
}

void
bl_page_care (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autoptr (GPtrArray) rows = bl_book_care_rows (book, part);
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  BlPressColumn columns[] = {
    { BL_W (book, "When"), 0.16, BL_ALIGN_LEFT },
    { BL_W (book, "What to do"), 0.42, BL_ALIGN_LEFT },
    { BL_W (book, "Planting year"), 0.13, BL_ALIGN_RIGHT },
    { BL_W (book, "Year 1"), 0.08, BL_ALIGN_RIGHT },
    { BL_W (book, "Year 2"), 0.08, BL_ALIGN_RIGHT },
    { BL_W (book, "Year 3"), 0.08, BL_ALIGN_RIGHT },
    { BL_W (book, "Later, a year"), 0.10, BL_ALIGN_RIGHT },
  };
  int season = -1;

  bl_press_page (press, BL_W (book, "Care for the first years"),
                 BL_W (book, "Care for the first years"));
  bl_press_set_plain (press, BL_TYPE_STYLE_SUBHEAD, press->left, press->y - 4, 300, BL_ALIGN_LEFT,
                      1, name);
  press->y += 18;
  bl_press_flow_plain (
      press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left,
      BL_W (book,
            "The figures are hours of work in that year; an empty field means that the work is "
            "not due. Dates follow the frost dates of the place."));
  if (part->care->any_invented)
    bl_press_flow_plain (press, BL_TYPE_STYLE_SMALL, press->left, press->right - press->left,
                         BL_W (book, "The hours rest on invented rates that came with the program, "
                                     "until the firm puts its own."));
  press->y += 8;
  for (guint i = 0; i < rows->len; i++)
    {
      const BlCareRow *row = rows->pdata[i];
      const char *title = season_of (row->from, &season);
      g_autofree char *span = bl_book_care_span (book, row);

      if (title != NULL)
        bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (BL_W (book, title)), NULL);
      bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (span),
                          bl_book_care_markup (book, row), hours_text (row->hours[0]),
                          hours_text (row->hours[1]), hours_text (row->hours[2]),
                          hours_text (row->hours[3]), hours_text (row->hours[4]), NULL);
    }
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}
