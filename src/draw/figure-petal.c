/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flower heads round a middle: daisies, globes, umbels, and single flowers with petals. */
#include "draw/figure-head.h"

/* The raised middle of a daisy, darker below, with a light of small points. */
static void
disc (Fig *f, const FigHead *h, double x, double y, double rx, double ry)
{
  fig_next (f);
  fig_oval (f, h->layer, x, y, 0, rx, ry, h->eye, h->value - 0.20);
  fig_next (f);
  fig_oval (f, h->layer, x + rx * 0.24 * f->lx, y + ry * 0.30, 0, rx * 0.58, ry * 0.48, h->eye,
            h->value + 0.20);
}

static void
daisy_seed (Fig *f, const FigHead *h, double r)
{
  fig_next (f);
  fig_oval (f, h->layer, h->x, h->y, 0, r, r * 0.95, h->main, h->value - 0.10);
  fig_next (f);
  fig_oval (f, h->layer, h->x + 0.3 * r * f->lx, h->y + 0.42 * r, 0, r * 0.5, r * 0.4, h->main,
            h->value + 0.26);
}

static void
daisy_bud (Fig *f, const FigHead *h, double r)
{
  fig_next (f);
  fig_oval (f, h->layer, h->x, h->y, 0, r, r, f->green, h->value);
  fig_next (f);
  fig_oval (f, h->layer, h->x, h->y + r * 0.45, 0, r * 0.62, r * 0.45, h->main, h->value);
}

/* Rays seen at a slant, petals first, the middle over them. */
static void
daisy (Fig *f, const FigHead *h)
{
  double r = h->size / 2, facing = fig_range (f, 0.42, 0.92), tilt = fig_sway (f, 0.5);
  guint n = h->px < 9 ? 8 : 11 + bl_rng_int (&f->rng, 4);
  double cone = r * 0.34;

  if (h->stage == FIG_STAGE_SEED)
    {
      daisy_seed (f, h, cone * 1.1);
      return;
    }
  if (h->stage == FIG_STAGE_BUD)
    {
      daisy_bud (f, h, cone);
      return;
    }
  fig_next (f);
  if (h->px < 5)
    {
      fig_oval (f, h->layer, h->x, h->y, tilt, r, r * facing, h->main, h->value + 0.05);
      fig_next (f);
      fig_oval (f, h->layer, h->x, h->y + r * 0.1, 0, cone, cone * facing, h->eye, h->value - 0.1);
      return;
    }
  for (int pass = 0; pass < 2; pass++)
    {
      double q[5] = { r * (pass ? 0.97 : 1.0), cone * 0.5, facing, tilt,
                      r * (n > 9 ? 0.36 : 0.46) };

      fig_rays (f, h->layer, pass ? (n + 1) / 2 : n, h->x, h->y - r * 0.06, fig_range (f, 0, 6), q,
                h->main, h->value + (pass ? 0.16 : -0.12));
      fig_next (f);
    }
  disc (f, h, h->x, h->y + cone * 0.16, cone, cone * MAX (0.68, facing));
}

