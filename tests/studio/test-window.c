/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window under a virtual display: it comes and goes whole, its actions exist and know when they
 * apply, everything has a name, gestures do what they say. */

#include "config.h"

#include "studio/board.h"
#include "studio/edits.h"
#include "studio/form.h"
#include "studio/ledger.h"
#include "studio/settings.h"
#include "studio/verbs.h"
#include "studio/window-private.h"

#include <glib/gstdio.h>
#include <string.h>

#include "names.h"
#include "window-house.h"

static void
test_comes_and_goes (void)
{
  BlWindow *window = open_window ();
  gpointer watched = window;

  g_object_add_weak_pointer (G_OBJECT (window), &watched);
  close_window (window);
  rest (300);
  g_assert_null (watched);
  window = open_blank ();
  watched = window;
  g_object_add_weak_pointer (G_OBJECT (window), &watched);
  close_window (window);
  rest (600);
  g_assert_null (watched);
}

static gboolean
has_stepped_aside (gpointer window)
{
  return !gtk_widget_get_visible (BL_WINDOW (window)->ledger);
}

static gboolean
is_narrow (gpointer window)
{
  return gtk_widget_get_width (window) < 900;
}

/* The ledger steps aside in a narrow window, also when it got narrow while alternatives were compared. */
static void
test_narrow_while_comparing (void)
{
  BlWindow *window = open_blank ();

  g_assert_true (gtk_widget_get_visible (window->ledger));
  activate (window, "win.stage::compare");
  rest (50);
  gtk_window_set_default_size (GTK_WINDOW (window), 820, 700);
  g_assert_true (spin (is_narrow, window));
  rest (50);
  activate (window, "win.stage::plants");
  g_assert_true (spin (has_stepped_aside, window));
  rest (50);
  g_assert_true (window->narrow);
  close_window (window);
}

static void
test_verbs_exist (void)
{
  BlWindow *window = open_blank ();
  guint n;
  const BlVerb *verbs = bl_verbs (&n);
  g_autoptr (GHashTable) keys = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = NULL;
      g_autoptr (GVariant) target = NULL;
      GActionGroup *group;
      const char *own;

      g_assert_true (g_action_parse_detailed_name (verbs[i].action, &name, &target, NULL));
      group = g_str_has_prefix (name, "app.") ? G_ACTION_GROUP (app) : G_ACTION_GROUP (window);
      own = strchr (name, '.') + 1;
      g_test_message ("%s", verbs[i].action);
      g_assert_true (g_action_group_has_action (group, own));
      for (guint k = 0; k < 3 && verbs[i].keys[k] != NULL; k++)
        {
          guint key;
          GdkModifierType mods;

          g_assert_true (gtk_accelerator_parse (verbs[i].keys[k], &key, &mods));
          /* No key does two things. */
          g_assert_true (g_hash_table_add (keys, (gpointer) verbs[i].keys[k]));
        }
    }
  close_window (window);
}

static void
test_search_verbs (void)
{
  g_autoptr (GPtrArray) undo = bl_verbs_find ("undo");
  g_autoptr (GPtrArray) bed = bl_verbs_find ("trace bed");
  g_autoptr (GPtrArray) nothing = bl_verbs_find ("zzzz");

  g_assert_cmpstr (((const BlVerb *) g_ptr_array_index (undo, 0))->action, ==, "win.undo");
  g_assert_cmpstr (((const BlVerb *) g_ptr_array_index (bed, 0))->action, ==, "win.hand::trace");
  g_assert_cmpuint (nothing->len, ==, 0);
}

static gboolean
is_enabled (BlWindow *window, const char *name)
{
  return g_action_group_get_action_enabled (G_ACTION_GROUP (window), name);
}

