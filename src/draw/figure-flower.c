/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flower heads: bud, open and in seed, by the record's shape. */
#include "draw/figure-private.h"

FigStage
fig_stage (const Fig *f, guint i)
{
  const BlLook *k = f->look;
  double u = fig_share (f, i);

  if (f->plant->flower == BL_FLOWER_NONE)
    return FIG_STAGE_NONE;
  if (u < k->bloom)
    return FIG_STAGE_OPEN;
  if (u < k->bloom + k->bud)
    return FIG_STAGE_BUD;
  if (u < k->bloom + k->bud + k->seed)
    return FIG_STAGE_SEED;
  return FIG_STAGE_NONE;
}

gboolean
fig_has_heads (const Fig *f)
{
  const BlLook *k = f->look;

  return f->plant->flower != BL_FLOWER_NONE && k->bloom + k->bud + k->seed > 0.02;
}

gboolean
fig_head_is_long (const Fig *f)
{
  BlFlowerShape s = f->plant->flower;

  return s == BL_FLOWER_SPIKE || s == BL_FLOWER_PLUME || s == BL_FLOWER_PANICLE ||
      s == BL_FLOWER_CATKIN;
}

double
fig_head_size (const Fig *f)
{
  double s = f->plant->flower_size > 0 ? f->plant->flower_size : 0.03;

  return CLAMP (s, 2.4 * f->px, MAX (0.5 * f->height, 3 * f->px));
}

/* What is common to the parts of one head. */
typedef struct
{
  int layer;
  FigStage stage;
  double x, y, angle, size, value;
  FigTones main, eye;
  double px; /* size in device pixels */
} Head;

static void
daisy (Fig *f, const Head *h)
{
  double r = h->size / 2, facing = fig_range (f, 0.42, 0.92), tilt = fig_sway (f, 0.5);
  guint n = h->px < 9 ? 8 : 11 + bl_rng_int (&f->rng, 4);
  double cone = r * 0.34;

  fig_next (f);
  if (h->stage == FIG_STAGE_SEED)
    {
      fig_oval (f, h->layer, h->x, h->y, 0, cone * 1.1, cone * 1.1, h->main, h->value - 0.05);
      fig_next (f);
      fig_oval (f, h->layer, h->x + 0.3 * cone * f->lx, h->y + 0.45 * cone, 0, cone * 0.5,
                cone * 0.4,
                h->main, h->value + 0.3);
      return;
    }
  if (h->stage == FIG_STAGE_BUD)
    {
      fig_oval (f, h->layer, h->x, h->y, 0, cone, cone, f->green, h->value);
      fig_next (f);
      fig_oval (f, h->layer, h->x, h->y + cone * 0.4, 0, cone * 0.6, cone * 0.45, h->main,
                h->value);
      return;
    }
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
                h->main,
                h->value + (pass ? 0.16 : -0.12));
      fig_next (f);
    }
  fig_oval (f, h->layer, h->x, h->y + cone * 0.16, tilt, cone, cone * MAX (0.68, facing), h->eye,
            h->value - 0.20);
  fig_next (f);
  fig_oval (f, h->layer, h->x + cone * 0.28 * f->lx, h->y + cone * 0.42, tilt, cone * 0.55,
            cone * 0.38,
            h->eye, h->value + 0.22);
}

/* Florets round an axis: spikes, panicles and bottle-brush catkins differ in profile. */
static void
axis_head (Fig *f, const Head *h, double fat, double gap, gboolean loose)
{
  double c = cos (h->angle), s = sin (h->angle), floret = MAX (h->size * fat * 0.34, 1.25 * f->px);
  guint rows = (guint) CLAMP (h->size / (floret * gap), 3, loose ? 7 : 9);
  guint across = h->px * fat < 7 ? 2 : loose ? 4 : 3;

  fig_next (f);
  if (h->px > 8)
    fig_blade (f, h->layer, (double[8]) { h->x, h->y, h->x + c * h->size * 0.5,
                                          h->y + s * h->size * 0.5,
               h->x + c * h->size * 0.96, h->y + s * h->size * 0.96, h->size * fat * 0.14, 0 },
               h->stage == FIG_STAGE_SEED ? h->main : f->green, h->value - 0.15);
  fig_next (f);
  for (guint i = 0; i < rows; i++)
    for (guint k = 0; k < across; k++)
      {
        double t = (i + 0.25 + fig_range (f, 0, 0.5)) / rows, u = (k + 0.5) / across * 2 - 1;
        double w = h->size * fat * (loose ? (1 - 0.82 * t) : 0.62 * sqrt (MAX (0.04,
            1 - t * t * 0.96)));
        double side = (u + fig_sway (f, 0.3)) * w,
          along = t * h->size + (loose ? fabs (u) * w * 0.35 : 0);
        double x = h->x + c * along - s * side, y = h->y + s * along + c * side;
        double v = h->value + 0.20 * (u * -s * f->lx > 0 ? 1 : -1) * fabs (u) + fig_sway (f, 0.14);
        gboolean closed = h->stage == FIG_STAGE_BUD || (h->stage == FIG_STAGE_OPEN && t > 0.86);
        double r = floret * (0.80 + 0.25 * fig_unit (f)) * (1 - 0.40 * t) * (closed ? 0.7 : 1);

        if (h->stage == FIG_STAGE_SEED && fig_unit (f) < 0.25)
          continue;
        fig_oval (f, h->layer, x, y, h->angle + u, r, r * 0.72,
                  h->stage == FIG_STAGE_BUD && t > 0.4 ? f->green : h->main,
                    v - (closed ? 0.08 : 0));
      }
}

