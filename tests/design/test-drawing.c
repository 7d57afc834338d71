/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A base drawing in the design file: kept, scaled anew, undone, written to a sheet and read again. */
#include "yard.h"

#include "photo/image.h"

/* A plan 40 m by 10 m, drawn so that a metre is 102.4 pixels of the picture kept. */
static const char plan[]
  = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 40 10'>"
    "<path d='M5 5h10v4h-10z' fill='none' stroke='#000' stroke-width='.05'/></svg>";

#define PIXELS 102.4 /* a metre */

typedef struct
{
  char *folder, *path;
  BlDesign *design;
  gint64 bed;
} Fixture;

static GBytes *
plan_bytes (void)
{
  return g_bytes_new_static (plan, sizeof plan - 1);
}

/* The drawing, its known length of 40 m, and a bed of 10 m by 4 m traced on it: an edit each. */
static void
set_up (Fixture      *fixture,
        gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = plan_bytes ();
  g_autoptr(BlBed) bed = bl_bed_new ();
  const BlPoint corners[] = { { 5, 5 }, { 15, 5 }, { 15, 9 }, { 5, 9 } };
  BlDrawing drawing;

  fixture->folder = yard_folder ();
  fixture->path = yard_path (fixture->folder, "drawn.bedline");
  fixture->design = bl_design_create (fixture->path, &error);
  g_assert_no_error (error);
  yard_begin (fixture->design, "Bring in a base drawing");
  g_assert_true (bl_design_put_drawing (fixture->design, bytes, "plan.svg", &error));
  yard_commit (fixture->design);
  drawing = bl_design_get_model (fixture->design)->drawing;
  drawing.ends[0] = BL_POINT (0, 1000);
  drawing.ends[1] = BL_POINT (40 * PIXELS, 1000);
  drawing.length = 40;
  yard_begin (fixture->design, "State the drawing's known length");
  g_assert_true (bl_design_put_drawing_info (fixture->design, &drawing, &error));
  yard_commit (fixture->design);
  g_free (bed->name);
  bed->name = g_strdup ("Drawn");
  bed->source = BL_FROM_DRAWING;
  bed->outline = bl_outline_new ();
  bed->outline->straight = TRUE;
  for (int i = 0; i < 4; i++)
    bl_points_add (bed->outline->points, bl_mul (corners[i], PIXELS));
  yard_begin (fixture->design, "Trace a bed line");
  g_assert_true (bl_design_put_bed (fixture->design, bed, &error));
  yard_commit (fixture->design);
  fixture->bed = bed->id;
}

static void
tear_down (Fixture      *fixture,
           gconstpointer data)
{
  g_clear_object (&fixture->design);
  g_free (fixture->path);
  yard_remove_folder (fixture->folder);
}

static const BlBed *
bed_of (Fixture *fixture)
{
  const BlBed *bed = bl_model_bed (bl_design_get_model (fixture->design), fixture->bed);

  g_assert_nonnull (bed);
  return bed;
}

static void
assert_size (Fixture *fixture,
             double   area)
{
  const BlBed *bed = bed_of (fixture);

  g_assert_null (bed->problem);
  g_assert_cmpfloat_with_epsilon (bed->area.value, area, 1e-9);
  g_assert_cmpfloat (bed->area.sd, >, 0);
  g_assert_cmpfloat (bed->area.sd, <, 0.02 * area);
}

