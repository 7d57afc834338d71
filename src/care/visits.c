/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days of a task, visits that tasks share, and hours a year. */
#include <string.h>

#include "care/care-private.h"

/* A task is put off no further than this for the sake of a shared visit, days. */
#define PATIENCE 21

/* The same month and day in @year. */
static BlDay
in_year (BlDay day, int year)
{
  int month = 0, mday = 0;
  BlDay there = 0;

  bl_day_split (day, NULL, &month, &mday);
  there = bl_day (year, month, mday);
  return there != 0 ? there : bl_day (year, month, mday - 1);
}

static void
add_days (GArray *days, const BlTask *task, BlDay from, BlDay first, BlDay last)
{
  BlDay to = from + (task->to - task->from);
  BlDay day = from;

  do
    {
      if (day >= first && day <= last)
        g_array_append_val (days, day);
      day += (BlDay) task->every_days;
    }
  while (task->every_days > 0 && day <= to);
}

GArray *
bl_task_days (const BlTask *task, BlDay first, BlDay last)
{
  GArray *days = g_array_new (FALSE, FALSE, sizeof (BlDay));
  GArray *once = NULL;
  int start = 0, end = 0, year = 0;
  guint i = 0;

  if (!task->yearly)
    {
      add_days (days, task, task->from, first, last);
      return days;
    }
  /* Each day of the first year comes again on its month and day. */
  once = g_array_new (FALSE, FALSE, sizeof (BlDay));
  add_days (once, task, task->from, 0, G_MAXUINT32);
  bl_day_split (task->from, &start, NULL, NULL);
  bl_day_split (last, &end, NULL, NULL);
  for (year = start; year <= end; year++)
    for (i = 0; i < once->len; i++)
      {
        BlDay day = g_array_index (once, BlDay, i);
        int own = 0;

        bl_day_split (day, &own, NULL, NULL);
        day = in_year (day, own + year - start);
        if (day >= first && day <= last)
          g_array_append_val (days, day);
      }
  g_array_unref (once);
  return days;
}

static gboolean
joins_visits (const BlTask *task)
{
  return task->every_days == 0 && strcmp (task->kind, "water") != 0;
}

typedef struct
{
  guint task;
  BlDay by; /* the last day that it waits for */
} Deadline;

static int
compare_deadlines (gconstpointer pa, gconstpointer pb)
{
  const Deadline *a = pa, *b = pb;

  return a->by != b->by ? (a->by < b->by ? -1 : 1) : (a->task > b->task) - (a->task < b->task);
}

/* The fewest days that meet all windows: go on the last day of the window that ends first, and do
 * all that is open on it. */
static int
number_visits (BlCare *care)
{
  g_autoptr (GArray) order = g_array_new (FALSE, FALSE, sizeof (Deadline));
  int visit = 0;
  guint i = 0, k = 0;

  for (i = 0; i < care->tasks->len; i++)
    {
      BlTask *task = &g_array_index (care->tasks, BlTask, i);
      Deadline d = { i, MIN (task->to, task->from + PATIENCE) };

      task->visit = 0;
      if (joins_visits (task))
        g_array_append_val (order, d);
    }
  g_array_sort (order, compare_deadlines);
  for (i = 0; i < order->len; i++)
    {
      BlDay day = g_array_index (order, Deadline, i).by;

      if (g_array_index (care->tasks, BlTask, g_array_index (order, Deadline, i).task).visit != 0)
        continue;
      visit++;
      for (k = i; k < order->len; k++)
        {
          BlTask *task
            = &g_array_index (care->tasks, BlTask, g_array_index (order, Deadline, k).task);

          if (task->visit == 0 && task->from <= day && task->to >= day)
            task->visit = visit;
        }
    }
  return visit;
}

static void
add_up (BlCare *care, BlDay planting)
{
  g_autoptr (GHashTable) first_visits = g_hash_table_new (NULL, NULL);
  guint i = 0;

  care->hours_first_year = care->hours_later = 0;
  care->visits_first_year = 0;
  care->any_invented = FALSE;
  for (i = 0; i < care->tasks->len; i++)
    {
      const BlTask *task = &g_array_index (care->tasks, BlTask, i);
      g_autoptr (GArray) first = bl_task_days (task, planting, planting + 364);
      g_autoptr (GArray) later = bl_task_days (task, task->from, task->from + 364);

      care->any_invented |= task->invented && task->hours > 0;
      care->hours_first_year += task->hours * first->len;
      if (task->yearly)
        care->hours_later += task->hours * later->len;
      if (task->visit != 0 && first->len > 0)
        g_hash_table_add (first_visits, GINT_TO_POINTER (task->visit));
      else if (strcmp (task->kind, "weed") == 0)
        care->visits_first_year += (int) first->len;
    }
  care->visits_first_year += (int) g_hash_table_size (first_visits);
}

void
bl_care_visits (BlCare *care, BlDay planting)
{
  number_visits (care);
  add_up (care, planting);
}
