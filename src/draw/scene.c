/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Building a scene: every bed, plant and outline of an alternative at a moment, in painting
 * order. */
#include "draw/key.h"
#include "draw/scene-private.h"
#include "draw/symbol.h"

/* A plant nearer to the lens than this is not drawn: it would fill the picture. */
#define NEAREST 0.45

typedef struct
{
  BlScene *scene;
  const BlCamera *camera;
  BlMoment moment; /* of the looks */
} Build;

static gboolean
snow_lies (const BlScene *scene, double month)
{
  double northern = bl_season_northern_month (&scene->model->site, month);

  return (scene->options & BL_SCENE_SNOW) && scene->view == BL_VIEW_PHOTO
         && (northern >= 12 || northern < 3);
}

gboolean
bl_scene_has_snow (const BlScene *scene)
{
  return snow_lies (scene, scene->moment.month);
}

static BlLook
look_of (const Build *b, const BlPlaced *placed, GHashTable *known)
{
  /* All plants of one kind and size look alike at a moment. */
  g_autofree char *key = g_strdup_printf ("%p %s", (void *) placed->plant,
                                          placed->size ? placed->size : "");
  BlLook *look = g_hash_table_lookup (known, key);

  if (look == NULL)
    {
      look = g_new (BlLook, 1);
      *look = bl_season_look (&b->scene->model->site, placed->plant, placed->size, b->moment);
      look->snow = snow_lies (b->scene, b->moment.month);
      if (b->scene->view == BL_VIEW_PLAN)
        b->scene->symbols = b->scene->symbols * 31 + bl_symbol_own_mark (placed->plant);
      g_hash_table_insert (known, g_steal_pointer (&key), look);
    }
  return *look;
}

BlLook *
bl_scene_looks_at (const BlScene *scene, BlMoment moment)
{
  g_autoptr (GHashTable) known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  const GArray *placed = scene->layout->placed;
  BlLook *looks = g_new0 (BlLook, MAX (1, placed->len));
  Build b = { .scene = (BlScene *) scene, .moment = moment };

  for (guint i = 0; i < placed->len; i++)
    looks[i] = look_of (&b, &g_array_index (placed, BlPlaced, i), known);
  return looks;
}

double
bl_scene_rough_month (double month)
{
  return CLAMP (round (month * 2) / 2, 1, 12.5);
}

static void
add (Build *b, const BlSceneItem *item)
{
  if (b->scene->view == BL_VIEW_PHOTO && !bl_rect_meets (item->box, b->scene->extent))
    return;
  g_array_append_vals (b->scene->items, item, 1);
}

/* Bounds on the photo of a ring on the ground, of what of it lies before the camera. */
static BlRect
ring_bounds (const Build *b, const BlPoints *ring, double height)
{
  g_autoptr (GArray) clipped = NULL;
  BlRect r = BL_RECT_EMPTY;

  if (b->scene->view == BL_VIEW_PLAN)
    return bl_rect_of (ring);
  clipped = bl_camera_clip_ground (b->camera, ring, NEAREST);
  for (guint i = 0; i < clipped->len; i++)
    for (int k = 0; k < 2; k++)
      {
        BlPoint at = bl_points_at (clipped, i), px;

        if (bl_camera_project (b->camera, at.x, at.y, k * height, &px))
          r = bl_rect_union (r, (BlRect) { px.x, px.y, px.x, px.y });
      }
  return r;
}

static void
add_beds (Build *b)
{
  const BlModel *model = b->scene->model;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);
      BlSceneItem item = { .kind = BL_ITEM_GROUND, .id = bed->id, .depth = INFINITY, .scale = 1 };

      if (bed->ring == NULL || bed->ring->len < 3)
        continue;
      item.box = ring_bounds (b, bed->ring, 0.15);
      if (bl_rect_is_empty (item.box))
        continue;
      item.box = bl_rect_grow (item.box, b->scene->view == BL_VIEW_PLAN ? 0.35 : 30);
      item.base = bl_polygon_centroid (bed->ring);
      add (b, &item);
    }
}