static void
test_enabled_when_they_apply (void)
{
  BlWindow *window = open_window ();

  g_assert_false (is_enabled (window, "undo"));
  g_assert_false (is_enabled (window, "give-proposal"));
  g_assert_true (is_enabled (window, "new-photo"));
  g_action_group_activate_action (G_ACTION_GROUP (window), "new-blank", NULL);
  g_assert_true (is_enabled (window, "undo"));
  g_assert_false (is_enabled (window, "redo"));
  g_assert_false (is_enabled (window, "delete"));
  g_assert_false (is_enabled (window, "paste"));
  activate (window, "win.undo");
  g_assert_true (is_enabled (window, "redo"));
  activate (window, "win.redo");
  activate (window, "win.copy-alternative");
  g_assert_cmpuint (bl_board_get_model (bl_window_get_board (window))->alternatives->len, ==, 2);
  close_window (window);
}

static void
test_stages_and_panes (void)
{
  static const char *const stages[]
      = { "photo", "known", "bed", "site", "plants", "compare", "give" };
  static const char *const panes[]
      = { "planting", "quantities", "cost", "care", "warnings", "history" };
  BlWindow *window = open_blank ();

  for (guint i = 0; i < G_N_ELEMENTS (stages); i++)
    {
      g_autofree char *action = g_strdup_printf ("win.stage::%s", stages[i]);

      activate (window, action);
      g_assert_cmpint (bl_board_get_stage (bl_window_get_board (window)), ==, i);
      rest (80);
    }
  activate (window, "win.stage::plants");
  for (guint i = 0; i < G_N_ELEMENTS (panes); i++)
    {
      g_autofree char *action = g_strdup_printf ("win.pane::%s", panes[i]);

      activate (window, action);
      rest (80);
    }
  close_window (window);
}

static void
check_names (GtkWidget *widget, GString *bad)
{
  if (wants_name (widget) && !has_name (widget))
    {
      g_string_append_printf (bad, "%s in", G_OBJECT_TYPE_NAME (widget));
      for (GtkWidget *up = gtk_widget_get_parent (widget); up != NULL;
           up = gtk_widget_get_parent (up))
        g_string_append_printf (bad, " %s", G_OBJECT_TYPE_NAME (up));
      g_string_append_c (bad, '\n');
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    check_names (child, bad);
}

static void
test_everything_has_a_name (void)
{
  BlWindow *window = open_blank ();
  g_autoptr (GString) bad = g_string_new (NULL);

  activate (window, "win.stage::plants");
  rest (500);
  check_names (GTK_WIDGET (window), bad);
  if (bad->len > 0)
    g_test_message ("%s", bad->str);
  g_assert_cmpuint (bad->len, ==, 0);
  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (bl_window_get_canvas (window)),
                                   GTK_ACCESSIBLE_ROLE_IMG);
  close_window (window);
}

/* A rectangle of 8 by 5, by four clicks. */
static void
trace_bed (BlWindow *window)
{
  const BlPoint corners[] = { { 1, 1 }, { 9, 1 }, { 9, 6 }, { 1, 6 } };
  BlCanvas *canvas = bl_window_get_canvas (window);

  activate (window, "win.hand::trace");
  for (guint i = 0; i < 4; i++)
    drag_on (canvas, corners[i], corners[i]);
  press_key (canvas, GDK_KEY_Return, 0);
}

static void
test_canvas_gestures (void)
{
  BlWindow *window = open_blank ();
  BlBoard *board = bl_window_get_board (window);
  BlCanvas *canvas = bl_window_get_canvas (window);
  double zoom;

  trace_bed (window);
  g_assert_cmpuint (bl_board_get_model (board)->beds->len, ==, 1);
  bl_board_set_plant (board, "echinacea-purpurea");
  activate (window, "win.hand::row");
  drag_on (canvas, BL_POINT (3, 3), BL_POINT (7, 3));
  g_assert_cmpuint (bl_board_get_model (board)->plantings->len, ==, 1);
  g_assert_true (spin (is_settled, board));
  g_assert_true (spin (is_fresh, canvas));
  zoom = bl_canvas_get_zoom (canvas);
  press_key (canvas, GDK_KEY_plus, 0);
  g_assert_cmpfloat_with_epsilon (bl_canvas_get_zoom (canvas), zoom * 1.25, 1e-9);
  press_key (canvas, GDK_KEY_0, 0);
  g_assert_true (spin (is_fresh, canvas));
  close_window (window);
}

