/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan on paper: to a true scale, with its bar, north, names and dimensions. */
#include <math.h>
#include <string.h>

#include "proposal/book.h"
#include "proposal/press-type.h"

#define FOOT 30.0  /* points below the plan for bar and scale */
#define STRIP 17.0 /* points along the edges for dimensions */

/* Where the plan stands on the page, and how large. */
typedef struct
{
  BlRect frame;   /* points */
  double k;       /* points a metre */
  BlPoint middle; /* plan point in the frame's middle */
} Sheet;

static BlPoint
on_sheet (const Sheet *sheet, BlPoint p)
{
  return BL_POINT ((sheet->frame.x0 + sheet->frame.x1) / 2 + (p.x - sheet->middle.x) * sheet->k,
                   (sheet->frame.y0 + sheet->frame.y1) / 2 - (p.y - sheet->middle.y) * sheet->k);
}

static gboolean
in_frame (const Sheet *sheet, BlPoint p, double margin)
{
  return p.x >= sheet->frame.x0 + margin && p.x <= sheet->frame.x1 - margin
         && p.y >= sheet->frame.y0 + margin && p.y <= sheet->frame.y1 - margin;
}

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

/* Small text centred on a point, on a plate that lets the drawing shine through. */
static void
set_label (BlPress *press, BlPoint at, BlTypeStyle style, const char *text, double alpha)
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
  set_label (book->press, BL_POINT (x, y + 19), BL_TYPE_STYLE_LABEL, "N", 0);
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
  return setup->window.x1 <= setup->window.x0 ? bl_book_beds (book->model, 0.9) : setup->window;
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

static void
paint_scene (BlBook *book,
             const BlBookPart *part,
             const Sheet *sheet,
             BlMoment moment,
             guint scene_options,
             gboolean plain)
{
  g_autoptr (BlScene) scene
      = bl_scene_new (BL_VIEW_PLAN, part->layout, NULL, moment, scene_options);
  BlPaintOptions paint = { .vector = TRUE };
  double w = sheet->frame.x1 - sheet->frame.x0, h = sheet->frame.y1 - sheet->frame.y0, k = sheet->k;
  BlPoint middle = sheet->middle;
  BlRect seen = { middle.x - w / 2 / k, middle.y - h / 2 / k, middle.x + w / 2 / k,
                  middle.y + h / 2 / k };
  cairo_t *cr = book->press->cr;

  cairo_save (cr);
  cairo_rectangle (cr, sheet->frame.x0, sheet->frame.y0, w, h);
  cairo_clip (cr);
  if (!plain)
    {
      cairo_set_source_rgb (cr, 0.980, 0.972, 0.949);
      cairo_paint (cr);
    }
  cairo_translate (cr, sheet->frame.x0 + w / 2, sheet->frame.y0 + h / 2);
  cairo_scale (cr, k, k);
  cairo_translate (cr, -middle.x, middle.y);
  bl_scene_paint (scene, cr, seen, k * book->press->zoom * 300.0 / 72.0, &paint, NULL, NULL);
  cairo_restore (cr);
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
  set_label (book->press, at, strlen (mark->text) > 1 ? BL_TYPE_STYLE_NUMBER : BL_TYPE_STYLE_STRONG,
             mark->text, 0);
}

