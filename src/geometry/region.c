/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Regions of polygons with holes. The rings are plain arrays, so a region may be read from any
 * thread; GEOS sees copies for the length of one call. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "geometry/geos-private.h"
#include "geometry/polygon.h"

#define ARC_STEPS 12   /* of a quarter circle, in offsets */
#define DISC_CORNERS 64

struct _BlRegion
{
  GPtrArray *rings;   /* BlPoints: outer counter-clockwise, holes clockwise */
  GArray *first_of;   /* guint: where each polygon's rings begin */
};

static void
points_unref (gpointer points)
{
  g_array_unref (points);
}

static BlRegion *
region_empty (void)
{
  BlRegion *region = g_new (BlRegion, 1);

  region->rings = g_ptr_array_new_with_free_func (points_unref);
  region->first_of = g_array_new (FALSE, FALSE, sizeof (guint));
  return region;
}

void
bl_region_free (BlRegion *region)
{
  if (region == NULL)
    return;
  g_ptr_array_unref (region->rings);
  g_array_unref (region->first_of);
  g_free (region);
}

BlRegion *
bl_region_copy (const BlRegion *region)
{
  BlRegion *copy;

  if (region == NULL)
    return NULL;
  copy = region_empty ();
  for (guint i = 0; i < region->rings->len; i++)
    g_ptr_array_add (copy->rings, bl_points_copy (region->rings->pdata[i]));
  g_array_append_vals (copy->first_of, region->first_of->data, region->first_of->len);
  return copy;
}

/* ---- to GEOS and back ---- */

static GEOSGeometry *
ring_to_geos (BlGeos *geos, const BlPoints *ring)
{
  GEOSCoordSequence *sequence = GEOSCoordSeq_create_r (geos->handle, ring->len + 1, 2);

  if (sequence == NULL)
    return NULL;
  for (guint i = 0; i <= ring->len; i++)
    {
      BlPoint p = bl_points_at (ring, i % ring->len);

      GEOSCoordSeq_setXY_r (geos->handle, sequence, i, p.x, p.y);
    }
  return GEOSGeom_createLinearRing_r (geos->handle, sequence);
}

static GEOSGeometry *
polygon_to_geos (BlGeos *geos, const BlRegion *region, guint from, guint to)
{
  GEOSGeometry *shell = ring_to_geos (geos, region->rings->pdata[from]);
  g_autofree GEOSGeometry **holes = g_new0 (GEOSGeometry *, to - from);

  for (guint i = from + 1; i < to; i++)
    holes[i - from - 1] = ring_to_geos (geos, region->rings->pdata[i]);
  return shell == NULL ? NULL
                       : GEOSGeom_createPolygon_r (geos->handle, shell, holes, to - from - 1);
}

static GEOSGeometry *
region_to_geos (BlGeos *geos, const BlRegion *region)
{
  guint n = region->first_of->len;
  g_autofree GEOSGeometry **polygons = g_new0 (GEOSGeometry *, n + 1);

  for (guint i = 0; i < n; i++)
    {
      guint from = g_array_index (region->first_of, guint, i);
      guint to = i + 1 < n ? g_array_index (region->first_of, guint, i + 1) : region->rings->len;

      polygons[i] = polygon_to_geos (geos, region, from, to);
      if (polygons[i] == NULL)
        {
          while (i > 0)
            GEOSGeom_destroy_r (geos->handle, polygons[--i]);
          return NULL;
        }
    }
  return GEOSGeom_createCollection_r (geos->handle, GEOS_MULTIPOLYGON, polygons, n);
}

