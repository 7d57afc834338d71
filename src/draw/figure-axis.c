/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flower heads with an axis: spikes, racemes, closed and open panicles, catkins. */
#include "draw/figure-head.h"

/* The stem of the head, from its foot to @to. */
static void
stalk (Fig *f, const FigHead *h, double to, double width)
{
  double x, y, w = MAX (width, 1.15 * f->px);

  fig_head_at (h, to, 0, &x, &y);
  fig_next (f);
  fig_blade (f, h->layer, (double[8]) { h->x, h->y, (h->x + x) / 2, (h->y + y) / 2, x, y, w,
                                        0.36 * w }, h->stage == FIG_STAGE_SEED ? h->main : f->stalk,
             h->value - 0.14);
}

/* What is still shut at the top of a head that opens from below, or shut altogether. */
static gboolean
is_shut (const FigHead *h, double t)
{
  return h->stage == FIG_STAGE_BUD || (h->stage == FIG_STAGE_OPEN && t > 0.84);
}

static FigTones
tones_at (const Fig *f, const FigHead *h, double t)
{
  return h->stage == FIG_STAGE_BUD && t > 0.35 ? f->green : h->main;
}

/* Rings of lipped flowers, closer towards the top; the stem shows between them. */
static void
whorls (Fig *f, const FigHead *h)
{
  guint n = (guint) CLAMP (h->px / 5.0, 3, 9);
  double fat = MAX (0.088 * h->size, 2.3 * f->px);

  stalk (f, h, h->px < 22 ? 0.5 : 0.95, 0.035 * h->size);
  fig_next (f);
  for (guint i = 0; i < n; i++)
    {
      double t = 0.04 + 0.93 * (1 - pow (1 - (i + 0.35) / n, 1.25)), k = 1 - 0.60 * t * t;
      double w = fat * k * (is_shut (h, t) ? 0.62 : 1) * fig_range (f, 0.9, 1.1), x, y,
        thick = MIN (0.62 * w, 0.36 * h->size / n * 1.3);
      FigTones tones = tones_at (f, h, t);
      guint parts = h->px * fat / h->size < 3.4 ? 1 : h->px * fat / h->size < 9 ? 3 : 5;

      if (h->stage == FIG_STAGE_SEED)
        w *= 0.62;
      for (guint p = 0; p < parts; p++)
        {
          static const double across[] = { 1, -1, 0.62, -0.55, 0.1 };
          double u = parts == 1 ? 0 : parts == 3 && p == 2 ? 0.3 * (f->lx > 0 ? -1 : 1) : across[p];

          fig_head_at (h, t, u * w * 0.62, &x, &y);
          fig_oval (f, h->layer, x, y, h->angle + G_PI / 2 + u * 0.5,
                    parts == 1 ? w : w * (parts == 5 ? 0.42 : p == 2 ? 0.46 : 0.58),
                    parts == 5 ? 0.8 * thick : thick, tones,
                    h->value + fig_head_side (f, h, u) + (p >= 2 ? 0.05 * p : 0)
                    + fig_sway (f, 0.10) - (i % 2 ? 0.05 : 0));
        }
    }
}

