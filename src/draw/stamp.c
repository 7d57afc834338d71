/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stamps: figures and symbols rasterised once and painted many times, bounded by bytes. */
#include "draw/scene-private.h"

#include <string.h>

typedef struct
{
  guint64 key;
  BlStamp *stamp;
  gsize bytes;
} Entry;

struct _BlFigureCache
{
  GMutex lock;
  GHashTable *entries; /* guint64 -> GList of the queue */
  GQueue recent;       /* Entry, the most recently used first */
  gsize bytes, max_bytes;
  BlTexture *textures[BL_SURFACE_N];
};

BlStamp *
bl_stamp_new (BlRect box, double detail)
{
  BlStamp *s = g_new0 (BlStamp, 1);

  g_atomic_ref_count_init (&s->refs);
  s->detail = detail;
  s->ox = ceil (-box.x0 * detail) + 1, s->oy = ceil (-box.y0 * detail) + 1;
  s->width = (int) (s->ox + ceil (box.x1 * detail) + 1),
    s->height = (int) (s->oy + ceil (box.y1 * detail) + 1);
  s->width = CLAMP (s->width, 1, 8192), s->height = CLAMP (s->height, 1, 8192);
  s->stride = cairo_format_stride_for_width (CAIRO_FORMAT_ARGB32, s->width);
  s->data = g_malloc0 ((gsize) s->stride * s->height);
  return s;
}

BlStamp *
bl_stamp_ref (BlStamp *stamp)
{
  g_atomic_ref_count_inc (&stamp->refs);
  return stamp;
}

void
bl_stamp_unref (BlStamp *stamp)
{
  if (stamp == NULL || !g_atomic_ref_count_dec (&stamp->refs))
    return;
  g_free (stamp->data);
  g_free (stamp);
}

cairo_surface_t *
bl_stamp_surface (const BlStamp *stamp)
{
  /* A surface of its own for each use: cairo's and pixman's counts are not safe between threads. */
  return cairo_image_surface_create_for_data (stamp->data, CAIRO_FORMAT_ARGB32, stamp->width,
                                              stamp->height, stamp->stride);
}

BlFigureCache *
bl_figure_cache_new (gsize max_bytes)
{
  BlFigureCache *cache = g_new0 (BlFigureCache, 1);

  g_mutex_init (&cache->lock);
  g_queue_init (&cache->recent);
  cache->max_bytes = max_bytes;
  cache->entries = g_hash_table_new (g_int64_hash, g_int64_equal);
  return cache;
}

static void
entry_free (Entry *entry)
{
  bl_stamp_unref (entry->stamp);
  g_free (entry);
}

void
bl_figure_cache_free (BlFigureCache *cache)
{
  if (cache == NULL)
    return;
  g_hash_table_unref (cache->entries);
  g_queue_clear_full (&cache->recent, (GDestroyNotify) entry_free);
  for (guint i = 0; i < BL_SURFACE_N; i++)
    bl_texture_free (cache->textures[i]);
  g_mutex_clear (&cache->lock);
  g_free (cache);
}

BlStamp *
bl_figure_cache_lookup (BlFigureCache *cache, guint64 key)
{
  BlStamp *stamp = NULL;
  GList *link;

  g_mutex_lock (&cache->lock);
  link = g_hash_table_lookup (cache->entries, &key);
  if (link != NULL)
    {
      stamp = bl_stamp_ref (((Entry *) link->data)->stamp);
      g_queue_unlink (&cache->recent, link);
      g_queue_push_head_link (&cache->recent, link);
    }
  g_mutex_unlock (&cache->lock);
  return stamp;
}

