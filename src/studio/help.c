/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The help pages: Mallard files, shown in a window of our own so that they need no other program. */

#include "config.h"

#include "studio/form.h"
#include "studio/help.h"

#include <glib/gi18n.h>
#include <string.h>

#define PAGES "/org/bedline/Studio/help/"

typedef struct
{
  GtkWidget *back, *scroller;
  GPtrArray *trail; /* ids of the pages gone through; the last is shown */
} Help;

/* What is being read of a page. */
typedef struct
{
  GtkWidget *box;
  GString *text;     /* markup of the block; NULL outside of one */
  gboolean in_section, in_note;
  int step;          /* number of the item in steps; 0 = in a plain list; -1 = in neither */
  Help *help;
} Reading;

static void show (Help *help, const char *id);

static gboolean
follow_cb (GtkLabel *label, const char *id, Help *help)
{
  g_ptr_array_add (help->trail, g_strdup (id));
  show (help, id);
  return TRUE;
}

static GtkWidget *
paragraph (Reading *reading)
{
  GtkWidget *label = bl_form_text ("", NULL);

  gtk_label_set_markup (GTK_LABEL (label), reading->text->str);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 68);
  gtk_widget_set_hexpand (label, TRUE);
  g_signal_connect (label, "activate-link", G_CALLBACK (follow_cb), reading->help);
  return label;
}

static void
add_paragraph (Reading *reading)
{
  GtkWidget *words = paragraph (reading);

  if (reading->in_note)
    {
      gtk_widget_add_css_class (words, "advice");
      gtk_box_append (GTK_BOX (reading->box), words);
    }
  else if (reading->step >= 0)
    {
      GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
      g_autofree char *mark
          = reading->step > 0 ? g_strdup_printf ("%d.", reading->step) : g_strdup ("•");
      GtkWidget *number = bl_form_text (mark, "dim");

      gtk_widget_set_valign (number, GTK_ALIGN_START);
      gtk_label_set_width_chars (GTK_LABEL (number), 2);
      gtk_box_append (GTK_BOX (row), number);
      gtk_box_append (GTK_BOX (row), words);
      gtk_box_append (GTK_BOX (reading->box), row);
    }
  else
    gtk_box_append (GTK_BOX (reading->box), words);
}

static void
start_cb (GMarkupParseContext *context, const char *element, const char **names,
          const char **values, gpointer data, GError **error)
{
  Reading *reading = data;

  if (g_str_equal (element, "section"))
    reading->in_section = TRUE;
  else if (g_str_equal (element, "note"))
    reading->in_note = TRUE;
  else if (g_str_equal (element, "list") || g_str_equal (element, "steps"))
    reading->step = 0;
  else if (g_str_equal (element, "p") || g_str_equal (element, "title"))
    reading->text = g_string_new (NULL);
  else if (g_str_equal (element, "item")
           && g_str_equal (g_markup_parse_context_get_element_stack (context)->next->data, "steps"))
    reading->step++;
  else if (g_str_equal (element, "link") && reading->text != NULL)
    for (guint i = 0; names[i] != NULL; i++)
      if (g_str_equal (names[i], "xref"))
        g_string_append_printf (reading->text, "<a href=\"%s\">", values[i]);
}

static void
end_cb (GMarkupParseContext *context, const char *element, gpointer data, GError **error)
{
  Reading *reading = data;

  if (g_str_equal (element, "section"))
    reading->in_section = FALSE;
  else if (g_str_equal (element, "note"))
    reading->in_note = FALSE;
  else if (g_str_equal (element, "list") || g_str_equal (element, "steps"))
    reading->step = -1;
  else if (g_str_equal (element, "link") && reading->text != NULL)
    g_string_append (reading->text, "</a>");
  else if (reading->text != NULL && g_str_equal (element, "p"))
    add_paragraph (reading);
  else if (reading->text != NULL && g_str_equal (element, "title"))
    {
      GtkWidget *heading = bl_form_heading ("");

      gtk_label_set_markup (GTK_LABEL (heading), reading->text->str);
      if (!reading->in_section)
        gtk_widget_add_css_class (heading, "help-title");
      gtk_box_append (GTK_BOX (reading->box), heading);
    }
  if (reading->text != NULL && (g_str_equal (element, "p") || g_str_equal (element, "title")))
    {
      g_string_free (reading->text, TRUE);
      reading->text = NULL;
    }
}

static void
text_cb (GMarkupParseContext *context, const char *text, gsize length, gpointer data,
         GError **error)
{
  Reading *reading = data;

  if (reading->text != NULL)
    {
      g_autofree char *escaped = g_markup_escape_text (text, (gssize) length);

      g_string_append (reading->text, escaped);
    }
}

/* The page in the first of the person's languages that has it. */
static GBytes *
load (const char *id)
{
  const char *const *languages = g_get_language_names_with_category ("LC_MESSAGES");

  for (guint i = 0; languages[i] != NULL; i++)
    {
      g_autofree char *path = g_strdup_printf (PAGES "%s/%s.page", languages[i], id);
      GBytes *bytes = g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);

      if (bytes != NULL)
        return bytes;
    }
  return NULL;
}

static void
show (Help *help, const char *id)
{
  static const GMarkupParser parser = { start_cb, end_cb, text_cb, NULL, NULL };
  g_autoptr (GBytes) bytes = load (id);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  Reading reading = { box, NULL, FALSE, FALSE, -1, help };
  g_autoptr (GMarkupParseContext) context
      = g_markup_parse_context_new (&parser, G_MARKUP_TREAT_CDATA_AS_TEXT, &reading, NULL);
  g_autoptr (GError) error = NULL;

  if (bytes == NULL
      || !g_markup_parse_context_parse (context, g_bytes_get_data (bytes, NULL),
                                        (gssize) g_bytes_get_size (bytes), &error))
    gtk_box_append (GTK_BOX (box), bl_form_text (_ ("This help page cannot be read."), "wrong"));
  gtk_widget_add_css_class (box, "help");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (help->scroller), box);
  gtk_widget_set_visible (help->back, help->trail->len > 1);
}

static void
back_cb (Help *help)
{
  if (help->trail->len < 2)
    return;
  g_ptr_array_set_size (help->trail, (int) help->trail->len - 1);
  show (help, g_ptr_array_index (help->trail, help->trail->len - 1));
}

static void
free_help (Help *help)
{
  g_ptr_array_unref (help->trail);
  g_free (help);
}

GtkWidget *
bl_help_new (const char *id)
{
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Help *help = g_new0 (Help, 1);

  g_object_set_data_full (G_OBJECT (page), "help", help, (GDestroyNotify) free_help);
  help->trail = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (help->trail, g_strdup (id));
  help->back = bl_form_button (_ ("Back"), NULL, NULL);
  gtk_widget_add_css_class (help->back, "flat");
  gtk_widget_set_halign (help->back, GTK_ALIGN_START);
  g_signal_connect_swapped (help->back, "clicked", G_CALLBACK (back_cb), help);
  gtk_box_append (GTK_BOX (page), help->back);
  help->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (help->scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (help->scroller, TRUE);
  gtk_box_append (GTK_BOX (page), help->scroller);
  show (help, id);
  return page;
}
