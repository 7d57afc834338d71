/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The camera from whatever is known: weighted least squares with residuals and covariance. */
#pragma once

#include "base/units.h"
#include "geometry/outline.h"
#include "photo/camera.h"
#include "photo/known.h"

typedef struct
{
  int width, height;      /* pixels */
  double focal_35mm;      /* prior from metadata, 0 = none */
  double focal_rel_sd;    /* relative sd of that prior; 0 = 0.02 */
  double click_px;        /* sd of a click, pixels; 0 = 1.5 × max(width, height) / 4032 */
  double slope;           /* stated fall of the ground, rise/run, 0 = level */
  double slope_direction; /* radians clockwise from +y: the way down */
  gboolean no_lens;       /* the radial term is held at zero and not counted */
  double k1_sd;           /* sd of the radial term about zero; 0 = 0.01, which is 0.7 % at the corner
                             of a 26 mm picture (phones correct their lens; from memory) */
  double centre_sd;       /* sd of the principal point about the picture's centre, part of the
                             longer side; 0 = 0.005 with a focal length from metadata, 0.1 without
                             (it may be cropped) */
  BlUnits units;          /* of the lengths in sentences */
} BlPhotoPrior;

typedef struct
{
  gint64 known_id;        /* 0 for the focal prior */
  guint known_index;      /* index in the array given; G_MAXUINT for the focal prior */
  double predicted;       /* what the camera says: metres (longer side of a rectangle, length,
                             height, eye; distance from the stated place), degrees (angles),
                             pixels (horizon, straight; focal prior) */
  double stated;
  double normalised;      /* residual over its standard deviation, worst component */
} BlKnownResidual;

typedef struct
{
  BlCamera camera;
  double rms_px;             /* of the click residuals */
  double chi2;               /* weighted sum of squares */
  int dof;
  double chi2_p;             /* probability of a larger chi2 if all is right */
  GArray *residuals;         /* BlKnownResidual, one a fitted known (and the prior) */
  int worst;                 /* index in residuals of what disagrees most; -1 = none beyond 3 sd */
  char *message;             /* NULL, or a sentence on what disagrees or what is weak */
  double widened;            /* factor on the covariance's sd as the knowns disagree; 1 = none */
} BlSolution;

void bl_solution_free (BlSolution *solution);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlSolution, bl_solution_free)

/**
 * bl_solve_camera:
 * @knowns: (element-type BlKnown)
 * Returns: (transfer full) (nullable): the solution, or NULL with BL_ERROR_UNSOLVED and a sentence
 *   that says what is missing or contradicts ("these knowns leave the camera's height open: ...").
 */
BlSolution *bl_solve_camera (const BlPhotoPrior *prior, const GPtrArray *knowns, GError **error);

/* A figure with its standard deviation. */
typedef struct
{
  double value, sd;
} BlMeasured;

/* Ground area (m²) and perimeter (m) of an outline traced in pixels; clicks have sd @click_px. */
gboolean bl_measure_outline (const BlCamera *camera, const BlOutline *outline_px, double click_px,
                             BlMeasured *area, BlMeasured *perimeter, GError **error);
/* Ground length between two pixels, metres. */
gboolean bl_measure_length (const BlCamera *camera, BlPoint a, BlPoint b, double click_px,
                            BlMeasured *length, GError **error);
/* Height of an upright thing from its base and top pixels, metres. */
gboolean bl_measure_height (const BlCamera *camera, BlPoint base, BlPoint top, double click_px,
                            BlMeasured *height, GError **error);
/* The outline carried to the ground: every traced point, sharp corners kept. */
BlOutline *bl_outline_to_ground (const BlCamera *camera, const BlOutline *outline_px, GError **error);
BlOutline *bl_outline_to_photo (const BlCamera *camera, const BlOutline *ground, GError **error);
