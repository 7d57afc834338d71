/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan on paper: to a true scale, with its bar, north, names and dimensions. */
#include <math.h>
#include <string.h>

#include "proposal/plan-private.h"
#include "proposal/press-type.h"

#define FOOT 30.0  /* points below the plan for bar and scale */
#define STRIP 17.0 /* points along the edges for dimensions */

char *
bl_book_scale_text (BlScale scale)
{
  GString *text = g_string_new (scale.text);

  g_string_replace (text, "\"", "″", 0);
  g_string_replace (text, "'", "′", 0);
  return g_string_free (text, FALSE);
}

/* A bar of round lengths, black and white by turns, each with its distance from the bar's start. */
static void
draw_scale_bar (BlBook *book, double x, double y, double points_per_metre)
{
  static const double steps[] = { 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100 };
  gboolean feet = book->model->units == BL_UNITS_FEET;
  double unit = feet ? BL_METRES_PER_FOOT : 1, step = steps[G_N_ELEMENTS (steps) - 1];
  cairo_t *cr = book->press->cr;

  for (guint i = feet ? 3 : 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i] * unit * points_per_metre >= 26)
      {
        step = steps[i];
        break;
      }
  for (int i = 0; i <= 4; i++)
    {
      double w = step * unit * points_per_metre;
      g_autofree char *label
          = g_strdup_printf (i == 4 ? (feet ? "%g ft" : "%g m") : "%g", step * i);

      /* The first figure starts at the bar's end, so that it does not leave the measure. */
      bl_press_set_plain (book->press, BL_TYPE_STYLE_SMALL, i == 0 ? x : x + i * w - 11, y + 5,
                          i == 4 ? 40 : 22, i == 0 || i == 4 ? BL_ALIGN_LEFT : BL_ALIGN_CENTRE, 1,
                          label);
      if (i == 4)
        break;
      cairo_rectangle (cr, x + i * w, y, w, 3.2);
      bl_press_color (book->press, bl_press_ink ());
      cairo_set_line_width (cr, 0.5);
      if (i % 2 == 0)
        cairo_fill_preserve (cr);
      cairo_stroke (cr);
    }
}

BlRect
bl_plan_label_box (BlPress *press, BlPoint at, BlTypeStyle style, const char *text)
{
  g_autofree char *escaped = bl_book_escape (text);
  g_autoptr (PangoLayout) layout = bl_press_layout (press, style, 0, BL_ALIGN_CENTRE, escaped);
  PangoRectangle ink;
  double w, h;

  pango_layout_get_extents (layout, &ink, NULL);
  w = (double) ink.width / PANGO_SCALE / 2 + 0.9;
  h = (double) ink.height / PANGO_SCALE / 2 + 0.9;
  return (BlRect) { at.x - w, at.y - h, at.x + w, at.y + h };
}

void
bl_plan_label (BlPress *press, BlPoint at, BlTypeStyle style, const char *text, double alpha)
{
  g_autofree char *escaped = bl_book_escape (text);
  g_autoptr (PangoLayout) layout = bl_press_layout (press, style, 0, BL_ALIGN_CENTRE, escaped);
  PangoRectangle ink;
  double x, y;

  pango_layout_get_extents (layout, &ink, NULL);
  x = at.x - (ink.x + ink.width / 2.0) / PANGO_SCALE;
  y = at.y - (ink.y + ink.height / 2.0) / PANGO_SCALE;
  if (alpha > 0)
    {
      cairo_rectangle (press->cr, x + (double)ink.x / PANGO_SCALE - 0.9,
                       y + (double)ink.y / PANGO_SCALE - 0.9, (double)ink.width / PANGO_SCALE + 1.8,
                       (double)ink.height / PANGO_SCALE + 1.8);
      cairo_set_source_rgba (press->cr, 1, 1, 1, alpha);
      cairo_fill (press->cr);
    }
  bl_press_color (press, bl_press_ink ());
  cairo_move_to (press->cr, x, y);
  pango_cairo_show_layout (press->cr, layout);
  cairo_new_path (press->cr);
}

