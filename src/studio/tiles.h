/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The baked picture under a canvas: tiles at the exact device zoom, painted on other threads. */
#pragma once

#include <gtk/gtk.h>

#include "studio/board.h"
#include "studio/viewport.h"

typedef struct _BlTiles BlTiles;

/* @ready is called on the main thread when something new can be shown. */
BlTiles *bl_tiles_new (BlStamps *stamps, GFunc ready, gpointer data);
void bl_tiles_free (BlTiles *tiles);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlTiles, bl_tiles_free)

/* Takes a new scene: tiles whose content differs are baked again and stay on show meanwhile. When
 * only the moment is another, quick bakes are shown first, all together. */
void bl_tiles_set_scene (BlTiles *tiles, BlScene *scene);
/* Leaves a planting out of the picture while it is dragged; 0 = none. */
void bl_tiles_lift (BlTiles *tiles, gint64 planting_id);
/* @settled: FALSE while the zoom is still changing; then what is there is stretched. */
void bl_tiles_snapshot (BlTiles *tiles, GtkSnapshot *snapshot, const BlViewport *viewport,
                        int width, int height, double scale_factor, gboolean settled);
/* TRUE when every tile in sight shows the present scene. */
gboolean bl_tiles_are_fresh (const BlTiles *tiles);
/* TRUE when every tile in sight shows the present scene, perhaps in a quick bake. */
gboolean bl_tiles_are_complete (const BlTiles *tiles);
/* TRUE when nothing under the tiles could be seen in the last frame. */
gboolean bl_tiles_are_covering (const BlTiles *tiles);
/* The photo as it is, whatever scene it is asked for; to be called before the first scene. */
void bl_tiles_set_photo_only (BlTiles *tiles);
