/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Low herbaceous forms: mounds, mats, cushions, rosettes, straps and bulbs. */
#include "draw/figure-head.h"

gboolean
fig_is_withered (const Fig *f)
{
  return (f->look->state == BL_STATE_STANDING && f->leaf_amount < 0.4) ||
      (f->look->state == BL_STATE_DORMANT && f->leaf_amount < 0.3) || f->leaf_amount < 0.06;
}

/* What is left in winter of a soft plant: bent stalks and rags of leaf. */
static void
remains (Fig *f, double height)
{
  guint n = (guint) CLAMP (f->half * 2 * f->detail / 3.5, 6, 46);
  FigTones t = f->leaf;
  double rag = MAX (MIN (f->leaf_len * 0.7, 0.16 * height), 3 * f->px);

  for (guint i = 0; i < n; i++)
    {
      double u = fig_range (f, -1, 1), y = height * fig_range (f, 0.25, 1) * (1 - 0.5 * u * u),
        x = CLAMP (u + fig_sway (f, 0.5), -1, 1) * f->half, foot = u * f->half * 0.42,
        fall = fig_range (f, 0.55, 0.9);

      fig_blade (f, 2 + (int) (i % 6), (double[8]) { foot, 0, foot + 0.45 * (x - foot), 1.1 * y, x,
                                                     y * fall, 1.1 * f->px, 0.5 * f->px },
                 f->wood, fig_range (f, 0.25, 0.7));
      if (i % 2)
        fig_leaf (f, 8, BL_LEAF_LANCE, x, y * fall, -G_PI / 2 + fig_sway (f, 1.4), rag, rag * 0.3,
                  0.2, t, fig_range (f, 0.25, 0.7));
    }
}

/* What comes out of the ground in spring: leaves still close together, pointing up. */
static gboolean
sprouts (Fig *f)
{
  guint n = (guint) CLAMP (f->half * 2 * f->detail / 9, 4, 22);
  double ratio = fig_leaf_ratio (f->plant->leaf);

  if (f->look->state != BL_STATE_EMERGING || f->leaf_amount > 0.35 || fig_is_withered (f))
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2 * (i + 0.5) / n,
        h = f->height * (1 - 0.35 * u * u) * fig_range (f, 0.7, 1.0), x = 0.86 * u * f->half,
        y = 0.6 * f->ground * (z + 1) * (1 - u * u);

      fig_part (f, 900 + i);
      for (int k = -1; k <= 1; k++)
        {
          double l = h * (k ? fig_range (f, 0.6, 0.85) : 1);

          fig_leaf (f, 4 + (int) i, f->plant->leaf, x, y, G_PI / 2 - 0.35 * u - 0.5 * k, l,
                    l * MIN (0.34, 0.7 * ratio) * (k ? 1 : 0.8), -0.15 * k, f->leaf,
                    0.50 + 0.14 * z + 0.12 * (u + k) * f->lx);
        }
    }
  return TRUE;
}

static guint
heads_for_cover (const Fig *f, double width, double depth, double cover)
{
  double s = fig_head_size (f), one = fig_head_is_long (f) ? s * s * 0.28 : s * s;

  return (guint) CLAMP (cover * width * depth / one, 3,
                        MIN (200, 16 + f->half * 2 * f->detail * (cover > 2 ? 0.7 : 0.36)));
}

/* One great leaf of a dome, at the place whose outward direction is nx, ny, nz: it hangs over those
 * below it, soft in their shade. */
