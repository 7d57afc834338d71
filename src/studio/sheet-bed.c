/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of bed lines and features: tracing them, their figures, mulch, soil and edging. */

#include "config.h"

#include "base/say.h"
#include "studio/form.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>
#include <string.h>

#define BL_TYPE_SHEET_BED (bl_sheet_bed_get_type ())
G_DECLARE_FINAL_TYPE (BlSheetBed, bl_sheet_bed, BL, SHEET_BED, BlPart)

struct _BlSheetBed
{
  BlPart parent_instance;

  GtkWidget *beds, *features, *kind, *height, *width, *depth, *points;
  GPtrArray *edgings; /* keys, in the order of the choice */
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (BlSheetBed, bl_sheet_bed, BL_TYPE_PART)

static BlBoard *
board_of (BlSheetBed *self)
{
  return bl_part_get_board (BL_PART (self));
}

static gint64
id_of (gpointer widget)
{
  return *(gint64 *) g_object_get_data (widget, "id");
}

static void
set_id (GtkWidget *widget, gint64 id)
{
  g_object_set_data_full (G_OBJECT (widget), "id", g_memdup2 (&id, sizeof id), g_free);
}

static BlBed *
bed_copy_of (BlSheetBed *self, gpointer widget)
{
  const BlBed *bed = board_of (self) != NULL && !self->updating
                       ? bl_model_bed (bl_board_get_model (board_of (self)), id_of (widget)) : NULL;

  return bed != NULL ? bl_bed_copy (bed) : NULL;
}

static void
bed_named_cb (GtkWidget *entry, gpointer data)
{
  BlSheetBed *self = data;
  g_autoptr (BlBed) bed = bed_copy_of (self, entry);

  if (bed == NULL)
    return;
  g_free (bed->name);
  bed->name = g_strstrip (g_strdup (bl_form_get_text (entry)));
  bl_form_set_wrong (entry, !bl_board_put_bed (board_of (self), _("Rename the bed"), bed));
}

static void
mulch_given_cb (GtkWidget *entry, gpointer data)
{
  BlSheetBed *self = data;
  g_autoptr (BlBed) bed = bed_copy_of (self, entry);

  if (bed != NULL && bl_sheet_read_length (board_of (self), entry, 0, &bed->mulch_depth))
    bl_form_set_wrong (entry, !bl_board_put_bed (board_of (self), _("Change the mulch"), bed));
}

static void
sun_given_cb (GtkWidget *entry, gpointer data)
{
  BlSheetBed *self = data;
  g_autoptr (BlBed) bed = bed_copy_of (self, entry);

  if (bed != NULL && bl_sheet_read_number (board_of (self), entry, NAN, &bed->sun_hours))
    bl_form_set_wrong (entry, !bl_board_put_bed (board_of (self), _("State the sun"), bed));
}

static void
cover_chosen_cb (GtkDropDown *choice, GParamSpec *pspec, BlSheetBed *self)
{
  g_autoptr (BlBed) bed = bed_copy_of (self, choice);
  guint at = gtk_drop_down_get_selected (choice);

  if (bed == NULL || at > BL_COVER_GRAVEL || at == bed->cover)
    return;
  bed->cover = (BlCover) at;
  bl_board_put_bed (board_of (self), _ ("Change the mulch"), bed);
}

static void
soil_given_cb (GtkWidget *entry, gpointer data)
{
  BlSheetBed *self = data;
  g_autoptr (BlBed) bed = bed_copy_of (self, entry);

  if (bed != NULL && bl_sheet_read_length (board_of (self), entry, 0, &bed->soil_depth))
    bl_form_set_wrong (entry, !bl_board_put_bed (board_of (self), _("Change the soil"), bed));
}

static void
share_given_cb (GtkWidget *entry, gpointer data)
{
  BlSheetBed *self = data;
  g_autoptr (BlBed) bed = bed_copy_of (self, entry);
  double percent;

  if (bed == NULL || !bl_sheet_read_number (board_of (self), entry, 100, &percent))
    return;
  bed->edging_share = percent / 100;
  bl_form_set_wrong (entry, !bl_board_put_bed (board_of (self), _("Change the edging"), bed));
}

static void
edging_chosen_cb (GtkDropDown *choice, GParamSpec *pspec, BlSheetBed *self)
{
  g_autoptr (BlBed) bed = bed_copy_of (self, choice);
  guint at = gtk_drop_down_get_selected (choice);

  if (bed == NULL || at == GTK_INVALID_LIST_POSITION)
    return;
  g_free (bed->edging);
  bed->edging = at == 0 ? NULL : g_strdup (g_ptr_array_index (self->edgings, at - 1));
  bl_board_put_bed (board_of (self), _("Change the edging"), bed);
}

static void
remove_cb (GtkButton *button, BlSheetBed *self)
{
  BlPickKind kind = (BlPickKind) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "kind"));

  bl_board_select (board_of (self), kind, id_of (button), FALSE);
  bl_board_delete_selection (board_of (self));
}

