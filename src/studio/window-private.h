/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's inside, shared by its files. */
#pragma once

#include "studio/give.h"
#include "studio/own-plants.h"
#include "studio/window.h"

struct _BlWindow
{
  GtkApplicationWindow parent_instance;

  /* From the template. */
  GtkWidget *menu_button, *title_label, *undo_button, *redo_button, *pages, *design_page, *sheets;
  GtkWidget *middle, *easel, *hint, *ledger, *panes, *sheet_paned, *ledger_paned, *content;
  /* Made in code. */
  GtkWidget *start, *path, *tabs, *time, *canvas, *compare, *shelf, *compare_sheet;
  GtkWidget *banner, *banner_text, *banner_action;
  GtkWidget *job_slip, *job_words, *job_bar;
  GtkWidget *context_menu;
  GPtrArray *parts; /* BlPart, borrowed */
  guint pieces, making; /* of the design page; the work at it */
  guint banner_timeout;

  BlApp *app;
  BlBoard *board;
  GSignalGroup *board_signals;
  GPtrArray *copied; /* BlPlanting */
  BlOwnStep *plant_step; /* the way back of what was done to the person's plants last */
  gboolean comparing, ledger_before; /* side by side; the ledger's state before it */
  gboolean narrow, ledger_wide;      /* too narrow for the ledger; its state when there is room */
  guint suit_idle;
  GFileMonitor *others; /* of the design's file */
  guint others_tick;

  /* Long work, one at a time. */
  GCancellable *job;
  int job_progress; /* 0..1000, written by the worker */
  guint job_tick;
  gint64 job_start;
  char *opening;    /* path of the design that is being opened; NULL = none */
};

void bl_window_add_actions (BlWindow *window);
void bl_window_update_actions (BlWindow *window);
void bl_window_set_board (BlWindow *window, BlBoard *board);
void bl_window_set_state (BlWindow *window, const char *action, const char *value);

void bl_window_need_design_page (BlWindow *window);
/* The panes after the window was given @width; and how wide a sheet is to be at least. */
void bl_window_suit_width (BlWindow *window, int width);
void bl_window_suit_sheet (BlWindow *window, GtkWidget *page);
/* The page that fits: the design, the start page, or neither while a first design is opened. */
void bl_window_show_page (BlWindow *window);
void bl_window_show_design (BlWindow *window, BlDesign *design, gboolean fresh, BlStage stage);

/* Other programs on the same file. */
void bl_window_watch_file (BlWindow *window);
/* Soon, and once however often it is asked for. */
void bl_window_look_for_others (BlWindow *window);
void bl_window_open_again (BlWindow *window);

/* Files. */
/* @then is called when the design is open; not when it could not be opened. */
void bl_window_open_then (BlWindow *window, const char *path, void (*then) (BlWindow *window));
void bl_window_choose_photo (BlWindow *window, gboolean new_design);
void bl_window_choose_design (BlWindow *window);
void bl_window_choose_copy (BlWindow *window);
void bl_window_choose_mark (BlWindow *window);
void bl_window_forget_mark (BlWindow *window);
void bl_window_choose_outlines (BlWindow *window);
void bl_window_new_design (BlWindow *window, BlStage stage);
void bl_window_take_photo (BlWindow *window, const char *path, gboolean new_design);
/* A plan from elsewhere becomes the base drawing of this or of a new design. */
void bl_window_choose_drawing (BlWindow *window, gboolean new_design);
void bl_window_take_drawing (BlWindow *window, const char *path, gboolean new_design);
void bl_window_remove_drawing (BlWindow *window);
/* A file chooser for opening, or with a @name for saving; @chosen is called with a path on this machine
 * and @kind. */
void bl_window_choose (BlWindow *window, const char *title, const char *name, const char *filter_name,
                       const char *const *patterns, int kind,
                       void (*chosen) (BlWindow *window, const char *path, int kind));
/* The person stopped it: nothing to be told. */
gboolean bl_window_is_stopped (const GError *error);
void bl_window_keep_thumbnail (BlWindow *window);
void bl_window_choose_gift (BlWindow *window, BlGiveKind kind);
void bl_window_copy_picture (BlWindow *window);
/* Shows the slip with words, a bar and a way to cancel; FALSE when other work is going on. */
gboolean bl_window_begin_job (BlWindow *window, const char *words);
void bl_window_end_job (BlWindow *window);
GtkWidget *bl_window_make_job_slip (BlWindow *window);
GtkWidget *bl_window_make_banner (BlWindow *window);
/* Takes away what the banner says. */
void bl_window_hush (BlWindow *window);

/* Writes the paper and hands it to a printer that the person chooses. */
void bl_window_print (BlWindow *window, BlGiveKind kind);
/* The tour, on a design of its own. */
void bl_window_start_tour (BlWindow *window);

/* The person's own plants and their nursery. */
void bl_window_add_plant_actions (BlWindow *window);
void bl_window_add_plant (BlWindow *window);
void bl_window_change_plant (BlWindow *window);
void bl_window_hide_plant (BlWindow *window);
void bl_window_show_hidden (BlWindow *window);
void bl_window_plant_back (BlWindow *window);
void bl_window_take_plants (BlWindow *window);
void bl_window_write_plants (BlWindow *window);
void bl_window_take_nursery (BlWindow *window);

/* Other windows. */
void bl_window_close_on_escape (GtkWidget *dialog);
void bl_window_show_finder (BlWindow *window);
void bl_window_show_shortcuts (BlWindow *window);
void bl_window_show_preferences (BlWindow *window);
void bl_window_show_help (BlWindow *window);
void bl_window_show_prices (BlWindow *window);
void bl_window_show_charts (BlWindow *window);
void bl_window_show_about (BlWindow *window);
