/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners as crossings of straight lines fitted to edge and joint points. */
#include "photo/snap-junction.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LINES 6            /* most looked at of each kind */
#define LEAST_VOTES 4.0    /* of a gathered line */
#define RAYS 6             /* most looked at from each line */
#define TURNS 72           /* directions tried of a ray */
#define NEAR 2.0           /* ... from this far off the other line on: nearer, it is in the way */
#define LEAST_ARM 0.7      /* of the arm's pixels must show the line */
#define LEAST_RAY 7.0      /* levels a pixel, mean along a ray */
#define LEAST_EXPLAINED 0.3
#define LEAST_CLEAR 0.5
#define LEAST_CLEAR_RAY 0.6
#define LEAST_ANGLE 0.3    /* radians between the lines */
#define SHALLOW 0.6        /* sine of the angle between the lines */
#define MOST_SHIFT 1.5     /* pixels between a corner as it looks and as the light has it */
#define LEANING 3.0        /* points along a line err alike: their scatter tells too little */
#define LEAST_SD 0.05

typedef struct
{
  BlPoint from, along;
  gboolean joint;
  int reach;
  double strength;
} Ray;

/* How a ray from @from shows on the whole, times how alike it is all along: the change of colour
 * across it, or of its two sides when it is a thin line. Averaged along the ray before its size is
 * taken, so that grass cancels out. */
static void
ray_strength (const BlPatch *patch,
              BlPoint        from,
              BlPoint        along,
              int            near,
              int            reach,
              double        *step,
              double        *joint)
{
  BlPoint n = BL_POINT (-along.y, along.x);
  double mean[3] = { 0.0 }, left = 0.0, right = 0.0, steps = 0.0, bends = 0.0, size;

  for (int s = near; s < near + BL_SNAP_SHOWN; s++)
    {
      double side_sum[3] = { 0.0 }, square = 0.0;

      for (int side = -1; side <= 1; side++)
        {
          int x = (int) (from.x + s * along.x + 0.5 * reach * side * n.x + 0.5);
          int y = (int) (from.y + s * along.y + 0.5 * reach * side * n.y + 0.5);
          int i = CLAMP (y, 0, patch->h - 1) * patch->w + CLAMP (x, 0, patch->w - 1);

          side_sum[side + 1] = n.x * patch->sum_x[i] + n.y * patch->sum_y[i];
          for (int c = 0; c < 3 && side == 0; c++)
            {
              double slope = n.x * patch->gx[c][i] + n.y * patch->gy[c][i];

              mean[c] += slope / BL_SNAP_SHOWN;
              square += slope * slope;
            }
        }
      steps += square / BL_SNAP_SHOWN;
      left += side_sum[0] / BL_SNAP_SHOWN;
      right += side_sum[2] / BL_SNAP_SHOWN;
      bends += (side_sum[2] - side_sum[0]) * (side_sum[2] - side_sum[0]) / BL_SNAP_SHOWN;
    }
  size = mean[0] * mean[0] + mean[1] * mean[1] + mean[2] * mean[2];
  *step = sqrt (size) * size / MAX (steps, 1.0);
  size = (right - left) * (right - left);
  /* √3: three channels that agree change by that much more together than one. */
  *joint = left * right < 0.0
               ? 2.0 / 1.7320508 * MIN (fabs (left), fabs (right)) * size / MAX (bends, 1.0) : 0.0;
}

/* Where on one line the other is out of the way. */
static int
arm_start (BlPoint a,
           BlPoint b)
{
  return (int) CLAMP (lround (NEAR / fabs (bl_cross (a, b))), 2, 6);
}

/* The strongest rays that leave @line within @radius of @middle, one for each place and
 * direction. */
static guint
find_rays (const BlPatch *patch,
           const BlSnapLine    *line,
           BlPoint        middle,
           double         radius,
           Ray            rays[RAYS])
{
  double ahead = bl_dot (bl_sub (middle, line->on), line->along);
  BlPoint foot = bl_add (line->on, bl_mul (line->along, ahead));
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Ray));
  guint n = 0;

  for (int t = -(int) radius; t <= (int) radius; t++)
    for (int k = 0; k < TURNS; k++)
      {
        double angle = 2.0 * G_PI * k / TURNS, step, joint;
        Ray ray = { .from = bl_add (foot, bl_mul (line->along, t)),
                    .along = BL_POINT (cos (angle), sin (angle)) };

        if (bl_dist (ray.from, middle) > radius + 1.0
            || fabs (bl_cross (ray.along, line->along)) < sin (LEAST_ANGLE))
          continue;
        for (int reach = BL_SNAP_NARROW; reach <= BL_SNAP_WIDE; reach += 2)
          {
            ray_strength (patch, ray.from, ray.along, arm_start (line->along, ray.along), reach,
                          &step, &joint);
            if (MAX (step, joint) <= ray.strength)
              continue;
            ray.joint = joint > step;
            ray.strength = MAX (step, joint);
            ray.reach = reach;
          }
        if (ray.strength >= LEAST_RAY)
          g_array_append_val (all, ray);
      }
  while (n < RAYS)
    {
      const Ray *best = NULL;

      for (guint i = 0; i < all->len; i++)
        {
          const Ray *ray = &g_array_index (all, Ray, i);
          gboolean fresh = best == NULL || ray->strength > best->strength;

          for (guint k = 0; k < n && fresh; k++)
            fresh = bl_dot (ray->along, rays[k].along) < cos (0.3)
                    || bl_dist (ray->from, rays[k].from) > 2.5;
          if (fresh)
            best = ray;
        }
      if (best == NULL)
        break;
      rays[n++] = *best;
    }
  return n;
}

