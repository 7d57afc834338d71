/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where each plant stands: the plantings of an alternative turned into positions. */
#pragma once

#include "design/model.h"

typedef struct
{
  gint64 planting_id, bed_id;
  BlPlant *plant;      /* borrowed from the model's table */
  const char *size;    /* borrowed size name (resolved: never NULL when the record has sizes) */
  BlPoint at;          /* plan, metres */
  guint index;         /* within its planting */
  guint64 seed;        /* the same for the same planting and index */
  BlPlantingForm form;
} BlPlaced;

typedef struct
{
  BlModel *model;      /* a ref: @placed borrows from it */
  gint64 alternative_id;
  GArray *placed;      /* BlPlaced, grouped by planting in id order */
  GPtrArray *messages; /* utf8: plantings that could not be laid out, and why */
} BlLayout;

/* Never fails: what cannot be placed is told in messages. */
BlLayout *bl_layout_compute (BlModel *model, gint64 alternative_id);
BlLayout *bl_layout_ref (BlLayout *layout);
void bl_layout_unref (BlLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlLayout, bl_layout_unref)
/* Spacing that a planting uses: its own, else the record's; metres. */
double bl_planting_spacing (const BlModel *model, const BlPlanting *planting);
