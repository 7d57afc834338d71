/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of the photo and the job: names, the picture, its focal length. */

#include "config.h"

#include "studio/form.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

#define BL_TYPE_SHEET_PHOTO (bl_sheet_photo_get_type ())
G_DECLARE_FINAL_TYPE (BlSheetPhoto, bl_sheet_photo, BL, SHEET_PHOTO, BlPart)

static const char *const text_names[] = { "title", "client", "place", "designer", "planting_day" };

struct _BlSheetPhoto
{
  BlPart parent_instance;

  GtkWidget *texts[G_N_ELEMENTS (text_names)];
  GtkWidget *units, *photo_words, *focal, *photo_box, *choose;
  GtkWidget *drawing_words, *choose_drawing, *remove_drawing;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (BlSheetPhoto, bl_sheet_photo, BL_TYPE_PART)

static void
update_photo (BlSheetPhoto *self, const BlModel *model)
{
  g_autofree char *focal = NULL;

  gtk_widget_set_visible (self->photo_box, model->photo.width > 0);
  bl_form_call (self->choose,
                model->photo.width > 0 ? _ ("Take another photo") : _ ("Choose a photo"));
  if (model->photo.width == 0)
    {
      gtk_label_set_text (
          GTK_LABEL (self->photo_words),
          _ ("No photo yet. Choose one, drop one here from the file manager, or work on "
             "the plan from tape measurements."));
      return;
    }
  {
    g_autofree char *words = g_strdup_printf (
        _ ("%s, %d × %d pixels"), model->photo.name != NULL ? model->photo.name : _ ("Photo"),
        model->photo.width, model->photo.height);

    gtk_label_set_text (GTK_LABEL (self->photo_words), words);
  }
  focal = model->photo.focal_35mm > 0 ? g_strdup_printf ("%.4g", model->photo.focal_35mm)
                                      : g_strdup ("");
  bl_form_set_text (self->focal, focal);
}

static void
update_drawing (BlSheetPhoto *self, const BlModel *model)
{
  const BlDrawing *drawing = &model->drawing;
  gboolean any = drawing->width > 0;
  g_autofree char *words = NULL;

  bl_form_call (self->choose_drawing, any ? _("Take another drawing") : _("Choose a base drawing"));
  gtk_widget_set_visible (self->remove_drawing, any);
  if (any)
    words = g_strdup_printf (_ ("%s, %d × %d pixels"),
                             drawing->name != NULL ? drawing->name : _ ("Drawing"), drawing->width,
                             drawing->height);
  gtk_label_set_text (GTK_LABEL (self->drawing_words),
                      any ? words
                          : _ ("A survey or any plan from elsewhere can lie under the plan, beside a photo "
                               "or instead of one. Choose a PNG, JPEG or SVG, or drop it on the plan."));
}

static void
update (BlPart *part, guint what)
{
  BlSheetPhoto *self = BL_SHEET_PHOTO (part);
  const BlModel *model = bl_board_get_model (bl_part_get_board (part));
  g_autofree char *day = NULL;
  const char *values[] = { model->title, model->client, model->place, model->designer, NULL };

  if ((what & (BL_BOARD_MODEL | BL_BOARD_PHOTO)) == 0)
    return;
  day = model->planting_day != 0 ? bl_day_format_iso (model->planting_day) : g_strdup ("");
  values[4] = day;
  for (guint i = 0; i < G_N_ELEMENTS (text_names); i++)
    bl_form_set_text (self->texts[i], values[i]);
  self->updating = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->units), model->units == BL_UNITS_METRES ? 1 : 0);
  self->updating = FALSE;
  update_photo (self, model);
  update_drawing (self, model);
}

static void
text_given_cb (GtkWidget *entry, gpointer data)
{
  BlBoard *board = bl_part_get_board (data);
  const char *name = g_object_get_data (G_OBJECT (entry), "name");

  if (board != NULL)
    bl_form_set_wrong (entry, !bl_board_put_text (board, name, bl_form_get_text (entry)));
}

