/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the estimate: the sheet that lines are written on. */
#pragma once

#include "takeoff/estimate.h"

typedef struct
{
  const BlTakeoff *takeoff;
  const BlModel *model;
  const BlPriceBook *book;
  double shift;        /* standard deviations of the measured area by which it is taken larger */
  double planting_share; /* of the plants that stand in drifts and fills: they follow the area */
  const char *taken;   /* name of the option that is ticked; NULL = none */
  BlEstimate *estimate;
} BlSheet;

/* A line before units and overrides; its name and unit are said when it is added. */
typedef struct
{
  char *key;           /* taken */
  BlSection section;
  const char *name, *unit; /* price book unit */
  double quantity;
  double rate;         /* minor units a price book unit */
  char *how;           /* taken */
  gboolean invented;
} BlDraft;

/* The words in the take-off's language. */
#define bl_sheet_say(sheet, english) bl_say ((sheet)->takeoff->language, (english))
/* The total alone, minor units. */
gint64 bl_estimate_total (const BlTakeoff *takeoff);
void bl_sheet_add (BlSheet *sheet, BlDraft draft);
/* A line of a sum of money, its name said in the sheet's language; left out when it is nothing and nobody set it. Returns the amount. */
gint64 bl_sheet_add_sum (BlSheet *sheet, const char *key, BlSection section, const char *name,
                         gint64 amount, char *how);
const BlOverride *bl_sheet_override (const BlSheet *sheet, const char *key, const char *field);
double bl_sheet_area_factor (const BlSheet *sheet);
double bl_sheet_length_factor (const BlSheet *sheet);
double bl_sheet_count_factor (const BlSheet *sheet);
void bl_sheet_goods (BlSheet *sheet);
void bl_sheet_labour (BlSheet *sheet);
void bl_sheet_delivery (BlSheet *sheet);
void bl_sheet_extras (BlSheet *sheet);
void bl_sheet_adjust (BlSheet *sheet);
