/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Thousands of random edits, undos and redos against a plain model; then back to the beginning. */
#include "random-edits.h"

#define STEPS 2500 /* BEDLINE_STEPS sets another number for a long run */

typedef struct
{
  GPtrArray *sums; /* checksum of the design after each edit; index = number of edits done */
  guint done;
} Past;

static char *
sum_of (const BlModel *model)
{
  g_autofree char *dump = bl_model_dump (model, TRUE);

  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, dump, -1);
}

static void
past_add (Past     *past,
          BlDesign *design)
{
  g_ptr_array_set_size (past->sums, (int) past->done + 1);
  g_ptr_array_add (past->sums, sum_of (bl_design_get_model (design)));
  past->done++;
}

static void
assert_is (Past     *past,
           BlDesign *design)
{
  g_autofree char *sum = sum_of (bl_design_get_model (design));

  g_assert_cmpstr (sum, ==, g_ptr_array_index (past->sums, past->done));
}

static void
step (RandomEdits *edits,
      BlDesign    *design,
      Past        *past)
{
  g_autoptr(GError) error = NULL;
  const char *before = bl_design_undo_label (design);
  guint64 revision = bl_design_get_model (design)->revision;
  guint choice = bl_rng_int (&edits->rng, 10);

  if (choice < 7)
    {
      random_edits_next (edits, design, &error);
      g_assert_no_error (error);
      if (bl_design_get_model (design)->revision != revision)
        past_add (past, design);
    }
  else if (choice < 9 && past->done > 0)
    {
      g_assert_nonnull (before);
      g_assert_true (bl_design_undo (design, &error));
      g_assert_no_error (error);
      past->done--;
      assert_is (past, design);
      random_edits_adopt (edits, design);
    }
  else if (choice == 9 && past->done + 1 < past->sums->len)
    {
      g_assert_true (bl_design_redo (design, &error));
      g_assert_no_error (error);
      past->done++;
      assert_is (past, design);
      random_edits_adopt (edits, design);
    }
}

static void
test_random (void)
{
  g_autoptr(GError) error = NULL;
  const char *wanted = g_getenv ("BEDLINE_STEPS");
  int steps = wanted != NULL ? atoi (wanted) : STEPS;
  g_autoptr(RandomEdits) edits = random_edits_new (2026, TRUE);
  g_autoptr(BlDesign) design = bl_design_create (NULL, &error);
  Past past = { g_ptr_array_new_with_free_func (g_free), 0 };
  g_autofree char *last = NULL, *now = NULL;

  g_ptr_array_add (past.sums, sum_of (bl_design_get_model (design)));
  g_assert_true (random_edits_first (edits, design, &error));
  past_add (&past, design);
  for (int i = 0; i < steps; i++)
    {
      step (edits, design, &past);
      if (i % 20 == 0)
        {
          g_autofree char *expected = bl_model_dump (edits->expected, TRUE),
                          *dump = yard_dump (design);

          g_assert_cmpstr (expected, ==, dump);
        }
      if (i % 100 == 0)
        yard_assert_sound (design);
    }
  /* Step by step to the empty design and on again to the last. */
  while (past.done + 1 < past.sums->len)
    {
      g_assert_true (bl_design_redo (design, &error));
      past.done++;
    }
  assert_is (&past, design);
  last = sum_of (bl_design_get_model (design));
  while (past.done > 0)
    {
      g_assert_true (bl_design_undo (design, &error));
      past.done--;
      assert_is (&past, design);
    }
  g_assert_null (bl_design_undo_label (design));
  while (bl_design_redo_label (design) != NULL)
    g_assert_true (bl_design_redo (design, &error));
  g_assert_no_error (error);
  now = sum_of (bl_design_get_model (design));
  g_assert_cmpstr (last, ==, now);
  g_test_message ("%d steps, %u edits in the history", steps, past.sums->len - 1);
  g_ptr_array_unref (past.sums);
}

int
main (int    argc,
      char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/random/against-a-plain-model", test_random);
  result = g_test_run ();
  yard_end ();
  return result;
}
