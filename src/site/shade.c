/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sun hours by following a ray from the ground to each place of the sun along its daily way. */
#include "config.h"

#include "site/shade.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "geometry/polygon.h"
#include "site/sun.h"

#define DEG (M_PI / 180.0)
#define MAX_CELLS 250000.0

typedef struct
{
  BlPoint towards; /* unit vector in the plan towards the sun */
  double tangent;  /* of its altitude */
  double hours;    /* how long it stands for */
  gboolean morning;
} SunStep;

struct _BlSunTrack
{
  GArray *steps; /* SunStep */
  double open;
};

BlSunTrack *
bl_sun_track_new (const BlSite *site, BlDay day, double step_minutes, GError **error)
{
  BlSunTrack *track = NULL;
  double north = isnan (site->north) ? 0.0 : site->north;
  double rise = 0, set = 0, noon = 0, length = 0;
  guint n = 0, i = 0;

  g_return_val_if_fail (step_minutes > 0 && step_minutes <= 60, NULL);
  if (isnan (site->latitude) || isnan (site->longitude) || fabs (site->latitude) > 90)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("The sun cannot be worked out without the place: "
                           "give the site's latitude and longitude, or state the hours of sun"));
      return NULL;
    }
  track = g_new0 (BlSunTrack, 1);
  track->steps = g_array_new (FALSE, FALSE, sizeof (SunStep));
  switch (bl_sun_rise_set (day, site->latitude, site->longitude, &rise, &noon, &set))
    {
    case BL_SUN_STAYS_DOWN:
      return track;
    case BL_SUN_STAYS_UP:
      rise = noon - 12.0;
      set = noon + 12.0;
      break;
    case BL_SUN_RISES:
      break;
    }
  /* Whole steps of equal length from rise to set, each seen from its middle. */
  n = (guint) ceil ((set - rise) * 60.0 / step_minutes);
  length = (set - rise) / n;
  for (i = 0; i < n; i++)
    {
      double at = rise + (i + 0.5) * length;
      BlSun sun = bl_sun_at (bl_julian_date (day, at), site->latitude, site->longitude);
      double bearing = sun.azimuth + north * DEG;
      SunStep step = { BL_POINT (sin (bearing), cos (bearing)), 0, length, at < noon };

      if (sun.apparent <= 0)
        continue;
      step.tangent = tan (sun.apparent);
      track->open += length;
      g_array_append_val (track->steps, step);
    }
  return track;
}

void
bl_sun_track_free (BlSunTrack *track)
{
  if (track == NULL)
    return;
  g_array_unref (track->steps);
  g_free (track);
}

double
bl_sun_track_open_hours (const BlSunTrack *track)
{
  return track->open;
}

/* Distance along the ray from @p at which it crosses the segment; negative when it does not. A
 * segment owns its first end and not its last, so that a corner is crossed once. */
static double
crossing (BlPoint p, BlPoint d, BlPoint a, BlPoint b)
{
  BlPoint ap = bl_sub (a, p), bp = bl_sub (b, p);
  double sa = bl_cross (d, ap), sb = bl_cross (d, bp);

  if ((sa >= 0) == (sb >= 0))
    return -1.0;
  return bl_dot (bl_lerp (ap, bp, sa / (sa - sb)), d);
}

static gboolean
is_between (double from, double to, double low, double high)
{
  return from < high && to > low;
}

/* Up to this many crossings of one ray with one closed outline are kept. */
#define MAX_CROSSINGS 32

static gboolean
closed_blocks (const BlObstacle *o, BlPoint p, const SunStep *sun)
{
  double at[MAX_CROSSINGS];
  guint n = 0, i = 0, k = 0;
  guint count = o->outline->len;
  double from = 0;
  gboolean inside = FALSE;

  for (i = 0; i < count && n < MAX_CROSSINGS; i++)
    {
      double t = crossing (p, sun->towards, bl_points_at (o->outline, i),
                           bl_points_at (o->outline, (i + 1) % count));

      if (t <= 0)
        continue;
      for (k = n; k > 0 && at[k - 1] > t; k--)
        at[k] = at[k - 1];
      at[k] = t;
      n++;
    }
  /* An odd number of crossings ahead means that the point itself lies inside. */
  inside = n % 2 == 1;
  for (i = 0; i < n; i++)
    {
      if (inside && is_between (from * sun->tangent, at[i] * sun->tangent, o->bottom, o->top))
        return TRUE;
      inside = !inside;
      from = at[i];
    }
  return FALSE;
}

static gboolean
line_blocks (const BlObstacle *o, BlPoint p, const SunStep *sun)
{
  guint i = 0;

  for (i = 0; i + 1 < o->outline->len; i++)
    {
      double t = crossing (p, sun->towards, bl_points_at (o->outline, i),
                           bl_points_at (o->outline, i + 1));
      double height = t * sun->tangent;

      if (t > 0 && height >= o->bottom && height < o->top)
        return TRUE;
    }
  return FALSE;
}

