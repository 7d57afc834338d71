/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The painter: one scene, in order, on screen tiles, PNG, SVG and PDF alike. */
#include "config.h"

#include "base/error.h"
#include "draw/scene-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* The surface of one level, over its own pixels. */
static cairo_surface_t *
level_surface (const BlPixels *px)
{
  return cairo_image_surface_create_for_data (px->data, CAIRO_FORMAT_RGB24, px->width, px->height,
                                              px->stride);
}

static void
paint_jpeg (BlPainting *p)
{
  const BlImage *photo = p->scene->photo;
  cairo_surface_t *surface = level_surface (&photo->levels[0]);
  char *id = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, p->options->jpeg);

  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, g_bytes_get_data (p->options->jpeg,
      NULL),
                               g_bytes_get_size (p->options->jpeg),
                                 (cairo_destroy_func_t) g_bytes_unref,
                               g_bytes_ref (p->options->jpeg));
  cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_UNIQUE_ID, (guchar *) id, strlen (id),
                               g_free, id);
  cairo_save (p->cr);
  cairo_set_source_surface (p->cr, surface, 0, 0);
  cairo_paint (p->cr);
  cairo_restore (p->cr);
  cairo_surface_destroy (surface);
}

void
bl_paint_photo (BlPainting *p)
{
  const BlImage *photo = p->scene->photo;
  const BlPixels *px;
  cairo_surface_t *surface;
  double k = 1;

  if (photo == NULL)
    {
      cairo_set_source_rgb (p->cr, 0.93, 0.92, 0.89);
      cairo_paint (p->cr);
      return;
    }
  if (p->options->vector && p->options->jpeg != NULL)
    {
      paint_jpeg (p);
      return;
    }
  px = &photo->levels[0];
  for (int i = 1; i < photo->n_levels && p->scale * (1 << i) <= 1.0 + 1e-9; i++)
    px = &photo->levels[i], k = 1 << i;
  surface = level_surface (px);
  cairo_save (p->cr);
  cairo_rectangle (p->cr, p->clip.x0, p->clip.y0, p->clip.x1 - p->clip.x0, p->clip.y1 - p->clip.y0);
  cairo_clip (p->cr);
  cairo_scale (p->cr, (double) photo->width / px->width, (double) photo->height / px->height);
  cairo_set_source_surface (p->cr, surface, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (p->cr), p->scale * k > 0.999 &&
                            p->scale * k < 1.001 ? CAIRO_FILTER_NEAREST : CAIRO_FILTER_BILINEAR);
  cairo_pattern_set_extend (cairo_get_source (p->cr), CAIRO_EXTEND_PAD);
  cairo_paint (p->cr);
  cairo_restore (p->cr);
  cairo_surface_destroy (surface);
}

/* How a circle on the ground at @at lies on the photo: the affine of the ground about it. */
static gboolean
ground_frame (const BlScene *scene, BlPoint at, cairo_matrix_t *m)
{
  const BlCamera *camera = bl_model_camera (scene->model);
  BlPoint o, x, y;
  const double d = 0.1;

  if (!bl_camera_project (camera, at.x, at.y, 0, &o) || !bl_camera_project (camera, at.x + d, at.y,
      0, &x) ||
      !bl_camera_project (camera, at.x, at.y + d, 0, &y))
    return FALSE;
  cairo_matrix_init (m, (x.x - o.x) / d, (x.y - o.y) / d, (y.x - o.x) / d, (y.y - o.y) / d, o.x,
                     o.y);
  return fabs (m->xx * m->yy - m->xy * m->yx) > 1e-6;
}

/* One ellipse of shadow, about (@x, @y) in the current frame. */
typedef struct
{
  double x, y, rx, ry, angle, alpha, core;
} Blot;

