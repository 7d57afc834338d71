/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Alternatives side by side: the same moment, moving together, a table below. */

#include "config.h"

#include "studio/canvas.h"
#include "studio/compare.h"
#include "studio/form.h"
#include "studio/reckon.h"
#include "studio/sheets.h"
#include "studio/work.h"

#include <glib/gi18n.h>

#define MOST 4
#define LEAST_WIDTH 164
#define TERSE_WIDTH 120 /* in a narrow window */
#define LEAST_HEIGHT 150

struct _BlCompare
{
  BlPart parent_instance;

  GtkWidget *sheet, *table, *empty;
  GtkWidget *canvases[MOST], *titles[MOST], *ideas[MOST], *frames[MOST];
  BlScene *scenes[MOST];
  BlReckoning *reckonings[MOST];
  guint n;
  GCancellable *job;
  gboolean linking, terse;
};

G_DEFINE_FINAL_TYPE (BlCompare, bl_compare, BL_TYPE_PART)

typedef struct
{
  BlModel *model;
  BlImage *photo;
  BlView view;
  BlMoment moment;
  guint options;
  guint n;
  gint64 ids[MOST];
  BlScene *scenes[MOST];
  BlReckoning *reckonings[MOST];
  BlReckoning *known[MOST]; /* from before, of the same model */
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  bl_model_unref (job->model);
  g_clear_pointer (&job->photo, bl_image_unref);
  for (int i = 0; i < MOST; i++)
    {
      g_clear_pointer (&job->scenes[i], bl_scene_unref);
      g_clear_pointer (&job->reckonings[i], bl_reckoning_unref);
      g_clear_pointer (&job->known[i], bl_reckoning_unref);
    }
  g_free (job);
}

static BlReckoning *
known_reckoning (const Job *job, gint64 id)
{
  for (int i = 0; i < MOST; i++)
    if (job->known[i] != NULL && job->known[i]->layout->model == job->model
        && job->known[i]->layout->alternative_id == id)
      return bl_reckoning_ref (job->known[i]);
  return NULL;
}

static void
compute (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;

  for (guint i = 0; i < job->n; i++)
    {
      if (g_task_return_error_if_cancelled (task))
        return;
      job->reckonings[i] = known_reckoning (job, job->ids[i]);
      if (job->reckonings[i] == NULL)
        {
          g_autoptr (BlLayout) layout = bl_layout_compute (job->model, job->ids[i]);

          job->reckonings[i] = bl_reckoning_compute (layout, bl_day_today ());
        }
      job->scenes[i] = bl_scene_new (job->view, job->reckonings[i]->layout, job->photo, job->moment,
                                     job->options);
    }
  g_task_return_boolean (task, TRUE);
}

/* The table: a row a figure, a column an alternative; the best one is marked by a tick and a word. */

typedef enum
{
  BEST_LOW,
  BEST_HIGH,
  BEST_NONE
} Best;

typedef enum
{
  SORT_COUNT,
  SORT_MONEY,
  SORT_SHARE,
  SORT_WATER,
  SORT_HOURS
} Sort;

#define N_FIGURES 8

typedef struct
{
  const char *title;
  Best best;
  Sort sort;
  double values[MOST];
  char *texts[MOST];
  char *more[MOST]; /* the difference from the first column, "+3"; NULL where there is none */
} Figure;

/* "+ $731.71", "− 3": what @diff is, with its sign; takes @size, its size in words. */
static char *
with_sign (double diff, char *size)
{
  char *text = diff != 0 ? g_strdup_printf ("%s\u00a0%s", diff > 0 ? "+" : "−", size) : NULL;

  g_free (size);
  return text;
}

