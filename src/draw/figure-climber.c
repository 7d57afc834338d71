/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Climbers: the support, stems that twine up it, leaves laid over each other, flowers and fruit. */
#include "draw/figure-head.h"

/* Where the leaves end at height @t (0..1): narrow where the stems rise, ragged above. */
static double
outline (const Fig *f, double t)
{
  double phase = (double) (f->seed >> 7 & 255) * 0.0246, rise = CLAMP ((t - 0.06) / 0.34, 0, 1);

  return (0.16 + 0.66 * rise * (2 - rise)) * (1 - 0.42 * MAX (0, t - 0.80) / 0.20)
         + 0.12 * sin (11 * t + phase) + 0.07 * sin (27 * t + 2.3 * phase);
}

/* Where they end above at @u across, as a share of the height: shoots reach beyond. */
static double
crest (const Fig *f, double u)
{
  double phase = (double) (f->seed >> 13 & 255) * 0.0246;

  return 0.88 + 0.035 * sin (3.4 * u + phase) + 0.03 * sin (8.1 * u + 1.7 * phase) - 0.06 * u * u;
}

/* Places spread evenly over the body without rows: the plastic number's powers. */
static void
place (const Fig *f, guint i, double *t, double *u)
{
  double shift = (double) (f->seed >> 9 & 1023) / 1024, a = 0.7548776662466927 * i + shift,
    b = 0.5698402909980532 * i + 3 * shift;

  *u = 2 * (b - floor (b)) - 1;
  *t = (0.18 + 0.80 * (a - floor (a))) * crest (f, *u);
}

static int
wires (const Fig *f)
{
  return (int) CLAMP (f->height / 0.32, 3, 12);
}

static double
wire_height (const Fig *f, int k)
{
  return f->height * (0.08 + 0.80 * k / (wires (f) - 1));
}

/* Two posts of weathered wood, wires between them. */
static void
support (Fig *f)
{
  FigTones wood = fig_tones (f, (BlColor) { 0.47, 0.42, 0.36, 1 }, 1);
  double w = MAX (0.035, 1.6 * f->px), wire = MAX (0.004, 0.85 * f->px), x = f->half * 0.93;

  for (int k = 0; k < wires (f); k++)
    {
      double y = wire_height (f, k);

      fig_blade (f, 1, (double[8]) { -x, y, 0, y - 0.004 * f->height, x, y, wire, wire }, wood,
                 0.36);
    }
  for (int i = -1; i <= 1; i++)
    fig_blade (f, 1, (double[8]) { 0.5 * i * x, 0.02 * f->height, 0.5 * i * x, f->height * 0.5,
                                   0.5 * i * x, f->height * 0.88, wire, wire }, wood, 0.36);
  for (int i = -1; i <= 1; i += 2)
    {
      double side = 0.22 * w * (f->lx >= 0 ? 1 : -1);

      fig_next (f);
      fig_blade (f, 2, (double[8]) { i * x, 0.4 * f->ground, i * x, f->height * 0.5, i * x,
                                     f->height * 0.91, w, w }, wood, 0.34);
      fig_next (f);
      if (w * f->detail > 2.5)
        fig_blade (f, 2, (double[8]) { i * x + side, 0.4 * f->ground, i * x + side,
                                       f->height * 0.5, i * x + side, f->height * 0.905, 0.45 * w,
                                       0.45 * w }, wood, 0.66);
    }
}

/* One stem winds round another on its way up, thick as an arm's finger at its foot. */
static void
twine (Fig *f, int layer, double x0, double lean, double phase, double width, double top)
{
  int n = (int) CLAMP (top / 0.16, 5, 26);
  double px = x0, py = 0.3 * f->ground;

  for (int i = 1; i <= n; i++)
    {
      double t = (double) i / n, wind = sin (phase + 14 * t) * f->half * (0.07 + 0.07 * t),
        x = x0 * (1 - t) + lean * f->half * t + wind, y = top * t,
        w = MAX (width * (1 - 0.72 * t), 1.1 * f->px);

      fig_blade (f, layer + (i & 1), (double[8]) { px, py, (px + x) / 2 + 0.25 * wind * t,
                                                   (py + y) / 2, x, y, w * 1.05, w }, f->wood,
                 0.34 + 0.14 * ((i + (int) phase) & 1));
      px = x, py = y;
    }
}

