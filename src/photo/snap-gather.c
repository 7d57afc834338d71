/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Straight edges and joints gathered from points. */
#include "photo/snap-gather.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LEAST_STEP 4.0     /* levels a pixel; less is noise */
#define LEAST_JOINT 2.5    /* levels a pixel squared */
#define ANGLES 60          /* of the gathering, over half a turn */
#define LINES 10           /* most looked at of each kind */
#define LEAST_VOTES 2.0
#define BEYOND 13.0        /* pixels further than the radius that marks may lie */
#define BESIDE 1.5         /* pixels from an edge where its sides are seen */
#define WIDE 2.5           /* ... and from the middle of a joint */
#define ARM 9              /* pixels that must show a line */

typedef struct
{
  BlPoint at, normal;
  double strength;
  gboolean joint;          /* the middle of a thin line, not a step */
} Mark;

/* The crest of the gradient along its own direction. */
static gboolean
step_mark (const BlPatch *patch,
           int            x,
           int            y,
           Mark          *mark)
{
  int i = y * patch->w + x;
  double g = patch->strength[i], lo, hi, bend, off;
  BlPoint n;

  if (g < LEAST_STEP)
    return FALSE;
  n = bl_patch_direction (patch, i);
  lo = bl_patch_strength (patch, x - n.x, y - n.y);
  hi = bl_patch_strength (patch, x + n.x, y + n.y);
  bend = lo - 2.0 * g + hi;
  if (g < lo || g < hi || !(bend < 0.0))
    return FALSE;
  off = 0.5 * (lo - hi) / bend;
  if (fabs (off) > 0.7)
    return FALSE;
  *mark = (Mark) { BL_POINT (x + off * n.x, y + off * n.y), n, g, FALSE };
  return TRUE;
}

/* The grey levels' slope along @n, between the pixels. */
static double
slope_along (const BlPatch *patch,
             double         x,
             double         y,
             BlPoint        n)
{
  int ix = (int) floor (x), iy = (int) floor (y);
  double fx = x - ix, fy = y - iy, sum = 0.0;

  if (ix < 0 || iy < 0 || ix + 1 >= patch->w || iy + 1 >= patch->h)
    return 0.0;
  for (int k = 0; k < 4; k++)
    {
      int i = (iy + k / 2) * patch->w + ix + k % 2;
      double weight = (k / 2 ? fy : 1.0 - fy) * (k % 2 ? fx : 1.0 - fx);

      for (int c = 0; c < 3; c++)
        sum += weight * (n.x * patch->gx[c][i] + n.y * patch->gy[c][i]) / 3.0;
    }
  return sum;
}

/* The middle of a thin line: where the brightness is flat across it and bends most (Steger
 * 1998). */
static gboolean
joint_mark (const BlPatch *patch,
            int            x,
            int            y,
            Mark          *mark)
{
  int i = y * patch->w + x, w = patch->w;
  double xx = 0.0, xy = 0.0, yy = 0.0, gx = 0.0, gy = 0.0, angle, bend, other, off, before, after;
  BlPoint n;

  for (int c = 0; c < 3; c++)
    {
      xx += (patch->gx[c][i + 1] - patch->gx[c][i - 1]) / 6.0;
      yy += (patch->gy[c][i + w] - patch->gy[c][i - w]) / 6.0;
      xy += (patch->gx[c][i + w] - patch->gx[c][i - w] + patch->gy[c][i + 1] - patch->gy[c][i - 1])
            / 12.0;
      gx += patch->gx[c][i] / 3.0;
      gy += patch->gy[c][i] / 3.0;
    }
  angle = 0.5 * atan2 (2.0 * xy, xx - yy);
  n = BL_POINT (cos (angle), sin (angle));
  bend = n.x * n.x * xx + 2.0 * n.x * n.y * xy + n.y * n.y * yy;
  other = xx + yy - bend;
  if (fabs (other) > fabs (bend))
    {
      n = BL_POINT (-n.y, n.x);
      bend = other;
    }
  if (fabs (bend) < LEAST_JOINT)
    return FALSE;
  off = -(n.x * gx + n.y * gy) / bend;
  if (fabs (off) > 0.7)
    return FALSE;
  /* The brightness falls to one side of the middle and rises on the other, or the other way round;
   * beside a step it does only the one. */
  before = slope_along (patch, x + (off - 1.2) * n.x, y + (off - 1.2) * n.y, n);
  after = slope_along (patch, x + (off + 1.2) * n.x, y + (off + 1.2) * n.y, n);
  if (before * after >= 0.0
      || MIN (fabs (before), fabs (after)) < 0.2 * MAX (fabs (before), fabs (after)))
    return FALSE;
  *mark = (Mark) { BL_POINT (x + off * n.x, y + off * n.y), n, fabs (bend), TRUE };
  return TRUE;
}

