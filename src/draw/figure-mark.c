/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The marks of a figure: tones, light, and adding marks. */
#include "draw/figure-private.h"

/* Shadows cool and lose chroma, lights warm: a painter's rule. @depth is how dark the darkest tone
 * gets: 1 for leaves, less for petals, which let light through. */
static BlColor
tone (BlLab lab, double t, int hue, double depth, double vary)
{
  BlLab c = lab;
  double dark = MAX (0, 0.5 - t) * 2, light = MAX (0, t - 0.5) * 2;

  c.L = lab.L * (1 - 0.66 * depth * dark) + light * (0.20 * (100 - lab.L) + 7 * depth);
  c.a = lab.a * (1 - 0.30 * dark * depth) * (1 - 0.16 * light) + 1.5 * dark;
  c.b = lab.b * (1 - 0.38 * dark * depth) - 5.0 * dark * depth + 5.0 * light * depth * (lab.L < 85);
  c.L = CLAMP (c.L + hue * 1.6 * vary, 2, 99);
  c.b += hue * 3.2 * depth * vary;
  c.a -= hue * 1.2 * depth * vary;
  return bl_color_from_lab (c);
}

static double
lit_channel (double v, double k)
{
  return CLAMP (pow (CLAMP (pow (v, 2.2) * k, 0, 1), 1 / 2.2), 0, 1);
}

static BlColor
under_light (const Fig *f, BlColor c)
{
  const BlColor *w = &f->light.tint;
  double e = f->light.exposure > 0 ? f->light.exposure : 1;

  if (e == 1 && w->r >= 0.999 && w->g >= 0.999 && w->b >= 0.999)
    return c;
  return (BlColor) { lit_channel (c.r, e * w->r), lit_channel (c.g, e * w->g),
                     lit_channel (c.b, e * w->b), 1 };
}

FigTones
fig_tones (Fig *f, BlColor base, double depth)
{
  FigTones tones = { (guint16) (f->n_bases * FIG_TONES * FIG_HUES) };

  g_assert (f->n_bases < FIG_BASES);
  f->bases[f->n_bases].lab = bl_color_to_lab (base);
  f->bases[f->n_bases].vary = 1;
  f->bases[f->n_bases++].depth = depth;
  return tones;
}

BlColor
fig_color (Fig *f, guint index)
{
  BlColor *c = &f->colors[index];
  guint base = index / (FIG_TONES * FIG_HUES), t = index / FIG_HUES % FIG_TONES;

  if (c->a == 0)
    *c = under_light (f, tone (f->bases[base].lab, (t + 0.5) / FIG_TONES,
                               (int) (index % FIG_HUES) - 1, f->bases[base].depth, f->bases[base].vary));
  return *c;
}

double
fig_lit (const Fig *f, double nx, double ny, double nz)
{
  double n = sqrt (nx * nx + ny * ny + nz * nz);
  double l = n > 0 ? (nx * f->lx + ny * f->ly + nz * f->lz) / n : 0;

  return CLAMP (0.5 + 0.5 * l, 0, 1);
}

FigMark *
fig_add (Fig *f, int layer, FigKind kind, FigTones tones, double value)
{
  guint t = (guint) CLAMP (value * FIG_TONES, 0, FIG_TONES - 1);
  guint color = tones.first + t * FIG_HUES
                + (f->hue ? (guint) f->hue - 1 : bl_rng_int (&f->rng, FIG_HUES));
  FigMark *m;

  if (f->n_marks == f->cap_marks)
    {
      f->cap_marks = MAX (1024, f->cap_marks * 2);
      f->marks = g_renew (FigMark, f->marks, f->cap_marks);
    }
  m = &f->marks[f->n_marks];
  *m = (FigMark) { .kind = (guint8) kind };
  m->key = ((guint64) CLAMP (layer, 0, 4095) << 52) | ((guint64) (f->serial & 0xffff) << 36) |
           ((guint64) color << 22) | f->n_marks;
  f->n_marks++;
  return m;
}

static void
grow (Fig *f, double x, double y)
{
  f->x0 = MIN (f->x0, x);
  f->x1 = MAX (f->x1, x);
  f->y0 = MIN (f->y0, y);
  f->y1 = MAX (f->y1, y);
}

void
fig_next (Fig *f)
{
  f->serial = f->small ? MIN (f->serial + 1, 15) : 16 + f->counter++;
}

void
fig_begin (Fig *f, gboolean small)
{
  f->small = small;
  f->serial = small ? 0 : f->serial;
}

void
fig_end (Fig *f)
{
  f->small = FALSE;
  f->serial = 0;
}

double
fig_leaf_ratio (BlLeafShape shape)
{
  switch (shape)
    {
    case BL_LEAF_OVAL: return 0.52;
    case BL_LEAF_LANCE: return 0.30;
    case BL_LEAF_LINEAR: return 0.12;
    case BL_LEAF_STRAP: return 0.13;
    case BL_LEAF_ROUND: return 0.92;
    case BL_LEAF_LOBED: return 0.90;
    case BL_LEAF_PINNATE: return 0.50;
    case BL_LEAF_NEEDLE: return 0.30;
    case BL_LEAF_SCALE: return 0.42;
    case BL_LEAF_FROND: return 0.34;
    case BL_LEAF_HEART: return 0.86;
    case BL_LEAF_N: default: return 0.5;
    }
}