/* A twig from x, y: thin, bowed a little upwards, with what leaves there are. */
static void
twig (Fig *f, int layer, double x, double y, double angle, double length, double width, double v)
{
  fig_blade (f, layer, (double[8]) { x, y, x + 0.55 * length * cos (angle),
                                     y + 0.5 * length * sin (angle), x + length * cos (angle),
                                     y + length * sin (angle) + 0.1 * length, MAX (width, 0.9 * f->px),
                                     0.5 * f->px }, f->wood, v);
  for (int k = 0; k < 4 && f->leaf_amount > 0.03; k++)
    {
      double t = 0.25 + 0.25 * k, leaf = MIN (MAX (f->leaf_len, 5 * f->px), 0.4 * f->half),
        turn = k == 3 ? 0 : k % 2 ? 0.8 : -0.8, l = leaf * fig_range (f, 0.6, 0.9);

      if (fig_unit (f) < sqrt (f->leaf_amount))
        fig_leaf (f, layer + 6, f->plant->leaf, x + t * length * cos (angle),
                  y + t * (length * sin (angle) + 0.1 * t * length), angle + turn, l,
                  l * fig_leaf_ratio (f->plant->leaf) * fig_range (f, 0.7, 1), 0.1, f->leaf,
                  v + 0.10 + fig_sway (f, 0.25));
    }
}

/* A branch that was led along a wire, from a stem at x, y: spurs on it, snow on its back. */
static void
led_branch (Fig *f, int layer, double x, double y, double side, double level, double width)
{
  double limit = 0.90 * f->half, l = f->half * fig_range (f, 0.20, 0.95), v = 0.34 + fig_sway (f, 0.1),
    ex = CLAMP (x + side * l, -limit, limit), ey = level + fig_sway (f, 0.012 * f->height),
    cx = 0.7 * x + 0.3 * ex, cy = 0.1 * y + 0.9 * ey;
  int n = (int) CLAMP (fabs (ex - x) * f->detail / 7, 2, 7);

  if (fabs (ex - x) < 0.08 * f->half)
    return;
  fig_blade (f, layer, (double[8]) { x, y, cx, cy, ex, ey, width, MAX (0.3 * width, 0.9 * f->px) },
             f->wood, v);
  for (int i = 0; i < n; i++)
    {
      double t = (i + 0.4 + 0.6 * fig_unit (f)) / n, w = 1 - t,
        px = w * w * x + 2 * w * t * cx + t * t * ex, py = w * w * y + 2 * w * t * cy + t * t * ey,
        a = G_PI / 2 - side * fig_range (f, 0.35, 1.0);

      twig (f, layer, px, py, i % 3 == 2 ? -0.8 * a : a, f->half * fig_range (f, 0.07, 0.20),
            0.4 * width, v + 0.10);
    }
  if (f->snow > 0)
    fig_blade (f, layer + 5, (double[8]) { 0.55 * x + 0.45 * ex, 0.2 * y + 0.8 * ey + 0.4 * width,
                                           0.4 * x + 0.6 * ex, ey + 0.5 * width, 0.2 * x + 0.8 * ex,
                                           ey + 0.4 * width, MAX (0.7 * width, 1.3 * f->px),
                                           MAX (0.4 * width, f->px) }, f->white, 0.85);
}

/* A stem without leaves: stout at its foot, branching to each wire that it passes. */
static void
bare_stem (Fig *f, int layer, double x0, double lean, double phase, double width, int top)
{
  double px = x0, py = 0.4 * f->ground;

  for (int k = 0; k < top; k++)
    {
      double y = wire_height (f, k), t = y / f->height,
        x = x0 * (1 - t) + lean * f->half * t + sin (phase + 9 * t) * f->half * 0.08 * (0.4 + t),
        w0 = MAX (width * (1 - 0.80 * py / f->height), 1.3 * f->px),
        w1 = MAX (width * (1 - 0.80 * t), 1.2 * f->px), bow = fig_sway (f, 0.06) * f->half,
        side = f->lx >= 0 ? 0.24 : -0.24;

      fig_next (f);
      fig_blade (f, layer, (double[8]) { px, py, (px + x) / 2 + bow, (py + y) / 2, x, y, w0, w1 },
                 f->wood, 0.32);
      if (w0 * f->detail > 3)
        {
          fig_next (f);
          fig_blade (f, layer, (double[8]) { px + side * w0, py, (px + x) / 2 + bow + side * w0,
                                             (py + y) / 2, x + side * w1, y, 0.4 * w0, 0.4 * w1 },
                     f->wood, 0.60);
        }
      /* It forks off below its wire and bends along it. */
      for (int s = -1; k > 0 && s <= 1; s += 2)
        if (fig_unit (f) < 0.58)
          led_branch (f, layer, 0.5 * (px + x) + 0.5 * bow, 0.5 * (py + y), s,
                      y + fig_range (f, -0.02, 0.03) * f->height, MAX (0.5 * w1, 1.1 * f->px));
      px = x, py = y;
    }
  /* Last year's growth, beyond the last wire it reached. */
  for (int i = -1; i <= 1; i++)
    twig (f, layer, px, py, G_PI / 2 - 0.5 * i + fig_sway (f, 0.2),
          MIN (f->height - py, 0.5 * f->half + 0.05 * f->height) * fig_range (f, 0.75, 1.0),
          MAX (0.2 * width, f->px), 0.42);
}

