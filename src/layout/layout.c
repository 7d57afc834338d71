/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layout of an alternative: bed by bed, drawn plants first, then drifts, then fills. */
#include "config.h"

#include "layout/layout.h"

#include <glib/gi18n-lib.h>

#include "base/rng.h"
#include "design/check.h"
#include "layout/layout-private.h"

#define LEAST_SPACING 0.03 /* metres */

double
bl_planting_spacing (const BlModel *model, const BlPlanting *planting)
{
  const BlPlant *plant;

  g_return_val_if_fail (model != NULL && planting != NULL, LEAST_SPACING);
  if (planting->spacing > 0)
    return MAX (planting->spacing, LEAST_SPACING);
  plant = bl_model_plant (model, planting->slug);
  if (plant == NULL)
    return LEAST_SPACING;
  return MAX (plant->spacing > 0 ? plant->spacing : plant->spread, LEAST_SPACING);
}

static void
part_clear (gpointer data)
{
  g_free (((BlLayoutPart *) data)->rule);
}

static void
points_unref (gpointer points)
{
  g_array_unref (points);
}

static BlLayout *
layout_new (BlModel *model, gint64 alternative_id)
{
  BlLayout *layout = g_new0 (BlLayout, 1);

  g_atomic_ref_count_init (&layout->refs);
  layout->model = bl_model_ref (model);
  layout->alternative_id = alternative_id;
  layout->placed = g_array_new (FALSE, FALSE, sizeof (BlPlaced));
  layout->parts = g_array_new (FALSE, FALSE, sizeof (BlLayoutPart));
  g_array_set_clear_func (layout->parts, part_clear);
  layout->messages = g_ptr_array_new_with_free_func (g_free);
  layout->memo = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, points_unref);
  return layout;
}

BlLayout *
bl_layout_ref (BlLayout *layout)
{
  g_return_val_if_fail (layout != NULL, NULL);
  g_atomic_ref_count_inc (&layout->refs);
  return layout;
}

void
bl_layout_unref (BlLayout *layout)
{
  if (layout == NULL || !g_atomic_ref_count_dec (&layout->refs))
    return;
  bl_model_unref (layout->model);
  g_array_unref (layout->placed);
  g_array_unref (layout->parts);
  g_ptr_array_unref (layout->messages);
  g_hash_table_unref (layout->memo);
  g_free (layout);
}

const BlLayoutPart *
bl_layout_part (const BlLayout *layout, gint64 planting_id)
{
  g_return_val_if_fail (layout != NULL, NULL);
  for (guint i = 0; i < layout->parts->len; i++)
    {
      const BlLayoutPart *part = &g_array_index (layout->parts, BlLayoutPart, i);

      if (part->planting_id == planting_id)
        return part;
    }
  return NULL;
}

/* The plantings of one bed that can be placed, in id order; the others are told. */
static GPtrArray *
plantings_of (BlPlacing *placing, gint64 bed_id)
{
  GPtrArray *found = g_ptr_array_new ();
  const GPtrArray *all = placing->model->plantings;

  for (guint i = 0; i < all->len; i++)
    {
      const BlPlanting *planting = all->pdata[i];

      if (planting->alternative_id != placing->layout->alternative_id
          || planting->bed_id != bed_id)
        continue;
      if (bl_model_plant (placing->model, planting->slug) == NULL)
        bl_placing_say (placing, planting, "was left out: its plant record is missing; add the "
                        "plant again.");
      else
        g_ptr_array_add (found, (gpointer) planting);
    }
  return found;
}

/* One sentence a bed, however many plantings wait in it: all of them wait for the same. */
static void
tell_waiting (BlPlacing *placing, const BlBed *bed, guint n)
{
  g_ptr_array_add (placing->layout->messages,
                   g_strdup_printf (n == 1 ? _("Bed “%s” has no shape yet, so %u planting in it waits. %s")
                                           : _("Bed “%s” has no shape yet, so %u plantings in it wait. %s"),
                                    bed->name != NULL ? bed->name : "?", n,
                                    bed->problem != NULL ? bed->problem : _("Its outline is not known.")));
}

static void
place_forms (BlPlacing *placing, BlPlot *plot, GPtrArray *plantings)
{
  g_autoptr (GPtrArray) fills = g_ptr_array_new (), bulb_fills = g_ptr_array_new ();
  guint waiting = 0;

  for (guint i = 0; i < plantings->len; i++)
    {
      const BlPlanting *planting = plantings->pdata[i];

      if (planting->form == BL_PLANTING_SPECIMEN || planting->form == BL_PLANTING_ROW)
        bl_place_drawn (placing, plot, planting);
    }
  for (guint i = 0; i < plantings->len; i++)
    {
      BlPlanting *planting = plantings->pdata[i];
      gboolean area = planting->form == BL_PLANTING_DRIFT || planting->form == BL_PLANTING_FILL;

      if (area && plot->free == NULL)
        waiting++;
      else if (planting->form == BL_PLANTING_DRIFT)
        bl_place_drift (placing, plot, planting);
      else if (planting->form == BL_PLANTING_FILL
               && bl_is_bulb_layer (bl_model_plant (placing->model, planting->slug)))
        g_ptr_array_add (bulb_fills, planting);
      else if (planting->form == BL_PLANTING_FILL)
        g_ptr_array_add (fills, planting);
    }
  if (waiting > 0)
    tell_waiting (placing, plot->bed, waiting);
  if (fills->len > 0)
    bl_place_fills (placing, plot, fills);
  if (bulb_fills->len > 0)
    bl_place_fills (placing, plot, bulb_fills);
}