static void
shingle (Fig *f, int layer, double nx, double ny, double half, double top, double len)
{
  double nz = sqrt (MAX (0, 1 - nx * nx - ny * ny)), dx = 1.1 * nx + fig_sway (f, 1.0),
    dy = -0.95 * nz * (1 - 0.8 * ny) + 0.35 * ny * ny, dir = atan2 (dy, dx);
  double l = len * fig_range (f, 0.80, 1.10) * (0.62 + 0.38 * MAX (fabs (nx), 0.6 * (1 - ny))),
    w = len * fig_leaf_ratio (f->plant->leaf) * (0.66 + 0.30 * nz) * fig_range (f, 0.86, 1.08);
  double x = CLAMP (nx * half, -half + 0.3 * l, half - 0.3 * l) - 0.42 * l * cos (dir),
    y = 0.05 * top + ny * (top - 0.18 * l) - 0.42 * l * sin (dir);
  /* Leaves on long stalks lie looser: more shade shows between them. */
  double loose = f->fold > 0.1 ? 1 : 0, v = 0.16 + (0.58 + 0.22 * loose) * fig_lit (f, nx, ny + 0.15, nz)
    - 0.16 * loose + 0.06 * ny + fig_sway (f, 0.12 + 0.12 * loose),
    bend = -0.14 * (cos (dir) > 0 ? 1 : -1) * fig_range (f, 0.4, 1.2);

  /* Tips reach the ground in front, not into it. */
  y = MAX (y, 1.04 * l * MAX (0, -sin (dir)) + 0.07 * l + 0.9 * f->ground);
  if (loose > 0 && f->leaf_amount < 0.7)
    fig_blade (f, layer - 1, (double[8]) { 0.12 * x, 0, 0.5 * x, 0.8 * y, x, y, 1.6 * f->px, 1.3 * f->px },
               f->green, v - 0.2);
  fig_leaf (f, layer, f->plant->leaf, x - (0.015 + 0.03 * loose) * l * f->lx,
            y - (0.035 + 0.03 * loose) * l, dir, l * (1 + 0.03 * loose), w * (1 + 0.06 * loose), bend,
            f->leaf, v - 0.16 - 0.10 * loose);
  fig_leaf (f, layer + 1, f->plant->leaf, x, y, dir, l, w, bend, f->leaf, v);
}

/* Leaves as large as a hand or larger shingle a dome, the upper ones over the lower; none longer
 * than about @most of it. */
static void
great_leaves (Fig *f, double top, double half, double most)
{
  double ratio = fig_leaf_ratio (f->plant->leaf),
    len = MIN (f->leaf_len, most * MIN (half, top) + 0.07 * half);
  guint n = (guint) CLAMP ((0.4 + 0.6 * f->full) * 9.6 * half * top / (len * len * ratio), 16, 120);

  f->fold = most > 0.5 ? 0.12 : 0.06;
  if (f->leaf_amount > 0.6)
    for (int i = -1; i <= 1; i++)
      fig_cloud (f, 3, 0.3 * i * half, top * (i ? 0.30 : 0.38) + 0.6 * f->ground, half * 0.42,
                 top * (i ? 0.32 : 0.40), 0.4 * len, -0.4, f->leaf, 0.27);
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, ny;

      fig_part (f, 240 + i);
      ny = (i + 0.5 + fig_sway (f, 2.5)) / n;
      ny = CLAMP (ny, 0.01, 0.99);
      if (fig_unit (f) > f->leaf_amount + 0.02)
        continue;
      /* Behind, a few look over the top. */
      if (i % 7 == 3)
        fig_leaf (f, 4, f->plant->leaf, 0.55 * u * half, top * (0.9 - 0.4 * u * u) - len * 0.6,
                  G_PI / 2 - u * 0.9, len * 0.9, len * ratio * 0.7, 0, f->leaf,
                  0.22 + 0.2 * u * f->lx);
      shingle (f, 6 + (int) (30 * ny) * 3, u * sqrt (1 - ny * ny), ny, half, top, len);
    }
}

