/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners on the plan: a cross on each, its name beside it, the outlines that they mark. */
#include <math.h>

#include "proposal/plan-private.h"

#define ARM 2.2 /* points: half a cross */

/* What lies outside its bed of a drift's outline is not planted. */
static void
clip_to_beds (BlBook *book, const BlSheet *sheet)
{
  cairo_t *cr = book->press->cr;

  for (guint i = 0; i < book->model->beds->len; i++)
    {
      const BlPoints *ring = ((const BlBed *) book->model->beds->pdata[i])->ring;

      cairo_new_sub_path (cr);
      for (guint k = 0; ring != NULL && k < ring->len; k++)
        {
          BlPoint p = bl_on_sheet (sheet, bl_points_at (ring, k));

          cairo_line_to (cr, p.x, p.y);
        }
      cairo_close_path (cr);
    }
  cairo_clip (cr);
}

void
bl_plan_draw_lines (BlBook *book, const BlSheet *sheet, const GPtrArray *lines)
{
  static const double dashes[] = { 3, 2 };
  cairo_t *cr = book->press->cr;

  cairo_save (cr);
  cairo_rectangle (cr, sheet->frame.x0, sheet->frame.y0, sheet->frame.x1 - sheet->frame.x0,
                   sheet->frame.y1 - sheet->frame.y0);
  cairo_clip (cr);
  clip_to_beds (book, sheet);
  cairo_set_line_width (cr, 0.6);
  cairo_set_dash (cr, dashes, 2, 0);
  bl_press_color (book->press, bl_press_ink ());
  for (guint i = 0; i < lines->len; i++)
    {
      const BlPoints *ring = lines->pdata[i];

      for (guint k = 0; k < ring->len; k++)
        {
          BlPoint p = bl_on_sheet (sheet, bl_points_at (ring, k));

          cairo_line_to (cr, p.x, p.y);
        }
      cairo_close_path (cr);
      cairo_stroke (cr);
    }
  cairo_restore (cr);
}

static double
common_area (BlRect a, BlRect b)
{
  double w = MIN (a.x1, b.x1) - MAX (a.x0, b.x0), h = MIN (a.y1, b.y1) - MAX (a.y0, b.y0);

  return w > 0 && h > 0 ? w * h : 0;
}

/* Of twelve places round the cross, the first that covers least of what is there already. */
static BlPoint
place_name (BlBook *book, const BlSheet *sheet, BlPoint at, const char *text, const GArray *taken)
{
  BlRect box = bl_plan_label_box (book->press, BL_POINT (0, 0), BL_TYPE_STYLE_NUMBER, text);
  double w = box.x1, h = box.y1, least = INFINITY;
  BlPoint best = at;

  for (int ring = 0; ring < 2; ring++)
    for (int turn = 0; turn < 12 && least > 0; turn++)
      {
        double angle = G_PI / 6 * turn - G_PI / 4, far = 3.4 + ring * 5;
        BlPoint p = { at.x + cos (angle) * (w + far), at.y + sin (angle) * (h + far) };
        BlRect plate = { p.x - w, p.y - h, p.x + w, p.y + h };
        double covered = bl_in_frame (sheet, p, w) ? 0 : 1000;

        for (guint i = 0; i < taken->len; i++)
          covered += common_area (plate, g_array_index (taken, BlRect, i));
        if (covered < least - 1e-6)
          {
            least = covered;
            best = p;
          }
      }
  return best;
}

void
bl_plan_draw_spots (BlBook *book, const BlSheet *sheet, const GArray *spots)
{
  cairo_t *cr = book->press->cr;
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (BlRect));

  bl_press_color (book->press, bl_press_ink ());
  cairo_set_line_width (cr, 0.7);
  for (guint i = 0; i < spots->len; i++)
    {
      BlPoint p = bl_on_sheet (sheet, g_array_index (spots, BlPlanMark, i).at);
      BlRect cross = { p.x - ARM, p.y - ARM, p.x + ARM, p.y + ARM };

      g_array_append_val (taken, cross);
      if (!bl_in_frame (sheet, p, ARM))
        continue;
      cairo_move_to (cr, p.x - ARM, p.y);
      cairo_line_to (cr, p.x + ARM, p.y);
      cairo_move_to (cr, p.x, p.y - ARM);
      cairo_line_to (cr, p.x, p.y + ARM);
      cairo_stroke (cr);
    }
  for (guint i = 0; i < spots->len; i++)
    {
      const BlPlanMark *spot = &g_array_index (spots, BlPlanMark, i);
      BlPoint p = bl_on_sheet (sheet, spot->at), at;
      BlRect plate;

      if (!bl_in_frame (sheet, p, ARM))
        continue;
      at = place_name (book, sheet, p, spot->text, taken);
      plate = bl_plan_label_box (book->press, at, BL_TYPE_STYLE_NUMBER, spot->text);
      g_array_append_val (taken, plate);
      bl_plan_label (book->press, at, BL_TYPE_STYLE_NUMBER, spot->text, 0.75);
    }
}