static void
take_ring (BlGeos *geos, BlRegion *region, const GEOSGeometry *geometry, gboolean hole)
{
  const GEOSCoordSequence *sequence = GEOSGeom_getCoordSeq_r (geos->handle, geometry);
  BlPoints *ring = bl_points_new ();
  unsigned n = 0;

  GEOSCoordSeq_getSize_r (geos->handle, sequence, &n);
  for (unsigned i = 0; i + 1 < n; i++)
    {
      BlPoint p;

      GEOSCoordSeq_getXY_r (geos->handle, sequence, i, &p.x, &p.y);
      bl_points_add (ring, p);
    }
  if ((bl_polygon_signed_area (ring) < 0) != hole)
    for (guint i = 0; i < ring->len / 2; i++)
      {
        BlPoint swap = bl_points_at (ring, i);

        bl_points_at (ring, i) = bl_points_at (ring, ring->len - 1 - i);
        bl_points_at (ring, ring->len - 1 - i) = swap;
      }
  g_ptr_array_add (region->rings, ring);
}

static void
take_polygons (BlGeos *geos, BlRegion *region, const GEOSGeometry *geometry)
{
  int type = GEOSGeomTypeId_r (geos->handle, geometry);

  if (type == GEOS_POLYGON && GEOSisEmpty_r (geos->handle, geometry) == 0)
    {
      guint first = region->rings->len;

      g_array_append_val (region->first_of, first);
      take_ring (geos, region, GEOSGetExteriorRing_r (geos->handle, geometry), FALSE);
      for (int i = 0; i < GEOSGetNumInteriorRings_r (geos->handle, geometry); i++)
        take_ring (geos, region, GEOSGetInteriorRingN_r (geos->handle, geometry, i), TRUE);
    }
  else if (type == GEOS_MULTIPOLYGON || type == GEOS_GEOMETRYCOLLECTION)
    for (int i = 0; i < GEOSGetNumGeometries_r (geos->handle, geometry); i++)
      take_polygons (geos, region, GEOSGetGeometryN_r (geos->handle, geometry, i));
}

/* Takes @geometry; lines and points that are left of an operation are dropped. */
static BlRegion *
region_from_geos (BlGeos *geos, GEOSGeometry *geometry, const char *doing, GError **error)
{
  BlRegion *region;

  if (geometry == NULL)
    {
      bl_geos_fail (geos, doing, error);
      return NULL;
    }
  region = region_empty ();
  take_polygons (geos, region, geometry);
  GEOSGeom_destroy_r (geos->handle, geometry);
  return region;
}

/* ---- making ---- */

static gboolean
ring_is_sound (const BlPoints *ring, GError **error)
{
  guint i, j;

  if (ring->len < 3)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("The outline has %u points and needs at least 3."), ring->len);
      return FALSE;
    }
  for (i = 0; i < ring->len; i++)
    if (!isfinite (bl_points_at (ring, i).x) || !isfinite (bl_points_at (ring, i).y))
      {
        g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                     _("Point %u of the outline is not a place on the plan: move it or take it out."),
                     i + 1);
        return FALSE;
      }
  if (bl_polygon_self_crosses (ring, &i, &j))
    {
      BlPoint at = bl_points_at (ring, i);

      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("The outline crosses itself near %.2f, %.2f m: move a point there."), at.x, at.y);
      return FALSE;
    }
  if (bl_polygon_area (ring) < 1e-9)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("The outline encloses no ground: draw it around an area."));
      return FALSE;
    }
  return TRUE;
}

BlRegion *
bl_region_new (const BlPoints *ring, GError **error)
{
  BlRegion *region;
  BlPoints *own;
  guint first = 0;

  g_return_val_if_fail (ring != NULL, NULL);
  if (!ring_is_sound (ring, error))
    return NULL;
  region = region_empty ();
  own = g_array_sized_new (FALSE, FALSE, sizeof (BlPoint), ring->len);
  if (bl_polygon_signed_area (ring) > 0)
    g_array_append_vals (own, ring->data, ring->len);
  else
    for (guint i = ring->len; i > 0; i--)
      g_array_append_val (own, bl_points_at (ring, i - 1));
  g_ptr_array_add (region->rings, own);
  g_array_append_val (region->first_of, first);
  return region;
}

