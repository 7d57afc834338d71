/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a fitted corner tells: against the texture, over its length and against what is beside it. */
#include "photo/snap-fit-private.h"

#include <math.h>
#include <string.h>

#define REACH BL_CORNER_REACH
#define LEAST_ALIKE 2.0    /* pixels that err as one */
#define SHORT 9            /* pixels of an arm that stand out */
#define LENGTH 16          /* pixels along an arm that should look alike */

/* The errors that come with the colours of @onto instead of the best, by pixel. */
static gboolean
weigh_without (const BlFit *fit,
               const int   *onto,
               guint        n,
               double       more[BL_FIT_PIXELS])
{
  double colour[BL_FIT_COLUMNS][3];

  if (!bl_fit_colours (fit, onto, n, colour))
    return FALSE;
  for (guint p = 0; p < fit->n_pixels; p++)
    {
      const BlFitPixel *pixel = &fit->pixels[p];

      more[p] = 0.0;
      for (int c = 0; c < 3; c++)
        {
          double miss = pixel->v[c];

          for (int i = 0; i < pixel->n_holds; i++)
            if (onto[pixel->holds[i]] >= 0)
              miss -= pixel->columns[c > 0][pixel->holds[i]] * colour[onto[pixel->holds[i]]][c];
          more[p] += pixel->weight[c] * (miss * miss - pixel->miss[c] * pixel->miss[c]) / fit->alike;
        }
    }
  return TRUE;
}

/* What a joint explains beyond the fields on its sides. */
static gboolean
weigh_joint (const BlFit *fit,
             guint        arm)
{
  double more[BL_FIT_PIXELS];
  int onto[BL_FIT_COLUMNS];
  guint next = 0;

  fit->corner->depth[arm] = 0.0;
  if (fit->line[arm] < 0)
    return TRUE;
  for (guint i = 0; i < fit->n_columns; i++)
    onto[i] = (int) i == fit->line[arm] ? -1 : (int) next++;
  if (!weigh_without (fit, onto, next, more))
    return FALSE;
  for (guint p = 0; p < fit->n_pixels; p++)
    fit->corner->depth[arm] += more[p];
  return TRUE;
}

/* What an arm explains, on the whole and by thirds of its length. */
static gboolean
weigh_arm (const BlFit *fit,
           guint        arm)
{
  BlCorner *corner = fit->corner;
  guint n = corner->n_arms, next = 0;
  int onto[BL_FIT_COLUMNS] = { 0 };
  double more[BL_FIT_PIXELS], third[3] = { 0.0 }, count[3] = { 0.0 }, mean = 0.0, sum = 0.0;
  BlPoint along = BL_POINT (cos (corner->angle[arm]), sin (corner->angle[arm]));

  for (guint i = 0; i < fit->n_columns; i++)
    onto[i] = (int) i == fit->line[arm] || i == arm ? -1 : (int) next++;
  onto[arm] = onto[(arm + n - 1) % n];
  if (!weigh_without (fit, onto, next, more))
    return FALSE;
  corner->gain[arm] = 0.0;
  for (guint p = 0; p < fit->n_pixels; p++)
    {
      const BlFitPixel *pixel = &fit->pixels[p];
      BlPoint at = BL_POINT (pixel->x - corner->at.x, pixel->y - corner->at.y);
      double ahead = bl_dot (at, along);
      int part = (int) CLAMP ((ahead - 1.0) * 3.0 / (REACH * corner->scale - 1.0), 0.0, 2.0);

      corner->gain[arm] += more[p];
      if (ahead < 1.0 || fabs (bl_cross (at, along)) > 3.5)
        continue;
      third[part] += more[p] / pixel->round;
      count[part] += 1.0;
    }
  corner->even[arm] = INFINITY;
  for (int i = 0; i < 3; i++)
    {
      mean += third[i];
      sum += count[i];
    }
  for (int i = 0; i < 3; i++)
    corner->even[arm] = MIN (corner->even[arm], third[i] / MAX (count[i], 1.0));
  corner->even[arm] /= MAX (mean / MAX (sum, 1.0), 1e-6);
  return TRUE;
}

/* Texture that runs on from pixel to pixel tells less than noise that does not: the errors of
 * neighbours, along rows and columns. */
void
bl_fit_set_alike (BlFit *fit)
{
  double same = 1e-9, next[2] = { 0.0 }, n = 1e-9, count[2] = { 1e-9, 1e-9 };

  for (guint p = 0; p < fit->n_pixels; p++)
    {
      const BlFitPixel *one = &fit->pixels[p];

      for (int c = 0; c < 3; c++)
        same += one->weight[c] * one->miss[c] * one->miss[c];
      n += 1.0;
      for (guint q = p + 1; q < fit->n_pixels && q < p + 2 * REACH + 2; q++)
        {
          const BlFitPixel *other = &fit->pixels[q];
          int down = other->y == one->y + 1.0 && other->x == one->x;

          if (!down && (other->y != one->y || other->x != one->x + 1.0))
            continue;
          for (int c = 0; c < 3; c++)
            next[down] += sqrt (one->weight[c] * other->weight[c]) * one->miss[c] * other->miss[c];
          count[down] += 1.0;
        }
    }
  fit->alike = 1.0;
  for (int i = 0; i < 2; i++)
    {
      double r = CLAMP (next[i] / count[i] / (same / n), 0.0, 0.7);

      fit->alike *= (1.0 + r) / (1.0 - r);
    }
  fit->alike = MAX (fit->alike, LEAST_ALIKE);
}

