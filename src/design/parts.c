/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts of a design (beds, features, alternatives, plantings ...): copies and words. */
#include "design/model.h"

#include "base/say.h"

#include <string.h>

BlBed *
bl_bed_new (void)
{
  BlBed *bed = g_new0 (BlBed, 1);

  bed->name = g_strdup ("");
  bed->edging_share = 1;
  bed->sun_hours = NAN;
  return bed;
}

BlBed *
bl_bed_copy (const BlBed *bed)
{
  BlBed *copy = g_memdup2 (bed, sizeof *bed);

  copy->name = g_strdup (bed->name);
  copy->outline = bl_outline_copy (bed->outline);
  copy->tape_points = g_strdupv (bed->tape_points);
  if (bed->tape_sharp != NULL && bed->tape_points != NULL)
    copy->tape_sharp
        = g_memdup2 (bed->tape_sharp, g_strv_length (bed->tape_points) * sizeof (gboolean));
  copy->edging = g_strdup (bed->edging);
  copy->ground = bl_outline_copy (bed->ground);
  copy->ring = bl_points_copy (bed->ring);
  copy->problem = g_strdup (bed->problem);
  return copy;
}

void
bl_bed_free (BlBed *bed)
{
  if (bed == NULL)
    return;
  g_free (bed->name);
  bl_outline_free (bed->outline);
  g_strfreev (bed->tape_points);
  g_free (bed->tape_sharp);
  g_free (bed->edging);
  bl_outline_free (bed->ground);
  g_clear_pointer (&bed->ring, g_array_unref);
  g_free (bed->problem);
  g_free (bed);
}

BlFeature *
bl_feature_new (void)
{
  return g_new0 (BlFeature, 1);
}

BlFeature *
bl_feature_copy (const BlFeature *feature)
{
  BlFeature *copy = g_memdup2 (feature, sizeof *feature);

  copy->name = g_strdup (feature->name);
  copy->outline = bl_outline_copy (feature->outline);
  copy->ground = bl_outline_copy (feature->ground);
  return copy;
}

void
bl_feature_free (BlFeature *feature)
{
  if (feature == NULL)
    return;
  g_free (feature->name);
  bl_outline_free (feature->outline);
  bl_outline_free (feature->ground);
  g_free (feature);
}

BlAlternative *
bl_alternative_copy (const BlAlternative *alternative)
{
  BlAlternative *copy = g_memdup2 (alternative, sizeof *alternative);

  copy->name = g_strdup (alternative->name);
  copy->idea = g_strdup (alternative->idea);
  copy->colors = g_strdup (alternative->colors);
  return copy;
}

void
bl_alternative_free (BlAlternative *alternative)
{
  if (alternative == NULL)
    return;
  g_free (alternative->name);
  g_free (alternative->idea);
  g_free (alternative->colors);
  g_free (alternative);
}

/* A planting lives in a counted box, so that thousands of unmoved ones need not be copied for each
 * edit of one of them. */
BlPlanting *
bl_planting_new (void)
{
  return g_atomic_rc_box_new0 (BlPlanting);
}

BlPlanting *
bl_planting_ref (BlPlanting *planting)
{
  return g_atomic_rc_box_acquire (planting);
}

BlPlanting *
bl_planting_copy (const BlPlanting *planting)
{
  BlPlanting *copy = bl_planting_new ();

  *copy = *planting;
  copy->slug = g_strdup (planting->slug);
  copy->size = g_strdup (planting->size);
  copy->shape = bl_outline_copy (planting->shape);
  copy->note = g_strdup (planting->note);
  copy->stood = planting->stood != NULL ? bl_points_copy (planting->stood) : NULL;
  return copy;
}

static void
clear_planting (gpointer data)
{
  BlPlanting *planting = data;

  g_free (planting->slug);
  g_free (planting->size);
  bl_outline_free (planting->shape);
  g_free (planting->note);
  g_clear_pointer (&planting->stood, g_array_unref);
}

void
bl_planting_free (BlPlanting *planting)
{
  if (planting != NULL)
    g_atomic_rc_box_release_full (planting, clear_planting);
}

BlOverride *
bl_override_copy (const BlOverride *override)
{
  BlOverride *copy = g_memdup2 (override, sizeof *override);

  copy->line = g_strdup (override->line);
  copy->field = g_strdup (override->field);
  copy->note = g_strdup (override->note);
  return copy;
}

