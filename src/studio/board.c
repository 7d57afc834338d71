/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing board: one open design with everything that is looked at and worked on in it.
 *
 * 1. The scene is computed on another thread from a reference to the model; a result is taken over
 *    only when it is the latest one asked for.
 * 2. The alternative shown exists in the model, or is 0 when there is none.
 * 3. The selection names only rows that the model has. */

#include "config.h"

#include "studio/board-private.h"
#include "studio/work.h"

#include <glib/gi18n.h>

G_DEFINE_FINAL_TYPE (BlBoard, bl_board, G_TYPE_OBJECT)

enum
{
  CHANGED,
  PROBLEM,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

BlStamps *
bl_stamps_new (void)
{
  BlStamps *stamps = g_atomic_rc_box_new0 (BlStamps);

  stamps->cache = bl_figure_cache_new (96 * 1024 * 1024);
  return stamps;
}

BlStamps *
bl_stamps_ref (BlStamps *stamps)
{
  return g_atomic_rc_box_acquire (stamps);
}

static void
clear_stamps (gpointer data)
{
  BlStamps *stamps = data;

  bl_figure_cache_free (stamps->cache);
}

void
bl_stamps_unref (BlStamps *stamps)
{
  g_atomic_rc_box_release_full (stamps, clear_stamps);
}

/* The scene, on another thread. */

typedef struct
{
  BlModel *model;
  BlLayout *layout;   /* lent when only the moment or the view changed */
  BlLayout *previous; /* lends its lattices */
  BlImage *picture; /* the photo, or on the plan the base drawing */
  gint64 alternative;
  BlView view;
  BlMoment moment;
  guint options;
} SceneJob;

static void
scene_job_free (gpointer data)
{
  SceneJob *job = data;

  bl_model_unref (job->model);
  g_clear_pointer (&job->layout, bl_layout_unref);
  g_clear_pointer (&job->previous, bl_layout_unref);
  g_clear_pointer (&job->picture, bl_image_unref);
  g_free (job);
}

static void
compute_scene (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  SceneJob *job = data;

  if (g_task_return_error_if_cancelled (task))
    return;
  if (job->layout == NULL)
    job->layout = bl_layout_compute_after (job->model, job->alternative, job->previous);
  if (g_task_return_error_if_cancelled (task))
    return;
  g_task_return_pointer (
      task,
      job->view == BL_VIEW_PLAN
          ? bl_scene_new_over (job->layout, job->picture, job->moment, job->options)
          : bl_scene_new (job->view, job->layout, job->picture, job->moment, job->options),
      (GDestroyNotify)bl_scene_unref);
}

static void
scene_computed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlBoard *self = BL_BOARD (source);
  GTask *task = G_TASK (result);
  g_autoptr (BlScene) scene = g_task_propagate_pointer (task, NULL);

  if (scene == NULL || self->scene_job != g_task_get_cancellable (task))
    return;
  g_clear_object (&self->scene_job);
  g_clear_pointer (&self->scene, bl_scene_unref);
  self->scene = g_steal_pointer (&scene);
  bl_board_emit (self, BL_BOARD_SCENE);
}

void
bl_board_ask_for_scene (BlBoard *self)
{
  g_autoptr (GTask) task = NULL;
  SceneJob *job = g_new0 (SceneJob, 1);
  BlModel *model = bl_design_get_model (self->design);

  if (self->scene_job != NULL)
    g_cancellable_cancel (self->scene_job);
  g_clear_object (&self->scene_job);
  self->scene_job = g_cancellable_new ();

  job->model = bl_model_ref (model);
  job->picture = self->pictures[self->view == BL_VIEW_PLAN ? BL_PICTURES_DRAWING : BL_PICTURES_PHOTO];
  if (job->picture != NULL)
    bl_image_ref (job->picture);
  job->alternative = self->alternative;
  job->view = self->view;
  job->moment = self->moment;
  job->options = self->options;
  if (self->scene != NULL && self->scene->layout->model == model
      && self->scene->layout->alternative_id == self->alternative)
    job->layout = bl_layout_ref (self->scene->layout);
  else if (self->scene != NULL)
    job->previous = bl_layout_ref (self->scene->layout);
  task = bl_work_new (self, self->scene_job, scene_computed_cb, NULL);
  g_task_set_source_tag (task, bl_board_ask_for_scene);
  g_task_set_priority (task, G_PRIORITY_DEFAULT);
  g_task_set_task_data (task, job, scene_job_free);
  g_task_run_in_thread (task, compute_scene);
}

