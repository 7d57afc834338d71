/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days of the year and calendar dates, on top of GDate's day numbers. */
#pragma once

#include <glib.h>

/* A calendar date as a GDate Julian day number (1 = 1 January 0001); 0 is "none". */
typedef guint32 BlDay;

BlDay bl_day (int year, int month, int day);          /* 0 when there is no such date */
void bl_day_split (BlDay day, int *year, int *month, int *mday);
BlDay bl_day_parse (const char *iso, GError **error); /* "2026-05-12" */
char *bl_day_format_iso (BlDay day);
BlDay bl_day_today (void);                             /* the edge only: reads the clock */

/* A day of every year. 29 February is taken as 28 February in years that have none. */
typedef struct
{
  guint8 month; /* 1-12, 0 = not known */
  guint8 day;   /* 1-31 */
} BlMonthDay;

gboolean bl_month_day_parse (const char *text, BlMonthDay *md, GError **error); /* "05-05" */
char *bl_month_day_format (BlMonthDay md);                                      /* "05-05" */
BlDay bl_month_day_in (BlMonthDay md, int year);
