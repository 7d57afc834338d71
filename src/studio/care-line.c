/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A task of the calendar opened: another day for it, out with it; and a task of the person's own. */

#include "config.h"

#include "studio/care-line.h"

#include "studio/form.h"
#include "studio/sheets.h"

#include "base/error.h"

#include <glib/gi18n.h>

/* Marks. */

BlCareMark
bl_care_mark_of (BlBoard *board, const char *uid)
{
  const BlModel *model = bl_board_get_model (board);

  for (guint i = 0; i < model->care_marks->len; i++)
    {
      const BlCareMark *mark = g_ptr_array_index (model->care_marks, i);

      if (g_str_equal (mark->uid, uid))
        return *mark;
    }
  return (BlCareMark) { .uid = (char *) uid };
}

static gboolean
put_mark (BlDesign *design, gpointer data, GError **error)
{
  const BlCareMark *mark = data;
  BlCareMark copy = *mark;

  if (mark->id != 0 && mark->done == 0 && mark->moved == 0 && !mark->dropped)
    return bl_design_remove (design, "care_mark", mark->id, error);
  return bl_design_put_care_mark (design, &copy, error);
}

gboolean
bl_board_put_care_mark (BlBoard *board, const char *label, BlCareMark *mark)
{
  return bl_board_edit (board, label, put_mark, mark);
}

/* The form of one task. */

typedef struct
{
  BlBoard *board;
  char *uid;
  gint64 own; /* id of an own task; 0 = one of the calendar's */
} Line;

static void
line_free (gpointer data)
{
  Line *line = data;

  g_object_unref (line->board);
  g_free (line->uid);
  g_free (line);
}

static gboolean
move_own (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_own_task (design, data, error);
}

static const BlOwnTask *
own_task (const Line *line)
{
  const BlModel *model = bl_board_get_model (line->board);

  for (guint i = 0; i < model->own_tasks->len; i++)
    if (((const BlOwnTask *) model->own_tasks->pdata[i])->id == line->own)
      return model->own_tasks->pdata[i];
  return NULL;
}

static gboolean
read_day (BlBoard *board, GtkWidget *entry, BlDay *day)
{
  g_autofree char *text = g_strstrip (g_strdup (bl_form_get_text (entry)));
  g_autoptr (GError) error = NULL;

  *day = text[0] != '\0' ? bl_day_parse (text, &error) : 0;
  bl_form_set_wrong (entry, error != NULL);
  if (error != NULL)
    bl_board_report (board, error);
  return error == NULL;
}

static void
day_given_cb (GtkWidget *entry, gpointer data)
{
  Line *line = data;
  const BlOwnTask *own = own_task (line);
  BlDay day;

  if (!read_day (line->board, entry, &day))
    return;
  if (own != NULL && day != 0)
    {
      BlOwnTask moved = *own;

      moved.day = day;
      bl_board_edit (line->board, _("Move a task"), move_own, &moved);
    }
  else if (own == NULL)
    {
      BlCareMark mark = bl_care_mark_of (line->board, line->uid);

      mark.moved = day;
      bl_board_put_care_mark (line->board, _("Move a task"), &mark);
    }
}

static gboolean
remove_own (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_remove (design, "own_task", *(gint64 *) data, error);
}

static void
leave_out_cb (GtkButton *button, Line *line)
{
  BlCareMark mark = bl_care_mark_of (line->board, line->uid);

  mark.dropped = TRUE;
  if (line->own != 0)
    bl_board_edit (line->board, _("Remove a task"), remove_own, &line->own);
  else
    bl_board_put_care_mark (line->board, _("Leave a task out"), &mark);
}

GtkWidget *
bl_care_line_form (BlBoard *board, const BlTask *task)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *day = bl_form_entry (_("as computed")), *out;
  g_autofree char *from = bl_day_format_iso (task->from);
  Line *line = g_new0 (Line, 1);

  line->board = g_object_ref (board);
  line->uid = g_strdup (task->uid);
  line->own = task->own ? g_ascii_strtoll (task->uid + strlen ("own."), NULL, 10) : 0;
  g_object_set_data_full (G_OBJECT (box), "bl-line", line, line_free);
  gtk_widget_add_css_class (box, "slip");
  if (task->what != NULL && task->what[0] != '\0')
    gtk_box_append (GTK_BOX (box), bl_form_text (task->what, "facts"));
  if (task->moved || task->own)
    bl_form_set_text (day, from);
  else
    gtk_entry_set_placeholder_text (GTK_ENTRY (day), from);
  bl_form_on_commit (day, day_given_cb, line);
  gtk_box_append (GTK_BOX (box), bl_form_field (_("Day, as 2027-04-30; empty: as computed"), day));
  out = bl_form_button (task->own ? _("Remove it") : _("Leave it out"), NULL, NULL);
  g_signal_connect (out, "clicked", G_CALLBACK (leave_out_cb), line);
  gtk_box_append (GTK_BOX (box), out);
  return box;
}

/* A task of one's own. */

typedef struct
{
  BlBoard *board;
  GtkWidget *title, *day, *hours, *yearly;
} Own;

static void
own_free (gpointer data)
{
  g_object_unref (((Own *) data)->board);
  g_free (data);
}

static void
add_cb (GtkButton *button, Own *own)
{
  g_autofree char *title = g_strstrip (g_strdup (bl_form_get_text (own->title)));
  BlOwnTask task = { .title = title, .yearly = gtk_switch_get_active (GTK_SWITCH (own->yearly)) };

  if (!bl_sheet_read_number (own->board, own->hours, 0, &task.hours)
      || !read_day (own->board, own->day, &task.day))
    return;
  if (title[0] == '\0' || task.day == 0)
    {
      g_autoptr (GError) error = g_error_new_literal (
          BL_ERROR, BL_ERROR_INPUT, _("A task needs words and a day: say what to do, and when"));

      bl_form_set_wrong (title[0] == '\0' ? own->title : own->day, TRUE);
      bl_board_report (own->board, error);
      return;
    }
  if (!bl_board_edit (own->board, _("Add a task"), move_own, &task))
    return;
  bl_form_set_text (own->title, "");
  bl_form_set_text (own->day, "");
  bl_form_set_text (own->hours, "");
}

GtkWidget *
bl_care_own_form (BlBoard *board)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *yearly, *button;
  Own *own = g_new0 (Own, 1);

  own->board = g_object_ref (board);
  own->title = bl_form_entry (NULL);
  own->day = bl_form_entry ("2027-04-30");
  own->hours = bl_form_entry ("0");
  yearly = bl_form_switch (_("Every year"), &own->yearly);
  button = bl_form_button (_("Add the task"), NULL, NULL);
  g_object_set_data_full (G_OBJECT (box), "bl-own", own, own_free);
  g_signal_connect (button, "clicked", G_CALLBACK (add_cb), own);
  gtk_box_append (GTK_BOX (box), bl_form_heading (_("A task of your own")));
  gtk_box_append (GTK_BOX (box), bl_form_field (_("What to do"), own->title));
  gtk_box_append (GTK_BOX (box), bl_form_pair (bl_form_field (_("Day"), own->day),
                                               bl_form_field (_("Hours"), own->hours)));
  gtk_box_append (GTK_BOX (box), yearly);
  gtk_box_append (GTK_BOX (box), button);
  return box;
}
