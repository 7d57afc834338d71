/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shrubs and hedges: skeleton first, leaves on it, flowers and fruit where it bears them. */
#include "draw/figure-private.h"

static guint
head_count (const Fig *f, double cover)
{
  double s = fig_head_size (f), one = fig_head_is_long (f) ? s * s * 0.3 : s * s;

  return (guint) CLAMP (cover * f->half * 2 * f->height * 0.75 / one, 6, 40 + MAX (f->height,
      f->half * 2) * f->detail * 0.55);
}

/* Leaves, bare twigs, flowers and fruit on a body with its skeleton. */
static void
clothe (Fig *f, FigMass *m, const BlPoint *roots, guint n_roots, double wood, double cover)
{
  FigCluster c[FIG_MAX_CLUSTERS];
  guint n = fig_clusters (f, m, c);
  double bare = 1 - f->leaf_amount;

  fig_part (f, 51);
  fig_skeleton (f, 2, roots, n_roots, 1.5, c, n, wood);
  fig_part (f, 52);
  for (guint i = 0; i < n; i++)
    if (bare > 0.35 || i % 3 == 0)
      fig_twigs (f, m->layer + 1 + (int) i, &c[i], (guint) (1 + 3.2 * bare),
                 MAX (wood * 0.12, 0.75 * f->px));
  fig_part (f, 53);
  if (f->leaf_amount > 0.03)
    fig_mass (f, m, c, n);
  fig_part (f, 54);
  fig_mass_heads (f, m, c, n, head_count (f, cover), 0, 110);
  fig_part (f, 55);
  fig_mass_fruit (f, m, c, n, 118);
}

static FigMass
shrub_mass (const Fig *f, FigProfile profile, double y0, guint clusters)
{
  return (FigMass) { .profile = profile, .y0 = y0, .y1 = f->height, .half = f->half, .layer = 8,
                     .n_clusters = fig_parts (f, clusters),
                     .n_leaves = (guint) (f->budget * (0.5 + 0.5 * f->full)),
                       .shape = f->plant->leaf,
                     .leaf = f->leaf_len, .droop = 0.25, .amount = f->leaf_amount,
                       .core = 0.55 + 0.4 * f->full,
                     .tones = f->leaf };
}

void
fig_form_vase_shrub (Fig *f)
{
  FigMass m = shrub_mass (f, FIG_VASE, f->height * 0.10, 60);
  BlPoint roots[14];
  double w = MAX (0.014 * f->height, 1.3 * f->px);
  guint n = fig_basal_stems (f, 2, 7, f->half * 0.12, f->half * 0.34, f->height * 0.36, w, roots);

  m.core *= 0.78;
  clothe (f, &m, roots, n, w, 0.5);
}

void
fig_form_globe_shrub (Fig *f)
{
  FigMass m = shrub_mass (f, FIG_EGG, 0.0, 60);
  double w = MAX (0.012 * f->height, 1.1 * f->px);
  BlPoint roots[12];
  guint n;

  n = fig_basal_stems (f, 2, 6, f->half * 0.16, f->half * 0.36, f->height * 0.24, w, roots);
  m.core = 0.6 + 0.4 * f->full;
  clothe (f, &m, roots, n, w, 0.6);
}

/* Clipped: a flat face in half light and the sunlit plane on top, with the leaves of the last
 * growth breaking the lines a little. */
