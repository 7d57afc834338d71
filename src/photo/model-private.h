/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The adjustment's model: the residuals of each known with its clicked points eliminated. */
#pragma once

#include "photo/solve.h"

/* The camera's parameters plus one: the log of how much higher the lens is above the second plane
 * when the ground is tried as two. */
enum
{
  BL_PAR_STEP = BL_CAM_N,
  BL_PAR_N
};

#define BL_OWN_MAX 8

/* Where the clicked points of one known lie on the ground, and what is measured of them. */
typedef struct
{
  const BlKnown *known;
  guint index;          /* in the knowns given */
  guint n_rows;
  int n_own;            /* parameters of its own, at most BL_OWN_MAX */
  double *click;        /* standard deviation of each click, pixels */
  double size[2];       /* as stated (or swapped, when that is tried) */
  double sd[2];
  double hand;          /* rectangles: +1 clicked counter-clockwise as seen from above */
  gboolean second;      /* on the second plane */
  double own[BL_OWN_MAX];
  gboolean warm;        /* @own is from a camera nearby */
  gboolean settled;     /* @own was found for some camera */
} BlBlock;

typedef struct
{
  const BlPhotoPrior *prior;
  GArray *blocks;       /* BlBlock */
  double click_px;
  double focal_prior;   /* pixels, 0 = none */
  gboolean drop_roll, drop_focal, free_lens, two_planes;
  gboolean placed;      /* some position: x and y are solved */
  gboolean turned;      /* two or more: the heading too */
  int active[BL_PAR_N]; /* the parameters solved for */
  int n_active;
  guint n_rows;         /* all of the blocks' and the priors' */
} BlLensModel;

/* The result of one fit. */
typedef struct
{
  double theta[BL_PAR_N];
  double cov[BL_PAR_N * BL_PAR_N];
  double chi2, p;
  int dof;
  double *rows;         /* residuals over their standard deviations */
  double *hat;          /* leverage of each row, 0..1 */
} BlLensFit;

/* A camera prepared for many projections. Ground points are in eye heights, in its own frame. */
typedef struct
{
  BlCamera lens;        /* eye 1, at (0, 0), heading 0 */
  double ground[3][3];  /* seen = ground · (x, y, 1) */
  BlRay upright;
  double eye, eye2, x, y, sin_heading, cos_heading;
} BlView;

void bl_view_init (BlView *view, const BlLensModel *model, const double *theta);
/* Rows of one known with its own parameters @own; FALSE where a point cannot be seen. */
gboolean bl_block_rows (const BlView *view, const BlBlock *block, const double *own, double *rows);
/* Its points where the clicks meet the ground. */
gboolean bl_block_first_own (const BlView *view, const BlBlock *block, double *own);

/* @skip: (nullable): index of a known to leave out, or -1. */
BlLensModel *bl_lens_model_new (const BlPhotoPrior *prior, const GPtrArray *knowns, int skip);
void bl_lens_model_free (BlLensModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlLensModel, bl_lens_model_free)
/* To be called after the switches were changed. */
void bl_lens_model_prepare (BlLensModel *model);
void bl_lens_fit_free (BlLensFit *fit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlLensFit, bl_lens_fit_free)

/* Residual rows at @theta, each known's points at their best. FALSE where some click cannot lie
 * on the ground. */
gboolean bl_lens_model_rows (BlLensModel *model, const double *theta, double *rows);
/* Their derivative by the active parameters, row major n_rows × n_active, with the points
 * eliminated; @own_hat (nullable): leverage of the points' own parameters. */
void bl_lens_model_jacobian (BlLensModel *model, const double *theta, double *jacobian, double *own_hat);

/* A camera from parameters: the rest (picture size, slope) from the prior. */
void bl_lens_model_camera (const BlLensModel *model, const double *theta, BlCamera *camera);
/* Ground clicks of a known (those that lie on the ground). */
guint bl_known_ground_clicks (const BlKnown *known);

/* Starting values, best first: rows of BL_PAR_N. */
GArray *bl_lens_model_starts (BlLensModel *model);
/* Fits from the best starts (or from @from alone). NULL when none is possible at all. */
BlLensFit *bl_lens_model_fit (BlLensModel *model, const double *from);
/* Relative standard deviation (of the log) of the ground's area element where it was clicked,
 * and the parameter that would settle it best. */
double bl_lens_fit_looseness (const BlLensModel *model, const BlLensFit *fit, int *open);

/* Looks for what is wrong in a fit that does not agree: may replace @fit by a better one. Fills
 * @message; FALSE with @error when the knowns contradict one another grossly. */
gboolean bl_judge (const BlPhotoPrior *prior, const GPtrArray *knowns, BlLensModel **model, BlLensFit **fit,
                   char **message, int *culprit, GError **error);
/* Gives up that the camera was held level, where the knowns say plainly that it was not. */
void bl_judge_roll (const BlPhotoPrior *prior, const GPtrArray *knowns, BlLensModel **model,
                    BlLensFit **fit);
/* Normalised residual of the worst row of block @b. */
double bl_lens_fit_block_worst (const BlLensModel *model, const BlLensFit *fit, guint b);
guint bl_lens_model_first_row (const BlLensModel *model, guint b);
/* What the camera says of a known, and what was stated, in its unit; NAN when it cannot be seen. */
void bl_known_predict (const BlCamera *camera, const BlKnown *known, double *predicted,
                       double *stated);

/* What can be seen to be wrong before anything is solved, with its sentence. */
gboolean bl_knowns_check (const BlPhotoPrior *prior, const GPtrArray *knowns, GError **error);
/* TRUE when all ground clicks of the knowns lie within a few pixels of one line. */
gboolean bl_knowns_in_line (const GPtrArray *knowns);
/* "6.56 ft" or "2.00 m", for sentences; the caller frees it. */
char *bl_say_length (double metres, BlUnits units);
