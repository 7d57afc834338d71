/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the sun reaches the beds: a map for a day, and the months' mean hours. */
#pragma once

#include "design/model.h"
#include "site/shade.h"

/* What stands in the sun's way: every feature with a height, save what is flat by nature. A tree
 * that is one point gets a crown as wide as two thirds of its height, from a quarter of it up. */
typedef struct
{
  GArray *obstacles; /* BlObstacle; their outlines live in @lines */
  GPtrArray *lines;
} BlShade;

BlShade *bl_shade_new (const BlModel *model);
void bl_shade_free (BlShade *shade);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlShade, bl_shade_free)

/* Mean hours of direct sun a day over @ring in the growing season; NAN when the place is not known,
 * or north is not and something throws shade. */
double bl_shade_season_hours (const BlShade *shade, const BlSite *site, const BlPoints *ring);

typedef struct
{
  gint64 bed_id;
  BlPoints *ring;
  BlSunMap *map;      /* of the day */
  double stated;      /* hours stated for the bed or the site; NAN = none, the map decides */
  double months[12];  /* mean hours over the bed in the middle of each month */
  double season;      /* April to September, in the south October to March */
} BlBedSun;

/* Immutable; shared between threads. */
typedef struct
{
  gatomicrefcount refs;
  const BlModel *model; /* for comparing only */
  BlDay day;
  double open_hours;    /* on open ground that day */
  BlLightRule rule;     /* where full and part sun begin */
  GArray *beds;         /* BlBedSun: the beds that have an area */
} BlSunlight;

/**
 * bl_sunlight_compute:
 * @day: of any year; the years differ by minutes
 * @previous: (nullable): lends the months when it is of the same model
 *
 * Any thread. Returns: NULL with BL_ERROR_INPUT when the place is not known, when north is not
 * although something throws shade, or when there is no bed; BL_ERROR_CANCELLED when cancelled.
 */
BlSunlight *bl_sunlight_compute (const BlModel *model,
                                 BlDay day,
                                 const BlSunlight *previous,
                                 GCancellable *cancellable,
                                 GError **error);
BlSunlight *bl_sunlight_ref (BlSunlight *sunlight);
void bl_sunlight_unref (BlSunlight *sunlight);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlSunlight, bl_sunlight_unref)

/* Hours at a point of the ground; NAN outside every bed. */
double bl_sunlight_at (const BlSunlight *sunlight, BlPoint p);
