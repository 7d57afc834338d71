/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What follows from a planting: quantities, estimate, care and fit, worked out on another thread. */
#pragma once

#include "care/care.h"
#include "fit/fit.h"
#include "studio/board.h"
#include "takeoff/estimate.h"

/* Shared and immutable. */
typedef struct
{
  gatomicrefcount refs;
  BlLayout *layout;
  BlTakeoff *takeoff;
  BlEstimate *estimate;
  BlCare *care;
  BlFit *fit;       /* NULL when it could not be checked */
  char *fit_problem;
} BlReckoning;

BlReckoning *bl_reckoning_compute (BlLayout *layout, BlDay today); /* any thread */
BlReckoning *bl_reckoning_ref (BlReckoning *reckoning);
void bl_reckoning_unref (BlReckoning *reckoning);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlReckoning, bl_reckoning_unref)

/* The latest for the shown alternative; NULL while the first is being worked out. Asking for it
 * keeps it up to date from then on; BL_BOARD_RECKON tells of a new one. */
BlReckoning *bl_board_get_reckoning (BlBoard *board);
/* TRUE when the reckoning is that of the present layout. */
gboolean bl_board_is_reckoned (BlBoard *board);

typedef struct
{
  guint n_plants, n_kinds, bloom_months, n_warnings;
  double evergreen;      /* share of plants */
  double water, hours;   /* litres first season, hours a year later */
  gint64 total;
  char *currency;        /* borrowed from the estimate */
} BlSummary;
BlSummary bl_reckoning_summary (const BlReckoning *reckoning);
