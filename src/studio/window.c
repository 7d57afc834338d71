/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window: the start page, or one design with its sheets, canvas and ledger. */

#include "config.h"

#include "studio/window-private.h"

#include "studio/compare.h"
#include "studio/form.h"
#include "studio/icon.h"
#include "studio/later.h"
#include "studio/panes.h"
#include "studio/sheets.h"
#include "studio/start.h"
#include "studio/strips.h"

#include <glib/gi18n.h>


G_DEFINE_FINAL_TYPE (BlWindow, bl_window, GTK_TYPE_APPLICATION_WINDOW)

/* A stack's pages that are not on show are hidden from assistive technology too. */
static void
tell_hidden_cb (GtkStack *stack)
{
  for (GtkWidget *page = gtk_widget_get_first_child (GTK_WIDGET (stack)); page != NULL;
       page = gtk_widget_get_next_sibling (page))
    gtk_accessible_update_state (GTK_ACCESSIBLE (page), GTK_ACCESSIBLE_STATE_HIDDEN,
                                 page != gtk_stack_get_visible_child (stack), -1);
}

static void
watch_stacks (BlWindow *self)
{
  GtkWidget *stacks[] = { self->pages, self->sheets, self->easel, self->panes };

  for (guint i = 0; i < G_N_ELEMENTS (stacks); i++)
    {
      g_signal_connect (stacks[i], "notify::visible-child", G_CALLBACK (tell_hidden_cb), NULL);
      tell_hidden_cb (GTK_STACK (stacks[i]));
    }
}

/* Keeping up with the board. */

static void
update_title (BlWindow *self)
{
  const BlModel *model = self->board != NULL ? bl_board_get_model (self->board) : NULL;
  g_autofree char *base = NULL;
  const char *title = "Bedline";

  if (model != NULL && model->title[0] != '\0')
    title = model->title;
  else if (model != NULL && bl_window_get_path (self) != NULL)
    title = base = g_path_get_basename (bl_window_get_path (self));
  gtk_label_set_text (GTK_LABEL (self->title_label), title);
  gtk_window_set_title (GTK_WINDOW (self), title);
}

static void
update_undo (BlWindow *self)
{
  BlDesign *design = self->board != NULL ? bl_board_get_design (self->board) : NULL;
  const char *undo = design != NULL ? bl_design_undo_label (design) : NULL;
  const char *redo = design != NULL ? bl_design_redo_label (design) : NULL;
  g_autofree char *undo_words = undo != NULL ? g_strdup_printf (_("Undo: %s"), undo)
                                             : g_strdup (_("Nothing to undo"));
  g_autofree char *redo_words = redo != NULL ? g_strdup_printf (_("Redo: %s"), redo)
                                             : g_strdup (_("Nothing to redo"));

  gtk_widget_set_tooltip_text (self->undo_button, undo_words);
  gtk_widget_set_tooltip_text (self->redo_button, redo_words);
  bl_form_call (self->undo_button, undo_words);
  bl_form_call (self->redo_button, redo_words);
}

static void
show_stage (BlWindow *self)
{
  BlStage stage = bl_board_get_stage (self->board);

  gtk_stack_set_visible_child_name (GTK_STACK (self->sheets), bl_stage_names[stage]);
  gtk_stack_set_visible_child_name (GTK_STACK (self->easel),
                                    stage == BL_STAGE_COMPARE ? "compare" : "canvas");
  gtk_widget_set_visible (self->hint, stage != BL_STAGE_COMPARE);
  /* Side by side needs the room: the ledger steps aside and comes back. */
  if ((stage == BL_STAGE_COMPARE) != self->comparing)
    {
      if (stage == BL_STAGE_COMPARE)
        self->ledger_before = gtk_widget_get_visible (self->ledger);
      gtk_widget_set_visible (self->ledger, stage != BL_STAGE_COMPARE && self->ledger_before);
      self->comparing = stage == BL_STAGE_COMPARE;
      /* The window may have got another width meanwhile. */
      bl_window_suit_width (self, gtk_widget_get_width (GTK_WIDGET (self)));
    }
  gtk_widget_set_visible (self->time, stage >= BL_STAGE_SITE || stage == BL_STAGE_PHOTO
                          || bl_board_get_model (self->board)->plantings->len > 0);
}

static void
board_changed_cb (BlBoard *board, guint what, BlWindow *self)
{
  if ((what & BL_BOARD_MODEL) != 0)
    {
      update_title (self);
      update_undo (self);
    }
  if ((what & (BL_BOARD_STAGE | BL_BOARD_MODEL)) != 0)
    show_stage (self);
  if ((what & ~(BL_BOARD_SCENE | BL_BOARD_MOMENT | BL_BOARD_LIFT | BL_BOARD_RECKON)) != 0)
    bl_window_update_actions (self);
}

