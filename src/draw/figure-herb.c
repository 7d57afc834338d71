/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Upright herbaceous clumps: leafy stems with heads at their ends. */
#include "draw/figure-private.h"

#include <stdlib.h>

typedef struct
{
  double crown;    /* share of the half spread where stems leave the ground */
  double arch;     /* how the stems lean */
  double dome;     /* how much shorter the outer stems are */
  double from, to; /* leafy share of the stems, of the foliage height */
  double many;     /* stems, relative */
  double branch;   /* share of stems with side heads */
  gboolean paired;
  double base;     /* height of a leafy mound at the foot, share of foliage */
  double taper;    /* 0..1: how much smaller the upper leaves are, and how unevenly they end */
} Habit;

typedef struct
{
  double u, z, top;
  guint index;
} Place;

static int
by_z (const void *a, const void *b)
{
  const Place *p = a, *q = b;

  return p->z < q->z ? -1 : p->z > q->z;
}

static gboolean
is_dry (const Fig *f)
{
  return f->look->state == BL_STATE_STANDING || f->look->state == BL_STATE_DORMANT;
}

static guint
stem_count (const Fig *f, double many)
{
  double n = (3 + 25 * f->half * 2) * (0.35 + 0.65 * f->full) * many;
  double px = f->half * 2 * f->detail;

  return (guint) CLAMP (n, 2, CLAMP (px / 3.2, 3, 34));
}

static void
side_heads (Fig *f, int layer, const FigStem *stem, guint index, double size, double value)
{
  double step = f->height * (size < 0.045 ? 0.32 : 0.115) / MAX (size, 1e-3);
  guint n = (guint) CLAMP (step * (0.5 + fig_unit (f)), 0, 9);

  for (guint i = 0; i < n; i++)
    {
      double t = 0.97 - 0.30 * (i + fig_unit (f)) / MAX (1, n);
      FigTip p = fig_stem_at (stem, t);
      double side = i % 2 ? 1 : -1, l = f->height * fig_range (f, 0.06, 0.16),
        a = p.angle + side * fig_range (f, 0.35, 0.8);
      double x = p.x + l * cos (a), y = MIN (p.y + l * sin (a), stem->y1 * 1.01);
      FigStage stage = fig_stage (f, index * 7 + i + 3);

      if (stage == FIG_STAGE_NONE)
        continue;
      fig_blade (f, layer, (double[8]) { p.x, p.y, p.x + 0.6 * l * cos (a), p.y + 0.4 * l * sin (a),
                                         x, y,
                 MAX (stem->width * 0.6, 1.1 * f->px), MAX (stem->width * 0.45, f->px) },
                 stage == FIG_STAGE_SEED ? f->seed_tones : f->stalk, value - 0.1);
      fig_head (f, layer + 1, stage, x, y, a * 0.5 + G_PI / 4, size * fig_range (f, 0.75, 1),
                value);
    }
}

/* Single flowers up the end of a stem, the lowest first; the tip is in bud. */
static void
spire (Fig *f, int layer, const FigStem *stem, guint index, double size, double value)
{
  guint n = (guint) CLAMP (0.42 * f->height / (0.5 * size), 5, 16);

  for (guint i = 0; i < n; i++)
    {
      double t = 1 - 0.42 * (n - 1 - i + 0.4) / n, side = i % 2 ? 1 : -1;
      FigTip p = fig_stem_at (stem, t);
      FigStage stage = fig_stage (f, index * 13 + i);

      if (stage == FIG_STAGE_OPEN && i + 2 >= n)
        stage = FIG_STAGE_BUD;
      if (stage != FIG_STAGE_NONE)
        fig_head (f, layer, stage, p.x + side * 0.22 * size, p.y, p.angle - side * 1.1,
                  size * (1 - 0.45 * i / n) * fig_range (f, 0.9, 1.1),
                  value + 0.08 * side * f->lx);
    }
}

/* One of many small heads stands for those that nobody could count. */
static double
crowd_size (const Fig *f)
{
  double size = fig_head_size (f);

  return fig_head_is_long (f) ? size : size * CLAMP (0.034 * f->height / size, 1, 1.6);
}

/* What is left of the branches that bore the flowers. */
static void
dry_twigs (Fig *f, int layer, const FigStem *s)
{
  for (int k = 0; k < 5; k++)
    {
      FigTip at = fig_stem_at (s, 0.62 + 0.085 * (k + fig_unit (f)));
      double side = k % 2 ? 1 : -1, a = at.angle + side * fig_range (f, 0.25, 0.6),
        l = f->height * fig_range (f, 0.05, 0.12) * (1 - 0.1 * k);

      fig_blade (f, layer, (double[8]) { at.x, at.y, at.x + 0.55 * l * cos (a), at.y + 0.5 * l * sin (a),
                                         at.x + 0.9 * l * cos (a), MIN (at.y + l * sin (a) + 0.1 * l, f->height),
                                         MAX (0.5 * s->width, 0.9 * f->px), 0.5 * f->px }, f->wood,
                 s->value);
    }
}