static void
select_cb (GtkButton *button, BlSheetBed *self)
{
  BlPickKind kind = (BlPickKind) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "kind"));

  bl_board_select (board_of (self), kind, id_of (button), FALSE);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.hand", "s", "reshape");
}

static GtkWidget *
row_button (BlSheetBed *self,
            const char *icon,
            const char *name,
            GCallback callback,
            BlPickKind kind,
            gint64 id)
{
  GtkWidget *button = bl_form_icon_button (icon, name, NULL);

  set_id (button, id);
  g_object_set_data (G_OBJECT (button), "kind", GINT_TO_POINTER (kind));
  g_signal_connect (button, "clicked", callback, self);
  return button;
}

static GtkWidget *
bed_field (BlSheetBed *self, gint64 id, const char *label, char *text, BlCommitFunc commit)
{
  GtkWidget *entry = bl_form_entry (NULL);

  set_id (entry, id);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  bl_form_on_commit (entry, commit, self);
  g_free (text);
  return bl_form_field (label, entry);
}

static GtkWidget *
edging_choice (BlSheetBed *self, const BlModel *model, const BlBed *bed)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  GtkWidget *choice;
  guint selected = 0;

  g_ptr_array_set_size (self->edgings, 0);
  g_ptr_array_add (names, (gpointer) _("None"));
  for (guint i = 0; model->prices != NULL && i < model->prices->items->len; i++)
    {
      const BlPriceItem *item = g_ptr_array_index (model->prices->items, i);

      if (!g_str_has_prefix (item->key, "edging-") || item->kind != BL_PRICE_MATERIAL)
        continue;
      g_ptr_array_add (names, (gpointer) bl_say (bl_say_window (), item->name));
      g_ptr_array_add (self->edgings, g_strdup (item->key));
      if (g_strcmp0 (item->key, bed->edging) == 0)
        selected = self->edgings->len;
    }
  g_ptr_array_add (names, NULL);
  choice = bl_form_choice ((const char *const *) names->pdata);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), selected);
  set_id (choice, bed->id);
  g_signal_connect (choice, "notify::selected", G_CALLBACK (edging_chosen_cb), self);
  return bl_form_field (_("Edging"), choice);
}

static GtkWidget *
cover_choice (BlSheetBed *self, const BlBed *bed)
{
  const char *names[] = { _ ("Shredded bark"), _ ("Gravel"), NULL };
  GtkWidget *choice = bl_form_choice (names);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), bed->cover);
  set_id (choice, bed->id);
  g_signal_connect (choice, "notify::selected", G_CALLBACK (cover_chosen_cb), self);
  return bl_form_field (_ ("Mulch of"), choice);
}

static char *
bed_figures (const BlModel *model, const BlBed *bed)
{
  g_autofree char *area = NULL, *perimeter = NULL;

  if (bed->ground == NULL)
    return g_strdup (bed->problem != NULL ? bed->problem : _("Not on the ground yet"));
  area = bl_area_format_interval (bed->area.value, bed->area.sd, model->units, bl_say_window ());
  perimeter = bl_length_format (bed->perimeter.value, model->units);
  return g_strdup_printf (_("%s, %s around"), area, perimeter);
}