static void
problem_cb (BlBoard *board, const char *sentence, BlWindow *self)
{
  bl_window_say (self, sentence, TRUE, NULL, NULL);
}

static void
hint_cb (BlCanvas *canvas, BlWindow *self)
{
  const char *hint = bl_canvas_get_hint (canvas);

  gtk_label_set_text (GTK_LABEL (self->hint), hint != NULL ? hint : "");
  gtk_widget_set_tooltip_text (self->hint, hint);
}

void
bl_window_show_page (BlWindow *self)
{
  const char *page = self->board != NULL ? "design" : self->opening != NULL ? "opening" : "start";

  gtk_stack_set_visible_child_name (GTK_STACK (self->pages), page);
}

void
bl_window_set_board (BlWindow *self, BlBoard *board)
{
  if (self->board != NULL)
    bl_window_keep_thumbnail (self);
  if (board != NULL)
    bl_window_need_design_page (self);
  g_signal_group_set_target (self->board_signals, board);
  if (self->canvas != NULL)
    bl_canvas_set_board (BL_CANVAS (self->canvas), board);
  for (guint i = 0; i < self->parts->len; i++)
    bl_part_set_board (g_ptr_array_index (self->parts, i), board);
  g_set_object (&self->board, board);
  bl_window_watch_file (self);
  bl_window_hush (self);
  bl_window_show_page (self);
  if (board != NULL)
    {
      show_stage (self);
      hint_cb (BL_CANVAS (self->canvas), self);
    }
  else
    bl_start_refresh (self->start);
  update_title (self);
  update_undo (self);
  bl_window_update_actions (self);
  gtk_widget_set_visible (self->undo_button, board != NULL);
  gtk_widget_set_visible (self->redo_button, board != NULL);
}

BlBoard *
bl_window_get_board (BlWindow *self)
{
  return self->board;
}

BlCanvas *
bl_window_get_canvas (BlWindow *self)
{
  bl_window_need_design_page (self);
  return BL_CANVAS (self->canvas);
}

const char *
bl_window_get_path (BlWindow *self)
{
  return self->board != NULL ? bl_design_get_path (bl_board_get_design (self->board)) : self->opening;
}

/* Making. */

static void
add_part (BlWindow *self, GtkWidget *part)
{
  g_ptr_array_add (self->parts, part);
}

static void
add_sheet (BlWindow *self, BlStage stage, GtkWidget *sheet, gboolean scrolls)
{
  GtkWidget *page = sheet;

  gtk_box_set_spacing (GTK_BOX (sheet), 10);
  gtk_widget_add_css_class (sheet, "sheet");
  add_part (self, sheet);
  if (scrolls)
    {
      page = gtk_scrolled_window_new ();
      gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (page), GTK_POLICY_NEVER,
                                      GTK_POLICY_AUTOMATIC);
      gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (page), sheet);
    }
  bl_window_suit_sheet (self, page);
  gtk_stack_add_named (GTK_STACK (self->sheets), page, bl_stage_names[stage]);
}

static void
make_ledger (BlWindow *self)
{
  static const struct
  {
    const char *name, *title;
    GtkWidget *(*make) (void);
  } panes[] = { { "planting", N_ ("Planting"), bl_pane_planting_new },
                { "quantities", N_ ("Quantities"), bl_pane_quantities_new },
                { "cost", N_ ("Cost"), bl_pane_cost_new },
                { "care", N_ ("Care"), bl_pane_care_new },
                { "warnings", N_ ("Warnings"), bl_pane_warnings_new },
                { "history", N_ ("History"), bl_pane_history_new } };
  GtkWidget *index = bl_form_grid (3);

  gtk_widget_add_css_class (index, "index");
  for (guint i = 0; i < G_N_ELEMENTS (panes); i++)
    {
      GtkWidget *pane = panes[i].make ();
      GtkWidget *button = gtk_toggle_button_new_with_label (_(panes[i].title));

      gtk_widget_add_css_class (button, "flat");
      gtk_widget_add_css_class (button, "index-word");
      bl_form_call (button, _(panes[i].title));
      gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.pane");
      gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", panes[i].name);
      bl_form_grid_add (index, button);
      gtk_box_set_spacing (GTK_BOX (pane), 8);
      gtk_widget_add_css_class (pane, "pane");
      add_part (self, pane);
      gtk_stack_add_named (GTK_STACK (self->panes), pane, panes[i].name);
    }
  gtk_box_prepend (GTK_BOX (self->ledger), index);
}