/* A closed spike: its body with a toothed edge, lit on one side, flowers on it when near. */
static void
poker (Fig *f, const FigHead *h, double fat, double notch)
{
  double w = MAX (fat * h->size, 1.3 * f->px) * (h->stage == FIG_STAGE_BUD ? 0.7
                                                 : h->stage == FIG_STAGE_SEED ? 0.8 : 1), p[6];
  guint teeth = (guint) CLAMP (h->px / 3.2, 4, 26), dots = h->px * fat < 3.4 ? 0
    : (guint) CLAMP (h->px * 0.55, 6, 30);
  double shade = f->lx > 0 ? 1 : -1;

  stalk (f, h, 0.3, 0.03 * h->size);
  p[0] = h->x, p[1] = h->y;
  fig_head_at (h, 0.5, 0, &p[2], &p[3]);
  fig_head_at (h, 1, 0, &p[4], &p[5]);
  fig_next (f);
  fig_feather (f, h->layer, p, w, notch, teeth, FALSE, tones_at (f, h, 0.5), h->value - 0.16);
  fig_next (f);
  if (h->px * fat > 1.6)
    {
      fig_head_at (h, 0.05, -shade * 0.22 * w, &p[0], &p[1]);
      fig_head_at (h, 0.5, -shade * 0.22 * w, &p[2], &p[3]);
      fig_feather (f, h->layer, p, w * 0.62, notch, teeth, FALSE, tones_at (f, h, 0.4),
                   h->value + 0.06);
    }
  fig_next (f);
  for (guint i = 0; i < dots; i++)
    {
      double t = (i + fig_unit (f)) / dots, u = i % 3 == 0 ? -0.8 : i % 3 == 1 ? 0.7 : 0,
        r = MAX (0.34 * w * (1 - 0.5 * t), 0.8 * f->px), x, y;

      fig_head_at (h, 0.03 + 0.90 * t, u * w * (1 - 0.85 * t), &x, &y);
      fig_oval (f, h->layer, x, y, h->angle + u, r, r * 0.7, tones_at (f, h, t),
                h->value + 0.10 + fig_head_side (f, h, u) + fig_sway (f, 0.22));
    }
}

/* Tubes that hang, the lowest oldest; drawn from below, as the upper ones lie over them. */
static void
torch (Fig *f, const FigHead *h)
{
  guint rows = (guint) CLAMP (h->px / 4.0, 4, 12);
  double fat = MAX (0.155 * h->size, 2.2 * f->px) * (h->stage == FIG_STAGE_BUD ? 0.8 : 1);

  stalk (f, h, 0.8, 0.06 * h->size);
  for (guint i = 0; i < rows; i++)
    {
      double t = 0.16 + 0.82 * (i + 0.5) / rows, k = t < 0.4 ? 0.82 + 0.18 * t / 0.4
        : sqrt (MAX (0.06, 1 - pow ((t - 0.4) / 0.62, 2)));
      FigTones tones = h->stage == FIG_STAGE_OPEN && t < 0.42 ? h->eye : h->main;

      fig_next (f);
      for (guint p = 0; p < 3; p++)
        {
          double u = p == 0 ? 1 : p == 1 ? -1 : fig_sway (f, 0.4), x, y, ex, ey,
            l = 0.17 * h->size * (1.1 - 0.45 * t);

          fig_head_at (h, t, u * fat * k * 0.30, &x, &y);
          fig_head_at (h, t, u * fat * k, &ex, &ey);
          ey -= l * (1 - 0.25 * fabs (u));
          fig_blade (f, h->layer, (double[8]) { x, y, (x + ex) / 2 + 0.2 * (ex - x), (y + ey) / 2
                     + 0.1 * l, ex, ey, fat * 0.34 * k, fat * 0.48 * k }, tones,
                     h->value + fig_head_side (f, h, u) + fig_sway (f, 0.12)
                     + (p == 2 ? 0.12 : -0.02));
        }
    }
}

static void
bell (Fig *f, const FigHead *h, double x, double y, double lean, double l, double value)
{
  double ex = x + 0.35 * l * lean, ey = y - l, mx = x + 0.05 * l * lean, my = y - 0.4 * l;

  fig_blade (f, h->layer, (double[8]) { x, y, mx, my, ex, ey, 0.30 * l, 0.74 * l }, h->main, value);
  if (l * f->detail > 4.5)
    {
      fig_oval (f, h->layer, ex, ey, 0.35 * lean, 0.44 * l, 0.15 * l, h->main, value + 0.18);
      fig_oval (f, h->layer, ex, ey - 0.02 * l, 0.35 * lean, 0.26 * l, 0.07 * l, h->main,
                value - 0.34);
    }
}

