/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Conifers: layered boughs, flames of sprays, low plumes and domes of shoots. */
#include "draw/figure-private.h"

static gboolean
has_needles (const Fig *f)
{
  return f->plant->leaf == BL_LEAF_NEEDLE;
}

/* One bough from foot over control to tip: its shadow, itself, and light along its end. */
static void
bough (Fig *f, int layer, const double p[6], double width, double v)
{
  double length = hypot (p[4] - p[0], p[5] - p[1]), notch = has_needles (f) ? 0.34 : 0.5,
    mx = 0.35 * p[0] + 0.40 * p[2] + 0.25 * p[4], my = 0.35 * p[1] + 0.40 * p[3] + 0.25 * p[5];
  int hue = f->hue;
  guint teeth = (guint) CLAMP (length * f->detail / (has_needles (f) ? 4.4 : 5.2), 4, 13);

  f->hue = 1 + (int) bl_rng_int (&f->rng, FIG_HUES);
  fig_feather (f, layer, (double[6]) { p[0], p[1] - 0.3 * width, p[2], p[3] - 0.42 * width, p[4],
                                       p[5] - 0.14 * width }, width, notch, teeth, FALSE, f->leaf,
               v - 0.26);
  fig_feather (f, layer, p, width * 0.86, notch, teeth, FALSE, f->leaf, v);
  fig_feather (f, layer, (double[6]) { mx, my + 0.12 * width, 0.5 * (mx + p[4]),
                                       0.5 * (my + p[5]) + 0.24 * width, p[4], p[5] },
               width * 0.42, notch, (teeth + 1) * 2 / 3, FALSE, f->leaf, v + 0.22);
  if (f->snow > 0)
    {
      fig_feather (f, layer, (double[6]) { mx, my + 0.10 * width, 0.5 * (mx + p[4]),
                                           0.5 * (my + p[5]) + 0.40 * width, p[4],
                                           p[5] + 0.10 * width },
                   width * (0.34 + 0.3 * f->snow), 0.8, (teeth + 1) / 2, FALSE, f->white, 0.30);
      fig_feather (f, layer, (double[6]) { mx, my + 0.30 * width, 0.5 * (mx + p[4]),
                                           0.5 * (my + p[5]) + 0.60 * width, p[4],
                                           p[5] + 0.25 * width },
                   width * (0.22 + 0.3 * f->snow), 0.9, (teeth + 1) / 2, FALSE, f->white, 0.85);
    }
  f->hue = hue;
}

static void
core (Fig *f, FigProfile profile, double y0, double share, double lean)
{
  double h = f->height - y0;

  for (int i = 0; i < 7; i++)
    {
      double t = (i + 0.4) / 7.4, w = fig_profile (profile, t) * f->half * share;

      /* Lit from its side too, no darker than the boughs that turn away. */
      for (int side = -1; side <= 1; side += 2)
        fig_cloud (f, 4, 0.34 * side * w, y0 + t * h, MAX (0.66 * w, f->px), h * 0.10,
                   MIN (f->height * 0.022, w * 0.4), lean, f->leaf, 0.17 + 0.09 * side * f->lx);
    }
}

/* Among the needles, not beside them. */
static void
fruits (Fig *f, int layer, guint n, FigProfile profile, double low, double high)
{
  if (!f->plant->has_fruit || f->look->fruit < 0.05)
    return;
  for (guint i = 0; i < n; i++)
    {
      double t = fig_range (f, low, high), x = fig_sway (f, 0.74 * f->half * fig_profile (profile, t));

      fig_fruit (f, layer, x, f->height * t, 0.5);
    }
}

