/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The life of a plant record: shared by reference, freed whole. */
#include "plants/plant.h"

#include <string.h>

BlPlant *
bl_plant_ref (BlPlant *plant)
{
  g_atomic_ref_count_inc (&plant->refs);
  return plant;
}

static void
free_sizes (BlPlant *plant)
{
  guint i = 0;

  for (i = 0; i < plant->n_sizes; i++)
    g_free (plant->sizes[i].name);
}

static void
free_regulations (BlPlant *plant)
{
  guint i = 0;

  for (i = 0; i < plant->n_regulations; i++)
    {
      g_free (plant->regulations[i].where);
      g_free (plant->regulations[i].what);
      g_free (plant->regulations[i].by);
      g_free (plant->regulations[i].when);
    }
  g_free (plant->regulations);
}

static void
free_cutout (BlCutout *cutout)
{
  if (cutout == NULL)
    return;
  if (cutout->art_free != NULL)
    cutout->art_free (cutout->art);
  g_mutex_clear (&cutout->lock);
  g_clear_pointer (&cutout->bytes, g_bytes_unref);
  g_free (cutout->sha256);
  g_free (cutout);
}

void
bl_plant_lend_picture (BlPlant *plant, GBytes *bytes)
{
  g_autofree char *sha256 = NULL;

  if (plant->cutout == NULL || bytes == NULL || plant->cutout->bytes != NULL)
    return;
  sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  if (strcmp (sha256, plant->cutout->sha256) == 0)
    plant->cutout->bytes = g_bytes_ref (bytes);
}

void
bl_plant_unref (BlPlant *plant)
{
  char **texts[] = { &plant->slug,
                     &plant->genus,
                     &plant->species,
                     &plant->rank,
                     &plant->infra,
                     &plant->cultivar,
                     &plant->common,
                     &plant->common_es,
                     &plant->harm_note,
                     &plant->allergen,
                     &plant->invasive,
                     &plant->origin,
                     &plant->flower_color_name,
                     &plant->winter_interest,
                     &plant->wildlife,
                     &plant->support,
                     &plant->care_note,
                     &plant->basis,
                     &plant->text };
  guint i = 0;

  if (!g_atomic_ref_count_dec (&plant->refs))
    return;
  for (i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (*texts[i]);
  free_sizes (plant);
  free_regulations (plant);
  g_strfreev (plant->companions);
  g_strfreev (plant->avoid);
  free_cutout (plant->cutout);
  g_free (plant);
}
