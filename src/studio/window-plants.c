/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's commands of the person's own plants: the form, tables, hidden plants, the nursery. */

#include "config.h"

#include "studio/window-private.h"

#include "studio/form.h"
#include "studio/own-plants.h"
#include "studio/plant-form.h"

#include <glib/gi18n.h>

/* What was done to the plants last can be taken back from the banner. */
static void
note_step (BlWindow *self, const char *sentence, BlOwnStep *step)
{
  g_clear_pointer (&self->plant_step, bl_own_step_free);
  self->plant_step = step;
  bl_window_say (self, sentence, FALSE, _("Take back"), "win.plant-back");
}

void
bl_window_plant_back (BlWindow *self)
{
  g_autoptr (BlOwnStep) step = g_steal_pointer (&self->plant_step);

  if (step == NULL)
    bl_window_say (self, _("Nothing was done to your plants that could be taken back"), FALSE, NULL,
                   NULL);
  else if (bl_board_step_back (self->board, step))
    bl_window_say (self, _("Your plants are as they were"), FALSE, NULL, NULL);
}

static char *
name_of (BlWindow *self, const char *slug)
{
  g_autoptr (BlPlant) plant = bl_library_get (bl_board_get_library (self->board), slug, NULL);

  return plant != NULL ? bl_plant_name (plant) : g_strdup (slug);
}

/* The form. */

static void
kept_cb (const char *name, BlOwnStep *step, gpointer data)
{
  g_autofree char *sentence = g_strdup_printf (_("%s is on your shelf"), name);

  note_step (data, sentence, step);
}

static void
show_form (BlWindow *self, const char *slug, gboolean copy)
{
  if (bl_board_get_library (self->board) == NULL)
    {
      bl_window_say (self, _("The plant library could not be opened."), TRUE, NULL, NULL);
      return;
    }
  gtk_window_present (GTK_WINDOW (
      bl_plant_form_window_new (GTK_WINDOW (self), self->board, slug, copy, kept_cb, self)));
}

/* The plant in hand, or a word to pick one. */
static const char *
in_hand (BlWindow *self)
{
  const char *slug = bl_board_get_pen (self->board)->slug;

  if (slug == NULL)
    bl_window_say (self, _("Pick a plant on the shelf first"), FALSE, _("Find a plant"),
                   "win.find-plant");
  return slug;
}

void
bl_window_add_plant (BlWindow *self)
{
  show_form (self, bl_board_get_pen (self->board)->slug, TRUE);
}

void
bl_window_change_plant (BlWindow *self)
{
  const char *slug = in_hand (self);

  if (slug != NULL)
    show_form (self, slug, FALSE);
}

/* Hiding and taking out. */

static void
hide (BlWindow *self, const char *slug)
{
  g_autofree char *name = name_of (self, slug);
  g_autofree char *sentence
      = g_strdup_printf (_("%s is hidden from the shelf; designs keep it"), name);
  BlOwnStep *step = NULL;

  if (bl_board_hide_plant (self->board, slug, TRUE, &step))
    note_step (self, sentence, step);
}

void
bl_window_hide_plant (BlWindow *self)
{
  const char *slug = in_hand (self);

  if (slug != NULL)
    hide (self, slug);
}

static void
drop (BlWindow *self, const char *slug)
{
  gboolean ours = bl_library_is_shadowing (bl_board_get_library (self->board), slug);
  g_autofree char *name = name_of (self, slug);
  g_autofree char *sentence = NULL;
  BlOwnStep *step = NULL;

  if (!bl_board_drop_plant (self->board, slug, &step))
    return;
  sentence = g_strdup_printf (ours ? _("Your own facts of %s are taken out; the library's stand again")
                                   : _("%s is taken out of your plants; designs keep it"),
                              name);
  note_step (self, sentence, step);
}

static void
of_plant_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  BlWindow *self = data;
  const char *name = g_action_get_name (G_ACTION (action));
  const char *slug = g_variant_get_string (value, NULL);

  if (self->board == NULL)
    return;
  if (g_str_equal (name, "plant-copy"))
    show_form (self, slug, TRUE);
  else if (g_str_equal (name, "plant-change"))
    show_form (self, slug, FALSE);
  else if (g_str_equal (name, "plant-hide"))
    hide (self, slug);
  else
    drop (self, slug);
}

void
bl_window_add_plant_actions (BlWindow *self)
{
  static const GActionEntry entries[] = {
    { .name = "plant-copy", .activate = of_plant_cb, .parameter_type = "s" },
    { .name = "plant-change", .activate = of_plant_cb, .parameter_type = "s" },
    { .name = "plant-hide", .activate = of_plant_cb, .parameter_type = "s" },
    { .name = "plant-drop", .activate = of_plant_cb, .parameter_type = "s" },
  };

  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
}

