/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cost on the board, without a display: figures follow a dragged line and late ones are dropped;
 * the person's figures keep their meaning in other units; price books come and go. The arithmetic
 * itself is checked in tests/takeoff; here two ways through the program must agree. */

#include "config.h"

#include "studio/care-line.h"
#include "studio/cost-line.h"
#include "studio/follow.h"
#include "studio/price-book.h"
#include "studio/reckon.h"
#include "tests/studio/dies.h"

#include <glib/gstdio.h>
#include <string.h>

typedef struct
{
  BlDesign *design;
  BlLibrary *library;
  BlBoard *board;
  gint64 bed;
  char *said, *folder;
} Fixture;

static void
said_cb (BlBoard *board, const char *sentence, Fixture *f)
{
  g_free (f->said);
  f->said = g_strdup (sentence);
}

static BlOutline *
rectangle (double width, double depth)
{
  BlPoints *points = bl_points_new ();

  bl_points_add (points, BL_POINT (0, 0));
  bl_points_add (points, BL_POINT (width, 0));
  bl_points_add (points, BL_POINT (width, depth));
  bl_points_add (points, BL_POINT (0, depth));
  return bl_outline_new_take (points, TRUE);
}

static gboolean
start_design (BlDesign *design, gpointer data, GError **error)
{
  BlAlternative a = { 0, 0, (char *) "A", (char *) "", (char *) "" };
  g_autoptr (BlBed) bed = bl_bed_new ();
  Fixture *f = data;

  g_free (bed->name);
  bed->name = g_strdup ("Strip");
  bed->outline = rectangle (4, 2);
  bed->mulch_depth = 0.3; /* enough to come loose */
  if (!bl_design_put_bed (design, bed, error))
    return FALSE;
  f->bed = bed->id;
  return bl_model_alternative_named (bl_design_get_model (design), "A") != NULL
         || bl_design_put_alternative (design, &a, error);
}

static gboolean
spin (gboolean (*done) (Fixture *), Fixture *f)
{
  gint64 end = g_get_monotonic_time () + 20 * G_TIME_SPAN_SECOND;

  while (!done (f) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  return done (f);
}

static gboolean
is_reckoned (Fixture *f)
{
  BlReckoning *latest = bl_board_get_reckoning (f->board);

  return bl_board_is_reckoned (f->board) && latest->layout->model == bl_board_get_model (f->board);
}

static gboolean is_following (Fixture *f) { return bl_board_get_following (f->board) != NULL; }
static gboolean is_done (Fixture *f) { return bl_board_get_following (f->board) == NULL; }

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = bl_library_default_path ();
  g_autoptr (BlPlanting) fill = bl_planting_new ();

  f->library = bl_library_open (path, NULL, &error);
  g_assert_no_error (error);
  f->design = bl_design_create (NULL, &error);
  g_assert_no_error (error);
  f->board = bl_board_new (f->design, f->library);
  g_signal_connect (f->board, "problem", G_CALLBACK (said_cb), f);
  g_assert_true (bl_board_edit (f->board, "Start", start_design, f));
  fill->alternative_id = bl_board_get_alternative (f->board);
  fill->bed_id = f->bed;
  fill->slug = g_strdup ("nepeta-x-faassenii");
  fill->form = BL_PLANTING_FILL;
  g_assert_true (bl_board_put_planting (f->board, "Fill", fill));
  bl_board_get_following (f->board);
  bl_board_get_reckoning (f->board);
  g_assert_true (spin (is_reckoned, f));
  f->folder = g_dir_make_tmp ("bl-cost-XXXXXX", NULL);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_assert_true (spin (is_reckoned, f));
  for (int i = 0; i < 50; i++)
    {
      g_usleep (2000);
      g_main_context_iteration (NULL, FALSE);
    }
  assert_dies (f->board);
  g_object_unref (f->design);
  bl_library_free (f->library);
  g_rmdir (f->folder);
  g_free (f->folder);
  g_free (f->said);
}

static const BlEstimate *
estimate (Fixture *f)
{
  g_assert_true (spin (is_reckoned, f));
  return bl_board_get_reckoning (f->board)->estimate;
}

static const BlEstimateLine *
line_of (const BlEstimate *all, const char *key)
{
  for (guint i = 0; i < all->lines->len; i++)
    if (g_str_equal (g_array_index (all->lines, BlEstimateLine, i).key, key))
      return &g_array_index (all->lines, BlEstimateLine, i);
  return NULL;
}