BlRegion *
bl_region_disc (BlPoint centre, double radius, GError **error)
{
  g_autoptr (BlPoints) ring = bl_points_new ();
  double step = 2 * G_PI / DISC_CORNERS;
  double r = radius * sqrt (step / sin (step)); /* equal area, not inscribed */

  if (!(radius > 0) || !isfinite (radius))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("A disc needs a radius of more than nothing."));
      return NULL;
    }
  for (int i = 0; i < DISC_CORNERS; i++)
    bl_points_add (ring, BL_POINT (centre.x + r * cos (i * step), centre.y + r * sin (i * step)));
  return bl_region_new (ring, error);
}

/* ---- measuring ---- */

double
bl_region_area (const BlRegion *region)
{
  double sum = 0;

  g_return_val_if_fail (region != NULL, 0);
  for (guint i = 0; i < region->rings->len; i++)
    sum += bl_polygon_signed_area (region->rings->pdata[i]);
  return sum;
}

double
bl_region_perimeter (const BlRegion *region)
{
  double sum = 0;

  g_return_val_if_fail (region != NULL, 0);
  for (guint i = 0; i < region->rings->len; i++)
    sum += bl_polygon_perimeter (region->rings->pdata[i]);
  return sum;
}

gboolean
bl_region_is_empty (const BlRegion *region)
{
  g_return_val_if_fail (region != NULL, TRUE);
  return region->rings->len == 0;
}

gboolean
bl_region_contains (const BlRegion *region, BlPoint p)
{
  gboolean inside = FALSE;

  g_return_val_if_fail (region != NULL, FALSE);
  for (guint i = 0; i < region->rings->len; i++)
    inside ^= bl_polygon_contains (region->rings->pdata[i], p);
  return inside;
}

double
bl_region_inside_distance (const BlRegion *region, BlPoint p)
{
  double least = INFINITY;

  g_return_val_if_fail (region != NULL, -INFINITY);
  if (region->rings->len == 0)
    return -INFINITY;
  for (guint i = 0; i < region->rings->len; i++)
    least = MIN (least, bl_dist (p, bl_polygon_nearest (region->rings->pdata[i], p, NULL)));
  return bl_region_contains (region, p) ? least : -least;
}

BlRect
bl_region_extent (const BlRegion *region)
{
  BlRect extent = BL_RECT_EMPTY;

  g_return_val_if_fail (region != NULL, extent);
  for (guint i = 0; i < region->rings->len; i++)
    extent = bl_rect_union (extent, bl_rect_of (region->rings->pdata[i]));
  return extent;
}

GPtrArray *
bl_region_rings (const BlRegion *region)
{
  GPtrArray *rings = g_ptr_array_new_with_free_func (points_unref);

  g_return_val_if_fail (region != NULL, rings);
  for (guint i = 0; i < region->rings->len; i++)
    g_ptr_array_add (rings, bl_points_copy (region->rings->pdata[i]));
  return rings;
}

double
bl_region_axis (const BlRegion *region)
{
  g_auto (BlGeos) geos = { 0 };
  GEOSGeometry *whole, *box = NULL;
  g_autoptr (BlRegion) rectangle = NULL;
  BlPoint a, b, c;

  g_return_val_if_fail (region != NULL, 0);
  if (region->rings->len == 0)
    return 0;
  bl_geos_init (&geos);
  whole = region_to_geos (&geos, region);
  if (whole != NULL)
    {
      box = GEOSMinimumRotatedRectangle_r (geos.handle, whole);
      GEOSGeom_destroy_r (geos.handle, whole);
    }
  rectangle = region_from_geos (&geos, box, _("measure the outline"), NULL);
  if (rectangle == NULL || rectangle->rings->len == 0)
    return 0;
  a = bl_points_at ((BlPoints *) rectangle->rings->pdata[0], 0);
  b = bl_points_at ((BlPoints *) rectangle->rings->pdata[0], 1);
  c = bl_points_at ((BlPoints *) rectangle->rings->pdata[0], 2);
  if (bl_dist (b, c) > bl_dist (a, b))
    a = c;
  return atan2 (b.y - a.y, b.x - a.x);
}