/* Upright shoots with narrow leaves all along them: lavender, rosemary. */
static void
shoots (Fig *f, const FigMass *m, const FigCluster *clusters, guint n)
{
  double length = MAX (0.30 * m->y1, 7 * f->px), width = CLAMP (0.40 * f->leaf_len, MAX (0.022 * m->y1, 1.8 * f->px), 0.05 * m->y1
                   + 1.8 * f->px);
  guint many = (guint) CLAMP (f->full * 9 * m->half * m->y1 / (length * width * 1.5), 50,
                              60 + f->budget * 0.36), each = MAX (1, many / MAX (1, n));

  for (guint i = 0; i < n; i++)
    {
      const FigCluster *c = &clusters[i];
      double lit = fig_lit (f, c->nx, c->ny, c->nz);
      int layer = m->layer + 1 + (int) i;

      fig_cloud (f, layer, c->x, c->y - 0.1 * c->r, 1.06 * c->r, 1.0 * c->r, 1.6 * width, 1.2,
                 f->leaf, 0.04 + 0.26 * lit);
      f->hue = 1 + (int) (i % FIG_HUES);
      for (guint k = 0; k < each; k++)
        {
          double u = 2 * (k + fig_unit (f)) / each - 1, dir = atan2 (0.85 + 0.4 * c->ny,
              c->nx + 0.7 * u) + fig_sway (f, 0.35), l = length * fig_range (f, 0.7, 1.15);
          double x = c->x + 0.8 * u * c->r - 0.5 * l * cos (dir),
            y = c->y + fig_sway (f, 0.9) * c->r - 0.5 * l * sin (dir),
            bend = fig_sway (f, 0.10) * l, tip;

          y = MAX (0.2 * f->ground, y), tip = MIN (y + l * sin (dir), 1.02 * m->y1);
          fig_feather (f, layer, (double[6]) { x, y, x + 0.5 * l * cos (dir) - bend,
                                               (y + tip) / 2 + 0.04 * l, x + l * cos (dir), tip },
                       width, 0.20, (guint) CLAMP (l * f->detail / 5.6, 4, 10), FALSE, f->leaf,
                       -0.12 + 0.86 * lit + fig_sway (f, 0.22) + 0.12 * u * f->lx);
        }
      if (f->snow > 0 && c->ny + 0.4 * c->nz > 0.35)
        fig_snow (f, layer, c->x + fig_sway (f, 0.4) * c->r, c->y + 0.35 * c->r, 0.55 * c->r,
                  0.22 * c->r);
    }
  f->hue = 0;
}

/* A low shrub without its leaves: stems from the foot, twigs all over. */
static void
bare_twigs (Fig *f, const FigCluster *c, guint n)
{
  BlPoint roots[14];
  double w = MAX (0.016 * f->height, 1.1 * f->px);
  guint made = fig_basal_stems (f, 2, 7, f->half * 0.14, f->half * 0.5, f->height * 0.42, w, roots);

  fig_skeleton (f, 2, roots, made, 1.5, c, n, w);
  for (guint i = 0; i < n; i++)
    fig_twigs (f, 5 + (int) i, &c[i], 4, MAX (0.14 * w, 0.75 * f->px));
}

void
fig_form_mound (Fig *f)
{
  FigCluster c[FIG_MAX_CLUSTERS];
  double rise = MAX (0, f->height - f->foliage);
  FigMass m = { .profile = FIG_DOME, .y1 = f->foliage,
                .half = f->half * (rise > 0.15 * f->height ? 0.93 : 1), .layer = 4,
                .n_clusters = 42, .n_leaves = f->budget * 5 / 4, .shape = f->plant->leaf,
                .leaf = MIN (f->leaf_len, MAX (0.19 * f->foliage, 3.4 * f->px)),
                .droop = f->plant->leaf_size > 0.12 ? 0.85 : 0.25,
                .amount = f->leaf_amount, .core = 0.9, .tones = f->leaf };
  guint n;

  if (sprouts (f))
    return;
  n = fig_clusters (f, &m, c);
  if (fig_is_withered (f) && bl_plant_is_woody (f->plant))
    bare_twigs (f, c, n);
  else if (fig_is_withered (f))
    remains (f, f->foliage);
  if (!fig_is_withered (f) && f->leaf_len > 0.26 * f->foliage
      && f->plant->leaf_size > (f->plant->leaf == BL_LEAF_LOBED ? 0.19 : 0.09))
    great_leaves (f, m.y1, m.half, fig_leaf_ratio (m.shape) < 0.4 ? 0.46 : 0.34);
  else if (!fig_is_withered (f) && (f->plant->leaf == BL_LEAF_LINEAR || f->plant->leaf == BL_LEAF_NEEDLE))
    shoots (f, &m, c, n);
  else if (!fig_is_withered (f))
    {
      /* Where leaves are few it is seen that each has its stalk. */
      for (guint i = 0; f->leaf_amount < 0.95 && !bl_plant_is_woody (f->plant) && i < n; i++)
        fig_blade (f, 3, (double[8]) { 0.25 * c[i].x, 0.3 * f->ground, 0.6 * c[i].x, 0.7 * c[i].y,
                                       c[i].x, c[i].y, 1.5 * f->px, 1.1 * f->px }, f->green,
                   0.30 + 0.1 * c[i].z);
      fig_mass (f, &m, c, n);
    }
  if (fig_is_withered (f))
    fig_snow_among (f, 3, 6, f->half * 0.7, f->foliage * 0.06);
  fig_part (f, 21);
  fig_mass_heads (f, &m, c, n, heads_for_cover (f, f->half * 2, f->height, 0.75),
                  MAX (rise, 0.04 * f->height), 100);
}