/* The light on the body at u across: a round column lit from one side, with hollows. */
static double
body_light (const Fig *f, double u, double t)
{
  double hollow = sin (9 * u + 23 * t + (double) (f->seed & 63)) * sin (17 * t - 5 * u);

  return -0.02 + 0.70 * fig_lit (f, 0.9 * u, 0.25 + 0.2 * t, sqrt (MAX (0, 1 - u * u)))
         + 0.13 * hollow;
}

/* What the leaves lie on: shade with a leafy edge. */
static void
undercoat (Fig *f, double leaf)
{
  int rows = (int) CLAMP (f->height / MAX (0.7 * f->half, 0.05), 5, 14);

  for (int i = 0; i < rows; i++)
    for (int side = -1; side <= 1; side++)
      {
        double t = (i + 0.5 + 0.25 * side) / rows, w = outline (f, t) * f->half,
          x = side * w * 0.52 + fig_sway (f, 0.2 * w);

        if (t < 0.18 || t > 0.92 || fig_unit (f) > f->leaf_amount * (0.35 + 0.65 * f->full))
          continue;
        fig_cloud (f, 8, x, t * f->height * crest (f, 0.5 * side), 0.42 * w * fig_range (f, 0.8, 1.2), 0.62 * f->height / rows, leaf, -0.5, f->leaf,
                   0.04 + 0.34 * body_light (f, side * 0.5, t));
      }
}

/* A shoot with its leaves, or one leaf where leaves are large. */
static void
shoot (Fig *f, int layer, double x, double y, double angle, double leaf, gboolean single,
       double value)
{
  double ratio = fig_leaf_ratio (f->plant->leaf);

  if (single && f->plant->leaf == BL_LEAF_PINNATE)
    {
      double ex = x + leaf * cos (angle), ey = y + leaf * sin (angle);

      fig_feather (f, layer, (double[6]) { x, y, (x + ex) / 2, (y + ey) / 2 + 0.08 * leaf, ex, ey },
                   0.27 * leaf, 0.15, (guint) CLAMP (leaf * f->detail / 3.4, 3, 7), TRUE, f->leaf,
                   value);
      return;
    }
  if (single)
    {
      fig_leaf (f, layer, f->plant->leaf, x, y, angle, leaf, leaf * ratio * fig_range (f, 0.75,
                1.05), fig_sway (f, 0.2), f->leaf, value);
      return;
    }
  {
    double l = MIN (leaf * fig_range (f, 2.3, 3.4), MAX (y, leaf)), w = leaf * (0.55 + 0.6 * ratio),
      bend = fig_sway (f, 0.25) * l, ex = x + l * cos (angle) - 0.15 * l,
      ey = y + l * sin (angle) - 0.1 * l;

    fig_feather (f, layer, (double[6]) { x, y, (x + ex) / 2 - bend * sin (angle),
                                         (y + ey) / 2 + bend * cos (angle), ex, ey }, w, 0.30,
                 (guint) CLAMP (l / leaf * 1.25, 3, 5), TRUE, f->leaf, value);
  }
}

/* How many leaves or shoots cover the body twice, and how many may be drawn. */
static double
leaves_to_cover (const Fig *f, double leaf, gboolean single)
{
  double one = !single ? 3.2 : fig_leaf_ratio (f->plant->leaf)
    * (f->plant->leaf == BL_LEAF_PINNATE ? 0.3 : 0.55);

  return 2.0 * 1.5 * f->half * f->height / (leaf * leaf * one);
}

static double
most_leaves (const Fig *f, gboolean single)
{
  return f->budget * (!single ? 0.9 : f->plant->leaf == BL_LEAF_PINNATE ? 1.9 : 1.5);
}

/* The leaf to draw: its own size, or where too many were needed as shoots of narrow leaves, or
 * larger ones. */
