/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A snapshot as if something in it had been changed, while it is being dragged. */
#include "design/model.h"

static void
share (GPtrArray **to,
       GPtrArray  *from)
{
  g_ptr_array_unref (*to);
  *to = g_ptr_array_ref (from);
}

static void
copy_facts (BlModel       *model,
            const BlModel *old)
{
  model->units = old->units;
  model->planting_day = old->planting_day;
  g_free (model->currency);
  model->currency = g_strdup (old->currency);
  g_free (model->language);
  model->language = g_strdup (old->language);
  bl_site_copy (&model->site, &old->site);
  model->photo = old->photo;
  model->photo.name = g_strdup (old->photo.name);
  model->drawing = old->drawing;
  model->drawing.name = g_strdup (old->drawing.name);
  if (old->tape != NULL)
    model->tape = bl_tape_copy (old->tape);
  bl_price_book_free (model->prices);
  model->prices = bl_price_book_copy (old->prices);
}

static const BlPlanting *
find_planting (const GPtrArray *plantings,
               gint64           id)
{
  for (guint i = 0; plantings != NULL && i < plantings->len; i++)
    if (((const BlPlanting *) g_ptr_array_index (plantings, i))->id == id)
      return g_ptr_array_index (plantings, i);
  return NULL;
}

BlModel *
bl_model_variant (const BlModel   *old,
                  const BlBed     *bed,
                  const GPtrArray *plantings)
{
  BlModel *model = bl_model_new ();

  copy_facts (model, old);
  share (&model->knowns, old->knowns);
  share (&model->features, old->features);
  share (&model->alternatives, old->alternatives);
  share (&model->overrides, old->overrides);
  share (&model->care_marks, old->care_marks);
  share (&model->own_tasks, old->own_tasks);
  g_hash_table_unref (model->plants);
  model->plants = g_hash_table_ref (old->plants);
  if (bed == NULL)
    share (&model->beds, old->beds);
  for (guint i = 0; bed != NULL && i < old->beds->len; i++)
    {
      const BlBed *one = g_ptr_array_index (old->beds, i);

      g_ptr_array_add (model->beds, bl_bed_copy (one->id == bed->id ? bed : one));
    }
  for (guint i = 0; i < old->plantings->len; i++)
    {
      BlPlanting *one = g_ptr_array_index (old->plantings, i);
      const BlPlanting *changed = find_planting (plantings, one->id);

      g_ptr_array_add (model->plantings,
                       changed != NULL ? bl_planting_copy (changed) : bl_planting_ref (one));
    }
  bl_model_derive (model, old);
  return model;
}