static void
fill_differences (BlCompare *self, Figure *figures)
{
  for (guint i = 1; i < self->n; i++)
    {
      const char *currency = self->reckonings[i]->estimate->currency;
      gboolean metres = self->scenes[i]->model->units == BL_UNITS_METRES;
      double litres = metres ? 1 : 1 / BL_LITRES_PER_US_GALLON;
      for (guint k = 0; k < N_FIGURES; k++)
        {
          double diff = figures[k].values[i] - figures[k].values[0], size = fabs (diff);
          char *words;

          if (figures[k].sort == SORT_MONEY)
            words = bl_money_format (llround (size), currency);
          else if (figures[k].sort == SORT_SHARE)
            words = g_strdup_printf ("%.0f\u00a0%%", size * 100);
          else if (figures[k].sort == SORT_WATER)
            words = g_strdup_printf (metres ? "%.0f\u00a0l" : "%.0f\u00a0gal", size * litres);
          else if (figures[k].sort == SORT_HOURS)
            words = g_strdup_printf ("%.1f", size);
          else
            words = g_strdup_printf ("%.0f", size);
          figures[k].more[i]
              = g_strcmp0 (figures[k].texts[i], figures[k].texts[0]) != 0 ? with_sign (diff, words)
                                                                          : (g_free (words), NULL);
        }
    }
}

static void
fill_figures (BlCompare *self, Figure *figures)
{
  for (guint i = 0; i < self->n; i++)
    {
      BlSummary sum = bl_reckoning_summary (self->reckonings[i]);
      double values[] = { (double)sum.total, sum.n_plants, sum.n_kinds, sum.bloom_months,
                          sum.evergreen,     sum.water,    sum.hours,   sum.n_warnings };
      BlUnits units = self->scenes[i]->model->units;
      char *texts[] = { bl_money_format (sum.total, sum.currency),
                        g_strdup_printf ("%u", sum.n_plants),
                        g_strdup_printf ("%u", sum.n_kinds),
                        g_strdup_printf ("%u", sum.bloom_months),
                        g_strdup_printf ("%.0f %%", sum.evergreen * 100),
                        units == BL_UNITS_METRES
                            ? g_strdup_printf ("%.0f l", sum.water)
                            : g_strdup_printf ("%.0f gal", sum.water / BL_LITRES_PER_US_GALLON),
                        g_strdup_printf ("%.1f", sum.hours),
                        g_strdup_printf ("%u", sum.n_warnings) };

      for (guint k = 0; k < G_N_ELEMENTS (values); k++)
        {
          figures[k].values[i] = values[k];
          figures[k].texts[i] = texts[k];
        }
    }
}

static gboolean
is_best (const Figure *figure, guint n, guint which)
{
  gboolean differ = FALSE;

  if (figure->best == BEST_NONE || n < 2)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      if (figure->best == BEST_LOW ? figure->values[i] < figure->values[which]
                                   : figure->values[i] > figure->values[which])
        return FALSE;
      differ = differ || figure->values[i] != figure->values[which];
    }
  return differ;
}

static GtkWidget *
stacked (GtkWidget *above, GtkWidget *below)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_widget_set_hexpand (box, TRUE);
  gtk_widget_set_valign (below, GTK_ALIGN_END);
  gtk_widget_set_halign (below, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (box), above);
  gtk_box_append (GTK_BOX (box), below);
  return box;
}

/* A cell as wide as its picture: @note, what the row says or how far this is from the first, at its
 * left edge, or above where it is @terse; the figure at its right edge, the best one with a tick and a
 * word. */
