/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A front yard of which everything is known: its camera, walk, post and bed, and drawn knowns. */
#pragma once

#include "base/rng.h"
#include "photo/solve.h"

#define YARD_BED_POINTS 28

/* The scene of the rendered yard (see yard_a.truth.json of the shared data), stated again as numbers:
 * metres, X along the house, Y to it; a walk 4 ft wide with joints every 5 ft; a 7 ft post. */
typedef struct
{
  BlCamera camera;
  BlPoint bed[YARD_BED_POINTS]; /* smooth outline, plan */
  double bed_area;
} Yard;

void yard_init (Yard *yard, int width, int height);

/* A draw: the true camera shifted by what the priors allow, clicks and sizes by theirs. */
typedef struct
{
  const Yard *yard;
  BlCamera camera;       /* this draw's truth */
  BlRng *rng;
  double click_px;
  GPtrArray *knowns;     /* BlKnown */
  BlPhotoPrior prior;
} YardDraw;

/* @nature: draw focal, roll, radial term and principal point too; else they are as in @yard. */
void yard_draw_begin (YardDraw *draw, const Yard *yard, BlRng *rng, double click_px, gboolean nature);
void yard_draw_end (YardDraw *draw);
BlPoint yard_click (YardDraw *draw, double x, double y, double z);
void yard_add_rectangle (YardDraw *draw, BlPoint corner, double w, double d, double turn);
void yard_add_length (YardDraw *draw, BlPoint a, BlPoint b);
void yard_add_height (YardDraw *draw, BlPoint base, double height);
void yard_add_position (YardDraw *draw, BlPoint at);
void yard_add_right_angle (YardDraw *draw, BlPoint a, BlPoint vertex, BlPoint b);
void yard_add_parallel (YardDraw *draw, BlPoint a, BlPoint b, BlPoint c, BlPoint d);
void yard_add_equal (YardDraw *draw, BlPoint a, BlPoint b, BlPoint c, BlPoint d);
void yard_add_horizon (YardDraw *draw);
void yard_add_straight (YardDraw *draw, BlPoint a, BlPoint b, guint n);
void yard_add_eye (YardDraw *draw);
/* The bed as clicked in this draw. */
BlOutline *yard_click_bed (YardDraw *draw);

/* The mixes of knowns that the intervals are checked with. */
typedef struct
{
  const char *name;
  void (*build) (YardDraw *draw);
  gboolean no_focal;
} YardMix;
extern const YardMix yard_mixes[];
extern const guint yard_n_mixes;

typedef struct
{
  double rms, p95;      /* relative error of the area */
  double sd;            /* mean stated relative sd */
  double covered;       /* part of the draws whose 95 % interval holds the truth */
  guint failed;
} YardResult;
YardResult yard_monte_carlo (const YardMix *mix, guint n, double click_px, gboolean nature,
                             guint64 seed);
