/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the layout: the free ground of a bed and the placing of one planting. */
#pragma once

#include "geometry/lattice.h"
#include "layout/layout.h"

/* A plant that others keep away from. */
typedef struct
{
  BlPoint at;
  double claim;   /* metres: added to half the spacing of who comes near */
  gboolean bulbs; /* layer */
} BlTaken;

/* A bed while it is planted. */
typedef struct
{
  const BlBed *bed;
  BlRegion *free;    /* inside the bed line, outside stones, boxes and beds before it; NULL = bed
                        unknown */
  double shared;     /* m² that beds before it hold */
  GHashTable *inset; /* millimetres -> BlRegion: @free shrunk */
  GPtrArray *drifts; /* BlDriftClaim */
  GArray *taken;     /* BlTaken */
} BlPlot;

typedef struct
{
  BlRegion *region;
  gboolean bulbs;
} BlDriftClaim;

typedef struct
{
  BlModel *model;
  BlLayout *layout;
  const BlLayout *previous; /* may be NULL */
  gboolean follow;
  GHashTable *points;       /* planting id -> BlPoints */
} BlPlacing;

BlPlot *bl_plot_new (const BlModel *model, const BlBed *bed, GError **error);
void bl_plot_free (BlPlot *plot);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPlot, bl_plot_free)
/* The free ground shrunk by @metres; borrowed. NULL with @error. */
const BlRegion *bl_plot_inset (BlPlot *plot, double metres, GError **error);
void bl_plot_take (BlPlot *plot, BlPoint at, double claim, gboolean bulbs);

gboolean bl_is_bulb_layer (const BlPlant *plant);
double bl_claim_of (const BlPlant *plant, BlPlantingForm form, double spacing);
void bl_place_drawn (BlPlacing *placing, BlPlot *plot, const BlPlanting *planting);
void bl_place_drift (BlPlacing *placing, BlPlot *plot, const BlPlanting *planting);
/* @fills: (element-type BlPlanting) of one bed and layer. */
void bl_place_fills (BlPlacing *placing, BlPlot *plot, GPtrArray *fills);
/* Even positions in @region for all of @plantings together, and single plants in the @pockets (at
 * least @region) that they leave. Plants that stood somewhere before stay where they still fit, as
 * long as nearly as many find room as in the best rows; always while a drag is followed. */
BlPoints *bl_place_even (BlPlacing *placing, BlPlot *plot, GPtrArray *plantings,
                         const BlRegion *region, const BlRegion *pockets, double spacing,
                         gboolean bulbs, GError **error);
/* Where the planting's plants stood before; empty when nothing is known. */
BlPoints *bl_place_stood (const BlPlacing *placing, const BlPlanting *planting);
/* Those of @plantings that stood in @keep and still fit, and their rows carried on over @region. */
BlPoints *bl_place_keep (const BlPlacing *placing, GPtrArray *plantings, const BlRegion *region,
                         const BlRegion *keep, const BlLatticeRule *rule);
/* Adds to @points, which have @spacing, single plants wherever in @region one finds its own spacing
 * from them and half of it beyond what others claim; the same for the same input. */
void bl_place_pockets (const BlPlacing *placing, const BlPlot *plot, const BlRegion *region,
                       double spacing, gboolean bulbs, BlPoints *points);
char *bl_place_words (const BlPlacing *placing, gboolean square, double spacing, double inset,
                      const char *rest);
/* Takes @points and @rule. */
void bl_place_add (BlPlacing *placing, const BlPlanting *planting, BlPoints *points, double spacing,
                   double area, char *rule);
/* @region (taken) less the drifts placed before, each grown by @margin. */
BlRegion *bl_plot_less_drifts (BlPlot *plot, BlRegion *region, double margin, gboolean bulbs,
                               GError **error);
int bl_compare_back_to_front (const void *a, const void *b);
void bl_placing_say (BlPlacing *placing, const BlPlanting *planting, const char *format, ...)
  G_GNUC_PRINTF (3, 4);
