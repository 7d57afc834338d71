/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tape measurements between named points: a small form for the sheet of what is known. */

#include "config.h"

#include "studio/form.h"
#include "studio/sheets.h"
#include "studio/tape-form.h"
#include "survey/traverse.h"

#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  BlBoard *board; /* borrowed: the sheet keeps it while it is shown */
  GtkWidget *from, *to, *distance, *list, *words, *quality;
  GtkWidget *along, *offset, *point;
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

static char *
name_in (GtkWidget *entry)
{
  return g_strstrip (g_strdup (bl_form_get_text (entry)));
}

/* Both names, (transfer full); FALSE when they do not name two points. */
static gboolean
read_ends (TapeForm *form, char **from, char **to)
{
  gboolean good;

  *from = name_in (form->from);
  *to = name_in (form->to);
  good = (*from)[0] != '\0' && (*to)[0] != '\0' && !g_str_equal (*from, *to);
  bl_form_set_wrong (form->from, (*from)[0] == '\0');
  bl_form_set_wrong (form->to, (*to)[0] == '\0' || g_str_equal (*from, *to));
  if (!good)
    bl_board_say (form->board,
                  _ ("A taped distance needs two different points: give each a letter"));
  return good;
}

static void
add_cb (TapeForm *form)
{
  g_autofree char *from = NULL, *to = NULL;
  g_autoptr (BlTape) tape = NULL;
  guint first, second;
  double metres;

  if (form->board == NULL || !read_ends (form, &from, &to))
    return;
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

/* A point so far along a baseline and so far beside it. The baseline's ends are held where they are,
 * as the point is measured from there. */
static void
offset_cb (TapeForm *form)
{
  g_autofree char *from = NULL, *to = NULL, *name = name_in (form->point);
  const BlTape *old = form->board != NULL ? bl_board_get_model (form->board)->tape : NULL;
  g_autoptr (BlTape) tape = NULL;
  double along, offset;
  int ends[2];
  BlPoint at[2], point;

  if (form->board == NULL || !read_ends (form, &from, &to)
      || !bl_sheet_read_length (form->board, form->along, 0, &along)
      || !bl_sheet_read_length (form->board, form->offset, 0, &offset))
    return;
  bl_form_set_wrong (form->point, name[0] == '\0' || (old != NULL && bl_tape_find (old, name) >= 0));
  if (name[0] == '\0' || (old != NULL && bl_tape_find (old, name) >= 0))
    {
      bl_board_say (form->board, _("The new point needs a name that no other point has"));
      return;
    }
  ends[0] = old != NULL && old->adjusted ? bl_tape_find (old, from) : -1;
  ends[1] = old != NULL && old->adjusted ? bl_tape_find (old, to) : -1;
  if (ends[0] < 0 || ends[1] < 0)
    {
      bl_board_say (form->board, _("Tape the baseline first: add the distance between its ends"));
      return;
    }
  tape = bl_tape_copy (old);
  for (int i = 0; i < 2; i++)
    {
      at[i] = g_array_index (old->points, BlTapePoint, ends[i]).at;
      bl_tape_fix (tape, (guint) ends[i], at[i]);
    }
  if (!bl_offset_point (at[0], at[1], along, offset, &point))
    {
      bl_board_say (form->board, _("The ends of the baseline lie in one place: tape it again"));
      return;
    }
  bl_tape_fix (tape, bl_tape_add_point (tape, name), point);
  if (!bl_board_edit (form->board, _("Add a point by its offset"), put_tape, tape))
    return;
  gtk_editable_set_text (GTK_EDITABLE (form->along), "");
  gtk_editable_set_text (GTK_EDITABLE (form->offset), "");
  gtk_editable_set_text (GTK_EDITABLE (form->point), "");
  gtk_widget_grab_focus (form->along);
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

      if (point->fixed)
        bl_tape_fix (tape, point_named (tape, point->name), point->at);
    }
  bl_board_edit (form->board, _("Take a taped distance away"), put_tape,
                 tape->points->len > 0 ? tape : NULL);
}

/* "A – B   12' 6", -0.4 in, 0.8 sd". */
static char *
distance_words (const BlTape *tape, guint at, BlUnits units)
{
  const BlTapeDistance *d = &g_array_index (tape->distances, BlTapeDistance, at);
  g_autofree char *length = bl_length_format (d->distance, units);
  GString *words = g_string_new (NULL);

  g_string_append_printf (words, "%s – %s   %s",
                          g_array_index (tape->points, BlTapePoint, d->from).name,
                          g_array_index (tape->points, BlTapePoint, d->to).name, length);
  if (tape->adjusted && tape->dof > 0 && isfinite (d->residual))
    {
      if (units == BL_UNITS_METRES)
        g_string_append_printf (words, _(", %+.0f mm to fit"), d->residual * 1000);
      else
        g_string_append_printf (words, _(", %+.1f in to fit"), d->residual / 0.0254);
      if (isfinite (d->normalised))
        g_string_append_printf (words, _(", %.1f sd"), fabs (d->normalised));
    }
  if (tape->worst == (int) at)
    g_string_append (words, _(", disagrees most"));
  return g_string_free (words, FALSE);
}

