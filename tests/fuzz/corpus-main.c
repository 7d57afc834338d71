/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs a fuzz target over every file of a folder, once each, as a unit test. */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int
by_name (gconstpointer a,
         gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* The bytes are copied to a block of exactly their size, so that a sanitizer sees one step beyond. */
static void
run_file (const char *path)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  gsize size;
  uint8_t *exact;

  if (!g_file_get_contents (path, &text, &size, &error))
    g_error ("%s", error->message);
  exact = size > 0 ? g_memdup2 (text, size) : NULL;
  LLVMFuzzerTestOneInput (exact, size);
  g_free (exact);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  GDir *dir;
  const char *name;

  LLVMFuzzerInitialize (&argc, &argv);
  dir = argc > 1 ? g_dir_open (argv[1], 0, NULL) : NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  g_clear_pointer (&dir, g_dir_close);
  g_ptr_array_sort (names, by_name);
  printf ("1..%u\n", names->len + 1);
  printf ("%s 1 there are inputs\n", names->len > 0 ? "ok" : "not ok");
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (argv[1], names->pdata[i], NULL);

      run_file (path);
      printf ("ok %u %s\n", i + 2, (const char *) names->pdata[i]);
      fflush (stdout);
    }
  return names->len > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