/* Coneflowers: seen from the side, petals hanging from below a high cone. */
static void
cone (Fig *f, const FigHead *h)
{
  double r = h->size / 2, age = fig_unit (f), hang = 0.30 + 0.42 * age, rx = r * 0.38,
    ry = r * (0.30 + 0.14 * age), turn = fig_sway (f, 0.25);
  guint n = h->px < 12 ? 7 : 11;

  if (h->stage == FIG_STAGE_SEED)
    {
      daisy_seed (f, h, r * 0.36);
      return;
    }
  if (h->stage == FIG_STAGE_BUD)
    {
      daisy_bud (f, h, rx);
      return;
    }
  fig_next (f);
  if (h->px < 5)
    {
      fig_oval (f, h->layer, h->x, h->y - 0.12 * r, 0, r * 0.92, r * 0.5, h->main, h->value);
      fig_next (f);
      fig_oval (f, h->layer, h->x, h->y + 0.22 * r, 0, rx, ry, h->eye, h->value - 0.05);
      return;
    }
  /* The far petals first, a little higher and darker; the near ones hang towards the viewer. */
  for (guint i = 0; i < n; i++)
    {
      double w = turn + G_PI * (i + 0.5) / n, x = cos (w), y = 0.30 * sin (w) - hang * 0.6, l;

      if (i % 2)
        continue;
      l = r * hypot (x, y) * 0.94;
      fig_leaf (f, h->layer, BL_LEAF_STRAP, h->x + 0.3 * rx * x, h->y + 0.12 * r, atan2 (y, x), l,
                r * 0.32, 0, h->main, h->value - 0.12);
    }
  fig_next (f);
  for (guint i = 0; i < n; i++)
    {
      double w = turn + G_PI * (i + 0.5) / n, x = cos (w), y = -0.34 * sin (w) - hang,
        l = r * MIN (1, hypot (x, y));

      fig_next (f);
      fig_leaf (f, h->layer, BL_LEAF_STRAP, h->x + 0.55 * rx * x, h->y + 0.10 * r * (1 - sin (w)),
                atan2 (y, x), l, r * 0.34, 0.05 * (x > 0 ? -1 : 1), h->main,
                h->value + 0.06 + 0.16 * x * f->lx + (i % 2 ? 0.08 : -0.06));
    }
  disc (f, h, h->x, h->y + 0.16 * r + 0.3 * ry, rx, ry);
  fig_next (f);
  for (guint i = 0; h->px > 16 && i < 9; i++)
    {
      double w = i * 2.4, q = sqrt ((i + 0.5) / 9) * 0.9;

      fig_oval (f, h->layer, h->x + q * rx * cos (w), h->y + 0.16 * r + (0.42 + q * 0.8 * sin (w))
                * ry, 0, 0.09 * rx, 0.13 * rx, h->eye, h->value + (i % 2 ? 0.32 : -0.36));
    }
}

static void
globe (Fig *f, const FigHead *h)
{
  double r = h->size / 2 * (h->stage == FIG_STAGE_BUD ? 0.62 : 1), cy = h->y + r * 0.8;
  guint n = (guint) CLAMP (h->px * 0.8, 3, 26);
  FigTones t = h->stage == FIG_STAGE_BUD ? f->green : h->main;

  fig_next (f);
  if (h->px > 10 && f->plant->form == BL_FORM_BULB)
    fig_rays (f, h->layer, 16, h->x, cy, fig_range (f, 0, 1), (double[5]) { r, r * 0.5, 1, 0,
        r * 0.17 }, t, h->value - 0.12);
  fig_oval (f, h->layer, h->x, cy, 0, r * 0.86, r * 0.86, t, h->value - 0.26);
  fig_next (f);
  for (guint i = 0; i < n; i++)
    {
      double a = i * 2.399963, q = sqrt ((i + 0.5) / n), x = q * cos (a), y = q * sin (a);
      double l = fig_lit (f, x, y, sqrt (MAX (0, 1 - q * q))), d = MAX (r * 0.19, 0.9 * f->px);

      fig_oval (f, h->layer, h->x + x * r * 0.9, cy + y * r * 0.9, a, d, d * 0.75, t,
                h->value - 0.42 + 0.75 * l + fig_sway (f, 0.12));
    }
}

