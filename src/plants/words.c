/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of the records, in the order of their enumerations. */
#include "plants/words.h"

#include <string.h>

#include "plants/plant.h"

const char *const bl_type_words[]
  = { "perennial",    "grass", "shrub", "evergreen-shrub", "conifer", "tree",
      "ground-cover", "bulb",  "vine",  "annual",          "fern",    NULL };
const char *const bl_form_words[] = { "upright-clump",
                                      "mound",
                                      "mat",
                                      "cushion",
                                      "fountain-grass",
                                      "upright-grass",
                                      "tussock",
                                      "vase-shrub",
                                      "globe-shrub",
                                      "arching-shrub",
                                      "column",
                                      "cone-conifer",
                                      "spreading-conifer",
                                      "mound-conifer",
                                      "multistem-tree",
                                      "round-tree",
                                      "spire-clump",
                                      "strap-clump",
                                      "rosette-wands",
                                      "daisy-clump",
                                      "umbel-clump",
                                      "bulb",
                                      "fern",
                                      "climber",
                                      "hedge",
                                      NULL };
const char *const bl_leaf_words[] = { "oval",    "lance",  "linear", "strap", "round", "lobed",
                                      "pinnate", "needle", "scale",  "frond", "heart", NULL };
const char *const bl_flower_words[]
  = { "none",    "daisy", "spike", "plume", "globe",  "trumpet", "umbel",
      "panicle", "bell",  "cup",   "star",  "catkin", NULL };
const char *const bl_grade_words[] = { "unknown", "low", "medium", "high", NULL };
const char *const bl_growth_words[] = { "unknown", "slow", "medium", "fast", NULL };
const char *const bl_harm_words[] = { "unknown", "no-report", "mild", "toxic", "severe", NULL };
const char *const bl_browse_words[] = { "unknown", "rarely", "sometimes", "often", NULL };
const char *const bl_leaves_words[] = { "deciduous", "semi-evergreen", "evergreen", NULL };
const char *const bl_care_words[] = { "P1", "P2", "P3", "P4", "P5", "P6", "G1", "G2", "H1",
                                      "H2", "H3", "H4", "B1", "V1", "V2", "A",  NULL };

G_STATIC_ASSERT (G_N_ELEMENTS (bl_type_words) == BL_TYPE_N + 1);
G_STATIC_ASSERT (G_N_ELEMENTS (bl_form_words) == BL_FORM_N + 1);
G_STATIC_ASSERT (G_N_ELEMENTS (bl_leaf_words) == BL_LEAF_N + 1);
G_STATIC_ASSERT (G_N_ELEMENTS (bl_flower_words) == BL_FLOWER_N + 1);
G_STATIC_ASSERT (G_N_ELEMENTS (bl_care_words) == BL_CARE_N + 1);

int
bl_word_index (const char *const *words, const char *name)
{
  int i = 0;

  for (i = 0; words[i] != NULL; i++)
    if (g_ascii_strcasecmp (words[i], name) == 0)
      return i;
  return -1;
}

char *
bl_words_join (const char *const *words)
{
  GString *text = g_string_new (NULL);
  guint i = 0;

  for (i = 0; words[i] != NULL; i++)
    g_string_append_printf (text, "%s%s",
                            i == 0                 ? ""
                            : words[i + 1] == NULL ? " or "
                                                   : ", ",
                            words[i]);
  return g_string_free (text, FALSE);
}

const char *
bl_plant_type_name (BlPlantType type)
{
  g_return_val_if_fail (type < BL_TYPE_N, "");
  return bl_type_words[type];
}

const char *
bl_form_name (BlForm form)
{
  g_return_val_if_fail (form < BL_FORM_N, "");
  return bl_form_words[form];
}

const char *
bl_leaf_shape_name (BlLeafShape leaf)
{
  g_return_val_if_fail (leaf < BL_LEAF_N, "");
  return bl_leaf_words[leaf];
}

const char *
bl_care_group_name (BlCareGroup group)
{
  g_return_val_if_fail (group < BL_CARE_N, "");
  return bl_care_words[group];
}

const char *
bl_flower_shape_name (BlFlowerShape shape)
{
  g_return_val_if_fail (shape < BL_FLOWER_N, "");
  return bl_flower_words[shape];
}

const char *
bl_harm_name (BlHarm harm)
{
  g_return_val_if_fail (harm <= BL_HARM_SEVERE, "");
  return bl_harm_words[harm];
}

const char *
bl_grade_name (BlGrade grade)
{
  g_return_val_if_fail (grade <= BL_GRADE_HIGH, "");
  return bl_grade_words[grade];
}

const char *
bl_browse_name (BlBrowse browse)
{
  g_return_val_if_fail (browse <= BL_BROWSE_OFTEN, "");
  return bl_browse_words[browse];
}

const char *
bl_leaves_name (BlLeaves leaves)
{
  g_return_val_if_fail (leaves <= BL_LEAVES_EVERGREEN, "");
  return bl_leaves_words[leaves];
}

gboolean
bl_months_include (int from, int to, int month)
{
  if (from == 0)
    return FALSE;
  return from <= to ? month >= from && month <= to : month >= from || month <= to;
}
