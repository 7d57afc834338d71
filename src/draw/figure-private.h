/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared means of the standing figures: marks, tones, leaves, heads, stems, masses.
 *
 * A figure is a list of marks (a leaf, a blade, a petal ring ...) in metres, y up, foot at (0, 0).
 * Forms only add marks; the core sorts them by layer and tone, fits them to the size that the look
 * states, and paints runs of one tone as one path. A mark's layer is what a painter would call the
 * order of laying in: back to front. */
#pragma once

#include "base/rng.h"
#include "draw/figure-pen.h"
#include "draw/figure.h"

#define FIG_TONES 8
#define FIG_HUES 3
#define FIG_BASES 16

/* First of FIG_TONES × FIG_HUES colours, dark to light. */
typedef struct
{
  guint16 first;
} FigTones;

typedef enum
{
  FIG_LEAF,  /* n = BlLeafShape; x, y, angle, a length, b width, c bend */
  FIG_HALF,  /* the lit half of the same */
  FIG_BLADE, /* x, y, control (angle, a), end (b, c), widths d -> e */
  FIG_OVAL,  /* x, y, angle, radii a, b */
  FIG_RAYS,  /* x, y, angle phase, a outer, b inner radius, c squash, d tilt axis, e petal width */
  FIG_TUFT,  /* x, y, angle, a length, b spread (radians), c width; n strokes */
  FIG_BLOB,  /* x, y, radii a, b, c phase: a soft-edged irregular mass */
  FIG_CLOUD, /* x, y, radii a, b, angle phase, c leaf, d lean; n leaves round its edge */
  FIG_CAP,   /* x, y middle of its lower edge, radii a, b, angle phase: snow */
  FIG_FEATHER /* x, y, control (angle, a), end (b, c), d half width, e notch; n teeth a side */
} FigKind;

typedef struct
{
  guint64 key; /* layer, serial, colour, index */
  guint8 kind, n;
  float x, y, angle, a, b, c, d, e;
} FigMark;

typedef struct
{
  const BlPlant *plant;
  const BlLook *look;
  BlFigureLight light;
  guint64 seed;
  BlRng rng;
  double detail, px;    /* device pixels a metre, metres a device pixel */
  double lx, ly, lz;    /* towards the light; z towards the viewer */
  double height, foliage, half; /* metres, now */
  double ground;        /* metres, <= 0: how far the near side of a body reaches below its foot */
  double full;          /* fullness 0..1 */
  double leaf_len;      /* metres, as drawn: never under what can be seen */
  double leaf_amount;   /* 0..1 */
  double snow;          /* 0..1: lying on it */
  guint budget;         /* leaves to spend */
  FigTones leaf, wood, green, petal, eye, seed_tones, fruit, white;
  FigTones stalk;       /* of flowers: a little darker than the leaves */
  int head;             /* FigHeadKind */
  FigMark *marks;
  guint n_marks, cap_marks;
  struct
  {
    BlLab lab;
    double depth;
    double vary; /* how far the hues lie apart */
  } bases[FIG_BASES];
  guint n_bases;
  BlColor colors[FIG_TONES * FIG_HUES * FIG_BASES]; /* alpha 0: not mixed yet */
  guint serial, counter;
  double fold;           /* how much lighter the lit half of a large leaf is */
  int hue;               /* 1 + the hue that all marks share for now; 0: each its own */
  /* order within a layer: small marks share 0..15, large ones have their own */
  gboolean small;
  double x0, x1, y0, y1; /* extent of the marks */
} Fig;

static inline double fig_unit (Fig *f) { return bl_rng_unit (&f->rng); }
static inline double fig_range (Fig *f, double a,
                                double b) { return a + (b - a) * bl_rng_unit (&f->rng); }
static inline double fig_sway (Fig *f,
                               double by) { return by * (bl_rng_unit (&f->rng)
                                                         + bl_rng_unit (&f->rng) - 1); }
/* A stream of its own for a part, so that one part's count never stirs another. */
static inline void fig_part (Fig *f, guint64 part) { f->rng = bl_rng (bl_rng_mix (f->seed, part)); }
/* Even but unordered shares in [0, 1): the i-th of a golden-ratio sequence. */
static inline double fig_share (const Fig *f, guint i)
{
  double s = (double) (f->seed & 1023) / 1024.0 + 0.6180339887498949 * (i + 1);
  return s - floor (s);
}