void
bl_figure_cache_insert (BlFigureCache *cache, guint64 key, BlStamp *stamp)
{
  Entry *entry;

  g_mutex_lock (&cache->lock);
  if (!g_hash_table_contains (cache->entries, &key))
    {
      entry = g_new (Entry, 1);
      *entry = (Entry) { key, bl_stamp_ref (stamp),
                         sizeof (BlStamp) + (gsize) stamp->stride * stamp->height };
      g_queue_push_head (&cache->recent, entry);
      g_hash_table_insert (cache->entries, &entry->key, cache->recent.head);
      cache->bytes += entry->bytes;
      while (cache->bytes > cache->max_bytes && cache->recent.length > 1)
        {
          Entry *old = g_queue_pop_tail (&cache->recent);

          g_hash_table_remove (cache->entries, &old->key);
          cache->bytes -= old->bytes;
          entry_free (old);
        }
    }
  g_mutex_unlock (&cache->lock);
}

gsize
bl_figure_cache_bytes (BlFigureCache *cache)
{
  gsize bytes;

  g_mutex_lock (&cache->lock);
  bytes = cache->bytes;
  g_mutex_unlock (&cache->lock);
  return bytes;
}

const BlTexture *
bl_figure_cache_texture (BlFigureCache *cache, BlSurfaceKind kind)
{
  g_mutex_lock (&cache->lock);
  if (cache->textures[kind] == NULL)
    cache->textures[kind] = bl_texture_new (kind);
  g_mutex_unlock (&cache->lock);
  return cache->textures[kind];
}

static guint64
fold (guint64 hash, guint64 value)
{
  /* FNV-1a over eight bytes at a time. */
  return (hash ^ value) * G_GUINT64_CONSTANT (0x100000001b3) ^ hash >> 29;
}

static guint64
fold_color (guint64 hash, BlColor c)
{
  return fold (hash,
               (guint64) (c.r * 255) << 16 | (guint64) (c.g * 255) << 8 | (guint64) (c.b * 255));
}

guint64
bl_look_hash (const BlPlant *plant, const BlLook *k)
{
  guint64 h = G_GUINT64_CONSTANT (0xcbf29ce484222325);

  /* The whole record: a plant of the person's own may be changed. */
  h = fold (fold (h, plant->mark), (guint64) (k->cutout * 500));
  h = fold (h, (guint64) k->state);
  h = fold (h, (guint64) (k->height * 500) << 32 | (guint64) (k->spread * 500));
  h = fold (h, (guint64) (k->foliage_height * 500) << 32 | (guint64) (k->fullness * 60));
  h = fold (h, (guint64) (k->leaf * 60) << 32 | (guint64) (k->bloom * 60) << 16 | (guint64) (k->bud
      * 60));
  h = fold (h, (guint64) (k->snow * 60) << 32 | (guint64) (k->seed * 60) << 16
                 | (guint64) (k->fruit * 60));
  h = fold_color (fold_color (fold_color (h, k->leaf_color), k->flower_color), k->stem_color);
  return fold_color (fold_color (h, k->seed_color), k->fruit_color);
}

/* Sizes in steps of √2 (small ones of 2): a stamp is at most that much larger than it is
 * painted. */
static double
size_step (double detail, double most, int *step)
{
  *step = (int) ceil (2 * log2 (CLAMP (detail, 2, 4096)) - 1e-9);
  if (detail * most < 130)
    *step = (*step + 1) / 2 * 2;
  return pow (2, *step / 2.0);
}

/* The smaller a plant is seen, the fewer different ones it takes. */
static guint64
variant_of (guint64 seed, double px)
{
  return seed % (px < 50 ? 2 : px < 110 ? 3 : px < 220 ? 6 : BL_SEED_VARIANTS);
}

static guint64
light_hash (const BlFigureLight *l)
{
  guint64 sun = (guint64) ((l->sun_x + 1) * 100), exposure = (guint64) (l->exposure * 200);
  guint64 red = (guint64) (l->tint.r * 63), blue = (guint64) (l->tint.b * 63);

  return sun << 32 | exposure << 16 | red << 8 | blue;
}

typedef struct
{
  const BlPlant *plant;
  const BlLook *look;
  guint64 seed;
  const BlFigureLight *light;
  double radius;
  gboolean symbol, monochrome;
  double haze; /* 0..1, laid over what is drawn */
  BlColor haze_color;
  double finer; /* drawn with the marks of so many times the size; 0 = its own */
} Subject;

