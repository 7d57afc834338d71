/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Straight edges and joints fitted to their crests by least squares. */
#include "photo/snap-line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ACROSS 9           /* half pixels looked at on each side of a line */
#define BESIDE 5           /* half pixels from a line where it is over */
#define ALONG 10.0         /* pixels, Gaussian weight of a point along its line */
#define ARM BL_SNAP_ARM
#define SHOWN BL_SNAP_SHOWN
#define NARROW BL_SNAP_NARROW
#define WIDE BL_SNAP_WIDE
#define OFF 0.4            /* pixels by which a point misses its line before it counts for less */

/* The colours' slope along @n at one place, between the pixels. */
static void
colour_slope (const BlPatch *patch,
              BlPoint        p,
              BlPoint        n,
              double         out[3])
{
  int ix = CLAMP ((int) floor (p.x), 0, patch->w - 2);
  int iy = CLAMP ((int) floor (p.y), 0, patch->h - 2);
  double fx = CLAMP (p.x - ix, 0.0, 1.0), fy = CLAMP (p.y - iy, 0.0, 1.0);
  double weight[4] = { (1.0 - fy) * (1.0 - fx), (1.0 - fy) * fx, fy * (1.0 - fx), fy * fx };

  for (int c = 0; c < 3; c++)
    {
      out[c] = 0.0;
      for (int k = 0; k < 4; k++)
        {
          int i = (iy + k / 2) * patch->w + ix + k % 2;

          out[c] += weight[k] * (n.x * patch->gx[c][i] + n.y * patch->gy[c][i]);
        }
    }
}

/* What lies across a line at each pixel along it: rows from -ARM to ARM, columns half pixels. */
typedef struct
{
  double at[2 * ARM + 1][2 * ACROSS + 1];
} Section;

/* Steps: the slope along the line's own change of colour. Joints: how the grey bends. */
static void
cut_section (const BlPatch *patch,
             BlPoint        corner,
             BlSnapLine          *line,
             gboolean       first,
             gboolean       last,
             int            near,
             Section       *section)
{
  BlPoint n = BL_POINT (-line->along.y, line->along.x);
  double mean[3] = { 0.0 }, size, bend = 0.0;
  static const double WEIGHT[3] = { 1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0 };
  double slope[2 * ARM + 1][2 * ACROSS + 2 * WIDE + 1][3];
  int reach = line->joint ? line->reach : 0;

  for (int s = -ARM; s <= ARM; s++)
    for (int d = -ACROSS - WIDE; d <= ACROSS + WIDE; d++)
      {
        BlPoint p = bl_add (corner, bl_add (bl_mul (line->along, s), bl_mul (n, 0.5 * d)));

        if (s < 0 ? !first : !last)
          memset (slope[s + ARM][d + ACROSS + WIDE], 0, sizeof slope[0][0]);
        else
          colour_slope (patch, p, n, slope[s + ARM][d + ACROSS + WIDE]);
        for (int c = 0; c < 3 && abs (d) <= 1 && abs (s) >= near && abs (s) < near + SHOWN; c++)
          mean[c] += slope[s + ARM][d + ACROSS + WIDE][c];
      }
  size = sqrt (mean[0] * mean[0] + mean[1] * mean[1] + mean[2] * mean[2]);
  for (int c = 0; c < 3; c++)
    line->colour[c] = line->joint ? WEIGHT[c] : mean[c] / MAX (size, 1e-9);
  for (int s = 0; s <= 2 * ARM; s++)
    for (int d = 0; d <= 2 * ACROSS; d++)
      {
        section->at[s][d] = 0.0;
        for (int c = 0; c < 3; c++)
          section->at[s][d] += line->colour[c] * (line->joint ? slope[s][d + WIDE + reach][c]
                                                                - slope[s][d + WIDE - reach][c]
                                                              : slope[s][d + WIDE][c]);
        if (line->joint && abs (s - ARM) >= near && abs (s - ARM) < near + SHOWN
            && abs (d - ACROSS) <= 1)
          bend += section->at[s][d];
      }
  for (int s = 0; s <= 2 * ARM && bend < 0.0; s++)
    for (int d = 0; d <= 2 * ACROSS; d++)
      section->at[s][d] = -section->at[s][d];
}

/* The crest of a section, three rows together, since a thin line comes in dashes of pixels. FALSE
 * when there is none near the line. */
static gboolean
crest (const Section *section,
       int            row,
       double        *off,
       double        *height)
{
  double v[2 * ACROSS + 1];
  int best = 0; /* a crest has a row on either side of it, so it is never the first */

  for (int d = 0; d <= 2 * ACROSS; d++)
    {
      v[d] = 0.0;
      for (int r = MAX (row - 1, 0); r <= MIN (row + 1, 2 * ARM); r++)
        v[d] += section->at[r][d] / 3.0;
    }
  for (int d = 1; d < 2 * ACROSS; d++)
    if (v[d] > 0.0 && v[d] >= v[d - 1] && v[d] >= v[d + 1]
        && fabs (0.5 * (d - ACROSS)) <= 1.5 && (best == 0 || v[d] > v[best]))
      best = d;
  if (best == 0)
    return FALSE;
  *height = v[best];
  *off = 0.5 * (best - ACROSS
                + 0.5 * (v[best - 1] - v[best + 1])
                      / MIN (v[best - 1] - 2.0 * v[best] + v[best + 1], -1e-9));
  return TRUE;
}

/* How a line stands out from what is beside it, 0 to 1, on its clearer arm and against its calmer
 * side: one side of a walk's edge is grass, but a blade of grass has its like on both. */
