/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of what is known: stating it, its sizes, how well it agrees, what would help most. */

#include "config.h"

#include "photo/advice.h"
#include "studio/form.h"
#include "studio/sheets.h"
#include "studio/tape-form.h"

#include <glib/gi18n.h>

#define BL_TYPE_SHEET_KNOWN (bl_sheet_known_get_type ())
G_DECLARE_FINAL_TYPE (BlSheetKnown, bl_sheet_known, BL, SHEET_KNOWN, BlPart)

struct _BlSheetKnown
{
  BlPart parent_instance;

  GtkWidget *photo_box, *pending, *pending_title, *first, *first_label, *second_box, *second_label,
    *second, *name;
  GtkWidget *list, *camera_words, *advice, *tape;
};

G_DEFINE_FINAL_TYPE (BlSheetKnown, bl_sheet_known, BL_TYPE_PART)

static const struct
{
  BlKnownKind kind;
  const char *icon;
} hands[] = {
  { BL_KNOWN_RECTANGLE, "bl-rectangle-symbolic" }, { BL_KNOWN_LENGTH, "bl-length-symbolic" },
  { BL_KNOWN_HEIGHT, "bl-height-symbolic" }, { BL_KNOWN_RIGHT_ANGLE, "bl-right-angle-symbolic" },
  { BL_KNOWN_PARALLEL, "bl-parallel-symbolic" }, { BL_KNOWN_EQUAL_LENGTHS, "bl-equal-symbolic" },
  { BL_KNOWN_HORIZON, "bl-horizon-symbolic" }, { BL_KNOWN_STRAIGHT, "bl-straight-symbolic" },
  { BL_KNOWN_POSITION, "bl-position-symbolic" }, { BL_KNOWN_EYE, "bl-eye-symbolic" },
  { BL_KNOWN_CHECK, "bl-check-symbolic" }
};

static const char *
first_label_of (BlKnownKind kind)
{
  switch (kind)
    {
    case BL_KNOWN_RECTANGLE:
      return _("Width, corner 1 to 2");
    case BL_KNOWN_LENGTH:
      return _("Length");
    case BL_KNOWN_CHECK:
      return _("True length, to check against (may stay empty)");
    case BL_KNOWN_HEIGHT:
      return _("Height");
    case BL_KNOWN_EYE:
      return _("Height of the lens above the ground");
    case BL_KNOWN_POSITION:
      return _("To the right (x)");
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
    case BL_KNOWN_EQUAL_LENGTHS:
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_N:
    default:
      return NULL;
    }
}

static const char *
second_label_of (BlKnownKind kind)
{
  return kind == BL_KNOWN_RECTANGLE ? _("Depth, corner 2 to 3")
         : kind == BL_KNOWN_POSITION ? _("Away (y)") : NULL;
}

static void
show_pending (BlSheetKnown *self, const BlKnown *known)
{
  const char *first, *second;
  g_autofree char *title = NULL;

  gtk_widget_set_visible (self->pending, known != NULL);
  if (known == NULL)
    return;
  first = first_label_of (known->kind);
  second = second_label_of (known->kind);
  title = g_strdup_printf (_("How large is it? %s"), bl_known_title (known->kind));
  gtk_label_set_text (GTK_LABEL (self->pending_title), title);
  gtk_widget_set_visible (gtk_widget_get_parent (self->first), first != NULL);
  gtk_widget_set_visible (self->second_box, second != NULL);
  gtk_editable_set_text (GTK_EDITABLE (self->first), "");
  gtk_editable_set_text (GTK_EDITABLE (self->second), "");
  if (first != NULL)
    {
      gtk_label_set_text (GTK_LABEL (self->first_label), first);
      gtk_widget_grab_focus (self->first);
    }
  if (second != NULL)
    gtk_label_set_text (GTK_LABEL (self->second_label), second);
}

static void
keep_cb (BlSheetKnown *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  const BlKnown *pending = board != NULL ? bl_board_get_pending (board) : NULL;
  g_autoptr (BlKnown) known = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *label = NULL;

  if (pending == NULL)
    return;
  known = bl_known_copy (pending);
  if (first_label_of (known->kind) != NULL
      && !bl_sheet_read_length (board, self->first, 0, &known->size[0]))
    return;
  if (second_label_of (known->kind) != NULL
      && !bl_sheet_read_length (board, self->second, 0, &known->size[1]))
    return;
  if (!bl_known_check (known, &error))
    {
      bl_form_set_wrong (self->first, known->size[0] <= 0);
      bl_form_set_wrong (self->second,
                         second_label_of (known->kind) != NULL && known->size[1] <= 0);
      bl_board_report (board, error);
      return;
    }
  label = g_strdup_printf (_("State: %s"), bl_known_title (known->kind));
  if (bl_board_put_known (board, label, known))
    bl_board_set_pending (board, NULL);
}

