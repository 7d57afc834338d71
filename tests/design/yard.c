/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small library, a small design and a folder of its own for each test of design files. */
#include "yard.h"

#include <sys/wait.h>
#include <unistd.h>

const char *const yard_slugs[YARD_PLANTS] = {
  "carex-pensylvanica", "echinacea-purpurea", "nepeta-x-faassenii", "schizachyrium-scoparium",
};

static BlLibrary *library;
static char *library_folder;

char *
yard_folder (void)
{
  g_autoptr(GError) error = NULL;
  char *folder = g_dir_make_tmp ("bedline-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

char *
yard_path (const char *folder,
           const char *name)
{
  return g_build_filename (folder, name, NULL);
}

void
yard_copy_file (const char *from,
                const char *to)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *bytes = NULL;
  gsize length = 0;

  g_assert_true (g_file_get_contents (from, &bytes, &length, &error));
  g_assert_true (g_file_set_contents_full (to, bytes, (gssize) length, G_FILE_SET_CONTENTS_NONE, 0666,
                                           &error));
  g_assert_no_error (error);
}

void
yard_remove_folder (char *folder)
{
  g_autoptr(GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = yard_path (folder, name);

      if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        yard_remove_folder (g_strdup (path));
      else
        g_unlink (path);
    }
  g_rmdir (folder);
  g_free (folder);
}

BlLibrary *
yard_library (void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *records = g_test_build_filename (G_TEST_DIST, "design", "few.plants", NULL);
  const char *files[] = { records, NULL };
  g_autofree char *database = NULL;

  if (library != NULL)
    return library;
  library_folder = yard_folder ();
  database = yard_path (library_folder, "few.db");
  bl_library_compile (files, database, &error);
  g_assert_no_error (error);
  library = bl_library_open (database, NULL, &error);
  g_assert_no_error (error);
  return library;
}

void
yard_end (void)
{
  g_clear_pointer (&library, bl_library_free);
  g_clear_pointer (&library_folder, yard_remove_folder);
}

void
yard_put_plants (BlDesign *design)
{
  g_autoptr(GError) error = NULL;

  for (guint i = 0; i < YARD_PLANTS; i++)
    {
      g_autoptr(BlPlant) plant = bl_library_get (yard_library (), yard_slugs[i], &error);

      g_assert_no_error (error);
      g_assert_true (bl_design_put_plant (design, plant, &error));
      g_assert_no_error (error);
    }
}

static BlOutline *
square (double x,
        double y,
        double side)
{
  BlPoints *points = bl_points_new ();

  bl_points_add (points, BL_POINT (x, y));
  bl_points_add (points, BL_POINT (x + side, y));
  bl_points_add (points, BL_POINT (x + side, y + side));
  bl_points_add (points, BL_POINT (x, y + side));
  return bl_outline_new_take (points, TRUE);
}

gint64
yard_put_bed (BlDesign   *design,
              const char *name,
              double      x,
              double      y,
              double      side)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlBed) bed = bl_bed_new ();

  g_free (bed->name);
  bed->name = g_strdup (name);
  bed->outline = square (x, y, side);
  bed->mulch_depth = 0.0762;
  bl_design_put_bed (design, bed, &error);
  g_assert_no_error (error);
  return bed->id;
}

gint64
yard_put_alternative (BlDesign   *design,
                      const char *name)
{
  g_autoptr(GError) error = NULL;
  BlAlternative alternative = { .name = (char *) name, .position = -1 };

  bl_design_put_alternative (design, &alternative, &error);
  g_assert_no_error (error);
  return alternative.id;
}

gint64
yard_put_specimen (BlDesign   *design,
                   gint64      alternative,
                   gint64      bed,
                   const char *slug,
                   double      x,
                   double      y)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlPlanting) planting = bl_planting_new ();

  planting->alternative_id = alternative;
  planting->bed_id = bed;
  planting->slug = g_strdup (slug);
  planting->form = BL_PLANTING_SPECIMEN;
  planting->shape = bl_outline_new ();
  bl_points_add (planting->shape->points, BL_POINT (x, y));
  bl_design_put_planting (design, planting, &error);
  g_assert_no_error (error);
  return planting->id;
}