static gboolean
has_moved (gpointer data)
{
  const BlPlanting *planting = g_ptr_array_index (bl_board_get_model (data)->plantings, 0);

  return bl_points_at (planting->shape->points, 0).x > 4.08;
}

static gboolean
has_board (gpointer window)
{
  return bl_window_get_board (window) != NULL;
}

/* A design of one bed and one specimen at (4, 4), as a file at @path. */
static void
write_specimen (const char *path)
{
  BlWindow *window = open_blank ();
  BlBoard *board = bl_window_get_board (window);
  g_autoptr (GError) error = NULL;

  trace_bed (window);
  bl_board_set_plant (board, "echinacea-purpurea");
  activate (window, "win.hand::specimen");
  drag_on (bl_window_get_canvas (window), BL_POINT (4, 4), BL_POINT (4, 4));
  g_assert_cmpuint (bl_board_get_model (board)->plantings->len, ==, 1);
  g_assert_true (spin (is_settled, board));
  bl_design_save_copy (bl_board_get_design (board), path, &error);
  g_assert_no_error (error);
  close_window (window);
}

static gboolean
has_other_title (gpointer data)
{
  return g_strcmp0 (bl_board_get_model (data)->title, "Changed by another") == 0;
}

static void
change_elsewhere (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BlDesign) other = bl_design_open (path, &error);

  g_assert_no_error (error);
  g_assert_true (bl_design_begin (other, "Title", &error));
  g_assert_true (bl_design_put_text (other, "title", "Changed by another", &error));
  g_assert_true (bl_design_commit (other, &error));
}

/* What another program changes is not shown in the middle of a drag; the drag's own edit is refused then, and
 * nothing of it is mixed in. */
static void
test_another_while_dragging (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bedline-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "design.bedline", NULL);
  BlWindow *window;
  BlBoard *board;
  BlCanvas *canvas;
  GtkEventController *drag;
  double x, y;

  write_specimen (path);
  window = open_window ();
  bl_window_open (window, path);
  g_assert_true (spin (has_board, window));
  board = bl_window_get_board (window);
  canvas = bl_window_get_canvas (window);
  g_assert_true (spin (is_settled, board));
  g_assert_true (spin (is_fresh, canvas));
  activate (window, "win.hand::select");
  /* Alone it moves the plant. */
  drag_on (canvas, BL_POINT (4, 4), BL_POINT (5, 4));
  g_assert_true (has_moved (board));
  activate (window, "win.undo");
  g_assert_false (has_moved (board));
  g_assert_true (spin (is_settled, board));
  drag = controller_of (GTK_WIDGET (canvas), GTK_TYPE_GESTURE_DRAG);
  bl_canvas_from_document (canvas, BL_POINT (4, 4), &x, &y);
  g_signal_emit_by_name (drag, "drag-begin", x, y);
  g_signal_emit_by_name (drag, "drag-update", 30.0, 0.0);
  change_elsewhere (path);
  rest (1000);
  g_assert_false (has_other_title (board));
  g_signal_emit_by_name (drag, "drag-update", 60.0, 0.0);
  g_signal_emit_by_name (drag, "drag-end", 60.0, 0.0);
  g_assert_true (spin (has_other_title, board));
  g_assert_false (has_moved (board));
  close_window (window);
  remove_tree (folder);
}

