/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which one further measurement would make a bed's area surer, and by how much. */
#pragma once

#include "photo/solve.h"

typedef enum
{
  BL_ADVICE_LENGTH,   /* tape the bed's long side */
  BL_ADVICE_WIDTH,    /* tape across it */
  BL_ADVICE_DIAGONAL,
  BL_ADVICE_HEIGHT,   /* a staff of known height at its far edge */
  BL_ADVICE_EYE,      /* the height of the lens */
  BL_ADVICE_STAKES,   /* four stakes round it, taped */
  BL_ADVICE_FOCAL     /* the photo's own focal length */
} BlAdviceKind;

typedef struct
{
  BlAdviceKind kind;
  BlPoint px[4];       /* where in the photo: the ends of the tape, foot and top, the stakes */
  guint n_px;
  double after;        /* relative sd of the area with it */
  char *sentence;      /* "Tape the bed's long side: ± 6 % becomes ± 1.5 %." (95 %) */
} BlAdvice;

typedef struct
{
  GArray *items;       /* BlAdvice, the most useful first; only those that help by a tenth or more */
  double before;       /* relative sd of the area as it stands */
  double outside;      /* part of the bed, 0..1, outside what the knowns enclose */
  char *enclosure;     /* NULL, or a sentence when a good part is outside */
} BlAdviceList;

void bl_advice_list_free (BlAdviceList *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlAdviceList, bl_advice_list_free)

/**
 * bl_advise:
 * @knowns: (element-type BlKnown): those that the camera was solved from
 * @click_px: standard deviation of the outline's clicks, pixels
 *
 * The candidates are treated as observations that are not made yet: their value does not matter,
 * only how they would change the covariance of camera and clicks (a linear update). The area's
 * variance after each is compared.
 */
BlAdviceList *bl_advise (const BlCamera *camera, const GPtrArray *knowns,
                         const BlOutline *outline_px, double click_px, GError **error);
