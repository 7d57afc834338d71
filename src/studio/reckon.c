/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What follows from a planting: quantities, estimate, care and fit, worked out on another thread. */

#include "config.h"

#include "draw/chart.h"
#include "studio/reckon.h"
#include "studio/work.h"

#define REST_MS 120

typedef struct
{
  BlBoard *board; /* not owned: this lives in the board's data */
  BlReckoning *latest;
  GCancellable *job;
  guint rest;
} Reckoner;

BlReckoning *
bl_reckoning_ref (BlReckoning *self)
{
  g_atomic_ref_count_inc (&self->refs);
  return self;
}

void
bl_reckoning_unref (BlReckoning *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  g_clear_pointer (&self->fit, bl_fit_free);
  g_clear_pointer (&self->care, bl_care_free);
  g_clear_pointer (&self->estimate, bl_estimate_unref);
  g_clear_pointer (&self->takeoff, bl_takeoff_unref);
  g_clear_pointer (&self->layout, bl_layout_unref);
  g_free (self->fit_problem);
  g_free (self);
}

BlReckoning *
bl_reckoning_compute (BlLayout *layout, BlDay today)
{
  BlReckoning *self = g_new0 (BlReckoning, 1);
  const char *language = bl_say_window ();
  g_autofree char *path = bl_library_default_path ();
  g_autofree char *own = bl_library_own_path ();
  g_autoptr (BlLibrary) library = NULL;
  g_autoptr (GError) error = NULL;

  g_atomic_ref_count_init (&self->refs);
  self->layout = bl_layout_ref (layout);
  self->takeoff = bl_takeoff_compute (layout, language);
  self->estimate = bl_estimate_compute (self->takeoff);
  self->care = bl_care_compute (layout, today, language);
  /* A library of its own: one connection belongs to one thread. */
  if (path != NULL)
    library = bl_library_open (path, own, NULL);
  self->fit = bl_fit_check (layout, library, language, &error);
  if (self->fit == NULL)
    self->fit_problem = g_strdup (error->message);
  return self;
}

static void
reckon (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  if (!g_task_return_error_if_cancelled (task))
    g_task_return_pointer (task, bl_reckoning_compute (data, bl_day_today ()),
                           (GDestroyNotify) bl_reckoning_unref);
}

static Reckoner *
reckoner_of (BlBoard *board)
{
  return g_object_get_data (G_OBJECT (board), "bl-reckoner");
}

static void
reckoned_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Reckoner *self = reckoner_of (BL_BOARD (source));
  g_autoptr (BlReckoning) reckoning = g_task_propagate_pointer (G_TASK (result), NULL);

  if (reckoning == NULL || self == NULL || self->job != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->job);
  g_clear_pointer (&self->latest, bl_reckoning_unref);
  self->latest = g_steal_pointer (&reckoning);
  bl_board_emit (self->board, BL_BOARD_RECKON);
}

static gboolean
rested_cb (gpointer data)
{
  Reckoner *self = data;
  BlLayout *layout = bl_board_get_layout (self->board);
  g_autoptr (GTask) task = NULL;

  self->rest = 0;
  if (layout == NULL || (self->latest != NULL && self->latest->layout == layout))
    return G_SOURCE_REMOVE;
  if (self->job != NULL)
    g_cancellable_cancel (self->job);
  g_clear_object (&self->job);
  self->job = g_cancellable_new ();
  task = bl_work_new (self->board, self->job, reckoned_cb, NULL);
  g_task_set_source_tag (task, rested_cb);
  g_task_set_task_data (task, bl_layout_ref (layout), (GDestroyNotify) bl_layout_unref);
  g_task_run_in_thread (task, reckon);
  return G_SOURCE_REMOVE;
}

static void
changed_cb (BlBoard *board, guint what, Reckoner *self)
{
  if ((what & BL_BOARD_SCENE) != 0 && self->rest == 0)
    self->rest = g_timeout_add (REST_MS, rested_cb, self);
}

static void
reckoner_free (gpointer data)
{
  Reckoner *self = data;

  g_clear_handle_id (&self->rest, g_source_remove);
  if (self->job != NULL)
    g_cancellable_cancel (self->job);
  g_clear_object (&self->job);
  g_clear_pointer (&self->latest, bl_reckoning_unref);
  g_free (self);
}

BlReckoning *
bl_board_get_reckoning (BlBoard *board)
{
  Reckoner *self = reckoner_of (board);

  if (self == NULL)
    {
      self = g_new0 (Reckoner, 1);
      self->board = board;
      g_object_set_data_full (G_OBJECT (board), "bl-reckoner", self, reckoner_free);
      g_signal_connect (board, "changed", G_CALLBACK (changed_cb), self);
      rested_cb (self);
    }
  return self->latest;
}

gboolean
bl_board_is_reckoned (BlBoard *board)
{
  BlReckoning *latest = bl_board_get_reckoning (board);

  return latest != NULL && latest->layout == bl_board_get_layout (board)
         && bl_board_is_settled (board);
}

BlSummary
bl_reckoning_summary (const BlReckoning *self)
{
  BlSummary sum = { 0 };
  guint months = bl_layout_bloom_months (self->layout), evergreen = 0;

  sum.n_plants = self->takeoff->n_plants;
  sum.n_kinds = self->takeoff->n_kinds;
  for (int month = 1; month <= 12; month++)
    sum.bloom_months += (months >> month) & 1;
  for (guint i = 0; i < self->layout->placed->len; i++)
    evergreen
        += g_array_index (self->layout->placed, BlPlaced, i).plant->leaves == BL_LEAVES_EVERGREEN;
  sum.evergreen = self->layout->placed->len > 0 ? (double)evergreen / self->layout->placed->len : 0;
  sum.n_warnings = self->fit != NULL ? self->fit->findings->len : 0;
  sum.water = self->takeoff->water_first_season;
  sum.hours = self->care->hours_later;
  sum.total = self->estimate->total;
  sum.currency = self->estimate->currency;
  return sum;
}
