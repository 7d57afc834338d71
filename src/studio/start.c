/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The start page: four ways to begin, the recent designs, a border in flower. */

#include "config.h"

#include "studio/start.h"

#include "base/rng.h"
#include "draw/figure.h"
#include "studio/form.h"
#include "studio/icon.h"
#include "studio/later.h"
#include "studio/steady.h"
#include "studio/window.h"
#include "studio/work.h"

#include <glib/gi18n.h>

/* The border along the foot of the page: real figures of the library, drawn once. */

#define BL_TYPE_BORDER (bl_border_get_type ())
G_DECLARE_FINAL_TYPE (BlBorder, bl_border, BL, BORDER, GtkWidget)

#define COLUMN_WIDE 900
#define COLUMN_NARROW 700
#define BORDER_WIDTH 2600
#define BORDER_HEIGHT 230

struct _BlBorder
{
  GtkWidget parent_instance;

  GdkTexture *texture;
  GCancellable *job;
  BlApp *app; /* not owned; has the library */
};

G_DEFINE_FINAL_TYPE (BlBorder, bl_border, GTK_TYPE_WIDGET)

static void
border_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BlBorder *self = BL_BORDER (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  if (self->texture == NULL)
    return;
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  for (int x = 0; x < width; x += BORDER_WIDTH)
    gtk_snapshot_append_texture (
        snapshot, self->texture,
        &GRAPHENE_RECT_INIT (x, height - BORDER_HEIGHT, BORDER_WIDTH, BORDER_HEIGHT));
  gtk_snapshot_pop (snapshot);
}

static void
border_measure (GtkWidget *widget,
                GtkOrientation orientation,
                int for_size,
                int *minimum,
                int *natural,
                int *minimum_baseline,
                int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 1 : 60;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 1000 : BORDER_HEIGHT;
}

typedef struct
{
  BlPlant *plant;
  BlLook look;
  double x, y, k;
  guint64 seed;
} Standing;

static int
compare_standing (gconstpointer a, gconstpointer b)
{
  const Standing *p = a, *q = b;

  return (p->y > q->y) - (p->y < q->y);
}

static void
draw_border (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GPtrArray *plants = data;
  BlFigureLight light = { 0.4, 1, { 1, 1, 1, 1 } };
  BlRng rng = bl_rng (2027);
  g_autoptr (GArray) standing = g_array_new (FALSE, FALSE, sizeof (Standing));
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, BORDER_WIDTH, BORDER_HEIGHT);
  cairo_t *cr = cairo_create (surface);
  int stride = cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes = NULL;

  for (double x = 10; x < BORDER_WIDTH - 10;)
    {
      BlPlant *plant = g_ptr_array_index (plants, bl_rng_int (&rng, plants->len));
      guint n = 1 + bl_rng_int (&rng, plant->height < 0.7 ? 5 : 2);

      for (guint i = 0; i < n; i++)
        {
          Standing one = { plant, bl_plant_look (plant, NULL, 11, (BlMoment) { 7.3, 6 }), 0, 0, 0,
                           bl_rng_next (&rng) };
          double depth
              = plant->height > 0.9 ? bl_rng_range (&rng, 0, 0.4) : bl_rng_range (&rng, 0.35, 1);

          one.k = 92 + 26 * depth;
          one.x = x + bl_rng_range (&rng, -8, 8);
          one.y = BORDER_HEIGHT - 34 + 32 * depth;
          x += MAX (plant->spread, 0.25) * one.k * bl_rng_range (&rng, 0.26, 0.4);
          if (one.x > 40 && one.x < BORDER_WIDTH - 40)
            g_array_append_val (standing, one);
        }
    }
  g_array_sort (standing, compare_standing);
  for (guint i = 0; i < standing->len && !g_cancellable_is_cancelled (cancellable); i++)
    {
      Standing *one = &g_array_index (standing, Standing, i);

      cairo_save (cr);
      cairo_translate (cr, one->x, one->y);
      cairo_scale (cr, one->k, one->k);
      bl_figure_draw (cr, one->plant, &one->look, one->seed, &light, one->k);
      cairo_restore (cr);
    }
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface),
                                      (gsize) stride * BORDER_HEIGHT,
                                      (GDestroyNotify) cairo_surface_destroy, surface);
  g_task_return_pointer (task,
                         gdk_memory_texture_new (BORDER_WIDTH, BORDER_HEIGHT, GDK_MEMORY_DEFAULT,
                                                 bytes, (gsize)stride),
                         g_object_unref);
}

static void
border_drawn_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlBorder *self = BL_BORDER (source);
  GdkTexture *texture = g_task_propagate_pointer (G_TASK (result), NULL);

  if (texture == NULL)
    return;
  g_clear_object (&self->texture);
  self->texture = texture;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Low flowering plants and grasses: what a border's edge is made of. */