static void
paint_gradient (cairo_t *cr, const Blot *b)
{
  cairo_pattern_t *soft = cairo_pattern_create_radial (0, 0, 0, 0, 0, 1);

  for (int i = 0; i <= 8; i++)
    {
      double r = i / 8.0, t = CLAMP ((r - b->core * 0.6) / (1 - b->core * 0.6), 0, 1);

      cairo_pattern_add_color_stop_rgba (soft, r, 0.055, 0.055, 0.078,
                                         b->alpha * (1 - t * t * (3 - 2 * t)));
    }
  cairo_set_source (cr, soft);
  cairo_rectangle (cr, -1, -1, 2, 2);
  cairo_fill (cr);
  cairo_pattern_destroy (soft);
}

static void
paint_blot (BlPainting *p, const Blot *b)
{
  cairo_t *cr = p->cr;
  cairo_matrix_t m;

  cairo_save (cr);
  cairo_translate (cr, b->x, b->y);
  cairo_rotate (cr, b->angle);
  cairo_scale (cr, b->rx, b->ry);
  if (p->options->vector)
    paint_gradient (cr, b);
  else
    {
      g_autoptr (BlStamp) stamp = bl_paint_blot (p, b->core);
      cairo_surface_t *surface = bl_stamp_surface (stamp);

      /* A circle of the ground is an all but level ellipse in the picture: painted level, which is
       * several times faster than turned. */
      cairo_get_matrix (cr, &m);
      cairo_matrix_init (&m, hypot (m.xx, m.xy), 0, 0, hypot (m.yx, m.yy), m.x0, m.y0);
      cairo_set_matrix (cr, &m);
      cairo_scale (cr, 1 / 31.0, 1 / 31.0);
      cairo_set_source_surface (cr, surface, -stamp->ox, -stamp->oy);
      cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
      cairo_paint_with_alpha (cr, b->alpha);
      cairo_surface_destroy (surface);
    }
  cairo_restore (cr);
}

static gboolean
has_trunk (BlForm form)
{
  return form == BL_FORM_ROUND_TREE || form == BL_FORM_MULTISTEM_TREE;
}

/* A contact shadow under the plant, and a longer soft one away from the sun. */
static void
paint_shadow (BlPainting *p, const BlPlaced *placed, const BlLook *look, BlPoint at,
              double px_per_metre)
{
  const BlCamera *camera = bl_model_camera (p->scene->model);
  double r = look->spread / 2, body = 0.35 + 0.65 * look->fullness * MAX (look->leaf,
      look->state == BL_STATE_BARE ? 0.25 : 0.6);
  double snow = bl_scene_has_snow (p->scene) ? 0.45 : 1, cast = MIN (look->height * 0.55, 3.5);
  double shade = p->scene->light->shade * body * snow;
  double away = (p->scene->light->figure.sun_x > 0 ? -1 : 1), hx, hy, x, y;
  gboolean tree = has_trunk (placed->plant->form);
  double foot = tree ? r * 0.24 : r * 1.26;
  cairo_matrix_t m;

  if (r <= 0 || !ground_frame (p->scene, at, &m))
    return;
  /* Sideways in the picture, a little towards the viewer. */
  hx = cos (camera->heading) * away - sin (camera->heading) * 0.35,
    hy = -sin (camera->heading) * away - cos (camera->heading) * 0.35;
  x = hx * cast * (tree ? 0.9 : 0.5), y = hy * cast * (tree ? 0.9 : 0.5);
  cairo_save (p->cr);
  cairo_transform (p->cr, &m);
  if (r * px_per_metre * p->scale > 3)
    paint_blot (p, &(Blot) { x, y, r * (tree ? 1.05 : 0.9) + cast * 0.42, r * (tree ? 0.9 : 0.85),
                             atan2 (hy, hx),
                             MIN (0.6, shade * 0.95), 0.3 });
  paint_blot (p, &(Blot) { 0.12 * hx * foot, 0.12 * hy * foot, foot, foot, 0, MIN (0.8, shade * 1.8),
                        0.62 });
  cairo_restore (p->cr);
}

