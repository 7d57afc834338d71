/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Help for setting plants: snapping to spacing and bed line, and the distances in words. */
#pragma once

#include "studio/hand.h"

/* Moves @plan by at most @slack metres to where it keeps half a spread from the bed line, or just
 * its spacing from a neighbour of its own kind. @ignore: planting that is being moved. */
BlPoint bl_spot_snap (BlBoard *board, const BlPlant *plant, BlPoint plan, double slack,
                       gint64 ignore);
/* "0.42 m from the bed line, 0.6 m from Nepeta"; (transfer full). */
char *bl_spot_words (BlBoard *board, BlPoint plan, gint64 ignore);
/* TRUE when a plant of this spread here would cover another one's place at mature size. */
gboolean bl_spot_overlaps (BlBoard *board, const BlPlant *plant, BlPoint plan, gint64 ignore);
/* Metres of the plan that @slack document units span at @plan. */
double bl_spot_slack (BlBoard *board, BlPoint document, BlPoint plan, double slack);
/* Ghost, ring at mature spread and distances of one plant at the pointer. */
void
bl_spot_marks (BlBoard *board,
               BlMarks *marks,
               const BlPlant *plant,
               BlPoint plan,
               gint64 ignore,
               gboolean ghost);
