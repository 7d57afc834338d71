/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flower heads as light as feathers: plumes of grasses, astilbe's froth, goldenrod, haze. */
#include "draw/figure-head.h"

#include <stdlib.h>

/* A stiff narrow plume: loose while in flower, closed to a spear afterwards. */
static void
spear (Fig *f, const FigHead *h)
{
  gboolean open = h->stage == FIG_STAGE_OPEN;
  double w = MAX (h->size * (open ? 0.062 : 0.042), 1.25 * f->px), p[6], shade = f->lx > 0 ? 1 : -1,
    bow = fig_sway (f, 0.02);
  guint teeth = (guint) CLAMP (h->px / 3.6, 4, 22), n = (guint) CLAMP (h->px / 7, 0, 12);

  p[0] = h->x, p[1] = h->y;
  fig_head_at (h, 0.5, bow * h->size, &p[2], &p[3]);
  fig_head_at (h, 1, 0, &p[4], &p[5]);
  fig_next (f);
  fig_feather (f, h->layer, p, w, 0.5, teeth, TRUE, h->main, h->value - 0.16);
  fig_next (f);
  fig_head_at (h, 0.02, -shade * 0.25 * w, &p[0], &p[1]);
  fig_head_at (h, 0.5, bow * h->size - shade * 0.3 * w, &p[2], &p[3]);
  if (h->px > 9)
    fig_feather (f, h->layer, p, w * 0.6, 0.5, teeth, TRUE, h->main, h->value + 0.10);
  fig_next (f);
  for (guint i = 0; h->px > 22 && i < n; i++)
    {
      double t = 0.08 + 0.76 * (i + fig_unit (f)) / n, side = i % 2 ? 1 : -1, x, y;

      fig_head_at (h, t, 0.3 * side * w, &x, &y);
      fig_tuft (f, h->layer, 2, x, y, h->angle + side * (open ? 0.34 : 0.16),
                h->size * (open ? 0.15 : 0.11) * (1 - 0.5 * t), 0.3, MAX (0.7 * f->px,
                0.008 * h->size), h->main, h->value + fig_head_side (f, h, side)
                + fig_sway (f, 0.16));
    }
}

/* Silky fingers from one point, all swept to one side. */
static void
fan (Fig *f, const FigHead *h)
{
  guint n = h->px < 16 ? 4 : h->px < 40 ? 6 : 9;
  double sweep = (h->c > 0 ? 1 : -1) * 0.22, wide = h->stage == FIG_STAGE_BUD ? 0.16
    : h->stage == FIG_STAGE_SEED ? 0.62 : 0.44;

  for (guint i = 0; i < n; i++)
    {
      double u = 2 * (i + 0.5) / n - 1, a = h->angle + u * wide, l = h->size * (1 - 0.22 * fabs (u))
        * fig_range (f, 0.88, 1.05), x, y, w = MAX (0.022 * h->size, 0.95 * f->px);
      double ex, ey, mx, my;

      fig_head_at (h, 0.10 * (1 - fabs (u)), 0, &x, &y);
      mx = x + 0.5 * l * cos (a), my = y + 0.5 * l * sin (a);
      ex = x + 0.9 * l * cos (a - sweep * 0.6), ey = y + 0.9 * l * sin (a - sweep * 0.6);
      fig_next (f);
      fig_feather (f, h->layer, (double[6]) { x, y, mx, my, ex, ey }, w, 0.45,
                   (guint) CLAMP (h->px / 5, 4, 14), TRUE, h->main,
                   h->value + fig_head_side (f, h, u) + fig_sway (f, 0.16));
    }
}

