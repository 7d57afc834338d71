/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes obstacles of a design's features and follows the sun over its beds. */
#include "config.h"

#include "fit/sunlight.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "geometry/polygon.h"

/* Curves of features are followed to this distance, metres. */
#define TOLERANCE 0.02
/* Cells of a bed's map, and of the coarser one that only its mean is taken from. */
#define MAP_CELLS 3000.0
#define MEAN_CELLS 60.0
/* Minutes between two places of the sun: hours to a twelfth. */
#define MAP_STEP 5.0

static gboolean
is_tree (BlFeatureKind kind)
{
  return kind == BL_FEATURE_TREE || kind == BL_FEATURE_WALNUT;
}

static BlPoints *
crown_at (BlPoint c, double radius)
{
  BlPoints *crown = bl_points_new ();
  guint k = 0;

  for (k = 0; k < 16; k++)
    bl_points_add (crown, BL_POINT (c.x + radius * cos (k * G_PI / 8),
                                    c.y + radius * sin (k * G_PI / 8)));
  return crown;
}

static void
add_feature (BlShade *shade, const BlFeature *feature)
{
  guint n = feature->ground != NULL ? feature->ground->points->len : 0;
  gboolean tree = is_tree (feature->kind);
  BlObstacle o = { NULL, FALSE, tree ? 0.25 * feature->height : 0, feature->height };
  BlPoints *line = NULL;

  if (n == 0 || feature->height <= 0 || feature->kind == BL_FEATURE_SIGHT_TRIANGLE
      || feature->kind == BL_FEATURE_SNOW_PILE || feature->kind == BL_FEATURE_IN_FRONT)
    return;
  if (n == 1 && tree)
    line = crown_at (bl_points_at (feature->ground->points, 0), feature->height / 3.0);
  else
    line = n >= 2 ? bl_outline_flatten (feature->ground, TOLERANCE)
                  : bl_points_copy (feature->ground->points);
  o.outline = line;
  o.closed = (n == 1 && tree) || (!feature->ground->open && n >= 3);
  g_ptr_array_add (shade->lines, line);
  g_array_append_val (shade->obstacles, o);
}

BlShade *
bl_shade_new (const BlModel *model)
{
  BlShade *shade = g_new0 (BlShade, 1);
  guint i = 0;

  shade->obstacles = g_array_new (FALSE, FALSE, sizeof (BlObstacle));
  shade->lines = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  for (i = 0; i < model->features->len; i++)
    add_feature (shade, g_ptr_array_index (model->features, i));
  return shade;
}

void
bl_shade_free (BlShade *shade)
{
  if (shade == NULL)
    return;
  g_array_unref (shade->obstacles);
  g_ptr_array_unref (shade->lines);
  g_free (shade);
}

static const BlObstacle *
obstacles_of (const BlShade *shade)
{
  return (const BlObstacle *) (void *) shade->obstacles->data;
}

static gboolean
months_of (const BlShade *shade, const BlSite *site, const BlPoints *ring, double months[12],
           double *season, GCancellable *cancellable, GError **error)
{
  double cell = CLAMP (sqrt (bl_polygon_area (ring) / MEAN_CELLS), 0.2, 5.0);

  return bl_sun_months (site, 2025, ring, cell, obstacles_of (shade), shade->obstacles->len, months,
                        season, cancellable, error);
}

double
bl_shade_season_hours (const BlShade *shade, const BlSite *site, const BlPoints *ring)
{
  double months[12], season = NAN;

  if (isnan (site->latitude) || isnan (site->longitude) || ring == NULL
      || (isnan (site->north) && shade->obstacles->len > 0)
      || !months_of (shade, site, ring, months, &season, NULL, NULL))
    return NAN;
  return season;
}

static void
clear_bed (gpointer data)
{
  BlBedSun *bed = data;

  g_clear_pointer (&bed->ring, g_array_unref);
  g_clear_pointer (&bed->map, bl_sun_map_free);
}

static const BlBedSun *
find_bed (const BlSunlight *sunlight, gint64 id)
{
  guint i = 0;

  for (i = 0; sunlight != NULL && i < sunlight->beds->len; i++)
    if (g_array_index (sunlight->beds, BlBedSun, i).bed_id == id)
      return &g_array_index (sunlight->beds, BlBedSun, i);
  return NULL;
}

