/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands between design sheets and design files: draft, sheet, verify. */
#include "command.h"

#include <stdio.h>

#include "base/error.h"

int
bl_command_draft (int argc, char **argv, GError **error)
{
  g_autofree char *output = NULL;
  g_autofree char *text = NULL;
  g_autofree char *folder = NULL;
  g_autoptr (BlLibrary) library = NULL;
  g_autoptr (BlDesign) design = NULL;
  gsize length;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, "The design file to make", "FILE" }, { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("draft"), entries, 1, error))
    return BL_EXIT_INPUT;
  if (output == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "say where to write the design: -o FILE.");
      return BL_EXIT_INPUT;
    }
  if (!bl_command_read (argv[1], &text, &length, error))
    return BL_EXIT_INPUT;
  library = bl_command_library (error);
  if (library == NULL)
    return BL_EXIT_INPUT;
  folder = g_path_get_dirname (argv[1]);
  design = bl_sheet_draft (text, (gssize) length, folder, library, output, error);
  if (design == NULL || !bl_command_use_firm_prices (design, error))
    return BL_EXIT_INPUT;
  return BL_EXIT_DONE;
}

int
bl_command_sheet (int argc, char **argv, GError **error)
{
  g_autofree char *output = NULL;
  g_autofree char *text = NULL;
  g_autoptr (BlDesign) design = NULL;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, "The sheet to write", "SHEET" }, { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("sheet"), entries, 1, error))
    return BL_EXIT_INPUT;
  design = bl_command_open (argv[1], error);
  if (design == NULL)
    return BL_EXIT_INPUT;
  text = bl_sheet_write (design, error);
  if (text == NULL || !bl_command_write (output, text, -1, error))
    return BL_EXIT_INPUT;
  return BL_EXIT_DONE;
}

int
bl_command_verify (int argc, char **argv, GError **error)
{
  g_autoptr (GPtrArray) problems = NULL;

  if (!bl_command_parse (&argc, &argv, bl_command_find ("verify"), NULL, 1, error))
    return BL_EXIT_INPUT;
  problems = bl_design_verify (argv[1], error);
  if (problems == NULL)
    return BL_EXIT_INPUT;
  for (guint i = 0; i < problems->len; i++)
    printf ("%s\n", (const char *) problems->pdata[i]);
  if (problems->len > 0)
    return BL_EXIT_FOUND;
  printf ("%s: sound; nothing found wrong.\n", argv[1]);
  return BL_EXIT_DONE;
}
