/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program: a command without a display, or the studio. */
#include "config.h"

#include <glib/gi18n.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "command.h"
#include "studio/studio.h"

int
main (int argc, char **argv)
{
  const BlCommand *command;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, BL_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);

  if (argc > 1 && strcmp (argv[1], "--version") == 0)
    {
      printf ("bedline %s\n", BL_VERSION);
      return 0;
    }
  if (argc > 1 && (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0))
    {
      bl_command_print_help ();
      return 0;
    }
  command = argc > 1 ? bl_command_find (argv[1]) : NULL;
  if (command != NULL)
    return bl_command_run (command, argc - 1, argv + 1);
  return bl_studio_run (argc, argv);
}
