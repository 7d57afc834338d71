/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each call to the file system failing in turn: nothing reported is lost, nothing is half done. */
#include "faults.h"
#include "yard.h"

/* What may go wrong: a step on an open design, true when it was reported done. */
typedef gboolean (*Step) (BlDesign *design, const char *folder, GError **error);

static gboolean
edit_step (BlDesign *design, const char *folder, GError **error)
{
  return bl_design_begin (design, "Edit", error)
         && bl_design_put_text (design, "title", "Changed", error)
         && bl_design_commit (design, error);
}

static gboolean
large_edit_step (BlDesign *design, const char *folder, GError **error)
{
  g_autofree char *notes = g_strnfill (39000, 'n');

  return bl_design_begin (design, "Edit", error)
         && bl_design_put_text (design, "notes", notes, error)
         && bl_design_put_text (design, "client", notes, error) && bl_design_commit (design, error);
}

static gboolean
undo_step (BlDesign *design, const char *folder, GError **error)
{
  return bl_design_undo (design, error);
}

static gboolean
go_to_step (BlDesign *design, const char *folder, GError **error)
{
  return bl_design_go_to (design, 0, error);
}

static gboolean
redo_after_undo_step (BlDesign *design, const char *folder, GError **error)
{
  return bl_design_redo (design, error);
}

static char *
dump_of_file (const char *path)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = bl_design_open (path, &error);
  g_autoptr(GPtrArray) breaches = NULL;

  g_assert_no_error (error);
  breaches = bl_design_verify (path, &error);
  g_assert_no_error (error);
  if (breaches->len > 0)
    g_error ("%s", (const char *) g_ptr_array_index (breaches, 0));
  return yard_dump (design);
}

typedef struct
{
  char *folder, *base, *path;
  char *before, *after; /* dumps without and with the step */
} Trial;

static void
assert_is_sentence (const GError *problem)
{
  g_assert_true (problem->domain == BL_ERROR && strlen (problem->message) > 20);
}

/* One edit more, after a fault: it is done and recorded like any other. */
static void
go_on (BlDesign *design)
{
  g_autofree char *before = yard_dump (design), *after = NULL, *undone = NULL;

  yard_begin (design, "Go on");
  g_assert_true (bl_design_put_text (design, "place", "After the fault", NULL));
  yard_commit (design);
  yard_assert_sound (design);
  after = yard_dump (design);
  g_assert_cmpstr (after, !=, before);
  g_assert_true (bl_design_undo (design, NULL));
  undone = yard_dump (design);
  g_assert_cmpstr (undone, ==, before);
  yard_assert_sound (design);
}

/* The step with its @nth call failing. TRUE when the call came at all. */
static gboolean
try_fault (Trial    *trial,
           Step      step,
           guint     nth,
           FaultKind kind,
           gboolean  lasting)
{
  g_autoptr(GError) error = NULL, problem = NULL;
  g_autoptr(BlDesign) design = NULL;
  g_autofree char *shown = NULL, *stored = NULL;
  guint calls;
  gboolean done;

  yard_copy_file (trial->base, trial->path);
  design = bl_design_open (trial->path, &error);
  g_assert_no_error (error);
  faults_arm (nth, kind, lasting);
  done = step (design, trial->folder, &problem);
  calls = faults_disarm ();
  g_assert_true (done == (problem == NULL));
  if (problem != NULL)
    assert_is_sentence (problem);
  /* The open design is whole; what it shows is what the file holds; and it can go on. */
  bl_design_refresh (design, &error);
  g_assert_no_error (error);
  yard_assert_sound (design);
  shown = yard_dump (design);
  stored = dump_of_file (trial->path);
  if (done)
    g_assert_cmpstr (stored, ==, trial->after);
  else
    g_assert_true (strcmp (stored, trial->before) == 0 || strcmp (stored, trial->after) == 0);
  g_assert_cmpstr (shown, ==, stored);
  go_on (design);
  return calls >= nth;
}

static guint
fault_loop (Trial *trial,
            Step   step)
{
  g_autoptr(BlDesign) design = NULL;
  g_autoptr(GError) error = NULL;
  guint faults = 0;

  trial->before = dump_of_file (trial->base);
  yard_copy_file (trial->base, trial->path);
  design = bl_design_open (trial->path, &error);
  g_assert_true (step (design, trial->folder, &error));
  g_assert_no_error (error);
  trial->after = yard_dump (design);
  g_clear_object (&design);
  for (int kind = FAULT_IO; kind <= FAULT_LOCK; kind++)
    for (int lasting = 0; lasting < 2; lasting++)
      for (guint nth = 1; try_fault (trial, step, nth, (FaultKind) kind, lasting != 0); nth++)
        faults++;
  g_clear_pointer (&trial->before, g_free);
  g_clear_pointer (&trial->after, g_free);
  return faults;
}

