/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line: the table of commands and what they share. */
#include "command.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "base/file.h"

#define MAX_TEXT (32 * 1024 * 1024) /* bytes of a sheet or a table */

static const BlCommand commands[] = {
  { "draft", "SHEET -o FILE", "builds a design file from a design sheet", bl_command_draft },
  { "sheet", "FILE [-o SHEET]", "writes the design sheet of a design", bl_command_sheet },
  { "measure", "SHEET|FILE [--json]", "the camera, and every bed's area and perimeter",
    bl_command_measure },
  { "takeoff", "FILE [--alternative A] [--json]", "counts, materials, hours and cost",
    bl_command_takeoff },
  { "fit", "FILE [--alternative A] [--json]", "what will not do well or do harm, and substitutes",
    bl_command_fit },
  { "order", "FILE -o X.csv [--alternative A] [--request]",
    "the order list, or a request to nurseries", bl_command_order },
  { "prices", "[FILE] [-o X.csv] [--take X.csv] [--keep]",
    "the price book of a design or the firm", bl_command_prices },
  { "water", "FILE --eto MM,... | --temperatures LOW/HIGH,... [--json]",
    "a year's water by the Californian ordinance's method", bl_command_water },
  { "calendar", "FILE -o X.ics|X.csv [--alternative A]", "the care calendar",
    bl_command_calendar },
  { "picture", "FILE -o X.png|X.svg|X.pdf [--view photo|plan] [--month 1-12] [--year N]",
    "one scene as a picture", bl_command_picture },
  { "seasons", "FILE -o FOLDER [--alternative A]", "pictures of twelve months and of the years",
    bl_command_seasons },
  { "proposal", "FILE -o X.pdf [--alternative A,B,C] [--pages P,P] [--paper A4] [--mark X.svg]",
    "the client's proposal", bl_command_proposal },
  { "crew", "FILE -o X.pdf [--alternative A] [--language es] [--setout tapes|baseline|both]",
    "the crew pack", bl_command_crew },
  { "plan", "FILE -o X.pdf|X.svg [--alternative A] [--paper Tabloid]",
    "the plan to a stated scale, with its key", bl_command_plan },
  { "care-sheet", "FILE -o X.pdf [--alternative A] [--language es]",
    "one page of care for the owner", bl_command_care_sheet },
  { "before-after", "FILE -o X.png|X.jpg [--alternative A] [--width PX]",
    "the photo as it is and as proposed, side by side", bl_command_before_after },
  { "plants", "[TEXT] [--zone 5b] [--sun full] [--salt] [--json]", "searches the plant library",
    bl_command_plants },
  { "own", "[-o X.csv] [--take X.csv] [--hide KEY] [--show KEY] [--picture FILE --plant KEY]",
    "your own plants as a table, hidden plants, cut-out pictures", bl_command_own },
  { "nursery", "[FILE] [--take X.csv] [--currency CODE] [--forget]",
    "a nursery's prices and stock, and its prices in a design", bl_command_nursery },
  { "verify", "FILE", "integrity of a design file", bl_command_verify },
};

const BlCommand *
bl_command_find (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    if (strcmp (commands[i].name, name) == 0)
      return &commands[i];
  return NULL;
}

int
bl_command_run (const BlCommand *command, int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  int status = command->run (argc, argv, &error);

  if (error != NULL)
    {
      fprintf (stderr, "bedline %s: %s\n", command->name, error->message);
      return BL_EXIT_INPUT;
    }
  return status;
}

void
bl_command_print_help (void)
{
  printf ("Usage:\n  bedline [FILE]    opens the studio\n");
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    printf ("  bedline %s %s\n      %s\n", commands[i].name, commands[i].arguments,
            commands[i].summary);
  printf ("\nExit status: 0 done; 1 done, but a check reports something wrong; 2 bad input.\n"
          "`bedline COMMAND --help` shows a command's options.\n");
}

gboolean
bl_command_parse (int *argc, char ***argv, const BlCommand *command, const GOptionEntry *entries,
                  int n_files, GError **error)
{
  g_autofree char *usage = g_strdup_printf ("%s - %s", command->arguments, command->summary);
  g_autoptr (GOptionContext) context = g_option_context_new (usage);
  g_autoptr (GError) local = NULL;

  if (entries != NULL)
    g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, argc, argv, &local))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "%s; see `bedline %s --help`.",
                   local->message, command->name);
      return FALSE;
    }
  if (n_files >= 0 && *argc - 1 != n_files)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "%s argument%s expected, %d given; usage: bedline %s %s",
                   n_files == 1 ? "one" : "no", n_files == 1 ? "" : "s", *argc - 1,
                   command->name, command->arguments);
      return FALSE;
    }
  return TRUE;
}

