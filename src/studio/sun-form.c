/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun on the ground: on show or not, the day, and each bed's hours through the year. */

#include "config.h"

#include "studio/sun-form.h"

#include "studio/days.h"
#include "studio/form.h"
#include "studio/sun-year.h"
#include "studio/sunshine.h"

#include <glib/gi18n.h>
#include <math.h>

#define BL_TYPE_SUN_FORM (bl_sun_form_get_type ())
G_DECLARE_FINAL_TYPE (BlSunForm, bl_sun_form, BL, SUN_FORM, GtkBox)

struct _BlSunForm
{
  GtkBox parent_instance;

  BlBoard *board; /* not owned: that of the sheet around it */
  GtkWidget *shown, *more, *day, *day_words, *problem, *beds;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (BlSunForm, bl_sun_form, GTK_TYPE_BOX)

static char *
day_text (int day_of_year)
{
  int month = 0, day = 0;

  bl_day_split (bl_day (2025, 1, 1) + (BlDay) (day_of_year - 1), NULL, &month, &day);
  return bl_day_words (month, day);
}

static const char *
bed_name (const BlModel *model, gint64 id)
{
  const BlBed *bed = bl_model_bed (model, id);

  return bed != NULL ? bed->name : "";
}

/* "On the day 7.4 hours in the mean, 3.1 to 9.2; April to September 6.8." */
static char *
hours_text (const BlBedSun *sun)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (
      text, _("This day %.1f hours in the mean, from %.1f to %.1f. Growing season %.1f hours a day."),
      sun->map->mean, sun->map->low, sun->map->high, sun->season);
  if (!isnan (sun->stated))
    g_string_append_printf (text, _(" The warnings go by the %.1f hours that are stated."),
                            sun->stated);
  return g_string_free (text, FALSE);
}

static void
show_beds (BlSunForm *self, const BlSunlight *sunlight)
{
  const BlModel *model = bl_board_get_model (self->board);
  GtkWidget *child = gtk_widget_get_first_child (self->beds);

  for (guint i = 0; i < sunlight->beds->len; i++)
    {
      const BlBedSun *sun = &g_array_index (sunlight->beds, BlBedSun, i);
      g_autofree char *hours = hours_text (sun);
      GtkWidget *name, *year, *words;

      if (child == NULL)
        {
          child = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
          gtk_box_append (GTK_BOX (child), bl_form_text ("", "field-label"));
          gtk_box_append (GTK_BOX (child), bl_sun_year_new ());
          gtk_box_append (GTK_BOX (child), bl_form_text ("", "dim"));
          gtk_box_append (GTK_BOX (self->beds), child);
        }
      name = gtk_widget_get_first_child (child);
      year = gtk_widget_get_next_sibling (name);
      words = gtk_widget_get_next_sibling (year);
      gtk_label_set_text (GTK_LABEL (name), bed_name (model, sun->bed_id));
      bl_sun_year_set (BL_SUN_YEAR (year), sun->months, sunlight->rule.part_from,
                       sunlight->rule.full_from);
      gtk_label_set_text (GTK_LABEL (words), hours);
      child = gtk_widget_get_next_sibling (child);
    }
  while (child != NULL)
    {
      GtkWidget *next = gtk_widget_get_next_sibling (child);

      gtk_box_remove (GTK_BOX (self->beds), child);
      child = next;
    }
}

void
bl_sun_form_update (GtkWidget *form, BlBoard *board, guint what)
{
  BlSunForm *self = BL_SUN_FORM (form);
  const BlSunlight *sunlight;
  const char *problem = NULL;
  g_autofree char *words = NULL;

  self->board = board;
  if ((what & BL_BOARD_SUN) == 0)
    return;
  sunlight = bl_board_get_sunlight (board, &problem);
  words = day_text (bl_board_get_sun_day (board));
  self->updating = TRUE;
  gtk_switch_set_active (GTK_SWITCH (self->shown), bl_board_get_sun (board));
  gtk_widget_set_visible (self->more, bl_board_get_sun (board));
  gtk_range_set_value (GTK_RANGE (self->day), bl_board_get_sun_day (board));
  gtk_label_set_text (GTK_LABEL (self->day_words), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->day), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT,
                                  words, -1);
  gtk_label_set_text (GTK_LABEL (self->problem), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->problem, problem != NULL);
  gtk_widget_set_visible (self->beds, sunlight != NULL);
  if (sunlight != NULL)
    show_beds (self, sunlight);
  self->updating = FALSE;
}

static void
shown_cb (BlSunForm *self)
{
  if (self->board != NULL && !self->updating)
    bl_board_set_sun (self->board, gtk_switch_get_active (GTK_SWITCH (self->shown)));
}

static void
day_moved_cb (BlSunForm *self)
{
  if (self->board != NULL && !self->updating)
    bl_board_set_sun_day (self->board, (int) lround (gtk_range_get_value (GTK_RANGE (self->day))));
}

static void
turn_cb (GtkButton *button, BlSunForm *self)
{
  int day = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "day"));

  if (self->board != NULL)
    bl_board_set_sun_day (self->board, day);
}

static void
bl_sun_form_class_init (BlSunFormClass *klass)
{
}

/* The four turns of the year; the days between are had by drawing the slider. */
static GtkWidget *
make_turns (BlSunForm *self)
{
  static const int days[] = { 80, 172, 266, 355 };
  GtkWidget *grid = bl_form_grid (4);

  for (guint i = 0; i < G_N_ELEMENTS (days); i++)
    {
      g_autofree char *text = NULL;
      GtkWidget *button;
      int month = 0, day = 0;

      bl_day_split (bl_day (2025, 1, 1) + (BlDay) (days[i] - 1), NULL, &month, &day);
      text = bl_day_words_short (month, day);
      button = gtk_button_new_with_label (text);

      gtk_widget_add_css_class (button, "facet");
      g_object_set_data (G_OBJECT (button), "day", GINT_TO_POINTER (days[i]));
      g_signal_connect (button, "clicked", G_CALLBACK (turn_cb), self);
      bl_form_grid_add (grid, button);
    }
  return grid;
}

static void
bl_sun_form_init (BlSunForm *self)
{
  GtkBox *box = GTK_BOX (self);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (box, 8);
  gtk_box_append (box, bl_form_switch (_("Show where the sun reaches"), &self->shown));
  g_signal_connect_swapped (self->shown, "notify::active", G_CALLBACK (shown_cb), self);
  self->more = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->day = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 1, 365, 1);
  gtk_scale_set_draw_value (GTK_SCALE (self->day), FALSE);
  bl_form_call (self->day, _("Day of the year"));
  g_signal_connect_swapped (self->day, "value-changed", G_CALLBACK (day_moved_cb), self);
  self->day_words = bl_form_text ("", "field-label");
  gtk_box_append (GTK_BOX (self->more), self->day_words);
  gtk_box_append (GTK_BOX (self->more), self->day);
  gtk_box_append (GTK_BOX (self->more), make_turns (self));
  self->problem = bl_form_text ("", "wrong");
  gtk_box_append (GTK_BOX (self->more), self->problem);
  self->beds = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (self->more), self->beds);
  gtk_box_append (box, self->more);
}

GtkWidget *
bl_sun_form_new (void)
{
  return g_object_new (BL_TYPE_SUN_FORM, NULL);
}
