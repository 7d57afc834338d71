/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paints the map of a day's sun: cells in colours, and the lines between the classes of light. */
#include "draw/sun-layer.h"

#include <math.h>

#include "geometry/polygon.h"

typedef struct
{
  const BlSunMap *map;
  float *hours; /* the map's, spread outward by two cells so that the bed line cuts no gap */
  cairo_t *cr;
  const BlCamera *camera;
  double scale;
} Layer;

/* sRGB, ever lighter. */
static const struct
{
  double hours;
  BlColor color;
} ramp[] = {
  { 0.0, { 0.110, 0.098, 0.243, 1 } }, { 1.5, { 0.263, 0.180, 0.420, 1 } },
  { 3.0, { 0.478, 0.239, 0.502, 1 } }, { 4.5, { 0.718, 0.325, 0.471, 1 } },
  { 6.0, { 0.878, 0.463, 0.345, 1 } }, { 8.5, { 0.937, 0.643, 0.286, 1 } },
  { 11.0, { 0.961, 0.816, 0.396, 1 } }, { BL_SUN_MOST, { 0.988, 0.925, 0.667, 1 } },
};

BlColor
bl_sun_color (double hours)
{
  double h = CLAMP (hours, 0.0, BL_SUN_MOST), t = 0;
  guint i = 1;

  while (h > ramp[i].hours)
    i++;
  t = (h - ramp[i - 1].hours) / (ramp[i].hours - ramp[i - 1].hours);
  return (BlColor){ ramp[i - 1].color.r + t * (ramp[i].color.r - ramp[i - 1].color.r),
                    ramp[i - 1].color.g + t * (ramp[i].color.g - ramp[i - 1].color.g),
                    ramp[i - 1].color.b + t * (ramp[i].color.b - ramp[i - 1].color.b), 1 };
}

static float
mean_around (const float *hours, int columns, int rows, int column, int row)
{
  double sum = 0;
  int n = 0, y = 0, x = 0;

  for (y = MAX (row - 1, 0); y <= MIN (row + 1, rows - 1); y++)
    for (x = MAX (column - 1, 0); x <= MIN (column + 1, columns - 1); x++)
      if (!isnan (hours[y * columns + x]))
        {
          sum += hours[y * columns + x];
          n++;
        }
  return n > 0 ? (float) (sum / n) : NAN;
}

static float *
spread (const BlSunMap *map)
{
  int columns = (int) map->columns, rows = (int) map->rows, pass = 0, i = 0;
  gsize n = (gsize) columns * (gsize) rows;
  float *hours = g_memdup2 (map->hours, n * sizeof (float));

  for (pass = 0; pass < 2; pass++)
    {
      g_autofree float *before = g_memdup2 (hours, n * sizeof (float));

      for (i = 0; i < (int) n; i++)
        if (isnan (before[i]))
          hours[i] = mean_around (before, columns, rows, i % columns, i / columns);
    }
  return hours;
}

/* Plan metres to the document's units; FALSE when the camera does not see it. */
static gboolean
seen (const Layer *layer, BlPoint p, BlPoint *at)
{
  if (layer->camera != NULL)
    return bl_camera_project (layer->camera, p.x, p.y, 0, at);
  *at = BL_POINT (p.x, -p.y);
  return TRUE;
}

static void
set_color (cairo_t *cr, BlColor c, double alpha)
{
  cairo_set_source_rgba (cr, c.r, c.g, c.b, alpha);
}

static gboolean
trace_ring (const Layer *layer, const BlPoints *ring)
{
  guint i = 0;

  cairo_new_path (layer->cr);
  for (i = 0; i < ring->len; i++)
    {
      BlPoint at;

      if (!seen (layer, bl_points_at (ring, i), &at))
        return FALSE;
      cairo_line_to (layer->cr, at.x, at.y);
    }
  cairo_close_path (layer->cr);
  return TRUE;
}

