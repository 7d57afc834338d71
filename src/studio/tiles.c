/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The baked picture under a canvas: tiles at the exact device zoom, painted on other threads.
 *
 * 1. A tile on show is replaced only by a finished one: never a blank, never a flicker.
 * 2. A result is taken over only when its tile still waits for that very serial.
 * 3. Two sets of tiles exist at most: the present zoom's, and under it the last one's, stretched,
 *    until the present one covers what is seen.
 * 4. Workers hold references only; the main thread alone touches the sets.
 * 5. While the month or the age moves, pictures turn whole: all tiles in sight at once, from quick
 *    bakes. What moves on meanwhile waits, the last of it only; at rest every tile is baked
 *    crisp. */

#include "config.h"

#include "studio/tile-bake.h"
#include "studio/tile-damage.h"
#include "studio/tiles-private.h"

#define SIDE 512
#define MAX_TILES 100          /* 100 x 1 MiB = 100 MiB a set */
#define OVERVIEW_SIDE 1024
#define OVERVIEW G_MAXINT
#define REST_MS 160            /* without another moment: the person looks */

typedef struct
{
  BlTiles *tiles;
  BlScene *scene;
  BlStamps *stamps;
  int column, row;
  BlTilePiece piece;
  guint serial;
  double distance;
  GdkTexture *texture;
} Job;

static gint64
key_of (int column, int row)
{
  return column * (G_GINT64_CONSTANT (1) << 32) + row;
}

static void
tile_free (gpointer data)
{
  Tile *tile = data;

  g_clear_object (&tile->texture);
  g_clear_object (&tile->coming);
  g_free (tile);
}

static void
set_clear (Set *set)
{
  if (set->tiles != NULL)
    g_hash_table_remove_all (set->tiles);
  set->zoom = 0;
}

void
bl_tiles_unref (BlTiles *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  bl_stamps_unref (self->stamps);
  g_free (self);
}

static void
job_free (Job *job)
{
  bl_scene_unref (job->scene);
  bl_stamps_unref (job->stamps);
  g_clear_object (&job->texture);
  bl_tiles_unref (job->tiles);
  g_free (job);
}

static gboolean
job_done_cb (gpointer data)
{
  Job *job = data;
  BlTiles *self = job->tiles;
  Tile *tile = NULL;

  if (g_atomic_int_get (&self->closed) == 0)
    {
      gint64 key = key_of (job->column, job->row);

      if (job->column == OVERVIEW)
        tile = &self->overview;
      else if (job->piece.zoom == self->front.zoom && job->scene->view == self->front.view)
        tile = g_hash_table_lookup (self->front.tiles, &key);
      self->flying--;
      if (tile != NULL && tile->wanted == job->serial)
        {
          g_set_object (self->turning && tile != &self->overview ? &tile->coming : &tile->texture,
                        job->texture);
          tile->shown = job->serial;
        }
      /* A picture that turns in is shown when it is complete, not tile by tile. */
      if ((tile != NULL && tile->wanted == job->serial && !self->turning) || self->flying == 0)
        self->ready (self->data, NULL);
    }
  job_free (job);
  return G_SOURCE_REMOVE;
}

static void
bake (gpointer data, gpointer user_data)
{
  Job *job = data;

  if (g_atomic_int_get (&job->tiles->closed) == 0)
    job->texture = bl_tile_bake (job->scene, job->stamps, &job->piece);
  g_idle_add_full (G_PRIORITY_HIGH_IDLE, job_done_cb, job, NULL);
}

static int
compare_jobs (gconstpointer a, gconstpointer b, gpointer data)
{
  double da = ((const Job *)a)->distance, db = ((const Job *)b)->distance;

  return (da > db) - (da < db);
}