/* Keeping what is looked at in step with the model. */

static gboolean
settle_alternative (BlBoard *self)
{
  const BlModel *model = bl_design_get_model (self->design);
  const BlAlternative *first = NULL;

  if (self->alternative != 0 && bl_model_alternative (model, self->alternative) != NULL)
    return FALSE;
  if (model->alternatives->len > 0)
    first = g_ptr_array_index (model->alternatives, 0);
  if (self->alternative == (first != NULL ? first->id : 0))
    return FALSE;
  self->alternative = first != NULL ? first->id : 0;
  return TRUE;
}

static void
design_changed_cb (BlBoard *self, const BlDamage *damage)
{
  guint what = BL_BOARD_MODEL;

  if (settle_alternative (self))
    what |= BL_BOARD_ALTERNATIVE;
  if (bl_board_prune_selection (self))
    what |= BL_BOARD_SELECTION;
  if ((damage->touched & BL_TOUCHED_PHOTO) != 0)
    {
      bl_board_ask_for_picture (self, BL_PICTURES_PHOTO);
      what |= BL_BOARD_PHOTO;
    }
  if ((damage->touched & BL_TOUCHED_DRAWING) != 0
      && self->drawing_shown != bl_design_get_model (self->design)->drawing.picture)
    {
      bl_board_ask_for_picture (self, BL_PICTURES_DRAWING);
      what |= BL_BOARD_PHOTO;
    }
  bl_board_ask_for_scene (self);
  bl_board_emit (self, what);
}

static void
restore_state (BlBoard *self)
{
  g_autofree char *view = bl_design_get_state (self->design, "view");
  g_autofree char *moment = bl_design_get_state (self->design, "moment");
  g_autofree char *alternative = bl_design_get_state (self->design, "alternative");
  g_autofree char *stage = bl_design_get_state (self->design, "stage");
  const BlModel *model = bl_design_get_model (self->design);

  self->view = model->photo.width > 0 ? BL_VIEW_PHOTO : BL_VIEW_PLAN;
  if (g_strcmp0 (view, "plan") == 0)
    self->view = BL_VIEW_PLAN;
  self->moment = (BlMoment) { 7.0, 5.0 };
  if (moment != NULL)
    {
      g_auto (GStrv) parts = g_strsplit (moment, " ", 2);
      double month = g_ascii_strtod (parts[0], NULL);
      double years = parts[0] != NULL && parts[1] != NULL ? g_ascii_strtod (parts[1], NULL) : -1;

      if (month >= 1 && month < 13 && years >= 0 && years <= 50)
        self->moment = (BlMoment) { month, years };
    }
  if (alternative != NULL)
    self->alternative = g_ascii_strtoll (alternative, NULL, 10);
  if (stage != NULL)
    self->stage = (BlStage) CLAMP (g_ascii_strtoll (stage, NULL, 10), 0, BL_STAGE_N - 1);
  settle_alternative (self);
}

