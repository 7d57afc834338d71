/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every state of the window in another language: no word left out, none cut off, a name on all that
 * can be worked. With BEDLINE_PICTURES=FOLDER each state is also kept as a picture there.
 *
 * usage: test-words LANGUAGE CATALOGUE.mo [LOOK]; "qps" is the language nobody speaks of po/pseudo.py. */

#include "config.h"

#include "design/sheet.h"
#include "studio/board.h"
#include "studio/compare.h"
#include "studio/reckon.h"
#include "studio/settings.h"
#include "studio/window.h"

#include <libintl.h>
#include <locale.h>
#include <string.h>
#include <unistd.h>

#include "house.h"
#include "names.h"

typedef struct
{
  BlApp *app;
  char *language, *pictures, *design;
  GString *known;    /* all that is said by the design and the records of plants */
  GHashTable *faults; /* each said once */
  const char *state;
  gboolean large; /* text of twice the size */
} Round;

static const char *const states[] = {
  "win.stage::photo",     "win.stage::known",      "win.stage::bed",     "win.stage::site",
  "win.stage::plants",    "win.pane::quantities",  "win.pane::cost",     "win.pane::care",
  "win.pane::warnings",   "win.pane::history",     "win.pane::planting", "win.hand::drift",
  "win.select-all",       "win.view::plan",        "win.stage::compare", "win.stage::give",
  "win.before-after",     "win.find-verb",         "win.preferences",    "win.price-book",
  "win.show-help-overlay", "win.help",
};

typedef struct
{
  int width, height;
  gboolean brief; /* only the states that differ most in how they fill a window */
} Setting;

static const char *const brief_states[]
    = { "win.stage::known", "win.stage::plants", "win.stage::compare", "win.pane::cost", NULL };

static gboolean
is_open (gpointer window)
{
  return bl_window_get_board (window) != NULL;
}

static gboolean
is_settled (gpointer board)
{
  return bl_board_is_settled (board);
}

static void
fault (Round *round, const char *kind, const char *text)
{
  g_autofree char *said = g_strdup_printf ("%s: “%s”", kind, text);

  if (g_hash_table_contains (round->faults, said))
    return;
  g_test_message ("%s in %s", said, round->state);
  g_hash_table_add (round->faults, g_steal_pointer (&said));
}

/* Words are two letters or more in a row; a unit or a key letter is none. */
static gboolean
has_words (const char *text)
{
  guint run = 0;

  for (; *text != '\0'; text = g_utf8_next_char (text))
    {
      run = g_unichar_isalpha (g_utf8_get_char (text)) ? run + 1 : 0;
      if (run > 2)
        return TRUE;
    }
  return FALSE;
}

/* @text without the signs before and after its words; changes it. */
static const char *
only_words (char *text)
{
  char *end = text + strlen (text);

  while (*text != '\0' && !g_unichar_isalpha (g_utf8_get_char (text)))
    text = g_utf8_next_char (text);
  while (end > text && !g_unichar_isalpha (g_utf8_get_char (g_utf8_prev_char (end))))
    end = g_utf8_prev_char (end);
  *end = '\0';
  return text;
}

/* A word of the language nobody speaks has accents on all that can bear one; English ones have none. */
static gboolean
is_strange (const char *word)
{
  return !g_str_is_ascii (word) || strpbrk (word, "aeiounc") == NULL;
}

/* What stands between words of the language nobody speaks: parts that were put into a sentence. */
static void
check_parts (Round *round, const char *part, const char *text)
{
  g_auto (GStrv) words = g_strsplit (part, " ", -1);
  g_autoptr (GString) run = g_string_new (NULL);

  for (guint i = 0;; i++)
    if (words[i] != NULL && !is_strange (words[i]))
      g_string_append_printf (run, "%s%s", run->len > 0 ? " " : "", words[i]);
    else
      {
        if (has_words (run->str) && strstr (round->known->str, only_words (run->str)) == NULL)
          fault (round, "left out", text);
        g_string_truncate (run, 0);
        if (words[i] == NULL)
          return;
      }
}

