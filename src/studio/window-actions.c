/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's actions: everything that menus, keys, buttons and the command search can do. */

#include "config.h"

#include "studio/window-private.h"

#include "studio/compare.h"
#include "studio/window-symbol.h"
#include "studio/sheets.h"
#include "studio/strips.h"

#include <glib/gi18n.h>

void
bl_window_set_state (BlWindow *self, const char *name, const char *value)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);

  if (action != NULL)
    g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_string (value));
}

static void
set_flag (BlWindow *self, const char *name, gboolean value)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);

  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_boolean (value));
}

/* A narrow window has room for the sheet or the ledger, not for both. */
static void
show_side (BlWindow *self, gboolean ledger, gboolean shown)
{
  gtk_widget_set_visible (ledger ? self->ledger : self->sheets, shown);
  set_flag (self, ledger ? "ledger" : "side-sheet", shown);
  if (!self->narrow || !shown)
    return;
  gtk_widget_set_visible (ledger ? self->sheets : self->ledger, FALSE);
  set_flag (self, ledger ? "side-sheet" : "ledger", FALSE);
}

static void
focus_canvas (BlWindow *self)
{
  gtk_widget_grab_focus (self->canvas);
}

/* One function for all plain commands, told apart by their names: the table below it says which
 * need a design, something selected, or a file that may be written. */

static void
step_alternative (BlWindow *self, int step)
{
  const GPtrArray *all = bl_board_get_model (self->board)->alternatives;

  for (guint i = 0; i < all->len; i++)
    if (((const BlAlternative *)g_ptr_array_index (all, i))->id
        == bl_board_get_alternative (self->board))
      {
        const BlAlternative *to = g_ptr_array_index (all, (i + all->len + (guint) step) % all->len);

        bl_board_set_alternative (self->board, to->id);
        return;
      }
}

static void
shift_moment (BlWindow *self, double months, double years)
{
  BlMoment moment = bl_board_get_moment (self->board);

  if (months != 0)
    {
      moment.month = floor (moment.month) + 0.5 + months;
      moment.month = moment.month >= 13 ? moment.month - 12 : moment.month < 1 ? moment.month + 12
                                                                              : moment.month;
    }
  moment.years = CLAMP (moment.years + years, 0, 15);
  bl_board_set_moment (self->board, moment);
}

static void
zoom (BlWindow *self, double factor)
{
  if (bl_board_get_stage (self->board) == BL_STAGE_COMPARE)
    bl_compare_zoom_by (BL_COMPARE (self->compare), factor);
  else
    bl_canvas_zoom_by (BL_CANVAS (self->canvas), factor);
}

static void
swap_plant (BlWindow *self)
{
  const GArray *selection = bl_board_get_selection (self->board);
  const BlPen *pen = bl_board_get_pen (self->board);
  const BlPlanting *planting;

  if (pen->slug == NULL || selection->len == 0)
    {
      bl_board_say (self->board, _("Select a planting and pick another plant on the shelf first"));
      return;
    }
  planting = bl_model_planting (bl_board_get_model (self->board),
                                g_array_index (selection, BlPick, 0).id);
  if (planting != NULL)
    {
      g_autofree char *from = g_strdup (planting->slug);

      bl_board_swap_plant (self->board, from, pen->slug);
    }
}

static void
copy_to_next (BlWindow *self)
{
  const GPtrArray *all = bl_board_get_model (self->board)->alternatives;

  for (guint i = 0; i < all->len; i++)
    if (((const BlAlternative *)g_ptr_array_index (all, i))->id
        == bl_board_get_alternative (self->board))
      {
        const BlAlternative *to = g_ptr_array_index (all, (i + 1) % all->len);
        g_autofree char *sentence = NULL;

        if (all->len < 2)
          bl_board_say (self->board, _("There is no other alternative to copy to: add one first"));
        else
          {
            sentence = g_strdup_printf (_("Copied to alternative %s"), to->name);
            if (bl_board_copy_selection_to (self->board, to->id))
              bl_window_say (self, sentence, FALSE, _("Undo"), "win.undo");
          }
        return;
      }
}

static void
copy_selection (BlWindow *self)
{
  g_clear_pointer (&self->copied, g_ptr_array_unref);
  self->copied = bl_board_copied (self->board);
  bl_window_update_actions (self);
}

