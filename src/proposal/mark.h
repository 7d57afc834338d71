/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The designer's mark: a PNG, JPEG or SVG, bounded, drawn on the cover. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#define BL_MARK_MAX_BYTES (2 * 1024 * 1024)
#define BL_MARK_MAX_SIDE 4000 /* pixels */

typedef struct _BlMark BlMark;

/**
 * bl_mark_read:
 *
 * Returns: (transfer full): NULL with one sentence for what is no picture, is larger than the limits,
 *   or is an SVG that refers to anything outside itself or would take too long to draw.
 */
BlMark *bl_mark_read (GBytes *bytes, GError **error);
void bl_mark_free (BlMark *mark);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlMark, bl_mark_free)
/* Width over height. */
double bl_mark_aspect (const BlMark *mark);
/* Fills @width from (@x, @y); an SVG stays lines. */
void bl_mark_draw (const BlMark *mark, cairo_t *cr, double x, double y, double width);
