/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The baked picture under a canvas: tiles at the exact device zoom, painted on other threads.
 *
 * 1. A tile on show is replaced only by a finished one: never a blank, never a flicker.
 * 2. A result is taken over only when its tile still waits for that very serial.
 * 3. Two sets of tiles exist at most: the present zoom's, and under it the last one's, stretched,
 *    until the present one covers what is seen.
 * 4. Workers hold references only; the main thread alone touches the sets. */

#include "config.h"

#include "studio/tiles.h"

#define SIDE 256
#define MAX_TILES 420          /* 420 x 256 KiB = 105 MiB a set */
#define OVERVIEW_SIDE 1024
#define OVERVIEW G_MAXINT

typedef struct
{
  int column, row;
  GdkTexture *texture; /* NULL = none yet */
  guint shown;         /* serial of what the texture shows */
  guint wanted;        /* serial last asked for */
  gboolean stale;
  guint64 used;
} Tile;

typedef struct
{
  double zoom;
  BlView view;
  GHashTable *tiles; /* gint64 key -> Tile */
} Set;

struct _BlTiles
{
  gatomicrefcount refs;
  int closed; /* atomic */
  BlStamps *stamps;
  GFunc ready;
  gpointer data;
  GThreadPool *pool;
  BlScene *scene;
  gint64 lifted;
  Set front, back;
  Tile overview;
  BlRect overview_extent;
  BlView overview_view;
  guint serial;
  guint64 clock;
  gboolean fresh;
  BlPoint centre; /* of what is seen, device pixels: baked first */
};

typedef struct
{
  BlTiles *tiles;
  BlScene *scene;
  BlStamps *stamps;
  int column, row;
  double zoom;
  double ox, oy; /* the overview's offset */
  int width, height;
  guint serial;
  gint64 lifted;
  double distance;
  GdkTexture *texture;
} Job;

static gint64
key_of (int column, int row)
{
  return (gint64) (((guint64) (guint32) column << 32) | (guint32) row);
}

static void
tile_free (gpointer data)
{
  Tile *tile = data;

  g_clear_object (&tile->texture);
  g_free (tile);
}

static void
set_clear (Set *set)
{
  if (set->tiles != NULL)
    g_hash_table_remove_all (set->tiles);
  set->zoom = 0;
}

static void
tiles_unref (BlTiles *self)
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
  tiles_unref (job->tiles);
  g_free (job);
}

static GdkTexture *
take_texture (cairo_surface_t *surface)
{
  int stride = cairo_image_surface_get_stride (surface);
  int width = cairo_image_surface_get_width (surface);
  int height = cairo_image_surface_get_height (surface);
  g_autoptr (GBytes) bytes = NULL;

  cairo_surface_flush (surface);
  bytes
      = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), (gsize)stride * height,
                                    (GDestroyNotify)cairo_surface_destroy, surface);
  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, stride);
}

static gboolean
job_done_cb (gpointer data)
{
  Job *job = data;
  BlTiles *self = job->tiles;
  Tile *tile = NULL;

  if (g_atomic_int_get (&self->closed) == 0 && job->texture != NULL)
    {
      gint64 key = key_of (job->column, job->row);

      if (job->column == OVERVIEW)
        tile = &self->overview;
      else if (job->zoom == self->front.zoom && job->scene->view == self->front.view)
        tile = g_hash_table_lookup (self->front.tiles, &key);
      if (tile != NULL && tile->wanted == job->serial)
        {
          g_set_object (&tile->texture, job->texture);
          tile->shown = job->serial;
          self->ready (self->data, NULL);
        }
    }
  job_free (job);
  return G_SOURCE_REMOVE;
}