void
bl_override_free (BlOverride *override)
{
  if (override == NULL)
    return;
  g_free (override->line);
  g_free (override->field);
  g_free (override->note);
  g_free (override);
}

BlCareMark *
bl_care_mark_copy (const BlCareMark *mark)
{
  BlCareMark *copy = g_memdup2 (mark, sizeof *mark);

  copy->uid = g_strdup (mark->uid);
  return copy;
}

void
bl_care_mark_free (BlCareMark *mark)
{
  if (mark == NULL)
    return;
  g_free (mark->uid);
  g_free (mark);
}

BlOwnTask *
bl_own_task_copy (const BlOwnTask *task)
{
  BlOwnTask *copy = g_memdup2 (task, sizeof *task);

  copy->title = g_strdup (task->title);
  return copy;
}

void
bl_own_task_free (BlOwnTask *task)
{
  if (task == NULL)
    return;
  g_free (task->title);
  g_free (task);
}

/* ---- words ---- */

static const char *const feature_words[BL_FEATURE_N] = {
  BL_SAID ("wall"), BL_SAID ("fence"), BL_SAID ("post"), BL_SAID ("tree"), BL_SAID ("kerb"), BL_SAID ("walk"), BL_SAID ("drive"), BL_SAID ("utility_box"), BL_SAID ("transformer"), BL_SAID ("hydrant"),
  BL_SAID ("buried_line"), BL_SAID ("snow_pile"), BL_SAID ("salted_edge"), BL_SAID ("sight_triangle"), BL_SAID ("walnut"), "in_front", BL_SAID ("stone"),
  BL_SAID ("fixed_point"), BL_SAID ("door"),
};

static const char *const form_words[]
  = { BL_SAID ("specimen"), BL_SAID ("row"), BL_SAID ("drift"), BL_SAID ("fill") };
static const char *const source_words[] = { "plan", "photo", "tape", "drawing" };
static const char *const cover_words[] = { "bark", "gravel" };

static int
find_word (const char *const *words,
           int                n,
           const char        *word)
{
  for (int i = 0; i < n; i++)
    if (g_strcmp0 (words[i], word) == 0)
      return i;
  return -1;
}

const char *
bl_feature_kind_name (BlFeatureKind kind)
{
  g_return_val_if_fail ((guint) kind < BL_FEATURE_N, NULL);
  return feature_words[kind];
}

gboolean
bl_feature_kind_from_name (const char    *name,
                           BlFeatureKind *kind)
{
  int at = find_word (feature_words, BL_FEATURE_N, name);

  if (at >= 0)
    *kind = (BlFeatureKind) at;
  return at >= 0;
}

gboolean
bl_feature_kind_is_line (BlFeatureKind kind)
{
  return kind == BL_FEATURE_FENCE || kind == BL_FEATURE_KERB || kind == BL_FEATURE_BURIED_LINE
         || kind == BL_FEATURE_SALTED_EDGE || kind == BL_FEATURE_DOOR;
}

const char *
bl_planting_form_name (BlPlantingForm form)
{
  g_return_val_if_fail ((guint) form < G_N_ELEMENTS (form_words), NULL);
  return form_words[form];
}

gboolean
bl_planting_form_from_name (const char     *name,
                            BlPlantingForm *form)
{
  int at = find_word (form_words, G_N_ELEMENTS (form_words), name);

  if (at >= 0)
    *form = (BlPlantingForm) at;
  return at >= 0;
}

const char *
bl_source_name (BlSource source)
{
  g_return_val_if_fail ((guint) source < G_N_ELEMENTS (source_words), NULL);
  return source_words[source];
}

gboolean
bl_source_from_name (const char *name,
                     BlSource   *source)
{
  int at = find_word (source_words, G_N_ELEMENTS (source_words), name);

  if (at >= 0)
    *source = (BlSource) at;
  return at >= 0;
}

const char *
bl_cover_name (BlCover cover)
{
  g_return_val_if_fail ((guint) cover < G_N_ELEMENTS (cover_words), NULL);
  return cover_words[cover];
}

gboolean
bl_cover_from_name (const char *name,
                    BlCover    *cover)
{
  int at = find_word (cover_words, G_N_ELEMENTS (cover_words), name);

  if (at >= 0)
    *cover = (BlCover) at;
  return at >= 0;
}
