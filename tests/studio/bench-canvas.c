/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a frame of the canvas takes with 1,000 and 10,000 plants on a photo of twelve megapixels,
 * in a window of 1440 x 900: panning, zooming, dragging a planting, a month's step. The floor is the
 * scaled photo alone in a bare widget. Floor and canvas take turns, a few frames each, and a ratio is
 * the median of the turns' ratios, so that what else runs on the machine disturbs both alike. From
 * the frame clock's tick to after the display server has answered; beside it the processor time of
 * all our threads. Arguments: how many plants, instead of 1,000 and then 10,000. */

#include "config.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "design/sheet.h"
#include "studio/canvas.h"

#include <glib/gstdio.h>
#include <math.h>

#define PHOTO_W 4000
#define PHOTO_H 3000
#define WINDOW_W 1440
#define WINDOW_H 900
#define FRAMES 14 /* a turn */
#define WARM 4    /* of them not counted */
#define TURNS 9
#define STEPS 5   /* months stepped through */
#define SIDE 512

/* The floor: the photo alone, in tiles scaled beforehand. */

#define BL_TYPE_FLOOR (bl_floor_get_type ())
G_DECLARE_FINAL_TYPE (BlFloor, bl_floor, BL, FLOOR, GtkWidget)

struct _BlFloor
{
  GtkWidget parent_instance;
  BlImage *photo;
  GHashTable *tiles;
  double zoom, scale; /* baked at; shown at, as a multiple */
  int ox, oy;
};

G_DEFINE_FINAL_TYPE (BlFloor, bl_floor, GTK_TYPE_WIDGET)

static GdkTexture *
floor_tile (BlFloor *self, int column, int row)
{
  gint64 key = ((gint64)column << 32) | (guint32)row;
  GdkTexture *texture = g_hash_table_lookup (self->tiles, &key);
  cairo_surface_t *s, *from;
  double k;
  const BlPixels *level;
  cairo_t *cr;
  g_autoptr (GBytes) bytes = NULL;

  if (texture != NULL)
    return texture;
  level = bl_image_level_for (self->photo, self->zoom, &k);
  from = cairo_image_surface_create_for_data (level->data, CAIRO_FORMAT_ARGB32, level->width,
                                              level->height, level->stride);
  s = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
  cr = cairo_create (s);
  cairo_translate (cr, -column * SIDE, -row * SIDE);
  cairo_scale (cr, self->zoom / k, self->zoom / k);
  cairo_set_source_surface (cr, from, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_destroy (from);
  cairo_surface_flush (s);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (s), SIDE * SIDE * 4,
                                      (GDestroyNotify)cairo_surface_destroy, s);
  /* Plain colours: GTK's cairo renderer draws them faster than premultiplied ones. */
  texture = gdk_memory_texture_new (SIDE, SIDE, G_BYTE_ORDER == G_LITTLE_ENDIAN
                                                  ? GDK_MEMORY_B8G8R8A8 : GDK_MEMORY_A8R8G8B8,
                                    bytes, SIDE * 4);
  g_hash_table_insert (self->tiles, g_memdup2 (&key, sizeof key), texture);
  return texture;
}

static void
bl_floor_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BlFloor *self = BL_FLOOR (widget);
  double side = SIDE * self->scale;
  int w = gtk_widget_get_width (widget), h = gtk_widget_get_height (widget);
  int columns = (int)ceil (PHOTO_W * self->zoom / SIDE), rows = (int)ceil (PHOTO_H * self->zoom / SIDE);

  gtk_snapshot_append_color (snapshot, &(GdkRGBA){ 0.89f, 0.87f, 0.82f, 1 },
                             &GRAPHENE_RECT_INIT (0, 0, (float)w, (float)h));
  for (int row = MAX (0, (int)floor (-self->oy / side)); row < rows && self->oy + row * side < h; row++)
    for (int column = MAX (0, (int)floor (-self->ox / side));
         column < columns && self->ox + column * side < w; column++)
      {
        double x0 = round (self->ox + column * side), y0 = round (self->oy + row * side);
        double x1 = round (self->ox + (column + 1) * side), y1 = round (self->oy + (row + 1) * side);

        gtk_snapshot_append_texture (snapshot, floor_tile (self, column, row),
          &GRAPHENE_RECT_INIT ((float)x0, (float)y0, (float)(x1 - x0), (float)(y1 - y0)));
      }
}