/* Said by the program itself and yet in English: a part that is no known data, neither of a text that
 * was translated nor of one that was not. Keys are named by the toolkit. */
static void
check_words (Round *round, const char *text)
{
  g_autofree char *folded = text != NULL ? g_utf8_casefold (text, -1) : NULL;
  g_autoptr (GString) plain = g_string_new (folded);
  g_auto (GStrv) parts = NULL;
  gboolean translated = text != NULL && strstr (text, "⟦") != NULL;

  if (text == NULL || !g_str_equal (round->language, "qps") || strstr (text, "Ctrl+") != NULL
      || g_str_has_prefix (text, "Alt+"))
    return;
  g_string_replace (plain, "⟦", "\n", 0);
  g_string_replace (plain, "⟧", "\n", 0);
  g_string_replace (plain, "~", "", 0);
  g_string_replace (plain, "‘", "\n", 0);
  g_string_replace (plain, "’", "\n", 0);
  parts = g_strsplit_set (plain->str, ",;:.()%\n0123456789", -1);
  for (guint i = 0; parts[i] != NULL; i++)
    if (translated)
      check_parts (round, parts[i], text);
    else if (has_words (parts[i]) && strstr (round->known->str, only_words (parts[i])) == NULL)
      fault (round, "left out", text);
}

static gboolean
has_whole_text_near (GtkWidget *widget)
{
  for (int i = 0; widget != NULL && i < 4; i++, widget = gtk_widget_get_parent (widget))
    if (gtk_widget_get_has_tooltip (widget))
      return TRUE;
  return FALSE;
}

static void
check_label (Round *round, GtkWidget *widget)
{
  const char *text = gtk_label_get_text (GTK_LABEL (widget));
  int wide = 0, width = gtk_widget_get_width (widget);

  check_words (round, text);
  pango_layout_get_pixel_size (gtk_label_get_layout (GTK_LABEL (widget)), &wide, NULL);
  if (wide > width + 1)
    fault (round, "wider than its place", text);
  /* What is shortened can be read whole in a tip. */
  if (pango_layout_is_ellipsized (gtk_label_get_layout (GTK_LABEL (widget)))
      && !has_whole_text_near (widget))
    fault (round, "cut off", text);
}

static void
walk (Round *round, GtkWidget *widget)
{
  if (!gtk_widget_get_mapped (widget))
    return;
  if (GTK_IS_LABEL (widget))
    check_label (round, widget);
  check_words (round, gtk_widget_get_tooltip_text (widget));
  if (wants_name (widget) && !has_name (widget))
    fault (round, "without a name", G_OBJECT_TYPE_NAME (widget));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    walk (round, child);
}

static void
take_picture (Round *round, GtkWidget *widget, guint number)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  g_autoptr (GtkSnapshot) snapshot = gtk_snapshot_new ();
  g_autoptr (GskRenderNode) node = NULL;
  g_autoptr (GdkTexture) texture = NULL;
  g_autofree char *path = NULL, *name = NULL;

  /* With the window's border, pixel by pixel. */
  gdk_paintable_snapshot (paintable, snapshot, gdk_paintable_get_intrinsic_width (paintable),
                          gdk_paintable_get_intrinsic_height (paintable));
  node = gtk_snapshot_to_node (snapshot);
  if (node == NULL)
    return;
  name = g_strdup_printf ("%s-%d%s-%02u-%s.png", round->language, gtk_widget_get_width (widget),
                          round->large ? "-large" : "", number, strrchr (round->state, '.') + 1);
  g_strdelimit (name, ":", '-');
  path = g_build_filename (round->pictures, name, NULL);
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (widget)), node, NULL);
  gdk_texture_save_to_png (texture, path);
}