/* The open panicle of a grass: hair-fine branches with a spikelet at the end of each. */
static void
airy (Fig *f, const Head *h)
{
  double c = cos (h->angle), s = sin (h->angle), bow = fig_sway (f, 0.10);
  guint rows = (guint) CLAMP (h->px / 4.2, 4, 13);

  fig_next (f);
  for (guint i = 0; i < rows; i++)
    for (int side = -1; side <= 1; side += 2)
      {
        double t = (i + fig_range (f, 0.1, 0.9)) / rows, along = t * h->size * 0.86;
        double x = h->x + c * along + s * bow * h->size * t * t,
          y = h->y + s * along - c * bow * h->size * t * t;
        double l = h->size * (0.40 - 0.26 * t) * fig_range (f, 0.6, 1.1),
          a = h->angle + side * fig_range (f, 0.30, 0.85);
        double ex = x + l * cos (a), ey = y + l * sin (a), v = h->value + fig_sway (f, 0.3);

        fig_blade (f, h->layer, (double[8]) { x, y, (x + ex) / 2, (y + ey) / 2, ex, ey, 0.7 * f->px,
                                              0.5 * f->px }, h->main, v - 0.1);
        fig_oval (f, h->layer, ex, ey, a, MAX (0.0032, 1.15 * f->px), MAX (0.0018, 0.7 * f->px),
                  h->main, v + 0.12);
      }
}

/* Feathery: fine strokes leaving the axis, longest low down. */
static void
plume (Fig *f, const Head *h, double fat)
{
  double c = cos (h->angle), s = sin (h->angle), bow = fig_sway (f, 0.12) + 0.06 * (c > 0 ? 1 : -1);
  guint rows = (guint) CLAMP (h->px / 3.6, 3, 11);

  fig_next (f);
  for (guint i = 0; i < rows; i++)
    for (int side = -1; side <= 1; side++)
      {
        double t = (i + 0.5) / rows, along = t * h->size * 0.88;
        double x = h->x + c * along + s * bow * h->size * t * t,
          y = h->y + s * along - c * bow * h->size * t * t;
        double l = h->size * fat * (1.15 - 0.85 * t) * fig_range (f, 0.8, 1.2),
          a = h->angle + side * (0.62 - 0.3 * t);
        double v = h->value + 0.16 * (side * -s * f->lx > 0 ? 1 : -1) * abs (side) + fig_sway (f,
            0.18);

        if (h->stage == FIG_STAGE_BUD)
          l *= 0.6;
        fig_tuft (f, h->layer, 3, x, y, a, l, 0.55, MAX (h->size * 0.020, 0.8 * f->px), h->main, v);
      }
}