/* A tier of a pyramid: boughs at the sides reach out, those in front hang towards the viewer. */
static void
tier (Fig *f, int layer, double t, double y0, guint n)
{
  double h = f->height - y0, w = fig_profile (FIG_CONE, t) * f->half,
    gap = MAX (0.105 * f->height * (1 - 0.55 * t), 5 * f->px);

  for (guint i = 0; i < n; i++)
    {
      /* From both sides to the middle, so that the front lies over the sides. */
      guint pair = i / 2, pairs = (n + 1) / 2;
      double k = (pair + 0.35 + fig_sway (f, 0.3)) / pairs, u = (i % 2 ? 1 : -1) * cos (k * G_PI / 2),
        z = sqrt (MAX (0, 1 - u * u)), own = fig_range (f, 0.86, 1.04);
      double y = y0 + t * h + fig_sway (f, 0.3 * gap), x1 = u * w * own,
        y1 = y - own * (0.20 * w * fabs (u) + z * MIN (0.55 * w, 1.1 * gap));
      double lit = fig_lit (f, u, 0.15, 0.9 * z);

      y1 = MAX (y1, 0.06 * f->height);
      bough (f, layer + (int) (2 * z), (double[6]) { x1 * 0.10, y + 0.2 * gap, x1 * 0.62,
                                                     y - 0.02 * w, x1,
                                                     y1 + 0.14 * gap * fabs (u) },
             MIN (gap * 0.62, 0.20 * w + 2.4 * f->px) * fig_range (f, 0.85, 1.15),
             -0.10 + 0.84 * lit + fig_sway (f, 0.08));
    }
  for (int k = 0; k < 2; k++)
    {
      double u = (k - 0.5) * 0.34 + fig_sway (f, 0.2), y = y0 + t * h;

      bough (f, layer + 2, (double[6]) { u * w * 0.2, y + 0.3 * gap, u * w * 0.7, y,
                                         u * w, MAX (y - 0.9 * gap, 0.05 * f->height) },
             MIN (gap * 0.55, 0.3 * w), -0.10 + 0.84 * fig_lit (f, u, 0.2, 0.9));
    }
}

void
fig_form_cone (Fig *f)
{
  double y0 = f->height * 0.045;
  guint rows = (guint) CLAMP (f->height * f->detail / 17, 6, 17);

  fig_trunk (f, 3, 0, 0, 0, f->height * 0.9, MAX (0.022 * f->height, 1.5 * f->px), f->px);
  core (f, FIG_CONE, y0, 0.56, -0.5);
  for (guint r = 0; r < rows; r++)
    {
      double t = (r + 0.1) / rows;

      tier (f, 12 + (int) r * 4, t, y0, (guint) CLAMP (11 * (1 - t) + 3, 3, 11));
    }
  fig_part (f, 81);
  fig_feather (f, 200, (double[6]) { 0, f->height * 0.90, 0, f->height * 0.95, 0, f->height },
               MAX (f->height * 0.012, 1.2 * f->px), 0.4, 5, FALSE, f->leaf, 0.62);
  fruits (f, 201, 14, FIG_CONE, 0.15, 0.7);
}

/* Flame-like sprays, all rising; the lower ones stand before the upper. */
static void
flames (Fig *f, double y0)
{
  double spray = CLAMP (0.11 * f->height, 0.35 * f->half, 0.95 * f->half) + 3 * f->px;
  guint n = (guint) CLAMP (2 * f->half * 1.7 * f->height * 8.5 / (spray * spray), 80,
                           f->budget / 3.0 + 130);

  core (f, FIG_COLUMN, y0, 0.72, 0.9);
  for (guint i = 0; i < n; i++)
    {
      double t = pow (fig_share (f, i), 1.2) * 0.95 - 0.02, w = fig_profile (FIG_COLUMN, t) * f->half,
        u = fig_range (f, -1, 1), z = sqrt (MAX (0, 1 - u * u));
      double l = spray * fig_range (f, 0.75, 1.25) * (1 - 0.3 * t), x = u * w * 0.68,
        y = y0 + t * f->height * 0.95, lean = u * 0.42 + fig_sway (f, 0.16);
      double lit = fig_lit (f, u, 0.10 + 0.16 * sin (t * 37 + u * 4), z);
      double p[6] = { x, y, x + 0.55 * l * lean, y + 0.5 * l, x + 0.62 * l * lean, y + l };

      p[5] = MIN (p[5], f->height);
      bough (f, 12 + (int) (16 * (1 - t)) + (int) (3 * z), p, l * 0.17,
             -0.12 + 0.86 * lit + fig_sway (f, 0.12));
    }
}

