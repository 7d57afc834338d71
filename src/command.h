/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line: every step of the job without a display. */
#pragma once

#include "design/sheet.h"

/* Exit statuses, as the man page states them. */
enum
{
  BL_EXIT_DONE = 0,
  BL_EXIT_FOUND = 1, /* done, but a check reports something wrong */
  BL_EXIT_INPUT = 2  /* bad input: one sentence on standard error */
};

typedef struct
{
  const char *name;
  const char *arguments; /* shown in the help */
  const char *summary;
  int (*run) (int argc, char **argv, GError **error); /* argv[0] is the command's name */
} BlCommand;

/* The command called @name, or NULL: then it is a file for the studio. */
const BlCommand *bl_command_find (const char *name);
/* Runs it and tells errors on standard error. Returns the exit status. */
int bl_command_run (const BlCommand *command, int argc, char **argv);
void bl_command_print_help (void);

int bl_command_draft (int argc, char **argv, GError **error);
int bl_command_sheet (int argc, char **argv, GError **error);
int bl_command_verify (int argc, char **argv, GError **error);
int bl_command_measure (int argc, char **argv, GError **error);
int bl_command_plants (int argc, char **argv, GError **error);
int bl_command_own (int argc, char **argv, GError **error);
int bl_command_nursery (int argc, char **argv, GError **error);
int bl_command_fit (int argc, char **argv, GError **error);
int bl_command_takeoff (int argc, char **argv, GError **error);
int bl_command_water (int argc, char **argv, GError **error);
int bl_command_prices (int argc, char **argv, GError **error);
int bl_command_order (int argc, char **argv, GError **error);
int bl_command_calendar (int argc, char **argv, GError **error);
int bl_command_picture (int argc, char **argv, GError **error);
int bl_command_seasons (int argc, char **argv, GError **error);
int bl_command_proposal (int argc, char **argv, GError **error);
int bl_command_crew (int argc, char **argv, GError **error);
int bl_command_plan (int argc, char **argv, GError **error);
int bl_command_care_sheet (int argc, char **argv, GError **error);
int bl_command_before_after (int argc, char **argv, GError **error);

/* Helpers shared by the commands. */

/* Parses options and leaves the rest in argv; @n_files is how many file arguments are needed. */
gboolean bl_command_parse (int *argc, char ***argv, const BlCommand *command,
                           const GOptionEntry *entries, int n_files, GError **error);
BlLibrary *bl_command_library (GError **error);
/* The whole text of a file that is one, of at most 32 MB. */
gboolean bl_command_read (const char *path, char **text, gsize *length, GError **error);
/* A design file, or a design sheet drafted in memory. */
BlDesign *bl_command_open (const char *path, GError **error);
/* One edit: @book in place of the design's prices. */
gboolean bl_command_put_prices (BlDesign *design, const BlPriceBook *book, GError **error);
/* A design that has only the starting prices takes the firm's own book when there is one and its
 * currency is the design's. */
gboolean bl_command_use_firm_prices (BlDesign *design, GError **error);
/* The alternative called @name, or the first; BL_ERROR_NOT_FOUND names those that exist. */
const BlAlternative *bl_command_alternative (const BlModel *model, const char *name, GError **error);
/* To @path, or to standard output where it is NULL or "-". */
gboolean bl_command_write (const char *path, const char *text, gssize length, GError **error);
/* Pretty printed JSON with a line feed at its end. */
char *bl_command_json (void *json_node_take);
/* The file's ending in lower case, with its dot; "" where there is none. */
char *bl_command_suffix (const char *path);