static void
units_chosen_cb (GtkDropDown *choice, GParamSpec *pspec, BlSheetPhoto *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));

  if (board != NULL && !self->updating)
    bl_board_put_text (board, "units", gtk_drop_down_get_selected (choice) == 1 ? "m" : "ft");
}

static gboolean
put_focal (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_photo_info (design, data, error);
}

static void
focal_given_cb (GtkWidget *entry, gpointer data)
{
  BlBoard *board = bl_part_get_board (data);
  BlPhotoInfo info;
  double focal;

  if (board == NULL || !bl_sheet_read_number (board, entry, 0, &focal))
    return;
  if (focal != 0 && (focal < 5 || focal > 2000))
    {
      bl_form_set_wrong (entry, TRUE);
      bl_board_say (
          board, _ ("The focal length is outside 5 to 2000 mm: leave it empty if it is not known"));
      return;
    }
  info = bl_board_get_model (board)->photo;
  info.focal_35mm = focal;
  bl_board_edit (board, _("State the focal length"), put_focal, &info);
}

static void
bl_sheet_photo_class_init (BlSheetPhotoClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
}

static GtkWidget *
text_field (BlSheetPhoto *self, guint i, const char *label, const char *placeholder)
{
  self->texts[i] = bl_form_entry (placeholder);
  g_object_set_data (G_OBJECT (self->texts[i]), "name", (gpointer) text_names[i]);
  bl_form_on_commit (self->texts[i], text_given_cb, self);
  return bl_form_field (label, self->texts[i]);
}

static void
bl_sheet_photo_init (BlSheetPhoto *self)
{
  GtkBox *box = GTK_BOX (self);
  const char *const units[] = { _("Feet and inches"), _("Metres"), NULL };

  gtk_box_append (box, bl_form_heading (_("The job")));
  gtk_box_append (box, text_field (self, 0, _("Title"), _("Library front strip")));
  gtk_box_append (box, text_field (self, 1, _("Client"), NULL));
  gtk_box_append (box, text_field (self, 2, _("Place"), NULL));
  gtk_box_append (box, text_field (self, 3, _("Designer"), NULL));
  self->units = bl_form_choice (units);
  g_signal_connect (self->units, "notify::selected", G_CALLBACK (units_chosen_cb), self);
  gtk_box_append (box, bl_form_pair (text_field (self, 4, _("Planting day"), "2027-05-12"),
                                     bl_form_field (_("Units"), self->units)));
  gtk_box_append (box, bl_form_heading (_("The photo")));
  self->photo_words = bl_form_text ("", NULL);
  gtk_box_append (box, self->photo_words);
  self->photo_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->focal = bl_form_entry (_("not known"));
  bl_form_on_commit (self->focal, focal_given_cb, self);
  gtk_box_append (GTK_BOX (self->photo_box),
                  bl_form_field (_("Focal length, mm on 35 mm film"), self->focal));
  gtk_box_append (
      GTK_BOX (self->photo_box),
      bl_form_text (_ ("Read from the photo where it says so. It makes a single known length "
                       "enough to measure by."),
                    "dim"));
  gtk_box_append (box, self->photo_box);
  self->choose = bl_form_button (_("Choose a photo…"), "bl-photo-symbolic", "win.choose-photo");
  gtk_box_append (box, self->choose);
  gtk_box_append (box, bl_form_heading (_("The base drawing")));
  self->drawing_words = bl_form_text ("", NULL);
  gtk_box_append (box, self->drawing_words);
  self->choose_drawing
      = bl_form_button (_("Choose a base drawing…"), "bl-plan-symbolic", "win.choose-drawing");
  gtk_box_append (box, self->choose_drawing);
  self->remove_drawing
      = bl_form_button (_("Take it away"), "bl-remove-symbolic", "win.remove-drawing");
  gtk_box_append (box, self->remove_drawing);
}

GtkWidget *
bl_sheet_photo_new (void)
{
  return g_object_new (BL_TYPE_SHEET_PHOTO, NULL);
}
