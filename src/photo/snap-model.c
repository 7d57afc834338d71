/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners fitted as fields of colour by weighed least squares. */
#include "photo/snap-fit-private.h"

#include <math.h>
#include <string.h>

#define REACH BL_CORNER_REACH
#define ARMS BL_CORNER_ARMS
#define FIRST 4            /* unknown that is an angle */
#define UNKNOWNS (FIRST + ARMS)
#define ROUNDS 8
#define AGAIN 4            /* the round that a corner known nearly starts with */
#define SOFT 0.7           /* pixels from an edge that its own blur reaches */
#define SHARP 0.6          /* ... of brightness alone */
#define SOFT_COLOUR 1.8    /* ... of colours alone, that photos keep at half the resolution */
#define TAPER 5.5          /* pixels, Gaussian weight of a pixel */
#define BAND 2.5           /* pixels from an arm that tell of it: beyond may be something else */
#define CLOSE 1.2          /* ... when the corner is to be placed: worn edges are lighter further in */
#define CORE 1.0           /* pixels, Gaussian, at the corner itself, that is worn round */
#define ALIKE 5.0          /* so many neighbouring pixels err as one, to begin with */
#define AMISS 2.2          /* errors on rendered scenes to those by the texture alone */
#define MIXED 0.12         /* share of a step by which a pixel on it may be off */
#define FIRST_SPREAD 900.0 /* levels squared, as light */
#define LEAST_SD 2.0       /* levels, of a field */
#define OFF 2.5            /* standard deviations at which a pixel counts for less */
#define BEND 0.12          /* radians by which an edge may well bend at a corner */
#define WIDTH 1.6          /* pixels, a usual joint, and how far it may well be off */
#define FACE 1.0           /* pixels, that may well be seen of an upright face below an edge */
#define DEPTH 80.0         /* levels, as light, that a joint may well differ from what is beside it */
#define LEAST_WIDTH 0.7
#define MOST_WIDTH 5.0
#define WORN 0.33          /* share of the face over which the light falls off */
#define MOST_FACE 4.0
#define LEAST_TURN 0.2     /* radians between two arms */
#define MOST_MOVE 2.5      /* pixels */

static double
soft_step (double d,
           double soft)
{
  double t = CLAMP (d / soft, -1.0, 1.0);

  return 0.5 + t * (0.75 - 0.25 * t * t);
}

static void
take_pixels (BlFit *fit)
{
  const BlPatch *patch = fit->patch;
  BlPoint at = fit->corner->at;
  double reach = REACH * fit->corner->scale, taper = TAPER * fit->corner->scale;

  fit->n_pixels = 0;
  for (int y = MAX ((int) (at.y - reach), 0); y <= MIN ((int) (at.y + reach) + 1, patch->h - 1); y++)
    for (int x = MAX ((int) (at.x - reach), 0); x <= MIN ((int) (at.x + reach) + 1, patch->w - 1); x++)
      {
        double rr = (x - at.x) * (x - at.x) + (y - at.y) * (y - at.y);
        BlFitPixel *pixel = &fit->pixels[fit->n_pixels];

        if (rr >= reach * reach || fit->n_pixels == BL_FIT_PIXELS)
          continue;
        pixel->x = x;
        pixel->y = y;
        for (int c = 0; c < 3; c++)
          pixel->v[c] = fit->settle ? patch->kept[c][y * patch->w + x]
                                    : patch->light[c][y * patch->w + x];
        pixel->round = exp (-0.5 * rr / (taper * taper));
        if (fit->settle)
          pixel->round *= 1.0 - exp (-0.5 * rr / (CORE * CORE));
        fit->n_pixels++;
      }
}

