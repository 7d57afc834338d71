/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners placed by longer arms. */
#include "photo/snap-model.h"

#define LONG 1.5           /* of the pixels looked at */
#define MOST_MOVE 2.0      /* pixels */

void
bl_corner_settle (const BlPatch *patch,
                  BlCorner      *corner)
{
  BlCorner one = *corner;

  one.scale = LONG;
  if (bl_corner_fit (patch, BL_FIT_SETTLE, &one) && bl_dist (one.at, corner->at) < MOST_MOVE)
    {
      corner->at = one.at;
      corner->sd = one.sd;
    }
}
