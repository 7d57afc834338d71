/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ferns: fronds in leaf, croziers in spring, and what lies there after the frost. */
#include "draw/figure-private.h"

/* A frond is narrow at its foot, widest above its middle; the near ones lean to the viewer. */
static void
frond (Fig *f, int layer, double u, double z, double top)
{
  double near = MAX (0, z), h = top * (1 - 0.22 * u * u - 0.30 * near) * fig_range (f, 0.86, 1.0),
    ex = u * f->half * (1 - 0.12 * near), droop = 0.05 + 0.40 * u * u + 0.20 * near;
  double p[6] = { u * f->half * 0.07, 0.4 * f->ground * near, u * f->half * 0.30, h * 1.02, ex,
                  h * (1 - droop) };
  double v = 0.16 + 0.42 * (z + 1) / 2 + 0.18 * u * f->lx, length = hypot (ex, h),
    width = length * (0.128 + 0.02 * near) * (0.45 + 0.55 * f->leaf_amount), side = f->lx < 0 ? -1
    : 1;
  guint n = (guint) CLAMP (length * f->detail / 8.6, 7, 26);

  fig_next (f);
  fig_feather (f, layer, (double[6]) { p[0] - 0.1 * width * side, p[1] - 0.1 * width,
                                       p[2] - 0.18 * width * side, p[3] - 0.22 * width,
                                       p[4] - 0.10 * width * side, p[5] - 0.22 * width },
               width, 0.12, n, TRUE, f->leaf, v - 0.30);
  fig_next (f);
  fig_feather (f, layer, p, width * 0.92, 0.08, n, TRUE, f->leaf, v + 0.10);
  fig_next (f);
  fig_blade (f, layer, (double[8]) { p[0], p[1], p[2], p[3], p[4], p[5],
                                     MAX (0.006, 1.3 * f->px), 0.4 * f->px }, f->green, v - 0.16);
  /* It lies along the back of a frond where that bows, its leaflets' tips bare. */
  if (f->snow > 0)
    {
      double mx = 0.16 * p[0] + 0.48 * p[2] + 0.36 * p[4],
        my = 0.16 * p[1] + 0.48 * p[3] + 0.36 * p[5];
      double s[6] = { mx, my + 0.10 * width, 0.4 * p[2] + 0.6 * p[4], 0.4 * p[3] + 0.6 * p[5],
                      p[4], p[5] };

      fig_next (f);
      fig_feather (f, layer, s, width * (0.34 + 0.3 * f->snow), 0.5, (n + 1) / 2, TRUE, f->white,
                   0.36);
      fig_next (f);
      s[1] += 0.10 * width, s[3] += 0.16 * width;
      fig_feather (f, layer, s, width * (0.22 + 0.3 * f->snow), 0.6, (n + 1) / 2, TRUE, f->white,
                   0.86);
    }
}

/* A young frond still rolled up. */
static void
crozier (Fig *f, int layer, double u, double z)
{
  double x = u * f->half * 0.55, y = f->height * fig_range (f, 0.55, 0.86),
    r = MAX (MIN (f->height * 0.16, 0.02), 2.2 * f->px), side = u > 0 ? 1 : -1,
    v = 0.44 + 0.2 * z;

  fig_next (f);
  fig_blade (f, layer, (double[8]) { x * 0.4, 0, x * 0.6, y, x, y + r * 0.9,
                                     MAX (0.008, 2.0 * f->px), MAX (0.005, 1.6 * f->px) },
             f->green, v);
  fig_oval (f, layer, x + side * r * 0.8, y, 0, r, r, f->leaf, v + 0.12);
  fig_next (f);
  fig_oval (f, layer, x + side * r * 0.85, y - r * 0.1, 0, r * 0.52, r * 0.52, f->leaf, v - 0.25);
  fig_next (f);
  fig_oval (f, layer, x + side * r * 0.9, y - r * 0.1, 0, r * 0.26, r * 0.26, f->leaf, v + 0.2);
}

/* A frond that the frost has laid down: its rib bows to the ground, what is left of its leaflets
 * curls along it. */
