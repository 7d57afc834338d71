/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An editor killed at random moments: what it reported done is there, and undo walks all of it. */
#include <signal.h>
#include <sqlite3.h>
#include <sys/wait.h>
#include <unistd.h>

#include "random-edits.h"

#define KILLS 40 /* BEDLINE_KILLS sets another number for a long run */

/* What the editor says after each finished step, in one write: its number, the design's sum, and what
 * the file then counts. */
typedef struct
{
  guint step;
  gint64 revision; /* one more after each edit, undo and redo */
  gint64 done;     /* edits that are not undone */
  gint64 length;   /* edits in the history */
  char sum[65];
} Report;

static void
sum_into (BlDesign *design,
          char      sum[65])
{
  g_autofree char *dump = yard_dump (design);
  g_autofree char *text = g_compute_checksum_for_string (G_CHECKSUM_SHA256, dump, -1);

  g_strlcpy (sum, text, 65);
}

/* A number that the file itself holds, read past the design; -1 when it cannot be. */
static gint64
number_in (const char *path,
           const char *sql)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *stmt = NULL;
  gint64 number = -1;

  if (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL) == SQLITE_OK
      && sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL) == SQLITE_OK
      && sqlite3_step (stmt) == SQLITE_ROW)
    number = sqlite3_column_int64 (stmt, 0);
  sqlite3_finalize (stmt);
  sqlite3_close (db);
  return number;
}

static void
count_into (const char *path,
            Report     *report)
{
  report->revision = number_in (path, "SELECT revision FROM meta");
  report->done = number_in (path, "SELECT done FROM meta");
  report->length = number_in (path, "SELECT count(*) FROM history");
}

static void
report (BlDesign *design,
        guint     step,
        int       pipe)
{
  Report said = { .step = step };

  count_into (bl_design_get_path (design), &said);
  sum_into (design, said.sum);
  if (write (pipe, &said, sizeof said) != sizeof said)
    _exit (3);
}

/* An undo or a redo now and then, where there is one; else an edit. */
static gboolean
one_step (RandomEdits *edits,
          BlDesign    *design)
{
  guint choice = bl_rng_int (&edits->rng, 6);

  if (choice == 0 && bl_design_undo_label (design) != NULL)
    return bl_design_undo (design, NULL);
  if (choice == 1 && bl_design_redo_label (design) != NULL)
    return bl_design_redo (design, NULL);
  return random_edits_next (edits, design, NULL);
}

static void
edit_until_killed (const char *path,
                   guint64     seed,
                   int         pipe)
{
  g_autoptr(RandomEdits) edits = random_edits_new (seed, FALSE);
  g_autoptr(BlDesign) design = bl_design_open (path, NULL);

  if (design == NULL)
    _exit (2);
  report (design, 0, pipe);
  for (guint step = 1;; step++)
    {
      if (!one_step (edits, design))
        _exit (4);
      report (design, step, pipe);
    }
}

/* Reads what the editor says until @enough steps are done; then waits @part of a step's time, so that
 * the kill comes anywhere within the next. *@usual is that time, in microseconds. */
static void
wait_for (int     pipe,
          guint   enough,
          double  part,
          double *usual,
          Report *last)
{
  gint64 begun = g_get_monotonic_time ();

  while (last->step < enough)
    g_assert_cmpint (read (pipe, last, sizeof *last), ==, sizeof *last);
  if (enough > 0)
    *usual = (double) (g_get_monotonic_time () - begun) / enough;
  g_usleep ((gulong) (part * *usual));
}

/* Runs the editor on a file in the state @start and kills it; gives its last report. */
static Report
run_and_kill (const char *path,
              const char *start,
              BlRng      *rng,
              double     *usual)
{
  guint64 seed = bl_rng_next (rng);
  guint enough = bl_rng_int (rng, 5);
  double part = bl_rng_range (rng, 0, 1.5);
  Report last = { 0 }, said;
  int ends[2], status = 0;
  pid_t child;

  g_assert_cmpint (pipe (ends), ==, 0);
  child = fork ();
  if (child == 0)
    {
      close (ends[0]);
      edit_until_killed (path, seed, ends[1]);
    }
  close (ends[1]);
  /* The clock runs from the moment the file is open, however slow the disk is today. */
  g_assert_cmpint (read (ends[0], &last, sizeof last), ==, sizeof last);
  g_assert_cmpstr (last.sum, ==, start);
  wait_for (ends[0], enough, part, usual, &last);
  kill (child, SIGKILL);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFSIGNALED (status));
  while (read (ends[0], &said, sizeof said) == sizeof said)
    last = said;
  close (ends[0]);
  return last;
}

static void
assert_sum (BlDesign   *design,
            const char *expected,
            const char *what)
{
  char sum[65];

  sum_into (design, sum);
  if (strcmp (sum, expected) != 0)
    g_error ("%s is not in the file", what);
}

