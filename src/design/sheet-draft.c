/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A design from a sheet: the text read, the parts put, the whole judged, the file made last. */
#include <string.h>

#include "base/brackets.h"
#include "base/error.h"
#include "design/check.h"
#include "design/sheet-private.h"

#define MAX_SHEET (32 * 1024 * 1024) /* bytes */
#define MAX_DEPTH 24                 /* brackets within brackets */
#define CONTRADICTS_SD 5.0           /* a known this many standard deviations off is refused */
#define CONTRADICTS_P 1e-9           /* and so is the worst of knowns this unlikely together */

/* ---- the text ---- */

static JsonNode *
parse (BlSheet    *sheet,
       const char *json,
       gsize       length)
{
  g_autoptr(JsonParser) parser = json_parser_new_immutable ();
  g_autoptr(GError) problem = NULL;
  gboolean outside = FALSE;
  JsonNode *root;

  if (length > MAX_SHEET)
    bl_sheet_refuse (sheet, NULL, "is larger than %d MB", MAX_SHEET / (1024 * 1024));
  else if (!g_utf8_validate (json, (gssize) length, NULL))
    bl_sheet_refuse (sheet, NULL, "is not readable text (UTF-8)");
  else if (bl_bracket_depth (json, length, &outside) > MAX_DEPTH)
    bl_sheet_refuse (sheet, NULL, "has more than %d brackets within brackets", MAX_DEPTH);
  else if (outside)
    bl_sheet_refuse (sheet, NULL, "has something outside its outermost brackets; a file holds one sheet, { to }");
  else if (!json_parser_load_from_data (parser, json, (gssize) length, &problem))
    bl_sheet_refuse (sheet, NULL, "is not JSON (%s)", problem->message);
  if (sheet->error != NULL)
    return NULL;
  root = json_parser_get_root (parser);
  if (root != NULL && JSON_NODE_HOLDS_OBJECT (root))
    return json_node_ref (root);
  bl_sheet_refuse (sheet, NULL, "must be a group of keys: { \"design_sheet\": 1, ... }");
  return NULL;
}

static void
check_head (BlSheet    *sheet,
            JsonObject *root)
{
  BlPlace at_version = BL_PLACE_KEY (NULL, "design_sheet");
  gint64 version = bl_sheet_whole (sheet, NULL, root, "design_sheet", 0);

  if (!bl_sheet_has (root, "design_sheet"))
    bl_sheet_refuse (sheet, &at_version,
                     "is missing; a design sheet begins with \"design_sheet\": 1");
  else if (version != 1)
    bl_sheet_refuse (sheet, &at_version, "is %lld; this program reads version 1", (long long) version);
  bl_sheet_keys (
      sheet, NULL, root,
      "design_sheet id title client place designer notes units currency language planting_day site "
      "photo drawing known tape features beds plants alternatives prices care_marks own_tasks");
}

/* ---- the whole ---- */

static gboolean
solves_without (const BlModel *model,
                guint          left_out)
{
  g_autoptr(GPtrArray) rest = g_ptr_array_new ();
  g_autoptr(BlSolution) solution = NULL;
  BlPhotoPrior prior = {
    .width = model->photo.width,
    .height = model->photo.height,
    .focal_35mm = model->photo.focal_35mm,
    .click_px = model->photo.click_px,
    .slope = model->photo.slope,
    .slope_direction = model->photo.slope_direction,
    .units = model->units,
  };

  for (guint i = 0; i < model->knowns->len; i++)
    if (i != left_out)
      g_ptr_array_add (rest, g_ptr_array_index (model->knowns, i));
  solution = bl_solve_camera (&prior, rest, NULL);
  return solution != NULL;
}

/* No camera at all: either too little is known yet, which is no mistake, or one known stands
 * against the others, which then solve without it. */
static void
judge_unsolved (BlSheet       *sheet,
                const BlModel *model)
{
  BlPlace list = BL_PLACE_KEY (NULL, "known");

  for (guint i = 0; i < model->knowns->len && model->knowns->len > 1; i++)
    if (solves_without (model, i))
      {
        BlPlace here = BL_PLACE_INDEX (&list, i);

        bl_sheet_refuse (sheet, &here, "contradicts the other knowns: %s", model->camera_problem);
        return;
      }
}