void
fig_form_column (Fig *f)
{
  double y0 = f->height * 0.02;
  BlLeafShape s = f->plant->leaf;

  if (s != BL_LEAF_NEEDLE && s != BL_LEAF_SCALE)
    {
      fig_leafy_column (f);
      return;
    }
  fig_trunk (f, 3, 0, 0, 0, f->height * 0.5, MAX (0.02 * f->height, 1.5 * f->px), f->px);
  flames (f, y0);
  fig_part (f, 82);
  fruits (f, 60, 40, FIG_COLUMN, 0.1, 0.85);
}

/* One bough of a low conifer: side sprays along it in both directions, the tip lifted. */
static void
spread_bough (Fig *f, int layer, const double p[6], double wide, double v)
{
  double length = hypot (p[4] - p[0], p[5] - p[1]);

  for (int k = 0; k < 4; k++)
    for (int side = -1; side <= 1; side += 2)
      {
        FigTip at = fig_curve_at (p, 0.30 + 0.17 * (k + 0.4 * (side > 0)));
        double x = at.x, y = at.y, a = at.angle + side * fig_range (f, 0.45, 0.85),
          l = length * (0.52 - 0.07 * k) * fig_range (f, 0.75, 1.15);

        fig_feather (f, layer, (double[6]) { x, y, x + 0.5 * l * cos (a), y + 0.42 * l * sin (a),
                                             x + l * cos (a), y + l * sin (a) + 0.14 * l },
                     wide * 0.8, 0.5, 6, FALSE, f->leaf,
                     v + 0.08 * k + 0.10 * (sin (a) > 0) - 0.10 + fig_sway (f, 0.10));
      }
  bough (f, layer + 1, p, wide, v + 0.14);
}

/* Boughs all over a low body like shingles, the lower before the upper, none from one point. */
void
fig_form_spreading_conifer (Fig *f)
{
  guint n = (guint) CLAMP (f->budget / 16.0, 30, 52);
  double reach = MAX (0.58 * sqrt (f->height * f->half), 0.36 * f->half), rise = MIN (reach, 0.9 * f->height);

  for (int i = -2; i <= 2; i++)
    fig_cloud (f, 2, 0.23 * i * f->half, f->height * (0.36 - 0.06 * abs (i)) + 0.6 * f->ground,
               f->half * 0.30, f->height * (0.38 - 0.06 * abs (i)), f->height * 0.06, 0.4, f->leaf,
               0.26);
  for (guint i = 0; i < n; i++)
    {
      double ny = 1 - (i + 0.5) / n, u = (2 * fig_share (f, i) - 1) * sqrt (1 - 0.92 * ny * ny),
        nz = sqrt (MAX (0, 1 - u * u - ny * ny)), k, x0, y0, x1, y1, v;

      fig_part (f, 700 + i);
      k = fig_range (f, 0.8, 1.1) * (0.62 + 0.38 * MAX (fabs (u), ny));
      x1 = u * f->half + fig_sway (f, 0.05 * f->half);
      y1 = MAX (0.10, 0.08 + 0.92 * ny * fig_range (f, 0.88, 1.04)) * f->height + 0.8 * f->ground * nz;
      /* Those low in front lie along the ground to one side or the other. */
      x0 = x1 - k * reach * (0.95 * u + (ny < 0.45 ? (i % 2 ? 0.75 : -0.75) * (1 - fabs (u)) : 0)
                             + fig_sway (f, 0.6));
      y0 = MAX (y1 - k * rise * (0.26 + 0.62 * ny), f->ground * nz);
      v = -0.02 + 0.62 * fig_lit (f, u, 0.2 + ny, 0.8 * nz) + fig_sway (f, 0.10);
      spread_bough (f, 6 + (int) i * 2,
                    (double[6]) { x0, y0, x0 + (x1 - x0) * 0.6, y0 + (y1 - y0) * 0.34, x1, y1 },
                    MAX (0.115 * reach, 2.4 * f->px), v);
    }
  fig_part (f, 83);
  fruits (f, 124, 26, FIG_DOME, 0.2, 0.7);
}

