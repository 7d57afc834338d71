/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a canvas looks: document units to device pixels and back. */
#pragma once

#include "draw/scene.h"

/* Device x = x * zoom + ox, device y = ±y * zoom + oy (minus on the plan, whose y points up).
 * The offset is kept at whole device pixels, so that tiles are never resampled while panning. */
typedef struct
{
  BlView view;
  double zoom;
  double ox, oy;
} BlViewport;

gboolean bl_viewport_equal (const BlViewport *a, const BlViewport *b);
BlPoint bl_viewport_to_device (const BlViewport *viewport, BlPoint document);
BlPoint bl_viewport_to_document (const BlViewport *viewport, BlPoint device);
/* @extent in document units, shown whole in @width x @height device pixels with @margin. */
void
bl_viewport_fit (BlViewport *viewport, BlRect extent, double width, double height, double margin);
/* The document point under @device stays under it. */
void bl_viewport_zoom_at (BlViewport *viewport, BlPoint device, double zoom);
void bl_viewport_pan (BlViewport *viewport, double dx, double dy);
/* The base drawing was scaled or placed anew: what of it is in the middle of the view stays there, as
 * large as it was. */
void bl_viewport_keep_drawing (BlViewport *viewport, const BlCamera *before, const BlCamera *after,
                               double width, double height);
/* What is seen, document units, y0 < y1. */
BlRect bl_viewport_seen (const BlViewport *viewport, double width, double height);
double bl_viewport_min_zoom (BlView view);
double bl_viewport_max_zoom (BlView view);
