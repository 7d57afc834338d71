/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The care calendar as rows of a year: the same work in several years, or on several plants, once.
 */
#include "proposal/book.h"

#include <stdlib.h>
#include <string.h>

static void
row_free (gpointer data)
{
  BlCareRow *row = data;

  g_ptr_array_unref (row->objects);
  g_free (row);
}

/* Days from 1 January, of any year. */
static int
day_of_year (BlDay day)
{
  int y, m, d;

  bl_day_split (day, &y, &m, &d);
  return (int) (bl_day (2025, m, m == 2 && d == 29 ? 28 : d) - bl_day (2025, 1, 1));
}

/* A fortnight more or less is the same time of the year; a window that the planting day cuts short
 * still is the same work. */
static gboolean
is_same_work (const BlCareRow *row, const BlTask *task)
{
  int from = day_of_year (task->from), to = day_of_year (task->to);

  if (row->salt != task->salt || row->every_days != task->every_days
      || strcmp (row->verb, task->work) != 0)
    return FALSE;
  /* Plants are divided once, each in its own year. */
  if (strcmp (task->kind, "divide") == 0 && row->first->year != task->year)
    return FALSE;
  return abs (from - row->from) <= 16 && abs (to - row->to) <= 16;
}

static double
hours_in_year (const BlTask *task)
{
  BlTask once = *task;
  g_autoptr (GArray) days = NULL;

  once.yearly = FALSE;
  days = bl_task_days (&once, task->from, task->to);
  return task->hours * days->len;
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const BlCareRow *p = *(BlCareRow *const *) a, *q = *(BlCareRow *const *) b;

  if (p->from != q->from)
    return p->from - q->from;
  return p->to != q->to ? p->to - q->to : strcmp (p->verb, q->verb);
}

GPtrArray *
bl_book_care_rows (const BlBook *book, const BlBookPart *part)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func (row_free);

  for (guint i = 0; i < part->care->tasks->len; i++)
    {
      const BlTask *task = &g_array_index (part->care->tasks, BlTask, i);
      g_autofree char *object = bl_book_task_object (book, task);
      BlCareRow *row = NULL;

      for (guint k = 0; k < rows->len && row == NULL; k++)
        if (is_same_work (rows->pdata[k], task))
          row = rows->pdata[k];
      if (row == NULL)
        {
          row = g_new0 (BlCareRow, 1);
          row->verb = task->work;
          row->salt = task->salt;
          row->water = strcmp (task->kind, "water") == 0;
          row->every_days = task->every_days;
          row->first = task;
          row->from = day_of_year (task->from);
          row->to = day_of_year (task->to);
          row->objects = g_ptr_array_new_with_free_func (g_free);
          g_ptr_array_add (rows, row);
        }
      row->hours[CLAMP (task->year, 0, 4)] += hours_in_year (task);
      if (*object != '\0'
          && !g_ptr_array_find_with_equal_func (row->objects, object, g_str_equal, NULL))
        g_ptr_array_add (row->objects, g_steal_pointer (&object));
    }
  g_ptr_array_sort (rows, compare_rows);
  return rows;
}

char *
bl_book_care_span (const BlBook *book, const BlCareRow *row)
{
  int y, m0, d0, m1, d1;

  bl_day_split (row->first->from, &y, &m0, &d0);
  bl_day_split (row->first->to, &y, &m1, &d1);
  if (row->first->from == row->first->to)
    return g_strdup_printf ("%d %s", d0, bl_month_name (book->language, m0, TRUE));
  if (m0 == m1)
    return g_strdup_printf ("%d–%d %s", d0, d1, bl_month_name (book->language, m0, TRUE));
  return g_strdup_printf ("%d %s – %d %s", d0, bl_month_name (book->language, m0, TRUE), d1,
                          bl_month_name (book->language, m1, TRUE));
}

char *
bl_book_care_markup (const BlBook *book, const BlCareRow *row)
{
  g_autofree char *verb = bl_book_escape (row->verb);
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "<b>%s</b>", verb);
  if (row->salt)
    g_string_append_printf (text, " (%s)", BL_W (book, "salt and snow side"));
  for (guint i = 0; i < row->objects->len; i++)
    {
      g_autofree char *object = bl_book_escape (row->objects->pdata[i]);

      g_string_append_printf (text, "%s %s", i == 0 ? ":" : ",", object);
    }
  if (row->every_days > 0 && !row->water)
    {
      g_string_append (text, row->objects->len > 0 ? "; " : ", ");
      g_string_append_printf (text, BL_W (book, "every %d days"), row->every_days);
    }
  return g_string_free (text, FALSE);
}
