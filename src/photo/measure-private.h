/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Derivatives of measured quantities by the camera and the clicks. */
#pragma once

#include "photo/solve.h"

/* A quantity of some clicked pixels; FALSE when they do not lie on the ground. */
typedef gboolean (*BlQuantity) (const BlCamera *camera, const BlPoints *px, gconstpointer data,
                                double *value);

gboolean bl_gradient_camera (const BlCamera *camera, BlQuantity quantity, const BlPoints *px,
                             gconstpointer data, double *gradient);
/* By x and y of each click in turn. */
gboolean bl_gradient_clicks (const BlCamera *camera, BlQuantity quantity, const BlPoints *px,
                             gconstpointer data, double *gradient);
/* Of an outline's area, by x and y of each click in turn. */
gboolean bl_gradient_area (const BlCamera *camera, const BlOutline *outline, double *gradient);
/* a' C b over the camera's parameters. */
double bl_camera_variance (const BlCamera *camera, const double *a, const double *b);
/* Between two clicks on the ground, metres. */
gboolean bl_length_quantity (const BlCamera *camera, const BlPoints *px, gconstpointer data,
                             double *value);
/* Of what stands at the first click with its top at the second, metres. */
gboolean bl_height_quantity (const BlCamera *camera, const BlPoints *px, gconstpointer data,
                             double *value);
/* Area of an outline; @data is the BlOutline that says which points are sharp. */
gboolean bl_area_quantity (const BlCamera *camera, const BlPoints *px, gconstpointer data,
                           double *value);