static void
border_plant (GtkWidget *widget)
{
  BlBorder *self = BL_BORDER (widget);
  BlLibrary *library = bl_app_get_library (self->app, NULL);
  BlPlantQuery query = { .height_high = 1.3, .spread_high = 1.2, .limit = 80 };
  g_autoptr (GPtrArray) found = library != NULL ? bl_library_find (library, &query, NULL) : NULL;
  GPtrArray *plants = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_unref);
  g_autoptr (GTask) task = NULL;

  for (guint i = 0; found != NULL && i < found->len; i++)
    {
      BlPlant *plant = g_ptr_array_index (found, i);

      if (plant->spring_only || plant->type == BL_TYPE_VINE || plant->type == BL_TYPE_FERN)
        continue;
      if (bl_months_include (plant->flower_from, plant->flower_to, 7)
          || plant->type == BL_TYPE_GRASS)
        g_ptr_array_add (plants, bl_plant_ref (plant));
    }
  if (plants->len == 0)
    {
      g_ptr_array_unref (plants);
      return;
    }
  self->job = g_cancellable_new ();
  task = bl_work_new (self, self->job, border_drawn_cb, NULL);
  g_task_set_source_tag (task, border_plant);
  g_task_set_task_data (task, plants, (GDestroyNotify) g_ptr_array_unref);
  g_task_run_in_thread (task, draw_border);
}

static void
border_dispose (GObject *object)
{
  BlBorder *self = BL_BORDER (object);

  if (self->job != NULL)
    g_cancellable_cancel (self->job);
  g_clear_object (&self->job);
  g_clear_object (&self->texture);
  G_OBJECT_CLASS (bl_border_parent_class)->dispose (object);
}

static void
bl_border_class_init (BlBorderClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = border_dispose;
  GTK_WIDGET_CLASS (klass)->snapshot = border_snapshot;
  GTK_WIDGET_CLASS (klass)->measure = border_measure;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
bl_border_init (BlBorder *self)
{
}

/* The page. */

typedef struct
{
  BlSettings *settings;
  GtkWidget *recent, *none; /* the cards; the words where there are none */
  GtkWidget *column, *border;
} Start;

static void
start_free (gpointer data)
{
  Start *start = data;

  g_object_unref (start->settings);
  g_free (start);
}

static void
recent_clicked_cb (GtkButton *button, gpointer data)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (button));

  if (BL_IS_WINDOW (root))
    bl_window_open (BL_WINDOW (root), g_object_get_data (G_OBJECT (button), "path"));
}

/* Small pictures are read on other threads; a design without one gets none. */

static void
read_thumbnail (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_task_return_pointer (task, gdk_texture_new_from_filename (data, NULL), g_object_unref);
}

static void
thumbnail_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GdkTexture) texture = g_task_propagate_pointer (G_TASK (result), NULL);

  if (texture != NULL)
    gtk_picture_set_paintable (GTK_PICTURE (source), GDK_PAINTABLE (texture));
}

static void
load_thumbnail (GtkWidget *picture, const char *path)
{
  g_autoptr (GTask) task = bl_work_new (picture, NULL, thumbnail_read_cb, NULL);

  g_task_set_source_tag (task, load_thumbnail);
  g_task_set_task_data (task, g_strdup (path), g_free);
  g_task_run_in_thread (task, read_thumbnail);
}

static GtkWidget *
recent_card (const BlRecent *recent)
{
  GtkWidget *button = gtk_button_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_autofree char *thumbnail = bl_settings_thumbnail_path (recent->path);
  g_autofree char *folder = g_path_get_dirname (recent->path);
  g_autofree char *name = g_strdup_printf (_("Open %s"), recent->title);
  GtkWidget *picture = gtk_picture_new ();
  GtkWidget *title = gtk_label_new (recent->title), *where = gtk_label_new (folder);

  gtk_picture_set_content_fit (GTK_PICTURE (picture), GTK_CONTENT_FIT_COVER);
  gtk_picture_set_can_shrink (GTK_PICTURE (picture), TRUE);
  gtk_widget_set_size_request (picture, 168, 112);
  gtk_widget_set_overflow (picture, GTK_OVERFLOW_HIDDEN);
  gtk_widget_add_css_class (picture, "thumbnail");
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_label_set_xalign (GTK_LABEL (where), 0);
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (GTK_LABEL (where), PANGO_ELLIPSIZE_START);
  gtk_label_set_max_width_chars (GTK_LABEL (title), 18);
  gtk_label_set_max_width_chars (GTK_LABEL (where), 18);
  gtk_widget_add_css_class (title, "plant-name");
  gtk_widget_add_css_class (where, "facts");
  gtk_box_append (GTK_BOX (box), picture);
  gtk_box_append (GTK_BOX (box), title);
  gtk_box_append (GTK_BOX (box), where);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "recent");
  gtk_widget_set_tooltip_text (button, recent->path);
  bl_form_call (button, name);
  g_object_set_data_full (G_OBJECT (button), "path", g_strdup (recent->path), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (recent_clicked_cb), NULL);
  load_thumbnail (picture, thumbnail);
  return button;
}

void
bl_start_refresh (GtkWidget *widget)
{
  Start *start = g_object_get_data (G_OBJECT (widget), "start");
  g_autoptr (GPtrArray) recent = bl_settings_recent (start->settings);

  bl_form_clear (start->recent);
  for (guint i = 0; i < recent->len && i < 6; i++)
    gtk_box_append (GTK_BOX (start->recent), recent_card (g_ptr_array_index (recent, i)));
  gtk_widget_set_visible (start->none, recent->len == 0);
}

