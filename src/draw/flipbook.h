/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flip-book: one scene through the twelve months, or through the years. */
#pragma once

#include "draw/scene.h"

typedef enum
{
  BL_FLIP_MONTHS, /* twelve pictures, the middle of each month, at one age */
  BL_FLIP_YEARS   /* five pictures, at 0, 1, 3, 5 and 10 years, in one month */
} BlFlipSeries;

/* Called after each picture, on the calling thread. */
typedef void (*BlFlipProgress) (guint done, guint total, gpointer data);

typedef struct
{
  BlView view;
  BlFlipSeries series;
  BlMoment fixed;      /* its years for the months, its month for the years */
  guint options;       /* BlSceneOptions */
  int width;           /* pixels */
  BlFlipProgress progress; /* may be NULL */
  gpointer data;
} BlFlipOptions;

/* The moments of a series; returns how many (at most 12). */
guint bl_flip_moments (BlFlipSeries series, BlMoment fixed, BlMoment moments[12]);
/* Writes month-01.png ... month-12.png, or year-00.png ... year-10.png, into @directory (made when
 * missing). FALSE with BL_ERROR_CANCELLED when cancelled: pictures done so far stay. */
gboolean bl_flipbook_write (BlLayout *layout, BlImage *photo, const char *directory,
                            const BlFlipOptions *options,
                            GCancellable *cancellable, GError **error);