BlTiles *
bl_tiles_new (BlStamps *stamps, GFunc ready, gpointer data)
{
  BlTiles *self = g_new0 (BlTiles, 1);

  g_atomic_ref_count_init (&self->refs);
  self->stamps = bl_stamps_ref (stamps);
  self->ready = ready;
  self->data = data;
  self->front.tiles = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, tile_free);
  self->back.tiles = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, tile_free);
  self->pool
      = g_thread_pool_new (bake, NULL, MAX (2, (int)g_get_num_processors () - 1), FALSE, NULL);
  g_thread_pool_set_sort_function (self->pool, compare_jobs, NULL);
  return self;
}

void
bl_tiles_free (BlTiles *self)
{
  bl_tiles_stop_ahead (self);
  g_atomic_int_set (&self->closed, 1);
  g_thread_pool_free (self->pool, FALSE, FALSE);
  g_clear_pointer (&self->front.tiles, g_hash_table_unref);
  g_clear_pointer (&self->back.tiles, g_hash_table_unref);
  g_clear_object (&self->overview.texture);
  g_clear_handle_id (&self->rest, g_source_remove);
  g_clear_pointer (&self->scene, bl_scene_unref);
  g_clear_pointer (&self->later, bl_scene_unref);
  bl_tiles_unref (self);
}

static void
ask (BlTiles *self, Tile *tile, double zoom, double ox, double oy, int width, int height)
{
  Job *job = g_new0 (Job, 1);

  if (tile->column != OVERVIEW)
    bl_tiles_stop_ahead (self);
  tile->wanted = ++self->serial;
  tile->stale = FALSE;
  tile->rough = self->moving && !self->photo_only;
  g_clear_object (&tile->coming);
  self->flying++;
  g_atomic_ref_count_inc (&self->refs);
  job->tiles = self;
  job->scene = bl_scene_ref (self->scene);
  job->stamps = bl_stamps_ref (self->stamps);
  job->column = tile->column;
  job->row = tile->row;
  job->piece = (BlTilePiece){ zoom, ox, oy, width, height, self->lifted, tile->rough,
                              self->photo_only };
  job->serial = tile->wanted;
  job->distance = tile->column == OVERVIEW ? -1
                                           : hypot (ox + width / 2.0 - self->centre.x,
                                                    oy + height / 2.0 - self->centre.y);
  g_thread_pool_push (self->pool, job, NULL);
}

/* How much of a tile is picture: on the photo nothing lies beyond its edges, and its first tile
 * begins at its corner. FALSE when there is nothing at all. */
static gboolean
tile_size (const BlTiles *self, int column, int row, int *width, int *height)
{
  BlRect e = self->scene->extent;

  *width = *height = SIDE;
  if (self->scene->view == BL_VIEW_PLAN)
    return TRUE;
  *width = MIN (SIDE, MAX (1, (int)lround (e.x1 * self->front.zoom)) - column * SIDE);
  *height = MIN (SIDE, MAX (1, (int)lround (e.y1 * self->front.zoom)) - row * SIDE);
  return column >= 0 && row >= 0 && *width > 0 && *height > 0;
}

static BlRect
tile_rect (const Set *set, const Tile *tile)
{
  double side = SIDE / set->zoom;
  double x = tile->column * side, y = tile->row * side;

  if (set->view == BL_VIEW_PLAN)
    return (BlRect) { x, -y - side, x + side, -y };
  return (BlRect) { x, y, x + side, y + side };
}

static void
spoil (BlTiles *self, const GArray *damage)
{
  GHashTableIter iter;
  gpointer value;

  self->overview.stale = TRUE;
  g_hash_table_iter_init (&iter, self->front.tiles);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      Tile *tile = value;
      BlRect rect = bl_rect_grow (tile_rect (&self->front, tile), 2 / self->front.zoom);

      if (damage == NULL)
        tile->stale = TRUE;
      for (guint i = 0; damage != NULL && !tile->stale && i < damage->len; i++)
        tile->stale = bl_rect_meets (rect, g_array_index (damage, BlRect, i));
    }
}