static void
bl_floor_finalize (GObject *object)
{
  g_hash_table_unref (BL_FLOOR (object)->tiles);
  bl_image_unref (BL_FLOOR (object)->photo);
  G_OBJECT_CLASS (bl_floor_parent_class)->finalize (object);
}

static void
bl_floor_class_init (BlFloorClass *klass)
{
  GTK_WIDGET_CLASS (klass)->snapshot = bl_floor_snapshot;
  G_OBJECT_CLASS (klass)->finalize = bl_floor_finalize;
}

static void
bl_floor_init (BlFloor *self)
{
  self->tiles = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_object_unref);
  self->scale = 1;
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

/* The design: the demo's photo enlarged to twelve megapixels, and one bed full of drifts. */

typedef struct
{
  double wall, cpu; /* ms */
} Cost;

static const char *const mix[]
    = { "echinacea-purpurea", "nepeta-x-faassenii", "salvia-nemorosa-ostfriesland",
        "calamagrostis-x-acutiflora-karl-foerster", "hylotelephium-herbstfreude",
        "pennisetum-alopecuroides-hameln", "hydrangea-arborescens-annabelle",
        "hemerocallis-stella-de-oro", "festuca-glauca", "phlox-paniculata-david", "armeria-maritima",
        "phlox-subulata" };

#define BED_LONG 12.0
#define BED_DEEP 3.2
#define STRIPES 20

/* Returns how many times as wide it became. */
static double
make_photo (const char *folder)
{
  g_autofree char *from = g_test_build_filename (G_TEST_DIST, "..", "data", "demo",
                                                 "harbour-lane.jpg", NULL);
  g_autofree char *to = g_build_filename (folder, "wide.jpg", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkPixbuf) small = gdk_pixbuf_new_from_file (from, &error), wide = NULL;

  g_assert_no_error (error);
  wide = gdk_pixbuf_scale_simple (small, PHOTO_W, PHOTO_H, GDK_INTERP_BILINEAR);
  gdk_pixbuf_save (wide, to, "jpeg", &error, "quality", "88", NULL);
  g_assert_no_error (error);
  return (double)PHOTO_W / gdk_pixbuf_get_width (small);
}

static BlDesign *
make_design (const char *folder, BlLibrary *library, guint n)
{
  double k = make_photo (folder), spacing = 0.79 * sqrt (BED_LONG * BED_DEEP / n / (sqrt (3) / 2));
  g_autoptr (GString) s = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  BlDesign *design;

  g_string_append_printf (s,
    "{\"design_sheet\":1,\"title\":\"Bench\",\"units\":\"m\",\"currency\":\"USD\","
    "\"photo\":{\"file\":\"wide.jpg\",\"focal_35mm\":26},\"known\":["
    "{\"kind\":\"rectangle\",\"px\":[[%.1f,%.1f],[%.1f,%.1f],[%.1f,%.1f],[%.1f,%.1f]],"
    "\"width\":3.048,\"depth\":1.2192},"
    "{\"kind\":\"length\",\"px\":[[%.1f,%.1f],[%.1f,%.1f]],\"value\":3.048},"
    "{\"kind\":\"height\",\"px\":[[%.1f,%.1f],[%.1f,%.1f]],\"value\":2.1336},"
    "{\"kind\":\"position\",\"px\":[%.1f,%.1f],\"at\":[1.524,3.999]}],",
    400.7 * k, 934.8 * k, 842.2 * k, 791.8 * k, 672.7 * k, 776.9 * k, 194.5 * k, 898.6 * k,
    1520.4 * k, 949.7 * k, 1600.6 * k, 796.4 * k, 1599.6 * k, 684.2 * k, 1612.7 * k, 433.4 * k,
    400.6 * k, 933.8 * k);
  g_string_append_printf (s,
    "\"beds\":[{\"name\":\"Strip\",\"outline\":[[0.4,0.3],[%.2f,0.3],[%.2f,%.2f],[0.4,%.2f]],"
    "\"straight\":true}],\"alternatives\":[{\"name\":\"A\",\"plantings\":[",
    0.4 + BED_LONG, 0.4 + BED_LONG, 0.3 + BED_DEEP, 0.3 + BED_DEEP);
  for (guint i = 0; i < STRIPES; i++)
    {
      double x0 = 0.4 + BED_LONG / STRIPES * i, x1 = x0 + BED_LONG / STRIPES;

      g_string_append_printf (s,
        "%s{\"plant\":\"%s\",\"form\":\"drift\",\"bed\":\"Strip\",\"outline\":[[%.3f,0.3],"
        "[%.3f,0.3],[%.3f,%.2f],[%.3f,%.2f]],\"straight\":true,\"spacing\":%.4f}",
        i > 0 ? "," : "", mix[i % G_N_ELEMENTS (mix)], x0, x1, x1, 0.3 + BED_DEEP, x0,
        0.3 + BED_DEEP, spacing);
    }
  g_string_append (s, "]}]}");
  design = bl_sheet_draft (s->str, (gssize)s->len, folder, library, NULL, &error);
  g_assert_no_error (error);
  return design;
}