static void
place_bed (BlPlacing *placing, const BlBed *bed)
{
  g_autoptr (GPtrArray) plantings = plantings_of (placing, bed->id);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPlot) plot = NULL;

  if (plantings->len == 0)
    return;
  plot = bl_plot_new (placing->model, bed, &error);
  if (plot != NULL)
    place_forms (placing, plot, plantings);
  else
    g_ptr_array_add (placing->layout->messages,
                     g_strdup_printf (_("Bed “%s” cannot be planted. %s"),
                                      bed->name != NULL ? bed->name : "?", error->message));
}

static void
tell_homeless (BlPlacing *placing)
{
  const GPtrArray *all = placing->model->plantings;

  for (guint i = 0; i < all->len; i++)
    {
      const BlPlanting *planting = all->pdata[i];

      if (planting->alternative_id == placing->layout->alternative_id
          && bl_model_bed (placing->model, planting->bed_id) == NULL)
        bl_placing_say (placing, planting, "was left out: the bed is gone; put it in another.");
    }
}

static const char *
size_of (const BlPlanting *planting, const BlPlant *plant)
{
  if (planting->size != NULL && planting->size[0] != '\0')
    return planting->size;
  return plant->n_sizes > 0 ? plant->sizes[0].name : NULL;
}

static int
compare_parts (const void *a, const void *b)
{
  const BlLayoutPart *p = a, *q = b;

  return (p->planting_id > q->planting_id) - (p->planting_id < q->planting_id);
}

/* All positions into one list, by planting. */
static void
assemble (BlPlacing *placing)
{
  BlLayout *layout = placing->layout;

  g_array_sort (layout->parts, compare_parts);
  for (guint i = 0; i < layout->parts->len; i++)
    {
      gint64 id = g_array_index (layout->parts, BlLayoutPart, i).planting_id;
      const BlPlanting *planting = bl_model_planting (placing->model, id);
      BlPlant *plant = bl_model_plant (placing->model, planting->slug);
      const BlPoints *points = g_hash_table_lookup (placing->points, &id);

      for (guint k = 0; k < points->len; k++)
        {
          BlPlaced placed = { id, planting->bed_id, plant, size_of (planting, plant),
                              bl_points_at (points, k), k, bl_rng_mix ((guint64) id, k),
                              planting->form };

          g_array_append_val (layout->placed, placed);
        }
    }
}

static BlLayout *
compute (BlModel *model, gint64 alternative_id, const BlLayout *previous, gboolean follow)
{
  BlPlacing placing = { model, layout_new (model, alternative_id), previous, follow, NULL };

  if (follow && previous != NULL)
    {
      /* Carried along untouched, so that the layout after the drag still finds its lattices. */
      g_hash_table_unref (placing.layout->memo);
      placing.layout->memo = g_hash_table_ref (previous->memo);
    }
  placing.points = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, points_unref);
  if (bl_model_alternative (model, alternative_id) == NULL)
    g_ptr_array_add (placing.layout->messages,
                     g_strdup (_("There is no such alternative: choose one of the list.")));
  for (guint i = 0; i < model->beds->len; i++)
    place_bed (&placing, model->beds->pdata[i]);
  tell_homeless (&placing);
  assemble (&placing);
  g_hash_table_unref (placing.points);
  return placing.layout;
}

GPtrArray *
bl_layout_standing (const BlLayout *layout, gint64 bed_id)
{
  GPtrArray *standing = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_planting_free);
  guint at = 0;

  g_return_val_if_fail (layout != NULL, standing);
  for (guint i = 0; i < layout->parts->len; i++)
    {
      const BlLayoutPart *part = &g_array_index (layout->parts, BlLayoutPart, i);
      const BlPlanting *planting = bl_model_planting (layout->model, part->planting_id);
      guint from = at;
      BlPlanting *copy;

      at += part->count; /* @placed is in the order of @parts */
      if (planting->bed_id != bed_id || part->count == 0 || part->count > BL_MAX_STOOD
          || (planting->form != BL_PLANTING_DRIFT && planting->form != BL_PLANTING_FILL))
        continue;
      copy = bl_planting_copy (planting);
      g_clear_pointer (&copy->stood, g_array_unref);
      copy->stood = bl_points_new ();
      for (guint k = from; k < at; k++)
        bl_points_add (copy->stood, g_array_index (layout->placed, BlPlaced, k).at);
      g_ptr_array_add (standing, copy);
    }
  return standing;
}

double
bl_bed_free_area (const BlModel *model, const BlBed *bed)
{
  g_autoptr (BlPlot) plot = NULL;

  g_return_val_if_fail (model != NULL && bed != NULL, 0);
  plot = bl_plot_new (model, bed, NULL);
  if (plot == NULL || plot->free == NULL)
    return 0;
  return MAX (bed->area.value - bl_polygon_area (bed->ring) + bl_region_area (plot->free), 0);
}

double
bl_bed_shared_area (const BlModel *model, const BlBed *bed)
{
  g_autoptr (BlPlot) plot = NULL;

  g_return_val_if_fail (model != NULL && bed != NULL, 0);
  plot = bl_plot_new (model, bed, NULL);
  return plot != NULL ? plot->shared : 0;
}

BlLayout *
bl_layout_compute (BlModel *model, gint64 alternative_id)
{
  g_return_val_if_fail (model != NULL, NULL);
  return compute (model, alternative_id, NULL, FALSE);
}

BlLayout *
bl_layout_compute_after (BlModel *model, gint64 alternative_id, const BlLayout *previous)
{
  g_return_val_if_fail (model != NULL, NULL);
  return compute (model, alternative_id, previous, FALSE);
}

BlLayout *
bl_layout_follow (BlModel *model, gint64 alternative_id, const BlLayout *previous)
{
  g_return_val_if_fail (model != NULL, NULL);
  return compute (model, alternative_id, previous, TRUE);
}
