/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the programs of `meson test --benchmark` share: processor time, and a row of the table that
 * table.py makes of them all. */
#pragma once

#include <errno.h>
#include <glib.h>
#include <math.h>
#include <stdio.h>
#include <time.h>

/* Of this thread: other work on the machine does not count. */
G_GNUC_UNUSED static double
bench_now_ms (void)
{
  struct timespec t;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &t);
  return (double) t.tv_sec * 1e3 + (double) t.tv_nsec / 1e6;
}

typedef void (*BenchWork) (gpointer data);

G_GNUC_UNUSED static double
bench_fastest_ms (BenchWork work, gpointer data, int rounds)
{
  double fastest = INFINITY;

  for (int i = 0; i < rounds; i++)
    {
      double start = bench_now_ms ();

      work (data);
      fastest = MIN (fastest, bench_now_ms () - start);
    }
  return fastest;
}

/* @grown: the figure for ten times the work. @note says what the floor is. Rows go to the file of the table,
 * where there is one; table.py knows each by its name, and what of it is too much. */
G_GNUC_UNUSED static void
bench_row (const char *name, double ms, double floor_ms, double grown_ms, const char *note)
{
  const char *table = g_getenv ("BEDLINE_BENCH_TABLE");
  FILE *rows = NULL;

  printf ("%s: %.3f ms, floor %.3f ms (%s), ratio %.1f, ten times the work %.3f ms\n", name, ms, floor_ms,
          note, ms / floor_ms, grown_ms);
  if (table == NULL)
    return;
  rows = fopen (table, "a");
  if (rows == NULL)
    g_error ("The row of “%s” cannot be added to %s: %s", name, table, g_strerror (errno));
  fprintf (rows, "%s\t%.6g\t%.6g\t%.6g\t%s\n", name, ms, floor_ms, grown_ms, note);
  if (fclose (rows) != 0)
    g_error ("The row of “%s” cannot be written to %s: %s", name, table, g_strerror (errno));
}