static void do_undo (BlWindow *self) { bl_board_undo (self->board); }
static void do_redo (BlWindow *self) { bl_board_redo (self->board); }
static void do_delete (BlWindow *self) { bl_board_delete_selection (self->board); }
static void do_paste (BlWindow *self) { bl_board_paste (self->board, self->copied); }
static void do_duplicate (BlWindow *self) { bl_board_duplicate_selection (self->board); }
static void do_select_all (BlWindow *self) { bl_board_select_all (self->board); }
static void do_select_none (BlWindow *self) { bl_board_clear_selection (self->board); }
static void do_lock (BlWindow *self) { bl_board_set_locked (self->board, TRUE); }
static void do_unlock (BlWindow *self) { bl_board_set_locked (self->board, FALSE); }
static void do_group (BlWindow *self) { bl_board_group_selection (self->board, TRUE); }
static void do_ungroup (BlWindow *self) { bl_board_group_selection (self->board, FALSE); }
static void do_align (BlWindow *self) { bl_board_align_selection (self->board, FALSE); }
static void do_spread (BlWindow *self) { bl_board_align_selection (self->board, TRUE); }
static void do_mirror (BlWindow *self) { bl_board_mirror_selection (self->board); }
static void do_add (BlWindow *self) { bl_board_add_alternative (self->board, FALSE); }
static void do_copy (BlWindow *self) { bl_board_add_alternative (self->board, TRUE); }
static void do_remove (BlWindow *self) { bl_board_remove_alternative (self->board); }
static void do_rename (BlWindow *self) { bl_tabs_rename (self->tabs); }
static void do_next (BlWindow *self) { step_alternative (self, 1); }
static void do_previous (BlWindow *self) { step_alternative (self, -1); }
static void do_zoom_in (BlWindow *self) { zoom (self, 1.25); }
static void do_zoom_out (BlWindow *self) { zoom (self, 1 / 1.25); }
static void do_zoom_full (BlWindow *self) { bl_canvas_zoom_full (BL_CANVAS (self->canvas)); }
static void do_later (BlWindow *self) { shift_moment (self, 1, 0); }
static void do_earlier (BlWindow *self) { shift_moment (self, -1, 0); }
static void do_older (BlWindow *self) { shift_moment (self, 0, 1); }
static void do_younger (BlWindow *self) { shift_moment (self, 0, -1); }
static void do_new_photo (BlWindow *self) { bl_window_choose_photo (self, TRUE); }
static void do_choose_photo (BlWindow *self) { bl_window_choose_photo (self, FALSE); }
static void do_new_drawing (BlWindow *self) { bl_window_choose_drawing (self, TRUE); }
static void do_choose_drawing (BlWindow *self) { bl_window_choose_drawing (self, FALSE); }
static void do_new_tape (BlWindow *self) { bl_window_new_design (self, BL_STAGE_KNOWN); }
static void do_new_blank (BlWindow *self) { bl_window_new_design (self, BL_STAGE_BED); }
static void do_start_page (BlWindow *self) { bl_window_set_board (self, NULL); }
static void do_proposal (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_PROPOSAL); }
static void do_picture (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_PICTURE); }
static void do_months (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_MONTHS); }
static void do_years (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_YEARS); }
static void do_plan (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_PLAN); }
static void do_before_after (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_BEFORE_AFTER); }
static void do_crew (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_CREW); }
static void do_care_sheet (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_CARE_SHEET); }
static void do_calendar (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_CALENDAR); }
static void do_order (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_ORDER); }
static void do_request (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_REQUEST); }
static void do_sheet (BlWindow *self) { bl_window_choose_gift (self, BL_GIVE_SHEET); }
static void do_print (BlWindow *self) { bl_window_print (self, BL_GIVE_PICTURE); }
static void do_print_proposal (BlWindow *self) { bl_window_print (self, BL_GIVE_PROPOSAL); }
static void do_print_crew (BlWindow *self) { bl_window_print (self, BL_GIVE_CREW); }
static void do_print_care (BlWindow *self) { bl_window_print (self, BL_GIVE_CARE_SHEET); }
static void do_price_book (BlWindow *self) { bl_window_show_prices (self); }
static void do_charts (BlWindow *self) { bl_window_show_charts (self); }