static void
test_by_keyboard (void)
{
  BlWindow *window = open_blank ();
  BlBoard *board = bl_window_get_board (window);
  BlCanvas *canvas = bl_window_get_canvas (window);

  /* A bed traced with the keyboard's pointer alone: right, up, left round a square. */
  activate (window, "win.hand::trace");
  press_key (canvas, GDK_KEY_Right, 0);
  press_key (canvas, GDK_KEY_Return, 0);
  for (int side = 0; side < 3; side++)
    {
      static const guint keys[] = { GDK_KEY_Right, GDK_KEY_Up, GDK_KEY_Left };

      for (int i = 0; i < 3; i++)
        press_key (canvas, keys[side], GDK_SHIFT_MASK);
      press_key (canvas, GDK_KEY_Return, 0);
    }
  press_key (canvas, GDK_KEY_Return, GDK_CONTROL_MASK);
  g_assert_cmpuint (bl_board_get_model (board)->beds->len, ==, 1);
  bl_board_set_plant (board, "echinacea-purpurea");
  {
    BlPoints *points = bl_points_new ();
    BlOutline *shape;

    bl_points_add (points, BL_POINT (4, 4));
    shape = bl_outline_new_take (points, FALSE);
    shape->open = TRUE;
    g_assert_true (
        bl_board_plant (board, BL_PLANTING_SPECIMEN, shape,
                        ((BlBed *)g_ptr_array_index (bl_board_get_model (board)->beds, 0))->id));
  }
  activate (window, "win.hand::select");
  bl_board_clear_selection (board);
  press_key (canvas, GDK_KEY_Tab, 0);
  g_assert_cmpuint (bl_board_get_selection (board)->len, ==, 1);
  g_assert_true (spin (is_settled, board));
  press_key (canvas, GDK_KEY_Right, 0);
  press_key (canvas, GDK_KEY_Right, 0);
  /* Two nudges are one edit. */
  g_assert_true (spin (has_moved, board));
  g_assert_cmpstr (bl_design_undo_label (bl_board_get_design (board)), ==, "Move");
  activate (window, "win.undo");
  g_assert_false (has_moved (board));
  close_window (window);
}

/* A picture that cannot be shown is told, whichever way it was asked for. */
static void
test_no_photo_is_told (void)
{
  static const char *const asked[] = { "win.switch-view", "win.view::photo" };
  BlWindow *window = open_blank ();

  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      bl_window_hush (window);
      activate (window, asked[i]);
      g_assert_true (gtk_revealer_get_reveal_child (GTK_REVEALER (window->banner)));
      g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (window->banner_text)), ==,
                       "This design has no photo yet");
      g_assert_cmpint (bl_board_get_view (bl_window_get_board (window)), ==, BL_VIEW_PLAN);
    }
  close_window (window);
}

static void
test_bad_files (void)
{
  static const char *const contents[] = { "", "this is a text", "\xff\xd8\xff\xe0 cut off" };
  static const char *const names[] = { "empty.jpg", "text.bedline", "cut.jpg" };
  BlWindow *window = open_window ();
  g_autofree char *folder = g_dir_make_tmp ("bedline-XXXXXX", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (folder, names[i], NULL);

      g_assert_true (g_file_set_contents (path, contents[i], -1, NULL));
      bl_window_open (window, path);
      rest (400);
      g_assert_null (bl_window_get_board (window));
      g_unlink (path);
    }
  g_rmdir (folder);
  close_window (window);
}

static void
test_looks (void)
{
  static const char *const looks[] = { "dark", "contrast", "light", "system" };
  BlWindow *window = open_blank ();

  for (guint i = 0; i < G_N_ELEMENTS (looks); i++)
    {
      bl_settings_set (bl_app_get_settings (app), "look", looks[i]);
      rest (60);
    }
  activate (window, "win.find-verb");
  activate (window, "win.preferences");
  activate (window, "win.help");
  activate (window, "win.show-help-overlay");
  rest (300);
  for (GList *l = gtk_window_list_toplevels (); l != NULL; l = g_list_delete_link (l, l))
    if (l->data != window && gtk_window_get_transient_for (l->data) == GTK_WINDOW (window))
      gtk_window_destroy (l->data);
  close_window (window);
}

