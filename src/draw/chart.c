/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts: a plant's ribbon through the year, bloom of an alternative, heights from the viewing
 * side. */
#include "draw/chart.h"

#include <pango/pangocairo.h>
#include <string.h>

#include "base/units.h"
#include "draw/figure.h"

static const BlColor ink = { 0.17, 0.19, 0.17, 1 }, quiet = { 0.55, 0.56, 0.53, 1 },
  line = { 0.80, 0.79, 0.75, 1 };

static void
source (cairo_t *cr, BlColor c, double alpha)
{
  cairo_set_source_rgba (cr, c.r, c.g, c.b, alpha);
}

void
bl_chart_text (cairo_t *cr, double x, double y, double width, double align, double size,
               const BlChartWords *words, const char *text, gboolean markup)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *description
    = pango_font_description_from_string (words != NULL && words->font != NULL ? words->font
                                                                               : "Lato");
  int w, h;

  pango_font_description_set_absolute_size (description, size * PANGO_SCALE);
  pango_layout_set_font_description (layout, description);
  if (markup)
    pango_layout_set_markup (layout, text, -1);
  else
    pango_layout_set_text (layout, text, -1);
  if (width > 0)
    {
      pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  pango_layout_get_pixel_size (layout, &w, &h);
  cairo_move_to (cr, x - align * w, y - h / 2.0);
  pango_cairo_show_layout (cr, layout);
  pango_font_description_free (description);
  g_object_unref (layout);
}

static BlLook
look_in (const BlPlant *plant, const BlSite *site, double month)
{
  return bl_season_look (site, plant, NULL, (BlMoment) { month, MAX (plant->years, 3) });
}

/* The ribbon is sampled four times a month: leaf colour as a soft band, as high as the plant is in
 * leaf; flower colour over it, as high as its share in flower. */
#define SAMPLES 48

/* Height of a part as a share of the ribbon's: 0 leaves or wood, 1 fruit, 2 flowers. */
static double
ribbon_part (const BlLook *k, int part, BlColor *color)
{
  if (part == 2)
    {
      *color = k->flower_color;
      return k->bloom > 0.02 ? 0.35 + 0.65 * k->bloom : 0;
    }
  if (part == 1)
    {
      *color = k->fruit_color;
      return k->fruit > 0.15 && k->bloom <= 0.02 ? 0.34 * k->fruit : 0;
    }
  if (k->leaf > 0.05)
    {
      *color = bl_color_mix (k->leaf_color, (BlColor) { 1, 1, 1, 1 }, 0.15);
      return 0.24 + 0.40 * k->leaf;
    }
  *color = bl_color_mix (k->stem_color, line, 0.4);
  return k->state == BL_STATE_STANDING || k->state == BL_STATE_BARE ? 0.16 : 0;
}

/* One part of the ribbon over the whole year, tapering from sample to sample; with @rim a line
 * round what is pale, so that white flowers show on white paper. */
static void
ribbon_band (cairo_t *cr, const BlLook *looks, int part, gboolean rim, double width, double height)
{
  double step = width / SAMPLES, high[SAMPLES + 2] = { 0 };
  BlColor colors[SAMPLES];

  for (int i = 0; i < SAMPLES; i++)
    high[i + 1] = height * ribbon_part (&looks[i], part, &colors[i]);
  for (int i = 0; i < SAMPLES; i++)
    {
      double x = i * step, l = (high[i] + high[i + 1]) / 2, r = (high[i + 1] + high[i + 2]) / 2,
        grow = rim ? 0.7 : 0, over = i + 1 < SAMPLES ? 1.2 : 0;

      if (high[i + 1] <= 0 || (rim && bl_color_to_lab (colors[i]).L <= 88))
        continue;
      source (cr, rim ? quiet : colors[i], rim ? 0.6 : 1);
      cairo_move_to (cr, x - grow, (height - l) / 2 - grow);
      cairo_line_to (cr, x + step + over + grow, (height - r) / 2 - grow);
      cairo_line_to (cr, x + step + over + grow, (height + r) / 2 + grow);
      cairo_line_to (cr, x - grow, (height + l) / 2 + grow);
      cairo_close_path (cr);
      cairo_fill (cr);
    }
}

void
bl_chart_ribbon (cairo_t *cr, const BlPlant *plant, const BlSite *site, double width,
                 double height, double month)
{
  BlLook looks[SAMPLES];

  g_return_if_fail (plant != NULL);
  cairo_save (cr);
  source (cr, line, 0.45);
  cairo_rectangle (cr, 0, height * 0.47, width, height * 0.06);
  cairo_fill (cr);
  for (int i = 0; i < SAMPLES; i++)
    looks[i] = look_in (plant, site, 1 + (i + 0.5) * 12.0 / SAMPLES);
  for (int part = 0; part < 3; part++)
    {
      if (part == 2)
        ribbon_band (cr, looks, part, TRUE, width, height);
      ribbon_band (cr, looks, part, FALSE, width, height);
    }
  if (month >= 1)
    {
      double x = (month - 1) / 12 * width;

      source (cr, ink, 0.9);
      cairo_set_line_width (cr, MAX (1, height * 0.07));
      cairo_move_to (cr, x, -height * 0.08);
      cairo_line_to (cr, x, height * 1.08);
      cairo_stroke (cr);
    }
  cairo_restore (cr);
}

