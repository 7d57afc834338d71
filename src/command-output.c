/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands that hand numbers over: take-off, fit, order, calendar. */
#include "command.h"

#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "care/care.h"
#include "fit/fit.h"
#include "takeoff/estimate.h"
#include "takeoff/short.h"

/* What most of these commands need: one file, one alternative. */
typedef struct
{
  char *output, *alternative_name;
  gboolean json, request;
  BlDesign *design;
  BlModel *model;                    /* borrowed from the design */
  const BlAlternative *alternative;  /* borrowed from the model */
  BlLayout *layout;
} Job;

static void
job_clear (Job *job)
{
  g_clear_pointer (&job->layout, bl_layout_unref);
  g_clear_object (&job->design);
  g_free (job->output);
  g_free (job->alternative_name);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Job, job_clear)

static gboolean
job_open (Job *job, const char *command, int argc, char **argv, gboolean needs_output,
          GError **error)
{
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &job->output, "The file to write", "FILE" },
    { "alternative", 0, 0, G_OPTION_ARG_STRING, &job->alternative_name, "By name", "A" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &job->json, "Machine-readable", NULL },
    { "request", 0, strcmp (command, "order") == 0 ? 0 : G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_NONE,
      &job->request, "Without prices, with columns for nurseries to fill", NULL },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find (command), entries, 1, error))
    return FALSE;
  if (needs_output && job->output == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "say where to write it: -o FILE.");
      return FALSE;
    }
  job->design = bl_command_open (argv[1], error);
  if (job->design == NULL)
    return FALSE;
  job->model = bl_design_get_model (job->design);
  job->alternative = bl_command_alternative (job->model, job->alternative_name, error);
  if (job->alternative == NULL)
    return FALSE;
  job->layout = bl_layout_compute (job->model, job->alternative->id);
  return TRUE;
}

static void
print_takeoff (const BlTakeoff *takeoff, const BlEstimate *estimate)
{
  g_autofree char *total = bl_money_format (estimate->total, estimate->currency);
  g_autofree char *low = bl_money_format (estimate->total_low, estimate->currency);
  g_autofree char *high = bl_money_format (estimate->total_high, estimate->currency);
  BlSection section = BL_SECTION_N;

  printf ("%u plants of %u kinds, %.1f hours\n", takeoff->n_plants, takeoff->n_kinds,
          takeoff->hours);
  for (guint i = 0; i < estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (estimate->lines, BlEstimateLine, i);
      g_autofree char *amount = bl_money_format (line->amount, estimate->currency);

      if (line->section != section)
        printf ("\n%s\n", bl_section_name (line->section, NULL));
      section = line->section;
      printf ("  %-46s %9.2f %-5s %14s  %s\n", line->name, line->quantity, line->unit, amount,
              line->how != NULL ? line->how : "");
    }
  printf ("\nTotal %s (from %s to %s by the measured area)%s\n", total, low, high,
          estimate->any_invented ? "; some prices are invented until you put your own" : "");
  for (guint i = 0; i < estimate->options->len; i++)
    {
      const BlEstimateOption *option = &g_array_index (estimate->options, BlEstimateOption, i);
      g_autofree char *price = bl_money_format (option->price, estimate->currency);

      printf ("Option, not in the total: %s, %s more\n", option->name, price);
    }
  if (takeoff->mass > 0)
    printf ("Weight of what is delivered loose or in bags, as it comes: about %.0f kg (%.0f lb)\n",
            takeoff->mass, takeoff->mass / BL_KG_PER_POUND);
  for (guint i = 0; i < takeoff->notes->len; i++)
    printf ("Note: %s\n", (const char *) takeoff->notes->pdata[i]);
}

int
bl_command_takeoff (int argc, char **argv, GError **error)
{
  g_auto (Job) job = { 0 };
  g_autoptr (BlTakeoff) takeoff = NULL;
  g_autoptr (BlEstimate) estimate = NULL;

  if (!job_open (&job, "takeoff", argc, argv, FALSE, error))
    return BL_EXIT_INPUT;
  takeoff = bl_takeoff_compute (job.layout, NULL);
  estimate = bl_estimate_compute (takeoff);
  if (job.json)
    {
      g_autofree char *text = bl_estimate_to_json (takeoff, estimate);

      if (!bl_command_write (job.output, text, -1, error))
        return BL_EXIT_INPUT;
    }
  else
    print_takeoff (takeoff, estimate);
  return job.layout->messages->len > 0 ? BL_EXIT_FOUND : BL_EXIT_DONE;
}