/* A bud of a raceme: pointed, on its stalk towards the tip of the stem, the upper ones smaller. */
static void
raceme_bud (Fig *f, const FigHead *h, double x, double y, double side, double t, double l, double v)
{
  double a = h->angle + side * (0.75 - 0.5 * t), long_ = l * (1.05 - 0.5 * t);

  fig_leaf (f, h->layer, BL_LEAF_OVAL, x - 0.2 * long_ * cos (a), y - 0.2 * long_ * sin (a), a, long_,
            0.46 * long_, 0, tones_at (f, h, t), v - 0.10);
  if (long_ * f->detail > 6)
    fig_leaf (f, h->layer, BL_LEAF_OVAL, x - 0.1 * long_ * cos (a) + 0.05 * long_ * f->lx,
              y - 0.1 * long_ * sin (a), a, 0.8 * long_, 0.22 * long_, 0, tones_at (f, h, t), v + 0.14);
}

/* Flowers along a stem, each with its own stalk: pea flowers, stars, or bells to the sides. */
static void
raceme (Fig *f, const FigHead *h, gboolean bells, double floret)
{
  gboolean stars = f->plant->form == BL_FORM_BULB && !bells;
  double apart = stars ? 0.36 : 0.62;
  guint n = (guint) CLAMP (h->size / MAX (floret * apart, 2.6 * f->px), 4, 18);

  stalk (f, h, 0.98, 0.03 * h->size);
  for (guint i = 0; i < n; i++)
    {
      double t = 0.04 + 0.92 * (i + 0.4) / n, side = i % 3 == 2 ? 0.15 : i % 2 ? 1 : -1,
        l = floret * (1.05 - 0.55 * t * t) * (h->stage == FIG_STAGE_BUD ? 0.85 : 1), x, y, ex, ey, v;
      gboolean shut = is_shut (h, t + 0.06) && !(stars && t < 0.18);

      if (h->stage == FIG_STAGE_SEED)
        l *= 0.5;
      fig_head_at (h, t, 0, &x, &y);
      fig_head_at (h, t + (bells ? 0.01 : 0.3 * l / h->size), side * (shut ? 0.42 : 0.62) * l, &ex, &ey);
      v = h->value + fig_head_side (f, h, side) + fig_sway (f, 0.12);
      fig_next (f);
      if (l * f->detail > 3)
        fig_blade (f, h->layer, (double[8]) { x, y, (x + ex) / 2, (y + ey) / 2 + 0.1 * l, ex, ey,
                                              f->px, 0.8 * f->px },
                   h->stage == FIG_STAGE_SEED ? h->main : f->stalk, h->value - 0.1);
      if (shut && !bells)
        raceme_bud (f, h, ex, ey, side, t, 0.8 * l, v);
      else if (shut || h->stage == FIG_STAGE_SEED)
        fig_oval (f, h->layer, ex, ey, 1.2 * side, 0.42 * l, 0.26 * l, tones_at (f, h, t), v - 0.05);
      else if (stars && l * f->detail > 4)
        {
          double flat = fabs (side) < 0.5 ? 0.95 : 0.72, phase = fig_range (f, 0, 1);

          fig_rays (f, h->layer, 6, ex, ey - 0.04 * l, phase,
                    (double[5]) { 0.66 * l, 0.06 * l, flat, -0.5 * side, 0.26 * l }, h->main, v - 0.16);
          fig_next (f);
          fig_rays (f, h->layer, 6, ex, ey, phase,
                    (double[5]) { 0.64 * l, 0.06 * l, flat, -0.5 * side, 0.19 * l }, h->main, v + 0.12);
          fig_next (f);
          fig_oval (f, h->layer, ex, ey, 0, 0.11 * l, 0.10 * l, h->eye, v);
        }
      else if (bells)
        bell (f, h, ex, ey + 0.25 * l, side, l, v);
      else
        {
          fig_oval (f, h->layer, ex, ey, 0.4 * side, 0.52 * l, 0.40 * l, h->main, v - 0.12);
          fig_oval (f, h->layer, ex + 0.10 * l * f->lx, ey + 0.15 * l, 0.4 * side, 0.38 * l,
                    0.26 * l, h->main, v + 0.14);
        }
    }
}

