/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A traverse adjusted by the compass rule or by least squares, and offsets from a baseline. */
#include "config.h"

#include "survey/traverse.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "geometry/polygon.h"

#define FAR 1e8         /* metres: no coordinate of a projected system is so large */
#define LEAST_LEG 0.001 /* metres */
#define MOST_LEG 1e5    /* metres */

void
bl_traverse_free (BlTraverse *traverse)
{
  if (traverse == NULL)
    return;
  g_clear_pointer (&traverse->points, g_array_unref);
  g_free (traverse->message);
  g_free (traverse);
}

static gboolean
check (const GArray *legs,
       BlPoint       start,
       BlPoint       end,
       GError      **error)
{
  if (legs->len < 2 || !(hypot (start.x, start.y) < FAR && hypot (end.x, end.y) < FAR))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("A traverse needs two legs or more, and a start and an end."));
      return FALSE;
    }
  for (guint i = 0; i < legs->len; i++)
    {
      const BlTraverseLeg *leg = &g_array_index (legs, BlTraverseLeg, i);

      if (isfinite (leg->bearing) && leg->distance >= LEAST_LEG && leg->distance < MOST_LEG
          && leg->sd_bearing >= 0.0 && leg->sd_distance >= 0.0)
        continue;
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("Leg %u of the traverse needs a bearing and a distance greater than nothing."),
                   i + 1);
      return FALSE;
    }
  return TRUE;
}

static BlPoint
course (const BlTraverseLeg *leg)
{
  return bl_mul (BL_POINT (sin (leg->bearing), cos (leg->bearing)), leg->distance);
}

/* Corrections by condition: the courses plus their corrections must reach the end. With the
 * covariance Q of each course, that is Qi (ΣQ)^-1 times the misclosure: the least-squares answer,
 * exact because the condition is linear in the courses. The compass rule is the same with Q
 * proportional to the leg's length and alike in all directions. */
static void
course_covariance (const BlTraverseLeg *leg,
                   BlTraverseRule       rule,
                   double              *q)
{
  double sd_along, sd_across, s = sin (leg->bearing), c = cos (leg->bearing);

  if (rule == BL_TRAVERSE_COMPASS)
    {
      q[0] = q[2] = leg->distance;
      q[1] = 0.0;
      return;
    }
  sd_along = leg->sd_distance > 0.0 ? leg->sd_distance : 0.01 + leg->distance / 1000.0;
  sd_across = leg->distance * (leg->sd_bearing > 0.0 ? leg->sd_bearing : 0.5 * G_PI / 180.0);
  q[0] = s * s * sd_along * sd_along + c * c * sd_across * sd_across;
  q[1] = s * c * (sd_along * sd_along - sd_across * sd_across);
  q[2] = c * c * sd_along * sd_along + s * s * sd_across * sd_across;
}

BlTraverse *
bl_traverse_adjust (const GArray  *legs,
                    BlPoint        start,
                    BlPoint        end,
                    BlTraverseRule rule,
                    GError       **error)
{
  g_autoptr (BlTraverse) traverse = g_new0 (BlTraverse, 1);
  double sum[3] = { 0 }, det;
  BlPoint at = start, lambda;

  if (!check (legs, start, end, error))
    return NULL;
  for (guint i = 0; i < legs->len; i++)
    {
      const BlTraverseLeg *leg = &g_array_index (legs, BlTraverseLeg, i);
      double q[3];

      course_covariance (leg, rule, q);
      for (int k = 0; k < 3; k++)
        sum[k] += q[k];
      at = bl_add (at, course (leg));
      traverse->length += leg->distance;
    }
  traverse->misclosure = bl_sub (at, end);
  traverse->closing_error = bl_norm (traverse->misclosure);
  traverse->relative = traverse->closing_error / traverse->length;
  det = sum[0] * sum[2] - sum[1] * sum[1];
  lambda = BL_POINT ((sum[2] * traverse->misclosure.x - sum[1] * traverse->misclosure.y) / det,
                     (sum[0] * traverse->misclosure.y - sum[1] * traverse->misclosure.x) / det);
  traverse->points = bl_points_new ();
  bl_points_add (traverse->points, start);
  at = start;
  for (guint i = 0; i < legs->len; i++)
    {
      const BlTraverseLeg *leg = &g_array_index (legs, BlTraverseLeg, i);
      double q[3];

      course_covariance (leg, rule, q);
      at = bl_add (at, bl_sub (course (leg), BL_POINT (q[0] * lambda.x + q[1] * lambda.y,
                                                       q[1] * lambda.x + q[2] * lambda.y)));
      bl_points_add (traverse->points, at);
    }
  if (bl_dist (start, end) == 0.0)
    {
      g_autoptr (BlPoints) ring = bl_points_copy (traverse->points);

      g_array_set_size (ring, ring->len - 1);
      traverse->area = ring->len >= 3 ? bl_polygon_area (ring) : 0.0;
    }
  if (traverse->relative > 1.0 / 300.0)
    traverse->message = g_strdup_printf (_("The traverse misses its end by 1 part in %.0f of its "
                                         "length; tape work in a garden reaches 1 in 300, so look for "
                                         "a slip."), 1.0 / traverse->relative);
  return g_steal_pointer (&traverse);
}

void
bl_traverse_bearings (double        first,
                      const double *angles_right,
                      guint         n,
                      double       *bearings)
{
  double bearing = first;

  for (guint i = 0; i < n; i++)
    {
      bearing = remainder (bearing + G_PI + angles_right[i], 2.0 * G_PI);
      bearings[i] = bearing < 0.0 ? bearing + 2.0 * G_PI : bearing;
    }
}

gboolean
bl_offset_point (BlPoint  from,
                 BlPoint  to,
                 double   along,
                 double   offset,
                 BlPoint *at)
{
  double length = bl_dist (from, to);
  BlPoint u;

  if (!(length > 0.0) || !isfinite (along) || !isfinite (offset))
    return FALSE;
  u = bl_mul (bl_sub (to, from), 1.0 / length);
  *at = bl_add (from, bl_add (bl_mul (u, along), bl_mul (BL_POINT (-u.y, u.x), offset)));
  return TRUE;
}
