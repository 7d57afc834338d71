/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A scene: the immutable list of what is drawn for a design, an alternative and a moment. */
#pragma once

#include <cairo.h>

#include "layout/layout.h"
#include "photo/image.h"

typedef enum
{
  BL_VIEW_PHOTO, /* document units: pixels of the upright photo */
  BL_VIEW_PLAN   /* document units: metres, y up (drawn with y flipped) */
} BlView;

typedef enum
{
  BL_ITEM_GROUND,  /* a bed's surface and its edging */
  BL_ITEM_FEATURE,
  BL_ITEM_SHADOW,
  BL_ITEM_PLANT,
  BL_ITEM_FRONT    /* the photo again, inside an outline that stands in front */
} BlItemKind;

typedef struct
{
  BlItemKind kind;
  guint placed;     /* index in the layout for plants and shadows */
  gint64 id;        /* planting, bed or feature */
  BlRect box;       /* document units, everything it may paint (photo: y down; plan: y up) */
  double depth;     /* painted from large (far) to small */
  BlPoint base;     /* document point of its foot / centre */
  double scale;     /* document units a metre at the foot (photo); 1 on the plan */
  BlPlantState state;
  BlPoint up;       /* document vector of one metre upright at the foot (photo) */
} BlSceneItem;

typedef struct
{
  gatomicrefcount refs;
  BlView view;
  BlModel *model;
  BlLayout *layout;
  BlImage *photo;      /* NULL on the plan, or for a blank one */
  BlImage *drawing;    /* the base drawing under the plan; NULL = none is shown */
  BlMoment moment;
  BlRect extent;       /* document units of the whole */
  GArray *items;       /* BlSceneItem, in painting order */
  BlLook *looks;       /* one a placed plant, at the moment */
  BlLook *rough;       /* photo: the same at the nearest half month, for quick paintings */
  struct _BlSceneGrid *grid; /* uniform grid over the boxes, for painting and picking */
  struct _BlLightEstimate *light; /* exposure and white balance of the photo's surroundings */
  guint options;       /* BlSceneOptions */
  guint64 symbols;     /* plan: changes with the person's own symbols */
  GArray *labels;      /* plan: key letters and where they stand (scene-private.h) */
} BlScene;

typedef enum
{
  BL_SCENE_MATURE_SPREAD = 1 << 0, /* plan: ring at mature spread */
  BL_SCENE_LABELS = 1 << 1,        /* plan: key letters and counts */
  BL_SCENE_GRID = 1 << 2,          /* plan: a 1 m or 5 ft grid */
  BL_SCENE_BARE = 1 << 3,
    /* no plants: the ground only ("before" is no scene, the photo) */
  BL_SCENE_MONOCHROME = 1 << 4,    /* plan: legible in black and white */
  BL_SCENE_SNOW = 1 << 5           /* photo: snow lies from December to February (south: June on) */
} BlSceneOptions;

/* Builds the list; pure, any thread. @photo may be NULL. */
BlScene *bl_scene_new (BlView view, BlLayout *layout, BlImage *photo, BlMoment moment,
                       guint options);
/* The plan over its base drawing, which is part of the extent; a NULL @drawing gives the plan alone. */
BlScene *bl_scene_new_over (BlLayout *layout, BlImage *drawing, BlMoment moment, guint options);
BlScene *bl_scene_ref (BlScene *scene);
void bl_scene_unref (BlScene *scene);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlScene, bl_scene_unref)

/* What must be left out while a planting is lifted and dragged: 0 = nothing. */
typedef struct
{
  gint64 skip_planting;
  gboolean quick;
  /* a first look while the month or the age is moved: one stand-in a kind, softer,
                          where its own stamps are not ready; bake again without it at rest */
  gboolean vector;     /* PDF and SVG: no stamped pictures, photo as its own JPEG where possible */
  GBytes *jpeg;        /* for vector output: an upright JPEG of the photo; may be NULL */
  struct _BlFigureCache *cache; /* stamps of figures and symbols; NULL = draw each afresh */
} BlPaintOptions;

/* Paints the part of the scene inside @clip (document units; on the plan y up: plan point (x, y) is
 * drawn at (x, -y)) with @cr in document units: the caller
 * has set translation and scale (for the plan too: y up is handled inside; the document's
 * y axis on the plan points down on paper as -y). @device_scale: device pixels a document unit.
 * Any thread. Returns FALSE with BL_ERROR_CANCELLED when cancelled. */
gboolean bl_scene_paint (const BlScene *scene, cairo_t *cr, BlRect clip, double device_scale,
                         const BlPaintOptions *options, GCancellable *cancellable, GError **error);
/* Paints one planting alone (the thing being dragged), offset by @by plan metres. */
void bl_scene_paint_planting (const BlScene *scene, cairo_t *cr, gint64 planting_id, BlPoint by,
                              double device_scale, const BlPaintOptions *options);

/* The half month whose looks stand in for those of @month in a quick painting. */
double bl_scene_rough_month (double month);
/* Draws the stand-ins ahead that a quick painting of the same at another @month needs inside @clip.
 * Any thread; stops soon when cancelled. */
void bl_scene_foresee (const BlScene *scene, BlRect clip, double device_scale, double month,
                       struct _BlFigureCache *cache, GCancellable *cancellable);

/* The top item at a document point: plants first, then features, then beds; NULL for none. */
const BlSceneItem *bl_scene_pick (const BlScene *scene, BlPoint at, double slack);
/* Document <-> plan. On the plan view identity; FALSE when undefined (above the horizon). */
gboolean bl_scene_to_plan (const BlScene *scene, BlPoint document, BlPoint *plan);
gboolean bl_scene_from_plan (const BlScene *scene, BlPoint plan, BlPoint *document);

/* Shared stamps of rasterised figures, bounded by bytes; safe between threads. */
typedef struct _BlFigureCache BlFigureCache;
BlFigureCache *bl_figure_cache_new (gsize max_bytes);
void bl_figure_cache_free (BlFigureCache *cache);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlFigureCache, bl_figure_cache_free)

/* Whole pictures: by suffix PNG, SVG or PDF. @width in pixels (points for PDF); the photo view
 * keeps
 * its aspect; the plan fits the extent with a margin, a scale bar and a north arrow. */
/* The widest of them that is at most @width by @height. */
int bl_scene_export_fit (const BlScene *scene, double width, double height);
gboolean bl_scene_export (const BlScene *scene, const char *path, int width,
                          GCancellable *cancellable,
                          GError **error);