static void
one_stem (Fig *f, const Habit *h, const Place *p, guint rank, guint n, double leaf_step)
{
  double depth = (rank + 0.5) / n, size = crowd_size (f),
    reach = f->half * (0.98 - size / (4 * f->half + size));
  FigStage stage = fig_stage (f, p->index);
  double head = stage == FIG_STAGE_NONE ? 0 : fig_head_is_long (f) ? size * 0.95 : size * 0.35;
  double top = p->top * (stage == FIG_STAGE_NONE && fig_has_heads (f) ? f->foliage : f->height);
  FigStem s = { .x0 = p->u * f->half * h->crown + fig_sway (f, 0.05 * f->half), .x1 = p->u * reach,
                .y1 = MAX (top - head, top * 0.3), .arch = h->arch + fig_sway (f, 0.25) };
  int layer = 40 + (int) rank * 3;
  double value = 0.28 + 0.34 * depth + 0.16 * p->u * f->lx + fig_sway (f, 0.05);
  double leafy = f->foliage * h->to / MAX (1e-6, s.y1),
    taper = h->taper * (stage == FIG_STAGE_NONE ? 0.4 : 1);
  FigTip tip;

  leafy *= 1 + taper * (fig_range (f, -0.14, 0.26) - 0.14 * p->u * p->u);
  leafy = MIN (leafy, 1);
  s.width = MAX ((0.0035 + 0.0045 * f->height) * (is_dry (f) ? 0.55 : 1), 0.9 * f->px);
  if (is_dry (f) && stage == FIG_STAGE_NONE && p->index != n / 2)
    s.y1 *= fig_range (f, 0.62, 1), s.arch += fig_sway (f, 0.5), s.x1 += fig_sway (f, 0.10) * f->half;
  s.value = value, s.from = h->from, s.to = leafy, s.leaf = f->leaf_len, s.paired = h->paired;
  s.step = leaf_step, s.droop = is_dry (f), s.taper = taper;
  if (s.droop)
    s.leaf = MAX (0.66 * s.leaf, 3 * f->px);
  tip = fig_stem (f, layer, &s);
  if (s.droop && stage == FIG_STAGE_NONE)
    dry_twigs (f, layer, &s);
  if (stage == FIG_STAGE_NONE)
    {
      if (f->leaf_amount > 0.2 && !s.droop)
        for (int k = -1; k <= 1; k++)
          fig_leaf (f, layer + 1, f->plant->leaf, tip.x, tip.y, tip.angle + k * 0.55,
                    f->leaf_len * 0.62,
                    f->leaf_len * 0.6 * fig_leaf_ratio (f->plant->leaf) * 0.8, k * -0.1, f->leaf,
                      value + 0.14);
      return;
    }
  if (f->plant->form == BL_FORM_SPIRE_CLUMP && !fig_head_is_long (f)
      && f->plant->flower != BL_FLOWER_DAISY && f->plant->flower != BL_FLOWER_GLOBE
      && f->plant->flower != BL_FLOWER_UMBEL)
    {
      spire (f, layer + 2, &s, p->index, size, value + 0.10);
      return;
    }
  fig_head (f, layer + 2, stage, tip.x, tip.y, tip.angle, size * fig_range (f, 0.86, 1.06),
            value + 0.10);
  if (h->branch > 0 && fig_unit (f) < h->branch + 0.4 * (size < 0.045))
    side_heads (f, layer + 1, &s, p->index, size, value + 0.04);
}

static void
base_mass (Fig *f, double height, double width)
{
  FigCluster c[FIG_MAX_CLUSTERS];
  double ratio = fig_leaf_ratio (f->plant->leaf),
    coarse = sqrt (2 * width * height * 2.4 / (f->budget * 0.6 * 0.5 * ratio));
  FigMass m = { .profile = FIG_DOME, .y0 = 0, .y1 = height, .half = width, .layer = 2,
                .n_clusters = 22,
                .n_leaves = f->budget * 3 / 5, .shape = f->plant->leaf,
                .leaf = MAX (MIN (f->leaf_len, height * 0.7), MIN (coarse, height * 0.16)),
                .droop = 0.2, .amount = f->leaf_amount, .core = ratio < 0.2 ? 0 : 0.62,
                  .tones = f->leaf };

  if (f->leaf_amount < 0.08)
    return;
  fig_mass (f, &m, c, fig_clusters (f, &m, c));
}

