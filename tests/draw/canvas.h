/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures for the tests of drawing: records, golden pictures, and a small scene. */
#pragma once

#include "draw/figure.h"
#include "draw/scene.h"

/* The records of forms.plants, in their order: (element-type BlPlant). */
GPtrArray *canvas_plants (void);
BlPlant *canvas_plant (GPtrArray *plants, const char *slug);
cairo_surface_t *canvas_new (int width, int height);
/* Compares with tests/draw/golden/NAME.png: the mean difference of a channel, and the share of
 * pixels that differ visibly, must be small. On failure the picture and the difference are written
 * beside the test program. BL_UPDATE_GOLDEN=1 writes the golden instead. */
void canvas_assert_golden (cairo_surface_t *surface, const char *name);
/* Rows and columns that hold anything but @paper (premultiplied ARGB); FALSE when none. */
gboolean canvas_ink (cairo_surface_t *surface, guint32 paper, int *x0, int *y0, int *x1, int *y1);

/* The camera of the demo's photo, from its exact truth. */
void canvas_camera (BlCamera *camera);
/* A model of one bed before that camera, with alternative 1 and the plants of forms.plants. */
BlModel *canvas_model (void);
void canvas_planting (BlModel *model, const char *slug, BlPlantingForm form, const double (*at)[2],
                      guint n);
