/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands or lies on the site, on the plan: walls, fences, walks, lines under ground. */
#include "draw/scene-private.h"

typedef struct
{
  BlColor line, fill;
  double width;     /* line, device pixels */
  double fill_alpha;
  double dash[4];   /* device pixels, 0 ends */
  double body;      /* metres: drawn width of a line thing; 0 = a line */
  gboolean hatch, cross;
} Style;

#define INK { 0.20, 0.22, 0.22, 1 }

static const Style styles[BL_FEATURE_N] = {
  [BL_FEATURE_WALL] = { INK, { 0.42, 0.40, 0.38, 1 }, 1.6, 0.75, { 0 }, 0.20, TRUE, FALSE },
  [BL_FEATURE_FENCE] = { { 0.36, 0.29, 0.22, 1 }, { 0 }, 1.6, 0, { 9, 3, 2, 3 }, 0, FALSE, FALSE },
  [BL_FEATURE_POST] = { INK, { 0.35, 0.33, 0.31, 1 }, 1.2, 0.9, { 0 }, 0, FALSE, FALSE },
  [BL_FEATURE_TREE] = { { 0.27, 0.36, 0.24, 1 }, { 0.55, 0.66, 0.46, 1 }, 1.2, 0.25, { 0 }, 0,
                        FALSE, FALSE },
  [BL_FEATURE_KERB] = { { 0.40, 0.40, 0.39, 1 }, { 0.80, 0.79, 0.77, 1 }, 1.0, 0.9, { 0 }, 0.15,
                        FALSE, FALSE },
  [BL_FEATURE_WALK] = { { 0.50, 0.49, 0.47, 1 }, { 0.87, 0.86, 0.83, 1 }, 0.9, 0.75, { 0 }, 0.10,
                        FALSE, FALSE },
  [BL_FEATURE_DRIVE] = { { 0.45, 0.45, 0.46, 1 }, { 0.80, 0.80, 0.80, 1 }, 0.9, 0.75, { 0 }, 0.10,
                         FALSE, FALSE },
  [BL_FEATURE_UTILITY_BOX] = { INK, { 0.70, 0.74, 0.70, 1 }, 1.3, 0.9, { 0 }, 0.4, FALSE, TRUE },
  [BL_FEATURE_TRANSFORMER] = { INK, { 0.62, 0.70, 0.62, 1 }, 1.5, 0.9, { 0 }, 0.8, FALSE, TRUE },
  [BL_FEATURE_HYDRANT] = { { 0.62, 0.16, 0.12, 1 }, { 0.80, 0.28, 0.22, 1 }, 1.4, 0.9, { 0 }, 0,
                           FALSE, TRUE },
  [BL_FEATURE_BURIED_LINE] = { { 0.76, 0.32, 0.14, 1 }, { 0.90, 0.55, 0.35, 1 }, 1.5, 0.12,
                               { 10, 4, 2, 4 }, 0, FALSE, FALSE },
  [BL_FEATURE_SNOW_PILE] = { { 0.40, 0.52, 0.62, 1 }, { 0.76, 0.85, 0.91, 1 }, 1.1, 0.45,
                             { 2, 4, 0, 0 }, 0, TRUE, FALSE },
  [BL_FEATURE_SALTED_EDGE] = { { 0.40, 0.52, 0.62, 1 }, { 0.76, 0.85, 0.91, 1 }, 2.4, 0.25,
                               { 1, 5, 0, 0 }, 0, FALSE, FALSE },
  [BL_FEATURE_SIGHT_TRIANGLE] = { { 0.66, 0.46, 0.10, 1 }, { 0.95, 0.85, 0.55, 1 }, 1.2, 0.16,
                                  { 7, 4, 0, 0 }, 0, FALSE, FALSE },
  [BL_FEATURE_WALNUT] = { { 0.35, 0.30, 0.16, 1 }, { 0.62, 0.58, 0.36, 1 }, 1.4, 0.25, { 0 }, 0,
                          FALSE, TRUE },
  [BL_FEATURE_STONE] = { { 0.42, 0.41, 0.39, 1 }, { 0.80, 0.79, 0.76, 1 }, 1.1, 0.95, { 0 }, 0.3,
                         FALSE, FALSE },
  [BL_FEATURE_FIXED_POINT] = { { 0.10, 0.30, 0.45, 1 }, { 1, 1, 1, 1 }, 1.3, 1, { 0 }, 0, FALSE,
                               TRUE },
  [BL_FEATURE_DOOR] = { { 0.45, 0.30, 0.18, 1 }, { 0.80, 0.66, 0.50, 1 }, 2.2, 0.9, { 0 }, 0.24,
                        FALSE, FALSE },
};

static double
px (const BlPainting *p, double v)
{
  return v / p->scale * (p->options->vector ? 300.0 / 72.0 / 1.6 : 1);
}

static void
set (BlPainting *p, BlColor c, double alpha)
{
  double grey = 0.2126 * c.r + 0.7152 * c.g + 0.0722 * c.b;

  if (p->scene->options & BL_SCENE_MONOCHROME)
    c = (BlColor) { grey, grey, grey, 1 };
  cairo_set_source_rgba (p->cr, c.r, c.g, c.b, alpha);
}