/* The area is width × depth; the exact figures come once the drag has become an edit. */
static void
test_follows (Fixture *f, gconstpointer data)
{
  BlPick pick = { BL_PICK_BED, f->bed };
  g_autoptr (BlOutline) wide = rectangle (6, 2);
  g_autoptr (BlBed) bed = NULL;
  double area = bl_board_get_reckoning (f->board)->takeoff->area.value;
  guint n = bl_board_get_reckoning (f->board)->takeoff->n_plants;
  gint64 total = estimate (f)->total;
  const BlFollowing *following;

  g_assert_cmpfloat_with_epsilon (area, 8, 1e-9);
  bl_board_follow_line (f->board, &pick, wide);
  g_assert_true (spin (is_following, f));
  following = bl_board_get_following (f->board);
  g_assert_cmpfloat_with_epsilon (following->takeoff->area.value, 12, 1e-9);
  g_assert_cmpuint (following->takeoff->n_plants, >, n);
  g_assert_cmpint (following->estimate->total, >, total);
  /* The design itself is as it was. */
  g_assert_cmpfloat_with_epsilon (bl_model_bed (bl_board_get_model (f->board), f->bed)->area.value, 8,
                                  1e-9);

  bed = bl_bed_copy (bl_model_bed (bl_board_get_model (f->board), f->bed));
  g_clear_pointer (&bed->outline, bl_outline_free);
  bed->outline = bl_outline_copy (wide);
  g_assert_true (bl_board_put_bed (f->board, "Move a point", bed));
  bl_board_follow_line (f->board, NULL, NULL);
  g_assert_nonnull (bl_board_get_following (f->board));
  g_assert_true (spin (is_done, f));
  g_assert_true (is_reckoned (f));
  g_assert_cmpfloat_with_epsilon (bl_board_get_reckoning (f->board)->takeoff->area.value, 12, 1e-9);
}

static guint
marks_of (BlBoard *board, BlMarkKind kind, BlInk ink)
{
  g_autoptr (BlMarks) marks = bl_marks_new ();
  guint n = 0;

  bl_board_mark_following (board, marks);
  for (guint i = 0; i < marks->items->len; i++)
    {
      const BlMark *mark = &g_array_index (marks->items, BlMark, i);

      n += mark->kind == kind && (mark->ink == ink || kind == BL_MARK_GHOST);
    }
  return n;
}

/* Plants of @a that stand in @b too. */
static guint
common (const BlLayout *a, const BlLayout *b)
{
  guint n = 0;

  for (guint i = 0; i < a->placed->len; i++)
    for (guint k = 0; k < b->placed->len; k++)
      n += bl_dist (g_array_index (a->placed, BlPlaced, i).at,
                    g_array_index (b->placed, BlPlaced, k).at) < 1e-9;
  return n;
}

static void
drag_to (Fixture *f, double width)
{
  BlPick pick = { BL_PICK_BED, f->bed };
  g_autoptr (BlOutline) line = rectangle (width, 2);

  bl_board_follow_line (f->board, &pick, line);
  g_assert_true (spin (is_following, f));
}

/* A bed line moved by 20 cm: plants that come and go are seen while it is dragged, the others stay,
 * then and after the file was read again; one step of undo brings all back. */
static void
test_plants_stay (Fixture *f, gconstpointer data)
{
  g_autoptr (BlLayout) before = bl_layout_ref (bl_board_get_layout (f->board));
  g_autoptr (BlOutline) wide = rectangle (4.2, 2);
  g_autoptr (BlBed) bed = bl_bed_copy (bl_model_bed (bl_board_get_model (f->board), f->bed));
  const BlPlanting *fill;
  guint come, go = 0, short_of = 0;

  for (guint i = 0; i < before->placed->len; i++)
    {
      const BlPlaced *plant = &g_array_index (before->placed, BlPlaced, i);

      short_of += plant->at.x > 3.8 - plant->plant->spread / 2;
    }
  g_assert_cmpuint (short_of, >, 0);
  drag_to (f, 3.8);
  go = marks_of (f->board, BL_MARK_RING, BL_INK_WRONG);
  g_assert_cmpuint (go, ==, short_of);
  bl_board_follow_line (f->board, NULL, NULL);
  g_assert_true (spin (is_done, f));
  g_assert_cmpuint (marks_of (f->board, BL_MARK_RING, BL_INK_WRONG), ==, 0);

  drag_to (f, 4.2);
  g_assert_cmpuint (marks_of (f->board, BL_MARK_RING, BL_INK_WRONG), ==, 0);
  come = marks_of (f->board, BL_MARK_GHOST, BL_INK_ACTIVE);
  g_clear_pointer (&bed->outline, bl_outline_free);
  bed->outline = bl_outline_copy (wide);
  g_assert_true (bl_board_put_bed (f->board, "Move a point", bed));
  bl_board_follow_line (f->board, NULL, NULL);
  g_assert_true (spin (is_done, f));
  g_assert_true (is_reckoned (f));
  g_assert_cmpuint (common (before, bl_board_get_layout (f->board)), ==, before->placed->len);
  g_assert_cmpuint (bl_board_get_layout (f->board)->placed->len, ==, before->placed->len + come);
  fill = bl_board_get_model (f->board)->plantings->pdata[0];
  g_assert_cmpuint (fill->stood->len, ==, before->placed->len);
  {
    g_autoptr (BlLayout) read = bl_layout_compute (bl_board_get_model (f->board),
                                                   before->alternative_id);

    g_assert_cmpuint (common (read, bl_board_get_layout (f->board)), ==, read->placed->len);
  }
  g_assert_true (bl_design_undo (f->design, NULL));
  g_assert_true (spin (is_reckoned, f));
  fill = bl_board_get_model (f->board)->plantings->pdata[0];
  g_assert_null (fill->stood);
  g_assert_cmpuint (common (before, bl_board_get_layout (f->board)), ==, before->placed->len);
  g_assert_cmpuint (bl_board_get_layout (f->board)->placed->len, ==, before->placed->len);
}