void
fig_form_hedge (Fig *f)
{
  FigMass m = shrub_mass (f, FIG_BOX, 0.0, 84);
  BlPoint roots[5];
  double top = 0.90 * f->height, w = 1.84 * f->half, leaf = f->leaf_len * 1.3;

  for (int i = 0; i < 5; i++)
    roots[i] = BL_POINT ((i - 2) * f->half * 0.4, 0);
  m.core = 0, m.y1 = top, m.half = f->half * 0.985;
  if (f->leaf_amount > 0.5)
    {
      fig_blade (f, 5, (double[8]) { 0, 0, 0, top / 2, 0, top, w, w }, f->leaf, 0.24);
      fig_cloud (f, 6, 0, 0.04 * f->height, f->half * 0.96, 0.07 * f->height, leaf, 0, f->leaf,
                 0.08);
      /* The shears leave no ruled line. */
      for (int i = 0; i < 22; i++)
        fig_cloud (f, 7, (i % 2 ? 0.92 : -0.92) * f->half, (i / 2 + 0.5) * top / 11,
                   f->half * 0.075, 0.062 * top, leaf, 0, f->leaf,
                   0.22 + 0.16 * (i % 2 ? 1 : -1) * f->lx + fig_sway (f, 0.06));
    }
  clothe (f, &m, roots, 5, MAX (0.014 * f->height, 1.1 * f->px), 0.3);
  fig_part (f, 62);
  for (int i = 0; f->leaf_amount > 0.3 && i < 13; i++)
    {
      double x = (2 * (i + 0.5) / 13 - 1) * f->half * 0.92;

      fig_cloud (f, 100, x, f->height * 0.92, f->half * 0.105, f->height * 0.062, leaf, 0.6,
                 f->leaf, 0.60 + fig_sway (f, 0.06));
      fig_cloud (f, 101, x + fig_sway (f, 0.05 * f->half), f->height * 0.95, f->half * 0.07,
                 f->height * 0.028, leaf, 0.6, f->leaf, 0.86);
      if (f->snow > 0)
        fig_snow (f, 102, x, f->height * 0.955, f->half * 0.13, f->height * 0.06);
    }
}