static void
canvas_menu_cb (BlCanvas *canvas, double x, double y, BlWindow *self)
{
  gtk_popover_set_pointing_to (GTK_POPOVER (self->context_menu),
                               &(GdkRectangle) { (int) x, (int) y, 1, 1 });
  gtk_popover_popup (GTK_POPOVER (self->context_menu));
}

static void
make_context_menu (BlWindow *self)
{
  g_autoptr (GMenu) menu = g_menu_new (), edit = g_menu_new (), place = g_menu_new ();

  g_menu_append (edit, _("Copy in place"), "win.duplicate");
  g_menu_append (edit, _("Copy"), "win.copy");
  g_menu_append (edit, _("Paste"), "win.paste");
  g_menu_append (edit, _("Delete"), "win.delete");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (edit));
  g_menu_append (place, _("Reshape"), "win.hand::reshape");
  g_menu_append (place, _("Lock in place"), "win.lock");
  g_menu_append (place, _("Unlock"), "win.unlock");
  g_menu_append (place, _("Keep together"), "win.group");
  g_menu_append (place, _("Let go of one another"), "win.ungroup");
  g_menu_append (place, _("Line up"), "win.align");
  g_menu_append (place, _("Spread evenly"), "win.spread");
  g_menu_append (place, _("Mirror left to right"), "win.mirror");
  g_menu_append (place, _("Swap for the plant in hand, everywhere"), "win.swap-plant");
  g_menu_append (place, _("Copy to the next alternative"), "win.copy-to-next");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (place));
  self->context_menu = gtk_popover_menu_new_from_model (G_MENU_MODEL (menu));
  gtk_popover_set_has_arrow (GTK_POPOVER (self->context_menu), FALSE);
  gtk_widget_set_halign (self->context_menu, GTK_ALIGN_START);
  gtk_widget_set_parent (self->context_menu, self->middle);
}

static gboolean
file_dropped_cb (GtkDropTarget *target, const GValue *value, double x, double y, BlWindow *self)
{
  g_autofree char *path = g_file_get_path (g_value_get_object (value));

  if (path == NULL)
    return FALSE;
  /* What is dropped on the plan is to lie under it. */
  if (self->board != NULL && !g_str_has_suffix (path, ".bedline")
      && bl_board_get_view (self->board) == BL_VIEW_PLAN)
    bl_window_take_drawing (self, path, FALSE);
  else if (self->board != NULL && !g_str_has_suffix (path, ".bedline")
           && !g_str_has_suffix (path, ".svg")
           && bl_board_get_model (self->board)->photo.width == 0)
    bl_window_take_photo (self, path, FALSE);
  else
    bl_window_open (self, path);
  return TRUE;
}

static void
make_first_sheets (BlWindow *self)
{
  self->path = bl_path_strip_new ();
  add_part (self, self->path);
  gtk_box_prepend (GTK_BOX (self->design_page), self->path);
  add_sheet (self, BL_STAGE_PHOTO, bl_sheet_photo_new (), TRUE);
  add_sheet (self, BL_STAGE_KNOWN, bl_sheet_known_new (), TRUE);
  add_sheet (self, BL_STAGE_BED, bl_sheet_bed_new (), TRUE);
  add_sheet (self, BL_STAGE_SITE, bl_sheet_site_new (), TRUE);
}

static void
make_shelf (BlWindow *self)
{
  self->shelf = bl_shelf_new (bl_app_get_settings (self->app));
  add_sheet (self, BL_STAGE_PLANTS, self->shelf, FALSE);
}

static void
make_last_sheets (BlWindow *self)
{
  self->compare_sheet = bl_sheet_compare_new ();
  add_sheet (self, BL_STAGE_COMPARE, self->compare_sheet, TRUE);
  add_sheet (self, BL_STAGE_GIVE, bl_sheet_give_new (bl_app_get_settings (self->app)), TRUE);
}

