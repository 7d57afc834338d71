/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Giving: the papers, pictures and lists, written on another thread. */

#include "config.h"

#include "studio/give.h"
#include "studio/work.h"

#include "care/care.h"
#include "design/sheet.h"
#include "draw/flipbook.h"
#include "proposal/proposal.h"
#include "takeoff/takeoff.h"
#include "takeoff/short.h"

#include <glib/gi18n.h>
#include <string.h>

#define PICTURE_WIDTH 2400 /* pixels */
#define PAPER_MARGIN 28    /* points, 10 mm: what desk printers leave blank (common practice) */

typedef struct
{
  BlGiveKind kind;
  BlModel *model;
  BlScene *scene;
  GBytes *photo;
  char *path;
  char *text; /* made beforehand, to be written as it is */
  GArray *ids;
  BlPapersWishes *wishes;
  BlDay today;
  int *progress;
  guint n_short; /* kinds of plants that the nursery is short of */
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  bl_model_unref (job->model);
  g_clear_pointer (&job->scene, bl_scene_unref);
  g_clear_pointer (&job->photo, g_bytes_unref);
  g_free (job->path);
  g_free (job->text);
  g_array_unref (job->ids);
  g_clear_pointer (&job->wishes, bl_papers_wishes_free);
  g_free (job);
}

static void
note_progress (double share, gpointer data)
{
  Job *job = data;

  if (job->progress != NULL)
    g_atomic_int_set (job->progress, (int) (CLAMP (share, 0, 1) * 1000));
}

static gboolean
write_text (const Job *job, const char *text, GError **error)
{
  return g_file_set_contents (job->path, text, -1, error);
}

static gboolean
write_paper (Job *job, GCancellable *cancellable, GError **error)
{
  g_autofree char *path = bl_library_default_path (), *own = bl_library_own_path ();
  g_autoptr (BlLibrary) library = path != NULL ? bl_library_open (path, own, NULL) : NULL;
  BlProposalOptions options = { .alternatives = (const gint64 *)(void *)job->ids->data,
                                .n_alternatives = job->ids->len,
                                .paper = job->wishes->paper,
                                .language = job->wishes->language,
                                .units = job->wishes->units,
                                .designer = job->wishes->designer,
                                .pages = job->wishes->pages,
                                .setout = job->wishes->setout,
                                .detailed = job->wishes->detailed,
                                .mark = job->wishes->mark,
                                .today = job->today,
                                .library = library,
                                .cancellable = cancellable,
                                .progress = note_progress,
                                .progress_data = job };

  if (job->kind == BL_GIVE_PROPOSAL)
    return bl_proposal_write (job->model, job->photo, job->path, &options, error);
  if (job->kind == BL_GIVE_CREW)
    return bl_crew_write (job->model, job->photo, job->path, &options, error);
  if (job->kind == BL_GIVE_PLAN)
    return bl_plan_write (job->model, job->path, &options, error);
  if (job->kind == BL_GIVE_BEFORE_AFTER)
    return bl_before_after_write (job->model, job->photo, job->path, PICTURE_WIDTH, &options, error);
  return bl_care_sheet_write (job->model, job->path, &options, error);
}

/* Lists and calendars are papers too. */
static const char *
language_of (const Job *job)
{
  return job->wishes->language != NULL ? job->wishes->language : job->model->language;
}

static gboolean
write_calendar (const Job *job, BlLayout *layout, GError **error)
{
  g_autoptr (BlCare) care = bl_care_compute (layout, job->today, language_of (job));
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();
  g_autofree char *stamp = g_date_time_format (now, "%Y%m%dT%H%M%SZ");
  g_autofree char *text = g_str_has_suffix (job->path, ".csv")
                              ? bl_care_to_csv (care, job->model)
                              : bl_care_to_ics (care, job->model, stamp);

  return write_text (job, text, error);
}

static gboolean
write_list (Job *job, BlLayout *layout, GError **error)
{
  g_autofree char *path = bl_library_default_path (), *own = bl_library_own_path ();
  g_autoptr (BlLibrary) library = path != NULL ? bl_library_open (path, own, NULL) : NULL;
  const BlStock *stock = library != NULL ? bl_library_get_stock (library) : NULL;
  g_autoptr (BlTakeoff) takeoff = bl_takeoff_compute (layout, language_of (job));
  g_autoptr (GArray) missing = bl_takeoff_shortages (takeoff, stock);
  g_autofree char *text = job->kind == BL_GIVE_REQUEST ? bl_takeoff_request_csv (takeoff)
                                                       : bl_takeoff_order_csv_with (takeoff, stock);

  job->n_short = job->kind == BL_GIVE_ORDER ? missing->len : 0;
  return write_text (job, text, error);
}