/* The plan: one small picture, a pixel a cell, drawn large and smooth. */
static void
paint_smooth (const Layer *layer, double alpha)
{
  const BlSunMap *map = layer->map;
  int columns = (int) map->columns, rows = (int) map->rows, row = 0, column = 0;
  cairo_surface_t *picture = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, columns, rows);
  guint8 *bytes = cairo_image_surface_get_data (picture);
  int stride = cairo_image_surface_get_stride (picture);

  for (row = 0; row < rows && bytes != NULL; row++)
    for (column = 0; column < columns; column++)
      {
        float hours = layer->hours[row * columns + column];
        BlColor c = bl_sun_color (isnan (hours) ? map->mean : hours);
        guint32 *pixel = (guint32 *) (void *) (bytes + (rows - 1 - row) * stride) + column;

        *pixel = 0xff000000u | (guint32) lround (c.r * 255) << 16
                 | (guint32) lround (c.g * 255) << 8 | (guint32) lround (c.b * 255);
      }
  cairo_surface_mark_dirty (picture);
  cairo_save (layer->cr);
  cairo_translate (layer->cr, map->x0, -(map->y0 + rows * map->cell));
  cairo_scale (layer->cr, map->cell, map->cell);
  cairo_set_source_surface (layer->cr, picture, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (layer->cr), CAIRO_FILTER_BILINEAR);
  cairo_pattern_set_extend (cairo_get_source (layer->cr), CAIRO_EXTEND_PAD);
  cairo_paint_with_alpha (layer->cr, alpha);
  cairo_restore (layer->cr);
  cairo_surface_destroy (picture);
}

/* The photo: every cell by itself, as the camera sees it. Its colours go to a group first, so that
 * the seams between neighbours do not show through. */
static void
paint_cells (const Layer *layer, double alpha)
{
  const BlSunMap *map = layer->map;
  guint row = 0, column = 0, k = 0;

  cairo_push_group (layer->cr);
  cairo_set_antialias (layer->cr, CAIRO_ANTIALIAS_NONE);
  for (row = 0; row < map->rows; row++)
    for (column = 0; column < map->columns; column++)
      {
        static const double corners[4][2] = { { 0, 0 }, { 1, 0 }, { 1, 1 }, { 0, 1 } };
        float hours = layer->hours[(gsize) row * map->columns + column];
        gboolean whole = !isnan (hours);

        cairo_new_path (layer->cr);
        for (k = 0; k < 4 && whole; k++)
          {
            BlPoint at;

            whole = seen (layer,
                          BL_POINT (map->x0 + (column + corners[k][0]) * map->cell,
                                    map->y0 + (row + corners[k][1]) * map->cell),
                          &at);
            if (whole)
              cairo_line_to (layer->cr, at.x, at.y);
          }
        if (!whole)
          continue;
        set_color (layer->cr, bl_sun_color (hours), 1);
        cairo_fill (layer->cr);
      }
  cairo_pop_group_to_source (layer->cr);
  cairo_paint_with_alpha (layer->cr, alpha);
}

/* Where the line of @level leaves the side between two centres. */
static BlPoint
cut (const Layer *layer, int column, int row, int column2, int row2, double level)
{
  const BlSunMap *map = layer->map;
  double a = layer->hours[row * (int) map->columns + column];
  double b = layer->hours[row2 * (int) map->columns + column2];
  double t = fabs (b - a) > 1e-9 ? (level - a) / (b - a) : 0.5;

  return BL_POINT (map->x0 + (column + 0.5 + t * (column2 - column)) * map->cell,
                   map->y0 + (row + 0.5 + t * (row2 - row)) * map->cell);
}

/* The line of @level through the square between four centres (marching squares): each pair of cut
 * sides is one piece. */
static guint
cuts_of (const Layer *layer, int column, int row, double level, BlPoint out[4])
{
  static const int at[5][2] = { { 0, 0 }, { 1, 0 }, { 1, 1 }, { 0, 1 }, { 0, 0 } };
  int columns = (int) layer->map->columns, k = 0;
  guint n = 0;

  for (k = 0; k < 4; k++)
    if (isnan (layer->hours[(row + at[k][1]) * columns + column + at[k][0]]))
      return 0;
  for (k = 0; k < 4; k++)
    {
      double a = layer->hours[(row + at[k][1]) * columns + column + at[k][0]];
      double b = layer->hours[(row + at[k + 1][1]) * columns + column + at[k + 1][0]];

      if ((a < level) != (b < level))
        out[n++] = cut (layer, column + at[k][0], row + at[k][1], column + at[k + 1][0],
                        row + at[k + 1][1], level);
    }
  return n;
}