/* The topmost window is the one that the last action opened, if it opened one. */
static GtkWidget *
top_window (BlWindow *window)
{
  g_autoptr (GListModel) all = g_object_ref (gtk_window_get_toplevels ());

  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (GtkWidget) one = g_list_model_get_item (all, i);

      if (one != GTK_WIDGET (window) && gtk_widget_get_mapped (one))
        return one;
    }
  return GTK_WIDGET (window);
}

/* What makes the window wider or higher than it was asked to be. */
static void
tell_least (GtkWidget *widget, int limit, int depth, GtkOrientation way)
{
  int least = 0;

  if (!gtk_widget_get_mapped (widget))
    return;
  gtk_widget_measure (widget, way, -1, &least, NULL, NULL, NULL);
  if (least > limit)
    g_test_message ("%*s%s needs %d", depth, "", G_OBJECT_TYPE_NAME (widget), least);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    tell_least (child, limit, depth + 1, way);
}

static void
check_size (GtkWidget *window, int width, int height)
{
  if (gtk_widget_get_width (window) > width)
    tell_least (window, width * 2 / 3, 0, GTK_ORIENTATION_HORIZONTAL);
  if (gtk_widget_get_height (window) > height)
    tell_least (window, height * 2 / 3, 0, GTK_ORIENTATION_VERTICAL);
  g_assert_cmpint (gtk_widget_get_width (window), <=, width);
  g_assert_cmpint (gtk_widget_get_height (window), <=, height);
}

static GtkWidget *
find_compare (GtkWidget *widget)
{
  GtkWidget *found = BL_IS_COMPARE (widget) ? widget : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_compare (child);
  return found;
}

static gboolean
is_compared (gpointer window)
{
  GtkWidget *compare = find_compare (window);

  return compare != NULL && bl_compare_is_fresh (BL_COMPARE (compare));
}

/* A label that was only just put in has no width yet. */
static gboolean
is_laid_out (gpointer data)
{
  GtkWidget *widget = data;

  if (!gtk_widget_get_mapped (widget))
    return TRUE;
  if (GTK_IS_LABEL (widget) && gtk_widget_get_width (widget) == 0
      && gtk_label_get_text (GTK_LABEL (widget))[0] != '\0')
    return FALSE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (!is_laid_out (child))
      return FALSE;
  return TRUE;
}

static void
visit (Round *round, BlWindow *window, guint number)
{
  g_autofree char *name = NULL;
  g_autoptr (GVariant) target = NULL;
  GtkWidget *top;

  round->state = states[number];
  g_assert_true (g_action_parse_detailed_name (round->state, &name, &target, NULL));
  gtk_widget_activate_action_variant (GTK_WIDGET (window), name, target);
  rest (150);
  spin (is_settled, bl_window_get_board (window));
  if (g_str_equal (round->state, "win.stage::compare"))
    spin (is_compared, window);
  rest (200);
  top = top_window (window);
  spin (is_laid_out, top);
  walk (round, top);
  if (round->pictures != NULL)
    take_picture (round, top, number);
  if (top != GTK_WIDGET (window))
    {
      gtk_window_destroy (GTK_WINDOW (top));
      rest (50);
    }
}

static void
know (Round *round, const char *text)
{
  g_autofree char *plain = text != NULL ? g_utf8_casefold (text, -1) : NULL;

  if (plain != NULL)
    g_string_append_printf (round->known, "%s\n", plain);
}

static void
know_plants (Round *round)
{
  const BlPlantQuery all = { .limit = 10000 };
  g_autoptr (GPtrArray) plants
      = bl_library_find (bl_app_get_library (round->app, NULL), &all, NULL);

  for (guint i = 0; i < plants->len; i++)
    {
      const BlPlant *plant = g_ptr_array_index (plants, i);
      g_autofree char *name = bl_plant_name (plant);

      know (round, name);
      know (round, plant->common);
      know (round, plant->flower_color_name);
      know (round, plant->care_note);
      know (round, plant->harm_note);
      know (round, plant->invasive);
      for (guint k = 0; k < plant->n_regulations; k++)
        know (round, plant->regulations[k].what);
    }
}

