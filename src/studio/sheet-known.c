/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of what is known: stating it, its sizes, how well it agrees, what would help most. */

#include "config.h"

#include "base/say.h"
#include "photo/advice.h"
#include "studio/drawing-form.h"
#include "studio/form.h"
#include "studio/known-list.h"
#include "studio/known-words.h"
#include "studio/sheets.h"
#include "studio/tape-form.h"
#include "studio/trial.h"

#include <glib/gi18n.h>

#define BL_TYPE_SHEET_KNOWN (bl_sheet_known_get_type ())
G_DECLARE_FINAL_TYPE (BlSheetKnown, bl_sheet_known, BL, SHEET_KNOWN, BlPart)

struct _BlSheetKnown
{
  BlPart parent_instance;

  GtkWidget *photo_box, *pending, *pending_title, *first, *first_label, *second_box, *second_label,
      *second, *sd_box, *sd_label, *sd, *name;
  GtkWidget *list, *drawing, *camera_box, *area_box, *area_title, *area, *enclosure, *advice, *camera_words, *slope, *tape;
};

G_DEFINE_FINAL_TYPE (BlSheetKnown, bl_sheet_known, BL_TYPE_PART)

/* The first few are those that most photos need; the rest stand folded away. */
#define N_USUAL 4

static const struct
{
  BlKnownKind kind;
  const char *icon;
} hands[] = {
  { BL_KNOWN_RECTANGLE, "bl-rectangle-symbolic" }, { BL_KNOWN_LENGTH, "bl-length-symbolic" },
  { BL_KNOWN_HEIGHT, "bl-height-symbolic" }, { BL_KNOWN_CHECK, "bl-check-symbolic" },
  { BL_KNOWN_RIGHT_ANGLE, "bl-right-angle-symbolic" },
  { BL_KNOWN_PARALLEL, "bl-parallel-symbolic" }, { BL_KNOWN_EQUAL_LENGTHS, "bl-equal-symbolic" },
  { BL_KNOWN_HORIZON, "bl-horizon-symbolic" }, { BL_KNOWN_STRAIGHT, "bl-straight-symbolic" },
  { BL_KNOWN_POSITION, "bl-position-symbolic" }, { BL_KNOWN_EYE, "bl-eye-symbolic" }
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

/* NULL: how sure it is cannot be said apart. */
static const char *
sd_label_of (BlKnownKind kind)
{
  switch (kind)
    {
    case BL_KNOWN_RECTANGLE:
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_HEIGHT:
    case BL_KNOWN_POSITION:
    case BL_KNOWN_EYE:
      return _("Sure to about ± (standard deviation)");
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
      return _("Sure to about ± degrees");
    case BL_KNOWN_EQUAL_LENGTHS:
      return _("Sure to about ± %");
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      return NULL;
    }
}

/* Of the entry's number into the known's own: metres, radians, or a part of one. */
static double
sd_unit_of (BlKnownKind kind)
{
  return kind == BL_KNOWN_EQUAL_LENGTHS ? 0.01 : G_PI / 180;
}

static gboolean
sd_is_length (const BlKnown *known)
{
  return known->kind != BL_KNOWN_RIGHT_ANGLE && known->kind != BL_KNOWN_PARALLEL
         && known->kind != BL_KNOWN_EQUAL_LENGTHS;
}

static char *
sd_text (const BlKnown *known, double sd, BlUnits units)
{
  return !sd_is_length (known)        ? g_strdup_printf ("%.3g", sd / sd_unit_of (known->kind))
         : units == BL_UNITS_METRES   ? g_strdup_printf ("%.3g m", sd)
                                      : g_strdup_printf ("%.3g in", sd / 0.0254);
}

static void
fill_sizes (BlSheetKnown *self, const BlKnown *known, BlUnits units)
{
  GtkWidget *entries[] = { self->first, self->second };
  g_autofree char *usual = sd_text (known, bl_known_sd (known, 0), units);
  g_autofree char *usually = g_strdup_printf (_("usual: %s"), usual);
  g_autofree char *stated = known->sd > 0 ? sd_text (known, known->sd, units) : NULL;

  for (int i = 0; i < 2; i++)
    {
      g_autofree char *text = known->size[i] != 0 ? bl_length_format_decimal (known->size[i], units, 3)
                                                  : g_strdup ("");

      gtk_editable_set_text (GTK_EDITABLE (entries[i]), text);
      bl_form_set_wrong (entries[i], FALSE);
    }
  gtk_editable_set_text (GTK_EDITABLE (self->sd), stated != NULL ? stated : "");
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->sd),
                                  bl_known_sd (known, 0) > 0 && known->id != 0 ? usually
                                                                               : _("as usual"));
  gtk_editable_set_text (GTK_EDITABLE (self->name), known->name != NULL ? known->name : "");
}