static const BlTask *
task_of (Fixture *f, const char *uid)
{
  const GArray *tasks = NULL;

  g_assert_true (spin (is_reckoned, f));
  tasks = bl_board_get_reckoning (f->board)->care->tasks;
  for (guint i = 0; i < tasks->len; i++)
    if (g_str_equal (g_array_index (tasks, BlTask, i).uid, uid))
      return &g_array_index (tasks, BlTask, i);
  return NULL;
}

/* A task moved, done and left out by the person stays so when the bed is another; each mark is one step
 * of undo, and a mark that says nothing any more is gone from the file. */
static void
test_care_marks (Fixture *f, gconstpointer data)
{
  g_autofree char *uid = g_strdup_printf ("weed.bed%" G_GINT64_FORMAT ".1", f->bed);
  g_autoptr (BlBed) bed = bl_bed_copy (bl_model_bed (bl_board_get_model (f->board), f->bed));
  BlDay computed, moved;
  BlCareMark mark;

  g_assert_nonnull (task_of (f, uid));
  computed = task_of (f, uid)->from;
  moved = computed + 9;
  mark = bl_care_mark_of (f->board, uid);
  mark.moved = moved;
  g_assert_true (bl_board_put_care_mark (f->board, "Move a task", &mark));
  mark = bl_care_mark_of (f->board, uid);
  mark.done = moved;
  g_assert_true (bl_board_put_care_mark (f->board, "Mark a task as done", &mark));
  g_clear_pointer (&bed->outline, bl_outline_free);
  bed->outline = rectangle (6, 2);
  g_assert_true (bl_board_put_bed (f->board, "Move a point", bed));
  g_assert_cmpuint (task_of (f, uid)->from, ==, moved);
  g_assert_true (task_of (f, uid)->done && task_of (f, uid)->moved);

  mark = bl_care_mark_of (f->board, uid);
  mark.dropped = TRUE;
  g_assert_true (bl_board_put_care_mark (f->board, "Leave a task out", &mark));
  g_assert_null (task_of (f, uid));
  g_assert_true (bl_design_undo (f->design, NULL));
  g_assert_nonnull (task_of (f, uid));

  mark = bl_care_mark_of (f->board, uid);
  mark.done = mark.moved = 0;
  g_assert_true (bl_board_put_care_mark (f->board, "Mark a task as not done", &mark));
  g_assert_cmpuint (bl_board_get_model (f->board)->care_marks->len, ==, 0);
  g_assert_cmpuint (task_of (f, uid)->from, ==, computed);
}

/* Of many lines only the newest need be worked out; after giving up, none may come. */
static void
test_drops_late (Fixture *f, gconstpointer data)
{
  BlPick pick = { BL_PICK_BED, f->bed };

  for (int i = 0; i < 30; i++)
    {
      g_autoptr (BlOutline) line = rectangle (4 + 0.1 * i, 2);

      bl_board_follow_line (f->board, &pick, line);
    }
  bl_board_follow_line (f->board, NULL, NULL);
  for (int i = 0; i < 100; i++)
    {
      g_usleep (2000);
      g_main_context_iteration (NULL, FALSE);
      g_assert_null (bl_board_get_following (f->board));
    }
}

/* 1 cu yd is 0.764554857984 m³, from the yard of 0.9144 m: what is typed in one stays the same
 * amount of mulch in the other. */
