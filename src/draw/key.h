/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Key letters of the plants on a plan. */
#pragma once

#include "layout/layout.h"

/* The key of a plant in an alternative: the first letter of its genus and of its species (of its
 * cultivar where no species is given), upper case: Echinacea purpurea = "EP". Where several plants
 * of the alternative share the letters, all of them are numbered in the order of their names:
 * "EP1", "EP2". Returns: (transfer full). */
char *bl_layout_key (const BlLayout *layout, const char *slug);
