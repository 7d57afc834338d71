/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smaller windows: command search, shortcuts, preferences, help, about. */

#include "config.h"

#include "studio/window-private.h"

#include "studio/charts.h"
#include "studio/form.h"
#include "studio/help.h"
#include "studio/price-book.h"
#include "studio/verbs.h"

#include <glib/gi18n.h>
#include <string.h>

static GtkWidget *
small_window (BlWindow *self, const char *title, int width, int height)
{
  GtkWidget *window = gtk_window_new ();

  gtk_window_set_title (GTK_WINDOW (window), title);
  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (self));
  gtk_window_set_modal (GTK_WINDOW (window), TRUE);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_window_set_default_size (GTK_WINDOW (window), width, height);
  gtk_widget_add_css_class (window, "studio");
  return window;
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  gtk_window_close (GTK_WINDOW (widget));
  return TRUE;
}

void
bl_window_close_on_escape (GtkWidget *window)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
    gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                      gtk_callback_action_new (escape_cb, NULL, NULL)));
  gtk_widget_add_controller (window, keys);
}

/* Command search. */

typedef struct
{
  BlWindow *window; /* outlives the search window, which is transient for it */
  GtkWidget *search_window, *entry, *list;
} Search;

static void
run_verb (Search *search, const BlVerb *verb)
{
  BlWindow *window = search->window;
  g_autofree char *name = NULL;
  g_autoptr (GVariant) target = NULL;

  if (!g_action_parse_detailed_name (verb->action, &name, &target, NULL))
    return;
  gtk_window_destroy (GTK_WINDOW (search->search_window));
  gtk_widget_activate_action_variant (GTK_WIDGET (window), name, target);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, Search *search)
{
  run_verb (search, g_object_get_data (G_OBJECT (row), "verb"));
}

static gboolean
is_enabled (BlWindow *window, const BlVerb *verb)
{
  g_autofree char *name = NULL;
  g_autoptr (GVariant) target = NULL;

  if (!g_action_parse_detailed_name (verb->action, &name, &target, NULL))
    return FALSE;
  if (g_str_has_prefix (name, "win."))
    return g_action_group_get_action_enabled (G_ACTION_GROUP (window), name + strlen ("win."));
  return TRUE;
}

static void
search_changed_cb (Search *search)
{
  g_autoptr (GPtrArray) found = bl_verbs_find (bl_form_get_text (search->entry));
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (search->list)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (search->list), child);
  for (guint i = 0; i < found->len; i++)
    {
      const BlVerb *verb = g_ptr_array_index (found, i);
      GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
      GtkWidget *label = gtk_label_new (_(verb->title));
      guint key;
      GdkModifierType mods;

      if (!is_enabled (search->window, verb))
        {
          g_object_ref_sink (row);
          g_object_unref (row);
          g_object_ref_sink (box);
          g_object_unref (box);
          g_object_ref_sink (label);
          g_object_unref (label);
          continue;
        }
      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_widget_set_hexpand (label, TRUE);
      gtk_label_set_wrap (GTK_LABEL (label), TRUE);
      gtk_box_append (GTK_BOX (box), label);
      if (verb->keys[0] != NULL && gtk_accelerator_parse (verb->keys[0], &key, &mods))
        {
          g_autofree char *text = gtk_accelerator_get_label (key, mods);
          GtkWidget *keys = gtk_label_new (text);

          gtk_widget_add_css_class (keys, "dim");
          gtk_box_append (GTK_BOX (box), keys);
        }
      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
      bl_form_call (row, _(verb->title));
      g_object_set_data (G_OBJECT (row), "verb", (gpointer) verb);
      gtk_list_box_append (GTK_LIST_BOX (search->list), row);
    }
  gtk_list_box_select_row (GTK_LIST_BOX (search->list),
                           gtk_list_box_get_row_at_index (GTK_LIST_BOX (search->list), 0));
}

static void
search_activated_cb (Search *search)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (search->list));

  if (row != NULL)
    run_verb (search, g_object_get_data (G_OBJECT (row), "verb"));
}

