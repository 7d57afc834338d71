/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The uniform grid over a scene's items, for painting parts of it and for picking. */
#include "draw/scene-private.h"

#define MAX_CELLS 64

static void
span (const BlSceneGrid *g, BlRect r, int *x0, int *y0, int *x1, int *y1)
{
  *x0 = (int) CLAMP (floor ((r.x0 - g->x0) / g->cell), 0, g->nx - 1);
  *y0 = (int) CLAMP (floor ((r.y0 - g->y0) / g->cell), 0, g->ny - 1);
  *x1 = (int) CLAMP (floor ((r.x1 - g->x0) / g->cell), 0, g->nx - 1);
  *y1 = (int) CLAMP (floor ((r.y1 - g->y0) / g->cell), 0, g->ny - 1);
}

BlSceneGrid *
bl_scene_grid_new (const GArray *items, BlRect extent)
{
  BlSceneGrid *g = g_new0 (BlSceneGrid, 1);
  double w = MAX (1e-6, extent.x1 - extent.x0), h = MAX (1e-6, extent.y1 - extent.y0);
  guint n, *fill;
  int x0, y0, x1, y1;

  g->x0 = extent.x0, g->y0 = extent.y0;
  g->cell = MAX (w, h) / MAX_CELLS;
  g->nx = MAX (1, (int) ceil (w / g->cell)), g->ny = MAX (1, (int) ceil (h / g->cell));
  n = (guint) (g->nx * g->ny);
  g->start = g_new0 (guint, n + 1);
  for (int pass = 0; pass < 2; pass++)
    {
      fill = g_new0 (guint, n);
      for (guint i = 0; i < items->len; i++)
        {
          span (g, g_array_index (items, BlSceneItem, i).box, &x0, &y0, &x1, &y1);
          for (int y = y0; y <= y1; y++)
            for (int x = x0; x <= x1; x++)
              {
                guint c = (guint) (y * g->nx + x);

                if (pass)
                  g->item[g->start[c] + fill[c]] = i;
                fill[c]++;
              }
        }
      if (!pass)
        {
          for (guint c = 0; c < n; c++)
            g->start[c + 1] = g->start[c] + fill[c];
          g->item = g_new (guint, MAX (1, g->start[n]));
        }
      g_free (fill);
    }
  return g;
}

void
bl_scene_grid_free (BlSceneGrid *grid)
{
  if (grid == NULL)
    return;
  g_free (grid->start);
  g_free (grid->item);
  g_free (grid);
}

static int
by_index (gconstpointer a, gconstpointer b)
{
  guint x = *(const guint *) a, y = *(const guint *) b;

  return x < y ? -1 : x > y;
}

GArray *
bl_scene_items_in (const BlScene *scene, BlRect rect)
{
  const BlSceneGrid *g = scene->grid;
  GArray *found = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autofree guint8 *seen = g_malloc0 (MAX (1, scene->items->len));
  int x0, y0, x1, y1;

  span (g, rect, &x0, &y0, &x1, &y1);
  for (int y = y0; y <= y1; y++)
    for (int x = x0; x <= x1; x++)
      {
        guint c = (guint) (y * g->nx + x);

        for (guint k = g->start[c]; k < g->start[c + 1]; k++)
          {
            guint i = g->item[k];

            if (seen[i])
              continue;
            seen[i] = 1;
            if (bl_rect_meets (g_array_index (scene->items, BlSceneItem, i).box, rect))
              g_array_append_val (found, i);
          }
      }
  g_array_sort (found, by_index);
  return found;
}

static gboolean
hits (const BlScene *scene, const BlSceneItem *item, BlPoint at, double slack)
{
  BlRect b = bl_rect_grow (item->box, slack);
  double w, h, dx, dy;

  if (at.x < b.x0 || at.x > b.x1 || at.y < b.y0 || at.y > b.y1)
    return FALSE;
  if (item->kind != BL_ITEM_PLANT)
    return TRUE;
  /* The body of a figure or symbol is about the ellipse in its box. */
  w = (b.x1 - b.x0) / 2 * (scene->view == BL_VIEW_PHOTO ? 0.8 : 1), h = (b.y1 - b.y0) / 2;
  dx = (at.x - (b.x0 + b.x1) / 2) / MAX (w, 1e-9), dy = (at.y - (b.y0 + b.y1) / 2) / MAX (h, 1e-9);
  return dx * dx + dy * dy <= 1.1;
}

static gboolean
in_ring (const BlScene *scene, const BlSceneItem *item, BlPoint at, double slack)
{
  BlPoint plan;
  const BlBed *bed;
  const BlFeature *feature;

  if (!bl_scene_to_plan (scene, at, &plan))
    return FALSE;
  if (item->kind == BL_ITEM_GROUND)
    {
      bed = bl_model_bed (scene->model, item->id);
      return bed != NULL && bed->ring != NULL && bl_polygon_contains (bed->ring, plan);
    }
  feature = bl_model_feature (scene->model, item->id);
  if (feature == NULL || feature->ground == NULL)
    return FALSE;
  if (feature->ground->points->len < 3 || feature->ground->open)
    {
      const BlPoints *p = feature->ground->points;
      double reach = slack / MAX (1e-6, item->scale) + 0.15;

      for (guint i = 0; i + 1 < p->len; i++)
        if (bl_segment_distance (plan, bl_points_at (p, i), bl_points_at (p, i + 1), NULL) <= reach)
          return TRUE;
      return p->len == 1 && bl_dist (plan, bl_points_at (p, 0)) <= reach + 0.15;
    }
  return bl_polygon_contains (feature->ground->points, plan);
}

const BlSceneItem *
bl_scene_pick (const BlScene *scene, BlPoint at, double slack)
{
  static const BlItemKind order[] = { BL_ITEM_PLANT, BL_ITEM_FEATURE, BL_ITEM_GROUND };
  g_autoptr (GArray) near = NULL;

  g_return_val_if_fail (scene != NULL, NULL);
  near = bl_scene_items_in (scene, (BlRect) { at.x - slack, at.y - slack, at.x + slack,
                                              at.y + slack });
  for (guint k = 0; k < G_N_ELEMENTS (order); k++)
    for (guint i = near->len; i-- > 0;)
      {
        const BlSceneItem *item = &g_array_index (scene->items, BlSceneItem, g_array_index (near,
            guint, i));

        if (item->kind == order[k] && hits (scene, item, at, slack) &&
            (item->kind == BL_ITEM_PLANT || in_ring (scene, item, at, slack)))
          return item;
      }
  return NULL;
}