/* A bell seen from its mouth: six lobes rolled back round a darker throat. */
static void
reflexed (Fig *f, const FigHead *h, double x, double y, double side, double r, double value)
{
  double wide = 1 - 0.34 * fabs (side), lean = -0.55 * side, tilt = lean - 1.5 * (side != 0),
    phase = fig_range (f, 0, 1);

  fig_next (f);
  fig_rays (f, h->layer, 6, x, y - 0.05 * r, phase,
            (double[5]) { 1.04 * r, 0.1 * r, wide, tilt, 0.52 * r }, h->main, value - 0.20);
  fig_next (f);
  fig_rays (f, h->layer, 6, x, y, phase, (double[5]) { r, 0.1 * r, wide, tilt, 0.40 * r }, h->main,
            value + 0.06);
  fig_next (f);
  fig_oval (f, h->layer, x, y, lean, 0.24 * r, 0.22 * r * wide, h->main, value - 0.26);
}

/* A hyacinth's truss: rings of three to a side, hardly any stem between. */
static void
truss (Fig *f, const FigHead *h)
{
  static const double across[] = { -1, 1, -0.45, 0.5, 0.05 };
  guint rows = h->px < 30 ? 5 : h->px < 80 ? 7 : 9;

  stalk (f, h, 0.94, 0.055 * h->size);
  for (guint k = 0; k < 5; k++)
    for (guint i = 0; i < rows; i++)
      {
        double t = 0.04 + 0.92 * (i + 0.25 + 0.5 * (k % 2) + fig_sway (f, 0.2)) / rows,
          r = 0.085 * h->size * (1.08 - 0.5 * t * t), x, y, v;

        fig_head_at (h, t, across[k] * 1.35 * r, &x, &y);
        v = h->value + 0.02 + fig_head_side (f, h, across[k]) + 0.05 * (k > 1) + fig_sway (f, 0.12);
        fig_next (f);
        if (h->stage == FIG_STAGE_SEED || is_shut (h, t) || r * f->detail < 2.6)
          fig_oval (f, h->layer, x, y, G_PI / 2 - 0.9 * across[k], 0.72 * r, 0.5 * r,
                    tones_at (f, h, t), v - 0.06);
        else
          reflexed (f, h, x, y, across[k], r, v);
      }
}

/* A grass's brush: a soft cylinder of bristles. */
static void
brush (Fig *f, const FigHead *h)
{
  guint n = (guint) CLAMP (h->px / 3.0, 4, 13);
  double w = MAX (0.10 * h->size, 1.5 * f->px), p[6];

  p[0] = h->x, p[1] = h->y;
  fig_head_at (h, 0.5, 0, &p[2], &p[3]);
  fig_head_at (h, 1, 0, &p[4], &p[5]);
  stalk (f, h, 0.3, 0.02 * h->size);
  fig_next (f);
  fig_feather (f, h->layer, p, w * 0.72, 0.5, (guint) CLAMP (h->px / 2.6, 5, 24), FALSE, h->main,
               h->value - 0.10);
  fig_next (f);
  for (guint i = 0; h->px > 10 && i < n; i++)
    {
      double t = 0.02 + 0.88 * (i + 0.5) / n, x, y, side = i % 2 ? 1 : -1;

      fig_head_at (h, t, 0, &x, &y);
      fig_tuft (f, h->layer, 4, x, y, h->angle + 0.75 * side, w * 1.7 * (1 - 0.5 * t), 1.1,
                MAX (0.7 * f->px, 0.012 * h->size), h->main,
                h->value + 0.14 + fig_head_side (f, h, side) + fig_sway (f, 0.12));
    }
}