static gboolean
rested_cb (gpointer data)
{
  BlTiles *self = data;

  self->rest = 0;
  self->moving = FALSE;
  self->ready (self->data, NULL);
  return G_SOURCE_REMOVE;
}

/* Shows what has come so far; new tiles show one by one again. */
static void
turn_in (BlTiles *self)
{
  GHashTableIter iter;
  gpointer value;

  self->turning = FALSE;
  g_hash_table_iter_init (&iter, self->front.tiles);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      Tile *tile = value;

      if (tile->coming == NULL)
        continue;
      g_set_object (&tile->texture, tile->coming);
      g_clear_object (&tile->coming);
    }
}

/* Another month or age. TRUE when the scene has to wait. */
static gboolean
move_on (BlTiles *self, BlScene *scene)
{
  self->moving = TRUE;
  g_clear_handle_id (&self->rest, g_source_remove);
  self->rest = g_timeout_add (REST_MS, rested_cb, self);
  g_clear_pointer (&self->later, bl_scene_unref);
  if (!self->turning)
    return FALSE;
  self->later = bl_scene_ref (scene);
  self->fresh = FALSE;
  return TRUE;
}

void
bl_tiles_set_scene (BlTiles *self, BlScene *scene)
{
  g_autoptr (GArray) damage = NULL;
  gboolean moved = FALSE;

  if (self->scene == scene)
    return;
  if (scene != NULL && self->scene != NULL && !self->photo_only
      && bl_scene_only_moved (self->scene, scene))
    {
      moved = TRUE;
      if (move_on (self, scene))
        return;
    }
  else
    {
      g_clear_pointer (&self->later, bl_scene_unref);
      turn_in (self);
    }
  if (scene == NULL || self->scene == NULL || self->scene->view != scene->view)
    {
      set_clear (&self->front);
      set_clear (&self->back);
      g_clear_object (&self->overview.texture);
      self->overview.stale = TRUE;
    }
  else if (!self->photo_only || self->scene->photo != scene->photo)
    {
      damage = bl_scene_damage (self->scene, scene);
      spoil (self, damage);
    }
  self->turning = moved;
  bl_tiles_stop_ahead (self);
  g_clear_pointer (&self->scene, bl_scene_unref);
  self->scene = scene != NULL ? bl_scene_ref (scene) : NULL;
  self->fresh = self->complete = FALSE;
}

void
bl_tiles_lift (BlTiles *self, gint64 planting_id)
{
  g_autoptr (GArray) damage = g_array_new (FALSE, FALSE, sizeof (BlRect));
  gint64 before = self->lifted;

  self->lifted = planting_id;
  if (before == planting_id || self->scene == NULL)
    return;
  for (guint i = 0; i < self->scene->items->len; i++)
    {
      const BlSceneItem *item = &g_array_index (self->scene->items, BlSceneItem, i);

      if ((item->kind == BL_ITEM_PLANT || item->kind == BL_ITEM_SHADOW)
          && (item->id == before || item->id == planting_id))
        g_array_append_val (damage, item->box);
    }
  spoil (self, damage);
}

static void
forget_oldest (BlTiles *self)
{
  GHashTableIter iter;
  gpointer value;
  guint64 limit;

  if (g_hash_table_size (self->front.tiles) <= MAX_TILES)
    return;
  limit = self->clock > 1 ? self->clock - 1 : 0;
  g_hash_table_iter_init (&iter, self->front.tiles);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    if (((Tile *) value)->used < limit && g_hash_table_size (self->front.tiles) > MAX_TILES / 2)
      g_hash_table_iter_remove (&iter);
}

static void
append (GtkSnapshot *snapshot, const Set *set, const Tile *tile, const BlViewport *viewport,
        double sf)
{
  double f = viewport->zoom / set->zoom;
  int x = tile->column * SIDE, y = tile->row * SIDE;
  double x0 = round (viewport->ox + x * f), y0 = round (viewport->oy + y * f);
  double x1 = round (viewport->ox + (x + gdk_texture_get_width (tile->texture)) * f);
  double y1 = round (viewport->oy + (y + gdk_texture_get_height (tile->texture)) * f);

  gtk_snapshot_append_texture (snapshot, tile->texture,
    &GRAPHENE_RECT_INIT ((float) (x0 / sf), (float) (y0 / sf), (float) ((x1 - x0) / sf),
                         (float) ((y1 - y0) / sf)));
}