static void
show_pending (BlSheetKnown *self, const BlKnown *known, BlUnits units)
{
  const char *first, *second, *sd;
  g_autofree char *title = NULL;

  gtk_widget_set_visible (self->pending, known != NULL);
  if (known == NULL)
    return;
  first = first_label_of (known->kind);
  second = second_label_of (known->kind);
  sd = sd_label_of (known->kind);
  title = g_strdup_printf (known->id != 0  ? _ ("Change it: %s")
                           : first != NULL ? _ ("How large is it? %s")
                                           : "%s",
                           bl_known_title (known->kind));
  gtk_label_set_text (GTK_LABEL (self->pending_title), title);
  gtk_widget_set_visible (gtk_widget_get_parent (self->first), first != NULL);
  gtk_widget_set_visible (self->second_box, second != NULL);
  gtk_widget_set_visible (self->sd_box, sd != NULL);
  fill_sizes (self, known, units);
  if (first != NULL)
    gtk_label_set_text (GTK_LABEL (self->first_label), first);
  if (second != NULL)
    gtk_label_set_text (GTK_LABEL (self->second_label), second);
  if (sd != NULL)
    gtk_label_set_text (GTK_LABEL (self->sd_label), sd);
  gtk_widget_grab_focus (first != NULL ? self->first : self->name);
}

static gboolean
read_sd (BlSheetKnown *self, BlBoard *board, BlKnown *known)
{
  double number;

  if (sd_label_of (known->kind) == NULL)
    return TRUE;
  if (sd_is_length (known))
    return bl_sheet_read_length (board, self->sd, 0, &known->sd);
  if (!bl_sheet_read_number (board, self->sd, 0, &number))
    return FALSE;
  known->sd = number * sd_unit_of (known->kind);
  return TRUE;
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
  if (!read_sd (self, board, known))
    return;
  g_free (known->name);
  known->name = g_strstrip (g_strdup (bl_form_get_text (self->name)));
  if (known->name[0] == '\0')
    g_clear_pointer (&known->name, g_free);
  if (!bl_known_check (known, &error))
    {
      bl_form_set_wrong (self->first, first_label_of (known->kind) != NULL && known->size[0] <= 0);
      bl_form_set_wrong (self->second,
                         second_label_of (known->kind) != NULL && known->size[1] <= 0);
      bl_form_set_wrong (self->sd, !(known->sd >= 0));
      bl_board_report (board, error);
      return;
    }
  label = g_strdup_printf (known->id != 0 ? _("Change: %s") : _("State: %s"),
                           bl_known_title (known->kind));
  if (bl_board_put_known (board, label, known))
    bl_board_set_pending (board, NULL);
}

static void
give_up_cb (BlSheetKnown *self)
{
  if (bl_part_get_board (BL_PART (self)) != NULL)
    bl_board_set_pending (bl_part_get_board (BL_PART (self)), NULL);
}