/* Trumpets that stand out from one point, a globe a little open below; the near ones last. */
static void
trumpets (Fig *f, const FigHead *h)
{
  double r = h->size / 2 * (h->stage == FIG_STAGE_BUD ? 0.72 : 1), cy = h->y + 0.50 * r;
  guint n = h->px < 9 ? 7 : h->px < 22 ? 17 : 24;
  gboolean seed = h->stage == FIG_STAGE_SEED;
  FigTones stem = seed ? h->main : f->stalk;

  fig_next (f);
  if (h->px > 8)
    for (int i = -3; i <= 3; i++)
      {
        double a = G_PI / 2 + i * 0.56;

        fig_blade (f, h->layer, (double[8]) { h->x, h->y, h->x + 0.3 * r * cos (a),
                                              h->y + 0.3 * r * sin (a) + 0.1 * r,
                   h->x + 0.72 * r * cos (a), cy + 0.72 * r * sin (a) - 0.3 * r, f->px,
                   0.8 * f->px }, stem, h->value - 0.08);
      }
  fig_next (f);
  if (h->stage == FIG_STAGE_OPEN)
    fig_oval (f, h->layer, h->x, cy + 0.14 * r, 0, 0.66 * r, 0.60 * r, h->main, h->value - 0.42);
  for (guint i = 0; i < n; i++)
    {
      /* Evenly over the sphere's near side and rim, from its rim inwards; few point down. */
      double z = (i + 0.5) / n, q = sqrt (1 - z * z), w = i * 2.399963 + f->seed % 7, x = q * cos (w),
        y = q * sin (w), l = r * (seed ? 0.28 : 0.52), cx, ey, a, v;

      if (y < -0.62)
        y *= -0.5;
      cx = h->x + x * r * 0.50, ey = cy + y * r * 0.50 + 0.12 * r;
      a = atan2 (y + 0.10, x), v = h->value - 0.44 + 0.80 * fig_lit (f, x, y, z) + (i % 2 ? 0.07 : -0.07);
      fig_next (f);
      if (h->stage != FIG_STAGE_OPEN)
        {
          fig_oval (f, h->layer, cx + 0.5 * l * cos (a), ey + 0.5 * l * sin (a), a, MAX (0.4 * l,
                    f->px), MAX (0.18 * l, 0.8 * f->px), i % 3 && !seed ? f->green : h->main, v);
          continue;
        }
      /* Foreshortened when it looks at the viewer: then its mouth is seen. */
      l *= 0.25 + 0.75 * q;
      fig_blade (f, h->layer, (double[8]) { cx, ey, cx + 0.5 * l * cos (a), ey + 0.5 * l * sin (a),
                                            cx + l * cos (a), ey + l * sin (a), 0.09 * r, 0.26 * r },
                 h->main, v - 0.10);
      if (h->px < 9)
        continue;
      fig_oval (f, h->layer, cx + l * cos (a), ey + l * sin (a), a + G_PI / 2, 0.15 * r,
                0.15 * r * (0.35 + 0.6 * z), h->main, v + 0.18);
      if (h->px > 26 && z > 0.4)
        fig_oval (f, h->layer, cx + l * cos (a), ey + l * sin (a), 0, 0.07 * r, 0.06 * r, h->main,
                  v - 0.22);
    }
}

/* Flowers on thin stalks that spring from one point and hang over: half a globe, open above. */
static void
nodding (Fig *f, const FigHead *h)
{
  double r = h->size / 2, top = h->y + 0.25 * r, d = MAX (0.20 * r, 1.05 * f->px)
    * (h->stage == FIG_STAGE_OPEN ? 1 : 0.75);
  guint n = h->px < 9 ? 9 : 19;

  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, w = 1.55 * u, l = r * fig_range (f, 0.62, 1.05),
        x = h->x + l * sin (w), y = top - l * cos (w) * 0.95;

      fig_next (f);
      if (h->px > 7)
        fig_blade (f, h->layer, (double[8]) { h->x, top, h->x + 0.75 * l * sin (w), top + 0.30 * r
                   * (1 - 0.4 * fabs (u)), x, y, 0.8 * f->px, 0.7 * f->px },
                   h->stage == FIG_STAGE_SEED ? h->main : f->stalk, h->value - 0.06);
      fig_oval (f, h->layer, x, y - 0.3 * d, w, 0.85 * d, 1.1 * d,
                h->stage == FIG_STAGE_BUD && i % 2 ? f->green : h->main,
                h->value + 0.24 * u * f->lx + fig_sway (f, 0.24));
    }
}

