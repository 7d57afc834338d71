/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the plan on paper: where it stands on the page, and its lettering. */
#pragma once

#include "proposal/book.h"

typedef struct
{
  BlRect frame;   /* points */
  double k;       /* points a metre */
  BlPoint middle; /* plan point in the frame's middle */
} BlSheet;

static inline BlPoint
bl_on_sheet (const BlSheet *sheet, BlPoint p)
{
  return BL_POINT ((sheet->frame.x0 + sheet->frame.x1) / 2 + (p.x - sheet->middle.x) * sheet->k,
                   (sheet->frame.y0 + sheet->frame.y1) / 2 - (p.y - sheet->middle.y) * sheet->k);
}

static inline gboolean
bl_in_frame (const BlSheet *sheet, BlPoint p, double margin)
{
  return p.x >= sheet->frame.x0 + margin && p.x <= sheet->frame.x1 - margin
         && p.y >= sheet->frame.y0 + margin && p.y <= sheet->frame.y1 - margin;
}

/* Small text centred on a point, on a plate that lets the drawing shine through. */
void bl_plan_label (BlPress *press, BlPoint at, BlTypeStyle style, const char *text, double alpha);
/* The plate it would take. */
BlRect bl_plan_label_box (BlPress *press, BlPoint at, BlTypeStyle style, const char *text);
/* Outlines of drifts, dashed: (element-type BlPoints). */
void bl_plan_draw_lines (BlBook *book, const BlSheet *sheet, const GPtrArray *lines);
/* A small cross on each place, its name beside it where it meets no other. */
void bl_plan_draw_spots (BlBook *book, const BlSheet *sheet, const GArray *spots);
