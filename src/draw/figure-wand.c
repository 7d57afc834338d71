/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Woodland wands: unbranched stems that lean and bow over, a leaf to each side by turns, flowers
 * hung below. */
#include "draw/figure-private.h"

/* Shape and form do not tell this habit. */
gboolean
fig_is_wand (const Fig *f)
{
  static const char *const genera[] = { "Polygonatum", "Maianthemum", "Uvularia", "Disporum",
                                        "Prosartes", "Streptopus", "Tricyrtis" };

  for (guint i = 0; i < G_N_ELEMENTS (genera); i++)
    if (g_strcmp0 (f->plant->genus, genera[i]) == 0)
      return f->leaf_amount > 0.3 && f->look->state != BL_STATE_STANDING;
  return FALSE;
}

/* One rank of leaves: @up above the stem, in the light, or below it, seen from beneath. */
static void
rank (Fig *f, int layer, const double p[6], double lean, gboolean up, guint n, double v)
{
  double leaf = MIN (f->leaf_len, 0.24 * f->height), ratio = fig_leaf_ratio (f->plant->leaf);

  for (guint i = 0; i < n; i++)
    {
      double t = 0.16 + 0.83 * (i + (up ? 0.25 : 0.75)) / n, size = leaf * (1.05 - 0.5 * t * t)
        * fig_range (f, 0.85, 1.05);
      FigTip at = fig_curve_at (p, t);
      double side = (lean > 0 ? 1 : -1) * (up ? 1 : -1),
        a = at.angle + side * fig_range (f, 0.50, 0.85);

      if (fig_unit (f) > f->leaf_amount + 0.1)
        continue;
      fig_leaf (f, layer, f->plant->leaf, at.x, at.y, a, size, size * ratio * (up ? 0.72 : 0.62),
                -0.16 * side, f->leaf, v + (up ? 0.14 : -0.14) + fig_sway (f, 0.10));
    }
}

/* Flowers or what comes of them, one or two below each leaf. */
static void
hung (Fig *f, int layer, const double p[6], guint n, guint index, double v)
{
  double size = fig_head_size (f);

  for (guint i = 0; fig_has_heads (f) && i < n; i++)
    {
      FigTip at = fig_curve_at (p, 0.34 + 0.56 * (i + 0.5) / n);
      FigStage stage = fig_stage (f, index * 17 + i);
      double y = at.y - 0.5 * size, x = at.x + fig_sway (f, 0.3 * size);

      if (stage == FIG_STAGE_NONE)
        continue;
      fig_blade (f, layer, (double[8]) { at.x, at.y, x, at.y, x, y, f->px, 0.8 * f->px }, f->stalk, v);
      fig_head (f, layer + 1, stage, x, y, -G_PI / 2 + fig_sway (f, 0.3), size, v + 0.16);
    }
}

void
fig_wands (Fig *f)
{
  guint count = (guint) CLAMP ((4 + 22 * f->half) * (0.4 + 0.6 * f->full), 3, 16);
  double leaf = MIN (f->leaf_len, 0.24 * f->height);

  for (guint i = 0; i < count; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2 * (i + 0.5) / count, lean, h, x0, x1, y0, v;
      int layer = 10 + (int) i * 6;
      guint n;

      fig_part (f, 640 + i);
      lean = (u < 0 ? -1 : 1) * (0.34 + 0.66 * fabs (u));
      h = f->height * fig_range (f, i == count / 2 ? 0.98 : 0.62, 1.0) * (1 - 0.12 * (z > 0));
      x0 = (0.22 * u + fig_sway (f, 0.20)) * f->half, y0 = 0.5 * f->ground * (1 + z) * (1 - u * u);
      x1 = lean * (f->half - 0.2 * leaf), v = 0.36 + 0.12 * z + 0.16 * u * f->lx;
      {
        double p[6] = { x0, y0, x0 + 0.40 * (x1 - x0), 1.22 * h, x1, h * (0.92 - 0.46 * fabs (lean)) };

        n = (guint) CLAMP (0.9 * hypot (x1 - x0, h) / (0.44 * leaf), 4, 11);
        rank (f, layer, p, lean, FALSE, n, v);
        hung (f, layer + 1, p, n, i, v);
        fig_next (f);
        fig_blade (f, layer + 3, (double[8]) { p[0], p[1], p[2], p[3], p[4], p[5],
                                               MAX (0.006 * f->height + 0.002, 1.4 * f->px),
                                               0.8 * f->px }, f->stalk, v);
        rank (f, layer + 4, p, lean, TRUE, n, v);
      }
    }
}