/* A pyramid of florets over its shaded body: lilac, phlox, hydrangea. */
static void
conical (Fig *f, const FigHead *h, double fat)
{
  double w = MAX (fat * h->size, 1.5 * f->px) * (h->stage == FIG_STAGE_BUD ? 0.72 : 1), p[6], d;
  guint n = h->px * fat < 2.6 ? 3 : (guint) CLAMP (h->px * (0.3 + 1.1 * fat), 7, 34);

  stalk (f, h, 0.3, 0.035 * h->size);
  p[0] = h->x, p[1] = h->y;
  fig_head_at (h, 0.5, 0, &p[2], &p[3]);
  fig_head_at (h, 1, 0, &p[4], &p[5]);
  fig_next (f);
  fig_feather (f, h->layer, p, w * 0.9, 0.72, (guint) CLAMP (h->px / 6, 3, 9), FALSE, h->main,
               h->value - 0.24);
  d = MAX (0.30 * w, 0.95 * f->px);
  fig_next (f);
  for (guint i = 0; i < n; i++)
    {
      /* From the foot to the tip, more where it is wide. */
      double t = 0.02 + 0.92 * (1 - sqrt (1 - (i + 0.5) / n)), k = 1 - 0.88 * t,
        u = 2 * fig_share (f, i) - 1, x, y, r = d * (1 - 0.45 * t) * fig_range (f, 0.8, 1.15);

      if (h->stage == FIG_STAGE_SEED && i % 4 == 0)
        continue;
      fig_head_at (h, t + 0.06 * fabs (u) * fat, u * w * k * 0.95, &x, &y);
      fig_oval (f, h->layer, x, y, h->angle + u, r, r * 0.78, tones_at (f, h, t),
                h->value + fig_head_side (f, h, u) + fig_sway (f, 0.20)
                + 0.08 * (1 - fabs (u)));
    }
}

/* A stout stem, short branches to both sides by turns, narrow flowers standing on them. */
static void
open (Fig *f, const FigHead *h)
{
  guint n = (guint) CLAMP (h->px / 9, 4, 9);
  double w = MAX (0.020 * h->size, 1.4 * f->px);

  {
    double x, y;

    /* The upper stem is of the flowers' colour, darker. */
    fig_head_at (h, 1, 0, &x, &y);
    fig_next (f);
    fig_blade (f, h->layer, (double[8]) { h->x, h->y, (h->x + x) / 2, (h->y + y) / 2, x, y, w,
                                          0.6 * w }, h->main, h->value - 0.26);
  }
  for (guint i = 0; i < n; i++)
    {
      double t = 0.20 + 0.74 * (i + 0.4) / n, side = i % 2 ? 1 : -1,
        l = h->size * (0.27 - 0.16 * t) * fig_range (f, 0.85, 1.15), x, y,
        a = h->angle + side * 0.78, ex, ey;

      fig_head_at (h, t, 0, &x, &y);
      ex = x + l * cos (a), ey = y + l * sin (a);
      fig_next (f);
      fig_blade (f, h->layer, (double[8]) { x, y, x + 0.6 * l * cos (a), y + 0.45 * l * sin (a), ex,
                                            ey, 0.7 * w, MAX (0.4 * w, f->px) },
                 h->main, h->value - 0.22);
      for (guint k = 0; k < 4; k++)
        {
          double q = 0.30 + 0.24 * k, b = h->angle + side * fig_range (f, -0.25, 0.75),
            m = h->size * 0.085 * (h->stage == FIG_STAGE_BUD ? 0.6 : 1);

          fig_leaf (f, h->layer, BL_LEAF_LANCE, x + q * (ex - x), y + q * (ey - y), b, m,
                    MAX (0.34 * m, 1.5 * f->px), 0, h->main,
                    h->value + fig_head_side (f, h, side) + fig_sway (f, 0.2));
        }
    }
}

