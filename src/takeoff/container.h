/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Container classes and the production rate that fits a size. */
#pragma once

#include "design/pricebook.h"

/* Least and greatest volume, m³: the classes of ANSI Z60.2-2025 (in³ in its tables), for "plug",
 * "quart", "cell pack", "bare root" the usual volume, common practice. FALSE for bulbs, balled
 * plants and sizes between the classes, which the standard leaves open. */
gboolean bl_container_volume (const char *size, double *low_m3, double *high_m3);
/* The class of the standard that a volume falls in, or NULL in its gaps. */
const char *bl_container_class (double m3);

/* Minutes to plant one of @size by the book, and the key of the rate; a "#" size that the book
 * leaves out is taken between its neighbours. FALSE when the book has nothing near. */
gboolean bl_planting_minutes (const BlPriceBook *book, const char *size, double *minutes,
                              char **key);