/* How much of each field and joint a pixel holds; how far it is from the nearest arm. */
static double
set_columns (const BlFit      *fit,
             const BlCorner   *corner,
             const BlPoint    *along,
             const BlFitPixel *pixel,
             int               set,
             double            columns[BL_FIT_COLUMNS])
{
  BlPoint from_corner = BL_POINT (pixel->x - corner->at.x, pixel->y - corner->at.y);
  BlPoint below = from_corner;
  double soft = fit->soft[set];
  double nearest = INFINITY, off = 0.0;
  guint n = corner->n_arms, arm = 0;

  memset (columns, 0, sizeof (double) * BL_FIT_COLUMNS);
  if (corner->faced >= 0)
    {
      BlPoint u = bl_sub (along[(corner->faced + 1) % n], along[corner->faced]);

      below = bl_sub (below, bl_mul (BL_POINT (u.y, -u.x), (set == 0 ? WORN : 1.0) * corner->face / bl_norm (u)));
    }
  for (guint k = 0; k < n; k++)
    {
      gboolean shifted = corner->faced >= 0
                         && (k == (guint) corner->faced || k == (corner->faced + 1) % n);
      BlPoint p = shifted ? below : from_corner;
      double across = bl_cross (along[k], p), ahead = bl_dot (along[k], p), from;

      from = ahead > 0.0 ? fabs (across) : fabs (across) - ahead;
      if (from < nearest)
        {
          nearest = from;
          arm = k;
          off = ahead > 0.0 ? across : copysign (soft, across);
        }
      if (fit->line[k] >= 0 && ahead > -0.5 && fabs (across) < 0.5 * corner->width + soft)
        columns[fit->line[k]] = MIN (ahead + 0.5, 1.0)
                                * (soft_step (across + 0.5 * corner->width, soft)
                                   - soft_step (across - 0.5 * corner->width, soft));
    }
  off = soft_step (off, soft);
  columns[arm] += off;
  columns[arm > 0 ? arm - 1 : n - 1] += 1.0 - off;
  return nearest;
}

static void
set_directions (const BlCorner *corner,
                BlPoint         along[ARMS])
{
  for (guint k = 0; k < corner->n_arms; k++)
    along[k] = BL_POINT (cos (corner->angle[k]), sin (corner->angle[k]));
}

/* The Cholesky factor of a symmetric positive system of @n, in place; FALSE when it is not. */
static gboolean
factor (double *a,
        guint   stride,
        guint   n)
{
  for (guint j = 0; j < n; j++)
    {
      double d = a[j * stride + j];

      for (guint k = 0; k < j; k++)
        d -= a[j * stride + k] * a[j * stride + k];
      if (!(d > 1e-12))
        return FALSE;
      a[j * stride + j] = d = sqrt (d);
      for (guint i = j + 1; i < n; i++)
        {
          double s = a[i * stride + j];

          for (guint k = 0; k < j; k++)
            s -= a[i * stride + k] * a[j * stride + k];
          a[i * stride + j] = s / d;
        }
    }
  return TRUE;
}

static void
halve (const double *a,
       guint         stride,
       guint         n,
       double       *b)
{
  for (guint i = 0; i < n; i++)
    {
      for (guint k = 0; k < i; k++)
        b[i] -= a[i * stride + k] * b[k];
      b[i] /= a[i * stride + i];
    }
}

static gboolean
solve (double *a,
       guint   stride,
       guint   n,
       double *b)
{
  if (!factor (a, stride, n))
    return FALSE;
  halve (a, stride, n, b);
  for (guint i = n; i-- > 0;)
    {
      for (guint k = i + 1; k < n; k++)
        b[i] -= a[k * stride + i] * b[k];
      b[i] /= a[i * stride + i];
    }
  return TRUE;
}

gboolean
bl_fit_colours (const BlFit *fit,
                const int   *onto,
                guint        n,
                double       colour[BL_FIT_COLUMNS][3])
{
  double a[3][BL_FIT_COLUMNS * BL_FIT_COLUMNS] = { { 0.0 } }, b[3][BL_FIT_COLUMNS] = { { 0.0 } };

  for (guint p = 0; p < fit->n_pixels; p++)
    {
      const BlFitPixel *pixel = &fit->pixels[p];

      for (int k = 0; k < pixel->n_holds; k++)
        {
          int i = onto[pixel->holds[k]];

          for (int c = 0; c < 3 && i >= 0; c++)
            {
              double w = pixel->weight[c] * pixel->columns[c > 0][pixel->holds[k]];

              for (int q = 0; q < pixel->n_holds; q++)
                {
                  int j = onto[pixel->holds[q]];

                  if (j >= 0 && j <= i)
                    a[c][i * BL_FIT_COLUMNS + j] += w * pixel->columns[c > 0][pixel->holds[q]];
                }
              b[c][i] += w * pixel->v[c];
            }
        }
    }
  for (int c = 0; c < 3; c++)
    {
      for (guint i = 0; i < n; i++)
        a[c][i * BL_FIT_COLUMNS + i] += 1e-6 + 1e-6 * a[c][i * BL_FIT_COLUMNS + i];
      for (guint i = fit->corner->n_arms; i < fit->n_columns; i++)
        if (onto[i] >= 0)
          a[c][onto[i] * BL_FIT_COLUMNS + onto[i]] += fit->alike / (DEPTH * DEPTH);
      if (!solve (a[c], BL_FIT_COLUMNS, n, b[c]))
        return FALSE;
      for (guint i = 0; i < n; i++)
        colour[i][c] = b[c][i];
    }
  return TRUE;
}