/* A window with a list of lines, a word above it and buttons under it. */

static GtkWidget *
list_window (BlWindow *self, const char *title, const char *words, GtkWidget **list, GtkWidget **foot)
{
  GtkWidget *window = gtk_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  GtkWidget *text = bl_form_text (words, NULL), *scroller = gtk_scrolled_window_new ();

  gtk_window_set_title (GTK_WINDOW (window), title);
  gtk_window_set_transient_for (GTK_WINDOW (window), GTK_WINDOW (self));
  gtk_window_set_modal (GTK_WINDOW (window), TRUE);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_window_set_default_size (GTK_WINDOW (window), 560, 460);
  gtk_widget_add_css_class (window, "studio");
  gtk_label_set_max_width_chars (GTK_LABEL (text), 64);
  *list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (*list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (*list, "cards");
  bl_form_call (*list, title);
  *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_set_halign (*foot, GTK_ALIGN_END);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), *list);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_box_append (GTK_BOX (box), text);
  gtk_box_append (GTK_BOX (box), scroller);
  gtk_box_append (GTK_BOX (box), *foot);
  gtk_widget_add_css_class (box, "sheet");
  gtk_window_set_child (GTK_WINDOW (window), box);
  bl_window_close_on_escape (window);
  return window;
}

static void
add_line (GtkWidget *list, const char *text, GtkWidget *button)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *label = bl_form_text (text, NULL);

  gtk_label_set_max_width_chars (GTK_LABEL (label), 60);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (box), label);
  if (button != NULL)
    gtk_box_append (GTK_BOX (box), button);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_append (GTK_LIST_BOX (list), row);
}

static void
show_again_cb (GtkButton *button, BlWindow *self)
{
  const char *slug = g_object_get_data (G_OBJECT (button), "slug");
  GtkWidget *row = gtk_widget_get_ancestor (GTK_WIDGET (button), GTK_TYPE_LIST_BOX_ROW);

  if (bl_board_hide_plant (self->board, slug, FALSE, NULL))
    gtk_list_box_remove (GTK_LIST_BOX (gtk_widget_get_parent (row)), row);
}

void
bl_window_show_hidden (BlWindow *self)
{
  BlLibrary *library = bl_board_get_library (self->board);
  g_auto (GStrv) slugs = library != NULL ? bl_library_hidden_slugs (library) : NULL;
  GtkWidget *window, *list, *foot;

  window = list_window (self, _("Hidden plants"),
                        _("These do not show on the shelf; designs that have them keep them."), &list,
                        &foot);
  gtk_list_box_set_placeholder (GTK_LIST_BOX (list), bl_form_text (_("No plant is hidden."), "dim"));
  for (guint i = 0; slugs != NULL && slugs[i] != NULL; i++)
    {
      g_autofree char *name = name_of (self, slugs[i]);
      g_autofree char *spoken = g_strdup_printf (_("Show %s again"), name);
      GtkWidget *button = bl_form_button (_("Show again"), NULL, NULL);

      bl_form_call (button, spoken);
      g_object_set_data_full (G_OBJECT (button), "slug", g_strdup (slugs[i]), g_free);
      g_signal_connect (button, "clicked", G_CALLBACK (show_again_cb), self);
      add_line (list, name, button);
    }
  gtk_window_present (GTK_WINDOW (window));
}

/* The nursery. */

static void
prices_cb (GtkButton *button, BlWindow *self)
{
  gboolean firm = g_object_get_data (G_OBJECT (button), "firm") != NULL;
  g_autofree char *sentence = NULL;
  guint n = 0;

  if (firm ? !bl_board_keep_nursery_prices (self->board, &n)
           : !bl_board_take_nursery_prices (self->board, &n))
    return;
  sentence = g_strdup_printf (
      firm ? ngettext ("%u price is in the firm's book", "%u prices are in the firm's book", n)
           : ngettext ("%u price is in this design; Undo takes it out",
                       "%u prices are in this design; Undo takes them out", n),
      n);
  gtk_button_set_label (GTK_BUTTON (button), sentence);
  bl_form_call (GTK_WIDGET (button), sentence);
  gtk_widget_set_sensitive (GTK_WIDGET (button), FALSE);
}