/* How the camera stood, or what is missing: beside the list, never in the way. */
static void
tell_camera (BlSheetKnown *self, BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  const BlTrial *trial = bl_board_get_trial (board);
  const BlSolution *solution = bl_board_get_solution (board);
  const char *problem = trial != NULL ? trial->problem : model->camera_problem;
  gboolean open = solution == NULL && problem != NULL && model->knowns->len > 0;
  g_autofree char *eye = NULL, *words = NULL;

  if (open)
    gtk_widget_add_css_class (self->camera_words, "wrong");
  else
    gtk_widget_remove_css_class (self->camera_words, "wrong");
  if (solution == NULL)
    {
      gtk_label_set_text (GTK_LABEL (self->camera_words),
                          open ? problem
                               : _ ("State the size of something flat on the ground: the slabs of "
                                    "a walk, a parking bay. One rectangle is enough."));
      return;
    }
  eye = bl_length_format (solution->camera.eye, model->units);
  words = g_strdup_printf (_ ("The lens was %s above the ground, looking down %.1f°. Clicks agree "
                              "to %.1f pixels."),
                           eye, solution->camera.pitch * 180 / G_PI, solution->rms_px);
  gtk_label_set_text (GTK_LABEL (self->camera_words), words);
}

static void
tell_area (BlSheetKnown *self, BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  const BlBed *bed = bl_board_measured_bed (board);
  g_autofree char *title = NULL, *words = NULL;
  BlMeasured area;
  gboolean measured = bed != NULL && bl_board_measure_bed (board, bed, &area);

  gtk_widget_set_visible (self->area_box, measured);
  if (!measured)
    return;
  title = g_strdup_printf (_("Area of %s"), bed->name);
  words = bl_area_format_interval (area.value, area.sd, model->units, bl_say_window ());
  gtk_label_set_text (GTK_LABEL (self->area_title), title);
  gtk_label_set_text (GTK_LABEL (self->area), words);
}

/* A figure and its sign stay on one line. */
static void
set_sentence (GtkWidget *label, const char *sentence)
{
  g_autoptr (GString) text = g_string_new (sentence);

  g_string_replace (text, " %", "\302\240%", 0);
  g_string_replace (text, "± ", "±\302\240", 0);
  gtk_widget_set_visible (label, sentence != NULL);
  gtk_label_set_text (GTK_LABEL (label), text->str);
}

static void
tell_advice (BlSheetKnown *self, BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  const BlCamera *camera = bl_model_camera (model);
  const BlBed *bed = bl_board_measured_bed (board);
  g_autoptr (BlAdviceList) list = NULL;

  if (bed != NULL && bed->source == BL_FROM_DRAWING)
    {
      g_autofree char *sentence = bed->ground != NULL ? bl_drawing_advice (model, &bed->area) : NULL;

      set_sentence (self->enclosure, NULL);
      set_sentence (self->advice, sentence);
      return;
    }
  if (camera != NULL && camera->scaled && bed != NULL)
    list = bl_advise (camera, model->knowns, bed->outline, bl_board_click_px (board), NULL);
  set_sentence (self->enclosure, list != NULL ? list->enclosure : NULL);
  set_sentence (self->advice, list != NULL && list->items->len > 0
                                ? g_array_index (list->items, BlAdvice, 0).sentence
                                : NULL);
}

