/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a canvas looks: document units to device pixels and back. */

#include "config.h"

#include "studio/viewport.h"

static double
sign_of (const BlViewport *viewport)
{
  return viewport->view == BL_VIEW_PLAN ? -1 : 1;
}

gboolean
bl_viewport_equal (const BlViewport *a, const BlViewport *b)
{
  return a->view == b->view && a->zoom == b->zoom && a->ox == b->ox && a->oy == b->oy;
}

BlPoint
bl_viewport_to_device (const BlViewport *viewport, BlPoint document)
{
  return BL_POINT (document.x * viewport->zoom + viewport->ox,
                   sign_of (viewport) * document.y * viewport->zoom + viewport->oy);
}

BlPoint
bl_viewport_to_document (const BlViewport *viewport, BlPoint device)
{
  return BL_POINT ((device.x - viewport->ox) / viewport->zoom,
                   sign_of (viewport) * (device.y - viewport->oy) / viewport->zoom);
}

double
bl_viewport_min_zoom (BlView view)
{
  return view == BL_VIEW_PLAN ? 0.5 : 0.02;
}

double
bl_viewport_max_zoom (BlView view)
{
  return view == BL_VIEW_PLAN ? 2000 : 12;
}

void
bl_viewport_fit (BlViewport *viewport, BlRect extent, double width, double height, double margin)
{
  double w = MAX (extent.x1 - extent.x0, 1e-6), h = MAX (extent.y1 - extent.y0, 1e-6);
  double zoom = MIN (MAX (width - 2 * margin, 16) / w, MAX (height - 2 * margin, 16) / h);
  double middle_y = (extent.y0 + extent.y1) / 2 * sign_of (viewport);

  viewport->zoom = CLAMP (zoom, bl_viewport_min_zoom (viewport->view),
                          bl_viewport_max_zoom (viewport->view));
  viewport->ox = round (width / 2 - (extent.x0 + extent.x1) / 2 * viewport->zoom);
  viewport->oy = round (height / 2 - middle_y * viewport->zoom);
}

void
bl_viewport_zoom_at (BlViewport *viewport, BlPoint device, double zoom)
{
  double f;

  zoom = CLAMP (zoom, bl_viewport_min_zoom (viewport->view), bl_viewport_max_zoom (viewport->view));
  f = zoom / viewport->zoom;
  viewport->ox = round (device.x - (device.x - viewport->ox) * f);
  viewport->oy = round (device.y - (device.y - viewport->oy) * f);
  viewport->zoom = zoom;
}

void
bl_viewport_pan (BlViewport *viewport, double dx, double dy)
{
  viewport->ox = round (viewport->ox + dx);
  viewport->oy = round (viewport->oy + dy);
}

BlRect
bl_viewport_seen (const BlViewport *viewport, double width, double height)
{
  BlPoint a = bl_viewport_to_document (viewport, BL_POINT (0, 0));
  BlPoint b = bl_viewport_to_document (viewport, BL_POINT (width, height));

  return (BlRect) { MIN (a.x, b.x), MIN (a.y, b.y), MAX (a.x, b.x), MAX (a.y, b.y) };
}

void
bl_viewport_keep_drawing (BlViewport *viewport, const BlCamera *before, const BlCamera *after,
                          double width, double height)
{
  BlPoint middle = BL_POINT (width / 2, height / 2), px, plan, now;

  plan = bl_viewport_to_document (viewport, middle);
  if (!bl_camera_project (before, plan.x, plan.y, 0, &px) || !bl_camera_to_ground (after, px, &plan))
    return;
  viewport->zoom *= (before->eye / before->focal) / (after->eye / after->focal);
  viewport->zoom = CLAMP (viewport->zoom, bl_viewport_min_zoom (viewport->view),
                          bl_viewport_max_zoom (viewport->view));
  now = bl_viewport_to_device (viewport, plan);
  bl_viewport_pan (viewport, middle.x - now.x, middle.y - now.y);
}