static void
draw_subject (cairo_t *cr, const Subject *s, double detail)
{
  if (s->symbol)
    bl_symbol_draw (cr, s->plant, s->look, s->radius, s->seed, detail, s->monochrome);
  else
    bl_figure_draw (cr, s->plant, s->look, s->seed, s->light, detail * (s->finer > 0 ? s->finer : 1));
}

/* The stamp under this key, drawn when it is not there yet. */
static BlStamp *
fetch (BlPainting *p, const Subject *s, guint64 key, BlRect box, double detail)
{
  BlStamp *stamp = bl_figure_cache_lookup (p->cache, key);
  cairo_surface_t *surface;
  cairo_t *cr;

  if (stamp != NULL)
    return stamp;
  stamp = bl_stamp_new (box, detail);
  surface = bl_stamp_surface (stamp);
  cr = cairo_create (surface);
  cairo_save (cr);
  cairo_translate (cr, stamp->ox, stamp->oy);
  cairo_scale (cr, detail, detail);
  draw_subject (cr, s, detail);
  cairo_restore (cr);
  if (s->haze > 0)
    {
      cairo_set_operator (cr, CAIRO_OPERATOR_ATOP);
      cairo_set_source_rgba (cr, s->haze_color.r, s->haze_color.g, s->haze_color.b, s->haze);
      cairo_paint (cr);
    }
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);
  bl_figure_cache_insert (p->cache, key, stamp);
  return stamp;
}

/* A slightly leaning stamp, in level strips each moved by less than a pixel: the fast way of
 * scaling
 * knows no slant. @m takes stamp pixels to device pixels. */
static gboolean
paint_leaning (cairo_t *cr, const BlStamp *stamp, cairo_surface_t *surface, const cairo_matrix_t *m)
{
  double slant = m->xy / m->yy, y0 = m->y0, y1 = m->y0 + m->yy * stamp->height, rows;

  if (m->yy <= 0 || fabs (slant) > 0.08 || fabs (m->yx / m->xx) > 0.08)
    return FALSE;
  rows = fabs (slant) > 1e-6 ? CLAMP (floor (0.8 / fabs (slant)), 4, 4096) : 4096;
  for (int i = 0; floor (y0) + i * rows < y1; i++)
    {
      double y = floor (y0) + i * rows, middle = y + rows / 2 - y0;

      cairo_identity_matrix (cr);
      cairo_rectangle (cr, floor (m->x0 - 4096), y, 16384, MIN (rows, ceil (y1) - y));
      cairo_save (cr);
      cairo_clip (cr);
      cairo_translate (cr, m->x0 + slant * middle, y0);
      cairo_scale (cr, m->xx, m->yy);
      cairo_set_source_surface (cr, surface, 0, 0);
      cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
      cairo_paint (cr);
      cairo_restore (cr);
    }
  return TRUE;
}

static void
paint_at (BlPainting *p, const Subject *s, guint64 key, BlRect box, double stamped, int step)
{
  g_autoptr (BlStamp) stamp = fetch (p, s, fold (key, (guint64) step), box, stamped);
  cairo_surface_t *surface;

  surface = bl_stamp_surface (stamp);
  cairo_save (p->cr);
  if (s->symbol)
    {
      /* All symbols of a plan have one scale: painted as they are, on whole pixels. */
      double x = 0, y = 0;

      cairo_user_to_device (p->cr, &x, &y);
      cairo_identity_matrix (p->cr);
      cairo_set_source_surface (p->cr, surface, round (x) - stamp->ox, round (y) - stamp->oy);
    }
  else
    {
      cairo_matrix_t m;

      cairo_scale (p->cr, 1 / stamp->detail, 1 / stamp->detail);
      cairo_translate (p->cr, -stamp->ox, -stamp->oy);
      cairo_get_matrix (p->cr, &m);
      if (paint_leaning (p->cr, stamp, surface, &m))
        {
          cairo_restore (p->cr);
          cairo_surface_destroy (surface);
          return;
        }
      cairo_set_source_surface (p->cr, surface, 0, 0);
      cairo_pattern_set_filter (cairo_get_source (p->cr), CAIRO_FILTER_BILINEAR);
    }
  cairo_paint (p->cr);
  cairo_restore (p->cr);
  cairo_surface_destroy (surface);
}