static void
update (BlPart *part, guint what)
{
  BlSheetKnown *self = BL_SHEET_KNOWN (part);
  BlBoard *board = bl_part_get_board (part);
  const BlModel *model = bl_board_get_model (board);

  if ((what & BL_BOARD_PENDING) != 0)
    show_pending (self, bl_board_get_pending (board), model->units);
  if ((what & (BL_BOARD_PENDING | BL_BOARD_MODEL)) != 0)
    bl_drawing_form_update (self->drawing, board, (what & BL_BOARD_PENDING) != 0);
  if ((what & (BL_BOARD_MODEL | BL_BOARD_TRIAL | BL_BOARD_SELECTION | BL_BOARD_VIEW)) == 0)
    return;
  bl_known_list_update (self->list, board, (what & BL_BOARD_MODEL) != 0);
  tell_camera (self, board);
  tell_area (self, board);
  /* Advice is for knowns that stay: it would flicker while one is dragged. */
  if (bl_board_get_trial (board) == NULL)
    tell_advice (self, board);
  if ((what & BL_BOARD_MODEL) == 0)
    return;
  gtk_widget_set_visible (self->photo_box, model->photo.width > 0);
  gtk_widget_set_visible (self->camera_box, model->photo.width > 0);
  bl_slope_form_update (self->slope, board);
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
  self->sd = bl_form_entry (NULL);
  self->sd_box = bl_form_field ("", self->sd);
  self->sd_label = gtk_widget_get_first_child (self->sd_box);
  gtk_box_append (GTK_BOX (box), self->sd_box);
  self->name = bl_form_entry (_("the walk's panel (may stay empty)"));
  gtk_box_append (GTK_BOX (box), bl_form_field (_("What it is called"), self->name));
  gtk_box_append (GTK_BOX (box), bl_form_pair (keep, drop));
  g_signal_connect_swapped (keep, "clicked", G_CALLBACK (keep_cb), self);
  g_signal_connect_swapped (drop, "clicked", G_CALLBACK (give_up_cb), self);
  g_signal_connect_swapped (self->first, "activate", G_CALLBACK (keep_cb), self);
  g_signal_connect_swapped (self->second, "activate", G_CALLBACK (keep_cb), self);
  g_signal_connect_swapped (self->sd, "activate", G_CALLBACK (keep_cb), self);
  g_signal_connect_swapped (self->name, "activate", G_CALLBACK (keep_cb), self);
  return box;
}

static GtkWidget *
make_area (BlSheetKnown *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  self->area_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_margin_top (self->area_box, 8);
  self->area_title = bl_form_text ("", "field-label");
  self->area = bl_form_text ("", "large-figure");
  gtk_box_append (GTK_BOX (self->area_box), self->area_title);
  gtk_box_append (GTK_BOX (self->area_box), self->area);
  self->advice = bl_form_text ("", "advice");
  self->enclosure = bl_form_text ("", "dim");
  gtk_box_append (GTK_BOX (box), self->area_box);
  gtk_box_append (GTK_BOX (box), self->advice);
  gtk_box_append (GTK_BOX (box), self->enclosure);
  return box;
}

static void
bl_sheet_known_init (BlSheetKnown *self)
{
  GtkBox *box = GTK_BOX (self);
  GtkWidget *usual = bl_form_grid (2), *other = bl_form_grid (2);
  GtkWidget *more = gtk_expander_new (_("Other things that may be known"));

  self->photo_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  gtk_box_append (GTK_BOX (self->photo_box), bl_form_heading (_("What do you know of the photo?")));
  for (guint i = 0; i < G_N_ELEMENTS (hands); i++)
    bl_form_grid_add (i < N_USUAL ? usual : other,
                      bl_form_hand (hands[i].icon, bl_known_title (hands[i].kind), "win.known",
                                    bl_known_kind_name (hands[i].kind)));
  gtk_widget_set_margin_top (other, 8);
  gtk_expander_set_child (GTK_EXPANDER (more), other);
  gtk_box_append (GTK_BOX (self->photo_box), usual);
  gtk_box_append (GTK_BOX (self->photo_box), more);
  self->pending = make_pending (self);
  gtk_widget_set_visible (self->pending, FALSE);
  gtk_box_append (GTK_BOX (self->photo_box), self->pending);
  self->list = bl_known_list_new ();
  gtk_box_append (GTK_BOX (self->photo_box), self->list);
  gtk_box_append (box, self->photo_box);
  self->drawing = bl_drawing_form_new ();
  gtk_box_append (box, self->drawing);
  gtk_box_append (box, make_area (self));
  self->camera_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  self->camera_words = bl_form_text ("", "dim");
  gtk_box_append (GTK_BOX (self->camera_box), self->camera_words);
  self->slope = bl_slope_form_new ();
  gtk_box_append (GTK_BOX (self->camera_box), self->slope);
  gtk_box_append (box, self->camera_box);
  self->tape = bl_tape_form_new ();
  gtk_box_append (box, self->tape);
}

GtkWidget *
bl_sheet_known_new (void)
{
  return g_object_new (BL_TYPE_SHEET_KNOWN, NULL);
}
