/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands that write papers: proposal, crew pack, plan, care sheet, before and after. */
#include "command.h"

#include <glib/gstdio.h>
#include <string.h>

#include "base/error.h"
#include "base/file.h"
#include "photo/image.h"
#include "proposal/mark.h"
#include "proposal/proposal.h"

#define MARK_TOO_LARGE "“%s” is larger than 2 MB; save the mark smaller first."

typedef enum { PROPOSAL, CREW, PLAN, CARE_SHEET, BEFORE_AFTER } Paper;

/* What can be wished for; each paper takes what concerns it. */
typedef struct
{
  char *output, *names, *paper, *language, *units, *pages, *setout, *mark, *designer;
  gboolean detailed;
  int width;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->output);
  g_free (wishes->names);
  g_free (wishes->paper);
  g_free (wishes->language);
  g_free (wishes->units);
  g_free (wishes->pages);
  g_free (wishes->setout);
  g_free (wishes->mark);
  g_free (wishes->designer);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

static gboolean
refuse (GError **error, const char *sentence, const char *text)
{
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "“%s” %s", text, sentence);
  return FALSE;
}

static gboolean
read_pages (const char *text, BlProposalPages *pages, GError **error)
{
  g_auto (GStrv) names = g_strsplit (text, ",", -1);

  for (guint i = 0; names[i] != NULL; i++)
    {
      BlProposalPages page = bl_proposal_page_named (g_strstrip (names[i]));

      if (page == 0)
        return refuse (error,
                       "is no page of the proposal; write cover, place, alternatives, seasons, "
                       "compare, schedule, estimate, care or cautions, with commas between.",
                       names[i]);
      *pages |= page;
    }
  return TRUE;
}

static gboolean
read_setout (const char *text, BlSetoutWays *ways, GError **error)
{
  *ways = strcmp (text, "tapes") == 0       ? BL_SETOUT_TAPES
          : strcmp (text, "baseline") == 0 ? BL_SETOUT_OFFSETS
          : strcmp (text, "both") == 0     ? BL_SETOUT_TAPES | BL_SETOUT_OFFSETS
                                           : 0;
  return *ways != 0
         || refuse (error, "is no way of setting out; write tapes, baseline or both.", text);
}

static gboolean
read_choices (const Wishes *wishes, BlProposalOptions *options, GError **error)
{
  const char *language = wishes->language, *units = wishes->units;

  if (wishes->paper != NULL && !bl_paper_from_name (wishes->paper, &options->paper))
    return refuse (error, "is not a paper size; write Letter, Tabloid, A4 or A3.", wishes->paper);
  if (language != NULL && strcmp (language, "en") != 0 && strcmp (language, "es") != 0)
    return refuse (error, "is no language of the papers; write en or es.", language);
  if (units != NULL && strcmp (units, "ft") != 0 && strcmp (units, "m") != 0)
    return refuse (error, "is no unit of the papers; write ft or m.", units);
  if (wishes->pages != NULL && !read_pages (wishes->pages, &options->pages, error))
    return FALSE;
  if (wishes->setout != NULL && !read_setout (wishes->setout, &options->setout, error))
    return FALSE;
  options->language = language;
  options->units = units;
  options->designer = wishes->designer;
  options->detailed = wishes->detailed;
  options->today = bl_day_today ();
  return TRUE;
}

static gboolean
read_alternatives (const Wishes *wishes, const BlModel *model, Paper paper, GArray *ids,
                   BlProposalOptions *options, GError **error)
{
  g_auto (GStrv) names = g_strsplit (wishes->names != NULL ? wishes->names : "", ",", -1);
  const BlAlternative *alternative;

  for (guint i = 0; names[i] != NULL; i++)
    {
      alternative = bl_command_alternative (model, g_strstrip (names[i]), error);
      if (alternative == NULL)
        return FALSE;
      g_array_append_val (ids, alternative->id);
    }
  if (ids->len == 0 && paper != PROPOSAL)
    {
      alternative = bl_command_alternative (model, NULL, error);
      if (alternative == NULL)
        return FALSE;
      g_array_append_val (ids, alternative->id);
    }
  options->alternatives = ids->len > 0 ? (const gint64 *) (const void *) ids->data : NULL;
  options->n_alternatives = paper == PROPOSAL ? ids->len : MIN (ids->len, 1);
  return TRUE;
}

/* The designer's mark, told apart from a bad path before anything is written. */
static gboolean
read_mark (const char *path, GBytes **mark, GError **error)
{
  g_autoptr (BlMark) read = NULL;
  GStatBuf info;
  char *bytes = NULL;
  gsize length = 0;

  if (path == NULL)
    return TRUE;
  if (g_stat (path, &info) == 0 && S_ISREG (info.st_mode) && info.st_size > BL_MARK_MAX_BYTES)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, MARK_TOO_LARGE, path);
      return FALSE;
    }
  if (!bl_file_read (path, BL_MARK_MAX_BYTES, &bytes, &length, NULL))
    return refuse (error, "can't be read as the designer's mark; name a PNG, JPEG or SVG file.", path);
  *mark = g_bytes_new_take (bytes, length);
  read = bl_mark_read (*mark, error);
  return read != NULL;
}