/* Distance takes colour away. */
double
bl_haze_at (double depth)
{
  return CLAMP ((depth - 9) / 90, 0, 0.30);
}

static void
paint_plant (BlPainting *p, const BlSceneItem *item)
{
  const BlPlaced *placed = &g_array_index (p->scene->layout->placed, BlPlaced, item->placed);
  const BlLook *look = &p->scene->looks[item->placed];
  double u = bl_norm (item->up), k = item->scale * p->scale;
  cairo_matrix_t m;

  if (u <= 0 || look->height <= 0)
    return;
  cairo_matrix_init (&m, -item->up.y / u * item->scale, item->up.x / u * item->scale, -item->up.x,
                     -item->up.y, item->base.x,
                     item->base.y);
  cairo_save (p->cr);
  cairo_transform (p->cr, &m);
  bl_paint_figure (p, placed->plant, look, &p->scene->rough[item->placed], placed->seed, k,
                   bl_haze_at (item->depth));
  cairo_restore (p->cr);
}

/* The photo once more, inside an outline that stands before the plants. */
static void
paint_front (BlPainting *p, const BlSceneItem *item)
{
  const BlFeature *feature = bl_model_feature (p->scene->model, item->id);
  g_autoptr (GArray) ring = NULL;

  if (feature == NULL || feature->outline == NULL || feature->source != BL_FROM_PHOTO ||
      feature->outline->points->len < 3)
    return;
  ring = bl_outline_flatten (feature->outline, 0.3);
  cairo_save (p->cr);
  cairo_new_path (p->cr);
  for (guint i = 0; i < ring->len; i++)
    cairo_line_to (p->cr, bl_points_at (ring, i).x, bl_points_at (ring, i).y);
  cairo_close_path (p->cr);
  cairo_clip (p->cr);
  bl_paint_photo (p);
  cairo_restore (p->cr);
}

static void
paint_item (BlPainting *p, const BlSceneItem *item)
{
  const BlBed *bed;

  if (item->kind == BL_ITEM_PLANT || item->kind == BL_ITEM_SHADOW)
    {
      const BlPlaced *placed = &g_array_index (p->scene->layout->placed, BlPlaced, item->placed);

      if (p->options->skip_planting != 0 && item->id == p->options->skip_planting)
        return;
      if (item->kind == BL_ITEM_PLANT)
        paint_plant (p, item);
      else
        paint_shadow (p, placed, &p->scene->looks[item->placed], placed->at, item->scale);
      return;
    }
  if (item->kind == BL_ITEM_FRONT)
    paint_front (p, item);
  bed = item->kind == BL_ITEM_GROUND ? bl_model_bed (p->scene->model, item->id) : NULL;
  if (bed != NULL)
    {
      bl_ground_paint (p, bed);
      bl_edging_paint (p, bed);
    }
}

static const BlPaintOptions no_options;

/* Recorded figures live as long as what they are drawn on: all pages of a document share them, and
 * cairo need not copy them when the painting ends. */
static const cairo_user_data_key_t vectors_key;

/* Finished first: what cairo keeps of it for its own caches is then empty. */
static void
recorded_free (gpointer recorded)
{
  cairo_surface_finish (recorded);
  cairo_surface_destroy (recorded);
}

static GHashTable *
vectors_of (cairo_surface_t *target)
{
  GHashTable *vectors = cairo_surface_get_user_data (target, &vectors_key);

  if (vectors == NULL)
    {
      vectors = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, recorded_free);
      cairo_surface_set_user_data (target, &vectors_key, vectors,
                                   (cairo_destroy_func_t) g_hash_table_unref);
    }
  return vectors;
}

void
bl_paint_forget_vectors (cairo_surface_t *target)
{
  cairo_surface_set_user_data (target, &vectors_key, NULL, NULL);
}

