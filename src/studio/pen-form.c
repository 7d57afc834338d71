/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant in hand, or the one planting selected: spacing, size, lattice, note. */

#include "config.h"

#include "studio/form.h"
#include "studio/pen-form.h"

#include "base/say.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

typedef struct
{
  BlBoard *board; /* borrowed: the shelf keeps it while it is shown */
  gint64 planting; /* 0: the pen */
  GtkWidget *title, *name, *spacing, *square, *size, *note, *note_field, *size_field, *box, *swap;
  gboolean updating;
} PenForm;

static const BlPlanting *
planting_of (PenForm *form)
{
  return form->planting != 0 ? bl_model_planting (bl_board_get_model (form->board), form->planting)
                             : NULL;
}

static void
spacing_given_cb (GtkWidget *entry, gpointer data)
{
  PenForm *form = data;
  const BlPlanting *old;
  double spacing;

  if (form->board == NULL || form->updating
      || !bl_sheet_read_length (form->board, form->spacing, 0, &spacing))
    return;
  if (spacing < 0 || (spacing > 0 && spacing < 0.02) || spacing > 20)
    {
      bl_form_set_wrong (form->spacing, TRUE);
      bl_board_say (form->board, _("A spacing lies between 2 cm (1 in) and 20 m (65 ft)"));
      return;
    }
  old = planting_of (form);
  if (old == NULL)
    bl_board_set_spacing (form->board, spacing, gtk_switch_get_active (GTK_SWITCH (form->square)));
  else
    {
      g_autoptr (BlPlanting) planting = bl_planting_copy (old);

      planting->spacing = spacing;
      bl_board_put_planting (form->board, _("Change the spacing"), planting);
    }
}

static void
square_set_cb (PenForm *form)
{
  const BlPlanting *old;
  gboolean square = gtk_switch_get_active (GTK_SWITCH (form->square));

  if (form->board == NULL || form->updating)
    return;
  old = planting_of (form);
  if (old == NULL)
    bl_board_set_spacing (form->board, bl_board_get_pen (form->board)->spacing, square);
  else
    {
      g_autoptr (BlPlanting) planting = bl_planting_copy (old);

      planting->square = square;
      bl_board_put_planting (form->board, _("Change the lattice"), planting);
    }
}

static void
size_chosen_cb (PenForm *form)
{
  const BlPlanting *old = form->board != NULL && !form->updating ? planting_of (form) : NULL;
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (form->size));
  BlPlant *plant
      = old != NULL ? bl_model_plant (bl_board_get_model (form->board), old->slug) : NULL;

  if (plant == NULL || at >= plant->n_sizes)
    return;
  {
    g_autoptr (BlPlanting) planting = bl_planting_copy (old);

    g_free (planting->size);
    planting->size = g_strdup (plant->sizes[at].name);
    bl_board_put_planting (form->board, _("Change the size bought"), planting);
  }
}

static void
note_given_cb (GtkWidget *entry, gpointer data)
{
  PenForm *form = data;
  const BlPlanting *old = form->board != NULL ? planting_of (form) : NULL;

  if (old != NULL)
    {
      g_autoptr (BlPlanting) planting = bl_planting_copy (old);

      g_free (planting->note);
      planting->note = g_strdup (bl_form_get_text (entry));
      bl_board_put_planting (form->board, _("Change the note"), planting);
    }
}

static void
show_sizes (PenForm *form, const BlPlant *plant, const char *size)
{
  const char *names[BL_MAX_SIZES + 1] = { NULL };
  g_autoptr (GtkStringList) list = NULL;
  guint selected = 0;

  for (guint i = 0; i < plant->n_sizes; i++)
    {
      names[i] = bl_say (bl_say_window (), plant->sizes[i].name);
      if (g_strcmp0 (size, names[i]) == 0)
        selected = i;
    }
  list = gtk_string_list_new (names);
  gtk_drop_down_set_model (GTK_DROP_DOWN (form->size), G_LIST_MODEL (list));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (form->size), selected);
}

