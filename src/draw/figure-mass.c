/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Foliage in masses: clusters of leaves over a dark inside, lit as a body and each as a part. */
#include "draw/figure-head.h"

guint
fig_parts (const Fig *f, guint n)
{
  return (guint) (n * CLAMP (sqrt (MAX (f->height, 2 * f->half) * f->detail / 280), 0.9, 1.6));
}

double
fig_profile (FigProfile profile, double t)
{
  t = CLAMP (t, 0, 1);
  switch (profile)
    {
    case FIG_DOME: return sqrt (MAX (0, 1 - t * t)) * (0.90 + 0.10 * MIN (1, t * 5));
    case FIG_GLOBE: return sqrt (MAX (0, 1 - (2 * t - 1) * (2 * t - 1)));
    case FIG_EGG: return t > 0.42 ? sqrt (MAX (0, 1 - pow ((t - 0.42) / 0.58, 2)))
      : 0.66 + 0.34 * sin (t / 0.42 * G_PI / 2);
    case FIG_VASE: return t < 0.68 ? 0.47 + 0.53 * sin (t / 0.68 * G_PI / 2) : sqrt (MAX (0,
        1 - pow ((t - 0.68) / 0.32, 2)));
    case FIG_COLUMN: return MIN (1, pow ((1 - t) / 0.42, 0.80)) * (0.86 + 0.14 * sin (t * G_PI));
    case FIG_CONE: return pow (1 - t, 0.86) * (t < 0.06 ? 0.86 + t * 2.3 : 1);
    case FIG_BOX: return 1;
    case FIG_PAD: /* flat on top: a carpet, not a dome */
      return t < 0.2 ? 0.94 + 0.06 * t / 0.2 : sqrt (MAX (0, 1 - pow ((t - 0.2) / 0.8, 3)));
    default: return 1;
    }
}

static int
by_depth (const void *a, const void *b)
{
  const FigCluster *p = a, *q = b;

  return p->z < q->z ? -1 : p->z > q->z;
}

/* A place on the outline of a body, at @way of its length from one foot over the top to the other:
 * x as a share of the half, y of the height. */
static void
outline_at (FigProfile profile, double way, double *u, double *t)
{
  double length[25] = { 0 }, want;
  int n = 24, k = 1;
  gboolean left = way < 0.5;

  for (int i = 1; i <= n; i++)
    {
      double dw = fig_profile (profile, i / (double) n) - fig_profile (profile, (i - 1) / (double) n);

      length[i] = length[i - 1] + sqrt (dw * dw + 1.0 / (n * n));
    }
  /* What is left at the top is a straight line across. */
  want = (left ? 2 * way : 2 * (1 - way)) * (length[n] + fig_profile (profile, 1));
  while (k < n && length[k] < want)
    k++;
  *t = MIN (1, (k - 1 + (want - length[k - 1]) / (length[k] - length[k - 1])) / n);
  *u = fig_profile (profile, *t);
  if (want > length[n])
    *u = MAX (0, *u - (want - length[n]));
  *u = left ? -*u : *u;
}

/* A cluster @own in radius just within the outline. */
static FigCluster
rim_cluster (Fig *f, const FigMass *m, double way, double own)
{
  double h = m->y1 - m->y0, u[3], t[3], tx, ty, l, in = 0.74 * own, z = fig_range (f, -0.1, 0.3);
  FigCluster c = { .r = own };

  for (int k = 0; k < 3; k++)
    outline_at (m->profile, CLAMP (way + (k - 1) * 0.015, 0, 1), &u[k], &t[k]);
  tx = (u[2] - u[0]) * m->half, ty = (t[2] - t[0]) * h, l = MAX (1e-9, hypot (tx, ty));
  /* The outline runs from left to right over the top: outwards is to its left. */
  c.nx = -ty / l, c.ny = tx / l, c.nz = 0.25 + MAX (0, z) * 0.8, c.t = t[1];
  c.x = m->x + u[1] * m->half - c.nx * in;
  c.y = MAX (m->y0 + t[1] * h - c.ny * in, m->y0 + own * 0.5);
  c.z = z + 0.25 * (0.5 - t[1]);
  return c;
}