static void
do_fit (BlWindow *self)
{
  if (bl_board_get_stage (self->board) == BL_STAGE_COMPARE)
    bl_compare_fit (BL_COMPARE (self->compare));
  else
    bl_canvas_fit (BL_CANVAS (self->canvas));
}

static void
say_no_photo (BlWindow *self)
{
  bl_window_say (self, _ ("This design has no photo yet"), FALSE, _ ("Choose a photo…"), "win.choose-photo");
}

static void
set_view (BlWindow *self, gboolean plan)
{
  if (!plan && bl_board_get_model (self->board)->photo.width == 0)
    say_no_photo (self);
  else
    bl_board_set_view (self->board, plan ? BL_VIEW_PLAN : BL_VIEW_PHOTO);
}

static void
do_switch_view (BlWindow *self)
{
  set_view (self, bl_board_get_view (self->board) != BL_VIEW_PLAN);
}

static void
do_find_plant (BlWindow *self)
{
  bl_board_set_stage (self->board, BL_STAGE_PLANTS);
  show_side (self, FALSE, TRUE);
  bl_shelf_focus (self->shelf);
}

typedef enum
{
  NEEDS_NOTHING = 0,
  NEEDS_DESIGN = 1 << 0,
  NEEDS_WRITING = 1 << 1,
  NEEDS_SELECTION = 1 << 2,
  NEEDS_COPIED = 1 << 3,
  NEEDS_UNDO = 1 << 4,
  NEEDS_REDO = 1 << 5
} Needs;

#define WRITES (NEEDS_DESIGN | NEEDS_WRITING)
#define CHANGES (WRITES | NEEDS_SELECTION)