/* Frames. */

typedef struct
{
  GtkWidget *window, *shown;
  double *ms, *cpu;
  guint n, wanted;
  gint64 start;
  double cpu_start;
  void (*step) (gpointer data, guint frame);
  gpointer data;
} Run;

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static double
median (double *v, guint n)
{
  qsort (v, n, sizeof *v, by_value);
  return v[n / 2];
}

/* Processor time of the whole program so far, ms. */
static double
cpu_ms (void)
{
  struct timespec t;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &t);
  return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Run *run = data;

  run->start = g_get_monotonic_time ();
  run->cpu_start = cpu_ms ();
  run->step (run->data, run->n);
  gtk_widget_queue_draw (run->shown);
  return G_SOURCE_CONTINUE;
}

static void
painted_cb (GdkFrameClock *clock, Run *run)
{
  if (run->start == 0 || run->n >= run->wanted)
    return;
  gdk_display_sync (gtk_widget_get_display (run->window));
  run->cpu[run->n] = cpu_ms () - run->cpu_start;
  run->ms[run->n++] = (double)(g_get_monotonic_time () - run->start) / 1000;
  run->start = 0;
}

/* The median over one turn's frames but the first few. */
static Cost
turn (GtkWidget *stack, GtkWidget *shown, void (*step) (gpointer, guint))
{
  double ms[FRAMES], cpu[FRAMES];
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (stack));
  Run run = { window, shown, ms, cpu, 0, FRAMES, 0, 0, step, shown };
  GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
  guint tick;
  gulong after;

  gtk_stack_set_visible_child (GTK_STACK (stack), shown);
  tick = gtk_widget_add_tick_callback (shown, tick_cb, &run, NULL);
  after = g_signal_connect_after (clock, "after-paint", G_CALLBACK (painted_cb), &run);
  while (run.n < run.wanted)
    g_main_context_iteration (NULL, TRUE);
  gtk_widget_remove_tick_callback (shown, tick);
  g_signal_handler_disconnect (clock, after);
  return (Cost){ median (ms + WARM, FRAMES - WARM), median (cpu + WARM, FRAMES - WARM) };
}

static void
step_floor_pan (gpointer data, guint frame)
{
  BlFloor *floor = data;

  floor->ox += frame % 20 < 10 ? 3 : -3;
}

static void
step_floor_zoom (gpointer data, guint frame)
{
  BlFloor *floor = data;

  floor->scale *= frame % 20 < 10 ? 1.01 : 1 / 1.01;
}

static void
step_pan (gpointer data, guint frame)
{
  BlViewport viewport = *bl_canvas_get_viewport (data);

  bl_viewport_pan (&viewport, frame % 20 < 10 ? 3 : -3, 0);
  bl_canvas_set_viewport (data, &viewport);
}

static void
step_zoom (gpointer data, guint frame)
{
  BlViewport viewport = *bl_canvas_get_viewport (data);

  bl_viewport_zoom_at (&viewport, BL_POINT (700, 450),
                       viewport.zoom * (frame % 20 < 10 ? 1.01 : 1 / 1.01));
  bl_canvas_set_viewport (data, &viewport);
}