static void
add_features (Build *b, BlFeatureKind only, BlItemKind kind)
{
  const BlModel *model = b->scene->model;

  for (guint i = 0; i < model->features->len; i++)
    {
      const BlFeature *feature = g_ptr_array_index (model->features, i);
      BlSceneItem item = { .kind = kind, .id = feature->id, .depth = -1, .scale = 1 };

      if ((feature->kind == BL_FEATURE_IN_FRONT) != (only == BL_FEATURE_IN_FRONT))
        continue;
      if (kind == BL_ITEM_FRONT && feature->source == BL_FROM_PHOTO && feature->outline != NULL)
        item.box = bl_rect_grow (bl_rect_of (feature->outline->points), 40);
      else if (feature->ground != NULL && feature->ground->points->len > 0 &&
               b->scene->view == BL_VIEW_PLAN)
        item.box = bl_rect_grow (bl_rect_of (feature->ground->points), 1.0 + feature->tolerance);
      else
        continue;
      add (b, &item);
    }
}

static int
far_first (gconstpointer a, gconstpointer c)
{
  const BlSceneItem *p = a, *q = c;

  if (p->depth != q->depth)
    return p->depth > q->depth ? -1 : 1;
  return p->placed < q->placed ? -1 : p->placed > q->placed;
}

/* The foot, the scale and the upright of a plant on the photo. */
static gboolean
stand (const BlCamera *camera, BlPoint at, double height, BlSceneItem *item)
{
  double dx = at.x - camera->x, dy = at.y - camera->y, h = MAX (height, 0.05), mpp;
  BlPoint top;

  item->depth = dx * sin (camera->heading) + dy * cos (camera->heading);
  if (item->depth < NEAREST || !bl_camera_project (camera, at.x, at.y, 0, &item->base) ||
      !bl_camera_project (camera, at.x, at.y, h, &top))
    return FALSE;
  mpp = bl_camera_metres_per_pixel (camera, at);
  if (!(mpp > 0) || !isfinite (mpp))
    return FALSE;
  item->scale = 1 / mpp;
  item->up = bl_mul (bl_sub (top, item->base), 1 / h);
  return TRUE;
}

static BlRect
figure_bounds (const BlPlant *plant, const BlLook *look, const BlSceneItem *item)
{
  BlRect box = bl_figure_box (plant, look), r = BL_RECT_EMPTY;
  double u = bl_norm (item->up);
  BlPoint across = u > 0 ? BL_POINT (-item->up.y / u * item->scale, item->up.x / u * item->scale)
    : BL_POINT (item->scale, 0);

  for (int k = 0; k < 4; k++)
    {
      double x = k & 1 ? box.x1 : box.x0, y = k & 2 ? box.y1 : box.y0;
      BlPoint p = bl_add (item->base, bl_add (bl_mul (across, x), bl_mul (item->up, -y)));

      r = bl_rect_union (r, (BlRect) { p.x, p.y, p.x, p.y });
    }
  return bl_rect_grow (r, 1);
}

static void
add_plants_photo (Build *b)
{
  BlScene *s = b->scene;
  g_autoptr (GArray) plants = g_array_new (FALSE, TRUE, sizeof (BlSceneItem));

  for (guint i = 0; i < s->layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (s->layout->placed, BlPlaced, i);
      BlSceneItem item = { .kind = BL_ITEM_PLANT, .placed = i, .id = placed->planting_id,
                           .state = s->looks[i].state };

      if (!stand (b->camera, placed->at, s->looks[i].height, &item))
        continue;
      item.box = figure_bounds (placed->plant, &s->looks[i], &item);
      g_array_append_val (plants, item);
    }
  g_array_sort (plants, far_first);
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < plants->len; i++)
      {
        BlSceneItem item = g_array_index (plants, BlSceneItem, i);
        double w = s->looks[item.placed].spread * item.scale;

        if (s->looks[item.placed].height < 0.004)
          continue;
        if (pass == 0)
          {
            double reach = w * 1.4 + 0.9 * s->looks[item.placed].height * item.scale;

            item.kind = BL_ITEM_SHADOW;
            item.box = (BlRect) { item.base.x - reach, item.base.y - reach * 0.6,
                                  item.base.x + reach, item.base.y + reach * 0.6 };
          }
        add (b, &item);
      }
}

