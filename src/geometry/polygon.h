/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Closed polygons: area, perimeter, inside, and the set operations (by GEOS). */
#pragma once

#include "geometry/point.h"

/* Signed area by coordinates (shoelace), positive counter-clockwise with y up; length² units.
 * The ring is not repeated at its end. */
double bl_polygon_signed_area (const BlPoints *ring);
double bl_polygon_area (const BlPoints *ring);
double bl_polygon_perimeter (const BlPoints *ring);
BlPoint bl_polygon_centroid (const BlPoints *ring);
gboolean bl_polygon_contains (const BlPoints *ring, BlPoint p);
/* Distance to the ring's edge, positive inside, negative outside. */
double bl_polygon_inside_distance (const BlPoints *ring, BlPoint p);
/* Nearest point on the ring and (optional) the index of its segment. */
BlPoint bl_polygon_nearest (const BlPoints *ring, BlPoint p, guint *segment);

/* TRUE when two edges of the ring cross or touch; @i and @j are the first such edges. */
gboolean bl_polygon_self_crosses (const BlPoints *ring, guint *i, guint *j);

/* A region: one or more polygons with holes. Ring 0 of each is its outside. */
typedef struct _BlRegion BlRegion;
BlRegion *bl_region_new (const BlPoints *ring, GError **error);
BlRegion *bl_region_copy (const BlRegion *region);
void bl_region_free (BlRegion *region);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlRegion, bl_region_free)
double bl_region_area (const BlRegion *region);
double bl_region_perimeter (const BlRegion *region);
gboolean bl_region_is_empty (const BlRegion *region);
gboolean bl_region_contains (const BlRegion *region, BlPoint p);
/* Distance to the boundary, positive inside, negative outside. */
double bl_region_inside_distance (const BlRegion *region, BlPoint p);
BlRect bl_region_extent (const BlRegion *region);
/* Direction, radians from the x axis, of the long side of the smallest rectangle around it. */
double bl_region_axis (const BlRegion *region);
/* Grown (positive) or shrunk (negative) by @metres with round corners. */
BlRegion *bl_region_offset (const BlRegion *region, double metres, GError **error);
BlRegion *bl_region_union (const BlRegion *a, const BlRegion *b, GError **error);
BlRegion *bl_region_intersection (const BlRegion *a, const BlRegion *b, GError **error);
BlRegion *bl_region_difference (const BlRegion *a, const BlRegion *b, GError **error);
/* All of @regions (element-type BlRegion) together, grown by @metres (0 or more). */
BlRegion *bl_region_join (const GPtrArray *regions, double metres, GError **error);
/* A disc as a regular polygon of equal area. */
BlRegion *bl_region_disc (BlPoint centre, double radius, GError **error);
/* All rings: (element-type BlPoints). Outer rings counter-clockwise, holes clockwise. */
GPtrArray *bl_region_rings (const BlRegion *region);
