/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small design file with every table filled, and what is done to a damaged one. */
#include "design-base.h"

#include <glib/gstdio.h>

#include "design/sheet.h"
#include "fuzz.h"

static void
edit (BlDesign   *design,
      const char *name,
      const char *value)
{
  g_autoptr (GError) error = NULL;
  gboolean done = bl_design_begin (design, name, &error)
                  && bl_design_put_text (design, name, value, &error) && bl_design_commit (design, &error);

  g_assert_no_error (error);
  g_assert_true (done);
}

static GBytes *
make_base (void)
{
  g_autofree char *path = g_build_filename (fuzz_folder (), "base.bedline", NULL);
  g_autofree char *sheet = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlDesign) design = NULL;
  char *bytes = NULL;
  gsize size;

  g_file_get_contents (FUZZ_BASE, &sheet, NULL, &error);
  g_assert_no_error (error);
  design = bl_sheet_draft (sheet, -1, NULL, fuzz_library (), path, &error);
  g_assert_no_error (error);
  edit (design, "title", "Second title");
  edit (design, "notes", "Water well.");
  edit (design, "title", "Third title");
  g_assert_true (bl_design_undo (design, NULL));
  g_clear_object (&design);
  g_assert_true (g_file_get_contents (path, &bytes, &size, NULL));
  g_unlink (path);
  return g_bytes_new_take (bytes, size);
}

GBytes *
design_base (void)
{
  static GBytes *base = NULL;

  if (base == NULL)
    base = make_base ();
  return base;
}

void
design_base_use (const char *path)
{
  g_autoptr (GError) error = NULL, second = NULL;
  g_autoptr (BlDesign) design = bl_design_open (path, &error);
  g_autoptr (GPtrArray) verified = NULL, breaches = NULL, history = NULL;
  g_autofree char *sheet = NULL;

  if (design == NULL)
    {
      fuzz_check_error (error);
      return;
    }
  breaches = bl_design_check (design);
  sheet = bl_sheet_write (design, NULL);
  history = bl_design_history (design, NULL);
  for (int i = 0; i < 4 && bl_design_undo (design, NULL); i++)
    ;
  for (int i = 0; i < 4 && bl_design_redo (design, NULL); i++)
    ;
  g_clear_object (&design);
  verified = bl_design_verify (path, &second);
  if (verified == NULL)
    fuzz_check_error (second);
}
