/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines from a map: polygons in projected metres become beds or features of the plan. */
#pragma once

#include "studio/edits.h"

typedef struct
{
  guint beds, features;
} BlBroughtIn;

/**
 * bl_board_bring_in_outlines:
 * @text: GeoJSON in projected metres, see bl_geojson_read()
 * @kind: what its polygons are; BL_FEATURE_N = beds. Lines are of that kind too where it is one of
 *   lines, else kerbs.
 *
 * All in one step of undo. The place that was taken from the first map's coordinates is kept with the
 * design, so that a second map of the same survey fits the first. Returns FALSE with @error when the
 * text is none or holds no outline, or without when the design refused (the board then says why).
 */
gboolean bl_board_bring_in_outlines (BlBoard *board, const char *text, gssize length,
                                     BlFeatureKind kind, BlBroughtIn *brought, GError **error);