static gboolean
cross_lines (const BlSnapLine *a,
             const BlSnapLine *b,
             BlPoint    *at)
{
  double sine = bl_cross (a->along, b->along);

  if (fabs (sine) < sin (LEAST_ANGLE))
    return FALSE;
  *at = bl_add (a->on, bl_mul (a->along, bl_cross (bl_sub (b->on, a->on), b->along) / sine));
  return TRUE;
}

/* The arms that are seen, as unit vectors away from the corner. */
static guint
seen_arms (const BlSnapLine *a,
           const BlSnapLine *b,
           BlPoint           arms[4])
{
  guint n = 0;

  for (int k = 0; k < 4; k++)
    {
      const BlSnapLine *line = k < 2 ? a : b;

      if ((k % 2 == 0 ? line->ahead : line->behind) >= LEAST_ARM * BL_SNAP_SHOWN)
        arms[n++] = bl_mul (line->along, k % 2 == 0 ? 1.0 : -1.0);
    }
  return n;
}

/* The field between two arms that @p lies in, or -1 on an arm. */
static int
field_of (BlPoint        p,
          const BlPoint *arms,
          guint          n_arms)
{
  double nearest = INFINITY;
  int field = -1;

  for (guint k = 0; k < n_arms; k++)
    {
      double turn = atan2 (bl_cross (arms[k], p), bl_dot (arms[k], p));

      if (bl_dot (p, arms[k]) > 0.0 && fabs (bl_cross (p, arms[k])) < 1.2)
        return -1;
      if (turn < 0.0)
        turn += 2.0 * G_PI;
      if (turn < nearest)
        {
          nearest = turn;
          field = (int) k;
        }
    }
  return field;
}

/* The share of the colours' variance near @corner that lies between the fields the lines' seen arms
 * part, the arms themselves left out. */
static double
explained (const BlPatch    *patch,
           BlPoint           corner,
           const BlSnapLine *a,
           const BlSnapLine *b)
{
  BlPoint arms[4];
  double sum[4][3] = { { 0.0 } }, n[4] = { 0.0 }, total[3] = { 0.0 }, whole = 0.0;
  double all = 0.0, between = 0.0;
  guint n_arms = seen_arms (a, b, arms);

  for (int y = (int) corner.y - 9; y <= (int) corner.y + 10; y++)
    for (int x = (int) corner.x - 9; x <= (int) corner.x + 10; x++)
      {
        BlPoint p = BL_POINT (x - corner.x, y - corner.y);
        int field = field_of (p, arms, n_arms);

        if (field < 0 || bl_norm (p) < 1.5 || bl_norm (p) > 9.0 || x < 0 || y < 0
            || x >= patch->w || y >= patch->h)
          continue;
        for (int c = 0; c < 3; c++)
          {
            double v = patch->level[c][y * patch->w + x];

            sum[field][c] += v;
            total[c] += v;
            whole += v * v;
          }
        n[field] += 1.0;
        all += 1.0;
      }
  if (n_arms < 2 || all < 30.0)
    return 0.0;
  for (int c = 0; c < 3; c++)
    {
      whole -= total[c] * total[c] / all;
      for (guint k = 0; k < n_arms; k++)
        if (n[k] > 0.0)
          between += sum[k][c] * sum[k][c] / n[k];
      between -= total[c] * total[c] / all;
    }
  return whole > 0.0 ? between / whole : 0.0;
}

static double
crossing_sd (BlPoint     at,
             const BlSnapLine *a,
             const BlSnapLine *b)
{
  double sine = bl_cross (a->along, b->along);
  double da = hypot (a->sd, a->turn * bl_dist (at, a->on));
  double db = hypot (b->sd, b->turn * bl_dist (at, b->on));

  /* The larger of the two coordinates' errors is at most this. */
  return MAX (LEANING * hypot (da, db) / fabs (sine) / G_SQRT2, LEAST_SD);
}

static gboolean
is_shown (const BlSnapLine *line,
          double      least)
{
  return MAX (line->ahead, line->behind) >= LEAST_ARM * BL_SNAP_SHOWN && line->clear >= least;
}

