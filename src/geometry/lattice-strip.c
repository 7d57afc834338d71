/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plants along a strip that is too narrow for a lattice: one row, or lanes filled from one end to
 * the other, each plant as early as the spacing allows (in two lanes: the gardener's zigzag).
 *
 *        A ──o───────o───────o──      lanes A and B on the inset line, C between
 *     C  ·  ·  ·  ·  ·  ·  ·  ·  ·
 *        B ──────o───────o──────      stations run from the first end to the last
 */
#include "geometry/lattice-private.h"

#define COARSE 72   /* ring points tried as ends of the strip */
#define LANES 5
#define STEPS 24    /* stations tried in one spacing */

typedef struct
{
  const BlRegion *region;
  const BlLatticeRule *rule;
  BlPoints *placed;
} Strip;

/* The point a fraction @f of the way along @ring from @start to @end (distances along the ring). */
static BlPoint
ring_at (const BlPoints *ring, const double *along, double at)
{
  double total = along[ring->len];
  guint lo = 0, hi = ring->len;

  at -= total * floor (at / total);
  while (hi - lo > 1)
    {
      guint mid = (lo + hi) / 2;

      if (along[mid] <= at)
        lo = mid;
      else
        hi = mid;
    }
  return bl_lerp (bl_points_at (ring, lo), bl_points_at (ring, (lo + 1) % ring->len),
                  along[lo + 1] > along[lo] ? (at - along[lo]) / (along[lo + 1] - along[lo]) : 0);
}

static double *
lengths_along (const BlPoints *ring)
{
  double *along = g_new (double, ring->len + 1);

  along[0] = 0;
  for (guint i = 0; i < ring->len; i++)
    along[i + 1] = along[i] + bl_dist (bl_points_at (ring, i),
                                       bl_points_at (ring, (i + 1) % ring->len));
  return along;
}

/* The two places that cut the ring into sides lying closest to each other: the strip's ends. */
static void
find_ends (const BlPoints *ring, const double *along, double *first, double *last)
{
  double total = along[ring->len], least = INFINITY;
  BlPoint at[COARSE];

  for (guint i = 0; i < COARSE; i++)
    at[i] = ring_at (ring, along, total * i / COARSE);
  for (guint i = 0; i < COARSE; i++)
    for (guint gap = COARSE / 4; gap <= COARSE / 2; gap++)
      {
        double width = 0;

        for (guint k = 1; k < 12; k++)
          width += bl_dist (at[(i + gap * k / 12) % COARSE],
                            at[(i + COARSE - (COARSE - gap) * k / 12) % COARSE]);
        if (width < least - 1e-9)
          {
            least = width;
            *first = total * i / COARSE;
            *last = total * (i + gap) / COARSE;
          }
      }
}

static gboolean
is_free (const Strip *strip, BlPoint p)
{
  const BlLatticeRule *rule = strip->rule;

  for (guint i = strip->placed->len; i > 0; i--)
    if (bl_dist (bl_points_at (strip->placed, i - 1), p)
        < rule->spacing - BL_LATTICE_SPACING_SLACK)
      return FALSE;
  for (guint i = 0; i < rule->n_avoid; i++)
    if (bl_dist (rule->avoid[i], p) < rule->avoid_radius[i] - BL_LATTICE_SPACING_SLACK)
      return FALSE;
  return bl_region_inside_distance (strip->region, p) >= rule->edge - BL_LATTICE_EDGE_SLACK;
}

/* One pass from end to end over the given lanes (0 = side A .. 1 = side B). */
static void
fill_lanes (Strip *strip, const BlPoints *ring, const double *along, double first, double last,
            const double *lanes, guint n_lanes)
{
  double total = along[ring->len], ahead = last - first, behind = total - ahead;
  guint n = (guint) CLAMP (ceil (MAX (ahead, behind) / strip->rule->spacing * STEPS), 8, 20000);

  for (guint k = 0; k <= n; k++)
    {
      BlPoint a = ring_at (ring, along, first + ahead * k / n);
      BlPoint b = ring_at (ring, along, first - behind * k / n);
      BlPoint middle = bl_lerp (a, b, 0.5);

      for (guint lane = 0; lane < n_lanes; lane++)
        {
          BlPoint p = bl_lerp (a, b, lanes[lane]);

          /* On a curve the inset line is a chord; a hair towards the middle clears it. */
          if (is_free (strip, p))
            bl_points_add (strip->placed, p);
          else if (is_free (strip, bl_lerp (p, middle, 0.01)))
            bl_points_add (strip->placed, bl_lerp (p, middle, 0.01));
        }
    }
}

static void
fill_ring (Strip *strip, const BlPoints *ring)
{
  static const struct
  {
    guint n;
    double lane[LANES];
  } plans[] = {
    { 1, { 0.5 } },           { 2, { 0, 1 } },           { 2, { 1, 0 } },
    { 3, { 0, 0.5, 1 } },     { 3, { 1, 0.5, 0 } },      { 3, { 0.5, 0, 1 } },
    { 5, { 0, 0.25, 0.5, 0.75, 1 } }, { 5, { 1, 0.75, 0.5, 0.25, 0 } },
  };
  g_autofree double *along = lengths_along (ring);
  BlPoints *before = strip->placed;
  g_autoptr (BlPoints) best = bl_points_copy (before);
  double first = 0, last = 0;

  find_ends (ring, along, &first, &last);
  for (guint i = 0; i < 2 * G_N_ELEMENTS (plans); i++)
    {
      guint plan = i / 2;
      double from = i % 2 == 0 ? first : last;
      double to = i % 2 == 0 ? last : first + along[ring->len];

      strip->placed = bl_points_copy (before);
      fill_lanes (strip, ring, along, from, to, plans[plan].lane, plans[plan].n);
      if (strip->placed->len > best->len)
        {
          BlPoints *swap = best;

          best = strip->placed;
          strip->placed = swap;
        }
      g_array_unref (strip->placed);
    }
  g_array_unref (before);
  strip->placed = g_steal_pointer (&best);
}

BlPoints *
bl_strip_fill (const BlRegion *region, const BlLatticeRule *rule)
{
  Strip strip = { region, rule, bl_points_new () };
  double inset = MAX (rule->edge - BL_LATTICE_EDGE_SLACK / 2, 0);
  g_autoptr (BlRegion) inner = bl_region_offset (region, -inset, NULL);
  g_autoptr (GPtrArray) rings = NULL;

  if (inner == NULL)
    return strip.placed;
  rings = bl_region_rings (inner);
  if (rings->len != 1)
    return strip.placed; /* what lies between drifts, in pieces or with holes, is no strip */
  fill_ring (&strip, rings->pdata[0]);
  return strip.placed;
}