/* Lays the path of the line of @level; *@label is a point of it well inside, FALSE when none. */
static gboolean
trace_level (const Layer *layer, double level, const BlPoints *ring, BlPoint *label)
{
  double deepest = 0;
  int row = 0, column = 0;
  guint k = 0;

  cairo_new_path (layer->cr);
  for (row = 0; row + 1 < (int) layer->map->rows; row++)
    for (column = 0; column + 1 < (int) layer->map->columns; column++)
      {
        BlPoint cuts[4], a, b;
        guint n = cuts_of (layer, column, row, level, cuts);

        for (k = 0; k + 1 < n; k += 2)
          {
            double depth = bl_polygon_inside_distance (ring, cuts[k]);

            if (!seen (layer, cuts[k], &a) || !seen (layer, cuts[k + 1], &b))
              continue;
            cairo_move_to (layer->cr, a.x, a.y);
            cairo_line_to (layer->cr, b.x, b.y);
            if (depth > deepest)
              {
                deepest = depth;
                *label = a;
              }
          }
      }
  return deepest > 0;
}

static void
write_hours (const Layer *layer, BlPoint at, double level)
{
  g_autofree char *text = g_strdup_printf ("%g h", level);
  cairo_text_extents_t e;
  double px = 1 / layer->scale, half = 0;

  cairo_select_font_face (layer->cr, "Lato", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_BOLD);
  cairo_set_font_size (layer->cr, 12 * px);
  cairo_text_extents (layer->cr, text, &e);
  half = e.width / 2 + 1 * px;
  cairo_new_path (layer->cr);
  cairo_arc (layer->cr, at.x + half, at.y, 9 * px, -G_PI / 2, G_PI / 2);
  cairo_arc (layer->cr, at.x - half, at.y, 9 * px, G_PI / 2, 1.5 * G_PI);
  cairo_close_path (layer->cr);
  cairo_set_source_rgba (layer->cr, 0.99, 0.98, 0.95, 0.95);
  cairo_fill (layer->cr);
  cairo_set_source_rgba (layer->cr, 0.13, 0.11, 0.20, 1);
  cairo_move_to (layer->cr, at.x - e.width / 2 - e.x_bearing, at.y - e.y_bearing - e.height / 2);
  cairo_show_text (layer->cr, text);
}

static void
paint_level (const Layer *layer, double level, const BlPoints *ring)
{
  BlPoint label = BL_POINT (0, 0);
  gboolean inside = trace_level (layer, level, ring, &label);
  double px = 1 / layer->scale;

  cairo_set_line_cap (layer->cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_source_rgba (layer->cr, 0.99, 0.98, 0.95, 0.85);
  cairo_set_line_width (layer->cr, 3.4 * px);
  cairo_stroke_preserve (layer->cr);
  cairo_set_source_rgba (layer->cr, 0.13, 0.11, 0.20, 0.95);
  cairo_set_line_width (layer->cr, 1.3 * px);
  cairo_stroke (layer->cr);
  if (inside)
    write_hours (layer, label, level);
}

void
bl_sun_layer_paint (const BlSunlight *sunlight, cairo_t *cr, const BlCamera *camera, double scale,
                    double alpha)
{
  guint i = 0;

  for (i = 0; i < sunlight->beds->len; i++)
    {
      const BlBedSun *bed = &g_array_index (sunlight->beds, BlBedSun, i);
      g_autofree float *hours = spread (bed->map);
      Layer layer = { bed->map, hours, cr, camera, scale };

      cairo_save (cr);
      if (trace_ring (&layer, bed->ring))
        {
          cairo_clip (cr);
          if (camera == NULL)
            paint_smooth (&layer, alpha);
          else
            paint_cells (&layer, alpha);
          paint_level (&layer, sunlight->rule.part_from, bed->ring);
          paint_level (&layer, sunlight->rule.full_from, bed->ring);
        }
      cairo_restore (cr);
    }
}