static int
broad_first (gconstpointer a, gconstpointer c)
{
  const BlSceneItem *p = a, *q = c;

  if (p->scale != q->scale)
    return p->scale < q->scale ? -1 : 1;
  return p->depth != q->depth ? (p->depth < q->depth ? -1 : 1) : (p->placed < q->placed ? -1 : 1);
}

/* From above the tall stand over the low: painted by height. The size is that of the age, whatever
 * the season; colours tell the season. */
static void
add_plants_plan (Build *b)
{
  BlScene *s = b->scene;
  g_autoptr (GArray) plants = g_array_new (FALSE, TRUE, sizeof (BlSceneItem));

  for (guint i = 0; i < s->layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (s->layout->placed, BlPlaced, i);
      BlSceneItem item = { .kind = BL_ITEM_PLANT, .placed = i, .id = placed->planting_id,
                           .state = s->looks[i].state,
                           .base = placed->at, .up = { 0, 1 } };
      double height, spread, r;

      bl_plant_size_at (placed->plant, placed->size, s->moment.years, &height, &spread);
      r = MAX (0.02, spread / 2);
      item.depth = r, item.scale = placed->plant->height;
      if (s->options & BL_SCENE_MATURE_SPREAD)
        r = MAX (r, placed->plant->spread / 2);
      item.box = bl_rect_grow ((BlRect) { placed->at.x - r, placed->at.y - r, placed->at.x + r,
                                          placed->at.y + r }, 0.03);
      g_array_append_val (plants, item);
    }
  g_array_sort (plants, broad_first);
  for (guint i = 0; i < plants->len; i++)
    {
      BlSceneItem *item = &g_array_index (plants, BlSceneItem, i);

      item->scale = 1;
      add (b, item);
    }
}

/* One label a planting: its key and, where it is more than one plant, how many. It stands by the
 * plant nearest to the middle. */
static void
add_labels (Build *b)
{
  BlScene *s = b->scene;
  const GArray *placed = s->layout->placed;

  for (guint i = 0; i < placed->len;)
    {
      const BlPlaced *first = &g_array_index (placed, BlPlaced, i);
      BlPoint middle = { 0, 0 };
      guint n = 0, best = i;
      g_autofree char *key = bl_layout_key (s->layout, first->plant->slug);
      BlSceneLabel label = { .planting_id = first->planting_id,
                             .radius = first->plant->spread / 2 };

      while (i + n < placed->len && g_array_index (placed, BlPlaced,
                                                   i + n).planting_id == first->planting_id)
        middle = bl_add (middle, g_array_index (placed, BlPlaced, i + n++).at);
      middle = bl_mul (middle, 1.0 / n);
      for (guint k = i; k < i + n; k++)
        if (bl_dist (g_array_index (placed, BlPlaced, k).at,
                     middle) < bl_dist (g_array_index (placed, BlPlaced, best).at, middle))
          best = k;
      label.at = g_array_index (placed, BlPlaced, best).at;
      if (n > 1)
        g_snprintf (label.text, sizeof label.text, "%s %u", key, n);
      else
        g_strlcpy (label.text, key, sizeof label.text);
      g_array_append_val (s->labels, label);
      i += n;
    }
}

/* All that is drawn on the plan, with a margin. */
static BlRect
drawn_extent (const BlScene *s)
{
  BlRect r = BL_RECT_EMPTY;

  for (guint i = 0; i < s->items->len; i++)
    r = bl_rect_union (r, g_array_index (s->items, BlSceneItem, i).box);
  return bl_rect_grow (r, 0.25);
}