BlLibrary *
bl_command_library (GError **error)
{
  g_autofree char *path = bl_library_default_path ();
  g_autofree char *own = bl_library_own_path ();

  return bl_library_open (path, own, error);
}

/* A design file begins with SQLite's magic, a sheet with a brace. The look is over before the
 * database is opened, so that no lock of ours can be dropped by it. */
static gboolean
looks_like_sheet (const char *path)
{
  char head[64] = "";
  GStatBuf info;
  FILE *file = NULL;
  gsize n;

  /* A pipe would keep us waiting. */
  if (g_stat (path, &info) == 0 && S_ISREG (info.st_mode))
    file = fopen (path, "rb");
  if (file == NULL)
    return FALSE;
  n = fread (head, 1, sizeof head - 1, file);
  fclose (file);
  if (n >= 3 && memcmp (head, "\xEF\xBB\xBF", 3) == 0)
    return TRUE;
  for (gsize i = 0; i < n; i++)
    if (!g_ascii_isspace (head[i]))
      return head[i] == '{';
  return FALSE;
}

gboolean
bl_command_read (const char *path, char **text, gsize *length, GError **error)
{
  return bl_file_read (path, MAX_TEXT, text, length, error);
}

BlDesign *
bl_command_open (const char *path, GError **error)
{
  g_autofree char *text = NULL;
  g_autofree char *folder = NULL;
  g_autoptr (BlLibrary) library = NULL;
  g_autoptr (BlDesign) design = NULL;
  gsize length;

  if (!looks_like_sheet (path))
    return bl_design_open (path, error);
  if (!bl_command_read (path, &text, &length, error))
    return NULL;
  library = bl_command_library (error);
  if (library == NULL)
    return NULL;
  folder = g_path_get_dirname (path);
  design = bl_sheet_draft (text, (gssize) length, folder, library, NULL, error);
  if (design == NULL || !bl_command_use_firm_prices (design, error))
    return NULL;
  return g_steal_pointer (&design);
}

gboolean
bl_command_put_prices (BlDesign *design, const BlPriceBook *book, GError **error)
{
  return bl_design_begin (design, "Take a price book", error)
         && bl_design_put_price_book (design, book, error) && bl_design_commit (design, error);
}

gboolean
bl_command_use_firm_prices (BlDesign *design, GError **error)
{
  const BlModel *model = bl_design_get_model (design);
  g_autofree char *path = bl_price_book_firm_path ();
  g_autofree char *currency = NULL;
  g_autoptr (BlPriceBook) start = bl_price_book_defaults (), firm = NULL;
  g_autoptr (GError) local = NULL;

  if (!bl_price_book_equal (model->prices, start))
    return TRUE;
  firm = bl_price_book_load_firm (path, &currency, &local);
  if (local != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&local));
      return FALSE;
    }
  if (firm == NULL || g_strcmp0 (currency, model->currency) != 0)
    return TRUE;
  return bl_command_put_prices (design, firm, error);
}

const BlAlternative *
bl_command_alternative (const BlModel *model, const char *name, GError **error)
{
  g_autoptr (GString) names = NULL;
  const BlAlternative *found;

  if (model->alternatives->len == 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                   "this design has no alternative yet; add one with its plantings first.");
      return NULL;
    }
  if (name == NULL)
    return g_ptr_array_index (model->alternatives, 0);
  found = bl_model_alternative_named (model, name);
  if (found != NULL)
    return found;
  names = g_string_new (NULL);
  for (guint i = 0; i < model->alternatives->len; i++)
    g_string_append_printf (names, "%s“%s”", i > 0 ? ", " : "",
                            ((BlAlternative *) model->alternatives->pdata[i])->name);
  g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
               "there is no alternative “%s”; this design has %s.", name, names->str);
  return NULL;
}

gboolean
bl_command_write (const char *path, const char *text, gssize length, GError **error)
{
  gsize n = length < 0 ? strlen (text) : (gsize) length;

  if (path != NULL && strcmp (path, "-") != 0)
    return g_file_set_contents (path, text, (gssize) n, error);
  if (fwrite (text, 1, n, stdout) != n || fflush (stdout) != 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FAILED, "standard output can't be written to.");
      return FALSE;
    }
  return TRUE;
}

char *
bl_command_json (void *json_node_take)
{
  g_autoptr (JsonNode) node = json_node_take;
  g_autofree char *text = json_to_string (node, TRUE);

  return g_strconcat (text, "\n", NULL);
}

char *
bl_command_suffix (const char *path)
{
  const char *dot = path != NULL ? strrchr (path, '.') : NULL;

  return g_ascii_strdown (dot != NULL && strchr (dot, '/') == NULL ? dot : "", -1);
}