static void
paint_stamp (BlPainting *p, const Subject *s, guint64 key, BlRect box, double detail)
{
  double most = MAX (box.x1 - box.x0, box.y1 - box.y0), stamped = detail;
  int step = (int) (detail * 64);

  if (!s->symbol)
    stamped = size_step (detail, most, &step);
  /* A figure larger than any screen is drawn at once, not kept. */
  if (most * stamped > 2600)
    draw_subject (p->cr, s, detail);
  else
    paint_at (p, s, key, box, stamped, step);
}

/* Vector output: each figure is recorded once; PDF and SVG then refer to it. */
#define VECTOR_UNIT 400.0

static void
paint_vector (BlPainting *p, const Subject *s, guint64 key, BlRect box, double detail)
{
  int step;
  double drawn = size_step (MIN (detail, 700), box.y1 - box.y0, &step);
  gboolean grouped = cairo_surface_get_type (cairo_get_target (p->cr)) == CAIRO_SURFACE_TYPE_PDF;
  cairo_surface_t *recorded;

  key = fold (key, (guint64) step / 2);
  recorded = g_hash_table_lookup (p->vectors, &key);
  if (recorded == NULL)
    {
      cairo_rectangle_t extent = { box.x0 * VECTOR_UNIT, box.y0 * VECTOR_UNIT,
                                   (box.x1 - box.x0) * VECTOR_UNIT,
                                   (box.y1 - box.y0) * VECTOR_UNIT };
      cairo_t *cr;

      recorded = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, &extent);
      cr = cairo_create (recorded);
      cairo_scale (cr, VECTOR_UNIT, VECTOR_UNIT);
      draw_subject (cr, s, drawn);
      cairo_destroy (cr);
      g_hash_table_insert (p->vectors, g_memdup2 (&key, sizeof key), recorded);
    }
  cairo_save (p->cr);
  /* Cairo 1.16 lists a recording in a PDF page's resources once for each time it is shown, and
   * readers warn of the doubled name: in a group of its own each showing has its own list. */
  if (grouped)
    {
      cairo_rectangle (p->cr, box.x0, box.y0, box.x1 - box.x0, box.y1 - box.y0);
      cairo_clip (p->cr);
      cairo_push_group (p->cr);
    }
  cairo_scale (p->cr, 1 / VECTOR_UNIT, 1 / VECTOR_UNIT);
  cairo_set_source_surface (p->cr, recorded, 0, 0);
  cairo_paint (p->cr);
  if (grouped)
    {
      cairo_pop_group_to_source (p->cr);
      cairo_paint (p->cr);
    }
  cairo_restore (p->cr);
}

/* A figure as it is seen from this far away. */
static Subject
figure_subject (const BlPainting *p, const BlPlant *plant, const BlLook *look, guint64 seed,
                double haze)
{
  int veil = (int) (haze * 40 + 0.5);

  return (Subject) { .plant = plant, .look = look, .seed = seed,
                     .light = &p->scene->light->figure, .haze = veil / 40.0,
                     .haze_color = p->scene->light->haze };
}

static guint64
kind_of (const Subject *s)
{
  return fold (fold (bl_look_hash (s->plant, s->look), light_hash (s->light)),
               (guint64) (s->haze * 40 + 0.5));
}

static guint64
stand_in_key (const Subject *s)
{
  return fold (kind_of (s), G_GUINT64_CONSTANT (0x57a9d19));
}

/* The first of a kind, drawn as it is seen at full size but in the few pixels of a quick painting, and
 * in half of the sizes only. */
static int
make_stand_in (Subject *s, const BlLook *rough, double detail)
{
  s->seed = 0, s->look = rough, s->finer = BL_QUICK;
  return (int) ceil (log2 (CLAMP (detail, 2, 4096)) - 1e-9) * 2;
}

/* What stands in for a figure until its own stamp is drawn: the first of its kind at the nearest
 * half month. FALSE when its own is ready, or larger than any stamp. */
