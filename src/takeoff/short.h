/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the nursery does not have of what is ordered. */
#pragma once

#include "plants/nursery.h"
#include "takeoff/takeoff.h"

typedef struct
{
  BlPlant *plant;   /* borrowed from the take-off's model */
  const char *size; /* borrowed from it */
  guint order;      /* over all beds */
  int stock;        /* -1 = the list does not say */
  BlDay from;       /* not to be had before; 0 = not said */
  guint missing;    /* order beyond the stock */
  gboolean late;    /* to be had only after the planting day */
} BlShortage;

/* (transfer full) (element-type BlShortage): plants ordered beyond the stock, or too early for it; by
 * the order of the counts. Plants that the list does not name are no shortage. Empty when @stock is
 * NULL. */
GArray *bl_takeoff_shortages (const BlTakeoff *takeoff, const BlStock *stock);
/* "Echinacea purpurea, #1: 60 ordered, 48 in stock": one sentence. (transfer full) */
char *bl_shortage_words (const BlShortage *shortage, const char *language);
/* bl_takeoff_order_csv() with what the nursery has: columns of its stock, of the day, and of what is
 * missing. @stock may be NULL. */
char *bl_takeoff_order_csv_with (const BlTakeoff *takeoff, const BlStock *stock);