static guint
main_field (const BlFit      *fit,
            const BlFitPixel *pixel)
{
  guint best = 0;

  for (guint k = 1; k < fit->corner->n_arms; k++)
    if (pixel->columns[0][k] > pixel->columns[0][best])
      best = k;
  return best;
}

static gboolean
is_pure (const BlFit      *fit,
         const BlFitPixel *pixel,
         guint             field)
{
  for (guint i = fit->corner->n_arms; i < fit->n_columns; i++)
    if (pixel->columns[1][i] > 0.02)
      return FALSE;
  return pixel->columns[1][field] > 0.98;
}

/* The variance of a pixel: its field's, and where an edge or joint parts it a share of the step, since
 * no model of how a camera mixes is exact. */
static void
set_spread (const BlFit      *fit,
            const BlFitPixel *pixel,
            double            spread[3])
{
  guint n = fit->corner->n_arms, field = main_field (fit, pixel);

  for (int c = 0; c < 3; c++)
    {
      const double *columns = pixel->columns[c > 0];
      double step = 0.0;

      for (guint k = 0; k < n && pixel->n_holds > 1; k++)
        {
          guint other = (k + n - 1) % n;
          double d = fit->colour[k][c] - fit->colour[other][c];

          step += 4.0 * columns[k] * columns[other] * d * d;
          if (fit->line[k] >= 0)
            step += MIN (2.0 * columns[fit->line[k]], 1.0)
                    * fit->colour[fit->line[k]][c] * fit->colour[fit->line[k]][c];
        }
      spread[c] = fit->spread[field][c] + MIXED * MIXED * step;
    }
}

/* How uneven each field is, and from it what each pixel counts for. */
static void
weigh (BlFit *fit)
{
  double sum[ARMS][3] = { { 0.0 } }, count[ARMS] = { 0.0 };
  guint n = fit->corner->n_arms;

  for (guint p = 0; p < fit->n_pixels; p++)
    {
      BlFitPixel *pixel = &fit->pixels[p];
      guint field = main_field (fit, pixel);

      if (!is_pure (fit, pixel, field))
        continue;
      for (int c = 0; c < 3; c++)
        sum[field][c] += pixel->taper * MIN (pixel->miss[c] * pixel->miss[c],
                                             16.0 * fit->spread[field][c]);
      count[field] += pixel->taper;
    }
  for (guint k = 0; k < n; k++)
    {
      /* Of light, a level is worth more where it is bright. */
      double bright = CLAMP (fit->colour[k][0] / (255.0 * sqrt (3.0)), 0.0, 1.0);
      double least = LEAST_SD * (0.3 + BL_PATCH_LIGHT * pow (bright, 1.0 - 1.0 / BL_PATCH_LIGHT));

      for (int c = 0; c < 3; c++)
        fit->spread[k][c] = MAX (sum[k][c] / MAX (count[k] - 1.0, 1.0), least * least);
    }
  for (guint p = 0; p < fit->n_pixels; p++)
    {
      BlFitPixel *pixel = &fit->pixels[p];
      double spread[3], off = 0.0;

      set_spread (fit, pixel, spread);
      for (int c = 0; c < 3; c++)
        off += pixel->miss[c] * pixel->miss[c] / spread[c];
      off = pixel->taper / (1.0 + off / (3.0 * fit->off * fit->off));
      for (int c = 0; c < 3; c++)
        pixel->weight[c] = off / spread[c];
    }
}

static void
set_misses (BlFit *fit)
{
  for (guint p = 0; p < fit->n_pixels; p++)
    for (int c = 0; c < 3; c++)
      {
        BlFitPixel *pixel = &fit->pixels[p];

        pixel->miss[c] = pixel->v[c];
        for (int i = 0; i < pixel->n_holds; i++)
          pixel->miss[c] -= pixel->columns[c > 0][pixel->holds[i]] * fit->colour[pixel->holds[i]][c];
      }
}

