/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the lattice: where rows of a given direction may hold plants, counted row by row. */
#pragma once

#include "geometry/lattice.h"

/* A position may be nearer the boundary than asked by this much, and than spacing or an avoided
 * disc by the second: rounding of coordinates, nothing a spade could show. */
#define BL_LATTICE_EDGE_SLACK 1e-6
#define BL_LATTICE_SPACING_SLACK 1e-9

/* What the rows must keep clear of, once a fill. */
typedef struct
{
  guint n_edges;
  BlPoint *from, *to; /* every edge of every ring */
  double reach;       /* kept from the edges */
  guint n_discs;
  BlPoint *centre;
  double *radius;
} BlField;

typedef struct
{
  guint row;
  double lo, hi;
} BlRowSpan;

/* The field turned so that rows are horizontal, and the work arrays of a count. */
typedef struct
{
  const BlField *field;
  double angle, cos, sin;
  BlPoint *from, *to, *centre;
  double y0, y1;
  GArray *crossings, *blocks, *allowed, *sorted, *events; /* BlRowSpan but for events */
  GArray *starts;                                         /* guint: rows in sorted */
} BlRows;

/* One placement of a lattice. */
typedef struct
{
  BlLatticeKind kind;
  double spacing, angle;
  double y; /* of the first row, from the lower edge of the turned field */
  double x; /* of a plant of row 0, in the turned frame */
  guint count;
} BlPlacement;

BlField *bl_field_new (const BlRegion *region, const BlLatticeRule *rule, GError **error);
void bl_field_free (BlField *field);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlField, bl_field_free)

BlRows *bl_rows_new (const BlField *field);
void bl_rows_free (BlRows *rows);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlRows, bl_rows_free)
void bl_rows_turn (BlRows *rows, double angle);
double bl_row_gap (BlLatticeKind kind, double spacing);
/* Sets @placement's x and count to the best for its kind, spacing, angle and y; the rows must be
 * turned to the angle. */
void bl_rows_count (BlRows *rows, BlPlacement *placement);
void bl_rows_emit (BlRows *rows, const BlPlacement *placement, BlPoints *out);

/* Plants along a strip: one row, or two to five lanes filled from one end to the other. */
BlPoints *bl_strip_fill (const BlRegion *region, const BlLatticeRule *rule);