void
bl_window_show_finder (BlWindow *self)
{
  Search *search = g_new0 (Search, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8),
            *scroller = gtk_scrolled_window_new ();

  search->window = self;
  search->search_window = small_window (self, _("Find a command"), 440, 420);
  search->entry = gtk_search_entry_new ();
  g_object_set (search->entry, "placeholder-text", _("What do you want to do?"), NULL);
  bl_form_call (search->entry, _("What do you want to do?"));
  search->list = gtk_list_box_new ();
  gtk_widget_add_css_class (search->list, "cards");
  bl_form_call (search->list, _("Commands found"));
  g_signal_connect_swapped (search->entry, "search-changed", G_CALLBACK (search_changed_cb),
                            search);
  g_signal_connect_swapped (search->entry, "activate", G_CALLBACK (search_activated_cb), search);
  g_signal_connect_swapped (search->entry, "stop-search", G_CALLBACK (gtk_window_close),
                            search->search_window);
  g_signal_connect (search->list, "row-activated", G_CALLBACK (row_activated_cb), search);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), search->list);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_box_append (GTK_BOX (box), search->entry);
  gtk_box_append (GTK_BOX (box), scroller);
  gtk_widget_add_css_class (box, "sheet");
  gtk_window_set_child (GTK_WINDOW (search->search_window), box);
  g_object_set_data_full (G_OBJECT (search->search_window), "search", search, g_free);
  bl_window_close_on_escape (search->search_window);
  search_changed_cb (search);
  gtk_window_present (GTK_WINDOW (search->search_window));
  gtk_widget_grab_focus (search->entry);
}

/* Shortcuts: the table of verbs, by group, in two columns. */

static GtkWidget *
shortcut_row (const BlVerb *verb)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16),
            *title = bl_form_text (_ (verb->title), NULL);
  GString *text = g_string_new (NULL);
  GtkWidget *keys;

  for (guint k = 0; k < G_N_ELEMENTS (verb->keys) && verb->keys[k] != NULL; k++)
    {
      guint key;
      GdkModifierType mods;

      if (gtk_accelerator_parse (verb->keys[k], &key, &mods))
        {
          g_autofree char *label = gtk_accelerator_get_label (key, mods);

          g_string_append_printf (text, "%s%s", k > 0 ? ", " : "", label);
        }
    }
  keys = gtk_label_new (text->str);
  g_string_free (text, TRUE);
  gtk_widget_set_hexpand (title, TRUE);
  gtk_widget_set_valign (keys, GTK_ALIGN_START);
  gtk_widget_add_css_class (keys, "keys");
  gtk_widget_add_css_class (row, "entry-row");
  gtk_box_append (GTK_BOX (row), title);
  gtk_box_append (GTK_BOX (row), keys);
  return row;
}

void
bl_window_show_shortcuts (BlWindow *self)
{
  guint n;
  const BlVerb *verbs = bl_verbs (&n);
  GtkWidget *window = small_window (self, _("Keyboard shortcuts"), 820, 620);
  GtkWidget *scroller = gtk_scrolled_window_new (),
            *all = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 36);
  GtkWidget *columns[2];
  const char *group = NULL;
  guint done = 0;

  gtk_box_set_homogeneous (GTK_BOX (all), TRUE);
  gtk_widget_add_css_class (all, "sheet");
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      columns[i] = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
      gtk_box_append (GTK_BOX (all), columns[i]);
    }
  for (guint i = 0; i < n; i++)
    {
      if (verbs[i].keys[0] == NULL)
        continue;
      if (g_strcmp0 (group, verbs[i].group) != 0)
        {
          /* Whole groups, the first half of everything on the left. */
          done = i > n / 2 ? 1 : done;
          gtk_box_append (GTK_BOX (columns[done]), bl_form_heading (_(verbs[i].group)));
        }
      group = verbs[i].group;
      gtk_box_append (GTK_BOX (columns[done]), shortcut_row (&verbs[i]));
    }
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), all);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_window_set_child (GTK_WINDOW (window), scroller);
  bl_window_close_on_escape (window);
  gtk_window_present (GTK_WINDOW (window));
}

/* Preferences: each is kept as soon as it is chosen. */

static const char *const looks[] = { "system", "light", "dark", "contrast" };
static const char *const languages[] = { "", "en", "es" };