/* Clusters along the rim give the body its outline; the others lie evenly over its front. */
guint
fig_clusters (Fig *f, const FigMass *m, FigCluster *out)
{
  guint n = MIN (m->n_clusters, FIG_MAX_CLUSTERS), made = 0, rim = 0;
  double h = m->y1 - m->y0, area = 0, r, shift = (double) (f->seed >> 11 & 1023) / 1024;
  gboolean foot = m->y0 <= 0;

  for (int i = 0; i < 20; i++)
    area += fig_profile (m->profile, (i + 0.5) / 20) * 2 * m->half * h / 20;
  r = sqrt (area / MAX (1, n) / G_PI) * 1.55;
  if (m->profile != FIG_BOX && m->profile != FIG_PAD)
    rim = (guint) CLAMP (0.85 * (2 * h + 2 * m->half) / (1.7 * r), 5, n * 0.4);
  for (; made < rim; made++)
    out[made] = rim_cluster (f, m, (foot ? 0.05 : 0) + (foot ? 0.90 : 1) * (made + 0.5
        + fig_sway (f, 0.30)) / rim, r * fig_range (f, 0.80, 1.08));
  for (guint i = 0; made < n && i < n * 4; i++)
    {
      /* An additive recurrence in two dimensions: even, without rows (the plastic number's
       * powers). */
      double ti = 0.7548776662466927 * i + shift, ui = 0.5698402909980532 * i + shift * 3;
      double t = ti - floor (ti), w = fig_profile (m->profile, t), u, z, x, y;

      /* More where the body is wide: accept by width. */
      if (fig_unit (f) > w + 0.12)
        continue;
      u = CLAMP (((ui - floor (ui)) * 2 - 1) * 1.05, -1, 1);
      z = sqrt (MAX (0, 1 - u * u)) * (i % 4 ? fig_range (f, 0.25, 1) : fig_range (f, -0.9, -0.1));
      y = CLAMP (m->y0 + t * h, m->y0 + r * 0.45, MAX (m->y0 + r * 0.45, m->y1 - r * 0.62));
      x = m->x + u * MAX (0, w * m->half - r * 0.62);
      if (foot)
        y += f->ground * 1.5 * MAX (0, z) * MAX (0, 1 - 1.6 * t);
      out[made++] = (FigCluster) { x, y, z + 0.25 * (0.5 - t), r * fig_range (f, 0.80, 1.28),
                                   u * 0.85, (t - 0.38) * 1.5, 0.25 + MAX (0, z) * 0.8, t };
    }
  qsort (out, made, sizeof *out, by_depth);
  return made;
}

/* Needles of soft plants stand in tufts. */
static gboolean
is_mossy (const Fig *f, const FigMass *m)
{
  return m->shape == BL_LEAF_NEEDLE && !bl_plant_is_woody (f->plant);
}

static void
cluster_leaves (Fig *f, const FigMass *m, const FigCluster *c, int layer, guint n,
                gboolean cloudy)
{
  double ratio = fig_leaf_ratio (m->shape);
  gboolean mossy = is_mossy (f, m);

  for (guint k = 0; k < n; k++)
    {
      double a = fig_range (f, 0, 2 * G_PI), q = sqrt (fig_unit (f)), dx = q * cos (a),
        dy = q * sin (a);
      double dz = sqrt (MAX (0, 1 - q * q));
      double lit = fig_lit (f, 0.62 * dx + 0.58 * c->nx, 0.62 * dy + 0.58 * c->ny,
                            0.5 * dz + 0.5 * c->nz);
      double v = -0.30 + 1.22 * lit + 0.10 * (c->t - 0.5) + 0.08 * c->z + fig_sway (f, 0.17);
      double dir = atan2 (dy * 0.8 + c->ny * 0.35 - m->droop * 0.9 + 0.12,
                          dx + c->nx * 0.5) + fig_sway (f, 0.7);
      double len = m->leaf * fig_range (f, 0.72, 1.18);

      /* Over a cloud most leaves sit where the light falls and along its edge. */
      if (cloudy && k % 3 == 0)
        dx *= 1.06 / MAX (q, 0.3), dy *= 1.06 / MAX (q, 0.3);
      else if (cloudy && dx * f->lx + dy * f->ly < 0 && k % 3 == 1)
        dx = -dx, dy = -dy, v += 0.16;
      /* The first third: larger and darker, the ragged edge of the mass in shadow. */
      if (!cloudy && k * 3 < n)
        v = -0.12 + 0.52 * lit + fig_sway (f, 0.10), len *= 1.32;
      if (cloudy && mossy)
        {
          /* Each a little shoot seen from its tip: short fleshy leaves all round. */
          double l = MAX (0.62 * len, 4.5 * f->px),
            up = G_PI / 2 + 0.5 * (dir - G_PI / 2) * (dy > -0.2);

          fig_tuft (f, layer, 5, c->x + dx * c->r * 0.9,
                    MAX (f->ground + 0.4 * l, c->y + dy * c->r * 0.85), up, l, 2.7,
                    MAX (0.34 * l, 1.2 * f->px), m->tones, v);
        }
      else
        fig_leaf (f, layer, m->shape, c->x + dx * c->r * 0.90 - 0.3 * len * cos (dir),
                  c->y + dy * c->r * 0.86 - 0.3 * len * sin (dir), dir, len,
                  len * ratio * fig_range (f, 0.6, 1.1), fig_sway (f, 0.22), m->tones, v);
    }
}

