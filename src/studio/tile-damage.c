/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What differs between two scenes, so that only that is painted again. */

#include "config.h"

#include "studio/tile-damage.h"

#define MOST_BOXES 400

/* What tells one drawn item from another, so that two scenes can be compared. */
static guint64
fingerprint (const BlScene *scene, const BlSceneItem *item)
{
  guint64 hash = 1469598103934665603u;
  gint64 parts[8] = { item->kind, item->id, (gint64) llround (item->base.x * 1e4),
                      (gint64) llround (item->base.y * 1e4), (gint64) llround (item->box.x0 * 1e3),
                      (gint64) llround (item->box.y1 * 1e3), item->state, 0 };

  if ((item->kind == BL_ITEM_PLANT || item->kind == BL_ITEM_SHADOW)
      && item->placed < scene->layout->placed->len)
    {
      const BlPlaced *placed = &g_array_index (scene->layout->placed, BlPlaced, item->placed);

      parts[7] = (gint64) (g_str_hash (placed->plant->slug) ^ placed->seed);
    }
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    hash = (hash ^ (guint64) parts[i]) * 1099511628211u;
  return hash;
}

static gboolean
comparable (const BlScene *a, const BlScene *b)
{
  return a->view == b->view && a->photo == b->photo && a->drawing == b->drawing
         && a->options == b->options && a->symbols == b->symbols
         && bl_camera_equal (&a->model->drawing_camera, &b->model->drawing_camera)
         && a->model->beds->len == b->model->beds->len
         && a->model->features->len == b->model->features->len
         && a->extent.x0 == b->extent.x0 && a->extent.y0 == b->extent.y0
         && a->extent.x1 == b->extent.x1 && a->extent.y1 == b->extent.y1;
}

static void
collect_missing (const BlScene *from, const BlScene *in, GArray *damage)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (guint i = 0; i < in->items->len; i++)
    {
      guint64 print = fingerprint (in, &g_array_index (in->items, BlSceneItem, i));

      g_hash_table_add (seen, g_memdup2 (&print, sizeof print));
    }
  for (guint i = 0; i < from->items->len; i++)
    {
      const BlSceneItem *item = &g_array_index (from->items, BlSceneItem, i);
      guint64 print = fingerprint (from, item);

      if (!g_hash_table_contains (seen, &print))
        g_array_append_val (damage, item->box);
    }
}

/* Beds and features whose line moved keep their identity: their boxes are taken as damaged where
 * the model's rows are not the same. */
static gboolean
same_ground (const BlScene *a, const BlScene *b)
{
  for (guint i = 0; i < a->model->beds->len; i++)
    {
      const BlBed *x = g_ptr_array_index (a->model->beds, i);
      const BlBed *y = g_ptr_array_index (b->model->beds, i);

      if (x->id != y->id || (x->ring == NULL) != (y->ring == NULL)
          || (x->ring != NULL && !bl_points_equal (x->ring, y->ring))
          || g_strcmp0 (x->edging, y->edging) != 0 || (x->mulch_depth > 0) != (y->mulch_depth > 0)
          || x->cover != y->cover)
        return FALSE;
    }
  for (guint i = 0; i < a->model->features->len; i++)
    {
      const BlFeature *x = g_ptr_array_index (a->model->features, i);
      const BlFeature *y = g_ptr_array_index (b->model->features, i);

      if (x->id != y->id || x->kind != y->kind || x->height != y->height
          || (x->outline != NULL && y->outline != NULL
              && !bl_outline_equal (x->outline, y->outline)))
        return FALSE;
    }
  return TRUE;
}

static gboolean
same_moment (const BlScene *a, const BlScene *b)
{
  return a->moment.month == b->moment.month && a->moment.years == b->moment.years;
}

gboolean
bl_scene_only_moved (const BlScene *before, const BlScene *after)
{
  return before->layout == after->layout && comparable (before, after)
         && !same_moment (before, after);
}

GArray *
bl_scene_damage (const BlScene *before, const BlScene *after)
{
  g_autoptr (GArray) damage = NULL;

  if (!comparable (before, after) || !same_moment (before, after) || !same_ground (before, after))
    return NULL;
  damage = g_array_new (FALSE, FALSE, sizeof (BlRect));
  collect_missing (before, after, damage);
  collect_missing (after, before, damage);
  return damage->len <= MOST_BOXES ? g_steal_pointer (&damage) : NULL;
}