static double
clearness (const Section *section,
           double         a,
           double         b,
           int            near,
           gboolean       first,
           gboolean       last)
{
  double best = 0.0;

  for (int arm = 0; arm < 2; arm++)
    {
      double mean = 0.0, beside[2] = { 0.0 }, calm;
      int n[2] = { 0 };

      if (arm == 0 ? !first : !last)
        continue;
      for (int k = near; k < near + SHOWN; k++)
        {
          int s = arm == 0 ? -k : k;
          int d = CLAMP ((int) lround (2.0 * (a + b * s)), -ACROSS, ACROSS);

          mean += section->at[s + ARM][d + ACROSS] / SHOWN;
          for (int e = -ACROSS; e <= ACROSS; e++)
            if (abs (e - d) >= BESIDE)
              {
                double v = section->at[s + ARM][e + ACROSS];

                beside[e > d] += v * v;
                n[e > d]++;
              }
        }
      calm = sqrt (MIN (beside[0] / MAX (n[0], 1), beside[1] / MAX (n[1], 1)));
      if (mean > 0.0)
        best = MAX (best, mean / (mean + 2.0 * calm));
    }
  return best;
}

/* Where each row's crest lies off the line, and the straight line through them. */
typedef struct
{
  double off[2 * ARM + 1], height[2 * ARM + 1]; /* height 0: no crest */
  double usual;                                 /* height where the line must be */
  double a, b;                                  /* off = a + b row */
  double sd_a, sd_b;
} Course;

static gboolean
find_crests (const Section *section,
             int            near,
             gboolean       first,
             gboolean       last,
             Course        *course)
{
  double sum = 0.0, count = 0.0;

  for (int s = 0; s <= 2 * ARM; s++)
    {
      if (abs (s - ARM) < near || (s < ARM ? !first : !last)
          || !crest (section, s, &course->off[s], &course->height[s]))
        course->off[s] = course->height[s] = 0.0;
      if (abs (s - ARM) < near + SHOWN)
        {
          sum += course->height[s];
          count += course->height[s] > 0.0;
        }
    }
  course->usual = sum / MAX (count, 1.0);
  return count >= 4.0;
}

/* One round of least squares, crests off the last round's line counting for less. @further: beyond
 * where the line must be, as far as it goes on. */
static gboolean
straighten (Course  *course,
            int      near,
            gboolean further)
{
  double sw = 0.0, ss = 0.0, sxx = 0.0, so = 0.0, sxo = 0.0, rr = 0.0, count = 0.0, det, share;

  for (int side = -1; side <= 1; side += 2)
    for (int k = near, gap = 0; k <= ARM && gap < 3; k++)
      {
        int i = ARM + side * k;
        double s = side * k, miss = course->off[i] - course->a - course->b * s, w;

        if (k >= near + SHOWN
            && (!further || course->height[i] < 0.35 * course->usual || fabs (miss) > 0.75))
          {
            gap++;
            continue;
          }
        if (course->height[i] <= 0.0)
          continue;
        gap = 0;
        w = exp (-0.5 * s * s / (ALONG * ALONG)) * MIN (course->height[i], 2.0 * course->usual)
            / (1.0 + miss * miss / (OFF * OFF));
        sw += w;
        ss += w * s;
        sxx += w * s * s;
        so += w * course->off[i];
        sxo += w * s * course->off[i];
        rr += w * miss * miss;
        count += 1.0;
      }
  det = sw * sxx - ss * ss;
  if (!(det > 1e-9))
    return FALSE;
  course->a = (sxx * so - ss * sxo) / det;
  course->b = (sw * sxo - ss * so) / det;
  /* Three rows are one measurement. */
  share = rr / sw / MAX (count / 3.0 - 1.0, 0.5);
  course->sd_a = sqrt (share * sxx * sw / det);
  course->sd_b = sqrt (share * sw * sw / det);
  return TRUE;
}

gboolean
bl_snap_line_fit (const BlPatch *patch,
                  BlPoint        corner,
                  gboolean       first,
                  gboolean       last,
                  int            near,
                  BlSnapLine    *line)
{
  Section section;
  Course course = { 0 };
  BlPoint n = BL_POINT (-line->along.y, line->along.x);
  double ahead = bl_dot (bl_sub (corner, line->on), line->along);

  /* The section is cut on the line, at the place nearest the corner. */
  corner = bl_add (line->on, bl_mul (line->along, ahead));
  cut_section (patch, corner, line, first, last, near, &section);
  if (!find_crests (&section, near, first, last, &course))
    return FALSE;
  for (int round = 0; round < 10; round++)
    if (!straighten (&course, near, round >= 4))
      return FALSE;
  if (fabs (course.a) > 2.5 || fabs (course.b) > 0.35)
    return FALSE;
  line->ahead = line->behind = 0;
  for (int i = 0; i <= 2 * ARM; i++)
    if (abs (i - ARM) < near + SHOWN && course.height[i] > 0.35 * course.usual
        && fabs (course.off[i] - course.a - course.b * (i - ARM)) < 0.75)
      *(i < ARM ? &line->behind : &line->ahead) += 1;
  line->clear = clearness (&section, course.a, course.b, near, first, last);
  line->on = bl_add (corner, bl_mul (n, course.a));
  line->along = bl_add (line->along, bl_mul (n, course.b));
  line->along = bl_mul (line->along, 1.0 / bl_norm (line->along));
  line->sd = course.sd_a;
  line->turn = course.sd_b;
  return TRUE;
}