static void
stroke (BlPainting *p, const Style *s, double width)
{
  double dash[4];
  int n = 0;

  while (n < 4 && s->dash[n] > 0)
    dash[n] = px (p, s->dash[n]), n++;
  cairo_set_dash (p->cr, dash, n, 0);
  cairo_set_line_cap (p->cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (p->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (p->cr, px (p, width));
  set (p, s->line, 0.9);
  cairo_stroke (p->cr);
}

/* Slanting lines inside the current path: what is solid, or piled. */
static void
hatch (BlPainting *p, const Style *s)
{
  double x0, y0, x1, y1, step = px (p, 5);

  cairo_save (p->cr);
  cairo_path_extents (p->cr, &x0, &y0, &x1, &y1);
  cairo_clip (p->cr);
  step = MAX (step, (x1 - x0 + y1 - y0) / 400);
  for (int i = 0; x0 - (y1 - y0) + i * step < x1; i++)
    {
      double x = x0 - (y1 - y0) + i * step;

      cairo_move_to (p->cr, x, y1), cairo_line_to (p->cr, x + (y1 - y0), y0);
    }
  set (p, s->line, 0.5);
  cairo_set_line_width (p->cr, px (p, 0.7));
  cairo_stroke (p->cr);
  cairo_restore (p->cr);
}

static void
paint_point (BlPainting *p, const BlFeature *f, const Style *s, BlPoint at)
{
  double r = f->kind == BL_FEATURE_TREE || f->kind == BL_FEATURE_WALNUT ? MAX (f->tolerance, 0.9)
             : s->body > 0 ? s->body / 2 : MAX (0.08, px (p, 4));

  cairo_new_path (p->cr);
  cairo_arc (p->cr, at.x, -at.y, r, 0, 2 * G_PI);
  set (p, s->fill, s->fill_alpha);
  cairo_fill_preserve (p->cr);
  stroke (p, s, s->width);
  if (f->kind == BL_FEATURE_TREE || f->kind == BL_FEATURE_WALNUT)
    {
      cairo_arc (p->cr, at.x, -at.y, MAX (0.08, px (p, 2)), 0, 2 * G_PI);
      set (p, s->line, 1);
      cairo_fill (p->cr);
    }
  if (s->cross)
    {
      double c = r * (f->kind == BL_FEATURE_FIXED_POINT ? 1.7 : 0.7);

      cairo_move_to (p->cr, at.x - c, -at.y), cairo_line_to (p->cr, at.x + c, -at.y);
      cairo_move_to (p->cr, at.x, -at.y - c), cairo_line_to (p->cr, at.x, -at.y + c);
      stroke (p, s, s->width);
    }
}

static void
paint_line (BlPainting *p, const BlFeature *f, const Style *s)
{
  cairo_path_t *path = cairo_copy_path (p->cr);

  if (f->kind == BL_FEATURE_BURIED_LINE && f->tolerance > 0)
    {
      /* The zone in which one digs by hand. */
      cairo_set_line_width (p->cr, 2 * f->tolerance);
      cairo_set_line_cap (p->cr, CAIRO_LINE_CAP_BUTT);
      set (p, s->fill, 0.22);
      cairo_stroke (p->cr);
      cairo_append_path (p->cr, path);
    }
  if (s->body > 0)
    {
      cairo_set_dash (p->cr, NULL, 0, 0);
      cairo_set_line_width (p->cr, s->body + px (p, s->width));
      set (p, s->line, 0.9);
      cairo_stroke (p->cr);
      cairo_append_path (p->cr, path);
      cairo_set_line_width (p->cr, MAX (s->body - px (p, s->width), 0));
      set (p, s->fill, 1);
      cairo_stroke (p->cr);
    }
  else
    stroke (p, s, s->width);
  cairo_path_destroy (path);
}

void
bl_paint_feature_plan (BlPainting *p, const BlFeature *f)
{
  g_autoptr (GArray) ring = NULL;
  const Style *s = &styles[f->kind < BL_FEATURE_N ? f->kind : BL_FEATURE_WALL];

  if (f->ground == NULL || f->ground->points->len == 0 || f->kind == BL_FEATURE_IN_FRONT)
    return;
  cairo_save (p->cr);
  if (f->ground->points->len == 1)
    {
      paint_point (p, f, s, bl_points_at (f->ground->points, 0));
      cairo_restore (p->cr);
      return;
    }
  ring = f->ground->points->len == 2 ? bl_points_copy (f->ground->points)
    : bl_outline_flatten (f->ground, 0.01);
  cairo_new_path (p->cr);
  for (guint i = 0; i < ring->len; i++)
    cairo_line_to (p->cr, bl_points_at (ring, i).x, -bl_points_at (ring, i).y);
  if (f->ground->open || ring->len < 3)
    paint_line (p, f, s);
  else
    {
      cairo_close_path (p->cr);
      set (p, s->fill, s->fill_alpha);
      cairo_fill_preserve (p->cr);
      if (s->hatch)
        {
          cairo_path_t *path = cairo_copy_path (p->cr);

          hatch (p, s);
          cairo_append_path (p->cr, path);
          cairo_path_destroy (path);
        }
      stroke (p, s, s->width);
    }
  cairo_restore (p->cr);
}