/* Spreading stalks and on them a low dome, seen a little from above. */
static void
flat (Fig *f, const FigHead *h)
{
  double rx = h->size / 2 * (h->stage == FIG_STAGE_BUD ? 0.75 : 1), ry = rx * 0.40,
    top = h->y + rx * 0.40;
  guint n = (guint) CLAMP (h->px * 0.95, 4, 34);
  double d = MAX (rx * 0.135, 0.95 * f->px);
  FigTones t = h->main;

  fig_next (f);
  if (h->px > 7)
    for (int i = -3; i <= 3; i++)
      fig_blade (f, h->layer, (double[8]) { h->x, h->y, h->x + i * rx * 0.12, h->y + rx * 0.16,
                 h->x + i * rx * 0.28, top - ry * (0.50 - 0.03 * i * i), MAX (rx * 0.05,
                 0.9 * f->px), MAX (rx * 0.035, 0.8 * f->px) },
                 h->stage == FIG_STAGE_SEED ? h->main : f->stalk, h->value - 0.14 - 0.02 * i
                 * f->lx);
  fig_next (f);
  fig_cloud (f, h->layer, h->x, top - ry * 0.12, rx * 0.92, ry * 0.66, MAX (0.30 * rx,
             1.5 * f->px), 0.3, t, h->value - 0.30);
  fig_next (f);
  for (guint i = 0; i < n; i++)
    {
      /* Back to front, so that the near florets lie over the far ones. */
      double s = (i + 0.5) / n, y = 0.92 - 1.84 * s, w = sqrt (MAX (0.05, 1 - y * y)),
        x = (2 * fig_share (f, i) - 1) * w, q = x * x + y * y, dome = MAX (0, 1 - q) * 0.85;

      fig_oval (f, h->layer, h->x + x * rx, top + (y * 0.66 + dome) * ry, x, d * fig_range (f, 0.85,
                1.2), d * 0.72, h->stage == FIG_STAGE_BUD && i % 3 ? f->green : t,
                h->value - 0.06 + 0.26 * dome + 0.16 * y * 0.5 + 0.16 * x * f->lx
                + fig_sway (f, 0.16));
    }
}

/* Petals round a throat, seen at a slant: trumpet, star, open cup. */
static void
petals (Fig *f, const FigHead *h, guint n, double width, BlLeafShape shape, double throat)
{
  double r = h->size / 2, facing = f->plant->form == BL_FORM_BULB ? fig_range (f, 0.8, 1.0)
    : fig_range (f, 0.5, 0.95), phase = fig_range (f, 0, 6.28);
  double cx = h->x, cy = h->y + r * (1 - facing) * 0.5;

  fig_next (f);
  if (h->px < 4.5)
    {
      fig_oval (f, h->layer, cx, cy, 0, r * 0.95, r * facing, h->main, h->value + 0.05);
      return;
    }
  for (guint i = 0; i < n; i++)
    {
      double a = phase + i * 2 * G_PI / n, x = cos (a), y = sin (a) * facing, l = r * hypot (x, y);
      double v = h->value + 0.12 * y + 0.14 * x * f->lx + (i % 2 ? 0.07 : -0.07);

      fig_leaf (f, h->layer, shape, cx, cy, atan2 (y, x), l, r * width * (0.65 + 0.35 * fabs (x)),
                0.05, h->main, v);
    }
  fig_next (f);
  if (throat > 0)
    fig_oval (f, h->layer, cx, cy, 0, r * throat, r * throat * facing, h->eye, h->value - 0.05);
}