static void
look_chosen_cb (GtkDropDown *choice, GParamSpec *pspec, BlWindow *self)
{
  bl_settings_set (bl_app_get_settings (self->app), "look",
                   looks[gtk_drop_down_get_selected (choice)]);
}

static void
language_chosen_cb (GtkDropDown *choice, GParamSpec *pspec, BlWindow *self)
{
  bl_settings_set (bl_app_get_settings (self->app), "language",
                   languages[gtk_drop_down_get_selected (choice)]);
}

static void
units_chosen_cb (GtkDropDown *choice, GParamSpec *pspec, BlWindow *self)
{
  bl_settings_set (bl_app_get_settings (self->app), "units",
                   gtk_drop_down_get_selected (choice) == 1 ? "m" : "ft");
}

static GtkWidget *
preference (
    BlWindow *self, const char *label, const char *const *words, guint selected, GCallback callback)
{
  GtkWidget *choice = bl_form_choice (words);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), selected);
  g_signal_connect_object (choice, "notify::selected", callback, self, 0);
  return bl_form_field (label, choice);
}

void
bl_window_show_preferences (BlWindow *self)
{
  BlSettings *settings = bl_app_get_settings (self->app);
  const char *const look_words[] = { _("As the desktop"), _("Light paper"), _("Dark paper"),
                                     _("High contrast"), NULL };
  const char *const language_words[] = { _("As the desktop"), "English", "Español", NULL };
  const char *const unit_words[] = { _("Feet and inches"), _("Metres"), NULL };
  g_autofree char *look = bl_settings_get_look (settings);
  g_autofree char *language = bl_settings_get (settings, "language");
  GtkWidget *window = small_window (self, _("Units, language and look"), 360, -1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  guint look_at = 0, language_at = 0;

  for (guint i = 0; i < G_N_ELEMENTS (looks); i++)
    look_at = g_str_equal (look, looks[i]) ? i : look_at;
  for (guint i = 0; language != NULL && i < G_N_ELEMENTS (languages); i++)
    language_at = g_str_equal (language, languages[i]) ? i : language_at;
  gtk_widget_add_css_class (box, "sheet");
  gtk_box_append (GTK_BOX (box), preference (self, _("Units of new designs"), unit_words,
    bl_settings_get_units (settings) == BL_UNITS_METRES ? 1 : 0, G_CALLBACK (units_chosen_cb)));
  gtk_box_append (GTK_BOX (box),
                  preference (self, _ ("Language, from the next start on"), language_words,
                              language_at, G_CALLBACK (language_chosen_cb)));
  gtk_box_append (GTK_BOX (box), preference (self, _("Look"), look_words, look_at,
                                             G_CALLBACK (look_chosen_cb)));
  gtk_box_append (GTK_BOX (box),
                  bl_form_text (_ ("The units of the open design are on its Photo sheet."), "dim"));
  gtk_window_set_child (GTK_WINDOW (window), box);
  bl_window_close_on_escape (window);
  gtk_window_present (GTK_WINDOW (window));
}

void
bl_window_show_help (BlWindow *self)
{
  GtkWidget *window = small_window (self, _ ("Help"), 620, 680);

  gtk_window_set_modal (GTK_WINDOW (window), FALSE);
  gtk_window_set_child (GTK_WINDOW (window), bl_help_new ("index"));
  bl_window_close_on_escape (window);
  gtk_window_present (GTK_WINDOW (window));
}

void
bl_window_show_about (BlWindow *self)
{
  gtk_show_about_dialog (GTK_WINDOW (self), "program-name", "Bedline", "version", BL_VERSION,
                         "comments", _ ("A studio for planting designers"), "license-type",
                         GTK_LICENSE_GPL_3_0, "logo-icon-name", "org.bedline.Studio", NULL);
}

void
bl_window_show_prices (BlWindow *self)
{
  gtk_window_present (GTK_WINDOW (bl_price_book_window_new (GTK_WINDOW (self), self->board)));
}

void
bl_window_show_charts (BlWindow *self)
{
  gtk_window_present (GTK_WINDOW (bl_charts_window_new (GTK_WINDOW (self), self->board)));
}
