/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Months in the papers' language: papers speak the design's language, not the machine's. */
#pragma once

#include <glib.h>

/* Name of a month, 1-12; short has three letters or so. */
const char *bl_month_name (const char *language, int month, gboolean is_short);
