/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chunks of a PNG that make its picture, without those that only tell of it. */
#pragma once

#include <glib.h>

/**
 * bl_png_bare:
 * @png: bytes that may be a PNG, whole or cut short
 * Returns: (transfer full): of @png the chunks IHDR, PLTE, tRNS, gAMA, sRGB, cHRM, IDAT and IEND, to
 *   the letter (PNG specification, third edition, sections 5.3, 11.2 and 11.3). The others change no
 *   pixel, as no colour is managed here, and their compressed text may unpack to a thousand times its
 *   size. What is damaged is left for the reader to find. Bytes of which nothing is to be left out,
 *   or that are no PNG, come back as they are, not copied.
 */
GBytes *bl_png_bare (GBytes *png);