static void
draw_north (BlBook *book, double x, double y)
{
  cairo_t *cr = book->press->cr;

  if (isnan (book->model->site.north))
    return;
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_arc (cr, 0, 0, 15, 0, 2 * G_PI);
  cairo_set_source_rgba (cr, 1, 1, 1, 0.85);
  cairo_fill (cr);
  cairo_rotate (cr, book->model->site.north * G_PI / 180);
  bl_press_color (book->press, bl_press_ink ());
  cairo_set_line_width (cr, 0.7);
  cairo_arc (cr, 0, 0, 8.5, 0, 2 * G_PI);
  cairo_stroke (cr);
  for (int side = -1; side <= 1; side += 2)
    {
      cairo_move_to (cr, 0, -12.5);
      cairo_line_to (cr, side * 4.0, 5);
      cairo_line_to (cr, 0, 2.4);
      cairo_close_path (cr);
      if (side < 0)
        cairo_fill_preserve (cr);
      cairo_stroke (cr);
    }
  cairo_restore (cr);
  bl_plan_label (book->press, BL_POINT (x, y + 19), BL_TYPE_STYLE_LABEL, "N", 0);
}

BlRect
bl_book_beds (const BlModel *model, double margin)
{
  BlRect rect = BL_RECT_EMPTY;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];

      if (bed->ring != NULL)
        rect = bl_rect_union (rect, bl_rect_of (bed->ring));
    }
  return bl_rect_is_empty (rect) ? bl_model_extent (model) : bl_rect_grow (rect, margin);
}

static BlRect
window_of (const BlBook *book, const BlPlanSetup *setup)
{
  return setup->window.x1 <= setup->window.x0 ? bl_book_beds (book->model, setup->bleed ? 0.12 : 0.3)
                                              : setup->window;
}

static BlRect
frame_of (BlRect box, const BlPlanSetup *setup)
{
  BlRect frame = { box.x0, box.y0, box.x1, box.y1 - FOOT };

  if (setup->dimensions)
    {
      frame.x0 += STRIP;
      frame.y1 -= STRIP;
    }
  return frame;
}

BlScale
bl_book_plan_scale (const BlBook *book, BlRect box, const BlPlanSetup *setup)
{
  BlRect window = window_of (book, setup), frame = frame_of (box, setup);
  double zoom = book->press->zoom;

  return bl_scale_choose (window.x1 - window.x0, window.y1 - window.y0,
                          (frame.x1 - frame.x0) * zoom, (frame.y1 - frame.y0) * zoom,
                          book->model->units);
}

BlRect
bl_book_plan_seen (const BlBook *book, BlRect box, const BlPlanSetup *setup)
{
  BlRect window = window_of (book, setup), frame = frame_of (box, setup);
  double k = bl_scale_points_per_metre (bl_book_plan_scale (book, box, setup)) / book->press->zoom;
  double x = (window.x0 + window.x1) / 2, y = (window.y0 + window.y1) / 2;
  double w = (frame.x1 - frame.x0) / k, h = (frame.y1 - frame.y0) / k;

  return (BlRect) { x - w / 2, y - h / 2, x + w / 2, y + h / 2 };
}

/* @device_scale: device pixels in one of @cr's units. */
static void
paint_scene (const BlBook *book, cairo_t *cr, const BlBookPart *part, const BlSheet *sheet,
             const BlPlanSetup *setup, const BlPaintOptions *paint, double device_scale)
{
  g_autoptr (BlScene) scene
      = bl_scene_new (BL_VIEW_PLAN, part->layout, NULL, setup->moment, setup->scene);
  double w = sheet->frame.x1 - sheet->frame.x0, h = sheet->frame.y1 - sheet->frame.y0, k = sheet->k;
  BlPoint middle = sheet->middle;
  BlRect seen = { middle.x - w / 2 / k, middle.y - h / 2 / k, middle.x + w / 2 / k,
                  middle.y + h / 2 / k };

  cairo_save (cr);
  cairo_rectangle (cr, sheet->frame.x0, sheet->frame.y0, w, h);
  cairo_clip (cr);
  if (!setup->plain)
    {
      cairo_set_source_rgb (cr, 0.980, 0.972, 0.949);
      cairo_paint (cr);
    }
  cairo_translate (cr, sheet->frame.x0 + w / 2, sheet->frame.y0 + h / 2);
  cairo_scale (cr, k, k);
  cairo_translate (cr, -middle.x, middle.y);
  bl_scene_paint (scene, cr, seen, k * device_scale, paint, book->options->cancellable, NULL);
  cairo_restore (cr);
}

static void
paint_lines (BlBook *book, const BlBookPart *part, const BlSheet *sheet, const BlPlanSetup *setup)
{
  BlPaintOptions paint = { .vector = TRUE };

  paint_scene (book, book->press->cr, part, sheet, setup, &paint, book->press->zoom * 300.0 / 72.0);
}