static void
give_up_cb (BlSheetKnown *self)
{
  if (bl_part_get_board (BL_PART (self)) != NULL)
    bl_board_set_pending (bl_part_get_board (BL_PART (self)), NULL);
}

static const BlKnownResidual *
residual_of (const BlModel *model, gint64 id)
{
  for (guint i = 0; model->solution != NULL && i < model->solution->residuals->len; i++)
    {
      const BlKnownResidual *residual
          = &g_array_index (model->solution->residuals, BlKnownResidual, i);

      if (residual->known_id == id)
        return residual;
    }
  return NULL;
}

static char *
known_words (const BlModel *model, const BlKnown *known)
{
  const BlKnownResidual *residual = residual_of (model, known->id);
  const BlCamera *camera = bl_model_camera (model);
  GString *words = g_string_new (NULL);
  g_autofree char *a = bl_length_format (known->size[0], model->units);
  g_autofree char *b = bl_length_format (known->size[1], model->units);

  if (known->kind == BL_KNOWN_RECTANGLE)
    g_string_append_printf (words, "%s × %s", a, b);
  else if (known->kind == BL_KNOWN_POSITION)
    g_string_append_printf (words, "%s, %s", a, b);
  else if (known->size[0] > 0)
    g_string_append (words, a);
  if (known->kind == BL_KNOWN_CHECK && camera != NULL && camera->scaled)
    {
      BlMeasured length;

      if (bl_measure_length (camera, bl_points_at (known->px, 0), bl_points_at (known->px, 1),
                             model->photo.click_px, &length, NULL))
        {
          g_autofree char *value = bl_length_format (length.value, model->units);
          g_autofree char *half = bl_spacing_format (1.96 * length.sd, model->units);

          g_string_append_printf (words, _ ("%smeasured %s ± %s"), words->len > 0 ? " · " : "",
                                  value, half);
        }
    }
  else if (residual != NULL && fabs (residual->normalised) > 3)
    g_string_append_printf (words, _("%sdisagrees with the rest"), words->len > 0 ? " · " : "");
  else if (residual != NULL)
    g_string_append_printf (words, _("%sagrees"), words->len > 0 ? " · " : "");
  return g_string_free (words, FALSE);
}

static void
remove_known_cb (GtkButton *button, BlSheetKnown *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  gint64 *id = g_object_get_data (G_OBJECT (button), "id");

  bl_board_select (board, BL_PICK_KNOWN, *id, FALSE);
  bl_board_delete_selection (board);
}

static void
list_knowns (BlSheetKnown *self, const BlModel *model)
{
  bl_form_clear (self->list);
  for (guint i = 0; i < model->knowns->len; i++)
    {
      const BlKnown *known = g_ptr_array_index (model->knowns, i);
      GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
      g_autofree char *words = known_words (model, known);
      g_autofree char *text = g_strdup_printf ("%s  %s", bl_known_title (known->kind), words);
      GtkWidget *label = bl_form_text (text, NULL);
      GtkWidget *button
          = bl_form_icon_button ("bl-remove-symbolic", _ ("Take this known away"), NULL);

      gtk_widget_set_hexpand (label, TRUE);
      g_object_set_data_full (G_OBJECT (button), "id", g_memdup2 (&known->id, sizeof known->id),
                              g_free);
      g_signal_connect (button, "clicked", G_CALLBACK (remove_known_cb), self);
      gtk_box_append (GTK_BOX (row), label);
      gtk_box_append (GTK_BOX (row), button);
      gtk_widget_add_css_class (row, "entry-row");
      gtk_box_append (GTK_BOX (self->list), row);
    }
}

static void
tell_camera (BlSheetKnown *self, const BlModel *model)
{
  const BlCamera *camera = bl_model_camera (model);
  g_autofree char *eye = NULL, *words = NULL;

  if (camera == NULL)
    {
      gtk_label_set_text (GTK_LABEL (self->camera_words),
                          model->camera_problem != NULL && model->knowns->len > 0
                              ? model->camera_problem
                              : _ ("State the size of something flat on the ground: the slabs of a "
                                   "walk, a parking bay. One "
                                   "rectangle is enough."));
      return;
    }
  eye = bl_length_format (camera->eye, model->units);
  words = g_strdup_printf (
      _ ("The lens was %s above the ground, looking down %.1f°. Clicks agree to %.1f "
         "pixels.%s%s"),
      eye, camera->pitch * 180 / G_PI, model->solution->rms_px,
      model->solution->message != NULL ? "\n" : "",
      model->solution->message != NULL ? model->solution->message : "");
  gtk_label_set_text (GTK_LABEL (self->camera_words), words);
}