static gboolean
paint_quick (BlPainting *p, const Subject *s, const BlLook *rough, guint64 key, double detail)
{
  BlRect box = bl_figure_box (s->plant, s->look);
  double most = MAX (box.x1 - box.x0, box.y1 - box.y0);
  g_autoptr (BlStamp) ready = NULL;
  Subject first = *s;
  int step;

  size_step (detail, most, &step);
  ready = bl_figure_cache_lookup (p->cache, fold (key, (guint64) step));
  if (ready != NULL || most * detail > 2600)
    return FALSE;
  step = make_stand_in (&first, rough, detail);
  paint_at (p, &first, stand_in_key (&first), bl_figure_box (s->plant, rough),
            pow (2, step / 2.0), step);
  return TRUE;
}

void
bl_paint_foresee (BlPainting *p, const BlPlant *plant, const BlLook *look, double detail,
                  double haze)
{
  Subject s = figure_subject (p, plant, look, 0, haze);
  BlRect box = bl_figure_box (plant, look);
  int step = make_stand_in (&s, look, detail);

  if (look->height > 0 && MAX (box.x1 - box.x0, box.y1 - box.y0) * detail <= 2600)
    bl_stamp_unref (fetch (p, &s, fold (stand_in_key (&s), (guint64) step), box,
                           pow (2, step / 2.0)));
}

void
bl_paint_figure (BlPainting *p, const BlPlant *plant, const BlLook *look, const BlLook *rough,
                 guint64 seed, double detail, double haze)
{
  guint64 variant = variant_of (seed, look->height * detail);
  Subject s = figure_subject (p, plant, look, variant, haze);
  guint64 key = fold (kind_of (&s), variant);

  if (p->options->quick && !p->options->vector && paint_quick (p, &s, rough, key, detail))
    return;
  (p->options->vector ? paint_vector : paint_stamp) (p, &s, key, bl_figure_box (plant, look),
                                                     detail);
}

void
bl_paint_symbol (BlPainting *p, const BlPlant *plant, const BlLook *look, double radius,
                 guint64 seed, double detail)
{
  guint64 variant = seed % BL_SEED_VARIANTS;
  gboolean mono = (p->scene->options & BL_SCENE_MONOCHROME) != 0;
  Subject s = { .plant = plant, .look = look, .seed = variant, .radius = radius, .symbol = TRUE,
                .monochrome = mono };
  guint64 key = fold (fold (bl_look_hash (plant, look), variant + 64),
                      ((guint64) (radius * 1000) << 1 | mono) ^ p->scene->symbols << 20);
  double r = radius * 1.08;

  (p->options->vector ? paint_vector : paint_stamp) (p, &s, key, (BlRect) { -r, -r, r, r }, detail);
}

/* A soft round blot, 1 at its middle, in a square of 64 pixels: stretched to make shadows. */
BlStamp *
bl_paint_blot (BlPainting *p, double core)
{
  guint64 key = fold (G_GUINT64_CONSTANT (0x5ad0), (guint64) (core * 100));
  BlStamp *stamp = bl_figure_cache_lookup (p->cache, key);

  if (stamp != NULL)
    return stamp;
  stamp = bl_stamp_new ((BlRect) { -31, -31, 31, 31 }, 1);
  for (int y = 0; y < stamp->height; y++)
    for (int x = 0; x < stamp->width; x++)
      {
        double r = hypot (x + 0.5 - stamp->ox, y + 0.5 - stamp->oy) / 31,
          t = CLAMP ((r - core * 0.6) / (1 - core * 0.6), 0, 1);
        double a = 1 - t * t * (3 - 2 * t);
        guint v = (guint) (a * 255);

        /* Near black with a little blue: the sky lights a shadow. */
        ((guint32 *) (void *) (stamp->data + (gsize) y * stamp->stride))[x] =
            v << 24 | (v * 14 / 255) << 16 | (v * 14 / 255) << 8 | (v * 20 / 255);
      }
  bl_figure_cache_insert (p->cache, key, stamp);
  return stamp;
}
