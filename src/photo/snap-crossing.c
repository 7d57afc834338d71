/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Crossings of four fields by their gradients and their symmetry. */
#include "photo/snap-crossing.h"

#include <math.h>
#include <stdlib.h>

#define WINDOW 6         /* half width of the tensor's window */
#define SIGMA 1.6        /* ... and its Gaussian weight */
#define FAR 0.4          /* pixels by which a gradient's line misses before it counts for less */
#define ROUND 0.06       /* least ratio of the tensor's eigenvalues at a crossing */
#define ALIKE 0.85       /* least correlation of a crossing with itself turned by half a turn */
#define LEAST_STEP 6.0   /* levels a pixel; less is noise */

typedef struct
{
  double xx, xy, yy;     /* Σ w g g' */
  double bx, by;         /* Σ w g g' x */
  double rr;             /* Σ w (g · (x - c))² */
  double weight;
} Tensor;

static Tensor
tensor_at (const BlPatch *patch,
           double         cx,
           double         cy,
           gboolean       robust)
{
  Tensor t = { 0 };
  int x0 = (int) floor (cx) - WINDOW, y0 = (int) floor (cy) - WINDOW;

  for (int y = MAX (y0, 0); y <= MIN (y0 + 2 * WINDOW + 1, patch->h - 1); y++)
    for (int x = MAX (x0, 0); x <= MIN (x0 + 2 * WINDOW + 1, patch->w - 1); x++)
      {
        double w = exp (-0.5 * ((x - cx) * (x - cx) + (y - cy) * (y - cy)) / (SIGMA * SIGMA));

        for (int c = 0; c < 3; c++)
          {
            double gx = patch->gx[c][y * patch->w + x], gy = patch->gy[c][y * patch->w + x];
            double off = gx * (x - cx) + gy * (y - cy), v = w;

            if (robust)
              v /= 1.0 + off * off / ((gx * gx + gy * gy + 1.0) * FAR * FAR);
            t.xx += v * gx * gx;
            t.xy += v * gx * gy;
            t.yy += v * gy * gy;
            t.bx += v * (gx * gx * x + gx * gy * y);
            t.by += v * (gx * gy * x + gy * gy * y);
            t.rr += v * off * off;
          }
        t.weight += w;
      }
  return t;
}

static double
smaller_eigenvalue (const Tensor *t,
                    double       *larger)
{
  double mean = 0.5 * (t->xx + t->yy) / t->weight;
  double off = hypot (0.5 * (t->xx - t->yy), t->xy) / t->weight;

  *larger = mean + off;
  return mean - off;
}

gboolean
bl_crossing_refine (const BlPatch *patch,
                    gboolean       robust,
                    BlPoint       *at,
                    double        *sd)
{
  BlPoint start = *at;

  for (int i = 0; i < 30; i++)
    {
      Tensor t = tensor_at (patch, at->x, at->y, robust);
      double det = t.xx * t.yy - t.xy * t.xy, moved;
      BlPoint next;

      if (!(det > 1e-9 * t.xx * t.yy))
        return FALSE;
      next = BL_POINT ((t.yy * t.bx - t.xy * t.by) / det, (t.xx * t.by - t.xy * t.bx) / det);
      moved = bl_dist (next, *at);
      *at = next;
      if (bl_dist (next, start) > 4.0)
        return FALSE;
      *sd = sqrt (t.rr / MAX (3.0 * t.weight - 2.0, 1.0) * 0.5 * (t.xx + t.yy) / det);
      if (moved < 1e-3)
        break;
    }
  return TRUE;
}

/* Four fields that meet, light and dark in turn. Told by the mean curvature of the brightness. */
static gboolean
is_saddle (const BlPatch *patch,
           BlPoint        at)
{
  int x0 = (int) lround (at.x), y0 = (int) lround (at.y);
  double xx = 0.0, xy = 0.0, yy = 0.0, mean, off;

  for (int y = MAX (y0 - 3, 1); y <= MIN (y0 + 3, patch->h - 2); y++)
    for (int x = MAX (x0 - 3, 1); x <= MIN (x0 + 3, patch->w - 2); x++)
      for (int c = 0; c < 3; c++)
        {
          gsize i = (gsize) y * patch->w + x;

          xx += patch->gx[c][i + 1] - patch->gx[c][i - 1];
          xy += 0.5 * (patch->gx[c][i + patch->w] - patch->gx[c][i - patch->w]
                       + patch->gy[c][i + 1] - patch->gy[c][i - 1]);
          yy += patch->gy[c][i + patch->w] - patch->gy[c][i - patch->w];
        }
  mean = 0.5 * (xx + yy);
  off = hypot (0.5 * (xx - yy), xy);
  return fabs (mean) < 0.5 * off;
}