BlScene *
bl_scene_new (BlView view, BlLayout *layout, BlImage *photo, BlMoment moment, guint options)
{
  BlScene *s = g_new0 (BlScene, 1);
  Build b = { .scene = s };

  g_return_val_if_fail (layout != NULL, NULL);
  g_atomic_ref_count_init (&s->refs);
  s->view = view, s->layout = bl_layout_ref (layout), s->model = bl_model_ref (layout->model);
  s->photo = view == BL_VIEW_PHOTO && photo != NULL ? bl_image_ref (photo) : NULL;
  s->moment = moment, s->options = options;
  s->items = g_array_new (FALSE, TRUE, sizeof (BlSceneItem));
  s->labels = g_array_new (FALSE, TRUE, sizeof (BlSceneLabel));
  s->looks = bl_scene_looks_at (s, moment);
  if (view == BL_VIEW_PHOTO)
    s->rough = bl_scene_looks_at (s, (BlMoment) { bl_scene_rough_month (moment.month),
                                                  moment.years });
  b.camera = bl_model_camera (s->model);
  s->light = bl_light_estimate (s->model, s->photo);
  if (view == BL_VIEW_PHOTO)
    {
      const BlPhotoInfo *told = &s->model->photo;
      int w = photo != NULL ? photo->width : told->width > 0 ? told->width : 1600;
      int h = photo != NULL ? photo->height : told->height > 0 ? told->height : 1200;

      s->extent = (BlRect) { 0, 0, w, h };
      if (b.camera != NULL && b.camera->solved)
        {
          add_beds (&b);
          if (!(options & BL_SCENE_BARE))
            add_plants_photo (&b);
        }
      add_features (&b, BL_FEATURE_IN_FRONT, BL_ITEM_FRONT);
    }
  else
    {
      s->extent = bl_rect_grow (bl_model_extent (s->model), 0.5);
      add_beds (&b);
      add_features (&b, BL_FEATURE_N, BL_ITEM_FEATURE);
      if (!(options & BL_SCENE_BARE))
        {
          add_plants_plan (&b);
          add_labels (&b);
        }
      if (s->items->len > 0)
        s->extent = drawn_extent (s);
    }
  s->grid = bl_scene_grid_new (s->items, s->extent);
  return s;
}

BlScene *
bl_scene_new_over (BlLayout *layout, BlImage *drawing, BlMoment moment, guint options)
{
  BlScene *s = bl_scene_new (BL_VIEW_PLAN, layout, NULL, moment, options);
  const BlCamera *camera = bl_model_camera_of (s->model, BL_FROM_DRAWING);
  BlPoint at[4];

  if (drawing == NULL || camera == NULL)
    return s;
  s->drawing = bl_image_ref (drawing);
  if (s->items->len == 0)
    s->extent = BL_RECT_EMPTY;
  bl_drawing_corners (camera, at);
  for (int i = 0; i < 4; i++)
    s->extent = bl_rect_union (s->extent, (BlRect) { at[i].x, at[i].y, at[i].x, at[i].y });
  bl_scene_grid_free (s->grid);
  s->grid = bl_scene_grid_new (s->items, s->extent);
  return s;
}

BlScene *
bl_scene_ref (BlScene *scene)
{
  g_atomic_ref_count_inc (&scene->refs);
  return scene;
}

void
bl_scene_unref (BlScene *scene)
{
  if (scene == NULL || !g_atomic_ref_count_dec (&scene->refs))
    return;
  g_clear_pointer (&scene->photo, bl_image_unref);
  g_clear_pointer (&scene->drawing, bl_image_unref);
  bl_scene_grid_free (scene->grid);
  g_free (scene->light);
  g_free (scene->looks);
  g_free (scene->rough);
  g_array_unref (scene->items);
  g_array_unref (scene->labels);
  bl_layout_unref (scene->layout);
  bl_model_unref (scene->model);
  g_free (scene);
}

gboolean
bl_scene_to_plan (const BlScene *scene, BlPoint document, BlPoint *plan)
{
  const BlCamera *camera = bl_model_camera (scene->model);

  if (scene->view == BL_VIEW_PLAN)
    {
      *plan = document;
      return TRUE;
    }
  return camera != NULL && camera->solved && bl_camera_to_ground (camera, document, plan);
}

gboolean
bl_scene_from_plan (const BlScene *scene, BlPoint plan, BlPoint *document)
{
  const BlCamera *camera = bl_model_camera (scene->model);

  if (scene->view == BL_VIEW_PLAN)
    {
      *document = plan;
      return TRUE;
    }
  return camera != NULL && camera->solved && bl_camera_project (camera, plan.x, plan.y, 0,
                                                                document);
}
