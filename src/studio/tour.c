/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The five-minute tour: a slip under the design that goes along the path step by step. */

#include "config.h"

#include "plants/library.h"
#include "studio/form.h"
#include "studio/tour.h"

#include <glib/gi18n.h>

typedef struct
{
  GtkWidget *box, *title, *words, *count, *back, *next;
  guint at;
} Tour;

/* What each step says, and the commands that bring it before the eyes. */
static const struct
{
  const char *title, *words, *actions[4];
} steps[] = {
  { N_ ("One photo of a hard spot"),
    N_ ("A strip between a walk and a car park: hot sun, road salt, ploughed snow, deer. The stones "
        "at the top lead from this photo to the proposal. Walk along with Next, and try things on "
        "the way: this design is a copy of its own."),
    { "win.stage::photo", "win.view::photo" } },
  { N_ ("What is known makes it measurable"),
    N_ ("Two panels of the walk are 10 ft by 4 ft, the kerb is known, so is a post. From these the "
        "area follows with its interval, in large type. The line below it says which tape "
        "measurement would help most. Drag one of the points and watch."),
    { "win.stage::known" } },
  { N_ ("The bed and what stands around it"),
    N_ ("The bed line was clicked on the photo. Wall, walk, kerb, buried line, the salted edge and "
        "the pile of snow were traced too: the checks reckon with them."),
    { "win.stage::bed" } },
  { N_ ("What the site is like"),
    N_ ("Zone, frost dates, soil and sun. What you leave out, nothing is said about."),
    { "win.stage::site" } },
  { N_ ("Plants that will live here"),
    N_ ("Type “aster” into the finder and press Enter: the plant is in your hand. Click in the bed. "
        "Each card says what speaks against a plant here, with the numbers."),
    { "win.stage::plants", "win.pane::planting" } },
  { N_ ("Through the year"),
    N_ ("Drag the mark over the months, and the years beside it. This is October."),
    { "win.stage::plants", "win.month-later", "win.month-later", "win.month-later" } },
  { N_ ("What will not do well"),
    N_ ("Each warning has its reason, its source and plants that would do instead. Press one of "
        "those to swap."),
    { "win.pane::warnings" } },
  { N_ ("Three alternatives side by side"),
    N_ ("The same bed, the same moment. The table below marks the best of each row."),
    { "win.stage::compare" } },
  { N_ ("Every figure back to the drawing"),
    N_ ("Open any line of the cost: it shows its arithmetic. The prices are invented until you put "
        "your own in the price book."),
    { "win.stage::plants", "win.pane::cost" } },
  { N_ ("What you hand over"),
    N_ ("A proposal for the client, a set-out plan for the crew, an order list for the nursery, care "
        "for the owner. Begin with a photo of your own from the menu; Ctrl+K finds any command, F1 "
        "the help pages."),
    { "win.stage::give" } },
};

static void
show (Tour *tour)
{
  g_autofree char *count
      = g_strdup_printf (_ ("%u of %u"), tour->at + 1, (guint) G_N_ELEMENTS (steps));

  gtk_label_set_text (GTK_LABEL (tour->title), _(steps[tour->at].title));
  gtk_label_set_text (GTK_LABEL (tour->words), _(steps[tour->at].words));
  gtk_label_set_text (GTK_LABEL (tour->count), count);
  gtk_widget_set_sensitive (tour->back, tour->at > 0);
  gtk_button_set_label (GTK_BUTTON (tour->next),
                        tour->at + 1 < G_N_ELEMENTS (steps) ? _("Next") : _("Finish"));
  for (guint i = 0; i < G_N_ELEMENTS (steps[0].actions) && steps[tour->at].actions[i] != NULL; i++)
    {
      g_autofree char *name = NULL;
      g_autoptr (GVariant) target = NULL;

      g_action_parse_detailed_name (steps[tour->at].actions[i], &name, &target, NULL);
      gtk_widget_activate_action_variant (tour->box, name, target);
    }
  gtk_widget_grab_focus (tour->next);
}

static void
end_cb (Tour *tour)
{
  if (gtk_widget_get_parent (tour->box) != NULL)
    gtk_box_remove (GTK_BOX (gtk_widget_get_parent (tour->box)), tour->box);
}

static gboolean
ended_cb (gpointer data)
{
  end_cb (g_object_get_data (data, "tour"));
  return G_SOURCE_REMOVE;
}

/* Whoever leaves the tour's design has left the tour. */
static void
hidden_cb (GtkWidget *box)
{
  g_idle_add_full (G_PRIORITY_DEFAULT, ended_cb, g_object_ref (box), g_object_unref);
}

static void
next_cb (Tour *tour)
{
  if (tour->at + 1 == G_N_ELEMENTS (steps))
    {
      end_cb (tour);
      return;
    }
  tour->at++;
  show (tour);
}

static void
back_cb (Tour *tour)
{
  if (tour->at > 0)
    tour->at--;
  show (tour);
}

static GtkWidget *
button (Tour *tour, const char *label, void (*clicked) (Tour *tour))
{
  GtkWidget *widget = bl_form_button (label, NULL, NULL);

  g_signal_connect_swapped (widget, "clicked", G_CALLBACK (clicked), tour);
  gtk_widget_set_valign (widget, GTK_ALIGN_CENTER);
  return widget;
}

static void
shown_cb (GtkWidget *box, Tour *tour)
{
  show (tour);
}

GtkWidget *
bl_tour_new (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *text = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  Tour *tour = g_new0 (Tour, 1);

  g_object_set_data_full (G_OBJECT (box), "tour", tour, g_free);
  tour->box = box;
  tour->title = bl_form_text ("", "slip-title");
  tour->words = bl_form_text ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (tour->words), 110);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_box_append (GTK_BOX (text), tour->title);
  gtk_box_append (GTK_BOX (text), tour->words);
  gtk_box_append (GTK_BOX (box), text);
  tour->count = bl_form_text ("", "dim");
  gtk_label_set_wrap (GTK_LABEL (tour->count), FALSE);
  gtk_widget_set_valign (tour->count, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), tour->count);
  tour->back = button (tour, _("Back"), back_cb);
  tour->next = button (tour, _("Next"), next_cb);
  gtk_widget_add_css_class (tour->next, "suggested-action");
  gtk_box_append (GTK_BOX (box), tour->back);
  gtk_box_append (GTK_BOX (box), tour->next);
  gtk_box_append (GTK_BOX (box), button (tour, _("End the tour"), end_cb));
  gtk_widget_add_css_class (box, "tour");
  g_signal_connect (box, "map", G_CALLBACK (shown_cb), tour);
  g_signal_connect (box, "unmap", G_CALLBACK (hidden_cb), NULL);
  return box;
}

char *
bl_tour_folder (void)
{
  g_autofree char *library = bl_library_default_path ();
  g_autofree char *folder = library != NULL ? g_path_get_dirname (library) : NULL;
  g_autofree char *sheet = folder != NULL ? g_build_filename (folder, BL_TOUR_SHEET, NULL) : NULL;

  return sheet != NULL && g_file_test (sheet, G_FILE_TEST_EXISTS) ? g_steal_pointer (&folder)
                                                                  : NULL;
}
