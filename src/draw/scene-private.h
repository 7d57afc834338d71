/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of the painter share: grid, light, stamps, and the state of one painting. */
#pragma once

#include "draw/figure.h"
#include "draw/scene.h"

/* Items by cell, in compressed rows: those of cell c are item[start[c]] .. item[start[c + 1] -
 * 1]. */
struct _BlSceneGrid
{
  double x0, y0, cell;
  int nx, ny;
  guint *start, *item;
};

typedef struct _BlSceneGrid BlSceneGrid;
BlSceneGrid *bl_scene_grid_new (const GArray *items, BlRect extent);
void bl_scene_grid_free (BlSceneGrid *grid);
/* Indices of the items whose boxes meet @rect, in painting order: (element-type guint). */
GArray *bl_scene_items_in (const BlScene *scene, BlRect rect);

struct _BlLightEstimate
{
  BlFigureLight figure; /* for the figures */
  BlColor haze;         /* what distance fades towards */
  double shade;         /* darkness of shadows on the ground, 0..1 */
};

typedef struct _BlLightEstimate BlLightEstimate;
gboolean bl_scene_has_snow (const BlScene *scene);
BlLightEstimate *bl_light_estimate (const BlModel *model, const BlImage *photo);

/* One label of the plan. */
typedef struct
{
  gint64 planting_id;
  BlPoint at;
  double radius;
  char text[24];
} BlSceneLabel;

/* A rasterised figure or symbol; its pixels never change. */
typedef struct
{
  gatomicrefcount refs;
  guchar *data;
  int width, height, stride;
  double ox, oy;   /* the foot (centre), pixels from the top left */
  double detail;   /* pixels a metre */
} BlStamp;

BlStamp *bl_stamp_new (BlRect box, double detail);
BlStamp *bl_stamp_ref (BlStamp *stamp);
void bl_stamp_unref (BlStamp *stamp);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlStamp, bl_stamp_unref)
/* A surface over the stamp's pixels for one thread. */
cairo_surface_t *bl_stamp_surface (const BlStamp *stamp);

BlStamp *bl_figure_cache_lookup (BlFigureCache *cache, guint64 key);
void bl_figure_cache_insert (BlFigureCache *cache, guint64 key, BlStamp *stamp);
gsize bl_figure_cache_bytes (BlFigureCache *cache);

/* Ground textures: square, seamless, in levels. */
typedef enum { BL_SURFACE_MULCH, BL_SURFACE_SOIL, BL_SURFACE_GRAVEL, BL_SURFACE_N } BlSurfaceKind;
#define BL_TEXTURE_SIDE 512
#define BL_TEXTURE_METRES 1.8
#define BL_TEXTURE_LEVELS 9
typedef struct
{
  guint32 *level[BL_TEXTURE_LEVELS]; /* 512, 256 ... 2 pixels a side, XRGB */
} BlTexture;
BlTexture *bl_texture_new (BlSurfaceKind kind);
void bl_texture_free (BlTexture *texture);
const BlTexture *bl_figure_cache_texture (BlFigureCache *cache, BlSurfaceKind kind);

/* One painting. */
typedef struct
{
  const BlScene *scene;
  cairo_t *cr;
  BlRect clip;
  double scale;           /* device pixels a document unit */
  const BlPaintOptions *options;
  BlFigureCache *cache;
  GHashTable *vectors;    /* guint64 -> cairo_surface_t: recorded figures of vector output */
} BlPainting;

#define BL_SEED_VARIANTS 12
#define BL_QUICK 2 /* a quick painting draws plants this many times smaller, each way */
guint64 bl_look_hash (const BlPlant *plant, const BlLook *look);
/* Draws the stamp of a figure in a frame of metres (y down) whose unit is @detail device pixels.
 * @rough: what it looks like near this moment, for its stand-in in a quick painting. */
void bl_paint_figure (BlPainting *p, const BlPlant *plant, const BlLook *look, const BlLook *rough,
                      guint64 seed, double detail, double haze);
/* Makes the stand-in's stamp ready, paints nothing. */
void bl_paint_foresee (BlPainting *p, const BlPlant *plant, const BlLook *look, double detail,
                       double haze);
/* The share of its colour that a plant so far away loses, 0..1. */
double bl_haze_at (double depth);
/* One look a placed plant at @moment. */
BlLook *bl_scene_looks_at (const BlScene *scene, BlMoment moment);
BlStamp *bl_paint_blot (BlPainting *p, double core);
void bl_paint_symbol (BlPainting *p, const BlPlant *plant, const BlLook *look, double radius,
                      guint64 seed,
                      double detail);

/* After finishing an SVG, which otherwise keeps itself alive through what is recorded for it. */
void bl_paint_forget_vectors (cairo_surface_t *target);

/* Beds on the photo and on the plan. */
void bl_ground_paint (BlPainting *p, const BlBed *bed);
void bl_edging_paint (BlPainting *p, const BlBed *bed);
/* Path of a ground ring in document units; FALSE when nothing of it is in view. */
gboolean bl_ground_path (const BlScene *scene, cairo_t *cr, const BlPoints *ring);
BlSurfaceKind bl_bed_surface (const BlBed *bed);

void bl_paint_plan (BlPainting *p, GArray *items, GCancellable *cancellable);
void bl_paint_feature_plan (BlPainting *p, const BlFeature *feature);
/* The photo over @clip, pixels of the document. */
/* The base drawing, in plan units with y down; nothing when there is none. */
void bl_paint_drawing (BlPainting *p);
void bl_paint_photo (BlPainting *p);