static GtkWidget *
bed_card (BlSheetBed *self, const BlModel *model, const BlBed *bed)
{
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *head = bl_form_line (4);
  GtkWidget *name = bl_form_entry (NULL);
  g_autofree char *figures = bed_figures (model, bed);
  GtkWidget *words = bl_form_text (figures, bed->ground != NULL ? "figure" : "dim");

  gtk_widget_add_css_class (card, "card");
  gtk_editable_set_text (GTK_EDITABLE (name), bed->name);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_widget_add_css_class (name, "title-entry");
  bl_form_call (name, _("Name of the bed"));
  set_id (name, bed->id);
  bl_form_on_commit (name, bed_named_cb, self);
  bl_form_line_add (head, name);
  bl_form_line_add (head,
                  row_button (self, "bl-reshape-symbolic", _ ("Reshape this bed line"),
                              G_CALLBACK (select_cb), BL_PICK_BED, bed->id));
  bl_form_line_add (head, row_button (self, "bl-delete-symbolic", _("Delete this bed"),
                                              G_CALLBACK (remove_cb), BL_PICK_BED, bed->id));
  gtk_box_append (GTK_BOX (card), head);
  gtk_box_append (GTK_BOX (card), words);
  gtk_box_append (
      GTK_BOX (card),
      bl_form_pair (bed_field (self, bed->id, _ ("Mulch, deep"),
                               bl_spacing_format (bed->mulch_depth, model->units), mulch_given_cb),
                    bed_field (self, bed->id, _ ("Compost, deep"),
                               bl_spacing_format (bed->soil_depth, model->units), soil_given_cb)));
  if (bed->mulch_depth > 0)
    gtk_box_append (GTK_BOX (card), cover_choice (self, bed));
  gtk_box_append (GTK_BOX (card),
                  bed_field (self, bed->id, _ ("Hours of direct sun here, if stated"),
                             isnan (bed->sun_hours) ? g_strdup ("")
                                                    : bl_double_format (bed->sun_hours),
                             sun_given_cb));
  gtk_box_append (GTK_BOX (card), edging_choice (self, model, bed));
  if (bed->edging != NULL)
    gtk_box_append (GTK_BOX (card),
                    bed_field (self, bed->id, _ ("Part of the line that is edged, %"),
                               g_strdup_printf ("%.0f", bed->edging_share * 100), share_given_cb));
  return card;
}

static BlFeature *
feature_copy_of (BlSheetBed *self, gpointer widget)
{
  const BlFeature *feature = board_of (self) != NULL && !self->updating
    ? bl_model_feature (bl_board_get_model (board_of (self)), id_of (widget)) : NULL;

  return feature != NULL ? bl_feature_copy (feature) : NULL;
}

static void
zone_given_cb (GtkWidget *entry, gpointer data)
{
  BlSheetBed *self = data;
  g_autoptr (BlFeature) feature = feature_copy_of (self, entry);

  if (feature != NULL && bl_sheet_read_length (board_of (self), entry, 0, &feature->tolerance))
    bl_form_set_wrong (entry, !bl_board_put_feature (board_of (self), _("Change what is kept clear"),
                                                     feature));
}

static void
height_given_cb (GtkWidget *entry, gpointer data)
{
  BlSheetBed *self = data;
  g_autoptr (BlFeature) feature = feature_copy_of (self, entry);

  if (feature != NULL && bl_sheet_read_length (board_of (self), entry, 0, &feature->height))
    bl_form_set_wrong (entry, !bl_board_put_feature (board_of (self), _("Change its height"),
                                                     feature));
}

/* NULL for what nothing is kept clear of. */
static const char *
zone_label_of (BlFeatureKind kind)
{
  if (kind == BL_FEATURE_BURIED_LINE)
    return _("Zone, each side");
  return kind == BL_FEATURE_UTILITY_BOX || kind == BL_FEATURE_TRANSFORMER
             || kind == BL_FEATURE_HYDRANT ? _("Kept clear around it") : NULL;
}

/* The sizes of a feature that is selected. */
static GtkWidget *
feature_fields (BlSheetBed *self, const BlModel *model, const BlFeature *feature)
{
  const char *zone = zone_label_of (feature->kind);
  GtkWidget *height
      = bed_field (self, feature->id, _ ("Its height"),
                   feature->height > 0 ? bl_length_format_decimal (feature->height, model->units, 2)
                                       : g_strdup (""), height_given_cb);

  if (zone == NULL)
    return height;
  return bl_form_pair (height, bed_field (self, feature->id, zone,
                                          feature->tolerance > 0
                                              ? bl_spacing_format (feature->tolerance, model->units)
                                              : g_strdup (""), zone_given_cb));
}

