/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arching shrubs: canes that part from the ground, fork, and bow over with their side shoots. */
#include "draw/figure-private.h"

/* A cane or a side shoot: a curve from its foot over its bow to its tip. */
typedef struct
{
  double p[6];
  double u, v, width; /* where it stands across, how lit, metres at its foot */
  double length;      /* metres, about */
  int layer;
} Cane;

/* Its place and direction at @t. */
static FigTip
cane_at (const Cane *c, double t)
{
  return fig_curve_at (c->p, t);
}

static gboolean
is_bare (const Fig *f)
{
  return f->leaf_amount < 0.55;
}

/* Snow along the back of what does not stand too steep, broken where it slid off. */
static void
cane_snow (Fig *f, const Cane *c)
{
  for (int k = 0; f->snow > 0 && k < 5; k++)
    {
      double t0 = 0.16 * k + 0.22 * fig_unit (f), t1 = MIN (0.97, t0 + fig_range (f, 0.12, 0.2));
      FigTip a = cane_at (c, t0), b = cane_at (c, t1);
      double w = MAX (1.1 * c->width, 1.7 * f->px), up = 0.45 * c->width + 0.3 * w;

      if (fabs (sin (a.angle)) > 0.86 || fabs (sin (b.angle)) > 0.92)
        continue;
      fig_blade (f, c->layer + 1, (double[8]) { a.x, a.y + up, 0.5 * (a.x + b.x),
                                                0.5 * (a.y + b.y) + 1.25 * up, b.x, b.y + up, w,
                                                0.6 * w }, f->white, 0.85);
    }
}

static void
cane_wood (Fig *f, const Cane *c)
{
  const double *p = c->p;
  double o = 0.22 * c->width * (f->lx >= 0 ? 1 : -1);

  fig_next (f);
  fig_blade (f, c->layer, (double[8]) { p[0], p[1], p[2], p[3], p[4], p[5], c->width,
                                        MAX (0.14 * c->width, 0.7 * f->px) }, f->wood, c->v);
  if (c->width * f->detail > 2.6)
    {
      fig_next (f);
      fig_blade (f, c->layer, (double[8]) { p[0] + o, p[1], p[2] + 0.6 * o, p[3], p[4], p[5],
                                            0.4 * c->width, 0.3 * f->px }, f->wood, c->v + 0.26);
    }
  cane_snow (f, c);
}

/* In spring each bud has opened, its leaves still small; in autumn whole leaves fall one by one. */
static void
cane_leaves (Fig *f, const Cane *c, guint n, double from)
{
  gboolean young = f->look->state != BL_STATE_AUTUMN && is_bare (f);
  double share = young ? pow (f->leaf_amount, 0.4) : f->leaf_amount,
    leaf = f->leaf_len * (young ? MIN (1, 0.52 + 0.8 * f->leaf_amount) : 1),
    ratio = fig_leaf_ratio (f->plant->leaf);

  leaf = MAX (leaf, 3.4 * f->px);
  for (guint i = 0; i < n; i++)
    {
      guint pair = i / 2, pairs = (n + 1) / 2;
      FigTip at = cane_at (c, from + (1 - from) * (pair + fig_unit (f)) / pairs);
      double side = i % 2 ? 1 : -1, turn = at.angle + side * fig_range (f, 0.4, 1.2),
        up = sin (at.angle + side * 1.5), l = leaf * fig_range (f, 0.85, 1.25);

      if (fig_unit (f) > share)
        continue;
      fig_leaf (f, c->layer + (up > 0), f->plant->leaf, at.x, at.y, turn, l,
                l * ratio * fig_range (f, 0.7, 1), -0.14 * side, f->leaf,
                c->v - 0.04 + 0.20 * (up > 0) + fig_sway (f, 0.2));
    }
}

/* Where leaves are small they lie over puffs, dark beneath and light above, as far as it bows. */
static void
cane_puffs (Fig *f, const Cane *c)
{
  double leaf = f->leaf_len;
  int n = (int) CLAMP (0.66 * c->length / (0.075 * f->height), 5, 10);

  if (leaf * f->detail >= 15)
    return;
  for (int k = 0; k < n; k++)
    {
      FigTip at = cane_at (c, 0.34 + 0.64 * (k + 0.5 + fig_sway (f, 0.3)) / n);
      double r = f->height * (0.052 - 0.022 * k / n) * fig_range (f, 0.8, 1.2);

      fig_cloud (f, c->layer, at.x, at.y - 0.4 * r, r, 0.8 * r, leaf, -0.2, f->leaf, c->v - 0.10);
      fig_cloud (f, c->layer, at.x + 0.2 * r * f->lx, at.y + 0.2 * r, 0.8 * r, 0.6 * r, leaf, -0.2,
                 f->leaf, c->v + 0.10);
    }
}

/* Large heads end the year's shoots, small ones line the whole cane; by twos and threes, on the
 * upper side. @share of a cane's heads. */
