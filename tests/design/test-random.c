/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Thousands of random edits, undos and redos against a plain model; then back to the beginning. */
#include "random-edits.h"

#define STEPS 2500 /* BEDLINE_STEPS sets another number for a long run */
/* Plain models kept to go back to: undo goes some steps back from the last edit, hardly ever twenty. */
#define KEPT 64

/* What the plain model was after each edit, by itself: nothing here comes from the design. */
typedef struct
{
  GPtrArray *sums;   /* checksum; index = number of edits done */
  GPtrArray *models; /* the model; NULL where it is longer ago than KEPT edits */
  guint done;
} Past;

static char *
sum_of (const char *dump)
{
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, dump, -1);
}

/* One edit more: what the plain model is now, and the design must be. */
static void
past_add (Past          *past,
          const BlModel *plain,
          BlDesign      *design)
{
  g_autofree char *expected = bl_model_dump (plain, TRUE), *dump = yard_dump (design);

  g_assert_cmpstr (dump, ==, expected);
  g_ptr_array_set_size (past->sums, (int) past->done);
  g_ptr_array_set_size (past->models, (int) past->done);
  g_ptr_array_add (past->sums, sum_of (expected));
  g_ptr_array_add (past->models, random_edits_copy (plain));
  if (past->done >= KEPT)
    g_clear_pointer ((BlModel **) &past->models->pdata[past->done - KEPT], bl_model_unref);
}

/* The design is what the plain model was when so many edits were done. */
static void
assert_is (const Past *past,
           BlDesign   *design)
{
  g_autofree char *dump = yard_dump (design), *sum = sum_of (dump);

  g_assert_cmpstr (sum, ==, g_ptr_array_index (past->sums, past->done));
}

/* After undo or redo both are what the plain model was at that place. */
static void
go_to (RandomEdits *edits,
       BlDesign    *design,
       const Past  *past)
{
  const BlModel *then = g_ptr_array_index (past->models, past->done);

  assert_is (past, design);
  g_assert_nonnull (then);
  bl_model_unref (edits->expected);
  edits->expected = random_edits_copy (then);
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
        {
          past->done++;
          past_add (past, edits->expected, design);
        }
      else
        assert_is (past, design);
    }
  else if (choice < 9 && past->done > 0)
    {
      g_assert_nonnull (before);
      g_assert_true (bl_design_undo (design, &error));
      g_assert_no_error (error);
      past->done--;
      go_to (edits, design, past);
    }
  else if (choice == 9 && past->done + 1 < past->sums->len)
    {
      g_assert_true (bl_design_redo (design, &error));
      g_assert_no_error (error);
      past->done++;
      go_to (edits, design, past);
    }
}

/* Step by step on to the last edit and back to the empty design; then on to the last again. */
static void
walk_all (BlDesign *design,
          Past     *past)
{
  g_autoptr(GError) error = NULL;

  while (past->done + 1 < past->sums->len)
    {
      g_assert_true (bl_design_redo (design, &error));
      past->done++;
      assert_is (past, design);
    }
  g_assert_null (bl_design_redo_label (design));
  while (past->done > 0)
    {
      g_assert_true (bl_design_undo (design, &error));
      past->done--;
      assert_is (past, design);
    }
  g_assert_null (bl_design_undo_label (design));
  while (past->done + 1 < past->sums->len)
    {
      g_assert_true (bl_design_redo (design, &error));
      past->done++;
    }
  g_assert_no_error (error);
  assert_is (past, design);
  g_assert_null (bl_design_redo_label (design));
}

static void
test_random (void)
{
  g_autoptr(GError) error = NULL;
  const char *wanted = g_getenv ("BEDLINE_STEPS");
  int steps = wanted != NULL ? atoi (wanted) : STEPS;
  g_autoptr(RandomEdits) edits = random_edits_new (2026, TRUE);
  g_autoptr(BlDesign) design = bl_design_create (NULL, &error);
  Past past = { g_ptr_array_new_with_free_func (g_free),
                g_ptr_array_new_with_free_func ((GDestroyNotify) bl_model_unref), 0 };

  past_add (&past, edits->expected, design);
  g_assert_true (random_edits_first (edits, design, &error));
  past.done++;
  past_add (&past, edits->expected, design);
  for (int i = 0; i < steps; i++)
    {
      step (edits, design, &past);
      if (i % 100 == 0)
        yard_assert_sound (design);
    }
  walk_all (design, &past);
  yard_assert_sound (design);
  g_test_message ("%d steps, each compared, %u edits in the history", steps, past.sums->len - 1);
  g_ptr_array_unref (past.sums);
  g_ptr_array_unref (past.models);
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
