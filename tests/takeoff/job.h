/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A job made by hand: one bed, a bare price book. */
#pragma once

#include "scene.h"
#include "takeoff/estimate.h"
#include "takeoff/material.h"
#include "takeoff/takeoff.h"

G_GNUC_UNUSED static void
job_price (BlModel *model, const char *key, BlPriceKind kind, const char *unit, gint64 price,
           double amount)
{
  BlPriceItem item = { (char *) key, kind, (char *) key, (char *) unit, price, amount, NULL,
                       FALSE };

  bl_price_book_put_take (model->prices, bl_price_item_copy (&item));
}

/* A model with one rectangular bed in feet and a book of no rules. */
G_GNUC_UNUSED static BlModel *
job_new (double width_ft, double depth_ft)
{
  BlModel *model = scene_new ();

  scene_bed (model, "Front",
             scene_rectangle (0, 0, width_ft * BL_METRES_PER_FOOT, depth_ft * BL_METRES_PER_FOOT),
             TRUE);
  return model;
}

G_GNUC_UNUSED static BlTakeoff *
job_takeoff (BlModel *model)
{
  g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);

  return bl_takeoff_compute (layout, NULL);
}

G_GNUC_UNUSED static BlEstimate *
job_estimate (BlModel *model)
{
  g_autoptr (BlTakeoff) takeoff = job_takeoff (model);

  return bl_estimate_compute (takeoff);
}

G_GNUC_UNUSED static const BlMaterial *
job_material (const BlTakeoff *takeoff, const char *key)
{
  for (guint i = 0; i < takeoff->materials->len; i++)
    {
      const BlMaterial *material = &g_array_index (takeoff->materials, BlMaterial, i);

      if (g_strcmp0 (material->key, key) == 0)
        return material;
    }
  return NULL;
}

G_GNUC_UNUSED static const BlEstimateLine *
job_line (const BlEstimate *estimate, const char *key)
{
  for (guint i = 0; i < estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (estimate->lines, BlEstimateLine, i);

      if (g_strcmp0 (line->key, key) == 0)
        return line;
    }
  return NULL;
}

G_GNUC_UNUSED static void
job_override (BlModel *model, const char *line, const char *field, double value)
{
  BlOverride *override = g_new0 (BlOverride, 1);

  override->id = model->overrides->len + 1;
  override->alternative_id = 1;
  override->line = g_strdup (line);
  override->field = g_strdup (field);
  override->value = value;
  override->note = g_strdup ("agreed");
  g_ptr_array_add (model->overrides, override);
}