static void
keep_state (BlBoard *self)
{
  char month[G_ASCII_DTOSTR_BUF_SIZE], years[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *moment = g_strdup_printf ("%s %s",
    g_ascii_formatd (month, sizeof month, "%.4f", self->moment.month),
    g_ascii_formatd (years, sizeof years, "%.4f", self->moment.years));
  g_autofree char *alternative = g_strdup_printf ("%" G_GINT64_FORMAT, self->alternative);
  g_autofree char *stage = g_strdup_printf ("%d", self->stage);

  if (bl_design_read_only_reason (self->design) != NULL)
    return;
  bl_design_set_state (self->design, "view", self->view == BL_VIEW_PLAN ? "plan" : "photo");
  bl_design_set_state (self->design, "moment", moment);
  bl_design_set_state (self->design, "alternative", alternative);
  bl_design_set_state (self->design, "stage", stage);
}

static void
bl_board_dispose (GObject *object)
{
  BlBoard *self = BL_BOARD (object);

  if (self->design != NULL)
    keep_state (self);
  if (self->scene_job != NULL)
    g_cancellable_cancel (self->scene_job);
  g_clear_object (&self->scene_job);
  bl_board_drop_pictures (self);
  g_clear_object (&self->design);
  G_OBJECT_CLASS (bl_board_parent_class)->dispose (object);
}

static void
bl_board_finalize (GObject *object)
{
  BlBoard *self = BL_BOARD (object);

  g_clear_pointer (&self->scene, bl_scene_unref);
  g_clear_pointer (&self->stamps, bl_stamps_unref);
  g_clear_pointer (&self->pending, bl_known_free);
  g_array_unref (self->selection);
  g_free (self->pen.slug);
  G_OBJECT_CLASS (bl_board_parent_class)->finalize (object);
}

static void
bl_board_class_init (BlBoardClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = bl_board_dispose;
  object_class->finalize = bl_board_finalize;
  signals[CHANGED] = g_signal_new ("changed", BL_TYPE_BOARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[PROBLEM] = g_signal_new ("problem", BL_TYPE_BOARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
bl_board_init (BlBoard *self)
{
  self->selection = g_array_new (FALSE, FALSE, sizeof (BlPick));
  self->stamps = bl_stamps_new ();
  self->pen.known = BL_KNOWN_RECTANGLE;
  self->pen.feature = BL_FEATURE_WALK;
}

/**
 * bl_board_new:
 * @library: (transfer none): must live as long as the board
 * Returns: (transfer full)
 */
BlBoard *
bl_board_new (BlDesign *design, BlLibrary *library)
{
  BlBoard *self = g_object_new (BL_TYPE_BOARD, NULL);

  self->design = g_object_ref (design);
  self->library = library;
  restore_state (self);
  g_signal_connect_object (design, "changed", G_CALLBACK (design_changed_cb), self,
                           G_CONNECT_SWAPPED);
  for (int i = 0; i < BL_PICTURES_N; i++)
    bl_board_ask_for_picture (self, (BlPictures) i);
  bl_board_ask_for_scene (self);
  return self;
}

BlDesign *bl_board_get_design (BlBoard *self) { return self->design; }
BlModel *bl_board_get_model (BlBoard *self) { return bl_design_get_model (self->design); }
BlLibrary *bl_board_get_library (BlBoard *self) { return self->library; }
BlStamps *bl_board_get_stamps (BlBoard *self) { return self->stamps; }
BlScene *bl_board_get_scene (BlBoard *self) { return self->scene; }
gint64 bl_board_get_alternative (BlBoard *self) { return self->alternative; }
BlView bl_board_get_view (BlBoard *self) { return self->view; }
BlMoment bl_board_get_moment (BlBoard *self) { return self->moment; }
BlStage bl_board_get_stage (BlBoard *self) { return self->stage; }
guint bl_board_get_options (BlBoard *self) { return self->options; }
const BlPen *bl_board_get_pen (BlBoard *self) { return &self->pen; }
const BlKnown *bl_board_get_pending (BlBoard *self) { return self->pending; }

BlLayout *
bl_board_get_layout (BlBoard *self)
{
  return self->scene != NULL ? self->scene->layout : NULL;
}

gboolean
bl_board_is_settled (BlBoard *self)
{
  return self->scene_job == NULL && self->picture_jobs[BL_PICTURES_PHOTO] == NULL
         && self->picture_jobs[BL_PICTURES_DRAWING] == NULL;
}

void
bl_board_set_alternative (BlBoard *self, gint64 id)
{
  guint what = BL_BOARD_ALTERNATIVE;

  if (self->alternative == id || bl_model_alternative (bl_board_get_model (self), id) == NULL)
    return;
  self->alternative = id;
  if (bl_board_prune_selection (self))
    what |= BL_BOARD_SELECTION;
  bl_board_ask_for_scene (self);
  bl_board_emit (self, what);
}

void
bl_board_set_view (BlBoard *self, BlView view)
{
  if (self->view == view)
    return;
  self->view = view;
  bl_board_ask_for_scene (self);
  bl_board_emit (self, BL_BOARD_VIEW);
}

void
bl_board_set_moment (BlBoard *self, BlMoment moment)
{
  moment.month = CLAMP (moment.month, 1.0, 12.99);
  moment.years = CLAMP (moment.years, 0.0, 50.0);
  if (self->moment.month == moment.month && self->moment.years == moment.years)
    return;
  self->moment = moment;
  bl_board_ask_for_scene (self);
  bl_board_emit (self, BL_BOARD_MOMENT);
}

void
bl_board_set_stage (BlBoard *self, BlStage stage)
{
  if (self->stage == stage)
    return;
  self->stage = stage;
  bl_board_emit (self, BL_BOARD_STAGE);
}

void
bl_board_set_options (BlBoard *self, guint options)
{
  if (self->options == options)
    return;
  self->options = options;
  bl_board_ask_for_scene (self);
  bl_board_emit (self, BL_BOARD_VIEW);
}

void
bl_board_set_plant (BlBoard *self, const char *slug)
{
  if (g_strcmp0 (self->pen.slug, slug) == 0)
    return;
  g_free (self->pen.slug);
  self->pen.slug = g_strdup (slug);
  self->pen.spacing = 0;
  bl_board_emit (self, BL_BOARD_PEN);
}

void
bl_board_set_spacing (BlBoard *self, double metres, gboolean square)
{
  if (self->pen.spacing == metres && self->pen.square == square)
    return;
  self->pen.spacing = metres;
  self->pen.square = square;
  bl_board_emit (self, BL_BOARD_PEN);
}

void
bl_board_set_known_kind (BlBoard *self, BlKnownKind kind)
{
  if (self->pen.known == kind)
    return;
  self->pen.known = kind;
  bl_board_emit (self, BL_BOARD_PEN);
}

void
bl_board_set_feature_kind (BlBoard *self, BlFeatureKind kind, double height)
{
  if (self->pen.feature == kind && self->pen.feature_height == height)
    return;
  self->pen.feature = kind;
  self->pen.feature_height = height;
  bl_board_emit (self, BL_BOARD_PEN);
}

BlPlant *
bl_board_dup_plant (BlBoard *self, const char *slug)
{
  BlPlant *plant;

  if (slug == NULL)
    return NULL;
  plant = bl_model_plant (bl_board_get_model (self), slug);
  if (plant != NULL)
    return bl_plant_ref (plant);
  return self->library != NULL ? bl_library_get (self->library, slug, NULL) : NULL;
}

void
bl_board_set_pending (BlBoard *self, BlKnown *known)
{
  g_clear_pointer (&self->pending, bl_known_free);
  self->pending = known;
  bl_board_emit (self, BL_BOARD_PENDING);
}

void
bl_board_lift (BlBoard *self, gint64 planting_id, BlPoint by)
{
  self->lifted = planting_id;
  self->lifted_by = by;
  bl_board_emit (self, BL_BOARD_LIFT);
}

gint64
bl_board_get_lift (BlBoard *self, BlPoint *by)
{
  if (by != NULL)
    *by = self->lifted_by;
  return self->lifted;
}

void
bl_board_emit (BlBoard *self, guint what)
{
  g_signal_emit (self, signals[CHANGED], 0, what);
}

void
bl_board_say (BlBoard *self, const char *sentence)
{
  g_signal_emit (self, signals[PROBLEM], 0, sentence);
}

void
bl_board_report (BlBoard *self, const GError *error)
{
  if (error != NULL && !g_error_matches (error, BL_ERROR, BL_ERROR_CANCELLED)
      && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    bl_board_say (self, error->message);
}