/* Guard petals and within them a ball of ruffled ones, dark between and light at their rims. */
static void
doubled (Fig *f, const FigHead *h)
{
  double r = h->size / 2, cy = h->y + 0.30 * r;
  guint n = h->px < 10 ? 5 : 14;

  petals (f, h, 6, 0.98, BL_LEAF_ROUND, 0);
  if (h->px < 6)
    return;
  fig_next (f);
  fig_cloud (f, h->layer, h->x, cy, 0.62 * r, 0.54 * r, 0.30 * r, 0.3, h->main, h->value - 0.34);
  for (guint i = 0; i < n; i++)
    {
      double z = (i + 0.5) / n, q = 0.50 * sqrt (1 - z), w = i * 2.399963, x = q * cos (w),
        y = q * sin (w), a = atan2 (y + 0.35, x), l = r * (0.46 - 0.16 * z);

      fig_next (f);
      fig_leaf (f, h->layer, BL_LEAF_HEART, h->x + x * r, cy + 0.8 * y * r, a, l, 0.95 * l, 0,
                h->main, h->value - 0.16 + 0.40 * z + 0.14 * x * f->lx + fig_sway (f, 0.16));
    }
}

/* A funnel turned to one side and a little up, its rim of six tips. */
static void
lily (Fig *f, const FigHead *h)
{
  double r = h->size * 0.5, side = h->c >= 0 ? 1 : -1, a = G_PI / 2 - side * fig_range (f, 0.35,
      1.0), c = cos (a), s = sin (a), mx = h->x + 0.75 * r * c, my = h->y + 0.75 * r * s;

  fig_next (f);
  if (h->px < 6)
    {
      fig_oval (f, h->layer, mx, my, a, r * 0.75, r * 0.7, h->main, h->value + 0.04);
      return;
    }
  /* Petals of the far rim, the funnel, petals of the near rim that roll back. */
  for (int i = -1; i <= 1; i++)
    fig_leaf (f, h->layer, BL_LEAF_OVAL, mx - 0.2 * r * c, my - 0.2 * r * s, a + 0.62 * i, r * 0.95,
              r * 0.42, 0, h->main, h->value + 0.12);
  fig_next (f);
  fig_oval (f, h->layer, mx + 0.1 * r * c, my + 0.1 * r * s, a + G_PI / 2, r * 0.34, r * 0.16,
            h->eye, h->value - 0.14);
  fig_next (f);
  fig_blade (f, h->layer, (double[8]) { h->x - 0.1 * r * c, h->y - 0.1 * r * s, h->x + 0.3 * r * c,
                                        h->y + 0.3 * r * s, mx, my, 0.16 * r, 0.78 * r }, h->main,
             h->value - 0.14);
  fig_next (f);
  for (int i = -1; i <= 1; i += 2)
    fig_leaf (f, h->layer, BL_LEAF_OVAL, mx - 0.12 * r * s * -i, my + 0.12 * r * c * -i, a + 1.35
              * -i, r * 0.72, r * 0.38, 0.25 * i, h->main, h->value + 0.02 + 0.16 * i * -f->lx);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, mx - 0.3 * r * c, my - 0.3 * r * s, a + 0.1, r * 0.60,
            r * 0.40, 0, h->main, h->value - 0.02);
}

/* Three petals stand, three fall; the falls carry the mark. */
static void
iris (Fig *f, const FigHead *h)
{
  double l = h->size * 0.52, x = h->x, y = h->y + 0.18 * l;

  fig_next (f);
  if (h->px < 7)
    {
      fig_oval (f, h->layer, x, y + 0.4 * l, 0, 0.42 * l, 0.55 * l, h->main, h->value + 0.12);
      fig_oval (f, h->layer, x, y - 0.2 * l, 0, 0.75 * l, 0.40 * l, h->main, h->value - 0.12);
      return;
    }
  for (int i = -1; i <= 1; i++)
    fig_leaf (f, h->layer, BL_LEAF_OVAL, x, y, G_PI / 2 + 0.42 * i, l * (i ? 0.98 : 1.0), l * 0.62,
              -0.18 * i, h->main, h->value + (i ? 0.10 - 0.12 * i * f->lx : -0.10));
  for (int i = -1; i <= 1; i += 2)
    {
      fig_next (f);
      fig_leaf (f, h->layer, BL_LEAF_OVAL, x, y + 0.05 * l, G_PI / 2 - 1.75 * i, l * 1.0, l * 0.60,
                -0.30 * i, h->main, h->value - 0.06 + 0.12 * i * f->lx);
      if (h->px > 14)
        fig_leaf (f, h->layer, BL_LEAF_OVAL, x, y + 0.04 * l, G_PI / 2 - 1.75 * i, l * 0.5,
                  l * 0.18, -0.25 * i, h->eye, h->value + 0.1);
    }
  fig_next (f);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, x, y + 0.10 * l, -G_PI / 2 + 0.15, l * 0.85, l * 0.62, 0.05,
            h->main, h->value - 0.12);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, x, y + 0.12 * l, -G_PI / 2 + 0.15, l * 0.44, l * 0.20, 0.05,
            h->eye, h->value + 0.14);
}

