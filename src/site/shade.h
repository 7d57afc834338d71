/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours of direct sun on level ground among things that stand in the way. */
#pragma once

#include <gio/gio.h>

#include "geometry/point.h"
#include "site/site.h"

/* Something that casts shade: an upright sheet over a line (wall, fence), or a solid over a closed
 * outline (building, the crown of a tree). Light passes under @bottom. */
typedef struct
{
  const BlPoints *outline; /* plan metres, not repeated at the end when closed */
  gboolean closed;
  double bottom, top;      /* metres above the ground */
} BlObstacle;

/* The sun's way over one day, as seen from the plan. */
typedef struct _BlSunTrack BlSunTrack;

/**
 * bl_sun_track_new:
 * @site: latitude and longitude are needed; an unknown north is taken as plan +y
 * @step_minutes: 5 gives hours to about a twelfth of an hour; at most 60
 *
 * Returns: NULL with BL_ERROR_INPUT when the site's place is not known.
 */
BlSunTrack *bl_sun_track_new (const BlSite *site, BlDay day, double step_minutes, GError **error);
void bl_sun_track_free (BlSunTrack *track);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlSunTrack, bl_sun_track_free)
/* Hours of sun on open ground that day. */
double bl_sun_track_open_hours (const BlSunTrack *track);

/* Hours of direct sun at @p; @before_noon (may be NULL) is the part before true noon. */
double bl_sun_hours (const BlSunTrack *track,
                     const BlObstacle *obstacles,
                     guint n_obstacles,
                     BlPoint p,
                     double *before_noon);

/* Hours on a grid over a bed; NAN outside it. */
typedef struct
{
  double x0, y0, cell; /* metres: the corner of the first cell, and the side of a cell */
  guint columns, rows;
  float *hours;        /* row by row from y0 up, at the centres of the cells */
  double mean, low, high;
} BlSunMap;

/* @cell is widened when more than 250,000 cells would be needed. NULL with @error when cancelled
 * or when @bed has no area. A bed with no centre of a cell inside is judged at its middle. */
BlSunMap *bl_sun_map_new (const BlPoints *bed,
                          double cell,
                          const BlSunTrack *track,
                          const BlObstacle *obstacles,
                          guint n_obstacles,
                          GCancellable *cancellable,
                          GError **error);
void bl_sun_map_free (BlSunMap *map);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlSunMap, bl_sun_map_free)

/**
 * bl_sun_months:
 * @year: for the dates; the middle of each month is taken
 * @hours: mean hours over the bed for January to December
 * @season: mean over the growing season: April to September, October to March in the south
 */
gboolean bl_sun_months (const BlSite *site,
                        int year,
                        const BlPoints *bed,
                        double cell,
                        const BlObstacle *obstacles,
                        guint n_obstacles,
                        double hours[12],
                        double *season,
                        GCancellable *cancellable,
                        GError **error);

/* The shadow of a thing @height high: length for a sun at @altitude (radians) on ground that falls
 * by @grade (rise over run, downhill positive) the way the shadow lies; INFINITY when it never ends. */
double bl_shadow_length (double height, double altitude, double grade);
