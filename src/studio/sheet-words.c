/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words and readings that the sheets share. */

#include "config.h"

#include "studio/form.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

gboolean
bl_sheet_read_length (BlBoard *board, GtkWidget *entry, double empty, double *metres)
{
  g_autofree char *text = g_strstrip (g_strdup (bl_form_get_text (entry)));
  g_autoptr (GError) error = NULL;
  gboolean good;

  *metres = empty;
  good = text[0] == '\0'
         || bl_length_parse (text, bl_board_get_model (board)->units, metres, &error);
  bl_form_set_wrong (entry, !good);
  bl_board_report (board, error);
  return good;
}

gboolean
bl_sheet_read_number (BlBoard *board, GtkWidget *entry, double empty, double *value)
{
  g_autofree char *text = g_strstrip (g_strdup (bl_form_get_text (entry)));
  char *end = NULL;
  gboolean good;

  *value = empty;
  if (text[0] == '\0')
    {
      bl_form_set_wrong (entry, FALSE);
      return TRUE;
    }
  g_strdelimit (text, ",", '.');
  *value = g_ascii_strtod (text, &end);
  good = end != text && *end == '\0' && isfinite (*value);
  bl_form_set_wrong (entry, !good);
  if (!good)
    {
      g_autofree char *sentence
          = g_strdup_printf (_ ("“%s” is not a number: write it like 12.5"), text);

      bl_board_say (board, sentence);
    }
  return good;
}

const char *
bl_known_title (BlKnownKind kind)
{
  static const char *const titles[] = {
    [BL_KNOWN_RECTANGLE] = N_("Rectangle"), [BL_KNOWN_LENGTH] = N_("Length"),
    [BL_KNOWN_HEIGHT] = N_("Height"), [BL_KNOWN_RIGHT_ANGLE] = N_("Right angle"),
    [BL_KNOWN_PARALLEL] = N_("Parallel"), [BL_KNOWN_EQUAL_LENGTHS] = N_("Equal lengths"),
    [BL_KNOWN_POSITION] = N_("Position"), [BL_KNOWN_HORIZON] = N_("Horizon"),
    [BL_KNOWN_STRAIGHT] = N_("Straight line"), [BL_KNOWN_EYE] = N_("Lens height"),
    [BL_KNOWN_CHECK] = N_("Check line")
  };

  return _(titles[kind]);
}

const char *
bl_feature_title (BlFeatureKind kind)
{
  static const char *const titles[]
      = { [BL_FEATURE_WALL] = N_ ("Wall"),
          [BL_FEATURE_FENCE] = N_ ("Fence"),
          [BL_FEATURE_POST] = N_ ("Post"),
          [BL_FEATURE_TREE] = N_ ("Tree"),
          [BL_FEATURE_KERB] = N_ ("Kerb"),
          [BL_FEATURE_WALK] = N_ ("Walk"),
          [BL_FEATURE_DRIVE] = N_ ("Drive or car park"),
          [BL_FEATURE_UTILITY_BOX] = N_ ("Utility box"),
          [BL_FEATURE_TRANSFORMER] = N_ ("Transformer"),
          [BL_FEATURE_HYDRANT] = N_ ("Hydrant"),
          [BL_FEATURE_BURIED_LINE] = N_ ("Buried line"),
          [BL_FEATURE_SNOW_PILE] = N_ ("Where snow is piled"),
          [BL_FEATURE_SALTED_EDGE] = N_ ("Salted edge"),
          [BL_FEATURE_SIGHT_TRIANGLE] = N_ ("Sight triangle"),
          [BL_FEATURE_WALNUT] = N_ ("Walnut"),
          [BL_FEATURE_IN_FRONT] = N_ ("Stands in front"),
          [BL_FEATURE_STONE] = N_ ("Stone in the bed"),
          [BL_FEATURE_FIXED_POINT] = N_ ("Fixed point for the crew"),
          [BL_FEATURE_DOOR] = N_ ("Door") };

  return _(titles[kind]);
}

const char *
bl_form_title (BlPlantingForm form)
{
  static const char *const titles[] = {
    [BL_PLANTING_SPECIMEN] = N_("Specimen"), [BL_PLANTING_ROW] = N_("Row"),
    [BL_PLANTING_DRIFT] = N_("Drift"), [BL_PLANTING_FILL] = N_("Fill")
  };

  return _(titles[form]);
}