static void
put_form (BlDesign      *design,
          gint64         alternative,
          gint64         bed,
          BlPlantingForm form,
          BlOutline     *shape)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlPlanting) planting = bl_planting_new ();

  planting->alternative_id = alternative;
  planting->bed_id = bed;
  planting->slug = g_strdup (yard_slugs[form]);
  planting->form = form;
  planting->shape = shape;
  planting->spacing = form == BL_PLANTING_ROW ? 0.4572 : 0;
  planting->square = form == BL_PLANTING_DRIFT;
  planting->group = 3;
  planting->note
      = g_strdup (form == BL_PLANTING_FILL ? "after the “others”, \\ and a tab\there" : NULL);
  bl_design_put_planting (design, planting, &error);
  g_assert_no_error (error);
}

static void
fill_money_and_care (BlDesign *design,
                     gint64    alternative)
{
  g_autoptr(GError) error = NULL;
  BlOverride override = { .alternative_id = alternative,
                          .line = (char *) "mulch-bulk",
                          .field = (char *) "quantity",
                          .value = 1.25,
                          .note = (char *) "as delivered" };
  BlCareMark mark
      = { .uid = (char *) "cut-back/2027", .done = bl_day (2027, 3, 14), .dropped = TRUE };
  BlOwnTask task = {
    .title = (char *) "Meet the caretaker", .day = bl_day (2026, 9, 1), .yearly = TRUE, .hours = 0.5
  };
  BlPriceItem item = { .key = (char *) "mulch-bulk",
                       .kind = BL_PRICE_MATERIAL,
                       .name = (char *) "Our bark",
                       .unit = (char *) "m3",
                       .price = 4711,
                       .amount = 0.5,
                       .supplier = (char *) "the yard" };

  g_assert_true (bl_design_put_override (design, &override, &error));
  g_assert_true (bl_design_put_care_mark (design, &mark, &error));
  g_assert_true (bl_design_put_own_task (design, &task, &error));
  g_assert_true (bl_design_put_price_item (design, &item, &error));
  g_assert_no_error (error);
}

void
yard_fill (BlDesign *design)
{
  g_autoptr(GError) error = NULL;
  BlPoints *line = bl_points_new ();
  BlOutline *row;
  gint64 bed, a;

  yard_begin (design, "Name the design");
  g_assert_true (bl_design_put_text (design, "title", "Walk strip", &error));
  g_assert_true (bl_design_put_text (design, "planting_day", "2026-05-18", &error));
  yard_put_plants (design);
  bed = yard_put_bed (design, "Strip", 0, 0, 6);
  yard_commit (design);

  yard_begin (design, "Plant A");
  a = yard_put_alternative (design, "A");
  yard_put_alternative (design, "B");
  yard_put_specimen (design, a, bed, yard_slugs[1], 1.1, 1.3);
  bl_points_add (line, BL_POINT (0.5, 0.5));
  bl_points_add (line, BL_POINT (5.5, 0.7));
  row = bl_outline_new_take (line, FALSE);
  row->open = TRUE;
  put_form (design, a, bed, BL_PLANTING_ROW, row);
  put_form (design, a, bed, BL_PLANTING_DRIFT, square (2, 2, 1.5));
  put_form (design, a, bed, BL_PLANTING_FILL, NULL);
  yard_commit (design);

  yard_begin (design, "Say what it costs");
  fill_money_and_care (design, a);
  yard_commit (design);
}

void
yard_begin (BlDesign   *design,
            const char *label)
{
  g_autoptr(GError) error = NULL;
  gboolean ok = bl_design_begin (design, label, &error);

  g_assert_no_error (error);
  g_assert_true (ok);
}

void
yard_commit (BlDesign *design)
{
  g_autoptr(GError) error = NULL;
  gboolean ok = bl_design_commit (design, &error);

  g_assert_no_error (error);
  g_assert_true (ok);
}

void
yard_assert_sound (BlDesign *design)
{
  g_autoptr(GPtrArray) breaches = bl_design_check (design);

  if (breaches->len > 0)
    g_error ("%s", (const char *) g_ptr_array_index (breaches, 0));
}

char *
yard_dump (BlDesign *design)
{
  return bl_model_dump (bl_design_get_model (design), TRUE);
}

void
yard_assert_error (GError    **error,
                   int         code,
                   const char *part)
{
  g_assert_error (*error, BL_ERROR, code);
  if (strstr ((*error)->message, part) == NULL)
    g_error ("“%s” does not say “%s”", (*error)->message, part);
  g_clear_error (error);
}

void
yard_without_rights (void       (*work) (const char *path, const char *part),
                     const char  *path,
                     const char  *part)
{
  int status = 0;
  pid_t child = fork ();

  if (child == 0)
    {
      if (geteuid () == 0 && setresuid (65534, 65534, 65534) != 0)
        _exit (1);
      work (path, part);
      _exit (0);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);
}
