/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person's own plants as CSV: taken over whole, or not at all. */
#include "fuzz.h"

#include <glib/gstdio.h>
#include <string.h>

/* Opening takes far longer than reading a list, so one library serves until a list is taken over. */
static BlLibrary *
open_library (const char *own)
{
  g_autofree char *path = bl_library_default_path ();
  g_autoptr (GError) error = NULL;
  BlLibrary *library;

  g_unlink (own);
  library = bl_library_open (path, own, &error);
  g_assert_no_error (error);
  return library;
}

static void
check_again (BlLibrary *library)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *csv = bl_library_export_own (library, &error), *csv_again = NULL;

  g_assert_no_error (error);
  g_assert_true (bl_library_import_own (library, csv, strlen (csv), NULL, &error));
  csv_again = bl_library_export_own (library, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (csv, ==, csv_again);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  static BlLibrary *library = NULL;
  static char *nothing = NULL; /* what a library without own plants writes */
  g_autofree char *own = g_build_filename (fuzz_folder (), "own.db", NULL), *left = NULL;
  g_autoptr (GError) error = NULL;

  if (library == NULL)
    library = open_library (own);
  if (nothing == NULL)
    nothing = bl_library_export_own (library, NULL);
  if (bl_library_import_own (library, (const char *) data, size, NULL, &error))
    {
      check_again (library);
      g_clear_pointer (&library, bl_library_free);
      return 0;
    }
  fuzz_check_error (error);
  left = bl_library_export_own (library, NULL);
  g_assert_cmpstr (left, ==, nothing);
  return 0;
}
