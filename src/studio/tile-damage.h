/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What differs between two scenes, so that only that is painted again. */
#pragma once

#include "draw/scene.h"

/* The boxes (BlRect, document units) of what is not the same in both; NULL when so much differs
 * that everything has to be painted again. */
GArray *bl_scene_damage (const BlScene *before, const BlScene *after);
/* TRUE when nothing but the month or the age is another. */
gboolean bl_scene_only_moved (const BlScene *before, const BlScene *after);