static gboolean
render (BlFit   *fit,
        gboolean first)
{
  int onto[BL_FIT_COLUMNS];
  BlPoint along[ARMS];

  for (guint i = 0; i < fit->n_columns; i++)
    onto[i] = (int) i;
  set_directions (fit->corner, along);
  for (guint p = 0; p < fit->n_pixels; p++)
    {
      BlFitPixel *pixel = &fit->pixels[p];
      double from = set_columns (fit, fit->corner, along, pixel, 0, pixel->columns[0]);

      if (fit->settle)
        set_columns (fit, fit->corner, along, pixel, 1, pixel->columns[1]);
      else
        memcpy (pixel->columns[1], pixel->columns[0], sizeof pixel->columns[0]);
      pixel->n_holds = 0;
      for (guint i = 0; i < fit->n_columns; i++)
        if (pixel->columns[0][i] != 0.0 || pixel->columns[1][i] != 0.0)
          pixel->holds[pixel->n_holds++] = (int) i;
      pixel->plain = from > fit->soft[1] + 0.5 * fit->corner->width + 0.3;
      from /= fit->settle ? CLOSE : BAND * (0.4 + 0.6 * fit->corner->scale);

      pixel->taper = pixel->round * exp (-0.5 * from * from * from * from);
    }
  if (!first)
    {
      set_misses (fit);
      weigh (fit);
    }
  for (guint p = 0; p < fit->n_pixels && first; p++)
    for (int c = 0; c < 3; c++)
      fit->pixels[p].weight[c] = fit->pixels[p].taper / FIRST_SPREAD;
  if (!bl_fit_colours (fit, onto, fit->n_columns, fit->colour))
    return FALSE;
  set_misses (fit);
  return TRUE;
}

static double *
unknown (BlCorner *corner,
         guint     k)
{
  return k == 0 ? &corner->at.x : k == 1 ? &corner->at.y : k == 2 ? &corner->width
         : k == 3                           ? &corner->face : &corner->angle[k - FIRST];
}

static gboolean
is_edge (const BlCorner *corner)
{
  return corner->n_arms == 2 && fabs (corner->angle[1] - corner->angle[0] - G_PI) < 3.0 * BEND;
}

/* Takes out of the normal equations what a change of the colours would explain as well. */
static void
project (const BlFit *fit,
         double       cross[UNKNOWNS][3][BL_FIT_COLUMNS],
         guint        n,
         double       a[UNKNOWNS * UNKNOWNS])
{
  for (int c = 0; c < 3; c++)
    {
      double m[BL_FIT_COLUMNS * BL_FIT_COLUMNS] = { 0.0 };

      for (guint p = 0; p < fit->n_pixels; p++)
        {
          const BlFitPixel *pixel = &fit->pixels[p];

          for (int i = 0; i < pixel->n_holds; i++)
            for (int j = 0; j <= i; j++)
              m[pixel->holds[i] * BL_FIT_COLUMNS + pixel->holds[j]]
                  += pixel->weight[c] * pixel->columns[c > 0][pixel->holds[i]]
                     * pixel->columns[c > 0][pixel->holds[j]];
        }
      for (guint i = 0; i < fit->n_columns; i++)
        m[i * BL_FIT_COLUMNS + i] += 1e-6 + 1e-6 * m[i * BL_FIT_COLUMNS + i];
      for (guint i = fit->corner->n_arms; i < fit->n_columns; i++)
        m[i * BL_FIT_COLUMNS + i] += fit->alike / (DEPTH * DEPTH);
      if (!factor (m, BL_FIT_COLUMNS, fit->n_columns))
        continue;
      for (guint k = 0; k < n; k++)
        halve (m, BL_FIT_COLUMNS, fit->n_columns, cross[k][c]);
      for (guint i = 0; i < n; i++)
        for (guint j = 0; j <= i; j++)
          for (guint q = 0; q < fit->n_columns; q++)
            a[i * UNKNOWNS + j] -= cross[i][c][q] * cross[j][c][q] / fit->alike;
    }
}

