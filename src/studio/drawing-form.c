/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The base drawing's known length and place: a small form for the sheet of what is known. */

#include "config.h"

#include "studio/drawing-form.h"

#include "studio/form.h"
#include "studio/sheets.h"
#include "studio/underlay.h"

#include <glib/gi18n.h>

typedef struct
{
  BlBoard *board; /* borrowed: the sheet keeps it while it is shown */
  GtkWidget *row, *title, *words, *point_out;
  GtkWidget *slip, *length, *sd;
  GtkWidget *place_box, *x, *y, *turn;
} DrawingForm;

static DrawingForm *
form_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "drawing-form");
}

static const BlDrawing *
drawing_of (DrawingForm *form)
{
  return &bl_board_get_model (form->board)->drawing;
}

/* The relative standard deviation of all lengths on the drawing. */
static double
scale_sd (const BlCamera *camera)
{
  return sqrt (camera->cov[BL_CAM_HEIGHT * BL_CAM_N + BL_CAM_HEIGHT]);
}

/* ---- the known length ---- */

static void
tell_length (DrawingForm *form, const BlModel *model)
{
  const BlCamera *camera = bl_model_camera_of (model, BL_FROM_DRAWING);
  gboolean scaled = camera != NULL && camera->scaled;
  double unit = model->units == BL_UNITS_METRES ? 1 : BL_METRES_PER_FOOT;
  g_autofree char *length = NULL, *title = NULL, *words = NULL;

  gtk_widget_set_visible (form->row, scaled);
  gtk_widget_set_visible (form->place_box, scaled);
  bl_form_call (form->point_out, scaled ? _("Point out another length") : _("Point out a known length"));
  if (!scaled)
    return;
  length = bl_length_format (model->drawing.length, model->units);
  title = g_strdup_printf (_("Known length, %s"), length);
  words = g_strdup_printf (model->units == BL_UNITS_METRES
                               ? _("%.1f pixels a metre, sure to ± %.2g %%")
                               : _("%.1f pixels a foot, sure to ± %.2g %%"),
                           camera->focal / camera->eye * unit, 196 * scale_sd (camera));
  gtk_label_set_text (GTK_LABEL (form->title), title);
  gtk_label_set_text (GTK_LABEL (form->words), words);
}

static void
keep_cb (DrawingForm *form)
{
  const BlDrawing *proposed = form->board != NULL ? bl_board_get_proposed_drawing (form->board) : NULL;
  BlDrawing drawing;
  g_autoptr (GError) error = NULL;

  if (proposed == NULL)
    return;
  drawing = *proposed;
  if (!bl_sheet_read_length (form->board, form->length, 0, &drawing.length)
      || !bl_sheet_read_length (form->board, form->sd, 0, &drawing.sd))
    return;
  bl_form_set_wrong (form->length, drawing.length <= 0);
  if (drawing.length <= 0)
    {
      bl_board_say (form->board, _("Type how long it is between the two ends: 40 ft, 12.5 m"));
      return;
    }
  if (!bl_drawing_check (&drawing, &error))
    {
      bl_board_report (form->board, error);
      return;
    }
  if (bl_board_put_drawing (form->board,
                            drawing_of (form)->length > 0 ? _("Change the drawing's known length")
                                                          : _("State the drawing's known length"),
                            &drawing))
    bl_board_propose_drawing (form->board, NULL);
}

static void
give_up_cb (DrawingForm *form)
{
  if (form->board != NULL)
    bl_board_propose_drawing (form->board, NULL);
}

static void
change_cb (DrawingForm *form)
{
  if (form->board != NULL)
    bl_board_propose_drawing (form->board, drawing_of (form));
}

static void
show_slip (DrawingForm *form)
{
  const BlDrawing *proposed = bl_board_get_proposed_drawing (form->board);
  BlUnits units = bl_board_get_model (form->board)->units;
  g_autofree char *length = NULL, *sd = NULL;

  gtk_widget_set_visible (form->slip, proposed != NULL);
  if (proposed == NULL)
    return;
  length = proposed->length > 0 ? bl_length_format_decimal (proposed->length, units, 3) : g_strdup ("");
  sd = proposed->sd <= 0             ? g_strdup ("")
       : units == BL_UNITS_METRES ? g_strdup_printf ("%.3g m", proposed->sd)
                                     : g_strdup_printf ("%.3g in", proposed->sd / BL_METRES_PER_INCH);
  gtk_editable_set_text (GTK_EDITABLE (form->length), length);
  gtk_editable_set_text (GTK_EDITABLE (form->sd), sd);
  bl_form_set_wrong (form->length, FALSE);
  bl_form_set_wrong (form->sd, FALSE);
  gtk_widget_grab_focus (form->length);
}