static void
note_picture (guint done, guint total, gpointer data)
{
  note_progress ((double)done / total, data);
}

/* What is shown, through the months or the years. */
static gboolean
write_series (Job *job, GCancellable *cancellable, GError **error)
{
  BlFlipOptions options
      = { .view = job->scene->view,
          .series = job->kind == BL_GIVE_MONTHS ? BL_FLIP_MONTHS : BL_FLIP_YEARS,
          .fixed = job->scene->moment,
          .options = job->scene->options,
          .width = 1600,
          .progress = note_picture,
          .data = job };

  return bl_flipbook_write (job->scene->layout, job->scene->photo, job->path, &options,
                            cancellable, error);
}

/* On a PDF the picture is as large as the paper takes it, upright or across, so that it can be printed. */
static int
picture_width (const Job *job)
{
  double width, height;

  if (!g_str_has_suffix (job->path, ".pdf"))
    return PICTURE_WIDTH;
  bl_paper_size (job->wishes->paper, &width, &height);
  width -= 2 * PAPER_MARGIN;
  height -= 2 * PAPER_MARGIN;
  return MAX (bl_scene_export_fit (job->scene, width, height),
              bl_scene_export_fit (job->scene, height, width));
}

static void
write_it (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlLayout) layout = NULL;
  gboolean done = FALSE;

  if (job->kind == BL_GIVE_CALENDAR || job->kind == BL_GIVE_ORDER || job->kind == BL_GIVE_REQUEST)
    layout = bl_layout_compute (job->model, g_array_index (job->ids, gint64, 0));
  switch (job->kind)
    {
    case BL_GIVE_PICTURE:
      done = bl_scene_export (job->scene, job->path, picture_width (job), cancellable, &error);
      break;
    case BL_GIVE_MONTHS:
    case BL_GIVE_YEARS:
      done = write_series (job, cancellable, &error);
      break;
    case BL_GIVE_CALENDAR:
      done = write_calendar (job, layout, &error);
      break;
    case BL_GIVE_ORDER:
    case BL_GIVE_REQUEST:
      done = write_list (job, layout, &error);
      break;
    case BL_GIVE_SHEET:
      done = write_text (job, job->text, &error);
      break;
    case BL_GIVE_PROPOSAL:
    case BL_GIVE_BEFORE_AFTER:
    case BL_GIVE_PLAN:
    case BL_GIVE_CREW:
    case BL_GIVE_CARE_SHEET:
    case BL_GIVE_N:
    default:
      done = write_paper (job, cancellable, &error);
      break;
    }
  if (done)
    g_task_return_pointer (task, g_strdup (job->path), g_free);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

static gboolean
can_give (BlBoard *board, BlGiveKind kind, GError **error)
{
  gboolean shown = kind == BL_GIVE_PICTURE || kind == BL_GIVE_MONTHS || kind == BL_GIVE_YEARS;

  if (shown && bl_board_get_scene (board) == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                   _ ("The drawing is not ready yet: try again in a moment"));
      return FALSE;
    }
  if (!shown && kind != BL_GIVE_SHEET && bl_board_get_alternative (board) == 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _ ("There is no alternative to give yet: add one first"));
      return FALSE;
    }
  return TRUE;
}

