/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trees and conifers. */
#include "draw/figure-private.h"

static void
crown (Fig *f, FigMass *m, const BlPoint *roots, guint n_roots, double wood)
{
  FigCluster c[FIG_MAX_CLUSTERS];
  guint n = fig_clusters (f, m, c), heads;
  double bare = 1 - f->leaf_amount, size = fig_head_size (f);

  fig_part (f, 71);
  fig_skeleton (f, 3, roots, n_roots, 0.9, c, n, wood);
  fig_part (f, 72);
  for (guint i = 0; i < n; i++)
    if (bare > 0.3 || i % 4 == 0)
      fig_twigs (f, m->layer + 1 + (int) i, &c[i], (guint) (1 + 3.4 * bare),
                 MAX (wood * 0.045, 0.7 * f->px));
  fig_part (f, 73);
  if (f->leaf_amount > 0.03)
    fig_mass (f, m, c, n);
  fig_part (f, 74);
  heads = (guint) CLAMP (5 * f->half * 2 * (m->y1 - m->y0) * 0.7 / (size * size), 10,
                         110 + f->height * f->detail * 2.3);
  fig_mass_heads (f, m, c, n, heads, 0, 130);
  fig_part (f, 75);
  fig_mass_fruit (f, m, c, n, 140);
}

static FigMass
crown_mass (const Fig *f, double y0, FigProfile profile, guint clusters)
{
  double area = f->half * 2 * (f->height - y0) * 0.75, ratio = fig_leaf_ratio (f->plant->leaf);
  double coarse = sqrt (area * 1.1 / (f->budget * 0.5 * ratio)) * 0.95;

  return (FigMass) { .profile = profile, .y0 = y0, .y1 = f->height, .half = f->half, .layer = 10,
                     .n_clusters = clusters,
                     .n_leaves = (guint) (f->budget * (0.55 + 0.45 * f->full)),
                       .shape = f->plant->leaf,
                     .leaf = MAX (f->leaf_len, MIN (coarse, f->height * 0.068)), .droop = 0.35,
                       .amount = f->leaf_amount,
                     .core = 0.35 + 0.35 * f->full, .tones = f->leaf };
}

void
fig_form_round_tree (Fig *f)
{
  double fork = f->height * 0.24, w = MAX (0.030 * f->height, 2 * f->px);
  FigMass m = crown_mass (f, f->height * 0.22, FIG_GLOBE, 52);
  BlPoint roots[3] = { { 0, fork * 0.94 }, { 0.01 * f->half, fork * 1.25 },
                       { -0.02 * f->half, fork * 1.7 } };

  fig_trunk (f, 6, 0, 0, 0, fork * 1.7, w * 1.15, w * 0.6);
  crown (f, &m, roots, 3, w * 0.62);
}

void
fig_form_multistem_tree (Fig *f)
{
  double w = MAX (0.016 * f->height, 1.6 * f->px);
  FigMass m = crown_mass (f, f->height * 0.24, FIG_EGG, 50);
  BlPoint roots[8];
  guint n = fig_basal_stems (f, 5, 4, f->half * 0.10, f->half * 0.30, f->height * 0.36, w * 1.1,
                             roots);

  crown (f, &m, roots, n, w * 0.75);
}

/* A spray of needles or scales: dark beneath, light above, tips turned @up. */
static void
spray (Fig *f, int layer, double x, double y, double dir, double len, double v)
{
  gboolean needle = f->plant->leaf == BL_LEAF_NEEDLE;
  double w = MAX (0.004, 0.9 * f->px);

  fig_tuft (f, layer, needle ? 6 : 4, x, y, dir, len, needle ? 1.5 : 0.95, needle ? w : w * 1.8,
            f->leaf, v);
}

/* Layered branches of a pyramid: each reaches out, sags, and turns up at the tip; upper ones hang
 * over the lower. */