/* Narrow leaves in whorls: seen from its tip each shoot is a star of them, dark beneath and light
 * above; those at the sides are seen aslant. */
static void
cluster_stars (Fig *f, const FigMass *m, const FigCluster *c, int layer, guint n)
{
  double r = MAX (0.78 * m->leaf, 4.2 * f->px);

  for (guint k = 0; k < n; k++)
    {
      double z = (k + 0.5) / n, q = 1.04 * sqrt (1 - z * z), a = 2.399963 * k + fig_sway (f, 0.6),
        dx = q * cos (a), dy = q * sin (a), x = c->x + dx * c->r, y = c->y + 0.94 * dy * c->r,
        out = hypot (0.6 * dx + c->nx, 0.6 * dy + c->ny), phase = fig_range (f, 0, 1),
        size = r * fig_range (f, 0.78, 1.15), flat = CLAMP (1.02 - 0.36 * out, 0.45, 1),
        tilt = atan2 (0.6 * dy + c->ny, 0.6 * dx + c->nx) - G_PI / 2, w = MAX (0.26 * size, 1.1 * f->px),
        v = -0.12 + 0.98 * fig_lit (f, 0.6 * dx + 0.6 * c->nx, 0.6 * dy + 0.6 * c->ny,
                                    0.5 * z + 0.5 * c->nz) + fig_sway (f, 0.12);

      y = MAX (y, 0.8 * f->ground + 0.7 * size);
      fig_next (f);
      fig_rays (f, layer, 7, x - 0.08 * size * f->lx, y - 0.12 * size, phase + 0.45,
                (double[5]) { 1.12 * size, 0.02 * size, flat, tilt, w }, m->tones, v - 0.24);
      fig_next (f);
      fig_rays (f, layer, 6, x, y, phase, (double[5]) { 0.94 * size, 0.02 * size, flat, tilt, w },
                m->tones, v + 0.08);
    }
}

/* The dark inside of a closed body, a little smaller than it. */
static void
body (Fig *f, const FigMass *m)
{
  double h = m->y1 - m->y0;

  for (int i = 0; i < 4; i++)
    {
      double t = (i + 0.5) / 4, w = fig_profile (m->profile, t) * m->half * 0.80;

      if (t < 0.8)
        fig_cloud (f, m->layer, m->x, m->y0 + t * h + 0.4 * f->ground * (m->y0 <= 0) * (1 - t), w,
                   h * 0.19, MIN (m->leaf, 0.3 * h), 0.2, m->tones, 0.10 + 0.14 * t);
    }
}