/* The kinds of an alternative in order of first flower, each once. */
static int
by_bloom (gconstpointer a, gconstpointer b, gpointer data)
{
  const BlPlant *p = *(BlPlant *const *) a, *q = *(BlPlant *const *) b;
  double pf = 99, pt = 99, qf = 99, qt = 99;
  const BlSite *site = data;

  if (!bl_season_bloom (site, p, &pf, &pt))
    pf = 99;
  if (!bl_season_bloom (site, q, &qf, &qt))
    qf = 99;
  return pf < qf ? -1 : pf > qf ? 1 : strcmp (p->slug, q->slug);
}

GPtrArray *
bl_layout_kinds (const BlLayout *layout)
{
  GPtrArray *kinds = g_ptr_array_new ();

  for (guint i = 0; i < layout->placed->len; i++)
    {
      BlPlant *plant = g_array_index (layout->placed, BlPlaced, i).plant;

      if (!g_ptr_array_find (kinds, plant, NULL))
        g_ptr_array_add (kinds, plant);
    }
  g_ptr_array_sort_with_data (kinds, by_bloom, (gpointer) &layout->model->site);
  return kinds;
}

guint
bl_layout_bloom_months (const BlLayout *layout)
{
  g_autoptr (GPtrArray) kinds = bl_layout_kinds (layout);
  guint months = 0;

  for (guint i = 0; i < kinds->len; i++)
    for (int m = 1; m <= 12; m++)
      for (int k = 0; k < 4; k++)
        if (look_in (kinds->pdata[i], &layout->model->site, m + 0.125 + k * 0.25).bloom > 0.15)
          months |= 1u << m;
  return months;
}

const char *
bl_chart_initial (const BlChartWords *words, int month)
{
  static const char *const initials[] = { "J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N",
                                          "D" };

  return (words != NULL && words->initials != NULL ? words->initials : initials)[month];
}

/* The months in which a gap in flower matters: between the first and the last month with flowers,
 * and never the dead of winter where nothing is expected. */
static gboolean
is_gap (guint months, int m)
{
  int first = 0, last = 0;

  for (int i = 1; i <= 12; i++)
    if (months & 1u << i)
      {
        first = first ? first : i;
        last = i;
      }
  return first > 0 && m >= MIN (first, 4) && m <= MAX (last, 9) && !(months & 1u << m);
}

static const BlColor gap_wash = { 0.88, 0.62, 0.25, 1 }, gap_ink = { 0.66, 0.40, 0.08, 1 };

/* Where the months and the rows of the bloom chart lie. */
typedef struct
{
  double x, w, top, bottom, row, size;
  const BlChartWords *words;
} BloomFrame;

static void
bloom_months (cairo_t *cr, const BloomFrame *f, guint months)
{
  for (int m = 0; m < 12; m++)
    {
      gboolean gap = is_gap (months, m + 1);
      double left = f->x + m * f->w / 12;

      if (gap)
        {
          source (cr, gap_wash, 0.16);
          cairo_rectangle (cr, left, f->top - f->row * 0.1, f->w / 12,
                           f->bottom - f->top + f->row * 0.2);
          cairo_fill (cr);
        }
      source (cr, gap ? gap_ink : quiet, 1);
      bl_chart_text (cr, left + f->w / 24, f->row * 0.55, 0, 0.5, f->size, f->words,
                  bl_chart_initial (f->words, m), FALSE);
      source (cr, line, 0.8);
      cairo_set_line_width (cr, 0.5);
      cairo_move_to (cr, left, f->top - f->row * 0.1);
      cairo_line_to (cr, left, f->bottom + f->row * 0.1);
      cairo_stroke (cr);
    }
}

static void
bloom_rows (cairo_t *cr, const BloomFrame *f, GPtrArray *kinds, const BlSite *site)
{
  for (guint i = 0; i < kinds->len; i++)
    {
      g_autofree char *name = bl_plant_name_markup (kinds->pdata[i]);

      source (cr, ink, 1);
      bl_chart_text (cr, 0, f->top + (i + 0.5) * f->row, f->x - f->row * 0.5, 0, f->size, f->words,
                  name, TRUE);
      cairo_save (cr);
      cairo_translate (cr, f->x, f->top + i * f->row + f->row * 0.14);
      bl_chart_ribbon (cr, kinds->pdata[i], site, f->w, f->row * 0.72, 0);
      cairo_restore (cr);
    }
}