static void
add_prices_button (BlWindow *self, GtkWidget *foot, const char *label, gboolean firm)
{
  GtkWidget *button = bl_form_button (label, NULL, NULL);

  g_object_set_data (G_OBJECT (button), "firm", firm ? self : NULL);
  if (!firm)
    gtk_widget_add_css_class (button, "suggested-action");
  g_signal_connect (button, "clicked", G_CALLBACK (prices_cb), self);
  gtk_box_append (GTK_BOX (foot), button);
}

static void
show_nursery (BlWindow *self, const GPtrArray *unmatched)
{
  const BlStock *stock = bl_library_get_stock (bl_board_get_library (self->board));
  guint n = stock->offers->len;
  g_autofree char *came = g_strdup_printf (
      ngettext ("%s: %u offer is taken in.", "%s: %u offers are taken in.", n), stock->nursery, n);
  g_autofree char *left = g_strdup_printf (
      ngettext ("%u line is left out, for the library has nothing like it:",
                "%u lines are left out, for the library has nothing like them:", unmatched->len),
      unmatched->len);
  g_autofree char *words = unmatched->len > 0 ? g_strconcat (came, " ", left, NULL) : g_strdup (came);
  GtkWidget *list, *foot, *window = list_window (self, _("The nursery's list"), words, &list, &foot);

  gtk_list_box_set_placeholder (GTK_LIST_BOX (list),
                                bl_form_text (_("Every line found its plant."), "dim"));
  for (guint i = 0; i < unmatched->len; i++)
    add_line (list, unmatched->pdata[i], NULL);
  add_prices_button (self, foot, _("Prices into the firm's book"), TRUE);
  add_prices_button (self, foot, _("Prices into this design"), FALSE);
  gtk_window_present (GTK_WINDOW (window));
}

/* Files. */

typedef enum
{
  TAKE_PLANTS,
  WRITE_PLANTS,
  TAKE_NURSERY
} FileWork;

static void
take_plants (BlWindow *self, const char *path)
{
  BlOwnStep *step = NULL;
  g_autofree char *sentence = NULL;
  guint n = 0;

  if (!bl_board_take_plants (self->board, path, &n, &step))
    return;
  sentence = g_strdup_printf (ngettext ("%u plant is brought in", "%u plants are brought in", n), n);
  note_step (self, sentence, step);
}

static void
work_on (BlWindow *self, FileWork work, const char *path)
{
  g_autoptr (GPtrArray) unmatched = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *sentence = NULL;

  if (work == TAKE_PLANTS)
    take_plants (self, path);
  else if (work == TAKE_NURSERY && bl_board_take_nursery (self->board, path, unmatched))
    show_nursery (self, unmatched);
  else if (work == WRITE_PLANTS && bl_board_write_plants (self->board, path))
    {
      sentence = g_strdup_printf (_("Your plants are written to %s"), path);
      bl_window_say (self, sentence, FALSE, NULL, NULL);
    }
}

static void
responded_cb (GtkNativeDialog *native, int response, BlWindow *self)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT
                               ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native)) : NULL;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  FileWork work = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (native), "work"));

  if (path != NULL && self->board != NULL)
    work_on (self, work, path);
  else if (file != NULL)
    bl_window_say (self, _("Only files on this machine can be used: copy it here first"), TRUE, NULL,
                   NULL);
  g_object_unref (native);
}

static void
choose (BlWindow *self, FileWork work, const char *title)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  gboolean saving = work == WRITE_PLANTS;
  GtkNativeDialog *native = GTK_NATIVE_DIALOG (gtk_file_chooser_native_new (
      title, GTK_WINDOW (self), saving ? GTK_FILE_CHOOSER_ACTION_SAVE : GTK_FILE_CHOOSER_ACTION_OPEN,
      NULL, NULL));

  gtk_file_filter_add_suffix (filter, "csv");
  gtk_file_filter_set_name (filter, _("Tables, CSV"));
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (native), filter);
  if (saving)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (native), _("my plants.csv"));
  gtk_native_dialog_set_modal (native, TRUE);
  g_object_set_data (G_OBJECT (native), "work", GINT_TO_POINTER (work));
  g_signal_connect_object (native, "response", G_CALLBACK (responded_cb), self, 0);
  gtk_native_dialog_show (native);
}

void
bl_window_take_plants (BlWindow *self)
{
  choose (self, TAKE_PLANTS, _("Bring in plants from a table"));
}

void
bl_window_write_plants (BlWindow *self)
{
  choose (self, WRITE_PLANTS, _("Write your own plants as a table"));
}

void
bl_window_take_nursery (BlWindow *self)
{
  choose (self, TAKE_NURSERY, _("Bring in a nursery's prices and stock"));
}