/* A cluster whose leaves are too small to draw each: shadow, body and light with leafy edges. */
static void
cluster_cloud (Fig *f, const FigMass *m, const FigCluster *c, int layer)
{
  double lit = fig_lit (f, c->nx, c->ny, c->nz), r = c->r * (0.50 + 0.50 * sqrt (m->amount)),
    leaf = m->leaf * (is_mossy (f, m) ? 0.6 : 1), lean = 0.5 - 1.2 * m->droop, side = f->lx;

  fig_cloud (f, layer, c->x - 0.12 * r * side, c->y - 0.14 * r, r * 1.02, r * 0.92, leaf, lean,
             m->tones, -0.02 + 0.42 * lit);
  fig_cloud (f, layer, c->x + 0.16 * r * side, c->y + 0.08 * r, r * 0.76, r * 0.62, leaf, lean,
             m->tones, 0.06 + 0.62 * lit + fig_sway (f, 0.04));
  if (lit > 0.5 && !is_mossy (f, m))
    fig_cloud (f, layer, c->x + (0.30 * side + fig_sway (f, 0.45)) * r,
               c->y + fig_range (f, 0.12, 0.46) * r, r * fig_range (f, 0.26, 0.40),
               r * fig_range (f, 0.17, 0.26), leaf, lean, m->tones,
               0.14 + 0.80 * lit + fig_sway (f, 0.06));
}

/* The dark inside of a cluster; a rim cluster is thinner, so that sky shows between its leaves. */
static void
cluster_core (Fig *f, const FigMass *m, const FigCluster *c, guint i)
{
  double k = 0.46 + 0.24 * m->core * m->core;

  if (m->core > 0 && fig_share (f, i + 77) < m->core * m->amount + 0.25)
    fig_blob (f, m->layer + 1 + (int) i, c->x, c->y - 0.08 * c->r, c->r * k, c->r * k * 0.92,
              m->tones, 0.08 + 0.34 * fig_lit (f, c->nx, c->ny, c->nz));
}

/* Only what faces the sky carries snow, the more the higher; a clipped face does not. */
static void
mass_snow (Fig *f, const FigMass *m, const FigCluster *clusters, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      const FigCluster *c = &clusters[i];
      double up = CLAMP ((c->ny - 0.05) * 1.6 + 0.5 * (c->t - 0.5), 0, 1), r = c->r;

      for (int k = 0; up > 0.1 && k < 3; k++)
        fig_snow (f, m->layer + 1 + (int) i, c->x + (0.55 * (k - 1) + fig_sway (f, 0.2)) * r,
                  c->y + r * (k == 1 ? 0.50 : 0.26) + fig_sway (f, 0.12) * r,
                  r * fig_range (f, 0.34, 0.52) * (0.55 + 0.45 * up),
                  r * fig_range (f, 0.16, 0.26) * (0.4 + 0.6 * up));
    }
}