static gboolean
add_bed (BlSunlight *sunlight, const BlModel *model, const BlBed *bed, const BlShade *shade,
         const BlSunTrack *track, const BlSunlight *previous, GCancellable *cancellable,
         GError **error)
{
  const BlBedSun *lent = find_bed (previous, bed->id);
  BlBedSun sun = { bed->id, bl_points_copy (bed->ring), NULL, bed->sun_hours, { 0 }, 0 };
  double cell = CLAMP (sqrt (bl_polygon_area (bed->ring) / MAP_CELLS), 0.02, 2.0);
  gboolean done = TRUE;

  if (isnan (sun.stated))
    sun.stated = model->site.sun_hours;
  sun.map = bl_sun_map_new (bed->ring, cell, track, obstacles_of (shade), shade->obstacles->len,
                            cancellable, error);
  if (sun.map != NULL && lent != NULL)
    {
      memcpy (sun.months, lent->months, sizeof sun.months);
      sun.season = lent->season;
    }
  else if (sun.map != NULL)
    done = months_of (shade, &model->site, bed->ring, sun.months, &sun.season, cancellable, error);
  if (sun.map == NULL || !done)
    {
      clear_bed (&sun);
      return FALSE;
    }
  g_array_append_val (sunlight->beds, sun);
  return TRUE;
}

BlSunlight *
bl_sunlight_compute (const BlModel *model, BlDay day, const BlSunlight *previous,
                     GCancellable *cancellable, GError **error)
{
  g_autoptr (BlSunlight) sunlight = g_new0 (BlSunlight, 1);
  g_autoptr (BlShade) shade = bl_shade_new (model);
  g_autoptr (BlSunTrack) track = bl_sun_track_new (&model->site, day, MAP_STEP, error);
  guint i = 0;

  g_atomic_ref_count_init (&sunlight->refs);
  sunlight->beds = g_array_new (FALSE, FALSE, sizeof (BlBedSun));
  g_array_set_clear_func (sunlight->beds, clear_bed);
  if (track == NULL)
    return NULL;
  if (isnan (model->site.north) && shade->obstacles->len > 0)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("Shade cannot be told without north: give its direction on the site "
                           "sheet, or state the hours of sun"));
      return NULL;
    }
  sunlight->model = model;
  sunlight->day = day;
  sunlight->open_hours = bl_sun_track_open_hours (track);
  sunlight->rule = bl_site_light_rule (&model->site);
  for (i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);

      if (bed->ring != NULL && bed->ring->len >= 3 && bl_polygon_area (bed->ring) > 0
          && !add_bed (sunlight, model, bed, shade, track,
                       previous != NULL && previous->model == model ? previous : NULL, cancellable,
                       error))
        return NULL;
    }
  if (sunlight->beds->len == 0)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("No bed has a size yet: draw a bed line before asking for the sun"));
      return NULL;
    }
  return g_steal_pointer (&sunlight);
}

BlSunlight *
bl_sunlight_ref (BlSunlight *sunlight)
{
  g_atomic_ref_count_inc (&sunlight->refs);
  return sunlight;
}

void
bl_sunlight_unref (BlSunlight *sunlight)
{
  if (sunlight == NULL || !g_atomic_ref_count_dec (&sunlight->refs))
    return;
  g_array_unref (sunlight->beds);
  g_free (sunlight);
}

double
bl_sunlight_at (const BlSunlight *sunlight, BlPoint p)
{
  guint i = 0;

  for (i = 0; i < sunlight->beds->len; i++)
    {
      const BlBedSun *bed = &g_array_index (sunlight->beds, BlBedSun, i);
      const BlSunMap *map = bed->map;
      double column = floor ((p.x - map->x0) / map->cell), row = floor ((p.y - map->y0) / map->cell);

      if (column >= 0 && row >= 0 && column < map->columns && row < map->rows
          && bl_polygon_contains (bed->ring, p))
        {
          double hours = map->hours[(gsize) row * map->columns + (gsize) column];

          /* A cell that the bed line cuts may have its centre outside. */
          return isnan (hours) ? map->mean : hours;
        }
    }
  return NAN;
}
