/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A snapshot of a design: its life, its lookups and its extent. */
#include "design/model.h"

#include <string.h>

/* Invariants:
 * 1. Once a snapshot is handed out nothing of it changes; arrays and tables that an edit did not
 *    touch are shared with the snapshot before it by reference.
 * 2. @plantings is sorted by id; @alternatives by position, then id; the others by id.
 * 3. The key of @plants is the record's own slug. */

/* One number for every snapshot made by this program, so that late results can be told apart even
 * between two open designs. */
static guint64
next_revision (void)
{
  static guint64 last;

  return __atomic_add_fetch (&last, 1, __ATOMIC_RELAXED);
}

static GPtrArray *
new_array (GDestroyNotify free_item)
{
  return g_ptr_array_new_with_free_func (free_item);
}

BlModel *
bl_model_new (void)
{
  BlModel *model = g_new0 (BlModel, 1);

  g_atomic_ref_count_init (&model->refs);
  model->revision = next_revision ();
  model->id = g_strdup ("");
  model->title = g_strdup ("");
  model->client = g_strdup ("");
  model->place = g_strdup ("");
  model->designer = g_strdup ("");
  model->notes = g_strdup ("");
  model->units = BL_UNITS_FEET;
  model->currency = g_strdup ("USD");
  model->language = g_strdup ("en");
  bl_site_init (&model->site);
  model->knowns = new_array ((GDestroyNotify) bl_known_free);
  model->features = new_array ((GDestroyNotify) bl_feature_free);
  model->beds = new_array ((GDestroyNotify) bl_bed_free);
  model->alternatives = new_array ((GDestroyNotify) bl_alternative_free);
  model->plantings = new_array ((GDestroyNotify) bl_planting_free);
  model->plants
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) bl_plant_unref);
  model->prices = bl_price_book_new ();
  model->overrides = new_array ((GDestroyNotify) bl_override_free);
  model->care_marks = new_array ((GDestroyNotify) bl_care_mark_free);
  model->own_tasks = new_array ((GDestroyNotify) bl_own_task_free);
  return model;
}

/* FNV-1a, as calendars were marked before designs had ids: what was exported then is still known. */
char *
bl_model_first_id (const char *title, const char *client, const char *place)
{
  const char *const parts[] = { title, client, place };
  guint64 hash = 14695981039346656037u;

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      for (const char *c = parts[i] != NULL ? parts[i] : ""; *c != '\0'; c++)
        hash = (hash ^ (guchar) *c) * 1099511628211u;
      hash = (hash ^ 10) * 1099511628211u;
    }
  return g_strdup_printf ("%016" G_GINT64_MODIFIER "x", hash);
}

BlModel *
bl_model_ref (BlModel *model)
{
  g_return_val_if_fail (model != NULL, NULL);
  g_atomic_ref_count_inc (&model->refs);
  return model;
}

void
bl_model_unref (BlModel *model)
{
  if (model == NULL || !g_atomic_ref_count_dec (&model->refs))
    return;
  g_free (model->id);
  g_free (model->title);
  g_free (model->client);
  g_free (model->place);
  g_free (model->designer);
  g_free (model->notes);
  g_free (model->currency);
  g_free (model->language);
  bl_site_clear (&model->site);
  g_free (model->photo.name);
  g_free (model->drawing.name);
  g_ptr_array_unref (model->knowns);
  g_clear_pointer (&model->tape, bl_tape_free);
  g_ptr_array_unref (model->features);
  g_ptr_array_unref (model->beds);
  g_ptr_array_unref (model->alternatives);
  g_ptr_array_unref (model->plantings);
  g_hash_table_unref (model->plants);
  bl_price_book_free (model->prices);
  g_ptr_array_unref (model->overrides);
  g_ptr_array_unref (model->care_marks);
  g_ptr_array_unref (model->own_tasks);
  g_clear_pointer (&model->solution, bl_solution_free);
  g_free (model->camera_problem);
  g_free (model);
}

/* ---- lookups ---- */

const BlBed *
bl_model_bed (const BlModel *model,
              gint64         id)
{
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);

      if (bed->id == id)
        return bed;
    }
  return NULL;
}

const BlBed *
bl_model_bed_named (const BlModel *model,
                    const char    *name)
{
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);

      if (g_strcmp0 (bed->name, name) == 0)
        return bed;
    }
  return NULL;
}

