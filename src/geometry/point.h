/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Points, rectangles and small vector arithmetic in the plane. */
#pragma once

#include <glib.h>
#include <math.h>

/* Plan: metres, x right, y away from the viewer. Photo: pixels, x right, y down. */
typedef struct
{
  double x, y;
} BlPoint;

typedef struct
{
  double x0, y0, x1, y1; /* empty when x1 < x0 */
} BlRect;

#define BL_POINT(x_, y_) ((BlPoint) { (x_), (y_) })
#define BL_RECT_EMPTY ((BlRect) { INFINITY, INFINITY, -INFINITY, -INFINITY })

/* A growable list of points: GArray of BlPoint. */
typedef GArray BlPoints;
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPoints, g_array_unref)
#define bl_points_new() (g_array_new (FALSE, FALSE, sizeof (BlPoint)))
#define bl_points_at(p, i) (g_array_index ((p), BlPoint, (i)))
#define bl_points_add(p, pt) \
  G_STMT_START { BlPoint bl_pt_ = (pt); g_array_append_val ((p), bl_pt_); } G_STMT_END
BlPoints *bl_points_copy (const BlPoints *points); /* NULL gives NULL */
gboolean bl_points_equal (const BlPoints *a, const BlPoints *b);

static inline BlPoint bl_add (BlPoint a, BlPoint b) { return BL_POINT (a.x + b.x, a.y + b.y); }
static inline BlPoint bl_sub (BlPoint a, BlPoint b) { return BL_POINT (a.x - b.x, a.y - b.y); }
static inline BlPoint bl_mul (BlPoint a, double k) { return BL_POINT (a.x * k, a.y * k); }
static inline BlPoint
bl_lerp (BlPoint a, BlPoint b, double t)
{
  return BL_POINT (a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
}
static inline double bl_dot (BlPoint a, BlPoint b) { return a.x * b.x + a.y * b.y; }
static inline double bl_cross (BlPoint a, BlPoint b) { return a.x * b.y - a.y * b.x; }
static inline double bl_norm (BlPoint a) { return hypot (a.x, a.y); }
static inline double bl_dist (BlPoint a, BlPoint b) { return hypot (a.x - b.x, a.y - b.y); }

BlRect bl_rect_of (const BlPoints *points);
BlRect bl_rect_union (BlRect a, BlRect b);
BlRect bl_rect_grow (BlRect r, double by);
gboolean bl_rect_is_empty (BlRect r);
gboolean bl_rect_meets (BlRect a, BlRect b);

/* Distance of @p from the segment @a-@b, and (optional) the nearest point of it. */
double bl_segment_distance (BlPoint p, BlPoint a, BlPoint b, BlPoint *nearest);
