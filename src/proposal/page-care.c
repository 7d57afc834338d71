/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Care through the first three years, and the yearly round after. */
#include "proposal/book.h"

static char *
span_text (const BlBook *book, const BlTask *task)
{
  int y0, m0, d0, y1, m1, d1;

  bl_day_split (task->from, &y0, &m0, &d0);
  bl_day_split (task->to, &y1, &m1, &d1);
  if (task->from == task->to)
    return g_strdup_printf ("%d %s", d0, bl_month_name (book->language, m0, TRUE));
  if (m0 == m1 && y0 == y1)
    return g_strdup_printf ("%d–%d %s", d0, d1, bl_month_name (book->language, m0, TRUE));
  return g_strdup_printf ("%d %s – %d %s", d0, bl_month_name (book->language, m0, TRUE), d1,
                          bl_month_name (book->language, m1, TRUE));
}

static void
add_year (BlBook *book, const BlBookPart *part, BlPressTable *table, int year, const char *title)
{
  gboolean any = FALSE;

  for (guint i = 0; i < part->care->tasks->len; i++)
    {
      const BlTask *task = &g_array_index (part->care->tasks, BlTask, i);
      g_autofree char *span = NULL;

      if (task->year != year)
        continue;
      if (!any)
        bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (title), NULL);
      any = TRUE;
      span = span_text (book, task);
      bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (span), bl_book_escape (task->title),
                          bl_book_escape (task->what),
                          g_strdup_printf (task->hours > 0 ? "%.1f" : "", task->hours), NULL);
    }
}

void
bl_page_care (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  BlPressColumn columns[] = {
    { BL_W (book, "When"), 0.19, BL_ALIGN_LEFT }, { BL_W (book, "What"), 0.28, BL_ALIGN_LEFT },
    { BL_W (book, "How"), 0.45, BL_ALIGN_LEFT }, { BL_W (book, "Hours"), 0.08, BL_ALIGN_RIGHT },
  };

  bl_press_page (press, BL_W (book, "Care for the first years"),
                 BL_W (book, "Care for the first years"));
  bl_press_set_plain (press, BL_TYPE_STYLE_SUBHEAD, press->left, press->y - 4, 300, BL_ALIGN_LEFT,
                      1, name);
  press->y += 18;
  add_year (book, part, table, 0, BL_W (book, "Planting year"));
  for (int year = 1; year <= 3; year++)
    {
      g_autofree char *title = g_strdup_printf (BL_W (book, "Year %g"), (double) year);

      add_year (book, part, table, year, title);
    }
  add_year (book, part, table, 4, BL_W (book, "Every year after"));
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}