static void
judge_solved (BlSheet       *sheet,
              const BlModel *model)
{
  const BlSolution *solution = model->solution;
  const BlKnownResidual *worst = NULL;
  BlPlace list = BL_PLACE_KEY (NULL, "known");

  for (guint i = 0; i < solution->residuals->len; i++)
    {
      const BlKnownResidual *residual = &g_array_index (solution->residuals, BlKnownResidual, i);

      if (residual->known_index < model->knowns->len
          && (worst == NULL || fabs (residual->normalised) > fabs (worst->normalised)))
        worst = residual;
    }
  if (solution->worst >= 0)
    {
      const BlKnownResidual *named
          = &g_array_index (solution->residuals, BlKnownResidual, (guint) solution->worst);

      if (named->known_index < model->knowns->len)
        worst = named;
    }
  if (worst == NULL || solution->dof <= 0
      || (fabs (worst->normalised) <= CONTRADICTS_SD && solution->chi2_p >= CONTRADICTS_P))
    return;
  BlPlace here = BL_PLACE_INDEX (&list, worst->known_index);
  bl_sheet_refuse (sheet, &here,
                   "contradicts the other knowns, by %.1f times its standard deviation; measure it "
                   "again or leave it out",
                   fabs (worst->normalised));
}

static void
judge_beds (BlSheet       *sheet,
            const BlModel *model)
{
  BlPlace list = BL_PLACE_KEY (NULL, "beds");
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);
      BlPlace place = BL_PLACE_INDEX (&list, i);
      BlPlace here = BL_PLACE_KEY (&place, bl_out_outline_key (bed->source));
      const BlCamera *camera = bl_model_camera_of (model, bed->source);

      /* While the camera, the drawing or the tape is not worked out, a bed in it waits; afterwards it must lie
       * on the ground. */
      if (bed->problem != NULL
          && (bed->source == BL_FROM_TAPE ? model->tape != NULL && model->tape->adjusted
                                          : camera != NULL && camera->scaled))
        bl_sheet_refuse (sheet, &here, "%s", bed->problem);
    }
}

static void
judge (BlSheet *sheet)
{
  const BlModel *model = bl_design_get_model (sheet->design);

  if (model->solution != NULL)
    judge_solved (sheet, model);
  else if (model->camera_problem != NULL)
    judge_unsolved (sheet, model);
  judge_beds (sheet, model);
}

/* ---- drafting ---- */

static void
read_parts (BlSheet    *sheet,
            JsonObject *root)
{
  check_head (sheet, root);
  bl_sheet_read_texts (sheet, root);
  bl_sheet_read_site (sheet, root);
  bl_sheet_read_photo (sheet, root);
  bl_sheet_read_drawing (sheet, root);
  bl_sheet_read_knowns (sheet, root);
  bl_sheet_read_tape (sheet, root);
  bl_sheet_read_features (sheet, root);
  bl_sheet_read_prices (sheet, root);
  bl_sheet_read_beds (sheet, root);
  bl_sheet_read_plants (sheet, root);
  bl_sheet_read_alternatives (sheet, root);
  bl_sheet_read_care (sheet, root);
}

static void
draft (BlSheet    *sheet,
       const char *json,
       gsize       length)
{
  g_autoptr(JsonNode) root = parse (sheet, json, length);
  GError *problem = NULL;

  if (root == NULL)
    return;
  if (!bl_design_begin (sheet->design, "Draft from a sheet", &problem))
    {
      bl_sheet_take (sheet, NULL, problem);
      return;
    }
  read_parts (sheet, json_node_get_object (root));
  if (sheet->error != NULL)
    bl_design_rollback (sheet->design);
  else if (!bl_design_commit (sheet->design, &problem))
    bl_sheet_take (sheet, NULL, problem);
  else
    judge (sheet);
}

static void
clear_sheet (BlSheet *sheet)
{
  g_clear_error (&sheet->error);
  g_clear_object (&sheet->design);
  g_free (sheet->currency);
  bl_price_book_free (sheet->prices);
  g_hash_table_unref (sheet->plants);
  g_hash_table_unref (sheet->beds);
  g_ptr_array_unref (sheet->bed_names);
}

BlDesign *
bl_sheet_draft (const char *json,
                gssize      length,
                const char *folder,
                BlLibrary  *library,
                const char *path,
                GError    **error)
{
  g_autoptr(BlDesign) design = NULL;
  BlSheet sheet = { .units = BL_UNITS_FEET, .folder = folder, .library = library };

  g_return_val_if_fail (json != NULL, NULL);
  sheet.design = bl_design_create (NULL, error);
  if (sheet.design == NULL)
    return NULL;
  sheet.currency = g_strdup ("USD");
  sheet.prices = bl_price_book_defaults ();
  sheet.plants
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) bl_plant_unref);
  sheet.beds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  sheet.bed_names = g_ptr_array_new_with_free_func (g_free);
  draft (&sheet, json, length < 0 ? strlen (json) : (gsize) length);
  if (sheet.error != NULL)
    g_propagate_error (error, g_steal_pointer (&sheet.error));
  else if (path == NULL)
    design = g_steal_pointer (&sheet.design);
  else if (bl_design_save_copy (sheet.design, path, error))
    design = bl_design_open (path, error);
  clear_sheet (&sheet);
  return g_steal_pointer (&design);
}
