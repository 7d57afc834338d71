/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trees with leaves. */
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
                         90 + f->height * f->detail * 1.25);
  fig_mass_heads (f, m, c, n, heads, 0, 130);
  fig_part (f, 75);
  fig_mass_fruit (f, m, c, n, 140);
}

static FigMass
crown_mass (const Fig *f, double y0, FigProfile profile, guint clusters)
{
  return (FigMass) { .profile = profile, .y0 = y0, .y1 = f->height, .half = f->half, .layer = 10,
                     .n_clusters = fig_parts (f, clusters),
                     .n_leaves = (guint) (f->budget * (0.55 + 0.45 * f->full)),
                       .shape = f->plant->leaf,
                     .leaf = f->leaf_len, .droop = 0.35,
                       .amount = f->leaf_amount,
                     .core = 0.35 + 0.35 * f->full, .tones = f->leaf };
}

void
fig_form_round_tree (Fig *f)
{
  double fork = f->height * 0.24, w = MAX (0.030 * f->height, 2 * f->px);
  FigMass m = crown_mass (f, f->height * 0.22, FIG_GLOBE, 62);
  BlPoint roots[3] = { { 0, fork * 0.94 }, { 0.01 * f->half, fork * 1.25 },
                       { -0.02 * f->half, fork * 1.7 } };

  fig_trunk (f, 6, 0, 0, 0, fork * 1.7, w * 1.15, w * 0.6);
  crown (f, &m, roots, 3, w * 0.62);
}

void
fig_form_multistem_tree (Fig *f)
{
  double w = MAX (0.016 * f->height, 1.6 * f->px);
  FigMass m = crown_mass (f, f->height * 0.24, FIG_EGG, 60);
  BlPoint roots[8];
  guint n = fig_basal_stems (f, 5, 4, f->half * 0.10, f->half * 0.30, f->height * 0.36, w * 1.1,
                             roots);

  crown (f, &m, roots, n, w * 0.75);
}

/* A narrow tree with leaves; conifers of this shape have flames instead. */
void
fig_leafy_column (Fig *f)
{
  FigMass m = crown_mass (f, f->height * 0.05, FIG_COLUMN, 56);
  BlPoint roots[6];

  for (int i = 0; i < 6; i++)
    roots[i] = BL_POINT (0, f->height * (0.08 + 0.14 * i));
  fig_trunk (f, 3, 0, 0, 0, f->height * 0.85, MAX (0.02 * f->height, 1.5 * f->px), f->px);
  m.droop = -0.5, m.core = 0.85;
  crown (f, &m, roots, 6, MAX (0.007 * f->height, f->px));
}