static GtkWidget *
feature_row (BlSheetBed *self, const BlModel *model, const BlFeature *feature)
{
  GtkWidget *row = bl_form_line (4), *card;
  g_autofree char *height
      = feature->height > 0 ? bl_length_format (feature->height, model->units) : NULL;
  g_autofree char *text = g_strdup_printf (
      "%s%s%s",
      feature->name != NULL && feature->name[0] != '\0' ? feature->name
                                                        : bl_feature_title (feature->kind),
      height != NULL ? ", " : "", height != NULL ? height : "");
  GtkWidget *label = bl_form_text (text, NULL);

  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_add_css_class (row, "entry-row");
  bl_form_line_add (row, label);
  bl_form_line_add (row, row_button (self, "bl-reshape-symbolic", _("Reshape this feature"),
                                             G_CALLBACK (select_cb), BL_PICK_FEATURE, feature->id));
  bl_form_line_add (row, row_button (self, "bl-delete-symbolic", _("Delete this feature"),
                                             G_CALLBACK (remove_cb), BL_PICK_FEATURE, feature->id));
  if (!bl_board_is_selected (board_of (self), BL_PICK_FEATURE, feature->id))
    return row;
  card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (card), row);
  gtk_box_append (GTK_BOX (card), feature_fields (self, model, feature));
  return card;
}

static void
update (BlPart *part, guint what)
{
  BlSheetBed *self = BL_SHEET_BED (part);
  const BlModel *model = bl_board_get_model (bl_part_get_board (part));

  if ((what & (BL_BOARD_MODEL | BL_BOARD_SELECTION)) == 0)
    return;
  self->updating = TRUE;
  if ((what & BL_BOARD_MODEL) != 0)
    {
      bl_form_clear (self->beds);
      for (guint i = 0; i < model->beds->len; i++)
        gtk_box_append (GTK_BOX (self->beds),
                        bed_card (self, model, g_ptr_array_index (model->beds, i)));
    }
  bl_form_clear (self->features);
  for (guint i = 0; i < model->features->len; i++)
    gtk_box_append (GTK_BOX (self->features),
                    feature_row (self, model, g_ptr_array_index (model->features, i)));
  gtk_widget_set_visible (self->points, model->tape != NULL);
  self->updating = FALSE;
}

static void
put_plain_bed (BlSheetBed *self, BlOutline *outline, char **tape_points)
{
  BlBoard *board = board_of (self);
  g_autoptr (BlBed) bed = bl_bed_new ();

  g_free (bed->name);
  for (guint i = bl_board_get_model (board)->beds->len + 1;; i++)
    {
      bed->name = g_strdup_printf (_("Bed %u"), i);
      if (bl_model_bed_named (bl_board_get_model (board), bed->name) == NULL)
        break;
      g_free (bed->name);
    }
  bed->source = outline != NULL ? BL_FROM_PLAN : BL_FROM_TAPE;
  bed->outline = outline;
  bed->tape_points = tape_points;
  bed->mulch_depth = 0.075;
  if (!bl_board_put_bed (board, _("Add a bed"), bed))
    return;
  bl_board_select (board, BL_PICK_BED, bed->id, FALSE);
  if (bl_model_camera (bl_board_get_model (board)) == NULL)
    bl_board_set_view (board, BL_VIEW_PLAN);
}

/* A rectangle by its sizes, beside the beds that are there. */
static void
add_by_size_cb (BlSheetBed *self)
{
  BlBoard *board = board_of (self);
  const BlModel *model;
  BlPoints *points;
  double w, d, x = 0;

  if (board == NULL || !bl_sheet_read_length (board, self->width, 0, &w)
      || !bl_sheet_read_length (board, self->depth, 0, &d))
    return;
  bl_form_set_wrong (self->width, w <= 0);
  bl_form_set_wrong (self->depth, d <= 0);
  if (w <= 0 || d <= 0)
    {
      bl_board_say (board, _("A bed by its sizes needs a width and a depth"));
      return;
    }
  model = bl_board_get_model (board);
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);

      if (bed->ring != NULL)
        x = MAX (x, bl_rect_of (bed->ring).x1 + 1);
    }
  points = bl_points_new ();
  bl_points_add (points, BL_POINT (x, 0));
  bl_points_add (points, BL_POINT (x + w, 0));
  bl_points_add (points, BL_POINT (x + w, d));
  bl_points_add (points, BL_POINT (x, d));
  put_plain_bed (self, bl_outline_new_take (points, TRUE), NULL);
}

