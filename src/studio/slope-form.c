/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the ground falls, stated for the photo: areas are then of the sloping surface. */

#include "config.h"

#include "studio/form.h"
#include "studio/known-list.h"
#include "studio/known-words.h"

#include <glib/gi18n.h>

typedef struct
{
  BlBoard *board; /* borrowed: the sheet keeps it while it is shown */
  GtkWidget *fall, *direction, *direction_field, *words;
  gboolean updating;
} SlopeForm;

#define N_DIRECTIONS 8

static gboolean
put_photo_info (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_photo_info (design, data, error);
}

static void
given_cb (GtkWidget *widget, gpointer data)
{
  SlopeForm *form = data;
  BlPhotoInfo info;
  guint at;

  if (form->board == NULL || form->updating)
    return;
  info = bl_board_get_model (form->board)->photo;
  if (!bl_fall_parse (bl_form_get_text (form->fall), &info.slope))
    {
      bl_form_set_wrong (form->fall, TRUE);
      bl_board_say (form->board, _("The fall is not understood: type it as 2 % or as 1 in 50, or "
                                   "leave it empty for level ground"));
      return;
    }
  bl_form_set_wrong (form->fall, FALSE);
  at = gtk_drop_down_get_selected (GTK_DROP_DOWN (form->direction));
  if (widget == form->direction && at < N_DIRECTIONS)
    info.slope_direction = at * G_PI / 4;
  bl_board_edit (form->board, _("State the fall of the ground"), put_photo_info, &info);
}

static void
chosen_cb (GtkWidget *choice, GParamSpec *pspec, SlopeForm *form)
{
  given_cb (choice, form);
}

void
bl_slope_form_update (GtkWidget *widget, BlBoard *board)
{
  SlopeForm *form = g_object_get_data (G_OBJECT (widget), "slope-form");
  const BlPhotoInfo *photo = &bl_board_get_model (board)->photo;
  g_autofree char *text = bl_fall_format (photo->slope);
  int at = (int) round (photo->slope_direction / (G_PI / 4)) % N_DIRECTIONS;

  form->board = board;
  form->updating = TRUE;
  bl_form_set_text (form->fall, text);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (form->direction),
                              (guint) (at < 0 ? at + N_DIRECTIONS : at));
  form->updating = FALSE;
  gtk_widget_set_visible (form->direction_field, photo->slope > 0);
  gtk_label_set_text (GTK_LABEL (form->words),
                      photo->slope > 0
                          ? _ ("Lengths and areas are those of the sloping surface.")
                          : _ ("The ground is taken to be level."));
}

GtkWidget *
bl_slope_form_new (void)
{
  const char *const words[N_DIRECTIONS + 1]
      = { _ ("Away from the lens"),   _ ("Away, to the right"),
          _ ("To the right"),         _ ("Toward, to the right"),
          _ ("Toward the lens"),      _ ("Toward, to the left"),
          _ ("To the left"),          _ ("Away, to the left"),
          NULL };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  SlopeForm *form = g_new0 (SlopeForm, 1);

  g_object_set_data_full (G_OBJECT (box), "slope-form", form, g_free);
  form->fall = bl_form_entry (_("level; or 2 %, 1 in 50"));
  form->direction = bl_form_choice (words);
  form->direction_field = bl_form_field (_("It falls"), form->direction);
  form->words = bl_form_text ("", "dim");
  bl_form_on_commit (form->fall, given_cb, form);
  g_signal_connect (form->direction, "notify::selected", G_CALLBACK (chosen_cb), form);
  gtk_box_append (GTK_BOX (box), bl_form_heading (_("Does the ground fall?")));
  gtk_box_append (GTK_BOX (box), bl_form_field (_("Fall of the ground"), form->fall));
  gtk_box_append (GTK_BOX (box), form->direction_field);
  gtk_box_append (GTK_BOX (box), form->words);
  return box;
}
