/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sub-pixel snapping to corners and edges by the structure tensor. */
#include "photo/snap.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define AROUND 26        /* pixels around the search circle that tell what is usual here */
#define WINDOW 6         /* half width of the tensor's window */
#define SIGMA 1.6        /* ... and its Gaussian weight */
#define FAR 0.4          /* pixels by which a gradient's line misses before it counts for less */
#define SMOOTH 0.7       /* of the gradients, pixels */
#define CORNER_FACTOR 3.0 /* times the usual texture */
#define EDGE_FACTOR 6.0
#define ROUND 0.06       /* least ratio of the eigenvalues; less is a rough edge */
#define INSIDE 3.0       /* pixels by which the peak of an acute corner lies inside it */
#define LEAST_STEP 6.0   /* grey levels; less is noise */
#define LEAST_SD 0.05

typedef struct
{
  int x0, y0, w, h;      /* in the picture */
  double *gx[3], *gy[3]; /* gradients at pixel centres, levels a pixel, of red, green and blue */
  double *small, *large; /* eigenvalues of the tensor */
} Patch;

static void
patch_clear (Patch *patch)
{
  for (int c = 0; c < 3; c++)
    {
      g_free (patch->gx[c]);
      g_free (patch->gy[c]);
    }
  g_free (patch->small);
  g_free (patch->large);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Patch, patch_clear)

static double
level_at (const BlPixels *pixels,
          int             channel,
          int             x,
          int             y)
{
  guint32 p;

  x = CLAMP (x, 0, pixels->width - 1);
  y = CLAMP (y, 0, pixels->height - 1);
  memcpy (&p, pixels->data + (gsize) y * pixels->stride + 4 * (gsize) x, 4);
  return (p >> (16 - 8 * channel)) & 255;
}

/* Gradients of one channel by a narrow Gaussian and its derivative. Brick against soil is an
 * edge in colour that grey levels all but lose. */
static void
fill_gradients (Patch          *patch,
                const BlPixels *pixels,
                int             channel)
{
  enum { R = 3 };
  int gw = patch->w + 2 * R, gh = patch->h + 2 * R;
  g_autofree double *grey = g_new (double, (gsize) gw * gh);
  g_autofree double *smooth = g_new (double, (gsize) gw * gh);
  g_autofree double *slope = g_new (double, (gsize) gw * gh);
  double g[2 * R + 1], d[2 * R + 1], sum = 0.0, rise = 0.0;

  for (int k = -R; k <= R; k++)
    sum += g[k + R] = exp (-0.5 * k * k / (SMOOTH * SMOOTH));
  for (int k = -R; k <= R; k++)
    {
      d[k + R] = k * g[k + R];
      g[k + R] /= sum;
      rise += k * d[k + R];
    }
  for (int k = 0; k <= 2 * R; k++)
    d[k] /= rise;
  for (int y = 0; y < gh; y++)
    for (int x = 0; x < gw; x++)
      grey[y * gw + x] = level_at (pixels, channel, patch->x0 + x - R, patch->y0 + y - R);
  for (int y = 0; y < gh; y++)
    for (int x = R; x < gw - R; x++)
      {
        smooth[y * gw + x] = slope[y * gw + x] = 0.0;
        for (int k = -R; k <= R; k++)
          {
            smooth[y * gw + x] += g[k + R] * grey[y * gw + x + k];
            slope[y * gw + x] += d[k + R] * grey[y * gw + x + k];
          }
      }
  for (int y = 0; y < patch->h; y++)
    for (int x = 0; x < patch->w; x++)
      {
        double *gx = &patch->gx[channel][y * patch->w + x];
        double *gy = &patch->gy[channel][y * patch->w + x];

        for (int k = -R; k <= R; k++)
          {
            *gx += g[k + R] * slope[(y + R + k) * gw + x + R];
            *gy += d[k + R] * smooth[(y + R + k) * gw + x + R];
          }
      }
}

/* Weighted sums of the gradients round (cx, cy), patch coordinates of pixel centres; @robust: lines
 * that miss the middle count for less, as grass and shadows beside a corner do. */
typedef struct
{
  double xx, xy, yy;     /* Σ w g g' */
  double bx, by;         /* Σ w g g' x */
  double rr;             /* Σ w (g · (x - c))² */
  double weight;
} Tensor;

static Tensor
tensor_at (const Patch *patch,
           double       cx,
           double       cy,
           gboolean     robust)
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

static void
eigenvalues (const Tensor *t,
             double       *small,
             double       *large)
{
  double mean = 0.5 * (t->xx + t->yy) / t->weight;
  double off = hypot (0.5 * (t->xx - t->yy), t->xy) / t->weight;

  *small = mean - off;
  *large = mean + off;
}

