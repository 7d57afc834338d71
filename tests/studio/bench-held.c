/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the interface is held at once while the demo is worked on: the longest stretch between two
 * waits of the main loop, in the processor time of its thread (other programs disturb the clock on the
 * wall). A frame of a screen of 60 Hz is 16 ms; what takes 50 ms is felt.
 * Argument: the folder with the demo's sheet. */

#include "config.h"

#include <math.h>
#include <stdio.h>
#include <time.h>

#include "design/sheet.h"
#include "window-house.h"

typedef struct
{
  double since, longest, all; /* ms of the thread */
  guint over;                 /* stretches of more than 50 ms */
} Held;

static Held held;

static double
now (void)
{
  struct timespec t;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &t);
  return (double) t.tv_sec * 1e3 + (double) t.tv_nsec / 1e6;
}

static void
end_stretch (void)
{
  double ms = now () - held.since;

  held.longest = MAX (held.longest, ms);
  held.all += ms;
  held.over += ms > 50;
  if (ms > 16 && g_getenv ("BEDLINE_HELD") != NULL)
    printf ("    %.1f ms\n", ms);
}

static int
watched_poll (GPollFD *fds, guint n, int timeout)
{
  int ready;

  end_stretch ();
  ready = g_poll (fds, n, timeout);
  held.since = now ();
  return ready;
}

static gboolean
is_quiet (gpointer window)
{
  BlBoard *board = bl_window_get_board (window);

  return board != NULL && !bl_window_is_opening (window) && bl_board_is_settled (board)
         && (bl_board_get_stage (board) == BL_STAGE_COMPARE
             || bl_canvas_is_fresh (bl_window_get_canvas (window)));
}

static void
begin (void)
{
  held = (Held) { .since = now () };
}

static void
tell (const char *what, BlWindow *window)
{
  if (bl_window_get_board (window) != NULL || bl_window_is_opening (window))
    g_assert_true (spin (is_quiet, window));
  rest (150);
  end_stretch ();
  printf ("%-34s held at most %6.1f ms of %7.1f; over 50 ms: %u\n", what, held.longest, held.all,
          held.over);
  fflush (stdout);
}

static void
act (BlWindow *window, const char *what, const char *action)
{
  begin ();
  activate (window, action);
  tell (what, window);
}

int
main (int argc, char **argv)
{
  g_autofree char *home = NULL, *design_path = NULL, *sheet = NULL, *text = NULL;
  g_autoptr (GError) error = NULL;
  BlWindow *window;

  g_assert_cmpint (argc, ==, 2);
  home = start_app (&argc, &argv);
  sheet = g_build_filename (argv[1], "harbour-lane.sheet.json", NULL);
  design_path = g_build_filename (home, "strip.bedline", NULL);
  g_assert_true (g_file_get_contents (sheet, &text, NULL, &error));
  {
    g_autoptr (BlDesign) design = bl_sheet_draft (text, -1, argv[1], bl_app_get_library (app, NULL),
                                                  design_path, &error);

    g_assert_no_error (error);
  }
  g_main_context_set_poll_func (NULL, watched_poll);

  begin ();
  window = BL_WINDOW (bl_window_new (app));
  gtk_window_present (GTK_WINDOW (window));
  tell ("the window, from its making on", window);
  begin ();
  bl_window_open (window, design_path);
  tell ("open the demo", window);
  act (window, "a month later", "win.month-later");
  act (window, "a year older", "win.older");
  act (window, "the plan", "win.switch-view");
  act (window, "back to the photo", "win.switch-view");
  act (window, "stage Known", "win.stage::known");
  act (window, "stage Bed", "win.stage::bed");
  act (window, "stage Site", "win.stage::site");
  act (window, "stage Plants", "win.stage::plants");
  act (window, "select all", "win.select-all");
  act (window, "copy in place", "win.duplicate");
  act (window, "undo", "win.undo");
  act (window, "delete what is selected", "win.delete");
  act (window, "undo it", "win.undo");
  act (window, "the next alternative", "win.next-alternative");
  act (window, "ledger: quantities", "win.pane::quantities");
  act (window, "ledger: cost", "win.pane::cost");
  act (window, "ledger: care", "win.pane::care");
  act (window, "ledger: warnings", "win.pane::warnings");
  act (window, "ledger: history", "win.pane::history");
  act (window, "ledger: planting", "win.pane::planting");
  act (window, "stage Compare", "win.stage::compare");
  act (window, "a month later, side by side", "win.month-later");
  act (window, "stage Give", "win.stage::give");
  act (window, "copy an alternative", "win.copy-alternative");
  act (window, "zoom in", "win.zoom-in");
  act (window, "the start page", "win.start-page");
  close_window (window);
  end_app (home);
  return 0;
}