static double
leaf_to_draw (const Fig *f, gboolean *single)
{
  BlLeafShape s = f->plant->leaf;
  gboolean narrow = s == BL_LEAF_LANCE || s == BL_LEAF_LINEAR
    || (s == BL_LEAF_OVAL && f->leaf_len * f->detail < 5);
  double least = s == BL_LEAF_LOBED ? 9 : s == BL_LEAF_PINNATE ? 12 : narrow ? 3.4 : 6.5,
    leaf = MIN (MAX (f->leaf_len, least * f->px), 0.5 * f->half), over;

  *single = !narrow || leaf * f->detail > 6;
  over = leaves_to_cover (f, leaf, TRUE) / most_leaves (f, TRUE);
  if (narrow && over > 1.6)
    *single = FALSE;
  return !*single || over <= 1 ? leaf : leaf * MIN (sqrt (over), 1.7);
}

static void
leaves (Fig *f, double leaf, gboolean single)
{
  guint n = (guint) CLAMP (leaves_to_cover (f, leaf, single) * (0.25 + 0.75 * f->full), 30,
                           most_leaves (f, single));

  for (guint i = 0; i < n; i++)
    {
      /* From below upwards: leaves hang over those beneath them like shingles. */
      double t = 0.11 + 0.89 * (i + fig_unit (f)) / n, u = 2 * fig_share (f, i) - 1,
        w = outline (f, t) * f->half, x = u * w, y = t * f->height * crest (f, u), a, v;
      int pass = (int) (i % 3);

      if (fig_unit (f) > f->leaf_amount)
        continue;
      f->hue = 1 + (int) (i % FIG_HUES);
      a = -G_PI / 2 + 1.05 * u + fig_sway (f, 0.9);
      /* Young shoots reach out and up, the older ones hang. */
      if (!single && pass != 0)
        a = G_PI / 2 - (u + fig_sway (f, 0.8)) * (pass == 1 ? 2.2 : 1.3);
      if (t > 0.965)
        a = G_PI / 2 - 0.9 * u + fig_sway (f, 0.8);
      v = body_light (f, u, t) + (pass == 0 ? -0.14 : pass == 1 ? 0 : 0.12) + fig_sway (f, 0.22);
      if (y + leaf * (single ? 1 : 2) * sin (a) < 0)
        a = -a;
      y = MIN (y, f->height - MAX (0, sin (a)) * leaf * (single ? 1 : 4));
      shoot (f, 10 + (int) (t * 60) + pass * 2, x, y, a, leaf, single, v);
    }
  f->hue = 0;
}

/* Young shoots that found no hold: beyond the top and out to the sides, leaves in pairs. */
static void
stray_shoots (Fig *f, double leaf)
{
  double ratio = fig_leaf_ratio (f->plant->leaf);

  for (int i = 0; i < 11; i++)
    {
      gboolean top = i < 6;
      double t = top ? 0.97 : 0.30 + 0.13 * (i - 6), side = i % 2 ? 1 : -1,
        u = top ? (2 * (i + 0.5 + fig_sway (f, 0.5)) / 6 - 1) * 0.8 : side * 0.9,
        x = u * outline (f, t) * f->half, y = t * f->height * crest (f, u) * 0.98,
        l = MAX (1.5 * leaf, MIN (0.11 * f->height, 0.5 * f->half)) * fig_range (f, 0.7, 1.25);
      FigStem s = { .x0 = x, .x1 = x + (top ? 0.7 * u + fig_sway (f, 0.5) : 0.9 * side) * l,
                    .y1 = y + (top ? 1.0 : 0.25) * l };
      double cx = top ? x : 0.5 * (s.x0 + s.x1), cy = y + (top ? 0.8 : 0.35) * l,
        v = 0.48 + 0.2 * u * f->lx;

      s.x1 = CLAMP (s.x1, -f->half, f->half), s.y1 = MIN (s.y1, f->height - 0.4 * leaf);
      fig_blade (f, 76, (double[8]) { x, y, cx, cy, s.x1, s.y1, 1.2 * f->px, 0.9 * f->px },
                 f->leaf_amount > 0.5 ? f->stalk : f->wood, v - 0.1);
      for (int k = 0; k < 7; k++)
        {
          double q = (k + 1) / 7.0, w = 1 - q, turn = k == 6 ? 0 : k % 2 ? 0.9 : -0.9,
            a = atan2 (w * (cy - y) + q * (s.y1 - cy), w * (cx - x) + q * (s.x1 - cx)) + turn,
            size = leaf * (0.9 - 0.35 * q) * fig_range (f, 0.85, 1.1);

          if (fig_unit (f) > f->leaf_amount)
            continue;
          fig_leaf (f, 77, f->plant->leaf, w * w * x + 2 * w * q * cx + q * q * s.x1,
                    w * w * y + 2 * w * q * cy + q * q * s.y1, a, size, 0.85 * size * ratio, 0,
                    f->leaf, v + fig_sway (f, 0.2));
        }
    }
}

