/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Closed forms from which the camera's solution starts: homography, pose, vanishing points. */
#pragma once

#include "photo/camera.h"

/* The plane-to-plane map that takes @from to @to, n >= 4 (least squares beyond), row major and
 * scaled to h[8] = 1 where that is possible. Hartley and Zisserman, Multiple View Geometry (2nd
 * ed. 2003), algorithm 4.2: both sets moved to their centroid and scaled to a mean distance of
 * √2, then the smallest right singular vector. FALSE when the points do not fix it. */
gboolean bl_homography_from_points (const BlPoint *from, const BlPoint *to, guint n, double *h);
BlPoint bl_homography_apply (const double *h, BlPoint p);
/* The 2 × 2 derivative of the map at @p, row major. */
void bl_homography_jacobian (const double *h, BlPoint p, double *jacobian);

/* Focal length from the vanishing points of two directions at right angles, square pixels:
 * f² = -(a - c)·(b - c). FALSE when that is not positive or a point is at infinity. */
gboolean bl_focal_from_vanishing_points (BlPoint a, BlPoint b, BlPoint centre, double *focal);
/* The same for the map @h of a plane in true shape (metres to pixels): its axes are at right angles
 * and equally long. FALSE when the view is too square-on to tell. */
gboolean bl_focal_from_homography (const double *h, BlPoint centre, double *focal);
/* Sets pitch, roll and eye of @camera (focal and centre given) from the map of a plane in true
 * shape; @inside is a point of it that is seen. */
gboolean bl_pose_from_homography (const double *h, BlPoint inside, BlCamera *camera);
/* Where the lines a1-a2 and b1-b2 meet; FALSE when they are parallel to 1e-9. */
gboolean bl_lines_meet (BlPoint a1, BlPoint a2, BlPoint b1, BlPoint b2, BlPoint *at);