static void
bake (gpointer data, gpointer user_data)
{
  Job *job = data;
  gboolean plan = job->scene->view == BL_VIEW_PLAN;
  double x0, y0, w = job->width / job->zoom, h = job->height / job->zoom;
  BlPaintOptions options = { .skip_planting = job->lifted, .cache = job->stamps->cache };
  cairo_surface_t *surface;
  cairo_t *cr;
  BlRect clip;

  if (g_atomic_int_get (&job->tiles->closed) == 0)
    {
      surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, job->width, job->height);
      cr = cairo_create (surface);
      cairo_translate (cr, -job->ox, -job->oy);
      cairo_scale (cr, job->zoom, job->zoom);
      x0 = job->ox / job->zoom;
      y0 = job->oy / job->zoom;
      clip = plan ? (BlRect) { x0, -y0 - h, x0 + w, -y0 } : (BlRect) { x0, y0, x0 + w, y0 + h };
      if (!plan)
        {
          /* Nothing is painted beyond the photo's edge. */
          cairo_rectangle (cr, job->scene->extent.x0, job->scene->extent.y0,
                           job->scene->extent.x1 - job->scene->extent.x0,
                           job->scene->extent.y1 - job->scene->extent.y0);
          cairo_clip (cr);
        }
      bl_scene_paint (job->scene, cr, clip, job->zoom, &options, NULL, NULL);
      cairo_destroy (cr);
      if (cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS)
        job->texture = take_texture (surface);
      else
        cairo_surface_destroy (surface);
    }
  g_idle_add_full (G_PRIORITY_HIGH_IDLE, job_done_cb, job, NULL);
}

static int
compare_jobs (gconstpointer a, gconstpointer b, gpointer data)
{
  double da = ((const Job *) a)->distance, db = ((const Job *) b)->distance;

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
      = g_thread_pool_new (bake, NULL, MAX (1, (int)g_get_num_processors () - 1), FALSE, NULL);
  g_thread_pool_set_sort_function (self->pool, compare_jobs, NULL);
  return self;
}

void
bl_tiles_free (BlTiles *self)
{
  g_atomic_int_set (&self->closed, 1);
  g_thread_pool_free (self->pool, FALSE, FALSE);
  g_clear_pointer (&self->front.tiles, g_hash_table_unref);
  g_clear_pointer (&self->back.tiles, g_hash_table_unref);
  g_clear_object (&self->overview.texture);
  g_clear_pointer (&self->scene, bl_scene_unref);
  tiles_unref (self);
}

static void
ask (BlTiles *self, Tile *tile, double zoom, double ox, double oy, int width, int height)
{
  Job *job = g_new0 (Job, 1);

  tile->wanted = ++self->serial;
  tile->stale = FALSE;
  g_atomic_ref_count_inc (&self->refs);
  job->tiles = self;
  job->scene = bl_scene_ref (self->scene);
  job->stamps = bl_stamps_ref (self->stamps);
  job->column = tile->column;
  job->row = tile->row;
  job->zoom = zoom;
  job->ox = ox;
  job->oy = oy;
  job->width = width;
  job->height = height;
  job->serial = tile->wanted;
  job->lifted = self->lifted;
  job->distance = tile->column == OVERVIEW ? -1
                                           : hypot (ox + width / 2.0 - self->centre.x,
                                                    oy + height / 2.0 - self->centre.y);
  g_thread_pool_push (self->pool, job, NULL);
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
  return a->view == b->view && a->photo == b->photo && a->options == b->options
         && a->moment.month == b->moment.month && a->moment.years == b->moment.years
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
          || g_strcmp0 (x->edging, y->edging) != 0 || (x->mulch_depth > 0) != (y->mulch_depth > 0))
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