const BlAlternative *
bl_model_alternative (const BlModel *model,
                      gint64         id)
{
  for (guint i = 0; i < model->alternatives->len; i++)
    {
      const BlAlternative *alternative = g_ptr_array_index (model->alternatives, i);

      if (alternative->id == id)
        return alternative;
    }
  return NULL;
}

const BlAlternative *
bl_model_alternative_named (const BlModel *model,
                            const char    *name)
{
  for (guint i = 0; i < model->alternatives->len; i++)
    {
      const BlAlternative *alternative = g_ptr_array_index (model->alternatives, i);

      if (g_strcmp0 (alternative->name, name) == 0)
        return alternative;
    }
  return NULL;
}

const BlPlanting *
bl_model_planting (const BlModel *model,
                   gint64         id)
{
  guint low = 0, high = model->plantings->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      const BlPlanting *planting = g_ptr_array_index (model->plantings, middle);

      if (planting->id == id)
        return planting;
      if (planting->id < id)
        low = middle + 1;
      else
        high = middle;
    }
  return NULL;
}

const BlFeature *
bl_model_feature (const BlModel *model,
                  gint64         id)
{
  for (guint i = 0; i < model->features->len; i++)
    {
      const BlFeature *feature = g_ptr_array_index (model->features, i);

      if (feature->id == id)
        return feature;
    }
  return NULL;
}

const BlKnown *
bl_model_known (const BlModel *model,
                gint64         id)
{
  for (guint i = 0; i < model->knowns->len; i++)
    {
      const BlKnown *known = g_ptr_array_index (model->knowns, i);

      if (known->id == id)
        return known;
    }
  return NULL;
}

BlPlant *
bl_model_plant (const BlModel *model,
                const char    *slug)
{
  return slug != NULL ? g_hash_table_lookup (model->plants, slug) : NULL;
}

const BlCamera *
bl_model_camera (const BlModel *model)
{
  if (model->solution == NULL || !model->solution->camera.solved)
    return NULL;
  return &model->solution->camera;
}

const BlCamera *
bl_model_camera_of (const BlModel *model,
                    BlSource       source)
{
  if (source == BL_FROM_PHOTO)
    return bl_model_camera (model);
  return source == BL_FROM_DRAWING && model->drawing_camera.solved ? &model->drawing_camera : NULL;
}

double
bl_model_click_px (const BlModel *model,
                   BlSource       source)
{
  if (source == BL_FROM_DRAWING)
    return bl_drawing_click (&model->drawing);
  if (model->photo.click_px > 0)
    return model->photo.click_px;
  return 1.5 * MAX (model->photo.width, model->photo.height) / 4032;
}

/* ---- extent ---- */

BlRect
bl_planting_extent (const BlModel    *model,
                    const BlPlanting *planting)
{
  const BlPlant *plant = bl_model_plant (model, planting->slug);
  double reach = plant != NULL ? plant->spread : 0.5;
  BlRect extent = BL_RECT_EMPTY;

  if (planting->shape != NULL)
    extent = bl_rect_of (planting->shape->points);
  else
    {
      const BlBed *bed = bl_model_bed (model, planting->bed_id);

      if (bed != NULL && bed->ring != NULL)
        extent = bl_rect_of (bed->ring);
    }
  /* The figure of a tall plant rises beyond its spread; a scene adds that for itself. */
  return bl_rect_is_empty (extent) ? extent : bl_rect_grow (extent, reach);
}

BlRect
bl_model_extent (const BlModel *model)
{
  BlRect extent = BL_RECT_EMPTY;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);

      if (bed->ring != NULL)
        extent = bl_rect_union (extent, bl_rect_of (bed->ring));
    }
  for (guint i = 0; i < model->features->len; i++)
    {
      const BlFeature *feature = g_ptr_array_index (model->features, i);

      /* What stands in front is upright: its outline means nothing on the ground. */
      if (feature->ground != NULL && feature->kind != BL_FEATURE_IN_FRONT)
        extent = bl_rect_union (extent, bl_rect_of (feature->ground->points));
    }
  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);

      if (planting->shape != NULL)
        extent = bl_rect_union (extent, bl_rect_of (planting->shape->points));
    }
  for (guint i = 0; model->tape != NULL && model->tape->adjusted && i < model->tape->points->len;
       i++)
    {
      BlPoint at = g_array_index (model->tape->points, BlTapePoint, i).at;

      extent = bl_rect_union (extent, (BlRect) { at.x, at.y, at.x, at.y });
    }
  if (bl_rect_is_empty (extent))
    return (BlRect) { -5, 0, 5, 10 };
  return extent;
}