static void
add_by_points_cb (GtkWidget *entry, gpointer data)
{
  BlSheetBed *self = data;
  g_autofree char *text = g_strdup (bl_form_get_text (entry));
  g_auto (GStrv) parts = g_strsplit_set (text, " ,;", -1);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; parts[i] != NULL; i++)
    if (parts[i][0] != '\0')
      g_ptr_array_add (names, g_strdup (parts[i]));
  if (names->len == 0 || board_of (self) == NULL)
    return;
  g_ptr_array_add (names, NULL);
  put_plain_bed (self, NULL, (char **) g_ptr_array_steal (names, NULL));
}

static void
feature_pen_cb (BlSheetBed *self)
{
  double height = 0;

  if (board_of (self) == NULL)
    return;
  bl_sheet_read_length (board_of (self), self->height, 0, &height);
  bl_board_set_feature_kind (board_of (self),
    (BlFeatureKind) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind)), MAX (height, 0));
  gtk_widget_activate_action (GTK_WIDGET (self), "win.hand", "s", "feature");
}

static void
bl_sheet_bed_finalize (GObject *object)
{
  g_ptr_array_unref (BL_SHEET_BED (object)->edgings);
  G_OBJECT_CLASS (bl_sheet_bed_parent_class)->finalize (object);
}

static void
bl_sheet_bed_class_init (BlSheetBedClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->finalize = bl_sheet_bed_finalize;
}

static GtkWidget *
feature_form (BlSheetBed *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *button = bl_form_button (_("Trace this feature"), "bl-feature-symbolic", NULL);
  const char *titles[BL_FEATURE_N + 1];

  for (int i = 0; i < BL_FEATURE_N; i++)
    titles[i] = bl_feature_title ((BlFeatureKind) i);
  titles[BL_FEATURE_N] = NULL;
  self->kind = bl_form_choice (titles);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind), BL_FEATURE_WALK);
  self->height = bl_form_entry (_("flat"));
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (feature_pen_cb), self);
  g_signal_connect_swapped (self->kind, "notify::selected", G_CALLBACK (feature_pen_cb), self);
  gtk_box_append (GTK_BOX (box), bl_form_field (_("What it is"), self->kind));
  gtk_box_append (GTK_BOX (box), bl_form_field (_("Its height"), self->height));
  gtk_box_append (GTK_BOX (box), button);
  return box;
}

static void
bl_sheet_bed_init (BlSheetBed *self)
{
  GtkBox *box = GTK_BOX (self);
  GtkWidget *hands = bl_form_grid (2),
            *add = bl_form_button (_ ("Add a rectangle"), "bl-add-symbolic", NULL);
  GtkWidget *by_points = bl_form_entry ("A, B, C, D");

  self->edgings = g_ptr_array_new_with_free_func (g_free);
  bl_form_grid_add (hands, bl_form_hand ("bl-trace-symbolic", _("Trace"), "win.hand", "trace"));
  bl_form_grid_add (hands,
                    bl_form_hand ("bl-reshape-symbolic", _ ("Reshape"), "win.hand", "reshape"));
  gtk_box_append (box, bl_form_heading (_("Bed lines")));
  gtk_box_append (box, hands);
  self->beds = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  gtk_box_append (box, self->beds);
  self->width = bl_form_entry ("24 ft");
  self->depth = bl_form_entry ("6 ft");
  gtk_box_append (box, bl_form_text (_("Or by its sizes, on the plan"), "dim"));
  gtk_box_append (box, bl_form_pair (bl_form_field (_("Width of the bed"), self->width),
                                     bl_form_field (_("Depth of the bed"), self->depth)));
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (add_by_size_cb), self);
  g_signal_connect_swapped (self->depth, "activate", G_CALLBACK (add_by_size_cb), self);
  gtk_box_append (box, add);
  self->points = bl_form_field (_("Or through tape points, in order"), by_points);
  bl_form_on_commit (by_points, add_by_points_cb, self);
  gtk_box_append (box, self->points);
  gtk_box_append (box, bl_form_heading (_("Features of the site")));
  gtk_box_append (box, feature_form (self));
  self->features = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append (box, self->features);
}

GtkWidget *
bl_sheet_bed_new (void)
{
  return g_object_new (BL_TYPE_SHEET_BED, NULL);
}
