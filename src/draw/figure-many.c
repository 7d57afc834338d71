/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks that stand for many leaves at once: masses with a leafy edge, and feathered boughs. */
#include "draw/figure-private.h"

#define FERN 128 /* of a feather's count: tapered to its foot too, and cut to the axis */

static void
reach (Fig *f, double x, double y, double r)
{
  f->x0 = MIN (f->x0, x - r);
  f->x1 = MAX (f->x1, x + r);
  f->y0 = MIN (f->y0, y - r);
  f->y1 = MAX (f->y1, y + r);
}

void
fig_cloud (Fig *f, int layer, double x, double y, double rx, double ry, double leaf, double lean,
           FigTones tones, double value)
{
  double around = 3.9 * (rx + ry) * 0.8, step = MAX (leaf * 0.86, 4.3 * f->px);
  FigMark *m = fig_add (f, layer, FIG_CLOUD, tones, value);

  rx = MAX (rx, 0.8 * f->px), ry = MAX (ry, 0.8 * f->px);
  m->n = (guint8) CLAMP (around / step, 7, 72);
  /* Its leaves reach a little under the foot's line, no more. */
  y = MAX (y, ry * 0.86 + f->ground);
  m->x = (float) x, m->y = (float) y, m->a = (float) rx, m->b = (float) ry;
  m->angle = (float) fig_range (f, 0, 2 * G_PI);
  m->c = (float) MIN (leaf, 0.24 * (rx + ry)), m->d = (float) lean;
  reach (f, x - 0.98 * rx, y - 0.9 * ry, 0.3 * m->c);
  reach (f, x + 0.98 * rx, y + 0.98 * ry, 0.36 * m->c);
}

/* A share of its own for each tooth, without a stream of chance. */
static double
tooth_share (guint i, float phase)
{
  guint32 h = (i + 1) * 2654435761u + (guint32) (phase * 100003.0f) * 40503u;

  h ^= h >> 15;
  h *= 2246822519u;
  return (h >> 8 & 0xffff) / 65535.0;
}

void
fig_cloud_path (FigPen *pen, const FigMark *m, double detail)
{
  double step = 2 * G_PI / m->n;
  gboolean small = m->c * detail < 5.5; /* of a leaf only its tip is seen */

  for (guint i = 0; i < m->n; i++)
    {
      double s = tooth_share (i, m->angle),
        w = -((i + 0.5 * tooth_share (i + 97, m->angle)) * step), t = m->c * (0.15 + 0.95 * s * s);
      double k = 0.86 + 0.11 * fig_fast_sin (3 * w + m->angle) + 0.08 * fig_fast_sin (5 * w + 2.1 * m->angle);
      double c0 = fig_fast_cos (w), s0 = fig_fast_sin (w), wm = w - step * (0.35 + 0.3 * s), c1 = fig_fast_cos (wm),
        s1 = fig_fast_sin (wm);
      double x0 = m->x + m->a * k * c0 - 0.18 * m->c * c0,
        y0 = m->y + m->b * k * s0 - 0.18 * m->c * s0;
      double bx = m->x + m->a * k * c1, by = m->y + m->b * k * s1;
      /* The tip: outwards, turned by the lean of the plant's leaves and a little by chance. */
      double tw;

      /* Those that would point into the ground stay short. */
      t *= s1 < -0.3 ? 0.45 : 1;
      tw = wm + m->d * c1 + (tooth_share (i + 31, m->angle) - 0.5) * 2.0;
      double tx = bx + t * 0.62 * fig_fast_cos (tw), ty = by + t * 0.62 * fig_fast_sin (tw);
      double px = -fig_fast_sin (tw) * t * 0.24, py = fig_fast_cos (tw) * t * 0.24;

      (i ? fig_pen_line : fig_pen_move) (pen, x0, y0);
      if (!small)
        fig_pen_line (pen, (bx + tx) / 2 + px, (by + ty) / 2 + py);
      fig_pen_line (pen, tx, ty);
      if (!small)
        fig_pen_line (pen, (bx + tx) / 2 - px, (by + ty) / 2 - py);
    }
  fig_pen_close (pen);
}