/* Narrow and loose: branches close to the stem with flowers along them. */
static void
wands (Fig *f, const FigHead *h)
{
  guint n = (guint) CLAMP (h->px / 7, 3, 8);

  stalk (f, h, h->px < 40 ? 0.3 : 0.98, 0.012 * h->size);
  for (guint i = 0; i < n; i++)
    {
      double t = 0.02 + 0.80 * (i + 0.3) / n, side = i % 2 ? 1 : -1, l = h->size * (0.34 - 0.20 * t),
        a = h->angle + side * (0.42 - 0.1 * t), x, y;
      guint m = (guint) CLAMP (l * f->detail / 3.4, 2, 6);

      fig_head_at (h, t, 0, &x, &y);
      fig_next (f);
      if (h->px > 40)
        fig_blade (f, h->layer, (double[8]) { x, y, x + 0.5 * l * cos (a), y + 0.5 * l * sin (a),
                                              x + l * cos (a), y + l * sin (a), 0.9 * f->px,
                                              0.7 * f->px },
                   h->stage == FIG_STAGE_SEED ? h->main : f->stalk, h->value - 0.1);
      for (guint k = 0; k < m; k++)
        {
          double q = (k + 0.6) / m * l, r = MAX (0.021 * h->size * (1.2 - 0.5 * t), 1.3 * f->px);

          fig_oval (f, h->layer, x + q * cos (a) + fig_sway (f, 0.4 * r), y + q * sin (a), a,
                    r * 1.25, r * 0.85, tones_at (f, h, t),
                    h->value + fig_head_side (f, h, side) + fig_sway (f, 0.22));
        }
    }
}

/* A tassel that hangs from its twig; a short one stands on it, silky and plump: pussy willow. */
static void
catkin (Fig *f, const FigHead *h)
{
  FigHead k = *h;

  if (f->plant->flower_size < 0.035)
    {
      double l = MAX (0.5 * f->plant->flower_size, 2.2 * f->px), x = h->x + l * h->c,
        y = h->y + l * h->s;

      fig_next (f);
      fig_oval (f, h->layer, x, y, h->angle, l, 0.55 * l, h->main, h->value - 0.22);
      fig_next (f);
      fig_oval (f, h->layer, x + 0.16 * l * f->lx, y + 0.12 * l, h->angle, 0.72 * l, 0.36 * l,
                h->main, h->value + 0.16);
      return;
    }

  k.angle = -G_PI / 2 + fig_sway (f, 0.12);
  k.c = cos (k.angle), k.s = sin (k.angle);
  poker (f, &k, MAX (0.10, 1.7 * f->px / k.size), 0.6);
}

void
fig_head_axis (Fig *f, const FigHead *h, FigHeadKind kind)
{
  double floret = f->plant->flower_size;

  switch ((int) kind)
    {
    case FIG_HEAD_WHORLS: whorls (f, h); break;
    case FIG_HEAD_POKER: poker (f, h, bl_plant_is_woody (f->plant)
                                 || f->plant->form == BL_FORM_BULB ? 0.14 : 0.085, 0.62); break;
    case FIG_HEAD_TORCH: torch (f, h); break;
    case FIG_HEAD_RACEME: raceme (f, h, FALSE, (f->plant->form == BL_FORM_BULB ? 0.165 : 0.135)
                                   * h->size); break;
    case FIG_HEAD_TRUSS: truss (f, h); break;
    case FIG_HEAD_BELLS: raceme (f, h, TRUE, CLAMP (floret, 1.6 * f->px, 0.24 * h->size)); break;
    case FIG_HEAD_EAR: poker (f, h, 0.045, 0.45); break;
    case FIG_HEAD_BRUSH: brush (f, h); break;
    case FIG_HEAD_CONICAL:
      conical (f, h, f->plant->form == BL_FORM_UPRIGHT_CLUMP ? 0.40 : 0.30); break;
    case FIG_HEAD_HANGING:
      {
        FigHead k = *h;

        k.angle = -G_PI / 2 + 0.35 * cos (h->angle) + fig_sway (f, 0.2);
        k.c = cos (k.angle), k.s = sin (k.angle);
        conical (f, &k, 0.20);
        break;
      }
    case FIG_HEAD_OPEN: open (f, h); break;
    case FIG_HEAD_WANDS: wands (f, h); break;
    case FIG_HEAD_CATKIN: catkin (f, h); break;
    default: break;
    }
}