static void
trial_begin (Trial *trial)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;

  memset (trial, 0, sizeof *trial);
  trial->folder = yard_folder ();
  trial->base = yard_path (trial->folder, "base.bedline");
  trial->path = yard_path (trial->folder, "trial.bedline");
  design = bl_design_create (trial->base, &error);
  g_assert_no_error (error);
  yard_fill (design);
}

static void
trial_end (Trial *trial)
{
  g_free (trial->base);
  g_free (trial->path);
  yard_remove_folder (trial->folder);
}

static void
test_step (gconstpointer data)
{
  Trial trial;
  guint faults;

  trial_begin (&trial);
  faults = fault_loop (&trial, (Step) (GCallback) data);
  g_assert_cmpuint (faults, >, 20);
  g_test_message ("%u faults injected, all survived", faults);
  trial_end (&trial);
}

static void
test_redo (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;
  Trial trial;
  guint faults;

  trial_begin (&trial);
  design = bl_design_open (trial.base, &error);
  g_assert_true (bl_design_undo (design, &error));
  g_clear_object (&design);
  faults = fault_loop (&trial, redo_after_undo_step);
  g_assert_cmpuint (faults, >, 20);
  g_test_message ("%u faults injected, all survived", faults);
  trial_end (&trial);
}

/* Making a file (@base NULL) or saving a copy of @base at the trial's path, its @nth call failing:
 * whole, or not there at all. */
static gboolean
try_new_file (Trial    *trial,
              BlDesign *base,
              guint     nth,
              FaultKind kind,
              gboolean  lasting)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) made = NULL;
  guint calls;
  gboolean ok;

  faults_arm (nth, kind, lasting);
  if (base == NULL)
    made = bl_design_create (trial->path, &error);
  ok = base == NULL ? made != NULL : bl_design_save_copy (base, trial->path, &error);
  calls = faults_disarm ();
  g_clear_object (&made);
  g_assert_true (ok == (error == NULL));
  g_assert_true (ok || calls >= nth);
  if (!ok)
    assert_is_sentence (error);
  g_assert_true (ok == g_file_test (trial->path, G_FILE_TEST_EXISTS));
  if (ok)
    {
      g_autofree char *dump = dump_of_file (trial->path);

      g_assert_cmpstr (dump, ==, trial->after);
      g_unlink (trial->path);
    }
  return calls >= nth;
}

static void
test_new_files (gconstpointer data)
{
  gboolean copy = GPOINTER_TO_INT (data);
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) base = NULL, empty = bl_design_create (NULL, NULL);
  Trial trial;

  trial_begin (&trial);
  if (copy)
    base = bl_design_open (trial.base, &error);
  g_assert_no_error (error);
  trial.after = yard_dump (copy ? base : empty);
  for (int kind = FAULT_IO; kind <= FAULT_LOCK; kind++)
    {
      guint faults = 0;

      for (int lasting = 0; lasting < 2; lasting++)
        for (guint nth = 1; try_new_file (&trial, base, nth, (FaultKind) kind, lasting != 0); nth++)
          faults++;
      g_assert_cmpuint (faults, >, kind < FAULT_READ ? 20 : 2);
      g_test_message ("%u faults injected, all survived", faults);
    }
  g_clear_pointer (&trial.after, g_free);
  trial_end (&trial);
}

/* Another program's edit while reads fail: it is shown, or the next edit is refused until it is. */
static gboolean
try_other_program (Trial *trial, guint nth)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL, other = NULL;
  guint calls;
  gboolean seen;

  yard_copy_file (trial->base, trial->path);
  design = bl_design_open (trial->path, &error);
  other = bl_design_open (trial->path, &error);
  g_assert_true (edit_step (other, trial->folder, &error));
  g_assert_no_error (error);
  faults_arm (nth, FAULT_READ, FALSE);
  seen = bl_design_refresh (design, &error);
  calls = faults_disarm ();
  g_assert_true (calls >= nth || seen);
  g_assert_true (!seen || error == NULL);
  g_assert_true (seen == g_str_equal (bl_design_get_model (design)->title, "Changed"));
  g_clear_error (&error);
  if (!seen)
    {
      g_assert_false (bl_design_begin (design, "Stale", &error));
      yard_assert_error (&error, BL_ERROR_BUSY, "read again");
      g_assert_cmpstr (bl_design_get_model (design)->title, ==, "Changed");
    }
  g_assert_true (edit_step (design, trial->folder, &error));
  yard_assert_sound (design);
  return calls >= nth;
}

static void
test_other_program (void)
{
  Trial trial;
  guint nth = 1;

  trial_begin (&trial);
  while (try_other_program (&trial, nth))
    nth++;
  g_assert_cmpuint (nth, >, 3);
  g_test_message ("%u faults injected, all survived", nth - 1);
  trial_end (&trial);
}

/* ---- old files ---- */

