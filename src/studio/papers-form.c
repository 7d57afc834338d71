/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fields of the Give sheet that say how the papers are to be. */

#include "config.h"

#include "studio/papers-form.h"

#include "proposal/mark.h"
#include "studio/form.h"

#include <glib/gi18n.h>
#include <string.h>

#define MARK_HIGH 44 /* pixels of the small picture of the mark */

/* A choice among values of one key. */
typedef struct
{
  BlSettings *settings;
  const char *key;
  const char *const *values;
} Choice;

static void
choice_free (gpointer data, GClosure *closure)
{
  Choice *choice = data;

  g_object_unref (choice->settings);
  g_free (choice);
}

static void
chosen_cb (GtkDropDown *down, GParamSpec *pspec, Choice *choice)
{
  bl_settings_set (choice->settings, choice->key, choice->values[gtk_drop_down_get_selected (down)]);
}

static GtkWidget *
choice_field (BlSettings *settings, const char *label, const char *key, const char *const *values,
              const char *const *words)
{
  GtkWidget *down = bl_form_choice (words);
  g_autofree char *now = bl_settings_get (settings, key);
  Choice *choice = g_new0 (Choice, 1);

  choice->settings = g_object_ref (settings);
  choice->key = key;
  choice->values = values;
  for (guint i = 0; now != NULL && values[i] != NULL; i++)
    if (strcmp (values[i], now) == 0)
      gtk_drop_down_set_selected (GTK_DROP_DOWN (down), i);
  g_signal_connect_data (down, "notify::selected", G_CALLBACK (chosen_cb), choice, choice_free,
                         G_CONNECT_DEFAULT);
  return bl_form_field (label, down);
}

static GtkWidget *
paper_and_language (BlSettings *settings)
{
  static const char *const papers[] = { "Letter", "Tabloid", "A4", "A3", NULL };
  static const char *const languages[] = { "", "en", "es", NULL };
  const char *const paper_words[] = { _ ("Letter"), _ ("Tabloid"), "A4", "A3", NULL };
  const char *const language_words[] = { _ ("As the design"), "English", "Español", NULL };

  return bl_form_pair (
      choice_field (settings, _ ("Paper"), "paper", papers, paper_words),
      choice_field (settings, _ ("Language"), "paper-language", languages, language_words));
}

static GtkWidget *
units_and_setout (BlSettings *settings)
{
  static const char *const units[] = { "", "ft", "m", NULL };
  static const char *const ways[] = { "1", "2", "3", NULL }; /* BlSetoutWays */
  const char *const unit_words[]
      = { _ ("As the design"), _ ("Feet and inches"), _ ("Metres"), NULL };
  const char *const way_words[]
      = { _ ("By two tapes"), _ ("From a baseline"), _ ("Both ways"), NULL };

  return bl_form_pair (
      choice_field (settings, _ ("Units"), "paper-units", units, unit_words),
      choice_field (settings, _ ("Setting out"), "paper-setout", ways, way_words));
}

static void
detail_switched_cb (GtkSwitch *the_switch, GParamSpec *pspec, BlSettings *settings)
{
  bl_settings_set_int (settings, "paper-detailed", gtk_switch_get_active (the_switch));
}

static GtkWidget *
detail_switch (BlSettings *settings)
{
  GtkWidget *the_switch;
  GtkWidget *row = bl_form_switch (_ ("Every line of the estimate"), &the_switch);

  gtk_switch_set_active (GTK_SWITCH (the_switch),
                         bl_settings_get_int (settings, "paper-detailed", 1) != 0);
  g_signal_connect_object (the_switch, "notify::active", G_CALLBACK (detail_switched_cb), settings, 0);
  return row;
}

/* The bits of the pages that are checked; the last one can't be taken away. */
static void
page_toggled_cb (GtkCheckButton *check, BlSettings *settings)
{
  int bit = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (check), "page"));
  int pages = bl_settings_get_int (settings, "paper-pages", BL_PAGE_ALL);
  int now = gtk_check_button_get_active (check) ? pages | bit : pages & ~bit;

  if (now == 0)
    gtk_check_button_set_active (check, TRUE);
  else
    bl_settings_set_int (settings, "paper-pages", now);
}

static GtkWidget *
page_checks (BlSettings *settings)
{
  static const char *const names[]
      = { N_ ("Cover"), N_ ("The place"), N_ ("The alternatives"), N_ ("Months and years"),
          N_ ("Side by side"), N_ ("Plant schedule"), N_ ("Estimate"), N_ ("Care"),
          N_ ("Cautions and checks") };
  int pages = bl_settings_get_int (settings, "paper-pages", BL_PAGE_ALL);
  GtkWidget *expander = gtk_expander_new (_ ("Pages of the proposal"));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  for (int i = 0; i < (int) G_N_ELEMENTS (names); i++)
    {
      GtkWidget *check = gtk_check_button_new_with_label (_ (names[i]));

      g_object_set_data (G_OBJECT (check), "page", GINT_TO_POINTER (1 << i));
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), (pages & (1 << i)) != 0);
      g_signal_connect_object (check, "toggled", G_CALLBACK (page_toggled_cb), settings, 0);
      gtk_box_append (GTK_BOX (box), check);
    }
  gtk_expander_set_child (GTK_EXPANDER (expander), box);
  return expander;
}