static void
append_overview (BlTiles *self, GtkSnapshot *snapshot, const BlViewport *viewport, double sf)
{
  BlRect e = self->overview_extent;
  BlPoint a, b;

  if (self->overview.texture == NULL || self->overview_view != viewport->view)
    return;
  a = bl_viewport_to_device (viewport,
                             BL_POINT (e.x0, viewport->view == BL_VIEW_PLAN ? e.y1 : e.y0));
  b = bl_viewport_to_device (viewport,
                             BL_POINT (e.x1, viewport->view == BL_VIEW_PLAN ? e.y0 : e.y1));
  gtk_snapshot_append_texture (snapshot, self->overview.texture,
    &GRAPHENE_RECT_INIT ((float) (a.x / sf), (float) (a.y / sf), (float) ((b.x - a.x) / sf),
                         (float) ((b.y - a.y) / sf)));
}

static void
refresh_overview (BlTiles *self, gboolean idle)
{
  BlRect e = self->scene->extent;
  double w = e.x1 - e.x0, h = e.y1 - e.y0, zoom;

  if ((self->overview.texture != NULL || self->overview.wanted != 0)
      && (!self->overview.stale || !idle))
    return;
  if (!(w > 0) || !(h > 0))
    return;
  zoom = OVERVIEW_SIDE / MAX (w, h);
  self->overview.column = OVERVIEW;
  self->overview_extent = e;
  self->overview_view = self->scene->view;
  ask (self, &self->overview, zoom, e.x0 * zoom,
       (self->scene->view == BL_VIEW_PLAN ? -e.y1 : e.y0) * zoom,
       MAX (1, (int) round (w * zoom)), MAX (1, (int) round (h * zoom)));
}

static void
turn_sets (BlTiles *self, const BlViewport *viewport)
{
  Set old = self->front;

  if (old.zoom == viewport->zoom && old.view == viewport->view)
    return;
  turn_in (self);
  if (old.zoom > 0 && old.view == viewport->view && g_hash_table_size (old.tiles) > 0)
    {
      g_hash_table_remove_all (self->back.tiles);
      self->front = self->back;
      self->back = old;
    }
  else
    {
      g_hash_table_remove_all (self->front.tiles);
      set_clear (&self->back);
    }
  self->front.zoom = viewport->zoom;
  self->front.view = viewport->view;
}

static void
append_back (BlTiles *self, GtkSnapshot *snapshot, const BlViewport *viewport, int width,
             int height, double sf)
{
  GHashTableIter iter;
  gpointer value;
  BlRect seen = bl_viewport_seen (viewport, width, height);

  if (self->back.zoom <= 0 || self->back.view != viewport->view)
    return;
  g_hash_table_iter_init (&iter, self->back.tiles);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    if (((Tile *) value)->texture != NULL && bl_rect_meets (seen, tile_rect (&self->back, value)))
      append (snapshot, &self->back, value, viewport, sf);
}

static Tile *
tile_at (BlTiles *self, int column, int row, gboolean make)
{
  gint64 key = key_of (column, row);
  Tile *tile = g_hash_table_lookup (self->front.tiles, &key);

  if (tile == NULL && make)
    {
      tile = g_new0 (Tile, 1);
      tile->column = column;
      tile->row = row;
      tile->stale = TRUE;
      g_hash_table_insert (self->front.tiles, g_memdup2 (&key, sizeof key), tile);
    }
  return tile;
}

static gboolean
is_done (const Tile *tile)
{
  return !tile->stale && tile->shown == tile->wanted;
}

