/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small designs made by hand, for tests of layout and take-off. */
#pragma once

#include "geometry/polygon.h"
#include "layout/layout.h"

G_GNUC_UNUSED static BlPlant *
scene_plant (BlModel *model, const char *slug, BlPlantType type, double spread, double spacing)
{
  BlPlant *plant = g_new0 (BlPlant, 1);
  g_auto (GStrv) parts = g_strsplit (slug, "-", 2);

  g_atomic_ref_count_init (&plant->refs);
  plant->slug = g_strdup (slug);
  plant->genus = g_strdup (parts[0]);
  plant->genus[0] = g_ascii_toupper (plant->genus[0]);
  plant->species = g_strdup (parts[1]);
  plant->common = g_strdup (slug);
  plant->type = type;
  plant->spread = spread;
  plant->height = 0.6;
  plant->spacing = spacing;
  plant->n_sizes = 2;
  plant->sizes[0] = (BlPlantSize) { g_strdup ("#1"), 0.3, 0.2, 1450 };
  plant->sizes[1] = (BlPlantSize) { g_strdup ("plug"), 0.1, 0.1, 350 };
  g_hash_table_insert (model->plants, g_strdup (slug), plant);
  return plant;
}

G_GNUC_UNUSED static BlBed *
scene_bed (BlModel *model, const char *name, BlPoints *points, gboolean straight)
{
  BlBed *bed = bl_bed_new ();

  bed->id = model->beds->len + 1;
  g_free (bed->name);
  bed->name = g_strdup (name);
  bed->ground = bl_outline_new_take (points, straight);
  bed->outline = bl_outline_copy (bed->ground);
  bed->edging_share = 1;
  bed->ring = bl_outline_flatten (bed->ground, 0.002);
  bed->area.value = bl_polygon_area (bed->ring);
  bed->perimeter.value = bl_polygon_perimeter (bed->ring);
  g_ptr_array_add (model->beds, bed);
  return bed;
}

G_GNUC_UNUSED static BlPoints *
scene_rectangle (double x0, double y0, double x1, double y1)
{
  BlPoints *points = bl_points_new ();

  bl_points_add (points, BL_POINT (x0, y0));
  bl_points_add (points, BL_POINT (x1, y0));
  bl_points_add (points, BL_POINT (x1, y1));
  bl_points_add (points, BL_POINT (x0, y1));
  return points;
}

G_GNUC_UNUSED static BlPoints *
scene_point (double x, double y)
{
  BlPoints *points = bl_points_new ();

  bl_points_add (points, BL_POINT (x, y));
  return points;
}

/* A model with one alternative, number 1. */
G_GNUC_UNUSED static BlModel *
scene_new (void)
{
  BlModel *model = bl_model_new ();
  BlAlternative *alternative = g_new0 (BlAlternative, 1);

  alternative->id = 1;
  alternative->name = g_strdup ("A");
  alternative->idea = g_strdup ("");
  alternative->colors = g_strdup ("");
  g_ptr_array_add (model->alternatives, alternative);
  return model;
}

/* @points is taken; NULL for a fill. */
G_GNUC_UNUSED static BlPlanting *
scene_planting (BlModel *model, gint64 bed, const char *slug, BlPlantingForm form, BlPoints *points)
{
  BlPlanting *planting = bl_planting_new ();

  planting->id = model->plantings->len + 1;
  planting->alternative_id = 1;
  planting->bed_id = bed;
  planting->slug = g_strdup (slug);
  planting->form = form;
  if (points != NULL)
    {
      planting->shape = bl_outline_new_take (points, form != BL_PLANTING_DRIFT || points->len == 4);
      planting->shape->open = form == BL_PLANTING_ROW;
    }
  g_ptr_array_add (model->plantings, planting);
  return planting;
}
