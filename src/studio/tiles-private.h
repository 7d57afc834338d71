/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tiles' inside: what is kept of each tile, and of a set of them at one zoom. */
#pragma once

#include "studio/tiles.h"

typedef struct
{
  int column, row;
  GdkTexture *texture; /* NULL = none yet */
  GdkTexture *coming;  /* baked for the picture that is turning in */
  guint shown;         /* serial of what the texture shows */
  guint wanted;        /* serial last asked for */
  gboolean stale;
  gboolean rough;      /* what was asked for last is a quick bake */
  guint64 used;
} Tile;

typedef struct
{
  double zoom;
  BlView view;
  GHashTable *tiles; /* gint64 key -> Tile */
} Set;

typedef struct
{
  int column0, column1, row0, row1;
} Span;

struct _BlTiles
{
  gatomicrefcount refs;
  int closed; /* atomic */
  BlStamps *stamps;
  GFunc ready;
  gpointer data;
  GThreadPool *pool;
  BlScene *scene;
  BlScene *later; /* the next moment, kept until the present one has turned in */
  gboolean photo_only;
  gboolean moving;  /* the moment changed a short while ago */
  gboolean turning; /* new pictures are held back until they are complete */
  guint rest;       /* timeout */
  guint flying;     /* bakes under way */
  gint64 lifted;
  Set front, back;
  Tile overview;
  BlRect overview_extent;
  BlView overview_view;
  guint serial;
  guint64 clock;
  gboolean fresh, complete;
  gboolean covered; /* every tile in sight has something to show */
  GCancellable *ahead_job; /* the neighbouring months are being prepared */
  guint ahead_wait;
  gboolean ahead_done;
  BlRect ahead_clip;
  BlPoint centre; /* of what is seen, device pixels: baked first */
};

void bl_tiles_unref (BlTiles *tiles);
/* Prepares the neighbouring months of what is seen, after a pause. */
void bl_tiles_look_ahead (BlTiles *tiles, const BlViewport *viewport, int width, int height);
/* Something else is to be baked now. */
void bl_tiles_stop_ahead (BlTiles *tiles);