void
bl_start_suit (GtkWidget *widget, gboolean narrow)
{
  Start *start = g_object_get_data (G_OBJECT (widget), "start");

  gtk_widget_set_size_request (start->column, narrow ? COLUMN_NARROW : COLUMN_WIDE, -1);
  gtk_widget_set_visible (start->border, !narrow);
}

static GtkWidget *
way (const char *icon, const char *title, const char *words, const char *action)
{
  GtkWidget *button = gtk_button_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *image = bl_icon_image (icon), *head = bl_form_text (title, "way-title");
  GtkWidget *text = bl_form_text (words, "dim");

  gtk_widget_set_halign (image, GTK_ALIGN_START);
  gtk_label_set_max_width_chars (GTK_LABEL (text), 24);
  gtk_box_append (GTK_BOX (box), image);
  gtk_box_append (GTK_BOX (box), head);
  gtk_box_append (GTK_BOX (box), text);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "way");
  bl_form_call (button, title);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

/* A grid, where a box would do: it asks each child for its height at a width only, a box for the width at
 * its height too, which is sought by setting the words again and again. */
static GtkWidget *
make_ways (void)
{
  GtkWidget *row = bl_form_line (14);
  GtkWidget *ways[]
      = { way ("bl-photo-symbolic", _ ("From a photo"),
               _ ("Trace the bed on it; one known size gives all the others."), "win.new-photo"),
          way ("bl-plan-symbolic", _ ("On a plan from elsewhere"),
               _ ("A survey or a drawing; one known length gives its scale."), "win.new-drawing"),
          way ("bl-tape-symbolic", _ ("From tape measurements"),
               _ ("Points and distances; the plan follows."), "win.new-tape"),
          way ("bl-blank-symbolic", _ ("On a blank plan"),
               _ ("Draw or type the bed, then plant it."), "win.new-blank") };

  for (guint i = 0; i < G_N_ELEMENTS (ways); i++)
    {
      gtk_widget_set_hexpand (ways[i], TRUE);
      bl_form_line_add (row, ways[i]);
    }
  gtk_grid_set_column_homogeneous (GTK_GRID (row), TRUE);
  return row;
}

/* What was worked on, with the tour and the way to other designs at its head. */
static void
add_recent (Start *start, GtkWidget *column)
{
  GtkWidget *head = bl_form_line (12), *heading = bl_form_heading (_ ("Recent designs"));
  GtkWidget *open = bl_form_button (_ ("Open a design…"), "bl-open-symbolic", "win.open");
  GtkWidget *tour = bl_form_button (_ ("A five-minute tour"), NULL, "win.tour");
  GtkWidget *scroller = gtk_scrolled_window_new ();

  gtk_widget_add_css_class (head, "start-head");
  gtk_widget_set_hexpand (heading, TRUE);
  gtk_widget_set_valign (tour, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (open, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (open, FALSE);
  bl_form_line_add (head, heading);
  bl_form_line_add (head, tour);
  bl_form_line_add (head, open);
  gtk_box_append (GTK_BOX (column), head);
  start->none = bl_form_text (_ ("Designs you have worked on will be kept here. Everything is saved as "
                                 "you go, in your documents folder."),
                              "dim");
  gtk_label_set_max_width_chars (GTK_LABEL (start->none), 80);
  gtk_box_append (GTK_BOX (column), start->none);
  start->recent = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), start->recent);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_AUTOMATIC,
                                  GTK_POLICY_NEVER);
  gtk_box_append (GTK_BOX (column), scroller);
}

GtkWidget *
bl_start_new (BlApp *app)
{
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0),
            *scroller = gtk_scrolled_window_new ();
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 18), *motto, *border;
  Start *start = g_new0 (Start, 1);

  start->settings = g_object_ref (bl_app_get_settings (app));
  g_object_set_data_full (G_OBJECT (page), "start", start, start_free);
  gtk_widget_add_css_class (page, "start");
  gtk_box_append (GTK_BOX (column), bl_form_text ("Bedline", "wordmark"));
  motto = bl_form_text (_ ("From one photo of a hard spot to a planting that can be built."), "motto");
  gtk_label_set_max_width_chars (GTK_LABEL (motto), 60);
  gtk_box_append (GTK_BOX (column), motto);
  gtk_box_append (GTK_BOX (column), make_ways ());
  add_recent (start, column);
  start->column = column;
  gtk_widget_add_css_class (column, "start-column");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), bl_steady_new (column));
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_box_append (GTK_BOX (page), scroller);
  border = g_object_new (BL_TYPE_BORDER, NULL);
  BL_BORDER (border)->app = app;
  /* Only when the page is seen, and after its first frame: nothing else waits for flowers. */
  bl_later (border, 30, border_plant);
  gtk_box_append (GTK_BOX (page), border);
  start->border = border;
  bl_start_suit (page, FALSE);
  bl_start_refresh (page);
  return page;
}