/* Upright goblet: tulips and crocus. */
static void
goblet (Fig *f, const FigHead *h)
{
  double l = h->size, w = l * 0.52;

  fig_next (f);
  for (int i = -1; i <= 1; i += 2)
    fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x, h->y, h->angle + i * 0.26, l * 0.96, w * 0.9,
              i * 0.10, h->main, h->value - 0.12 + 0.16 * (-i * f->lx));
  fig_next (f);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x, h->y - l * 0.02, h->angle, l * 0.94, w * 1.05, 0.02,
            h->main, h->value + 0.08);
  fig_next (f);
  if (h->px > 12)
    fig_leaf (f, h->layer, BL_LEAF_LANCE, h->x + l * 0.07 * f->lx, h->y + l * 0.1, h->angle,
              l * 0.7, w * 0.4, 0, h->main, h->value + 0.24);
}

/* A bell that hangs, its mouth wider than its foot. */
static void
bell (Fig *f, const FigHead *h)
{
  double l = h->size, lean = 0.7 * cos (h->angle) + fig_sway (f, 0.3), sn = sin (lean),
    cs = cos (lean), ex = h->x + l * sn, ey = h->y - l * cs;

  fig_next (f);
  if (h->px < 4)
    {
      fig_oval (f, h->layer, h->x + 0.4 * l * sn, h->y - 0.4 * l * cs, 0, 0.36 * l, 0.5 * l,
                h->main, h->value);
      return;
    }
  /* A bulb's bell is petals to its foot: the far ones, those at the sides, the near one. */
  if (f->plant->form == BL_FORM_BULB && h->px > 10)
    {
      for (int k = 0; k < 5; k++)
        {
          static const double turn[] = { -0.22, 0.22, -0.44, 0.44, 0 },
            value[] = { -0.26, -0.26, -0.02, -0.02, 0.10 };

          fig_next (f);
          fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x, h->y, -G_PI / 2 + lean + turn[k],
                    l * (k == 4 ? 0.96 : 1), 0.44 * l, 0.5 * turn[k], h->main,
                    h->value + value[k] + 0.3 * turn[k] * f->lx);
        }
      fig_next (f);
      fig_oval (f, h->layer, h->x, h->y - 0.03 * l, lean, 0.10 * l, 0.10 * l, f->stalk, h->value);
      return;
    }
  fig_oval (f, h->layer, h->x + 0.36 * l * sn, h->y - 0.36 * l * cs, lean, 0.34 * l, 0.40 * l,
            h->main, h->value - 0.04);
  fig_blade (f, h->layer, (double[8]) { h->x + 0.2 * l * sn, h->y - 0.2 * l * cs,
                                        h->x + 0.6 * l * sn, h->y - 0.6 * l * cs, ex, ey, 0.60 * l,
                                        0.92 * l }, h->main, h->value - 0.04);
  fig_next (f);
  if (h->px > 7)
    {
      fig_blade (f, h->layer, (double[8]) { h->x + 0.12 * l * f->lx, h->y - 0.1 * l,
                                            h->x + 0.5 * l * sn + 0.16 * l * f->lx,
                                            h->y - 0.5 * l * cs, ex + 0.24 * l * f->lx, ey,
                                            0.16 * l, 0.32 * l }, h->main, h->value + 0.18);
      fig_oval (f, h->layer, ex, ey, lean, 0.46 * l, 0.10 * l, h->main, h->value - 0.26);
    }
}