static const struct
{
  const char *name;
  void (*run) (BlWindow *self);
  Needs needs;
} commands[] = {
  { "undo", do_undo, WRITES | NEEDS_UNDO },
  { "redo", do_redo, WRITES | NEEDS_REDO },
  { "delete", do_delete, CHANGES },
  { "copy", copy_selection, NEEDS_DESIGN | NEEDS_SELECTION },
  { "paste", do_paste, WRITES | NEEDS_COPIED },
  { "duplicate", do_duplicate, CHANGES },
  { "select-all", do_select_all, NEEDS_DESIGN },
  { "select-none", do_select_none, NEEDS_DESIGN },
  { "lock", do_lock, CHANGES },
  { "unlock", do_unlock, CHANGES },
  { "group", do_group, CHANGES },
  { "ungroup", do_ungroup, CHANGES },
  { "align", do_align, CHANGES },
  { "spread", do_spread, CHANGES },
  { "mirror", do_mirror, CHANGES },
  { "swap-plant", swap_plant, CHANGES },
  { "copy-to-next", copy_to_next, CHANGES },
  { "add-alternative", do_add, WRITES },
  { "copy-alternative", do_copy, WRITES },
  { "rename-alternative", do_rename, WRITES },
  { "delete-alternative", do_remove, WRITES },
  { "next-alternative", do_next, NEEDS_DESIGN },
  { "previous-alternative", do_previous, NEEDS_DESIGN },
  { "fit", do_fit, NEEDS_DESIGN },
  { "zoom-in", do_zoom_in, NEEDS_DESIGN },
  { "zoom-out", do_zoom_out, NEEDS_DESIGN },
  { "zoom-full", do_zoom_full, NEEDS_DESIGN },
  { "month-later", do_later, NEEDS_DESIGN },
  { "month-earlier", do_earlier, NEEDS_DESIGN },
  { "older", do_older, NEEDS_DESIGN },
  { "younger", do_younger, NEEDS_DESIGN },
  { "switch-view", do_switch_view, NEEDS_DESIGN },
  { "focus-canvas", focus_canvas, NEEDS_DESIGN },
  { "find-plant", do_find_plant, NEEDS_DESIGN },
  { "new-photo", do_new_photo, 0 },
  { "new-drawing", do_new_drawing, 0 },
  { "new-tape", do_new_tape, 0 },
  { "new-blank", do_new_blank, 0 },
  { "open", bl_window_choose_design, 0 },
  { "open-again", bl_window_open_again, NEEDS_DESIGN },
  { "choose-photo", do_choose_photo, WRITES },
  { "choose-drawing", do_choose_drawing, WRITES },
  { "remove-drawing", bl_window_remove_drawing, WRITES },
  { "save-copy", bl_window_choose_copy, NEEDS_DESIGN },
  { "bring-in-outlines", bl_window_choose_outlines, WRITES },
  { "tour", bl_window_start_tour, 0 },
  { "start-page", do_start_page, NEEDS_DESIGN },
  { "print", do_print, NEEDS_DESIGN },
  { "print-proposal", do_print_proposal, NEEDS_DESIGN },
  { "print-crew", do_print_crew, NEEDS_DESIGN },
  { "print-care-sheet", do_print_care, NEEDS_DESIGN },
  { "give-proposal", do_proposal, NEEDS_DESIGN },
  { "give-picture", do_picture, NEEDS_DESIGN },
  { "give-before-after", do_before_after, NEEDS_DESIGN },
  { "give-months", do_months, NEEDS_DESIGN },
  { "give-years", do_years, NEEDS_DESIGN },
  { "give-plan", do_plan, NEEDS_DESIGN },
  { "give-crew", do_crew, NEEDS_DESIGN },
  { "give-care-sheet", do_care_sheet, NEEDS_DESIGN },
  { "give-calendar", do_calendar, NEEDS_DESIGN },
  { "give-order", do_order, NEEDS_DESIGN },
  { "give-request", do_request, NEEDS_DESIGN },
  { "give-sheet", do_sheet, NEEDS_DESIGN },
  { "choose-mark", bl_window_choose_mark, 0 },
  { "forget-mark", bl_window_forget_mark, 0 },
  { "copy-picture", bl_window_copy_picture, NEEDS_DESIGN },
  { "price-book", do_price_book, NEEDS_DESIGN },
  { "charts", do_charts, NEEDS_DESIGN },
  { "take-symbol", bl_window_choose_symbol, NEEDS_DESIGN },
  { "forget-symbol", bl_window_forget_symbol, NEEDS_DESIGN },
  { "add-plant", bl_window_add_plant, NEEDS_DESIGN },
  { "change-plant", bl_window_change_plant, NEEDS_DESIGN },
  { "hide-plant", bl_window_hide_plant, NEEDS_DESIGN },
  { "hidden-plants", bl_window_show_hidden, NEEDS_DESIGN },
  { "plant-back", bl_window_plant_back, NEEDS_DESIGN },
  { "take-plants", bl_window_take_plants, NEEDS_DESIGN },
  { "write-plants", bl_window_write_plants, NEEDS_DESIGN },
  { "take-nursery", bl_window_take_nursery, NEEDS_DESIGN },
  { "find-verb", bl_window_show_finder, 0 },
  { "show-help-overlay", bl_window_show_shortcuts, 0 },
  { "preferences", bl_window_show_preferences, 0 },
  { "help", bl_window_show_help, 0 },
  { "about", bl_window_show_about, 0 },
};

static void
activated_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const char *name = g_action_get_name (G_ACTION (action));

  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    if (g_str_equal (commands[i].name, name))
      {
        commands[i].run (data);
        return;
      }
}

/* Choices and switches. */

static void
take_hand (BlWindow *self, const char *name)
{
  bl_canvas_set_hand (BL_CANVAS (self->canvas), name);
  bl_window_set_state (self, "hand", name);
  if (!g_str_equal (name, "known"))
    bl_window_set_state (self, "known", "");
}

static void
stage_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  BlWindow *self = data;
  const char *name = g_variant_get_string (value, NULL);
  BlStage stage = BL_STAGE_PHOTO;

  while (stage < BL_STAGE_N - 1 && !g_str_equal (bl_stage_names[stage], name))
    stage++;
  if (!g_str_equal (bl_stage_names[stage], name))
    return;
  g_simple_action_set_state (action, value);
  if (bl_board_get_stage (self->board) != stage)
    take_hand (self, "select");
  bl_board_set_stage (self->board, stage);
  show_side (self, FALSE, TRUE);
}