static GtkWidget *
make_cell (const char *note, const char *figure, gboolean best, gboolean terse)
{
  GtkWidget *cell = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, terse ? 4 : 8);
  GtkWidget *left = bl_form_text (note, "facts"), *right = gtk_label_new (figure);
  GtkWidget *mark = NULL;

  gtk_widget_set_hexpand (left, TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (left), PANGO_WRAP_WORD);
  gtk_label_set_xalign (GTK_LABEL (right), 1);
  gtk_widget_add_css_class (right, best ? "best" : "figure");
  gtk_widget_add_css_class (cell, "compare-cell");
  gtk_widget_set_valign (left, GTK_ALIGN_END);
  gtk_widget_set_valign (right, GTK_ALIGN_END);
  if (best)
    {
      mark = gtk_label_new (_("✓ best"));
      gtk_widget_add_css_class (mark, "best-mark");
    }
  gtk_box_append (GTK_BOX (cell), best && terse ? stacked (left, mark) : left);
  if (best && !terse)
    gtk_box_append (GTK_BOX (cell), mark);
  gtk_box_append (GTK_BOX (cell), right);
  return cell;
}

static void
show_row (BlCompare *self, const Figure *figure, int row)
{
  for (guint i = 0; i < self->n; i++)
    {
      const char *note = i == 0 ? _(figure->title) : figure->more[i] != NULL ? figure->more[i] : "";
      GtkWidget *cell = make_cell (note, figure->texts[i], is_best (figure, self->n, i), self->terse);

      /* Read aloud, a figure says of what and of which alternative it is. */
      g_autofree char *spoken
          = g_strdup_printf ("%s, %s: %s", _(figure->title),
                             gtk_label_get_text (GTK_LABEL (self->titles[i])), figure->texts[i]);

      bl_form_call (gtk_widget_get_last_child (cell), spoken);
      gtk_grid_attach (GTK_GRID (self->table), cell, (int)i, row, 1, 1);
    }
}

/* What stands at the left of the other columns. */
static void
show_captions (BlCompare *self)
{
  const BlScene *first = self->scenes[0];
  const BlAlternative *alternative
      = bl_model_alternative (first->model, first->layout->alternative_id);
  g_autofree char *caption
      = alternative != NULL ? g_strdup_printf (_("Against %s"), alternative->name) : NULL;

  for (guint i = 1; caption != NULL && i < self->n; i++)
    gtk_grid_attach (GTK_GRID (self->table), make_cell (caption, "", FALSE, self->terse), (int)i, 1, 1, 1);
}

static void
show_table (BlCompare *self)
{
  Figure figures[N_FIGURES] = { { N_ ("Price"), BEST_LOW, SORT_MONEY, { 0 }, { 0 }, { 0 } },
                       { N_ ("Plants"), BEST_NONE, SORT_COUNT, { 0 }, { 0 }, { 0 } },
                       { N_ ("Kinds"), BEST_NONE, SORT_COUNT, { 0 }, { 0 }, { 0 } },
                       { N_ ("Months in flower"), BEST_HIGH, SORT_COUNT, { 0 }, { 0 }, { 0 } },
                       { N_ ("Evergreen"), BEST_HIGH, SORT_SHARE, { 0 }, { 0 }, { 0 } },
                       { N_ ("Water, first season"), BEST_LOW, SORT_WATER, { 0 }, { 0 }, { 0 } },
                       { N_ ("Hours of care a year"), BEST_LOW, SORT_HOURS, { 0 }, { 0 }, { 0 } },
                       { N_ ("Warnings"), BEST_LOW, SORT_COUNT, { 0 }, { 0 }, { 0 } } };

  fill_figures (self, figures);
  fill_differences (self, figures);
  if (self->n > 0)
    show_captions (self);
  for (guint k = 0; k < G_N_ELEMENTS (figures); k++)
    {
      show_row (self, &figures[k], (int)k + 2);
      for (guint i = 0; i < self->n; i++)
        {
          g_free (figures[k].texts[i]);
          g_free (figures[k].more[i]);
        }
    }
}

/* One grid holds pictures and figures, so that they stand under one another: emptied, and the first
 * self->n pictures put back. */
static void
clear_table (BlCompare *self)
{
  bl_form_clear (self->table);
  for (guint i = 0; i < self->n; i++)
    gtk_grid_attach (GTK_GRID (self->table), self->frames[i], (int)i, 0, 1, 1);
}

