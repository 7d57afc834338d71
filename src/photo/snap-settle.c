/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners placed by near and by longer arms together. */
#include "photo/snap-model.h"

#define LONG 1.5           /* of the pixels looked at */
#define MOST_MOVE 2.0      /* pixels */

void
bl_corner_settle (const BlPatch *patch,
                  BlCorner      *corner)
{
  BlCorner one = *corner;
  double share;

  one.scale = LONG;
  if (!bl_corner_fit (patch, BL_FIT_SETTLE, &one) || bl_dist (one.at, corner->at) >= MOST_MOVE)
    return;
  share = corner->sd * corner->sd / (corner->sd * corner->sd + one.sd * one.sd);
  corner->at = bl_add (corner->at, bl_mul (bl_sub (one.at, corner->at), share));
  /* Both err by the same texture. */
  corner->sd += share * (one.sd - corner->sd);
}