static void
begin (BlPainting *p, const BlScene *scene, cairo_t *cr, BlRect clip, double device_scale,
       const BlPaintOptions *options)
{
  *p = (BlPainting) { .scene = scene, .cr = cr, .clip = clip, .scale = device_scale,
                      .options = options ? options : &no_options };
  p->cache = p->options->cache ? p->options->cache : bl_figure_cache_new (96 * 1024 * 1024);
  p->vectors = p->options->vector ? vectors_of (cairo_get_target (cr)) : NULL;
}

static void
end (BlPainting *p)
{
  if (p->cache != p->options->cache)
    bl_figure_cache_free (p->cache);
}

/* The items of the kinds from @first to @last. */
static void
paint_kinds (BlPainting *p, const GArray *items, BlItemKind first, BlItemKind last,
             GCancellable *cancellable)
{
  for (guint i = 0; i < items->len && !g_cancellable_is_cancelled (cancellable); i++)
    {
      const BlSceneItem *item
          = &g_array_index (p->scene->items, BlSceneItem, g_array_index (items, guint, i));

      if (item->kind >= first && item->kind <= last)
        paint_item (p, item);
    }
}

/* Plants and their shadows on a layer of half the pixels each way, laid over the photo and the
 * ground: a quarter of the work, softer for the moment until the picture is painted again at rest.
 * The layer's pixels lie on one lattice for all tiles and reach over the clip, so that neighbours
 * agree. */
static void
paint_plants_quickly (BlPainting *p, const GArray *items, GCancellable *cancellable)
{
  double half = p->scale / BL_QUICK;
  int x0 = (int) floor (p->clip.x0 * half) - 2, y0 = (int) floor (p->clip.y0 * half) - 2;
  int x1 = (int) ceil (p->clip.x1 * half) + 2, y1 = (int) ceil (p->clip.y1 * half) + 2;
  cairo_surface_t *layer = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, x1 - x0, y1 - y0);
  BlPainting small = *p;

  small.cr = cairo_create (layer);
  small.scale = half;
  cairo_translate (small.cr, -x0, -y0);
  cairo_scale (small.cr, half, half);
  paint_kinds (&small, items, BL_ITEM_SHADOW, BL_ITEM_PLANT, cancellable);
  cairo_destroy (small.cr);
  cairo_save (p->cr);
  cairo_scale (p->cr, 1 / half, 1 / half);
  cairo_set_source_surface (p->cr, layer, x0, y0);
  cairo_pattern_set_filter (cairo_get_source (p->cr), CAIRO_FILTER_BILINEAR);
  cairo_paint (p->cr);
  cairo_restore (p->cr);
  cairo_surface_destroy (layer);
}

gboolean
bl_scene_paint (const BlScene *scene, cairo_t *cr, BlRect clip, double device_scale,
                const BlPaintOptions *options,
                GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) items = NULL;
  BlPainting p;

  g_return_val_if_fail (scene != NULL && cr != NULL && device_scale > 0, FALSE);
  begin (&p, scene, cr, clip, device_scale, options);
  items = bl_scene_items_in (scene, clip);
  cairo_save (cr);
  if (scene->view == BL_VIEW_PLAN)
    bl_paint_plan (&p, items, cancellable);
  else
    {
      bl_paint_photo (&p);
      paint_kinds (&p, items, BL_ITEM_GROUND, BL_ITEM_FEATURE, cancellable);
      if (p.options->quick && !p.options->vector)
        paint_plants_quickly (&p, items, cancellable);
      else
        paint_kinds (&p, items, BL_ITEM_SHADOW, BL_ITEM_PLANT, cancellable);
      paint_kinds (&p, items, BL_ITEM_FRONT, BL_ITEM_FRONT, cancellable);
    }
  cairo_restore (cr);
  end (&p);
  if (g_cancellable_is_cancelled (cancellable))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_CANCELLED,
                   _("the drawing was stopped before it was complete"));
      return FALSE;
    }
  return TRUE;
}