static void
globe (Fig *f, const Head *h)
{
  double r = h->size / 2 * (h->stage == FIG_STAGE_BUD ? 0.62 : 1), cy = h->y + r * 0.8;
  guint n = (guint) CLAMP (h->px * 0.8, 3, 22);
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

/* Flat or domed heads: rays from one point, florets in a shallow dome. */
static void
umbel (Fig *f, const Head *h)
{
  double rx = h->size / 2 * (h->stage == FIG_STAGE_BUD ? 0.75 : 1), ry = rx * 0.34,
    top = h->y + rx * 0.42;
  guint n = (guint) CLAMP (h->px * 0.95, 4, 30);
  double d = MAX (rx * 0.155, 0.95 * f->px);
  FigTones t = h->main;

  fig_next (f);
  if (h->px > 7)
    for (int i = -2; i <= 2; i++)
      fig_blade (f, h->layer, (double[8]) { h->x, h->y, h->x + i * rx * 0.2, h->y + rx * 0.18,
                 h->x + i * rx * 0.40, top - ry * 0.2, rx * 0.06, rx * 0.04 },
                 h->stage == FIG_STAGE_SEED ? h->main : f->green, 0.32);
  fig_next (f);
  fig_oval (f, h->layer, h->x, top - ry * 0.18, 0, rx * 0.92, ry * 0.78, t, h->value - 0.28);
  fig_next (f);
  for (guint i = 0; i < n; i++)
    {
      double a = i * 2.399963, q = sqrt ((i + 0.5) / n) * 0.96, x = q * cos (a), y = q * sin (a);
      double dome = (1 - q * q) * 0.5;

      fig_oval (f, h->layer, h->x + x * rx, top + (y * 0.75 + dome) * ry, a, d, d * 0.7,
                h->stage == FIG_STAGE_BUD && i % 3 ? f->green : t,
                h->value - 0.10 + 0.24 * y + 0.12 * x * f->lx + fig_sway (f, 0.16));
    }
}

/* Petals round a throat, seen at a slant: trumpet, star, open cup. */
static void
petals (Fig *f, const Head *h, guint n, double width, BlLeafShape shape, double throat)
{
  double r = h->size / 2, facing = f->plant->form == BL_FORM_BULB ? fig_range (f, 0.8,
      1.0) : fig_range (f, 0.5, 0.95), phase = fig_range (f, 0, 6.28);
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

/* Upright goblet: tulips and crocus. */
static void
goblet (Fig *f, const Head *h)
{
  double l = h->size, w = l * 0.52;

  fig_next (f);
  for (int i = -1; i <= 1; i += 2)
    fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x, h->y, h->angle + i * 0.26, l * 0.96, w * 0.9,
              i * 0.10, h->main,
              h->value - 0.12 + 0.16 * (-i * f->lx));
  fig_next (f);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x, h->y - l * 0.02, h->angle, l * 0.94, w * 1.05, 0.02,
            h->main, h->value + 0.08);
  fig_next (f);
  if (h->px > 12)
    fig_leaf (f, h->layer, BL_LEAF_LANCE, h->x + l * 0.07 * f->lx, h->y + l * 0.1, h->angle,
              l * 0.7, w * 0.4, 0,
              h->main, h->value + 0.24);
}

static void
bell (Fig *f, const Head *h)
{
  double l = h->size, sag = -G_PI / 2 + 0.5 * cos (h->angle);

  fig_next (f);
  fig_leaf (f, h->layer, BL_LEAF_HEART, h->x, h->y, sag, l, l * 0.85, 0.02, h->main, h->value);
  if (h->px > 7)
    {
      fig_next (f);
      fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x + 0.14 * l * f->lx, h->y - l * 0.12, sag, l * 0.7,
                l * 0.34, 0,
                h->main, h->value + 0.2);
    }
}

static void
capsule (Fig *f, const Head *h)
{
  double r = MAX (h->size * 0.16, 0.9 * f->px);

  fig_next (f);
  fig_oval (f, h->layer, h->x + r * cos (h->angle), h->y + r * sin (h->angle), h->angle, r * 1.25,
            r * 0.75,
            h->main, h->value);
}

static void
closed_bud (Fig *f, const Head *h)
{
  double l = MAX (h->size * 0.42, 2 * f->px);

  fig_next (f);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x, h->y, h->angle, l, l * 0.5, 0, f->green, h->value);
  fig_next (f);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x + l * 0.3 * cos (h->angle),
            h->y + l * 0.3 * sin (h->angle), h->angle,
            l * 0.68, l * 0.4, 0, h->main, h->value + 0.05);
}

static void
cup (Fig *f, const Head *h)
{
  if (f->plant->form == BL_FORM_BULB)
    goblet (f, h);
  else
    petals (f, h, 5, 0.98, BL_LEAF_ROUND, 0.2);
}

static void
trumpet (Fig *f, const Head *h)
{
  double r = h->size * 0.5;

  if (f->plant->form == BL_FORM_BULB && h->px > 6)
    {
      /* Six petals behind a long crown: the daffodil's build. */
      double side = fig_unit (f) < 0.5 ? -1 : 1;

      petals (f, h, 6, 0.72, BL_LEAF_OVAL, 0);
      fig_next (f);
      fig_blade (f, h->layer, (double[8]) { h->x, h->y + r * 0.1, h->x + side * r * 0.24,
                                            h->y + r * 0.1,
                 h->x + side * r * 0.52, h->y + r * 0.04, r * 0.36, r * 0.66 }, h->eye,
                   h->value - 0.05);
      fig_next (f);
      fig_oval (f, h->layer, h->x + side * r * 0.52, h->y + r * 0.04, 0, r * 0.17, r * 0.34, h->eye,
                h->value - 0.24);
      return;
    }
  if (h->px > 6)
    fig_blade (f, h->layer, (double[8]) { h->x - 0.6 * r * cos (h->angle),
                                          h->y - 0.6 * r * sin (h->angle), h->x, h->y,
               h->x, h->y + r * 0.1, r * 0.16, r * 0.6 }, h->main, h->value - 0.28);
  petals (f, h, 6, f->plant->type == BL_TYPE_PERENNIAL ? 0.42 : 0.62,
          f->plant->type == BL_TYPE_PERENNIAL ? BL_LEAF_LANCE : BL_LEAF_OVAL, 0.17);
}

