/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stems: leafy herbaceous ones, and the branching skeleton of woody plants. */
#include "draw/figure-private.h"

static void
control (const FigStem *s, double *cx, double *cy)
{
  double dx = s->x1 - s->x0;

  /* Rises first and leans later (arch > 0), or leaves the crown at a slant (arch < 0). */
  *cx = s->x0 + dx * (0.42 - 0.40 * s->arch);
  *cy = s->y1 * (0.55 + 0.42 * MAX (0, s->arch));
}

FigTip
fig_curve_at (const double p[6], double t)
{
  double w = 1 - t;

  return (FigTip) { w * w * p[0] + 2 * w * t * p[2] + t * t * p[4],
                    w * w * p[1] + 2 * w * t * p[3] + t * t * p[5],
                    atan2 (w * (p[3] - p[1]) + t * (p[5] - p[3]),
                           w * (p[2] - p[0]) + t * (p[4] - p[2])) };
}

FigTip
fig_stem_at (const FigStem *s, double t)
{
  double cx, cy, u = 1 - t;

  control (s, &cx, &cy);
  return (FigTip) { u * u * s->x0 + 2 * u * t * cx + t * t * s->x1, 2 * u * t * cy + t * t * s->y1,
                    atan2 (2 * u * cy + 2 * t * (s->y1 - cy),
                           2 * u * (cx - s->x0) + 2 * t * (s->x1 - cx)) };
}

static void
stem_leaves (Fig *f, int layer, const FigStem *s)
{
  double length = hypot (s->x1 - s->x0, s->y1), span = (s->to - s->from) * length;
  double step = s->step > 0 ? s->step : s->leaf * 0.42, ratio = fig_leaf_ratio (f->plant->leaf);
  guint n = (guint) CLAMP (span / MAX (step, 1e-4), 1, ratio < 0.2 ? 54 : 26);

  for (guint i = 0; i < n; i++)
    {
      double t = s->from + (s->to - s->from) * (i + fig_range (f, 0.2, 0.8)) / n;
      FigTip p = fig_stem_at (s, t);
      /* The lower the larger, down to bracts under the head. */
      double up = (t - s->from) / MAX (1e-6, s->to - s->from),
        size = s->leaf * (1.12 - (0.34 + 0.42 * s->taper) * up) * fig_range (f, 0.8, 1.15);
      guint sides = s->paired ? 2 : 1;

      for (guint k = 0; k < sides; k++)
        {
          double side = (i + k) % 2 ? 1 : -1, view = fig_range (f, 0.25, 1.0);
          double a = p.angle + side * (s->droop ? fig_range (f, 2.4, 3.0) : fig_range (f, 0.55,
              1.25));
          double v = s->value - 0.20 * (1 - t) + fig_sway (f, 0.16) + 0.10 * side * -f->lx;

          if (fig_unit (f) > f->leaf_amount)
            continue;
          fig_leaf (f, layer, f->plant->leaf, p.x, p.y, a, size * (0.45 + 0.55 * view),
                    size * ratio * (s->droop ? 0.34 : fig_range (f, 0.7, 1.05)), side * -0.16,
                      f->leaf, v);
        }
    }
}

FigTip
fig_stem (Fig *f, int layer, const FigStem *s)
{
  double cx, cy;

  control (s, &cx, &cy);
  /* However far away, a head is seen to stand on its stem. */
  fig_blade (f, layer, (double[8]) { s->x0, 0, cx, cy, s->x1, s->y1, MAX (s->width, 1.3 * f->px),
                                     MAX (s->width * 0.6, 1.1 * f->px) },
             f->look->leaf > 0.12 ? f->stalk : f->wood, s->value - 0.12);
  if (s->leaf > 0 && s->to > s->from)
    stem_leaves (f, layer, s);
  return fig_stem_at (s, 1);
}

/* Where wood enters the ground it widens into roots and ends rounded. */
static void
flare (Fig *f, int layer, double x, double y, double w)
{
  if (w * f->detail < 2.5)
    return;
  for (int side = -1; side <= 1; side += 2)
    fig_blade (f, layer, (double[8]) { x + 0.30 * side * w, y + 1.3 * w, x + 0.34 * side * w, y + 0.3 * w,
                                       x + 0.86 * side * w, y - 0.10 * w, 0.4 * w, 0.22 * w }, f->wood,
               0.32 + 0.10 * side * f->lx);
  fig_oval (f, layer, x, y, 0, 0.62 * w, 0.24 * w, f->wood, 0.30);
}