/* What the window may say in the words of others: the design, the plants' records, and units. */
static void
learn (Round *round)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BlDesign) design = bl_design_open (round->design, &error);
  g_autofree char *sheet = NULL;
  g_autoptr (GBytes) help = NULL;

  g_assert_no_error (error);
  sheet = bl_sheet_write (design, NULL);
  know (round, sheet);
  know (round, "Bedline\ngal\ncu yd\nmin\nDraft from a sheet\nTape straight across the bed\nbecomes");
  help = g_resources_lookup_data ("/org/bedline/Studio/help/C/index.page", 0, &error);
  g_assert_no_error (error);
  know (round, g_bytes_get_data (help, NULL));
  know_plants (round);
}

static GtkWidget *
find_class (GtkWidget *widget, const char *class)
{
  GtkWidget *found = gtk_widget_has_css_class (widget, class) ? widget : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find_class (child, class);
  return found;
}

static gboolean
is_on_tour (gpointer window)
{
  GtkWidget *slip = find_class (window, "tour");

  return slip != NULL && gtk_widget_get_mapped (slip) && gtk_widget_get_width (slip) > 100;
}

/* Every step of the tour to its end, which takes its slip away. */
static void
go_on_tour (Round *round, BlWindow *window)
{
  guint steps = 0;

  round->state = "win.tour";
  gtk_widget_activate_action_variant (GTK_WIDGET (window), round->state, NULL);
  g_assert_true (spin (is_on_tour, window));
  for (; is_on_tour (window) && steps < 30; steps++)
    {
      GtkWidget *slip = find_class (GTK_WIDGET (window), "tour");

      rest (200);
      walk (round, slip);
      if (round->pictures != NULL)
        take_picture (round, GTK_WIDGET (window), 30 + steps);
      g_signal_emit_by_name (find_class (slip, "suggested-action"), "clicked");
      rest (100);
    }
  g_assert_cmpuint (steps, ==, 10);
}

/* The window's size follows what was asked for when the display gets to it. */
typedef struct
{
  GtkWidget *window;
  const Setting *setting;
} Fitting;

static gboolean
is_fitted (gpointer data)
{
  const Fitting *fitting = data;

  return gtk_widget_get_width (fitting->window) <= fitting->setting->width
         && gtk_widget_get_height (fitting->window) <= fitting->setting->height;
}

/* Every state, or the brief ones, in a window of that size. */
static void
go_round (Round *round, BlWindow *window, const Setting *setting)
{
  Fitting fitting = { GTK_WIDGET (window), setting };

  gtk_window_set_default_size (GTK_WINDOW (window), setting->width, setting->height);
  rest (500);
  spin (is_fitted, &fitting);
  spin (is_settled, bl_window_get_board (window));
  check_size (GTK_WIDGET (window), setting->width, setting->height);
  for (guint i = 0; i < G_N_ELEMENTS (states); i++)
    if (!setting->brief || g_strv_contains (brief_states, states[i]))
      {
        visit (round, window, i);
        check_size (GTK_WIDGET (window), setting->width, setting->height);
        if (g_str_equal (states[i], "win.before-after"))
          gtk_widget_activate_action_variant (GTK_WIDGET (window), states[i], NULL);
      }
}

static BlWindow *
open_window (Round *round)
{
  BlWindow *window = BL_WINDOW (bl_window_new (round->app));

  gtk_window_present (GTK_WINDOW (window));
  rest (300);
  round->state = "win.start";
  walk (round, GTK_WIDGET (window));
  if (round->pictures != NULL)
    take_picture (round, GTK_WIDGET (window), 99);
  bl_window_open (window, round->design);
  g_assert_true (spin (is_open, window));
  return window;
}

