/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a care task is done to, as rows of the papers name it. */
#include <string.h>

#include "proposal/book.h"

/* "nodding onion (18)", with its cultivar where the name has one. */
char *
bl_book_task_object (const BlBook *book, const BlTask *task)
{
  const BlPlant *plant = task->slug != NULL ? bl_model_plant (book->model, task->slug) : NULL;
  const BlBed *bed = task->bed_id != 0 ? bl_model_bed (book->model, task->bed_id) : NULL;
  const char *common;
  GString *text;

  if (plant == NULL)
    return book->model->beds->len > 1 && bed != NULL ? g_strdup (bed->name) : g_strdup ("");
  common = bl_book_common (book, plant);
  text = g_string_new (common);
  if (plant->cultivar != NULL && strstr (common, plant->cultivar) == NULL)
    g_string_append_printf (text, " ‘%s’", plant->cultivar);
  g_string_append (text, task->low);
  if (task->count > 0)
    g_string_append_printf (text, " (%u)", task->count);
  return g_string_free (text, FALSE);
}
