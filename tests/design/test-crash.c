/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An editor killed at random moments: what it reported done is there, and undo walks all of it. */
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "random-edits.h"

#define KILLS 40 /* BEDLINE_KILLS sets another number for a long run */

/* What the editor says after each finished step, in one write: its number and the design's sum. */
typedef struct
{
  guint step;
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

static void
report (BlDesign *design,
        guint     step,
        int       pipe)
{
  Report said = { .step = step };

  sum_into (design, said.sum);
  if (write (pipe, &said, sizeof said) != sizeof said)
    _exit (3);
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
      gboolean ok = bl_rng_int (&edits->rng, 5) == 0 && bl_design_undo_label (design) != NULL
                      ? bl_design_undo (design, NULL)
                      : random_edits_next (edits, design, NULL);

      if (!ok)
        _exit (4);
      report (design, step, pipe);
    }
}

/* Runs the editor and kills it after @micros; gives the last report, step 0 when there was none. */
static Report
run_and_kill (const char *path,
              guint64     seed,
              guint       micros)
{
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
  g_usleep (micros);
  kill (child, SIGKILL);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFSIGNALED (status));
  while (read (ends[0], &said, sizeof said) == sizeof said)
    last = said;
  close (ends[0]);
  return last;
}

static guint
check_after_kill (const char   *path,
                  const Report *last,
                  const char   *start_sum)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) breaches = bl_design_verify (path, &error);
  g_autoptr(BlDesign) design = NULL;
  g_autoptr(GPtrArray) history = NULL;
  char sum[65];
  const char *expected = last->step > 0 ? last->sum : start_sum;
  gboolean found;

  g_assert_no_error (error);
  if (breaches->len > 0)
    g_error ("%s", (const char *) g_ptr_array_index (breaches, 0));
  design = bl_design_open (path, &error);
  g_assert_no_error (error);
  /* At most one step more than was reported: it was finished, but not yet said. */
  sum_into (design, sum);
  found = strcmp (sum, expected) == 0;
  if (!found && bl_design_undo (design, NULL))
    {
      sum_into (design, sum);
      found = strcmp (sum, expected) == 0;
      g_assert_true (bl_design_redo (design, &error));
    }
  if (!found && bl_design_redo (design, NULL))
    {
      sum_into (design, sum);
      found = strcmp (sum, expected) == 0;
      g_assert_true (bl_design_undo (design, &error));
    }
  if (!found)
    g_error ("the state reported at step %u is not in the file", last->step);
  history = bl_design_history (design, &error);
  g_assert_no_error (error);
  return history->len;
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
  guint steps = 0, longest = 0;

  for (int i = 0; i < kills; i++)
    {
      char start_sum[65];
      Report last;

      sum_into (design, start_sum);
      g_clear_object (&design); /* no connection is carried across a fork */
      last = run_and_kill (path, 1000 + (guint64) i, bl_rng_int (&rng, 50000));
      longest = MAX (longest, check_after_kill (path, &last, start_sum));
      steps += last.step;
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
  g_test_message ("%d kills survived of %d made, %u steps reported, longest history %u edits",
                  kills, kills, steps, longest);
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
