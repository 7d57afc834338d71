/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The free ground of a bed: inside its line, outside stones, boxes and beds drawn before it. */
#include "layout/layout-private.h"

#define SHAPE_TOLERANCE 0.005
#define TRUNK 0.3 /* metres kept clear round an existing tree or hydrant, besides half a spacing */
#define POST 0.1

static gboolean
is_solid (BlFeatureKind kind)
{
  return kind == BL_FEATURE_STONE || kind == BL_FEATURE_UTILITY_BOX
         || kind == BL_FEATURE_TRANSFORMER || kind == BL_FEATURE_WALK || kind == BL_FEATURE_DRIVE;
}

static double
point_claim (BlFeatureKind kind)
{
  if (kind == BL_FEATURE_TREE || kind == BL_FEATURE_HYDRANT)
    return TRUNK;
  return kind == BL_FEATURE_POST ? POST : 0;
}

/* An outline that is no clean shape is left out here: its own problem is told elsewhere. */
static gboolean
cut_out (BlPlot *plot, const BlPoints *ring, GError **error)
{
  g_autoptr (BlRegion) solid = bl_region_new (ring, NULL);
  BlRegion *rest;

  if (solid == NULL || !bl_rect_meets (bl_region_extent (solid), bl_region_extent (plot->free)))
    return TRUE;
  rest = bl_region_difference (plot->free, solid, error);
  if (rest == NULL)
    return FALSE;
  bl_region_free (plot->free);
  plot->free = rest;
  return TRUE;
}

/* Ground that two beds claim belongs to the first: it is planted, mulched and counted once. */
static gboolean
cut_earlier_beds (BlPlot *plot, const BlModel *model, GError **error)
{
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *other = model->beds->pdata[i];

      if (other == plot->bed || other->id == plot->bed->id)
        break;
      if (other->ring != NULL && !cut_out (plot, other->ring, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
cut_feature (BlPlot *plot, const BlFeature *feature, GError **error)
{
  g_autoptr (BlPoints) ring = bl_outline_flatten (feature->ground, SHAPE_TOLERANCE);

  return cut_out (plot, ring, error);
}

static void
drift_claim_free (gpointer data)
{
  BlDriftClaim *claim = data;

  bl_region_free (claim->region);
  g_free (claim);
}

BlPlot *
bl_plot_new (const BlModel *model, const BlBed *bed, GError **error)
{
  g_autoptr (BlPlot) plot = g_new0 (BlPlot, 1);

  plot->bed = bed;
  plot->inset = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free,
                                       (GDestroyNotify) bl_region_free);
  plot->drifts = g_ptr_array_new_with_free_func (drift_claim_free);
  plot->taken = g_array_new (FALSE, FALSE, sizeof (BlTaken));
  if (bed->ring == NULL)
    return g_steal_pointer (&plot);
  plot->free = bl_region_new (bed->ring, error);
  if (plot->free == NULL || !cut_earlier_beds (plot, model, error))
    return NULL;
  plot->shared = MAX (bl_polygon_area (bed->ring) - bl_region_area (plot->free), 0);
  for (guint i = 0; i < model->features->len; i++)
    {
      const BlFeature *feature = model->features->pdata[i];
      double claim = point_claim (feature->kind);

      if (feature->ground == NULL || feature->ground->points->len == 0)
        continue;
      if (is_solid (feature->kind) && !feature->ground->open && feature->ground->points->len > 2)
        {
          if (!cut_feature (plot, feature, error))
            return NULL;
        }
      else if (claim > 0)
        {
          BlPoint at = bl_points_at (feature->ground->points, 0);

          bl_plot_take (plot, at, claim, FALSE);
          bl_plot_take (plot, at, claim, TRUE);
        }
    }
  return g_steal_pointer (&plot);
}

void
bl_plot_free (BlPlot *plot)
{
  if (plot == NULL)
    return;
  bl_region_free (plot->free);
  g_hash_table_unref (plot->inset);
  g_ptr_array_unref (plot->drifts);
  g_array_unref (plot->taken);
  g_free (plot);
}

const BlRegion *
bl_plot_inset (BlPlot *plot, double metres, GError **error)
{
  gint64 key = llround (metres * 1000);
  BlRegion *region = g_hash_table_lookup (plot->inset, &key);

  if (region == NULL)
    {
      region = bl_region_offset (plot->free, -metres, error);
      if (region == NULL)
        return NULL;
      g_hash_table_insert (plot->inset, g_memdup2 (&key, sizeof key), region);
    }
  return region;
}

void
bl_plot_take (BlPlot *plot, BlPoint at, double claim, gboolean bulbs)
{
  BlTaken taken = { at, claim, bulbs };

  g_array_append_val (plot->taken, taken);
}