/* ---- operations ---- */

BlRegion *
bl_region_offset (const BlRegion *region, double metres, GError **error)
{
  g_auto (BlGeos) geos = { 0 };
  GEOSGeometry *whole, *moved = NULL;

  g_return_val_if_fail (region != NULL, NULL);
  if (metres == 0 || region->rings->len == 0)
    return bl_region_copy (region);
  bl_geos_init (&geos);
  whole = region_to_geos (&geos, region);
  if (whole != NULL)
    {
      moved = GEOSBuffer_r (geos.handle, whole, metres, ARC_STEPS);
      GEOSGeom_destroy_r (geos.handle, whole);
    }
  return region_from_geos (&geos, moved, _("move the outline in or out"), error);
}

BlRegion *
bl_region_join (const GPtrArray *regions, double metres, GError **error)
{
  g_auto (BlGeos) geos = { 0 };
  g_autofree GEOSGeometry **parts = NULL;
  GEOSGeometry *whole, *joined = NULL;
  guint n = 0;

  g_return_val_if_fail (regions != NULL && metres >= 0, NULL);
  bl_geos_init (&geos);
  parts = g_new0 (GEOSGeometry *, regions->len + 1);
  for (guint i = 0; i < regions->len; i++)
    {
      parts[n] = region_to_geos (&geos, regions->pdata[i]);
      n += parts[n] != NULL;
    }
  whole = GEOSGeom_createCollection_r (geos.handle, GEOS_GEOMETRYCOLLECTION, parts, n);
  if (whole != NULL)
    {
      joined = metres > 0 ? GEOSBuffer_r (geos.handle, whole, metres, ARC_STEPS)
                          : GEOSUnaryUnion_r (geos.handle, whole);
      GEOSGeom_destroy_r (geos.handle, whole);
    }
  return region_from_geos (&geos, joined, _("join the outlines"), error);
}

typedef GEOSGeometry *(*Overlay) (GEOSContextHandle_t, const GEOSGeometry *, const GEOSGeometry *);

static BlRegion *
overlay (const BlRegion *a, const BlRegion *b, Overlay operation, const char *doing,
         GError **error)
{
  g_auto (BlGeos) geos = { 0 };
  GEOSGeometry *ga, *gb, *result = NULL;

  bl_geos_init (&geos);
  ga = region_to_geos (&geos, a);
  gb = region_to_geos (&geos, b);
  if (ga != NULL && gb != NULL)
    result = operation (geos.handle, ga, gb);
  if (ga != NULL)
    GEOSGeom_destroy_r (geos.handle, ga);
  if (gb != NULL)
    GEOSGeom_destroy_r (geos.handle, gb);
  return region_from_geos (&geos, result, doing, error);
}

BlRegion *
bl_region_union (const BlRegion *a, const BlRegion *b, GError **error)
{
  g_return_val_if_fail (a != NULL && b != NULL, NULL);
  return overlay (a, b, GEOSUnion_r, _("join the outlines"), error);
}

BlRegion *
bl_region_intersection (const BlRegion *a, const BlRegion *b, GError **error)
{
  g_return_val_if_fail (a != NULL && b != NULL, NULL);
  return overlay (a, b, GEOSIntersection_r, _("find where the outlines overlap"), error);
}

BlRegion *
bl_region_difference (const BlRegion *a, const BlRegion *b, GError **error)
{
  g_return_val_if_fail (a != NULL && b != NULL, NULL);
  return overlay (a, b, GEOSDifference_r, _("cut one outline out of another"), error);
}