void
fig_mass (Fig *f, const FigMass *m, const FigCluster *clusters, guint n)
{
  double leaf = MAX (1e-9, m->leaf * m->leaf * fig_leaf_ratio (m->shape) * 0.5), r2 = 0, cover;
  gboolean cloudy, woody = bl_plant_is_woody (f->plant), starry = woody && m->shape == BL_LEAF_LINEAR,
    thin = woody && m->amount < 0.62 && f->plant->leaves == BL_LEAVES_DECIDUOUS,
    fine = !woody && m->shape == BL_LEAF_PINNATE && f->plant->form != BL_FORM_MAT;
  guint leaves;

  if (n == 0)
    return;
  for (guint i = 0; i < n; i++)
    r2 += clusters[i].r * clusters[i].r;
  /* No more leaves than cover each cluster twice; too few to cover it grow from masses. */
  cover = G_PI * r2 / leaf / n;
  cloudy = !fine && m->n_leaves / (double) n < 1.25 * cover && m->leaf * f->detail < (woody ? 30 : 8);
  cloudy = cloudy || (!woody && m->shape == BL_LEAF_NEEDLE);
  leaves = (guint) CLAMP (cover * 2.1, 2, MAX (2, m->n_leaves / n));
  /* Over a cloud as many as break up its face, whatever they are to cover. */
  if (cloudy)
    leaves = (guint) MIN (MAX (6, cover * 1.6), CLAMP (G_PI * r2 / n * f->detail * f->detail / 85, 4, 24));
  if (cloudy && is_mossy (f, m))
    leaves = leaves * 6 / 5;
  /* A crown that comes into leaf or loses it is single leaves on its twigs. */
  if (thin)
    cloudy = FALSE, leaves = (guint) CLAMP (cover, 4, 30);
  if (m->core >= 0.8 && m->amount > 0.5 && !fine)
    body (f, m);
  for (guint i = 0; i < n; i++)
    {
      int layer = m->layer + 1 + (int) i;

      /* One hue a cluster: a painter mixes once for a mass. */
      f->hue = 1 + (int) bl_rng_int (&f->rng, FIG_HUES);
      if (starry && !thin)
        fig_cloud (f, layer, clusters[i].x, clusters[i].y - 0.1 * clusters[i].r,
                   clusters[i].r * (0.6 + 0.3 * m->amount), clusters[i].r * (0.5 + 0.3 * m->amount),
                   0.8 * m->leaf, 0.5, m->tones,
                   0.02 + 0.44 * fig_lit (f, clusters[i].nx, clusters[i].ny, clusters[i].nz));
      else if (cloudy && m->amount > 0.08)
        cluster_cloud (f, m, &clusters[i], layer);
      else if (!fine && !thin)
        cluster_core (f, m, &clusters[i], i);
      /* Behind fine leaves more of them, of one hue, so that neither hole nor patch shows. */
      else if (fine && m->amount > 0.3)
        {
          f->hue = 2;
          fig_cloud (f, layer, clusters[i].x, clusters[i].y, clusters[i].r * 0.74,
                     clusters[i].r * 0.66, 0.4 * m->leaf, 0.3, m->tones,
                     0.04 + 0.52 * fig_lit (f, clusters[i].nx, clusters[i].ny, clusters[i].nz));
        }
      /* Among the leaves drawn over it each has its own. */
      f->hue = cloudy || thin || fine ? 0 : f->hue;
      if (starry && !thin)
        cluster_stars (f, m, &clusters[i], layer,
                       (guint) (sqrt (m->amount) * CLAMP (1.5 * r2 / n / (m->leaf * m->leaf), 3, 9) + 0.5));
      else
        cluster_leaves (f, m, &clusters[i], layer, (guint) (leaves * m->amount + 0.5), cloudy);
    }
  f->hue = 0;
  if (f->snow > 0 && m->profile != FIG_BOX)
    mass_snow (f, m, clusters, n);
}

/* Small flowers that hide the leaves: patches of their colour, flowers at their edges. */
static void
bloom_clouds (Fig *f, const FigCluster *clusters, guint n, int layer, double size)
{
  double bloom = f->look->bloom;

  for (guint i = 0; i < n; i++)
    for (int k = 0; k < 3; k++)
      {
        const FigCluster *c = &clusters[i];
        double lit = fig_lit (f, c->nx, c->ny, c->nz), r = c->r * fig_range (f, 0.20, 0.36);

        if (fig_unit (f) > 0.25 + bloom)
          continue;
        fig_cloud (f, layer + (int) (4 * (0.5 + 0.5 * c->z)), c->x + fig_sway (f, 0.75) * c->r,
                   c->y + fig_sway (f, 0.7) * c->r, r, r * 0.74, size * 0.8, 0.4, f->petal,
                   0.16 + 0.60 * lit + 0.12 * (k == 2));
      }
}

/* How the heads of a mass are borne. */
typedef struct
{
  const FigMass *mass;
  double size, rise; /* metres */
  gboolean woody;
  gboolean ends;     /* at the ends of the branches: outwards and up, leaves below them */
  int layer;
} Bearing;

