/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the drawing of flower heads shares: one head, and its kinds by how they are built. */
#pragma once

#include "draw/figure-private.h"

typedef enum
{
  FIG_HEAD_NONE,
  FIG_HEAD_DAISY,    /* flat rays round a disc */
  FIG_HEAD_CONE,     /* rays that hang round a raised cone */
  FIG_HEAD_WHORLS,   /* rings of flowers with the stem between them */
  FIG_HEAD_POKER,    /* a closed spike that opens along its length */
  FIG_HEAD_TORCH,    /* hanging tubes, the older ones below of another colour */
  FIG_HEAD_RACEME,   /* single flowers along a stem, each to be told */
  FIG_HEAD_TRUSS,    /* bells with six lobes rolled back, close round a stout stem */
  FIG_HEAD_BELLS,    /* the same of bells that hang to the sides */
  FIG_HEAD_EAR,      /* a narrow spike of a sedge or grass */
  FIG_HEAD_BRUSH,    /* a bristly spike of a grass */
  FIG_HEAD_SPEAR,    /* a narrow upright plume of a grass */
  FIG_HEAD_FAN,      /* a plume of fingers from one point */
  FIG_HEAD_FROTH,    /* feathery branches, a pyramid */
  FIG_HEAD_ROD,      /* branches that arch over, flowers on their upper side */
  FIG_HEAD_SMOKE,    /* hair-fine, hazy */
  FIG_HEAD_CONICAL,  /* a closed pyramid of florets: lilac */
  FIG_HEAD_HANGING,  /* the same hanging */
  FIG_HEAD_OPEN,     /* a stout axis with short side branches: flax lily */
  FIG_HEAD_WANDS,    /* loose, narrow, many small flowers */
  FIG_HEAD_AIRY,     /* a cloud of small flowers on hair-fine branches */
  FIG_HEAD_HAZE,     /* the same of a grass */
  FIG_HEAD_GLOBE,
  FIG_HEAD_TRUMPETS, /* a globe of trumpets from one point */
  FIG_HEAD_NODDING,  /* flowers that hang from one point */
  FIG_HEAD_FLAT,     /* domed or level, on spreading stalks */
  FIG_HEAD_TRUMPET, FIG_HEAD_DAFFODIL, FIG_HEAD_LILY, FIG_HEAD_IRIS, FIG_HEAD_CUP,
  FIG_HEAD_DOUBLE,   /* a bowl full of petals */
  FIG_HEAD_GOBLET, FIG_HEAD_BELL, FIG_HEAD_STAR, FIG_HEAD_RIBBONS, FIG_HEAD_CATKIN
} FigHeadKind;

typedef struct
{
  int layer;
  FigStage stage;
  double x, y, angle, size, value;
  double c, s; /* cosine and sine of the angle */
  double px;   /* size in device pixels */
  FigTones main, eye;
} FigHead;

FigHeadKind fig_head_kind (const BlPlant *plant);

/* figure-axis.c, figure-plume.c, figure-petal.c */
void fig_head_axis (Fig *f, const FigHead *h, FigHeadKind kind);
void fig_head_plume (Fig *f, const FigHead *h, FigHeadKind kind);
void fig_head_petal (Fig *f, const FigHead *h, FigHeadKind kind);

/* A point of the head's axis: @t along it, @off metres to its left. */
static inline void
fig_head_at (const FigHead *h, double t, double off, double *x, double *y)
{
  *x = h->x + h->c * t * h->size - h->s * off;
  *y = h->y + h->s * t * h->size + h->c * off;
}

/* How much lighter than the head what stands out to its left by @u (-1..1) is. */
static inline double
fig_head_side (const Fig *f, const FigHead *h, double u)
{
  return -0.34 * h->s * u * f->lx;
}