static void
computed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlCompare *self = BL_COMPARE (source);
  Job *job = g_task_get_task_data (G_TASK (result));
  BlBoard *board = bl_part_get_board (BL_PART (self));

  if (!g_task_propagate_boolean (G_TASK (result), NULL)
      || self->job != g_task_get_cancellable (G_TASK (result)) || board == NULL)
    return;
  g_clear_object (&self->job);
  self->n = job->n;
  clear_table (self);
  for (guint i = 0; i < MOST; i++)
    {
      const BlAlternative *alternative;

      g_clear_pointer (&self->scenes[i], bl_scene_unref);
      g_clear_pointer (&self->reckonings[i], bl_reckoning_unref);
      if (i >= job->n)
        continue;
      self->scenes[i] = g_steal_pointer (&job->scenes[i]);
      self->reckonings[i] = g_steal_pointer (&job->reckonings[i]);
      bl_canvas_show_scene (BL_CANVAS (self->canvases[i]), self->scenes[i],
                            bl_board_get_stamps (board));
      alternative = bl_model_alternative (job->model, job->ids[i]);
      {
        g_autofree char *title = g_strdup_printf (_("Alternative %s"), alternative->name);

        gtk_label_set_text (GTK_LABEL (self->titles[i]), alternative->name);
        gtk_label_set_text (GTK_LABEL (self->ideas[i]),
                            alternative->idea != NULL ? alternative->idea : "");
        gtk_widget_set_tooltip_text (self->frames[i], alternative->idea);
        bl_form_call (self->canvases[i], title);
      }
    }
  gtk_widget_set_visible (self->empty, self->n < 2);
  show_table (self);
}

static void
ask (BlCompare *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  g_autoptr (GArray) ids = bl_sheet_compare_chosen (self->sheet);
  g_autoptr (GTask) task = NULL;
  Job *job = g_new0 (Job, 1);

  if (self->job != NULL)
    g_cancellable_cancel (self->job);
  g_clear_object (&self->job);
  self->job = g_cancellable_new ();
  job->model = bl_model_ref (bl_board_get_model (board));
  job->photo
      = bl_board_get_photo (board) != NULL ? bl_image_ref (bl_board_get_photo (board)) : NULL;
  job->view = bl_board_get_view (board);
  job->moment = bl_board_get_moment (board);
  job->options = bl_board_get_options (board);
  job->n = MIN (ids->len, MOST);
  for (guint i = 0; i < job->n; i++)
    job->ids[i] = g_array_index (ids, gint64, i);
  for (guint i = 0; i < MOST; i++)
    job->known[i] = self->reckonings[i] != NULL ? bl_reckoning_ref (self->reckonings[i]) : NULL;
  task = bl_work_new (self, self->job, computed_cb, NULL);
  g_task_set_source_tag (task, ask);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, compute);
}

static void
update (BlPart *part, guint what)
{
  if ((what
       & (BL_BOARD_MODEL | BL_BOARD_MOMENT | BL_BOARD_VIEW | BL_BOARD_PHOTO | BL_BOARD_ALTERNATIVE))
      != 0)
    ask (BL_COMPARE (part));
}

static void
looked_cb (BlCanvas *canvas, BlCompare *self)
{
  if (self->linking)
    return;
  self->linking = TRUE;
  for (guint i = 0; i < self->n; i++)
    if (self->canvases[i] != GTK_WIDGET (canvas))
      bl_canvas_set_viewport (BL_CANVAS (self->canvases[i]), bl_canvas_get_viewport (canvas));
  self->linking = FALSE;
}

gboolean
bl_compare_is_fresh (BlCompare *self)
{
  gboolean fresh = self->job == NULL && self->n > 0;

  for (guint i = 0; fresh && i < self->n; i++)
    fresh = bl_canvas_is_fresh (BL_CANVAS (self->canvases[i]));
  return fresh;
}

