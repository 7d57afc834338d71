/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person's own plants as CSV: taken over whole, or not at all. */
#include "fuzz.h"

#include <glib/gstdio.h>
#include <string.h>

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autofree char *own = g_build_filename (fuzz_folder (), "own.db", NULL);
  g_autofree char *path = bl_library_default_path ();
  g_autofree char *csv = NULL, *csv_again = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlLibrary) library = NULL;
  guint n = 0;

  library = bl_library_open (path, own, &error);
  g_assert_no_error (error);
  if (bl_library_import_own (library, (const char *) data, size, &n, &error))
    {
      csv = bl_library_export_own (library, &error);
      g_assert_no_error (error);
      g_assert_true (bl_library_import_own (library, csv, strlen (csv), NULL, &error));
      csv_again = bl_library_export_own (library, &error);
      g_assert_no_error (error);
      g_assert_cmpstr (csv, ==, csv_again);
    }
  else
    fuzz_check_error (error);
  g_unlink (own);
  return 0;
}