/* Each hand works where its own sheet is shown; the others anywhere but in the comparison. */
static BlStage
stage_of_hand (const char *name, BlStage now)
{
  if (g_str_equal (name, "trace") || g_str_equal (name, "feature"))
    return BL_STAGE_BED;
  if (g_str_equal (name, "scale"))
    return BL_STAGE_KNOWN;
  if (now == BL_STAGE_COMPARE
      || g_strv_contains ((const char *const[]) { "specimen", "row", "drift", "fill", NULL }, name))
    return BL_STAGE_PLANTS;
  return now;
}

static void
hand_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  BlWindow *self = data;
  const char *name = g_variant_get_string (value, NULL);

  if (!g_strv_contains (bl_hand_names (), name))
    return;
  bl_board_set_stage (self->board, stage_of_hand (name, bl_board_get_stage (self->board)));
  take_hand (self, name);
  if (g_str_equal (name, "scale"))
    bl_board_set_view (self->board, BL_VIEW_PLAN);
  focus_canvas (self);
}

static void
known_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  BlWindow *self = data;
  BlKnownKind kind;

  if (!bl_known_kind_from_name (g_variant_get_string (value, NULL), &kind))
    return;
  bl_board_set_stage (self->board, BL_STAGE_KNOWN);
  bl_board_set_known_kind (self->board, kind);
  take_hand (self, "known");
  g_simple_action_set_state (action, value);
  if (bl_known_n_px (kind) == 0)
    bl_board_set_pending (self->board, bl_known_new (kind));
  else
    {
      if (bl_board_get_model (self->board)->photo.width > 0)
        bl_board_set_view (self->board, BL_VIEW_PHOTO);
      focus_canvas (self);
    }
}

static void
view_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  set_view (data, g_str_equal (g_variant_get_string (value, NULL), "plan"));
}

static void
alternative_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  bl_board_set_alternative (((BlWindow *) data)->board,
                            g_ascii_strtoll (g_variant_get_string (value, NULL), NULL, 10));
}

static void
pane_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  BlWindow *self = data;

  if (gtk_stack_get_child_by_name (GTK_STACK (self->panes), g_variant_get_string (value, NULL))
      == NULL)
    return;
  g_simple_action_set_state (action, value);
  gtk_stack_set_visible_child_name (GTK_STACK (self->panes), g_variant_get_string (value, NULL));
  show_side (self, TRUE, TRUE);
}

static void
sheet_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  show_side (data, FALSE, g_variant_get_boolean (value));
}

static void
ledger_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  show_side (data, TRUE, g_variant_get_boolean (value));
}

static void
divided_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  BlWindow *self = data;
  gboolean wanted = g_variant_get_boolean (value);

  if (wanted && bl_board_get_model (self->board)->photo.width == 0)
    {
      say_no_photo (self);
      return;
    }
  if (wanted)
    {
      if (bl_board_get_stage (self->board) == BL_STAGE_COMPARE)
        bl_board_set_stage (self->board, BL_STAGE_GIVE);
      bl_board_set_view (self->board, BL_VIEW_PHOTO);
    }
  bl_canvas_set_divided (BL_CANVAS (self->canvas), wanted);
  g_simple_action_set_state (action, value);
  if (wanted)
    gtk_widget_grab_focus (bl_canvas_get_divider (BL_CANVAS (self->canvas)));
}

static const struct
{
  const char *name;
  BlSceneOptions option;
} options[] = { { "mature-spread", BL_SCENE_MATURE_SPREAD },
                { "labels", BL_SCENE_LABELS },
                { "grid", BL_SCENE_GRID },
                { "monochrome", BL_SCENE_MONOCHROME },
                { "snow", BL_SCENE_SNOW } };

static void
option_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  BlWindow *self = data;
  guint now = bl_board_get_options (self->board);

  for (guint i = 0; i < G_N_ELEMENTS (options); i++)
    if (g_str_equal (options[i].name, g_action_get_name (G_ACTION (action))))
      now = g_variant_get_boolean (value) ? now | options[i].option
                                          : now & ~(guint)options[i].option;
  g_simple_action_set_state (action, value);
  bl_board_set_options (self->board, now);
}