/* Fits both lines near their crossing, again as it moves, and asks whether they are there. */
static gboolean
judge (const BlPatch *patch,
       const BlSnapLine    *line,
       const Ray     *ray,
       BlPoint        middle,
       double         radius,
       BlJunction    *junction)
{
  BlSnapLine a = *line, b = { .on = ray->from, .along = ray->along, .joint = ray->joint,
                              .reach = ray->reach };
  BlPoint at = ray->from;

  for (int i = 0; i < 3; i++)
    if (!bl_snap_line_fit (patch, at, FALSE, TRUE, arm_start (a.along, b.along), &b)
        || !is_shown (&b, i == 0 ? 0.75 * LEAST_CLEAR_RAY : LEAST_CLEAR_RAY)
        || !bl_snap_line_fit (patch, at, TRUE, TRUE, 2, &a) || !cross_lines (&a, &b, &at)
        || bl_dist (at, middle) > radius + (i < 2 ? 2.0 : 0.0))
      return FALSE;
  if (!is_shown (&a, LEAST_CLEAR))
    return FALSE;
  junction->at = at;
  junction->lines[0] = a;
  junction->lines[1] = b;
  junction->sd = crossing_sd (at, &a, &b);
  junction->shallow = b.joint && fabs (bl_cross (a.along, b.along)) < SHALLOW;
  junction->explained = explained (patch, at, &a, &b);
  /* An edge with a joint's end on it is likelier meant than two joints or two edges. */
  junction->score = (MAX (a.ahead, a.behind) + b.ahead) / (2.0 * BL_SNAP_SHOWN)
                    * junction->explained
                    * a.clear * b.clear * b.clear * (a.joint ? 0.5 : 1.0) * (b.joint ? 2.0 : 1.0)
                    * sqrt (ray->strength) / (junction->sd + 0.2)
                    * exp (-bl_dot (bl_sub (at, middle), bl_sub (at, middle)) / (radius * radius));
  return junction->explained >= LEAST_EXPLAINED;
}

/* Whether an earlier line is the same but for its fit. */
static gboolean
is_repeated (const GArray *lines,
             guint         i)
{
  const BlSnapLine *line = &g_array_index (lines, BlSnapLine, i);

  for (guint k = 0; k < i; k++)
    {
      const BlSnapLine *other = &g_array_index (lines, BlSnapLine, k);

      if (other->joint == line->joint && fabs (bl_cross (other->along, line->along)) < 0.05
          && fabs (bl_cross (other->along, bl_sub (line->on, other->on))) < 0.5)
        return TRUE;
    }
  return FALSE;
}

/* The same lines where the light has them, unless they are lost there. */
static void
place_in_light (const BlPatch *light,
                BlJunction    *junction)
{
  BlSnapLine a = junction->lines[0], b = junction->lines[1];
  BlPoint at = junction->at;

  for (int i = 0; i < 2; i++)
    if (!bl_snap_line_fit (light, at, FALSE, TRUE, arm_start (a.along, b.along), &b)
        || !bl_snap_line_fit (light, at, TRUE, TRUE, 2, &a) || !cross_lines (&a, &b, &at)
        || bl_dist (at, junction->at) > MOST_SHIFT)
      return;
  junction->at = at;
  junction->sd = crossing_sd (at, &a, &b);
}

/* The strongest of each kind. */
static GArray *
take_lines (const GArray *gathered)
{
  GArray *lines = g_array_new (FALSE, TRUE, sizeof (BlSnapLine));
  guint n[2] = { 0 };

  for (guint i = 0; i < gathered->len; i++)
    {
      const BlLine *one = &g_array_index (gathered, BlLine, i);
      BlSnapLine line = { .on = one->on, .along = one->along, .joint = one->joint,
                          .reach = BL_SNAP_NARROW };

      if (one->votes >= LEAST_VOTES && n[one->joint]++ < LINES)
        g_array_append_val (lines, line);
    }
  return lines;
}

gboolean
bl_junction_find (const BlPatch *patch,
                  const BlPatch *light,
                  const GArray  *gathered,
                  double         radius,
                  BlJunction    *junction)
{
  BlPoint middle = BL_POINT (0.5 * (patch->w - 1), 0.5 * (patch->h - 1));
  g_autoptr (GArray) lines = take_lines (gathered);
  double best = 0.0;

  for (guint i = 0; i < lines->len; i++)
    {
      BlSnapLine *line = &g_array_index (lines, BlSnapLine, i);
      Ray rays[RAYS];
      guint n;

      if (!bl_snap_line_fit (patch, middle, TRUE, TRUE, 1, line) || is_repeated (lines, i))
        continue;
      n = find_rays (patch, line, middle, radius, rays);
      for (guint k = 0; k < n; k++)
        {
          BlJunction one;

          if (!judge (patch, line, &rays[k], middle, radius, &one) || one.score <= best)
            continue;
          best = one.score;
          *junction = one;
        }
    }
  if (best > 0.0)
    place_in_light (light, junction);
  return best > 0.0;
}