static void
mass_head (Fig *f, const Bearing *b, const FigCluster *c, guint i)
{
  double a = fig_range (f, 0, 2 * G_PI), q = sqrt (fig_unit (f)), dx = q * cos (a),
    dy = q * sin (a), x, y, up, stalk, hx, hy, lit, size = b->size, rise = b->rise,
    stem = CLAMP (0.06 * size, 0.001, 0.004);
  FigStage stage = fig_stage (f, i);
  int at = b->layer + (int) (4 * (0.5 + 0.5 * c->z));

  if (b->ends)
    dx = 0.75 * c->nx + 0.5 * dx, dy = 0.30 + 0.45 * c->ny + 0.35 * dy;
  x = c->x + dx * c->r, y = c->y + dy * c->r, up = G_PI / 2 - c->nx * 0.55 + fig_sway (f, 0.3);
  stalk = rise * fig_range (f, 0.55, 1);
  hx = x + stalk * cos (up) * 0.8, hy = y + stalk * sin (up);
  lit = fig_lit (f, c->nx + dx * 0.5, c->ny + dy * 0.5, c->nz);
  if ((b->ends && c->t < 0.30 && fabs (c->nx) < 0.5)
      || (c->t < 0.34 && !b->woody && f->plant->form != BL_FORM_MAT))
    return;
  if (stage == FIG_STAGE_NONE || (b->woody && stage == FIG_STAGE_SEED && f->plant->has_fruit))
    return;
  if (stage == FIG_STAGE_SEED && !fig_head_is_long (f) && fig_unit (f) < 0.5)
    return;
  if (fig_head_is_long (f) && hy + size > b->mass->y1 + rise * 1.1)
    {
      hy = b->mass->y1 + rise - size * fig_range (f, 0.95, b->ends ? 1.7 : 1.15);
      hy = MAX (y * 0.9, hy);
    }
  /* Stalks part as they rise out of the leaves. */
  if (!b->woody && rise > 0.25 * f->height)
    x *= 0.74;
  /* Where the leaves are gone the whole stalk shows. */
  if (!b->woody && f->leaf_amount < 0.4 && f->look->state == BL_STATE_STANDING)
    x = 0.45 * hx, y = 0, stalk = hy;
  if (stalk > 1.5 * f->px)
    fig_blade (f, at - 1, (double[8]) { x, MAX (0, y - 0.3 * stalk), x, (y + hy) / 2, hx, hy,
                                        MAX (stem, 1.3 * f->px), MAX (0.7 * stem, 1.1 * f->px) },
               stage == FIG_STAGE_SEED ? f->seed_tones : f->stalk, 0.28 + 0.26 * lit);
  fig_head (f, at, stage, hx, hy, up, size * fig_range (f, 0.8, 1.08), 0.30 + 0.42 * lit);
}

void
fig_mass_heads (Fig *f, const FigMass *m, const FigCluster *clusters, guint n_clusters, guint n,
                double rise,
                int layer)
{
  Bearing b = { m, fig_head_size (f), rise, FALSE, FALSE, layer };

  b.woody = f->plant->type == BL_TYPE_SHRUB || f->plant->type == BL_TYPE_TREE
            || f->plant->type == BL_TYPE_EVERGREEN_SHRUB || f->plant->type == BL_TYPE_CONIFER;
  if (n_clusters == 0 || !fig_has_heads (f))
    return;
  /* On a large plant each head stands for its neighbours too. */
  if (b.woody)
    b.size = MAX (b.size * 1.15, (f->head == FIG_HEAD_CATKIN ? 9.0 : 6.0) * f->px);
  else if (fig_head_is_long (f))
    b.size = MAX (b.size, 7.0 * f->px);
  b.ends = b.woody && fig_head_is_long (f) && f->head != FIG_HEAD_CATKIN;
  if (b.ends)
    n = (guint) MIN (n, 8 + 2.3 * m->half * (m->y1 - m->y0) / (b.size * b.size));
  if ((b.woody || f->plant->form == BL_FORM_MAT) && f->plant->flower_size >= 0.012
      && b.size * f->detail < 9 && f->look->bloom > 0.1 && !fig_head_is_long (f)
      && f->head != FIG_HEAD_RIBBONS)
    bloom_clouds (f, clusters, n_clusters, layer, b.size);
  for (guint i = 0; i < n; i++)
    mass_head (f, &b, &clusters[(guint) (fig_unit (f) * n_clusters)], i);
}

void
fig_mass_fruit (Fig *f, const FigMass *m, const FigCluster *clusters, guint n, int layer)
{
  guint most = (guint) MIN (220, 60 + f->height * f->detail * 0.4);
  guint each = n ? MAX (1, (guint) (most * f->look->fruit / n + 0.5)) : 0;

  if (!f->plant->has_fruit || f->look->fruit < 0.03)
    return;
  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < each; k++)
      {
        double a = fig_range (f, 0, 6.28), q = fig_unit (f) * clusters[i].r * 1.05;

        fig_fruit (f, layer, clusters[i].x + q * cos (a), clusters[i].y + q * sin (a),
                   0.25 + 0.5 * fig_lit (f, clusters[i].nx, clusters[i].ny, clusters[i].nz));
      }
}