static void
draw_mark (BlBook *book, BlPoint at, const BlPlanMark *mark)
{
  cairo_t *cr = book->press->cr;
  double r = 5.6;

  if (mark->square)
    cairo_rectangle (cr, at.x - r, at.y - r, 2 * r, 2 * r);
  else
    cairo_arc (cr, at.x, at.y, r, 0, 2 * G_PI);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_fill_preserve (cr);
  bl_press_color (book->press, bl_press_ink ());
  cairo_set_line_width (cr, 0.7);
  cairo_stroke (cr);
  bl_plan_label (book->press, at, strlen (mark->text) > 1 ? BL_TYPE_STYLE_NUMBER : BL_TYPE_STYLE_STRONG,
             mark->text, 0);
}

/* A point to tape from: a cross on the very point, its letter beside it. */
static void
draw_marks (BlBook *book, const BlSheet *sheet, const GArray *marks)
{
  cairo_t *cr = book->press->cr;

  for (guint i = 0; marks != NULL && i < marks->len; i++)
    {
      const BlPlanMark *mark = &g_array_index (marks, BlPlanMark, i);
      BlPoint at = bl_on_sheet (sheet, mark->at);
      double up = at.y < sheet->frame.y0 + 18 ? 1 : -1;

      if (!bl_in_frame (sheet, at, 6))
        continue;
      if (!mark->square)
        {
          draw_mark (book, at, mark);
          continue;
        }
      bl_press_color (book->press, bl_press_ink ());
      cairo_set_line_width (cr, 0.9);
      cairo_move_to (cr, at.x - 4, at.y);
      cairo_line_to (cr, at.x + 4, at.y);
      cairo_move_to (cr, at.x, at.y - 4);
      cairo_line_to (cr, at.x, at.y + 4);
      cairo_stroke (cr);
      draw_mark (book, BL_POINT (at.x, at.y + up * 12), mark);
    }
}

static void
draw_numbers (BlBook *book, const BlBookPart *part, const BlSheet *sheet, GHashTable *numbers)
{
  for (guint i = 0; i < part->layout->placed->len; i++)
    {
      const char *text = g_hash_table_lookup (numbers, GUINT_TO_POINTER (i + 1));
      BlPoint at = bl_on_sheet (sheet, g_array_index (part->layout->placed, BlPlaced, i).at);

      if (text != NULL && bl_in_frame (sheet, at, 4))
        bl_plan_label (book->press, at, BL_TYPE_STYLE_NUMBER, text, 0.82);
    }
}

/* One dimension line with strokes across its ends; @upright along the left edge. */
static void
draw_dimension (BlBook *book, double from, double to, double at, gboolean upright, double metres)
{
  cairo_t *cr = book->press->cr;
  g_autofree char *plain = bl_length_format (metres, book->model->units);
  GString *text = g_string_new (plain);

  g_string_replace (text, "\"", "″", 0);
  g_string_replace (text, "'", "′", 0);
  cairo_save (cr);
  if (upright)
    {
      cairo_translate (cr, at, 0);
      cairo_rotate (cr, -G_PI / 2);
      cairo_translate (cr, -to, 0);
    }
  else
    cairo_translate (cr, from, at);
  bl_press_color (book->press, bl_press_ink ());
  cairo_set_line_width (cr, 0.5);
  cairo_move_to (cr, 0, 0);
  cairo_line_to (cr, to - from, 0);
  for (int end = 0; end < 2; end++)
    {
      double x = end * (to - from);

      cairo_move_to (cr, x, -5);
      cairo_line_to (cr, x, 5);
      cairo_move_to (cr, x - 3, 3);
      cairo_line_to (cr, x + 3, -3);
    }
  cairo_stroke (cr);
  bl_plan_label (book->press, BL_POINT ((to - from) / 2, 0), BL_TYPE_STYLE_TABLE, text->str, 1);
  cairo_restore (cr);
  g_string_free (text, TRUE);
}

static void
draw_dimensions (BlBook *book, const BlSheet *sheet)
{
  BlRect beds = bl_book_beds (book->model, 0);
  BlPoint low = bl_on_sheet (sheet, BL_POINT (beds.x0, beds.y0));
  BlPoint high = bl_on_sheet (sheet, BL_POINT (beds.x1, beds.y1));

  draw_dimension (book, low.x, high.x, sheet->frame.y1 + STRIP * 0.55, FALSE, beds.x1 - beds.x0);
  draw_dimension (book, high.y, low.y, sheet->frame.x0 - STRIP * 0.6, TRUE, beds.y1 - beds.y0);
}