double
bl_chart_bloom (cairo_t *cr, const BlLayout *layout, double width, double row_height, double month,
                const BlChartWords *words)
{
  g_autoptr (GPtrArray) kinds = bl_layout_kinds (layout);
  guint months = bl_layout_bloom_months (layout);
  BloomFrame f = { .x = width * 0.34 + row_height * 0.5, .top = row_height * 1.25,
                   .row = row_height, .size = row_height * 0.62, .words = words };
  gboolean gaps = FALSE;

  f.w = width - f.x, f.bottom = f.top + kinds->len * row_height;
  cairo_save (cr);
  bloom_months (cr, &f, months);
  bloom_rows (cr, &f, kinds, &layout->model->site);
  if (month >= 1)
    {
      double x = f.x + (month - 1) / 12 * f.w;

      source (cr, ink, 0.85);
      cairo_set_line_width (cr, 1);
      cairo_move_to (cr, x, f.top - row_height * 0.2);
      cairo_line_to (cr, x, f.bottom + row_height * 0.15);
      cairo_stroke (cr);
    }
  for (int m = 1; m <= 12; m++)
    gaps |= is_gap (months, m);
  if (gaps)
    {
      source (cr, gap_ink, 1);
      bl_chart_text (cr, f.x, f.bottom + row_height * 0.6, f.w, 0, f.size * 0.9, words,
                     words != NULL && words->gap != NULL ? words->gap
                                                         : "Shaded: a month without flowers.",
                     FALSE);
      f.bottom += row_height;
    }
  cairo_restore (cr);
  return f.bottom + row_height * 0.3;
}

double
bl_chart_bloom_height (const BlLayout *layout, double row_height)
{
  g_autoptr (GPtrArray) kinds = bl_layout_kinds (layout);

  /* With the line that explains a gap, whether or not there is one. */
  return (1.25 + kinds->len + 1.3) * row_height;
}

/* Where the plants stand along the viewing side: the camera's right, or plan x without a camera. */
static BlPoint
along (const BlModel *model)
{
  const BlCamera *camera = bl_model_camera (model);

  return camera != NULL ? BL_POINT (cos (camera->heading), -sin (camera->heading)) : BL_POINT (1,
      0);
}

typedef struct
{
  const BlPlaced *placed;
  BlLook look;
  double x, depth;
} Standing;

static int
back_first (gconstpointer a, gconstpointer b)
{
  const Standing *p = a, *q = b;

  return p->depth > q->depth ? -1 : p->depth < q->depth;
}

static GArray *
standing (const BlLayout *layout, BlMoment moment, double *x0, double *x1, double *top)
{
  GArray *list = g_array_new (FALSE, TRUE, sizeof (Standing));
  BlPoint right = along (layout->model), away = BL_POINT (-right.y, right.x);

  *x0 = INFINITY, *x1 = -INFINITY, *top = 0.6;
  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);
      Standing s = { placed, bl_season_look (&layout->model->site, placed->plant, placed->size,
                                             moment), 0, 0 };

      s.x = bl_dot (placed->at, right), s.depth = bl_dot (placed->at, away);
      *x0 = MIN (*x0, s.x - s.look.spread / 2), *x1 = MAX (*x1, s.x + s.look.spread / 2);
      *top = MAX (*top, s.look.height);
      g_array_append_val (list, s);
    }
  g_array_sort (list, back_first);
  return list;
}

void
bl_chart_heights (cairo_t *cr, const BlLayout *layout, BlMoment moment, double width, double height,
                  const BlChartWords *words)
{
  static const BlFigureLight light = { -0.6, 1, { 1, 1, 1, 1 } };
  double x0, x1, top, size = CLAMP (height * 0.07, 6, 12), left = size * 3.4, foot = size * 1.6, k,
    unit, step;
  g_autoptr (GArray) list = standing (layout, moment, &x0, &x1, &top);
  gboolean feet = layout->model->units == BL_UNITS_FEET;

  if (list->len == 0)
    return;
  k = MIN ((width - left) / MAX (0.5, x1 - x0), (height - foot) / (top * 1.08));
  unit = feet ? BL_METRES_PER_FOOT : 1;
  step = top / unit > 12 ? 5 : top / unit > 5 ? 2 : feet ? 1 : 0.5;
  cairo_save (cr);
  for (int i = 0; i * step <= top * 1.06 / unit; i++)
    {
      double h = i * step, y = height - foot - h * unit * k;
      g_autofree char *text = g_strdup_printf (feet ? "%g ft" : "%g m", h);

      source (cr, h == 0 ? ink : line, h == 0 ? 0.7 : 0.9);
      cairo_set_line_width (cr, h == 0 ? 1 : 0.5);
      cairo_move_to (cr, left, y);
      cairo_line_to (cr, width, y);
      cairo_stroke (cr);
      source (cr, quiet, 1);
      bl_chart_text (cr, left - size * 0.5, y, 0, 1, size * 0.85, words, text, FALSE);
    }
  for (guint i = 0; i < list->len; i++)
    {
      const Standing *s = &g_array_index (list, Standing, i);

      cairo_save (cr);
      cairo_translate (cr, left + (width - left - (x1 - x0) * k) / 2 + (s->x - x0) * k,
                       height - foot);
      cairo_scale (cr, k, k);
      bl_figure_draw (cr, s->placed->plant, &s->look, s->placed->seed % 12, &light, k * 2);
      cairo_restore (cr);
    }
  cairo_restore (cr);
}
