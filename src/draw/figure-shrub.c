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
  FigCluster high[FIG_MAX_CLUSTERS];
  guint n = fig_clusters (f, m, c), n_high = 0;
  double bare = 1 - f->leaf_amount, low = m->profile == FIG_VASE ? 0.2 : m->profile == FIG_EGG ? 0.10 : -1;

  /* The foot is leaves on the stems themselves, no branches. */
  for (guint i = 0; i < n; i++)
    if (c[i].t > low)
      high[n_high++] = c[i];
  fig_part (f, 51);
  fig_skeleton (f, 2, roots, n_roots, 1.5, high, n_high, wood);
  fig_part (f, 52);
  for (guint i = 0; i < n; i++)
    if (c[i].t > low && (bare > 0.35 || i % 3 == 0))
      fig_twigs (f, m->layer + 1 + (int) i, &c[i], (guint) (1 + 3.2 * bare),
                 MAX (wood * 0.12, 0.75 * f->px));
  fig_part (f, 53);
  if (f->leaf_amount > 0.03)
    fig_mass (f, m, c, n);
  fig_part (f, 54);
  fig_mass_heads (f, m, high, n_high, head_count (f, cover), 0, 110);
  fig_part (f, 55);
  fig_mass_fruit (f, m, high, n_high, 118);
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
  FigMass m = shrub_mass (f, FIG_VASE, f->height * 0.035, 64);
  BlPoint roots[16];
  double w = MAX (0.014 * f->height, 1.3 * f->px);
  guint n = fig_basal_stems (f, 2, 8, f->half * 0.22, f->half * 0.40, f->height * 0.36, w, roots);

  m.core *= 0.92;
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
      for (int row = 0; row < 11; row++)
        for (int side = -1; side <= 1; side += 2)
          fig_cloud (f, 7, side * 0.92 * f->half, (row + 0.5) * top / 11, f->half * 0.075, 0.062 * top,
                     leaf, 0, f->leaf, 0.22 + 0.16 * side * f->lx + fig_sway (f, 0.06));
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