static void
step_drag (gpointer data, guint frame)
{
  BlBoard *board = bl_canvas_get_board (data);
  const BlModel *model = bl_board_get_model (board);
  const BlPlanting *planting = g_ptr_array_index (model->plantings, 0);

  bl_board_lift (board, planting->id, BL_POINT (0.01 * (frame % 20), 0.005 * (frame % 20)));
}

static gboolean
wake_cb (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

static void
until (gboolean (*done) (BlCanvas *), GtkWidget *canvas, guint seconds)
{
  gint64 end = g_get_monotonic_time () + seconds * G_TIME_SPAN_SECOND;
  guint wake = g_timeout_add (50, wake_cb, NULL);

  while (!done (BL_CANVAS (canvas)))
    {
      g_assert_cmpint (g_get_monotonic_time (), <, end);
      g_main_context_iteration (NULL, TRUE);
    }
  g_source_remove (wake);
}

/* What the canvas does in the person's pauses has time to end. */
#define REST_MS 1500

static gboolean
rested_cb (gpointer data)
{
  *(gboolean *)data = TRUE;
  return G_SOURCE_REMOVE;
}

static void
rest (guint ms)
{
  gboolean rested = FALSE;

  g_timeout_add (ms, rested_cb, &rested);
  while (!rested)
    g_main_context_iteration (NULL, TRUE);
}

static Cost
month_step (GtkWidget *canvas)
{
  double ms[STEPS], cpu[STEPS];

  for (guint i = 0; i < STEPS; i++)
    {
      BlBoard *board = bl_canvas_get_board (BL_CANVAS (canvas));
      BlMoment moment = bl_board_get_moment (board);
      double cpu_start;
      gint64 start;

      until (bl_canvas_is_fresh, canvas, 120);
      rest (REST_MS);
      start = g_get_monotonic_time ();
      cpu_start = cpu_ms ();
      moment.month = 4.5 + i;
      bl_board_set_moment (board, moment);
      until (bl_canvas_is_complete, canvas, 60);
      gdk_display_sync (gtk_widget_get_display (canvas));
      cpu[i] = cpu_ms () - cpu_start;
      ms[i] = (double)(g_get_monotonic_time () - start) / 1000;
    }
  return (Cost){ median (ms, STEPS), median (cpu, STEPS) };
}

/* Resident memory, MB, as the kernel gives it. */
static double
resident (void)
{
  g_autofree char *text = NULL;
  char *at;

  if (!g_file_get_contents ("/proc/self/status", &text, NULL, NULL)
      || (at = strstr (text, "VmRSS:")) == NULL)
    return NAN;
  return g_ascii_strtod (at + 6, NULL) / 1024;
}

typedef struct
{
  GtkWidget *stack, *canvas, *floor;
} Easel;

/* One kind of movement, in turns with the floor's. FALSE if by both clocks it takes more than @most times
 * as long. */
static gboolean
row (const Easel *easel, const char *what, void (*step) (gpointer, guint),
     void (*floor_step) (gpointer, guint), double most)
{
  double wall[TURNS], cpu[TURNS], floor_wall[TURNS], floor_cpu[TURNS], k[TURNS], k_cpu[TURNS];

  for (guint i = 0; i < TURNS; i++)
    {
      Cost floor = turn (easel->stack, easel->floor, floor_step);
      Cost own = turn (easel->stack, easel->canvas, step);

      wall[i] = own.wall, cpu[i] = own.cpu;
      floor_wall[i] = floor.wall, floor_cpu[i] = floor.cpu;
      k[i] = own.wall / floor.wall, k_cpu[i] = own.cpu / floor.cpu;
    }
  printf ("  %-5s %6.1f ms = %5.2f x the floor %6.1f ms; processor %6.1f ms = %5.2f x %6.1f ms"
          "  (at most %.1f)\n",
          what, median (wall, TURNS), median (k, TURNS), median (floor_wall, TURNS),
          median (cpu, TURNS), median (k_cpu, TURNS), median (floor_cpu, TURNS), most);
  return MIN (median (k, TURNS), median (k_cpu, TURNS)) <= most;
}

/* All plants of the first planting selected: their rings move with the picture. */
static void
select_first (BlBoard *board, gboolean on)
{
  const BlPlanting *planting = g_ptr_array_index (bl_board_get_model (board)->plantings, 0);

  bl_board_clear_selection (board);
  if (on)
    bl_board_select (board, BL_PICK_PLANTING, planting->id, FALSE);
}

/* On a quiet machine a movement takes at most twice the floor, ten times the plants at most five times. */
static gboolean
bench (GtkWidget *window, const char *folder, BlLibrary *library, guint n)
{
  double most = n > 1000 ? 10 : 4, before = resident ();
  gboolean held = TRUE;
  Cost month;
  g_autoptr (BlDesign) design = make_design (folder, library, n);
  g_autoptr (BlBoard) board = bl_board_new (design, library);
  Easel easel = { gtk_stack_new (), bl_canvas_new (), g_object_new (BL_TYPE_FLOOR, NULL) };
  BlFloor *floor = BL_FLOOR (easel.floor);
  BlCanvas *canvas = BL_CANVAS (easel.canvas);
  gint64 start = g_get_monotonic_time ();

  bl_board_set_view (board, BL_VIEW_PHOTO);
  bl_canvas_set_board (canvas, board);
  gtk_stack_add_child (GTK_STACK (easel.stack), easel.canvas);
  gtk_stack_add_child (GTK_STACK (easel.stack), easel.floor);
  gtk_window_set_child (GTK_WINDOW (window), easel.stack);
  until (bl_canvas_is_fresh, easel.canvas, 120);
  printf ("%u plants, %s; first crisp picture after %.0f ms\n",
          bl_board_get_layout (board)->placed->len,
          G_OBJECT_TYPE_NAME (gtk_native_get_renderer (GTK_NATIVE (window))),
          (double)(g_get_monotonic_time () - start) / 1000);
  floor->photo = bl_image_ref (bl_board_get_photo (board));
  floor->zoom = bl_canvas_get_zoom (canvas);
  floor->ox = (int)bl_canvas_get_viewport (canvas)->ox;
  floor->oy = (int)bl_canvas_get_viewport (canvas)->oy;
  month = month_step (easel.canvas);
  until (bl_canvas_is_fresh, easel.canvas, 120);
  rest (REST_MS);
  printf ("  memory %.0f MB more than before, all caches and the photo's levels in it\n",
          resident () - before);
  printf ("  month %6.0f ms to the first complete frame, processor %.0f ms\n", month.wall,
          month.cpu);
  held &= row (&easel, "pan", step_pan, step_floor_pan, most);
  select_first (board, TRUE);
  held &= row (&easel, "held", step_pan, step_floor_pan, most);
  select_first (board, FALSE);
  held &= row (&easel, "drag", step_drag, step_floor_pan, most);
  bl_board_lift (board, 0, BL_POINT (0, 0));
  until (bl_canvas_is_fresh, easel.canvas, 120);
  held &= row (&easel, "zoom", step_zoom, step_floor_zoom, most);
  gtk_window_set_child (GTK_WINDOW (window), NULL);
  return held;
}

int
main (int argc, char **argv)
{
  g_autofree char *folder = g_dir_make_tmp ("bench-canvas-XXXXXX", NULL);
  g_autofree char *path = bl_library_default_path ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BlLibrary) library = NULL;
  g_autofree char *photo = g_build_filename (folder, "wide.jpg", NULL);
  GtkWidget *window;
  gboolean held;

  g_test_init (&argc, &argv, NULL);
  setvbuf (stdout, NULL, _IOLBF, 0);
  gtk_init ();
  library = bl_library_open (path, NULL, &error);
  g_assert_no_error (error);
  window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), WINDOW_W, WINDOW_H);
  gtk_window_present (GTK_WINDOW (window));
  if (argc > 1)
    held = bench (window, folder, library, (guint)g_ascii_strtoull (argv[1], NULL, 10));
  else
    {
      held = bench (window, folder, library, 1000);
      held &= bench (window, folder, library, 10000);
    }
  gtk_window_destroy (GTK_WINDOW (window));
  g_remove (photo);
  g_rmdir (folder);
  return held ? 0 : 1;
}