/* ---- where it lies ---- */

static void
tell_place (DrawingForm *form, const BlModel *model)
{
  const BlCamera *camera = bl_model_camera_of (model, BL_FROM_DRAWING);
  BlPoint at;
  g_autofree char *turn = g_strdup_printf ("%.4g", model->drawing.turn * 180 / G_PI);

  if (camera == NULL || !bl_camera_to_ground (camera, model->drawing.ends[0], &at))
    return;
  {
    g_autofree char *x = bl_length_format_decimal (at.x, model->units, 2);
    g_autofree char *y = bl_length_format_decimal (at.y, model->units, 2);

    bl_form_set_text (form->x, x);
    bl_form_set_text (form->y, y);
  }
  bl_form_set_text (form->turn, model->drawing.turn == 0 ? "" : turn);
}

static void
placed_cb (GtkWidget *entry, gpointer data)
{
  DrawingForm *form = data;
  BlDrawing drawing;
  double degrees;

  if (form->board == NULL || bl_model_camera_of (bl_board_get_model (form->board), BL_FROM_DRAWING) == NULL)
    return;
  drawing = *drawing_of (form);
  if (!bl_sheet_read_number (form->board, form->turn, 0, &degrees))
    return;
  drawing.turn = degrees * G_PI / 180;
  if (entry != form->turn
      && (!bl_sheet_read_length (form->board, form->x, 0, &drawing.place.x)
          || !bl_sheet_read_length (form->board, form->y, 0, &drawing.place.y)))
    return;
  bl_board_put_drawing (form->board, _("Place the base drawing"), &drawing);
}

/* ---- all of it ---- */

void
bl_drawing_form_update (GtkWidget *widget, BlBoard *board, gboolean pending)
{
  DrawingForm *form = form_of (widget);
  const BlModel *model = bl_board_get_model (board);

  form->board = board;
  gtk_widget_set_visible (widget, model->drawing.width > 0);
  if (pending)
    show_slip (form);
  tell_length (form, model);
  tell_place (form, model);
}

static GtkWidget *
make_row (DrawingForm *form)
{
  GtkWidget *text = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *change = bl_form_icon_button ("bl-settings-symbolic", _("Change the known length"), NULL);

  form->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  form->title = bl_form_text ("", NULL);
  form->words = bl_form_text ("", "facts");
  gtk_widget_add_css_class (form->row, "entry-row");
  gtk_widget_add_css_class (form->words, "figure");
  gtk_widget_set_hexpand (text, TRUE);
  gtk_widget_set_valign (change, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (text), form->title);
  gtk_box_append (GTK_BOX (text), form->words);
  gtk_box_append (GTK_BOX (form->row), text);
  gtk_box_append (GTK_BOX (form->row), change);
  g_signal_connect_swapped (change, "clicked", G_CALLBACK (change_cb), form);
  return form->row;
}

static GtkWidget *
make_slip (DrawingForm *form)
{
  GtkWidget *keep = bl_form_button (_("Keep it"), NULL, NULL);
  GtkWidget *drop = bl_form_button (_("Give up"), NULL, NULL);

  form->slip = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  form->length = bl_form_entry (_("40 ft, 12' 6\", 3.8 m"));
  form->sd = bl_form_entry (_("as usual"));
  gtk_widget_add_css_class (form->slip, "slip");
  gtk_widget_add_css_class (keep, "suggested-action");
  gtk_box_append (GTK_BOX (form->slip), bl_form_text (_("How long is it, between the two ends?"),
                                                      "slip-title"));
  gtk_box_append (GTK_BOX (form->slip), bl_form_field (_("Length"), form->length));
  gtk_box_append (GTK_BOX (form->slip),
                  bl_form_field (_("Sure to about ± (standard deviation)"), form->sd));
  gtk_box_append (GTK_BOX (form->slip), bl_form_pair (keep, drop));
  g_signal_connect_swapped (keep, "clicked", G_CALLBACK (keep_cb), form);
  g_signal_connect_swapped (drop, "clicked", G_CALLBACK (give_up_cb), form);
  g_signal_connect_swapped (form->length, "activate", G_CALLBACK (keep_cb), form);
  g_signal_connect_swapped (form->sd, "activate", G_CALLBACK (keep_cb), form);
  gtk_widget_set_visible (form->slip, FALSE);
  return form->slip;
}