/* On the standard error: the list itself may go to the standard output. */
static guint
tell_shortages (const BlTakeoff *takeoff, const BlStock *stock)
{
  g_autoptr (GArray) rows = bl_takeoff_shortages (takeoff, stock);

  for (guint i = 0; stock != NULL && i < rows->len; i++)
    {
      g_autofree char *words = bl_shortage_words (&g_array_index (rows, BlShortage, i), NULL);

      fprintf (stderr, "Short at %s: %s\n", stock->nursery, words);
    }
  return rows->len;
}

int
bl_command_order (int argc, char **argv, GError **error)
{
  g_auto (Job) job = { 0 };
  g_autoptr (BlLibrary) library = NULL;
  const BlStock *stock = NULL;
  g_autoptr (BlTakeoff) takeoff = NULL;
  g_autofree char *text = NULL;

  if (!job_open (&job, "order", argc, argv, TRUE, error))
    return BL_EXIT_INPUT;
  takeoff = bl_takeoff_compute (job.layout, NULL);
  /* Without a library there is an order all the same, only nothing of the nursery's. */
  library = bl_command_library (NULL);
  stock = library != NULL ? bl_library_get_stock (library) : NULL;
  text = job.request ? bl_takeoff_request_csv (takeoff) : bl_takeoff_order_csv_with (takeoff, stock);
  if (!bl_command_write (job.output, text, -1, error))
    return BL_EXIT_INPUT;
  return tell_shortages (takeoff, job.request ? NULL : stock) > 0 ? BL_EXIT_FOUND : BL_EXIT_DONE;
}

static void
print_fit (const BlFit *fit, const BlModel *model)
{
  for (guint i = 0; i < fit->findings->len; i++)
    {
      const BlFinding *finding = &g_array_index (fit->findings, BlFinding, i);

      BlPlant *plant = finding->slug != NULL ? bl_model_plant (model, finding->slug) : NULL;
      g_autofree char *name = plant != NULL ? bl_plant_name (plant) : NULL;

      printf ("%s: %s%s%s [%s]\n", bl_severity_name (finding->severity), name != NULL ? name : "",
              name != NULL ? ": " : "", finding->sentence, finding->source);
      for (guint k = 0; finding->substitutes != NULL && k < finding->substitutes->len; k++)
        {
          const BlSubstitute *substitute = &g_array_index (finding->substitutes, BlSubstitute, k);

          printf ("    instead: %s (%s): %s\n", substitute->name, substitute->slug,
                  substitute->change);
        }
    }
  if (fit->findings->len == 0)
    printf ("No rule has anything to say. That is no proof that all will do well: check the site "
            "and the local lists.\n");
}

int
bl_command_fit (int argc, char **argv, GError **error)
{
  g_auto (Job) job = { 0 };
  g_autoptr (BlLibrary) library = NULL;
  g_autoptr (BlFit) fit = NULL;

  if (!job_open (&job, "fit", argc, argv, FALSE, error))
    return BL_EXIT_INPUT;
  library = bl_command_library (error);
  if (library == NULL)
    return BL_EXIT_INPUT;
  fit = bl_fit_check (job.layout, library, NULL, error);
  if (fit == NULL)
    return BL_EXIT_INPUT;
  if (job.json)
    {
      g_autofree char *text = bl_fit_to_json (fit);

      if (!bl_command_write (job.output, text, -1, error))
        return BL_EXIT_INPUT;
    }
  else
    print_fit (fit, job.model);
  return fit->findings->len > 0 ? BL_EXIT_FOUND : BL_EXIT_DONE;
}

int
bl_command_calendar (int argc, char **argv, GError **error)
{
  g_auto (Job) job = { 0 };
  g_autoptr (BlCare) care = NULL;
  g_autofree char *suffix = NULL;
  g_autofree char *text = NULL;

  if (!job_open (&job, "calendar", argc, argv, TRUE, error))
    return BL_EXIT_INPUT;
  suffix = bl_command_suffix (job.output);
  if (strcmp (suffix, ".ics") != 0 && strcmp (suffix, ".csv") != 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "a calendar is written as .ics or .csv; “%s” ends otherwise.", job.output);
      return BL_EXIT_INPUT;
    }
  care = bl_care_compute (job.layout, bl_day_today (), NULL);
  if (strcmp (suffix, ".csv") == 0)
    text = bl_care_to_csv (care, job.model);
  else
    {
      g_autoptr (GDateTime) now = g_date_time_new_now_utc ();
      g_autofree char *stamp = g_date_time_format (now, "%Y%m%dT%H%M%SZ");

      text = bl_care_to_ics (care, job.model, stamp);
    }
  return bl_command_write (job.output, text, -1, error) ? BL_EXIT_DONE : BL_EXIT_INPUT;
}
