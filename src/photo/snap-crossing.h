/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where four fields meet, light and dark in turn. */
#pragma once

#include "photo/snap-patch.h"

/* The likeliest crossing within @radius of the middle of @patch, in its coordinates; @sd of one of
 * them. Förstner and Gülch 1987, at crossings only: by their symmetry all that is near helps. */
gboolean bl_crossing_find (const BlPatch *patch, double radius, BlPoint *at, double *sd);

/* Moves to the point the gradients' lines pass nearest to. FALSE when that runs away. @robust:
 * gradients whose line misses the middle count for less, as grass and shadows beside a corner do. */
gboolean bl_crossing_refine (const BlPatch *patch, gboolean robust, BlPoint *at, double *sd);
