/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pane of care: the calendar's tasks, done or not, each opening to how and why, another day and the
 * way out; and tasks of the person's own. */

#include "config.h"

#include "studio/care-line.h"
#include "studio/days.h"
#include "studio/form.h"
#include "studio/panes.h"
#include "studio/reckon.h"

#include <glib/gi18n.h>

#define BL_TYPE_PANE_CARE (bl_pane_care_get_type ())
G_DECLARE_FINAL_TYPE (BlPaneCare, bl_pane_care, BL, PANE_CARE, BlPart)

struct _BlPaneCare
{
  BlPart parent_instance;

  GtkWidget *head, *invented, *box, *own;
  char *open; /* uid of the opened task */
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (BlPaneCare, bl_pane_care, BL_TYPE_PART)

static void
done_cb (GtkCheckButton *check, BlPaneCare *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  BlCareMark mark = bl_care_mark_of (board, g_object_get_data (G_OBJECT (check), "uid"));

  if (self->updating)
    return;
  mark.done = gtk_check_button_get_active (check) ? bl_day_today () : 0;
  bl_board_put_care_mark (board, mark.done != 0 ? _ ("Mark a task as done")
                                                : _ ("Mark a task as not done"), &mark);
}

static void show (BlPaneCare *self);

static void
open_cb (GtkButton *button, BlPaneCare *self)
{
  const char *uid = g_object_get_data (G_OBJECT (button), "uid");
  gboolean close = g_strcmp0 (uid, self->open) == 0;

  g_free (self->open);
  self->open = close ? NULL : g_strdup (uid);
  show (self);
}

static char *
span_words (const BlTask *task)
{
  g_autofree char *from = bl_day_words_year (task->from);
  g_autofree char *to = bl_day_words_year (task->to);

  return task->from == task->to ? g_steal_pointer (&from)
                                : g_strdup_printf (_("%s to %s"), from, to);
}

static GtkWidget *
task_row (BlPaneCare *self, const BlTask *task)
{
  GtkWidget *row = bl_form_line (8),
            *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *all = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *open = gtk_button_new ();
  GtkWidget *check = gtk_check_button_new ();
  gboolean opened = g_strcmp0 (task->uid, self->open) == 0;
  g_autofree char *span = span_words (task);
  g_autofree char *when = g_strdup_printf (
      task->yearly ? _ ("%s, every year · %.1f h") : "%s · %.1f h", span, task->hours);
  g_autofree char *more = g_strconcat (when, task->moved ? _(" · day set by you") : "",
                                       task->own ? _(" · your own") : "", NULL);
  g_autofree char *name = g_strdup_printf (_("Done: %s"), task->title);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), task->done);
  gtk_widget_set_valign (check, GTK_ALIGN_START);
  bl_form_call (check, name);
  g_object_set_data_full (G_OBJECT (check), "uid", g_strdup (task->uid), g_free);
  g_signal_connect (check, "toggled", G_CALLBACK (done_cb), self);
  gtk_box_append (GTK_BOX (words), bl_form_text (task->title, NULL));
  gtk_box_append (GTK_BOX (words), bl_form_text (more, "facts"));
  gtk_button_set_child (GTK_BUTTON (open), words);
  gtk_widget_set_hexpand (open, TRUE);
  gtk_widget_add_css_class (open, "flat");
  gtk_widget_add_css_class (open, "history");
  bl_form_call (open, task->title);
  gtk_accessible_update_state (GTK_ACCESSIBLE (open), GTK_ACCESSIBLE_STATE_EXPANDED, opened, -1);
  g_object_set_data_full (G_OBJECT (open), "uid", g_strdup (task->uid), g_free);
  g_signal_connect (open, "clicked", G_CALLBACK (open_cb), self);
  bl_form_line_add (row, check);
  bl_form_line_add (row, open);
  gtk_widget_add_css_class (row, "entry-row");
  gtk_widget_set_tooltip_text (row, task->what);
  gtk_box_append (GTK_BOX (all), row);
  if (opened)
    gtk_box_append (GTK_BOX (all), bl_care_line_form (bl_part_get_board (BL_PART (self)), task));
  return all;
}

static void
show (BlPaneCare *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  BlReckoning *reckoning = bl_board_get_reckoning (board);
  g_autofree char *head = NULL;
  int year = -1;

  if (reckoning == NULL)
    return;
  self->updating = TRUE;
  bl_form_clear (self->box);
  head = g_strdup_printf (_("%.0f hours in the first year, then %.0f a year"),
                          reckoning->care->hours_first_year, reckoning->care->hours_later);
  gtk_label_set_text (GTK_LABEL (self->head), head);
  gtk_widget_set_visible (self->invented, reckoning->care->any_invented);
  for (guint i = 0; i < reckoning->care->tasks->len; i++)
    {
      const BlTask *task = &g_array_index (reckoning->care->tasks, BlTask, i);
      g_autoptr (GDate) from = g_date_new_julian (task->from);

      if (g_date_get_year (from) != year)
        {
          g_autofree char *title = g_strdup_printf ("%d", g_date_get_year (from));

          gtk_box_append (GTK_BOX (self->box), bl_form_heading (title));
        }
      year = g_date_get_year (from);
      gtk_box_append (GTK_BOX (self->box), task_row (self, task));
    }
  self->updating = FALSE;
}

static void
update_care (BlPart *part, guint what)
{
  BlPaneCare *self = BL_PANE_CARE (part);
  BlBoard *board = bl_part_get_board (part);

  if ((what & BL_BOARD_ALL) == BL_BOARD_ALL)
    {
      bl_form_clear (self->own);
      gtk_box_append (GTK_BOX (self->own), bl_care_own_form (board));
    }
  if ((what & BL_BOARD_RECKON) != 0)
    show (self);
}

static void
bl_pane_care_finalize (GObject *object)
{
  g_free (BL_PANE_CARE (object)->open);
  G_OBJECT_CLASS (bl_pane_care_parent_class)->finalize (object);
}


static void
bl_pane_care_class_init (BlPaneCareClass *klass)
{
  BL_PART_CLASS (klass)->update = update_care;
  G_OBJECT_CLASS (klass)->finalize = bl_pane_care_finalize;
}

static void
bl_pane_care_init (BlPaneCare *self)
{
  GtkWidget *all;

  self->head = bl_form_text (_("Working it out…"), "figure");
  self->invented
      = bl_form_text (_("The hours rest on Bedline's invented rates: put your own into the price book."),
                      "advice");
  gtk_widget_set_visible (self->invented, FALSE);
  gtk_box_append (GTK_BOX (self), self->head);
  gtk_box_append (GTK_BOX (self), self->invented);
  all = bl_pane_scrolled (GTK_WIDGET (self));
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->own = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_margin_top (self->own, 12);
  gtk_box_append (GTK_BOX (all), self->box);
  gtk_box_append (GTK_BOX (all), self->own);
}

GtkWidget *
bl_pane_care_new (void)
{
  return g_object_new (BL_TYPE_PANE_CARE, NULL);
}