static void
set_sure (const BlFit *fit)
{
  double sum[3] = { 0.0 }, square = 0.0, miss = 0.0, count = 0.0;
  for (guint p = 0; p < fit->n_pixels; p++)
    {
      const BlFitPixel *pixel = &fit->pixels[p];

      for (int c = 0; c < 3; c++)
        {
          sum[c] += pixel->taper * pixel->v[c];
          square += pixel->taper * pixel->v[c] * pixel->v[c];
          miss += pixel->taper * pixel->miss[c] * pixel->miss[c];
        }
      count += pixel->taper;
    }
  for (int c = 0; c < 3; c++)
    square -= sum[c] * sum[c] / count;
  fit->corner->sure = 1.0 - miss / MAX (square, 1e-9);
}

/* The change across an arm @ahead pixels along it and @aside of it, three pixels together, since a thin
 * line comes in dashes: of a joint, between it and its sides. The square of its size; @sum grows. */
static double
change_across (const BlPatch *patch,
               BlPoint        at,
               BlPoint        along,
               gboolean       joint,
               int            ahead,
               double         aside,
               double         sum[3])
{
  double reach = joint ? 2.5 : 1.5, change[3] = { 0.0 };

  for (int s = ahead - 1; s <= ahead + 1; s++)
    for (int side = -1; side <= 1; side++)
      {
        double d = aside + side * reach;
        int x = (int) lround (at.x + s * along.x - d * along.y);
        int y = (int) lround (at.y + s * along.y + d * along.x);
        gsize i = (gsize) CLAMP (y, 0, patch->h - 1) * patch->w + CLAMP (x, 0, patch->w - 1);

        for (int c = 0; c < 3; c++)
          change[c] += (joint ? (side == 0 ? 1.0 : -0.5) : side) * patch->level[c][i];
      }
  for (int c = 0; c < 3; c++)
    sum[c] += change[c] / 3.0;
  return (change[0] * change[0] + change[1] * change[1] + change[2] * change[2]) / 9.0;
}

/* Grass, soil and leaves may look like a corner from near by; what they lack is length, and being
 * unlike what is beside: one side of a walk's edge is grass, but a blade of grass has its like on
 * both. */
static void
set_along (const BlPatch *patch,
           BlCorner      *corner)
{
  corner->along = corner->clear = 1.0;
  for (guint k = 0; k < corner->n_arms; k++)
    {
      BlPoint u = BL_POINT (cos (corner->angle[k]), sin (corner->angle[k]));
      double sum[3] = { 0.0 }, near[3] = { 0.0 }, none[3], square = 1e-9, size = 0.0, strong = 0.0;
      double n = 0.0, beside[2] = { 0.0 };

      for (int s = 3; s < LENGTH; s += 3)
        {
          square += change_across (patch, corner->at, u, corner->joint[k], s, 0.0, sum);
          n += 1.0;
          if (s > SHORT)
            continue;
          memcpy (near, sum, sizeof near);
          for (int i = 0; i < 4; i++)
            beside[i / 2] += change_across (patch, corner->at, u, corner->joint[k], s,
                                            (i / 2 ? 1.0 : -1.0) * (4.5 + 1.5 * (i % 2)), none)
                             / (2.0 * SHORT / 3.0);
        }
      for (int c = 0; c < 3; c++)
        {
          size += sum[c] * sum[c];
          strong += near[c] * near[c] / (SHORT * SHORT / 9.0);
        }
      corner->along = MIN (corner->along, size / (n * square));
      strong = sqrt (strong);
      corner->clear = MIN (corner->clear,
                           strong / (strong + sqrt (MIN (beside[0], beside[1])) + 1.0));
    }
}

gboolean
bl_fit_judge (const BlFit *fit)
{
  set_along (fit->patch, fit->corner);
  set_sure (fit);
  for (guint k = 0; k < fit->corner->n_arms; k++)
    if (!weigh_arm (fit, k) || !weigh_joint (fit, k))
      return FALSE;
  return TRUE;
}

/* How sure it is that a corner or edge is there, not chance in the texture: nearly the logarithm of the
 * odds, by logistic regression on rendered scenes, corners against soil and lawn. */
double
bl_corner_evidence (const BlCorner *corner)
{
  double gain = 1e-9;

  for (guint k = 0; k < corner->n_arms; k++)
    gain += corner->gain[k];
  return 0.9 * log (gain) + 5.2 * (corner->sure + corner->along) + 2.9 * corner->clear
         - (corner->n_arms == 2 ? 2.7 : 0.0) - 11.0;
}
