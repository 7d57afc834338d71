/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands `picture` and `seasons`: scenes without a display. */
#include "command.h"

#include <string.h>

#include "base/error.h"
#include "draw/flipbook.h"
#include "draw/scene.h"
#include "layout/layout.h"

/* A picture decoded, or NULL without error where the design has none. */
static gboolean
load_picture (BlDesign *design, GBytes *(*get) (BlDesign *, GError **), BlImage **picture,
              GError **error)
{
  g_autoptr (GError) local = NULL;
  g_autoptr (GBytes) bytes = get (design, &local);

  *picture = NULL;
  if (bytes != NULL)
    *picture = bl_image_decode (bytes, NULL, &local);
  if (local == NULL)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&local));
  return FALSE;
}

static gboolean
load_photo (BlDesign *design, BlImage **photo, GError **error)
{
  return load_picture (design, bl_design_photo_bytes, photo, error);
}

static gboolean
load_drawing (BlDesign *design, BlImage **drawing, GError **error)
{
  return load_picture (design, bl_design_drawing_bytes, drawing, error);
}

static gboolean
choose_view (const char *name, const BlModel *model, gboolean has_photo, BlView *view,
             GError **error)
{
  *view = has_photo && bl_model_camera (model) != NULL ? BL_VIEW_PHOTO : BL_VIEW_PLAN;
  if (name == NULL)
    return TRUE;
  if (strcmp (name, "plan") == 0)
    {
      *view = BL_VIEW_PLAN;
      return TRUE;
    }
  if (strcmp (name, "photo") != 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "“%s” is not a view; write photo or plan.", name);
      return FALSE;
    }
  if (!has_photo || bl_model_camera (model) == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED,
                   "plants can't be drawn on the photo: %s",
                   !has_photo ? "this design has none; use --view plan." : model->camera_problem);
      return FALSE;
    }
  *view = BL_VIEW_PHOTO;
  return TRUE;
}

int
bl_command_picture (int argc, char **argv, GError **error)
{
  g_autofree char *output = NULL;
  g_autofree char *alternative_name = NULL;
  g_autofree char *view_name = NULL;
  double month = 7.5, years = 3;
  gboolean snow = FALSE;
  int width = 1600;
  g_autoptr (BlDesign) design = NULL;
  g_autoptr (BlImage) photo = NULL, drawing = NULL;
  g_autoptr (BlLayout) layout = NULL;
  g_autoptr (BlScene) scene = NULL;
  const BlAlternative *alternative;
  BlModel *model;
  BlView view;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, "X.png, X.svg or X.pdf", "FILE" },
    { "alternative", 0, 0, G_OPTION_ARG_STRING, &alternative_name, "By name", "A" },
    { "view", 0, 0, G_OPTION_ARG_STRING, &view_name, "photo or plan", "VIEW" },
    { "month", 0, 0, G_OPTION_ARG_DOUBLE, &month, "1 to 12; 7.5 is mid July", "M" },
    { "year", 0, 0, G_OPTION_ARG_DOUBLE, &years, "Years since planting", "N" },
    { "width", 0, 0, G_OPTION_ARG_INT, &width, "Pixels", "PX" },
    { "snow", 0, 0, G_OPTION_ARG_NONE, &snow, "Snow on the photo, December to February", NULL },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("picture"), entries, 1, error))
    return BL_EXIT_INPUT;
  if (output == NULL || !(month >= 1 && month < 13) || !(years >= 0 && years <= 100)
      || width < 16 || width > 16384)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "%s",
                   output == NULL ? "say where to write the picture: -o X.png."
                   : !(month >= 1 && month < 13) ? "the month is a number from 1 to 12."
                   : width < 16 || width > 16384 ? "the width is from 16 to 16384 pixels."
                                                 : "the age is from 0 to 100 years.");
      return BL_EXIT_INPUT;
    }
  design = bl_command_open (argv[1], error);
  if (design == NULL || !load_photo (design, &photo, error))
    return BL_EXIT_INPUT;
  model = bl_design_get_model (design);
  alternative = bl_command_alternative (model, alternative_name, error);
  if (alternative == NULL || !choose_view (view_name, model, photo != NULL, &view, error))
    return BL_EXIT_INPUT;
  layout = bl_layout_compute (model, alternative->id);
  if (view == BL_VIEW_PLAN && !load_drawing (design, &drawing, error))
    return BL_EXIT_INPUT;
  scene = view == BL_VIEW_PLAN
            ? bl_scene_new_over (layout, drawing, (BlMoment) { month, years }, BL_SCENE_LABELS)
            : bl_scene_new (view, layout, photo, (BlMoment) { month, years },
                            snow ? BL_SCENE_SNOW : 0);
  return bl_scene_export (scene, output, width, NULL, error) ? BL_EXIT_DONE : BL_EXIT_INPUT;
}

static void
tell_progress (guint done, guint total, gpointer data)
{
  g_printerr ("\r%s %u/%u%s", (const char *) data, done, total, done == total ? "\n" : "");
}

int
bl_command_seasons (int argc, char **argv, GError **error)
{
  g_autofree char *output = NULL;
  g_autofree char *alternative_name = NULL;
  double month = 7.5, years = 3;
  int width = 1200;
  g_autoptr (BlDesign) design = NULL;
  g_autoptr (BlImage) photo = NULL;
  g_autoptr (BlLayout) layout = NULL;
  const BlAlternative *alternative;
  BlFlipOptions flip = { .progress = tell_progress };
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, "A folder, made when missing", "FOLDER" },
    { "alternative", 0, 0, G_OPTION_ARG_STRING, &alternative_name, "By name", "A" },
    { "month", 0, 0, G_OPTION_ARG_DOUBLE, &month, "The month of the years", "M" },
    { "year", 0, 0, G_OPTION_ARG_DOUBLE, &years, "The age of the months", "N" },
    { "width", 0, 0, G_OPTION_ARG_INT, &width, "Pixels", "PX" },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("seasons"), entries, 1, error))
    return BL_EXIT_INPUT;
  if (output == NULL || !(month >= 1 && month < 13) || !(years >= 0 && years <= 100)
      || width < 16 || width > 8192)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "a folder (-o), a month from 1 to 12, an age from 0 to 100 years and a width from "
                   "16 to 8192 pixels are needed.");
      return BL_EXIT_INPUT;
    }
  design = bl_command_open (argv[1], error);
  if (design == NULL || !load_photo (design, &photo, error))
    return BL_EXIT_INPUT;
  alternative = bl_command_alternative (bl_design_get_model (design), alternative_name, error);
  if (alternative == NULL
      || !choose_view (NULL, bl_design_get_model (design), photo != NULL, &flip.view, error))
    return BL_EXIT_INPUT;
  layout = bl_layout_compute (bl_design_get_model (design), alternative->id);
  flip.fixed = (BlMoment) { month, years };
  flip.width = width;
  flip.series = BL_FLIP_MONTHS;
  flip.data = (gpointer) "months";
  if (!bl_flipbook_write (layout, photo, output, &flip, NULL, error))
    return BL_EXIT_INPUT;
  flip.series = BL_FLIP_YEARS;
  flip.data = (gpointer) "years";
  return bl_flipbook_write (layout, photo, output, &flip, NULL, error) ? BL_EXIT_DONE
                                                                       : BL_EXIT_INPUT;
}
