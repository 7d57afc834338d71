/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities and cost that follow a drag: worked out on another thread from the line as it is now.
 *
 * One thread works at a time; what came in meanwhile waits, and only the newest of it. Each drag has
 * a number, and a result of an earlier drag is dropped. */

#include "config.h"

#include "studio/follow.h"

#include "studio/reckon.h"
#include "studio/work.h"

typedef struct
{
  BlModel *model;
  BlBed *bed;           /* one of these two is given */
  GPtrArray *plantings; /* BlPlanting */
  gint64 alternative;
  BlLayout *previous;
  guint drag;
} Job;

typedef struct
{
  BlBoard *board; /* not owned: this lives in the board's data */
  BlFollowing *latest;
  BlModel *before; /* the design when the drag began */
  Job *waiting;
  guint drag, ending;
  gboolean working, over;
} Follower;

static void
job_free (gpointer data)
{
  Job *job = data;

  bl_model_unref (job->model);
  g_clear_pointer (&job->bed, bl_bed_free);
  g_clear_pointer (&job->plantings, g_ptr_array_unref);
  g_clear_pointer (&job->previous, bl_layout_unref);
  g_free (job);
}

BlFollowing *
bl_following_compute (BlModel *model, gint64 alternative_id, const BlLayout *previous)
{
  BlFollowing *self = g_new0 (BlFollowing, 1);

  g_atomic_ref_count_init (&self->refs);
  self->model = bl_model_ref (model);
  self->layout = bl_layout_follow (model, alternative_id, previous);
  self->takeoff = bl_takeoff_compute (self->layout, bl_say_window ());
  self->estimate = bl_estimate_compute (self->takeoff);
  return self;
}

void
bl_following_unref (BlFollowing *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  bl_estimate_unref (self->estimate);
  bl_takeoff_unref (self->takeoff);
  bl_layout_unref (self->layout);
  bl_model_unref (self->model);
  g_free (self);
}

static void
work (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  g_autoptr (BlModel) model = bl_model_variant (job->model, job->bed, job->plantings);

  g_task_return_pointer (task, bl_following_compute (model, job->alternative, job->previous),
                         (GDestroyNotify) bl_following_unref);
}

static Follower *
follower_of (BlBoard *board)
{
  return g_object_get_data (G_OBJECT (board), "bl-follower");
}

static void start (Follower *self, Job *job);

static void
worked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Follower *self = follower_of (BL_BOARD (source));
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (BlFollowing) following = g_task_propagate_pointer (G_TASK (result), NULL);

  if (self == NULL)
    return;
  self->working = FALSE;
  if (following != NULL && job->drag == self->drag && !self->over)
    {
      g_clear_pointer (&self->latest, bl_following_unref);
      self->latest = g_steal_pointer (&following);
      bl_board_emit (self->board, BL_BOARD_FOLLOW);
    }
  if (self->waiting != NULL && !self->working)
    start (self, g_steal_pointer (&self->waiting));
}

static void
start (Follower *self, Job *job)
{
  g_autoptr (GTask) task = bl_work_new (self->board, NULL, worked_cb, NULL);

  self->working = TRUE;
  g_task_set_source_tag (task, start);
  g_task_set_priority (task, G_PRIORITY_HIGH);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, work);
}

static void
drop (Follower *self)
{
  if (self->latest == NULL)
    return;
  g_clear_pointer (&self->latest, bl_following_unref);
  bl_board_emit (self->board, BL_BOARD_FOLLOW);
}

/* Takes @bed and @plantings. */
static void
ask (Follower *self, BlBed *bed, GPtrArray *plantings)
{
  BlLayout *layout = bl_board_get_layout (self->board);
  Job *job = g_new0 (Job, 1);

  if (self->over || self->before == NULL)
    {
      self->drag++;
      self->over = FALSE;
      g_clear_handle_id (&self->ending, g_source_remove);
      g_clear_pointer (&self->latest, bl_following_unref);
      g_clear_pointer (&self->before, bl_model_unref);
      self->before = bl_model_ref (bl_board_get_model (self->board));
    }
  job->model = bl_model_ref (bl_board_get_model (self->board));
  job->bed = bed;
  job->plantings = plantings;
  job->alternative = bl_board_get_alternative (self->board);
  job->drag = self->drag;
  if (layout != NULL && layout->alternative_id == job->alternative)
    job->previous = bl_layout_ref (layout);
  g_clear_pointer (&self->waiting, job_free);
  if (self->working)
    self->waiting = job;
  else
    start (self, job);
}