static void
close_window (Round *round, BlWindow *window)
{
  spin (is_settled, bl_window_get_board (window));
  gtk_window_destroy (GTK_WINDOW (window));
  rest (400);
  g_assert_cmpuint (g_hash_table_size (round->faults), ==, 0);
}

static void
test_round (gconstpointer data)
{
  Round *round = (Round *) data;
  BlWindow *window = open_window (round);
  /* The language nobody speaks is a third longer than any. */
  const Setting settings[]
      = { { 1280, 820, FALSE },
          { 2560, 1440, TRUE },
          { g_str_equal (round->language, "qps") ? 860 : 800, 600, FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (settings); i++)
    go_round (round, window, &settings[i]);
  go_on_tour (round, window);
  close_window (round, window);
}

/* Text twice as large, as a person with weak eyes has it. */
static void
test_large (gconstpointer data)
{
  Round *round = (Round *) data;
  const Setting setting = { 1280, 800, FALSE };
  BlWindow *window;

  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", 2 * 96 * PANGO_SCALE, NULL);
  round->large = TRUE;
  window = open_window (round);
  go_round (round, window, &setting);
  close_window (round, window);
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", 96 * PANGO_SCALE, NULL);
}

/* The catalogue where gettext looks for it. */
static void
put_catalogue (const char *language, const char *catalogue, const char *home)
{
  g_autofree char *locale = g_build_filename (home, "locale", NULL);
  g_autofree char *folder = g_build_filename (locale, language, "LC_MESSAGES", NULL);
  g_autofree char *path = g_build_filename (folder, GETTEXT_PACKAGE ".mo", NULL);
  g_autofree char *whole = g_canonicalize_filename (catalogue, NULL);

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  g_assert_cmpint (symlink (whole, path), ==, 0);
  bindtextdomain (GETTEXT_PACKAGE, locale);
}

static char *
draft (BlApp *app, const char *home)
{
  const char *demo = g_getenv ("BEDLINE_DEMO");
  g_autofree char *sheet = g_build_filename (demo, "harbour-lane.sheet.json", NULL);
  g_autofree char *text = NULL;
  char *path = g_build_filename (home, "strip.bedline", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlDesign) design = NULL;

  g_assert_true (g_file_get_contents (sheet, &text, NULL, &error));
  design = bl_sheet_draft (text, -1, demo, bl_app_get_library (app, NULL), path, &error);
  g_assert_no_error (error);
  return path;
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *home = g_dir_make_tmp ("bedline-home-XXXXXX", NULL);
  Round round = { .known = g_string_new (NULL) };
  int status;

  set_home (home);
  g_assert_cmpint (argc, >=, 3);
  round.language = g_strdup (argv[1]);
  round.pictures = g_strdup (g_getenv ("BEDLINE_PICTURES"));
  g_setenv ("LANGUAGE", round.language, TRUE);
  setlocale (LC_ALL, "");
  put_catalogue (round.language, argv[2], home);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_assert_cmpstr (gettext ("Plants"), !=, "Plants");
  gtk_test_init (&argc, &argv, NULL);
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, "gtk-cursor-blink",
                FALSE, NULL);
  round.app = bl_app_new ();
  if (argc > 3)
    bl_settings_set (bl_app_get_settings (round.app), "look", argv[3]);
  g_application_register (G_APPLICATION (round.app), NULL, &error);
  g_assert_no_error (error);
  round.faults = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  round.design = draft (round.app, home);
  learn (&round);
  g_test_add_data_func ("/studio/words/round", &round, test_round);
  /* Twice the size and a third longer is nobody's lot. */
  if (!g_str_equal (round.language, "qps"))
    g_test_add_data_func ("/studio/words/large", &round, test_large);
  status = g_test_run ();
  g_object_unref (round.app);
  g_hash_table_unref (round.faults);
  g_string_free (round.known, TRUE);
  g_free (round.design);
  g_free (round.pictures);
  g_free (round.language);
  remove_tree (home);
  return status;
}