/* Witch hazel: crumpled ribbons. */
static void
ribbons (Fig *f, const FigHead *h)
{
  fig_next (f);
  for (int i = 0; i < 4; i++)
    fig_tuft (f, h->layer, 2, h->x, h->y, i * G_PI / 2 + fig_sway (f, 0.9), 0.62 * h->size, 0.5,
              MAX (0.06 * h->size, 0.9 * f->px), h->main, h->value + fig_sway (f, 0.25));
  fig_oval (f, h->layer, h->x, h->y, 0, 0.10 * h->size, 0.10 * h->size, h->eye, h->value - 0.1);
}

/* Six petals behind a long crown. */
static void
daffodil (Fig *f, const FigHead *h)
{
  double r = h->size * 0.5, side = fig_unit (f) < 0.5 ? -1 : 1;

  petals (f, h, 6, 0.72, BL_LEAF_OVAL, 0);
  if (h->px < 6)
    return;
  fig_next (f);
  fig_blade (f, h->layer, (double[8]) { h->x, h->y + r * 0.1, h->x + side * r * 0.24,
                                        h->y + r * 0.1, h->x + side * r * 0.52, h->y + r * 0.04,
                                        r * 0.36, r * 0.66 }, h->eye, h->value - 0.05);
  fig_next (f);
  fig_oval (f, h->layer, h->x + side * r * 0.52, h->y + r * 0.04, 0, r * 0.17, r * 0.34, h->eye,
            h->value - 0.24);
}

/* Tubes that point away from their twig, flared at the mouth: honeysuckle, trumpet vine. */
static void
trumpet (Fig *f, const FigHead *h)
{
  double r = h->size * 0.5;

  if (h->px > 6)
    fig_blade (f, h->layer, (double[8]) { h->x - 0.6 * r * h->c, h->y - 0.6 * r * h->s, h->x, h->y,
               h->x, h->y + r * 0.1, r * 0.16, r * 0.6 }, h->main, h->value - 0.28);
  petals (f, h, f->plant->form == BL_FORM_CLIMBER ? 5 : 6, 0.62, BL_LEAF_OVAL, 0.17);
}

void
fig_head_petal (Fig *f, const FigHead *h, FigHeadKind kind)
{
  switch ((int) kind)
    {
    case FIG_HEAD_DAISY: daisy (f, h); break;
    case FIG_HEAD_CONE: cone (f, h); break;
    case FIG_HEAD_GLOBE: globe (f, h); break;
    case FIG_HEAD_TRUMPETS: trumpets (f, h); break;
    case FIG_HEAD_NODDING: nodding (f, h); break;
    case FIG_HEAD_FLAT: flat (f, h); break;
    case FIG_HEAD_TRUMPET: trumpet (f, h); break;
    case FIG_HEAD_DAFFODIL: daffodil (f, h); break;
    case FIG_HEAD_LILY: lily (f, h); break;
    case FIG_HEAD_IRIS: iris (f, h); break;
    case FIG_HEAD_CUP: petals (f, h, 5, 0.98, BL_LEAF_ROUND, 0.2); break;
    case FIG_HEAD_DOUBLE: doubled (f, h); break;
    case FIG_HEAD_GOBLET: goblet (f, h); break;
    case FIG_HEAD_BELL: bell (f, h); break;
    case FIG_HEAD_STAR: petals (f, h, 5, 0.60, BL_LEAF_OVAL, 0.16); break;
    case FIG_HEAD_RIBBONS: ribbons (f, h); break;
    default: break;
    }
}
