/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where straight edges and joints meet. */
#pragma once

#include "photo/snap-gather.h"
#include "photo/snap-model.h"

/* The corners near @middle that @lines let expect, likeliest first, fitted: BlCorner. */
GArray *bl_corners_find (const BlPatch *patch, const GArray *lines, BlPoint middle, double radius);