/* Feathery branches round a feathery axis, shorter towards the tip. */
static void
froth (Fig *f, const FigHead *h)
{
  guint n = h->px < 13 ? 2 : h->px < 34 ? 4 : 6;
  double w = MAX (0.055 * h->size, 1.2 * f->px), shut = h->stage == FIG_STAGE_BUD ? 0.7 : 1;
  FigTones stem = h->stage == FIG_STAGE_SEED ? h->main : f->stalk;
  double x, y;

  fig_head_at (h, 0.7, 0, &x, &y);
  fig_blade (f, h->layer, (double[8]) { h->x, h->y, (h->x + x) / 2, (h->y + y) / 2, x, y,
                                        MAX (0.02 * h->size, 1.1 * f->px), 0.7 * f->px }, stem,
             h->value - 0.14);
  for (guint i = 0; i < n; i++)
    for (int side = -1; side <= 1; side += 2)
      {
        double t = 0.04 + 0.62 * (i + 0.3 * (side > 0)) / n, a = h->angle + side * (0.66 - 0.2 * t),
          l = h->size * (0.42 - 0.30 * t) * shut * fig_range (f, 0.85, 1.1), ex, ey, mx, my;

        fig_head_at (h, t, 0, &x, &y);
        mx = x + 0.5 * l * cos (a), my = y + 0.55 * l * sin (a);
        ex = x + l * cos (a - side * 0.16), ey = y + l * sin (a - side * 0.16);
        fig_next (f);
        fig_feather (f, h->layer, (double[6]) { x, y, mx, my, ex, ey }, w * (1 - 0.3 * t), 0.20,
                     (guint) CLAMP (l * f->detail / 2.6, 3, 22), FALSE, h->main,
                     h->value + fig_head_side (f, h, side) + fig_sway (f, 0.26) - 0.06);
      }
  fig_next (f);
  fig_head_at (h, 0.30, 0, &x, &y);
  {
    double ex, ey;

    fig_head_at (h, 1, 0, &ex, &ey);
    fig_feather (f, h->layer, (double[6]) { x, y, (x + ex) / 2, (y + ey) / 2, ex, ey }, w * 1.15,
                 0.24, (guint) CLAMP (h->px / 3.0, 4, 30), FALSE, h->main, h->value + 0.12);
  }
}

/* Goldenrod: branches that rise and arch over, with flowers on their upper side. */
static void
rod (Fig *f, const FigHead *h)
{
  guint n = h->px < 16 ? 3 : 6;
  double x, y;

  fig_head_at (h, 0.9, 0, &x, &y);
  fig_blade (f, h->layer, (double[8]) { h->x, h->y, (h->x + x) / 2, (h->y + y) / 2, x, y,
                                        1.2 * f->px, 0.8 * f->px }, h->stage == FIG_STAGE_SEED
             ? h->main : f->stalk, h->value - 0.1);
  for (guint i = 0; i <= n; i++)
    {
      double t = 0.04 + 0.80 * i / n, side = i == n ? (h->c > 0 ? -0.5 : 0.5) : i % 2 ? 1 : -1,
        a = h->angle + side * 0.30, b = h->angle + side * 1.15,
        l = h->size * (i == n ? 0.26 : 0.52 - 0.30 * t), ex, ey, mx, my, w;

      w = MAX (0.045 * h->size * (1 - 0.3 * t), 1.15 * f->px)
          * (h->stage == FIG_STAGE_BUD ? 0.7 : 1);
      fig_head_at (h, t, 0, &x, &y);
      mx = x + 0.62 * l * cos (a), my = y + 0.62 * l * sin (a);
      ex = mx + 0.5 * l * cos (b), ey = my + 0.5 * l * sin (b);
      fig_next (f);
      fig_feather (f, h->layer, (double[6]) { x, y, mx, my, ex, ey }, w, 0.5,
                   (guint) CLAMP (l * f->detail / 3.2, 3, 12), TRUE,
                   h->stage == FIG_STAGE_BUD && i % 2 ? f->green : h->main,
                   h->value + fig_head_side (f, h, side) - 0.08);
      if (h->px < 12)
        continue;
      fig_next (f);
      fig_feather (f, h->layer, (double[6]) { x, y + 0.3 * w, mx, my + 0.3 * w, ex, ey + 0.2 * w },
                   w * 0.62, 0.5, (guint) CLAMP (l * f->detail / 3.2, 3, 12), TRUE, h->main,
                   h->value + fig_head_side (f, h, side) + 0.14);
    }
}