static void
axis (const FigMark *m, double t, double *x, double *y, double *c, double *s)
{
  double u = 1 - t, dx = 2 * u * (m->angle - m->x) + 2 * t * (m->b - m->angle),
    dy = 2 * u * (m->a - m->y) + 2 * t * (m->c - m->a), l = MAX (1e-9, sqrt (dx * dx + dy * dy));

  *x = u * u * m->x + 2 * u * t * m->angle + t * t * m->b;
  *y = u * u * m->y + 2 * u * t * m->a + t * t * m->c;
  *c = dx / l, *s = dy / l;
}

/* To the power of 3/4, by roots. */
static double
three_quarters (double v)
{
  double root = sqrt (MAX (0, v));

  return root * sqrt (root);
}

static double
feather_width (const FigMark *m, double t)
{
  if (m->n & FERN)
    return m->d * three_quarters (fig_fast_sin (G_PI * three_quarters (MAX (0, 1 - t))));
  return m->d * (t < 0.22 ? 0.55 + 0.45 * t / 0.22 : three_quarters ((1 - t) / 0.78));
}

void
fig_feather (Fig *f, int layer, const double p[6], double width, double notch, guint teeth,
             gboolean fern, FigTones tones, double value)
{
  FigMark *m = fig_add (f, layer, FIG_FEATHER, tones, value);

  m->x = (float) p[0], m->y = (float) p[1], m->angle = (float) p[2], m->a = (float) p[3];
  m->b = (float) p[4], m->c = (float) p[5];
  m->d = (float) MAX (width, 0.9 * f->px), m->e = (float) notch;
  m->n = (guint8) (CLAMP (teeth, 3, 40) | (fern ? FERN : 0));
  for (int i = 0; i <= 10; i++)
    {
      double x, y, c, s, w = 0.94 * feather_width (m, i / 10.0), on = fern ? 0.55 : 1.0;

      axis (m, i / 10.0, &x, &y, &c, &s);
      for (int side = -1; side <= 1; side += 2)
        reach (f, x + w * (on * c - side * s), y + w * (on * s + side * c), 0);
    }
}

void
fig_feather_path (FigPen *pen, const FigMark *m)
{
  guint n = m->n & 127;
  gboolean fern = (m->n & FERN) != 0;
  double dx = m->b - m->x, dy = m->c - m->y, length = hypot (dx, dy), lean = fern ? 0.55 : 1.0;

  fig_pen_move (pen, m->x, m->y);
  for (int side = 1; side >= -1; side -= 2)
    for (guint k = 0; k < n; k++)
      {
        guint i = side > 0 ? k : n - 1 - k;
        double t0 = (i + (side > 0 ? 0.0 : 1.0)) / n, t1 = (i + 0.5) / n, x, y, c, s, w,
          on = side > 0 ? 1 : -1;
        double own = 0.82 + 0.36 * tooth_share (i * 2 + (side > 0), m->d * 977);

        /* The notch, then the tooth; on the way back the other way round. */
        axis (m, t0, &x, &y, &c, &s);
        w = feather_width (m, t0) * m->e;
        fig_pen_line (pen, x - s * w * on, y + c * w * on);
        axis (m, t1, &x, &y, &c, &s);
        w = feather_width (m, t1) * own;
        {
          double f0 = lean * w, wide = MIN (0.62 * length / n, w * 0.5);

          if (fern)
            fig_pen_line (pen, x - s * w * on * 0.5 + c * f0 * 0.5 - on * c * wide * 0.5,
                           y + c * w * on * 0.5 + s * f0 * 0.5 - on * s * wide * 0.5);
          fig_pen_line (pen, x - s * w * on + c * f0, y + c * w * on + s * f0);
          if (fern)
            fig_pen_line (pen, x - s * w * on * 0.5 + c * f0 * 0.5 + on * c * wide * 0.5,
                           y + c * w * on * 0.5 + s * f0 * 0.5 + on * s * wide * 0.5);
        }
        if (side > 0 && i == n - 1)
          fig_pen_line (pen, m->b, m->c);
      }
  fig_pen_close (pen);
}