static GArray *
find_marks (const BlPatch *patch,
            BlPoint        middle,
            double         within)
{
  GArray *marks = g_array_sized_new (FALSE, FALSE, sizeof (Mark), 1024);

  for (int y = 1; y < patch->h - 1; y++)
    for (int x = 1; x < patch->w - 1; x++)
      {
        Mark mark;

        if (hypot (x - middle.x, y - middle.y) > within)
          continue;
        if (step_mark (patch, x, y, &mark))
          g_array_append_val (marks, mark);
        if (joint_mark (patch, x, y, &mark))
          g_array_append_val (marks, mark);
      }
  return marks;
}

/* Each mark votes for the straight lines it could lie on: their angle and distance from the
 * middle. */
static void
vote (const GArray *marks,
      BlPoint       middle,
      gboolean      joint,
      double       *votes,
      int           far)
{
  int width = 2 * far + 1;

  for (guint k = 0; k < marks->len; k++)
    {
      const Mark *m = &g_array_index (marks, Mark, k);
      double own = atan2 (m->normal.y, m->normal.x) * ANGLES / G_PI;
      int first = (int) lround (own);
      BlPoint p = bl_sub (m->at, middle);

      if (m->joint != joint)
        continue;
      for (int a = first - 2; a <= first + 2; a++)
        {
          double angle = a * G_PI / ANGLES;
          int bin = ((a % (2 * ANGLES)) + 2 * ANGLES) % (2 * ANGLES);
          double rho = p.x * cos (angle) + p.y * sin (angle), weight, rest;
          int r;

          if (bin >= ANGLES)
            {
              bin -= ANGLES;
              rho = -rho;
            }
          r = (int) floor (rho);
          rest = rho - r;
          if (r < -far || r + 1 > far)
            continue;
          weight = m->strength / (m->strength + 15.0) * (1.0 - fabs (a - own) / 4.0);
          votes[bin * width + r + far] += weight * (1.0 - rest);
          votes[bin * width + r + 1 + far] += weight * rest;
        }
    }
}

/* Takes the strongest lines, one after the other, each with its neighbours. */
static void
take_lines (double  *votes,
            int      far,
            BlPoint  middle,
            gboolean joint,
            GArray  *lines)
{
  int width = 2 * far + 1;

  for (int n = 0; n < LINES; n++)
    {
      int best = 0, turn;
      double angle, rho;
      BlLine line = { 0 };

      for (int i = 1; i < ANGLES * width; i++)
        if (votes[i] > votes[best])
          best = i;
      turn = best / width;
      if (votes[best] < LEAST_VOTES)
        return;
      angle = turn * G_PI / ANGLES;
      rho = best % width - far;
      line.on = BL_POINT (middle.x + rho * cos (angle), middle.y + rho * sin (angle));
      line.along = BL_POINT (-sin (angle), cos (angle));
      line.joint = joint;
      line.votes = votes[best];
      g_array_append_val (lines, line);
      for (int a = -2; a <= 2; a++)
        for (int r = -1; r <= 1; r++)
          {
            int bin = best / width + a, at = best % width - far + r;

            if (bin < 0 || bin >= ANGLES)
              {
                bin = (bin + ANGLES) % ANGLES;
                at = -at;
              }
            if (at >= -far && at <= far)
              votes[bin * width + at + far] = 0.0;
          }
    }
}

/* Straight through the marks close by. */
static void
straighten (const GArray *marks,
            BlPoint       middle,
            BlLine       *line)
{
  BlPoint n = BL_POINT (-line->along.y, line->along.x);
  double sum = 0.0, s1 = 0.0, s2 = 0.0, d1 = 0.0, sd = 0.0, det, slope, off;

  for (guint k = 0; k < marks->len; k++)
    {
      const Mark *m = &g_array_index (marks, Mark, k);
      BlPoint p = bl_sub (m->at, line->on);
      double d = bl_dot (p, n), s = bl_dot (p, line->along), w;

      if (m->joint != line->joint || fabs (d) > 1.2 || fabs (bl_dot (m->normal, n)) < 0.9)
        continue;
      w = m->strength / (m->strength + 15.0);
      sum += w;
      s1 += w * s;
      s2 += w * s * s;
      d1 += w * d;
      sd += w * s * d;
    }
  det = sum * s2 - s1 * s1;
  if (!(det > 1e-3))
    return;
  slope = (sum * sd - s1 * d1) / det;
  off = (s2 * d1 - s1 * sd) / det;
  if (fabs (slope) > 0.2 || fabs (off) > 2.0)
    return;
  line->on = bl_add (line->on, bl_mul (n, off));
  line->along = bl_add (line->along, bl_mul (n, slope));
  line->along = bl_mul (line->along, 1.0 / bl_norm (line->along));
  line->on = bl_add (line->on, bl_mul (line->along, bl_dot (bl_sub (middle, line->on), line->along)));
}

