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

/* One cane of an arching shrub: a curve from its foot over its bow to its tip. */
typedef struct
{
  double p[6];
  double u, v, width; /* where it stands across, how lit, metres at its foot */
  int layer;
} Cane;

/* Its place and direction at @t. */
static FigTip
cane_at (const Cane *c, double t)
{
  const double *p = c->p;
  double w = 1 - t;

  return (FigTip) { w * w * p[0] + 2 * w * t * p[2] + t * t * p[4],
                    w * w * p[1] + 2 * w * t * p[3] + t * t * p[5],
                    atan2 (w * (p[3] - p[1]) + t * (p[5] - p[3]),
                           w * (p[2] - p[0]) + t * (p[4] - p[2])) };
}

/* Side shoots of last year. */
static void
cane_twigs (Fig *f, const Cane *c)
{
  for (int k = 0; k < 7; k++)
    {
      FigTip at = cane_at (c, 0.40 + 0.55 * (k + fig_unit (f)) / 7);
      double a = at.angle + (k % 2 ? 0.75 : -0.75), l = f->height * fig_range (f, 0.03, 0.09);

      fig_blade (f, c->layer, (double[8]) { at.x, at.y, at.x + 0.5 * l * cos (a),
                                            at.y + 0.6 * l * sin (a), at.x + l * cos (a),
                                            at.y + l * sin (a), 0.45 * c->width, 0.3 * c->width },
                 f->wood, c->v + 0.1);
      if (f->snow > 0)
        fig_snow (f, c->layer + 1, at.x, at.y + c->width, 0.011 * f->height, 0.006 * f->height);
    }
}

/* Leaves in pairs along the outer part, dark beneath and light above; small ones over puffs. */
static void
cane_leaves (Fig *f, const Cane *c, guint n)
{
  double leaf = f->leaf_len, ratio = fig_leaf_ratio (f->plant->leaf);

  for (int k = 0; leaf * f->detail < 15 && f->leaf_amount > 0.4 && k < 6; k++)
    {
      FigTip at = cane_at (c, 0.34 + 0.62 * (k + 0.5 + fig_sway (f, 0.4)) / 6);
      double r = f->height * (0.052 - 0.005 * k) * fig_range (f, 0.8, 1.2);

      fig_cloud (f, c->layer, at.x, at.y - 0.4 * r, r, 0.8 * r, leaf, -0.2, f->leaf, c->v - 0.10);
      fig_cloud (f, c->layer, at.x + 0.2 * r * f->lx, at.y + 0.2 * r, 0.8 * r, 0.6 * r, leaf, -0.2,
                 f->leaf, c->v + 0.10);
    }
  for (guint i = 0; i < n; i++)
    {
      FigTip at = cane_at (c, 0.30 + 0.70 * (i / 2 + fig_unit (f)) / ((n + 1) / 2));
      double side = i % 2 ? 1 : -1, turn = at.angle + side * fig_range (f, 0.5, 1.3),
        up = sin (at.angle + side * 1.5), l = leaf * fig_range (f, 0.85, 1.25);

      if (fig_unit (f) > f->leaf_amount)
        continue;
      fig_leaf (f, c->layer, f->plant->leaf, at.x, at.y, turn, l, l * ratio * fig_range (f, 0.7, 1),
                -0.14 * side, f->leaf, c->v - 0.04 + 0.20 * (up > 0) + fig_sway (f, 0.2));
    }
}

/* Large heads end the year's shoots, small ones line the whole cane; by twos and threes, on the
 * upper side. */
static void
cane_heads (Fig *f, const Cane *c, guint index)
{
  double size = MAX (1.15 * fig_head_size (f), 5.5 * f->px), from = size > 0.06 ? 0.52 : 0.30,
    length = hypot (f->half, f->height);
  guint most = size * f->detail > 14 ? 11 : size * f->detail > 9 ? 24 : 32,
    n = (guint) CLAMP (length / (size * 0.45), 4, MIN (most, 4 + length * f->detail / 5.5));

  for (guint i = 0; i < n; i++)
    {
      FigTip at = cane_at (c, from + (1 - from) * (i / 2 + 0.5 + fig_sway (f, 0.6)) / ((n + 1) / 2));
      FigStage stage = fig_stage (f, index * 31 + i);
      double side = cos (at.angle) > 0 ? 1 : -1;

      if (stage != FIG_STAGE_SEED)
        fig_head (f, c->layer + 1, stage,
                  at.x - fig_range (f, -0.5, 0.7) * size * sin (at.angle) * side,
                  at.y + fig_range (f, -0.4, 0.8) * size * fabs (cos (at.angle)),
                  G_PI / 2 + fig_sway (f, 1.1) - c->u * 0.5, size * fig_range (f, 0.8, 1.05),
                  c->v + 0.18);
    }
}

static void
cane (Fig *f, int layer, double u, double z, guint leaves, guint index)
{
  gboolean low = z >= 0.2 && f->leaf_amount >= 0.3;
  double h = f->height * (1 - 0.20 * u * u) * fig_range (f, low ? 0.50 : 0.80, low ? 0.92 : 1.0),
    fall = (0.25 + 0.75 * fabs (u)) * fig_range (f, 0.35, 0.75);
  Cane c = { { u * f->half * 0.15 + fig_sway (f, 0.03 * f->half), f->ground * (0.5 + 0.5 * z),
               u * f->half * 0.56, h * (1.24 + 0.12 * fall), u * f->half, h * (1 - fall) },
             u, 0.32 + 0.18 * z + 0.2 * u * f->lx, MAX (0.007 * f->height, 1.0 * f->px), layer };

  fig_next (f);
  /* In leaf the wood stands behind the leaves; its ends show. */
  fig_blade (f, f->leaf_amount > 0.3 ? 4 + layer % 12 : layer,
             (double[8]) { c.p[0], c.p[1], c.p[2], c.p[3], c.p[4], c.p[5], c.width, 0.5 * f->px },
             f->wood, c.v);
  if (f->leaf_amount < 0.5)
    cane_twigs (f, &c);
  cane_leaves (f, &c, leaves);
  if (fig_has_heads (f))
    cane_heads (f, &c, index);
  if (f->plant->has_fruit && f->look->fruit > 0.05)
    for (guint i = 0; i < 5 * f->look->fruit; i++)
      {
        FigTip at = cane_at (&c, fig_range (f, 0.4, 1));

        fig_fruit (f, layer + 1, at.x, at.y - 0.01, c.v + 0.1);
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
      FigMass m = shrub_mass (f, FIG_DOME, 0, 56);

      m.half *= 0.86, m.y1 *= 0.89, m.n_leaves = f->budget / 3, m.layer = 20, m.core = 0.85,
        m.droop = 0.7, m.amount *= 0.9;
      fig_mass (f, &m, c, fig_clusters (f, &m, c));
    }
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2 * (i + 0.5) / n;

      /* None in front stands straight up like a mast. */
      double apart = z < 0 ? 0.06 : 0.18;

      u = (u < 0 ? -1 : 1) * (apart + (1 - apart) * fabs (u));
      fig_part (f, 600 + i);
      cane (f, (z < -0.2 ? 4 : 64) + (int) i * 2, u * (0.7 + 0.3 * fabs (u)) * 1.02, z, leaves, i);
    }
}