void
fig_trunk (Fig *f, int layer, double x0, double y0, double x1, double y1, double w0, double w1)
{
  double bow = fig_sway (f, 0.05) * hypot (x1 - x0, y1 - y0), cx = (x0 + x1) / 2 + bow,
    cy = (y0 + y1) / 2;

  fig_next (f);
  fig_blade (f, layer, (double[8]) { x0, y0, cx, cy, x1, y1, w0, w1 }, f->wood, 0.32);
  flare (f, layer, x0, y0, w0);
  if (w0 * f->detail > 4)
    {
      double o = 0.22 * (f->lx >= 0 ? 1 : -1);

      fig_next (f);
      fig_blade (f, layer, (double[8]) { x0 + o * w0, y0, cx + o * (w0 + w1) / 2, cy, x1 + o * w1,
                                         y1,
                 w0 * 0.46, w1 * 0.46 }, f->wood, 0.62);
    }
}

typedef struct
{
  double x, y, dx, dy; /* place and direction of growth */
  int parent;
  guint load;          /* tips carried: Leonardo's rule, area in = area out */
  double z, path;      /* metres along the wood from the root */
} Node;

#define MAX_NODES 512

/* Joins every cluster to the nearest part of what has grown so far, nearest first: limbs fork as
 * they would have grown, and in winter the same skeleton stands bare. */
static guint
join (Fig *f, Node *nodes, guint n, const FigCluster *c, double lean)
{
  double best = INFINITY;
  int at = 0;
  Node *p;

  for (guint i = 0; i < n; i++)
    {
      double dx = c->x - nodes[i].x, dy = c->y - nodes[i].y, d = sqrt (dx * dx + dy * dy);
      double along = d > 1e-9 ? (dx * nodes[i].dx + dy * nodes[i].dy) / d : 1;
      double cost = d * (1.7 - along * 0.7) + MAX (0, -dy) * lean + 0.42 * nodes[i].path
        + 0.1 * fabs (c->z - nodes[i].z) * c->r;

      if (cost < best)
        best = cost, at = (int) i;
    }
  p = &nodes[at];
  for (guint k = 1; k <= 3 && n < MAX_NODES; k++)
    {
      double t = k / 3.0, d = hypot (c->x - p->x, c->y - p->y);
      double mx = (p->x + c->x) / 2 + p->dx * d * 0.18,
        my = (p->y + c->y) / 2 + p->dy * d * 0.18 + d * 0.06;
      double u = 1 - t, x = u * u * p->x + 2 * u * t * mx + t * t * c->x;
      double y = u * u * p->y + 2 * u * t * my + t * t * c->y;
      int parent = k == 1 ? at : (int) n - 1;
      double gx = x - nodes[parent].x, gy = y - nodes[parent].y, g = MAX (1e-9, hypot (gx, gy));

      nodes[n] = (Node) { x + fig_sway (f, 0.04 * d), y, gx / g, gy / g, parent, 0, c->z * t,
                          nodes[parent].path + g };
      n++;
    }
  for (int i = (int) n - 1; i >= 0; i = nodes[i].parent)
    nodes[i].load++;
  return n;
}

/* Snow lies on the upper side of what is not too steep. */
static void
snow_line (Fig *f, int layer, const Node *a, const Node *b, double width)
{
  double dx = b->x - a->x, dy = b->y - a->y, l = hypot (dx, dy), w = MAX (width * 0.8, 1.1 * f->px),
    up = 0.5 * width + 0.25 * w;

  if (f->snow <= 0 || l < 2 * f->px || fabs (dy) > 0.90 * l)
    return;
  fig_blade (f, layer, (double[8]) { a->x, a->y + up, (a->x + b->x) / 2, (a->y + b->y) / 2 + up,
                                     b->x, b->y + up, w, w * 0.7 }, f->white, 0.85);
}

static void
draw_nodes (Fig *f, int layer, const Node *nodes, guint n, double tip, double most)
{
  for (guint i = 0; i < n; i++)
    if (nodes[i].parent >= 0)
      {
        const Node *a = &nodes[nodes[i].parent], *b = &nodes[i];
        double w0 = MIN (most, tip * sqrt (MAX (1, b->load))) * 1.06,
          w1 = MIN (most, tip * sqrt (MAX (1, b->load)));
        double bend = fig_sway (f, 0.06), mx = (a->x + b->x) / 2 + bend * (b->y - a->y),
          my = (a->y + b->y) / 2;

        fig_blade (f, layer + (b->z > 0), (double[8]) { a->x, a->y, mx, my, b->x, b->y, w0, w1 },
                   f->wood,
                   0.30 + 0.16 * b->z);
        if (w0 * f->detail > 3.5)
          {
            double o = 0.24 * w1 * (f->lx >= 0 ? 1 : -1);

            fig_blade (f, layer + 2, (double[8]) { a->x + o, a->y, mx + o, my, b->x + o, b->y,
                                                   w0 * 0.42, w1 * 0.42 },
                       f->wood, 0.60);
          }
        snow_line (f, layer + 3, a, b, w1);
      }
}

