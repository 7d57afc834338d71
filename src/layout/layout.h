/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where each plant stands: the plantings of an alternative turned into positions.
 *
 * The rules, said again in each part's words:
 *  1. Specimens and rows stand where they are drawn.
 *  2. A drift fills its outline within the bed: half a spread inside the bed line and stones, half
 *     a spacing inside the drift's own line, outside drifts drawn before it. Rows come first, then
 *     single plants wherever the ends of rows leave one more its spacing.
 *  3. A fill takes what is left: half a spread inside the bed line, rows half a spacing outside
 *     drifts, then single plants in every pocket between the others, those that a drift leaves
 *     within its line too. Several fills of a bed share the places (at the widest spacing) in equal
 *     numbers, mixed.
 *  4. Between plants of different plantings lies half the spacing of each at least; a specimen or
 *     row claims half its spread instead, a tree no more than 0.6 m (others grow under it).
 *  5. Ground that two beds claim belongs to the first.
 *  6. Bulbs that are gone by summer lie between the others and keep only from each other.
 *  7. After a bed line was moved, plants of drifts and fills that still fit stay where they stood
 *     (BlPlanting.stood) and their rows are carried on, unless a fresh layout would hold over 3 %
 *     more. */
#pragma once

#include "design/model.h"
#include "geometry/lattice.h"

typedef struct
{
  gint64 planting_id, bed_id;
  BlPlant *plant;      /* borrowed from the model's table */
  const char *size;    /* borrowed size name (resolved: never NULL when the record has sizes) */
  BlPoint at;          /* plan, metres */
  guint index;         /* within its planting */
  guint64 seed;        /* the same for the same planting and index */
  BlPlantingForm form;
} BlPlaced;

/* What a planting came to. */
typedef struct
{
  gint64 planting_id;
  guint count;
  double spacing;      /* metres on centre used */
  double area;         /* m² that a drift or a fill (its share) covers; 0 for specimens and rows;
                          rough for drifts and 0 for fills in a layout that follows a drag */
  BlLatticeKind kind;
  char *rule;          /* "staggered 18 in apart; 9 in inside the bed line (half a spread), ..." */
} BlLayoutPart;

typedef struct
{
  gatomicrefcount refs;
  BlModel *model;      /* a ref: @placed borrows from it */
  gint64 alternative_id;
  GArray *placed;      /* BlPlaced, grouped by planting in id order */
  GArray *parts;       /* BlLayoutPart, the same order */
  GPtrArray *messages; /* utf8: plantings that could not be laid out, and why */
  GHashTable *memo;    /* private: lattices by what they were computed from */
} BlLayout;

/* Never fails: what cannot be placed is told in messages. */
BlLayout *bl_layout_compute (BlModel *model, gint64 alternative_id);
/* The same result as bl_layout_compute(); lattices whose region and rule are those of @previous
 * (may be NULL) are taken over instead of searched again. */
BlLayout *bl_layout_compute_after (BlModel *model, gint64 alternative_id, const BlLayout *previous);
/* While something is dragged: plants of @previous that still fit stay where they are, their rows are
 * carried on. Fast; compute again when the drag ends. */
BlLayout *bl_layout_follow (BlModel *model, gint64 alternative_id, const BlLayout *previous);
/* Where the plants of each drift and fill of the bed stand now, for its next line: (transfer full)
 * (element-type BlPlanting) copies with @stood; empty when the bed has none. */
GPtrArray *bl_layout_standing (const BlLayout *layout, gint64 bed_id);
BlLayout *bl_layout_ref (BlLayout *layout);
void bl_layout_unref (BlLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlLayout, bl_layout_unref)
/* The part of a planting, or NULL. */
const BlLayoutPart *bl_layout_part (const BlLayout *layout, gint64 planting_id);
/* Spacing that a planting uses: its own, else the record's, else the record's spread; metres. */
double bl_planting_spacing (const BlModel *model, const BlPlanting *planting);
/* The bed's area less stones, boxes and paving in it and what beds before it hold, m²; 0 while its
 * outline is not known. */
double bl_bed_free_area (const BlModel *model, const BlBed *bed);
/* What of the bed's ground beds before it hold, m². */
double bl_bed_shared_area (const BlModel *model, const BlBed *bed);