/* Where the plan stands: a bleeding one is painted from edge to edge of the sheet, its middle and scale
 * are those of the box. */
static BlSheet
sheet_of (const BlBook *book, BlRect box, const BlPlanSetup *setup)
{
  BlRect window = window_of (book, setup);
  BlSheet sheet = { frame_of (box, setup),
                    bl_scale_points_per_metre (bl_book_plan_scale (book, box, setup))
                        / book->press->zoom,
                    { (window.x0 + window.x1) / 2, (window.y0 + window.y1) / 2 } };

  if (setup->bleed)
    {
      double shift = (sheet.frame.x0 + sheet.frame.x1 - book->press->width) / 2;

      sheet.frame.x0 = 0;
      sheet.frame.x1 = book->press->width;
      sheet.middle.x -= shift / sheet.k;
    }
  return sheet;
}

BlScale
bl_book_plan (BlBook *book, const BlBookPart *part, BlRect box, const BlPlanSetup *setup)
{
  BlScale scale = bl_book_plan_scale (book, box, setup);
  BlSheet sheet = sheet_of (book, box, setup);
  g_autofree char *stated = bl_book_scale_text (scale);
  g_autofree char *text = g_strdup_printf (BL_W (book, "Scale %s. Print at 100 %%."), stated);

  bl_press_remember (book->press, sheet.frame, sheet.frame);
  if (bl_press_is_dry (book->press))
    return scale;
  paint_lines (book, part, &sheet, setup);
  if (setup->numbers != NULL)
    draw_numbers (book, part, &sheet, setup->numbers);
  if (setup->lines != NULL)
    bl_plan_draw_lines (book, &sheet, setup->lines);
  if (setup->spots != NULL)
    bl_plan_draw_spots (book, &sheet, setup->spots);
  draw_marks (book, &sheet, setup->marks);
  if (setup->dimensions)
    draw_dimensions (book, &sheet);
  draw_north (book, box.x1 - 19, sheet.frame.y0 + 22);
  draw_scale_bar (book, setup->dimensions ? sheet.frame.x0 : box.x0, box.y1 - 22, sheet.k);
  bl_press_set_plain (book->press, BL_TYPE_STYLE_SMALL, box.x1 - 200, box.y1 - 17, 200,
                      BL_ALIGN_RIGHT, 1, text);
  return scale;
}

/* Plants whose symbols a small plan carries as lines; more would make each of a dozen small pictures as
 * heavy as the plan itself. */
#define SKETCH_MOST 250
#define SKETCH_DPI 200.0

static void
paint_pixels (BlBook *book, const BlBookPart *part, const BlSheet *sheet, const BlPlanSetup *setup)
{
  double dots = SKETCH_DPI / 72 * book->press->zoom;
  BlRect box = sheet->frame;
  BlSheet inner = { { 0, 0, box.x1 - box.x0, box.y1 - box.y0 }, sheet->k, sheet->middle };
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, MAX ((int) ceil (inner.frame.x1 * dots), 1),
                                    MAX ((int) ceil (inner.frame.y1 * dots), 1));
  cairo_t *cr = cairo_create (surface);
  BlPaintOptions paint = { .cache = book->cache };

  cairo_scale (cr, dots, dots);
  paint_scene (book, cr, part, &inner, setup, &paint, dots);
  cairo_destroy (cr);
  bl_book_place_pixels (book, surface, box);
  cairo_surface_destroy (surface);
}

void
bl_book_plan_sketch (
    BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box, gboolean bare)
{
  BlRect window = bl_book_beds (book->model, 0.5);
  double w = box.x1 - box.x0, h = box.y1 - box.y0;
  double k = MIN (w / MAX (window.x1 - window.x0, 0.1), h / MAX (window.y1 - window.y0, 0.1));
  BlSheet sheet = { box, k, { (window.x0 + window.x1) / 2, (window.y0 + window.y1) / 2 } };
  BlPlanSetup setup = { .scene = bare ? BL_SCENE_BARE : 0, .moment = moment };

  if (bl_press_is_dry (book->press))
    return;
  if (bare || part->layout->placed->len <= SKETCH_MOST)
    paint_lines (book, part, &sheet, &setup);
  else
    paint_pixels (book, part, &sheet, &setup);
}