static void
patch_init (Patch          *patch,
            const BlPixels *pixels,
            BlPoint         start,
            double          radius)
{
  int half = (int) ceil (radius) + AROUND;

  patch->x0 = (int) floor (start.x) - half;
  patch->y0 = (int) floor (start.y) - half;
  patch->w = patch->h = 2 * half + 1;
  patch->small = g_new0 (double, (gsize) patch->w * patch->h);
  patch->large = g_new0 (double, (gsize) patch->w * patch->h);
  for (int c = 0; c < 3; c++)
    {
      patch->gx[c] = g_new0 (double, (gsize) patch->w * patch->h);
      patch->gy[c] = g_new0 (double, (gsize) patch->w * patch->h);
      fill_gradients (patch, pixels, c);
    }
  for (int y = 0; y < patch->h; y++)
    for (int x = 0; x < patch->w; x++)
      {
        Tensor t;

        /* What is far from the click is looked at on every third pixel only. */
        if (hypot (x - half, y - half) > radius + INSIDE + 2.0 && (x % 3 != 0 || y % 3 != 0))
          continue;
        t = tensor_at (patch, x, y, FALSE);
        eigenvalues (&t, &patch->small[y * patch->w + x], &patch->large[y * patch->w + x]);
      }
}

static int
compare_double (const void *a,
                const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* The middle of an eigenvalue over the surroundings. */
static double
usual (const Patch  *patch,
       const double *values)
{
  g_autofree double *list = g_new (double, (gsize) patch->w * patch->h);
  guint n = 0;

  for (int y = 0; y < patch->h; y += 3)
    for (int x = 0; x < patch->w; x += 3)
      list[n++] = values[y * patch->w + x];
  qsort (list, n, sizeof *list, compare_double);
  return list[n / 2];
}

/* Moves to the point the gradients' lines pass nearest to. FALSE when that runs away. */
static gboolean
refine (const Patch *patch,
        gboolean     robust,
        double      *x,
        double      *y,
        double      *sd)
{
  double x0 = *x, y0 = *y, det;
  Tensor t;

  for (int i = 0; i < 30; i++)
    {
      double nx, ny, moved;

      t = tensor_at (patch, *x, *y, robust);
      det = t.xx * t.yy - t.xy * t.xy;
      if (!(det > 1e-9 * t.xx * t.yy))
        return FALSE;
      nx = (t.yy * t.bx - t.xy * t.by) / det;
      ny = (t.xx * t.by - t.xy * t.bx) / det;
      moved = hypot (nx - *x, ny - *y);
      *x = nx;
      *y = ny;
      if (hypot (nx - x0, ny - y0) > 4.0)
        return FALSE;
      if (moved < 1e-3)
        break;
    }
  t = tensor_at (patch, *x, *y, robust);
  det = t.xx * t.yy - t.xy * t.xy;
  if (!(det > 1e-9 * t.xx * t.yy))
    return FALSE;
  *sd = sqrt (t.rr / MAX (3.0 * t.weight - 2.0, 1.0) * 0.5 * (t.xx + t.yy) / det);
  return TRUE;
}

/* Four fields that meet, light and dark in turn: by its symmetry all that is near helps, where at
 * other corners what is near may be grass or shadow. Told by the mean curvature of the brightness. */
static gboolean
is_saddle (const Patch *patch,
           double       cx,
           double       cy)
{
  int x0 = (int) lround (cx), y0 = (int) lround (cy);
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

static gboolean
is_peak (const Patch *patch,
         int          x,
         int          y)
{
  double v = patch->small[y * patch->w + x];

  for (int dy = -1; dy <= 1; dy++)
    for (int dx = -1; dx <= 1; dx++)
      if (patch->small[(y + dy) * patch->w + x + dx] > v)
        return FALSE;
  return v > 0.0;
}

static gboolean
find_corner (const Patch *patch,
             BlPoint      start,
             double       radius,
             BlSnap      *snap)
{
  int half = patch->w / 2, reach = (int) ceil (radius + INSIDE);
  double threshold = MAX (CORNER_FACTOR * usual (patch, patch->small), LEAST_STEP * LEAST_STEP / 4.0);
  double best = 0.0;

  for (int y = half - reach; y <= half + reach; y++)
    for (int x = half - reach; x <= half + reach; x++)
      {
        double cx = x, cy = y, sd, score, away;
        BlPoint at;

        if (hypot (x - half, y - half) > radius + INSIDE
            || patch->small[y * patch->w + x] < threshold
            || patch->small[y * patch->w + x] < ROUND * patch->large[y * patch->w + x]
            || !is_peak (patch, x, y))
          continue;
        if (!refine (patch, FALSE, &cx, &cy, &sd))
          continue;
        if (!is_saddle (patch, cx, cy))
          {
            cx = x;
            cy = y;
            if (!refine (patch, TRUE, &cx, &cy, &sd))
              continue;
          }
        if (sd > 1.5)
          continue;
        at = BL_POINT (patch->x0 + cx + 0.5, patch->y0 + cy + 0.5);
        away = bl_dist (at, start);
        /* The stronger and sharper wins, but the nearer counts for more. */
        score = patch->small[y * patch->w + x] * exp (-2.0 * away * away / (radius * radius)) / sd;
        if (away > radius || score <= best)
          continue;
        best = score;
        snap->at = at;
        snap->sd = MAX (sd, LEAST_SD);
      }
  return best > 0.0;
}

static double
strength (const Patch *patch,
          double       x,
          double       y)
{
  int ix = (int) floor (x), iy = (int) floor (y);
  double fx = x - ix, fy = y - iy, s[2][2];

  if (ix < 0 || iy < 0 || ix + 1 >= patch->w || iy + 1 >= patch->h)
    return 0.0;
  for (int v = 0; v < 2; v++)
    for (int u = 0; u < 2; u++)
      {
        gsize i = (gsize) (iy + v) * patch->w + ix + u;

        s[v][u] = 0.0;
        for (int c = 0; c < 3; c++)
          s[v][u] += patch->gx[c][i] * patch->gx[c][i] + patch->gy[c][i] * patch->gy[c][i];
        s[v][u] = sqrt (s[v][u]);
      }
  return (1.0 - fy) * ((1.0 - fx) * s[0][0] + fx * s[0][1])
         + fy * ((1.0 - fx) * s[1][0] + fx * s[1][1]);
}

/* The direction in which the colours change most. */
static void
gradient_direction (const Patch *patch,
                    int          i,
                    double      *nx,
                    double      *ny)
{
  double xx = 0.0, xy = 0.0, yy = 0.0, angle;

  for (int c = 0; c < 3; c++)
    {
      xx += patch->gx[c][i] * patch->gx[c][i];
      xy += patch->gx[c][i] * patch->gy[c][i];
      yy += patch->gy[c][i] * patch->gy[c][i];
    }
  angle = 0.5 * atan2 (2.0 * xy, xx - yy);
  *nx = cos (angle);
  *ny = sin (angle);
}

/* The crest of the gradient along its own direction: nearest to the click among the strong. */
static gboolean
find_edge (const Patch *patch,
           BlPoint      start,
           double       radius,
           BlSnap      *snap)
{
  double threshold = MAX (EDGE_FACTOR * usual (patch, patch->small), LEAST_STEP * LEAST_STEP / 4.0);
  double best = INFINITY;
  int half = patch->w / 2, reach = (int) ceil (radius);

  for (int y = half - reach; y <= half + reach; y++)
    for (int x = half - reach; x <= half + reach; x++)
      {
        int i = y * patch->w + x;
        double g = strength (patch, x, y), nx, ny, lo, hi, bend, at, away;

        if (g < LEAST_STEP || patch->large[i] < threshold
            || patch->small[i] > 0.15 * patch->large[i])
          continue;
        gradient_direction (patch, i, &nx, &ny);
        lo = strength (patch, x - nx, y - ny);
        hi = strength (patch, x + nx, y + ny);
        bend = lo - 2.0 * g + hi;
        if (g < lo || g < hi || !(bend < 0.0))
          continue;
        at = 0.5 * (lo - hi) / bend;
        if (fabs (at) > 1.0)
          continue;
        /* The click moves across the edge only. */
        away = (patch->x0 + x + 0.5 + at * nx - start.x) * nx
               + (patch->y0 + y + 0.5 + at * ny - start.y) * ny;
        if (hypot (patch->x0 + x + 0.5 - start.x, patch->y0 + y + 0.5 - start.y)
            > fabs (away) + 1.0 || fabs (away) >= MIN (best, radius))
          continue;
        best = fabs (away);
        snap->at = BL_POINT (start.x + away * nx, start.y + away * ny);
        snap->direction = atan2 (nx, -ny);
        snap->sd = MAX (0.25 * sqrt (patch->small[i] / patch->large[i]) + LEAST_SD, LEAST_SD);
      }
  return isfinite (best);
}

BlSnap
bl_snap (const BlPixels *pixels,
         BlPoint         start,
         double          radius)
{
  BlSnap snap = { BL_SNAP_NONE, start, 0.0, 0.0 };
  g_auto (Patch) patch = { 0 };

  g_return_val_if_fail (pixels != NULL && radius > 0.0 && radius <= 64.0, snap);
  if (!(start.x >= 0.0 && start.y >= 0.0 && start.x <= pixels->width && start.y <= pixels->height))
    return snap;
  patch_init (&patch, pixels, start, radius);
  if (find_corner (&patch, start, radius, &snap))
    snap.kind = BL_SNAP_CORNER;
  else if (find_edge (&patch, start, radius, &snap))
    snap.kind = BL_SNAP_EDGE;
  return snap;
}