void
bl_give_async (BlBoard *board, BlGiveKind kind, const char *path, const GArray *ids,
               BlPapersWishes *wishes, GCancellable *cancellable, int *progress, GAsyncReadyCallback done, gpointer data)
{
  g_autoptr (GTask) task = bl_work_new (board, cancellable, done, data);
  g_autoptr (GError) error = NULL;
  Job *job = g_new0 (Job, 1);
  gint64 shown = bl_board_get_alternative (board);

  g_task_set_source_tag (task, bl_give_async);
  job->kind = kind;
  job->wishes = wishes;
  job->model = bl_model_ref (bl_board_get_model (board));
  job->scene
      = bl_board_get_scene (board) != NULL ? bl_scene_ref (bl_board_get_scene (board)) : NULL;
  job->path = g_strdup (path);
  job->today = bl_day_today ();
  job->progress = progress;
  job->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  if (kind == BL_GIVE_PROPOSAL && ids != NULL && ids->len > 0)
    g_array_append_vals (job->ids, ids->data, ids->len);
  else if (kind != BL_GIVE_PROPOSAL)
    g_array_append_val (job->ids, shown);
  g_task_set_task_data (task, job, job_free);
  if (!can_give (board, kind, &error)
      || ((kind == BL_GIVE_PROPOSAL || kind == BL_GIVE_CREW || kind == BL_GIVE_BEFORE_AFTER)
          && (job->photo = bl_design_photo_bytes (bl_board_get_design (board), &error)) == NULL
          && error != NULL)
      || (kind == BL_GIVE_SHEET
          && (job->text = bl_sheet_write (bl_board_get_design (board), &error)) == NULL))
    {
      g_task_return_error (task, g_steal_pointer (&error));
      return;
    }
  g_task_run_in_thread (task, write_it);
}

char *
bl_give_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

guint
bl_give_n_short (GAsyncResult *result)
{
  const Job *job = g_task_get_task_data (G_TASK (result));

  return job->n_short;
}

char *
bl_give_suggest (BlBoard *board, BlGiveKind kind)
{
  static const char *const endings[BL_GIVE_N] = {
    N_("proposal.pdf"), N_("picture.png"), N_("before and after.png"), N_("twelve months"), N_("ten years"), N_("plan.pdf"),
    N_("set-out.pdf"), N_("care sheet.pdf"), N_("care.ics"),
    N_("order.csv"), N_("request.csv"), N_("sheet.json")
  };
  const BlModel *model = bl_board_get_model (board);
  const BlAlternative *alternative = bl_model_alternative (model, bl_board_get_alternative (board));
  g_autofree char *title = g_strdup (model->title[0] != '\0' ? model->title : _("Design"));
  gboolean lettered = kind != BL_GIVE_PROPOSAL && kind != BL_GIVE_SHEET && alternative != NULL;
  char *name = lettered ? g_strdup_printf ("%s %s, %s", title, alternative->name, _(endings[kind]))
                        : g_strdup_printf ("%s, %s", title, _(endings[kind]));

  return g_strdelimit (name, "/\\:", '-');
}

const char *
bl_give_title (BlGiveKind kind)
{
  static const char *const titles[BL_GIVE_N] = {
    N_("Proposal for the client"), N_("Picture of what is shown"), N_("Before and after, side by side"),
    N_("Pictures of the twelve months"), N_("Pictures of the years"), N_("Plan to scale"), N_("Set-out plan for the crew"),
    N_("Care sheet for the owner"), N_("Care calendar"), N_("Order list for the nursery"),
    N_("Request for availability"), N_("Design sheet")
  };

  return _(titles[kind]);
}

const char *const *
bl_give_patterns (BlGiveKind kind)
{
  static const char *const pdf[] = { "*.pdf", NULL }, *const csv[] = { "*.csv", NULL };
  static const char *const picture[] = { "*.png", "*.svg", "*.pdf", NULL };
  static const char *const calendar[] = { "*.ics", "*.csv", NULL }, *const json[]
                                                                    = { "*.json", NULL };
  static const char *const folder[] = { NULL }, *const pixels[] = { "*.png", "*.jpg", NULL };
  static const char *const plan[] = { "*.pdf", "*.svg", NULL };

  switch (kind)
    {
    case BL_GIVE_PICTURE:
      return picture;
    case BL_GIVE_BEFORE_AFTER:
      return pixels;
    case BL_GIVE_PLAN:
      return plan;
    case BL_GIVE_MONTHS:
    case BL_GIVE_YEARS:
      return folder;
    case BL_GIVE_CALENDAR:
      return calendar;
    case BL_GIVE_ORDER:
    case BL_GIVE_REQUEST:
      return csv;
    case BL_GIVE_SHEET:
      return json;
    case BL_GIVE_PROPOSAL:
    case BL_GIVE_CREW:
    case BL_GIVE_CARE_SHEET:
    case BL_GIVE_N:
    default:
      return pdf;
    }
}