static void
cane_heads (Fig *f, const Cane *c, guint index, double share)
{
  double size = MAX (1.15 * fig_head_size (f), 5.5 * f->px), from = size > 0.06 ? 0.52 : 0.30,
    length = hypot (f->half, f->height);
  guint most = size * f->detail > 14 ? 11 : size * f->detail > 9 ? 24 : 32,
    n = (guint) (share * CLAMP (length / (size * 0.45), 4, MIN (most, 4 + length * f->detail / 5.5))
                 + 0.5);

  if (share < 1)
    from = 0.2;
  for (guint i = 0; i < n; i++)
    {
      guint pair = i / 2, pairs = (n + 1) / 2;
      FigTip at = cane_at (c, from + (1 - from) * (pair + 0.5 + fig_sway (f, 0.6)) / pairs);
      FigStage stage = fig_stage (f, index * 31 + i);
      double side = cos (at.angle) > 0 ? 1 : -1, off = is_bare (f) ? 0.4 : 1;

      if (stage != FIG_STAGE_SEED)
        fig_head (f, c->layer + 2, stage,
                  at.x - off * fig_range (f, -0.5, 0.7) * size * sin (at.angle) * side,
                  at.y + off * fig_range (f, -0.4, 0.8) * size * fabs (cos (at.angle)),
                  G_PI / 2 + fig_sway (f, 1.1) - c->u * 0.5, size * fig_range (f, 0.8, 1.05),
                  c->v + 0.18);
    }
}

static void
cane_fruit (Fig *f, const Cane *c, double many)
{
  if (f->plant->has_fruit && f->look->fruit > 0.05)
    for (guint i = 0; i < many * f->look->fruit; i++)
      {
        FigTip at = cane_at (c, fig_range (f, 0.4, 1));

        fig_fruit (f, c->layer + 2, at.x, at.y - 0.01, c->v + 0.1);
      }
}

/* A shoot that leaves @c at @t, turned to one side of it by @turn: it goes the cane's way and bows
 * outwards as it does. */
static Cane
offshoot (Fig *f, const Cane *c, double t, double turn, double length)
{
  FigTip at = cane_at (c, t);
  double a = at.angle + turn, out = cos (at.angle) > 0 ? 1 : -1,
    fall = length * (0.10 + 0.34 * fabs (cos (at.angle))) * fig_range (f, 0.5, 1.2);
  double mx = at.x + 0.55 * length * cos (a), my = at.y + 0.55 * length * sin (a),
    ex = at.x + length * cos (a) + 0.10 * out * length, ey = at.y + length * sin (a) - fall;
  Cane s = { { at.x, at.y, mx, my, CLAMP (ex, -1.05 * f->half, 1.05 * f->half),
               MAX (ey, 0.06 * f->height) },
             c->u, c->v + fig_sway (f, 0.10) + 0.06, 0, length, c->layer };

  s.width = MAX (c->width * (1 - 0.86 * t) * 0.72, 0.95 * f->px);
  return s;
}

/* Fork and side shoots of last year, each with its own twigs; the upper side bears more. */
static void
cane_shoots (Fig *f, const Cane *c, guint leaves, guint index)
{
  int n = (int) CLAMP (c->length * f->detail / 30, 4, 8);

  for (int k = 0; k < n; k++)
    {
      /* The fork, a short shoot low down, the others along the bow. */
      double t = k == 0 ? fig_range (f, 0.24, 0.46) : k == 1 ? fig_range (f, 0.10, 0.30)
        : 0.36 + 0.56 * (k - 2 + fig_unit (f)) / (n - 2), upper = cos (cane_at (c, t).angle) > 0 ? 1 : -1,
        side = k % 3 == 2 ? -upper : upper,
        l = c->length * (k == 0 ? fig_range (f, 0.34, 0.48) : (0.34 - 0.24 * t) * fig_range (f, 0.7, 1.3)
                          * (k == 1 ? 0.6 : 1));
      Cane s = offshoot (f, c, t, (k == 1 && index % 2 ? -side : side)
                         * (k == 0 ? fig_range (f, 0.16, 0.36)
                                          : fig_range (f, 0.28, 0.62)), l);
      int twigs = (int) CLAMP (l * f->detail / 9, 2, k == 0 ? 6 : 4);

      cane_wood (f, &s);
      for (int j = 0; j < twigs; j++)
        {
          Cane twig = offshoot (f, &s, 0.28 + 0.60 * (j + fig_unit (f)) / twigs,
                                (j % 2 ? 1 : -1) * fig_range (f, 0.3, 0.6),
                                MAX (l * fig_range (f, 0.20, 0.36), 3.5 * f->px));

          fig_blade (f, s.layer, (double[8]) { twig.p[0], twig.p[1], twig.p[2], twig.p[3],
                                               twig.p[4], twig.p[5], 0.8 * f->px + 0.2 * s.width,
                                               0.45 * f->px }, f->wood, s.v + 0.08);
          if (f->leaf_amount > 0.03)
            cane_leaves (f, &twig, 3, 0.3);
        }
      if (f->leaf_amount > 0.03)
        cane_leaves (f, &s, leaves / (guint) n, 0.15);
      if (fig_has_heads (f))
        cane_heads (f, &s, index + 7 * (guint) k, 0.75 / n);
      cane_fruit (f, &s, 1.6);
    }
}