static int
by_distance (gconstpointer a, gconstpointer b, gpointer data)
{
  const BlPoint *root = data;
  const FigCluster *p = a, *q = b;
  double x = hypot (p->x - root->x, p->y - root->y), y = hypot (q->x - root->x, q->y - root->y);

  return x < y ? -1 : x > y;
}

void
fig_skeleton (Fig *f, int layer, const BlPoint *roots, guint n_roots, double lean,
              const FigCluster *clusters,
              guint n_clusters, double trunk_width)
{
  g_autofree Node *nodes = g_new (Node, MAX_NODES + 4);
  FigCluster sorted[FIG_MAX_CLUSTERS];
  BlPoint from;
  guint n = 0;

  g_return_if_fail (n_roots > 0);
  from = roots[0];
  memcpy (sorted, clusters, sizeof *clusters * n_clusters);
  for (guint i = 0; i < n_roots; i++)
    nodes[n++] = (Node) { roots[i].x, roots[i].y, roots[i].x * 0.6, 1, -1, 0, 0, 0 };
  g_qsort_with_data (sorted, (int) n_clusters, sizeof *sorted, by_distance, &from);
  for (guint i = 0; i < n_clusters && n + 3 < MAX_NODES; i++)
    n = join (f, nodes, n, &sorted[i], lean);
  draw_nodes (f, layer, nodes, n, MAX (trunk_width / sqrt (MAX (1, n_clusters / (double) n_roots)),
                                       0.5 * f->px),
              trunk_width);
}

void
fig_twigs (Fig *f, int layer, const FigCluster *c, guint n, double width)
{
  double out = atan2 (c->ny + 0.75, c->nx * 1.2);

  for (guint i = 0; i < n; i++)
    {
      double a = out + (n > 1 ? ((i + 0.5) / n - 0.5) * 2.1 : 0) + fig_sway (f, 0.4),
        l = c->r * fig_range (f, 1.0, 1.6);
      double bend = fig_sway (f, 0.5), v = 0.34 + 0.2 * c->z + fig_sway (f, 0.16);
      double mx = c->x + 0.5 * l * cos (a - bend), my = c->y + 0.5 * l * sin (a - bend);
      double x = c->x + l * cos (a), y = c->y + l * sin (a);

      fig_blade (f, layer, (double[8]) { c->x, c->y, mx, my, x, y, width, width * 0.4 }, f->wood,
                 v);
      for (int k = 0; k < 3; k++)
        {
          double t = 0.35 + 0.22 * k + fig_sway (f, 0.08), w = 1 - t, side = k % 2 ? 1 : -1;
          double sx = w * w * c->x + 2 * w * t * mx + t * t * x,
            sy = w * w * c->y + 2 * w * t * my + t * t * y;
          double b = a + side * fig_range (f, 0.4, 0.8), m = l * (0.62 - 0.42 * t);

          fig_blade (f, layer, (double[8]) { sx, sy, sx + 0.5 * m * cos (b), sy + 0.6 * m * sin (b),
                                             sx + m * cos (b - side * 0.2),
                     sy + m * sin (b - side * 0.2), width * 0.6, width * 0.25 }, f->wood, v + 0.08);
        }
    }
}

/* Stems from the ground, close together at the foot and bending upwards as they part: draws them
 * and gives the places from which they branch. */
guint
fig_basal_stems (Fig *f, int layer, guint n, double foot, double spread, double height,
                 double width, BlPoint *roots)
{
  double side = f->lx >= 0 ? 1 : -1;
  guint made = 0;

  for (guint i = 0; i < n; i++)
    {
      double u = (n > 1 ? 2.0 * i / (n - 1) - 1 : 0) + fig_sway (f, 0.9 / n),
        h = height * fig_range (f, 0.8, 1.15) * (1 - 0.15 * u * u);
      double x0 = u * foot, x1 = x0 + u * spread + fig_sway (f, spread * 0.2);
      double cx = x0 + (x1 - x0) * fig_range (f, 0.30, 0.75), cy = h * 0.46,
        w = width * fig_range (f, 0.7, 1.15);
      double y0 = f->ground * (1 - u * u) * fig_unit (f);

      fig_next (f);
      fig_blade (f, layer + (int) (i % 2), (double[8]) { x0, y0, cx, cy, x1, h, w, w * 0.62 },
                 f->wood, 0.30);
      flare (f, layer + (int) (i % 2), x0, y0, w);
      fig_next (f);
      if (w * f->detail > 3)
        fig_blade (f, layer + (int) (i % 2), (double[8]) { x0 + side * 0.22 * w, y0,
                                                           cx + side * 0.2 * w, cy,
                   x1 + side * 0.14 * w, h, w * 0.40, w * 0.26 }, f->wood, 0.62);
      roots[made++] = BL_POINT (x1, h);
      roots[made++] = BL_POINT (0.25 * x0 + 0.5 * cx + 0.25 * x1, 0.5 * cy + 0.25 * h);
    }
  return made;
}
