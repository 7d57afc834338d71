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

/* Tasks of one visit are one row: what can be done on the same day is read together. */
static char *
titles_of_visit (const BlCare *care, const BlTask *first, guint from, double *hours)
{
  GString *titles = g_string_new (NULL);

  *hours = 0;
  for (guint i = from; i < care->tasks->len; i++)
    {
      const BlTask *task = &g_array_index (care->tasks, BlTask, i);

      if (task != first && (first->visit == 0 || task->visit != first->visit || task->year != first->year))
        continue;
      g_string_append_printf (titles, "%s%s", titles->len > 0 ? "; " : "", task->title);
      *hours += task->hours;
    }
  return g_string_free (titles, FALSE);
}

static gboolean
seen_before (const BlCare *care, const BlTask *task, guint index)
{
  for (guint i = 0; task->visit != 0 && i < index; i++)
    {
      const BlTask *earlier = &g_array_index (care->tasks, BlTask, i);

      if (earlier->visit == task->visit && earlier->year == task->year)
        return TRUE;
    }
  return FALSE;
}

static void
add_year (BlBook *book, const BlBookPart *part, BlPressTable *table, int year, const char *title)
{
  const BlCare *care = part->care;
  gboolean any = FALSE;

  for (guint i = 0; i < care->tasks->len; i++)
    {
      const BlTask *task = &g_array_index (care->tasks, BlTask, i);
      g_autofree char *span = NULL;
      g_autofree char *titles = NULL;
      double hours;

      if (task->year != year || seen_before (care, task, i))
        continue;
      if (!any)
        bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (title), NULL);
      any = TRUE;
      span = span_text (book, task);
      titles = titles_of_visit (care, task, i, &hours);
      bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (span), bl_book_escape (titles),
                          hours > 0 ? g_strdup_printf ("%.1f", hours) : g_strdup (""), NULL);
    }
}

void
bl_page_care (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  BlPressColumn columns[] = {
    { BL_W (book, "When"), 0.2, BL_ALIGN_LEFT }, { BL_W (book, "What to do"), 0.71, BL_ALIGN_LEFT },
    { BL_W (book, "Hours"), 0.09, BL_ALIGN_RIGHT },
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