/* figure-mark.c, figure-path.c: adding marks, and painting them */
FigTones fig_tones (Fig *f, BlColor base, double depth);
BlColor fig_color (Fig *f, guint index);
void fig_leaf (Fig *f, int layer, BlLeafShape shape, double x, double y, double angle,
               double length,
               double width, double bend, FigTones tones, double value);
void fig_blade (Fig *f, int layer, const double p[8], FigTones tones, double value);
void fig_oval (Fig *f, int layer, double x, double y, double angle, double rx, double ry,
               FigTones tones,
               double value);
void fig_rays (Fig *f, int layer, guint n, double x, double y, double phase, const double q[5],
               FigTones tones, double value);
void fig_tuft (Fig *f, int layer, guint n, double x, double y, double angle, double length,
               double spread, double width, FigTones tones, double value);
void fig_blob (Fig *f, int layer, double x, double y, double rx, double ry, FigTones tones,
               double value);
FigMark *fig_add (Fig *f, int layer, FigKind kind, FigTones tones, double value);
/* Length and direction of one stroke of a tuft. */
double fig_tuft_stroke (const FigMark *m, guint i, double *angle);
double fig_leaf_ratio (BlLeafShape shape);
/* The marks that follow lie over those before them in the layer. Large parts get a place of their
 * own; of small ones (@small: a head of few pixels) the like parts are painted together. */
void fig_next (Fig *f);
void fig_begin (Fig *f, gboolean small);
void fig_end (Fig *f);
void fig_emit (Fig *f, cairo_t *cr, double sx, double sy);
void fig_emit_mark (FigPen *pen, const FigMark *m, double detail);

/* Snow on what lies under x, y: a cap, flat beneath. */
void fig_snow (Fig *f, int layer, double x, double y, double rx, double ry);
void fig_snow_among (Fig *f, int layer, guint n, double half, double top);
/* What lies round the foot of stems or blades, @half wide, so that they end in it and not as if
 * sawn off; @leaf in metres. Draws its own part of chance. */
void fig_litter (Fig *f, int layer, double half, double leaf, double value);
/* The same for blades: short outer ones. */
void fig_stubs (Fig *f, int layer, double half, double length, double value);
/* figure-many.c: a mass whose edge is leaves of this length, which @lean turns down (< 0) or up. */
void fig_cloud (Fig *f, int layer, double x, double y, double rx, double ry, double leaf,
                double lean, FigTones tones, double value);
/* A bough with needles or leaflets on both sides of a curve (foot, control, end); @notch 0 cuts to
 * the axis, 1 not at all. @fern: narrow at its foot too. */
void fig_feather (Fig *f, int layer, const double p[6], double width, double notch, guint teeth,
                  gboolean fern, FigTones tones, double value);
void fig_cloud_path (FigPen *pen, const FigMark *m, double detail);
void fig_cap_path (FigPen *pen, const FigMark *m, double detail);
void fig_feather_path (FigPen *pen, const FigMark *m);

/* Light on a surface with this normal, 0..1. */
double fig_lit (const Fig *f, double nx, double ny, double nz);

/* figure-flower.c */
typedef enum
{
  FIG_STAGE_NONE, FIG_STAGE_BUD, FIG_STAGE_OPEN, FIG_STAGE_SEED
} FigStage;

/* What the @i-th flower of a plant does in this look. */
FigStage fig_stage (const Fig *f, guint i);
/* A head with its foot at x, y pointing along @angle; @size metres; @value 0..1 how lit. */
void fig_head (Fig *f, int layer, FigStage stage, double x, double y, double angle, double size,
               double value);
gboolean fig_has_heads (const Fig *f);
gboolean fig_head_is_long (const Fig *f);
/* spike, plume, panicle, catkin: as long as flower_size */
void fig_fruit (Fig *f, int layer, double x, double y, double value);

/* figure-stem.c */
typedef struct
{
  double x, y, angle;
} FigTip;