void
fig_form_mat (Fig *f)
{
  FigCluster c[FIG_MAX_CLUSTERS];
  double rise = MAX (0, f->height - f->foliage), top = MAX (f->foliage, f->height * 0.55);
  FigMass m = { .profile = FIG_PAD, .y1 = top, .half = f->half, .layer = 4, .n_clusters = 90,
                .n_leaves = f->budget, .shape = f->plant->leaf,
                .leaf = MIN (f->leaf_len, MAX (top * 0.7, 3 * f->px)), .droop = 0.0,
                  .amount = 0.45 + 0.55 * f->leaf_amount, .core = 1.0,
                .tones = f->leaf };
  guint n = fig_clusters (f, &m, c);

  if (fig_is_withered (f))
    remains (f, f->height);
  if (!fig_is_withered (f))
    fig_mass (f, &m, c, n);
  /* Between dry stalks it lies on the ground. */
  if (fig_is_withered (f))
    fig_snow_among (f, 3, 7, f->half * 0.8, top * 0.08);
  else
    fig_snow_among (f, 98, 7, f->half, top * 0.80);
  fig_part (f, 22);
  fig_mass_heads (f, &m, c, n, heads_for_cover (f, f->half * 2, f->height, 3.2),
                  MIN (MAX (rise, 0.04 * f->height), 0.22 * f->height), 100);
}

/* Fine leaves standing out from the middle of a dome. */
static void
bristles (Fig *f, double top, double half)
{
  double tuft = MAX (top * 0.27, 4 * f->px);
  guint n = (guint) CLAMP (f->full * 5.4 * half * 1.6 * top / (tuft * tuft), 60,
                           f->budget * 0.7 + 60);

  /* What is behind them keeps well within, hardly darker than the leaves in shade. */
  for (int i = -1; i <= 1; i++)
    fig_cloud (f, 3, 0.34 * i * half, top * (i ? 0.30 : 0.36), half * 0.36, top * (i ? 0.30 : 0.38),
               0.5 * tuft, 0.3, f->leaf, 0.30 + 0.08 * i * f->lx);
  for (guint i = 0; i < n; i++)
    {
      double a = 0.12 + (G_PI - 0.24) * fig_share (f, i) + fig_sway (f, 0.12), q = sqrt ((i + fig_unit (f)) / n),
        z = sqrt (MAX (0, 1 - q * q));
      double x = q * cos (a) * half * 0.90,
        y = q * sin (a) * top * 0.86 + f->ground * (1 - sin (a)) * z,
        l = top * fig_range (f, 0.20, 0.34);
      double v = -0.14 + 1.06 * fig_lit (f, q * cos (a), q * sin (a) + 0.1, z) + fig_sway (f, 0.22);
      double dir = atan2 (y + top * 0.30, x);

      l = MAX (l, 4 * f->px), y = MAX (y, 0.6 * f->ground + 0.25 * l);
      fig_tuft (f, 5 + (int) (6 * z), 5, x * 0.86, y * 0.86, dir + fig_sway (f, 0.35), l, 1.3,
                MAX (f->leaf_len * 0.05, 1.0 * f->px), f->leaf, v);
    }
}

