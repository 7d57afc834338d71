/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of what is known, each with how well it agrees; edited and taken away here. */

#include "config.h"

#include "studio/known-list.h"

#include "studio/form.h"
#include "studio/known-words.h"
#include "studio/sheets.h"
#include "studio/trial.h"

#include <glib/gi18n.h>

typedef struct
{
  gint64 id; /* 0 = the focal length that the photo's data say */
  GtkWidget *row, *words;
} Row;

typedef struct
{
  BlBoard *board; /* borrowed: the sheet keeps it while it is shown */
  GtkWidget *box, *worst;
  GArray *rows;
} KnownList;

static KnownList *
list_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "known-list");
}

static void
list_free (gpointer data)
{
  KnownList *self = data;

  g_array_unref (self->rows);
  g_free (self);
}

static gint64
id_of (GtkButton *button)
{
  return *(gint64 *) g_object_get_data (G_OBJECT (button), "id");
}

static void
remove_cb (GtkButton *button, KnownList *self)
{
  bl_board_select (self->board, BL_PICK_KNOWN, id_of (button), FALSE);
  bl_board_delete_selection (self->board);
}

static void
edit_cb (GtkButton *button, KnownList *self)
{
  const BlKnown *known = bl_model_known (bl_board_get_model (self->board), id_of (button));

  if (known == NULL)
    return;
  bl_board_select (self->board, BL_PICK_KNOWN, known->id, FALSE);
  bl_board_set_pending (self->board, bl_known_copy (known));
}

static GtkWidget *
row_button (KnownList *self, const char *icon, const char *name, GCallback callback, gint64 id)
{
  GtkWidget *button = bl_form_icon_button (icon, name, NULL);

  g_object_set_data_full (G_OBJECT (button), "id", g_memdup2 (&id, sizeof id), g_free);
  g_signal_connect (button, "clicked", callback, self);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  return button;
}

static void
add_row (KnownList *self, gint64 id, const char *title)
{
  GtkWidget *line = bl_form_line (4);
  GtkWidget *text = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Row row = { id, line, bl_form_text ("", "facts") };

  gtk_widget_set_hexpand (text, TRUE);
  gtk_widget_add_css_class (line, "entry-row");
  gtk_widget_add_css_class (row.words, "figure");
  gtk_box_append (GTK_BOX (text), bl_form_text (title, NULL));
  gtk_box_append (GTK_BOX (text), row.words);
  bl_form_line_add (line, text);
  if (id != 0)
    {
      bl_form_line_add (line, row_button (self, "bl-settings-symbolic", _("Change this known"),
                                                  G_CALLBACK (edit_cb), id));
      bl_form_line_add (line, row_button (self, "bl-remove-symbolic",
                                                  _("Take this known away"),
                                                  G_CALLBACK (remove_cb), id));
    }
  gtk_box_append (GTK_BOX (self->box), line);
  g_array_append_val (self->rows, row);
}

static void
rebuild_rows (KnownList *self, const BlModel *model)
{
  bl_form_clear (self->box);
  g_array_set_size (self->rows, 0);
  for (guint i = 0; i < model->knowns->len; i++)
    {
      const BlKnown *known = g_ptr_array_index (model->knowns, i);
      g_autofree char *sizes = bl_known_sizes (known, model->units);
      gboolean named = known->name != NULL && known->name[0] != '\0';
      g_autofree char *title = g_strdup_printf (
          "%s%s%s", named ? known->name : bl_known_title (known->kind), sizes != NULL ? ", " : "",
          sizes != NULL ? sizes : "");
      g_autoptr (GString) whole = g_string_new (title);

      /* Feet and their inches stay on one line. */
      g_string_replace (whole, "' ", "'\302\240", 0);
      add_row (self, known->id, whole->str);
    }
  if (model->knowns->len > 0 && model->photo.focal_35mm > 0)
    add_row (self, 0, _("Focal length of the photo"));
}

static char *
words_of (KnownList *self, const Row *row)
{
  const BlModel *model = bl_board_get_model (self->board);
  const BlSolution *solution = bl_board_get_solution (self->board);
  const BlTrial *trial = bl_board_get_trial (self->board);
  const BlKnown *known = bl_model_known (model, row->id);

  if (row->id == 0)
    return bl_focal_agreement (solution, model->photo.focal_35mm);
  if (trial != NULL && trial->known->id == row->id)
    known = trial->known;
  return known != NULL ? bl_known_agreement (known, solution, bl_board_click_px (self->board),
                                             model->units)
                       : NULL;
}

static void
set_class (GtkWidget *widget, const char *name, gboolean set)
{
  if (set)
    gtk_widget_add_css_class (widget, name);
  else
    gtk_widget_remove_css_class (widget, name);
}

void
bl_known_list_update (GtkWidget *widget, BlBoard *board, gboolean rebuild)
{
  KnownList *self = list_of (widget);
  const BlSolution *solution = bl_board_get_solution (board);
  gint64 worst = bl_known_worst (solution);

  self->board = board;
  if (rebuild)
    rebuild_rows (self, bl_board_get_model (board));
  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = &g_array_index (self->rows, Row, i);
      g_autofree char *words = words_of (self, row);
      const BlKnownResidual *r = bl_known_residual (solution, row->id);

      gtk_label_set_text (GTK_LABEL (row->words), words != NULL ? words : "");
      gtk_widget_set_visible (row->words, words != NULL);
      set_class (row->words, "wrong",
                 row->id == worst || (r != NULL && fabs (r->normalised) > 3));
    }
  gtk_widget_set_visible (self->worst, solution != NULL && solution->message != NULL);
  gtk_label_set_text (GTK_LABEL (self->worst),
                      solution != NULL && solution->message != NULL ? solution->message : "");
  set_class (self->worst, "wrong", worst >= 0);
}

GtkWidget *
bl_known_list_new (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  KnownList *self = g_new0 (KnownList, 1);

  self->rows = g_array_new (FALSE, TRUE, sizeof (Row));
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->worst = bl_form_text ("", NULL);
  g_object_set_data_full (G_OBJECT (box), "known-list", self, list_free);
  gtk_box_append (GTK_BOX (box), self->box);
  gtk_box_append (GTK_BOX (box), self->worst);
  return box;
}