double
bl_sun_hours (const BlSunTrack *track, const BlObstacle *obstacles, guint n_obstacles, BlPoint p,
              double *before_noon)
{
  double hours = 0, morning = 0;
  guint i = 0, k = 0;

  for (i = 0; i < track->steps->len; i++)
    {
      const SunStep *sun = &g_array_index (track->steps, SunStep, i);
      gboolean blocked = FALSE;

      for (k = 0; k < n_obstacles && !blocked; k++)
        blocked = obstacles[k].closed ? closed_blocks (&obstacles[k], p, sun)
                                      : line_blocks (&obstacles[k], p, sun);
      if (blocked)
        continue;
      hours += sun->hours;
      if (sun->morning)
        morning += sun->hours;
    }
  if (before_noon != NULL)
    *before_noon = morning;
  return hours;
}

/* The point well inside the bed where a bed too narrow for the grid is judged. */
static BlPoint
middle_of (const BlPoints *bed)
{
  BlPoint c = bl_polygon_centroid (bed);

  return bl_polygon_contains (bed, c) ? c : bl_points_at (bed, 0);
}

static void
note (BlSunMap *map, double hours, guint *n)
{
  map->low = *n == 0 ? hours : MIN (map->low, hours);
  map->high = *n == 0 ? hours : MAX (map->high, hours);
  map->mean += hours;
  (*n)++;
}

BlSunMap *
bl_sun_map_new (const BlPoints *bed, double cell, const BlSunTrack *track,
                const BlObstacle *obstacles, guint n_obstacles, GCancellable *cancellable,
                GError **error)
{
  g_autoptr (BlSunMap) map = NULL;
  BlRect r = bl_rect_of (bed);
  double area = (r.x1 - r.x0) * (r.y1 - r.y0);
  guint row = 0, column = 0, n = 0;

  g_return_val_if_fail (cell > 0, NULL);
  if (bed->len < 3 || !(bl_polygon_area (bed) > 0))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("The bed has no area: draw its bed line before asking for the sun"));
      return NULL;
    }
  map = g_new0 (BlSunMap, 1);
  map->cell = MAX (cell, sqrt (area / MAX_CELLS));
  map->x0 = r.x0;
  map->y0 = r.y0;
  map->columns = (guint) ceil ((r.x1 - r.x0) / map->cell);
  map->rows = (guint) ceil ((r.y1 - r.y0) / map->cell);
  map->hours = g_new (float, (gsize) map->columns * map->rows);
  for (row = 0; row < map->rows; row++)
    {
      if (g_cancellable_is_cancelled (cancellable))
        {
          g_set_error_literal (error, BL_ERROR, BL_ERROR_CANCELLED, _("The sun map was cancelled"));
          return NULL;
        }
      for (column = 0; column < map->columns; column++)
        {
          BlPoint p = BL_POINT (r.x0 + (column + 0.5) * map->cell, r.y0 + (row + 0.5) * map->cell);
          double hours = NAN;

          if (bl_polygon_contains (bed, p))
            {
              hours = bl_sun_hours (track, obstacles, n_obstacles, p, NULL);
              note (map, hours, &n);
            }
          map->hours[(gsize) row * map->columns + column] = (float) hours;
        }
    }
  if (n == 0)
    note (map, bl_sun_hours (track, obstacles, n_obstacles, middle_of (bed), NULL), &n);
  map->mean /= n;
  return g_steal_pointer (&map);
}

void
bl_sun_map_free (BlSunMap *map)
{
  if (map == NULL)
    return;
  g_free (map->hours);
  g_free (map);
}

gboolean
bl_sun_months (const BlSite *site, int year, const BlPoints *bed, double cell,
               const BlObstacle *obstacles, guint n_obstacles, double hours[12], double *season,
               GCancellable *cancellable, GError **error)
{
  double sum = 0;
  int month = 0;

  for (month = 1; month <= 12; month++)
    {
      g_autoptr (BlSunTrack) track = bl_sun_track_new (site, bl_day (year, month, 15), 10.0, error);
      g_autoptr (BlSunMap) map = NULL;
      gboolean summer = month >= 4 && month <= 9;

      if (track == NULL)
        return FALSE;
      map = bl_sun_map_new (bed, cell, track, obstacles, n_obstacles, cancellable, error);
      if (map == NULL)
        return FALSE;
      hours[month - 1] = map->mean;
      if (summer == (site->latitude >= 0))
        sum += map->mean;
    }
  *season = sum / 6.0;
  return TRUE;
}

double
bl_shadow_length (double height, double altitude, double grade)
{
  double slope = tan (altitude) - grade;

  return slope > 0 ? height / slope : INFINITY;
}