void
fig_form_cushion (Fig *f)
{
  FigCluster c[FIG_MAX_CLUSTERS];
  gboolean fine = f->plant->leaf == BL_LEAF_PINNATE;
  double rise = MAX (0, f->height - f->foliage), top = MAX (f->foliage, 0.3 * f->height);
  FigMass m = { .profile = FIG_DOME, .y1 = top, .half = f->half, .layer = 4, .n_clusters = 30,
                .n_leaves = f->budget,
                .shape = f->plant->leaf,
                .leaf = MIN (f->leaf_len, MAX (top * (fine ? 0.17 : 0.4), 3 * f->px)),
                .droop = -0.1,
                .amount = f->leaf_amount, .core = 1, .tones = f->leaf };
  guint n = fig_clusters (f, &m, c);
  BlLeafShape s = f->plant->leaf;

  if (fig_is_withered (f))
    remains (f, top);
  else if (s == BL_LEAF_LINEAR || s == BL_LEAF_NEEDLE || s == BL_LEAF_STRAP || s == BL_LEAF_LANCE)
    bristles (f, top, f->half);
  else
    {
      for (int i = -1; f->leaf_amount > 0.25 && i <= 1; i++)
        fig_cloud (f, 3, 0.38 * i * f->half, top * (i ? 0.30 : 0.42) + 0.7 * f->ground,
                   f->half * 0.48, top * (i ? 0.36 : 0.48), 0.7 * m.leaf, 0.3, f->leaf, 0.26);
      fig_mass (f, &m, c, n);
    }
  fig_snow_among (f, 58, 5, f->half * 0.74, top * 0.80);
  fig_part (f, 23);
  fig_mass_heads (f, &m, c, n, heads_for_cover (f, f->half * 2, f->height, 0.5),
                  MAX (rise * 1.1, 0.06 * f->height), 60);
}

/* Blades from one crown: straps, sword leaves, leaves of bulbs. @stiff 0 arches, 1 stands. */
static void
straps (Fig *f, guint n, double top, double reach, double width, double stiff, double x0)
{
  for (guint i = 0; i < n; i++)
    {
      double u = n > 1 ? 2 * (i + 0.5) / n - 1 + fig_sway (f, 0.4) : fig_sway (f, 0.3),
        z = fig_range (f, -1, 1);
      double h = top * (1 - 0.30 * fabs (u)) * fig_range (f, 0.80, 1.0), x = x0 + u * reach;
      double drop = (1 - stiff) * fig_range (f, 0.15, 0.75), ex = x, ey = h * (1 - drop * fabs (u));
      double cx = x0 + u * reach * (0.30 + 0.25 * stiff),
        cy = h * (1.22 - 0.6 * stiff * fabs (u) - 0.25 * stiff);
      double v = 0.30 + 0.20 * z + 0.18 * u * f->lx + fig_sway (f, 0.14);
      double w = width * fig_range (f, 0.75, 1.1);
      double bx = x0 + u * reach * 0.10, foot = 0.35 * f->ground * (1 + z) * (1 - u * u);
      int layer = 10 + (int) (20 * (z + 1)) * 2;

      if (fig_unit (f) > f->leaf_amount + 0.05 && i > 0)
        continue;
      fig_next (f);
      fig_blade (f, layer, (double[8]) { bx, foot, cx, cy, ex, ey, w, 0.12 * w }, f->leaf, v);
      if (w * f->detail > 3)
        {
          double o = 0.22 * w * (f->lx >= 0 ? 1 : -1);

          fig_next (f);
          fig_blade (f, layer, (double[8]) { bx + o, foot, cx + o, cy + o * 0.3, ex, ey, w * 0.42,
                                             0.05 * w }, f->leaf, v + 0.17);
        }
    }
}

/* A head at x, y on a stalk of its own that leaves the stem at @t. */
static void
bear (Fig *f, int layer, const FigStem *s, double t, FigStage stage, double x, double y,
      double angle, double size)
{
  FigTip p = fig_stem_at (s, t);
  double side = x > p.x ? 1 : -1, w = MAX (0.55 * s->width, 1.1 * f->px);

  if (stage == FIG_STAGE_NONE)
    return;
  if (hypot (x - p.x, y - p.y) > 1.5 * f->px)
    fig_blade (f, layer, (double[8]) { p.x, p.y, 0.5 * (p.x + x) + 0.1 * side * fabs (y - p.y),
                                       0.5 * (p.y + y), x, y, w, 0.8 * w },
               stage == FIG_STAGE_SEED && f->leaf_amount < 0.5 ? f->seed_tones : f->stalk, s->value);
  fig_head (f, MAX (layer + 1, 40), stage, x, y, angle, size, s->value + 0.14 + 0.1 * side * f->lx);
}