/* "3 distances more than needed; they close to 1:850; narrowest crossing 41°." */
static char *
quality_words (const BlTape *tape)
{
  GString *words;

  if (tape == NULL || !tape->adjusted)
    return NULL;
  words = g_string_new (NULL);
  if (tape->dof > 0)
    g_string_append_printf (words, ngettext ("%d distance more than needed", "%d distances more "
                                             "than needed", (gulong) tape->dof), tape->dof);
  else
    g_string_append (words, _("No distance more than needed: nothing checks them"));
  if (tape->dof > 0 && tape->relative > 1e-7)
    g_string_append_printf (words, _("; they close to 1:%.0f"), 1 / tape->relative);
  else if (tape->dof > 0)
    g_string_append (words, _("; they close exactly"));
  if (tape->distances->len > 1 && tape->weakest_angle > 0 && isfinite (tape->weakest_angle))
    g_string_append_printf (words, _("; narrowest crossing %.0f°"),
                            tape->weakest_angle * 180 / G_PI);
  return g_string_free (words, FALSE);
}

void
bl_tape_form_update (GtkWidget *widget, BlBoard *board)
{
  TapeForm *form = form_of (widget);
  const BlModel *model = bl_board_get_model (board);
  const BlTape *tape = model->tape;
  g_autofree char *quality = quality_words (tape);

  form->board = board;
  bl_form_clear (form->list);
  for (guint i = 0; tape != NULL && i < tape->distances->len; i++)
    {
      g_autofree char *text = distance_words (tape, i, model->units);
      GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
      GtkWidget *label = bl_form_text (text, tape->worst == (int) i ? "wrong" : NULL);
      GtkWidget *button
          = bl_form_icon_button ("bl-remove-symbolic", _ ("Take this distance away"), NULL);

      gtk_widget_set_hexpand (label, TRUE);
      gtk_widget_add_css_class (label, "figure");
      g_object_set_data (G_OBJECT (button), "index", GUINT_TO_POINTER (i));
      g_signal_connect (button, "clicked", G_CALLBACK (remove_cb), form);
      gtk_box_append (GTK_BOX (row), label);
      gtk_box_append (GTK_BOX (row), button);
      gtk_widget_add_css_class (row, "entry-row");
      gtk_box_append (GTK_BOX (form->list), row);
    }
  gtk_label_set_text (GTK_LABEL (form->quality), quality != NULL ? quality : "");
  gtk_widget_set_visible (form->quality, quality != NULL);
  gtk_label_set_text (
      GTK_LABEL (form->words),
      tape == NULL
          ? _ ("Name points by letters and tape between them: two distances fix a point, a third "
               "checks it.")
      : tape->message != NULL ? tape->message
      : tape->adjusted        ? _ ("The distances fit together.")
                              : _ ("Not enough distances yet to place every point."));
}

static GtkWidget *
offset_fields (TapeForm *form)
{
  GtkWidget *expander = gtk_expander_new (_("Offsets from a baseline"));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *add = bl_form_button (_("Add this point"), "bl-add-symbolic", NULL);

  form->along = bl_form_entry ("8 ft");
  form->offset = bl_form_entry ("3' 6\"");
  form->point = bl_form_entry ("P");
  gtk_box_append (GTK_BOX (box),
                  bl_form_text (_ ("The baseline runs between the two points above; both are held "
                                   "where they are."),
                                "dim"));
  gtk_box_append (GTK_BOX (box),
                  bl_form_pair (bl_form_field (_ ("Along it"), form->along),
                                bl_form_field (_ ("To its left (− right)"), form->offset)));
  gtk_box_append (GTK_BOX (box), bl_form_field (_("Name of the new point"), form->point));
  gtk_box_append (GTK_BOX (box), add);
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (offset_cb), form);
  g_signal_connect_swapped (form->point, "activate", G_CALLBACK (offset_cb), form);
  gtk_expander_set_child (GTK_EXPANDER (expander), box);
  return expander;
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
  form->quality = bl_form_text ("", "facts");
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (add_cb), form);
  g_signal_connect_swapped (form->distance, "activate", G_CALLBACK (add_cb), form);
  gtk_box_append (GTK_BOX (box), bl_form_heading (_("Tape measurements")));
  gtk_box_append (GTK_BOX (box), form->words);
  gtk_box_append (GTK_BOX (box), form->list);
  gtk_box_append (GTK_BOX (box), form->quality);
  gtk_box_append (GTK_BOX (box), bl_form_pair (bl_form_field (_("From"), form->from),
                                               bl_form_field (_("To"), form->to)));
  gtk_box_append (GTK_BOX (box), bl_form_field (_("Distance"), form->distance));
  gtk_box_append (GTK_BOX (box), add);
  gtk_box_append (GTK_BOX (box), offset_fields (form));
  return box;
}