static GtkWidget *
make_place (DrawingForm *form)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  form->place_box = gtk_expander_new (_("Where it lies in the plan"));
  form->x = bl_form_entry (NULL);
  form->y = bl_form_entry (NULL);
  form->turn = bl_form_entry (_("upright"));
  bl_form_on_commit (form->x, placed_cb, form);
  bl_form_on_commit (form->y, placed_cb, form);
  bl_form_on_commit (form->turn, placed_cb, form);
  gtk_box_append (GTK_BOX (box), bl_form_text (_("The length's first end, and how far the drawing is "
                                                 "turned to the left."), "dim"));
  gtk_box_append (GTK_BOX (box), bl_form_pair (bl_form_field (_("To the right (x)"), form->x),
                                               bl_form_field (_("Away (y)"), form->y)));
  gtk_box_append (GTK_BOX (box), bl_form_field (_("Turned by, degrees"), form->turn));
  gtk_widget_set_margin_top (box, 8);
  gtk_expander_set_child (GTK_EXPANDER (form->place_box), box);
  return form->place_box;
}

GtkWidget *
bl_drawing_form_new (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  DrawingForm *form = g_new0 (DrawingForm, 1);

  g_object_set_data_full (G_OBJECT (box), "drawing-form", form, g_free);
  gtk_box_append (GTK_BOX (box), bl_form_heading (_("What do you know of the drawing?")));
  form->point_out
      = bl_form_hand ("bl-length-symbolic", _("Point out a known length"), "win.hand", "scale");
  gtk_box_append (GTK_BOX (box), form->point_out);
  gtk_box_append (GTK_BOX (box), make_slip (form));
  gtk_box_append (GTK_BOX (box), make_row (form));
  gtk_box_append (GTK_BOX (box), make_place (form));
  return box;
}

/* A length as long as the drawing offers, but at most twice the present one. */
static BlDrawing
with_longer (const BlDrawing *drawing)
{
  BlDrawing longer = *drawing;
  BlPoint along = bl_sub (drawing->ends[1], drawing->ends[0]);
  double times = MIN (2, 0.9 * MAX (drawing->width, drawing->height) / bl_norm (along));

  longer.ends[1] = bl_add (drawing->ends[0], bl_mul (along, MAX (times, 1)));
  longer.length *= MAX (times, 1);
  return longer;
}

char *
bl_drawing_advice (const BlModel *model, const BlMeasured *area)
{
  const BlCamera *camera = bl_model_camera_of (model, BL_FROM_DRAWING);
  BlDrawing longer;
  double now, clicks, then;
  BlCamera seen;

  if (camera == NULL || !camera->scaled || !(area->value > 0))
    return NULL;
  longer = with_longer (&model->drawing);
  if (!bl_drawing_camera (&longer, &seen, NULL))
    return NULL;
  now = area->sd / area->value;
  clicks = now * now - 4 * scale_sd (camera) * scale_sd (camera);
  then = sqrt (MAX (clicks, 0) + 4 * scale_sd (&seen) * scale_sd (&seen));
  if (then < 0.9 * now)
    {
      g_autofree char *length = bl_length_format (longer.length, model->units);

      return g_strdup_printf (_("Point out a longer length, such as %s: ± %.2g %% becomes ± %.2g %%."),
                              length, 196 * now, 196 * then);
    }
  return now > 0.01 && clicks > 0.5 * now * now
           ? g_strdup (_("Most of what is unsure comes from the clicks: zoom in and point out the length "
                         "again."))
           : NULL;
}