/* What is usual of corners, as if it had been measured. */
static void
add_usual (const BlCorner *corner,
           double          a[UNKNOWNS * UNKNOWNS],
           double          b[UNKNOWNS])
{
  double along[2] = { cos (corner->angle[0]), sin (corner->angle[0]) };

  a[2 * UNKNOWNS + 2] += 1.0 / (WIDTH * WIDTH);
  b[2] += (WIDTH - corner->width) / (WIDTH * WIDTH);
  a[3 * UNKNOWNS + 3] += corner->faced < 0 ? 1e6 : 1.0 / (FACE * FACE);
  b[3] += corner->faced < 0 ? 0.0 : (0.0 - corner->face) / (FACE * FACE);
  for (guint i = 0; i < corner->n_arms; i++)
    for (guint j = 0; j < i; j++)
      {
        double turn = corner->angle[i] - corner->angle[j] - G_PI;

        if (fabs (turn) > 3.0 * BEND)
          continue;
        a[(FIRST + i) * UNKNOWNS + FIRST + i] += 1.0 / (BEND * BEND);
        a[(FIRST + j) * UNKNOWNS + FIRST + j] += 1.0 / (BEND * BEND);
        a[(FIRST + i) * UNKNOWNS + FIRST + j] -= 1.0 / (BEND * BEND);
        b[FIRST + i] -= turn / (BEND * BEND);
        b[FIRST + j] += turn / (BEND * BEND);
      }
  for (guint i = 0; i < FIRST + corner->n_arms; i++)
    a[i * UNKNOWNS + i] += 1e-3;
  /* Where along an edge, nothing tells. */
  if (is_edge (corner))
    for (int i = 0; i < 2; i++)
      for (int j = 0; j <= i; j++)
        a[i * UNKNOWNS + j] += 100.0 * along[i] * along[j];
}

/* Normal equations of the unknowns, with what is usual of corners. */
static void
gather (const BlFit *fit,
        double       a[UNKNOWNS * UNKNOWNS],
        double       b[UNKNOWNS])
{
  static const double NUDGE[UNKNOWNS] = { 0.1, 0.1, 0.1, 0.1, 0.02, 0.02, 0.02, 0.02 };
  guint n = FIRST + fit->corner->n_arms;
  BlCorner nudged[UNKNOWNS];
  BlPoint along[UNKNOWNS][ARMS];
  double cross[UNKNOWNS][3][BL_FIT_COLUMNS] = { 0 };

  memset (a, 0, sizeof (double) * UNKNOWNS * UNKNOWNS);
  memset (b, 0, sizeof (double) * UNKNOWNS);
  for (guint k = 0; k < n; k++)
    {
      nudged[k] = *fit->corner;
      *unknown (&nudged[k], k) += NUDGE[k];
      set_directions (&nudged[k], along[k]);
    }
  for (guint p = 0; p < fit->n_pixels; p++)
    {
      const BlFitPixel *pixel = &fit->pixels[p];
      double slope[UNKNOWNS][3] = { { 0.0 } }, columns[BL_FIT_COLUMNS];

      if (pixel->plain)
        continue;
      for (guint k = 0; k < n; k++)
        {
          for (int set = 0; set <= fit->settle; set++)
            {
              set_columns (fit, &nudged[k], along[k], pixel, set, columns);
              for (guint i = 0; i < fit->n_columns; i++)
                {
                  double more = (columns[i] - pixel->columns[set][i]) / NUDGE[k];

                  for (int c = set; c < (fit->settle && set == 0 ? 1 : 3) && more != 0.0; c++)
                    slope[k][c] += more * fit->colour[i][c];
                }
            }
        }
      for (int c = 0; c < 3; c++)
        for (guint i = 0; i < n; i++)
          {
            double w = pixel->weight[c] * slope[i][c];

            if (w == 0.0)
              continue;
            for (guint j = 0; j <= i; j++)
              a[i * UNKNOWNS + j] += w * slope[j][c] / fit->alike;
            for (int q = 0; q < pixel->n_holds; q++)
              cross[i][c][pixel->holds[q]] += w * pixel->columns[c > 0][pixel->holds[q]];
            b[i] += w * pixel->miss[c] / fit->alike;
          }
    }
  project (fit, cross, n, a);
  add_usual (fit->corner, a, b);
}

