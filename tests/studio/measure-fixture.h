/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A board with the demo's photo, or a painted slab, and a hand on it. */
#pragma once

#include <math.h>

#include "studio/hand.h"
#include "tests/studio/dies.h"

#include <cairo.h>

/* The slab joints and the sizes of data/demo/harbour-lane.knowns.json: the renderer's own geometry,
 * given to a tenth of a pixel. */
static const double corners[4][2]
    = { { 400.7, 934.8 }, { 842.2, 791.8 }, { 672.7, 776.9 }, { 194.5, 898.6 } };
#define LONG_SIDE 3.048
#define SHORT_SIDE 1.2192
static const double kerb[2][2] = { { 1520.4, 949.7 }, { 1600.6, 796.4 } }; /* 3.048 m */

/* A light slab on dark ground, its corners where they are said to be. */
static const double slab[4][2]
    = { { 200.3, 400.6 }, { 520.7, 380.2 }, { 600.4, 560.9 }, { 150.2, 590.5 } };

typedef struct
{
  BlDesign *design;
  BlBoard *board;
  BlHand *hand;
  char *said;
} Fixture;

static inline void
said_cb (BlBoard *board, const char *sentence, Fixture *f)
{
  g_free (f->said);
  f->said = g_strdup (sentence);
}

static inline gboolean
start_design (BlDesign *design, gpointer data, GError **error)
{
  BlAlternative a = { 0, 0, (char *) "A", (char *) "", (char *) "" };

  return bl_design_put_alternative (design, &a, error)
         && bl_design_put_text (design, "units", "m", error)
         && bl_design_put_photo (design, data, "strip.jpg", error);
}

static inline void
settle (Fixture *f)
{
  gint64 end = g_get_monotonic_time () + 30 * G_TIME_SPAN_SECOND;

  while ((!bl_board_is_settled (f->board) || bl_board_get_photo (f->board) == NULL)
         && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  g_assert_nonnull (bl_board_get_photo (f->board));
}

static inline cairo_status_t
append (void *data, const unsigned char *bytes, unsigned int length)
{
  g_byte_array_append (data, bytes, length);
  return CAIRO_STATUS_SUCCESS;
}

/* IEC 61966-2-1, the curve of sRGB. */
static inline double
as_light (double value)
{
  return value <= 0.04045 ? value / 12.92 : pow ((value + 0.055) / 1.055, 2.4);
}

static inline guint32
as_value (double light)
{
  return (guint32) (255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * pow (light, 1 / 2.4) - 0.055)
                    + 0.5);
}

/* How much of each pixel the slab covers, 0 to 255. */
static inline cairo_surface_t *
slab_cover (void)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 800, 700);
  cairo_t *cr = cairo_create (surface);

  for (int i = 0; i < 4; i++)
    cairo_line_to (cr, slab[i][0], slab[i][1]);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_BEST);
  cairo_fill (cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* A camera adds up light, not values of sRGB, in the pixels that an edge crosses. */
static inline GBytes *
painted_slab (void)
{
  static const double ground[] = { 0.25, 0.3, 0.2 }, stone[] = { 0.8, 0.78, 0.72 };
  cairo_surface_t *cover = slab_cover ();
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 800, 700);
  GByteArray *png = g_byte_array_new ();

  for (int y = 0; y < 700; y++)
    for (int x = 0; x < 800; x++)
      {
        const guint8 *from = cairo_image_surface_get_data (cover);
        guint8 *to = cairo_image_surface_get_data (surface);
        double k = from[y * cairo_image_surface_get_stride (cover) + x] / 255.0;
        guint32 pixel = 0;

        for (int c = 0; c < 3; c++)
          pixel = pixel << 8 | as_value (k * as_light (stone[c]) + (1 - k) * as_light (ground[c]));
        memcpy (to + y * cairo_image_surface_get_stride (surface) + 4 * x, &pixel, sizeof pixel);
      }
  cairo_surface_mark_dirty (surface);
  g_assert_cmpint (cairo_surface_write_to_png_stream (surface, append, png), ==,
                   CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  cairo_surface_destroy (cover);
  return g_byte_array_free_to_bytes (png);
}

static inline GBytes *
rendered_strip (void)
{
  g_autofree char *path
      = g_test_build_filename (G_TEST_DIST, "..", "data", "demo", "harbour-lane.jpg", NULL);
  g_autoptr (GError) error = NULL;
  char *contents = NULL;
  gsize length = 0;

  g_file_get_contents (path, &contents, &length, &error);
  g_assert_no_error (error);
  return g_bytes_new_take (contents, length);
}

static inline void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = data != NULL ? painted_slab () : rendered_strip ();

  f->design = bl_design_create (NULL, &error);
  g_assert_no_error (error);
  f->board = bl_board_new (f->design, NULL);
  g_signal_connect (f->board, "problem", G_CALLBACK (said_cb), f);
  g_assert_true (bl_board_edit (f->board, "Start", start_design, bytes));
  bl_board_set_view (f->board, BL_VIEW_PHOTO);
  settle (f);
}

static inline void
tear_down (Fixture *f, gconstpointer data)
{
  settle (f);
  g_clear_pointer (&f->hand, bl_hand_free);
  assert_dies (f->board);
  g_object_unref (f->design);
  g_free (f->said);
}

static inline void
take (Fixture *f, const char *name)
{
  g_clear_pointer (&f->hand, bl_hand_free);
  f->hand = bl_hand_new (name, f->board);
  g_assert_nonnull (f->hand);
}

static inline BlHandEvent
event_at (double x, double y, guint mods)
{
  /* The canvas at one photo pixel a screen pixel. */
  return (BlHandEvent) { BL_POINT (x, y), 8, mods, 1 };
}

static inline void
click (Fixture *f, double x, double y, guint mods)
{
  bl_hand_hover (f->hand, event_at (x, y, mods));
  bl_hand_press (f->hand, event_at (x, y, mods));
  bl_hand_release (f->hand, event_at (x, y, mods));
}

static inline void
drag (Fixture *f, double x0, double y0, double x1, double y1)
{
  bl_hand_press (f->hand, event_at (x0, y0, 0));
  bl_hand_drag (f->hand, event_at ((x0 + x1) / 2, (y0 + y1) / 2, 0));
  bl_hand_drag (f->hand, event_at (x1, y1, 0));
  bl_hand_release (f->hand, event_at (x1, y1, 0));
}

static inline const BlModel *
model_of (Fixture *f)
{
  return bl_board_get_model (f->board);
}

static inline const BlKnown *
last_known (Fixture *f)
{
  const BlModel *model = model_of (f);

  g_assert_cmpuint (model->knowns->len, >, 0);
  return g_ptr_array_index (model->knowns, model->knowns->len - 1);
}

/* Four clicks on the joints, then the sizes that the sheet would ask for. */
static inline void
state_rectangle (Fixture *f)
{
  g_autoptr (BlKnown) known = NULL;

  bl_board_set_known_kind (f->board, BL_KNOWN_RECTANGLE);
  take (f, "known");
  for (int i = 0; i < 4; i++)
    click (f, corners[i][0], corners[i][1], BL_MOD_ALT);
  g_assert_nonnull (bl_board_get_pending (f->board));
  known = bl_known_copy (bl_board_get_pending (f->board));
  known->size[0] = LONG_SIDE;
  known->size[1] = SHORT_SIDE;
  known->name = g_strdup ("panel");
  g_assert_true (bl_board_put_known (f->board, "State", known));
  bl_board_set_pending (f->board, NULL);
  g_assert_nonnull (bl_model_camera (model_of (f)));
}
