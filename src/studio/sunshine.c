/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun over the beds on a chosen day, worked out on another thread while it is on show.
 *
 * One thread works at a time. What changed meanwhile is worked out when it is done, so that the day
 * can be drawn along the year and the picture keeps up. */

#include "config.h"

#include "studio/sunshine.h"
#include "studio/work.h"

/* The longest day in the north. */
#define FIRST_DAY 172

typedef struct
{
  BlModel *model;
  BlDay day;
  BlSunlight *previous;
} Job;

typedef struct
{
  BlBoard *board; /* not owned: this lives in the board's data */
  BlSunlight *latest;
  BlModel *of;    /* what @latest is of, kept so that it can be told from another */
  char *problem;
  int day;        /* of the year */
  gboolean shown, working, again;
  GCancellable *leaving;
} Sunshine;

static void
job_free (gpointer data)
{
  Job *job = data;

  bl_model_unref (job->model);
  g_clear_pointer (&job->previous, bl_sunlight_unref);
  g_free (job);
}

static Sunshine *
sunshine_of (BlBoard *board)
{
  return g_object_get_data (G_OBJECT (board), "bl-sunshine");
}

static void
work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  GError *error = NULL;
  BlSunlight *sunlight
      = bl_sunlight_compute (job->model, job->day, job->previous, cancellable, &error);

  if (sunlight != NULL)
    g_task_return_pointer (task, sunlight, (GDestroyNotify)bl_sunlight_unref);
  else
    g_task_return_error (task, error);
}

static void start (Sunshine *self);

static void
worked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Sunshine *self = sunshine_of (BL_BOARD (source));
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  BlSunlight *sunlight = g_task_propagate_pointer (G_TASK (result), &error);

  if (self == NULL)
    {
      g_clear_pointer (&sunlight, bl_sunlight_unref);
      return;
    }
  self->working = FALSE;
  g_clear_pointer (&self->latest, bl_sunlight_unref);
  g_clear_pointer (&self->of, bl_model_unref);
  g_clear_pointer (&self->problem, g_free);
  self->latest = sunlight;
  self->of = bl_model_ref (job->model);
  if (error != NULL)
    self->problem = g_strdup (error->message);
  if (self->again)
    start (self);
  bl_board_emit (self->board, BL_BOARD_SUN);
}

static void
start (Sunshine *self)
{
  g_autoptr (GTask) task = NULL;
  Job *job;

  self->again = self->working;
  if (self->working || !self->shown)
    return;
  job = g_new0 (Job, 1);
  job->model = bl_model_ref (bl_board_get_model (self->board));
  /* The years differ by minutes: any year that is no leap year serves. */
  job->day = bl_day (2025, 1, 1) + self->day - 1;
  if (self->latest != NULL)
    job->previous = bl_sunlight_ref (self->latest);
  task = bl_work_new (self->board, self->leaving, worked_cb, NULL);
  self->working = TRUE;
  g_task_set_source_tag (task, start);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, work);
}

static void
changed_cb (BlBoard *board, guint what, Sunshine *self)
{
  if ((what & BL_BOARD_MODEL) != 0 && self->shown && bl_board_get_model (board) != self->of)
    start (self);
}

static void
sunshine_free (gpointer data)
{
  Sunshine *self = data;

  g_cancellable_cancel (self->leaving);
  g_object_unref (self->leaving);
  g_clear_pointer (&self->latest, bl_sunlight_unref);
  g_clear_pointer (&self->of, bl_model_unref);
  g_free (self->problem);
  g_free (self);
}

static Sunshine *
need (BlBoard *board)
{
  Sunshine *self = sunshine_of (board);

  if (self != NULL)
    return self;
  self = g_new0 (Sunshine, 1);
  self->board = board;
  self->day = FIRST_DAY;
  self->leaving = g_cancellable_new ();
  g_object_set_data_full (G_OBJECT (board), "bl-sunshine", self, sunshine_free);
  g_signal_connect (board, "changed", G_CALLBACK (changed_cb), self);
  return self;
}

void
bl_board_set_sun (BlBoard *board, gboolean shown)
{
  Sunshine *self = need (board);

  if (self->shown == shown)
    return;
  self->shown = shown;
  if (shown)
    start (self);
  bl_board_emit (board, BL_BOARD_SUN);
}

gboolean
bl_board_get_sun (BlBoard *board)
{
  Sunshine *self = sunshine_of (board);

  return self != NULL && self->shown;
}

void
bl_board_set_sun_day (BlBoard *board, int day_of_year)
{
  Sunshine *self = need (board);
  int day = CLAMP (day_of_year, 1, 365);

  if (self->day == day)
    return;
  self->day = day;
  start (self);
  bl_board_emit (board, BL_BOARD_SUN);
}

int
bl_board_get_sun_day (BlBoard *board)
{
  return need (board)->day;
}

const BlSunlight *
bl_board_get_sunlight (BlBoard *board, const char **problem)
{
  Sunshine *self = need (board);

  if (problem != NULL)
    *problem = self->problem;
  return self->latest;
}

gboolean
bl_board_is_sun_settled (BlBoard *board)
{
  Sunshine *self = sunshine_of (board);

  return self == NULL || !self->shown
         || (!self->working && self->of == bl_board_get_model (board));
}