static void
loupe_cb (GSimpleAction *action, GVariant *value, gpointer data)
{
  BlWindow *self = data;

  g_simple_action_set_state (action, value);
  bl_canvas_set_loupe (BL_CANVAS (self->canvas), g_variant_get_boolean (value));
  bl_settings_set (bl_app_get_settings (self->app), "loupe",
                   g_variant_get_boolean (value) ? "on" : "off");
}

static const GActionEntry choices[] = {
  { .name = "stage", .parameter_type = "s", .state = "'photo'", .change_state = stage_cb },
  { .name = "hand", .parameter_type = "s", .state = "'select'", .change_state = hand_cb },
  { .name = "known", .parameter_type = "s", .state = "''", .change_state = known_cb },
  { .name = "view", .parameter_type = "s", .state = "'photo'", .change_state = view_cb },
  { .name = "alternative", .parameter_type = "s", .state = "''", .change_state = alternative_cb },
  { .name = "pane", .parameter_type = "s", .state = "'planting'", .change_state = pane_cb },
  { .name = "side-sheet", .state = "true", .change_state = sheet_cb },
  { .name = "before-after", .state = "false", .change_state = divided_cb },
  { .name = "ledger", .state = "true", .change_state = ledger_cb },
  { .name = "mature-spread", .state = "false", .change_state = option_cb },
  { .name = "labels", .state = "false", .change_state = option_cb },
  { .name = "grid", .state = "false", .change_state = option_cb },
  { .name = "monochrome", .state = "false", .change_state = option_cb },
  { .name = "snow", .state = "false", .change_state = option_cb },
  { .name = "loupe", .state = "true", .change_state = loupe_cb },
};

void
bl_window_add_actions (BlWindow *self)
{
  g_autofree char *loupe = bl_settings_get (bl_app_get_settings (self->app), "loupe");

  g_action_map_add_action_entries (G_ACTION_MAP (self), choices, G_N_ELEMENTS (choices), self);
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      GActionEntry entry = { .name = commands[i].name, .activate = activated_cb };

      g_action_map_add_action_entries (G_ACTION_MAP (self), &entry, 1, self);
    }
  bl_window_add_plant_actions (self);
  set_flag (self, "loupe", g_strcmp0 (loupe, "off") != 0);
}

void
bl_window_update_actions (BlWindow *self)
{
  BlDesign *design = self->board != NULL ? bl_board_get_design (self->board) : NULL;
  guint has = 0;

  if (design != NULL)
    {
      g_autofree char *id
          = g_strdup_printf ("%" G_GINT64_FORMAT, bl_board_get_alternative (self->board));

      has = NEEDS_DESIGN;
      has |= bl_design_read_only_reason (design) == NULL ? NEEDS_WRITING : 0;
      has |= bl_board_get_selection (self->board)->len > 0 ? NEEDS_SELECTION : 0;
      has |= self->copied != NULL && self->copied->len > 0 ? NEEDS_COPIED : 0;
      has |= bl_design_undo_label (design) != NULL ? NEEDS_UNDO : 0;
      has |= bl_design_redo_label (design) != NULL ? NEEDS_REDO : 0;
      bl_window_set_state (self, "alternative", id);
      bl_window_set_state (self, "view",
                           bl_board_get_view (self->board) == BL_VIEW_PLAN ? "plan" : "photo");
      bl_window_set_state (self, "stage", bl_stage_names[bl_board_get_stage (self->board)]);
      if (bl_canvas_get_hand (BL_CANVAS (self->canvas)) != NULL)
        bl_window_set_state (self, "hand",
                             bl_canvas_get_hand (BL_CANVAS (self->canvas))->klass->name);
    }
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    g_simple_action_set_enabled (
      G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), commands[i].name)),
      (commands[i].needs & has) == commands[i].needs);
  for (guint i = 0; i < G_N_ELEMENTS (choices); i++)
    g_simple_action_set_enabled (
        G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), choices[i].name)),
        design != NULL);
  set_flag (self, "before-after",
            self->canvas != NULL && bl_canvas_get_divided (BL_CANVAS (self->canvas)));
  set_flag (self, "ledger", gtk_widget_get_visible (self->ledger));
  set_flag (self, "side-sheet", gtk_widget_get_visible (self->sheets));
}