static void
tiers (Fig *f, double y0, FigProfile profile, double sag, guint rows)
{
  double h = f->height - y0;
  guint per = (guint) CLAMP (f->budget / rows / 2.4, 15, 44);

  for (guint r = 0; r < rows; r++)
    {
      double row = (r + 0.5) / rows, full = fig_range (f, 0.90, 1.0);

      for (guint i = 0; i < per; i++)
        {
          double t = CLAMP (row + fig_sway (f, 0.6 / rows), 0, 0.985), w = fig_profile (profile,
              t) * f->half * full;
          double u = 2 * (i + 0.5) / per - 1 + fig_sway (f, 0.3),
            z = sqrt (MAX (0, 1 - MIN (1, u * u)));
          double out = fig_range (f, 0.55, 1.0), x = CLAMP (u, -0.92, 0.92) * w * out;
          double y = y0 + t * h - sag * w * (fabs (u) + 0.6 * z) * out + sag * w * 0.5;
          double lit = fig_lit (f, u, 0.30 - 0.7 * (1 - out), 0.9 * z),
            len = MIN (w * 0.5 + 3 * f->px, f->height * 0.055 + 3 * f->px) * fig_range (f, 0.7,
                1.2);
          double dir = atan2 (-0.10 + 0.45 * (out > 0.85) - 0.5 * z, u * 1.2 + fig_sway (f, 0.4));
          int layer = 12 + (int) r * 4;

          y = MAX (y, 0.3 * len);
          spray (f, layer + (out > 0.75), x - 0.3 * len * cos (dir), y, dir, len,
                 -0.30 + 0.62 * lit + 0.55 * (out - 0.5) + fig_sway (f, 0.16));
          if (out > 0.72)
            spray (f, layer + 2, x, y + 0.2 * len, dir + 0.2 * (u > 0 ? 1 : -1), len * 0.7,
                   -0.02 + 0.92 * lit + fig_sway (f, 0.16));
        }
    }
}

static void
cone_core (Fig *f, FigProfile profile, double y0)
{
  for (int i = 0; i < 9; i++)
    {
      double t = (i + 0.3) / 9, w = fig_profile (profile, t) * f->half * 0.66;

      fig_blob (f, 4, 0, y0 + t * (f->height - y0), MAX (w, f->px), (f->height - y0) * 0.10,
                f->leaf, 0.06);
    }
}

void
fig_form_cone (Fig *f)
{
  double y0 = f->height * 0.05;

  fig_trunk (f, 3, 0, 0, 0, f->height * 0.9, MAX (0.022 * f->height, 1.5 * f->px), f->px);
  cone_core (f, FIG_CONE, y0);
  tiers (f, y0, FIG_CONE, 0.16, (guint) CLAMP (f->height * f->detail / 14, 7, 22));
  fig_part (f, 81);
  spray (f, 200, 0, f->height * 0.93, G_PI / 2, f->height * 0.07, 0.7);
  if (f->plant->has_fruit && f->look->fruit > 0.05)
    for (int i = 0; i < 14; i++)
      fig_fruit (f, 201, fig_sway (f, 0.5 * f->half), f->height * fig_range (f, 0.15, 0.7), 0.5);
}

void
fig_form_column (Fig *f)
{
  BlLeafShape s = f->plant->leaf;
  double y0 = f->height * 0.02;

  if (s == BL_LEAF_NEEDLE || s == BL_LEAF_SCALE)
    {
      double tuft = MIN (f->height * 0.055, 0.42 * f->half) + 2 * f->px;
      guint n = (guint) CLAMP (3.6 * f->half * 1.7 * f->height / (tuft * tuft), 90,
                               f->budget * 1.2 + 100);

      fig_trunk (f, 3, 0, 0, 0, f->height * 0.5, MAX (0.02 * f->height, 1.5 * f->px), f->px);
      cone_core (f, FIG_COLUMN, y0);
      /* Flame-like sprays, all rising. */
      for (guint i = 0; i < n; i++)
        {
          double t = pow (fig_share (f, i), 0.85) * 0.95, w = fig_profile (FIG_COLUMN, t) * f->half,
            u = fig_range (f, -1, 1);
          double z = sqrt (MAX (0, 1 - u * u)),
            clump = 0.10 * sin (t * 46 + u * 5 + (double) (f->seed & 7));
          double lit = fig_lit (f, u, 0.15 + clump, z);

          spray (f, 12 + (int) (10 * (1 - t)) + (int) (4 * z), u * w * 0.9,
                 y0 + t * f->height * 0.96, G_PI / 2 - u * 0.5 + fig_sway (f, 0.3),
                 tuft * fig_range (f, 0.8, 1.3), -0.28 + 1.2 * lit + clump + fig_sway (f, 0.2));
        }
      fig_part (f, 82);
      if (f->plant->has_fruit && f->look->fruit > 0.05)
        for (int i = 0; i < 40; i++)
          fig_fruit (f, 60, fig_sway (f, 0.8 * f->half), f->height * fig_range (f, 0.1, 0.85), 0.5);
    }
  else
    {
      FigMass m = crown_mass (f, y0 + f->height * 0.03, FIG_COLUMN, 56);
      BlPoint roots[6];

      for (int i = 0; i < 6; i++)
        roots[i] = BL_POINT (0, f->height * (0.08 + 0.14 * i));
      fig_trunk (f, 3, 0, 0, 0, f->height * 0.85, MAX (0.02 * f->height, 1.5 * f->px), f->px);
      m.droop = -0.5, m.core = 0.85;
      crown (f, &m, roots, 6, MAX (0.007 * f->height, f->px));
    }
}

