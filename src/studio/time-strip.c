/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time under the canvas: the month and the years since planting. */

#include "config.h"

#include "studio/form.h"
#include "studio/strips.h"

#include <glib/gi18n.h>

#define BL_TYPE_TIME_STRIP (bl_time_strip_get_type ())
G_DECLARE_FINAL_TYPE (BlTimeStrip, bl_time_strip, BL, TIME_STRIP, BlPart)

struct _BlTimeStrip
{
  BlPart parent_instance;

  GtkWidget *months, *age, *age_words;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (BlTimeStrip, bl_time_strip, BL_TYPE_PART)

static char *
age_text (double years)
{
  guint whole = (guint) round (years);

  if (years < 0.5)
    return g_strdup (_("Planting day"));
  return g_strdup_printf (ngettext ("%u year after planting", "%u years after planting", whole),
                          whole);
}

static void
update (BlPart *part, guint what)
{
  BlTimeStrip *self = BL_TIME_STRIP (part);
  BlBoard *board = bl_part_get_board (part);
  BlMoment moment = bl_board_get_moment (board);
  g_autofree char *words = age_text (moment.years);

  self->updating = TRUE;
  if ((what & BL_BOARD_MOMENT) != 0)
    {
      bl_months_set_month (BL_MONTHS (self->months), moment.month);
      gtk_range_set_value (GTK_RANGE (self->age), moment.years);
      gtk_label_set_text (GTK_LABEL (self->age_words), words);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->age),
                                      GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, words, -1);
    }
  if ((what & (BL_BOARD_SCENE | BL_BOARD_ALTERNATIVE)) != 0)
    bl_months_set_layout (BL_MONTHS (self->months), bl_board_get_layout (board));
  self->updating = FALSE;
}

static void
month_moved_cb (BlMonths *months, double month, BlTimeStrip *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  BlMoment moment;

  if (board == NULL || self->updating)
    return;
  moment = bl_board_get_moment (board);
  moment.month = month;
  bl_board_set_moment (board, moment);
}

static void
age_changed_cb (GtkRange *range, BlTimeStrip *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  BlMoment moment;

  if (board == NULL || self->updating)
    return;
  moment = bl_board_get_moment (board);
  moment.years = gtk_range_get_value (range);
  bl_board_set_moment (board, moment);
}

static void
bl_time_strip_class_init (BlTimeStripClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
}

static void
bl_time_strip_init (BlTimeStrip *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_HORIZONTAL);
  gtk_box_set_spacing (GTK_BOX (self), 22);
  gtk_widget_add_css_class (GTK_WIDGET (self), "time");
  self->months = bl_months_new ();
  g_signal_connect (self->months, "moved", G_CALLBACK (month_moved_cb), self);
  self->age = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 0, 15, 1);
  gtk_scale_set_draw_value (GTK_SCALE (self->age), FALSE);
  for (int i = 0; i <= 15; i += 5)
    gtk_scale_add_mark (GTK_SCALE (self->age), i, GTK_POS_BOTTOM, NULL);
  gtk_widget_set_size_request (self->age, 150, -1);
  bl_form_call (self->age, _("Years since planting"));
  g_signal_connect (self->age, "value-changed", G_CALLBACK (age_changed_cb), self);
  self->age_words = gtk_label_new ("");
  gtk_widget_add_css_class (self->age_words, "field-label");
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), self->age_words);
  gtk_box_append (GTK_BOX (box), self->age);
  gtk_box_append (GTK_BOX (self), self->months);
  gtk_box_append (GTK_BOX (self), box);
}

GtkWidget *
bl_time_strip_new (void)
{
  return g_object_new (BL_TYPE_TIME_STRIP, NULL);
}
