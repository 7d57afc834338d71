/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Even spacing: staggered and square lattices in a region, and points along a line. */
#pragma once

#include "geometry/polygon.h"

typedef enum
{
  BL_LATTICE_STAGGERED, /* equilateral triangles, rows 0.866 s apart */
  BL_LATTICE_SQUARE
} BlLatticeKind;

typedef struct
{
  BlLatticeKind kind;
  double spacing;      /* metres on centre */
  double edge;         /* least distance of a plant from the boundary, metres (may be 0) */
  const BlPoint *avoid; /* plants already there ... */
  const double *avoid_radius; /* ... and the least distance from each, metres */
  guint n_avoid;
  gboolean best;       /* search for the most plants; else rows along the longest side */
} BlLatticeRule;

/**
 * bl_lattice_fill:
 * Returns: (transfer full): positions, none nearer than spacing to another (to 1e-9 m), none
 *   nearer than @edge to the boundary (to 1e-6 m); with @best a square lattice or, in a strip, rows
 *   along it when they hold more; ordered back to front, then left to right. The search is a
 *   fixed one: the same region and rule give the same points.
 */
BlPoints *bl_lattice_fill (const BlRegion *region, const BlLatticeRule *rule, GError **error);

/* Whole lattice by formula: A / s² or A / (0.866 s²), not rounded. */
double bl_lattice_formula_count (double area, double spacing, BlLatticeKind kind);

/* Points along a polyline at even spacing, spread so that both ends are kept and the gap is the
 * nearest possible to, but not under, @spacing; distances are as the crow flies. One point in the
 * middle of a line shorter than it. */
BlPoints *bl_lattice_along (const BlPoints *line, double spacing);
