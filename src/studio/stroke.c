/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strokes of the pointer: their length, fewer points for the same shape, a painted band. */

#include "config.h"

#include "studio/stroke.h"

double
bl_stroke_length (const BlPoints *stroke)
{
  double length = 0;

  for (guint i = 1; i < stroke->len; i++)
    length += bl_dist (bl_points_at (stroke, i - 1), bl_points_at (stroke, i));
  return length;
}

static void
keep_farthest (const BlPoints *stroke, guint first, guint last, double tolerance, gboolean *keep)
{
  double worst = tolerance;
  guint at = 0;

  for (guint i = first + 1; i < last; i++)
    {
      double d = bl_segment_distance (bl_points_at (stroke, i), bl_points_at (stroke, first),
                                      bl_points_at (stroke, last), NULL);

      if (d > worst)
        {
          worst = d;
          at = i;
        }
    }
  if (at == 0)
    return;
  keep[at] = TRUE;
  keep_farthest (stroke, first, at, tolerance, keep);
  keep_farthest (stroke, at, last, tolerance, keep);
}

BlPoints *
bl_stroke_simplify (const BlPoints *stroke, double tolerance)
{
  BlPoints *thin = bl_points_new ();
  g_autofree gboolean *keep = g_new0 (gboolean, stroke->len + 1);

  if (stroke->len == 0)
    return thin;
  keep[0] = keep[stroke->len - 1] = TRUE;
  if (stroke->len > 2)
    keep_farthest (stroke, 0, stroke->len - 1, tolerance, keep);
  for (guint i = 0; i < stroke->len; i++)
    if (keep[i])
      bl_points_add (thin, bl_points_at (stroke, i));
  return thin;
}

/* The largest of a region's rings. */
static BlPoints *
outer_ring (const BlRegion *region)
{
  g_autoptr (GPtrArray) rings = bl_region_rings (region);
  BlPoints *best = NULL;

  for (guint i = 0; i < rings->len; i++)
    {
      BlPoints *ring = g_ptr_array_index (rings, i);

      if (best == NULL || bl_polygon_area (ring) > bl_polygon_area (best))
        best = ring;
    }
  return best != NULL ? bl_points_copy (best) : NULL;
}

BlOutline *
bl_stroke_band (const BlPoints *stroke, double radius, double tolerance, GError **error)
{
  g_autoptr (GArray) thin = bl_stroke_simplify (stroke, radius * 0.1);
  g_autoptr (BlRegion) band = NULL;
  g_autoptr (GArray) ring = NULL;
  g_autoptr (GArray) spaced = bl_points_new ();

  /* Discs near enough to one another that the band has no waist. */
  for (guint i = 0; i < thin->len; i++)
    {
      BlPoint b = bl_points_at (thin, i), a = i > 0 ? bl_points_at (thin, i - 1) : b;
      int steps = MAX (1, (int) ceil (bl_dist (a, b) / (radius * 0.4)));

      for (int k = i > 0 ? 1 : steps; k <= steps; k++)
        bl_points_add (spaced, bl_lerp (a, b, (double) k / steps));
    }
  for (guint i = 0; i < spaced->len; i++)
    {
      g_autoptr (BlRegion) disc = bl_region_disc (bl_points_at (spaced, i), radius, error);
      g_autoptr (BlRegion) both = NULL;

      if (disc == NULL)
        return NULL;
      if (band == NULL)
        {
          band = g_steal_pointer (&disc);
          continue;
        }
      both = bl_region_union (band, disc, error);
      if (both == NULL)
        return NULL;
      bl_region_free (band);
      band = g_steal_pointer (&both);
    }
  ring = band != NULL ? outer_ring (band) : NULL;
  if (ring == NULL)
    return NULL;
  bl_points_add (ring, bl_points_at (ring, 0));
  {
    g_autoptr (GArray) few = bl_stroke_simplify (ring, tolerance);
    BlPoints *held = bl_points_new ();

    /* Points along the straight parts hold the smooth curve to them. */
    for (guint i = 0; i + 1 < few->len; i++)
      {
        BlPoint a = bl_points_at (few, i), b = bl_points_at (few, i + 1);
        int steps = MAX (1, (int) ceil (bl_dist (a, b) / (1.2 * radius)));

        for (int k = 0; k < steps; k++)
          bl_points_add (held, bl_lerp (a, b, (double) k / steps));
      }
    return bl_outline_new_take (held, FALSE);
  }
}