/* Low plumes fanning out from the middle, tips lifted. */
void
fig_form_spreading_conifer (Fig *f)
{
  guint n = (guint) CLAMP (f->budget / 8.0, 30, 60);

  fig_oval (f, 2, 0, f->height * 0.26, 0, f->half * 0.66, f->height * 0.22, f->leaf, 0.10);
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2 * (i + 0.5) / n, base, tip, y1, y0;
      guint sprays = 7;

      fig_part (f, 700 + i);
      base = u * f->half * 0.28, tip = u * f->half * fig_range (f, 0.86, 1.0);
      y0 = f->height * (0.30 - 0.22 * z),
        y1 = f->height * (0.92 - 0.36 * fabs (u) - 0.36 * (z + 1) / 2) * fig_range (f, 0.85, 1.08);
      for (guint k = 0; k < sprays; k++)
        {
          double t = (k + 0.5) / sprays, x = base + (tip - base) * t, y = y0 + (y1 - y0) * t * t;
          double a = atan2 ((y1 - y0) * 2 * t + 0.10 * f->height, tip - base + 0.001),
            len = MAX (f->height * 0.26, 5 * f->px) * (1 - 0.35 * t);
          double v = 0.10 + 0.16 * (z + 1) / 2 + 0.34 * t + 0.22 * u * f->lx + fig_sway (f, 0.16);

          for (int s = -1; s <= 1; s += 2)
            spray (f, 6 + (int) i, x, y, a + s * 0.42 + fig_sway (f, 0.2), len,
                   v + 0.08 * s * (cos (a) > 0 ? 1 : -1));
        }
    }
  fig_part (f, 83);
  if (f->plant->has_fruit && f->look->fruit > 0.05)
    for (int i = 0; i < 26; i++)
      fig_fruit (f, 120, fig_sway (f, 0.9 * f->half), f->height * fig_range (f, 0.2, 0.7), 0.5);
}

/* A dome of shoots, each a tuft of needles with a light new tip. */
void
fig_form_mound_conifer (Fig *f)
{
  double tuft = MAX (f->height * 0.115, 5 * f->px);
  guint n = (guint) CLAMP (3.0 * f->half * 1.7 * f->height / (tuft * tuft), 60, f->budget + 80);

  fig_oval (f, 2, 0, f->height * 0.36, 0, f->half * 0.74, f->height * 0.40, f->leaf, 0.10);
  fig_oval (f, 2, 0, f->height * 0.18, 0, f->half * 0.78, f->height * 0.17, f->leaf, 0.07);
  for (guint i = 0; i < n; i++)
    {
      double a = fig_range (f, -0.05, G_PI + 0.05), q = sqrt (fig_unit (f)),
        z = sqrt (MAX (0, 1 - q * q));
      double x = q * cos (a) * f->half * 0.88, y = MAX (0.02, q * sin (a) * 0.9) * f->height;
      double lump = 0.09 * sin (x / f->half * 9 + (double) (f->seed & 15)) * cos (y / f->height
          * 7);
      double lit = fig_lit (f, q * cos (a) + lump * 2, q * sin (a) * 1.1 - 0.12, z),
        len = MAX (f->height * fig_range (f, 0.085, 0.14), 5 * f->px);
      double dir = G_PI / 2 - cos (a) * q * 0.95 + fig_sway (f, 0.4),
        v = -0.26 + 1.14 * lit + lump + fig_sway (f, 0.18);
      int layer = 5 + (int) (10 * z) + (int) (6 * (1 - y / f->height));

      spray (f, layer, x, y * 0.94, dir, len, v);
      if (i % 3 == 0)
        spray (f, layer, x + 0.5 * len * cos (dir), y * 0.94 + 0.5 * len * sin (dir), dir,
               len * 0.5, v + 0.22);
    }
}