static void
name_given_cb (GtkWidget *entry, gpointer settings)
{
  bl_settings_set (settings, "designer", bl_form_get_text (entry));
}

static GtkWidget *
name_field (BlSettings *settings)
{
  GtkWidget *entry = bl_form_entry (_ ("Stands where the design names no designer"));
  g_autofree char *name = bl_settings_get (settings, "designer");

  gtk_editable_set_text (GTK_EDITABLE (entry), name != NULL ? name : "");
  bl_form_on_commit (entry, name_given_cb, settings);
  return bl_form_field (_ ("Your name"), entry);
}

/* The mark as it will stand on the cover, small. */
static GdkTexture *
picture_of (const BlMark *mark)
{
  int height = MARK_HIGH * 2, width = (int) CLAMP (bl_mark_aspect (mark) * height, 8, height * 8);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  int stride = cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) pixels = NULL;

  bl_mark_draw (mark, cr, 0, 0, width);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  pixels = g_bytes_new (cairo_image_surface_get_data (surface), (gsize) stride * (gsize) height);
  cairo_surface_destroy (surface);
  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, pixels, (gsize) stride);
}

static void
show_mark (GtkWidget *box, BlSettings *settings)
{
  GtkWidget *picture = g_object_get_data (G_OBJECT (box), "picture");
  GtkWidget *forget = g_object_get_data (G_OBJECT (box), "forget");
  g_autoptr (BlPapersWishes) wishes = bl_papers_wishes_new (settings, NULL);
  g_autoptr (BlMark) mark
      = wishes != NULL && wishes->mark != NULL ? bl_mark_read (wishes->mark, NULL) : NULL;
  g_autoptr (GdkTexture) texture = mark != NULL ? picture_of (mark) : NULL;

  gtk_picture_set_paintable (GTK_PICTURE (picture), GDK_PAINTABLE (texture));
  gtk_widget_set_visible (picture, texture != NULL);
  gtk_widget_set_visible (forget, bl_settings_get_int (settings, "mark", 0) != 0);
}

static void
settings_changed_cb (BlSettings *settings, const char *key, GtkWidget *box)
{
  if (strcmp (key, "mark") == 0)
    show_mark (box, settings);
}

static GtkWidget *
mark_row (BlSettings *settings)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *picture = gtk_picture_new ();
  GtkWidget *choose = bl_form_button (_ ("Your mark…"), "bl-photo-symbolic", "win.choose-mark");
  GtkWidget *forget = bl_form_icon_button ("bl-delete-symbolic", _ ("Remove your mark"),
                                           "win.forget-mark");

  gtk_widget_set_size_request (picture, -1, MARK_HIGH);
  gtk_picture_set_can_shrink (GTK_PICTURE (picture), TRUE);
  gtk_picture_set_alternative_text (GTK_PICTURE (picture), _ ("Your mark, as on the cover"));
  gtk_widget_set_halign (picture, GTK_ALIGN_START);
  gtk_widget_set_hexpand (choose, TRUE);
  gtk_box_append (GTK_BOX (row), choose);
  gtk_box_append (GTK_BOX (row), forget);
  gtk_box_append (GTK_BOX (box), row);
  gtk_box_append (GTK_BOX (box), picture);
  g_object_set_data (G_OBJECT (box), "picture", picture);
  g_object_set_data (G_OBJECT (box), "forget", forget);
  g_signal_connect_object (settings, "changed", G_CALLBACK (settings_changed_cb), box, 0);
  show_mark (box, settings);
  return box;
}

GtkWidget *
bl_papers_form_new (BlSettings *settings)
{
  GtkWidget *expander = gtk_expander_new (_ ("Paper, language, pages, your mark"));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);

  gtk_widget_add_css_class (box, "card");
  gtk_box_append (GTK_BOX (box), paper_and_language (settings));
  gtk_box_append (GTK_BOX (box), units_and_setout (settings));
  gtk_box_append (GTK_BOX (box), detail_switch (settings));
  gtk_box_append (GTK_BOX (box), page_checks (settings));
  gtk_box_append (GTK_BOX (box), name_field (settings));
  gtk_box_append (GTK_BOX (box), mark_row (settings));
  gtk_expander_set_child (GTK_EXPANDER (expander), box);
  return expander;
}