/* One cane of an arching shrub: leaves and flowers all along it. */
static void
cane (Fig *f, int layer, double u, double z, guint leaves, guint index)
{
  gboolean low = z >= 0.2 && f->leaf_amount >= 0.3;
  double h = f->height * (1 - 0.22 * u * u) * fig_range (f, low ? 0.45 : 0.78, low ? 0.9 : 1.0),
    fall = fabs (u) * fig_range (f, 0.35, 0.72);
  double p[6] = { u * f->half * 0.15 + fig_sway (f, 0.03 * f->half), f->ground * (0.5 + 0.5 * z),
                  u * f->half * 0.42, h * 1.22, u * f->half, h * (1 - fall) };
  double w0 = MAX (0.007 * f->height, 1.0 * f->px), v = 0.30 + 0.20 * z + 0.2 * u * f->lx,
    size = MAX (1.15 * fig_head_size (f), 5.5 * f->px);
  double leaf = f->leaf_len, ratio = fig_leaf_ratio (f->plant->leaf);
  guint heads = (guint) CLAMP (hypot (f->half, h) / (size * 0.7), 4,
                               MIN (size * f->detail > 14 ? 7 : size * f->detail > 9 ? 15 : 32,
                                    4 + hypot (f->half, h) * f->detail / 5.5));

  fig_next (f);
  /* In leaf the wood stands behind the leaves; its ends show. */
  fig_blade (f, f->leaf_amount > 0.3 ? 4 + layer % 12 : layer, (double[8]) { p[0], p[1], p[2], p[3],
      p[4], p[5], w0, 0.5 * f->px },
             f->wood, v);
  for (int k = 0; f->leaf_amount < 0.5 && k < 7; k++)
    {
      /* Side shoots of last year. */
      double t = 0.40 + 0.55 * (k + fig_unit (f)) / 7, w = 1 - t, side = k % 2 ? 1 : -1,
        l = f->height * fig_range (f, 0.03, 0.09);
      double x = w * w * p[0] + 2 * w * t * p[2] + t * t * p[4],
        y = 2 * w * t * p[3] + t * t * p[5];
      double a = atan2 (2 * w * p[3] + 2 * t * (p[5] - p[3]),
                        2 * w * (p[2] - p[0]) + 2 * t * (p[4] - p[2])) + side * 0.75;

      fig_blade (f, layer, (double[8]) { x, y, x + 0.5 * l * cos (a), y + 0.6 * l * sin (a),
                                         x + l * cos (a), y + l * sin (a), 0.45 * w0, 0.3 * w0 },
                 f->wood, v + 0.1);
      if (f->snow > 0)
        fig_snow (f, layer + 1, x, y + w0, 0.02 * f->height, 0.008 * f->height);
    }
  /* The leafy wand, dark beneath and light above. */
  if (f->leaf_amount > 0.25)
    for (int k = 0; k < 2; k++)
      {
        /* The cane's own curve, from a quarter of its way on. */
        double t = 0.26, w = 1 - t, o = (k ? 0.010 : -0.016) * f->height;

        fig_feather (f, layer, (double[6]) { w * w * p[0] + 2 * w * t * p[2] + t * t * p[4],
                                             2 * w * t * p[3] + t * t * p[5] + o,
                                             w * p[2] + t * p[4], w * p[3] + t * p[5] + o, p[4],
                                             p[5] + o },
                     (0.4 + 0.6 * f->leaf_amount) * (k ? 0.9 : 1.2) * MAX (leaf * 0.8,
                                                                           0.018 * f->height),
                     0.35, (guint) CLAMP (hypot (f->half, h) / MAX (leaf * 0.7, 4 * f->px), 6, 26),
                     TRUE, f->leaf, v + (k ? 0.08 : -0.16));
      }
  for (guint i = 0; i < leaves; i++)
    {
      double t = 0.20 + 0.80 * (i + fig_unit (f)) / leaves, w = 1 - t, side = i % 2 ? 1 : -1;
      double x = w * w * p[0] + 2 * w * t * p[2] + t * t * p[4],
        y = 2 * w * t * p[3] + t * t * p[5];
      double a = atan2 (2 * w * p[3] + 2 * t * (p[5] - p[3]),
                        2 * w * (p[2] - p[0]) + 2 * t * (p[4] - p[2]));
      double l = leaf * fig_range (f, 0.75, 1.15), o = fig_range (f, 0, 0.045) * f->height;

      if (fig_unit (f) > f->leaf_amount)
        continue;
      fig_leaf (f, layer, f->plant->leaf, x + o * cos (a + side * 1.5),
                y + o * sin (a + side * 1.5), a + side * fig_range (f, 0.4, 1.2),
                l, l * ratio * fig_range (f, 0.6, 1), -0.1 * side, f->leaf,
                  v - 0.06 + 0.22 * (sin (a + side * 1.5) > 0) + fig_sway (f, 0.16));
    }
  for (guint i = 0; fig_has_heads (f) && i < heads; i++)
    {
      /* Large heads end the year's shoots, small ones line the whole cane. */
      double from = size > 0.06 ? 0.56 : 0.26, t = from + (1 - from) * (i + fig_unit (f)) / heads,
        w = 1 - t;
      double x = w * w * p[0] + 2 * w * t * p[2] + t * t * p[4],
        y = 2 * w * t * p[3] + t * t * p[5];
      FigStage stage = fig_stage (f, index * 31 + i);

      if (stage != FIG_STAGE_SEED)
        fig_head (f, layer + 1, stage, x + fig_sway (f, 0.02), y + fig_range (f, 0, 0.02),
                  G_PI / 2 + fig_sway (f, 0.9) - u * 0.5,
                  size * fig_range (f, 0.8, 1.05), v + 0.16);
    }
  if (f->plant->has_fruit && f->look->fruit > 0.05)
    for (guint i = 0; i < 5 * f->look->fruit; i++)
      {
        double t = fig_range (f, 0.4, 1), w = 1 - t;

        fig_fruit (f, layer + 1, w * w * p[0] + 2 * w * t * p[2] + t * t * p[4],
                   2 * w * t * p[3] + t * t * p[5] - 0.01, v + 0.1);
      }
}

void
fig_form_arching_shrub (Fig *f)
{
  guint n = (guint) CLAMP (14 + 18 * f->full, 10, MIN (32, 8 + f->half * f->detail / 3));
  guint leaves = f->budget * 6 / 10 / n;

  if (f->leaf_amount > 0.3)
    {
      FigCluster c[FIG_MAX_CLUSTERS];
      FigMass m = shrub_mass (f, FIG_EGG, 0, 56);

      m.half *= 0.86, m.y1 *= 0.86, m.n_leaves = f->budget / 3, m.layer = 20, m.core = 0.72,
        m.droop = 0.7, m.amount *= 0.9;
      fig_mass (f, &m, c, fig_clusters (f, &m, c));
    }
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2 * (i + 0.5) / n;

      fig_part (f, 600 + i);
      cane (f, (z < -0.2 ? 4 : 64) + (int) i * 2, u * (0.7 + 0.3 * fabs (u)) * 1.02, z, leaves, i);
    }
}
