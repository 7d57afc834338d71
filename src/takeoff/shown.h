/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A quantity's unit as the person sees it: cubic yards for cubic metres, and so on. */
#pragma once

#include "base/units.h"

/* The unit shown for a price book unit, and (out) how many of the latter one of it is: "m3" gives
 * "cu yd" and 0.7646 in feet. Borrowed from @unit or static. */
const char *bl_unit_shown (const char *unit, BlUnits units, double *si);