static void
test_own_figures (Fixture *f, gconstpointer data)
{
  const BlEstimateLine *line = line_of (estimate (f), "material:mulch-bulk");
  double si;

  g_assert_nonnull (line);
  g_assert_cmpstr (line->unit, ==, "cu yd");
  si = line->si;
  g_assert_cmpfloat_with_epsilon (si, 0.764554857984, 1e-12);
  g_assert_true (bl_board_put_override (f->board, "material:mulch-bulk", "quantity", 2 * si));
  g_assert_true (bl_board_put_override (f->board, "material:mulch-bulk", "rate", 6000 / si));
  line = line_of (estimate (f), "material:mulch-bulk");
  g_assert_true (line->overridden);
  g_assert_cmpfloat_with_epsilon (line->quantity, 2, 1e-9);
  g_assert_cmpint (line->rate, ==, 6000);
  g_assert_cmpint (line->amount, ==, 12000);

  g_assert_true (bl_board_put_override (f->board, "material:mulch-bulk", "optional", 1));
  g_assert_null (line_of (estimate (f), "material:mulch-bulk"));
  g_assert_cmpuint (estimate (f)->options->len, ==, 1);
  for (int i = 0; i < 3; i++)
    g_assert_true (bl_board_undo (f->board));
  line = line_of (estimate (f), "material:mulch-bulk");
  g_assert_false (line->overridden);
  g_assert_cmpuint (estimate (f)->options->len, ==, 0);
}

static void
test_tables (Fixture *f, gconstpointer data)
{
  g_autofree char *path = g_build_filename (f->folder, "prices.csv", NULL);
  g_autofree char *text = NULL;
  g_autoptr (BlPriceBook) before = bl_price_book_copy (bl_board_get_model (f->board)->prices);
  char *at;

  g_assert_true (bl_board_write_prices (f->board, path));
  g_assert_true (bl_board_read_prices (f->board, path));
  g_assert_true (bl_price_book_equal (before, bl_board_get_model (f->board)->prices));

  /* A mistake names its line; nothing is taken. The third record is the file's third line. */
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  at = strchr (strchr (text, '\n') + 1, '\n') + 1;
  *at = '?';
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  g_assert_false (bl_board_read_prices (f->board, path));
  g_test_message ("%s", f->said);
  g_assert_nonnull (strstr (f->said, "3"));
  g_assert_true (bl_price_book_equal (before, bl_board_get_model (f->board)->prices));
  g_unlink (path);
}

static gboolean
begin_with_firm (BlDesign *design, gpointer data, GError **error)
{
  g_autofree char *trouble = NULL;

  return bl_design_begin_with_firm_prices (design, &trouble, error) && trouble == NULL;
}

static void
test_firm (Fixture *f, gconstpointer data)
{
  g_autoptr (BlPriceBook) book = bl_price_book_copy (bl_board_get_model (f->board)->prices);
  g_autofree char *path = bl_price_book_firm_path ();

  g_unlink (path);
  g_assert_false (bl_board_take_firm_prices (f->board));
  g_assert_nonnull (strstr (f->said, "no firm's book"));
  book->rules.labour_rate = 6100;
  g_assert_true (bl_board_put_prices (f->board, "Change", book));
  g_assert_true (bl_board_keep_firm_prices (f->board));
  g_assert_true (bl_board_undo (f->board));
  g_assert_cmpint (bl_board_get_model (f->board)->prices->rules.labour_rate, !=, 6100);
  g_assert_true (bl_board_edit (f->board, "Begin", begin_with_firm, NULL));
  g_assert_cmpint (bl_board_get_model (f->board)->prices->rules.labour_rate, ==, 6100);
  g_assert_true (bl_board_undo (f->board));

  g_assert_true (bl_board_put_text (f->board, "currency", "EUR"));
  g_assert_false (bl_board_take_firm_prices (f->board));
  g_assert_nonnull (strstr (f->said, "USD"));
  g_assert_true (bl_board_edit (f->board, "Begin", begin_with_firm, NULL));
  g_assert_cmpint (bl_board_get_model (f->board)->prices->rules.labour_rate, !=, 6100);
  g_unlink (path);
}

#define ADD(path, func) g_test_add ("/studio/cost/" path, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  g_autofree char *home = g_dir_make_tmp ("bl-cost-home-XXXXXX", NULL);

  g_setenv ("XDG_DATA_HOME", home, TRUE);
  g_test_init (&argc, &argv, NULL);
  ADD ("follows", test_follows);
  ADD ("plants-stay", test_plants_stay);
  ADD ("care-marks", test_care_marks);
  ADD ("drops-late", test_drops_late);
  ADD ("own-figures", test_own_figures);
  ADD ("tables", test_tables);
  ADD ("firm", test_firm);
  return g_test_run ();
}