static void
colour_at (const BlPatch *patch,
           BlPoint        p,
           double         weight,
           double         out[3])
{
  int ix = CLAMP ((int) floor (p.x), 0, patch->w - 2);
  int iy = CLAMP ((int) floor (p.y), 0, patch->h - 2);
  double fx = CLAMP (p.x - ix, 0.0, 1.0), fy = CLAMP (p.y - iy, 0.0, 1.0);

  for (int c = 0; c < 3; c++)
    {
      const double *v = patch->level[c] + (gsize) iy * patch->w + ix;

      out[c] += weight * ((1.0 - fy) * ((1.0 - fx) * v[0] + fx * v[1])
                          + fy * ((1.0 - fx) * v[patch->w] + fx * v[patch->w + 1]));
    }
}

static void
add_up (const BlPatch *patch,
        BlLine        *line)
{
  double beside = line->joint ? WIDE : BESIDE;
  BlPoint n = bl_mul (BL_POINT (-line->along.y, line->along.x), beside);

  for (int s = -BL_LINE_FAR; s <= BL_LINE_FAR; s++)
    {
      BlPoint p = bl_add (line->on, bl_mul (line->along, s));
      int i = s + BL_LINE_FAR;
      double v[3] = { 0.0 };

      colour_at (patch, bl_add (p, n), line->joint ? -0.5 : 1.0, v);
      colour_at (patch, bl_sub (p, n), line->joint ? -0.5 : -1.0, v);
      if (line->joint)
        colour_at (patch, p, 1.0, v);
      line->square[i + 1] = line->square[i];
      for (int c = 0; c < 3; c++)
        {
          line->sum[i + 1][c] = line->sum[i][c] + v[c];
          line->square[i + 1] += v[c] * v[c];
        }
    }
}

double
bl_line_shows (const BlLine *line,
               double        from,
               int           sense)
{
  int first = (int) lround (from) + BL_LINE_FAR + sense * 2, last = first + sense * (ARM - 1);
  int low = MAX (MIN (first, last), 0), high = MIN (MAX (first, last), 2 * BL_LINE_FAR) + 1;
  double size = 0.0, n = high - low;

  if (n < 4)
    return 0.0;
  for (int c = 0; c < 3; c++)
    size += (line->sum[high][c] - line->sum[low][c]) * (line->sum[high][c] - line->sum[low][c]);
  return sqrt (size) / n * size / MAX (n * (line->square[high] - line->square[low]), 1.0);
}

/* Whether an earlier line is all but the same. */
static gboolean
is_repeated (const GArray *lines,
             guint         i)
{
  const BlLine *line = &g_array_index (lines, BlLine, i);

  for (guint k = 0; k < i; k++)
    {
      const BlLine *other = &g_array_index (lines, BlLine, k);

      if (other->joint == line->joint && fabs (bl_cross (other->along, line->along)) < 0.03
          && fabs (bl_cross (other->along, bl_sub (line->on, other->on))) < 0.4)
        return TRUE;
    }
  return FALSE;
}

GArray *
bl_lines_find (const BlPatch *patch,
               BlPoint        middle,
               double         radius)
{
  g_autoptr (GArray) marks = find_marks (patch, middle, radius + BEYOND);
  GArray *lines = g_array_new (FALSE, TRUE, sizeof (BlLine));
  int far = (int) ceil (radius) + 2;

  for (int joint = 0; joint <= 1; joint++)
    {
      g_autofree double *votes = g_new0 (double, ANGLES * (2 * (gsize) far + 1));

      vote (marks, middle, joint, votes, far);
      take_lines (votes, far, middle, joint, lines);
    }
  for (guint i = 0; i < lines->len;)
    {
      BlLine *line = &g_array_index (lines, BlLine, i);

      straighten (marks, middle, line);
      straighten (marks, middle, line);
      add_up (patch, line);
      if (is_repeated (lines, i))
        g_array_remove_index (lines, i);
      else
        i++;
    }
  return lines;
}