static void
cane (Fig *f, int layer, double u, double z, guint leaves, guint index)
{
  gboolean bare = is_bare (f), low = z >= 0.2 && !bare, young = bare && index % 5 == 3;
  double h = f->height * (1 - 0.20 * u * u) * fig_range (f, low || young ? 0.50 : 0.74, low ? 0.92
                                                         : young ? 0.72 : 1.0),
    fall = (0.25 + 0.75 * fabs (u)) * fig_range (f, 0.35, 0.75) * (young ? 0.3 : 1),
    foot = f->half * (bare ? u * 0.17 + fig_sway (f, 0.13) : u * 0.15 + fig_sway (f, 0.03)),
    belly = u * f->half * (bare ? fig_range (f, 0.34, 0.80) : 0.56);
  Cane c = { { foot, f->ground * (0.5 + 0.5 * z), belly, h * (1.24 + 0.12 * fall),
               u * f->half * (young ? 0.7 : 1), h * (1 - fall) },
             u, 0.30 + 0.16 * z + 0.2 * u * f->lx + (bare ? fig_sway (f, 0.10) : 0),
             MAX ((bare ? 0.0125 : 0.007) * f->height, 1.0 * f->px), 1.15 * hypot (h, u * f->half),
             layer };

  if (bare)
    {
      c.width = MAX (c.width * fig_range (f, 0.6, 1.15) * (young ? 0.6 : 1), 1.3 * f->px);
      cane_wood (f, &c);
      cane_shoots (f, &c, leaves, index);
      if (f->leaf_amount > 0.03)
        cane_leaves (f, &c, leaves / 2, 0.10);
      if (fig_has_heads (f))
        cane_heads (f, &c, index, 1);
      cane_fruit (f, &c, 4);
      return;
    }
  /* In leaf the wood stands behind the leaves; at the sides, where it hangs free, it shows. */
  fig_next (f);
  fig_blade (f, 4 + layer % 12, (double[8]) { c.p[0], c.p[1], c.p[2], c.p[3], c.p[4], c.p[5],
                                              c.width, 0.5 * f->px }, f->wood, c.v);
  if (fabs (u) > 0.6)
    {
      FigTip at = cane_at (&c, 0.55);

      fig_blade (f, layer, (double[8]) { at.x, at.y, 0.45 * c.p[2] + 0.55 * c.p[4],
                                         0.45 * c.p[3] + 0.55 * c.p[5], c.p[4], c.p[5],
                                         MAX (0.6 * c.width, f->px), 0.5 * f->px }, f->wood, c.v);
    }
  fig_next (f);
  cane_puffs (f, &c);
  cane_leaves (f, &c, leaves, 0.30);
  if (fig_has_heads (f))
    cane_heads (f, &c, index, 1);
  cane_fruit (f, &c, 5);
}

/* The body that the canes of a shrub in leaf hang over. */
static void
within (Fig *f)
{
  FigCluster c[FIG_MAX_CLUSTERS];
  FigMass m = { .profile = FIG_DOME, .y1 = 0.89 * f->height, .half = 0.86 * f->half, .layer = 20,
                .n_clusters = MIN (FIG_MAX_CLUSTERS, fig_parts (f, 66)), .n_leaves = f->budget / 3,
                .shape = f->plant->leaf, .leaf = f->leaf_len, .droop = 0.7,
                .amount = 0.9 * f->leaf_amount, .core = 0.85, .tones = f->leaf };

  fig_mass (f, &m, c, fig_clusters (f, &m, c));
}

void
fig_form_arching_shrub (Fig *f)
{
  guint n = (guint) CLAMP (14 + 18 * f->full, 10, MIN (32, 8 + f->half * f->detail / 3)), leaves;

  if (is_bare (f))
    n = MAX (9, n * 5 / 8);
  leaves = f->budget * 6 / 10 / n;
  if (!is_bare (f))
    within (f);
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2 * (i + 0.5) / n;

      /* None in front stands straight up like a mast. */
      double apart = z < 0 ? 0.06 : 0.18;

      u = (u < 0 ? -1 : 1) * (apart + (1 - apart) * fabs (u));
      fig_part (f, 600 + i);
      cane (f, (z < -0.2 ? 4 : 64) + (int) i * 3, u * (0.7 + 0.3 * fabs (u)) * 1.02, z, leaves, i);
    }
}