static gboolean
is_open (const BlCorner *corner)
{
  guint n = corner->n_arms;

  for (guint k = 0; k < n; k++)
    {
      double next = corner->angle[(k + 1) % n] + (k + 1 == n ? 2.0 * G_PI : 0.0);

      if (next - corner->angle[k] < LEAST_TURN)
        return FALSE;
    }
  return corner->width >= 0.0;
}

/* Of one coordinate; an edge's is across it. */
static gboolean
set_sd (const BlFit *fit)
{
  BlCorner *corner = fit->corner;
  double var = 0.0;

  for (guint k = 0; k < 2; k++)
    {
      double a[UNKNOWNS * UNKNOWNS], b[UNKNOWNS], e[UNKNOWNS] = { 0.0 };

      e[k] = 1.0;
      gather (fit, a, b);
      if (!solve (a, UNKNOWNS, FIRST + corner->n_arms, e))
        return FALSE;
      var += e[k];
    }
  corner->sd = AMISS * sqrt (is_edge (corner) ? var : 0.5 * var);
  return TRUE;
}

/* The field that an edge goes straight past with the rest of the corner above it in the picture: there
 * an upright face may be seen below the edge. */
static int
find_faced (const BlCorner *corner)
{
  guint n = corner->n_arms;

  for (guint k = 0; k < n && n == 3; k++)
    {
      double first = corner->angle[k], turn = corner->angle[(k + 1) % n] - first;

      turn += k + 1 == n ? 2.0 * G_PI : 0.0;
      if (fabs (turn - G_PI) < 3.0 * BEND && sin (first + 0.5 * turn) > 0.3)
        return (int) k;
    }
  return -1;
}

gboolean
bl_corner_fit (const BlPatch *patch,
               BlFitStage     stage,
               BlCorner      *corner)
{
  BlFit fit = { .patch = patch, .corner = corner, .settle = stage == BL_FIT_SETTLE, .n_columns = corner->n_arms,
              .alike = ALIKE };
  BlPoint start = corner->at;
  guint n = FIRST + corner->n_arms;

  for (guint k = 0; k < corner->n_arms; k++)
    fit.line[k] = corner->joint[k] ? (int) fit.n_columns++ : -1;
  if (!fit.settle)
    corner->width = WIDTH;
  corner->face = 0.0;
  corner->faced = fit.settle ? find_faced (corner) : -1;
  for (guint k = 0; k < ARMS; k++)
    for (int c = 0; c < 3; c++)
      fit.spread[k][c] = FIRST_SPREAD;
  for (int round = stage != BL_FIT_FIND ? AGAIN : 0; round < ROUNDS; round++)
    {
      double a[UNKNOWNS * UNKNOWNS], b[UNKNOWNS], moved;
      gboolean first = round == (stage != BL_FIT_FIND ? AGAIN : 0);

      /* From afar first, when a thin line may lie beside where it is looked for. */
      fit.soft[0] = round < 3 ? 1.1 : fit.settle ? SHARP : SOFT;
      fit.soft[1] = fit.settle ? SOFT_COLOUR : fit.soft[0];
      fit.off = round < 3 ? 100.0 : round < 5 ? 2.0 * OFF : OFF;
      take_pixels (&fit);
      if (!is_open (corner) || fit.n_pixels < 30)
        return FALSE;
      if ((first && !render (&fit, TRUE)) || !render (&fit, FALSE))
        return FALSE;
      gather (&fit, a, b);
      if (!solve (a, UNKNOWNS, n, b))
        return FALSE;
      moved = hypot (b[0], b[1]);
      for (guint k = 0; k < n; k++)
        *unknown (corner, k) += b[k] * (k < 2 ? MIN (1.0, 0.8 / MAX (moved, 1e-9)) : 1.0)
                                * (k >= FIRST ? MIN (1.0, 0.2 / MAX (fabs (b[k]), 1e-9)) : 1.0);
      corner->width = CLAMP (corner->width, LEAST_WIDTH, MOST_WIDTH);
      corner->face = CLAMP (corner->face, 0.0, MOST_FACE);
      if (bl_dist (corner->at, start) > MOST_MOVE)
        return FALSE;
      if (moved < 0.02 && round > 3)
        break;
    }
  if (!is_open (corner) || !render (&fit, FALSE))
    return FALSE;
  bl_fit_set_alike (&fit);
  if (!set_sd (&fit))
    return FALSE;
  return bl_fit_judge (&fit);
}