void
bl_tiles_set_scene (BlTiles *self, BlScene *scene)
{
  g_autoptr (GArray) damage = NULL;

  if (self->scene == scene)
    return;
  if (scene == NULL || self->scene == NULL || self->scene->view != scene->view)
    {
      set_clear (&self->front);
      set_clear (&self->back);
      g_clear_object (&self->overview.texture);
      self->overview.stale = TRUE;
    }
  else if (comparable (self->scene, scene) && same_ground (self->scene, scene))
    {
      damage = g_array_new (FALSE, FALSE, sizeof (BlRect));
      collect_missing (self->scene, scene, damage);
      collect_missing (scene, self->scene, damage);
      if (damage->len > 400)
        g_clear_pointer (&damage, g_array_unref);
      spoil (self, damage);
    }
  else
    spoil (self, NULL);
  g_clear_pointer (&self->scene, bl_scene_unref);
  self->scene = scene != NULL ? bl_scene_ref (scene) : NULL;
  self->fresh = FALSE;
}

void
bl_tiles_lift (BlTiles *self, gint64 planting_id)
{
  g_autoptr (GArray) damage = g_array_new (FALSE, FALSE, sizeof (BlRect));
  gint64 before = self->lifted;

  if (before == planting_id)
    return;
  self->lifted = planting_id;
  if (self->scene == NULL)
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
append (
    GtkSnapshot *snapshot, const Set *set, const Tile *tile, const BlViewport *viewport, double sf)
{
  double f = viewport->zoom / set->zoom, side = SIDE * f;
  double x0 = round (viewport->ox + tile->column * side);
  double y0 = round (viewport->oy + tile->row * side);
  double x1 = round (viewport->ox + (tile->column + 1) * side);
  double y1 = round (viewport->oy + (tile->row + 1) * side);

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
refresh_overview (BlTiles *self)
{
  BlRect e = self->scene->extent;
  double w = e.x1 - e.x0, h = e.y1 - e.y0, zoom;

  if ((self->overview.texture != NULL || self->overview.wanted != 0) && !self->overview.stale)
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
append_back (BlTiles *self,
             GtkSnapshot *snapshot,
             const BlViewport *viewport,
             int width,
             int height,
             double sf)
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

void
bl_tiles_snapshot (BlTiles *self, GtkSnapshot *snapshot, const BlViewport *viewport, int width,
                   int height, double sf, gboolean settled)
{
  gboolean complete = TRUE;
  double side;

  if (self->scene == NULL || self->scene->view != viewport->view)
    return;
  self->clock++;
  self->centre = BL_POINT (width / 2.0 - viewport->ox, height / 2.0 - viewport->oy);
  if (settled || self->front.zoom <= 0)
    turn_sets (self, viewport);
  refresh_overview (self);
  append_overview (self, snapshot, viewport, sf);
  append_back (self, snapshot, viewport, width, height, sf);
  side = SIDE * viewport->zoom / self->front.zoom;
  for (int row = (int)floor (-viewport->oy / side);
       row <= (int)floor ((height - 1 - viewport->oy) / side); row++)
    for (int column = (int)floor (-viewport->ox / side);
         column <= (int)floor ((width - 1 - viewport->ox) / side); column++)
      {
        Tile *tile = tile_at (self, column, row, settled);
        BlRect rect;

        if (tile == NULL)
          continue;
        tile->used = self->clock;
        rect = tile_rect (&self->front, tile);
        if (viewport->view == BL_VIEW_PHOTO
            && !bl_rect_meets (rect, bl_rect_grow (self->scene->extent, 0.001)))
          {
            /* Beyond the photo's edge there is nothing. */
            tile->stale = FALSE;
            tile->shown = tile->wanted;
            continue;
          }
        if (settled && tile->stale)
          ask (self, tile, self->front.zoom, (double)column * SIDE, (double)row * SIDE, SIDE, SIDE);
        if (tile->texture != NULL)
          append (snapshot, &self->front, tile, viewport, sf);
        complete = complete && tile->texture != NULL && tile->shown == tile->wanted && !tile->stale;
      }
  self->fresh = complete && settled;
  if (self->fresh)
    set_clear (&self->back);
  forget_oldest (self);
}

gboolean
bl_tiles_are_fresh (const BlTiles *self)
{
  return self->fresh;
}