/* Flower stalks among leaves, each with @heads at its end or along its upper part. */
static void
scapes (Fig *f, guint n, double reach, guint heads, double along, double x0)
{
  double size = fig_head_size (f), stout = MAX (f->head == FIG_HEAD_OPEN ? 0.022
                                                : MIN (CLAMP (0.06 * size, 0.004, 0.013),
                                                       0.011 * f->height), 1.3 * f->px);

  for (guint i = 0; i < n; i++)
    {
      double u = n > 1 ? 2 * (i + 0.5) / n - 1 + fig_sway (f, 0.3) : fig_sway (f, 0.2),
        z = fig_range (f, -0.4, 1);
      FigStage stage = fig_stage (f, i);
      double len = fig_head_is_long (f) ? size : size * 0.5,
        top = f->height * (1 - 0.10 * fabs (u) - (f->head == FIG_HEAD_TRUMPETS || f->head == FIG_HEAD_GLOBE
                              || f->head == FIG_HEAD_LILY ? 0.26 : 0.14)
                           * (i > 0 || x0 < 0) * fig_unit (f));
      FigStem s = { .x0 = x0 + u * reach * 0.15, .x1 = x0 + u * reach * 0.8, .y1 = MAX (top - len,
          0.3 * top), .arch = 0.15,
                    .width = stout, .value = 0.42 + 0.15 * z + 0.1 * u * f->lx };
      /* Among the leaves of a rosette, not before them all. */
      int layer = f->plant->form == BL_FORM_ROSETTE_WANDS
        ? fig_leaf_ratio (f->plant->leaf) > 0.8 ? 5 : 9 + (int) (9 * (z + 1))
        : 30 + (int) (20 * (z + 1)) * 2 + 30 * (int) (i % 2);
      FigTip tip;

      if (stage == FIG_STAGE_NONE)
        continue;
      tip = fig_stem (f, layer, &s);
      if (along > 0)
        for (guint k = 0; k < heads; k++)
          {
            double t = 1 - along * (k + 0.3) / heads, side = k % 2 ? 1 : -1;
            FigTip p = fig_stem_at (&s, t);
            FigStage own = fig_stage (f, i * 9 + k);

            bear (f, layer, &s, MAX (0, t - 0.4 * size / f->height),
                  own == FIG_STAGE_NONE ? stage : own,
                  p.x + side * size * (0.3 + (heads > 9 ? 5.2 : 0.5) * (1 - t) * fig_unit (f)),
                  p.y + fig_sway (f, 0.4 * size), p.angle + side * 0.9,
                  size * (0.75 + 0.5 * (1 - t)));
          }
      else
        for (guint k = 0; k < heads; k++)
          {
            /* The first ends the stem, the others branch off below it by turns. */
            double side = k == 0 ? 0 : (k + i) % 2 ? 1 : -1, low = 0.9 * k * size;
            FigStage own = k ? fig_stage (f, i * 9 + k) : stage;

            bear (f, layer, &s, CLAMP (1 - 1.5 * low / MAX (1e-6, s.y1), 0, 1), own,
                  tip.x + side * size * 0.42, tip.y - low, tip.angle - side * 0.45,
                  size * fig_range (f, 0.85, 1.05) * (k ? 0.9 : 1));
          }
    }
}

