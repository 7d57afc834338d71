/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Compiles plant record files to the database: bl-compile-plants DATABASE [FILE.plants]... */
#include <stdlib.h>

#include "plants/library.h"

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  if (argc < 2)
    {
      g_printerr ("usage: bl-compile-plants DATABASE [FILE.plants]...\n");
      return 2;
    }
  if (bl_library_compile ((const char *const *) argv + 2, argv[1], &error))
    return EXIT_SUCCESS;
  g_printerr ("bl-compile-plants: %s\n", error->message);
  return EXIT_FAILURE;
}