static void
make_middle (BlWindow *self)
{
  g_autoptr (GVariant) loupe = g_action_group_get_action_state (G_ACTION_GROUP (self), "loupe");

  self->tabs = bl_tabs_new ();
  add_part (self, self->tabs);
  gtk_box_prepend (GTK_BOX (self->middle), self->tabs);
  self->canvas = bl_canvas_new ();
  bl_canvas_set_loupe (BL_CANVAS (self->canvas), g_variant_get_boolean (loupe));
  g_signal_connect_object (self->canvas, "hint", G_CALLBACK (hint_cb), self, 0);
  g_signal_connect_object (self->canvas, "menu", G_CALLBACK (canvas_menu_cb), self, 0);
  gtk_stack_add_named (GTK_STACK (self->easel), self->canvas, "canvas");
  self->compare = bl_compare_new (self->compare_sheet);
  bl_compare_suit (BL_COMPARE (self->compare), self->narrow);
  add_part (self, self->compare);
  gtk_stack_add_named (GTK_STACK (self->easel), self->compare, "compare");
  self->time = bl_time_strip_new ();
  add_part (self, self->time);
  gtk_box_append (GTK_BOX (self->middle), self->time);
  make_context_menu (self);
  tell_hidden_cb (GTK_STACK (self->sheets));
  tell_hidden_cb (GTK_STACK (self->easel));
  tell_hidden_cb (GTK_STACK (self->panes));
}

/* The design page in pieces, none of which holds the window; the canvas, by which the others know that
 * the page is there, in the last. */
static gboolean
make_piece (BlWindow *self)
{
  static void (*const pieces[]) (BlWindow *)
      = { make_first_sheets, make_shelf, make_last_sheets, make_ledger, make_middle };

  if (self->parts == NULL || self->pieces == G_N_ELEMENTS (pieces))
    return FALSE;
  pieces[self->pieces++] (self);
  return self->pieces < G_N_ELEMENTS (pieces);
}

/* Made when it is first needed, or once the start page stands: half the window's widgets are in it. */
void
bl_window_need_design_page (BlWindow *self)
{
  while (make_piece (self))
    ;
  g_clear_handle_id (&self->making, g_source_remove);
}

static gboolean
make_cb (gpointer data)
{
  BlWindow *self = data;

  if (make_piece (self))
    return G_SOURCE_CONTINUE;
  self->making = 0;
  return G_SOURCE_REMOVE;
}

static void
seen (GtkWidget *widget)
{
  BlWindow *self = BL_WINDOW (widget);
  const char *problem;

  if (bl_app_get_library (self->app, &problem) == NULL)
    bl_window_say (self, problem, TRUE, NULL, NULL);
  if (self->canvas == NULL)
    self->making = g_idle_add_full (G_PRIORITY_LOW, make_cb, self, NULL);
}

static void
bl_window_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  GTK_WIDGET_CLASS (bl_window_parent_class)->size_allocate (widget, width, height, baseline);
  bl_window_suit_width (BL_WINDOW (widget), width);
}

/* Another program may have written to the file: whoever comes back sees it at once. */
static void
active_changed_cb (BlWindow *self)
{
  if (gtk_window_is_active (GTK_WINDOW (self)))
    bl_window_look_for_others (self);
}

static gboolean
bl_window_close_request (GtkWindow *window)
{
  BlWindow *self = BL_WINDOW (window);
  BlSettings *settings = bl_app_get_settings (self->app);
  int width, height;

  if (self->board != NULL)
    bl_window_keep_thumbnail (self);
  gtk_window_get_default_size (window, &width, &height);
  bl_settings_set_int (settings, "width", width);
  bl_settings_set_int (settings, "height", height);
  bl_settings_set_int (settings, "maximised", gtk_window_is_maximized (window));
  bl_settings_set_int (settings, "ledger", self->comparing ? self->ledger_before
                                          : self->narrow ? self->ledger_wide
                                                         : gtk_widget_get_visible (self->ledger));
  return FALSE;
}

static void
bl_window_dispose (GObject *object)
{
  BlWindow *self = BL_WINDOW (object);

  g_clear_handle_id (&self->banner_timeout, g_source_remove);
  g_clear_handle_id (&self->suit_idle, g_source_remove);
  g_clear_handle_id (&self->making, g_source_remove);
  g_clear_handle_id (&self->job_tick, g_source_remove);
  if (self->job != NULL)
    g_cancellable_cancel (self->job);
  g_clear_object (&self->job);
  g_clear_pointer (&self->opening, g_free);
  if (self->board_signals != NULL)
    g_signal_group_set_target (self->board_signals, NULL);
  g_clear_object (&self->board_signals);
  g_clear_pointer (&self->context_menu, gtk_widget_unparent);
  if (self->canvas != NULL)
    bl_canvas_set_board (BL_CANVAS (self->canvas), NULL);
  for (guint i = 0; self->parts != NULL && i < self->parts->len; i++)
    bl_part_set_board (g_ptr_array_index (self->parts, i), NULL);
  self->canvas = NULL;
  g_clear_pointer (&self->parts, g_ptr_array_unref);
  g_clear_pointer (&self->copied, g_ptr_array_unref);
  g_clear_pointer (&self->plant_step, bl_own_step_free);
  g_clear_object (&self->board);
  bl_window_watch_file (self);
  G_OBJECT_CLASS (bl_window_parent_class)->dispose (object);
}