/* On a copy, so that the kills go on from what the last one left. */
static void
check_beginning (const char *path,
                 const char *empty)
{
  g_autofree char *copy = g_strconcat (path, ".copy", NULL), *dump = NULL, *bytes = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;
  gsize length = 0;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (copy, bytes, (gssize) length, NULL));
  design = bl_design_open (copy, &error);
  g_assert_no_error (error);
  bl_design_go_to (design, 0, &error);
  g_assert_no_error (error);
  dump = yard_dump (design);
  g_assert_cmpstr (dump, ==, empty);
  g_clear_object (&design);
  g_unlink (copy);
}

/* One step on from what was reported: finished, but not yet said. It was an edit, an undo or a redo, and
 * a step the other way shows the state reported. */
static void
check_one_more (BlDesign     *design,
                const Report *now,
                const Report *last)
{
  g_autoptr(GError) error = NULL;
  gboolean undone = now->done < last->done;

  g_assert_cmpint (now->revision, ==, last->revision + 1);
  g_assert_cmpint (now->done, ==, undone ? last->done - 1 : last->done + 1);
  g_assert_true (now->length == last->length || (!undone && now->length == now->done));
  g_assert_true (undone ? bl_design_redo (design, &error) : bl_design_undo (design, &error));
  g_assert_no_error (error);
  assert_sum (design, last->sum, "the state before the last step");
  g_assert_true (undone ? bl_design_undo (design, &error) : bl_design_redo (design, &error));
  g_assert_no_error (error);
}

/* The design is in the state last reported, or one step on from it, and all its edits can be undone.
 * Returns the length of its history. */
static gint64
check_after_kill (const char   *path,
                  const Report *last,
                  const char   *empty)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) breaches = bl_design_verify (path, &error);
  g_autoptr(BlDesign) design = NULL;
  Report now;

  g_assert_no_error (error);
  if (breaches->len > 0)
    g_error ("%s", (const char *) g_ptr_array_index (breaches, 0));
  design = bl_design_open (path, &error);
  g_assert_no_error (error);
  count_into (path, &now);
  if (now.revision == last->revision)
    {
      assert_sum (design, last->sum, "the state last reported");
      g_assert_cmpint (now.done, ==, last->done);
      g_assert_cmpint (now.length, ==, last->length);
    }
  else
    check_one_more (design, &now, last);
  g_clear_object (&design);
  check_beginning (path, empty);
  return now.length;
}

/* The file of one round: some dozens of kills, then undo back to the empty design. */
#define KILLS_A_FILE 50

static BlDesign *
begin_file (const char *path,
            char      **empty)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(RandomEdits) edits = random_edits_new (1, FALSE);
  BlDesign *design = bl_design_create (path, &error);

  g_assert_no_error (error);
  *empty = yard_dump (design);
  random_edits_first (edits, design, &error);
  g_assert_no_error (error);
  return design;
}

static void
end_file (BlDesign   *design,
          const char *path,
          const char *empty)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *start = NULL;

  bl_design_go_to (design, 0, &error);
  g_assert_no_error (error);
  start = yard_dump (design);
  g_assert_cmpstr (start, ==, empty);
  g_object_unref (design);
  g_unlink (path);
}

static void
test_killed (void)
{
  g_autoptr(GError) error = NULL;
  const char *wanted = g_getenv ("BEDLINE_KILLS");
  int kills = wanted != NULL ? atoi (wanted) : KILLS;
  char *folder = yard_folder ();
  g_autofree char *path = yard_path (folder, "yard.bedline"), *empty = NULL;
  BlDesign *design = begin_file (path, &empty);
  BlRng rng = bl_rng (99);
  guint steps = 0, with_steps = 0;
  gint64 longest = 0;
  double usual = 20000;

  for (int i = 0; i < kills; i++)
    {
      char start[65];
      Report last;
      gint64 length;

      sum_into (design, start);
      g_clear_object (&design); /* no connection is carried across a fork */
      last = run_and_kill (path, start, &rng, &usual);
      length = check_after_kill (path, &last, empty);
      longest = MAX (longest, length);
      steps += last.step;
      with_steps += last.step > 0;
      design = bl_design_open (path, &error);
      g_assert_no_error (error);
      if (i % KILLS_A_FILE == KILLS_A_FILE - 1)
        {
          end_file (design, path, empty);
          g_free (empty);
          design = begin_file (path, &empty);
        }
    }
  end_file (design, path, empty);
  g_assert_cmpuint (2 * with_steps, >, (guint) kills);
  g_test_message ("%d kills, %u of them after finished steps, %u steps reported, none lost; longest "
                  "history %" G_GINT64_FORMAT " edits", kills, with_steps, steps, longest);
  yard_remove_folder (folder);
}

int
main (int    argc,
      char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/crash/killed", test_killed);
  result = g_test_run ();
  yard_end ();
  return result;
}