/* Smoke bush: a haze of hairs, lighter towards the light. */
static void
smoke (Fig *f, const FigHead *h)
{
  guint n = (guint) CLAMP (h->px / 3, 5, 14);
  double l = 0.34 * h->size, x, y;

  fig_next (f);
  fig_head_at (h, 0.45, 0, &x, &y);
  fig_cloud (f, h->layer, x, y, 0.36 * h->size, 0.32 * h->size, 0.16 * h->size, 0.4, h->main,
             h->value - 0.16);
  fig_next (f);
  for (guint i = 0; i < n; i++)
    {
      double a = fig_range (f, 0, 2 * G_PI), q = 0.30 * h->size * sqrt (fig_unit (f)),
        px = x + q * cos (a), py = y + q * sin (a);

      fig_tuft (f, h->layer, 5, px, py, a, l * fig_range (f, 0.6, 1.1), 2.0,
                0.8 * f->px, h->main, h->value + 0.10 + 0.25 * sin (a) + fig_sway (f, 0.2));
    }
}

/* Small flowers at the ends of hair-fine branches; @dots times the size of a grass's spikelets. */
static void
airy (Fig *f, const FigHead *h, double dots, double width)
{
  double bow = fig_sway (f, 0.10);
  guint rows = (guint) CLAMP (h->px / 4.2, 4, 13);
  double rx = MAX (0.0032 * dots, (dots > 1 ? 1.7 : 1.15) * f->px),
    ry = MAX (0.0018 * dots, (dots > 1 ? 1.4 : 0.7) * f->px);
  FigTones stem = dots > 1 && h->stage != FIG_STAGE_SEED ? f->stalk : h->main;

  fig_next (f);
  if (h->px > 9)
    {
      double x, y, mx, my;

      fig_head_at (h, 0.5, 0, &mx, &my);
      fig_head_at (h, 0.9, -bow * h->size * 0.8, &x, &y);
      fig_blade (f, h->layer, (double[8]) { h->x, h->y, mx, my, x, y, 1.1 * f->px, 0.7 * f->px },
                 stem, h->value - 0.16);
    }
  for (guint i = 0; i < rows; i++)
    for (int side = -1; side <= 1; side += 2)
      {
        double t = (i + fig_range (f, 0.1, 0.9)) / rows, x, y;
        double l = h->size * width * (1 - 0.65 * t) * fig_range (f, 0.6, 1.1),
          a = h->angle + side * fig_range (f, 0.30, 0.85);
        double ex, ey, v = h->value + fig_sway (f, 0.3);

        fig_head_at (h, 0.86 * t, -bow * h->size * t * t, &x, &y);
        ex = x + l * cos (a), ey = y + l * sin (a);
        fig_blade (f, h->layer, (double[8]) { x, y, (x + ex) / 2, (y + ey) / 2, ex, ey, 0.7 * f->px,
                                              0.5 * f->px }, stem, v - 0.1);
        for (int k = 0; k < (dots > 1 ? 3 : 1); k++)
          {
            double q = k ? fig_range (f, 0.45, 0.8) : 1;

            fig_oval (f, h->layer, x + q * (ex - x) + (k ? fig_sway (f, 0.1) * l : 0),
                      y + q * (ey - y) + (k ? 0.08 * l : 0), a, rx, ry,
                      h->stage == FIG_STAGE_BUD && i % 2 ? f->green : h->main, v + 0.12);
          }
      }
}

void
fig_head_plume (Fig *f, const FigHead *h, FigHeadKind kind)
{
  switch ((int) kind)
    {
    case FIG_HEAD_SPEAR: spear (f, h); break;
    case FIG_HEAD_FAN: fan (f, h); break;
    case FIG_HEAD_FROTH: froth (f, h); break;
    case FIG_HEAD_ROD: rod (f, h); break;
    case FIG_HEAD_SMOKE: smoke (f, h); break;
    case FIG_HEAD_AIRY: airy (f, h, 2.0, 0.46); break;
    case FIG_HEAD_HAZE: airy (f, h, 1, 0.40); break;
    default: break;
    }
}
