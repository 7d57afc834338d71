/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The owner's care sheet: one page in large type. */
#include "proposal/book.h"

#include "base/error.h"

#define MOST_LINES 9

static void
set_tasks (BlBook *book, const BlBookPart *part, int year, const char *head)
{
  BlPress *press = book->press;
  guint n = 0;

  bl_press_subhead (press, head);
  for (guint i = 0; i < part->care->tasks->len && n < MOST_LINES; i++)
    {
      const BlTask *task = &g_array_index (part->care->tasks, BlTask, i);
      int y, m, d;
      g_autofree char *title = NULL;
      g_autofree char *line = NULL;

      if (task->year != year || bl_press_room (press) < 26)
        continue;
      bl_day_split (task->from, &y, &m, &d);
      title = bl_book_escape (task->title);
      line = g_strdup_printf ("<b>%d %s</b>  %s", d, bl_month_name (book->language, m, TRUE), title);
      press->y += bl_press_set (press, BL_TYPE_STYLE_BIG, press->left, press->y,
                                press->right - press->left, BL_ALIGN_LEFT, 1, line);
      n++;
    }
}

gboolean
bl_care_sheet_write (BlModel *model, const char *path, const BlProposalOptions *options,
                     GError **error)
{
  g_autoptr (BlBook) book = bl_book_new (model, NULL, options, error);
  const BlBookPart *part;

  if (book == NULL
      || !bl_book_open (book, path, bl_word (book->language, "Care of the new bed"), error))
    return FALSE;
  part = bl_book_part (book, 0);
  bl_press_page (book->press, BL_W (book, "Care of the new bed"), BL_W (book, "Care of the new bed"));
  set_tasks (book, part, 0, BL_W (book, "The first summer"));
  set_tasks (book, part, 4, BL_W (book, "The yearly round"));
  return bl_press_finish (g_steal_pointer (&book->press), error);
}