static void
tell_advice (BlSheetKnown *self, const BlModel *model)
{
  const BlCamera *camera = bl_model_camera (model);
  g_autoptr (BlAdviceList) list = NULL;
  const BlBed *bed = NULL;

  for (guint i = 0; i < model->beds->len && bed == NULL; i++)
    if (((const BlBed *) g_ptr_array_index (model->beds, i))->source == BL_FROM_PHOTO)
      bed = g_ptr_array_index (model->beds, i);
  gtk_widget_set_visible (self->advice, FALSE);
  if (camera == NULL || !camera->scaled || bed == NULL)
    return;
  list = bl_advise (camera, model->knowns, bed->outline,
                    model->photo.click_px > 0 ? model->photo.click_px
                                              : 1.5 * MAX (camera->width, camera->height) / 4032,
                    NULL);
  if (list == NULL || list->items->len == 0)
    return;
  gtk_label_set_text (GTK_LABEL (self->advice), g_array_index (list->items, BlAdvice, 0).sentence);
  gtk_widget_set_visible (self->advice, TRUE);
}

static void
update (BlPart *part, guint what)
{
  BlSheetKnown *self = BL_SHEET_KNOWN (part);
  BlBoard *board = bl_part_get_board (part);
  const BlModel *model = bl_board_get_model (board);

  if ((what & BL_BOARD_PENDING) != 0)
    show_pending (self, bl_board_get_pending (board));
  if ((what & BL_BOARD_MODEL) == 0)
    return;
  gtk_widget_set_visible (self->photo_box, model->photo.width > 0);
  list_knowns (self, model);
  tell_camera (self, model);
  tell_advice (self, model);
  bl_tape_form_update (self->tape, board);
}

static void
bl_sheet_known_class_init (BlSheetKnownClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
}

static GtkWidget *
size_field (GtkWidget **entry, GtkWidget **label)
{
  GtkWidget *box;

  *entry = bl_form_entry (_("4 ft, 12' 6\", 3.8 m"));
  box = bl_form_field ("", *entry);
  *label = gtk_widget_get_first_child (box);
  gtk_label_set_wrap (GTK_LABEL (*label), TRUE);
  gtk_label_set_ellipsize (GTK_LABEL (*label), PANGO_ELLIPSIZE_NONE);
  return box;
}

static GtkWidget *
make_pending (BlSheetKnown *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *keep = bl_form_button (_("Keep it"), NULL, NULL);
  GtkWidget *drop = bl_form_button (_("Give up"), NULL, NULL);

  gtk_widget_add_css_class (box, "slip");
  gtk_widget_add_css_class (keep, "suggested-action");
  self->pending_title = bl_form_text ("", "slip-title");
  gtk_box_append (GTK_BOX (box), self->pending_title);
  gtk_box_append (GTK_BOX (box), size_field (&self->first, &self->first_label));
  self->second_box = size_field (&self->second, &self->second_label);
  gtk_box_append (GTK_BOX (box), self->second_box);
  gtk_box_append (GTK_BOX (box), bl_form_pair (keep, drop));
  g_signal_connect_swapped (keep, "clicked", G_CALLBACK (keep_cb), self);
  g_signal_connect_swapped (drop, "clicked", G_CALLBACK (give_up_cb), self);
  g_signal_connect_swapped (self->first, "activate", G_CALLBACK (keep_cb), self);
  g_signal_connect_swapped (self->second, "activate", G_CALLBACK (keep_cb), self);
  return box;
}

static void
bl_sheet_known_init (BlSheetKnown *self)
{
  GtkBox *box = GTK_BOX (self);
  GtkWidget *grid = bl_form_grid (2);

  self->photo_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  gtk_box_append (GTK_BOX (self->photo_box), bl_form_heading (_("What do you know of the photo?")));
  for (guint i = 0; i < G_N_ELEMENTS (hands); i++)
    bl_form_grid_add (grid, bl_form_hand (hands[i].icon, bl_known_title (hands[i].kind),
                                          "win.known", bl_known_kind_name (hands[i].kind)));
  gtk_box_append (GTK_BOX (self->photo_box), grid);
  self->pending = make_pending (self);
  gtk_widget_set_visible (self->pending, FALSE);
  gtk_box_append (GTK_BOX (self->photo_box), self->pending);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append (GTK_BOX (self->photo_box), self->list);
  self->camera_words = bl_form_text ("", "dim");
  gtk_box_append (GTK_BOX (self->photo_box), self->camera_words);
  self->advice = bl_form_text ("", "advice");
  gtk_box_append (GTK_BOX (self->photo_box), self->advice);
  gtk_box_append (box, self->photo_box);
  self->tape = bl_tape_form_new ();
  gtk_box_append (box, self->tape);
}

GtkWidget *
bl_sheet_known_new (void)
{
  return g_object_new (BL_TYPE_SHEET_KNOWN, NULL);
}
