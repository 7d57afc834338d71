/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tape measurements between named points: a small form for the sheet of what is known. */

#include "config.h"

#include "studio/form.h"
#include "studio/sheets.h"
#include "studio/tape-form.h"

#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  BlBoard *board; /* borrowed: the sheet keeps it while it is shown */
  GtkWidget *from, *to, *distance, *list, *words;
} TapeForm;

static TapeForm *
form_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "tape-form");
}

static gboolean
put_tape (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_tape (design, data, error);
}

static guint
point_named (BlTape *tape, const char *name)
{
  int at = bl_tape_find (tape, name);

  return at >= 0 ? (guint) at : bl_tape_add_point (tape, name);
}

static void
add_cb (TapeForm *form)
{
  g_autofree char *from = g_strstrip (g_strdup (bl_form_get_text (form->from)));
  g_autofree char *to = g_strstrip (g_strdup (bl_form_get_text (form->to)));
  g_autoptr (BlTape) tape = NULL;
  guint first, second;
  double metres;

  if (form->board == NULL)
    return;
  bl_form_set_wrong (form->from, from[0] == '\0');
  bl_form_set_wrong (form->to, to[0] == '\0' || g_str_equal (from, to));
  if (from[0] == '\0' || to[0] == '\0' || g_str_equal (from, to))
    {
      bl_board_say (form->board,
                    _ ("A taped distance needs two different points: give each a letter"));
      return;
    }
  if (!bl_sheet_read_length (form->board, form->distance, 0, &metres))
    return;
  if (metres <= 0)
    {
      bl_form_set_wrong (form->distance, TRUE);
      bl_board_say (form->board, _("A taped distance is longer than nothing"));
      return;
    }
  tape = bl_board_get_model (form->board)->tape != NULL
           ? bl_tape_copy (bl_board_get_model (form->board)->tape) : bl_tape_new ();
  first = point_named (tape, from);
  second = point_named (tape, to);
  bl_tape_add_distance (tape, first, second, metres, 0);
  if (!bl_board_edit (form->board, _("Add a taped distance"), put_tape, tape))
    return;
  gtk_editable_set_text (GTK_EDITABLE (form->distance), "");
  gtk_widget_grab_focus (form->from);
}

static void
remove_cb (GtkButton *button, TapeForm *form)
{
  guint at = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "index"));
  const BlTape *old = bl_board_get_model (form->board)->tape;
  g_autoptr (BlTape) tape = bl_tape_new ();

  for (guint i = 0; old != NULL && i < old->distances->len; i++)
    {
      const BlTapeDistance *d = &g_array_index (old->distances, BlTapeDistance, i);

      if (i != at)
        {
          guint first = point_named (tape, g_array_index (old->points, BlTapePoint, d->from).name);
          guint second = point_named (tape, g_array_index (old->points, BlTapePoint, d->to).name);

          bl_tape_add_distance (tape, first, second, d->distance, d->sd);
        }
    }
  for (guint i = 0; old != NULL && i < old->points->len; i++)
    {
      const BlTapePoint *point = &g_array_index (old->points, BlTapePoint, i);
      int now = bl_tape_find (tape, point->name);

      if (point->fixed && now >= 0)
        bl_tape_fix (tape, (guint) now, point->at);
    }
  bl_board_edit (form->board, _("Take a taped distance away"), put_tape,
                 tape->distances->len > 0 ? tape : NULL);
}

void
bl_tape_form_update (GtkWidget *widget, BlBoard *board)
{
  TapeForm *form = form_of (widget);
  const BlModel *model = bl_board_get_model (board);
  const BlTape *tape = model->tape;

  form->board = board;
  bl_form_clear (form->list);
  for (guint i = 0; tape != NULL && i < tape->distances->len; i++)
    {
      const BlTapeDistance *d = &g_array_index (tape->distances, BlTapeDistance, i);
      g_autofree char *length = bl_length_format (d->distance, model->units);
      g_autofree char *text = g_strdup_printf ("%s – %s   %s%s",
        g_array_index (tape->points, BlTapePoint, d->from).name,
        g_array_index (tape->points, BlTapePoint, d->to).name, length,
        tape->worst == (int) i ? _(", disagrees most") : "");
      GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
      GtkWidget *label = bl_form_text (text, NULL);
      GtkWidget *button
          = bl_form_icon_button ("bl-remove-symbolic", _ ("Take this distance away"), NULL);

      gtk_widget_set_hexpand (label, TRUE);
      g_object_set_data (G_OBJECT (button), "index", GUINT_TO_POINTER (i));
      g_signal_connect (button, "clicked", G_CALLBACK (remove_cb), form);
      gtk_box_append (GTK_BOX (row), label);
      gtk_box_append (GTK_BOX (row), button);
      gtk_widget_add_css_class (row, "entry-row");
      gtk_box_append (GTK_BOX (form->list), row);
    }
  gtk_label_set_text (
      GTK_LABEL (form->words),
      tape == NULL
          ? _ ("Name points by letters and tape between them: two distances fix a point, a third "
               "checks it.")
      : tape->message != NULL ? tape->message
      : tape->adjusted        ? _ ("The distances fit together.")
                              : _ ("Not enough distances yet to place every point."));
}

GtkWidget *
bl_tape_form_new (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *add = bl_form_button (_("Add this distance"), "bl-add-symbolic", NULL);
  TapeForm *form = g_new0 (TapeForm, 1);

  g_object_set_data_full (G_OBJECT (box), "tape-form", form, g_free);
  form->from = bl_form_entry ("A");
  form->to = bl_form_entry ("B");
  form->distance = bl_form_entry ("12' 6\"");
  form->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  form->words = bl_form_text ("", "dim");
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (add_cb), form);
  g_signal_connect_swapped (form->distance, "activate", G_CALLBACK (add_cb), form);
  gtk_box_append (GTK_BOX (box), bl_form_heading (_("Tape measurements")));
  gtk_box_append (GTK_BOX (box), form->words);
  gtk_box_append (GTK_BOX (box), form->list);
  gtk_box_append (GTK_BOX (box), bl_form_pair (bl_form_field (_("From"), form->from),
                                               bl_form_field (_("To"), form->to)));
  gtk_box_append (GTK_BOX (box), bl_form_field (_("Distance"), form->distance));
  gtk_box_append (GTK_BOX (box), add);
  return box;
}