static void
bl_window_class_init (BlWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  static const struct
  {
    const char *name;
    gssize offset;
  } children[] = {
    { "menu_button", G_STRUCT_OFFSET (BlWindow, menu_button) },
    { "title_label", G_STRUCT_OFFSET (BlWindow, title_label) },
    { "undo_button", G_STRUCT_OFFSET (BlWindow, undo_button) },
    { "redo_button", G_STRUCT_OFFSET (BlWindow, redo_button) },
    { "pages", G_STRUCT_OFFSET (BlWindow, pages) },
    { "design_page", G_STRUCT_OFFSET (BlWindow, design_page) },
    { "sheets", G_STRUCT_OFFSET (BlWindow, sheets) },
    { "middle", G_STRUCT_OFFSET (BlWindow, middle) },
    { "easel", G_STRUCT_OFFSET (BlWindow, easel) },
    { "hint", G_STRUCT_OFFSET (BlWindow, hint) },
    { "ledger", G_STRUCT_OFFSET (BlWindow, ledger) },
    { "panes", G_STRUCT_OFFSET (BlWindow, panes) },
    { "content", G_STRUCT_OFFSET (BlWindow, content) },
    { "sheet_paned", G_STRUCT_OFFSET (BlWindow, sheet_paned) },
    { "ledger_paned", G_STRUCT_OFFSET (BlWindow, ledger_paned) },
  };

  G_OBJECT_CLASS (klass)->dispose = bl_window_dispose;
  widget_class->size_allocate = bl_window_size_allocate;
  GTK_WINDOW_CLASS (klass)->close_request = bl_window_close_request;
  g_type_ensure (BL_TYPE_ICON);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/bedline/Studio/window.ui");
  for (guint i = 0; i < G_N_ELEMENTS (children); i++)
    gtk_widget_class_bind_template_child_full (widget_class, children[i].name, FALSE,
                                               children[i].offset);
}

static void
bl_window_init (BlWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  bl_icon_put (self->menu_button, "bl-menu-symbolic");
  self->parts = g_ptr_array_new ();
  self->board_signals = g_signal_group_new (BL_TYPE_BOARD);
  g_signal_group_connect (self->board_signals, "changed", G_CALLBACK (board_changed_cb), self);
  g_signal_group_connect (self->board_signals, "problem", G_CALLBACK (problem_cb), self);
  gtk_widget_add_css_class (GTK_WIDGET (self), "studio");
  g_signal_connect (self, "notify::is-active", G_CALLBACK (active_changed_cb), NULL);
}

static void
restore_size (BlWindow *self)
{
  BlSettings *settings = bl_app_get_settings (self->app);
  int width = bl_settings_get_int (settings, "width", 0),
      height = bl_settings_get_int (settings, "height", 0);

  if (width > 200 && height > 200)
    gtk_window_set_default_size (GTK_WINDOW (self), width, height);
  if (bl_settings_get_int (settings, "maximised", 0) != 0)
    gtk_window_maximize (GTK_WINDOW (self));
  gtk_widget_set_visible (self->ledger, bl_settings_get_int (settings, "ledger", 1) != 0);
}

GtkWidget *
bl_window_new (BlApp *app)
{
  BlWindow *self = g_object_new (BL_TYPE_WINDOW, "application", app, NULL);
  GtkDropTarget *drop = gtk_drop_target_new (G_TYPE_FILE, GDK_ACTION_COPY);

  self->app = app;
  gtk_box_prepend (GTK_BOX (self->content), bl_window_make_banner (self));
  self->start = bl_start_new (app);
  gtk_stack_add_named (GTK_STACK (self->pages), self->start, "start");
  gtk_stack_add_named (GTK_STACK (self->pages), gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), "opening");
  bl_later (GTK_WIDGET (self), 60, seen);
  gtk_box_append (GTK_BOX (self->content), bl_window_make_job_slip (self));
  g_signal_connect_object (drop, "drop", G_CALLBACK (file_dropped_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
  watch_stacks (self);
  bl_window_add_actions (self);
  restore_size (self);
  bl_window_set_board (self, NULL);
  return GTK_WIDGET (self);
}
