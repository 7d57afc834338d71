/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smooth bed line: a closed curve through the traced points. */
#pragma once

#include "geometry/point.h"

/* A centripetal Catmull-Rom curve (Barry and Goldman 1988; Yuksel, Schaefer and Keyser 2011: no
 * cusps or loops within a segment), broken at sharp corners. */
typedef struct
{
  BlPoints *points;   /* as traced, not repeated at the end */
  gboolean *sharp;    /* one a point, NULL = none is */
  gboolean straight;  /* every point is sharp: a plain polygon */
  gboolean open;      /* a line (row, fence), not a closed outline */
} BlOutline;

BlOutline *bl_outline_new (void);
BlOutline *bl_outline_new_take (BlPoints *points, gboolean straight);
BlOutline *bl_outline_copy (const BlOutline *outline);
void bl_outline_free (BlOutline *outline);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlOutline, bl_outline_free)
gboolean bl_outline_equal (const BlOutline *a, const BlOutline *b);
void bl_outline_insert (BlOutline *outline, guint at, BlPoint p);
void bl_outline_remove (BlOutline *outline, guint at);
void bl_outline_set_sharp (BlOutline *outline, guint at, gboolean sharp);
gboolean bl_outline_is_sharp (const BlOutline *outline, guint at);

/* The curve as cubic Bézier pieces: for piece i from point i to i+1, control points c[2i], c[2i+1].
 * The caller owns the result. Units as the points. */
BlPoints *bl_outline_controls (const BlOutline *outline);
/* A polygon (or line, when open) that leaves the curve by at most @tolerance. */
BlPoints *bl_outline_flatten (const BlOutline *outline, double tolerance);
/* As flatten with @per_segment equal parameter steps a piece: the same points for small moves of
 * the traced ones, for derivatives. */
BlPoints *bl_outline_sample (const BlOutline *outline, guint per_segment);
/* Refuses fewer than three points, not-a-number, points that coincide, and a line that crosses
 * itself: "crosses itself between points 4 and 9". */
gboolean bl_outline_check (const BlOutline *outline, GError **error);