/* One file holds it all: what the drawing was brought in from may go. */
static void
test_kept (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(BlImage) image = NULL;
  g_autofree char *before = yard_dump (fixture->design), *after = NULL;
  const BlModel *model;

  yard_assert_sound (fixture->design);
  assert_size (fixture, 40);
  g_clear_object (&fixture->design);
  fixture->design = bl_design_open (fixture->path, &error);
  g_assert_no_error (error);
  after = yard_dump (fixture->design);
  g_assert_cmpstr (before, ==, after);
  model = bl_design_get_model (fixture->design);
  g_assert_cmpstr (model->drawing.name, ==, "plan.svg");
  g_assert_cmpint (model->drawing.width, ==, 4096);
  g_assert_cmpint (model->drawing.height, ==, 1024);
  bytes = bl_design_drawing_bytes (fixture->design, &error);
  g_assert_no_error (error);
  image = bl_image_decode (bytes, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (image->width, ==, 4096);
  assert_size (fixture, 40);
}

/* The bed follows the scale; where it stands on the paper does not change. */
static void
test_rescaled (Fixture      *fixture,
               gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  BlDrawing drawing = bl_design_get_model (fixture->design)->drawing;

  drawing.length = 20;
  drawing.place = BL_POINT (3, 4);
  yard_begin (fixture->design, "Change the known length");
  g_assert_true (bl_design_put_drawing_info (fixture->design, &drawing, &error));
  yard_commit (fixture->design);
  assert_size (fixture, 10);
  yard_assert_sound (fixture->design);
  g_assert_cmpfloat_with_epsilon (bl_points_at (bed_of (fixture)->ground->points, 0).x,
                                  3 + 5 / 2.0, 1e-9);
  g_assert_true (bl_design_undo (fixture->design, &error));
  assert_size (fixture, 40);
  g_assert_true (bl_design_redo (fixture->design, &error));
  assert_size (fixture, 10);
}

static void
test_undone (Fixture      *fixture,
             gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *whole = yard_dump (fixture->design), *again = NULL;
  const BlModel *model;

  g_assert_true (bl_design_go_to (fixture->design, 1, &error));
  model = bl_design_get_model (fixture->design);
  g_assert_cmpint (model->drawing.width, ==, 4096);
  g_assert_false (model->drawing_camera.scaled);
  g_assert_true (bl_design_undo (fixture->design, &error));
  model = bl_design_get_model (fixture->design);
  g_assert_cmpint (model->drawing.width, ==, 0);
  g_assert_null (bl_model_camera_of (model, BL_FROM_DRAWING));
  g_assert_null (bl_design_drawing_bytes (fixture->design, &error));
  g_assert_no_error (error);
  yard_assert_sound (fixture->design);
  while (bl_design_redo_label (fixture->design) != NULL)
    g_assert_true (bl_design_redo (fixture->design, &error));
  again = yard_dump (fixture->design);
  g_assert_cmpstr (whole, ==, again);
  yard_assert_sound (fixture->design);
}

static void
test_removed (Fixture      *fixture,
              gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) breaches = NULL;

  yard_begin (fixture->design, "Take the base drawing away");
  g_assert_true (bl_design_remove_drawing (fixture->design, &error));
  yard_commit (fixture->design);
  g_assert_nonnull (strstr (bed_of (fixture)->problem, "no base drawing"));
  g_assert_null (bed_of (fixture)->ground);
  yard_assert_sound (fixture->design);
  g_assert_true (bl_design_undo (fixture->design, &error));
  assert_size (fixture, 40);
  g_clear_object (&fixture->design);
  breaches = bl_design_verify (fixture->path, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (breaches->len, ==, 0);
}

/* Without its length the bed waits and says for what. */
static void
test_waiting (Fixture      *fixture,
              gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  BlDrawing drawing = bl_design_get_model (fixture->design)->drawing;

  drawing.length = 0;
  yard_begin (fixture->design, "Forget the length");
  g_assert_true (bl_design_put_drawing_info (fixture->design, &drawing, &error));
  yard_commit (fixture->design);
  g_assert_nonnull (strstr (bed_of (fixture)->problem, "No length is known on the base drawing"));
}

static void
test_refused (Fixture      *fixture,
              gconstpointer data)
{
  static const char outside[] = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'>"
                                "<use href='/etc/passwd#x'/></svg>";
  g_autoptr(GBytes) bytes = g_bytes_new_static (outside, sizeof outside - 1);
  g_autoptr(GError) error = NULL;
  g_autofree char *before = yard_dump (fixture->design), *after = NULL;
  BlDrawing drawing = bl_design_get_model (fixture->design)->drawing;

  yard_begin (fixture->design, "Bring in a base drawing");
  g_assert_false (bl_design_put_drawing (fixture->design, bytes, "bad.svg", &error));
  yard_assert_error (&error, BL_ERROR_FILE, "outside itself");
  drawing.ends[1] = drawing.ends[0];
  yard_begin (fixture->design, "State the drawing's known length");
  g_assert_false (bl_design_put_drawing_info (fixture->design, &drawing, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "same spot");
  after = yard_dump (fixture->design);
  g_assert_cmpstr (before, ==, after);
}

static void
test_sheet (Fixture      *fixture,
            gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *sheet = bl_sheet_write (fixture->design, &error);
  g_autofree char *svg = yard_path (fixture->folder, "plan.svg");
  g_autofree char *again = NULL, *first = yard_dump (fixture->design), *second = NULL;
  g_autoptr(BlDesign) drafted = NULL;

  g_assert_no_error (error);
  g_assert_nonnull (strstr (sheet, "\"outline_drawing\""));
  g_assert_true (g_file_set_contents (svg, plan, -1, &error));
  drafted = bl_sheet_draft (sheet, -1, fixture->folder, NULL, NULL, &error);
  g_assert_no_error (error);
  again = bl_sheet_write (drafted, &error);
  g_assert_cmpstr (sheet, ==, again);
  second = yard_dump (drafted);
  g_assert_cmpstr (first, ==, second);
}

static void
test_sheet_refused (void)
{
  static const struct { const char *drawing, *says; } bad[] = {
    { "{}", "drawing: needs a file" },
    { "{ \"width\": 100, \"height\": 100, \"px\": [[1,1],[50,1]] }", "drawing: needs px" },
    { "{ \"width\": 100, \"height\": 100, \"px\": [[1,1]], \"length\": 3 }", "drawing.px: must be the two" },
    { "{ \"width\": 100, \"height\": 100, \"px\": [[1,1],[1,1]], \"length\": 3 }", "same spot" },
    { "{ \"width\": 100, \"height\": 100, \"scale\": 3 }", "scale" },
    { "{ \"file\": \"../plan.svg\" }", "drawing.file: must name a file in" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autofree char *sheet
          = g_strdup_printf ("{ \"design_sheet\": 1, \"drawing\": %s }", bad[i].drawing);
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = bl_sheet_draft (sheet, -1, "/tmp", NULL, NULL, &error);

      g_assert_null (design);
      yard_assert_error (&error, BL_ERROR_INPUT, bad[i].says);
    }
}

int
main (int   argc,
      char *argv[])
{
  int result;

  g_test_init (&argc, &argv, NULL);
#define ADD(name, function) g_test_add ("/drawing/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("kept", test_kept);
  ADD ("rescaled", test_rescaled);
  ADD ("undone", test_undone);
  ADD ("removed", test_removed);
  ADD ("waiting", test_waiting);
  ADD ("refused", test_refused);
  ADD ("sheet", test_sheet);
  g_test_add_func ("/drawing/sheet-refused", test_sheet_refused);
  result = g_test_run ();
  yard_end ();
  return result;
}