typedef struct
{
  double x0, x1, y1;  /* foot on the ground, tip */
  double arch;        /* -1..1: 0 straight rise, 1 arches over at the end */
  double width;       /* metres at the foot */
  double value;
  double from, to;    /* share of the stem that carries leaves */
  double leaf;        /* metres; 0 = none */
  double step;        /* metres between leaves; 0 = by the leaf */
  double taper;       /* 0..1: how much smaller the upper leaves are */
  gboolean paired;
  gboolean droop;     /* dry, hanging leaves */
} FigStem;

/* Place and direction at @t of a curve from p[0..1] towards p[2..3] to p[4..5], as fig_blade draws it. */
FigTip fig_curve_at (const double p[6], double t);
FigTip fig_stem (Fig *f, int layer, const FigStem *stem);
FigTip fig_stem_at (const FigStem *stem, double t);

/* Skeletons of woody plants. */
typedef struct
{
  double x, y, z, r;  /* z towards the viewer, -1..1 */
  double nx, ny, nz;
  double t;           /* share of the mass's height */
} FigCluster;

/* At least one root. */
void fig_skeleton (Fig *f, int layer, const BlPoint *roots, guint n_roots, double lean,
                   const FigCluster *clusters, guint n, double trunk_width);
void fig_twigs (Fig *f, int layer, const FigCluster *cluster, guint n, double width);
guint fig_basal_stems (Fig *f, int layer, guint n, double foot, double spread, double height,
                       double width, BlPoint *roots);
void fig_trunk (Fig *f, int layer, double x0, double y0, double x1, double y1, double w0,
                double w1);

/* figure-mass.c */
typedef enum
{
  FIG_DOME, FIG_GLOBE, FIG_EGG, FIG_VASE, FIG_COLUMN, FIG_CONE, FIG_BOX, FIG_PAD
} FigProfile;

typedef struct
{
  FigProfile profile;
  double x, y0, y1, half;
  int layer;           /* first of the layers used: one a cluster */
  guint n_clusters;
  guint n_leaves;
  BlLeafShape shape;
  double leaf;         /* metres */
  double droop;        /* 0 leaves point out, 1 down, -1 up */
  double amount;       /* 0..1 */
  double core;         /* 0..1: how closed the dark inside is */
  FigTones tones;
} FigMass;

#define FIG_MAX_CLUSTERS 96
/* @n parts at the usual size; more when it is seen large. */
guint fig_parts (const Fig *f, guint n);
double fig_profile (FigProfile profile, double t);
guint fig_clusters (Fig *f, const FigMass *mass, FigCluster *out);
void fig_mass (Fig *f, const FigMass *mass, const FigCluster *clusters, guint n);
/* Heads over the surface of a mass, standing @rise metres above it on thin stalks. */
void fig_mass_heads (Fig *f, const FigMass *mass, const FigCluster *clusters, guint n_clusters,
                     guint n, double rise, int layer);
void fig_mass_fruit (Fig *f, const FigMass *mass, const FigCluster *clusters, guint n, int layer);
/* The head size to draw, metres. */
double fig_head_size (const Fig *f);

/* figure-wand.c */
gboolean fig_is_wand (const Fig *f);
void fig_wands (Fig *f);
/* Only dry remains stand of a low plant. */
gboolean fig_is_withered (const Fig *f);
void fig_leafy_column (Fig *f);

/* Forms. */
void fig_form_upright_clump (Fig *f);
void fig_form_spire_clump (Fig *f);
void fig_form_daisy_clump (Fig *f);
void fig_form_umbel_clump (Fig *f);
void fig_form_mound (Fig *f);
void fig_form_mat (Fig *f);
void fig_form_cushion (Fig *f);
void fig_form_rosette (Fig *f);
void fig_form_strap_clump (Fig *f);
void fig_form_bulb (Fig *f);
void fig_form_fern (Fig *f);
void fig_form_fountain_grass (Fig *f);
void fig_form_upright_grass (Fig *f);
void fig_form_tussock (Fig *f);
void fig_form_vase_shrub (Fig *f);
void fig_form_globe_shrub (Fig *f);
void fig_form_arching_shrub (Fig *f);
void fig_form_hedge (Fig *f);
void fig_form_climber (Fig *f);
void fig_form_column (Fig *f);
void fig_form_cone (Fig *f);
void fig_form_spreading_conifer (Fig *f);
void fig_form_mound_conifer (Fig *f);
void fig_form_multistem_tree (Fig *f);
void fig_form_round_tree (Fig *f);