static void
test_settings (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bedline-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "studio.ini", NULL);
  g_autofree char *design = g_build_filename (folder, "a.bedline", NULL);
  g_autoptr (BlSettings) settings = bl_settings_new (path);
  g_autoptr (BlSettings) again = NULL;
  g_autoptr (GPtrArray) recent = NULL;
  g_autofree char *look = NULL;

  g_file_set_contents (design, "", 0, NULL);
  bl_settings_set (settings, "look", "dark");
  bl_settings_add_recent (settings, design, "Strip");
  bl_settings_add_recent (settings, "/nowhere/b.bedline", "Gone");
  bl_settings_set_favourite (settings, "echinacea-purpurea", TRUE);
  again = bl_settings_new (path);
  look = bl_settings_get_look (again);
  recent = bl_settings_recent (again);
  g_assert_cmpstr (look, ==, "dark");
  g_assert_cmpuint (recent->len, ==, 1);
  g_assert_cmpstr (((BlRecent *) g_ptr_array_index (recent, 0))->title, ==, "Strip");
  g_assert_true (bl_settings_is_favourite (again, "echinacea-purpurea"));
  g_unlink (design);
  g_unlink (path);
  g_rmdir (folder);
}

/* The tests' own home: nothing of the person's is read or written. The data directories of the
 * system stay, since the toolkit finds its picture types there. */
/* A ledger as text: a heading, then each line's cells parted by tabs, to paste into a table; shown again
 * with fewer lines, the old ones are gone. */
static void
test_ledger_as_text (void)
{
  GtkWidget *box = g_object_ref_sink (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));
  BlLedger *ledger = bl_ledger_new (box, NULL, NULL);
  BlLedgerRow mulch = { "m", "Mulch", "2 cu yd × $40.00", "$80.00", "area × depth",
                        "Mulch\t2\tcu yd\t40.00\t80.00" };
  BlLedgerRow total = { "t", "Total", NULL, "$80.00", "sum", "Total\t\t\t\t80.00" };
  guint n = 0;

  for (int showing = 0; showing < 2; showing++)
    {
      g_autofree char *text = NULL;

      bl_ledger_begin (ledger);
      bl_ledger_heading (ledger, "Materials", "$80.00");
      if (showing == 0)
        bl_ledger_row (ledger, &mulch);
      bl_ledger_row (ledger, &total);
      bl_ledger_end (ledger);
      text = bl_ledger_to_text (ledger, &n);
      g_assert_cmpstr (text, ==, showing == 0
                                   ? "Materials\nMulch\t2\tcu yd\t40.00\t80.00\nTotal\t\t\t\t80.00\n"
                                   : "Materials\nTotal\t\t\t\t80.00\n");
      g_assert_cmpuint (n, ==, showing == 0 ? 2 : 1);
    }
  g_object_unref (box);
  bl_ledger_free (ledger);
}

int
main (int argc, char **argv)
{
  g_autofree char *home = start_app (&argc, &argv);
  int status;

  g_test_add_func ("/studio/window/comes-and-goes", test_comes_and_goes);
  g_test_add_func ("/studio/window/narrow-while-comparing", test_narrow_while_comparing);
  g_test_add_func ("/studio/window/verbs-exist", test_verbs_exist);
  g_test_add_func ("/studio/window/search-verbs", test_search_verbs);
  g_test_add_func ("/studio/window/enabled-when-they-apply", test_enabled_when_they_apply);
  g_test_add_func ("/studio/window/stages-and-panes", test_stages_and_panes);
  g_test_add_func ("/studio/window/everything-has-a-name", test_everything_has_a_name);
  g_test_add_func ("/studio/window/canvas-gestures", test_canvas_gestures);
  g_test_add_func ("/studio/window/by-keyboard", test_by_keyboard);
  g_test_add_func ("/studio/window/another-while-dragging", test_another_while_dragging);
  g_test_add_func ("/studio/window/no-photo-is-told", test_no_photo_is_told);
  g_test_add_func ("/studio/window/bad-files", test_bad_files);
  g_test_add_func ("/studio/window/looks", test_looks);
  g_test_add_func ("/studio/window/settings", test_settings);
  g_test_add_func ("/studio/window/ledger-as-text", test_ledger_as_text);
  status = g_test_run ();
  end_app (home);
  return status;
}
