/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that a plant's record says, with its figure through the year. */

#include "config.h"

#include "studio/plant-facts.h"

#include "fit/fit.h"
#include "studio/form.h"
#include "studio/narrow.h"
#include "studio/plant-view.h"
#include "studio/record-words.h"

#include <glib/gi18n.h>

static void
add_row (GtkWidget *grid, int *row, const char *what, const char *value)
{
  GtkWidget *label = bl_form_text (what, "dim"), *text = bl_form_text (value, NULL);

  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_widget_set_valign (text, GTK_ALIGN_START);
  gtk_label_set_width_chars (GTK_LABEL (label), 22);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 22);
  gtk_label_set_max_width_chars (GTK_LABEL (text), 44);
  gtk_label_set_selectable (GTK_LABEL (text), TRUE);
  gtk_widget_set_focusable (text, FALSE);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_grid_attach (GTK_GRID (grid), label, 0, *row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), text, 1, *row, 1, 1);
  (*row)++;
}

static void
add_facts (GtkBox *box, const BlPlant *plant, gboolean metres)
{
  GtkWidget *grid = NULL;
  int row = 0;

  for (guint group = 0; group < BL_RECORD_GROUPS; group++)
    {
      g_autoptr (GPtrArray) words = bl_record_words (plant, (BlRecordGroup) group, metres);

      gtk_box_append (box, bl_form_heading (bl_record_group_title ((BlRecordGroup) group)));
      grid = gtk_grid_new ();
      gtk_grid_set_column_spacing (GTK_GRID (grid), 14);
      gtk_grid_set_row_spacing (GTK_GRID (grid), 3);
      for (guint i = 0; i + 1 < words->len; i += 2)
        add_row (grid, &row, words->pdata[i], words->pdata[i + 1]);
      gtk_box_append (box, grid);
    }
}

/* Six figures on one ground line, every second month. */
static GtkWidget *
make_year (BlPlant *plant, BlZone zone)
{
  static const char *const months[]
      = { N_ ("Jan"), N_ ("Mar"), N_ ("May"), N_ ("Jul"), N_ ("Sep"), N_ ("Nov") };
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);

  gtk_box_set_homogeneous (GTK_BOX (row), TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (months); i++)
    {
      GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
      GtkWidget *figure = bl_figure_view_new (80, 110), *label = gtk_label_new (_(months[i]));

      bl_figure_view_set (BL_FIGURE_VIEW (figure), plant, zone, 1.5 + 2 * i);
      gtk_widget_add_css_class (label, "dim");
      gtk_box_append (GTK_BOX (column), figure);
      gtk_box_append (GTK_BOX (column), label);
      gtk_box_append (GTK_BOX (row), column);
    }
  return row;
}

static void
add_warnings (GtkBox *box, BlBoard *board, BlPlant *plant)
{
  const BlBed *bed = bl_narrow_bed (board);
  g_autoptr (BlFit) fit
      = bl_fit_plant (bl_board_get_model (board), plant, bed != NULL ? bed->id : 0, bl_say_window (), NULL);

  if (fit == NULL)
    return;
  gtk_box_append (box, bl_form_heading (_("In this bed")));
  if (fit->findings->len == 0)
    gtk_box_append (box, bl_form_text (_("Nothing against it here"), NULL));
  for (guint i = 0; i < fit->findings->len; i++)
    {
      const BlFinding *f = &g_array_index (fit->findings, BlFinding, i);
      GtkWidget *sentence = bl_form_text (f->sentence, NULL);
      GtkWidget *source = bl_form_text (f->source, "dim");

      gtk_label_set_max_width_chars (GTK_LABEL (sentence), 64);
      gtk_label_set_max_width_chars (GTK_LABEL (source), 64);
      if (f->severity != BL_SEVERITY_CAUTION)
        gtk_widget_add_css_class (sentence, "wrong");
      gtk_box_append (box, sentence);
      gtk_box_append (box, source);
    }
}

static gboolean
key_cb (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
        GtkWindow *window)
{
  if (keyval != GDK_KEY_Escape)
    return FALSE;
  gtk_window_close (window);
  return TRUE;
}

static GtkWidget *
make_page (BlBoard *board, BlPlant *plant)
{
  const BlModel *model = bl_board_get_model (board);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8), *name = gtk_label_new (NULL);
  GtkWidget *ribbon = bl_ribbon_view_new ();
  g_autofree char *markup = bl_plant_name_markup (plant);
  g_autofree char *large = g_strdup_printf ("<span size=\"x-large\">%s</span>", markup);
  g_autofree char *common
      = plant->common_es != NULL ? g_strdup_printf ("%s · %s", plant->common, plant->common_es)
                                 : g_strdup (plant->common);

  gtk_label_set_markup (GTK_LABEL (name), large);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_wrap (GTK_LABEL (name), TRUE);
  gtk_widget_add_css_class (name, "botanical");
  gtk_box_append (GTK_BOX (page), name);
  gtk_box_append (GTK_BOX (page), bl_form_text (common, "dim"));
  gtk_box_append (GTK_BOX (page), make_year (plant, model->site.zone));
  bl_ribbon_view_set (BL_RIBBON_VIEW (ribbon), plant, model->site.zone, 0);
  gtk_box_append (GTK_BOX (page), ribbon);
  add_warnings (GTK_BOX (page), board, plant);
  add_facts (GTK_BOX (page), plant, model->units == BL_UNITS_METRES);
  gtk_widget_set_margin_start (page, 18);
  gtk_widget_set_margin_end (page, 18);
  gtk_widget_set_margin_top (page, 12);
  gtk_widget_set_margin_bottom (page, 18);
  return page;
}

GtkWidget *
bl_plant_facts_show (GtkWidget *near, BlBoard *board, BlPlant *plant)
{
  GtkWidget *window = gtk_window_new (), *scroller = gtk_scrolled_window_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_autofree char *title = bl_plant_name (plant);

  gtk_widget_add_css_class (window, "studio");
  gtk_widget_add_css_class (scroller, "sheet");
  gtk_window_set_title (GTK_WINDOW (window), title);
  gtk_window_set_default_size (GTK_WINDOW (window), 580, 720);
  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (gtk_widget_get_root (near)));
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), make_page (board, plant));
  gtk_window_set_child (GTK_WINDOW (window), scroller);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), window);
  gtk_widget_add_controller (window, keys);
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

/* The button. */

static void
clicked_cb (GtkWidget *button)
{
  BlBoard *board = g_object_get_data (G_OBJECT (button), "board");
  BlPlant *plant = g_object_get_data (G_OBJECT (button), "plant");

  if (board != NULL && plant != NULL)
    bl_plant_facts_show (button, board, plant);
}

GtkWidget *
bl_plant_facts_button_new (void)
{
  GtkWidget *button = bl_form_icon_button ("bl-note-symbolic", _("All facts of this plant"), NULL);

  g_signal_connect (button, "clicked", G_CALLBACK (clicked_cb), NULL);
  return button;
}

void
bl_plant_facts_set (GtkWidget *button, BlBoard *board, BlPlant *plant)
{
  g_object_set_data_full (G_OBJECT (button), "board", g_object_ref (board), g_object_unref);
  g_object_set_data_full (G_OBJECT (button), "plant", bl_plant_ref (plant),
                          (GDestroyNotify) bl_plant_unref);
}
