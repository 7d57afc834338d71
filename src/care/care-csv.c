/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calendar as a table. */
#include "base/csv.h"
#include "care/care.h"

static const char *
year_name (int year)
{
  static const char *const names[]
    = { "planting year", "year 1", "year 2", "year 3", "every year" };

  return names[CLAMP (year, 0, 4)];
}

char *
bl_care_to_csv (const BlCare *care, const BlModel *model)
{
  GString *csv = g_string_new (NULL);
  guint i = 0;

  bl_csv_append_list (csv, "from", "to", "year", "every_year", "every_days", "title", "what",
                      "kind", "bed", "plant", "hours", "hours_from", "visit", "done", "moved",
                      "uid", NULL);
  for (i = 0; i < care->tasks->len; i++)
    {
      const BlTask *task = &g_array_index (care->tasks, BlTask, i);
      const BlBed *bed = task->bed_id != 0 ? bl_model_bed (model, task->bed_id) : NULL;
      g_autofree char *from = bl_day_format_iso (task->from);
      g_autofree char *to = bl_day_format_iso (task->to);
      g_autofree char *every
        = task->every_days > 0 ? g_strdup_printf ("%d", task->every_days) : g_strdup ("");
      g_autofree char *visit
        = task->visit > 0 ? g_strdup_printf ("%d", task->visit) : g_strdup ("");
      char hours[G_ASCII_DTOSTR_BUF_SIZE];

      g_ascii_formatd (hours, sizeof hours, "%.2f", task->hours);
      bl_csv_append_list (csv, from, to, year_name (task->year), task->yearly ? "yes" : "no", every,
                          task->title, task->what, task->kind,
                          bed != NULL && bed->name != NULL ? bed->name : "",
                          task->slug != NULL ? task->slug : "", hours,
                          task->hours <= 0    ? ""
                          : task->invented    ? "invented rate"
                                              : "own figure",
                          visit,
                          task->done ? "yes" : "no", task->moved ? "yes" : "no", task->uid, NULL);
    }
  return g_string_free (csv, FALSE);
}