static double
brightness (const BlPatch *patch,
            double         x,
            double         y)
{
  int ix = CLAMP ((int) floor (x), 0, patch->w - 2), iy = CLAMP ((int) floor (y), 0, patch->h - 2);
  double fx = x - ix, fy = y - iy, sum = 0.0;

  for (int c = 0; c < 3; c++)
    {
      const double *v = patch->level[c] + (gsize) iy * patch->w + ix;

      sum += (1.0 - fy) * ((1.0 - fx) * v[0] + fx * v[1])
             + fy * ((1.0 - fx) * v[patch->w] + fx * v[patch->w + 1]);
    }
  return sum;
}

/* Correlation of the picture near @at with itself turned by half a turn: grass has none. */
static double
alike_when_turned (const BlPatch *patch,
                   BlPoint        at)
{
  double n = 0.0, sum = 0.0, square = 0.0, product = 0.0;

  for (int v = -5; v <= 5; v++)
    for (int u = -5; u <= 5; u++)
      {
        double one = brightness (patch, at.x + u, at.y + v);

        sum += one;
        square += one * one;
        product += one * brightness (patch, at.x - u, at.y - v);
        n += 1.0;
      }
  square -= sum * sum / n;
  return square > 0.0 ? (product - sum * sum / n) / square : 0.0;
}

/* Products of the gradients, summed over the colours: xx, xy and yy of each pixel. */
static double *
gradient_products (const BlPatch *patch)
{
  int n = patch->w * patch->h;
  double *sums = g_new0 (double, 3 * (gsize) n);

  for (int i = 0; i < n; i++)
    for (int c = 0; c < 3; c++)
      {
        sums[3 * i] += patch->gx[c][i] * patch->gx[c][i];
        sums[3 * i + 1] += patch->gx[c][i] * patch->gy[c][i];
        sums[3 * i + 2] += patch->gy[c][i] * patch->gy[c][i];
      }
  return sums;
}

/* The tensor at a whole pixel, its eigenvalues' members only. */
static Tensor
summed_at (const BlPatch *patch,
           const double  *sums,
           int            cx,
           int            cy)
{
  Tensor t = { 0 };
  double weight[WINDOW + 1];

  for (int k = 0; k <= WINDOW; k++)
    weight[k] = exp (-0.5 * k * k / (SIGMA * SIGMA));
  for (int y = cy - WINDOW; y <= cy + WINDOW; y++)
    for (int x = cx - WINDOW; x <= cx + WINDOW; x++)
      {
        double w = weight[abs (x - cx)] * weight[abs (y - cy)];
        const double *v = sums + 3 * ((gsize) y * patch->w + x);

        t.xx += w * v[0];
        t.xy += w * v[1];
        t.yy += w * v[2];
        t.weight += w;
      }
  return t;
}

gboolean
bl_crossing_find (const BlPatch *patch,
                  double         radius,
                  BlPoint       *at,
                  double        *sd)
{
  BlPoint middle = BL_POINT (0.5 * (patch->w - 1), 0.5 * (patch->h - 1));
  int reach = (int) ceil (radius) + 2, side = 2 * reach + 1;
  g_autofree double *small = g_new0 (double, (gsize) side * side);
  g_autofree double *sums = gradient_products (patch);
  double best = 0.0;

  for (int i = 0; i < side * side; i++)
    {
      Tensor t;
      double larger;
      int x = i % side - reach, y = i / side - reach;

      if (hypot (x, y) > radius + 2.0)
        continue;
      t = summed_at (patch, sums, (int) middle.x + x, (int) middle.y + y);
      small[i] = smaller_eigenvalue (&t, &larger);
      if (small[i] < ROUND * larger || small[i] < LEAST_STEP * LEAST_STEP / 4.0)
        small[i] = 0.0;
    }
  for (int y = 1; y < side - 1; y++)
    for (int x = 1; x < side - 1; x++)
      {
        const double *v = small + (gsize) y * side + x;
        BlPoint here = BL_POINT (middle.x + x - reach, middle.y + y - reach);
        double error, away, score;
        gboolean peak = *v > 0.0;

        for (int k = 0; k < 9; k++)
          peak &= v[(k / 3 - 1) * side + k % 3 - 1] <= *v;
        if (!peak || !bl_crossing_refine (patch, FALSE, &here, &error) || error > 1.0
            || !is_saddle (patch, here)
            || alike_when_turned (patch, here) < ALIKE)
          continue;
        away = bl_dist (here, middle);
        score = *v * exp (-2.0 * away * away / (radius * radius)) / error;
        if (away > radius || score <= best)
          continue;
        best = score;
        *at = here;
        *sd = error;
      }
  return best > 0.0;
}