void
bl_compare_fit (BlCompare *self)
{
  bl_canvas_fit (BL_CANVAS (self->canvases[0]));
}

void
bl_compare_zoom_by (BlCompare *self, double factor)
{
  bl_canvas_zoom_by (BL_CANVAS (self->canvases[0]), factor);
}

static void
bl_compare_dispose (GObject *object)
{
  BlCompare *self = BL_COMPARE (object);

  if (self->job != NULL)
    g_cancellable_cancel (self->job);
  g_clear_object (&self->job);
  for (int i = 0; i < MOST; i++)
    {
      g_clear_pointer (&self->scenes[i], bl_scene_unref);
      g_clear_pointer (&self->reckonings[i], bl_reckoning_unref);
      g_clear_object (&self->frames[i]);
    }
  G_OBJECT_CLASS (bl_compare_parent_class)->dispose (object);
}

static void
bl_compare_class_init (BlCompareClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->dispose = bl_compare_dispose;
}

/* The alternative's name and, as far as there is room, its idea. */
static GtkWidget *
make_head (BlCompare *self, int which)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->titles[which] = gtk_label_new ("");
  self->ideas[which] = gtk_label_new ("");
  gtk_label_set_ellipsize (GTK_LABEL (self->titles[which]), PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (GTK_LABEL (self->ideas[which]), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (self->ideas[which]), 0);
  gtk_widget_set_hexpand (self->ideas[which], TRUE);
  gtk_widget_add_css_class (self->titles[which], "compare-title");
  gtk_widget_add_css_class (self->ideas[which], "idea");
  gtk_box_append (GTK_BOX (head), self->titles[which]);
  gtk_box_append (GTK_BOX (head), self->ideas[which]);
  return head;
}

static void
bl_compare_init (BlCompare *self)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  gtk_widget_add_css_class (GTK_WIDGET (self), "compare");
  for (int i = 0; i < MOST; i++)
    {
      /* Kept while it stands in no grid. */
      self->frames[i] = g_object_ref_sink (gtk_box_new (GTK_ORIENTATION_VERTICAL, 4));
      self->canvases[i] = bl_canvas_new ();
      g_signal_connect (self->canvases[i], "looked", G_CALLBACK (looked_cb), self);
      gtk_widget_set_size_request (self->canvases[i], LEAST_WIDTH, LEAST_HEIGHT);
      gtk_box_append (GTK_BOX (self->frames[i]), make_head (self, i));
      gtk_box_append (GTK_BOX (self->frames[i]), self->canvases[i]);
    }
  self->empty = bl_form_text (
      _ ("There is only one alternative to see: add a copy on the sheet to the left "
         "and change it."),
      "dim");
  gtk_widget_set_visible (self->empty, FALSE);
  self->table = gtk_grid_new ();
  gtk_grid_set_column_homogeneous (GTK_GRID (self->table), TRUE);
  gtk_grid_set_column_spacing (GTK_GRID (self->table), 16);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->table);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_box_append (GTK_BOX (self), scroller);
  gtk_box_append (GTK_BOX (self), self->empty);
}

void
bl_compare_suit (BlCompare *self, gboolean narrow)
{
  if (self->terse == narrow)
    return;
  self->terse = narrow;
  gtk_grid_set_column_spacing (GTK_GRID (self->table), narrow ? 10 : 16);
  for (int i = 0; i < MOST; i++)
    gtk_widget_set_size_request (self->canvases[i], narrow ? TERSE_WIDTH : LEAST_WIDTH, LEAST_HEIGHT);
  if (self->n == 0 || self->scenes[0] == NULL)
    return;
  clear_table (self);
  show_table (self);
}

GtkWidget *
bl_compare_new (GtkWidget *sheet)
{
  BlCompare *self = g_object_new (BL_TYPE_COMPARE, NULL);

  self->sheet = sheet;
  return GTK_WIDGET (self);
}