/* A point to tape from: a cross on the very point, its letter beside it. */
static void
draw_marks (BlBook *book, const Sheet *sheet, const GArray *marks)
{
  cairo_t *cr = book->press->cr;

  for (guint i = 0; marks != NULL && i < marks->len; i++)
    {
      const BlPlanMark *mark = &g_array_index (marks, BlPlanMark, i);
      BlPoint at = on_sheet (sheet, mark->at);
      double up = at.y < sheet->frame.y0 + 18 ? 1 : -1;

      if (!in_frame (sheet, at, 6))
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
draw_numbers (BlBook *book, const BlBookPart *part, const Sheet *sheet, GHashTable *numbers)
{
  for (guint i = 0; i < part->layout->placed->len; i++)
    {
      const char *text = g_hash_table_lookup (numbers, GUINT_TO_POINTER (i + 1));
      BlPoint at = on_sheet (sheet, g_array_index (part->layout->placed, BlPlaced, i).at);

      if (text != NULL && in_frame (sheet, at, 4))
        set_label (book->press, at, BL_TYPE_STYLE_NUMBER, text, 0.82);
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
  set_label (book->press, BL_POINT ((to - from) / 2, 0), BL_TYPE_STYLE_TABLE, text->str, 1);
  cairo_restore (cr);
  g_string_free (text, TRUE);
}

static void
draw_dimensions (BlBook *book, const Sheet *sheet)
{
  BlRect beds = bl_book_beds (book->model, 0);
  BlPoint low = on_sheet (sheet, BL_POINT (beds.x0, beds.y0));
  BlPoint high = on_sheet (sheet, BL_POINT (beds.x1, beds.y1));

  draw_dimension (book, low.x, high.x, sheet->frame.y1 + STRIP * 0.55, FALSE, beds.x1 - beds.x0);
  draw_dimension (book, high.y, low.y, sheet->frame.x0 - STRIP * 0.6, TRUE, beds.y1 - beds.y0);
}

BlScale
bl_book_plan (BlBook *book, const BlBookPart *part, BlRect box, const BlPlanSetup *setup)
{
  BlRect window = window_of (book, setup);
  BlScale scale = bl_book_plan_scale (book, box, setup);
  Sheet sheet = { frame_of (box, setup), bl_scale_points_per_metre (scale) / book->press->zoom,
                  { (window.x0 + window.x1) / 2, (window.y0 + window.y1) / 2 } };
  g_autofree char *stated = bl_book_scale_text (scale);
  g_autofree char *text = g_strdup_printf (BL_W (book, "Scale %s. Print at 100 %%."), stated);

  bl_press_remember (book->press, sheet.frame, sheet.frame);
  if (bl_press_is_dry (book->press))
    return scale;
  paint_scene (book, part, &sheet, setup->moment, setup->scene, setup->plain);
  if (setup->numbers != NULL)
    draw_numbers (book, part, &sheet, setup->numbers);
  draw_marks (book, &sheet, setup->marks);
  if (setup->dimensions)
    draw_dimensions (book, &sheet);
  draw_north (book, sheet.frame.x1 - 19, sheet.frame.y0 + 20);
  draw_scale_bar (book, sheet.frame.x0, box.y1 - 22, sheet.k);
  bl_press_set_plain (book->press, BL_TYPE_STYLE_SMALL, box.x1 - 200, box.y1 - 17, 200,
                      BL_ALIGN_RIGHT, 1, text);
  return scale;
}

void
bl_book_plan_sketch (
    BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box, gboolean bare)
{
  BlRect window = bl_book_beds (book->model, 0.5);
  double w = box.x1 - box.x0, h = box.y1 - box.y0;
  double k = MIN (w / MAX (window.x1 - window.x0, 0.1), h / MAX (window.y1 - window.y0, 0.1));
  Sheet sheet = { box, k, { (window.x0 + window.x1) / 2, (window.y0 + window.y1) / 2 } };

  if (!bl_press_is_dry (book->press))
    paint_scene (book, part, &sheet, moment, bare ? BL_SCENE_BARE : 0, FALSE);
}

/* Points at which a feature's number may stand. */
static GArray *
places_for (const BlFeature *feature)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (BlPoint));
  const BlPoints *points = feature->ground->points;
  BlPoint centre = { 0, 0 };

  for (guint i = 0; i < points->len; i++)
    {
      BlPoint p = bl_points_at (points, i), q = bl_points_at (points, (i + 1) % points->len);

      centre = bl_add (centre, bl_mul (p, 1.0 / points->len));
      for (int s = 1; s < 20 && (!feature->ground->open || i + 1 < points->len); s++)
        {
          BlPoint between = bl_lerp (p, q, s / 20.0);

          g_array_append_val (places, between);
        }
    }
  if (!feature->ground->open || points->len == 1)
    {
      g_array_set_size (places, 0);
      g_array_append_val (places, centre);
      for (guint i = 0; i < points->len && points->len > 1; i++)
        for (int s = 1; s < 4; s++)
          {
            BlPoint inside = bl_lerp (centre, bl_points_at (points, i), s / 5.0);

            g_array_append_val (places, inside);
          }
    }
  return places;
}

/* The place inside @window farthest from the numbers that stand already. */
static gboolean
best_place (const GArray *places, BlRect window, const GArray *marks, BlPoint *best)
{
  double most = -1;

  for (guint i = 0; i < places->len; i++)
    {
      BlPoint p = g_array_index (places, BlPoint, i);
      double nearest = 3; /* beyond this, farther is no better */

      if (p.x < window.x0 || p.x > window.x1 || p.y < window.y0 || p.y > window.y1)
        continue;
      for (guint k = 0; k < marks->len; k++)
        nearest = MIN (nearest, bl_dist (p, g_array_index (marks, BlPlanMark, k).at));
      if (nearest > most + 1e-9)
        {
          most = nearest;
          *best = p;
        }
    }
  return most >= 0;
}

GArray *
bl_book_feature_marks (const BlBook *book, BlRect seen, GPtrArray *names)
{
  GArray *marks = g_array_new (FALSE, TRUE, sizeof (BlPlanMark));
  BlRect inside = bl_rect_grow (seen, -0.3);

  for (guint i = 0; i < book->model->features->len; i++)
    {
      const BlFeature *feature = book->model->features->pdata[i];
      g_autofree char *kind = g_strdup (BL_W (book, bl_feature_kind_name (feature->kind)));
      BlPlanMark mark = { .square = FALSE };
      g_autoptr (GArray) places = NULL;

      if (feature->ground == NULL || feature->ground->points->len == 0
          || feature->kind == BL_FEATURE_IN_FRONT || feature->kind == BL_FEATURE_FIXED_POINT)
        continue;
      places = places_for (feature);
      if (!best_place (places, inside, marks, &mark.at))
        continue;
      g_snprintf (mark.text, sizeof mark.text, "%u", marks->len + 1);
      g_array_append_val (marks, mark);
      g_strdelimit (kind, "_", ' ');
      g_ptr_array_add (names, feature->name != NULL && *feature->name != '\0'
                                  ? g_strdup_printf ("%s (%s)", feature->name, kind)
                                  : g_strdup (kind));
    }
  return marks;
}
