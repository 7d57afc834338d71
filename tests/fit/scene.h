/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bed 10 m by 4 m with one alternative, to which tests add features and plants. */
#pragma once

#include <string.h>

#include "fit/fit.h"
#include "geometry/polygon.h"

static const char scene_record[] =
  "genus=Echinacea\nspecies=purpurea\ncommon=purple coneflower\ntype=perennial\nform=daisy-clump\n"
  "leaf=lance 12\nheight=60 120 90\nspread=45 60 50\nfoliage_height=60\nyears=3\ngrowth=medium\n"
  "sizes=#1:35:25:1450\nzones=3a 8b\nlight=full part\nmoisture=dry medium\nsoil=sand loam clay\n"
  "ph=6.0 7.5\ndrought=medium\nsoil_salt=high\nspray_salt=high\nsnow_load=high\nwind=high\n"
  "deer=sometimes\nrabbit=often\njuglone=high\nroot_risk=low\nthorns=no\n"
  "harm=no-report no-report no-report no-report\nnative=yes\norigin=eastern North America\n"
  "leaves=deciduous\nemerges=4\nspring_only=no\nleaf_colors=#7fa650 #4f7d3a #8a8a4a #7a6a4a\n"
  "stem=#6b5a3a\nflower=daisy 9\nflower_colors=#c76a9a\nflower_color_name=purple pink\n"
  "flower_months=6 8\nseed_color=#3a2a1a\nspacing=45\ncare=H1\ndivide=4 6\nbasis=for tests\n";

/* The record with pairs of key and value replaced; ends with NULL. */
G_GNUC_UNUSED static BlPlant *
scene_plant (const char *slug, ...)
{
  g_autofree char *text = g_strdup (scene_record);
  g_autoptr (GError) error = NULL;
  const char *key = NULL;
  BlPlant *plant = NULL;
  va_list args;

  va_start (args, slug);
  while ((key = va_arg (args, const char *)) != NULL)
    {
      g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
      g_autofree char *start = g_strconcat (key, "=", NULL);
      GString *next = g_string_new (NULL);
      guint i = 0;

      for (i = 0; lines[i] != NULL; i++)
        if (lines[i][0] != '\0' && !g_str_has_prefix (lines[i], start))
          g_string_append_printf (next, "%s\n", lines[i]);
      g_string_append_printf (next, "%s=%s\n", key, va_arg (args, const char *));
      g_free (text);
      text = g_string_free (next, FALSE);
    }
  va_end (args);
  plant = bl_plant_parse (slug, text, &error);
  g_assert_no_error (error);
  return plant;
}

static BlOutline *
scene_outline (guint n, const double *xy, gboolean open)
{
  BlPoints *points = bl_points_new ();
  BlOutline *outline = NULL;
  guint i = 0;

  for (i = 0; i < n; i++)
    bl_points_add (points, BL_POINT (xy[2 * i], xy[2 * i + 1]));
  outline = bl_outline_new_take (points, TRUE);
  outline->open = open;
  return outline;
}

G_GNUC_UNUSED static BlModel *
scene_new (void)
{
  static const double ring[] = { 0, 0, 10, 0, 10, 4, 0, 4 };
  BlModel *model = bl_model_new ();
  BlBed *bed = bl_bed_new ();
  BlAlternative *alternative = g_new0 (BlAlternative, 1);

  bed->id = 1;
  g_free (bed->name);
  bed->name = g_strdup ("Strip");
  bed->ground = scene_outline (4, ring, FALSE);
  bed->ring = bl_points_copy (bed->ground->points);
  bed->area.value = bl_polygon_area (bed->ring);
  bed->perimeter.value = bl_polygon_perimeter (bed->ring);
  bed->mulch_depth = 0.075;
  g_ptr_array_add (model->beds, bed);
  alternative->id = 1;
  alternative->name = g_strdup ("A");
  g_ptr_array_add (model->alternatives, alternative);
  model->units = BL_UNITS_METRES;
  return model;
}

G_GNUC_UNUSED static BlFeature *
scene_feature (BlModel *model, BlFeatureKind kind, guint n, const double *xy, double height)
{
  BlFeature *feature = bl_feature_new ();

  feature->id = model->features->len + 1;
  feature->kind = kind;
  feature->height = height;
  feature->ground = scene_outline (n, xy, n < 3);
  g_ptr_array_add (model->features, feature);
  return feature;
}

/* Plants @count of @plant (taken) in a line from @x, @y, @step apart. */
G_GNUC_UNUSED static void
scene_put (BlModel *model, BlPlant *plant, double x, double y, guint count, double step)
{
  guint i = 0;

  for (i = 0; i < count; i++)
    {
      BlPlanting *planting = bl_planting_new ();
      const double at[] = { x + i * step, y };

      planting->id = model->plantings->len + 1;
      planting->alternative_id = 1;
      planting->bed_id = 1;
      planting->slug = g_strdup (plant->slug);
      planting->form = BL_PLANTING_SPECIMEN;
      planting->shape = scene_outline (1, at, TRUE);
      g_ptr_array_add (model->plantings, planting);
    }
  g_hash_table_insert (model->plants, g_strdup (plant->slug), plant);
}

G_GNUC_UNUSED static const BlFinding *
scene_find (const BlFit *fit, const char *rule, const char *slug)
{
  guint i = 0;

  for (i = 0; i < fit->findings->len; i++)
    {
      const BlFinding *f = &g_array_index (fit->findings, BlFinding, i);

      if (strcmp (f->rule, rule) == 0 && (slug == NULL || g_strcmp0 (f->slug, slug) == 0))
        return f;
    }
  return NULL;
}

G_GNUC_UNUSED static BlFit *
scene_check (BlModel *model)
{
  g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);
  g_autoptr (GError) error = NULL;
  BlFit *fit = bl_fit_check (layout, NULL, NULL, &error);

  g_assert_no_error (error);
  return fit;
}