static gboolean
is_single (BlFlowerShape s)
{
  return s == BL_FLOWER_TRUMPET || s == BL_FLOWER_BELL || s == BL_FLOWER_CUP || s == BL_FLOWER_STAR;
}

static void
catkin (Fig *f, const Head *h)
{
  Head k = *h;

  if (f->plant->type == BL_TYPE_GRASS)
    {
      plume (f, h, 0.17);
      return;
    }
  k.angle = -G_PI / 2 + fig_sway (f, 0.2);
  axis_head (f, &k, 0.20, 0.9, FALSE);
}

static void
draw_head (Fig *f, Head *h, BlFlowerShape shape)
{
  if (h->stage == FIG_STAGE_SEED)
    h->main = h->eye = f->seed_tones;
  if (is_single (shape) && h->stage == FIG_STAGE_SEED)
    {
      capsule (f, h);
      return;
    }
  if (is_single (shape) && h->stage == FIG_STAGE_BUD)
    {
      closed_bud (f, h);
      return;
    }
  switch (shape)
    {
    case BL_FLOWER_DAISY: daisy (f, h); break;
    case BL_FLOWER_SPIKE: axis_head (f, h, f->plant->type == BL_TYPE_GRASS ? 0.10 : 0.20, 0.58,
                                     FALSE); break;
    case BL_FLOWER_PLUME: plume (f, h, f->plant->type == BL_TYPE_GRASS ? 0.22 : 0.30); break;
    case BL_FLOWER_GLOBE: globe (f, h); break;
    case BL_FLOWER_UMBEL: umbel (f, h); break;
    case BL_FLOWER_PANICLE:
      if (f->plant->type == BL_TYPE_GRASS)
        airy (f, h);
      else
        axis_head (f, h, f->plant->form == BL_FORM_SPIRE_CLUMP ? 0.15 : 0.34, 0.62, TRUE);
      break;
    case BL_FLOWER_TRUMPET: trumpet (f, h); break;
    case BL_FLOWER_BELL: bell (f, h); break;
    case BL_FLOWER_CUP: cup (f, h); break;
    case BL_FLOWER_STAR: petals (f, h, 5, 0.60, BL_LEAF_OVAL, 0.16); break;
    case BL_FLOWER_CATKIN: catkin (f, h); break;
    case BL_FLOWER_NONE: case BL_FLOWER_N: default: break;
    }
}

/* Snow on a seed head: a cap on what is flat or round, a ridge on what is long. */
static void
snow_cap (Fig *f, const Head *h, BlFlowerShape shape)
{
  double s = h->size;

  fig_next (f);
  if (fig_head_is_long (f))
    fig_snow (f, h->layer, h->x + 0.62 * s * cos (h->angle), h->y + 0.62 * s * sin (h->angle),
              s * 0.05, s * 0.07);
  else if (shape == BL_FLOWER_UMBEL)
    fig_snow (f, h->layer, h->x, h->y + 0.34 * s, s * 0.46, s * 0.15);
  else if (shape == BL_FLOWER_GLOBE)
    fig_snow (f, h->layer, h->x, h->y + 0.74 * s, s * 0.40, s * 0.24);
  else if (shape == BL_FLOWER_DAISY)
    fig_snow (f, h->layer, h->x, h->y + 0.20 * s, s * 0.20, s * 0.14);
}

void
fig_head (Fig *f, int layer, FigStage stage, double x, double y, double angle, double size,
          double value)
{
  Head h = { layer, stage, x, y, angle, MAX (size, 2 * f->px), value, f->petal, f->eye, 0 };
  BlFlowerShape shape = f->plant->flower;

  if (stage == FIG_STAGE_NONE || shape == BL_FLOWER_NONE)
    return;
  h.px = h.size * f->detail;
  fig_begin (f, h.px < (fig_head_is_long (f) ? 26 : 11));
  draw_head (f, &h, shape);
  if (f->snow > 0 && stage == FIG_STAGE_SEED && h.px > 4)
    snow_cap (f, &h, shape);
  fig_end (f);
}

void
fig_fruit (Fig *f, int layer, double x, double y, double value)
{
  double r = MAX (0.0055, 1.25 * f->px);

  fig_begin (f, r * f->detail < 5);
  fig_oval (f, layer, x, y, 0, r, r, f->fruit, value - 0.1);
  if (r * f->detail > 2)
    {
      fig_next (f);
      fig_oval (f, layer, x + 0.3 * r * f->lx, y + 0.35 * r, 0, r * 0.4, r * 0.4, f->fruit,
                value + 0.4);
    }
  fig_end (f);
}