/* One shoot of a dome: needles standing off all round, dark behind and light before. */
static void
shoot (Fig *f, int layer, double x, double y, double dir, double len, double v)
{
  double w = MAX (0.085 * len, 1.0 * f->px);

  if (!has_needles (f))
    {
      bough (f, layer, (double[6]) { x, y, x + 0.5 * len * cos (dir), y + 0.5 * len * sin (dir),
                                     x + len * cos (dir), y + len * sin (dir) }, len * 0.24, v);
      return;
    }
  fig_tuft (f, layer, 6, x, y, dir, len, 2.3, w, f->leaf, v - 0.14);
  fig_tuft (f, layer, 4, x + 0.28 * len * cos (dir), y + 0.28 * len * sin (dir), dir, len * 0.76,
            1.3, w, f->leaf, v + 0.14);
}

/* A dome of shoots over dark masses. */
void
fig_form_mound_conifer (Fig *f)
{
  FigCluster c[FIG_MAX_CLUSTERS];
  double len = MAX (f->height * 0.135, 5 * f->px);
  FigMass m = { .profile = FIG_DOME, .y1 = f->height - 0.4 * len, .half = f->half * 0.92,
                .layer = 4, .n_clusters = fig_parts (f, 44), .shape = f->plant->leaf, .leaf = len * 0.5,
                .droop = -0.6, .amount = 1, .core = 1, .tones = f->leaf };
  guint n = fig_clusters (f, &m, c), each = 6;

  for (int i = -1; i <= 1; i++)
    fig_cloud (f, 3, 0.32 * i * m.half, m.y1 * (i ? 0.32 : 0.42), m.half * 0.42,
               m.y1 * (i ? 0.34 : 0.42), len * 0.5, 0.4, f->leaf, 0.16 + 0.08 * i * f->lx);
  for (guint i = 0; i < n; i++)
    {
      double r = c[i].r, foot = f->ground * MAX (0, c[i].z);

      fig_cloud (f, 4, 0.92 * c[i].x, MAX (0.94 * c[i].y - 0.1 * r, 0.7 * r + foot), r * 0.64, r * 0.58,
                 len * 0.4, 0.4, f->leaf, 0.12 + 0.32 * fig_lit (f, c[i].nx, c[i].ny, c[i].nz));
      for (guint k = 0; k < each; k++)
        {
          double a = fig_range (f, 0, 2 * G_PI), q = sqrt (fig_unit (f)) * 1.1, dx = q * cos (a),
            dy = q * sin (a);
          double lit = fig_lit (f, 0.6 * dx + 0.7 * c[i].nx, 0.6 * dy + 0.7 * c[i].ny,
                                0.5 * sqrt (MAX (0, 1.21 - q * q)) + 0.5 * c[i].nz);
          double out = G_PI / 2 - CLAMP (c[i].x / f->half + 0.4 * dx, -1, 1) * 0.95
                       + fig_sway (f, 0.3);

          shoot (f, 5 + (int) i, c[i].x + dx * r, MAX (0.02 * f->height + foot, c[i].y + dy * r),
                 out,
                 len * fig_range (f, 0.75, 1.1), -0.08 + 1.02 * lit + fig_sway (f, 0.10));
        }
      if (f->snow > 0 && (c[i].t > 0.3 || c[i].z > 0.5))
        fig_snow (f, 5 + (int) i, c[i].x, c[i].y + 0.45 * r, r * 0.85, r * 0.42);
    }
  fig_part (f, 84);
  fruits (f, 120, 12, FIG_DOME, 0.2, 0.8);
}