static gboolean
write_it (Paper paper, BlModel *model, GBytes *photo, const Wishes *wishes,
          const BlProposalOptions *options, GError **error)
{
  switch (paper)
    {
    case CREW:
      return bl_crew_write (model, photo, wishes->output, options, error);
    case PLAN:
      return bl_plan_write (model, wishes->output, options, error);
    case CARE_SHEET:
      return bl_care_sheet_write (model, wishes->output, options, error);
    case BEFORE_AFTER:
      return bl_before_after_write (model, photo, wishes->output, wishes->width, options, error);
    case PROPOSAL:
    default:
      return bl_proposal_write (model, photo, wishes->output, options, error);
    }
}

/* Reads what the paper is about, and writes it. */
static int
write_paper (Paper paper, const char *file, const Wishes *wishes, GError **error)
{
  g_autoptr (BlDesign) design = NULL;
  g_autoptr (BlLibrary) library = NULL;
  g_autoptr (GBytes) photo = NULL;
  g_autoptr (GBytes) mark = NULL;
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GError) local = NULL;
  BlProposalOptions options = { .paper = BL_PAPER_LETTER };
  BlModel *model;

  if (wishes->output == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "say where to write it: -o %s.",
                   paper == BEFORE_AFTER ? "X.png" : "X.pdf");
      return BL_EXIT_INPUT;
    }
  if (!read_choices (wishes, &options, error) || !read_mark (wishes->mark, &mark, error))
    return BL_EXIT_INPUT;
  options.mark = mark;
  design = bl_command_open (file, error);
  if (design == NULL)
    return BL_EXIT_INPUT;
  model = bl_design_get_model (design);
  if (!read_alternatives (wishes, model, paper, ids, &options, error))
    return BL_EXIT_INPUT;
  library = bl_command_library (error);
  photo = library != NULL ? bl_design_photo_bytes (design, &local) : NULL;
  if (local != NULL)
    g_propagate_error (error, g_steal_pointer (&local));
  if (library == NULL || *error != NULL)
    return BL_EXIT_INPUT;
  options.library = library;
  return write_it (paper, model, photo, wishes, &options, error) ? BL_EXIT_DONE : BL_EXIT_INPUT;
}

static int
run_paper (Paper paper, int argc, char **argv, GError **error)
{
  static const char *const names[] = { "proposal", "crew", "plan", "care-sheet", "before-after" };
  g_auto (Wishes) wishes = { .width = 2400 };
  int proposal = paper == PROPOSAL ? 0 : G_OPTION_FLAG_HIDDEN;
  int crew = paper == CREW ? 0 : G_OPTION_FLAG_HIDDEN;
  int printed = paper != BEFORE_AFTER ? 0 : G_OPTION_FLAG_HIDDEN;
  int picture = paper == BEFORE_AFTER ? 0 : G_OPTION_FLAG_HIDDEN;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &wishes.output, "The file to write", "FILE" },
    { "alternative", 0, 0, G_OPTION_ARG_STRING, &wishes.names,
      paper == PROPOSAL ? "By name, commas between" : "By name", "A" },
    { "language", 0, 0, G_OPTION_ARG_STRING, &wishes.language, "en or es", "LANG" },
    { "paper", 0, printed, G_OPTION_ARG_STRING, &wishes.paper, "Letter, Tabloid, A4 or A3", "SIZE" },
    { "units", 0, printed, G_OPTION_ARG_STRING, &wishes.units, "ft or m", "UNIT" },
    { "designer", 0, printed, G_OPTION_ARG_STRING, &wishes.designer,
      "Whose name stands where the design has none", "NAME" },
    { "pages", 0, proposal, G_OPTION_ARG_STRING, &wishes.pages, "Only these, commas between",
      "PAGES" },
    { "detailed", 0, proposal, G_OPTION_ARG_NONE, &wishes.detailed, "Every line of the estimate",
      NULL },
    { "mark", 0, proposal, G_OPTION_ARG_FILENAME, &wishes.mark, "The designer's mark, on the cover",
      "FILE" },
    { "setout", 0, crew, G_OPTION_ARG_STRING, &wishes.setout, "tapes, baseline or both", "WAY" },
    { "width", 0, picture, G_OPTION_ARG_INT, &wishes.width, "Pixels", "PX" },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find (names[paper]), entries, 1, error))
    return BL_EXIT_INPUT;
  return write_paper (paper, argv[1], &wishes, error);
}

int
bl_command_proposal (int argc, char **argv, GError **error)
{
  return run_paper (PROPOSAL, argc, argv, error);
}

int
bl_command_crew (int argc, char **argv, GError **error)
{
  return run_paper (CREW, argc, argv, error);
}

int
bl_command_plan (int argc, char **argv, GError **error)
{
  return run_paper (PLAN, argc, argv, error);
}

int
bl_command_care_sheet (int argc, char **argv, GError **error)
{
  return run_paper (CARE_SHEET, argc, argv, error);
}

int
bl_command_before_after (int argc, char **argv, GError **error)
{
  return run_paper (BEFORE_AFTER, argc, argv, error);
}