void
bl_scene_foresee (const BlScene *scene, BlRect clip, double device_scale, double month,
                  BlFigureCache *cache, GCancellable *cancellable)
{
  BlPaintOptions options = { .quick = TRUE, .cache = cache };
  BlMoment moment = { bl_scene_rough_month (month), scene->moment.years };
  g_autoptr (GArray) items = bl_scene_items_in (scene, clip);
  g_autofree BlLook *looks = NULL;
  BlPainting p;

  g_return_if_fail (cache != NULL);
  if (scene->view == BL_VIEW_PLAN)
    return;
  looks = bl_scene_looks_at (scene, moment);
  begin (&p, scene, NULL, clip, device_scale, &options);
  for (guint i = 0; i < items->len && !g_cancellable_is_cancelled (cancellable); i++)
    {
      const BlSceneItem *item
          = &g_array_index (scene->items, BlSceneItem, g_array_index (items, guint, i));

      if (item->kind == BL_ITEM_PLANT)
        bl_paint_foresee (&p,
                          g_array_index (scene->layout->placed, BlPlaced, item->placed).plant,
                          &looks[item->placed], item->scale * device_scale / BL_QUICK,
                          bl_haze_at (item->depth));
    }
  end (&p);
}

static gboolean
moved_item (const BlScene *scene, const BlSceneItem *from, BlPoint by, BlSceneItem *item)
{
  const BlPlaced *placed = &g_array_index (scene->layout->placed, BlPlaced, from->placed);
  const BlCamera *camera = bl_model_camera (scene->model);
  BlPoint at = bl_add (placed->at, by), top;
  double h = MAX (scene->looks[from->placed].height, 0.05), mpp;

  *item = *from;
  if (!bl_camera_project (camera, at.x, at.y, 0, &item->base) || !bl_camera_project (camera, at.x,
      at.y, h, &top))
    return FALSE;
  mpp = bl_camera_metres_per_pixel (camera, at);
  if (!(mpp > 0))
    return FALSE;
  item->scale = 1 / mpp;
  item->up = bl_mul (bl_sub (top, item->base), 1 / h);
  item->box = (BlRect) { item->base.x - 8000, item->base.y - 8000, item->base.x + 8000,
                         item->base.y + 8000 };
  item->depth = (at.x - camera->x) * sin (camera->heading) + (at.y - camera->y)
    * cos (camera->heading);
  return item->depth > 0.45;
}

void
bl_scene_paint_planting (const BlScene *scene, cairo_t *cr, gint64 planting_id, BlPoint by,
                         double device_scale,
                         const BlPaintOptions *options)
{
  BlPainting p;

  g_return_if_fail (scene != NULL && cr != NULL);
  begin (&p, scene, cr, scene->extent, device_scale, options);
  cairo_save (cr);
  if (scene->view == BL_VIEW_PLAN)
    cairo_translate (cr, by.x, -by.y);
  for (guint i = 0; i < scene->items->len; i++)
    {
      const BlSceneItem *item = &g_array_index (scene->items, BlSceneItem, i);
      const BlPlaced *placed;
      BlSceneItem moved;

      if ((item->kind != BL_ITEM_PLANT && item->kind != BL_ITEM_SHADOW) || item->id != planting_id)
        continue;
      placed = &g_array_index (scene->layout->placed, BlPlaced, item->placed);
      if (scene->view == BL_VIEW_PLAN)
        {
          cairo_save (cr);
          cairo_translate (cr, item->base.x, -item->base.y);
          bl_paint_symbol (&p, placed->plant, &scene->looks[item->placed], item->depth,
                           placed->seed, device_scale);
          cairo_restore (cr);
        }
      else if (moved_item (scene, item, by, &moved))
        {
          if (item->kind == BL_ITEM_SHADOW)
            paint_shadow (&p, placed, &scene->looks[item->placed], bl_add (placed->at, by),
                          moved.scale);
          else
            paint_plant (&p, &moved);
        }
    }
  cairo_restore (cr);
  end (&p);
}
