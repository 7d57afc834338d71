/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Painting one piece of a scene into a texture, on any thread. */
#pragma once

#include <gtk/gtk.h>

#include "studio/board.h"

typedef struct
{
  double zoom;
  double ox, oy; /* the piece's corner, device pixels from the document's origin */
  int width, height;
  gint64 lifted; /* planting to leave out; 0 = none */
  gboolean quick;
  gboolean photo_only; /* nothing of the design, if there is a photo */
} BlTilePiece;

/* (transfer full); NULL when there is no memory for it. */
GdkTexture *bl_tile_bake (const BlScene *scene, BlStamps *stamps, const BlTilePiece *piece);
