/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the knowns say of one another, in words and in the person's units. */
#pragma once

#include "design/model.h"

/* All are (transfer full). */

/* "10.00 ft stated, 10.03 ft seen, 0.4 sd"; NULL when nothing is seen of it yet. @click_px is for
 * check lines. */
char *bl_known_agreement (const BlKnown *known, const BlSolution *solution, double click_px,
                          BlUnits units);
/* The same of the focal length that the photo's data say; NULL when it was no prior. */
char *bl_focal_agreement (const BlSolution *solution, double focal_35mm);
/* "4' × 10'", "6'", or NULL for a known without a size. */
char *bl_known_sizes (const BlKnown *known, BlUnits units);
/* "10.03 ± 0.05 ft": 95 %, as everywhere. */
char *bl_measured_length_words (const BlMeasured *length, BlUnits units);
/* The length between two points of the photo, or the height above the first; NULL when it cannot be
 * measured. */
char *bl_known_seen (const BlCamera *camera, BlKnownKind kind, BlPoint a, BlPoint b,
                     double click_px, BlUnits units);
/* The residual of a known; NULL when it was not fitted. */
const BlKnownResidual *bl_known_residual (const BlSolution *solution, gint64 id);
/* The id of the known that disagrees most, beyond 3 sd; -1 = none, 0 = the focal length. */
gint64 bl_known_worst (const BlSolution *solution);

/* A fall as people write it: "2 %", "1 in 50", "1:50"; a bare number is per cent; empty is level. */
gboolean bl_fall_parse (const char *text, double *fall);
char *bl_fall_format (double fall);
