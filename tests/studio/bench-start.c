/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the program takes from its start to its first frame, and to the demo open with a crisp
 * picture. The floor is the first frame of an empty GTK window of the same size, a program of its own
 * started in turns with ours. From the start of the process to its end right after the frame; beside
 * it the processor time, which other programs on the machine disturb less. On a quiet machine the first frame
 * takes less than twice the floor; more than MOST times, by both clocks, fails.
 * Arguments: the program, and the folder with the demo's sheet. */

#include "config.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>

#include <glib/gstdio.h>
#include <gtk/gtk.h>

#define TURNS 7
#define MOST 4.0

typedef struct
{
  double wall, cpu; /* ms */
} Cost;

static void
painted_cb (GdkFrameClock *clock, gboolean *painted)
{
  *painted = TRUE;
}

/* The floor: nothing but a window. */
static int
be_empty (void)
{
  GtkWidget *window;
  gboolean painted = FALSE;

  gtk_init ();
  window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 820);
  gtk_widget_realize (window);
  g_signal_connect_after (gtk_widget_get_frame_clock (window), "after-paint",
                          G_CALLBACK (painted_cb), &painted);
  gtk_window_present (GTK_WINDOW (window));
  while (!painted)
    g_main_context_iteration (NULL, TRUE);
  gdk_display_sync (gtk_widget_get_display (window));
  gtk_window_destroy (GTK_WINDOW (window));
  return 0;
}

static double
children_cpu (void)
{
  struct rusage use;

  getrusage (RUSAGE_CHILDREN, &use);
  return (double)(use.ru_utime.tv_sec + use.ru_stime.tv_sec) * 1e3
         + (double)(use.ru_utime.tv_usec + use.ru_stime.tv_usec) / 1e3;
}

static Cost
run (const char *program, const char *first, const char *second)
{
  const char *argv[] = { program, first, second, NULL };
  double cpu = children_cpu ();
  gint64 start = g_get_monotonic_time ();
  g_autoptr (GError) error = NULL;
  int status;

  g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, NULL, NULL,
                &status, &error);
  g_assert_no_error (error);
  g_spawn_check_wait_status (status, &error);
  g_assert_no_error (error);
  return (Cost){ (double)(g_get_monotonic_time () - start) / 1000, children_cpu () - cpu };
}

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static double
median (const Cost *costs, gboolean cpu)
{
  double v[TURNS];

  for (guint i = 0; i < TURNS; i++)
    v[i] = cpu ? costs[i].cpu : costs[i].wall;
  qsort (v, TURNS, sizeof *v, by_value);
  return v[TURNS / 2];
}

/* How many times the floor, by the clock that says less. */
static double
row (const char *what, const Cost *costs, const Cost *floor)
{
  Cost ratio[TURNS];

  for (guint i = 0; i < TURNS; i++)
    ratio[i] = (Cost){ costs[i].wall / floor[i].wall, costs[i].cpu / floor[i].cpu };
  printf ("%-22s %6.0f ms = %5.2f x the floor; processor %6.0f ms = %5.2f x\n", what, median (costs, FALSE),
          median (ratio, FALSE), median (costs, TRUE), median (ratio, TRUE));
  return MIN (median (ratio, FALSE), median (ratio, TRUE));
}

int
main (int argc, char **argv)
{
  g_autofree char *folder = NULL, *design = NULL, *sheet = NULL;
  Cost floor[TURNS], frame[TURNS], demo[TURNS];
  double times;
  char *draft[] = { NULL, (char *)"draft", NULL, (char *)"-o", NULL, NULL };

  if (argc == 2 && g_str_equal (argv[1], "--empty"))
    return be_empty ();
  g_assert_cmpint (argc, ==, 3);
  folder = g_dir_make_tmp ("bench-start-XXXXXX", NULL);
  design = g_build_filename (folder, "demo.bedline", NULL);
  sheet = g_build_filename (argv[2], "harbour-lane.sheet.json", NULL);
  g_setenv ("XDG_DATA_HOME", folder, TRUE);
  g_setenv ("XDG_CONFIG_HOME", folder, TRUE);
  draft[0] = argv[1], draft[2] = sheet, draft[4] = design;
  g_assert_true (g_spawn_sync (NULL, draft, NULL, G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, NULL, NULL,
                               NULL, NULL));
  run (argv[0], "--empty", NULL);
  run (argv[1], "--exit-after-startup", NULL);
  for (guint i = 0; i < TURNS; i++)
    {
      floor[i] = run (argv[0], "--empty", NULL);
      frame[i] = run (argv[1], "--exit-after-startup", NULL);
      demo[i] = run (argv[1], "--exit-after-startup", design);
    }
  printf ("%-22s %6.0f ms; processor %.0f ms\n", "empty window (floor)", median (floor, FALSE),
          median (floor, TRUE));
  times = row ("first frame", frame, floor);
  row ("demo open and crisp", demo, floor);
  printf ("the first frame is to take at most %.1f x the floor\n", MOST);
  return times <= MOST ? 0 : 1;
}
