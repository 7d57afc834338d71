/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A straight edge or thin joint near a click. */
#pragma once

#include "photo/snap-patch.h"

#define BL_SNAP_ARM 22    /* pixels of a line beside a corner that are looked at */
#define BL_SNAP_SHOWN 9   /* this many of them must show it */
#define BL_SNAP_NARROW 2  /* half pixels from the middle of a thin line to its sides, either */
#define BL_SNAP_WIDE 4

typedef struct
{
  BlPoint on, along;       /* a point of the line, its unit direction */
  gboolean joint;
  int reach;               /* of a joint: half pixels from its middle to its sides */
  double colour[3];        /* the change of colour across, a unit vector; steps only */
  double sd;               /* across, at @on */
  double clear;            /* 0 to 1: stands out */
  double turn;             /* radians, error of the direction */
  int ahead, behind;       /* pixels of each arm that show the line */
} BlSnapLine;

/* Moves @line to what is seen beside @corner by least squares, points off it counting for less, and
 * counts the pixels that show it from @near pixels on. @first, @last: which of its arms. FALSE when
 * it is not there or runs away. */
gboolean bl_snap_line_fit (const BlPatch *patch, BlPoint corner, gboolean first, gboolean last,
                           int near, BlSnapLine *line);