static void
cap (Fig *f, int layer, double x, double y, double rx, double ry, double value)
{
  FigMark *m = fig_add (f, layer, FIG_CAP, f->white, value);

  m->x = (float) x, m->y = (float) y, m->a = (float) rx, m->b = (float) ry;
  m->angle = (float) fig_range (f, 0, 2 * G_PI);
  reach (f, x - rx, y, 0);
  reach (f, x + rx, y + 0.9 * ry, 0);
}

/* A soft back, and beneath it an edge that follows what it lies on. */
void
fig_cap_path (FigPen *pen, const FigMark *m, double detail)
{
  int n = m->a * detail > 7 ? 10 : 5;

  for (int i = 0; i <= n; i++)
    {
      double w = G_PI * i / n, k = 0.94 + 0.10 * fig_fast_sin (2.3 * w + m->angle);

      (i ? fig_pen_line : fig_pen_move) (pen, m->x + m->a * fig_fast_cos (w),
                                         m->y + m->b * k * fig_fast_sin (w));
    }
  for (int i = n - 1; i > 0; i--)
    {
      double u = -1 + 2.0 * (n - i) / n, dip = tooth_share ((guint) i, m->angle);

      fig_pen_line (pen, m->x + m->a * u, m->y + m->b * ((0.34 - 0.72 * dip) * (1 - u * u) - 0.1));
    }
  fig_pen_close (pen);
}

/* Rounded above, with the sky's blue along its lower edge; thicker where there is more of it. */
void
fig_snow (Fig *f, int layer, double x, double y, double rx, double ry)
{
  double k = 0.45 + 0.55 * f->snow;

  rx *= 0.6 + 0.4 * k, ry *= k;
  if (rx < 0.8 * f->px)
    return;
  ry = MAX (ry, 0.9 * f->px);
  cap (f, layer, x, y - 0.30 * ry, rx, ry, 0.34);
  cap (f, layer, x + 0.06 * rx * f->lx, y - 0.12 * ry, rx * 0.92, ry * 0.84, 0.86);
}

/* Snow caught among leaves or blades: cushions over a body @half wide, up to @top. */
void
fig_snow_among (Fig *f, int layer, guint n, double half, double top)
{
  if (f->snow <= 0)
    return;
  for (guint i = 0; i < n; i++)
    {
      double u = n > 1 ? 2.0 * i / (n - 1) - 1 : 0,
        y = top * sqrt (MAX (0, 1 - 0.85 * u * u)) * fig_range (f, 0.55, 1.05),
        rx = half * 1.5 / n * fig_range (f, 0.8, 1.3) + f->px;

      fig_snow (f, layer, u * half * 0.86, y, rx,
                MIN (MAX (top * 0.14, 0.35 * half / n), 0.45 * rx));
    }
}

void
fig_litter (Fig *f, int layer, double half, double leaf, double value)
{
  gboolean white = f->snow > 0.4;

  leaf = CLAMP (leaf, 4 * f->px, MAX (0.08 * f->height, 4 * f->px));
  fig_part (f, 13);
  for (int i = 0; i < 5; i++)
    {
      double u = 2 * (i + 0.5) / 5 - 1, ry = 0.014 * f->height + 0.7 * f->px;

      fig_cloud (f, layer, 1.1 * u * half + fig_sway (f, 0.16 * half),
                 f->ground * (0.2 + 0.5 * (1 - 0.7 * u * u)), MAX (0.40 * half, 3 * ry), ry, leaf, 0.3,
                 white ? f->white : f->leaf,
                 (white ? 0.5 : value) + 0.12 * u * f->lx + fig_sway (f, 0.06));
    }
}

void
fig_stubs (Fig *f, int layer, double half, double length, double value)
{
  fig_part (f, 14);
  for (int i = 0; i < 11; i++)
    {
      double u = 2 * (i + 0.5) / 11 - 1 + fig_sway (f, 0.12),
        y = 0.95 * f->ground * sqrt (MAX (0, 1 - u * u));

      fig_tuft (f, layer + i % 2, 5, u * half, y, G_PI / 2 - 0.9 * u + fig_sway (f, 0.3),
                length * fig_range (f, 0.6, 1.2), 1.7, MAX (0.12 * length, 1.2 * f->px), f->leaf,
                value + 0.14 * u * f->lx + fig_sway (f, 0.14));
    }
}