void
fig_form_rosette (Fig *f)
{
  BlLeafShape s = f->plant->leaf;
  gboolean swords = s == BL_LEAF_STRAP || s == BL_LEAF_LINEAR || (s == BL_LEAF_LANCE &&
                                                                  f->plant->leaf_size > 0.3);
  double fol = MIN (f->foliage, f->height), size = fig_head_size (f);
  gboolean tall = fig_has_heads (f) && f->height > fol * 1.15;
  guint most = f->budget / 6;

  if (fig_is_withered (f))
    remains (f, fol * 0.5);
  if (swords)
    straps (f, (guint) CLAMP (18 + 34 * f->full, 10, most), fol, f->half,
            MAX (f->plant->leaf_size * 0.06, 2.0 * f->px),
            0.95, 0);
  else if (!fig_is_withered (f) && fig_leaf_ratio (s) > 0.8 && f->leaf_len > 0.14 * fol)
    great_leaves (f, tall ? fol : f->height, 0.97 * f->half, 0.52);
  else
    {
      FigCluster c[FIG_MAX_CLUSTERS];
      FigMass m = { .profile = FIG_DOME, .y1 = tall ? fol : f->height, .half = f->half, .layer = 4,
                    .n_clusters = 24, .n_leaves = f->budget / 2,
                    .shape = s, .leaf = MIN (f->leaf_len, 0.42 * fol + 0.1 * f->half), .droop = 0.1, .amount = f->leaf_amount,
                      .core = 0.9, .tones = f->leaf };

      if (!fig_is_withered (f))
        fig_mass (f, &m, c, fig_clusters (f, &m, c));
    }
  fig_snow_among (f, fig_is_withered (f) ? 3 : 29, 8, f->half * (fig_is_withered (f) ? 0.5 : 0.66),
                  fol * (fig_is_withered (f) ? 0.05 : 0.74));
  fig_part (f, 31);
  if (fig_has_heads (f))
    scapes (f, (guint) CLAMP (swords && f->plant->leaf_size > 0.2 ? 1 + f->half * 1.4
                               : f->head == FIG_HEAD_BELL ? 3 + 9 * f->half : 4 + 30 * f->half, 1,
                               26),
            f->half * (swords ? 0.35 : 1.0),
            fig_head_is_long (f) ? 1
              : (guint) CLAMP (0.36 * f->height / (size * (swords ? 0.16 : f->head == FIG_HEAD_BELL ? 1.2
                                                   : 0.75)), 3,
                               swords ? 54 : 9),
            fig_head_is_long (f) ? 0 : 0.42, 0);
}

void
fig_form_strap_clump (Fig *f)
{
  double fol = f->foliage, width = MAX (CLAMP (f->plant->leaf_size * 0.042, 0.008, 0.04),
                                        1.6 * f->px);
  guint n = (guint) CLAMP (14 + 52 * f->full * f->half * 2, 8, MIN (78, f->budget / 6));

  if (fig_is_withered (f))
    {
      f->leaf_amount = MAX (f->leaf_amount, 0.5);
      straps (f, n / 2, f->height * (fig_has_heads (f) ? 0.5 : 0.95), f->half, width * 0.7, 0.1, 0);
      if (fig_has_heads (f))
        scapes (f, 4, f->half * 0.6, 2, 0, 0);
      return;
    }
  straps (f, n, fol, f->half, width, f->plant->leaf == BL_LEAF_STRAP &&
          f->plant->leaf_size < 0.45 && fol > 0.6 ? 0.6 : 0.28, 0);
  fig_stubs (f, 92, 0.10 * f->half, 0.12 * fol, 0.28);
  fig_part (f, 32);
  if (fig_has_heads (f))
    scapes (f, f->head == FIG_HEAD_OPEN ? 3 : (guint) CLAMP (3 + 13 * f->half * 2 * f->full, 2, 15),
            f->half * 0.8, fig_head_is_long (f) || f->head == FIG_HEAD_TRUMPETS ? 1 : 2, 0, 0);
}

void
fig_form_bulb (Fig *f)
{
  guint n = (guint) CLAMP (1 + f->half * 2 / 0.075 * f->full, 1, 9);
  double fol = MIN (f->foliage, f->height) * (fig_has_heads (f) && f->foliage >= f->height ? 0.8
                                              : 1);
  double width = MAX (CLAMP (f->plant->leaf_size * 0.036, 0.005, 0.035), 1.3 * f->px);
  gboolean round = f->plant->flower == BL_FLOWER_GLOBE;

  for (guint i = 0; i < n; i++)
    {
      /* Leaves reach the stated width, so that no head is stretched to it. */
      double reach = f->half * (n > 1 ? 0.5 : 0.95),
        x = n > 1 ? (2.0 * i / (n - 1) - 1) * (f->half - reach) : 0;

      fig_part (f, 400 + i);
      if (f->leaf_amount > 0.05)
        straps (f, 5, round ? fol * 0.62 : fol, MAX (reach, 0.03), width, 0.55, x);
      if (fig_has_heads (f))
        scapes (f, 1, MAX (f->half * 0.3, 0.02), 1, 0, x);
    }
}