/* Every file left in the folder, whole or not there: none is half a design. */
static void
check_left_files (Trial *trial)
{
  g_autoptr(GDir) dir = g_dir_open (trial->folder, 0, NULL);
  g_autoptr(GPtrArray) left = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    if (!g_str_has_suffix (name, "-journal"))
      g_ptr_array_add (left, yard_path (trial->folder, name));
  for (guint i = 0; i < left->len; i++)
    {
      g_autofree char *dump = dump_of_file (g_ptr_array_index (left, i));

      g_assert_cmpstr (dump, ==, trial->after);
    }
}

/* Opening an old file, which grows then, its @nth call failing. It opens and is what it was, or is
 * refused with a sentence; and then it opens at the next try, and is what it was. */
static gboolean
try_growth (Trial    *trial,
            guint     nth,
            FaultKind kind,
            gboolean  lasting)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;
  guint calls;

  trial->folder = yard_folder ();
  trial->path = yard_path (trial->folder, "old.bedline");
  yard_copy_file (trial->base, trial->path);
  faults_arm (nth, kind, lasting);
  design = bl_design_open (trial->path, &error);
  calls = faults_disarm ();
  g_assert_true ((design != NULL) == (error == NULL));
  g_assert_true (design != NULL || calls >= nth);
  if (design != NULL)
    {
      g_autofree char *shown = yard_dump (design);

      g_assert_cmpstr (shown, ==, trial->after);
    }
  else
    assert_is_sentence (error);
  g_clear_object (&design);
  check_left_files (trial);
  g_clear_pointer (&trial->path, g_free);
  g_clear_pointer (&trial->folder, yard_remove_folder);
  return calls >= nth;
}

/* What the file says without faults is compared with its sheet in test-frozen.c. */
static void
test_growth (gconstpointer data)
{
  FaultKind kind = (FaultKind) GPOINTER_TO_INT (data);
  g_autofree char *folder = yard_folder (), *clean = yard_path (folder, "clean.bedline");
  g_autofree char *frozen = g_test_build_filename (G_TEST_DIST, "design", "frozen",
                                                   "version-1.bedline", NULL);
  Trial trial = { .base = frozen };
  guint faults = 0;

  yard_copy_file (frozen, clean);
  trial.after = dump_of_file (clean);
  for (int lasting = 0; lasting < 2; lasting++)
    for (guint nth = 1; try_growth (&trial, nth, kind, lasting != 0); nth++)
      faults++;
  g_assert_cmpuint (faults, >, 40);
  g_test_message ("%u faults injected, all survived", faults);
  g_free (trial.after);
  yard_remove_folder (g_steal_pointer (&folder));
}

/* Some network folders know no locks: then a design is not opened, and not edited, without them. */
static void
test_no_locks (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;
  Trial trial;

  trial_begin (&trial);
  faults_arm (1, FAULT_LOCK, TRUE);
  g_assert_null (bl_design_open (trial.base, &error));
  yard_assert_error (&error, BL_ERROR_FILE, "cannot take turns");
  faults_disarm ();
  design = bl_design_open (trial.base, &error);
  g_assert_no_error (error);
  faults_arm (1, FAULT_LOCK, TRUE);
  g_assert_false (edit_step (design, trial.folder, &error));
  yard_assert_error (&error, BL_ERROR_FILE, "cannot take turns");
  faults_disarm ();
  g_assert_true (edit_step (design, trial.folder, &error));
  trial_end (&trial);
}

int
main (int    argc,
      char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  faults_install ();
  g_test_add_data_func ("/faults/edit", (gconstpointer) (GCallback) edit_step, test_step);
  g_test_add_data_func ("/faults/large-edit", (gconstpointer) (GCallback) large_edit_step,
                        test_step);
  g_test_add_data_func ("/faults/undo", (gconstpointer) (GCallback) undo_step, test_step);
  g_test_add_data_func ("/faults/go-to", (gconstpointer) (GCallback) go_to_step, test_step);
  g_test_add_func ("/faults/redo", test_redo);
  g_test_add_data_func ("/faults/new-file", GINT_TO_POINTER (FALSE), test_new_files);
  g_test_add_data_func ("/faults/save-copy", GINT_TO_POINTER (TRUE), test_new_files);
  g_test_add_func ("/faults/other-program", test_other_program);
  g_test_add_func ("/faults/no-locks", test_no_locks);
  g_test_add_data_func ("/faults/growth/io", GINT_TO_POINTER (FAULT_IO), test_growth);
  g_test_add_data_func ("/faults/growth/full", GINT_TO_POINTER (FAULT_FULL), test_growth);
  g_test_add_data_func ("/faults/growth/torn", GINT_TO_POINTER (FAULT_TORN), test_growth);
  g_test_add_data_func ("/faults/growth/read", GINT_TO_POINTER (FAULT_READ), test_growth);
  result = g_test_run ();
  yard_end ();
  return result;
}