/* Low leaves in front, so that nobody sees stems cut off at the ground. */
static void
skirt (Fig *f, int layer)
{
  double leaf = MIN (f->leaf_len, 0.24 * f->foliage), ratio = fig_leaf_ratio (f->plant->leaf);
  guint n = (guint) CLAMP (3.4 * f->half / (leaf * (0.3 + ratio)), 7, 44);

  fig_part (f, 12);
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, a = G_PI / 2 - 1.25 * u + fig_sway (f, 1.3),
        l = leaf * fig_range (f, 0.75, 1.1);

      fig_leaf (f, layer, f->plant->leaf, 0.62 * u * f->half,
                0.7 * f->ground + fig_range (f, 0, 0.10) * f->foliage, a, l,
                l * ratio * fig_range (f, 0.7, 1), fig_sway (f, 0.3), f->leaf,
                0.36 + 0.16 * u * f->lx + fig_sway (f, 0.16));
    }
}

static void
clump (Fig *f, const Habit *h)
{
  guint n = stem_count (f, h->many);
  Place place[40] = { 0 };
  double per_stem, span = f->foliage * (h->to - h->from);

  if (is_dry (f))
    f->leaf_amount = CLAMP (f->leaf_amount, 0.16, 0.24);
  if (h->base > 0 && !is_dry (f))
    base_mass (f, f->foliage * h->base, f->half * (f->height > f->foliage * 1.15 ? 0.74 : 0.70));
  fig_part (f, 11);
  for (guint i = 0; i < n; i++)
    {
      double u = n > 1 ? 2 * (i + 0.5) / n - 1 + fig_sway (f, 0.7 / n) : fig_sway (f, 0.2);

      place[i] = (Place) { CLAMP (u * 1.04, -1, 1), fig_range (f, -1, 1), 0, i };
      place[i].top = 1 - h->dome * u * u - fig_range (f, 0, 0.14);
    }
  if (n > 2)
    place[n / 2].top = 1;
  qsort (place, n, sizeof *place, by_z);
  /* Large leaves: no more of them than cover the clump some times over. */
  per_stem = f->leaf_len * f->leaf_len * fig_leaf_ratio (f->plant->leaf) * 0.5;
  per_stem = MAX (2, MIN (f->budget * 0.8, 5 * f->half * 2 * f->foliage / per_stem) / n);
  fig_snow_among (f, 39, 4, f->half * 0.45, f->foliage * 0.10);
  for (guint i = 0; i < n; i++)
    {
      fig_part (f, 1000 + place[i].index);
      f->hue = 1 + (int) (place[i].index % FIG_HUES);
      one_stem (f, h, &place[i], i, n, MAX (f->leaf_len * (f->plant->leaf == BL_LEAF_LINEAR ? 0.2 : 0.34),
                                            span / per_stem * (h->paired ? 2 : 1)));
    }
  f->hue = 0;
  if (is_dry (f))
    fig_litter (f, 40 + (int) n * 3, h->crown * f->half, 0.5 * f->leaf_len, 0.28);
  if (!is_dry (f) && f->leaf_amount > 0.3)
    skirt (f, 40 + (int) n * 3);
}

void
fig_form_upright_clump (Fig *f)
{
  if (fig_is_wand (f))
    {
      fig_wands (f);
      return;
    }
  clump (f, &(Habit) { .crown = 0.42, .arch = 0.05, .dome = 0.20, .from = 0.06, .to = 1.0,
                       .many = 1.15, .branch = 0.35,
                       .paired = TRUE, .base = 0.45 });
}

void
fig_form_spire_clump (Fig *f)
{
  clump (f, &(Habit) { .crown = 0.40, .arch = -0.1, .dome = 0.16, .from = 0.05, .to = 1.0,
                       .many = 1.15, .branch = 0.0,
                       .paired = TRUE, .base = f->height > f->foliage * 1.12 ? 0.92 : 0.5,
                       .taper = 0.4 });
}

void
fig_form_daisy_clump (Fig *f)
{
  clump (f, &(Habit) { .crown = 0.38, .arch = 0.12, .dome = 0.24, .from = 0.05, .to = 0.92,
                       .many = 1.0, .branch = 0.75,
                       .base = 0.62, .taper = 1 });
}

void
fig_form_umbel_clump (Fig *f)
{
  clump (f, &(Habit) { .crown = 0.40, .arch = 0.04, .dome = 0.17, .from = 0.05, .to = 0.95,
                       .many = 0.95, .branch = 0.30,
                       .base = 0.60, .taper = 0.5 });
}