static Span
span_of (const BlTiles *self, const BlViewport *viewport, int width, int height)
{
  double side = SIDE * viewport->zoom / self->front.zoom;

  return (Span){ (int)floor (-viewport->ox / side),
                 (int)floor ((width - 1 - viewport->ox) / side), (int)floor (-viewport->oy / side),
                 (int)floor ((height - 1 - viewport->oy) / side) };
}

/* Asks for what is not there yet. @crisp: nothing in sight is a quick bake. TRUE when everything in
 * sight shows, or could show, the present scene. */
static gboolean
gather (BlTiles *self, const BlViewport *viewport, Span span, gboolean settled, gboolean *crisp)
{
  gboolean complete = TRUE, rested = !self->moving && !self->turning;

  *crisp = self->covered = TRUE;
  for (int row = span.row0; row <= span.row1; row++)
    for (int column = span.column0; column <= span.column1; column++)
      {
        int w, h;
        Tile *tile;

        if (!tile_size (self, column, row, &w, &h))
          continue;
        tile = tile_at (self, column, row, settled);
        if (tile == NULL)
          {
            self->covered = FALSE;
            continue;
          }
        tile->used = self->clock;
        if (settled && (tile->stale || (tile->rough && rested && is_done (tile))))
          ask (self, tile, self->front.zoom, (double)column * SIDE, (double)row * SIDE, w, h);
        complete = complete && (tile->texture != NULL || tile->coming != NULL) && is_done (tile);
        *crisp = *crisp && !tile->rough;
        self->covered = self->covered && tile->texture != NULL;
      }
  return complete && settled;
}

void
bl_tiles_snapshot (BlTiles *self, GtkSnapshot *snapshot, const BlViewport *viewport, int width,
                   int height, double sf, gboolean settled)
{
  gboolean crisp;
  Span span;

  if (self->scene == NULL || self->scene->view != viewport->view)
    return;
  self->clock++;
  self->centre = BL_POINT (width / 2.0 - viewport->ox, height / 2.0 - viewport->oy);
  if (settled || self->front.zoom <= 0)
    turn_sets (self, viewport);
  span = span_of (self, viewport, width, height);
  self->complete = gather (self, viewport, span, settled, &crisp);
  if (self->complete && self->turning)
    {
      g_autoptr (BlScene) next = g_steal_pointer (&self->later);

      turn_in (self);
      /* Rest came before the picture did: the crisp one is asked for in a frame of its own. */
      if (self->rest == 0)
        self->rest = g_timeout_add (16, rested_cb, self);
      if (next != NULL)
        {
          bl_tiles_set_scene (self, next);
          self->complete = gather (self, viewport, span, settled, &crisp);
        }
    }
  refresh_overview (self, self->complete && crisp);
  /* What cannot be seen is not drawn: stretching it would take longer than all the rest. */
  if (!self->covered)
    {
      append_overview (self, snapshot, viewport, sf);
      append_back (self, snapshot, viewport, width, height, sf);
    }
  for (int row = span.row0; row <= span.row1; row++)
    for (int column = span.column0; column <= span.column1; column++)
      {
        const Tile *tile = tile_at (self, column, row, FALSE);

        if (tile != NULL && tile->texture != NULL)
          append (snapshot, &self->front, tile, viewport, sf);
      }
  self->fresh = self->complete && crisp && !self->moving && !self->turning;
  if (self->fresh)
    bl_tiles_look_ahead (self, viewport, width, height);
  if (self->complete)
    set_clear (&self->back);
  forget_oldest (self);
}

gboolean
bl_tiles_are_fresh (const BlTiles *self)
{
  return self->fresh;
}

gboolean
bl_tiles_are_complete (const BlTiles *self)
{
  return self->complete && !self->turning && self->later == NULL;
}

gboolean
bl_tiles_are_covering (const BlTiles *self)
{
  return self->covered;
}

void
bl_tiles_set_photo_only (BlTiles *self)
{
  self->photo_only = TRUE;
}