/* A selected planting can be swapped for the plant in hand, which the button names. */
static void
offer_swap (PenForm          *form,
            BlBoard          *board,
            const BlPlanting *planting)
{
  const char *slug = bl_board_get_pen (board)->slug;
  gboolean offered = planting != NULL && slug != NULL && !g_str_equal (slug, planting->slug);
  g_autoptr (BlPlant) plant = offered ? bl_board_dup_plant (board, slug) : NULL;

  gtk_widget_set_visible (form->swap, plant != NULL);
  if (plant != NULL)
    {
      g_autofree char *name = bl_plant_name (plant);
      g_autofree char *words = g_strdup_printf (_("Swap everywhere for %s"), name);

      gtk_label_set_text (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (form->swap))), words);
      gtk_widget_set_tooltip_text (form->swap, words);
      bl_form_call (form->swap, words);
    }
}

void
bl_pen_form_update (GtkWidget *widget, BlBoard *board, guint what)
{
  PenForm *form = g_object_get_data (G_OBJECT (widget), "pen-form");
  const GArray *selection = bl_board_get_selection (board);
  const BlModel *model = bl_board_get_model (board);
  const BlPlanting *planting;
  g_autoptr (BlPlant) plant = NULL;
  g_autofree char *markup = NULL, *spacing = NULL;

  if ((what & (BL_BOARD_MODEL | BL_BOARD_SELECTION | BL_BOARD_PEN | BL_BOARD_ALTERNATIVE)) == 0)
    return;
  form->board = board;
  form->planting
      = selection->len == 1 && g_array_index (selection, BlPick, 0).kind == BL_PICK_PLANTING
            ? g_array_index (selection, BlPick, 0).id
            : 0;
  planting = planting_of (form);
  plant = bl_board_dup_plant (board,
                              planting != NULL ? planting->slug : bl_board_get_pen (board)->slug);
  gtk_widget_set_visible (form->box, plant != NULL);
  if (plant == NULL)
    return;
  form->updating = TRUE;
  markup = bl_plant_name_markup (plant);
  gtk_label_set_markup (GTK_LABEL (form->name), markup);
  gtk_label_set_text (GTK_LABEL (form->title), planting == NULL ? _("In hand")
                      : bl_form_title (planting->form));
  spacing = bl_spacing_format (planting != NULL ? bl_planting_spacing (model, planting)
                               : bl_board_get_pen (board)->spacing > 0
                                   ? bl_board_get_pen (board)->spacing
                                   : plant->spacing,
                               model->units);
  bl_form_set_text (form->spacing, spacing);
  gtk_switch_set_active (GTK_SWITCH (form->square),
                         planting != NULL ? planting->square : bl_board_get_pen (board)->square);
  gtk_widget_set_visible (form->size_field, planting != NULL && plant->n_sizes > 0);
  gtk_widget_set_visible (form->note_field, planting != NULL);
  offer_swap (form, board, planting);
  if (planting != NULL)
    {
      show_sizes (form, plant, planting->size);
      bl_form_set_text (form->note, planting->note);
    }
  form->updating = FALSE;
}

GtkWidget *
bl_pen_form_new (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  PenForm *form = g_new0 (PenForm, 1);

  g_object_set_data_full (G_OBJECT (box), "pen-form", form, g_free);
  form->box = box;
  gtk_widget_add_css_class (box, "card");
  form->title = bl_form_text ("", "field-label");
  form->name = bl_form_text ("", "botanical");
  form->spacing = bl_form_entry (NULL);
  bl_form_on_commit (form->spacing, spacing_given_cb, form);
  gtk_box_append (GTK_BOX (box), form->title);
  gtk_box_append (GTK_BOX (box), form->name);
  gtk_box_append (GTK_BOX (box), bl_form_field (_("Spacing on centre"), form->spacing));
  gtk_box_append (GTK_BOX (box), bl_form_switch (_("Square instead of staggered"), &form->square));
  g_signal_connect_swapped (form->square, "notify::active", G_CALLBACK (square_set_cb), form);
  form->size = bl_form_choice ((const char *const[]) { NULL });
  g_signal_connect_swapped (form->size, "notify::selected", G_CALLBACK (size_chosen_cb), form);
  form->size_field = bl_form_field (_("Size bought"), form->size);
  gtk_box_append (GTK_BOX (box), form->size_field);
  form->note = bl_form_entry (NULL);
  bl_form_on_commit (form->note, note_given_cb, form);
  form->note_field = bl_form_field (_("Note in the schedule"), form->note);
  gtk_box_append (GTK_BOX (box), form->note_field);
  form->swap = bl_form_button ("", NULL, "win.swap-plant");
  gtk_label_set_ellipsize (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (form->swap))),
                           PANGO_ELLIPSIZE_END);
  gtk_box_append (GTK_BOX (box), form->swap);
  return box;
}