static void
flowers (Fig *f)
{
  double size = MAX (fig_head_size (f), (fig_head_is_long (f) ? 8 : 5) * f->px), one = fig_head_is_long (f) ? 0.35 : 0.9;
  guint n = (guint) CLAMP (0.42 * f->half * 2 * f->height / (size * size * one), 8,
                           20 + f->height * f->detail * 0.30);

  if (!fig_has_heads (f))
    return;
  for (guint i = 0; i < n; i++)
    {
      /* By twos and threes, in the light. */
      FigStage stage = fig_stage (f, i);
      double t, u, x, y;

      place (f, i / 3, &t, &u);
      u += fig_sway (f, 0.9 * size / f->half);
      u = CLAMP (u, -1, 1);
      x = u * outline (f, t) * f->half * 0.98, y = t * f->height + fig_sway (f, 1.3 * size);

      if (stage == FIG_STAGE_SEED && f->plant->has_fruit)
        continue;
      fig_head (f, 90 + (int) (i % 8), stage, x, MIN (y, f->height - size * 0.5),
                G_PI / 2 - 0.9 * u + fig_sway (f, 0.5), size * fig_range (f, 0.85, 1.1),
                0.34 + 0.44 * body_light (f, u, t));
    }
}

static void
fruits (Fig *f)
{
  guint n = (guint) (f->look->fruit * MIN (150, 40 + f->height * f->detail * 0.3));

  if (!f->plant->has_fruit || f->look->fruit < 0.03)
    return;
  for (guint i = 0; i < n; i++)
    {
      double t, u;

      place (f, i / 4, &t, &u);
      fig_fruit (f, 99, u * outline (f, t) * f->half + fig_sway (f, 0.03),
                 t * f->height + fig_sway (f, 0.05), 0.25 + 0.5 * body_light (f, u, t));
    }
}

/* Little snow holds on what stands upright: on the top, on the wires, on tufts of leaves. */
static void
snow (Fig *f)
{
  gboolean leafy = f->leaf_amount > 0.3;

  if (f->snow <= 0)
    return;
  for (int i = 0; i < 4; i++)
    fig_snow (f, leafy ? 100 : 2, f->half * (-0.7 + 0.46 * i + fig_sway (f, 0.1)), f->height * (leafy ? 0.87 : 0.885),
              f->half * (leafy ? 0.26 : 0.18), f->height * (leafy ? 0.016 : 0.007));
  for (guint i = 0; i < (leafy ? 16 : 9); i++)
    {
      double t, u;

      place (f, i + 300, &t, &u);
      fig_snow (f, 82, u * outline (f, t) * f->half, leafy ? t * f->height
                : wire_height (f, (int) (t * wires (f))),
                f->half * fig_range (f, 0.09, 0.16), f->height * (leafy ? 0.010 : 0.005));
    }
}

void
fig_form_climber (Fig *f)
{
  gboolean single;
  double width = MAX (0.009 * f->height, 1.3 * f->px), leaf = leaf_to_draw (f, &single);

  support (f);
  fig_part (f, 61);
  for (int i = 0; i < 4 && f->leaf_amount < 0.6; i++)
    bare_stem (f, 3 + i, (i - 1.5) * 0.16 * f->half, (i - 1.5) * 0.38, i * 1.7 + 0.4,
               MAX (0.055 * f->half + 0.006 * f->height, 2 * f->px) * (i == 1 ? 1 : 0.72),
               MAX (2, wires (f) - (i * 2) % 3));
  for (int i = 0; i < 4 && f->leaf_amount >= 0.6; i++)
    twine (f, 3 + i, (i - 1.5) * 0.10 * f->half, (i - 1.5) * 0.34, i * 1.7 + 0.4, width
           * (1 - 0.12 * i), f->height * fig_range (f, 0.84, 0.97));
  fig_part (f, 62);
  if (f->leaf_amount > 0.55)
    undercoat (f, MIN (leaf, MAX (0.12 * f->half, 5 * f->px)));
  fig_part (f, 63);
  if (f->leaf_amount >= 0.6)
    leaves (f, leaf, single);
  fig_part (f, 66);
  if (f->leaf_amount >= 0.6)
    stray_shoots (f, leaf);
  snow (f);
  fig_part (f, 64);
  flowers (f);
  fig_part (f, 65);
  fruits (f);
}