static void
fallen_frond (Fig *f, int layer, double u, double z)
{
  double near = MAX (0, z), h = f->height * (0.92 - 0.50 * near) * fig_range (f, 0.45, 1.05)
                                * (1 - 0.35 * u * u),
    ex = u * f->half * fig_range (f, 0.82, 1.0),
    ey = fig_range (f, 0.02, 0.26) * (1 - near) * f->height + f->ground * near * 0.7;
  double p[6] = { (layer % 6 ? 0.14 : -0.42) * u * f->half + fig_sway (f, 0.2 * f->half), 0.3 * f->ground * near,
                  ex * fig_range (f, 0.35, 0.75), h * 1.45, ex, ey }, length = hypot (ex - p[0], h),
    v = 0.30 + 0.14 * z + 0.16 * u * f->lx + fig_sway (f, 0.18),
    width = MAX (length * fig_range (f, 0.14, 0.20), 2 * f->px), sag = fig_range (f, 0.2, 0.5);
  guint n = (guint) CLAMP (length * f->detail / 7, 6, 18);

  fig_next (f);
  fig_feather (f, layer, (double[6]) { p[0], p[1], p[2], p[3] - sag * width, p[4],
                                       p[5] - 0.1 * width }, width, 0.34, n, TRUE, f->leaf, v - 0.18);
  fig_next (f);
  fig_feather (f, layer, (double[6]) { p[0], p[1], p[2], p[3], p[4], p[5] }, width * 0.66, 0.22, n,
               TRUE, f->leaf, v + 0.14);
  fig_next (f);
  fig_blade (f, layer, (double[8]) { p[0], p[1], p[2], p[3], p[4], p[5], MAX (0.005, 1.2 * f->px),
                                     0.4 * f->px }, f->wood, v - 0.10);
  /* Here and there on its back, as it lies. */
  for (int k = 0; f->snow > 0 && k < 2; k++)
    {
      FigTip at = fig_curve_at (p, fig_range (f, 0.34, 0.58) + 0.26 * k);

      if (fig_unit (f) < 0.3)
        continue;
      fig_snow (f, layer + 1, at.x, at.y, f->half * fig_range (f, 0.10, 0.17), 0.10 * f->height);
    }
}

/* What the frost leaves of a clump: fronds laid down all round, a few broken ribs still up. */
static void
fallen_fronds (Fig *f)
{
  guint n = (guint) CLAMP (9 + 12 * f->full, 9, 20);

  for (int i = -1; i <= 1; i++)
    fig_cloud (f, 5, 0.26 * i * f->half, 0.20 * f->height, 0.26 * f->half, 0.24 * f->height,
               0.12 * f->half, -0.6, f->leaf, 0.18 + 0.06 * i * f->lx);
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2 * (i + 0.5) / n;

      fig_part (f, 520 + i);
      u = (u < 0 ? -1 : 1) * (0.30 + 0.70 * fabs (u));
      fallen_frond (f, 6 + (int) i * 2, u, z);
      if (i % 5 == 2)
        {
          double x = 0.10 * u * f->half, h = f->height * fig_range (f, 0.5, 0.9), k = x + 0.3 * u * h;

          fig_blade (f, 6 + (int) i * 2, (double[8]) { x, 0, x, 0.7 * h, k, h, MAX (0.006, 1.5 * f->px),
                                                       f->px }, f->wood, 0.35);
          fig_blade (f, 6 + (int) i * 2, (double[8]) { k, h, k + 0.2 * u * h, h, k + 0.5 * u * h,
                                                       0.45 * h, f->px, 0.6 * f->px }, f->wood, 0.45);
        }
    }
  fig_snow_among (f, 6 + (int) n, 5, 0.8 * f->half, 0.10 * f->height);
}

void
fig_form_fern (Fig *f)
{
  guint n = (guint) CLAMP (6 + 10 * f->full, 5, 16);

  if (fig_is_withered (f))
    {
      fallen_fronds (f);
      return;
    }
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2 * (i + 0.5) / n;

      fig_part (f, 500 + i);
      if (i == 0)
        u *= 0.15;
      if (f->look->state == BL_STATE_EMERGING)
        crozier (f, 6 + (int) i * 2, u, z);
      else
        frond (f, 6 + (int) i * 2, u, z, f->height);
    }
}
