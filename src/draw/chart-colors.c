/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Share of each colour in the picture, month by month. */
#include <math.h>

#include "draw/chart.h"

/* Colours of one month: what each kind shows, weighed by the area it shows it on. */
typedef struct
{
  BlColor color;
  double area, hue;
} Share;

static void
add (GArray *shares, BlColor color, double area)
{
  BlLab lab = bl_color_to_lab (color);

  if (area <= 0)
    return;
  for (guint i = 0; i < shares->len; i++)
    {
      Share *s = &g_array_index (shares, Share, i);

      /* Near colours are one to the eye at this size. */
      if (bl_color_difference (bl_color_to_lab (s->color), lab) < 9)
        {
          s->color = bl_color_mix (s->color, color, area / (area + s->area));
          s->area += area;
          return;
        }
    }
  g_array_append_vals (shares, &(Share) { color, area, 0 }, 1);
}

/* Greens below, then greys and browns, then the flower colours round the circle. */
static double
order (BlColor c)
{
  BlLab lab = bl_color_to_lab (c);
  double chroma = hypot (lab.a, lab.b), hue = atan2 (lab.b, lab.a);

  if (chroma < 12)
    return 8 + (100 - lab.L) / 100;
  return hue > 1.55 && hue < 2.9 ? hue - 10 : fmod (hue + 2 * G_PI - 0.6, 2 * G_PI);
}

static int
by_order (gconstpointer a, gconstpointer b)
{
  const Share *p = a, *q = b;

  return p->hue < q->hue ? -1 : p->hue > q->hue;
}

static GArray *
month_shares (const BlLayout *layout, double month)
{
  GArray *shares = g_array_new (FALSE, TRUE, sizeof (Share));

  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);
      BlLook k = bl_season_look (&layout->model->site, placed->plant, placed->size,
                                 (BlMoment) { month, MAX (3, placed->plant->years) });
      double area = k.height * k.spread, flower = 0.55 * k.bloom, seed = 0.25 * k.seed,
        fruit = 0.15 * k.fruit;
      double leaf = MAX (0, 1 - flower - seed - fruit) * k.leaf,
        stem = MAX (0, 1 - flower - seed - fruit) * (1 - k.leaf) * 0.5;

      add (shares, k.flower_color, area * flower);
      add (shares, k.seed_color, area * seed);
      add (shares, k.fruit_color, area * fruit);
      add (shares, k.leaf_color, area * leaf);
      add (shares, k.stem_color, area * stem);
    }
  for (guint i = 0; i < shares->len; i++)
    g_array_index (shares, Share, i).hue = order (g_array_index (shares, Share, i).color);
  g_array_sort (shares, by_order);
  return shares;
}

/* One month's column, greens at its foot, a hair of paper between the colours. */
static void
column (cairo_t *cr, const GArray *shares, double x, double width, double foot, double unit)
{
  double y = foot;

  for (guint i = 0; i < shares->len; i++)
    {
      const Share *s = &g_array_index (shares, Share, i);
      double h = s->area * unit;

      cairo_set_source_rgb (cr, s->color.r, s->color.g, s->color.b);
      cairo_rectangle (cr, x, y - h, width, MAX (0.3, h - (h > 3 ? 0.6 : 0)));
      cairo_fill (cr);
      if (bl_color_to_lab (s->color).L > 88)
        {
          cairo_set_source_rgba (cr, 0.55, 0.56, 0.53, 0.6);
          cairo_set_line_width (cr, 0.6);
          cairo_rectangle (cr, x + 0.3, y - h + 0.3, width - 0.6, MAX (0.3, h - 0.9));
          cairo_stroke (cr);
        }
      y -= h;
    }
}

void
bl_chart_colors (cairo_t *cr, const BlLayout *layout, double width, double height,
                 const BlChartWords *words)
{
  double most = 1e-9, gap = width / 12 * 0.10, size = CLAMP (height * 0.09, 6, 12),
    foot = height - size * 1.7;
  GArray *months[12];

  for (int m = 0; m < 12; m++)
    {
      double sum = 0;

      months[m] = month_shares (layout, m + 1.5);
      for (guint i = 0; i < months[m]->len; i++)
        sum += g_array_index (months[m], Share, i).area;
      most = MAX (most, sum);
    }
  cairo_save (cr);
  for (int m = 0; m < 12; m++)
    {
      column (cr, months[m], m * width / 12 + gap / 2, width / 12 - gap, foot, foot / most);
      cairo_set_source_rgb (cr, 0.45, 0.46, 0.43);
      bl_chart_text (cr, (m + 0.5) * width / 12, foot + size, 0, 0.5, size, words,
                     bl_chart_initial (words, m), FALSE);
      g_array_unref (months[m]);
    }
  cairo_set_source_rgb (cr, 0.55, 0.56, 0.53);
  cairo_set_line_width (cr, 0.8);
  cairo_move_to (cr, 0, foot);
  cairo_line_to (cr, width, foot);
  cairo_stroke (cr);
  cairo_restore (cr);
}
