/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command `measure`: camera, points, beds and check lengths, each with its interval. */
#include "command.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <stdio.h>

#include "base/error.h"
#include "base/say.h"

#define DEGREES(r) ((r) * 180.0 / G_PI)

static void
add_number (JsonBuilder *builder, const char *name, double value)
{
  json_builder_set_member_name (builder, name);
  if (isfinite (value))
    json_builder_add_double_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

static void
add_text (JsonBuilder *builder, const char *name, const char *value)
{
  json_builder_set_member_name (builder, name);
  if (value != NULL)
    json_builder_add_string_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

static void
add_camera (JsonBuilder *builder, const BlModel *model)
{
  const BlSolution *solution = model->solution;

  json_builder_set_member_name (builder, "camera");
  if (solution == NULL)
    {
      json_builder_add_null_value (builder);
      add_text (builder, "camera_problem", model->camera_problem);
      return;
    }
  json_builder_begin_object (builder);
  add_number (builder, "focal_px", solution->camera.focal);
  add_number (builder, "pitch_deg", DEGREES (solution->camera.pitch));
  add_number (builder, "roll_deg", DEGREES (solution->camera.roll));
  add_number (builder, "height_m", solution->camera.eye);
  add_number (builder, "k1", solution->camera.k1);
  add_number (builder, "residual_rms_px", solution->rms_px);
  add_number (builder, "chi2", solution->chi2);
  json_builder_set_member_name (builder, "degrees_of_freedom");
  json_builder_add_int_value (builder, solution->dof);
  add_text (builder, "message", solution->message);
  json_builder_end_object (builder);
}

static void
add_drawing (JsonBuilder *builder, const BlModel *model)
{
  const BlCamera *camera = bl_model_camera_of (model, BL_FROM_DRAWING);

  if (camera == NULL)
    return;
  json_builder_set_member_name (builder, "drawing");
  json_builder_begin_object (builder);
  add_number (builder, "metres_per_pixel", camera->scaled ? camera->eye / camera->focal : NAN);
  add_number (builder, "relative_sd",
              camera->scaled ? sqrt (camera->cov[BL_CAM_HEIGHT * BL_CAM_N + BL_CAM_HEIGHT]) : NAN);
  json_builder_end_object (builder);
}

static void
add_points (JsonBuilder *builder, const BlModel *model)
{
  json_builder_set_member_name (builder, "points");
  json_builder_begin_array (builder);
  for (guint i = 0; model->tape != NULL && i < model->tape->points->len; i++)
    {
      const BlTapePoint *point = &g_array_index (model->tape->points, BlTapePoint, i);

      json_builder_begin_object (builder);
      add_text (builder, "name", point->name);
      add_number (builder, "x_m", point->at.x);
      add_number (builder, "y_m", point->at.y);
      add_number (builder, "x_sd_m", point->sx);
      add_number (builder, "y_sd_m", point->sy);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_beds (JsonBuilder *builder, const BlModel *model)
{
  json_builder_set_member_name (builder, "beds");
  json_builder_begin_array (builder);
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];
      gboolean known = bed->ground != NULL;

      json_builder_begin_object (builder);
      add_text (builder, "name", bed->name);
      add_number (builder, "area_m2", known ? bed->area.value : NAN);
      add_number (builder, "area_sd_m2", known ? bed->area.sd : NAN);
      add_number (builder, "perimeter_m", known ? bed->perimeter.value : NAN);
      add_number (builder, "perimeter_sd_m", known ? bed->perimeter.sd : NAN);
      if (bed->problem != NULL)
        add_text (builder, "problem", bed->problem);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_lengths (JsonBuilder *builder, const BlModel *model)
{
  const BlCamera *camera = bl_model_camera (model);

  json_builder_set_member_name (builder, "lengths");
  json_builder_begin_array (builder);
  for (guint i = 0; camera != NULL && i < model->knowns->len; i++)
    {
      const BlKnown *known = model->knowns->pdata[i];
      BlMeasured length = { NAN, NAN };

      if (known->kind != BL_KNOWN_CHECK)
        continue;
      bl_measure_length (camera, bl_points_at (known->px, 0), bl_points_at (known->px, 1),
                         known->click_px > 0 ? known->click_px : bl_model_click_px (model, BL_FROM_PHOTO),
                         &length, NULL);
      json_builder_begin_object (builder);
      add_text (builder, "name", known->name);
      add_number (builder, "predicted_m", length.value);
      add_number (builder, "sd_m", length.sd);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
print_drawing (const BlModel *model)
{
  const BlCamera *camera = bl_model_camera_of (model, BL_FROM_DRAWING);

  if (camera == NULL)
    return;
  if (!camera->scaled)
    printf ("Base drawing: no length is known on it yet.\n");
  else
    printf ("Base drawing: %.1f px a metre, ± %.2g %% (95 %% interval).\n", camera->focal / camera->eye,
            196.0 * sqrt (camera->cov[BL_CAM_HEIGHT * BL_CAM_N + BL_CAM_HEIGHT]));
}

static void
print_words (const BlModel *model)
{
  if (model->solution != NULL)
    printf ("Camera: %.1f px focal length, looking down %.1f°, %.2f m above the ground; clicks "
            "fit to %.2f px.\n",
            model->solution->camera.focal, DEGREES (model->solution->camera.pitch),
            model->solution->camera.eye, model->solution->rms_px);
  else if (model->camera_problem != NULL)
    printf ("Camera: %s\n", model->camera_problem);
  if (model->solution != NULL && model->solution->message != NULL)
    printf ("%s\n", model->solution->message);
  print_drawing (model);
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];
      g_autofree char *area = NULL;
      g_autofree char *perimeter = NULL;

      if (bed->ground == NULL)
        {
          printf ("%s: %s\n", bed->name, bed->problem);
          continue;
        }
      area = bl_area_format_interval (bed->area.value, bed->area.sd, model->units, bl_say_window ());
      perimeter = bl_length_format_decimal (bed->perimeter.value, model->units, 1);
      printf ("%s: %s (95 %% interval), bed line %s\n", bed->name, area, perimeter);
    }
}

int
bl_command_measure (int argc, char **argv, GError **error)
{
  gboolean json = FALSE;
  g_autoptr (BlDesign) design = NULL;
  const BlModel *model;
  GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, "Machine-readable", NULL }, { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("measure"), entries, 1, error))
    return BL_EXIT_INPUT;
  design = bl_command_open (argv[1], error);
  if (design == NULL)
    return BL_EXIT_INPUT;
  model = bl_design_get_model (design);
  if (json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      g_autofree char *text = NULL;

      json_builder_begin_object (builder);
      add_camera (builder, model);
      add_drawing (builder, model);
      add_points (builder, model);
      add_beds (builder, model);
      add_lengths (builder, model);
      json_builder_end_object (builder);
      text = bl_command_json (json_builder_get_root (builder));
      if (!bl_command_write (NULL, text, -1, error))
        return BL_EXIT_INPUT;
    }
  else
    print_words (model);
  return model->solution != NULL && model->solution->worst >= 0 ? BL_EXIT_FOUND : BL_EXIT_DONE;
}