/* An edit, if there is one, has been made by now: its exact figures are on their way. */
static gboolean
ended_cb (gpointer data)
{
  Follower *self = data;
  gboolean kept = self->before != NULL && self->before != bl_board_get_model (self->board);

  self->ending = 0;
  g_clear_pointer (&self->before, bl_model_unref);
  if (!kept)
    drop (self);
  return G_SOURCE_REMOVE;
}

static void
end (Follower *self)
{
  g_clear_pointer (&self->waiting, job_free);
  if (!self->over)
    self->ending = g_idle_add (ended_cb, self);
  self->over = TRUE;
}

static void
follow_lifted (Follower *self)
{
  const BlModel *model = bl_board_get_model (self->board);
  const GArray *selection = bl_board_get_selection (self->board);
  GPtrArray *moved;
  BlPoint by;

  if (bl_board_get_lift (self->board, &by) == 0)
    {
      end (self);
      return;
    }
  moved = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_planting_free);
  for (guint i = 0; i < selection->len; i++)
    {
      BlPick pick = g_array_index (selection, BlPick, i);
      const BlPlanting *planting
          = pick.kind == BL_PICK_PLANTING ? bl_model_planting (model, pick.id) : NULL;
      BlPlanting *copy;

      if (planting == NULL || planting->shape == NULL || planting->locked)
        continue;
      copy = bl_planting_copy (planting);
      for (guint k = 0; k < copy->shape->points->len; k++)
        bl_points_at (copy->shape->points, k) = bl_add (bl_points_at (copy->shape->points, k), by);
      g_ptr_array_add (moved, copy);
    }
  ask (self, NULL, moved);
}

static void
changed_cb (BlBoard *board, guint what, Follower *self)
{
  BlReckoning *exact;

  if ((what & BL_BOARD_LIFT) != 0)
    follow_lifted (self);
  if (!self->over || self->latest == NULL || (what & (BL_BOARD_RECKON | BL_BOARD_ALTERNATIVE)) == 0)
    return;
  exact = bl_board_get_reckoning (board);
  if ((what & BL_BOARD_ALTERNATIVE) != 0
      || (exact != NULL && exact->layout->model == bl_board_get_model (board)))
    drop (self);
}

static void
follower_free (gpointer data)
{
  Follower *self = data;

  g_clear_handle_id (&self->ending, g_source_remove);
  g_clear_pointer (&self->latest, bl_following_unref);
  g_clear_pointer (&self->before, bl_model_unref);
  g_clear_pointer (&self->waiting, job_free);
  g_free (self);
}

static Follower *
need (BlBoard *board)
{
  Follower *self = follower_of (board);

  if (self == NULL)
    {
      self = g_new0 (Follower, 1);
      self->board = board;
      self->over = TRUE;
      g_object_set_data_full (G_OBJECT (board), "bl-follower", self, follower_free);
      g_signal_connect (board, "changed", G_CALLBACK (changed_cb), self);
    }
  return self;
}

void
bl_board_follow_line (BlBoard *board, const BlPick *pick, const BlOutline *line)
{
  Follower *self = need (board);
  const BlModel *model = bl_board_get_model (board);
  const BlBed *bed;
  const BlPlanting *planting;

  if (line == NULL)
    end (self);
  else if (pick->kind == BL_PICK_BED && (bed = bl_model_bed (model, pick->id)) != NULL)
    {
      BlBed *copy = bl_bed_copy (bed);

      g_clear_pointer (&copy->outline, bl_outline_free);
      copy->outline = bl_outline_copy (line);
      ask (self, copy, NULL);
    }
  else if (pick->kind == BL_PICK_PLANTING
           && (planting = bl_model_planting (model, pick->id)) != NULL)
    {
      GPtrArray *moved = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_planting_free);
      BlPlanting *copy = bl_planting_copy (planting);

      g_clear_pointer (&copy->shape, bl_outline_free);
      copy->shape = bl_outline_copy (line);
      g_ptr_array_add (moved, copy);
      ask (self, NULL, moved);
    }
}

const BlFollowing *
bl_board_get_following (BlBoard *board)
{
  return need (board)->latest;
}
