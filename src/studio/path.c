/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the person stands on the path from photo to proposal, and what is missing, in words. */

#include "config.h"

#include "studio/board.h"

#include <glib/gi18n.h>

static gboolean
has_scale (const BlModel *model)
{
  const BlCamera *camera = bl_model_camera (model);

  return camera != NULL && camera->scaled;
}

static guint
n_grounded_beds (const BlModel *model)
{
  guint n = 0;

  for (guint i = 0; i < model->beds->len; i++)
    if (((const BlBed *) g_ptr_array_index (model->beds, i))->ground != NULL)
      n++;
  return n;
}

static guint
n_plantings (const BlModel *model, gint64 alternative)
{
  guint n = 0;

  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);

      if (alternative == 0 || planting->alternative_id == alternative)
        n++;
    }
  return n;
}

static int
site_state (const BlSite *site)
{
  int stated = (site->zone != 0) + (site->soil != BL_SOIL_UNKNOWN)
               + (site->moisture != BL_MOISTURE_UNKNOWN) + (isfinite (site->sun_hours) != 0);

  return stated == 0 ? 0 : site->zone != 0 && stated >= 3 ? 2 : 1;
}

int
bl_board_stage_state (BlBoard *board, BlStage stage)
{
  const BlModel *model = bl_board_get_model (board);

  switch (stage)
    {
    case BL_STAGE_PHOTO:
      return model->photo.width > 0 || model->drawing.width > 0 ? 2 : model->tape != NULL || model->beds->len > 0 ? 1 : 0;
    case BL_STAGE_KNOWN:
      if (model->photo.width == 0 && model->drawing.width > 0)
        return model->drawing_camera.scaled ? 2 : 1;
      if (model->photo.width == 0)
        return model->tape == NULL ? 0 : model->tape->adjusted ? 2 : 1;
      return has_scale (model) ? 2 : model->knowns->len > 0 ? 1 : 0;
    case BL_STAGE_BED:
      return n_grounded_beds (model) > 0 ? 2 : model->beds->len > 0 ? 1 : 0;
    case BL_STAGE_SITE:
      return site_state (&model->site);
    case BL_STAGE_PLANTS:
      return n_plantings (model, bl_board_get_alternative (board)) > 0 ? 2
             : n_plantings (model, 0) > 0 ? 1 : 0;
    case BL_STAGE_COMPARE:
      return model->alternatives->len > 1 ? 2 : 0;
    case BL_STAGE_GIVE:
      return n_plantings (model, 0) > 0 && model->title[0] != '\0' ? 2 : 0;
    case BL_STAGE_N:
    default:
      return 0;
    }
}

static char *
missing_measure (const BlModel *model, BlStage *stage)
{
  *stage = BL_STAGE_KNOWN;
  if (model->drawing.width > 0 && !model->drawing_camera.scaled)
    return g_strdup (_("No length known on the base drawing yet: areas can't be given"));
  if (model->photo.width == 0)
    return NULL;
  if (model->knowns->len == 0)
    return g_strdup (_("No length known yet: areas can't be given"));
  if (model->camera_problem != NULL)
    return g_strdup (model->camera_problem);
  if (!has_scale (model))
    return g_strdup (_("The shape is known but no length: areas can't be given"));
  return NULL;
}

char *
bl_board_missing (BlBoard *board, BlStage *stage)
{
  const BlModel *model = bl_board_get_model (board);
  char *text = missing_measure (model, stage);

  if (text != NULL)
    return text;
  *stage = BL_STAGE_BED;
  if (model->beds->len == 0)
    return g_strdup (_("No bed line yet: trace one to plant in it"));
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);

      if (bed->ground == NULL && bed->problem != NULL)
        return g_strdup_printf ("%s: %s", bed->name, bed->problem);
    }
  *stage = BL_STAGE_SITE;
  if (model->site.zone == 0)
    return g_strdup (_("No hardiness zone stated: nobody can say what will come through winter"));
  *stage = BL_STAGE_PLANTS;
  if (n_plantings (model, bl_board_get_alternative (board)) == 0)
    return g_strdup (_("Nothing planted in this alternative yet"));
  *stage = BL_STAGE_COMPARE;
  if (model->alternatives->len < 2)
    return g_strdup (_("Only one alternative: copy it and change it to compare"));
  *stage = BL_STAGE_GIVE;
  if (model->title[0] == '\0')
    return g_strdup (_("The proposal has no title yet"));
  return g_strdup (_("Ready to give to client, crew and nursery"));
}