void
fig_leaf (Fig *f, int layer, BlLeafShape shape, double x, double y, double angle, double length,
          double width, double bend, FigTones tones, double value)
{
  gboolean large = length * f->detail > 19 && width * f->detail > 6.5;
  guint before = f->serial;
  FigMark *m;

  /* Nothing hangs into the ground. */
  y = MAX (y, f->ground);
  /* Low leaves stand in the shade of those above. */
  value -= 0.17 * MAX (0, 1 - y / (0.26 * f->foliage + 1e-6));
  if (y + length * sin (angle) < f->ground)
    angle = -angle;
  y = MAX (y, 1.1 * f->ground + 0.45 * width * fabs (cos (angle)) - 0.4 * length * sin (angle));
  if (large && !f->small)
    f->serial = 16 + f->counter++;
  m = fig_add (f, layer, FIG_LEAF, tones, value);
  m->n = (guint8) shape;
  m->x = (float) x, m->y = (float) y, m->angle = (float) angle;
  m->a = (float) length, m->b = (float) width, m->c = (float) bend;
  grow (f, x, y);
  grow (f, x + length * cos (angle) - bend * length * sin (angle),
        y + length * sin (angle) + bend * length * cos (angle));
  for (int side = -1; side <= 1; side += 2)
    grow (f, x + 0.4 * length * cos (angle) - side * 0.45 * width * sin (angle),
          y + 0.4 * length * sin (angle) + side * 0.45 * width * cos (angle));
  if (large && shape != BL_LEAF_PINNATE && shape != BL_LEAF_NEEDLE && shape != BL_LEAF_SCALE &&
      shape != BL_LEAF_FROND)
    {
      /* The half turned to the light. */
      double side = -sin (angle) * f->lx + cos (angle) * f->ly > 0 ? 1 : -1;
      FigMark copy = *m, *h = fig_add (f, layer, FIG_HALF, tones, value + f->fold);
      guint64 key = h->key;

      *h = copy;
      h->key = key;
      h->kind = FIG_HALF;
      h->d = (float) side;
    }
  f->serial = before;
}

void
fig_blade (Fig *f, int layer, const double p[8], FigTones tones, double value)
{
  FigMark *m = fig_add (f, layer, FIG_BLADE, tones, value);

  m->x = (float) p[0], m->y = (float) p[1], m->angle = (float) p[2], m->a = (float) p[3];
  m->b = (float) p[4], m->c = (float) p[5];
  m->d = (float) MAX (p[6], 0.55 * f->px), m->e = (float) MAX (p[7], 0.25 * f->px);
  grow (f, p[0], p[1]);
  grow (f, p[4], p[5]);
  for (int axis = 0; axis < 2; axis++)
    {
      /* Where the curve turns, if within it. */
      double a = p[axis], b = p[axis + 2], c = p[axis + 4], t = fabs (a - 2 * b + c) > 1e-12
        ? (a - b) / (a - 2 * b + c) : -1;

      if (t > 0 && t < 1)
        grow (f, (1 - t) * (1 - t) * p[0] + 2 * t * (1 - t) * p[2] + t * t * p[4],
              (1 - t) * (1 - t) * p[1] + 2 * t * (1 - t) * p[3] + t * t * p[5]);
    }
}

void
fig_oval (Fig *f, int layer, double x, double y, double angle, double rx, double ry, FigTones tones,
          double value)
{
  FigMark *m = fig_add (f, layer, FIG_OVAL, tones, value);
  double least = 0.62 * f->px, c = fabs (cos (angle)), s = fabs (sin (angle));

  rx = MAX (rx, least), ry = MAX (ry, least);
  m->x = (float) x, m->y = (float) y, m->angle = (float) angle, m->a = (float) rx,
    m->b = (float) ry;
  grow (f, x - rx * c - ry * s * 0.5, y - rx * s - ry * c);
  grow (f, x + rx * c + ry * s * 0.5, y + rx * s + ry * c);
}

void
fig_rays (Fig *f, int layer, guint n, double x, double y, double phase, const double q[5],
          FigTones tones, double value)
{
  FigMark *m = fig_add (f, layer, FIG_RAYS, tones, value);

  m->n = (guint8) n;
  m->x = (float) x, m->y = (float) y, m->angle = (float) phase;
  m->a = (float) q[0], m->b = (float) q[1], m->c = (float) q[2], m->d = (float) q[3],
    m->e = (float) q[4];
  grow (f, x - q[0], y - q[0] * q[2]);
  grow (f, x + q[0], y + q[0] * q[2]);
}

void
fig_tuft (Fig *f, int layer, guint n, double x, double y, double angle, double length,
          double spread,
          double width, FigTones tones, double value)
{
  FigMark *m = fig_add (f, layer, FIG_TUFT, tones, value);

  m->n = (guint8) n;
  m->x = (float) x, m->y = (float) y, m->angle = (float) angle;
  m->a = (float) length, m->b = (float) spread, m->c = (float) MAX (width, 0.5 * f->px);
  grow (f, x, y);
  for (guint i = 0; i < n; i++)
    {
      double w, l = fig_tuft_stroke (m, i, &w);

      grow (f, x + l * cos (w), y + l * sin (w));
    }
}

void
fig_blob (Fig *f, int layer, double x, double y, double rx, double ry, FigTones tones, double value)
{
  FigMark *m = fig_add (f, layer, FIG_BLOB, tones, value);

  y = MAX (y, 0.86 * ry + 0.6 * f->ground);
  m->x = (float) x, m->y = (float) y, m->a = (float) rx, m->b = (float) ry;
  m->c = (float) fig_range (f, 0, 6.28);
  grow (f, x - rx * 0.9, y - ry * 0.9);
  grow (f, x + rx * 0.9, y + ry * 0.9);
}
